//! How far each end of a string moves along the train: in curves, by coupling slack, by heat.
//!
//! Away from the hold is positive: an end that moves out reaches farther past its last rack. A string lies
//! straight from rack to rack, is held at one rack and rolls on the others without friction.

use super::turning::{FixedPlace, SideOffset, Turning};
use super::{Consist, Figures, Held, PlacedString};
use crate::model::{Plan, TrainEnd};

/// What the plan says of the causes of creep, with the train in its curves.
#[derive(Clone, Debug, PartialEq)]
pub struct CreepCauses {
    /// The train in each curve of the route, its reverse curve among them.
    turnings: Vec<Turning>,
    /// Free movement of one coupling in m.
    slack_m: f64,
    /// Difference in temperature of strings against wagon frames in K, both ways.
    temperature_k: f64,
}

/// An entry that creep needs and that nobody made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CreepNeeds {
    /// The route has neither a curve nor a reverse curve.
    Curves,
    /// No coupling slack.
    CouplingSlack,
    /// No temperature range.
    TemperatureRange,
}

/// Why the creep of one string is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoCreep {
    /// It crosses no rack, or a rack has no such lane.
    NoRacks,
    /// It is held nowhere, or at more than one place.
    NotHeldOnce,
    /// It has no steel, or the steel has no expansion.
    NoExpansion,
}

/// The creep of all strings.
#[derive(Clone, Debug, PartialEq)]
pub struct Creep {
    /// What is missing for all of them, or the causes.
    pub causes: Result<CreepCauses, Vec<CreepNeeds>>,
    /// By [`Figures::placed`]: the front and the rear end. Empty where something is missing for all.
    pub strings: Vec<Result<[EndCreep; 2], NoCreep>>,
}

/// The creep of one end of a string.
#[derive(Clone, Debug, PartialEq)]
pub struct EndCreep {
    /// Which end.
    pub end: TrainEnd,
    /// The rack at which the string is held.
    pub hold: usize,
    /// The last rack that the string crosses toward this end.
    pub last_rack: usize,
    /// How far the end reaches past it in m.
    pub overhang_m: f64,
    /// How the end moves against its last rack.
    pub over_last: Shift,
    /// The next rack beyond the end, where there is one.
    pub next: Option<NextRack>,
}

/// The next rack beyond an end.
#[derive(Clone, Debug, PartialEq)]
pub struct NextRack {
    /// Index into [`Consist::racks`].
    pub rack: usize,
    /// Its distance from the end in m.
    pub distance_m: f64,
    /// How the end moves against it.
    pub shift: Shift,
}

/// How an end may move against something fixed to the train, by cause, in m; away from the hold positive.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shift {
    /// Couplings between the hold and the thing.
    pub couplings: usize,
    /// Length of the string from the hold to the end in m.
    pub length_m: f64,
    /// Farthest toward the hold in a curve, zero or below.
    pub curve_in_m: f64,
    /// Farthest away from the hold in a curve, zero or above.
    pub curve_out_m: f64,
    /// Largest turn between the hold's vehicle and the thing's in any curve, in rad.
    pub turn_rad: f64,
    /// Radius of the curve that makes `curve_out_m`, in m; none where none does.
    pub radius_m: Option<f64>,
    /// Whether that curve is the route's reverse curve.
    pub reverse: bool,
    /// The part of `curve_out_m` that the polygon of the vehicles makes.
    pub polygon_m: f64,
    /// The part of `curve_in_m` that it makes, away from the hold positive all the same.
    pub polygon_in_m: f64,
    /// Either way by coupling slack: the couplings times the free movement of one.
    pub slack_m: f64,
    /// Either way by heat: expansion times length times the difference in temperature.
    pub temperature_m: f64,
}

impl Shift {
    /// Farthest toward the hold (zero or below) and away from it (zero or above), all causes together.
    pub fn range_m(&self) -> (f64, f64) {
        let either_way_m = self.slack_m + self.temperature_m;
        (self.curve_in_m - either_way_m, self.curve_out_m + either_way_m)
    }

    /// How far it moves away from the hold.
    pub fn out_m(&self) -> f64 {
        self.range_m().1
    }

    /// How far it moves toward the hold, as a length.
    pub fn in_m(&self) -> f64 {
        -self.range_m().0
    }
}

impl CreepCauses {
    /// Reads them from `plan`.
    ///
    /// # Errors
    /// All entries that are missing.
    fn of(plan: &Plan, consist: &Consist) -> Result<Self, Vec<CreepNeeds>> {
        let route = &plan.route;
        let mut missing = Vec::new();
        if route.curves.is_empty() && route.s_curve.is_none() {
            missing.push(CreepNeeds::Curves);
        }
        match (plan.train.coupling_slack, route.temperature_range_k) {
            (Some(slack), Some(temperature_k)) if missing.is_empty() => {
                let curves = route.curves.iter().map(|curve| Turning::of(consist, curve));
                let reverse = route.s_curve.map(|curve| Turning::of_reverse(consist, curve));
                let turnings = curves.chain(reverse).collect();
                return Ok(Self { turnings, slack_m: slack.m(), temperature_k });
            }
            (slack, temperature_k) => {
                missing.extend(slack.is_none().then_some(CreepNeeds::CouplingSlack));
                missing.extend(temperature_k.is_none().then_some(CreepNeeds::TemperatureRange));
            }
        }
        Err(missing)
    }
}

impl Creep {
    /// Works out the creep of every string.
    pub(super) fn of(figures: &Figures) -> Self {
        let causes = CreepCauses::of(&figures.plan, &figures.consist);
        let strings = match &causes {
            Ok(causes) => figures.placed.iter().map(|placed| ends(figures, causes, placed)).collect(),
            Err(_) => Vec::new(),
        };
        Self { causes, strings }
    }
}

fn ends(figures: &Figures, causes: &CreepCauses, placed: &PlacedString) -> Result<[EndCreep; 2], NoCreep> {
    let way = Way::of(figures, causes, placed)?;
    Ok([way.end(TrainEnd::Front), way.end(TrainEnd::Rear)])
}

impl Figures {
    /// How an end of a string moves against a thing at x (in m) that is fixed to a vehicle beyond that end.
    ///
    /// None where the string's creep is not known (see [`Figures::creep`]).
    pub fn creep_toward(
        &self,
        placed: &PlacedString,
        end: TrainEnd,
        (vehicle, x_m): (usize, f64),
    ) -> Option<Shift> {
        let causes = self.creep().causes.as_ref().ok()?;
        let way = Way::of(self, causes, placed).ok()?;
        let (last, y_m) = way.last(end);
        Some(way.shift(end, last, Some(FixedPlace { vehicle, x_m, y_m })))
    }
}

/// A string that is held once, ready to be followed from its hold.
struct Way<'f> {
    figures: &'f Figures,
    causes: &'f CreepCauses,
    placed: &'f PlacedString,
    hold: usize,
    expansion_per_k: f64,
}

impl<'f> Way<'f> {
    fn of(figures: &'f Figures, causes: &'f CreepCauses, placed: &'f PlacedString) -> Result<Self, NoCreep> {
        if placed.racks.is_empty() || placed.y_m.len() != placed.racks.len() {
            return Err(NoCreep::NoRacks);
        }
        let Held::At(hold) = Held::of(figures, placed) else { return Err(NoCreep::NotHeldOnce) };
        let plan = &figures.plan;
        let steel = plan.order.get(placed.string).and_then(|string| string.steel.as_ref());
        let expansion = steel.and_then(|name| plan.steel(name)).and_then(|steel| steel.expansion_1e6_per_k);
        let expansion_per_k = expansion.ok_or(NoCreep::NoExpansion)? * 1.0e-6;
        Ok(Self { figures, causes, placed, hold, expansion_per_k })
    }

    /// The last rack toward an end, and the string's y there.
    fn last(&self, end: TrainEnd) -> (usize, f64) {
        let y_m = &self.placed.y_m;
        match end {
            TrainEnd::Front => (self.placed.racks.start, y_m[0]),
            TrainEnd::Rear => (self.placed.racks.end - 1, y_m[y_m.len() - 1]),
        }
    }

    fn end(&self, end: TrainEnd) -> EndCreep {
        let racks = &self.figures.consist.racks;
        let (last_rack, last_y_m) = self.last(end);
        let (overhang, next) = match end {
            TrainEnd::Front => (racks[last_rack].x - self.placed.front, last_rack.checked_sub(1)),
            TrainEnd::Rear => (self.placed.rear - racks[last_rack].x, Some(last_rack + 1)),
        };
        let next = next.and_then(|rack| Some((rack, racks.get(rack)?))).map(|(rack, place)| {
            let lane = self.figures.plan.placements[self.placed.placement].lane as usize;
            // A rack without this lane is still in the way of an end.
            let y_m = place.lanes_y_m.get(lane.saturating_sub(1)).copied().unwrap_or(last_y_m);
            let beyond = FixedPlace { vehicle: place.vehicle, x_m: place.x.m(), y_m };
            let distance_m = (place.x - racks[last_rack].x).m().abs() - overhang.m();
            NextRack { rack, distance_m, shift: self.shift(end, last_rack, Some(beyond)) }
        });
        EndCreep {
            end,
            hold: self.hold,
            last_rack,
            overhang_m: overhang.m(),
            over_last: self.shift(end, last_rack, None),
            next,
        }
    }

    /// The movement of an end against rack `last`, or against a place beyond it.
    fn shift(&self, end: TrainEnd, last: usize, beyond: Option<FixedPlace>) -> Shift {
        let consist = &self.figures.consist;
        let (hold_rack, last_rack) = (&consist.racks[self.hold], &consist.racks[last]);
        let end_x = match end {
            TrainEnd::Front => self.placed.front,
            TrainEnd::Rear => self.placed.rear,
        };
        let length_m = (end_x - hold_rack.x).m().abs();
        let vehicle = beyond.map_or(last_rack.vehicle, |place| place.vehicle);
        let couplings = vehicle.abs_diff(hold_rack.vehicle);
        let mut shift = Shift {
            couplings,
            length_m,
            slack_m: couplings as f64 * self.causes.slack_m,
            temperature_m: self.expansion_per_k * length_m * self.causes.temperature_k,
            ..Shift::default()
        };
        let (first, rear) = (self.hold.min(last), self.hold.max(last));
        let at = first - self.placed.racks.start..=rear - self.placed.racks.start;
        let offset = SideOffset::of(&self.placed.y_m[at]);
        let gap = beyond.map(|place| {
            let y_m = self.last(end).1;
            [FixedPlace { vehicle: last_rack.vehicle, x_m: last_rack.x.m(), y_m }, place]
        });
        let turnings = self.causes.turnings.iter();
        for (turning, pose) in
            turnings.flat_map(|turning| turning.poses.iter().map(move |pose| (turning, pose)))
        {
            let [mut polygon_m, mut side_m] = pose.along_racks_m(consist, [first, rear], offset);
            if let Some(gap) = gap {
                let more = pose.along_gap_m(consist, gap);
                polygon_m += more[0];
                side_m += more[1];
            }
            shift.take([polygon_m, side_m.abs()], turning);
            shift.turn_rad = shift.turn_rad.max(pose.turn_rad(hold_rack.vehicle, vehicle).abs());
        }
        shift
    }
}

impl Shift {
    /// Widens it by a pose of the train: the side offset counts for a curve to the left and to the right.
    fn take(&mut self, [polygon_m, side_m]: [f64; 2], turning: &Turning) {
        if polygon_m + side_m > self.curve_out_m {
            self.curve_out_m = polygon_m + side_m;
            self.polygon_m = polygon_m;
            (self.radius_m, self.reverse) = (Some(turning.radius_m), turning.reverse);
        }
        if polygon_m - side_m < self.curve_in_m {
            self.curve_in_m = polygon_m - side_m;
            self.polygon_in_m = polygon_m;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place, steel};
    use crate::model::{Curve, RackRef, SCurve, VehicleMark};
    use crate::statics::Scope;
    use crate::units::Length;
    use std::sync::Arc;

    /// 27 wagons at radius 150 m with no slack and no heat; a string in `lane` held at rack 2 of `wagon`.
    fn plan(lane: u32, wagon: usize) -> Plan {
        let mut plan = empty_plan(27);
        plan.train.coupling_slack = Some(Length::ZERO);
        plan.route.temperature_range_k = Some(0.0);
        plan.route.curves = vec![full_arc(150.0)];
        plan.steels.push(steel());
        place(&mut plan, "S1", 490_000, (1, lane, 3_000));
        plan.order[0].steel = Some(steel().name);
        plan.placements[0].holds =
            vec![RackRef { vehicle: VehicleMark::new(&format!("W{wagon}")).unwrap(), rack: 2 }];
        plan
    }

    fn full_arc(radius_m: f64) -> Curve {
        Curve { radius_m, arc_m: None, transition_m: 0.0, cant_mm: None, speed_kmh: None }
    }

    fn ends(plan: Plan) -> [EndCreep; 2] {
        let figures = Figures::of(Arc::new(plan), Scope::One(0));
        figures.creep().strings[0].clone().unwrap()
    }

    fn near(value: f64, expected: f64, slack: f64) {
        assert!((value - expected).abs() <= slack, "{value} against {expected}");
    }

    // Project reference (mechanics.md 4): 24 gaps at R 150, wagons of 19.9 m with racks at +-6.633 m, held at
    // one end: +4.17 m and -3.47 m at y 1.2 m.
    #[test]
    fn an_end_24_couplings_away_creeps_as_the_reference_says() {
        let [front, rear] = ends(plan(10, 1));
        assert_eq!((rear.over_last.couplings, front.over_last.couplings), (24, 0));
        let (in_m, out_m) = rear.over_last.range_m();
        near(out_m, 4.17, 0.005);
        near(in_m, -3.47, 0.005);
        let theta = 19.9 / 150.0;
        near(out_m, 24.0 * (1.2 * theta + 3.317 * theta * theta / 4.0), 1e-9);
        near(rear.over_last.turn_rad, 24.0 * theta, 1e-9);
        assert_eq!((front.over_last.radius_m, rear.over_last.radius_m), (None, Some(150.0)));
        near(front.over_last.range_m().1, 0.0, 1e-12);
        // The left-most lane is the mirror image.
        let [_, left] = ends(plan(1, 1));
        near(left.over_last.out_m(), out_m, 1e-9);
        near(left.over_last.in_m(), -in_m, 1e-9);
    }

    // Geometry (facts.md 5): a string at lateral offset y over a length L creeps by y L / R; held in the
    // middle, each end by half.
    #[test]
    fn held_in_the_middle_each_end_creeps_half_and_mirrored_holds_are_mirrored() {
        let [front, rear] = ends(plan(10, 13));
        assert_eq!((front.over_last.couplings, rear.over_last.couplings), (12, 12));
        near(front.over_last.out_m(), rear.over_last.out_m(), 1e-9);
        let side_m = front.over_last.curve_out_m - front.over_last.polygon_m;
        near(side_m, 1.2 * 12.0 * 19.9 / 150.0, 1e-9);
    }

    // Project reference (mechanics.md 4): 13 couplings of 20 to 50 mm make 0.26 to 0.65 m.
    #[test]
    fn only_couplings_between_hold_and_end_give_slack() {
        for (slack_mm, expected_m) in [(20, 0.26), (50, 0.65)] {
            let mut plan = plan(5, 12);
            plan.train.coupling_slack = Some(Length::from_mm(slack_mm));
            let [front, rear] = ends(plan);
            assert_eq!((front.over_last.couplings, rear.over_last.couplings), (11, 13));
            near(rear.over_last.slack_m, expected_m, 1e-12);
        }
    }

    // Project reference (mechanics.md 4): 250 m and 40 K, 11.8e-6 per K: 0.12 m.
    #[test]
    fn heat_moves_an_end_by_its_distance_from_the_hold() {
        let mut plan = plan(5, 13);
        plan.route.temperature_range_k = Some(40.0);
        let [front, _] = ends(plan);
        near(front.over_last.length_m, 12.0 * 19.9 + 9.95 - 3.0, 1e-9);
        near(front.over_last.temperature_m, 0.118 * front.over_last.length_m / 250.0, 1e-9);
    }

    // A short arc turns the train by its own length over the radius only.
    #[test]
    fn a_short_arc_moves_an_end_by_its_own_turn() {
        let mut plan = plan(10, 1);
        plan.route.curves[0].arc_m = Some(60.0);
        let [_, rear] = ends(plan);
        near(rear.over_last.turn_rad, 60.0 / 150.0, 1e-9);
        near(rear.over_last.curve_out_m - rear.over_last.polygon_m, 1.2 * 60.0 / 150.0, 1e-9);
        assert!(rear.over_last.polygon_m < 24.0 * 3.317 * (19.9_f64 / 150.0).powi(2) / 4.0 / 5.0);
    }

    // A straight with a huge radius in its place: creep tends to slack and heat alone.
    #[test]
    fn a_nearly_straight_route_moves_nothing_and_the_sharpest_curve_governs() {
        let straight = |radii: &[f64]| {
            let mut plan = plan(10, 1);
            plan.route.curves = radii.iter().map(|radius_m| full_arc(*radius_m)).collect();
            ends(plan)[1].over_last.out_m()
        };
        near(straight(&[1.0e9]), 0.0, 1e-5);
        near(straight(&[1.0e9, 150.0, 300.0]), straight(&[150.0]), 1e-12);
    }

    fn reverse(radius_m: f64, straight_m: f64) -> Option<SCurve> {
        Some(SCurve { radius_m, straight_m })
    }

    // Geometry: the arcs of a reverse curve are longer than the train, and a string that lies in one of them
    // creeps as in a steady curve; across both, the turns cancel and each gap still shortens its polygon.
    #[test]
    fn a_string_in_a_reverse_curve_creeps_at_least_as_in_a_steady_curve_of_its_radius() {
        let mut steady = plan(10, 1);
        steady.route.curves = vec![full_arc(75.0)];
        let [_, steady] = ends(steady);
        for straight_m in [0.0, 10.0] {
            let mut both = plan(10, 1);
            (both.route.curves, both.route.s_curve) = (vec![full_arc(500.0)], reverse(75.0, straight_m));
            let [_, both] = ends(both);
            near(both.over_last.curve_out_m, steady.over_last.curve_out_m, 1e-9);
            near(both.over_last.curve_in_m, steady.over_last.curve_in_m, 1e-9);
            near(both.over_last.turn_rad, 24.0 * 19.9 / 75.0, 1e-9);
            assert_eq!((both.over_last.radius_m, both.over_last.reverse), (Some(75.0), true));
        }
        let mut gentle = plan(10, 1);
        gentle.route.s_curve = reverse(1.0e9, 0.0);
        let [_, gentle] = ends(gentle);
        assert_eq!((gentle.over_last.radius_m, gentle.over_last.reverse), (Some(150.0), false));
    }

    // Project reference (mechanics.md 4), as in a steady curve of the same radius.
    #[test]
    fn a_reverse_curve_alone_is_a_curve() {
        let mut plan = plan(10, 1);
        (plan.route.curves, plan.route.s_curve) = (Vec::new(), reverse(150.0, 10.0));
        let [_, rear] = ends(plan);
        let theta = 19.9 / 150.0;
        near(rear.over_last.curve_out_m, 24.0 * (1.2 * theta + 3.317 * theta * theta / 4.0), 1e-9);
    }

    #[test]
    fn the_next_rack_and_things_beyond_count_the_couplings_up_to_them() {
        let mut plan = plan(10, 13);
        plan.train.coupling_slack = Some(Length::from_mm(10));
        let figures = Figures::of(Arc::new(plan), Scope::One(0));
        // Front end at 3.0 m, 0.317 m past rack 1 of W1; rear end at 493.0 m, past rack 2 of W25 at 487.55 m.
        let [front, rear] = figures.creep().strings[0].clone().unwrap();
        assert_eq!(front.next, None);
        near(front.overhang_m, 0.317, 1e-9);
        let next = rear.next.unwrap();
        near(next.distance_m, 487.55 + 6.633 - 493.0, 1e-9);
        assert_eq!(next.shift.couplings, 12);
        let beyond = figures.creep_toward(&figures.placed[0], TrainEnd::Rear, (26, 537.3)).unwrap();
        assert_eq!(beyond.couplings, 14);
        near(beyond.slack_m, 0.14, 1e-12);
        assert!(beyond.curve_out_m > rear.over_last.curve_out_m);
    }

    #[test]
    fn what_is_missing_is_named() {
        let without = |change: fn(&mut Plan)| {
            let mut plan = plan(5, 13);
            change(&mut plan);
            let figures = Figures::of(Arc::new(plan), Scope::One(0));
            let creep = figures.creep();
            (creep.causes.clone().err().unwrap_or_default(), creep.strings.first().cloned())
        };
        assert_eq!(without(|plan| plan.route.curves.clear()), (vec![CreepNeeds::Curves], None));
        let both = |plan: &mut Plan| {
            plan.train.coupling_slack = None;
            plan.route.temperature_range_k = None;
        };
        assert_eq!(without(both), (vec![CreepNeeds::CouplingSlack, CreepNeeds::TemperatureRange], None));
        let no_hold = without(|plan| plan.placements[0].holds.clear());
        assert_eq!(no_hold.1, Some(Err(NoCreep::NotHeldOnce)));
        let no_steel = without(|plan| plan.order[0].steel = None);
        assert_eq!(no_steel.1, Some(Err(NoCreep::NoExpansion)));
        let no_lane = without(|plan| plan.placements[0].lane = 11);
        assert_eq!(no_lane.1, Some(Err(NoCreep::NoRacks)));
    }
}
