//! Orders as spreadsheets and people write them, hostile ones too: every line gets its fate, and nothing is guessed.

use crate::command_plans::SOUND;
use longstow::format::{Parting, catalogue, read, read_pasted, read_table};
use longstow::intake::{Choices, Fate, Intake, Kind, Outcome, Surroundings};
use longstow::model::Plan;
use longstow::units::Style;
use std::fmt::Write;

fn plan() -> Plan {
    read(SOUND.as_bytes()).unwrap()
}

fn intake(bytes: &[u8]) -> Result<Intake, String> {
    let table = read_table(bytes, Parting::AsFound).map_err(|error| error.to_string())?;
    let (plan, catalogue) = (plan(), catalogue().unwrap());
    let around = Surroundings { plan: &plan, catalogue: &catalogue, style: Style::default() };
    Ok(Intake::of(Kind::Order, &table, &around, &Choices::default()))
}

/// The fates of all lines but skipped ones, as `line fate: words`; a row's length stands for that of new ones.
fn fates(bytes: &[u8]) -> Vec<String> {
    let told = intake(bytes).unwrap_or_else(|why| panic!("{why}"));
    let rows = told.rows.iter().filter(|row| !matches!(row.fate, Fate::Skipped(_)));
    rows.map(|row| match row.fate {
        Fate::New => format!("{} new: {} of {}", row.line, row.cells[0], row.cells[2]),
        _ => format!("{} {}: {}", row.line, row.fate.word(), row.words()),
    })
    .collect()
}

fn check(bytes: impl AsRef<[u8]>, expected: &[&str]) {
    let bytes = bytes.as_ref();
    assert_eq!(fates(bytes), expected, "{}", String::from_utf8_lossy(bytes));
}

/// The table is refused as a whole, with these words.
fn refused(bytes: impl AsRef<[u8]>, words: &str) {
    let why = intake(bytes.as_ref()).err().unwrap_or_else(|| panic!("it was read; {words}"));
    assert!(why.contains(words), "{why}");
}

/// One row under headers with a length in metres.
fn length(cell: &str, expected: &str) {
    let fate = fates(format!("mark;section;length (m)\nN1;60E1;{cell}\n").as_bytes());
    assert!(fate[0].contains(expected), "{cell}: {fate:?}");
}

#[test]
fn encodings_and_separators_are_found_out() {
    let rows = ["Mark", "Section", "Length (m)", "Drop", "N1", "60E1", "107.5", "Eastmoor"];
    for separator in [",", ";", "\t"] {
        let text = format!("{}\r\n{}\r\n", rows[..4].join(separator), rows[4..].join(separator));
        let expected = ["2 new: N1 of 107.500 m"];
        check(&text, &expected);
        check(format!("\u{feff}{text}"), &expected);
        check(text.replace("\r\n", "\r"), &expected);
        check(text.trim_end(), &expected);
        let utf16 = |bytes: fn(u16) -> [u8; 2]| -> Vec<u8> {
            format!("\u{feff}{text}").encode_utf16().flat_map(bytes).collect()
        };
        check(utf16(u16::to_le_bytes), &expected);
        check(utf16(u16::to_be_bytes), &expected);
        check(format!("sep={separator}\n{text}"), &["3 new: N1 of 107.500 m"]);
    }
    check(b"mark;section;length m;note\nN\xfc1;60E1;20;\x80 5\n", &["2 new: N\u{fc}1 of 20.000 m"]);
}

#[test]
fn what_is_no_table_is_refused_as_a_whole() {
    refused("", "the table is empty");
    refused("\u{feff}", "the table is empty");
    refused(" \n;;;\n\t\n", "the table is empty");
    refused(b"PK\x03\x04\x14\0\x06\0", "a spreadsheet's own file");
    refused(b"mark,length\nN1,\0\n", "line 2 holds a zero byte");
    refused(b"m\0a\0r\0k\0", "zero byte");
    refused(b"\xff\xfe\0\xd8", "its mark says UTF-16");
    refused("mark,section\nN1,\"60E1\nN2,60E1\n", "the quote that opens in line 2 is never closed");
    refused(format!("mark\n{}\n", "x".repeat(10_000_000)), "line 2 has a cell of more than 32767");
    refused(format!("mark\n{}\n", "x,".repeat(5_000_000)), "line 2 has more than 500 cells");
    refused("N1,60E1,10\n".repeat(100_000), "more than 20000 lines");
    refused(vec![b' '; 17 * 1024 * 1024], "take out what is not needed");
}

#[test]
fn headers_alone_are_no_rows_and_no_fault() {
    let told = intake(b"mark,section,length m\n").unwrap();
    assert_eq!((told.outcome.clone(), told.takes_all(), told.counts().skipped), (Outcome::Nothing, true, 1));
}

#[test]
fn headers_may_stand_below_other_lines_and_be_repeated() {
    let text = "Order 17/26\n\nfor,Eastmoor\n\nMark,Section,Length (m)\nN1,60E1,20\nmark,section,length (m)\nN2,60E1,20\n";
    check(text, &["6 new: N1 of 20.000 m", "8 new: N2 of 20.000 m"]);
}

#[test]
fn headers_that_are_the_same_or_unknown_are_not_guessed() {
    let why = "2 refused: Length: no column holds it; say which does";
    check("mark,section,length m,length m\nN1,60E1,20,30\n", &[why]);
    check(
        "Kennung,Profil,Laenge\nN1,60E1,20\n",
        &["2 refused: Mark: no column holds it, nor Section, Length; say which do"],
    );
}

#[test]
fn numbers_that_can_be_read_in_one_way_are() {
    for (cell, expected) in [
        ("12,5", "12.500 m"),
        ("12.5", "12.500 m"),
        ("1.234,5", "1234.500 m"),
        ("1,234.5", "1234.500 m"),
        ("1 234,5", "1234.500 m"),
        ("1\u{a0}234", "1234.000 m"),
        ("1'234", "1234.000 m"),
        ("+20", "20.000 m"),
        ("0.125", "0.125 m"),
        ("354 ft 4 in", "108.001 m"),
        ("107500 mm", "107.500 m"),
        ("  20  ", "20.000 m"),
    ] {
        length(cell, &format!("new: N1 of {expected}"));
    }
}

#[test]
fn numbers_that_cannot_be_meant_or_read_in_one_way_are_refused() {
    for (cell, words) in [
        ("1.234", "may be 1.234 or 1234"),
        ("1,234", "may be 1.234 or 1234"),
        ("0", "above zero"),
        ("-20", "above zero"),
        ("\u{2212}20", "above zero"),
        ("0.0004", "above zero"),
        ("NaN", "not a number"),
        ("inf", "not a number"),
        ("1e999", "exponent"),
        ("1.08E+02", "exponent"),
        ("9".repeat(400).as_str(), "too large"),
        ("5000.001", "5000 m long at most"),
        ("108000", "5000 m long at most; is the unit right?"),
        ("12O", "its unit is not known"),
        ("20 yd", "its unit is not known"),
        ("12..5", "groups of three"),
        ("1.2.3", "groups of three"),
        ("\u{0661}\u{0662}", "not a number"),
        ("#VALUE!", "not a number"),
        ("=A1*2", "a formula stands there"),
        ("'-20", "above zero"),
        ("", "it is empty"),
    ] {
        length(cell, words);
    }
}

#[test]
fn one_number_tells_the_decimal_mark_of_all_and_two_that_differ_leave_doubtful_ones_refused() {
    check(
        "mark;section;length m\nN1;60E1;1.234\nN2;60E1;107,5\n",
        &["2 new: N1 of 1234.000 m", "3 new: N2 of 107.500 m"],
    );
    let told = fates(b"mark;section;length m\nN1;60E1;1.234\nN2;60E1;107,5\nN3;60E1;107.5\n");
    assert!(told[0].contains("may be 1.234 or 1234") && told[1].contains("new") && told[2].contains("new"));
}

#[test]
fn a_decimal_comma_between_commas_makes_a_cell_too_many() {
    let why =
        "2 refused: it has 4 cells, and there are 3 headers; put quotes round a cell that holds a comma";
    check("mark,section,length m\nN1,60E1,107,5\n", &[why]);
    check("mark,section,length m\nN1,60E1,\"107,5\"\n", &["2 new: N1 of 107.500 m"]);
    check("mark,section,length m,,\nN1,60E1,107.5,,,,\n", &["2 new: N1 of 107.500 m"]);
}

#[test]
fn lengths_without_a_unit_are_refused() {
    let words = "Length \"20\": it has no unit; say the unit of the column, or write it in the cell";
    check(
        "mark,section,length\nN1,60E1,20\nN2,60E1,20 m\n",
        &[&format!("2 refused: {words}"), "3 new: N2 of 20.000 m"],
    );
}

#[test]
fn rows_with_one_mark_are_not_taken_twice() {
    check("mark,section,length m\nN1,60E1,20\nN1,60E1,20\n", &["2 new: N1 of 20.000 m"]);
    let why = "lines 2, 3 have the same and differ; leave the right one";
    check(
        "mark,section,length m\nN1,60E1,20\nN1,60E1,21\n",
        &[&format!("2 refused: Mark \"N1\": {why}"), &format!("3 refused: Mark \"N1\": {why}")],
    );
}

#[test]
fn marks_of_any_script_are_taken_and_untidy_ones_are_not() {
    let rows =
        "mark,section,length m\n\u{1f6e4}\u{fe0f} 7,60E1,20\n\u{5de}\u{5e1}\u{5d9}\u{5dc}\u{5d4},60E1,20\n";
    assert_eq!(fates(rows.as_bytes()).len(), 2);
    assert!(fates(rows.as_bytes()).iter().all(|fate| fate.contains(" new: ")));
    let hidden = "mark,section,length m\nN\u{200b}1,60E1,20\nN\u{ad}1,60E1,20\n-,60E1,20\n";
    assert!(fates(hidden.as_bytes()).iter().all(|fate| fate.contains(" refused: ")));
    let row = |mark: &str| fates(format!("mark,section,length m\n{mark},60E1,20\n").as_bytes()).concat();
    assert!(row(&"x".repeat(64)).contains(" new: "));
    assert!(row(&"x".repeat(65)).contains("longer than 64 characters"));
    assert!(row("\"two\nlines\"").contains("control character"));
    assert!(row("").contains("it is empty"));
    assert!(row("=HYPERLINK(\"x\")").contains("a formula stands there"));
    assert!(row("'=N1").contains("new: =N1"));
    assert!(row("s1").contains("new"), "another string than S1");
}

#[test]
fn names_that_the_plan_does_not_have_are_asked_about() {
    let told =
        intake(b"mark,section,length m,drop,steel\nN1,60E9,20,,\nN2,60E1,20,Nowhere,\nN3,60 e1,20,,R1\n")
            .unwrap();
    let words: Vec<String> = told.rows[1..].iter().map(longstow::intake::RowFate::words).collect();
    assert!(words[0].contains("section \"60E9\": the plan has no such section"), "{words:?}");
    assert!(words[1].contains("drop \"Nowhere\": the plan has no such drop"), "{words:?}");
    assert!(words[2].contains("steel \"R1\": the plan has no such steel"), "{words:?}");
    assert_eq!(told.unknown.len(), 3);
    check("mark,section,length m\nN1,60 e1,20\n", &["2 new: N1 of 20.000 m"]);
}

#[test]
fn an_order_that_is_imported_again_changes_by_mark_and_leaves_strings_where_they_lie() {
    let told = intake(b"mark,length m,side\nS1,55.1,\nS2,55.2,L\n").unwrap();
    assert_eq!((told.counts().unchanged, told.counts().changed), (1, 1));
    assert_eq!(told.rows[2].words(), "Length 55.100 m -> 55.200 m; Side none -> left");
    let Outcome::Edit { edit, returned_to_yard } = told.outcome else { panic!("no edit") };
    let after = edit.apply(&plan()).unwrap().plan;
    assert_eq!((after.placements, returned_to_yard.len()), (plan().placements, 0));
}

#[test]
fn no_table_is_too_odd_to_be_answered() {
    // Every prefix of a table with all that is odd, in both encodings and pasted: an answer, never a panic.
    let odd = "sep=;\r\n\u{feff};\"x\"\"\r\ny\";=1+1;\u{202e}\r\nMark;Length [mm];Mass (t);;\r\nN1;\"1\u{a0}234\";-\r\r\n'=;;;;;;\n";
    for end in 0..=odd.len() {
        let bytes = &odd.as_bytes()[..end];
        let mut answers = String::new();
        if let Ok(told) = intake(bytes) {
            write!(answers, "{:?}", told.counts()).unwrap();
            assert!(told.rows.windows(2).all(|pair| pair[0].line < pair[1].line));
        }
        if let Ok(text) = std::str::from_utf8(bytes) {
            let table = read_pasted(text, Parting::AsFound);
            let lines = table.map_or(0, |table| table.lines.len());
            assert!(lines <= text.len() + 1, "{answers}");
        }
    }
}
