//! Pages as data: shapes and words in millimetres, from the left top corner of the paper.

use super::face::{Face, height_mm};

/// The paper that is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8 1/2 by 11 inches (ANSI/ASME Y14.1, size A).
    Letter,
}

impl Paper {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// Width and height in mm.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }

    /// What a reader calls it.
    pub fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
        }
    }
}

/// A place on a page in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spot {
    /// From the left edge, rightward.
    pub x_mm: f64,
    /// From the top edge, downward.
    pub y_mm: f64,
}

/// An upright rectangle on a page in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Frame {
    /// Its left edge.
    pub left_mm: f64,
    /// Its upper edge.
    pub top_mm: f64,
    /// Its width, zero or above.
    pub width_mm: f64,
    /// Its height, zero or above.
    pub height_mm: f64,
}

/// How dark a mark is; black ink alone is enough to print every sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ink {
    /// Words and whatever must be seen.
    #[default]
    Black,
    /// The second voice: units, notes, running heads.
    Soft,
    /// Lines that lead the eye and are not read.
    Hair,
    /// A middle grey for filled shapes.
    Grey,
    /// A tint behind words.
    Tint,
    /// The paper itself, over something darker.
    Paper,
    /// Rules of headings; a dark grey where there is no colour.
    Accent,
}

impl Ink {
    /// Red, green and blue.
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Self::Black => [0, 0, 0],
            Self::Soft => [84, 84, 84],
            Self::Hair => [176, 176, 176],
            Self::Grey => [196, 196, 196],
            Self::Tint => [236, 236, 236],
            Self::Paper => [255, 255, 255],
            Self::Accent => [22, 66, 88],
        }
    }
}

/// A line's ink, width and whether it is broken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Its ink.
    pub ink: Ink,
    /// Its width in mm.
    pub width_mm: f64,
    /// Whole or broken.
    pub dash: Dash,
}

/// Whole or broken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Dash {
    /// Without gaps.
    #[default]
    Whole,
    /// 1 mm on, 0.7 mm off.
    Broken,
}

/// Fill and edge of a shape.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Look {
    /// What it is filled with; none: nothing.
    pub fill: Option<Ink>,
    /// Its edge; none: no edge.
    pub line: Option<Line>,
}

/// Words in one line.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// The left end of the line that letters stand on.
    pub at: Spot,
    /// What they say; every character has a glyph.
    pub text: String,
    /// In which face.
    pub face: Face,
    /// How large, in points of 1/72 inch.
    pub size_pt: f64,
    /// In which ink.
    pub ink: Ink,
    /// How wide they are in mm, by the face's own advances.
    pub width_mm: f64,
    /// The cell or column in which they must lie.
    pub room: Frame,
}

/// One thing on a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// An upright rectangle.
    Box(Frame, Look),
    /// A line through points, closed to an outline or open.
    Path {
        /// Its points.
        points: Vec<Spot>,
        /// Whether the last point joins the first.
        closed: Closed,
        /// Its look.
        look: Look,
    },
    /// A circle.
    Circle {
        /// Its middle.
        middle: Spot,
        /// Its radius in mm.
        radius_mm: f64,
        /// Its look.
        look: Look,
    },
    /// Words.
    Words(Words),
}

/// Whether a path returns to its beginning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Closed {
    /// It does.
    Closed,
    /// It does not.
    Open,
}

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// What it is about; the same for all pages of a part.
    pub title: String,
    /// What is on it, in the order of painting.
    pub marks: Vec<Mark>,
}

/// The pages of a sheet, ready to be written or painted.
#[derive(Clone, Debug, PartialEq)]
pub struct Pages {
    /// Title of the plan as it is, for the file's own title.
    pub title: String,
    /// Width and height of every page in mm.
    pub size_mm: (f64, f64),
    /// The pages.
    pub pages: Vec<Page>,
    /// Characters of the plan for which the faces have no glyph; their codes stand for them, in notes
    /// [`Face::MISSING`].
    pub missing: Vec<char>,
}

impl Spot {
    /// The place at `x_mm`, `y_mm`.
    pub const fn new(x_mm: f64, y_mm: f64) -> Self {
        Self { x_mm, y_mm }
    }
}

impl Frame {
    /// The rectangle from `left_mm`, `top_mm`, of `width_mm` and `height_mm`.
    pub const fn new(left_mm: f64, top_mm: f64, width_mm: f64, height_mm: f64) -> Self {
        Self { left_mm, top_mm, width_mm, height_mm }
    }

    /// Its right edge.
    pub fn right_mm(self) -> f64 {
        self.left_mm + self.width_mm
    }

    /// Its lower edge.
    pub fn bottom_mm(self) -> f64 {
        self.top_mm + self.height_mm
    }

    /// The same, smaller by `x_mm` left and right and `y_mm` above and below.
    #[must_use]
    pub fn inset(self, x_mm: f64, y_mm: f64) -> Self {
        Self {
            left_mm: self.left_mm + x_mm,
            top_mm: self.top_mm + y_mm,
            width_mm: (self.width_mm - 2.0 * x_mm).max(0.0),
            height_mm: (self.height_mm - 2.0 * y_mm).max(0.0),
        }
    }

    /// Whether `other` lies within it, but for a hundredth of a millimetre.
    pub fn holds(self, other: Self) -> bool {
        const SLACK_MM: f64 = 0.01;
        other.left_mm >= self.left_mm - SLACK_MM
            && other.top_mm >= self.top_mm - SLACK_MM
            && other.right_mm() <= self.right_mm() + SLACK_MM
            && other.bottom_mm() <= self.bottom_mm() + SLACK_MM
    }
}

impl Line {
    /// A whole line.
    pub const fn new(ink: Ink, width_mm: f64) -> Self {
        Self { ink, width_mm, dash: Dash::Whole }
    }

    /// A broken line.
    pub const fn broken(ink: Ink, width_mm: f64) -> Self {
        Self { ink, width_mm, dash: Dash::Broken }
    }
}

impl Look {
    /// Filled, without an edge.
    pub const fn fill(ink: Ink) -> Self {
        Self { fill: Some(ink), line: None }
    }

    /// An edge alone.
    pub const fn line(ink: Ink, width_mm: f64) -> Self {
        Self { fill: None, line: Some(Line::new(ink, width_mm)) }
    }

    /// Filled, with an edge.
    pub const fn both(fill: Ink, ink: Ink, width_mm: f64) -> Self {
        Self { fill: Some(fill), line: Some(Line::new(ink, width_mm)) }
    }
}

impl Words {
    /// The rectangle from the top of capitals to the bottom of descenders.
    pub fn frame(&self) -> Frame {
        let (above, below) = height_mm(self.size_pt);
        Frame::new(self.at.x_mm, self.at.y_mm - above, self.width_mm, above + below)
    }
}

impl Mark {
    /// A straight line.
    pub fn line(from: Spot, to: Spot, line: Line) -> Self {
        Self::Path {
            points: vec![from, to],
            closed: Closed::Open,
            look: Look { fill: None, line: Some(line) },
        }
    }

    /// The least rectangle around it, line widths left out.
    pub fn frame(&self) -> Frame {
        match self {
            Self::Box(frame, _) => *frame,
            Self::Path { points, .. } => {
                let edge =
                    |pick: fn(&Spot) -> f64, of: fn(f64, f64) -> f64| points.iter().map(pick).reduce(of);
                let left = edge(|at| at.x_mm, f64::min).unwrap_or_default();
                let top = edge(|at| at.y_mm, f64::min).unwrap_or_default();
                let right = edge(|at| at.x_mm, f64::max).unwrap_or_default();
                let bottom = edge(|at| at.y_mm, f64::max).unwrap_or_default();
                Frame::new(left, top, right - left, bottom - top)
            }
            Self::Circle { middle, radius_mm, .. } => {
                Frame::new(middle.x_mm - radius_mm, middle.y_mm - radius_mm, 2.0 * radius_mm, 2.0 * radius_mm)
            }
            Self::Words(words) => words.frame(),
        }
    }
}

impl Page {
    /// The words on the page, in the order of painting.
    pub fn words(&self) -> impl Iterator<Item = &Words> {
        self.marks.iter().filter_map(|mark| match mark {
            Mark::Words(words) => Some(words),
            _ => None,
        })
    }
}
