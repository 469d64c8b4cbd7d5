//! Reports for readers and for other programs: plain text and JSON, made from figures and findings.
//!
//! Floor 6: no window code, and no idea where files lie: the caller gives a label to print. Text comes in the
//! units that its caller asks for, at most about 100 columns wide; JSON (`JSON.md`) always holds SI values.

mod apart;
mod check_text;
mod compare_rows;
mod compare_text;
mod figures_text;
mod finding_text;
mod intake_text;
mod json_check;
mod json_common;
mod json_compare;
mod json_figures;
mod json_holding;
mod json_intake;
mod json_loaded;
mod json_placements;
mod json_springs;
mod json_tidy;
mod json_track;
mod json_unloading;
mod json_weighings;
mod json_working;
mod layout;
mod loaded_text;
mod out;
mod placements_text;
mod records;
pub mod sheet;
mod springs_text;
mod tidy_text;
mod track_text;
mod unloading_text;
mod verdict;
mod weighings_text;
mod working_text;

pub use check_text::{CheckReportOptions, OnRequest, check_report};
pub use compare_rows::{
    DifferenceGroup, DifferenceRow, NameStates, RowOf, difference_groups, difference_words,
};
pub use compare_text::{Compared, Listed, compare_report};
pub use figures_text::figures_report;
pub use finding_text::finding_lines;
pub use intake_text::{intake_report, read_as, sum_words};
pub use json_check::{check_json, check_json_with};
pub use json_common::{JsonError, error_json, json_list};
pub use json_compare::compare_json;
pub use json_figures::{figures_json, figures_json_with, write_figures_json};
pub use json_intake::{IntakeEnd, intake_json};
pub use json_loaded::loaded_json;
pub use json_placements::placements_json;
pub use json_tidy::tidy_json;
pub use json_weighings::weighings_json;
pub use json_working::{questions_json, working_json};
pub use loaded_text::{deviation_words, loaded_report};
pub use out::{
    FiguresTable, OutTable, figures_table, file_bytes, findings_table, order_table, placements_table,
    racks_table, strings_table, vehicles_table,
};
pub use placements_text::placements_report;
pub use records::{Judged, Load, Records, load_words, signature_words};
pub use tidy_text::{change_words, tidy_report};
pub use verdict::{cautions, exit_code, verdict_line};
pub use weighings_text::{
    cause_words, contradiction_words, diagnosis_words, part_words, readings_words, weighings_report,
};
pub use working_text::{origin_words, questions_report, working_report, working_value};

/// The name of the mechanics that the figures come from, so that a second one can stand beside it.
pub const LEVEL_RIGID: &str = "level rigid";

#[cfg(test)]
mod json_tests;
#[cfg(test)]
mod tests;
