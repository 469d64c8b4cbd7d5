//! The train diagram: the whole train from its left side, cut into strips that are large enough to be read.

use super::dress::{Dress, pointer, string_marks};
use super::flow::{Flow, Side, Type};
use super::matter::Matter;
use super::page::{Frame, Ink, Line, Mark, Spot};
use super::picture::{Mapping, picture_marks};
use crate::drawing::{Area, Picture, Point, side_band_mm, train_side};
use crate::model::Topic;
use crate::statics::{Figures, VehiclePlace};
use crate::units::{MM_PER_INCH, UnitSystem};

/// The longest part of the train in one strip, in m.
const STRIP_M: f64 = 125.0;
/// Height of the load that lets two strips stand on a page, and the thinnest and thickest lane for it, in mm.
const LOAD_MM: f64 = 72.0;
const LANE_MM: (f64, f64) = (2.0, 3.2);
/// The most height of the load in mm.
const MOST_LOAD_MM: f64 = 95.0;
/// Height of a load of which the tiers are not known, of the wagons, of the bars below the rail and of air, in mm.
const EMPTY_MM: f64 = 40.0;
const WAGON_MM: f64 = 7.5;
const AXLE_BARS_MM: f64 = 10.0;
const BOGIE_BARS_MM: f64 = 6.0;
const AIR_MM: f64 = 1.3;

/// Adds the part.
pub(super) fn diagram(flow: &mut Flow, matter: &Matter<'_>) {
    flow.part("Train diagram");
    if matter.figures.consist.vehicles.is_empty() {
        flow.paragraph("The train has no vehicles yet; add them in the editor.", Type::BODY);
        return;
    }
    flow.paragraph(
        "The train at departure from its left side, front end at the left. Within each tier the lanes are drawn one \
         above the other, lane 1 lowest, so that every string can be seen; lengths are to scale, heights are not. Below \
         the rail: axle loads and bogie loads as bars against their ratings (the tick); grey within, dark grey near, \
         black beyond.",
        Type::BODY,
    );
    if matter.plan().route.asked.contains(&Topic::Creep) {
        flow.paragraph("Thin lines at the ends of strings: how far each may creep on the way.", Type::BODY);
    }
    legend(flow, matter);
    let picture = train_side(matter.figures, 0, matter.style);
    for assumed in &picture.assumed {
        flow.paragraph(assumed, Type::NOTE);
    }
    let strips = Strips::of(matter.figures, &picture, flow.width_mm());
    for part in &strips.parts {
        strips.strip(flow, &picture, *part, matter.style.units);
    }
}

/// How strings are told apart.
pub(super) fn legend(flow: &mut Flow, matter: &Matter<'_>) {
    let drops =
        matter.plan().drops.iter().enumerate().map(|(at, drop)| (Some(at), format!("for {}", drop.name)));
    let stays = matter.figures.placed.iter().any(|placed| matter.drop_of(placed).is_none());
    let entries: Vec<_> = drops.chain(stays.then(|| (None, "for no site".to_owned()))).collect();
    let count = 4.0;
    for row in entries.chunks(count as usize) {
        let strip = flow.take(4.6);
        for (nth, (drop, words)) in row.iter().enumerate() {
            let width = strip.width_mm / count;
            let left = strip.left_mm + width * nth as f64;
            let swatch = Frame::new(left, strip.top_mm + 1.2, 9.0, 2.2);
            flow.draw(string_marks(swatch, Dress::of(*drop)));
            let room = Frame::new(left + 10.5, strip.top_mm, width - 12.0, strip.height_mm);
            flow.words(words, Type::NOTE, room, Side::Left);
        }
    }
    flow.gap(1.5);
}

struct Strips {
    /// From and to in mm along the train.
    parts: Vec<(f64, f64)>,
    /// mm of paper for each along the train.
    across: f64,
    /// Heights of the drawing from the top, with the paper down to the next.
    bands: Vec<(f64, f64)>,
    height_mm: f64,
}

impl Strips {
    fn of(figures: &Figures, picture: &Picture, width_mm: f64) -> Self {
        let parts = parts(&figures.consist.vehicles, picture.bounds);
        let longest = parts.iter().map(|(from, to)| to - from).fold(1.0, f64::max);
        let bands = bands(figures, picture.bounds);
        let height_mm = bands.iter().map(|(_, below)| below).sum();
        Self { parts, across: width_mm / longest, bands, height_mm }
    }

    fn strip(&self, flow: &mut Flow, picture: &Picture, (from, to): (f64, f64), units: UnitSystem) {
        const RULER_MM: f64 = 5.0;
        flow.gap(3.0);
        let room = flow.take(self.height_mm + RULER_MM);
        let window = Area::of(
            Point::new(from, self.bands.last().map_or(0.0, |(up, _)| *up)),
            Point::new(to, self.bands.first().map_or(0.0, |(up, _)| *up)),
        );
        let at = Spot::new(room.left_mm, room.top_mm + RULER_MM);
        let mapping = Mapping::banded(window, at, self.across, &self.bands);
        ruler(flow, &mapping, (from, to), (room.top_mm, units));
        flow.draw(picture_marks(picture, &mapping));
    }
}

/// Distances from the front end of the train, every 10 m or 50 ft.
fn ruler(flow: &mut Flow, mapping: &Mapping, (from, to): (f64, f64), (top_mm, units): (f64, UnitSystem)) {
    let (step_mm, number, sign) = match units {
        UnitSystem::Metric => (10_000.0, 10, "m"),
        UnitSystem::UsCustomary => (50.0 * 12.0 * MM_PER_INCH, 50, "ft"),
    };
    let y = top_mm + 4.0;
    let line = Line::new(Ink::Hair, 0.15);
    flow.mark(Mark::line(Spot::new(mapping.x(from), y), Spot::new(mapping.x(to), y), line));
    let (first, last) = ((from / step_mm).ceil() as i64, (to / step_mm).floor() as i64);
    for nth in first..=last {
        let x = mapping.x(nth as f64 * step_mm);
        flow.mark(Mark::line(Spot::new(x, y - 1.0), Spot::new(x, y), line));
        let room = Frame::new(x - 6.0, top_mm - 0.2, 12.0, 3.2);
        let inside = room.left_mm >= mapping.x(from) && room.right_mm() <= mapping.x(to) + 0.01;
        if inside || nth == 0 {
            let words = if nth == 0 { format!("0 {sign}") } else { format!("{}", nth * number) };
            let room = if inside { room } else { Frame { left_mm: x, ..room } };
            let side = if inside { Side::Middle } else { Side::Left };
            flow.words(&words, Type::NOTE.sized(5.6), room, side);
        }
    }
    if from <= 0.0 {
        flow.mark(pointer(Spot::new(mapping.x(from), y + 1.6), 1.8, -1.0, Ink::Black));
    }
}

/// The train cut between vehicles, each part as long as it may be.
fn parts(vehicles: &[VehiclePlace], bounds: Area) -> Vec<(f64, f64)> {
    let mut cuts = vec![bounds.least.across_mm];
    let mut last = None;
    for place in vehicles {
        let rear = place.rear.mm() as f64;
        let from = cuts.last().copied().unwrap_or_default();
        if let Some(before) = last.filter(|before| rear - from > STRIP_M * 1000.0 && *before > from) {
            cuts.push(before);
        }
        last = Some(rear);
    }
    cuts.push(bounds.most.across_mm);
    cuts.windows(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Heights of the drawing from the top, each with the paper down to the next: what is read gets room, what is
/// between it little.
pub(super) fn bands(figures: &Figures, bounds: Area) -> Vec<(f64, f64)> {
    let mut bands = load_bands(figures).unwrap_or_default();
    let deck = deck_mm(figures);
    if bands.is_empty() {
        bands.push((bounds.most.up_mm.max(deck + 1.0), EMPTY_MM));
    } else if let Some((top, _)) = bands.first().filter(|(top, _)| bounds.most.up_mm > *top + 1.0) {
        // Roofs and stops that stand higher than the load.
        bands.insert(0, ((*top).max(bounds.most.up_mm), AIR_MM));
    }
    bands.extend([(deck, WAGON_MM), (0.0, AIR_MM)]);
    bands.extend([(-300.0, AXLE_BARS_MM), (-2_450.0, AIR_MM), (-2_850.0, BOGIE_BARS_MM)]);
    bands.push((bounds.least.up_mm.min(-4_100.0), 0.0));
    bands
}

/// Tiers and what is between them, from the top; none where the racks of the train have other heights each.
fn load_bands(figures: &Figures) -> Option<Vec<(f64, f64)>> {
    let mut racks = figures.consist.racks.iter().map(|rack| rack.rack_type);
    let first = figures.plan.train.rack_types.get(racks.next()?)?;
    let heights = |kind: usize| figures.plan.train.rack_types.get(kind).map(|kind| &kind.tiers);
    let alike = racks.all(|kind| heights(kind) == Some(&first.tiers));
    let rack = figures
        .consist
        .racks
        .iter()
        .position(|rack| alike && rack.vehicle < figures.consist.vehicles.len())?;
    let lanes = first.lanes_y_mm.len();
    let lane_mm = (LOAD_MM / (lanes * first.tiers.len()) as f64).clamp(LANE_MM.0, LANE_MM.1);
    let mut bands: Vec<(f64, f64)> = Vec::new();
    for tier in (1..=u32::try_from(first.tiers.len()).ok()?).rev() {
        let (low, _) = side_band_mm(figures, rack, tier, 1)?;
        let (_, high) = side_band_mm(figures, rack, tier, u32::try_from(lanes).ok()?)?;
        bands.extend([(high, lane_mm * lanes as f64), (low, AIR_MM)]);
    }
    let load_mm: f64 = bands.iter().map(|(_, below)| below).sum();
    let scale = (MOST_LOAD_MM / load_mm).min(1.0);
    Some(bands.into_iter().map(|(up, below)| (up, below * scale)).collect())
}

/// The lowest deck under a rack in mm above the rail.
fn deck_mm(figures: &Figures) -> f64 {
    const USUAL_MM: f64 = 1_200.0;
    let decks = figures.consist.racks.iter().filter_map(|rack| {
        let place = figures.consist.vehicles.get(rack.vehicle)?;
        figures.plan.train.vehicle_types.get(place.vehicle_type)?.deck_height
    });
    decks.map(|height| height.mm() as f64).reduce(f64::min).unwrap_or(USUAL_MM)
}
