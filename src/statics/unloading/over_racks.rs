//! A string drawn off over the racks of the train: continuous over them and the chute roller, lifting off some.

use super::lead::bisect;
use super::{Bar, Lead};
use crate::statics::contact::Span;

/// How far a bar may seem to sink into a support by rounding, in m.
const GAP_SLACK_M: f64 = 1.0e-10;

/// Share of the weight of ten metres below which a reaction counts as zero.
const REACTION_SLACK_M: f64 = 1.0e-9;

/// The supports that a string is drawn off over, seen from the end of the train inward.
#[derive(Clone, Debug, PartialEq)]
pub struct ChuteLine {
    /// Places of the supports in m, growing toward the seat; the last deck rack of the train at 0, the roller beyond.
    pub places_m: Vec<f64>,
    /// Height of each above the seat in m.
    pub heights_m: Vec<f64>,
    /// Length of string behind the innermost support in m.
    pub tail_m: f64,
}

/// One support of the line with what the string does there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SupportLine {
    /// Its place in m.
    pub place_m: f64,
    /// Its height above the seat in m.
    pub height_m: f64,
    /// Whether it carries.
    pub carries: bool,
    /// Reaction in N, zero where the string lifts off.
    pub reaction_n: f64,
    /// Moment over it in N m, sagging positive; where it does not carry, zero stands for no value.
    pub moment_nm: f64,
}

/// A string over the racks and the chute roller, one-sided, and its lead to the seat.
#[derive(Clone, Debug, PartialEq)]
pub struct OverRacks {
    /// The lead from the outermost support that carries.
    pub lead: Lead,
    /// All supports, from the innermost.
    pub supports: Vec<SupportLine>,
    /// Index of the outermost support that carries.
    pub outermost: usize,
    /// Length of string behind the innermost support in m.
    pub tail_m: f64,
}

impl OverRacks {
    /// Solves `bar` over `line`, which has at least one support above the seat.
    ///
    /// The lead's length is where the slope of the racks' side meets that of the lead at the outermost support;
    /// supports that would pull are dropped, those that would be sunk into are taken up again.
    pub fn solve(bar: Bar, line: &ChuteLine) -> Option<Self> {
        let mut on: Vec<usize> = (0..line.places_m.len()).collect();
        let mut solved = Solved::of(bar, line, &on)?;
        for _ in 0..4 * line.places_m.len() + 8 {
            let slack_n = REACTION_SLACK_M * bar.weight_n_per_m;
            let pulls = (0..on.len()).filter(|k| solved.reactions_n[*k] < -slack_n);
            if let Some(k) = pulls.min_by(|a, b| solved.reactions_n[*a].total_cmp(&solved.reactions_n[*b]))
                && on.len() > 1
            {
                on.remove(k);
            } else if let Some(sunk) = solved.deepest(bar, line, &on) {
                let at = on.partition_point(|support| *support < sunk);
                on.insert(at, sunk);
            } else {
                break;
            }
            solved = Solved::of(bar, line, &on)?;
        }
        Some(solved.figures(line, &on))
    }

    /// How many supports inward of the outermost one the string lifts off before it first carries again.
    pub fn lifted(&self) -> usize {
        self.supports[..self.outermost].iter().rev().take_while(|support| !support.carries).count()
    }

    /// The largest moment of the lead and over the racks, whichever way it bends, in N m.
    pub fn largest_moment_nm(&self) -> f64 {
        let supports = self.supports.iter().map(|support| support.moment_nm.abs());
        supports.chain(self.span_moments_nm()).fold(self.lead.largest_moment_nm(), f64::max)
    }

    /// The largest moment within each span between neighbouring supports that carry, from the innermost, in N m.
    pub fn span_moments_nm(&self) -> Vec<f64> {
        let carried: Vec<&SupportLine> = self.supports.iter().filter(|support| support.carries).collect();
        let largest = carried.windows(2).map(|pair| {
            let span = span_between(self.lead.bar, pair[0], pair[1]);
            span.moment_nm((span.shear_n / span.q).clamp(0.0, span.length_m)).abs()
        });
        largest.collect()
    }

    /// Moment at `place_m` on the racks' side of the outermost support, in N m; none behind the innermost one.
    pub fn moment_at_nm(&self, place_m: f64) -> Option<f64> {
        let mut carried = self.supports.iter().filter(|support| support.carries);
        let mut inner = carried.next()?;
        // A place counted from the seat may miss the innermost support by rounding.
        let place_m = if (place_m - inner.place_m).abs() < GAP_SLACK_M { inner.place_m } else { place_m };
        for outer in carried {
            if (inner.place_m..=outer.place_m).contains(&place_m) {
                return Some(span_between(self.lead.bar, inner, outer).moment_nm(place_m - inner.place_m));
            }
            inner = outer;
        }
        None
    }
}

fn span_between(bar: Bar, inner: &SupportLine, outer: &SupportLine) -> Span {
    Span::new(outer.place_m - inner.place_m, (inner.moment_nm, outer.moment_nm), bar.weight_n_per_m)
}

/// One set of supports solved, pulling allowed.
struct Solved {
    lead: Lead,
    moments_nm: Vec<f64>,
    reactions_n: Vec<f64>,
}

impl Solved {
    fn of(bar: Bar, line: &ChuteLine, on: &[usize]) -> Option<Self> {
        let last = *on.last()?;
        let height_m = line.heights_m[last];
        if on.len() == 1 {
            let tail_m = line.tail_m + line.places_m[last] - line.places_m[0];
            let lead = Lead::with_tail(bar, height_m, tail_m);
            let reactions_n = vec![lead.support_n + bar.weight_n_per_m * tail_m];
            return Some(Self { lead, moments_nm: vec![lead.support_moment_nm], reactions_n });
        }
        // The racks' side is linear in the moment over the outermost support: two solutions give all others.
        let (at_rest, by_unit) = (moments(bar, line, on, 0.0), moments(bar, line, on, 1.0));
        let fall_at = |m: &[f64]| -rise(bar, line, on, m);
        let (rest_fall, unit_fall) = (fall_at(&at_rest), fall_at(&by_unit) - fall_at(&at_rest));
        let meets = |length_m: f64| {
            let lead = Lead::of_length(bar, height_m, length_m);
            rest_fall + unit_fall * lead.support_moment_nm >= lead.slope_rad
        };
        let lead = Lead::of_length(bar, height_m, bisect(Lead::held_level(bar, height_m).length_m, meets));
        let moments_nm: Vec<f64> = at_rest
            .iter()
            .zip(&by_unit)
            .map(|(rest, unit)| rest + (unit - rest) * lead.support_moment_nm)
            .collect();
        let reactions_n = reactions(bar, line, on, (&moments_nm, lead));
        Some(Self { lead, moments_nm, reactions_n })
    }

    /// The support outside the set that the bar sinks into deepest, if any.
    fn deepest(&self, bar: Bar, line: &ChuteLine, on: &[usize]) -> Option<usize> {
        let off = (0..line.places_m.len()).filter(|support| !on.contains(support));
        off.map(|support| (support, line.heights_m[support] - self.height_at_m(bar, line, on, support)))
            .filter(|(_, sunk_m)| *sunk_m > GAP_SLACK_M)
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(support, _)| support)
    }

    /// Height of the bar above the seat at a support that does not carry.
    fn height_at_m(&self, bar: Bar, line: &ChuteLine, on: &[usize], support: usize) -> f64 {
        let (x, h, place_m) = (&line.places_m, &line.heights_m, line.places_m[support]);
        let (first, last) = (on[0], on[on.len() - 1]);
        if support > last {
            let from_seat_m = (self.lead.length_m - (place_m - x[last])).max(0.0);
            return self.lead.height_at_m(from_seat_m);
        }
        if support < first {
            let (d, c) = (x[first] - place_m, line.tail_m + x[first] - x[0]);
            let rise = if on.len() == 1 { self.lead.slope_rad } else { self.inward_rise(bar, line, on) };
            let droop = bar.weight_n_per_m * d * d * (6.0 * c * c - 4.0 * c * d + d * d) / 24.0;
            return h[first] + rise * d - droop / bar.stiffness_n_m2;
        }
        let k = on.partition_point(|carrying| *carrying < support) - 1;
        let span = self.span(bar, line, on, k);
        let s_m = place_m - x[on[k]];
        let chord_m = h[on[k]] + (h[on[k + 1]] - h[on[k]]) * s_m / span.length_m;
        chord_m + span.deflection_nm3(s_m) / bar.stiffness_n_m2
    }

    /// Slope at the innermost support that carries, rising inward positive.
    fn inward_rise(&self, bar: Bar, line: &ChuteLine, on: &[usize]) -> f64 {
        let span = self.span(bar, line, on, 0);
        let chord = (line.heights_m[on[1]] - line.heights_m[on[0]]) / span.length_m;
        -(chord + span.slope_nm2(0.0) / bar.stiffness_n_m2)
    }

    fn span(&self, bar: Bar, line: &ChuteLine, on: &[usize], k: usize) -> Span {
        let length_m = line.places_m[on[k + 1]] - line.places_m[on[k]];
        Span::new(length_m, (self.moments_nm[k], self.moments_nm[k + 1]), bar.weight_n_per_m)
    }

    fn figures(self, line: &ChuteLine, on: &[usize]) -> OverRacks {
        let support = |index: usize| {
            let k = on.iter().position(|carrying| *carrying == index);
            SupportLine {
                place_m: line.places_m[index],
                height_m: line.heights_m[index],
                carries: k.is_some(),
                reaction_n: k.map_or(0.0, |k| self.reactions_n[k].max(0.0)),
                moment_nm: k.map_or(0.0, |k| self.moments_nm[k]),
            }
        };
        OverRacks {
            lead: self.lead,
            supports: (0..line.places_m.len()).map(support).collect(),
            outermost: on.last().copied().unwrap_or_default(),
            tail_m: line.tail_m,
        }
    }
}

/// Moments over the supports `on`, given the one over the outermost: three-moment equations with their heights.
fn moments(bar: Bar, line: &ChuteLine, on: &[usize], outermost_nm: f64) -> Vec<f64> {
    let (q, ei) = (bar.weight_n_per_m, bar.stiffness_n_m2);
    let (x, h) = (|k: usize| line.places_m[on[k]], |k: usize| line.heights_m[on[k]]);
    let n = on.len();
    let tail_m = line.tail_m + x(0) - line.places_m[0];
    let mut moments_nm = vec![-q * tail_m * tail_m / 2.0];
    let mut sweep = vec![0.0];
    for k in 1..n - 1 {
        let (l1, l2) = (x(k) - x(k - 1), x(k + 1) - x(k));
        let kink = (h(k + 1) - h(k)) / l2 - (h(k) - h(k - 1)) / l1;
        let load = -q * (l1 * l1 * l1 + l2 * l2 * l2) / 4.0 + 6.0 * ei * kink;
        let pivot = 2.0 * (l1 + l2) - l1 * sweep[k - 1];
        moments_nm.push((load - l1 * moments_nm[k - 1]) / pivot);
        sweep.push(l2 / pivot);
    }
    moments_nm.push(outermost_nm);
    for k in (1..n - 1).rev() {
        moments_nm[k] -= sweep[k] * moments_nm[k + 1];
    }
    moments_nm
}

/// Slope of the racks' side at the outermost support, rising toward the seat positive.
fn rise(bar: Bar, line: &ChuteLine, on: &[usize], moments_nm: &[f64]) -> f64 {
    let last = on.len() - 1;
    let (from, to) = (on[last - 1], on[last]);
    let length_m = line.places_m[to] - line.places_m[from];
    let span = Span::new(length_m, (moments_nm[last - 1], moments_nm[last]), bar.weight_n_per_m);
    (line.heights_m[to] - line.heights_m[from]) / length_m + span.slope_nm2(length_m) / bar.stiffness_n_m2
}

fn reactions(bar: Bar, line: &ChuteLine, on: &[usize], (m, lead): (&[f64], Lead)) -> Vec<f64> {
    let q = bar.weight_n_per_m;
    let mut from_inside_n = q * (line.tail_m + line.places_m[on[0]] - line.places_m[0]);
    let mut reactions_n = Vec::with_capacity(on.len());
    for k in 0..on.len() - 1 {
        let length_m = line.places_m[on[k + 1]] - line.places_m[on[k]];
        let tilt_n = (m[k + 1] - m[k]) / length_m;
        reactions_n.push(from_inside_n + q * length_m / 2.0 + tilt_n);
        from_inside_n = q * length_m / 2.0 - tilt_n;
    }
    reactions_n.push(from_inside_n + lead.support_n);
    reactions_n
}

#[cfg(test)]
mod tests {
    use super::super::lead::tests::{BAR_60E1, within};
    use super::*;

    /// Twenty deck racks 6.633 m apart, 1.2 m above the seat, and a roller so far behind and so much lower.
    pub(crate) fn line(roller: Option<(f64, f64)>) -> ChuteLine {
        let mut places_m: Vec<f64> = (0..20).map(|rack| 6.633 * (f64::from(rack) - 19.0)).collect();
        let mut heights_m = vec![1.2; 20];
        if let Some((behind_m, lower_m)) = roller {
            places_m.push(behind_m);
            heights_m.push(1.2 - lower_m);
        }
        ChuteLine { places_m, heights_m, tail_m: 0.0 }
    }

    fn solve(roller: Option<(f64, f64)>) -> OverRacks {
        OverRacks::solve(BAR_60E1, &line(roller)).unwrap()
    }

    // Project test values (mechanics.md 6): 60E1 at 1.2 m over deck racks at 6.633 m.
    #[test]
    fn over_the_deck_racks_two_lift_and_28_6_m_hang_with_64_5_kn_m() {
        let racks = solve(None);
        within(racks.lead.length_m, 28.6, 1.0e-3);
        within(racks.largest_moment_nm(), 64_500.0, 1.0e-3);
        within(racks.largest_moment_nm() / 333.6e-6, 193.0e6, 3.0e-3);
        assert_eq!((racks.lifted(), racks.outermost), (2, 19));
    }

    // Project test values (mechanics.md 6): a chute roller behind the last rack and lower than it.
    #[test]
    fn a_chute_roller_cuts_the_moment() {
        for (behind_m, lower_m, moment_nm) in
            [(6.0, 0.2, 39_900.0), (4.0, 0.1, 55_900.0), (6.0, 0.3, 57_300.0)]
        {
            let racks = solve(Some((behind_m, lower_m)));
            within(racks.largest_moment_nm(), moment_nm, 3.0e-3);
            assert_eq!(racks.outermost, 20);
        }
    }

    #[test]
    fn a_roller_that_the_string_never_touches_changes_nothing() {
        let (with, without) = (solve(Some((6.0, 1.0))), solve(None));
        assert!(!with.supports[20].carries);
        within(with.lead.length_m, without.lead.length_m, 1.0e-12);
        within(with.largest_moment_nm(), without.largest_moment_nm(), 1.0e-12);
    }

    #[test]
    fn forces_are_in_balance_and_nothing_pulls_or_is_sunk_into() {
        for roller in [None, Some((6.0, 0.2)), Some((3.0, 0.5))] {
            let racks = solve(roller);
            let length_m =
                racks.lead.length_m + racks.supports[racks.outermost].place_m - racks.supports[0].place_m;
            let carried_n: f64 = racks.supports.iter().map(|support| support.reaction_n).sum();
            within(carried_n + racks.lead.seat_n, BAR_60E1.weight_n_per_m * length_m, 1.0e-9);
            assert!(racks.supports.iter().all(|support| support.reaction_n >= 0.0));
            // The lead starts at the slope that the racks' side ends with: its given-slope form agrees.
            let again = Lead::with_slope(BAR_60E1, racks.lead.height_m, racks.lead.slope_rad);
            within(again.length_m, racks.lead.length_m, 1.0e-9);
        }
    }

    // Racks ever closer make a flat deck. Off its edge the string lifts over a length a, to a place where it lies on
    // level, so that this part too is a lead, of height 0: M = -q a^2 / 4 and slope q a^3 / (24 E I) at the edge.
    #[test]
    fn over_racks_close_together_it_leaves_as_over_the_edge_of_a_flat_deck() {
        let (q, ei, h) = (BAR_60E1.weight_n_per_m, BAR_60E1.stiffness_n_m2, 1.2);
        let lead_m = |a: f64| {
            let a2 = a * a;
            ((a2 + (a2 * a2 + 96.0 * ei * h / q).sqrt()) / 2.0).sqrt()
        };
        let meets = |a: f64| q * a * a * a / (24.0 * ei) >= Lead::of_length(BAR_60E1, h, lead_m(a)).slope_rad;
        let lifted_m = bisect(20.0, meets);
        let close = ChuteLine {
            places_m: (0..400).map(|rack| 0.1 * (f64::from(rack) - 399.0)).collect(),
            heights_m: vec![h; 400],
            tail_m: 0.0,
        };
        let racks = OverRacks::solve(BAR_60E1, &close).unwrap();
        within(racks.lead.support_moment_nm, -q * lifted_m * lifted_m / 4.0, 2.0e-3);
        within(racks.lead.length_m, lead_m(lifted_m), 2.0e-3);
        assert!((0.1 * racks.lifted() as f64 - lifted_m).abs() < 0.2);
    }

    #[test]
    fn over_a_single_support_the_end_is_free() {
        let single = ChuteLine { places_m: vec![0.0], heights_m: vec![1.2], tail_m: 0.0 };
        let free = OverRacks::solve(BAR_60E1, &single).unwrap();
        within(free.lead.length_m, Lead::free_end(BAR_60E1, 1.2).length_m, 1.0e-12);
    }

    #[test]
    fn a_short_tail_lifts_off_all_inner_racks_and_hogs_by_its_own_weight() {
        let short = ChuteLine { places_m: vec![-6.633, 0.0], heights_m: vec![1.2, 1.2], tail_m: 1.0 };
        let racks = OverRacks::solve(BAR_60E1, &short).unwrap();
        assert!(!racks.supports[0].carries);
        let tail_m: f64 = 7.633;
        within(racks.lead.support_moment_nm, -BAR_60E1.weight_n_per_m * tail_m * tail_m / 2.0, 1.0e-9);
        // Never worse than a long string over the same racks.
        assert!(racks.largest_moment_nm() < solve(None).largest_moment_nm());
    }
}
