//! The steps and the drops under the states: what leaves or comes when, to choose and to put in another order.

use super::TimeLine;
use super::columns::{Columns, StepSite, drop_sites, step_sites};
use super::reorder::{Held, moved_drop, moved_step, neighbour};
use crate::gui::canvas::{drop_look, mix};
use crate::gui::menus::{self, MenuOf};
use crate::gui::panels::row_drag::Way;
use crate::gui::panels::swatch::paint_swatch;
use crate::gui::{Request, Role, SelectMode, Shown};
use crate::model::{Step, StepKind, StringMark};
use egui::{
    Align2, CursorIcon, FontId, Key, Modifiers, Rangef, Rect, Response, Sense, Stroke, StrokeKind, Ui,
};
use egui::{WidgetInfo, pos2};

impl TimeLine {
    /// Draws a box for each step under its states.
    pub(super) fn steps_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (columns, row): (&Columns, Rect),
        requests: &mut Vec<Request>,
    ) {
        let seen = columns.seen();
        let sites = step_sites(&shown.settled.states);
        for site in sites.iter().filter(|site| site.last >= seen.start && site.first < seen.end) {
            self.step_ui(ui, shown, (columns, row, *site), requests);
        }
    }

    fn step_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (columns, row, site): (&Columns, Rect, StepSite),
        requests: &mut Vec<Request>,
    ) {
        let plan = &shown.settled.plan;
        let Some(drop) = plan.drops.get(site.drop) else { return };
        let Some(step) = drop.steps.get(site.step) else { return };
        let across = Rangef::new(columns.span(site.first).min, columns.span(site.last).max - 1.0);
        let chip = Rect::from_x_y_ranges(across, row.top()..=row.bottom() - 2.0).intersect(row);
        if !chip.is_positive() {
            return;
        }
        let marks: Vec<StringMark> = step.strings.marks().cloned().collect();
        let words = marks.iter().map(StringMark::as_str).collect::<Vec<_>>().join(" and ");
        let id = ui.scope_id().with(("step", words.as_str()));
        let response = ui.interact(chip, id, Sense::click_and_drag());
        let selected = marks.iter().all(|mark| shown.selection.strings.contains(mark));
        let name = format!("Step {} of {}: {words}", site.step + 1, drop.name);
        response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, selected, name.as_str()));
        paint_step(ui, shown, (chip, row), (site.drop, step), (selected, &response));
        if response.clicked() {
            response.request_focus();
            requests.push(Request::Select { strings: marks, mode: SelectMode::Only });
            requests.push(Request::ShowState(site.last));
        }
        if response.drag_started_by(egui::PointerButton::Primary) {
            self.held = Some(Held::Step { drop: site.drop, step: site.step });
        }
        if let Some(way) = shifted_by_key(ui, &response)
            && let Some(gap) = neighbour(plan, (site.drop, site.step), way)
        {
            requests.extend(moved_step(plan, (site.drop, site.step), gap).map(Request::Edit));
        }
        menus::ask(&response, || MenuOf::State(site.last), requests);
        if self.held.is_none() {
            let how = "drag it to another place, or Shift with an arrow key";
            response.on_hover_cursor(CursorIcon::Grab).on_hover_text(format!("{name}\n{how}"));
        }
    }

    /// Draws the name of each drop under its states.
    pub(super) fn drops_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (columns, row): (&Columns, Rect),
        requests: &mut Vec<Request>,
    ) {
        let plan = &shown.settled.plan;
        let sites = drop_sites(&shown.settled.states);
        for (at, (drop, (first, last))) in plan.drops.iter().zip(sites).enumerate() {
            let across = Rangef::new(columns.span(first).min, columns.span(last).max - 1.0);
            let rect = Rect::from_x_y_ranges(across, row.y_range()).intersect(row);
            if !rect.is_positive() {
                continue;
            }
            let id = ui.scope_id().with(("drop", drop.name.as_str()));
            let response = ui.interact(rect, id, Sense::click_and_drag());
            let name = format!("Drop {}", drop.name);
            response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, name.as_str()));
            paint_drop(ui, shown, rect, (at, &response));
            if response.clicked() {
                response.request_focus();
                requests.push(Request::ShowState(last));
            }
            if response.drag_started_by(egui::PointerButton::Primary) {
                self.held = Some(Held::Drop(at));
            }
            if let Some(way) = shifted_by_key(ui, &response) {
                let gap = if way == Way::Later { Some(at + 2) } else { at.checked_sub(1) };
                requests.extend(gap.and_then(|gap| moved_drop(plan, at, gap)).map(Request::Edit));
            }
            menus::ask(&response, || MenuOf::State(last), requests);
            if self.held.is_none() {
                let how = "drag it to another place, or Shift with an arrow key";
                response.on_hover_cursor(CursorIcon::Grab).on_hover_text(format!("{name}\n{how}"));
            }
        }
    }
}

/// Whether Shift with an arrow key asks for a later or an earlier place for what has the keyboard.
fn shifted_by_key(ui: &Ui, response: &Response) -> Option<Way> {
    if !response.has_focus() {
        return None;
    }
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::SHIFT, key));
    match (pressed(Key::ArrowLeft), pressed(Key::ArrowRight)) {
        (true, _) => Some(Way::Earlier),
        (_, true) => Some(Way::Later),
        _ => None,
    }
}

fn paint_step(
    ui: &Ui,
    shown: &Shown<'_>,
    (chip, row): (Rect, Rect),
    (drop, step): (usize, &Step),
    (selected, response): (bool, &Response),
) {
    let theme = shown.theme;
    let painter = ui.painter_at(row.expand(1.0));
    let look = drop_look(theme, Some(drop));
    let ground =
        if selected { theme.color(Role::Selected) } else { mix(look.fill, theme.color(Role::Panel), 0.7) };
    painter.rect_filled(chip, 0.0, ground);
    // The colour of the drop with its pattern, as strings on the train have it.
    let swatch = Rect::from_min_size(chip.min, egui::vec2(chip.width(), 4.0));
    paint_swatch(&painter, swatch, Some(drop), theme);
    if selected || response.hovered() || response.has_focus() {
        let role = if selected { Role::SelectedEdge } else { Role::Accent };
        painter.rect_stroke(chip, 0.0, Stroke::new(1.2, theme.color(role)), StrokeKind::Inside);
    }
    let words = short_words(step);
    let font = FontId::proportional(9.5);
    let galley = painter.layout_no_wrap(words, font, theme.color(Role::Text));
    if galley.size().x <= chip.width() - 3.0 {
        let room = Rect::from_min_max(pos2(chip.left(), chip.top() + 3.0), chip.max);
        let place = Align2::CENTER_CENTER.align_size_within_rect(galley.size(), room);
        painter.galley(place.min, galley, theme.color(Role::Text));
    }
}

/// The strings of a step in little room: `N11 L + R` for a pair whose marks begin alike; `+` ahead where they come on.
fn short_words(step: &Step) -> String {
    let marks: Vec<&str> = step.strings.marks().map(StringMark::as_str).collect();
    let on = if step.kind == StepKind::On { "+" } else { "" };
    let words = match marks.as_slice() {
        [first, second] => match (first.rsplit_once(' '), second.rsplit_once(' ')) {
            (Some((one, _)), Some((two, tail))) if one == two => format!("{first}+{tail}"),
            _ => format!("{first}+{second}"),
        },
        _ => marks.concat(),
    };
    format!("{on}{words}")
}

fn paint_drop(ui: &Ui, shown: &Shown<'_>, rect: Rect, (at, response): (usize, &Response)) {
    let theme = shown.theme;
    let painter = ui.painter_at(rect.expand(1.0));
    let strong = response.hovered() || response.has_focus();
    let ink = theme.color(if strong { Role::Text } else { Role::WeakText });
    painter.hline(rect.x_range(), rect.top(), Stroke::new(1.0, theme.color(Role::WeakText)));
    if response.has_focus() {
        painter.rect_stroke(rect, 0.0, Stroke::new(1.2, theme.color(Role::Accent)), StrokeKind::Inside);
    }
    let name = shown.settled.plan.drops.get(at).map_or("", |drop| drop.name.as_str());
    let galley = painter.layout_no_wrap(name.to_owned(), FontId::proportional(11.0), ink);
    // Half a name says nothing; it stands in the hover.
    if galley.size().x <= rect.width() - 2.0 {
        painter.galley(pos2(rect.left() + 2.0, rect.center().y + 1.0 - galley.size().y / 2.0), galley, ink);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::StepStrings;

    fn check(strings: StepStrings, kind: StepKind, expected: &str) {
        assert_eq!(short_words(&Step { kind, strings, toward: None }), expected);
    }

    #[test]
    fn a_pair_whose_marks_begin_alike_is_told_in_few_letters() {
        let mark = |text| StringMark::new(text).unwrap();
        let pair =
            |first, second| StepStrings::Pair { first: mark(first), second: mark(second), together: false };
        check(StepStrings::One(mark("N11 L")), StepKind::Off, "N11 L");
        check(pair("N11 L", "N11 R"), StepKind::Off, "N11 L+R");
        check(pair("A", "B"), StepKind::On, "+A+B");
        check(pair("N11 L", "N12 R"), StepKind::Off, "N11 L+N12 R");
    }
}
