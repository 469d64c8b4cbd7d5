//! Where commands print: a reader that has gone away is no fault, anything else that keeps output back is.

use super::exit::Exit;
use super::plans::{must_not_be_read, saving_message};
use super::table_options::OutFile;
use crate::disk;
use crate::model::is_unseen;
use crate::report::file_bytes;
use std::borrow::Cow;
use std::io::{self, ErrorKind, Write};
use std::path::PathBuf;

/// Standard output and standard error, or what stands for them in a test.
pub(super) struct Streams {
    out: Box<dyn Write>,
    err: Box<dyn Write>,
    /// Set by the first failed write; nothing is printed after it.
    failed: Option<io::Error>,
    /// A file that is printed into instead, saved as a whole at the end.
    file: Option<(OutFile, Vec<u8>)>,
}

impl Streams {
    /// The streams of the process.
    pub(super) fn standard() -> Self {
        Self::new(Box::new(io::BufWriter::new(io::stdout())), Box::new(io::stderr()))
    }

    /// Streams on other writers.
    pub(super) fn new(out: Box<dyn Write>, err: Box<dyn Write>) -> Self {
        Self { out, err, failed: None, file: None }
    }

    /// Prints into `file` from here on, where one is named.
    ///
    /// # Errors
    /// How to end where the file is one of `read`; that is told already.
    pub(super) fn print_into(&mut self, file: &OutFile, read: &[PathBuf]) -> Result<(), Exit> {
        if let Err(message) = must_not_be_read(file.path.as_deref(), read) {
            self.tell(&message);
            return Err(Exit::CouldNotRun);
        }
        self.file = file.path.is_some().then(|| (file.clone(), Vec::new()));
        Ok(())
    }

    /// Prints a report, ending it with a line break.
    pub(super) fn print(&mut self, text: &str) {
        if self.failed.is_some() {
            return;
        }
        let end = if text.ends_with('\n') { "" } else { "\n" };
        if let Some((_, bytes)) = &mut self.file {
            bytes.extend_from_slice(text.as_bytes());
            bytes.extend_from_slice(end.as_bytes());
            return;
        }
        if let Err(error) = write!(self.out, "{text}{end}") {
            self.failed = Some(error);
        }
    }

    /// Prints what `write` writes piece by piece, ending it with a line break.
    pub(super) fn print_by(&mut self, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) {
        if self.failed.is_some() {
            return;
        }
        let out: &mut dyn Write = match &mut self.file {
            Some((_, bytes)) => bytes,
            None => &mut self.out,
        };
        let written = write(out).and_then(|()| writeln!(out));
        self.failed = written.err();
    }

    /// Prints a table for a spreadsheet.
    pub(super) fn print_table(&mut self, text: &str) {
        match &mut self.file {
            Some((_, bytes)) => bytes.extend(file_bytes(text)),
            None => self.print(text),
        }
    }

    /// Prints a report for people to read, with what would change the terminal made [`visible`].
    pub(super) fn print_text(&mut self, text: &str) {
        self.print(&visible(text));
    }

    /// Tells of a fault on standard error; where even that is closed there is nobody to tell.
    pub(super) fn tell(&mut self, text: &str) {
        let _closed = writeln!(self.err, "{}", visible(text.trim_end()));
    }

    /// Flushes or saves what was printed; output that was lost turns `exit` into "could not run".
    pub(super) fn finish(mut self, exit: Exit) -> Exit {
        // A file is left as it was where there is nothing to say.
        if let Some((file, bytes)) = self.file.take().filter(|(_, bytes)| !bytes.is_empty())
            && let Some(path) = &file.path
            && let Err(error) = disk::save(path, &bytes, file.expected())
        {
            self.tell(&format!("longstow: {}", saving_message(path, &error)));
            return Exit::CouldNotRun;
        }
        let failed = self.failed.take().or_else(|| self.out.flush().err());
        match failed {
            // The reader has seen enough (`longstow check plan | head`): the verdict stands.
            Some(error) if error.kind() == ErrorKind::BrokenPipe => exit,
            Some(error) => {
                self.tell(&format!("longstow: the report could not be written: {error}"));
                Exit::CouldNotRun
            }
            None => exit,
        }
    }
}

/// Text with its control characters, marks of writing direction and all else that nobody sees written out, line breaks
/// left.
///
/// Titles, notes and names come from the file; a terminal would obey them and show another verdict than ours.
fn visible(text: &str) -> Cow<'_, str> {
    let steers = |c: char| is_unseen(c) && c != '\n';
    if !text.contains(steers) {
        return Cow::Borrowed(text);
    }
    let shown = text.chars().map(|c| if steers(c) { c.escape_unicode().to_string() } else { c.to_string() });
    Cow::Owned(shown.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Broken(ErrorKind);

    impl Write for Broken {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(self.0.into())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_closed_pipe_keeps_the_verdict_and_a_full_disk_does_not() {
        let check = |kind, expected| {
            let mut streams = Streams::new(Box::new(Broken(kind)), Box::new(io::sink()));
            streams.print("report");
            streams.print("more");
            assert_eq!(streams.finish(Exit::Undecided), expected);
        };
        check(ErrorKind::BrokenPipe, Exit::Undecided);
        check(ErrorKind::StorageFull, Exit::CouldNotRun);
    }

    #[test]
    fn what_a_terminal_would_obey_is_written_out() {
        let check = |text, expected: &str| assert_eq!(visible(text), expected);
        check("two\nlines, 60 % \u{e9} \u{5d0}", "two\nlines, 60 % \u{e9} \u{5d0}");
        check("a\u{1b}[2Jb\r\u{7}\u{9b}", "a\\u{1b}[2Jb\\u{d}\\u{7}\\u{9b}");
        check("S\u{202e}1", "S\\u{202e}1");
        check("a\u{200b}b\u{2028}c\u{ad}", "a\\u{200b}b\\u{2028}c\\u{ad}");
    }
}
