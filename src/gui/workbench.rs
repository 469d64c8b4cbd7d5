//! The whole editor: its state, and what it draws where.

use super::canvas::{Canvas, Pairs};
use super::commands::{self, Command, Pane, Press};
use super::dialogs::{Dialog, Next, dialog_ui};
use super::files::{Asking, Outside, empty_plan};
use super::finder::{Finder, Found};
use super::menus::Menu;
use super::panels::findings::Findings;
use super::panels::tables::Tables;
use super::panels::take_in::Taking;
use super::panels::time_line::TimeLine;
use super::panels::yard::Yard;
use super::panes::Panes;
use super::safekeeping::Safekeeping;
use super::slow::Slow;
use super::start::{Start, start_ui};
use super::views::{View, Views};
use super::{Document, Export, Preview, Request, Role, Selection, Shown, Theme, WorkPlace, Works};
use super::{fields, focus};
use crate::checks::Assessment;
use crate::disk::unsaved::LeftBehind;
use crate::edit::OnDisk;
use crate::model::Plan;
use crate::report::Judged;
use crate::statics::Figures;
use crate::units::{DecimalMark, Style};
use egui::{CentralPanel, Context, Frame, Ui};
use std::sync::Arc;

/// The editor: document, selection, preview and views. It knows nothing of the window around it.
#[derive(Debug)]
pub struct Workbench {
    pub(super) document: Document,
    pub(super) selection: Selection,
    pub(super) state: usize,
    /// Which load is judged and shown.
    pub(super) judged: Judged,
    pub(super) preview: Option<Preview>,
    /// What the checks say of the state shown alone, for previews to compare with; none: not worked out yet.
    pub(super) before: Option<Assessment>,
    pub(super) decimal: DecimalMark,
    pub(super) pairs: Pairs,
    pub(super) canvas: Canvas,
    pub(super) panes: Panes,
    pub(super) panels: Panels,
    /// The menu of a thing that is open.
    pub(super) menu: Option<Menu>,
    pub(super) start: Start,
    pub(super) at_start: bool,
    pub(super) dialog: Option<Dialog>,
    /// The table that is being taken in.
    pub(super) taking: Option<Taking>,
    /// What a file dialog was asked for and has not answered yet.
    pub(super) asking: Option<Asking>,
    /// What follows once the plan is saved.
    pub(super) next: Option<Next>,
    /// The document that a file is being chosen for.
    pub(super) export: Option<Export>,
    pub(super) outside: Vec<Outside>,
    /// The window is to close once what is being typed is entered.
    pub(super) close_wanted: bool,
    pub(super) focus: Option<Pane>,
    pub(super) said: String,
    pub(super) works: Works,
    pub(super) slow: Slow,
    /// The list of all that can be done, while it is open.
    pub(super) finder: Option<Finder>,
    /// Keeps copies of unsaved work; none: nothing is kept.
    pub(super) keeping: Option<Safekeeping>,
    /// Work that runs which ended badly left behind.
    pub(super) left: Vec<LeftBehind>,
    /// The window's own, once it is known: work beside the window wakes it.
    pub(super) ctx: Context,
}

/// The panels that have a state of their own.
#[derive(Debug, Default)]
pub(super) struct Panels {
    pub(super) yard: Yard,
    pub(super) findings: Findings,
    pub(super) tables: Tables,
    pub(super) views: Views,
    pub(super) time_line: TimeLine,
}

impl Workbench {
    /// An editor on `plan`.
    pub fn new(plan: Plan, on_disk: OnDisk) -> Self {
        let document = Document::new(Arc::new(plan), on_disk);
        Self {
            selection: first_selection(&document),
            document,
            state: 0,
            judged: Judged::default(),
            preview: None,
            before: None,
            decimal: DecimalMark::default(),
            pairs: Pairs::default(),
            canvas: Canvas::default(),
            panes: Panes::default(),
            panels: Panels::default(),
            menu: None,
            start: Start::default(),
            at_start: false,
            dialog: None,
            taking: None,
            asking: None,
            next: None,
            export: None,
            outside: Vec::new(),
            close_wanted: false,
            focus: None,
            said: String::new(),
            works: Works::default(),
            slow: Slow::default(),
            finder: None,
            keeping: None,
            left: Vec::new(),
            ctx: Context::default(),
        }
    }

    /// An editor with its start view before an empty plan.
    pub fn at_start(start: Start) -> Self {
        Self { at_start: true, start, ..Self::new(empty_plan(), OnDisk::Yes) }
    }

    /// The same editor with its longer work done at this place; the window of `ctx` is woken by it.
    #[must_use]
    pub fn working(self, place: WorkPlace, ctx: &Context) -> Self {
        Self { works: Works::new(place), ctx: ctx.clone(), ..self }
    }

    /// The open document.
    pub fn document(&self) -> &Document {
        &self.document
    }

    /// What is selected.
    pub fn selection(&self) -> &Selection {
        &self.selection
    }

    /// The state shown.
    pub fn state(&self) -> usize {
        self.state
    }

    /// The preview, while one lasts.
    pub fn preview(&self) -> Option<&Preview> {
        self.preview.as_ref()
    }

    /// The question or message over the window.
    pub fn dialog(&self) -> Option<&Dialog> {
        self.dialog.as_ref()
    }

    /// The menu of a thing that is open.
    pub fn menu(&self) -> Option<&Menu> {
        self.menu.as_ref()
    }

    /// What only the window around it can do, since the last time this was asked.
    pub fn take_outside(&mut self) -> Vec<Outside> {
        std::mem::take(&mut self.outside)
    }

    /// What the window is to be called: the program, the file, and `*` while changes are not saved.
    pub fn window_title(&self) -> String {
        if self.at_start {
            return "Longstow".to_owned();
        }
        let mark = if self.document.is_touched() { "*" } else { "" };
        let name = match &self.document.path {
            Some(_) => self.document.file_name(),
            None => self.document.plan().title.clone(),
        };
        format!("Longstow - {name}{mark}")
    }

    /// The window is asked to close; gives an [`Outside::CloseWindow`] once nothing can be lost.
    pub fn close_requested(&mut self) {
        // A field that is typed into enters what it has first, in the next frame; asked twice, nobody waits for that.
        self.close_wanted = self.ctx.text_edit_focused() && !self.close_wanted;
        if self.close_wanted {
            self.ctx.request_repaint();
        } else {
            self.after_saving(Next::Close);
        }
    }

    /// Does what was asked for from outside, such as a file dropped on the window.
    pub fn ask(&mut self, request: Request) {
        self.grant(request);
    }

    /// What is kept between sessions beside the preferences: sizes of panes, exercises done.
    pub(super) fn settings(&self) -> Vec<(String, String)> {
        let mut settings = self.panes.settings();
        settings.extend(self.panels.views.settings());
        settings
    }

    /// Takes up what a session before kept.
    pub(super) fn take_up_settings(&mut self, settings: &[(String, String)]) {
        self.panes = Panes::of_settings(settings);
        self.panels.views.take_up_settings(settings);
    }

    /// Shows another document from its beginning.
    pub(super) fn show_document(&mut self, document: Document) {
        self.selection = first_selection(&document);
        self.document = document;
        self.state = 0;
        self.judged = Judged::default();
        self.preview = None;
        self.before = None;
        self.canvas = Canvas::default();
        self.at_start = false;
        self.menu = None;
        self.dialog = None;
        self.taking = None;
        self.next = None;
        self.said.clear();
        self.forget_settling();
    }

    /// Puts a sentence into the status line.
    pub(super) fn say(&mut self, words: impl Into<String>) {
        self.said = words.into();
    }

    /// Draws everything and does what was asked for.
    pub fn ui(&mut self, ui: &mut Ui) {
        let installed = egui::Id::unique("longstow theme installed");
        if !ui.data(|data| data.get_temp::<bool>(installed).unwrap_or(false)) {
            // Fonts count from the next frame on; glyphs that this one lacks must not be asked for.
            Theme::install(ui.ctx());
            ui.data_mut(|data| data.insert_temp(installed, true));
            ui.ctx().request_repaint();
            return;
        }
        self.slow_frame(ui);
        self.safekeep();
        self.canvas.take_keys(ui.ctx());
        let mut requests = Vec::new();
        let pressed =
            if self.is_free() { commands::pressed(ui.ctx(), Press::WithModifier) } else { Vec::new() };
        if self.close_wanted || !pressed.is_empty() {
            fields::enter_what_is_typed(ui.ctx());
        }
        let theme = Theme::of(ui);
        // Panels that end between two pixels of a scaled window leave a gap; what shows through it is no black line.
        ui.painter().rect_filled(ui.ctx().content_rect(), 0.0, theme.color(Role::Panel));
        if self.at_start && self.slow.is_opening() {
            CentralPanel::no_frame().frame(Frame::new().fill(theme.color(Role::Canvas))).show(ui, |_| {});
        } else if self.at_start {
            let frame = Frame::new().fill(theme.color(Role::Canvas)).inner_margin(12);
            CentralPanel::no_frame().frame(frame).show(ui, |ui| start_ui(ui, &self.start, &mut requests));
        } else {
            self.plan_ui(ui, &theme, &mut requests);
        }
        if self.is_free() && !self.at_start {
            let pressed = commands::pressed(ui.ctx(), Press::Alone);
            requests.extend(pressed.into_iter().map(|command| self.by_key(command)));
        }
        // After what fields entered, so that a save has it.
        requests.extend(pressed.into_iter().map(|command| self.by_key(command)));
        fields::end_entering(ui.ctx());
        self.focus = None;
        self.taking_ui(ui);
        if let Some(mut dialog) = self.dialog.take() {
            match dialog_ui(ui, &mut dialog) {
                Some(answer) => self.answered(dialog, answer),
                None => self.dialog = Some(dialog),
            }
        }
        requests.extend(self.finder_ui(ui));
        focus::ring_ui(ui);
        if self.opening_ui(ui) {
            // Whatever was done to a plan that is about to be left would be lost.
            requests.clear();
        }
        self.end_typed_preview(&requests);
        for request in requests {
            if let Request::CopyText(words) = &request {
                ui.ctx().copy_text(words.clone());
            }
            if let Request::GoToField(name) = &request {
                fields::go_to_field(ui.ctx(), name);
            }
            self.grant(request);
        }
        if std::mem::take(&mut self.close_wanted) {
            self.after_saving(Next::Close);
        }
    }

    /// What a command that was given by its keys asks for: nothing of the open plan is changed unseen, while the middle
    /// of the window shows another one.
    fn by_key(&self, command: Command) -> Request {
        if self.panels.views.view == View::WhatIf && !self.at_start && command.changes_what_is_selected() {
            return Request::Say(format!(
                "\"{}\" changes the open plan, and the middle shows a scratch copy: go to the train side first",
                command.title()
            ));
        }
        Request::Command(command)
    }

    /// Whether nothing lies over the window and takes the keys.
    fn is_free(&self) -> bool {
        self.dialog.is_none() && self.finder.is_none() && self.taking.is_none()
    }

    fn finder_ui(&mut self, ui: &Ui) -> Option<Request> {
        match self.finder.as_mut()?.ui(ui) {
            Found::Open => None,
            Found::Left => {
                self.finder = None;
                None
            }
            Found::Chosen(request) => {
                self.finder = None;
                Some(*request)
            }
        }
    }

    pub(super) fn shown<'a>(&'a self, theme: &'a Theme, file_name: &'a str) -> Shown<'a> {
        let (settled, settled_assessment) = self.settled();
        let (figures, assessment) = match &self.preview {
            Some(preview) => (&preview.figures, &preview.assessment),
            None => (&**settled, &**settled_assessment),
        };
        Shown {
            plan: &figures.plan,
            figures,
            assessment,
            settled,
            settled_assessment,
            settling: self.settling(),
            judged: self.judged,
            document: &self.document,
            history: self.document.history(),
            file_name,
            focus: self.focus,
            state: self.state,
            selection: &self.selection,
            pairs: self.pairs,
            style: Style { units: figures.plan.units, decimal: self.decimal },
            preview: self.preview.as_ref(),
            theme,
            works: &self.works,
        }
    }
}

/// Nothing but the rack that the departing train uses most.
fn first_selection(document: &Document) -> Selection {
    Selection { rack: most_used_rack(document.figures()), ..Selection::default() }
}

/// The rack with the largest share of its rating in the first state; where ratings are missing or all are alike,
/// the one nearest the middle of the train, which most strings lie on.
fn most_used_rack(figures: &Figures) -> usize {
    let racks = &figures.consist.racks;
    let middle = racks.len() / 2;
    let use_of = |rack: usize| {
        let rating = racks.get(rack).and_then(|place| figures.plan.train.rack_types.get(place.rack_type));
        let rating = rating.and_then(|kind| kind.rack_rating_kg).filter(|rating| *rating > 0.0);
        let load = figures.worked.first().map_or(0.0, |state| state.rack_kg(rack));
        rating.map_or(0.0, |rating| load / rating)
    };
    let uses: Vec<f64> = (0..racks.len()).map(use_of).collect();
    let most = uses.iter().copied().fold(0.0, f64::max);
    // Shares that differ by less than a thousandth are alike to a reader.
    let alike = (0..racks.len()).filter(|rack| uses[*rack] > most - 1.0e-3);
    alike.min_by_key(|rack| rack.abs_diff(middle)).unwrap_or(middle)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gui::{Command, SAMPLES, Tab};
    use crate::model::StringMark;
    use egui::{Event, Key, Modifiers, vec2};
    use egui_kittest::Harness;
    use egui_kittest::kittest::Queryable as _;

    type Editor = Harness<'static, Workbench>;

    fn harness(workbench: Workbench, theme: egui::Theme) -> Editor {
        let builder = Harness::builder().with_size(vec2(1280.0, 800.0)).with_theme(theme);
        let mut editor = builder.build_ui_state(|ui, workbench: &mut Workbench| workbench.ui(ui), workbench);
        editor.run_steps(4);
        editor
    }

    fn sample(at: usize) -> Editor {
        let plan = SAMPLES[at].plan().unwrap();
        harness(Workbench::new(plan, OnDisk::Yes), egui::Theme::Light)
    }

    fn grant(editor: &mut Editor, request: Request) {
        editor.state_mut().grant(request);
        editor.run_steps(2);
    }

    fn press(editor: &mut Editor, modifiers: Modifiers, key: Key) {
        editor.key_press_modifiers(modifiers, key);
        editor.run_steps(2);
    }

    fn type_over(editor: &mut Editor, field: &str, words: &str) {
        editor.get_by_role_and_label(egui::Role::TextInput, field).focus();
        editor.run_steps(2);
        press(editor, Modifiers::COMMAND, Key::A);
        editor.event(Event::Text(words.to_owned()));
        press(editor, Modifiers::NONE, Key::Enter);
    }

    // The harness panics where a glyph is missing or an input has no name, so drawing everything is the test.
    #[test]
    fn every_view_is_drawn_with_all_glyphs_and_names() {
        // Steps on and pairs, US customary units, fails, missing ratings.
        for (at, theme) in
            [2, 3, 5, 7].into_iter().zip([egui::Theme::Light, egui::Theme::Dark].into_iter().cycle())
        {
            let mut editor = harness(Workbench::new(SAMPLES[at].plan().unwrap(), OnDisk::Yes), theme);
            for tab in Tab::FIGURES.into_iter().chain(Tab::SET_UP) {
                grant(&mut editor, Request::ShowTab(tab));
            }
            grant(&mut editor, Request::SelectVehicle(Some(0)));
            grant(&mut editor, Request::Command(Command::SelectAll));
            let mark = editor.state().document().plan().order[0].mark.clone();
            grant(&mut editor, Request::Select { strings: vec![mark], mode: crate::gui::SelectMode::Only });
            let findings = editor.state().document().assessment().findings.clone();
            for finding in findings.iter().take(12) {
                grant(&mut editor, Request::ShowFinding(crate::gui::FindingKey::of(finding)));
            }
            grant(&mut editor, Request::Command(Command::LastState));
            assert_eq!(editor.state().state(), editor.state().document().figures().states.len() - 1);
        }
    }

    #[test]
    fn the_start_view_and_an_empty_plan_are_drawn() {
        let mut editor = harness(Workbench::at_start(Start::default()), egui::Theme::Dark);
        editor.get_by_label("New plan").click();
        editor.run_steps(3);
        for tab in Tab::FIGURES.into_iter().chain(Tab::SET_UP) {
            grant(&mut editor, Request::ShowTab(tab));
        }
        for command in [Command::Shortcuts, Command::RackAfter, Command::StateAfter, Command::TakeOff] {
            grant(&mut editor, Request::Command(command));
        }
        assert!(editor.state().document().plan().order.is_empty());
    }

    #[test]
    fn a_string_is_placed_from_the_yard_list_and_taken_back_by_keys_alone() {
        let mut editor = sample(5);
        let placed = |editor: &Editor| editor.state().document().plan().placements.len();
        let before = placed(&editor);
        press(&mut editor, Modifiers::NONE, Key::F1);
        press(&mut editor, Modifiers::NONE, Key::Enter);
        assert_eq!(placed(&editor), before + 1);
        let string = editor.state().selection().only_string().unwrap().clone();
        assert_eq!(string, StringMark::new("R05").unwrap());
        press(&mut editor, Modifiers::NONE, Key::Delete);
        assert_eq!(placed(&editor), before);
        press(&mut editor, Modifiers::COMMAND, Key::Z);
        assert_eq!(placed(&editor), before + 1);
        press(&mut editor, Modifiers::COMMAND, Key::Z);
        assert_eq!(placed(&editor), before);
        press(&mut editor, Modifiers::COMMAND, Key::Y);
        assert_eq!(placed(&editor), before + 1);
    }

    #[test]
    fn a_typed_field_changes_the_plan_once_and_escape_or_nonsense_do_not() {
        let mut editor = sample(0);
        let mark = editor.state().document().plan().order[0].mark.clone();
        let length = |editor: &Editor| editor.state().document().plan().order[0].length.mm();
        grant(&mut editor, Request::Select { strings: vec![mark], mode: crate::gui::SelectMode::Only });
        type_over(&mut editor, "Length", "107,5 m");
        assert_eq!(length(&editor), 107_500);
        assert_eq!(editor.state().document().history().labels().len(), 2);
        type_over(&mut editor, "Length", "long");
        assert_eq!(length(&editor), 107_500);
        editor.get_by_role_and_label(egui::Role::TextInput, "Length").focus();
        editor.run_steps(2);
        editor.event(Event::Text("9".to_owned()));
        press(&mut editor, Modifiers::NONE, Key::Escape);
        assert_eq!(length(&editor), 107_500);
        type_over(&mut editor, "Length", "354 ft");
        assert_eq!(length(&editor), 107_899);
    }

    #[test]
    fn a_choice_and_a_menu_are_worked_by_keys_alone() {
        let mut editor = sample(0);
        let string = |editor: &Editor| editor.state().document().plan().order[0].clone();
        let mark = string(&editor).mark;
        grant(&mut editor, Request::Select { strings: vec![mark], mode: crate::gui::SelectMode::Only });
        assert_eq!(string(&editor).side, Some(crate::model::TrackSide::Left));
        editor.get_by_role_and_label(egui::Role::ComboBox, "Side of track").focus();
        editor.run_steps(2);
        press(&mut editor, Modifiers::NONE, Key::Space);
        press(&mut editor, Modifiers::NONE, Key::ArrowUp);
        press(&mut editor, Modifiers::NONE, Key::Space);
        assert_eq!(string(&editor).side, None, "the first choice is that it is not said");
        editor.get_by_label("Edit").focus();
        editor.run_steps(2);
        press(&mut editor, Modifiers::NONE, Key::Enter);
        press(&mut editor, Modifiers::NONE, Key::Tab);
        press(&mut editor, Modifiers::NONE, Key::Enter);
        assert_eq!(string(&editor).side, Some(crate::model::TrackSide::Left), "the first line undoes");
    }

    #[test]
    fn single_keys_type_where_text_is_typed_and_act_elsewhere() {
        let mut editor = sample(0);
        press(&mut editor, Modifiers::NONE, Key::CloseBracket);
        assert_eq!(editor.state().state(), 1);
        editor.get_by_label("Search findings").focus();
        editor.run_steps(2);
        press(&mut editor, Modifiers::NONE, Key::CloseBracket);
        assert_eq!(editor.state().state(), 1);
    }

    #[test]
    fn escape_leaves_a_question_without_doing_anything() {
        let mut editor = sample(0);
        grant(&mut editor, Request::Edit(crate::edit::Edit::SetTitle { title: "Changed".to_owned() }));
        press(&mut editor, Modifiers::COMMAND, Key::N);
        assert!(matches!(editor.state().dialog(), Some(Dialog::Unsaved { .. })));
        press(&mut editor, Modifiers::NONE, Key::Escape);
        assert_eq!(editor.state().dialog(), None);
        assert_eq!(editor.state().document().plan().title, "Changed");
    }
}
