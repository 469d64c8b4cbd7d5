//! The very pages that will be printed, to look through, to zoom into and to write as PDF; drawings as SVG.

mod making;
mod paint;

use crate::drawing::DeckLook;
use crate::gui::{Export, ExportFormat, Request, Role, Shown};
use crate::report::sheet::{DrawingOf, Pages, Paper, drawing_svg};
use egui::{
    Align, CentralPanel, Frame, Key, Layout, Margin, Modifiers, Panel, Pos2, Rect, ScrollArea, Sense, Ui,
    WidgetInfo, pos2, vec2,
};
use making::{Making, Wish};
use paint::paint_page;

/// Width of the list of pages in points.
const LIST_POINTS: f32 = 160.0;
/// Between pages, and between them and the edge, in points.
const GAP_POINTS: f32 = 12.0;
/// Points for each mm at 100 %: a millimetre of paper on a screen of 96 points to the inch.
const TRUE_SCALE: f32 = 96.0 / 25.4;
/// How far one can zoom, as shares of true size, and by how much one step does.
const ZOOMS: std::ops::RangeInclusive<f32> = 0.2..=4.0;
const ZOOM_STEP: f32 = 1.2;

/// How large the pages are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
enum Zoom {
    /// As wide as the view.
    #[default]
    Width,
    /// A whole page at a time.
    Page,
    /// At this share of true size.
    Share(f32),
}

/// The view's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct Sheets {
    making: Making,
    paper: Paper,
    /// Whether the state shown stands beside departure, in place of the worst.
    of_state_shown: bool,
    zoom: Zoom,
    /// The page in view, from 0.
    page: usize,
    /// A page to bring into view with the next frame.
    wanted: Option<usize>,
    /// Where the pages were scrolled to in the frame before, and at which scale.
    scrolled: (egui::Vec2, f32),
}

impl Sheets {
    /// Draws the view into all of `ui`.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let state = self.of_state_shown.then_some(shown.state);
        self.making.follow(ui.ctx(), shown, Wish { paper: self.paper, style: shown.style, state });
        self.making.hand_over(requests);
        let pages = self.making.pages();
        self.page = self.page.min(pages.as_ref().map_or(0, |pages| pages.pages.len().saturating_sub(1)));
        if let Some(pages) = &pages {
            self.keys(ui, pages);
        }
        let head = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(6, 3));
        Panel::top("sheets head").frame(head).show(ui, |ui| {
            ui.horizontal_wrapped(|ui| {
                self.choices_ui(ui, shown);
                ui.separator();
                self.zoom_ui(ui);
                ui.separator();
                self.save_ui(ui, shown, requests);
            });
        });
        let Some(pages) = pages else {
            CentralPanel::default().show(ui, |ui| {
                ui.centered_and_justified(|ui| ui.weak("The pages are being made..."));
            });
            return;
        };
        let list = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::same(4));
        Panel::left("sheets list").frame(list).exact_size(LIST_POINTS).resizable(false).show(ui, |ui| {
            self.list_ui(ui, &pages);
        });
        let ground = Frame::new().fill(shown.theme.color(Role::Faint));
        CentralPanel::no_frame().frame(ground).show(ui, |ui| self.pages_ui(ui, &pages));
    }

    fn keys(&mut self, ui: &Ui, pages: &Pages) {
        if ui.ctx().text_edit_focused() {
            return;
        }
        let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        let last = pages.pages.len().saturating_sub(1);
        for (key, page) in [
            (Key::PageDown, (self.page + 1).min(last)),
            (Key::PageUp, self.page.saturating_sub(1)),
            (Key::Home, 0),
            (Key::End, last),
        ] {
            if pressed(key) {
                (self.wanted, self.page) = (Some(page), page);
            }
        }
        for (key, factor) in [(Key::Plus, ZOOM_STEP), (Key::Equals, ZOOM_STEP), (Key::Minus, 1.0 / ZOOM_STEP)]
        {
            if pressed(key) {
                self.zoom_by(factor);
            }
        }
        for (key, zoom) in [(Key::Num0, Zoom::Width), (Key::Num1, Zoom::Page)] {
            if pressed(key) {
                self.zoom = zoom;
            }
        }
        if ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::P)) {
            self.making.write_pdf(ui.ctx());
        }
    }

    fn choices_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>) {
        for paper in Paper::ALL {
            let why = match paper {
                Paper::A4 => "Paper of 210 by 297 mm",
                Paper::Letter => "Paper of 8 1/2 by 11 inches",
            };
            let button = ui.selectable_label(self.paper == paper, paper.name()).on_hover_text(why);
            if button.clicked() {
                self.paper = paper;
            }
        }
        ui.separator();
        ui.label("beside departure");
        let title = shown.figures.states.get(shown.state).map(|state| state.title(shown.plan));
        let title = title.unwrap_or_default();
        for (of_shown, words, why) in [
            (false, "worst", "Loads of the worst state stand beside those of departure".to_owned()),
            (
                true,
                "state shown",
                format!("Loads of the state shown ({title}) stand beside those of departure"),
            ),
        ] {
            if ui.selectable_label(self.of_state_shown == of_shown, words).on_hover_text(why).clicked() {
                self.of_state_shown = of_shown;
            }
        }
    }

    fn zoom_ui(&mut self, ui: &mut Ui) {
        for (words, name, factor) in [("−", "smaller", 1.0 / ZOOM_STEP), ("+", "larger", ZOOM_STEP)] {
            let button = ui.button(words).on_hover_text(format!("Show the pages {name} ({words})"));
            button.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, format!("pages {name}")));
            if button.clicked() {
                self.zoom_by(factor);
            }
        }
        ui.label(format!("{:.0} %", 100.0 * self.scrolled.1 / TRUE_SCALE));
        for (zoom, words, why) in [
            (Zoom::Width, "page width", "As wide as the view (0)"),
            (Zoom::Page, "whole page", "A whole page at a time (1)"),
        ] {
            if ui.selectable_label(self.zoom == zoom, words).on_hover_text(why).clicked() {
                self.zoom = zoom;
            }
        }
    }

    fn zoom_by(&mut self, factor: f32) {
        let now = self.scrolled.1 / TRUE_SCALE;
        self.zoom = Zoom::Share((now * factor).clamp(*ZOOMS.start(), *ZOOMS.end()));
    }

    fn save_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let why = "Write these very pages to a file (Ctrl+P)";
        let ready = self.making.pages().is_some();
        if ui.add_enabled(ready, egui::Button::new("Save as PDF...")).on_hover_text(why).clicked() {
            self.making.write_pdf(ui.ctx());
        }
        ui.menu_button("Save drawing as SVG", |ui| {
            let rack = shown.selection.rack;
            let drawings = [
                ("Train side...", "train-side", DrawingOf::TrainSide),
                ("Deck plan...", "deck-plan", DrawingOf::DeckPlan(DeckLook::default())),
                ("Rack face of the rack shown...", "rack-face", DrawingOf::RackFace(rack)),
            ];
            for (words, name, of) in drawings {
                if ui.button(words).clicked() {
                    let svg = drawing_svg(shown.figures, of, shown.state, shown.style);
                    let bytes = svg.into_bytes().into();
                    requests.push(Request::Export(Export {
                        format: ExportFormat::Svg,
                        name: name.to_owned(),
                        bytes,
                    }));
                    ui.close();
                }
            }
        })
        .response
        .on_hover_text("A drawing of the state shown, for other documents");
    }

    fn list_ui(&mut self, ui: &mut Ui, pages: &Pages) {
        let left = Layout::top_down_justified(Align::LEFT);
        ScrollArea::vertical().id_salt("sheet pages").auto_shrink(false).show(ui, |ui| {
            ui.with_layout(left, |ui| {
                ui.spacing_mut().item_spacing.y = 1.0;
                let mut before: Option<&str> = None;
                for (at, page) in pages.pages.iter().enumerate() {
                    let first = before != Some(page.title.as_str());
                    before = Some(&page.title);
                    self.entry_ui(ui, pages, (at, if first { &page.title } else { "" }));
                }
            });
        });
    }

    fn entry_ui(&mut self, ui: &mut Ui, pages: &Pages, (at, title): (usize, &str)) {
        let chosen = self.page == at;
        let entry = ui.add(egui::Button::selectable(chosen, format!("{}  {title}", at + 1)).truncate());
        let name = format!("go to {}", page_name(pages, at));
        entry.widget_info(|| WidgetInfo::selected(egui::Role::ListBoxOption, true, chosen, name.as_str()));
        if chosen && self.wanted == Some(at) {
            entry.scroll_to_me(None);
        }
        if entry.clicked() {
            (self.wanted, self.page) = (Some(at), at);
        }
    }

    fn pages_ui(&mut self, ui: &mut Ui, pages: &Pages) {
        let (room, mm) = (ui.available_size(), vec2(pages.size_mm.0 as f32, pages.size_mm.1 as f32));
        let (offset, before) = self.scrolled;
        let wheel = ui.input(|input| input.zoom_delta());
        if (wheel - 1.0).abs() > 1.0e-3 && ui.rect_contains_pointer(ui.available_rect_before_wrap()) {
            self.zoom_by(wheel);
        }
        let scale = self.scale(room, mm);
        let pitch = mm.y * scale + GAP_POINTS;
        let size = vec2(
            (mm.x * scale + 2.0 * GAP_POINTS).max(room.x - ui.spacing().scroll.bar_width - 2.0),
            pitch * pages.pages.len() as f32 + GAP_POINTS,
        );
        let mut area = ScrollArea::both().id_salt("sheet").auto_shrink(false);
        if let Some(page) = self.wanted.take() {
            area = area.vertical_scroll_offset(page as f32 * pitch);
        } else if before > 0.0 && (scale - before).abs() > 1.0e-4 {
            // What was at the upper edge stays there.
            area = area.scroll_offset(offset * (scale / before));
        }
        let out = area.show_viewport(ui, |ui, viewport| {
            ui.set_min_size(size);
            let corner = ui.min_rect().min;
            let left = corner.x + (size.x - mm.x * scale) / 2.0;
            for at in visible(viewport, pitch, pages.pages.len()) {
                let top = corner.y + GAP_POINTS + pitch * at as f32;
                self.page_ui(ui, pages, at, (pos2(left, top), scale));
            }
        });
        self.scrolled = (out.state.clamped_offset(), scale);
        // The page that takes the upper third of the view.
        let middle = out.state.clamped_offset().y + out.inner_rect.height() / 3.0;
        let page = ((middle / pitch).max(0.0) as usize).min(pages.pages.len().saturating_sub(1));
        if page != self.page {
            self.page = page;
            ui.ctx().request_repaint();
        }
    }

    fn scale(&self, room: egui::Vec2, mm: egui::Vec2) -> f32 {
        let width = (room.x - 2.0 * GAP_POINTS - 12.0) / mm.x;
        let height = (room.y - 2.0 * GAP_POINTS) / mm.y;
        match self.zoom {
            Zoom::Width => width.max(TRUE_SCALE * ZOOMS.start()),
            Zoom::Page => width.min(height).max(TRUE_SCALE * ZOOMS.start()),
            Zoom::Share(share) => share * TRUE_SCALE,
        }
    }

    fn page_ui(&self, ui: &Ui, pages: &Pages, at: usize, (corner, scale): (Pos2, f32)) {
        let Some(page) = pages.pages.get(at) else { return };
        let size = vec2(pages.size_mm.0 as f32, pages.size_mm.1 as f32) * scale;
        let rect = Rect::from_min_size(corner, size);
        let id = ui.scope_id().with(("sheet page", at));
        let response = ui.interact(rect.intersect(ui.clip_rect()), id, Sense::hover());
        let name = page_name(pages, at);
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Document, true, name.as_str()));
        // What a reader of the screen tells of the page: its words, in their order.
        ui.ctx().accesskit_node_builder(id, |node| {
            let words: Vec<&str> = page.words().map(|words| words.text.as_str()).collect();
            node.set_value(words.join(" "));
        });
        paint_page(ui.painter(), page, (rect, scale));
    }
}

/// The pages of which something can be seen.
fn visible(viewport: Rect, pitch: f32, count: usize) -> std::ops::Range<usize> {
    let first = ((viewport.top() - GAP_POINTS) / pitch).floor().max(0.0) as usize;
    let end = ((viewport.bottom() / pitch).ceil().max(0.0) as usize).min(count);
    first.min(end)..end
}

/// What a reader of the screen calls a page.
fn page_name(pages: &Pages, at: usize) -> String {
    let title = pages.pages.get(at).map_or("", |page| page.title.as_str());
    format!("page {} of {}, {title}", at + 1, pages.pages.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_pages_in_sight_are_painted() {
        let check = |top: f32, bottom: f32, expected: std::ops::Range<usize>| {
            let viewport = Rect::from_min_max(pos2(0.0, top), pos2(100.0, bottom));
            assert_eq!(visible(viewport, 100.0, 5), expected, "{top} to {bottom}");
        };
        check(0.0, 90.0, 0..1);
        check(0.0, 101.0, 0..2);
        check(230.0, 390.0, 2..4);
        check(450.0, 900.0, 4..5);
        check(0.0, 0.0, 0..0);
    }
}
