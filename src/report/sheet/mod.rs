//! The printed sheets: pages as data from a plan's figures and findings, and writers of them as PDF and SVG.
//!
//! [`sheet`] makes the pages; what is previewed and what is printed are these very ones. Everything on them can be
//! told in black ink alone. Words are measured in the faces that the PDF embeds, and each lies in a room of its own.

mod as_loaded;
mod card;
mod card_plan;
mod contents;
mod cover;
mod departure;
mod diagram;
mod dress;
mod drop_sheet;
mod face;
mod findings;
mod flow;
mod heaviest;
mod loading;
mod loading_order;
mod loads;
mod matter;
mod page;
mod pdf;
mod picture;
mod racks;
mod ratings;
mod single;
mod svg;
mod table;
mod wording;

pub use face::{Face, MM_PER_PT};
pub use page::{Closed, Dash, Frame, Ink, Line, Look, Mark, Page, Pages, Paper, Spot, Words};
pub use pdf::{PdfError, pdf};
pub use single::{DrawingOf, drawing_svg};
pub use svg::svg;

use crate::checks::Assessment;
use crate::statics::Figures;
use crate::units::Style;
use flow::{Flow, Running};
use matter::Matter;

/// How a sheet is made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetOptions {
    /// The paper.
    pub paper: Paper,
    /// Units and decimal mark.
    pub style: Style,
    /// When the sheet is made, as it is to be printed; the core knows no clock.
    pub made_at: String,
    /// The state whose loads stand beside those of departure; none: the worst.
    pub state: Option<usize>,
}

/// The sheet of a plan: cover, diagram, loading, loads, drops, findings, ratings, departure list, records.
///
/// `figures` must be those of all states, and `assessment` theirs. Equal inputs give equal pages.
pub fn sheet(figures: &Figures, assessment: &Assessment, options: &SheetOptions) -> Pages {
    let matter = Matter::new(figures, assessment, options);
    let mut flow = Flow::new(options.paper);
    let kept = cover::cover(&mut flow, &matter);
    diagram::diagram(&mut flow, &matter);
    loading::loading(&mut flow, &matter);
    card::cards(&mut flow, &matter);
    loads::loads(&mut flow, &matter);
    racks::racks(&mut flow, &matter);
    drop_sheet::drop_sheets(&mut flow, &matter);
    findings::findings(&mut flow, &matter);
    ratings::ratings(&mut flow, &matter);
    departure::departure(&mut flow, &matter);
    as_loaded::records(&mut flow, &matter);
    contents::contents(&mut flow, kept);
    contents::missing_glyphs(&mut flow, kept);
    flow.finish(&Running { title: matter.title(), foot: matter.foot() })
}
