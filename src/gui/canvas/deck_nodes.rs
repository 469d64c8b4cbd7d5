//! What keyboard and screen reader find on the deck plan: vehicles, racks and strings, each with its name.

use super::marks::{brackets, lifted};
use super::paint::Paint;
use super::side::describe;
use super::side_nodes::{focus_ring, is_activated, key_mode, speak};
use super::{keys, lay};
use crate::drawing::{Area, Deck, Form, Picture, Thing};
use crate::gui::menus::{self, MenuOf};
use crate::gui::{Pane, Request, Role as Ink, Shown};
use crate::statics::PlacedString;
use egui::{Id, Painter, Pos2, Rect, Sense, Stroke, Ui, WidgetInfo, pos2};
use std::collections::BTreeMap;

/// What the deck plan shows in this frame.
pub(super) struct Scene<'a> {
    pub(super) shown: &'a Shown<'a>,
    pub(super) paint: &'a Paint<'a>,
    pub(super) deck: &'a Deck<'a>,
    /// The area of each thing: around all its shapes but words.
    areas: BTreeMap<Thing, Area>,
}

/// How far from a string in points the pointer still means it, where no other is nearer.
const SLOP_POINTS: f32 = 6.0;
/// How far from a rack in points the pointer still means it.
const RACK_POINTS: f32 = 4.0;

impl<'a> Scene<'a> {
    pub(super) fn new(
        shown: &'a Shown<'a>,
        picture: &Picture,
        paint: &'a Paint<'a>,
        deck: &'a Deck<'a>,
    ) -> Self {
        let mut areas: BTreeMap<Thing, Area> = BTreeMap::new();
        for shape in &picture.shapes {
            let (Some(thing), false) = (shape.thing, matches!(shape.form, Form::Text { .. })) else {
                continue;
            };
            let area = shape.form.bounds();
            areas.entry(thing).and_modify(|known| *known = known.around(area)).or_insert(area);
        }
        Self { shown, paint, deck, areas }
    }

    /// The strings that are shown.
    pub(super) fn strings(&self) -> impl Iterator<Item = &'a PlacedString> {
        let deck = self.deck;
        self.shown.figures.present(self.shown.state).filter(|placed| deck.shows(placed))
    }

    /// Around a thing on the screen, cut to the view; none where it cannot be seen.
    fn rect(&self, thing: Thing) -> Option<Rect> {
        let rect = self.paint.rect(*self.areas.get(&thing)?).intersect(self.paint.projection.rect);
        rect.is_positive().then_some(rect)
    }

    /// A string's band on the screen at a place of the train: its upper and lower edge.
    fn band_at(&self, placed: &PlacedString, x_mm: f64) -> (f32, f32) {
        let (low, high) = self.deck.band_mm(placed, x_mm);
        (self.paint.projection.y(high), self.paint.projection.y(low))
    }

    /// The string meant by a point of the screen.
    pub(super) fn string_at(&self, at: Pos2) -> Option<&'a PlacedString> {
        let projection = &self.paint.projection;
        let away = |placed: &PlacedString| {
            let (front, rear) = (placed.front.mm() as f64, placed.rear.mm() as f64);
            let (top, bottom) = self.band_at(placed, projection.x_mm(at.x).clamp(front, rear));
            let along = (projection.x(front) - at.x).max(at.x - projection.x(rear)).max(0.0);
            along.hypot((top - at.y).max(at.y - bottom).max(0.0))
        };
        let nearest = self.strings().map(|placed| (away(placed), placed)).min_by(|a, b| a.0.total_cmp(&b.0));
        nearest.filter(|(away, _)| *away <= SLOP_POINTS).map(|(_, placed)| placed)
    }

    /// What is under a point of the screen: a string, else a rack or a wheel's load, else a vehicle.
    pub(super) fn thing_at(&self, at: Pos2) -> Option<Thing> {
        if let Some(placed) = self.string_at(at) {
            return Some(Thing::String(placed.string));
        }
        let of = |wanted: fn(&Thing) -> bool, slop: f32| {
            let mut things = self.areas.keys().copied().filter(wanted);
            things.find(|thing| {
                self.rect(*thing).is_some_and(|rect| rect.expand2([slop, 0.0].into()).contains(at))
            })
        };
        of(|thing| matches!(thing, Thing::Rack(_)), RACK_POINTS)
            // The loads of both wheels of an axle lie on both sides of the train, not across it.
            .or_else(|| self.body_at(at))
            .or_else(|| of(|thing| matches!(thing, Thing::Axle { .. }), 1.0))
    }

    fn body_at(&self, at: Pos2) -> Option<Thing> {
        let x_mm = self.paint.projection.x_mm(at.x);
        let vehicle = self.shown.figures.consist.vehicle_at(x_mm / 1000.0)?;
        let thing = Thing::Vehicle(vehicle);
        self.rect(thing).is_some_and(|rect| rect.contains(at)).then_some(thing)
    }

    /// The strings that a rubber band touches.
    pub(super) fn strings_in(&self, band: Rect) -> Vec<crate::model::StringMark> {
        let projection = &self.paint.projection;
        let touched = self.strings().filter(|placed| {
            let (front, rear) = (placed.front.mm() as f64, placed.rear.mm() as f64);
            let (left, right) =
                (projection.x_mm(band.left()).max(front), projection.x_mm(band.right()).min(rear));
            // A band is even enough to be looked at in a few places.
            left <= right
                && (0..=8).any(|part| {
                    let (top, bottom) = self.band_at(placed, left + (right - left) * f64::from(part) / 8.0);
                    top <= band.bottom() && bottom >= band.top()
                })
        });
        let order = &self.shown.plan.order;
        touched.filter_map(|placed| order.get(placed.string)).map(|string| string.mark.clone()).collect()
    }
}

/// The node of a string.
pub(super) fn string_id(ui: &Ui, mark: &str) -> Id {
    ui.scope_id().with(("string in the deck plan", mark))
}

/// Makes nodes for everything that can be seen: vehicles, racks, strings.
pub(super) fn nodes_ui(ui: &Ui, scene: &Scene<'_>, requests: &mut Vec<Request>) {
    vehicles_ui(ui, scene, requests);
    racks_ui(ui, scene, requests);
    strings_ui(ui, scene, requests);
}

fn vehicles_ui(ui: &Ui, scene: &Scene<'_>, requests: &mut Vec<Request>) {
    let shown = scene.shown;
    for (at, vehicle) in shown.plan.train.vehicles.iter().enumerate() {
        let Some(rect) = scene.rect(Thing::Vehicle(at)) else { continue };
        let id = ui.scope_id().with(("vehicle in the deck plan", vehicle.mark.as_str()));
        let response = ui.interact(rect, id, Sense::click());
        let selected = shown.selection.vehicle == Some(at);
        response.widget_info(|| {
            let label = format!("vehicle {} in the deck plan", vehicle.mark);
            WidgetInfo::selected(egui::Role::Button, true, selected, label)
        });
        speak(ui, &response, Thing::Vehicle(at), shown);
        focus_ring(ui, &response, shown);
        if is_activated(&response) {
            requests.push(Request::SelectVehicle((!selected).then_some(at)));
        }
        menus::ask(&response, || MenuOf::Vehicle(at), requests);
        if response.has_focus() {
            keys::on_vehicle(ui, at, requests);
        }
    }
}

fn racks_ui(ui: &Ui, scene: &Scene<'_>, requests: &mut Vec<Request>) {
    let shown = scene.shown;
    for rack in 0..shown.figures.consist.racks.len() {
        let Some(rect) = scene.rect(Thing::Rack(rack)) else { continue };
        let words = lay::rack_words(shown.plan, &shown.figures.consist, rack);
        let id = ui.scope_id().with(("rack in the deck plan", words.as_str()));
        let response = ui.interact(rect, id, Sense::click());
        let selected = shown.selection.rack == rack;
        response.widget_info(|| {
            WidgetInfo::selected(egui::Role::Button, true, selected, format!("{words} in the deck plan"))
        });
        speak(ui, &response, Thing::Rack(rack), shown);
        focus_ring(ui, &response, shown);
        if is_activated(&response) {
            requests.push(Request::ShowRack(rack));
        }
        menus::ask(&response, || MenuOf::Rack(rack), requests);
    }
}

fn strings_ui(ui: &Ui, scene: &Scene<'_>, requests: &mut Vec<Request>) {
    let shown = scene.shown;
    let order = &shown.plan.order;
    let is_selected = |placed: &&PlacedString| {
        order.get(placed.string).is_some_and(|string| shown.selection.strings.contains(&string.mark))
    };
    let any_selected = scene.strings().any(|placed| is_selected(&placed));
    let mut focus = shown.focus == Some(Pane::DeckPlan);
    for placed in scene.strings() {
        let Some(string) = order.get(placed.string) else { continue };
        let Some(rect) = scene.rect(Thing::String(placed.string)) else { continue };
        let mark = &string.mark;
        let response = ui.interact(rect, string_id(ui, mark.as_str()), Sense::click());
        let selected = is_selected(&placed);
        response.widget_info(|| {
            let label = format!("string {mark} in the deck plan");
            WidgetInfo::selected(egui::Role::Button, true, selected, label)
        });
        speak(ui, &response, Thing::String(placed.string), shown);
        if focus && (selected || !any_selected) {
            focus = false;
            response.request_focus();
        }
        focus_ring(ui, &response, shown);
        menus::ask(&response, || MenuOf::String(mark.clone()), requests);
        if response.has_focus() {
            keys::keep_arrows(&response);
            keys::to_catch(ui, shown, mark, requests);
            keys::nudge(shown, mark, keys::deck_shift(ui), requests);
            keys::take_off(ui, shown, mark, requests);
        }
        if is_activated(&response) {
            requests.push(Request::Select { strings: vec![mark.clone()], mode: key_mode(ui) });
        }
    }
}

/// Signs that no colour carries: brackets around locked strings, an open triangle where a string lifts off a rack.
pub(super) fn signs(painter: &Painter, scene: &Scene<'_>) {
    let (shown, projection) = (scene.shown, &scene.paint.projection);
    let mut shapes = Vec::new();
    for placed in scene.strings() {
        let (front, rear) = (placed.front.mm() as f64, placed.rear.mm() as f64);
        if shown.plan.placements.get(placed.placement).is_some_and(|placement| placement.locked) {
            let (top, bottom) = scene.band_at(placed, front);
            let rect = Rect::from_x_y_ranges(projection.x(front)..=projection.x(rear), top..=bottom);
            let stroke = Stroke::new(1.5, shown.theme.color(Ink::Text));
            brackets(rect, projection.rect, stroke, &mut shapes);
        }
        let stroke = Stroke::new(1.5, shown.theme.color(Ink::Note));
        for rack in lifted(placed) {
            let Some(place) = shown.figures.consist.racks.get(rack) else { continue };
            let x_mm = place.x.mm() as f64;
            let (x, y) = (projection.x(x_mm), scene.band_at(placed, x_mm).0);
            let points = vec![pos2(x - 4.0, y), pos2(x + 4.0, y), pos2(x, y - 6.0)];
            shapes.push(egui::Shape::closed_line(points, stroke));
        }
    }
    painter.extend(shapes);
}

/// What a thing is called on hovering: a string near one of its ends tells of that end.
pub(super) fn words_at(scene: &Scene<'_>, at: Pos2) -> Option<String> {
    const NEAR_POINTS: f32 = 7.0;
    let projection = &scene.paint.projection;
    let mut thing = scene.thing_at(at)?;
    if let (Thing::String(string), Some(placed)) = (thing, scene.string_at(at)) {
        use crate::model::TrainEnd::{Front, Rear};
        let ends = [(Front, placed.front), (Rear, placed.rear)];
        let near = |x: f64| (projection.x(x) - at.x).abs() <= NEAR_POINTS;
        if let Some((end, _)) = ends.into_iter().find(|(_, x)| near(x.mm() as f64)) {
            thing = Thing::StringEnd(string, end);
        }
    }
    let mut words = describe(thing, scene.shown);
    if let (Thing::StringEnd(_, end), Some(placed)) = (thing, scene.string_at(at)) {
        words.push_str(&scene.deck.swing_words(placed, end, scene.shown.style));
    }
    Some(words)
}
