//! From the text of a spec to [`Spec`]: the header is checked here, everything else is kept for the
//! template's parameters.

use std::sync::Arc;

use toml::Spanned;
use toml::de::DeTable;

use super::amendment::amendments;
use super::header::{self, Rule};
use super::model::{
    Accept, ContainerChoice, Given, RevisionLine, Said, SheetChoice, SheetOf, Spec, Survey,
    SurveyFrom, Units,
};
use super::quote;
use super::{SPEC, Table, nearest, read_toml};
use crate::note::{Finding, Notes};
use crate::units::quoted;

/// Reads a spec. Every fault is told at once; none when nothing can be done without what is
/// missing: broken TOML or no template. Errors in `notes` mean that the spec must not be built.
pub fn parse(file: &str, text: &str, notes: &mut Notes) -> Option<Spec> {
    let file: Arc<str> = Arc::from(file);
    let toml = read_toml(&file, text, &SPEC, notes)?;
    parse_table(&file, &toml, notes)
}

/// The same of a table that is read already.
pub(super) fn parse_table<'t>(
    file: &Arc<str>,
    toml: &'t Spanned<DeTable<'t>>,
    notes: &mut Notes,
) -> Option<Spec> {
    let mut top = Table::top(file, toml, &SPEC);
    top.units = units(&mut top, notes);
    let kit = required(&mut top, "kit", &header::KIT, notes);
    let template = required(&mut top, "template", &header::TEMPLATE, notes);
    let known_template = !template.value.is_empty();
    let spec = Spec {
        kit,
        template,
        revision: required(&mut top, "revision", &header::REVISION, notes),
        title: optional(&mut top, "title", &header::LINE, notes),
        site: optional(&mut top, "site", &header::LINE, notes),
        date: required(&mut top, "date", &header::DATE, notes),
        drawn_by: optional(&mut top, "drawn_by", &header::LINE, notes),
        approved_by: optional(&mut top, "approved_by", &header::LINE, notes),
        units: top.units,
        container: container(&mut top, notes),
        sheet: sheet(&mut top, notes),
        accepts: accepts(&mut top, notes),
        revisions: revisions(&mut top, notes),
        quote: quote::quote(&mut top, notes),
        amendments: amendments(&mut top, notes),
        previous: top.text("previous", notes),
        overrides: overrides(&mut top, notes),
        given: top.groups(notes),
        file: Arc::clone(file),
    };
    known_template.then_some(spec)
}

/// Derived values set by hand. Kits of one file and variants were taken apart before: their keys
/// are known here, and nothing stands under them.
fn overrides(top: &mut Table<'_>, notes: &mut Notes) -> Vec<Given> {
    let given = top.table("overrides", notes).map(|t| t.rest(notes)).unwrap_or_default();
    for key in ["kits", "variant", "sweep", "catalogue"] {
        top.raw(key, notes);
    }
    given
}

fn units(top: &mut Table<'_>, notes: &mut Notes) -> Units {
    let Some(said) = top.text("units", notes) else { return Units::Mm };
    match said.value.as_str() {
        "mm" => Units::Mm,
        "in" => Units::Inch,
        other => {
            let message = format!("`units` is {}; it must be \"mm\" or \"in\"", quoted(other));
            let finding = Finding::error("spec.units", message).about("units");
            top.tell(&said.span, finding.help("write `units = \"mm\"`"), notes);
            Units::Mm
        }
    }
}

/// A text that must be there; where it is not, the fault is told and the text is empty.
pub(super) fn required(
    table: &mut Table<'_>,
    key: &'static str,
    rule: &Rule,
    notes: &mut Notes,
) -> Said<String> {
    if !table.has(key) {
        table.missing(key, rule.example, notes);
    }
    optional(table, key, rule, notes)
}

/// A text that may be there, held against its rule; empty when it is missing or wrong.
pub(super) fn optional(
    table: &mut Table<'_>,
    key: &'static str,
    rule: &Rule,
    notes: &mut Notes,
) -> Said<String> {
    let nothing = || Said { value: String::new(), span: 0..0 };
    let Some(said) = table.text(key, notes) else { return nothing() };
    match (rule.fault)(&said.value) {
        None => said,
        Some(fault) => {
            let path = table.path_of(key);
            let message = format!("`{path}` is {}: {fault}", quoted(&said.value));
            let finding = Finding::error(rule.code, message).about(path);
            table.tell(&said.span, finding.help(rule.help), notes);
            nothing()
        }
    }
}

fn container(top: &mut Table<'_>, notes: &mut Notes) -> Option<ContainerChoice> {
    let mut table = top.table("container", notes)?;
    let kind = required(&mut table, "type", &header::CONTAINER, notes);
    let wall = table.text("wall", notes);
    if let Some(wall) = &wall {
        check_word(&table, "wall", wall, header::WALLS, notes);
    }
    let other = optional(&mut table, "other", &header::CONTAINER, notes);
    let other = Some(other).filter(|said| !said.value.is_empty());
    let survey = table.table("survey", notes).map(|t| survey(t, notes));
    table.finish(notes);
    Some(ContainerChoice { kind, wall, other, survey })
}

/// Tells a word that is none of those allowed.
fn check_word(
    table: &Table<'_>,
    key: &str,
    said: &Said<String>,
    allowed: &'static [&'static str],
    notes: &mut Notes,
) {
    if allowed.contains(&said.value.as_str()) {
        return;
    }
    let path = table.path_of(key);
    let message =
        format!("`{path}` is {}; it must be {}", quoted(&said.value), header::or(allowed));
    let meant = nearest(&said.value, allowed.iter().copied()).unwrap_or(allowed[0]);
    let finding = Finding::error("spec.word", message).about(path);
    table.tell(&said.span, finding.help(format!("write `{key} = \"{meant}\"`")), notes);
}

fn survey(mut table: Table<'_>, notes: &mut Notes) -> Survey {
    let from = table.text("from", notes);
    match &from {
        Some(word) => check_word(&table, "from", word, &["left", "right"], notes),
        None if table.has("from") => {}
        None => table.missing("from", "\"left\"", notes),
    }
    let right = from.is_some_and(|word| word.value == "right");
    let from = if right { SurveyFrom::Right } else { SurveyFrom::Left };
    let length = table.length("length", notes);
    if !table.has("centres") {
        table.missing("centres", "[96, 374, 652]", notes);
    }
    let centres = table.lengths("centres", notes).unwrap_or_default();
    for centre in centres.iter().chain(&length).filter(|said| said.value <= 0.0) {
        let message = "a distance from a corner post must be above 0";
        let finding = Finding::error("spec.number", message).about(table.path_of("centres"));
        let help = "measure from the post's edge at the wall";
        table.tell(&centre.span, finding.measured(centre.value, 0.0, "mm").help(help), notes);
    }
    let span = table.span.clone();
    table.finish(notes);
    Survey { from, length, centres, span }
}

fn sheet(top: &mut Table<'_>, notes: &mut Notes) -> SheetChoice {
    let Some(mut table) = top.table("sheet", notes) else { return SheetChoice::default() };
    let material = table.text("material", notes);
    let thickness = thickness(&mut table, notes);
    let mut parts = Vec::new();
    if let Some(mut named) = table.table("parts", notes) {
        for (part, mut own) in named.each_table(notes) {
            let material = own.text("material", notes);
            let thickness = self::thickness(&mut own, notes);
            own.finish(notes);
            parts.push(SheetOf { part, material, thickness });
        }
    }
    table.finish(notes);
    SheetChoice { material, thickness, parts }
}

/// `thickness = "2 mm"`, `thickness = "14 ga"` or `gauge = 14`; not two of them.
fn thickness(table: &mut Table<'_>, notes: &mut Notes) -> Option<Said<super::Thickness>> {
    let thickness = table.thickness("thickness", notes);
    let Some(gauge) = table.number("gauge", notes) else { return thickness };
    if thickness.is_some() {
        let message = "thickness and gauge are both given";
        let finding = Finding::error("spec.sheet", message).about(table.path_of("gauge"));
        table.tell(&gauge.span, finding.help("keep the one the sheet is bought by"), notes);
        return thickness;
    }
    if gauge.value.fract() != 0.0 || !(1.0..=50.0).contains(&gauge.value) {
        let message = format!("gauge {} is not a whole number from 1 to 50", gauge.value);
        let finding = Finding::error("spec.number", message).about(table.path_of("gauge"));
        table.tell(&gauge.span, finding.help("write `gauge = 14`"), notes);
        return None;
    }
    Some(Said { value: super::Thickness::Gauge(gauge.value as u32), span: gauge.span })
}

fn accepts(top: &mut Table<'_>, notes: &mut Notes) -> Vec<Accept> {
    let mut accepts = Vec::new();
    for mut table in top.tables("accept", notes) {
        let check = required(&mut table, "check", &header::CHECK, notes);
        let reason = required(&mut table, "reason", &header::SENTENCE, notes);
        let subject = table.text("subject", notes);
        table.finish(notes);
        if !check.value.is_empty() && !reason.value.is_empty() {
            accepts.push(Accept { check, subject, reason });
        }
    }
    accepts
}

fn revisions(top: &mut Table<'_>, notes: &mut Notes) -> Vec<RevisionLine> {
    let mut lines: Vec<RevisionLine> = Vec::new();
    for mut table in top.tables("revisions", notes) {
        let index = required(&mut table, "index", &header::REVISION, notes);
        let date = required(&mut table, "date", &header::DATE, notes);
        let text = required(&mut table, "text", &header::SENTENCE, notes);
        if lines.iter().any(|line| line.index.value == index.value) && !index.value.is_empty() {
            let message = format!("revision {} is listed twice", index.value);
            let finding = Finding::error("spec.revision-twice", message).about(index.value.clone());
            table.tell(&index.span, finding.help("give each revision its own index"), notes);
        }
        table.finish(notes);
        lines.push(RevisionLine { index, date, text });
    }
    lines
}

/// The path that a spec names as the revision before, and where it stands; none where it names
/// none, or is no TOML.
pub fn previous(file: &str, text: &str) -> Option<(String, std::ops::Range<usize>)> {
    let file: Arc<str> = Arc::from(file);
    let mut unheard = Notes::default();
    let toml = read_toml(&file, text, &SPEC, &mut unheard)?;
    let said = Table::top(&file, &toml, &SPEC).text("previous", &mut unheard)?;
    Some((said.value, said.span))
}
