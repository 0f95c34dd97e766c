//! What is asked for, and the sheets that come of it.

use std::sync::Arc;

use crate::flat::Blank;
use crate::geom::{BedFrame, BlankFrame, Bounds, Map2, Point};
use crate::kit::{Material, Part};
use crate::nest::{self, Effort, Job};
use crate::note::Place;
use crate::shelf::Shelf;

/// Where a spec speaks of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Origin {
    /// Its kit's number.
    pub kit: Place,
    /// What chose its sheet.
    pub sheet: Place,
}

/// A part to be cut.
#[derive(Debug, Clone, Copy)]
pub struct Wanted<'a> {
    /// Number of its kit.
    pub kit: &'a str,
    /// The part.
    pub part: &'a Part,
    /// Its blank.
    pub blank: &'a Blank,
    /// How often it is needed, over all kits.
    pub quantity: u32,
    /// Length of what is etched on one, mm.
    pub etched: f64,
    /// Where its spec speaks of it.
    pub origin: &'a Origin,
}

/// Everything that is to be cut, and from what.
#[derive(Debug, Clone)]
pub struct Request<'a> {
    /// The parts.
    pub wanted: Vec<Wanted<'a>>,
    /// The shop's data.
    pub shelf: &'a Shelf,
    /// How hard to look.
    pub effort: Effort,
    /// Seed of the search.
    pub seed: u64,
}

/// All parts of one material and thickness, and the sheets they may be cut from.
#[derive(Debug, Clone)]
pub struct Group {
    /// The material.
    pub material: Arc<Material>,
    /// Thickness, mm.
    pub thickness: f64,
    /// How the sheet is called when bought by gauge; empty when bought by millimetres.
    pub gauge: String,
    /// Indexes of its parts in the request, in the order of the job's items.
    pub members: Vec<usize>,
    /// The stock, in the order of the job's.
    pub boards: Vec<Board>,
    /// The job.
    pub job: Job,
}

/// A sheet in the rack.
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// As lists call it.
    pub name: String,
    /// Extent along x and y of the laser, mm.
    pub size: [f64; 2],
    /// Whether it is a remnant.
    pub remnant: bool,
    /// Where nothing may lie.
    pub blocked: Vec<Bounds<BedFrame>>,
    /// What it costs, in the shop's money; none where no price is known.
    pub price: Option<f64>,
    /// Its mass, kg.
    pub mass: f64,
}

/// Sheets, and what is told of the layout as a whole.
#[derive(Debug, Clone, Default)]
pub struct Laid {
    /// The sheets in the order in which they are cut.
    pub sheets: Vec<CutSheet>,
    /// The groups with how few sheets there could be, in the order of the request.
    pub groups: Vec<(Group, nest::Bounds)>,
    /// What found no place, in the order of the request.
    pub missing: Vec<Missing>,
    /// Kits of which nothing is laid out.
    pub left_out: Vec<LeftOut>,
    /// How many faults of the rack's entries were passed over, those entries left out.
    pub rack_faults: usize,
    /// What one person lifts, kg.
    pub lift: f64,
    /// The kits, where the sheets are of several or of one several times.
    pub kits: Vec<KitRow>,
}

/// A kit of common sheets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KitRow {
    /// Its number.
    pub kit: String,
    /// Its title.
    pub title: String,
    /// Its revision.
    pub revision: String,
    /// SHA-256 of its spec's bytes, hexadecimal.
    pub spec_sha256: String,
    /// How many of it are cut.
    pub times: u32,
}

impl Laid {
    /// How many pieces of a part are cut, by its index in the request.
    pub fn count(&self, wanted: usize) -> u32 {
        let on = |sheet: &CutSheet| {
            sheet.lying.iter().filter(|own| own.wanted == wanted).count() as u32 * sheet.copies
        };
        self.sheets.iter().map(on).sum()
    }
}

/// A kit of which nothing is laid out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Its number, or the name of its spec where that does not read.
    pub kit: String,
    /// Why, in a few words.
    pub why: String,
}

/// A part that found no place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Missing {
    /// Index of the part in the request.
    pub wanted: usize,
    /// How many.
    pub quantity: u32,
    /// Why.
    pub why: Why,
}

/// Why a part is not laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// No sheet of its material and thickness stands in the rack.
    NoStock,
    /// Its blank fits no sheet of them.
    TooLarge,
    /// The sheets of them ran out.
    RunOut,
    /// It is asked for 0 times.
    NotAsked,
}

impl Why {
    /// In a few words, for lists.
    pub fn words(self) -> &'static str {
        match self {
            Why::NoStock => "no sheet of this material and thickness is in stock",
            Why::TooLarge => "larger than any sheet in stock",
            Why::RunOut => "the sheets in stock ran out",
            Why::NotAsked => "asked for 0 times",
        }
    }
}

/// One layout, cut as often as `copies` says.
#[derive(Debug, Clone)]
pub struct CutSheet {
    /// Its number, from 1 on.
    pub number: usize,
    /// Index of its group.
    pub group: usize,
    /// What it is cut from.
    pub board: Board,
    /// How often it is cut.
    pub copies: u32,
    /// What lies on it.
    pub lying: Vec<Lying>,
    /// Largest rectangle worth keeping that one straight cut across the sheet sets free.
    pub remnant: Option<Bounds<BedFrame>>,
    /// The cuts in order.
    pub cuts: Vec<CutRef>,
    /// Lengths, times, shares.
    pub figures: Figures,
    /// What the shop wants besides.
    pub extras: Extras,
}

impl CutSheet {
    /// Path of its DXF file in the kit's folder.
    pub fn file(&self) -> String {
        format!("sheets/{}", self.name())
    }

    /// Name of its DXF file.
    pub fn name(&self) -> String {
        format!("sheet-{:02}.dxf", self.number)
    }

    /// The parts on it with how often each lies there, in the order of the request.
    pub fn counts(&self) -> Vec<(usize, u32)> {
        let mut counts: Vec<(usize, u32)> = Vec::new();
        for lying in &self.lying {
            match counts.iter_mut().find(|(wanted, _)| *wanted == lying.wanted) {
                Some((_, count)) => *count += 1,
                None => counts.push((lying.wanted, 1)),
            }
        }
        counts.sort_unstable();
        counts
    }
}

/// A blank on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lying {
    /// Index of the part in the request.
    pub wanted: usize,
    /// Where the blank's origin lies, mm.
    pub at: Point<BedFrame>,
    /// Turn about that origin, degrees counter-clockwise: 0, 90, 180 or 270.
    pub turn: u16,
    /// Whether it lies face down: reflected in its own y axis before it is turned.
    pub mirrored: bool,
}

impl Lying {
    /// From the blank's frame to the sheet's: reflected where so, turned, shifted.
    pub fn map(&self) -> Map2<BlankFrame, BedFrame> {
        let (x, y) = match self.turn {
            90 => ([0.0, 1.0], [-1.0, 0.0]),
            180 => ([-1.0, 0.0], [0.0, -1.0]),
            270 => ([0.0, -1.0], [1.0, 0.0]),
            _ => ([1.0, 0.0], [0.0, 1.0]),
        };
        let sign = if self.mirrored { -1.0 } else { 1.0 };
        let x = Point::new(x[0] * sign, x[1] * sign);
        Map2::new(x, Point::new(y[0], y[1]), self.at)
    }
}

/// One cut of a sheet's order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CutRef {
    /// Index of the blank on the sheet.
    pub lying: usize,
    /// Index of the inside contour in the blank; none for the outline.
    pub hole: Option<usize>,
    /// Index of the corner, as the contour runs on the sheet, at which the laser begins; 0 for a
    /// circle.
    pub start: usize,
}

/// Lengths, times and shares of one sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Figures {
    /// Length of all cuts, mm.
    pub cut_length: f64,
    /// How often the laser pierces.
    pub pierces: usize,
    /// Way between cuts, mm.
    pub travel: f64,
    /// Pauses between neighbours, s.
    pub pauses: f64,
    /// Length of what is etched, mm.
    pub etched: f64,
    /// Time at the laser, loading and unloading included, s.
    pub seconds: f64,
    /// What the time is based on.
    pub basis: String,
    /// Area of the parts, mm2.
    pub area: f64,
}

/// A straight line on the sheet.
pub type Segment = [Point<BedFrame>; 2];

/// Lines of the layers that a shop may ask for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Extras {
    /// From the pierce in the waste to the contour, in the order of the cuts; none where the waste
    /// has no room for it.
    pub lead_ins: Vec<Option<Segment>>,
    /// Across the outline where it stays whole.
    pub tabs: Vec<Segment>,
    /// Cuts through what is left of the sheet.
    pub skeleton: Vec<Segment>,
}
