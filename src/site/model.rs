//! What is known of the opening on site.

use crate::kit::Step;

/// A kit's work on site.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// The wall in words: `left`, `right`, `front-end`; none between two containers.
    pub wall: Option<&'static str>,
    /// Spread of the survey that the wall was laid out by, mm; none for the book's layout.
    pub survey: Option<f64>,
    /// What is cut; none where the kit cuts no wall.
    pub cut: Option<Cut>,
    /// Each joint as it is set on site.
    pub settings: Vec<Setting>,
    /// The order of work, the cutting first.
    pub steps: Vec<Step>,
    /// Ids of the joints that each step sets.
    pub step_joints: Vec<Vec<String>>,
    /// The foam that the kit takes; none where it has none.
    pub foam: Option<Foaming>,
    /// What to bring.
    pub tools: Vec<Tool>,
}

/// How much foam the kit takes, in the order of the kit's places.
#[derive(Debug, Clone, PartialEq)]
pub struct Foaming {
    /// What each place holds, litres.
    pub litres: Vec<f64>,
    /// In how many lifts each is sprayed.
    pub lifts: Vec<usize>,
    /// All places together, litres.
    pub net: f64,
    /// With what is wasted, litres.
    pub gross: f64,
}

/// A tool, or something used up.
#[derive(Debug, Clone, PartialEq)]
pub struct Tool {
    /// What it is.
    pub what: String,
    /// Diameter of a drill, mm.
    pub drill: Option<f64>,
    /// How much is needed; none where one of it, or one for each fitter, does.
    pub amount: Option<Amount>,
    /// What it is for.
    pub why: String,
}

/// A quantity to bring, allowance and rounding included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// How much.
    pub value: f64,
    /// Of what: `pieces`, `m`, `m2`, `l`, `cartridges`, `cans`.
    pub unit: &'static str,
}

/// What a step of the work is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Task {
    /// The box is looked over.
    Measure,
    /// The cut lines are set off.
    Mark,
    /// Wall and panel are held.
    Support,
    /// The wall is cut but for its tabs.
    Saw,
    /// The panel comes out.
    TakeOut,
    /// The edges are dressed.
    Dress,
    /// Parts of the kit are fitted, or what the family says.
    Fit,
}

/// The opening cut in the wall.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// Where the lines are.
    pub lines: Lines,
    /// The left and the right lip on their flats; none where the family has no lip.
    pub lips: Option<[Lip; 2]>,
    /// What comes out.
    pub panel: Panel,
    /// What holds it until then.
    pub holding: Holding,
    /// The sheets the panel is made of, from left to right.
    pub sheets: Vec<SheetRun>,
    /// X of the wall's vertical seams.
    pub seams: Vec<f64>,
    /// Distances to what stands near.
    pub near: Vec<Near>,
    /// Fork pockets under the opening.
    pub pockets: Vec<Pocket>,
    /// What the wall loses.
    pub removed: Removed,
}

/// The cut lines, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lines {
    /// X of the left and of the right line.
    pub x: [f64; 2],
    /// Z of the lower and of the upper line, from the finished floor.
    pub z: [f64; 2],
    /// From the left post's edge to the left and to the right line; the same along the bottom and
    /// along the top rail.
    pub from_left: [f64; 2],
    /// From the right post's edge to the left and to the right line.
    pub from_right: [f64; 2],
    /// From the bottom rail's upper edge up to the lower and to the upper line.
    pub above_rail: [f64; 2],
    /// From the top rail's lower edge down to the lower and to the upper line.
    pub below_rail: [f64; 2],
    /// Between the upright lines.
    pub width: f64,
    /// Between the level lines.
    pub height: f64,
    /// From corner to corner: both diagonals are this when the lines are square.
    pub diagonal: f64,
    /// How far a saw on the outer flats must reach through the corrugation.
    pub reach: f64,
}

/// A frame's lip on its outer flat, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lip {
    /// Number of the flat from the left and from the right post, the first is 1.
    pub flat: [usize; 2],
    /// X of the flat's left and right edge.
    pub edges: [f64; 2],
    /// X of the cut.
    pub cut: f64,
    /// How far the lip reaches over the flat from the cut.
    pub reach: f64,
    /// Flat that stays free beyond the lip.
    pub beyond: f64,
    /// Flat that is cut away, on the opening's side of the cut.
    pub lost: f64,
}

/// The piece of wall that comes out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panel {
    /// Length of the corrugated sheet along its middle line, flattened, mm.
    pub developed: f64,
    /// Developed length by height, m2.
    pub area: f64,
    /// Bare sheet, kg.
    pub steel_kg: f64,
    /// With paint on both sides, kg.
    pub mass_kg: f64,
    /// Centre of mass: X, Y, Z.
    pub centre: [f64; 3],
    /// Width, depth, height of the box around it, mm.
    pub size: [f64; 3],
    /// How it is carried.
    pub carried: Carried,
    /// Upright strips of one width that two people can carry, when it is cut down: how many.
    pub strips: usize,
}

/// A stretch of the panel between two seams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetRun {
    /// X of its two ends.
    pub x: [f64; 2],
    /// Thickness of the sheet, mm.
    pub thickness: f64,
}

/// Who carries the panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Carried {
    /// One person could; two steady it.
    TwoEasily,
    /// Two people.
    Two,
    /// A hoist or fork lift.
    Lift,
}

/// One side of the opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The lower cut.
    Lower,
    /// The left cut as seen from outside.
    Left,
    /// The right cut.
    Right,
    /// The upper cut.
    Upper,
}

/// A bridge of sheet left standing in a cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tab {
    /// The cut it stands in.
    pub edge: Edge,
    /// Its middle.
    pub x: f64,
    /// Its middle.
    pub z: f64,
    /// Thickness of the sheet there, mm.
    pub thickness: f64,
}

/// What holds the panel while it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Holding {
    /// The tabs in the order in which they are cut.
    pub tabs: Vec<Tab>,
    /// Width of each, mm.
    pub width: f64,
    /// How many times the last two tabs, in tension, carry the panel; and the limit.
    pub hanging: [f64; 2],
    /// How many times all tabs, in shear, carry panel and wind; and the limit.
    pub standing: [f64; 2],
    /// The cuts in order.
    pub cuts: [Edge; 4],
}

/// What a distance is measured to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NearKind {
    /// A corner post.
    Post,
    /// A corner fitting.
    Fitting,
    /// A vertical seam.
    Seam,
    /// A rail.
    Rail,
    /// The gooseneck tunnel.
    Gooseneck,
    /// A fork pocket.
    Pocket,
}

/// A distance from the opening to something of the container.
#[derive(Debug, Clone, PartialEq)]
pub struct Near {
    /// What kind of thing.
    pub kind: NearKind,
    /// In words.
    pub name: String,
    /// The side of the opening that is nearest.
    pub edge: Edge,
    /// Positive: clear of it by this. Negative: the opening stands over it by this, along the wall.
    /// A seam inside the opening is clear of the cut too.
    pub clear: f64,
    /// Whether it lies inside the opening's width.
    pub inside: bool,
}

/// A fork pocket that reaches under the opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pocket {
    /// X of its two sides.
    pub x: [f64; 2],
    /// Z of its lower and upper edge.
    pub z: [f64; 2],
    /// From the nearest fastener into the bottom rail to the pocket's edge, mm; 0 inside it.
    pub fastener: Option<f64>,
}

/// What the wall loses.
#[derive(Debug, Clone, PartialEq)]
pub struct Removed {
    /// Outer flats taken out, whole or in part.
    pub flats: usize,
    /// Outer flats of the whole wall.
    pub of: usize,
    /// Share of the wall's length between the posts.
    pub share: f64,
    /// Wall left between the upper cut and the top rail, mm; negative where the rail is cut.
    pub above: f64,
    /// Wall left between the lower cut and the bottom rail, mm; negative where the rail is cut.
    pub below: f64,
    /// In sentences, the numbers in the kit's units.
    pub words: Vec<String>,
}

/// One joint as it is set on site.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// The joint's id.
    pub joint: String,
    /// The joint in words.
    pub name: String,
    /// Key of the fastener.
    pub fastener: String,
    /// How many.
    pub count: usize,
    /// The part of the container it goes into.
    pub into: Option<String>,
    /// Length of its body, mm: the shortest that clamps; none where it comes in one length.
    pub length: Option<f64>,
    /// Drilled on site, mm; none where all holes come cut or the fastener drills its own.
    pub drill: Option<f64>,
    /// Whether the fastener drills its own hole.
    pub drills_itself: bool,
    /// From where it is set.
    pub from: From,
    /// The opening that its tool reaches through, in words.
    pub through: Option<String>,
}

/// The side from which a fastener is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum From {
    /// From outside the container.
    Outside,
    /// From inside.
    Inside,
    /// From the opening, or from the gap between two containers, outward along it.
    Opening,
    /// From beside the opening or the gap, toward its middle.
    Beside,
    /// Downward.
    Above,
    /// Upward.
    Below,
}

impl Site {
    /// What a step of the order of work is about.
    pub fn task(&self, step: usize) -> Task {
        let cutting = self.cut.as_ref().and_then(|_| CUTTING.get(step));
        cutting.copied().unwrap_or(Task::Fit)
    }
}

/// The steps of the cutting, in order.
const CUTTING: [Task; 6] =
    [Task::Measure, Task::Mark, Task::Support, Task::Saw, Task::TakeOut, Task::Dress];

impl Edge {
    /// The word used on paper and in `kit.json`.
    pub fn word(self) -> &'static str {
        match self {
            Edge::Lower => "lower",
            Edge::Left => "left",
            Edge::Right => "right",
            Edge::Upper => "upper",
        }
    }
}

impl Carried {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Carried::TwoEasily => "two people (one can lift it, one steadies)",
            Carried::Two => "two people",
            Carried::Lift => "a lift",
        }
    }
}

impl NearKind {
    /// The word used in `kit.json`.
    pub fn word(self) -> &'static str {
        match self {
            NearKind::Post => "post",
            NearKind::Fitting => "fitting",
            NearKind::Seam => "seam",
            NearKind::Rail => "rail",
            NearKind::Gooseneck => "gooseneck",
            NearKind::Pocket => "pocket",
        }
    }
}

impl From {
    /// The word used on paper and in `kit.json`.
    pub fn word(self) -> &'static str {
        match self {
            From::Outside => "outside",
            From::Inside => "inside",
            From::Opening => "opening",
            From::Beside => "beside",
            From::Above => "above",
            From::Below => "below",
        }
    }
}
