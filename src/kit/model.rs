//! The kit as a whole: what is made, how it is joined, and what it is built into.

use super::around::{KeepOut, Member, Setting};
use super::{Amended, Lengths, Neighbour, OnSite, Part};
use crate::geom::{Point3, SiteFrame};
use crate::template::Value;

/// Everything that was worked out from one spec.
#[derive(Debug, Clone, PartialEq)]
pub struct Kit {
    /// Kit number as in the spec: `SKB-0914`.
    pub number: String,
    /// Title for people.
    pub title: String,
    /// Revision letter or number.
    pub revision: String,
    /// Date of issue as the spec gives it (ISO 8601).
    pub date: String,
    /// Who drew it.
    pub drawn_by: String,
    /// Who approved it; empty until someone has.
    pub approved_by: String,
    /// The legal owner, for the title block.
    pub owner: String,
    /// Where it is built in.
    pub site: String,
    /// Whether drawings read in inches.
    pub inches: bool,
    /// Template name and title.
    pub template: (String, String),
    /// SHA-256 of the spec's bytes, hexadecimal.
    pub spec_sha256: String,
    /// Every resolved and derived value in order of definition.
    pub values: Vec<(String, Value)>,
    /// The container it is for.
    pub container: Container,
    /// The parts in the order of their numbers.
    pub parts: Vec<Part>,
    /// The joints.
    pub joints: Vec<Joint>,
    /// Fasteners with counts.
    pub fasteners: Vec<Fastener>,
    /// Volumes that must stay free.
    pub keep_outs: Vec<KeepOut>,
    /// Profiles cut from bars.
    pub lengths: Vec<Lengths>,
    /// Other kits in the same box.
    pub neighbours: Vec<Neighbour>,
    /// General notes for the drawing set.
    pub notes: Vec<String>,
    /// Safety cautions.
    pub cautions: Vec<String>,
    /// How the kit is built in, in order.
    pub steps: Vec<Step>,
    /// Foam and sizes on site.
    pub on_site: OnSite,
    /// The revisions so far, oldest first.
    pub revisions: Vec<Revision>,
    /// The revision that this one follows, where it was compared with it.
    pub previous: Option<Previous>,
    /// What amendments did, in the order of the spec.
    pub amended: Vec<Amended>,
    /// General tolerance as printed: `ISO 2768-m`.
    pub tolerance: String,
    /// Whether its parts serve kits of a catalogue, each of which has a quantity of its own.
    pub shared: bool,
}

impl Kit {
    /// Every standing part: its index, and the index of its place.
    pub fn instances(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        let parts = self.parts.iter().enumerate();
        parts.flat_map(|(part, it)| (0..it.places.len()).map(move |place| (part, place)))
    }

    /// A part's number without the kit's: `01L`.
    pub fn short<'a>(&self, number: &'a str) -> &'a str {
        let own = number.strip_prefix(&self.number).and_then(|n| n.strip_prefix('-'));
        own.unwrap_or(number)
    }
}

/// One step of the work on site.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Step {
    /// What is done, in a few words.
    pub title: String,
    /// How.
    pub text: String,
    /// Numbers of the parts it needs.
    pub parts: Vec<String>,
    /// What can hurt someone.
    pub cautions: Vec<String>,
    /// Numbers of parts that stand already and are worked on.
    pub on: Vec<String>,
    /// Names, without hand, of the joints that are set in it though their parts stand sooner.
    pub joints: Vec<String>,
    /// Lower and upper corners of boxes that its picture shows besides parts, in the site frame.
    pub shows: Vec<[Point3<SiteFrame>; 2]>,
    /// How far the far one of two boxes stands from its place along X, mm.
    pub apart: f64,
}

/// A revision that another one follows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Previous {
    /// Letter or number.
    pub revision: String,
    /// SHA-256 of the bytes of its `kit.json`, hexadecimal.
    pub sha256: String,
}

/// One line of the revision table.
#[derive(Debug, Clone, PartialEq)]
pub struct Revision {
    /// Letter or number.
    pub index: String,
    /// ISO 8601 date.
    pub date: String,
    /// What changed.
    pub text: String,
}

/// The container as the kit sees it, in the site frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Container {
    /// Key in the data file.
    pub id: String,
    /// For people.
    pub title: String,
    /// The wall that is cut; none where no wall is.
    pub wall: Option<Wall>,
    /// Rails, posts, floor and roof as upright boxes in the site frame, for the pictures and
    /// checks.
    pub members: Vec<Member>,
}

/// A corrugated wall in the site frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// Corrugation pitch, mm.
    pub pitch: f64,
    /// Width of the outer flat.
    pub outer_flat: f64,
    /// Horizontal run of the slope.
    pub slope: f64,
    /// Width of the inner flat.
    pub inner_flat: f64,
    /// From the outer flats' outer face to the inner flats' outer face.
    pub depth: f64,
    /// Sheet thickness.
    pub thickness: f64,
    /// X of every outer flat's centre, ascending.
    pub outer_flat_centres: Vec<f64>,
    /// X of the wall's two ends, where it meets the corner posts.
    pub ends: [f64; 2],
    /// Z of the wall's lower and upper edge, where it meets the rails.
    pub edges: [f64; 2],
    /// X of the two vertical cuts; none where the wall is not cut.
    pub cuts: Option<[f64; 2]>,
    /// Z of the lower and upper cut.
    pub cut_heights: Option<[f64; 2]>,
}

/// Something that clamps parts together, declared once.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// `j1`, `j2`, ...
    pub id: String,
    /// In words: `header to side frame, left`.
    pub name: String,
    /// Key of the fastener.
    pub fastener: String,
    /// Thickness it clamps, gaps included, mm.
    pub grip: f64,
    /// Distance the joined faces are meant to stand apart, mm.
    pub gap: f64,
    /// Each fastener's holes.
    pub pairs: Vec<Vec<JointMember>>,
    /// How its fasteners are set.
    pub setting: Setting,
}

/// One hole of a joint's pair, or the container.
#[derive(Debug, Clone, PartialEq)]
pub enum JointMember {
    /// Part index, place index, hole id.
    Hole {
        /// Index into the kit's parts.
        part: usize,
        /// Index into the part's places.
        place: usize,
        /// The hole's id in that part.
        hole: String,
    },
    /// The container: `floor`, `rail` or `wall`.
    Into(String),
}

/// A fastener of the kit with its count.
#[derive(Debug, Clone, PartialEq)]
pub struct Fastener {
    /// Key in the data file: `rivet-4.8`.
    pub id: String,
    /// As it is ordered and printed.
    pub title: String,
    /// How many the kit needs.
    pub count: usize,
    /// How many more are packed.
    pub spare: usize,
    /// Clearance hole, mm.
    pub hole: f64,
    /// Nominal diameter, mm.
    pub diameter: f64,
    /// Least and greatest thickness it clamps, mm.
    pub grip: [f64; 2],
    /// Hole's centre to the sheet's edge, in diameters.
    pub edge: f64,
    /// Where hole, grip and edge come from.
    pub source: String,
}
