//! The whole kit: each part's body once, and where its instances stand.

use super::bend::Hinge;
use super::face;
use super::model::Body;
use super::ring::{Ring, Seat};
use crate::fold::FoldedPart;
use crate::geom::{PartFrame, Pose, SiteFrame};
use crate::kit::{Kit, Part};

/// The kit as bodies.
#[derive(Debug, Clone, PartialEq)]
pub struct Assembly {
    /// Kit number.
    pub number: String,
    /// As printed.
    pub title: String,
    /// Of the kit.
    pub revision: String,
    /// The parts in the order of the kit.
    pub shapes: Vec<Shape>,
    /// Where they stand: index into the shapes, and the part's frame in the site.
    pub places: Vec<(usize, Pose<PartFrame, SiteFrame>)>,
}

/// One part.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Part number.
    pub number: String,
    /// As printed.
    pub title: String,
    /// Under which it is drawn.
    pub revision: String,
    /// In the part's frame.
    pub body: Body,
}

/// The bodies of all parts and their places. `None` as for [`body`].
pub fn assemble(kit: &Kit, folded: &[FoldedPart]) -> Option<Assembly> {
    let shape = |(part, folded): (&Part, &FoldedPart)| {
        Some(Shape {
            number: part.number.clone(),
            title: part.title.clone(),
            revision: part.issue.revision.clone(),
            body: body(part, folded)?,
        })
    };
    let places = kit.instances().map(|(part, place)| (part, kit.parts[part].places[place]));
    Some(Assembly {
        number: kit.number.clone(),
        title: kit.title.clone(),
        revision: kit.revision.clone(),
        shapes: kit.parts.iter().zip(folded).map(shape).collect::<Option<_>>()?,
        places: places.collect(),
    })
}

/// The part in its own frame, folded. `None` when a bend's edge is not a side of its faces'
/// outlines, which only a part that was not made by `kit` can bring about.
pub fn body(part: &Part, folded: &FoldedPart) -> Option<Body> {
    let seat = |face: usize| Seat { pose: &folded.faces[face], thickness: part.thickness };
    let mut hinges = Vec::new();
    let mut bent = vec![Vec::new(); part.faces.len()];
    for bend in &part.bends {
        let parent = part.faces[bend.parent].outline.side_between(bend.edge)?;
        let child = part.faces[bend.child].outline.side_between(bend.child_edge())?;
        bent[bend.parent].push(parent);
        bent[bend.child].push(child);
        hinges.push(Hinge::new(bend, [parent, child], seat(bend.parent)));
    }
    let mut body = Body::default();
    let mut rings: Vec<Option<Ring>> = part.faces.iter().map(|_| None).collect();
    *rings.first_mut()? = Some(face::add(&mut body, &part.faces[0], seat(0), (&bent[0], None)));
    for (bend, hinge) in part.bends.iter().zip(&hinges) {
        let (own, parent) = (bend.child, rings[bend.parent].as_ref()?);
        let shared = hinge.shared(parent);
        let ring = face::add(&mut body, &part.faces[own], seat(own), (&bent[own], shared));
        hinge.add(&mut body, [parent, &ring]);
        rings[own] = Some(ring);
    }
    Some(body)
}
