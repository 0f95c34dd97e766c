//! What stands around the parts as `kit.json` gives it: the container's members and the keep-outs.

use serde::Serialize;

use super::json::{Number, numbers};
use crate::geom::{Point3, SiteFrame};
use crate::kit::{KeepOut, Member, Shape};

#[derive(Serialize)]
pub(super) struct MemberJson<'a> {
    name: &'a str,
    low: [Number; 3],
    high: [Number; 3],
    hollow: bool,
}

/// A member of the container.
pub(super) fn member_json(member: &Member) -> MemberJson<'_> {
    let (low, high) = (corner(member.low), corner(member.high));
    MemberJson { name: &member.name, low, high, hollow: member.hollow }
}

/// `low` and `high` are a box around the volume; for a box they are the volume.
#[derive(Serialize)]
pub(super) struct KeepOutJson<'a> {
    name: &'a str,
    low: [Number; 3],
    high: [Number; 3],
    shape: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    axis: Option<[[Number; 3]; 2]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    radius: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    path: Option<Vec<[Number; 3]>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bend_radius: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    across: Option<[Number; 3]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    size: Option<[Number; 2]>,
    except: &'a [String],
}

/// A keep-out.
pub(super) fn keep_out_json(keep_out: &KeepOut) -> KeepOutJson<'_> {
    let [low, high] = keep_out.shape.bounds().map(corner);
    let plain = KeepOutJson {
        name: &keep_out.name,
        low,
        high,
        shape: "box",
        axis: None,
        radius: None,
        path: None,
        bend_radius: None,
        across: None,
        size: None,
        except: &keep_out.except,
    };
    match &keep_out.shape {
        Shape::Box { .. } => plain,
        Shape::Cylinder { ends, radius } => KeepOutJson {
            shape: "cylinder",
            axis: Some(ends.map(corner)),
            radius: Some(Number(*radius)),
            ..plain
        },
        Shape::Swept { path, bend_radius, across, size } => KeepOutJson {
            shape: "swept",
            path: Some(path.iter().copied().map(corner).collect()),
            bend_radius: Some(Number(*bend_radius)),
            across: Some(corner(*across)),
            size: Some(numbers(*size)),
            ..plain
        },
    }
}

fn corner(p: Point3<SiteFrame>) -> [Number; 3] {
    numbers([p.x, p.y, p.z])
}
