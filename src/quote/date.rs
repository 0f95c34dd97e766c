//! Days counted on from a date of the spec; the clock is never asked.

/// Days of the twelve months in a common year.
const MONTHS: [i64; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// The date so many days after an ISO 8601 date, `2026-11-02`; nothing for what is no such date.
pub fn later(date: &str, days: usize) -> Option<String> {
    let mut fields = date.split('-').map(|field| field.parse::<i64>().ok());
    let (mut year, mut month, day) = (fields.next()??, fields.next()??, fields.next()??);
    if !(1..=12).contains(&month) || fields.next().is_some() {
        return None;
    }
    let mut day = day + i64::try_from(days).ok()?;
    while day > length(year, month) {
        day -= length(year, month);
        (year, month) = if month == 12 { (year + 1, 1) } else { (year, month + 1) };
    }
    Some(format!("{year:04}-{month:02}-{day:02}"))
}

fn length(year: i64, month: i64) -> i64 {
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    MONTHS[(month - 1) as usize] + i64::from(month == 2 && leap)
}
