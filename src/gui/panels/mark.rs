//! Marks of outcomes: a shape of its own for each, so that nothing hangs on colour.

use crate::checks::{Assessment, Outcome, Verdict};
use crate::gui::{Role, Theme};
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Response, Sense, Shape, Stroke, Ui, pos2, vec2};

/// The colour role of an outcome.
pub(in crate::gui) fn role_of(outcome: Outcome) -> Role {
    match outcome {
        Outcome::Fail => Role::Fail,
        Outcome::Undecided => Role::Undecided,
        Outcome::Near => Role::Near,
        Outcome::Note => Role::Note,
        Outcome::Pass => Role::Pass,
        Outcome::NotApplicable | Outcome::NotAsked => Role::Off,
    }
}

/// What a reader calls the sum of the findings.
pub(in crate::gui) fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fails => "Fails",
        Verdict::Undecided => "Undecided",
        Verdict::NothingOpen => "No fail, nothing undecided",
    }
}

/// The sum of the findings: the outcome whose mark stands for it, and the counts that it rests on in words.
pub(in crate::gui) fn verdict_told(assessment: &Assessment) -> (Outcome, String) {
    let verdict = assessment.verdict();
    let open = assessment.findings.iter().filter(|finding| finding.is_open());
    let fails = open.clone().filter(|finding| finding.outcome == Outcome::Fail).count();
    let undecided = open.filter(|finding| finding.outcome == Outcome::Undecided).count();
    let words = verdict_counts(fails, undecided).unwrap_or_else(|| verdict_words(verdict).to_owned());
    (outcome_of(verdict), words)
}

/// The outcome whose mark stands for a verdict.
pub(in crate::gui) fn outcome_of(verdict: Verdict) -> Outcome {
    match verdict {
        Verdict::Fails => Outcome::Fail,
        Verdict::Undecided => Outcome::Undecided,
        Verdict::NothingOpen => Outcome::Pass,
    }
}

/// A mark of its own in a line of text.
pub(in crate::gui) fn mark_ui(ui: &mut Ui, outcome: Outcome) -> Response {
    let (rect, response) = ui.allocate_exact_size(vec2(14.0, 14.0), Sense::hover());
    paint_mark(ui.painter(), rect.center(), outcome, Theme::of(ui));
    response
}

/// Paints the mark of `outcome`, 12 points across: a filled square with a cross for a fail, a diamond with a
/// question mark for undecided, a triangle for near, a ring with a dot for a note, a tick for a pass, a dash
/// for what does not apply and a short dash for what is not asked.
pub(in crate::gui) fn paint_mark(painter: &Painter, at: Pos2, outcome: Outcome, theme: Theme) {
    let color = theme.color(role_of(outcome));
    let on = theme.color(Role::Canvas);
    let line = Stroke::new(1.6, on);
    let around = |points: &[(f32, f32)]| -> Vec<Pos2> {
        points.iter().map(|(x, y)| pos2(at.x + x, at.y + y)).collect()
    };
    match outcome {
        Outcome::Fail => {
            painter.rect_filled(Rect::from_center_size(at, vec2(12.0, 12.0)), 0.0, color);
            painter.line(around(&[(-3.0, -3.0), (3.0, 3.0)]), line);
            painter.line(around(&[(-3.0, 3.0), (3.0, -3.0)]), line);
        }
        Outcome::Undecided => {
            let diamond = around(&[(0.0, -7.0), (7.0, 0.0), (0.0, 7.0), (-7.0, 0.0)]);
            painter.add(Shape::convex_polygon(diamond, color, Stroke::NONE));
            painter.text(at, Align2::CENTER_CENTER, "?", FontId::proportional(11.0), on);
        }
        Outcome::Near => {
            let triangle = around(&[(0.0, -6.0), (6.5, 5.5), (-6.5, 5.5)]);
            painter.add(Shape::convex_polygon(triangle, color, Stroke::NONE));
            painter.line(around(&[(0.0, -2.5), (0.0, 2.0)]), line);
        }
        Outcome::Note => {
            painter.circle_stroke(at, 5.5, Stroke::new(1.4, color));
            painter.circle_filled(at, 1.8, color);
        }
        Outcome::Pass => {
            let tick = around(&[(-5.0, 0.5), (-1.5, 4.0), (5.0, -4.0)]);
            painter.line(tick, Stroke::new(2.0, color));
        }
        Outcome::NotApplicable => dash(painter, at, 5.0, color),
        Outcome::NotAsked => dash(painter, at, 2.0, color),
    }
}

fn dash(painter: &Painter, at: Pos2, half: f32, color: Color32) {
    painter.line_segment([at - vec2(half, 0.0), at + vec2(half, 0.0)], Stroke::new(1.6, color));
}

/// What is open, in words; none where nothing is.
fn verdict_counts(fails: usize, undecided: usize) -> Option<String> {
    let limits = if fails == 1 { "limit" } else { "limits" };
    match (fails, undecided) {
        (0, 0) => None,
        (fails, 0) => Some(format!("{fails} {limits} broken")),
        (0, undecided) => Some(format!("{undecided} undecided")),
        (fails, undecided) => Some(format!("{fails} {limits} broken, {undecided} undecided")),
    }
}

#[cfg(test)]
mod tests {
    use super::verdict_counts;

    #[test]
    fn the_badge_says_what_is_open_in_plain_words() {
        assert_eq!(verdict_counts(0, 0), None);
        assert_eq!(verdict_counts(1, 0).as_deref(), Some("1 limit broken"));
        assert_eq!(verdict_counts(0, 3).as_deref(), Some("3 undecided"));
        assert_eq!(verdict_counts(15, 3).as_deref(), Some("15 limits broken, 3 undecided"));
    }
}
