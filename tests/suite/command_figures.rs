//! `longstow figures` as a user runs it: its JSON against the library, and the same on every run.

use crate::command_plans::{Folder, SOUND};
use longstow::format;
use longstow::statics::{Figures, Scope};
use serde_json::Value;
use std::sync::Arc;

fn figures() -> Figures {
    Figures::of(Arc::new(format::read(SOUND.as_bytes()).unwrap()), Scope::All)
}

/// A printed number against the library's, within the last digit that a JSON reader may round.
fn check(told: &Value, expected: f64) {
    let told = told.as_f64().unwrap_or_else(|| panic!("{told} for {expected}"));
    assert!((told - expected).abs() <= expected.abs() * 1e-15, "{told} for {expected}");
}

#[test]
fn strings_in_the_json_are_those_of_the_library() {
    let figures = figures();
    let json = Folder::new().run("figures --json sound").json();
    assert_eq!((&json["shape"], &json["model"]), (&"longstow figures 1".into(), &"level rigid".into()));
    assert_eq!((json["strings"].as_array().unwrap().len(), figures.placed.len()), (4, 4));
    for (placed, told) in figures.placed.iter().zip(json["strings"].as_array().unwrap()) {
        let beam = placed.beam.as_ref().unwrap();
        assert!(beam.reactions_n.len() > 3);
        assert_eq!(told["racks"].as_array().unwrap().len(), beam.reactions_n.len());
        for (nth, rack) in told["racks"].as_array().unwrap().iter().enumerate() {
            check(&rack["reaction_n"], beam.reactions_n[nth]);
            check(&rack["moment_nm"], beam.moments_nm[nth]);
            check(&rack["carried_kg"], placed.carried_kg[nth]);
            check(&rack["x_m"], figures.consist.racks[placed.racks.start + nth].x.m());
        }
        for (span, told) in beam.spans.iter().zip(told["spans"].as_array().unwrap()) {
            check(&told["sag_m"], span.sag_m);
            check(&told["largest_moment_nm"], span.largest_moment_nm);
        }
        check(&told["front_overhang_m"], beam.front_overhang_m);
        check(&told["rear_tip_m"], beam.rear_tip_m);
    }
}

#[test]
fn loads_in_the_json_are_those_of_the_library_in_every_state() {
    let figures = figures();
    let json = Folder::new().run("figures --json sound").json();
    let states = json["states"].as_array().unwrap();
    // Departure, two half-done pairs and the state after the step for each of two steps, after the drop.
    assert_eq!((states.len(), figures.worked.len()), (8, 8));
    for (worked, told) in figures.worked.iter().zip(states) {
        assert_eq!(told["title"], figures.states[worked.state].title(&figures.plan));
        check(&told["train_kg"], worked.train_kg);
        assert_eq!((told["vehicles"].as_array().unwrap().len(), worked.vehicles.len()), (3, 3));
        assert_eq!((told["racks"].as_array().unwrap().len(), worked.rack_tiers_kg.len()), (9, 9));
        for (loads, told) in worked.vehicles.iter().zip(told["vehicles"].as_array().unwrap()) {
            check(&told["gross_kg"], loads.gross_kg);
            let axles = told["axles"].as_array().unwrap();
            assert_eq!(axles.len(), 4);
            for (nth, axle) in axles.iter().enumerate() {
                let support = &loads.supports[nth / 2];
                check(&axle["load_kg"], support.axle_kg);
                check(&axle["stiff"]["left_kg"], support.stiff.left_kg);
                check(&axle["soft"]["right_kg"], support.soft.right_kg);
                check(&axle["soft"]["ratio"], support.soft.ratio());
            }
        }
        for (rack, told) in told["racks"].as_array().unwrap().iter().enumerate() {
            check(&told["total_kg"], worked.rack_kg(rack));
        }
    }
}

#[test]
fn loads_add_up_to_the_strings_and_wagons_entered() {
    // 4 strings of 55.1 m at 60.21 kg/m on 3 wagons of 24 t, by hand: 13,270.284 kg and 72,000 kg.
    let json = Folder::new().run("figures --json sound --state 0").json();
    let sum = |list: &Value, field: &str| -> f64 {
        list.as_array().unwrap().iter().map(|item| item[field].as_f64().unwrap()).sum()
    };
    let state = &json["states"][0];
    assert!((sum(&state["racks"], "total_kg") - 13_270.284).abs() < 1e-6);
    assert!((sum(&state["vehicles"], "gross_kg") - 85_270.284).abs() < 1e-6);
    assert!((state["train_kg"].as_f64().unwrap() - 85_270.284).abs() < 1e-6);
}

#[test]
fn the_text_holds_tables_of_strings_vehicles_and_racks() {
    let out = Folder::new().run("figures sound --state 0").out;
    for words in ["Strings, the same", "Reactions of strings", "State 0 (", "  W1/1", "  vehicle"] {
        assert!(out.contains(words), "\"{words}\" is not in\n{out}");
    }
    assert!(!out.contains("State 1 ("));
}

#[test]
fn figures_are_not_judged_and_exit_with_nothing_but_zero_or_two() {
    let folder = Folder::new();
    assert_eq!(folder.run("figures failing undecided").code, 0);
    assert_eq!(folder.run("figures failing cut").code, 2);
    assert_eq!(folder.run("figures sound --state 99").code, 2);
    assert_eq!(folder.run("figures").code, 2);
}

#[test]
fn the_same_plan_gives_the_same_figures_every_time() {
    let folder = Folder::new();
    for line in ["figures sound", "figures --json sound us"] {
        let first = folder.run(line).out;
        assert!(first.len() > 1000);
        assert!((0..4).all(|_| folder.run(line).out == first), "{line}");
    }
}
