//! What the header's texts must look like.

use crate::units::quoted;

/// The rule one text is held against.
pub(super) struct Rule {
    /// Code of the finding.
    pub(super) code: &'static str,
    /// How it is written in TOML, for a missing key.
    pub(super) example: &'static str,
    /// The way out when it is wrong.
    pub(super) help: &'static str,
    /// What is wrong with a text, if anything.
    pub(super) fault: fn(&str) -> Option<String>,
}

/// Names of a container's walls.
pub(super) const WALLS: &[&str] = &["left", "right", "front-end", "door-end"];

/// Kit number. It names folders and files, so it keeps to what every file system takes.
pub(super) const KIT: Rule = Rule {
    code: "spec.kit-number",
    example: "\"SKB-0914\"",
    help: "use capital letters and digits with single hyphens between them, such as SKB-0914",
    fault: kit_fault,
};

pub(super) const TEMPLATE: Rule = Rule {
    code: "spec.template-name",
    example: "\"overhead-door\"",
    help: "use the name of a kit family, such as overhead-door",
    fault: slug_fault,
};

pub(super) const CONTAINER: Rule = Rule {
    code: "spec.container-name",
    example: "\"40ft-high-cube\"",
    help: "use the name of a container type, such as 40ft-high-cube",
    fault: slug_fault,
};

pub(super) const PART: Rule = Rule {
    code: "spec.part-name",
    example: "\"side-frame-left\"",
    help: "use the part's name in the kit family, such as side-frame-left",
    fault: slug_fault,
};

pub(super) const CHECK: Rule = Rule {
    code: "spec.check-name",
    example: "\"site.cut-mass\"",
    help: "use the name printed with the warning, such as site.cut-mass",
    fault: check_fault,
};

pub(super) const REVISION: Rule = Rule {
    code: "spec.revision",
    example: "\"A\"",
    help: "use one to three capital letters or digits, such as A or 01",
    fault: revision_fault,
};

pub(super) const DATE: Rule = Rule {
    code: "spec.date",
    example: "\"2025-03-14\"",
    help: "write year-month-day, such as 2025-03-14",
    fault: date_fault,
};

/// One line of the title block.
pub(super) const LINE: Rule = Rule {
    code: "spec.text",
    example: "\"Kelp-drying hall, north door\"",
    help: "write one line of at most 100 characters",
    fault: |text| line_fault(text, 100),
};

/// A reason or a description of a change; it may not be empty.
pub(super) const SENTENCE: Rule = Rule {
    code: "spec.text",
    example: "\"why, in a sentence\"",
    help: "write one sentence of at most 300 characters",
    fault: |text| {
        if text.trim().is_empty() { Some("it is empty".into()) } else { line_fault(text, 300) }
    },
};

/// Names that some file systems keep for devices.
const DEVICES: [&str; 22] = [
    "CON", "PRN", "AUX", "NUL", "COM1", "COM2", "COM3", "COM4", "COM5", "COM6", "COM7", "COM8",
    "COM9", "LPT1", "LPT2", "LPT3", "LPT4", "LPT5", "LPT6", "LPT7", "LPT8", "LPT9",
];

fn kit_fault(text: &str) -> Option<String> {
    if text.is_empty() {
        return Some("it is empty".into());
    }
    if 32 < text.len() {
        return Some("it is longer than 32 characters".into());
    }
    let allowed = |c: char| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '-';
    if let Some(c) = text.chars().find(|c| !allowed(*c)) {
        return Some(format!("{} is not allowed in it", quoted(&c.to_string())));
    }
    if text.split('-').any(str::is_empty) {
        return Some("hyphens stand singly between letters or digits".into());
    }
    DEVICES.contains(&text).then(|| "some systems keep this name for a device".into())
}

fn revision_fault(text: &str) -> Option<String> {
    let good = |c: char| c.is_ascii_uppercase() || c.is_ascii_digit();
    let fits = (1..=3).contains(&text.len()) && text.chars().all(good);
    (!fits).then(|| "it is not one to three capital letters or digits".into())
}

fn slug_fault(text: &str) -> Option<String> {
    let good = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    let fits = (1..=64).contains(&text.len()) && text.chars().all(good);
    (!fits).then(|| "it has other characters than small letters, digits and hyphens".into())
}

fn check_fault(text: &str) -> Option<String> {
    let good = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-' || c == '.';
    let fits = (1..=64).contains(&text.len()) && text.chars().all(good);
    (!fits).then(|| "it is not the name of a check".into())
}

fn line_fault(text: &str, most: usize) -> Option<String> {
    let length = text.chars().count();
    if most < length {
        return Some(format!("it has {length} characters, at most {most} have room"));
    }
    text.chars().any(char::is_control).then(|| "it holds a line break or control character".into())
}

/// A day of the calendar from 1900 on, as ISO 8601 writes it.
fn date_fault(text: &str) -> Option<String> {
    let Some((year, month, day)) = date_fields(text) else {
        return Some("it is not written as year-month-day".into());
    };
    if year < 1900 {
        return Some("the year is before 1900".into());
    }
    if !(1..=12).contains(&month) {
        return Some(format!("there is no month {month}"));
    }
    let days = days_of(year, month);
    (!(1..=days).contains(&day)).then(|| format!("that month has {days} days"))
}

fn date_fields(text: &str) -> Option<(u32, u32, u32)> {
    let bytes = text.as_bytes();
    let shape = bytes.len() == 10
        && bytes.iter().enumerate().all(|(i, b)| match i {
            4 | 7 => *b == b'-',
            _ => b.is_ascii_digit(),
        });
    if !shape {
        return None;
    }
    Some((text[..4].parse().ok()?, text[5..7].parse().ok()?, text[8..].parse().ok()?))
}

fn days_of(year: u32, month: u32) -> u32 {
    let leap = year.is_multiple_of(4) && !year.is_multiple_of(100) || year.is_multiple_of(400);
    match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// `"a", "b" or "c"`.
pub(super) fn or(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|w| format!("\"{w}\"")).collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, before)) => format!("{} or {last}", before.join(", ")),
        None => String::new(),
    }
}
