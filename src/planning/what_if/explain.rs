//! What a curve shows, in sentences worked out from the case.

use super::curves::{Curve, Jump, figure_words};
use super::lane::{lane_words, readable};
use super::lever::lever_words;
use super::{Bounds, Focus, Knob, Measure, Plotted, Reading, Scratch, Sweep};
use crate::checks::Subject;
use crate::statics::{Consist, Figures};
use crate::text;
use crate::units::{Length, Quantity, QuantityKind, Text};

/// What the curves run over.
#[derive(Clone, Copy, Debug)]
pub enum Along<'a> {
    /// The values of a knob, at departure.
    Knob(&'a Scratch, &'a Sweep),
    /// The states, each with its reading.
    States(&'a [Reading]),
}

/// What the `drawn` curves show, each by itself, and how the load of the wagon looked at comes about.
///
/// `figures` are those of the scratch copy as it is; along the states, all states must be worked out in them.
/// Sentences that need more of a sweep than is worked out are left out.
pub fn explain(along: Along<'_>, drawn: &[Plotted], focus: Focus, figures: &Figures) -> Vec<Text> {
    let bounds = Bounds::of(&figures.plan, &figures.consist);
    let case = Case { along, drawn, focus, figures, bounds: &bounds };
    let now = match along {
        Along::Knob(scratch, sweep) => Reading::of(scratch.value(sweep.knob()), figures),
        Along::States(readings) => readings.first().cloned(),
    };
    let vehicle = now.as_ref().and_then(|now| case.vehicle(now));
    let mut told = Vec::new();
    if let Along::Knob(scratch, sweep) = along {
        match sweep.knob() {
            Knob::Count => told.extend(case.per_string(scratch).into_iter().chain(case.counts_that_hold())),
            Knob::FrontEnd | Knob::Length => told.extend(case.jumps(scratch, sweep.knob())),
            Knob::Section => told.extend(case.section(scratch)),
            Knob::Lane if case.draws(&[Plotted::WheelRatio]) => {
                told.extend(vehicle.and_then(|vehicle| lane_words(scratch, figures, vehicle)));
            }
            Knob::Lane => {}
        }
    }
    told.extend(case.extremes());
    if case.draws(&[Plotted::FrontAxle, Plotted::RearAxle, Plotted::BogieRatio]) {
        told.extend(vehicle.and_then(|vehicle| lever_words(figures, vehicle)));
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

/// The jumps of curves between the same two values, each with what the curve is called.
struct JumpsAt {
    between: (i64, i64),
    jumps: Vec<(String, Jump)>,
}

struct Case<'a> {
    along: Along<'a>,
    drawn: &'a [Plotted],
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
        // The front one, unless the other is heavier by more than rounding.
        let is_more = |a: &Measure, b: &Measure| b.quantity.value > a.quantity.value * (1.0 + 1.0e-9);
        both.into_iter().flatten().reduce(|a, b| if is_more(&a, &b) { b } else { a })
    }

    fn vehicle(&self, reading: &Reading) -> Option<usize> {
        self.focus.vehicle.or_else(|| match self.axle(reading)?.subject {
            Subject::Support(vehicle, _) | Subject::Axle(vehicle, _) => Some(vehicle),
            _ => None,
        })
    }

    fn readings(&self) -> Vec<&Reading> {
        match self.along {
            Along::Knob(_, sweep) => sweep.readings().collect(),
            Along::States(readings) => readings.iter().collect(),
        }
    }

    fn is_done(&self) -> bool {
        match self.along {
            Along::Knob(_, sweep) => sweep.is_done(),
            Along::States(_) => true,
        }
    }

    /// The drawn curves in the order in which they are drawn, as far as they are worked out.
    fn curves(&self) -> Vec<Curve> {
        let curve = |plotted: &Plotted| {
            let point = |reading: &Reading| Some((reading.value, self.measure(reading, *plotted)?));
            Curve { plotted: *plotted, points: self.readings().into_iter().filter_map(point).collect() }
        };
        self.drawn.iter().map(curve).filter(|curve| !curve.points.is_empty()).collect()
    }

    fn draws(&self, any: &[Plotted]) -> bool {
        self.drawn.iter().any(|drawn| any.contains(drawn))
    }

    /// Where each curve is largest and least.
    fn extremes(&self) -> Vec<Text> {
        if !self.is_done() {
            return Vec::new();
        }
        let curves = self.curves();
        curves.iter().filter_map(|curve| curve.extremes(self.figures, |at| self.value_words(at))).collect()
    }

    /// A value of what is turned, as it stands in a sentence.
    fn value_words(&self, value: i64) -> Text {
        let at = usize::try_from(value).unwrap_or_default();
        match self.along {
            Along::States(_) => {
                let state = self.figures.states.get(at);
                let title = state.map(|state| state.title(&self.figures.plan)).unwrap_or_default();
                // Other titles say "after" themselves.
                if at == 0 { text!["at ", title] } else { text![title] }
            }
            Along::Knob(scratch, sweep) => match sweep.knob() {
                Knob::Count if value == 1 => text!["with 1 string"],
                Knob::Count => text![format!("with {value} strings")],
                Knob::Length => text!["with a length of ", Quantity::length(Length::from_mm(value))],
                Knob::FrontEnd => text!["with the front end at ", Quantity::length(Length::from_mm(value))],
                Knob::Section => {
                    let section = scratch.sections().get(at);
                    text![format!("with {}", section.map_or("?", |section| section.name.as_str()))]
                }
                Knob::Lane => text![format!("in lane {value}")],
            },
        }
    }

    /// What the next string adds to each drawn load; where there is no next one, what the last one did.
    fn per_string(&self, scratch: &Scratch) -> Option<Text> {
        let now = scratch.value(Knob::Count);
        let curves = self.curves();
        let loads = |curve: &&Curve| !matches!(curve.plotted, Plotted::BogieRatio | Plotted::WheelRatio);
        let has = |value: i64| self.readings().iter().any(|reading| reading.value == value);
        let (from, to, which) = match (has(now + 1), has(now - 1)) {
            (true, _) => (now, now + 1, "the next one changes"),
            (false, true) => (now - 1, now, "the last one changed"),
            (false, false) => return None,
        };
        let mut changes = Vec::new();
        for curve in curves.iter().filter(loads) {
            let at = |value: i64| {
                let point = curve.points.iter().find(|point| point.0 == value)?;
                Some(point.1.quantity.value)
            };
            if let (Some(before), Some(after)) = (at(from), at(to)) {
                let comma = if changes.is_empty() { "" } else { "," };
                changes.extend(
                    text![
                        format!("{comma} the {} by ", curve.name(self.figures)),
                        readable((after - before).abs())
                    ]
                    .0,
                );
            }
        }
        if changes.is_empty() {
            return None;
        }
        let mut words = text![format!("The load goes up in steps, one for each string: {which}")];
        words.0.extend(changes);
        words.0.push(".".into());
        Some(words)
    }

    /// The first figure that breaks its bound at a reading.
    fn broken(&self, reading: &Reading) -> Option<Measure> {
        let measures = self.drawn.iter().filter_map(|plotted| self.measure(reading, *plotted));
        measures.into_iter().find(|measure| measure.holds() == Some(false))
    }

    /// With how many strings all that is plotted keeps its bound, and what breaks first.
    fn counts_that_hold(&self) -> Option<Text> {
        if !self.is_done() {
            return None;
        }
        let readings = self.readings();
        let first = readings.iter().find_map(|reading| Some((reading.value, self.broken(reading)?)));
        let Some((value, measure)) = first else {
            return Some(text![
                "With every pocket full nothing plotted here breaks a bound that is entered."
            ]);
        };
        let most = Quantity { value: measure.bound.value()?, kind: measure.quantity.kind };
        let of = measure.subject.place(self.figures);
        let what = figure_words(measure.figure);
        // A lopsided number of strings may break what the next one mends.
        let holding: Vec<i64> = readings
            .iter()
            .filter(|reading| self.broken(reading).is_none())
            .map(|reading| reading.value)
            .collect();
        let kept = match holding.last() {
            None if readings.len() == 1 => "It does not hold".to_owned(),
            None => "No number of strings holds".to_owned(),
            Some(last) if *last < value => format!("Up to {last} it holds"),
            Some(_) => format!("It holds with {} strings", runs(&holding)),
        };
        Some(text![
            format!("{kept}: with {value} the {what} of {of} is "),
            measure.quantity,
            ", over ",
            most,
            "."
        ])
    }

    /// Where drawn curves change at once, and which rack an end crosses there: the largest jump of each curve,
    /// those at one place together.
    fn jumps(&self, scratch: &Scratch, knob: Knob) -> Vec<Text> {
        if !self.is_done() {
            return Vec::new();
        }
        let mut places: Vec<JumpsAt> = Vec::new();
        for curve in self.curves() {
            let Some(jump) = curve.jump() else { continue };
            let told = (curve.name(self.figures), jump);
            match places.iter_mut().find(|place| place.between == jump.between) {
                Some(place) => place.jumps.push(told),
                None => places.push(JumpsAt { between: jump.between, jumps: vec![told] }),
            }
        }
        if places.is_empty() {
            let words = "The curves have no jump: no end comes onto a rack or leaves one that matters here.";
            return vec![text![words]];
        }
        places.iter().map(|place| self.jump(place, (scratch, knob))).collect()
    }

    fn jump(&self, JumpsAt { between, jumps }: &JumpsAt, (scratch, knob): (&Scratch, Knob)) -> Text {
        let what = if knob == Knob::Length { "length" } else { "front end" };
        let mut words = text![
            format!("Between a {what} of "),
            Quantity::length(Length::from_mm(between.0)),
            " and ",
            Quantity::length(Length::from_mm(between.1))
        ];
        for (at, (name, jump)) in jumps.iter().enumerate() {
            let (comma, verb) = if at == 0 { ("", " jumps") } else { (",", "") };
            let (before, after) = (jump.figures.0.quantity, jump.figures.1.quantity);
            words.0.extend(text![format!("{comma} the {name}{verb} from "), before, " to ", after].0);
        }
        let why = match self.crossed(scratch, knob, *between) {
            Some((end, rack)) => {
                let rack = Subject::Rack(rack).place(self.figures);
                format!(
                    ": there the {end} end crosses {rack}, and what it carried goes to its neighbours at once."
                )
            }
            None => ".".to_owned(),
        };
        words.0.push(why.into());
        words
    }

    /// The end, and the rack that it crosses, while the swept knob goes from one value to the next.
    fn crossed(
        &self,
        scratch: &Scratch,
        knob: Knob,
        (from, to): (i64, i64),
    ) -> Option<(&'static str, usize)> {
        let ends = |value: i64| -> Vec<[i64; 2]> {
            let plan = scratch.with(knob, value).plan();
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

    fn section(&self, scratch: &Scratch) -> Option<Text> {
        let sections = scratch.sections();
        let now = sections.get(usize::try_from(scratch.value(Knob::Section)).ok()?)?;
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

    /// Tells of ratings and limits that nobody entered.
    fn missing(&self, now: &Reading) -> Option<Text> {
        let named = [
            (Plotted::FrontAxle, "axle rating"),
            (Plotted::BogieRatio, "limit of front to rear"),
            (Plotted::WheelRatio, "limit of left to right"),
            (Plotted::RackLoad, "rack rating"),
        ];
        let is_missing = |plotted| {
            self.draws(&[plotted])
                && self.measure(now, plotted).is_some_and(|measure| measure.bound == super::Bound::Missing)
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

/// Growing numbers in words, three neighbours or more as a run: "1 to 3, 5 and 6".
fn runs(numbers: &[i64]) -> String {
    let together = numbers.chunk_by(|a, b| a + 1 == *b);
    let words: Vec<String> = together
        .flat_map(|run| match run {
            [first, _, .., last] => vec![format!("{first} to {last}")],
            _ => run.iter().map(i64::to_string).collect(),
        })
        .collect();
    match words.split_last() {
        Some((last, before)) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => words.concat(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{LimitKind, Plan};
    use crate::statics::Scope;
    use crate::units::Style;
    use std::sync::Arc;

    const ALL: [Plotted; 5] =
        [Plotted::FrontAxle, Plotted::RearAxle, Plotted::BogieRatio, Plotted::WheelRatio, Plotted::RackLoad];

    fn told(plan: Plan, knob: Knob) -> String {
        told_of(plan, knob, &ALL)
    }

    fn told_of(plan: Plan, knob: Knob, drawn: &[Plotted]) -> String {
        let scratch = Scratch::of(Arc::new(plan), &[]).unwrap();
        let mut sweep = Sweep::new(&scratch, knob);
        while sweep.work() {}
        let figures = Figures::of(scratch.plan(), Scope::One(0));
        let focus = Focus { vehicle: Some(1), rack: None };
        let words = explain(Along::Knob(&scratch, &sweep), drawn, focus, &figures);
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
        let next = "the next one changes the axle load of vehicle W2, front bogie by 0.30 t, the axle load of vehicle \
                    W2, rear bogie by 0.30 t, the rack load";
        assert!(words.contains(next), "{words}");
        let mut plan = one();
        plan.train.vehicle_types[0].axle_rating_kg = Some(6_500.0);
        // Two strings: (24,000 + 2,408.4) / 4 = 6,602.1 kg.
        let words = told(plan, Knob::Count);
        let told =
            "Up to 1 it holds: with 2 the axle load of vehicle W2, front bogie is 6.60 t, over 6.50 t.";
        assert!(words.contains(told), "{words}");
    }

    // All 50 pockets are full: there is no next string.
    #[test]
    fn at_the_greatest_number_it_is_told_what_the_last_string_changed() {
        let mut scratch = Scratch::of(Arc::new(one()), &[]).unwrap();
        scratch.set(Knob::Count, 50);
        let words = told((*scratch.plan()).clone(), Knob::Count);
        assert!(
            words.contains("the last one changed the axle load of vehicle W2, front bogie by 0.30 t"),
            "{words}"
        );
        assert!(!words.contains("the next one"), "{words}");
    }

    // Racks of W2 at 23.217, 29.850 and 36.483 m: with its front end there the string leaves the first of them.
    #[test]
    fn a_front_end_tells_where_each_drawn_curve_jumps() {
        let words = told(one(), Knob::FrontEnd);
        for told in [" jumps from ", "axle load of vehicle W2, front bogie", "end crosses vehicle W"] {
            assert!(words.contains(told), "{told}: {words}");
        }
        assert!(words.contains("front to rear ratio of vehicle W2 from 1."), "{words}");
    }

    // A string over W1 and W2 loads the front bogie of W2 and not the rear one, and the other way round.
    #[test]
    fn the_front_and_the_rear_axle_are_told_apart() {
        let words = told(one(), Knob::FrontEnd);
        for told in [
            "Axle load of vehicle W2, front bogie: largest ",
            "Axle load of vehicle W2, rear bogie: largest ",
        ] {
            assert!(words.contains(told), "{words}");
        }
    }

    #[test]
    fn a_curve_that_is_not_drawn_is_not_told() {
        for knob in [Knob::Count, Knob::FrontEnd, Knob::Lane] {
            let words = told_of(one(), knob, &[Plotted::RackLoad]);
            assert!(words.contains("Rack load"), "{words}");
            for other in ["xle", "ratio", "Front bogie", "wheels"] {
                assert!(!words.contains(other), "{other}: {words}");
            }
        }
    }

    // One string in lane 1 gives 1.16555 (see the readings). Further ones go from the middle outward, in pairs that
    // cancel, until the eighth, in lane 2, leaves 1 and 2 alone on the left: 1,204.2 x 2.1333 / 33,633.6 = 0.07638 m,
    // 0.82638 / 0.67362 = 1.227. The tenth makes the tier even, and the tiers above lean by a lane at most.
    #[test]
    fn numbers_that_hold_between_ones_that_do_not_are_told() {
        let mut plan = one();
        plan.limits.entries.get_mut(&LimitKind::WheelRatio).unwrap().running = 1.1;
        let words = told(plan, Knob::Count);
        assert!(words.contains("It holds with 10 to 50 strings: with 1 "), "{words}");
        let told = "with 1 the left to right ratio of vehicle W2, front bogie is 1.17 : 1, over 1.10 : 1.";
        assert!(words.contains(told), "{words}");
    }

    #[test]
    fn numbers_are_told_as_runs() {
        assert_eq!(runs(&[1, 2, 3, 5, 6, 8]), "1 to 3, 5, 6 and 8");
        assert_eq!((runs(&[2, 3]).as_str(), runs(&[7]).as_str(), runs(&[])), ("2 and 3", "7", String::new()));
    }

    // A string across the middle of the wagon weighs on both bogies alike in every lane: axles and front to rear stay,
    // left to right is least in lane 3, the middle one.
    #[test]
    fn every_curve_is_told_with_its_largest_and_least_value() {
        let words = told(one(), Knob::Lane);
        assert!(words.contains("Axle load of vehicle W2, front bogie: 6.30 t all along."), "{words}");
        assert!(
            words.contains("Left to right ratio of vehicle W2, front bogie: largest 1.17 : 1 in lane 1"),
            "{words}"
        );
        assert!(words.contains(", least 1.02 : 1 in lane 5 and elsewhere."), "{words}");
        assert!(words.contains("Rack load of vehicle W2 rack 1: 0.43 t all along."), "{words}");
    }

    #[test]
    fn along_the_states_each_figure_is_told_with_its_state() {
        let mut plan = one();
        place(&mut plan, "S2", 20_000, (1, 10, 19_850));
        plan.drops = vec![drop_off("A", &["S1", "S2"])];
        let figures = Figures::of(Arc::new(plan), Scope::All);
        let readings: Vec<Reading> =
            (0..figures.states.len()).filter_map(|at| Reading::in_state(at as i64, &figures, at)).collect();
        let focus = Focus { vehicle: Some(1), rack: None };
        let words = explain(Along::States(&readings), &ALL, focus, &figures);
        let words: Vec<String> = words.iter().map(|text| text.show(Style::default())).collect();
        let told = "Axle load of vehicle W2, front bogie: largest 6.60 t at departure, least 6.00 t after step 2 of A and elsewhere.";
        assert!(words.iter().any(|words| words == told), "{words:?}");
        let told = "Left to right ratio of vehicle W2, front bogie: largest 1.17 : 1 after step 1 of A, least 1.00 : 1 at \
                    departure and elsewhere.";
        assert!(words.iter().any(|words| words == told), "{words:?}");
    }

    #[test]
    fn a_missing_rating_is_told_and_an_entered_one_is_not() {
        assert!(!told(one(), Knob::Count).contains("Not entered"));
        let mut plan = one();
        plan.train.rack_types[0].rack_rating_kg = None;
        assert!(told(plan, Knob::Count).contains("Not entered: rack rating."));
    }
}
