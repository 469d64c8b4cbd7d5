//! What stands below the rail of a rack face: left and right wheel loads, and the rack's load against its rating.

use super::Face;
use crate::checks::{Comparison, Outcome, Sense};
use crate::drawing::bars::{Load, label, lying};
use crate::drawing::{Anchor, Area, Form, Point, Role, Shape, TextSize, Thing};
use crate::model::{LimitKind, TrackSide};
use crate::statics::{StateFigures, SupportLoads};
use crate::units::{Quantity, Style};

/// Rows below the rail, (bottom, top) in mm.
const BALANCE_MM: (f64, f64) = (-420.0, -240.0);
const BALANCE_FIGURE_MM: (f64, f64) = (-620.0, -440.0);
const LOAD_MM: (f64, f64) = (-900.0, -720.0);
const LOAD_FIGURE_MM: (f64, f64) = (-1_100.0, -920.0);

/// How much of each half the ratio between left and right may take.
const RATIO_SHARE: f64 = 0.25;

impl Face<'_> {
    /// Left and right wheel loads as bars that grow outward from the middle; equal in balance.
    pub(super) fn balance_shapes(
        &self,
        shapes: &mut Vec<Shape>,
        (state, loads): (usize, &StateFigures),
        style: Style,
    ) {
        let support = usize::from(self.place.from_middle_m > 0.0);
        let vehicle = self.place.vehicle;
        let Some(loads) = loads.vehicles.get(vehicle).and_then(|loads| loads.supports.get(support)) else {
            return;
        };
        let wheels = if loads.soft.ratio() > loads.stiff.ratio() { loads.soft } else { loads.stiff };
        let outcome = self.balance_outcome(state, loads);
        let thing = Some(Thing::Support { vehicle, support });
        let whole = wheels.left_kg + wheels.right_kg;
        let reach = |kg: f64| {
            if whole > 0.0 { (kg / whole).clamp(0.0, 1.0) * self.half_width_mm() } else { 0.0 }
        };
        // The ratio stands between the two sides that it compares, which begin at the edges.
        let (half, between) = (self.half_width_mm(), self.half_width_mm() * RATIO_SHARE);
        let ratio = Quantity::ratio(wheels.ratio()).show(style);
        let room = Area::spanning((-between, between), BALANCE_FIGURE_MM);
        shapes.push(label(ratio, room, (Role::Figure, TextSize::Normal), thing));
        let sides = [(TrackSide::Left, -1.0, wheels.left_kg), (TrackSide::Right, 1.0, wheels.right_kg)];
        for (side, outward, kg) in sides {
            let area = Area::spanning((0.0, outward * reach(kg)), BALANCE_MM);
            shapes.push(Shape { form: Form::Box(area), role: Role::Balance(side, outcome), thing });
            let (name, anchor) = match side {
                TrackSide::Left => ("left", Anchor::Left),
                TrackSide::Right => ("right", Anchor::Right),
            };
            let room = Area::spanning((outward * between, outward * half), BALANCE_FIGURE_MM);
            let at = Point::new(outward * half, room.middle().up_mm);
            let words = format!("{name} {}", Quantity::mass(kg).show(style));
            let form = Form::Text { at, anchor, words, size: TextSize::Small, room: Some(room) };
            shapes.push(Shape { form, role: Role::Figure, thing });
        }
    }

    /// How the worse wheel ratio fares against the plan's limit in this state; undecided without one.
    fn balance_outcome(&self, state: usize, loads: &SupportLoads) -> Outcome {
        let limit = self.figures.accepted_limit(LimitKind::WheelRatio, state);
        let Some(capacity) = limit else { return Outcome::Undecided };
        let demand = Quantity::ratio(loads.worse_ratio());
        Comparison::new(demand, capacity, Sense::AtMost).outcome(self.figures.plan.limits.near_share())
    }

    pub(super) fn load_shapes(&self, shapes: &mut Vec<Shape>, loads: &StateFigures, style: Style) {
        let near = self.figures.plan.limits.near_share();
        let load = Load::against(loads.rack_kg(self.rack), &[self.rack_type.rack_rating_kg], near);
        // The rating ends where a bar far beyond it still stays within the picture.
        let half = self.half_width_mm();
        let across = (-half, half * 0.4);
        lying(shapes, &load, Area::spanning(across, LOAD_MM), Thing::Rack(self.rack));
        let mut words = Quantity::mass(load.kg).show(style);
        match self.rack_type.rack_rating_kg {
            Some(rating) => words.push_str(&format!(" of {}", Quantity::mass(rating).show(style))),
            None => words.push_str(", rating not entered"),
        }
        let room = Area::spanning((-half, half), LOAD_FIGURE_MM);
        let thing = Some(Thing::Rack(self.rack));
        shapes.push(label(words, room, (Role::Figure, TextSize::Normal), thing));
    }
}
