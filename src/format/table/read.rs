//! Reading a table: bytes or pasted text to lines of cells, each with the number of its line.

use super::encoding::decode;
use super::parting::{found_in, open_quote, said_in};
use super::{Encoding, Parting, Separator, TableCell, TableError};
use csv::{ReaderBuilder, StringRecord};

/// The most bytes that a table may have: 16 MiB.
pub const MOST_TABLE_BYTES: usize = 16 * 1024 * 1024;

/// The most lines that a table may have: ten times the most strings of a plan.
pub const MOST_TABLE_LINES: usize = 20_000;

/// The most cells of a line.
const MOST_CELLS: usize = 500;

/// The most characters of a cell.
const LONGEST_CELL: usize = 32_767;

/// A table as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// How its letters were held.
    pub encoding: Encoding,
    /// What parts its cells.
    pub separator: Separator,
    /// Its lines; those of nothing but separators too, but not wholly empty ones.
    pub lines: Vec<TableLine>,
}

/// A line of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableLine {
    /// Its number in the file, from 1; a cell may go on in the lines after it.
    pub number: usize,
    /// Its cells, without empty ones at its end.
    pub cells: Vec<TableCell>,
    /// How many cells it has with the empty ones at its end.
    pub width: usize,
}

impl TableLine {
    /// Whether no cell says anything.
    pub fn is_blank(&self) -> bool {
        self.cells.is_empty()
    }
}

/// Reads a table from the bytes of a file.
///
/// # Errors
/// [`TableError`]: no text, a quote left open, too much of anything, or nothing at all.
pub fn read_table(bytes: &[u8], parting: Parting) -> Result<Table, TableError> {
    if bytes.len() > MOST_TABLE_BYTES {
        return Err(TableError::TooLarge { bytes: bytes.len() });
    }
    let (encoding, text) = decode(bytes)?;
    table_of(encoding, &text, parting)
}

/// Reads a table from text of the clipboard.
///
/// # Errors
/// As [`read_table`].
pub fn read_pasted(text: &str, parting: Parting) -> Result<Table, TableError> {
    match text.bytes().position(|byte| byte == 0) {
        _ if text.len() > MOST_TABLE_BYTES => Err(TableError::TooLarge { bytes: text.len() }),
        Some(at) => {
            let line = text.bytes().take(at).filter(|byte| *byte == b'\n').count() + 1;
            Err(TableError::ZeroByte { line })
        }
        None => table_of(Encoding::Pasted, text, parting),
    }
}

fn table_of(encoding: Encoding, text: &str, parting: Parting) -> Result<Table, TableError> {
    // Lines end in LF, CR LF, or in a CR alone; the lines are counted the same for all of them.
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    if text.lines().take(MOST_TABLE_LINES + 1).count() > MOST_TABLE_LINES {
        return Err(TableError::TooManyLines);
    }
    let said = said_in(&text);
    let (before, body) = match said {
        Some(_) => (1, text.split_once('\n').map_or("", |(_, body)| body)),
        None => (0, text.as_str()),
    };
    let separator = match (parting, said) {
        (Parting::By(separator), _) | (Parting::AsFound, Some(separator)) => separator,
        (Parting::AsFound, None) => found_in(body),
    };
    if let Some(line) = open_quote(body, separator) {
        return Err(TableError::OpenQuote { line: line + before });
    }
    let lines = lines_of(body, separator, before)?;
    if lines.iter().all(TableLine::is_blank) {
        return Err(TableError::Empty);
    }
    Ok(Table { encoding, separator, lines })
}

fn lines_of(body: &str, separator: Separator, before: usize) -> Result<Vec<TableLine>, TableError> {
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator.sign() as u8)
        .from_reader(body.as_bytes());
    let mut lines: Vec<TableLine> = Vec::new();
    let mut record = StringRecord::new();
    // Reading text from memory cannot fail; the reader's own end is that of the table.
    while reader.read_record(&mut record).unwrap_or(false) {
        // The place is that before the blank lines that were passed over.
        let (byte, line) = record.position().map_or((0, 0), |place| (place.byte(), place.line()));
        let passed = body.bytes().skip(byte as usize).take_while(|byte| *byte == b'\n').count();
        let number = line as usize + passed + before;
        lines.push(line_of(number, &record)?);
    }
    Ok(lines)
}

fn line_of(number: usize, record: &StringRecord) -> Result<TableLine, TableError> {
    let mut cells: Vec<TableCell> = Vec::with_capacity(record.len());
    for written in record {
        if written.chars().nth(LONGEST_CELL).is_some() {
            return Err(TableError::LongCell { line: number, most: LONGEST_CELL });
        }
        cells.push(TableCell::of(written));
    }
    let filled = cells.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    cells.truncate(filled);
    if filled > MOST_CELLS {
        return Err(TableError::WideLine { line: number, most: MOST_CELLS });
    }
    Ok(TableLine { number, cells, width: record.len() })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The lines of a table as `number: cell|cell`, parted by a slash.
    fn check(text: &str, expected: &str) {
        let table = read_table(text.as_bytes(), Parting::AsFound).unwrap();
        let line = |line: &TableLine| {
            let cells: Vec<&str> = line.cells.iter().map(|cell| cell.text.as_str()).collect();
            format!("{}: {}", line.number, cells.join("|"))
        };
        assert_eq!(table.lines.iter().map(line).collect::<Vec<_>>().join(" / "), expected, "{text:?}");
    }

    #[test]
    fn lines_are_numbered_as_in_the_file_whatever_ends_them() {
        check("a,b\nc,d\n", "1: a|b / 2: c|d");
        check("a,b\r\n\r\nc,d", "1: a|b / 3: c|d");
        check("a,b\rc,d\r", "1: a|b / 2: c|d");
        check("a,\"b\nb\"\nc,d\n", "1: a|b\nb / 3: c|d");
        check("\n\na,b\n", "3: a|b");
        check("sep=;\na;b\n", "2: a|b");
        check("a,b,,\n,,,\nc\n", "1: a|b / 2:  / 3: c");
    }

    #[test]
    fn quotes_and_white_space_are_taken_off() {
        check("\"a,\"\"b\"\"\" , c \n", "1: a,\"b\" | c".replace(" | c", "|c").as_str());
        check("a;\u{a0}1 234,5\u{a0};b\nc;1;d\n", "1: a|1 234,5|b / 2: c|1|d");
    }

    #[test]
    fn too_much_is_refused_by_name() {
        let refused = |text: &str| read_table(text.as_bytes(), Parting::AsFound).unwrap_err();
        assert_eq!(refused(""), TableError::Empty);
        assert_eq!(refused("\n ,\n"), TableError::Empty);
        let lines = |count: usize| "a,b\n".repeat(count);
        assert!(read_table(lines(MOST_TABLE_LINES).as_bytes(), Parting::AsFound).is_ok());
        assert_eq!(refused(&lines(MOST_TABLE_LINES + 1)), TableError::TooManyLines);
        let cell = |count: usize| format!("a\n{}\n", "x".repeat(count));
        assert!(read_table(cell(LONGEST_CELL).as_bytes(), Parting::AsFound).is_ok());
        let long = TableError::LongCell { line: 2, most: LONGEST_CELL };
        assert_eq!(refused(&cell(LONGEST_CELL + 1)), long);
        let wide = |count: usize| "a,".repeat(count);
        assert!(read_table(wide(MOST_CELLS).as_bytes(), Parting::AsFound).is_ok());
        assert_eq!(refused(&wide(MOST_CELLS + 1)), TableError::WideLine { line: 1, most: MOST_CELLS });
        assert_eq!(
            refused(&" ".repeat(MOST_TABLE_BYTES + 1)),
            TableError::TooLarge { bytes: MOST_TABLE_BYTES + 1 }
        );
    }

    #[test]
    fn pasted_text_is_read_as_a_file_is() {
        let table = read_pasted("A1\t60E1\r\nA2\t60E1", Parting::AsFound).unwrap();
        assert_eq!((table.separator, table.lines.len()), (Separator::Tab, 2));
        assert_eq!(read_pasted("a\n\0", Parting::AsFound), Err(TableError::ZeroByte { line: 2 }));
        let by = read_pasted("a,b;c", Parting::By(Separator::Semicolon)).unwrap();
        assert_eq!(by.lines[0].cells[0].text, "a,b");
    }
}
