//! Shipping containers: sizes, posts, rails, floor, and how their walls are laid out.
//!
//! Frame of a wall: X along the wall from the left corner post's edge at the wall, to the right as
//! seen from outside; Y into the container from the outer flats' outer face; Z up from the finished
//! floor. Millimetres.

use crate::geom::Point3;
use crate::geom::WallFrame;

/// Length, width, height, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Along the container.
    pub length: f64,
    /// Across.
    pub width: f64,
    /// Upward.
    pub height: f64,
}

/// A container type.
#[derive(Debug, Clone, PartialEq)]
pub struct Container {
    /// Key in the data file: `40ft-high-cube`.
    pub id: String,
    /// For people.
    pub title: String,
    /// Outside sizes: the most the standard allows.
    pub outside: Size,
    /// How much shorter, narrower and lower it may be.
    pub minus: Size,
    /// Inside sizes.
    pub inside: Size,
    /// Corner fittings.
    pub fitting: Fitting,
    /// Finished floor above the underside of the corner fittings, mm.
    pub floor_level: f64,
    /// Floor.
    pub floor: Floor,
    /// Width of the corner posts along the side wall and along the end wall, mm.
    pub post: [f64; 2],
    /// Thickness of the posts' steel, mm.
    pub post_thickness: f64,
    /// Top rail, side and end alike.
    pub top_rail: Rail,
    /// Bottom rail.
    pub bottom_rail: Rail,
    /// Roof.
    pub roof: Roof,
    /// Side walls.
    pub side: WallPlan,
    /// End wall opposite the doors.
    pub end: WallPlan,
    /// Tunnel under the floor at the front end, where there is one.
    pub gooseneck: Option<Gooseneck>,
    /// Fork pockets.
    pub fork_pockets: Vec<ForkPocket>,
    /// Clear width and height of the container's own doorway, mm.
    pub doorway: [f64; 2],
    /// Where the values come from, and which are estimates.
    pub source: String,
}

/// Corner fitting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fitting {
    /// Along the container, mm.
    pub length: f64,
    /// Across, mm.
    pub width: f64,
    /// Upward, mm.
    pub height: f64,
    /// How far it stands out beyond the walls' outer flats, mm.
    pub proud: f64,
    /// How far the top fittings stand above the roof's highest point, mm.
    pub above_roof: f64,
    /// How far the base stands above the bottom fittings' underside, mm.
    pub below_base: f64,
}

/// Floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Floor {
    /// Plywood, mm.
    pub plywood: f64,
    /// Depth of the cross members under it, mm.
    pub cross_member: f64,
}

/// A rail of the frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rail {
    /// Upward, mm.
    pub height: f64,
    /// Into the container, mm.
    pub depth: f64,
    /// Wall of the profile, mm.
    pub thickness: f64,
    /// Depth of its lower flange into the container, mm; equal to `depth` for a closed tube.
    pub lower_depth: f64,
}

/// Roof sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roof {
    /// Depth of its corrugation, mm.
    pub depth: f64,
    /// Pitch of its corrugation, mm.
    pub pitch: f64,
    /// Sheet thickness, mm.
    pub thickness: f64,
}

/// A trapezoidal corrugation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corrugation {
    /// Width of the outer flat, mm.
    pub outer_flat: f64,
    /// Horizontal run of the slope, mm.
    pub slope: f64,
    /// Width of the inner flat, mm.
    pub inner_flat: f64,
    /// From the outer flats' outer face to the inner flats' outer face, mm.
    pub depth: f64,
    /// Sheet thickness in the middle of the wall, mm.
    pub thickness: f64,
}

impl Corrugation {
    /// The pitch its flats and slopes add up to, mm.
    pub fn pitch(&self) -> f64 {
        self.outer_flat + self.inner_flat + 2.0 * self.slope
    }
}

/// A run of outer flats with one pitch, from left to right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelRun {
    /// How many outer flats.
    pub flats: usize,
    /// Distance from each flat's centre to the next one's, and from the last one's to the first of
    /// the next run, mm.
    pub pitch: f64,
    /// Sheet thickness, mm.
    pub thickness: f64,
}

/// How a wall is laid out between its posts.
#[derive(Debug, Clone, PartialEq)]
pub struct WallPlan {
    /// The corrugation.
    pub corrugation: Corrugation,
    /// Centre of the first outer flat from the left post's edge, mm.
    pub first: f64,
    /// Panels from left to right.
    pub panels: Vec<PanelRun>,
    /// Where it comes from.
    pub source: String,
}

impl WallPlan {
    /// Centres of all outer flats from the left post's edge, ascending, mm.
    pub fn centres(&self) -> Vec<f64> {
        let pitches = self.panels.iter().flat_map(|p| std::iter::repeat_n(p.pitch, p.flats));
        let mut next = self.first;
        let place = |pitch: f64| {
            let here = next;
            next += pitch;
            here
        };
        pitches.map(place).collect()
    }

    /// Seams between panels, in the middle of the inner flat between two outer flats, mm.
    pub fn seams(&self) -> Vec<f64> {
        let centres = self.centres();
        let mut last = 0;
        let ends = self.panels.iter().map(|panel| {
            last += panel.flats;
            last
        });
        let between = |end: usize| Some((centres.get(end - 1)? + centres.get(end)?) / 2.0);
        ends.filter_map(between).collect()
    }
}

impl Container {
    /// Length of a side wall between the posts, mm.
    pub fn side_length(&self) -> f64 {
        self.outside.length - 2.0 * self.post[0]
    }

    /// Length of the end wall between the posts, mm.
    pub fn end_length(&self) -> f64 {
        self.outside.width - 2.0 * self.post[1]
    }
}

/// Tunnel for a trailer's gooseneck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gooseneck {
    /// From the front end's outer face, mm.
    pub length: f64,
    /// Across, mm.
    pub width: f64,
    /// Above the underside of the bottom fittings, mm.
    pub height: f64,
}

/// A pair of fork pockets through the base.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForkPocket {
    /// Distance between the two pockets' centres, mm.
    pub centres: f64,
    /// Along the container, mm.
    pub width: f64,
    /// Upward, mm.
    pub height: f64,
}

/// A wall by name. Left and right are those of someone outside who faces the doors.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WallName {
    /// Left side wall.
    Left,
    /// Right side wall.
    Right,
    /// End wall opposite the doors.
    FrontEnd,
    /// The doors.
    DoorEnd,
}

impl WallName {
    /// The wall called so in a spec.
    pub fn from_word(word: &str) -> Option<Self> {
        let all = [WallName::Left, WallName::Right, WallName::FrontEnd, WallName::DoorEnd];
        all.into_iter().find(|name| name.word() == word)
    }

    /// What it is called in a spec.
    pub fn word(self) -> &'static str {
        match self {
            WallName::Left => "left",
            WallName::Right => "right",
            WallName::FrontEnd => "front-end",
            WallName::DoorEnd => "door-end",
        }
    }
}

/// Something of the container as an upright box in the wall's frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// In words: `top side rail`.
    pub name: String,
    /// Whether it is a hollow in the base and not something that stands in the way.
    pub hollow: bool,
    /// Lower corner.
    pub low: Point3<WallFrame>,
    /// Upper corner.
    pub high: Point3<WallFrame>,
}
