//! An exact place typed while strings are dragged: where an end comes, or how far it passes the rack next to it.

use crate::model::{Plan, TrainEnd};
use crate::statics::Consist;
use crate::units::{Length, Style, parse_length};
use egui::{Context, Event, Key};

/// What is being typed during a drag.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Typed {
    /// As typed so far; empty: the pointer decides.
    pub(super) text: String,
    /// What the number says.
    pub(super) measure: Measure,
}

/// What a typed number says of the string under the pointer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Measure {
    /// Which end.
    pub(super) end: TrainEnd,
    /// What its place is counted from.
    pub(super) from: From,
}

/// What the place of an end is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum From {
    /// The front of the train.
    TrainFront,
    /// The outermost rack under the string at this end, away from the string.
    LastRack,
}

impl Default for Measure {
    fn default() -> Self {
        Self { end: TrainEnd::Front, from: From::TrainFront }
    }
}

/// What the keys said about a drag in a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Said {
    /// Nothing that ends it.
    Nothing,
    /// Drop it here.
    Drop,
}

impl Typed {
    /// Takes what is typed in this frame; while a drag lasts no other key has a meaning but Escape.
    pub(super) fn take(&mut self, ctx: &Context) -> Said {
        let mut said = Said::Nothing;
        ctx.input_mut(|input| {
            input.events.retain(|event| match event {
                Event::Text(text) => {
                    self.letters(text);
                    false
                }
                Event::Key { key: Key::Backspace, pressed: true, .. } => {
                    self.text.pop();
                    false
                }
                Event::Key { key: Key::Enter, pressed: true, .. } => {
                    said = Said::Drop;
                    false
                }
                Event::Key { key: Key::Escape, .. } => true,
                Event::Key { pressed, .. } => !pressed,
                _ => true,
            });
        });
        said
    }

    /// R turns to the other end, O to the overhang and back; what can be part of a length is kept.
    fn letters(&mut self, text: &str) {
        for letter in text.chars() {
            match letter {
                'r' | 'R' => {
                    self.measure.end = match self.measure.end {
                        TrainEnd::Front => TrainEnd::Rear,
                        TrainEnd::Rear => TrainEnd::Front,
                    };
                }
                'o' | 'O' => {
                    self.measure.from = match self.measure.from {
                        From::TrainFront => From::LastRack,
                        From::LastRack => From::TrainFront,
                    };
                }
                ' ' if self.text.is_empty() => {}
                letter if letter.is_ascii_digit() || " .,-'\"/ftincm".contains(letter) => {
                    self.text.push(letter);
                }
                _ => {}
            }
        }
    }

    /// Where the front end of a string comes by what was typed; `near` is where the pointer has it.
    ///
    /// None while nothing is typed.
    ///
    /// # Errors
    /// Why the text is no length, or that no rack is under the string there.
    pub(super) fn front(
        &self,
        (plan, consist): (&Plan, &Consist),
        length: Length,
        near: Length,
    ) -> Option<Result<Length, String>> {
        if self.text.trim().is_empty() {
            return None;
        }
        let value = match parse_length(self.text.trim(), plan.units) {
            Ok(value) => value,
            Err(error) => return Some(Err(error.to_string())),
        };
        let racks = consist.racks.get(consist.racks_between(near, near + length)).unwrap_or_default();
        let front = match (self.measure.from, self.measure.end) {
            (From::TrainFront, TrainEnd::Front) => Ok(value),
            (From::TrainFront, TrainEnd::Rear) => Ok(value - length),
            (From::LastRack, TrainEnd::Front) => racks.first().map(|rack| rack.x - value).ok_or(()),
            (From::LastRack, TrainEnd::Rear) => racks.last().map(|rack| rack.x + value - length).ok_or(()),
        };
        Some(front.map_err(|()| "no rack is under it here".to_owned()))
    }

    /// What is typed, in words, such as `rear end past its last rack by 0.5`.
    pub(super) fn words(&self, style: Style) -> String {
        let end = match self.measure.end {
            TrainEnd::Front => "front end",
            TrainEnd::Rear => "rear end",
        };
        let from = match self.measure.from {
            From::TrainFront => "at",
            From::LastRack => "past its last rack by",
        };
        let text = if self.text.is_empty() { "..." } else { self.text.trim_end() };
        let unit = match self.text.chars().any(char::is_alphabetic) {
            true => "",
            false => crate::units::Quantity::length(Length::ZERO).unit_sign(style),
        };
        format!("{end} {from} {text} {unit}").trim_end().to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::empty_plan;

    fn front(typed: &str, near_mm: i64) -> Option<Result<i64, String>> {
        let plan = empty_plan(3);
        let consist = Consist::of(&plan);
        let mut now = Typed::default();
        now.letters(typed);
        now.front((&plan, &consist), Length::from_mm(20_000), Length::from_mm(near_mm))
            .map(|front| front.map(Length::mm))
    }

    // Racks stand at 3,317, 9,950 and 16,583 mm of each wagon of 19,900 mm; the string is 20 m long.
    #[test]
    fn a_typed_number_is_the_place_of_an_end_or_its_overhang() {
        assert_eq!(front("12.5", 0), Some(Ok(12_500)));
        assert_eq!(front("12 ft 6 in", 0), Some(Ok(3_810)));
        assert_eq!(front("r30", 0), Some(Ok(10_000)));
        assert_eq!(front("o0,5", 3_000), Some(Ok(2_817)), "0.5 m before W1 rack 1");
        assert_eq!(front("ro0.5", 1_000), Some(Ok(16_583 + 500 - 20_000)), "0.5 m behind W1 rack 3");
        assert_eq!(front("oo4", 0), Some(Ok(4_000)), "O twice is no O");
    }

    #[test]
    fn nothing_typed_says_nothing_and_nonsense_says_why() {
        assert_eq!(front("", 0), None);
        assert_eq!(front("r", 0), None);
        assert!(matches!(front("1.2.3.4", 0), Some(Err(_))));
        assert!(matches!(front("o1", 200_000), Some(Err(_))));
    }
}
