//! The train from above: what a deck plan shows, and where on it a string or a pocket lies.

mod ground;
mod picture;
mod strings;
#[cfg(test)]
mod tests;
mod wheels;

use super::{Picture, Point};
use crate::model::{RackType, TrackSide};
use crate::statics::curves::Laid;
use crate::statics::{Figures, PlacedString, RackPlace};
use crate::units::{Length, Quantity, Style};

/// How wide the foot of a section is drawn that has none entered, in mm; the picture says so.
const ASSUMED_FOOT_MM: f64 = 150.0;
/// Width of the lane of a rack that has only one, in mm.
const LONE_LANE_MM: f64 = 200.0;
/// Share of the least lane distance that a lane takes where its tiers lie beside each other, and share of its
/// part that a string takes.
const LANE_SHARES: [f64; 2] = [0.9, 0.8];
/// How far beside the outermost lane a string lies that is in no lane, in mm.
const NOWHERE_MM: f64 = 350.0;

/// Which tiers a deck plan shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Tiers {
    /// All: within each lane the tiers lie beside each other, the lowest at its left, so that every string can be
    /// seen and grasped.
    #[default]
    All,
    /// This one alone, from 1; strings as wide as their foot.
    Only(u32),
}

/// The track that a deck plan lays the train on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Track {
    /// Straight.
    #[default]
    Straight,
    /// All in a curve. Its track is drawn straight, so that the picture shows what stands beside it.
    Curve {
        /// Its radius in m, above zero.
        radius_m: f64,
        /// On which side its inside is.
        inside: TrackSide,
    },
}

/// What a deck plan shows.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DeckLook {
    /// The tiers.
    pub tiers: Tiers,
    /// The track.
    pub track: Track,
}

/// The geometry of a deck plan: across is x in the train, up is y to the right, both in mm; the front end is at
/// the left, so the train's right side is up.
#[derive(Debug)]
pub struct Deck<'f> {
    figures: &'f Figures,
    look: DeckLook,
    laid: Laid<'f>,
    /// The most tiers that a rack of the train has.
    tiers: u32,
    /// Width in mm that a lane takes where its tiers lie beside each other.
    lane_mm: f64,
}

/// The train in a state from above; see [`Deck::picture`].
pub fn deck_plan(figures: &Figures, state: usize, look: DeckLook, style: Style) -> Picture {
    Deck::new(figures, look).picture(state, style)
}

impl Track {
    /// Its curvature in 1/m, positive where the inside is to the right.
    pub fn curvature_per_m(self) -> f64 {
        match self {
            Self::Straight => 0.0,
            Self::Curve { radius_m, inside: TrackSide::Right } => 1.0 / radius_m,
            Self::Curve { radius_m, inside: TrackSide::Left } => -1.0 / radius_m,
        }
    }

    /// The track in words, such as `curve to the right, radius 150.000 m`.
    pub fn words(self, style: Style) -> String {
        let Self::Curve { radius_m, inside } = self else { return "straight track".to_owned() };
        let side = if inside == TrackSide::Right { "right" } else { "left" };
        format!("curve to the {side}, radius {}", Quantity::length_m(radius_m).show(style))
    }
}

impl<'f> Deck<'f> {
    /// The deck plan of `figures` as `look` says.
    pub fn new(figures: &'f Figures, look: DeckLook) -> Self {
        let kinds = || figures.consist.racks.iter().filter_map(|rack| rack_type(figures, rack));
        let tiers = kinds().map(|kind| kind.tiers.len()).max().unwrap_or(1).max(1);
        let gap = kinds().filter_map(least_gap_mm).min_by(f64::total_cmp).unwrap_or(LONE_LANE_MM);
        Self {
            figures,
            look,
            laid: Laid::on(figures, look.track.curvature_per_m()),
            tiers: u32::try_from(tiers).unwrap_or(u32::MAX),
            lane_mm: gap * LANE_SHARES[0],
        }
    }

    /// Whether a string is in a tier that the plan shows.
    pub fn shows(&self, placed: &PlacedString) -> bool {
        match self.look.tiers {
            Tiers::All => true,
            Tiers::Only(tier) => {
                self.figures.plan.placements.get(placed.placement).is_some_and(|at| at.tier == tier)
            }
        }
    }

    /// Left and right edge of a string at `x_mm`, y in mm.
    pub fn band_mm(&self, placed: &PlacedString, x_mm: f64) -> (f64, f64) {
        let middle = match self.laid.string_m(placed, x_mm / 1000.0) {
            Some(y_m) => y_m * 1000.0,
            None => self.half_mm(None) + NOWHERE_MM,
        };
        let (aside, half) = self.within_lane_mm(placed);
        (middle + aside - half, middle + aside + half)
    }

    /// The pocket under a point by the rack nearest to it: its tier, which is the one shown where the plan shows
    /// only one, and its lane, both from 1. None on a train without racks.
    pub fn pocket_at(&self, at: Point) -> Option<(u32, u32)> {
        self.pocket_beside(at.across_mm, self.beside_body_mm(at)?)
    }

    /// How far a point lies to the right of the middle line of the body under it, in mm: on a curve a lane keeps its
    /// place beside the body, not beside the track. None on a train without racks.
    pub fn beside_body_mm(&self, at: Point) -> Option<f64> {
        let rack = self.nearest_rack(at.across_mm)?;
        Some(at.up_mm - self.body_mm(rack.vehicle, at.across_mm))
    }

    /// The pocket `beside_mm` to the right of the body's middle line at `x_mm`, as [`pocket_at`](Self::pocket_at).
    pub fn pocket_beside(&self, x_mm: f64, beside_mm: f64) -> Option<(u32, u32)> {
        let rack = self.nearest_rack(x_mm)?;
        let away = |lane_m: &f64| (lane_m * 1000.0 - beside_mm).abs();
        let lanes = (1..).zip(&rack.lanes_y_m);
        let (lane, lane_m) = lanes.min_by(|a, b| away(a.1).total_cmp(&away(b.1)))?;
        let tier = match self.look.tiers {
            Tiers::Only(tier) => tier,
            Tiers::All => {
                let kind = rack_type(self.figures, rack)?;
                let share = (beside_mm - lane_m * 1000.0) / self.lane_mm + 0.5;
                let tier = (share * f64::from(self.tiers)).floor().max(0.0) as usize + 1;
                u32::try_from(tier.min(kind.tiers.len())).ok()?
            }
        };
        Some((tier, lane))
    }

    /// Where the middle of a pocket (tier, lane) is drawn, to the right of the body's middle line at the rack
    /// nearest to `x_mm`, in mm; none where that rack has no such lane.
    pub fn pocket_mm(&self, x_mm: f64, (tier, lane): (u32, u32)) -> Option<f64> {
        let lane_m = self.nearest_rack(x_mm)?.lanes_y_m.get((lane as usize).checked_sub(1)?)?;
        Some(lane_m * 1000.0 + self.tier_aside_mm(tier))
    }

    fn nearest_rack(&self, x_mm: f64) -> Option<&'f RackPlace> {
        let x = Length::from_mm_rounded(x_mm);
        self.figures.consist.racks.iter().min_by_key(|rack| (rack.x - x).abs())
    }

    /// Where a string lies beside the middle of its lane, and half its width, in mm.
    fn within_lane_mm(&self, placed: &PlacedString) -> (f64, f64) {
        let tier = self.figures.plan.placements.get(placed.placement).map_or(1, |at| at.tier);
        match self.look.tiers {
            Tiers::All => {
                let part = self.lane_mm / f64::from(self.tiers);
                (self.tier_aside_mm(tier), part * LANE_SHARES[1] / 2.0)
            }
            Tiers::Only(_) => {
                let section = self.figures.plan.sections.get(placed.section);
                (0.0, section.and_then(|section| section.foot_mm).unwrap_or(ASSUMED_FOOT_MM) / 2.0)
            }
        }
    }

    /// How far the strings of a tier lie beside the middle of their lane, in mm.
    fn tier_aside_mm(&self, tier: u32) -> f64 {
        match self.look.tiers {
            Tiers::All => {
                (f64::from(tier) - f64::from(self.tiers + 1) / 2.0) * self.lane_mm / f64::from(self.tiers)
            }
            Tiers::Only(_) => 0.0,
        }
    }

    /// The middle line of a vehicle's body at `x_mm` beside the track's centre, in mm.
    fn body_mm(&self, vehicle: usize, x_mm: f64) -> f64 {
        self.laid.body_m(vehicle, x_mm / 1000.0) * 1000.0
    }

    fn is_straight(&self) -> bool {
        self.look.track == Track::Straight
    }
}

fn rack_type<'f>(figures: &'f Figures, rack: &RackPlace) -> Option<&'f RackType> {
    figures.plan.train.rack_types.get(rack.rack_type)
}

/// The least distance between two lanes of a rack type in mm; none where it has only one.
fn least_gap_mm(kind: &RackType) -> Option<f64> {
    let gaps = kind.lanes_y_mm.windows(2).filter_map(|pair| Some(pair.last()? - pair.first()?));
    gaps.min_by(f64::total_cmp)
}

/// Places from `from` to `to` in mm with at most `step` between them, both ends and all of `through` between them.
fn places_mm(from: f64, to: f64, through: impl Iterator<Item = f64>, step: f64) -> Vec<f64> {
    let mut places = vec![from];
    let fixed = through.filter(|x| from < *x && *x < to).chain(std::iter::once(to));
    for next in fixed {
        let last = places.last().copied().unwrap_or(from);
        let count = ((next - last) / step).ceil().max(1.0) as usize;
        places.extend((1..=count).map(|nth| last + (next - last) * nth as f64 / count as f64));
    }
    places
}

/// The outline of a band along `edges` (x, left edge, right edge), in mm: along one edge and back on the other.
fn band_outline(edges: &[(f64, f64, f64)]) -> Vec<Point> {
    let left = edges.iter().map(|(x, left, _)| Point::new(*x, *left));
    let right = edges.iter().rev().map(|(x, _, right)| Point::new(*x, *right));
    left.chain(right).collect()
}
