//! Several kits in one box: each in its place beside the others. What shares space, what overlaps
//! in a wall and what is bolted together is found here.

use super::Built;
use super::build::Worked;
use super::meeting::{Meetings, meetings};
use crate::fold::FoldedPart;
use crate::geom::{BoxFrame, Point3, Pose, SiteFrame};
use crate::kit::{Container, KeepOut, Kit, Neighbour, Part, Shape};
use crate::mate::{Host, fasteners};
use crate::note::{Finding, Notes, Severity};
use crate::resolve::{Resolved, SiteContainer};
use crate::shelf::{Fastener, Shelf, WallName};
use crate::solid::{Owner, Scene, TOUCH};
use crate::units::{in_inches, in_mm};

type ToBox = Pose<SiteFrame, BoxFrame>;

/// One kit of a file with what is said about it, and with what came of it.
type Made = (Built, Option<Worked>);

/// Sets the kits beside one another: tells what is wrong between them, and what joins them.
pub(super) fn together(made: &mut [Made], shelf: &Shelf) {
    for first in 0..made.len() {
        for second in first + 1..made.len() {
            let (before, after) = made.split_at_mut(second);
            let [(told, one), (also, other)] = [&mut before[first], &mut after[0]];
            let (Some(one), Some(other)) = (one, other) else { continue };
            let found = pair(one, other, shelf);
            found.all().iter().for_each(|finding| told.notes.add(finding.clone()));
            found.all().iter().for_each(|finding| also.notes.add(finding.clone()));
        }
    }
    made.iter_mut().filter_map(|(_, worked)| worked.as_mut()).for_each(|it| order(it, shelf));
}

/// Enters what a kit orders for its neighbours among its fasteners.
fn order(worked: &mut Worked, shelf: &Shelf) {
    let Worked { kit, folded, .. } = worked;
    let host =
        Host { wall: kit.container.wall.as_ref(), container: shelf.container(&kit.container.id) };
    let joined = (kit.joints.as_slice(), kit.neighbours.as_slice());
    kit.fasteners = fasteners(joined, shelf, (&kit.parts, folded), host);
}

/// From a kit's site frame to its box: origin in the middle of the box on the finished floor, X
/// towards the doors, Z up.
pub(super) fn in_box(resolved: &Resolved, shelf: &Shelf) -> Option<ToBox> {
    let site = resolved.container.as_ref()?;
    let data = shelf.container(&site.id)?;
    let (half, side) = (data.outside.length / 2.0, data.outside.width / 2.0 - data.fitting.proud);
    let pose = |x: [f64; 2], y: [f64; 2], at: [f64; 2]| {
        let flat = |[x, y]: [f64; 2]| Point3::new(x, y, 0.0);
        Pose::new(flat(x), flat(y), flat(at))
    };
    let Some(layout) = &site.layout else {
        let reach = half + resolved.scope.number("ends.gap")? / 2.0;
        return Some(match near_end(site) {
            WallName::DoorEnd => pose([1.0, 0.0], [0.0, 1.0], [reach, 0.0]),
            _ => pose([-1.0, 0.0], [0.0, -1.0], [-reach, 0.0]),
        });
    };
    let along = site.shift - layout.length / 2.0;
    Some(match layout.name {
        WallName::Left => pose([1.0, 0.0], [0.0, 1.0], [along, -side]),
        WallName::Right => pose([-1.0, 0.0], [0.0, -1.0], [-along, side]),
        _ => pose([0.0, -1.0], [1.0, 0.0], [data.fitting.proud - half, -along]),
    })
}

/// Which end of the near box faces the gap: the doors where it has a header.
fn near_end(site: &SiteContainer) -> WallName {
    let mut members = site.members.iter();
    let header = members.any(|m| m.name.contains("door header") && m.name.ends_with("near box"));
    if header { WallName::DoorEnd } else { WallName::FrontEnd }
}

/// What is wrong between two kits; each learns of the other.
fn pair(first: &mut Worked, second: &mut Worked, shelf: &Shelf) -> Notes {
    let mut told = Notes::default();
    let (Some(a), Some(b)) = (first.in_box, second.in_box) else { return told };
    let to_first = b.then(&a.inverse());
    clashes((first, second), &to_first, &mut told);
    openings((&mut first.kit, &mut second.kit), &to_first, &mut told);
    let met = meetings([first, second], &to_first, shelf);
    let names = [&first.kit.number, &second.kit.number].map(String::clone);
    misses(&met, &names, &mut told);
    grips(&met, &names, shelf, &mut told);
    let here = neighbour(second, &to_first, &met);
    let there = neighbour(first, &to_first.inverse(), &met);
    note(&mut first.kit, &here, shelf);
    note(&mut second.kit, &there, shelf);
    first.kit.neighbours.push(here);
    second.kit.neighbours.push(there);
    told
}

/// One kit as the other sees it.
fn neighbour(worked: &Worked, to_site: &Pose<SiteFrame, SiteFrame>, met: &Meetings) -> Neighbour {
    let mut boxes = Vec::new();
    for (part, folded) in worked.kit.parts.iter().zip(&worked.folded) {
        boxes.extend(part.places.iter().map(|place| around(part, folded, &place.then(to_site))));
    }
    Neighbour {
        kit: worked.kit.number.clone(),
        title: worked.kit.title.clone(),
        to_site: *to_site,
        boxes,
        bolts: met.found.clone(),
    }
}

/// The upright box around an instance.
fn around(
    part: &Part,
    folded: &FoldedPart,
    place: &Pose<crate::geom::PartFrame, SiteFrame>,
) -> [Point3<SiteFrame>; 2] {
    let inf = f64::INFINITY;
    let mut corners = [Point3::new(inf, inf, inf), Point3::new(-inf, -inf, -inf)];
    for (face, pose) in part.faces.iter().zip(&folded.faces) {
        let seat = pose.then(place);
        for vertex in &face.outline.vertices {
            corners = grown(corners, seat.lifted(vertex.at, 0.0));
        }
    }
    corners
}

fn grown([low, high]: [Point3<SiteFrame>; 2], p: Point3<SiteFrame>) -> [Point3<SiteFrame>; 2] {
    [
        Point3::new(low.x.min(p.x), low.y.min(p.y), low.z.min(p.z)),
        Point3::new(high.x.max(p.x), high.y.max(p.y), high.z.max(p.z)),
    ]
}

/// Parts of one kit against parts and keep-outs of the other; keep-outs against keep-outs.
fn clashes(
    (first, second): (&Worked, &Worked),
    to_first: &Pose<SiteFrame, SiteFrame>,
    notes: &mut Notes,
) {
    let own = first.kit.parts.len();
    let kept = first.kit.keep_outs.len();
    let kit = both((&first.kit, &second.kit), to_first);
    let folded: Vec<FoldedPart> = first.folded.iter().chain(&second.folded).cloned().collect();
    let scene = Scene::of(&kit, &folded);
    let mine = |owner: Owner| match owner {
        Owner::Part { part, .. } => part < own,
        Owner::KeepOut(i) => i < kept,
        Owner::Wall | Owner::Member(_) | Owner::Mouth(_) => true,
    };
    let word = |owner: Owner| match owner {
        Owner::Part { part, .. } => {
            format!("{} ({})", kit.parts[part].number, kit.parts[part].name)
        }
        Owner::KeepOut(i) => format!("what must stay free: {}", kit.keep_outs[i].name),
        Owner::Wall | Owner::Member(_) | Owner::Mouth(_) => String::new(),
    };
    let all = [scene.clashes(TOUCH), scene.intrusions(TOUCH), scene.shared_room(TOUCH)];
    for clash in all.iter().flatten() {
        let [a, b] = clash.sides.map(|side| side.owner);
        if mine(a) == mine(b) {
            continue;
        }
        let (depth, at) = (clash.shared.depth, clash.shared.at);
        let message = format!(
            "{} and {} share space, {depth:.2} mm deep, at X {:.1}, Y {:.1}, Z {:.1} of {}",
            word(a),
            word(b),
            at.x,
            at.y,
            at.z,
            first.kit.number
        );
        let found = match (a, b) {
            (Owner::KeepOut(_), Owner::KeepOut(_)) => room(message, &second.kit.number),
            _ => between("kits.clash", message, &second.kit.number),
        };
        notes.add(found.measured(depth, TOUCH, "mm"));
    }
}

/// Two kits that ask for the same room: two leaves may take turns in it, a strut and a door cannot.
fn room(message: String, about: &str) -> Finding {
    let found = between("kits.room", message, about);
    Finding { severity: Severity::Warning, ..found }
        .help("move one of the kits, unless the two never need that room at once")
}

fn between(check: &'static str, message: String, about: &str) -> Finding {
    let help = "move one of the kits along its wall, or change its size";
    Finding::error(check, message).about(about.to_string()).source("geometry").help(help)
}

/// Both kits as one, in the first one's site, without the container.
fn both((first, second): (&Kit, &Kit), to_first: &Pose<SiteFrame, SiteFrame>) -> Kit {
    let mut kit = first.clone();
    kit.container = Container { wall: None, members: Vec::new(), ..first.container.clone() };
    kit.parts.extend(second.parts.iter().map(|part| Part {
        // Keep-outs except parts by name; those of the other kit are not meant.
        name: format!("{} of {}", part.name, second.number),
        places: part.places.iter().map(|place| place.then(to_first)).collect(),
        ..part.clone()
    }));
    kit.keep_outs.extend(second.keep_outs.iter().map(|keep_out| KeepOut {
        name: format!("{} of {}", keep_out.name, second.number),
        shape: moved(&keep_out.shape, to_first),
        except: Vec::new(),
    }));
    kit
}

/// A volume in another kit's site; boxes stay upright, since kits stand at right angles.
fn moved(shape: &Shape, to: &Pose<SiteFrame, SiteFrame>) -> Shape {
    match shape {
        Shape::Box { low, high } => {
            let inf = f64::INFINITY;
            let start = [Point3::new(inf, inf, inf), Point3::new(-inf, -inf, -inf)];
            let [low, high] = [*low, *high].iter().fold(start, |c, p| grown(c, to.point(*p)));
            Shape::Box { low, high }
        }
        Shape::Cylinder { ends, radius } => {
            Shape::Cylinder { ends: ends.map(|end| to.point(end)), radius: *radius }
        }
        Shape::Swept { path, bend_radius, across, size } => Shape::Swept {
            path: path.iter().map(|p| to.point(*p)).collect(),
            bend_radius: *bend_radius,
            across: to.vector(*across),
            size: *size,
        },
    }
}

/// Two openings in one wall must not overlap; who cuts one must know of the other.
fn openings(
    (a, b): (&mut Kit, &mut Kit),
    to_first: &Pose<SiteFrame, SiteFrame>,
    notes: &mut Notes,
) {
    let cut = |kit: &Kit| {
        let wall = kit.container.wall.as_ref()?;
        Some((wall.cuts?, wall.cut_heights?, wall.ends[1] - wall.ends[0]))
    };
    let (Some((xa, za, length)), Some((xb, zb, _))) = (cut(a), cut(b)) else { return };
    if to_first.x_axis.x <= 0.5 || 1.0 <= to_first.shift.y.abs() {
        return;
    }
    let xb = xb.map(|x| x + to_first.shift.x);
    let beside = (xb[0] - xa[1]).max(xa[0] - xb[1]);
    let apart = beside.max(zb[0] - za[1]).max(za[0] - zb[1]);
    if apart < 0.0 {
        let message =
            format!("the openings of {} and {} overlap by {:.1} mm", a.number, b.number, -apart);
        notes.add(between("kits.openings", message, &b.number).measured(-apart, 0.0, "mm"));
    }
    let share = 100.0 * (xa[1] - xa[0] + xb[1] - xb[0]) / length;
    let numbers = [&a.number, &b.number].map(String::clone);
    for (kit, other) in [(a, &numbers[1]), (b, &numbers[0])] {
        let far = if kit.inches { in_inches(apart) } else { in_mm(apart) };
        kit.cautions.push(format!(
            "{other} is cut into the same wall, {far} from this opening: both take {share:.0} % of the wall. Cut and frame one, its fasteners set, before the other is cut."
        ));
    }
}

/// Holes for one fastener that nearly meet.
fn misses(met: &Meetings, [a, b]: &[String; 2], notes: &mut Notes) {
    if let Some((fastener, by)) = &met.missed {
        let message = format!("holes of {a} and {b} for {fastener} stand {by:.2} mm apart");
        notes.add(between("kits.holes", message, b).measured(*by, 0.05, "mm"));
    }
}

/// What the kits are bolted with must clamp it.
fn grips(met: &Meetings, [a, b]: &[String; 2], shelf: &Shelf, notes: &mut Notes) {
    for meeting in &met.found {
        let fastener = shelf.fastener(&meeting.fastener);
        if fastener.is_some_and(|f: &Fastener| f.for_grip(meeting.grip).is_none()) {
            let message = format!(
                "{a} and {b}: {} clamps {:.2} mm, which no length of it takes",
                meeting.fastener, meeting.grip
            );
            notes.add(between("kits.grip", message, b).measured(meeting.grip, 0.0, "mm"));
        }
    }
}

/// A sentence about the neighbour in the kit's notes.
fn note(kit: &mut Kit, other: &Neighbour, shelf: &Shelf) {
    let mut text = format!("In the same box: {}, {}.", other.kit, other.title);
    for meeting in &other.bolts {
        let fastener = shelf.fastener(&meeting.fastener);
        let title = fastener.map_or(meeting.fastener.as_str(), |f| f.title.as_str());
        let length = fastener.and_then(|f| f.for_grip(meeting.grip)).map_or(0.0, |g| g.length);
        let here = meeting.ordered_by != other.kit;
        let who = if here { "they come with this kit" } else { "they come with that kit" };
        text += &format!(
            " Bolted together: {} of {title}, {length} mm long, through {:.1} mm; {who}.",
            meeting.count, meeting.grip
        );
    }
    kit.notes.push(text);
}
