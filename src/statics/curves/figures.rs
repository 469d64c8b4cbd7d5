//! What all strings of a plan do in the curves of its route.

use super::cases::CurveCase;
use super::classes::{CurveGap, StringClass, classify};
use super::closer::Sizes;
use super::side_loads::sum_up;
use super::swing::{EndSwing, Neighbours, Swings, Worst};
use super::{BentString, CurveSideLoads, chords};
use crate::statics::Figures;

/// The strings in the curves of the route; they depend on the train and on where strings lie, not on the state.
#[derive(Clone, Debug, PartialEq)]
pub struct CurveFigures {
    /// Strings that bend alike.
    pub classes: Vec<StringClass>,
    /// By placement, its class.
    pub class_of: Vec<Result<usize, CurveGap>>,
    /// Ends that stand beside other strings.
    pub neighbours: Vec<Neighbours>,
    /// The cases that were worked out.
    pub cases: Vec<CaseFigures>,
    /// The sideways loads of the worked states, in their order.
    pub side_loads: Vec<CurveSideLoads>,
    /// Whether entry and reverse curve are still to be worked out (a live preview).
    pub pending: bool,
}

/// One case worked out for every place of the train on the curve.
#[derive(Clone, Debug, PartialEq)]
pub struct CaseFigures {
    /// The case.
    pub case: CurveCase,
    /// The places of the train, growing: those of [`CurveCase::places_m`], and between them where something peaks.
    pub places_m: Vec<f64>,
    /// By class, the largest bending moment.
    pub peaks: Vec<MomentPeak>,
    /// By class, the forces of the racks on one string in N, right positive: place by place, by rack of the class.
    pub forces_n: Vec<Vec<f64>>,
    /// By placement, the largest swing of its front and rear end; none where its class is not known.
    pub swings: Vec<Option<[EndSwing; 2]>>,
    /// By item of [`CurveFigures::neighbours`], how far the end comes nearer to the right and to the left, in m.
    pub approaches_m: Vec<[f64; 2]>,
    /// The places of the train where it does, indices into `places_m`.
    pub approach_places: Vec<[usize; 2]>,
}

/// The largest bending moment about the vertical axis of the strings of a class.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MomentPeak {
    /// Its size in N m.
    pub moment_nm: f64,
    /// The rack where it acts.
    pub rack: usize,
    /// Index into [`CaseFigures::places_m`].
    pub place: usize,
}

/// The case in which something is worst.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorstPeak {
    /// Index into [`CurveFigures::cases`].
    pub case: usize,
    /// The moment.
    pub peak: MomentPeak,
}

/// Which curve cases to work out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CurveScope {
    /// All of them.
    #[default]
    All,
    /// Only the train all within each curve: quick enough to follow a drag.
    Steady,
}

impl CurveFigures {
    /// Works out the curves of the plan of `figures`.
    pub fn of(figures: &Figures, scope: CurveScope) -> Self {
        let (plan, consist) = (&figures.plan, &figures.consist);
        let (classes, class_of) = classify(plan, consist, &figures.placed);
        let neighbours = Neighbours::of(figures, &class_of);
        let mut cases = CurveCase::steady(&plan.route);
        let sweeps = CurveCase::sweeps(&plan.route, consist.length.m());
        let pending = scope == CurveScope::Steady && !sweeps.is_empty();
        if scope == CurveScope::All {
            cases.extend(sweeps);
        }
        // In lanes that run straight a left curve is the mirror of a right one.
        if !classes.iter().all(StringClass::runs_straight) {
            let turned: Vec<CurveCase> = cases.iter().map(|case| case.turned()).collect();
            cases.extend(turned);
        }
        let mut curves =
            Self { classes, class_of, neighbours, cases: Vec::new(), side_loads: Vec::new(), pending };
        curves.cases = cases.iter().map(|case| curves.work_out(figures, *case)).collect();
        curves.side_loads = sum_up(figures, &curves);
        curves
    }

    fn work_out(&self, figures: &Figures, case: CurveCase) -> CaseFigures {
        let places_m = case.places_m(figures.consist.length.m());
        if places_m.len() < 3 {
            return self.look(figures, case, (places_m, None));
        }
        let mut sizes = Sizes::default();
        self.look(figures, case, (places_m.clone(), Some(&mut sizes)));
        self.look(figures, case, (sizes.with_peaks(&places_m), None))
    }

    /// Works out one case at `places_m`, and notes the sizes of all that is judged where they are asked for.
    fn look(
        &self,
        figures: &Figures,
        case: CurveCase,
        (places_m, mut sizes): (Vec<f64>, Option<&mut Sizes>),
    ) -> CaseFigures {
        let mut bent: Vec<BentString> =
            self.classes.iter().map(|class| BentString::new(class.stiffness_n_m2)).collect();
        let mut peaks = vec![MomentPeak::default(); self.classes.len()];
        let mut forces_n: Vec<Vec<f64>> =
            self.classes.iter().map(|class| Vec::with_capacity(class.racks.len() * places_m.len())).collect();
        let mut swings = Swings::new(self, figures);
        for (place, place_m) in places_m.iter().enumerate() {
            let path = case.path(*place_m);
            let chords = chords(&figures.consist, &path);
            for (at, class) in self.classes.iter().enumerate() {
                class.lay(&figures.consist, &chords, &mut bent[at]);
                forces_n[at].extend_from_slice(&bent[at].forces_n);
                if let Some((pocket, moment_nm)) = bent[at].peak()
                    && moment_nm > peaks[at].moment_nm
                {
                    peaks[at] = MomentPeak { moment_nm, rack: class.racks.start + pocket, place };
                }
            }
            let swung_m = swings.look(place, (&path, &chords), &bent);
            if let Some(sizes) = &mut sizes {
                sizes.note((self, &figures.consist), &bent, swung_m);
            }
        }
        let Worst { swings, approaches_m, approach_places } = swings.worst();
        CaseFigures { case, places_m, peaks, forces_n, swings, approaches_m, approach_places }
    }

    /// The class of a placement.
    pub fn class(&self, placement: usize) -> Option<usize> {
        self.class_of.get(placement).and_then(|class| class.ok())
    }

    /// The largest bending moment of a class over all cases.
    pub fn worst_peak(&self, class: usize) -> Option<WorstPeak> {
        let peaks = self.cases.iter().enumerate().filter_map(|(case, figures)| {
            figures.peaks.get(class).map(|peak| WorstPeak { case, peak: *peak })
        });
        peaks.max_by(|a, b| a.peak.moment_nm.total_cmp(&b.peak.moment_nm))
    }

    /// Where an end comes nearest to the string beside it (an item of `neighbours`): the case, the side that counts
    /// in [`CaseFigures::approaches_m`] (0 right, 1 left), and by how much in m.
    ///
    /// With `mirrored` the cases stand for curves of either hand, so that either side may count.
    pub fn nearest_approach(&self, pair: usize, mirrored: bool) -> Option<(usize, usize, f64)> {
        let own = usize::from(self.neighbours.get(pair)?.to_the_right_m <= 0.0);
        let nearer = self.cases.iter().enumerate().filter_map(|(case, figures)| {
            let sides_m = figures.approaches_m.get(pair)?;
            let side = if mirrored && sides_m[1 - own] > sides_m[own] { 1 - own } else { own };
            Some((case, side, sides_m[side]))
        });
        nearer.max_by(|a, b| a.2.total_cmp(&b.2))
    }

    /// The strings of a class bent where the train is at a place (an index) of a case.
    ///
    /// Followed from the first place on, as the case was worked out: a string with play that nothing bends lies
    /// where the last place left it.
    pub fn bent(&self, figures: &Figures, class: usize, (case, place): (usize, usize)) -> Option<BentString> {
        let (class, case) = (self.classes.get(class)?, self.cases.get(case)?);
        let mut bent = BentString::new(class.stiffness_n_m2);
        for place_m in case.places_m.get(..=place)? {
            let path = case.case.path(*place_m);
            class.lay(&figures.consist, &chords(&figures.consist, &path), &mut bent);
        }
        Some(bent)
    }

    /// The least radius in m at which the strings of `class` reach no more than `moment_nm` where the train
    /// stands on the curve as in `worst`; none where even the tightest track bends them less.
    ///
    /// Found by halving, to a millimetre per metre; the moment falls as the radius grows.
    pub fn least_radius_m(
        &self,
        figures: &Figures,
        class: usize,
        worst: WorstPeak,
        moment_nm: f64,
    ) -> Option<f64> {
        const TIGHTEST_M: f64 = 20.0;
        const WIDEST_M: f64 = 1.0e6;
        let case = self.cases.get(worst.case)?;
        let class = self.classes.get(class)?;
        let place_m = *case.places_m.get(worst.peak.place)?;
        let mut bent = BentString::new(class.stiffness_n_m2);
        let mut breaks = |radius_m: f64| {
            let path = CurveCase { radius_m, ..case.case }.path(place_m);
            class.lay(&figures.consist, &chords(&figures.consist, &path), &mut bent);
            bent.peak().is_some_and(|(_, peak_nm)| peak_nm > moment_nm)
        };
        if !breaks(TIGHTEST_M) {
            return None;
        }
        let (mut low_m, mut high_m) = (TIGHTEST_M, WIDEST_M);
        while high_m - low_m > 1.0e-3 * low_m {
            let middle_m = (low_m * high_m).sqrt();
            if breaks(middle_m) { low_m = middle_m } else { high_m = middle_m }
        }
        Some(high_m)
    }
}
