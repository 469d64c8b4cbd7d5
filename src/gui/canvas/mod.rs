//! The drawings that one works in: the train's side and the rack face, with their tools.

mod change;
mod lay;
mod snap;
mod view;
