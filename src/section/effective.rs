//! The section that bears: every flat takes what its stress leaves of it, until stress and section
//! agree.

use super::gross::Values;
use super::lip::{Held, LEAST_LIP, Stiffened, in_range};
use super::piece::{Moments, P, Piece};
use super::plate::{Judge, Plate, Standard};
use super::shape::Section;
use crate::units;

/// What a section has to bear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Demand {
    /// Compression in the centroid.
    Compression,
    /// Bending that compresses the side towards which the unit vector points. A section that is
    /// `held` sideways bends in that plane alone; one that is not bends as its product of inertia
    /// makes it.
    Bending {
        /// Unit vector towards the compressed side.
        toward: P,
        /// Whether it is held sideways.
        held: bool,
    },
}

/// A linear field of stress for a unit of moment or force; compression is positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Stress at the centroid.
    pub mean: f64,
    /// Its slope.
    pub slope: P,
    /// The centroid.
    pub centroid: P,
}

impl Field {
    /// The field that a demand of 1 makes in a section.
    pub fn of(values: &Values, demand: &Demand) -> Self {
        let centroid = values.centroid;
        match *demand {
            Demand::Compression => {
                Self { mean: 1.0 / values.area, slope: P::new(0.0, 0.0), centroid }
            }
            Demand::Bending { toward, held: true } => {
                let inertia = values.about(toward.left());
                Self { mean: 0.0, slope: toward * (1.0 / inertia), centroid }
            }
            Demand::Bending { toward, held: false } => {
                let Values { ix, iy, ixy, .. } = *values;
                let determinant = ix * iy - ixy * ixy;
                let slope = P::new(ix * toward.x - ixy * toward.y, iy * toward.y - ixy * toward.x);
                Self { mean: 0.0, slope: slope * (1.0 / determinant), centroid }
            }
        }
    }

    /// Stress at a point.
    pub fn at(&self, p: P) -> f64 {
        self.mean + self.slope.dot(p - self.centroid)
    }

    /// Greatest compression and greatest tension in a section, both positive where they are there.
    pub fn extremes(&self, section: &Section) -> [f64; 2] {
        let slope = self.slope.length();
        if slope == 0.0 {
            return [self.mean, -self.mean];
        }
        let (up, own) = (self.slope.unit(), self.slope.dot(self.centroid));
        let highest = section.reach(up) * slope - own;
        let lowest = section.reach(-up) * slope + own;
        [self.mean + highest, lowest - self.mean]
    }
}

/// A stretch of a flat that bears: from and to in mm along it, share of the thickness.
pub type Stretch = (f64, f64, f64);

/// The section that bears.
#[derive(Debug, Clone, PartialEq)]
pub struct Effective {
    /// Values of what bears.
    pub values: Values,
    /// For each piece of the section the stretches that bear.
    pub stretches: Vec<Vec<Stretch>>,
    /// The least reduction of a lip's thickness; 1 where none is reduced.
    pub chi: f64,
    /// Lips that are too short or too long for their flange to be counted as stiffeners.
    pub odd_lips: usize,
}

impl Effective {
    /// All of a section.
    pub fn whole(section: &Section) -> Self {
        let whole = |piece: &Piece| vec![(0.0, piece.length(), 1.0)];
        Self {
            values: Values::of(&section.moments()),
            stretches: section.pieces.iter().map(whole).collect(),
            chi: 1.0,
            odd_lips: 0,
        }
    }
}

/// Steps after which section and stress are taken to agree; from the third on they change in the
/// fifth digit at most.
const STEPS: usize = 40;

/// What of a section bears under a demand that brings its most compressed edge to `judge.stress`.
pub fn effective(section: &Section, demand: &Demand, judge: &Judge) -> Effective {
    let mut now = Effective::whole(section);
    if judge.stress <= 0.0 {
        return now;
    }
    for _ in 0..STEPS {
        let next = step(section, demand, judge, &now.values);
        let (a, b) = (&now.values, &next.values);
        let apart = (a.area - b.area).abs() / a.area + a.centroid.distance(b.centroid);
        now = next;
        if apart < 1e-9 {
            break;
        }
    }
    now
}

fn step(section: &Section, demand: &Demand, judge: &Judge, values: &Values) -> Effective {
    let field = Field::of(values, demand);
    let [most, _] = field.extremes(section);
    let scale = if most > 0.0 { judge.stress / most } else { 0.0 };
    let flats = Flats { section, field, scale, judge };
    let mut next = Effective::whole(section);
    let rows = flats.rows();
    for row in &rows {
        let [start, end] = row.plate.bearing(judge);
        next.stretches[row.piece] = flats.stretches(row, [start, end], [1.0, 1.0]);
    }
    if judge.standard == Standard::En {
        let all_compressed = matches!(demand, Demand::Compression);
        let turned: Vec<Row> = rows.iter().rev().map(Row::turned).collect();
        for (row, is_turned) in [(&rows, false), (&turned, true)] {
            flats.lip(row, (is_turned, all_compressed), &mut next);
        }
    }
    next.values = Values::of(&moments(section, &next.stretches));
    next
}

/// Moments of the stretches that bear.
fn moments(section: &Section, stretches: &[Vec<Stretch>]) -> Moments {
    let mut sum = Moments::default();
    for (piece, stretches) in section.pieces.iter().zip(stretches) {
        for &(from, to, share) in stretches {
            let cut = match piece {
                Piece::Flat { .. } if from < to => {
                    let length = piece.length();
                    Piece::Flat { from: piece.at(from / length), to: piece.at(to / length) }
                }
                Piece::Flat { .. } => continue,
                Piece::Corner { .. } => *piece,
            };
            sum = sum.plus(cut.moments(section.thickness).scaled(share));
        }
    }
    sum
}

/// A flat as a plate: which piece it is, what its notional width goes beyond it at both ends.
#[derive(Debug, Clone, Copy)]
struct Row {
    piece: usize,
    plate: Plate,
    beyond: [f64; 2],
    along: P,
}

impl Row {
    fn turned(&self) -> Self {
        let Plate { stress: [a, b], free: [c, d], .. } = self.plate;
        let plate = Plate { stress: [b, a], free: [d, c], ..self.plate };
        let [before, after] = self.beyond;
        Row { plate, beyond: [after, before], along: -self.along, ..*self }
    }
}

/// The flats of a section under a stress.
struct Flats<'a> {
    section: &'a Section,
    field: Field,
    scale: f64,
    judge: &'a Judge,
}

impl Flats<'_> {
    /// The flats in order. By EN their notional width runs to the middles of the corners (EN
    /// 1993-1-3 figure 5.1); by AISI it is the flat itself.
    fn rows(&self) -> Vec<Row> {
        let pieces = &self.section.pieces;
        let last = pieces.len().saturating_sub(1);
        let mut rows = Vec::new();
        for (i, piece) in pieces.iter().enumerate() {
            let Piece::Flat { from, to } = *piece else { continue };
            let corner = |at: Option<usize>| at.and_then(|at| pieces.get(at));
            let beyond = [corner(i.checked_sub(1)), corner(Some(i + 1))].map(|c| self.half(c));
            let along = (to - from).unit();
            let stress = |p: P| self.field.at(p) * self.scale;
            let plate = Plate {
                width: piece.length() + beyond[0] + beyond[1],
                thickness: self.section.thickness,
                stress: [stress(from - along * beyond[0]), stress(to + along * beyond[1])],
                free: [i == 0 && !self.section.held[0], i == last && !self.section.held[1]],
            };
            rows.push(Row { piece: i, plate, beyond, along });
        }
        rows
    }

    /// How far a plate's notional width reaches into a corner.
    fn half(&self, corner: Option<&Piece>) -> f64 {
        match corner {
            Some(Piece::Corner { centre, from, sweep }) if self.judge.standard == Standard::En => {
                from.distance(*centre) * units::sin_deg(sweep.abs() / 2.0)
            }
            _ => 0.0,
        }
    }

    /// The stretches of a flat whose notional width bears over a length from each end, with shares
    /// of the thickness.
    fn stretches(&self, row: &Row, [start, end]: [f64; 2], shares: [f64; 2]) -> Vec<Stretch> {
        let length = self.section.pieces[row.piece].length();
        let within = |at: f64| (at - row.beyond[0]).clamp(0.0, length);
        let far = within(row.plate.width - end);
        vec![(0.0, within(start).min(far), shares[0]), (far, length, shares[1])]
    }

    /// Treats the first flat of a row as the lip of the second.
    fn lip(&self, rows: &[Row], (turned, all_compressed): (bool, bool), next: &mut Effective) {
        let [lip, flange, web, ..] = rows else { return };
        // Seen from the web, as the rule has it.
        let (lip, flange) = (lip.turned(), flange.turned());
        if flange.plate.stress[1] <= 0.0 || !lip.plate.free[1] {
            return;
        }
        let sine = lip.along.cross(flange.along).abs();
        let share = lip.plate.width / flange.plate.width;
        if sine < units::sin_deg(45.0) || !in_range(share) {
            next.odd_lips += 1;
            if share < LEAST_LIP {
                self.unheld(&[lip, flange], turned, next);
            }
            return;
        }
        let stiffened = Stiffened {
            flange: flange.plate,
            lip: lip.plate,
            sine,
            web: web.plate.width,
            other: if all_compressed { 1.0 } else { 0.0 },
        };
        let held = stiffened.work_out(self.judge);
        self.enter(&[lip, flange], turned, &held, next);
    }

    /// A lip too short to stiffen its flange bears nothing, and the flange's edge there is free.
    fn unheld(&self, rows: &[Row; 2], turned: bool, next: &mut Effective) {
        let plate = Plate { free: [false, true], ..rows[1].plate };
        let held = Held { flange: plate.bearing(self.judge), lip: 0.0, chi: 1.0 };
        self.enter(rows, turned, &held, next);
    }

    /// Enters what bears of a stiffened flange; `rows` run from the web outwards, which is against
    /// the section's order unless `turned`.
    fn enter(&self, rows: &[Row; 2], turned: bool, held: &Held, next: &mut Effective) {
        let [lip, flange] = rows;
        let width = flange.plate.width;
        // Where all of the flange bears, the part beside the lip still carries the lip's share.
        let near = held.flange[0].min(width);
        let split = held.flange[1].min(width - near);
        let ordered = |row: &Row, ends: [f64; 2], shares: [f64; 2]| {
            let back = |[a, b]: [f64; 2]| if turned { [a, b] } else { [b, a] };
            let row = if turned { *row } else { row.turned() };
            self.stretches(&row, back(ends), back(shares))
        };
        next.stretches[flange.piece] = ordered(flange, [near, split], [1.0, held.chi]);
        next.stretches[lip.piece] = ordered(lip, [held.lip, 0.0], [held.chi, held.chi]);
        let (low, high) = (lip.piece.min(flange.piece), lip.piece.max(flange.piece));
        for corner in low + 1..high {
            next.stretches[corner].iter_mut().for_each(|stretch| stretch.2 = held.chi);
        }
        next.chi = next.chi.min(held.chi);
    }
}
