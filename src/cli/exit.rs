//! Exit codes, and which of several plans' codes counts.

use crate::checks::Verdict;
use crate::report;
use std::process::ExitCode;

/// How a command ends; the most weighty comes last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Exit {
    /// Nothing is open.
    Done,
    /// No unaccepted fail, but something undecided.
    Undecided,
    /// An unaccepted fail.
    Fails,
    /// It could not run.
    CouldNotRun,
}

impl Exit {
    /// The number that the shell sees.
    pub(super) fn code(self) -> u8 {
        match self {
            Self::Done => report::exit_code(Verdict::NothingOpen),
            Self::Undecided => report::exit_code(Verdict::Undecided),
            Self::Fails => report::exit_code(Verdict::Fails),
            Self::CouldNotRun => 2,
        }
    }
}

impl From<Verdict> for Exit {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::NothingOpen => Self::Done,
            Verdict::Undecided => Self::Undecided,
            Verdict::Fails => Self::Fails,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}

#[cfg(test)]
mod tests {
    use super::Exit;

    #[test]
    fn of_several_plans_two_counts_before_one_before_three_before_nothing() {
        let codes = |exits: &[Exit]| exits.iter().copied().max().unwrap().code();
        assert_eq!(codes(&[Exit::Done, Exit::Done]), 0);
        assert_eq!(codes(&[Exit::Done, Exit::Undecided]), 3);
        assert_eq!(codes(&[Exit::Undecided, Exit::Fails, Exit::Done]), 1);
        assert_eq!(codes(&[Exit::Fails, Exit::CouldNotRun, Exit::Undecided]), 2);
    }
}
