//! A string drawn off from its first metre on the seat to its last rack: where its rear end makes it worst.
//!
//! While it runs, its rear end leaves one rack after the other; each time the overhang behind the rack before has
//! grown to the whole distance between the two. The worst may lie anywhere on the way, so that all of it is looked
//! at: rack by rack, at both ends of each stretch, between them, and round the largest.

use super::{Bar, ChuteLine, OverRacks};
use crate::model::TrainEnd;
use crate::statics::Consist;
use crate::statics::seek::peak_between;
use std::ops::Range;

/// Racks inward of the end between which the rear end is followed: what lies further in is felt at the last support
/// by less than a millionth.
const MOST_RACKS: usize = 24;

/// Parts of each stretch at whose ends it is looked before the best place is closed in on.
const PARTS: u32 = 4;

/// How closely the place of the worst is then found, in m.
const CLOSE_M: f64 = 0.02;

/// By how much a gap further in must be wider than those near the end to matter, in m.
const WIDER_M: f64 = 0.01;

/// The supports that strings are drawn off over toward one end of the train.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Chute {
    /// Racks' distances in m from the last one inward, which is at 0; strictly growing.
    inward_m: Vec<f64>,
    /// Height of the racks above the seat in m.
    deck_m: f64,
    /// How far behind the last rack the chute roller is and how much lower, in m.
    roller: Option<(f64, f64)>,
}

/// How far a string is drawn off: part of what its solution depends on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Reach {
    /// Bits of the longest part behind the last support that is looked at place by place, in m.
    near: u64,
    /// Where its rear end hangs over the widest gap further in, if that is wider than any near the end: racks still
    /// under it, and bits of the part behind the last support in m.
    far: Option<(usize, u64)>,
}

/// A string over the supports at one moment.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Drawn {
    /// Length of string behind the last support in m.
    pub(super) behind_m: f64,
    /// The string there.
    pub(super) racks: OverRacks,
}

impl Chute {
    /// The racks of the train from the end `toward`, and the chute roller behind them; none without racks.
    pub(super) fn of(
        consist: &Consist,
        toward: TrainEnd,
        (deck_m, roller): (f64, Option<(f64, f64)>),
    ) -> Option<Self> {
        let racks = &consist.racks;
        let mut inward_m: Vec<f64> = match toward {
            TrainEnd::Front => racks.iter().map(|rack| (rack.x - racks[0].x).m()).collect(),
            TrainEnd::Rear => {
                racks.iter().rev().map(|rack| (racks[racks.len() - 1].x - rack.x).m()).collect()
            }
        };
        inward_m.dedup_by(|next, before| next <= before);
        let roller = roller.filter(|(behind_m, _)| *behind_m > 0.0);
        (!inward_m.is_empty()).then_some(Self { inward_m, deck_m, roller })
    }

    /// How far a string is drawn off of which `longest_m` lie behind the last support at first.
    pub(super) fn reach(&self, longest_m: f64) -> Reach {
        let near_m = self.leaves_at_m(MOST_RACKS).min(longest_m);
        // Where the rear end is about to leave the next rack, or where it is at first, and its overhang there.
        let leaves_m = |count: usize| self.leaves_at_m(count).min(longest_m);
        let widest = |counts: Range<usize>| {
            let overhangs = counts.map(|count| (count, leaves_m(count) - self.leaves_at_m(count - 1)));
            overhangs.max_by(|a, b| a.1.total_cmp(&b.1))
        };
        let under = self.inward_m.iter().filter(|inward_m| *inward_m + self.behind_m() < longest_m).count();
        let far = widest(MOST_RACKS + 1..under + 1);
        let near_gap_m = widest(1..under.min(MOST_RACKS) + 1).map_or(0.0, |near| near.1);
        let far = far.filter(|far| far.1 > near_gap_m + WIDER_M);
        Reach { near: near_m.to_bits(), far: far.map(|far| (far.0, leaves_m(far.0).to_bits())) }
    }

    /// The moment at which `size` is largest while the string's part behind the last support runs out.
    ///
    /// None where the string has no such part, so that it only ever hangs with its end free.
    pub(super) fn worst(&self, bar: Bar, reach: Reach, size: impl Fn(&OverRacks) -> f64) -> Option<Drawn> {
        let near_m = f64::from_bits(reach.near);
        let at = |count: usize, behind_m: f64| OverRacks::solve(bar, &self.line(count, behind_m)?);
        let sized = |count: usize, behind_m: f64| at(count, behind_m).map_or(0.0, |racks| size(&racks));
        let mut worst = (0.0, 0, 0.0);
        let worse =
            |one: (f64, usize, f64), other: (f64, usize, f64)| if other.0 > one.0 { other } else { one };
        for count in 0..=MOST_RACKS.min(self.inward_m.len()) {
            let from_m = if count == 0 { 0.0 } else { self.leaves_at_m(count - 1) };
            let to_m = self.leaves_at_m(count).min(near_m);
            if to_m <= from_m {
                continue;
            }
            let place_m = |part: u32| from_m + (to_m - from_m) * f64::from(part) / f64::from(PARTS);
            // With nothing behind its last support its end is free, which is another case.
            let first = u32::from(from_m == 0.0);
            let sizes = (first..=PARTS).map(|part| (part, sized(count, place_m(part))));
            let Some((part, largest)) = sizes.max_by(|a, b| a.1.total_cmp(&b.1)) else { continue };
            worst = worse(worst, (largest, count, place_m(part)));
            // Only what might pass the worst is closed in on.
            if largest > 0.9 * worst.0 {
                let around = (place_m(part.saturating_sub(1).max(first)), place_m((part + 1).min(PARTS)));
                let (behind_m, largest) = peak_between(around, CLOSE_M, |behind_m| sized(count, behind_m));
                worst = worse(worst, (largest, count, behind_m));
            }
        }
        if let Some((count, behind)) = reach.far {
            let behind_m = f64::from_bits(behind);
            worst = worse(worst, (sized(count, behind_m), count, behind_m));
        }
        let (_, count, behind_m) = worst;
        if behind_m <= 0.0 {
            return None;
        }
        Some(Drawn { behind_m, racks: at(count, behind_m)? })
    }

    /// Length of string behind the last support where its rear end is about to leave the rack after the first
    /// `count`, in m; without bound where there is no such rack.
    fn leaves_at_m(&self, count: usize) -> f64 {
        self.inward_m.get(count).map_or(f64::INFINITY, |inward_m| inward_m + self.behind_m())
    }

    fn behind_m(&self) -> f64 {
        self.roller.map_or(0.0, |(behind_m, _)| behind_m)
    }

    /// The supports under a string that lies over the last `count` racks and has `behind_m` behind its last support.
    fn line(&self, count: usize, behind_m: f64) -> Option<ChuteLine> {
        let mut places_m: Vec<f64> =
            self.inward_m.iter().take(count).rev().map(|inward_m| -inward_m).collect();
        let mut heights_m = vec![self.deck_m; places_m.len()];
        if let Some((roller_m, lower_m)) = self.roller {
            places_m.push(roller_m);
            heights_m.push(self.deck_m - lower_m);
        }
        let (first_m, last_m) = (*places_m.first()?, *places_m.last()?);
        Some(ChuteLine { places_m, heights_m, tail_m: behind_m - (last_m - first_m) })
    }
}

#[cfg(test)]
mod tests {
    use super::super::Lead;
    use super::super::lead::tests::{BAR_60E1, within};
    use super::*;
    use std::iter;

    /// Racks `spacings_m` apart inward of the last one, 1.2 m above the seat.
    fn chute(spacings_m: &[f64], roller: Option<(f64, f64)>) -> Chute {
        let inward_m = spacings_m.iter().scan(0.0, |sum_m, spacing_m| {
            *sum_m += spacing_m;
            Some(*sum_m)
        });
        Chute { inward_m: iter::once(0.0).chain(inward_m).collect(), deck_m: 1.2, roller }
    }

    fn worst(chute: &Chute, longest_m: f64) -> Option<Drawn> {
        chute.worst(BAR_60E1, chute.reach(longest_m), OverRacks::largest_moment_nm)
    }

    // Independent reference: finite elements with one-sided supports, the rear end moved by 0.25 m and less (project
    // review); stresses at the head of 60E1, 333.6 cm3, so that moments are those times it.
    #[test]
    fn the_rear_end_on_its_way_makes_it_worse_than_a_long_string() {
        for (spacing_m, roller, long_mpa, worst_mpa) in [
            (6.633, None, 193.38, 194.27),
            (6.633, Some((6.0, 0.2)), 119.46, 129.05),
            (6.633, Some((4.0, 0.1)), 167.64, 168.36),
            (9.0, None, 192.76, 203.60),
        ] {
            let chute = chute(&[spacing_m; 11], roller);
            let under = chute.inward_m.iter().filter(|inward_m| *inward_m + chute.behind_m() <= 60.0).count();
            let long = OverRacks::solve(BAR_60E1, &chute.line(under, 60.0).unwrap()).unwrap();
            within(long.largest_moment_nm() / 333.6e-6, long_mpa * 1.0e6, 2.0e-3);
            let worst = worst(&chute, 60.0).unwrap();
            // The reference looks every 2 cm along the string and every few cm of its way: never above what is found.
            let found_mpa = worst.racks.largest_moment_nm() / 333.6;
            assert!(
                (worst_mpa - 0.01..worst_mpa * 1.002).contains(&found_mpa),
                "{found_mpa} for {worst_mpa}"
            );
        }
    }

    // By hand: while the end leaves the last rack before a gap g it hangs over all of it, q g^2 / 2 at that rack; near
    // the end of the train and a thousand metres from it alike.
    #[test]
    fn the_widest_gap_on_the_way_counts_wherever_it_is() {
        let moment_nm = BAR_60E1.weight_n_per_m * 25.0 * 25.0 / 2.0;
        for before in [3, 23, 24, 25, 150] {
            let mut spacings_m = vec![6.633; before];
            spacings_m.extend([25.0, 6.633, 6.633]);
            let chute = chute(&spacings_m, None);
            let gap_m = 6.633 * before as f64 + 25.0;
            let over = worst(&chute, gap_m + 1.0).unwrap();
            within(over.racks.largest_moment_nm(), moment_nm, 1.0e-6);
            within(over.behind_m, gap_m, 1.0e-6);
            // A string that starts with its rear end before the gap never hangs over it.
            let short = worst(&chute, gap_m - 25.0).unwrap();
            assert!(short.racks.largest_moment_nm() < 0.4 * moment_nm);
        }
    }

    // A long string passes every place that a shorter one starts from, and ends with its end free as well.
    #[test]
    fn a_longer_string_is_never_better_off() {
        let chute = chute(&[6.633; 30], Some((6.0, 0.2)));
        let free_nm = Lead::free_end(BAR_60E1, 1.0).largest_moment_nm();
        let mut before_nm = free_nm;
        for longest_m in [1.0, 5.0, 7.0, 12.25, 20.0, 76.5, 190.0] {
            let moment_nm = worst(&chute, longest_m).unwrap().racks.largest_moment_nm().max(free_nm);
            assert!(moment_nm >= before_nm * (1.0 - 1.0e-6), "{longest_m}: {moment_nm} after {before_nm}");
            before_nm = moment_nm;
        }
    }

    #[test]
    fn a_string_no_longer_than_its_lead_has_no_such_moment() {
        assert_eq!(worst(&chute(&[6.633], None), 0.0), None);
        assert_eq!(worst(&chute(&[6.633], Some((6.0, 0.2))), 0.0), None);
    }
}
