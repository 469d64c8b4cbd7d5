//! Strings that bend alike in curves: over the same racks, equally stiff, in lanes that run alike.

use super::{BentString, Chord, Pocket};
use crate::model::Plan;
use crate::statics::placed::modulus_pa;
use crate::statics::{Consist, PlacedString};
use std::ops::Range;

/// Why a string's bending in curves cannot be said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CurveGap {
    /// Its section has no second moment of area about the vertical axis (index of the section).
    NoStiffness(usize),
    /// A rack type under it has no side play (index of the rack type).
    NoPlay(usize),
    /// It does not lie in pockets of two racks or more.
    NotOnRacks,
}

/// Strings that bend alike.
#[derive(Clone, Debug, PartialEq)]
pub struct StringClass {
    /// The racks they lie on.
    pub racks: Range<usize>,
    /// E I about the vertical axis in N m2.
    pub stiffness_n_m2: f64,
    /// y of the lane at each rack against that at the first, in m.
    pub lane_shifts_m: Vec<f64>,
    /// Side play at each rack in m, each way.
    pub plays_m: Vec<f64>,
}

/// The classes of all placements, and of each placement its class.
pub(in crate::statics) fn classify(
    plan: &Plan,
    consist: &Consist,
    placed: &[PlacedString],
) -> (Vec<StringClass>, Vec<Result<usize, CurveGap>>) {
    let mut classes: Vec<StringClass> = Vec::new();
    let class_of = placed
        .iter()
        .map(|string| {
            let class = StringClass::of(plan, consist, string)?;
            let known = classes.iter().position(|known| *known == class);
            Ok(known.unwrap_or_else(|| {
                classes.push(class);
                classes.len() - 1
            }))
        })
        .collect();
    (classes, class_of)
}

impl StringClass {
    fn of(plan: &Plan, consist: &Consist, string: &PlacedString) -> Result<Self, CurveGap> {
        if string.racks.len() < 2 || string.y_m.len() != string.racks.len() {
            return Err(CurveGap::NotOnRacks);
        }
        let iy_cm4 = plan.sections[string.section].iy_cm4.ok_or(CurveGap::NoStiffness(string.section))?;
        let play_m = |rack: usize| {
            let rack_type = consist.racks[rack].rack_type;
            let play_mm = plan.train.rack_types[rack_type].side_play_mm;
            play_mm.map(|mm| mm / 1000.0).ok_or(CurveGap::NoPlay(rack_type))
        };
        // Whole micrometres, so that lanes that run alike are alike in spite of rounding.
        let shift_m = |y_m: &f64| ((y_m - string.y_m[0]) * 1.0e6).round() / 1.0e6;
        Ok(Self {
            racks: string.racks.clone(),
            stiffness_n_m2: modulus_pa(plan, &plan.order[string.string]) * iy_cm4 * 1.0e-8,
            lane_shifts_m: string.y_m.iter().map(shift_m).collect(),
            plays_m: string.racks.clone().map(play_m).collect::<Result<_, _>>()?,
        })
    }

    /// Whether the lanes run straight on from rack to rack, so that a left curve is the mirror of a right one.
    pub fn runs_straight(&self) -> bool {
        self.lane_shifts_m.iter().all(|shift_m| *shift_m == 0.0)
    }

    /// Lays the string into its pockets where the vehicles stand as `chords`.
    pub fn lay(&self, consist: &Consist, chords: &[Chord], bent: &mut BentString) {
        bent.stiffness_n_m2 = self.stiffness_n_m2;
        bent.pockets.clear();
        let racks = consist.racks[self.racks.clone()].iter();
        bent.pockets.extend(racks.zip(&self.lane_shifts_m).zip(&self.plays_m).map(
            |((rack, shift_m), play_m)| {
                let x_m = rack.x.m();
                Pocket { x_m, offset_m: chords[rack.vehicle].at_m(x_m) + shift_m, play_m: *play_m }
            },
        ));
        bent.settle();
    }
}
