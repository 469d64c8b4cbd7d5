//! Making the pages and the PDF beside the window: once for each plan, paper, style and state.

use crate::gui::today::now;
use crate::gui::{Export, ExportFormat, Request, Shown, Work, Works};
use crate::model::Plan;
use crate::report::sheet::{Pages, Paper, SheetOptions, pdf, sheet};
use crate::units::Style;
use egui::Context;
use std::sync::Arc;

/// What pages are wished for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Wish {
    pub(super) paper: Paper,
    pub(super) style: Style,
    /// The state beside departure; none: the worst.
    pub(super) state: Option<usize>,
}

/// The pages, and what is under way.
#[derive(Debug, Default)]
pub(super) struct Making {
    /// What the pages are of, or will be.
    of: Option<(Arc<Plan>, Wish)>,
    pages: Option<Arc<Pages>>,
    work: Option<Work<Pages>>,
    /// Asked for while the pages were not there yet.
    wants_pdf: bool,
    writing: Option<Work<Result<Vec<u8>, String>>>,
}

impl Making {
    /// Makes the pages anew where the plan or the wish is another than before; the old ones stay until then.
    pub(super) fn follow(&mut self, ctx: &Context, shown: &Shown<'_>, wish: Wish) {
        // Paper is of the plan as meant, whichever load the window judges: its hash is that of the file.
        let document = shown.document;
        let plan = document.plan();
        let same = self.of.as_ref().is_some_and(|(of, wished)| Arc::ptr_eq(of, plan) && *wished == wish);
        // Before all states are settled a sheet could not tell the worst.
        if !same && document.is_settled() {
            self.of = Some((Arc::clone(plan), wish));
            self.work = Some(self.start(shown.works, ctx, shown, wish));
        }
        if let Some(pages) = Work::take(&mut self.work) {
            self.pages = Some(Arc::new(pages));
        }
        if self.wants_pdf && self.work.is_none() {
            self.start_pdf(shown.works, ctx);
        }
    }

    fn start(&self, works: &Works, ctx: &Context, shown: &Shown<'_>, wish: Wish) -> Work<Pages> {
        let document = shown.document;
        let (figures, assessment) = (Arc::clone(document.figures()), Arc::clone(document.assessment()));
        let Wish { paper, style, state } = wish;
        let options = SheetOptions { paper, style, made_at: now(), state };
        works.start(ctx, "Making the pages", move |_| sheet(&figures, &assessment, &options))
    }

    /// The pages made last.
    pub(super) fn pages(&self) -> Option<Arc<Pages>> {
        self.pages.clone()
    }

    /// Writes the pages as PDF as soon as those of the plan now are there.
    pub(super) fn write_pdf(&mut self, ctx: &Context) {
        self.wants_pdf = true;
        ctx.request_repaint();
    }

    fn start_pdf(&mut self, works: &Works, ctx: &Context) {
        self.wants_pdf = false;
        let Some(pages) = self.pages.clone() else { return };
        let write = move || pdf(&pages).map_err(|error| error.to_string());
        self.writing = Some(works.start(ctx, "Writing the PDF", move |_| write()));
    }

    /// Hands over a PDF that is written.
    pub(super) fn hand_over(&mut self, requests: &mut Vec<Request>) {
        match Work::take(&mut self.writing) {
            Some(Ok(bytes)) => requests.push(Request::Export(Export {
                format: ExportFormat::Pdf,
                name: "sheets".to_owned(),
                bytes: bytes.into(),
            })),
            Some(Err(why)) => requests.push(Request::Say(why)),
            None => {}
        }
    }
}
