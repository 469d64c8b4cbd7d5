//! Saving so that nothing is ever lost: a temporary file in the same folder, written, synced, then renamed.

use super::read::must_be_file;
use super::{DiskError, SaveStep, Stamp};
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
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
    fn create(&self, folder: &Path) -> io::Result<NamedTempFile>;
    fn write(&self, file: &mut File, bytes: &[u8]) -> io::Result<()>;
    fn sync(&self, file: &File) -> io::Result<()>;
    /// Gives the temporary file its place; it must not replace a file if `old` is none.
    fn rename(&self, file: NamedTempFile, to: &Path, old: Option<&Metadata>) -> io::Result<()>;
}

/// The real disk.
struct Disk;

impl Steps for Disk {
    fn create(&self, folder: &Path) -> io::Result<NamedTempFile> {
        let mut builder = tempfile::Builder::new();
        builder.prefix(".longstow-save-").suffix(".tmp");
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // As for any new file: what the user's mask leaves of it.
            builder.permissions(fs::Permissions::from_mode(0o666));
        }
        builder.tempfile_in(folder)
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
    let failed = |step| move |error| DiskError::saving(path, step, error);
    let mut file = steps.create(folder).map_err(failed(SaveStep::Create))?;
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
    Ok(Stamp::of(bytes))
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
        fn create(&self, folder: &Path) -> io::Result<NamedTempFile> {
            self.refuse(SaveStep::Create)?;
            Disk.create(folder)
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
            assert!(save_by(&disk, &path, b"new", Expected::Nothing).is_err());
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
            assert!(error.to_string().contains("the disk is full"), "{error}");
            assert_eq!(fs::read(&path).unwrap(), b"old");
            assert_eq!(names_in(&folder), ["plan"]);
        }
    }

    /// A disk on which another program writes the file while it is being saved.
    struct Crossed(PathBuf);

    impl Steps for Crossed {
        fn create(&self, folder: &Path) -> io::Result<NamedTempFile> {
            Disk.create(folder)
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
}
