//! The cross-section at a rack.

use super::bars::{Load, label, lying};
use super::heights::{assumed_decks, deck_mm, rack_top_mm, tier_mm};
use super::{Anchor, Area, Form, Picture, Point, Role, Shape, TextSize, Thing, section_outline};
use crate::checks::{Comparison, Outcome, Sense, Subject};
use crate::model::{LimitKind, RackType, TrackSide};
use crate::statics::{Figures, RackPlace, StateFigures, StateRule, SupportLoads};
use crate::units::{Quantity, Style};

// Sizes of what is only indicated: no plan enters them.
const BODY_DEPTH_MM: f64 = 350.0;
const WHEEL_MM: (f64, f64) = (130.0, 920.0);
const POST_MM: f64 = 80.0;
const MARGIN_MM: f64 = 100.0;
/// How wide a pocket is drawn whose width is not entered, as a share of the least lane distance.
const POCKET_SHARE: f64 = 0.8;
/// How wide a pocket of a rack with one lane is drawn whose width is not entered.
const LONE_POCKET_MM: f64 = 200.0;
/// Rows below the rail, (bottom, top) in mm.
const BALANCE_MM: (f64, f64) = (-420.0, -240.0);
const BALANCE_FIGURE_MM: (f64, f64) = (-620.0, -440.0);
const LOAD_MM: (f64, f64) = (-900.0, -720.0);
const LOAD_FIGURE_MM: (f64, f64) = (-1_100.0, -920.0);

/// The rack (an index into the consist) in a state, looking toward the front end of the train.
///
/// Across is y, so right is right as one faces the front; up is height above the rail; true in both. Pockets
/// are things to drop upon. Sections are schematic ([`section_outline`]). Below the rail: left and right
/// wheel loads of the nearer support under the worse assumption, and the rack's load against its rating.
/// Empty where there is no such rack.
pub fn rack_face(figures: &Figures, state: usize, rack: usize, style: Style) -> Picture {
    let place = figures.consist.racks.get(rack);
    let kind = place.and_then(|place| figures.plan.train.rack_types.get(place.rack_type));
    let (Some(place), Some(rack_type)) = (place, kind) else { return Picture::of(Vec::new()) };
    let face = Face { figures, rack, place, rack_type, deck_mm: deck_mm(figures, place.vehicle) };
    let loads = figures.state(state);
    let mut shapes = Vec::new();
    face.frame_shapes(&mut shapes, loads);
    face.pocket_shapes(&mut shapes, state);
    face.string_shapes(&mut shapes, state);
    face.gauge_shapes(&mut shapes);
    if let Some(loads) = loads {
        face.centre_shapes(&mut shapes, loads);
        face.balance_shapes(&mut shapes, (state, loads), style);
        face.load_shapes(&mut shapes, loads, style);
    }
    face.title_shape(&mut shapes);
    let mut picture = Picture::of(shapes);
    picture.assumed = assumed_decks(figures, style);
    picture.assumed.extend(face.assumed());
    picture
}

struct Face<'f> {
    figures: &'f Figures,
    rack: usize,
    place: &'f RackPlace,
    rack_type: &'f RackType,
    deck_mm: f64,
}

impl Face<'_> {
    /// Track, wheels, deck, posts and seats.
    fn frame_shapes(&self, shapes: &mut Vec<Shape>, loads: Option<&StateFigures>) {
        let half = self.half_width_mm();
        let vehicle = Some(Thing::Vehicle(self.place.vehicle));
        let mut push = |form, role, thing| shapes.push(Shape { form, role, thing });
        push(Form::Line(Point::new(-half, 0.0), Point::new(half, 0.0)), Role::Rail, None);
        let contact = self.figures.consist.vehicles.get(self.place.vehicle).map(|place| place.contact_m);
        for side in [-1.0, 1.0] {
            let middle = side * contact.unwrap_or_default() * 500.0;
            let across = (middle - WHEEL_MM.0 / 2.0, middle + WHEEL_MM.0 / 2.0);
            push(Form::Box(Area::spanning(across, (0.0, WHEEL_MM.1))), Role::Wheel, vehicle);
        }
        let deck = Area::spanning((-half, half), (self.deck_mm - BODY_DEPTH_MM, self.deck_mm));
        push(Form::Box(deck), Role::WagonBody, vehicle);
        let carries = loads.is_some_and(|loads| loads.rack_kg(self.rack) > 0.0);
        let role = if carries { Role::RackCarrying } else { Role::Rack };
        let up = (self.deck_mm, self.deck_mm + rack_top_mm(self.rack_type));
        let thing = Some(Thing::Rack(self.rack));
        for (from, to) in [(-half, -half + POST_MM), (half - POST_MM, half)] {
            push(Form::Box(Area::spanning((from, to), up)), role, thing);
        }
        for (tier, _) in (1..).zip(&self.rack_type.tiers) {
            let Some((seat, _)) = tier_mm(self.rack_type, tier) else { continue };
            let up = self.deck_mm + seat;
            push(Form::Line(Point::new(-half, up), Point::new(half, up)), Role::Seat, thing);
        }
        let top = Point::new(0.0, self.deck_mm + rack_top_mm(self.rack_type));
        push(Form::Line(Point::new(0.0, 0.0), top), Role::CentreLine, None);
    }

    fn pocket_shapes(&self, shapes: &mut Vec<Shape>, state: usize) {
        for (tier, _) in (1..).zip(&self.rack_type.tiers) {
            for (lane, _) in (1..).zip(&self.place.lanes_y_m) {
                let Some(area) = self.pocket(tier, lane) else { continue };
                let taken = self.strings(state).any(|(_, pocket, _)| pocket == (tier, lane));
                let role = if taken { Role::PocketTaken } else { Role::PocketEmpty };
                let thing = Some(Thing::Pocket { rack: self.rack, tier, lane });
                shapes.push(Shape { form: Form::Frame(area), role, thing });
            }
        }
    }

    fn string_shapes(&self, shapes: &mut Vec<Shape>, state: usize) {
        let plan = &self.figures.plan;
        for (string, (tier, lane), section) in self.strings(state) {
            let (Some(pocket), Some(ordered)) = (self.pocket(tier, lane), plan.order.get(string)) else {
                continue;
            };
            let (across, up) = (pocket.middle().across_mm, pocket.least.up_mm);
            let outline = plan.sections.get(section).and_then(section_outline);
            let form = match outline {
                Some(points) => Form::Outline(
                    points.iter().map(|at| Point::new(at.across_mm + across, at.up_mm + up)).collect(),
                ),
                // Not known well enough to be drawn: a plain block says that something is there.
                None => Form::Box(Area::spanning(
                    (across - pocket.width_mm() / 4.0, across + pocket.width_mm() / 4.0),
                    (up, up + pocket.height_mm() / 2.0),
                )),
            };
            let drop = ordered.drop.as_ref();
            let drop = drop.and_then(|name| plan.drops.iter().position(|drop| drop.name == *name));
            let thing = Some(Thing::String(string));
            shapes.push(Shape { form, role: Role::String(drop), thing });
            shapes.push(label(ordered.mark.to_string(), pocket, (Role::Label, TextSize::Small), thing));
        }
    }

    fn gauge_shapes(&self, shapes: &mut Vec<Shape>) {
        let Some(gauge) = &self.figures.plan.route.gauge else { return };
        let right = gauge.points_mm.iter().map(|(half, up)| Point::new(*half, *up));
        let left = gauge.points_mm.iter().rev().map(|(half, up)| Point::new(-half, *up));
        shapes.push(Shape {
            form: Form::Path(right.chain(left).collect()),
            role: Role::GaugeLine,
            thing: None,
        });
    }

    fn centre_shapes(&self, shapes: &mut Vec<Shape>, loads: &StateFigures) {
        let Some(loads) = loads.vehicles.get(self.place.vehicle) else { return };
        let Some(height_m) = loads.centre_height_m.filter(|height| height.is_finite()) else { return };
        let middle = Point::new(loads.centre_y_m * 1000.0, height_m * 1000.0);
        let form = Form::Circle { middle, radius_mm: 45.0 };
        let thing = Some(Thing::Vehicle(self.place.vehicle));
        shapes.push(Shape { form, role: Role::CentreOfGravity, thing });
    }

    /// Left and right wheel loads as bars that grow outward from the middle; equal in balance.
    fn balance_shapes(&self, shapes: &mut Vec<Shape>, (state, loads): (usize, &StateFigures), style: Style) {
        let support = usize::from(self.place.from_middle_m > 0.0);
        let vehicle = self.place.vehicle;
        let Some(loads) = loads.vehicles.get(vehicle).and_then(|loads| loads.supports.get(support)) else {
            return;
        };
        let wheels = if loads.soft.ratio() > loads.stiff.ratio() { loads.soft } else { loads.stiff };
        let outcome = self.balance_outcome(state, loads);
        let thing = Some(Thing::Support { vehicle, support });
        let whole = wheels.left_kg + wheels.right_kg;
        let reach = |kg: f64| {
            if whole > 0.0 { (kg / whole).clamp(0.0, 1.0) * self.half_width_mm() } else { 0.0 }
        };
        let sides = [(TrackSide::Left, -1.0, wheels.left_kg), (TrackSide::Right, 1.0, wheels.right_kg)];
        for (side, outward, kg) in sides {
            let area = Area::spanning((0.0, outward * reach(kg)), BALANCE_MM);
            shapes.push(Shape { form: Form::Box(area), role: Role::Balance(side, outcome), thing });
            let room = Area::spanning((0.0, outward * self.half_width_mm()), BALANCE_FIGURE_MM);
            let words = Quantity::mass(kg).show(style);
            shapes.push(label(words, room, (Role::Figure, TextSize::Small), thing));
        }
        let room = Area::spanning((-self.half_width_mm() / 4.0, self.half_width_mm() / 4.0), BALANCE_MM);
        let ratio = Quantity::ratio(wheels.ratio()).show(style);
        shapes.push(label(ratio, room, (Role::Figure, TextSize::Normal), thing));
    }

    /// How the worse wheel ratio fares against the plan's limit in this state; undecided without one.
    fn balance_outcome(&self, state: usize, loads: &SupportLoads) -> Outcome {
        let limits = &self.figures.plan.limits;
        let limit = limits.get(LimitKind::WheelRatio).filter(|limit| limit.accepted_by.is_some());
        let Some(limit) = limit else { return Outcome::Undecided };
        let runs = self.figures.states.get(state).is_none_or(|state| state.rule == StateRule::Running);
        let capacity = if runs { limit.running } else { limit.working.unwrap_or(limit.running) };
        let demand = Quantity::ratio(loads.worse_ratio());
        Comparison::new(demand, capacity, Sense::AtMost).outcome(limits.near_share())
    }

    fn load_shapes(&self, shapes: &mut Vec<Shape>, loads: &StateFigures, style: Style) {
        let near = self.figures.plan.limits.near_share();
        let load = Load::against(loads.rack_kg(self.rack), &[self.rack_type.rack_rating_kg], near);
        // The rating ends where a bar far beyond it still stays within the picture.
        let half = self.half_width_mm();
        let across = (-half, half * 0.4);
        lying(shapes, &load, Area::spanning(across, LOAD_MM), Thing::Rack(self.rack));
        let mut words = Quantity::mass(load.kg).show(style);
        match self.rack_type.rack_rating_kg {
            Some(rating) => words.push_str(&format!(" of {}", Quantity::mass(rating).show(style))),
            None => words.push_str(", rating not entered"),
        }
        let room = Area::spanning((-half, half), LOAD_FIGURE_MM);
        let thing = Some(Thing::Rack(self.rack));
        shapes.push(label(words, room, (Role::Figure, TextSize::Normal), thing));
    }

    fn title_shape(&self, shapes: &mut Vec<Shape>) {
        let at = Point::new(0.0, self.deck_mm + rack_top_mm(self.rack_type) + 2.0 * MARGIN_MM);
        let words = Subject::Rack(self.rack).place(self.figures);
        let form = Form::Text { at, anchor: Anchor::Middle, words, size: TextSize::Large, room: None };
        shapes.push(Shape { form, role: Role::Label, thing: Some(Thing::Rack(self.rack)) });
    }

    /// Strings that cross the rack in a pocket that it has: order index, pocket, section index.
    fn strings(&self, state: usize) -> impl Iterator<Item = (usize, (u32, u32), usize)> {
        let crossing = self.figures.present(state).filter(|placed| placed.racks.contains(&self.rack));
        crossing.filter_map(|placed| {
            let placement = self.figures.plan.placements.get(placed.placement)?;
            Some((placed.string, (placement.tier, placement.lane), placed.section))
        })
    }

    fn pocket(&self, tier: u32, lane: u32) -> Option<Area> {
        let y_mm = self.place.lanes_y_m.get((lane as usize).checked_sub(1)?)? * 1000.0;
        let (bottom, top) = tier_mm(self.rack_type, tier)?;
        let half = self.pocket_width_mm() / 2.0;
        Some(Area::spanning((y_mm - half, y_mm + half), (self.deck_mm + bottom, self.deck_mm + top)))
    }

    fn pocket_width_mm(&self) -> f64 {
        let lanes = &self.rack_type.lanes_y_mm;
        let gaps = lanes.windows(2).filter_map(|pair| Some(pair.last()? - pair.first()?));
        let least = gaps.min_by(f64::total_cmp).map(|gap| gap * POCKET_SHARE);
        self.rack_type.pocket_width_mm.or(least).unwrap_or(LONE_POCKET_MM)
    }

    fn half_width_mm(&self) -> f64 {
        let outermost = self.rack_type.lanes_y_mm.iter().map(|y| y.abs()).fold(0.0, f64::max);
        outermost + self.pocket_width_mm() / 2.0 + POST_MM + MARGIN_MM
    }

    fn assumed(&self) -> Vec<String> {
        let name = &self.rack_type.name;
        let mut assumed = Vec::new();
        if self.rack_type.pocket_width_mm.is_none() {
            assumed.push(format!("The pocket width of {name} is not entered; pockets are only indicated."));
        }
        if self.rack_type.tiers.iter().any(|tier| tier.clear_mm.is_none()) {
            assumed.push(format!("A clear height of {name} is not entered; its pockets are only indicated."));
        }
        assumed
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{expect_sound, figures, places, plan, texts};
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::model::{GaugeLine, Plan, Source, Sureness};

    fn face(plan: Plan, rack: usize) -> Picture {
        let picture = rack_face(&figures(plan), 0, rack, Style::default());
        expect_sound(&picture);
        picture
    }

    /// S1 and S2 in the outermost lanes of tier 1.
    fn pair() -> Plan {
        let mut pair = empty_plan(1);
        place(&mut pair, "S1", 15_000, (1, 1, 2_000));
        place(&mut pair, "S2", 15_000, (1, 10, 2_000));
        pair
    }

    // Lane 4 of ten over +-1,200 mm is at -400 mm; tier 2 is 400 mm above the deck at 1,250 mm; pockets are
    // 200 mm wide and high; 60E1 is 150 mm wide and 172 mm high.
    #[test]
    fn pockets_and_sections_stand_where_the_rack_puts_them() {
        let picture = face(plan(), 1);
        assert_eq!(places(&picture, Role::PocketEmpty).len(), 49);
        assert_eq!(places(&picture, Role::PocketTaken), [[-500, -300, 1_650, 1_850]]);
        assert_eq!(places(&picture, Role::String(None)), [[-475, -325, 1_650, 1_822]]);
        let pocket = Thing::Pocket { rack: 1, tier: 2, lane: 4 };
        assert_eq!(picture.showing(pocket).count(), 1);
        let words = texts(&picture);
        assert!(words.contains(&"S1") && words.contains(&"vehicle W1 rack 2"), "{words:?}");
    }

    #[test]
    fn a_string_shows_only_at_racks_that_it_crosses() {
        let mut short = empty_plan(1);
        place(&mut short, "S1", 9_000, (1, 1, 2_000));
        assert_eq!(places(&face(short.clone(), 1), Role::String(None)).len(), 1);
        assert_eq!(places(&face(short, 2), Role::String(None)).len(), 0);
    }

    #[test]
    fn a_pair_in_mirrored_lanes_is_its_own_mirror_image_and_in_balance() {
        let picture = face(pair(), 1);
        let [left, right] = places(&picture, Role::String(None)).try_into().unwrap();
        assert_eq!([left[0], left[1]], [-right[1], -right[0]]);
        assert_eq!([left[2], left[3]], [right[2], right[3]]);
        let [left] = places(&picture, Role::Balance(TrackSide::Left, Outcome::Pass)).try_into().unwrap();
        let [right] = places(&picture, Role::Balance(TrackSide::Right, Outcome::Pass)).try_into().unwrap();
        assert_eq!([left[0], left[1]], [-right[1], -right[0]]);
        assert!(texts(&picture).contains(&"1.00 : 1"));
    }

    #[test]
    fn a_one_sided_load_leans_to_its_side() {
        let mut leaning = pair();
        leaning.placements.remove(1);
        let picture = face(leaning, 1);
        let bars = |side| -> Vec<[i64; 4]> {
            Outcome::ALL.iter().flat_map(|outcome| places(&picture, Role::Balance(side, *outcome))).collect()
        };
        assert!(-bars(TrackSide::Left)[0][0] > bars(TrackSide::Right)[0][1]);
        assert!(places(&picture, Role::CentreOfGravity)[0][0] + 45 < 0);
    }

    #[test]
    fn the_centre_of_gravity_of_an_empty_wagon_is_that_of_its_tare() {
        assert_eq!(places(&face(empty_plan(1), 0), Role::CentreOfGravity), [[-45, 45, 655, 745]]);
        let mut unknown = empty_plan(1);
        unknown.train.vehicle_types[0].tare_cog_height_mm = None;
        assert!(places(&face(unknown, 0), Role::CentreOfGravity).is_empty());
    }

    #[test]
    fn a_wheel_ratio_that_nobody_accepted_leaves_the_balance_undecided() {
        let mut open = pair();
        if let Some(limit) = open.limits.entries.get_mut(&LimitKind::WheelRatio) {
            limit.accepted_by = None;
        }
        let picture = face(open, 1);
        assert_eq!(places(&picture, Role::Balance(TrackSide::Left, Outcome::Undecided)).len(), 1);
    }

    #[test]
    fn the_gauge_line_is_mirrored() {
        let mut gauged = plan();
        gauged.route.gauge = Some(GaugeLine {
            name: "Line".to_owned(),
            points_mm: vec![(1_600.0, 400.0), (1_500.0, 3_200.0)],
            allowed_mm: Vec::new(),
            source: Source { text: "test".to_owned(), sure: Sureness::Entered },
        });
        assert_eq!(places(&face(gauged, 1), Role::GaugeLine), [[-1_600, 1_600, 400, 3_200]]);
    }

    #[test]
    fn what_nobody_entered_is_assumed_and_told() {
        let mut bare = plan();
        bare.train.vehicle_types[0].deck_height = None;
        let rack = &mut bare.train.rack_types[0];
        (rack.pocket_width_mm, rack.rack_rating_kg) = (None, None);
        rack.tiers.iter_mut().for_each(|tier| tier.clear_mm = None);
        bare.sections[0].web_mm = None;
        let picture = face(bare, 1);
        assert_eq!(picture.assumed.len(), 3);
        assert_eq!(places(&picture, Role::String(None)).len(), 1);
        assert_eq!(places(&picture, Role::LoadRoom(Outcome::Undecided)).len(), 1);
    }

    #[test]
    fn there_is_nothing_to_see_where_there_is_no_rack() {
        assert!(face(plan(), 3).shapes.is_empty());
        assert!(face(empty_plan(0), 0).shapes.is_empty());
    }
}
