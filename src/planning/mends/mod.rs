//! What would mend a finding: changes that were made on a copy and judged by every check before they are offered.
//!
//! For each kind of finding a few families of changes are tried, the smallest first: a shift along the train, a
//! swap or a mirrored lane, a lower tier, another hold, another order of steps. A change is offered only where
//! the finding really is gone after it; what it would break besides is told with it. `KINDS` says which
//! families belong to which check. The search is bounded by counts, never by a clock, so that the same plan gets
//! the same proposals.

mod bench;
mod holds;
#[cfg(test)]
mod kinds;
mod loads;
mod pockets;
mod shifts;
mod sides;
mod steps;
#[cfg(test)]
mod trial;

use crate::checks::{Assessment, Comparison, Finding, Outcome};
use crate::edit::Edit;
use crate::statics::Figures;
use crate::text;
use crate::units::{Piece, Style, Text};
use bench::{Bench, Candidate};

/// A change that mends a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// What it does, such as `Shift string A1 toward the rear by 1.367 m`.
    pub label: Text,
    /// The change, one undo step.
    pub edit: Edit,
    /// What it does to the findings.
    pub effect: Effect,
}

/// What a change does to the findings, over all states.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Effect {
    /// What the finding compares after the change; none where it compares nothing, or nothing any more.
    pub after: Option<Comparison>,
    /// How many other broken limits are kept after it.
    pub also_mended: usize,
    /// What is broken or undecided after it and was not before: title and place of each.
    pub broken: Vec<String>,
    /// Broken limits that it breaks further: title and place of each.
    pub worsened: Vec<String>,
}

/// The most mends that are offered for a finding.
pub const MOST_OFFERED: usize = 4;

/// The most changes that are judged by every check.
const MOST_JUDGED: usize = 40;

/// So many changes of a family that break something are judged before the family is given up.
const MOST_BREAKING: usize = 5;

/// Mends of `finding`, those that break nothing first, then the smallest first; none where none was found.
///
/// `figures` and `assessment` are those of all states. `go_on` is told how many of how many changes have been looked
/// at; once it says no, what was found so far is given.
pub fn mends(
    figures: &Figures,
    assessment: &Assessment,
    finding: &Finding,
    mut go_on: impl FnMut(usize, usize) -> bool,
) -> Vec<Mend> {
    let families = KINDS.iter().filter(|(check, _)| *check == finding.check.id).flat_map(|(_, f)| *f);
    let is_bad = matches!(finding.outcome, Outcome::Fail | Outcome::Near | Outcome::Note);
    if !is_bad || figures.worked.len() != figures.states.len() {
        return Vec::new();
    }
    let bench = Bench { figures, assessment, finding };
    let mut candidates: Vec<Candidate> = families.flat_map(|family| family(&bench)).collect();
    candidates.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    judge_candidates(&bench, candidates, &mut go_on)
}

/// Whether changes are looked for where a check with this id finds something.
pub fn is_known_for(check: &str) -> bool {
    KINDS.iter().any(|(known, _)| *known == check)
}

/// Judges candidates in their order until enough are found.
fn judge_candidates(
    bench: &Bench<'_>,
    candidates: Vec<Candidate>,
    go_on: &mut dyn FnMut(usize, usize) -> bool,
) -> Vec<Mend> {
    let (all, mut judged, mut clean) = (candidates.len(), 0, 0);
    let mut found: Vec<(Mend, &'static str)> = Vec::new();
    for (at, candidate) in candidates.into_iter().enumerate() {
        if !go_on(at, all) || judged == MOST_JUDGED || clean == MOST_OFFERED {
            break;
        }
        let of_family = found.iter().filter(|(_, family)| *family == candidate.family);
        let (breaking, sound) = of_family.fold((0, 0), |(breaking, sound), (mend, _)| {
            if mend.effect.breaks() == 0 { (breaking, sound + 1) } else { (breaking + 1, sound) }
        });
        // Of a family only the smallest clean change is of interest.
        let enough = sound > 0 || breaking == MOST_BREAKING;
        if enough || !bench.is_mended_by(&candidate.edit) {
            continue;
        }
        judged += 1;
        let Some(effect) = bench.effect_of(&candidate.edit) else { continue };
        clean += usize::from(effect.breaks() == 0);
        found.push((Mend { label: candidate.label, edit: candidate.edit, effect }, candidate.family));
    }
    best_of_each_family(found)
}

/// What is offered of what was found: one of each family, what breaks something only where little else helps.
fn best_of_each_family(mut found: Vec<(Mend, &'static str)>) -> Vec<Mend> {
    found.sort_by_key(|(mend, _)| mend.effect.breaks());
    let mut offered: Vec<(Mend, &'static str)> = Vec::new();
    for (mend, family) in found {
        let is_known = offered.iter().any(|(_, other)| *other == family);
        if !is_known && (offered.len() < 2 || mend.effect.breaks() == 0) {
            offered.push((mend, family));
        }
    }
    offered.into_iter().map(|(mend, _)| mend).take(MOST_OFFERED).collect()
}

impl Effect {
    /// How many findings are worse after the change.
    pub fn breaks(&self) -> usize {
        self.broken.len() + self.worsened.len()
    }

    /// It in words, such as `1.18 : 1 then; mends 3 more; breaks nothing`.
    pub fn words(&self) -> Text {
        let mut words = match self.after {
            Some(after) => text![after.demand, " then; "],
            None => Text::default(),
        };
        if self.also_mended > 0 {
            words.0.push(format!("mends {} more; ", self.also_mended).into());
        }
        for (verb, things) in [("breaks", &self.broken), ("worsens", &self.worsened)] {
            if let Some(first) = things.first() {
                let more = things.len() - 1;
                let tail = if more > 0 { format!(" and {more} more") } else { String::new() };
                words.0.push(format!("{verb} {first}{tail}; ").into());
            }
        }
        if self.breaks() == 0 {
            words.0.push("breaks nothing".into());
        } else if let Some(Piece::Words(last)) = words.0.last_mut() {
            *last = last.trim_end_matches("; ").to_owned();
        }
        words
    }
}

impl Mend {
    /// Label and effect in one line.
    pub fn line(&self, style: Style) -> String {
        format!("{} ({})", self.label.show(style), self.effect.words().show(style))
    }
}

/// Candidates of one family for a finding.
type Family = fn(&Bench<'_>) -> Vec<Candidate>;

/// Which families are tried for the findings of which check. Checks that are missing have no clear mend among the
/// edits: a heavier wagon or a slower train is not a matter of moving strings.
const KINDS: &[(&str, &[Family])] = &[
    ("order-placed", &[pockets::place]),
    ("pocket-fit", &[pockets::elsewhere]),
    ("pocket-shared", &[shifts::along, pockets::elsewhere]),
    ("string-support", &[shifts::along, shifts::meant]),
    ("least-overhang", &[shifts::along, shifts::meant]),
    ("greatest-overhang", &[shifts::along]),
    ("end-clearance", &[shifts::along]),
    ("idler-clearance", &[shifts::along, pockets::elsewhere]),
    ("rack-lift-off", &[shifts::along]),
    ("largest-span", &[shifts::along]),
    ("string-sag", &[shifts::along]),
    ("held-once", &[holds::at_rack]),
    ("access", &[steps::order, steps::over_other_end]),
    ("pairs-alike", &[sides::as_pair]),
    ("pocket-load", &[shifts::along]),
    ("tier-load", &[loads::other_tiers, shifts::along, loads::off]),
    ("rack-load", &[shifts::along, loads::off]),
    ("payload", &[shifts::along, loads::off]),
    ("bogie-load", &[shifts::along, loads::off]),
    ("axle-load", &[shifts::along, loads::off]),
    ("wheel-load", &[sides::balance, shifts::along, loads::off]),
    ("line-axle-load", &[shifts::along, loads::off]),
    ("line-mass-per-metre", &[shifts::along, loads::off]),
    ("wheel-balance", &[sides::balance, steps::other_side_first]),
    ("bogie-ratio", &[shifts::along, loads::turned]),
    ("axle-ratio", &[shifts::along, loads::turned]),
    ("centre-height", &[loads::lower, loads::off]),
    ("creep-least-overhang", &[shifts::along, holds::at_rack]),
    ("creep-end-gap", &[shifts::along, holds::at_rack]),
    ("creep-rack-crossing", &[shifts::along, holds::at_rack]),
    ("hold-force", &[holds::at_rack]),
    ("hold-impact", &[holds::at_rack]),
    ("hold-buckling", &[holds::at_rack]),
    ("hold-wagon-coupling", &[holds::at_other_wagon]),
    ("hold-wagon-axle", &[holds::at_other_wagon]),
    ("springs-wheel-balance", &[sides::balance]),
    ("springs-wheel-load", &[sides::balance, shifts::along]),
    ("springs-axle-load", &[shifts::along, loads::off]),
    ("springs-bogie-load", &[shifts::along, loads::off]),
    ("springs-line-axle-load", &[shifts::along, loads::off]),
    ("springs-lift-off", &[shifts::along]),
    ("curve-overhang-swing", &[shifts::along, pockets::elsewhere]),
    ("curve-stress", &[shifts::along]),
    ("curve-wheel-unloading", &[sides::balance]),
    ("cant-wheel-unloading", &[sides::balance, loads::lower]),
    ("cant-overturning", &[loads::lower, loads::off]),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::REGISTRY;

    #[test]
    fn every_kind_is_a_check_of_the_registry_and_listed_once() {
        for (at, (check, families)) in KINDS.iter().enumerate() {
            assert!(REGISTRY.iter().any(|known| known.id == *check), "{check}");
            assert!(!KINDS[..at].iter().any(|(other, _)| other == check), "{check}");
            assert!(!families.is_empty());
        }
    }

    #[test]
    fn an_effect_says_what_it_breaks_or_that_it_breaks_nothing() {
        let words = |effect: Effect| effect.words().show(Style::default());
        assert_eq!(words(Effect::default()), "breaks nothing");
        assert_eq!(words(Effect { also_mended: 3, ..Effect::default() }), "mends 3 more; breaks nothing");
        let broken = vec!["Held once: string A".to_owned(), "Held once: string B".to_owned()];
        let effect =
            Effect { broken, worsened: vec!["Load of a rack: rack 1".to_owned()], ..Effect::default() };
        assert_eq!(words(effect), "breaks Held once: string A and 1 more; worsens Load of a rack: rack 1");
    }
}
