//! Wheel loads beside a deck plan: left below, right above, so that a load on one side shows at once.

use super::Deck;
use crate::drawing::bars::{Load, figure, hanging, second_mark};
use crate::drawing::vehicles::{least_pitch_mm, on_springs};
use crate::drawing::{Area, Form, Point, Shape, Thing};
use crate::statics::{SideLoads, SupportLoads, VehiclePlace};
use crate::units::Style;

/// From the outermost of the train to the bars, in mm.
const AWAY_MM: f64 = 160.0;
/// Length of a bar at the whole rating, and where the figure stands beyond it, in mm.
const BAR_MM: f64 = 420.0;
const FIGURE_MM: (f64, f64) = (600.0, 800.0);
/// What bars and figures take beyond the outermost of the train, in mm.
pub(super) const ROOM_MM: f64 = AWAY_MM + FIGURE_MM.1 + 60.0;

impl Deck<'_> {
    /// What the wheel loads take beyond [`outer_mm`](Self::outer_mm), in mm.
    pub const WHEELS_MM: f64 = ROOM_MM;

    /// The wheel loads of every axle under the worse assumption on the sideways moment, and on springs where the
    /// plan asks for them.
    pub(super) fn wheel_shapes(&self, shapes: &mut Vec<Shape>, state: usize, style: Style) {
        let Some(loads) = self.figures.state(state) else { return };
        let springs = on_springs(self.figures, state);
        let edge = self.outer_mm() + AWAY_MM;
        for (place, loads) in self.figures.consist.vehicles.iter().zip(&loads.vehicles) {
            let springs = springs.and_then(|loads| loads.get(place.vehicle));
            let per_support = place.axles_per_support.max(1) as usize;
            for axle in 0..place.axles_m.len() {
                let at = axle / per_support;
                let Some(support) = loads.supports.get(at) else { continue };
                let soft = springs.and_then(|loads| loads.supports.get(at));
                self.axle_shapes(shapes, (place, axle), [Some(support), soft], (edge, style));
            }
        }
    }

    fn axle_shapes(
        &self,
        shapes: &mut Vec<Shape>,
        (place, axle): (&VehiclePlace, usize),
        [level, springs]: [Option<&SupportLoads>; 2],
        (edge, style): (f64, Style),
    ) {
        let kind = self.figures.plan.train.vehicle_types.get(place.vehicle_type);
        let (Some(kind), Some(level), Some(x_m)) = (kind, level, place.axles_m.get(axle)) else { return };
        let (x, pitch) = (x_m * 1000.0, least_pitch_mm(&place.axles_m));
        let thing = Thing::Axle { vehicle: place.vehicle, axle };
        let load =
            |kg: f64| Load::against(kg, &[kind.wheel_rating_kg], self.figures.plan.limits.near_share());
        let room = |width: f64, from: f64, to: f64| {
            Area::spanning((x - width / 2.0, x + width / 2.0), (-edge - to, -edge - from))
        };
        let sides: [fn(SideLoads) -> f64; 2] = [|wheels| wheels.left_kg, |wheels| wheels.right_kg];
        for (side, of) in sides.into_iter().enumerate() {
            // Worked out hanging below the train; the right side is its mirror image.
            let mut hung = Vec::with_capacity(5);
            let bar = room(pitch * 0.5, 0.0, BAR_MM);
            let wheel = load(of(worse(level)));
            hanging(&mut hung, &wheel, bar, thing);
            if let Some(springs) = springs {
                second_mark(&mut hung, &load(of(worse(springs))), bar, thing);
            }
            hung.push(figure(&wheel, room(pitch, FIGURE_MM.0, FIGURE_MM.1), style, thing));
            shapes.extend(hung.into_iter().map(|shape| if side == 0 { shape } else { mirrored(shape) }));
        }
    }
}

/// The wheels under the worse of the two assumptions.
fn worse(loads: &SupportLoads) -> SideLoads {
    if loads.soft.ratio() > loads.stiff.ratio() { loads.soft } else { loads.stiff }
}

/// The mirror image about the track's centre.
fn mirrored(shape: Shape) -> Shape {
    let point = |at: Point| Point::new(at.across_mm, -at.up_mm);
    let area = |area: Area| Area::of(point(area.least), point(area.most));
    let form = match shape.form {
        Form::Box(inner) => Form::Box(area(inner)),
        Form::Frame(inner) => Form::Frame(area(inner)),
        Form::Line(from, to) => Form::Line(point(from), point(to)),
        Form::Outline(points) => Form::Outline(points.into_iter().map(point).collect()),
        Form::Path(points) => Form::Path(points.into_iter().map(point).collect()),
        Form::Circle { middle, radius_mm } => Form::Circle { middle: point(middle), radius_mm },
        Form::Text { at, anchor, words, size, room } => {
            Form::Text { at: point(at), anchor, words, size, room: room.map(area) }
        }
    };
    Shape { form, ..shape }
}
