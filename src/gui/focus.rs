//! Where the keyboard is: one ring for all widgets, since headers that fold, links and tabs show little of it
//! themselves; and where it goes on to when what it was on moves away.

use super::{Role, Theme};
use egui::{Context, Event, Id, Response, StrokeKind, Ui};

fn own_ring() -> Id {
    Id::unique("what shows the focus by itself")
}

/// Tells that the thing `id` has shown by itself, in this frame, that it has the keyboard.
pub(super) fn has_its_own(ctx: &Context, id: Id) {
    ctx.data_mut(|data| data.insert_temp(own_ring(), Some(id)));
}

fn next_name() -> Id {
    Id::unique("what the keyboard goes on to")
}

/// Sends the keyboard on from `from`, if it is there, to what calls [`take`] with this name.
pub(super) fn go_on(from: &Response, name: String) {
    if from.has_focus() {
        from.ctx.data_mut(|data| data.insert_temp(next_name(), name));
    }
}

/// Takes the keyboard where [`go_on`] sent it to this name.
pub(super) fn take(response: &Response, name: &str) {
    let sent = response.ctx.data(|data| data.get_temp::<String>(next_name()));
    if response.enabled() && sent.as_deref() == Some(name) {
        response.ctx.data_mut(|data| data.remove_temp::<String>(next_name()));
        response.request_focus();
        response.scroll_to_me(None);
    }
}

/// Draws a ring around what has the keyboard; called last in a frame. Text fields show a cursor instead.
pub(super) fn ring_ui(ui: &Ui) {
    let ctx = ui.ctx();
    let own = ctx.data_mut(|data| data.remove_temp::<Option<Id>>(own_ring())).flatten();
    if !is_worked_by_keys(ctx) {
        return;
    }
    let focused = ctx.memory(|memory| memory.focused());
    let Some(id) = focused.filter(|id| Some(*id) != own && !ctx.text_edit_focused()) else { return };
    let Some(response) = ctx.read_response(id) else { return };
    let seen = response.interact_rect;
    if !seen.is_positive() {
        return;
    }
    let painter = ctx.layer_painter(response.layer_id).with_clip_rect(seen.expand(3.0));
    let stroke = (1.5, Theme::of(ui).color(Role::Accent));
    painter.rect_stroke(response.rect.expand(1.0), 3.0, stroke, StrokeKind::Outside);
}

/// Whether a key was pressed since the last click: whoever works by pointer sees where it is without a ring.
pub(super) fn is_worked_by_keys(ctx: &Context) -> bool {
    let id = Id::unique("worked by keys");
    let before = ctx.data(|data| data.get_temp::<bool>(id)).unwrap_or(true);
    let now = ctx.input(|input| {
        input.events.iter().fold(before, |by_keys, event| match event {
            Event::Key { pressed: true, .. } => true,
            Event::PointerButton { pressed: true, .. } => false,
            _ => by_keys,
        })
    });
    ctx.data_mut(|data| data.insert_temp(id, now));
    now
}
