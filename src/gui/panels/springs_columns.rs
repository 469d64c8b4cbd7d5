//! Columns of the vehicles' table for the loads on springs, beside the level ones.

use super::figure_rows::{Cell, Column, column, support_of};
use crate::drawing::on_springs;
use crate::gui::{Role, Shown};
use crate::model::{LimitKind, Topic};
use crate::statics::{SupportLoads, VehicleLoads};
use crate::units::Quantity;

/// Whether the plan asks for springs, so that the table has these columns.
pub(super) fn are_shown(shown: &Shown<'_>) -> bool {
    shown.plan.route.asked.contains(&Topic::Springs)
}

/// The columns.
pub(super) fn columns() -> [Column; 4] {
    [
        column("Axle, springs", 56.0, "Largest axle load on springs"),
        column(
            "Springs to level, %",
            62.0,
            "Largest change of an axle load by the springs, as a share of the level load",
        ),
        column("Wheel, springs", 58.0, "Heaviest wheel on springs, of stiff and soft body"),
        column("Ratio, springs", 58.0, "Worst wheel ratio on springs, of stiff and soft body"),
    ]
}

/// The cells of a vehicle, whose level loads are `level`; question marks where a spring rate is missing.
pub(super) fn cells(
    shown: &Shown<'_>,
    vehicle: usize,
    level: &VehicleLoads,
    axle_limit: Option<f64>,
) -> [Cell; 4] {
    let loads = on_springs(shown.figures, shown.state).and_then(|loads| loads.get(vehicle));
    let Some(loads) = loads else { return std::array::from_fn(|_| Cell::words("?")) };
    let limit = |kind| shown.figures.accepted_limit(kind, shown.state);
    let worst = |of: fn(&SupportLoads) -> f64| loads.supports.iter().map(of).fold(0.0, f64::max);
    let changes = loads.supports.iter().zip(&level.supports).filter(|(_, level)| level.axle_kg > 0.0);
    let changes = changes.map(|(springs, level)| (springs.axle_kg - level.axle_kg) / level.axle_kg);
    let change =
        changes.fold(0.0, |worst: f64, change| if change.abs() > worst.abs() { change } else { worst });
    let mut difference = Cell::figure(shown, Quantity::share(change));
    if change >= 0.005 {
        difference.text.insert(0, '+');
    }
    // A difference between the models warns; it breaks no limit.
    if limit(LimitKind::ModelDifference).is_some_and(|most| change.abs() > most) {
        difference.role = Some(Role::Near);
        difference.text.insert_str(0, "! ");
    }
    let single =
        shown.figures.consist.vehicles.get(vehicle).is_some_and(|place| place.axles_per_support == 1);
    let share = |at: usize| (loads.supports[at].axle_kg / level.supports[at].axle_kg - 1.0).abs();
    let changed = support_of(vehicle, single, usize::from(share(1) > share(0)));
    let of_worst = |of: fn(&SupportLoads) -> f64| {
        support_of(vehicle, single, usize::from(of(&loads.supports[1]) > of(&loads.supports[0])))
    };
    [
        Cell::figure(shown, Quantity::mass(worst(|support| support.axle_kg)))
            .against(shown, axle_limit)
            .of("springs-axle-load", of_worst(|support| support.axle_kg)),
        difference.of("model-difference", changed),
        Cell::figure(shown, Quantity::mass(worst(|support| support.largest_wheel_kg())))
            .of("springs-wheel-load", of_worst(SupportLoads::largest_wheel_kg)),
        Cell::figure(shown, Quantity::ratio(worst(|support| support.worse_ratio())))
            .against(shown, limit(LimitKind::WheelRatio))
            .of("springs-wheel-balance", of_worst(SupportLoads::worse_ratio)),
    ]
}
