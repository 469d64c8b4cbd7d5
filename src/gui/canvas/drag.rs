//! Drags over the drawn views: along the train with snapping, between tiers, from pocket to pocket, from the
//! yard list onto the train.
//!
//! A drag changes nothing until the button is let go: each frame it works out one edit of the settled plan
//! and asks for its preview. Escape puts everything back; so does letting go where nothing can be dropped.

use super::deck_hands::Grip;
use super::target::{Target, target};
use super::typed::{Said, Typed};
use super::{Canvas, card};
use crate::gui::{Request, Shown};
use crate::model::StringMark;
use crate::units::Length;
use egui::{Context, Key, Pos2, Rect, Ui};

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
    /// The exact place that is typed meanwhile.
    pub(super) typed: Typed,
    /// What the keys of this frame said.
    said: Said,
    /// Whether a preview was asked for and not ended yet.
    previews: bool,
}

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
            typed: Typed::default(),
            said: Said::Nothing,
            previews: false,
        }
    }
}

/// Gives all keys of the frame to the drag, if there is one, so that nothing else answers to what is typed.
pub(super) fn take_keys(canvas: &mut Canvas, ctx: &Context) {
    if let Some(drag) = &mut canvas.drag {
        drag.said = drag.typed.take(ctx);
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
        if let Some(view) = scrolled_view(canvas, &drag, at) {
            scroll_at_edges(canvas, ui, (view, at));
        }
        drag.target = target(canvas, shown, &drag, (at, modifiers));
    }
    if released || drag.said == Said::Drop {
        match drag.target.change.take() {
            Some(change) => requests.push(change.request()),
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

/// The view that a drag scrolls with the pointer at a place, if it scrolls one.
fn scrolled_view(canvas: &Canvas, drag: &Drag, at: Pos2) -> Option<Rect> {
    if canvas.yard.is_some_and(|yard| yard.contains(at)) {
        return None;
    }
    let views = [canvas.side.map(|side| side.projection.rect), canvas.deck.map(|deck| deck.projection.rect)];
    let view = views.into_iter().flatten().find(|view| view.y_range().contains(at.y))?;
    // From the yard list the way leads over an edge: only inside the view does it scroll.
    let reaches = matches!(drag.origin, Origin::Side | Origin::Deck) || view.contains(at);
    reaches.then_some(view)
}

/// Scrolls along the train while the pointer of a drag is near an end of the view, or past it.
pub(super) fn scroll_at_edges(canvas: &mut Canvas, ui: &Ui, (view, at): (Rect, Pos2)) {
    let (edge, speed) = SCROLL_POINTS;
    let past_left = ((view.left() + edge - at.x) / edge).clamp(0.0, 2.0);
    let past_right = ((at.x - view.right() + edge) / edge).clamp(0.0, 2.0);
    if (past_left > 0.0 || past_right > 0.0)
        && let Some(stretch) = canvas.stretch
    {
        canvas.stretch = Some(stretch.panned((past_left - past_right) * speed));
        ui.ctx().request_repaint();
    }
}
