//! Loads of vehicles as a table.

use super::{OutTable, headed, number, some, state_cells};
use crate::format::OutCell;
use crate::statics::{Figures, VehicleLoads};
use crate::units::{Quantity, Style};

/// Loads of every vehicle in every state that was worked out.
pub fn vehicles_table(figures: &Figures, style: Style) -> OutTable {
    let mass = |title| headed(title, Quantity::mass(0.0), style);
    let words = |title: &str| title.to_owned();
    let header = vec![
        words("State"),
        words("State title"),
        words("Vehicle"),
        words("Vehicle type"),
        mass("Load"),
        mass("Gross"),
        mass("Front support"),
        mass("Rear support"),
        mass("Front axles, each"),
        mass("Rear axles, each"),
        mass("Front wheels, largest"),
        mass("Rear wheels, largest"),
        words("Support ratio"),
        words("Front wheels ratio"),
        words("Rear wheels ratio"),
        headed("Mass per length", Quantity::mass_per_length(0.0), style),
        headed("Centre height", Quantity::length_m(0.0), style),
    ];
    let train = &figures.plan.train;
    let rows = figures.worked.iter().flat_map(|state| {
        state.vehicles.iter().zip(&figures.consist.vehicles).map(|(loads, place)| {
            let vehicle = train.vehicles.get(place.vehicle);
            let mut cells = state_cells(figures, state.state).to_vec();
            cells.push(OutCell::Words(vehicle.map(|vehicle| vehicle.mark.to_string()).unwrap_or_default()));
            cells.push(OutCell::Words(vehicle.map(|v| v.vehicle_type.to_string()).unwrap_or_default()));
            cells.extend(load_cells(loads, style));
            cells
        })
    });
    OutTable { header, rows: rows.collect() }
}

fn load_cells(loads: &VehicleLoads, style: Style) -> Vec<OutCell> {
    let mass = |kg: f64| number(Quantity::mass(kg), style);
    let ratio = |ratio: f64| number(Quantity::ratio(ratio), style);
    let [front, rear] = &loads.supports;
    vec![
        mass(loads.payload_kg),
        mass(loads.gross_kg),
        mass(front.load_kg),
        mass(rear.load_kg),
        mass(front.axle_kg),
        mass(rear.axle_kg),
        mass(front.largest_wheel_kg()),
        mass(rear.largest_wheel_kg()),
        ratio(loads.support_ratio()),
        ratio(front.worse_ratio()),
        ratio(rear.worse_ratio()),
        number(Quantity::mass_per_length(loads.mass_per_metre_kg), style),
        some(loads.centre_height_m.map(Quantity::length_m), style),
    ]
}
