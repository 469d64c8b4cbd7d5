//! The drawing of a comparison: both loads of the train over each other, to look around in and to choose from.

use super::look::Looks;
use super::paint::Paint;
use super::ruler::{RULER_POINTS, ruler, scale_words};
use super::side_nodes::{focus_ring, is_activated, key_mode};
use super::view::{Projection, Stretch};
use super::{Canvas, side};
use crate::drawing::{Area, Fate, Form, Picture, Role, Thing};
use crate::gui::{Request, Role as Ink, SelectMode, Shown, ZoomTarget};
use crate::model::{Plan, StringMark};
use egui::{Align2, FontId, PointerButton, Rect, Sense, Ui, WidgetInfo, pos2};
use std::collections::BTreeMap;

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub struct ComparedPicture<'a> {
    /// The picture.
    pub picture: &'a Picture,
    /// The plan after, whose things the picture shows.
    pub plan: &'a Plan,
    /// Length of the longer train in mm.
    pub length_mm: f64,
    /// The strings to choose: what has become of each, and the words that tell it.
    pub strings: &'a BTreeMap<StringMark, (Fate, String)>,
}

/// Which part of the train the drawing shows.
#[derive(Debug, Default)]
pub struct ComparedView {
    /// Looked around in as the train side is, each in its own place.
    canvas: Canvas,
}

/// Height of the strip with the legend, in points.
const LEGEND_POINTS: f32 = 16.0;
/// Shares of the drawing's height for what hangs below the rail, the running gear, the load, and what is above.
const SHARES: [f64; 4] = [0.2, 0.1, 0.66, 0.04];

impl ComparedView {
    /// Brings something into view with the next frame.
    pub fn zoom_to(&mut self, target: ZoomTarget) {
        self.canvas.zoom_to(target);
    }

    /// Draws the picture into all of `ui`.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        drawn: ComparedPicture<'_>,
        requests: &mut Vec<Request>,
    ) {
        let rect = ui.available_rect_before_wrap();
        let back = ui.allocate_rect(rect, Sense::click_and_drag());
        back.widget_info(|| WidgetInfo::labeled(egui::Role::ScrollView, true, "both loads"));
        // The legend has a strip of its own: over the train it would lie on the strings of the top tier.
        let top = rect.top() + RULER_POINTS + LEGEND_POINTS;
        let view = Rect::from_min_max(pos2(rect.left(), top), rect.max);
        if view.width() < 40.0 || view.height() < 40.0 {
            return;
        }
        side::look_around(&mut self.canvas, ui, shown, (Some(&back), view), drawn.length_mm);
        let fit = Stretch::fit(0.0, drawn.length_mm, view.width());
        let (heights, deck_mm) = side::heights_by(drawn.picture, view.height(), &SHARES);
        let projection = Projection::along(view, self.canvas.stretch.unwrap_or(fit), heights);
        paint(ui, shown, &drawn, (rect, projection, deck_mm));
        let scene = Scene { shown, drawn, projection };
        scene.strings_ui(ui, requests);
        if back.clicked_by(PointerButton::Primary) {
            requests.push(Request::Select { strings: Vec::new(), mode: SelectMode::Only });
        }
    }
}

fn paint(
    ui: &Ui,
    shown: &Shown<'_>,
    drawn: &ComparedPicture<'_>,
    (rect, projection, deck_mm): (Rect, Projection, f64),
) {
    let view = projection.rect;
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, shown.theme.color(Ink::Canvas));
    let looks = Looks::of_shown(shown);
    let drawing = ui.painter_at(view);
    Paint { painter: &drawing, projection, looks: &looks }.picture(drawn.picture);
    let band = Rect::from_min_max(rect.min, pos2(rect.right(), view.top() - LEGEND_POINTS));
    ruler(&painter, band, &projection, shown.style, shown.theme);
    let words = scale_words(&projection, deck_mm, shown.style);
    let strip = Rect::from_min_max(band.left_bottom(), view.right_top());
    side::scale_note(&painter, (strip, None), &words, shown);
    legend(&painter, strip, shown);
}

/// What solid, dashed and pale mean, at the left of the strip above the train.
fn legend(painter: &egui::Painter, strip: Rect, shown: &Shown<'_>) {
    let words = "solid: now   dashed: before   pale: unchanged   tick on a bar: load before";
    let ink = shown.theme.color(Ink::WeakText);
    let galley = painter.layout_no_wrap(words.to_owned(), FontId::proportional(10.0), ink);
    if galley.size().x > strip.width() - 180.0 {
        return;
    }
    let place = Align2::LEFT_TOP.anchor_size(strip.left_top() + egui::vec2(6.0, 2.0), galley.size());
    painter.galley(place.min, galley, ink);
}

struct Scene<'a> {
    shown: &'a Shown<'a>,
    drawn: ComparedPicture<'a>,
    projection: Projection,
}

impl Scene<'_> {
    /// Nodes for the strings that differ, each around both of its places.
    fn strings_ui(&self, ui: &Ui, requests: &mut Vec<Request>) {
        let shown = self.shown;
        for (index, string) in self.drawn.plan.order.iter().enumerate() {
            let mark = &string.mark;
            let Some((fate, words)) = self.drawn.strings.get(mark).filter(|(fate, _)| *fate != Fate::Stays)
            else {
                continue;
            };
            let Some(rect) = self.rect(Thing::String(index)) else { continue };
            let id = ui.scope_id().with(("compared string", mark.as_str()));
            let response = ui.interact(rect, id, Sense::click());
            let selected = shown.selection.strings.contains(mark);
            let name = format!("string {mark} {}, in the comparison", fate_word(*fate));
            response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, selected, name.as_str()));
            ui.ctx().accesskit_node_builder(response.id, |node| node.set_description(words.as_str()));
            focus_ring(ui, &response, shown);
            if response.clicked() {
                let command = ui.input(|input| input.modifiers.command);
                let mode = match (is_activated(&response), command) {
                    (true, _) => key_mode(ui),
                    (false, true) => SelectMode::Toggle,
                    (false, false) => SelectMode::Only,
                };
                response.request_focus();
                requests.push(Request::Select { strings: vec![mark.clone()], mode });
            }
            response.on_hover_text(words);
        }
    }

    /// Around all boxes and frames of a thing, at least a few points high, cut to the view.
    fn rect(&self, thing: Thing) -> Option<Rect> {
        let areas = self.drawn.picture.showing(thing).filter_map(|shape| match (&shape.form, shape.role) {
            (_, Role::Hold) => None,
            (Form::Box(area) | Form::Frame(area), _) => Some(*area),
            _ => None,
        });
        let area = areas.reduce(Area::around)?;
        let (low, high) = (area.least, area.most);
        let rect = self.projection.rect_of([low.across_mm, low.up_mm], [high.across_mm, high.up_mm]);
        let room = ((4.0 - rect.height()) / 2.0).max(0.0);
        let rect = rect.expand2(egui::vec2(0.0, room)).intersect(self.projection.rect);
        rect.is_positive().then_some(rect)
    }
}

/// What has become of a string, after its name.
fn fate_word(fate: Fate) -> &'static str {
    match fate {
        Fate::Stays => "stays",
        Fate::Differs => "differs",
        Fate::Comes => "comes",
        Fate::Goes => "goes",
    }
}
