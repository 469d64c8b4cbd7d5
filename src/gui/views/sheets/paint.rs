//! Painting a page on the screen: the same shapes, words and faces as in the PDF.

use crate::gui::canvas::triangles;
use crate::gui::theme::sheet_family;
use crate::report::sheet::{Closed, Dash, Ink, Line, Look, Mark, Page, Spot, Words};
use egui::epaint::Mesh;
use egui::{Color32, CornerRadius, FontId, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, pos2, vec2};

/// Letters lower than this on the screen are painted as a bar: nobody could read them.
const LEAST_POINTS: f32 = 2.2;
/// Millimetres in a point of 1/72 inch.
const MM_PER_PT: f32 = 25.4 / 72.0;

/// Paints `page` on white paper that fills `rect`, `scale` points for each mm; what cannot be seen is left out.
pub(super) fn paint_page(painter: &Painter, page: &Page, (rect, scale): (Rect, f32)) {
    let shadow = rect.translate(vec2(1.5, 2.0));
    painter.rect_filled(shadow, CornerRadius::ZERO, Color32::from_black_alpha(60));
    painter.rect_filled(rect, CornerRadius::ZERO, Color32::WHITE);
    let paper = Paper { painter, corner: rect.min, scale, seen: painter.clip_rect().intersect(rect) };
    page.marks.iter().for_each(|mark| paper.mark(mark));
}

struct Paper<'p> {
    painter: &'p Painter,
    corner: Pos2,
    scale: f32,
    seen: Rect,
}

impl Paper<'_> {
    fn at(&self, spot: Spot) -> Pos2 {
        self.corner + vec2(spot.x_mm as f32, spot.y_mm as f32) * self.scale
    }

    fn rect(&self, frame: crate::report::sheet::Frame) -> Rect {
        let least = self.at(Spot::new(frame.left_mm, frame.top_mm));
        Rect::from_min_size(least, vec2(frame.width_mm as f32, frame.height_mm as f32) * self.scale)
    }

    fn mark(&self, mark: &Mark) {
        if !self.seen.expand(4.0).intersects(self.rect(mark.frame())) {
            return;
        }
        match mark {
            Mark::Box(frame, look) => self.frame(self.rect(*frame), *look),
            Mark::Path { points, closed, look } => {
                let points: Vec<Pos2> = points.iter().map(|spot| self.at(*spot)).collect();
                self.path(points, *closed, *look);
            }
            Mark::Circle { middle, radius_mm, look } => {
                let radius = *radius_mm as f32 * self.scale;
                let fill = look.fill.map_or(Color32::TRANSPARENT, color);
                self.painter.circle(self.at(*middle), radius, fill, self.stroke(look.line));
            }
            Mark::Words(words) => self.words(words),
        }
    }

    fn frame(&self, rect: Rect, look: Look) {
        let fill = look.fill.map_or(Color32::TRANSPARENT, color);
        match look.line {
            Some(line) if line.dash == Dash::Broken => {
                self.painter.rect_filled(rect, CornerRadius::ZERO, fill);
                let corners = [
                    rect.left_top(),
                    rect.right_top(),
                    rect.right_bottom(),
                    rect.left_bottom(),
                    rect.left_top(),
                ];
                self.line(&corners, line);
            }
            line => {
                let stroke = self.stroke(line);
                self.painter.rect(rect, CornerRadius::ZERO, fill, stroke, StrokeKind::Middle);
            }
        }
    }

    fn path(&self, mut points: Vec<Pos2>, closed: Closed, look: Look) {
        if let (Some(ink), Closed::Closed) = (look.fill, closed) {
            let mut mesh = Mesh::default();
            for corners in triangles(&points) {
                let first = mesh.vertices.len() as u32;
                corners.into_iter().for_each(|corner| mesh.colored_vertex(corner, color(ink)));
                mesh.add_triangle(first, first + 1, first + 2);
            }
            self.painter.add(Shape::mesh(mesh));
        }
        let Some(line) = look.line else { return };
        if closed == Closed::Closed {
            points.extend(points.first().copied());
        }
        self.line(&points, line);
    }

    fn line(&self, points: &[Pos2], line: Line) {
        let stroke = self.stroke(Some(line));
        match line.dash {
            Dash::Whole => {
                self.painter.add(Shape::line(points.to_vec(), stroke));
            }
            Dash::Broken => {
                self.painter.extend(Shape::dashed_line(points, stroke, self.scale, 0.7 * self.scale));
            }
        }
    }

    fn stroke(&self, line: Option<Line>) -> Stroke {
        line.map_or(Stroke::NONE, |line| Stroke::new(line.width_mm as f32 * self.scale, color(line.ink)))
    }

    /// Words stand where their own room would have them, so that columns of figures stay flush on the screen too.
    fn words(&self, words: &Words) {
        let size = words.size_pt as f32 * MM_PER_PT * self.scale;
        if size < LEAST_POINTS {
            let bar = self.rect(words.frame()).shrink2(vec2(0.0, size * 0.2));
            self.painter.rect_filled(bar, CornerRadius::ZERO, color(Ink::Hair));
            return;
        }
        let font = FontId::new(size, sheet_family(words.face));
        let galley = self.painter.layout_no_wrap(words.text.clone(), font, color(words.ink));
        let Some(ascent) =
            galley.rows.first().and_then(|row| row.row.glyphs.first()).map(|glyph| glyph.pos.y)
        else {
            return;
        };
        let line = self.at(words.at);
        let more = galley.size().x - words.width_mm as f32 * self.scale;
        let left = line.x - more * lean(words);
        self.painter.galley(pos2(left, line.y - ascent), galley, color(words.ink));
    }
}

/// Which share of what words are too wide for goes to their left: 0 at a left edge, 1 at a right one, else a half.
fn lean(words: &Words) -> f32 {
    const FLUSH_MM: f64 = 0.02;
    let before = words.at.x_mm - words.room.left_mm;
    let after = words.room.right_mm() - words.at.x_mm - words.width_mm;
    match (before < FLUSH_MM, after < FLUSH_MM) {
        (true, _) => 0.0,
        (false, true) => 1.0,
        (false, false) => 0.5,
    }
}

fn color(ink: Ink) -> Color32 {
    let [red, green, blue] = ink.rgb();
    Color32::from_rgb(red, green, blue)
}
