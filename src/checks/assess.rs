//! Runs every check and sums up.

use super::{Comparison, Finding, Judge, Outcome, REGISTRY};
use crate::statics::Figures;

/// What all checks say of a plan.
#[derive(Clone, Debug)]
pub struct Assessment {
    /// All findings: by outcome, worst first, then in the order of the registry.
    pub findings: Vec<Finding>,
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
    let mut findings: Vec<Finding> = REGISTRY
        .iter()
        .flat_map(|check| {
            let mut judge = Judge::new(check, figures);
            (check.run)(&mut judge);
            judge.findings()
        })
        .collect();
    findings.sort_by_key(|finding| finding.outcome);
    Assessment { findings }
}

impl Assessment {
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

    /// How many findings have `outcome`; accepted fails are counted as fails.
    pub fn count(&self, outcome: Outcome) -> usize {
        self.findings.iter().filter(|finding| finding.outcome == outcome).count()
    }

    /// The worst finding: the most used broken limit, else the most used limit kept.
    pub fn worst(&self) -> Option<&Finding> {
        self.findings.iter().min_by(|a, b| {
            let use_of = |f: &Finding| f.comparison.map_or(f64::NEG_INFINITY, Comparison::utilisation);
            (!a.is_open(), a.outcome).cmp(&(!b.is_open(), b.outcome)).then(use_of(b).total_cmp(&use_of(a)))
        })
    }
}
