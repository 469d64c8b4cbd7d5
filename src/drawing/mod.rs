//! Pictures of a plan as shapes in millimetres; screen and paper paint the same ones.
//!
//! Floor 5: uses `checks`, `statics`, `model` and `units`; knows no screen, no paper and no colours. A
//! [`Shape`] says what it is by its [`Role`] and which [`Thing`] it shows; whoever paints it chooses colours
//! and patterns by role, marks what is selected by thing, and hit-tests things.

mod bars;
mod creep;
mod deck;
mod difference;
mod heights;
mod outline;
mod picture;
mod rack_face;
mod thing;
mod train_side;
#[cfg(test)]
mod trial;
mod vehicles;

pub use creep::{creep_gap, creep_range_mm, end_creep};
pub use deck::{Deck, DeckLook, Tiers, Track, deck_plan};
pub use difference::{Fate, LoadOf, fates, train_difference};
pub use heights::{side_band_mm, side_pocket_at};
pub use outline::section_outline;
pub use picture::{Anchor, Area, Form, Picture, Point, Role, Shape, TextSize};
pub use rack_face::{Centre, CentreOf, centres, rack_face};
pub use thing::Thing;
pub use train_side::train_side;
pub use vehicles::{on_springs, tolerance_bands};
