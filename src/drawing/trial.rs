//! Pictures of small plans for tests, and what holds for every picture.

use super::{Form, Picture, Role};
use crate::fixtures;
use crate::model::Plan;
use crate::statics::{Figures, Scope};
use std::sync::Arc;

/// One reference wagon with S1 of 15 m in tier 2, lane 4, front end at 2.0 m.
pub(super) fn plan() -> Plan {
    let mut plan = fixtures::empty_plan(1);
    fixtures::place(&mut plan, "S1", 15_000, (2, 4, 2_000));
    plan
}

/// The figures of a plan in all states.
pub(super) fn figures(plan: Plan) -> Figures {
    Figures::of(Arc::new(plan), Scope::All)
}

/// Fails unless all numbers are finite and all shapes lie within the bounds.
pub(super) fn expect_sound(picture: &Picture) {
    let bounds = picture.bounds;
    assert!(picture.vertical_exaggeration >= 1.0);
    for shape in &picture.shapes {
        let area = shape.form.bounds();
        let corners = [area.least, area.most];
        assert!(corners.iter().all(|at| at.across_mm.is_finite() && at.up_mm.is_finite()), "{shape:?}");
        assert!(corners.iter().all(|at| bounds.contains(*at)), "{shape:?}");
    }
}

/// All texts of a picture.
pub(super) fn texts(picture: &Picture) -> Vec<&str> {
    let words = picture.shapes.iter().filter_map(|shape| match &shape.form {
        Form::Text { words, .. } => Some(words.as_str()),
        _ => None,
    });
    words.collect()
}

/// Left, right, bottom and top in whole mm of all shapes with a role, in the order of painting.
pub(super) fn places(picture: &Picture, role: Role) -> Vec<[i64; 4]> {
    let shapes = picture.shapes.iter().filter(|shape| shape.role == role);
    let areas = shapes.map(|shape| shape.form.bounds());
    let mm = |value: f64| value.round() as i64;
    areas
        .map(|area| {
            [mm(area.least.across_mm), mm(area.most.across_mm), mm(area.least.up_mm), mm(area.most.up_mm)]
        })
        .collect()
}
