//! The screens that a template declares, worked out for one kit.

use super::judge::{BeamScreen, Bent, Load, Post};
use super::limits::outside;
use super::plate::{Judge, Standard};
use super::report::{LoadCase, PartSection, Screen, Strength};
use super::strip::Strip;
use crate::fold::FoldedPart;
use crate::geom::{Map2, Point, Point3, Pose, SectionFrame, SiteFrame};
use crate::kit::{Desk, Kit, Part};
use crate::note::Notes;
use crate::resolve::Resolved;
use crate::shelf::{Material, Shelf};
use crate::template::{LoadItem, ScreenItem, ScreenKind, Template, Value};

/// Sections of all bent parts, and the template's screens. `folded` stands in the order of the
/// kit's parts.
pub fn work_out(
    kit: &Kit,
    folded: &[FoldedPart],
    (template, resolved, shelf): (&Template, &Resolved, &Shelf),
    notes: &mut Notes,
) -> Strength {
    let parts = kit.parts.iter().zip(folded).enumerate();
    let sections: Vec<PartSection> =
        parts.filter_map(|(i, (part, folded))| PartSection::of(part, folded, i)).collect();
    let scope = resolved.scope.clone();
    let mut desk = Desk { file: template.file.clone(), scope, notes };
    let maker = Maker { kit, shelf, template, sections: &sections };
    let mut screens = Vec::new();
    for item in &template.screens {
        if desk.holds(item.when.as_ref()) {
            screens.extend(maker.screen(&mut desk, item));
        }
    }
    Strength { sections, screens }
}

struct Maker<'a> {
    kit: &'a Kit,
    shelf: &'a Shelf,
    template: &'a Template,
    sections: &'a [PartSection],
}

/// What is left out, by kind of screen.
const LEFT_OUT: [&str; 4] = [
    "Left out: shear, web crippling at the supports, holes and notches, fasteners and what the part is fastened to, lateral buckling of a beam that is not held, what bears together with it.",
    "Left out: eccentricity of the load, wind across, holes and notches, the wall and the rail that hold the post, fasteners and foot.",
    "Left out: eccentricity of the load, wind across, holes and notches, slip of the bolts between the two, fasteners and feet.",
    "Left out: impact and fatigue, holes, screws that hold the edges down, what bears together with the strip.",
];

impl Maker<'_> {
    fn screen(&self, desk: &mut Desk, item: &ScreenItem) -> Option<Screen> {
        let wanted = item.part.get_ref();
        if !self.template.parts.iter().any(|part| part.name.get_ref() == wanted) {
            let message = format!("there is no part `{wanted}` to be screened");
            desk.wrong("template.screen", item.part.span(), message);
            return None;
        }
        // A part that this kit does not have is not screened.
        let part = self.part(wanted)?;
        let section = match item.kind {
            ScreenKind::Strip => None,
            _ => Some(self.section(desk, item, part)?),
        };
        let material = self.shelf.material(&part.material.id)?;
        let length = desk.number(&item.length)?;
        let standard = self.standard(desk, item)?;
        let (kind, rule) = words(item.kind, standard);
        let mut screen = Screen {
            name: desk.text(&item.name)?,
            part: part.number.clone(),
            kind,
            rule,
            length,
            yield_strength: material.yield_strength,
            modulus: material.modulus,
            material: material.source.clone(),
            figures: Vec::new(),
            loads: Vec::new(),
            outside: Vec::new(),
            basis: desk.texts(&item.basis),
        };
        screen.basis.extend(left_out(item.kind, standard));
        if let Some(judge) = judge(standard, material).filter(|_| length > 0.0) {
            let loads: Vec<Load> =
                item.loads.iter().filter_map(|load| worked(desk, load)).collect();
            let (figures, cases) = if let Some(section) = section {
                let place = section.cut.frame.then(part.places.first()?);
                let section = &with_held_edges(section, item);
                screen.outside = outside(&section.cut.section, standard);
                Stand { section, place, length, judge }.work_out(desk, item, &loads)?
            } else {
                let strip = strip(desk, item, (part, length), &judge)?;
                (strip.figures(), loads.iter().map(|load| strip.load(load)).collect())
            };
            (screen.figures, screen.loads) = (figures, cases);
        }
        Some(screen)
    }

    fn section(&self, desk: &mut Desk, item: &ScreenItem, part: &Part) -> Option<&PartSection> {
        let section = self.sections.iter().find(|s| s.part == part.number);
        if section.is_none() {
            let message =
                format!("`{}` has no bend: it is neither beam nor post", item.part.get_ref());
            desk.wrong("template.screen", item.part.span(), message);
        }
        section
    }

    /// The part of that name in the template; of two hands the left one.
    fn part(&self, wanted: &str) -> Option<&Part> {
        let left = format!("{wanted}-left");
        self.kit.parts.iter().find(|part| part.name == wanted || part.name == left)
    }

    fn standard(&self, desk: &mut Desk, item: &ScreenItem) -> Option<Standard> {
        let Some(formula) = &item.rule else { return Some(Standard::En) };
        let standard = match formula.value(&desk.scope) {
            Ok(Value::Text(word)) => Standard::of(&word),
            _ => None,
        };
        if standard.is_none() {
            let message = "a screen's rule is `en-1993` or `aisi`".to_string();
            desk.wrong("template.screen", formula.span(), message);
        }
        standard
    }
}

/// The kind as it is written, and the rule as it is printed.
fn words(kind: ScreenKind, standard: Standard) -> (&'static str, &'static str) {
    match kind {
        ScreenKind::Beam => ("beam", standard.title()),
        ScreenKind::Post => ("post", standard.title()),
        ScreenKind::PostPair => ("post-pair", standard.title()),
        ScreenKind::Strip => ("strip", "elastic bending, beam tables"),
    }
}

fn strip(
    desk: &mut Desk,
    item: &ScreenItem,
    (part, span): (&Part, f64),
    judge: &Judge,
) -> Option<Strip> {
    let width = desk.number_or(item.width.as_ref(), 0.0)?;
    let limit = desk.number_or(item.deflection.as_ref(), span / 200.0)?;
    if width <= 0.0 || limit <= 0.0 {
        let message = "a strip has a width that bears, and its deflection a limit".to_string();
        desk.wrong("template.screen", item.part.span(), message);
        return None;
    }
    let Judge { stress: yield_strength, modulus, .. } = *judge;
    Some(Strip { span, width, thickness: part.thickness, limit, yield_strength, modulus })
}

/// The section with the edges held that the screen names.
fn with_held_edges(section: &PartSection, item: &ScreenItem) -> PartSection {
    let mut section = section.clone();
    let names = &section.cut.section.names;
    let named = |name: Option<&String>| {
        name.is_some_and(|name| item.held_edges.iter().any(|edge| edge.get_ref() == name))
    };
    section.cut.section.held = [named(names.first()), named(names.last())];
    section
}

/// What plates are judged by at yield; none where the material's standard names no yield strength.
fn judge(standard: Standard, material: &Material) -> Option<Judge> {
    let stress = material.yield_strength?;
    Some(Judge { standard, stress, modulus: material.modulus, k: None })
}

fn left_out(kind: ScreenKind, standard: Standard) -> Vec<String> {
    let general = match kind {
        ScreenKind::Beam => LEFT_OUT[0],
        ScreenKind::Post => LEFT_OUT[1],
        ScreenKind::PostPair => LEFT_OUT[2],
        ScreenKind::Strip => return vec![LEFT_OUT[3].to_string()],
    };
    let lips = match standard {
        Standard::En => {
            "Distortional buckling is counted for lips of 0.2 to 0.6 of their flange (EN 1993-1-3 5.5.3.2), and left out for others."
        }
        Standard::Aisi => "Distortional buckling is left out.",
    };
    vec![general.to_string(), lips.to_string()]
}

/// One load; none where it is not taken or a formula fails.
fn worked(desk: &mut Desk, item: &LoadItem) -> Option<Load> {
    if !desk.holds(item.when.as_ref()) {
        return None;
    }
    Some(Load {
        name: desk.text(&item.name)?,
        basis: desk.text(&item.basis)?,
        line: desk.number_or(item.line.as_ref(), 0.0)?,
        point: desk.number_or(item.point.as_ref(), 0.0)?,
        spread: desk.number_or(item.spread.as_ref(), 0.0)?,
        factor: desk.number_or(item.factor.as_ref(), 1.0)?,
    })
}

/// A section in its place.
struct Stand<'a> {
    section: &'a PartSection,
    place: Pose<SectionFrame, SiteFrame>,
    length: f64,
    judge: Judge,
}

type Worked = (Vec<super::report::Figure>, Vec<LoadCase>);

impl Stand<'_> {
    fn work_out(&self, desk: &mut Desk, item: &ScreenItem, loads: &[Load]) -> Option<Worked> {
        match item.kind {
            ScreenKind::Beam => {
                let limit = desk.number_or(item.deflection.as_ref(), self.length / 200.0)?;
                let down = self.across(Point3::new(0.0, 0.0, -1.0));
                if down.length() < 0.5 || limit <= 0.0 {
                    let message = "a beam lies level, and its deflection has a limit".to_string();
                    desk.wrong("template.screen", item.part.span(), message);
                    return None;
                }
                let bent = Bent { span: self.length, down, held: item.held, limit };
                let screen = BeamScreen::new(self.section, bent, self.judge);
                Some((screen.figures(), loads.iter().map(|load| screen.load(load)).collect()))
            }
            // Worked out without a section.
            ScreenKind::Strip => None,
            ScreenKind::Post => {
                let post = Post::single(self.section, self.length, &self.judge);
                Some(posted(&post, loads))
            }
            ScreenKind::PostPair => {
                let plane = desk.number_or(item.mirror.as_ref(), 0.0)?;
                let closing = desk.number_or(item.closing.as_ref(), 0.0)?;
                let mirror = self.mirror(plane).filter(|_| closing > 0.0);
                let Some(mirror) = mirror else {
                    let message = "a pair stands upright, with a mirror plane across X and a closing thickness".to_string();
                    desk.wrong("template.screen", item.part.span(), message);
                    return None;
                };
                let pair = (&mirror, closing);
                let post = Post::pair(self.section, self.length, &self.judge, pair);
                Some(posted(&post, loads))
            }
        }
    }

    /// A direction of the site in the section's plane.
    fn across(&self, direction: Point3<SiteFrame>) -> Point<SectionFrame> {
        let turned = self.place.inverse().vector(direction);
        Point::new(turned.x, turned.y)
    }

    /// The mirror image behind the plane X = `plane` of the site; none where the part does not
    /// stand square to it.
    fn mirror(&self, plane: f64) -> Option<Map2<SectionFrame, SectionFrame>> {
        let normal = self.across(Point3::new(1.0, 0.0, 0.0));
        if normal.length() < 1.0 - 1e-9 {
            return None;
        }
        let offset = plane - self.place.shift.x;
        let axis =
            |x: f64, y: f64| Point::new(x, y) - normal * (2.0 * (normal.x * x + normal.y * y));
        Some(Map2::new(axis(1.0, 0.0), axis(0.0, 1.0), normal * (2.0 * offset)))
    }
}

fn posted(post: &Post, loads: &[Load]) -> Worked {
    (post.figures.clone(), loads.iter().map(|load| post.load(load)).collect())
}
