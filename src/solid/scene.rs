//! Everything that takes up room on site, piece by piece, and which pieces share some.

use std::collections::BTreeMap;

use super::TOUCH;
use super::convex::{Bounds3, Convex, Spot};
use super::hollow::remains;
use super::overlap::{Shared, shared};
use super::piece::{PieceOf, Standing};
use super::reach::grid;
use super::surround;
use crate::fold::FoldedPart;
use crate::geom::Point3;
use crate::kit::{Kit, Member};

/// How far before the mouth of a hollow nothing may stand, mm: a fork's tine comes from there.
/// Common practice, no source; any part that covers a mouth stands nearer.
const MOUTH: f64 = 150.0;

/// What a piece belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Owner {
    /// A part by its index, and the index of its place.
    Part {
        /// Index into the kit's parts.
        part: usize,
        /// Index into the part's places.
        place: usize,
    },
    /// The container's wall.
    Wall,
    /// A member of the container by its index.
    Member(usize),
    /// The room before the mouth of a hollow member by its index: what enters the hollow comes
    /// this way.
    Mouth(usize),
    /// A keep-out by its index.
    KeepOut(usize),
}

/// One piece: a face, a bend, or a whole thing that is no part.
#[derive(Debug, Clone)]
struct Piece {
    owner: Owner,
    of: Option<PieceOf>,
    bounds: Bounds3,
    rough: Vec<Convex>,
}

/// One side of a clash.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Side {
    /// What it belongs to.
    pub owner: Owner,
    /// Which piece of a part.
    pub of: Option<PieceOf>,
}

/// Two things that share space, where they do so deepest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clash {
    /// The two, in order.
    pub sides: [Side; 2],
    /// How deep, and where.
    pub shared: Shared,
}

impl Clash {
    /// The deeper of two; the first where they are as deep.
    fn deeper(self, other: Self) -> Self {
        if self.shared.depth < other.shared.depth { other } else { self }
    }
}

/// The pieces of a kit and of what stands around it.
#[derive(Debug)]
pub struct Scene<'a> {
    kit: &'a Kit,
    folded: &'a [FoldedPart],
    pieces: Vec<Piece>,
}

impl<'a> Scene<'a> {
    /// All pieces: parts in all their places, the container with the mouths of its hollows in the
    /// plane of its outer flats, keep-outs.
    /// `folded` stands in the order of the kit's parts.
    pub fn of(kit: &'a Kit, folded: &'a [FoldedPart]) -> Self {
        let mut scene = Self { kit, folded, pieces: Vec::new() };
        for (part, place) in kit.instances() {
            for (of, rough) in scene.standing(part, place).rough() {
                scene.add(Owner::Part { part, place }, Some(of), rough);
            }
        }
        if let Some(wall) = &kit.container.wall {
            for solid in surround::wall(wall) {
                scene.add(Owner::Wall, None, vec![solid]);
            }
        }
        for (i, member) in kit.container.members.iter().enumerate() {
            if member.hollow {
                scene.add(Owner::Mouth(i), None, mouth(member).into_iter().collect());
                continue;
            }
            let boxes = remains(member, &kit.container.members);
            let solids = boxes.iter().filter_map(|[low, high]| Convex::upright(*low, *high));
            scene.add(Owner::Member(i), None, solids.collect());
        }
        for (i, keep_out) in kit.keep_outs.iter().enumerate() {
            scene.add(Owner::KeepOut(i), None, surround::volume(&keep_out.shape));
        }
        scene.pieces.sort_by(|a, b| a.bounds.low.x.total_cmp(&b.bounds.low.x));
        scene
    }

    /// The kit.
    pub(super) fn kit(&self) -> &'a Kit {
        self.kit
    }

    /// Its parts folded.
    pub(super) fn folded(&self) -> &'a [FoldedPart] {
        self.folded
    }

    /// Part against part, and each part's own pieces against each other, deeper than `limit` mm:
    /// the deepest place of each two.
    pub fn clashes(&self, limit: f64) -> Vec<Clash> {
        self.all(limit, |a, b| match (a.owner, b.owner) {
            (Owner::Part { part, place }, Owner::Part { part: other, place: there }) => {
                (part, place) != (other, there) || (place == 0 && a.of != b.of)
            }
            _ => false,
        })
    }

    /// Parts against the container and against keep-outs, deeper than `limit` mm: the deepest
    /// place of each two.
    pub fn intrusions(&self, limit: f64) -> Vec<Clash> {
        self.all(limit, |a, b| match (a.owner, b.owner) {
            (Owner::Part { part, .. }, other) | (other, Owner::Part { part, .. }) => match other {
                Owner::Part { .. } => false,
                Owner::KeepOut(i) => {
                    let except = &self.kit.keep_outs[i].except;
                    !except.contains(&self.kit.parts[part].name)
                }
                Owner::Wall | Owner::Member(_) | Owner::Mouth(_) => true,
            },
            _ => false,
        })
    }

    /// Keep-out against keep-out, deeper than `limit` mm: within one kit that is not wrong.
    pub fn shared_room(&self, limit: f64) -> Vec<Clash> {
        let room = |piece: &Piece| matches!(piece.owner, Owner::KeepOut(_));
        self.all(limit, |a, b| room(a) && room(b))
    }

    /// The piece that a solid stands deepest in, deeper than `limit` mm, among those that count.
    pub(super) fn deepest(
        &self,
        solid: &Convex,
        limit: f64,
        counts: impl Fn(Owner) -> bool,
    ) -> Option<(Side, Shared)> {
        let mut worst: Option<(Side, Shared)> = None;
        for piece in &self.pieces {
            if solid.bounds.high.x < piece.bounds.low.x {
                break;
            }
            if !piece.bounds.deeper(&solid.bounds, limit) || !counts(piece.owner) {
                continue;
            }
            let Some(found) = self.within(piece, solid, limit) else { continue };
            if worst.is_none_or(|(_, other)| other.depth < found.depth) {
                worst = Some((Side { owner: piece.owner, of: piece.of }, found));
            }
        }
        worst
    }

    /// Whether a straight line passes through a piece that counts over more than twice the limit of
    /// touching: a quick answer for a rod about that line.
    pub(super) fn pierced(&self, line: [Spot; 2], counts: impl Fn(Owner) -> bool) -> bool {
        let bounds = Bounds3::around(&line);
        let touches = |piece: &&Piece| piece.bounds.deeper(&bounds, -TOUCH) && counts(piece.owner);
        let through = |solids: &[Convex]| solids.iter().any(|s| s.holds(line) > 2.0 * TOUCH);
        self.pieces
            .iter()
            .take_while(|piece| piece.bounds.low.x <= bounds.high.x)
            .filter(touches)
            .any(|piece| through(&piece.rough) && through(&self.fine(piece, &bounds)))
    }

    /// Points over the openings with a purpose in all places of a part, in the middle of the sheet,
    /// each with the sheet's normal.
    pub(super) fn openings(&self, part: usize, purpose: &str) -> Vec<(Spot, Spot)> {
        let it = &self.kit.parts[part];
        let mut points = Vec::new();
        for (place, face) in
            (0..it.places.len()).flat_map(|p| (0..it.faces.len()).map(move |f| (p, f)))
        {
            let pose = self.standing(part, place).pose(face);
            let holes = it.faces[face].holes.iter().filter(|hole| hole.purpose == purpose);
            let middle = |p| (pose.lifted(p, it.thickness / 2.0), pose.z_axis);
            points.extend(holes.flat_map(grid).map(middle));
        }
        points
    }

    fn standing(&self, part: usize, place: usize) -> Standing<'a> {
        Standing { part: &self.kit.parts[part], folded: &self.folded[part], place }
    }

    fn add(&mut self, owner: Owner, of: Option<PieceOf>, rough: Vec<Convex>) {
        let Some(first) = rough.first() else { return };
        let mut bounds = first.bounds;
        for solid in &rough[1..] {
            bounds.add(solid.bounds.low);
            bounds.add(solid.bounds.high);
        }
        self.pieces.push(Piece { owner, of, bounds, rough });
    }

    /// The body that a solid shares with a piece.
    fn within(&self, piece: &Piece, solid: &Convex, limit: f64) -> Option<Shared> {
        let solid = std::slice::from_ref(solid);
        meet(&piece.rough, solid, limit)?;
        meet(&self.fine(piece, &solid[0].bounds), solid, limit)
    }

    /// The piece's true form within a box.
    fn fine(&self, piece: &Piece, near: &Bounds3) -> Vec<Convex> {
        match (piece.owner, piece.of) {
            (Owner::Part { part, place }, Some(of)) => self.standing(part, place).fine(of, near),
            _ => piece.rough.clone(),
        }
    }

    /// Sweeps along X over all pairs of pieces that are wanted, and keeps the deepest of each two
    /// owners.
    fn all(&self, limit: f64, wanted: impl Fn(&Piece, &Piece) -> bool) -> Vec<Clash> {
        let mut found: BTreeMap<(Owner, Owner), Clash> = BTreeMap::new();
        let mut active: Vec<&Piece> = Vec::new();
        for b in &self.pieces {
            active.retain(|a| b.bounds.low.x + limit < a.bounds.high.x);
            let near = active.iter().filter(|a| a.bounds.deeper(&b.bounds, limit) && wanted(a, b));
            for clash in near.filter_map(|a| self.pair(a, b, limit)) {
                let owners = (clash.sides[0].owner, clash.sides[1].owner);
                found
                    .entry(owners)
                    .and_modify(|known| *known = known.deeper(clash))
                    .or_insert(clash);
            }
            active.push(b);
        }
        found.into_values().collect()
    }

    fn pair(&self, a: &Piece, b: &Piece, limit: f64) -> Option<Clash> {
        meet(&a.rough, &b.rough, limit)?;
        let (fine_a, fine_b) = (self.fine(a, &b.bounds), self.fine(b, &a.bounds));
        let shared = meet(&fine_a, &fine_b, limit)?;
        let mut sides = [a, b].map(|piece| Side { owner: piece.owner, of: piece.of });
        sides.sort();
        Some(Clash { sides, shared })
    }
}

/// The room before a hollow's mouth. One that begins behind the wall, as the tunnel does, has no
/// mouth in it.
fn mouth(member: &Member) -> Option<Convex> {
    let low = member.low - Point3::new(0.0, MOUTH, 0.0);
    let high = Point3::new(member.high.x, member.low.y, member.high.z);
    if member.low.y <= TOUCH { Convex::upright(low, high) } else { None }
}

/// The deepest body that solids of two pieces share.
fn meet(a: &[Convex], b: &[Convex], limit: f64) -> Option<Shared> {
    let pairs = a.iter().flat_map(|one| b.iter().map(move |two| (one, two)));
    pairs
        .filter_map(|(one, two)| shared(one, two, limit))
        .max_by(|one, two| one.depth.total_cmp(&two.depth))
}
