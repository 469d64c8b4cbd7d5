//! The sample loads behave as the README says: canonical files, verdicts, tightest checks, pinned faults.

use longstow::checks::{Assessment, Comparison, Outcome, REGISTRY, Verdict, assess};
use longstow::format;
use longstow::statics::{Figures, Scope};
use longstow::units::{Quantity, Style};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All samples by their letter.
fn samples() -> BTreeMap<char, PathBuf> {
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(root().join("sample-loads")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let letter = name.chars().next().unwrap();
        assert!(name.ends_with(&format!(".{}", format::EXTENSION)), "{name}");
        assert!(found.insert(letter, path).is_none(), "two samples begin with {letter}");
    }
    found
}

fn assessed(letter: char) -> (Figures, Assessment) {
    let bytes = std::fs::read(&samples()[&letter]).unwrap();
    let figures = Figures::of(Arc::new(format::read(&bytes).unwrap()), Scope::All);
    let assessment = assess(&figures);
    (figures, assessment)
}

/// `outcome check: thing, thing`, for everything that does not pass, sorted.
fn not_passing(letter: char) -> Vec<String> {
    let (_, assessment) = assessed(letter);
    let mut lines: Vec<String> = assessment
        .findings
        .iter()
        .filter(|finding| finding.outcome < Outcome::Pass)
        .map(|finding| {
            format!("{} {}: {}", finding.outcome.word(), finding.check.id, finding.things.join(", "))
        })
        .collect();
    lines.sort();
    lines
}

fn check_not_passing(letter: char, mut expected: Vec<String>) {
    expected.sort();
    assert_eq!(not_passing(letter), expected);
}

/// The highest use that any check makes of its limit.
fn tightest(assessment: &Assessment) -> (&'static str, f64) {
    assessment
        .findings
        .iter()
        .filter_map(|finding| {
            finding.comparison.map(|comparison| (finding.check.title, comparison.utilisation()))
        })
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap()
}

#[test]
fn there_are_eight_and_each_is_in_canonical_form() {
    let samples = samples();
    assert_eq!(samples.keys().collect::<String>(), "abcdefgh");
    for path in samples.values() {
        let bytes = std::fs::read(path).unwrap();
        let written = format::write(&format::read(&bytes).unwrap());
        assert!(written.as_bytes() == bytes, "{} is not canonical", path.display());
        assert!(bytes.len() < 60_000, "{} is {} bytes", path.display(), bytes.len());
    }
}

#[test]
fn loads_to_hand_over_have_nothing_open_and_use_most_of_an_axle_or_rack_rating() {
    for letter in 'a'..='e' {
        let (_, assessment) = assessed(letter);
        assert_eq!(assessment.verdict(), Verdict::NothingOpen, "{letter}: {:?}", not_passing(letter));
        let most = assessment
            .findings
            .iter()
            .filter(|finding| matches!(finding.check.id, "axle-load" | "rack-load"))
            .filter_map(|finding| finding.comparison.map(Comparison::utilisation))
            .fold(0.0, f64::max);
        assert!((0.80..=1.0).contains(&most), "{letter}: {most}");
    }
}

#[test]
fn the_readme_gives_the_tightest_check_of_each() {
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let mut missing = Vec::new();
    for letter in 'a'..='h' {
        let (figures, assessment) = assessed(letter);
        let (title, most) = tightest(&assessment);
        let most = match most.is_finite() {
            true => Quantity::share(most).show(Style::default()),
            false => "beyond measure".to_owned(),
        };
        let name = samples()[&letter].file_name().unwrap().to_string_lossy().into_owned();
        let row = format!("| `{name}` | {} | {title} | {most} |", figures.states.len());
        if !readme.contains(&row) {
            missing.push(row);
        }
    }
    assert!(missing.is_empty(), "the README lacks these rows:\n{}", missing.join("\n"));
}

#[test]
fn the_readme_names_every_check() {
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let readme = readme.split_whitespace().collect::<Vec<_>>().join(" ");
    let unnamed: Vec<&str> =
        REGISTRY.iter().map(|check| check.title).filter(|title| !readme.contains(title)).collect();
    assert!(unnamed.is_empty(), "the README does not name {unnamed:?}");
}

// A load whose right lanes are mostly empty: every bogie is out of balance, and three strings wait in the yard.
#[test]
fn the_one_sided_load_is_out_of_balance_at_every_bogie() {
    let mut expected = Vec::new();
    for wagon in 1..=6 {
        for end in ["front", "rear"] {
            expected.push(format!("fail wheel-balance: vehicle F{wagon}, {end} bogie"));
        }
        expected.push(format!("note wagon-gap: vehicle F{wagon}"));
    }
    expected.extend(["R05", "R06", "R07"].map(|mark| format!("fail order-placed: string {mark}")));
    check_not_passing('f', expected);
}

// Strings that end 0.87 m short of the rack that they are meant to rest on.
#[test]
fn strings_one_rack_too_short_fail_support_and_least_overhang() {
    let mut expected = Vec::new();
    for mark in ["A1", "A2", "B1", "B2"] {
        expected.push(format!("fail string-support: string {mark}, vehicle F4 rack 3"));
        expected.push(format!("fail least-overhang: string {mark}, rear end"));
    }
    expected.extend((1..=4).map(|wagon| format!("note wagon-gap: vehicle F{wagon}")));
    check_not_passing('g', expected);
}

#[test]
fn what_nobody_entered_is_undecided_and_nothing_else_is() {
    let mut expected: Vec<String> = [
        "string-sag: limit sag",
        "tier-load: rack type Roller rack",
        "tier-load: rack type Clamping rack",
        "wheel-load: vehicle type Flat 20.0 m",
        "line-axle-load: plan",
        "line-mass-per-metre: plan",
        "wheel-balance: limit wheel load ratio",
        "centre-height: vehicle type Flat 20.0 m",
    ]
    .map(|thing| format!("undecided {thing}"))
    .into();
    expected.extend((1..=6).map(|wagon| format!("note wagon-gap: vehicle F{wagon}")));
    check_not_passing('h', expected);
}
