//! What is laid out, on what, and the result.

/// A closed ring without its repeated first corner, hundredths of a millimetre.
pub type Ring = Vec<[i64; 2]>;

/// A blank as it is laid out: never smaller than the true blank, its holes never larger.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Shape {
    /// Outline, counter-clockwise, in the blank's own frame.
    pub outer: Ring,
    /// Openings that may hold other parts, clockwise.
    pub holes: Vec<Ring>,
}

/// How a blank may be turned about its origin, counter-clockwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turns {
    /// Not at all.
    None,
    /// By 0 or 180 degrees: along the grain.
    Half,
    /// By 0, 90, 180 or 270 degrees.
    Quarter,
}

/// One kind of part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// What findings call it.
    pub name: String,
    /// Its blank.
    pub shape: Shape,
    /// How many are needed; not 0.
    pub quantity: u32,
    /// Turns allowed.
    pub turns: Turns,
    /// Whether it may lie face down: reflected in its own y axis before it is turned.
    pub mirror: bool,
}

/// A rectangle with its sides along the sheet's, hundredths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rect {
    /// Lower left corner.
    pub low: [i64; 2],
    /// Upper right corner.
    pub high: [i64; 2],
}

/// A size of sheet in stock. Its lower left corner is the origin; x runs along `size[0]`, and so
/// does the grain.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// What lists call it.
    pub name: String,
    /// Extent along x and y.
    pub size: [i64; 2],
    /// How many there are; none for as many as are needed.
    pub count: Option<u32>,
    /// What one costs, in the shop's money; area serves where no price is known.
    pub cost: f64,
    /// Whether it is a remnant: used before whole sheets.
    pub remnant: bool,
    /// Where nothing may lie: clamps, damage.
    pub blocked: Vec<Rect>,
}

/// How hard to look, in counted steps: never by the clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Effort {
    /// About a second for one kit.
    Quick,
    /// Some seconds.
    Normal,
    /// About a minute.
    Long,
}

/// Everything of one material and thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// The parts.
    pub items: Vec<Item>,
    /// The sheets.
    pub stock: Vec<Stock>,
    /// Least distance between two parts, and between a part and a blocked place.
    pub gap: i64,
    /// Least distance from a part to the sheet's edge.
    pub margin: i64,
    /// Least side of a rectangle of sheet that is worth keeping.
    pub least_remnant: i64,
    /// How hard to look.
    pub effort: Effort,
    /// Seed of everything that is drawn at random.
    pub seed: u64,
}

/// A part on a sheet: reflected in its own y axis where `mirrored`, then turned about its own
/// origin, then shifted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Placed {
    /// Index of its item.
    pub item: usize,
    /// Shift along x and y.
    pub at: [i64; 2],
    /// Turn, degrees counter-clockwise: 0, 90, 180 or 270.
    pub turn: u16,
    /// Whether it lies face down.
    pub mirrored: bool,
}

/// One sheet's layout, cut as often as `copies` says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layout {
    /// Index of its stock.
    pub stock: usize,
    /// How often it is cut.
    pub copies: u32,
    /// What lies on it.
    pub placed: Vec<Placed>,
    /// Largest rectangle worth keeping that one straight cut across the whole sheet sets free,
    /// one gap away from every part.
    pub remnant: Option<Rect>,
}

/// Parts that are on no sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Left {
    /// Index of the item.
    pub item: usize,
    /// How many.
    pub quantity: u32,
    /// Whether it fits no sheet in stock at all; otherwise the stock ran out.
    pub too_large: bool,
}

/// How few sheets there could be. The first two hold for every layout there is; 0 where an
/// argument says nothing.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Bounds {
    /// Area of the parts, each grown by half the gap, over that of a sheet, grown likewise.
    pub area: f64,
    /// Long strips that must all cross the sheet's middle lines.
    pub strips: f64,
    /// What the linear program over the layouts found comes to. It bounds what these layouts can
    /// do, not what others could: with layouts nobody found it might be less.
    pub program: f64,
    /// What the sheets must cost at least, by the better of the first two arguments.
    pub cost: f64,
}

impl Bounds {
    /// The number of sheets that no layout can do without.
    pub fn sheets(&self) -> u32 {
        (self.area.max(self.strips) - 1e-9).ceil().max(0.0) as u32
    }
}

/// What is wrong with a job. The rest of it is laid out all the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fault {
    /// The item, by its index, is asked for 0 times.
    Quantity(usize),
    /// The item's outline encloses no area.
    Outline(usize),
    /// The stock, by its index, has a side that is not longer than both margins.
    Size(usize),
    /// The stock's cost is below 0 or no number.
    Cost(usize),
    /// The gap or the margin is below 0.
    Distance,
    /// There is no stock at all.
    NoStock,
}

/// What came of a job.
#[derive(Debug, Clone, PartialEq)]
pub struct Nest {
    /// Sheets, in the order in which they are cut.
    pub layouts: Vec<Layout>,
    /// What found no place.
    pub left: Vec<Left>,
    /// How few sheets there could be at best.
    pub bounds: Bounds,
    /// What was wrong with the job.
    pub faults: Vec<Fault>,
}
