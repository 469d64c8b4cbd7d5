//! Check `unloading-stress`: the bending of each string as it is drawn off or onto the train.

use super::reading::string_name;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::{Drop, LimitKind, Topic};
use crate::statics::{EndCase, EndCondition, Peak, StateRule, StepString};
use crate::text;
use crate::units::{Quantity, Text};

pub(crate) static CHECK: Check = Check {
    id: "unloading-stress",
    title: "Stress while unloading",
    what: "The largest bending stress of each string that a drop takes off or brings, between its last support and \
           the seat: while it still runs over the racks of the train (it lifts off some), and at last with its end \
           free on the last rack or chute roller; with the bending sideways to the seat at the same place, never \
           peak plus peak. Pockets are taken without play, which gives the larger bending sideways. Against the \
           least of the limit of stress while unloading and the handling and yield stress of the string's steel.",
    why: "Drawn off, a string sees ten times the stress that it sees at rest; bent past yield it never lies straight \
          again.",
    mend: "Set a chute roller behind the last rack and lower than it, lower the chute, or set the train nearer to \
           the seat.",
    source: "beam over one-sided supports and a level seat (statics; Roark's Formulas for Stress and Strain); the \
             stresses allowed are the plan's own",
    run,
};

/// The least stress that is allowed, in Pa, with where it comes from.
struct Allowed {
    pa: f64,
    source: String,
}

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::Unloading) {
        return;
    }
    let figures = judge.figures;
    if !figures.plan.drops.iter().any(|drop| !drop.steps.is_empty()) {
        judge.not_applicable(text!["no drop moves a string"]);
        return;
    }
    for (index, drop) in figures.plan.drops.iter().enumerate().filter(|(_, drop)| !drop.steps.is_empty()) {
        judge_drop(judge, index, drop);
    }
    let entered = figures.plan.limits.get(LimitKind::UnloadingStress).is_some();
    let limit = entered.then(|| judge.limit(LimitKind::UnloadingStress)).flatten();
    let limit = limit.map(|limit| Allowed { pa: limit.by(StateRule::Working), source: limit.source });
    for moved in &figures.unloading().strings {
        judge_string(judge, moved, (limit.as_ref(), entered));
    }
}

/// Tells what a drop does not say of its chute.
fn judge_drop(judge: &mut Judge<'_>, index: usize, drop: &Drop) {
    let subject = Subject::Drop(index);
    let missing = |what: &str| text![what, " is not entered for drop ", drop.name.as_str()];
    match drop.chute_height {
        None => judge.undecided(subject, missing("chute height")),
        Some(height) if height.mm() == 0 => {
            judge.note(
                None,
                subject,
                text!["strings are drawn off level with the seat at ", drop.name.as_str()],
            );
        }
        Some(_) => {}
    }
    if drop.seat_offset.is_none() {
        judge.undecided(subject, missing("sideways distance to the seat (0 where it lies in line)"));
    }
    match (drop.chute_roller_behind, drop.chute_roller_lower) {
        (Some(_), None) => judge.undecided(subject, missing("how much lower the chute roller is")),
        (None, Some(_)) => judge.undecided(subject, missing("how far behind the chute roller is")),
        _ => {}
    }
}

fn judge_string(judge: &mut Judge<'_>, moved: &StepString, (limit, entered): (Option<&Allowed>, bool)) {
    let figures = judge.figures;
    let subject = Subject::String(moved.string);
    if moved.too_short {
        let what = || {
            text![
                string_name(figures, moved.string),
                " is shorter than the lead: it falls off its last support before it lies on the seat"
            ]
        };
        judge.fail(None, subject.by_rule("lead"), what, || text!["lift it off, or lower its last support"]);
        return;
    }
    if let Err(missing) = &moved.moduli {
        let Some(section) = section_of(judge, moved.string) else { return };
        let name = figures.plan.sections.get(section).map_or("?", |section| section.name.as_str());
        for what in missing {
            judge.undecided(Subject::Section(section), text![*what, " of section ", name, " is not entered"]);
        }
        return;
    }
    let Some((case, peak)) = moved.worst() else { return };
    let Some(allowed) = allowed(judge, moved.string, limit, entered) else { return };
    judge.source(&allowed.source);
    let comparison = Comparison::new(Quantity::stress(peak.stress_pa), allowed.pa, Sense::AtMost);
    // Without the place of the seat the stress can only be more: a fail stands, a pass would say too much.
    if moved.seat_offset_m.is_some() || !comparison.holds() {
        judge.compare_with(None, subject, comparison, || {
            place_words(Subject::Drop(moved.drop).place(figures), case, &peak)
        });
    }
}

/// Where the largest stress is, and in which case.
fn place_words(drop: String, case: &EndCase, peak: &Peak) -> Text {
    let how = match case.condition {
        EndCondition::FreeEnd => text![" with its end free on the last support, "],
        EndCondition::OverRacks => {
            let behind = Quantity::length_m(case.behind_m);
            text![" while it runs over the racks with ", behind, " behind its last support, "]
        }
        EndCondition::HeldLevel => text![" held level, "],
    };
    let mut words = text![" at ", drop];
    words.0.extend(how.0);
    words.0.extend(text![Quantity::length_m(peak.from_seat_m), " from where it comes to lie"].0);
    words
}

fn section_of(judge: &Judge<'_>, string: usize) -> Option<usize> {
    let plan = &judge.figures.plan;
    let wanted = &plan.order.get(string)?.section;
    plan.sections.iter().position(|section| section.name == *wanted)
}

/// The least of what is entered; none where that cannot be said, which is then told.
fn allowed(judge: &mut Judge<'_>, string: usize, limit: Option<&Allowed>, entered: bool) -> Option<Allowed> {
    let plan = &judge.figures.plan;
    let steel = plan.order.get(string)?.steel.as_ref().and_then(|name| plan.steel(name));
    let of_steel = |mpa: Option<f64>, what: &str| {
        let steel = steel?;
        Some(Allowed {
            pa: mpa? * 1.0e6,
            source: format!("{what} of steel {}: {}", steel.name, steel.source.text),
        })
    };
    let handling = of_steel(steel.and_then(|steel| steel.handling_mpa), "handling stress");
    let yields = of_steel(steel.and_then(|steel| steel.yield_mpa), "yield");
    if limit.is_none() && handling.is_none() && !entered {
        let what = text![
            "neither a limit of stress while unloading nor a handling stress of its steel is entered for ",
            string_name(judge.figures, string)
        ];
        judge.undecided(Subject::String(string), what);
    }
    let limit = limit.map(|limit| Allowed { pa: limit.pa, source: limit.source.clone() });
    let decided = limit.is_some() || handling.is_some();
    let least = [limit, handling, yields].into_iter().flatten().min_by(|a, b| a.pa.total_cmp(&b.pa))?;
    decided.then_some(least)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome::{self, Fail, Near, NotApplicable, NotAsked, Note, Undecided};
    use crate::checks::trial::{expect, findings_of, words};
    use crate::fixtures::{drop_off, empty_plan, limit, place};
    use crate::model::{Plan, Source, Steel, SteelName, Sureness};
    use crate::units::Length;

    /// 120 m of 60E1 drawn off at 1.2 m over the rear, in line; at most `most_mpa`.
    fn plan(most_mpa: f64) -> Plan {
        let mut plan = empty_plan(7);
        plan.route.asked.push(Topic::Unloading);
        place(&mut plan, "S1", 120_000, (1, 1, 5_000));
        let mut drop = drop_off("Eastmoor", &["S1"]);
        (drop.chute_height, drop.seat_offset) = (Some(Length::from_mm(1_200)), Some(Length::ZERO));
        plan.drops.push(drop);
        plan.limits.entries.insert(LimitKind::UnloadingStress, limit(most_mpa * 1.0e6));
        plan
    }

    fn steel(plan: &mut Plan, handling_mpa: Option<f64>, yield_mpa: Option<f64>) {
        let name = SteelName::new("R260").unwrap();
        plan.steels.push(Steel {
            name: name.clone(),
            modulus_gpa: 210.0,
            expansion_1e6_per_k: None,
            density_kg_per_m3: None,
            tensile_mpa: None,
            yield_mpa,
            handling_mpa,
            source: Source { text: "test".to_owned(), sure: Sureness::Entered },
        });
        plan.order[0].steel = Some(name);
    }

    fn check(plan: Plan, expected: &[(Outcome, &str)]) {
        expect(&CHECK, plan, expected);
    }

    // Project test value (mechanics.md 6): 193 MPa over deck racks at 6.633 m, 1.2 m above the seat; 194.3 where the rear
    // end is when it bends it most (independent reference: finite elements, the rear end moved by 0.25 m).
    #[test]
    fn the_stress_over_the_racks_is_kept_from_both_sides_of_the_limit() {
        let stress_pa = findings_of(&CHECK, plan(250.0))[0].comparison.unwrap().demand.value;
        assert!((stress_pa - 194.3e6).abs() < 0.2e6, "{stress_pa}");
        check(plan(stress_pa / 1.0e6 + 0.01), &[(Near, "string S1")]);
        check(plan(stress_pa / 1.0e6 - 0.01), &[(Fail, "string S1")]);
        check(plan(250.0), &[]);
        assert!(
            words(&findings_of(&CHECK, plan(100.0))).contains("drop Eastmoor while it runs over the racks")
        );
    }

    #[test]
    fn the_least_of_limit_handling_and_yield_counts() {
        for (limit_mpa, handling_mpa, yield_mpa, expected) in [
            (250.0, Some(190.0), None, vec![(Fail, "string S1")]),
            (250.0, None, Some(190.0), vec![(Fail, "string S1")]),
            (190.0, Some(250.0), Some(420.0), vec![(Fail, "string S1")]),
            (250.0, Some(250.0), Some(420.0), vec![]),
        ] {
            let mut plan = plan(limit_mpa);
            steel(&mut plan, handling_mpa, yield_mpa);
            check(plan, &expected);
        }
        let mut only_steel = plan(1.0);
        only_steel.limits.entries.remove(&LimitKind::UnloadingStress);
        steel(&mut only_steel, Some(250.0), None);
        check(only_steel, &[]);
    }

    #[test]
    fn sideways_to_the_seat_it_is_more() {
        let mut plan = plan(250.0);
        plan.drops[0].seat_offset = Some(Length::from_mm(1_000));
        check(plan, &[(Fail, "string S1")]);
    }

    #[test]
    fn what_is_missing_is_undecided_and_named() {
        let without = |take: &dyn Fn(&mut Plan), expected: &[(Outcome, &str)]| {
            let mut plan = plan(250.0);
            take(&mut plan);
            check(plan, expected);
        };
        without(&|plan| plan.drops[0].chute_height = None, &[(Undecided, "drop Eastmoor")]);
        without(&|plan| plan.drops[0].seat_offset = None, &[(Undecided, "drop Eastmoor")]);
        without(&|plan| plan.sections[0].wx_head_cm3 = None, &[(Undecided, "section 60E1")]);
        let no_limit = |plan: &mut Plan| {
            plan.limits.entries.remove(&LimitKind::UnloadingStress);
        };
        without(&no_limit, &[(Undecided, "string S1")]);
        let not_accepted = |plan: &mut Plan| {
            let limit = plan.limits.entries.get_mut(&LimitKind::UnloadingStress).unwrap();
            limit.accepted_by = None;
        };
        without(&not_accepted, &[(Undecided, "limit stress while unloading")]);
        let half_a_roller =
            |plan: &mut Plan| plan.drops[0].chute_roller_behind = Some(Length::from_mm(6_000));
        without(&half_a_roller, &[(Undecided, "drop Eastmoor")]);
    }

    #[test]
    fn a_fail_stands_even_where_the_seat_is_not_known() {
        let mut plan = plan(150.0);
        plan.drops[0].seat_offset = None;
        check(plan, &[(Fail, "string S1"), (Undecided, "drop Eastmoor")]);
    }

    #[test]
    fn a_string_that_falls_off_fails_and_one_drawn_off_level_is_noted() {
        let mut short = plan(250.0);
        short.order[0].length = Length::from_mm(23_000);
        check(short, &[(Fail, "string S1, lead")]);
        let mut level = plan(250.0);
        level.drops[0].chute_height = Some(Length::ZERO);
        check(level, &[(Note, "drop Eastmoor")]);
    }

    #[test]
    fn not_asked_and_no_drops_are_told() {
        let mut plan = plan(250.0);
        plan.drops[0].steps.clear();
        check(plan.clone(), &[(NotApplicable, "plan")]);
        plan.route.asked.clear();
        check(plan, &[(NotAsked, "plan")]);
    }
}
