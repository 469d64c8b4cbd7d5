//! Runs every check and sums up.

use super::{Check, CheckStates, Comparison, Finding, Judge, Outcome, REGISTRY, StateUse};
use crate::statics::Figures;
use std::cmp::Ordering;

/// What all checks say of a plan.
#[derive(Clone, Debug)]
pub struct Assessment {
    /// All findings: by outcome, worst first, then in the order of the registry.
    pub findings: Vec<Finding>,
    /// By state, the largest use of any limit as a share of it; none where nothing is compared, or the state was not
    /// worked out.
    pub state_uses: Vec<Option<f64>>,
    /// What each check tells of the states, in the order of the registry; checks that tell nothing of any are
    /// left out.
    pub by_state: Vec<CheckStates>,
}

/// The sum of an assessment; decides exit codes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// No unaccepted fail and nothing undecided.
    NothingOpen,
    /// At least one unaccepted fail.
    Fails,
    /// No unaccepted fail, but something undecided.
    Undecided,
}

/// Runs every check of the registry on the worked states of `figures`.
pub fn assess(figures: &Figures) -> Assessment {
    let mut assessment = Assessment::nothing_of(figures);
    REGISTRY.iter().for_each(|check| assessment.run(check, figures));
    assessment.sorted()
}

/// As [`assess`], as long as `go_on` says so: it is told how many of how many checks have been run. None once it
/// says no.
pub fn assess_while(figures: &Figures, mut go_on: impl FnMut(usize, usize) -> bool) -> Option<Assessment> {
    let mut assessment = Assessment::nothing_of(figures);
    for (at, check) in REGISTRY.iter().enumerate() {
        if !go_on(at, REGISTRY.len()) {
            return None;
        }
        assessment.run(check, figures);
    }
    Some(assessment.sorted())
}

impl Assessment {
    fn nothing_of(figures: &Figures) -> Self {
        let state_uses = vec![None; figures.states.len()];
        Self { findings: Vec::new(), state_uses, by_state: Vec::new() }
    }

    fn run(&mut self, check: &'static Check, figures: &Figures) {
        let mut judge = Judge::new(check, figures);
        (check.run)(&mut judge);
        let states = judge.take_states();
        for (most, told) in self.state_uses.iter_mut().zip(&states) {
            *most = most.iter().copied().chain(told.and_then(|told| told.used)).reduce(f64::max);
        }
        if !states.is_empty() {
            self.by_state.push(CheckStates { check, states });
        }
        self.findings.extend(judge.findings());
    }

    fn sorted(mut self) -> Self {
        self.findings.sort_by_key(|finding| finding.outcome);
        self
    }

    /// The sum.
    pub fn verdict(&self) -> Verdict {
        let open = |outcome| self.findings.iter().any(|f| f.outcome == outcome && f.is_open());
        if open(Outcome::Fail) {
            Verdict::Fails
        } else if open(Outcome::Undecided) {
            Verdict::Undecided
        } else {
            Verdict::NothingOpen
        }
    }

    /// Follows the plan where acceptances are taken out of it: `gone` are their indices, growing.
    pub fn forget_acceptances(&mut self, gone: &[usize]) {
        for finding in &mut self.findings {
            finding.accepted = finding
                .accepted
                .filter(|at| !gone.contains(at))
                .map(|at| at - gone.partition_point(|gone| *gone < at));
        }
    }

    /// How many findings have `outcome`; accepted fails are counted as fails.
    pub fn count(&self, outcome: Outcome) -> usize {
        self.findings.iter().filter(|finding| finding.outcome == outcome).count()
    }

    /// What the checks tell of a state, the worst first: by outcome, then by use.
    pub fn in_state(&self, state: usize) -> Vec<(&'static Check, StateUse)> {
        let told = self.by_state.iter().filter_map(|of| Some((of.check, (*of.states.get(state)?)?)));
        let mut told: Vec<_> = told.collect();
        let used = |told: &StateUse| told.worst_used().unwrap_or(f64::NEG_INFINITY);
        told.sort_by(|a, b| a.1.outcome.cmp(&b.1.outcome).then_with(|| used(&b.1).total_cmp(&used(&a.1))));
        told
    }

    /// The worst finding: the most used broken limit, else the most used limit kept; a note only where nothing
    /// else was found.
    pub fn worst(&self) -> Option<&Finding> {
        self.findings.iter().min_by(|a, b| by_weight(a, b))
    }

    /// The worst of the findings that belong to a state.
    pub fn worst_in_a_state(&self) -> Option<&Finding> {
        self.findings.iter().filter(|finding| finding.state.is_some()).min_by(|a, b| by_weight(a, b))
    }
}

/// The weightier finding first.
fn by_weight(a: &Finding, b: &Finding) -> Ordering {
    let rank = |finding: &Finding| match finding.outcome {
        // A note tells of no limit, a pass does.
        Outcome::Note => (!finding.is_open(), Outcome::Pass, true),
        outcome => (!finding.is_open(), outcome, false),
    };
    let use_of = |f: &Finding| f.comparison.map_or(f64::NEG_INFINITY, Comparison::utilisation);
    rank(a).cmp(&rank(b)).then_with(|| use_of(b).total_cmp(&use_of(a)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Subject;
    use crate::checks::trial::{figures_of, silent_check};
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::statics::Scope;
    use crate::units::{Quantity, Text};

    static CHECK: Check = silent_check();

    fn finding(outcome: Outcome, accepted: Option<usize>, used: Option<f64>) -> Finding {
        Finding {
            check: &CHECK,
            outcome,
            subject: Subject::Plan,
            things: Vec::new(),
            what: Text::default(),
            mend: Text::default(),
            comparison: used
                .map(|used| Comparison::new(Quantity::ratio(used), 1.0, crate::checks::Sense::AtMost)),
            state: None,
            states: Vec::new(),
            limit_source: None,
            accepted,
        }
    }

    fn check(findings: &[Finding], verdict: Verdict) {
        assert_eq!(
            Assessment { findings: findings.to_vec(), state_uses: Vec::new(), by_state: Vec::new() }
                .verdict(),
            verdict
        );
    }

    #[test]
    fn an_unaccepted_fail_outweighs_what_is_undecided_and_an_accepted_one_counts_no_more() {
        let accepted = finding(Outcome::Fail, Some(0), None);
        let fail = finding(Outcome::Fail, None, None);
        let undecided = finding(Outcome::Undecided, Some(0), None);
        check(&[fail, undecided.clone()], Verdict::Fails);
        check(&[accepted.clone(), undecided], Verdict::Undecided);
        check(&[accepted, finding(Outcome::Near, None, None)], Verdict::NothingOpen);
        check(&[finding(Outcome::Note, None, None)], Verdict::NothingOpen);
    }

    #[test]
    fn findings_follow_acceptances_that_are_taken_out() {
        let findings = [Some(0), Some(1), Some(3), None].map(|at| finding(Outcome::Fail, at, None));
        let mut assessment =
            Assessment { findings: findings.to_vec(), state_uses: Vec::new(), by_state: Vec::new() };
        assessment.forget_acceptances(&[1, 2]);
        let left: Vec<_> = assessment.findings.iter().map(|finding| finding.accepted).collect();
        assert_eq!(left, [Some(0), None, Some(1), None]);
    }

    #[test]
    fn the_worst_is_the_most_used_broken_limit_that_nobody_accepted() {
        let findings = vec![
            finding(Outcome::Fail, Some(0), Some(9.0)),
            finding(Outcome::Fail, None, Some(1.1)),
            finding(Outcome::Fail, None, Some(1.3)),
            finding(Outcome::Near, None, Some(0.99)),
        ];
        let worst = Assessment { findings, state_uses: Vec::new(), by_state: Vec::new() }
            .worst()
            .and_then(|finding| finding.comparison)
            .unwrap();
        assert!((worst.utilisation() - 1.3).abs() < 1e-12);
    }

    #[test]
    fn a_note_is_the_worst_only_where_no_limit_was_compared() {
        let note = finding(Outcome::Note, None, None);
        let pass = finding(Outcome::Pass, None, Some(0.5));
        let worst = |findings: &[Finding]| {
            Assessment { findings: findings.to_vec(), state_uses: Vec::new(), by_state: Vec::new() }
                .worst()
                .map(|finding| finding.outcome)
        };
        assert_eq!(worst(&[note.clone(), pass.clone()]), Some(Outcome::Pass));
        assert_eq!(worst(&[note, finding(Outcome::NotAsked, None, None)]), Some(Outcome::Note));
        assert_eq!(
            Assessment { findings: vec![pass], state_uses: Vec::new(), by_state: Vec::new() }
                .worst_in_a_state()
                .map(|f| f.outcome),
            None
        );
    }

    #[test]
    fn every_check_tells_something_of_an_empty_train_and_the_worst_comes_first() {
        let assessment = assess(&figures_of(empty_plan(2)));
        for check in REGISTRY {
            assert!(assessment.findings.iter().any(|finding| finding.check.id == check.id), "{}", check.id);
        }
        assert!(assessment.findings.is_sorted_by_key(|finding| finding.outcome));
    }

    #[test]
    fn an_assessment_that_is_called_off_gives_nothing_and_tells_how_far_it_is() {
        let figures = figures_of(empty_plan(2));
        let mut told = Vec::new();
        let all = assess_while(&figures, |done, all| {
            told.push((done, all));
            true
        });
        assert_eq!(all.unwrap().findings.len(), assess(&figures).findings.len());
        assert_eq!(told, (0..REGISTRY.len()).map(|done| (done, REGISTRY.len())).collect::<Vec<_>>());
        assert!(assess_while(&figures, |done, _| done < 3).is_none());
    }

    /// That each check tells of a state the same among all states as it does of that state alone.
    fn expect_same_tracks(whole: &Assessment, alone: &Assessment, state: usize) {
        let (among, by_itself) = (whole.in_state(state), alone.in_state(state));
        assert!(among.len() > 5, "{among:?}");
        assert!(among.is_sorted_by_key(|(_, told)| told.outcome));
        let words = |told: &[(&Check, StateUse)]| -> Vec<String> {
            told.iter().map(|(check, told)| format!("{}: {told:?}", check.id)).collect()
        };
        assert_eq!(words(&among), words(&by_itself), "state {state}");
    }

    #[test]
    fn the_use_of_each_state_is_that_of_the_state_worked_out_alone() {
        let mut plan = empty_plan(3);
        for lane in 1..=3 {
            place(&mut plan, &format!("S{lane}"), 40_000, (1, lane, 3_000));
        }
        plan.drops.push(drop_off("Site", &["S1", "S3", "S2"]));
        crate::checks::on_springs::testing::on_springs(&mut plan);
        let whole = assess(&figures_of(plan.clone()));
        let all = &whole.state_uses;
        assert_eq!(all.len(), 5);
        for (state, used) in all.iter().enumerate() {
            let alone = Figures::of(std::sync::Arc::new(plan.clone()), Scope::One(state));
            let alone = assess(&alone);
            let of_state = alone.findings.iter().filter(|finding| finding.state == Some(state));
            let most = of_state.filter_map(|finding| finding.comparison.map(Comparison::utilisation));
            assert_eq!(*used, most.reduce(f64::max), "state {state}");
            assert_eq!(alone.state_uses[state], *used);
            expect_same_tracks(&whole, &alone, state);
            assert!(alone.state_uses.iter().enumerate().all(|(at, used)| at == state || used.is_none()));
        }
        assert!(all[0] > all[4], "an empty train uses less: {all:?}");
    }
}
