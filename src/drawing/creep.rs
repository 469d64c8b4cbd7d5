//! How far the ends of strings may creep, as a range at each end, and in words.

use super::train_side::string_band_mm;
use super::vehicles::mm;
use super::{Area, Form, Point, Role, Shape, Thing};
use crate::model::{Topic, TrainEnd};
use crate::statics::{CreepNeeds, EndCreep, Figures, NoCreep, PlacedString, Shift};
use crate::units::{Quantity, Style};

/// Share of the string's height that its range takes, and that its end marks take.
const BAR_SHARE: f64 = 0.3;

/// The creep of both ends of a string; none where the plan does not ask for it, or it is not known.
pub fn end_creep<'f>(figures: &'f Figures, placed: &PlacedString) -> Option<&'f [EndCreep; 2]> {
    known(figures, placed)?.ok()
}

/// Why creep that the plan asks for is not known for a string, in words; none where it is known or not asked for.
pub fn creep_gap(figures: &Figures, placed: &PlacedString) -> Option<String> {
    if !figures.plan.route.asked.contains(&Topic::Creep) {
        return None;
    }
    if let Err(missing) = &figures.creep().causes {
        let words: Vec<&str> = missing.iter().copied().map(need_words).collect();
        return Some(words.join(", "));
    }
    let gap = known(figures, placed)?.err()?;
    Some(
        match gap {
            NoCreep::NoRacks => "it lies on no rack",
            NoCreep::NotHeldOnce => "it is not held at one rack under it",
            NoCreep::NoExpansion => "its steel, or the steel's expansion, is not entered",
        }
        .to_owned(),
    )
}

/// Where an end may move to along the train: from and to, in mm.
pub fn creep_range_mm(placed: &PlacedString, creep: &EndCreep) -> (f64, f64) {
    let (out_mm, in_mm) = (creep.over_last.out_m() * 1000.0, creep.over_last.in_m() * 1000.0);
    match creep.end {
        TrainEnd::Front => (mm(placed.front) - out_mm, mm(placed.front) + in_mm),
        TrainEnd::Rear => (mm(placed.rear) - in_mm, mm(placed.rear) + out_mm),
    }
}

/// The creep of an end by cause, such as `creeps 2.549 m out and 2.100 m in (curves +1.951 / -1.502 m, ...)`.
pub(super) fn creep_words(shift: &Shift, style: Style) -> String {
    let length = |m: f64| Quantity::length_m(m).show(style);
    format!(
        "creeps {} out and {} in (curves {} out and {} in, slack {} and heat {} either way)",
        length(shift.out_m()),
        length(shift.in_m()),
        length(shift.curve_out_m),
        length(-shift.curve_in_m),
        length(shift.slack_m),
        length(shift.temperature_m),
    )
}

/// The range of each end, over the string's middle height, with a mark at each of its limits.
pub(super) fn creep_shapes(shapes: &mut Vec<Shape>, figures: &Figures, placed: &PlacedString) {
    let Some(ends) = end_creep(figures, placed) else { return };
    let Some(placement) = figures.plan.placements.get(placed.placement) else { return };
    let (low, high) = string_band_mm(figures, placed, (placement.tier, placement.lane));
    let (middle, half) = ((low + high) / 2.0, (high - low) * BAR_SHARE / 2.0);
    for creep in ends {
        let across = creep_range_mm(placed, creep);
        let thing = Some(Thing::StringEnd(placed.string, creep.end));
        let bar = Area::spanning(across, (middle - half, middle + half));
        shapes.push(Shape { form: Form::Box(bar), role: Role::CreepRange, thing });
        for x in [across.0, across.1] {
            let form = Form::Line(Point::new(x, low), Point::new(x, high));
            shapes.push(Shape { form, role: Role::CreepRange, thing });
        }
    }
}

fn known<'f>(figures: &'f Figures, placed: &PlacedString) -> Option<Result<&'f [EndCreep; 2], NoCreep>> {
    if !figures.plan.route.asked.contains(&Topic::Creep) {
        return None;
    }
    let at = figures.placed.iter().position(|other| other.placement == placed.placement)?;
    Some(figures.creep().strings.get(at)?.as_ref().map_err(|gap| *gap))
}

fn need_words(need: CreepNeeds) -> &'static str {
    match need {
        CreepNeeds::Curves => "no curve is entered for the route",
        CreepNeeds::CouplingSlack => "no coupling slack is entered for the train",
        CreepNeeds::TemperatureRange => "no temperature range is entered for the route",
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{figures, places};
    use super::super::{Picture, train_side};
    use super::*;
    use crate::fixtures::{empty_plan, place, steel};
    use crate::model::{Curve, Plan};
    use crate::units::Length;

    /// A string of 56 m over three wagons, held in the middle; no curve to speak of, 20 mm of slack, 30 K.
    fn creeping() -> Plan {
        let mut plan = empty_plan(3);
        plan.steels.push(steel());
        place(&mut plan, "S1", 56_000, (1, 1, 1_850));
        plan.order[0].steel = Some(steel().name);
        plan.train.coupling_slack = Some(Length::from_mm(20));
        plan.route.temperature_range_k = Some(30.0);
        let radius_m = 1.0e6;
        plan.route.curves =
            vec![Curve { radius_m, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }];
        plan.route.asked = vec![Topic::Creep];
        plan
    }

    fn side(plan: Plan) -> Picture {
        train_side(&figures(plan), 0, Style::default())
    }

    #[test]
    fn each_end_has_a_range_where_the_plan_asks_for_creep_and_nowhere_else() {
        let plan = creeping();
        let figures = figures(plan.clone());
        let [front, rear] = end_creep(&figures, &figures.placed[0]).unwrap();
        let (from, to) = creep_range_mm(&figures.placed[0], front);
        // One coupling of 20 mm, and heat, either way; the curve is all but straight.
        assert!(from < 1_850.0 - 20.0 && to > 1_850.0 + 20.0, "{from} {to}");
        assert!((1_850.0 - from - (to - 1_850.0)).abs() < 1.0, "the same both ways");
        assert_eq!(rear.end, TrainEnd::Rear);
        // Two bars and two marks for each.
        let ranges = places(&side(plan.clone()), Role::CreepRange);
        assert_eq!(ranges.len(), 6);
        assert_eq!(ranges[0][..2], [from.round() as i64, to.round() as i64]);
        let mut silent = plan;
        silent.route.asked.clear();
        assert!(places(&side(silent), Role::CreepRange).is_empty());
    }

    #[test]
    fn creep_that_is_not_known_says_why() {
        let check = |change: &dyn Fn(&mut Plan), expected: &str| {
            let mut plan = creeping();
            change(&mut plan);
            let figures = figures(plan);
            assert_eq!(creep_gap(&figures, &figures.placed[0]).as_deref(), Some(expected));
            assert!(end_creep(&figures, &figures.placed[0]).is_none());
        };
        check(&|plan| plan.train.coupling_slack = None, "no coupling slack is entered for the train");
        check(&|plan| plan.placements[0].holds.clear(), "it is not held at one rack under it");
        check(&|plan| plan.order[0].steel = None, "its steel, or the steel's expansion, is not entered");
        let figures = figures(creeping());
        assert_eq!(creep_gap(&figures, &figures.placed[0]), None);
    }

    #[test]
    fn an_end_tells_its_creep_by_cause() {
        let figures = figures(creeping());
        let end = Thing::StringEnd(0, TrainEnd::Front);
        let words = end.describe(&figures, 0, Style::default());
        assert!(words.contains("creeps 0.0") && words.contains("slack 0.020 m and heat 0.0"), "{words}");
    }
}
