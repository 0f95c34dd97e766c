//! Pictures of a kit as it is built in: what a step adds stands out, what stood before is pale.

use super::direction;
use super::ghost;
use super::isometric::{around, kit_detail, longest};
use super::label;
use super::model::{Model, Spot};
use super::room::Room;
use super::solid::{self, Seat};
use super::tint;
use super::visible::{self, Covers};
use super::{chain, clip, model};
use crate::draw::{Fill, Pen, Picture};
use crate::fold::FoldedPart;
use crate::geom::{Bounds, PartFrame, Point, Point3, Pose, SiteFrame, ViewFrame, tolerance};
use crate::kit::{Kit, Part};

/// How the kit stands at one step of the work.
#[derive(Debug, Clone, Default)]
pub struct Stage {
    /// Indices of the parts that the step adds or works on.
    pub now: Vec<usize>,
    /// Indices of the parts that stand already.
    pub before: Vec<usize>,
    /// How far outside its place the cut-out stands, mm; none once it is gone.
    pub cut_out: Option<f64>,
    /// Whether the cut edges are drawn strongly.
    pub edges: bool,
    /// Lines of what holds or carries, in the site frame.
    pub props: Vec<[Point3<SiteFrame>; 2]>,
    /// Lower and upper corners of boxes that the step is about besides parts.
    pub bodies: Vec<[Point3<SiteFrame>; 2]>,
    /// How far what stands at X above 0 is away from its place along X, mm: the far of two boxes.
    pub apart: f64,
}

/// The picture of a stage.
#[derive(Debug, Clone, PartialEq)]
pub struct Staged {
    /// What is seen; labels bear the numbers of the parts without the kit's.
    pub picture: Picture,
    /// Seen from inside the container.
    pub inside: bool,
    /// Only one instance of several is shown, with what stands about it.
    pub one: bool,
}

/// Share of the parts' lines that is seen well enough.
const ENOUGH: f64 = 0.45;
/// A part smaller than the kit by this factor is shown alone, with its surroundings.
const SMALL: f64 = 12.0;
/// Surroundings of a small part, in its own size.
const ABOUT: f64 = 1.5;
/// How much darker than a plain picture the parts of a step are tinted, percent.
const DARKER: u8 = 14;

type View = Pose<SiteFrame, ViewFrame>;
type Place = Pose<PartFrame, SiteFrame>;

/// A stage in isometric view: from outside, right and above, or from inside where more of what the
/// step adds is seen from there.
pub fn stage(kit: &Kit, folded: &[FoldedPart], stage: &Stage) -> Staged {
    // A body is seen whole, and with it what stands about it.
    let room = stage.bodies.is_empty().then(|| focus(kit, folded, &stage.now)).flatten();
    let looks = Looks { kit, folded, stage, room };
    let (outside, seen) = looks.from(-1.0);
    let one = looks.room.is_some();
    if stage.now.is_empty() && stage.bodies.is_empty() || ENOUGH <= seen {
        return Staged { picture: outside, inside: false, one };
    }
    let (within, seen_within) = looks.from(1.0);
    let inside = seen < seen_within;
    Staged { picture: if inside { within } else { outside }, inside, one }
}

/// What is looked at.
struct Looks<'a> {
    kit: &'a Kit,
    folded: &'a [FoldedPart],
    stage: &'a Stage,
    /// What alone is shown; none for all of the kit.
    room: Option<Room<SiteFrame>>,
}

impl Looks<'_> {
    /// The picture from the side of `y`, and the share of the step's own lines that is seen.
    fn from(&self, y: f64) -> (Picture, f64) {
        let view = direction::isometric(Point3::new(1.0, y, 1.0), Point3::new(0.0, 0.0, 1.0));
        let all = self.all();
        let room = self.room.as_ref().unwrap_or(&all);
        let model = self.model(&view, room);
        let covers = Covers::new(&model.facets, tolerance::CONTACT);
        let (mut lines, share) = self.lines(&model, &covers);
        let shell = ghost::container(self.kit, room, &view, self.stage.apart);
        // Where a step adds nothing, it is about the container.
        let pen = if self.is_bare() { Pen::Outline } else { Pen::Fine };
        lines.extend(around(&shell, &covers).into_iter().map(|seen| (seen, pen)));
        self.overlay(&view, &mut lines);
        let mut picture = Picture::empty();
        let fill = |item: usize, normal: Spot| match self.strong(item) {
            true => Fill::Tint(tint::shade(normal) + DARKER),
            false => Fill::Paper,
        };
        picture.areas = tint::filled(&model, &covers, &fill).unwrap_or_default();
        chain::draw(&lines, &mut picture);
        let mut frame = Bounds::empty();
        corners(room).for_each(|p| frame.add(flat(view.point(p))));
        if self.room.is_some() {
            clip::clip(&mut picture, &frame);
        }
        picture.bounds.add(frame.low);
        picture.bounds.add(frame.high);
        self.label(&model, &covers, &mut picture);
        (picture, share)
    }

    /// The room of the kit, as far as it reaches when the boxes stand apart.
    fn all(&self) -> Room<SiteFrame> {
        let mut all = ghost::room(self.kit, self.folded);
        all.high.x += self.stage.apart;
        all
    }

    /// What is added to a place of this X.
    fn away(&self, x: f64) -> Point3<SiteFrame> {
        Point3::new(if 0.0 < x { self.stage.apart } else { 0.0 }, 0.0, 0.0)
    }

    fn is_bare(&self) -> bool {
        let Stage { now, cut_out, edges, bodies, .. } = self.stage;
        now.is_empty() && cut_out.is_none() && !edges && bodies.is_empty()
    }

    /// Whether an item stands out: cut-out and bodies come after all parts.
    fn strong(&self, item: usize) -> bool {
        item == self.kit.parts.len() || self.stage.now.contains(&item)
    }

    fn model(&self, view: &View, room: &Room<SiteFrame>) -> Model {
        let detail = kit_detail(longest(room));
        let mut model = Model::default();
        for (item, (part, folded)) in self.kit.parts.iter().zip(self.folded).enumerate() {
            if !self.stage.now.contains(&item) && !self.stage.before.contains(&item) {
                continue;
            }
            let shown = |place: &&Place| {
                self.room.is_none() || room.common(&instance(part, folded, place)).is_some()
            };
            for place in part.places.iter().filter(shown) {
                let middle = instance(part, folded, place);
                let away = self.away((middle.low.x + middle.high.x) / 2.0);
                let stand = place.shifted(away).then(view);
                let seats: Vec<Seat> = folded.faces.iter().map(|face| face.then(&stand)).collect();
                solid::add(&mut model, part, &seats, item, &detail);
            }
        }
        if let (Some(out), Some(wall)) = (self.stage.cut_out, &self.kit.container.wall) {
            merge(&mut model, ghost::cut_out(wall, out, view), self.kit.parts.len());
        }
        for &[low, high] in &self.stage.bodies {
            let away = self.away((low.x + high.x) / 2.0);
            let body = ghost::body(&Room { low: low + away, high: high + away }, view);
            merge(&mut model, body, self.kit.parts.len());
        }
        model
    }

    /// Visible lines with their pens, and the share of the step's own that is seen.
    fn lines(&self, model: &Model, covers: &Covers<'_>) -> (Vec<([Spot; 2], Pen)>, f64) {
        let (mut lines, mut seen, mut whole) = (Vec::new(), 0.0, 1e-9);
        let mut eye = covers.eye();
        for edge in &model.edges {
            let Some(pen) = visible::pen(model, edge) else { continue };
            let strong = self.strong(model.facets[edge.facets[0]].item);
            let pen = match (strong, pen) {
                (true, pen) => pen,
                (false, Pen::Outline) => Pen::Fine,
                (false, _) => continue,
            };
            let own = f64::from(u8::from(strong));
            whole += own * edge.ends[0].distance(edge.ends[1]);
            eye.visible(&edge.ends, &mut |line| {
                seen += own * line[0].distance(line[1]);
                lines.push((line, pen));
            });
        }
        (lines, seen / whole)
    }

    /// Cut edges and props lie over everything.
    fn overlay(&self, view: &View, lines: &mut Vec<([Spot; 2], Pen)>) {
        if let (true, Some(wall)) = (self.stage.edges, &self.kit.container.wall) {
            for run in ghost::cut_edges(wall) {
                let pairs = run.windows(2);
                lines.extend(pairs.map(|p| ([view.point(p[0]), view.point(p[1])], Pen::Outline)));
            }
        }
        let props = self.stage.props.iter();
        lines.extend(props.map(|line| (line.map(|p| view.point(p)), Pen::Outline)));
    }

    /// Names the parts of the step.
    fn label(&self, model: &Model, covers: &Covers<'_>, picture: &mut Picture) {
        let parts = &self.kit.parts;
        let count = parts.len() + 1;
        let labels = label::labels(model, covers, count, &picture.bounds);
        for mut label in labels {
            let Ok(item) = label.text.parse::<usize>() else { continue };
            let Some(part) = parts.get(item - 1) else { continue };
            if self.stage.now.contains(&(item - 1)) {
                label.text = self.kit.short(&part.number).to_owned();
                picture.labels.push(label);
            }
        }
    }
}

/// Adds what another model has, as one item.
fn merge(model: &mut Model, other: Model, item: usize) {
    let (facets, surfaces) = (model.facets.len(), model.surfaces);
    model.surfaces += other.surfaces;
    model.facets.extend(other.facets.into_iter().map(|facet| model::Facet {
        item,
        surface: facet.surface + surfaces,
        ..facet
    }));
    let moved =
        |edge: model::Edge| model::Edge { facets: edge.facets.map(|facet| facet + facets), ..edge };
    model.edges.extend(other.edges.into_iter().map(moved));
}

fn instance(part: &Part, folded: &FoldedPart, place: &Place) -> Room<SiteFrame> {
    let seats: Vec<_> = folded.faces.iter().map(|face| face.then(place)).collect();
    let mut room = Room::empty();
    room.add_part(part, &seats);
    for (face, seat) in part.faces.iter().zip(&seats) {
        let far = face.outline.vertices.iter().map(|v| seat.lifted(v.at, part.thickness));
        far.for_each(|p| room.add(p));
    }
    room
}

/// The surroundings of one instance, the nearest to the kit's middle, where all parts of the step
/// are small in the kit and stand more than once.
fn focus(kit: &Kit, folded: &[FoldedPart], now: &[usize]) -> Option<Room<SiteFrame>> {
    let all = ghost::room(kit, folded);
    let middle = (all.low + all.high) * 0.5;
    let instances = now.iter().flat_map(|&i| {
        kit.parts[i].places.iter().map(move |place| instance(&kit.parts[i], &folded[i], place))
    });
    let instances: Vec<Room<SiteFrame>> = instances.collect();
    let largest = instances.iter().map(longest).fold(0.0, f64::max);
    if instances.len() < 2 || longest(&all) < SMALL * largest {
        return None;
    }
    let away = |room: &Room<SiteFrame>| ((room.low + room.high) * 0.5).distance(middle);
    let nearest = instances.into_iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
    Some(nearest.grown([ABOUT * largest; 3]))
}

fn corners(room: &Room<SiteFrame>) -> impl Iterator<Item = Point3<SiteFrame>> {
    let ends = [room.low, room.high];
    (0..8).map(move |i: usize| Point3::new(ends[i & 1].x, ends[i >> 1 & 1].y, ends[i >> 2 & 1].z))
}

fn flat(p: Spot) -> Point<ViewFrame> {
    Point::new(p.x, p.y)
}
