//! Where a string finds room: the pockets beside and along the strings that lie on the train.

use crate::model::{Placement, Plan};
use crate::statics::{Figures, PlacedString};
use crate::units::Length;

/// The strings on the train before departure, as stretches of pockets.
pub(super) struct Room {
    lying: Vec<Stretch>,
    length: Length,
}

/// A stretch of a pocket that a string takes; `placement` is its index in the plan.
struct Stretch {
    placement: usize,
    tier: u32,
    lane: u32,
    front: Length,
    rear: Length,
}

impl Room {
    /// The room that the strings of the state before departure leave.
    pub(super) fn of(figures: &Figures) -> Self {
        let stretch = |placed: &PlacedString| {
            let Placement { tier, lane, .. } = figures.plan.placements[placed.placement];
            Stretch { placement: placed.placement, tier, lane, front: placed.front, rear: placed.rear }
        };
        Self { lying: figures.present(0).map(stretch).collect(), length: figures.consist.length }
    }

    /// Whether a string finds room from `front` to `rear` of a pocket, once the `without` are gone.
    pub(super) fn is_free(
        &self,
        (tier, lane): (u32, u32),
        (front, rear): (Length, Length),
        without: &[usize],
    ) -> bool {
        let in_pocket = |one: &&Stretch| one.tier == tier && one.lane == lane;
        let others = self.lying.iter().filter(in_pocket).filter(|one| !without.contains(&one.placement));
        front >= Length::ZERO
            && rear <= self.length
            && others.into_iter().all(|one| one.rear <= front || one.front >= rear)
    }

    /// How far a string can be shifted within its pocket, forward (below zero) and rearward, before it meets the
    /// next string or an end of the train; both zero where it lies beyond them now.
    pub(super) fn along(&self, placement: usize) -> (Length, Length) {
        let Some(own) = self.lying.iter().find(|one| one.placement == placement) else {
            return (Length::ZERO, Length::ZERO);
        };
        let beside = || {
            let same =
                |one: &&Stretch| one.placement != placement && (one.tier, one.lane) == (own.tier, own.lane);
            self.lying.iter().filter(same)
        };
        let before = beside().filter(|one| one.rear <= own.front).map(|one| one.rear);
        let behind = beside().filter(|one| one.front >= own.rear).map(|one| one.front);
        let (least, most) = (before.max().unwrap_or(Length::ZERO), behind.min().unwrap_or(self.length));
        ((least - own.front).min(Length::ZERO), (most - own.rear).max(Length::ZERO))
    }
}

/// The most tiers of any rack type of the plan.
pub(super) fn most_tiers(plan: &Plan) -> u32 {
    let tiers = plan.train.rack_types.iter().map(|kind| kind.tiers.len()).max().unwrap_or(0);
    u32::try_from(tiers).unwrap_or(u32::MAX)
}

/// The most lanes of any rack type of the plan.
pub(super) fn most_lanes(plan: &Plan) -> u32 {
    let lanes = plan.train.rack_types.iter().map(|kind| kind.lanes_y_mm.len()).max().unwrap_or(0);
    u32::try_from(lanes).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::statics::Scope;
    use std::sync::Arc;

    fn room() -> Room {
        let mut plan = empty_plan(4);
        place(&mut plan, "S1", 20_000, (1, 1, 2_000));
        place(&mut plan, "S2", 20_000, (1, 1, 30_000));
        place(&mut plan, "S3", 20_000, (1, 2, 30_000));
        Room::of(&Figures::of(Arc::new(plan), Scope::One(0)))
    }

    #[test]
    fn a_stretch_is_free_up_to_its_neighbours_and_the_ends_of_the_train() {
        let free = |lane, front, rear, without: &[usize]| {
            let stretch = (Length::from_mm(front), Length::from_mm(rear));
            room().is_free((1, lane), stretch, without)
        };
        assert!(
            free(1, 22_000, 30_000, &[]) && !free(1, 22_000, 30_001, &[]) && !free(1, 21_999, 30_000, &[])
        );
        assert!(free(1, 2_000, 30_000, &[0]) && free(2, 0, 30_000, &[]) && !free(2, -1, 30_000, &[]));
        assert!(free(1, 50_000, 79_600, &[]) && !free(1, 50_000, 79_601, &[]));
    }

    #[test]
    fn a_string_slides_to_its_neighbours() {
        let along = |placement| {
            let (forward, rearward) = room().along(placement);
            (forward.mm(), rearward.mm())
        };
        assert_eq!(along(0), (-2_000, 8_000));
        assert_eq!(along(1), (-8_000, 29_600));
        assert_eq!(along(2), (-30_000, 29_600));
    }
}
