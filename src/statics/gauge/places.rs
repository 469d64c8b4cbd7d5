//! The places on strings at which load and line are compared, and how far the ends of strings swing there.

use super::{GaugeCurve, GaugeFigures, GaugeGap, OutlineAt, beyond_m, play_m};
use crate::model::TrainEnd;
use crate::statics::curves::{BentString, CurveGap, Path, chords, classify};
use crate::statics::{Figures, PlacedString};

/// Where on the strings it is looked.
pub(super) enum Places {
    /// At all racks, and at all ends, which swing so.
    All(Tips),
    /// At one rack alone.
    Rack(usize),
}

impl Places {
    /// The places on a string that lies on racks, each with the rack that carries it there, counted on the string.
    pub(super) fn of(&self, string: &PlacedString) -> Vec<(usize, OutlineAt)> {
        let racks = string.racks.clone().enumerate().map(|(at, rack)| (at, OutlineAt::Rack(rack)));
        match self {
            Self::All(_) => {
                let ends = [(0, TrainEnd::Front), (string.racks.len() - 1, TrainEnd::Rear)];
                racks.chain(ends.map(|(at, end)| (at, OutlineAt::End(end)))).collect()
            }
            Self::Rack(only) => racks.filter(|(_, at)| *at == OutlineAt::Rack(*only)).collect(),
        }
    }

    pub(super) fn beside_at_end(
        &self,
        figures: &Figures,
        gauge: &GaugeFigures,
        string: &PlacedString,
        end: TrainEnd,
    ) -> Result<(f64, Option<usize>), GaugeGap> {
        match self {
            Self::All(tips) => tips.beside(figures, gauge, string, end),
            // Ends are not among the places then.
            Self::Rack(_) => Ok((0.0, None)),
        }
    }
}

/// Swing of the ends of all strings in each curve.
pub(super) struct Tips {
    /// By curve, by placement: toward the inside positive, front and rear end, in m; none where not known.
    swings_m: Vec<Vec<Option<[f64; 2]>>>,
    class_of: Vec<Result<usize, CurveGap>>,
}

impl Tips {
    pub(super) fn of(figures: &Figures, curves: &[GaugeCurve]) -> Self {
        let (classes, class_of) = classify(&figures.plan, &figures.consist, &figures.placed);
        let swings_m = curves.iter().map(|curve| {
            let path = Path::steady(1.0 / curve.radius_m);
            let chords = chords(&figures.consist, &path);
            let bent: Vec<BentString> = classes
                .iter()
                .map(|class| {
                    let mut bent = BentString::new(class.stiffness_n_m2);
                    class.lay(&figures.consist, &chords, &mut bent);
                    bent
                })
                .collect();
            let of_string = |string: &PlacedString| {
                let class = class_of[string.placement].ok()?;
                let shifts_m = &classes[class].lane_shifts_m;
                let ends = [(string.front.m(), shifts_m.first()), (string.rear.m(), shifts_m.last())];
                Some(ends.map(|(tip_m, shift_m)| {
                    bent[class].at_m(tip_m) - path.offset_m(tip_m) - shift_m.copied().unwrap_or_default()
                }))
            };
            figures.placed.iter().map(of_string).collect()
        });
        let swings_m = swings_m.collect();
        Self { swings_m, class_of }
    }

    /// Play and swing at an end, the most of straight and curves.
    ///
    /// On the straight the string lies loose: it may stand askew in its last two pockets. In a curve its pockets'
    /// sides hold it where it bends least; the last pocket's play is added for friction that holds it elsewhere.
    fn beside(
        &self,
        figures: &Figures,
        gauge: &GaugeFigures,
        string: &PlacedString,
        end: TrainEnd,
    ) -> Result<(f64, Option<usize>), GaugeGap> {
        let racks = &string.racks;
        let [last, before] = match end {
            TrainEnd::Front => [racks.start, (racks.start + 1).min(racks.end - 1)],
            TrainEnd::Rear => [racks.end - 1, racks.end.saturating_sub(2).max(racks.start)],
        };
        let (last_m, before_m) = (play_m(figures, last)?, play_m(figures, before)?);
        match self.class_of[string.placement] {
            Err(CurveGap::NoStiffness(section)) => return Err(GaugeGap::Stiffness(section)),
            Err(CurveGap::NoPlay(rack_type)) => return Err(GaugeGap::Play(rack_type)),
            Err(CurveGap::NotOnRacks) | Ok(_) => {}
        }
        let x_m = |rack: usize| figures.consist.racks[rack].x.m();
        let tip_m = if end == TrainEnd::Front { string.front.m() } else { string.rear.m() };
        let span_m = (x_m(last) - x_m(before)).abs();
        let over = if span_m > 0.0 { (tip_m - x_m(last)).abs() / span_m } else { 0.0 };
        let askew_m = last_m + (last_m + before_m) * over;
        let swing_m = |at: usize| self.swing_m(at, string, end);
        Ok(gauge.worst(askew_m, |at, curve| last_m + beyond_m(swing_m(at), curve)))
    }

    /// Swing of an end in a curve in m, toward the inside positive; 0 where it is not known.
    pub(super) fn swing_m(&self, curve: usize, string: &PlacedString, end: TrainEnd) -> f64 {
        let ends = self.swings_m[curve][string.placement];
        ends.map_or(0.0, |[front_m, rear_m]| if end == TrainEnd::Front { front_m } else { rear_m })
    }
}
