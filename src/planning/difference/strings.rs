//! What differs of the order and of where its strings lie.

use super::change::PLACE_IN_LIST;
use super::matching::Row;
use super::told::{Teller, Told as _, holds, with};
use super::{ChangeTopic, ChangedThing};
use crate::model::{
    AsLoaded, MassEntry, OrderedString, Placement, RackSpan, StatedBasis, StringMark, TrackSide,
};
use crate::text;
use crate::units::{Length, Quantity, Text};

impl Row for Placement {
    type Key = StringMark;
    const TOPIC: ChangeTopic = ChangeTopic::Places;
    const THERE: &'static str = "on the train";
    const PLACE: &'static str = PLACE_IN_LIST;

    fn key(&self) -> StringMark {
        self.string.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::String(self.string.clone())
    }

    fn words(&self) -> Text {
        lies(self.tier, self.lane, self.front)
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self { string: _, tier, lane, front, holds: held, rests_on, locked } = self;
        teller.tell("pocket", pocket(*tier, *lane), pocket(after.tier, after.lane));
        teller.tell("front end", *front, after.front);
        teller.tell("held at", holds(held), holds(&after.holds));
        let span = |span: &Option<RackSpan>| {
            span.as_ref().map(|span| with(span.first.text(), with(text![" to "], span.last.text())))
        };
        teller.tell("meant to rest on", span(rests_on), span(&after.rests_on));
        teller.tell("locked", *locked, after.locked);
    }
}

impl Row for OrderedString {
    type Key = StringMark;
    const TOPIC: ChangeTopic = ChangeTopic::Order;
    const THERE: &'static str = "ordered";
    const PLACE: &'static str = "place in the order";

    fn key(&self) -> StringMark {
        self.mark.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::String(self.mark.clone())
    }

    fn words(&self) -> Text {
        text![Quantity::length(self.length), " of ", self.section.as_str()]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self { mark: _, section, steel, length, side, drop, mass } = self;
        teller.tell("section", section, &after.section);
        teller.tell("steel", steel.as_ref(), after.steel.as_ref());
        teller.tell("length", *length, after.length);
        teller.tell("side of the track", side.map(side_word), after.side.map(side_word));
        teller.tell("for the drop", drop.as_ref(), after.drop.as_ref());
        teller.tell("mass", mass_words(*mass), mass_words(after.mass));
    }
}

impl Row for AsLoaded {
    type Key = StringMark;
    const TOPIC: ChangeTopic = ChangeTopic::Records;
    const THERE: &'static str = "as loaded";
    const PLACE: &'static str = "place in the list of what was loaded";

    fn key(&self) -> StringMark {
        self.string.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::String(self.string.clone())
    }

    fn words(&self) -> Text {
        with(lies(self.tier, self.lane, self.front), text![format!(", by {}, {}", self.by, self.at)])
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self { string: _, tier, lane, front, holds: held, missing, by, at } = self;
        teller.tell("pocket as loaded", pocket(*tier, *lane), pocket(after.tier, after.lane));
        teller.tell("front end as loaded", *front, after.front);
        teller.tell("held as loaded", holds(held), holds(&after.holds));
        teller.tell("not found on the train", *missing, after.missing);
        teller.tell("seen as loaded by", by, &after.by);
        teller.tell("seen as loaded on", at, &after.at);
    }
}

/// Where a string lies, in words.
pub(super) fn lies(tier: u32, lane: u32, front: Length) -> Text {
    with(pocket(tier, lane), text![", front end at ", Quantity::length(front)])
}

fn pocket(tier: u32, lane: u32) -> Text {
    text![format!("tier {tier} lane {lane}")]
}

fn side_word(side: TrackSide) -> &'static str {
    match side {
        TrackSide::Left => "left",
        TrackSide::Right => "right",
    }
}

fn mass_words(mass: MassEntry) -> Text {
    match mass {
        MassEntry::Computed => text!["computed"],
        MassEntry::Stated { kg, basis } => {
            let basis = match basis {
                StatedBasis::Weighed => " weighed",
                StatedBasis::Document => " by its document",
            };
            text![Quantity::small_mass(kg), basis]
        }
    }
}
