//! What was asked of the readings: the comparison at once, the search for a cause beside the window.

use crate::gui::{Polled, Shown, Work};
use crate::model::Plan;
use crate::planning::weighings::{Diagnosis, Weighed, explain};
use egui::Context;
use std::sync::Arc;

/// The readings of one plan, compared, and what would explain them.
#[derive(Debug)]
pub(super) struct Asked {
    plan: Arc<Plan>,
    pub(super) weighed: Weighed,
    search: Search,
}

/// How far the search for a cause is.
#[derive(Debug)]
pub(super) enum Search {
    /// Under way.
    Running(Work<Option<Diagnosis>>),
    /// Done.
    Done(Diagnosis),
    /// Called off.
    Stopped,
}

impl Asked {
    /// What is known of the plan shown: `before` where it is about the same plan, else asked anew.
    pub(super) fn about(shown: &Shown<'_>, before: Option<Self>, ctx: &Context) -> Self {
        let plan = shown.document.plan();
        let mut asked = match before {
            Some(asked) if Arc::ptr_eq(&asked.plan, plan) => asked,
            _ => {
                let loaded = Arc::new(shown.document.recorded().loaded().plan.clone());
                let weighed = Weighed::of(&loaded);
                let search = begin(&weighed, shown, ctx);
                Self { plan: Arc::clone(plan), weighed, search }
            }
        };
        if let Search::Running(work) = &mut asked.search {
            match work.poll() {
                Polled::Running => {}
                Polled::Done(Some(diagnosis)) => asked.search = Search::Done(diagnosis),
                Polled::Done(None) | Polled::Stopped => asked.search = Search::Stopped,
            }
        }
        asked
    }

    /// How far the search is.
    pub(super) fn search(&self) -> &Search {
        &self.search
    }

    /// Begins the search again.
    pub(super) fn search_again(&mut self, shown: &Shown<'_>, ctx: &Context) {
        self.search = begin(&self.weighed, shown, ctx);
    }
}

fn begin(weighed: &Weighed, shown: &Shown<'_>, ctx: &Context) -> Search {
    let weighed = weighed.clone();
    Search::Running(shown.works.start(ctx, "Looking for what would explain the readings", move |progress| {
        explain(&weighed, |done, all| {
            progress.tell(done, all);
            !progress.is_called_off()
        })
    }))
}
