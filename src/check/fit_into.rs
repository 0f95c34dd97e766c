//! What is fastened to the container must meet it, face to face: an outer flat, an inner flat from
//! inside, a rail, a post or the floor.

use super::wall_face::{from_flat, from_inner_flat};
use super::{Rule, Subject};
use crate::geom::{Point3, SiteFrame, tolerance::CONTACT};
use crate::kit::{Joint, Member, Wall};
use crate::mate::{container_member, layers};
use crate::note::{Finding, Notes};
use crate::shelf::Fastener;

pub(super) const RULE: Rule = Rule {
    id: "fit.into",
    asks: "every fastener into the container meets an outer flat, an inner flat from inside, a rail, a post or the floor with its edge distance",
    limit: "the fastener's edge distance within flat, rail or floor",
    source: "geometry; edge distance of the fastener",
    remedy: "move the pattern, or the face, to where the container is",
    run,
};

fn run(subject: &Subject, notes: &mut Notes) {
    for joint in &subject.kit.joints {
        let misses = joint.pairs.iter().filter_map(|pair| {
            let into = container_member(pair)?;
            subject.miss(joint, pair, into).filter(|(by, _)| *by > 1e-6)
        });
        let Some((by, what)) = misses.max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
        notes.add(
            Finding::error(RULE.id, format!("{}: {what}", joint.name))
                .about(joint.id.clone())
                .measured(by, 0.0, "mm")
                .source(RULE.source)
                .help(RULE.remedy),
        );
    }
}

/// A point on a layer's surface, on the fastener's axis, and the layer's normal.
type Surface = (Point3<SiteFrame>, Point3<SiteFrame>);

impl Subject<'_> {
    /// By how much a fastener misses what it goes into, and in which way.
    fn miss(
        &self,
        joint: &Joint,
        pair: &[crate::kit::JointMember],
        into: &str,
    ) -> Option<(f64, String)> {
        let fastener = self.shelf.fastener(&joint.fastener)?;
        let margin = fastener.edge * fastener.diameter;
        let layers = layers(pair, &self.kit.parts, self.folded);
        let surfaces: Vec<Surface> = layers
            .iter()
            .flat_map(|layer| {
                let half = layer.normal * (layer.thickness / 2.0);
                [layer.centre + half, layer.centre - half].map(|at| (at, layer.normal))
            })
            .collect();
        if into == "wall" {
            return self.miss_wall(&surfaces, margin);
        }
        let members = &self.kit.container.members;
        let served = members.iter().filter(|member| !member.hollow && serves(into, &member.name));
        let misses = served.map(|member| miss_member(&surfaces, (member, members), fastener));
        let least = misses.min_by(|a, b| a.0.total_cmp(&b.0));
        Some(least.unwrap_or((f64::INFINITY, format!("the container has no {into} there"))))
    }

    /// By how much a fastener misses the wall: an outer flat from outside, or an inner flat from
    /// inside, whichever is nearer.
    fn miss_wall(&self, surfaces: &[Surface], margin: f64) -> Option<(f64, String)> {
        let Some(wall) = &self.kit.container.wall else {
            return Some((f64::INFINITY, "the container has no wall there".to_string()));
        };
        let outermost = surfaces.iter().map(|(at, _)| *at).max_by(|a, b| a.y.total_cmp(&b.y))?;
        let innermost = surfaces.iter().map(|(at, _)| *at).min_by(|a, b| a.y.total_cmp(&b.y))?;
        let from_outside = miss_outer(wall, outermost, margin);
        let from_inside = miss_inner(wall, innermost, margin);
        let nearer = if outermost.y < wall.depth / 2.0 { from_outside } else { from_inside };
        nearer.into_iter().max_by(|a, b| a.0.total_cmp(&b.0))
    }
}

/// What is wrong with a hole that meets the wall from outside.
fn miss_outer(wall: &Wall, at: Point3<SiteFrame>, margin: f64) -> Vec<(f64, String)> {
    let off = (at.y.abs(), format!("the face stands {:.2} mm off the wall", -at.y));
    let flat = ("outer", from_flat(wall, at.x), wall.outer_flat);
    miss_flat(wall, at, margin, (off, flat))
}

/// What is wrong with a hole that meets the wall from inside.
fn miss_inner(wall: &Wall, at: Point3<SiteFrame>, margin: f64) -> Vec<(f64, String)> {
    let off = at.y - wall.depth - wall.thickness;
    let off = (off.abs(), format!("the face stands {off:.2} mm off the inner flats"));
    let flat = ("inner", from_inner_flat(wall, at.x), wall.inner_flat);
    miss_flat(wall, at, margin, (off, flat))
}

/// What a face is off by, in mm and in words.
type Off = (f64, String);

/// What is wrong with a hole in one kind of flat: how far the face is off it, then the flat's name,
/// the distance of the hole from the middle of the nearest one, and its width.
fn miss_flat(
    wall: &Wall,
    at: Point3<SiteFrame>,
    margin: f64,
    ((off, words), (name, away, width)): (Off, (&str, f64, f64)),
) -> Vec<(f64, String)> {
    let over = away + margin / 2.0 - width / 2.0;
    let edge = format!(
        "a hole at X {:.1} lies too near the edge of its {name} flat, by {over:.2} mm",
        at.x
    );
    let misses = vec![(off - CONTACT, words), (over, edge)];
    misses.into_iter().chain(miss_cut(wall, at, margin)).collect()
}

/// What is wrong with a hole near the opening.
fn miss_cut(wall: &Wall, at: Point3<SiteFrame>, margin: f64) -> Option<(f64, String)> {
    let ([left, right], [bottom, top]) = (wall.cuts?, wall.cut_heights?);
    let aside = (left - at.x).max(at.x - right).max(at.z - top).max(bottom - at.z);
    let message = format!(
        "a hole at X {:.1}, Z {:.1} lies {aside:.2} mm from the cut; {margin:.2} mm is needed",
        at.x, at.z
    );
    Some((margin - aside, message))
}

/// Whether a member of the container is what a joint goes into. `rail` is the steel of its frame,
/// posts too: `kit.json` knows no other word for them.
fn serves(into: &str, name: &str) -> bool {
    name.contains(into) || (into == "rail" && name.contains("corner post"))
}

/// By how much a fastener's axis misses a member of the container: one of the layers' surfaces must
/// lie on the face that the axis pierces, margins kept to its edges and to what is open in it.
fn miss_member(
    surfaces: &[Surface],
    (member, members): (&Member, &[Member]),
    fastener: &Fastener,
) -> (f64, String) {
    let margin = fastener.edge * fastener.diameter;
    let hollows = || members.iter().filter(|other| other.hollow && share(member, other));
    let miss = |surface: &Surface| {
        let open = hollows().map(|hollow| miss_hollow(surface, hollow, fastener.diameter));
        open.fold(miss_box(surface, member, margin), f64::max)
    };
    let by = surfaces.iter().map(miss).fold(f64::INFINITY, f64::min);
    let at = surfaces
        .first()
        .map_or(String::new(), |(p, _)| format!("X {:.1}, Y {:.1}, Z {:.1}", p.x, p.y, p.z));
    (by, format!("a hole at {at} misses the {} by {by:.2} mm", member.name))
}

/// The axis along which a fastener goes, 0 to 2.
fn along(normal: [f64; 3]) -> usize {
    if normal[0].abs() > 0.9 { 0 } else { 1 + usize::from(normal[2].abs() > 0.9) }
}

/// By how much a point misses the face of a box, margins to its edges kept.
fn miss_box((at, normal): &Surface, member: &Member, margin: f64) -> f64 {
    let (at, along) = (axes(*at), along(axes(*normal)));
    let (low, high) = (axes(member.low), axes(member.high));
    let off = (at[along] - low[along]).abs().min((at[along] - high[along]).abs()) - CONTACT;
    let beside = (0..3).filter(|axis| *axis != along);
    let past = beside.map(|i| (low[i] + margin - at[i]).max(at[i] + margin - high[i]));
    past.fold(off, f64::max)
}

/// By how much a point lies too near a hollow that opens in its face. The plates round a hollow
/// frame it, so that it is no free edge: one diameter is kept (common practice).
fn miss_hollow((at, normal): &Surface, hollow: &Member, room: f64) -> f64 {
    let (at, along) = (axes(*at), along(axes(*normal)));
    let (low, high) = (axes(hollow.low), axes(hollow.high));
    if at[along] + CONTACT < low[along] || high[along] + CONTACT < at[along] {
        return 0.0;
    }
    let beside = (0..3).filter(|axis| *axis != along);
    let within = beside.map(|i| (at[i] + room - low[i]).min(high[i] + room - at[i]));
    within.fold(f64::INFINITY, f64::min)
}

/// Whether two boxes share space.
fn share(a: &Member, b: &Member) -> bool {
    let ([a_low, a_high], [b_low, b_high]) = ([a.low, a.high].map(axes), [b.low, b.high].map(axes));
    (0..3).all(|i| a_low[i] < b_high[i] && b_low[i] < a_high[i])
}

fn axes(p: Point3<SiteFrame>) -> [f64; 3] {
    [p.x, p.y, p.z]
}
