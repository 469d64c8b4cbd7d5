//! What differs, as rows under headings; a row leads to its thing in every view.

use crate::gui::panels::mark::paint_mark;
use crate::gui::{FindingKey, Request, Role, SelectMode, Shown, Tab, Theme, ZoomTarget};
use crate::model::{StringMark, VehicleMark};
use crate::planning::difference::{ChangedThing, Difference, FigurePlace};
use crate::report::{DifferenceGroup, DifferenceRow, RowOf};
use egui::{Align2, FontId, Rect, RichText, ScrollArea, Sense, Ui, WidgetInfo, pos2, vec2};
use std::collections::BTreeSet;

const ROW_POINTS: f32 = 20.0;
const HEADING_POINTS: f32 = 24.0;
/// So many rows of a heading are listed unless all are asked for.
const FIRST_ROWS: usize = 8;
/// Widths of the columns at the right: before, now, by.
const COLUMNS: [f32; 3] = [124.0, 124.0, 112.0];

/// Which headings are listed in full, and the row chosen.
#[derive(Debug, Default)]
pub(super) struct List {
    unfolded: BTreeSet<&'static str>,
    chosen: Option<(String, String)>,
}

enum Line<'a> {
    Heading(&'a DifferenceGroup),
    Row(&'a DifferenceRow),
    /// So many more under this heading.
    Fold(&'static str, usize),
    /// What is said of those that are not listed at all.
    LeftOut(&'a str),
}

impl Line<'_> {
    fn height(&self) -> f32 {
        match self {
            Self::Heading(_) => HEADING_POINTS,
            Self::Row(_) | Self::Fold(..) | Self::LeftOut(_) => ROW_POINTS,
        }
    }
}

impl List {
    /// Draws the list; gives what the drawing should bring into view.
    pub(super) fn ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        (groups, difference): (&[DifferenceGroup], &Difference),
        requests: &mut Vec<Request>,
    ) -> Option<ZoomTarget> {
        let lines = self.lines(groups);
        let total: f32 = lines.iter().map(Line::height).sum();
        let (mut fold, mut clicked) = (None, None);
        ScrollArea::vertical().auto_shrink(false).show_viewport(ui, |ui, view| {
            ui.set_height(total);
            let (left, top) = (ui.max_rect().left(), ui.max_rect().top());
            let width = ui.max_rect().width();
            let mut y = 0.0;
            for line in &lines {
                let height = line.height();
                // A little more than what is seen, so that the keyboard reaches the next row.
                if y + height >= view.min.y - HEADING_POINTS && y <= view.max.y + HEADING_POINTS {
                    let rect = Rect::from_min_size(pos2(left, top + y), vec2(width, height));
                    match line {
                        Line::Heading(group) => heading_ui(ui, rect, group),
                        Line::Row(row) => {
                            if self.row_ui(ui, rect, (shown, row), difference) {
                                clicked = Some(*row);
                            }
                        }
                        Line::Fold(heading, more) => {
                            if fold_ui(ui, rect, (heading, *more), self.unfolded.contains(heading)) {
                                fold = Some(*heading);
                            }
                        }
                        Line::LeftOut(words) => left_out_ui(ui, rect, words),
                    }
                }
                y += height;
            }
        });
        if let Some(heading) = fold
            && !self.unfolded.remove(heading)
        {
            self.unfolded.insert(heading);
        }
        let row = clicked?;
        self.chosen = Some(name_of(row));
        lead_to(row.of, shown, difference, requests)
    }

    fn lines<'a>(&self, groups: &'a [DifferenceGroup]) -> Vec<Line<'a>> {
        let mut lines = Vec::new();
        for group in groups {
            lines.push(Line::Heading(group));
            let more = group.rows.len().saturating_sub(FIRST_ROWS);
            let folds = more > 1;
            let listed = match folds && !self.unfolded.contains(group.heading) {
                true => &group.rows[..FIRST_ROWS],
                false => &group.rows[..],
            };
            lines.extend(listed.iter().map(Line::Row));
            if folds {
                lines.push(Line::Fold(group.heading, more));
            }
            lines.extend(group.left_out.as_deref().map(Line::LeftOut));
        }
        lines
    }

    /// One row; whether it was chosen.
    fn row_ui(
        &self,
        ui: &Ui,
        rect: Rect,
        (shown, row): (&Shown<'_>, &DifferenceRow),
        difference: &Difference,
    ) -> bool {
        let response = ui.interact(rect, ui.scope_id().with(("difference", row.of)), Sense::click());
        let chosen = self.chosen.as_ref() == Some(&name_of(row));
        let words = spoken(row);
        response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, chosen, words.as_str()));
        let painter = ui.painter_at(rect);
        let color = |role| shown.theme.color(role);
        if chosen {
            painter.rect_filled(rect, 0.0, color(Role::Selected));
        } else if response.hovered() {
            painter.rect_filled(rect, 0.0, color(Role::Faint));
        }
        if let RowOf::Finding(at) = row.of
            && let Some(outcome) = difference.findings.get(at).and_then(|change| change.after.outcome)
        {
            paint_mark(&painter, pos2(rect.left() + 9.0, rect.center().y), outcome, *shown.theme);
        }
        row_text(ui, &painter, rect, row);
        let response = response.on_hover_ui(|ui| hover_ui(ui, row));
        if response.has_focus() {
            response.scroll_to_me(None);
        }
        response.clicked()
    }
}

fn name_of(row: &DifferenceRow) -> (String, String) {
    (row.thing.clone(), row.aspect.clone())
}

fn named(row: &DifferenceRow) -> String {
    if row.aspect.is_empty() { row.thing.clone() } else { format!("{}, {}", row.thing, row.aspect) }
}

/// A row as a screen reader says it.
fn spoken(row: &DifferenceRow) -> String {
    let mut words = format!("{}: {} before, {} now", named(row), row.before, row.after);
    for more in [&row.by, &row.more] {
        if !more.is_empty() {
            words.push_str(&format!(", {more}"));
        }
    }
    words
}

fn hover_ui(ui: &mut Ui, row: &DifferenceRow) {
    ui.set_max_width(420.0);
    ui.strong(named(row));
    ui.label(format!("before: {}", row.before));
    ui.label(format!("now: {}", row.after));
    for more in [&row.by, &row.more] {
        if !more.is_empty() {
            ui.label(more);
        }
    }
}

fn row_text(ui: &Ui, painter: &egui::Painter, rect: Rect, row: &DifferenceRow) {
    let theme = Theme::of(ui);
    let cell = |left: f32, width: f32, words: &str, align: Align2, role: Role| {
        let font = FontId::proportional(12.5);
        let mut job = egui::text::LayoutJob::simple_singleline(words.to_owned(), font, theme.color(role));
        job.wrap = egui::text::TextWrapping::truncate_at_width(width.max(10.0));
        let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
        let room = Rect::from_x_y_ranges(left..=left + width, rect.y_range());
        let at = align.align_size_within_rect(galley.size(), room).min;
        painter.galley(at, galley, theme.color(role));
    };
    let mut right = rect.right() - 4.0;
    // Words stand left, numbers right, so that digits are under each other.
    let align = if row.by.is_empty() { Align2::LEFT_CENTER } else { Align2::RIGHT_CENTER };
    let cells = [
        (&row.before, Role::WeakText, align),
        (&row.after, Role::Text, align),
        (&row.by, Role::Text, Align2::RIGHT_CENTER),
    ];
    for (at, ((words, role, align), width)) in cells.into_iter().zip(COLUMNS).enumerate().rev() {
        right -= width;
        // Words may go on where no number follows.
        let more = if at == 1 && row.by.is_empty() { COLUMNS[2] } else { 0.0 };
        cell(right + 4.0, width - 10.0 + more, words, align, role);
    }
    let left = rect.left() + 22.0;
    cell(left, right - left - 8.0, &named(row), Align2::LEFT_CENTER, Role::Text);
}

fn heading_ui(ui: &Ui, rect: Rect, group: &DifferenceGroup) {
    let theme = Theme::of(ui);
    let painter = ui.painter_at(rect);
    let at = pos2(rect.left() + 2.0, rect.center().y + 1.0);
    painter.text(at, Align2::LEFT_CENTER, group.title(), FontId::proportional(13.0), theme.color(Role::Text));
    let mut right = rect.right() - 4.0;
    for (words, width) in ["before", "now", "by"].into_iter().zip(COLUMNS).rev() {
        let at = pos2(right - 6.0, rect.center().y + 1.0);
        let font = FontId::proportional(11.0);
        painter.text(at, Align2::RIGHT_CENTER, words, font, theme.color(Role::WeakText));
        right -= width;
    }
    painter.hline(rect.x_range(), rect.bottom() - 1.0, (1.0, theme.color(Role::Line)));
}

/// The line that counts what is not listed.
fn left_out_ui(ui: &mut Ui, rect: Rect, words: &str) {
    let place = Rect::from_min_max(rect.min + vec2(22.0, 0.0), rect.max);
    let layout = egui::Layout::left_to_right(egui::Align::Center);
    let mut child = ui.new_child(egui::UiBuilder::new().max_rect(place).layout(layout));
    child.weak(RichText::new(words).small());
}

/// The line that unfolds or folds the rest of a long list; whether it was pressed.
fn fold_ui(ui: &mut Ui, rect: Rect, (heading, more): (&str, usize), unfolded: bool) -> bool {
    let place = Rect::from_min_max(rect.min + vec2(18.0, 0.0), rect.max);
    let words = if unfolded { format!("▼ {more} fewer") } else { format!("▶ {more} more") };
    let layout = egui::Layout::left_to_right(egui::Align::Center);
    let mut child = ui.new_child(egui::UiBuilder::new().max_rect(place).layout(layout));
    let folded = child.push_id(("fold", heading), |ui| {
        let button = ui.add(egui::Button::new(RichText::new(words).small()).frame(false));
        button.accessible_name(format!("{more} more under {heading}")).clicked()
    });
    folded.inner
}

/// Selects the thing of a row in every view; gives what to bring into view here.
fn lead_to(
    of: RowOf,
    shown: &Shown<'_>,
    difference: &Difference,
    requests: &mut Vec<Request>,
) -> Option<ZoomTarget> {
    match of {
        RowOf::Finding(at) => {
            let change = difference.findings.get(at)?;
            let key = FindingKey { check: change.check.id, things: change.things.clone() };
            let there = shown.settled_assessment.findings.iter().any(|finding| key.is_of(finding));
            if !there {
                return change.things.iter().find_map(|name| lead_to_named(name, shown, requests));
            }
            requests.push(Request::ShowFinding(key));
            // What is compared stays as it is: the state shown may be one side of it.
            requests.push(Request::ShowState(shown.state));
            change.things.iter().find_map(|name| lead_to_named(name, shown, &mut Vec::new()))
        }
        RowOf::Change(at) => lead_to_thing(&difference.changes.get(at)?.thing, shown, requests),
        RowOf::Figure(at) => match &difference.figures.get(at)?.place {
            FigurePlace::Train => Some(ZoomTarget::Train),
            FigurePlace::Vehicle(mark) | FigurePlace::Support(mark, _) => {
                lead_to_vehicle(mark, shown, requests)
            }
            FigurePlace::Rack(mark, number) => lead_to_rack(mark, *number, shown, requests),
        },
    }
}

fn lead_to_thing(thing: &ChangedThing, shown: &Shown<'_>, requests: &mut Vec<Request>) -> Option<ZoomTarget> {
    let tab = match thing {
        ChangedThing::String(mark) => {
            shown.settled.plan.string(mark)?;
            requests.push(Request::Select { strings: vec![mark.clone()], mode: SelectMode::Only });
            return shown.settled.plan.placement(mark).map(|_| ZoomTarget::Strings(vec![mark.clone()]));
        }
        ChangedThing::Vehicle(mark) => return lead_to_vehicle(mark, shown, requests),
        ChangedThing::VehicleType(_) | ChangedThing::RackType(_) => Tab::Types,
        ChangedThing::Section(_) | ChangedThing::Steel(_) => Tab::Sections,
        ChangedThing::Drop(_) => Tab::Drops,
        ChangedThing::Limit(_) => Tab::Limits,
        ChangedThing::Train => Tab::Train,
        ChangedThing::Route => Tab::Route,
        ChangedThing::Finding(..) | ChangedThing::Signature(_) | ChangedThing::Plan => Tab::Plan,
    };
    requests.push(Request::ShowTab(tab));
    requests.push(Request::Say(format!("{}: under the drawings, in the tab {}", thing.name(), tab.title())));
    None
}

/// Leads to a thing by the name that findings give it, such as `string S1` or `vehicle W3 rack 2`.
fn lead_to_named(name: &str, shown: &Shown<'_>, requests: &mut Vec<Request>) -> Option<ZoomTarget> {
    if let Some(mark) = name.strip_prefix("string ") {
        return lead_to_thing(&ChangedThing::String(StringMark::new(mark).ok()?), shown, requests);
    }
    let vehicle = name.strip_prefix("vehicle ")?;
    let rack = vehicle.rsplit_once(" rack ").and_then(|(mark, number)| Some((mark, number.parse().ok()?)));
    match rack {
        Some((mark, number)) => lead_to_rack(&VehicleMark::new(mark).ok()?, number, shown, requests),
        None => lead_to_vehicle(&VehicleMark::new(vehicle).ok()?, shown, requests),
    }
}

fn lead_to_rack(
    mark: &VehicleMark,
    number: u32,
    shown: &Shown<'_>,
    requests: &mut Vec<Request>,
) -> Option<ZoomTarget> {
    let racks = &shown.settled.consist.racks;
    let vehicle = vehicle_at(mark, shown)?;
    let rack = racks.iter().position(|rack| (rack.vehicle, rack.number) == (vehicle, number))?;
    requests.push(Request::ShowRack(rack));
    Some(ZoomTarget::Rack(rack))
}

fn lead_to_vehicle(mark: &VehicleMark, shown: &Shown<'_>, requests: &mut Vec<Request>) -> Option<ZoomTarget> {
    let vehicle = vehicle_at(mark, shown)?;
    requests.push(Request::SelectVehicle(Some(vehicle)));
    Some(ZoomTarget::Vehicle(vehicle))
}

fn vehicle_at(mark: &VehicleMark, shown: &Shown<'_>) -> Option<usize> {
    shown.settled.plan.train.vehicles.iter().position(|vehicle| vehicle.mark == *mark)
}
