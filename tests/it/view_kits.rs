//! A kit made by hand for the tests of the views: a door frame of four profiles in a wall.

use blankwright::geom::{PartFrame, Point3, Pose, SiteFrame};
use blankwright::kit::{Container, Kit, Member, Part, Wall};

use crate::view_parts::frame;

fn place(x: [f64; 3], y: [f64; 3], shift: [f64; 3]) -> Pose<PartFrame, SiteFrame> {
    let point = |[x, y, z]: [f64; 3]| Point3::new(x, y, z);
    Pose::new(point(x), point(y), point(shift))
}

/// Two jambs (one part, two places), a header and a sill around an opening 2750 by 2600.
pub(crate) fn door() -> Kit {
    let inward = [0.0, 1.0, 0.0];
    let mut jamb = frame(2600.0);
    jamb.places = vec![
        place([0.0, 0.0, 1.0], inward, [-1375.0, 0.0, 0.0]),
        place([0.0, 0.0, -1.0], inward, [1375.0, 0.0, 2600.0]),
    ];
    let mut header = frame(2750.0);
    header.places = vec![place([1.0, 0.0, 0.0], inward, [-1375.0, 0.0, 2600.0])];
    let mut sill = frame(2750.0);
    sill.places = vec![place([-1.0, 0.0, 0.0], inward, [1375.0, 0.0, 0.0])];
    kit(vec![jamb, header, sill], Some(wall()))
}

/// A kit of the given parts in a wall.
pub(crate) fn kit(parts: Vec<Part>, wall: Option<Wall>) -> Kit {
    Kit {
        number: "T".into(),
        title: "Test".into(),
        revision: "A".into(),
        date: "2026-01-01".into(),
        drawn_by: String::new(),
        approved_by: String::new(),
        owner: String::new(),
        site: String::new(),
        inches: false,
        template: (String::new(), String::new()),
        spec_sha256: String::new(),
        values: Vec::new(),
        container: Container {
            id: "box".into(),
            title: "Box".into(),
            wall,
            members: vec![Member {
                name: "top side rail".into(),
                hollow: false,
                low: Point3::new(-6000.0, -8.0, 2700.0),
                high: Point3::new(6000.0, 52.0, 2760.0),
            }],
        },
        parts,
        joints: Vec::new(),
        fasteners: Vec::new(),
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
        revisions: Vec::new(),
        tolerance: "ISO 2768-m".into(),
    }
}

fn wall() -> Wall {
    Wall {
        pitch: 278.0,
        outer_flat: 72.0,
        slope: 68.0,
        inner_flat: 70.0,
        depth: 36.0,
        thickness: 2.0,
        outer_flat_centres: (-20..=20).map(|i| f64::from(i) * 278.0).collect(),
        ends: [-5700.0, 5700.0],
        edges: [-150.0, 2700.0],
        cuts: Some([-1378.0, 1378.0]),
        cut_heights: Some([-3.0, 2603.0]),
    }
}
