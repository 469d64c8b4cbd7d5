//! What differs of the route and of the limits.

use super::matching::{Row, compare_rows};
use super::told::{Teller, number, of, small_mm, with};
use super::{Change, ChangeTopic, ChangedThing};
use crate::model::{
    Accelerations, Curve, FeedSpeeds, GaugeLine, Leg, Limit, LimitKind, Limits, LineClass, Route, SCurve,
    Source, Topic,
};
use crate::text;
use crate::units::{Quantity, QuantityKind, Text};

/// A speed in km/h.
fn speed(kmh: f64) -> Quantity {
    of(QuantityKind::Speed, 1.0 / 3.6)(kmh)
}

/// Tells what differs of the route and of what is asked.
pub(super) fn compare_routes(changes: &mut Vec<Change>, before: &Route, after: &Route) {
    let mut teller = Teller::new(changes, ChangeTopic::Route, ChangedThing::Route);
    let teller = &mut teller;
    // Every field of the route is named here, so that a new one cannot be forgotten.
    let Route {
        line_class,
        curves,
        s_curve,
        greatest_cant_mm,
        speed_kmh,
        cant_deficiency_mm,
        gauge,
        humped,
        accelerations,
        braking_m_per_s2,
        buffing_m_per_s2,
        temperature_range_k,
        rack_height_tolerance_mm,
        mass_tolerance,
        wagon_height_tolerance,
        feed,
        legs,
        asked,
    } = before;
    compare_class(line_class.as_ref(), after.line_class.as_ref(), teller);
    teller.list("curve", (curves, &after.curves), curve_words);
    teller.tell("reverse curve", s_curve.map(s_curve_words), after.s_curve.map(s_curve_words));
    let small = |mm: Option<f64>| mm.map(small_mm);
    teller.tell("greatest cant", small(*greatest_cant_mm), small(after.greatest_cant_mm));
    teller.tell("speed", speed_kmh.map(speed), after.speed_kmh.map(speed));
    teller.tell("cant deficiency", small(*cant_deficiency_mm), small(after.cant_deficiency_mm));
    compare_gauges(gauge.as_ref(), after.gauge.as_ref(), teller);
    teller.tell("may be humped", *humped, after.humped);
    compare_accelerations(accelerations.as_ref(), after.accelerations.as_ref(), teller);
    let slowing = |value: f64| number(value, "m/s2");
    teller.tell("braking", braking_m_per_s2.map(slowing), after.braking_m_per_s2.map(slowing));
    teller.tell("buffing", buffing_m_per_s2.map(slowing), after.buffing_m_per_s2.map(slowing));
    let kelvin = |value: f64| number(value, "K");
    teller.tell("temperature range", temperature_range_k.map(kelvin), after.temperature_range_k.map(kelvin));
    let (one, two) = (small(*rack_height_tolerance_mm), small(after.rack_height_tolerance_mm));
    teller.tell("rack height tolerance", one, two);
    teller.tell("mass tolerance", mass_tolerance.map(share), after.mass_tolerance.map(share));
    teller.tell("wagon height tolerance", *wagon_height_tolerance, after.wagon_height_tolerance);
    let FeedSpeeds { loading_m_per_s, unloading_m_per_s } = feed.unwrap_or(NO_FEED);
    let after_feed = after.feed.unwrap_or(NO_FEED);
    let feeding = |value: f64| number(value, "m/s");
    teller.tell("speed of loading", loading_m_per_s.map(feeding), after_feed.loading_m_per_s.map(feeding));
    let (one, two) = (unloading_m_per_s.map(feeding), after_feed.unloading_m_per_s.map(feeding));
    teller.tell("speed of unloading", one, two);
    teller.tell("feeding speeds entered", feed.is_some(), after.feed.is_some());
    teller.list("leg", (legs, &after.legs), leg_words);
    teller.tell("asked to be judged", topics(asked), topics(&after.asked));
}

const NO_FEED: FeedSpeeds = FeedSpeeds { loading_m_per_s: None, unloading_m_per_s: None };

fn share(share: f64) -> Text {
    number(share * 100.0, "%")
}

fn compare_class(before: Option<&LineClass>, after: Option<&LineClass>, teller: &mut Teller<'_>) {
    let (Some(one), Some(two)) = (before, after) else {
        let name = |class: Option<&LineClass>| class.map(|class| class.name.clone());
        return teller.tell("line class", name(before), name(after));
    };
    let LineClass { name, axle_kg, mass_per_metre_kg, source } = one;
    teller.tell("line class", name, &two.name);
    teller.tell("axle load of the line class", Quantity::mass(*axle_kg), Quantity::mass(two.axle_kg));
    let per_metre = |kg: Option<f64>| kg.map(Quantity::mass_per_length);
    let (from, to) = (per_metre(*mass_per_metre_kg), per_metre(two.mass_per_metre_kg));
    teller.tell("mass per length of the line class", from, to);
    teller.tell("source of the line class", source, &two.source);
}

fn compare_gauges(before: Option<&GaugeLine>, after: Option<&GaugeLine>, teller: &mut Teller<'_>) {
    let (Some(one), Some(two)) = (before, after) else {
        let name = |line: Option<&GaugeLine>| line.map(|line| line.name.clone());
        return teller.tell("gauge line", name(before), name(after));
    };
    let GaugeLine { name, points_mm, allowed_mm, source } = one;
    teller.tell("gauge line", name, &two.name);
    teller.list("gauge point", (points_mm, &two.points_mm), |(y, z)| {
        text![small_mm(*y), " at a height of ", small_mm(*z)]
    });
    teller.list("gauge allowance", (allowed_mm, &two.allowed_mm), |(radius_m, inside, outside)| {
        with(
            text!["at ", Quantity::length_m(*radius_m), ": "],
            text![small_mm(*inside), " inside, ", small_mm(*outside), " outside"],
        )
    });
    teller.tell("source of the gauge line", source, &two.source);
}

fn compare_accelerations(
    before: Option<&Accelerations>,
    after: Option<&Accelerations>,
    teller: &mut Teller<'_>,
) {
    let (Some(one), Some(two)) = (before, after) else {
        let name = |set: Option<&Accelerations>| set.map(|set| set.name.clone());
        return teller.tell("accelerations", name(before), name(after));
    };
    let Accelerations { name, longitudinal_g, lateral_g, vertical_g, impact_m_per_s, source } = one;
    teller.tell("accelerations", name, &two.name);
    let g = |value: f64| number(value, "g");
    teller.tell("lengthwise acceleration", g(*longitudinal_g), g(two.longitudinal_g));
    teller.tell("sideways acceleration", g(*lateral_g), g(two.lateral_g));
    teller.tell("vertical acceleration", g(*vertical_g), g(two.vertical_g));
    let impact = |value: f64| number(value, "m/s");
    teller.tell("speed change of an impact", impact_m_per_s.map(impact), two.impact_m_per_s.map(impact));
    teller.tell("source of the accelerations", source, &two.source);
}

fn curve_words(curve: &Curve) -> Text {
    let Curve { radius_m, arc_m, transition_m, cant_mm, speed_kmh } = *curve;
    let mut words = text!["radius ", Quantity::length_m(radius_m)];
    for (name, value) in [
        (", arc ", arc_m.map(Quantity::length_m)),
        (", transition ", Some(Quantity::length_m(transition_m))),
        (", cant ", cant_mm.map(small_mm)),
        (", ", speed_kmh.map(speed)),
    ] {
        if let Some(value) = value {
            words = with(words, text![name, value]);
        }
    }
    words
}

fn s_curve_words(curve: SCurve) -> Text {
    let SCurve { radius_m, straight_m } = curve;
    text![
        "radius ",
        Quantity::length_m(radius_m),
        " with ",
        Quantity::length_m(straight_m),
        " straight between"
    ]
}

fn leg_words(leg: &Leg) -> Text {
    let Leg { name, leading } = leg;
    let leads = match leading {
        crate::model::TrainEnd::Front => ", front leading",
        crate::model::TrainEnd::Rear => ", rear leading",
    };
    text![name.as_str(), leads]
}

fn topics(asked: &[Topic]) -> Text {
    let words: Vec<&str> = asked.iter().map(|topic| topic_word(*topic)).collect();
    text![if words.is_empty() { "nothing more".to_owned() } else { words.join(", ") }]
}

fn topic_word(topic: Topic) -> &'static str {
    match topic {
        Topic::TrainTotals => "train totals",
        Topic::Springs => "springs",
        Topic::Curves => "curves",
        Topic::Creep => "creep",
        Topic::HoldForces => "hold forces",
        Topic::Gauge => "gauge",
        Topic::Cant => "cant",
        Topic::Unloading => "unloading",
        Topic::Braking => "braking",
        Topic::Tolerances => "tolerances",
    }
}

/// A limit with its kind.
#[derive(PartialEq)]
struct Entered(LimitKind, Limit);

/// Tells what differs of the limits.
pub(super) fn compare_limits(changes: &mut Vec<Change>, before: &Limits, after: &Limits) {
    let Limits { entries, near_share } = before;
    let listed = |limits: &Limits| -> Vec<Entered> {
        limits.entries.iter().map(|(kind, limit)| Entered(*kind, limit.clone())).collect()
    };
    if *entries != after.entries {
        compare_rows(changes, &listed(before), &listed(after));
    }
    let mut teller = Teller::new(changes, ChangeTopic::Limits, ChangedThing::Plan);
    teller.tell("near from", near_share.map(share), after.near_share.map(share));
}

impl Row for Entered {
    type Key = LimitKind;
    const TOPIC: ChangeTopic = ChangeTopic::Limits;
    const THERE: &'static str = "entered";
    // Limits are kept by kind, so that none ever stands elsewhere.
    const PLACE: &'static str = "place among the limits";

    fn key(&self) -> LimitKind {
        self.0
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::Limit(self.0)
    }

    fn words(&self) -> Text {
        text![limit_value(self.0, self.1.running)]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Limit { running, working, source, accepted_by }: &Limit = &self.1;
        let value = |value: f64| limit_value(self.0, value);
        teller.tell("running value", value(*running), value(after.1.running));
        teller.tell("working value", working.map(value), after.1.working.map(value));
        let (one, two): (&Source, &Source) = (source, &after.1.source);
        teller.tell("source", one, two);
        teller.tell("accepted by", accepted_by.as_ref(), after.1.accepted_by.as_ref());
    }
}

/// The value of a limit in the unit that its kind is shown in.
pub fn limit_value(kind: LimitKind, value: f64) -> Quantity {
    use LimitKind as K;
    let of_kind = match kind {
        K::WheelRatio | K::BogieRatio | K::TwoAxleRatio => QuantityKind::Ratio,
        K::CentreHeight
        | K::LeastOverhang
        | K::GreatestOverhang
        | K::PocketGap
        | K::EndClearance
        | K::IdlerGap
        | K::IdlerHeight
        | K::LargestSpan
        | K::TrainLength => QuantityKind::Length,
        K::LeastRacks => QuantityKind::Count,
        K::Sag => QuantityKind::SmallLength,
        K::StatedMassDifference | K::WheelUnloading | K::BrakedWeight | K::ModelDifference => {
            QuantityKind::Share
        }
        K::TrainMass | K::LightVehicle | K::HeavySet => QuantityKind::Mass,
        K::CurveStress | K::UnloadingStress => QuantityKind::Stress,
    };
    Quantity { value, kind: of_kind }
}
