//! Check `wheel-balance`: the ratio of the two wheels of each axle, by the worse of two assumptions.

use super::bearing::{States, axle_subject, on_bogies};
use super::{Check, Comparison, Judge, Sense};
use crate::model::LimitKind;
use crate::statics::SupportLoads;
use crate::text;
use crate::units::{Quantity, Text};

pub(crate) static CHECK: Check = Check {
    id: "wheel-balance",
    title: "Left and right wheel loads",
    what: "The heavier over the lighter wheel load of each axle, against the wheel load ratio. How a load beside \
           the middle line is shared between the two ends of a wagon depends on how stiff its body twists: half \
           and half if it is stiff, by the lever rule if it is soft. The worse of the two is judged, bogie by \
           bogie: a wagon balanced as a whole may stand askew on both of its bogies.",
    why: "A lightly loaded wheel climbs the rail in a twist or a curve. Half-unloaded trains are where it \
          happens: one string too many off one side of a nearly empty wagon is enough.",
    mend: "Move strings over this bogie toward the lighter side, take the outermost lanes off first, and take \
           strings of the two sides off in turn or as pairs.",
    source: "UIC Loading Guidelines vol. 1 sec. 3.3 as quoted in doi 10.1007/s11071-021-06386-3 (1.25 : 1); the \
             value that is judged by is the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let states = judge.states().collect();
    judge_wheel_ratios(judge, &states);
}

/// Judges the two wheels of every axle in `states` against each other.
pub(super) fn judge_wheel_ratios(judge: &mut Judge<'_>, states: &States<'_>) {
    let Some(limit) = judge.limit(LimitKind::WheelRatio) else { return };
    for vehicle in 0..judge.figures.consist.vehicles.len() {
        let on_bogies = on_bogies(judge.figures, vehicle);
        for (state, rule) in states {
            let Some(loads) = state.vehicles.get(vehicle) else { continue };
            for (support, load) in loads.supports.iter().enumerate() {
                let ratio = Quantity::ratio(load.worse_ratio());
                let comparison = Comparison::new(ratio, limit.by(*rule), Sense::AtMost);
                let subject = axle_subject(on_bogies, vehicle, support);
                judge.compare_with(Some(state.state), subject, comparison, || worse_assumption(load));
            }
        }
    }
}

/// Which assumption gives the worse ratio, which side is the heavier by it, and whether the other lifts.
fn worse_assumption(load: &SupportLoads) -> Text {
    let soft = load.soft.ratio() > load.stiff.ratio();
    let sides = if soft { load.soft } else { load.stiff };
    let side = if sides.left_kg > sides.right_kg { ", left heavier" } else { ", right heavier" };
    let lifts = if sides.ratio().is_infinite() { ", the other wheel lifts" } else { "" };
    text![side, lifts, if soft { ", worse as a soft body" } else { ", worse as a stiff body" }]
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Note, Pass, Undecided};
    use crate::checks::bearing::testing::{check, findings, lay, lay_at, load_ahead, racks_at, worst_text};
    use crate::fixtures::{drop_off, empty_plan, limit};
    use crate::model::{LimitKind, Plan, StepStrings, StringMark, Tier};
    use crate::statics::{Figures, Scope};
    use std::sync::Arc;

    /// 20 m of 60E1.
    const STRING_KG: f64 = 20.0 * 60.21;

    fn limited(mut plan: Plan, ratio: f64) -> Plan {
        plan.limits.entries.insert(LimitKind::WheelRatio, limit(ratio));
        plan
    }

    /// One wagon of 24 t tare, its rack of 7 tiers and 8 lanes at 0.1, 0.3, 0.6 and 1.2 m on both sides.
    fn wide_rack() -> Plan {
        let mut plan = empty_plan(1);
        let rack = &mut plan.train.rack_types[0];
        rack.lanes_y_mm = vec![-1_200.0, -600.0, -300.0, -100.0, 100.0, 300.0, 600.0, 1_200.0];
        rack.tiers = (0..7)
            .map(|tier| Tier { seat_above_deck_mm: 250.0 * f64::from(tier), clear_mm: Some(200.0) })
            .collect();
        plan
    }

    /// 36 strings, symmetric; marks are `tier-lane`.
    fn thirty_six() -> Plan {
        let mut plan = wide_rack();
        for (tiers, lanes) in [(1..=7, [1, 8]), (1..=7, [2, 7]), (1..=4, [3, 6])] {
            for tier in tiers {
                for lane in lanes {
                    lay(&mut plan, &format!("{tier}-{lane}"), (tier, lane), 0, STRING_KG);
                }
            }
        }
        plan
    }

    /// The worst ratio over all states.
    fn worst_ratio(plan: &Plan) -> f64 {
        findings(&CHECK, plan)[0].comparison.unwrap().demand.value
    }

    // Shared facts, section 6 (computed: ratio (s + e)/(s - e), s = 0.75 m, e the offset of the gross centre).
    // 3 of 36 off at 1.2 m: e = 3 x 1.2042 x 1.2 / (24 + 33 x 1.2042) = 0.0680 m, 1.199; 4: 0.0924 m, 1.281.
    #[test]
    fn one_sided_unloading_of_36_strings_fails_at_the_string_that_the_table_says() {
        let off = |lane: u32, count: usize| -> Plan {
            let marks: Vec<String> = (1..=count).map(|tier| format!("{tier}-{lane}")).collect();
            let marks: Vec<&str> = marks.iter().map(String::as_str).collect();
            let mut plan = thirty_six();
            plan.drops.push(drop_off("Eastmoor", &marks));
            plan
        };
        for (lane, count, ratio) in [(8, 3, 1.199), (8, 4, 1.281), (7, 6, 1.213), (7, 7, 1.258)] {
            assert!((worst_ratio(&off(lane, count)) - ratio).abs() < 0.001, "{count} off lane {lane}");
        }
        let outcome = |plan: &Plan| findings(&CHECK, plan)[0].outcome;
        assert_eq!([3, 4].map(|count| outcome(&off(8, count))), [Near, Fail]);
        assert_eq!([6, 7].map(|count| outcome(&off(7, count))), [Near, Fail]);
    }

    // Same table: 1 or 2 strings left at 1.2 m on a wagon of 24 t: 1.166 and 1.342.
    #[test]
    fn the_last_strings_are_the_hard_part() {
        let mut plan = wide_rack();
        lay(&mut plan, "S1", (1, 8), 0, STRING_KG);
        assert!((worst_ratio(&plan) - 1.166).abs() < 0.001);
        check(&CHECK, &plan, &[]);
        lay(&mut plan, "S2", (2, 8), 0, STRING_KG);
        assert!((worst_ratio(&plan) - 1.342).abs() < 0.001);
        let bogies = [(Fail, "vehicle W1, front bogie"), (Fail, "vehicle W1, rear bogie")];
        check(&CHECK, &plan, &bogies);
    }

    // Side offset of the gross centre, s = 0.75 m: 1.25 at 83.3 mm, 1.5 at 150 mm, 2.0 at 250 mm. Here a load as
    // heavy as the tare lies twice that offset from the middle line.
    #[test]
    fn the_ratio_follows_the_offset_of_the_gross_centre() {
        for (load_y_mm, ratio) in [(500.0 / 3.0, 1.25), (300.0, 1.5), (500.0, 2.0)] {
            let mut plan = load_ahead(24_000.0, 24_000.0, 0, 1);
            plan.train.rack_types[0].lanes_y_mm = vec![load_y_mm];
            assert!((worst_ratio(&plan) - ratio).abs() < 1.0e-9, "{load_y_mm}");
            let told = |limit| findings(&CHECK, &limited(plan.clone(), limit))[0].outcome;
            assert_eq!([told(ratio), told(ratio - 0.001), told(2.0 * ratio)], [Near, Fail, Pass]);
        }
    }

    #[test]
    fn the_working_value_holds_between_the_steps_only() {
        let mut plan = thirty_six();
        plan.drops.push(drop_off("Eastmoor", &["1-8", "2-8", "3-8", "4-8", "1-1", "2-1", "3-1", "4-1"]));
        plan.limits.entries.get_mut(&LimitKind::WheelRatio).unwrap().working = Some(1.4);
        check(&CHECK, &plan, &[]);
        plan.drops[0].steps.truncate(4);
        let bogies = [(Fail, "vehicle W1, front bogie"), (Fail, "vehicle W1, rear bogie")];
        check(&CHECK, &plan, &bogies);
    }

    // Tare 24 t, 10 t at y = 1.2 m, 2 m ahead. Front bogie 18,408 kg: as a soft body 7,690 kg m, e = 0.4178 m,
    // 1.1677/0.3323 = 3.5147; as a stiff one 6,000 kg m, e = 0.3259 m, 2.537. Rear bogie 15,592 kg:
    // soft 4,310 kg m, 2.167; stiff 6,000 kg m, e = 0.3848 m, 3.108: there the stiff body is the worse.
    #[test]
    fn the_worse_assumption_is_named() {
        let plan = load_ahead(24_000.0, 10_000.0, 2_000, 10);
        let told = findings(&CHECK, &plan);
        let texts: Vec<String> = told.iter().map(|f| f.what.show(crate::units::Style::default())).collect();
        assert_eq!(
            texts,
            [
                "vehicle W1, front bogie: 3.51 : 1 of at most 1.25 : 1, right heavier, worse as a soft body",
                "vehicle W1, rear bogie: 3.11 : 1 of at most 1.25 : 1, right heavier, worse as a stiff body",
            ]
        );
    }

    // Tare 24 t, 60 t at y = 1.2 m: e = 0.857 m, beyond the wheels at 0.75 m.
    #[test]
    fn a_wheel_that_lifts_is_told() {
        let plan = load_ahead(24_000.0, 60_000.0, 0, 1);
        assert!(
            worst_text(&CHECK, &plan).ends_with("left heavier, the other wheel lifts, worse as a stiff body")
        );
    }

    // Half of the pair gone, 2,408 kg are left at 1.2 m: 1.342, as with two strings above.
    #[test]
    fn half_a_pair_is_judged_unless_its_strings_leave_together() {
        for (together, outcome) in [(false, Fail), (true, Note)] {
            let mut plan = wide_rack();
            lay(&mut plan, "S1", (1, 1), 0, 2.0 * STRING_KG);
            lay(&mut plan, "S2", (1, 8), 0, 2.0 * STRING_KG);
            plan.drops.push(drop_off("Eastmoor", &["S1"]));
            let [first, second] = ["S1", "S2"].map(|mark| StringMark::new(mark).unwrap());
            plan.drops[0].steps[0].strings = StepStrings::Pair { first, second, together };
            let bogies = [(outcome, "vehicle W1, front bogie"), (outcome, "vehicle W1, rear bogie")];
            check(&CHECK, &plan, &bogies);
        }
    }

    #[test]
    fn a_missing_or_unaccepted_limit_is_undecided() {
        let mut plan = thirty_six();
        plan.limits.entries.get_mut(&LimitKind::WheelRatio).unwrap().accepted_by = None;
        check(&CHECK, &plan, &[(Undecided, "limit wheel load ratio")]);
        plan.limits.entries.remove(&LimitKind::WheelRatio);
        check(&CHECK, &plan, &[(Undecided, "limit wheel load ratio")]);
    }

    // FRA report on a derailment of 2013: 26 pallets of 3,200 lb (1,451.5 kg), 24 of them on one side; more than
    // 1.9 : 1 for every plausible tare. Pallets of 48 in side by side: 0.61 m beside the middle line.
    #[test]
    fn a_load_nearly_all_on_one_side_fails_for_every_plausible_tare() {
        for tare_kg in [24_000.0, 30_000.0, 36_000.0, 40_000.0] {
            let mut plan = empty_plan(1);
            plan.train.vehicle_types[0].tare_kg = tare_kg;
            plan.train.rack_types[0].lanes_y_mm = vec![-610.0, 610.0];
            lay(&mut plan, "Left", (1, 1), 0, 24.0 * 1_451.5);
            lay(&mut plan, "Right", (1, 2), 0, 2.0 * 1_451.5);
            assert!(worst_ratio(&plan) > 1.9, "{tare_kg}");
            assert!(worst_text(&CHECK, &plan).contains("left heavier"));
        }
    }

    // JTSB RA2014-7 (press summaries): 3,600/540 kg and 1,800/180 kg left/right over the rear bogie of a wagon at
    // 58 % of its limit; the right wheels there were 20 to 25 % light, while the moment spread over the whole
    // wagon gives 11 %, a ratio of 1.11/0.89 = 1.247. Tare, places and widths are plausible ones.
    #[test]
    fn a_load_askew_over_one_bogie_is_not_hidden_by_a_wagon_balanced_as_a_whole() {
        let mut plan = empty_plan(1);
        let kind = &mut plan.train.vehicle_types[0];
        (kind.tare_kg, kind.wheel_contact_mm) = (18_400.0, 1_120.0);
        racks_at(&mut plan, &[-7_900, -6_900, -4_200, -3_200, -500, 500, 3_200, 4_200, 6_900, 7_900]);
        plan.train.rack_types[0].lanes_y_mm = vec![-550.0, 550.0];
        let halves = [
            (-7_400, 2_900.0, 2_900.0),
            (-3_700, 2_900.0, 2_900.0),
            (0, 2_900.0, 2_900.0),
            (3_700, 1_800.0, 180.0),
            (7_400, 3_600.0, 540.0),
        ];
        for (middle_mm, left_kg, right_kg) in halves {
            let front_mm = 9_950 + middle_mm - 1_000;
            lay_at(&mut plan, &format!("L{middle_mm}"), (1, 1, front_mm, 2_000), left_kg);
            lay_at(&mut plan, &format!("R{middle_mm}"), (1, 2, front_mm, 2_000), right_kg);
        }
        check(&CHECK, &plan, &[(Fail, "vehicle W1, rear bogie"), (Near, "vehicle W1, front bogie")]);
        assert!(worst_text(&CHECK, &plan).ends_with("left heavier, worse as a soft body"));
        let light = |ratio: f64| 1.0 - 2.0 / (1.0 + ratio);
        assert!((0.20..0.25).contains(&light(worst_ratio(&plan))));
        // The whole wagon would have passed: 4,680 kg x 0.55 m / 41.92 t / 0.56 m = 0.110.
        let figures = Figures::of(Arc::new(plan), Scope::All);
        let offset_m = -figures.worked[0].vehicles[0].centre_y_m;
        assert!((offset_m / 0.56 - 0.110).abs() < 0.001);
        assert!((0.56 + offset_m) / (0.56 - offset_m) < 1.25);
    }

    // Untervaz 2018 (press summaries): one side loaded, the other not yet.
    #[test]
    fn a_half_finished_one_sided_load_fails() {
        let mut plan = thirty_six();
        let right = |lane: u32| lane > 4;
        plan.placements.retain(|placement| !right(placement.lane));
        plan.order.retain(|string| !right(string.mark.as_str()[2..].parse().unwrap()));
        let bogies = [(Fail, "vehicle W1, front bogie"), (Fail, "vehicle W1, rear bogie")];
        check(&CHECK, &plan, &bogies);
        assert!(worst_text(&CHECK, &plan).contains("left heavier"));
    }

    #[test]
    fn a_symmetric_load_passes() {
        check(&CHECK, &thirty_six(), &[]);
        assert!((worst_ratio(&thirty_six()) - 1.0).abs() < 1.0e-9);
    }
}
