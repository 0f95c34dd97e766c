//! Foam, sizes and supplies on site, from the template.

use super::desk::Desk;
use super::keep_out::volumes;
use super::{KeepOut, Wall};
use crate::template::{SupplyItem, Template};

/// A place that is filled with foam.
#[derive(Debug, Clone, PartialEq)]
pub struct Foam {
    /// Where, in words.
    pub name: String,
    /// Area that is sprayed, mm2.
    pub area: f64,
    /// Mean depth, mm.
    pub depth: f64,
}

/// A size that is set or checked on site.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// What is set.
    pub name: String,
    /// Where.
    pub at: String,
    /// The size, in words.
    pub size: String,
    /// How; empty where nothing is to be said.
    pub how: String,
}

/// Something that is used up on site or bought besides the kit.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// What it is.
    pub name: String,
    /// What it is for.
    pub purpose: String,
    /// How much, without any allowance.
    pub need: Need,
    /// Where the need comes from; empty for common practice.
    pub source: String,
}

/// How much of something is needed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Need {
    /// Pieces.
    Count(f64),
    /// A length, mm.
    Length(f64),
    /// A bead of sealant: length and diameter, mm.
    Bead(f64, f64),
    /// An area, mm2.
    Area(f64),
    /// A bed of sealant: area, mm2, and thickness, mm.
    Bed(f64, f64),
}

/// What a family says of the work on site besides its steps.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OnSite {
    /// Places that are filled with foam.
    pub foam: Vec<Foam>,
    /// Sizes that are set or checked.
    pub measures: Vec<Measure>,
    /// What is used up or bought besides.
    pub supplies: Vec<Supply>,
    /// Boxes that pictures and layouts show and that are no part of the kit.
    pub bodies: Vec<KeepOut>,
    /// What a customer asks of the kit: a name, and the size in words.
    pub key_sizes: Vec<[String; 2]>,
    /// What may be ordered besides.
    pub options: Vec<String>,
}

/// What the template says, worked out.
pub(super) fn on_site(desk: &mut Desk, template: &Template, wall: Option<&Wall>) -> OnSite {
    OnSite {
        foam: foam(desk, template),
        measures: measures(desk, template),
        supplies: supplies(desk, template),
        bodies: volumes(desk, template, &template.bodies, wall),
        key_sizes: key_sizes(desk, template),
        options: desk.texts(&template.options),
    }
}

/// What a customer asks of the kit.
fn key_sizes(desk: &mut Desk, template: &Template) -> Vec<[String; 2]> {
    let mut all = Vec::new();
    for item in &template.key_sizes {
        if desk.holds(item.when.as_ref()) {
            let told = (desk.text(&item.name), desk.text(&item.size));
            all.extend(told.0.zip(told.1).map(|(name, size)| [name, size]));
        }
    }
    all
}

/// What is used up, without what is not needed at all.
fn supplies(desk: &mut Desk, template: &Template) -> Vec<Supply> {
    let mut all = Vec::new();
    for item in &template.supplies {
        if desk.holds(item.when.as_ref()) {
            all.extend(supply(desk, item));
        }
    }
    all
}

fn supply(desk: &mut Desk, item: &SupplyItem) -> Option<Supply> {
    let [count, seam, area] = [&item.count, &item.seam, &item.area].map(Option::as_ref);
    let need = match (count, seam, area) {
        (Some(count), None, None) => Need::Count(desk.number(count)?),
        (None, Some(seam), None) => match &item.bead {
            Some(bead) => Need::Bead(desk.number(seam)?, desk.number(bead)?),
            None => Need::Length(desk.number(seam)?),
        },
        (None, None, Some(area)) => match &item.bed {
            Some(bed) => Need::Bed(desk.number(area)?, desk.number(bed)?),
            None => Need::Area(desk.number(area)?),
        },
        _ => {
            let message =
                format!("supply `{}` needs one of `count`, `seam`, `area`", item.name.get_ref());
            desk.wrong("template.supply", item.name.span(), message);
            return None;
        }
    };
    let (Need::Count(amount)
    | Need::Length(amount)
    | Need::Bead(amount, _)
    | Need::Area(amount)
    | Need::Bed(amount, _)) = need;
    let supply = Supply {
        name: desk.text(&item.name)?,
        purpose: desk.text(&item.purpose)?,
        need,
        source: item.source.clone(),
    };
    (0.0 < amount).then_some(supply)
}

/// The places that are filled with foam; those without any are left out.
fn foam(desk: &mut Desk, template: &Template) -> Vec<Foam> {
    let mut all = Vec::new();
    for item in &template.foam {
        if !desk.holds(item.when.as_ref()) {
            continue;
        }
        let worked = (desk.text(&item.name), desk.number(&item.area), desk.number(&item.depth));
        if let (Some(name), Some(area), Some(depth)) = worked {
            all.push(Foam { name, area, depth });
        }
    }
    all.retain(|foam| 0.0 < foam.area && 0.0 < foam.depth);
    all
}

/// The sizes that are set or checked on site.
fn measures(desk: &mut Desk, template: &Template) -> Vec<Measure> {
    let mut all = Vec::new();
    for item in &template.measures {
        if !desk.holds(item.when.as_ref()) {
            continue;
        }
        let how = item.how.as_ref().map_or(Some(String::new()), |how| desk.text(how));
        let worked = (desk.text(&item.name), desk.text(&item.at), desk.text(&item.size), how);
        if let (Some(name), Some(at), Some(size), Some(how)) = worked {
            all.push(Measure { name, at, size, how });
        }
    }
    all
}
