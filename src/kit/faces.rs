//! From a part as the template declares it to mould polygons hung on one another.

use std::ops::Range;

use toml::Spanned;

use super::build::{FacePlan, Hang};
use super::desk::Desk;
use super::outline::{Feature, Mould};
use super::section::{crossing, section_legs};
use super::teeth::{Along, run};
use super::{Sense, Wall};
use crate::geom::Point;
use crate::resolve::Sheet;
use crate::template::{Direction, EndCut, Follow, Leg, Notch, PartItem, Plate, Profile};

const EDGES: [&str; 4] = ["bottom", "right", "top", "left"];
const RIGHT: usize = 1;
const LEFT: usize = 3;

/// The faces of a part while they are laid out.
pub(super) struct Faces<'a> {
    pub(super) plans: Vec<FacePlan>,
    pub(super) sheet: &'a Sheet,
    pub(super) item: &'a PartItem,
    wall: Option<&'a Wall>,
}

/// Lays out the faces of a part; none when a finding was made.
pub(super) fn lay_out(
    desk: &mut Desk,
    item: &PartItem,
    sheet: &Sheet,
    wall: Option<&Wall>,
) -> Option<Vec<FacePlan>> {
    let before = desk.notes.len();
    let mut faces = Faces { plans: Vec::new(), sheet, item, wall };
    match (&item.profile, &item.plate) {
        (Some(profile), None) => faces.profile(desk, profile)?,
        (None, Some(plate)) => faces.plate(desk, plate)?,
        _ => {
            let message = "a part is either a `profile` or a `plate`".to_string();
            desk.wrong("template.part", item.name.span(), message);
            return None;
        }
    }
    for face in 0..faces.plans.len() {
        faces.edges(desk, face)?;
    }
    faces.flanges(desk)?;
    (desk.notes.len() == before).then_some(faces.plans)
}

/// A leg's bend, or a flange's.
pub(super) struct Fold<'a> {
    pub(super) direction: Direction,
    pub(super) angle: Option<&'a crate::template::Formula>,
    pub(super) radius: Option<&'a crate::template::Formula>,
    pub(super) span: Range<usize>,
}

impl Faces<'_> {
    /// How a face hangs: angle, direction, radius and neutral factor.
    pub(super) fn hang(
        &self,
        desk: &mut Desk,
        fold: &Fold,
        at: [usize; 3],
        from: f64,
    ) -> Option<Hang> {
        let angle = desk.number_or(fold.angle, 90.0)?;
        if !(0.0 < angle && angle <= 180.0) {
            let message = format!("a bend of {angle}°; allowed is more than 0 and up to 180°");
            desk.wrong("template.bend", fold.span.clone(), message);
            return None;
        }
        let asked = match fold.radius {
            Some(formula) => Some(desk.number(formula)?),
            None => None,
        };
        let (radius, k, k_source) = self.sheet.bend(angle, asked);
        let sense = match fold.direction {
            Direction::Up => Sense::Up,
            Direction::Down => Sense::Down,
        };
        let [parent, edge, near] = at;
        Some(Hang { parent, edge, near, from, span: None, angle, sense, radius, k, k_source })
    }

    fn profile(&mut self, desk: &mut Desk, profile: &Profile) -> Option<()> {
        let length = desk.number(&profile.length)?;
        desk.scope.set_number("length", length);
        let moulds: Vec<Mould> = profile
            .legs
            .iter()
            .map(|leg| leg_mould(desk, leg, length))
            .collect::<Option<Vec<_>>>()?;
        let named = |leg: &Leg| leg.name.get_ref() == profile.root.get_ref();
        let Some(root) = profile.legs.iter().position(named) else {
            let legs: Vec<&str> =
                profile.legs.iter().map(|leg| leg.name.get_ref().as_str()).collect();
            let message = format!(
                "there is no leg `{}`; legs are {}",
                profile.root.get_ref(),
                legs.join(", ")
            );
            desk.wrong("template.root", profile.root.span(), message);
            return None;
        };
        self.add(desk, &profile.legs[root].name, moulds[root].clone(), None)?;
        for (i, leg) in profile.legs.iter().enumerate().skip(root + 1) {
            self.leg(desk, leg, [&moulds[i - 1], &moulds[i]], [i - root - 1, RIGHT, LEFT])?;
        }
        for i in (0..root).rev() {
            let parent = if i + 1 == root { 0 } else { self.plans.len() - 1 };
            self.leg(desk, &profile.legs[i], [&moulds[i + 1], &moulds[i]], [parent, LEFT, RIGHT])?;
        }
        self.uncrossed(desk, profile)
    }

    /// Refuses a profile whose legs run into one another when folded.
    fn uncrossed(&self, desk: &mut Desk, profile: &Profile) -> Option<()> {
        let thickness = self.sheet.thickness;
        let names: Vec<&str> = profile.legs.iter().map(|leg| leg.name.get_ref().as_str()).collect();
        let legs = section_legs(&self.plans, &names, thickness);
        let Some((a, b, apart)) = crossing(&legs, thickness) else { return Some(()) };
        let message = format!(
            "legs `{}` and `{}` run into each other when folded: their middle lines come within \
             {apart:.2} mm, and the sheet is {thickness} mm thick",
            names[a], names[b]
        );
        desk.wrong("template.profile-crosses", profile.legs[b].name.span(), message);
        None
    }

    /// Hangs a leg on its neighbour; y of both runs along the sweep from the same zero.
    fn leg(
        &mut self,
        desk: &mut Desk,
        leg: &Leg,
        [parent, own]: [&Mould; 2],
        at: [usize; 3],
    ) -> Option<()> {
        let Some(direction) = leg.bend else {
            let message =
                format!("leg `{}` needs `bend = \"up\"` or `\"down\"`", leg.name.get_ref());
            desk.wrong("template.bend", leg.name.span(), message);
            return None;
        };
        let fold = Fold {
            direction,
            angle: leg.angle.as_ref(),
            radius: leg.radius.as_ref(),
            span: leg.name.span(),
        };
        let start = |mould: &Mould, edge: usize| mould.edge_start(edge).y;
        let from = start(own, at[2]) - start(parent, at[1]);
        let hang = self.hang(desk, &fold, at, from)?;
        self.add(desk, &leg.name, own.clone(), Some(hang))
    }

    fn plate(&mut self, desk: &mut Desk, plate: &Plate) -> Option<()> {
        let mould = match (&plate.width, &plate.height, plate.points.is_empty()) {
            (Some(width), Some(height), true) => {
                Mould::rectangle(desk.number(width)?, desk.number(height)?)
            }
            (None, None, false) => {
                let points: Option<Vec<_>> = plate.points.iter().map(|p| desk.point(p)).collect();
                Mould::polygon(points?)
            }
            _ => {
                let message = "a plate has `width` and `height`, or `points`".to_string();
                desk.wrong("template.plate", self.item.name.span(), message);
                return None;
            }
        };
        let base = Spanned::new(self.item.name.span(), "base".to_string());
        self.add(desk, plate.name.as_ref().unwrap_or(&base), mould, None)
    }

    pub(super) fn add(
        &mut self,
        desk: &mut Desk,
        name: &Spanned<String>,
        mould: Mould,
        hang: Option<Hang>,
    ) -> Option<()> {
        let text = name.get_ref();
        let problem = if self.plans.iter().any(|plan| plan.name == *text) {
            Some(format!("two faces are called `{text}`"))
        } else if !mould.is_sound() {
            Some(format!("face `{text}` has no size left: {}", extent(&mould)))
        } else {
            None
        };
        if let Some(message) = problem {
            desk.wrong("template.face", name.span(), message);
            return None;
        }
        self.plans.push(FacePlan { name: text.clone(), mould, hang });
        Some(())
    }

    /// `face.edge` in the template to the numbers of both.
    pub(super) fn edge(&self, desk: &mut Desk, on: &Spanned<String>) -> Option<(usize, usize)> {
        let found = find_edge(&self.plans, on.get_ref());
        if found.is_none() {
            let faces: Vec<&str> = self.plans.iter().map(|plan| plan.name.as_str()).collect();
            let message = format!(
                "there is no edge `{}`; faces are {}, edges {} (or e1, e2, ... of a polygon)",
                on.get_ref(),
                faces.join(", "),
                EDGES.join(", ")
            );
            desk.wrong("template.edge", on.span(), message);
        }
        found
    }

    /// Notches, tabs, teeth and rounded corners of one face.
    pub(super) fn edges(&mut self, desk: &mut Desk, face: usize) -> Option<()> {
        let item = self.item;
        for (notch, added) in
            item.notches.iter().map(|n| (n, false)).chain(item.tabs.iter().map(|t| (t, true)))
        {
            if self.is_on(&notch.on, face) && desk.holds(notch.when.as_ref()) {
                let (_, edge) = self.edge(desk, &notch.on)?;
                let feature = self.step(desk, notch, [face, edge], added)?;
                self.plans[face].mould.features.push((edge, feature));
            }
        }
        for follow in &item.follow {
            if self.is_on(&follow.on, face) && desk.holds(follow.when.as_ref()) {
                let (_, edge) = self.edge(desk, &follow.on)?;
                let run = self.teeth(desk, follow, self.plans[face].mould.edge_length(edge))?;
                self.plans[face].mould.features.push((edge, Feature::Run(run)));
            }
        }
        for corner in &item.corners {
            if *corner.face.get_ref() == self.plans[face].name {
                self.plans[face].mould.radius = desk.number_or(corner.radius.as_ref(), 0.0)?;
                self.plans[face].mould.relief = desk.number_or(corner.relief.as_ref(), 0.0)?;
            }
        }
        Some(())
    }

    /// The run of an edge that follows the wall.
    fn teeth(&self, desk: &mut Desk, follow: &Follow, length: f64) -> Option<Vec<(f64, f64)>> {
        let along = Along {
            origin: desk.number(&follow.origin)?,
            step: desk.number(&follow.step)?,
            clearance: desk.number(&follow.clearance)?,
            tilt: desk.number_or(follow.tilt.as_ref(), 0.0)?,
        };
        Some(run(self.wall(desk, &follow.on)?, &along, length))
    }

    /// The wall, or a finding at what asks for it.
    pub(super) fn wall(&self, desk: &mut Desk, asks: &Spanned<String>) -> Option<&Wall> {
        if self.wall.is_none() {
            let message = "there is no wall to follow in this kit".to_string();
            desk.wrong("template.wall", asks.span(), message);
        }
        self.wall
    }

    fn is_on(&self, on: &Spanned<String>, face: usize) -> bool {
        on.get_ref().split_once('.').is_some_and(|(name, _)| name == self.plans[face].name)
    }

    fn step(
        &self,
        desk: &mut Desk,
        notch: &Notch,
        [face, edge]: [usize; 2],
        added: bool,
    ) -> Option<Feature> {
        let mould = &self.plans[face].mould;
        let from = mould.along(edge, desk.number(&notch.from)?);
        let to = mould.along(edge, desk.number(&notch.to)?);
        let depth = desk.number(&notch.depth)?;
        let (what, on) = (if added { "a tab" } else { "a notch" }, notch.on.get_ref());
        if !(from < to && depth > 0.0) {
            let message = format!(
                "{what} on `{on}` from {from:.2} to {to:.2} mm and {depth:.2} mm deep; `to` must lie \
                 beyond `from`, and the depth above 0"
            );
            desk.wrong("template.notch", notch.on.span(), message);
            return None;
        }
        if let Some(why) = mould.no_room(edge, [from, to]) {
            let message = format!("{what} on `{on}` from {from:.2} to {to:.2} mm {why}");
            desk.wrong("template.notch", notch.on.span(), message);
            return None;
        }
        Some(if added {
            Feature::Tab { from, to, height: depth }
        } else {
            Feature::Notch { from, to, depth }
        })
    }
}

/// The numbers of a face and an edge called `face.edge`.
pub(super) fn find_edge(plans: &[FacePlan], on: &str) -> Option<(usize, usize)> {
    let (face, edge) = on.split_once('.').unwrap_or((on, ""));
    plans.iter().position(|plan| plan.name == face).and_then(|index| {
        let corners = plans[index].mould.corners.len();
        let numbered = edge.strip_prefix('e').and_then(|n| n.parse::<usize>().ok());
        let edge = EDGES.iter().position(|name| *name == edge).filter(|_| corners == 4);
        let numbered = numbered.filter(|n| 1 <= *n && *n <= corners).map(|n| n - 1);
        edge.or(numbered).map(|edge| (index, edge))
    })
}

/// What every edge of every face is called.
pub(super) fn edge_names(plans: &[FacePlan]) -> Vec<String> {
    let of = |plan: &FacePlan| -> Vec<String> {
        let corners = plan.mould.corners.len();
        let edge =
            |i: usize| if corners == 4 { EDGES[i].to_owned() } else { format!("e{}", i + 1) };
        (0..corners).map(|i| format!("{}.{}", plan.name, edge(i))).collect()
    };
    plans.iter().flat_map(of).collect()
}

/// The corners of a face in words, opposite ones.
fn extent(mould: &Mould) -> String {
    let (low, high) = (mould.corners.first(), mould.corners.get(2));
    let corners = low.zip(high).map(|(a, b)| {
        format!("x from {:.2} to {:.2} mm, y from {:.2} to {:.2} mm", a.x, b.x, a.y, b.y)
    });
    corners.unwrap_or_else(|| "it needs three corners at least".to_string())
}

/// How far an end is set back, and by how much more for each millimetre across.
pub(super) fn end_cut(desk: &mut Desk, cut: Option<&EndCut>) -> Option<[f64; 2]> {
    let Some(cut) = cut else { return Some([0.0, 0.0]) };
    let back = desk.number_or(cut.back.as_ref(), 0.0)?;
    let mitre = desk.number_or(cut.mitre.as_ref(), 0.0)?;
    Some([back, crate::units::tan_deg(mitre)])
}

fn leg_mould(desk: &mut Desk, leg: &Leg, length: f64) -> Option<Mould> {
    let size = desk.number(&leg.size)?;
    desk.scope.set_number(&format!("leg.{}", leg.name.get_ref()), size);
    let [low, low_lean] = end_cut(desk, leg.bottom.as_ref())?;
    let [high, high_lean] = end_cut(desk, leg.top.as_ref())?;
    let mut mould = Mould::rectangle(size, length);
    mould.corners = vec![
        Point::new(0.0, low),
        Point::new(size, low + low_lean * size),
        Point::new(size, length - high - high_lean * size),
        Point::new(0.0, length - high),
    ];
    Some(mould)
}
