//! Values that can be told of in a change, and the teller that notes those that differ.

use super::{Change, ChangeTopic, ChangedThing};
use crate::model::{
    DropName, Hold, RackRef, RackTypeName, SectionName, Source, SteelName, StringMark, TrainEnd,
    VehicleTypeName,
};
use crate::text;
use crate::units::{Length, Piece, Quantity, QuantityKind, Text};

/// A value that a change can show.
pub(super) trait Told: PartialEq {
    /// How a reader sees it.
    fn text(&self) -> Text;
    /// The number that it is, where it is one.
    fn number(&self) -> Option<Quantity> {
        None
    }
}

impl<T: Told + ?Sized> Told for &T {
    fn text(&self) -> Text {
        (**self).text()
    }
    fn number(&self) -> Option<Quantity> {
        (**self).number()
    }
}

impl<T: Told> Told for Option<T> {
    fn text(&self) -> Text {
        self.as_ref().map_or_else(|| text!["not entered"], Told::text)
    }
    fn number(&self) -> Option<Quantity> {
        self.as_ref().and_then(Told::number)
    }
}

impl Told for Quantity {
    fn text(&self) -> Text {
        text![*self]
    }
    fn number(&self) -> Option<Quantity> {
        Some(*self)
    }
}

impl Told for Length {
    fn text(&self) -> Text {
        text![Quantity::length(*self)]
    }
    fn number(&self) -> Option<Quantity> {
        Some(Quantity::length(*self))
    }
}

impl Told for Text {
    fn text(&self) -> Text {
        self.clone()
    }
}

impl Told for str {
    fn text(&self) -> Text {
        if self.is_empty() { text!["nothing"] } else { text![self] }
    }
}

impl Told for String {
    fn text(&self) -> Text {
        self.as_str().text()
    }
}

impl Told for bool {
    fn text(&self) -> Text {
        text![if *self { "yes" } else { "no" }]
    }
}

impl Told for Source {
    fn text(&self) -> Text {
        text![self.text.as_str(), " (", self.sure.words(), ")"]
    }
}

impl Told for RackRef {
    fn text(&self) -> Text {
        text![format!("{} rack {}", self.vehicle, self.rack)]
    }
}

impl Told for TrainEnd {
    fn text(&self) -> Text {
        text![match self {
            Self::Front => "front",
            Self::Rear => "rear",
        }]
    }
}

macro_rules! names_told {
    ($($name:ident),*) => {$(
        impl Told for $name {
            fn text(&self) -> Text {
                text![self.as_str()]
            }
        }
    )*};
}

names_told!(DropName, RackTypeName, SectionName, SteelName, StringMark, VehicleTypeName);

/// Notes what differs of one thing.
pub(super) struct Teller<'c> {
    changes: &'c mut Vec<Change>,
    topic: ChangeTopic,
    thing: ChangedThing,
}

impl<'c> Teller<'c> {
    pub(super) fn new(changes: &'c mut Vec<Change>, topic: ChangeTopic, thing: ChangedThing) -> Self {
        Self { changes, topic, thing }
    }

    /// Notes `aspect` where it differs.
    pub(super) fn tell<T: Told>(&mut self, aspect: impl Into<String>, before: T, after: T) {
        if before == after {
            return;
        }
        let numbers = before.number().zip(after.number());
        let by = numbers.map(|(before, after)| Quantity { value: after.value - before.value, ..after });
        self.push(aspect.into(), (Some(before.text()), Some(after.text())), by);
    }

    /// Notes that something came or went.
    pub(super) fn came_or_went(&mut self, aspect: &str, before: Option<Text>, after: Option<Text>) {
        if before != after {
            self.push(aspect.to_owned(), (before, after), None);
        }
    }

    /// Notes what differs in a list whose items are known by their number, such as `tier 2`.
    pub(super) fn list<T: PartialEq>(
        &mut self,
        noun: &str,
        (before, after): (&[T], &[T]),
        words: impl Fn(&T) -> Text,
    ) {
        for at in 0..before.len().max(after.len()) {
            let (one, two) = (before.get(at), after.get(at));
            if one != two {
                self.push(format!("{noun} {}", at + 1), (one.map(&words), two.map(&words)), None);
            }
        }
    }

    fn push(&mut self, aspect: String, sides: (Option<Text>, Option<Text>), by: Option<Quantity>) {
        let (topic, thing) = (self.topic, self.thing.clone());
        self.changes.push(Change { topic, thing, aspect, before: sides.0, after: sides.1, by });
    }
}

/// A quantity of `kind`, given in units of `unit` of its SI unit.
pub(super) fn of(kind: QuantityKind, unit: f64) -> impl Fn(f64) -> Quantity {
    move |value| Quantity { value: value * unit, kind }
}

/// A length in mm that is small enough to be shown in mm.
pub(super) fn small_mm(mm: f64) -> Quantity {
    Quantity::small_length_m(mm / 1000.0)
}

/// A plain number with its unit in words; parts of it are not shown as a difference.
pub(super) fn number(value: f64, unit: &str) -> Text {
    text![Quantity::number(value), format!(" {unit}")]
}

/// Racks in words, or `nowhere`.
pub(super) fn holds(holds: &[Hold]) -> Text {
    let words: Vec<String> =
        holds.iter().map(|hold| format!("{} rack {}", hold.vehicle, hold.rack)).collect();
    text![if words.is_empty() { "nowhere".to_owned() } else { words.join(", ") }]
}

/// Adds `more` at the end of `text`.
pub(super) fn with(mut text: Text, more: Text) -> Text {
    text.0.extend::<Vec<Piece>>(more.0);
    text
}

/// Whether two values differ by more than rounding, a billionth of the larger.
pub(super) fn differ(one: f64, two: f64) -> bool {
    let near = (one - two).abs() <= one.abs().max(two.abs()) * 1.0e-9;
    one.total_cmp(&two).is_ne() && !near
}
