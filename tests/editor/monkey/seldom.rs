//! What chance alone would bring about too rarely, though people do it: titles, units, steels, whole limit sets,
//! two strings swapped, a record or an acceptance taken back.

use super::dice::Dice;
use super::forms::{activate, choose, enter, write};
use super::gestures::{click_tab, drawn_strings};
use super::records::go_to;
use super::scene::{Seen, click_with, named, press, seen};
use crate::harness::Editor;
use egui::{Key, Modifiers, Role};
use longstow::gui::Request;

/// One of them.
pub(super) fn work(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    match dice.below(16) {
        0 => field(editor, "Plan", "Title", &format!("Load {}", dice.below(100))),
        1 => notes(editor, dice),
        2 => list(editor, ("Plan", &["Units"]), dice),
        3 => field(editor, "Plan", "Tell as near from", &format!("{}", 80 + dice.below(20))),
        4 if dice.percent(50) => {
            field(editor, "Train", "Slack of one coupling", &format!("0.0{}", 1 + dice.below(9)))
        }
        4 => list(editor, ("Train", &["Beyond the front", "Beyond the rear", "Lanes come off"]), dice),
        5 => limit_set(editor, dice),
        6 => limit(editor, dice),
        7 => steel(editor, dice),
        8 => rests_on(editor, dice),
        9 => swap(editor, dice),
        10 => turn(editor, dice),
        11 => section(editor, dice),
        12 => rack_type(editor, dice),
        13 => lock(editor, dice),
        _ => take_back(editor, dice),
    }
}

fn find(editor: &Editor, label: &str) -> Option<Seen> {
    // Not the word beside a field, which is called the same.
    seen(editor).into_iter().find(|thing| thing.label == label && thing.role != Role::Label)
}

fn field(editor: &mut Editor, tab: &str, label: &str, words: &str) -> Option<String> {
    click_tab(editor, tab);
    enter(editor, &find(editor, label)?, words);
    Some(format!("{label} is {words}"))
}

fn notes(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    click_tab(editor, "Plan");
    let words = format!("note {}", dice.below(100));
    write(editor, &find(editor, "Notes")?, &words);
    // Several lines are entered by leaving them.
    click_tab(editor, "Vehicles");
    Some(words)
}

fn list(editor: &mut Editor, (tab, labels): (&str, &[&str]), dice: &mut Dice) -> Option<String> {
    click_tab(editor, tab);
    let label = *dice.one(labels)?;
    let things = seen(editor);
    let list = things.iter().find(|thing| thing.label == label && thing.role == Role::ComboBox)?;
    Some(format!("{label} is {}", choose(editor, list, &things, dice)))
}

/// Goes to the limits, and says who accepts them.
fn to_the_limits(editor: &mut Editor) -> Option<()> {
    click_tab(editor, "Limits");
    let name = find(editor, "Your name, to accept limits")?;
    if name.value.is_empty() {
        write(editor, &name, "Ada");
    }
    Some(())
}

fn limit_set(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    to_the_limits(editor)?;
    let things = seen(editor);
    let sets = things.iter().find(|thing| thing.label == "Limit set")?;
    let chosen = choose(editor, sets, &things, dice);
    activate(editor, &find(editor, "Take over and accept all of it")?);
    Some(format!("take over {chosen}"))
}

/// Enters a limit, which nobody accepted then, and accepts one that is open.
fn limit(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    to_the_limits(editor)?;
    let fields: Vec<Seen> =
        seen(editor).into_iter().filter(|thing| thing.label.ends_with(", while travelling")).collect();
    let field = dice.one(&fields)?;
    enter(editor, field, &format!("{}", 1 + dice.below(30)));
    editor.run_steps(2);
    let mut open = named(&seen(editor), "Accept ");
    open.retain(|thing| thing.role == Role::Button && thing.label != "Accept this finding");
    activate(editor, dice.one(&open)?);
    Some(format!("accept {}", field.label))
}

/// Takes a steel from the catalogue, or removes the one shown where there is none left to take.
fn steel(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    click_tab(editor, "Sections");
    match from_catalogue(editor, "Add a steel", dice) {
        Some(added) => Some(added),
        None => {
            activate(editor, &find(editor, "Remove this steel")?);
            Some("remove a steel".to_owned())
        }
    }
}

/// Takes a line of the catalogue from a menu.
fn from_catalogue(editor: &mut Editor, menu: &str, dice: &mut Dice) -> Option<String> {
    let known = seen(editor);
    activate(editor, &find(editor, menu)?);
    let is_new = |thing: &Seen| {
        thing.role == Role::Button
            && !thing.label.ends_with(", typed in")
            && !known.iter().any(|old| old.label == thing.label && old.rect == thing.rect)
    };
    let lines: Vec<Seen> = seen(editor).into_iter().filter(is_new).collect();
    let Some(line) = dice.one(&lines) else {
        press(editor, (Modifiers::NONE, Key::Escape));
        return None;
    };
    activate(editor, line);
    Some(format!("{menu}: {}", line.label))
}

/// Changes a section, or takes one from the catalogue where a steel is shown.
fn section(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    click_tab(editor, "Sections");
    match find(editor, "Mass per length").filter(|_| dice.percent(70)) {
        Some(mass) => {
            let kg_per_m = format!("{}.{}", 48 + dice.below(20), dice.below(10));
            enter(editor, &mass, &kg_per_m);
            Some(format!("a section of {kg_per_m}"))
        }
        None => from_catalogue(editor, "Add a section", dice),
    }
}

/// Changes the ratings of the rack type under the wagons.
fn rack_type(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    editor.state_mut().ask(Request::EditRackType(0));
    editor.run_steps(2);
    let ratings: Vec<Seen> = seen(editor)
        .into_iter()
        .filter(|thing| ["One pocket", "One tier", "Whole rack"].contains(&thing.label.as_str()))
        .filter(|thing| thing.role == Role::TextInput)
        .collect();
    let rating = dice.one(&ratings)?;
    let tonnes = format!("{}.{}", 2 + dice.below(30), dice.below(10));
    enter(editor, rating, &tonnes);
    Some(format!("{} is {tonnes}", rating.label))
}

/// Back to the train, and a string of it chosen.
fn choose_string(editor: &mut Editor, dice: &mut Dice) -> Option<Seen> {
    press(editor, (Modifiers::COMMAND, Key::Num1));
    let strings = drawn_strings(&seen(editor));
    let string = dice.one(&strings)?.clone();
    activate(editor, &string);
    Some(string)
}

fn rests_on(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    let string = choose_string(editor, dice)?;
    let things = seen(editor);
    let says = ["Say: the racks now under it", "Do not say"];
    let button = things.iter().find(|thing| says.contains(&thing.label.as_str()))?;
    activate(editor, button);
    Some(format!("{} for {}", button.label, string.label))
}

fn swap(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    let first = choose_string(editor, dice)?;
    let others: Vec<Seen> =
        drawn_strings(&seen(editor)).into_iter().filter(|thing| *thing != first).collect();
    let second = dice.one(&others)?;
    click_with(editor, second.rect.center(), Modifiers::COMMAND);
    press(editor, (Modifiers::NONE, Key::X));
    Some(format!("swap {} and {}", first.label, second.label))
}

fn lock(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    let string = choose_string(editor, dice)?;
    press(editor, (Modifiers::NONE, Key::L));
    Some(format!("lock {}", string.label))
}

fn turn(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    click_tab(editor, "Train");
    let mut boxes = named(&seen(editor), "Turn ");
    boxes.retain(|thing| thing.role == Role::CheckBox);
    let turned = dice.one(&boxes)?;
    activate(editor, turned);
    Some(turned.label.clone())
}

/// Takes back a record of the walk, a reading, or an acceptance.
fn take_back(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    match dice.below(3) {
        0 => {
            go_to(editor, Key::Num4);
            let mut rows = named(&seen(editor), "walk ");
            rows.retain(|row| !row.label.contains("not confirmed"));
            let row = dice.one(&rows)?;
            activate(editor, row);
            activate(editor, &find(editor, "Take record back")?);
            press(editor, (Modifiers::COMMAND, Key::Num1));
            Some(format!("take back the record of {}", row.label))
        }
        1 => {
            go_to(editor, Key::Num5);
            let is_reading = |thing: &Seen| {
                thing.role == Role::TextInput && thing.label.contains("axle") && !thing.value.is_empty()
            };
            let readings: Vec<Seen> = seen(editor).into_iter().filter(is_reading).collect();
            let reading = dice.one(&readings)?;
            enter(editor, reading, "");
            press(editor, (Modifiers::COMMAND, Key::Num1));
            Some(format!("take back {}", reading.label))
        }
        _ => {
            let mut fails = named(&seen(editor), "fail: ");
            fails.extend(named(&seen(editor), "accepted: "));
            for fail in fails {
                activate(editor, &fail);
                if let Some(back) = find(editor, "Take the acceptance back") {
                    activate(editor, &back);
                    return Some(format!("take back the acceptance of {}", fail.label));
                }
            }
            None
        }
    }
}
