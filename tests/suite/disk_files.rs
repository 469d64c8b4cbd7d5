//! Reading and saving real files: what is refused, what is kept, what survives.

use longstow::disk::unsaved::{Berth, Unsaved};
use longstow::disk::{DiskError, Expected, Stamp, read_bytes, save};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, SystemTime};
use tempfile::TempDir;

fn folder_with(name: &str, content: &str) -> (TempDir, PathBuf) {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join(name);
    fs::write(&path, content).unwrap();
    (folder, path)
}

/// The error is as expected, and its text names the path and says what to do.
fn check<T: std::fmt::Debug>(result: Result<T, DiskError>, path: &Path, expected: fn(&DiskError) -> bool) {
    let error = result.unwrap_err();
    assert!(expected(&error), "{error:?}");
    let text = error.to_string();
    assert!(text.starts_with(&path.display().to_string()) && text.contains(';'), "{text}");
}

#[test]
fn a_file_is_read_up_to_its_limit() {
    let (_folder, path) = folder_with("plan", "12345");
    assert_eq!(read_bytes(&path, 5).unwrap(), b"12345");
    check(read_bytes(&path, 4), &path, |error| matches!(error, DiskError::TooLarge { limit: 4, .. }));
}

#[test]
fn what_is_no_file_is_refused_without_waiting() {
    let (folder, path) = folder_with("plan", "");
    check(read_bytes(folder.path(), 9), folder.path(), |error| matches!(error, DiskError::Folder { .. }));
    let missing = folder.path().join("none");
    check(read_bytes(&missing, 9), &missing, |error| matches!(error, DiskError::Missing { .. }));
    let below = path.join("below-a-file");
    check(read_bytes(&below, 9), &below, |error| matches!(error, DiskError::Missing { .. }));
    check(save(folder.path(), b"", Expected::Anything), folder.path(), |error| {
        matches!(error, DiskError::Folder { .. })
    });
    let nowhere = folder.path().join("no-folder/plan");
    check(save(&nowhere, b"", Expected::Nothing), &nowhere, |error| {
        matches!(error, DiskError::NoFolder { .. })
    });
}

#[cfg(unix)]
#[test]
fn a_pipe_or_a_device_is_refused_without_opening_it() {
    let folder = TempDir::new().unwrap();
    let pipe = folder.path().join("pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    for path in [pipe.as_path(), Path::new("/dev/zero")] {
        check(read_bytes(path, 9), path, |error| matches!(error, DiskError::NotAFile { .. }));
        check(save(path, b"x", Expected::Anything), path, |error| {
            matches!(error, DiskError::NotAFile { .. })
        });
    }
}

#[test]
fn a_new_file_never_replaces_one_that_is_there() {
    let (_folder, path) = folder_with("plan", "theirs");
    check(save(&path, b"ours", Expected::Nothing), &path, |error| {
        matches!(error, DiskError::AlreadyThere { .. })
    });
    assert_eq!(fs::read(&path).unwrap(), b"theirs");
    save(&path, b"ours", Expected::Anything).unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"ours");
}

#[test]
fn a_file_that_changed_since_it_was_read_is_not_overwritten() {
    let (_folder, path) = folder_with("plan", "first");
    let stamp = Stamp::of(&read_bytes(&path, 99).unwrap());
    fs::write(&path, "First").unwrap();
    let changed = |error: &DiskError| matches!(error, DiskError::ChangedOnDisk { .. });
    check(save(&path, b"ours", Expected::Unchanged(stamp)), &path, changed);
    assert_eq!(fs::read(&path).unwrap(), b"First");
    // Written back as it was: nothing is lost by saving.
    fs::write(&path, "first").unwrap();
    let stamp = save(&path, b"second", Expected::Unchanged(stamp)).unwrap();
    assert_eq!(stamp, Stamp::of(b"second"));
    save(&path, b"third", Expected::Unchanged(stamp)).unwrap();
    fs::remove_file(&path).unwrap();
    check(save(&path, b"fourth", Expected::Unchanged(Stamp::of(b"third"))), &path, changed);
    assert!(!path.exists());
}

#[cfg(unix)]
#[test]
fn permissions_are_kept_and_a_read_only_file_is_refused() {
    use std::os::unix::fs::PermissionsExt;
    let (_folder, path) = folder_with("plan", "old");
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    for kept in [0o600, 0o640, 0o664] {
        fs::set_permissions(&path, fs::Permissions::from_mode(kept)).unwrap();
        save(&path, b"new", Expected::Anything).unwrap();
        assert_eq!(mode(&path), kept);
    }
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
    let read_only = |error: &DiskError| matches!(error, DiskError::ReadOnly { .. });
    check(save(&path, b"newer", Expected::Anything), &path, read_only);
    assert_eq!((fs::read(&path).unwrap().as_slice(), mode(&path)), (&b"new"[..], 0o444));
}

#[cfg(unix)]
#[test]
fn a_new_file_gets_the_permissions_of_any_new_file() {
    use std::os::unix::fs::PermissionsExt;
    let (folder, plain) = folder_with("plain", "");
    let path = folder.path().join("plan");
    save(&path, b"new", Expected::Nothing).unwrap();
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode();
    assert_eq!(mode(&path), mode(&plain));
}

#[cfg(unix)]
#[test]
fn a_link_is_followed_and_stays_a_link() {
    use std::os::unix::fs::symlink;
    let (folder, path) = folder_with("plan", "old");
    fs::create_dir(folder.path().join("links")).unwrap();
    let link = folder.path().join("links/plan");
    symlink("../plan", &link).unwrap();
    save(&link, b"new", Expected::Unchanged(Stamp::of(b"old"))).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(fs::read(&path).unwrap(), b"new");
    let dangling = folder.path().join("links/dangling");
    symlink("../later", &dangling).unwrap();
    save(&dangling, b"made", Expected::Nothing).unwrap();
    assert_eq!(fs::read(folder.path().join("later")).unwrap(), b"made");
    let circle = folder.path().join("links/circle");
    symlink("circle", &circle).unwrap();
    assert!(save(&circle, b"x", Expected::Anything).is_err());
}

/// Where the child of the two tests below saves; without it, that test has nothing to do.
const CHILD_PATH: &str = "LONGSTOW_TEST_SAVE_TO";

/// The content number `number`: long, and of one letter only, so that a mixture shows.
fn content(number: u8) -> Vec<u8> {
    vec![b'a' + number % 26; 300_000 + usize::from(number)]
}

/// Names the folder in which the child keeps unsaved work.
const CHILD_FOLDER: &str = "LONGSTOW_TEST_UNSAVED";

fn child(path: &Path) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["--exact", "disk_files::a_child_saves_until_it_is_stopped"]).env(CHILD_PATH, path);
    command.stdout(Stdio::null()).stderr(Stdio::null());
    command
}

#[test]
fn a_child_saves_until_it_is_stopped() {
    let Some(path) = std::env::var_os(CHILD_PATH) else { return };
    for number in (0..=255).cycle() {
        save(Path::new(&path), &content(number), Expected::Anything).unwrap();
    }
}

#[test]
fn a_program_killed_while_saving_leaves_a_whole_file() {
    let (_folder, path) = folder_with("plan", "");
    fs::write(&path, content(0)).unwrap();
    for round in 0..12_u64 {
        let before = fs::read(&path).unwrap();
        let mut saver = child(&path).spawn().unwrap();
        // It is killed at some moment after its first save.
        while fs::read(&path).unwrap() == before {
            assert!(saver.try_wait().unwrap().is_none(), "the child ended by itself");
            std::thread::sleep(Duration::from_millis(1));
        }
        std::thread::sleep(Duration::from_micros(700 * round));
        saver.kill().unwrap();
        saver.wait().unwrap();
        let found = fs::read(&path).unwrap();
        let number = found[0] - b'a';
        assert!(found.iter().all(|byte| *byte == found[0]), "a mixture of two saves");
        assert_eq!((found.len() - 300_000) % 26, usize::from(number), "a part of a save");
    }
}

#[cfg(unix)]
#[test]
fn a_write_that_the_system_refuses_leaves_the_old_file_whole() {
    // No file may grow beyond 16 blocks: the write fails half way, as on a full disk.
    let (folder, path) = folder_with("plan", "old");
    let mut refused = Command::new("sh");
    refused.args(["-c", "trap '' XFSZ; ulimit -f 16; exec \"$0\" \"$@\""]);
    refused.arg(std::env::current_exe().unwrap());
    refused.args(["--exact", "disk_files::a_child_saves_until_it_is_stopped"]).env(CHILD_PATH, &path);
    let output = refused.output().unwrap();
    let told =
        String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    assert!(!output.status.success() && told.contains("Save") && told.contains("Write"), "{told}");
    assert_eq!(fs::read(&path).unwrap(), b"old");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "a temporary file was left");
}

#[test]
fn a_child_keeps_unsaved_work_until_it_is_stopped() {
    let Some(folder) = std::env::var_os(CHILD_FOLDER) else { return };
    let berth = Berth::take(Path::new(&folder)).unwrap();
    for number in 0_u64.. {
        let at = SystemTime::UNIX_EPOCH + Duration::from_secs(number);
        let bytes = content((number % 256) as u8);
        berth.keep(&Unsaved { title: number.to_string(), from: None, at, bytes }).unwrap();
    }
}

#[test]
fn a_program_killed_while_keeping_unsaved_work_leaves_it_whole_for_the_next_one() {
    let folder = TempDir::new().unwrap();
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["--exact", "disk_files::a_child_keeps_unsaved_work_until_it_is_stopped"]);
    command.env(CHILD_FOLDER, folder.path()).stdout(Stdio::null()).stderr(Stdio::null());
    let mut keeper = command.spawn().unwrap();
    let own = Berth::take(folder.path()).unwrap();
    let is_copy = |entry: &fs::DirEntry| entry.path().extension().is_some_and(|name| name == "unsaved");
    while !fs::read_dir(folder.path()).unwrap().flatten().any(|entry| is_copy(&entry)) {
        assert!(keeper.try_wait().unwrap().is_none(), "the child ended by itself");
        std::thread::sleep(Duration::from_millis(1));
    }
    std::thread::sleep(Duration::from_millis(20));
    assert!(own.left_behind().is_empty(), "what runs has left nothing behind");
    keeper.kill().unwrap();
    keeper.wait().unwrap();
    let left = own.left_behind();
    assert_eq!(left.len(), 1);
    let number: u64 = left[0].work.title.parse().unwrap();
    assert_eq!(left[0].work.bytes, content((number % 256) as u8), "a whole copy, of the time it says");
}
