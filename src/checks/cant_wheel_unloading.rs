//! Check `cant-wheel-unloading`: load that the wheels of one side lose on cant, standing and at speed.

use super::bearing::bears_strings;
use super::leaning::{case_words, cases, judge_leaning, tell_missing_roll};
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::{LimitKind, Topic};
use crate::statics::cant::{CantCase, Leaning};
use crate::text;
use crate::units::{Quantity, Text};

pub(crate) static CHECK: Check = Check {
    id: "cant-wheel-unloading",
    title: "Wheel unloading on cant",
    what: "The share of their load that the wheels of one side lose, against the wheel unloading on cant: \
           standing on the greatest cant of the route in every state, and at the route's speeds, cants and \
           greatest cant deficiency while the train travels; with the side offset of the load over the worse \
           bogie. On a rigid body, and with the roll of the body on its springs where that is entered.",
    why: "A train stands wherever it is stopped. A full load with its centre at 1.65 m loses 22 % on 150 mm of \
          cant before the springs give, 25 % with them, and the side offset comes on top.",
    mend: "Fill the lower tiers first, bring the load to the middle, or have the train stop where the cant is \
           less.",
    source: "Statics: dQ/Q = 2 [h (1 + s) |a/g| + |y|] / b, a/g = v^2/(R g) - D/b, s = W h_s / (k - W h_s). For \
             comparison, 49 CFR 213.329 wants 60 % of the wheel load left on 7 in. The limit is the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    if !judge.asked(Topic::Cant) {
        return;
    }
    let Some(limit) = judge.limit(LimitKind::WheelUnloading) else { return };
    let cases = cases(judge);
    let bears = bears_strings(judge.figures);
    judge_leaning(judge, &cases, |judge, (state, rule, vehicle), (lean, case)| {
        let side_g = case.side_g(lean.contact_m);
        let s = lean.roll.unwrap_or(0.0);
        let share = Quantity::share(lean.unloading(side_g, s));
        let comparison = Comparison::new(share, limit.by(rule), Sense::AtMost);
        judge.compare_with(Some(state), Subject::Vehicle(vehicle), comparison, || words(lean, case));
        if bears[vehicle] {
            tell_missing_roll(judge, vehicle, lean.roll);
        }
    });
}

fn words(lean: &Leaning, case: &CantCase) -> Text {
    let rigid = Quantity::share(lean.unloading(case.side_g(lean.contact_m), 0.0));
    let mut words = match lean.roll {
        Ok(_) => text![" on its springs, ", rigid, " as a rigid body"],
        Err(_) => text![" as a rigid body"],
    };
    words.0.extend(text![", load ", Quantity::small_length_m(lean.offset_m), " beside the middle, "].0);
    words.0.extend(case_words(case).0);
    words
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, NotAsked, Pass, Undecided};
    use crate::checks::bearing::testing::{check, findings, lay, worst_text};
    use crate::checks::leaning::testing::leaning;
    use crate::fixtures::{drop_off, limit};
    use crate::model::{LimitKind, Plan};

    fn limited(mut plan: Plan, share: f64) -> Plan {
        plan.limits.entries.insert(LimitKind::WheelUnloading, limit(share));
        plan
    }

    fn demand(plan: &Plan) -> f64 {
        findings(&CHECK, plan).iter().find_map(|finding| finding.comparison).unwrap().demand.value
    }

    // Hand: tare 24 t at 0.7 m, 66 t at 1.9809 m: 1.639 m; on 150 mm 2 x 1.6394 x 0.1 / 1.5 = 21.9 % rigid
    // (mechanics.md 5: 22 % with the centre at 1.65 m); springs of k 8 MN m/rad, W h_s 829 kN m: x 1.1156, 24.4 %.
    #[test]
    fn standing_on_150_mm_a_full_load_loses_a_quarter_on_its_springs() {
        assert!((demand(&leaning()) - 0.2439).abs() < 0.0002);
        let mut rigid = leaning();
        rigid.train.vehicle_types[0].springs.as_mut().unwrap().roll_nm_per_rad = 1.0e15;
        assert!((demand(&rigid) - 0.2186).abs() < 0.0001);
        check(&CHECK, &limited(leaning(), 0.25), &[(Near, "vehicle W1")]);
        check(&CHECK, &limited(leaning(), 0.243), &[(Fail, "vehicle W1")]);
        assert_eq!(findings(&CHECK, &leaning())[0].outcome, Pass);
        assert!(worst_text(&CHECK, &leaning()).contains("22 % as a rigid body"));
    }

    // Hand: 250 mm of deficiency, 0.1667 g, is more than 150 mm of cant standing: 1.6394 x 1.1156 x 0.3333 / 1.5.
    #[test]
    fn at_speed_only_a_travelling_train_is_judged() {
        let mut plan = leaning();
        plan.route.cant_deficiency_mm = Some(250.0);
        assert!((demand(&plan) - 0.4064).abs() < 0.0003);
        lay(&mut plan, "S3", (1, 5), 0, 1.0);
        plan.drops.push(drop_off("Eastmoor", &["S3"]));
        let told = findings(&CHECK, &limited(plan, 0.3));
        assert_eq!((told[0].outcome, &told[0].states[..]), (Fail, &[0, 2][..]));
    }

    // One string of the two gone: the other's 33 t at 1.2 m are 0.695 m beside the middle of 57 t.
    #[test]
    fn the_side_offset_comes_on_top() {
        let mut plan = leaning();
        plan.placements.truncate(1);
        let told = demand(&plan);
        assert!(told > 2.0 * 0.6947 / 1.5, "{told}");
        lay(&mut plan, "S9", (3, 10), 0, 33_000.0);
        assert!((demand(&plan) - 0.2439).abs() < 0.0002);
    }

    #[test]
    fn what_is_missing_is_undecided() {
        let told = |change: fn(&mut Plan), things: &str| {
            let mut plan = leaning();
            change(&mut plan);
            check(&CHECK, &plan, &[(Undecided, things)]);
        };
        told(|plan| plan.train.vehicle_types[0].springs = None, "vehicle type Flat");
        told(
            |plan| plan.train.vehicle_types[0].springs.as_mut().unwrap().spring_height_mm = None,
            "vehicle type Flat",
        );
        told(|plan| plan.train.vehicle_types[0].deck_height = None, "vehicle W1");
        told(|plan| plan.route.greatest_cant_mm = None, "plan");
        told(|plan| plan.route.cant_deficiency_mm = None, "plan");
        told(
            |plan| drop(plan.limits.entries.remove(&LimitKind::WheelUnloading)),
            "limit wheel unloading on cant",
        );
        let mut plan = leaning();
        plan.route.asked.clear();
        check(&CHECK, &plan, &[(NotAsked, "plan")]);
    }
}
