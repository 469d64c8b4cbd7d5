//! The whole train laid on a track of one curvature: where its bodies and strings are beside the track's centre.

use super::classes::{CurveGap, StringClass, classify};
use super::swing::EndSwing;
use super::{BentString, Chord, Path, chords};
use crate::model::TrainEnd;
use crate::statics::{Figures, PlacedString};

/// Vehicles and strings on a track of one curvature, for drawings of the train from above.
///
/// x is measured along the track; sideways places are from the track's centre, right positive, so that a curve's
/// track runs straight and what stands or bends beside it shows how far. Model and limits are those of this module.
#[derive(Debug)]
pub struct Laid<'f> {
    figures: &'f Figures,
    curvature_per_m: f64,
    path: Path,
    chords: Vec<Chord>,
    classes: Vec<StringClass>,
    bent: Vec<BentString>,
    class_of: Vec<Result<usize, CurveGap>>,
}

impl<'f> Laid<'f> {
    /// The train of `figures` on a track of `curvature_per_m` in 1/m: positive where the inside is to the right,
    /// 0 on the straight.
    pub fn on(figures: &'f Figures, curvature_per_m: f64) -> Self {
        let path = Path::steady(curvature_per_m);
        let chords = chords(&figures.consist, &path);
        let (classes, class_of) = classify(&figures.plan, &figures.consist, &figures.placed);
        let lay = |class: &StringClass| {
            let mut bent = BentString::new(class.stiffness_n_m2);
            class.lay(&figures.consist, &chords, &mut bent);
            bent
        };
        let bent = classes.iter().map(lay).collect();
        Self { figures, curvature_per_m, path, chords, classes, bent, class_of }
    }

    /// The middle line of a vehicle's body at `x_m`, from the track's centre in m; 0 without such a vehicle.
    pub fn body_m(&self, vehicle: usize, x_m: f64) -> f64 {
        self.chords.get(vehicle).map_or(0.0, |chord| chord.at_m(x_m) - self.path.offset_m(x_m))
    }

    /// The middle of a string at `x_m`, from the track's centre in m; none where its lanes are not known.
    ///
    /// In a curve bent as its pockets make it; on the straight, and where the bending cannot be said
    /// ([`gap`](Self::gap)), straight from lane to lane, and on along the body under its last rack.
    pub fn string_m(&self, string: &PlacedString, x_m: f64) -> Option<f64> {
        let first_y_m = *string.y_m.first()?;
        // On the straight nothing presses a string to a side of its pockets: it is taken in their middle.
        if let Some((bent, _)) = self.bent_of(string).filter(|_| self.curvature_per_m != 0.0) {
            return Some(bent.at_m(x_m) - self.path.offset_m(x_m) + first_y_m);
        }
        let racks = self.figures.consist.racks.get(string.racks.clone())?;
        let after = racks.partition_point(|rack| rack.x.m() <= x_m);
        let lane_m =
            |at: usize, x_m: f64| Some(self.body_m(racks.get(at)?.vehicle, x_m) + string.y_m.get(at)?);
        if after == 0 || after == racks.len() {
            return lane_m(after.saturating_sub(1), x_m);
        }
        let (from, to) = (racks[after - 1].x.m(), racks[after].x.m());
        let (low, high) = (lane_m(after - 1, from)?, lane_m(after, to)?);
        Some(low + (high - low) * (x_m - from) / (to - from))
    }

    /// Why a string's bending cannot be said; none where it can.
    pub fn gap(&self, string: &PlacedString) -> Option<CurveGap> {
        self.class_of.get(string.placement)?.err()
    }

    /// How far the tip of an end swings from its lane, over the track and over the deck under it; none where its
    /// bending cannot be said.
    pub fn swing(&self, string: &PlacedString, end: TrainEnd) -> Option<EndSwing> {
        let (bent, class) = self.bent_of(string)?;
        let (tip_m, shift_m) = match end {
            TrainEnd::Front => (string.front.m(), 0.0),
            TrainEnd::Rear => (string.rear.m(), class.lane_shifts_m.last().copied().unwrap_or_default()),
        };
        let place_m = bent.at_m(tip_m) - shift_m;
        let deck = self.chords.get(self.figures.consist.vehicle_at(tip_m)?)?;
        let from_track_m = place_m - self.path.offset_m(tip_m);
        Some(EndSwing { from_track_m, from_deck_m: place_m - deck.at_m(tip_m) })
    }

    fn bent_of(&self, string: &PlacedString) -> Option<(&BentString, &StringClass)> {
        let class = (*self.class_of.get(string.placement)?).ok()?;
        Some((self.bent.get(class)?, self.classes.get(class)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::model::Plan;
    use crate::statics::Scope;
    use std::sync::Arc;

    /// Three reference wagons and one string over all of them in lane 1 (y = -1.2 m), in tight pockets.
    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        plan.train.rack_types[0].side_play_mm = Some(0.0);
        place(&mut plan, "S1", 57_700, (1, 1, 1_000));
        plan
    }

    fn figures(plan: Plan) -> Figures {
        Figures::of(Arc::new(plan), Scope::All)
    }

    fn check(found: Option<f64>, expected: f64) {
        let found = found.unwrap();
        assert!((found - expected).abs() < 1.0e-9, "{found} for {expected}");
    }

    // Hand: between pivots c = 14.2 m apart a body stands c^2/8R inside the track, and w^2/8R more for bogies of
    // w = 1.8 m (textbook geometry, shared facts section 5): (14.2^2 + 1.8^2)/(8 x 150) = 0.17073 m.
    const THROW_M: f64 = (14.2 * 14.2 + 1.8 * 1.8) / (8.0 * 150.0);

    #[test]
    fn bodies_stand_inside_the_track_by_the_square_of_their_chord_over_eight_radii() {
        let figures = figures(plan());
        let right = Laid::on(&figures, 1.0 / 150.0);
        let left = Laid::on(&figures, -1.0 / 150.0);
        for (vehicle, middle_m) in [(0, 9.95), (2, 49.75)] {
            check(Some(right.body_m(vehicle, middle_m)), THROW_M);
            check(Some(left.body_m(vehicle, middle_m)), -THROW_M);
        }
        check(Some(Laid::on(&figures, 0.0).body_m(1, 29.85)), 0.0);
    }

    #[test]
    fn a_string_in_tight_pockets_goes_through_its_lanes() {
        let figures = figures(plan());
        let string = &figures.placed[0];
        let laid = Laid::on(&figures, 1.0 / 150.0);
        check(laid.string_m(string, 9.95), -1.2 + THROW_M);
        check(laid.string_m(string, 49.75), -1.2 + THROW_M);
        check(Laid::on(&figures, 0.0).string_m(string, 20.0), -1.2);
    }

    #[test]
    fn a_left_curve_is_the_mirror_of_a_right_one() {
        let figures = figures(plan());
        let string = &figures.placed[0];
        let [right, left] = [1.0, -1.0].map(|side| Laid::on(&figures, side / 150.0));
        for x_m in [1.0, 8.0, 20.0, 33.3, 58.7] {
            let [right, left] = [&right, &left].map(|laid| laid.string_m(string, x_m).unwrap() + 1.2);
            assert!((right + left).abs() < 1.0e-9, "{x_m}: {right} {left}");
        }
        for end in [TrainEnd::Front, TrainEnd::Rear] {
            let [right, left] = [&right, &left].map(|laid| laid.swing(string, end).unwrap());
            assert!((right.from_track_m + left.from_track_m).abs() < 1.0e-9);
            assert!(right.from_track_m.abs() > 0.01);
        }
    }

    #[test]
    fn a_string_of_unknown_stiffness_goes_straight_from_lane_to_lane() {
        let mut plan = plan();
        plan.sections[0].iy_cm4 = None;
        let figures = figures(plan);
        let (string, laid) = (&figures.placed[0], Laid::on(&figures, 1.0 / 150.0));
        assert_eq!(laid.gap(string), Some(CurveGap::NoStiffness(0)));
        assert!(laid.swing(string, TrainEnd::Front).is_none());
        check(laid.string_m(string, 9.95), -1.2 + THROW_M);
        let ends = [3.317, 9.95].map(|x_m| laid.string_m(string, x_m).unwrap());
        check(laid.string_m(string, (3.317 + 9.95) / 2.0), f64::midpoint(ends[0], ends[1]));
        check(laid.string_m(string, 1.0), -1.2 + laid.body_m(0, 1.0));
    }

    #[test]
    fn on_the_straight_a_string_with_play_lies_in_the_middle_of_its_pockets() {
        let mut plan = plan();
        plan.train.rack_types[0].side_play_mm = Some(20.0);
        let figures = figures(plan);
        check(Laid::on(&figures, 0.0).string_m(&figures.placed[0], 33.0), -1.2);
    }

    #[test]
    fn a_string_in_no_lane_is_nowhere() {
        let mut plan = plan();
        plan.placements[0].lane = 99;
        let figures = figures(plan);
        let laid = Laid::on(&figures, 0.0);
        assert!(laid.string_m(&figures.placed[0], 9.0).is_none());
        assert_eq!(laid.gap(&figures.placed[0]), Some(CurveGap::NotOnRacks));
    }
}
