//! What makes two parts of different kits the same part, and the number that follows from it.

use std::fmt::Write;

use sha2::{Digest, Sha256};

use super::{Bend, Face, HoleShape, Mark, Part};
use crate::geom::{FaceFrame, Path, Point};

/// Everything the laser file and the part's own drawing say of a part, but for its number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Identity([u8; 32]);

/// Digits of a code: no I, L, O or U, which read like others.
const DIGITS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// Digits in a code: nine tell 50 000 parts apart with a chance of 1 in 28 000 that two agree,
/// which is told when it happens.
const LENGTH: usize = 9;

impl Identity {
    /// Of a part before its number is etched. Equal for parts with the same name, title, hand,
    /// material, thickness, faces, bends, holes and marks; where the part stands does not count.
    /// `prefix` is what its number will begin with.
    pub fn of(part: &Part, prefix: &str) -> Self {
        let mut ink = Ink(Sha256::new());
        ink.text(prefix);
        ink.text(&part.name);
        ink.text(&part.title);
        ink.text(part.hand.map_or("", |hand| hand.word()));
        ink.text(&part.material.id);
        ink.text(&part.gauge);
        ink.number(part.thickness);
        ink.count(part.faces.len());
        part.faces.iter().for_each(|face| ink.face(face));
        ink.count(part.bends.len());
        part.bends.iter().for_each(|bend| ink.bend(bend));
        ink.count(part.marks.len());
        part.marks.iter().for_each(|mark| ink.mark(mark));
        Self(ink.0.finalize().into())
    }

    /// A short code of it.
    pub fn code(&self) -> String {
        let word = self.0.iter().take(8).fold(0u64, |word, byte| word << 8 | u64::from(*byte));
        let digit = |place: usize| DIGITS[(word >> (59 - 5 * place)) as usize % DIGITS.len()];
        (0..LENGTH).map(|place| char::from(digit(place))).collect()
    }

    /// All of it, hexadecimal.
    pub fn hex(&self) -> String {
        self.0.iter().fold(String::new(), |mut text, byte| {
            // Writing to a string cannot fail.
            let _ = write!(text, "{byte:02x}");
            text
        })
    }
}

/// The number of a part that kits of a catalogue share: `OSK-P-7K3M2Q9F4`, and the hand's letter.
pub fn shared_number(part: &Part, identity: &Identity, prefix: &str) -> String {
    let hand = part.hand.map_or("", |hand| hand.letter());
    format!("{prefix}-{}{hand}", identity.code())
}

/// Takes values down so that no two lists of them read alike.
struct Ink(Sha256);

impl Ink {
    fn text(&mut self, text: &str) {
        self.count(text.len());
        self.0.update(text.as_bytes());
    }

    fn count(&mut self, count: usize) {
        self.0.update((count as u64).to_le_bytes());
    }

    fn number(&mut self, value: f64) {
        // Adding 0 takes the sign from -0.
        self.0.update((value + 0.0).to_bits().to_le_bytes());
    }

    fn numbers(&mut self, values: &[f64]) {
        values.iter().for_each(|value| self.number(*value));
    }

    fn point(&mut self, at: Point<FaceFrame>) {
        self.numbers(&[at.x, at.y]);
    }

    fn path(&mut self, path: &Path<FaceFrame>) {
        self.count(path.vertices.len());
        for vertex in &path.vertices {
            self.numbers(&[vertex.at.x, vertex.at.y, vertex.bulge]);
        }
    }

    fn face(&mut self, face: &Face) {
        self.text(&face.name);
        self.path(&face.outline);
        self.count(face.holes.len());
        for hole in &face.holes {
            self.text(&hole.id);
            self.text(&hole.purpose);
            self.point(hole.centre);
            self.shape(&hole.shape);
            if let Some(sunk) = &hole.sunk {
                self.text("sunk");
                self.count(usize::from(sunk.upper));
                self.numbers(&[sunk.diameter, sunk.angle]);
            }
        }
    }

    fn shape(&mut self, shape: &HoleShape) {
        match shape {
            HoleShape::Round(diameter) => {
                self.text("round");
                self.number(*diameter);
            }
            HoleShape::Slot(width, length, turn) => {
                self.text("slot");
                self.numbers(&[*width, *length, *turn]);
            }
            HoleShape::Rectangle(width, length, turn) => {
                self.text("rectangle");
                self.numbers(&[*width, *length, *turn]);
            }
            HoleShape::Cutout(path) => {
                self.text("cut-out");
                self.path(path);
            }
        }
    }

    fn bend(&mut self, bend: &Bend) {
        self.text(&bend.name);
        self.count(bend.parent);
        self.count(bend.child);
        bend.edge.iter().for_each(|end| self.point(*end));
        self.point(bend.child_start);
        self.text(bend.sense.word());
        self.numbers(&[bend.angle, bend.radius, bend.k]);
        self.text(&bend.k_source);
        self.count(bend.reliefs.len());
        for relief in &bend.reliefs {
            self.numbers(&[relief.width, relief.depth]);
        }
    }

    fn mark(&mut self, mark: &Mark) {
        self.count(mark.face);
        self.point(mark.at);
        self.numbers(&[mark.direction, mark.height]);
        self.text(&mark.text);
    }
}
