//! Plans as people write them: other order, spelling and layout read as the same plan, and tidy to the same text.

use crate::command_plans::SOUND;
use crate::format_full_plan::full_plan;
use longstow::format::{TidyChange, read, tidy, write};

/// `from` stands once in the sound plan; the plan with `to` in its place is the same, and tidies to the same text.
fn check(from: &str, to: &str) {
    assert_eq!(SOUND.matches(from).count(), 1, "{from}");
    same(SOUND.as_bytes(), SOUND.replacen(from, to, 1).as_bytes());
}

fn same(canonical: &[u8], by_hand: &[u8]) {
    let told = String::from_utf8_lossy(by_hand);
    let tidied = tidy(by_hand).unwrap_or_else(|error| panic!("{error}\n{told}"));
    assert_eq!(tidied.plan, read(canonical).unwrap(), "{told}");
    assert_eq!(tidied.text.as_bytes(), canonical, "{told}");
    assert!(!tidied.changes.is_empty(), "{told}");
}

#[test]
fn fields_may_stand_in_any_order() {
    check("(mark: \"S1\", section: \"60E1\",", "(section: \"60E1\", mark: \"S1\",");
    let title = "    title: \"Four strings on three flats\",\n";
    let moved = SOUND.replacen(title, "", 1).replacen("    limits: (", &format!("{title}    limits: ("), 1);
    same(SOUND.as_bytes(), moved.as_bytes());
}

#[test]
fn comments_may_stand_anywhere() {
    check("    version: 1,", "    version: 1, // first\n    /* a /* b */ c */");
    check("#![enable(implicit_some)]\n(", "// by M. Holm\n#![enable(implicit_some)] // head\n( /* begin */");
    check(
        "front_mm: 2300, holds: [(\"W2\", 2)]),\n    ]",
        "front_mm: 2300, holds: [(\"W2\", /* rack */ 2)]), // last\n    ]",
    );
}

#[test]
fn values_may_be_wrapped_or_not_and_the_first_line_may_be_missing() {
    check("tare_cog_height_mm: 700", "tare_cog_height_mm: Some(700)");
    check("coupling_slack_mm: 40", "coupling_slack_mm: Some(40)");
    check("#![enable(implicit_some)]\n", "");
}

#[test]
fn numbers_and_texts_may_be_written_in_other_ways() {
    check("length_mm: 19900", "length_mm: 19_900");
    check("length_mm: 19900", "length_mm: 1.99e4");
    check("length_mm: 19900", "length_mm: 19900.0");
    check("tare_kg: 24000", "tare_kg: 24000.000");
    check("tare_kg: 24000", "tare_kg: +24000.0");
    check("title: \"Four", "title: \"\\u{46}our");
    check("title: \"Four strings on three flats\"", "title: r#\"Four strings on three flats\"#");
}

#[test]
fn lines_may_end_and_be_broken_in_any_way_and_commas_end_lists_or_not() {
    same(SOUND.as_bytes(), SOUND.replace('\n', "\r\n").as_bytes());
    same(SOUND.as_bytes(), format!("\u{feff}{SOUND}").as_bytes());
    same(SOUND.as_bytes(), SOUND.replace("    ", "\t").as_bytes());
    same(SOUND.as_bytes(), SOUND.replace('\n', " ").as_bytes());
    same(SOUND.as_bytes(), SOUND.replace(",\n    ]", "\n    ]").as_bytes());
    same(SOUND.as_bytes(), SOUND.trim_end().as_bytes());
}

#[test]
fn what_is_optional_may_be_written_though_it_says_nothing_and_the_rest_left_out() {
    check("    route: (", "    notes: \"\",\n    steels: [],\n    accepted: [],\n    route: (");
    check("(string: \"S1\", tier: 1, lane: 1,", "(string: \"S1\", locked: false, tier: 1, lane: 1,");
    check("    route: (", "    order_table: (columns: []),\n    route: (");
}

#[test]
fn a_plan_with_every_field_may_be_written_by_hand_too() {
    let canonical = write(&full_plan());
    let loose = canonical.replace('\n', "\r\n").replace("_mm: ", "_mm :  ").replace("true", "true /* yes */");
    same(canonical.as_bytes(), loose.as_bytes());
    let tidied = tidy(loose.as_bytes()).unwrap();
    assert!(matches!(tidied.changes.first(), Some(TidyChange::Comments { .. })));
}
