//! Keeping copies of unsaved work while somebody works, and offering what a run that ended badly left behind.
//!
//! All of it happens on a thread of its own, one order after the other, so that no disk can hold up the window and
//! nothing overtakes anything.

use super::dialogs::Dialog;
use super::today::moment;
use super::{Document, Workbench};
use crate::disk::Stamp;
use crate::disk::unsaved::{Berth, LeftBehind, Unsaved};
use crate::format;
use crate::model::Plan;
use egui::Context;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant, SystemTime};

/// Unsaved work is kept so long after the first change since it was kept last.
pub(super) const KEPT_AFTER: Duration = Duration::from_secs(10);

/// The thread that keeps copies, and what was told to it.
#[derive(Debug)]
pub(super) struct Safekeeping {
    orders: Sender<Order>,
    told: Receiver<Told>,
    thread: JoinHandle<()>,
    after: Duration,
    /// The plan that was kept last; none: nothing is kept.
    kept: Option<Arc<Plan>>,
    /// When the plan was first seen to differ from what is kept.
    changed: Option<Instant>,
}

#[derive(Debug)]
enum Order {
    /// Keep a plan; and give up what it was taken over from, once it is kept.
    Keep {
        plan: Arc<Plan>,
        from: Option<(PathBuf, Stamp)>,
        over: Option<LeftBehind>,
    },
    Forget,
    Discard(LeftBehind),
    Leave,
}

#[derive(Debug)]
enum Told {
    Left(Vec<LeftBehind>),
    /// Nothing can be kept; why.
    Failed(String),
}

impl Safekeeping {
    /// Keeps copies in `folder`, so long after a change; the window of `ctx` is woken when something is found there.
    fn begin(folder: PathBuf, after: Duration, ctx: Context) -> Option<Self> {
        let (orders, received) = channel();
        let (tell, told) = channel();
        let run = move || serve(&folder, &received, &tell, &ctx);
        let thread = std::thread::Builder::new().name("safekeeping".to_owned()).spawn(run).ok()?;
        Some(Self { orders, told, thread, after, kept: None, changed: None })
    }

    fn order(&self, order: Order) {
        // A thread that ended has told why.
        drop(self.orders.send(order));
    }

    /// Orders what `document` needs now; the time until it needs something else, where it will.
    fn look_after(&mut self, document: &Document) -> Option<Duration> {
        if !document.is_touched() {
            self.changed = None;
            if self.kept.take().is_some() {
                self.order(Order::Forget);
            }
            return None;
        }
        if self.kept.as_ref().is_some_and(|kept| Arc::ptr_eq(kept, document.plan())) {
            return None;
        }
        let waited = self.changed.get_or_insert_with(Instant::now).elapsed();
        if waited < self.after {
            return Some(self.after.saturating_sub(waited));
        }
        self.keep(document, None);
        None
    }

    fn keep(&mut self, document: &Document, over: Option<LeftBehind>) {
        let plan = Arc::clone(document.plan());
        self.kept = Some(Arc::clone(&plan));
        self.changed = None;
        self.order(Order::Keep { plan, from: document.path.clone().zip(document.stamp), over });
    }
}

/// Does what it is ordered to, until it is told to leave or nobody is there to tell it any more.
///
/// Only leaving gives up what is kept: a window that is gone without a word has crashed.
fn serve(folder: &Path, orders: &Receiver<Order>, tell: &Sender<Told>, ctx: &Context) {
    let say = |told: Told| {
        drop(tell.send(told));
        ctx.request_repaint();
    };
    let berth = match Berth::take(folder) {
        Ok(berth) => berth,
        Err(error) => return say(Told::Failed(error.to_string())),
    };
    let left = berth.left_behind();
    if !left.is_empty() {
        say(Told::Left(left));
    }
    while let Ok(order) = orders.recv() {
        match order {
            Order::Keep { plan, from, over } => {
                let bytes = format::write(&plan).into_bytes();
                let work = Unsaved { title: plan.title.clone(), from, at: SystemTime::now(), bytes };
                match (berth.keep(&work), over) {
                    (Ok(()), Some(over)) => over.discard(),
                    (Ok(()), None) => {}
                    // It stays where it is, for the next run to offer.
                    (Err(error), over) => {
                        drop(over);
                        say(Told::Failed(error.to_string()));
                    }
                }
            }
            Order::Forget => berth.forget(),
            Order::Discard(left) => left.discard(),
            Order::Leave => return berth.leave(),
        }
    }
}

/// One piece of work left behind, as it is offered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftWords {
    /// The plan's title.
    pub title: String,
    /// The file that it came from, and when it was kept.
    pub about: String,
}

impl LeftWords {
    fn of(left: &LeftBehind) -> Self {
        let file = left.work.from.as_ref().map(|(path, _)| path.display().to_string());
        let file = file.unwrap_or_else(|| "not saved to a file yet".to_owned());
        let title = if left.work.title.is_empty() { "Plan without a title" } else { &left.work.title };
        Self { title: title.to_owned(), about: format!("{file}; kept {}", moment(left.work.at)) }
    }
}

impl Workbench {
    /// The same editor, with copies of unsaved work kept in `folder` some seconds after a change.
    #[must_use]
    pub fn keeping_in(mut self, folder: &Path, after: Duration) -> Self {
        self.keeping = Safekeeping::begin(folder.to_owned(), after, self.ctx.clone());
        self
    }

    /// Looks after unsaved work; to be called now and then, also while nothing is drawn.
    pub fn safekeep(&mut self) {
        let Some(keeping) = &mut self.keeping else { return };
        let told: Vec<Told> = keeping.told.try_iter().collect();
        if let Some(rest) = keeping.look_after(&self.document) {
            self.ctx.request_repaint_after(rest);
        }
        for told in told {
            match told {
                Told::Left(left) => {
                    self.left = left;
                    self.offer_left();
                }
                Told::Failed(why) => {
                    self.say(format!("Unsaved changes cannot be kept against a crash: {why}"))
                }
            }
        }
    }

    /// The program ends well: what was kept is given up.
    pub fn leave(&mut self) {
        let Some(keeping) = self.keeping.take() else { return };
        keeping.order(Order::Leave);
        // It only has to end what it is writing.
        drop(keeping.thread.join());
    }

    /// Offers what a run that ended badly left behind, where there is something and nothing else is asked.
    pub(super) fn offer_left(&mut self) {
        if self.dialog.is_some() {
            return;
        }
        let works: Vec<LeftWords> = self.left.iter().map(LeftWords::of).collect();
        if works.is_empty() {
            self.say("No run has left unsaved work behind");
        } else {
            self.dialog = Some(Dialog::LeftBehind { works });
        }
    }

    pub(super) fn discard_left(&mut self, at: usize) {
        if at >= self.left.len() {
            return;
        }
        let left = self.left.remove(at);
        if let Some(keeping) = &self.keeping {
            keeping.order(Order::Discard(left));
        }
        if !self.left.is_empty() {
            self.offer_left();
        }
    }

    /// Shows work that was left behind, once it is worked out; it is unsaved work of this run from then on.
    pub(super) fn take_over(&mut self, mut document: Document, left: LeftBehind) {
        if let Some((path, stamp)) = left.work.from.clone() {
            (document.path, document.stamp) = (Some(path), Some(stamp));
        }
        self.show_document(document);
        self.say("This is the plan as it was kept; the file itself is as it was until you save");
        if let Some(keeping) = &mut self.keeping {
            keeping.keep(&self.document, Some(left));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::empty_plan;

    /// Whether work left behind is still there, after it was taken over by a run that can or cannot keep it.
    fn is_left_after_taking_over(can_keep: bool) -> bool {
        let folder = tempfile::tempdir().unwrap();
        let plan = Arc::new(empty_plan(1));
        let bytes = format::write(&plan).into_bytes();
        let ended_badly = Berth::take(folder.path()).unwrap();
        let work = Unsaved { title: "Left".to_owned(), from: None, at: SystemTime::now(), bytes };
        ended_badly.keep(&work).unwrap();
        drop(ended_badly);
        let (orders, received) = channel();
        let (tell, told) = channel();
        let path = folder.path().to_owned();
        let run = std::thread::spawn(move || serve(&path, &received, &tell, &Context::default()));
        let Ok(Told::Left(mut left)) = told.recv() else { panic!("nothing was found") };
        let mine = folder.path().join(format!("{}-1.unsaved", std::process::id()));
        if !can_keep {
            // A folder of that name cannot be replaced by a file.
            std::fs::create_dir_all(mine.join("in the way")).unwrap();
        }
        orders.send(Order::Keep { plan, from: None, over: left.pop() }).unwrap();
        drop(orders);
        run.join().unwrap();
        assert_eq!(matches!(told.try_recv(), Ok(Told::Failed(_))), !can_keep);
        folder.path().join(format!("{}-0.unsaved", std::process::id())).exists()
    }

    #[test]
    fn work_that_is_taken_over_is_given_up_only_once_it_is_kept_again() {
        assert!(!is_left_after_taking_over(true));
        assert!(is_left_after_taking_over(false));
    }
}
