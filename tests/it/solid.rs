//! How deep things share space: small parts in places whose depths are worked out by hand.

use blankwright::fold::{FoldedPart, fold};
use blankwright::geom::{FaceFrame, PartFrame, Path, Point, Point3, Pose, SiteFrame};
use blankwright::kit::{HoleShape, KeepOut, Kit, Member, Part, Sense, Shape};
use blankwright::solid::{Clash, Owner, PieceOf, Scene, TOUCH};

use crate::bracket;

type Place = Pose<PartFrame, SiteFrame>;

/// The place whose x and y point along two directions of the site.
fn place(x: [f64; 3], y: [f64; 3], shift: [f64; 3]) -> Place {
    let point = |[x, y, z]: [f64; 3]| Point3::new(x, y, z);
    Pose::new(point(x).unit(), point(y).unit(), point(shift))
}

fn upright(shift: [f64; 3]) -> Place {
    place([1.0, 0.0, 0.0], [0.0, 1.0, 0.0], shift)
}

/// A flat plate of 2 mm without holes, its lower left corner at the origin of its frame.
fn plate(width: f64, height: f64, at: Place) -> Part {
    let mut part = bracket::kit().parts.remove(0);
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
    let corners: Vec<Point<FaceFrame>> = corners.iter().map(|&(x, y)| Point::new(x, y)).collect();
    part.faces.truncate(1);
    part.faces[0].outline = Path::polygon(&corners);
    part.faces[0].holes.clear();
    part.bends.clear();
    part.places = vec![at];
    part
}

/// The bracket: base 100 x 40 in the plane z = 0..2, leg up to z = 30 with its outer face at
/// x = 100, outer radius 4 about the axis x = 96, z = 4.
fn angle(at: Place) -> Part {
    let mut part = bracket::kit().parts.remove(0);
    part.faces.iter_mut().for_each(|face| face.holes.clear());
    part.places = vec![at];
    part
}

fn kit(parts: Vec<Part>) -> Kit {
    Kit { parts, joints: Vec::new(), ..bracket::kit() }
}

fn folded(kit: &Kit) -> Vec<FoldedPart> {
    kit.parts.iter().map(fold).collect()
}

fn clashes(kit: &Kit) -> Vec<Clash> {
    Scene::of(kit, &folded(kit)).clashes(TOUCH)
}

fn intrusions(kit: &Kit) -> Vec<Clash> {
    Scene::of(kit, &folded(kit)).intrusions(TOUCH)
}

/// The depth of the only clash; 0 when there is none.
fn depth(parts: Vec<Part>) -> f64 {
    let found = clashes(&kit(parts));
    assert!(found.len() <= 1, "{found:?}");
    found.first().map_or(0.0, |clash| clash.shared.depth)
}

#[track_caller]
fn assert_near(found: f64, meant: f64, within: f64) {
    assert!((found - meant).abs() <= within, "{found} instead of {meant}");
}

#[test]
fn touching_plates_do_not_clash() {
    assert_eq!(
        depth(vec![
            plate(50.0, 40.0, upright([0.0; 3])),
            plate(50.0, 40.0, upright([0.0, 0.0, 2.0]))
        ]),
        0.0
    );
}

#[test]
fn a_sliver_of_the_limit_is_none_and_a_little_more_is_one() {
    let two = |lift: f64| {
        depth(vec![
            plate(50.0, 40.0, upright([0.0; 3])),
            plate(50.0, 40.0, upright([7.0, 3.0, lift])),
        ])
    };
    assert_eq!(two(1.95), 0.0);
    assert_eq!(two(1.901), 0.0);
    assert_near(two(1.89), 0.11, 1e-9);
    assert_near(two(1.85), 0.15, 1e-9);
}

/// A plate turned about y by 45 degrees stands with its lower edge, of 90 degrees, in the other's
/// face. The shared body is a prism over a triangle whose least height is the depth of the edge.
#[test]
fn an_edge_is_as_deep_as_it_stands_in() {
    let s = f64::sqrt(0.5);
    let edge = |depth: f64| {
        let lean = place([s, 0.0, s], [0.0, 1.0, 0.0], [20.0, 5.0, 2.0 - depth]);
        vec![plate(50.0, 40.0, upright([0.0; 3])), plate(30.0, 20.0, lean)]
    };
    assert_eq!(depth(edge(0.09)), 0.0);
    assert_near(depth(edge(0.11)), 0.11, 1e-9);
    assert_near(depth(edge(0.5)), 0.5, 1e-9);
}

/// A plate leans at 45 degrees against the bend. The cylinder's radius is 4; the virtual sharp
/// corner would stand 4 (sqrt 2 - 1) = 1.657 mm farther out.
#[test]
fn a_bend_is_a_cylinder() {
    let s = f64::sqrt(0.5);
    // The plate's upper face looks at the bend: its normal is (-1, 0, 1) / sqrt 2, and it stands
    // `depth` nearer to the axis than the radius.
    let against = |depth: f64| {
        let normal = [-s, 0.0, s];
        let out = 4.0 - depth + 2.0;
        let origin = [96.0 - normal[0] * out - 10.0 * s, 5.0, 4.0 - normal[2] * out - 10.0 * s];
        vec![
            angle(upright([0.0; 3])),
            plate(20.0, 20.0, place([s, 0.0, s], [0.0, 1.0, 0.0], origin)),
        ]
    };
    assert_eq!(depth(against(-0.05)), 0.0);
    assert_eq!(depth(against(0.05)), 0.0);
    assert_near(depth(against(0.15)), 0.15, 0.002);
    let found = clashes(&kit(against(0.15)));
    let sides = found[0].sides.map(|side| side.of);
    assert_eq!(sides, [Some(PieceOf::Bend(0)), Some(PieceOf::Face(0))]);
    // Where the cylinder is: 4 from the axis, at 45 degrees below it, give or take one chord.
    let at = found[0].shared.at;
    assert_near(at.x, 96.0 + 4.0 * s, 0.6);
    assert_near(at.z, 4.0 - 4.0 * s, 0.6);
}

#[test]
fn a_strip_passes_through_a_cut_out() {
    let strip =
        |y: f64| plate(10.0, 30.0, place([0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [40.0, y, -10.0]));
    let mut sheet = plate(100.0, 40.0, upright([0.0; 3]));
    sheet.faces[0].holes = bracket::kit().parts[0].faces[0].holes.clone();
    sheet.faces[0].holes.truncate(1);
    sheet.faces[0].holes[0].centre = Point::new(41.0, 20.0);
    sheet.faces[0].holes[0].shape = HoleShape::Rectangle(4.0, 12.0, 90.0);
    // The strip is 2 x 10, the cut-out 4 x 12 about it.
    assert_eq!(depth(vec![sheet.clone(), strip(15.0)]), 0.0);
    assert_eq!(depth(vec![sheet.clone(), strip(16.05)]), 0.0);
    assert_near(depth(vec![sheet, strip(16.25)]), 0.25, 1e-6);
}

/// A square tube of 20 whose last leg meets the first: the leg of 20 ends 2 mm inside the first,
/// that of 17.9 just touches.
#[test]
fn a_part_that_folds_into_itself() {
    let tube = |last: f64| {
        let mut part = angle(upright([0.0; 3]));
        let (first, bend) = (part.faces[1].clone(), part.bends[0].clone());
        let flat = |from: f64, to: f64| {
            let corners = [(from, 0.0), (to, 0.0), (to, 40.0), (from, 40.0)];
            Path::polygon(&corners.map(|(x, y)| Point::new(x, y)))
        };
        part.faces[0].outline = flat(0.0, 16.0);
        part.bends[0].edge = [Point::new(16.0, 0.0), Point::new(16.0, 40.0)];
        part.faces[1].outline = flat(4.0, 16.0);
        for (index, to) in [(2, 16.0), (3, last)] {
            let mut face = first.clone();
            face.name = format!("leg{index}");
            face.outline = flat(4.0, to);
            part.faces.push(face);
            let mut next = bend.clone();
            next.name = format!("bend{index}");
            (next.parent, next.child) = (index - 1, index);
            next.edge = [Point::new(16.0, 0.0), Point::new(16.0, 40.0)];
            part.bends.push(next);
        }
        part.bends.iter_mut().for_each(|bend| bend.sense = Sense::Up);
        part
    };
    // The first leg's upper face lies at 2; the last leg comes down to 20 - its size.
    assert_eq!(depth(vec![tube(18.0)]), 0.0);
    assert_eq!(depth(vec![tube(18.05)]), 0.0);
    assert_near(depth(vec![tube(18.3)]), 0.3, 1e-9);
}

#[test]
fn a_keep_out_is_kept_but_for_its_exceptions() {
    let at = |y: f64| Point3::new(-50.0, y, 12.0);
    let rod = |except: Vec<String>| KeepOut {
        name: "shaft".to_owned(),
        shape: Shape::Cylinder { ends: [at(20.0), Point3::new(150.0, 20.0, 12.0)], radius: 10.3 },
        except,
    };
    let mut kit = kit(vec![plate(50.0, 40.0, upright([0.0; 3]))]);
    kit.keep_outs = vec![rod(Vec::new())];
    // The plate's upper face is 10 below the axis.
    assert_near(intrusions(&kit)[0].shared.depth, 0.3, 10.3 * 0.0011);
    kit.keep_outs = vec![rod(vec!["bracket".to_owned()])];
    assert!(intrusions(&kit).is_empty());
}

/// A panel runs up at y = 0 and bends with radius 100 to run along +y: its outer face, 110 from the
/// bend's axis, passes a corner at 45 degrees that stands beyond it or in it.
#[test]
fn a_path_bends_about_its_radius() {
    let point = |y: f64, z: f64| Point3::new(0.0, y, z);
    let s = f64::sqrt(0.5);
    // The bend's axis is y = 100, z = 200; the plate's edge points at it from outside.
    let with = |gap: f64| {
        let (y, z) = (100.0 - (110.0 + gap) * s, 200.0 + (110.0 + gap) * s);
        let out = [0.0, -s, s];
        let mut kit = kit(vec![plate(40.0, 40.0, place([1.0, 0.0, 0.0], out, [-20.0, y, z]))]);
        kit.keep_outs = vec![KeepOut {
            name: "panel".to_owned(),
            shape: Shape::Swept {
                path: vec![point(0.0, 0.0), point(0.0, 300.0), point(400.0, 300.0)],
                bend_radius: 100.0,
                across: Point3::new(1.0, 0.0, 0.0),
                size: [80.0, 20.0],
            },
            except: Vec::new(),
        }];
        intrusions(&kit).first().map_or(0.0, |clash| clash.shared.depth)
    };
    assert_eq!(with(0.05), 0.0);
    assert_eq!(with(-0.05), 0.0);
    assert_near(with(-0.5), 0.5, 110.0 * 0.002);
}

#[test]
fn hollows_stop_nothing_and_rails_do() {
    let mut kit = kit(vec![plate(50.0, 40.0, upright([0.0; 3]))]);
    let member = |hollow| Member {
        name: "fork pocket".to_owned(),
        hollow,
        low: Point3::new(10.0, 10.0, 1.0),
        high: Point3::new(20.0, 20.0, 9.0),
    };
    kit.container.members = vec![member(true)];
    assert!(intrusions(&kit).is_empty());
    kit.container.members = vec![member(false)];
    let found = intrusions(&kit);
    assert_near(found[0].shared.depth, 1.0, 1e-9);
    assert_eq!(found[0].sides[1].owner, Owner::Member(0));
}

/// The wall of pitch 278: its outer flat lies at y = 0..1.6; beside the flat a slope of 36 on 68
/// rises at 27.9 degrees.
#[test]
fn the_wall_stands_where_it_is_not_cut() {
    let mut kit = kit(vec![plate(20.0, 20.0, place([1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [-10.0; 3]))]);
    kit.container.wall = Some(bracket::wall());
    // Between the cuts, between 10 and 2200.
    let mut at = |x: f64, y: f64, z: f64| {
        kit.parts[0].places = vec![place([1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [x, y, z])];
        intrusions(&kit).first().map_or(0.0, |clash| clash.shared.depth)
    };
    // The plate lies at y - 2 .. y: its z axis is x cross z = -y.
    assert_eq!(at(-10.0, 1.0, 100.0), 0.0, "in the cut");
    assert_near(at(-10.0, 1.0, 2190.0), 1.0, 1e-9);
    assert_near(at(-10.0, 0.25, 2190.0), 0.25, 1e-9);
    assert_eq!(at(-10.0, 0.05, 2190.0), 0.0);
    assert_eq!(at(-10.0, 3.6, 2190.0), 0.0, "it touches the inside of the flat");
    // Left of the cut, on the outer flat about -278, below the cut's top.
    assert_near(at(-300.0, 0.4, 100.0), 0.4, 1e-9);
    // On the slope, above the cut: the sheet's upper edge at y = depth / 2 is at x = 36 + 34.
    assert_eq!(at(71.0, 16.0, 2210.0), 0.0);
    assert!(at(71.0, 20.0, 2210.0) > 1.0);
}
