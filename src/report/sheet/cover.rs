//! The cover: what the plan is, the verdict in words, the worst state, the open points, and what is where.

use super::face::Face;
use super::flow::{Flow, Side, Type};
use super::heaviest;
use super::matter::Matter;
use super::page::{Frame, Ink, Line, Look, Mark, Spot};
use super::wording::{capital, counted, wrap};
use crate::checks::{Finding, Outcome};
use crate::model::VehicleKind;
use crate::report::finding_text::{finding_in_short, worst_state_words};
use crate::report::{cautions, verdict_line};

/// Height that the list of contents and the hash need below the open points, in mm.
const BELOW_MM: f64 = 82.0;
/// Height of the list of contents in mm, and width of the names of facts.
const CONTENTS_MM: f64 = 58.0;
const NAMES_MM: f64 = 34.0;
const VERDICT: Type = Type { face: Face::Bold, size_pt: 13.0, ink: Ink::Black };

/// Where the cover keeps room for what is known only when all pages are filled.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kept {
    /// The page.
    pub(super) page: usize,
    /// Room for the list of contents.
    pub(super) contents: Frame,
    /// Room for a word on characters that could not be printed.
    pub(super) missing: Frame,
}

/// Adds the cover.
pub(super) fn cover(flow: &mut Flow, matter: &Matter<'_>) -> Kept {
    flow.part_without_title("Cover");
    flow.line("LOAD SHEET", Type::STRONG.sized(9.0), Side::Left);
    title(flow, matter);
    verdict(flow, matter);
    facts(flow, matter);
    heaviest::heaviest(flow, matter);
    open_points(flow, matter);
    flow.heading("What is where", BELOW_MM - 12.0);
    let contents = flow.take(CONTENTS_MM);
    let missing = flow.take(Type::NOTE.leading_mm());
    hash(flow, matter);
    Kept { page: flow.page_count() - 1, contents, missing }
}

fn title(flow: &mut Flow, matter: &Matter<'_>) {
    const MOST_LINES: usize = 3;
    let title = flow.printable(&matter.title());
    let lines = wrap(&title, Type::TITLE, flow.width_mm());
    let look = if lines.len() > MOST_LINES { Type::TITLE.sized(13.0) } else { Type::TITLE };
    let lines = wrap(&title, look, flow.width_mm());
    let (shown, rest) = lines.split_at(lines.len().min(2 * MOST_LINES));
    for (nth, line) in shown.iter().enumerate() {
        let more = if nth + 1 == shown.len() && !rest.is_empty() { " …" } else { "" };
        flow.line(&format!("{line}{more}"), look, Side::Left);
    }
    flow.gap(1.5);
}

/// The verdict in a frame, with what it does not say under it.
fn verdict(flow: &mut Flow, matter: &Matter<'_>) {
    let lines = wrap(&verdict_line(matter.figures, matter.assessment), VERDICT, flow.width_mm() - 12.0);
    let [_, _, _, caution] = cautions();
    let small = wrap(caution, Type::BODY, flow.width_mm() - 12.0);
    let (large_mm, small_mm) = (VERDICT.leading_mm(), Type::BODY.leading_mm());
    let strip = flow.take(lines.len() as f64 * large_mm + small.len() as f64 * small_mm + 6.6);
    flow.mark(Mark::Box(strip, Look::line(Ink::Black, 0.5)));
    flow.mark(Mark::Box(Frame { width_mm: 2.4, ..strip }, Look::fill(Ink::Accent)));
    let mut y = strip.top_mm + 3.4;
    let lines = lines.iter().map(|line| (line, VERDICT)).chain(small.iter().map(|line| (line, Type::BODY)));
    for (line, look) in lines {
        let room = Frame::new(strip.left_mm + 6.0, y, strip.width_mm - 12.0, look.leading_mm());
        flow.words(line, look, room, Side::Left);
        y += look.leading_mm();
    }
    flow.gap(3.5);
}

fn facts(flow: &mut Flow, matter: &Matter<'_>) {
    let (figures, plan) = (matter.figures, matter.plan());
    let kinds = |kind| figures.consist.vehicles.iter().filter(|place| place.kind == kind).count();
    let departure = figures.state(0);
    let worst = matter.assessment.worst().filter(|finding| finding.comparison.is_some() || finding.is_open());
    let train = [
        counted(kinds(VehicleKind::Engine), "engine", "engines"),
        counted(kinds(VehicleKind::Wagon), "wagon", "wagons"),
        counted(kinds(VehicleKind::Idler), "idler", "idlers"),
        counted(figures.consist.racks.len(), "rack", "racks"),
    ];
    let strings = format!(
        "{} on the train at departure, {} ordered",
        counted(figures.present(0).count(), "string", "strings"),
        plan.order.len()
    );
    let loaded_kg: f64 = figures.present(0).map(|placed| placed.mass_kg).sum();
    let masses = format!(
        "train {} with {} of rails, {} over buffers",
        departure.map_or("not worked out".to_owned(), |state| matter.mass(state.train_kg)),
        matter.mass(loaded_kg),
        matter.length(figures.consist.length)
    );
    let outcomes =
        Outcome::ALL.map(|outcome| format!("{} {}", matter.assessment.count(outcome), outcome.word()));
    let sites: Vec<&str> = plan.drops.iter().map(|drop| drop.name.as_str()).collect();
    fact(flow, "Worst state", &worst_state_words(figures, matter.assessment, matter.style));
    let in_short = |finding: &Finding| match finding.outcome < Outcome::Pass {
        true => finding_in_short(figures, finding, matter.style),
        false => format!("none; the most used limit is {}", finding_in_short(figures, finding, matter.style)),
    };
    fact(flow, "Worst finding", &worst.map_or("none".to_owned(), in_short));
    fact(flow, "Findings", &format!("{}, in {}", outcomes.join(", "), states(matter)));
    fact(flow, "Train", &train.join(", "));
    fact(flow, "Load", &strings);
    fact(flow, "Masses, length", &masses);
    fact(flow, "Sites", &if sites.is_empty() { "none".to_owned() } else { sites.join(", ") });
    if !plan.notes.trim().is_empty() {
        let notes: String = plan.notes.chars().take(400).collect();
        fact(flow, "Notes", &notes);
    }
}

fn states(matter: &Matter<'_>) -> String {
    counted(matter.figures.states.len(), "state from full to empty", "states from full to empty")
}

/// A fact with its name at the left, at most five lines.
fn fact(flow: &mut Flow, name: &str, text: &str) {
    const MOST_LINES: usize = 5;
    let text = flow.printable(text);
    let mut lines = wrap(&text, Type::BODY, flow.width_mm() - NAMES_MM);
    if lines.len() > MOST_LINES {
        lines.truncate(MOST_LINES);
        lines[MOST_LINES - 1].push_str(" …");
    }
    for (nth, line) in lines.iter().enumerate() {
        let strip = flow.take(Type::BODY.leading_mm());
        if nth == 0 {
            flow.words(name, Type::STRONG, Frame { width_mm: NAMES_MM - 2.0, ..strip }, Side::Left);
        }
        let left_mm = strip.left_mm + NAMES_MM;
        let room = Frame { left_mm, width_mm: strip.width_mm - NAMES_MM, ..strip };
        flow.words(line, Type::BODY, room, Side::Left);
    }
    flow.gap(0.7);
}

/// Whatever counts against the plan, as many as there is room for.
fn open_points(flow: &mut Flow, matter: &Matter<'_>) {
    let open: Vec<&Finding> = matter.assessment.findings.iter().filter(|finding| finding.is_open()).collect();
    flow.heading(&format!("Open points ({})", open.len()), 8.0);
    if open.is_empty() {
        flow.paragraph(
            "None: no entered limit is broken beyond what was accepted, and nothing is undecided.",
            Type::BODY,
        );
        return;
    }
    for (nth, finding) in open.iter().enumerate() {
        let line_mm = Type::BODY.leading_mm();
        if flow.left_over_mm() < BELOW_MM + 3.4 * line_mm {
            let more = counted(open.len() - nth, "more is", "more are");
            flow.paragraph(&format!("{} listed under \"Findings\".", capital(&more)), Type::STRONG);
            return;
        }
        let words = format!(
            "{}, {}: {}. {}",
            finding.check.title,
            finding.outcome.word(),
            finding.things.join(", "),
            finding.what.show(matter.style)
        );
        let words = flow.printable(&words);
        let lines = wrap(&words, Type::BODY, flow.width_mm() - 6.0);
        let more = if lines.len() > 2 { " …" } else { "" };
        flow.bullet(&format!("{}{more}", lines[..lines.len().min(2)].join(" ")), Type::BODY);
    }
}

fn hash(flow: &mut Flow, matter: &Matter<'_>) {
    let strip = flow.take(9.4);
    let rule = Line::new(Ink::Black, 0.25);
    let y = strip.top_mm + 0.6;
    flow.mark(Mark::line(Spot::new(strip.left_mm, y), Spot::new(strip.right_mm(), y), rule));
    let row = |nth: f64| Frame::new(strip.left_mm, strip.top_mm + 1.2 + 4.0 * nth, strip.width_mm, 4.0);
    let short = format!(
        "Plan {} · made {} · the same digits stand on every page of this sheet",
        Matter::short(&matter.hash),
        matter.options.made_at
    );
    flow.words(&short, Type::STRONG, row(0.0), Side::Left);
    flow.words(&format!("SHA-256 of the plan: {}", matter.hash), Type::NOTE, row(1.0), Side::Left);
}
