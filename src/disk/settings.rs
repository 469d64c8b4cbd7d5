//! What the user chose for the window itself, kept between sessions: plain text, one `name = value` a line.

use super::{DiskError, Expected, read_bytes, save};
use directories::ProjectDirs;
use std::fs;
use std::path::{Path, PathBuf};

/// The most bytes that a sound file can have.
const MOST_BYTES: u64 = 64 * 1024;

/// A file of settings; what they mean is for the reader to say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SettingsFile {
    file: PathBuf,
}

impl SettingsFile {
    /// The user's file, beside the list of recent files.
    ///
    /// # Errors
    /// The system names no folder for a program's state.
    pub fn of_user() -> Result<Self, DiskError> {
        let folders = ProjectDirs::from("", "", "longstow").ok_or(DiskError::NoHome)?;
        let folder = folders.state_dir().unwrap_or(folders.data_local_dir());
        Ok(Self::kept_in(&folder.join("settings")))
    }

    /// The settings that are kept in `file`, which need not exist.
    pub fn kept_in(file: &Path) -> Self {
        Self { file: file.to_owned() }
    }

    /// Names and values in the order of the file; lines without `=` are passed over.
    ///
    /// # Errors
    /// The file is there but cannot be read.
    pub fn read(&self) -> Result<Vec<(String, String)>, DiskError> {
        let bytes = match read_bytes(&self.file, MOST_BYTES) {
            Ok(bytes) => bytes,
            Err(DiskError::Missing { .. }) => return Ok(Vec::new()),
            Err(error) => return Err(error),
        };
        let text = String::from_utf8_lossy(&bytes);
        let pairs = text.lines().filter_map(|line| line.split_once('='));
        Ok(pairs.map(|(name, value)| (name.trim().to_owned(), value.trim().to_owned())).collect())
    }

    /// Keeps `settings` in place of what the file held.
    ///
    /// # Errors
    /// The file or its folder cannot be written.
    pub fn keep(&self, settings: &[(&str, String)]) -> Result<(), DiskError> {
        let text: String = settings.iter().map(|(name, value)| format!("{name} = {value}\n")).collect();
        if let Some(folder) = self.file.parent() {
            fs::create_dir_all(folder).map_err(|_| DiskError::NoFolder { path: self.file.clone() })?;
        }
        save(&self.file, text.as_bytes(), Expected::Anything).map(|_| ())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tempfile::TempDir;

    #[test]
    fn what_is_kept_is_read_again_and_no_file_is_no_settings() {
        let folder = TempDir::new().unwrap();
        let settings = SettingsFile::kept_in(&folder.path().join("new").join("settings"));
        assert_eq!(settings.read().unwrap(), []);
        settings.keep(&[("colours", "dark".to_owned()), ("zoom", "1.2".to_owned())]).unwrap();
        let pair = |name: &str, value: &str| (name.to_owned(), value.to_owned());
        assert_eq!(settings.read().unwrap(), [pair("colours", "dark"), pair("zoom", "1.2")]);
    }

    #[test]
    fn lines_that_mean_nothing_are_passed_over() {
        let folder = TempDir::new().unwrap();
        let file = folder.path().join("settings");
        fs::write(&file, "no sign\n\n a = b = c \n").unwrap();
        let read = SettingsFile::kept_in(&file).read().unwrap();
        assert_eq!(read, [("a".to_owned(), "b = c".to_owned())]);
    }
}
