//! The list: racks in the order of the walk, under each the strings that begin there, what else ends there, and what
//! is held there.

use super::ground::{Ground, Seen};
use crate::checks::Outcome;
use crate::gui::canvas::rack_words;
use crate::gui::panels::mark::paint_mark;
use crate::gui::{Request, Role, SelectMode};
use crate::model::{StringMark, TrainEnd};
use crate::planning::walk::{EndPassed, Meeting, Stop};
use egui::{
    Align2, Color32, EventFilter, FontId, Key, Modifiers, Rect, Response, RichText, ScrollArea, Sense, Ui,
    WidgetInfo, pos2, vec2,
};

const ROW_POINTS: f32 = 22.0;
/// The line below, for what differs.
const WORDS_POINTS: f32 = 16.0;
/// Where the columns end, as shares of the width: string, distance, tier, lane, hold.
const COLUMNS: [f32; 5] = [0.25, 0.46, 0.53, 0.76, 0.985];
/// The same of a narrow list, which leaves out where strings are held.
const NARROW: [f32; 4] = [0.33, 0.62, 0.75, 0.98];
const NARROW_POINTS: f32 = 370.0;

/// Draws the list. `go_to` names the string whose line takes the keyboard, until it did; the rack shown is brought
/// into sight where it `moved`.
pub(super) fn list_ui(
    ui: &mut Ui,
    ground: &Ground<'_>,
    (go_to, moved): (&mut Option<StringMark>, bool),
    requests: &mut Vec<Request>,
) {
    ui.set_min_size(ui.available_size());
    if ground.met().next().is_none() {
        ui.add_space(24.0);
        ui.vertical_centered(|ui| {
            ui.label(RichText::new("No string lies on the train at departure").heading());
            ui.weak("Place strings in the train side first; then walk along the train and tick them here.");
        });
        return;
    }
    header_ui(ui, ground);
    let tab_stop = go_to.clone().or_else(|| ground.tab_stop());
    ScrollArea::vertical().id_salt("walk list").auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        for stop in &ground.stops {
            stop_ui(ui, ground, (stop, moved), requests);
            for end in stop.ends.iter().filter(|end| end.meeting == Meeting::First) {
                let row = Row { mark: &end.of.string, end: Some((stop, end)) };
                row.ui(ui, ground, (tab_stop.as_ref(), go_to), requests);
            }
            also_ui(ui, ground, stop);
        }
        if ground.in_yard().next().is_some() {
            ui.add_space(6.0);
            ui.strong("In the yard by the plan")
                .on_hover_text("Choose one that lies on the train all the same");
            for mark in ground.in_yard() {
                Row { mark, end: None }.ui(ui, ground, (tab_stop.as_ref(), go_to), requests);
            }
        }
        ui.add_space(8.0);
    });
}

/// The names of the columns.
fn header_ui(ui: &mut Ui, ground: &Ground<'_>) {
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), 20.0));
    let end = match ground.walk.from {
        _ if is_narrow(rect) => "past rack",
        TrainEnd::Front => "front end past rack",
        TrainEnd::Rear => "rear end past rack",
    };
    let color = ground.shown.theme.color(Role::WeakText);
    let lane = if is_narrow(rect) { "lane" } else { "lane (from you)" };
    let names = ["string", end, "tier", lane, "held at"];
    for (at, name) in names.into_iter().enumerate() {
        cell(ui, rect, (at, name), color);
    }
    ui.painter().hline(rect.x_range(), rect.bottom(), (1.0, ground.shown.theme.color(Role::Line)));
}

/// A rack of the walk; a click shows it.
fn stop_ui(ui: &mut Ui, ground: &Ground<'_>, (stop, moved): (&Stop, bool), requests: &mut Vec<Request>) {
    let theme = ground.shown.theme;
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), ROW_POINTS + 2.0));
    let words = rack_words(ground.meant, ground.consist, stop.rack);
    let shown = ground.shown.selection.rack == stop.rack;
    let response = ui.interact(rect, ui.scope_id().with(("stop", stop.rack)), Sense::CLICK);
    let lie = match stop.pockets.len() {
        0 => "nothing lies here".to_owned(),
        1 => "1 string lies here".to_owned(),
        count => format!("{count} strings lie here"),
    };
    response.widget_info(|| {
        WidgetInfo::selected(egui::Role::Button, true, shown, format!("stop {words}: {lie}"))
    });
    if shown && moved {
        ui.scroll_to_rect(rect, None);
    }
    if response.clicked() {
        requests.push(Request::ShowRack(stop.rack));
    }
    if !ui.is_rect_visible(rect) {
        return;
    }
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 0.0, theme.color(if shown { Role::Selected } else { Role::Faint }));
    let font = FontId::proportional(13.0);
    painter.text(
        pos2(rect.left() + 6.0, rect.center().y),
        Align2::LEFT_CENTER,
        words,
        font,
        theme.color(Role::Text),
    );
    let font = FontId::proportional(12.0);
    let right = pos2(rect.right() - 8.0, rect.center().y);
    painter.text(right, Align2::RIGHT_CENTER, lie, font, theme.color(Role::WeakText));
}

/// What else there is to see at a stop: ends that the walk leaves behind, and holds.
fn also_ui(ui: &mut Ui, ground: &Ground<'_>, stop: &Stop) {
    let left: Vec<String> = stop
        .ends
        .iter()
        .filter(|end| end.meeting == Meeting::Last)
        .map(|end| format!("{} {}", end.of.string, past_words(ground, end)))
        .collect();
    let held: Vec<&str> = stop.holds.iter().map(StringMark::as_str).collect();
    let end = match ground.walk.from {
        TrainEnd::Front => "Rear end of",
        TrainEnd::Rear => "Front end of",
    };
    for (what, list) in [(end, left.join(", ")), ("Held here:", held.join(", "))] {
        if !list.is_empty() {
            let words = RichText::new(format!("{what} {list}")).weak().size(12.0);
            ui.horizontal(|ui| {
                ui.add_space(22.0);
                ui.add(egui::Label::new(words).wrap());
            });
        }
    }
}

fn past_words(ground: &Ground<'_>, end: &EndPassed) -> String {
    match end.past.is_negative() {
        true => format!("{} before", ground.length(end.past.abs())),
        false => format!("{} past", ground.length(end.past)),
    }
}

/// The line of a string: with the end that the walk meets first, or none where the plan leaves it in the yard.
struct Row<'r> {
    mark: &'r StringMark,
    end: Option<(&'r Stop, &'r EndPassed)>,
}

impl Row<'_> {
    /// Click chooses; Enter or Space ticks as planned and goes on, up and down go to the lines beside.
    fn ui(
        &self,
        ui: &mut Ui,
        ground: &Ground<'_>,
        (tab_stop, go_to): (Option<&StringMark>, &mut Option<StringMark>),
        requests: &mut Vec<Request>,
    ) {
        let seen = ground.seen(self.mark);
        let words = if matches!(seen, Seen::Otherwise(_)) { WORDS_POINTS } else { 0.0 };
        let (_, rect) = ui.allocate_space(vec2(ui.available_width(), ROW_POINTS + words));
        let is_stop = tab_stop == Some(self.mark);
        // Only one line is a stop of Tab: from it the keyboard goes on to what is entered.
        let sense = if is_stop { Sense::click() } else { Sense::CLICK };
        let response = ui.interact(rect, ui.scope_id().with(("walked", self.mark.as_str())), sense);
        let selected = ground.shown.selection.only_string() == Some(self.mark);
        let label = format!("walk {}: {}", self.mark, seen_words(&seen));
        response.widget_info(|| WidgetInfo::selected(egui::Role::ListItem, true, selected, label.as_str()));
        ui.ctx().accesskit_node_builder(response.id, |node| node.set_description(self.place_words(ground)));
        if is_stop {
            self.keys(ui, (&response, ground), go_to, requests);
        }
        if response.clicked() {
            response.request_focus();
            self.choose(self.mark, ground, requests);
        }
        if ui.is_rect_visible(rect) {
            self.paint(ui, rect, ground, (&seen, selected, &response));
        }
        response.on_hover_text(format!("{}. {}", self.place_words(ground), seen_words(&seen)));
    }

    fn keys(
        &self,
        ui: &Ui,
        (response, ground): (&Response, &Ground<'_>),
        go_to: &mut Option<StringMark>,
        requests: &mut Vec<Request>,
    ) {
        if go_to.as_ref() == Some(self.mark) {
            *go_to = None;
            response.request_focus();
            response.scroll_to_me(None);
            self.choose(self.mark, ground, requests);
            return;
        }
        if response.gained_focus() {
            response.scroll_to_me(None);
        }
        if !response.has_focus() {
            return;
        }
        let filter = EventFilter { vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        if pressed(Key::ArrowUp) {
            *go_to = ground.beside(self.mark, -1);
        } else if pressed(Key::ArrowDown) {
            *go_to = ground.beside(self.mark, 1);
        } else if pressed(Key::Enter) || pressed(Key::Space) {
            if self.end.is_some() && ground.meant.record(self.mark).is_none() {
                ground.confirm(vec![self.mark.clone()], requests);
            }
            if !ground.person.is_empty() {
                *go_to = ground.next_open(self.mark);
            }
        }
    }

    fn choose(&self, mark: &StringMark, ground: &Ground<'_>, requests: &mut Vec<Request>) {
        requests.push(Request::Select { strings: vec![mark.clone()], mode: SelectMode::Only });
        requests.extend(ground.stop_of(mark).map(|stop| Request::ShowRack(stop.rack)));
    }

    /// Where it should be, in words.
    fn place_words(&self, ground: &Ground<'_>) -> String {
        let Some((stop, end)) = self.end else { return "In the yard by the plan".to_owned() };
        let which = match end.end {
            TrainEnd::Front => "front end",
            TrainEnd::Rear => "rear end",
        };
        let near = ground.walk.from_near_side(ground.consist, stop.rack, end.of.lane);
        format!(
            "Planned: {which} {} {}, tier {}, lane {} ({near} from your side)",
            past_words(ground, end),
            rack_words(ground.meant, ground.consist, stop.rack),
            end.of.tier,
            end.of.lane,
        )
    }

    fn paint(&self, ui: &Ui, rect: Rect, ground: &Ground<'_>, state: (&Seen, bool, &Response)) {
        let (seen, selected, response) = state;
        let theme = ground.shown.theme;
        let painter = ui.painter_at(rect);
        let fill = if selected { Some(Role::Selected) } else { response.hovered().then_some(Role::Faint) };
        if let Some(fill) = fill {
            painter.rect_filled(rect, 0.0, theme.color(fill));
        }
        let first = Rect::from_min_size(rect.min, vec2(rect.width(), ROW_POINTS));
        let mark_at = pos2(first.left() + 14.0, first.center().y);
        match seen {
            Seen::NotYet => {
                let square = Rect::from_center_size(mark_at, vec2(12.0, 12.0));
                let line = (1.2, theme.color(Role::WeakText));
                painter.rect_stroke(square, 2.0, line, egui::StrokeKind::Inside);
            }
            Seen::AsPlanned => paint_mark(&painter, mark_at, Outcome::Pass, *theme),
            Seen::Otherwise(words) => {
                paint_mark(&painter, mark_at, Outcome::Near, *theme);
                let at = pos2(rect.left() + 26.0, first.bottom() + WORDS_POINTS / 2.0 - 2.0);
                line_of_words(ui, (at, rect.right() - 6.0), words, theme.color(Role::Near));
            }
        }
        let (text, weak) = (theme.color(Role::Text), theme.color(Role::WeakText));
        cell(ui, first, (0, self.mark.as_str()), text);
        if let Some((stop, end)) = self.end {
            let near = ground.walk.from_near_side(ground.consist, stop.rack, end.of.lane);
            cell(ui, first, (1, &past_column(ground, end)), text);
            cell(ui, first, (2, &end.of.tier.to_string()), text);
            cell(ui, first, (3, &format!("{} ({near})", end.of.lane)), text);
            cell(ui, first, (4, &hold_column(ground, self.mark)), weak);
        }
    }
}

/// How a string stands to its record, in words.
fn seen_words(seen: &Seen) -> String {
    match seen {
        Seen::NotYet => "not confirmed".to_owned(),
        Seen::AsPlanned => "confirmed as planned".to_owned(),
        Seen::Otherwise(words) => format!("differs: {words}"),
    }
}

fn past_column(ground: &Ground<'_>, end: &EndPassed) -> String {
    let length = ground.length(end.past.abs());
    if end.past.is_negative() { format!("{length} before") } else { length }
}

fn hold_column(ground: &Ground<'_>, mark: &StringMark) -> String {
    let holds = ground.meant.placement(mark).map(|placement| placement.holds.as_slice()).unwrap_or_default();
    let words: Vec<String> =
        holds.iter().map(|hold| format!("{} rack {}", hold.vehicle, hold.rack)).collect();
    if words.is_empty() { "nowhere".to_owned() } else { words.join(", ") }
}

/// Words in a column of a line: the first at its left, the others at the right of theirs.
fn cell(ui: &Ui, rect: Rect, (column, words): (usize, &str), color: Color32) {
    let columns: &[f32] = if is_narrow(rect) { &NARROW } else { &COLUMNS };
    let Some(right) = columns.get(column).map(|share| rect.left() + rect.width() * share) else { return };
    let font = FontId::proportional(12.5);
    let y = rect.center().y;
    if column == 0 {
        line_of_words(ui, (pos2(rect.left() + 26.0, y), right), words, color);
    } else {
        ui.painter_at(rect).text(pos2(right, y), Align2::RIGHT_CENTER, words, font, color);
    }
}

fn is_narrow(rect: Rect) -> bool {
    rect.width() < NARROW_POINTS
}

/// Words on one line, cut off where they would pass `right`.
fn line_of_words(ui: &Ui, (at, right): (egui::Pos2, f32), words: &str, color: Color32) {
    let font = FontId::proportional(12.5);
    let mut job = egui::text::LayoutJob::simple_singleline(words.to_owned(), font, color);
    job.wrap = egui::text::TextWrapping::truncate_at_width((right - at.x).max(10.0));
    let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
    ui.painter().galley(pos2(at.x, at.y - galley.size().y / 2.0), galley, color);
}
