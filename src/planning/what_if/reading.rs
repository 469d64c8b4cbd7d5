//! The loads at one value of a knob, and what is plotted of them.

use crate::checks::Subject;
use crate::model::{Limit, LimitKind, Plan};
use crate::statics::{Consist, Figures, StateRule, SupportLoads, VehicleLoads};
use crate::units::Quantity;

/// The loads of a train at one value of the knob that is turned, or in one state.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The knob's value, in its unit; or the state, by index.
    pub value: i64,
    /// Loads of each vehicle.
    pub vehicles: Vec<VehicleLoads>,
    /// Load of each rack of the consist in kg.
    pub racks_kg: Vec<f64>,
    /// How the state is judged: by running or by working values.
    pub rule: StateRule,
    /// How many strings cannot be carried there: they lie on no rack or tip.
    pub in_trouble: usize,
}

impl Reading {
    /// The loads of `figures` at departure; none where that state is not worked out.
    pub fn of(value: i64, figures: &Figures) -> Option<Self> {
        Self::in_state(value, figures, 0)
    }

    /// The loads of `figures` in a state; none where it is not worked out.
    pub fn in_state(value: i64, figures: &Figures, at: usize) -> Option<Self> {
        let state = figures.state(at)?;
        let rule = figures.states.get(at)?.rule;
        let racks_kg = (0..figures.consist.racks.len()).map(|rack| state.rack_kg(rack)).collect();
        let in_trouble = figures.present(at).filter(|placed| placed.beam.is_err()).count();
        Some(Self { value, vehicles: state.vehicles.clone(), racks_kg, rule, in_trouble })
    }
}

/// What is plotted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Plotted {
    /// Load of an axle of the front bogie (or the front axle) of the wagon looked at; of all, the worst axle.
    FrontAxle,
    /// The same of the rear bogie; nothing where all wagons are looked at.
    RearAxle,
    /// Larger over smaller bogie load (or axle load of a two-axle wagon).
    BogieRatio,
    /// Larger over smaller wheel load, by the worse of the two assumptions on the body.
    WheelRatio,
    /// Load of the rack looked at; of all, the worst.
    RackLoad,
}

/// Which wagon and which rack are looked at; none: the worst at each value.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Focus {
    /// The vehicle, by index.
    pub vehicle: Option<usize>,
    /// The rack, by index into the consist.
    pub rack: Option<usize>,
}

/// What bounds a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bound {
    /// This value, in the figure's SI unit.
    Entered(f64),
    /// A limit of the plan that nobody has accepted yet.
    NotAccepted(f64),
    /// Nothing is entered: there is no line, and the figure cannot pass.
    Missing,
}

impl Bound {
    /// Its value, where one is entered.
    pub fn value(self) -> Option<f64> {
        match self {
            Self::Entered(value) | Self::NotAccepted(value) => Some(value),
            Self::Missing => None,
        }
    }

    fn of(value: Option<f64>) -> Self {
        value.map_or(Self::Missing, Self::Entered)
    }

    /// The share of it that `value` uses; without a bound the value itself, which ranks like ones alike.
    fn used(self, value: f64) -> f64 {
        self.value().map_or(value, |bound| value / bound)
    }
}

/// One figure with what bounds it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// The working's name of the figure, such as `axle-load`.
    pub figure: &'static str,
    /// The thing that it is of.
    pub subject: Subject,
    /// The figure.
    pub quantity: Quantity,
    /// What bounds it.
    pub bound: Bound,
}

impl Measure {
    /// Whether the figure keeps its bound; none where there is none.
    pub fn holds(&self) -> Option<bool> {
        let most = self.bound.value()?;
        Some(self.quantity.value <= most * (1.0 + 1.0e-9))
    }
}

/// A limit of the plan, which may have another value in working states.
#[derive(Clone, Copy, Debug)]
struct ByRule {
    running: Bound,
    working: Bound,
}

impl ByRule {
    fn of(limit: Option<&Limit>) -> Self {
        let bound = |value: fn(&Limit) -> f64| match limit {
            Some(limit) if limit.accepted_by.is_some() => Bound::Entered(value(limit)),
            Some(limit) => Bound::NotAccepted(value(limit)),
            None => Bound::Missing,
        };
        Self { running: bound(|limit| limit.running), working: bound(Limit::working_value) }
    }

    fn in_state(&self, rule: StateRule) -> Bound {
        match rule {
            StateRule::Running => self.running,
            StateRule::Working | StateRule::NoteOnly => self.working,
        }
    }
}

/// The ratings and limits of a plan, by vehicle and by rack.
#[derive(Clone, Debug)]
pub struct Bounds {
    axles: Vec<Bound>,
    supports: Vec<ByRule>,
    wheel: ByRule,
    racks: Vec<Bound>,
    /// By vehicle: whether its supports are single axles.
    single: Vec<bool>,
    /// By vehicle: whether it has racks.
    carries: Vec<bool>,
}

impl Bounds {
    /// The bounds that `plan` enters for its train: of axles the least of rating and line class.
    pub fn of(plan: &Plan, consist: &Consist) -> Self {
        let limit = |kind| ByRule::of(plan.limits.get(kind));
        let single = |place: &crate::statics::VehiclePlace| place.axles_per_support == 1;
        let axle = |place: &crate::statics::VehiclePlace| {
            let kind = plan.train.vehicle_types.get(place.vehicle_type);
            Bound::of(kind.and_then(|kind| plan.least_axle_rating_kg(kind)))
        };
        let rack = |place: &crate::statics::RackPlace| {
            Bound::of(plan.train.rack_types.get(place.rack_type).and_then(|kind| kind.rack_rating_kg))
        };
        let support =
            |place| limit(if single(place) { LimitKind::TwoAxleRatio } else { LimitKind::BogieRatio });
        let vehicles = &consist.vehicles;
        Self {
            axles: vehicles.iter().map(axle).collect(),
            supports: vehicles.iter().map(support).collect(),
            wheel: limit(LimitKind::WheelRatio),
            racks: consist.racks.iter().map(rack).collect(),
            single: vehicles.iter().map(single).collect(),
            carries: vehicles.iter().map(|place| !place.racks.is_empty()).collect(),
        }
    }

    /// What `plotted` is at `reading`; none where the thing looked at has no such figure.
    pub fn measure(&self, reading: &Reading, plotted: Plotted, focus: Focus) -> Option<Measure> {
        let candidates: Vec<Measure> = match plotted {
            Plotted::RackLoad => match focus.rack {
                Some(rack) => self.rack(reading, rack).into_iter().collect(),
                None => (0..reading.racks_kg.len()).filter_map(|rack| self.rack(reading, rack)).collect(),
            },
            Plotted::RearAxle => {
                focus.vehicle.and_then(|vehicle| self.axle(reading, vehicle, 1)).into_iter().collect()
            }
            _ => self
                .looked_at(focus)
                .flat_map(|vehicle| self.of_vehicle(reading, plotted, (vehicle, focus)))
                .collect(),
        };
        candidates.into_iter().reduce(worse)
    }

    fn looked_at(&self, focus: Focus) -> impl Iterator<Item = usize> {
        let all = focus.vehicle.is_none();
        let vehicles = (0..self.carries.len()).filter(move |vehicle| all && self.carries[*vehicle]);
        focus.vehicle.into_iter().chain(vehicles)
    }

    fn of_vehicle(&self, reading: &Reading, plotted: Plotted, at: (usize, Focus)) -> Vec<Measure> {
        let (vehicle, focus) = at;
        let both = [0, 1].into_iter();
        match plotted {
            Plotted::FrontAxle if focus.vehicle.is_some() => {
                self.axle(reading, vehicle, 0).into_iter().collect()
            }
            Plotted::FrontAxle | Plotted::RearAxle => {
                both.filter_map(|support| self.axle(reading, vehicle, support)).collect()
            }
            Plotted::WheelRatio => {
                both.filter_map(|support| self.wheels(reading, vehicle, support)).collect()
            }
            Plotted::BogieRatio => self.ratio(reading, vehicle).into_iter().collect(),
            Plotted::RackLoad => Vec::new(),
        }
    }

    fn support(&self, vehicle: usize, support: usize) -> Subject {
        match self.single.get(vehicle) {
            Some(true) => Subject::Axle(vehicle, support),
            _ => Subject::Support(vehicle, support),
        }
    }

    fn axle(&self, reading: &Reading, vehicle: usize, support: usize) -> Option<Measure> {
        let loads: &SupportLoads = reading.vehicles.get(vehicle)?.supports.get(support)?;
        Some(Measure {
            figure: "axle-load",
            subject: self.support(vehicle, support),
            quantity: Quantity::mass(loads.axle_kg),
            bound: *self.axles.get(vehicle)?,
        })
    }

    fn wheels(&self, reading: &Reading, vehicle: usize, support: usize) -> Option<Measure> {
        let loads: &SupportLoads = reading.vehicles.get(vehicle)?.supports.get(support)?;
        Some(Measure {
            figure: "wheel-balance",
            subject: self.support(vehicle, support),
            quantity: Quantity::ratio(loads.worse_ratio()),
            bound: self.wheel.in_state(reading.rule),
        })
    }

    fn ratio(&self, reading: &Reading, vehicle: usize) -> Option<Measure> {
        Some(Measure {
            figure: if *self.single.get(vehicle)? { "axle-ratio" } else { "bogie-ratio" },
            subject: Subject::Vehicle(vehicle),
            quantity: Quantity::ratio(reading.vehicles.get(vehicle)?.support_ratio()),
            bound: self.supports.get(vehicle)?.in_state(reading.rule),
        })
    }

    fn rack(&self, reading: &Reading, rack: usize) -> Option<Measure> {
        Some(Measure {
            figure: "rack-load",
            subject: Subject::Rack(rack),
            quantity: Quantity::mass(*reading.racks_kg.get(rack)?),
            bound: *self.racks.get(rack)?,
        })
    }
}

/// The one that uses more of its bound; where a bound is missing, the larger. Of two that differ by rounding alone it
/// is the first, so that like things do not take turns along a curve.
fn worse(a: Measure, b: Measure) -> Measure {
    let both = a.bound.value().is_some() && b.bound.value().is_some();
    let use_of = |measure: &Measure| {
        if both { measure.bound.used(measure.quantity.value) } else { measure.quantity.value }
    };
    if use_of(&b) > use_of(&a) * (1.0 + 1.0e-9) { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::statics::Scope;
    use std::sync::Arc;

    /// One string of 20 m in lane 1 on the racks of the middle wagon of three: a third of 1,204.2 kg and a little
    /// more on the outer racks, the bogies alike.
    fn read(change: impl Fn(&mut Plan)) -> (Reading, Bounds) {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 20_000, (1, 1, 19_850));
        change(&mut plan);
        let figures = Figures::of(Arc::new(plan), Scope::One(0));
        (Reading::of(0, &figures).unwrap(), Bounds::of(&figures.plan, &figures.consist))
    }

    fn check(plotted: Plotted, focus: Focus, subject: Subject, value: f64) {
        let (reading, bounds) = read(|_| ());
        let measure = bounds.measure(&reading, plotted, focus).unwrap();
        assert_eq!(measure.subject, subject);
        assert!((measure.quantity.value - value).abs() < 1.0e-4 * value, "{measure:?}");
    }

    // Axle: (24,000 + 1,204.2) / 4 = 6,301.05 kg. Wheels, stiff and soft alike: the centre of the gross mass is
    // 1,204.2 x 1.2 / 25,204.2 = 0.057334 m to the left: (0.75 + 0.057334) / (0.75 - 0.057334) = 1.16555.
    #[test]
    fn the_worst_is_found_and_the_wagon_looked_at_is_kept_to() {
        let all = Focus::default();
        let first = Focus { vehicle: Some(0), rack: Some(0) };
        check(Plotted::WheelRatio, all, Subject::Support(1, 0), 1.165_55);
        check(Plotted::WheelRatio, first, Subject::Support(0, 0), 1.0);
        check(Plotted::FrontAxle, first, Subject::Support(0, 0), 6_000.0);
        check(Plotted::RearAxle, Focus { vehicle: Some(1), rack: None }, Subject::Support(1, 1), 6_301.05);
        let (reading, bounds) = read(|_| ());
        assert!(bounds.measure(&reading, Plotted::RearAxle, all).is_none());
        let empty = bounds.measure(&reading, Plotted::RackLoad, first).unwrap();
        assert!(empty.quantity.value.abs() < 1.0e-12);
    }

    #[test]
    fn a_bound_is_the_least_of_rating_and_class_and_a_missing_one_is_missing() {
        let bound = |change: &dyn Fn(&mut Plan)| {
            let (reading, bounds) = read(change);
            bounds.measure(&reading, Plotted::FrontAxle, Focus::default()).unwrap().bound
        };
        assert_eq!(bound(&|_| ()), Bound::Entered(22_500.0));
        assert_eq!(
            bound(&|plan| plan.train.vehicle_types[0].axle_rating_kg = Some(20_000.0)),
            Bound::Entered(20_000.0)
        );
        assert_eq!(
            bound(&|plan| plan.train.vehicle_types[0].axle_rating_kg = None),
            Bound::Entered(22_500.0)
        );
        let none = |plan: &mut Plan| {
            plan.train.vehicle_types[0].axle_rating_kg = None;
            plan.route.line_class = None;
        };
        assert_eq!(bound(&none), Bound::Missing);
    }

    #[test]
    fn a_working_state_keeps_to_the_working_value_of_a_limit() {
        let (mut reading, bounds) = read(|plan| {
            let wheel = plan.limits.entries.get_mut(&LimitKind::WheelRatio).unwrap();
            (wheel.running, wheel.working) = (1.1, Some(1.2));
        });
        let holds = |reading: &Reading| {
            bounds.measure(reading, Plotted::WheelRatio, Focus::default()).unwrap().holds()
        };
        assert_eq!(holds(&reading), Some(false));
        for rule in [StateRule::Working, StateRule::NoteOnly] {
            reading.rule = rule;
            assert_eq!(holds(&reading), Some(true));
        }
    }

    #[test]
    fn a_limit_that_nobody_accepted_is_told_as_such() {
        let (reading, bounds) = read(|plan| {
            plan.limits.entries.get_mut(&LimitKind::WheelRatio).unwrap().accepted_by = None;
        });
        let measure = bounds.measure(&reading, Plotted::WheelRatio, Focus::default()).unwrap();
        assert_eq!(measure.bound, Bound::NotAccepted(1.25));
        assert_eq!(measure.holds(), Some(true));
    }
}
