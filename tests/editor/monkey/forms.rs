//! What the monkey does in forms: it goes to a tab, takes what it has used least, and types, ticks, chooses or presses.

use super::dice::Dice;
use super::gestures::click_tab;
use super::scene::{Seen, click, press, seen, type_words};
use crate::harness::Editor;
use egui::{Key, Modifiers, PointerButton, Role};
use egui_kittest::kittest::Queryable as _;
use std::collections::BTreeMap;

/// How often each widget was used, by its name without numbers.
pub(super) type Used = BTreeMap<String, usize>;

const TABS: [&str; 9] = ["Order", "Drops", "Train", "Types", "Types", "Sections", "Limits", "Route", "Plan"];
/// Of the window around the forms, or leading out of it: files, dialogs, and what is tried elsewhere.
const NOT_HERE: [&str; 20] = [
    "File",
    "Edit",
    "View",
    "Help",
    "Undo",
    "Redo",
    "New plan",
    "Open",
    "Save",
    "Close",
    "Train side",
    "Deck plan",
    "What if",
    "Rack walk",
    "Weighings",
    "Compare",
    "Sheets",
    "both",
    "string ",
    "tier ",
];

/// Goes to a tab and uses something there.
pub(super) fn work(
    editor: &mut Editor,
    things: &[Seen],
    (dice, used): (&mut Dice, &mut Used),
) -> Option<String> {
    let mut what = String::new();
    let mut now = things.to_vec();
    if dice.percent(35) {
        let tab = *dice.one(&TABS)?;
        click_tab(editor, tab);
        what = format!("tab {tab}, ");
        now = seen(editor);
    }
    let mut usable: Vec<&Seen> = now.iter().filter(|thing| is_widget(thing)).collect();
    if dice.percent(80) {
        // The form alone, without the lists around it.
        let side = now.iter().find(|thing| thing.label == "train side")?.rect;
        let is_in_form = |thing: &Seen| {
            let at = thing.rect.center();
            at.y > side.bottom() && (side.left()..side.right() + 400.0).contains(&at.x)
        };
        usable.retain(|thing| is_in_form(thing) && !thing.label.starts_with("State"));
    }
    // Of a few, the one that was used least: so that what is rare comes to pass as well.
    let mut few = Vec::new();
    for _ in 0..4 {
        few.extend(dice.one(&usable).copied());
    }
    let widget = few.into_iter().min_by_key(|thing| used.get(&kind_of(thing)).copied().unwrap_or(0))?.clone();
    *used.entry(kind_of(&widget)).or_default() += 1;
    what.push_str(&format!("{:?} {}", widget.role, widget.label));
    match widget.role {
        Role::TextInput => what.push_str(&format!(": {}", type_into(editor, &widget, dice))),
        Role::ComboBox => what.push_str(&format!(": {}", choose(editor, &widget, &now, dice))),
        _ => activate(editor, &widget),
    }
    Some(what)
}

fn is_widget(thing: &Seen) -> bool {
    let roles = [Role::Button, Role::CheckBox, Role::ComboBox, Role::TextInput, Role::RadioButton];
    roles.contains(&thing.role)
        && !NOT_HERE.iter().any(|begin| thing.label.starts_with(begin))
        && !thing.label.ends_with(" in the train side")
        && !thing.label.ends_with(" in the deck plan")
}

fn kind_of(thing: &Seen) -> String {
    let name = thing.label.split(':').next().unwrap_or_default();
    name.chars().filter(|letter| !letter.is_ascii_digit()).collect()
}

/// Uses a widget as a screen reader does, wherever it is scrolled to.
pub(super) fn activate(editor: &mut Editor, thing: &Seen) {
    if let Some(node) = editor.query_all_by(|node| is_it(node, thing)).next() {
        node.click_accesskit();
    }
    editor.run_steps(3);
}

fn is_it(node: &egui_kittest::kittest::AccessKitNode<'_>, thing: &Seen) -> bool {
    node.role() == thing.role && node.label().as_deref() == Some(thing.label.as_str())
}

/// Types something into a field and enters it, or leaves it by Escape; gives what was typed.
fn type_into(editor: &mut Editor, field: &Seen, dice: &mut Dice) -> String {
    let words = words_for(field, dice);
    write(editor, field, &words);
    let end = if dice.percent(95) { Key::Enter } else { Key::Escape };
    press(editor, (Modifiers::NONE, end));
    editor.step();
    words
}

/// Puts words in place of those in a field and enters them.
pub(super) fn enter(editor: &mut Editor, field: &Seen, words: &str) {
    write(editor, field, words);
    press(editor, (Modifiers::NONE, Key::Enter));
    editor.step();
}

/// Puts words in place of those in a field.
pub(super) fn write(editor: &mut Editor, field: &Seen, words: &str) {
    let fields: Vec<_> = editor.query_all_by(|node| is_it(node, field)).collect();
    if let Some(node) = fields.iter().find(|node| node.rect() == field.rect).or(fields.first()) {
        node.focus();
    }
    drop(fields);
    editor.step();
    press(editor, (Modifiers::COMMAND, Key::A));
    if words.is_empty() {
        press(editor, (Modifiers::NONE, Key::Delete));
    }
    type_words(editor, words);
}

/// Something that a person might type there, now and then nonsense.
fn words_for(field: &Seen, dice: &mut Dice) -> String {
    if dice.percent(8) {
        let odd = ["", "0", "-3", "abc", "12 ft 6 in", "1e9", "999999", "1.2.3", "0,5", "ß☺", "  ", "-0.001"];
        return (*dice.one(&odd).unwrap_or(&"0")).to_owned();
    }
    if field.label.starts_with("Lanes") {
        let lanes = ["-1000; -600; -200; 200; 600; 1000", "-900; -300; 300; 900", "-500; 0; 500"];
        return (*dice.one(&lanes).unwrap_or(&"0")).to_owned();
    }
    if field.label.contains("name") || field.label.contains("by") {
        return ["Ada", "Ben", "Cleo"][dice.below(3)].to_owned();
    }
    match field.value.replace(',', ".").parse::<f64>() {
        Ok(value) if value != 0.0 => {
            let factor = 0.9 + 0.2 * f64::from(dice.share());
            let digits = dice.below(3);
            format!("{:.digits$}", value * factor)
        }
        _ if field.value.is_empty() || field.value == "0" => format!("{}", dice.below(40)),
        _ => format!("{} {}", ["N", "K", "Q"][dice.below(3)], dice.below(30)),
    }
}

/// Opens a list and takes one of its lines.
pub(super) fn choose(editor: &mut Editor, list: &Seen, before: &[Seen], dice: &mut Dice) -> String {
    activate(editor, list);
    let is_new = |thing: &Seen| {
        thing.role == Role::Button
            && !before.iter().any(|old| old.label == thing.label && old.rect == thing.rect)
    };
    let lines: Vec<Seen> = seen(editor).into_iter().filter(is_new).collect();
    match dice.one(&lines) {
        Some(line) => {
            let at = line.rect.center();
            click(editor, at, PointerButton::Primary);
            line.label.clone()
        }
        None => {
            press(editor, (Modifiers::NONE, Key::Escape));
            "nothing to choose".to_owned()
        }
    }
}

/// Accepts a finding with a reason, or takes an acceptance back.
pub(super) fn accept(editor: &mut Editor, things: &[Seen], dice: &mut Dice) -> String {
    let fails: Vec<Seen> = things.iter().filter(|thing| thing.label.starts_with("fail: ")).cloned().collect();
    let Some(fail) = dice.one(&fails) else { return "no fail to accept".to_owned() };
    activate(editor, fail);
    let find = |editor: &Editor, label: &str| seen(editor).into_iter().find(|thing| thing.label == label);
    if let Some(back) = find(editor, "Take the acceptance back") {
        activate(editor, &back);
        return format!("take back the acceptance of {}", fail.label);
    }
    if find(editor, "Accepted by").is_none()
        && let Some(form) = find(editor, "Accept this finding")
    {
        activate(editor, &form);
        // The form unfolds in its own time.
        editor.run_steps(12);
    }
    for (label, words) in [("Accepted by", "Ada"), ("Reason for accepting", "seen on site")] {
        if let Some(field) = find(editor, label) {
            write(editor, &field, words);
        }
    }
    if let Some(accept) = find(editor, "Accept") {
        activate(editor, &accept);
    }
    format!("accept {}", fail.label)
}
