//! Plane and space geometry in millimetres. Points and maps carry the frame they belong to as a
//! type, so that mixing the blank's plane with the paper's does not compile.

mod clearance;
mod frame;
mod map;
mod path;
mod point;
mod pose;
pub mod tolerance;

pub use clearance::side_distance;
pub use frame::{
    BedFrame, BlankFrame, BoxFrame, BrakeFrame, FaceFrame, PaperFrame, PartFrame, SectionFrame,
    SiteFrame, ViewFrame, WallFrame,
};
pub use map::Map2;
pub use path::{Bounds, Path, Vertex, arc_centre};
pub use point::{Point, Point3};
pub use pose::Pose;
