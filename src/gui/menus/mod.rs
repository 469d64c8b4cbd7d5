//! Menus of things: what can be done with a string, a pocket, a rack, a vehicle, a state or a finding.
//!
//! A menu is a list of lines made from what is shown, one function per kind of thing, so that every view offers the
//! same for the same thing. A view asks for one by [`asks`], on a right click or on the keyboard's menu key.

mod finding;
mod open;
mod places;
mod state;
mod string;
mod vehicle;

pub use open::Menu;
pub(super) use open::Stays;

use super::canvas::Pocket;
use super::{Command, FindingKey, Request, Shown};
use crate::checks::Subject;
use crate::model::StringMark;
use egui::{Key, Modifiers, Pos2, Response};

/// What a menu is about.
#[derive(Clone, Debug, PartialEq)]
pub enum MenuOf {
    /// A string, on the train or in the yard list, and all that are selected with it.
    String(StringMark),
    /// A pocket of a rack of the consist.
    Pocket {
        /// The rack.
        rack: usize,
        /// The pocket.
        pocket: Pocket,
    },
    /// A rack of the consist.
    Rack(usize),
    /// A vehicle of the train.
    Vehicle(usize),
    /// A state: departure, or what a step or a drop leaves.
    State(usize),
    /// A finding.
    Finding(FindingKey),
    /// The train as a whole.
    Train,
}

/// A line of a menu.
#[derive(Clone, Debug, PartialEq)]
pub enum Line {
    /// What the lines below are about.
    Title(String),
    /// A rule between groups.
    Gap,
    /// Something to do.
    Item(Item),
    /// A menu of its own.
    More {
        /// What it is called.
        words: String,
        /// Its lines.
        lines: Vec<Line>,
    },
    /// A menu of the figures of a thing, each of which can be asked how it came about.
    How(Subject),
}

/// Something to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it is called.
    pub words: String,
    /// The keys that do the same, or nothing.
    pub keys: String,
    /// What it asks for, or why it cannot be done now.
    pub wish: Result<Vec<Request>, String>,
}

impl Item {
    /// Something that can be done now.
    pub fn new(words: impl Into<String>, request: Request) -> Self {
        Self { words: words.into(), keys: String::new(), wish: Ok(vec![request]) }
    }

    /// Something that is done by a change, or why there is none.
    pub fn change(words: impl Into<String>, change: Result<super::canvas::Change, String>) -> Self {
        let wish = change.map(|change| vec![change.request()]);
        Self { words: words.into(), keys: String::new(), wish }
    }

    /// A command under its own name, with its keys.
    pub fn command(command: Command) -> Self {
        let keys = command.keys().into_iter().next().unwrap_or_default();
        Self { keys, ..Self::new(command.title(), Request::Command(command)) }
    }

    /// The same with the keys that do it.
    #[must_use]
    pub fn by(self, keys: &str) -> Self {
        Self { keys: keys.to_owned(), ..self }
    }

    /// The same under another name.
    #[must_use]
    pub fn called(self, words: impl Into<String>) -> Self {
        Self { words: words.into(), ..self }
    }

    /// The same, and this besides.
    #[must_use]
    pub fn and(mut self, request: Request) -> Self {
        if let Ok(requests) = &mut self.wish {
            requests.push(request);
        }
        self
    }

    /// The same, unless something speaks against it.
    #[must_use]
    pub fn unless(self, why_not: Option<String>) -> Self {
        match why_not {
            Some(why) => Self { wish: Err(why), ..self },
            None => self,
        }
    }
}

impl From<Item> for Line {
    fn from(item: Item) -> Self {
        Self::Item(item)
    }
}

/// The lines of the menu of a thing; none where it is gone.
pub fn lines(shown: &Shown<'_>, of: &MenuOf) -> Vec<Line> {
    match of {
        MenuOf::String(mark) => string::lines(shown, mark),
        MenuOf::Pocket { rack, pocket } => places::pocket_lines(shown, *rack, *pocket),
        MenuOf::Rack(rack) => places::rack_lines(shown, *rack),
        MenuOf::Vehicle(vehicle) => vehicle::lines(shown, *vehicle),
        MenuOf::State(state) => state::lines(shown, *state),
        MenuOf::Finding(key) => finding::lines(shown, key),
        MenuOf::Train => vehicle::train_lines(shown),
    }
}

/// Where the menu of what `response` stands for is asked for in this frame: by a right click there, or by the menu key
/// or Shift+F10 while it has the keyboard; none where it is not.
pub fn asks(response: &Response) -> Option<Pos2> {
    if response.secondary_clicked() {
        return Some(response.interact_pointer_pos().unwrap_or(response.rect.center()));
    }
    let by_keys = response.has_focus()
        && response.ctx.input_mut(|input| {
            input.consume_key(Modifiers::NONE, Key::Menu) || input.consume_key(Modifiers::SHIFT, Key::F10)
        });
    by_keys.then(|| response.rect.intersect(response.ctx.content_rect()).center())
}

/// Asks for the menu of `of` where [`asks`] says so.
pub fn ask(response: &Response, of: impl FnOnce() -> MenuOf, requests: &mut Vec<Request>) {
    if let Some(at) = asks(response) {
        requests.push(Request::OpenMenu { of: of(), at });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Edit, OnDisk};
    use crate::gui::{SAMPLES, Theme, Workbench};

    fn items(lines: &[Line]) -> Vec<Item> {
        lines
            .iter()
            .flat_map(|line| match line {
                Line::Item(item) => vec![item.clone()],
                Line::More { words, lines } => {
                    assert!(!words.is_empty());
                    items(lines)
                }
                Line::Title(_) | Line::Gap | Line::How(_) => Vec::new(),
            })
            .collect()
    }

    fn edit(request: &Request) -> Option<&Edit> {
        match request {
            Request::Edit(edit) => Some(edit),
            Request::Change(change) => Some(&change.edit),
            _ => None,
        }
    }

    /// The menus of everything that a sample shows.
    fn menus(shown: &Shown<'_>) -> Vec<MenuOf> {
        let plan = &shown.settled.plan;
        let strings = plan.order.iter().map(|string| MenuOf::String(string.mark.clone()));
        let vehicles = (0..plan.train.vehicles.len()).map(MenuOf::Vehicle);
        let racks = [0, shown.settled.consist.racks.len() - 1];
        let pockets = racks
            .into_iter()
            .flat_map(|rack| [1, 2].map(|lane| MenuOf::Pocket { rack, pocket: Pocket { tier: 1, lane } }));
        let states = (0..shown.settled.states.len()).map(MenuOf::State);
        let findings = &shown.settled_assessment.findings;
        let findings = findings.iter().map(|finding| MenuOf::Finding(FindingKey::of(finding)));
        strings
            .chain(vehicles)
            .chain(racks.map(MenuOf::Rack))
            .chain(pockets)
            .chain(states)
            .chain(findings)
            .chain([MenuOf::Train])
            .collect()
    }

    // Steps on and pairs, one-sided with strings in the yard, missing ratings.
    #[test]
    fn all_that_menus_offer_can_be_done_and_what_cannot_says_why() {
        for at in [4, 5, 7] {
            let workbench = Workbench::new(SAMPLES[at].plan().unwrap(), OnDisk::Yes);
            let shown = workbench.shown(&Theme::LIGHT, "sample");
            let mut offered = 0;
            for of in menus(&shown) {
                let items = items(&lines(&shown, &of));
                assert!(items.len() > 1, "{of:?}");
                for item in items {
                    let requests = match &item.wish {
                        Ok(requests) => requests,
                        Err(why) => {
                            assert!(why.len() > 8, "{of:?}, {}: {why}", item.words);
                            continue;
                        }
                    };
                    for edit in requests.iter().filter_map(edit) {
                        let after = edit.apply(&shown.settled.plan);
                        let after = after.unwrap_or_else(|error| panic!("{of:?}, {}: {error}", item.words));
                        assert!(
                            after.plan != *shown.settled.plan.as_ref(),
                            "{of:?}, {} does nothing",
                            item.words
                        );
                        offered += 1;
                    }
                }
            }
            assert!(offered > 50, "{offered} edits in the menus of {}", SAMPLES[at].title);
        }
    }

    #[test]
    fn what_is_gone_has_no_menu() {
        let workbench = Workbench::new(SAMPLES[5].plan().unwrap(), OnDisk::Yes);
        let shown = workbench.shown(&Theme::LIGHT, "sample");
        let gone = [
            MenuOf::String(StringMark::new("nobody").unwrap()),
            MenuOf::Vehicle(99),
            MenuOf::Rack(999),
            MenuOf::Pocket { rack: 999, pocket: Pocket { tier: 1, lane: 1 } },
            MenuOf::State(999),
            MenuOf::Finding(FindingKey { check: "no-such-check", things: Vec::new() }),
        ];
        assert!(gone.iter().all(|of| lines(&shown, of).is_empty()));
    }
}
