//! How large a package the folded parts make: an estimate.

use crate::fold::FoldedPart;
use crate::geom::{PartFrame, Point3};
use crate::kit::{Kit, Part};

/// How much more room than their own boxes the parts take. Common practice.
const LOOSE: f64 = 1.3;
/// Boards and padding on each side, mm. Common practice.
const BOARD: f64 = 30.0;
/// Sizes are told in steps of this, mm.
const STEP: f64 = 10.0;

/// Length, width and height: as long as the longest part, as wide as the widest or a few of them
/// side by side, as high as the boxes around all parts need at that.
pub(super) fn package(kit: &Kit, folded: &[FoldedPart]) -> [f64; 3] {
    let boxes = kit.parts.iter().zip(folded).map(|(part, folded)| (extents(part, folded), part));
    let boxes: Vec<([f64; 3], usize)> = boxes.map(|(it, part)| (it, part.places.len())).collect();
    let most = |i: usize| boxes.iter().map(|(it, _)| it[i]).fold(0.0, f64::max);
    let volume: f64 = boxes.iter().map(|([a, b, c], count)| a * b * c * *count as f64).sum();
    let [long, wide, flat] = [most(0), most(1), most(2)];
    let mut across = wide;
    let pile = |across: f64| (volume * LOOSE / (long * across).max(1.0)).max(flat);
    // Many small parts lie in piles side by side, none higher than the package is long.
    while 0.0 < wide && long.max(across) < pile(across) {
        across += wide;
    }
    let mut sizes = [long, across, pile(across)];
    sizes[..2].sort_by(|a, b| b.total_cmp(a));
    sizes.map(|size| ((size + 2.0 * BOARD) / STEP).ceil() * STEP)
}

/// A folded part's own three extents, the longest first.
fn extents(part: &Part, folded: &FoldedPart) -> [f64; 3] {
    let [mut low, mut high] = [[f64::INFINITY; 3], [f64::NEG_INFINITY; 3]];
    for (face, pose) in part.faces.iter().zip(&folded.faces) {
        for (vertex, z) in face.outline.vertices.iter().flat_map(|v| [(v, 0.0), (v, 1.0)]) {
            let p: Point3<PartFrame> = pose.lifted(vertex.at, z * part.thickness);
            for (i, value) in [p.x, p.y, p.z].into_iter().enumerate() {
                low[i] = f64::min(low[i], value);
                high[i] = f64::max(high[i], value);
            }
        }
    }
    let mut sizes = [0, 1, 2].map(|i| (high[i] - low[i]).max(0.0));
    sizes.sort_by(|a, b| b.total_cmp(a));
    sizes
}
