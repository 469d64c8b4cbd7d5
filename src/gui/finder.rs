//! One list of all that can be done and all that can be gone to, searched by words.

use super::commands::Command;
use super::document::Document;
use super::preferences::SIZES;
use super::{Request, Start, Tab};
use crate::checks::Subject;
use crate::edit::Edit;
use crate::units::DecimalMark;
use egui::text::LayoutJob;
use egui::{Align, Align2, Button, Id, Key, Layout, Modal, Modifiers, ScrollArea, TextEdit, Ui, vec2};

/// The most lines that are shown; more words find the rest.
const MOST_LINES: usize = 60;

/// The open list.
#[derive(Debug)]
pub(super) struct Finder {
    text: String,
    /// The line chosen, among those that fit.
    at: usize,
    entries: Vec<Entry>,
}

/// A line: what it says, its keys, and what it asks for.
#[derive(Clone, Debug)]
struct Entry {
    words: String,
    keys: String,
    request: Request,
    /// Whether it is something to do; things to go to come after those.
    is_command: bool,
}

/// What became of the list in a frame.
#[derive(Debug)]
pub(super) enum Found {
    /// It is still open.
    Open,
    /// It was left without anything.
    Left,
    /// This was chosen.
    Chosen(Box<Request>),
}

impl Finder {
    /// The list for `document`, with what the File menu offers to open.
    pub(super) fn of(document: &Document, start: &Start) -> Self {
        let mut entries = Vec::new();
        commands(&mut entries, start);
        things(&mut entries, document);
        Self { text: String::new(), at: 0, entries }
    }

    /// Draws the list over everything.
    pub(super) fn ui(&mut self, ui: &Ui) -> Found {
        let ctx = ui.ctx().clone();
        let id = Id::unique("finder");
        let area = Modal::default_area(id).anchor(Align2::CENTER_TOP, vec2(0.0, 56.0));
        let modal = Modal::new(id).area(area).show(&ctx, |ui| {
            ui.set_width(620.0_f32.min(ctx.content_rect().width() - 60.0));
            self.list_ui(ui)
        });
        match modal.inner {
            Some(request) => Found::Chosen(Box::new(request)),
            None if modal.should_close() => Found::Left,
            None => Found::Open,
        }
    }

    fn list_ui(&mut self, ui: &mut Ui) -> Option<Request> {
        let fitting = self.fitting();
        let shown = fitting.len().min(MOST_LINES);
        // Taken before the field sees them: they move in the list, not in the words.
        let moved = self.keys(ui, shown);
        let enter = ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter));
        let hint = "Find a command, string, vehicle, rack, finding, limit, state or form";
        let field = TextEdit::singleline(&mut self.text).hint_text(hint).desired_width(f32::INFINITY);
        let field = ui.add(field).accessible_name("Find");
        if field.changed() {
            self.at = 0;
            ui.ctx().request_repaint();
        }
        field.request_focus();
        ui.add_space(4.0);
        if fitting.is_empty() {
            ui.weak("Nothing fits these words.");
        }
        let mut chosen = enter.then_some(self.at).filter(|at| *at < shown);
        let height = (ui.ctx().content_rect().height() - 200.0).clamp(120.0, 440.0);
        ScrollArea::vertical().max_height(height).min_scrolled_height(height).show(ui, |ui| {
            ui.with_layout(Layout::top_down_justified(Align::LEFT), |ui| {
                for (line, entry) in fitting.iter().take(MOST_LINES).enumerate() {
                    let entry = &self.entries[*entry];
                    let response = entry_ui(ui, entry, line == self.at);
                    if response.clicked() {
                        chosen = Some(line);
                    }
                    if moved && line == self.at {
                        response.scroll_to_me(None);
                    }
                }
                if fitting.len() > shown {
                    ui.weak(format!("and {} more: type more of what you look for", fitting.len() - shown));
                }
            });
        });
        chosen.and_then(|line| fitting.get(line)).map(|entry| self.entries[*entry].request.clone())
    }

    /// Moves in the list by keys; whether it was moved.
    fn keys(&mut self, ui: &Ui, shown: usize) -> bool {
        let last = shown.saturating_sub(1);
        let before = self.at;
        self.at = self.at.min(last);
        let steps = [(Key::ArrowDown, 1_isize), (Key::ArrowUp, -1), (Key::PageDown, 10), (Key::PageUp, -10)];
        for (key, step) in steps {
            if ui.input_mut(|input| input.consume_key(Modifiers::NONE, key)) {
                self.at = self.at.saturating_add_signed(step).min(last);
            }
        }
        before != self.at
    }

    /// The lines that fit the words, the best first; without words all that can be done.
    fn fitting(&self) -> Vec<usize> {
        let wanted: Vec<String> = self.text.split_whitespace().map(str::to_lowercase).collect();
        let fits = |(at, entry): (usize, &Entry)| {
            if wanted.is_empty() && !entry.is_command {
                return None;
            }
            let words = entry.words.to_lowercase();
            let worst = wanted.iter().map(|word| distance(&words, word)).sum::<Option<u32>>()?;
            Some(((worst, !entry.is_command, at), at))
        };
        let mut found: Vec<_> = self.entries.iter().enumerate().filter_map(fits).collect();
        found.sort_unstable();
        found.into_iter().map(|(_, at)| at).collect()
    }
}

/// How far `wanted` is from standing in `words`, both in small letters; none where it does not at all.
///
/// 0: it is one of the words; 1: one begins with it; 2: it stands somewhere; 3: it is the first letters of words
/// in a row; 6: its letters stand in this order, from the beginning of a word on.
fn distance(words: &str, wanted: &str) -> Option<u32> {
    let parts = || words.split(|letter: char| !letter.is_alphanumeric()).filter(|part| !part.is_empty());
    if parts().any(|part| part == wanted) {
        return Some(0);
    }
    if parts().any(|part| part.starts_with(wanted)) {
        return Some(1);
    }
    if words.contains(wanted) {
        return Some(2);
    }
    let initials: String = parts().filter_map(|part| part.chars().next()).collect();
    if initials.contains(wanted) {
        return Some(3);
    }
    let in_order = |part: &str| {
        let mut letters = part.chars();
        wanted.chars().all(|letter| letters.any(|other| other == letter))
    };
    let begins = |part: &&str| part.chars().next() == wanted.chars().next();
    (wanted.chars().count() > 2 && parts().filter(begins).any(in_order)).then_some(6)
}

fn entry_ui(ui: &mut Ui, entry: &Entry, chosen: bool) -> egui::Response {
    let mut job = LayoutJob::default();
    let format = egui::TextFormat {
        font_id: egui::TextStyle::Button.resolve(ui.style()),
        color: egui::Color32::PLACEHOLDER,
        ..egui::TextFormat::default()
    };
    job.append(&entry.words, 0.0, format);
    let button = Button::selectable(chosen, job).truncate().shortcut_text(entry.keys.as_str());
    let response = ui.add(button);
    response.widget_info(|| {
        egui::WidgetInfo::selected(egui::Role::ListItem, true, chosen, format!("Find: {}", entry.words))
    });
    response
}

/// All that can be done.
fn commands(entries: &mut Vec<Entry>, start: &Start) {
    let mut add = |words: String, keys: String, request: Request| {
        entries.push(Entry { words, keys, request, is_command: true });
    };
    for command in Command::all().filter(|command| *command != Command::Find) {
        let keys = command.keys().into_iter().next().unwrap_or_default();
        add(command.title().to_owned(), keys, Request::Command(command));
    }
    for (words, preference) in super::preferences::COLOURS {
        add(format!("Colours: {words}"), String::new(), Request::SetColours(preference));
    }
    for size in SIZES {
        add(format!("Size of everything: {:.0} %", size * 100.0), String::new(), Request::SetSize(size));
    }
    for (units, words) in super::fields::UNIT_SYSTEMS {
        add(format!("Units: {words}"), String::new(), Request::Edit(Edit::SetUnits { units }));
    }
    for (mark, words) in [(DecimalMark::Point, "point (1.25)"), (DecimalMark::Comma, "comma (1,25)")] {
        add(format!("Decimal {words}"), String::new(), Request::SetDecimal(mark));
    }
    add("About and cautions".to_owned(), String::new(), Request::ShowAbout);
    for (what, tabs) in [("Figures", &Tab::FIGURES[..]), ("Set up", &Tab::SET_UP[..])] {
        for tab in tabs {
            add(format!("{what}: {}", tab.title()), String::new(), Request::ShowTab(*tab));
        }
    }
    for (at, sample) in Start::SAMPLES.iter().enumerate() {
        add(format!("Open sample: {}", sample.title), String::new(), Request::OpenSample(at));
    }
    for path in &start.recent {
        add(format!("Open again: {}", path.display()), String::new(), Request::OpenPath(path.clone()));
    }
}

/// All that can be gone to.
fn things(entries: &mut Vec<Entry>, document: &Document) {
    let (plan, figures) = (document.plan(), document.figures());
    let mut add = |words: String, keys: String, request: Request| {
        entries.push(Entry { words, keys, request, is_command: false });
    };
    let mut thing = |kind: &str, name: &str, about: &str, subject: Subject| {
        add(format!("{kind} {name}"), about.to_owned(), Request::ShowThing(subject));
    };
    for (at, string) in plan.order.iter().enumerate() {
        let about = match plan.placement(&string.mark) {
            Some(placed) => format!("tier {} lane {}", placed.tier, placed.lane),
            None => "yard list".to_owned(),
        };
        thing("String", string.mark.as_str(), &about, Subject::String(at));
    }
    for (at, vehicle) in plan.train.vehicles.iter().enumerate() {
        thing("Vehicle", vehicle.mark.as_str(), vehicle.vehicle_type.as_str(), Subject::Vehicle(at));
    }
    for at in 0..figures.consist.racks.len() {
        thing("Rack", &crate::planning::lay::rack_words(plan, &figures.consist, at), "", Subject::Rack(at));
    }
    for (at, drop) in plan.drops.iter().enumerate() {
        thing("Drop", drop.name.as_str(), "", Subject::Drop(at));
    }
    for (at, kind) in plan.train.vehicle_types.iter().enumerate() {
        thing("Vehicle type", kind.name.as_str(), "", Subject::VehicleType(at));
    }
    for (at, kind) in plan.train.rack_types.iter().enumerate() {
        thing("Rack type", kind.name.as_str(), "", Subject::RackType(at));
    }
    for (at, section) in plan.sections.iter().enumerate() {
        thing("Rail section", section.name.as_str(), "", Subject::Section(at));
    }
    for kind in plan.limits.entries.keys() {
        thing("Limit", kind.title(), "", Subject::Limit(*kind));
    }
    for (at, state) in figures.states.iter().enumerate() {
        add(format!("State {}: {}", at + 1, state.title(plan)), String::new(), Request::ShowState(at));
    }
    for finding in &document.assessment().findings {
        let place = finding.things.join(", ");
        let words = format!("{}: {}, {place}", finding.outcome.word(), finding.check.title);
        add(words, String::new(), Request::ShowFinding(super::FindingKey::of(finding)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::OnDisk;
    use crate::gui::SAMPLES;
    use std::sync::Arc;

    /// The first lines that fit.
    fn first(text: &str, count: usize) -> Vec<String> {
        let document = Document::new(Arc::new(SAMPLES[5].plan().unwrap()), OnDisk::Yes);
        let finder = Finder { text: text.to_owned(), ..Finder::of(&document, &Start::default()) };
        finder.fitting().into_iter().take(count).map(|at| finder.entries[at].words.clone()).collect()
    }

    #[test]
    fn words_are_found_whole_begun_within_by_initials_and_by_letters_in_order() {
        let words = "zoom to the selection";
        let found = [("to", 0), ("sel", 1), ("lect", 2), ("ztts", 3), ("seln", 6)];
        for (wanted, expected) in found {
            assert_eq!(distance(words, wanted), Some(expected), "{wanted}");
        }
        for wanted in ["slz", "sn", "x"] {
            assert_eq!(distance(words, wanted), None, "{wanted}");
        }
    }

    #[test]
    fn commands_come_before_things_and_every_word_must_fit() {
        assert_eq!(first("undo", 1), ["Undo"]);
        assert_eq!(first("string l05", 1), ["String L05"]);
        assert_eq!(first("rack f5 2", 1), ["Rack F5 rack 2"]);
        assert_eq!(first("fail rear f5", 1), ["fail: Left and right wheel loads, vehicle F5, rear bogie"]);
        assert_eq!(first("limits", 2), ["Set up: Limits"]);
        assert_eq!(first("undo nothing-like-it", 9), [""; 0]);
    }

    #[test]
    fn without_words_all_commands_are_listed_and_nothing_else() {
        let all = first("", 1_000);
        for command in Command::all().filter(|command| *command != Command::Find) {
            assert!(all.iter().any(|words| words == command.title()), "{command:?}");
        }
        assert!(!all.iter().any(|words| words.starts_with("String ")));
    }
}
