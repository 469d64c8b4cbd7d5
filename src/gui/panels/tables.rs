//! The lower middle: figures in tables, and the forms that set up the plan, in tabs.

use super::table_bar::{save_button_ui, table_bar_ui};
use super::working::{How, Workings};
use super::{
    drops_form, figure_rows, limits_form, order_form, plan_form, route_form, sections_form, train_form,
    types_form,
};
use crate::checks::Subject;
use crate::gui::commands::Pane;
use crate::gui::{Request, Role, SavedTable, Shown, focus, menus};
use crate::intake::Kind;
use crate::working::Question;
use egui::{
    Align, Event, EventFilter, Key, Layout, Rect, Response, RichText, ScrollArea, Sense, Ui, WidgetInfo,
};
use egui_extras::{Column, TableBuilder, TableRow};

/// A tab of the lower middle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tab {
    /// Loads of vehicles.
    #[default]
    Vehicles,
    /// Loads of racks.
    Racks,
    /// Strings on their racks.
    Strings,
    /// How a figure came about.
    Working,
    /// The order.
    Order,
    /// Drops and their steps.
    Drops,
    /// The row of vehicles.
    Train,
    /// Vehicle and rack types.
    Types,
    /// Rail sections and steels.
    Sections,
    /// Limits.
    Limits,
    /// Route and what is asked.
    Route,
    /// Title and notes.
    Plan,
}

impl Tab {
    /// The tabs that show figures.
    pub const FIGURES: [Self; 4] = [Self::Vehicles, Self::Racks, Self::Strings, Self::Working];
    /// The tabs that set up the plan.
    pub const SET_UP: [Self; 8] = [
        Self::Order,
        Self::Drops,
        Self::Train,
        Self::Types,
        Self::Sections,
        Self::Limits,
        Self::Route,
        Self::Plan,
    ];

    /// What a reader calls it.
    pub fn title(self) -> &'static str {
        match self {
            Self::Vehicles => "Vehicles",
            Self::Racks => "Racks",
            Self::Strings => "Strings",
            Self::Working => "How?",
            Self::Order => "Order",
            Self::Drops => "Drops",
            Self::Train => "Train",
            Self::Types => "Types",
            Self::Sections => "Sections",
            Self::Limits => "Limits",
            Self::Route => "Route",
            Self::Plan => "Plan",
        }
    }

    /// What it is for, in a sentence.
    pub fn purpose(self) -> &'static str {
        match self {
            Self::Vehicles => "What each vehicle, bogie, axle and wheel carries in the state shown.",
            Self::Racks => "What each rack and tier carries in the state shown.",
            Self::Strings => "How each string lies on its racks: ends, overhangs, sag, bending.",
            Self::Working => "How a figure came about: formula, numbers put in, result, source.",
            Self::Order => "The strings that are wanted; each gets a place on the train from the yard list.",
            Self::Drops => "The sites where strings come off or on, and the order of their steps.",
            Self::Train => "The row of vehicles, from the front.",
            Self::Types => "Dimensions, tare and ratings of vehicles and racks.",
            Self::Sections => "Rail sections and steels: mass, stiffness, size, strength.",
            Self::Limits => "What must be kept, with the source of each and who accepted it.",
            Self::Route => "Line class, curves, speeds and gauge, and what is asked beyond the level model.",
            Self::Plan => "Title, notes and units.",
        }
    }

    /// Whether it is a table of figures, which needs no more than its part of the width.
    pub fn is_figures(self) -> bool {
        Self::FIGURES.contains(&self) && self != Self::Working
    }
}

/// The panel's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct Tables {
    /// The tab shown.
    pub(in crate::gui) tab: Tab,
    sort: Sort,
    /// The column that the keyboard is in.
    column: usize,
    workings: Workings,
    types: types_form::Chosen,
    sections: sections_form::Chosen,
    limits: limits_form::Adopter,
    drops: drops_form::Chosen,
}

/// Which column a table is sorted by, and which way.
#[derive(Clone, Copy, Debug, Default)]
struct Sort {
    column: Option<usize>,
    falling: bool,
}

/// How a number of a table is asked for its working.
const HOW_WORDS: &str = "Point at a number and press ? to see how it came about";

impl Tables {
    /// Shows a tab; a table that was sorted comes back in the order of the train.
    pub(in crate::gui) fn show(&mut self, tab: Tab) {
        if self.tab != tab {
            self.tab = tab;
            self.sort = Sort::default();
        }
    }

    /// Shows how something came about.
    pub(in crate::gui) fn show_working(&mut self, how: How) {
        self.workings.ask(how);
        self.tab = Tab::Working;
    }

    /// Shows the form of a thing that has one; other things change nothing.
    pub(in crate::gui) fn show_subject(&mut self, subject: Subject) {
        self.tab = match subject {
            Subject::VehicleType(at) => {
                self.types = types_form::Chosen::Vehicle(at);
                Tab::Types
            }
            Subject::RackType(at) => {
                self.types = types_form::Chosen::Rack(at);
                Tab::Types
            }
            Subject::Section(at) => {
                self.sections = sections_form::Chosen::Section(at);
                Tab::Sections
            }
            Subject::Limit(_) => Tab::Limits,
            Subject::Drop(at) | Subject::Step(at, _) => {
                self.drops = drops_form::Chosen::of(at);
                Tab::Drops
            }
            _ => self.tab,
        };
    }

    /// Shows the form of a vehicle type, by index.
    pub(in crate::gui) fn show_vehicle_type(&mut self, at: usize) {
        self.types = types_form::Chosen::Vehicle(at);
        self.tab = Tab::Types;
    }

    /// Shows the form of a rack type, by index.
    pub(in crate::gui) fn show_rack_type(&mut self, at: usize) {
        self.types = types_form::Chosen::Rack(at);
        self.tab = Tab::Types;
    }

    /// Draws the row of tabs.
    pub(in crate::gui) fn tabs_ui(&self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        ui.horizontal_wrapped(|ui| {
            for tab in Tab::FIGURES {
                self.tab_ui(ui, shown, tab, requests);
            }
            ui.separator();
            ui.weak("Set up");
            for tab in Tab::SET_UP {
                self.tab_ui(ui, shown, tab, requests);
            }
        });
    }

    /// Another tab is shown from the next frame on: the form of this one is yet to take what was typed into it.
    fn tab_ui(&self, ui: &mut Ui, shown: &Shown<'_>, tab: Tab, requests: &mut Vec<Request>) {
        let response = ui.selectable_label(self.tab == tab, tab.title()).on_hover_text(tab.purpose());
        if response.clicked() {
            requests.push(Request::ShowTab(tab));
        }
        if self.tab == tab && shown.focus == Some(Pane::Tables) {
            response.request_focus();
        }
    }

    /// Draws the tab shown into all of `ui`.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        match self.tab {
            Tab::Vehicles => self.table_ui(ui, shown, figure_rows::vehicles(shown), requests),
            Tab::Racks => self.table_ui(ui, shown, figure_rows::racks(shown), requests),
            Tab::Strings => self.table_ui(ui, shown, figure_rows::strings(shown), requests),
            Tab::Working => self.workings.ui(ui, shown, requests),
            Tab::Order => {
                let words = "Each line is a string; a changed field takes effect when it is left. Mass and hold \
                             stand in the details.";
                table_bar_ui(ui, Kind::Order, words, requests);
                ScrollArea::horizontal().id_salt("order").auto_shrink(false).show(ui, |ui| {
                    order_form::order_ui(ui, shown, requests);
                });
            }
            Tab::Types => {
                let width = (ui.available_width() * 0.42).min(520.0);
                let side =
                    egui::Panel::right("type picture").resizable(true).default_size(width).min_size(120.0);
                side.show(ui, |ui| self.types.picture_ui(ui, shown));
                egui::CentralPanel::no_frame().show(ui, |ui| {
                    ScrollArea::both().id_salt("types").auto_shrink(false).show(ui, |ui| {
                        self.types.ui(ui, shown, requests);
                    });
                });
            }
            tab => {
                if let Some((kind, words)) = pasted_into(tab) {
                    table_bar_ui(ui, kind, words, requests);
                }
                ScrollArea::both().id_salt(tab.title()).auto_shrink(false).show(ui, |ui| match tab {
                    Tab::Drops => self.drops.ui(ui, shown, requests),
                    Tab::Train => train_form::train_ui(ui, shown, requests),
                    Tab::Sections => self.sections.ui(ui, shown, requests),
                    Tab::Limits => self.limits.ui(ui, shown, requests),
                    Tab::Route => route_form::route_ui(ui, shown, requests),
                    _ => plan_form::plan_ui(ui, shown, requests),
                });
            }
        }
    }

    /// A table that sorts by its headers, copies as text parted by tabs, and selects what its rows stand for.
    fn table_ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        mut table: figure_rows::Table,
        requests: &mut Vec<Request>,
    ) {
        if let Some(column) = self.sort.column {
            table.sort(column);
            if self.sort.falling {
                table.rows.reverse();
            }
        }
        ui.horizontal(|ui| {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let copy = ui
                    .small_button("Copy")
                    .on_hover_text("Copy the table, to paste into a spreadsheet (Ctrl+C)");
                let by_keys = !ui.ctx().text_edit_focused()
                    && ui.input(|input| input.events.iter().any(|event| matches!(event, Event::Copy)));
                if copy.clicked() || by_keys {
                    ui.ctx().copy_text(table.as_text());
                    requests.push(Request::Say("The table is on the clipboard".to_owned()));
                }
                save_button_ui(ui, saved_as(self.tab), requests);
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                    let about = format!("{}. {HOW_WORDS}", table.about);
                    ui.add(egui::Label::new(RichText::new(about).weak()).truncate());
                });
            });
        });
        let (mut pointed, mut focused) = (None, None);
        ScrollArea::horizontal().auto_shrink(false).show(ui, |ui| {
            let (height, ui_width) = (ui.available_height(), ui.available_width());
            let mut builder = TableBuilder::new(ui)
                .id_salt((self.tab.title(), (ui_width / 80.0) as i32))
                .striped(true)
                .sense(Sense::click())
                .auto_shrink(false)
                .min_scrolled_height(40.0)
                .max_scroll_height(height)
                .cell_layout(Layout::right_to_left(Align::Center));
            let wanted: f32 = table.columns.iter().map(|column| column.width + 8.0).sum();
            let wider = (ui_width / wanted.max(1.0)).clamp(1.0, 1.6);
            for column in &table.columns {
                let width = column.width * wider;
                builder = builder.column(Column::initial(width).at_least(30.0).resizable(true).clip(true));
            }
            builder
                .header(34.0, |mut header| {
                    for (at, column) in table.columns.iter().enumerate() {
                        header.col(|ui| self.header_ui(ui, at, column));
                    }
                })
                .body(|body| {
                    body.rows(18.0, table.rows.len(), |mut row| {
                        if let Some(line) = table.rows.get(row.index()) {
                            let asked = self.row_ui(&mut row, shown, (&table, line), requests);
                            pointed = asked[0].or(pointed);
                            focused = asked[1].or(focused);
                        }
                    });
                });
        });
        let asks = !ui.ctx().text_edit_focused() && ui.input(|input| input.key_pressed(Key::Questionmark));
        // What has the keyboard is meant, unless the pointer was used last.
        let meant =
            if focus::is_worked_by_keys(ui.ctx()) { focused.or(pointed) } else { pointed.or(focused) };
        if let Some(question) = meant.filter(|_| asks) {
            requests.push(Request::ShowWorking(How::Figure(question)));
        }
    }

    /// Draws a row; gives the figure under the pointer, and the one that the keyboard is at.
    fn row_ui(
        &mut self,
        row: &mut TableRow<'_, '_>,
        shown: &Shown<'_>,
        (table, line): (&figure_rows::Table, &figure_rows::Row),
        requests: &mut Vec<Request>,
    ) -> [Option<Question>; 2] {
        row.set_selected(line.is_selected(shown));
        let mut pointed = None;
        let mut rects = Vec::with_capacity(line.cells.len());
        for cell in &line.cells {
            let (rect, response) = row.col(|ui| cell_ui(ui, shown, cell));
            rects.push(rect);
            pointed = cell.question.filter(|_| response.contains_pointer()).or(pointed);
        }
        let response = row.response();
        let is_selected = line.is_selected(shown);
        response.widget_info(|| {
            WidgetInfo::selected(egui::Role::ListItem, true, is_selected, line.name.as_str())
        });
        response.ctx.accesskit_node_builder(response.id, |node| {
            node.set_description(table.told(line));
            // A row knows its place one frame late; its cells know theirs.
            let place = rects.iter().copied().fold(Rect::NOTHING, Rect::union);
            let [x0, y0, x1, y1] = [place.left(), place.top(), place.right(), place.bottom()].map(f64::from);
            node.set_bounds(egui::accesskit::Rect { x0, y0, x1, y1 });
        });
        let by_key = response.has_focus() && response.ctx.input(|i| i.key_pressed(Key::Enter));
        if response.clicked() || by_key {
            let modifiers = response.ctx.input(|input| input.modifiers);
            requests.push(line.select(modifiers));
        }
        if response.double_clicked() {
            requests.extend(line.zoom());
        }
        menus::ask(&response, || line.menu(), requests);
        let focused =
            response.has_focus().then(|| self.along_row(&response, line, (&rects, shown))).flatten();
        [pointed, focused]
    }

    /// Left and right go along the figures of the row that has the keyboard; the one meant has a line under it.
    fn along_row(
        &mut self,
        response: &Response,
        line: &figure_rows::Row,
        (rects, shown): (&[Rect], &Shown<'_>),
    ) -> Option<Question> {
        let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
        response.ctx.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let asked: Vec<usize> =
            (0..line.cells.len()).filter(|at| line.cells[*at].question.is_some()).collect();
        let now = asked.iter().position(|at| *at >= self.column).unwrap_or(0);
        let [left, right] =
            [Key::ArrowLeft, Key::ArrowRight].map(|key| response.ctx.input(|i| i.key_pressed(key)));
        let to = (now + usize::from(right)).min(asked.len().saturating_sub(1));
        self.column = *asked.get(to.saturating_sub(usize::from(left)))?;
        let rect = rects.get(self.column)?;
        let painter = response.ctx.layer_painter(response.layer_id).with_clip_rect(response.interact_rect);
        let line_under = (1.5, shown.theme.color(Role::Accent));
        painter.hline(rect.x_range(), rect.bottom() - 1.5, line_under);
        line.cells[self.column].question
    }

    fn header_ui(&mut self, ui: &mut Ui, at: usize, column: &figure_rows::Column) {
        let arrow = match (self.sort.column == Some(at), self.sort.falling) {
            (false, _) => "",
            (true, false) => " ▲",
            (true, true) => " ▼",
        };
        let text = RichText::new(format!("{}{arrow}", column.title)).small().strong();
        let header = egui::Button::new(text).frame(false).wrap();
        let response = ui.add(header).on_hover_text(column.about);
        if response.clicked() {
            let falling = self.sort.column == Some(at) && !self.sort.falling;
            self.sort = Sort { column: Some(at), falling };
        }
    }
}

/// What rows pasted into a tab are, where it takes them in, and what its line says.
fn pasted_into(tab: Tab) -> Option<(Kind, &'static str)> {
    match tab {
        Tab::Drops => Some((Kind::Steps, "Steps can be pasted from a spreadsheet: drop, string, partner")),
        Tab::Train => {
            Some((Kind::Train, "Vehicles can be pasted from a spreadsheet: mark, type, turned, tare"))
        }
        Tab::Sections => {
            Some((Kind::Sections, "Sections can be pasted from a spreadsheet: name and figures"))
        }
        _ => None,
    }
}

/// The table that a tab of figures is saved as.
fn saved_as(tab: Tab) -> SavedTable {
    match tab {
        Tab::Racks => SavedTable::Racks,
        Tab::Strings => SavedTable::Strings,
        _ => SavedTable::Vehicles,
    }
}

/// Figures stand at the right of their column, words at the left.
fn cell_ui(ui: &mut Ui, shown: &Shown<'_>, cell: &figure_rows::Cell) {
    let mut text = RichText::new(&cell.text);
    if let Some(role) = cell.role {
        text = text.color(shown.theme.color(role)).strong();
    }
    let label = egui::Label::new(text).truncate().selectable(false);
    if cell.is_words() {
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| ui.add(label));
    } else {
        ui.add(label);
    }
}
