//! The layers that one fastener goes through, in their order along its axis.

use crate::fold::FoldedPart;
use crate::geom::{Point3, SiteFrame};
use crate::kit::{Hole, JointMember, Part};

/// One sheet on a fastener's axis.
#[derive(Debug, Clone, Copy)]
pub struct Layer<'a> {
    /// Index of the part.
    pub part: usize,
    /// Index of the face.
    pub face: usize,
    /// The hole.
    pub hole: &'a Hole,
    /// The hole's centre in the middle of the sheet, in the site.
    pub centre: Point3<SiteFrame>,
    /// The face's normal in the site.
    pub normal: Point3<SiteFrame>,
    /// Where the middle of the sheet lies along the first layer's normal, mm.
    pub height: f64,
    /// Thickness, mm.
    pub thickness: f64,
}

/// The layers of one pair, lowest first along the first member's normal.
pub fn layers<'a>(
    pair: &[JointMember],
    parts: &'a [Part],
    folded: &[FoldedPart],
) -> Vec<Layer<'a>> {
    let mut layers: Vec<Layer> =
        pair.iter().filter_map(|member| layer(member, parts, folded)).collect();
    if let Some(first) = layers.first().copied() {
        for layer in &mut layers {
            layer.height = (layer.centre - first.centre).dot(first.normal);
        }
    }
    layers.sort_by(|a, b| a.height.total_cmp(&b.height));
    layers
}

fn layer<'a>(member: &JointMember, parts: &'a [Part], folded: &[FoldedPart]) -> Option<Layer<'a>> {
    let JointMember::Hole { part, place, hole: id } = member else { return None };
    let it = &parts[*part];
    let (face, hole) = it.faces.iter().enumerate().find_map(|(index, face)| {
        face.holes.iter().find(|hole| hole.id == *id).map(|hole| (index, hole))
    })?;
    let pose = folded[*part].faces[face].then(&it.places[*place]);
    Some(Layer {
        part: *part,
        face,
        hole,
        centre: pose.lifted(hole.centre, it.thickness / 2.0),
        normal: pose.z_axis,
        height: 0.0,
        thickness: it.thickness,
    })
}
