//! Nothing may stand in the steel of the wall that is left: corners of every face are held against
//! the corrugation.

use super::wall_face::outer_face;
use super::{Rule, Subject};
use crate::geom::{FaceFrame, Point3, Pose, SiteFrame};
use crate::kit::{Face, Part, Wall};
use crate::note::{Finding, Notes};

/// Deeper than this counts: the contract's limit for shared volume, mm.
const DEPTH: f64 = 0.1;

pub(super) const RULE: Rule = Rule {
    id: "fit.wall",
    asks: "no corner of a folded part stands in what is left of the wall, deeper than 0.1 mm",
    limit: "0.1 mm",
    source: "geometry",
    remedy: "give the face more clearance, or cut the wall further",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    let Some(wall) = &subject.kit.container.wall else { return };
    for (part, folded) in subject.kit.parts.iter().zip(subject.folded) {
        for place in &part.places {
            for (face, pose) in part.faces.iter().zip(&folded.faces) {
                let deepest = deepest(wall, face, part.thickness, &pose.then(place));
                notes_of(part, face, deepest).into_iter().for_each(|finding| notes.add(finding));
            }
        }
    }
}

/// The corner of a face that stands deepest in the wall, with the depth.
fn deepest(
    wall: &Wall,
    face: &Face,
    thickness: f64,
    pose: &Pose<FaceFrame, SiteFrame>,
) -> Option<(f64, Point3<SiteFrame>)> {
    let corners = face.outline.vertices.iter();
    corners
        .flat_map(|corner| [0.0, thickness].map(|z| pose.lifted(corner.at, z)))
        .map(|corner| (inside(wall, corner), corner))
        .max_by(|a, b| a.0.total_cmp(&b.0))
}

fn notes_of(
    part: &Part,
    face: &Face,
    deepest: Option<(f64, Point3<SiteFrame>)>,
) -> Option<Finding> {
    let (depth, at) = deepest.filter(|(depth, _)| *depth > DEPTH)?;
    let message = format!(
        "{} ({}): {} stands {depth:.2} mm in the wall at X {:.1}, Y {:.1}, Z {:.1}",
        part.number, part.name, face.name, at.x, at.y, at.z
    );
    Some(
        Finding::error(RULE.id, message)
            .about(part.number.clone())
            .measured(depth, DEPTH, "mm")
            .source(RULE.source)
            .help(RULE.remedy),
    )
}

/// How deep a point lies in the steel of the wall, measured along Y; 0 or less outside it. In the
/// corrugation's slopes the sheet is thicker along Y by one over the slope's cosine.
fn inside(wall: &Wall, p: Point3<SiteFrame>) -> f64 {
    let removed = match (wall.cuts, wall.cut_heights) {
        (Some([left, right]), Some([bottom, top])) => {
            left < p.x && p.x < right && bottom < p.z && p.z < top
        }
        _ => false,
    };
    let beside =
        p.x < wall.ends[0] || wall.ends[1] < p.x || p.z < wall.edges[0] || wall.edges[1] < p.z;
    if removed || beside {
        return 0.0;
    }
    let outer = outer_face(wall, p.x);
    let on_slope = 0.0 < outer && outer < wall.depth;
    let stretch =
        if on_slope { crate::units::hypot(wall.slope, wall.depth) / wall.slope } else { 1.0 };
    (p.y - outer).min(outer + wall.thickness * stretch - p.y)
}
