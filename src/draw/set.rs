//! The whole drawing set of a kit, its sheets numbered through.

use super::{PartViews, Sheet, cover, layout, plan, shop_drawing, title_block};
use crate::flat::Blank;
use crate::fold::FoldedPart;
use crate::kit::Kit;

/// All drawings of a kit.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawingSet {
    /// The cover and its continuations, then the plan of the box and the layout.
    pub cover: Vec<Sheet>,
    /// Each part's sheets, in the order of the kit's parts.
    pub parts: Vec<Vec<Sheet>>,
}

impl DrawingSet {
    /// All sheets in order: cover first.
    pub fn sheets(&self) -> impl Iterator<Item = &Sheet> {
        self.cover.iter().chain(self.parts.iter().flatten())
    }
}

/// Draws the kit: `folded`, `views` and `blanks` are in the order of its parts. Every sheet bears
/// its number in the whole set, also where a part's sheets are printed alone.
pub fn drawing_set(
    kit: &Kit,
    folded: &[FoldedPart],
    views: &[PartViews<'_>],
    blanks: &[Blank],
) -> DrawingSet {
    let parts = views.iter().zip(blanks);
    let mut set = DrawingSet {
        cover: [
            cover::pages(kit, folded, blanks),
            plan::pages(kit, folded),
            layout::pages(kit, folded),
        ]
        .concat(),
        parts: parts.map(|(views, blank)| shop_drawing::pages(kit, views, blank)).collect(),
    };
    let total = set.sheets().count();
    title_block::number(set.cover.iter_mut().chain(set.parts.iter_mut().flatten()), total);
    set
}
