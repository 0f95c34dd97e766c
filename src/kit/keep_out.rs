//! Volumes that must stay free, worked out from what the template says.

use super::desk::Desk;
use super::expand::known_part;
use super::places::each;
use super::{KeepOut, Shape, Wall};
use crate::geom::{Point3, SiteFrame};
use crate::template::{Hands, KeepOutItem, Template};

/// Two directions are square when the cosine of the angle between them is less.
const SQUARE: f64 = 1e-9;

/// All of these items that stand, in the order of the template; with both hands, the left one
/// first.
pub(super) fn volumes(
    desk: &mut Desk,
    template: &Template,
    items: &[KeepOutItem],
    wall: Option<&Wall>,
) -> Vec<KeepOut> {
    let mut keep_outs = Vec::new();
    for item in items {
        // What fails is told where it fails; the other keep-outs are looked at all the same.
        let _ = each(desk, (item.repeat.as_ref(), item.name.span()), wall, |desk| {
            if desk.holds(item.when.as_ref()) {
                keep_outs.extend(keep_out(desk, template, item)?);
            }
            Some(())
        });
    }
    keep_outs
}

fn keep_out(desk: &mut Desk, template: &Template, item: &KeepOutItem) -> Option<Vec<KeepOut>> {
    let name = desk.text(&item.name)?;
    let shape = shape(desk, item)?;
    let mut except = Vec::new();
    for part in &item.except {
        if known_part(desk, template, part) {
            let name = part.get_ref();
            except.extend(["", "-left", "-right"].map(|hand| format!("{name}{hand}")));
        }
    }
    if item.hands == Hands::One {
        return Some(vec![KeepOut { name, shape, except }]);
    }
    let right = mirrored(&shape);
    let handed = |word: &str, shape| KeepOut {
        name: format!("{name}, {word}"),
        shape,
        except: except.clone(),
    };
    Some(vec![handed("left", shape), handed("right", right)])
}

fn shape(desk: &mut Desk, item: &KeepOutItem) -> Option<Shape> {
    let kinds = [item.low.is_some(), item.axis.is_some(), !item.path.is_empty()];
    if kinds.iter().filter(|given| **given).count() != 1 {
        return wrong(desk, item, "needs one of `low` and `high`, `axis`, `path`");
    }
    if item.low.is_some() {
        return upright(desk, item);
    }
    if item.axis.is_some() { cylinder(desk, item) } else { swept(desk, item) }
}

fn wrong<T>(desk: &mut Desk, item: &KeepOutItem, why: &str) -> Option<T> {
    let message = format!("keep-out `{}`: {why}", item.name.get_ref());
    desk.wrong("template.keep-out", item.name.span(), message);
    None
}

fn upright(desk: &mut Desk, item: &KeepOutItem) -> Option<Shape> {
    let (Some(low), Some(high)) = (&item.low, &item.high) else {
        return wrong(desk, item, "a box needs `low` and `high`");
    };
    let (low, high) = (desk.point3(low)?, desk.point3(high)?);
    if !(low.x < high.x && low.y < high.y && low.z < high.z) {
        return wrong(desk, item, "`high` must lie above `low` in all three directions");
    }
    Some(Shape::Box { low, high })
}

fn cylinder(desk: &mut Desk, item: &KeepOutItem) -> Option<Shape> {
    let (Some([from, to]), Some(radius)) = (&item.axis, &item.radius) else {
        return wrong(desk, item, "a cylinder needs `axis` and `radius`");
    };
    let (ends, radius) = ([desk.point3(from)?, desk.point3(to)?], desk.number(radius)?);
    if ends[0] == ends[1] || radius <= 0.0 {
        return wrong(desk, item, "a cylinder needs a length and a radius above 0");
    }
    Some(Shape::Cylinder { ends, radius })
}

fn swept(desk: &mut Desk, item: &KeepOutItem) -> Option<Shape> {
    let (Some(across), Some([width, depth])) = (&item.across, &item.size) else {
        return wrong(desk, item, "a path needs `across` and `size`");
    };
    let size = [desk.number(width)?, desk.number(depth)?];
    let across = desk.point3(across)?.unit();
    let bend_radius = desk.number_or(item.bend_radius.as_ref(), 0.0)?;
    let path = item.path.iter().map(|p| desk.point3(p)).collect::<Option<Vec<_>>>()?;
    match trouble(&path, across, bend_radius, size) {
        Some(why) => wrong(desk, item, why),
        None => Some(Shape::Swept { path, bend_radius, across, size }),
    }
}

/// What keeps a rectangle from being carried along a path.
fn trouble(
    path: &[Point3<SiteFrame>],
    across: Point3<SiteFrame>,
    bend_radius: f64,
    size: [f64; 2],
) -> Option<&'static str> {
    let legs: Vec<_> = path.windows(2).map(|two| two[1] - two[0]).collect();
    if legs.is_empty() || size[0] <= 0.0 || size[1] <= 0.0 {
        return Some("needs two points and a size above 0");
    }
    if legs.iter().any(|leg| leg.length() == 0.0 || leg.unit().dot(across).abs() > SQUARE) {
        return Some("`across` must stand square to every leg of the path");
    }
    if 1 < legs.len() && bend_radius <= size[1] / 2.0 {
        return Some("`bend_radius` must be more than half the size in the plane of the path");
    }
    // What the bends at both ends of a leg take from it.
    let setback = |a: Point3<SiteFrame>, b: Point3<SiteFrame>| {
        let (a, b) = (a.unit(), b.unit());
        bend_radius * a.cross(b).length() / (1.0 + a.dot(b))
    };
    let setbacks: Vec<f64> = legs.windows(2).map(|two| setback(two[0], two[1])).collect();
    let taken = |i: usize| {
        let before = if i == 0 { 0.0 } else { setbacks[i - 1] };
        before + setbacks.get(i).copied().unwrap_or(0.0)
    };
    let short = legs.iter().enumerate().any(|(i, leg)| leg.length() < taken(i));
    short.then_some("a leg of the path is too short for the bends at its ends")
}

/// Reflected in X.
fn mirrored(shape: &Shape) -> Shape {
    let flip = |p: Point3<SiteFrame>| Point3::new(-p.x, p.y, p.z);
    match shape {
        Shape::Box { low, high } => Shape::Box {
            low: Point3::new(-high.x, low.y, low.z),
            high: Point3::new(-low.x, high.y, high.z),
        },
        Shape::Cylinder { ends, radius } => {
            Shape::Cylinder { ends: ends.map(flip), radius: *radius }
        }
        Shape::Swept { path, bend_radius, across, size } => Shape::Swept {
            path: path.iter().copied().map(flip).collect(),
            bend_radius: *bend_radius,
            across: flip(*across),
            size: *size,
        },
    }
}
