//! How far the ends of strings swing sideways in curves: from the track, from the deck under them, toward
//! the strings beside them.

use super::classes::CurveGap;
use super::{BentString, Chord, CurveFigures, Path};
use crate::model::TrainEnd;
use crate::statics::Figures;

/// The largest swing of one end of a string, in m; signed, right positive.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EndSwing {
    /// Of its tip from the place of its lane over the track's centre.
    pub from_track_m: f64,
    /// Of its tip from the line of its lane on the vehicle under it.
    pub from_deck_m: f64,
}

/// An end of a string and a string that passes beside it in the same tier.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Neighbours {
    /// The placement whose end it is.
    pub placement: usize,
    /// Which end.
    pub end: TrainEnd,
    /// The placement beside it.
    pub beside: usize,
    /// How far the other lies to the right of it, in m, straight track.
    pub to_the_right_m: f64,
    /// Item of the list below it that swings alike, or its own index.
    alike: usize,
}

impl Neighbours {
    /// All ends beside a string of another class; strings of one class swing alike.
    pub(super) fn of(figures: &Figures, class_of: &[Result<usize, CurveGap>]) -> Vec<Self> {
        let mut found: Vec<Self> = Vec::new();
        let known = || figures.placed.iter().filter(|string| class_of[string.placement].is_ok());
        for string in known() {
            let tier = figures.plan.placements[string.placement].tier;
            for (end, tip, lane) in [
                (TrainEnd::Front, string.front, string.y_m.first()),
                (TrainEnd::Rear, string.rear, string.y_m.last()),
            ] {
                for other in known() {
                    let covers = other.front <= tip && tip <= other.rear;
                    let same_tier = figures.plan.placements[other.placement].tier == tier;
                    let same_class = class_of[string.placement] == class_of[other.placement];
                    if !covers || !same_tier || same_class {
                        continue;
                    }
                    let near = other
                        .racks
                        .clone()
                        .min_by_key(|rack| (figures.consist.racks[*rack].x - tip).mm().abs());
                    let beside = near.and_then(|rack| other.y_m.get(rack - other.racks.start));
                    let Some(to_the_right_m) = beside.zip(lane).map(|(beside, lane)| beside - lane) else {
                        continue;
                    };
                    if to_the_right_m == 0.0 {
                        continue; // One behind the other in the same pocket.
                    }
                    let swings_alike = |known: &Self| {
                        let with = &figures.placed[known.placement];
                        let known_tip = if end == TrainEnd::Front { with.front } else { with.rear };
                        known.end == end
                            && known_tip == tip
                            && class_of[known.placement] == class_of[string.placement]
                            && class_of[known.beside] == class_of[other.placement]
                    };
                    let alike = found.iter().position(swings_alike).unwrap_or(found.len());
                    found.push(Self {
                        placement: string.placement,
                        end,
                        beside: other.placement,
                        to_the_right_m,
                        alike,
                    });
                }
            }
        }
        found
    }
}

/// Gathers the largest swings of all ends.
pub(super) struct Swings<'a> {
    curves: &'a CurveFigures,
    figures: &'a Figures,
    swings: Vec<Option<[EndSwing; 2]>>,
    /// By neighbours, largest swing toward the right and the left of the end against the string beside it.
    approaches_m: Vec<[f64; 2]>,
    /// The places of the train where those are.
    approach_places: Vec<[usize; 2]>,
}

/// What [`Swings`] found over all places.
pub(super) struct Worst {
    pub(super) swings: Vec<Option<[EndSwing; 2]>>,
    pub(super) approaches_m: Vec<[f64; 2]>,
    pub(super) approach_places: Vec<[usize; 2]>,
}

impl<'a> Swings<'a> {
    pub(super) fn new(curves: &'a CurveFigures, figures: &'a Figures) -> Self {
        let known = curves.class_of.iter().map(|class| class.is_ok().then_some(Default::default()));
        let approaches_m = vec![[0.0; 2]; curves.neighbours.len()];
        let approach_places = vec![[0; 2]; curves.neighbours.len()];
        Self { curves, figures, swings: known.collect(), approaches_m, approach_places }
    }

    /// Looks at one place of the train on the curve, every class bent there; gives the sizes of all swings there, in m.
    pub(super) fn look(
        &mut self,
        place: usize,
        (path, chords): (&Path, &[Chord]),
        bent: &[BentString],
    ) -> Vec<f64> {
        let mut sizes_m = Vec::with_capacity(4 * self.swings.len());
        for string in &self.figures.placed {
            let Some(class) = self.curves.class(string.placement) else { continue };
            let bent = &bent[class];
            let lane_shift_m = self.curves.classes[class].lane_shifts_m.last().copied().unwrap_or_default();
            let Some(Some(kept)) = self.swings.get_mut(string.placement) else { continue };
            for (kept, (tip_m, shift_m)) in
                kept.iter_mut().zip([(string.front.m(), 0.0), (string.rear.m(), lane_shift_m)])
            {
                let place_m = bent.at_m(tip_m) - shift_m;
                let Some(deck) = self.figures.consist.vehicle_at(tip_m).and_then(|at| chords.get(at)) else {
                    continue;
                };
                let swing = [place_m - path.offset_m(tip_m), place_m - deck.at_m(tip_m)];
                keep_larger(&mut kept.from_track_m, swing[0]);
                keep_larger(&mut kept.from_deck_m, swing[1]);
                sizes_m.extend(swing.map(f64::abs));
            }
        }
        for (at, pair) in self.curves.neighbours.iter().enumerate().filter(|(at, pair)| pair.alike == *at) {
            let string = &self.figures.placed[pair.placement];
            let classes = [pair.placement, pair.beside].map(|of| self.curves.class(of));
            let [Some(own), Some(beside)] = classes else { continue };
            let tip_m = if pair.end == TrainEnd::Front { string.front.m() } else { string.rear.m() };
            // Both classes count from their own first lane; straight on, the difference is that of the lanes.
            let lanes_m = self.first_y_m(pair.beside) - self.first_y_m(pair.placement);
            let gap_m = bent[beside].at_m(tip_m) - bent[own].at_m(tip_m) + lanes_m;
            let nearer_m = pair.to_the_right_m - gap_m;
            sizes_m.extend([nearer_m, -nearer_m]);
            for (side, nearer_m) in [nearer_m, -nearer_m].into_iter().enumerate() {
                if nearer_m > self.approaches_m[at][side] {
                    self.approaches_m[at][side] = nearer_m;
                    self.approach_places[at][side] = place;
                }
            }
        }
        sizes_m
    }

    fn first_y_m(&self, placement: usize) -> f64 {
        self.figures.placed[placement].y_m.first().copied().unwrap_or_default()
    }

    /// The largest swings by placement, and by neighbours.
    pub(super) fn worst(mut self) -> Worst {
        for (at, pair) in self.curves.neighbours.iter().enumerate() {
            self.approaches_m[at] = self.approaches_m[pair.alike];
            self.approach_places[at] = self.approach_places[pair.alike];
        }
        let Self { swings, approaches_m, approach_places, .. } = self;
        Worst { swings, approaches_m, approach_places }
    }
}

fn keep_larger(kept_m: &mut f64, swing_m: f64) {
    if swing_m.abs() > kept_m.abs() {
        *kept_m = swing_m;
    }
}
