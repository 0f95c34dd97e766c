//! Small kits for the stack-up: plates on plates, and a hat on a plate.

use blankwright::geom::{FaceFrame, Path, Point, Point3, Pose};
use blankwright::kit::{
    Bend, Face, Hole, HoleShape, Joint, JointMember, Kit, Part, Sense, Setting,
};
use blankwright::shelf::{Shelf, Spread, Tolerance};

use crate::bracket;
use crate::law_stock::STOCK;

/// The shipped shelf with these limits.
pub(crate) fn shelf(tolerance: Tolerance) -> Shelf {
    let mut shelf = STOCK.shelf.clone();
    shelf.shop.tolerance = tolerance;
    shelf
}

/// No error at all, and bends that do not give.
pub(crate) fn exact() -> Tolerance {
    Tolerance {
        laser_class: 1,
        hole_position: 0.0,
        stretch: 0.0,
        hole_size: Some(0.0),
        bend_angle: 0.0,
        bend_line: 0.0,
        give: 0.0,
        spread: Spread::Normal,
        source: "the test".to_owned(),
    }
}

/// Parts held together by one joint: each fastener goes through the holes of the same number in
/// every part.
pub(crate) fn kit(parts: Vec<Part>, diameter: f64) -> Kit {
    let mut kit = bracket::kit();
    kit.fasteners[0].diameter = diameter;
    let count = parts[0].faces.iter().map(|face| face.holes.len()).sum::<usize>();
    let member = |part: usize, hole: usize| {
        let hole = format!("h{hole}");
        JointMember::Hole { part, place: 0, hole }
    };
    let pair = |hole: usize| (0..parts.len()).map(|part| member(part, hole)).collect();
    kit.joints = vec![Joint {
        id: "j1".to_owned(),
        name: "trial".to_owned(),
        fastener: "rivet-4.8".to_owned(),
        grip: 4.0,
        gap: 0.0,
        pairs: (1..=count).map(pair).collect(),
        setting: Setting::default(),
    }];
    kit.parts = parts;
    kit
}

/// A flat part at a height with round holes.
pub(crate) fn plate(number: &str, height: f64, holes: &[(f64, f64)], diameter: f64) -> Part {
    let corners = [(-900.0, -900.0), (900.0, -900.0), (900.0, 900.0), (-900.0, 900.0)];
    let round = |(i, at): (usize, &(f64, f64))| hole(i + 1, *at, HoleShape::Round(diameter));
    let holes = holes.iter().enumerate().map(round).collect();
    part(number, height, vec![face("plate", &corners, holes)], Vec::new())
}

/// A hat whose base lies at the bottom: webs up on both sides, feet outward, a hole in each foot.
///
/// Bends of radius 2 in sheet of 2 with K = 0.325, all of 90 degrees. The base's zones begin at x =
/// +-50; a web's straight runs from 4 to 24 above the base's underside, the feet lie from 26 to 28.
/// The holes stand 20 out of the sharp corners of the feet.
pub(crate) fn hat(number: &str, diameter: f64) -> Part {
    let base = [(-50.0, 0.0), (50.0, 0.0), (50.0, 40.0), (-50.0, 40.0)];
    let web = [(4.0, 0.0), (24.0, 0.0), (24.0, 40.0), (4.0, 40.0)];
    let foot = [(4.0, 0.0), (40.0, 0.0), (40.0, 40.0), (4.0, 40.0)];
    let round = |i: usize| vec![hole(i, (20.0, 20.0), HoleShape::Round(diameter))];
    let faces = vec![
        face("base", &base, Vec::new()),
        face("web_left", &web, Vec::new()),
        face("foot_left", &foot, round(1)),
        face("web_right", &web, Vec::new()),
        face("foot_right", &foot, round(2)),
    ];
    let edge = |a: (f64, f64), b: (f64, f64)| [Point::new(a.0, a.1), Point::new(b.0, b.1)];
    let bends = vec![
        bend([0, 1], edge((-50.0, 40.0), (-50.0, 0.0)), Sense::Up),
        bend([1, 2], edge((24.0, 0.0), (24.0, 40.0)), Sense::Down),
        bend([0, 3], edge((50.0, 0.0), (50.0, 40.0)), Sense::Up),
        bend([3, 4], edge((24.0, 0.0), (24.0, 40.0)), Sense::Down),
    ];
    part(number, 0.0, faces, bends)
}

/// Height of the middle of the hat's feet above its base's underside.
pub(crate) const FOOT: f64 = 27.0;

/// Where the hat's holes are from its middle: 20 out of the feet's sharp corner, where the web's
/// inner face (50 and a radius) meets the foot's upper one.
pub(crate) const REACH: f64 = 72.0;

fn part(number: &str, height: f64, faces: Vec<Face>, bends: Vec<Bend>) -> Part {
    let like = bracket::kit().parts.remove(0);
    let places = vec![Pose::identity().shifted(Point3::new(0.0, 0.0, height))];
    Part { number: number.to_owned(), faces, bends, places, ..like }
}

fn face(name: &str, corners: &[(f64, f64)], holes: Vec<Hole>) -> Face {
    let points: Vec<Point<FaceFrame>> = corners.iter().map(|&(x, y)| Point::new(x, y)).collect();
    Face { name: name.to_owned(), outline: Path::polygon(&points), holes }
}

/// A hole with its number.
pub(crate) fn hole(number: usize, (x, y): (f64, f64), shape: HoleShape) -> Hole {
    Hole {
        id: format!("h{number}"),
        centre: Point::new(x, y),
        shape,
        purpose: "rivet-4.8".to_owned(),
        joint: Some("j1".to_owned()),
        sunk: None,
    }
}

fn bend([parent, child]: [usize; 2], edge: [Point<FaceFrame>; 2], sense: Sense) -> Bend {
    Bend {
        name: format!("{parent}/{child}"),
        parent,
        child,
        edge,
        child_start: Point::new(4.0, 0.0),
        angle: 90.0,
        sense,
        radius: bracket::RADIUS,
        k: bracket::K,
        k_source: "DIN 6935".to_owned(),
        reliefs: Vec::new(),
    }
}
