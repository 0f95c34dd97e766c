//! A kit whose parts stand in space but are not joined yet.

use super::{Amended, Container, HoleShape, KeepOut, Lengths, OnSite, Part, SetFrom, Step};
use crate::geom::{FaceFrame, Map2, Point};
use crate::note::Place;

/// Parts, and the joints still to be carried through space.
#[derive(Debug, Clone, Default)]
pub struct Draft {
    /// The container in the site frame.
    pub container: Option<Container>,
    /// The parts in the order of their numbers.
    pub parts: Vec<Part>,
    /// For each part and face, the map from its author's frame (left hand) to the face's frame.
    pub drawings: Vec<Vec<Map2<FaceFrame, FaceFrame>>>,
    /// The joints in the order of the template.
    pub joints: Vec<JointPlan>,
    /// Volumes that must stay free.
    pub keep_outs: Vec<KeepOut>,
    /// Profiles cut from bars.
    pub lengths: Vec<Lengths>,
    /// General notes.
    pub notes: Vec<String>,
    /// Safety cautions.
    pub cautions: Vec<String>,
    /// How the kit is built in.
    pub steps: Vec<Step>,
    /// Foam and sizes on site.
    pub on_site: OnSite,
    /// What amendments did so far.
    pub amended: Vec<Amended>,
}

/// A joint as declared, worked out to numbers.
#[derive(Debug, Clone)]
pub struct JointPlan {
    /// In words.
    pub name: String,
    /// Key of the fastener.
    pub fastener: String,
    /// Whether the mirrored joint is made too.
    pub both: bool,
    /// Distance the faces are meant to stand apart, mm.
    pub gap: f64,
    /// The pattern, in the author's frame of the first member's face.
    pub pattern: Vec<Point<FaceFrame>>,
    /// The face with the pattern, then the faces it meets.
    pub members: Vec<MemberPlan>,
    /// The part of the container it goes into.
    pub into: Option<String>,
    /// The side its fasteners are set from.
    pub set_from: SetFrom,
    /// Names, without hand, of the parts that are fitted later.
    pub before: Vec<String>,
    /// The opening that the tool reaches through: a part's name without hand, and a purpose.
    pub through: Option<(String, String)>,
    /// Where it stands in the template.
    pub place: Option<Place>,
}

/// A face that a joint goes through.
#[derive(Debug, Clone)]
pub struct MemberPlan {
    /// Name of the part, without hand.
    pub part: String,
    /// Name of the face.
    pub face: String,
    /// Name of the face on the mirrored side.
    pub mirrored: String,
    /// Its hole, directions in the author's frame of the face.
    pub shape: HoleShape,
}
