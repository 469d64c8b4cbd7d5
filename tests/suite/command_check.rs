//! `longstow check` as a user runs it: exit codes, errors, options, JSON.

use crate::command_plans::{Folder, SOUND, changed};
use std::io::Read;
use std::process::Stdio;

fn check_code(line: &str, code: i32) {
    let ran = Folder::new().run(line);
    assert_eq!(ran.code, code, "{line}\n{}{}", ran.out, ran.err);
}

fn check_refused(line: &str, says: &[&str]) {
    let ran = Folder::new().run(line);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{line}: {}", ran.err);
    for words in says {
        assert!(ran.err.contains(words), "{line}: \"{words}\" is not in: {}", ran.err);
    }
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
}

#[test]
fn the_exit_code_tells_the_verdict() {
    check_code("check sound", 0);
    check_code("check failing", 1);
    check_code("check undecided", 3);
    check_code("check cut", 2);
    check_code("check missing", 2);
}

#[test]
fn of_several_plans_the_weightiest_code_counts_in_any_order() {
    check_code("check sound us", 0);
    check_code("check undecided sound", 3);
    check_code("check undecided failing sound", 1);
    check_code("check cut failing undecided", 2);
    check_code("check failing sound missing", 2);
}

#[test]
fn an_accepted_fail_is_open_no_more() {
    let folder = Folder::new();
    let failing = folder.run("check --json failing").json();
    let open = failing["findings"].as_array().unwrap().iter().filter(|finding| finding["open"] == true);
    let accepted: Vec<String> = open
        .map(|finding| {
            let things = &finding["things"];
            let check = &finding["check"];
            format!("(check: {check}, things: {things}, by: \"A. Planner\", why: \"tested\", at: \"day 1\")")
        })
        .collect();
    assert!(!accepted.is_empty());
    let text = changed("axle_rating_kg: 22500", "axle_rating_kg: 6500");
    let end = text.rfind(')').unwrap();
    folder.write("accepted", &format!("{}    accepted: [{}],\n)\n", &text[..end], accepted.join(", ")));
    let ran = folder.run("check accepted");
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    assert!(!ran.out.contains("A. Planner"));
    assert!(folder.run("check accepted --list accepted").out.contains("by A. Planner, day 1: tested"));
}

#[test]
fn the_verdict_is_the_first_line() {
    let first = |line: &str| Folder::new().run(line).out.lines().next().unwrap_or_default().to_owned();
    assert!(first("check sound").starts_with("No entered limit is broken in any of "));
    assert!(first("check failing").contains("limits are broken, in "));
    assert!(first("check undecided").contains("undecided and no entered limit is broken, in "));
    assert!(first("check sound --state 0").contains("in state 0 alone"));
}

#[test]
fn a_plan_in_us_customary_units_is_reported_in_them() {
    let ran = Folder::new().run("check us --list passes");
    assert!(ran.out.contains(" short tons") && ran.out.contains(" ft"), "{}", ran.out);
    assert!(!ran.out.contains(" t\n"), "{}", ran.out);
}

#[test]
fn passes_and_what_was_not_asked_are_listed_on_request() {
    let folder = Folder::new();
    let short = folder.run("check sound").out;
    let long = folder.run("check sound --list all").out;
    for heading in ["Passed, the tightest place of each check (", "Not asked, so not judged ("] {
        assert!(!short.contains(heading) && long.contains(heading), "{heading}");
    }
}

#[test]
fn what_cannot_be_read_is_told_with_place_and_mend() {
    check_refused("check missing", &["missing: there is no such file; check"]);
    check_refused("check .", &[".: this is a folder; choose"]);
    check_refused("check cut", &["cut: line ", ", column "]);
    let folder = Folder::new();
    folder.write(
        "negative",
        &changed(
            "mark: \"S2\", section: \"60E1\", length_mm: 55100",
            "mark: \"S2\", section: \"60E1\", length_mm: -5",
        ),
    );
    let ran = folder.run("check negative");
    assert_eq!(ran.code, 2);
    let line = SOUND.lines().position(|line| line.contains("(mark: \"S2\"")).unwrap() + 1;
    assert!(ran.err.starts_with(&format!("negative: line {line}, column ")), "{}", ran.err);
    assert!(ran.err.contains("order[1].length_mm") && ran.err.contains("-5"), "{}", ran.err);
}

#[test]
fn a_state_that_is_none_is_refused_with_the_range() {
    let folder = Folder::new();
    let states = folder.run("check sound --json").json()["states"].as_array().unwrap().len();
    assert!(states > 2);
    assert_eq!(folder.run(&format!("check sound --state {}", states - 1)).code, 0);
    let range = format!("states 0 (departure) to {}", states - 1);
    check_refused(&format!("check sound --state {states}"), &["sound: ", &range]);
}

#[test]
fn arguments_that_cannot_be_followed_are_named() {
    check_refused("check", &["needs at least one plan"]);
    check_refused("check sound --colour", &["\"--colour\"", "longstow help"]);
    check_refused("check sound --state soon", &["\"soon\"", "--state"]);
    check_refused("sound undecided", &["longstow check PLAN..."]);
}

#[test]
fn a_plan_named_like_a_command_is_given_with_its_folder() {
    let folder = Folder::new();
    folder.write("check", SOUND);
    assert_eq!(folder.run("check ./check").code, 0);
}

#[test]
fn json_tells_one_plan_as_an_object_and_several_as_an_array_with_errors_in_place() {
    let folder = Folder::new();
    let one = folder.run("check --json failing").json();
    assert_eq!(one["shape"], "longstow check 1");
    assert_eq!((&one["verdict"], &one["exit_code"]), (&"fails".into(), &1.into()));
    let worst = &one["findings"][one["worst_finding"].as_u64().unwrap() as usize];
    assert_eq!(worst["outcome"], "fail");
    assert!(worst["utilisation"].as_f64().unwrap() > 1.0 && worst["margin"]["value"].as_f64().unwrap() < 0.0);
    let several = folder.run("check --json failing cut sound");
    assert_eq!(several.code, 2);
    let several = several.json();
    assert_eq!(several[0], one);
    assert_eq!(several[1]["shape"], "longstow error 1");
    assert!(several[1]["error"].as_str().unwrap().starts_with("line "));
    assert_eq!((&several[2]["file"], &several[2]["exit_code"]), (&"sound".into(), &0.into()));
}

#[test]
fn one_state_alone_is_judged_alone() {
    let json = Folder::new().run("check --json sound --state 2").json();
    assert_eq!(json["states"].as_array().unwrap().len(), 1);
    assert_eq!(json["states"][0]["state"], 2);
}

#[test]
fn text_of_several_plans_has_a_heading_for_each() {
    let ran = Folder::new().run("check sound cut undecided");
    let headings: Vec<&str> = ran.out.lines().filter(|line| line.starts_with("== ")).collect();
    assert_eq!(headings, ["== sound ==", "== cut ==", "== undecided =="]);
}

#[test]
fn the_same_plan_gives_the_same_output_every_time() {
    let folder = Folder::new();
    for line in ["check failing --list all", "check --json failing undecided"] {
        let first = folder.run(line);
        assert!((0..4).all(|_| folder.run(line).out == first.out), "{line}");
    }
}

#[test]
fn a_reader_that_goes_away_is_no_fault() {
    let folder = Folder::new();
    let plans = "sound ".repeat(60);
    let mut child = folder
        .command(&format!("check --list all {plans}"))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let mut err = String::new();
    child.stderr.take().unwrap().read_to_string(&mut err).unwrap();
    assert_eq!((child.wait().unwrap().code(), err.as_str()), (Some(0), ""));
}

#[test]
fn help_and_version_are_printed() {
    let folder = Folder::new();
    for line in ["help", "--help", "check --help"] {
        let ran = folder.run(line);
        assert!(ran.code == 0 && ran.out.contains("longstow check PLAN..."), "{line}");
    }
    assert_eq!(folder.run("--version").out, format!("longstow {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn where_no_window_opens_the_plan_is_checked_and_one_line_says_so() {
    let folder = Folder::new();
    for (plan, code) in [("sound", 0), ("failing", 1), ("undecided", 3)] {
        let (window, check) = (folder.run(plan), folder.run(&format!("check {plan}")));
        assert_eq!((window.code, &window.out), (code, &check.out), "{}", window.err);
        assert_eq!(window.err.lines().count(), 1, "{}", window.err);
        assert!(window.err.contains("no window could be opened"), "{}", window.err);
    }
    let alone = folder.run("");
    assert_eq!((alone.code, alone.out.as_str(), alone.err.lines().count()), (2, "", 1), "{}", alone.err);
}
