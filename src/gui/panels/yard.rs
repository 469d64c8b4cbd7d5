//! The yard list: ordered strings that do not lie on the train, by drop; the place to drag from.

use super::add_strings::AddStrings;
use super::swatch::{paint_swatch, swatch_ui};
use crate::edit::{Edit, Rows};
use crate::gui::commands::Pane;
use crate::gui::menus::{self, MenuOf};
use crate::gui::{Request, Role, SelectMode, Shown};
use crate::model::{DropName, OrderedString, StepKind, StringMark, TrackSide};
use crate::report::Judged;
use crate::units::{Length, Quantity};
use egui::{Align2, CursorIcon, FontId, Key, Rect, RichText, ScrollArea, Sense, Ui, WidgetInfo, pos2, vec2};
use std::collections::BTreeSet;

const ROW_POINTS: f32 = 20.0;

/// The panel's own state: the form for new strings, and where a range of rows starts.
#[derive(Debug, Default)]
pub(in crate::gui) struct Yard {
    add: AddStrings,
    anchor: Option<StringMark>,
}

/// The strings for one drop, and the lines of the list: the heading, then a string each.
struct Group<'p> {
    name: Option<&'p DropName>,
    strings: Vec<&'p OrderedString>,
}

impl Yard {
    /// Draws the panel.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let groups = groups(shown);
        let count: usize = groups.iter().map(|group| group.strings.len()).sum();
        ui.horizontal(|ui| {
            ui.heading("Yard list");
            ui.weak(format!("{count} of {}", shown.plan.order.len()))
                .on_hover_text("Strings of the order that have no place on the train");
        });
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            self.add.ui(ui, shown, requests);
            self.actions_ui(ui, shown, &groups, requests);
            ui.separator();
            if count == 0 {
                ui.weak(match shown.plan.order.len() {
                    0 => "The order is empty. Add strings above.",
                    _ => "Every string has its place on the train.",
                });
            }
            self.list_ui(ui, shown, &groups, requests);
        });
    }

    fn list_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, groups: &[Group<'_>], requests: &mut Vec<Request>) {
        let mut focus = shown.focus == Some(Pane::Yard);
        let all: Vec<&StringMark> =
            groups.iter().flat_map(|group| group.strings.iter().map(|string| &string.mark)).collect();
        for group in groups {
            let name = group.name.map_or("No drop", DropName::as_str);
            ui.horizontal(|ui| {
                swatch_ui(ui, drop_index(shown, group.name));
                ui.label(RichText::new(format!("{name} ({})", group.strings.len())).strong());
            });
            for string in &group.strings {
                let wants_focus = std::mem::take(&mut focus);
                self.row_ui(ui, shown, (string, &all, wants_focus), requests);
            }
            ui.add_space(4.0);
        }
    }

    /// Buttons for the strings of the list that are selected.
    fn actions_ui(&self, ui: &mut Ui, shown: &Shown<'_>, groups: &[Group<'_>], requests: &mut Vec<Request>) {
        let selected: Vec<StringMark> = groups
            .iter()
            .flat_map(|group| &group.strings)
            .filter(|string| shown.selection.strings.contains(&string.mark))
            .map(|string| string.mark.clone())
            .collect();
        ui.add_enabled_ui(!selected.is_empty(), |ui| {
            ui.horizontal(|ui| {
                // The load as it is was found so; only the load as planned can be changed.
                let place = ui.add_enabled(shown.judged == Judged::AsPlanned, egui::Button::new("Place"));
                let place = place
                    .on_hover_text(
                        "Put the selected strings into the first free pockets at the rack shown (Enter)",
                    )
                    .on_disabled_hover_text(
                        "Select strings here; they are placed in the load as planned (J)",
                    );
                if place.clicked() {
                    requests.push(Request::PlaceFree(selected.clone()));
                }
                let remove = ui.button("Remove").on_hover_text("Remove the selected strings from the order");
                if remove.clicked() {
                    requests.push(Request::Edit(Edit::Strings(Rows::Remove { names: selected.clone() })));
                }
            });
        });
    }

    /// One string: click selects, with Ctrl or Shift more of them; drag takes hold; Space chooses, Enter places.
    fn row_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        row: (&OrderedString, &[&StringMark], bool),
        requests: &mut Vec<Request>,
    ) {
        let (string, all, focus) = row;
        let (_, rect) = ui.allocate_space(vec2(ui.available_width(), ROW_POINTS));
        let id = ui.scope_id().with(("yard", string.mark.as_str()));
        let response = ui.interact(rect, id, Sense::click_and_drag());
        let selected = shown.selection.strings.contains(&string.mark);
        let length = Quantity::length(string.length).show(shown.style);
        response.widget_info(|| {
            WidgetInfo::selected(egui::Role::ListItem, true, selected, format!("Yard string {}", string.mark))
        });
        ui.ctx().accesskit_node_builder(response.id, |node| {
            node.set_description(format!("{}, {length}", string.section));
        });
        if focus {
            response.request_focus();
        }
        if ui.is_rect_visible(rect) {
            paint_row(ui, rect, shown, string, (selected, response.has_focus(), response.hovered()));
        }
        let by_space = response.has_focus() && ui.input(|input| input.key_pressed(Key::Space));
        if by_space {
            requests.push(choose(shown, &string.mark, all));
        } else if response.clicked() {
            response.request_focus();
            self.select(ui, &string.mark, all, requests);
        }
        let marks = || selection_with(shown, &string.mark, all);
        if response.drag_started() {
            let strings = marks();
            if !selected {
                requests.push(Request::Select { strings: strings.clone(), mode: SelectMode::Only });
            }
            let from_left = ui
                .input(|input| input.pointer.press_origin())
                .map_or(0.5, |at| f64::from((at.x - rect.left()) / rect.width().max(1.0)).clamp(0.0, 1.0));
            let grab_offset = Length::from_m_rounded(string.length.m() * from_left);
            requests.push(Request::Grab { strings, grab_offset });
        }
        if response.has_focus() && ui.input(|input| input.key_pressed(Key::Enter)) {
            requests.push(Request::PlaceFree(marks()));
        }
        menus::ask(&response, || MenuOf::String(string.mark.clone()), requests);
        let words = format!("{}: {length} of {}", string.mark, string.section);
        response.on_hover_cursor(CursorIcon::Grab).on_hover_text(words);
    }

    fn select(&mut self, ui: &Ui, mark: &StringMark, all: &[&StringMark], requests: &mut Vec<Request>) {
        let modifiers = ui.input(|input| input.modifiers);
        let at = |wanted: &StringMark| all.iter().position(|mark| *mark == wanted);
        let range = self.anchor.as_ref().and_then(at).zip(at(mark)).filter(|_| modifiers.shift);
        let (strings, mode) = match range {
            Some((from, to)) => {
                let strings = all[from.min(to)..=from.max(to)].iter().map(|mark| (*mark).clone()).collect();
                (strings, if modifiers.command { SelectMode::Add } else { SelectMode::Only })
            }
            None if modifiers.command => (vec![mark.clone()], SelectMode::Toggle),
            None => (vec![mark.clone()], SelectMode::Only),
        };
        if range.is_none() {
            self.anchor = Some(mark.clone());
        }
        requests.push(Request::Select { strings, mode });
    }
}

/// Adds `mark` to what is selected in the list or takes it away; what is selected on the train is let go, since
/// Enter on a pocket would move it instead.
fn choose(shown: &Shown<'_>, mark: &StringMark, all: &[&StringMark]) -> Request {
    let selected = |other: &StringMark| shown.selection.strings.contains(other);
    let strings = all.iter().filter(|other| selected(other) != (**other == mark));
    Request::Select { strings: strings.map(|other| (*other).clone()).collect(), mode: SelectMode::Only }
}

/// The selected strings of the list with `mark` first, or `mark` alone where it is not selected.
fn selection_with(shown: &Shown<'_>, mark: &StringMark, all: &[&StringMark]) -> Vec<StringMark> {
    let mut strings = vec![mark.clone()];
    if shown.selection.strings.contains(mark) {
        let others = all.iter().filter(|other| **other != mark && shown.selection.strings.contains(**other));
        strings.extend(others.map(|other| (*other).clone()));
    }
    strings
}

/// Strings without a place by drop, in the order of the drops; those for no drop last.
fn groups<'p>(shown: &Shown<'p>) -> Vec<Group<'p>> {
    let plan = shown.plan;
    let placed: BTreeSet<&StringMark> = plan.placements.iter().map(|placement| &placement.string).collect();
    let names = plan.drops.iter().map(|drop| Some(&drop.name)).chain([None]);
    names
        .map(|name| {
            let is_for =
                |string: &&OrderedString| string.drop.as_ref() == name && !placed.contains(&string.mark);
            Group { name, strings: plan.order.iter().filter(is_for).collect() }
        })
        .filter(|group| !group.strings.is_empty())
        .collect()
}

/// Whether a string comes onto the train rather than leaving it.
fn comes_on(shown: &Shown<'_>, mark: &StringMark) -> bool {
    let steps = shown.plan.drops.iter().flat_map(|drop| &drop.steps);
    steps.filter(|step| step.kind == StepKind::On).any(|step| step.strings.marks().any(|other| other == mark))
}

/// The index of a drop.
fn drop_index(shown: &Shown<'_>, name: Option<&DropName>) -> Option<usize> {
    let name = name?;
    shown.plan.drops.iter().position(|drop| drop.name == *name)
}

fn paint_row(ui: &Ui, rect: Rect, shown: &Shown<'_>, string: &OrderedString, state: (bool, bool, bool)) {
    let (selected, focused, hovered) = state;
    let theme = shown.theme;
    let painter = ui.painter_at(rect);
    let ground = if selected { Some(Role::Selected) } else { hovered.then_some(Role::Faint) };
    if let Some(ground) = ground {
        painter.rect_filled(rect, 0.0, theme.color(ground));
    }
    if focused {
        let line = (1.0, theme.color(Role::Accent));
        painter.rect_stroke(rect.shrink(1.0), 0.0, line, egui::StrokeKind::Inside);
    }
    // The colour of its drop, as on the drawings; pattern and name stand in the heading.
    let swatch = Rect::from_min_size(rect.min + vec2(0.0, 3.0), vec2(3.0, rect.height() - 6.0));
    paint_swatch(&painter, swatch, drop_index(shown, string.drop.as_ref()), theme);
    let font = FontId::proportional(12.5);
    let y = rect.center().y;
    let (text, weak) = (theme.color(Role::Text), theme.color(Role::WeakText));
    let side = match string.side {
        Some(TrackSide::Left) => "L",
        Some(TrackSide::Right) => "R",
        None => "",
    };
    let mark =
        if comes_on(shown, &string.mark) { format!("{} (on)", string.mark) } else { string.mark.to_string() };
    let length = Quantity::length(string.length).show(shown.style);
    let mass = shown.plan.section(&string.section).map_or_else(String::new, |section| {
        Quantity::mass(match string.mass {
            crate::model::MassEntry::Computed => section.mass_kg(string.length),
            crate::model::MassEntry::Stated { kg, .. } => kg,
        })
        .show(shown.style)
    });
    let column = |share: f32| rect.left() + 7.0 + (rect.width() - 25.0) * share;
    let cell = |at: f32, align: Align2, words: &str, color| {
        painter.text(pos2(at, y), align, words, font.clone(), color)
    };
    let words = |from: f32, to: f32, words: &str, color| {
        let mut job = egui::text::LayoutJob::simple_singleline(words.to_owned(), font.clone(), color);
        job.wrap = egui::text::TextWrapping::truncate_at_width((to - from).max(10.0));
        let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
        painter.galley(pos2(from, y - galley.size().y / 2.0), galley, color);
    };
    words(rect.left() + 7.0, column(0.26), &mark, text);
    words(column(0.27), column(0.48), string.section.as_str(), weak);
    cell(column(0.76), Align2::RIGHT_CENTER, &length, text);
    cell(column(1.0), Align2::RIGHT_CENTER, &mass, weak);
    cell(rect.right() - 4.0, Align2::RIGHT_CENTER, side, weak);
}
