//! What a check is.

use super::Judge;

/// A check: its texts, and the function that looks.
#[derive(Debug)]
pub struct Check {
    /// Stable name, kebab-case; acceptances and JSON refer to it.
    pub id: &'static str,
    /// What a reader calls it.
    pub title: &'static str,
    /// What it compares.
    pub what: &'static str,
    /// Why that matters.
    pub why: &'static str,
    /// How a fail is mended.
    pub mend: &'static str,
    /// Where the rule comes from, or "common practice, no source".
    pub source: &'static str,
    /// Looks at every thing in every worked state.
    pub run: fn(&mut Judge<'_>),
}
