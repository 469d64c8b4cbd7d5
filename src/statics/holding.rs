//! What the hold of each string must take: by its acceleration, by an impact's wave; and what buckles.

use super::impact::{HalfSine, Rod};
use super::placed::modulus_pa;
use super::{Figures, PlacedString};
use crate::model::{Accelerations, TrainEnd};
use crate::units::STANDARD_GRAVITY_M_S2;
use std::collections::HashMap;
use std::f64::consts::PI;
use std::ops::Range;

/// Where a string is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// At no rack that stands under it.
    Nowhere,
    /// At one rack under it, an index into [`Consist::racks`](super::Consist::racks).
    At(usize),
    /// At more than one place.
    Several,
}

impl Held {
    /// Where `placed` is held; a hold at a rack that is not there, or not under it, holds nothing.
    pub fn of(figures: &Figures, placed: &PlacedString) -> Self {
        let holds = figures.plan.placements.get(placed.placement).map(|at| at.holds.as_slice());
        match holds.unwrap_or_default() {
            [] => Self::Nowhere,
            [hold] => figures
                .consist
                .rack_named(&figures.plan, hold)
                .filter(|rack| placed.racks.contains(rack))
                .map_or(Self::Nowhere, Self::At),
            _ => Self::Several,
        }
    }
}

/// What a string's hold must take in the securing accelerations, and what its pushed part must.
#[derive(Clone, Debug, PartialEq)]
pub struct StringHolding {
    /// Where it is held.
    pub held: Held,
    /// Mass times the lengthwise acceleration, in N.
    pub inertia_n: f64,
    /// Friction on all racks but the hold, lightened by the vertical acceleration, in N.
    pub friction_n: f64,
    /// What the hold must take: inertia less friction, zero or above, in N.
    pub force_n: f64,
    /// What it must take in an impact; none where no speed change is entered or it is not held once.
    pub impact: Option<ImpactForce>,
    /// The worst span of the part in front of the hold, and of the part behind it, when pushed toward the hold;
    /// none where a part has no span, or the string is not held once.
    pub pushed: [Option<Pushed>; 2],
}

/// The force of an impact on one hold, by the wave in the rod that the string is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ImpactForce {
    /// The rod.
    pub rod: Rod,
    /// From the hold to the front end and to the rear end, in m.
    pub sides_m: [f64; 2],
    /// Speed change of the impact in m/s.
    pub change_m_per_s: f64,
    /// What no impact of that speed change exceeds: Z dv for each side with rail, in N.
    pub bound_n: f64,
    /// The peak for a half sine of that speed change whose peak is the set's lengthwise acceleration, in N;
    /// none where that acceleration is zero.
    pub half_sine_n: Option<f64>,
}

/// What pushes a part of a string toward its hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PushedBy {
    /// Its own mass in the lengthwise acceleration.
    Inertia,
    /// The head of an impact's wave, Z dv.
    Impact,
}

/// A span between two racks in the part of a string that is pushed toward its hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pushed {
    /// The part in front of the hold, or behind it.
    pub part: TrainEnd,
    /// The rack in front of the span, an index into the consist's racks.
    pub from: usize,
    /// Between its two racks in m.
    pub span_m: f64,
    /// Largest compression in it in N.
    pub compression_n: f64,
    /// What makes that compression.
    pub by: PushedBy,
    /// The force at which it buckles sideways as a strut hinged at both racks, pi^2 E Iy / l^2, in N; none
    /// where the section has no second moment of area about the vertical axis.
    pub euler_n: Option<f64>,
}

/// The holding of every string, by [`Figures::placed`].
#[derive(Clone, Debug, PartialEq)]
pub struct Holding {
    /// One per placement worked out.
    pub strings: Vec<StringHolding>,
}

impl Holding {
    /// Works out the holding of every string; none where no accelerations are entered.
    pub(super) fn of(figures: &Figures) -> Option<Self> {
        let set = figures.plan.route.accelerations.as_ref()?;
        let mut peaks = Peaks::new();
        let strings = figures.placed.iter().map(|placed| Holder { figures, placed, set }.holding(&mut peaks));
        Some(Self { strings: strings.collect() })
    }
}

/// Peaks already found, by what they depend on under one set of accelerations: the bits of a rod's impedance and
/// wave speed, and of the two sides. Strings of one kind held alike share them.
type Peaks = HashMap<[u64; 4], f64>;

/// One string in a set of accelerations.
struct Holder<'f> {
    figures: &'f Figures,
    placed: &'f PlacedString,
    set: &'f Accelerations,
}

impl Holder<'_> {
    fn holding(&self, peaks: &mut Peaks) -> StringHolding {
        let held = Held::of(self.figures, self.placed);
        let inertia_n = self.placed.mass_kg * self.acceleration_m_per_s2();
        let racks = self.placed.racks.clone();
        let friction_n = match held {
            Held::Nowhere => self.friction_n(racks),
            Held::At(hold) => self.friction_n(racks.start..hold) + self.friction_n(hold + 1..racks.end),
            // Two holds share in a way that no statics can tell; nothing is taken off.
            Held::Several => 0.0,
        };
        let (impact, pushed) = match held {
            Held::At(hold) => (
                self.impact(hold, peaks),
                [self.pushed(hold, TrainEnd::Front), self.pushed(hold, TrainEnd::Rear)],
            ),
            Held::Nowhere | Held::Several => (None, [None, None]),
        };
        let force_n = (inertia_n - friction_n).max(0.0);
        StringHolding { held, inertia_n, friction_n, force_n, impact, pushed }
    }

    fn acceleration_m_per_s2(&self) -> f64 {
        self.set.longitudinal_g * STANDARD_GRAVITY_M_S2
    }

    /// Friction on some of the racks it crosses; none where no coefficient is entered.
    fn friction_n(&self, racks: Range<usize>) -> f64 {
        let lightened = (1.0 - self.set.vertical_g).max(0.0);
        rack_friction_n(self.figures, self.placed, racks) * lightened
    }

    fn rod(&self) -> Rod {
        let plan = &self.figures.plan;
        let length_m = (self.placed.rear - self.placed.front).m();
        let area_m2 = plan.sections[self.placed.section].area_cm2 * 1.0e-4;
        Rod::new(modulus_pa(plan, &plan.order[self.placed.string]), area_m2, self.placed.mass_kg / length_m)
    }

    fn impact(&self, hold: usize, peaks: &mut Peaks) -> Option<ImpactForce> {
        let change_m_per_s = self.set.impact_m_per_s?;
        let rod = self.rod();
        let x = self.figures.consist.racks[hold].x;
        let sides_m = [(x - self.placed.front).m(), (self.placed.rear - x).m()];
        let pulse = HalfSine::with_speed_change(self.acceleration_m_per_s2(), change_m_per_s);
        let [front_m, rear_m] = sides_m;
        let key = [rod.impedance_n_s_per_m, rod.wave_m_per_s, front_m, rear_m].map(f64::to_bits);
        let half_sine_n =
            pulse.map(|pulse| *peaks.entry(key).or_insert_with(|| rod.half_sine_peak_n(sides_m, pulse)));
        Some(ImpactForce {
            rod,
            sides_m,
            change_m_per_s,
            bound_n: rod.bound_n(sides_m, change_m_per_s),
            half_sine_n,
        })
    }

    /// The span nearest to buckling in one part, its racks taken as guides whether they carry or not.
    ///
    /// Inertia presses a span as much as all rail farther out than its inner rack, less the friction out there;
    /// an impact's wave presses every span alike.
    fn pushed(&self, hold: usize, part: TrainEnd) -> Option<Pushed> {
        let plan = &self.figures.plan;
        let consist = &self.figures.consist;
        let section = &plan.sections[self.placed.section];
        let modulus_pa = modulus_pa(plan, &plan.order[self.placed.string]);
        let stiffness_n_m2 = section.iy_cm4.map(|iy_cm4| modulus_pa * iy_cm4 * 1.0e-8);
        let n_per_m =
            self.placed.mass_kg / (self.placed.rear - self.placed.front).m() * self.acceleration_m_per_s2();
        let wave_n = self.set.impact_m_per_s.map_or(0.0, |change| self.rod().impedance_n_s_per_m * change);
        let racks = match part {
            TrainEnd::Front => self.placed.racks.start..hold,
            TrainEnd::Rear => hold..self.placed.racks.end.saturating_sub(1),
        };
        let spans = racks.map(|from| {
            let (front_x, rear_x) = (consist.racks[from].x, consist.racks[from + 1].x);
            let (outside_m, outside) = match part {
                TrainEnd::Front => ((rear_x - self.placed.front).m(), self.placed.racks.start..from + 1),
                TrainEnd::Rear => ((self.placed.rear - front_x).m(), from + 1..self.placed.racks.end),
            };
            let inertia_n = (n_per_m * outside_m - self.friction_n(outside)).max(0.0);
            let by = if wave_n > inertia_n { PushedBy::Impact } else { PushedBy::Inertia };
            let span_m = (rear_x - front_x).m();
            let euler_n = stiffness_n_m2.map(|stiffness| PI * PI * stiffness / (span_m * span_m));
            Pushed { part, from, span_m, compression_n: inertia_n.max(wave_n), by, euler_n }
        });
        // Without a stiffness the longest way to say the same: compression times the span squared.
        let weight = |pushed: &Pushed| pushed.compression_n * pushed.span_m * pushed.span_m;
        spans.max_by(|a, b| weight(a).total_cmp(&weight(b)))
    }
}

/// Friction on some of the racks that a string crosses, in N, each by its type's coefficient where entered.
pub(super) fn rack_friction_n(figures: &Figures, placed: &PlacedString, racks: Range<usize>) -> f64 {
    let carried = |rack: usize| {
        let kg = placed.carried_kg.get(rack.checked_sub(placed.racks.start)?)?;
        Some(kg * STANDARD_GRAVITY_M_S2)
    };
    racks
        .filter_map(|rack| {
            let kind = figures.consist.racks[rack].rack_type;
            Some(figures.plan.train.rack_types[kind].friction? * carried(rack)?)
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{accelerations, empty_plan, place};
    use crate::model::{Plan, RackRef, VehicleMark};
    use crate::statics::Scope;
    use std::sync::Arc;

    /// One string on 27 wagons, its front end at 3 m, held at rack 2 of `wagon`.
    fn plan(length_m: i64, wagon: usize, change: fn(&mut Accelerations)) -> Plan {
        let mut plan = empty_plan(27);
        place(&mut plan, "S1", length_m * 1000, (1, 1, 3_000));
        plan.placements[0].holds = vec![hold(wagon)];
        let mut set = accelerations();
        change(&mut set);
        plan.route.accelerations = Some(set);
        plan
    }

    fn hold(wagon: usize) -> RackRef {
        RackRef { vehicle: VehicleMark::new(&format!("W{wagon}")).unwrap(), rack: 2 }
    }

    fn holding(plan: Plan) -> StringHolding {
        let figures = Figures::of(Arc::new(plan), Scope::One(0));
        figures.holding().unwrap().strings[0].clone()
    }

    fn near(value: f64, expected: f64, share: f64) {
        assert!((value - expected).abs() <= share * expected.abs(), "{value} against {expected}");
    }

    // Project reference (mechanics.md 4): by m a at 1 g, 60E1: 500 m 295 kN, 120 m 71 kN.
    #[test]
    fn by_mass_times_acceleration_500_m_ask_for_295_kn_and_120_m_for_71_kn() {
        near(holding(plan(500, 13, |_| ())).force_n, 295.0e3, 0.002);
        near(holding(plan(120, 3, |_| ())).force_n, 71.0e3, 0.003);
    }

    // Hand calculation: all racks carry the whole weight W together, so friction on all but the hold is
    // mu (1 - cv) (W - N at the hold).
    #[test]
    fn friction_counts_on_the_other_racks_only_where_entered_and_lightened() {
        let with = |friction: Option<f64>| {
            let mut plan = plan(100, 3, |set| set.vertical_g = 0.3);
            plan.train.rack_types[0].friction = friction;
            let figures = Figures::of(Arc::new(plan), Scope::One(0));
            let Held::At(hold) = Held::of(&figures, &figures.placed[0]) else { panic!("held once") };
            let at_hold_kg = figures.placed[0].carried_kg[hold - figures.placed[0].racks.start];
            (figures.holding().unwrap().strings[0].clone(), at_hold_kg)
        };
        let (none, at_hold_kg) = with(None);
        near(none.friction_n + 1.0, 1.0, 1e-12);
        near(with(Some(0.0)).0.force_n, none.force_n, 1e-12);
        let (some, _) = with(Some(0.2));
        let expected_n = 0.2 * 0.7 * (6_021.0 - at_hold_kg) * STANDARD_GRAVITY_M_S2;
        near(some.friction_n, expected_n, 1e-9);
        near(some.force_n, some.inertia_n - expected_n, 1e-9);
        // Friction can hold all of it, and pulls nothing.
        let mut held_by_friction = plan(100, 3, |set| set.longitudinal_g = 0.05);
        held_by_friction.train.rack_types[0].friction = Some(0.2);
        near(holding(held_by_friction).force_n + 1.0, 1.0, 1e-12);
    }

    // Project reference (mechanics.md 4): 4 g over 50 ms, 1.25 m/s: 109 kN for 36 m held at an end; held in
    // the middle 778 kN for 500 m.
    #[test]
    fn an_impact_is_told_by_its_bound_and_by_a_half_sine() {
        let humped = |set: &mut Accelerations| {
            set.longitudinal_g = 4.0;
            set.impact_m_per_s = Some(1.25);
        };
        let middle = holding(plan(500, 13, humped)).impact.unwrap();
        near(middle.bound_n, 778.0e3, 0.002);
        near(middle.half_sine_n.unwrap(), 778.0e3, 0.002);
        near(middle.sides_m[0] + middle.sides_m[1], 500.0, 1e-12);
        assert_eq!(holding(plan(500, 13, |_| ())).impact, None);
        let still = |set: &mut Accelerations| {
            set.longitudinal_g = 0.0;
            set.impact_m_per_s = Some(1.25);
        };
        assert_eq!(holding(plan(500, 13, still)).impact.unwrap().half_sine_n, None);
    }

    // Project reference (mechanics.md 4), 60E1: 241 kN at 6.633 m. The gap of 6.634 m between wagons is as long.
    #[test]
    fn the_part_pushed_toward_the_hold_buckles_between_racks() {
        let held = holding(plan(500, 13, |_| ()));
        let [front, rear] = held.pushed.map(Option::unwrap);
        near(front.euler_n.unwrap(), 241.0e3, 0.003);
        // The hold is at 12 * 19.9 + 9.95 m; the rail in front of it weighs 60.21 kg/m from 3 m on.
        near(front.compression_n, 60.21 * (248.75 - 3.0) * STANDARD_GRAVITY_M_S2, 0.001);
        near(front.compression_n + rear.compression_n, held.inertia_n, 0.001);
        assert_eq!((front.by, rear.part), (PushedBy::Inertia, TrainEnd::Rear));
        let hit = holding(plan(500, 13, |set| set.impact_m_per_s = Some(1.25)));
        near(hit.pushed[0].unwrap().compression_n, 389.0e3, 0.002);
        assert_eq!(hit.pushed[0].unwrap().by, PushedBy::Impact);
    }

    // Project reference (mechanics.md 4), 60E1: 134 kN at 8.9 m, 53 kN at 14.2 m.
    #[test]
    fn a_long_span_away_from_the_hold_can_be_the_worst() {
        let mut plan = plan(100, 3, |_| ());
        for (rack, at_mm) in plan.train.vehicle_types[0].racks.iter_mut().zip([-7_100, 0, 7_100]) {
            rack.at = crate::units::Length::from_mm(at_mm);
        }
        plan.train.vehicle_types[0].racks.remove(1);
        plan.placements[0].holds[0].rack = 1;
        let worst = holding(plan).pushed[1].unwrap();
        near(worst.span_m, 14.2, 1e-9);
        near(worst.euler_n.unwrap(), 53.0e3, 0.01);
    }

    #[test]
    fn a_string_held_nowhere_or_at_two_places_has_no_force_of_a_hold_to_share() {
        let with = |holds: Vec<RackRef>| {
            let mut plan = plan(100, 3, |set| set.impact_m_per_s = Some(1.0));
            plan.placements[0].holds = holds;
            holding(plan)
        };
        for (holds, held) in [
            (vec![], Held::Nowhere),
            (vec![hold(3), hold(4)], Held::Several),
            // Not under the string.
            (vec![hold(20)], Held::Nowhere),
        ] {
            let told = with(holds);
            assert_eq!((told.held, told.impact, told.pushed), (held, None, [None, None]));
            near(told.inertia_n, 6_021.0 * STANDARD_GRAVITY_M_S2, 1e-9);
        }
    }

    #[test]
    fn without_accelerations_nothing_is_worked_out() {
        let mut plan = plan(100, 3, |_| ());
        plan.route.accelerations = None;
        assert_eq!(Figures::of(Arc::new(plan), Scope::One(0)).holding(), None);
    }
}
