//! Days, as written beside a reading: `2026-10-03`.
//!
//! Knows no clock. Invariant: a date is a real day of the Gregorian calendar.

use std::fmt;

/// A day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// The day of this year, month and day of the month, or `None` where there is no such day from 1900 on.
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let real = (1900..=9999).contains(&year)
            && (1..=12).contains(&month)
            && (1..=days_in_month(year, month)).contains(&day);
        real.then_some(Self { year, month, day })
    }

    /// Reads `2026-10-03`.
    pub fn parse(text: &str) -> Option<Self> {
        let mut parts = text.split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        let plain =
            |part: &str, width| part.len() == width && part.bytes().all(|b| b.is_ascii_digit());
        if parts.next().is_some() || !plain(year, 4) || !plain(month, 2) || !plain(day, 2) {
            return None;
        }
        Self::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
    }

    /// Days from this day to another; negative where the other comes before.
    pub fn days_to(self, other: Self) -> i64 {
        other.number() - self.number()
    }

    /// Number of the day from an arbitrary but fixed day on.
    fn number(self) -> i64 {
        let years_before = i64::from(self.year) - 1;
        let leap_days = years_before / 4 - years_before / 100 + years_before / 400;
        let months: i64 = (1..self.month)
            .map(|month| i64::from(days_in_month(self.year, month)))
            .sum();
        years_before * 365 + leap_days + months + i64::from(self.day)
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

const fn days_in_month(year: u16, month: u8) -> u8 {
    match month {
        2 if is_leap(year) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

const fn is_leap(year: u16) -> bool {
    year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_real_days_are_read() {
        for text in ["2026-10-03", "2024-02-29", "2000-02-29", "1999-12-31"] {
            assert_eq!(
                Date::parse(text).map(|date| date.to_string()).as_deref(),
                Some(text)
            );
        }
        for text in [
            "2026-02-30",
            "2023-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-1-3",
            "03.10.2026",
            "",
            "2026-10-03-1",
        ] {
            assert_eq!(Date::parse(text), None, "{text}");
        }
    }

    #[test]
    fn days_between_dates_are_counted() {
        let day = |text| Date::parse(text).unwrap();
        // 1 January 2000 is day 2 451 545 and 3 October 2026 is day 2 461 317 by the Julian day count.
        assert_eq!(
            day("2000-01-01").days_to(day("2026-10-03")),
            2_461_317 - 2_451_545
        );
        assert_eq!(day("2024-03-01").days_to(day("2024-02-28")), -2);
    }
}
