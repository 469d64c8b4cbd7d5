//! Every string of every step of every drop with a chute: its leads, sideways shift and largest stress.

use super::peak::Shifted;
use super::{Bar, ChuteLine, DropTimes, EdgeModuli, Lead, OverRacks, Peak, Sideways};
use crate::model::{Drop, MassEntry, OrderedString, Plan, StepKind, TrainEnd};
use crate::statics::placed::modulus_pa;
use crate::statics::{Consist, Figures};
use crate::units::STANDARD_GRAVITY_M_S2;
use std::collections::HashMap;

/// Supports inward of the end that are looked at: what lies further in is felt by less than a millionth.
const MOST_RACKS: usize = 24;

/// All that is worked out of unloading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Unloading {
    /// One per string of each step, in the order of drops, steps and strings; none for drops without a chute height.
    pub strings: Vec<StepString>,
    /// One per drop.
    pub times: Vec<DropTimes>,
}

/// How a string is held at its last support.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EndCondition {
    /// Its end lies free on the support: the last moment of drawing off.
    FreeEnd,
    /// It runs on over the racks of the train, lifting off some: all the time before.
    OverRacks,
    /// It is held level there: what a clamp or a stiff guide would do.
    HeldLevel,
}

/// One end condition worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct EndCase {
    /// Which.
    pub condition: EndCondition,
    /// The lead.
    pub lead: Lead,
    /// The racks' side, for [`EndCondition::OverRacks`].
    pub racks: Option<OverRacks>,
    /// The bending to the seat; none where the seat lies under the lane, or its place or E Iy is not known.
    pub sideways: Option<Sideways>,
    /// The largest stress; none where section data are missing.
    pub peak: Option<Peak>,
}

/// One string of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct StepString {
    /// Index into `plan.drops`.
    pub drop: usize,
    /// Index into the drop's steps.
    pub step: usize,
    /// Index into `plan.order`.
    pub string: usize,
    /// Off or on; both bend the string alike.
    pub kind: StepKind,
    /// The end of the train over which it goes.
    pub toward: TrainEnd,
    /// The string as a bar.
    pub bar: Bar,
    /// Height of its last support, rack or chute roller, above the seat in m.
    pub height_m: f64,
    /// Distance from its lane to the seat in m; none: not entered.
    pub seat_offset_m: Option<f64>,
    /// Section moduli, or what is not entered of them.
    pub moduli: Result<EdgeModuli, Vec<&'static str>>,
    /// Free end, over the racks (where the train has racks and the string is long enough), held level.
    pub cases: Vec<EndCase>,
    /// Whether the string is shorter than the lead of a free end: it falls before it lies on the seat.
    pub too_short: bool,
}

impl StepString {
    /// The worse of what happens while it is drawn off: over the racks, and at last with its end free.
    pub fn worst(&self) -> Option<(&EndCase, Peak)> {
        let happens = self.cases.iter().filter(|case| case.condition != EndCondition::HeldLevel);
        happens
            .filter_map(|case| Some((case, case.peak?)))
            .max_by(|a, b| a.1.stress_pa.total_cmp(&b.1.stress_pa))
    }

    /// The case of a condition.
    pub fn case(&self, condition: EndCondition) -> Option<&EndCase> {
        self.cases.iter().find(|case| case.condition == condition)
    }
}

/// Works out unloading for all drops of the plan.
pub(in crate::statics) fn unloading_of(figures: &Figures) -> Unloading {
    let plan = &figures.plan;
    let mut solved: HashMap<Key, Vec<EndCase>> = HashMap::new();
    let mut unloading = Unloading::default();
    for (index, drop) in plan.drops.iter().enumerate() {
        unloading.times.push(DropTimes::of(plan, index, drop));
        for (step, taken) in drop.steps.iter().enumerate() {
            for mark in taken.strings.marks() {
                let Some(string) = plan.order.iter().position(|string| string.mark == *mark) else {
                    continue;
                };
                let toward = taken.toward.unwrap_or(drop.toward);
                let at = Place { drop: index, step, string, kind: taken.kind, toward };
                unloading.strings.extend(at.worked_out(figures, drop, &mut solved));
            }
        }
    }
    unloading
}

/// What the cases of a string depend on: drop, end, section, bits of weight and stiffness, length in mm.
type Key = (usize, TrainEnd, usize, [u64; 2], i64);

struct Place {
    drop: usize,
    step: usize,
    string: usize,
    kind: StepKind,
    toward: TrainEnd,
}

impl Place {
    fn worked_out(
        &self,
        figures: &Figures,
        drop: &Drop,
        solved: &mut HashMap<Key, Vec<EndCase>>,
    ) -> Option<StepString> {
        let plan = &figures.plan;
        let ordered = &plan.order[self.string];
        let section = plan.sections.iter().position(|section| section.name == ordered.section)?;
        let deck_m = drop.chute_height.filter(|height| height.mm() > 0)?.m();
        let lower_m = roller(drop).map_or(0.0, |(_, lower_m)| lower_m);
        let height_m = deck_m - lower_m;
        if height_m <= 0.0 {
            return None;
        }
        let bar = bar_of(plan, section, ordered);
        let seat_offset_m = drop.seat_offset.map(|offset| offset.m().abs());
        let shifted = if seat_offset_m.is_some_and(|m| m > 0.0) { Shifted::Sideways } else { Shifted::No };
        let moduli = EdgeModuli::of(&plan.sections[section], shifted);
        let side_stiffness_n_m2 =
            plan.sections[section].iy_cm4.map(|iy_cm4| modulus_pa(plan, ordered) * iy_cm4 * 1.0e-8);
        let shift = match shifted {
            Shifted::No => None,
            Shifted::Sideways => side_stiffness_n_m2.zip(seat_offset_m),
        };
        let length_m = ordered.length.m();
        let free_m = Lead::free_end(bar, height_m).length_m;
        let bits = [bar.weight_n_per_m.to_bits(), bar.stiffness_n_m2.to_bits()];
        let key = (self.drop, self.toward, section, bits, ordered.length.mm());
        let cases = solved.entry(key).or_insert_with(|| {
            let line = chute_line(&figures.consist, self.toward, (deck_m, roller(drop)), length_m - free_m);
            cases(bar, height_m, line.as_ref(), (shift, moduli.as_ref().ok()))
        });
        Some(StepString {
            drop: self.drop,
            step: self.step,
            string: self.string,
            kind: self.kind,
            toward: self.toward,
            bar,
            height_m,
            seat_offset_m,
            moduli,
            cases: cases.clone(),
            too_short: length_m < free_m,
        })
    }
}

/// The string as a bar: the mass that the plan goes by, spread evenly.
fn bar_of(plan: &Plan, section: usize, ordered: &OrderedString) -> Bar {
    let mass_kg = match ordered.mass {
        MassEntry::Computed => plan.sections[section].mass_kg(ordered.length),
        MassEntry::Stated { kg, .. } => kg,
    };
    Bar {
        weight_n_per_m: mass_kg * STANDARD_GRAVITY_M_S2 / ordered.length.m(),
        stiffness_n_m2: modulus_pa(plan, ordered) * plan.sections[section].ix_cm4 * 1.0e-8,
    }
}

/// How far behind the last rack the chute roller is and how much lower, in m; none without one.
fn roller(drop: &Drop) -> Option<(f64, f64)> {
    drop.chute_roller_behind.zip(drop.chute_roller_lower).map(|(behind, lower)| (behind.m(), lower.m()))
}

/// The supports from an end of the train inward, for a string that has `tail_m` left behind its last support.
fn chute_line(
    consist: &Consist,
    toward: TrainEnd,
    (deck_m, roller): (f64, Option<(f64, f64)>),
    tail_m: f64,
) -> Option<ChuteLine> {
    let mut inward_m: Vec<f64> = match toward {
        TrainEnd::Front => {
            let last = consist.racks.first()?.x;
            consist.racks.iter().map(|rack| (rack.x - last).m()).collect()
        }
        TrainEnd::Rear => {
            let last = consist.racks.last()?.x;
            consist.racks.iter().rev().map(|rack| (last - rack.x).m()).collect()
        }
    };
    inward_m.dedup_by(|next, before| next <= before);
    let behind_m = roller.map_or(0.0, |(behind_m, _)| behind_m);
    inward_m.retain(|inward_m| inward_m + behind_m <= tail_m);
    let cut = inward_m.len() > MOST_RACKS;
    inward_m.truncate(MOST_RACKS);
    let innermost_m = *inward_m.last()?;
    let mut places_m: Vec<f64> = inward_m.iter().rev().map(|inward_m| -inward_m).collect();
    let mut heights_m = vec![deck_m; places_m.len()];
    if let Some((behind_m, lower_m)) = roller.filter(|(behind_m, _)| *behind_m > 0.0) {
        places_m.push(behind_m);
        heights_m.push(deck_m - lower_m);
    }
    let tail_m = if cut { 0.0 } else { tail_m - behind_m - innermost_m };
    Some(ChuteLine { places_m, heights_m, tail_m })
}

/// Sideways stiffness and shift where the seat lies beside the lane, and the moduli where they are entered.
type Bending<'a> = (Option<(f64, f64)>, Option<&'a EdgeModuli>);

fn cases(bar: Bar, height_m: f64, line: Option<&ChuteLine>, (shift, moduli): Bending<'_>) -> Vec<EndCase> {
    let case = |condition, lead: Lead, racks: Option<OverRacks>| {
        let sideways = shift.map(|(stiffness_n_m2, offset_m)| match (&racks, condition) {
            (Some(racks), _) => Sideways::guided(stiffness_n_m2, offset_m, racks),
            (None, EndCondition::HeldLevel) => Sideways::held(stiffness_n_m2, offset_m, lead.length_m),
            (None, _) => Sideways::pinned(stiffness_n_m2, offset_m, lead.length_m),
        });
        let peak = moduli.map(|moduli| Peak::scan(&lead, racks.as_ref(), sideways.as_ref(), moduli));
        EndCase { condition, lead, racks, sideways, peak }
    };
    let mut cases = vec![case(EndCondition::FreeEnd, Lead::free_end(bar, height_m), None)];
    if let Some(racks) = line.and_then(|line| OverRacks::solve(bar, line)) {
        cases.push(case(EndCondition::OverRacks, racks.lead, Some(racks)));
    }
    cases.push(case(EndCondition::HeldLevel, Lead::held_level(bar, height_m), None));
    cases
}

#[cfg(test)]
mod tests {
    use super::super::lead::tests::within;
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{FeedSpeeds, StepStrings, StringMark};
    use crate::statics::Scope;
    use crate::units::Length;
    use std::sync::Arc;

    /// 10 reference wagons, two strings of 180 m, taken off as a pair over the rear at 1.2 m.
    fn plan() -> Plan {
        let mut plan = empty_plan(10);
        place(&mut plan, "S1", 180_000, (1, 1, 5_000));
        place(&mut plan, "S2", 180_000, (1, 10, 5_000));
        let mut drop = drop_off("Eastmoor", &["S1"]);
        drop.steps[0].strings = StepStrings::Pair {
            first: StringMark::new("S1").unwrap(),
            second: StringMark::new("S2").unwrap(),
            together: true,
        };
        drop.chute_height = Some(Length::from_mm(1_200));
        plan.drops.push(drop);
        plan
    }

    fn unloading(plan: Plan) -> Unloading {
        Figures::of(Arc::new(plan), Scope::One(0)).unloading().clone()
    }

    #[test]
    fn every_string_of_a_step_is_worked_out_over_the_real_racks() {
        let both = unloading(plan());
        assert_eq!(both.strings.iter().map(|string| string.string).collect::<Vec<_>>(), [0, 1]);
        // The reference wagons' racks: 6.633 m apart on a wagon, 6.634 m over the coupling.
        let racks = both.strings[0].case(EndCondition::OverRacks).unwrap();
        within(racks.peak.unwrap().stress_pa, 193.0e6, 5.0e-3);
        let (worst, peak) = both.strings[0].worst().unwrap();
        assert_eq!(worst.condition, EndCondition::OverRacks);
        assert!(
            peak.stress_pa > both.strings[0].case(EndCondition::FreeEnd).unwrap().peak.unwrap().stress_pa
        );
    }

    #[test]
    fn a_symmetrical_train_bends_a_string_alike_over_either_end() {
        let rear = unloading(plan());
        let mut plan = plan();
        plan.drops[0].toward = TrainEnd::Front;
        let front = unloading(plan);
        assert_eq!(front.strings[0].toward, TrainEnd::Front);
        assert_eq!(front.strings[0].cases, rear.strings[0].cases);
    }

    #[test]
    fn without_a_chute_height_nothing_is_worked_out_and_a_short_string_is_told() {
        let mut none = plan();
        none.drops[0].chute_height = None;
        assert!(unloading(none).strings.is_empty());
        let mut short = plan();
        short.order[0].length = Length::from_mm(23_000);
        let short = unloading(short);
        assert_eq!([short.strings[0].too_short, short.strings[1].too_short], [true, false]);
        assert!(short.strings[0].case(EndCondition::OverRacks).is_none());
    }

    #[test]
    fn a_seat_without_section_data_has_no_stress_and_says_what_is_missing() {
        let mut lacking = plan();
        lacking.drops[0].seat_offset = Some(Length::from_mm(700));
        lacking.sections[0].iy_cm4 = None;
        let lacking = unloading(lacking);
        assert_eq!(
            lacking.strings[0].moduli.as_ref().unwrap_err()[0],
            "second moment of area about the vertical axis"
        );
        assert!(lacking.strings[0].worst().is_none());
    }

    // Project facts, section 4: 180 m at 2,700 m/h take 4.0 minutes, the time stated for loading a pair of 180 m.
    #[test]
    fn a_pair_that_goes_together_is_fed_in_the_time_of_one() {
        let mut timed = plan();
        timed.route.feed = Some(FeedSpeeds { loading_m_per_s: None, unloading_m_per_s: Some(0.75) });
        timed.drops[0].handling_min = Some(3.0);
        timed.drops[0].possession_min = Some(60.0);
        let times = &unloading(timed.clone()).times[0];
        within(times.steps[0].feeding_s.unwrap(), 240.0, 1.0e-12);
        within(times.total_s.unwrap(), 420.0, 1.0e-12);
        within(times.possession_s.unwrap(), 3_600.0, 1.0e-12);
        if let StepStrings::Pair { together, .. } = &mut timed.drops[0].steps[0].strings {
            *together = false;
        }
        within(unloading(timed.clone()).times[0].total_s.unwrap(), 660.0, 1.0e-12);
        timed.drops[0].steps[0].kind = StepKind::On;
        assert_eq!(unloading(timed).times[0].total_s, None);
    }
}
