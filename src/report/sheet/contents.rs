//! What the cover tells of the other pages, once they are filled.

use super::cover::Kept;
use super::face::Face;
use super::flow::{Flow, Side, Type, fitted};
use super::page::{Frame, Ink, Line, Mark, Spot};

/// Writes the parts with their pages into the room that the cover kept; two columns where one is too short.
pub(super) fn contents(flow: &mut Flow, kept: Kept) {
    let parts: Vec<(String, usize)> = flow.parts().iter().skip(1).cloned().collect();
    let look = Type::BODY;
    let line_mm = look.leading_mm() * 1.12;
    let rows = (kept.contents.height_mm / line_mm).floor().max(1.0) as usize;
    let columns = parts.len().div_ceil(rows).clamp(1, 3);
    let width_mm = (kept.contents.width_mm - 8.0 * (columns - 1) as f64) / columns as f64;
    let room = |nth: usize| {
        let (column, row) = ((nth / rows) as f64, (nth % rows) as f64);
        let left = kept.contents.left_mm + column * (width_mm + 8.0);
        Frame::new(left, kept.contents.top_mm + row * line_mm, width_mm, line_mm)
    };
    let all = parts.len();
    for (nth, (title, page)) in parts.into_iter().take(rows * columns).enumerate() {
        let last = nth + 1 == rows * columns && all > rows * columns;
        let title = if last { "and more, see the heads of the pages".to_owned() } else { title };
        let title = flow.printable(&title);
        flow.amend(kept.page, line(&title, page + 1, room(nth)));
    }
}

/// Says which characters of the plan could not be printed; nothing where all could.
pub(super) fn missing_glyphs(flow: &mut Flow, kept: Kept) {
    let missing = flow.missing();
    if missing.is_empty() {
        return;
    }
    let codes: Vec<String> = missing.iter().take(8).map(|c| format!("U+{:04X}", u32::from(*c))).collect();
    let more = if missing.len() > codes.len() { ", …" } else { "" };
    let words = format!(
        "Codes in brackets, in notes {}, stand for characters that the faces of this sheet do not have: {}{more}",
        Face::MISSING,
        codes.join(", ")
    );
    let look = Type { ink: Ink::Black, ..Type::NOTE };
    flow.amend(
        kept.page,
        fitted(&words, look, kept.missing, Side::Left).map(Mark::Words).into_iter().collect(),
    );
}

/// A title, its page at the right, and a line that leads from one to the other.
fn line(title: &str, page: usize, room: Frame) -> Vec<Mark> {
    const NUMBER_MM: f64 = 9.0;
    let look = Type::BODY;
    let title_room = Frame { width_mm: room.width_mm - NUMBER_MM, ..room };
    let words = fitted(title, look, title_room, Side::Left);
    let number = fitted(&page.to_string(), look, room, Side::Right);
    let mut marks = Vec::new();
    if let (Some(words), Some(number)) = (&words, &number) {
        let (from, to) = (words.at.x_mm + words.width_mm + 1.5, number.at.x_mm - 1.5);
        if to > from {
            let line = Line::broken(Ink::Hair, 0.2);
            marks.push(Mark::line(Spot::new(from, words.at.y_mm), Spot::new(to, words.at.y_mm), line));
        }
    }
    marks.extend([words, number].into_iter().flatten().map(Mark::Words));
    marks
}
