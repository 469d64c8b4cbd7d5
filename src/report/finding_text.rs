//! One finding in plain text: what, where, demand against capacity, the margin, how to mend it.

use super::layout::{labelled, paragraph, ranges};
use crate::checks::{Assessment, Comparison, Finding, Outcome, Sense};
use crate::statics::Figures;
use crate::units::{Piece, Quantity, QuantityKind, Style};

/// The finding in full, a few lines, indented under its check's title.
pub fn finding_lines(figures: &Figures, finding: &Finding, style: Style) -> String {
    let mut out = String::new();
    paragraph(&mut out, "  ", "  ", &format!("{} [{}]", finding.check.title, finding.check.id));
    labelled(&mut out, "place", &finding.things.join(", "));
    match finding.comparison {
        Some(comparison) => {
            if says_more(finding, comparison) {
                labelled(&mut out, "found", &finding.what.show(style));
            }
            compared(&mut out, comparison, style);
        }
        None => labelled(&mut out, "found", &finding.what.show(style)),
    }
    if let Some(states) = states_line(figures, finding) {
        labelled(&mut out, "states", &states);
    }
    if !finding.mend.is_empty() {
        labelled(&mut out, "mend", &finding.mend.show(style));
    }
    if let Some(source) = &finding.limit_source {
        labelled(&mut out, "limit from", source);
    }
    if let Some(kept) = finding.accepted.and_then(|index| figures.plan.accepted.get(index)) {
        labelled(&mut out, "accepted", &format!("by {}, {}: {}", kept.by, kept.at, kept.why));
    }
    out
}

/// One line: the check, the place and how much is used.
pub(super) fn finding_in_short(figures: &Figures, finding: &Finding, style: Style) -> String {
    let mut line = finding_in_its_state(finding, style);
    if let Some(state) = finding.state {
        line.push_str(&format!(", {}", state_name(figures, state)));
    }
    line
}

/// What a finding says, for a reader who knows of which state it is.
fn finding_in_its_state(finding: &Finding, style: Style) -> String {
    let mut line =
        format!("{}, {}: {}", finding.check.title, finding.outcome.word(), finding.what.show(style));
    if let Some(comparison) = finding.comparison {
        line.push_str(&format!(" ({})", used(comparison)));
    }
    line
}

/// The worst state and what makes it the worst, unless that is the worst finding of all and told as such.
pub(super) fn worst_state_words(figures: &Figures, assessment: &Assessment, style: Style) -> String {
    let Some((finding, state)) =
        assessment.worst_in_a_state().and_then(|finding| Some((finding, finding.state?)))
    else {
        return "none: no finding depends on the state".to_owned();
    };
    let name = state_name(figures, state);
    if assessment.worst().is_some_and(|worst| std::ptr::eq(worst, finding)) {
        return name;
    }
    let told = format!("{name}: {}", finding_in_its_state(finding, style));
    let is_broken = |finding: &&Finding| finding.outcome == Outcome::Fail && finding.is_open();
    let broken_in_all = assessment.findings.iter().filter(is_broken).filter(|f| f.state.is_none()).count();
    // Nobody looks for trouble in one state where it is in all of them.
    match broken_in_all {
        0 => told,
        _ if is_broken(&finding) => told,
        1 => format!("1 finding fails whatever the state; of those that change with it {told}"),
        count => format!("{count} findings fail whatever the state; of those that change with it {told}"),
    }
}

/// A state as a reader finds it again, such as `state 3 (after step 2 of Eastmoor)`.
pub(super) fn state_name(figures: &Figures, state: usize) -> String {
    match figures.states.get(state) {
        Some(told) => format!("state {state} ({})", told.title(&figures.plan)),
        None => format!("state {state}"),
    }
}

/// The share of a limit that is used, in words.
pub(super) fn used(comparison: Comparison) -> String {
    let share = comparison.utilisation();
    if share.is_finite() {
        format!("{} used", Quantity::share(share).show(Style::default()))
    } else {
        "beyond any share of the limit".to_owned()
    }
}

/// The SI unit of a quantity's value as reports for programs name it; `1` for plain numbers.
pub(super) fn si_unit(kind: QuantityKind) -> &'static str {
    match kind {
        QuantityKind::Mass | QuantityKind::MassTerm | QuantityKind::SmallMass => "kg",
        QuantityKind::Length | QuantityKind::SmallLength => "m",
        QuantityKind::Force => "N",
        QuantityKind::Moment => "N m",
        QuantityKind::Stress => "Pa",
        QuantityKind::MassPerLength => "kg/m",
        QuantityKind::Ratio | QuantityKind::Share | QuantityKind::Count | QuantityKind::Number => "1",
        QuantityKind::Speed => "m/s",
        QuantityKind::Acceleration | QuantityKind::FreeFall => "m/s2",
        QuantityKind::Time => "s",
        QuantityKind::ForcePerLength => "N/m",
        QuantityKind::BendingStiffness => "N m2",
        QuantityKind::MassMoment => "kg m",
        QuantityKind::SectionModulus => "m3",
        QuantityKind::SecondMoment => "m4",
        QuantityKind::Area => "m2",
        QuantityKind::Angle => "rad",
        QuantityKind::AngularStiffness => "N m/rad",
    }
}

/// Whether a finding's words hold more than its things, demand and capacity, which have lines of their own.
fn says_more(finding: &Finding, comparison: Comparison) -> bool {
    let words = finding.what.0.iter().filter_map(|piece| match piece {
        Piece::Words(words) => Some(words.as_str()),
        Piece::Value(_) => None,
    });
    let between = match comparison.sense {
        Sense::AtMost => " of at most ",
        Sense::AtLeast => ", at least ",
    };
    words.collect::<String>() != format!("{}: {between}", finding.things.join(", "))
}

fn compared(out: &mut String, comparison: Comparison, style: Style) {
    let word = match comparison.sense {
        Sense::AtMost => "at most",
        Sense::AtLeast => "at least",
    };
    labelled(out, "demand", &comparison.demand.show(style));
    labelled(out, "capacity", &format!("{word} {}", comparison.capacity.show(style)));
    labelled(out, "margin", &format!("{}, {}", margin(comparison, style), used(comparison)));
}

/// What is left, or by how much the limit is broken; digits enough to see it.
fn margin(comparison: Comparison, style: Style) -> String {
    let left = comparison.margin();
    if !left.value.is_finite() {
        return "none".to_owned();
    }
    let size = Quantity { value: left.value.abs(), kind: left.kind };
    let shown = match size.kind {
        // The difference of two ratios is no ratio.
        QuantityKind::Ratio => size.show_number(style),
        _ => size.show(style),
    };
    let hidden =
        size.value > 0.0 && size.show_number(style) == Quantity { value: 0.0, ..size }.show_number(style);
    let shown = match (hidden, si_unit(size.kind)) {
        (false, _) => shown,
        (true, "1") => format!("{:.2e}", size.value),
        (true, unit) => format!("{:.2e} {unit}", size.value),
    };
    match comparison.holds() {
        true => format!("{shown} left"),
        false => format!("broken by {shown}"),
    }
}

fn states_line(figures: &Figures, finding: &Finding) -> Option<String> {
    let state = finding.state?;
    let others: Vec<usize> = finding.states.iter().copied().filter(|other| *other != state).collect();
    let name = state_name(figures, state);
    Some(match (others.is_empty(), finding.outcome) {
        (true, _) | (_, Outcome::Pass) => name,
        (false, _) if others.len() == 1 => format!("worst in {name}; also in state {}", ranges(&others)),
        (false, _) => format!("worst in {name}; also in states {}", ranges(&others)),
    })
}
