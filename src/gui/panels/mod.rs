//! The panels, one file each. A panel shows and asks; it changes nothing but what it shows.

pub(super) mod findings;
pub(super) mod first_steps;
pub(super) mod inspector;
pub(super) mod mark;
pub(super) mod tables;
pub(super) mod take_in;
pub(super) mod time_line;
pub(super) mod top_bar;
pub(super) mod working;
pub(super) mod yard;

pub(super) use how::how_list_ui;

mod add_strings;
mod asked_form;
mod drops_form;
mod figure_rows;
mod finding_details;
pub(super) mod findings_filter;
mod gather;
mod how;
mod judge;
mod limits_form;
mod mends;
mod new_types;
mod order_form;
mod plan_form;
mod route_form;
mod row_drag;
mod sections_form;
mod springs_columns;
mod springs_form;
mod string_details;
mod string_results;
mod swatch;
mod table_bar;
mod train_form;
mod type_forms;
mod type_picture;
mod types_form;
mod vehicle_results;
