//! Flanges: faces folded from free edges, to any depth.

use std::ops::Range;

use toml::Spanned;

use super::build::{provisional, setback};
use super::desk::Desk;
use super::faces::{Faces, Fold, end_cut};
use super::outline::Mould;
use crate::geom::Point;
use crate::template::{Flange, Pockets};

/// Edge of a flange's own mould polygon that its bend lies on.
const BOTTOM: usize = 0;
/// Width of a flange until it is fitted, mm: wider than any edge.
const STAND_IN: f64 = 1e5;

/// A flange that hangs on its edge and has no width yet.
struct HungFlange {
    face: usize,
    /// The ends it asks for, c on its parent's edge.
    asked: [Option<f64>; 2],
    size: f64,
    /// Set back and lean of its two sides.
    sides: [[f64; 2]; 2],
    span: Range<usize>,
}

impl Faces<'_> {
    /// Hangs all flanges. Their widths follow from what their neighbours leave, so all are hung
    /// first and fitted after.
    pub(super) fn flanges(&mut self, desk: &mut Desk) -> Option<()> {
        let item = self.item;
        let mut pending = Vec::new();
        for flange in &item.flanges {
            if !desk.holds(flange.when.as_ref()) {
                continue;
            }
            let Some(repeat) = &flange.repeat else {
                pending.push(self.flange(desk, flange, flange.name.get_ref().clone())?);
                continue;
            };
            for (i, pocket) in self.pockets(desk, repeat, flange)?.into_iter().enumerate() {
                desk.scope.set_number("pocket.from", pocket[0]);
                desk.scope.set_number("pocket.to", pocket[1]);
                let name = format!("{}_{}", flange.name.get_ref(), i + 1);
                pending.push(self.flange(desk, flange, name)?);
            }
        }
        for flange in pending {
            self.fit_flange(desk, &flange)?;
            self.edges(desk, flange.face)?;
        }
        Some(())
    }

    /// The pockets whose whole mouth lies on the edge, as coordinates of the edge.
    fn pockets(&self, desk: &mut Desk, repeat: &Pockets, flange: &Flange) -> Option<Vec<[f64; 2]>> {
        let (parent, edge) = self.edge(desk, &flange.on)?;
        let (origin, step) = (desk.number(&repeat.origin)?, desk.number(&repeat.step)?);
        let wall = self.wall(desk, &flange.on)?;
        let length = self.plans[parent].mould.edge_length(edge);
        let half = wall.outer_flat / 2.0;
        let mut pockets: Vec<[f64; 2]> = wall
            .outer_flat_centres
            .windows(2)
            .map(|flats| [flats[0] + half, flats[1] - half].map(|x| (x - origin) * step))
            .map(|[a, b]| [a.min(b), a.max(b)])
            .filter(|[from, to]| 0.0 < *from && *to < length)
            .collect();
        pockets.sort_by(|a, b| a[0].total_cmp(&b[0]));
        Some(pockets)
    }

    /// Hangs one flange with a stand-in width.
    fn flange(&mut self, desk: &mut Desk, flange: &Flange, name: String) -> Option<HungFlange> {
        let (parent, edge) = self.edge(desk, &flange.on)?;
        let fold = Fold {
            direction: flange.bend,
            angle: flange.angle.as_ref(),
            radius: flange.radius.as_ref(),
            span: flange.name.span(),
        };
        let mut hang = self.hang(desk, &fold, [parent, edge, BOTTOM], 0.0)?;
        let mould = &self.plans[parent].mould;
        let mut asked = [None, None];
        for (end, formula) in asked.iter_mut().zip([&flange.from, &flange.to]) {
            if let Some(formula) = formula {
                *end = Some(mould.along(edge, desk.number(formula)?));
            }
        }
        if asked != [None, None] {
            let length = mould.edge_length(edge);
            hang.span = Some([asked[0].unwrap_or(0.0), asked[1].unwrap_or(length)]);
        }
        let hung = HungFlange {
            face: self.plans.len(),
            asked,
            size: desk.number(&flange.size)?,
            sides: [end_cut(desk, flange.left.as_ref())?, end_cut(desk, flange.right.as_ref())?],
            span: flange.name.span(),
        };
        let name = Spanned::new(flange.name.span(), name);
        self.add(desk, &name, Mould::rectangle(STAND_IN, hung.size), Some(hang))?;
        Some(hung)
    }

    /// Gives a flange its width: what it asks for, or what its edge can give.
    fn fit_flange(&mut self, desk: &mut Desk, flange: &HungFlange) -> Option<()> {
        let thickness = self.sheet.thickness;
        let moulds = provisional(&self.plans, thickness);
        let hang = self.plans[flange.face].hang.as_mut()?;
        let inset = setback(hang.angle, hang.radius, thickness);
        let usable = moulds[hang.parent].usable(hang.edge, inset);
        let from = flange.asked[0].unwrap_or(usable[0]);
        let to = flange.asked[1].unwrap_or(usable[1]);
        if hang.span.is_some() {
            hang.span = Some([from, to]);
        }
        hang.from = from + flange.sides[0][0];
        let mould = leaning(to - from, flange.size, flange.sides);
        if !mould.is_sound() {
            let name = &self.plans[flange.face].name;
            let message = format!("flange `{name}` from {from:.2} to {to:.2} mm has no size left");
            desk.wrong("template.face", flange.span.clone(), message);
            return None;
        }
        self.plans[flange.face].mould = mould;
        Some(())
    }
}

/// A flange whose two sides may lean: y out from the bend.
fn leaning(width: f64, size: f64, [left, right]: [[f64; 2]; 2]) -> Mould {
    let mut mould = Mould::rectangle(width, size);
    mould.corners = vec![
        Point::new(left[0], 0.0),
        Point::new(width - right[0], 0.0),
        Point::new(width - right[0] - right[1] * size, size),
        Point::new(left[0] + left[1] * size, size),
    ];
    mould
}
