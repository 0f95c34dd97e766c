//! A section: pieces in one row from free edge to free edge, all of one thickness.

use super::piece::{Moments, P, Piece};
use crate::geom::{Map2, SectionFrame};

/// The section of a folded profile, from one free edge to the other.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Sheet thickness, mm.
    pub thickness: f64,
    /// Flats and corners in order; each starts where the one before ends.
    pub pieces: Vec<Piece>,
    /// Name of each piece's face; empty for a corner.
    pub names: Vec<String>,
    /// Whether the first and the last edge are held by what they are fastened to; else they are
    /// free.
    pub held: [bool; 2],
}

impl Section {
    /// A section of straight middle lines that meet in sharp corners.
    pub fn sharp(corners: &[P], thickness: f64) -> Self {
        let pieces: Vec<Piece> =
            corners.windows(2).map(|pair| Piece::Flat { from: pair[0], to: pair[1] }).collect();
        let names = (1..=pieces.len()).map(|number| number.to_string()).collect();
        Self { thickness, pieces, names, held: [false; 2] }
    }

    /// A section walked from a point along +x: flats of the given lengths, and between them corners
    /// that turn (degrees, left positive) about an inside radius. The last turn is not walked.
    pub fn walked(start: P, legs: &[(f64, f64, f64)], thickness: f64) -> Self {
        let (mut at, mut direction) = (start, P::new(1.0, 0.0));
        let mut section = Self::empty(thickness);
        for (i, &(flat, turn, radius)) in legs.iter().enumerate() {
            let end = at + direction * flat;
            section.push(Piece::Flat { from: at, to: end }, (i + 1).to_string());
            if i + 1 == legs.len() {
                break;
            }
            let middle = radius + thickness / 2.0;
            let centre = end + direction.left() * (middle * turn.signum());
            let corner = Piece::Corner { centre, from: end, sweep: turn };
            at = corner.end();
            direction = direction.turned(turn);
            section.push(corner, String::new());
        }
        section
    }

    /// A section without pieces.
    pub(super) fn empty(thickness: f64) -> Self {
        Self { thickness, pieces: Vec::new(), names: Vec::new(), held: [false; 2] }
    }

    pub(super) fn push(&mut self, piece: Piece, name: String) {
        self.pieces.push(piece);
        self.names.push(name);
    }

    /// The same section after a motion of its plane; a reflection is one.
    pub fn moved(&self, map: &Map2<SectionFrame, SectionFrame>) -> Self {
        let turned = |sweep: f64| if map.reflects() { -sweep } else { sweep };
        let moved = |piece: &Piece| match *piece {
            Piece::Flat { from, to } => Piece::Flat { from: map.point(from), to: map.point(to) },
            Piece::Corner { centre, from, sweep } => Piece::Corner {
                centre: map.point(centre),
                from: map.point(from),
                sweep: turned(sweep),
            },
        };
        Self { pieces: self.pieces.iter().map(moved).collect(), ..self.clone() }
    }

    /// Exact moments about the origin.
    pub fn moments(&self) -> Moments {
        let moments = self.pieces.iter().map(|piece| piece.moments(self.thickness));
        moments.fold(Moments::default(), Moments::plus)
    }

    /// Farthest the section reaches in a direction given by a unit vector, mm from the origin.
    pub fn reach(&self, direction: P) -> f64 {
        let reaches = self.pieces.iter().map(|piece| piece.reach(direction, self.thickness));
        reaches.fold(f64::NEG_INFINITY, f64::max)
    }

    /// Length of the middle line, mm.
    pub fn middle_line(&self) -> f64 {
        self.pieces.iter().map(Piece::length).sum()
    }
}
