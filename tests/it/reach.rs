//! Whether fasteners can be set: two plates riveted together, and things in the way of the tool,
//! the head and the far end. Sizes of the tool are the shop's: nose 20 by 35, body 30 by 160, far
//! end 7.2 by 3 beyond the rivet.

use blankwright::fold::{FoldedPart, fold};
use blankwright::geom::{FaceFrame, Path, Point, Point3, Pose};
use blankwright::kit::{Hole, HoleShape, Joint, JointMember, Kit, Member, Part, SetFrom};
use blankwright::solid::{Need, Owner, Scene, unreachable};

use crate::bracket;
use crate::law_stock::STOCK;

/// A plate of 2 mm and the hole h1 of a rivet 20, 20 from its corner.
fn plate(number: &str, width: f64, height: f64) -> Part {
    let mut part = bracket::kit().parts.remove(0);
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
    let corners: Vec<Point<FaceFrame>> = corners.iter().map(|&(x, y)| Point::new(x, y)).collect();
    part.number = number.to_owned();
    part.name = number.to_owned();
    part.faces.truncate(1);
    part.faces[0].outline = Path::polygon(&corners);
    part.faces[0].holes.truncate(1);
    part.bends.clear();
    part.places.truncate(1);
    part
}

/// A plate square to the rivet's axis, its underside at this height over 0.
fn lying(number: &str, z: f64) -> Part {
    let mut part = plate(number, 400.0, 400.0);
    part.faces[0].holes.clear();
    part.places = vec![Pose::identity().shifted(Point3::new(-180.0, -180.0, z))];
    part
}

/// Two plates, the upper one at z = 2..4, riveted at 20, 20 and set from above; and a third part.
fn kit(third: Vec<Part>) -> Kit {
    let (lower, mut upper) = (plate("lower", 60.0, 40.0), plate("upper", 60.0, 40.0));
    upper.places = vec![Pose::identity().shifted(Point3::new(0.0, 0.0, 2.0))];
    let member = |part| JointMember::Hole { part, place: 0, hole: "h1".to_owned() };
    let mut kit = bracket::kit();
    let joint = Joint { pairs: vec![vec![member(1), member(0)]], ..kit.joints.remove(0) };
    let parts = [vec![lower, upper], third].concat();
    Kit { parts, joints: vec![joint], ..kit }
}

/// What has no room, with its depth and the number of the part in the way.
fn blocked(kit: &Kit) -> Option<(Need, f64, String)> {
    let folded: Vec<FoldedPart> = kit.parts.iter().map(fold).collect();
    let scene = Scene::of(kit, &folded);
    let found = unreachable(&scene, &STOCK.shelf, &kit.joints[0]);
    let it = found.first()?;
    let Owner::Part { part, .. } = it.side.owner else { return None };
    Some((it.need, it.depth, kit.parts[part].number.clone()))
}

#[track_caller]
fn assert_blocked(kit: &Kit, need: Need, by: &str, depth: f64) {
    let (what, found, who) = blocked(kit).unwrap();
    assert_eq!((what, who.as_str()), (need, by));
    // A tool's cylinder is a prism within 1 % of its radius.
    assert!((found - depth).abs() < 0.1, "{found} instead of {depth}");
}

#[test]
fn nothing_is_in_the_way() {
    assert_eq!(blocked(&kit(Vec::new())), None);
}

/// A plate on edge, 9 mm from the rivet's axis: the nose of radius 10 enters it by 1.
#[test]
fn a_wall_too_near_for_the_nose() {
    let mut wall = plate("wall", 60.0, 40.0);
    wall.faces[0].holes.clear();
    let (along, up) = (Point3::new(0.0, 1.0, 0.0), Point3::new(0.0, 0.0, 1.0));
    let at = |x: f64| vec![Pose::new(along, up, Point3::new(x, -10.0, 4.0))];
    wall.places = at(29.0);
    let mut kit = kit(vec![wall]);
    assert_blocked(&kit, Need::Tool, "wall", 1.0);
    kit.parts[2].places = at(30.1);
    assert_eq!(blocked(&kit), None, "the body leans away from it");
    kit.parts[2].places = at(29.0);
    kit.joints[0].setting.before = vec![2];
    assert_eq!(blocked(&kit), None, "it is fitted later");
}

/// A rivet of 8 clamps 4 and reaches 8 + 3 - 4 = 7 below the lower plate.
#[test]
fn no_room_for_the_far_end() {
    assert_blocked(&kit(vec![lying("floor", -5.0)]), Need::Far, "floor", 2.0);
    assert_blocked(&kit(vec![lying("floor", -8.5)]), Need::Far, "floor", 0.5);
    assert_eq!(blocked(&kit(vec![lying("floor", -9.1)])), None);
}

#[test]
fn no_room_for_the_head() {
    let cover = kit(vec![lying("cover", 5.0)]);
    assert_blocked(&cover, Need::Head, "cover", 1.0);
}

/// Above 35 of nose the body lies across with 15 to each side: 54 is enough over the face at 4.
#[test]
fn a_tool_with_an_angle_head_works_under_a_low_roof() {
    assert_eq!(blocked(&kit(vec![lying("roof", 54.1)])), None);
    let low = blocked(&kit(vec![lying("roof", 50.0)])).unwrap();
    assert_eq!((low.0, low.2.as_str()), (Need::Tool, "roof"));
}

#[test]
fn a_tool_reaches_through_an_opening() {
    let mut roof = lying("roof", 50.0);
    let opening = Hole {
        id: "h9".to_owned(),
        centre: Point::new(200.0, 200.0),
        shape: HoleShape::Rectangle(31.0, 31.0, 0.0),
        purpose: "hand hole".to_owned(),
        joint: None,
        sunk: None,
    };
    roof.faces[0].holes = vec![opening];
    let mut kit = kit(vec![roof]);
    kit.joints[0].setting.through = Some((2, "hand hole".to_owned()));
    assert_eq!(blocked(&kit), None);
    kit.parts[2].faces[0].holes[0].shape = HoleShape::Rectangle(28.0, 31.0, 0.0);
    assert_eq!(blocked(&kit).unwrap().2, "roof", "1 mm too narrow on each side");
    kit.parts[2].faces[0].holes[0].purpose = "drain".to_owned();
    assert_eq!(blocked(&kit).unwrap().2, "roof", "no such opening");
}

#[test]
fn the_side_it_is_set_from() {
    let mut kit = kit(vec![lying("roof", 12.5)]);
    assert_eq!(blocked(&kit).unwrap().0, Need::Tool);
    kit.joints[0].setting.from = SetFrom::To;
    assert_eq!(blocked(&kit), None);
}

/// A fork pocket 300 wide and 100 high whose mouth lies in the plane y = 0: a plate 1 mm before it
/// closes it, one above it does not.
#[test]
fn the_mouth_of_a_hollow_stays_open() {
    let upright = |z: f64| {
        let (x, up) = (Point3::new(1.0, 0.0, 0.0), Point3::new(0.0, 0.0, 1.0));
        let mut part = plate("apron", 200.0, 50.0);
        part.faces[0].holes.clear();
        // The sheet lies from y = -3 to y = -1.
        part.places = vec![Pose::new(x, up, Point3::new(0.0, -1.0, z))];
        part
    };
    let mouths = |parts: Vec<Part>| {
        let mut kit = kit(parts);
        kit.container.wall = None;
        kit.container.members = vec![Member {
            name: "fork pocket".to_owned(),
            hollow: true,
            low: Point3::new(-50.0, 0.0, -200.0),
            high: Point3::new(250.0, 2400.0, -100.0),
        }];
        kit.keep_outs.clear();
        let folded: Vec<FoldedPart> = kit.parts.iter().map(fold).collect();
        let clashes = Scene::of(&kit, &folded).intrusions(0.1);
        clashes.iter().map(|c| (c.sides[1].owner, c.shared.depth)).collect::<Vec<_>>()
    };
    // 20 mm of the plate hang before the mouth; the shared body is as thin as the sheet.
    let [(owner, depth)] = mouths(vec![upright(-120.0)])[..] else { panic!("one mouth is closed") };
    assert_eq!(owner, Owner::Mouth(0));
    assert!((depth - 2.0).abs() < 1e-6, "{depth}");
    assert!(mouths(vec![upright(-100.0)]).is_empty());
}
