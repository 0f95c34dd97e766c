//! The whole kit: each part's shape once, and where its instances stand.

use super::{Mesh, part};
use crate::fold::FoldedPart;
use crate::geom::{PartFrame, Pose, SiteFrame};
use crate::kit::{Kit, Part, Step};
use crate::solid;

/// The kit in three dimensions.
#[derive(Debug, Clone, PartialEq)]
pub struct Assembly {
    /// The parts' shapes in the order of the kit.
    pub shapes: Vec<Shape>,
    /// Where they stand.
    pub instances: Vec<Instance>,
    /// What they are built into: wall, rails, posts, as one mesh in the site frame; empty where
    /// the kit knows no container.
    pub container: Mesh,
}

/// One part's shape.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Part number.
    pub number: String,
    /// As printed.
    pub title: String,
    /// Its mesh in the part's frame, mm.
    pub mesh: Mesh,
}

/// One standing part.
#[derive(Debug, Clone, PartialEq)]
pub struct Instance {
    /// Index into the shapes.
    pub shape: usize,
    /// The part's frame in the site.
    pub place: Pose<PartFrame, SiteFrame>,
    /// Step of the work on site in which it is fitted, from 1; 0 where no step names it.
    pub step: usize,
}

/// Meshes every part once and places its instances.
pub fn assemble(kit: &Kit, folded: &[FoldedPart]) -> Assembly {
    let shapes = kit.parts.iter().zip(folded).map(|(it, folded)| Shape {
        number: it.number.clone(),
        title: it.title.clone(),
        mesh: part(it, folded),
    });
    let instances = kit.instances().map(|(part, place)| Instance {
        shape: part,
        place: kit.parts[part].places[place],
        step: step(kit, &kit.parts[part]),
    });
    let mut container = Mesh::default();
    for ring in solid::surroundings(kit, folded) {
        container.facet(&ring);
    }
    Assembly { shapes: shapes.collect(), instances: instances.collect(), container }
}

fn step(kit: &Kit, part: &Part) -> usize {
    let named = |step: &Step| step.parts.contains(&part.number);
    kit.steps.iter().position(named).map_or(0, |at| at + 1)
}
