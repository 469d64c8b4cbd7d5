//! `longstow loaded`, `longstow weighings` and `--as-loaded` as a user runs them: exit codes, words, JSON.

use crate::command_plans::{Folder, RECORDED, Ran};

fn run(line: &str) -> Ran {
    Folder::new().run(line)
}

/// A run on the recorded plan with one part of its text changed.
fn run_changed(line: &str, from: &str, to: &str) -> Ran {
    assert_eq!(RECORDED.matches(from).count(), 1, "{from}");
    let folder = Folder::new();
    folder.write("changed", &RECORDED.replace(from, to));
    folder.run(&format!("{line} changed"))
}

#[test]
fn differences_are_listed_with_who_saw_them() {
    let ran = run("loaded recorded");
    assert_eq!(ran.code, 1, "{}{}", ran.out, ran.err);
    assert!(
        ran.out.starts_with("3 of 4 strings are confirmed; 1 string differs from the plan.\n"),
        "{}",
        ran.out
    );
    for words in [
        "string S2: its front end is 0.400 m farther back than planned (seen by M. Holm, 2026-11-25",
        "string S2: it is held at W2 rack 1, planned at W2 rack 2",
        "Not confirmed, so taken as planned (1)\n  S4\n",
    ] {
        assert!(ran.out.contains(words), "\"{words}\" is not in {}", ran.out);
    }
    let json = run("loaded recorded --json").json();
    assert_eq!(json["differences"][0]["planned"]["front_m"], 2.3);
    assert_eq!(json["differences"][0]["loaded"]["front_m"], 2.7);
    assert_eq!((&json["confirmed"], &json["planned"]), (&3.into(), &4.into()));
    assert_eq!(json["not_confirmed"][0], "S4");
}

#[test]
fn loaded_ends_by_what_is_confirmed_and_what_differs() {
    assert_eq!(run("loaded sound").code, 3, "nothing is confirmed");
    assert_eq!(run("loaded missing").code, 2);
    let as_planned = "front_mm: 2700, holds: [(\"W2\", 1)]";
    assert_eq!(run_changed("loaded", as_planned, "front_mm: 2300, holds: [(\"W2\", 2)]").code, 3);
    let seen = "(string: \"S3\", tier: 1, lane: 3, front_mm: 8933, holds: [(\"W2\", 2)], by";
    let both = seen
        .replace("S3", "S4")
        .replace("lane: 3", "lane: 8")
        .replace(", by", ", by: \"M. Holm\", at: \"\"),");
    let text = RECORDED.replace(as_planned, "front_mm: 2300, holds: [(\"W2\", 2)]");
    let folder = Folder::new();
    folder.write("confirmed", &text.replace(seen, &format!("{both}\n        {seen}")));
    let ran = folder.run("loaded confirmed");
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
}

#[test]
fn the_load_as_it_is_can_be_judged() {
    let front = |line: &str| {
        let json = run(line).json();
        (json["strings"][1]["front_m"].as_f64().unwrap(), json["load"]["judged"].clone())
    };
    assert_eq!(front("figures recorded --json --state 0"), (2.3, "as planned".into()));
    assert_eq!(front("figures recorded --json --state 0 --as-loaded"), (2.7, "as loaded".into()));
    assert!(
        run("figures recorded --as-loaded").out.starts_with("Load:    as loaded; 3 of 4 strings confirmed")
    );
    let check = |line: &str| run(line).out;
    assert!(
        check("check recorded").contains("Load:           as planned; 3 of 4 strings confirmed, 1 differs")
    );
    assert!(
        check("check recorded --as-loaded")
            .contains("strings S1, S2 are a pair, but their front ends differ")
    );
    assert!(!check("check recorded").contains("their front ends differ"));
    assert!(!check("check sound").contains("Load:"), "without records there is nothing to tell apart");
}

#[test]
fn a_string_seen_too_far_back_fails_once_the_load_is_judged_as_it_is() {
    // Racks end at 56.383 m; S2 is 55.1 m long: from 4.6 m on it overhangs by more than 3.3 m, and no longer ends
    // within the train's 59.7 m less 0.5 m.
    let ran = run_changed("check", "front_mm: 2700", "front_mm: 4500");
    assert_eq!(ran.code, 0, "{}", ran.out);
    let ran = run_changed("check --as-loaded", "front_mm: 2700", "front_mm: 4500");
    assert_eq!(ran.code, 1, "{}", ran.out);
}

#[test]
fn signatures_are_printed_with_whether_they_match() {
    let ran = run("check recorded");
    let words: Vec<&str> = ran.out.split_whitespace().collect();
    let out = words.join(" ");
    assert!(out.contains("by M. Holm, 2026-11-25 08:00 +01:00; the plan is unchanged since"), "{out}");
    assert!(out.contains("by T. Ostby, 2026-11-25 08:05 +01:00; the plan was changed since"), "{out}");
    let matches = |json: &serde_json::Value| [0, 1].map(|at| json["signatures"][at]["matches"] == true);
    assert_eq!(matches(&run("check recorded --json --as-loaded").json()), [true, false]);
    let ran = run_changed("check --json", "title: \"Four", "title: \"Still four");
    assert_eq!(matches(&ran.json()), [false, false]);
}

#[test]
fn readings_are_compared_and_the_cause_is_named() {
    let ran = run("weighings recorded");
    assert_eq!(ran.code, 1, "{}{}", ran.out, ran.err);
    let out = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        out.contains("One cause explains the readings, and no other does as well: string S3 lies in lane 6"),
        "{out}"
    );
    assert!(ran.out.lines().all(|line| line.chars().count() <= 100), "{}", ran.out);
    let json = run("weighings recorded --json").json();
    assert_eq!((&json["told"], &json["judged"]), (&"explained".into(), &24.into()));
    let cause = &json["causes"][0];
    assert_eq!(
        (&cause["kind"], &cause["lane"], &cause["strings"][0]),
        (&"lane".into(), &6.into(), &"S3".into())
    );
    assert_eq!(cause["tiers"], serde_json::json!([1, 2, 3, 4, 5]));
    let sum = |of: &str| {
        json["vehicles"].as_array().unwrap().iter().map(|one| one[of].as_f64().unwrap()).sum::<f64>()
    };
    assert!((json["train"]["read_kg"].as_f64().unwrap() - sum("read_kg")).abs() < 1.0e-6);
}

/// The readings of W1 as one whole reading each, in place of all others.
fn weighed_whole(kg: &[f64]) -> String {
    let (before, after) = RECORDED.split_once("    weighings: [").unwrap();
    let after = after.split_once("    ],").unwrap().1;
    let reading = |kg: &f64| {
        format!(
            "(vehicle: \"W1\", part: Vehicle, kg: {kg}, tolerance_share: 0.01, by: \"A. Yard\", at: \"\"),"
        )
    };
    let readings: String = kg.iter().map(reading).collect();
    format!("{before}    weighings: [{readings}],{after}")
}

/// The words of `weighings` on W1 read so, and its JSON.
fn told_of(kg: &[f64]) -> (i32, String, serde_json::Value) {
    let folder = Folder::new();
    folder.write("whole", &weighed_whole(kg));
    let (ran, json) = (folder.run("weighings whole"), folder.run("weighings whole --json"));
    (ran.code, ran.out.split_whitespace().collect::<Vec<_>>().join(" "), json.json())
}

#[test]
fn a_reading_just_beyond_its_tolerance_is_not_called_nothing_to_explain() {
    let (_, _, json) = told_of(&[1.0]);
    let computed_kg = json["readings"][0]["computed_kg"].as_f64().unwrap();
    let (code, out, json) = told_of(&[computed_kg * 1.011]);
    assert!(
        out.contains("1 of 1 reading differs from what is computed by more than the tolerance."),
        "{out}"
    );
    assert!(out.contains("No cause stands out: 1 reading is beyond the tolerance"), "{out}");
    assert!(!out.contains("Nothing to explain"), "{out}");
    assert_eq!((code, &json["told"], &json["beyond"]), (1, &"within chance".into(), &1.into()));
    let (code, out, json) = told_of(&[computed_kg * 1.009]);
    assert!(out.contains("Nothing to explain"), "{out}");
    assert_eq!((code, &json["told"], &json["beyond"]), (0, &"fits".into(), &0.into()));
}

#[test]
fn two_readings_of_one_part_that_contradict_each_other_are_both_named_and_shown() {
    let (code, out, json) = told_of(&[30_430.0, 24_430.0]);
    assert_eq!(code, 1);
    assert!(
        out.contains("W1 whole was read at 30430.0 kg and at 24430.0 kg: the two differ by 6000.0 kg"),
        "{out}"
    );
    let (_, sums) = out.split_once("Vehicles weighed whole").unwrap();
    let sums = sums.split_once(" Readings ").unwrap().0;
    assert!(sums.contains("W1 30430.0") && sums.contains("W1 24430.0"), "{sums}");
    assert_eq!(json["contradictions"][0]["readings"], serde_json::json!([0, 1]));
    assert_eq!((json["vehicles"].as_array().unwrap().len(), json["train"].is_null()), (2, true));
    let (_, out, json) = told_of(&[30_430.0, 30_500.0]);
    assert!(!out.contains("was read at"), "{out}");
    assert_eq!(json["contradictions"], serde_json::json!([]));
}

#[test]
fn weighings_end_by_whether_the_readings_fit() {
    assert_eq!(run("weighings sound").code, 3, "there are no readings");
    assert_eq!(run("weighings cut").code, 2);
    let moved = RECORDED.replace("string: \"S3\", tier: 1, lane: 3", "string: \"S3\", tier: 1, lane: 6");
    let folder = Folder::new();
    folder.write("moved", &moved);
    let ran = folder.run("weighings moved");
    assert_eq!(ran.code, 0, "{}", ran.out);
    assert!(ran.out.contains("Nothing to explain"), "{}", ran.out);
    folder.write("lacking", &moved.replacen("tolerance_share: 0.01, ", "", 1));
    assert_eq!(folder.run("weighings lacking").code, 3, "a reading without a tolerance is not judged");
}
