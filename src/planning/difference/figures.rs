//! Which loads of wagons, bogies, axles, wheels and racks differ, and by how much of what they may be.

use super::told::differ;
use crate::checks::{Comparison, Sense};
use crate::model::{LimitKind, VehicleMark, VehicleType};
use crate::statics::{Figures, StateFigures, SupportLoads, VehicleLoads, VehiclePlace};
use crate::units::Quantity;
use std::collections::BTreeMap;

/// A figure that is compared; of each, more is worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FigureKind {
    /// Mass of the whole train.
    TrainMass,
    /// Load of a vehicle from strings.
    Payload,
    /// Load of a bogie, or of the axle of a two-axle vehicle.
    SupportLoad,
    /// Load of each axle of a support.
    AxleLoad,
    /// The largest wheel of a support, by the worse of the two assumptions.
    WheelLoad,
    /// Larger over smaller wheel of a support, by the worse of the two assumptions.
    WheelRatio,
    /// Larger over smaller support of a vehicle.
    SupportRatio,
    /// Height of a vehicle's gross centre.
    CentreHeight,
    /// Load of a rack.
    RackLoad,
}

impl FigureKind {
    /// All kinds, in the order of lists.
    pub const ALL: [Self; 9] = [
        Self::TrainMass,
        Self::Payload,
        Self::SupportLoad,
        Self::AxleLoad,
        Self::WheelLoad,
        Self::WheelRatio,
        Self::SupportRatio,
        Self::CentreHeight,
        Self::RackLoad,
    ];

    /// What a reader calls it; also the JSON value.
    pub fn title(self) -> &'static str {
        match self {
            Self::TrainMass => "train mass",
            Self::Payload => "wagon load",
            Self::SupportLoad => "bogie load",
            Self::AxleLoad => "axle load",
            Self::WheelLoad => "wheel load",
            Self::WheelRatio => "left and right wheels",
            Self::SupportRatio => "front and rear bogies",
            Self::CentreHeight => "centre of gravity",
            Self::RackLoad => "rack load",
        }
    }
}

/// Where a figure belongs to, by marks.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FigurePlace {
    /// The whole train.
    Train,
    /// A vehicle.
    Vehicle(VehicleMark),
    /// A support of a vehicle: 0 front, 1 rear as it stands.
    Support(VehicleMark, usize),
    /// A rack of a vehicle, from 1 at the front as it stands.
    Rack(VehicleMark, u32),
}

impl FigurePlace {
    /// Its name for a reader, such as `vehicle W3, rear` or `vehicle W3 rack 2`.
    pub fn name(&self) -> String {
        match self {
            Self::Train => "train".to_owned(),
            Self::Vehicle(mark) => format!("vehicle {mark}"),
            Self::Support(mark, 0) => format!("vehicle {mark}, front"),
            Self::Support(mark, _) => format!("vehicle {mark}, rear"),
            Self::Rack(mark, rack) => format!("vehicle {mark} rack {rack}"),
        }
    }
}

/// A figure of one plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FigureReading {
    /// The value.
    pub value: Quantity,
    /// What it may be at most, in the same unit; none: not entered.
    pub capacity: Option<f64>,
    /// The state in which it is so.
    pub state: usize,
}

impl FigureReading {
    /// The share of what it may be; none where that is not entered.
    pub fn used(&self) -> Option<f64> {
        self.capacity.map(|capacity| Comparison::new(self.value, capacity, Sense::AtMost).utilisation())
    }
}

/// A figure that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureChange {
    /// Which.
    pub kind: FigureKind,
    /// Where.
    pub place: FigurePlace,
    /// How it was; none: there was no such vehicle or rack.
    pub before: Option<FigureReading>,
    /// How it is; none: there is no such vehicle or rack.
    pub after: Option<FigureReading>,
}

impl FigureChange {
    /// After less before; none where one of them is missing.
    pub fn by(&self) -> Option<Quantity> {
        let (before, after) = (self.before?.value, self.after?.value);
        Some(Quantity { value: after.value - before.value, ..after })
    }

    /// How much worse it has become: by the share of what it may be, or of itself where that is not entered.
    ///
    /// Below zero where it has become better. What is not there counts as nothing.
    pub fn growth(&self) -> f64 {
        let values = [self.before, self.after].map(|side| side.map_or(0.0, |side| side.value.value));
        let uses = [self.before, self.after].map(|side| side.map_or(Some(0.0), |side| side.used()));
        let grown = match uses {
            [Some(before), Some(after)] => after - before,
            _ => (values[1] - values[0]) / values[0].abs().max(values[1].abs()).max(f64::MIN_POSITIVE),
        };
        if grown.is_nan() { 0.0 } else { grown }
    }

    /// Whether the two sides differ by more than rounding.
    fn is_any(&self) -> bool {
        let (Some(before), Some(after)) = (self.before, self.after) else { return true };
        differ(before.value.value, after.value.value)
    }
}

/// The loads of one side by kind and place.
type Readings = BTreeMap<(FigureKind, FigurePlace), FigureReading>;

/// What differs between the loads of two plans, of each its worst over the states that were worked out; what has
/// become worse comes first.
pub(super) fn compare_figures(before: &Figures, after: &Figures) -> Vec<FigureChange> {
    let (mut one, two) = (readings(before), readings(after));
    let mut changes: Vec<FigureChange> = Vec::new();
    for ((kind, place), after) in two {
        let before = one.remove(&(kind, place.clone()));
        changes.push(FigureChange { kind, place, before, after: Some(after) });
    }
    let gone = one.into_iter();
    changes.extend(gone.map(|((kind, place), before)| FigureChange {
        kind,
        place,
        before: Some(before),
        after: None,
    }));
    changes.retain(FigureChange::is_any);
    changes.sort_by(|a, b| {
        let by_growth = b.growth().total_cmp(&a.growth());
        by_growth.then_with(|| (a.kind, &a.place).cmp(&(b.kind, &b.place)))
    });
    changes
}

fn readings(figures: &Figures) -> Readings {
    let states: Vec<&StateFigures> = figures.worked.iter().collect();
    let mut all = Readings::new();
    let mut keep = |kind, place, value: &Reader<'_>| {
        all.extend(worst(&states, value).map(|reading| ((kind, place), reading)));
    };
    keep(FigureKind::TrainMass, FigurePlace::Train, &|loads| {
        Some((Quantity::mass(loads.train_kg), figures.accepted_limit(LimitKind::TrainMass, loads.state)))
    });
    for place in &figures.consist.vehicles {
        vehicle_readings(figures, place, &mut keep);
    }
    for (rack, place) in figures.consist.racks.iter().enumerate() {
        let (Some(vehicle), Some(kind)) = (
            figures.plan.train.vehicles.get(place.vehicle),
            figures.plan.train.rack_types.get(place.rack_type),
        ) else {
            continue;
        };
        let at = FigurePlace::Rack(vehicle.mark.clone(), place.number);
        keep(FigureKind::RackLoad, at, &|loads| {
            Some((Quantity::mass(loads.rack_kg(rack)), kind.rack_rating_kg))
        });
    }
    all
}

/// Reads a figure and what it may be off a state; none where it cannot be said.
type Reader<'r> = dyn Fn(&StateFigures) -> Option<(Quantity, Option<f64>)> + 'r;

/// The reading of the state that uses most, or, without anything to compare with, has the largest value.
fn worst(states: &[&StateFigures], value: &Reader<'_>) -> Option<FigureReading> {
    let read = states.iter().filter_map(|loads| {
        let (value, capacity) = value(loads)?;
        Some(FigureReading { value, capacity, state: loads.state })
    });
    let weight = |reading: &FigureReading| (reading.used().unwrap_or(0.0), reading.value.value);
    // The first of several that are alike, so that departure is named rather than a later state.
    read.reduce(|worst, next| {
        let (kept, new) = (weight(&worst), weight(&next));
        let more = new.0.total_cmp(&kept.0).then(new.1.total_cmp(&kept.1)).is_gt();
        if more { next } else { worst }
    })
}

fn vehicle_readings(
    figures: &Figures,
    place: &VehiclePlace,
    keep: &mut impl FnMut(FigureKind, FigurePlace, &Reader<'_>),
) {
    let plan = &figures.plan;
    let (Some(vehicle), Some(kind)) =
        (plan.train.vehicles.get(place.vehicle), plan.train.vehicle_types.get(place.vehicle_type))
    else {
        return;
    };
    let at = place.vehicle;
    let mut of_vehicle =
        |figure, read: &dyn Fn(&VehicleLoads) -> Option<Quantity>, capacity: &Capacity<'_>| {
            keep(figure, FigurePlace::Vehicle(vehicle.mark.clone()), &|loads| {
                Some((read(loads.vehicles.get(at)?)?, capacity(loads.state)))
            });
        };
    let fixed = |kg: Option<f64>| move |_: usize| kg;
    of_vehicle(
        FigureKind::Payload,
        &|loads| Some(Quantity::mass(loads.payload_kg)),
        &fixed(kind.payload_rating_kg),
    );
    let two_axle = place.axles_per_support == 1;
    let ratio = if two_axle { LimitKind::TwoAxleRatio } else { LimitKind::BogieRatio };
    let ratio = |state| figures.accepted_limit(ratio, state);
    of_vehicle(FigureKind::SupportRatio, &|loads| Some(Quantity::ratio(loads.support_ratio())), &ratio);
    let height = |state| figures.accepted_limit(LimitKind::CentreHeight, state);
    of_vehicle(FigureKind::CentreHeight, &|loads| loads.centre_height_m.map(Quantity::length_m), &height);
    let capacities = capacities(figures, kind, two_axle);
    for support in 0..2 {
        for (figure, read) in SUPPORT_FIGURES {
            let place = FigurePlace::Support(vehicle.mark.clone(), support);
            keep(figure, place, &|loads| {
                let support = loads.vehicles.get(at)?.supports.get(support)?;
                Some((read(support), capacities(figure, loads.state)))
            });
        }
    }
}

/// What may be, in a state.
type Capacity<'c> = dyn Fn(usize) -> Option<f64> + 'c;

/// A load of a support.
type OfSupport = fn(&SupportLoads) -> Quantity;

const SUPPORT_FIGURES: [(FigureKind, OfSupport); 4] = [
    (FigureKind::SupportLoad, |loads| Quantity::mass(loads.load_kg)),
    (FigureKind::AxleLoad, |loads| Quantity::mass(loads.axle_kg)),
    (FigureKind::WheelLoad, |loads| Quantity::mass(loads.largest_wheel_kg())),
    (FigureKind::WheelRatio, |loads| Quantity::ratio(loads.worse_ratio())),
];

/// What the loads of a support may be, by figure and state: ratings, line class and accepted limits.
fn capacities<'f>(
    figures: &'f Figures,
    kind: &'f VehicleType,
    two_axle: bool,
) -> impl Fn(FigureKind, usize) -> Option<f64> + 'f {
    let axle_kg = figures.plan.least_axle_rating_kg(kind);
    move |figure, state| match figure {
        FigureKind::SupportLoad => {
            if two_axle {
                axle_kg
            } else {
                kind.bogie_rating_kg
            }
        }
        FigureKind::AxleLoad => axle_kg,
        FigureKind::WheelLoad => kind.wheel_rating_kg,
        FigureKind::WheelRatio => figures.accepted_limit(LimitKind::WheelRatio, state),
        _ => None,
    }
}
