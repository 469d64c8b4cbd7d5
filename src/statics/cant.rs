//! Cant and speed: how much load the wheels of one side lose, and when a vehicle overturns.

use super::{Figures, StateFigures, VehicleLoads, VehiclePlace};
use crate::model::{Plan, Route, Springs};
use crate::units::STANDARD_GRAVITY_M_S2;

/// A sideways case of the route.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CantCase {
    /// Standing on cant.
    Standing {
        /// Height of one rail over the other in m.
        cant_m: f64,
    },
    /// Running through a curve at a speed.
    AtSpeed {
        /// Index into `route.curves`.
        curve: usize,
        /// Speed in m/s.
        speed_m_per_s: f64,
        /// Radius in m.
        radius_m: f64,
        /// Cant in m.
        cant_m: f64,
    },
    /// Running at the route's greatest cant deficiency.
    Deficiency {
        /// Cant that is missing to the balance of the speed, in m.
        deficiency_m: f64,
    },
}

impl CantCase {
    /// The cases that a route gives the data for, standing first.
    pub fn of(route: &Route) -> Vec<Self> {
        let standing = route.greatest_cant_mm.map(|mm| Self::Standing { cant_m: mm / 1000.0 });
        let at_speed = route.curves.iter().enumerate().filter_map(|(curve, on)| {
            let speed_kmh = on.speed_kmh.or(route.speed_kmh)?;
            Some(Self::AtSpeed {
                curve,
                speed_m_per_s: speed_kmh / 3.6,
                radius_m: on.radius_m,
                cant_m: on.cant_mm? / 1000.0,
            })
        });
        let deficiency = route.cant_deficiency_mm.map(|mm| Self::Deficiency { deficiency_m: mm / 1000.0 });
        standing.into_iter().chain(at_speed).chain(deficiency).collect()
    }

    /// Sideways acceleration along the deck over g, outward positive: v^2/(R g) - D/b.
    pub fn side_g(&self, contact_m: f64) -> f64 {
        match *self {
            Self::Standing { cant_m } => -cant_m / contact_m,
            Self::AtSpeed { speed_m_per_s, radius_m, cant_m, .. } => {
                speed_m_per_s * speed_m_per_s / (radius_m * STANDARD_GRAVITY_M_S2) - cant_m / contact_m
            }
            Self::Deficiency { deficiency_m } => deficiency_m / contact_m,
        }
    }

    /// Whether the train stands.
    pub fn stands(&self) -> bool {
        matches!(self, Self::Standing { .. })
    }
}

/// What is not entered for the roll of a body on its springs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RollGap {
    /// No spring rates at all, so no roll stiffness.
    Springs,
    /// No height of the springs' tops.
    SpringHeight,
    /// No sprung part of the tare.
    SprungTare,
}

impl RollGap {
    /// The missing thing in a sentence.
    pub fn words(self) -> &'static str {
        match self {
            Self::Springs => "no roll stiffness (spring rates)",
            Self::SpringHeight => "no height of the springs",
            Self::SprungTare => "no sprung part of the tare",
        }
    }
}

/// One vehicle of one state as to cant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaning {
    /// Height of the gross centre above the rail in m.
    pub height_m: f64,
    /// Distance of the load's centre from the middle over the support that is worse off, in m.
    pub offset_m: f64,
    /// Between the wheels' contact points in m.
    pub contact_m: f64,
    /// By how much the body's roll on its springs multiplies the lever: s of 1 + s.
    pub roll: Result<f64, RollGap>,
}

impl Leaning {
    /// A vehicle of a worked state; none where the height of its gross centre is not known.
    pub fn of(figures: &Figures, state: &StateFigures, vehicle: usize) -> Option<Self> {
        let place = figures.consist.vehicles.get(vehicle)?;
        let loads = state.vehicles.get(vehicle)?;
        Some(Self {
            height_m: loads.centre_height_m?,
            offset_m: worst_offset_m(loads, place.contact_m),
            contact_m: place.contact_m,
            roll: roll(&figures.plan, place, loads),
        })
    }

    /// Share of its wheels' load that one side loses: dQ/Q = 2 [h (1 + s) |a/g| + |y|] / b, with s = 0 for a
    /// rigid body.
    pub fn unloading(&self, side_g: f64, s: f64) -> f64 {
        2.0 * (self.height_m * (1.0 + s) * side_g.abs() + self.offset_m) / self.contact_m
    }

    /// Sideways acceleration over g that takes all load off one side: (b/2 - |y|) / (h (1 + s)).
    pub fn overturning_g(&self, s: f64) -> f64 {
        (self.contact_m / 2.0 - self.offset_m) / (self.height_m * (1.0 + s))
    }
}

/// Largest sideways place of the load of a support, whichever way the body shares the sideways moment.
fn worst_offset_m(loads: &VehicleLoads, contact_m: f64) -> f64 {
    let sides = loads.supports.iter().flat_map(|support| [support.stiff, support.soft]);
    sides
        .map(|side| {
            let sum_kg = side.left_kg + side.right_kg;
            if sum_kg > 0.0 { (side.right_kg - side.left_kg).abs() / sum_kg * contact_m / 2.0 } else { 0.0 }
        })
        .fold(0.0, f64::max)
}

/// s = W h_s / (k - W h_s): W sprung weight, h_s its height above the springs, k the vehicle's roll stiffness.
///
/// The sprung part of the tare is taken to have its centre where the whole tare has, or at the springs' tops
/// where that is higher. Without bound where the springs cannot hold the body upright.
fn roll(plan: &Plan, place: &VehiclePlace, loads: &VehicleLoads) -> Result<f64, RollGap> {
    let kind = &plan.train.vehicle_types[place.vehicle_type];
    let springs: &Springs = kind.springs.as_ref().ok_or(RollGap::Springs)?;
    let springs_m = springs.spring_height_mm.ok_or(RollGap::SpringHeight)? / 1000.0;
    let sprung_tare_kg = springs.sprung_tare_kg.ok_or(RollGap::SprungTare)?;
    let tare_kg = loads.gross_kg - loads.payload_kg;
    let tare_m = kind.tare_cog_height_mm.unwrap_or_default() / 1000.0;
    let load_kg_m = loads.centre_height_m.unwrap_or_default() * loads.gross_kg - tare_m * tare_kg;
    let above_kg_m =
        load_kg_m - loads.payload_kg * springs_m + sprung_tare_kg * (tare_m - springs_m).max(0.0);
    let tilting_nm = above_kg_m * STANDARD_GRAVITY_M_S2;
    let upright_nm = 2.0 * springs.roll_nm_per_rad - tilting_nm;
    Ok(if upright_nm > 0.0 { tilting_nm.max(0.0) / upright_nm } else { f64::INFINITY })
}

/// By how much a body's roll on its springs multiplies the lever in a worked state: s of 1 + s.
///
/// # Errors
/// [`RollGap`] for what is not entered.
pub fn roll_of(figures: &Figures, state: &StateFigures, vehicle: usize) -> Result<f64, RollGap> {
    let place = figures.consist.vehicles.get(vehicle).ok_or(RollGap::Springs)?;
    let loads = state.vehicles.get(vehicle).ok_or(RollGap::Springs)?;
    roll(&figures.plan, place, loads)
}

/// How far a body leans in rad toward the heavier side by its load's side moment, right down positive: the moment
/// over what the springs have left; none where it is not on entered springs.
pub fn tilt_rad(figures: &Figures, state: &StateFigures, vehicle: usize) -> Result<f64, RollGap> {
    let place = figures.consist.vehicles.get(vehicle).ok_or(RollGap::Springs)?;
    let loads = state.vehicles.get(vehicle).ok_or(RollGap::Springs)?;
    let kind = &figures.plan.train.vehicle_types[place.vehicle_type];
    let springs = kind.springs.as_ref().ok_or(RollGap::Springs)?;
    // Without heights the stiffness alone holds the body.
    let more = roll(&figures.plan, place, loads).unwrap_or(0.0);
    let moment_nm = loads.centre_y_m * loads.gross_kg * STANDARD_GRAVITY_M_S2;
    Ok(moment_nm / (2.0 * springs.roll_nm_per_rad) * (1.0 + more))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::model::{Curve, MassEntry, StatedBasis};
    use crate::statics::Scope;
    use std::sync::Arc;

    const SPRINGS: Springs = Springs {
        front_n_per_m: 4.0e6,
        rear_n_per_m: 4.0e6,
        roll_nm_per_rad: 4.0e6,
        frame_n_per_m: None,
        envelope: None,
        spring_height_mm: Some(700.0),
        sprung_tare_kg: Some(16_000.0),
    };

    /// One wagon with two strings of `kg` each in mirrored lanes of tier 3.
    fn plan(kg: f64) -> Plan {
        let mut plan = empty_plan(1);
        for (mark, lane) in [("S1", 1), ("S2", 10)] {
            place(&mut plan, mark, 18_000, (3, lane, 950));
            plan.order.last_mut().unwrap().mass = MassEntry::Stated { kg, basis: StatedBasis::Weighed };
        }
        plan
    }

    fn leaning(plan: Plan) -> Leaning {
        let figures = Figures::of(Arc::new(plan), Scope::All);
        Leaning::of(&figures, &figures.worked[0], 0).unwrap()
    }

    fn check(found: f64, expected: f64, slack: f64) {
        assert!((found - expected).abs() <= slack, "{found} for {expected}");
    }

    // Mechanics.md 5: a full load with its centre at 1.65 m on 150 mm standing: 22 % rigid, 25 % on springs.
    // The springs: k 8 MN m/rad; W h_s for 88 t of gross, 80 t of them sprung, that stands 1.22 m above them.
    #[test]
    fn a_full_load_on_150_mm_of_cant_unloads_22_percent_and_25_on_springs() {
        let on_cant = CantCase::Standing { cant_m: 0.15 };
        let rigid = Leaning { height_m: 1.65, offset_m: 0.0, contact_m: 1.5, roll: Err(RollGap::Springs) };
        check(rigid.unloading(on_cant.side_g(1.5), 0.0), 0.22, 1.0e-12);
        // Load 66 t: its centre 1.25 + 0.65 + 0.0809 m; with 24 t at 0.7 m the gross centre is 1.639 m high.
        let mut plan = plan(33_000.0);
        plan.train.vehicle_types[0].springs = Some(SPRINGS);
        let lean = leaning(plan);
        check(lean.height_m, 1.65, 0.012);
        let s = lean.roll.unwrap();
        // Hand: W h_s = 66 t x (1.9809 - 0.7) m x g = 829 kN m; s = 829 / (8,000 - 829) = 0.1156.
        check(s, 0.1156, 0.0001);
        check(lean.unloading(on_cant.side_g(1.5), s), 0.25, 0.007);
    }

    // Hand: 250 m at 80 km/h, v^2/Rg = 493.8/2451.7 = 0.2014; 100 mm of cant take 0.0667; 0.1347 are left.
    #[test]
    fn speed_and_cant_work_against_each_other() {
        let mut route = Route { speed_kmh: Some(80.0), ..Route::default() };
        let curve =
            Curve { radius_m: 250.0, arc_m: None, transition_m: 0.0, cant_mm: Some(100.0), speed_kmh: None };
        route.curves = vec![curve, Curve { cant_mm: None, ..curve }, Curve { speed_kmh: Some(0.0), ..curve }];
        route.cant_deficiency_mm = Some(90.0);
        let sides: Vec<f64> = CantCase::of(&route).iter().map(|case| case.side_g(1.5)).collect();
        assert_eq!(sides.len(), 3);
        check(sides[0], 0.1347, 1.0e-4);
        check(sides[1], -0.1 / 1.5, 1.0e-12);
        check(sides[2], 0.06, 1.0e-12);
        route.greatest_cant_mm = Some(180.0);
        assert!(CantCase::of(&route)[0].stands());
    }

    // EBO's balance (shared facts, section 5): 11.82 V^2/R mm on standard gauge, 1.5 m between contacts.
    #[test]
    fn the_cant_of_balance_leaves_nothing() {
        let case = CantCase::AtSpeed {
            curve: 0,
            speed_m_per_s: 100.0 / 3.6,
            radius_m: 600.0,
            cant_m: 11.82e-3 * 100.0 * 100.0 / 600.0,
        };
        check(case.side_g(1.5), 0.0, 2.0e-4);
    }

    // Side offset of the gross centre, shared facts, section 6: wheel ratio 1.25 at 83.3 mm: the lighter side has
    // lost (1.25 - 1)/(1.25 + 1) = 11.1 %.
    #[test]
    fn a_load_beside_the_middle_has_lost_its_share_before_it_leans() {
        let lean = Leaning { height_m: 1.65, offset_m: 0.08333, contact_m: 1.5, roll: Ok(0.0) };
        check(lean.unloading(0.0, 0.0), 0.25 / 2.25, 1.0e-4);
        // At the overturning acceleration nothing is left.
        for s in [0.0, 0.2] {
            check(lean.unloading(lean.overturning_g(s), s), 1.0, 1.0e-12);
        }
    }

    #[test]
    fn what_the_springs_lack_is_named() {
        assert_eq!(leaning(plan(9_000.0)).roll, Err(RollGap::Springs));
        let with = |springs: Springs| {
            let mut plan = plan(9_000.0);
            plan.train.vehicle_types[0].springs = Some(springs);
            leaning(plan).roll
        };
        assert_eq!(with(Springs { spring_height_mm: None, ..SPRINGS }), Err(RollGap::SpringHeight));
        assert_eq!(with(Springs { sprung_tare_kg: None, ..SPRINGS }), Err(RollGap::SprungTare));
        // Stiff springs are the rigid body; springs too soft let it fall over.
        assert!(with(Springs { roll_nm_per_rad: 1.0e12, ..SPRINGS }).unwrap() < 1.0e-6);
        assert_eq!(with(Springs { roll_nm_per_rad: 1.0e4, ..SPRINGS }), Ok(f64::INFINITY));
    }

    // Hand: one string of 9 t at -1.2 m, k 8 MN m/rad: 105.9 kN m / 8 MN m = 13.2 mrad to the left and a little
    // more for the lean itself: 9 t x 1.2809 m x g = 113 kN m, s = 0.0143.
    #[test]
    fn a_load_on_one_side_tilts_the_body_toward_it() {
        let mut plan = plan(9_000.0);
        plan.placements.truncate(1);
        plan.train.vehicle_types[0].springs = Some(SPRINGS);
        let tilt = |plan: &Plan| {
            let figures = Figures::of(Arc::new(plan.clone()), Scope::All);
            tilt_rad(&figures, &figures.worked[0], 0)
        };
        check(tilt(&plan).unwrap(), -0.01324 * 1.0143, 2.0e-5);
        plan.train.vehicle_types[0].springs = None;
        assert_eq!(tilt(&plan), Err(RollGap::Springs));
    }
}
