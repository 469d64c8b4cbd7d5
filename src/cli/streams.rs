//! Where commands print: a reader that has gone away is no fault, anything else that keeps output back is.

use super::exit::Exit;
use std::io::{self, ErrorKind, Write};

/// Standard output and standard error, or what stands for them in a test.
pub(super) struct Streams {
    out: Box<dyn Write>,
    err: Box<dyn Write>,
    /// Set by the first failed write; nothing is printed after it.
    failed: Option<io::Error>,
}

impl Streams {
    /// The streams of the process.
    pub(super) fn standard() -> Self {
        Self::new(Box::new(io::BufWriter::new(io::stdout())), Box::new(io::stderr()))
    }

    /// Streams on other writers.
    pub(super) fn new(out: Box<dyn Write>, err: Box<dyn Write>) -> Self {
        Self { out, err, failed: None }
    }

    /// Prints a report, ending it with a line break.
    pub(super) fn print(&mut self, text: &str) {
        if self.failed.is_some() {
            return;
        }
        let end = if text.ends_with('\n') { "" } else { "\n" };
        if let Err(error) = write!(self.out, "{text}{end}") {
            self.failed = Some(error);
        }
    }

    /// Tells of a fault on standard error; where even that is closed there is nobody to tell.
    pub(super) fn tell(&mut self, text: &str) {
        let _closed = writeln!(self.err, "{}", text.trim_end());
    }

    /// Flushes what was printed; output that was lost turns `exit` into "could not run".
    pub(super) fn finish(mut self, exit: Exit) -> Exit {
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
}
