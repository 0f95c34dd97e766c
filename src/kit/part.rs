//! One part: flat faces joined by bends, with holes and marks, and where its instances stand.

use std::sync::Arc;

use super::Issue;
use crate::geom::{FaceFrame, Map2, PartFrame, Path, Point, Pose, SiteFrame, Vertex, tolerance};
use crate::units;

/// A sheet material, from the shop's data.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Key in the data file.
    pub id: String,
    /// As it is ordered and printed.
    pub title: String,
    /// kg/m3.
    pub density: f64,
    /// Lowest tensile strength, N/mm2.
    pub tensile: f64,
}

/// Left or right as seen from outside the container.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// Left as seen from outside.
    Left,
    /// Right as seen from outside.
    Right,
}

impl Hand {
    /// The letter behind the part number.
    pub fn letter(self) -> &'static str {
        match self {
            Hand::Left => "L",
            Hand::Right => "R",
        }
    }

    /// The word used in names and titles.
    pub fn word(self) -> &'static str {
        match self {
            Hand::Left => "left",
            Hand::Right => "right",
        }
    }
}

/// Which way a bend goes, seen from the side of the blank that is up on the laser bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// Towards the viewer.
    Up,
    /// Away from the viewer.
    Down,
}

impl Sense {
    /// The word used in `kit.json` and on drawings.
    pub fn word(self) -> &'static str {
        match self {
            Sense::Up => "up",
            Sense::Down => "down",
        }
    }
}

/// One of the two sides of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// z = thickness: the side seen on the laser bed.
    Upper,
    /// z = 0.
    Under,
}

/// A part of the kit. Two hands are two parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// `<kit>-<nn>` and the hand's letter.
    pub number: String,
    /// Name of the part in the template, with the hand: `side-frame-left`.
    pub name: String,
    /// As printed: `Side frame, left`.
    pub title: String,
    /// The hand, when the part has one.
    pub hand: Option<Hand>,
    /// What it is cut from.
    pub material: Arc<Material>,
    /// Sheet thickness, mm.
    pub thickness: f64,
    /// How the sheet is called when bought by gauge: "14 ga"; empty when bought by millimetres.
    pub gauge: String,
    /// The faces; the first is the root, whose frame is the part's frame.
    pub faces: Vec<Face>,
    /// The bends, parents before children.
    pub bends: Vec<Bend>,
    /// What is etched on the blank.
    pub marks: Vec<Mark>,
    /// Where its instances stand; their number is the quantity in one kit.
    pub places: Vec<Pose<PartFrame, SiteFrame>>,
    /// Sentences for the part's own drawing.
    pub remarks: Vec<String>,
    /// What it touches, is fastened to and where foam passes: sentences for drawing and site paper.
    pub relations: Vec<String>,
    /// Under which revision it is drawn.
    pub issue: Issue,
    /// How its blank may lie on a sheet.
    pub lie: Lie,
}

/// How a blank may lie on a sheet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Lie {
    /// Along the grain alone: turned by 0 or 180 degrees.
    pub grain: bool,
    /// Face down too, which leaves burr and etching on the other side.
    pub mirror: bool,
}

impl Part {
    /// Outside size of the leg that a bend makes, mm: from its mould line to the farthest of its
    /// free edges and of the mould lines of the bends that run along it.
    pub fn leg(&self, bend: &Bend) -> f64 {
        let mould_line = |next: &Bend| {
            let [from, to] = next.edge;
            // Along +y of the leg's face, the zone lies beyond.
            let along = (to.x - from.x).abs() < tolerance::CONTACT && from.y < to.y;
            along.then_some(from.x + next.child_start.x)
        };
        let free = self.faces[bend.child].outline.bounds().high.x;
        let next = self.bends.iter().filter(|next| next.parent == bend.child);
        next.filter_map(mould_line).fold(free, f64::max)
    }
}

/// A flat face with its own frame: the root's lies in the blank's plane, a child's has x out of its
/// bend (x = 0 at the virtual sharp corner of the outer faces) and y along it.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// Name, unique in the part.
    pub name: String,
    /// Outline without the bend zones, counter-clockwise, with reliefs cut.
    pub outline: Path<FaceFrame>,
    /// Holes and cut-outs, in order of declaration.
    pub holes: Vec<Hole>,
}

/// A straight bend between two faces.
#[derive(Debug, Clone, PartialEq)]
pub struct Bend {
    /// `parent/child`, or the template's own name.
    pub name: String,
    /// Index of the face nearer the root.
    pub parent: usize,
    /// Index of the face folded from it.
    pub child: usize,
    /// Start and end of the parent-side edge of the bend zone in the parent's frame, run
    /// counter-clockwise around the parent: the zone lies to the right.
    pub edge: [Point<FaceFrame>; 2],
    /// The same start point in the child's frame: x is the child-side edge of the zone, and the
    /// edge runs along the child's +y.
    pub child_start: Point<FaceFrame>,
    /// Deviation from flat, degrees, above 0.
    pub angle: f64,
    /// Which way.
    pub sense: Sense,
    /// Inside radius, mm.
    pub radius: f64,
    /// The ratio of the neutral line's depth to the thickness.
    pub k: f64,
    /// Where `k` comes from: "DIN 6935", "shop table ...", "fixed".
    pub k_source: String,
    /// Reliefs at its ends, for drawing and check; empty where the bend runs to the edge.
    pub reliefs: Vec<Relief>,
}

impl Bend {
    /// The child-side edge of the zone in the child's frame, run counter-clockwise around the
    /// child: it starts where the parent's edge ends.
    pub fn child_edge(&self) -> [Point<FaceFrame>; 2] {
        let length = self.edge[0].distance(self.edge[1]);
        let start = self.child_start;
        [Point::new(start.x, start.y + length), start]
    }
}

/// A cut beside a bend's end that keeps the sheet from tearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Relief {
    /// Along the bend, mm.
    pub width: f64,
    /// Past the edge of the bend zone into the face, mm.
    pub depth: f64,
}

/// The shape of a hole or a cut-out, about its centre.
#[derive(Debug, Clone, PartialEq)]
pub enum HoleShape {
    /// Diameter, mm.
    Round(f64),
    /// Width, overall length in mm, direction of the length in degrees from the face's +x.
    Slot(f64, f64, f64),
    /// Width, length in mm, direction of the length in degrees from the face's +x.
    Rectangle(f64, f64, f64),
    /// Any closed path, clockwise, in the face's frame.
    Cutout(Path<FaceFrame>),
}

impl HoleShape {
    /// From the centre to the farthest point of the contour, mm.
    pub fn reach(&self) -> f64 {
        match self {
            HoleShape::Round(diameter) => diameter / 2.0,
            HoleShape::Slot(_, length, _) => length / 2.0,
            HoleShape::Rectangle(width, length, _) => {
                Point::<FaceFrame>::new(*width, *length).length() / 2.0
            }
            HoleShape::Cutout(path) => {
                let bounds = path.bounds();
                bounds.low.distance(bounds.high) / 2.0
            }
        }
    }

    /// The same shape after a map of its plane, about its centre.
    pub fn turned(&self, map: &Map2<FaceFrame, FaceFrame>) -> Self {
        match self {
            HoleShape::Round(diameter) => HoleShape::Round(*diameter),
            HoleShape::Slot(width, length, angle) => {
                HoleShape::Slot(*width, *length, map.direction(*angle))
            }
            HoleShape::Rectangle(width, length, angle) => {
                HoleShape::Rectangle(*width, *length, map.direction(*angle))
            }
            HoleShape::Cutout(path) => {
                let mapped = path.mapped(map);
                HoleShape::Cutout(if map.reflects() { mapped.reversed() } else { mapped })
            }
        }
    }
}

/// A hole in a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// `h1`, `h2`, ... unique in the part.
    pub id: String,
    /// Centre in the face's frame.
    pub centre: Point<FaceFrame>,
    /// Shape and size.
    pub shape: HoleShape,
    /// The fastener or purpose it is for: `rivet-4.8`, `drain`.
    pub purpose: String,
    /// The joint it belongs to.
    pub joint: Option<String>,
    /// The countersink cut into it after the laser, where a head lies in the sheet.
    pub sunk: Option<Sunk>,
}

/// A countersink of a hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sunk {
    /// Its diameter on the sheet's surface, mm.
    pub diameter: f64,
    /// Its whole angle, degrees.
    pub angle: f64,
    /// Whether it is cut from the sheet's upper side, the one that the blank's view shows.
    pub upper: bool,
}

impl Sunk {
    /// How deep its cone goes until it meets a round hole's wall, mm.
    pub fn depth(&self, hole: f64) -> f64 {
        (self.diameter - hole) / 2.0 / units::tan_deg(self.angle / 2.0)
    }
}

/// Something etched on the blank; never cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Index of the face it stands on.
    pub face: usize,
    /// Middle of the text in the face's frame.
    pub at: Point<FaceFrame>,
    /// Direction of the text in degrees from the face's +x.
    pub direction: f64,
    /// Height of the capitals, mm.
    pub height: f64,
    /// The text.
    pub text: String,
}

impl Hole {
    /// Points and a radius around them that together make up the hole: the nearest point of its
    /// contour to something is nearer by that radius than the nearest of these.
    pub fn core(&self) -> (Vec<Point<FaceFrame>>, f64) {
        let axis = |angle: f64| Point::new(units::cos_deg(angle), units::sin_deg(angle));
        match &self.shape {
            HoleShape::Round(diameter) => (vec![self.centre], diameter / 2.0),
            HoleShape::Slot(width, length, angle) => {
                let half = axis(*angle) * ((length - width) / 2.0);
                (vec![self.centre - half, self.centre + half], width / 2.0)
            }
            HoleShape::Rectangle(width, length, angle) => {
                let along = axis(*angle) * (length / 2.0);
                let across = axis(*angle).left() * (width / 2.0);
                let corners = [along + across, along - across, -along + across, -along - across];
                (corners.iter().map(|corner| self.centre + *corner).collect(), 0.0)
            }
            HoleShape::Cutout(path) => (path.points(tolerance::SAG), 0.0),
        }
    }

    /// Its contour in the face's frame, counter-clockwise; a cut-out's as it was given, clockwise.
    pub fn contour(&self) -> Path<FaceFrame> {
        let along = |angle: f64| Point::new(units::cos_deg(angle), units::sin_deg(angle));
        match &self.shape {
            HoleShape::Round(diameter) => {
                let spoke = Point::new(diameter / 2.0, 0.0);
                let corners = [self.centre - spoke, self.centre + spoke];
                Path { vertices: corners.map(|at| Vertex { at, bulge: 1.0 }).to_vec() }
            }
            HoleShape::Slot(width, length, angle) => {
                let half = along(*angle) * ((length - width) / 2.0);
                let side = along(*angle).left() * (width / 2.0);
                let c = self.centre;
                let corners = [
                    (c - half - side, 0.0),
                    (c + half - side, 1.0),
                    (c + half + side, 0.0),
                    (c - half + side, 1.0),
                ];
                Path { vertices: corners.map(|(at, bulge)| Vertex { at, bulge }).to_vec() }
            }
            HoleShape::Rectangle(..) => {
                let (c, _) = self.core();
                Path::polygon(&[c[3], c[1], c[0], c[2]])
            }
            HoleShape::Cutout(path) => path.clone(),
        }
    }
}
