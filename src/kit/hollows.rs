//! Hollows in the container that the template knows of: pockets as the spec measures them.

use super::Member;
use super::desk::Desk;
use crate::geom::{Point3, SiteFrame};
use crate::template::{Hands, HollowItem, Template};

/// All hollows that are there, in the order of the template; with both hands, the left one first.
pub(super) fn hollows(desk: &mut Desk, template: &Template) -> Vec<Member> {
    let mut hollows = Vec::new();
    for item in &template.hollows {
        if desk.holds(item.when.as_ref()) {
            hollows.extend(hollow(desk, item).into_iter().flatten());
        }
    }
    hollows
}

fn hollow(desk: &mut Desk, item: &HollowItem) -> Option<Vec<Member>> {
    let name = desk.text(&item.name)?;
    let (low, high) = (desk.point3(&item.low)?, desk.point3(&item.high)?);
    if !(low.x < high.x && low.y < high.y && low.z < high.z) {
        let message = format!("hollow `{name}` has no size: each of `high` must lie beyond `low`");
        desk.wrong("template.hollow", item.name.span(), message);
        return None;
    }
    let left = Member { name, hollow: true, low, high };
    let flip = |p: Point3<SiteFrame>, x: f64| Point3::new(-x, p.y, p.z);
    let right = Member { low: flip(low, high.x), high: flip(high, low.x), ..left.clone() };
    Some(if item.hands == Hands::Both { vec![left, right] } else { vec![left] })
}
