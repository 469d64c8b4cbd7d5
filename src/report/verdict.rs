//! The sum of a check in one sentence, its exit code, and the cautions that go with every report.

use super::layout::counted;
use crate::checks::{Assessment, Outcome, Verdict};
use crate::statics::Figures;

/// The exit code of a verdict: 0 nothing open, 1 an unaccepted fail, 3 no fail but something undecided.
///
/// 2 is left for a check that could not run.
pub fn exit_code(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::NothingOpen => 0,
        Verdict::Fails => 1,
        Verdict::Undecided => 3,
    }
}

/// The verdict in one sentence, such as `3 limits are broken and 1 thing is undecided, in 17 states.`
///
/// It tells what was computed and never that a train is safe or may leave.
pub fn verdict_line(figures: &Figures, assessment: &Assessment) -> String {
    let open = |outcome| assessment.findings.iter().filter(|f| f.outcome == outcome && f.is_open()).count();
    let (fails, undecided) = (open(Outcome::Fail), open(Outcome::Undecided));
    let accepted = assessment.count(Outcome::Fail) - fails;
    let where_ = judged_states(figures);
    let broken = counted(fails, "limit is broken", "limits are broken");
    let open_things = counted(undecided, "thing is undecided", "things are undecided");
    let kept = match accepted {
        0 => String::new(),
        _ => format!("; {accepted} accepted by name"),
    };
    match (fails, undecided) {
        (0, 0) if accepted == 0 => format!("No entered limit is broken {}.", in_any_state(figures)),
        (0, 0) => format!(
            "No entered limit is broken {}, but for {accepted} accepted by name.",
            in_any_state(figures)
        ),
        (0, _) if accepted > 0 => format!(
            "{open_things} and no entered limit is broken but for {accepted} accepted by name, {where_}."
        ),
        (0, _) => format!("{open_things} and no entered limit is broken, {where_}."),
        (_, 0) => format!("{broken}, {where_}{kept}."),
        (_, _) => format!("{broken} and {open_things}, {where_}{kept}."),
    }
}

/// What every report says of its own limits, a sentence or two each.
pub fn cautions() -> [&'static str; 4] {
    [
        "Model: static. The value of record is level and rigid: racks stand level, wagons do not give. Where the \
         plan asks for springs, linear ones stand beside it. No movement, no track twist and no twisting of the \
         rail are in either, and the axles of a bogie share its load equally.",
        "Tolerances of track, wagons, racks, lengths and masses come on top of every figure: leave margin.",
        "Limits and ratings are those entered in the plan, or accepted there from a named set; a limit that \
         nobody entered was not judged.",
        "This is a computation and releases no train: local rules, and the people licensed to apply them, \
         decide.",
    ]
}

fn judged_states(figures: &Figures) -> String {
    match figures.worked.as_slice() {
        [only] if figures.states.len() > 1 => format!("in state {} alone", only.state),
        states => format!("in {}", counted(states.len(), "state", "states")),
    }
}

fn in_any_state(figures: &Figures) -> String {
    match figures.worked.len() {
        0 | 1 => judged_states(figures),
        count => format!("in any of {count} states"),
    }
}
