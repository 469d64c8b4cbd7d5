//! What a deck plan shows under the strings: bodies, headstocks, racks, lanes, the track's centre, the gauge line.

use super::{Deck, LONE_LANE_MM, Tiers, band_outline, least_gap_mm, places_mm, rack_type};
use crate::drawing::bars::label;
use crate::drawing::heights::{deck_mm, tier_mm};
use crate::drawing::vehicles::{BUFFER_MM, mm};
use crate::drawing::{Area, Form, Point, Role, Shape, TextSize, Thing};
use crate::model::VehicleKind;
use crate::statics::VehiclePlace;
use crate::statics::gauge::{allowed_m, half_width_m};

// Sizes of what is only indicated: no plan enters them.
const RACK_MM: f64 = 120.0;
const HEADSTOCK_MM: f64 = 180.0;
const BODY_MARGIN_MM: f64 = 180.0;
/// Half the width of a body without racks where no vehicle of the train has any.
const BARE_HALF_MM: f64 = 1_400.0;
/// Height of a section where none is entered, for the height at which the gauge line counts.
const SECTION_MM: f64 = 172.0;
/// Into how many parts a body is cut on a curve.
const BODY_PARTS: f64 = 12.0;

impl Deck<'_> {
    /// Bodies with marks, headstocks, couplings, lanes and racks, and the track's centre over them.
    pub(super) fn ground_shapes(&self, shapes: &mut Vec<Shape>, state: usize) {
        for place in &self.figures.consist.vehicles {
            self.body_shapes(shapes, place);
            self.lane_shapes(shapes, place);
        }
        let loads = self.figures.state(state);
        for (index, rack) in self.figures.consist.racks.iter().enumerate() {
            let carries = loads.is_some_and(|loads| loads.rack_kg(index) > 0.0);
            let role = if carries { Role::RackCarrying } else { Role::Rack };
            let (x, half) = (mm(rack.x), self.rack_half_mm(index));
            let middle = self.body_mm(rack.vehicle, x);
            let across = (x - RACK_MM / 2.0, x + RACK_MM / 2.0);
            let form = Form::Box(Area::spanning(across, (middle - half, middle + half)));
            shapes.push(Shape { form, role, thing: Some(Thing::Rack(index)) });
        }
        let length = mm(self.figures.consist.length);
        let centre = Form::Line(Point::new(-BUFFER_MM, 0.0), Point::new(length + BUFFER_MM, 0.0));
        shapes.push(Shape { form: centre, role: Role::CentreLine, thing: None });
    }

    fn body_shapes(&self, shapes: &mut Vec<Shape>, place: &VehiclePlace) {
        let thing = Some(Thing::Vehicle(place.vehicle));
        let half = self.half_mm(Some(place));
        let (front, rear) = (mm(place.front), mm(place.rear));
        let inset = BUFFER_MM.min((rear - front) / 10.0);
        let at = |x: f64| self.body_mm(place.vehicle, x);
        let mut push = |form, role| shapes.push(Shape { form, role, thing });
        for (face, head) in [(front, front + inset), (rear - inset, rear)] {
            push(Form::Line(Point::new(face, at(face)), Point::new(head, at(head))), Role::Coupling);
        }
        let role = match place.kind {
            VehicleKind::Engine => Role::EngineBody,
            VehicleKind::Wagon => Role::WagonBody,
            VehicleKind::Idler => Role::IdlerBody,
        };
        push(self.body_form(place, (front + inset, rear - inset), half), role);
        let thick = HEADSTOCK_MM.min(inset);
        for from in [front + inset, rear - inset - thick] {
            let middle = at(from + thick / 2.0);
            let area = Area::spanning((from, from + thick), (middle - half, middle + half));
            push(Form::Box(area), Role::Headstock);
        }
        if let Some(vehicle) = self.figures.plan.train.vehicles.get(place.vehicle) {
            // Between the outermost lane and the edge there is room for no more than a mark.
            let up = (at(mm(place.front)) - half, at(mm(place.front)) - half + BODY_MARGIN_MM);
            let room = Area::spanning((front + inset, rear - inset), up);
            shapes.push(label(vehicle.mark.to_string(), room, (Role::Label, TextSize::Normal), thing));
        }
    }

    fn body_form(&self, place: &VehiclePlace, (from, to): (f64, f64), half: f64) -> Form {
        if self.is_straight() {
            return Form::Box(Area::spanning((from, to), (-half, half)));
        }
        let step = ((to - from) / BODY_PARTS).max(1.0);
        let edges: Vec<_> = places_mm(from, to, std::iter::empty(), step)
            .into_iter()
            .map(|x| {
                let middle = self.body_mm(place.vehicle, x);
                (x, middle - half, middle + half)
            })
            .collect();
        Form::Outline(band_outline(&edges))
    }

    /// The lanes of a vehicle, from its first rack to its last.
    fn lane_shapes(&self, shapes: &mut Vec<Shape>, place: &VehiclePlace) {
        let Some(racks) = self.figures.consist.racks.get(place.racks.clone()) else { return };
        let lanes = racks.iter().map(|rack| rack.lanes_y_m.len()).min().unwrap_or(0);
        for lane in 0..lanes {
            let points = racks.windows(2).flat_map(|pair| {
                let [from, to] = [pair[0].x, pair[1].x].map(mm);
                let [low, high] = [&pair[0], &pair[1]].map(|rack| rack.lanes_y_m[lane] * 1000.0);
                let step = if self.is_straight() { to - from } else { (to - from) / 4.0 };
                places_mm(from, to, std::iter::empty(), step.max(1.0)).into_iter().map(move |x| {
                    let y = low + (high - low) * (x - from) / (to - from).max(1.0);
                    Point::new(x, self.body_mm(place.vehicle, x) + y)
                })
            });
            let form = Form::Path(points.collect());
            if !matches!(&form, Form::Path(points) if points.is_empty()) {
                shapes.push(Shape { form, role: Role::Lane, thing: None });
            }
        }
    }

    /// The reference line at the height of the strings shown, along every vehicle with racks, with what it allows
    /// beyond itself in the curve; nothing where no line is chosen, or its table ends before the radius.
    pub(super) fn gauge_shapes(&self, shapes: &mut Vec<Shape>) {
        for place in &self.figures.consist.vehicles {
            let Some([left, right]) = self.gauge_mm(place) else { continue };
            for y in [-left, right] {
                let form = Form::Path(vec![Point::new(mm(place.front), y), Point::new(mm(place.rear), y)]);
                shapes.push(Shape { form, role: Role::GaugeLine, thing: None });
            }
        }
    }

    /// How far the reference line reaches to the left and the right along a vehicle, in mm.
    fn gauge_mm(&self, place: &VehiclePlace) -> Option<[f64; 2]> {
        let line = self.figures.plan.route.gauge.as_ref()?;
        let racks = self.figures.consist.racks.get(place.racks.clone())?;
        let tallest = self.figures.plan.sections.iter().filter_map(|section| section.height_mm);
        let tallest = tallest.fold(0.0, f64::max);
        let tallest = if tallest > 0.0 { tallest } else { SECTION_MM };
        let seats = racks.iter().filter_map(|rack| Some((rack.vehicle, rack_type(self.figures, rack)?)));
        let seats = seats.flat_map(|(vehicle, kind)| {
            let tiers = match self.look.tiers {
                Tiers::Only(tier) => tier..=tier,
                Tiers::All => 1..=self.tiers,
            };
            tiers.filter_map(move |tier| Some(deck_mm(self.figures, vehicle) + tier_mm(kind, tier)?.0))
        });
        let halves = seats.flat_map(|seat| {
            let corners = line.points_mm.iter().map(|(_, up)| *up);
            let between = corners.filter(move |up| (seat..=seat + tallest).contains(up));
            [seat, seat + tallest].into_iter().chain(between).map(|up| half_width_m(line, up / 1000.0))
        });
        let half = halves.min_by(f64::total_cmp)? * 1000.0;
        let [inside, outside] = match self.look.track.curvature_per_m().abs() {
            0.0 => [0.0; 2],
            curvature => allowed_m(line, 1.0 / curvature)?.map(|m| m * 1000.0),
        };
        let right_is_inside = self.look.track.curvature_per_m() > 0.0;
        Some(if right_is_inside { [half + outside, half + inside] } else { [half + inside, half + outside] })
    }

    /// Half the width of a vehicle's body as drawn, in mm; of none: of the widest of the train.
    pub(super) fn half_mm(&self, place: Option<&VehiclePlace>) -> f64 {
        let of_racks = |racks: std::ops::Range<usize>| {
            racks.map(|rack| self.rack_half_mm(rack) + BODY_MARGIN_MM).max_by(f64::total_cmp)
        };
        let all = 0..self.figures.consist.racks.len();
        place
            .and_then(|place| of_racks(place.racks.clone()))
            .or_else(|| of_racks(all))
            .unwrap_or(BARE_HALF_MM)
    }

    fn rack_half_mm(&self, rack: usize) -> f64 {
        let kind = self.figures.consist.racks.get(rack).and_then(|rack| rack_type(self.figures, rack));
        let Some(kind) = kind else { return BARE_HALF_MM };
        let outermost = kind.lanes_y_mm.iter().map(|y| y.abs()).fold(0.0, f64::max);
        outermost + least_gap_mm(kind).unwrap_or(LONE_LANE_MM) / 2.0
    }

    /// The outermost of bodies as they stand and of the gauge line, from the track's centre in mm, either way.
    pub fn outer_mm(&self) -> f64 {
        let vehicles = self.figures.consist.vehicles.iter();
        let reach = |place: &VehiclePlace| {
            let places = [mm(place.front), place.middle_m * 1000.0, mm(place.rear)];
            let aside = places.map(|x| self.body_mm(place.vehicle, x).abs()).into_iter().fold(0.0, f64::max);
            let gauge = self.gauge_mm(place).map_or(0.0, |[left, right]| left.max(right));
            (self.half_mm(Some(place)) + aside).max(gauge)
        };
        vehicles.map(reach).fold(0.0, f64::max)
    }
}
