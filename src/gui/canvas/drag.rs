//! Drags over the drawn views: along the train with snapping, between tiers, from pocket to pocket, from the
//! yard list onto the train.
//!
//! A drag changes nothing until the button is let go: each frame it works out one edit of the settled plan
//! and asks for its preview. Escape puts everything back; so does letting go where nothing can be dropped.

use super::change::{self, Change, Shift};
use super::deck_hands::{self, Grip};
use super::lay::{self, Pocket};
use super::snap::{self, Moving, Snap};
use super::{Canvas, card};
use crate::drawing::{Point, side_pocket_at};
use crate::edit::Edit;
use crate::gui::{Request, Shown};
use crate::model::{Placement, StringMark};
use crate::units::Length;
use egui::{Key, Modifiers, Pos2, Rect, Ui};
use std::collections::BTreeSet;

/// Where strings were taken hold of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// In the yard list: they are not on the train.
    Yard,
    /// On the train side.
    Side,
    /// On the deck plan.
    Deck,
    /// On the rack face.
    Face,
}

/// Strings that are being dragged.
#[derive(Clone, Debug)]
pub struct Drag {
    /// The strings, the one under the pointer first.
    pub strings: Vec<StringMark>,
    /// Where they were taken hold of.
    pub origin: Origin,
    /// From the first string's front end to the pointer.
    pub grab_offset: Length,
    /// The tier under the pointer when it went down on the train side.
    pub(super) start_tier: Option<u32>,
    /// Where on the deck plan the pointer went down.
    pub(super) grip: Option<Grip>,
    /// What letting go now would do.
    pub(super) target: Target,
    /// Whether a preview was asked for and not ended yet.
    previews: bool,
}

/// What letting go now would do.
#[derive(Clone, Debug, Default)]
pub(super) struct Target {
    /// The edit; none: nothing.
    pub(super) change: Option<Change>,
    /// What the first string's end catches at.
    pub(super) snap: Option<Snap>,
    /// The pocket of the rack face under the pointer, on the screen.
    pub(super) pocket: Option<Rect>,
    /// A word of help, where one is due.
    pub(super) hint: &'static str,
}

/// How near in points an end must come to catch.
const CATCH_POINTS: f64 = 9.0;
/// How near to the view's ends the pointer makes it scroll, and how fast in points per frame.
const SCROLL_POINTS: (f32, f32) = (28.0, 14.0);

impl Drag {
    /// A drag of `strings`, the one under the pointer first; the pointer is `grab_offset` behind its front end.
    pub fn new(strings: Vec<StringMark>, origin: Origin, grab_offset: Length) -> Self {
        Self {
            strings,
            origin,
            grab_offset,
            start_tier: None,
            grip: None,
            target: Target::default(),
            previews: false,
        }
    }
}

/// Follows the drag of `canvas`, if there is one.
pub(super) fn drag_ui(canvas: &mut Canvas, ui: &Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
    let Some(mut drag) = canvas.drag.take() else { return };
    let (pointer, modifiers) = ui.input(|input| (input.pointer.interact_pos(), input.modifiers));
    let (escaped, released, down) = ui.input(|input| {
        (input.key_pressed(Key::Escape), input.pointer.any_released(), input.pointer.primary_down())
    });
    // Escape ends egui's own drag as well and looks like a drop there: only a released button is one here.
    if escaped || (!released && !down) {
        end_preview(&mut drag, requests);
        return;
    }
    if let Some(at) = pointer {
        scroll_at_edges(canvas, ui, &drag, at);
        drag.target = target(canvas, shown, &drag, at, modifiers);
    }
    if released {
        match drag.target.change.take() {
            Some(change) => {
                requests.push(Request::Edit(change.edit));
                if !change.said.is_empty() {
                    requests.push(Request::Say(change.said));
                }
            }
            None => end_preview(&mut drag, requests),
        }
        return;
    }
    match &drag.target.change {
        Some(change) => {
            requests.push(Request::Preview(Some(change.edit.clone())));
            drag.previews = true;
        }
        None => end_preview(&mut drag, requests),
    }
    ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
    card::card_ui(canvas, ui, shown, &drag, pointer);
    canvas.drag = Some(drag);
}

fn end_preview(drag: &mut Drag, requests: &mut Vec<Request>) {
    if std::mem::take(&mut drag.previews) {
        requests.push(Request::Preview(None));
    }
}

fn scroll_at_edges(canvas: &mut Canvas, ui: &Ui, drag: &Drag, at: Pos2) {
    let views = [canvas.side.map(|side| side.projection.rect), canvas.deck.map(|deck| deck.projection.rect)];
    let Some(view) = views.into_iter().flatten().find(|view| view.y_range().contains(at.y)) else { return };
    let (edge, speed) = SCROLL_POINTS;
    // From the yard list the way leads over an edge: only inside the view does it scroll.
    let reaches = matches!(drag.origin, Origin::Side | Origin::Deck) || view.contains(at);
    if !reaches {
        return;
    }
    let past_left = ((view.left() + edge - at.x) / edge).clamp(0.0, 2.0);
    let past_right = ((at.x - view.right() + edge) / edge).clamp(0.0, 2.0);
    if (past_left > 0.0 || past_right > 0.0)
        && let Some(stretch) = canvas.stretch
    {
        canvas.stretch = Some(stretch.panned((past_left - past_right) * speed));
        ui.ctx().request_repaint();
    }
}

/// What letting go at `at` would do.
fn target(canvas: &Canvas, shown: &Shown<'_>, drag: &Drag, at: Pos2, modifiers: Modifiers) -> Target {
    if let Some(face) = canvas.face.as_ref().filter(|face| face.rect.contains(at)) {
        return match face.pocket_at(at) {
            Some((pocket, rect)) => {
                let mut target = onto_pocket(canvas, shown, drag, (face.rack, pocket), modifiers);
                target.pocket = Some(rect);
                target
            }
            None => Target::default(),
        };
    }
    if let Some(target) = deck_hands::target(canvas, shown, drag, at, modifiers) {
        return target;
    }
    let Some(side) = canvas.side else { return Target::default() };
    let view = side.projection.rect;
    let along = if drag.origin == Origin::Side { view.y_range().contains(at.y) } else { view.contains(at) };
    if !along {
        return Target::default();
    }
    let point = Point::new(side.projection.x_mm(at.x), side.projection.up_mm(at.y));
    let reach = catch_reach(side.projection.x_points_per_mm, modifiers);
    match drag.origin {
        Origin::Yard => {
            let pocket = side_pocket_at(shown.settled, point);
            place_along(canvas, shown, drag, (point.across_mm, reach), pocket)
        }
        Origin::Side | Origin::Deck | Origin::Face => move_along(shown, drag, (point, reach)),
    }
}

/// How near an end must come to catch; never with Alt.
pub(super) fn catch_reach(points_per_mm: f64, modifiers: Modifiers) -> Length {
    if modifiers.alt {
        return Length::from_mm(-1);
    }
    Length::from_mm_rounded((CATCH_POINTS / points_per_mm).max(1.0))
}

/// Onto a pocket of the rack face: strings on the train keep their front ends.
fn onto_pocket(
    canvas: &Canvas,
    shown: &Shown<'_>,
    drag: &Drag,
    (rack, pocket): (usize, Pocket),
    modifiers: Modifiers,
) -> Target {
    let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
    let Some(string) = drag.strings.first().and_then(|mark| plan.string(mark)) else {
        return Target::default();
    };
    if drag.origin == Origin::Yard {
        let kept = canvas.kept.get(&string.mark).copied();
        let front = lay::sensible_front(plan, consist, string, (pocket, Some(rack)), kept);
        let change = change::place_all(plan, consist, &drag.strings, rack, Some((pocket, front)));
        return Target { change, ..Target::default() };
    }
    let Some(lead) = plan.placement(&string.mark) else { return Target::default() };
    let other = lay::in_the_way(plan, string, pocket, lead.front).first().map(|other| other.string.clone());
    if let (Some(other), true, [only]) = (&other, modifiers.command, drag.strings.as_slice()) {
        return Target { change: Some(swap(only, other)), ..Target::default() };
    }
    let shift = Shift {
        tiers: i64::from(pocket.tier) - i64::from(lead.tier),
        lanes: i64::from(pocket.lane) - i64::from(lead.lane),
        ..Shift::default()
    };
    let hint = match (&other, drag.strings.len()) {
        (Some(_), 1) => "taken: hold Ctrl to swap",
        _ => "",
    };
    Target { change: shifted(shown, drag, shift), hint, ..Target::default() }
}

/// Two strings change their pockets.
pub(super) fn swap(first: &StringMark, second: &StringMark) -> Change {
    let edit = Edit::SwapPockets { first: first.clone(), second: second.clone() };
    Change { edit, said: format!("{first} and {second} swap pockets") }
}

/// Along the train, with the tier that the pointer has gone to since it went down.
fn move_along(shown: &Shown<'_>, drag: &Drag, (point, reach): (Point, Length)) -> Target {
    let plan = &shown.settled.plan;
    let lead = drag.strings.first().and_then(|mark| Some((plan.placement(mark)?, plan.string(mark)?)));
    let Some((placement, string)) = lead else { return Target::default() };
    let (front, snap) = caught(shown, drag, (placement, string.length), (point.across_mm, reach));
    let tier = side_pocket_at(shown.settled, point).map(|(tier, _)| tier);
    let tiers = match (drag.start_tier, tier) {
        (Some(start), Some(tier)) => i64::from(tier) - i64::from(start),
        _ => 0,
    };
    let shift = Shift { along: front - placement.front, tiers, lanes: 0 };
    Target { change: shifted(shown, drag, shift), snap, ..Target::default() }
}

/// Where the front end of the first string comes to lie with the pointer at x, and what it catches at.
pub(super) fn caught(
    shown: &Shown<'_>,
    drag: &Drag,
    (placement, length): (&Placement, Length),
    (x_mm, reach): (f64, Length),
) -> (Length, Option<Snap>) {
    let front = Length::from_mm_rounded(x_mm) - drag.grab_offset;
    let company: BTreeSet<StringMark> = drag.strings.iter().cloned().collect();
    let moving = Moving { placement, length, company: &company };
    let snaps = snap::snaps(&shown.settled.plan, &shown.settled.consist, &moving);
    let snap = snap::nearest(&snaps, front, reach).cloned();
    (snap.as_ref().map_or(front, |snap| snap.front), snap)
}

pub(super) fn shifted(shown: &Shown<'_>, drag: &Drag, shift: Shift) -> Option<Change> {
    let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
    let strings = drag.strings.iter().cloned().collect();
    change::moved(plan, consist, change::shifted(plan, consist, &strings, shift))
}

/// From the yard list onto the train: the tier under the pointer, there the free lane nearest to it.
pub(super) fn place_along(
    canvas: &Canvas,
    shown: &Shown<'_>,
    drag: &Drag,
    (x_mm, reach): (f64, Length),
    pocket: Option<(u32, u32)>,
) -> Target {
    let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
    let Some(string) = drag.strings.first().and_then(|mark| plan.string(mark)) else {
        return Target::default();
    };
    let Some((tier, lane)) = pocket else { return Target::default() };
    let wish = Length::from_mm_rounded(x_mm) - drag.grab_offset;
    let front_in = |pocket: Pocket| {
        let placement = Placement {
            string: string.mark.clone(),
            tier: pocket.tier,
            lane: pocket.lane,
            front: wish,
            holds: Vec::new(),
            rests_on: None,
            locked: false,
        };
        caught(shown, drag, (&placement, string.length), (x_mm, reach))
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
    let rack = canvas.face.as_ref().map_or(rack, |face| face.rack);
    let change = change::place_all(plan, consist, &drag.strings, rack, Some((pocket, front)));
    Target { change, snap, ..Target::default() }
}
