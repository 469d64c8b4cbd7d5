//! Tables over as many pages as they need, with their heads on each.

use super::face::Face;
use super::flow::{Flow, Side, Type};
use super::page::{Frame, Ink, Line, Look, Mark, Spot};
use super::wording::wrap;

/// Free space at the left and right of a cell, and above and below its lines, in mm.
const PAD_MM: f64 = 0.8;
const ROOM_MM: f64 = 0.4;
/// Sizes that a table may take, largest first: whatever fits its width without breaking a figure.
const SIZES_PT: [f64; 7] = [7.5, 7.0, 6.5, 6.0, 5.5, 5.0, 4.5];
/// Words of a column break where they are longer than this, in mm.
const LONGEST_WORD_MM: f64 = 26.0;
/// A line of words that is easily read, in mm.
const GOOD_LINE_MM: f64 = 48.0;
/// The most that a column is wider than it must be, in mm.
const MOST_SPARE_MM: f64 = 14.0;
/// Rows that stay with the heads of their table.
const ROWS_WITH_HEAD: usize = 4;
/// Rows at the end of a table that stay together, so that no page is turned for one.
const LAST_ROWS: usize = 3;
/// Width of a field to write in, in mm.
const FIELD_MM: f64 = 15.0;
/// Edge of a box to tick in mm.
const TICK_MM: f64 = 2.7;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Figures, to the right, never broken.
    Figure,
    /// Short marks, in the middle, never broken.
    Mark,
    /// Words, to the left, broken into lines where they must be.
    Words,
    /// A box to tick in each row.
    Tick,
    /// Room to write in by hand.
    Field,
}

/// A column: what it holds and its heading, which may have lines of its own.
#[derive(Clone, Debug)]
pub(super) struct Column {
    kind: Kind,
    head: String,
}

/// How a cell stands out; each can be told without colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Stress {
    /// Not at all.
    #[default]
    None,
    /// Bold.
    Strong,
    /// On a tint: near its limit.
    Near,
    /// Bold in a frame: beyond its limit.
    Broken,
}

/// A cell.
#[derive(Clone, Debug, Default)]
pub(super) struct Cell {
    text: String,
    stress: Stress,
}

/// A table.
#[derive(Clone, Debug)]
pub(super) struct Table {
    columns: Vec<Column>,
    /// Headings over several columns: the words and how many columns; empty where there are none.
    over: Vec<(String, usize)>,
    rows: Vec<Vec<Cell>>,
    largest_pt: f64,
}

impl Column {
    pub(super) fn new(kind: Kind, head: impl Into<String>) -> Self {
        Self { kind, head: head.into() }
    }
}

impl Cell {
    pub(super) fn new(text: impl Into<String>) -> Self {
        Self { text: text.into(), stress: Stress::None }
    }

    pub(super) fn stressed(text: impl Into<String>, stress: Stress) -> Self {
        Self { text: text.into(), stress }
    }

    pub(super) fn strong(text: impl Into<String>) -> Self {
        Self::stressed(text, Stress::Strong)
    }
}

impl<T: Into<String>> From<T> for Cell {
    fn from(text: T) -> Self {
        Self::new(text)
    }
}

impl Table {
    pub(super) fn new(columns: Vec<Column>) -> Self {
        Self { columns, over: Vec::new(), rows: Vec::new(), largest_pt: SIZES_PT[0] }
    }

    /// With headings over several columns each.
    pub(super) fn under(mut self, over: Vec<(String, usize)>) -> Self {
        self.over = over;
        self
    }

    /// In letters of at most `size_pt`.
    pub(super) fn at_most(mut self, size_pt: f64) -> Self {
        self.largest_pt = size_pt;
        self
    }

    pub(super) fn row(&mut self, cells: Vec<Cell>) {
        self.rows.push(cells);
    }

    pub(super) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Puts the table on the pages, or `none` where it has no rows.
    pub(super) fn put(mut self, flow: &mut Flow, none: &str) {
        if self.rows.is_empty() {
            flow.paragraph(none, Type::BODY);
            return;
        }
        self.drop_empty_columns();
        self.make_printable(flow);
        let laid = Laid::of(&self, flow);
        laid.head(&self, flow);
        let last = self.rows.len().saturating_sub(LAST_ROWS);
        for (nth, cells) in self.rows.iter().enumerate() {
            if nth == last && nth > 0 {
                laid.keep_together(&self, flow, &self.rows[last..]);
            }
            laid.cells(&self, flow, cells);
        }
        let y = flow.y_mm();
        let (left, right) = (flow.left_mm(), flow.left_mm() + laid.widths_mm.iter().sum::<f64>());
        flow.mark(Mark::line(Spot::new(left, y), Spot::new(right, y), Line::new(Ink::Black, 0.25)));
        flow.gap(2.2);
    }

    /// Columns of words in which no row says anything are left out, unless headings lie over them.
    fn drop_empty_columns(&mut self) {
        if !self.over.is_empty() {
            return;
        }
        let empty = |column: usize| {
            let words = self.columns.get(column).is_some_and(|column| column.kind == Kind::Words);
            words && self.column_cells(column).all(|cell| cell.text.trim().is_empty())
        };
        let empty: Vec<usize> = (0..self.columns.len()).filter(|column| empty(*column)).collect();
        for column in empty.into_iter().rev() {
            self.columns.remove(column);
            self.rows.iter_mut().filter(|row| column < row.len()).for_each(|row| {
                row.remove(column);
            });
        }
    }

    fn make_printable(&mut self, flow: &mut Flow) {
        let lines = |flow: &mut Flow, text: &str| {
            text.split('\n').map(|line| flow.printable(line)).collect::<Vec<_>>().join("\n")
        };
        for cell in self.rows.iter_mut().flatten() {
            cell.text = lines(flow, &cell.text);
        }
    }

    fn column_cells(&self, column: usize) -> impl Iterator<Item = &Cell> {
        self.rows.iter().filter_map(move |cells| cells.get(column))
    }
}

/// Sizes and widths of a table on its paper.
struct Laid {
    size_pt: f64,
    widths_mm: Vec<f64>,
}

impl Laid {
    fn of(table: &Table, flow: &Flow) -> Self {
        let room_mm = flow.width_mm();
        let sizes = SIZES_PT.iter().copied().filter(|size| *size <= table.largest_pt);
        let mut last = Self { size_pt: SIZES_PT[0], widths_mm: Vec::new() };
        for size_pt in sizes {
            let (fits, widths_mm) = widths(table, size_pt, room_mm);
            last = Self { size_pt, widths_mm };
            if fits {
                break;
            }
        }
        last
    }

    /// A strip as wide as the table.
    fn strip(&self, flow: &mut Flow, height_mm: f64) -> Frame {
        Frame { width_mm: self.widths_mm.iter().sum(), ..flow.take(height_mm) }
    }

    fn look(&self, stress: Stress) -> Type {
        let face = match stress {
            Stress::Strong | Stress::Broken => Face::Bold,
            Stress::None | Stress::Near => Face::Regular,
        };
        Type { face, size_pt: self.size_pt, ink: Ink::Black }
    }

    fn head_look(&self) -> Type {
        Type { face: Face::Bold, size_pt: self.size_pt * 0.92, ink: Ink::Black }
    }

    fn leading_mm(&self) -> f64 {
        self.look(Stress::None).leading_mm()
    }

    /// The lines of a cell.
    fn lines(&self, table: &Table, column: usize, cell: &Cell) -> Vec<String> {
        let width = self.widths_mm.get(column).copied().unwrap_or_default() - 2.0 * PAD_MM;
        let wraps = table.columns.get(column).is_some_and(|column| column.kind == Kind::Words);
        let look = self.look(cell.stress);
        let paragraphs = cell.text.split('\n');
        match wraps {
            true => paragraphs.flat_map(|text| wrap(text, look, width)).collect(),
            false => paragraphs.map(str::to_owned).collect(),
        }
    }

    fn height_mm(&self, table: &Table, cells: &[Cell]) -> f64 {
        let counts = cells.iter().enumerate().map(|(at, cell)| self.lines(table, at, cell).len());
        counts.max().unwrap_or(1) as f64 * self.leading_mm() + 2.0 * ROOM_MM
    }

    /// The headings, which stay with the first row.
    fn head(&self, table: &Table, flow: &mut Flow) {
        let look = self.head_look();
        let leading = look.leading_mm();
        let heads: Vec<Vec<String>> = table
            .columns
            .iter()
            .zip(&self.widths_mm)
            .map(|(column, width)| {
                let lines = column.head.split('\n');
                lines.flat_map(|text| wrap(text, look, width - 2.0 * PAD_MM)).collect()
            })
            .collect();
        let rows = heads.iter().map(Vec::len).max().unwrap_or(1);
        let over_mm = if table.over.is_empty() { 0.0 } else { leading + 2.0 * ROOM_MM };
        let height = over_mm + rows as f64 * leading + 2.0 * ROOM_MM;
        let first: f64 = table.rows.iter().take(ROWS_WITH_HEAD).map(|row| self.height_mm(table, row)).sum();
        flow.need(height + first.min(60.0));
        let strip = self.strip(flow, height);
        let across = |y: f64, width_mm: f64| {
            let line = Line::new(Ink::Black, width_mm);
            Mark::line(Spot::new(strip.left_mm, y), Spot::new(strip.right_mm(), y), line)
        };
        flow.mark(across(strip.top_mm, 0.45));
        flow.mark(across(strip.bottom_mm(), 0.25));
        self.over(table, flow, Frame { height_mm: over_mm, ..strip });
        let mut x = strip.left_mm;
        for ((lines, width), column) in heads.iter().zip(&self.widths_mm).zip(&table.columns) {
            for (nth, line) in lines.iter().rev().enumerate() {
                let top = strip.bottom_mm() - ROOM_MM - leading * (nth + 1) as f64;
                let room = Frame::new(x, top, *width, leading).inset(PAD_MM, 0.0);
                flow.words(line, look, room, side(column.kind));
            }
            x += width;
        }
    }

    fn over(&self, table: &Table, flow: &mut Flow, strip: Frame) {
        let (mut x, mut column) = (strip.left_mm, 0);
        for (words, count) in &table.over {
            let width: f64 = self.widths_mm.iter().skip(column).take(*count).sum();
            if !words.is_empty() {
                let room = Frame::new(x, strip.top_mm, width, strip.height_mm).inset(PAD_MM, ROOM_MM);
                flow.words(words, self.head_look(), room, Side::Middle);
                let y = strip.bottom_mm();
                let (from, to) = (Spot::new(x + PAD_MM, y), Spot::new(x + width - PAD_MM, y));
                flow.mark(Mark::line(from, to, Line::new(Ink::Black, 0.15)));
            }
            x += width;
            column += count;
        }
    }

    /// Turns the page unless all of these rows have room on it, or would fill much of the next one.
    fn keep_together(&self, table: &Table, flow: &mut Flow, rows: &[Vec<Cell>]) {
        let height: f64 = rows.iter().map(|cells| self.height_mm(table, cells)).sum();
        if flow.left_over_mm() < height && height < flow.page_height_mm() * 0.4 {
            self.turn(table, flow);
        }
    }

    fn turn(&self, table: &Table, flow: &mut Flow) {
        flow.new_page();
        self.head(table, flow);
    }

    /// A row, in parts where it is higher than a page.
    fn cells(&self, table: &Table, flow: &mut Flow, cells: &[Cell]) {
        let leading = self.leading_mm();
        let mut lines: Vec<Vec<String>> =
            cells.iter().enumerate().map(|(at, cell)| self.lines(table, at, cell)).collect();
        loop {
            let count = lines.iter().map(Vec::len).max().unwrap_or(0).max(1);
            let height = count as f64 * leading + 2.0 * ROOM_MM;
            let whole_page = flow.page_height_mm() * 0.8;
            if flow.left_over_mm() < height.min(whole_page) && !flow.is_page_fresh() {
                self.turn(table, flow);
            }
            let fit = (((flow.left_over_mm() - 2.0 * ROOM_MM) / leading).floor() as usize).max(1);
            let now = count.min(fit);
            let strip = self.strip(flow, now as f64 * leading + 2.0 * ROOM_MM);
            self.row_marks(table, flow, strip, (cells, &lines, now));
            if now == count {
                return;
            }
            lines.iter_mut().for_each(|lines| {
                lines.drain(..now.min(lines.len()));
            });
            self.turn(table, flow);
        }
    }

    fn row_marks(
        &self,
        table: &Table,
        flow: &mut Flow,
        strip: Frame,
        (cells, lines, count): (&[Cell], &[Vec<String>], usize),
    ) {
        let leading = self.leading_mm();
        let y = strip.bottom_mm();
        let rule = Line::new(Ink::Hair, 0.1);
        flow.mark(Mark::line(Spot::new(strip.left_mm, y), Spot::new(strip.right_mm(), y), rule));
        let mut x = strip.left_mm;
        for (column, (kind, width)) in table.columns.iter().map(|c| c.kind).zip(&self.widths_mm).enumerate() {
            let room = Frame::new(x, strip.top_mm, *width, strip.height_mm);
            x += width;
            if kind == Kind::Tick {
                let top = room.top_mm + ROOM_MM + (leading - TICK_MM).max(0.0) / 2.0;
                let left = room.left_mm + (room.width_mm - TICK_MM) / 2.0;
                let edge = TICK_MM.min(strip.height_mm - 2.0 * ROOM_MM);
                flow.mark(Mark::Box(Frame::new(left, top, edge, edge), Look::line(Ink::Black, 0.25)));
                continue;
            }
            let Some(cell) = cells.get(column) else { continue };
            match cell.stress {
                Stress::Near => flow.mark(Mark::Box(room.inset(0.15, 0.15), Look::fill(Ink::Tint))),
                Stress::Broken => flow.mark(Mark::Box(room.inset(0.2, 0.25), Look::line(Ink::Black, 0.4))),
                Stress::None | Stress::Strong => {}
            }
            let look = self.look(cell.stress);
            for (nth, line) in lines.get(column).into_iter().flatten().take(count).enumerate() {
                let top = strip.top_mm + ROOM_MM + leading * nth as f64;
                let room = Frame::new(room.left_mm, top, room.width_mm, leading).inset(PAD_MM, 0.0);
                flow.words(line, look, room, side(kind));
            }
        }
    }
}

fn side(kind: Kind) -> Side {
    match kind {
        Kind::Figure => Side::Right,
        Kind::Mark | Kind::Tick => Side::Middle,
        Kind::Words | Kind::Field => Side::Left,
    }
}

/// The width of each column at a size in mm, and whether all figures fit unbroken.
fn widths(table: &Table, size_pt: f64, room_mm: f64) -> (bool, Vec<f64>) {
    let needs: Vec<(f64, f64)> =
        (0..table.columns.len()).map(|column| column_needs(table, column, size_pt)).collect();
    let least: f64 = needs.iter().map(|(least, _)| least).sum();
    let wanted: f64 = needs.iter().map(|(_, wanted)| wanted).sum();
    if least > room_mm {
        let scaled = needs.iter().map(|(each, _)| each * room_mm / least);
        return (false, scaled.collect());
    }
    if wanted > room_mm {
        return (true, crowded(&needs, room_mm));
    }
    // What is left is shared, so that the eye finds its way along a row; a table of few words stays narrower.
    let shared = table.columns.iter().filter(|column| column.kind != Kind::Tick).count().max(1);
    let each = ((room_mm - wanted) / shared as f64).min(MOST_SPARE_MM);
    let spare = |column: &Column| if column.kind == Kind::Tick { 0.0 } else { each };
    (true, table.columns.iter().zip(&needs).map(|(column, (_, wanted))| wanted + spare(column)).collect())
}

/// Widths where not every line fits its column, of what each needs least and wants: each has what it needs least, then
/// all come up to a line that is easily read, then those that want more share what is left.
fn crowded(needs: &[(f64, f64)], room_mm: f64) -> Vec<f64> {
    let mut widths: Vec<f64> = needs.iter().map(|(least, _)| *least).collect();
    for most_mm in [GOOD_LINE_MM, f64::INFINITY] {
        let mores =
            needs.iter().zip(&widths).map(|((_, wanted), width)| (wanted.min(most_mm) - width).max(0.0));
        let mores: Vec<f64> = mores.collect();
        let (left, wanted) = (room_mm - widths.iter().sum::<f64>(), mores.iter().sum::<f64>());
        let share = if wanted > 0.0 { (left / wanted).clamp(0.0, 1.0) } else { 0.0 };
        widths.iter_mut().zip(mores).for_each(|(width, more)| *width += more * share);
    }
    widths
}

/// Least and wanted width of a column in mm.
fn column_needs(table: &Table, column: usize, size_pt: f64) -> (f64, f64) {
    let Some(Column { kind, head }) = table.columns.get(column) else { return (0.0, 0.0) };
    let regular = Type { face: Face::Regular, size_pt, ink: Ink::Black };
    let look = |cell: &Cell| match cell.stress {
        Stress::Strong | Stress::Broken => Type { face: Face::Bold, ..regular },
        Stress::None | Stress::Near => regular,
    };
    let head_look = Type { face: Face::Bold, size_pt: size_pt * 0.92, ink: Ink::Black };
    let longest_word =
        |text: &str, look: Type| text.split_whitespace().map(|w| look.width_mm(w)).fold(0.0, f64::max);
    let head_least = longest_word(head, head_look);
    let (least, wanted) = match kind {
        Kind::Tick => (TICK_MM, TICK_MM),
        Kind::Field => (FIELD_MM, FIELD_MM),
        Kind::Figure | Kind::Mark => {
            let lines = table
                .column_cells(column)
                .flat_map(|cell| cell.text.split('\n').map(move |line| look(cell).width_mm(line)));
            let widest = lines.fold(0.0, f64::max);
            (widest, widest)
        }
        Kind::Words => {
            let cells = || table.column_cells(column);
            let lines =
                cells().flat_map(|cell| cell.text.split('\n').map(move |line| look(cell).width_mm(line)));
            let words = cells().map(|cell| longest_word(&cell.text, look(cell))).fold(0.0, f64::max);
            (words.min(LONGEST_WORD_MM), lines.fold(0.0, f64::max))
        }
    };
    (least.max(head_least) + 2.0 * PAD_MM, wanted.max(least).max(head_least) + 2.0 * PAD_MM)
}

#[cfg(test)]
mod tests {
    use super::super::page::Paper;
    use super::*;

    fn check(needs: &[(f64, f64)], room_mm: f64, expected: &[f64]) {
        let widths = crowded(needs, room_mm);
        let close = widths.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1.0e-9);
        assert!(close && widths.len() == expected.len(), "{widths:?}");
    }

    #[test]
    fn in_a_crowded_table_all_columns_get_a_good_line_before_one_gets_more() {
        // By hand: 20 mm are left over the least widths; the columns want 10 and 38 more up to 48 mm.
        check(&[(10.0, 20.0), (10.0, 300.0)], 40.0, &[10.0 + 200.0 / 48.0, 10.0 + 760.0 / 48.0]);
        check(&[(10.0, 20.0), (10.0, 300.0)], 100.0, &[20.0, 80.0]);
        check(&[(60.0, 70.0), (10.0, 10.0)], 75.0, &[65.0, 10.0]);
    }

    #[test]
    fn heads_stand_on_every_page_and_columns_that_say_nothing_are_left_out() {
        let mut flow = Flow::new(Paper::A4);
        flow.part("Part");
        let columns = [("first", Kind::Words), ("empty", Kind::Words), ("last", Kind::Figure)];
        let mut table = Table::new(columns.map(|(head, kind)| Column::new(kind, head)).to_vec());
        (0..150).for_each(|nth| table.row(vec!["word".into(), "".into(), nth.to_string().into()]));
        table.put(&mut flow, "None.");
        let pages = flow.finish(&super::super::flow::Running { title: String::new(), foot: String::new() });
        assert!(pages.pages.len() > 2, "{}", pages.pages.len());
        for page in &pages.pages {
            let said: Vec<&str> = page.words().map(|words| words.text.as_str()).collect();
            assert_eq!(said.iter().filter(|words| **words == "first").count(), 1);
            assert!(said.contains(&"last") && !said.contains(&"empty"), "{said:?}");
        }
    }

    /// The words of each page of a part that has so much free on its first page, a heading, and so many rows.
    fn pages(left_mm: f64, rows: usize) -> Vec<Vec<String>> {
        let mut flow = Flow::new(Paper::A4);
        flow.part("Part");
        let taken = flow.left_over_mm() - left_mm;
        flow.take(taken);
        flow.heading("Heading", 14.0);
        let mut table = Table::new(vec![Column::new(Kind::Words, "words"), Column::new(Kind::Figure, "nth")]);
        (0..rows).for_each(|nth| table.row(vec!["word".into(), nth.to_string().into()]));
        table.put(&mut flow, "None.");
        let pages = flow.finish(&super::super::flow::Running { title: String::new(), foot: String::new() });
        pages.pages.iter().map(|page| page.words().map(|words| words.text.clone()).collect()).collect()
    }

    #[test]
    fn no_heading_stands_at_the_foot_of_a_page_without_its_table() {
        for left_mm in 15..80 {
            let pages = pages(f64::from(left_mm), 40);
            let with_heading = pages.iter().filter(|page| page.iter().any(|words| words == "Heading"));
            let heads: Vec<bool> = with_heading.map(|page| page.iter().any(|words| words == "0")).collect();
            assert_eq!(heads, [true], "{left_mm} mm");
        }
    }

    #[test]
    fn no_page_is_turned_for_the_last_row_of_a_table() {
        for rows in 1..120 {
            let pages = pages(60.0, rows);
            let last = pages.last().unwrap();
            let rows_there = last.iter().filter(|words| *words == "word").count();
            assert!(rows_there >= 3.min(rows), "{rows} rows: {rows_there} on the last of {}", pages.len());
        }
    }
}
