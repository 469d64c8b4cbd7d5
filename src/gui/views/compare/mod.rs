//! Two plans or two states beside each other: what moved, what it did to loads and verdicts, and where.

mod head;
mod list;

use crate::drawing::{Fate, Picture, fates, train_difference};
use crate::gui::canvas::{ComparedPicture, ComparedView};
use crate::gui::{Request, Role, Shown, Work};
use crate::model::{Plan, StringMark};
use crate::planning::difference::{ChangedThing, Difference, Worked, state_like};
use crate::report::{DifferenceGroup, NameStates, difference_groups};
use crate::statics::Scope;
use crate::units::Style;
use egui::{CentralPanel, Frame, Margin, Panel, Ui};
use list::List;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The view's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct Comparing {
    with: With,
    /// The plan from a file, with its name.
    other: Option<(Arc<Plan>, String)>,
    states: States,
    /// The state that the one shown is compared with.
    state: usize,
    /// What is being worked out, and for which question.
    work: Option<(Question, Work<Answer>)>,
    answer: Option<Told>,
    drawing: ComparedView,
    list: List,
}

/// What the plan is compared with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum With {
    /// As it was saved or read last.
    #[default]
    Saved,
    /// Another plan, from a file.
    Plan,
    /// Another state of it.
    State,
}

/// Which states of two plans are compared.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum States {
    /// Of each figure and finding the worst of all states.
    #[default]
    All,
    /// The state shown, and the one that is called the same in the other plan.
    Shown,
}

/// What is asked: two sides.
#[derive(Clone, Debug)]
struct Question {
    before: (Arc<Plan>, Scope),
    after: (Arc<Plan>, Scope),
    kind: Kind,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Plans,
    States,
}

impl Question {
    fn is(&self, other: &Self) -> bool {
        let same = |one: &(Arc<Plan>, Scope), two: &(Arc<Plan>, Scope)| {
            Arc::ptr_eq(&one.0, &two.0) && one.1 == two.1
        };
        self.kind == other.kind && same(&self.before, &other.before) && same(&self.after, &other.after)
    }

    /// Whether only the plan after or the states are other ones.
    fn is_like(&self, other: &Self) -> bool {
        self.kind == other.kind && (self.kind == Kind::States || Arc::ptr_eq(&self.before.0, &other.before.0))
    }

    fn answer(&self) -> Answer {
        let work_out = |(plan, scope): &(Arc<Plan>, Scope)| Worked::of(Arc::clone(plan), *scope);
        let (before, after) = (work_out(&self.before), work_out(&self.after));
        let difference = match self.kind {
            Kind::Plans => Difference::of_plans(before.side(), after.side()),
            Kind::States => Difference::of_states(before.side(), after.side()),
        };
        Answer { before, after, difference }
    }
}

/// Both sides worked out, and what differs.
#[derive(Debug)]
struct Answer {
    before: Worked,
    after: Worked,
    difference: Difference,
}

/// An answer in words and as a picture, and what they were made for.
#[derive(Debug)]
struct Told {
    question: Question,
    answer: Answer,
    style: Style,
    state: usize,
    groups: Vec<DifferenceGroup>,
    picture: Picture,
    strings: BTreeMap<StringMark, (Fate, String)>,
}

impl Comparing {
    /// Takes the plan that was chosen to compare with.
    pub(in crate::gui) fn compare_with(&mut self, plan: Plan, name: String) {
        self.other = Some((Arc::new(plan), name));
        self.with = With::Plan;
    }

    /// Draws the view into all of `ui`.
    pub(in crate::gui) fn ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        let question = self.question(shown);
        self.work_out(ui, shown, question.as_ref());
        let frame = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(8, 4));
        Panel::top("comparison head").frame(frame).show(ui, |ui| self.head_ui(ui, shown, requests));
        // While the answer to a question like it is on its way, the one before stays: nothing flickers.
        let (waits, works) = (question.as_ref(), self.work.is_some());
        let ground = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(6, 2));
        let told = self.answer.take_if(|told| {
            waits.is_some_and(|asked| asked.is(&told.question) || (works && asked.is_like(&told.question)))
        });
        let Some(told) = told else {
            let waits = waits.is_some();
            CentralPanel::no_frame()
                .frame(ground)
                .show(ui, |ui| head::nothing_ui(ui, shown, (self.with, waits)));
            return;
        };
        if told.answer.difference.is_empty() {
            CentralPanel::no_frame().frame(ground).show(ui, |ui| head::same_ui(ui, self.with));
        } else {
            self.told_ui(ui, shown, &told, requests);
        }
        self.answer = Some(told);
    }

    fn told_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>, told: &Told, requests: &mut Vec<Request>) {
        let height = (ui.available_height() * 0.4).clamp(120.0, 420.0);
        let panel = Panel::top("both loads").resizable(true).default_size(height).min_size(90.0);
        panel.frame(Frame::new()).show(ui, |ui| {
            let length = |worked: &Worked| worked.figures.consist.length.mm() as f64;
            let length_mm = length(&told.answer.before).max(length(&told.answer.after)).max(1_000.0);
            let drawn = ComparedPicture {
                picture: &told.picture,
                plan: &told.answer.after.figures.plan,
                length_mm,
                strings: &told.strings,
            };
            self.drawing.ui(ui, shown, drawn, requests);
        });
        let ground = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(6, 2));
        CentralPanel::no_frame().frame(ground).show(ui, |ui| {
            let (groups, answer) = (&told.groups, &told.answer);
            let zoom = self.list.ui(ui, shown, (groups, &answer.difference), requests);
            zoom.into_iter().for_each(|target| self.drawing.zoom_to(target));
        });
    }

    /// What is to be compared; none: there is nothing to compare with.
    fn question(&self, shown: &Shown<'_>) -> Option<Question> {
        let plan = Arc::clone(&shown.settled.plan);
        if self.with == With::State {
            let last = shown.settled.states.len().saturating_sub(1);
            let before = (Arc::clone(&plan), Scope::One(self.state.min(last)));
            return Some(Question { before, after: (plan, Scope::One(shown.state)), kind: Kind::States });
        }
        let other = match self.with {
            With::Plan => Arc::clone(&self.other.as_ref()?.0),
            _ => Arc::clone(shown.history.saved()?),
        };
        let (before, after) = match self.states {
            States::All => (Scope::All, Scope::All),
            States::Shown => (Scope::One(head::state_in(&other, shown)), Scope::One(shown.state)),
        };
        Some(Question { before: (other, before), after: (plan, after), kind: Kind::Plans })
    }

    /// Sees to it that the answer to `question` is there or on its way.
    fn work_out(&mut self, ui: &Ui, shown: &Shown<'_>, question: Option<&Question>) {
        let Some(question) = question else {
            self.work = None;
            return;
        };
        if let Some(told) = self.answer.as_mut().filter(|told| told.question.is(question)) {
            if (told.style, told.state) != (shown.style, shown.state) {
                told.tell(shown);
            }
            return;
        }
        let is_asked = self.work.as_ref().is_some_and(|(asked, _)| asked.is(question));
        if !is_asked {
            let asked = question.clone();
            let work = shown.works.start(ui.ctx(), "Comparing", move |_| asked.answer());
            self.work = Some((question.clone(), work));
        }
        let Some((asked, work)) = self.work.take() else { return };
        let mut slot = Some(work);
        match Work::take(&mut slot) {
            Some(answer) => self.answer = Some(Told::of(asked, answer, shown)),
            None => self.work = slot.map(|work| (asked, work)),
        }
    }
}

impl Told {
    fn of(question: Question, answer: Answer, shown: &Shown<'_>) -> Self {
        let picture = train_difference((&answer.before.figures, 0), (&answer.after.figures, 0), shown.style);
        let mut told = Self {
            question,
            answer,
            style: shown.style,
            state: shown.state,
            groups: Vec::new(),
            picture,
            strings: BTreeMap::new(),
        };
        told.tell(shown);
        told
    }

    /// Makes words and picture anew, in the style and for the state shown.
    fn tell(&mut self, shown: &Shown<'_>) {
        (self.style, self.state) = (shown.style, shown.state);
        let Answer { before, after, difference } = &self.answer;
        let name_states = match (self.question.before.1, self.question.after.1) {
            (Scope::All, Scope::All) => NameStates::Yes,
            _ => NameStates::No,
        };
        self.groups = difference_groups(difference, name_states, self.style);
        let at = match self.question.after.1 {
            Scope::One(state) => state,
            _ => shown.state,
        };
        let was = match self.question.before.1 {
            Scope::One(state) => state,
            _ => state_like(&after.figures, at, &before.figures),
        };
        let (one, two) = ((&before.figures, was), (&after.figures, at));
        self.picture = train_difference(one, two, self.style);
        let words = |mark: StringMark, fate: Fate| {
            let words = string_words(&self.groups, difference, &mark);
            (mark, (fate, words))
        };
        self.strings = fates(one, two).into_iter().map(|(mark, fate)| words(mark, fate)).collect();
    }
}

/// What differs of a string, a line each, after its name.
fn string_words(groups: &[DifferenceGroup], difference: &Difference, mark: &StringMark) -> String {
    let thing = ChangedThing::String(mark.clone());
    let rows = groups.iter().flat_map(|group| &group.rows).filter(|row| match row.of {
        crate::report::RowOf::Change(at) => {
            difference.changes.get(at).is_some_and(|change| change.thing == thing)
        }
        _ => false,
    });
    let lines = rows.map(|row| {
        let by = if row.by.is_empty() { String::new() } else { format!(" ({})", row.by) };
        format!("{}: {} before, {} now{by}", row.aspect, row.before, row.after)
    });
    [thing.name()].into_iter().chain(lines).collect::<Vec<_>>().join("\n")
}
