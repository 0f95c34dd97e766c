//! Two containers end to end in the site frame of their joint: origin in the middle of the gap, on
//! the centre line, at the finished floor; X along the containers from the near one to the far one,
//! Y to the left looking along +X, Z up.

use super::values::Bench;
use super::{SiteContainer, SiteMember};
use crate::geom::{Point3, SiteFrame};
use crate::note::{Finding, Notes};
use crate::shelf::{Container, Shelf, WallName};
use crate::spec::Spec;
use crate::template::{EndsRule, Formula, Scope, Value};

/// The values that two ends bring with them, in order.
pub(super) const NAMES: [&str; 32] = [
    "container.other",
    "ends.width",
    "ends.side",
    "ends.proud",
    "ends.fitting_length",
    "ends.fitting_width",
    "ends.fitting_height",
    "ends.bottom",
    "ends.top",
    "ends.base",
    "ends.ceiling",
    "ends.roof",
    "ends.crown",
    "ends.post",
    "ends.rail",
    "ends.rail_height",
    "ends.sill",
    "ends.gap",
    "ends.gap_most",
    "ends.face",
    "near.length",
    "near.minus",
    "near.jamb",
    "near.head",
    "near.pocket",
    "near.tunnel",
    "far.length",
    "far.minus",
    "far.jamb",
    "far.head",
    "far.pocket",
    "far.tunnel",
];

/// Two containers before their ends are chosen: the near one, at X below 0, and the far one.
pub(super) struct Ends<'a> {
    near: &'a Container,
    /// The far box, with the near one's levels: what boxes of one kind differ in is built away.
    far: Container,
}

/// One end at the gap.
struct End<'a> {
    container: &'a Container,
    /// In words.
    title: &'static str,
    /// -1 for the near box, 1 for the far one.
    side: f64,
    /// Distance of its corner fittings' end faces from the middle of the gap, mm.
    start: f64,
    kind: WallName,
}

impl<'a> Ends<'a> {
    /// Finds both containers; what they have in common becomes values.
    pub(super) fn lay(
        spec: &Spec,
        shelf: &'a Shelf,
        scope: &mut Scope,
        notes: &mut Notes,
    ) -> Option<Self> {
        let choice = spec.container.as_ref()?;
        let near = super::site::find(&choice.kind, spec, shelf, notes)?;
        let other = choice.other.as_ref().unwrap_or(&choice.kind);
        let far = super::site::find(other, spec, shelf, notes)?;
        if let Some(why) = unlike(near, far) {
            let finding = Finding::error("ends.unlike", why).about("container.other");
            let help = "join boxes of one height and width";
            notes.add(finding.at(spec.place(&other.span)).help(help));
            return None;
        }
        let fitting = near.fitting;
        let numbers = [
            ("container.length", near.outside.length),
            ("container.inside_height", near.inside.height),
            ("ends.width", near.outside.width),
            ("ends.side", near.outside.width / 2.0 - fitting.proud),
            ("ends.proud", fitting.proud),
            ("ends.fitting_length", fitting.length),
            ("ends.fitting_width", fitting.width),
            ("ends.fitting_height", fitting.height),
            ("ends.bottom", -near.floor_level),
            ("ends.top", near.outside.height - near.floor_level),
            ("ends.base", fitting.below_base - near.floor_level),
            ("ends.ceiling", near.inside.height),
            ("ends.roof", near.inside.height + near.roof.thickness),
            ("ends.crown", near.inside.height + near.roof.thickness + near.roof.depth),
            ("ends.post", near.post[0]),
            ("ends.rail", near.top_rail.depth),
            ("ends.rail_height", near.top_rail.height),
            ("ends.sill", near.bottom_rail.lower_depth),
        ];
        numbers.iter().for_each(|(name, number)| scope.set_number(name, *number));
        scope.set("container.type", Value::Text(near.id.clone()));
        scope.set("container.other", Value::Text(far.id.clone()));
        let mut far = far.clone();
        far.floor_level = near.floor_level;
        far.inside.height = near.inside.height;
        far.outside.height = near.outside.height;
        far.outside.width = near.outside.width;
        Some(Self { near, far })
    }

    /// Sets the two boxes the gap apart, each with the end that the template names.
    pub(super) fn place(&self, rule: &EndsRule, bench: &mut Bench) -> Option<SiteContainer> {
        let gap = bench.number(&rule.gap)?;
        let kinds = [kind(&rule.near, bench)?, kind(&rule.far, bench)?];
        let minus = self.near.minus.length + self.far.minus.length;
        let start = gap / 2.0;
        let face = start + self.near.fitting.proud;
        for (name, number) in
            [("ends.gap", gap), ("ends.gap_most", gap + minus), ("ends.face", face)]
        {
            bench.scope.set_number(name, number);
        }
        let mut members = Vec::new();
        let [near, far] = kinds;
        for end in [
            End { container: self.near, title: "near", side: -1.0, start, kind: near },
            End { container: &self.far, title: "far", side: 1.0, start, kind: far },
        ] {
            for (name, number) in end.values() {
                bench.scope.set_number(&format!("{}.{name}", end.title), number);
            }
            members.extend(end.members());
        }
        let (id, near, far) = (self.near.id.clone(), &self.near.title, &self.far.title);
        let other = if near == far { "two" } else { far };
        let title = format!("{near}, {other} end to end");
        Some(SiteContainer { id, title, layout: None, shift: 0.0, cuts: None, lips: None, members })
    }
}

/// Boxes may differ by this in width and in every level, mm: what the standard's tolerances and
/// builders' habits bring.
const ALIKE: f64 = 5.0;

/// Why two containers cannot stand end to end.
fn unlike(near: &Container, far: &Container) -> Option<String> {
    let sizes = [
        ("outside width", near.outside.width, far.outside.width),
        ("outside height", near.outside.height, far.outside.height),
        ("floor level", near.floor_level, far.floor_level),
        ("inside height", near.inside.height, far.inside.height),
    ];
    let (what, a, b) = sizes.into_iter().find(|(_, a, b)| (a - b).abs() > ALIKE)?;
    Some(format!("the {} and the {} differ in {what}: {a} and {b} mm", near.title, far.title))
}

/// Which end of a box faces the gap.
fn kind(formula: &Formula, bench: &mut Bench) -> Option<WallName> {
    let value = bench.value(formula)?;
    let word = if let Value::Text(word) = &value { word.as_str() } else { "" };
    let kind = WallName::from_word(word)
        .filter(|name| matches!(name, WallName::DoorEnd | WallName::FrontEnd));
    if kind.is_none() {
        let message = format!("`{}` must give \"door-end\" or \"front-end\"", formula.text());
        bench.tell("template.ends", formula, message);
    }
    kind
}

impl End<'_> {
    /// Half the clear width between the posts: the doorway's, or what is left when the end wall is
    /// cut out along the posts.
    fn jamb(&self) -> f64 {
        match self.kind {
            WallName::DoorEnd => self.container.doorway[0] / 2.0,
            _ => self.container.outside.width / 2.0 - self.container.post[1],
        }
    }

    /// Z of the underside of door header or top end rail.
    fn head(&self) -> f64 {
        match self.kind {
            WallName::DoorEnd => self.container.doorway[1],
            _ => self.container.inside.height - self.container.top_rail.height,
        }
    }

    /// From the end's face to the nearest fork pocket; the middle of the box where it has none.
    fn pocket(&self) -> f64 {
        let half = self.container.outside.length / 2.0;
        let reach = self.container.fork_pockets.iter().map(|p| (p.centres + p.width) / 2.0);
        half - reach.fold(0.0, f64::max)
    }

    /// Length of the gooseneck tunnel at this end; 0 where there is none.
    fn tunnel(&self) -> f64 {
        let at_end = self.container.gooseneck.filter(|_| self.kind == WallName::FrontEnd);
        at_end.map_or(0.0, |tunnel| tunnel.length)
    }

    fn values(&self) -> [(&'static str, f64); 6] {
        let container = self.container;
        [
            ("length", container.outside.length),
            ("minus", container.minus.length),
            ("jamb", self.jamb()),
            ("head", self.head()),
            ("pocket", self.pocket()),
            ("tunnel", self.tunnel()),
        ]
    }

    /// A box from `x[0]` to `x[1]` beyond the fittings' end faces.
    fn block(&self, name: &str, x: [f64; 2], y: [f64; 2], z: [f64; 2]) -> SiteMember {
        let ends = x.map(|x| self.side * (self.start + x));
        let low: Point3<SiteFrame> = Point3::new(ends[0].min(ends[1]), y[0], z[0]);
        let high = Point3::new(ends[0].max(ends[1]), y[1], z[1]);
        SiteMember { name: format!("{name}, {} box", self.title), hollow: false, low, high }
    }

    fn members(&self) -> Vec<SiteMember> {
        let mut members: Vec<SiteMember> = [("right", -1.0), ("left", 1.0)]
            .into_iter()
            .flat_map(|side| self.corner(side))
            .collect();
        members.extend(self.end_rails());
        members.extend(self.length_wise());
        members
    }

    /// Post, fittings and side rails of one side; `y` is -1 for the right, 1 for the left.
    fn corner(&self, (word, y): (&str, f64)) -> [SiteMember; 5] {
        let c = self.container;
        let fitting = c.fitting;
        let half = c.outside.width / 2.0;
        let side = half - fitting.proud;
        let across = |from: f64, to: f64| if y < 0.0 { [-to, -from] } else { [from, to] };
        let (bottom, top) = (-c.floor_level, c.outside.height - c.floor_level);
        let (base, ceiling) = (bottom + fitting.below_base, c.inside.height);
        let ends = [fitting.length, c.outside.length - fitting.length];
        let fit = across(half - fitting.width, half);
        let low = [bottom, bottom + fitting.height];
        let high = [top - fitting.height, top];
        let post = [fitting.proud, c.post[0]];
        let crown = base + c.bottom_rail.height;
        [
            self.block(
                &format!("{word} corner post"),
                post,
                across(self.jamb(), side),
                [bottom, top],
            ),
            self.block(&format!("bottom {word} corner fitting"), [0.0, fitting.length], fit, low),
            self.block(&format!("top {word} corner fitting"), [0.0, fitting.length], fit, high),
            self.block(
                &format!("top {word} side rail"),
                ends,
                across(side - c.top_rail.depth, side),
                [ceiling - c.top_rail.height, ceiling],
            ),
            self.block(
                &format!("bottom {word} side rail"),
                ends,
                across(side - c.bottom_rail.depth, side),
                [base, crown],
            ),
        ]
    }

    /// Header or top end rail with the roof's edge on it, and the bottom end rail, over a tunnel in
    /// three pieces.
    fn end_rails(&self) -> Vec<SiteMember> {
        let c = self.container;
        let (jamb, proud) = (self.jamb(), c.fitting.proud);
        let base = c.fitting.below_base - c.floor_level;
        let roof = c.inside.height + c.roof.thickness;
        let head = if self.kind == WallName::DoorEnd {
            "door header (top end rail)"
        } else {
            "top end rail"
        };
        let deep = [proud, proud + c.top_rail.depth];
        let mut members = vec![self.block(head, deep, [-jamb, jamb], [self.head(), roof])];
        let x = [proud, proud + c.bottom_rail.lower_depth];
        let mut sill = |y: [f64; 2], low: f64| {
            members.push(self.block("bottom end rail", x, y, [low, 0.0]));
        };
        match c.gooseneck.filter(|_| self.kind == WallName::FrontEnd) {
            Some(tunnel) => {
                let half = tunnel.width / 2.0;
                sill([-jamb, -half], base);
                sill([-half, half], tunnel.height - c.floor_level);
                sill([half, jamb], base);
            }
            None => sill([-jamb, jamb], base),
        }
        members
    }

    /// Floor and roof over the whole length.
    fn length_wise(&self) -> [SiteMember; 2] {
        let c = self.container;
        let proud = c.fitting.proud;
        let half = c.outside.width / 2.0 - proud;
        let far = c.outside.length - proud;
        let floor = [proud + c.bottom_rail.lower_depth, far - c.bottom_rail.lower_depth];
        let roof = [proud + c.top_rail.depth, far - c.top_rail.depth];
        let inside = self.jamb().min(half - c.bottom_rail.depth);
        let (ceiling, crown) = (c.inside.height, c.inside.height + c.roof.depth + c.roof.thickness);
        [
            self.block("floor", floor, [-inside, inside], [-c.floor.plywood, 0.0]),
            self.block("roof", roof, [-half, half], [ceiling, crown]),
        ]
    }
}
