//! `longstow order`, `placements`, `tidy` and `--csv` as a user runs them: exit codes, words, files.

use crate::command_plans::{Folder, SOUND, changed};
use longstow::format::{Parting, read, read_table};
use std::fs;

const ORDER: &str = "Mark;Section;Length (m)\nS1;60E1;55,1\nS2;60E1;55,2\nN1;60E1;20\n";

fn folder(order: &str) -> Folder {
    let folder = Folder::new();
    folder.write("order.csv", order);
    folder
}

fn text_of(folder: &Folder, name: &str) -> String {
    fs::read_to_string(folder.path(name)).unwrap()
}

#[test]
fn an_order_is_taken_in_and_the_fate_of_every_line_told() {
    let folder = folder(ORDER);
    let ran = folder.run("order sound order.csv");
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    for words in [
        "cells parted by semicolons, decimal comma, headers in line 1",
        "S1    unchanged  as in the plan",
        "S2    changes    Length 55.100 m -> 55.200 m",
        "N1    new",
        "3 rows: 1 new, 1 changed, 1 unchanged; 1 other line skipped",
        "Saved as sound.",
    ] {
        assert!(ran.out.contains(words), "\"{words}\" is not in {}", ran.out);
    }
    let plan = read(text_of(&folder, "sound").as_bytes()).unwrap();
    assert_eq!((plan.order.len(), plan.order[1].length.mm(), plan.placements.len()), (5, 55_200, 4));
    let again = folder.run("order sound order.csv");
    assert!(
        again.code == 0 && again.out.contains("Nothing was saved: the plan has all of it."),
        "{}",
        again.out
    );
}

#[test]
fn a_dry_run_and_a_refused_row_save_nothing_unless_the_rest_is_wanted() {
    let folder = folder(&format!("{ORDER}N2;60E1;long\n"));
    for (line, code, saved) in [
        ("order sound order.csv --dry-run", 1, false),
        ("order sound order.csv", 1, false),
        ("order sound order.csv --take-rest -o other", 1, false),
        ("order sound order.csv --take-rest", 1, true),
    ] {
        let ran = folder.run(line);
        assert_eq!(ran.code, code, "{line}: {}{}", ran.out, ran.err);
        assert!(ran.out.contains("5  N2    refused    Length \"long\": it is not a number"), "{}", ran.out);
        assert_eq!(text_of(&folder, "sound") != SOUND, saved, "{line}");
    }
    assert_eq!(text_of(&folder, "other"), text_of(&folder, "sound"));
}

#[test]
fn a_dry_run_saves_nothing_wherever_it_stands_and_tells_what_would_be_saved() {
    let folder = folder(&format!("{ORDER}N2;60E1;long\n"));
    folder.write("good.csv", ORDER);
    let saved_as =
        |file: &str| format!("Nothing was saved: a dry run. Without it the plan is saved as {file}.");
    let refused = "Nothing was saved: a dry run. Without it nothing is saved either: mend the rows";
    for (line, code, words) in [
        ("order sound order.csv --dry-run --take-rest", 1, saved_as("sound").as_str()),
        ("order sound order.csv --take-rest --dry-run", 1, &saved_as("sound")),
        ("order sound order.csv --take-rest --dry-run -o other", 1, &saved_as("other")),
        ("order sound order.csv --dry-run", 1, refused),
        ("order sound good.csv --dry-run", 0, &saved_as("sound")),
        ("order --dry-run sound good.csv --output other --replace", 0, &saved_as("other")),
    ] {
        let ran = folder.run(line);
        assert_eq!(ran.code, code, "{line}: {}{}", ran.out, ran.err);
        assert!(ran.out.contains(words), "{line}: {}", ran.out);
        assert_eq!(text_of(&folder, "sound"), SOUND, "{line}");
        assert!(!folder.path("other").exists(), "{line}");
        let json = folder.run(&format!("{line} --json")).json();
        assert_eq!((&json["saved"], &json["exit_code"]), (&serde_json::Value::Null, &code.into()), "{line}");
    }
}

#[test]
fn a_row_with_the_mark_of_one_that_cannot_be_read_is_not_taken() {
    let folder = folder("Mark,Section,Length (m)\nN1,60E1,10.5\nN1,60E1,abc\nN2,60E1,20\n");
    assert_eq!(folder.run("order sound order.csv --take-rest").code, 1);
    let plan = read(text_of(&folder, "sound").as_bytes()).unwrap();
    let marks: Vec<&str> = plan.order.iter().map(|string| string.mark.as_str()).collect();
    assert_eq!(marks, ["S1", "S2", "S3", "S4", "N2"]);
}

#[test]
fn a_file_that_cannot_be_saved_is_told_with_the_cause() {
    let folder = folder(ORDER);
    folder.write("untidy", &changed("tare_kg: 24000,", "tare_kg: 24000.0,"));
    // Longer than any file system takes; what it says of that is the cause.
    let long = "x".repeat(300);
    for command in ["order sound order.csv", "tidy untidy", "check sound", "sheet sound", "drawing sound"] {
        let ran = folder.run(&format!("{command} -o {long}"));
        assert_eq!(ran.code, 2, "{command}: {}", ran.out);
        assert!(ran.err.contains("(os error "), "{command}: {}", ran.err);
        let there = folder.run(&format!("{command} -o us"));
        assert!(
            there.code == 2 && there.err.contains("or --replace to replace it"),
            "{command}: {}",
            there.err
        );
        let unnamed = folder.command(&format!("{command} -o")).arg("").output().unwrap();
        let told = "longstow: \"\" is no value for -o; give the name of a file\n";
        assert_eq!(
            (unnamed.status.code(), String::from_utf8(unnamed.stderr).unwrap().as_str()),
            (Some(2), told)
        );
    }
}

#[test]
fn a_file_that_cannot_be_saved_is_named_once_and_is_the_right_one() {
    let folder = folder(ORDER);
    folder.write("untidy", &changed("tare_kg: 24000,", "tare_kg: 24000.0,"));
    let there = "us: there already is such a file; give another name, or --replace to replace it\n";
    for (line, told) in [
        ("tidy untidy -o us", format!("untidy: not saved as {there}")),
        ("sheet sound -o us", format!("sound: not saved as {there}")),
        ("drawing sound -o us", format!("sound: not saved as {there}")),
        ("order sound order.csv -o us", format!("longstow: {there}")),
        ("check sound -o us", format!("longstow: {there}")),
    ] {
        assert_eq!(folder.run(line).err, told, "{line}");
    }
    for name in ["sound", "untidy"] {
        let mut permissions = fs::metadata(folder.path(name)).unwrap().permissions();
        permissions.set_readonly(true);
        fs::set_permissions(folder.path(name), permissions).unwrap();
    }
    let words = "the file is read-only; save under another name with -o, or allow writing to it\n";
    assert_eq!(folder.run("tidy untidy").err, format!("untidy: {words}"));
    assert_eq!(folder.run("order sound order.csv").err, format!("longstow: sound: {words}"));
}

#[test]
fn what_is_said_about_columns_is_remembered_and_what_names_mean_is_done() {
    let order = "No.;Kennung;Profil;L;Wo\n1;N1;54E1;1.080;Nord\n";
    let folder = folder(order);
    let ran = folder.run("order sound order.csv");
    assert!(ran.code == 1 && ran.out.contains("Section: no column holds it"), "{}", ran.out);
    let line = "order sound order.csv --column mark=Kennung --column section=#3 --column drop=Wo --unit length=mm \
                --decimal comma --section 54E1=54E1 --new-drop Nord=front -o new";
    let ran = folder.run(line);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let plan = read(text_of(&folder, "new").as_bytes()).unwrap();
    let last = plan.order.last().unwrap();
    assert_eq!((last.length.mm(), last.section.as_str()), (1_080, "54E1"));
    assert_eq!(plan.drops.last().unwrap().name.as_str(), "Nord");
    assert_eq!(plan.order_table.columns.len(), 5);
    folder.write("order.csv", &order.replace("1.080", "2.080").replace("N1", "N2"));
    let again = folder.run("order new order.csv");
    assert_eq!(again.code, 0, "{}{}", again.out, again.err);
}

#[test]
fn below_refused_rows_stands_the_option_that_mends_each_kind_and_it_does() {
    let check = |order: &str, given: &str, told: &[&str]| {
        let folder = folder(order);
        let ran = folder.run(&format!("order sound order.csv --dry-run {given}"));
        let lines: Vec<&str> = ran.out.lines().filter(|line| line.starts_with("To ")).collect();
        assert_eq!(lines, told, "{order}: {}", ran.out);
        ran.code
    };
    let unknown = "Kennung;Profil;L\u{e4}nge [m];Wo\nN1;60E1;20;Far\n";
    let columns = |field: &str, key: &str| {
        format!(
            "To say which column holds {field}: --column {key}=\"Kennung\" (or \"Profil\", \"L\u{e4}nge [m]\", \"Wo\")"
        )
    };
    let all = [("Mark", "mark"), ("Section", "section"), ("Length", "length")].map(|(a, b)| columns(a, b));
    assert_eq!(check(unknown, "", &all.each_ref().map(String::as_str)), 1);
    let unit = "To say the unit of Length: --unit length=mm (or cm, m, ft, in)";
    let mass = "To say the unit of Mass: --unit mass=kg (or t, lb, \"short tons\", \"long tons\")";
    assert_eq!(check("N1,60E1,20\n", "", &[unit]), 1);
    assert_eq!(check("N1,60E1,20\n", "--unit length=mm", &[]), 0);
    assert_eq!(check("N1,60E1,20 m,,,4\nN2,60E1,20\n", "", &[unit, mass]), 1);
    let point = "To say the decimal mark: --decimal point (or comma)";
    assert_eq!(check("Mark;Section;Length mm\nN1;60E1;1.234\n", "", &[point]), 1);
    assert_eq!(check("Mark;Section;Length mm\nN1;60E1;1.234\n", "--decimal comma", &[]), 0);
    // Headers that are the same are told apart by their numbers.
    let doubtful = "To say which column holds Length: --column length=#3 (or #4, \"Len ft\")";
    let twice = "Mark,Section,Length m,Length m,Len ft\nN1,60E1,20,30,9\n";
    assert_eq!(check(twice, "", &[doubtful]), 1);
    assert_eq!(check(twice, "--column length=#4", &[]), 0);
    let names = "Mark,Section,Length m\nN1,Own,20\n";
    let section = "To take it for a section of the plan: --section \"Own=60E1\"";
    assert_eq!(check(names, "", &[section]), 1);
    assert_eq!(check(names, "--section Own=60E1", &[]), 0);
    // A cell that is wrong in itself is mended in the table.
    assert_eq!(check("Mark,Section,Length m\nN1,60E1,long\n", "", &[]), 1);
}

#[test]
fn a_row_whose_mark_is_in_no_known_column_is_called_by_its_first_words_and_a_decimal_point_is_told() {
    let folder = folder("Kennung;Profil;L\u{e4}nge [m]\nN1;60E1;20\n");
    let out = folder.run("order sound order.csv").out;
    assert!(out.contains("   2  N1       refused    Mark: no column holds it, nor Section, Length"), "{out}");
    folder.write("order.csv", "N1,60E1,1.234\n");
    let out = folder.run("order sound order.csv --unit length=m --dry-run").out;
    assert!(out.contains("cells parted by commas, decimal point, no headers"), "{out}");
}

#[test]
fn what_is_said_in_vain_about_a_table_is_told() {
    let folder = folder(ORDER);
    let vain = "--new-drop Nord --section 60E1=54E1 --steel x=R260 --unit mass=kg --unit length=m";
    let ran = folder.run(&format!("order sound order.csv --dry-run {vain}"));
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let lines: Vec<&str> = ran.out.lines().filter(|line| line.starts_with("Not used: ")).collect();
    assert_eq!(
        lines,
        [
            "Not used: --new-drop \"Nord\"; no row has such a drop that the plan does not have.",
            "Not used: --section \"60E1\"; no row has such a section that the plan does not have.",
            "Not used: --steel \"x\"; no row has such a steel that the plan does not have.",
            "Not used: --unit mass=kg; no column holds it.",
        ]
    );
    folder.write("order.csv", "Mark,Section,Length (m),Drop\nN1,60E1,20,Nord\n");
    let ran = folder.run("order sound order.csv --new-drop nord --dry-run");
    let told = ["Not used", "To make the drop"].iter().any(|words| ran.out.contains(words));
    assert!(ran.code == 0 && !told, "{}", ran.out);
}

#[test]
fn what_cannot_be_done_with_a_table_says_what_to_give() {
    let folder = folder(ORDER);
    for (line, words) in [
        ("order sound", "order needs a plan and a table"),
        ("order sound order.csv more", "order needs a plan and a table"),
        ("order sound missing.csv", "missing.csv"),
        ("order cut order.csv", "cut"),
        ("order sound order.csv --column width=Mark", "it can hold mark, section, length"),
        ("order sound order.csv --column mark=Number", "no column, or more than one, is headed \"Number\""),
        ("order sound order.csv --unit length=kg", "\"kg\" is no unit of length; give mm, cm, m, ft, in"),
        ("order sound order.csv --unit mark=m", "mark has no unit"),
        (
            "order sound order.csv --column mark=Mark --column mark=#1",
            "which column holds mark is said twice",
        ),
        ("order sound order.csv --unit length=m --unit length=ft", "the unit of length is said twice"),
        ("order sound order.csv --drop x=Far --new-drop X", "what is meant by the drop \"X\" is said twice"),
        ("order sound order.csv --replace", "--replace belongs to -o FILE"),
        ("tidy sound --check -o other", "--check saves nothing"),
        ("order sound order.csv --headers zero", "the number of the line"),
        ("order sound order.csv --column mark", "is no value for --column"),
        ("order sound order.csv --new-drop X=up", "is no value for --new-drop"),
        ("figures sound --csv wheels", "vehicles, racks or strings"),
        ("check sound --csv --json", "two outputs"),
        ("check sound us --csv", "take one plan"),
        ("check sound --decimal comma", "belong to --csv"),
        ("loaded sound --csv", "no option \"--csv\" for loaded"),
        ("tidy", "tidy needs at least one plan"),
        ("tidy sound us -o both", "-o takes one plan"),
    ] {
        let ran = folder.run(line);
        assert!(ran.code == 2 && ran.err.contains(words), "{line}: {} {}{}", ran.code, ran.out, ran.err);
    }
    assert_eq!(text_of(&folder, "sound"), SOUND);
    let json = folder.run("order sound missing.csv --json");
    assert_eq!((json.code, &json.json()["shape"]), (2, &"longstow error 1".into()));
}

#[test]
fn figures_findings_and_placements_are_tables_that_read_back() {
    let folder = folder(ORDER);
    for (line, rows) in [
        ("figures sound --csv vehicles --state 0", 3),
        ("figures sound --csv racks --state 0", 9),
        ("figures sound --csv strings", 4),
        ("placements sound --csv", 4),
    ] {
        for form in ["", " --decimal comma", " --decimal comma --separator tab", " --separator semicolon"] {
            let ran = folder.run(&format!("{line}{form}"));
            let table = read_table(ran.out.as_bytes(), Parting::AsFound).unwrap();
            assert_eq!((ran.code, table.lines.len()), (0, rows + 1), "{line}{form}: {}{}", ran.out, ran.err);
            let header = table.lines[0].cells.len();
            assert!(table.lines.iter().all(|line| line.width == header), "{line}{form}: {}", ran.out);
        }
    }
    let ran = folder.run("check failing --csv -o findings.csv");
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    assert!(text_of(&folder, "findings.csv").contains("\nfail,yes,axle-load,"));
    let json = folder.run("placements sound --json").json();
    assert_eq!(
        (&json["strings"][1]["place"]["lane"], &json["strings"][1]["length_m"]),
        (&10.into(), &55.1.into())
    );
    assert!(folder.run("placements sound").out.contains("4 strings, 4 placed"));
}

#[test]
fn the_figures_of_the_table_are_those_of_the_json() {
    let folder = folder(ORDER);
    let json = folder.run("figures sound --json --state 0").json();
    let table = folder.run("figures sound --csv vehicles --state 0");
    let table = read_table(table.out.as_bytes(), Parting::AsFound).unwrap();
    let column = table.lines[0].cells.iter().position(|cell| cell.text == "Gross (t)").unwrap();
    for (line, vehicle) in table.lines[1..].iter().zip(json["states"][0]["vehicles"].as_array().unwrap()) {
        let tonnes: f64 = line.cells[column].text.parse().unwrap();
        assert!((tonnes * 1_000.0 - vehicle["gross_kg"].as_f64().unwrap()).abs() < 0.001);
    }
}

#[test]
fn letters_beyond_ascii_get_a_mark_in_files_so_that_spreadsheets_know_them() {
    let folder = Folder::new();
    folder.write("sound", &SOUND.replace("\"S1\"", "\"S\u{e4}1\""));
    folder.run("placements sound --csv -o out.csv");
    assert!(text_of(&folder, "out.csv").starts_with("\u{feff}Mark,"));
    assert!(folder.run("placements sound --csv").out.starts_with("Mark,"));
    assert_eq!(folder.run("order sound out.csv").code, 0);
}

#[test]
fn tidy_writes_the_canonical_form_and_says_what_changed() {
    let folder = Folder::new();
    let untidy = changed("tare_kg: 24000,", "tare_kg: 24000.0,\r")
        .replace("    limits: (", "    notes: \"\",\n    limits: (");
    folder.write("untidy", &untidy);
    let ran = folder.run("tidy untidy --check");
    assert_eq!((ran.code, text_of(&folder, "untidy")), (1, untidy));
    for words in [
        "untidy is not tidy:",
        "lines end in LF",
        "left out",
        "notes",
        "vehicle_types[0].tare_kg 24000.0 -> 24000",
    ] {
        assert!(ran.out.contains(words), "\"{words}\" is not in {}", ran.out);
    }
    let ran = folder.run("tidy untidy sound");
    assert!(
        ran.code == 0 && ran.out.contains("Saved as untidy.") && ran.out.contains("sound is tidy."),
        "{}",
        ran.out
    );
    assert_eq!(text_of(&folder, "untidy"), SOUND);
    assert_eq!(folder.run("tidy untidy --check").code, 0);
}

#[test]
fn comments_are_not_lost_unasked() {
    let folder = Folder::new();
    let commented = changed("version: 1,", "version: 1, // weigh W2 again");
    folder.write("commented", &commented);
    let ran = folder.run("tidy commented");
    assert!(
        ran.code == 2 && ran.err.contains("it holds a comment") && ran.err.contains("// weigh W2 again"),
        "{}",
        ran.err
    );
    assert_eq!(text_of(&folder, "commented"), commented);
    assert_eq!(folder.run("tidy commented --drop-comments -o bare").code, 0);
    assert_eq!((text_of(&folder, "bare"), text_of(&folder, "commented")), (SOUND.to_owned(), commented));
    let json = folder.run("tidy commented --check --json").json();
    assert_eq!((&json["changes"][0]["what"], &json["exit_code"]), (&"comments".into(), &1.into()));
}
