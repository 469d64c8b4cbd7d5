//! Pages as PDF: vector shapes, words that can be selected, both faces embedded as subsets.

use super::face::{Face, MM_PER_PT};
use super::page::{Closed, Dash, Frame, Ink, Line, Look, Mark, Page, Pages, Spot, Words};
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Data, Document};

/// Why no PDF could be made; both mean a fault of the program, not of the plan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PdfError {
    /// A face of the sheets cannot be read.
    #[error("the PDF could not be made: the fonts of the program cannot be read; install it anew")]
    Fonts,
    /// The writer refused.
    #[error("the PDF could not be made: {why}")]
    Writing {
        /// What it says.
        why: String,
    },
}

/// Writes the pages as PDF 1.7, with an outline of the parts; equal pages give equal bytes.
///
/// # Errors
/// A face that cannot be read, or a refusal of the writer.
pub fn pdf(pages: &Pages) -> Result<Vec<u8>, PdfError> {
    let fonts = Fonts::new().ok_or(PdfError::Fonts)?;
    let mut document = Document::new();
    // No date: equal plans give equal bytes. The time of making stands on every page.
    document.set_metadata(
        Metadata::new().title(pages.title.clone()).creator("Longstow".to_owned()).language("en".to_owned()),
    );
    let (width, height) = (pt(pages.size_mm.0), pt(pages.size_mm.1));
    let settings =
        || PageSettings::from_wh(width, height).ok_or(PdfError::Writing { why: "no paper".to_owned() });
    for page in &pages.pages {
        let mut sheet = document.start_page_with(settings()?);
        let mut surface = sheet.surface();
        for mark in &page.marks {
            paint(&mut surface, mark, &fonts);
        }
        surface.finish();
        sheet.finish();
    }
    document.set_outline(outline(&pages.pages));
    document.finish().map_err(|error| PdfError::Writing { why: format!("{error:?}") })
}

struct Fonts {
    regular: Font,
    bold: Font,
}

impl Fonts {
    fn new() -> Option<Self> {
        let font = |face: Face| Font::new(Data::from(face.bytes()), 0);
        Some(Self { regular: font(Face::Regular)?, bold: font(Face::Bold)? })
    }

    fn of(&self, face: Face) -> Font {
        match face {
            Face::Regular => self.regular.clone(),
            Face::Bold => self.bold.clone(),
        }
    }
}

/// A line for the first page of each part.
fn outline(pages: &[Page]) -> Outline {
    let mut outline = Outline::new();
    let mut before: Option<&str> = None;
    for (at, page) in pages.iter().enumerate() {
        if before != Some(page.title.as_str()) {
            let top = XyzDestination::new(at, Point::from_xy(0.0, 0.0));
            outline.push_child(OutlineNode::new(page.title.clone(), top));
        }
        before = Some(&page.title);
    }
    outline
}

fn paint(surface: &mut Surface<'_>, mark: &Mark, fonts: &Fonts) {
    match mark {
        Mark::Box(frame, look) => shape(surface, box_path(*frame), *look),
        Mark::Path { points, closed, look } => shape(surface, line_path(points, *closed), *look),
        Mark::Circle { middle, radius_mm, look } => shape(surface, circle_path(*middle, *radius_mm), *look),
        Mark::Words(words) => write(surface, words, fonts),
    }
}

fn shape(surface: &mut Surface<'_>, path: Option<Path>, look: Look) {
    let Some(path) = path else { return };
    surface.set_fill(look.fill.map(fill));
    surface.set_stroke(look.line.map(stroke));
    if look.fill.is_some() || look.line.is_some() {
        surface.draw_path(&path);
    }
}

/// Glyph by glyph at the advances that the words were measured with.
fn write(surface: &mut Surface<'_>, words: &Words, fonts: &Fonts) {
    let glyphs: Vec<KrillaGlyph> = words
        .text
        .char_indices()
        .filter_map(|(at, c)| {
            let glyph = words.face.glyph(c)?;
            let advance = glyph.advance as f32;
            let range = at..at + c.len_utf8();
            Some(KrillaGlyph::new(GlyphId::new(glyph.id), advance, 0.0, 0.0, 0.0, range, None))
        })
        .collect();
    surface.set_stroke(None);
    surface.set_fill(Some(fill(words.ink)));
    let start = Point::from_xy(pt(words.at.x_mm), pt(words.at.y_mm));
    surface.draw_glyphs(start, &glyphs, fonts.of(words.face), &words.text, words.size_pt as f32, false);
}

fn fill(ink: Ink) -> Fill {
    Fill { paint: color(ink).into(), ..Fill::default() }
}

fn stroke(line: Line) -> Stroke {
    let dash = (line.dash == Dash::Broken).then(|| StrokeDash { array: vec![pt(1.0), pt(0.7)], offset: 0.0 });
    Stroke {
        paint: color(line.ink).into(),
        width: pt(line.width_mm),
        opacity: NormalizedF32::ONE,
        dash,
        ..Stroke::default()
    }
}

fn color(ink: Ink) -> rgb::Color {
    let [red, green, blue] = ink.rgb();
    rgb::Color::new(red, green, blue)
}

fn box_path(frame: Frame) -> Option<Path> {
    let mut path = PathBuilder::new();
    let rect = Rect::from_xywh(pt(frame.left_mm), pt(frame.top_mm), pt(frame.width_mm), pt(frame.height_mm));
    path.push_rect(rect?);
    path.finish()
}

fn line_path(points: &[Spot], closed: Closed) -> Option<Path> {
    let mut path = PathBuilder::new();
    let (first, rest) = points.split_first()?;
    path.move_to(pt(first.x_mm), pt(first.y_mm));
    for at in rest {
        path.line_to(pt(at.x_mm), pt(at.y_mm));
    }
    if closed == Closed::Closed {
        path.close();
    }
    path.finish()
}

/// Four cubic arcs; the usual handle length keeps them within 0.03 % of the radius.
fn circle_path(middle: Spot, radius_mm: f64) -> Option<Path> {
    const HANDLE: f64 = 0.552_284_75;
    let at = |x: f64, y: f64| (pt(middle.x_mm + x * radius_mm), pt(middle.y_mm + y * radius_mm));
    let mut path = PathBuilder::new();
    let (x, y) = at(1.0, 0.0);
    path.move_to(x, y);
    for [(ax, ay), (bx, by), (cx, cy)] in [
        [(1.0, HANDLE), (HANDLE, 1.0), (0.0, 1.0)],
        [(-HANDLE, 1.0), (-1.0, HANDLE), (-1.0, 0.0)],
        [(-1.0, -HANDLE), (-HANDLE, -1.0), (0.0, -1.0)],
        [(HANDLE, -1.0), (1.0, -HANDLE), (1.0, 0.0)],
    ] {
        let ((ax, ay), (bx, by), (cx, cy)) = (at(ax, ay), at(bx, by), at(cx, cy));
        path.cubic_to(ax, ay, bx, by, cx, cy);
    }
    path.close();
    path.finish()
}

/// Points of 1/72 inch.
fn pt(mm: f64) -> f32 {
    (mm / MM_PER_PT) as f32
}

#[cfg(test)]
mod tests {
    use super::super::flow::{Flow, Running, Side, Type};
    use super::super::page::Paper;
    use super::*;

    fn pages() -> Pages {
        let mut flow = Flow::new(Paper::A4);
        flow.part("First");
        flow.line("Größe 12,5 m · Ж □", Type::BODY, Side::Left);
        flow.mark(Mark::Circle {
            middle: Spot::new(50.0, 50.0),
            radius_mm: 3.0,
            look: Look::fill(Ink::Grey),
        });
        flow.part("Second");
        flow.finish(&Running { title: "Title".to_owned(), foot: "Foot".to_owned() })
    }

    #[test]
    fn a_pdf_holds_every_page_and_is_the_same_each_time() {
        let bytes = pdf(&pages()).unwrap();
        assert!(bytes.starts_with(b"%PDF-1.7"));
        assert!(bytes.len() < 60_000, "faces are embedded as subsets: {} bytes", bytes.len());
        assert_eq!(bytes, pdf(&pages()).unwrap());
        let mut fewer = pages();
        fewer.pages.pop();
        assert_ne!(bytes, pdf(&fewer).unwrap());
    }
}
