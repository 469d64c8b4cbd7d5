//! What differs of the train: the row of vehicles, what stands beyond it, and the types.

use super::matching::{Row, compare_rows};
use super::told::{Teller, of, small_mm, with};
use super::{Change, ChangeTopic, ChangedThing};
use crate::model::{
    Beyond, BeyondKind, LaneRule, RackKind, RackOnDeck, RackType, RackTypeName, RunningGear, Springs, Tier,
    TierAccess, Train, Vehicle, VehicleKind, VehicleMark, VehicleType, VehicleTypeName,
};
use crate::text;
use crate::units::{Quantity, QuantityKind, Text};

/// Tells what differs of the row of vehicles and of the types.
pub(super) fn compare_trains(changes: &mut Vec<Change>, before: &Train, after: &Train) {
    let Train { vehicle_types, rack_types, vehicles, coupling_slack, front_beyond, rear_beyond, lane_rule } =
        before;
    compare_rows(changes, vehicles, &after.vehicles);
    let mut teller = Teller::new(changes, ChangeTopic::Train, ChangedThing::Train);
    teller.tell("coupling slack", *coupling_slack, after.coupling_slack);
    teller.tell("beyond the front", beyond(*front_beyond), beyond(after.front_beyond));
    teller.tell("beyond the rear", beyond(*rear_beyond), beyond(after.rear_beyond));
    teller.tell("lanes that come off first", lane_rule.map(rule_word), after.lane_rule.map(rule_word));
    compare_rows(changes, vehicle_types, &after.vehicle_types);
    compare_rows(changes, rack_types, &after.rack_types);
}

impl Row for Vehicle {
    type Key = VehicleMark;
    const TOPIC: ChangeTopic = ChangeTopic::Train;
    const THERE: &'static str = "in the train";
    const PLACE: &'static str = "place in the train";

    fn key(&self) -> VehicleMark {
        self.mark.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::Vehicle(self.mark.clone())
    }

    fn words(&self) -> Text {
        text![self.vehicle_type.as_str(), if self.turned { ", turned round" } else { "" }]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self { mark: _, vehicle_type, turned, tare_kg, height_offset_mm } = self;
        teller.tell("type", vehicle_type, &after.vehicle_type);
        teller.tell("turned round", *turned, after.turned);
        teller.tell("own tare", tare_kg.map(Quantity::mass), after.tare_kg.map(Quantity::mass));
        teller.tell("stands higher by", small_mm(*height_offset_mm), small_mm(after.height_offset_mm));
    }
}

impl Row for VehicleType {
    type Key = VehicleTypeName;
    const TOPIC: ChangeTopic = ChangeTopic::Types;
    const THERE: &'static str = "described";
    const PLACE: &'static str = "place among the vehicle types";

    fn key(&self) -> VehicleTypeName {
        self.name.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::VehicleType(self.name.clone())
    }

    fn words(&self) -> Text {
        text![kind_word(self.kind), " of ", Quantity::length(self.length)]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        // Every field is named here, so that a new one cannot be forgotten below.
        let Self {
            name: _,
            kind: _,
            length: _,
            gear: _,
            wheel_contact_mm: _,
            tare_kg: _,
            tare_front_kg: _,
            tare_y_mm: _,
            tare_cog_height_mm: _,
            deck_height: _,
            payload_rating_kg: _,
            bogie_rating_kg: _,
            axle_rating_kg: _,
            wheel_rating_kg: _,
            axle_braking_rating_kg: _,
            coupling_rating_n: _,
            coupling_height: _,
            braked_weight_kg: _,
            least_radius_m: _,
            springs: _,
            racks: _,
            end_stops: _,
            source: _,
        } = self;
        compare_dimensions(self, after, teller);
        compare_ratings(self, after, teller);
        let (one, two) = (&self.racks, &after.racks);
        teller.list("rack", (one, two), rack_words);
        let (one, two) = (&self.end_stops, &after.end_stops);
        teller.list("end stop", (one, two), |stop| text!["at ", Quantity::length(stop.at)]);
        compare_springs(self.springs.as_ref(), after.springs.as_ref(), teller);
        teller.tell("source", &self.source, &after.source);
    }
}

fn compare_dimensions(before: &VehicleType, after: &VehicleType, teller: &mut Teller<'_>) {
    teller.tell("kind", kind_word(before.kind), kind_word(after.kind));
    teller.tell("length", before.length, after.length);
    teller.tell("running gear", gear_words(before.gear), gear_words(after.gear));
    teller.tell(
        "between wheel contacts",
        small_mm(before.wheel_contact_mm),
        small_mm(after.wheel_contact_mm),
    );
    teller.tell("tare", Quantity::mass(before.tare_kg), Quantity::mass(after.tare_kg));
    let mass = |kg: Option<f64>| kg.map(Quantity::mass);
    teller.tell("tare on the front support", mass(before.tare_front_kg), mass(after.tare_front_kg));
    teller.tell("tare beside the middle", small_mm(before.tare_y_mm), small_mm(after.tare_y_mm));
    let (one, two) = (before.tare_cog_height_mm.map(small_mm), after.tare_cog_height_mm.map(small_mm));
    teller.tell("height of the tare's centre", one, two);
    teller.tell("deck height", before.deck_height, after.deck_height);
    teller.tell("coupling height", before.coupling_height, after.coupling_height);
    let radius = |m: Option<f64>| m.map(Quantity::length_m);
    teller.tell("least radius", radius(before.least_radius_m), radius(after.least_radius_m));
}

fn compare_ratings(before: &VehicleType, after: &VehicleType, teller: &mut Teller<'_>) {
    for (aspect, one, two) in [
        ("payload rating", before.payload_rating_kg, after.payload_rating_kg),
        ("bogie rating", before.bogie_rating_kg, after.bogie_rating_kg),
        ("axle rating", before.axle_rating_kg, after.axle_rating_kg),
        ("wheel rating", before.wheel_rating_kg, after.wheel_rating_kg),
        ("axle rating under braking", before.axle_braking_rating_kg, after.axle_braking_rating_kg),
        ("braked weight", before.braked_weight_kg, after.braked_weight_kg),
    ] {
        teller.tell(aspect, one.map(Quantity::mass), two.map(Quantity::mass));
    }
    let force = |n: Option<f64>| n.map(Quantity::force);
    teller.tell("coupling rating", force(before.coupling_rating_n), force(after.coupling_rating_n));
}

fn compare_springs(before: Option<&Springs>, after: Option<&Springs>, teller: &mut Teller<'_>) {
    let (Some(one), Some(two)) = (before, after) else {
        let entered = |springs: Option<&Springs>| springs.map(|_| text!["entered"]);
        return teller.tell("springs", entered(before), entered(after));
    };
    let Springs {
        front_n_per_m,
        rear_n_per_m,
        roll_nm_per_rad,
        frame_n_per_m,
        envelope,
        spring_height_mm,
        sprung_tare_kg,
    } = *one;
    let rate = of(QuantityKind::ForcePerLength, 1.0);
    teller.tell("front spring rate", rate(front_n_per_m), rate(two.front_n_per_m));
    teller.tell("rear spring rate", rate(rear_n_per_m), rate(two.rear_n_per_m));
    let roll = of(QuantityKind::AngularStiffness, 1.0);
    teller.tell("roll stiffness", roll(roll_nm_per_rad), roll(two.roll_nm_per_rad));
    teller.tell("frame stiffness", frame_n_per_m.map(&rate), two.frame_n_per_m.map(&rate));
    let range = |(low, high): (f64, f64)| text![Quantity::share(low), " to ", Quantity::share(high)];
    teller.tell("range of rates to try", envelope.map(range), two.envelope.map(range));
    teller.tell("height of the springs", spring_height_mm.map(small_mm), two.spring_height_mm.map(small_mm));
    let mass = |kg: Option<f64>| kg.map(Quantity::mass);
    teller.tell("sprung tare", mass(sprung_tare_kg), mass(two.sprung_tare_kg));
}

fn rack_words(rack: &RackOnDeck) -> Text {
    let RackOnDeck { rack_type, at, height_offset_mm } = rack;
    let words = text![rack_type.as_str(), " at ", Quantity::length(*at)];
    let higher = || text![", higher by ", small_mm(*height_offset_mm)];
    if *height_offset_mm == 0.0 { words } else { with(words, higher()) }
}

impl Row for RackType {
    type Key = RackTypeName;
    const TOPIC: ChangeTopic = ChangeTopic::Types;
    const THERE: &'static str = "described";
    const PLACE: &'static str = "place among the rack types";

    fn key(&self) -> RackTypeName {
        self.name.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::RackType(self.name.clone())
    }

    fn words(&self) -> Text {
        text![format!("{} tiers of {} lanes", self.tiers.len(), self.lanes_y_mm.len())]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self {
            name: _,
            kind,
            tiers,
            lanes_y_mm,
            pocket_width_mm,
            side_play_mm,
            pocket_rating_kg,
            tier_rating_kg,
            rack_rating_kg,
            side_rating_n,
            friction,
            hold_rating_n,
            tier_access,
            source,
        } = self;
        teller.tell("kind", rack_kind(*kind), rack_kind(after.kind));
        teller.list("tier", (tiers, &after.tiers), tier_words);
        teller.list("lane", (lanes_y_mm, &after.lanes_y_mm), |y_mm| text![small_mm(*y_mm)]);
        let small = |mm: Option<f64>| mm.map(small_mm);
        teller.tell("pocket width", small(*pocket_width_mm), small(after.pocket_width_mm));
        teller.tell("side play", small(*side_play_mm), small(after.side_play_mm));
        let mass = |kg: Option<f64>| kg.map(Quantity::mass);
        teller.tell("pocket rating", mass(*pocket_rating_kg), mass(after.pocket_rating_kg));
        teller.tell("tier rating", mass(*tier_rating_kg), mass(after.tier_rating_kg));
        teller.tell("rack rating", mass(*rack_rating_kg), mass(after.rack_rating_kg));
        let force = |n: Option<f64>| n.map(Quantity::force);
        teller.tell("side rating", force(*side_rating_n), force(after.side_rating_n));
        teller.tell("friction", friction.map(Quantity::number), after.friction.map(Quantity::number));
        teller.tell("hold rating", force(*hold_rating_n), force(after.hold_rating_n));
        teller.tell("access to tiers", tier_access.map(access_word), after.tier_access.map(access_word));
        teller.tell("source", source, &after.source);
    }
}

fn tier_words(tier: &Tier) -> Text {
    let seat = text!["seat at ", small_mm(tier.seat_above_deck_mm)];
    let clear = match tier.clear_mm {
        Some(clear_mm) => text![", clear ", small_mm(clear_mm)],
        None => text![", clear height not entered"],
    };
    with(seat, clear)
}

fn gear_words(gear: RunningGear) -> Text {
    match gear {
        RunningGear::TwoAxle { wheelbase } => text!["two axles, ", Quantity::length(wheelbase)],
        RunningGear::Bogies { pivot_distance, axles_per_bogie, bogie_wheelbase } => with(
            text!["bogies, pivots ", Quantity::length(pivot_distance)],
            with(
                text![", "],
                with(number_of_axles(axles_per_bogie), text![Quantity::length(bogie_wheelbase)]),
            ),
        ),
    }
}

fn number_of_axles(axles: u32) -> Text {
    text![format!("{axles} axles over ")]
}

fn beyond(beyond: Beyond) -> Text {
    let words = match beyond.kind {
        BeyondKind::Nothing => "nothing",
        BeyondKind::EndStop => "an end stop",
        BeyondKind::Vehicle => "a vehicle",
    };
    text![words, " at ", Quantity::length(beyond.distance)]
}

fn kind_word(kind: VehicleKind) -> &'static str {
    match kind {
        VehicleKind::Engine => "engine",
        VehicleKind::Wagon => "wagon",
        VehicleKind::Idler => "idler",
    }
}

fn rack_kind(kind: RackKind) -> &'static str {
    match kind {
        RackKind::Roller => "roller",
        RackKind::Clamping => "clamping",
        RackKind::Fixed => "fixed",
    }
}

fn access_word(access: TierAccess) -> &'static str {
    match access {
        TierAccess::AboveEmpty => "tiers above must be empty",
        TierAccess::AnyTier => "any tier",
    }
}

fn rule_word(rule: LaneRule) -> &'static str {
    match rule {
        LaneRule::OutermostFirst => "outermost",
        LaneRule::InnermostFirst => "innermost",
        LaneRule::AnyOrder => "any",
    }
}
