//! One string on its racks: a continuous beam under its own weight on one-sided level supports.

use super::contact::{Contact, Span};
use super::one_sided::astride;

/// A string as a beam: places in m along the train, weight in N/m.
#[derive(Clone, Debug, PartialEq)]
pub struct Beam<'a> {
    /// x of the supports in m, growing, each within front to rear; of several at one place the first carries.
    pub supports_m: &'a [f64],
    /// x of the front end in m.
    pub front_m: f64,
    /// x of the rear end in m.
    pub rear_m: f64,
    /// Weight per length in N/m, above zero.
    pub weight_n_per_m: f64,
    /// E I about the horizontal axis in N m2, above zero (sag and tip only; level reactions do not depend on it).
    pub stiffness_n_m2: f64,
}

/// Why a string cannot lie on its racks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BeamError {
    /// No rack under it.
    NoSupport,
    /// No two racks astride its centre of gravity: it tips.
    Tips,
}

/// What a string does on its racks.
#[derive(Clone, Debug, PartialEq)]
pub struct BeamFigures {
    /// Reaction at each support in N, zero where it lifts off.
    pub reactions_n: Vec<f64>,
    /// Moment over each support in N m, sagging positive; at a lifted support the moment of the beam there.
    pub moments_nm: Vec<f64>,
    /// Whether each support carries (a support that was dropped from the contact set does not).
    pub carries: Vec<bool>,
    /// The spans between neighbouring carrying supports, from the front.
    pub spans: Vec<SpanFigures>,
    /// Overhang in front of the first carrying support in m.
    pub front_overhang_m: f64,
    /// Overhang behind the last carrying support in m.
    pub rear_overhang_m: f64,
    /// Deflection of the front tip in m, up positive.
    pub front_tip_m: f64,
    /// Deflection of the rear tip in m, up positive.
    pub rear_tip_m: f64,
}

/// One span between carrying supports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpanFigures {
    /// Index of the support in front.
    pub from: usize,
    /// Index of the support behind.
    pub to: usize,
    /// Length in m.
    pub length_m: f64,
    /// Largest moment within the span in N m, sagging positive (the larger end moment where none is sagging).
    pub largest_moment_nm: f64,
    /// Largest downward deflection within the span in m (0 where it bows up everywhere).
    pub sag_m: f64,
    /// Where that is, in m behind the support in front (0 where it bows up everywhere).
    pub sag_at_m: f64,
}

impl Beam<'_> {
    /// Solves the beam with one-sided contact.
    ///
    /// # Errors
    /// [`BeamError::NoSupport`] with no support; [`BeamError::Tips`] where no two supports stand astride
    /// the centre of gravity (a single support exactly under it counts as tipping too).
    pub fn solve(&self) -> Result<BeamFigures, BeamError> {
        if self.supports_m.is_empty() {
            return Err(BeamError::NoSupport);
        }
        if !astride(self.supports_m, self.centre_m()) {
            return Err(BeamError::Tips);
        }
        Ok(self.figures(&Contact::settle(self)))
    }

    /// x of the centre of gravity in m.
    pub(super) fn centre_m(&self) -> f64 {
        f64::midpoint(self.front_m, self.rear_m)
    }

    fn figures(&self, contact: &Contact) -> BeamFigures {
        let count = self.supports_m.len();
        let mut reactions_n = vec![0.0; count];
        let mut moments_nm = vec![0.0; count];
        let mut carries = vec![false; count];
        for (k, support) in contact.on.iter().enumerate() {
            reactions_n[*support] = contact.reactions_n[k];
            moments_nm[*support] = contact.moments_nm[k];
            carries[*support] = true;
        }
        if contact.on.len() < count {
            self.moments_where_lifted(contact, &mut moments_nm);
        }
        let (front, rear) = contact.overhangs(self);
        BeamFigures {
            reactions_n,
            moments_nm,
            carries,
            spans: (1..contact.on.len()).map(|k| self.span_figures(contact, k - 1)).collect(),
            front_overhang_m: front.length_m,
            rear_overhang_m: rear.length_m,
            front_tip_m: front.tip_nm3() / self.stiffness_n_m2,
            rear_tip_m: rear.tip_nm3() / self.stiffness_n_m2,
        }
    }

    fn moments_where_lifted(&self, contact: &Contact, moments_nm: &mut [f64]) {
        let x = self.supports_m;
        let (front, rear) = contact.overhangs(self);
        let (first, last) = (contact.on[0], contact.on[contact.on.len() - 1]);
        for i in 0..first {
            moments_nm[i] = front.moment_nm(x[first] - x[i]);
        }
        for i in last + 1..x.len() {
            moments_nm[i] = rear.moment_nm(x[i] - x[last]);
        }
        for (k, pair) in contact.on.windows(2).enumerate() {
            for i in pair[0] + 1..pair[1] {
                moments_nm[i] = contact.span(self, k).moment_nm(x[i] - x[pair[0]]);
            }
        }
    }

    fn span_figures(&self, contact: &Contact, k: usize) -> SpanFigures {
        let span = contact.span(self, k);
        let peak_m = (span.shear_n / self.weight_n_per_m).clamp(0.0, span.length_m);
        let largest_moment_nm = span.moment_nm(peak_m);
        let sag_at_m = lowest_m(span).unwrap_or(0.0);
        let lowest_nm3 = span.deflection_nm3(sag_at_m);
        SpanFigures {
            from: contact.on[k],
            to: contact.on[k + 1],
            length_m: span.length_m,
            largest_moment_nm,
            sag_m: (-lowest_nm3 / self.stiffness_n_m2).max(0.0),
            sag_at_m,
        }
    }
}

/// Where the span hangs lowest between its supports, in m behind the front one.
///
/// It can only do so within the sagging stretch about the moment's peak, where the slope grows: so there is
/// at most one such place, where the slope is zero. Newton steps on the slope, halving where they leave the
/// bracket.
fn lowest_m(span: Span) -> Option<f64> {
    let vertex_m = span.shear_n / span.q;
    let vertex_nm = span.moment_nm(vertex_m);
    if vertex_nm <= 0.0 {
        return None;
    }
    let half_m = (2.0 * vertex_nm / span.q).sqrt();
    let (mut low_m, mut high_m) = ((vertex_m - half_m).max(0.0), (vertex_m + half_m).min(span.length_m));
    if span.slope_nm2(low_m) >= 0.0 || span.slope_nm2(high_m) <= 0.0 {
        return None;
    }
    let mut s_m = f64::midpoint(low_m, high_m);
    for _ in 0..60 {
        let slope_nm2 = span.slope_nm2(s_m);
        if slope_nm2 < 0.0 {
            low_m = s_m;
        } else {
            high_m = s_m;
        }
        let newton_m = s_m - slope_nm2 / span.moment_nm(s_m);
        let next_m =
            if newton_m > low_m && newton_m < high_m { newton_m } else { f64::midpoint(low_m, high_m) };
        // The deflection is flat at its lowest: it errs by the square of what the place errs.
        if (next_m - s_m).abs() <= 1.0e-5 * span.length_m {
            return Some(next_m);
        }
        s_m = next_m;
    }
    Some(s_m)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solve(supports_m: &[f64], front_m: f64, rear_m: f64) -> Result<BeamFigures, BeamError> {
        Beam { supports_m, front_m, rear_m, weight_n_per_m: 590.0, stiffness_n_m2: 6.38e6 }.solve()
    }

    #[track_caller]
    fn check_balance(supports_m: &[f64], front_m: f64, rear_m: f64) -> BeamFigures {
        let figures = solve(supports_m, front_m, rear_m).unwrap();
        let weight_n = 590.0 * (rear_m - front_m);
        let pushed = || supports_m.iter().zip(&figures.reactions_n);
        let moment_nm: f64 = pushed().map(|(x, n)| x * n).sum();
        let sum_n: f64 = figures.reactions_n.iter().sum();
        assert!((sum_n - weight_n).abs() < 1.0e-9 * weight_n);
        let expected_nm = weight_n * f64::midpoint(front_m, rear_m);
        assert!((moment_nm - expected_nm).abs() < 1.0e-9 * weight_n * (rear_m - front_m));
        assert!(figures.reactions_n.iter().all(|n| *n >= 0.0));
        figures
    }

    #[test]
    fn two_supports_share_by_the_lever_rule() {
        // By hand: 12 m, centre 4 m behind the front one of two supports 6 m apart: 1/3 and 2/3.
        let figures = check_balance(&[2.0, 8.0], 0.0, 12.0);
        assert!((figures.reactions_n[0] - 590.0 * 4.0).abs() < 1.0e-9);
        assert!((figures.reactions_n[1] - 590.0 * 8.0).abs() < 1.0e-9);
        assert!((figures.moments_nm[0] + 590.0 * 2.0).abs() < 1.0e-9);
        assert!((figures.moments_nm[1] + 590.0 * 8.0).abs() < 1.0e-9);
    }

    #[test]
    fn an_end_exactly_at_a_support_has_no_overhang() {
        let figures = check_balance(&[0.0, 6.0, 12.0], 0.0, 12.0);
        assert_eq!(figures.carries, [true; 3]);
        assert!(figures.front_overhang_m.abs() < 1.0e-12 && figures.front_tip_m.abs() < 1.0e-12);
    }

    #[test]
    fn a_lifted_support_carries_nothing_and_tells_the_moment_there() {
        // The front one of spans 1 and 6 lifts (limit 2.303 times): the moment there is that of a free end.
        let figures = check_balance(&[0.5, 1.5, 7.5], 0.0, 7.5);
        assert_eq!(figures.carries, [false, true, true]);
        assert!((figures.moments_nm[0] + 590.0 * 0.25 / 2.0).abs() < 1.0e-9);
        assert!((figures.front_overhang_m - 1.5).abs() < 1.0e-12);
        let span = figures.spans[0];
        assert_eq!((span.from, span.to), (1, 2));
    }

    #[test]
    fn supports_a_millimetre_apart_clamp_and_only_push() {
        check_balance(&[0.0, 0.001, 6.0, 6.001, 12.0], -3.0, 14.0);
        check_balance(&[0.0, 6.0, 6.001], -5.0, 8.0);
    }

    #[test]
    fn of_supports_at_one_place_the_first_carries() {
        let doubled = check_balance(&[0.0, 6.0, 6.0, 12.0], -1.0, 13.0);
        let single = check_balance(&[0.0, 6.0, 12.0], -1.0, 13.0);
        assert_eq!(doubled.carries, [true, true, false, true]);
        assert_eq!(doubled.spans.len(), single.spans.len());
        assert!((doubled.reactions_n[1] - single.reactions_n[1]).abs() < 1.0e-9);
        assert_eq!(solve(&[6.0, 6.0], 5.0, 7.0), Err(BeamError::Tips));
    }

    #[test]
    fn five_kilometres_over_hundreds_of_supports_stay_in_balance() {
        // Racks at +-6.633 m and in the middle of 19.9 m wagons, then every middle rack lifting (1 + sqrt 2).
        for half_m in [6.633, 2.0] {
            let supports_m: Vec<f64> = (0..251)
                .flat_map(|wagon| [-half_m, 0.0, half_m].map(|at| 19.9 * f64::from(wagon) + at))
                .collect();
            let figures = check_balance(&supports_m, -3.0, 250.0 * 19.9 + 3.0);
            let lifted = figures.carries.iter().filter(|carries| !**carries).count();
            assert_eq!(lifted > 200, half_m < 3.0, "{lifted}");
        }
    }
}
