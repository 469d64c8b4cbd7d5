//! The cross-section at a rack.

mod below;
mod centres;
mod gauge;
#[cfg(test)]
mod tests;

pub use centres::{Centre, CentreOf, centres};

use super::bars::label;
use super::heights::{assumed_decks, deck_mm, rack_top_mm, tier_mm};
use super::{Anchor, Area, Form, Picture, Point, Role, Shape, TextSize, Thing, section_outline};
use crate::checks::Subject;
use crate::model::RackType;
use crate::statics::{Figures, RackPlace, StateFigures};
use crate::units::Style;

// Sizes of what is only indicated: no plan enters them.
const BODY_DEPTH_MM: f64 = 350.0;
const WHEEL_MM: (f64, f64) = (130.0, 920.0);
const POST_MM: f64 = 80.0;
const MARGIN_MM: f64 = 100.0;
/// Above the rack, what is left to the reference line, and the rack's name.
const LEFT_MM: f64 = 120.0;
const TITLE_MM: f64 = 300.0;
/// How wide a pocket is drawn whose width is not entered, as a share of the least lane distance.
const POCKET_SHARE: f64 = 0.8;
/// How wide a pocket of a rack with one lane is drawn whose width is not entered.
const LONE_POCKET_MM: f64 = 200.0;
/// The rack (an index into the consist) in a state, looking toward the front end of the train.
///
/// Across is y, so right is right as one faces the front; up is height above the rail; true in both. Pockets
/// are things to drop upon. Sections are schematic ([`section_outline`]). The centre of gravity of the wagon with
/// its load is a circle, that of its load alone a diamond. A reference line that the plan has is drawn as on the
/// straight, with what reaches beyond it once play, throw and lean are added, and the least that is left in words.
/// Below the rail: left and right wheel loads of the nearer support under the worse assumption, and the rack's
/// load against its rating. Empty where there is no such rack.
pub fn rack_face(figures: &Figures, state: usize, rack: usize, style: Style) -> Picture {
    let place = figures.consist.racks.get(rack);
    let kind = place.and_then(|place| figures.plan.train.rack_types.get(place.rack_type));
    let (Some(place), Some(rack_type)) = (place, kind) else { return Picture::of(Vec::new()) };
    let face = Face { figures, rack, place, rack_type, deck_mm: deck_mm(figures, place.vehicle) };
    let loads = figures.state(state);
    let mut shapes = Vec::new();
    face.frame_shapes(&mut shapes, loads);
    face.pocket_shapes(&mut shapes, state);
    face.string_shapes(&mut shapes, state);
    face.gauge_shapes(&mut shapes, state, style);
    face.centre_shapes(&mut shapes, state);
    if let Some(loads) = loads {
        face.balance_shapes(&mut shapes, (state, loads), style);
        face.load_shapes(&mut shapes, loads, style);
    }
    face.title_shape(&mut shapes);
    let mut picture = Picture::of(shapes);
    picture.assumed = assumed_decks(figures, style);
    picture.assumed.extend(face.assumed());
    picture
}

struct Face<'f> {
    figures: &'f Figures,
    rack: usize,
    place: &'f RackPlace,
    rack_type: &'f RackType,
    deck_mm: f64,
}

impl Face<'_> {
    /// Track, wheels, deck, posts and seats.
    fn frame_shapes(&self, shapes: &mut Vec<Shape>, loads: Option<&StateFigures>) {
        let half = self.half_width_mm();
        let vehicle = Some(Thing::Vehicle(self.place.vehicle));
        let mut push = |form, role, thing| shapes.push(Shape { form, role, thing });
        push(Form::Line(Point::new(-half, 0.0), Point::new(half, 0.0)), Role::Rail, None);
        let contact = self.figures.consist.vehicles.get(self.place.vehicle).map(|place| place.contact_m);
        for side in [-1.0, 1.0] {
            let middle = side * contact.unwrap_or_default() * 500.0;
            let across = (middle - WHEEL_MM.0 / 2.0, middle + WHEEL_MM.0 / 2.0);
            push(Form::Box(Area::spanning(across, (0.0, WHEEL_MM.1))), Role::Wheel, vehicle);
        }
        let deck = Area::spanning((-half, half), (self.deck_mm - BODY_DEPTH_MM, self.deck_mm));
        push(Form::Box(deck), Role::WagonBody, vehicle);
        let carries = loads.is_some_and(|loads| loads.rack_kg(self.rack) > 0.0);
        let role = if carries { Role::RackCarrying } else { Role::Rack };
        let up = (self.deck_mm, self.deck_mm + rack_top_mm(self.rack_type));
        let thing = Some(Thing::Rack(self.rack));
        for (from, to) in [(-half, -half + POST_MM), (half - POST_MM, half)] {
            push(Form::Box(Area::spanning((from, to), up)), role, thing);
        }
        for (tier, _) in (1..).zip(&self.rack_type.tiers) {
            let Some((seat, _)) = tier_mm(self.rack_type, tier) else { continue };
            let up = self.deck_mm + seat;
            push(Form::Line(Point::new(-half, up), Point::new(half, up)), Role::Seat, thing);
        }
        let top = Point::new(0.0, self.deck_mm + rack_top_mm(self.rack_type));
        push(Form::Line(Point::new(0.0, 0.0), top), Role::CentreLine, None);
    }

    fn pocket_shapes(&self, shapes: &mut Vec<Shape>, state: usize) {
        for (tier, _) in (1..).zip(&self.rack_type.tiers) {
            for (lane, _) in (1..).zip(&self.place.lanes_y_m) {
                let Some(area) = self.pocket(tier, lane) else { continue };
                let taken = self.strings(state).any(|(_, pocket, _)| pocket == (tier, lane));
                let role = if taken { Role::PocketTaken } else { Role::PocketEmpty };
                let thing = Some(Thing::Pocket { rack: self.rack, tier, lane });
                shapes.push(Shape { form: Form::Frame(area), role, thing });
            }
        }
    }

    fn string_shapes(&self, shapes: &mut Vec<Shape>, state: usize) {
        let plan = &self.figures.plan;
        for (string, (tier, lane), section) in self.strings(state) {
            let (Some(pocket), Some(ordered)) = (self.pocket(tier, lane), plan.order.get(string)) else {
                continue;
            };
            let (across, up) = (pocket.middle().across_mm, pocket.least.up_mm);
            let outline = plan.sections.get(section).and_then(section_outline);
            let form = match outline {
                Some(points) => Form::Outline(
                    points.iter().map(|at| Point::new(at.across_mm + across, at.up_mm + up)).collect(),
                ),
                // Not known well enough to be drawn: a plain block says that something is there.
                None => Form::Box(Area::spanning(
                    (across - pocket.width_mm() / 4.0, across + pocket.width_mm() / 4.0),
                    (up, up + pocket.height_mm() / 2.0),
                )),
            };
            let drop = ordered.drop.as_ref();
            let drop = drop.and_then(|name| plan.drops.iter().position(|drop| drop.name == *name));
            let thing = Some(Thing::String(string));
            shapes.push(Shape { form, role: Role::String(drop), thing });
            shapes.push(label(ordered.mark.to_string(), pocket, (Role::Label, TextSize::Small), thing));
        }
    }

    fn title_shape(&self, shapes: &mut Vec<Shape>) {
        let at = Point::new(0.0, self.top_mm() + TITLE_MM);
        let words = Subject::Rack(self.rack).place(self.figures);
        let form = Form::Text { at, anchor: Anchor::Middle, words, size: TextSize::Large, room: None };
        shapes.push(Shape { form, role: Role::Label, thing: Some(Thing::Rack(self.rack)) });
    }

    /// Strings that cross the rack in a pocket that it has: order index, pocket, section index.
    fn strings(&self, state: usize) -> impl Iterator<Item = (usize, (u32, u32), usize)> {
        let crossing = self.figures.present(state).filter(|placed| placed.racks.contains(&self.rack));
        crossing.filter_map(|placed| {
            let placement = self.figures.plan.placements.get(placed.placement)?;
            Some((placed.string, (placement.tier, placement.lane), placed.section))
        })
    }

    fn pocket(&self, tier: u32, lane: u32) -> Option<Area> {
        let y_mm = self.place.lanes_y_m.get((lane as usize).checked_sub(1)?)? * 1000.0;
        let (bottom, top) = tier_mm(self.rack_type, tier)?;
        let half = self.pocket_width_mm() / 2.0;
        Some(Area::spanning((y_mm - half, y_mm + half), (self.deck_mm + bottom, self.deck_mm + top)))
    }

    fn pocket_width_mm(&self) -> f64 {
        let lanes = &self.rack_type.lanes_y_mm;
        let gaps = lanes.windows(2).filter_map(|pair| Some(pair.last()? - pair.first()?));
        let least = gaps.min_by(f64::total_cmp).map(|gap| gap * POCKET_SHARE);
        self.rack_type.pocket_width_mm.or(least).unwrap_or(LONE_POCKET_MM)
    }

    /// Top of the rack above the rail.
    fn top_mm(&self) -> f64 {
        self.deck_mm + rack_top_mm(self.rack_type)
    }

    fn half_width_mm(&self) -> f64 {
        let outermost = self.rack_type.lanes_y_mm.iter().map(|y| y.abs()).fold(0.0, f64::max);
        outermost + self.pocket_width_mm() / 2.0 + POST_MM + MARGIN_MM
    }

    fn assumed(&self) -> Vec<String> {
        let name = &self.rack_type.name;
        let mut assumed = Vec::new();
        if self.rack_type.pocket_width_mm.is_none() {
            assumed.push(format!("The pocket width of {name} is not entered; pockets are only indicated."));
        }
        if self.rack_type.tiers.iter().any(|tier| tier.clear_mm.is_none()) {
            assumed.push(format!("A clear height of {name} is not entered; its pockets are only indicated."));
        }
        assumed
    }
}
