//! The day, for records; everything else in the program knows no clock.

use std::time::{SystemTime, UNIX_EPOCH};

/// Today in universal time, such as `2026-03-09`.
pub(super) fn today() -> String {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    date_of(seconds / 86_400)
}

/// The date of a day counted from 1970-01-01, by the Gregorian calendar.
fn date_of(day: u64) -> String {
    let leap = |year: u64| (year.is_multiple_of(4) && !year.is_multiple_of(100)) || year.is_multiple_of(400);
    let (mut year, mut left) = (1970, day);
    while left >= if leap(year) { 366 } else { 365 } {
        left -= if leap(year) { 366 } else { 365 };
        year += 1;
    }
    let february = if leap(year) { 29 } else { 28 };
    let mut month = 1;
    for days in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] {
        if left < days {
            break;
        }
        left -= days;
        month += 1;
    }
    format!("{year:04}-{month:02}-{:02}", left + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Day counts by the coreutils command `date -u -d DATE +%s`, divided by 86,400.
    #[test]
    fn days_become_dates_across_leap_years() {
        assert_eq!(date_of(0), "1970-01-01");
        assert_eq!(date_of(11_016), "2000-02-29");
        assert_eq!(date_of(11_017), "2000-03-01");
        assert_eq!(date_of(20_453), "2025-12-31");
        assert_eq!(date_of(20_454), "2026-01-01");
    }
}
