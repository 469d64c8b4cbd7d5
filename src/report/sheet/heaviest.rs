//! The heaviest bogie, axle, wheel and rack, at departure and in the state beside it: the cover's figures.

use super::flow::Flow;
use super::loads::rated_cells;
use super::matter::Matter;
use super::table::{Cell, Column, Kind, Table};
use super::wording::capital;
use crate::checks::Subject;
use crate::model::TrackSide;
use crate::statics::{StateFigures, SupportLoads, VehiclePlace};

/// What is most of its kind: what, where, load in kg, rating in kg.
struct Most {
    what: &'static str,
    place: Subject,
    kg: f64,
    rating_kg: Option<f64>,
}

/// Adds the table.
pub(super) fn heaviest(flow: &mut Flow, matter: &Matter<'_>) {
    let mass = matter.mass_sign();
    let mut table = Table::new(vec![
        Column::new(Kind::Words, "state"),
        Column::new(Kind::Words, "the most used"),
        Column::new(Kind::Words, "where"),
        Column::new(Kind::Figure, format!("load {mass}")),
        Column::new(Kind::Figure, format!("rating {mass}")),
        Column::new(Kind::Figure, "used"),
    ]);
    for state in matter.states_shown() {
        let name = capital(&matter.state_name(state.state));
        for (nth, most) in most_used(matter, state).into_iter().enumerate() {
            let mut cells = vec![
                Cell::new(if nth == 0 { name.clone() } else { String::new() }),
                Cell::strong(most.what),
                most.place.place(matter.figures).into(),
            ];
            cells.extend(rated_cells(matter, most.kg, most.rating_kg));
            table.row(cells);
        }
    }
    if !table.is_empty() {
        flow.heading("The most used", 20.0);
        table.put(flow, "");
    }
}

fn most_used(matter: &Matter<'_>, state: &StateFigures) -> Vec<Most> {
    let [bogies, axles, wheels] = supports(matter, state);
    let racks = matter.figures.consist.racks.iter().enumerate().map(|(rack, place)| {
        let kind = matter.plan().train.rack_types.get(place.rack_type);
        Most {
            what: "rack",
            place: Subject::Rack(rack),
            kg: state.rack_kg(rack),
            rating_kg: kind.and_then(|kind| kind.rack_rating_kg),
        }
    });
    [bogies, axles, wheels, racks.collect()].into_iter().filter_map(most).collect()
}

/// Bogies, axles and wheels of the train.
fn supports(matter: &Matter<'_>, state: &StateFigures) -> [Vec<Most>; 3] {
    let (mut bogies, mut axles, mut wheels) = (Vec::new(), Vec::new(), Vec::new());
    for (place, loads) in matter.figures.consist.vehicles.iter().zip(&state.vehicles) {
        let Some(kind) = matter.plan().train.vehicle_types.get(place.vehicle_type) else { continue };
        for (at, support) in loads.supports.iter().enumerate() {
            let (vehicle, axle) = (place.vehicle, first_axle(place, at));
            if place.axles_per_support > 1 {
                let (place, rating_kg) = (Subject::Support(vehicle, at), kind.bogie_rating_kg);
                bogies.push(Most { what: "bogie", place, kg: support.load_kg, rating_kg });
            }
            let rating_kg = matter.plan().least_axle_rating_kg(kind);
            axles.push(Most {
                what: "axle",
                place: Subject::Axle(vehicle, axle),
                kg: support.axle_kg,
                rating_kg,
            });
            let place = Subject::Wheel(vehicle, axle, heavier_side(support));
            let kg = support.largest_wheel_kg();
            wheels.push(Most { what: "wheel", place, kg, rating_kg: kind.wheel_rating_kg });
        }
    }
    [bogies, axles, wheels]
}

fn first_axle(place: &VehiclePlace, support: usize) -> usize {
    support * place.axles_per_support as usize
}

fn heavier_side(loads: &SupportLoads) -> TrackSide {
    let worse = if loads.soft.largest_kg() > loads.stiff.largest_kg() { loads.soft } else { loads.stiff };
    if worse.left_kg > worse.right_kg { TrackSide::Left } else { TrackSide::Right }
}

/// The one that uses most of its rating; where no rating is entered the heaviest.
fn most(all: Vec<Most>) -> Option<Most> {
    let share = |most: &Most| most.rating_kg.map(|rating| most.kg / rating);
    let (rated, unrated): (Vec<Most>, Vec<Most>) = all.into_iter().partition(|most| most.rating_kg.is_some());
    let larger = |a: f64, b: f64| b > a;
    let of_rated = rated.into_iter().reduce(|a, b| match (share(&a), share(&b)) {
        (Some(x), Some(y)) if larger(x, y) => b,
        _ => a,
    });
    of_rated.or_else(|| unrated.into_iter().reduce(|a, b| if larger(a.kg, b.kg) { b } else { a }))
}
