//! The scratch copy: where it began, what was turned, and the plan that comes of it.

use super::Knob;
use super::fill::{hold_for, pockets};
use crate::model::{
    MassEntry, OrderedString, Placement, Plan, RailSection, SectionName, StepKind, StringMark,
};
use crate::statics::Consist;
use crate::units::Length;
use std::collections::BTreeSet;
use std::ops::RangeInclusive;
use std::sync::Arc;

/// More strings than any train has pockets for.
const MOST_STRINGS: usize = 999;

/// Which strings length, section and front end are turned for.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Whom {
    /// All strings on the train; their front ends move together.
    All,
    /// One string.
    One(StringMark),
}

/// A scratch copy of a plan.
#[derive(Clone, Debug)]
pub struct Scratch {
    base: Arc<Plan>,
    consist: Arc<Consist>,
    sections: Arc<[RailSection]>,
    /// Strings that come onto the train at a site: they keep their places and are not counted.
    coming: Arc<BTreeSet<StringMark>>,
    whom: Whom,
    /// Strings on the train at departure.
    count: usize,
    length: Option<Length>,
    section: Option<SectionName>,
    front: Option<Length>,
    /// Bound to the string that was turned, so that another count leaves it there.
    lane: Option<(StringMark, u32)>,
}

impl PartialEq for Scratch {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.base, &other.base) && self.turned() == other.turned()
    }
}

impl Scratch {
    /// A copy of `base` as it is, whose strings may become any of the plan's own sections or of `further` ones.
    ///
    /// None where the train has no rack or nothing lies on it at departure: there is nothing to turn then.
    pub fn of(base: Arc<Plan>, further: &[RailSection]) -> Option<Self> {
        let consist = Arc::new(Consist::of(&base));
        let coming = coming_on(&base);
        let first = base.placements.iter().find(|place| !coming.contains(&place.string))?;
        if consist.racks.is_empty() || base.string(&first.string).is_none() {
            return None;
        }
        let mut sections = base.sections.clone();
        let known = |name: &SectionName| base.section(name).is_some();
        sections.extend(further.iter().filter(|section| !known(&section.name)).cloned());
        sections
            .sort_by(|a, b| a.mass_kg_per_m.total_cmp(&b.mass_kg_per_m).then_with(|| a.name.cmp(&b.name)));
        let whom = if all_alike(&base) { Whom::All } else { Whom::One(first.string.clone()) };
        let count = base.placements.iter().filter(|place| !coming.contains(&place.string)).count();
        let sections = sections.into();
        Some(Self {
            base,
            consist,
            sections,
            coming: Arc::new(coming),
            whom,
            count,
            length: None,
            section: None,
            front: None,
            lane: None,
        })
    }

    /// The plan that it began with.
    pub fn base(&self) -> &Arc<Plan> {
        &self.base
    }

    /// The sections that can be chosen, lightest first.
    pub fn sections(&self) -> &[RailSection] {
        &self.sections
    }

    /// Whose length, section and front end are turned.
    pub fn whom(&self) -> &Whom {
        &self.whom
    }

    /// Turns those of other strings; what was turned before is undone, but for the count.
    pub fn set_whom(&mut self, whom: Whom) {
        if self.whom != whom {
            *self = Self { whom, length: None, section: None, front: None, lane: None, ..self.clone() };
        }
    }

    /// Whether anything was turned.
    pub fn is_turned(&self) -> bool {
        self.count != self.aboard(&self.base)
            || self.length.is_some()
            || self.section.is_some()
            || self.front.is_some()
            || self.lane.is_some()
    }

    /// The string whose lane is turned: the one chosen, or of all the last on the train.
    pub fn lane_string(&self) -> Option<StringMark> {
        match &self.whom {
            Whom::One(mark) => Some(mark.clone()),
            Whom::All => {
                let plan = self.plan();
                let aboard = plan.placements.iter().rfind(|place| !self.coming.contains(&place.string));
                aboard.map(|placement| placement.string.clone())
            }
        }
    }

    /// The strings that gave way to the one whose lane was turned, and the lane that they went to.
    pub fn gave_way(&self) -> Option<(Vec<StringMark>, u32)> {
        let (mark, _) = self.lane.as_ref()?;
        let (before, after) = (Self { lane: None, ..self.clone() }.plan(), self.plan());
        let from = before.placement(mark)?.lane;
        let gave_way = |place: &&Placement| {
            place.string != *mark && after.placement(&place.string).is_some_and(|now| now.lane != place.lane)
        };
        let marks: Vec<StringMark> =
            before.placements.iter().filter(gave_way).map(|place| place.string.clone()).collect();
        (!marks.is_empty()).then_some((marks, from))
    }

    /// The value of a knob, in its unit.
    pub fn value(&self, knob: Knob) -> i64 {
        let pattern = self.pattern();
        match knob {
            Knob::Count => self.count as i64,
            Knob::Length => pattern.map_or(0, |(string, _)| string.length.mm()),
            Knob::Section => {
                let name = pattern.map(|(string, _)| string.section);
                self.sections.iter().position(|section| Some(&section.name) == name.as_ref()).unwrap_or(0)
                    as i64
            }
            Knob::FrontEnd => self.front.unwrap_or_else(|| self.base_front()).mm(),
            Knob::Lane => {
                let plan = self.plan();
                let mark = self.lane_string();
                let at = mark.and_then(|mark| plan.placement(&mark).map(|placement| placement.lane));
                at.map_or(1, i64::from)
            }
        }
    }

    /// The least and the largest value that a knob can take now.
    pub fn span(&self, knob: Knob) -> RangeInclusive<i64> {
        let train_mm = self.consist.length.mm();
        let now = self.value(knob);
        let (least, most) = match knob {
            Knob::Count => (1, self.most_strings() as i64),
            Knob::Length => (self.shortest_mm(), train_mm - self.last_front().mm()),
            Knob::Section => (0, self.sections.len() as i64 - 1),
            Knob::FrontEnd => (0, train_mm - self.extent().mm()),
            Knob::Lane => (1, self.lanes() as i64),
        };
        least.min(now)..=most.max(now)
    }

    /// Turns a knob; a value beyond its [`span`](Self::span) becomes the nearest within.
    pub fn set(&mut self, knob: Knob, value: i64) {
        let span = self.span(knob);
        let value = value.clamp(*span.start(), *span.end());
        if value == self.value(knob) {
            return;
        }
        match knob {
            Knob::Count => self.count = value as usize,
            Knob::Length => self.length = Some(Length::from_mm(value)),
            Knob::Section => {
                let section = usize::try_from(value).ok().and_then(|at| self.sections.get(at));
                self.section = section.map(|section| section.name.clone());
            }
            Knob::FrontEnd => self.front = Some(Length::from_mm(value)),
            Knob::Lane => self.lane = self.lane_string().zip(u32::try_from(value).ok()),
        }
    }

    /// The same with one knob turned.
    #[must_use]
    pub fn with(&self, knob: Knob, value: i64) -> Self {
        let mut other = self.clone();
        other.set(knob, value);
        other
    }

    /// Whether it differs from `other` in nothing, or in the value of `knob` alone.
    pub fn is_alike_but_for(&self, other: &Self, knob: Knob) -> bool {
        let mut copy = other.clone();
        match knob {
            Knob::Count => copy.count = self.count,
            Knob::Length => copy.length = self.length,
            Knob::Section => copy.section.clone_from(&self.section),
            Knob::FrontEnd => copy.front = self.front,
            Knob::Lane => copy.lane.clone_from(&self.lane),
        }
        *self == copy
    }

    /// The plan that comes of it: sound where the plan that it began with was.
    pub fn plan(&self) -> Arc<Plan> {
        if !self.is_turned() {
            return Arc::clone(&self.base);
        }
        let mut plan = (*self.base).clone();
        let mut left = self.count;
        plan.placements.retain(|place| {
            let comes = self.coming.contains(&place.string);
            let stays = comes || left > 0;
            left = if comes { left } else { left.saturating_sub(1) };
            stays
        });
        let marks: Vec<StringMark> = plan.placements.iter().map(|place| place.string.clone()).collect();
        let shift = self.front.map_or(Length::ZERO, |front| front - self.base_front());
        for mark in marks.iter().filter(|mark| self.is_turned_for(mark)) {
            self.turn(&mut plan, mark, shift);
        }
        self.add_further(&mut plan);
        if let Some((mark, lane)) = &self.lane {
            change_lane(&mut plan, mark, *lane);
        }
        Arc::new(plan)
    }

    /// How many strings of a plan made of this one are on the train at departure.
    fn aboard(&self, plan: &Plan) -> usize {
        plan.placements.iter().filter(|place| !self.coming.contains(&place.string)).count()
    }

    fn turned(&self) -> impl PartialEq {
        (self.whom.clone(), self.count, self.length, self.section.clone(), self.front, self.lane.clone())
    }

    fn is_turned_for(&self, mark: &StringMark) -> bool {
        match &self.whom {
            Whom::All => true,
            Whom::One(own) => own == mark,
        }
    }

    /// The placements turned, as they were at first.
    fn turned_at_first(&self) -> impl Iterator<Item = (&OrderedString, &Placement)> {
        let turned = self.base.placements.iter().filter(|place| self.is_turned_for(&place.string));
        turned.filter_map(|place| Some((self.base.string(&place.string)?, place)))
    }

    /// The foremost front end of the strings turned, as it was at first.
    fn base_front(&self) -> Length {
        self.turned_at_first().map(|(_, place)| place.front).min().unwrap_or(Length::ZERO)
    }

    /// From the foremost front end to the rearmost rear end of the strings turned, with their length now.
    fn extent(&self) -> Length {
        let rear = |(string, place): (&OrderedString, &Placement)| {
            place.front + self.length.unwrap_or(string.length)
        };
        self.turned_at_first().map(rear).max().unwrap_or(Length::ZERO) - self.base_front()
    }

    /// The rearmost front end of the strings turned, as it is now.
    fn last_front(&self) -> Length {
        let shift = self.front.map_or(Length::ZERO, |front| front - self.base_front());
        self.turned_at_first().map(|(_, place)| place.front).max().unwrap_or(Length::ZERO) + shift
    }

    /// The string that further ones are like, as it is now, with its front end.
    fn pattern(&self) -> Option<(OrderedString, Length)> {
        let (string, place) = self.turned_at_first().next()?;
        let shift = self.front.map_or(Length::ZERO, |front| front - self.base_front());
        Some((self.turned_string(string), place.front + shift))
    }

    fn turned_string(&self, string: &OrderedString) -> OrderedString {
        let mut string = string.clone();
        let before = (string.length, string.section.clone());
        string.length = self.length.unwrap_or(string.length);
        string.section = self.section.clone().unwrap_or(string.section);
        if before != (string.length, string.section.clone()) {
            // What was weighed was another string.
            string.mass = MassEntry::Computed;
        }
        string
    }

    /// Half as long again as the longest distance of two neighbouring racks: any place has a rack or two under it.
    fn shortest_mm(&self) -> i64 {
        let racks = self.consist.racks.iter().zip(self.consist.racks.iter().skip(1));
        let gap_mm = racks.map(|(one, next)| (next.x - one.x).mm()).max().unwrap_or(1_000);
        (gap_mm + gap_mm / 2) / 100 * 100
    }

    fn lanes(&self) -> usize {
        let Some((string, front)) = self.pattern() else { return 1 };
        let racks = self.consist.racks_between(front, front + string.length);
        self.consist.racks.get(racks).unwrap_or_default().iter().map(|r| r.lanes_y_m.len()).min().unwrap_or(1)
    }

    /// As many strings as the racks hold: those of the plan, and one more in each free pocket.
    fn most_strings(&self) -> usize {
        let full = Self { count: self.aboard(&self.base) + MOST_STRINGS, lane: None, ..self.clone() };
        self.aboard(&full.plan())
    }

    fn turn(&self, plan: &mut Plan, mark: &StringMark, shift: Length) {
        let Some(at) = plan.order.iter().position(|string| string.mark == *mark) else { return };
        let string = self.turned_string(&plan.order[at]);
        self.add_section(plan, &string.section);
        let length = string.length;
        plan.order[at] = string;
        let Some(at) = plan.placements.iter().position(|place| place.string == *mark) else { return };
        let mut place = plan.placements[at].clone();
        place.front += shift;
        let ends = (place.front, place.front + length);
        let under = self.consist.racks_between(ends.0, ends.1);
        let stands = |rack| self.consist.rack_named(plan, rack).is_some_and(|rack| under.contains(&rack));
        if !place.holds.iter().all(stands) {
            place.holds = hold_for(plan, &self.consist, ends).into_iter().collect();
        }
        plan.placements[at] = place;
    }

    fn add_section(&self, plan: &mut Plan, name: &SectionName) {
        if plan.section(name).is_none() {
            plan.sections.extend(self.sections.iter().find(|section| section.name == *name).cloned());
        }
    }

    /// Adds strings like the pattern until there are as many as asked for, or no pocket is free.
    fn add_further(&self, plan: &mut Plan) {
        let missing = self.count.saturating_sub(self.aboard(plan));
        let Some((pattern, front)) = self.pattern().filter(|_| missing > 0) else { return };
        let ends = (front, front + pattern.length);
        let free = |plan: &Plan, tier: u32, lane: u32| {
            !plan
                .placements
                .iter()
                .any(|place| (place.tier, place.lane) == (tier, lane) && overlaps(plan, place, ends))
        };
        let pockets: Vec<(u32, u32)> = pockets(plan, &self.consist, ends)
            .into_iter()
            .filter(|(tier, lane)| free(plan, *tier, *lane))
            .take(missing)
            .collect();
        let holds: Vec<_> = hold_for(plan, &self.consist, ends).into_iter().collect();
        self.add_section(plan, &pattern.section);
        let mut number = 0;
        for (tier, lane) in pockets {
            let Some(mark) = next_mark(plan, &mut number) else { return };
            let mass = MassEntry::Computed;
            plan.order.push(OrderedString { mark: mark.clone(), mass, ..pattern.clone() });
            let holds = holds.clone();
            plan.placements.push(Placement {
                string: mark,
                tier,
                lane,
                front,
                holds,
                rests_on: None,
                locked: false,
            });
        }
    }
}

/// The strings that steps put onto the train on the way.
fn coming_on(plan: &Plan) -> BTreeSet<StringMark> {
    let steps = plan.drops.iter().flat_map(|drop| &drop.steps).filter(|step| step.kind == StepKind::On);
    steps.flat_map(|step| step.strings.marks()).cloned().collect()
}

/// A mark that no string has, counting on from `number`.
fn next_mark(plan: &Plan, number: &mut usize) -> Option<StringMark> {
    loop {
        *number += 1;
        let mark = StringMark::new(&format!("more {number}")).ok()?;
        if plan.string(&mark).is_none() {
            return Some(mark);
        }
    }
}

/// Whether all strings on the train have one length, section and front end.
fn all_alike(plan: &Plan) -> bool {
    let mut kinds = plan.placements.iter().filter_map(|place| {
        let string = plan.string(&place.string)?;
        Some((string.length, string.section.clone(), place.front))
    });
    let first = kinds.next();
    kinds.all(|kind| Some(&kind) == first.as_ref())
}

fn overlaps(plan: &Plan, place: &Placement, (front, rear): (Length, Length)) -> bool {
    let length = plan.string(&place.string).map_or(Length::ZERO, |string| string.length);
    place.front < rear && front < place.front + length
}

/// Moves a string to another lane of its tier; strings in its way there go to where it was.
fn change_lane(plan: &mut Plan, mark: &StringMark, lane: u32) {
    let Some(at) = plan.placements.iter().position(|place| place.string == *mark) else { return };
    let Some(string) = plan.string(mark) else { return };
    let (tier, from, front) = (plan.placements[at].tier, plan.placements[at].lane, plan.placements[at].front);
    let ends = (front, front + string.length);
    let in_the_way: Vec<usize> = (0..plan.placements.len())
        .filter(|other| *other != at)
        .filter(|other| {
            let place = &plan.placements[*other];
            (place.tier, place.lane) == (tier, lane) && overlaps(plan, place, ends)
        })
        .collect();
    for other in in_the_way {
        plan.placements[other].lane = from;
    }
    plan.placements[at].lane = lane;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::problems;

    /// Three strings of 40 m on three wagons: a mirrored pair and one alone.
    fn scratch() -> Scratch {
        let mut plan = empty_plan(3);
        for (mark, lane) in [("S1", 1), ("S2", 10), ("S3", 2)] {
            place(&mut plan, mark, 40_000, (1, lane, 3_000));
        }
        Scratch::of(Arc::new(plan), &[]).unwrap()
    }

    fn check(knob: Knob, value: i64, told: &str) {
        let plan = scratch().with(knob, value).plan();
        assert_eq!(problems(&plan), []);
        let words: Vec<String> = plan
            .placements
            .iter()
            .map(|place| {
                let length = plan.string(&place.string).unwrap().length;
                format!("{} {}.{} {}+{}", place.string, place.tier, place.lane, place.front.mm(), length.mm())
            })
            .collect();
        assert_eq!(words.join(", "), told);
    }

    #[test]
    fn each_knob_turns_what_it_says_and_nothing_else() {
        check(Knob::Count, 3, "S1 1.1 3000+40000, S2 1.10 3000+40000, S3 1.2 3000+40000");
        check(Knob::Count, 1, "S1 1.1 3000+40000");
        check(
            Knob::Count,
            5,
            "S1 1.1 3000+40000, S2 1.10 3000+40000, S3 1.2 3000+40000, more 1 1.5 3000+40000, more 2 1.6 3000+40000",
        );
        check(Knob::Length, 36_900, "S1 1.1 3000+36900, S2 1.10 3000+36900, S3 1.2 3000+36900");
        check(Knob::FrontEnd, 4_100, "S1 1.1 4100+40000, S2 1.10 4100+40000, S3 1.2 4100+40000");
        check(Knob::Lane, 9, "S1 1.1 3000+40000, S2 1.10 3000+40000, S3 1.9 3000+40000");
        check(Knob::Lane, 1, "S1 1.2 3000+40000, S2 1.10 3000+40000, S3 1.1 3000+40000");
    }

    #[test]
    fn a_value_beyond_what_the_train_has_room_for_becomes_the_nearest() {
        // 50 pockets; 59,700 mm of train; 10 lanes.
        let spans = [(Knob::Count, 1..=50), (Knob::FrontEnd, 0..=19_700), (Knob::Lane, 1..=10)];
        for (knob, span) in spans {
            assert_eq!(scratch().span(knob), span, "{knob:?}");
            assert_eq!(scratch().with(knob, 99_999_999).value(knob), *span.end());
            assert_eq!(scratch().with(knob, -5).value(knob), *span.start());
        }
        assert_eq!(*scratch().span(Knob::Length).end(), 56_700);
    }

    #[test]
    fn one_string_is_turned_alone() {
        let mut scratch = scratch();
        scratch.set_whom(Whom::One(StringMark::new("S2").unwrap()));
        scratch.set(Knob::Length, 30_000);
        scratch.set(Knob::Lane, 7);
        let plan = scratch.plan();
        let lengths: Vec<i64> = plan.order.iter().map(|string| string.length.mm()).collect();
        assert_eq!(lengths, [40_000, 30_000, 40_000]);
        assert_eq!(plan.placements[1].lane, 7);
    }

    #[test]
    fn a_hold_that_the_string_left_is_set_anew_and_one_still_under_it_stays() {
        let mut scratch = scratch();
        assert_eq!(scratch.plan().placements[0].holds[0].vehicle.as_str(), "W2");
        // From 0 to 10 m only W1's first two racks are under it.
        scratch.set(Knob::Length, 10_000);
        scratch.set(Knob::FrontEnd, 0);
        let hold = &scratch.plan().placements[0].holds[0];
        assert_eq!(
            (hold.vehicle.as_str(), hold.rack),
            ("W1", 1),
            "3.317 m and 9.950 m: 1.683 m is nearer to 5 m"
        );
    }

    #[test]
    fn nothing_turned_is_the_plan_itself_and_an_empty_train_has_nothing_to_turn() {
        let scratch = scratch();
        assert!(Arc::ptr_eq(&scratch.plan(), scratch.base()));
        assert!(Scratch::of(Arc::new(empty_plan(2)), &[]).is_none());
    }

    #[test]
    fn another_section_brings_its_row_and_leaves_a_stated_mass_behind() {
        let mut heavy = crate::fixtures::section_60e1();
        heavy.name = SectionName::new("heavy").unwrap();
        heavy.mass_kg_per_m = 70.0;
        let mut plan = (*scratch().base).clone();
        plan.order[0].mass = MassEntry::Stated { kg: 2_500.0, basis: crate::model::StatedBasis::Weighed };
        let scratch = Scratch::of(Arc::new(plan), &[heavy]).unwrap().with(Knob::Section, 1);
        let plan = scratch.plan();
        assert_eq!(problems(&plan), []);
        assert!(plan.order.iter().all(|string| string.section.as_str() == "heavy"));
        assert_eq!(plan.order[0].mass, MassEntry::Computed);
    }

    #[test]
    fn strings_that_come_on_at_a_site_are_not_counted_and_stay() {
        let mut plan = (*scratch().base).clone();
        let mark = plan.placements[0].string.clone();
        let aboard = plan.placements.len() as i64 - 1;
        let mut drop = drop_off("Site", &[mark.as_str()]);
        drop.steps[0].kind = StepKind::On;
        plan.drops = vec![drop];
        let mut scratch = Scratch::of(Arc::new(plan), &[]).unwrap();
        assert_eq!(scratch.value(Knob::Count), aboard);
        assert!(!scratch.is_turned());
        scratch.set(Knob::Count, aboard - 1);
        assert!(scratch.plan().placement(&mark).is_some(), "it comes on as before");
        assert_eq!(scratch.plan().placements.len() as i64, aboard);
    }
}
