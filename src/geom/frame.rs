//! The frames in which points live; each is an empty type used as a label.

/// One flat face's own plane: where its edges, holes and bends are declared. z = 0 is the underside
/// of the sheet, z = thickness the side seen on the laser bed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FaceFrame {}

/// The plane of the blank: x right, y up, lower left of the bounding box at (0, 0), seen from the
/// side that is up on the laser bed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BlankFrame {}

/// The folded part's own space: the frame of its root face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PartFrame {}

/// The plane of a profile's section: x across the root face, y along the root's normal, so that the
/// root's wall lies at 0 <= y <= thickness; seen by one who looks along the sweep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SectionFrame {}

/// The site: X to the right as seen from outside, Y into the container, Z up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SiteFrame {}

/// One container: origin in its middle on the finished floor, X towards its doors, Z up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoxFrame {}

/// The drawing sheet: x right, y up, origin at the lower left of the paper, in paper millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PaperFrame {}

/// The plane of a picture: x right, y up, real millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ViewFrame {}

/// The laser bed: x right, y up, seen from above.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BedFrame {}

/// One wall of a container: X along it from the left corner post's edge at the wall, to the right
/// as seen from outside; Y into the container from the outer flats' outer face; Z up from the
/// floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WallFrame {}

/// The plane across a press brake's bending line: x to the back, towards the gauge; y up; origin in
/// the middle of the die's opening, level with its shoulders.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BrakeFrame {}
