//! What the strings held on one wagon do to it: its couplings and its axles under braking or buffing.

use super::holding::{Held, rack_friction_n};
use super::{Figures, PlacedString};
use crate::units::STANDARD_GRAVITY_M_S2;

/// The lengthwise load of the strings held on one vehicle, in the train's own braking or buffing case.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HoldingWagon {
    /// Index of the vehicle.
    pub vehicle: usize,
    /// How many strings are held on it.
    pub strings: usize,
    /// Their mass in kg.
    pub held_kg: f64,
    /// The deceleration: the larger of the train's own braking and buffing, in m/s2.
    pub deceleration_m_per_s2: f64,
    /// What the held strings push or pull, less friction on other racks where entered, in N.
    pub force_n: f64,
    /// The force in the coupling beside it by which the rest of the train brakes the strings held here and
    /// beyond, in N: the sum, from an end of the train, of what each vehicle bears less what it holds, times the
    /// braking deceleration, every vehicle braked in proportion to what it weighs. Zero where no braking is entered.
    pub through_n: f64,
    /// Moment of `force_n` about the coupling's height in N m; none where a height is not entered.
    pub moment_nm: Option<f64>,
    /// What one axle gains at one end of the wagon, and loses at the other, in kg: moment over the distance of
    /// the supports, shared by a support's axles; none where a height is not entered.
    pub axle_kg: Option<f64>,
}

impl HoldingWagon {
    /// The larger of the held strings' own force and the force that passes through, in N.
    pub fn coupling_n(&self) -> f64 {
        self.force_n.max(self.through_n)
    }
}

impl Figures {
    /// The vehicles on which strings are held in a state, from the front.
    ///
    /// None where neither a braking nor a buffing deceleration is entered. Strings that are not held once are
    /// left out.
    pub fn holding_wagons(&self, state: usize) -> Option<Vec<HoldingWagon>> {
        let route = &self.plan.route;
        let deceleration_m_per_s2 = match (route.braking_m_per_s2, route.buffing_m_per_s2) {
            (None, None) => return None,
            (braking, buffing) => braking.unwrap_or(0.0).max(buffing.unwrap_or(0.0)),
        };
        let mut wagons: Vec<HoldingWagon> = (0..self.consist.vehicles.len())
            .map(|vehicle| HoldingWagon {
                vehicle,
                deceleration_m_per_s2,
                moment_nm: Some(0.0),
                ..HoldingWagon::default()
            })
            .collect();
        for placed in self.present(state) {
            let Held::At(hold) = Held::of(self, placed) else { continue };
            wagons[self.consist.racks[hold].vehicle].add(self, placed, hold);
        }
        let mut sum_kg: f64 = 0.0;
        for (wagon, kg) in wagons.iter_mut().zip(self.borne_less_held_kg(state)) {
            let before_kg = sum_kg;
            sum_kg += kg;
            wagon.through_n = before_kg.abs().max(sum_kg.abs()) * route.braking_m_per_s2.unwrap_or(0.0);
            wagon.finish(self);
        }
        wagons.retain(|wagon| wagon.strings > 0);
        Some(wagons)
    }

    /// By vehicle, what it bears of the strings that are held once, less the strings held on it, in kg.
    pub fn borne_less_held_kg(&self, state: usize) -> Vec<f64> {
        let mut net_kg = vec![0.0; self.consist.vehicles.len()];
        for placed in self.present(state) {
            let Held::At(hold) = Held::of(self, placed) else { continue };
            for (rack, kg) in placed.racks.clone().zip(&placed.carried_kg) {
                net_kg[self.consist.racks[rack].vehicle] += kg;
                net_kg[self.consist.racks[hold].vehicle] -= kg;
            }
        }
        net_kg
    }
}

impl HoldingWagon {
    fn add(&mut self, figures: &Figures, placed: &PlacedString, hold: usize) {
        let vertical_g = figures.plan.route.accelerations.as_ref().map_or(0.0, |set| set.vertical_g);
        let racks = placed.racks.clone();
        let friction_n = (1.0 - vertical_g).max(0.0)
            * (rack_friction_n(figures, placed, racks.start..hold)
                + rack_friction_n(figures, placed, hold + 1..racks.end));
        let force_n = (placed.mass_kg * self.deceleration_m_per_s2 - friction_n).max(0.0);
        let kind = &figures.plan.train.vehicle_types[figures.consist.vehicles[self.vehicle].vehicle_type];
        let axis_m = figures.plan.sections[placed.section].neutral_axis_mm.map(|mm| mm / 1000.0);
        let seat_m = placed.seat_m.get(hold - racks.start).copied().flatten();
        let arm_m = seat_m
            .zip(axis_m)
            .zip(kind.coupling_height)
            .map(|((seat_m, axis_m), coupling)| seat_m + axis_m - coupling.m());
        self.strings += 1;
        self.held_kg += placed.mass_kg;
        self.force_n += force_n;
        self.moment_nm = self.moment_nm.zip(arm_m).map(|(moment_nm, arm_m)| moment_nm + force_n * arm_m);
    }

    fn finish(&mut self, figures: &Figures) {
        let place = &figures.consist.vehicles[self.vehicle];
        let axles = f64::from(place.axles_per_support);
        self.axle_kg = self
            .moment_nm
            .map(|moment_nm| moment_nm.abs() / place.support_distance_m / axles / STANDARD_GRAVITY_M_S2);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{Plan, RackRef, VehicleMark};
    use crate::statics::Scope;
    use crate::units::Length;
    use std::sync::Arc;

    /// 50 strings of 500 m, each held at rack 2 of the wagons named, in turn; 1.2 m/s2.
    fn plan(wagons: &[usize]) -> Plan {
        let mut plan = empty_plan(27);
        for tier in 1..=5 {
            for lane in 1..=10 {
                place(&mut plan, &format!("T{tier}L{lane}"), 500_000, (tier, lane, 18_650));
            }
        }
        for (placement, wagon) in plan.placements.iter_mut().zip(wagons.iter().cycle()) {
            let vehicle = VehicleMark::new(&format!("W{wagon}")).unwrap();
            placement.holds = vec![RackRef { vehicle, rack: 2 }];
        }
        // The mean seat stands 500 mm above the lowest and the neutral axis 80.9 mm above the seat: 0.95 m above
        // the coupling at 880.9 mm.
        plan.train.vehicle_types[0].deck_height = Some(Length::from_mm(1_100));
        plan.sections[0].neutral_axis_mm = Some(80.0);
        plan.train.vehicle_types[0].coupling_height = Some(Length::from_mm(880));
        plan.route.braking_m_per_s2 = Some(1.2);
        plan
    }

    fn wagons(plan: Plan) -> Vec<HoldingWagon> {
        Figures::of(Arc::new(plan), Scope::One(0)).holding_wagons(0).unwrap()
    }

    fn near(value: f64, expected: f64, share: f64) {
        assert!((value - expected).abs() <= share * expected.abs(), "{value} against {expected}");
    }

    // Project reference (mechanics.md 4): 1505 t at 1.2 m/s2, no friction: 1.81 MN, 0.95 m above the coupler,
    // pivots 14.2 m: axle +-6.2 t.
    #[test]
    fn all_strings_held_on_one_wagon_load_it_as_the_reference_says() {
        let found = wagons(plan(&[14]));
        assert_eq!((found.len(), found[0].vehicle, found[0].strings), (1, 13, 50));
        near(found[0].held_kg, 1_505_250.0, 1e-9);
        near(found[0].force_n, 1.81e6, 0.005);
        near(found[0].coupling_n(), found[0].force_n, 1e-12);
        near(found[0].moment_nm.unwrap() / found[0].force_n, 0.95, 1e-9);
        near(found[0].axle_kg.unwrap(), 6_200.0, 0.01);
    }

    #[test]
    fn held_on_five_wagons_each_takes_a_fifth_and_their_sum_stays() {
        let found = wagons(plan(&[12, 13, 14, 15, 16]));
        assert_eq!(found.iter().map(|wagon| wagon.strings).collect::<Vec<_>>(), [10; 5]);
        near(found[2].force_n, 1.806e6 / 5.0, 0.001);
        near(found.iter().map(|wagon| wagon.force_n).sum(), 1_505_250.0 * 1.2, 1e-9);
        // The load is even along the train: the wagons in front of the five bear 10.5 of 25.1 parts of it.
        near(found[0].through_n, 1_505_250.0 * 1.2 * (11.0 * 19.9 - 18.65) / 500.0, 0.01);
        near(found[0].through_n, found[4].through_n, 0.01);
        near(found[0].coupling_n(), found[0].through_n, 1e-12);
    }

    #[test]
    fn the_larger_of_braking_and_buffing_counts_and_one_of_them_must_be_entered() {
        let mut plan = plan(&[14]);
        plan.route.buffing_m_per_s2 = Some(2.4);
        near(wagons(plan.clone())[0].force_n, 1_505_250.0 * 2.4, 1e-9);
        plan.route.braking_m_per_s2 = None;
        near(wagons(plan.clone())[0].through_n + 1.0, 1.0, 1e-12);
        plan.route.buffing_m_per_s2 = None;
        assert_eq!(Figures::of(Arc::new(plan), Scope::One(0)).holding_wagons(0), None);
    }

    #[test]
    fn strings_that_have_left_or_are_not_held_once_load_no_wagon() {
        let mut plan = plan(&[14]);
        plan.placements[0].holds.clear();
        plan.drops.push(drop_off("Site", &["T5L1", "T5L2"]));
        let figures = Figures::of(Arc::new(plan), Scope::All);
        let strings =
            |state| figures.holding_wagons(state).unwrap().iter().map(|wagon| wagon.strings).sum::<usize>();
        assert_eq!((strings(0), strings(1), strings(2)), (49, 48, 47));
    }

    #[test]
    fn without_a_height_the_force_is_known_and_the_axles_are_not() {
        let mut plan = plan(&[14]);
        plan.train.vehicle_types[0].coupling_height = None;
        let found = wagons(plan);
        assert_eq!((found[0].moment_nm, found[0].axle_kg), (None, None));
        near(found[0].force_n, 1.81e6, 0.005);
    }
}
