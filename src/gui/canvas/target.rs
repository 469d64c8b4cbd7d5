//! What letting go of dragged strings would do: along the train, into a pocket, onto the train, back to the yard.

use super::change::{self, Change, Shift};
use super::drag::{Drag, Origin};
use super::lay::{self, Pocket};
use super::pairs::{Pairs, company};
use super::snap::{self, Moving, Snap};
use super::{Canvas, across, deck_hands};
use crate::drawing::{Point, side_pocket_at};
use crate::edit::Edit;
use crate::gui::Shown;
use crate::model::{OrderedString, Placement, StringMark};
use crate::units::Length;
use egui::{Modifiers, Pos2, Rect};
use std::collections::BTreeSet;

/// What letting go now would do.
#[derive(Clone, Debug, Default)]
pub(super) struct Target {
    /// The edit; none: nothing.
    pub(super) change: Option<Change>,
    /// What the first string's end catches at.
    pub(super) snap: Option<Snap>,
    /// The pocket of the rack face under the pointer, or the yard list, on the screen.
    pub(super) zone: Option<Rect>,
    /// A word of help, where one is due.
    pub(super) hint: String,
    /// All strings that move, those that go along as the other of a pair last.
    pub(super) company: Vec<StringMark>,
}

/// How near in points an end must come to catch.
const CATCH_POINTS: f64 = 9.0;

/// What letting go at a point with these modifiers would do: Alt catches at nothing, Shift parts a pair, Ctrl swaps.
pub(super) fn target(
    canvas: &Canvas,
    shown: &Shown<'_>,
    drag: &Drag,
    (at, modifiers): (Pos2, Modifiers),
) -> Target {
    let pairs = if modifiers.shift { Pairs::Apart } else { shown.pairs };
    let aim = Aim { canvas, shown, drag, pairs };
    let mut target = aim.at(at, modifiers);
    target.company = aim.company();
    if let (Some(other), true) = (target.company.get(drag.strings.len()), target.hint.is_empty()) {
        target.hint = format!("{other} goes along as its pair (Shift: it stays)");
    }
    target
}

/// A drag in a frame.
pub(super) struct Aim<'a> {
    pub(super) canvas: &'a Canvas,
    pub(super) shown: &'a Shown<'a>,
    pub(super) drag: &'a Drag,
    pairs: Pairs,
}

/// How near an end must come to catch; never with Alt.
pub(super) fn catch_reach(points_per_mm: f64, modifiers: Modifiers) -> Length {
    match modifiers.alt {
        true => Length::from_mm(-1),
        false => Length::from_mm_rounded((CATCH_POINTS / points_per_mm).max(1.0)),
    }
}

impl Aim<'_> {
    fn company(&self) -> Vec<StringMark> {
        let (plan, consist) = (&self.shown.settled.plan, &self.shown.settled.consist);
        company(plan, consist, &self.drag.strings, self.pairs)
    }

    fn at(&self, at: Pos2, modifiers: Modifiers) -> Target {
        let (canvas, drag) = (self.canvas, self.drag);
        if let Some(yard) = canvas.yard.filter(|yard| yard.contains(at)) {
            return self.back_to_the_yard(yard);
        }
        if let Some(face) = canvas.face.as_ref().filter(|face| face.rect.contains(at)) {
            return match face.pocket_at(at) {
                Some((pocket, rect)) => {
                    let target = self.onto_pocket((face.rack, pocket), modifiers);
                    Target { zone: Some(rect), ..target }
                }
                None => Target::default(),
            };
        }
        if let Some(target) = deck_hands::target(self, at, modifiers) {
            return target;
        }
        let Some(side) = canvas.side else { return Target::default() };
        let view = side.projection.rect;
        let is_typed = !drag.typed.text.is_empty();
        let along = match drag.origin {
            Origin::Side => view.y_range().contains(at.y) || is_typed,
            Origin::Yard | Origin::Deck | Origin::Face => view.contains(at),
        };
        if !along {
            return Target::default();
        }
        let point = Point::new(side.projection.x_mm(at.x), side.projection.up_mm(at.y));
        let reach = catch_reach(side.projection.x_points_per_mm, modifiers);
        match drag.origin {
            Origin::Yard => {
                self.place_along((point.across_mm, reach), side_pocket_at(self.shown.settled, point))
            }
            Origin::Side | Origin::Deck | Origin::Face => self.move_along(point, reach),
        }
    }

    /// Onto the yard list: strings on the train are taken off.
    fn back_to_the_yard(&self, yard: Rect) -> Target {
        if self.drag.origin == Origin::Yard {
            return Target::default();
        }
        let edit = Edit::TakeOff { strings: self.company() };
        let change = Some(Change { edit, said: String::new() });
        let hint = "taken off the train".to_owned();
        Target { change, zone: Some(yard), hint, ..Target::default() }
    }

    /// Onto a pocket of the rack face: strings on the train keep their front ends, unless another is typed.
    fn onto_pocket(&self, (rack, pocket): (usize, Pocket), modifiers: Modifiers) -> Target {
        let (shown, drag) = (self.shown, self.drag);
        let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
        let Some(string) = drag.strings.first().and_then(|mark| plan.string(mark)) else {
            return Target::default();
        };
        if drag.origin == Origin::Yard {
            let kept = self.canvas.kept.get(&string.mark).copied();
            let near = lay::sensible_front(plan, consist, string, (pocket, Some(rack)), kept);
            return match self.typed(string, near) {
                Err(hint) => Target { hint, ..Target::default() },
                Ok(front) => {
                    let front = front.unwrap_or(near);
                    let change = change::place_all(plan, consist, &drag.strings, rack, Some((pocket, front)));
                    Target { change, ..Target::default() }
                }
            };
        }
        let Some(lead) = plan.placement(&string.mark) else { return Target::default() };
        let hint = match self.met(string, pocket, lead.front, modifiers) {
            Met::Swap(target) => return *target,
            Met::Hint(hint) => hint,
        };
        let shift = Shift {
            tiers: i64::from(pocket.tier) - i64::from(lead.tier),
            lanes: i64::from(pocket.lane) - i64::from(lead.lane),
            ..Shift::default()
        };
        match self.typed(string, lead.front) {
            Err(hint) => Target { hint, ..Target::default() },
            Ok(front) => {
                let along = front.map_or(Length::ZERO, |front| front - lead.front);
                Target { change: self.shifted(Shift { along, ..shift }), hint, ..Target::default() }
            }
        }
    }

    /// What a string on the train meets in a pocket: with Ctrl the two swap, else a hint says so.
    fn met(&self, string: &OrderedString, pocket: Pocket, front: Length, modifiers: Modifiers) -> Met {
        let (plan, consist) = (&self.shown.settled.plan, &self.shown.settled.consist);
        let company = self.company();
        let in_the_way = lay::in_the_way(plan, string, pocket, front);
        let other = in_the_way.iter().find(|other| !company.contains(&other.string));
        match (other, self.drag.strings.as_slice()) {
            (Some(other), [only]) if modifiers.command => {
                let change = across::swapped(plan, consist, (only, &other.string), self.pairs).ok();
                Met::Swap(Box::new(Target { change, ..Target::default() }))
            }
            (Some(other), [_]) => {
                Met::Hint(format!("{} lies there: hold Ctrl to swap the two", other.string))
            }
            _ => Met::Hint(String::new()),
        }
    }

    /// Into a lane with the pointer at x: strings on the train go along and across in one.
    pub(super) fn in_lane(
        &self,
        (x_mm, reach): (f64, Length),
        pocket: Pocket,
        modifiers: Modifiers,
    ) -> Target {
        let (shown, drag) = (self.shown, self.drag);
        let plan = &shown.settled.plan;
        let lead = drag.strings.first().and_then(|mark| Some((plan.placement(mark)?, plan.string(mark)?)));
        let Some((placement, string)) = lead else { return Target::default() };
        let wish = Length::from_mm_rounded(x_mm) - drag.grab_offset;
        let (front, snap) = match self.typed(string, wish) {
            Err(hint) => return Target { hint, ..Target::default() },
            Ok(Some(front)) => (front, None),
            Ok(None) => {
                let there = Placement { tier: pocket.tier, lane: pocket.lane, ..placement.clone() };
                self.caught(&there, string, (wish, reach))
            }
        };
        let hint = match self.met(string, pocket, front, modifiers) {
            Met::Swap(target) => return *target,
            Met::Hint(hint) => hint,
        };
        let shift = Shift {
            along: front - placement.front,
            tiers: i64::from(pocket.tier) - i64::from(placement.tier),
            lanes: i64::from(pocket.lane) - i64::from(placement.lane),
        };
        Target { change: self.shifted(shift), snap, hint, ..Target::default() }
    }

    /// Along the train, with the tier that the pointer has gone to since it went down.
    fn move_along(&self, point: Point, reach: Length) -> Target {
        let (shown, drag) = (self.shown, self.drag);
        let plan = &shown.settled.plan;
        let lead = drag.strings.first().and_then(|mark| Some((plan.placement(mark)?, plan.string(mark)?)));
        let Some((placement, string)) = lead else { return Target::default() };
        let wish = Length::from_mm_rounded(point.across_mm) - drag.grab_offset;
        let (front, snap) = match self.typed(string, wish) {
            Err(hint) => return Target { hint, ..Target::default() },
            Ok(Some(front)) => (front, None),
            Ok(None) => self.caught(placement, string, (wish, reach)),
        };
        let tier = side_pocket_at(shown.settled, point).map(|(tier, _)| tier);
        let tiers = match (drag.start_tier, tier) {
            (Some(start), Some(tier)) => i64::from(tier) - i64::from(start),
            _ => 0,
        };
        let shift = Shift { along: front - placement.front, tiers, lanes: 0 };
        Target { change: self.shifted(shift), snap, ..Target::default() }
    }

    /// Where a front end that is wished for catches.
    fn caught(
        &self,
        placement: &Placement,
        string: &OrderedString,
        (wish, reach): (Length, Length),
    ) -> (Length, Option<Snap>) {
        let (plan, consist) = (&self.shown.settled.plan, &self.shown.settled.consist);
        let company: BTreeSet<StringMark> = self.company().into_iter().collect();
        let moving = Moving { placement, string, company: &company };
        let snaps = snap::snaps(plan, consist, &moving);
        let snap = snap::nearest(&snaps, wish, reach).cloned();
        (snap.as_ref().map_or(wish, |snap| snap.front), snap)
    }

    /// The front end that was typed, if something was.
    fn typed(&self, string: &OrderedString, near: Length) -> Result<Option<Length>, String> {
        let (plan, consist) = (&self.shown.settled.plan, &self.shown.settled.consist);
        self.drag.typed.front((plan, consist), string.length, near).transpose()
    }

    fn shifted(&self, shift: Shift) -> Option<Change> {
        let (plan, consist) = (&self.shown.settled.plan, &self.shown.settled.consist);
        change::move_by(plan, consist, &self.drag.strings, self.pairs, shift)
    }

    /// From the yard list onto the train: the tier under the pointer, there the free lane nearest to it.
    pub(super) fn place_along(&self, (x_mm, reach): (f64, Length), pocket: Option<(u32, u32)>) -> Target {
        let (shown, drag) = (self.shown, self.drag);
        let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
        let Some(string) = drag.strings.first().and_then(|mark| plan.string(mark)) else {
            return Target::default();
        };
        let Some((tier, lane)) = pocket else { return Target::default() };
        let wish = Length::from_mm_rounded(x_mm) - drag.grab_offset;
        let typed = match self.typed(string, wish) {
            Err(hint) => return Target { hint, ..Target::default() },
            Ok(typed) => typed,
        };
        let front_in = |pocket: Pocket| match typed {
            Some(front) => (front, None),
            None => self.caught(&would_lie(string, pocket, wish), string, (wish, reach)),
        };
        let rack = super::side::nearest_rack(shown, x_mm).unwrap_or(0);
        let lanes = consist.racks.get(rack).map_or(0, |rack| rack.lanes_y_m.len() as u32);
        let mut by_nearness: Vec<u32> = (1..=lanes).collect();
        by_nearness.sort_by_key(|other| other.abs_diff(lane));
        let pocket = by_nearness
            .into_iter()
            .map(|lane| Pocket { tier, lane })
            .find(|pocket| lay::in_the_way(plan, string, *pocket, front_in(*pocket).0).is_empty())
            .unwrap_or(Pocket { tier, lane });
        let (front, snap) = front_in(pocket);
        let rack = self.canvas.face.as_ref().map_or(rack, |face| face.rack);
        let change = change::place_all(plan, consist, &drag.strings, rack, Some((pocket, front)));
        Target { change, snap, ..Target::default() }
    }
}

/// What a moved string meets in its new pocket.
enum Met {
    /// Another one, to swap with.
    Swap(Box<Target>),
    /// Words about it; empty: nothing.
    Hint(String),
}

/// A placement to be, not held anywhere yet.
fn would_lie(string: &OrderedString, pocket: Pocket, front: Length) -> Placement {
    Placement {
        string: string.mark.clone(),
        tier: pocket.tier,
        lane: pocket.lane,
        front,
        holds: Vec::new(),
        rests_on: None,
        locked: false,
    }
}
