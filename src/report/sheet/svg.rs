//! A page as SVG 1.1: the same shapes and words, in millimetres.

use super::face::Face;
use super::face::MM_PER_PT;
use super::page::{Closed, Dash, Ink, Line, Look, Mark, Page, Spot, Words};
use std::fmt::Write as _;

/// Writes one page of `size_mm` as an SVG document called `title`.
///
/// The units of the drawing are millimetres. Words name the face that they were measured in, and their width, so that
/// a reader without it sets another to the same width.
pub fn svg(page: &Page, size_mm: (f64, f64), title: &str) -> String {
    let (width, height) = size_mm;
    let mut out = String::with_capacity(200 * page.marks.len() + 600);
    out.push_str("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    line(
        &mut out,
        format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.2}mm\" height=\"{height:.2}mm\" \
             viewBox=\"0 0 {width:.2} {height:.2}\">"
        ),
    );
    line(&mut out, format_args!("<title>{}</title>", escaped(title)));
    line(&mut out, format_args!("<rect width=\"{width:.2}\" height=\"{height:.2}\" fill=\"#ffffff\"/>"));
    for mark in &page.marks {
        mark_lines(&mut out, mark);
    }
    out.push_str("</svg>\n");
    out
}

fn mark_lines(out: &mut String, mark: &Mark) {
    match mark {
        Mark::Box(frame, look) => line(
            out,
            format_args!(
                "<rect x=\"{:.3}\" y=\"{:.3}\" width=\"{:.3}\" height=\"{:.3}\"{}/>",
                frame.left_mm,
                frame.top_mm,
                frame.width_mm,
                frame.height_mm,
                dressed(*look)
            ),
        ),
        Mark::Path { points, closed, look } => {
            let name = if *closed == Closed::Closed { "polygon" } else { "polyline" };
            line(out, format_args!("<{name} points=\"{}\"{}/>", listed(points), dressed(*look)));
        }
        Mark::Circle { middle, radius_mm, look } => line(
            out,
            format_args!(
                "<circle cx=\"{:.3}\" cy=\"{:.3}\" r=\"{radius_mm:.3}\"{}/>",
                middle.x_mm,
                middle.y_mm,
                dressed(*look)
            ),
        ),
        Mark::Words(words) => words_line(out, words),
    }
}

fn words_line(out: &mut String, words: &Words) {
    let weight = if words.face == Face::Bold { " font-weight=\"bold\"" } else { "" };
    line(
        out,
        format_args!(
            "<text x=\"{:.3}\" y=\"{:.3}\" font-family=\"'Liberation Sans', Arial, Helvetica, sans-serif\" \
             font-size=\"{:.3}\"{weight} fill=\"{}\" textLength=\"{:.3}\" lengthAdjust=\"spacingAndGlyphs\" \
             xml:space=\"preserve\">{}</text>",
            words.at.x_mm,
            words.at.y_mm,
            words.size_pt * MM_PER_PT,
            hex(words.ink),
            words.width_mm,
            escaped(&words.text)
        ),
    );
}

fn dressed(look: Look) -> String {
    let fill = look.fill.map_or("none".to_owned(), hex);
    let edge = look.line.map(edge).unwrap_or_default();
    format!(" fill=\"{fill}\"{edge}")
}

fn edge(line: Line) -> String {
    let dash = if line.dash == Dash::Broken { " stroke-dasharray=\"1 0.7\"" } else { "" };
    format!(" stroke=\"{}\" stroke-width=\"{:.3}\"{dash}", hex(line.ink), line.width_mm)
}

fn hex(ink: Ink) -> String {
    let [red, green, blue] = ink.rgb();
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn listed(points: &[Spot]) -> String {
    let places: Vec<String> = points.iter().map(|at| format!("{:.3},{:.3}", at.x_mm, at.y_mm)).collect();
    places.join(" ")
}

/// Text as XML wants it; characters that XML 1.0 does not know at all are left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if (c.is_control() && !matches!(c, '\t' | '\n' | '\r'))
                || matches!(c, '\u{FFFE}' | '\u{FFFF}') => {}
            c => out.push(c),
        }
    }
    out
}

fn line(out: &mut String, words: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = out.write_fmt(words);
    out.push('\n');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_xml_would_take_for_marks_is_written_out() {
        let check = |text, expected: &str| assert_eq!(escaped(text), expected);
        check("A < B & \"C\" > D", "A &lt; B &amp; &quot;C&quot; &gt; D");
        check("S\u{1}1 \u{FFFF}é", "S1 é");
    }
}
