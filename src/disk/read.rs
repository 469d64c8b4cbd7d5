//! Reading whole files, and remembering what was in them.

use super::DiskError;
use sha2::{Digest, Sha256};
use std::fs::{self, File, Metadata};
use std::io::Read;
use std::path::Path;

/// What a file held when it was read or saved, to tell later whether somebody else changed it.
///
/// Length and a hash of the content: a file that was only touched, or rewritten the same, did not change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Stamp {
    length: u64,
    /// SHA-256 (FIPS 180-4), the same in every version of the program; none where an earlier version wrote a hash that
    /// cannot be made again, which nothing holds.
    sha256: Option<[u8; 32]>,
}

impl Stamp {
    /// The stamp of a file that holds `bytes`.
    pub fn of(bytes: &[u8]) -> Self {
        Self { length: bytes.len() as u64, sha256: Some(Sha256::digest(bytes).into()) }
    }

    /// It in words, for a file of the program's own; [`Stamp::read`] reads them.
    pub(super) fn words(self) -> String {
        match self.sha256 {
            Some(hash) => format!("{} {}", self.length, hex(&hash)),
            None => format!("{} unknown", self.length),
        }
    }

    /// What [`Stamp::words`] gave, in this version or another; none where that is something else.
    pub(super) fn read(words: &str) -> Option<Self> {
        let (length, hash) = words.split_once(' ')?;
        Some(Self { length: length.parse().ok()?, sha256: from_hex(hash) })
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

/// Bytes as hexadecimal digits, two each.
pub(super) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// What [`hex`] made of 32 bytes.
fn from_hex(digits: &str) -> Option<[u8; 32]> {
    let byte = |at: usize| u8::from_str_radix(digits.get(2 * at..2 * at + 2)?, 16).ok();
    let bytes: Vec<u8> = (0..32).map(byte).collect::<Option<_>>()?;
    if digits.len() == 64 { bytes.try_into().ok() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The example of one block in FIPS 180-2, appendix B.1: the message "abc".
    const ABC: &str = "3 ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

    #[test]
    fn a_stamp_is_the_same_in_every_version_of_the_program() {
        assert_eq!(Stamp::of(b"abc").words(), ABC);
        assert_eq!(Stamp::read(ABC), Some(Stamp::of(b"abc")));
        assert_ne!(Stamp::of(b"abc"), Stamp::of(b"abd"));
    }

    #[test]
    fn a_stamp_of_another_version_is_read_and_nothing_holds_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("plan");
        fs::write(&path, "abc").unwrap();
        assert!(Stamp::of(b"abc").still_holds(&path).unwrap());
        for words in ["3 0123456789abcdef", "3 unknown", &format!("{ABC}00"), "3 \u{e4}"] {
            let stamp = Stamp::read(words).unwrap();
            assert!(!stamp.still_holds(&path).unwrap(), "{words}");
            assert_eq!(Stamp::read(&stamp.words()), Some(stamp), "{words}");
        }
        assert_eq!(Stamp::read("three 0123456789abcdef"), None);
        assert_eq!(Stamp::read("3"), None);
    }
}
