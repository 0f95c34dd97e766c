//! A small kit made by hand: an angle bracket, twice, riveted to itself and screwed to the floor.

use std::sync::Arc;

use blankwright::geom::{FaceFrame, Path, Point, Point3, Pose};
use blankwright::kit::{
    Bend, Container, Face, Fastener, Hole, HoleShape, Issue, Joint, JointMember, Kit, Lie,
    Material, Part, Revision, Sense, Setting, Value, Wall,
};

/// Thickness of the bracket, mm.
pub(crate) const THICKNESS: f64 = 2.0;
/// Inside radius of its bend, mm.
pub(crate) const RADIUS: f64 = 2.0;
/// Neutral factor of its bend: DIN 6935 gives k = 0.65 for r/t = 1, half of which this is.
pub(crate) const K: f64 = 0.325;

/// The kit: one part number in two places.
pub(crate) fn kit() -> Kit {
    Kit {
        number: "OTS-0001".to_owned(),
        title: "Bracket for the kelp hall".to_owned(),
        revision: "A".to_owned(),
        date: "2026-03-02".to_owned(),
        drawn_by: "M. Tern".to_owned(),
        approved_by: String::new(),
        owner: "Saltmarsh Modular".to_owned(),
        site: "Otter Sound".to_owned(),
        inches: false,
        template: ("bracket".to_owned(), "Bracket".to_owned()),
        spec_sha256: "0".repeat(64),
        values: vec![
            ("zeta".to_owned(), Value::Number(0.1)),
            ("alpha.flag".to_owned(), Value::Flag(true)),
            ("word".to_owned(), Value::Text("a \"quoted\" word".to_owned())),
            ("nothing".to_owned(), Value::Number(-0.0)),
        ],
        container: Container {
            id: "none".to_owned(),
            title: "No container".to_owned(),
            wall: None,
            members: Vec::new(),
        },
        parts: vec![bracket()],
        joints: vec![joint()],
        fasteners: vec![rivet()],
        keep_outs: Vec::new(),
        lengths: Vec::new(),
        neighbours: Vec::new(),
        notes: Vec::new(),
        cautions: Vec::new(),
        steps: Vec::new(),
        on_site: Default::default(),
        previous: None,
        amended: Vec::new(),
        shared: false,
        revisions: vec![Revision {
            index: "A".to_owned(),
            date: "2026-03-02".to_owned(),
            text: "First issue".to_owned(),
        }],
        tolerance: "ISO 2768-m".to_owned(),
    }
}

/// A side wall of pitch 278, cut.
pub(crate) fn wall() -> Wall {
    Wall {
        pitch: 278.0,
        outer_flat: 72.0,
        slope: 68.0,
        inner_flat: 70.0,
        depth: 36.0,
        thickness: 1.6,
        outer_flat_centres: vec![-278.0, 0.0, 278.0],
        ends: [-400.0, 400.0],
        edges: [0.0, 2400.0],
        cuts: Some([-278.0, 278.0]),
        cut_heights: Some([10.0, 2200.0]),
    }
}

/// A base of 100 x 40 with a leg of 30 folded up along its right side.
fn bracket() -> Part {
    let base = [(0.0, 0.0), (96.0, 0.0), (96.0, 40.0), (0.0, 40.0)];
    let leg = [(4.0, 0.0), (30.0, 0.0), (30.0, 40.0), (4.0, 40.0)];
    Part {
        number: "OTS-0001-01".to_owned(),
        name: "bracket".to_owned(),
        title: "Bracket, \"kelp\"".to_owned(),
        hand: None,
        material: Arc::new(Material {
            id: "dx51d".to_owned(),
            title: "=Galvanized steel".to_owned(),
            density: 7850.0,
            tensile: 270.0,
        }),
        thickness: THICKNESS,
        gauge: "14 ga".to_owned(),
        faces: vec![
            face("base", &base, vec![round("h1", 20.0, 20.0), slot("h2", 60.0, 20.0)]),
            face("leg", &leg, vec![round("h3", 20.0, 10.0)]),
        ],
        bends: vec![Bend {
            name: "base/leg".to_owned(),
            parent: 0,
            child: 1,
            edge: [Point::new(96.0, 0.0), Point::new(96.0, 40.0)],
            child_start: Point::new(4.0, 0.0),
            angle: 90.0,
            sense: Sense::Up,
            radius: RADIUS,
            k: K,
            k_source: "DIN 6935".to_owned(),
            reliefs: Vec::new(),
        }],
        marks: Vec::new(),
        places: vec![Pose::identity(), Pose::identity().shifted(Point3::new(0.0, 0.0, THICKNESS))],
        remarks: Vec::new(),
        relations: Vec::new(),
        lie: Lie::default(),
        issue: Issue::default(),
    }
}

fn face(name: &str, corners: &[(f64, f64)], holes: Vec<Hole>) -> Face {
    let points: Vec<Point<FaceFrame>> = corners.iter().map(|&(x, y)| Point::new(x, y)).collect();
    Face { name: name.to_owned(), outline: Path::polygon(&points), holes }
}

fn round(id: &str, x: f64, y: f64) -> Hole {
    Hole {
        id: id.to_owned(),
        centre: Point::new(x, y),
        shape: HoleShape::Round(4.9),
        purpose: "rivet-4.8".to_owned(),
        joint: (id == "h1").then(|| "j1".to_owned()),
        sunk: None,
    }
}

fn slot(id: &str, x: f64, y: f64) -> Hole {
    let shape = HoleShape::Slot(6.6, 15.0, 0.0);
    Hole { shape, purpose: "drain".to_owned(), ..round(id, x, y) }
}

fn joint() -> Joint {
    let member = |place| JointMember::Hole { part: 0, place, hole: "h1".to_owned() };
    Joint {
        id: "j1".to_owned(),
        name: "bracket to bracket".to_owned(),
        fastener: "rivet-4.8".to_owned(),
        grip: 4.0,
        gap: 0.0,
        pairs: vec![vec![member(0), member(1), JointMember::Into("floor".to_owned())]],
        setting: Setting::default(),
    }
}

fn rivet() -> Fastener {
    Fastener {
        id: "rivet-4.8".to_owned(),
        title: "Blind rivet 4.8 x 10, steel".to_owned(),
        count: 1,
        spare: 2,
        hole: 4.9,
        diameter: 4.8,
        grip: [2.5, 4.5],
        edge: 2.0,
        source: "common practice".to_owned(),
    }
}
