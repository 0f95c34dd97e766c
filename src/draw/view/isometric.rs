//! Isometric pictures of a part and of the kit.

use super::broken::{self, Break, Gap};
use super::chain;
use super::direction;
use super::ghost;
use super::label;
use super::model::{Model, Spot};
use super::room::Room;
use super::solid::{self, Detail, Seat};
use super::tint;
use super::visible::{self, Covers};
use crate::draw::{Pen, Picture};
use crate::fold::FoldedPart;
use crate::geom::{FaceFrame, PartFrame, Point3, Pose, ViewFrame, tolerance};
use crate::kit::{Kit, Part};

/// How far behind a facet something must lie to be hidden, mm, within one part: above the rounding
/// of coordinates, below any thickness of sheet.
const SLACK: f64 = 1e-6;

/// One part folded, in isometric view (ISO 5456-3), turned so that most of it is seen.
///
/// A part more than 9 times as long as wide is interrupted where nothing but rows of small holes
/// is left out; narrow lines show where it is broken off.
pub fn isometric_part(part: &Part, folded: &FoldedPart) -> Picture {
    let view = part_view(part, folded);
    let length = longest_of(part, &folded.faces);
    let Some(broken) = Break::of(part, folded, part_detail(length).small_hole) else {
        return part_from(part, folded, &view);
    };
    let gap = Gap { axis: view.vector(broken.axis), from_to: broken.from_to };
    let detail = Detail { gap: Some(gap), ..part_detail(length - broken.saved()) };
    let whole = model_of(part, folded, &view, &detail);
    drawn(&broken::interrupted(&whole, &gap, broken.saved()))
}

/// The view in which `isometric_part` shows a part: from the part's frame to the picture's, whose
/// z points towards the viewer.
pub fn part_view(part: &Part, folded: &FoldedPart) -> Pose<PartFrame, ViewFrame> {
    direction::of_part(part, folded)
}

/// One part folded, seen whole in any view.
pub fn part_from(part: &Part, folded: &FoldedPart, view: &Pose<PartFrame, ViewFrame>) -> Picture {
    let detail = part_detail(longest_of(part, &folded.faces));
    drawn(&model_of(part, folded, view, &detail))
}

fn model_of(
    part: &Part,
    folded: &FoldedPart,
    view: &Pose<PartFrame, ViewFrame>,
    detail: &Detail,
) -> Model {
    let seats: Vec<Seat> = folded.faces.iter().map(|face| face.then(view)).collect();
    let mut model = Model::default();
    solid::add(&mut model, part, &seats, 0, detail);
    model
}

/// The picture of one part's model.
fn drawn(model: &Model) -> Picture {
    let covers = Covers::new(&model.facets, SLACK);
    let mut picture = Picture::empty();
    picture.areas = tint::areas(model, &covers).unwrap_or_default();
    let lines = visible::lines(model, &covers);
    chain::draw(&lines, &mut picture);
    picture
}

/// The greatest extent of a part.
fn longest_of(part: &Part, seats: &[Pose<FaceFrame, PartFrame>]) -> f64 {
    let mut room = Room::empty();
    room.add_part(part, seats);
    longest(&room)
}

/// The kit in its place, seen from outside, right and above; one label for each part number, its
/// text the part's position in the kit's parts, counted from 1.
///
/// The container around it is drawn in fine lines. It hides nothing of the kit.
pub fn isometric_kit(kit: &Kit, folded: &[FoldedPart]) -> Picture {
    let view = direction::isometric(Point3::new(1.0, -1.0, 1.0), Point3::new(0.0, 0.0, 1.0));
    let room = ghost::room(kit, folded);
    let detail = kit_detail(longest(&room));
    let mut model = Model::default();
    for (item, (part, folded)) in kit.parts.iter().zip(folded).enumerate() {
        for place in &part.places {
            let stand = place.then(&view);
            let seats: Vec<Seat> = folded.faces.iter().map(|face| face.then(&stand)).collect();
            solid::add(&mut model, part, &seats, item, &detail);
        }
    }
    let covers = Covers::new(&model.facets, tolerance::CONTACT);
    let mut lines = visible::lines(&model, &covers);
    let shell = ghost::container(kit, &room, &view, 0.0);
    lines.extend(around(&shell, &covers).into_iter().map(|seen| (seen, Pen::Fine)));
    let mut picture = Picture::empty();
    picture.areas = tint::areas(&model, &covers).unwrap_or_default();
    chain::draw(&lines, &mut picture);
    picture.labels = label::labels(&model, &covers, kit.parts.len(), &picture.bounds);
    picture
}

/// The lines of the container where neither the container itself nor, before or behind it, any part
/// of the kit is.
pub(super) fn around(shell: &Model, kit: &Covers<'_>) -> Vec<[Spot; 2]> {
    let own = Covers::new(&shell.facets, tolerance::CONTACT);
    let back = Spot::new(0.0, 0.0, FAR);
    let (mut own, mut kit) = (own.eye(), kit.eye());
    let mut lines = Vec::new();
    for edge in &shell.edges {
        own.visible(&edge.ends, &mut |seen| {
            let far = seen.map(|p| p - back);
            kit.visible(&far, &mut |line| lines.push(line.map(|p| p + back)));
        });
    }
    lines
}

/// Farther than a container is long, mm.
const FAR: f64 = 1e5;

/// The greatest extent of a room.
pub(super) fn longest<F>(room: &Room<F>) -> f64 {
    room.extents().into_iter().fold(0.0, f64::max)
}

/// A part's picture is some 100 mm wide on paper: a bend of less than 1.5 mm is one line there.
fn part_detail(extent: f64) -> Detail {
    Detail {
        sag: (extent / 4000.0).max(0.02),
        small_hole: extent / 50.0,
        least_hole: 0.0,
        small_bend: extent / 60.0,
        least_wall: extent / 600.0,
        gap: None,
    }
}

/// A kit's picture is some 250 mm wide on paper: a hole of less than 1 mm is a blot there.
pub(super) fn kit_detail(extent: f64) -> Detail {
    Detail {
        sag: extent / 5000.0,
        small_hole: extent / 60.0,
        least_hole: extent / 250.0,
        small_bend: extent / 100.0,
        least_wall: extent / 1500.0,
        gap: None,
    }
}
