//! What a drag shows: where the strings were, what they catch at, the pocket they would go to, and a card at
//! the pointer with the worst figures before and after and what would newly break.

use super::Canvas;
use super::change::Change;
use super::drag::{Drag, Origin};
use super::look::mix;
use super::snap::Snap;
use super::typed::Measure;
use super::view::Projection;
use crate::drawing::side_band_mm;
use crate::edit::Edit;
use crate::gui::{FindingKey, Preview, Role as Ink, Shown};
use crate::model::StringMark;
use crate::statics::{Figures, StateFigures, SupportLoads};
use crate::units::Quantity;
use egui::{
    Align2, Area, FontId, Frame, Id, Order, Painter, Pos2, Rect, RichText, Stroke, StrokeKind, Ui, pos2,
};

/// Most findings that the card names.
const MOST_NAMED: usize = 4;
/// How far from the pointer the card lies.
const AWAY: f32 = 20.0;

/// Draws everything about a drag above the views.
pub(super) fn card_ui(canvas: &Canvas, ui: &Ui, shown: &Shown<'_>, drag: &Drag, pointer: Option<Pos2>) {
    let painter = ui.painter();
    if let Some(side) = canvas.side {
        let painter = painter.with_clip_rect(side.projection.rect);
        for mark in &drag.target.company {
            was_at(&painter, &side.projection, shown, mark);
        }
        if let Some(snap) = &drag.target.snap {
            caught(&painter, &side.projection, shown, snap);
        }
    }
    super::deck_hands::drag_marks(canvas, painter, shown, drag);
    if let Some(zone) = drag.target.zone {
        let ghost = shown.theme.color(Ink::Ghost);
        painter.rect(
            zone.shrink(1.0),
            0.0,
            ghost.gamma_multiply(0.25),
            Stroke::new(2.5, ghost),
            StrokeKind::Outside,
        );
    }
    let Some(at) = pointer else { return };
    at_pointer(ui, at, |ui| words_ui(ui, shown, drag));
}

/// A card beside the pointer, toward the middle of the window.
pub(super) fn at_pointer(ui: &Ui, at: Pos2, words: impl FnOnce(&mut Ui)) {
    let window = ui.ctx().content_rect();
    let pivot = match (at.x > window.center().x, at.y > window.center().y) {
        (false, false) => Align2::LEFT_TOP,
        (true, false) => Align2::RIGHT_TOP,
        (false, true) => Align2::LEFT_BOTTOM,
        (true, true) => Align2::RIGHT_BOTTOM,
    };
    let place = at - egui::vec2(pivot.x().to_sign(), pivot.y().to_sign()) * AWAY;
    Area::new(Id::unique("drag card"))
        .order(Order::Tooltip)
        .interactable(false)
        .pivot(pivot)
        .fixed_pos(place)
        .show(ui.ctx(), |ui| {
            Frame::popup(ui.style()).show(ui, |ui| {
                ui.set_max_width(300.0);
                words(ui);
            });
        });
}

/// A hollow box where a string lies in the settled plan.
fn was_at(painter: &Painter, projection: &Projection, shown: &Shown<'_>, mark: &StringMark) {
    let settled = shown.settled;
    let plan = &settled.plan;
    let (Some(placement), Some(string)) = (plan.placement(mark), plan.string(mark)) else { return };
    let (front, rear) = (placement.front, placement.front + string.length);
    let mut racks = settled.consist.racks_between(front, rear).chain(0..1);
    let Some((low, high)) =
        racks.find_map(|rack| side_band_mm(settled, rack, placement.tier, placement.lane))
    else {
        return;
    };
    let rect = projection.rect_of([front.mm() as f64, low], [rear.mm() as f64, high]);
    let rect = rect.intersect(projection.rect.expand(4.0));
    let stroke = Stroke::new(1.0, shown.theme.color(Ink::Origin));
    let corners =
        [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom(), rect.left_top()];
    painter.extend(egui::Shape::dashed_line(&corners, stroke, 5.0, 4.0));
}

/// A line at what an end catches at, and its name.
pub(super) fn caught(painter: &Painter, projection: &Projection, shown: &Shown<'_>, snap: &Snap) {
    let view = projection.rect;
    let x = projection.x(snap.at.mm() as f64).round() + 0.5;
    let color = shown.theme.color(Ink::Ghost);
    painter.vline(x, view.y_range(), Stroke::new(1.5, color));
    let words = snap.words(&shown.settled.plan, &shown.settled.consist, shown.style);
    let align = if x > view.center().x { Align2::RIGHT_BOTTOM } else { Align2::LEFT_BOTTOM };
    let at = pos2(x - align.x().to_sign() * 5.0, view.bottom() - 20.0);
    let galley = painter.layout_no_wrap(words, FontId::proportional(12.0), color);
    let rect = align.anchor_size(at, galley.size());
    painter.rect_filled(rect.expand(2.0), 0.0, shown.theme.color(Ink::Canvas));
    painter.galley(rect.min, galley, color);
    painter.rect_filled(Rect::from_center_size(pos2(x, view.top() + 4.0), egui::vec2(7.0, 7.0)), 0.0, color);
}

fn words_ui(ui: &mut Ui, shown: &Shown<'_>, drag: &Drag) {
    let names = match drag.strings.as_slice() {
        [only] => format!("string {only}"),
        several => format!("{} strings", several.len()),
    };
    ui.strong(names);
    let is_taken_off = |change: &Change| matches!(change.edit, Edit::TakeOff { .. });
    if !drag.target.change.as_ref().is_some_and(is_taken_off) {
        typed_ui(ui, shown, drag);
    }
    let Some(change) = &drag.target.change else {
        let words = match (drag.target.hint.as_str(), drag.origin) {
            ("", Origin::Yard) => "drop it on a pocket, on the train side or on the deck plan",
            ("", _) => "let go here: nothing changes",
            (why, _) => why,
        };
        ui.weak(words);
        return;
    };
    if let Some(snap) = &drag.target.snap {
        let words = snap.words(&shown.settled.plan, &shown.settled.consist, shown.style);
        ui.colored_label(shown.theme.color(Ink::Accent), format!("catches: {words} (Alt: not)"));
    }
    let asked = shown.preview.filter(|preview| preview.edit == change.edit);
    let preview = asked.or(shown.preview);
    if let Some(preview) = preview {
        if let Some(mark) = drag.strings.first() {
            place_ui(ui, shown, preview, mark);
        }
        outcome_ui(ui, shown, preview);
    }
    if !change.said.is_empty() {
        ui.weak(&change.said);
    }
    if !drag.target.hint.is_empty() {
        ui.weak(&drag.target.hint);
    }
}

/// Why it is refused, or the figures before and after, and what breaks and mends.
pub(super) fn outcome_ui(ui: &mut Ui, shown: &Shown<'_>, preview: &Preview) {
    if let Some(refused) = &preview.refused {
        ui.colored_label(shown.theme.color(Ink::Fail), format!("refused: {refused}"));
    } else {
        figures_ui(ui, shown, preview);
        findings_ui(ui, shown, preview);
    }
}

/// What is typed, or that something can be.
fn typed_ui(ui: &mut Ui, shown: &Shown<'_>, drag: &Drag) {
    let typed = &drag.typed;
    if typed.text.is_empty() && typed.measure == Measure::default() {
        ui.weak("type a number for an exact place; R rear end, O overhang");
    } else {
        ui.strong(typed.words(shown.style));
        ui.weak("Enter drops it; R other end, O place or overhang");
    }
}

/// Pocket, front end and overhangs of the first string after the drop.
fn place_ui(ui: &mut Ui, shown: &Shown<'_>, preview: &Preview, mark: &StringMark) {
    let figures = &preview.figures;
    let Some(placement) = figures.plan.placement(mark) else { return };
    let front = Quantity::length(placement.front).show(shown.style);
    ui.label(format!("tier {} lane {}, front end at {front}", placement.tier, placement.lane));
    let Some(length) = figures.plan.string(mark).map(|string| string.length) else { return };
    let rear = placement.front + length;
    let racks =
        figures.consist.racks.get(figures.consist.racks_between(placement.front, rear)).unwrap_or_default();
    if let (Some(first), Some(last)) = (racks.first(), racks.last()) {
        let show = |length| Quantity::length(length).show(shown.style);
        let words = format!("overhangs {} and {}", show(first.x - placement.front), show(rear - last.x));
        ui.label(words);
    }
}

/// The worst figures of the state shown, before and after.
fn figures_ui(ui: &mut Ui, shown: &Shown<'_>, preview: &Preview) {
    let (Some(before), Some(after)) = (shown.settled.state(shown.state), preview.figures.state(shown.state))
    else {
        return;
    };
    let figures = &preview.figures;
    egui::Grid::new("before and after").num_columns(3).spacing([10.0, 1.0]).show(ui, |ui| {
        let worst = |state: &StateFigures| {
            [worst_axle(figures, state), worst_wheels(figures, state), worst_rack(figures, state)]
        };
        let rows =
            ["worst axle", "worst wheels", "worst rack"].into_iter().zip(worst(before)).zip(worst(after));
        for ((name, before), after) in rows {
            let [before, after] = [before, after].map(|value| value.show(shown.style));
            ui.weak(name);
            ui.label(&before);
            let words = RichText::new(format!("→ {after}"));
            ui.label(if before == after { words } else { words.strong() });
            ui.end_row();
        }
    });
}

/// The load that uses most of its rating, of (load in kg, rating in kg); the largest where none is entered.
fn most_used(loads: impl Iterator<Item = (f64, Option<f64>)>) -> f64 {
    // Loads without a rating come below all that have one.
    let rank = |(kg, rating): &(f64, Option<f64>)| match rating {
        Some(rating) if *rating > 0.0 => (1, kg / rating),
        _ => (0, *kg),
    };
    let order = |a: &(i32, f64), b: &(i32, f64)| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1));
    loads.max_by(|a, b| order(&rank(a), &rank(b))).map_or(0.0, |(kg, _)| kg)
}

fn worst_axle(figures: &Figures, state: &StateFigures) -> Quantity {
    let vehicles = figures.consist.vehicles.iter().zip(&state.vehicles);
    Quantity::mass(most_used(vehicles.flat_map(|(place, loads)| {
        let kind = figures.plan.train.vehicle_types.get(place.vehicle_type);
        let rating = kind.and_then(|kind| figures.plan.least_axle_rating_kg(kind));
        loads.supports.iter().map(move |support| (support.axle_kg, rating))
    })))
}

fn worst_wheels(_figures: &Figures, state: &StateFigures) -> Quantity {
    let supports = state.vehicles.iter().flat_map(|vehicle| &vehicle.supports);
    Quantity::ratio(supports.map(SupportLoads::worse_ratio).fold(1.0, f64::max))
}

fn worst_rack(figures: &Figures, state: &StateFigures) -> Quantity {
    let racks = figures.consist.racks.iter().enumerate();
    Quantity::mass(most_used(racks.map(|(rack, place)| {
        let kind = figures.plan.train.rack_types.get(place.rack_type);
        (state.rack_kg(rack), kind.and_then(|kind| kind.rack_rating_kg))
    })))
}

/// What would newly break, and what would be mended.
fn findings_ui(ui: &mut Ui, shown: &Shown<'_>, preview: &Preview) {
    let (broken, mended) = (&preview.newly_broken, &preview.mended);
    if broken.is_empty() && mended.is_empty() {
        ui.weak("breaks nothing, mends nothing");
        return;
    }
    let color = mix(shown.theme.color(Ink::Fail), shown.theme.color(Ink::Text), 0.1);
    for key in broken.iter().take(MOST_NAMED) {
        ui.colored_label(color, format!("breaks: {}", key_words(key, preview)));
    }
    if broken.len() > MOST_NAMED {
        ui.colored_label(color, format!("and breaks {} more", broken.len() - MOST_NAMED));
    }
    if !mended.is_empty() {
        ui.colored_label(shown.theme.color(Ink::Pass), format!("mends {}", mended.len()));
    }
}

fn key_words(key: &FindingKey, preview: &Preview) -> String {
    let finding = preview.assessment.findings.iter().find(|finding| key.is_of(finding));
    let title = finding.map_or(key.check, |finding| finding.check.title);
    format!("{title}, {}", key.things.join(", "))
}

#[cfg(test)]
mod tests {
    use super::most_used;

    #[test]
    fn the_load_that_uses_most_of_its_rating_is_the_worst() {
        let check = |loads: &[(f64, Option<f64>)], expected: f64| {
            assert!((most_used(loads.iter().copied()) - expected).abs() < 1e-9, "{loads:?}");
        };
        check(&[(17.0, Some(22.5)), (13.0, Some(16.0))], 13.0);
        check(&[(17.0, None), (13.0, Some(16.0))], 13.0);
        check(&[(17.0, None), (13.0, None)], 17.0);
        check(&[], 0.0);
    }
}
