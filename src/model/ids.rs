//! Names and marks: short texts by which people, and the plan itself, refer to things.

use std::borrow::Borrow;
use std::fmt;
use std::sync::Arc;
use unicode_properties::{GeneralCategory, GeneralCategoryGroup, UnicodeGeneralCategory};

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
    /// No letter and no digit.
    #[error("the name \"{name}\" has no letter and no digit; give it at least one")]
    NoLetter {
        /// The text.
        name: String,
    },
    /// A character that nobody sees or can tell from a space.
    #[error(
        "the name \"{name}\" has {code} in it, which cannot be seen or told from a space; remove it, or write a plain space"
    )]
    Hidden {
        /// The text, with such characters escaped.
        name: String,
        /// The first of them.
        code: String,
    },
    /// White space at an end, or a control character.
    #[error("the name \"{name}\" has a space at an end or a control character in it; remove it")]
    Untidy {
        /// The text, with controls escaped.
        name: String,
    },
}

/// A tidy text of at most [`Name::LONGEST`] characters, all of which can be seen, with a letter or digit.
///
/// It is kept as it is written: names with composed and with decomposed letters are different names.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Name(Arc<str>);

impl Name {
    /// The most characters a name may have.
    pub const LONGEST: usize = 64;

    /// Checks and keeps `text`.
    ///
    /// # Errors
    /// Empty, longer than [`Name::LONGEST`] characters, white space at an end, a control character, one that
    /// [cannot be seen](is_unseen) or a space other than the plain one, or no letter and no digit.
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
        if let Some(hidden) = first_hidden(text) {
            let escaped = |c: char| if is_plain(c) { c.to_string() } else { c.escape_unicode().to_string() };
            let code = format!("U+{:04X}", u32::from(hidden));
            return Err(NameError::Hidden { name: text.chars().map(escaped).collect(), code });
        }
        let is_letter = |c: char| {
            matches!(c.general_category_group(), GeneralCategoryGroup::Letter | GeneralCategoryGroup::Number)
        };
        if !text.chars().any(is_letter) {
            return Err(NameError::NoLetter { name: text.to_owned() });
        }
        Ok(Self(text.into()))
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// The first character that nobody sees or can tell from a plain space. One that chooses among the forms of the sign
/// before it, as an emoji keyboard writes it, is seen by that form; signs of ASCII have no forms.
fn first_hidden(text: &str) -> Option<char> {
    let before = std::iter::once(' ').chain(text.chars());
    let has_forms = |c: char| is_plain(c) && !c.is_ascii();
    let is_seen = |(before, c): (char, char)| is_plain(c) || (is_form(c) && has_forms(before));
    before.zip(text.chars()).find(|pair| !is_seen(*pair)).map(|(_, c)| c)
}

fn is_plain(c: char) -> bool {
    !is_unseen(c) && !is_form(c) && (c == ' ' || !c.is_whitespace())
}

/// Whether it chooses among forms of the sign before it: the Unicode Standard's variation selectors.
fn is_form(c: char) -> bool {
    matches!(c, '\u{180B}'..='\u{180D}' | '\u{180F}' | '\u{FE00}'..='\u{FE0F}' | '\u{E0100}'..='\u{E01EF}')
}

/// Whether a character is a control, steers or joins others or breaks lines, or fills a place without a sign: whatever
/// it does, nobody sees it.
///
/// The Unicode Standard's categories Cc, Cf, Zl and Zp, and those of its property Default_Ignorable_Code_Point that
/// are letters or accents by category, but for variation selectors; the blank Braille pattern is seen as nothing too.
pub fn is_unseen(c: char) -> bool {
    use GeneralCategory::{Control, Format, LineSeparator, ParagraphSeparator};
    let by_category = matches!(c.general_category(), Control | Format | LineSeparator | ParagraphSeparator);
    by_category
        || matches!(
            c,
            '\u{34F}'
                | '\u{115F}'
                | '\u{1160}'
                | '\u{17B4}'
                | '\u{17B5}'
                | '\u{2800}'
                | '\u{3164}'
                | '\u{FFA0}'
        )
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
        for hidden in [
            "S\u{200B}1",
            "\u{200B}",
            "\u{FEFF}S",
            "S\u{2028}1",
            "S\u{AD}1",
            "S\u{E0001}1",
            "S\u{202E}1",
            "S\u{200D}1",
            "\u{3164}",
            "S\u{FE0F}",
            "葛\u{E0100}\u{E0101}",
            "S\u{34F}1",
            "\u{2800}",
            "S\u{A0}1",
            "S\u{3000}1",
            "S\u{E0100}",
        ] {
            let error = StringMark::new(hidden).unwrap_err();
            assert!(matches!(error, NameError::Hidden { .. }), "{hidden:?}: {error}");
            assert!(error.to_string().chars().all(|c| !is_unseen(c)), "{error:?}");
        }
        for bare in ["\u{301}", "-", "?!", "★"] {
            assert!(matches!(StringMark::new(bare), Err(NameError::NoLetter { .. })), "{bare:?}");
        }
        for seen in
            ["7", "Ł-1", "한국어", "ไทย", "e\u{301}1", "Ⅳ", "हिन्दी", "\u{1F6E4}\u{FE0F} 7", "葛\u{E0100}"]
        {
            assert_eq!(StringMark::new(seen).unwrap().as_str(), seen);
        }
        assert!(StringMark::new(&"x".repeat(64)).is_ok());
        assert!(matches!(StringMark::new(&"x".repeat(65)), Err(NameError::TooLong { .. })));
    }
}
