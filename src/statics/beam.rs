//! One string on its racks: a continuous beam under its own weight on one-sided level supports.

/// A string as a beam: places in m along the train, weight in N/m.
#[derive(Clone, Debug, PartialEq)]
pub struct Beam<'a> {
    /// x of the supports in m, strictly growing.
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
        Err(BeamError::NoSupport)
    }
}
