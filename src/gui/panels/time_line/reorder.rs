//! Steps and drops dragged to another place in the order: where they would go, and what that would break.

use super::TimeLine;
use super::columns::{Columns, drop_sites, step_sites};
use crate::edit::{Edit, Rows, StepPlace};
use crate::gui::panels::row_drag::Way;
use crate::gui::{Request, Role, Shown};
use crate::model::Plan;
use egui::{Align2, FontId, Key, Modifiers, Rect, Stroke, Ui, pos2, vec2};

/// What is dragged along the time line, by its place in the order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Held {
    /// A step of a drop.
    Step { drop: usize, step: usize },
    /// A drop with all its steps.
    Drop(usize),
}

/// A place between steps: before step `at` of a drop, or after its last.
pub(super) type Gap = (usize, usize);

impl TimeLine {
    /// Follows what is dragged: shows where it would go and what it would do, and makes the move on release.
    pub(super) fn held_ui(
        &mut self,
        ui: &Ui,
        shown: &Shown<'_>,
        (columns, rows): (&Columns, Rect),
        requests: &mut Vec<Request>,
    ) {
        let Some(held) = self.held else { return };
        let escaped = ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape));
        let (pointer, down) = ui.input(|input| (input.pointer.interact_pos(), input.pointer.primary_down()));
        let target = pointer.and_then(|at| target(shown, columns, held, at.x));
        let edit = target.as_ref().and_then(|(_, edit)| edit.clone());
        if escaped || !down {
            self.held = None;
            requests.push(match edit.filter(|_| !escaped) {
                Some(edit) => Request::Edit(edit),
                None => Request::Preview(None),
            });
            return;
        }
        requests.push(Request::Preview(edit.clone()));
        ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
        let (Some(at), Some((x, _))) = (pointer, target) else { return };
        paint_held(ui, shown, rows, (x, at.x, edit.is_some()), &words(shown, held));
    }
}

/// Where on the screen what is held would go, and the edit that puts it there; none where it is there already.
fn target(shown: &Shown<'_>, columns: &Columns, held: Held, x: f32) -> Option<(f32, Option<Edit>)> {
    let plan = &shown.settled.plan;
    let nearest =
        |gaps: Vec<(f32, Gap)>| gaps.into_iter().min_by(|a, b| (a.0 - x).abs().total_cmp(&(b.0 - x).abs()));
    match held {
        Held::Step { drop, step } => {
            let (at, gap) = nearest(step_gaps(shown, columns))?;
            Some((at, moved_step(plan, (drop, step), gap)))
        }
        Held::Drop(drop) => {
            let (at, (gap, _)) = nearest(drop_gaps(shown, columns))?;
            Some((at, moved_drop(plan, drop, gap)))
        }
    }
}

/// The places between steps, each with where it stands on the screen.
fn step_gaps(shown: &Shown<'_>, columns: &Columns) -> Vec<(f32, Gap)> {
    let states = &shown.settled.states;
    let steps = step_sites(states).into_iter();
    let before = steps.map(|site| (columns.span(site.first).min, (site.drop, site.step)));
    let drops = shown.settled.plan.drops.iter().zip(drop_sites(states)).enumerate();
    let after = drops.map(|(at, (drop, (_, last)))| (columns.span(last).min, (at, drop.steps.len())));
    before.chain(after).collect()
}

/// The places between drops, the first number of each gap.
fn drop_gaps(shown: &Shown<'_>, columns: &Columns) -> Vec<(f32, Gap)> {
    let sites = drop_sites(&shown.settled.states);
    let end = sites.last().map(|(_, last)| (columns.span(*last).max, (sites.len(), 0)));
    let before = sites.iter().enumerate().map(|(at, (first, _))| (columns.span(*first).min, (at, 0)));
    before.chain(end).collect()
}

/// Puts a step into a gap; none where it stands there already.
pub(super) fn moved_step(plan: &Plan, (drop, step): (usize, usize), (to, at): Gap) -> Option<Edit> {
    if drop == to && (at == step || at == step + 1) {
        return None;
    }
    // Behind its old place all others have moved up.
    let at = if drop == to && at > step { at - 1 } else { at };
    let place = |drop: usize, step: usize| Some(StepPlace { drop: plan.drops.get(drop)?.name.clone(), step });
    Some(Edit::MoveStep { from: place(drop, step)?, to: place(to, at)? })
}

/// Puts a drop before that with the index `gap`, or last; none where it stands there already.
pub(super) fn moved_drop(plan: &Plan, drop: usize, gap: usize) -> Option<Edit> {
    if gap == drop || gap == drop + 1 || gap > plan.drops.len() {
        return None;
    }
    let to = if gap > drop { gap - 1 } else { gap };
    Some(Edit::Drops(Rows::Move { name: plan.drops.get(drop)?.name.clone(), to }))
}

/// The gap one place earlier or later, in the next drop where it stands at an end of its own.
pub(super) fn neighbour(plan: &Plan, (drop, step): (usize, usize), way: Way) -> Option<Gap> {
    let steps = |drop: usize| plan.drops.get(drop).map(|drop| drop.steps.len());
    match (way, step) {
        (Way::Later, _) if step + 1 < steps(drop)? => Some((drop, step + 2)),
        (Way::Later, _) => steps(drop + 1).map(|_| (drop + 1, 0)),
        (Way::Earlier, 0) => drop.checked_sub(1).and_then(|before| Some((before, steps(before)?))),
        (Way::Earlier, _) => Some((drop, step - 1)),
    }
}

fn words(shown: &Shown<'_>, held: Held) -> String {
    let drop = |at: usize| shown.settled.plan.drops.get(at);
    match held {
        Held::Drop(at) => drop(at).map_or_else(String::new, |drop| drop.name.to_string()),
        Held::Step { drop: at, step } => {
            let step = drop(at).and_then(|drop| drop.steps.get(step));
            let marks = step.into_iter().flat_map(|step| step.strings.marks()).map(|mark| mark.as_str());
            marks.collect::<Vec<_>>().join(" and ")
        }
    }
}

/// A bar where it would go, and its name at the pointer.
fn paint_held(ui: &Ui, shown: &Shown<'_>, rows: Rect, (x, pointer, moves): (f32, f32, bool), words: &str) {
    let theme = shown.theme;
    let role = if moves { Role::Ghost } else { Role::Origin };
    let painter = ui.painter();
    let color = theme.color(role);
    painter.vline(x, rows.top() - 4.0..=rows.bottom(), Stroke::new(2.5, color));
    for (y, way) in [(rows.top() - 4.0, 1.0), (rows.bottom(), -1.0)] {
        let points = vec![pos2(x - 4.0, y), pos2(x + 4.0, y), pos2(x, y + 5.0 * way)];
        painter.add(egui::Shape::convex_polygon(points, color, Stroke::NONE));
    }
    let galley =
        painter.layout_no_wrap(words.to_owned(), FontId::proportional(11.0), theme.color(Role::Text));
    let at = pos2(pointer + 10.0, rows.top() - 18.0);
    let place = Align2::LEFT_TOP.anchor_size(at, galley.size());
    painter.rect(
        place.expand2(vec2(4.0, 1.0)),
        2.0,
        theme.color(Role::Panel),
        (1.0, color),
        egui::StrokeKind::Outside,
    );
    painter.galley(place.min, galley, theme.color(Role::Text));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{drop_off, empty_plan, place};

    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        for (lane, mark) in (1..).zip(["S1", "S2", "S3", "S4"]) {
            place(&mut plan, mark, 20_000, (1, lane, 10_000));
        }
        plan.drops = vec![drop_off("Far", &["S1", "S2", "S3"]), drop_off("Near", &["S4"])];
        plan
    }

    /// The marks of the steps by drop after an edit.
    fn order(plan: &Plan, edit: Option<Edit>) -> Vec<String> {
        let after = edit.map_or_else(|| plan.clone(), |edit| edit.apply(plan).unwrap().plan);
        let marks = |drop: &crate::model::Drop| {
            let marks = drop.steps.iter().flat_map(|step| step.strings.marks()).map(|mark| mark.to_string());
            format!("{}: {}", drop.name, marks.collect::<Vec<_>>().join(" "))
        };
        after.drops.iter().map(marks).collect()
    }

    #[test]
    fn a_step_goes_into_the_gap_wherever_that_is() {
        let plan = plan();
        let check =
            |from, gap, expected: [&str; 2]| assert_eq!(order(&plan, moved_step(&plan, from, gap)), expected);
        check((0, 0), (0, 2), ["Far: S2 S1 S3", "Near: S4"]);
        check((0, 0), (0, 3), ["Far: S2 S3 S1", "Near: S4"]);
        check((0, 2), (0, 0), ["Far: S3 S1 S2", "Near: S4"]);
        check((0, 1), (1, 0), ["Far: S1 S3", "Near: S2 S4"]);
        check((1, 0), (0, 3), ["Far: S1 S2 S3 S4", "Near: "]);
        assert_eq!(moved_step(&plan, (0, 1), (0, 1)), None);
        assert_eq!(moved_step(&plan, (0, 1), (0, 2)), None);
    }

    #[test]
    fn a_drop_goes_before_another_or_last() {
        let plan = plan();
        let there = ["Near: S4", "Far: S1 S2 S3"];
        assert_eq!(order(&plan, moved_drop(&plan, 0, 2)), there);
        assert_eq!(order(&plan, moved_drop(&plan, 1, 0)), there);
        assert_eq!((moved_drop(&plan, 0, 1), moved_drop(&plan, 1, 3)), (None, None));
    }

    #[test]
    fn by_keys_a_step_goes_on_into_the_next_drop_and_no_farther_than_the_ends() {
        let plan = plan();
        assert_eq!(neighbour(&plan, (0, 0), Way::Later), Some((0, 2)));
        assert_eq!(neighbour(&plan, (0, 2), Way::Later), Some((1, 0)));
        assert_eq!(neighbour(&plan, (1, 0), Way::Later), None);
        assert_eq!(neighbour(&plan, (1, 0), Way::Earlier), Some((0, 3)));
        assert_eq!(neighbour(&plan, (0, 1), Way::Earlier), Some((0, 0)));
        assert_eq!(neighbour(&plan, (0, 0), Way::Earlier), None);
    }
}
