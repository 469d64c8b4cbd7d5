//! The two faces of the sheets, and how wide words are in them.
//!
//! Liberation Sans, free under the SIL Open Font Licence 1.1 (`assets/fonts/LiberationSans-OFL.txt`), has Latin,
//! Greek and Cyrillic letters and digits of one width. Widths are the sums of the faces' own advances, without
//! kerning: the PDF places glyphs by the same advances, so what was measured is what is printed.

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};
use std::sync::LazyLock;

/// Millimetres in a point of 1/72 inch.
pub const MM_PER_PT: f64 = 25.4 / 72.0;

/// Height of capitals above the line that letters stand on, and depth of descenders below it, per size
/// (Liberation Sans: 1,409 and 434 of 2,048 units; accents of capitals reach higher).
const ABOVE: f64 = 0.69;
const BELOW: f64 = 0.212;

/// Characters up to this one are looked up once; it takes in all blocks that the faces cover.
const TABLE_END: u32 = 0x2700;

/// A face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Running text and figures.
    #[default]
    Regular,
    /// Headings, and what must not be missed.
    Bold,
}

impl Face {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Regular, Self::Bold];

    /// Stands in notes where a character has no glyph; elsewhere its code does, so that marks stay told apart.
    pub const MISSING: char = '\u{25A1}';

    /// The TrueType file.
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../../../assets/fonts/LiberationSans-Regular.ttf"),
            Self::Bold => include_bytes!("../../../assets/fonts/LiberationSans-Bold.ttf"),
        }
    }

    /// Glyph and advance of a character as shares of the size; none where the face has no glyph for it.
    pub(super) fn glyph(self, c: char) -> Option<Glyph> {
        static REGULAR: LazyLock<Vec<Option<Glyph>>> = LazyLock::new(|| glyphs(Face::Regular));
        static BOLD: LazyLock<Vec<Option<Glyph>>> = LazyLock::new(|| glyphs(Face::Bold));
        let table = match self {
            Self::Regular => &REGULAR,
            Self::Bold => &BOLD,
        };
        table.get(c as usize).copied().flatten()
    }

    /// Width of `text` at `size_pt` in mm as it is printed: a character without a glyph is as wide as its code.
    pub fn width_mm(self, text: &str, size_pt: f64) -> f64 {
        text.chars().map(|c| self.advance(c)).sum::<f64>() * size_pt * MM_PER_PT
    }

    fn advance(self, c: char) -> f64 {
        let of_glyph = |c: char| self.glyph(c).map_or(0.0, |glyph| glyph.advance);
        match shown(c) {
            Shown::As(c) => of_glyph(c),
            Shown::Coded => code(c).chars().map(of_glyph).sum(),
        }
    }
}

/// A glyph of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Glyph {
    /// Its number in the file.
    pub(super) id: u32,
    /// Its advance as a share of the size.
    pub(super) advance: f64,
}

/// How far words of a size reach above and below the line that letters stand on, in mm.
pub(super) fn height_mm(size_pt: f64) -> (f64, f64) {
    (ABOVE * size_pt * MM_PER_PT, BELOW * size_pt * MM_PER_PT)
}

/// `text` with a space for each break or tab and its code, such as `[D55C]`, for what has no glyph; each such character
/// is told to `missing`.
///
/// Marks that steer the direction of writing have no glyph either, so a name cannot turn the words around it.
pub(super) fn printable(text: &str, missing: impl FnMut(char)) -> String {
    replaced(text, missing, code)
}

/// The same with [`Face::MISSING`] for what has no glyph: for running text, where codes would bury the words.
pub(super) fn boxed(text: &str, missing: impl FnMut(char)) -> String {
    replaced(text, missing, |_| Face::MISSING.to_string())
}

fn replaced(text: &str, mut missing: impl FnMut(char), instead: impl Fn(char) -> String) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match shown(c) {
            Shown::As(c) => out.push(c),
            Shown::Coded => {
                missing(c);
                out.push_str(&instead(c));
            }
        }
    }
    out
}

/// How a character is printed.
enum Shown {
    As(char),
    Coded,
}

fn shown(c: char) -> Shown {
    match c {
        '\n' | '\r' | '\t' | '\u{A0}' => Shown::As(' '),
        c if Face::Regular.glyph(c).is_some() && !c.is_control() => Shown::As(c),
        _ => Shown::Coded,
    }
}

/// What stands for a character without a glyph: its number in Unicode, in hexadecimal digits.
fn code(c: char) -> String {
    format!("[{:04X}]", u32::from(c))
}

fn glyphs(face: Face) -> Vec<Option<Glyph>> {
    let Ok(font) = FontRef::new(face.bytes()) else { return Vec::new() };
    let (charmap, metrics) = (font.charmap(), font.glyph_metrics(Size::unscaled(), LocationRef::default()));
    let units = f64::from(font.metrics(Size::unscaled(), LocationRef::default()).units_per_em);
    let steers = |c: u32| matches!(c, 0x200B..=0x200F | 0x202A..=0x202E | 0x2060..=0x206F);
    let glyph = |c: u32| {
        let id = charmap.map(c).filter(|id| id.to_u32() != 0 && !steers(c))?;
        Some(Glyph { id: id.to_u32(), advance: f64::from(metrics.advance_width(id)?) / units })
    };
    (0..TABLE_END).map(glyph).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    // Liberation Sans has the widths of a common grotesque: digits 1,139 of 2,048 units, the space 569.
    #[test]
    fn widths_are_the_sums_of_the_faces_advances() {
        let check = |face: Face, text: &str, units: f64| {
            let expected = units / 2048.0 * 10.0 * MM_PER_PT;
            assert!((face.width_mm(text, 10.0) - expected).abs() < 1.0e-9, "{text}");
        };
        check(Face::Regular, "0123456789", 11_390.0);
        check(Face::Regular, "1 1", 2.0 * 1_139.0 + 569.0);
        check(Face::Bold, "00", 2.0 * 1_139.0);
        check(Face::Regular, "", 0.0);
    }

    #[test]
    fn latin_greek_and_cyrillic_letters_have_glyphs_in_both_faces() {
        let letters = "AaÄäÅåÇçÉéĚěŁłŘřŠšŹźŐőß ΑαΩω ЖжЯя 0–9 … ≤ ≥ × · • □ ■ € № − “”";
        for face in Face::ALL {
            assert!(letters.chars().all(|c| face.glyph(c).is_some()), "{face:?}");
        }
    }

    #[test]
    fn what_has_no_glyph_is_shown_by_its_code_or_as_a_box_and_told() {
        let mut missing = Vec::new();
        let odd = "S\u{202E}1 鉄\n道\u{7}";
        assert_eq!(printable(odd, |c| missing.push(c)), "S[202E]1 [9244] [9053][0007]");
        assert_eq!(boxed(odd, |_| ()), "S□1 □ □□");
        let width = |text: &str| Face::Bold.width_mm(text, 10.0);
        assert!((width(odd) - width(&printable(odd, |_| ()))).abs() < 1.0e-9, "as wide as it is printed");
        assert_ne!(printable("한국어", |_| ()), printable("ไทย", |_| ()));
        assert_eq!(missing, ['\u{202E}', '鉄', '道', '\u{7}']);
        assert_eq!(printable("W01 Łódź Жук Ωmega", |_| panic!("all of it has glyphs")), "W01 Łódź Жук Ωmega");
    }
}
