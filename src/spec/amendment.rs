//! Amendments: what came back from the site, done to parts of the template by name.

use super::header;
use super::model::{Amendment, Change, HoleChoice, HoleSize, Said};
use super::parse::required;
use super::{Table, nearest};
use crate::note::{Finding, Notes};
use crate::units::quoted;

/// What an amendment can do.
const DEEDS: [&str; 5] = ["cut", "notch", "move", "enlarge", "remove"];

/// All amendments of a spec, in the order of the file; one that cannot be read is told and left
/// out.
pub(super) fn amendments(top: &mut Table<'_>, notes: &mut Notes) -> Vec<Amendment> {
    let tables = top.tables("amendments", notes);
    tables.into_iter().filter_map(|table| amendment(table, notes)).collect()
}

fn amendment(mut table: Table<'_>, notes: &mut Notes) -> Option<Amendment> {
    let span = table.span.clone();
    let part = required(&mut table, "part", &header::PART, notes);
    let reason = required(&mut table, "reason", &header::SENTENCE, notes);
    let revision = required(&mut table, "revision", &header::REVISION, notes);
    let given: Vec<&str> = DEEDS.into_iter().filter(|deed| table.has(deed)).collect();
    let changes = [
        table.table("cut", notes).map(|own| cut(own, notes)),
        table.table("notch", notes).map(|own| notch(own, notes)),
        table.table("move", notes).map(|own| moved(own, notes)),
        table.table("enlarge", notes).map(|own| enlarged(own, notes)),
        table.table("remove", notes).map(|mut own| {
            let hole = choice(&mut own, notes);
            own.finish(notes);
            hole.map(|hole| Change::Remove { hole })
        }),
    ];
    if given.len() != 1 {
        let message = match given.len() {
            0 => "an amendment says nothing that is to be done".to_owned(),
            _ => format!("an amendment does {} at once", given.join(" and ")),
        };
        let help = format!("give each amendment one of {}", DEEDS.join(", "));
        let finding = Finding::error("spec.amendment", message).about(table.path.clone());
        table.tell(&(span.start..span.start), finding.help(help), notes);
    }
    table.finish(notes);
    let change = changes.into_iter().flatten().next()??;
    (given.len() == 1).then_some(Amendment { part, reason, revision, change, span })
}

fn cut(mut table: Table<'_>, notes: &mut Notes) -> Option<Change> {
    let face = needed(&mut table, "face", "\"web\"", notes);
    let at = point(&mut table, "at", true, notes);
    let size = size(&mut table, notes);
    let purpose = table.text("for", notes);
    table.finish(notes);
    Some(Change::Cut { face: face?, at: at?, size: size?, purpose })
}

fn notch(mut table: Table<'_>, notes: &mut Notes) -> Option<Change> {
    let on = needed(&mut table, "on", "\"return.right\"", notes);
    let mut length = |key: &'static str| {
        if !table.has(key) {
            table.missing(key, "60", notes);
        }
        table.length(key, notes)
    };
    let (from, to, depth) = (length("from"), length("to"), length("depth"));
    table.finish(notes);
    Some(Change::Notch { on: on?, from: from?, to: to?, depth: depth? })
}

fn moved(mut table: Table<'_>, notes: &mut Notes) -> Option<Change> {
    let hole = choice(&mut table, notes);
    let by = point(&mut table, "by", true, notes);
    table.finish(notes);
    Some(Change::Move { hole: hole?, by: by? })
}

fn enlarged(mut table: Table<'_>, notes: &mut Notes) -> Option<Change> {
    let hole = choice(&mut table, notes);
    let size = size(&mut table, notes);
    table.finish(notes);
    Some(Change::Enlarge { hole: hole?, size: size? })
}

/// Which hole is meant: on a face, by what it is for, near a place; or every one of them.
fn choice(table: &mut Table<'_>, notes: &mut Notes) -> Option<HoleChoice> {
    let face = needed(table, "face", "\"web\"", notes);
    let hole = table.text("hole", notes);
    let near = point(table, "near", false, notes);
    let every = table.flag("every", notes).is_some_and(|said| said.value);
    Some(HoleChoice { face: face?, hole, near, every, span: table.span.clone() })
}

fn needed(
    table: &mut Table<'_>,
    key: &'static str,
    example: &str,
    notes: &mut Notes,
) -> Option<Said<String>> {
    if !table.has(key) {
        table.missing(key, example, notes);
    }
    table.text(key, notes)
}

/// Two lengths, x and y.
fn point(
    table: &mut Table<'_>,
    key: &'static str,
    must: bool,
    notes: &mut Notes,
) -> Option<Said<[f64; 2]>> {
    if !table.has(key) {
        if must {
            table.missing(key, "[20, 1450]", notes);
        }
        return None;
    }
    let before = notes.len();
    let lengths = table.lengths(key, notes)?;
    let [x, y] = &lengths[..] else {
        if notes.len() == before {
            let path = table.path_of(key);
            let message = format!("`{path}` has {} lengths; it must have two", lengths.len());
            let finding = Finding::error("spec.amendment", message).about(path);
            let span = table.span.clone();
            table.tell(&span, finding.help("write x and y: `[20, 1450]`"), notes);
        }
        return None;
    };
    Some(Said { value: [x.value, y.value], span: x.span.start..y.span.end })
}

/// `diameter`, `slot` or `rectangle`, one of them, above 0.
fn size(table: &mut Table<'_>, notes: &mut Notes) -> Option<HoleSize> {
    const SIZES: [&str; 3] = ["diameter", "slot", "rectangle"];
    let given = SIZES.into_iter().filter(|key| table.has(key)).count();
    let diameter = table.length("diameter", notes);
    let slot = point(table, "slot", false, notes);
    let rectangle = point(table, "rectangle", false, notes);
    let direction = table.angle("direction", notes).map_or(0.0, |said| said.value);
    let span = table.span.clone();
    if given != 1 {
        let message = format!("an amendment gives {given} sizes for one hole");
        let finding = Finding::error("spec.amendment", message).about(table.path.clone());
        let help = format!("give one of {}", SIZES.join(", "));
        table.tell(&(span.start..span.start), finding.help(help), notes);
        return None;
    }
    let none = |value: f64| value <= 0.0;
    let (size, at, fault) = match (diameter, slot, rectangle) {
        (Some(d), _, _) => (HoleSize::Round(d.value), d.span, none(d.value)),
        (_, Some(s), _) => {
            let [w, l] = s.value;
            (HoleSize::Slot(w, l, direction), s.span, none(w) || l <= w)
        }
        (_, _, Some(s)) => {
            let [w, l] = s.value;
            (HoleSize::Rectangle(w, l, direction), s.span, none(w) || none(l))
        }
        _ => return None,
    };
    if fault {
        let message = "a hole of that size has no room inside, or is no slot";
        let finding = Finding::error("amend.size", message).about(table.path.clone());
        let help = "give sizes above 0; a slot is longer than wide: `slot = [9, 18]`";
        table.tell(&at, finding.help(help), notes);
        return None;
    }
    Some(size)
}

impl Amendment {
    /// An error about a name that is not known, with the nearest one.
    pub fn unknown(check: &'static str, what: &str, said: &str, known: &[&str]) -> Finding {
        let all = known.join(", ");
        let help = match nearest(said, known.iter().copied()) {
            Some(meant) => format!("did you mean `{meant}`? There are: {all}"),
            None => format!("there are: {all}"),
        };
        let message = format!("there is no {what} {}", quoted(said));
        Finding::error(check, message).about(said.to_owned()).help(help)
    }

    /// Whether it cuts a notch.
    pub fn is_notch(&self) -> bool {
        matches!(self.change, Change::Notch { .. })
    }

    /// Whether it is about the part of that name, or about the one that both hands share.
    pub fn names(&self, part: &str) -> bool {
        let hands = ["-left", "-right"];
        let shared = hands.iter().find_map(|hand| part.strip_suffix(hand));
        self.part.value == part || shared == Some(self.part.value.as_str())
    }
}
