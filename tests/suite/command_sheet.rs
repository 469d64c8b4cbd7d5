//! `longstow sheet` and `longstow drawing` as a user runs them: files, refusals, exit codes.

use crate::command_plans::{Folder, SOUND};
use std::fs;

/// Runs `line` and expects its exit code, a word of what it prints, and whether it wrote `file`.
fn check(folder: &Folder, line: &str, code: i32, says: &str, file: Option<&str>) {
    let ran = folder.run(line);
    let told = format!("{}{}", ran.out, ran.err);
    assert_eq!(ran.code, code, "{line}: {told}");
    assert!(told.contains(says), "{line}: {told}");
    if let Some(file) = file {
        assert!(fs::metadata(folder.path(file)).unwrap().len() > 1_000, "{line}");
    }
}

#[test]
fn a_sheet_is_written_and_ends_as_the_check_does() {
    let folder = Folder::new();
    check(&folder, "sheet sound -o sound.pdf", 0, "pages of A4 paper are in sound.pdf.", Some("sound.pdf"));
    check(&folder, "sheet failing -o f.pdf --paper letter", 1, "pages of Letter paper", Some("f.pdf"));
    check(&folder, "sheet undecided -o u.pdf --state 2", 3, "undecided", Some("u.pdf"));
    check(&folder, "sheet us -o us.pdf --decimal comma", 0, "No entered limit is broken", Some("us.pdf"));
    check(&folder, "sheet recorded -o r.pdf", 0, "No entered limit is broken", Some("r.pdf"));
    assert!(fs::read(folder.path("sound.pdf")).unwrap().starts_with(b"%PDF-1.7"));
}

#[test]
fn the_same_plan_made_at_the_same_time_gives_the_same_bytes() {
    let folder = Folder::new();
    for file in ["one.pdf", "two.pdf"] {
        check(&folder, &format!("sheet sound -o {file} --made 2026-03-09"), 0, file, Some(file));
    }
    check(&folder, "sheet sound -o other.pdf --made 2026-03-10", 0, "other.pdf", None);
    let bytes = |file| fs::read(folder.path(file)).unwrap();
    assert_eq!(bytes("one.pdf"), bytes("two.pdf"));
    assert_ne!(bytes("one.pdf"), bytes("other.pdf"));
}

#[test]
fn a_file_that_is_there_stays_unless_it_is_to_be_replaced() {
    let folder = Folder::new();
    folder.write("kept.pdf", "kept");
    check(&folder, "sheet sound -o kept.pdf", 2, "--replace", None);
    check(&folder, "drawing sound -o kept.pdf", 2, "--replace", None);
    assert_eq!(fs::read_to_string(folder.path("kept.pdf")).unwrap(), "kept");
    check(&folder, "sheet sound -o kept.pdf --replace", 0, "kept.pdf", Some("kept.pdf"));
    check(&folder, "sheet sound -o nowhere/a.pdf", 2, "its folder does not exist", None);
    check(&folder, "sheet cut -o cut.pdf", 2, "cut: ", None);
    assert!(!folder.path("cut.pdf").exists());
    check(&folder, "sheet sound -o a.pdf --state 99", 2, "it has no state 99", None);
    check(&folder, "sheet sound", 2, "longstow sheet PLAN -o FILE", None);
}

/// Who prints the sheets hears which characters the faces do not have; the file's own title has them all the same.
#[test]
fn characters_that_the_faces_do_not_have_are_named_where_the_sheet_is_made() {
    let folder = Folder::new();
    let title = SOUND.lines().find(|line| line.trim_start().starts_with("title:")).unwrap();
    folder.write("odd", &SOUND.replace(title, "    title: \"한 load\","));
    let ran = folder.run("sheet odd -o odd.pdf");
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(
        ran.err.starts_with("odd: the faces of the sheets do not have 한 (U+D55C); codes"),
        "{}",
        ran.err
    );
    let pdf = fs::read(folder.path("odd.pdf")).unwrap();
    // PDF 32000-1, 7.9.2.2: UTF-16, the high byte first, after a mark of it.
    let holds = |bytes: &[u8]| pdf.windows(bytes.len()).any(|window| window == bytes);
    let utf16: Vec<u8> = "한 load".encode_utf16().flat_map(u16::to_be_bytes).collect();
    let hex: String = utf16.iter().map(|byte| format!("{byte:02X}")).collect();
    let forms = [utf16.clone(), hex.clone().into_bytes(), hex.to_lowercase().into_bytes(), "한 load".into()];
    assert!(forms.iter().any(|form| holds(form)), "the title is not in the file's own data");
    assert_eq!(folder.run("sheet sound -o sound.pdf").err, "");
}

#[test]
fn drawings_are_of_the_side_the_deck_a_tier_and_a_rack() {
    let folder = Folder::new();
    check(&folder, "drawing failing -o side.svg", 0, "The drawing is in side.svg.", Some("side.svg"));
    check(&folder, "drawing sound -o deck.svg --of deck-plan --state 1", 0, "deck.svg", Some("deck.svg"));
    check(&folder, "drawing sound -o none.svg --state 99", 2, "it has no state 99", None);
    for (of, file, code) in [
        ("tier 1", "tier.svg", 0),
        ("W2 rack 3", "rack.svg", 0),
        ("W2 rack 9", "no.svg", 2),
        ("tier 9", "none.svg", 2),
        ("tier 4294967295", "none.svg", 2),
    ] {
        let output = folder.command("drawing sound -o").arg(file).args(["--of", of]).output().unwrap();
        assert_eq!(output.status.code(), Some(code), "{of}");
        assert_eq!(folder.path(file).exists(), code == 0, "{of}");
    }
    let side = fs::read_to_string(folder.path("side.svg")).unwrap();
    let deck = fs::read_to_string(folder.path("deck.svg")).unwrap();
    assert!(side.starts_with("<?xml") && side.contains(">W1</text>") && !side.contains("NaN"));
    assert!(deck.contains(">W3</text>") && !deck.contains("NaN"));
}

#[test]
fn nothing_is_written_over_what_the_same_command_reads() {
    let folder = Folder::new();
    fs::write(folder.path("order.csv"), "Mark,Length (m)\nS1,20\n").unwrap();
    for line in [
        "sheet sound -o sound --replace",
        "sheet sound -o ./sound --replace",
        "drawing sound -o sound --of deck-plan --replace",
        "placements sound --csv -o sound --replace",
        "figures sound --csv strings -o sound --replace",
        "check sound --csv -o sound --replace",
        "check sound --json -o sound --replace",
        "order sound order.csv -o order.csv --replace",
    ] {
        let before = (fs::read(folder.path("sound")).unwrap(), fs::read(folder.path("order.csv")).unwrap());
        check(&folder, line, 2, "is read by this very command; give another name", None);
        let after = (fs::read(folder.path("sound")).unwrap(), fs::read(folder.path("order.csv")).unwrap());
        assert_eq!(before, after, "{line}");
    }
}
