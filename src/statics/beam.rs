//! One string on its racks: a continuous beam under its own weight on one-sided level supports.

use super::contact::{Contact, Span, astride};

/// A string as a beam: places in m along the train, weight in N/m.
#[derive(Clone, Debug, PartialEq)]
pub struct Beam<'a> {
    /// x of the supports in m, strictly growing, each within front to rear.
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
        let peak_m = (span.shear_n() / self.weight_n_per_m).clamp(0.0, span.length_m);
        let largest_moment_nm = span.moment_nm(peak_m);
        let lowest_nm3 = lowest_m(span).map_or(0.0, |s_m| span.deflection_nm3(s_m));
        SpanFigures {
            from: contact.on[k],
            to: contact.on[k + 1],
            length_m: span.length_m,
            largest_moment_nm,
            sag_m: (-lowest_nm3 / self.stiffness_n_m2).max(0.0),
        }
    }
}

/// Where the span hangs lowest between its supports, in m behind the front one.
///
/// It can only do so within the sagging stretch about the moment's peak, where the slope grows: so there is
/// at most one such place, where the slope is zero. Newton steps on the slope, halving where they leave the
/// bracket.
fn lowest_m(span: Span) -> Option<f64> {
    let vertex_m = span.shear_n() / span.q;
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
        // The deflection is flat at its lowest: a place within this is exact to far less than a micrometre.
        if (next_m - s_m).abs() <= 1.0e-7 * span.length_m {
            return Some(next_m);
        }
        s_m = next_m;
    }
    Some(s_m)
}
