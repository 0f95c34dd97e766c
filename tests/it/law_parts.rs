//! Parts at random, written as the text of a family: profiles and plates with flanges on their
//! flanges, notches, tabs, holes, rounded corners, and ends that are set back or mitred.

use std::fmt::Write;

use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

use crate::law_stock::head;

/// Set back and mitre of an end.
type End = (f64, f64);

/// A leg of a profile.
#[derive(Debug, Clone)]
pub(crate) struct Leg {
    /// Outside size, mm.
    pub(crate) size: f64,
    /// Angle of the bend to its neighbour on the root's side.
    pub(crate) angle: f64,
    /// Its direction.
    pub(crate) up: bool,
    /// Its inside radius, where it is asked for.
    pub(crate) radius: Option<f64>,
    /// Lower and upper end.
    pub(crate) ends: [End; 2],
}

/// A flange and what is folded from its free edge.
#[derive(Debug, Clone)]
pub(crate) struct Flange {
    size: f64,
    angle: f64,
    up: bool,
    ends: [End; 2],
    next: Option<Box<Flange>>,
}

/// A part of the laws.
#[derive(Debug, Clone)]
pub(crate) struct Trial {
    /// Thickness, mm.
    pub(crate) thickness: f64,
    /// Legs of a profile; a plate has none.
    pub(crate) legs: Vec<Leg>,
    /// The leg that stays.
    pub(crate) root: usize,
    /// Length of the sweep, or sides of the plate.
    pub(crate) sides: [f64; 2],
    /// Flanges on the four sides: of the plate, or of the profile's last leg (right and top).
    pub(crate) flanges: [Option<Flange>; 4],
    /// Whether the edges and the root's face carry notches, tabs and holes.
    pub(crate) extras: bool,
    /// Rounded corners of the outermost leg or flange.
    pub(crate) corner: Option<f64>,
}

fn angle() -> impl Strategy<Value = f64> {
    prop_oneof![2 => 5.0..150.0_f64, 1 => Just(90.0), 1 => Just(45.0), 1 => 90.0..150.0_f64]
}

fn end() -> impl Strategy<Value = End> {
    prop_oneof![
        3 => Just((0.0, 0.0)),
        1 => (0.0..25.0_f64).prop_map(|back| (back, 0.0)),
        1 => (0.0..15.0_f64, -20.0..35.0_f64),
    ]
}

pub(crate) fn leg() -> impl Strategy<Value = Leg> {
    let radius = option::weighted(0.3, 0.5..6.0_f64);
    (30.0..120.0_f64, angle(), any::<bool>(), radius, [end(), end()])
        .prop_map(|(size, angle, up, radius, ends)| Leg { size, angle, up, radius, ends })
}

fn flange() -> impl Strategy<Value = Flange> {
    let simple = (28.0..60.0_f64, angle(), any::<bool>(), [side(), side()])
        .prop_map(|(size, angle, up, ends)| Flange { size, angle, up, ends, next: None });
    simple.prop_recursive(2, 3, 1, |inner| {
        (28.0..60.0_f64, angle(), any::<bool>(), [side(), side()], option::of(inner)).prop_map(
            |(size, angle, up, ends, next)| Flange {
                size,
                angle,
                up,
                ends,
                next: next.map(Box::new),
            },
        )
    })
}

/// A flange's side leans inwards, so that what is folded from its far edge keeps clear.
fn side() -> impl Strategy<Value = End> {
    prop_oneof![
        2 => Just((0.0, 0.0)),
        1 => (0.0..10.0_f64).prop_map(|back| (back, 0.0)),
        1 => (0.0..5.0_f64, 0.0..30.0_f64),
    ]
}

fn thickness() -> impl Strategy<Value = f64> {
    prop_oneof![Just(1.0), Just(1.5), Just(2.0), Just(3.0), 0.8..3.0_f64]
}

/// Profiles of two to six legs.
pub(crate) fn profile() -> impl Strategy<Value = Trial> {
    let legs = vec(leg(), 2..=6);
    let flanges = [option::weighted(0.4, flange()), option::weighted(0.3, flange())];
    (thickness(), legs, any::<prop::sample::Index>(), 250.0..900.0_f64, flanges, corners())
        .prop_map(|(thickness, legs, root, length, [right, top], (extras, corner))| Trial {
            thickness,
            root: root.index(legs.len()),
            legs,
            sides: [length, 0.0],
            flanges: [None, right, top, None],
            extras,
            corner,
        })
}

fn corners() -> impl Strategy<Value = (bool, Option<f64>)> {
    (any::<bool>(), option::weighted(0.3, 1.0..6.0_f64))
}

/// Plates with flanges on up to four sides.
pub(crate) fn plate() -> impl Strategy<Value = Trial> {
    let one = || option::weighted(0.7, flange());
    let flanges = [one(), one(), one(), one()];
    (thickness(), 220.0..500.0_f64, 200.0..400.0_f64, flanges, corners()).prop_map(
        |(thickness, width, height, flanges, (extras, corner))| Trial {
            thickness,
            legs: Vec::new(),
            root: 0,
            sides: [width, height],
            flanges,
            extras,
            corner,
        },
    )
}

/// Either.
pub(crate) fn part() -> impl Strategy<Value = Trial> {
    prop_oneof![profile(), plate()]
}

fn direction(up: bool) -> &'static str {
    if up { "up" } else { "down" }
}

fn end_text((back, mitre): End) -> String {
    format!("{{ back = {back:?}, mitre = {mitre:?} }}")
}

/// Where the part stands unless a law says otherwise: off the middle and turned about Z.
pub(crate) const PLACE: &str = "at = [-700, 35, 120], x = [0.6, 0.8, 0], y = [-0.8, 0.6, 0]";

impl Trial {
    /// The whole family.
    pub(crate) fn family(&self) -> String {
        head(self.thickness) + &self.part("piece", PLACE)
    }

    /// The part's text.
    pub(crate) fn part(&self, name: &str, place: &str) -> String {
        let mut text = format!(
            "\n[[parts]]\nname = \"{name}\"\ntitle = \"Piece\"\nsheet = \"plate\"\n\
             hands = \"both\"\nplaces = [{{ {place} }}]\n"
        );
        if self.legs.is_empty() {
            let [width, height] = self.sides;
            writeln!(text, "plate = {{ width = {width:?}, height = {height:?} }}").unwrap();
            self.edges(&mut text, "base");
        } else {
            self.profile(&mut text);
            self.edges(&mut text, &format!("leg{}", self.legs.len() - 1));
        }
        if self.extras {
            self.extras(&mut text);
        }
        text
    }

    fn profile(&self, text: &mut String) {
        writeln!(
            text,
            "[parts.profile]\nlength = {:?}\nroot = \"leg{}\"",
            self.sides[0], self.root
        )
        .unwrap();
        for (i, leg) in self.legs.iter().enumerate() {
            writeln!(text, "[[parts.profile.legs]]\nname = \"leg{i}\"\nsize = {:?}", leg.size)
                .unwrap();
            if i != self.root {
                let radius = leg.radius.map_or(String::new(), |r| format!("radius = {r:?}\n"));
                let bend = direction(leg.up);
                write!(text, "bend = \"{bend}\"\nangle = {:?}\n{radius}", leg.angle).unwrap();
            }
            let [bottom, top] = leg.ends.map(end_text);
            writeln!(text, "bottom = {bottom}\ntop = {top}").unwrap();
        }
    }

    fn edges(&self, text: &mut String, face: &str) {
        let names = ["bottom", "right", "top", "left"];
        let mut last = None;
        for (flange, edge) in self.flanges.iter().zip(names) {
            let mut on = format!("{face}.{edge}");
            for (depth, flange) in flange.iter().flat_map(Flange::chain).enumerate() {
                let name = format!("{edge}{depth}");
                flange.write(text, &name, &on);
                on = format!("{name}.top");
                last = Some(name);
            }
        }
        if let (Some(radius), Some(face)) = (self.corner, last) {
            writeln!(text, "[[parts.corners]]\nface = \"{face}\"\nradius = {radius:?}").unwrap();
        }
    }

    /// A notch on the first leg's free edge, a tab on the last one's; holes in the root.
    fn extras(&self, text: &mut String) {
        let (root, first) =
            if self.legs.is_empty() { ("base".into(), None) } else { self.root_and_first() };
        if let Some(first) = first {
            writeln!(
                text,
                "[[parts.notches]]\non = \"{first}.left\"\nfrom = 120\nto = 150\ndepth = 6\n\
                 [[parts.tabs]]\non = \"{first}.left\"\nfrom = 170\nto = 190\ndepth = 9"
            )
            .unwrap();
        }
        writeln!(
            text,
            "[[parts.holes]]\nface = \"{root}\"\nfor = \"drain\"\nsize = {{ diameter = 4 }}\n\
             holes = {{ at = [[15, 110]] }}\n\
             [[parts.holes]]\nface = \"{root}\"\nfor = \"drain\"\n\
             size = {{ slot = [4, 9], direction = 30 }}\nholes = {{ at = [[15, 150]] }}\n\
             [[parts.holes]]\nface = \"{root}\"\nfor = \"drain\"\n\
             size = {{ rectangle = [3, 8], direction = 70 }}\nholes = {{ at = [[15, 130]] }}"
        )
        .unwrap();
    }

    fn root_and_first(&self) -> (String, Option<&'static str>) {
        (format!("leg{}", self.root), Some("leg0"))
    }
}

impl Flange {
    /// Itself and what is folded from it, and from that.
    fn chain(&self) -> impl Iterator<Item = &Flange> {
        std::iter::successors(Some(self), |flange| flange.next.as_deref())
    }

    fn write(&self, text: &mut String, name: &str, on: &str) {
        let [left, right] = self.ends.map(end_text);
        let bend = direction(self.up);
        writeln!(
            text,
            "[[parts.flanges]]\nname = \"{name}\"\non = \"{on}\"\nsize = {:?}\nbend = \"{bend}\"\n\
             angle = {:?}\nleft = {left}\nright = {right}",
            self.size, self.angle
        )
        .unwrap();
    }
}
