//! Parts made by hand for the tests of the drawings: a long profile with rows of holes, a plate
//! with four flanges and one on a flange, and a plate with none.

use std::sync::Arc;

use blankwright::geom::{FaceFrame, Path, Point, Pose};
use blankwright::kit::{
    Bend, Container, Face, Fastener, Hole, HoleShape, Issue, Kit, Lie, Mark, Material, Part,
    Relief, Revision, Sense,
};

const T: f64 = 2.0;
const R: f64 = 2.0;
/// From the virtual sharp corner of the outer faces to the bend zone, for right angles.
const SETBACK: f64 = T + R;

/// A kit of the three parts, drawn in millimetres or inches.
pub(crate) fn kit(inches: bool) -> Kit {
    Kit {
        number: "OTS-0420".to_owned(),
        title: "Door frame for the kelp-drying hall".to_owned(),
        revision: "B".to_owned(),
        date: "2026-04-20".to_owned(),
        drawn_by: "M. Tern".to_owned(),
        approved_by: "I. Plover".to_owned(),
        owner: "Saltmarsh Modular".to_owned(),
        site: "Otter Sound, kelp-drying hall".to_owned(),
        inches,
        template: ("overhead-door".to_owned(), "Overhead door".to_owned()),
        spec_sha256: "0".repeat(64),
        values: Vec::new(),
        container: Container {
            id: "40ft".to_owned(),
            title: "40 ft container".to_owned(),
            wall: None,
            members: Vec::new(),
        },
        parts: vec![profile(), tray(), plate()],
        joints: Vec::new(),
        fasteners: vec![rivet()],
        keep_outs: Vec::new(),
        lengths: Vec::new(),
        neighbours: Vec::new(),
        notes: vec![
            "Sizes of legs are outside sizes to the virtual sharp corners.".to_owned(),
            "The blank's file is made for the thickness and bend allowances stated here; with \
             other tools or sheet, measure a test bend first."
                .to_owned(),
        ],
        steps: Vec::new(),
        on_site: Default::default(),
        previous: None,
        amended: Vec::new(),
        shared: false,
        cautions: vec![
            "Cutting an opening weakens the container against racking and takes load paths from \
             the roof and floor: have a licensed engineer check it. Local codes rule."
                .to_owned(),
            "Edges are sharp after cutting: wear gloves.".to_owned(),
        ],
        revisions: vec![
            Revision {
                index: "A".to_owned(),
                date: "2026-03-02".to_owned(),
                text: "First issue".to_owned(),
            },
            Revision {
                index: "B".to_owned(),
                date: "2026-04-20".to_owned(),
                text: "Return widened by 5 mm so that the rivet tool passes".to_owned(),
            },
        ],
        tolerance: "ISO 2768-m".to_owned(),
    }
}

fn rivet() -> Fastener {
    Fastener {
        id: "rivet-4.8".to_owned(),
        title: "Blind rivet 4.8 × 10, steel".to_owned(),
        count: 48,
        spare: 4,
        hole: 4.9,
        diameter: 4.8,
        grip: [3.0, 5.0],
        edge: 2.0,
        source: "common practice".to_owned(),
    }
}

/// Lip, web, leg and return over 2900 mm, with forty holes in rows.
pub(crate) fn profile() -> Part {
    let length = 2900.0;
    let mut web = strip("web", 0.0, 150.0 - 2.0 * SETBACK, length);
    let mut lip = strip("lip", SETBACK, 40.0 - SETBACK, length);
    let mut leg = strip("leg", SETBACK, 80.0 - 2.0 * SETBACK, length);
    let back = strip("return", SETBACK, 25.0 - SETBACK, length);
    lip.holes = row("rivet-4.8", HoleShape::Round(4.9), (22.0, 100.0), (0.0, 225.0), 13);
    web.holes = row("rivet-4.8", HoleShape::Round(4.9), (30.0, 50.0), (0.0, 200.0), 15);
    web.holes.push(hole("drain", HoleShape::Slot(8.0, 20.0, 90.0), (120.0, 60.0)));
    leg.holes = row("screw-5.5", HoleShape::Slot(6.6, 15.0, 90.0), (40.0, 150.0), (0.0, 260.0), 11);
    let faces = number(vec![web, lip, leg, back]);
    let width = 150.0 - 2.0 * SETBACK;
    let bends = vec![
        bend("web/lip", (0, 1), [(0.0, length), (0.0, 0.0)]),
        bend("web/leg", (0, 2), [(width, 0.0), (width, length)]),
        bend("leg/return", (2, 3), [(80.0 - SETBACK, 0.0), (80.0 - SETBACK, length)]),
    ];
    let mut part = part("OTS-0420-01L", "Side frame, left", faces, bends);
    part.places = vec![Pose::identity()];
    part.marks = vec![Mark {
        face: 0,
        at: Point::new(70.0, 1450.0),
        direction: 90.0,
        height: 10.0,
        text: "OTS-0420-01L".to_owned(),
    }];
    part.relations = vec![
        "Lip stands on the outer flat of the wall, 40 mm wide; sealed with butyl tape.".to_owned(),
        "Web is riveted to the header's end flange: 15 × rivet-4.8.".to_owned(),
        "Foam 50 mm passes behind the leg without a break.".to_owned(),
    ];
    part
}

/// A plate of 150 x 90 with four flanges up and a lip on the right one.
pub(crate) fn tray() -> Part {
    let (w, h, m) = (150.0, 90.0, 8.0);
    let base = Face { name: "base".to_owned(), outline: base_outline(w, h, m), holes: Vec::new() };
    let right = strip("right", SETBACK, 30.0 - 2.0 * SETBACK, h - 2.0 * m);
    let lip = strip("right lip", SETBACK, 15.0 - SETBACK, h - 2.0 * m);
    let left = strip("left", SETBACK, 30.0 - SETBACK, h - 2.0 * m);
    let top = strip("top", SETBACK, 22.0 - SETBACK, w - 2.0 * m);
    let low = strip("bottom", SETBACK, 22.0 - SETBACK, w - 2.0 * m);
    let mut faces = vec![base, right, left, top, low, lip];
    faces[0].holes = vec![
        hole("bolt-8", HoleShape::Round(9.0), (40.0, 45.0)),
        hole("bolt-8", HoleShape::Round(9.0), (110.0, 45.0)),
        hole("cable", HoleShape::Rectangle(12.0, 24.0, 0.0), (75.0, 60.0)),
    ];
    faces[3].holes = row("rivet-4.8", HoleShape::Round(4.9), (14.0, 20.0), (0.0, 47.0), 3);
    let mut bends = vec![
        bend("base/right", (0, 1), [(w, m), (w, h - m)]),
        bend("base/left", (0, 2), [(0.0, h - m), (0.0, m)]),
        bend("base/top", (0, 3), [(w - m, h), (m, h)]),
        bend("base/bottom", (0, 4), [(m, 0.0), (w - m, 0.0)]),
        bend("right/right lip", (1, 5), [(30.0 - SETBACK, 0.0), (30.0 - SETBACK, h - 2.0 * m)]),
    ];
    for bend in &mut bends[..4] {
        bend.reliefs = vec![Relief { width: 2.0, depth: 3.0 }; 2];
    }
    bends[3].sense = Sense::Down;
    bends[4].angle = 60.0;
    let mut part = part("OTS-0420-02", "Spring pad", number(faces), bends);
    part.places = vec![Pose::identity(); 2];
    part.remarks = vec!["Deburr the cable opening on both sides.".to_owned()];
    part
}

/// A flat cover plate with four holes.
pub(crate) fn plate() -> Part {
    let mut face = strip("plate", 0.0, 220.0, 160.0);
    let corners = [(20.0, 20.0), (200.0, 20.0), (200.0, 140.0), (20.0, 140.0)];
    face.holes = corners.map(|at| hole("bolt-6", HoleShape::Round(6.6), at)).to_vec();
    let mut part = part("OTS-0420-03", "Cover plate", number(vec![face]), Vec::new());
    part.places = vec![Pose::identity(); 4];
    part
}

fn part(number: &str, title: &str, faces: Vec<Face>, bends: Vec<Bend>) -> Part {
    Part {
        number: number.to_owned(),
        name: title.to_lowercase(),
        title: title.to_owned(),
        hand: None,
        material: Arc::new(Material {
            id: "dx51d".to_owned(),
            title: "Galvanized steel EN 10346 DX51D+Z275".to_owned(),
            density: 7850.0,
            tensile: 270.0,
        }),
        thickness: T,
        gauge: String::new(),
        faces,
        bends,
        marks: Vec::new(),
        places: vec![Pose::identity()],
        remarks: Vec::new(),
        relations: Vec::new(),
        lie: Lie::default(),
        issue: Issue::default(),
    }
}

/// A rectangle from x = `start`, `width` wide, from y = 0 to `length`.
fn strip(name: &str, start: f64, width: f64, length: f64) -> Face {
    let end = start + width;
    let outline = polygon(&[(start, 0.0), (end, 0.0), (end, length), (start, length)]);
    Face { name: name.to_owned(), outline, holes: Vec::new() }
}

/// A rectangle whose sides carry flanges set back by `m`, with a relief of 2 x 3 at each end.
fn base_outline(w: f64, h: f64, m: f64) -> Path<FaceFrame> {
    let corners = [(0.0, 0.0, w), (w, 0.0, h), (w, h, w), (0.0, h, h)];
    let mut points = Vec::new();
    for (i, (x, y, side)) in corners.into_iter().enumerate() {
        let along = [(0.0, 0.0), (m - 2.0, 0.0), (m - 2.0, 3.0), (m, 3.0), (m, 0.0)];
        let back = [(0.0, m), (3.0, m), (3.0, m - 2.0), (0.0, m - 2.0)];
        let back = back.map(|(across, from_end)| (side - from_end, across));
        for (s, across) in along.into_iter().chain(back) {
            let point: Point<FaceFrame> = Point::new(s, across).turned(90.0 * i as f64);
            points.push((x + point.x, y + point.y));
        }
    }
    polygon(&points)
}

fn polygon(points: &[(f64, f64)]) -> Path<FaceFrame> {
    let points: Vec<_> = points.iter().map(|&(x, y)| Point::new(x, y)).collect();
    Path::polygon(&points)
}

fn bend(name: &str, (parent, child): (usize, usize), edge: [(f64, f64); 2]) -> Bend {
    Bend {
        name: name.to_owned(),
        parent,
        child,
        edge: edge.map(|(x, y)| Point::new(x, y)),
        child_start: Point::new(SETBACK, 0.0),
        angle: 90.0,
        sense: Sense::Up,
        radius: R,
        k: 0.325,
        k_source: "DIN 6935".to_owned(),
        reliefs: Vec::new(),
    }
}

fn hole(purpose: &str, shape: HoleShape, (x, y): (f64, f64)) -> Hole {
    Hole {
        id: String::new(),
        centre: Point::new(x, y),
        shape,
        purpose: purpose.to_owned(),
        joint: None,
        sunk: None,
    }
}

fn row(
    purpose: &str,
    shape: HoleShape,
    first: (f64, f64),
    step: (f64, f64),
    count: u32,
) -> Vec<Hole> {
    let place = |i: u32| (first.0 + step.0 * f64::from(i), first.1 + step.1 * f64::from(i));
    (0..count).map(|i| hole(purpose, shape.clone(), place(i))).collect()
}

fn number(mut faces: Vec<Face>) -> Vec<Face> {
    let holes = faces.iter_mut().flat_map(|face| &mut face.holes);
    for (i, hole) in holes.enumerate() {
        hole.id = format!("h{}", i + 1);
    }
    faces
}

/// What a profile of the property tests is made of.
#[derive(Debug, Clone)]
pub(crate) struct Shape {
    /// Length along the bends.
    pub(crate) length: f64,
    /// Each leg's flat width, the angle of the bend before it, and whether that goes up.
    pub(crate) legs: Vec<(f64, f64, bool)>,
    /// Rows of holes: leg (wrapped), count, place across the leg as a share of its width.
    pub(crate) rows: Vec<(usize, u32, f64)>,
    /// Drawn in inches.
    pub(crate) inches: bool,
}

/// A profile of flat legs in a chain, the first the root.
pub(crate) fn random_profile(shape: &Shape) -> Part {
    let start = |i: usize| if i == 0 { 0.0 } else { SETBACK };
    let mut faces: Vec<Face> = (0..shape.legs.len())
        .map(|i| strip(&format!("leg {}", i + 1), start(i), shape.legs[i].0, shape.length))
        .collect();
    for &(leg, count, share) in &shape.rows {
        let leg = leg % shape.legs.len();
        let step = shape.length / f64::from(count + 1);
        let at = (start(leg) + shape.legs[leg].0 * share, step);
        let size = 2.0 + (shape.legs[leg].0 * share.min(1.0 - share)).min(5.0);
        let holes = row("rivet-4.8", HoleShape::Round(size.min(step)), at, (0.0, step), count);
        faces[leg].holes.extend(holes);
    }
    let bends = (1..shape.legs.len())
        .map(|i| {
            let edge = start(i - 1) + shape.legs[i - 1].0;
            let (_, angle, up) = shape.legs[i];
            let name = format!("leg {i}/leg {}", i + 1);
            let sense = if up { Sense::Up } else { Sense::Down };
            let ends = [(edge, 0.0), (edge, shape.length)];
            Bend { angle, sense, ..bend(&name, (i - 1, i), ends) }
        })
        .collect();
    part("OTS-0420-09", "Profile", number(faces), bends)
}
