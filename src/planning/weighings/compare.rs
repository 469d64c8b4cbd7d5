//! Each reading beside the computed value of the same part, and their sums by wagon and for the train.

use super::Contradiction;
use super::repeated::contradictions;
use crate::model::{Plan, WeighedPart, Weighing};
use crate::statics::{Figures, Scope, SupportLoads, VehicleLoads};
use std::sync::Arc;

/// Readings beside computed values, in the state before departure.
#[derive(Clone, Debug)]
pub struct Weighed {
    /// The figures of that state.
    pub figures: Figures,
    /// One for each reading of the plan, in its order.
    pub readings: Vec<ComparedReading>,
    /// Readings of one part that contradict each other.
    pub contradictions: Vec<Contradiction>,
    /// One for each vehicle that the readings weigh whole: by one reading, by all its axles or by all its wheels.
    /// Whole readings that contradict each other stand each by itself; a vehicle whose axles or wheels do is left out.
    pub vehicles: Vec<(usize, SumOfReadings)>,
    /// The sum over those vehicles; none where there is none, or where readings of one of them contradict each other.
    pub train: Option<SumOfReadings>,
}

/// A reading beside the computed value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ComparedReading {
    /// Index of the vehicle.
    pub vehicle: usize,
    /// The part that was weighed.
    pub part: WeighedPart,
    /// What was read, in kg.
    pub read_kg: f64,
    /// What is computed, in kg; of a wheel midway between the two assumptions on the body (stiff and soft).
    pub computed_kg: f64,
    /// How far either assumption on the body is from that, in kg; 0 but for wheels.
    pub body_kg: f64,
    /// The scale's tolerance for this reading in kg; none: not entered.
    pub tolerance_kg: Option<f64>,
}

/// A sum of readings beside that of computed values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SumOfReadings {
    /// How many vehicles it is over.
    pub vehicles: usize,
    /// What was read, in kg.
    pub read_kg: f64,
    /// What is computed, in kg.
    pub computed_kg: f64,
    /// The tolerance of the sum in kg: independent tolerances add by their squares (JCGM 100:2008, 5.1.2); none
    /// where a reading has none.
    pub tolerance_kg: Option<f64>,
}

impl ComparedReading {
    /// Read less computed, in kg.
    pub fn difference_kg(&self) -> f64 {
        self.read_kg - self.computed_kg
    }

    /// The largest difference that fits, in kg: the scale's tolerance and what the body leaves open; none without a
    /// tolerance.
    pub fn allowed_kg(&self) -> Option<f64> {
        self.tolerance_kg.map(|tolerance_kg| tolerance_kg + self.body_kg)
    }

    /// Whether the reading fits the computed value; none without a tolerance.
    pub fn fits(&self) -> Option<bool> {
        self.allowed_kg().map(|allowed_kg| self.difference_kg().abs() <= allowed_kg)
    }
}

impl SumOfReadings {
    const NONE: Self = Self { vehicles: 0, read_kg: 0.0, computed_kg: 0.0, tolerance_kg: Some(0.0) };

    /// A part of a sum.
    fn of(reading: &ComparedReading) -> Self {
        let ComparedReading { read_kg, computed_kg, tolerance_kg, .. } = *reading;
        Self { vehicles: 0, read_kg, computed_kg, tolerance_kg }
    }

    /// Read less computed, in kg.
    pub fn difference_kg(&self) -> f64 {
        self.read_kg - self.computed_kg
    }

    /// Whether the sum fits; none without a tolerance.
    pub fn fits(&self) -> Option<bool> {
        self.tolerance_kg.map(|tolerance_kg| self.difference_kg().abs() <= tolerance_kg)
    }

    fn and(self, other: Self) -> Self {
        Self {
            vehicles: self.vehicles + other.vehicles,
            read_kg: self.read_kg + other.read_kg,
            computed_kg: self.computed_kg + other.computed_kg,
            tolerance_kg: self.tolerance_kg.zip(other.tolerance_kg).map(|(one, two)| one.hypot(two)),
        }
    }
}

impl Weighed {
    /// Compares the readings of `plan`, which is the load as it is, and has no
    /// [`problems`](crate::model::problems).
    pub fn of(plan: &Arc<Plan>) -> Self {
        let figures = Figures::of(Arc::clone(plan), Scope::One(0));
        let loads = figures.worked.first().map(|state| state.vehicles.as_slice()).unwrap_or_default();
        let compared = |weighing: &Weighing| {
            let vehicle = plan.train.vehicles.iter().position(|vehicle| vehicle.mark == weighing.vehicle)?;
            let axles = figures.consist.vehicles.get(vehicle)?.axles_per_support;
            Some(ComparedReading::of(weighing, vehicle, (loads.get(vehicle)?, axles)))
        };
        let readings: Vec<_> = plan.weighings.iter().filter_map(compared).collect();
        let count = figures.consist.vehicles.len();
        let contradictions = contradictions(&readings);
        let whole = |vehicle: usize| {
            let axles = 2 * figures.consist.vehicles[vehicle].axles_per_support;
            let sums = whole_vehicle((&readings, &contradictions), vehicle, axles);
            sums.into_iter().map(move |sum| (vehicle, sum))
        };
        let vehicles: Vec<_> = (0..count).flat_map(whole).collect();
        let sums = vehicles.iter().map(|(_, sum)| *sum);
        let train = sums.reduce(SumOfReadings::and).filter(|_| contradictions.is_empty());
        Self { figures, readings, contradictions, vehicles, train }
    }

    /// What is computed of a part of a vehicle in kg, of a wheel midway between the two assumptions on the body; none
    /// where the train has no such vehicle.
    pub fn computed_kg(&self, vehicle: usize, part: WeighedPart) -> Option<f64> {
        let loads = self.figures.worked.first()?.vehicles.get(vehicle)?;
        let axles = self.figures.consist.vehicles.get(vehicle)?.axles_per_support;
        Some(computed(loads, part, axles).0)
    }

    /// How many readings do not fit.
    pub fn misfits(&self) -> usize {
        self.readings.iter().filter(|reading| reading.fits() == Some(false)).count()
    }

    /// How many readings have no tolerance, so that nobody can say whether they fit.
    pub fn not_judged(&self) -> usize {
        self.readings.iter().filter(|reading| reading.tolerance_kg.is_none()).count()
    }
}

impl ComparedReading {
    fn of(weighing: &Weighing, vehicle: usize, (loads, axles_per_support): (&VehicleLoads, u32)) -> Self {
        let (computed_kg, body_kg) = computed(loads, weighing.part, axles_per_support);
        Self {
            vehicle,
            part: weighing.part,
            read_kg: weighing.kg,
            computed_kg,
            body_kg,
            tolerance_kg: weighing.tolerance.map(|share| share * weighing.kg),
        }
    }
}

/// What is computed of a part in kg, and how far either assumption on the body is from that.
fn computed(loads: &VehicleLoads, part: WeighedPart, axles_per_support: u32) -> (f64, f64) {
    match part {
        WeighedPart::Vehicle => (loads.gross_kg, 0.0),
        part => part_of(&loads.supports, part, axles_per_support),
    }
}

/// What the supports put on an axle or a wheel in kg, and how far either assumption on the body is from that.
pub(super) fn part_of(supports: &[SupportLoads; 2], part: WeighedPart, axles_per_support: u32) -> (f64, f64) {
    let support = |axle: u32| &supports[usize::from(axle > axles_per_support)];
    let between =
        |stiff_kg: f64, soft_kg: f64| (f64::midpoint(stiff_kg, soft_kg), (stiff_kg - soft_kg).abs() / 2.0);
    match part {
        WeighedPart::Vehicle => (supports[0].load_kg + supports[1].load_kg, 0.0),
        WeighedPart::Axle(axle) => (support(axle).axle_kg, 0.0),
        WeighedPart::LeftWheel(axle) => between(support(axle).stiff.left_kg, support(axle).soft.left_kg),
        WeighedPart::RightWheel(axle) => between(support(axle).stiff.right_kg, support(axle).soft.right_kg),
    }
}

/// The vehicle as a whole: by its last whole reading, else by the sum of its axles, each by its last reading or by
/// its two wheels; nothing where one of them was not read or is contradicted. Whole readings that contradict each other
/// come all.
fn whole_vehicle(
    (readings, contradictions): (&[ComparedReading], &[Contradiction]),
    vehicle: usize,
    axles: u32,
) -> Vec<SumOfReadings> {
    let of = |part: WeighedPart| {
        readings.iter().filter(move |one| one.vehicle == vehicle && one.part == part).map(SumOfReadings::of)
    };
    let is_doubtful =
        |part: WeighedPart| contradictions.iter().any(|one| (one.vehicle, one.part) == (vehicle, part));
    let last = |part: WeighedPart| of(part).next_back().filter(|_| !is_doubtful(part));
    let axle = |axle: u32| {
        let wheels = || Some(last(WeighedPart::LeftWheel(axle))?.and(last(WeighedPart::RightWheel(axle))?));
        match is_doubtful(WeighedPart::Axle(axle)) {
            true => None,
            false => last(WeighedPart::Axle(axle)).or_else(wheels),
        }
    };
    if is_doubtful(WeighedPart::Vehicle) {
        return of(WeighedPart::Vehicle).map(|sum| SumOfReadings { vehicles: 1, ..sum }).collect();
    }
    let by_axles = || (1..=axles).map(axle).try_fold(SumOfReadings::NONE, |sum, one| Some(sum.and(one?)));
    let sum = last(WeighedPart::Vehicle).or_else(by_axles);
    sum.into_iter().map(|sum| SumOfReadings { vehicles: 1, ..sum }).collect()
}

#[cfg(test)]
mod tests {
    use super::super::trial::{loaded, reading};
    use super::*;

    fn weighed(readings: &[(&str, WeighedPart, f64)]) -> Weighed {
        let mut plan = loaded();
        plan.weighings = readings.iter().map(|(vehicle, part, kg)| reading(vehicle, *part, *kg)).collect();
        Weighed::of(&Arc::new(plan))
    }

    #[test]
    fn a_reading_is_compared_with_the_very_figure_of_its_part() {
        use WeighedPart::{Axle, LeftWheel, RightWheel, Vehicle};
        let found = weighed(&[
            ("W2", Vehicle, 30_000.0),
            ("W2", Axle(1), 8_000.0),
            ("W2", Axle(4), 8_000.0),
            ("W2", LeftWheel(3), 4_000.0),
            ("W2", RightWheel(3), 4_000.0),
        ]);
        let loads = found.figures.worked[0].vehicles[1];
        let [front, rear] = loads.supports;
        let computed: Vec<f64> = found.readings.iter().map(|one| one.computed_kg).collect();
        let wheel = |stiff: f64, soft: f64| f64::midpoint(stiff, soft);
        let expected = [
            loads.gross_kg,
            front.axle_kg,
            rear.axle_kg,
            wheel(rear.stiff.left_kg, rear.soft.left_kg),
            wheel(rear.stiff.right_kg, rear.soft.right_kg),
        ];
        assert_eq!(computed, expected);
        assert!((computed[3] + computed[4] - rear.axle_kg).abs() < 1.0e-9);
    }

    #[test]
    fn a_reading_fits_up_to_its_tolerance() {
        let computed_kg = weighed(&[("W3", WeighedPart::Vehicle, 1.0)]).readings[0].computed_kg;
        // 2 % of the reading: it fits from computed / 1.02 to computed / 0.98.
        for (share, fits) in
            [(1.0 / 1.019, true), (1.0 / 1.021, false), (1.0 / 0.981, true), (1.0 / 0.979, false)]
        {
            let found = weighed(&[("W3", WeighedPart::Vehicle, computed_kg * share)]);
            assert_eq!(found.readings[0].fits(), Some(fits), "{share}");
            assert_eq!(found.misfits(), usize::from(!fits));
        }
        let mut plan = loaded();
        plan.weighings = vec![Weighing { tolerance: None, ..reading("W3", WeighedPart::Vehicle, 1.0) }];
        let found = Weighed::of(&Arc::new(plan));
        assert_eq!((found.readings[0].fits(), found.misfits(), found.not_judged()), (None, 0, 1));
    }

    #[test]
    fn a_wagon_is_weighed_whole_by_one_reading_by_axles_or_by_wheels() {
        use WeighedPart::{Axle, LeftWheel, RightWheel, Vehicle};
        let mut readings = vec![("W1", Vehicle, 25_500.0), ("W1", Vehicle, 25_000.0), ("W1", Axle(1), 1.0)];
        readings.extend((1..=4).map(|axle| ("W2", Axle(axle), 7_000.0)));
        readings.extend((1..=3).map(|axle| ("W3", Axle(axle), 7_000.0)));
        readings.extend([("W3", LeftWheel(4), 3_000.0), ("W3", RightWheel(4), 4_000.0)]);
        let found = weighed(&readings);
        let read: Vec<(usize, f64)> = found.vehicles.iter().map(|(at, sum)| (*at, sum.read_kg)).collect();
        assert_eq!(read, [(0, 25_000.0), (1, 28_000.0), (2, 28_000.0)], "the last reading counts");
        // By hand: 2 % of 7,000 kg is 140 kg; four of them add to 280 kg by their squares.
        assert!((found.vehicles[1].1.tolerance_kg.unwrap() - 280.0).abs() < 1.0e-9);
        let train = found.train.unwrap();
        assert_eq!((train.vehicles, train.read_kg), (3, 81_000.0));
        readings.pop();
        let found = weighed(&readings);
        assert_eq!(found.vehicles.len(), 2, "a wheel of W3 was not read");
        assert_eq!(weighed(&[]).train, None);
    }

    #[test]
    fn readings_of_one_part_that_contradict_each_other_stand_beside_each_other_and_in_no_sum() {
        use WeighedPart::{Axle, Vehicle};
        let mut readings = vec![("W1", Vehicle, 30_430.0), ("W1", Vehicle, 24_430.0)];
        readings.extend((1..=4).map(|axle| ("W2", Axle(axle), 7_000.0)));
        let found = weighed(&readings);
        let read = |found: &Weighed| -> Vec<(usize, f64)> {
            found.vehicles.iter().map(|(at, sum)| (*at, sum.read_kg)).collect()
        };
        assert_eq!(found.contradictions[0].readings, [0, 1]);
        assert_eq!((read(&found), found.train), (vec![(0, 30_430.0), (0, 24_430.0), (1, 28_000.0)], None));
        readings.remove(1);
        readings.push(("W2", Axle(3), 9_000.0));
        let found = weighed(&readings);
        assert_eq!((read(&found), found.train), (vec![(0, 30_430.0)], None), "an axle of W2 is doubtful");
        readings.pop();
        assert!(weighed(&readings).train.is_some());
    }
}
