//! Ends over an idler keep clear of its deck, and of the ends that reach over it from the other side.

use super::distance::keep_distance;
use super::reading::rack_type_of;
use super::{Check, Judge, LimitValue, Subject};
use crate::model::{LimitKind, TrainEnd, VehicleKind};
use crate::statics::{BeamFigures, Figures, PlacedString, VehiclePlace};
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "idler-clearance",
    title: "Clearance over idlers",
    what: "The height of each string over an idler above its deck, the droop of the end or the sag taken off; and \
           the gap between ends that reach over one idler from its two sides, in whichever tiers and lanes.",
    why: "Ends over an idler move against its deck and against each other in curves and over humps.",
    mend: "Move the string back, choose a higher tier, or put in another idler.",
    source: "published loading rules give such gaps; the values are the plan's limits",
    run,
};

/// How a string lies over an idler.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Over {
    /// With the overhang at one of its ends.
    End(TrainEnd),
    /// With a span: index of the support in front of it.
    Span(usize),
}

/// A string over an idler; `idler` is the vehicle's index.
struct Reach<'f> {
    idler: usize,
    placed: &'f PlacedString,
    over: Over,
}

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    let reaches: Vec<Reach<'_>> = reaches(figures);
    if reaches.is_empty() {
        judge.not_applicable(|| text!["no string reaches over an idler"]);
        return;
    }
    let least = judge.limit(LimitKind::IdlerHeight).map(|limit| limit.running);
    for reach in &reaches {
        judge_height(judge, reach, least);
    }
    let meetings = meetings(figures, &reaches);
    if meetings.is_empty() {
        return;
    }
    let limit = judge.limit(LimitKind::IdlerGap);
    judge_gaps(judge, &meetings, limit.as_ref());
}

fn reaches(figures: &Figures) -> Vec<Reach<'_>> {
    let mut reaches = Vec::new();
    for vehicle in figures.consist.vehicles.iter().filter(|vehicle| vehicle.kind == VehicleKind::Idler) {
        for placed in &figures.placed {
            if placed.rear <= vehicle.front || placed.front >= vehicle.rear {
                continue;
            }
            let Ok(beam) = &placed.beam else { continue };
            let Some(over) = over(figures, placed, beam, vehicle) else { continue };
            reaches.push(Reach { idler: vehicle.vehicle, placed, over });
        }
    }
    reaches
}

/// How a string that overlaps `vehicle` lies over it; an overhang counts before a span.
fn over(
    figures: &Figures,
    placed: &PlacedString,
    beam: &BeamFigures,
    vehicle: &VehiclePlace,
) -> Option<Over> {
    let x_of = |support: usize| figures.consist.racks.get(placed.racks.start + support).map(|rack| rack.x);
    let (first, last) = (beam.spans.first()?, beam.spans.last()?);
    if x_of(first.from)? > vehicle.front {
        return Some(Over::End(TrainEnd::Front));
    }
    if x_of(last.to)? < vehicle.rear {
        return Some(Over::End(TrainEnd::Rear));
    }
    let above = beam.spans.iter().filter(|span| {
        x_of(span.from).is_some_and(|x| x < vehicle.rear) && x_of(span.to).is_some_and(|x| x > vehicle.front)
    });
    above.max_by(|a, b| a.sag_m.total_cmp(&b.sag_m)).map(|span| Over::Span(span.from))
}

fn judge_height(judge: &mut Judge<'_>, reach: &Reach<'_>, least_m: Option<f64>) {
    let subject = reach.subject();
    match reach.height(judge.figures) {
        None => {}
        Some(Err(Missing::Deck(vehicle_type))) => missing_deck(judge, vehicle_type),
        Some(Err(Missing::Seat(rack))) => missing_seat(judge, rack),
        Some(Ok(height)) => {
            let clear = Quantity::small_length_m(height.clear_m());
            let figures = judge.figures;
            let name = || Subject::Vehicle(reach.idler).place(figures);
            keep_distance(judge, (None, subject), (clear, least_m), || text![" above the deck of ", name()]);
        }
    }
}

/// The heights of every string over an idler that can be told, by what they are about.
pub(crate) fn heights(figures: &Figures) -> Vec<(Subject, HeightOver)> {
    let reaches = reaches(figures);
    reaches.iter().filter_map(|reach| Some((reach.subject(), reach.height(figures)?.ok()?))).collect()
}

/// A string above an idler's deck.
#[derive(Clone, Copy, Debug)]
pub(crate) struct HeightOver {
    /// Index of the idler.
    pub(crate) idler: usize,
    /// The end, or the string at the rack in front of the span, that hangs over it.
    pub(crate) hangs: Subject,
    /// Height of the lower seat beside it above the rail in m.
    pub(crate) seat_m: f64,
    /// How far the string hangs below that seat in m.
    pub(crate) droop_m: f64,
    /// Height of the idler's deck above the rail in m.
    pub(crate) deck_m: f64,
}

impl HeightOver {
    /// Height of the string's lowest place above the deck in m.
    pub(crate) fn clear_m(self) -> f64 {
        self.seat_m - self.droop_m - self.deck_m
    }
}

/// What is not entered: the deck height of a vehicle type, or what gives the seat's height at a rack.
enum Missing {
    Deck(usize),
    Seat(usize),
}

impl Reach<'_> {
    fn subject(&self) -> Subject {
        match self.over {
            Over::End(end) => Subject::StringEnd(self.placed.string, end),
            Over::Span(_) => Subject::String(self.placed.string),
        }
    }

    /// The supports beside the idler, and how far the string hangs below them in m.
    fn hangs(&self) -> Option<(Vec<usize>, f64)> {
        let beam = self.placed.beam.as_ref().ok()?;
        Some(match self.over {
            // A tip that bends up leaves the seat as the lowest place.
            Over::End(TrainEnd::Front) => (vec![beam.spans.first()?.from], (-beam.front_tip_m).max(0.0)),
            Over::End(TrainEnd::Rear) => (vec![beam.spans.last()?.to], (-beam.rear_tip_m).max(0.0)),
            Over::Span(from) => {
                let span = beam.spans.iter().find(|span| span.from == from)?;
                (vec![span.from, span.to], span.sag_m)
            }
        })
    }

    fn height(&self, figures: &Figures) -> Option<Result<HeightOver, Missing>> {
        let (supports, droop_m) = self.hangs()?;
        let idler = figures.consist.vehicles.get(self.idler)?;
        let kind = figures.plan.train.vehicle_types.get(idler.vehicle_type);
        let Some(deck) = kind.and_then(|kind| kind.deck_height) else {
            return Some(Err(Missing::Deck(idler.vehicle_type)));
        };
        let mut seat_m = f64::INFINITY;
        for support in supports {
            match self.placed.seat_m.get(support).copied().flatten() {
                Some(height_m) => seat_m = seat_m.min(height_m),
                None => return Some(Err(Missing::Seat(self.placed.racks.start + support))),
            }
        }
        let hangs = match self.over {
            Over::End(end) => Subject::StringEnd(self.placed.string, end),
            Over::Span(from) => Subject::StringAtRack(self.placed.string, self.placed.racks.start + from),
        };
        Some(Ok(HeightOver { idler: self.idler, hangs, seat_m, droop_m, deck_m: deck.m() }))
    }
}

fn missing_deck(judge: &mut Judge<'_>, vehicle_type: usize) {
    let name =
        judge.figures.plan.train.vehicle_types.get(vehicle_type).map_or("?", |kind| kind.name.as_str());
    let missing = text![format!("deck height of vehicle type {name} is not entered")];
    judge.undecided(Subject::VehicleType(vehicle_type), missing);
}

/// A seat's height is unknown where the deck under its rack is, or the tier does not exist.
fn missing_seat(judge: &mut Judge<'_>, rack: usize) {
    let figures = judge.figures;
    let vehicle = figures.consist.racks.get(rack).and_then(|rack| figures.consist.vehicles.get(rack.vehicle));
    match vehicle {
        Some(vehicle) if rack_type_of(figures, rack).is_some() => missing_deck(judge, vehicle.vehicle_type),
        _ => judge.undecided(Subject::Rack(rack), text!["the height of its seat is not known"]),
    }
}

/// Two strings over one idler from its two sides: the idler, the one from the front, the one from the rear.
type Meeting<'f> = (usize, &'f PlacedString, &'f PlacedString);

fn meetings<'f>(figures: &Figures, reaches: &[Reach<'f>]) -> Vec<Meeting<'f>> {
    let mut meetings = Vec::new();
    for idler in 0..figures.consist.vehicles.len() {
        let from =
            |end| reaches.iter().filter(move |reach| reach.idler == idler && reach.over == Over::End(end));
        for before in from(TrainEnd::Rear) {
            meetings.extend(from(TrainEnd::Front).map(|behind| (idler, before.placed, behind.placed)));
        }
    }
    meetings
}

fn judge_gaps(judge: &mut Judge<'_>, meetings: &[Meeting<'_>], limit: Option<&LimitValue>) {
    let figures = judge.figures;
    for (state, rule) in judge.states() {
        let present =
            figures.states.get(state.state).map(|state| state.present.as_slice()).unwrap_or_default();
        let on_train = |placed: &PlacedString| present.get(placed.placement).copied().unwrap_or(false);
        for (idler, before, behind) in meetings {
            if !on_train(before) || !on_train(behind) {
                continue;
            }
            let (a, b) = (before.string.min(behind.string), before.string.max(behind.string));
            let gap = Quantity::length(behind.front - before.rear);
            let least = limit.map(|limit| limit.by(rule));
            let name = || Subject::Vehicle(*idler).place(figures);
            let tail = || text![" between their ends, lengthwise, over ", name()];
            keep_distance(judge, (Some(state.state), Subject::Strings(a, b)), (gap, least), tail);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;
    use crate::checks::trial::{expect, words};
    use crate::fixtures::{drop_off, empty_plan, limit, place, vehicle};
    use crate::model::{Plan, RunningGear, StepKind, VehicleTypeName};
    use crate::units::Length;

    /// W1, idler I2 of 8 m (19.9 to 27.9 m, deck 1.250 m), W3 with racks at 31.217, 37.850 and 44.483 m; in tier
    /// 3 one string from 3 m with its rear end over the idler, one to 45 m with its front end over it.
    fn over_idler(first_rear_mm: i64, second_front_mm: i64) -> Plan {
        let mut plan = empty_plan(3);
        let mut idler = plan.train.vehicle_types[0].clone();
        idler.name = VehicleTypeName::new("Idler").unwrap();
        idler.kind = VehicleKind::Idler;
        idler.length = Length::from_mm(8_000);
        idler.gear = RunningGear::TwoAxle { wheelbase: Length::from_mm(5_000) };
        idler.racks.clear();
        plan.train.vehicle_types.push(idler);
        plan.train.vehicles[1] = vehicle("I2", "Idler");
        place(&mut plan, "S1", first_rear_mm - 3_000, (3, 1, 3_000));
        place(&mut plan, "S2", 45_000 - second_front_mm, (3, 7, second_front_mm));
        plan
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    // Limit 0.5 m; near up to 0.526 m.
    #[test]
    fn ends_from_both_sides_of_an_idler_keep_their_gap_in_different_lanes_too() {
        check(over_idler(23_000, 23_527), &[]);
        check(over_idler(23_000, 23_500), &[(Outcome::Near, "string S1, string S2")]);
        let findings = expect(&CHECK, over_idler(23_000, 23_499), &[(Outcome::Fail, "string S1, string S2")]);
        let told =
            "string S1, string S2: 0.499 m, at least 0.500 m between their ends, lengthwise, over vehicle I2";
        assert_eq!(words(&findings), told);
        check(over_idler(23_500, 23_000), &[(Outcome::Fail, "string S1, string S2")]);
    }

    #[test]
    fn ends_that_are_over_the_idler_at_different_times_do_not_meet() {
        let mut plan = over_idler(23_500, 23_000);
        plan.drops.push(drop_off("Site", &["S1", "S2"]));
        plan.drops[0].steps[1].kind = StepKind::On;
        check(plan, &[]);
    }

    // By hand, three moments, sagging positive: spans l 6.633 m, q 590.458 N/m, E I 6.38043e6 N m2, overhangs 0.317 m
    // in front and c 4.017 m behind: M1 -29.7, M3 -4763.9, M2 = (-q l^2/2 - M1 - M3)/4 = -2048.8 N m.
    // Slope of the tangent at the last rack, down rearward: -q l^3/(24 EI) - (2 M3 + M2) l/(6 EI) = -0.001125 +
    // 0.002006 = 0.000881; tip 0.000881 x 4.017 + q c^4/(8 EI) = 3.54 + 3.01 = 6.55 mm. Seat of tier 3 650 mm above
    // the deck: 643.45 mm.
    #[test]
    fn the_height_above_the_deck_is_the_seats_less_the_droop_of_the_tip() {
        let with = |least_m| {
            let mut plan = over_idler(20_600, 27_900);
            plan.limits.entries.insert(LimitKind::IdlerHeight, limit(least_m));
            plan
        };
        check(with(0.6), &[]);
        check(with(0.643_4), &[(Outcome::Near, "string S1, rear end")]);
        check(with(0.643_5), &[(Outcome::Fail, "string S1, rear end")]);
    }

    #[test]
    fn an_idlers_deck_that_nobody_measured_is_undecided() {
        let mut plan = over_idler(21_000, 27_000);
        plan.train.vehicle_types[1].deck_height = None;
        check(plan, &[(Outcome::Undecided, "vehicle type Idler")]);
        let mut plan = over_idler(21_000, 27_000);
        plan.train.vehicle_types[0].deck_height = None;
        check(plan, &[(Outcome::Undecided, "vehicle type Flat")]);
    }

    #[test]
    fn limits_that_are_missing_are_undecided() {
        let mut plan = over_idler(21_000, 27_000);
        plan.limits.entries.remove(&LimitKind::IdlerGap);
        plan.limits.entries.remove(&LimitKind::IdlerHeight);
        let height = (Outcome::Undecided, "limit height above an idler's deck");
        check(plan, &[(Outcome::Undecided, "limit gap between overhangs above an idler"), height]);
    }

    #[test]
    fn without_ends_over_an_idler_there_is_nothing_to_judge() {
        check(over_idler(19_900, 27_900), &[(Outcome::NotApplicable, "plan")]);
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 30_000, (1, 1, 3_000));
        check(plan, &[(Outcome::NotApplicable, "plan")]);
    }

    #[test]
    fn a_span_across_an_idler_is_judged_by_its_sag() {
        let with = |least_m| {
            let mut plan = over_idler(45_000, 28_000);
            plan.order.truncate(1);
            plan.placements.truncate(1);
            plan.limits.entries.insert(LimitKind::IdlerHeight, limit(least_m));
            plan
        };
        check(with(0.5), &[]);
        check(with(0.65), &[(Outcome::Fail, "string S1")]);
    }
}
