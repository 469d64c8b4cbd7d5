//! How the load of a wagon's front end comes about, with its numbers.

use crate::checks::Subject;
use crate::statics::Figures;
use crate::text;
use crate::units::{Quantity, QuantityKind, Style, Text, UnitSystem};

/// The load of a vehicle's front support by the lever rule, with its numbers; none where it carries nothing.
///
/// Terms are shown with one digit more than their sum; where the sum of what is shown still reads otherwise, the
/// sentence says that they are rounded.
pub fn lever_words(figures: &Figures, vehicle: usize) -> Option<Text> {
    let place = figures.consist.vehicles.get(vehicle)?;
    let state = figures.state(0)?;
    let sum = Quantity::mass(state.vehicles.get(vehicle)?.supports[0].load_kg);
    let name = Subject::Vehicle(vehicle).place(figures);
    let (end, between) = if place.axles_per_support == 1 { ("axle", "axles") } else { ("bogie", "pivots") };
    let tare = term(place.tare_kg[0]);
    let mut terms = Vec::new();
    for rack in place.racks.clone().filter(|rack| state.rack_kg(*rack) > 0.0) {
        let share = 0.5 - figures.consist.racks.get(rack)?.from_middle_m / place.support_distance_m;
        terms.push((term(state.rack_kg(rack)), Quantity::number(share)));
    }
    if terms.is_empty() {
        return None;
    }
    let mut words = text![format!("Front {end} of {name}: tare "), tare];
    for (kg, share) in &terms {
        words.0.extend(text![" + ", *kg, " x ", *share].0);
    }
    let rounded = if agree(tare, &terms, sum) { "" } else { ", each number rounded" };
    let rest = text![
        " = ",
        sum,
        format!("{rounded}. Each rack counts by its distance from the rear {end} over the "),
        Quantity::length_m(place.support_distance_m),
        format!(" between the {between}.")
    ];
    words.0.extend(rest.0);
    Some(words)
}

fn term(kg: f64) -> Quantity {
    Quantity { value: kg, kind: QuantityKind::MassTerm }
}

/// Whether a reader who adds up what is shown gets the sum that is shown, in either system of units.
fn agree(tare: Quantity, terms: &[(Quantity, Quantity)], sum: Quantity) -> bool {
    [UnitSystem::Metric, UnitSystem::UsCustomary].into_iter().all(|units| {
        let style = Style { units, ..Style::default() };
        let read = |quantity: Quantity| quantity.show_number(style).parse::<f64>().unwrap_or(f64::NAN);
        let added: f64 = read(tare) + terms.iter().map(|(kg, share)| read(*kg) * read(*share)).sum::<f64>();
        // Half of the sum's last digit.
        (added - read(sum)).abs() < 0.005
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::statics::Scope;
    use std::sync::Arc;

    /// One string of 20 m in lane 1 on the three racks of the middle wagon of three.
    fn one() -> Figures {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 20_000, (1, 1, 19_850));
        Figures::of(Arc::new(plan), Scope::One(0))
    }

    // Shares of the front bogie: (7.1 + 6.633) / 14.2 = 0.967, a half, and 0.033.
    #[test]
    fn the_lever_rule_is_told_with_its_numbers() {
        let words = lever_words(&one(), 1).unwrap().show(Style::default());
        assert!(words.starts_with("Front bogie of vehicle W2: tare 12.000 t + "), "{words}");
        for share in ["x 0.9671 +", "x 0.5000 +", "x 0.0329 = 12.60 t. "] {
            assert!(words.contains(share), "{share}: {words}");
        }
        assert!(lever_words(&one(), 0).is_none());
    }

    // 11 t + 12.168 t x 0.9695 + 11.558 t x 0.5 + 11.722 t x 0.0305 = 28.9334 t; rounded to two digits the terms
    // would read 12.17, 11.56 and 11.72 and add up to 28.94.
    #[test]
    fn the_terms_shown_add_up_to_the_sum_shown_or_are_called_rounded() {
        let number = Quantity::number;
        let terms = |kg: [f64; 3]| {
            kg.map(term).into_iter().zip([0.9695, 0.5, 0.0305].map(number)).collect::<Vec<_>>()
        };
        let loads = terms([12_168.0, 11_558.0, 11_722.0]);
        assert!(agree(term(11_000.0), &loads, Quantity::mass(28_933.4)));
        assert!(!agree(term(11_000.0), &loads, Quantity::mass(28_939.0)));
    }
}
