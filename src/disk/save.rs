//! Saving so that nothing is ever lost: a temporary file in the same folder, written, synced, then renamed.

use super::read::{hex, must_be_file};
use super::{Before, DiskError, SaveStep, Stamp};
use sha2::{Digest, Sha256};
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;
use tempfile::NamedTempFile;

/// What the caller believes to be at the path.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Expected {
    /// No file: a new one is made.
    Nothing,
    /// The file as it was read or saved last.
    Unchanged(Stamp),
    /// Whatever there is: the user was asked and wants it overwritten.
    Anything,
}

/// Saves `bytes` as the file at `path`; at every moment the path leads to the whole old or the whole new file.
///
/// A link is followed and stays a link; the old file's permissions are kept.
///
/// # Errors
/// Not what was `expected`, a folder or no plain file, read-only, no such folder, a full disk or another failing
/// step; the file is then as it was, and no temporary file is left.
pub fn save(path: &Path, bytes: &[u8], expected: Expected) -> Result<Stamp, DiskError> {
    save_by(&Disk, path, bytes, expected)
}

/// The steps of saving that a disk can refuse; tests put refusing ones in their place.
trait Steps {
    /// Makes a temporary file whose name begins with `prefix`.
    fn create(&self, folder: &Path, prefix: &str) -> io::Result<NamedTempFile>;
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()>;
    fn sync(&self, file: &File) -> io::Result<()>;
    /// Gives the temporary file its place; it must not replace a file if `old` is none.
    fn rename(&self, file: NamedTempFile, to: &Path, old: Option<&Metadata>) -> io::Result<()>;
}

/// The real disk.
struct Disk;

impl Steps for Disk {
    fn create(&self, folder: &Path, prefix: &str) -> io::Result<NamedTempFile> {
        let mut builder = tempfile::Builder::new();
        builder.prefix(prefix).suffix(LEFT_SUFFIX);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // As for any new file: what the user's mask leaves of it.
            builder.permissions(fs::Permissions::from_mode(0o666));
        }
        let file = builder.tempfile_in(folder)?;
        // So that nobody takes it for one that a killed save left; where the system knows no locks its age tells.
        let _ = file.as_file().try_lock();
        Ok(file)
    }

    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        file.write_all(bytes)
    }

    fn sync(&self, file: &File) -> io::Result<()> {
        file.sync_all()
    }

    fn rename(&self, file: NamedTempFile, to: &Path, old: Option<&Metadata>) -> io::Result<()> {
        let placed = if old.is_some() { file.persist(to) } else { file.persist_noclobber(to) };
        placed.map(|_| ()).map_err(|error| error.error)
    }
}

fn save_by(steps: &impl Steps, path: &Path, bytes: &[u8], expected: Expected) -> Result<Stamp, DiskError> {
    let target = behind_links(path);
    let old = as_expected(&target, expected)?;
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let before = if old.is_some() { Before::File } else { Before::Nothing };
    let failed = |step| move |error| DiskError::saving(path, (step, before), error);
    let prefix = left_prefix(&target);
    let mut file = steps.create(folder, &prefix).map_err(failed(SaveStep::Create))?;
    steps.write(file.as_file_mut(), bytes).map_err(failed(SaveStep::Write))?;
    if let Some(old) = &old {
        file.as_file().set_permissions(old.permissions()).map_err(failed(SaveStep::Write))?;
    }
    steps.sync(file.as_file()).map_err(failed(SaveStep::Sync))?;
    // Writing took its time: look again, so that the moment in which another program can slip in is short.
    let old = as_expected(&target, expected)?;
    steps.rename(file, &target, old.as_ref()).map_err(failed(SaveStep::Rename))?;
    // The new file is whole and in its place. Some file systems cannot sync a folder; then only a power cut
    // in this moment brings back the old file, which is whole too.
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
    clear_left(folder, &prefix);
    Ok(Stamp::of(bytes))
}

/// How the temporary files of saving end.
const LEFT_SUFFIX: &str = ".tmp";

/// A temporary file that nobody has written to for so long was left by a save that was killed.
const LEFT_AFTER: Duration = Duration::from_secs(60);

/// How the names of the temporary files of saving `target` begin; those of other files begin otherwise.
fn left_prefix(target: &Path) -> String {
    let name = target.file_name().unwrap_or_default().to_string_lossy();
    // Not the name itself, which may be as long as a name can be; the same in every version of the program, or one would
    // not clear away what another left.
    let hash = Sha256::digest(name.as_bytes());
    format!(".longstow-save-{}-", hex(hash.get(..8).unwrap_or_default()))
}

/// Clears away what killed saves of the same file left in its folder; what is in use stays, and so does what cannot be
/// cleared: the next save tries again.
fn clear_left(folder: &Path, prefix: &str) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    let is_of_it = |name: &str| name.starts_with(prefix) && name.ends_with(LEFT_SUFFIX);
    for entry in entries.flatten().filter(|entry| entry.file_name().to_str().is_some_and(is_of_it)) {
        let Ok(file) = File::open(entry.path()) else { continue };
        let age = file.metadata().and_then(|about| about.modified()).map(|changed| changed.elapsed());
        let is_old = age.is_ok_and(|age| age.is_ok_and(|age| age >= LEFT_AFTER));
        if is_old && file.try_lock().is_ok() {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// What stands at `target`, if it is what was expected and may be written.
fn as_expected(target: &Path, expected: Expected) -> Result<Option<Metadata>, DiskError> {
    let old = match fs::metadata(target) {
        Ok(old) => old,
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            return match expected {
                Expected::Unchanged(_) => Err(DiskError::ChangedOnDisk { path: target.to_owned() }),
                Expected::Nothing | Expected::Anything => Ok(None),
            };
        }
        Err(error) => return Err(DiskError::reading(target, error)),
    };
    must_be_file(target, &old)?;
    match expected {
        Expected::Nothing => return Err(DiskError::AlreadyThere { path: target.to_owned() }),
        Expected::Unchanged(stamp) if !stamp.still_holds(target)? => {
            return Err(DiskError::ChangedOnDisk { path: target.to_owned() });
        }
        Expected::Unchanged(_) | Expected::Anything => {}
    }
    // Renaming would replace even a file that may not be written.
    let may_write = !old.permissions().readonly() && OpenOptions::new().write(true).open(target).is_ok();
    if may_write { Ok(Some(old)) } else { Err(DiskError::ReadOnly { path: target.to_owned() }) }
}

/// The file that a link leads to in the end, whether or not it exists.
fn behind_links(path: &Path) -> PathBuf {
    /// More links than this lead in a circle.
    const MOST_LINKS: usize = 40;
    let mut path = path.to_owned();
    for _ in 0..MOST_LINKS {
        let Ok(next) = fs::read_link(&path) else { break };
        path = path.parent().map_or_else(|| next.clone(), |folder| folder.join(&next));
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;
    use tempfile::TempDir;

    /// A disk that refuses one step, after half the bytes if that is writing.
    struct Refusing {
        step: SaveStep,
        kind: io::ErrorKind,
        refused: Cell<bool>,
    }

    impl Refusing {
        fn new(step: SaveStep, kind: io::ErrorKind) -> Self {
            Self { step, kind, refused: Cell::new(false) }
        }

        fn refuse(&self, step: SaveStep) -> io::Result<()> {
            if self.step != step {
                return Ok(());
            }
            self.refused.set(true);
            Err(self.kind.into())
        }
    }

    impl Steps for Refusing {
        fn create(&self, folder: &Path, prefix: &str) -> io::Result<NamedTempFile> {
            self.refuse(SaveStep::Create)?;
            Disk.create(folder, prefix)
        }

        fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
            Disk.write(file, &bytes[..bytes.len() / 2])?;
            self.refuse(SaveStep::Write)?;
            Disk.write(file, &bytes[bytes.len() / 2..])
        }

        fn sync(&self, file: &File) -> io::Result<()> {
            self.refuse(SaveStep::Sync)?;
            Disk.sync(file)
        }

        fn rename(&self, file: NamedTempFile, to: &Path, old: Option<&Metadata>) -> io::Result<()> {
            self.refuse(SaveStep::Rename)?;
            Disk.rename(file, to, old)
        }
    }

    const STEPS: [SaveStep; 4] = [SaveStep::Create, SaveStep::Write, SaveStep::Sync, SaveStep::Rename];

    fn names_in(folder: &TempDir) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_refused_step_leaves_the_old_file_whole_and_nothing_beside_it() {
        for step in STEPS {
            let folder = TempDir::new().unwrap();
            let path = folder.path().join("plan");
            let stamp = save(&path, b"old", Expected::Nothing).unwrap();
            let disk = Refusing::new(step, io::ErrorKind::Other);
            let error = save_by(&disk, &path, b"new and longer", Expected::Unchanged(stamp)).unwrap_err();
            assert!(matches!(&error, DiskError::Save { step: told, .. } if *told == step), "{error}");
            assert!(disk.refused.get());
            assert_eq!(fs::read(&path).unwrap(), b"old", "{step}");
            assert_eq!(names_in(&folder), ["plan"], "{step}");
            // The failure is past: the same save succeeds.
            save(&path, b"new and longer", Expected::Unchanged(stamp)).unwrap();
            assert_eq!(fs::read(&path).unwrap(), b"new and longer");
        }
    }

    #[test]
    fn a_refused_step_leaves_no_half_of_a_new_file() {
        for step in STEPS {
            let folder = TempDir::new().unwrap();
            let path = folder.path().join("plan");
            let disk = Refusing::new(step, io::ErrorKind::Other);
            let error = save_by(&disk, &path, b"new", Expected::Nothing).unwrap_err().to_string();
            assert!(error.contains("no file was made") && !error.contains("old file"), "{error}");
            assert!(!error.contains("as it was"), "{error}");
            assert_eq!(names_in(&folder), [""; 0], "{step}");
        }
    }

    #[test]
    fn a_full_disk_is_told_as_such_and_the_old_file_stays_whole() {
        for step in [SaveStep::Create, SaveStep::Write, SaveStep::Sync] {
            let folder = TempDir::new().unwrap();
            let path = folder.path().join("plan");
            save(&path, b"old", Expected::Nothing).unwrap();
            let disk = Refusing::new(step, io::ErrorKind::StorageFull);
            let error = save_by(&disk, &path, b"new", Expected::Anything).unwrap_err();
            assert!(matches!(&error, DiskError::Full { step: told, .. } if *told == step), "{error}");
            assert!(error.to_string().contains("the disk is full, the file is as it was"), "{error}");
            assert_eq!(fs::read(&path).unwrap(), b"old");
            assert_eq!(names_in(&folder), ["plan"]);
        }
    }

    /// A disk on which another program writes the file while it is being saved.
    struct Crossed(PathBuf);

    impl Steps for Crossed {
        fn create(&self, folder: &Path, prefix: &str) -> io::Result<NamedTempFile> {
            Disk.create(folder, prefix)
        }

        fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
            fs::write(&self.0, "theirs")?;
            Disk.write(file, bytes)
        }

        fn sync(&self, file: &File) -> io::Result<()> {
            Disk.sync(file)
        }

        fn rename(&self, file: NamedTempFile, to: &Path, old: Option<&Metadata>) -> io::Result<()> {
            Disk.rename(file, to, old)
        }
    }

    #[test]
    fn what_another_program_writes_meanwhile_is_not_overwritten() {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("plan");
        let crossed = Crossed(path.clone());
        let error = save_by(&crossed, &path, b"ours", Expected::Nothing).unwrap_err();
        assert!(matches!(error, DiskError::AlreadyThere { .. }), "{error}");
        let stamp = save(&path, b"old", Expected::Anything).unwrap();
        let error = save_by(&crossed, &path, b"ours", Expected::Unchanged(stamp)).unwrap_err();
        assert!(matches!(error, DiskError::ChangedOnDisk { .. }), "{error}");
        assert_eq!(fs::read(&path).unwrap(), b"theirs");
        assert_eq!(names_in(&folder), ["plan"]);
    }

    /// A temporary file as a save of `name` that was killed leaves it, last written to so many seconds ago.
    fn left(folder: &TempDir, name: &str, seconds: u64) -> PathBuf {
        let file = Disk.create(folder.path(), &left_prefix(Path::new(name))).unwrap();
        file.as_file().set_modified(std::time::SystemTime::now() - Duration::from_secs(seconds)).unwrap();
        file.into_temp_path().keep().unwrap()
    }

    #[test]
    fn the_names_of_temporary_files_are_the_same_in_every_version_of_the_program() {
        // The example of one block in FIPS 180-2, appendix B.1: the message "abc".
        assert_eq!(left_prefix(Path::new("folder/abc")), ".longstow-save-ba7816bf8f01cfea-");
    }

    #[test]
    fn what_killed_saves_of_a_file_left_is_cleared_by_its_next_save_and_nothing_else_is() {
        let folder = TempDir::new().unwrap();
        let (old, young) = (left(&folder, "plan", 61), left(&folder, "plan", 50));
        let (of_other, in_use) = (left(&folder, "other", 9_999), left(&folder, "plan", 9_999));
        let held = File::open(&in_use).unwrap();
        held.try_lock().unwrap();
        save(&folder.path().join("plan"), b"new", Expected::Nothing).unwrap();
        let there = [&old, &young, &of_other, &in_use].map(|path| path.exists());
        assert_eq!(there, [false, true, true, true]);
        drop(held);
        save(&folder.path().join("plan"), b"newer", Expected::Anything).unwrap();
        assert!(!in_use.exists());
    }
}
