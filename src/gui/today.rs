//! The day and the hour, for records; everything else in the window knows no clock.

use jiff::{Timestamp, Zoned, tz::TimeZone};
use std::time::SystemTime;

/// Today where the user is, such as `2026-03-09`.
pub(super) fn today() -> String {
    Zoned::now().date().to_string()
}

/// The hour where the user is, with its distance from UTC, such as `2026-03-09 06:10 +01:00`.
pub(super) fn now() -> String {
    Zoned::now().strftime("%Y-%m-%d %H:%M %:z").to_string()
}

/// A moment where the user is, such as `2026-03-09 at 14:05`.
pub(super) fn moment(at: SystemTime) -> String {
    match Timestamp::try_from(at) {
        Ok(at) => at.to_zoned(TimeZone::system()).strftime("%Y-%m-%d at %H:%M").to_string(),
        Err(_) => "at an unknown time".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hour_is_written_so_that_it_can_be_read_back() {
        let read = jiff::fmt::strtime::parse("%Y-%m-%d %H:%M %:z", now()).unwrap().to_timestamp().unwrap();
        let apart = Timestamp::now().duration_since(read);
        assert!((0..120).contains(&apart.as_secs()), "{apart:?}");
        assert!(now().starts_with(&today()));
    }
}
