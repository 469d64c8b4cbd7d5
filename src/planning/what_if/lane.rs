//! What a lane does to the wheels left and right, and what the string that gave way does to them.

use super::Scratch;
use crate::checks::Subject;
use crate::model::StringMark;
use crate::statics::{Figures, PlacedString};
use crate::text;
use crate::units::{Quantity, Text};

/// Loads below this in kg are as good as none.
const NOTHING_KG: f64 = 0.05;

/// What the string whose lane is turned moves from side to side on `vehicle`, and the net effect where it changed
/// places with others.
pub(super) fn lane_words(scratch: &Scratch, figures: &Figures, vehicle: usize) -> Option<Text> {
    let mark = scratch.lane_string()?;
    let alone = Part::of(figures, &mark, vehicle)?;
    let mut words = alone.words(&mark, &Subject::Vehicle(vehicle).place(figures));
    let Some((gave_way, from)) = scratch.gave_way() else { return Some(words) };
    // Before, each lay where the other lies now.
    let before_m = lane_m(figures, vehicle, from)?;
    let mut moved_kg = alone.kg * (alone.y_m - before_m);
    for other in &gave_way {
        moved_kg += Part::of(figures, other, vehicle).map_or(0.0, |part| part.kg * (part.y_m - alone.y_m));
    }
    moved_kg /= alone.contact_m;
    let names = gave_way.iter().map(StringMark::as_str).collect::<Vec<_>>().join(" and ");
    words.0.extend(
        text![format!(" It changed places with {names}, which went to lane {from}: together that ")].0,
    );
    words.0.extend(match moved_kg.abs() < NOTHING_KG {
        true => text!["leaves both sides as they were."].0,
        false => {
            let (side, other) = sides(moved_kg);
            let moved = readable(moved_kg.abs());
            text!["moves ", moved, format!(" from the {other} to the {side}, compared with before.")].0
        }
    });
    Some(words)
}

/// A mass as the plots show it, unless that would leave it no digits.
pub(super) fn readable(kg: f64) -> Quantity {
    if kg < 100.0 { Quantity::small_mass(kg) } else { Quantity::mass(kg) }
}

/// What one string puts on a vehicle, and where across it.
struct Part {
    kg: f64,
    y_m: f64,
    contact_m: f64,
}

impl Part {
    fn of(figures: &Figures, mark: &StringMark, vehicle: usize) -> Option<Self> {
        let is_it = |placed: &&PlacedString| {
            figures.plan.order.get(placed.string).is_some_and(|string| string.mark == *mark)
        };
        let placed = figures.placed.iter().find(is_it)?;
        let place = figures.consist.vehicles.get(vehicle)?;
        let on_it = |at: &usize| place.racks.contains(&(placed.racks.start + at));
        let carried = (0..placed.carried_kg.len()).filter(on_it);
        let kg = carried.clone().map(|at| placed.carried_kg[at]).sum();
        let y_m = carried.clone().next().and_then(|at| placed.y_m.get(at)).copied().unwrap_or_default();
        Some(Self { kg, y_m, contact_m: place.contact_m })
    }

    fn words(&self, mark: &StringMark, name: &str) -> Text {
        if self.kg <= 0.0 {
            return text![format!("String {mark} puts nothing on {name}.")];
        }
        let puts = text![format!("String {mark} puts "), Quantity::mass(self.kg)];
        let rest = if self.y_m.abs() < 1.0e-6 {
            text![format!(" on {name}, in its middle: both sides get the same.")]
        } else {
            let (side, other) = sides(self.y_m);
            text![
                format!(" on {name}, "),
                Quantity::length_m(self.y_m.abs()),
                format!(" to the {side} of its middle. Over "),
                Quantity::length_m(self.contact_m),
                " between the wheels that moves ",
                readable(self.kg * self.y_m.abs() / self.contact_m),
                format!(" from the wheels on the {other} to those on the {side}.")
            ]
        };
        Text(puts.0.into_iter().chain(rest.0).collect())
    }
}

/// The side on which `y_m` lies, and the other.
fn sides(y_m: f64) -> (&'static str, &'static str) {
    if y_m < 0.0 { ("left", "right") } else { ("right", "left") }
}

/// Where a lane lies across a vehicle, by its first rack.
fn lane_m(figures: &Figures, vehicle: usize, lane: u32) -> Option<f64> {
    let racks = figures.consist.vehicles.get(vehicle)?.racks.clone();
    let lanes = &figures.consist.racks.get(racks.start)?.lanes_y_m;
    lanes.get(usize::try_from(lane).ok()?.checked_sub(1)?).copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::planning::what_if::{Knob, Whom};
    use crate::statics::Scope;
    use crate::units::Style;
    use std::sync::Arc;

    /// S1 in lane 10 over the middle wagon of three is put into `lane`; S2 lies in lane 1 and is `mm` long.
    fn told(lane: i64, mm: i64) -> String {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 20_000, (1, 10, 19_850));
        place(&mut plan, "S2", mm, (1, 1, 19_850));
        let mut scratch = Scratch::of(Arc::new(plan), &[]).unwrap();
        scratch.set_whom(Whom::One(StringMark::new("S1").unwrap()));
        scratch.set(Knob::Lane, lane);
        let figures = Figures::of(scratch.plan(), Scope::One(0));
        lane_words(&scratch, &figures, 1).unwrap().show(Style::default())
    }

    // 1,204.2 kg at 1.2 m over 1.5 m between the wheels: 963 kg.
    #[test]
    fn a_lane_tells_what_goes_from_side_to_side() {
        let words = told(10, 20_000);
        assert!(
            words.contains("1.200 m to the right")
                && words.ends_with("0.96 t from the wheels on the left to those on the right."),
            "{words}"
        );
        // Half of 0.2667 m: 1,204.2 x 0.1333 / 1.5 = 107 kg; a free lane makes nobody give way.
        let words = told(5, 20_000);
        assert!(words.contains("moves 0.11 t") && !words.contains("places"), "{words}");
    }

    #[test]
    fn a_string_that_gave_way_is_named_and_the_net_effect_told() {
        let words = told(1, 20_000);
        let alike = " It changed places with S2, which went to lane 10: together that leaves both sides as they were.";
        assert!(words.ends_with(alike), "{words}");
    }

    // The shorter one, 14 m or 842.9 kg, lies on the middle wagon alone as well: (1,204.2 - 842.9) kg goes 2.4 m to
    // the left: 361.3 x 2.4 / 1.5 = 578 kg.
    #[test]
    fn strings_of_unlike_weight_leave_a_net_effect() {
        let words = told(1, 14_000);
        assert!(
            words.ends_with("together that moves 0.58 t from the right to the left, compared with before."),
            "{words}"
        );
    }
}
