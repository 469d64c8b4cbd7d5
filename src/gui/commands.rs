//! What menus and shortcuts can ask for, each once.

use super::fields::rests_entered;
use super::{SavedTable, View};
use crate::intake::Kind;
use egui::{Context, Key, KeyboardShortcut, Modifiers};

/// A command of the menus.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Command {
    /// Start an empty plan.
    New,
    /// Choose a plan and open it.
    Open,
    /// Save.
    Save,
    /// Choose where to save.
    SaveAs,
    /// Take a table in.
    TakeIn(Kind),
    /// Save a table for a spreadsheet.
    SaveTable(SavedTable),
    /// Close the window.
    Close,
    /// Take back the last step.
    Undo,
    /// Make the last undone step again.
    Redo,
    /// Select every string on the train.
    SelectAll,
    /// Take the selected strings off the train.
    TakeOff,
    /// Lock or unlock the selected strings.
    Lock,
    /// Hold the selected strings at the clamping rack nearest their middle.
    HoldAtMiddle,
    /// Move the selected strings to the lanes opposite theirs.
    Mirror,
    /// Exchange the pockets of the two selected strings.
    SwapPockets,
    /// Let the two strings of a pair move as one, or each alone.
    PairsAsOne,
    /// Fill a tier of the rack shown from the yard list.
    FillTier,
    /// Turn the selected vehicle round.
    TurnVehicle,
    /// Insert another vehicle like the selected one behind it.
    DuplicateVehicle,
    /// Remove the selected vehicle.
    RemoveVehicle,
    /// Move the selected vehicle one place forward.
    VehicleForward,
    /// Move the selected vehicle one place rearward.
    VehicleRearward,
    /// Show the state before.
    StateBefore,
    /// Show the state after.
    StateAfter,
    /// Show one state after the other, or stop that.
    PlayStates,
    /// Show the first state.
    FirstState,
    /// Show the end.
    LastState,
    /// Show the rack before.
    RackBefore,
    /// Show the rack after.
    RackAfter,
    /// Bring the whole train into view.
    WholeTrain,
    /// Bring the selected strings into view.
    ZoomToSelection,
    /// Bring the rack of the rack face into view.
    ZoomToRack,
    /// Bring the place of the chosen finding into view.
    ZoomToFinding,
    /// Judge the load as it is instead of the plan as meant, or the plan again.
    JudgeTheOther,
    /// Show a view in the middle of the window.
    Show(View),
    /// Go to a part of the window with the keyboard.
    GoTo(Pane),
    /// Go to the finding after the one chosen, among those listed.
    FindingAfter,
    /// Go to the finding before the one chosen, among those listed.
    FindingBefore,
    /// Find a command or a thing by words.
    Find,
    /// List the steps made, to go to one.
    History,
    /// Offer unsaved work that a run which ended badly left behind.
    LeftBehind,
    /// Learn with exercises.
    Exercises,
    /// List the shortcuts.
    Shortcuts,
}

/// A part of the window that the keyboard can go to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pane {
    /// The yard list.
    Yard,
    /// The train side.
    TrainSide,
    /// The rack face.
    RackFace,
    /// Figures and set-up.
    Tables,
    /// The findings.
    Findings,
    /// The states.
    States,
    /// The details of what is selected.
    Details,
    /// The deck plan.
    DeckPlan,
}

impl Pane {
    /// All panes, in the order of their shortcuts.
    pub const ALL: [Self; 8] = [
        Self::Yard,
        Self::TrainSide,
        Self::RackFace,
        Self::Tables,
        Self::Findings,
        Self::States,
        Self::Details,
        Self::DeckPlan,
    ];
}

/// Which shortcuts to look for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Press {
    /// Those with Ctrl and the function keys, before widgets see them; while text is typed only those that
    /// have no meaning there.
    WithModifier,
    /// Single keys, once the widgets have taken what is theirs; not while text is typed.
    Alone,
}

impl Command {
    /// All commands, in the order of the list of shortcuts; longer shortcuts of one key come first.
    pub fn all() -> impl Iterator<Item = Self> {
        use Command as C;
        [
            C::New,
            C::Open,
            C::SaveAs,
            C::Save,
            C::TakeIn(Kind::Order),
            C::Close,
            C::Redo,
            C::Undo,
            C::SelectAll,
            C::TakeOff,
            C::Lock,
            C::HoldAtMiddle,
            C::Mirror,
            C::SwapPockets,
            C::PairsAsOne,
            C::FillTier,
            C::TurnVehicle,
            C::DuplicateVehicle,
            C::RemoveVehicle,
            C::VehicleForward,
            C::VehicleRearward,
            C::StateBefore,
            C::StateAfter,
            C::PlayStates,
            C::FirstState,
            C::LastState,
            C::RackBefore,
            C::RackAfter,
            C::ZoomToRack,
            C::ZoomToFinding,
            C::WholeTrain,
            C::ZoomToSelection,
            C::JudgeTheOther,
            C::FindingBefore,
            C::FindingAfter,
            C::Find,
            C::History,
            C::LeftBehind,
            C::Exercises,
            C::Shortcuts,
        ]
        .into_iter()
        .chain(View::ALL.into_iter().map(C::Show))
        .chain(Pane::ALL.into_iter().map(C::GoTo))
        .chain([Kind::Sections, Kind::Steps, Kind::Train].map(C::TakeIn))
        .chain(SavedTable::ALL.map(C::SaveTable))
    }

    /// What the menu calls it.
    pub fn title(self) -> &'static str {
        match self {
            Self::New => "New plan",
            Self::Open => "Open...",
            Self::Save => "Save",
            Self::SaveAs => "Save as...",
            Self::TakeIn(Kind::Order) => "Take in an order...",
            Self::TakeIn(Kind::Sections) => "Take in rail sections...",
            Self::TakeIn(Kind::Steps) => "Take in steps of drops...",
            Self::TakeIn(Kind::Train) => "Take in vehicles...",
            Self::SaveTable(table) => table.title(),
            Self::Close => "Close",
            Self::Undo => "Undo",
            Self::Redo => "Redo",
            Self::SelectAll => "Select all on the train",
            Self::TakeOff => "Take off the train",
            Self::Lock => "Lock or unlock in place",
            Self::HoldAtMiddle => "Hold at the rack nearest the middle",
            Self::Mirror => "Mirror to the other side",
            Self::SwapPockets => "Swap pockets of two strings",
            Self::PairsAsOne => "Pairs move as one, or apart",
            Self::FillTier => "Fill a tier from the yard list",
            Self::TurnVehicle => "Turn the vehicle round",
            Self::DuplicateVehicle => "Insert another vehicle like it",
            Self::RemoveVehicle => "Remove the vehicle",
            Self::VehicleForward => "Move the vehicle forward",
            Self::VehicleRearward => "Move the vehicle rearward",
            Self::StateBefore => "State before",
            Self::StateAfter => "State after",
            Self::PlayStates => "Play the states, or stop",
            Self::FirstState => "Departure",
            Self::LastState => "The end",
            Self::RackBefore => "Rack before",
            Self::RackAfter => "Rack after",
            Self::WholeTrain => "Whole train",
            Self::ZoomToSelection => "Zoom to the selection",
            Self::ZoomToRack => "Zoom to the rack shown",
            Self::ZoomToFinding => "Zoom to the finding",
            Self::JudgeTheOther => "Judge as planned or as loaded",
            Self::Show(view) => view.title(),
            Self::GoTo(Pane::Yard) => "Go to the yard list",
            Self::GoTo(Pane::TrainSide) => "Go to the train side",
            Self::GoTo(Pane::RackFace) => "Go to the rack face",
            Self::GoTo(Pane::Tables) => "Go to figures and set-up",
            Self::GoTo(Pane::Findings) => "Go to the findings",
            Self::GoTo(Pane::States) => "Go to the states",
            Self::GoTo(Pane::Details) => "Go to the details",
            Self::GoTo(Pane::DeckPlan) => "Go to the deck plan",
            Self::FindingAfter => "Next finding",
            Self::FindingBefore => "Finding before",
            Self::Find => "Find...",
            Self::History => "History...",
            Self::LeftBehind => "Work left behind...",
            Self::Exercises => "Learn with exercises",
            Self::Shortcuts => "Keyboard and mouse",
        }
    }

    /// Its shortcuts; the first is the one that menus show.
    pub fn shortcuts(self) -> Vec<KeyboardShortcut> {
        let ctrl = |key| KeyboardShortcut::new(Modifiers::COMMAND, key);
        let ctrl_shift = |key| KeyboardShortcut::new(Modifiers::COMMAND | Modifiers::SHIFT, key);
        let shift = |key| KeyboardShortcut::new(Modifiers::SHIFT, key);
        let alt = |key| KeyboardShortcut::new(Modifiers::ALT, key);
        let plain = |key| KeyboardShortcut::new(Modifiers::NONE, key);
        match self {
            Self::New => vec![ctrl(Key::N)],
            Self::Open => vec![ctrl(Key::O)],
            Self::Save => vec![ctrl(Key::S)],
            Self::SaveAs => vec![ctrl_shift(Key::S)],
            Self::TakeIn(Kind::Order) => vec![ctrl(Key::I)],
            Self::TakeIn(_) | Self::SaveTable(_) => Vec::new(),
            Self::Close => vec![ctrl(Key::W)],
            Self::Undo => vec![ctrl(Key::Z)],
            Self::Redo => vec![ctrl_shift(Key::Z), ctrl(Key::Y)],
            Self::SelectAll => vec![ctrl(Key::A)],
            Self::TakeOff => vec![plain(Key::Delete)],
            Self::Lock => vec![plain(Key::L)],
            Self::HoldAtMiddle => vec![plain(Key::H)],
            Self::Mirror => vec![plain(Key::M)],
            Self::SwapPockets => vec![plain(Key::X)],
            Self::PairsAsOne => vec![plain(Key::P)],
            Self::FillTier => vec![plain(Key::T)],
            Self::TurnVehicle => vec![plain(Key::R)],
            Self::DuplicateVehicle => vec![ctrl(Key::D)],
            Self::RemoveVehicle => vec![ctrl(Key::Delete)],
            // With the keyboard on a vehicle also Ctrl and an arrow key, which strings have for another use.
            Self::VehicleForward => vec![alt(Key::PageUp)],
            Self::VehicleRearward => vec![alt(Key::PageDown)],
            Self::StateBefore => vec![plain(Key::OpenBracket)],
            Self::StateAfter => vec![plain(Key::CloseBracket)],
            Self::PlayStates => vec![plain(Key::F12)],
            Self::FirstState => vec![ctrl(Key::Home)],
            Self::LastState => vec![ctrl(Key::End)],
            Self::RackBefore => vec![plain(Key::PageUp)],
            Self::RackAfter => vec![plain(Key::PageDown)],
            Self::WholeTrain => vec![plain(Key::F), plain(Key::Home)],
            Self::ZoomToSelection => vec![plain(Key::Z)],
            Self::ZoomToRack => vec![shift(Key::Z)],
            Self::ZoomToFinding => vec![shift(Key::F)],
            Self::JudgeTheOther => vec![plain(Key::J)],
            Self::Show(view) => {
                let keys = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7];
                let at = View::ALL.iter().position(|other| *other == view);
                at.and_then(|at| keys.get(at)).map(|key| ctrl(*key)).into_iter().collect()
            }
            Self::GoTo(pane) => {
                let keys = [Key::F1, Key::F2, Key::F3, Key::F4, Key::F5, Key::F6, Key::F7, Key::F8];
                let at = Pane::ALL.iter().position(|other| *other == pane);
                at.and_then(|at| keys.get(at)).map(|key| plain(*key)).into_iter().collect()
            }
            Self::FindingAfter => vec![plain(Key::F9)],
            Self::FindingBefore => vec![KeyboardShortcut::new(Modifiers::SHIFT, Key::F9)],
            Self::Find => vec![ctrl(Key::K)],
            Self::History => vec![ctrl_shift(Key::H)],
            Self::LeftBehind => Vec::new(),
            Self::Exercises => vec![ctrl(Key::E)],
            Self::Shortcuts => vec![ctrl(Key::H)],
        }
    }

    /// Its shortcuts in words, such as `Ctrl+S`; brackets and the like by their sign.
    pub fn keys(self) -> Vec<String> {
        let names = egui::ModifierNames::NAMES;
        let words = |shortcut: KeyboardShortcut| {
            let key = shortcut.logical_key.symbol_or_name();
            match names.format(&shortcut.modifiers, false).as_str() {
                "" => key.to_owned(),
                modifiers => format!("{modifiers}+{key}"),
            }
        };
        self.shortcuts().into_iter().map(words).collect()
    }

    /// Whether it selects, or changes what is selected, in the open plan.
    pub(super) fn changes_what_is_selected(self) -> bool {
        use Command as C;
        let strings =
            [C::SelectAll, C::TakeOff, C::Lock, C::HoldAtMiddle, C::Mirror, C::SwapPockets, C::FillTier];
        let vehicles =
            [C::TurnVehicle, C::DuplicateVehicle, C::RemoveVehicle, C::VehicleForward, C::VehicleRearward];
        strings.contains(&self) || vehicles.contains(&self)
    }

    /// Whether its keys have a meaning of their own while text is typed.
    fn is_also_for_text(self) -> bool {
        matches!(self, Self::Undo | Self::Redo | Self::SelectAll | Self::FirstState | Self::LastState)
    }
}

/// The commands whose keys were pressed; the keys are taken, so that no widget sees them too.
pub(super) fn pressed(ctx: &Context, press: Press) -> Vec<Command> {
    let typing = ctx.text_edit_focused();
    if typing && press == Press::Alone {
        return Vec::new();
    }
    let is_alone = |shortcut: &KeyboardShortcut| {
        // A letter with Shift is typed where text is typed.
        let is_function_key = (Key::F1..=Key::F12).contains(&shortcut.logical_key);
        !(shortcut.modifiers.command || shortcut.modifiers.alt || is_function_key)
    };
    Command::all()
        .filter(|command| {
            let of_the_plan = matches!(command, Command::Undo | Command::Redo) && rests_entered(ctx);
            !(typing && command.is_also_for_text()) || of_the_plan
        })
        .filter(|command| {
            let shortcuts = command.shortcuts().into_iter();
            let mut wanted = shortcuts.filter(|shortcut| is_alone(shortcut) == (press == Press::Alone));
            ctx.input_mut(|input| wanted.any(|shortcut| input.consume_shortcut(&shortcut)))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_a_shortcut() {
        let mut seen = Vec::new();
        for command in Command::all() {
            for shortcut in command.shortcuts() {
                assert!(!seen.contains(&shortcut), "{command:?}: {shortcut:?}");
                seen.push(shortcut);
            }
        }
    }

    #[test]
    fn a_longer_shortcut_of_one_key_is_looked_for_first() {
        // A plain-modifier shortcut also matches with Shift held, so order decides.
        let order: Vec<KeyboardShortcut> = Command::all().flat_map(Command::shortcuts).collect();
        for (at, short) in order.iter().enumerate() {
            let same_but_shift = |long: &KeyboardShortcut| {
                (long.logical_key, long.modifiers.command, long.modifiers.alt)
                    == (short.logical_key, short.modifiers.command, short.modifiers.alt)
            };
            let later_longer = order
                .iter()
                .skip(at + 1)
                .any(|long| same_but_shift(long) && long.modifiers.shift && !short.modifiers.shift);
            assert!(!later_longer, "{short:?}");
        }
    }
}
