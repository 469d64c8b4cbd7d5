//! `longstow working` as a user runs it: questions in words, answers that can be reckoned along, exit codes.

use crate::command_plans::{Folder, Ran};
use serde_json::Value;

/// Runs `working` with one question.
fn ask(folder: &Folder, line: &str, question: &str) -> Ran {
    let mut command = folder.command(line);
    let output = command.arg("--of").arg(question).output().unwrap();
    Ran {
        code: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// Runs `working` with one question that it can answer.
fn answer(line: &str, question: &str) -> String {
    let ran = ask(&Folder::new(), line, question);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{question}");
    ran.out
}

#[test]
fn an_axle_load_shows_formula_numbers_intermediate_values_result_and_source() {
    let out = answer("working sound --state 0", "axle-load: vehicle W2, rear bogie");
    for words in [
        "Load of an axle: vehicle W2, rear bogie",
        "state 0 (departure)",
        "B = T + sum(F * (1/2 + xi / p))",
        "A = B / n",
        "vehicle W2 rack 1",
        "Balance of forces and moments",
        "Ask on with --of:",
        "\"rack-load: vehicle W2 rack 1\"",
    ] {
        assert!(out.contains(words), "\"{words}\" is not in\n{out}");
    }
}

#[test]
fn a_checks_name_alone_answers_with_its_worst_finding_and_its_limit() {
    let out = answer("working failing", "axle-load");
    assert!(out.contains("Limit:") && out.contains("at most 6.5 t") && out.contains(", fail"), "{out}");
    let line = answer("working sound", "line-axle-load");
    assert!(line.contains("A = B / n") && line.contains("Limit:"), "{line}");
}

#[test]
fn the_value_in_the_working_is_that_of_the_figures() {
    let folder = Folder::new();
    let figures = folder.run("figures --json sound --state 0").json();
    let json = ask(&folder, "working --json sound --state 0", "axle-load: vehicle W2, rear bogie").json();
    assert_eq!(json["shape"], "longstow working 1");
    let working = &json["workings"][0];
    assert_eq!(working["state"], 0);
    let last = working["steps"].as_array().unwrap().last().unwrap();
    let axle = &figures["states"][0]["vehicles"][1]["supports"][1]["axle_kg"];
    assert_eq!(last["result"]["value"], *axle);
    assert_eq!(last["result"]["unit"], "kg");
}

#[test]
fn everything_that_is_listed_can_be_asked() {
    let folder = Folder::new();
    let list = folder.run("working --list --json sound").json();
    let asks: Vec<&str> = list["asks"].as_array().unwrap().iter().map(|ask| ask.as_str().unwrap()).collect();
    assert_eq!(folder.run("working --list sound").out.lines().collect::<Vec<_>>(), asks);
    assert!(asks.len() > 100);
    // All of them in one run: a plan is read once.
    let mut command = folder.command("working --json sound");
    for ask in &asks {
        command.arg("--of").arg(ask);
    }
    let output = command.output().unwrap();
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    assert_eq!(json["workings"].as_array().unwrap().len(), asks.len());
}

#[test]
fn a_question_that_cannot_be_answered_says_what_to_ask() {
    let folder = Folder::new();
    let refused = |question: &str, says: &str| {
        let ran = ask(&folder, "working sound", question);
        assert_eq!(ran.code, 2, "{question}");
        assert!(ran.err.contains(says) && ran.out.is_empty(), "{question}: {}", ran.err);
    };
    refused(
        "axle-laod: vehicle W2, rear bogie",
        "there is no figure or check called \"axle-laod\"; is it one of",
    );
    refused("frobnication", "see longstow working PLAN --list");
    refused("reaction", "say of what, such as --of \"reaction: string ");
    refused("axle-load: vehicle W9, rear bogie", "has nothing called \"vehicle W9, rear bogie\"");
    refused("held-once", "compares no numbers there");
    refused("unloading-stress", "compares no numbers there: the plan does not ask for this");
    assert_eq!(folder.run("working sound").code, 2);
    assert_eq!(folder.run("working cut --list").code, 2);
    assert_eq!(folder.run("working sound --list --state 99").code, 2);
}

#[test]
fn spaces_do_not_matter_and_values_come_in_the_plans_units() {
    let one = answer("working sound --state 0", "axle-load:vehicle  W2 ,rear bogie");
    assert_eq!(one, answer("working sound --state 0", "axle-load: vehicle W2, rear bogie"));
    let us = answer("working us --state 0", "axle-load: vehicle W2, rear bogie");
    assert!(us.contains("short tons") && us.contains(" ft"), "{us}");
}

#[test]
fn several_plans_are_answered_in_turn() {
    let folder = Folder::new();
    let json = ask(&folder, "working --json sound cut us", "payload: vehicle W1").json();
    let shapes: Vec<&Value> = json.as_array().unwrap().iter().map(|document| &document["shape"]).collect();
    assert_eq!(shapes, ["longstow working 1", "longstow error 1", "longstow working 1"]);
}
