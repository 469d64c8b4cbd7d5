//! The outline of the real load against a reference line: section corners, tier, lane, play, throw, tilt.

mod places;

use super::cant::tilt_rad;
use super::curves::throw_m;
use super::{Figures, PlacedString, StateFigures};
use crate::model::{GaugeLine, TrackSide, TrainEnd};
use places::{Places, Tips};

/// Why a part of the outline cannot be said.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum GaugeGap {
    /// The height or the foot or head width of a section (index) is not entered.
    Section(usize),
    /// The deck height of a vehicle type (index) is not entered.
    DeckHeight(usize),
    /// The side play of a rack type (index) is not entered.
    Play(usize),
    /// A section (index) has no second moment of area about its vertical axis, so that its ends' swing is not known.
    Stiffness(usize),
    /// The reference line's table ends before the radius of a curve (index into [`GaugeFigures::curves`]).
    Radius(usize),
}

/// Where a section of the load is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutlineAt {
    /// At a rack of the consist.
    Rack(usize),
    /// At an end of the string.
    End(TrainEnd),
}

/// A curve that the load is looked at in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GaugeCurve {
    /// Its radius in m.
    pub radius_m: f64,
    /// What the line allows beyond itself in it, inside and outside in m; none: its table ends before.
    pub allowed_m: Option<[f64; 2]>,
}

/// A height at which load and line are compared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Above the rail in m.
    pub height_m: f64,
    /// Half the width of the string there in m.
    pub half_m: f64,
    /// Half the width of the reference line there in m.
    pub line_m: f64,
}

/// A section of one string, where it is and what may move it sideways.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Its placement.
    pub placement: usize,
    /// Where.
    pub at: OutlineAt,
    /// The vehicle that carries it there.
    pub vehicle: usize,
    /// y of its lane in m.
    pub y_m: f64,
    /// Side movement in the pockets, and throw less what the line allows, where they are most together, in m.
    pub beside_m: f64,
    /// Throw at the rack, or swing of the end, in `curve` in m: toward the inside positive; 0 on the straight.
    pub thrown_m: f64,
    /// The curve in which that is; none: on the straight.
    pub curve: Option<usize>,
    /// The heights of its corners, and those of the line's corners between.
    pub levels: Vec<Level>,
}

/// How far a load reaches and how far it may.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Half-width that is needed, in m.
    pub reach_m: f64,
    /// Half-width of the line, in m.
    pub line_m: f64,
    /// At which height in m.
    pub height_m: f64,
}

/// The outline of a plan's load.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GaugeFigures {
    /// The curves that it was looked at in.
    pub curves: Vec<GaugeCurve>,
    /// The sections of strings that could be looked at.
    pub outlines: Vec<Outline>,
    /// What is missing for others, each once.
    pub gaps: Vec<GaugeGap>,
}

impl GaugeFigures {
    /// The outline of the load of `figures`; nothing where no reference line is chosen.
    pub fn of(figures: &Figures) -> Self {
        let Some(line) = &figures.plan.route.gauge else { return Self::default() };
        let empty = Self::beside_line(figures, line);
        let tips = Tips::of(figures, &empty.curves);
        empty.with_strings(figures, line, &Places::All(tips))
    }

    /// The outline of the load at one rack (an index into the consist) alone, for drawings: little work, as no
    /// end's swing is looked for.
    pub fn at_rack(figures: &Figures, rack: usize) -> Self {
        let Some(line) = &figures.plan.route.gauge else { return Self::default() };
        Self::beside_line(figures, line).with_strings(figures, line, &Places::Rack(rack))
    }

    /// The curves of the route, and for which of them the line's table says nothing.
    fn beside_line(figures: &Figures, line: &GaugeLine) -> Self {
        let route = &figures.plan.route;
        let radii_m = route.curves.iter().map(|curve| curve.radius_m);
        let curves = radii_m.chain(route.s_curve.map(|s_curve| s_curve.radius_m));
        let curves: Vec<_> =
            curves.map(|radius_m| GaugeCurve { radius_m, allowed_m: allowed_m(line, radius_m) }).collect();
        let short = curves.iter().enumerate().filter(|(_, curve)| curve.allowed_m.is_none());
        let gaps = short.map(|(at, _)| GaugeGap::Radius(at)).collect();
        Self { curves, outlines: Vec::new(), gaps }
    }

    fn with_strings(mut self, figures: &Figures, line: &GaugeLine, looked_at: &Places) -> Self {
        for string in &figures.placed {
            self.add(figures, line, string, looked_at);
        }
        self.gaps.sort_unstable();
        self.gaps.dedup();
        self
    }

    fn add(&mut self, figures: &Figures, line: &GaugeLine, string: &PlacedString, looked_at: &Places) {
        if matches!(looked_at, Places::Rack(rack) if !string.racks.contains(rack)) {
            return;
        }
        if string.y_m.len() != string.racks.len() || string.racks.is_empty() {
            return;
        }
        let section = &figures.plan.sections[string.section];
        let shape = section.foot_mm.zip(section.head_mm).zip(section.height_mm);
        let Some(((foot_mm, head_mm), height_mm)) = shape else {
            self.gaps.push(GaugeGap::Section(string.section));
            return;
        };
        let shape =
            Shape { foot_m: foot_mm / 1000.0, head_m: head_mm / 1000.0, height_m: height_mm / 1000.0 };
        for (at, place) in looked_at.of(string) {
            let rack = &figures.consist.racks[string.racks.start + at];
            let Some(seat_m) = string.seat_m[at] else {
                self.gaps.push(GaugeGap::DeckHeight(figures.consist.vehicles[rack.vehicle].vehicle_type));
                continue;
            };
            let beside = match place {
                OutlineAt::Rack(rack) => self.beside_at_rack(figures, rack),
                OutlineAt::End(end) => looked_at.beside_at_end(figures, self, string, end),
            };
            match beside {
                Ok((beside_m, curve)) => self.outlines.push(Outline {
                    placement: string.placement,
                    at: place,
                    vehicle: rack.vehicle,
                    y_m: string.y_m[at],
                    beside_m,
                    thrown_m: curve
                        .map_or(0.0, |curve| self.thrown_m(figures, looked_at, string, (place, curve))),
                    curve,
                    levels: shape.levels(line, seat_m),
                }),
                Err(gap) => self.gaps.push(gap),
            }
        }
    }

    /// Throw of a rack, or swing of an end, in a curve.
    fn thrown_m(
        &self,
        figures: &Figures,
        looked_at: &Places,
        string: &PlacedString,
        (place, curve): (OutlineAt, usize),
    ) -> f64 {
        match place {
            OutlineAt::Rack(rack) => {
                let rack = &figures.consist.racks[rack];
                let vehicle = &figures.consist.vehicles[rack.vehicle];
                throw_m(vehicle, rack.from_middle_m, self.curves[curve].radius_m)
            }
            OutlineAt::End(end) => match looked_at {
                Places::All(tips) => tips.swing_m(curve, string, end),
                Places::Rack(_) => 0.0,
            },
        }
    }

    /// Play and throw at a rack, the most of straight and curves.
    fn beside_at_rack(&self, figures: &Figures, rack: usize) -> Result<(f64, Option<usize>), GaugeGap> {
        let place = &figures.consist.racks[rack];
        let play_m = play_m(figures, rack)?;
        let vehicle = &figures.consist.vehicles[place.vehicle];
        Ok(self.worst(play_m, |_, curve| {
            play_m + beyond_m(throw_m(vehicle, place.from_middle_m, curve.radius_m), curve)
        }))
    }

    /// The most of what is beside the line on the straight and in each curve that the line's table covers.
    fn worst(&self, straight_m: f64, in_curve_m: impl Fn(usize, &GaugeCurve) -> f64) -> (f64, Option<usize>) {
        let mut worst = (straight_m, None);
        for (at, curve) in self.curves.iter().enumerate().filter(|(_, curve)| curve.allowed_m.is_some()) {
            let beside_m = in_curve_m(at, curve);
            if beside_m > worst.0 {
                worst = (beside_m, Some(at));
            }
        }
        worst
    }
}

/// Half-width of the line in m at a height in m: the narrower one at a step, that of its lowest point below
/// it, none (0) above its top.
pub fn half_width_m(line: &GaugeLine, height_m: f64) -> f64 {
    let height_mm = height_m * 1000.0;
    let [(lowest_half_mm, lowest_mm), ..] = line.points_mm.as_slice() else { return 0.0 };
    if height_mm < *lowest_mm {
        return lowest_half_mm / 1000.0;
    }
    let pieces = line.points_mm.windows(2).filter_map(|pair| match pair {
        [(from_half, from), (to_half, to)] if *from <= height_mm && height_mm <= *to => {
            let share = if to > from { (height_mm - from) / (to - from) } else { 0.0 };
            let half = from_half + share * (to_half - from_half);
            Some(if to > from { half } else { from_half.min(*to_half) })
        }
        _ => None,
    });
    let half_mm = pieces.fold(f64::INFINITY, f64::min);
    if half_mm.is_finite() { half_mm / 1000.0 } else { 0.0 }
}

/// What the line allows beyond itself in a curve, inside and outside in m.
///
/// Between two rows of its table the smaller radius's value holds (EBO annex 2); above the largest radius,
/// and where there is no table, nothing is allowed; below the smallest radius it cannot be said.
pub fn allowed_m(line: &GaugeLine, radius_m: f64) -> Option<[f64; 2]> {
    let [(largest_m, ..), ..] = line.allowed_mm.as_slice() else { return Some([0.0; 2]) };
    if radius_m > *largest_m {
        return Some([0.0; 2]);
    }
    let row = line.allowed_mm.iter().find(|(row_m, ..)| *row_m <= radius_m)?;
    Some([row.1 / 1000.0, row.2 / 1000.0])
}

/// Throw beyond what the line allows on that side in m, zero or above; inside positive.
fn beyond_m(throw_m: f64, curve: &GaugeCurve) -> f64 {
    let [inside_m, outside_m] = curve.allowed_m.unwrap_or_default();
    (throw_m - inside_m).max(-throw_m - outside_m).max(0.0)
}

fn play_m(figures: &Figures, rack: usize) -> Result<f64, GaugeGap> {
    let rack_type = figures.consist.racks[rack].rack_type;
    let play_mm = figures.plan.train.rack_types[rack_type].side_play_mm;
    play_mm.map(|mm| mm / 1000.0).ok_or(GaugeGap::Play(rack_type))
}

/// The outer dimensions of a section in m.
struct Shape {
    foot_m: f64,
    head_m: f64,
    height_m: f64,
}

impl Shape {
    /// The foot's width at the seat, the head's at the top, a straight line between: the outline's hull.
    fn levels(&self, line: &GaugeLine, seat_m: f64) -> Vec<Level> {
        let top_m = seat_m + self.height_m;
        let corners = line.points_mm.iter().map(|(_, height_mm)| height_mm / 1000.0);
        let between = corners.filter(|height_m| *height_m > seat_m && *height_m < top_m);
        let level = |height_m: f64| Level {
            height_m,
            half_m: (self.foot_m + (self.head_m - self.foot_m) * (height_m - seat_m) / self.height_m) / 2.0,
            line_m: half_width_m(line, height_m),
        };
        [seat_m, top_m].into_iter().chain(between).map(level).collect()
    }
}

impl Outline {
    /// How far it reaches where its vehicle leans by `tilt_rad` (right down positive) about `springs_m` above the
    /// rail; at the height and on the side where least is left.
    pub fn reach(&self, tilt_rad: f64, springs_m: f64) -> Option<Reach> {
        let sides = [TrackSide::Right, TrackSide::Left].into_iter();
        let reaches = sides.flat_map(|side| self.reaches(side, (tilt_rad, springs_m)));
        reaches.min_by(|a, b| a.left_m().total_cmp(&b.left_m()))
    }

    /// How far it reaches to one side at each of its levels, from the lowest up, leaning as for
    /// [`reach`](Self::reach) (tilt in rad, height of the springs in m).
    pub fn reaches(&self, side: TrackSide, (tilt_rad, springs_m): (f64, f64)) -> Vec<Reach> {
        let outward = if side == TrackSide::Right { 1.0 } else { -1.0 };
        let mut reaches: Vec<Reach> = self
            .levels
            .iter()
            .map(|level| Reach {
                reach_m: outward * (self.y_m + tilt_rad * (level.height_m - springs_m))
                    + level.half_m
                    + self.beside_m,
                line_m: level.line_m,
                height_m: level.height_m,
            })
            .collect();
        reaches.sort_by(|a, b| a.height_m.total_cmp(&b.height_m));
        reaches
    }
}

impl Reach {
    /// What is left to the line in m; below zero beyond it.
    pub fn left_m(self) -> f64 {
        self.line_m - self.reach_m
    }
}

/// Tilt in rad and height of the springs in m of a vehicle in a state; none where it has no roll stiffness entered.
///
/// Without a height of the springs it is taken to lean about the rail, which reaches furthest.
pub fn tilt_of(figures: &Figures, state: &StateFigures, vehicle: usize) -> Option<(f64, f64)> {
    let tilt = tilt_rad(figures, state, vehicle).ok()?;
    let kind = figures.plan.train.vehicle_types.get(figures.consist.vehicles.get(vehicle)?.vehicle_type)?;
    Some((tilt, kind.springs?.spring_height_mm.unwrap_or_default() / 1000.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::model::{Curve, Plan, Source, Springs, Sureness};
    use crate::statics::Scope;
    use std::sync::Arc;

    /// The German G2 line and what EBO annex 2 allows beyond it (shared facts, section 5).
    fn g2() -> GaugeLine {
        let points_mm = vec![
            (1_620.0, 400.0),
            (1_620.0, 1_170.0),
            (1_645.0, 1_170.0),
            (1_645.0, 3_530.0),
            (1_470.0, 3_835.0),
            (785.0, 4_680.0),
        ];
        let allowed_mm = vec![
            (500.0, 13.0, 13.0),
            (400.0, 14.0, 14.0),
            (300.0, 18.0, 18.0),
            (250.0, 20.0, 20.0),
            (225.0, 55.0, 60.0),
            (200.0, 85.0, 95.0),
            (190.0, 95.0, 110.0),
            (180.0, 110.0, 130.0),
            (170.0, 130.0, 145.0),
            (150.0, 165.0, 195.0),
            (120.0, 365.0, 395.0),
            (100.0, 560.0, 600.0),
        ];
        let source = Source { text: "EBO annexes 2 and 8".to_owned(), sure: Sureness::Secondary };
        GaugeLine { name: "G2".to_owned(), points_mm, allowed_mm, source }
    }

    /// Three wagons, one string over them in lane 10 of tier 1, y = 1.2 m, play 20 mm each way.
    fn plan(radii_m: &[f64]) -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 55_000, (1, 10, 2_000));
        plan.route.gauge = Some(g2());
        plan.route.curves = radii_m
            .iter()
            .map(|radius_m| Curve {
                radius_m: *radius_m,
                arc_m: None,
                transition_m: 0.0,
                cant_mm: None,
                speed_kmh: None,
            })
            .collect();
        plan
    }

    fn figures(plan: Plan) -> Figures {
        Figures::of(Arc::new(plan), Scope::All)
    }

    fn outlines(plan: Plan) -> Vec<Outline> {
        let gauge = GaugeFigures::of(&figures(plan));
        assert_eq!(gauge.gaps, []);
        gauge.outlines
    }

    fn check(found: f64, expected: f64, slack: f64) {
        assert!((found - expected).abs() <= slack, "{found} for {expected}");
    }

    #[test]
    fn the_line_is_straight_between_its_points_and_narrow_at_a_step() {
        for (height_m, half_m) in [
            (0.0, 1.62),
            (0.4, 1.62),
            (1.169, 1.62),
            (1.17, 1.62),
            (1.171, 1.645),
            (3.53, 1.645),
            (3.6825, 1.5575),
            (4.68, 0.785),
            (4.681, 0.0),
        ] {
            check(half_width_m(&g2(), height_m), half_m, 1.0e-9);
        }
    }

    // EBO annex 2, read in the table: between two rows the smaller radius's value.
    #[test]
    fn the_table_is_read_at_the_smaller_radius() {
        for (radius_m, inside_m, outside_m) in [
            (250.0, 0.020, 0.020),
            (260.0, 0.020, 0.020),
            (249.0, 0.055, 0.060),
            (150.0, 0.165, 0.195),
            (600.0, 0.0, 0.0),
        ] {
            assert_eq!(allowed_m(&g2(), radius_m), Some([inside_m, outside_m]), "{radius_m}");
        }
        assert_eq!(allowed_m(&g2(), 99.0), None);
        assert_eq!(allowed_m(&GaugeLine { allowed_mm: Vec::new(), ..g2() }, 99.0), Some([0.0; 2]));
    }

    // Hand: lane 1.2 + play 0.02 + half a foot 0.075 m = 1.295 m at the seat, 1.4 m above the rail.
    #[test]
    fn on_the_straight_a_string_reaches_as_far_as_its_foot_and_its_play() {
        let outlines = outlines(plan(&[]));
        assert_eq!(outlines.len(), 9 + 2);
        let reach = outlines[4].reach(0.0, 0.0).unwrap();
        check(reach.reach_m, 1.295, 1.0e-9);
        assert_eq!((reach.line_m, reach.height_m), (1.645, 1.4));
        // The end stands askew in its two last pockets: 20 mm + 40 mm x 1.317/6.633.
        check(outlines[9].beside_m, 0.02 + 0.04 * (9.95 - 6.633 - 2.0) / 6.633, 1.0e-9);
    }

    // Hand: R 200, middle rack: 50.41/400 + 0.81/400 = 128.05 mm inside, 85 allowed: 43.05 mm more.
    // Outer rack: (50.41 - 43.997)/400 + 2.0 = 18.1 mm inside: allowed.
    #[test]
    fn throw_counts_as_far_as_the_line_does_not_allow_it() {
        let outlines = outlines(plan(&[600.0, 200.0]));
        check(outlines[4].beside_m, 0.02 + 0.04305, 1.0e-6);
        assert_eq!(outlines[4].curve, Some(1));
        // R 600 is above the table: nothing is allowed there, 16.0 + 0.7 mm - less than the 20 mm of play alone.
        let wide = self::outlines(plan(&[600.0]));
        check(wide[4].beside_m, 0.02 + (50.41 + 0.81) / 1_200.0, 1.0e-6);
        check(wide[3].beside_m, 0.02 + (50.41 + 0.81 - 6.633 * 6.633) / 1_200.0, 1.0e-6);
    }

    // R 100, 3 m beyond the outer rack of the last wagon: outside by the chord's (9.633^2 - 50.41 - 0.81)/200 =
    // 207.9 mm and what the bent string adds; 600 mm are allowed. With no table all of it counts.
    #[test]
    fn an_end_swings_out() {
        let mut plan = plan(&[100.0]);
        plan.order[0].length = crate::units::Length::from_mm(2 * 19_900 + 9_950 + 6_633 + 3_000 - 2_000);
        let askew_m = 0.02 + 0.04 * 3.0 / 6.633;
        check(outlines(plan.clone())[10].beside_m, askew_m, 1.0e-6);
        plan.route.gauge.as_mut().unwrap().allowed_mm.clear();
        plan.train.rack_types[0].side_play_mm = Some(0.0);
        let beside_m = outlines(plan)[10].beside_m;
        assert!(beside_m > 0.2079 && beside_m < 0.23, "{beside_m}");
    }

    #[test]
    fn what_is_missing_is_named_once() {
        let check = |change: fn(&mut Plan), gaps: &[GaugeGap]| {
            let mut plan = plan(&[200.0]);
            change(&mut plan);
            assert_eq!(GaugeFigures::of(&figures(plan)).gaps, gaps);
        };
        check(|plan| plan.sections[0].foot_mm = None, &[GaugeGap::Section(0)]);
        check(|plan| plan.sections[0].iy_cm4 = None, &[GaugeGap::Stiffness(0)]);
        check(|plan| plan.train.vehicle_types[0].deck_height = None, &[GaugeGap::DeckHeight(0)]);
        check(|plan| plan.train.rack_types[0].side_play_mm = None, &[GaugeGap::Play(0)]);
        check(|plan| plan.route.curves[0].radius_m = 80.0, &[GaugeGap::Radius(0)]);
        check(|plan| plan.route.gauge = None, &[]);
    }

    #[test]
    fn one_rack_alone_says_what_it_says_among_all() {
        let figures = figures(plan(&[600.0, 200.0]));
        let all = GaugeFigures::of(&figures);
        for rack in [0, 4, 8] {
            let alone = GaugeFigures::at_rack(&figures, rack);
            let here = all.outlines.iter().filter(|outline| outline.at == OutlineAt::Rack(rack));
            assert_eq!(alone.outlines, here.cloned().collect::<Vec<_>>());
            assert_eq!(alone.outlines.len(), 1);
        }
        assert_eq!(GaugeFigures::at_rack(&figures, 9).outlines, []);
    }

    // Hand: leaning 10 mrad right about 0.7 m: the seat at 1.4 m moves 7 mm, the top at 1.572 m 8.7 mm; the foot
    // still reaches further: 1.295 + 0.007. Leaning left it reaches less, but never less than on its own side.
    #[test]
    fn tilt_moves_the_load_toward_the_lower_side() {
        let outline = &outlines(plan(&[]))[4];
        check(outline.reach(0.01, 0.7).unwrap().reach_m, 1.302, 1.0e-9);
        check(outline.reach(-0.01, 0.7).unwrap().reach_m, 1.288, 1.0e-9);
    }

    #[test]
    fn only_entered_springs_lean() {
        let mut plan = plan(&[]);
        let tilt = |plan: &Plan| {
            let figures = figures(plan.clone());
            tilt_of(&figures, &figures.worked[0], 1)
        };
        assert_eq!(tilt(&plan), None);
        plan.train.vehicle_types[0].springs = Some(Springs {
            front_n_per_m: 4.0e6,
            rear_n_per_m: 4.0e6,
            roll_nm_per_rad: 4.0e6,
            frame_n_per_m: None,
            envelope: None,
            spring_height_mm: Some(700.0),
            sprung_tare_kg: None,
        });
        let (tilt_rad, springs_m) = tilt(&plan).unwrap();
        assert!(tilt_rad > 0.0 && (springs_m - 0.7).abs() < 1.0e-12);
    }
}
