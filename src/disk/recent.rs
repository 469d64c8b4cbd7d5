//! The list of recently used files: plain text, one path a line, newest first.

use super::{DiskError, Expected, read_bytes, save};
use directories::ProjectDirs;
use std::fs;
use std::path::{Path, PathBuf};

/// The most files that are remembered.
pub const MOST_FILES: usize = 12;

/// The most bytes that a sound list can have.
const MOST_BYTES: u64 = 1024 * 1024;

/// A list of recent files, kept in a file of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecentFiles {
    list: PathBuf,
}

impl RecentFiles {
    /// The user's list, in the folder that the system names for a program's state.
    ///
    /// # Errors
    /// The system names no such folder.
    pub fn of_user() -> Result<Self, DiskError> {
        let folders = ProjectDirs::from("", "", "longstow").ok_or(DiskError::NoHome)?;
        let folder = folders.state_dir().unwrap_or(folders.data_local_dir());
        Ok(Self::kept_in(&folder.join("recent")))
    }

    /// The list that is kept in the file `list`, which need not exist.
    pub fn kept_in(list: &Path) -> Self {
        Self { list: list.to_owned() }
    }

    /// The files, newest first, at most [`MOST_FILES`]; whether they still exist is not looked at.
    ///
    /// # Errors
    /// The list is there but cannot be read.
    pub fn paths(&self) -> Result<Vec<PathBuf>, DiskError> {
        let bytes = match read_bytes(&self.list, MOST_BYTES) {
            Ok(bytes) => bytes,
            Err(DiskError::Missing { .. }) => return Ok(Vec::new()),
            Err(error) => return Err(error),
        };
        let text = String::from_utf8_lossy(&bytes);
        Ok(text.lines().filter(|line| !line.is_empty()).take(MOST_FILES).map(PathBuf::from).collect())
    }

    /// Puts `path` first. A path that is not text, or has a line break, cannot stand in the list and is left out.
    ///
    /// # Errors
    /// The list cannot be read or saved.
    pub fn remember(&self, path: &Path) -> Result<(), DiskError> {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        let mut paths = self.paths_without(&path)?;
        paths.insert(0, path);
        self.keep(&paths)
    }

    /// Takes `path` off the list.
    ///
    /// # Errors
    /// The list cannot be read or saved.
    pub fn forget(&self, path: &Path) -> Result<(), DiskError> {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        self.keep(&self.paths_without(&path)?)
    }

    fn paths_without(&self, path: &Path) -> Result<Vec<PathBuf>, DiskError> {
        Ok(self.paths()?.into_iter().filter(|other| other != path).collect())
    }

    fn keep(&self, paths: &[PathBuf]) -> Result<(), DiskError> {
        let lines = paths.iter().filter_map(|path| path.to_str()).filter(|line| !line.contains(['\n', '\r']));
        let text: String = lines.take(MOST_FILES).flat_map(|line| [line, "\n"]).collect();
        if let Some(folder) = self.list.parent() {
            fs::create_dir_all(folder).map_err(|_| DiskError::NoFolder { path: self.list.clone() })?;
        }
        save(&self.list, text.as_bytes(), Expected::Anything).map(|_| ())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tempfile::TempDir;

    #[test]
    fn the_newest_file_stands_first_and_once() {
        let folder = TempDir::new().unwrap();
        let recent = RecentFiles::kept_in(&folder.path().join("state/longstow/recent"));
        assert!(recent.paths().unwrap().is_empty());
        for name in ["/a", "/b", "/a"] {
            recent.remember(Path::new(name)).unwrap();
        }
        assert_eq!(recent.paths().unwrap(), [Path::new("/a"), Path::new("/b")]);
        recent.forget(Path::new("/a")).unwrap();
        assert_eq!(recent.paths().unwrap(), [Path::new("/b")]);
    }

    #[test]
    fn only_the_newest_are_kept_and_what_cannot_stand_on_a_line_is_left_out() {
        let folder = TempDir::new().unwrap();
        let recent = RecentFiles::kept_in(&folder.path().join("recent"));
        for number in 0..=MOST_FILES {
            recent.remember(&PathBuf::from(format!("/{number}"))).unwrap();
        }
        recent.remember(Path::new("/two\nlines")).unwrap();
        let paths = recent.paths().unwrap();
        assert_eq!(paths.len(), MOST_FILES);
        assert_eq!(paths[0], Path::new("/12"));
        assert_eq!(paths[MOST_FILES - 1], Path::new("/1"));
    }

    #[test]
    fn a_list_that_cannot_be_read_is_an_error() {
        let folder = TempDir::new().unwrap();
        assert!(matches!(RecentFiles::kept_in(folder.path()).paths(), Err(DiskError::Folder { .. })));
    }
}
