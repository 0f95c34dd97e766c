//! Where holes stand on a face, and how large they are.

use super::desk::Desk;
use super::{HoleShape, Wall};
use crate::geom::{FaceFrame, Point};
use crate::shelf::Fastener;
use crate::template::{Flats, Grid, Holes, Row, Sized};

/// A pattern with more holes than this is a mistake in a pitch, not a part.
const MOST_HOLES: f64 = 2000.0;

/// The holes of a pattern in the author's frame of their face.
pub(super) fn points(desk: &mut Desk, holes: &Holes, wall: Option<&Wall>) -> Vec<Point<FaceFrame>> {
    let mut points: Vec<_> = holes.at.iter().filter_map(|pair| desk.point(pair)).collect();
    if let Some(row) = &holes.row {
        points.extend(along_row(desk, row).unwrap_or_default());
    }
    if let Some(grid) = &holes.grid {
        points.extend(over_grid(desk, grid).unwrap_or_default());
    }
    if let Some(flats) = &holes.flats {
        points.extend(at_flats(desk, flats, wall).unwrap_or_default());
    }
    points
}

/// How many equal steps of at most `pitch` make up a length.
fn steps(desk: &mut Desk, length: f64, pitch: f64, span: std::ops::Range<usize>) -> Option<usize> {
    let count = (length / pitch - 1e-9).ceil().max(0.0);
    if pitch > 0.0 && count < MOST_HOLES {
        return Some(count as usize);
    }
    let message = format!(
        "a pitch of {pitch} mm over {length} mm; it must be above 0 and give under {MOST_HOLES} holes"
    );
    desk.wrong("template.pattern", span, message);
    None
}

fn along_row(desk: &mut Desk, row: &Row) -> Option<Vec<Point<FaceFrame>>> {
    let (from, to) = (desk.point(&row.from)?, desk.point(&row.to)?);
    let pitch = desk.number(&row.pitch)?;
    let count = steps(desk, from.distance(to), pitch, row.pitch.span())?;
    if count == 0 {
        return Some(vec![from]);
    }
    Some((0..=count).map(|i| from.toward(to, i as f64 / count as f64)).collect())
}

fn over_grid(desk: &mut Desk, grid: &Grid) -> Option<Vec<Point<FaceFrame>>> {
    let (from, to) = (desk.point(&grid.from)?, desk.point(&grid.to)?);
    let pitch = desk.point(&grid.pitch)?;
    let nx = steps(desk, (to.x - from.x).abs(), pitch.x, grid.pitch[0].span())?;
    let ny = steps(desk, (to.y - from.y).abs(), pitch.y, grid.pitch[1].span())?;
    let share = |i: usize, n: usize| if n == 0 { 0.0 } else { i as f64 / n as f64 };
    let at = |i: usize, j: usize| {
        Point::new(from.x + (to.x - from.x) * share(i, nx), from.y + (to.y - from.y) * share(j, ny))
    };
    Some((0..=nx).flat_map(|i| (0..=ny).map(move |j| at(i, j))).collect())
}

fn at_flats(desk: &mut Desk, flats: &Flats, wall: Option<&Wall>) -> Option<Vec<Point<FaceFrame>>> {
    let across = desk.number(&flats.across)?;
    let (origin, step) = (desk.number(&flats.origin)?, desk.number(&flats.step)?);
    let between = desk.point(&flats.between)?;
    let Some(wall) = wall else {
        desk.wrong("template.wall", flats.along.span(), "there is no wall in this kit".to_string());
        return None;
    };
    let mut along: Vec<f64> = wall
        .outer_flat_centres
        .iter()
        .map(|centre| (centre - origin) * step)
        .filter(|at| between.x <= *at && *at <= between.y)
        .collect();
    along.sort_by(f64::total_cmp);
    let x_runs = flats.along.get_ref() == "x";
    Some(
        along
            .into_iter()
            .map(|at| if x_runs { Point::new(at, across) } else { Point::new(across, at) })
            .collect(),
    )
}

/// The shape of a hole: by measure, or by the fastener's purpose. A joint or hole without either is
/// a mistake of the template.
pub(super) fn shape(
    desk: &mut Desk,
    size: &Sized,
    fastener: Option<&Fastener>,
    span: std::ops::Range<usize>,
) -> Option<HoleShape> {
    let direction = desk.number_or(size.direction.as_ref(), 0.0)?;
    if let Some(pair) = &size.slot {
        let size = desk.point(pair)?;
        return Some(HoleShape::Slot(size.x, size.y, direction));
    }
    if let Some(pair) = &size.rectangle {
        let size = desk.point(pair)?;
        return Some(HoleShape::Rectangle(size.x, size.y, direction));
    }
    if let Some(diameter) = &size.diameter {
        return desk.number(diameter).map(HoleShape::Round);
    }
    let purpose = size.hole.as_ref().map_or("clearance", |hole| hole.get_ref());
    let holes = fastener.map(|fastener| &fastener.holes);
    let diameter = match (holes, purpose) {
        (Some(holes), "clearance") => Some(holes.normal),
        (Some(holes), "close") => Some(holes.close),
        (Some(holes), "head") => Some(holes.head.unwrap_or(holes.normal)),
        (Some(holes), "pilot") => holes.pilot,
        _ => None,
    };
    if diameter.is_none() {
        let message = format!("there is no {purpose} hole for this fastener");
        desk.wrong("template.hole", span, message);
    }
    diameter.map(HoleShape::Round)
}
