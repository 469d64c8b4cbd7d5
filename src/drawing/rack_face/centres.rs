//! Centres of gravity on a rack face: of the wagon with its load, and of its load alone.

use super::Face;
use crate::drawing::{Form, Point, Role, Shape, Thing};
use crate::statics::Figures;
use crate::units::{Quantity, Style};

/// Half the size of a mark in mm; a painter may draw it in a size of its own.
const MARK_MM: f64 = 45.0;
/// Distances from the middle below this are in the middle to a reader, in mm.
const MIDDLE_MM: f64 = 0.5;

/// Whose centre of gravity it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CentreOf {
    /// That of the vehicle with its load.
    Vehicle,
    /// That of the load on it alone.
    Load,
}

/// A centre of gravity across a vehicle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Centre {
    /// Whose.
    pub of: CentreOf,
    /// Where: to the right of the middle and above the rail, in mm.
    pub at: Point,
}

/// The centres of gravity of a vehicle (an index into the train) in a state; none where a height is not entered,
/// and none of a load where there is no load.
///
/// The load's is worked back from the gross one: moments of gross mass less those of the tare, over the payload.
pub fn centres(figures: &Figures, state: usize, vehicle: usize) -> Vec<Centre> {
    let loads = figures.state(state).and_then(|state| state.vehicles.get(vehicle));
    let place = figures.consist.vehicles.get(vehicle);
    let (Some(loads), Some(place)) = (loads, place) else { return Vec::new() };
    let Some(height_m) = loads.centre_height_m.filter(|height| height.is_finite()) else { return Vec::new() };
    let mut found =
        vec![Centre { of: CentreOf::Vehicle, at: Point::new(loads.centre_y_m * 1000.0, height_m * 1000.0) }];
    let kind = figures.plan.train.vehicle_types.get(place.vehicle_type);
    let tare_m = kind.and_then(|kind| kind.tare_cog_height_mm).map(|height_mm| height_mm / 1000.0);
    if let Some(tare_m) = tare_m.filter(|_| loads.payload_kg > 0.0) {
        let tare_kg = loads.gross_kg - loads.payload_kg;
        let of_load = |gross_m: f64, tare_m: f64| {
            (gross_m * loads.gross_kg - tare_m * tare_kg) / loads.payload_kg * 1000.0
        };
        let at = Point::new(of_load(loads.centre_y_m, place.tare_y_m), of_load(height_m, tare_m));
        found.push(Centre { of: CentreOf::Load, at });
    }
    found
}

impl Centre {
    /// What and where it is, such as `centre of gravity of the load: 1.913 m above the rail, 12 mm left of the middle`.
    pub fn words(self, style: Style) -> String {
        let of = match self.of {
            CentreOf::Vehicle => "the wagon with its load",
            CentreOf::Load => "the load alone",
        };
        let height = Quantity::length_m(self.at.up_mm / 1000.0).show(style);
        let beside = match self.at.across_mm {
            y if y.abs() < MIDDLE_MM => "in the middle".to_owned(),
            y => {
                let side = if y < 0.0 { "left" } else { "right" };
                format!("{} {side} of the middle", Quantity::small_length_m(y.abs() / 1000.0).show(style))
            }
        };
        format!("centre of gravity of {of}: {height} above the rail, {beside}")
    }
}

impl Face<'_> {
    /// A circle for the wagon with its load, a diamond for the load.
    pub(super) fn centre_shapes(&self, shapes: &mut Vec<Shape>, state: usize) {
        let thing = Some(Thing::Vehicle(self.place.vehicle));
        for centre in centres(self.figures, state, self.place.vehicle) {
            let form = match centre.of {
                CentreOf::Vehicle => Form::Circle { middle: centre.at, radius_mm: MARK_MM },
                CentreOf::Load => Form::Outline(diamond(centre.at)),
            };
            shapes.push(Shape { form, role: Role::CentreOfGravity, thing });
        }
    }
}

fn diamond(middle: Point) -> Vec<Point> {
    let corners = [(0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0)];
    corners
        .map(|(across, up)| Point::new(middle.across_mm + across * MARK_MM, middle.up_mm + up * MARK_MM))
        .to_vec()
}
