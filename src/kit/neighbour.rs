//! Other kits of the same box, as one kit sees them.

use crate::geom::{Point3, Pose, SiteFrame};

/// Another kit that stands in the same box.
#[derive(Debug, Clone, PartialEq)]
pub struct Neighbour {
    /// Its number.
    pub kit: String,
    /// Its title.
    pub title: String,
    /// From its site frame to this kit's.
    pub to_site: Pose<SiteFrame, SiteFrame>,
    /// Upright boxes around its parts, in this kit's site frame: lower and upper corners.
    pub boxes: Vec<[Point3<SiteFrame>; 2]>,
    /// What bolts the two together.
    pub bolts: Vec<Meeting>,
}

/// Open holes of two kits that meet on one axis: fasteners that join the kits.
#[derive(Debug, Clone, PartialEq)]
pub struct Meeting {
    /// Key of the fastener.
    pub fastener: String,
    /// How many.
    pub count: usize,
    /// Sheets and the gap between them, mm.
    pub grip: f64,
    /// Number of the one kit of the two that orders them.
    pub ordered_by: String,
}

impl Neighbour {
    /// What bolts the two together and is ordered with this kit, not with the other.
    pub fn ordered_here(&self) -> impl Iterator<Item = &Meeting> {
        self.bolts.iter().filter(|meeting| meeting.ordered_by != self.kit)
    }
}
