//! The creep of an end takes it over no rack, in either direction.

use super::moving_ends::{causes, moving_ends};
use super::reading::rack_name;
use super::{Check, Comparison, Judge, Sense, Subject};
use crate::text;
use crate::units::Quantity;

/// The check.
pub(crate) static CHECK: Check = Check {
    id: "creep-rack-crossing",
    title: "Ends cross no rack",
    what: "How far each end moves away from its hold against its distance from the next rack beyond it, and how far it \
           moves toward its hold against its distance from its last rack.",
    why: "An end that climbs onto a rack or drops off one changes what the racks around it carry: the worst axle can \
          jump by several tonnes, which the figures at rest do not show.",
    mend: "Move the string so that its end lies about midway between two racks, or hold it nearer this end.",
    source: "geometry of the train; common practice, no source",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let figures = judge.figures;
    for (placed, ends) in moving_ends(judge) {
        judge.source("places of the racks in the plan's train");
        for creep in ends {
            let subject = Subject::StringEnd(placed.string, creep.end);
            let inward = Quantity::length_m(creep.over_last.in_m());
            let comparison = Comparison::new(inward, creep.overhang_m, Sense::AtMost);
            judge.compare_with(None, subject.by_rule("inward"), comparison, || {
                let mut tail = text![" in to ", rack_name(figures, creep.last_rack), ": "];
                tail.0.extend(causes(&creep.over_last, -creep.over_last.curve_in_m).0);
                tail
            });
            let Some(next) = &creep.next else { continue };
            let outward = Quantity::length_m(next.shift.out_m());
            let comparison = Comparison::new(outward, next.distance_m, Sense::AtMost);
            judge.compare_with(None, subject.by_rule("outward"), comparison, || {
                let mut tail = text![" out to ", rack_name(figures, next.rack), ": "];
                tail.0.extend(causes(&next.shift, next.shift.curve_out_m).0);
                tail
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Fail, Near};
    use crate::checks::moving_ends::testing::{check_missing, curving};
    use crate::checks::trial::{expect, words};

    const INWARD: &str = "string S1, rear end, inward";
    const OUTWARD: &str = "string S1, rear end, outward";

    // The rear end between rack 2 of W6 at 109.450 m and rack 3 at 116.083 m, three couplings behind the hold:
    // 70.7 mm in and 72.6 mm out.
    #[test]
    fn an_end_midway_between_racks_crosses_none() {
        expect(&CHECK, curving(1_000, 112_700), &[]);
    }

    #[test]
    fn an_end_just_past_its_rack_leaves_it() {
        expect(&CHECK, curving(1_000, 109_530), &[]);
        expect(&CHECK, curving(1_000, 109_522), &[(Near, INWARD)]);
        let findings = expect(&CHECK, curving(1_000, 109_520), &[(Fail, INWARD)]);
        assert!(words(&findings).contains("0.071 m of at most 0.070 m in to vehicle W6 rack 2"));
    }

    #[test]
    fn an_end_just_short_of_the_next_rack_climbs_onto_it() {
        expect(&CHECK, curving(1_000, 116_000), &[]);
        expect(&CHECK, curving(1_000, 116_010), &[(Near, OUTWARD)]);
        let findings = expect(&CHECK, curving(1_000, 116_011), &[(Fail, OUTWARD)]);
        assert!(words(&findings).contains("0.073 m of at most 0.072 m out to vehicle W6 rack 3"));
    }

    // Rack 1 of W6 at 102.817 m lies one coupling beyond an end on W5 behind its rack 3 at 96.183 m.
    #[test]
    fn the_coupling_before_the_next_rack_counts_as_well() {
        expect(&CHECK, curving(1_000, 102_740), &[]);
        expect(&CHECK, curving(1_000, 102_750), &[(Fail, OUTWARD)]);
    }

    #[test]
    fn what_nobody_entered_leaves_it_undecided() {
        check_missing(&CHECK, &curving(1_000, 112_700));
    }
}
