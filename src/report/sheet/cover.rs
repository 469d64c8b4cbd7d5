//! The cover: what the plan is, the verdict in words, the worst state, the open points, and what is where.

use super::as_loaded::{RECORDS, open_records};
use super::face::Face;
use super::flow::{Flow, Side, Type};
use super::heaviest;
use super::matter::Matter;
use super::page::{Frame, Ink, Line, Look, Mark, Spot};
use super::wording::{capital, counted, wrap};
use crate::checks::{Finding, Outcome, Verdict, assess};
use crate::model::{Plan, VehicleKind};
use crate::report::finding_text::{finding_in_short, worst_state_words};
use crate::report::{cautions, verdict_line};
use crate::statics::{Figures, Scope};
use std::sync::Arc;

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
    let loaded = as_loaded(matter);
    verdict(flow, matter, loaded.as_ref());
    facts(flow, matter);
    heaviest::heaviest(flow, matter);
    open_points(flow, matter, loaded.as_ref());
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
fn verdict(flow: &mut Flow, matter: &Matter<'_>, loaded: Option<&AsLoaded>) {
    let told = verdict_line(matter.figures, matter.assessment);
    let told = match loaded {
        Some(loaded) => vec![format!("As planned: {told}"), format!("As loaded: {}", loaded.line)],
        None => vec![told],
    };
    let lines: Vec<String> =
        told.iter().flat_map(|told| wrap(told, VERDICT, flow.width_mm() - 12.0)).collect();
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

/// What is said of the load as it was recorded.
struct AsLoaded {
    line: String,
    verdict: Verdict,
}

/// The verdict on the load as it was recorded; none where no record differs from the plan.
fn as_loaded(matter: &Matter<'_>) -> Option<AsLoaded> {
    if matter.loaded.differences.is_empty() {
        return None;
    }
    let figures = Figures::of(Arc::new(matter.loaded.plan.clone()), Scope::All);
    let assessment = assess(&figures);
    Some(AsLoaded { line: verdict_line(&figures, &assessment), verdict: assessment.verdict() })
}

/// How far the records of the loading go.
fn recorded(matter: &Matter<'_>) -> String {
    let loaded = &matter.loaded;
    format!(
        "{} of {} confirmed, {} otherwise than planned; this sheet is of the plan, see \"{RECORDS}\"",
        loaded.confirmed(),
        counted(loaded.planned, "string", "strings"),
        counted(loaded.strings_that_differ(), "string", "strings")
    )
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
    if !plan.as_loaded.is_empty() {
        fact(flow, "Recorded", &recorded(matter));
    }
    fact(flow, "Masses, length", &masses);
    fact(flow, "Sites", &if sites.is_empty() { "none".to_owned() } else { sites.join(", ") });
    if !plan.notes.trim().is_empty() {
        notes(flow, plan);
    }
}

/// The notes of a plan, line by line; where the cover has no room for all of them, where they stand in full.
fn notes(flow: &mut Flow, plan: &Plan) {
    let lines = note_lines(flow, &plan.notes);
    match lines.len() <= MOST_LINES {
        true => fact_lines(flow, "Notes", &lines),
        false => fact(flow, "Notes", &format!("They stand in full under \"{RECORDS}\", on the last pages.")),
    }
}

/// The lines of notes, those that are too wide broken, without empty ones at either end.
fn note_lines(flow: &mut Flow, notes: &str) -> Vec<String> {
    let width_mm = flow.width_mm() - NAMES_MM;
    let lines = notes.trim().lines().map(|line| flow.boxed(line));
    lines.flat_map(|line| wrap(&line, Type::BODY, width_mm)).collect()
}

/// Whether the notes of a plan have room on the cover.
pub(super) fn has_room_for(flow: &mut Flow, notes: &str) -> bool {
    note_lines(flow, notes).len() <= MOST_LINES
}

fn states(matter: &Matter<'_>) -> String {
    counted(matter.figures.states.len(), "state from full to empty", "states from full to empty")
}

/// Lines that a fact may have.
const MOST_LINES: usize = 5;

/// A fact with its name at the left, at most five lines.
fn fact(flow: &mut Flow, name: &str, text: &str) {
    let text = flow.printable(text);
    let mut lines = wrap(&text, Type::BODY, flow.width_mm() - NAMES_MM);
    if lines.len() > MOST_LINES {
        lines.truncate(MOST_LINES);
        lines[MOST_LINES - 1].push_str(" …");
    }
    fact_lines(flow, name, &lines);
}

/// A fact in lines that are short enough.
fn fact_lines(flow: &mut Flow, name: &str, lines: &[String]) {
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

/// Whatever counts against the plan or is open in its records, and what somebody accepted, as many as there is room
/// for.
fn open_points(flow: &mut Flow, matter: &Matter<'_>, loaded: Option<&AsLoaded>) {
    let findings = || matter.assessment.findings.iter();
    let open: Vec<&Finding> = findings().filter(|finding| finding.is_open()).collect();
    let accepted: Vec<&Finding> =
        findings().filter(|finding| finding.outcome == Outcome::Fail && !finding.is_open()).collect();
    let mut records = open_records(matter);
    if let Some(loaded) = loaded.filter(|loaded| loaded.verdict != Verdict::NothingOpen) {
        records.insert(0, format!("As loaded, it is not as planned: {}", loaded.line));
    }
    flow.heading(&format!("Open points ({})", open.len() + records.len()), 8.0);
    for record in &records {
        if has_room_for_points(flow, 3.4) {
            let record = flow.printable(record);
            flow.bullet(&record, Type::BODY);
        }
    }
    if open.is_empty() && !records.is_empty() {
        flow.paragraph(
            "Of the plan itself none: no entered limit is broken beyond what was accepted, and nothing is undecided.",
            Type::BODY,
        );
    } else if open.is_empty() {
        flow.paragraph(
            "None: no entered limit is broken beyond what was accepted, and nothing is undecided.",
            Type::BODY,
        );
    }
    points(flow, matter, &open);
    if !accepted.is_empty() && has_room_for_points(flow, 3.0) {
        flow.heading(&format!("Broken and accepted by name ({})", accepted.len()), 8.0);
        points(flow, matter, &accepted);
    }
}

/// Whether so many more lines leave room for what stands below them on the cover.
fn has_room_for_points(flow: &Flow, lines: f64) -> bool {
    flow.left_over_mm() >= BELOW_MM + lines * Type::BODY.leading_mm()
}

fn points(flow: &mut Flow, matter: &Matter<'_>, findings: &[&Finding]) {
    for (nth, finding) in findings.iter().enumerate() {
        if !has_room_for_points(flow, 3.4) {
            let more = counted(findings.len() - nth, "more is", "more are");
            flow.paragraph(&format!("{} listed under \"Findings\".", capital(&more)), Type::STRONG);
            return;
        }
        let words = flow.printable(&point(matter, finding));
        let lines = wrap(&words, Type::BODY, flow.width_mm() - 6.0);
        let more = if lines.len() > 2 { " …" } else { "" };
        flow.bullet(&format!("{}{more}", lines[..lines.len().min(2)].join(" ")), Type::BODY);
    }
}

/// The check, who accepted it, where, and what was found.
fn point(matter: &Matter<'_>, finding: &Finding) -> String {
    let (things, what) = (finding.things.join(", "), finding.what.show(matter.style));
    // Many findings begin with their place.
    let place = if what.starts_with(&things) { String::new() } else { format!("{things}. ") };
    let acceptance = finding.accepted.and_then(|at| matter.plan().accepted.get(at));
    let outcome = match acceptance {
        Some(kept) => format!("accepted by {} ({})", kept.by, kept.why),
        None => finding.outcome.word().to_owned(),
    };
    format!("{}, {outcome}: {place}{what}", finding.check.title)
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
