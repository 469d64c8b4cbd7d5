//! The pockets of a loading card: tiers and lanes as one sees them facing the front.

use super::dress::{Dress, string_marks};
use super::face::Face;
use super::flow::{Flow, Side, Type};
use super::page::{Frame, Ink, Line, Look, Mark};
use super::wording::wrap;

/// Height of a string in its pocket, and of the row that names the lanes, in mm.
const STRING_MM: f64 = 10.6;
const LANES_MM: f64 = 4.0;
/// Height of a tier in which nothing lies, in mm, and for how many strings a pocket grows.
const EMPTY_MM: f64 = 5.0;
const MOST_STRINGS: usize = 3;
/// Width of the column that names the tiers, and the widest pocket, in mm.
const TIERS_MM: f64 = 11.0;
const WIDEST_MM: f64 = 24.0;
/// Width of the swatch at a pocket's left edge that tells the site.
const SWATCH_MM: f64 = 1.7;

/// What lies in a pocket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Pocket {
    pub(super) tier: u32,
    pub(super) lane: u32,
    pub(super) drop: Option<usize>,
    /// The string's mark.
    pub(super) mark: String,
    /// Its section and length.
    pub(super) about: String,
    /// At which racks of the group it lies; empty: at all.
    pub(super) partly: String,
    /// Where in the group it is held; empty: not here.
    pub(super) held: String,
}

/// Height of the pockets of so many tiers in mm.
pub(super) fn card_plan_mm(pockets: &[Pocket], tiers: usize) -> f64 {
    LANES_MM + (1..=tiers).map(|tier| tier_mm(pockets, tier)).sum::<f64>() + 1.0
}

/// Height of a tier in mm: of its fullest pocket.
fn tier_mm(pockets: &[Pocket], tier: usize) -> f64 {
    let here = || pockets.iter().filter(|pocket| pocket.tier as usize == tier);
    let fullest = here().map(|pocket| here().filter(|other| other.lane == pocket.lane).count()).max();
    match fullest.unwrap_or(0) {
        0 => EMPTY_MM,
        strings => STRING_MM * strings.min(MOST_STRINGS) as f64,
    }
}

/// Draws the pockets; `size` is (tiers, lanes), `pockets` are in the order of tier and lane.
pub(super) fn card_plan(flow: &mut Flow, pockets: &[Pocket], (tiers, lanes): (usize, usize), room: Frame) {
    let width = ((room.width_mm - TIERS_MM) / lanes.max(1) as f64).min(WIDEST_MM);
    let left = |lane: usize| room.left_mm + TIERS_MM + width * (lane - 1) as f64;
    let top = |tier: usize| {
        let above: f64 = (tier + 1..=tiers).map(|tier| tier_mm(pockets, tier)).sum();
        room.top_mm + LANES_MM + above
    };
    for lane in 1..=lanes {
        let words = match lane {
            1 if lanes > 1 => "lane 1, left".to_owned(),
            last if last == lanes && lanes > 1 => format!("{last}, right"),
            lane => lane.to_string(),
        };
        let head = Frame::new(left(lane), room.top_mm, width, LANES_MM);
        flow.words(&words, Type::NOTE.sized(6.2), head.inset(0.3, 0.0), Side::Middle);
    }
    for tier in 1..=tiers {
        let head = Frame::new(room.left_mm, top(tier), TIERS_MM, tier_mm(pockets, tier));
        flow.words(&format!("tier {tier}"), Type::STRONG.sized(7.0), head.inset(0.5, 0.0), Side::Left);
        for lane in 1..=lanes {
            let frame = Frame::new(left(lane), top(tier), width, tier_mm(pockets, tier));
            let here: Vec<&Pocket> =
                pockets.iter().filter(|p| (p.tier as usize, p.lane as usize) == (tier, lane)).collect();
            match here.as_slice() {
                [] => flow.mark(Mark::Box(frame, Look::line(Ink::Hair, 0.12))),
                _ => shared(flow, &here, frame),
            }
        }
    }
}

/// Strings that share a pocket one behind the other stand below each other, the foremost at the top.
fn shared(flow: &mut Flow, pockets: &[&Pocket], frame: Frame) {
    let height_mm = frame.height_mm / pockets.len() as f64;
    for (nth, pocket) in pockets.iter().enumerate() {
        let part = Frame { top_mm: frame.top_mm + height_mm * nth as f64, height_mm, ..frame };
        taken(flow, pocket, part);
    }
    flow.mark(Mark::Box(frame, Look::line(Ink::Black, 0.3)));
}

fn taken(flow: &mut Flow, pocket: &Pocket, frame: Frame) {
    flow.draw(string_marks(Frame { width_mm: SWATCH_MM, ..frame }, Dress::of(pocket.drop)));
    flow.mark(Mark::Box(frame, Look::line(Ink::Soft, 0.12)));
    let left_mm = frame.left_mm + SWATCH_MM + 0.5;
    let room = Frame { left_mm, width_mm: frame.width_mm - SWATCH_MM - 0.9, ..frame }.inset(0.0, 0.3);
    let mark = Type { face: Face::Bold, size_pt: 7.0, ink: Ink::Black };
    let small = Type { face: Face::Regular, size_pt: 5.4, ink: Ink::Black };
    let strong = Type { face: Face::Bold, ..small };
    let mut lines: Vec<(String, Type)> = Vec::new();
    let marks = wrap(&pocket.mark, mark, room.width_mm);
    let marks = if marks.len() > 1 { wrap(&pocket.mark, strong, room.width_mm) } else { marks };
    let look = if marks.len() > 1 { strong } else { mark };
    lines.extend(marks.into_iter().map(|line| (line, look)));
    lines.push((pocket.about.clone(), small));
    lines.extend((!pocket.partly.is_empty()).then(|| (pocket.partly.clone(), small)));
    lines.extend((!pocket.held.is_empty()).then(|| (pocket.held.clone(), strong)));
    let wanted: f64 = lines.iter().map(|(_, look)| look.leading_mm()).sum();
    let scale = (room.height_mm / wanted).min(1.0);
    let mut y = room.top_mm + (room.height_mm - wanted * scale) / 2.0;
    for (line, look) in lines {
        let look = look.sized(look.size_pt * scale);
        let row = Frame { top_mm: y, height_mm: look.leading_mm(), ..room };
        flow.words(&line, look, row, Side::Left);
        y += look.leading_mm();
    }
    if !pocket.held.is_empty() {
        let edge = Line::new(Ink::Black, 0.6);
        flow.mark(Mark::Box(frame.inset(0.3, 0.3), Look { fill: None, line: Some(edge) }));
    }
}
