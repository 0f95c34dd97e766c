//! What stands around the parts, how close they may come, and how their fasteners are set.

use crate::geom::{Point3, SiteFrame};

/// A named upright box of the container, in the site frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// In words: `top side rail`.
    pub name: String,
    /// A hollow, which stops no part: fork pockets, the gooseneck's tunnel.
    pub hollow: bool,
    /// Lower corner.
    pub low: Point3<SiteFrame>,
    /// Upper corner.
    pub high: Point3<SiteFrame>,
}

/// A named volume in the site frame that parts must not enter.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepOut {
    /// In words: `track, left`.
    pub name: String,
    /// The volume.
    pub shape: Shape,
    /// Names of the parts that may enter it, with their hand.
    pub except: Vec<String>,
}

/// The volume of a keep-out, mm.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// An upright box.
    Box {
        /// Lower corner.
        low: Point3<SiteFrame>,
        /// Upper corner.
        high: Point3<SiteFrame>,
    },
    /// A straight cylinder.
    Cylinder {
        /// The middles of its two ends.
        ends: [Point3<SiteFrame>; 2],
        /// Its radius.
        radius: f64,
    },
    /// A rectangle carried along a path that bends in one plane.
    Swept {
        /// The middle of the rectangle, from corner to corner of the path.
        path: Vec<Point3<SiteFrame>>,
        /// Radius of the path's bends, which replace its corners.
        bend_radius: f64,
        /// Unit vector along the rectangle's width, square to the path.
        across: Point3<SiteFrame>,
        /// Size along `across`, and square to both it and the path.
        size: [f64; 2],
    },
}

/// How the fasteners of a joint are set.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Setting {
    /// The side on which the tool stands.
    pub from: SetFrom,
    /// Indices of the parts that are fitted later and are not in the tool's way.
    pub before: Vec<usize>,
    /// The opening that the tool reaches through: index of a part and the purpose of its hole.
    pub through: Option<(usize, String)>,
}

/// The side of a joint from which its fasteners are set.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum SetFrom {
    /// The free side of the face that carries the pattern.
    #[default]
    From,
    /// The free side of the sheet farthest from it.
    To,
}

impl SetFrom {
    /// The word used in templates and in `kit.json`.
    pub fn word(self) -> &'static str {
        match self {
            SetFrom::From => "from",
            SetFrom::To => "to",
        }
    }
}

impl Shape {
    /// Lower and upper corner of an upright box around it; for a swept one, around the path with
    /// its corners.
    pub fn bounds(&self) -> [Point3<SiteFrame>; 2] {
        match self {
            Shape::Box { low, high } => [*low, *high],
            Shape::Cylinder { ends, radius } => {
                let axis = (ends[1] - ends[0]).unit();
                let reach = |along: f64| radius * (1.0 - along * along).max(0.0).sqrt();
                around(ends, Point3::new(reach(axis.x), reach(axis.y), reach(axis.z)))
            }
            Shape::Swept { path, across, size, .. } => {
                let mut reach = Point3::new(0.0, 0.0, 0.0);
                for two in path.windows(2) {
                    let up = (two[1] - two[0]).unit().cross(*across);
                    let (a, b) = (*across * (size[0] / 2.0), up * (size[1] / 2.0));
                    reach = Point3::new(
                        reach.x.max(a.x.abs() + b.x.abs()),
                        reach.y.max(a.y.abs() + b.y.abs()),
                        reach.z.max(a.z.abs() + b.z.abs()),
                    );
                }
                around(path, reach)
            }
        }
    }
}

/// The box around points, grown by `reach` on every side.
fn around(points: &[Point3<SiteFrame>], reach: Point3<SiteFrame>) -> [Point3<SiteFrame>; 2] {
    let fold = |pick: fn(f64, f64) -> f64, start: f64| {
        points.iter().fold(Point3::new(start, start, start), |a: Point3<SiteFrame>, p| {
            Point3::new(pick(a.x, p.x), pick(a.y, p.y), pick(a.z, p.z))
        })
    };
    [fold(f64::min, f64::INFINITY) - reach, fold(f64::max, f64::NEG_INFINITY) + reach]
}
