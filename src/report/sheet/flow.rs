//! Filling pages from top to bottom: headings, paragraphs, room for drawings, and what stands on every page.

use super::face::{Face, boxed, height_mm, printable};
use super::page::{Frame, Ink, Line, Look, Mark, Page, Pages, Paper, Spot, Words};
use super::wording::{cut, wrap};
use std::collections::BTreeSet;

/// Left and right margin in mm; wide enough for two punched holes.
const SIDE_MM: f64 = 16.0;
/// Where the running head stands, where the pages' own matter begins, and what the foot keeps free, in mm.
const HEAD_MM: f64 = 11.5;
const TOP_MM: f64 = 18.0;
const BOTTOM_MM: f64 = 16.0;
/// Distance of lines as a share of the size.
const LEADING: f64 = 1.28;

/// How words look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Type {
    pub(super) face: Face,
    pub(super) size_pt: f64,
    pub(super) ink: Ink,
}

impl Type {
    pub(super) const TITLE: Self = Self { face: Face::Bold, size_pt: 22.0, ink: Ink::Black };
    pub(super) const PART: Self = Self { face: Face::Bold, size_pt: 15.0, ink: Ink::Black };
    pub(super) const HEADING: Self = Self { face: Face::Bold, size_pt: 10.0, ink: Ink::Black };
    pub(super) const BODY: Self = Self { face: Face::Regular, size_pt: 8.5, ink: Ink::Black };
    pub(super) const STRONG: Self = Self { face: Face::Bold, size_pt: 8.5, ink: Ink::Black };
    pub(super) const NOTE: Self = Self { face: Face::Regular, size_pt: 7.0, ink: Ink::Soft };

    /// The same in another size.
    pub(super) fn sized(self, size_pt: f64) -> Self {
        Self { size_pt, ..self }
    }

    /// From one line to the next in mm.
    pub(super) fn leading_mm(self) -> f64 {
        let (above, below) = height_mm(self.size_pt);
        (above + below) / 0.902 * LEADING
    }

    /// Width of `text` in mm.
    pub(super) fn width_mm(self, text: &str) -> f64 {
        self.face.width_mm(text, self.size_pt)
    }
}

/// Where words stand in their room.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(super) enum Side {
    #[default]
    Left,
    Middle,
    Right,
}

/// What stands on every page.
#[derive(Clone, Debug)]
pub(super) struct Running {
    /// Title of the plan.
    pub(super) title: String,
    /// What the foot says, from left to right but for the number of the page.
    pub(super) foot: String,
}

/// Pages being filled.
#[derive(Debug)]
pub(super) struct Flow {
    size_mm: (f64, f64),
    pages: Vec<Page>,
    /// The first page of each part, with the part's title.
    parts: Vec<(String, usize)>,
    y_mm: f64,
    /// The heading that nothing follows yet.
    last_heading: Option<Heading>,
    missing: BTreeSet<char>,
}

/// A heading within a part, and where it stands.
#[derive(Clone, Debug)]
struct Heading {
    title: String,
    /// How many marks its page had before it.
    marks_before: usize,
    /// Where it begins and where what follows begins, in mm from the top.
    from_mm: f64,
    to_mm: f64,
}

impl Flow {
    pub(super) fn new(paper: Paper) -> Self {
        Self {
            size_mm: paper.size_mm(),
            pages: Vec::new(),
            parts: Vec::new(),
            y_mm: 0.0,
            last_heading: None,
            missing: BTreeSet::new(),
        }
    }

    /// Begins a part on a new page, with its title.
    pub(super) fn part(&mut self, title: &str) {
        self.part_without_title(title);
        self.line(title, Type::PART, Side::Left);
        let y = self.y_mm + 0.4;
        let rule = Frame::new(SIDE_MM, y, self.width_mm(), 0.7);
        self.mark(Mark::Box(rule, Look::fill(Ink::Accent)));
        self.y_mm = y + 4.2;
    }

    /// Begins a part that sets its own title.
    pub(super) fn part_without_title(&mut self, title: &str) {
        self.parts.push((title.to_owned(), self.pages.len()));
        self.turn(title);
    }

    /// Begins a page of the same part. A heading that nothing follows yet goes with what it heads.
    pub(super) fn new_page(&mut self) {
        let title = self.pages.last().map_or_else(String::new, |page| page.title.clone());
        let alone = self.last_heading.take().filter(|last| last.to_mm >= self.y_mm && last.from_mm > TOP_MM);
        if let (Some(heading), Some(page)) = (&alone, self.pages.last_mut()) {
            page.marks.truncate(heading.marks_before);
        }
        self.turn(&title);
        if let Some(heading) = alone {
            self.heading(&heading.title, 0.0);
        }
    }

    fn turn(&mut self, title: &str) {
        self.last_heading = None;
        self.pages.push(Page { title: title.to_owned(), marks: Vec::new() });
        self.y_mm = TOP_MM;
    }

    /// Width of the matter in mm.
    pub(super) fn width_mm(&self) -> f64 {
        self.size_mm.0 - 2.0 * SIDE_MM
    }

    /// Its left edge in mm.
    pub(super) fn left_mm(&self) -> f64 {
        SIDE_MM
    }

    /// Where the next thing stands, in mm from the top.
    pub(super) fn y_mm(&self) -> f64 {
        self.y_mm
    }

    /// Height of a whole page's matter in mm.
    pub(super) fn page_height_mm(&self) -> f64 {
        self.size_mm.1 - BOTTOM_MM - TOP_MM
    }

    /// What is left of this page in mm.
    pub(super) fn left_over_mm(&self) -> f64 {
        self.size_mm.1 - BOTTOM_MM - self.y_mm
    }

    /// Whether nothing stands on this page yet.
    pub(super) fn is_page_fresh(&self) -> bool {
        self.y_mm <= TOP_MM
    }

    /// Turns the page unless `height_mm` is left on this one.
    pub(super) fn need(&mut self, height_mm: f64) {
        if self.left_over_mm() < height_mm && !self.is_page_fresh() {
            self.new_page();
        }
    }

    /// Takes a strip of full width and `height_mm`, on the next page where it is not left on this one.
    pub(super) fn take(&mut self, height_mm: f64) -> Frame {
        self.need(height_mm);
        let frame = Frame::new(SIDE_MM, self.y_mm, self.width_mm(), height_mm);
        self.y_mm += height_mm;
        frame
    }

    /// Leaves `height_mm` free, unless the page ends or has just begun.
    pub(super) fn gap(&mut self, height_mm: f64) {
        if !self.is_page_fresh() {
            self.y_mm += height_mm;
        }
    }

    /// Adds a mark to the page.
    pub(super) fn mark(&mut self, mark: Mark) {
        if let Some(page) = self.pages.last_mut() {
            page.marks.push(mark);
        }
    }

    /// Adds the marks of a drawing, whose words come from the plan as they are.
    pub(super) fn draw(&mut self, marks: Vec<Mark>) {
        for mark in marks {
            let mark = match mark {
                Mark::Words(words) => {
                    let text = self.printable(&words.text);
                    let width_mm = words.face.width_mm(&text, words.size_pt);
                    Mark::Words(Words { text, width_mm, ..words })
                }
                shape => shape,
            };
            self.mark(mark);
        }
    }

    /// A heading within a part; it stays with at least `with_mm` of what follows.
    pub(super) fn heading(&mut self, title: &str, with_mm: f64) {
        self.gap(3.6);
        self.need(Type::HEADING.leading_mm() + 1.0 + with_mm);
        let (from_mm, marks_before) = (self.y_mm, self.pages.last().map_or(0, |page| page.marks.len()));
        self.line(title, Type::HEADING, Side::Left);
        self.y_mm += 1.0;
        self.last_heading =
            Some(Heading { title: title.to_owned(), marks_before, from_mm, to_mm: self.y_mm });
    }

    /// A paragraph over the full width.
    pub(super) fn paragraph(&mut self, text: &str, look: Type) {
        let text = self.printable(text);
        for line in wrap(&text, look, self.width_mm()) {
            self.line(&line, look, Side::Left);
        }
        self.y_mm += look.leading_mm() * 0.35;
    }

    /// A line with a bullet, its further lines hung under the first.
    pub(super) fn bullet(&mut self, text: &str, look: Type) {
        let text = self.printable(text);
        let indent = 4.0;
        for (nth, line) in wrap(&text, look, self.width_mm() - indent).iter().enumerate() {
            let strip = self.take(look.leading_mm());
            if nth == 0 {
                let middle = Spot::new(strip.left_mm + 1.3, strip.top_mm + strip.height_mm * 0.5);
                self.mark(Mark::Circle { middle, radius_mm: 0.5, look: Look::fill(look.ink) });
            }
            let room =
                Frame::new(strip.left_mm + indent, strip.top_mm, strip.width_mm - indent, strip.height_mm);
            self.words(line, look, room, Side::Left);
        }
        self.y_mm += look.leading_mm() * 0.2;
    }

    /// A line over the full width, cut where it is too long.
    pub(super) fn line(&mut self, text: &str, look: Type, side: Side) {
        let room = self.take(look.leading_mm());
        self.words(text, look, room, side);
    }

    /// Words in a room, upright in its middle; made smaller down to two thirds, then cut, where they are too wide.
    pub(super) fn words(&mut self, text: &str, look: Type, room: Frame, side: Side) {
        let text = self.printable(text);
        if let Some(words) = fitted(&text, look, room, side) {
            self.mark(Mark::Words(words));
        }
    }

    /// `text` as it can be printed; what cannot is remembered.
    pub(super) fn printable(&mut self, text: &str) -> String {
        printable(text, |c| {
            self.missing.insert(c);
        })
    }

    /// Running text as it can be printed, with boxes for what cannot.
    pub(super) fn boxed(&mut self, text: &str) -> String {
        boxed(text, |c| {
            self.missing.insert(c);
        })
    }

    /// Characters that had no glyph so far.
    pub(super) fn missing(&self) -> Vec<char> {
        self.missing.iter().copied().collect()
    }

    /// Pages begun so far.
    pub(super) fn page_count(&self) -> usize {
        self.pages.len()
    }

    /// The parts begun so far with the index of their first page.
    pub(super) fn parts(&self) -> &[(String, usize)] {
        &self.parts
    }

    /// Adds marks to a page that was left.
    pub(super) fn amend(&mut self, page: usize, marks: Vec<Mark>) {
        if let Some(page) = self.pages.get_mut(page) {
            page.marks.extend(marks);
        }
    }

    /// The pages, each with its head and foot.
    pub(super) fn finish(mut self, running: &Running) -> Pages {
        let count = self.pages.len();
        let (title, foot) = (self.printable(&running.title), self.printable(&running.foot));
        for at in 0..count {
            let part = self.pages[at].title.clone();
            let part = self.printable(&part);
            let marks = self.running_marks((&title, &part), &foot, &format!("Page {} of {count}", at + 1));
            self.amend(at, marks);
        }
        // The title in the file's own data is not set in a face, so nothing needs a substitute there.
        let title = running.title.clone();
        Pages { title, size_mm: self.size_mm, missing: self.missing(), pages: self.pages }
    }

    fn running_marks(&self, (title, part): (&str, &str), foot: &str, number: &str) -> Vec<Mark> {
        let (width, height) = (self.width_mm(), self.size_mm.1);
        let rule = |y: f64| {
            Mark::line(Spot::new(SIDE_MM, y), Spot::new(SIDE_MM + width, y), Line::new(Ink::Hair, 0.15))
        };
        let strip = |y: f64, from: f64, share: f64| Frame::new(SIDE_MM + from * width, y, share * width, 4.0);
        let look = Type::NOTE;
        let mut marks = vec![rule(HEAD_MM + 4.2), rule(height - BOTTOM_MM + 4.6)];
        let y = height - BOTTOM_MM + 5.2;
        let strong = Type { face: Face::Bold, ink: Ink::Black, ..look };
        let placed = [
            fitted(title, strong, strip(HEAD_MM, 0.0, 0.68), Side::Left),
            fitted(part, look, strip(HEAD_MM, 0.7, 0.3), Side::Right),
            fitted(foot, look, strip(y, 0.0, 0.84), Side::Left),
            fitted(number, strong, strip(y, 0.85, 0.15), Side::Right),
        ];
        marks.extend(placed.into_iter().flatten().map(Mark::Words));
        marks
    }
}

/// Words in a room, smaller or cut where they must be; none where not even a letter fits.
pub(super) fn fitted(text: &str, look: Type, room: Frame, side: Side) -> Option<Words> {
    /// Smaller than this share of their size words are cut instead.
    const LEAST: f64 = 2.0 / 3.0;
    let natural = look.width_mm(text);
    let share = if natural > room.width_mm { (room.width_mm / natural).max(LEAST) } else { 1.0 };
    let look = look.sized(look.size_pt * share);
    let text = cut(text, look, room.width_mm)?;
    let width_mm = look.width_mm(&text);
    let (above, below) = height_mm(look.size_pt);
    let free = room.width_mm - width_mm;
    let x_mm = room.left_mm
        + match side {
            Side::Left => 0.0,
            Side::Middle => free / 2.0,
            Side::Right => free,
        };
    let y_mm = room.top_mm + (room.height_mm + above - below) / 2.0;
    let (face, size_pt, ink) = (look.face, look.size_pt, look.ink);
    Some(Words { at: Spot::new(x_mm, y_mm), text, face, size_pt, ink, width_mm, room })
}
