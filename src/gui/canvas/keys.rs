//! Keys of the drawn views: nudges of what is selected, taking off, and looking around.

use super::Canvas;
use super::change::{self, Change, Shift};
use super::snap::{Along, to_next_catch};
use super::view::Stretch;
use crate::edit::Edit;
use crate::gui::{Command, Request, Shown};
use crate::model::StringMark;
use crate::units::Length;
use egui::{EventFilter, Key, Modifiers, Response, Ui};

/// How far an arrow key moves strings along the train: plain, with Shift, with Ctrl.
const NUDGES: [(Modifiers, i64); 3] =
    [(Modifiers::COMMAND, 1), (Modifiers::SHIFT, 1_000), (Modifiers::NONE, 10)];

/// Keeps the arrow keys for a drawn thing that has the focus.
pub(super) fn keep_arrows(response: &Response) {
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    response.ctx.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
}

/// What the arrow keys ask for in this frame on the train side: along the train, or up and down the tiers.
pub(super) fn side_shift(ui: &Ui) -> Shift {
    let mut shift = Shift::default();
    ui.input_mut(|input| {
        for (modifiers, mm) in NUDGES {
            let times = |count: usize| Length::from_mm(mm) * i64::try_from(count).unwrap_or(0);
            shift.along += times(input.count_and_consume_key(modifiers, Key::ArrowRight));
            shift.along -= times(input.count_and_consume_key(modifiers, Key::ArrowLeft));
        }
        shift.tiers += i64::from(input.consume_key(Modifiers::NONE, Key::ArrowUp));
        shift.tiers -= i64::from(input.consume_key(Modifiers::NONE, Key::ArrowDown));
    });
    shift
}

/// Moves the selected strings to the next catch where Alt and an arrow are pressed.
pub(super) fn to_catch(ui: &Ui, shown: &Shown<'_>, focused: &StringMark, requests: &mut Vec<Request>) {
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::ALT, key));
    let way = match (pressed(Key::ArrowLeft), pressed(Key::ArrowRight)) {
        (true, _) => Along::Forward,
        (_, true) => Along::Rearward,
        _ => return,
    };
    let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
    let change = to_next_catch(plan, consist, &meant(shown, focused), (shown.pairs, way, shown.style));
    requests
        .push(change.map_or_else(|| Request::Say("Nothing further to catch at".to_owned()), Change::request));
}

/// What the arrow keys ask for on the deck plan: along the train, lanes to the right (upward on the screen) and to
/// the left, with Shift tiers.
pub(super) fn deck_shift(ui: &Ui) -> Shift {
    let mut shift = Shift::default();
    ui.input_mut(|input| {
        let mut times =
            |modifiers, key| i64::try_from(input.count_and_consume_key(modifiers, key)).unwrap_or(0);
        shift.tiers += times(Modifiers::SHIFT, Key::ArrowUp) - times(Modifiers::SHIFT, Key::ArrowDown);
        shift.lanes += times(Modifiers::NONE, Key::ArrowUp) - times(Modifiers::NONE, Key::ArrowDown);
    });
    shift.along = side_shift(ui).along;
    shift
}

/// What the arrow keys ask for on the rack face: lanes and tiers.
pub(super) fn face_shift(ui: &Ui) -> Shift {
    let mut shift = Shift::default();
    ui.input_mut(|input| {
        shift.lanes += i64::from(input.consume_key(Modifiers::NONE, Key::ArrowRight));
        shift.lanes -= i64::from(input.consume_key(Modifiers::NONE, Key::ArrowLeft));
        shift.tiers += i64::from(input.consume_key(Modifiers::NONE, Key::ArrowUp));
        shift.tiers -= i64::from(input.consume_key(Modifiers::NONE, Key::ArrowDown));
    });
    shift
}

/// Moves the selected strings, or `focused` where it is not among them, as one edit.
pub(super) fn nudge(shown: &Shown<'_>, focused: &StringMark, shift: Shift, requests: &mut Vec<Request>) {
    if shift == Shift::default() {
        return;
    }
    let (plan, consist) = (&shown.settled.plan, &shown.settled.consist);
    let strings = meant(shown, focused);
    requests.extend(change::move_by(plan, consist, &strings, shown.pairs, shift).map(Change::request));
}

/// Moves the vehicle that has the keyboard by one place in the train where Ctrl and an arrow are pressed.
pub(super) fn on_vehicle(ui: &Ui, vehicle: usize, requests: &mut Vec<Request>) {
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, key));
    let command = match (pressed(Key::ArrowLeft), pressed(Key::ArrowRight)) {
        (true, _) => Command::VehicleForward,
        (_, true) => Command::VehicleRearward,
        _ => return,
    };
    requests.extend([Request::SelectVehicle(Some(vehicle)), Request::Command(command)]);
}

/// Takes the selected strings off where Delete or Backspace is pressed.
pub(super) fn take_off(ui: &Ui, shown: &Shown<'_>, focused: &StringMark, requests: &mut Vec<Request>) {
    let pressed = ui.input_mut(|input| {
        input.consume_key(Modifiers::NONE, Key::Delete) || input.consume_key(Modifiers::NONE, Key::Backspace)
    });
    if pressed {
        requests.push(Request::Edit(Edit::TakeOff { strings: meant(shown, focused) }));
    }
}

/// The selection with `focused` first, if it is part of it, else `focused` alone; only what is on the train.
fn meant(shown: &Shown<'_>, focused: &StringMark) -> Vec<StringMark> {
    let selected = &shown.selection.strings;
    let mut strings = vec![focused.clone()];
    if selected.contains(focused) {
        let others = selected.iter().filter(|mark| *mark != focused);
        strings.extend(others.filter(|mark| shown.settled.plan.placement(mark).is_some()).cloned());
    }
    strings
}

/// Looks around by keys: Home or F all, + and - nearer and farther; not while text is typed.
pub(super) fn look_around(canvas: &mut Canvas, ui: &Ui, length_mm: f64, width: f32) {
    if ui.ctx().text_edit_focused() {
        return;
    }
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if pressed(Key::Home) || pressed(Key::F) {
        canvas.stretch = None;
    }
    let factor = [(Key::Plus, 1.5), (Key::Equals, 1.5), (Key::Minus, 1.0 / 1.5)];
    for (key, factor) in factor {
        if pressed(key) {
            let stretch = canvas.stretch.unwrap_or(Stretch::fit(0.0, length_mm, width));
            canvas.stretch = Some(stretch.zoomed(factor, width / 2.0));
        }
    }
}
