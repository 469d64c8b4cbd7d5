//! Why a file could not be read or saved.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// A step of saving.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SaveStep {
    /// Making a temporary file in the same folder.
    Create,
    /// Writing it.
    Write,
    /// Waiting until it is on the disk.
    Sync,
    /// Giving it the old file's place.
    Rename,
}

impl fmt::Display for SaveStep {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Create => "making a temporary file beside it",
            Self::Write => "writing",
            Self::Sync => "waiting for the disk",
            Self::Rename => "putting it in its place",
        })
    }
}

/// What was at the path before a save that failed, and still is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Before {
    /// A file.
    File,
    /// Nothing.
    Nothing,
}

impl fmt::Display for Before {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::File => "the file is as it was",
            Self::Nothing => "no file was made",
        })
    }
}

/// Why a file could not be read or saved; whatever it was, the file on the disk is as it was.
#[derive(Debug, thiserror::Error)]
pub enum DiskError {
    /// There is nothing at the path.
    #[error("{}: there is no such file; check the name and the folder", path.display())]
    Missing {
        /// The file.
        path: PathBuf,
    },
    /// The path leads to a folder.
    #[error("{}: this is a folder; choose a file in it", path.display())]
    Folder {
        /// The folder.
        path: PathBuf,
    },
    /// The path leads to a pipe, a device or a socket.
    #[error("{}: this is a pipe, a device or a socket; choose a plain file", path.display())]
    NotAFile {
        /// What is no file.
        path: PathBuf,
    },
    /// The file has more bytes than it may.
    #[error("{}: the file has more than {limit} bytes; check that it is the right one", path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// The most bytes that it may have.
        limit: u64,
    },
    /// The file may not be read.
    #[error("{}: the file may not be read; ask its owner for permission", path.display())]
    Denied {
        /// The file.
        path: PathBuf,
    },
    /// Reading failed.
    #[error("{}: reading failed; try again, or copy the file to another disk", path.display())]
    Read {
        /// The file.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// The file may not be written.
    #[error("{}: the file is read-only; save under another name, or allow writing to it", path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// The file is not what it was when it was read: another program changed, moved or removed it.
    #[error("{}: the file was changed or removed since it was opened; save under another name, or overwrite it on purpose", path.display())]
    ChangedOnDisk {
        /// The file.
        path: PathBuf,
    },
    /// A file is there where none was expected.
    #[error("{}: there already is such a file; choose another name, or replace it on purpose", path.display())]
    AlreadyThere {
        /// The file.
        path: PathBuf,
    },
    /// The folder of the file does not exist.
    #[error("{}: its folder does not exist; choose another folder, or make it", path.display())]
    NoFolder {
        /// The file.
        path: PathBuf,
    },
    /// The disk is full.
    #[error("{}: the disk is full, {before}; make room, or save on another disk", path.display())]
    Full {
        /// The file.
        path: PathBuf,
        /// The step that failed.
        step: SaveStep,
        /// What was there, and still is.
        before: Before,
    },
    /// Saving failed.
    #[error("{}: saving failed while {step}, {before}; save under another name or on another disk", path.display())]
    Save {
        /// The file.
        path: PathBuf,
        /// The step that failed.
        step: SaveStep,
        /// What was there, and still is.
        before: Before,
        /// Why.
        source: io::Error,
    },
    /// The system names no folder in which the program may keep its own files.
    #[error("the system names no folder for the program's own files; set HOME")]
    NoHome,
}

impl DiskError {
    /// The error of reading `path`.
    pub(super) fn reading(path: &Path, source: io::Error) -> Self {
        let path = path.to_owned();
        match source.kind() {
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => Self::Missing { path },
            io::ErrorKind::PermissionDenied => Self::Denied { path },
            io::ErrorKind::IsADirectory => Self::Folder { path },
            _ => Self::Read { path, source },
        }
    }

    /// What is wrong and what to do, without the file's name before it.
    pub fn words(&self) -> String {
        let told = self.to_string();
        let named = self.path().map(|path| format!("{}: ", path.display()));
        match named.and_then(|named| told.strip_prefix(&named).map(str::to_owned)) {
            Some(words) => words,
            None => told,
        }
    }

    /// The file or folder at fault; a link's target where it is that.
    fn path(&self) -> Option<&Path> {
        match self {
            Self::Missing { path }
            | Self::Folder { path }
            | Self::NotAFile { path }
            | Self::TooLarge { path, .. }
            | Self::Denied { path }
            | Self::Read { path, .. }
            | Self::ReadOnly { path }
            | Self::ChangedOnDisk { path }
            | Self::AlreadyThere { path }
            | Self::NoFolder { path }
            | Self::Full { path, .. }
            | Self::Save { path, .. } => Some(path),
            Self::NoHome => None,
        }
    }

    /// The error of saving to `path`, at which was what `before` says.
    pub(super) fn saving(path: &Path, (step, before): (SaveStep, Before), source: io::Error) -> Self {
        let path = path.to_owned();
        match source.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::Full { path, step, before },
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory if step == SaveStep::Create => {
                Self::NoFolder { path }
            }
            io::ErrorKind::AlreadyExists if step == SaveStep::Rename => Self::AlreadyThere { path },
            _ => Self::Save { path, step, before, source },
        }
    }
}
