//! Strings on a deck plan: their parts, ends and holds, how far their ends may creep and how far they swing.

use super::{Deck, band_outline, places_mm};
use crate::drawing::bars::label;
use crate::drawing::creep::{creep_range_mm, end_creep};
use crate::drawing::train_side::rack_index;
use crate::drawing::vehicles::mm;
use crate::drawing::{Area, Form, Point, Role, Shape, TextSize, Thing};
use crate::model::TrainEnd;
use crate::statics::PlacedString;
use crate::units::{Quantity, Style};

const HOLD_REACH_MM: f64 = 260.0;
/// Share of the string's width that its creep range takes.
const CREEP_SHARE: f64 = 0.36;
/// Most distance between two places of a string on a curve.
const STEP_MM: f64 = 1_800.0;
/// Room beside an end for the figure of its swing, along the train.
const SWING_ROOM_MM: f64 = 3_500.0;
/// Swings smaller than this are not drawn.
const LEAST_SWING_MM: f64 = 1.0;

impl Deck<'_> {
    /// The string between its racks and beyond, its ends, its holds and its mark.
    pub(super) fn string_shapes(&self, shapes: &mut Vec<Shape>, placed: &PlacedString) {
        let plan = &self.figures.plan;
        let (Some(string), Some(placement)) =
            (plan.order.get(placed.string), plan.placements.get(placed.placement))
        else {
            return;
        };
        let thing = Some(Thing::String(placed.string));
        let drop =
            string.drop.as_ref().and_then(|name| plan.drops.iter().position(|drop| drop.name == *name));
        let (front, rear) = (mm(placed.front), mm(placed.rear));
        let racks = self.figures.consist.racks.get(placed.racks.clone()).unwrap_or_default();
        let mut part = |from: f64, to: f64, role| {
            if to > from {
                shapes.push(Shape { form: self.along(placed, (from, to), 1.0), role, thing });
            }
        };
        match (racks.first(), racks.last(), &placed.beam) {
            (Some(first), Some(last), Ok(_)) => {
                part(front, mm(first.x), Role::Overhang(drop));
                part(mm(first.x), mm(last.x), Role::String(drop));
                part(mm(last.x), rear, Role::Overhang(drop));
            }
            _ => part(front, rear, Role::StringInTrouble),
        }
        for (x, end) in [(front, TrainEnd::Front), (rear, TrainEnd::Rear)] {
            let thing = Some(Thing::StringEnd(placed.string, end));
            shapes.push(Shape { form: self.across(placed, x), role: Role::StringEnd, thing });
        }
        for rack in placement.holds.iter().filter_map(|hold| rack_index(self.figures, hold)) {
            let Some(place) = self.figures.consist.racks.get(rack) else { continue };
            let across = (mm(place.x) - HOLD_REACH_MM, mm(place.x) + HOLD_REACH_MM);
            let form = Form::Box(Area::spanning(across, self.band_mm(placed, mm(place.x))));
            let thing = Some(Thing::Hold { string: placed.string, rack });
            shapes.push(Shape { form, role: Role::Hold, thing });
        }
        let room = Area::spanning((front, rear), self.band_mm(placed, f64::midpoint(front, rear)));
        shapes.push(label(string.mark.to_string(), room, (Role::Label, TextSize::Normal), thing));
    }

    /// How far each end may creep: a narrow band along the string with a mark at each of its limits.
    pub(super) fn creep_shapes(&self, shapes: &mut Vec<Shape>, placed: &PlacedString) {
        let Some(ends) = end_creep(self.figures, placed) else { return };
        for creep in ends {
            let range = creep_range_mm(placed, creep);
            let thing = Some(Thing::StringEnd(placed.string, creep.end));
            let form = self.along(placed, range, CREEP_SHARE);
            shapes.push(Shape { form, role: Role::CreepRange, thing });
            for x in [range.0, range.1] {
                shapes.push(Shape { form: self.across(placed, x), role: Role::CreepRange, thing });
            }
        }
    }

    /// How far each end swings in the curve: from its lane over the deck under it to its tip, with the figure.
    pub(super) fn swing_shapes(&self, shapes: &mut Vec<Shape>, placed: &PlacedString, style: Style) {
        if self.is_straight() {
            return;
        }
        for (end, x, outward) in
            [(TrainEnd::Front, mm(placed.front), -1.0), (TrainEnd::Rear, mm(placed.rear), 1.0)]
        {
            let Some(swing) = self.laid.swing(placed, end) else { continue };
            let swing_mm = swing.from_deck_m * 1000.0;
            if swing_mm.abs() < LEAST_SWING_MM {
                continue;
            }
            let (low, high) = self.band_mm(placed, x);
            let tip = f64::midpoint(low, high);
            let thing = Some(Thing::StringEnd(placed.string, end));
            let form = Form::Line(Point::new(x, tip - swing_mm), Point::new(x, tip));
            shapes.push(Shape { form, role: Role::Swing, thing });
            let side = if swing_mm > 0.0 { "right" } else { "left" };
            let size = Quantity::small_length_m(swing_mm.abs() / 1000.0).show(style);
            let room = Area::spanning((x, x + outward * SWING_ROOM_MM), (low, high));
            let words = format!("{size} {side}");
            shapes.push(label(words, room, (Role::Figure, TextSize::Small), thing));
        }
    }

    /// How far an end of a string swings, such as `; on this curve 182 mm to the right over the deck, 40 mm to the
    /// left over the track`; empty on the straight and where it cannot be said.
    pub fn swing_words(&self, placed: &PlacedString, end: TrainEnd, style: Style) -> String {
        let Some(swing) = self.laid.swing(placed, end).filter(|_| !self.is_straight()) else {
            return String::new();
        };
        let words = |m: f64| {
            let side = if m > 0.0 { "right" } else { "left" };
            format!("{} to the {side}", Quantity::small_length_m(m.abs()).show(style))
        };
        let (deck, track) = (words(swing.from_deck_m), words(swing.from_track_m));
        format!("; on this curve {deck} of its lane over the deck, {track} of it over the track")
    }

    /// The string from one place to another, `share` of its width.
    fn along(&self, placed: &PlacedString, (from, to): (f64, f64), share: f64) -> Form {
        let edges_at = |x: f64| {
            let (low, high) = self.band_mm(placed, x);
            let (middle, half) = (f64::midpoint(low, high), (high - low) * share / 2.0);
            (middle - half, middle + half)
        };
        let even = placed.y_m.windows(2).all(|pair| pair.first() == pair.last());
        if placed.y_m.is_empty() || (self.is_straight() && even) {
            return Form::Box(Area::spanning((from, to), edges_at(from)));
        }
        let racks = self.figures.consist.racks.get(placed.racks.clone()).unwrap_or_default();
        let edges: Vec<_> = places_mm(from, to, racks.iter().map(|rack| mm(rack.x)), STEP_MM)
            .into_iter()
            .map(|x| {
                let (low, high) = edges_at(x);
                (x, low, high)
            })
            .collect();
        Form::Outline(band_outline(&edges))
    }

    /// A line across the string.
    fn across(&self, placed: &PlacedString, x: f64) -> Form {
        let (low, high) = self.band_mm(placed, x);
        Form::Line(Point::new(x, low), Point::new(x, high))
    }
}
