//! The outline of a rail section: schematic, with height, widths and area as entered.

use super::Point;
use crate::model::RailSection;

// Shares of the height, in the proportions of common flat-bottom rails (common practice, no source); all of
// them are scaled together until the area is the entered one.
const FOOT_EDGE: f64 = 0.07;
const FOOT_DEPTH: f64 = 0.18;
const HEAD_SIDE: f64 = 0.21;
const HEAD_DEPTH: f64 = 0.29;
/// Cut of the head's upper corners, as a share of the head's width.
const CORNER: f64 = 0.12;

/// The outline of `section` standing on its foot, mirrored about its middle; points in mm, anticlockwise
/// from the foot's left lower corner, the foot's underside at height 0.
///
/// Height, foot, head and web are as entered. Depth of foot and head are not in the plan: they are found by
/// matching the area, so the outline is a schematic picture and no drawing of the profile. None where a
/// dimension is missing or no depth gives the area.
pub fn section_outline(section: &RailSection) -> Option<Vec<Point>> {
    let (height, foot) = (section.height_mm?, section.foot_mm?);
    let (head, web) = (section.head_mm?, section.web_mm?);
    let corner = CORNER * head;
    let depths = depths(section.area_cm2 * 100.0, [height, foot, head, web], corner)?;
    let [foot_edge, foot_depth, head_side, head_depth] = depths;
    let right = [
        (foot / 2.0, 0.0),
        (foot / 2.0, foot_edge),
        (web / 2.0, foot_depth),
        (web / 2.0, height - head_depth),
        (head / 2.0, height - head_side),
        (head / 2.0, height - corner),
        (head / 2.0 - corner, height),
    ];
    let left = right.iter().rev().map(|(across, up)| Point::new(-across, *up));
    let right = right.iter().map(|(across, up)| Point::new(*across, *up));
    Some(right.chain(left).collect())
}

/// Edge and depth of the foot, side and depth of the head, in mm, that make the outline's area `area_mm2`.
fn depths(area_mm2: f64, sizes_mm: [f64; 4], corner_mm: f64) -> Option<[f64; 4]> {
    let [height, foot, head, web] = sizes_mm;
    let sound = [area_mm2, height, foot, head, web].iter().all(|value| value.is_finite() && *value > 0.0);
    if !sound || web > head || web > foot {
        return None;
    }
    // Area = web x height - both cut corners + scale x (what foot and head add to the web).
    let foot_adds = (foot - web) * (FOOT_EDGE + (FOOT_DEPTH - FOOT_EDGE) / 2.0);
    let head_adds = (head - web) * (HEAD_SIDE + (HEAD_DEPTH - HEAD_SIDE) / 2.0);
    let scale = (area_mm2 - web * height + corner_mm * corner_mm) / (height * (foot_adds + head_adds));
    let scaled = [FOOT_EDGE, FOOT_DEPTH, HEAD_SIDE, HEAD_DEPTH].map(|share| share * scale * height);
    let [_, foot_depth, head_side, head_depth] = scaled;
    let fits = scale > 0.0 && foot_depth + head_depth < height && head_side > corner_mm;
    fits.then_some(scaled)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::section_60e1;

    /// Area within the outline in mm2, by the shoelace formula.
    fn area_mm2(points: &[Point]) -> f64 {
        let next = points.iter().cycle().skip(1);
        let twice: f64 =
            points.iter().zip(next).map(|(a, b)| a.across_mm * b.up_mm - b.across_mm * a.up_mm).sum();
        twice / 2.0
    }

    fn section(area_cm2: f64, sizes: [f64; 4]) -> RailSection {
        let [height, foot, head, web] = sizes.map(Some);
        RailSection {
            area_cm2,
            height_mm: height,
            foot_mm: foot,
            head_mm: head,
            web_mm: web,
            ..section_60e1()
        }
    }

    // Dimensions and areas: EN 13674-1 rows, AREMA figures and GOST 8161-75 as in the shared facts, section 1.
    #[test]
    fn every_tabled_section_has_its_height_widths_and_area() {
        for (area_cm2, sizes) in [
            (58.82, [145.0, 125.0, 65.0, 14.0]),
            (63.71, [155.0, 133.0, 70.0, 14.0]),
            (64.84, [153.0, 140.0, 65.0, 15.5]),
            (69.77, [159.0, 140.0, 70.0, 16.0]),
            (68.56, [161.0, 125.0, 67.0, 16.0]),
            (71.69, [158.75, 140.0, 69.85, 20.0]),
            (76.70, [172.0, 150.0, 72.0, 16.5]),
            (72.37, [168.28, 139.70, 69.06, 15.88]),
            (85.9, [185.74, 152.40, 74.61, 17.46]),
        ] {
            let points = section_outline(&section(area_cm2, sizes)).unwrap();
            let [height, foot, head, _] = sizes;
            assert!((area_mm2(&points) / (area_cm2 * 100.0) - 1.0).abs() < 1.0e-9, "area of {sizes:?}");
            let widest = |from: f64, to: f64| {
                let within = points.iter().filter(|point| (from..=to).contains(&point.up_mm));
                2.0 * within.map(|point| point.across_mm).fold(0.0, f64::max)
            };
            assert!((widest(0.0, height / 2.0) - foot).abs() < 1.0e-9, "foot of {sizes:?}");
            assert!((widest(height / 2.0 + 1.0, height) - head).abs() < 1.0e-9, "head of {sizes:?}");
            let top = points.iter().map(|point| point.up_mm).fold(0.0, f64::max);
            assert!((top - height).abs() < 1.0e-9, "height of {sizes:?}");
        }
    }

    #[test]
    fn an_outline_is_its_own_mirror_image() {
        let points = section_outline(&section_60e1()).unwrap();
        for (a, b) in points.iter().zip(points.iter().rev()) {
            assert!((a.across_mm + b.across_mm).abs() < 1.0e-12 && (a.up_mm - b.up_mm).abs() < 1.0e-12);
        }
    }

    #[test]
    fn a_section_that_is_not_known_well_enough_has_no_outline() {
        assert!(section_outline(&RailSection { web_mm: None, ..section_60e1() }).is_none());
        assert!(section_outline(&RailSection { area_cm2: 20.0, ..section_60e1() }).is_none());
        assert!(section_outline(&RailSection { area_cm2: 200.0, ..section_60e1() }).is_none());
        assert!(section_outline(&RailSection { web_mm: Some(160.0), ..section_60e1() }).is_none());
    }
}
