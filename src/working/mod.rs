//! How every number came about: formula, numbers put in, intermediate values, source, as data.
//!
//! Floor 4: uses `checks`, `statics`, `model` and `units`. A working never computes the figure anew: it shows the
//! figure's own value beside the formula and the inputs that give it, and tests put the inputs into the formula.
//! A topic is one file with its table of figures; a check whose id is a figure's name is answered by that figure.

mod asked;
mod bands;
mod cant;
mod catalogue;
mod creep;
mod curve_loads;
mod curves;
mod figure;
mod gauge;
mod holding;
mod holding_wagons;
mod places;
mod question;
mod racks;
mod springs;
mod strings;
mod train;
mod unloading;
mod value;
mod vehicles;

pub use asked::{AskError, answer};
pub use catalogue::{figure_names, of, of_finding, questions};
pub use question::Question;
pub use value::{
    LimitLine, Origin, Working, WorkingColumn, WorkingRow, WorkingStep, WorkingTable, WorkingValue,
};
