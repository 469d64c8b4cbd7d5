//! Sideways bending to the seat, and the largest stress of both bendings together at one place.

use super::{Lead, OverRacks};
use crate::model::RailSection;

/// Steps in which each stretch is scanned before the best place is closed in on.
const SCAN_STEPS: u32 = 64;

/// Steps in which each stretch is looked at where stresses are only ranked.
const ROUGH_STEPS: u32 = 16;

/// An edge of the section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edge {
    /// Of the head.
    Head,
    /// Of the foot.
    Foot,
}

/// Section moduli at the edges in m3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeModuli {
    /// At the head, about the horizontal axis.
    pub head_m3: f64,
    /// At the foot, about the horizontal axis.
    pub foot_m3: f64,
    /// At the head's edge about the vertical axis, and E Iy needs to be known: none where not shifted.
    pub head_side_m3: Option<f64>,
    /// At the foot's edge about the vertical axis; none where not shifted.
    pub foot_side_m3: Option<f64>,
}

/// Bending about the vertical axis, from the lane to a seat beside it; moments linear between its places.
#[derive(Clone, Debug, PartialEq)]
pub struct Sideways {
    /// E I about the vertical axis in N m2.
    pub stiffness_n_m2: f64,
    /// Distance from the lane to the seat in m.
    pub offset_m: f64,
    /// (distance from the seat in m, moment in N m) at the seat, the outermost support and the guides behind it.
    pub moments: Vec<(f64, f64)>,
}

/// The place of the largest stress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Peak {
    /// The stress in Pa.
    pub stress_pa: f64,
    /// Distance from where the string comes to lie on the seat, in m.
    pub from_seat_m: f64,
    /// Moment about the horizontal axis there in N m, sagging positive.
    pub moment_nm: f64,
    /// Moment about the vertical axis there in N m.
    pub side_moment_nm: f64,
    /// The edge that sees it.
    pub edge: Edge,
}

impl EdgeModuli {
    /// The moduli of `section`; those about the vertical axis only where the string is `shifted` sideways.
    ///
    /// # Errors
    /// What is not entered, in words.
    pub fn of(section: &RailSection, shifted: Shifted) -> Result<Self, Vec<&'static str>> {
        let side = |half_mm: Option<f64>| {
            let (iy_cm4, width_mm) = (section.iy_cm4?, half_mm?);
            Some(iy_cm4 * 1.0e-8 / (width_mm / 2000.0))
        };
        let foot_side = section.wy_foot_cm3.map(|cm3| cm3 * 1.0e-6).or(side(section.foot_mm));
        let head_side = side(section.head_mm);
        let mut missing = Vec::new();
        let mut need = |value: Option<f64>, name: &'static str| {
            if value.is_none() {
                missing.push(name);
            }
            value.unwrap_or_default()
        };
        let head_m3 = need(section.wx_head_cm3, "section modulus at the head") * 1.0e-6;
        let foot_m3 = need(section.wx_foot_cm3, "section modulus at the foot") * 1.0e-6;
        if shifted == Shifted::Sideways {
            need(section.iy_cm4, "second moment of area about the vertical axis");
            need(foot_side, "section modulus of the foot edge");
            need(section.head_mm, "head width");
        }
        if !missing.is_empty() {
            return Err(missing);
        }
        let (head_side_m3, foot_side_m3) = match shifted {
            Shifted::No => (None, None),
            Shifted::Sideways => (head_side, foot_side),
        };
        Ok(Self { head_m3, foot_m3, head_side_m3, foot_side_m3 })
    }

    /// The larger of the stresses at the two edges in Pa, and which edge.
    pub fn stress_pa(&self, moment_nm: f64, side_moment_nm: f64) -> (f64, Edge) {
        let edge = |modulus_m3: f64, side_m3: Option<f64>| {
            moment_nm.abs() / modulus_m3 + side_m3.map_or(0.0, |side_m3| side_moment_nm.abs() / side_m3)
        };
        let (head, foot) = (edge(self.head_m3, self.head_side_m3), edge(self.foot_m3, self.foot_side_m3));
        if head > foot { (head, Edge::Head) } else { (foot, Edge::Foot) }
    }
}

/// Whether a string is led to a seat beside its lane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shifted {
    /// Straight out.
    No,
    /// Sideways.
    Sideways,
}

impl Sideways {
    /// Free to turn at the support, in line at the seat: 3 E Iy d / L^2 at the seat.
    pub fn pinned(stiffness_n_m2: f64, offset_m: f64, length_m: f64) -> Self {
        let at_seat_nm = 3.0 * stiffness_n_m2 * offset_m / (length_m * length_m);
        Self { stiffness_n_m2, offset_m, moments: vec![(0.0, at_seat_nm), (length_m, 0.0)] }
    }

    /// Held in line at both ends: 6 E Iy d / L^2 at each, the other way at the support.
    pub fn held(stiffness_n_m2: f64, offset_m: f64, length_m: f64) -> Self {
        let nm = 6.0 * stiffness_n_m2 * offset_m / (length_m * length_m);
        Self { stiffness_n_m2, offset_m, moments: vec![(0.0, nm), (length_m, -nm)] }
    }

    /// Guided without play by every support of the line up to the outermost that carries, in line at the seat.
    ///
    /// Three-moment equations about the vertical axis; the string has no sideways load of its own.
    pub fn guided(stiffness_n_m2: f64, offset_m: f64, racks: &OverRacks) -> Self {
        let outer_m = racks.supports[racks.outermost].place_m;
        // From the seat inward, as distances from the seat.
        let mut places_m = vec![0.0];
        let guides = racks.supports[..=racks.outermost].iter().rev();
        places_m.extend(guides.map(|guide| racks.lead.length_m + outer_m - guide.place_m));
        // In line at the seat: 2 M0 l + M1 l = 6 E Iy d / l. Over the outermost guide the line has a kink of d / l.
        let n = places_m.len();
        let span = |k: usize| places_m[k + 1] - places_m[k];
        let kink = 6.0 * stiffness_n_m2 * offset_m / span(0);
        let (mut moments, mut sweep) = (vec![kink / (2.0 * span(0))], vec![0.5]);
        for k in 1..n - 1 {
            let load = if k == 1 { -kink } else { 0.0 };
            let pivot = 2.0 * (span(k - 1) + span(k)) - span(k - 1) * sweep[k - 1];
            moments.push((load - span(k - 1) * moments[k - 1]) / pivot);
            sweep.push(span(k) / pivot);
        }
        moments.push(0.0);
        for k in (0..n - 1).rev() {
            moments[k] -= sweep[k] * moments[k + 1];
        }
        Self { stiffness_n_m2, offset_m, moments: places_m.into_iter().zip(moments).collect() }
    }

    /// Moment at a distance from the seat in N m.
    pub fn moment_nm(&self, from_seat_m: f64) -> f64 {
        let behind = self.moments.windows(2).find(|pair| from_seat_m <= pair[1].0);
        let Some([(x0, m0), (x1, m1)]) = behind.and_then(|pair| pair.first_chunk()) else { return 0.0 };
        m0 + (m1 - m0) * (from_seat_m - x0) / (x1 - x0)
    }
}

impl Peak {
    /// The largest stress of a lead, and of the racks' side behind it where there is one.
    ///
    /// Both bendings are taken at the same place; their peaks lie apart and are never added.
    pub fn scan(
        lead: &Lead,
        racks: Option<&OverRacks>,
        side: Option<&Sideways>,
        moduli: &EdgeModuli,
    ) -> Self {
        let at = |s_m: f64| Self::at(s_m, (lead, racks), side, moduli);
        let ends_m = stretches(lead, racks);
        let mut best = at(lead.length_m);
        for pair in ends_m.windows(2) {
            let step_m = (pair[1] - pair[0]) / f64::from(SCAN_STEPS);
            for step in 0..=SCAN_STEPS {
                let here = at(pair[0] + step_m * f64::from(step));
                if here.stress_pa > best.stress_pa {
                    best = closed_in(&at, (here, step_m), (pair[0], pair[1]));
                }
            }
        }
        best
    }

    /// The largest stress at a few places of each stretch in Pa: a few per cent low at most, to compare with others.
    pub(super) fn rough_pa(
        lead: &Lead,
        racks: Option<&OverRacks>,
        side: Option<&Sideways>,
        moduli: &EdgeModuli,
    ) -> f64 {
        let at_pa = |s_m: f64| Self::at(s_m, (lead, racks), side, moduli).stress_pa;
        let place_m = |from_m: f64, to_m: f64, step: u32| {
            from_m + (to_m - from_m) * f64::from(step) / f64::from(ROUGH_STEPS)
        };
        let ends_m = stretches(lead, racks);
        let places_m =
            ends_m.windows(2).flat_map(|pair| (0..=ROUGH_STEPS).map(|step| place_m(pair[0], pair[1], step)));
        places_m.map(at_pa).fold(0.0, f64::max)
    }

    /// The stress at a place of a string.
    fn at(
        s_m: f64,
        (lead, racks): (&Lead, Option<&OverRacks>),
        side: Option<&Sideways>,
        moduli: &EdgeModuli,
    ) -> Self {
        let moment_nm = match racks {
            Some(racks) if s_m > lead.length_m => {
                let place_m = racks.supports[racks.outermost].place_m - (s_m - lead.length_m);
                racks.moment_at_nm(place_m).unwrap_or(0.0)
            }
            _ => lead.moment_nm(s_m.min(lead.length_m)),
        };
        let side_moment_nm = side.map_or(0.0, |sideways| sideways.moment_nm(s_m));
        let (stress_pa, edge) = moduli.stress_pa(moment_nm, side_moment_nm);
        Self { stress_pa, from_seat_m: s_m, moment_nm, side_moment_nm, edge }
    }
}

/// The ends of the stretches over which both moments are smooth: seat, outermost support, those behind it.
fn stretches(lead: &Lead, racks: Option<&OverRacks>) -> Vec<f64> {
    let mut ends_m = vec![0.0, lead.length_m];
    if let Some(racks) = racks {
        let outer_m = racks.supports[racks.outermost].place_m;
        let inner = racks.supports[..racks.outermost].iter().rev();
        ends_m.extend(inner.map(|support| lead.length_m + outer_m - support.place_m));
    }
    ends_m
}

/// The best place within a step of `found`, by thirds.
fn closed_in(at: &impl Fn(f64) -> Peak, (found, step_m): (Peak, f64), (from_m, to_m): (f64, f64)) -> Peak {
    let (mut low_m, mut high_m) =
        ((found.from_seat_m - step_m).max(from_m), (found.from_seat_m + step_m).min(to_m));
    let mut best = found;
    for _ in 0..60 {
        let third_m = (high_m - low_m) / 3.0;
        let (one, two) = (at(low_m + third_m), at(high_m - third_m));
        if one.stress_pa < two.stress_pa {
            low_m = one.from_seat_m;
        } else {
            high_m = two.from_seat_m;
        }
        for candidate in [one, two] {
            if candidate.stress_pa > best.stress_pa {
                best = candidate;
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::super::lead::tests::{BAR_60E1, within};
    use super::super::{ChuteLine, OverRacks};
    use super::*;
    use crate::fixtures::section_60e1;

    /// E Iy of 60E1 in N m2 (project facts, section 1).
    const SIDE_N_M2: f64 = 210.0e9 * 512.3e-8;

    fn moduli() -> EdgeModuli {
        EdgeModuli::of(&section_60e1(), Shifted::Sideways).unwrap()
    }

    // Project test value (mechanics.md 6): 1.0 m sideways at 1.2 m height, free end: 156 MPa, not the sum of the peaks.
    #[test]
    fn a_metre_sideways_at_1_2_m_gives_156_mpa_together() {
        let lead = Lead::free_end(BAR_60E1, 1.2);
        let side = Sideways::pinned(SIDE_N_M2, 1.0, lead.length_m);
        within(side.moments[0].1, 3.0 * SIDE_N_M2 / (lead.length_m * lead.length_m), 1.0e-12);
        let peak = Peak::scan(&lead, None, Some(&side), &moduli());
        within(peak.stress_pa, 156.0e6, 2.0e-3);
        assert_eq!(peak.edge, Edge::Foot);
        let apart_pa = lead.largest_moment_nm() / 375.5e-6 + side.moments[0].1 / 68.3e-6;
        assert!(peak.stress_pa < 0.85 * apart_pa);
        // By hand, with u the share of L from the support: (4 a u (1 - u) + b u) is largest at 1/2 + b / 8 a.
        let (a, b) = (lead.largest_moment_nm() / 375.5e-6, side.moments[0].1 / 68.3e-6);
        let u = 0.5 + b / (8.0 * a);
        within(peak.stress_pa, 4.0 * a * u * (1.0 - u) + b * u, 1.0e-9);
        within(peak.from_seat_m, lead.length_m * (1.0 - u), 1.0e-5);
    }

    #[test]
    fn straight_out_the_head_sees_the_moment_alone() {
        let lead = Lead::free_end(BAR_60E1, 1.2);
        let straight = EdgeModuli::of(&section_60e1(), Shifted::No).unwrap();
        let peak = Peak::scan(&lead, None, None, &straight);
        within(peak.stress_pa, lead.largest_moment_nm() / 333.6e-6, 1.0e-9);
        assert_eq!(peak.edge, Edge::Head);
    }

    #[test]
    fn guides_that_stand_close_hold_it_in_line_and_a_single_one_lets_it_turn() {
        let racks = |places_m: Vec<f64>| {
            let heights_m = vec![1.2; places_m.len()];
            OverRacks::solve(BAR_60E1, &ChuteLine { places_m, heights_m, tail_m: 0.0 }).unwrap()
        };
        let single = racks(vec![0.0]);
        let guided = Sideways::guided(SIDE_N_M2, 1.0, &single);
        let pinned = Sideways::pinned(SIDE_N_M2, 1.0, single.lead.length_m);
        within(guided.moments[0].1, pinned.moments[0].1, 1.0e-12);
        assert!(guided.moments[1].1.abs() < 1.0e-9);
        let mut close = racks(vec![-6.633, 0.0]);
        close.supports = (0..2)
            .map(|at| super::super::SupportLine {
                place_m: 1.0e-6 * (f64::from(at) - 1.0),
                ..close.supports[1]
            })
            .collect();
        close.outermost = 1;
        let guided = Sideways::guided(SIDE_N_M2, 1.0, &close);
        let held = Sideways::held(SIDE_N_M2, 1.0, close.lead.length_m);
        within(guided.moments[0].1, held.moments[0].1, 1.0e-5);
        within(guided.moments[1].1, held.moments[1].1, 1.0e-5);
    }

    #[test]
    fn a_stress_is_scanned_over_the_racks_as_well() {
        let places_m: Vec<f64> = (0..20).map(|rack| 6.633 * (f64::from(rack) - 19.0)).collect();
        let line = ChuteLine { heights_m: vec![1.2; places_m.len()], places_m, tail_m: 0.0 };
        let racks = OverRacks::solve(BAR_60E1, &line).unwrap();
        let straight = EdgeModuli::of(&section_60e1(), Shifted::No).unwrap();
        let peak = Peak::scan(&racks.lead, Some(&racks), None, &straight);
        within(peak.stress_pa, racks.largest_moment_nm() / 333.6e-6, 1.0e-9);
        within(peak.from_seat_m, racks.lead.length_m, 1.0e-6);
        // Sideways as well, it is more than either alone and less than both peaks added.
        let side = Sideways::guided(SIDE_N_M2, 0.5, &racks);
        let both = Peak::scan(&racks.lead, Some(&racks), Some(&side), &moduli());
        let largest_side = side.moments.iter().map(|(_, nm)| nm.abs()).fold(0.0, f64::max) / 68.3e-6;
        assert!(both.stress_pa > peak.stress_pa && both.stress_pa <= peak.stress_pa + largest_side);
    }

    #[test]
    fn what_a_section_lacks_is_named() {
        let mut section = section_60e1();
        (section.wx_head_cm3, section.head_mm) = (None, None);
        let missing = |shifted| EdgeModuli::of(&section, shifted).unwrap_err();
        assert_eq!(missing(Shifted::No), ["section modulus at the head"]);
        assert_eq!(missing(Shifted::Sideways), ["section modulus at the head", "head width"]);
    }
}
