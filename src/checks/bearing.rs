//! What the load checks share: which vehicles and racks are judged against which of their ratings.

use super::{Comparison, Judge, Sense, Subject};
use crate::model::{RackType, RunningGear, VehicleKind, VehicleType};
use crate::statics::{Figures, VehiclePlace};
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
        judge.not_applicable(text!["no ", rating.concerned, " has a ", rating.name, " or bears a string"]);
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

/// Judges the load on every axle of a vehicle, in every state, against a capacity in kg.
pub(super) fn judge_axles(judge: &mut Judge<'_>, vehicle: usize, capacity_kg: f64) {
    let on_bogies = on_bogies(judge.figures, vehicle);
    for (state, _) in judge.states() {
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
