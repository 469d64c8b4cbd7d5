//! What panels and tools hand back: wishes, which the workbench grants or refuses.

use super::canvas::{Change, Pocket};
use super::menus::MenuOf;
use super::{Command, Export, FindingKey, How, Tab};
use crate::checks::Subject;
use crate::edit::Edit;
use crate::intake::Kind;
use crate::model::{StringMark, TrainEnd};
use crate::report::Judged;
use crate::units::{DecimalMark, Length};
use egui::Pos2;
use std::path::PathBuf;

/// How a selection combines with the one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SelectMode {
    /// Takes its place.
    Only,
    /// Joins it.
    Add,
    /// Turns each string's own selection round.
    Toggle,
}

/// What train side and deck plan should bring into view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ZoomTarget {
    /// All of the train.
    Train,
    /// A vehicle, by index.
    Vehicle(usize),
    /// A rack of the consist, by index.
    Rack(usize),
    /// A string where a rack of the consist carries it.
    StringAtRack(StringMark, usize),
    /// A tier of a rack of the consist, or one of its pockets.
    Pocket {
        /// The rack, by index.
        rack: usize,
        /// The tier, from 1.
        tier: u32,
        /// The lane, from 1; none: the whole tier.
        lane: Option<u32>,
    },
    /// Strings on the train.
    Strings(Vec<StringMark>),
    /// The end of a string on the train, with the racks on both sides of it.
    StringEnd(StringMark, TrainEnd),
}

/// One wish of the user.
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// Make a change; ends a preview.
    Edit(Edit),
    /// Make a change, and say what it did besides; ends a preview.
    Change(Change),
    /// Show what a change would do; none ends the preview.
    Preview(Option<Edit>),
    /// Select strings.
    Select {
        /// The strings; none of them with [`SelectMode::Only`] clears the selection.
        strings: Vec<StringMark>,
        /// How.
        mode: SelectMode,
    },
    /// Select a vehicle of the train, by index; none lets go of it.
    SelectVehicle(Option<usize>),
    /// Show a state in all views; clamped to the last.
    ShowState(usize),
    /// Show a rack of the consist in the rack face, by index, and select it.
    ShowRack(usize),
    /// Show a finding: its things are selected, its worst state shown, its place brought into view.
    ShowFinding(FindingKey),
    /// Show how a figure, or what a finding compares, came about.
    ShowWorking(How),
    /// Bring something into view on train side and deck plan.
    ZoomTo(ZoomTarget),
    /// Take hold of strings, to be dropped on the train by the canvas.
    Grab {
        /// The strings; the first is the one under the pointer.
        strings: Vec<StringMark>,
        /// From the front end of the first string to the place it was taken at.
        grab_offset: Length,
    },
    /// Open the menu of a thing at a place of the window.
    OpenMenu {
        /// The thing.
        of: MenuOf,
        /// The place.
        at: Pos2,
    },
    /// Put what is selected into a pocket of a rack of the consist: what is on the train, else what is in the yard list.
    PutInto {
        /// The rack, by index.
        rack: usize,
        /// The pocket.
        pocket: Pocket,
    },
    /// Show the form of a vehicle type, by index.
    EditVehicleType(usize),
    /// Show the form of a rack type, by index.
    EditRackType(usize),
    /// Show a finding, and lead to the form that accepts it.
    AcceptFinding(FindingKey),
    /// Put words on the clipboard.
    CopyText(String),
    /// Put each of these strings into the first free pocket near the rack shown.
    PlaceFree(Vec<StringMark>),
    /// Choose a plan from a file, to compare this one with.
    ChoosePlanToCompare,
    /// Open this file (asks about unsaved changes).
    OpenPath(PathBuf),
    /// Open a copy of the sample with this index (asks about unsaved changes).
    OpenSample(usize),
    /// Do what a menu or a shortcut says.
    Command(Command),
    /// Show the plan as meant, or the load as it was recorded, in all views.
    Judge(Judged),
    /// Write decimals with a point or a comma.
    SetDecimal(DecimalMark),
    /// Show a tab of the lower middle.
    ShowTab(Tab),
    /// Lets a field of the form shown have the keyboard, by its name.
    GoToField(String),
    /// Show a thing where it is drawn or entered, and select it.
    ShowThing(Subject),
    /// Use these colours.
    SetColours(egui::ThemePreference),
    /// Draw everything in this size; 1 is the usual one.
    SetSize(f32),
    /// Say what the program is and what its model leaves out.
    ShowAbout,
    /// Call off work under way, by its number.
    CallOff(u32),
    /// Work out all states after all, where that was called off.
    WorkOut,
    /// Take in a table of this kind that was pasted.
    TakePasted(Kind, String),
    /// Write a document to a file that the user chooses.
    Export(Export),
    /// Say a sentence in the status line.
    Say(String),
}
