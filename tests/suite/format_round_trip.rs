//! What is written is read back the same, byte for byte and field for field.

use crate::format_full_plan::full_plan;
use longstow::format::{read, write};

#[test]
fn a_plan_with_every_field_survives_writing_and_reading() {
    let plan = full_plan();
    let text = write(&plan);
    let back = read(text.as_bytes()).unwrap_or_else(|error| panic!("{error}\n{text}"));
    assert_eq!(back, plan);
    assert_eq!(write(&back), text);
}
