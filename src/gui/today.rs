//! The day and the hour, for records; everything else in the window knows no clock.

use jiff::Zoned;

/// Today where the user is, such as `2026-03-09`.
pub(super) fn today() -> String {
    Zoned::now().date().to_string()
}
