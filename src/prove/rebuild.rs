//! The kit, made again from its files.

use std::collections::BTreeMap;

use super::ReadBack;
use super::agree::Bench;
use super::part;
use crate::kit::{
    Container, Fastener, Joint, JointMember, Kit, Meeting, Neighbour, OnSite, Part, Revision,
    Value, Wall,
};
use crate::note::Notes;
use crate::reading::{
    FastenerRow, JointRow, KitRow, MemberRow, NeighbourRow, RevisionRow, ValueRow, WallRow,
    keep_out, member, pose, setting,
};

/// Reads every part back and puts the kit together; none when a part could not be read back, which
/// is told.
pub(super) fn read_back(bench: &Bench, notes: &mut Notes) -> Option<ReadBack> {
    let made: Vec<Option<part::Made>> =
        bench.kit.parts.iter().map(|row| part::make(bench, row, notes)).collect();
    let made: Vec<part::Made> = made.into_iter().collect::<Option<_>>()?;
    let mut read = (Vec::new(), Vec::new(), Vec::new());
    for (part, folded, blank) in made {
        read.0.push(part);
        read.1.push(folded);
        read.2.push(blank);
    }
    Some(ReadBack { kit: kit(bench.kit, read.0), folded: read.1, blanks: read.2 })
}

fn kit(row: &KitRow, parts: Vec<Part>) -> Kit {
    let numbers: BTreeMap<&str, usize> =
        row.parts.iter().enumerate().map(|(index, part)| (part.number.as_str(), index)).collect();
    Kit {
        number: row.kit.clone(),
        title: row.title.clone(),
        revision: row.revision.clone(),
        date: row.date.clone(),
        drawn_by: row.drawn_by.clone(),
        approved_by: row.approved_by.clone(),
        owner: row.owner.clone(),
        site: row.site.clone(),
        inches: row.units == "in",
        template: (row.template.clone(), row.template.clone()),
        spec_sha256: row.spec_sha256.clone(),
        values: row.values.iter().map(|(name, own)| (name.clone(), value(own))).collect(),
        container: container(row),
        joints: row.joints.iter().map(|own| joint(own, &numbers, &parts)).collect(),
        parts,
        fasteners: row.fasteners.iter().map(fastener).collect(),
        keep_outs: row.keep_outs.iter().map(keep_out).collect(),
        lengths: Vec::new(),
        neighbours: row.neighbours.iter().filter_map(neighbour).collect(),
        notes: row.notes.clone(),
        cautions: row.cautions.clone(),
        steps: Vec::new(),
        on_site: OnSite::default(),
        previous: None,
        amended: Vec::new(),
        revisions: row.revisions.iter().map(revision).collect(),
        tolerance: row.tolerance.clone(),
        shared: false,
    }
}

fn value(row: &ValueRow) -> Value {
    match row {
        ValueRow::Number(number) => Value::Number(*number),
        ValueRow::Flag(flag) => Value::Flag(*flag),
        ValueRow::Text(text) => Value::Text(text.clone()),
    }
}

fn revision(row: &RevisionRow) -> Revision {
    Revision { index: row.index.clone(), date: row.date.clone(), text: row.text.clone() }
}

fn container(row: &KitRow) -> Container {
    let own = &row.container;
    Container {
        id: own.id.clone(),
        title: own.title.clone(),
        wall: row.wall.as_ref().or(own.uncut_wall.as_ref()).map(wall),
        members: own.members.iter().map(member).collect(),
    }
}

fn wall(row: &WallRow) -> Wall {
    Wall {
        pitch: row.pitch,
        outer_flat: row.outer_flat,
        slope: row.slope,
        inner_flat: row.inner_flat,
        depth: row.depth,
        thickness: row.thickness,
        outer_flat_centres: row.outer_flat_centres.clone(),
        ends: row.ends,
        edges: row.edges,
        cuts: row.cuts,
        cut_heights: row.cut_bottom.zip(row.cut_top).map(|(bottom, top)| [bottom, top]),
    }
}

/// A joint; members that name no instance of any part are told elsewhere and left out.
fn joint(row: &JointRow, numbers: &BTreeMap<&str, usize>, parts: &[Part]) -> Joint {
    let member = |member: &MemberRow| match member {
        MemberRow::Hole { part, place, hole } => {
            let part = *numbers.get(part.as_str())?;
            let there = *place < parts[part].places.len();
            there.then(|| JointMember::Hole { part, place: *place, hole: hole.clone() })
        }
        MemberRow::Into { post: true, .. } => Some(JointMember::Into("post".to_owned())),
        MemberRow::Into { into, .. } => Some(JointMember::Into(into.clone())),
    };
    Joint {
        id: row.id.clone(),
        name: row.name.clone(),
        fastener: row.fastener.clone(),
        grip: row.grip,
        gap: row.gap,
        pairs: row.pairs.iter().map(|pair| pair.iter().filter_map(member).collect()).collect(),
        setting: setting(row, numbers),
    }
}

/// Another kit of the box, without the boxes around its parts.
fn neighbour(row: &NeighbourRow) -> Option<Neighbour> {
    let bolts = row.bolts.iter().map(|bolt| Meeting {
        fastener: bolt.fastener.clone(),
        count: bolt.count,
        grip: bolt.grip,
        ordered_by: bolt.ordered_by.clone(),
    });
    Some(Neighbour {
        kit: row.kit.clone(),
        title: row.title.clone(),
        to_site: pose(&row.to_site)?,
        boxes: Vec::new(),
        bolts: bolts.collect(),
    })
}

fn fastener(row: &FastenerRow) -> Fastener {
    Fastener {
        id: row.id.clone(),
        title: row.title.clone(),
        count: row.count,
        spare: row.spare,
        hole: row.hole,
        diameter: row.diameter,
        grip: row.grip,
        edge: row.edge,
        source: row.source.clone(),
    }
}
