//! The sheets as small pictures: what lies where, and what is left over.

use std::fmt::Write;

use minijinja::{Value, context};

use super::Shown;
use crate::geom::{BedFrame, BlankFrame, Bounds, Map2, Path, Point};
use crate::sheets::{CutSheet, Laid, Wanted};
use crate::units::{in_inches, in_mm, number};

/// Greatest sag of a chord that stands for an arc, mm on the sheet.
const SAG: f64 = 1.0;

/// A card for each sheet.
pub(super) fn sheet_rows(shown: &Shown) -> Vec<Value> {
    let Some((wanted, laid)) = shown.laid else { return Vec::new() };
    laid.sheets.iter().map(|sheet| row(shown, wanted, (laid, sheet))).collect()
}

fn row(shown: &Shown, wanted: &[Wanted], (laid, sheet): (&Laid, &CutSheet)) -> Value {
    let length = |mm: f64| if shown.kit.inches { in_inches(mm) } else { in_mm(mm) };
    let (group, _) = &laid.groups[sheet.group];
    let [x, y] = sheet.board.size;
    let counts = sheet.counts().into_iter();
    let parts: Vec<String> =
        counts.map(|(at, count)| format!("{count} of {}", wanted[at].part.number)).collect();
    let rest =
        sheet.remnant.map(|rest| format!("{} x {}", length(rest.width()), length(rest.height())));
    context! {
        title => format!("Sheet {}", sheet.number),
        copies => sheet.copies,
        stock => format!("{}, {}", group.material.title, length(group.thickness)),
        size => format!("{} x {}", length(x), length(y)),
        parts => parts,
        remnant => rest,
        file => shown.file(&sheet.file()).map(|_| sheet.file()),
        picture => Value::from_safe_string(picture(wanted, sheet)),
    }
}

/// The sheet as SVG, y up.
fn picture(wanted: &[Wanted], sheet: &CutSheet) -> String {
    let [x, y] = sheet.board.size;
    let [wide, high] = [x, y].map(|side| number(side + 40.0, 0));
    let mut svg = format!("<svg viewBox=\"-20 -20 {wide} {high}\" role=\"img\"");
    let _ =
        write!(svg, " aria-label=\"Sheet {}\" stroke=\"#000\" stroke-width=\"6\">", sheet.number);
    let _ = write!(svg, "<g transform=\"matrix(1 0 0 -1 0 {})\">", number(y, 1));
    let whole = Bounds { low: Point::new(0.0, 0.0), high: Point::new(x, y) };
    boxed(&mut svg, &whole, "fill=\"#fff\"");
    for place in &sheet.board.blocked {
        boxed(&mut svg, place, "fill=\"#999\"");
    }
    if let Some(rest) = &sheet.remnant {
        boxed(&mut svg, rest, "fill=\"none\" stroke-dasharray=\"40 20\"");
    }
    for lying in &sheet.lying {
        let outline = &wanted[lying.wanted].blank.outer;
        let _ = write!(svg, "<path fill=\"#dcdcdc\" d=\"{}\"/>", ring(outline, &lying.map()));
    }
    svg + "</g></svg>"
}

fn boxed(svg: &mut String, place: &Bounds<BedFrame>, style: &str) {
    let [x, y] = [place.low.x, place.low.y].map(|v| number(v, 1));
    let [wide, high] = [place.width(), place.height()].map(|v| number(v, 1));
    let _ = write!(svg, "<rect x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\" {style}/>");
}

fn ring(outline: &Path<BlankFrame>, map: &Map2<BlankFrame, BedFrame>) -> String {
    let points = outline.points(SAG).into_iter().map(|p| {
        let p = map.point(p);
        format!("{} {}", number(p.x, 1), number(p.y, 1))
    });
    format!("M{}z", points.collect::<Vec<_>>().join("L"))
}
