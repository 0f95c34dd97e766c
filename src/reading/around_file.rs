//! What stands around the parts, as it is read back: the container's members, the keep-outs, and
//! how joints are set.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::kit_file::JointRow;
use crate::geom::{Point3, SiteFrame};
use crate::kit::{KeepOut, Member, SetFrom, Setting, Shape};

/// A point in the site frame.
type Corner = [f64; 3];

/// An upright box of the container.
#[derive(Debug, Deserialize)]
pub(crate) struct MemberBoxRow {
    name: String,
    low: Corner,
    high: Corner,
    hollow: bool,
}

/// A volume that must stay free.
#[derive(Debug, Deserialize)]
pub(crate) struct KeepOutRow {
    name: String,
    low: Corner,
    high: Corner,
    axis: Option<[Corner; 2]>,
    radius: Option<f64>,
    path: Option<Vec<Corner>>,
    bend_radius: Option<f64>,
    across: Option<Corner>,
    size: Option<[f64; 2]>,
    except: Vec<String>,
}

/// The opening that a tool reaches through.
#[derive(Debug, Deserialize)]
pub(crate) struct ThroughRow {
    part: String,
    hole: String,
}

fn corner([x, y, z]: Corner) -> Point3<SiteFrame> {
    Point3::new(x, y, z)
}

/// A member of the container.
pub(crate) fn member(row: &MemberBoxRow) -> Member {
    let (low, high) = (corner(row.low), corner(row.high));
    Member { name: row.name.clone(), hollow: row.hollow, low, high }
}

/// A keep-out; one that has the measures of no other shape is its box.
pub(crate) fn keep_out(row: &KeepOutRow) -> KeepOut {
    let swept = row.path.as_ref().zip(row.bend_radius).zip(row.across.zip(row.size));
    let shape = match (row.axis.zip(row.radius), swept) {
        (Some((ends, radius)), _) => Shape::Cylinder { ends: ends.map(corner), radius },
        (None, Some(((path, bend_radius), (across, size)))) => Shape::Swept {
            path: path.iter().copied().map(corner).collect(),
            bend_radius,
            across: corner(across),
            size,
        },
        (None, None) => Shape::Box { low: corner(row.low), high: corner(row.high) },
    };
    KeepOut { name: row.name.clone(), shape, except: row.except.clone() }
}

/// How a joint's fasteners are set; parts that are not there are left out.
pub(crate) fn setting(row: &JointRow, numbers: &BTreeMap<&str, usize>) -> Setting {
    let index = |number: &String| numbers.get(number.as_str()).copied();
    let from = [SetFrom::From, SetFrom::To].into_iter().find(|from| from.word() == row.set_from);
    let through = row.through.as_ref();
    Setting {
        from: from.unwrap_or_default(),
        before: row.before.iter().filter_map(index).collect(),
        through: through.and_then(|through| Some((index(&through.part)?, through.hole.clone()))),
    }
}
