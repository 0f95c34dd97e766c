//! The containers' files.

use super::row::Row;
use super::{
    Container, Corrugation, Fitting, Floor, ForkPocket, Gooseneck, PanelRun, Rail, Roof, Size,
    WallPlan,
};

pub(super) fn container(row: &mut Row<'_, '_>) -> Container {
    let container = Container {
        id: row.text("id"),
        title: row.text("title"),
        outside: size(row, "outside"),
        minus: size(row, "minus"),
        inside: size(row, "inside"),
        fitting: fitting(row),
        floor_level: row.mm("floor_level"),
        floor: Floor { plywood: row.mm("plywood"), cross_member: row.mm("cross_member") },
        post: row.mms("post"),
        post_thickness: row.mm("post_thickness"),
        top_rail: rail(row, "top_rail"),
        bottom_rail: rail(row, "bottom_rail"),
        roof: roof(row),
        side: plan(row, "side"),
        end: plan(row, "end"),
        gooseneck: gooseneck(row),
        fork_pockets: row.each("fork_pocket", |pocket| ForkPocket {
            centres: pocket.mm("centres"),
            width: pocket.mm("width"),
            height: pocket.mm("height"),
        }),
        doorway: row.mms("doorway"),
        source: row.text("source"),
    };
    check(row, &container);
    container
}

/// Length, width, height.
fn size(row: &mut Row<'_, '_>, key: &'static str) -> Size {
    let [length, width, height] = row.mms(key);
    Size { length, width, height }
}

fn fitting(row: &mut Row<'_, '_>) -> Fitting {
    let mut row = row.below("fitting");
    let fitting = Fitting {
        length: row.mm("length"),
        width: row.mm("width"),
        height: row.mm("height"),
        proud: row.mm_or_zero("proud"),
        above_roof: row.mm_or_zero("above_roof"),
        below_base: row.mm_or_zero("below_base"),
    };
    row.end();
    fitting
}

fn rail(row: &mut Row<'_, '_>, key: &'static str) -> Rail {
    let mut row = row.below(key);
    let depth = row.mm("depth");
    let rail = Rail {
        height: row.mm("height"),
        depth,
        thickness: row.mm("thickness"),
        lower_depth: row.maybe_mm("lower_depth").unwrap_or(depth),
    };
    row.end();
    rail
}

fn roof(row: &mut Row<'_, '_>) -> Roof {
    let mut row = row.below("roof");
    let (depth, pitch) = (row.mm("depth"), row.mm("pitch"));
    let roof = Roof { depth, pitch, thickness: row.mm("thickness") };
    row.end();
    roof
}

fn gooseneck(row: &mut Row<'_, '_>) -> Option<Gooseneck> {
    if !row.table.has("gooseneck") {
        return None;
    }
    let mut row = row.below("gooseneck");
    let (length, width) = (row.mm("length"), row.mm("width"));
    let gooseneck = Gooseneck { length, width, height: row.mm("height") };
    row.end();
    Some(gooseneck)
}

fn plan(row: &mut Row<'_, '_>, key: &'static str) -> WallPlan {
    let mut row = row.below(key);
    let corrugation = Corrugation {
        outer_flat: row.mm("outer_flat"),
        slope: row.mm("slope"),
        inner_flat: row.mm("inner_flat"),
        depth: row.mm("depth"),
        thickness: row.mm("thickness"),
    };
    let first = row.mm("first");
    let panels = row.each("panel", |panel| PanelRun {
        flats: panel.count("flats"),
        pitch: panel.maybe_mm("pitch").unwrap_or(corrugation.pitch()),
        thickness: panel.maybe_mm("thickness").unwrap_or(corrugation.thickness),
    });
    if panels.is_empty() {
        let span = row.table.span.clone();
        row.tell("panel", &span, "is missing: name at least one panel and its flats");
    }
    let plan = WallPlan { corrugation, first, panels, source: row.text("source") };
    row.end();
    plan
}

/// The sizes must go together: flats stand between the posts, the inside lies within the outside.
fn check(row: &mut Row<'_, '_>, container: &Container) {
    let span = row.table.span.clone();
    let (inside, outside) = (&container.inside, &container.outside);
    if outside.length <= inside.length
        || outside.width <= inside.width
        || outside.height <= inside.height + container.floor_level
    {
        row.tell("inside", &span, "does not lie within `outside` above `floor_level`");
    }
    for (key, plan, length) in [
        ("side", &container.side, container.side_length()),
        ("end", &container.end, container.end_length()),
    ] {
        let half = plan.corrugation.outer_flat / 2.0;
        let centres = plan.centres();
        let ends = centres.first().zip(centres.last());
        if ends.is_some_and(|(first, last)| *first < half || length < last + half) {
            let why = format!("has outer flats on a post: the wall is {length} mm long");
            row.tell(key, &span, &why);
        }
    }
}
