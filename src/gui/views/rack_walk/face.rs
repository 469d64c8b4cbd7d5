//! The rack reached: its pockets as they should be filled, and how each string in them stands to its record.

use super::ground::{Ground, Seen};
use crate::checks::Outcome;
use crate::gui::canvas::rack_words;
use crate::gui::panels::mark::paint_mark;
use crate::gui::{Request, Role, SelectMode};
use crate::model::{Placement, StringMark, TrackSide};
use egui::{Align2, FontId, Rect, Sense, StrokeKind, Ui, WidgetInfo, pos2, vec2};

/// Room for the numbers of tiers, and the height of a pocket, in points.
const TIERS_POINTS: f32 = 34.0;
const POCKET_POINTS: f32 = 19.0;

/// Draws the rack shown with the load as it is; gives the empty pocket that was clicked.
pub(super) fn face_ui(ui: &mut Ui, ground: &Ground<'_>, requests: &mut Vec<Request>) -> Option<(u32, u32)> {
    let rack = ground.face_rack();
    let place = ground.consist.racks.get(rack)?;
    let kind = ground.meant.train.rack_types.get(place.rack_type)?;
    let (tiers, lanes) = (kind.tiers.len() as u32, place.lanes_y_m.len() as u32);
    ui.horizontal(|ui| {
        ui.strong(rack_words(ground.meant, ground.consist, rack));
        ui.weak("facing the front");
    });
    let width = ((ui.available_width() - TIERS_POINTS - 30.0) / lanes.max(1) as f32).clamp(12.0, 40.0);
    let size = vec2(ui.available_width(), POCKET_POINTS * tiers as f32 + 18.0);
    let (_, rect) = ui.allocate_space(size);
    let theme = ground.shown.theme;
    let weak = theme.color(Role::WeakText);
    let font = FontId::proportional(11.0);
    let corner = |tier: u32, lane: u32| {
        let x = rect.left() + TIERS_POINTS + width * (lane - 1) as f32;
        pos2(x, rect.top() + POCKET_POINTS * (tiers - tier) as f32)
    };
    let mut clicked = None;
    for tier in 1..=tiers {
        let y = corner(tier, 1).y + POCKET_POINTS / 2.0;
        let words = format!("tier {tier}");
        ui.painter().text(pos2(rect.left(), y), Align2::LEFT_CENTER, words, font.clone(), weak);
        for lane in 1..=lanes {
            let pocket = Rect::from_min_size(corner(tier, lane), vec2(width, POCKET_POINTS)).shrink(1.0);
            let lies = lying(ground, rack, (tier, lane));
            if pocket_ui(ui, ground, (pocket, (tier, lane), lies), requests) {
                clicked = Some((tier, lane));
            }
        }
    }
    for lane in 1..=lanes {
        let at = pos2(corner(1, lane).x + width / 2.0, rect.bottom() - 9.0);
        ui.painter().text(at, Align2::CENTER_CENTER, lane.to_string(), font.clone(), weak);
    }
    let beyond = match ground.walk.side {
        TrackSide::Left => pos2(rect.left(), rect.bottom() - 9.0),
        TrackSide::Right => pos2(corner(1, lanes.max(1)).x + width + 4.0, rect.bottom() - 9.0),
    };
    ui.painter().text(beyond, Align2::LEFT_CENTER, "you", font, theme.color(Role::Accent));
    clicked
}

/// The string that lies in a pocket of the load as it is, at departure.
fn lying<'a>(ground: &'a Ground<'_>, rack: usize, pocket: (u32, u32)) -> Option<&'a StringMark> {
    let x = ground.consist.racks.get(rack)?.x;
    let covers = |placement: &Placement| {
        let length = ground.meant.string(&placement.string).map(|string| string.length);
        length.is_some_and(|length| (placement.front..=placement.front + length).contains(&x))
    };
    let departs =
        |mark: &StringMark| ground.loaded.not_confirmed.contains(mark) || ground.meant.record(mark).is_some();
    let mut here = ground.loaded.plan.placements.iter().filter(|one| (one.tier, one.lane) == pocket);
    here.find(|placement| covers(placement) && departs(&placement.string)).map(|placement| &placement.string)
}

/// One pocket; gives whether it is empty and was clicked.
fn pocket_ui(
    ui: &Ui,
    ground: &Ground<'_>,
    (rect, (tier, lane), lies): (Rect, (u32, u32), Option<&StringMark>),
    requests: &mut Vec<Request>,
) -> bool {
    let theme = ground.shown.theme;
    let seen = lies.map(|mark| ground.seen(mark));
    let selected = lies.is_some() && ground.shown.selection.only_string() == lies;
    let response = ui.interact(rect, ui.scope_id().with(("walk pocket", tier, lane)), Sense::CLICK);
    let words = match (lies, &seen) {
        (Some(mark), Some(Seen::NotYet)) => format!("{mark}, not confirmed"),
        (Some(mark), Some(Seen::AsPlanned)) => format!("{mark}, confirmed"),
        (Some(mark), _) => format!("{mark}, differs"),
        (None, _) => "empty".to_owned(),
    };
    let label = format!("tier {tier} lane {lane} here: {words}");
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, selected, label.as_str()));
    let painter = ui.painter_at(rect.expand(1.0));
    let (fill, edge) = match &seen {
        None => (Role::Canvas, Role::Line),
        Some(Seen::NotYet) => (Role::Faint, Role::String),
        Some(Seen::AsPlanned | Seen::Otherwise(_)) => (Role::Selected, Role::String),
    };
    painter.rect_filled(rect, 2.0, theme.color(fill));
    let (thick, edge) = if selected { (2.5, Role::SelectedEdge) } else { (1.0, edge) };
    painter.rect_stroke(rect, 2.0, (thick, theme.color(edge)), StrokeKind::Inside);
    match &seen {
        Some(Seen::AsPlanned) => paint_mark(&painter, rect.center(), Outcome::Pass, *theme),
        Some(Seen::Otherwise(_)) => paint_mark(&painter, rect.center(), Outcome::Near, *theme),
        Some(Seen::NotYet) | None => {}
    }
    let clicked = response.clicked();
    if let Some(mark) = lies.filter(|_| clicked) {
        requests.push(Request::Select { strings: vec![mark.clone()], mode: SelectMode::Only });
    }
    response.on_hover_text(format!("Tier {tier}, lane {lane}: {words}"));
    clicked && lies.is_none()
}
