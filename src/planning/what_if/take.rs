//! What the open plan would have to become to be the scratch copy, as one edit.

use super::Scratch;
use crate::edit::{Edit, Move, Rows};
use crate::model::{Plan, StringMark};

impl Scratch {
    /// The change that makes the plan it began with like it, as one step of undo; none where nothing was turned.
    pub fn edit(&self) -> Option<Edit> {
        if !self.is_turned() {
            return None;
        }
        let (before, after) = (&**self.base(), &*self.plan());
        let mut edits = sections(before, after);
        let gone: Vec<StringMark> = before
            .placements
            .iter()
            .filter(|place| after.placement(&place.string).is_none())
            .map(|place| place.string.clone())
            .collect();
        if !gone.is_empty() {
            edits.push(Edit::TakeOff { strings: gone });
        }
        edits.extend(strings(before, after));
        edits.extend(places(before, after));
        (!edits.is_empty()).then(|| Edit::Batch { label: "Take over what was tried".to_owned(), edits })
    }
}

fn sections(before: &Plan, after: &Plan) -> Vec<Edit> {
    let new = after.sections.iter().filter(|section| before.section(&section.name).is_none());
    new.map(|row| Edit::Sections(Rows::Add { at: None, row: row.clone() })).collect()
}

fn strings(before: &Plan, after: &Plan) -> Vec<Edit> {
    let edit = |string: &crate::model::OrderedString| match before.string(&string.mark) {
        None => Some(Edit::Strings(Rows::Add { at: None, row: string.clone() })),
        Some(was) if was != string => {
            Some(Edit::Strings(Rows::Change { name: string.mark.clone(), to: string.clone() }))
        }
        Some(_) => None,
    };
    after.order.iter().filter_map(edit).collect()
}

fn places(before: &Plan, after: &Plan) -> Vec<Edit> {
    let mut edits = Vec::new();
    let mut moves = Vec::new();
    for place in &after.placements {
        match before.placement(&place.string) {
            None => edits.push(Edit::Place { placement: place.clone() }),
            Some(was) => {
                if (was.tier, was.lane, was.front) != (place.tier, place.lane, place.front) {
                    let string = place.string.clone();
                    moves.push(Move { string, tier: place.tier, lane: place.lane, front: place.front });
                }
                if was.holds != place.holds {
                    let (string, holds) = (place.string.clone(), place.holds.clone());
                    edits.push(Edit::SetHolds { string, holds });
                }
            }
        }
    }
    if !moves.is_empty() {
        edits.insert(0, Edit::Move { moves });
    }
    edits
}

#[cfg(test)]
mod tests {
    use super::super::Knob;
    use super::*;
    use crate::fixtures::{empty_plan, place, section_60e1};
    use crate::model::SectionName;
    use std::sync::Arc;

    fn check(turns: &[(Knob, i64)]) {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 40_000, (1, 1, 3_000));
        place(&mut plan, "S2", 40_000, (1, 10, 3_000));
        let mut other = section_60e1();
        (other.name, other.mass_kg_per_m) = (SectionName::new("other").unwrap(), 70.0);
        let mut scratch = Scratch::of(Arc::new(plan.clone()), &[other]).unwrap();
        for (knob, value) in turns {
            scratch.set(*knob, *value);
        }
        let applied = scratch.edit().unwrap().apply(&plan).unwrap();
        assert_eq!(applied.plan, *scratch.plan(), "{turns:?}");
    }

    #[test]
    fn the_edit_makes_the_plan_what_the_scratch_copy_is() {
        check(&[(Knob::Count, 1)]);
        check(&[(Knob::Count, 6)]);
        check(&[(Knob::Length, 30_000), (Knob::FrontEnd, 25_000)]);
        check(&[(Knob::Section, 1), (Knob::Count, 4)]);
        check(&[(Knob::Lane, 1)]);
    }

    #[test]
    fn nothing_turned_is_no_edit() {
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 30_000, (1, 1, 3_000));
        let scratch = Scratch::of(Arc::new(plan), &[]).unwrap();
        assert_eq!(scratch.edit(), None);
        assert_eq!(scratch.with(Knob::Count, 1).edit(), None);
    }
}
