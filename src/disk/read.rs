//! Reading whole files, and remembering what was in them.

use super::DiskError;
use std::fs::{self, File, Metadata};
use std::hash::{DefaultHasher, Hasher};
use std::io::Read;
use std::path::Path;

/// What a file held when it was read or saved, to tell later whether somebody else changed it.
///
/// Length and a hash of the content: a file that was only touched, or rewritten the same, did not change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Stamp {
    length: u64,
    hash: u64,
}

impl Stamp {
    /// The stamp of a file that holds `bytes`.
    pub fn of(bytes: &[u8]) -> Self {
        let mut hasher = DefaultHasher::new();
        hasher.write(bytes);
        Self { length: bytes.len() as u64, hash: hasher.finish() }
    }

    /// It in words, for a file of the program's own; [`Stamp::read`] reads them.
    pub(super) fn words(self) -> String {
        format!("{} {:016x}", self.length, self.hash)
    }

    /// What [`Stamp::words`] gave; none where that is something else.
    pub(super) fn read(words: &str) -> Option<Self> {
        let (length, hash) = words.split_once(' ')?;
        Some(Self { length: length.parse().ok()?, hash: u64::from_str_radix(hash, 16).ok()? })
    }

    /// Whether the file at `path` still holds what it held.
    ///
    /// # Errors
    /// As [`read_bytes`], save that a missing or longer file is simply no longer the same.
    pub fn still_holds(self, path: &Path) -> Result<bool, DiskError> {
        match read_bytes(path, self.length) {
            Ok(bytes) => Ok(Self::of(&bytes) == self),
            Err(DiskError::TooLarge { .. } | DiskError::Missing { .. }) => Ok(false),
            Err(other) => Err(other),
        }
    }
}

/// Whether two paths lead to one file that is there, by whatever way.
pub fn is_same_file(one: &Path, other: &Path) -> bool {
    matches!((fs::canonicalize(one), fs::canonicalize(other)), (Ok(one), Ok(other)) if one == other)
}

/// Everything in the file at `path`, at most `limit` bytes; links are followed.
///
/// # Errors
/// Nothing there, a folder, a pipe or device (which are never opened, so that nothing waits), too large,
/// not permitted, or a failing disk.
pub fn read_bytes(path: &Path, limit: u64) -> Result<Vec<u8>, DiskError> {
    let about = fs::metadata(path).map_err(|error| DiskError::reading(path, error))?;
    must_be_file(path, &about)?;
    let too_large = || DiskError::TooLarge { path: path.to_owned(), limit };
    if about.len() > limit {
        return Err(too_large());
    }
    let file = File::open(path).map_err(|error| DiskError::reading(path, error))?;
    let mut bytes = Vec::new();
    // One byte more than allowed, in case the file grows meanwhile.
    let mut reader = file.take(limit.saturating_add(1));
    reader.read_to_end(&mut bytes).map_err(|error| DiskError::reading(path, error))?;
    if bytes.len() as u64 > limit { Err(too_large()) } else { Ok(bytes) }
}

/// Refuses folders, pipes, devices and sockets.
pub(super) fn must_be_file(path: &Path, about: &Metadata) -> Result<(), DiskError> {
    let path = path.to_owned();
    if about.is_file() {
        Ok(())
    } else if about.is_dir() {
        Err(DiskError::Folder { path })
    } else {
        Err(DiskError::NotAFile { path })
    }
}
