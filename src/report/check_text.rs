//! The check of a plan in plain text: verdict first, then the worst, the counts, the findings, the cautions.

use super::LEVEL_RIGID;
use super::finding_text::{finding_in_short, finding_lines, worst_state_words};
use super::layout::{counted, paragraph};
use super::records::{Records, load_words, signature_words};
use super::verdict::{cautions, verdict_line};
use crate::checks::{Assessment, Finding, Outcome};
use crate::statics::Figures;
use crate::units::Style;
use std::collections::BTreeSet;

/// Findings that are counted always but listed on request only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OnRequest {
    /// What is within its limit.
    Passes,
    /// What the plan does not ask for, and what it has nothing for.
    NotAsked,
    /// Broken limits that somebody accepted.
    Accepted,
}

impl OnRequest {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Passes, Self::NotAsked, Self::Accepted];
}

/// How a check is reported.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CheckReportOptions {
    /// Units and decimal mark.
    pub style: Style,
    /// What to list beyond open, near and noted findings.
    pub list: BTreeSet<OnRequest>,
    /// Which load is judged, and who signed.
    pub records: Records,
}

/// The check of a plan for a reader, at most about 100 columns wide.
///
/// The verdict comes first, then the worst state and the worst finding, the counts, the findings by outcome, the
/// cautions, and at the end, on request, what was not asked.
pub fn check_report(figures: &Figures, assessment: &Assessment, options: &CheckReportOptions) -> String {
    let mut out = String::new();
    paragraph(&mut out, "", "", &verdict_line(figures, assessment));
    out.push('\n');
    head(&mut out, figures, assessment, options);
    for group in groups(assessment, options) {
        group_lines(&mut out, figures, &group, options.style);
    }
    out.push('\n');
    for caution in cautions() {
        paragraph(&mut out, "", "", caution);
    }
    if options.list.contains(&OnRequest::NotAsked) {
        not_asked(&mut out, assessment, options.style);
    }
    out
}

/// Findings of one outcome, under one heading.
struct Group<'a> {
    heading: &'static str,
    findings: Vec<&'a Finding>,
}

fn groups<'a>(assessment: &'a Assessment, options: &CheckReportOptions) -> Vec<Group<'a>> {
    let accepted = |finding: &&Finding| finding.outcome == Outcome::Fail && !finding.is_open();
    let of = |outcome| assessment.findings.iter().filter(move |f| f.outcome == outcome);
    let mut groups = vec![
        Group { heading: "Broken", findings: of(Outcome::Fail).filter(|f| f.is_open()).collect() },
        Group { heading: "Undecided", findings: of(Outcome::Undecided).collect() },
        Group { heading: "Near a limit", findings: of(Outcome::Near).collect() },
        Group { heading: "Notes", findings: of(Outcome::Note).collect() },
    ];
    if options.list.contains(&OnRequest::Accepted) {
        groups.push(Group {
            heading: "Broken and accepted",
            findings: of(Outcome::Fail).filter(accepted).collect(),
        });
    }
    if options.list.contains(&OnRequest::Passes) {
        let findings = of(Outcome::Pass).collect();
        groups.push(Group { heading: "Passed, the tightest place of each check", findings });
    }
    groups.retain(|group| !group.findings.is_empty());
    groups
}

fn head(out: &mut String, figures: &Figures, assessment: &Assessment, options: &CheckReportOptions) {
    let style = options.style;
    if !figures.plan.title.trim().is_empty() {
        paragraph(out, "Plan:           ", "                ", &figures.plan.title);
    }
    paragraph(out, "Model:          ", "", LEVEL_RIGID);
    if let Some(load) = &options.records.load {
        paragraph(out, "Load:           ", "                ", &load_words(load));
    }
    for state in &options.records.signatures {
        paragraph(out, "Signed:         ", "                ", &signature_words(state));
    }
    paragraph(out, "Worst state:    ", "                ", &worst_state_words(figures, assessment, style));
    let worst = match assessment.worst() {
        Some(finding) if finding.outcome < Outcome::Pass => finding_in_short(figures, finding, style),
        Some(finding) if finding.comparison.is_some() => {
            format!("none; the most used limit is {}", finding_in_short(figures, finding, style))
        }
        _ => "none".to_owned(),
    };
    paragraph(out, "Worst finding:  ", "                ", &worst);
    paragraph(out, "Findings:       ", "                ", &counts(assessment));
}

fn counts(assessment: &Assessment) -> String {
    let words = Outcome::ALL.map(|outcome| format!("{} {}", assessment.count(outcome), outcome.word()));
    let accepted = assessment.findings.iter().filter(|f| f.outcome == Outcome::Fail && !f.is_open()).count();
    match accepted {
        0 => format!("{}.", words.join(", ")),
        count => format!("{}; {} accepted.", words.join(", "), counted(count, "fail is", "fails are")),
    }
}

fn group_lines(out: &mut String, figures: &Figures, group: &Group<'_>, style: Style) {
    out.push_str(&format!("\n{} ({})\n", group.heading, group.findings.len()));
    for finding in &group.findings {
        out.push('\n');
        out.push_str(&finding_lines(figures, finding, style));
    }
}

fn not_asked(out: &mut String, assessment: &Assessment, style: Style) {
    for (outcome, heading) in [
        (Outcome::NotApplicable, "Not applicable to this plan"),
        (Outcome::NotAsked, "Not asked, so not judged"),
    ] {
        let findings: Vec<&Finding> =
            assessment.findings.iter().filter(|finding| finding.outcome == outcome).collect();
        out.push_str(&format!("\n{heading} ({})\n", findings.len()));
        for finding in findings {
            let line =
                format!("{} [{}]: {}", finding.check.title, finding.check.id, finding.what.show(style));
            paragraph(out, "  ", "    ", &line);
        }
    }
}
