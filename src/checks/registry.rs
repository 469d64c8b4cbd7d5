//! All checks, a line each, in the order in which reports list them.

use super::Check;

/// Every check of the program.
pub static REGISTRY: &[&Check] = &[
    &super::order_placed::CHECK,
    &super::pocket_fit::CHECK,
    &super::pocket_shared::CHECK,
    &super::string_support::CHECK,
    &super::rack_lift_off::CHECK,
    &super::largest_span::CHECK,
    &super::string_sag::CHECK,
    &super::least_overhang::CHECK,
    &super::greatest_overhang::CHECK,
    &super::end_clearance::CHECK,
    &super::idler_clearance::CHECK,
    &super::held_once::CHECK,
    &super::access::CHECK,
    &super::pairs_alike::CHECK,
    &super::wagon_gap::CHECK,
    &super::string_mass::CHECK,
    &super::pocket_load::CHECK,
    &super::tier_load::CHECK,
    &super::rack_load::CHECK,
    &super::payload::CHECK,
    &super::bogie_load::CHECK,
    &super::axle_load::CHECK,
    &super::wheel_load::CHECK,
    &super::line_axle_load::CHECK,
    &super::line_mass_per_metre::CHECK,
    &super::wheel_balance::CHECK,
    &super::bogie_ratio::CHECK,
    &super::axle_ratio::CHECK,
    &super::centre_height::CHECK,
    &super::train_mass::CHECK,
    &super::train_length::CHECK,
    &super::light_vehicle::CHECK,
    &super::creep_least_overhang::CHECK,
    &super::creep_end_gap::CHECK,
    &super::creep_rack_crossing::CHECK,
    &super::hold_force::CHECK,
    &super::hold_impact::CHECK,
    &super::hold_buckling::CHECK,
    &super::hold_wagon_coupling::CHECK,
    &super::hold_wagon_axle::CHECK,
    &super::braked_weight::CHECK,
    &super::springs_bogie_load::CHECK,
    &super::springs_axle_load::CHECK,
    &super::springs_wheel_load::CHECK,
    &super::springs_line_axle_load::CHECK,
    &super::springs_wheel_balance::CHECK,
    &super::springs_lift_off::CHECK,
    &super::springs_envelope::CHECK,
    &super::model_difference::CHECK,
    &super::tolerance_band::CHECK,
    &super::curve_stress::CHECK,
    &super::curve_rack_side_load::CHECK,
    &super::curve_wheel_unloading::CHECK,
    &super::curve_overhang_swing::CHECK,
    &super::curve_least_radius::CHECK,
    &super::gauge_outline::CHECK,
    &super::cant_wheel_unloading::CHECK,
    &super::cant_overturning::CHECK,
    &super::unloading_stress::CHECK,
    &super::unloading_time::CHECK,
];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    /// Files of the folder that are no check.
    const CORE: &[&str] = &[
        "acceptance",
        "assess",
        "bearing",
        "check",
        "distance",
        "finding",
        "holds",
        "judge",
        "leaning",
        "mod",
        "moving_ends",
        "on_springs",
        "reading",
        "registry",
        "row",
        "state_use",
        "subject",
        "track",
        "trial",
    ];

    #[test]
    fn the_registry_holds_every_check_of_the_folder_and_no_other() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/checks");
        let files: BTreeSet<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
            .filter(|name| !CORE.contains(&name.as_str()))
            .collect();
        let registered: BTreeSet<String> = REGISTRY.iter().map(|check| check.id.replace('-', "_")).collect();
        assert_eq!(files, registered);
        assert_eq!(registered.len(), REGISTRY.len(), "an id stands twice");
    }

    #[test]
    fn ids_are_in_kebab_case() {
        for check in REGISTRY {
            let kebab = check.id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
            assert!(kebab && !check.id.starts_with('-') && !check.id.ends_with('-'), "{}", check.id);
        }
    }

    #[test]
    fn every_check_says_what_it_is_for() {
        for check in REGISTRY {
            for (name, section) in [
                ("title", check.title),
                ("what", check.what),
                ("why", check.why),
                ("mend", check.mend),
                ("source", check.source),
            ] {
                assert!(!section.trim().is_empty(), "{}: {name} is empty", check.id);
            }
        }
    }
}
