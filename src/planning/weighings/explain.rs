//! Which single cause would explain the readings, if any, and whether they can tell.

use super::causes::Search;
use super::chances::{EQUALLY_WELL, PER_FITTED_NUMBER, gain_by_chance, is_beyond_chance};
use super::evidence::Evidence;
use super::{Cause, Weighed};

/// How many causes are told beyond those that explain the readings equally well.
const ALSO_TOLD: usize = 5;

/// What the readings say.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnosis {
    /// The sum of it.
    pub told: Told,
    /// How many readings were judged: those with a tolerance.
    pub judged: usize,
    /// How many readings are beyond what their tolerance allows. Chance does that to 1 in 20; where it is told that
    /// they fit, all together are within what chance makes.
    pub beyond: usize,
    /// The sum of the squares of all differences over their spread, as the plan is; about `judged` by chance alone.
    pub misfit: f64,
    /// How many causes were tried.
    pub tried: usize,
    /// The best causes, best first: all that explain the readings equally well, and a few more.
    pub causes: Vec<Explanation>,
}

/// The sum of a diagnosis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    /// There is no reading with a tolerance.
    NothingToJudge,
    /// The readings fit; no cause explains them better than chance does.
    Fits,
    /// One cause explains them, and no other does as well: the first of the causes.
    Explained,
    /// So many causes explain them equally well: the first of the causes.
    CannotTell(usize),
    /// They do not fit, and no single plausible cause explains them.
    NoSingleCause,
}

/// A cause and how the readings fit if it is so.
#[derive(Clone, Debug, PartialEq)]
pub struct Explanation {
    /// The cause.
    pub cause: Cause,
    /// The sum of the squares of all differences over their spread that it leaves.
    pub misfit: f64,
    /// By how much it changes the computed value of each reading of the plan, in kg; 0 for those not judged.
    pub effect_kg: Vec<f64>,
}

impl Explanation {
    /// What causes are ranked by: the misfit left, and a penalty for each fitted number.
    pub fn score(&self) -> f64 {
        self.misfit + PER_FITTED_NUMBER * self.cause.fitted_numbers() as f64
    }
}

impl Diagnosis {
    /// The causes that explain the readings, where any does: one, or several that do so equally well.
    pub fn explaining(&self) -> &[Explanation] {
        let count = match self.told {
            Told::Explained => 1,
            Told::CannotTell(count) => count,
            Told::NothingToJudge | Told::Fits | Told::NoSingleCause => 0,
        };
        self.causes.get(..count).unwrap_or_default()
    }
}

/// Looks for the single cause that explains the readings best.
///
/// `go_on` is told how many of how many strings are done, and answers whether to go on; none where it said no.
pub fn explain(weighed: &Weighed, mut go_on: impl FnMut(usize, usize) -> bool) -> Option<Diagnosis> {
    let evidence = Evidence::of(weighed);
    let mut search = Search::of(&evidence);
    if evidence.judged.is_empty() {
        let told = Told::NothingToJudge;
        return Some(Diagnosis { told, judged: 0, beyond: 0, misfit: 0.0, tried: 0, causes: Vec::new() });
    }
    let strings = search.strings();
    for at in 0..strings {
        if !go_on(at, strings) {
            return None;
        }
        search.try_string(at);
    }
    search.try_tares_and_readings();
    let Search { mut found, tried, .. } = search;
    found.sort_by(|a, b| a.score().total_cmp(&b.score()));
    let (judged, misfit) = (evidence.judged.len(), evidence.misfit());
    let equal = found
        .first()
        .map_or(0, |best| found.iter().take_while(|one| one.score() <= best.score() + EQUALLY_WELL).count());
    let told = sum_of(&found, (judged, misfit), (tried, equal));
    found.truncate(equal + ALSO_TOLD);
    Some(Diagnosis { told, judged, beyond: weighed.misfits(), misfit, tried, causes: found })
}

/// The sum of it: `found` is sorted, and its first `equal` explain the readings equally well.
fn sum_of(found: &[Explanation], (judged, misfit): (usize, f64), (tried, equal): (usize, usize)) -> Told {
    let gain = found.first().map_or(0.0, |best| misfit - best.score());
    if gain <= gain_by_chance(tried) {
        return if is_beyond_chance(misfit, judged) { Told::NoSingleCause } else { Told::Fits };
    }
    let left = found.first().is_some_and(|best| {
        is_beyond_chance(best.misfit, judged.saturating_sub(best.cause.fitted_numbers()))
    });
    match (left, equal) {
        (true, _) => Told::NoSingleCause,
        (false, 1) => Told::Explained,
        (false, equal) => Told::CannotTell(equal),
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{Chance, loaded, reading, weigh};
    use super::*;
    use crate::fixtures::place;
    use crate::model::{Plan, WeighedPart, Weighing};
    use std::sync::Arc;

    fn diagnosis(plan: &Plan) -> Diagnosis {
        explain(&Weighed::of(&Arc::new(plan.clone())), |_, _| true).unwrap()
    }

    /// The plan with every wheel of `truth` read, with 0.2 % of noise.
    fn read(plan: &Plan, truth: &Plan) -> Plan {
        Plan { weighings: weigh(truth, 0.002, &mut Chance(7)), ..plan.clone() }
    }

    #[test]
    fn readings_of_the_plan_as_it_is_fit() {
        let found = diagnosis(&read(&loaded(), &loaded()));
        assert_eq!((found.told, found.judged, found.explaining().len()), (Told::Fits, 24, 0));
    }

    #[test]
    fn one_string_in_the_wrong_lane_is_told_with_the_tiers_it_may_lie_in() {
        let mut truth = loaded();
        truth.placements[0].lane = 4;
        let found = diagnosis(&read(&loaded(), &truth));
        assert_eq!(found.told, Told::Explained);
        let expected = Cause::Lane { string: 0, lane: 4, tiers: vec![1, 2, 3, 4, 5] };
        assert_eq!(found.causes[0].cause, expected);
    }

    #[test]
    fn two_strings_that_are_alike_cannot_be_told_apart() {
        let mut plan = loaded();
        place(&mut plan, "S4", 50_000, (2, 1, 2_000));
        let mut truth = plan.clone();
        truth.placements.remove(0);
        let found = diagnosis(&read(&plan, &truth));
        let strings: Vec<&Cause> = found.explaining().iter().map(|one| &one.cause).collect();
        assert_eq!(found.told, Told::CannotTell(2));
        assert_eq!(strings, [&Cause::Missing { string: 0 }, &Cause::Missing { string: 3 }]);
    }

    #[test]
    fn one_reading_of_a_wagon_cannot_tell_its_tare_from_a_faulty_scale() {
        let mut plan = loaded();
        let weighed = Weighed::of(&Arc::new(read(&plan, &plan)));
        let gross_kg = |at: usize| weighed.figures.worked[0].vehicles[at].gross_kg;
        let kg = [gross_kg(0), gross_kg(1) + 9_000.0, gross_kg(2)];
        let readings = ["W1", "W2", "W3"].into_iter().zip(kg);
        plan.weighings = readings.map(|(mark, kg)| reading(mark, WeighedPart::Vehicle, kg)).collect();
        let found = diagnosis(&plan);
        let causes: Vec<&Cause> = found.explaining().iter().map(|one| &one.cause).collect();
        assert!(matches!(found.told, Told::CannotTell(_)), "{found:?}");
        assert!(causes.iter().any(|cause| matches!(cause, Cause::Tare { vehicle: 1, .. })), "{causes:?}");
        assert!(causes.iter().any(|cause| matches!(cause, Cause::Reading { reading: 1, .. })), "{causes:?}");
    }

    #[test]
    fn two_errors_at_once_are_explained_by_no_single_cause() {
        let mut truth = loaded();
        truth.train.vehicles[0].tare_kg = Some(28_000.0);
        truth.placements[1].lane = 6;
        assert_eq!(diagnosis(&read(&loaded(), &truth)).told, Told::NoSingleCause);
    }

    /// W1 by half again its tolerance: one in many such readings is chance.
    #[test]
    fn a_reading_a_little_beyond_its_tolerance_is_counted_and_no_cause_stands_out() {
        let mut plan = read(&loaded(), &loaded());
        let kg = Weighed::of(&Arc::new(plan.clone())).readings[0].computed_kg;
        plan.weighings[0].kg = kg * 1.035;
        let found = diagnosis(&plan);
        assert_eq!((found.told, found.beyond, found.explaining().len()), (Told::Fits, 1, 0));
    }

    #[test]
    fn no_tare_is_told_as_wrong_by_more_than_half_of_it() {
        for (by_kg, plausible) in [(11_000.0, true), (13_500.0, false), (54_000.0, false)] {
            let mut truth = loaded();
            let tare_kg = truth.train.vehicle_types[0].tare_kg;
            assert!((tare_kg - 24_000.0).abs() < 1.0e-9);
            truth.train.vehicles[2].tare_kg = Some(tare_kg + by_kg);
            let found = diagnosis(&read(&loaded(), &truth));
            let is_tare = |one: &Explanation| matches!(one.cause, Cause::Tare { vehicle: 2, .. });
            assert_eq!(found.explaining().iter().any(is_tare), plausible, "{by_kg}: {found:?}");
            assert_eq!(found.told, if plausible { Told::Explained } else { Told::NoSingleCause }, "{by_kg}");
            for one in &found.causes {
                let Cause::Tare { by_kg, .. } = one.cause else { continue };
                assert!(by_kg.abs() <= tare_kg / 2.0, "{one:?}");
            }
        }
    }

    #[test]
    fn without_a_tolerance_nothing_is_judged() {
        let mut plan = read(&loaded(), &loaded());
        plan.weighings.iter_mut().for_each(|reading| reading.tolerance = None);
        assert_eq!(diagnosis(&plan).told, Told::NothingToJudge);
        let some = Weighing { tolerance: Some(0.02), ..plan.weighings[0].clone() };
        plan.weighings.push(some);
        assert_eq!(diagnosis(&plan).judged, 1);
    }

    #[test]
    fn it_says_how_far_it_is_and_stops_when_told_to() {
        let weighed = Weighed::of(&Arc::new(read(&loaded(), &loaded())));
        let mut told = Vec::new();
        let stopped = explain(&weighed, |done, all| {
            told.push((done, all));
            done < 1
        });
        assert_eq!((stopped, told), (None, vec![(0, 3), (1, 3)]));
    }
}
