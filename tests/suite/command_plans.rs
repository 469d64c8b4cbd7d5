//! What the command tests share: plan files that pass, fail, are undecided or are none, and a way to run.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// Four strings on three flats, all limits kept and entered, one drop of two pairs.
pub(crate) const SOUND: &str = include_str!("../plans/three-flats.longstow");

/// Four strings on three flats, one seen 0.4 m farther back, every wheel weighed with one string in another lane,
/// and two signatures, one of which no longer matches.
pub(crate) const RECORDED: &str = include_str!("../plans/three-flats-recorded.longstow");

/// How a command ended and what it printed.
pub(crate) struct Ran {
    /// Exit code.
    pub(crate) code: i32,
    /// Standard output.
    pub(crate) out: String,
    /// Standard error.
    pub(crate) err: String,
}

impl Ran {
    /// Its output as JSON.
    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {}{}", self.out, self.err))
    }
}

/// A folder with `sound`, `failing`, `undecided`, `us` and `cut` plans, in which commands run.
pub(crate) struct Folder(TempDir);

impl Folder {
    /// Writes the plans.
    pub(crate) fn new() -> Self {
        let folder = Self(tempfile::tempdir().unwrap());
        folder.write("sound", SOUND);
        // Axles rated below what they carry: tare alone is 6 t on each.
        folder.write("failing", &changed("axle_rating_kg: 22500", "axle_rating_kg: 6500"));
        folder.write("undecided", &changed("                axle_rating_kg: 22500,\n", ""));
        folder.write("us", &changed("units: Metric", "units: UsCustomary"));
        folder.write("recorded", RECORDED);
        folder.write("cut", &SOUND[..SOUND.len() / 2]);
        folder
    }

    /// Writes a file.
    pub(crate) fn write(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).unwrap();
    }

    /// The path of a file in it.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// A run of the program in it, arguments parted by spaces.
    pub(crate) fn run(&self, line: &str) -> Ran {
        let output = self.command(line).stdin(Stdio::null()).output().unwrap();
        Ran {
            code: output.status.code().unwrap(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// The program with arguments parted by spaces, not yet started.
    pub(crate) fn command(&self, line: &str) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_longstow"));
        command.current_dir(self.0.path()).args(line.split_whitespace());
        // No window is ever opened by these tests.
        command.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY").env_remove("WAYLAND_SOCKET");
        command
    }
}

/// The sound plan with one part of its text changed.
pub(crate) fn changed(from: &str, to: &str) -> String {
    assert_eq!(SOUND.matches(from).count(), 1, "{from}");
    SOUND.replace(from, to)
}
