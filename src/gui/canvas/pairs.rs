//! Which strings move together: a selection, and with each string of a pair the other one.

use crate::model::{Placement, Plan, StringMark};
use crate::statics::{Consist, pair_partner};

/// Whether the two strings of a pair move as one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pairs {
    /// Where one of them goes, the other goes as its mirror image.
    #[default]
    AsOne,
    /// Each moves alone.
    Apart,
}

impl Pairs {
    /// The other way.
    #[must_use]
    pub fn turned(self) -> Self {
        match self {
            Self::AsOne => Self::Apart,
            Self::Apart => Self::AsOne,
        }
    }
}

/// A string that moves with others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Member {
    /// The string, one that is on the train.
    pub(super) string: StringMark,
    /// The string whose mirror image it stays; none: it moves as the selection does.
    pub(super) mirrors: Option<StringMark>,
}

/// What moves when `strings` are moved, the first of them leading; strings that are not on the train are left out.
///
/// Of each pair, the string on the side of the leading one moves with it and the other stays its mirror image,
/// whichever of the two was chosen.
pub(super) fn members(plan: &Plan, consist: &Consist, strings: &[StringMark], pairs: Pairs) -> Vec<Member> {
    let mut members: Vec<Member> = Vec::new();
    let lead_y =
        strings.iter().find_map(|mark| plan.placement(mark)).and_then(|lead| y_m(plan, consist, lead));
    for placement in strings.iter().filter_map(|mark| plan.placement(mark)) {
        if members.iter().any(|member| member.string == placement.string) {
            continue;
        }
        let partner = match pairs {
            Pairs::AsOne => pair_partner(plan, consist, &placement.string),
            Pairs::Apart => None,
        };
        let Some(partner) = partner else {
            members.push(Member { string: placement.string.clone(), mirrors: None });
            continue;
        };
        let is_led_here = match (lead_y, y_m(plan, consist, placement)) {
            (Some(lead), Some(here)) => (lead < 0.0) == (here < 0.0),
            _ => true,
        };
        let (led, mirror) = if is_led_here { (placement, partner) } else { (partner, placement) };
        members.push(Member { string: led.string.clone(), mirrors: None });
        members.push(Member { string: mirror.string.clone(), mirrors: Some(led.string.clone()) });
    }
    members
}

/// These strings, and after them the others that move with them.
pub(super) fn company(
    plan: &Plan,
    consist: &Consist,
    strings: &[StringMark],
    pairs: Pairs,
) -> Vec<StringMark> {
    let mut company = strings.to_vec();
    let all = members(plan, consist, strings, pairs).into_iter();
    company.extend(all.map(|member| member.string).filter(|mark| !strings.contains(mark)));
    company
}

/// Sideways place of a string at the first rack under it that has its lane, right positive.
fn y_m(plan: &Plan, consist: &Consist, placement: &Placement) -> Option<f64> {
    let length = plan.string(&placement.string)?.length;
    let racks = consist.racks_between(placement.front, placement.front + length);
    let lane = (placement.lane as usize).checked_sub(1)?;
    consist.racks.get(racks)?.iter().find_map(|rack| rack.lanes_y_m.get(lane)).copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};

    fn check(strings: &[&str], pairs: Pairs, expected: &[(&str, Option<&str>)]) {
        let mut plan = empty_plan(2);
        for (mark, tier, lane) in [("A", 1, 2), ("B", 1, 9), ("C", 2, 3), ("D", 2, 8), ("E", 3, 1)] {
            place(&mut plan, mark, 30_000, (tier, lane, 3_000));
        }
        let strings: Vec<StringMark> = strings.iter().map(|mark| StringMark::new(mark).unwrap()).collect();
        let found = members(&plan, &Consist::of(&plan), &strings, pairs);
        let found: Vec<_> = found
            .iter()
            .map(|member| (member.string.as_str(), member.mirrors.as_ref().map(StringMark::as_str)))
            .collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn the_other_string_of_a_pair_comes_along_as_a_mirror_image() {
        check(&["A"], Pairs::AsOne, &[("A", None), ("B", Some("A"))]);
        check(&["B"], Pairs::AsOne, &[("B", None), ("A", Some("B"))]);
        check(&["A"], Pairs::Apart, &[("A", None)]);
        check(&["E"], Pairs::AsOne, &[("E", None)]);
    }

    #[test]
    fn all_pairs_follow_the_side_of_the_leading_string() {
        let both = [("A", None), ("B", Some("A")), ("C", None), ("D", Some("C"))];
        check(&["A", "B", "D"], Pairs::AsOne, &both);
        check(&["A", "D"], Pairs::Apart, &[("A", None), ("D", None)]);
    }
}
