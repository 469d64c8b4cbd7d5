//! The pockets of a loading card: tiers and lanes as one sees them facing the front.

use super::dress::{Dress, string_marks};
use super::face::Face;
use super::flow::{Flow, Side, Type};
use super::page::{Frame, Ink, Line, Look, Mark};
use super::wording::{shortened, wrap};

/// Height of the row that names the lanes, of a tier in which nothing lies, and of the fullest, in mm.
const LANES_MM: f64 = 4.0;
const EMPTY_MM: f64 = 5.0;
const FULLEST_MM: f64 = 42.0;
/// Width of the column that names the tiers, and the widest pocket, in mm.
const TIERS_MM: f64 = 11.0;
const WIDEST_MM: f64 = 24.0;
/// Width of the swatch at a pocket's left edge that tells the site, and what else is free beside words, in mm.
const SWATCH_MM: f64 = 1.7;
const BESIDE_MM: f64 = 0.9;
/// Free above and below the words of a string in mm.
const AROUND_MM: f64 = 1.0;

const MARK: Type = Type { face: Face::Bold, size_pt: 7.0, ink: Ink::Black };
const SMALL: Type = Type { face: Face::Regular, size_pt: 5.4, ink: Ink::Black };
const STRONG: Type = Type { face: Face::Bold, ..SMALL };

/// What lies in a pocket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Pocket {
    pub(super) tier: u32,
    pub(super) lane: u32,
    pub(super) drop: Option<usize>,
    /// The string's mark.
    pub(super) mark: String,
    /// Its section.
    pub(super) section: String,
    /// Its length.
    pub(super) length: String,
    /// At which racks of the group it lies; empty: at all.
    pub(super) partly: String,
    /// Where in the group it is held; empty: not here.
    pub(super) held: String,
}

/// The pockets of a card, laid out in a width.
pub(super) struct CardPlan<'p> {
    pockets: &'p [Pocket],
    lanes: usize,
    /// Width of a pocket in mm.
    width_mm: f64,
    /// Heights of the tiers in mm, from the bottom.
    tiers_mm: Vec<f64>,
}

impl<'p> CardPlan<'p> {
    /// Lays out `pockets`, in the order of tier and lane, of racks of `size` (tiers, lanes).
    pub(super) fn new(pockets: &'p [Pocket], (tiers, lanes): (usize, usize), room_mm: f64) -> Self {
        let width_mm = ((room_mm - TIERS_MM) / lanes.max(1) as f64).min(WIDEST_MM);
        let tier_mm = |tier: usize| {
            let here: Vec<&Pocket> = pockets.iter().filter(|pocket| pocket.tier as usize == tier).collect();
            let shared = here.chunk_by(|a, b| a.lane == b.lane);
            let heights = shared.map(|shared| shared.iter().map(|one| one.height_mm(width_mm)).sum::<f64>());
            heights.reduce(f64::max).map_or(EMPTY_MM, |mm| mm.min(FULLEST_MM))
        };
        Self { pockets, lanes, width_mm, tiers_mm: (1..=tiers).map(tier_mm).collect() }
    }

    /// Its height in mm.
    pub(super) fn height_mm(&self) -> f64 {
        LANES_MM + self.tiers_mm.iter().sum::<f64>() + 1.0
    }

    /// Draws it.
    pub(super) fn draw(&self, flow: &mut Flow, room: Frame) {
        let left = |lane: usize| room.left_mm + TIERS_MM + self.width_mm * (lane - 1) as f64;
        for lane in 1..=self.lanes {
            let words = match lane {
                1 if self.lanes > 1 => "lane 1, left".to_owned(),
                last if last == self.lanes && self.lanes > 1 => format!("{last}, right"),
                lane => lane.to_string(),
            };
            let head = Frame::new(left(lane), room.top_mm, self.width_mm, LANES_MM);
            flow.words(&words, Type::NOTE.sized(6.2), head.inset(0.3, 0.0), Side::Middle);
        }
        let mut top_mm = room.top_mm + LANES_MM;
        for (nth, height_mm) in self.tiers_mm.iter().enumerate().rev() {
            let tier = nth + 1;
            let head = Frame::new(room.left_mm, top_mm, TIERS_MM, *height_mm);
            flow.words(&format!("tier {tier}"), Type::STRONG.sized(7.0), head.inset(0.5, 0.0), Side::Left);
            for lane in 1..=self.lanes {
                self.pocket(flow, (tier, lane), Frame::new(left(lane), top_mm, self.width_mm, *height_mm));
            }
            top_mm += height_mm;
        }
    }

    /// Strings that share a pocket one behind the other stand below each other, the foremost at the top.
    fn pocket(&self, flow: &mut Flow, (tier, lane): (usize, usize), frame: Frame) {
        let here: Vec<&Pocket> =
            self.pockets.iter().filter(|p| (p.tier as usize, p.lane as usize) == (tier, lane)).collect();
        if here.is_empty() {
            flow.mark(Mark::Box(frame, Look::line(Ink::Hair, 0.12)));
            return;
        }
        let height_mm = frame.height_mm / here.len() as f64;
        for (nth, pocket) in here.iter().enumerate() {
            let part = Frame { top_mm: frame.top_mm + height_mm * nth as f64, height_mm, ..frame };
            taken(flow, pocket, part);
        }
        flow.mark(Mark::Box(frame, Look::line(Ink::Black, 0.3)));
    }
}

impl Pocket {
    /// What stands in it, in a pocket so wide; a mark that is too long keeps its beginning and its end.
    fn lines(&self, width_mm: f64) -> Vec<(String, Type)> {
        let width_mm = width_mm - SWATCH_MM - BESIDE_MM;
        let mut lines = vec![match MARK.width_mm(&self.mark) <= width_mm {
            true => (self.mark.clone(), MARK),
            false => (shortened(&self.mark, STRONG, width_mm), STRONG),
        }];
        let small = |words: &String| (!words.is_empty()).then(|| (words.clone(), SMALL));
        let together = format!("{} · {}", self.section, self.length);
        if SMALL.width_mm(&together) <= width_mm {
            lines.push((together, SMALL));
        } else {
            lines.extend([small(&self.section), small(&self.length)].into_iter().flatten());
        }
        lines.extend(small(&self.partly));
        if !self.held.is_empty() {
            lines.extend(wrap(&self.held, STRONG, width_mm).into_iter().map(|line| (line, STRONG)));
        }
        lines
    }

    fn height_mm(&self, width_mm: f64) -> f64 {
        self.lines(width_mm).iter().map(|(_, look)| look.leading_mm()).sum::<f64>() + AROUND_MM
    }
}

fn taken(flow: &mut Flow, pocket: &Pocket, frame: Frame) {
    flow.draw(string_marks(Frame { width_mm: SWATCH_MM, ..frame }, Dress::of(pocket.drop)));
    flow.mark(Mark::Box(frame, Look::line(Ink::Soft, 0.12)));
    let left_mm = frame.left_mm + SWATCH_MM + BESIDE_MM / 2.0;
    let room = Frame { left_mm, width_mm: frame.width_mm - SWATCH_MM - BESIDE_MM, ..frame };
    let room = room.inset(0.0, AROUND_MM / 2.0);
    let lines = pocket.lines(frame.width_mm);
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
