//! The arguments of a command, one after another; an option that takes one value is given once.

use super::usage::UsageError;
use lexopt::{Arg, Parser};
use std::collections::BTreeSet;
use std::ffi::OsString;
use std::path::PathBuf;

/// What is still to be read of the arguments of a command.
pub(super) struct Arguments {
    parser: Parser,
    /// Options that take one value and have it.
    given: BTreeSet<&'static str>,
}

impl Arguments {
    /// The arguments behind the command's name.
    pub(super) fn new(args: &[OsString]) -> Self {
        Self { parser: Parser::from_args(args), given: BTreeSet::new() }
    }

    /// The next argument, a file or an option.
    pub(super) fn next(&mut self) -> Result<Option<Arg<'_>>, UsageError> {
        Ok(self.parser.next()?)
    }

    /// The value of `option`, which takes one: of two, one would be ignored.
    pub(super) fn only(&mut self, option: &'static str) -> Result<OsString, UsageError> {
        if !self.given.insert(option) {
            return Err(UsageError::Twice { option });
        }
        self.another()
    }

    /// The value of `option`, which takes one file.
    pub(super) fn file(&mut self, option: &'static str) -> Result<PathBuf, UsageError> {
        let value = self.only(option)?;
        if value.is_empty() {
            return Err(UsageError::bad(value, option, "the name of a file"));
        }
        Ok(value.into())
    }

    /// The value of an option that may be given again, or the second of an option that takes two.
    pub(super) fn another(&mut self) -> Result<OsString, UsageError> {
        Ok(self.parser.value()?)
    }
}
