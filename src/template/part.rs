//! Parts as a template declares them: legs, plates, flanges, notches, holes, marks and places.

use serde::Deserialize;
use toml::Spanned;

use super::Formula;
use super::model::Text;

/// One part.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartItem {
    /// Name in the template.
    pub name: Spanned<String>,
    /// As printed.
    pub title: Text,
    /// The sheet group it is cut from.
    pub sheet: Spanned<String>,
    /// Made when this holds.
    pub when: Option<Formula>,
    /// Whether it comes in a left and a right hand; declared as the left one.
    #[serde(default)]
    pub hands: Hands,
    /// For a part of one hand: made mirrored in X of the site when this holds.
    pub mirrored: Option<Formula>,
    /// Legs with bends between them.
    pub profile: Option<Profile>,
    /// A flat root face.
    pub plate: Option<Plate>,
    /// Faces folded from edges.
    #[serde(default)]
    pub flanges: Vec<Flange>,
    /// Material removed along edges.
    #[serde(default)]
    pub notches: Vec<Notch>,
    /// Material added along edges.
    #[serde(default)]
    pub tabs: Vec<Notch>,
    /// Rounded free corners.
    #[serde(default)]
    pub corners: Vec<Corner>,
    /// Edges that follow the wall.
    #[serde(default)]
    pub follow: Vec<Follow>,
    /// Holes that belong to no joint.
    #[serde(default)]
    pub holes: Vec<HoleItem>,
    /// What is etched besides the part number.
    #[serde(default)]
    pub marks: Vec<MarkItem>,
    /// Whether its length must run along the grain of the sheet whatever the material.
    #[serde(default)]
    pub grain: bool,
    /// Whether its blank may lie face down on the laser: burr and etching are then on the other
    /// side.
    #[serde(default)]
    pub mirror: bool,
    /// Where its instances stand.
    pub places: Vec<PlaceItem>,
    /// Sentences for its drawing.
    #[serde(default)]
    pub notes: Vec<Text>,
    /// What it touches, what it is fastened to, where foam passes.
    #[serde(default)]
    pub relations: Vec<Text>,
}

/// Whether a part comes in two hands.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Hands {
    /// One part.
    #[default]
    One,
    /// Left as declared, and right mirrored.
    Both,
}

/// Legs swept over a length.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Profile {
    /// Length of the sweep.
    pub length: Formula,
    /// The leg that stays where it is when folding.
    pub root: Spanned<String>,
    /// The legs in order across the section.
    pub legs: Vec<Leg>,
}

/// Bend direction seen from the side that is up on the laser bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Direction {
    /// Towards the viewer.
    Up,
    /// Away from the viewer.
    Down,
}

/// One leg of a profile: x across from 0 to its size in the order of the legs, y along the sweep.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Leg {
    /// Name of the face.
    pub name: Spanned<String>,
    /// Outside size.
    pub size: Formula,
    /// Direction of the bend towards its neighbour on the root's side; none for the root.
    pub bend: Option<Direction>,
    /// Angle of that bend; 90 when silent.
    pub angle: Option<Formula>,
    /// Inside radius of that bend; the shop's when silent.
    pub radius: Option<Formula>,
    /// What differs at its lower end (y = 0).
    pub bottom: Option<EndCut>,
    /// What differs at its upper end (y = length).
    pub top: Option<EndCut>,
}

/// How a leg ends.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EndCut {
    /// Set back by this; extended when negative.
    pub back: Option<Formula>,
    /// Further set back by tan(angle) for each millimetre away from x (or y) = 0.
    pub mitre: Option<Formula>,
}

/// A flat root face: x right, y up.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plate {
    /// Outside width, for a rectangle.
    pub width: Option<Formula>,
    /// Outside height, for a rectangle.
    pub height: Option<Formula>,
    /// Corners counter-clockwise, for any polygon; edges are named `e1`, `e2`, ... from the first.
    #[serde(default)]
    pub points: Vec<[Formula; 2]>,
    /// Name of the face; `base` when silent.
    pub name: Option<Spanned<String>>,
}

/// A face folded from an edge: x along that edge, y out from the bend.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Flange {
    /// Name of the face.
    pub name: Spanned<String>,
    /// `face.edge` it is folded from.
    pub on: Spanned<String>,
    /// Made when this holds.
    pub when: Option<Formula>,
    /// Outside size.
    pub size: Formula,
    /// Direction of the bend.
    pub bend: Direction,
    /// Angle; 90 when silent.
    pub angle: Option<Formula>,
    /// Inside radius; the shop's when silent.
    pub radius: Option<Formula>,
    /// Start on the edge; its usable start when silent.
    pub from: Option<Formula>,
    /// End on the edge; its usable end when silent.
    pub to: Option<Formula>,
    /// What differs at its left side (x = 0): `mitre` leans it by tan(angle) * y.
    pub left: Option<EndCut>,
    /// What differs at its right side.
    pub right: Option<EndCut>,
    /// Made once in every pocket of the wall's corrugation.
    pub repeat: Option<Pockets>,
}

/// The pockets of the wall's corrugation along an edge. In the formulas of what is repeated,
/// `pocket.from` and `pocket.to` are the coordinates on the edge where its mouth begins and ends
/// in the plane of the outer flats.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pockets {
    /// Site X where the edge's coordinate is 0.
    pub origin: Formula,
    /// 1 when the coordinate grows with site X, -1 when against it.
    pub step: Formula,
}

/// Material removed (or, as a tab, added) along an edge.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Notch {
    /// `face.edge`.
    pub on: Spanned<String>,
    /// Made when this holds.
    pub when: Option<Formula>,
    /// Start on the edge.
    pub from: Formula,
    /// End on the edge.
    pub to: Formula,
    /// How deep, or how high.
    pub depth: Formula,
}

/// What is done at the corners of a face.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Corner {
    /// The face.
    pub face: Spanned<String>,
    /// Radius of its free corners; sharp when silent.
    pub radius: Option<Formula>,
    /// Side of the square cut out at corners where two bends meet; none when silent.
    pub relief: Option<Formula>,
}

/// An edge with teeth that fill the pockets of the wall's corrugation from outside. The face is
/// declared as reaching to the plane of the outer flats.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Follow {
    /// `face.edge`.
    pub on: Spanned<String>,
    /// Made when this holds.
    pub when: Option<Formula>,
    /// Site X where the edge's coordinate is 0.
    pub origin: Formula,
    /// 1 when the edge's coordinate grows with site X, -1 when against it.
    pub step: Formula,
    /// Clearance to the wall.
    pub clearance: Formula,
    /// Slope of the face against the horizontal, degrees.
    pub tilt: Option<Formula>,
}

/// Equally spaced between two points, not wider than the pitch.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// First hole.
    pub from: [Formula; 2],
    /// Last hole.
    pub to: [Formula; 2],
    /// Greatest distance between neighbours.
    pub pitch: Formula,
}

/// Rows and columns, equally spaced.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Grid {
    /// Lower left hole.
    pub from: [Formula; 2],
    /// Upper right hole.
    pub to: [Formula; 2],
    /// Greatest distance in x and in y.
    pub pitch: [Formula; 2],
}

/// One hole at each of the wall's outer flats.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Flats {
    /// The coordinate that runs along the wall: `x` or `y`.
    pub along: Spanned<String>,
    /// The other coordinate.
    pub across: Formula,
    /// Site X where the coordinate along the wall is 0.
    pub origin: Formula,
    /// 1 when it grows with site X, -1 when against it.
    pub step: Formula,
    /// First and last coordinate along the wall that may carry a hole.
    pub between: [Formula; 2],
}

/// Where holes stand on a face, in the frame of its author.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Holes {
    /// Single places.
    #[serde(default)]
    pub at: Vec<[Formula; 2]>,
    /// A row.
    pub row: Option<Row>,
    /// A grid.
    pub grid: Option<Grid>,
    /// At the wall's flats.
    pub flats: Option<Flats>,
}

/// The size of a hole: by purpose, or by measure.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sized {
    /// Which of the fastener's holes: `clearance`, `close`, `head`, `pilot`. When silent: `head`
    /// under the head where another part has holes too, else `clearance`.
    pub hole: Option<Spanned<String>>,
    /// A bare diameter.
    pub diameter: Option<Formula>,
    /// A slot: width, overall length.
    pub slot: Option<[Formula; 2]>,
    /// A rectangle: width, length.
    pub rectangle: Option<[Formula; 2]>,
    /// Direction of a slot's or rectangle's length from +x of the face.
    pub direction: Option<Formula>,
}

impl Sized {
    /// Whether nothing is said about the size.
    pub fn is_silent(&self) -> bool {
        let Self { hole, diameter, slot, rectangle, direction: _ } = self;
        hole.is_none() && diameter.is_none() && slot.is_none() && rectangle.is_none()
    }
}

/// Holes in a face.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoleItem {
    /// The face.
    pub face: Spanned<String>,
    /// The fastener's key, or a purpose in one word.
    #[serde(rename = "for")]
    pub purpose: Spanned<String>,
    /// Made when this holds.
    pub when: Option<Formula>,
    /// Size.
    #[serde(default)]
    pub size: Sized,
    /// Places.
    pub holes: Holes,
}

/// A text etched on a face.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarkItem {
    /// The face.
    pub face: Spanned<String>,
    /// The text.
    pub text: Text,
    /// Middle of the text.
    pub at: [Formula; 2],
    /// Direction from +x of the face; 0 when silent.
    pub direction: Option<Formula>,
    /// Height of the capitals; 8 when silent.
    pub height: Option<Formula>,
}

/// Where one instance stands: a point of its root face and two of its directions in the site.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlaceItem {
    /// Stands when this holds.
    pub when: Option<Formula>,
    /// Site point of the root's origin (x = y = 0) on the named side of the sheet.
    pub at: [Formula; 3],
    /// Direction of the root's x in the site.
    pub x: [Formula; 3],
    /// Direction of the root's y in the site.
    pub y: [Formula; 3],
    /// Which side of the sheet `at` lies on; under when silent.
    #[serde(default)]
    pub side: Anchor,
    /// Stands more than once.
    pub repeat: Option<Repeat>,
}

/// How often a place is repeated: at flats of the wall, or a number of times, or both.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Repeat {
    /// At these flats of the wall. In the formulas of the place `place.x` is the flat's middle in
    /// the site, `place.flat` its number from the left post, counted from 1.
    pub flats: Option<EveryFlat>,
    /// How many times (at each of those flats); 1 when silent. `place.i` counts from 0.
    pub count: Option<Formula>,
}

/// Flats of the wall, the same on both sides of its middle.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EveryFlat {
    /// `outer` or `inner`.
    pub on: Spanned<String>,
    /// Every so many corrugations, counted from the middle outwards: a wall with a middle flat has
    /// one there, another has two side by side.
    pub every: Formula,
    /// How many corrugations from the middle the first stands; 0 when silent.
    pub first: Option<Formula>,
}

/// A side of the sheet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Anchor {
    /// z = 0.
    #[default]
    Under,
    /// z = thickness.
    Upper,
}
