//! Files that are broken on purpose: each is refused, with line, column, path, what is wrong and what to do.

use crate::format_full_plan::full_plan;
use longstow::format::{Fault, MOST_BYTES, ReadError, read, write};

/// Marks, in a replacement, the place that the error must point at.
const HERE: char = '§';

/// The text of the full plan with `from` replaced, and the line and column of the mark in it.
fn broken(from: &str, to: &str) -> (String, usize, usize) {
    let text = write(&full_plan());
    assert!(text.contains(from), "the sample no longer holds {from}");
    let marked = text.replacen(from, to, 1);
    let before = marked.split(HERE).next().unwrap();
    assert!(before.len() < marked.len(), "no mark in {to}");
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap().chars().count() + 1;
    (marked.replace(HERE, ""), line, column)
}

fn refused(text: &str) -> Fault {
    read(text.as_bytes()).expect_err("a broken file was read").faults().remove(0)
}

/// Replaces `from` in the full plan and expects the first fault at the mark, with this path and these words.
fn check(from: &str, to: &str, path: &str, words: &str) {
    let (text, line, column) = broken(from, to);
    let fault = refused(&text);
    let told = fault.to_string();
    assert_eq!((fault.line, fault.column, fault.path.as_str()), (line, column, path), "{told}");
    assert!(told.contains(words), "{told}\ndoes not say: {words}");
    assert!(!fault.mend.is_empty(), "{told}");
}

const TYPE: &str = "train.vehicle_types[0]";

#[test]
fn lengths_are_whole_millimetres_and_nothing_else() {
    let path = &format!("{TYPE}.length_mm");
    for (value, words) in [
        ("108.5", "108.5 is not whole millimetres; write 108500 for 108.5 m"),
        ("\"19.9 m\"", "\"19.9 m\" is text, not a whole number of millimetres; write 19900 (for 19.9 m)"),
        ("NaN", "NaN is not a number that can be reckoned with; write a finite number"),
        ("-inf", "inf is not a number"),
        ("1e999", "inf is not a number"),
        ("1e11", "100000000000 mm is beyond 10,000 km"),
        ("true", "`true` stands where a whole number of millimetres belongs"),
        ("[1]", "`[1]` stands where a whole number of millimetres belongs"),
        ("None", "`None` stands where a whole number of millimetres belongs"),
        ("-19900", "-19900 is not a number above zero"),
        ("0", "0 is not a number above zero"),
        ("19900000", "19900000 is more than 100000, the most that can be meant here"),
    ] {
        check("length_mm: 19900", &format!("length_mm: {HERE}{value}"), path, words);
    }
}

#[test]
fn numbers_are_finite_and_plain() {
    let path = &format!("{TYPE}.tare_kg");
    for (value, words) in [
        ("NaN", "NaN is not a number"),
        ("inf", "inf is not a number"),
        ("\"24 t\"", "\"24 t\" is text, not a number; write it without quotes or a unit"),
        ("()", "stands where a number belongs"),
    ] {
        check("tare_kg: 24000", &format!("tare_kg: {HERE}{value}"), path, words);
    }
    for value in ["1.5", "-1"] {
        let words = format!("{value} is not a whole number from 0");
        check("tier: 1,", &format!("tier: {HERE}{value},"), "placements[0].tier", &words);
    }
    check("tier: 1,", "tier: §0,", "placements[0].tier", "0 is not a number of 1 or above");
}

#[test]
fn unknown_fields_are_told_the_near_name_and_the_right_unit() {
    let field = |name: &str| format!("{TYPE}.{name}");
    check("length_mm: 19900", "§length_m: 19.9", &field("length_m"), "write `length_mm`, in millimetres");
    check("tare_kg: 24000", "§tare_t: 24", &field("tare_t"), "write `tare_kg`, in kilograms");
    check("kind: Wagon", "§knd: Wagon", &field("knd"), "`knd` is not a field here; write `kind`");
    check("wheel_ratio:", "§wheel_ration:", "limits.wheel_ration", "write `wheel_ratio`");
    check("units:", "§extra: (a: [1]), units:", "extra", "use one of: version, title, notes");
    check("axles_per_bogie: 2", "§axles: 2", &field("gear.axles"), "use one of: pivot_distance_mm");
    check("strings: [", "§string: [", "drops[0].steps[0].string", "write `strings`");
}

#[test]
fn missing_and_doubled_fields_are_named() {
    let path = &format!("{TYPE}.length_mm");
    check(
        "(\n                name: \"Flat\",\n                kind: Wagon,\n                length_mm: 19900,",
        "§(\n                name: \"Flat\",\n                kind: Wagon,",
        path,
        "`length_mm` is missing; add",
    );
    check("length_mm: 19900,", "length_mm: 19900, §length_mm: 19900,", path, "written twice; remove one");
    check("title: ", "title: \"a\", §title: ", "title", "`title` is written twice");
}

#[test]
fn words_and_texts_are_told_apart() {
    let kind = &format!("{TYPE}.kind");
    check("kind: Wagon", "kind: §Wagen", kind, "`Wagen` is none of the words known here; write `Wagon`");
    check("kind: Wagon", "kind: §\"Wagon\"", kind, "if `Wagon` is one of them, write it without quotes");
    check("kind: Wagon", "kind: §1", kind, "`1` is not one of the words known here");
    let mark = "train.vehicles[0].mark";
    check("mark: \"W1\"", "mark: §W1", mark, "`W1` is not text in quotes; put it in double quotes");
    check("mark: \"W1\"", "mark: §\"\"", mark, "a name is empty; give it at least one letter");
    check("mark: \"W1\"", "mark: §\"W1 \"", mark, "has a space at an end");
    check("locked: true", "locked: §yes", "placements[0].locked", "neither true nor false");
    check("mass_kg: Weighed(2170.25)", "mass_kg: §2170.25", "order[0].mass_kg", "such as `Weighed(");
    check("source: Entered(", "source: §(", &format!("{TYPE}.source"), "not one of the words");
    check("train: (", "train: §Zug(", "train", "stands where `Train` belongs");
    check("order: [", "order: [§5, ", "order[0]", "`5` is not a record");
    check("holds: [(\"W1\", 2)]", "holds: §(\"W1\", 2)", "placements[0].holds", "is not a list");
    check("holds: [(\"W1\", 2)]", "holds: [§\"W1\"]", "placements[0].holds[0]", "such as (\"W1\", 2)");
    check(
        "holds: [(\"W1\", 2)]",
        "holds: [§(\"W1\")]",
        "placements[0].holds[0]",
        "too many or too few values",
    );
    check(
        "envelope_shares: (0.8, 1.2)",
        "envelope_shares: §(0.8)",
        &format!("{TYPE}.springs.envelope_shares"),
        "too few",
    );
}

#[test]
fn steps_move_one_string_or_a_pair() {
    let step = "drops[0].steps[0]";
    let off = "Off(strings: [\"A1\", \"A2\"], together: true";
    check(off, "§Off(strings: []", step, "the step moves no string");
    check(off, "§Off(strings: [\"A1\"], together: true", step, "one string cannot leave together");
    check(off, "§Off(strings: [\"A1\", \"A2\", \"old 1\"]", step, "more than two strings; split it");
}

#[test]
fn references_and_marks_are_checked_with_their_place() {
    check("mark: \"W2\"", "mark: §\"W1\"", "train.vehicles[1].mark", "\"W1\" stands twice");
    check("mark: \"A2\"", "mark: §\"A1\"", "order[1].mark", "\"A1\" stands twice; give each its own name");
    check("section: \"60E1\"", "section: §\"60E2\"", "order[0].section", "there is no rail section \"60E2\"");
    check("drop: \"Site 1\"", "drop: §\"Site 2\"", "order[0].drop", "there is no drop \"Site 2\"");
    check(
        "[(\"W1\", 2)]",
        "[§(\"W1\", 7)]",
        "placements[0].holds[0]",
        "vehicle \"W1\" has no rack 7: it has 3",
    );
    check("at_mm: 6633", "at_mm: §99999", &format!("{TYPE}.racks[2].at_mm"), "beyond the end of a vehicle");
}

#[test]
fn forgotten_signs_are_told_as_such() {
    check("length_mm: 19900", "length_mm §19900", TYPE, "a colon is missing after `length_mm`");
    check(
        "length_mm: 19900,\n                gear",
        "length_mm: 19900\n                §gear",
        TYPE,
        "a comma is missing",
    );
    check("length_mm: 19900", "length_mm: 19,§900", TYPE, "`900` has no field name before it");
    check("length_mm: 19900", "length_mm: 19900 §mm", TYPE, "a comma is missing before 'm'");
    check(
        "lanes_y_mm: [-1200, ",
        "lanes_y_mm: [-1200,§, ",
        "train.rack_types[0].lanes_y_mm[1]",
        "a value is due",
    );
    check("title: ", "ti§\0tle: ", "", "does not belong here");
    check("notes: \"", "§/* notes: \"", "", "the comment that starts here has no end");
}

#[test]
fn all_problems_are_told_at_once_in_file_order() {
    let (text, ..) = broken("mark: \"W2\"", "mark: §\"W1\"");
    let text = text.replacen("section: \"60E1\"", "section: \"none\"", 1);
    let faults = read(text.as_bytes()).unwrap_err().faults();
    let paths: Vec<&str> = faults.iter().map(|fault| fault.path.as_str()).collect();
    assert!(paths.starts_with(&["train.vehicles[1].mark", "order[0].section"]), "{paths:?}");
    assert!(faults.is_sorted_by_key(|fault| fault.line), "{paths:?}");
}

#[test]
fn a_newer_version_is_told_whatever_else_the_file_holds() {
    let newer = "#![enable(implicit_some)]\n(something: New(1, [2]), version: 2, title: 5)";
    let error = read(newer.as_bytes()).unwrap_err();
    assert!(matches!(error, ReadError::NewerVersion { version: 2, known: 1, .. }), "{error}");
    let fault = &error.faults()[0];
    assert_eq!((fault.line, fault.column, fault.path.as_str()), (2, 35, "version"));
    assert!(error.to_string().contains("made by a newer Longstow"), "{error}");
    for (text, words) in [
        ("(title: \"a\")", "does not say its version"),
        ("hello", "does not say its version"),
        ("(version: 0)", "the version 0 is not a whole number from 1"),
        ("(version: 1.0)", "not a whole number"),
        ("(version: \"1\")", "not a whole number"),
    ] {
        let error = read(text.as_bytes()).unwrap_err();
        assert!(matches!(error, ReadError::NoVersion(_)), "{text}: {error}");
        assert!(error.to_string().contains(words), "{text}: {error}");
    }
}

#[test]
fn an_empty_file_says_so() {
    for text in ["", " \n\t", "// only a comment", "/* a /* nested */ one */", "\u{feff}"] {
        let error = read(text.as_bytes()).unwrap_err();
        assert!(matches!(error, ReadError::Empty(_)), "{text:?}: {error}");
    }
}

#[test]
fn bytes_that_are_not_text_are_told_with_their_place() {
    let mut bytes = write(&full_plan()).into_bytes();
    let at = bytes.iter().position(|byte| *byte == b'W').unwrap();
    bytes[at] = 0xff;
    let line = bytes[..at].iter().filter(|byte| **byte == b'\n').count() + 1;
    let error = read(&bytes).unwrap_err();
    assert!(matches!(error, ReadError::NotText(_)), "{error}");
    assert_eq!(error.faults()[0].line, line);
    assert!(error.to_string().contains(&format!("byte {at} is not UTF-8 text")), "{error}");
}

#[test]
fn a_byte_order_mark_carriage_returns_and_comments_are_taken() {
    let text = write(&full_plan());
    let other =
        format!("\u{feff}{}", text.replace('\n', "\r\n").replace("order:", "/* here */ order: // there\r\n"));
    assert_eq!(read(other.as_bytes()), Ok(full_plan()));
    let spelled = text
        .replace("tare_front_kg: 12100", "tare_front_kg: Some(12_100.0)")
        .replace("train: (", "train: Train(");
    assert_eq!(read(spelled.as_bytes()), Ok(full_plan()));
    let (broken, line, column) = broken("tier: 1,", "tier: §x,");
    let fault = refused(&format!("\u{feff}{}", broken.replace('\n', "\r\n")));
    assert_eq!((fault.line, fault.column), (line, column));
}

#[test]
fn a_hundred_megabytes_of_brackets_are_refused_by_size() {
    let error = read(&vec![b'['; 100_000_000]).unwrap_err();
    assert!(matches!(error, ReadError::TooLarge { bytes: 100_000_000, limit: MOST_BYTES }), "{error}");
}

#[test]
fn hostile_nesting_and_length_stay_within_two_megabytes_of_stack() {
    let some = "Some(".repeat(1_000_000);
    let hostile = move || {
        for (text, words) in [
            ("[".repeat(MOST_BYTES), "nested more than"),
            ("(".repeat(MOST_BYTES), "nested more than"),
            ("{a:".repeat(1_000_000), "nested more than"),
            (format!("(version: 1, title: {some}"), "nested more than"),
            ("/*".repeat(1_000_000), "has no end"),
            (format!("(version: 1, title: r{}", "#".repeat(1_000_000)), "the file ends before"),
            (format!("(version: 1, title: \"{}", "\\".repeat(1_000_000)), "no closing quote"),
            (format!("(version: {})", "9".repeat(1_000_000)), "not a whole number"),
            (format!("(version: 1, title: [{}])", "1,".repeat(3_000_000)), "more than 2000000 values"),
            (",".repeat(1_000_000), "a value is due"),
            (format!("(version: 1, {}: 1)", "x".repeat(1_000_000)), "is not a field here"),
            (format!("(version: 1, units: {})", "x".repeat(1_000_000)), "none of the words"),
            (format!("(version: 1, {}: [1 2])", "x".repeat(1_000_000)), "a comma is missing"),
            (format!("(version: 1, {} 2)", "x".repeat(1_000_000)), "a colon is missing"),
        ] {
            let told = read(text.as_bytes()).unwrap_err().to_string();
            assert!(told.contains(words), "{words}: {}", &told[..told.len().min(300)]);
            assert!(told.len() < 5_000, "the message itself is {} bytes long", told.len());
        }
    };
    std::thread::Builder::new().stack_size(2 * 1024 * 1024).spawn(hostile).unwrap().join().unwrap();
}

#[test]
fn a_file_cut_anywhere_is_an_error_and_never_a_panic() {
    let text = write(&full_plan());
    let end = text.trim_end().len();
    for cut in (0..end).step_by(7).chain(end.saturating_sub(50)..end) {
        let error = read(&text.as_bytes()[..cut]).expect_err("a cut file was read");
        let fault = &error.faults()[0];
        assert!(fault.line >= 1 && fault.column >= 1, "{error}");
    }
    let half = refused(&text[..text.len() / 2]);
    assert!(half.mend.contains("cut short"), "{half}");
}

#[test]
fn flipped_bits_give_an_error_or_a_plan_that_survives_writing() {
    let text = write(&full_plan());
    for (at, bit) in (0..text.len()).step_by(7).zip((0..8).cycle()) {
        let mut bytes = text.clone().into_bytes();
        bytes[at] ^= 1 << bit;
        match read(&bytes) {
            Err(error) => assert!(!error.faults().is_empty()),
            Ok(plan) => {
                let again = write(&plan);
                assert_eq!(read(again.as_bytes()).as_ref(), Ok(&plan), "byte {at}, bit {bit}");
            }
        }
    }
}
