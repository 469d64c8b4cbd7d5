//! The load as it is: the plan with its placements replaced by what was recorded, and how the two differ.

use crate::model::{AsLoaded, Hold, Placement, Plan, StringMark};
use crate::statics::load_states;
use crate::units::Length;
use std::collections::BTreeSet;

/// The load as it is, and how far the records bear it out.
#[derive(Clone, Debug, PartialEq)]
pub struct Loaded {
    /// The plan with each recorded string where it was seen; a string without a record counts as planned.
    pub plan: Plan,
    /// What differs from the plan as meant, in the order of the plan's placements; strings that the plan does not
    /// place come last.
    pub differences: Vec<Difference>,
    /// Strings that are on the train at departure by the plan and that nobody has recorded yet.
    pub not_confirmed: Vec<StringMark>,
    /// How many strings are on the train at departure by the plan, recorded or not.
    pub planned: usize,
}

/// One difference of one string.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// The string.
    pub string: StringMark,
    /// What differs.
    pub what: Deviation,
    /// Who saw it.
    pub by: String,
    /// When, as written.
    pub at: String,
}

/// A pocket and a place along the train.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Tier, from 1 at the bottom.
    pub tier: u32,
    /// Lane, from 1 at the left facing the front.
    pub lane: u32,
    /// x of the front end.
    pub front: Length,
}

/// What differs between the plan and what was seen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Deviation {
    /// It lies in another pocket: tier and lane.
    Pocket {
        /// By the plan.
        planned: (u32, u32),
        /// As seen.
        loaded: (u32, u32),
    },
    /// Its front end is elsewhere.
    Front {
        /// By the plan.
        planned: Length,
        /// As seen.
        loaded: Length,
    },
    /// It is held elsewhere.
    Holds {
        /// By the plan.
        planned: Vec<Hold>,
        /// As seen.
        loaded: Vec<Hold>,
    },
    /// It is not on the train.
    Missing {
        /// By the plan.
        planned: Place,
    },
    /// It is on the train and the plan leaves it in the yard.
    NotPlanned {
        /// As seen.
        loaded: Place,
    },
}

impl Loaded {
    /// The load as `plan`'s records have it.
    pub fn of(plan: &Plan) -> Self {
        let mut differences = Vec::new();
        let mut placements: Vec<Placement> = Vec::with_capacity(plan.placements.len());
        for planned in &plan.placements {
            match plan.record(&planned.string) {
                None => placements.push(planned.clone()),
                Some(seen) => {
                    differences.extend(deviations(planned, seen).into_iter().map(|what| told(seen, what)));
                    placements.extend((!seen.missing).then(|| as_seen(planned, seen)));
                }
            }
        }
        for seen in &plan.as_loaded {
            if plan.placement(&seen.string).is_none() && !seen.missing {
                differences.push(told(seen, Deviation::NotPlanned { loaded: Place::of_record(seen) }));
                placements.push(not_planned(seen));
            }
        }
        let expected = at_departure(plan);
        let not_confirmed = expected.iter().filter(|mark| plan.record(mark).is_none()).cloned().collect();
        let planned = expected.len();
        Self { plan: Plan { placements, ..plan.clone() }, differences, not_confirmed, planned }
    }

    /// How many of the strings planned at departure somebody has recorded.
    pub fn confirmed(&self) -> usize {
        self.planned - self.not_confirmed.len()
    }

    /// How many strings differ from the plan.
    pub fn strings_that_differ(&self) -> usize {
        self.differences.iter().map(|difference| &difference.string).collect::<BTreeSet<_>>().len()
    }
}

impl Place {
    /// Where the plan has it.
    pub fn of(placement: &Placement) -> Self {
        Self { tier: placement.tier, lane: placement.lane, front: placement.front }
    }

    fn of_record(record: &AsLoaded) -> Self {
        Self { tier: record.tier, lane: record.lane, front: record.front }
    }
}

/// The strings on the train at departure, each once, in the order of the plan's placements.
pub fn at_departure(plan: &Plan) -> Vec<StringMark> {
    let present = load_states(plan).into_iter().next().map(|state| state.present).unwrap_or_default();
    let mut seen = BTreeSet::new();
    let placed = plan.placements.iter().zip(present).filter(|(_, present)| *present);
    placed.map(|(placement, _)| placement.string.clone()).filter(|mark| seen.insert(mark.clone())).collect()
}

/// What was seen, in the place of what was planned: the meant racks and the lock stay those of the plan.
fn as_seen(planned: &Placement, seen: &AsLoaded) -> Placement {
    Placement {
        tier: seen.tier,
        lane: seen.lane,
        front: seen.front,
        holds: seen.holds.clone(),
        ..planned.clone()
    }
}

fn not_planned(seen: &AsLoaded) -> Placement {
    Placement {
        string: seen.string.clone(),
        tier: seen.tier,
        lane: seen.lane,
        front: seen.front,
        holds: seen.holds.clone(),
        rests_on: None,
        locked: false,
    }
}

fn told(seen: &AsLoaded, what: Deviation) -> Difference {
    Difference { string: seen.string.clone(), what, by: seen.by.clone(), at: seen.at.clone() }
}

fn deviations(planned: &Placement, seen: &AsLoaded) -> Vec<Deviation> {
    if seen.missing {
        return vec![Deviation::Missing { planned: Place::of(planned) }];
    }
    let mut found = Vec::new();
    let pockets = [(planned.tier, planned.lane), (seen.tier, seen.lane)];
    if pockets[0] != pockets[1] {
        found.push(Deviation::Pocket { planned: pockets[0], loaded: pockets[1] });
    }
    if planned.front != seen.front {
        found.push(Deviation::Front { planned: planned.front, loaded: seen.front });
    }
    // The order in which holds are written says nothing.
    let sorted = |holds: &[Hold]| holds.iter().cloned().collect::<BTreeSet<_>>();
    if sorted(&planned.holds) != sorted(&seen.holds) {
        found.push(Deviation::Holds { planned: planned.holds.clone(), loaded: seen.holds.clone() });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{RackRef, StepKind};

    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 36_000, (1, 1, 2_000));
        place(&mut plan, "S2", 36_000, (1, 10, 2_000));
        place(&mut plan, "S3", 20_000, (2, 5, 2_000));
        plan
    }

    /// Records S1 as seen after `change`, and compares.
    fn check(change: impl Fn(&mut AsLoaded), expected: &[Deviation]) -> Loaded {
        let mut plan = plan();
        let planned = plan.placements[0].clone();
        let mut seen = AsLoaded {
            string: planned.string,
            tier: planned.tier,
            lane: planned.lane,
            front: planned.front,
            holds: planned.holds,
            missing: false,
            by: "A. Yard".to_owned(),
            at: "Monday".to_owned(),
        };
        change(&mut seen);
        plan.as_loaded.push(seen);
        let loaded = Loaded::of(&plan);
        let found: Vec<Deviation> = loaded.differences.iter().map(|one| one.what.clone()).collect();
        assert_eq!(found, expected);
        assert_eq!((loaded.confirmed(), loaded.planned), (1, 3));
        assert_eq!(loaded.plan.as_loaded, plan.as_loaded);
        loaded
    }

    #[test]
    fn a_string_seen_where_it_was_planned_differs_in_nothing() {
        let loaded = check(|_| (), &[]);
        assert_eq!(loaded.plan.placements, plan().placements);
        assert_eq!(
            loaded.not_confirmed,
            plan().placements[1..].iter().map(|p| p.string.clone()).collect::<Vec<_>>()
        );
    }

    #[test]
    fn what_was_seen_takes_the_place_of_what_was_planned() {
        let mm = Length::from_mm;
        let moved = Deviation::Front { planned: mm(2_000), loaded: mm(2_400) };
        let loaded = check(|seen| seen.front = mm(2_400), std::slice::from_ref(&moved));
        assert_eq!(loaded.plan.placements[0].front, mm(2_400));
        let pocket = Deviation::Pocket { planned: (1, 1), loaded: (2, 3) };
        let both = |seen: &mut AsLoaded| (seen.tier, seen.lane, seen.front) = (2, 3, mm(2_400));
        let loaded = check(both, &[pocket, moved]);
        assert_eq!(loaded.strings_that_differ(), 1);
        assert_eq!((loaded.plan.placements[0].tier, loaded.plan.placements[0].lane), (2, 3));
        let held = vec![RackRef { vehicle: "W2".parse().unwrap(), rack: 1 }];
        let planned = plan().placements[0].holds.clone();
        check(|seen| seen.holds = held.clone(), &[Deviation::Holds { planned, loaded: held.clone() }]);
    }

    #[test]
    fn a_string_that_is_missing_is_on_the_train_no_more() {
        let planned = Place::of(&plan().placements[0]);
        let loaded = check(|seen| seen.missing = true, &[Deviation::Missing { planned }]);
        assert!(loaded.plan.placement(&"S1".parse().unwrap()).is_none());
        assert_eq!(loaded.plan.placements.len(), 2);
    }

    #[test]
    fn a_string_that_nobody_planned_is_on_the_train_too() {
        let mut plan = plan();
        plan.placements.remove(0);
        let (tier, lane, front) = (1, 1, Length::from_mm(2_000));
        plan.as_loaded.push(AsLoaded {
            string: "S1".parse().unwrap(),
            tier,
            lane,
            front,
            holds: Vec::new(),
            missing: false,
            by: String::new(),
            at: String::new(),
        });
        let loaded = Loaded::of(&plan);
        assert_eq!(loaded.differences[0].what, Deviation::NotPlanned { loaded: Place { tier, lane, front } });
        assert_eq!(loaded.plan.placements.len(), 3);
        assert_eq!((loaded.confirmed(), loaded.planned), (0, 2));
        plan.as_loaded[0].missing = true;
        assert_eq!(Loaded::of(&plan).differences, []);
    }

    #[test]
    fn strings_taken_on_later_need_no_confirmation_before_departure() {
        let mut plan = plan();
        plan.drops.push(drop_off("Far", &["S3"]));
        assert_eq!(at_departure(&plan).len(), 3);
        plan.drops[0].steps[0].kind = StepKind::On;
        assert_eq!(at_departure(&plan).len(), 2);
        assert_eq!(Loaded::of(&plan).planned, 2);
    }
}
