//! How a folded part looks: what its preview and its shop drawing both show.

use std::sync::OnceLock;

use super::Picture;
use super::view::{ProfileView, isometric_part, profile};
use crate::brake::{Outcome, Plan};
use crate::fold::FoldedPart;
use crate::kit::Part;

/// The views of one part, each made when it is first asked for and then kept.
#[derive(Debug)]
pub struct PartViews<'a> {
    part: &'a Part,
    folded: &'a FoldedPart,
    isometric: OnceLock<Picture>,
    section: OnceLock<Option<ProfileView>>,
    plan: Option<&'a Plan>,
}

impl<'a> PartViews<'a> {
    /// The views of a part, none of them made yet.
    pub const fn new(part: &'a Part, folded: &'a FoldedPart) -> Self {
        Self { part, folded, isometric: OnceLock::new(), section: OnceLock::new(), plan: None }
    }

    /// The views of a kit's parts, in their order.
    pub fn of_all(parts: &'a [Part], folded: &'a [FoldedPart]) -> Vec<Self> {
        parts.iter().zip(folded).map(|(part, folded)| Self::new(part, folded)).collect()
    }

    /// The same views with the orders of bends, in the order of the parts.
    pub fn ordered(views: Vec<Self>, outcomes: &'a [Option<Outcome>]) -> Vec<Self> {
        let plan = |i: usize| outcomes.get(i).and_then(|outcome| outcome.as_ref()?.plan());
        let views = views.into_iter().enumerate();
        views.map(|(i, view)| Self { plan: plan(i), ..view }).collect()
    }

    /// The order of the part's bends, where it is known.
    pub const fn plan(&self) -> Option<&'a Plan> {
        self.plan
    }

    /// The part shown.
    pub const fn part(&self) -> &'a Part {
        self.part
    }

    /// The folded part in isometric view.
    pub fn isometric(&self) -> &Picture {
        self.isometric.get_or_init(|| isometric_part(self.part, self.folded))
    }

    /// The section across its main bends; none for a flat plate.
    pub fn section(&self) -> Option<&ProfileView> {
        self.section.get_or_init(|| profile(self.part, self.folded)).as_ref()
    }
}
