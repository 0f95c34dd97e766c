//! The rows of the page's lists.

use minijinja::{Value, context};

use super::Shown;
use crate::flat::Blank;
use crate::kit::{Kit, Part};
use crate::note::{Finding, Measure};
use crate::release::mass_kg;
use crate::template::Value as Known;
use crate::units::{in_inches, in_mm, mass, number};

fn length(kit: &Kit, mm: f64) -> String {
    if kit.inches { in_inches(mm) } else { in_mm(mm) }
}

/// What the kit is, in a few figures: name and value.
pub(super) fn fact_rows(shown: &Shown) -> Vec<Value> {
    let Shown { kit, blanks, .. } = *shown;
    let each = kit.parts.iter().zip(blanks);
    let whole: f64 =
        each.map(|(part, blank)| mass_kg(part, blank) * part.places.len() as f64).sum();
    let pieces: usize = kit.parts.iter().map(|part| part.places.len()).sum();
    let fasteners: usize = kit.fasteners.iter().map(|fastener| fastener.count).sum();
    let mut rows = vec![["Container".to_owned(), kit.container.title.clone()]];
    let opening =
        [("opening.clear_width", "Clear width"), ("opening.clear_height", "Clear height")];
    for (key, title) in opening {
        let value = kit.values.iter().find(|(name, _)| name == key);
        if let Some((_, Known::Number(mm))) = value {
            rows.push([title.to_owned(), length(kit, *mm)]);
        }
    }
    let more = [
        ("Parts", pieces.to_string()),
        ("Part numbers", kit.parts.len().to_string()),
        ("Fasteners", fasteners.to_string()),
        ("Mass of the parts", mass(whole, kit.inches)),
        ("Tolerance", kit.tolerance.clone()),
    ];
    rows.extend(more.map(|(name, value)| [name.to_owned(), value]));
    let row = |[name, value]: [String; 2]| context! { name => name, value => value };
    rows.into_iter().filter(|[_, value]| !value.is_empty()).map(row).collect()
}

/// A card for each part number.
pub(super) fn part_rows(shown: &Shown) -> Vec<Value> {
    let each = shown.kit.parts.iter().zip(shown.blanks);
    each.map(|(part, blank)| part_row(shown, part, blank)).collect()
}

fn part_row(shown: &Shown, part: &Part, blank: &Blank) -> Value {
    let kit = shown.kit;
    let path = |ending: &str| format!("parts/{}.{ending}", part.number);
    let picture = shown.file(&path("svg")).map(|svg| String::from_utf8_lossy(svg).into_owned());
    let files: Vec<Value> = ["dxf", "pdf", "svg"]
        .iter()
        .filter(|ending| shown.file(&path(ending)).is_some())
        .map(|ending| (shown.link(&path(ending)), ending.to_uppercase()))
        .map(|(path, word)| context! { path, word })
        .collect();
    let thickness = length(kit, part.thickness);
    context! {
        number => part.number.as_str(),
        title => part.title.as_str(),
        quantity => part.places.len(),
        material => part.material.title.as_str(),
        sheet => if part.gauge.is_empty() { thickness } else { part.gauge.clone() },
        blank => format!("{} x {}", length(kit, blank.width), length(kit, blank.height)),
        bends => part.bends.len(),
        holes => blank.inner.len(),
        mass => mass(mass_kg(part, blank), kit.inches),
        large => picture.as_ref().map(|_| shown.link(&path("svg"))),
        picture => picture.map(Value::from_safe_string),
        files => files,
    }
}

/// A row for each kind of fastener.
pub(super) fn fastener_rows(kit: &Kit) -> Vec<Value> {
    let rows = kit.fasteners.iter().map(|row| {
        context! {
            title => row.title.as_str(), count => row.count, spare => row.spare,
            total => row.count + row.spare,
        }
    });
    rows.collect()
}

/// A row for each finding, the gravest first.
pub(super) fn finding_rows(findings: &[Finding]) -> Vec<Value> {
    let mut findings: Vec<&Finding> = findings.iter().collect();
    findings.sort_by_key(|finding| finding.severity);
    findings.into_iter().map(finding_row).collect()
}

fn finding_row(finding: &Finding) -> Value {
    let figure = |pick: fn(&Measure) -> f64| {
        let shown =
            |m: &Measure| format!("{} {}", number(pick(m), 2), m.unit).trim_end().to_owned();
        finding.measure.as_ref().map(shown).unwrap_or_default()
    };
    // Many messages begin with what they are about.
    let told = finding.message.starts_with(&finding.subject);
    context! {
        severity => finding.severity.word(), check => finding.check,
        subject => if told { "" } else { finding.subject.as_str() },
        message => finding.message.as_str(), source => finding.source.as_str(),
        help => finding.help.as_str(),
        accepted => finding.accepted.as_deref(), found => figure(|m| m.found),
        limit => figure(|m| m.limit),
    }
}
