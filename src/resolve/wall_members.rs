//! What stands around a wall, as upright boxes in the wall's frame.

use crate::geom::Point3;
use crate::shelf::{Container, Member, WallName};

/// Height of the strap under a fork pocket, mm: ISO 1496-1's annex, from memory.
const POCKET_STRAP: f64 = 20.0;

/// What the boxes are measured by.
struct Frame<'c> {
    container: &'c Container,
    /// Distance between the posts' edges.
    length: f64,
    /// Width of the posts along this wall.
    post: f64,
    /// From the outer flats' outer face to that of the wall opposite.
    across: f64,
    /// Z of the bottom fittings' underside.
    ground: f64,
}

/// Posts, fittings, rails, floor, roof, and the hollows under the floor.
pub(super) fn members(container: &Container, name: WallName, length: f64) -> Vec<Member> {
    let end = name == WallName::FrontEnd;
    let (post, outside) = match end {
        true => (container.post[1], container.outside.length),
        false => (container.post[0], container.outside.width),
    };
    let across = outside - 2.0 * container.fitting.proud;
    let frame = Frame { container, length, post, across, ground: -container.floor_level };
    let mut members = frame.posts(end);
    members.extend(frame.rails(end));
    members.extend(frame.floor_and_roof());
    members.extend(frame.gooseneck(name));
    if !end {
        members.extend(frame.fork_pockets());
    }
    members
}

/// Z of the fork pockets' lower face.
pub(super) fn pocket_bottom(container: &Container) -> f64 {
    container.fitting.below_base - container.floor_level + POCKET_STRAP
}

pub(super) fn solid(name: impl Into<String>, low: [f64; 3], high: [f64; 3]) -> Member {
    let point = |[x, y, z]: [f64; 3]| Point3::new(x, y, z);
    Member { name: name.into(), hollow: false, low: point(low), high: point(high) }
}

fn hollow(name: &str, low: [f64; 3], high: [f64; 3]) -> Member {
    Member { hollow: true, ..solid(name, low, high) }
}

impl Frame<'_> {
    fn top(&self) -> f64 {
        self.ground + self.container.outside.height
    }

    /// Both posts with their fittings, which are longer than the posts are wide.
    fn posts(&self, end: bool) -> Vec<Member> {
        let fitting = self.container.fitting;
        let (along, into) =
            if end { (fitting.width, fitting.length) } else { (fitting.length, fitting.width) };
        let (bottom, top) = (self.ground, self.top());
        let heights =
            [("bottom", bottom, bottom + fitting.height), ("top", top - fitting.height, top)];
        let mut members = Vec::new();
        for (side, post, far) in [
            ("left", [-self.post, 0.0], [-self.post, along - self.post]),
            (
                "right",
                [self.length, self.length + self.post],
                [self.length + self.post - along, self.length + self.post],
            ),
        ] {
            let name = format!("{side} corner post");
            let depth = into - fitting.proud;
            members.push(solid(name, [post[0], 0.0, bottom], [post[1], depth, top]));
            for (level, low, high) in heights {
                let name = format!("{level} {side} corner fitting");
                members.push(solid(name, [far[0], -fitting.proud, low], [far[1], depth, high]));
            }
        }
        members
    }

    fn rails(&self, end: bool) -> Vec<Member> {
        let word = if end { "end" } else { "side" };
        let (top, bottom) = (self.container.top_rail, self.container.bottom_rail);
        let ceiling = self.container.inside.height;
        let base = self.ground + self.container.fitting.below_base;
        let crown = base + bottom.height;
        let x = self.length;
        let flange = base + bottom.thickness;
        vec![
            solid(
                format!("top {word} rail"),
                [0.0, 0.0, ceiling - top.height],
                [x, top.depth, ceiling],
            ),
            solid(format!("bottom {word} rail"), [0.0, 0.0, base], [x, bottom.depth, crown]),
            solid(
                format!("bottom {word} rail, lower flange"),
                [0.0, 0.0, base],
                [x, bottom.lower_depth, flange],
            ),
        ]
    }

    fn floor_and_roof(&self) -> [Member; 2] {
        let (roof, rail) = (self.container.roof, self.container.bottom_rail);
        let ceiling = self.container.inside.height;
        let crown = ceiling + roof.depth + roof.thickness;
        let plywood = self.container.floor.plywood;
        let (x, y) = (self.length, self.across);
        [
            solid("floor", [0.0, rail.depth, -plywood], [x, y - rail.depth, 0.0]),
            solid("roof", [0.0, 0.0, ceiling], [x, y, crown]),
        ]
    }

    /// The tunnel begins at the front end: at the left of the left wall, at the right of the right.
    fn gooseneck(&self, name: WallName) -> Option<Member> {
        let tunnel = self.container.gooseneck?;
        let (low, high) = (self.ground, self.ground + tunnel.height);
        let middle = |whole: f64| [(whole - tunnel.width) / 2.0, (whole + tunnel.width) / 2.0];
        let (x, y) = match name {
            WallName::Left => ([-self.post, tunnel.length - self.post], middle(self.across)),
            WallName::Right => {
                let end = self.length + self.post;
                ([end - tunnel.length, end], middle(self.across))
            }
            WallName::FrontEnd => (middle(self.length), [0.0, tunnel.length]),
            WallName::DoorEnd => return None,
        };
        Some(hollow("gooseneck tunnel", [x[0], y[0], low], [x[1], y[1], high]))
    }

    fn fork_pockets(&self) -> Vec<Member> {
        let base = pocket_bottom(self.container);
        let mut members = Vec::new();
        for pocket in &self.container.fork_pockets {
            for side in [-0.5, 0.5] {
                let x = self.length / 2.0 + side * pocket.centres;
                let (low, high) = (x - pocket.width / 2.0, x + pocket.width / 2.0);
                members.push(hollow(
                    "fork pocket",
                    [low, 0.0, base],
                    [high, self.across, base + pocket.height],
                ));
            }
        }
        members
    }
}
