//! What the load checks share: which vehicles and racks are judged against which of their ratings.

use super::{Comparison, Judge, Sense, Subject};
use crate::model::{RackType, RunningGear, VehicleKind, VehicleType};
use crate::statics::{Figures, StateFigures, StateRule, VehiclePlace};
use crate::text;
use crate::units::Quantity;

/// A vehicle or a rack of the consist with the rating that it is judged against.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rated<'f> {
    /// Index in the consist.
    pub(super) index: usize,
    /// Its rating in kg.
    pub(super) rating_kg: f64,
    /// Where the rating comes from.
    pub(super) source: &'f str,
}

/// A rating of vehicle types, and the vehicles that it is about.
#[derive(Clone, Copy, Debug)]
pub(super) struct VehicleRating {
    /// Its name in a sentence, such as `axle rating`.
    pub(super) name: &'static str,
    /// Reads it in kg; none: not entered.
    pub(super) of: fn(&VehicleType) -> Option<f64>,
    /// Whether a type is judged by it at all.
    pub(super) concerns: fn(&VehicleType) -> bool,
    /// What those types are in a sentence, such as `vehicle on bogies`.
    pub(super) concerned: &'static str,
}

/// The vehicles to be judged against `rating`, from the front.
///
/// A type without the rating is told as undecided, once, where a vehicle of it bears strings in any state of
/// the plan. A vehicle that never bears a string stands as its maker built it: its rating is used where it is
/// entered, and not asked for where it is not.
pub(super) fn rated_vehicles<'f>(judge: &mut Judge<'f>, rating: VehicleRating) -> Vec<Rated<'f>> {
    let figures = judge.figures;
    let bears = bears_strings(figures);
    let mut rated = Vec::with_capacity(figures.consist.vehicles.len());
    let mut told = vec![false; figures.plan.train.vehicle_types.len()];
    let mut undecided = false;
    for (index, place) in figures.consist.vehicles.iter().enumerate() {
        let Some(kind) = vehicle_type(figures, place).filter(|kind| (rating.concerns)(kind)) else {
            continue;
        };
        match (rating.of)(kind) {
            Some(rating_kg) => rated.push(Rated { index, rating_kg, source: &kind.source.text }),
            None if bears[index] && !std::mem::replace(&mut told[place.vehicle_type], true) => {
                undecided = true;
                let missing = text!["no ", rating.name, " is entered for vehicle type ", kind.name.as_str()];
                judge.undecided(Subject::VehicleType(place.vehicle_type), missing);
            }
            None => {}
        }
    }
    if rated.is_empty() && !undecided {
        judge.not_applicable(text![
            rating.name,
            " is entered for no ",
            rating.concerned,
            ", and none bears a string"
        ]);
    }
    rated
}

/// The racks to be judged against a rating of their type, from the front: those of wagons, and any under a string.
///
/// A type without the rating is told as undecided, once. `name` is the rating's in a sentence.
pub(super) fn rated_racks<'f>(
    judge: &mut Judge<'f>,
    name: &'static str,
    of: fn(&RackType) -> Option<f64>,
) -> Vec<Rated<'f>> {
    let figures = judge.figures;
    let mut rated = Vec::with_capacity(figures.consist.racks.len());
    let mut told = vec![false; figures.plan.train.rack_types.len()];
    let crossed = crossed_racks(figures);
    for (index, rack) in figures.consist.racks.iter().enumerate() {
        let on_wagon =
            figures.consist.vehicles.get(rack.vehicle).is_some_and(|place| place.kind == VehicleKind::Wagon);
        let Some(kind) = figures.plan.train.rack_types.get(rack.rack_type) else { continue };
        if !on_wagon && !crossed[index] {
            continue;
        }
        match of(kind) {
            Some(rating_kg) => rated.push(Rated { index, rating_kg, source: &kind.source.text }),
            None if !std::mem::replace(&mut told[rack.rack_type], true) => {
                let missing = text!["no ", name, " is entered for rack type ", kind.name.as_str()];
                judge.undecided(Subject::RackType(rack.rack_type), missing);
            }
            None => {}
        }
    }
    rated
}

/// Whether each vehicle has a rack that a placed string crosses, in whatever state.
pub(super) fn bears_strings(figures: &Figures) -> Vec<bool> {
    let mut bears = vec![false; figures.consist.vehicles.len()];
    for (rack, crossed) in figures.consist.racks.iter().zip(crossed_racks(figures)) {
        if crossed && let Some(bears) = bears.get_mut(rack.vehicle) {
            *bears = true;
        }
    }
    bears
}

/// The loads of the worked states by one of the models, each with the rule that its state is judged by.
pub(super) type States<'f> = Vec<(&'f StateFigures, StateRule)>;

/// Judges the load on every axle of a vehicle, in every state, against a capacity in kg.
pub(super) fn judge_axles(judge: &mut Judge<'_>, states: &States<'_>, vehicle: usize, capacity_kg: f64) {
    let on_bogies = on_bogies(judge.figures, vehicle);
    for (state, _) in states {
        let Some(loads) = state.vehicles.get(vehicle) else { continue };
        for (support, load) in loads.supports.iter().enumerate() {
            let comparison = Comparison::new(Quantity::mass(load.axle_kg), capacity_kg, Sense::AtMost);
            let subject = axle_subject(on_bogies, vehicle, support);
            judge.compare_with(Some(state.state), subject, comparison, || {
                if on_bogies { text![" on each axle"] } else { text![] }
            });
        }
    }
}

/// Whether the vehicle stands on bogies rather than on two axles.
pub(super) fn on_bogies(figures: &Figures, vehicle: usize) -> bool {
    let place = figures.consist.vehicles.get(vehicle);
    place.and_then(|place| vehicle_type(figures, place)).is_some_and(has_bogies)
}

/// Whether a type stands on bogies.
pub(super) fn has_bogies(kind: &VehicleType) -> bool {
    matches!(kind.gear, RunningGear::Bogies { .. })
}

/// What an axle's finding is about: the bogie, whose axles share equally, or the axle of a two-axle vehicle.
pub(super) fn axle_subject(on_bogies: bool, vehicle: usize, support: usize) -> Subject {
    if on_bogies { Subject::Support(vehicle, support) } else { Subject::Axle(vehicle, support) }
}

/// The type of a vehicle of the consist.
pub(super) fn vehicle_type<'f>(figures: &'f Figures, place: &VehiclePlace) -> Option<&'f VehicleType> {
    figures.plan.train.vehicle_types.get(place.vehicle_type)
}

fn crossed_racks(figures: &Figures) -> Vec<bool> {
    let mut crossed = vec![false; figures.consist.racks.len()];
    for string in &figures.placed {
        if let Some(racks) = crossed.get_mut(string.racks.clone()) {
            racks.fill(true);
        }
    }
    crossed
}

/// Plans and comparisons for the tests of the load checks.
#[cfg(test)]
pub(super) mod testing {
    use crate::checks::trial::{expect, findings_of, words};
    use crate::checks::{Check, Finding, Outcome};
    use crate::fixtures;
    use crate::model::{
        MassEntry, Plan, RackOnDeck, RunningGear, StatedBasis, VehicleKind, VehicleType, VehicleTypeName,
    };
    use crate::units::Length;

    /// What `check` finds in all states of `plan`.
    pub(crate) fn findings(check: &'static Check, plan: &Plan) -> Vec<Finding> {
        findings_of(check, plan.clone())
    }

    /// Compares all findings other than passes with what is expected; nothing expected: it must pass.
    pub(crate) fn check(check: &'static Check, plan: &Plan, expected: &[(Outcome, &str)]) {
        let findings = expect(check, plan.clone(), expected);
        let passed = findings.iter().any(|finding| finding.outcome == Outcome::Pass);
        assert!(passed || !expected.is_empty(), "{} neither passes nor says why not", check.id);
    }

    /// The sentence of the worst finding.
    pub(crate) fn worst_text(check: &'static Check, plan: &Plan) -> String {
        words(&findings(check, plan))
    }

    /// Lays a string of 14.266 m and `kg` with its middle over that of a wagon (from 0), in a tier and lane.
    pub(crate) fn lay(plan: &mut Plan, mark: &str, pocket: (u32, u32), wagon: i64, kg: f64) {
        lay_at(plan, mark, (pocket.0, pocket.1, wagon * 19_900 + 2_817, 14_266), kg);
    }

    /// Lays a string of `kg`; `at` is tier, lane, front end and length in mm.
    pub(crate) fn lay_at(plan: &mut Plan, mark: &str, at: (u32, u32, i64, i64), kg: f64) {
        fixtures::place(plan, mark, at.3, (at.0, at.1, at.2));
        plan.order.last_mut().unwrap().mass = MassEntry::Stated { kg, basis: StatedBasis::Weighed };
    }

    /// A plan of one wagon of `tare_kg` that carries `load_kg` in lane `lane`, at `ahead_mm` ahead of its middle.
    pub(crate) fn load_ahead(tare_kg: f64, load_kg: f64, ahead_mm: i64, lane: u32) -> Plan {
        let mut plan = fixtures::empty_plan(1);
        plan.train.vehicle_types[0].tare_kg = tare_kg;
        racks_at(&mut plan, &[-ahead_mm - 500, -ahead_mm + 500]);
        lay_at(&mut plan, "S1", (1, lane, 9_950 - ahead_mm - 1_000, 2_000), load_kg);
        plan
    }

    /// Stands the racks of the first vehicle type at `places_mm` from its middle.
    pub(crate) fn racks_at(plan: &mut Plan, places_mm: &[i64]) {
        let rack = plan.train.vehicle_types[0].racks[0].clone();
        plan.train.vehicle_types[0].racks =
            places_mm.iter().map(|&mm| RackOnDeck { at: Length::from_mm(mm), ..rack.clone() }).collect();
    }

    /// Puts the wagons of the first type on two axles.
    pub(crate) fn on_two_axles(plan: &mut Plan, wheelbase_mm: i64) {
        plan.train.vehicle_types[0].gear = RunningGear::TwoAxle { wheelbase: Length::from_mm(wheelbase_mm) };
    }

    /// A vehicle type without racks and ratings, called `name`.
    pub(crate) fn bare_type(name: &str, kind: VehicleKind, tare_kg: f64) -> VehicleType {
        VehicleType {
            name: VehicleTypeName::new(name).unwrap(),
            kind,
            tare_kg,
            tare_cog_height_mm: None,
            deck_height: None,
            payload_rating_kg: None,
            bogie_rating_kg: None,
            axle_rating_kg: None,
            wheel_rating_kg: None,
            racks: Vec::new(),
            ..fixtures::reference_wagon()
        }
    }

    /// Puts an engine of 80 t, of a type without ratings, in front of the train (strings must be laid after).
    pub(crate) fn add_engine(plan: &mut Plan) {
        plan.train.vehicle_types.push(bare_type("Engine", VehicleKind::Engine, 80_000.0));
        plan.train.vehicles.insert(0, fixtures::vehicle("L1", "Engine"));
    }
}
