//! Findings shown to people.

use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use super::batch::Outcome;
use super::plain;
use super::remark::{Remark, Spot};
use crate::note::{Finding, Severity};
use crate::units;

/// Lines longer than this many bytes are named, not shown.
const LONGEST_LINE: usize = 400;

/// Every remark of an outcome, in its order, each followed by an empty line.
pub(crate) fn findings(outcome: &Outcome, colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    outcome.remarks.iter().map(|r| format!("{}\n\n", shown(&renderer, r, &outcome.file))).collect()
}

fn shown(renderer: &Renderer, remark: &Remark, file: &str) -> String {
    let finding = &remark.finding;
    let title = level(finding.severity)
        .primary_title(plain::line(&finding.message))
        .id(plain::line(finding.check));
    let group = with_place(Group::with_title(title), remark, file);
    renderer.render(&[with_details(group, finding)])
}

fn level(severity: Severity) -> Level<'static> {
    match severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    }
}

fn with_place<'a>(group: Group<'a>, remark: &Remark, file: &str) -> Group<'a> {
    match &remark.spot {
        Some(spot) if spot.text.len() <= LONGEST_LINE => group.element(line_of(spot)),
        Some(spot) => group.element(
            Origin::path(plain::line(&spot.file)).line(spot.line).char_column(spot.column),
        ),
        None if file.is_empty() => group,
        None => group.element(Origin::path(plain::line(file))),
    }
}

fn line_of(spot: &Spot) -> Snippet<'static, annotate_snippets::Annotation<'static>> {
    Snippet::source(plain::excerpt(&spot.text))
        .path(plain::line(&spot.file))
        .line_start(spot.line)
        .annotation(AnnotationKind::Primary.span(spot.span.clone()))
}

/// What it is about, the numbers, where the limit comes from, and the way out.
fn with_details<'a>(group: Group<'a>, finding: &Finding) -> Group<'a> {
    let mut group = group;
    let mut add = |name: &'static str, text: String| {
        if !text.is_empty() {
            let message = Level::NOTE.with_name(name).message(plain::line(&text));
            group = std::mem::replace(&mut group, Group::with_level(Level::NOTE)).element(message);
        }
    };
    add("about", finding.subject.clone());
    add("found", measured(finding));
    add("source", finding.source.clone());
    add("accepted", finding.accepted.clone().unwrap_or_default());
    add("help", finding.help.clone());
    group
}

/// The value found and the limit, to a thousandth.
fn measured(finding: &Finding) -> String {
    let Some(measure) = finding.measure else { return String::new() };
    let quantity =
        |value| format!("{} {}", units::number(value, 3), measure.unit).trim_end().to_owned();
    format!("{}, limit {}", quantity(measure.found), quantity(measure.limit))
}

/// One line on what became of a spec, for stdout.
pub(crate) fn result(outcome: &Outcome) -> String {
    let kit = outcome.kit.as_deref().unwrap_or(&outcome.file);
    let text = match (&outcome.written, count(outcome, Severity::Error)) {
        (Some(written), _) => {
            let there = format!("{} files in {}", written.files, written.folder.display());
            match &written.revision {
                None => format!("{kit}: {there}"),
                Some([revision, digest]) => {
                    format!("{kit}: revision {revision} released, {there}, manifest {digest}")
                }
            }
        }
        (None, 0) => format!("{kit}: no errors"),
        (None, errors) => format!("{kit}: refused, {}", counted(errors, "error")),
    };
    let warnings = match count(outcome, Severity::Warning) {
        0 => String::new(),
        n => format!(", {}", counted(n, "warning")),
    };
    plain::line(&format!("{text}{warnings}"))
}

fn count(outcome: &Outcome, severity: Severity) -> usize {
    outcome.remarks.iter().filter(|r| r.finding.severity == severity).count()
}

fn counted(n: usize, word: &str) -> String {
    if n == 1 { format!("1 {word}") } else { format!("{n} {word}s") }
}
