//! Which findings have another verdict, or use more or less of their limit.

use super::Side;
use super::there::is_there;
use super::told::differ;
use crate::checks::{Check, Comparison, Finding, Outcome, Strand};
use crate::statics::Figures;
use std::collections::BTreeMap;

/// What has become of a finding, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Turn {
    /// It breaks a limit and did not.
    Broken,
    /// Broken before and after, and nobody accepts it any more.
    NoLongerAccepted,
    /// It cannot be said any more.
    NewlyUndecided,
    /// It has come near its limit.
    NewlyNear,
    /// There is something to note.
    NewlyNoted,
    /// The same verdict, with more of the limit used.
    MoreUsed,
    /// It is judged now and was not.
    NewlyJudged,
    /// The same verdict, otherwise founded.
    OtherGrounds,
    /// It is judged no more: not asked for, or the thing is gone.
    NoLongerJudged,
    /// The same verdict, with less of the limit used.
    LessUsed,
    /// What was noted is gone.
    NoLongerNoted,
    /// It is near its limit no more.
    NoLongerNear,
    /// It could not be said and can be.
    Decided,
    /// Broken before and after, and accepted now.
    NewlyAccepted,
    /// It broke a limit and does not any more.
    Mended,
}

impl Turn {
    /// All turns, the worst first.
    pub const ALL: [Self; 15] = [
        Self::Broken,
        Self::NoLongerAccepted,
        Self::NewlyUndecided,
        Self::NewlyNear,
        Self::NewlyNoted,
        Self::MoreUsed,
        Self::NewlyJudged,
        Self::OtherGrounds,
        Self::NoLongerJudged,
        Self::LessUsed,
        Self::NoLongerNoted,
        Self::NoLongerNear,
        Self::Decided,
        Self::NewlyAccepted,
        Self::Mended,
    ];

    /// A few words for a reader; also the JSON value.
    pub fn words(self) -> &'static str {
        match self {
            Self::Broken => "newly broken",
            Self::NoLongerAccepted => "no longer accepted",
            Self::NewlyUndecided => "newly undecided",
            Self::NewlyNear => "newly near",
            Self::NewlyNoted => "newly noted",
            Self::MoreUsed => "more used",
            Self::NewlyJudged => "newly judged",
            Self::OtherGrounds => "other grounds",
            Self::NoLongerJudged => "no longer judged",
            Self::LessUsed => "less used",
            Self::NoLongerNoted => "no longer noted",
            Self::NoLongerNear => "no longer near",
            Self::Decided => "decided",
            Self::NewlyAccepted => "newly accepted",
            Self::Mended => "mended",
        }
    }

    /// The words as a heading.
    pub fn title(self) -> &'static str {
        match self {
            Self::Broken => "Newly broken",
            Self::NoLongerAccepted => "No longer accepted",
            Self::NewlyUndecided => "Newly undecided",
            Self::NewlyNear => "Newly near",
            Self::NewlyNoted => "Newly noted",
            Self::MoreUsed => "More used",
            Self::NewlyJudged => "Newly judged",
            Self::OtherGrounds => "Same verdict, other grounds",
            Self::NoLongerJudged => "No longer judged",
            Self::LessUsed => "Less used",
            Self::NoLongerNoted => "No longer noted",
            Self::NoLongerNear => "No longer near",
            Self::Decided => "Decided",
            Self::NewlyAccepted => "Newly accepted",
            Self::Mended => "Mended",
        }
    }

    /// Whether the verdict itself is another one, not only how much of a limit is used.
    pub fn is_of_verdict(self) -> bool {
        !matches!(self, Self::MoreUsed | Self::LessUsed | Self::OtherGrounds)
    }

    /// The turn seen from the other side.
    #[must_use]
    pub fn back(self) -> Self {
        let at = Self::ALL.iter().position(|turn| *turn == self).unwrap_or(0);
        Self::ALL[Self::ALL.len() - 1 - at]
    }
}

/// One side of a finding that differs.
#[derive(Clone, Debug)]
pub struct FindingSide {
    /// The outcome; that of the check as a whole where it told nothing of these things by themselves; none where
    /// it told nothing at all, or the things are not there.
    pub outcome: Option<Outcome>,
    /// What it told of these things.
    pub finding: Option<Finding>,
}

impl FindingSide {
    /// The share of the limit that is used, where it was told.
    pub fn used(&self) -> Option<f64> {
        self.finding.as_ref()?.comparison.map(Comparison::utilisation)
    }

    fn is_accepted(&self) -> bool {
        self.finding.as_ref().is_some_and(|finding| finding.accepted.is_some())
    }
}

/// A finding that differs: a check, and things by their names.
#[derive(Clone, Debug)]
pub struct FindingChange {
    /// The check.
    pub check: &'static Check,
    /// The things as findings name them; of passes the tightest place after, or else before.
    pub things: Vec<String>,
    /// What has become of it.
    pub turn: Turn,
    /// How it was.
    pub before: FindingSide,
    /// How it is.
    pub after: FindingSide,
}

impl FindingChange {
    /// After less before, as shares of the limit.
    pub fn growth(&self) -> Option<f64> {
        Some(self.after.used()? - self.before.used()?)
    }
}

/// What an assessment says, by check and things; of passes, and of what is not judged, by check alone.
struct Told<'a> {
    figures: &'a Figures,
    of_things: BTreeMap<Key<'a>, &'a Finding>,
    of_checks: BTreeMap<&'static str, &'a Finding>,
}

/// A check, its things, and the strand: what fails may be undecided and noted as well.
type Key<'a> = (&'static str, &'a [String], Strand);

impl<'a> Told<'a> {
    fn by(side: Side<'a>) -> Self {
        let figures = side.figures;
        let mut told = Self { figures, of_things: BTreeMap::new(), of_checks: BTreeMap::new() };
        for finding in &side.assessment.findings {
            match finding.outcome {
                Outcome::Fail | Outcome::Undecided | Outcome::Near | Outcome::Note => {
                    let strand = finding.outcome.strand();
                    told.of_things.insert((finding.check.id, &finding.things, strand), finding);
                }
                Outcome::Pass | Outcome::NotApplicable | Outcome::NotAsked => {
                    told.of_checks.insert(finding.check.id, finding);
                }
            }
        }
        told
    }

    /// The finding of a key, or what the check says as a whole; nothing where only `other` has the things.
    fn side(&self, key: &Key<'a>, other: &Self) -> FindingSide {
        let finding = self.of_things.get(key).copied();
        let gone = |theirs: &&Finding| !is_there(theirs.subject, other.figures, self.figures);
        if finding.is_none() && other.of_things.get(key).is_some_and(gone) {
            return FindingSide { outcome: None, finding: None };
        }
        let outcome = finding.or(self.of_checks.get(key.0).copied()).map(|finding| finding.outcome);
        // What is told of the same things in another strand is no gap.
        let others = [Strand::Judged, Strand::Undecided, Strand::Noted].into_iter();
        let mut others = others.filter_map(|strand| self.of_things.get(&(key.0, key.1, strand)));
        FindingSide {
            outcome: outcome.or_else(|| others.next().map(|finding| finding.outcome)),
            finding: finding.cloned(),
        }
    }
}

/// What differs between two assessments, the worst turn first.
pub(super) fn compare_findings(before: Side<'_>, after: Side<'_>) -> Vec<FindingChange> {
    let (one, two) = (Told::by(before), Told::by(after));
    let keys: std::collections::BTreeSet<&Key<'_>> =
        one.of_things.keys().chain(two.of_things.keys()).collect();
    let mut changes: Vec<FindingChange> = Vec::new();
    for key in keys {
        let Some(check) = one.of_things.get(key).or(two.of_things.get(key)).map(|finding| finding.check)
        else {
            continue;
        };
        let things = key.1.to_vec();
        changes.extend(change(check, things, (one.side(key, &two), two.side(key, &one))));
    }
    // A check that says something as a whole on one side only is told of by its things.
    for (id, before) in &one.of_checks {
        let Some(after) = two.of_checks.get(id) else { continue };
        let side = |finding: &Finding| FindingSide {
            outcome: Some(finding.outcome),
            finding: Some(finding.clone()),
        };
        changes.extend(change(before.check, after.things.clone(), (side(before), side(after))));
    }
    let grown = |change: &FindingChange| change.growth().unwrap_or(0.0);
    changes.sort_by(|a, b| a.turn.cmp(&b.turn).then_with(|| grown(b).total_cmp(&grown(a))));
    changes
}

fn change(
    check: &'static Check,
    things: Vec<String>,
    (before, after): (FindingSide, FindingSide),
) -> Option<FindingChange> {
    let turn = turn(&before, &after)?;
    Some(FindingChange { check, things, turn, before, after })
}

/// How the one became the other; none where they are the same.
fn turn(before: &FindingSide, after: &FindingSide) -> Option<Turn> {
    let (one, two) = (before.outcome, after.outcome);
    if one != two {
        return Some(turned_to(one, two));
    }
    match (before.is_accepted(), after.is_accepted()) {
        (true, false) => return Some(Turn::NoLongerAccepted),
        (false, true) => return Some(Turn::NewlyAccepted),
        _ => {}
    }
    // Of a check that passes without numbers the thing is any of many, and not what differs.
    let words = |side: &FindingSide| side.finding.as_ref().map(|finding| finding.what.clone());
    let same_words = words(before) == words(after);
    match before.used().zip(after.used()) {
        Some((one, two)) if differ(one, two) => Some(if two > one { Turn::MoreUsed } else { Turn::LessUsed }),
        Some(_) => compared(before, after),
        None => (!same_words).then_some(Turn::OtherGrounds),
    }
}

/// Other numbers with the same use: the limit itself was changed along, or another place is as tight.
fn compared(before: &FindingSide, after: &FindingSide) -> Option<Turn> {
    let numbers = |side: &FindingSide| {
        let compared = side.finding.as_ref().and_then(|finding| finding.comparison);
        compared.map(|compared| (compared.demand.value, compared.capacity.value))
    };
    let (one, two) = (numbers(before)?, numbers(after)?);
    (differ(one.0, two.0) || differ(one.1, two.1)).then_some(Turn::OtherGrounds)
}

fn turned_to(before: Option<Outcome>, after: Option<Outcome>) -> Turn {
    let weight = |side: Option<Outcome>| match side {
        Some(outcome @ (Outcome::Fail | Outcome::Undecided | Outcome::Near | Outcome::Note)) => outcome,
        _ => Outcome::Pass,
    };
    let is_judged =
        |side: Option<Outcome>| !matches!(side, None | Some(Outcome::NotApplicable | Outcome::NotAsked));
    // What was broken and is no longer judged has not been mended.
    match (is_judged(before), is_judged(after)) {
        (true, false) => return Turn::NoLongerJudged,
        (false, true) if weight(after) == Outcome::Pass => return Turn::NewlyJudged,
        (false, false) => return Turn::OtherGrounds,
        _ => {}
    }
    let (one, two) = (weight(before), weight(after));
    if two < one {
        return match two {
            Outcome::Fail => Turn::Broken,
            Outcome::Undecided => Turn::NewlyUndecided,
            Outcome::Near => Turn::NewlyNear,
            _ => Turn::NewlyNoted,
        };
    }
    match one {
        Outcome::Fail => Turn::Mended,
        Outcome::Undecided => Turn::Decided,
        Outcome::Near => Turn::NoLongerNear,
        _ => Turn::NoLongerNoted,
    }
}
