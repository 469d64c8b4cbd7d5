//! The findings: what every check says, the worst first, each with its place and its figures.

use super::finding_details::Acceptor;
use super::findings_filter::{Filter, Listed};
use super::mark::{mark_ui, paint_mark, role_of};
use super::mends::Mender;
use crate::checks::{Comparison, Finding, Outcome, REGISTRY};
use crate::gui::commands::{Command, Pane};
use crate::gui::menus::{self, MenuOf};
use crate::gui::{FindingKey, Request, Role, Settling, Shown};
use egui::{Align2, FontId, Key, Rect, RichText, ScrollArea, Sense, Ui, WidgetInfo, pos2, vec2};

const ROW_POINTS: f32 = 38.0;
const HEADING_POINTS: f32 = 24.0;
/// More findings of one check than this are folded.
const MOST_ALIKE: usize = 4;

/// What the list lets through, and the form for accepting.
#[derive(Debug, Default)]
pub(in crate::gui) struct Findings {
    filter: Filter,
    /// The finding that was chosen in the frame before; another one is brought into view.
    seen: Option<FindingKey>,
    /// Checks with many like findings that are listed in full, by outcome.
    unfolded: Vec<(Outcome, &'static str)>,
    acceptor: Acceptor,
    mender: Mender,
}

enum Line<'f> {
    Heading(Outcome, usize),
    Finding(&'f Finding),
    /// So many more of the same check as the line before; whether they follow.
    Fold(&'f Finding, usize, bool),
}

impl Line<'_> {
    fn height(&self) -> f32 {
        match self {
            Self::Heading(..) | Self::Fold(..) => HEADING_POINTS,
            Self::Finding(_) => ROW_POINTS,
        }
    }
}

impl Findings {
    /// Leads the keyboard to what can be done about the finding shown.
    pub(in crate::gui) fn go_to_acceptance(&mut self) {
        self.acceptor.go_to();
    }

    /// Draws the panel.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        // While a mend is pointed at, the list stays that of the plan as it is: nothing may jump under the pointer.
        let calm = Shown {
            plan: &shown.settled.plan,
            figures: shown.settled,
            assessment: shown.settled_assessment,
            preview: None,
            ..*shown
        };
        let shown = if self.mender.is_previewing(shown) { &calm } else { shown };
        ui.horizontal(|ui| {
            ui.heading("Findings");
            ui.weak(match (shown.preview, shown.settling) {
                (Some(_), _) => "of the state shown, while you drag",
                (None, Settling::Done) => "over all states",
                (None, _) => "of the state shown",
            });
            steps_ui(ui, requests);
        });
        self.filter.ui(ui, shown);
        preview_ui(ui, shown);
        let chosen = shown.selection.finding.as_ref();
        let finding = chosen.and_then(|key| shown.assessment.findings.iter().find(|f| key.is_of(f)));
        if let Some(finding) = finding {
            let height = (ui.available_height() * 0.58).max(160.0);
            let frame = egui::Frame::new().inner_margin(egui::Margin { top: 6, ..Default::default() });
            let panel = egui::Panel::bottom(("finding details", (height / 60.0) as i32)).resizable(true);
            panel.default_size(height).min_size(80.0).frame(frame).show(ui, |ui| {
                ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                    self.acceptor.details_ui(ui, shown, (finding, &mut self.mender), requests);
                });
            });
        }
        self.mender.end_frame(requests);
        egui::CentralPanel::no_frame().show(ui, |ui| self.list_ui(ui, shown, requests));
    }

    /// Ends what pointing at it began, while it is not drawn.
    pub(in crate::gui) fn put_away(&mut self, requests: &mut Vec<Request>) {
        self.mender.end_frame(requests);
    }

    /// The finding beside the one chosen in what is listed, by a step forward or back.
    pub(in crate::gui) fn beside(
        &self,
        listed: &Listed<'_>,
        chosen: Option<&FindingKey>,
        step: isize,
    ) -> Option<FindingKey> {
        self.filter.beside(listed, chosen, step)
    }

    fn lines<'f>(&self, shown: &Shown<'f>) -> Vec<Line<'f>> {
        let mut lines = Vec::new();
        let listed = self.filter.list(&Listed::of(shown));
        for of_it in listed.chunk_by(|a, b| a.outcome == b.outcome) {
            lines.push(Line::Heading(of_it[0].outcome, of_it.len()));
            self.push_by_check(&mut lines, of_it);
        }
        lines
    }

    /// Of many findings of one check in a row, the first and a line that unfolds the rest.
    fn push_by_check<'f>(&self, lines: &mut Vec<Line<'f>>, of_it: &[&'f Finding]) {
        for run in of_it.chunk_by(|a, b| a.check.id == b.check.id) {
            if run.len() <= MOST_ALIKE || self.filter.is_searching() {
                lines.extend(run.iter().copied().map(Line::Finding));
                continue;
            }
            let unfolded = self.unfolded.contains(&(run[0].outcome, run[0].check.id));
            lines.push(Line::Finding(run[0]));
            lines.push(Line::Fold(run[0], run.len() - 1, unfolded));
            if unfolded {
                lines.extend(run[1..].iter().copied().map(Line::Finding));
            }
        }
    }

    /// Unfolds the rest of many like findings where the one that was just chosen is among them.
    fn unfold_to(&mut self, shown: &Shown<'_>, key: &FindingKey) {
        let listed = self.filter.list(&Listed::of(shown));
        let Some(chosen) = listed.iter().find(|finding| key.is_of(finding)) else { return };
        let kind = (chosen.outcome, chosen.check.id);
        let first = listed.iter().find(|finding| (finding.outcome, finding.check.id) == kind);
        if first.is_some_and(|first| !key.is_of(first)) && !self.unfolded.contains(&kind) {
            self.unfolded.push(kind);
        }
    }

    fn list_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let newly_chosen = shown.selection.finding.clone().filter(|key| self.seen.as_ref() != Some(key));
        self.seen.clone_from(&shown.selection.finding);
        if let Some(key) = &newly_chosen {
            self.unfold_to(shown, key);
        }
        let lines = self.lines(shown);
        if lines.is_empty() {
            ui.weak("No finding fits the search and the choices above.");
            if ui.button("List all findings").clicked() {
                self.filter.clear();
            }
        }
        let total: f32 = lines.iter().map(Line::height).sum();
        let mut focus = shown.focus == Some(Pane::Findings);
        let mut toggled = None;
        ScrollArea::vertical().auto_shrink(false).show_viewport(ui, |ui, view| {
            ui.set_height(total);
            let top = ui.max_rect().top();
            let mut y = 0.0;
            for line in &lines {
                let height = line.height();
                let row = Rect::from_min_size(
                    pos2(ui.max_rect().left(), top + y),
                    vec2(ui.max_rect().width(), height),
                );
                let is_new = |finding: &Finding| newly_chosen.as_ref().is_some_and(|key| key.is_of(finding));
                if matches!(line, Line::Finding(finding) if is_new(finding)) {
                    ui.scroll_to_rect(row, None);
                }
                // A little more than what is seen, so that the keyboard reaches the next row.
                if y + height >= view.min.y - ROW_POINTS && y <= view.max.y + ROW_POINTS {
                    match line {
                        Line::Heading(outcome, count) => heading_ui(ui, row, *outcome, *count),
                        Line::Finding(finding) => {
                            let focus = std::mem::take(&mut focus);
                            let key = row_ui(ui, row, shown, (finding, focus), requests);
                            // Enter once more goes on to what can be done about it.
                            if key.is_some() && key == shown.selection.finding && by_key(ui) {
                                self.acceptor.go_to();
                            }
                            requests.extend(key.map(Request::ShowFinding));
                        }
                        Line::Fold(first, more, unfolded) => {
                            if fold_ui(ui, row, first, (*more, *unfolded)) {
                                toggled = Some((first.outcome, first.check.id));
                            }
                        }
                    }
                }
                y += height;
            }
        });
        if let Some(fold) = toggled {
            match self.unfolded.iter().position(|other| *other == fold) {
                Some(at) => drop(self.unfolded.remove(at)),
                None => self.unfolded.push(fold),
            }
        }
    }
}

fn heading_ui(ui: &mut Ui, rect: Rect, outcome: Outcome, count: usize) {
    let theme = crate::gui::Theme::of(ui);
    let mut word = outcome.word().to_owned();
    if let Some(first) = word.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    let painter = ui.painter_at(rect);
    paint_mark(&painter, pos2(rect.left() + 9.0, rect.center().y), outcome, theme);
    painter.text(
        pos2(rect.left() + 22.0, rect.center().y),
        Align2::LEFT_CENTER,
        format!("{word} ({count})"),
        FontId::proportional(13.0),
        theme.color(role_of(outcome)),
    );
    painter.hline(rect.x_range(), rect.bottom() - 1.0, (1.0, theme.color(Role::Line)));
}

/// Buttons that go to the finding before and after.
fn steps_ui(ui: &mut Ui, requests: &mut Vec<Request>) {
    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
        for (sign, command) in [("▶", Command::FindingAfter), ("◀", Command::FindingBefore)] {
            let button = ui.add(egui::Button::new(sign)).accessible_name(command.title());
            let hover = format!("{} ( {} )", command.title(), command.keys().join(", "));
            if button.on_hover_text(hover).clicked() {
                requests.push(Request::Command(command));
            }
        }
    });
}

/// The line that unfolds or folds the rest of many like findings; whether it was pressed.
fn fold_ui(ui: &mut Ui, rect: Rect, first: &Finding, state: (usize, bool)) -> bool {
    let (more, unfolded) = state;
    let place = Rect::from_min_max(rect.min + vec2(18.0, 1.0), rect.max - vec2(0.0, 3.0));
    let words =
        if unfolded { format!("▼ {more} more like this") } else { format!("▶ {more} more like this") };
    let mut child = ui.new_child(
        egui::UiBuilder::new().max_rect(place).layout(egui::Layout::left_to_right(egui::Align::Center)),
    );
    child
        .push_id((first.outcome.word(), first.check.id), |ui| {
            let button = ui.add(egui::Button::new(RichText::new(words).small()).frame(false));
            let name = format!("{more} more {}: {}", first.outcome.word(), first.check.title);
            button.accessible_name(name).clicked()
        })
        .inner
}

/// One finding in two lines; gives its key when it is chosen.
fn row_ui(
    ui: &mut Ui,
    rect: Rect,
    shown: &Shown<'_>,
    (finding, focus): (&Finding, bool),
    requests: &mut Vec<Request>,
) -> Option<FindingKey> {
    let key = FindingKey::of(finding);
    let id = ui.scope_id().with(("finding", finding.outcome.word(), key.check, &key.things));
    let response = ui.interact(rect, id, Sense::click());
    let place = finding.subject.place(shown.figures);
    let what = finding.what.show(shown.style);
    response.widget_info(|| {
        let words = format!("{}: {}, {place}", finding.outcome.word(), finding.check.title);
        WidgetInfo::selected(egui::Role::Button, true, shown.selection.finding.as_ref() == Some(&key), words)
    });
    if focus {
        response.request_focus();
    }
    let theme = shown.theme;
    let painter = ui.painter_at(rect);
    if shown.selection.finding.as_ref() == Some(&key) {
        painter.rect_filled(rect, 0.0, theme.color(Role::Selected));
    } else if response.hovered() {
        painter.rect_filled(rect, 0.0, theme.color(Role::Faint));
    }
    if response.has_focus() {
        painter.rect_stroke(
            rect.shrink(1.0),
            0.0,
            (1.0, theme.color(Role::Accent)),
            egui::StrokeKind::Inside,
        );
    }
    paint_mark(&painter, pos2(rect.left() + 9.0, rect.top() + 11.0), finding.outcome, *theme);
    let right = use_ui(&painter, rect, shown, finding);
    let accepted = if finding.accepted.is_some() { " (accepted)" } else { "" };
    let first = format!("{}{accepted}", finding.check.title);
    let width = right - rect.left() - 26.0;
    text_line(ui, &painter, pos2(rect.left() + 22.0, rect.top() + 3.0), (&first, width), Role::Text);
    let width = rect.width() - 26.0;
    text_line(ui, &painter, pos2(rect.left() + 22.0, rect.top() + 20.0), (&what, width), Role::WeakText);
    menus::ask(&response, || MenuOf::Finding(key.clone()), requests);
    let response = response.on_hover_text(what);
    (response.clicked() || (response.has_focus() && by_key(ui))).then_some(key)
}

fn by_key(ui: &Ui) -> bool {
    ui.input(|input| input.key_pressed(Key::Enter) || input.key_pressed(Key::Space))
}

/// Paints one line of text that ends with dots where it is too long.
fn text_line(ui: &Ui, painter: &egui::Painter, at: egui::Pos2, words: (&str, f32), role: Role) {
    let color = crate::gui::Theme::of(ui).color(role);
    let mut job =
        egui::text::LayoutJob::simple_singleline(words.0.to_owned(), FontId::proportional(12.5), color);
    job.wrap = egui::text::TextWrapping::truncate_at_width(words.1.max(10.0));
    painter.galley(at, ui.fonts_mut(|fonts| fonts.layout_job(job)), color);
}

/// Paints the share of the limit that is used; gives the left edge of what it painted.
fn use_ui(painter: &egui::Painter, rect: Rect, shown: &Shown<'_>, finding: &Finding) -> f32 {
    let Some(comparison) = finding.comparison else { return rect.right() - 4.0 };
    let color = shown.theme.color(role_of(finding.outcome));
    let at = pos2(rect.right() - 6.0, rect.top() + 11.0);
    let words = use_words(comparison);
    painter.text(at, Align2::RIGHT_CENTER, words, FontId::proportional(12.0), color).left() - 6.0
}

/// How much of its limit a comparison uses, in words.
pub(in crate::gui) fn use_words(comparison: Comparison) -> String {
    let share = comparison.utilisation() * 100.0;
    if share < 1000.0 { format!("{share:.0} %") } else { "far over".to_owned() }
}

/// What a reader calls the check with this id.
pub(in crate::gui) fn title_of(check: &str) -> &str {
    REGISTRY.iter().find(|known| known.id == check).map_or(check, |known| known.title)
}

/// While a drag lasts: what it would break and what it would mend.
fn preview_ui(ui: &mut Ui, shown: &Shown<'_>) {
    let Some(preview) = shown.preview else { return };
    let frame = egui::Frame::group(ui.style()).fill(shown.theme.color(Role::Faint));
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        if let Some(refused) = &preview.refused {
            ui.colored_label(shown.theme.color(Role::Fail), format!("Not possible: {refused}"));
            return;
        }
        if preview.newly_broken.is_empty() && preview.mended.is_empty() {
            ui.label("Breaks nothing new and mends nothing.");
        }
        for (words, keys, outcome) in
            [("breaks", &preview.newly_broken, Outcome::Fail), ("mends", &preview.mended, Outcome::Pass)]
        {
            for key in keys.iter().take(4) {
                ui.horizontal(|ui| {
                    mark_ui(ui, outcome);
                    let line = format!("{words} {}: {}", title_of(key.check), key.things.join(", "));
                    ui.add(egui::Label::new(RichText::new(line)).truncate());
                });
            }
            if keys.len() > 4 {
                ui.weak(format!("and {words} {} more", keys.len() - 4));
            }
        }
    });
}
