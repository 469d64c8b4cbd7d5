//! Sentences that hold quantities, so that one finding can be read in any unit.

use super::{Quantity, Style};

/// A part of a [`Text`].
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Plain words.
    Words(String),
    /// A value that is written in the reader's units.
    Value(Quantity),
}

impl From<&str> for Piece {
    fn from(words: &str) -> Self {
        Self::Words(words.to_owned())
    }
}

impl From<String> for Piece {
    fn from(words: String) -> Self {
        Self::Words(words)
    }
}

impl From<Quantity> for Piece {
    fn from(value: Quantity) -> Self {
        Self::Value(value)
    }
}

/// Words and quantities in order; built with the [`text!`](crate::text) macro.
///
/// ```
/// use longstow::{text, units::{Quantity, Style}};
/// let text = text!["axle load ", Quantity::mass(21_000.0)];
/// assert_eq!(text.show(Style::default()), "axle load 21.00 t");
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Text(pub Vec<Piece>);

impl Text {
    /// The sentence in the reader's units.
    pub fn show(&self, style: Style) -> String {
        self.0
            .iter()
            .map(|piece| match piece {
                Piece::Words(words) => words.clone(),
                Piece::Value(value) => value.show(style),
            })
            .collect()
    }

    /// Whether there is nothing to read in it.
    pub fn is_blank(&self) -> bool {
        self.0.iter().all(|piece| matches!(piece, Piece::Words(words) if words.trim().is_empty()))
    }

    /// Whether nothing was written.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl<T: Into<Piece>> From<T> for Text {
    fn from(piece: T) -> Self {
        Self(vec![piece.into()])
    }
}

/// Builds a [`Text`](crate::units::Text) from words (`&str`, `String`) and [`Quantity`](crate::units::Quantity)s.
#[macro_export]
macro_rules! text {
    ($($piece:expr),* $(,)?) => {
        $crate::units::Text(vec![$($crate::units::Piece::from($piece)),*])
    };
}
