//! One part in `kit.json`: its blank, its faces with their way into the fold, bends, holes, places.

use serde::Serialize;

use super::brake_json::{BrakeJson, brake_json};
use super::json::{Number, numbers};
use super::revision_json::{RevisionJson, revision_json};
use crate::brake::Plan;
use crate::flat::{Blank, BlankBend, Contour, Etch};
use crate::fold::FoldedPart;
use crate::geom::{
    BlankFrame, FaceFrame, Map2, PartFrame, Path, Point, Pose, SiteFrame, tolerance,
};
use crate::kit::{Bend, Face, Hole, HoleShape, Part, Sunk};

/// Kilograms in a cubic millimetre of density 1 kg/m3.
const CUBIC_METRES: f64 = 1e-9;

/// Mass of one piece in kilograms: what is left of the blank, times thickness and density.
pub fn mass_kg(part: &Part, blank: &Blank) -> f64 {
    blank.area * part.thickness * part.material.density * CUBIC_METRES
}

/// The keys after `places` are additions to the format's first list.
#[derive(Serialize)]
pub(super) struct PartJson<'a> {
    number: &'a str,
    name: &'a str,
    title: &'a str,
    quantity: usize,
    material: &'a str,
    thickness: Number,
    mass_kg: Number,
    blank: BlankJson,
    faces: Vec<FaceJson<'a>>,
    bends: Vec<BendJson<'a>>,
    holes: Vec<HoleJson<'a>>,
    places: Vec<Rows>,
    material_id: &'a str,
    density: Number,
    gauge: &'a str,
    hand: Option<&'static str>,
    cutouts: Vec<CutoutJson<'a>>,
    remarks: &'a [String],
    relations: &'a [String],
    etch: Vec<EtchJson<'a>>,
    extents: Vec<[[Number; 3]; 2]>,
    brake: Option<BrakeJson<'a>>,
    grain: bool,
    mirror: bool,
    revision: &'a str,
    issued: &'a str,
    revisions: Vec<RevisionJson<'a>>,
}

/// Three rows of a rigid motion's matrix.
pub(super) type Rows = [[Number; 4]; 3];

pub(super) fn part_json<'a>(
    part: &'a Part,
    folded: &FoldedPart,
    blank: &'a Blank,
    plan: Option<&'a Plan>,
) -> PartJson<'a> {
    let faces = part.faces.iter().zip(&blank.faces);
    let bends = part.bends.iter().zip(&blank.bends);
    let holes =
        faces.clone().flat_map(|(face, map)| face.holes.iter().map(move |h| (face, map, h)));
    PartJson {
        number: &part.number,
        name: &part.name,
        title: &part.title,
        quantity: part.places.len(),
        material: &part.material.title,
        thickness: Number(part.thickness),
        mass_kg: Number(mass_kg(part, blank)),
        blank: blank_json(blank),
        faces: faces.zip(&folded.faces).map(|((f, map), pose)| face_json(f, map, pose)).collect(),
        bends: bends
            .enumerate()
            .map(|(i, (bend, in_blank))| BendJson {
                order: plan.and_then(|plan| plan.place_of(i)),
                ..bend_json(part, bend, in_blank)
            })
            .collect(),
        holes: holes.clone().filter_map(|(f, map, h)| hole_json(f, map, h)).collect(),
        places: part.places.iter().map(rows).collect(),
        material_id: &part.material.id,
        density: Number(part.material.density),
        gauge: &part.gauge,
        hand: part.hand.map(|hand| hand.word()),
        cutouts: holes.filter_map(|(f, map, h)| cutout_json(f, map, h)).collect(),
        remarks: &part.remarks,
        relations: &part.relations,
        etch: blank.etch.iter().map(etch_json).collect(),
        extents: part.places.iter().map(|place| extent(part, folded, place)).collect(),
        brake: plan.map(|plan| brake_json(part, plan)),
        grain: part.lie.grain,
        mirror: part.lie.mirror,
        revision: &part.issue.revision,
        issued: &part.issue.date,
        revisions: part.issue.rows.iter().map(revision_json).collect(),
    }
}

pub(super) fn rows<A, B>(pose: &Pose<A, B>) -> Rows {
    pose.rows().map(numbers)
}

/// A blank with its contours and what cutting it takes.
#[derive(Serialize)]
pub(super) struct BlankJson {
    width: Number,
    height: Number,
    outer: Vec<[Number; 3]>,
    inner: Vec<ContourJson>,
    area_mm2: Number,
    cut_length_mm: Number,
    pierces: usize,
}

#[derive(Serialize)]
#[serde(rename_all = "lowercase")]
enum ContourJson {
    Circle([Number; 3]),
    Loop(Vec<[Number; 3]>),
}

pub(super) fn blank_json(blank: &Blank) -> BlankJson {
    let contour = |contour: &Contour| match contour {
        Contour::Circle(centre, d) => ContourJson::Circle(numbers([centre.x, centre.y, *d])),
        Contour::Loop(path) => ContourJson::Loop(corners(path)),
    };
    BlankJson {
        width: Number(blank.width),
        height: Number(blank.height),
        outer: corners(&blank.outer),
        inner: blank.inner.iter().map(|hole| contour(&hole.contour)).collect(),
        area_mm2: Number(blank.area),
        cut_length_mm: Number(blank.cut_length),
        pierces: blank.pierces,
    }
}

fn corners(path: &Path<BlankFrame>) -> Vec<[Number; 3]> {
    path.vertices.iter().map(|v| numbers([v.at.x, v.at.y, v.bulge])).collect()
}

#[derive(Serialize)]
struct FaceJson<'a> {
    name: &'a str,
    outline: Vec<[Number; 2]>,
    to_part: Rows,
}

/// A face in the blank frame. `to_part` goes back from the blank to the face's own plane, and from
/// there to the folded part.
fn face_json<'a>(
    face: &'a Face,
    map: &Map2<FaceFrame, BlankFrame>,
    pose: &Pose<FaceFrame, PartFrame>,
) -> FaceJson<'a> {
    let outline = face.outline.mapped(map).points(tolerance::SAG);
    FaceJson {
        name: &face.name,
        outline: outline.into_iter().map(pair).collect(),
        to_part: rows(&Pose::flat(&map.inverse()).then(pose)),
    }
}

pub(super) fn pair(p: Point<BlankFrame>) -> [Number; 2] {
    numbers([p.x, p.y])
}

#[derive(Serialize)]
struct BendJson<'a> {
    name: &'a str,
    from: &'a str,
    to: &'a str,
    line: [[Number; 2]; 2],
    angle: Number,
    direction: &'static str,
    inside_radius: Number,
    k: Number,
    k_source: &'a str,
    allowance: Number,
    order: Option<usize>,
}

fn bend_json<'a>(part: &'a Part, bend: &'a Bend, in_blank: &BlankBend) -> BendJson<'a> {
    BendJson {
        name: &bend.name,
        from: &part.faces[bend.parent].name,
        to: &part.faces[bend.child].name,
        line: in_blank.line.map(pair),
        angle: Number(bend.angle),
        direction: bend.sense.word(),
        inside_radius: Number(bend.radius),
        k: Number(bend.k),
        k_source: &bend.k_source,
        allowance: Number(in_blank.allowance),
        order: None,
    }
}

#[derive(Serialize)]
struct HoleJson<'a> {
    id: &'a str,
    face: &'a str,
    centre: [Number; 2],
    shape: &'static str,
    size: Vec<Number>,
    direction: Number,
    r#for: &'a str,
    joint: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    countersink: Option<SunkJson>,
}

/// A countersink, cut from the blank's `upper` side (z = t) or its `lower` one.
#[derive(Serialize)]
struct SunkJson {
    diameter: Number,
    angle: Number,
    side: &'static str,
}

fn sunk_json(sunk: Sunk) -> SunkJson {
    SunkJson {
        diameter: Number(sunk.diameter),
        angle: Number(sunk.angle),
        side: if sunk.upper { "upper" } else { "lower" },
    }
}

/// A hole in the blank frame; none for a cut-out of free shape, which is listed on its own.
fn hole_json<'a>(
    face: &'a Face,
    map: &Map2<FaceFrame, BlankFrame>,
    hole: &'a Hole,
) -> Option<HoleJson<'a>> {
    let (shape, size, direction) = match &hole.shape {
        HoleShape::Round(diameter) => ("round", vec![*diameter], 0.0),
        HoleShape::Slot(width, length, direction) => {
            ("slot", vec![*width, *length], map.direction(*direction))
        }
        HoleShape::Rectangle(width, length, direction) => {
            ("rectangle", vec![*width, *length], map.direction(*direction))
        }
        HoleShape::Cutout(_) => return None,
    };
    Some(HoleJson {
        id: &hole.id,
        face: &face.name,
        centre: pair(map.point(hole.centre)),
        shape,
        size: size.into_iter().map(Number).collect(),
        direction: Number(direction),
        r#for: &hole.purpose,
        joint: hole.joint.as_deref(),
        countersink: hole.sunk.map(sunk_json),
    })
}

/// A text to etch; `at` is its middle in the blank frame.
#[derive(Serialize)]
pub(super) struct EtchJson<'a> {
    text: &'a str,
    at: [Number; 2],
    direction: Number,
    height: Number,
}

pub(super) fn etch_json(etch: &Etch) -> EtchJson<'_> {
    EtchJson {
        text: &etch.text,
        at: pair(etch.at),
        direction: Number(etch.direction),
        height: Number(etch.height),
    }
}

/// The upright box in the site frame around the corners of an instance's faces.
fn extent(
    part: &Part,
    folded: &FoldedPart,
    place: &Pose<PartFrame, SiteFrame>,
) -> [[Number; 3]; 2] {
    let [mut low, mut high] = [[f64::INFINITY; 3], [f64::NEG_INFINITY; 3]];
    for corner in folded.corners(part) {
        let at = place.point(corner);
        for (i, v) in [at.x, at.y, at.z].into_iter().enumerate() {
            low[i] = low[i].min(v);
            high[i] = high[i].max(v);
        }
    }
    [numbers(low), numbers(high)]
}

#[derive(Serialize)]
struct CutoutJson<'a> {
    id: &'a str,
    face: &'a str,
    centre: [Number; 2],
    r#for: &'a str,
}

/// A cut-out of free shape; its contour stands in the blank's `inner`.
fn cutout_json<'a>(
    face: &'a Face,
    map: &Map2<FaceFrame, BlankFrame>,
    hole: &'a Hole,
) -> Option<CutoutJson<'a>> {
    matches!(hole.shape, HoleShape::Cutout(_)).then(|| CutoutJson {
        id: &hole.id,
        face: &face.name,
        centre: pair(map.point(hole.centre)),
        r#for: &hole.purpose,
    })
}
