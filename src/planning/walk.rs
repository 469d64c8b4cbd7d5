//! The walk along the train: rack by rack in the order in which a person passes them, what should be there.

use super::at_departure;
use super::lay::rack_index;
use crate::model::{Placement, Plan, StringMark, TrackSide, TrainEnd};
use crate::statics::Consist;
use crate::units::Length;

/// How a person walks along the train.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Walk {
    /// The end of the train that the walk begins at.
    pub from: TrainEnd,
    /// The side of the train, facing its front, that the person walks on.
    pub side: TrackSide,
}

/// A rack that the walk passes, and what lies from it to the next one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// Index into the consist's racks.
    pub rack: usize,
    /// What lies on the rack, lanes nearest the person first, in each lane from the bottom.
    pub pockets: Vec<InPocket>,
    /// Ends from this rack up to the next one, in the order in which they are passed. Ends before the first rack
    /// belong to the first stop.
    pub ends: Vec<EndPassed>,
    /// Strings that are held at this rack, in the order of `pockets`.
    pub holds: Vec<StringMark>,
}

/// A string in a pocket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InPocket {
    /// The string.
    pub string: StringMark,
    /// Tier, from 1 at the bottom.
    pub tier: u32,
    /// Lane, from 1 at the left facing the front.
    pub lane: u32,
}

/// An end of a string.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EndPassed {
    /// The string and its pocket.
    pub of: InPocket,
    /// Which of its ends.
    pub end: TrainEnd,
    /// Distance from the stop's rack in the direction of the walk; below zero before the first rack.
    pub past: Length,
    /// Whether the walk meets the string here, or leaves it behind.
    pub meeting: Meeting,
}

/// Whether an end is the first of its string that the walk passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Meeting {
    /// The first.
    First,
    /// The second.
    Last,
}

impl Walk {
    /// The stops of the walk along the train of `plan`, laid out as `consist`, as it is planned to depart.
    pub fn stops(self, plan: &Plan, consist: &Consist) -> Vec<Stop> {
        let empty = |rack: usize| Stop { rack, pockets: Vec::new(), ends: Vec::new(), holds: Vec::new() };
        let mut stops: Vec<Stop> = (0..consist.racks.len()).map(empty).collect();
        for mark in at_departure(plan) {
            let Some((placement, string)) = plan.placement(&mark).zip(plan.string(&mark)) else { continue };
            let ends = [placement.front, placement.front + string.length];
            self.add_string(&mut stops, (plan, consist), placement, ends);
        }
        for stop in &mut stops {
            let near = |one: &InPocket| (self.from_near_side(consist, stop.rack, one.lane), one.tier);
            stop.pockets.sort_by_key(near);
            stop.ends.sort_by_key(|end| (end.past, near(&end.of)));
            let place = |mark: &StringMark| stop.pockets.iter().position(|one| one.string == *mark);
            stop.holds.sort_by_key(place);
        }
        if self.from == TrainEnd::Rear {
            stops.reverse();
        }
        stops
    }

    fn add_string(
        self,
        stops: &mut [Stop],
        (plan, consist): (&Plan, &Consist),
        placement: &Placement,
        [front, rear]: [Length; 2],
    ) {
        let of = InPocket { string: placement.string.clone(), tier: placement.tier, lane: placement.lane };
        for (stop, rack) in stops.iter_mut().zip(&consist.racks) {
            if (front..=rear).contains(&rack.x) {
                stop.pockets.push(of.clone());
            }
        }
        for (end, x) in [(TrainEnd::Front, front), (TrainEnd::Rear, rear)] {
            let Some(rack) = self.last_passed(consist, x) else { continue };
            let meeting = if end == self.from { Meeting::First } else { Meeting::Last };
            let past = self.past(consist, rack, x);
            stops[rack].ends.push(EndPassed { of: of.clone(), end, past, meeting });
        }
        for hold in &placement.holds {
            if let Some(rack) = rack_index(plan, consist, hold) {
                stops[rack].holds.push(of.string.clone());
            }
        }
    }

    /// The rack that the walk passed last on its way to `x`, the first one where it passed none; none without racks.
    pub fn last_passed(self, consist: &Consist, x: Length) -> Option<usize> {
        let racks = &consist.racks;
        match self.from {
            TrainEnd::Front => racks.iter().rposition(|rack| rack.x <= x).or(racks.first().map(|_| 0)),
            TrainEnd::Rear => racks.iter().position(|rack| rack.x >= x).or(racks.len().checked_sub(1)),
        }
    }

    /// How far `x` lies beyond a rack in the direction of the walk.
    pub fn past(self, consist: &Consist, rack: usize, x: Length) -> Length {
        let from_rack = x - consist.racks[rack].x;
        match self.from {
            TrainEnd::Front => from_rack,
            TrainEnd::Rear => Length::ZERO - from_rack,
        }
    }

    /// The place along the train that lies `past` a rack in the direction of the walk.
    pub fn place(self, consist: &Consist, rack: usize, past: Length) -> Length {
        match self.from {
            TrainEnd::Front => consist.racks[rack].x + past,
            TrainEnd::Rear => consist.racks[rack].x - past,
        }
    }

    /// The number of a lane from the person's side of the train, from 1.
    pub fn from_near_side(self, consist: &Consist, rack: usize, lane: u32) -> u32 {
        let lanes = consist.racks.get(rack).map_or(0, |rack| rack.lanes_y_m.len()) as u32;
        match self.side {
            TrackSide::Left => lane,
            TrackSide::Right => (lanes + 1).saturating_sub(lane),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};
    use crate::model::{RackRef, StepKind};

    /// Two wagons of 19.9 m with racks 6.633 m apart, the first at 3.317 m: at 3.317, 9.95, 16.583, 23.217, 29.85
    /// and 36.483 m.
    fn plan() -> Plan {
        let mut plan = empty_plan(2);
        place(&mut plan, "S1", 30_000, (1, 1, 2_000));
        place(&mut plan, "S2", 20_000, (2, 9, 10_000));
        place(&mut plan, "S3", 20_000, (1, 9, 10_000));
        let hold = RackRef { vehicle: "W1".parse().unwrap(), rack: 3 };
        for placement in &mut plan.placements {
            placement.holds = vec![hold.clone()];
        }
        plan
    }

    /// The ends of a walk as `rack: end of string past it`.
    fn ends(from: TrainEnd, side: TrackSide) -> Vec<String> {
        let plan = plan();
        let stops = Walk { from, side }.stops(&plan, &Consist::of(&plan));
        let told = stops.iter().flat_map(|stop| stop.ends.iter().map(move |end| (stop.rack, end)));
        told.map(|(rack, one)| {
            format!("{rack}: {} {:?} {} {:?}", one.of.string, one.end, one.past.mm(), one.meeting)
        })
        .collect()
    }

    #[test]
    fn ends_are_measured_from_the_rack_passed_last_and_those_before_the_first_from_it() {
        let x: Vec<i64> = Consist::of(&plan()).racks.iter().map(|rack| rack.x.mm()).collect();
        assert_eq!(x, [3_317, 9_950, 16_583, 23_217, 29_850, 36_483]);
        let from_front = ends(TrainEnd::Front, TrackSide::Left);
        assert_eq!(
            from_front,
            [
                "0: S1 Front -1317 First",
                "1: S3 Front 50 First",
                "1: S2 Front 50 First",
                "4: S3 Rear 150 Last",
                "4: S2 Rear 150 Last",
                "4: S1 Rear 2150 Last",
            ]
        );
        let from_rear = ends(TrainEnd::Rear, TrackSide::Left);
        assert_eq!(from_rear[0], "5: S1 Rear 4483 First");
        assert_eq!(from_rear[1], "5: S3 Rear 6483 First");
        assert_eq!(from_rear[3], "2: S3 Front 6583 Last");
        assert_eq!(from_rear[5], "0: S1 Front 1317 Last", "past the last rack of the walk");
    }

    #[test]
    fn pockets_begin_at_the_lane_nearest_the_person() {
        let order = |side: TrackSide| {
            let plan = plan();
            let stops = Walk { from: TrainEnd::Front, side }.stops(&plan, &Consist::of(&plan));
            let marks =
                |marks: Vec<&StringMark>| marks.iter().map(|mark| mark.to_string()).collect::<Vec<_>>();
            let stop = &stops[2];
            assert_eq!(stops[0].pockets.len(), 1, "only S1 lies on the first rack");
            (marks(stop.pockets.iter().map(|one| &one.string).collect()), marks(stop.holds.iter().collect()))
        };
        let of = |marks: [&str; 3]| (marks.map(str::to_owned).to_vec(), marks.map(str::to_owned).to_vec());
        assert_eq!(order(TrackSide::Left), of(["S1", "S3", "S2"]));
        assert_eq!(order(TrackSide::Right), of(["S3", "S2", "S1"]));
        let consist = Consist::of(&plan());
        let lane = |side, lane| Walk { from: TrainEnd::Front, side }.from_near_side(&consist, 0, lane);
        assert_eq!(
            (lane(TrackSide::Left, 3), lane(TrackSide::Right, 10), lane(TrackSide::Right, 3)),
            (3, 1, 8)
        );
    }

    #[test]
    fn what_was_measured_gives_the_place_back() {
        let consist = Consist::of(&plan());
        for from in [TrainEnd::Front, TrainEnd::Rear] {
            let walk = Walk { from, side: TrackSide::Left };
            for mm in [0, 3_316, 3_317, 20_000, 36_484, 39_800] {
                let x = Length::from_mm(mm);
                let rack = walk.last_passed(&consist, x).unwrap();
                assert_eq!(walk.place(&consist, rack, walk.past(&consist, rack, x)), x, "{from:?} {mm}");
            }
        }
        assert_eq!(
            Walk { from: TrainEnd::Front, side: TrackSide::Left }
                .last_passed(&Consist::default(), Length::ZERO),
            None
        );
    }

    #[test]
    fn strings_that_come_on_later_are_not_looked_for() {
        let mut plan = plan();
        plan.drops.push(drop_off("Far", &["S1"]));
        plan.drops[0].steps[0].kind = StepKind::On;
        let walk = Walk { from: TrainEnd::Front, side: TrackSide::Left };
        assert_eq!(
            walk.stops(&plan, &Consist::of(&plan)).iter().map(|stop| stop.ends.len()).sum::<usize>(),
            4
        );
    }
}
