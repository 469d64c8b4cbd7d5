//! What differs of the records: accepted findings, weighings and signatures.

use super::matching::Row;
use super::told::Teller;
use super::{ChangeTopic, ChangedThing};
use crate::model::{Acceptance, Found, Signature, VehicleMark, WeighedPart, Weighing};
use crate::text;
use crate::units::{Quantity, Text};

impl Row for Acceptance {
    type Key = (String, Vec<String>);
    const TOPIC: ChangeTopic = ChangeTopic::Records;
    const THERE: &'static str = "accepted finding";
    const PLACE: &'static str = "place among the accepted findings";

    fn key(&self) -> Self::Key {
        (self.check.clone(), self.things.clone())
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::Finding(self.check.clone(), self.things.clone())
    }

    fn words(&self) -> Text {
        text![format!("by {}: {}", self.by, self.why)]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self { check: _, things: _, by, why, at, found } = self;
        teller.tell("accepted by", by, &after.by);
        teller.tell("accepted because", why, &after.why);
        teller.tell("accepted on", at, &after.at);
        teller.tell(
            "accepted as it was found",
            found.as_ref().map(found_words),
            after.found.as_ref().map(found_words),
        );
    }
}

impl Row for Weighing {
    type Key = (VehicleMark, WeighedPart);
    const TOPIC: ChangeTopic = ChangeTopic::Records;
    const THERE: &'static str = "weighed";
    const PLACE: &'static str = "place among the weighings";

    fn key(&self) -> Self::Key {
        (self.vehicle.clone(), self.part)
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::Vehicle(self.vehicle.clone())
    }

    fn words(&self) -> Text {
        text![part_words(self.part), " ", Quantity::mass(self.kg)]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self { vehicle: _, part, kg, tolerance, by, at } = self;
        let part = part_words(*part);
        let aspect = |what: &str| format!("{what} of {part}");
        teller.tell(aspect("reading"), Quantity::mass(*kg), Quantity::mass(after.kg));
        let (one, two) = (tolerance.map(Quantity::share), after.tolerance.map(Quantity::share));
        teller.tell(aspect("scale tolerance"), one, two);
        teller.tell(aspect("reader"), by, &after.by);
        teller.tell(aspect("time"), at, &after.at);
    }
}

/// What was accepted, in the SI unit of the check: the record alone does not know which unit that is.
fn found_words(found: &Found) -> String {
    match found {
        Found::Figures { demand, capacity } => format!("{demand} of {capacity}"),
        Found::Words(words) => words.clone(),
    }
}

fn part_words(part: WeighedPart) -> String {
    match part {
        WeighedPart::Vehicle => "the vehicle".to_owned(),
        WeighedPart::Axle(axle) => format!("axle {axle}"),
        WeighedPart::LeftWheel(axle) => format!("axle {axle} left wheel"),
        WeighedPart::RightWheel(axle) => format!("axle {axle} right wheel"),
    }
}

impl Row for Signature {
    type Key = String;
    const TOPIC: ChangeTopic = ChangeTopic::Records;
    const THERE: &'static str = "signed";
    const PLACE: &'static str = "place among the signatures";

    fn key(&self) -> String {
        self.by.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::Signature(self.by.clone())
    }

    fn words(&self) -> Text {
        text![self.at.as_str()]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self { by: _, at, hash } = self;
        teller.tell("signed on", at, &after.at);
        teller.tell("hash of what was signed", hash, &after.hash);
    }
}
