//! Every finding: broken and undecided in full, accepted ones with their reason, and what passed or was not asked.

use super::flow::Flow;
use super::matter::{Matter, NOT_ENTERED};
use super::table::{Cell, Column, Kind, Stress, Table};
use crate::checks::{Comparison, Finding, Outcome, Sense};
use crate::report::layout::ranges;

/// Adds the part.
pub(super) fn findings(flow: &mut Flow, matter: &Matter<'_>) {
    flow.part("Findings");
    let of = |outcome: Outcome| {
        matter.assessment.findings.iter().filter(move |finding| finding.outcome == outcome)
    };
    let (open, accepted): (Vec<&Finding>, Vec<&Finding>) =
        of(Outcome::Fail).partition(|finding| finding.is_open());
    in_full(flow, matter, "Broken", &open);
    in_full(flow, matter, "Undecided", &of(Outcome::Undecided).collect::<Vec<_>>());
    taken(flow, matter, &accepted);
    in_full(flow, matter, "Near a limit", &of(Outcome::Near).collect::<Vec<_>>());
    in_full(flow, matter, "Notes", &of(Outcome::Note).collect::<Vec<_>>());
    passed(flow, matter, &of(Outcome::Pass).collect::<Vec<_>>());
    left_out(flow, matter, "Not applicable to this plan", &of(Outcome::NotApplicable).collect::<Vec<_>>());
    left_out(flow, matter, "Not asked, so not judged", &of(Outcome::NotAsked).collect::<Vec<_>>());
}

/// What, where, how much, in which states, and how to mend it.
fn in_full(flow: &mut Flow, matter: &Matter<'_>, title: &str, findings: &[&Finding]) {
    flow.heading(&format!("{title} ({})", findings.len()), 14.0);
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "check and place"),
        Column::new(Kind::Words, "found"),
        Column::new(Kind::Figure, "used"),
        Column::new(Kind::Words, "states"),
        Column::new(Kind::Words, "how to mend it"),
    ])
    .at_most(7.0);
    for finding in findings {
        table.row(vec![
            Cell::new(format!("{}\n{}", finding.check.title, finding.things.join(", "))),
            found(matter, finding).into(),
            used(matter, finding),
            states(matter, finding).into(),
            finding.mend.show(matter.style).into(),
        ]);
    }
    table.put(flow, "None.");
}

/// Broken limits that somebody accepted, with who, when and why.
fn taken(flow: &mut Flow, matter: &Matter<'_>, findings: &[&Finding]) {
    flow.heading(&format!("Broken and accepted by name ({})", findings.len()), 14.0);
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "check and place"),
        Column::new(Kind::Words, "found"),
        Column::new(Kind::Figure, "used"),
        Column::new(Kind::Words, "states"),
        Column::new(Kind::Words, "accepted by"),
        Column::new(Kind::Words, "reason"),
    ])
    .at_most(7.0);
    for finding in findings {
        let acceptance = finding.accepted.and_then(|at| matter.plan().accepted.get(at));
        let (by, why) = acceptance
            .map_or_else(Default::default, |kept| (format!("{}\n{}", kept.by, kept.at), kept.why.clone()));
        table.row(vec![
            Cell::new(format!("{}\n{}", finding.check.title, finding.things.join(", "))),
            found(matter, finding).into(),
            used(matter, finding),
            states(matter, finding).into(),
            by.into(),
            why.into(),
        ]);
    }
    table.put(flow, "None.");
}

/// The tightest place of each check that found nothing to tell.
fn passed(flow: &mut Flow, matter: &Matter<'_>, findings: &[&Finding]) {
    flow.heading(&format!("Passed, the tightest place of each check ({})", findings.len()), 14.0);
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "check"),
        Column::new(Kind::Words, "tightest place"),
        Column::new(Kind::Figure, "found"),
        Column::new(Kind::Figure, "limit"),
        Column::new(Kind::Figure, "used"),
        Column::new(Kind::Figure, "state"),
    ])
    .at_most(7.0);
    for finding in findings {
        let place = match finding.comparison {
            Some(_) => finding.things.join(", "),
            None => finding.what.show(matter.style),
        };
        let shown = |quantity: fn(Comparison) -> crate::units::Quantity| {
            finding.comparison.map_or(NOT_ENTERED.to_owned(), |kept| quantity(kept).show(matter.style))
        };
        let limit = finding.comparison.map_or(NOT_ENTERED.to_owned(), |kept| {
            let sense = if kept.sense == Sense::AtMost { "≤" } else { "≥" };
            format!("{sense} {}", kept.capacity.show(matter.style))
        });
        table.row(vec![
            finding.check.title.into(),
            place.into(),
            shown(|kept| kept.demand).into(),
            limit.into(),
            used(matter, finding),
            finding.state.map_or(NOT_ENTERED.to_owned(), |state| state.to_string()).into(),
        ]);
    }
    table.put(flow, "None.");
}

fn left_out(flow: &mut Flow, matter: &Matter<'_>, title: &str, findings: &[&Finding]) {
    flow.heading(&format!("{title} ({})", findings.len()), 10.0);
    let mut table =
        Table::new(vec![Column::new(Kind::Words, "check"), Column::new(Kind::Words, "why")]).at_most(7.0);
    for finding in findings {
        table.row(vec![finding.check.title.into(), finding.what.show(matter.style).into()]);
    }
    table.put(flow, "None.");
}

fn found(matter: &Matter<'_>, finding: &Finding) -> String {
    let what = finding.what.show(matter.style);
    let source = finding.limit_source.as_ref();
    source.map_or(what.clone(), |source| format!("{what}\nlimit: {source}"))
}

fn used(matter: &Matter<'_>, finding: &Finding) -> Cell {
    let stress = match finding.outcome {
        Outcome::Fail => Stress::Broken,
        Outcome::Near => Stress::Near,
        _ => Stress::None,
    };
    Cell::stressed(matter.used(finding.comparison.map(Comparison::utilisation)), stress)
}

/// The worst state by its name and the others by their numbers.
fn states(matter: &Matter<'_>, finding: &Finding) -> String {
    let Some(state) = finding.state else { return "any".to_owned() };
    let others: Vec<usize> = finding.states.iter().copied().filter(|other| *other != state).collect();
    let name = matter.state_name(state);
    if others.is_empty() || finding.outcome == Outcome::Pass {
        return name;
    }
    format!("{name}; also {}", ranges(&others))
}
