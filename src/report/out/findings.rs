//! Findings as a table.

use super::{OutTable, number, state_cells};
use crate::checks::{Assessment, Finding, Sense};
use crate::format::OutCell;
use crate::statics::Figures;
use crate::units::{Quantity, Style};

/// Every finding, passes and not asked ones too, the worst first.
pub fn findings_table(figures: &Figures, assessment: &Assessment, style: Style) -> OutTable {
    let header = [
        "Outcome",
        "Open",
        "Check",
        "Title",
        "Things",
        "Found",
        "Demand",
        "Must be",
        "Capacity",
        "Unit",
        "Used (%)",
        "Margin",
        "State",
        "State title",
        "How to mend",
        "Limit from",
        "Accepted by",
        "Accepted at",
        "Accepted because",
    ];
    let rows = assessment.findings.iter().map(|finding| cells(figures, finding, style)).collect();
    OutTable { header: header.map(str::to_owned).to_vec(), rows }
}

fn cells(figures: &Figures, finding: &Finding, style: Style) -> Vec<OutCell> {
    let mut cells = vec![
        OutCell::words(finding.outcome.word()),
        OutCell::words(if finding.is_open() { "yes" } else { "no" }),
        OutCell::words(finding.check.id),
        OutCell::words(finding.check.title),
        OutCell::Words(finding.things.join(", ")),
        OutCell::Words(finding.what.show(style)),
    ];
    cells.extend(match finding.comparison {
        Some(compared) => [
            number(compared.demand, style),
            OutCell::words(match compared.sense {
                Sense::AtMost => "at most",
                Sense::AtLeast => "at least",
            }),
            number(compared.capacity, style),
            OutCell::words(compared.demand.unit_sign(style)),
            number(Quantity::share(compared.utilisation()), style),
            number(compared.margin(), style),
        ],
        None => std::array::from_fn(|_| OutCell::Empty),
    });
    cells.extend(match finding.state {
        Some(state) => state_cells(figures, state),
        None => [OutCell::Empty, OutCell::Empty],
    });
    let accepted = finding.accepted.and_then(|index| figures.plan.accepted.get(index));
    let told = |words: Option<&String>| words.map_or(OutCell::Empty, OutCell::words);
    cells.extend([
        OutCell::Words(finding.mend.show(style)),
        told(finding.limit_source.as_ref()),
        told(accepted.map(|kept| &kept.by)),
        told(accepted.map(|kept| &kept.at)),
        told(accepted.map(|kept| &kept.why)),
    ]);
    cells
}
