//! What a curve shows, in sentences worked out from the case.

use super::{Bounds, Focus, Knob, Measure, Plotted, Reading, Scratch, Sweep};
use crate::checks::Subject;
use crate::statics::{Consist, Figures};
use crate::text;
use crate::units::{Length, Quantity, QuantityKind, Text};

/// A change between two neighbouring values is called a jump from this many times the mean change on.
const JUMP: f64 = 4.0;

/// What the curves along the sweep's knob show, and how the load of the wagon looked at comes about.
///
/// `figures` are those of the scratch copy as it is, at departure. Sentences that need more of the sweep than is
/// worked out are left out.
pub fn explain(scratch: &Scratch, sweep: &Sweep, focus: Focus, figures: &Figures) -> Vec<Text> {
    let bounds = Bounds::of(&figures.plan, &figures.consist);
    let case = Case { scratch, sweep, focus, figures, bounds: &bounds };
    let mut told = Vec::new();
    match sweep.knob() {
        Knob::Count => told.extend(case.per_string().into_iter().chain(case.greatest_count())),
        Knob::FrontEnd | Knob::Length => told.extend(case.largest_jump()),
        Knob::Section => told.extend(case.section()),
        Knob::Lane => told.extend(case.lane()),
    }
    let now = Reading::of(scratch.value(sweep.knob()), figures);
    if let Some(vehicle) = now.as_ref().and_then(|now| case.vehicle(now)) {
        told.extend(lever_words(figures, vehicle));
    }
    if let Some(now) = now {
        told.extend(case.missing(&now));
        if now.in_trouble > 0 {
            let words = if now.in_trouble == 1 { "1 string lies" } else { "Some strings lie" };
            told.push(text![format!("{words} on no rack here, or tips: it is left out of the loads.")]);
        }
    }
    told
}

/// The load of a vehicle's front support by the lever rule, with its numbers; none where it carries nothing.
pub fn lever_words(figures: &Figures, vehicle: usize) -> Option<Text> {
    let place = figures.consist.vehicles.get(vehicle)?;
    let state = figures.state(0)?;
    let load_kg = state.vehicles.get(vehicle)?.supports[0].load_kg;
    let name = Subject::Vehicle(vehicle).place(figures);
    let (end, between) = if place.axles_per_support == 1 { ("axle", "axles") } else { ("bogie", "pivots") };
    let mut words = text![format!("Front {end} of {name}: tare "), Quantity::mass(place.tare_kg[0])];
    let mut terms = 0;
    for rack in place.racks.clone() {
        let kg = state.rack_kg(rack);
        if kg <= 0.0 {
            continue;
        }
        let share = 0.5 - figures.consist.racks.get(rack)?.from_middle_m / place.support_distance_m;
        words.0.extend(text![" + ", Quantity::mass(kg), " x ", Quantity::number(share)].0);
        terms += 1;
    }
    if terms == 0 {
        return None;
    }
    let distance = Quantity::length_m(place.support_distance_m);
    let rest = text![
        " = ",
        Quantity::mass(load_kg),
        format!(". Each rack counts by its distance from the rear {end} over the "),
        distance,
        format!(" between the {between}.")
    ];
    words.0.extend(rest.0);
    Some(words)
}

struct Case<'a> {
    scratch: &'a Scratch,
    sweep: &'a Sweep,
    focus: Focus,
    figures: &'a Figures,
    bounds: &'a Bounds,
}

impl Case<'_> {
    fn measure(&self, reading: &Reading, plotted: Plotted) -> Option<Measure> {
        self.bounds.measure(reading, plotted, self.focus)
    }

    /// The heavier axle of what is looked at.
    fn axle(&self, reading: &Reading) -> Option<Measure> {
        let both = [Plotted::FrontAxle, Plotted::RearAxle].map(|plotted| self.measure(reading, plotted));
        both.into_iter().flatten().reduce(|a, b| if b.quantity.value > a.quantity.value { b } else { a })
    }

    fn vehicle(&self, reading: &Reading) -> Option<usize> {
        self.focus.vehicle.or_else(|| match self.axle(reading)?.subject {
            Subject::Support(vehicle, _) | Subject::Axle(vehicle, _) => Some(vehicle),
            _ => None,
        })
    }

    fn at(&self, value: i64) -> Option<&Reading> {
        self.sweep.readings().find(|reading| reading.value == value)
    }

    fn per_string(&self) -> Option<Text> {
        let now = self.scratch.value(Knob::Count);
        let (one, next) = (self.at(now)?, self.at(now + 1).or_else(|| self.at(now - 1))?);
        let more = (self.axle(next)?.quantity.value - self.axle(one)?.quantity.value).abs();
        let axle = self.axle(one)?.subject.place(self.figures);
        Some(text![
            "The load goes up in steps, one for each string: the next one changes each axle of ",
            axle,
            " by ",
            Quantity { value: more, kind: QuantityKind::SmallMass },
            "."
        ])
    }

    /// Up to how many strings all that is plotted keeps its bound, and what breaks with the next.
    fn greatest_count(&self) -> Option<Text> {
        let broken = |reading: &Reading| {
            [
                Plotted::FrontAxle,
                Plotted::RearAxle,
                Plotted::BogieRatio,
                Plotted::WheelRatio,
                Plotted::RackLoad,
            ]
            .into_iter()
            .filter_map(|plotted| self.measure(reading, plotted))
            .find(|measure| measure.holds() == Some(false))
        };
        if !self.sweep.is_done() {
            return None;
        }
        let first = self.sweep.readings().find_map(|reading| Some((reading.value, broken(reading)?)));
        let Some((value, measure)) = first else {
            return Some(text![
                "With every pocket full nothing plotted here breaks a bound that is entered."
            ]);
        };
        let most = Quantity { value: measure.bound.value()?, kind: measure.quantity.kind };
        let of = measure.subject.place(self.figures);
        let what = figure_words(&measure);
        let kept = if value == 1 {
            "Even one string is too many".to_owned()
        } else {
            format!("Up to {} it holds", value - 1)
        };
        Some(text![
            format!("{kept}: with {value} the {what} of {of} is "),
            measure.quantity,
            ", over ",
            most,
            "."
        ])
    }

    /// Where the axle load changes at once, and which rack an end crosses there.
    fn largest_jump(&self) -> Option<Text> {
        if !self.sweep.is_done() {
            return None;
        }
        let points: Vec<(i64, f64)> = self
            .sweep
            .readings()
            .filter_map(|reading| Some((reading.value, self.axle(reading)?.quantity.value)))
            .collect();
        let changes: Vec<f64> = points.windows(2).map(|pair| pair[1].1 - pair[0].1).collect();
        let mean = changes.iter().map(|change| change.abs()).sum::<f64>() / changes.len().max(1) as f64;
        let (at, change) = changes.iter().enumerate().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
        if change.abs() <= JUMP * mean || change.abs() < 1.0 {
            return Some(text![
                "The curve has no jump: no end comes onto a rack or leaves one that matters here."
            ]);
        }
        let (from, to) = (points[at].0, points[at + 1].0);
        let (end, rack) = self.crossed(from, to)?;
        let rack = Subject::Rack(rack).place(self.figures);
        let way = if *change > 0.0 { "up" } else { "down" };
        let what = if self.sweep.knob() == Knob::Length { "length" } else { "front end" };
        Some(text![
            format!("The axle load jumps {way} by "),
            Quantity::mass(change.abs()),
            format!(" between a {what} of "),
            Quantity::length(Length::from_mm(from)),
            " and ",
            Quantity::length(Length::from_mm(to)),
            format!(
                ": there the {end} end crosses {rack}, and what it carried goes to its neighbours at once."
            )
        ])
    }

    /// The end, and the rack that it crosses, while the swept knob goes from one value to the next.
    fn crossed(&self, from: i64, to: i64) -> Option<(&'static str, usize)> {
        let ends = |value: i64| -> Vec<[i64; 2]> {
            let plan = self.scratch.with(self.sweep.knob(), value).plan();
            let placed = plan.placements.iter().filter_map(|place| {
                let length = plan.string(&place.string)?.length;
                Some([place.front.mm(), (place.front + length).mm()])
            });
            placed.collect()
        };
        let consist: &Consist = &self.figures.consist;
        for (before, after) in ends(from).into_iter().zip(ends(to)) {
            for (end, name) in [(0, "front"), (1, "rear")] {
                let (low, high) = (before[end].min(after[end]), before[end].max(after[end]));
                let crosses = |rack: &crate::statics::RackPlace| (low..=high).contains(&rack.x.mm());
                if let Some(rack) = consist.racks.iter().position(crosses).filter(|_| low < high) {
                    return Some((name, rack));
                }
            }
        }
        None
    }

    fn section(&self) -> Option<Text> {
        let sections = self.scratch.sections();
        let now = sections.get(usize::try_from(self.scratch.value(Knob::Section)).ok()?)?;
        let lightest = sections.first()?;
        Some(text![
            format!("{} weighs ", now.name),
            Quantity { value: now.mass_kg_per_m, kind: QuantityKind::SmallMass },
            " a metre, ",
            Quantity::number(now.mass_kg_per_m / lightest.mass_kg_per_m),
            format!(
                " times what {} does. On level racks the share of each rack depends on places alone, so its load \
                 grows with the mass of the rail and not with its stiffness.",
                lightest.name
            )
        ])
    }

    fn lane(&self) -> Option<Text> {
        let mark = self.scratch.lane_string()?;
        let placed = self.figures.placed.iter().find(|placed| {
            self.figures.plan.order.get(placed.string).is_some_and(|string| string.mark == mark)
        })?;
        let now = Reading::of(0, self.figures)?;
        let vehicle = self.vehicle(&now)?;
        let place = self.figures.consist.vehicles.get(vehicle)?;
        let on_it = |at: &usize| place.racks.contains(&(placed.racks.start + at));
        let carried = (0..placed.carried_kg.len()).filter(on_it);
        let kg: f64 = carried.clone().map(|at| placed.carried_kg[at]).sum();
        let y_m = carried.clone().next().and_then(|at| placed.y_m.get(at)).copied()?;
        let (side, other) = if y_m < 0.0 { ("left", "right") } else { ("right", "left") };
        let name = Subject::Vehicle(vehicle).place(self.figures);
        if kg <= 0.0 {
            return Some(text![format!("String {mark} puts nothing on {name}.")]);
        }
        if y_m.abs() < 1.0e-6 {
            return Some(text![
                format!("String {mark} puts "),
                Quantity::mass(kg),
                format!(" on {name}, in its middle: both sides get the same.")
            ]);
        }
        Some(text![
            format!("String {mark} puts "),
            Quantity::mass(kg),
            format!(" on {name}, "),
            Quantity::length_m(y_m.abs()),
            format!(" to the {side} of its middle. Over "),
            Quantity::length_m(place.contact_m),
            " between the wheels that moves ",
            Quantity { value: kg * y_m.abs() / place.contact_m, kind: QuantityKind::SmallMass },
            format!(" from the wheels on the {other} to those on the {side}.")
        ])
    }

    /// Tells of ratings and limits that nobody entered.
    fn missing(&self, now: &Reading) -> Option<Text> {
        let named = [
            (Plotted::FrontAxle, "axle rating"),
            (Plotted::BogieRatio, "limit of front to rear"),
            (Plotted::WheelRatio, "limit of left to right"),
            (Plotted::RackLoad, "rack rating"),
        ];
        let is_missing = |plotted| {
            self.measure(now, plotted).is_some_and(|measure| measure.bound == super::Bound::Missing)
        };
        let missing: Vec<&str> =
            named.into_iter().filter(|(plotted, _)| is_missing(*plotted)).map(|(_, name)| name).collect();
        (!missing.is_empty()).then(|| {
            text![format!(
                "Not entered: {}. Without it there is no line to keep below, and what it bounds is undecided, which \
                 never counts as passed.",
                missing.join(", ")
            )]
        })
    }
}

fn figure_words(measure: &Measure) -> &'static str {
    match measure.figure {
        "axle-load" => "axle load",
        "wheel-balance" => "wheel ratio",
        "rack-load" => "load",
        _ => "front to rear ratio",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::model::Plan;
    use crate::statics::Scope;
    use crate::units::Style;
    use std::sync::Arc;

    fn told(plan: Plan, knob: Knob) -> String {
        let scratch = Scratch::of(Arc::new(plan), &[]).unwrap();
        let mut sweep = Sweep::new(&scratch, knob);
        while sweep.work() {}
        let figures = Figures::of(scratch.plan(), Scope::One(0));
        let focus = Focus { vehicle: Some(1), rack: None };
        let words = explain(&scratch, &sweep, focus, &figures);
        words.iter().map(|text| text.show(Style::default())).collect::<Vec<_>>().join("\n")
    }

    /// One string of 20 m in lane 1 on the three racks of the middle wagon of three.
    fn one() -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 20_000, (1, 1, 19_850));
        plan
    }

    // A string puts 1,204.2 kg on the wagon, a quarter of it on each axle: 301 kg. The axle rating of 22.5 t leaves
    // (90,000 - 24,000) / 1,204.2 = 54.8, more than the 50 pockets; the wheel ratio breaks far earlier.
    #[test]
    fn a_count_tells_what_each_string_adds() {
        let words = told(one(), Knob::Count);
        assert!(words.contains("by 301.1 kg."), "{words}");
        let mut plan = one();
        plan.train.vehicle_types[0].axle_rating_kg = Some(6_500.0);
        // Two strings: (24,000 + 2,408.4) / 4 = 6,602.1 kg.
        let words = told(plan, Knob::Count);
        let told =
            "Up to 1 it holds: with 2 the axle load of vehicle W2, front bogie is 6.60 t, over 6.50 t.";
        assert!(words.contains(told), "{words}");
    }

    // Racks of W2 at 23.217, 29.850 and 36.483 m: with its front end there the string leaves the first of them.
    #[test]
    fn a_front_end_tells_where_the_curve_jumps() {
        let words = told(one(), Knob::FrontEnd);
        assert!(words.contains("jumps") && words.contains("end crosses vehicle W"), "{words}");
    }

    // 1,204.2 kg at 1.2 m over 1.5 m between the wheels: 963 kg.
    #[test]
    fn a_lane_tells_what_goes_from_side_to_side() {
        let words = told(one(), Knob::Lane);
        assert!(words.contains("1.200 m to the left") && words.contains("963.4 kg"), "{words}");
    }

    #[test]
    fn a_missing_rating_is_told_and_an_entered_one_is_not() {
        assert!(!told(one(), Knob::Count).contains("Not entered"));
        let mut plan = one();
        plan.train.rack_types[0].rack_rating_kg = None;
        assert!(told(plan, Knob::Count).contains("Not entered: rack rating."));
    }

    // Shares of the front bogie: (7.1 + 6.633) / 14.2 = 0.967, a half, and 0.033.
    #[test]
    fn the_lever_rule_is_told_with_its_numbers() {
        let figures = Figures::of(Arc::new(one()), Scope::One(0));
        let words = lever_words(&figures, 1).unwrap().show(Style::default());
        assert!(words.starts_with("Front bogie of vehicle W2: tare 12.00 t + "), "{words}");
        for share in ["x 0.9671 +", "x 0.5000 +", "x 0.0329 ="] {
            assert!(words.contains(share), "{share}: {words}");
        }
        assert!(lever_words(&figures, 0).is_none());
    }
}
