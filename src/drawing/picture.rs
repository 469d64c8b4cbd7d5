//! A picture: shapes with their roles, in millimetres.

use super::Thing;
use crate::checks::Outcome;
use crate::model::TrackSide;

/// A place in a picture in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right on the picture: x rearward on a train side and a deck plan, y to the right on a rack face.
    pub across_mm: f64,
    /// Upward on the picture: height above the top of rail; on a deck plan y to the right.
    pub up_mm: f64,
}

/// An upright rectangle in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Area {
    /// Its left lower corner.
    pub least: Point,
    /// Its right upper corner.
    pub most: Point,
}

/// How a text sits on its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// The point is the middle of the text.
    Middle,
    /// The point is the middle of the text's left side.
    Left,
    /// The point is the middle of the text's right side.
    Right,
}

/// How large a text is, in steps that the painter turns into its own sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TextSize {
    /// Figures under axles, marks in pockets.
    Small,
    /// Marks of vehicles and strings.
    Normal,
    /// Headings of a picture.
    Large,
}

/// What a shape looks like.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A filled upright rectangle.
    Box(Area),
    /// An upright rectangle of which only the edge shows; its inside belongs to its thing all the same.
    Frame(Area),
    /// A straight line.
    Line(Point, Point),
    /// A closed, filled outline; it may be concave.
    Outline(Vec<Point>),
    /// An open line through points.
    Path(Vec<Point>),
    /// A filled circle. A painter that stretches heights keeps its lowest point and width.
    Circle {
        /// Its middle.
        middle: Point,
        /// Its radius in mm.
        radius_mm: f64,
    },
    /// Words.
    Text {
        /// Where.
        at: Point,
        /// How they sit there.
        anchor: Anchor,
        /// What they say.
        words: String,
        /// How large.
        size: TextSize,
        /// Where they must fit; a painter leaves them out where they do not, and may move them within it so
        /// that they stay in sight.
        room: Option<Area>,
    },
}

/// What a shape means; a painter chooses its look by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// The top of rail that the train stands on.
    Rail,
    /// A wagon's frame and deck.
    WagonBody,
    /// An idler's frame and deck.
    IdlerBody,
    /// An engine's body.
    EngineBody,
    /// A bogie's frame.
    Bogie,
    /// A wheel.
    Wheel,
    /// A coupling with its buffers.
    Coupling,
    /// The end of a frame, seen from above.
    Headstock,
    /// The middle of a lane between the racks of a vehicle.
    Lane,
    /// A rack on which nothing lies in this state.
    Rack,
    /// A rack that carries something.
    RackCarrying,
    /// The seat of a tier.
    Seat,
    /// A fixed stop, or what stands beyond an end of the train.
    EndStop,
    /// A string between its first and last rack; the drop that it is for, as an index.
    String(Option<usize>),
    /// A string that cannot be worked out: no rack, it tips, or no such pocket.
    StringInTrouble,
    /// A string beyond its first or last rack; the drop as for [`Role::String`].
    Overhang(Option<usize>),
    /// The tip of a string's end.
    StringEnd,
    /// How far the end of a string may creep, both ways.
    CreepRange,
    /// How far the end of a string swings sideways in the curve.
    Swing,
    /// A string that lies as it did before, where others do not.
    Unchanged,
    /// Where a string lay before.
    Former,
    /// From the front end of a string before to that now.
    Shift,
    /// The load of an axle before.
    FormerLoad,
    /// Where a string is held.
    Hold,
    /// A pocket that is empty.
    PocketEmpty,
    /// A pocket that is taken.
    PocketTaken,
    /// A load against its rating: the filled part, up to the load.
    LoadBar(Outcome),
    /// The whole of a rating, or, undecided, the place of a bar whose rating is not entered.
    LoadRoom(Outcome),
    /// The tick at the rating.
    RatingTick,
    /// The same load on springs, where the bar is that of level rigid racks.
    SpringsMark(Outcome),
    /// The band that tolerances of height and mass give a load.
    ToleranceBand,
    /// The load on one side of an axle, against the other.
    Balance(TrackSide, Outcome),
    /// The centre of gravity of a vehicle with its load.
    CentreOfGravity,
    /// The reference line of the gauge.
    GaugeLine,
    /// What reaches beyond the reference line.
    OutOfGauge,
    /// The middle of the track.
    CentreLine,
    /// A mark or name.
    Label,
    /// A figure.
    Figure,
}

/// One shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// What it looks like.
    pub form: Form,
    /// What it means.
    pub role: Role,
    /// What it shows, where it can be chosen or dropped upon.
    pub thing: Option<Thing>,
}

/// Shapes in the order in which they are painted, later ones on top.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The shapes.
    pub shapes: Vec<Shape>,
    /// Everything worth seeing; all shapes lie within it.
    pub bounds: Area,
    /// How many times larger heights should be painted than lengths for the picture to be read well; 1 is
    /// true. The shapes themselves are true. A painter that uses another factor says which it uses.
    pub vertical_exaggeration: f64,
    /// What the picture had to assume because it was not entered, a sentence each.
    pub assumed: Vec<String>,
}

impl Point {
    /// The point at `across_mm`, `up_mm`.
    pub const fn new(across_mm: f64, up_mm: f64) -> Self {
        Self { across_mm, up_mm }
    }
}

impl Area {
    /// The rectangle with these corners, given in any order.
    pub fn of(a: Point, b: Point) -> Self {
        Self {
            least: Point::new(a.across_mm.min(b.across_mm), a.up_mm.min(b.up_mm)),
            most: Point::new(a.across_mm.max(b.across_mm), a.up_mm.max(b.up_mm)),
        }
    }

    /// The rectangle from `across` (from, to) and `up` (from, to), all in mm.
    pub fn spanning(across: (f64, f64), up: (f64, f64)) -> Self {
        Self::of(Point::new(across.0, up.0), Point::new(across.1, up.1))
    }

    /// Its width in mm.
    pub fn width_mm(self) -> f64 {
        self.most.across_mm - self.least.across_mm
    }

    /// Its height in mm.
    pub fn height_mm(self) -> f64 {
        self.most.up_mm - self.least.up_mm
    }

    /// Its middle.
    pub fn middle(self) -> Point {
        Point::new(
            (self.least.across_mm + self.most.across_mm) / 2.0,
            (self.least.up_mm + self.most.up_mm) / 2.0,
        )
    }

    /// Whether `point` lies within it or on its edge.
    pub fn contains(self, point: Point) -> bool {
        (self.least.across_mm..=self.most.across_mm).contains(&point.across_mm)
            && (self.least.up_mm..=self.most.up_mm).contains(&point.up_mm)
    }

    /// The least rectangle around both.
    pub fn around(self, other: Self) -> Self {
        Self::of(
            Point::new(
                self.least.across_mm.min(other.least.across_mm),
                self.least.up_mm.min(other.least.up_mm),
            ),
            Point::new(self.most.across_mm.max(other.most.across_mm), self.most.up_mm.max(other.most.up_mm)),
        )
    }
}

impl Form {
    /// The least rectangle around it; of a text, its point.
    pub fn bounds(&self) -> Area {
        match self {
            Self::Box(area) | Self::Frame(area) => *area,
            Self::Line(from, to) => Area::of(*from, *to),
            Self::Outline(points) | Self::Path(points) => {
                let mut areas = points.iter().map(|point| Area::of(*point, *point));
                let first = areas.next().unwrap_or_default();
                areas.fold(first, Area::around)
            }
            Self::Circle { middle, radius_mm } => Area::of(
                Point::new(middle.across_mm - radius_mm, middle.up_mm - radius_mm),
                Point::new(middle.across_mm + radius_mm, middle.up_mm + radius_mm),
            ),
            Self::Text { at, .. } => Area::of(*at, *at),
        }
    }
}

impl Picture {
    /// A picture of `shapes` with bounds around all of them.
    pub(super) fn of(shapes: Vec<Shape>) -> Self {
        let mut areas = shapes.iter().map(|shape| shape.form.bounds());
        let first = areas.next().unwrap_or_default();
        let bounds = areas.fold(first, Area::around);
        Self { shapes, bounds, vertical_exaggeration: 1.0, assumed: Vec::new() }
    }

    /// The shapes that show `thing`.
    pub fn showing(&self, thing: Thing) -> impl Iterator<Item = &Shape> {
        self.shapes.iter().filter(move |shape| shape.thing == Some(thing))
    }
}
