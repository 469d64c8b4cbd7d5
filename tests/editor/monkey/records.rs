//! What the monkey does with records and with tables that come in: the walk, readings, signatures, pasted orders.

use super::dice::Dice;
use super::forms::{activate, enter, write};
use super::gestures::click_tab;
use super::scene::{Seen, click, ending, named, press, seen};
use crate::harness::Editor;
use egui::{Event, Key, Modifiers, PointerButton, Role};

/// What is pressed in the rack walk, by the beginning of its name.
const ON_THE_WALK: [&str; 6] = [
    "Not on the train",
    "Take record back",
    "As planned",
    "Confirm all ",
    "Sign as ",
    "Take back the signature",
];

/// Walks along the train, reads scales, or pastes an order, and goes back to the train.
pub(super) fn work(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    let what = match dice.below(10) {
        0..5 => walk(editor, dice),
        5..9 => weigh(editor, dice),
        _ => paste_order(editor, dice),
    };
    press(editor, (Modifiers::COMMAND, Key::Num1));
    what
}

fn walk(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    go_to(editor, Key::Num4);
    let rows = named(&seen(editor), "walk ");
    let row = dice.one(&rows)?.clone();
    activate(editor, &row);
    let begin = *dice.one(&ON_THE_WALK)?;
    let buttons: Vec<Seen> = named(&seen(editor), begin).into_iter().filter(is_pressed).collect();
    let button = dice.one(&buttons)?.clone();
    activate(editor, &button);
    Some(format!("{}, {}", row.label, button.label))
}

fn weigh(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    go_to(editor, Key::Num5);
    let is_reading = |thing: &Seen| thing.role == Role::TextInput && thing.label.contains("axle");
    let fields: Vec<Seen> = seen(editor).into_iter().filter(is_reading).collect();
    let field = dice.one(&fields)?.clone();
    let kg = if dice.percent(25) { String::new() } else { format!("{}", 5_000 + dice.below(9_000)) };
    enter(editor, &field, &kg);
    Some(format!("{} reads {kg:?}", field.label))
}

/// An order whose columns the program cannot know by their headers.
fn paste_order(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    click_tab(editor, "Order");
    let header = format!("Kennung {}", dice.below(1_000));
    let rows = format!("{header}\tSection\tLength (m)\nZ{}\t60E1\t36\n", dice.below(40));
    editor.event(Event::Paste(rows.clone()));
    editor.run_steps(4);
    let list =
        named(&seen(editor), "Column of mark").into_iter().find(|thing| thing.role == Role::ComboBox)?;
    activate(editor, &list);
    let line = ending(&seen(editor), &header).into_iter().rfind(|thing| thing.role == Role::Button)?;
    click(editor, line.rect.center(), PointerButton::Primary);
    editor.run_steps(4);
    let things = seen(editor);
    let take = ["Take in 1 string", "Change 1 string from a table"];
    let take = things.iter().find(|thing| thing.role == Role::Button && take.contains(&thing.label.as_str()));
    match take {
        Some(take) => activate(editor, take),
        None => press(editor, (Modifiers::NONE, Key::Escape)),
    }
    Some(format!("paste {rows:?}"))
}

fn is_pressed(thing: &Seen) -> bool {
    matches!(thing.role, Role::Button | Role::CheckBox)
}

/// Shows a view, and says who is there.
pub(super) fn go_to(editor: &mut Editor, view: Key) {
    press(editor, (Modifiers::COMMAND, view));
    editor.run_steps(2);
    let name = seen(editor).into_iter().find(|thing| thing.label == "Your name" && thing.value.is_empty());
    if let Some(name) = name {
        write(editor, &name, "Ada");
    }
}
