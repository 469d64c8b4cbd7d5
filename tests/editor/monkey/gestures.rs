//! What the monkey does at the drawn views, with keys and with menus.

use super::dice::Dice;
use super::forms::{self, Used};
use super::scene::{Seen, button, click, drag, ending, named, place_on, point, press, seen};
use super::{records, seldom};
use crate::harness::Editor;
use egui::{Event, Key, Modifiers, MouseWheelUnit, PointerButton, Role, vec2};

/// What single keys do on things of the drawn views and everywhere.
const KEYS: [(Modifiers, Key); 46] = [
    (Modifiers::NONE, Key::ArrowLeft),
    (Modifiers::NONE, Key::ArrowRight),
    (Modifiers::NONE, Key::ArrowUp),
    (Modifiers::NONE, Key::ArrowDown),
    (Modifiers::SHIFT, Key::ArrowLeft),
    (Modifiers::SHIFT, Key::ArrowRight),
    (Modifiers::SHIFT, Key::ArrowUp),
    (Modifiers::COMMAND, Key::ArrowLeft),
    (Modifiers::COMMAND, Key::ArrowRight),
    (Modifiers::ALT, Key::ArrowLeft),
    (Modifiers::ALT, Key::ArrowRight),
    (Modifiers::NONE, Key::M),
    (Modifiers::NONE, Key::M),
    (Modifiers::NONE, Key::X),
    (Modifiers::NONE, Key::X),
    (Modifiers::NONE, Key::H),
    (Modifiers::NONE, Key::L),
    (Modifiers::NONE, Key::P),
    (Modifiers::NONE, Key::T),
    (Modifiers::NONE, Key::T),
    (Modifiers::NONE, Key::R),
    (Modifiers::NONE, Key::Z),
    (Modifiers::SHIFT, Key::Z),
    (Modifiers::NONE, Key::F),
    (Modifiers::NONE, Key::Delete),
    (Modifiers::COMMAND, Key::A),
    (Modifiers::COMMAND, Key::D),
    (Modifiers::COMMAND, Key::Delete),
    (Modifiers::ALT, Key::PageUp),
    (Modifiers::ALT, Key::PageDown),
    (Modifiers::NONE, Key::PageUp),
    (Modifiers::NONE, Key::PageDown),
    (Modifiers::NONE, Key::OpenBracket),
    (Modifiers::NONE, Key::CloseBracket),
    (Modifiers::COMMAND, Key::Home),
    (Modifiers::COMMAND, Key::Z),
    (Modifiers::COMMAND, Key::Z),
    (Modifiers::COMMAND, Key::Y),
    (Modifiers::NONE, Key::Tab),
    (Modifiers::NONE, Key::Enter),
    (Modifiers::NONE, Key::Space),
    (Modifiers::NONE, Key::Escape),
    (Modifiers::NONE, Key::F1),
    (Modifiers::NONE, Key::F2),
    (Modifiers::NONE, Key::F3),
    (Modifiers::NONE, Key::Plus),
];

/// One input, and what it was.
pub(super) fn play(editor: &mut Editor, dice: &mut Dice, used: &mut Used) -> String {
    // Nobody answers a file dialog here, and questions over the window are answered by Escape.
    editor.state_mut().take_outside();
    if editor.state().dialog().is_some() {
        press(editor, (Modifiers::NONE, Key::Escape));
    }
    let things = seen(editor);
    let what = match dice.below(100) {
        0..12 => drag_string(editor, &things, dice),
        12..24 => drag_pocket(editor, &things, dice),
        24..30 => drag_from_yard(editor, &things, dice),
        30..34 => drag_vehicle(editor, &things, dice),
        34..48 => key_on_thing(editor, &things, dice),
        48..58 => menu(editor, &things, dice),
        58..61 => wander(editor, dice),
        61..64 => Some(forms::accept(editor, &things, dice)),
        64..74 => records::work(editor, dice),
        74..85 => seldom::work(editor, dice),
        _ => forms::work(editor, &things, (dice, used)),
    };
    // What was begun and not ended would stand in the way of the next.
    if dice.percent(30) && editor.state().menu().is_some() {
        press(editor, (Modifiers::NONE, Key::Escape));
    }
    what.unwrap_or_else(|| {
        // Nothing of its kind can be seen: back to the train.
        press(editor, (Modifiers::COMMAND, Key::Num1));
        click_tab(editor, "Vehicles");
        "back to the train".to_owned()
    })
}

/// Clicks a tab of the lower pane, or of the views.
pub(super) fn click_tab(editor: &mut Editor, name: &str) {
    let tabs: Vec<Seen> =
        seen(editor).into_iter().filter(|thing| thing.label == name && thing.role == Role::Button).collect();
    if let Some(tab) = tabs.first() {
        let at = tab.rect.center();
        click(editor, at, PointerButton::Primary);
    }
}

fn modifiers(dice: &mut Dice) -> Modifiers {
    match dice.below(10) {
        0 | 1 => Modifiers::COMMAND,
        2 => Modifiers::ALT,
        3 => Modifiers::SHIFT,
        _ => Modifiers::NONE,
    }
}

/// What is typed in the middle of a drag, mostly nothing.
fn typed(dice: &mut Dice) -> String {
    match dice.below(12) {
        0 => format!("{}", dice.below(60)),
        1 => format!("r{}.{}", dice.below(60), dice.below(10)),
        2 => "o0,5".to_owned(),
        3 => "1.2.3".to_owned(),
        _ => String::new(),
    }
}

pub(super) fn drawn_strings(things: &[Seen]) -> Vec<Seen> {
    let views = [" in the train side", " in the deck plan"];
    let mut strings: Vec<Seen> = views.iter().flat_map(|view| ending(things, view)).collect();
    strings.retain(|thing| thing.label.starts_with("string "));
    strings
}

fn drag_string(editor: &mut Editor, things: &[Seen], dice: &mut Dice) -> Option<String> {
    let strings = drawn_strings(things);
    let string = dice.one(&strings)?;
    let from = place_on(string, dice);
    let to = match dice.below(8) {
        0 => place_on(dice.one(&named(things, "Yard string"))?, dice),
        1 => place_on(dice.one(&named(things, "tier "))?, dice),
        _ => from + vec2((dice.share() - 0.5) * 400.0, (dice.share() - 0.5) * 60.0),
    };
    let (held, words) = (modifiers(dice), typed(dice));
    drag(editor, (from, to), held, &words);
    Some(format!("drag {} to {to}, {held:?}, typed {words:?}", string.label))
}

fn drag_pocket(editor: &mut Editor, things: &[Seen], dice: &mut Dice) -> Option<String> {
    let pockets = named(things, "tier ");
    let taken: Vec<Seen> = pockets.iter().filter(|thing| !thing.label.ends_with("empty")).cloned().collect();
    let from = dice.one(&taken)?;
    let to = dice.one(&pockets)?;
    let (held, words) = (modifiers(dice), typed(dice));
    drag(editor, (from.rect.center(), to.rect.center()), held, &words);
    Some(format!("drag {} onto {}, {held:?}, typed {words:?}", from.label, to.label))
}

fn drag_from_yard(editor: &mut Editor, things: &[Seen], dice: &mut Dice) -> Option<String> {
    let yard = named(things, "Yard string");
    let string = dice.one(&yard)?;
    if dice.percent(30) {
        let at = string.rect.center();
        click(editor, at, PointerButton::Primary);
        press(editor, (Modifiers::NONE, Key::Enter));
        return Some(format!("Enter on {}", string.label));
    }
    let mut targets = named(things, "tier ");
    targets.extend(named(things, "train side"));
    let to = place_on(dice.one(&targets)?, dice);
    drag(editor, (string.rect.center(), to), modifiers(dice), "");
    Some(format!("drag {} to {to}", string.label))
}

fn drag_vehicle(editor: &mut Editor, things: &[Seen], dice: &mut Dice) -> Option<String> {
    let vehicles: Vec<Seen> = ending(things, " in the train side")
        .into_iter()
        .filter(|thing| thing.label.starts_with("vehicle"))
        .collect();
    let (from, to) = (dice.one(&vehicles)?, dice.one(&vehicles)?);
    drag(editor, (from.rect.center(), place_on(to, dice)), Modifiers::NONE, "");
    Some(format!("drag {} onto {}", from.label, to.label))
}

/// Chooses something drawn and presses a key or two there.
fn key_on_thing(editor: &mut Editor, things: &[Seen], dice: &mut Dice) -> Option<String> {
    let mut drawn = drawn_strings(things);
    drawn.extend(named(things, "tier "));
    drawn.extend(named(things, "vehicle "));
    let mut what = String::from("keys");
    if dice.percent(70) {
        let thing = dice.one(&drawn)?;
        let at = thing.rect.center();
        point(editor, at);
        let held = if dice.percent(35) { Modifiers::COMMAND } else { Modifiers::NONE };
        button(editor, at, (PointerButton::Primary, true), held);
        button(editor, at, (PointerButton::Primary, false), held);
        what = format!("on {}", thing.label);
    }
    for _ in 0..=dice.below(2) {
        let key = *dice.one(&KEYS)?;
        press(editor, key);
        what.push_str(&format!(", {key:?}"));
    }
    Some(what)
}

/// Opens the menu of something and takes one of its lines, going into menus of its own.
fn menu(editor: &mut Editor, things: &[Seen], dice: &mut Dice) -> Option<String> {
    let kinds = ["string ", "tier ", "vehicle ", "W", "Yard string", "State: ", "fail: ", "near: "];
    let of = named(things, dice.one(&kinds)?);
    let thing = dice.one(&of)?;
    let at = thing.rect.center();
    click(editor, at, PointerButton::Secondary);
    editor.run_steps(2);
    let mut what = format!("menu of {}", thing.label);
    let mut known = things.to_vec();
    for _ in 0..3 {
        editor.state().menu()?;
        let now = seen(editor);
        let is_new = |thing: &&Seen| {
            thing.role == Role::Button
                && !known.iter().any(|old| old.label == thing.label && old.rect == thing.rect)
        };
        let lines: Vec<Seen> = now.iter().filter(is_new).cloned().collect();
        let Some(line) = dice.one(&lines) else { break };
        let at = line.rect.center();
        click(editor, at, PointerButton::Primary);
        editor.run_steps(2);
        what.push_str(&format!(", {}", line.label));
        known = now;
    }
    Some(what)
}

/// Moves, turns the wheel, and clicks anywhere at all.
fn wander(editor: &mut Editor, dice: &mut Dice) -> Option<String> {
    let window = editor.ctx.content_rect();
    // Not the menus of files at the top.
    let at = window.min + vec2(window.width() * dice.share(), 46.0 + (window.height() - 46.0) * dice.share());
    point(editor, at);
    match dice.below(4) {
        0 => {
            let delta = vec2(0.0, (dice.share() - 0.5) * 300.0);
            let modifiers = if dice.percent(50) { Modifiers::COMMAND } else { Modifiers::NONE };
            let (phase, source) = (egui::TouchPhase::Move, egui::MouseWheelSource::Unknown);
            editor.event_modifiers(
                Event::MouseWheel { unit: MouseWheelUnit::Point, delta, phase, modifiers, source },
                modifiers,
            );
            editor.step();
        }
        1 => click(editor, at, PointerButton::Secondary),
        2 => drag(
            editor,
            (at, at + vec2(dice.share() * 200.0 - 100.0, dice.share() * 80.0)),
            Modifiers::NONE,
            "",
        ),
        _ => click(editor, at, PointerButton::Primary),
    }
    Some(format!("wander at {at}"))
}
