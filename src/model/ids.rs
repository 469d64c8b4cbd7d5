//! Names and marks: short texts by which people, and the plan itself, refer to things.

use std::borrow::Borrow;
use std::fmt;
use std::sync::Arc;

/// Why a text cannot be a name or mark.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NameError {
    /// Nothing but white space.
    #[error("a name is empty; give it at least one letter or digit")]
    Empty,
    /// More than [`Name::LONGEST`] characters.
    #[error("the name starting \"{start}\" is longer than {longest} characters; shorten it", longest = Name::LONGEST)]
    TooLong {
        /// Its first characters.
        start: String,
    },
    /// White space at an end, or a control character.
    #[error("the name \"{name}\" has a space at an end or a control character in it; remove it")]
    Untidy {
        /// The text, with controls escaped.
        name: String,
    },
}

/// A tidy, non-empty text of at most [`Name::LONGEST`] characters.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Name(Arc<str>);

impl Name {
    /// The most characters a name may have.
    pub const LONGEST: usize = 64;

    /// Checks and keeps `text`.
    ///
    /// # Errors
    /// Empty, longer than [`Name::LONGEST`] characters, white space at an end, or a control character.
    pub fn new(text: &str) -> Result<Self, NameError> {
        if text.trim().is_empty() {
            return Err(NameError::Empty);
        }
        if text.chars().count() > Self::LONGEST {
            return Err(NameError::TooLong { start: text.chars().take(16).collect() });
        }
        if text.trim() != text || text.chars().any(char::is_control) {
            return Err(NameError::Untidy { name: text.escape_debug().to_string() });
        }
        Ok(Self(text.into()))
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

macro_rules! names {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(Name);

        impl $name {
            /// Checks and keeps `text`.
            ///
            /// # Errors
            /// As [`Name::new`].
            pub fn new(text: &str) -> Result<Self, NameError> {
                Name::new(text).map(Self)
            }

            /// The text.
            pub fn as_str(&self) -> &str {
                self.0.as_str()
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(self.as_str())
            }
        }

        impl Borrow<str> for $name {
            fn borrow(&self) -> &str {
                self.as_str()
            }
        }

        impl std::str::FromStr for $name {
            type Err = NameError;
            fn from_str(text: &str) -> Result<Self, NameError> {
                Self::new(text)
            }
        }
    )*};
}

names! {
    /// The mark of a string, unique in the order.
    StringMark,
    /// The mark of a vehicle, unique in the train.
    VehicleMark,
    /// The name of a vehicle type, unique in the plan.
    VehicleTypeName,
    /// The name of a rack type, unique in the plan.
    RackTypeName,
    /// The name of a rail section, unique in the plan.
    SectionName,
    /// The name of a steel, unique in the plan.
    SteelName,
    /// The name of a drop, unique in the plan.
    DropName,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_tidy_or_refused() {
        assert_eq!(StringMark::new("S 1").unwrap().as_str(), "S 1");
        assert_eq!(StringMark::new(" "), Err(NameError::Empty));
        assert!(matches!(StringMark::new("a\n b"), Err(NameError::Untidy { .. })));
        assert!(matches!(StringMark::new(" a"), Err(NameError::Untidy { .. })));
        assert!(StringMark::new(&"x".repeat(64)).is_ok());
        assert!(matches!(StringMark::new(&"x".repeat(65)), Err(NameError::TooLong { .. })));
    }
}
