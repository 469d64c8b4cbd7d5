//! Every string of every step of every drop with a chute: its leads, sideways shift and largest stress.

use super::drawing::{Chute, Drawn, Reach};
use super::peak::Shifted;
use super::{Bar, DropTimes, EdgeModuli, Lead, OverRacks, Peak, Sideways};
use crate::model::{Drop, MassEntry, OrderedString, Plan, StepKind, TrainEnd};
use crate::statics::Figures;
use crate::statics::placed::modulus_pa;
use crate::units::STANDARD_GRAVITY_M_S2;
use std::collections::HashMap;

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
    /// Length of string still behind the last support when that is, in m: that of the worst moment on the way, for
    /// [`EndCondition::OverRacks`]; 0 for the others.
    pub behind_m: f64,
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

/// What the cases of a string depend on: drop, end, section, bits of weight and stiffness, how far it is drawn off.
type Key = (usize, TrainEnd, usize, [u64; 2], Option<Reach>);

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
        let chute = Chute::of(&figures.consist, self.toward, (deck_m, roller(drop)));
        // Lying over racks it has its lead and more.
        let drawn = chute.filter(|_| length_m > free_m).map(|chute| (chute.reach(length_m - free_m), chute));
        let key = (self.drop, self.toward, section, bits, drawn.as_ref().map(|(reach, _)| *reach));
        let cases = solved.entry(key).or_insert_with(|| {
            let bending = (shift, moduli.as_ref().ok());
            let worst = drawn.and_then(|(reach, chute)| {
                chute.worst(bar, reach, |racks| match bending {
                    (Some(shift), Some(moduli)) => rough_stress_pa(racks, shift, moduli),
                    _ => racks.largest_moment_nm(),
                })
            });
            cases(bar, height_m, worst, bending)
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

/// Sideways stiffness and shift where the seat lies beside the lane, and the moduli where they are entered.
type Bending<'a> = (Option<(f64, f64)>, Option<&'a EdgeModuli>);

/// The largest stress of a string over racks that is shifted sideways, near enough to rank moments by.
fn rough_stress_pa(racks: &OverRacks, (stiffness_n_m2, offset_m): (f64, f64), moduli: &EdgeModuli) -> f64 {
    let side = Sideways::guided(stiffness_n_m2, offset_m, racks);
    Peak::rough_pa(&racks.lead, Some(racks), Some(&side), moduli)
}

fn cases(bar: Bar, height_m: f64, worst: Option<Drawn>, (shift, moduli): Bending<'_>) -> Vec<EndCase> {
    let case = |condition, lead: Lead, drawn: Option<Drawn>| {
        let sideways = shift.map(|(stiffness_n_m2, offset_m)| match (&drawn, condition) {
            (Some(drawn), _) => Sideways::guided(stiffness_n_m2, offset_m, &drawn.racks),
            (None, EndCondition::HeldLevel) => Sideways::held(stiffness_n_m2, offset_m, lead.length_m),
            (None, _) => Sideways::pinned(stiffness_n_m2, offset_m, lead.length_m),
        });
        let (behind_m, racks) = drawn.map_or((0.0, None), |drawn| (drawn.behind_m, Some(drawn.racks)));
        let peak = moduli.map(|moduli| Peak::scan(&lead, racks.as_ref(), sideways.as_ref(), moduli));
        EndCase { condition, lead, behind_m, racks, sideways, peak }
    };
    let mut cases = vec![case(EndCondition::FreeEnd, Lead::free_end(bar, height_m), None)];
    cases.extend(worst.map(|drawn| case(EndCondition::OverRacks, drawn.racks.lead, Some(drawn))));
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
        // The reference wagons' racks: 6.633 m apart on a wagon, 6.634 m over the coupling; 193 MPa for a long string, and
        // 194.3 where its rear end bends it most (independent reference: finite elements).
        let racks = both.strings[0].case(EndCondition::OverRacks).unwrap();
        within(racks.peak.unwrap().stress_pa, 194.27e6, 1.0e-3);
        assert!(racks.behind_m > 6.0 && racks.behind_m < 180.0 - racks.lead.length_m);
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
