//! What is fastened to the container must meet it: an outer flat, a rail or the floor, face to
//! face.

use super::wall_face::from_flat;
use super::{Rule, Subject};
use crate::geom::{Point3, SiteFrame, tolerance::CONTACT};
use crate::kit::{Joint, KeepOut};
use crate::mate::{container_member, layers};
use crate::note::{Finding, Notes};

pub(super) const RULE: Rule = Rule {
    id: "fit.into",
    asks: "every fastener into the container meets an outer flat, a rail or the floor with its edge distance",
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
        let surfaces: Vec<Point3<SiteFrame>> = layers
            .iter()
            .flat_map(|layer| {
                let half = layer.normal * (layer.thickness / 2.0);
                [layer.centre + half, layer.centre - half]
            })
            .collect();
        if into == "wall" {
            return self.miss_wall(&surfaces, margin);
        }
        let members = self.kit.container.members.iter().filter(|member| member.name.contains(into));
        let misses = members.map(|member| miss_box(&surfaces, member, margin));
        let least = misses.min_by(|a, b| a.0.total_cmp(&b.0));
        Some(least.unwrap_or((f64::INFINITY, format!("the container has no {into} there"))))
    }

    fn miss_wall(&self, surfaces: &[Point3<SiteFrame>], margin: f64) -> Option<(f64, String)> {
        let Some(wall) = &self.kit.container.wall else {
            return Some((f64::INFINITY, "the container has no wall there".to_string()));
        };
        let nearest = surfaces.iter().copied().max_by(|a, b| a.y.total_cmp(&b.y))?;
        let x = nearest.x;
        let off_flat = from_flat(wall, x) + margin / 2.0 - wall.outer_flat / 2.0;
        let mut misses = vec![
            (
                nearest.y.abs() - CONTACT,
                format!("the face stands {:.2} mm off the wall", -nearest.y),
            ),
            (
                off_flat,
                format!(
                    "a hole at X {x:.1} lies too near the edge of its outer flat, by {off_flat:.2} mm"
                ),
            ),
        ];
        if let (Some([left, right]), Some([bottom, top])) = (wall.cuts, wall.cut_heights) {
            let aside = (left - x).max(x - right).max(nearest.z - top).max(bottom - nearest.z);
            let short = margin - aside;
            misses.push((short, format!("a hole at X {x:.1}, Z {:.1} lies {aside:.2} mm from the cut; {margin:.2} mm is needed", nearest.z)));
        }
        misses.into_iter().max_by(|a, b| a.0.total_cmp(&b.0))
    }
}

/// By how much a fastener's axis misses a box of the container: one of the layers' surfaces must
/// lie on one of its faces, margins kept.
fn miss_box(surfaces: &[Point3<SiteFrame>], member: &KeepOut, margin: f64) -> (f64, String) {
    let outside =
        |v: f64, low: f64, high: f64, margin: f64| (low + margin - v).max(v + margin - high);
    let on_y = |p: &Point3<SiteFrame>| {
        let off = (p.y - member.low.y).abs().min((p.y - member.high.y).abs()) - CONTACT;
        let x = outside(p.x, member.low.x, member.high.x, margin);
        off.max(x).max(outside(p.z, member.low.z, member.high.z, margin))
    };
    let on_z = |p: &Point3<SiteFrame>| {
        let off = (p.z - member.high.z).abs() - CONTACT;
        let x = outside(p.x, member.low.x, member.high.x, margin);
        off.max(x).max(outside(p.y, member.low.y, member.high.y, margin))
    };
    let by = surfaces.iter().map(|p| on_y(p).min(on_z(p))).fold(f64::INFINITY, f64::min);
    let at = surfaces
        .first()
        .map_or(String::new(), |p| format!("X {:.1}, Y {:.1}, Z {:.1}", p.x, p.y, p.z));
    (by, format!("a hole at {at} misses the {} by {by:.2} mm", member.name))
}
