//! Work that takes longer than a moment, done beside the window: its thread, its progress, and calling it off.
//!
//! A panel keeps the [`Work`] that [`Works::start`] gave it and asks it in each frame with [`Work::poll`]; the status
//! line shows what takes longer than [`PATIENCE`], with a button that calls it off. Letting go of a `Work`
//! calls it off too, so that a newer question simply takes the place of an older one.

use egui::Context;
use std::cell::RefCell;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::sync::{Arc, Weak};
use std::time::{Duration, Instant};

/// Work that is done sooner than this is not worth a reader's eye.
pub const PATIENCE: Duration = Duration::from_millis(200);

/// Where work is done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WorkPlace {
    /// At once, before [`Works::start`] gives back: for tests, which want no clock.
    #[default]
    AtOnce,
    /// On a thread of its own: for the window, which must never wait.
    Beside,
}

/// All work under way.
#[derive(Debug, Default)]
pub struct Works {
    place: WorkPlace,
    running: RefCell<Vec<Weak<Task>>>,
}

/// What the window shows of a piece of work.
#[derive(Clone, Debug, PartialEq)]
pub struct Running {
    /// Tells it apart from the rest; for [`Works::call_off`].
    pub number: u32,
    /// What is being done, such as `Reading the plan`.
    pub what: String,
    /// The share that is done, from 0 to 1; none: not known.
    pub share: Option<f32>,
}

/// One piece of work that gives a `T`.
#[derive(Debug)]
pub struct Work<T> {
    task: Arc<Task>,
    result: Receiver<T>,
}

/// What [`Work::poll`] says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Polled<T> {
    /// Not done yet.
    Running,
    /// Done; it says so once.
    Done(T),
    /// Called off, or failed; nothing will come of it.
    Stopped,
}

/// What the work itself holds: a way to tell how far it is and to hear that nobody waits for it any more.
#[derive(Debug)]
pub struct Progress {
    task: Arc<Task>,
    ctx: Context,
}

#[derive(Debug)]
struct Task {
    number: u32,
    what: String,
    begun: Instant,
    /// In thousandths; more than a thousand: not known.
    thousandths: AtomicU32,
    called_off: AtomicBool,
}

const NOT_KNOWN: u32 = u32::MAX;

impl Works {
    /// None under way; whatever starts is done at this place.
    pub fn new(place: WorkPlace) -> Self {
        Self { place, running: RefCell::default() }
    }

    /// Whether work is done beside the window, so that something can be shown before it is done.
    pub fn is_beside(&self) -> bool {
        self.place == WorkPlace::Beside
    }

    /// Starts `job`, called `what` in the status line; the window of `ctx` is drawn again as it gets on.
    ///
    /// A job of more than a moment tells its [`Progress`] and stops early once that is called off; what it gives
    /// back then does not matter.
    pub fn start<T: Send + 'static>(
        &self,
        ctx: &Context,
        what: impl Into<String>,
        job: impl FnOnce(&Progress) -> T + Send + 'static,
    ) -> Work<T> {
        static NUMBERS: AtomicU32 = AtomicU32::new(0);
        let task = Arc::new(Task {
            number: NUMBERS.fetch_add(1, Ordering::Relaxed),
            what: what.into(),
            begun: Instant::now(),
            thousandths: AtomicU32::new(NOT_KNOWN),
            called_off: AtomicBool::new(false),
        });
        let (sender, result) = channel();
        let progress = Progress { task: Arc::clone(&task), ctx: ctx.clone() };
        let run = move || {
            // Where nobody waits for it any more there is nobody to tell.
            drop(sender.send(job(&progress)));
            progress.ctx.request_repaint();
        };
        match self.place {
            WorkPlace::AtOnce => run(),
            WorkPlace::Beside => {
                self.running.borrow_mut().push(Arc::downgrade(&task));
                ctx.request_repaint_after(PATIENCE);
                // Without a thread the job is dropped with its sender, which its `Work` tells as stopped.
                drop(std::thread::Builder::new().name("work".to_owned()).spawn(run));
            }
        }
        Work { task, result }
    }

    /// What has been under way for longer than [`PATIENCE`], the oldest first.
    pub fn seen(&self) -> Vec<Running> {
        let mut running = self.running.borrow_mut();
        running.retain(|task| task.upgrade().is_some_and(|task| !task.is_called_off()));
        let tasks = running.iter().filter_map(Weak::upgrade);
        tasks.filter(|task| task.begun.elapsed() >= PATIENCE).map(|task| task.running()).collect()
    }

    /// Calls off the work with this number.
    pub fn call_off(&self, number: u32) {
        let running = self.running.borrow();
        running.iter().filter_map(Weak::upgrade).filter(|task| task.number == number).for_each(|task| {
            task.called_off.store(true, Ordering::Relaxed);
        });
    }
}

impl<T> Work<T> {
    /// Whether it is done; gives its result once.
    pub fn poll(&mut self) -> Polled<T> {
        if self.task.is_called_off() {
            return Polled::Stopped;
        }
        match self.result.try_recv() {
            Ok(result) => Polled::Done(result),
            Err(TryRecvError::Empty) => Polled::Running,
            Err(TryRecvError::Disconnected) => Polled::Stopped,
        }
    }

    /// The result of the work in `slot` once it is there; the slot is empty again after that, and once it is known
    /// that none will come.
    pub fn take(slot: &mut Option<Self>) -> Option<T> {
        match slot.as_mut()?.poll() {
            Polled::Running => None,
            Polled::Stopped => {
                *slot = None;
                None
            }
            Polled::Done(result) => {
                *slot = None;
                Some(result)
            }
        }
    }

    /// The share that is done, from 0 to 1; none: not known.
    pub fn share(&self) -> Option<f32> {
        self.task.running().share
    }
}

impl<T> Drop for Work<T> {
    fn drop(&mut self) {
        self.task.called_off.store(true, Ordering::Relaxed);
    }
}

impl Progress {
    /// Tells that `done` of `all` parts are done.
    pub fn tell(&self, done: usize, all: usize) {
        let thousandths = done.saturating_mul(1_000).checked_div(all).map_or(1_000, |t| t.min(1_000) as u32);
        if self.task.thousandths.swap(thousandths, Ordering::Relaxed) != thousandths {
            // A few times a second is all that an eye makes of it.
            self.ctx.request_repaint_after(Duration::from_millis(80));
        }
    }

    /// Whether it was called off: then it stops as soon as it can.
    pub fn is_called_off(&self) -> bool {
        self.task.is_called_off()
    }
}

impl Task {
    fn is_called_off(&self) -> bool {
        self.called_off.load(Ordering::Relaxed)
    }

    fn running(&self) -> Running {
        let thousandths = self.thousandths.load(Ordering::Relaxed);
        let share = (thousandths <= 1_000).then(|| thousandths as f32 / 1_000.0);
        Running { number: self.number, what: self.what.clone(), share }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wait<T>(work: &mut Work<T>) -> Polled<T> {
        loop {
            match work.poll() {
                Polled::Running => std::thread::sleep(Duration::from_millis(1)),
                ended => return ended,
            }
        }
    }

    fn check(place: WorkPlace) {
        let works = Works::new(place);
        let mut work = works.start(&Context::default(), "Counting", |progress| {
            progress.tell(3, 4);
            (0..10).sum::<i32>()
        });
        assert_eq!(wait(&mut work), Polled::Done(45));
        assert_eq!(work.share(), Some(0.75));
        assert_eq!(work.poll(), Polled::Stopped, "a result comes once");
    }

    #[test]
    fn work_is_done_at_once_or_beside_with_the_same_result() {
        check(WorkPlace::AtOnce);
        check(WorkPlace::Beside);
    }

    #[test]
    fn a_slot_is_emptied_by_its_result_and_by_work_that_failed() {
        let works = Works::new(WorkPlace::AtOnce);
        let mut slot = Some(works.start(&Context::default(), "Counting", |_| 7));
        assert_eq!(Work::take(&mut slot), Some(7));
        assert!(slot.is_none());
        let mut lost = Some(Work::<i32> {
            task: works.start(&Context::default(), "", |_| ()).task.clone(),
            result: channel().1,
        });
        assert_eq!(Work::take(&mut lost), None);
        assert!(lost.is_none());
    }

    /// Work that goes on until it is called off, and what tells that it has ended.
    fn endless(works: &Works) -> (Work<()>, Receiver<()>) {
        let (ended, has_ended) = channel();
        let work = works.start(&Context::default(), "Waiting", move |progress| {
            while !progress.is_called_off() {
                std::thread::sleep(Duration::from_millis(1));
            }
            ended.send(()).unwrap();
        });
        (work, has_ended)
    }

    #[test]
    fn work_under_way_is_seen_after_a_while_and_can_be_called_off() {
        let works = Works::new(WorkPlace::Beside);
        let (mut work, has_ended) = endless(&works);
        while works.seen().is_empty() {
            assert_eq!(work.poll(), Polled::Running);
            std::thread::sleep(Duration::from_millis(5));
        }
        let seen = works.seen();
        assert_eq!((seen.len(), seen[0].what.as_str(), seen[0].share), (1, "Waiting", None));
        works.call_off(seen[0].number);
        assert_eq!(works.seen(), []);
        assert_eq!(work.poll(), Polled::Stopped);
        has_ended.recv().unwrap();
    }

    #[test]
    fn work_that_nobody_waits_for_any_more_ends() {
        let (work, has_ended) = endless(&Works::new(WorkPlace::Beside));
        drop(work);
        has_ended.recv().unwrap();
    }

    #[test]
    fn progress_of_nothing_is_all_of_it() {
        let works = Works::new(WorkPlace::AtOnce);
        let share = |done, all| {
            works.start(&Context::default(), "", move |progress| progress.tell(done, all)).share()
        };
        assert_eq!((share(0, 0), share(1, 3), share(5, 4)), (Some(1.0), Some(0.333), Some(1.0)));
    }
}
