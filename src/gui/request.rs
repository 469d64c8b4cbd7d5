//! What panels and tools hand back: wishes, which the workbench grants or refuses.

use super::{Command, FindingKey, How, Tab};
use crate::edit::Edit;
use crate::model::{StringMark, TrainEnd};
use crate::report::Judged;
use crate::units::{DecimalMark, Length};
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

/// What the train side should bring into view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ZoomTarget {
    /// All of the train.
    Train,
    /// A vehicle, by index.
    Vehicle(usize),
    /// A rack of the consist, by index.
    Rack(usize),
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
    /// Bring something into view on the train side.
    ZoomTo(ZoomTarget),
    /// Take hold of strings, to be dropped on the train by the canvas.
    Grab {
        /// The strings; the first is the one under the pointer.
        strings: Vec<StringMark>,
        /// From the front end of the first string to the place it was taken at.
        grab_offset: Length,
    },
    /// Put each of these strings into the first free pocket near the rack shown.
    PlaceFree(Vec<StringMark>),
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
    /// Say what the program is and what its model leaves out.
    ShowAbout,
    /// Call off work under way, by its number.
    CallOff(u32),
    /// Say a sentence in the status line.
    Say(String),
}
