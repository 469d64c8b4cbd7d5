//! `longstow compare` as a user runs it: exit codes, words, JSON.

use crate::command_plans::{Folder, Ran, SOUND, changed};

fn run(line: &str) -> Ran {
    Folder::new().run(line)
}

/// The sound plan with its first string farther back.
fn moved() -> Folder {
    let folder = Folder::new();
    let line = SOUND.lines().find(|line| line.contains("front_mm: ")).unwrap();
    assert!(line.contains("front_mm: 2300"), "{line}");
    folder.write("moved", &SOUND.replacen("front_mm: 2300", "front_mm: 2500", 1));
    folder
}

#[test]
fn the_exit_tells_whether_anything_differs() {
    let equal = run("compare sound sound");
    assert_eq!((equal.code, equal.err.as_str()), (0, ""), "{}", equal.out);
    assert!(equal.out.starts_with("Nothing differs.\n"), "{}", equal.out);
    assert_eq!(run("compare sound failing").code, 1);
    assert_eq!(run("compare sound sound --states 0 1").code, 1);
    assert_eq!(run("compare sound --states 1 1").code, 0);
    for line in ["compare sound cut", "compare none sound", "compare sound --states 0 99", "compare sound"] {
        let ran = run(line);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{line}");
        assert!(!ran.err.is_empty(), "{line}");
    }
}

#[test]
fn what_is_newly_broken_is_told_before_what_changed() {
    let ran = run("compare sound failing");
    let place = |words: &str| ran.out.find(words).unwrap_or_else(|| panic!("\"{words}\" not in {}", ran.out));
    assert!(place("newly broken") < place("Newly broken (") && place("Newly broken (") < place("Types (1)"));
    assert!(ran.out.contains("vehicle type Flat  axle rating  22.50 t -> 6.50 t  -16.00 t"), "{}", ran.out);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 110), "{}", ran.out);
}

#[test]
fn a_moved_string_is_told_with_how_far() {
    let ran = moved().run("compare sound moved");
    assert!(ran.out.contains("front end  2.300 m -> 2.500 m  +0.200 m"), "{}", ran.out);
    let back = moved().run("compare moved sound");
    assert!(back.out.contains("front end  2.500 m -> 2.300 m  -0.200 m"), "{}", back.out);
    let us = changed("units: Metric", "units: UsCustomary");
    let folder = moved();
    folder.write("moved-us", &us.replacen("front_mm: 2300", "front_mm: 2500", 1));
    let ran = folder.run("compare us moved-us");
    assert!(ran.out.contains("front end  7.55 ft -> 8.20 ft  +0.66 ft"), "{}", ran.out);
}

/// What differs is shown with as many digits as make it differ; loads below what is shown are only counted.
#[test]
fn no_change_looks_like_none() {
    let folder = moved();
    for (name, from, to, shown) in [
        ("tare", "tare_kg: 24000", "tare_kg: 24001", "24.000 t -> 24.001 t  +0.001 t"),
        ("limit", "running: 1.25", "running: 1.2500001", "1.2500000 : 1 -> 1.2500001 : 1  +0.0000001"),
        ("moved", "front_mm: 2300", "front_mm: 2301", "2.300 m -> 2.301 m  +0.001 m"),
    ] {
        assert!(SOUND.contains(from), "{from}");
        folder.write(name, &SOUND.replacen(from, to, 1));
        let ran = folder.run(&format!("compare sound {name} --list all"));
        assert_eq!(ran.code, 1, "{name}");
        assert!(ran.out.contains(shown), "{name}: {}", ran.out);
        let none = |by: &str| by.contains('0') && !by.contains(|c| matches!(c, '1'..='9'));
        let by = |line: &str| line.split_whitespace().any(|word| word.starts_with('+') && none(word));
        assert_eq!(ran.out.lines().find(|line| by(line)), None, "{name}");
        let changes = folder.run(&format!("compare sound {name} --json")).json()["changes"].clone();
        for change in changes.as_array().unwrap() {
            assert_ne!(change["before"], change["after"], "{name}");
        }
    }
    let ran = folder.run("compare sound tare");
    assert!(ran.out.contains(" by less than is shown; --json holds them\n"), "{}", ran.out);
}

#[test]
fn json_holds_all_of_it() {
    let json = moved().run("compare sound moved --json").json();
    assert_eq!(json["exit_code"], 1);
    assert_eq!((&json["before"]["file"], &json["after"]["file"]), (&"sound".into(), &"moved".into()));
    let change = &json["changes"][0];
    assert_eq!((&change["aspect"], &change["unit"]), (&"front end".into(), &"m".into()));
    assert!((change["by"].as_f64().unwrap() - 0.2).abs() < 1e-9);
    assert_eq!(run("compare sound sound --json").json()["changes"], serde_json::json!([]));
    let failed = run("compare sound cut --json");
    assert_eq!((failed.code, &failed.json()["file"]), (2, &"cut".into()));
    let states = run("compare sound --states 0 1 --json").json();
    assert_eq!((&states["before"]["state"], &states["after"]["state"]), (&0.into(), &1.into()));
    assert_eq!(states["before"]["state_title"], "departure");
}

#[test]
fn long_lists_are_cut_short_unless_all_of_them_is_asked_for() {
    let (short, all) = (run("compare sound --states 0 4"), run("compare sound --states 0 4 --list all"));
    assert!(short.out.contains(" more; --list all lists them"), "{}", short.out);
    assert!(!all.out.contains(" more; --list all"), "{}", all.out);
    assert!(all.out.lines().count() > short.out.lines().count());
}
