//! How drawings look on paper: greys, edges and hatching, so that black ink alone tells everything apart.

use super::page::{Closed, Frame, Ink, Line, Look, Mark, Spot};
use crate::checks::Outcome;
use crate::drawing::Role;

/// Distance of hatching lines in mm.
const HATCH_MM: f64 = 1.1;

/// The look of a role; strings are dressed by [`string_marks`].
pub(super) fn look(role: Role) -> Look {
    match role {
        Role::Rail => Look::line(Ink::Black, 0.3),
        Role::WagonBody => Look::both(Ink::Tint, Ink::Soft, 0.15),
        Role::IdlerBody => Look { fill: Some(Ink::Paper), line: Some(Line::broken(Ink::Soft, 0.15)) },
        Role::EngineBody => Look::both(Ink::Grey, Ink::Soft, 0.15),
        Role::Bogie | Role::RackCarrying => Look::fill(Ink::Soft),
        Role::Wheel => Look::both(Ink::Paper, Ink::Soft, 0.2),
        Role::Coupling => Look::line(Ink::Soft, 0.3),
        Role::Rack => Look::fill(Ink::Hair),
        Role::Seat => Look::line(Ink::Hair, 0.1),
        Role::EndStop => Look::both(Ink::Black, Ink::Black, 0.5),
        Role::StringInTrouble => Look { fill: Some(Ink::Paper), line: Some(Line::broken(Ink::Black, 0.4)) },
        Role::StringEnd => Look::line(Ink::Black, 0.25),
        Role::CreepRange => Look::both(Ink::Hair, Ink::Soft, 0.1),
        Role::Hold => Look::fill(Ink::Black),
        Role::PocketEmpty => Look::both(Ink::Paper, Ink::Hair, 0.12),
        Role::PocketTaken => Look::both(Ink::Paper, Ink::Soft, 0.15),
        Role::LoadBar(outcome) => Look::fill(bar_ink(outcome)),
        Role::LoadRoom(Outcome::Undecided) => Look { fill: None, line: Some(Line::broken(Ink::Soft, 0.15)) },
        Role::LoadRoom(_) => Look::line(Ink::Soft, 0.12),
        Role::RatingTick => Look::line(Ink::Black, 0.3),
        Role::SpringsMark(_) => Look::line(Ink::Black, 0.35),
        Role::ToleranceBand => Look::line(Ink::Black, 0.15),
        Role::Balance(_, outcome) => Look::both(bar_ink(outcome), Ink::Soft, 0.12),
        Role::CentreOfGravity => Look::both(Ink::Black, Ink::Paper, 0.3),
        Role::GaugeLine => Look { fill: None, line: Some(Line::broken(Ink::Black, 0.2)) },
        Role::CentreLine => Look { fill: None, line: Some(Line::broken(Ink::Hair, 0.15)) },
        _ => Look::line(Ink::Soft, 0.15),
    }
}

fn bar_ink(outcome: Outcome) -> Ink {
    match outcome {
        Outcome::Fail => Ink::Black,
        Outcome::Near => Ink::Soft,
        Outcome::Undecided => Ink::Tint,
        _ => Ink::Grey,
    }
}

/// How the strings of a drop are dressed: four ways, again from the first for a fifth drop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dress {
    Grey,
    Plain,
    Hatched,
    Tinted,
    /// A string that is for no drop.
    Stays,
}

impl Dress {
    /// Of the strings for a drop, by its index.
    pub(super) fn of(drop: Option<usize>) -> Self {
        match drop.map(|drop| drop % 4) {
            None => Self::Stays,
            Some(0) => Self::Grey,
            Some(1) => Self::Plain,
            Some(2) => Self::Hatched,
            Some(_) => Self::Tinted,
        }
    }
}

/// A string, or a part of one, as a bar.
pub(super) fn string_marks(frame: Frame, dress: Dress) -> Vec<Mark> {
    let edge = (frame.height_mm * 0.12).clamp(0.06, 0.18);
    let bar = |fill, line| Mark::Box(frame, Look { fill: Some(fill), line: Some(line) });
    match dress {
        Dress::Grey => vec![bar(Ink::Grey, Line::new(Ink::Black, edge))],
        Dress::Plain => vec![bar(Ink::Paper, Line::new(Ink::Black, edge))],
        Dress::Tinted => vec![bar(Ink::Tint, Line::new(Ink::Black, edge))],
        Dress::Stays => vec![bar(Ink::Paper, Line::new(Ink::Soft, edge * 0.6))],
        Dress::Hatched => {
            let mut marks = vec![Mark::Box(frame, Look::fill(Ink::Paper))];
            marks.extend(hatching(frame, Line::new(Ink::Soft, 0.1)));
            marks.push(Mark::Box(frame, Look::line(Ink::Black, edge)));
            marks
        }
    }
}

/// Lines at 45 degrees across a rectangle, cut at its edges.
fn hatching(frame: Frame, line: Line) -> Vec<Mark> {
    let (width, height) = (frame.width_mm, frame.height_mm);
    let count = ((width + height) / HATCH_MM).floor() as usize;
    let lines = (1..=count).map(|nth| {
        // x + y = along, x within 0..width and y within 0..height.
        let along = nth as f64 * HATCH_MM;
        let from_x = (along - height).max(0.0);
        let to_x = along.min(width);
        let at = |x: f64| Spot::new(frame.left_mm + x, frame.top_mm + (along - x).clamp(0.0, height));
        Mark::line(at(from_x), at(to_x), line)
    });
    lines.collect()
}

/// A filled triangle that points left or right from its tip, `size_mm` long and high.
pub(super) fn pointer(tip: Spot, size_mm: f64, toward: f64, ink: Ink) -> Mark {
    let back = tip.x_mm - toward * size_mm;
    let points =
        vec![tip, Spot::new(back, tip.y_mm - size_mm / 2.0), Spot::new(back, tip.y_mm + size_mm / 2.0)];
    Mark::Path { points, closed: Closed::Closed, look: Look::fill(ink) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatching_stays_within_its_rectangle() {
        for frame in [Frame::new(10.0, 20.0, 30.0, 3.0), Frame::new(0.0, 0.0, 2.0, 9.0)] {
            let marks = string_marks(frame, Dress::Hatched);
            assert!(marks.len() > 8, "{}", marks.len());
            assert!(marks.iter().all(|mark| frame.holds(mark.frame())));
        }
    }

    #[test]
    fn neighbouring_drops_are_dressed_differently() {
        for drop in 0..7 {
            assert_ne!(Dress::of(Some(drop)), Dress::of(Some(drop + 1)));
            assert_ne!(Dress::of(Some(drop)), Dress::of(None));
        }
    }
}
