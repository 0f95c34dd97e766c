//! Foam and sizes on site, from the template.

use super::desk::Desk;
use crate::template::Template;

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

/// What a family says of the work on site besides its steps.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OnSite {
    /// Places that are filled with foam.
    pub foam: Vec<Foam>,
    /// Sizes that are set or checked.
    pub measures: Vec<Measure>,
}

/// What the template says, worked out.
pub(super) fn on_site(desk: &mut Desk, template: &Template) -> OnSite {
    OnSite { foam: foam(desk, template), measures: measures(desk, template) }
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
