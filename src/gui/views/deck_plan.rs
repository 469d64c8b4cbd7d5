//! The deck plan: the train seen from above, the tiers and the track to choose over it.

use crate::drawing::{DeckLook, Tiers, Track};
use crate::gui::canvas::Canvas;
use crate::gui::fields::{Spec, quantity_ui};
use crate::gui::{Request, Role, Shown};
use crate::model::TrackSide;
use crate::units::{Quantity, QuantityKind};
use egui::{Frame, Key, Label, Margin, Modifiers, Panel, RichText, Ui};

/// The radius that is laid first where the route has no curve, in m: only to look at, nothing is judged by it.
const FIRST_RADIUS_M: f64 = 190.0;
/// Radii that may be typed, in m: a string would need no less, and beyond it the track is straight.
const RADII_M: std::ops::RangeInclusive<f64> = 20.0..=100_000.0;
/// The keys of all tiers and of single ones.
const TIER_KEYS: [Key; 10] = [
    Key::Num0,
    Key::Num1,
    Key::Num2,
    Key::Num3,
    Key::Num4,
    Key::Num5,
    Key::Num6,
    Key::Num7,
    Key::Num8,
    Key::Num9,
];

/// The view's own state.
#[derive(Debug, Default)]
pub(in crate::gui) struct DeckPlan {
    tiers: Tiers,
    /// Whether a curve is laid.
    curved: bool,
    /// The radius typed, in m; none: the route's tightest.
    radius_m: Option<f64>,
    inside: Option<TrackSide>,
}

impl DeckPlan {
    /// Draws the view into all of `ui`.
    pub(in crate::gui) fn ui(
        &mut self,
        ui: &mut Ui,
        shown: &Shown<'_>,
        canvas: &mut Canvas,
        requests: &mut Vec<Request>,
    ) {
        let count = tier_count(shown);
        self.keys(ui, count);
        if let (Tiers::Only(tier), Some(wanted)) = (self.tiers, canvas.wanted_tier(shown.plan))
            && tier != wanted
        {
            self.tiers = Tiers::Only(wanted);
        }
        if matches!(self.tiers, Tiers::Only(tier) if tier > count) {
            self.tiers = Tiers::All;
        }
        let head = Frame::new().fill(shown.theme.color(Role::Panel)).inner_margin(Margin::symmetric(6, 2));
        Panel::top("deck plan head").frame(head).show(ui, |ui| {
            ui.horizontal(|ui| {
                self.tiers_ui(ui, count);
                ui.separator();
                self.track_ui(ui, shown);
                if !self.curved {
                    ui.add(
                        Label::new(RichText::new("front end at the left, seen from above").weak()).truncate(),
                    );
                }
            });
        });
        let look = DeckLook { tiers: self.tiers, track: self.track(shown) };
        let ground = Frame::new().fill(shown.theme.color(Role::Canvas));
        egui::CentralPanel::no_frame().frame(ground).show(ui, |ui| {
            canvas.deck_plan_ui(ui, shown, look, requests);
        });
    }

    fn keys(&mut self, ui: &Ui, count: u32) {
        if ui.ctx().text_edit_focused() {
            return;
        }
        let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        for (tier, key) in (0..=count).zip(TIER_KEYS) {
            if pressed(key) {
                self.tiers = if tier == 0 { Tiers::All } else { Tiers::Only(tier) };
            }
        }
        if pressed(Key::C) {
            self.curved = !self.curved;
        }
    }

    fn tiers_ui(&mut self, ui: &mut Ui, count: u32) {
        let mut choice = |ui: &mut Ui, tiers: Tiers, words: &str, hover: &str| {
            let button = ui.selectable_label(self.tiers == tiers, words).on_hover_text(hover);
            let name = format!("show {hover}");
            let selected = self.tiers == tiers;
            button.widget_info(|| {
                egui::WidgetInfo::selected(egui::Role::RadioButton, true, selected, name.as_str())
            });
            if button.clicked() {
                self.tiers = tiers;
            }
        };
        ui.label("Tier");
        choice(
            ui,
            Tiers::All,
            "all",
            "all tiers, beside each other within each lane, the lowest at its left (0)",
        );
        for tier in 1..=count {
            choice(ui, Tiers::Only(tier), &tier.to_string(), &format!("tier {tier} alone ({tier})"));
        }
    }

    fn track_ui(&mut self, ui: &mut Ui, shown: &Shown<'_>) {
        let why = "Lays the whole train on a straight or a curve, only to look at it (C)";
        for (curved, words) in [(false, "straight"), (true, "on a curve")] {
            if ui.selectable_label(self.curved == curved, words).on_hover_text(why).clicked() {
                self.curved = curved;
            }
        }
        if !self.curved {
            return;
        }
        ui.label("radius");
        let now = Quantity { value: self.radius(shown), kind: QuantityKind::Length };
        let typed = quantity_ui(ui, Spec::new("radius of the curve").wide(64.0), now, shown.style);
        if let Some(radius_m) = typed {
            self.radius_m = Some(radius_m.clamp(*RADII_M.start(), *RADII_M.end()));
        }
        let sides = [(TrackSide::Left, "to the left"), (TrackSide::Right, "to the right")];
        for (side, words) in sides {
            if ui.selectable_label(self.inside() == side, words).clicked() {
                self.inside = Some(side);
            }
        }
        let mut radii: Vec<f64> = route_radii_m(shown).collect();
        radii.sort_by(f64::total_cmp);
        radii.dedup();
        for radius_m in radii.into_iter().take(3) {
            let words = format!("route: {}", whole(radius_m, shown));
            let chosen = (self.radius(shown) - radius_m).abs() < 1e-9;
            if ui.selectable_label(chosen, words).on_hover_text("a curve of the route").clicked() {
                self.radius_m = Some(radius_m);
            }
        }
    }

    fn track(&self, shown: &Shown<'_>) -> Track {
        if !self.curved {
            return Track::Straight;
        }
        Track::Curve { radius_m: self.radius(shown), inside: self.inside() }
    }

    fn radius(&self, shown: &Shown<'_>) -> f64 {
        let tightest = route_radii_m(shown).min_by(f64::total_cmp);
        self.radius_m.or(tightest).unwrap_or(FIRST_RADIUS_M)
    }

    fn inside(&self) -> TrackSide {
        self.inside.unwrap_or(TrackSide::Right)
    }
}

/// The radii of the route's curves and of the arcs of its reverse curve, in m.
fn route_radii_m(shown: &Shown<'_>) -> impl Iterator<Item = f64> {
    let route = &shown.plan.route;
    let curves = route.curves.iter().map(|curve| curve.radius_m);
    curves.chain(route.s_curve.map(|curve| curve.radius_m))
}

/// The most tiers that a rack of the train has.
fn tier_count(shown: &Shown<'_>) -> u32 {
    let types = &shown.plan.train.rack_types;
    let kinds = shown.figures.consist.racks.iter().filter_map(|rack| types.get(rack.rack_type));
    kinds.map(|kind| kind.tiers.len() as u32).max().unwrap_or(0)
}

/// A radius in whole units.
fn whole(radius_m: f64, shown: &Shown<'_>) -> String {
    let quantity = Quantity::length_m(radius_m);
    format!("{:.0} {}", quantity.shown_value(shown.style), quantity.unit_sign(shown.style))
}
