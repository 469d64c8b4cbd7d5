//! Copies of work that nobody has saved yet, so that a crash or a power cut loses seconds of it, not hours.
//!
//! Each running program has a berth in a folder of the user's: a lock file, locked for as long as the program runs
//! (the system lets go of it however the program ends), and beside it the copy. A copy whose lock nobody
//! holds was left behind by a program that ended badly. The user's own files are never touched.

use super::{Before, DiskError, Expected, SaveStep, Stamp, read_bytes, save};
use directories::ProjectDirs;
use std::fs::{self, File, OpenOptions};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

/// The first line of a copy.
const HEAD: &str = "longstow unsaved 1";
const COPY: &str = "unsaved";
const LOCK: &str = "lock";
/// The most bytes of a sound copy.
const MOST_BYTES: u64 = 256 * 1024 * 1024;

/// Unsaved work: what it holds, and where it came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unsaved {
    /// What the user calls it.
    pub title: String,
    /// The file that it was read from or saved to last, and what that file held then.
    pub from: Option<(PathBuf, Stamp)>,
    /// When it was kept, to the second.
    pub at: SystemTime,
    /// The work itself.
    pub bytes: Vec<u8>,
}

/// The berth of this program.
#[derive(Debug)]
pub struct Berth {
    folder: PathBuf,
    name: String,
    /// Locked for as long as it is open.
    _lock: File,
}

/// Work that a program which ended badly left behind; locked, so that only one program offers it.
#[derive(Debug)]
pub struct LeftBehind {
    /// The work.
    pub work: Unsaved,
    copy: PathBuf,
    lock_path: PathBuf,
    _lock: File,
}

impl Berth {
    /// The folder of the user's berths.
    ///
    /// # Errors
    /// The system names no folder for a program's state.
    pub fn folder_of_user() -> Result<PathBuf, DiskError> {
        let folders = ProjectDirs::from("", "", "longstow").ok_or(DiskError::NoHome)?;
        Ok(folders.state_dir().unwrap_or(folders.data_local_dir()).join("unsaved"))
    }

    /// Takes a berth in `folder`, which is made where there is none.
    ///
    /// # Errors
    /// The folder cannot be made, or no file in it.
    pub fn take(folder: &Path) -> Result<Self, DiskError> {
        fs::create_dir_all(folder).map_err(|_| DiskError::NoFolder { path: folder.to_owned() })?;
        let failed = |error| DiskError::saving(folder, (SaveStep::Create, Before::Nothing), error);
        // Locked before anybody can see it under its name.
        let file = tempfile::Builder::new().prefix(".berth-").tempfile_in(folder).map_err(failed)?;
        // Without locks in this file system nobody will take it for left behind either: see `lock`.
        let _ = file.as_file().try_lock();
        let mut file = Some(file);
        for number in 0_u32.. {
            let name = format!("{}-{number}", std::process::id());
            let Some(made) = file.take() else { break };
            match made.persist_noclobber(folder.join(&name).with_extension(LOCK)) {
                Ok(lock) => return Ok(Self { folder: folder.to_owned(), name, _lock: lock }),
                Err(error) if error.error.kind() == std::io::ErrorKind::AlreadyExists => {
                    file = Some(error.file);
                }
                Err(error) => return Err(failed(error.error)),
            }
        }
        Err(DiskError::NoFolder { path: folder.to_owned() })
    }

    /// Keeps `work` in place of what was kept before.
    ///
    /// # Errors
    /// As [`save`].
    pub fn keep(&self, work: &Unsaved) -> Result<(), DiskError> {
        save(&self.copy(), &work.written(), Expected::Anything).map(|_| ())
    }

    /// Lets go of what was kept: it is saved, or given up on purpose.
    pub fn forget(&self) {
        // Where there is none, or where it cannot be removed, there is nothing that the user could do.
        let _ = fs::remove_file(self.copy());
    }

    /// Leaves the berth: the program ends well.
    pub fn leave(self) {
        self.forget();
        let _ = fs::remove_file(self.path(LOCK));
    }

    /// What programs that ended badly left behind, the newest first.
    pub fn left_behind(&self) -> Vec<LeftBehind> {
        let Ok(entries) = fs::read_dir(&self.folder) else { return Vec::new() };
        let copies = entries.flatten().map(|entry| entry.path());
        let copies = copies.filter(|path| path.extension().is_some_and(|extension| extension == COPY));
        let mut left: Vec<LeftBehind> =
            copies.filter(|path| *path != self.copy()).filter_map(LeftBehind::at).collect();
        left.sort_by(|a, b| b.work.at.cmp(&a.work.at).then_with(|| a.copy.cmp(&b.copy)));
        left
    }

    fn copy(&self) -> PathBuf {
        self.path(COPY)
    }

    fn path(&self, extension: &str) -> PathBuf {
        self.folder.join(&self.name).with_extension(extension)
    }
}

impl LeftBehind {
    /// The work at `copy`, where nobody holds its lock and it can be read.
    fn at(copy: PathBuf) -> Option<Self> {
        let lock_path = copy.with_extension(LOCK);
        let lock =
            OpenOptions::new().create(true).truncate(false).write(true).read(true).open(&lock_path).ok()?;
        // Held: its program is running, or another one offers it. An error: nobody can tell, so it stays.
        lock.try_lock().ok()?;
        let work = read_bytes(&copy, MOST_BYTES).ok().and_then(|bytes| Unsaved::read(&bytes))?;
        Some(Self { work, copy, lock_path, _lock: lock })
    }

    /// Gives it up.
    pub fn discard(self) {
        let _ = fs::remove_file(&self.copy);
        let _ = fs::remove_file(&self.lock_path);
    }
}

impl Unsaved {
    fn written(&self) -> Vec<u8> {
        let seconds = self.at.duration_since(UNIX_EPOCH).unwrap_or_default().as_secs();
        let title: String = self.title.chars().filter(|letter| !letter.is_control()).collect();
        let mut head = format!("{HEAD}\nat {seconds}\ntitle {title}\n");
        // A path that is not text, or has a line break, cannot stand on a line: then it has to be saved anew.
        let path =
            |path: &PathBuf| path.to_str().filter(|path| !path.contains(['\n', '\r'])).map(str::to_owned);
        if let Some((path, stamp)) = self.from.as_ref().and_then(|(from, stamp)| Some((path(from)?, stamp))) {
            head.push_str(&format!("stamp {}\nfrom {path}\n", stamp.words()));
        }
        head.push('\n');
        [head.as_bytes(), &self.bytes].concat()
    }

    fn read(bytes: &[u8]) -> Option<Self> {
        let end = bytes.windows(2).position(|pair| pair == b"\n\n")?;
        let head = std::str::from_utf8(bytes.get(..end)?).ok()?;
        let mut lines = head.lines();
        if lines.next() != Some(HEAD) {
            return None;
        }
        let value = |name: &str| {
            let mut pairs = head.lines().filter_map(|line| line.split_once(' '));
            pairs.find(|(other, _)| *other == name).map(|(_, value)| value)
        };
        let seconds: u64 = value("at")?.parse().ok()?;
        let stamp = value("stamp").and_then(Stamp::read);
        Some(Self {
            title: value("title").unwrap_or_default().to_owned(),
            from: value("from").zip(stamp).map(|(path, stamp)| (PathBuf::from(path), stamp)),
            at: UNIX_EPOCH.checked_add(Duration::from_secs(seconds))?,
            bytes: bytes.get(end + 2..)?.to_owned(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tempfile::TempDir;

    fn work(title: &str, seconds: u64) -> Unsaved {
        let from = Some((PathBuf::from("/plans/a plan.longstow"), Stamp::of(b"as it was")));
        let at = UNIX_EPOCH + Duration::from_secs(seconds);
        Unsaved { title: title.to_owned(), from, at, bytes: b"(\n\n  some: \"plan\",\n)\n".to_vec() }
    }

    /// A berth as a program that was killed leaves it: its files stay, its lock is let go of.
    fn killed(folder: &TempDir, work: &Unsaved) {
        let berth = Berth::take(folder.path()).unwrap();
        berth.keep(work).unwrap();
        drop(berth);
    }

    fn titles(left: &[LeftBehind]) -> Vec<&str> {
        left.iter().map(|left| left.work.title.as_str()).collect()
    }

    fn files(folder: &TempDir) -> usize {
        fs::read_dir(folder.path()).unwrap().count()
    }

    #[test]
    fn what_is_written_is_read_again() {
        for work in [
            work("A plan", 1_000),
            Unsaved { from: None, title: String::new(), bytes: Vec::new(), ..work("", 0) },
        ] {
            assert_eq!(Unsaved::read(&work.written()), Some(work));
        }
        let torn = work("two\nlines", 5);
        assert_eq!(Unsaved::read(&torn.written()).unwrap().title, "twolines");
        for strange in [&b""[..], b"longstow unsaved 2\nat 1\n\n", b"longstow unsaved 1\n\n", b"\xff\n\n"] {
            assert_eq!(Unsaved::read(strange), None);
        }
    }

    #[test]
    fn a_copy_of_an_earlier_version_still_knows_its_file_which_counts_as_changed_since() {
        let folder = TempDir::new().unwrap();
        let plan = folder.path().join("plan");
        fs::write(&plan, "abc").unwrap();
        let head = format!("{HEAD}\nat 5\ntitle A\nstamp 3 0123456789abcdef\nfrom {}\n\n", plan.display());
        let read = Unsaved::read(&[head.as_bytes(), b"work"].concat()).unwrap();
        let (from, stamp) = read.from.clone().unwrap();
        assert_eq!((from.as_path(), read.bytes.as_slice()), (plan.as_path(), b"work".as_slice()));
        assert!(!stamp.still_holds(&from).unwrap());
        let error = save(&from, b"work", Expected::Unchanged(stamp)).unwrap_err();
        assert!(matches!(error, DiskError::ChangedOnDisk { .. }), "{error}");
        assert_eq!(Unsaved::read(&read.written()), Some(read));
    }

    #[test]
    fn what_a_killed_program_left_is_found_the_newest_first_and_what_runs_is_not() {
        let folder = TempDir::new().unwrap();
        killed(&folder, &work("older", 1_000));
        killed(&folder, &work("newer", 2_000));
        let running = Berth::take(folder.path()).unwrap();
        running.keep(&work("in use", 3_000)).unwrap();
        let berth = Berth::take(folder.path()).unwrap();
        let left = berth.left_behind();
        assert_eq!(titles(&left), ["newer", "older"]);
        assert_eq!(left[0].work, work("newer", 2_000));
        assert_eq!(titles(&running.left_behind()), [""; 0], "one program alone offers it");
        drop(left);
        assert_eq!(titles(&running.left_behind()).len(), 2, "until it lets go of it");
    }

    #[test]
    fn what_is_given_up_saved_or_left_well_is_gone() {
        let folder = TempDir::new().unwrap();
        killed(&folder, &work("left", 1_000));
        let berth = Berth::take(folder.path()).unwrap();
        berth.left_behind().into_iter().for_each(LeftBehind::discard);
        assert_eq!(titles(&berth.left_behind()), [""; 0]);
        berth.keep(&work("mine", 1_000)).unwrap();
        berth.keep(&work("mine, later", 1_001)).unwrap();
        berth.forget();
        berth.forget();
        berth.keep(&work("mine, again", 1_002)).unwrap();
        berth.leave();
        assert_eq!(files(&folder), 0);
    }

    #[test]
    fn a_damaged_copy_is_passed_over_and_kept() {
        let folder = TempDir::new().unwrap();
        fs::write(folder.path().join("1-0.unsaved"), "half of some").unwrap();
        let berth = Berth::take(folder.path()).unwrap();
        assert_eq!(titles(&berth.left_behind()), [""; 0]);
        assert!(folder.path().join("1-0.unsaved").exists());
    }

    #[test]
    fn a_folder_that_cannot_be_made_is_told() {
        let folder = TempDir::new().unwrap();
        let file = folder.path().join("file");
        fs::write(&file, "").unwrap();
        assert!(matches!(Berth::take(&file.join("below")), Err(DiskError::NoFolder { .. })));
    }
}
