//! Parts made by hand for the tests of the views.

use std::sync::Arc;

use blankwright::geom::{FaceFrame, Path, Point};
use blankwright::kit::{Bend, Face, Hole, HoleShape, Issue, Lie, Material, Part, Sense};
use blankwright::units;

/// A flat part with the given outline.
pub(crate) fn plate(thickness: f64, outline: &[(f64, f64)]) -> Part {
    let points: Vec<_> = outline.iter().map(|&(x, y)| Point::new(x, y)).collect();
    Part {
        number: "T-01".into(),
        name: "test".into(),
        title: "Test".into(),
        hand: None,
        material: Arc::new(Material {
            id: "steel".into(),
            title: "Steel".into(),
            density: 7850.0,
            tensile: 360.0,
        }),
        thickness,
        gauge: String::new(),
        faces: vec![face("root", Path::polygon(&points))],
        bends: Vec::new(),
        marks: Vec::new(),
        places: Vec::new(),
        remarks: Vec::new(),
        relations: Vec::new(),
        lie: Lie::default(),
        issue: Issue::default(),
    }
}

/// A rectangle from (0, 0) to (width, height).
pub(crate) fn rectangle(thickness: f64, width: f64, height: f64) -> Part {
    plate(thickness, &[(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)])
}

fn face(name: &str, outline: Path<FaceFrame>) -> Face {
    Face { name: name.into(), outline, holes: Vec::new() }
}

/// A bend to make: outside size of the leg, signed angle (positive is up), inside radius.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fold {
    pub leg: f64,
    pub angle: f64,
    pub radius: f64,
}

/// Folds a rectangular leg from a whole side of a face; gives the new face. Its sides are 0 and 2
/// at the ends, 1 free, 3 at the bend.
pub(crate) fn fold(part: &mut Part, parent: usize, side: usize, fold: Fold) -> usize {
    let outline = &part.faces[parent].outline.vertices;
    let edge = [outline[side].at, outline[(side + 1) % outline.len()].at];
    let angle = fold.angle.abs();
    let setback = (fold.radius + part.thickness) * units::tan_deg(angle.min(90.0) / 2.0);
    let length = edge[0].distance(edge[1]);
    let corner = |x: f64, y: f64| Point::new(x, y);
    let child = part.faces.len();
    part.faces.push(face(
        &format!("leg{child}"),
        Path::polygon(&[
            corner(setback, 0.0),
            corner(fold.leg, 0.0),
            corner(fold.leg, length),
            corner(setback, length),
        ]),
    ));
    part.bends.push(Bend {
        name: format!("bend{child}"),
        parent,
        child,
        edge,
        child_start: corner(setback, 0.0),
        angle,
        sense: if fold.angle > 0.0 { Sense::Up } else { Sense::Down },
        radius: fold.radius,
        k: 0.4,
        k_source: "fixed".into(),
        reliefs: Vec::new(),
    });
    child
}

/// Adds a hole to a face.
pub(crate) fn hole(part: &mut Part, face: usize, at: (f64, f64), shape: HoleShape) {
    let id = format!("h{}", part.faces.iter().map(|f| f.holes.len()).sum::<usize>() + 1);
    part.faces[face].holes.push(Hole {
        id,
        centre: Point::new(at.0, at.1),
        shape,
        purpose: "rivet-4.8".into(),
        joint: None,
        sunk: None,
    });
}

/// The frame profile of a door: lip, web, inner leg and return, all bent one way, with holes.
pub(crate) fn frame(length: f64) -> Part {
    let mut part = rectangle(2.0, length, 150.0);
    let sharp = Fold { leg: 45.0, angle: 90.0, radius: 2.0 };
    let lip = fold(&mut part, 0, 0, sharp);
    let inner = fold(&mut part, 0, 2, Fold { leg: 60.0, ..sharp });
    let _ = fold(&mut part, inner, 1, Fold { leg: 25.0, ..sharp });
    let count = (length / 150.0) as usize;
    for i in 0..count {
        let along = (i as f64 + 0.5) * length / count as f64;
        hole(&mut part, lip, (30.0, along), HoleShape::Round(4.9));
        hole(&mut part, 0, (along, 75.0), HoleShape::Slot(6.6, 20.0, 0.0));
    }
    part
}

/// A plate with a flange on each side, one of them with another on it.
pub(crate) fn tray() -> Part {
    let notched = [
        (0.0, 0.0),
        (10.0, 0.0),
        (10.0, -10.0),
        (140.0, -10.0),
        (140.0, 0.0),
        (150.0, 0.0),
        (150.0, 10.0),
        (160.0, 10.0),
        (160.0, 80.0),
        (150.0, 80.0),
        (150.0, 90.0),
        (140.0, 90.0),
        (140.0, 100.0),
        (10.0, 100.0),
        (10.0, 90.0),
        (0.0, 90.0),
        (0.0, 80.0),
        (-10.0, 80.0),
        (-10.0, 10.0),
        (0.0, 10.0),
    ];
    let mut part = plate(1.5, &notched);
    let up = Fold { leg: 30.0, angle: 90.0, radius: 1.5 };
    fold(&mut part, 0, 2, up);
    fold(&mut part, 0, 7, up);
    let side = fold(&mut part, 0, 12, up);
    fold(&mut part, 0, 17, Fold { angle: -90.0, ..up });
    fold(&mut part, side, 1, Fold { leg: 15.0, ..up });
    hole(&mut part, 0, (40.0, 45.0), HoleShape::Round(30.0));
    hole(&mut part, 0, (110.0, 45.0), HoleShape::Rectangle(20.0, 40.0, 90.0));
    part
}
