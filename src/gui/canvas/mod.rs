//! The drawn views and the tools that work on them: the train's side, the rack face, and drags over both.
//!
//! Everything drawn is a picture of `drawing`; here it is projected, painted by role, spoken by name, and
//! dragged. A drag works on the settled plan and asks for a preview each time its edit changes.

mod across;
mod band;
mod card;
mod change;
mod compared;
mod deck;
mod deck_hands;
mod deck_nodes;
mod drag;
mod face;
mod fill;
mod keys;
mod look;
mod marks;
mod paint;
mod pairs;
mod ruler;
mod side;
mod side_nodes;
mod small;
mod snap;
mod strips;
mod target;
mod typed;
mod vehicle_drag;
mod view;

use crate::planning::lay;
pub use across::{mirrored, swapped_two};
pub use change::{Change, place_free, put_into};
pub(in crate::gui) use change::{Shift, move_by, move_to};
pub use compared::{ComparedPicture, ComparedView};
pub use drag::{Drag, Origin};
pub use face::picture_ui;
pub use fill::{fill_tier, strings_to_fill, tier_to_fill};
pub use lay::{Pocket, first_free_pocket, propose_hold, rack_index, rack_ref, rack_words, sensible_front};
pub use look::{Look, Pattern, drop_look, mix};
pub use paint::pattern_mesh;
pub(in crate::gui) use paint::triangles;
pub use pairs::Pairs;
pub(in crate::gui) use small::{small_face_ui, small_side_ui};
pub use snap::{Along, to_next_catch};

use super::{Request, Shown, ZoomTarget};
use crate::drawing::DeckLook;
use crate::model::{Plan, StringMark};
use crate::units::Length;
use band::Band;
use deck::DeckFrame;
use face::FaceFrame;
use side::SideFrame;
use std::collections::BTreeMap;
use std::sync::Arc;
use vehicle_drag::VehicleDrag;
use view::Stretch;

/// The state of the drawn views: zoom, pan, and what is being dragged.
#[derive(Debug, Default)]
pub struct Canvas {
    /// What the train side shows; none: fit the whole train.
    stretch: Option<Stretch>,
    /// What to bring into view with the next frame.
    zoom: Option<ZoomTarget>,
    /// The rubber bands of the train side, of the deck plan and of the rack face.
    band: Band,
    deck_band: Band,
    face_band: Band,
    drag: Option<Drag>,
    vehicle_drag: Option<VehicleDrag>,
    /// Where each string lay last, so that one that was taken off goes back there.
    kept: BTreeMap<StringMark, Length>,
    kept_of: Option<Arc<Plan>>,
    side: Option<SideFrame>,
    deck: Option<DeckFrame>,
    face: Option<FaceFrame>,
    /// Where the yard list lies, to drop strings back upon.
    yard: Option<egui::Rect>,
    /// What the deck plan should bring into view across the train with the next frame.
    across: Option<ZoomTarget>,
    /// The place across the train in the middle of a deck plan that shows only a part of it, in mm.
    across_mm: f64,
    /// The pocket that gets the focus with the next frame.
    focus_next: Option<Pocket>,
}

impl Canvas {
    /// Begins a frame: what is not drawn in it is not there to be dropped upon.
    pub fn begin_frame(&mut self) {
        (self.side, self.deck, self.face) = (None, None, None);
    }

    /// Draws the train side into all of `ui`.
    pub fn train_side_ui(&mut self, ui: &mut egui::Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        self.keep_fronts(shown.settled.plan.clone());
        side::side_ui(self, ui, shown, requests);
    }

    /// Draws the deck plan that `look` chooses into all of `ui`.
    pub fn deck_plan_ui(
        &mut self,
        ui: &mut egui::Ui,
        shown: &Shown<'_>,
        look: DeckLook,
        requests: &mut Vec<Request>,
    ) {
        self.keep_fronts(shown.settled.plan.clone());
        deck::deck_ui(self, ui, shown, look, requests);
    }

    /// The tier that a deck plan of one tier must show, so that what is to be brought into view can be seen.
    pub fn wanted_tier(&self, plan: &Plan) -> Option<u32> {
        let marks = match self.across.as_ref()? {
            ZoomTarget::Strings(marks) => marks.as_slice(),
            ZoomTarget::StringEnd(mark, _) | ZoomTarget::StringAtRack(mark, _) => std::slice::from_ref(mark),
            ZoomTarget::Pocket { tier, .. } => return Some(*tier),
            ZoomTarget::Train | ZoomTarget::Vehicle(_) | ZoomTarget::Rack(_) => return None,
        };
        marks.iter().find_map(|mark| plan.placement(mark)).map(|placement| placement.tier)
    }

    /// Draws the face of the selected rack into all of `ui`.
    pub fn rack_face_ui(&mut self, ui: &mut egui::Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        face::face_ui(self, ui, shown, requests);
    }

    /// Takes the keys of this frame while a drag lasts; called before anything else sees them.
    pub fn take_keys(&mut self, ctx: &egui::Context) {
        drag::take_keys(self, ctx);
    }

    /// Says where the yard list lies in this frame.
    pub fn yard_lies_at(&mut self, rect: egui::Rect) {
        self.yard = Some(rect);
    }

    /// Follows a drag over all views; called last in each frame, so that the ghost lies on top.
    pub fn drag_ui(&mut self, ui: &mut egui::Ui, shown: &Shown<'_>, requests: &mut Vec<Request>) {
        drag::drag_ui(self, ui, shown, requests);
        vehicle_drag::vehicle_drag_ui(self, ui, shown, requests);
    }

    /// Takes hold of strings from outside the drawn views; the pointer is down.
    pub fn grab(&mut self, strings: Vec<StringMark>, grab_offset: Length) {
        if !strings.is_empty() {
            self.drag = Some(Drag::new(strings, Origin::Yard, grab_offset));
        }
    }

    /// Whether a drag lasts.
    pub fn is_dragging(&self) -> bool {
        self.drag.is_some() || self.vehicle_drag.is_some()
    }

    /// Brings something into view on train side and deck plan with the next frame.
    pub fn zoom_to(&mut self, target: ZoomTarget) {
        self.across = Some(target.clone());
        self.zoom = Some(target);
    }

    /// Where each string lay last; strings that never lay on the train are missing.
    pub fn kept_fronts(&self) -> &BTreeMap<StringMark, Length> {
        &self.kept
    }

    fn keep_fronts(&mut self, plan: Arc<Plan>) {
        if self.kept_of.as_ref().is_some_and(|kept| Arc::ptr_eq(kept, &plan)) {
            return;
        }
        for placement in &plan.placements {
            self.kept.insert(placement.string.clone(), placement.front);
        }
        self.kept_of = Some(plan);
    }
}
