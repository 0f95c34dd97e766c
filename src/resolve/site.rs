//! The container in the site frame: its wall laid out, the opening fitted and cut.

use super::doorway::doorway;
use super::opening_refusal::Refusal;
use super::values::Bench;
use super::wall_members::pocket_bottom;
use super::{Fitted, Position, Prefer, WallLayout, Wish, fit, lay_out};
use crate::geom::{Point3, SiteFrame, WallFrame};
use crate::note::{Finding, Notes, Place};
use crate::shelf::{Container, ForkPocket, Shelf, WallName};
use crate::spec::{ContainerChoice, Said, Spec, nearest};
use crate::template::{OpeningRule, Scope, Template, Value};

/// The values that container and cut bring with them, in order.
pub(super) const NAMES: [&str; 35] = [
    "container.type",
    "container.length",
    "container.inside_height",
    "container.inside_width",
    "container.doorway_width",
    "container.doorway_height",
    "container.fork_centres",
    "container.fork_width",
    "container.fork_height",
    "container.fork_bottom",
    "wall.pitch",
    "wall.outer_flat",
    "wall.slope",
    "wall.inner_flat",
    "wall.depth",
    "wall.thickness",
    "wall.length",
    "wall.middle",
    "wall.bottom",
    "wall.top",
    "wall.ceiling",
    "wall.rail_inside",
    "wall.rail_height",
    "wall.outer_flats",
    "wall.inner_flats",
    "wall.bottom_rail",
    "cut.centre",
    "cut.flat_left",
    "cut.flat_right",
    "cut.left",
    "cut.right",
    "cut.width",
    "cut.offset",
    "cut.bottom",
    "cut.top",
];

/// A box in the site frame, named.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteMember {
    /// In words.
    pub name: String,
    /// Whether it is a hollow.
    pub hollow: bool,
    /// Lower corner.
    pub low: Point3<SiteFrame>,
    /// Upper corner.
    pub high: Point3<SiteFrame>,
}

/// The outer flats that carry the frame's lips.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lips {
    /// Indexes of the left and the right flat, from the left post.
    pub flats: [usize; 2],
    /// How far a lip reaches over its flat from the cut, mm.
    pub reach: f64,
    /// What was asked to stay free of the flat on each side, mm.
    pub margin: f64,
}

/// The container as the kit sees it, in the site frame.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteContainer {
    /// Key in the data file.
    pub id: String,
    /// For people.
    pub title: String,
    /// The wall, in its own frame; none at a doorway and where two containers stand end to end.
    pub layout: Option<WallLayout>,
    /// Site X = wall X - this.
    pub shift: f64,
    /// The cuts in the site frame: X of both, then Z of both; none where the wall is not cut.
    pub cuts: Option<[[f64; 2]; 2]>,
    /// Where the frame's lips lie; none where the wall is not cut.
    pub lips: Option<Lips>,
    /// Posts, rails, floor, roof.
    pub members: Vec<SiteMember>,
}

/// The container and its wall before an opening is cut.
pub(super) struct Ground<'a> {
    container: &'a Container,
    layout: WallLayout,
}

impl<'a> Ground<'a> {
    /// Finds the container and lays its wall out; its measures become values.
    pub(super) fn lay(
        (spec, template): (&'a Spec, &Template),
        shelf: &'a Shelf,
        scope: &mut Scope,
        notes: &mut Notes,
    ) -> Option<Self> {
        let choice = spec.container.as_ref()?;
        let container = find(&choice.kind, spec, shelf, notes)?;
        let layout = match wall_name(choice, spec, notes)? {
            WallName::DoorEnd if template.opening.is_none() => doorway(container),
            name => lay_out(container, name, Some(spec), notes)?,
        };
        let corrugation = &layout.corrugation;
        let flats = layout.outer_flat_centres.len();
        let numbers = [
            ("container.length", container.outside.length),
            ("container.inside_height", container.inside.height),
            ("container.inside_width", container.inside.width),
            ("wall.pitch", layout.pitch),
            ("wall.outer_flat", corrugation.outer_flat),
            ("wall.slope", corrugation.slope),
            ("wall.inner_flat", corrugation.inner_flat),
            ("wall.depth", corrugation.depth),
            ("wall.thickness", corrugation.thickness),
            ("wall.length", layout.length),
            ("wall.middle", layout.length / 2.0),
            ("wall.bottom", layout.edges[0]),
            ("wall.top", layout.edges[1]),
            ("wall.ceiling", layout.ceiling),
            ("wall.rail_inside", layout.rail_inside),
            ("wall.outer_flats", flats as f64),
            ("wall.inner_flats", flats.saturating_sub(1) as f64),
            ("wall.rail_height", container.top_rail.height),
            ("wall.bottom_rail", container.bottom_rail.height),
            ("container.doorway_width", container.doorway[0]),
            ("container.doorway_height", container.doorway[1]),
        ];
        for (name, number) in numbers.into_iter().chain(pockets(container)) {
            scope.set_number(name, number);
        }
        scope.set("container.type", Value::Text(container.id.clone()));
        Some(Self { container, layout })
    }

    /// Fits and cuts the opening, where the template asks for one.
    pub(super) fn cut(
        self,
        template: &Template,
        spec: &Spec,
        bench: &mut Bench,
    ) -> Option<SiteContainer> {
        let Some(rule) = &template.opening else {
            let shift = self.layout.length / 2.0;
            return Some(self.place(shift, None));
        };
        let fitted = self.fit(rule, spec, bench)?;
        let half = fitted.rough_width / 2.0;
        let flats = fitted.flats.map(|flat| self.layout.outer_flat_centres[flat]);
        let centre = fitted.centre;
        let numbers = [
            ("cut.centre", centre),
            ("cut.flat_left", (fitted.flats[0] + 1) as f64),
            ("cut.flat_right", (fitted.flats[1] + 1) as f64),
            ("cut.left", -half),
            ("cut.right", half),
            ("cut.width", fitted.rough_width),
            ("cut.offset", centre - half - flats[0]),
        ];
        for (name, number) in numbers {
            bench.scope.set_number(name, number);
        }
        let bottom = bench.number(&rule.bottom)?;
        bench.scope.set_number("cut.bottom", bottom);
        let top = bench.number(&rule.top)?;
        bench.scope.set_number("cut.top", top);
        let (reach, margin) = (bench.number(&rule.lip)?, bench.number(&rule.margin)?);
        let lips = Lips { flats: fitted.flats, reach, margin };
        let placed = self.place(centre, Some([[-half, half], [bottom, top]]));
        Some(SiteContainer { lips: Some(lips), ..placed })
    }

    fn fit(&self, rule: &OpeningRule, spec: &Spec, bench: &mut Bench) -> Option<Fitted> {
        let mut number = |formula| bench.number(formula);
        let left_flat = match &rule.left_flat {
            Some(formula) => number(formula)?.round(),
            None => 0.0,
        };
        let placed = 0.0 < left_flat;
        let centre = number(&rule.centre)?;
        let wish = Wish {
            rough_width: number(&rule.width)?,
            most: None,
            lip: number(&rule.lip)?,
            margin: number(&rule.margin)?,
            position: if placed { Position::Left } else { Position::Centre(centre) },
            prefer: Prefer::Width,
            left_flat: placed.then(|| left_flat as usize - 1),
            alike: true,
        };
        match fit(&self.layout, &wish) {
            Ok(fitted) => {
                bench
                    .notes
                    .add(Finding::note("opening.fitted", fitted.reason.clone()).about("opening"));
                Some(fitted)
            }
            Err(refusal) => {
                bench.notes.add(refusal.finding(spec.units).at(opening_place(spec, &refusal)));
                None
            }
        }
    }

    /// The container moved so that the opening's centre line stands at X = 0.
    fn place(self, shift: f64, cuts: Option<[[f64; 2]; 2]>) -> SiteContainer {
        let site = |p: Point3<WallFrame>| Point3::new(p.x - shift, p.y, p.z);
        let members = self.layout.members.iter().map(|member| SiteMember {
            name: member.name.clone(),
            hollow: member.hollow,
            low: site(member.low),
            high: site(member.high),
        });
        let members = members.collect();
        SiteContainer {
            id: self.container.id.clone(),
            title: self.container.title.clone(),
            layout: (self.layout.name != WallName::DoorEnd).then_some(self.layout),
            shift,
            cuts,
            lips: None,
            members,
        }
    }
}

/// The first pair of fork pockets; zeros where the container has none.
fn pockets(container: &Container) -> [(&'static str, f64); 4] {
    let pocket = container.fork_pockets.first();
    let size = |measure: fn(&ForkPocket) -> f64| pocket.map_or(0.0, measure);
    [
        ("container.fork_centres", size(|pocket| pocket.centres)),
        ("container.fork_width", size(|pocket| pocket.width)),
        ("container.fork_height", size(|pocket| pocket.height)),
        ("container.fork_bottom", pocket.map_or(0.0, |_| pocket_bottom(container))),
    ]
}

/// Where a refused opening stands in the spec: the value that speaks of it, else the first of the
/// opening's, else the container that it does not fit.
fn opening_place(spec: &Spec, refusal: &Refusal) -> Option<Place> {
    let meant = match refusal {
        Refusal::OnPost { .. } => "opening.centre",
        Refusal::LipTooWide { .. } => "frame.lip",
        _ => "opening.clear_width",
    };
    let first = || spec.given.iter().find(|given| given.path.starts_with("opening."));
    match spec.given(meant).or_else(first) {
        Some(given) => spec.place(&given.span),
        None => spec.place(&spec.container.as_ref()?.kind.span),
    }
}

/// The container of that name, or a finding.
pub(super) fn find<'a>(
    said: &Said<String>,
    spec: &Spec,
    shelf: &'a Shelf,
    notes: &mut Notes,
) -> Option<&'a Container> {
    let id = &said.value;
    let found = shelf.container(id);
    if found.is_none() {
        let known: Vec<&str> = shelf.containers.iter().map(|c| c.id.as_str()).collect();
        let finding = Finding::error("spec.container", format!("there is no container `{id}`"));
        let help = match nearest(id, known.iter().copied()) {
            Some(meant) => format!("did you mean `{meant}`? Known: {}", known.join(", ")),
            None => format!("known: {}", known.join(", ")),
        };
        notes.add(finding.at(spec.place(&said.span)).help(help));
    }
    found
}

/// The wall by its name. A name that is none was told when the spec was read.
fn wall_name(choice: &ContainerChoice, spec: &Spec, notes: &mut Notes) -> Option<WallName> {
    let Some(said) = &choice.wall else {
        let finding = Finding::error("spec.missing-key", "`container.wall` is missing");
        let help = "write `wall = \"left\"` (or \"right\", \"front-end\") under `[container]`";
        notes.add(finding.about("container.wall").at(spec.place(&choice.kind.span)).help(help));
        return None;
    };
    const NAMES: [(&str, WallName); 4] = [
        ("left", WallName::Left),
        ("right", WallName::Right),
        ("front-end", WallName::FrontEnd),
        ("door-end", WallName::DoorEnd),
    ];
    NAMES.iter().find(|(name, _)| *name == said.value).map(|(_, wall)| *wall)
}
