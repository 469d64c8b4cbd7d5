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
