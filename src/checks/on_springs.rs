//! What the checks on springs and on tolerances share: the states on springs, and capacities of axles and wheels.

use super::bearing::{States, axle_subject, on_bogies, vehicle_type};
use super::{Comparison, Judge, Outcome, Sense, Subject};
use crate::model::Topic;
use crate::statics::{Figures, SpringState, SpringsMissing, StateRule, SupportLoads};
use crate::text;
use crate::units::{Quantity, Text};

/// The loads of the worked states on springs; none, and told why, where the plan does not ask for them, a spring
/// rate is missing, or a state found no rest.
pub(super) fn spring_loads<'f>(judge: &mut Judge<'f>) -> Option<States<'f>> {
    let states = spring_states(judge)?;
    Some(states.into_iter().map(|(state, rule)| (&state.loads, rule)).collect())
}

/// The worked states on springs with their rules; none as in [`spring_loads`].
pub(super) fn spring_states<'f>(judge: &mut Judge<'f>) -> Option<Vec<(&'f SpringState, StateRule)>> {
    if !judge.asked(Topic::Springs) {
        return None;
    }
    let figures = judge.figures;
    match figures.springs() {
        Err(missing) => {
            tell_missing(judge, missing);
            None
        }
        Ok(springs) => {
            if let Some(state) = springs.states.iter().find(|state| !state.at_rest) {
                let title = figures.states.get(state.loads.state).map(|s| s.title(&figures.plan));
                let title = title.unwrap_or_default();
                judge.undecided(Subject::Train, text!["the train on springs found no rest at ", title]);
                return None;
            }
            let rules = judge.states().map(|(_, rule)| rule);
            Some(springs.states.iter().zip(rules).collect())
        }
    }
}

/// Tells each vehicle type without springs as undecided.
pub(super) fn tell_missing(judge: &mut Judge<'_>, missing: &SpringsMissing) {
    for index in &missing.vehicle_types {
        let types = &judge.figures.plan.train.vehicle_types;
        let name = types.get(*index).map_or("?", |kind| kind.name.as_str());
        let missing = text!["no spring rates are entered for vehicle type ", name];
        judge.undecided(Subject::VehicleType(*index), missing);
    }
}

/// Which load a capacity is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bearer {
    /// Each axle of a support.
    Axle,
    /// The heavier wheel of each axle, of stiff and soft body.
    Wheel,
}

impl Bearer {
    /// The load in kg.
    pub(super) fn load_kg(self, loads: &SupportLoads) -> f64 {
        match self {
            Self::Axle => loads.axle_kg,
            Self::Wheel => loads.largest_wheel_kg(),
        }
    }

    /// Its load's name in a sentence.
    pub(super) fn load_name(self) -> &'static str {
        match self {
            Self::Axle => "axle load",
            Self::Wheel => "wheel load",
        }
    }
}

/// A rating or the line class, as it bears on a vehicle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Capacity<'f> {
    pub(super) bearer: Bearer,
    /// Its name in a sentence.
    pub(super) name: &'static str,
    pub(super) kg: f64,
    pub(super) source: &'f str,
}

/// What is entered of a vehicle's capacities; what is not is told by the checks that judge by it.
pub(super) fn capacities(figures: &Figures, vehicle: usize) -> Vec<Capacity<'_>> {
    let place = figures.consist.vehicles.get(vehicle);
    let kind = place.and_then(|place| vehicle_type(figures, place));
    let of = |bearer, name, kg: Option<f64>| {
        kind.zip(kg).map(|(kind, kg)| Capacity { bearer, name, kg, source: &kind.source.text })
    };
    let axle = of(Bearer::Axle, "axle rating", kind.and_then(|kind| kind.axle_rating_kg));
    let wheel = of(Bearer::Wheel, "wheel rating", kind.and_then(|kind| kind.wheel_rating_kg));
    let line = figures.plan.route.line_class.as_ref().map(|class| Capacity {
        bearer: Bearer::Axle,
        name: "line class",
        kg: class.axle_kg,
        source: &class.source.text,
    });
    [axle, wheel, line].into_iter().flatten().collect()
}

/// Judges a load that lies between `low_kg` and `high_kg`: a verdict that hangs on where is near.
///
/// A load beyond its capacity even at its lowest is told as a note, for another check fails it.
pub(super) fn judge_range(
    judge: &mut Judge<'_>,
    state: usize,
    (vehicle, support): (usize, usize),
    capacity: &Capacity<'_>,
    [low_kg, high_kg]: [f64; 2],
) {
    let subject = axle_subject(on_bogies(judge.figures, vehicle), vehicle, support);
    let at_most = |kg: f64| Comparison::new(Quantity::mass(kg), capacity.kg, Sense::AtMost);
    let (lowest, highest) = (at_most(low_kg), at_most(high_kg));
    let name = capacity.bearer.load_name();
    if !lowest.holds() {
        let place = || subject.place(judge.figures);
        let what = text![
            place(),
            ": the ",
            name,
            " is at least ",
            Quantity::mass(low_kg),
            ", above the ",
            capacity.name
        ];
        judge.note(Some(state), subject, what);
        return;
    }
    judge.source(capacity.source);
    let outcome = if highest.holds() { Outcome::Pass } else { Outcome::Near };
    judge.decided(Some(state), subject, (outcome, highest), || -> Text {
        text![
            " (",
            capacity.name,
            "), the ",
            name,
            " being between ",
            Quantity::mass(low_kg),
            " and ",
            Quantity::mass(high_kg)
        ]
    });
}

/// Plans on springs for the tests of the checks.
#[cfg(test)]
pub(super) mod testing {
    use crate::fixtures::{empty_plan, limit, place};
    use crate::model::{LimitKind, Plan, Springs, Topic};

    /// Puts the first vehicle type on springs of 4 MN/m and 4 MN m/rad per bogie and asks for them.
    pub(crate) fn on_springs(plan: &mut Plan) {
        plan.train.vehicle_types[0].springs = Some(Springs {
            front_n_per_m: 4.0e6,
            rear_n_per_m: 4.0e6,
            roll_nm_per_rad: 4.0e6,
            frame_n_per_m: None,
            envelope: None,
            spring_height_mm: None,
            sprung_tare_kg: None,
        });
        plan.route.asked = vec![Topic::Springs];
        plan.limits.entries.insert(LimitKind::ModelDifference, limit(0.03));
    }

    /// Three wagons on springs with ten strings over all of them, the middle one low by `low_mm`.
    pub(crate) fn low_in_the_middle(low_mm: f64) -> Plan {
        let mut plan = empty_plan(3);
        for lane in 1..=10 {
            place(&mut plan, &format!("S{lane}"), 56_000, (1, lane, 1_850));
        }
        plan.train.vehicles[1].height_offset_mm = -low_mm;
        on_springs(&mut plan);
        plan
    }
}
