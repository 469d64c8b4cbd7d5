//! Each end still reaches far enough past its last rack when it has crept toward its hold.

use super::moving_ends::{causes, moving_ends};
use super::reading::rack_name;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::model::LimitKind;
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "creep-least-overhang",
    title: "Least overhang after creep",
    what: "The overhang of each end past the last rack that it crosses, less the farthest that the end moves toward \
           its hold: in the route's curves with the string on the outside, by coupling slack between hold and end, \
           and by cold.",
    why: "On the outside of a curve the racks lie farther apart along the string than on the straight: the end is \
          drawn in, and an end that leaves its last rack drops.",
    mend: "Move the string so that this end reaches farther past its rack, hold it nearer this end, or choose a lane \
           nearer the middle.",
    source: "geometry; the value is the plan's limit",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let moving = moving_ends(judge);
    if moving.is_empty() {
        return;
    }
    let Some(limit) = judge.limit(LimitKind::LeastOverhang) else { return };
    let figures = judge.figures;
    for (placed, ends) in moving {
        for creep in ends {
            let left_m = creep.overhang_m - creep.over_last.in_m();
            let comparison = Comparison::new(Quantity::length_m(left_m), limit.running, Sense::AtLeast);
            judge.compare_with(None, Subject::StringEnd(placed.string, creep.end), comparison, || {
                let mut tail = text![
                    " past ",
                    rack_name(figures, creep.last_rack),
                    ", of ",
                    Quantity::length_m(creep.overhang_m),
                    " at rest: "
                ];
                tail.0.extend(causes(&creep.over_last, -creep.over_last.curve_in_m).0);
                tail
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near, Undecided};
    use crate::checks::moving_ends::testing::{check_missing, curving};
    use crate::checks::trial::{expect, words};
    use crate::model::LimitKind;
    use crate::units::Length;

    const REAR: &str = "string S1, rear end";

    // Limit 0.3 m. The rear end's last rack is rack 2 of W6 at 109.45 m, three couplings behind the hold: it is
    // drawn in by 3 x (23.88 - 0.33) = 70.7 mm. At the front, two couplings and plenty of overhang.
    #[test]
    fn an_end_drawn_in_keeps_the_least_overhang() {
        expect(&CHECK, curving(1_000, 109_850), &[]);
        expect(&CHECK, curving(1_000, 109_821), &[(Near, REAR)]);
        let findings = expect(&CHECK, curving(1_000, 109_820), &[(Fail, REAR)]);
        assert_eq!(
            words(&findings),
            "string S1, rear end: 0.299 m, at least 0.300 m past vehicle W6 rack 2, of 0.370 m at rest: \
             curves 0.071 m, slack 0.000 m, heat 0.000 m"
        );
    }

    #[test]
    fn slack_and_cold_draw_it_in_as_well() {
        // Three couplings of 20 mm: 0.435 - 0.071 - 0.060 = 0.304 m.
        let mut plan = curving(1_000, 109_885);
        expect(&CHECK, plan.clone(), &[]);
        plan.train.coupling_slack = Some(Length::from_mm(20));
        expect(&CHECK, plan, &[(Near, REAR)]);
        // 60.11 m behind the hold and 50 K: 0.410 - 0.071 - 0.035 = 0.304 m.
        let mut plan = curving(1_000, 109_860);
        plan.route.temperature_range_k = Some(50.0);
        expect(&CHECK, plan, &[(Near, REAR)]);
    }

    #[test]
    fn what_nobody_entered_leaves_it_undecided() {
        check_missing(&CHECK, &curving(1_000, 109_850));
        let mut plan = curving(1_000, 109_850);
        plan.limits.entries.remove(&LimitKind::LeastOverhang);
        expect(&CHECK, plan, &[(Undecided, "limit least overhang")]);
    }
}
