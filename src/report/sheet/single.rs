//! A single drawing as SVG: the train from its side or from above, or the face of a rack.

use super::diagram::bands;
use super::face::printable;
use super::page::{Page, Spot};
use super::picture::{Mapping, picture_marks};
use super::{Mark, svg};
use crate::drawing::Area;
use crate::drawing::{DeckLook, Picture, Point, deck_plan, rack_face, train_side};
use crate::statics::Figures;
use crate::units::Style;

/// Free edge around a drawing in mm.
const EDGE_MM: f64 = 8.0;
/// mm of paper for a metre of a train, and the shortest picture of one.
const TRAIN_MM_PER_M: f64 = 2.2;
const LEAST_MM: f64 = 180.0;
/// mm of paper for a metre of a rack face.
const FACE_MM_PER_M: f64 = 50.0;

/// A drawing of a plan in a state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DrawingOf {
    /// The whole train from its left side, with axle and bogie loads; heights are stretched.
    TrainSide,
    /// The whole train from above.
    DeckPlan(DeckLook),
    /// The cross-section at a rack, an index into the consist; true to scale.
    RackFace(usize),
}

/// Draws one drawing of `state` as an SVG document, its units millimetres of paper.
pub fn drawing_svg(figures: &Figures, of: DrawingOf, state: usize, style: Style) -> String {
    let picture = match of {
        DrawingOf::TrainSide => train_side(figures, state, style),
        DrawingOf::DeckPlan(look) => deck_plan(figures, state, look, style),
        DrawingOf::RackFace(rack) => rack_face(figures, state, rack, style),
    };
    let title = match of {
        DrawingOf::TrainSide => "Train side",
        DrawingOf::DeckPlan(_) => "Deck plan",
        DrawingOf::RackFace(_) => "Rack face",
    };
    let state = figures.states.get(state).map_or_else(String::new, |told| told.title(&figures.plan));
    let title = format!("{title}, {state}: {}", figures.plan.title);
    let (page, size_mm) = page(figures, &picture, of);
    svg(&page, size_mm, &title)
}

fn page(figures: &Figures, picture: &Picture, of: DrawingOf) -> (Page, (f64, f64)) {
    let bounds = picture.bounds;
    // A drawing of nothing is a small empty page.
    let bounds = if bounds.width_mm() > 0.0 && bounds.height_mm() > 0.0 {
        bounds
    } else {
        Area::of(bounds.least, Point::new(bounds.least.across_mm + 1000.0, bounds.least.up_mm + 1000.0))
    };
    let across = mm_per_mm(bounds, of);
    let bands = match of {
        DrawingOf::TrainSide => bands(figures, bounds),
        DrawingOf::DeckPlan(_) => even(bounds, across * picture.vertical_exaggeration),
        DrawingOf::RackFace(_) => even(bounds, across),
    };
    let (width_mm, height_mm) =
        (bounds.width_mm() * across, bands.iter().map(|(_, below)| below).sum::<f64>());
    let window = Area::of(
        Point::new(bounds.least.across_mm, bounds.least.up_mm.min(bands.last().map_or(0.0, |(up, _)| *up))),
        bounds.most,
    );
    let mapping = Mapping::banded(window, Spot::new(EDGE_MM, EDGE_MM), across, &bands);
    let marks = picture_marks(picture, &mapping).into_iter().map(|mark| match mark {
        Mark::Words(mut words) => {
            words.text = printable(&words.text, |_| ());
            words.width_mm = words.face.width_mm(&words.text, words.size_pt);
            Mark::Words(words)
        }
        shape => shape,
    });
    let page = Page { title: String::new(), marks: marks.collect() };
    (page, (width_mm + 2.0 * EDGE_MM, height_mm + 2.0 * EDGE_MM))
}

/// mm of paper for each mm along.
fn mm_per_mm(bounds: Area, of: DrawingOf) -> f64 {
    match of {
        DrawingOf::RackFace(_) => FACE_MM_PER_M / 1000.0,
        DrawingOf::TrainSide | DrawingOf::DeckPlan(_) => {
            (TRAIN_MM_PER_M / 1000.0).max(LEAST_MM / bounds.width_mm())
        }
    }
}

/// All heights stretched alike.
fn even(bounds: Area, up: f64) -> Vec<(f64, f64)> {
    vec![(bounds.most.up_mm, bounds.height_mm() * up), (bounds.least.up_mm, 0.0)]
}
