//! Rail sections and steels.

use super::report::{ABOVE_ZERO, Report};
use crate::model::{Plan, RailSection, Steel};

/// The most sections, or steels, in a plan.
const MOST_ROWS: usize = 500;

/// Looks at the rail sections and steels.
pub(super) fn look(plan: &Plan, report: &mut Report) {
    report.at_most("sections", plan.sections.len(), MOST_ROWS);
    report.unique("sections", "name", plan.sections.iter().map(|section| section.name.as_str()));
    for (number, one) in plan.sections.iter().enumerate() {
        section(one, &format!("sections[{number}]"), report);
    }
    report.at_most("steels", plan.steels.len(), MOST_ROWS);
    report.unique("steels", "name", plan.steels.iter().map(|steel| steel.name.as_str()));
    for (number, one) in plan.steels.iter().enumerate() {
        steel(one, &format!("steels[{number}]"), report);
    }
}

fn section(section: &RailSection, path: &str, report: &mut Report) {
    let fields = [
        ("mass_kg_per_m", Some(section.mass_kg_per_m), ABOVE_ZERO),
        ("area_cm2", Some(section.area_cm2), ABOVE_ZERO),
        ("ix_cm4", Some(section.ix_cm4), ABOVE_ZERO),
        ("iy_cm4", section.iy_cm4, ABOVE_ZERO),
        ("height_mm", section.height_mm, ABOVE_ZERO),
        ("foot_mm", section.foot_mm, ABOVE_ZERO),
        ("head_mm", section.head_mm, ABOVE_ZERO),
        ("web_mm", section.web_mm, ABOVE_ZERO),
        ("neutral_axis_mm", section.neutral_axis_mm, ABOVE_ZERO),
        ("wx_head_cm3", section.wx_head_cm3, ABOVE_ZERO),
        ("wx_foot_cm3", section.wx_foot_cm3, ABOVE_ZERO),
        ("wy_foot_cm3", section.wy_foot_cm3, ABOVE_ZERO),
    ];
    report.numbers(path, &fields);
    if let (Some(axis_mm), Some(height_mm)) = (section.neutral_axis_mm, section.height_mm)
        && axis_mm >= height_mm
    {
        report.add(
            format!("{path}.neutral_axis_mm"),
            format!("the neutral axis at {axis_mm} mm is not within the height of {height_mm} mm"),
            "enter its height above the foot",
        );
    }
}

fn steel(steel: &Steel, path: &str, report: &mut Report) {
    let fields = [
        ("modulus_gpa", Some(steel.modulus_gpa), ABOVE_ZERO),
        ("expansion_1e6_per_k", steel.expansion_1e6_per_k, ABOVE_ZERO),
        ("density_kg_per_m3", steel.density_kg_per_m3, ABOVE_ZERO),
        ("tensile_mpa", steel.tensile_mpa, ABOVE_ZERO),
        ("yield_mpa", steel.yield_mpa, ABOVE_ZERO),
        ("handling_mpa", steel.handling_mpa, ABOVE_ZERO),
    ];
    report.numbers(path, &fields);
}

#[cfg(test)]
mod tests {
    use crate::model::validity::tests::check;
    use crate::model::{Source, Steel, Sureness};

    #[test]
    fn section_values_are_above_zero_where_entered() {
        check(|plan| plan.sections[0].mass_kg_per_m = 0.0, &["sections[0].mass_kg_per_m"]);
        check(|plan| plan.sections[0].area_cm2 = -1.0, &["sections[0].area_cm2"]);
        check(|plan| plan.sections[0].ix_cm4 = f64::INFINITY, &["sections[0].ix_cm4"]);
        check(|plan| plan.sections[0].iy_cm4 = Some(0.0), &["sections[0].iy_cm4"]);
        check(|plan| plan.sections[0].iy_cm4 = None, &[]);
        check(|plan| plan.sections[0].wy_foot_cm3 = Some(-0.1), &["sections[0].wy_foot_cm3"]);
    }

    #[test]
    fn the_neutral_axis_lies_within_the_height() {
        let axis = |axis_mm| {
            move |plan: &mut crate::model::Plan| {
                plan.sections[0].height_mm = Some(172.0);
                plan.sections[0].neutral_axis_mm = Some(axis_mm);
            }
        };
        check(axis(171.9), &[]);
        check(axis(172.0), &["sections[0].neutral_axis_mm"]);
    }

    #[test]
    fn sections_and_steels_have_names_of_their_own() {
        check(|plan| plan.sections.push(plan.sections[0].clone()), &["sections[1].name"]);
        let steel = Steel {
            name: "R260".parse().unwrap(),
            modulus_gpa: 210.0,
            expansion_1e6_per_k: None,
            density_kg_per_m3: None,
            tensile_mpa: Some(880.0),
            yield_mpa: None,
            handling_mpa: None,
            source: Source { text: String::new(), sure: Sureness::Entered },
        };
        check(|plan| plan.steels = vec![steel.clone()], &[]);
        check(|plan| plan.steels = vec![steel.clone(), steel.clone()], &["steels[1].name"]);
        check(
            |plan| plan.steels = vec![Steel { modulus_gpa: 0.0, ..steel.clone() }],
            &["steels[0].modulus_gpa"],
        );
        check(
            |plan| plan.steels = vec![Steel { yield_mpa: Some(0.0), ..steel.clone() }],
            &["steels[0].yield_mpa"],
        );
    }
}
