//! What each group of parts is cut from, and how its bends are made.

use std::sync::Arc;

use crate::note::{Finding, Notes};
use crate::shelf::{BendRule, Material, Shelf, Shop};
use crate::spec::{Said, SheetOf, Spec, Thickness, nearest};
use crate::template::{SheetGroup, Template, Thickness as Typed};
use crate::units;

/// A sheet as bought and as bent.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// The material.
    pub material: Arc<Material>,
    /// Thickness, mm.
    pub thickness: f64,
    /// "14 ga" when bought by gauge; empty otherwise.
    pub gauge: String,
    /// How a bend of 90 degrees is made when nothing else is asked for.
    pub rule: BendRule,
    shop: Arc<Shop>,
}

impl Sheet {
    /// Inside radius, neutral factor and its source for a bend; a radius of 0 is a closed hem,
    /// whose neutral line lies in the middle (common practice: it takes about 0.43 thicknesses less
    /// than its legs).
    pub fn bend(&self, angle: f64, radius: Option<f64>) -> (f64, f64, String) {
        if radius == Some(0.0) {
            return (0.0, 0.5, "closed hem, common practice".to_string());
        }
        let rule = match radius {
            Some(radius) => self.shop.bend_to(&self.material, (self.thickness, angle), radius),
            None => self.shop.bend_to(&self.material, (self.thickness, angle), self.rule.radius),
        };
        (rule.radius, rule.k, rule.k_source)
    }
}

/// The sheet of one group, as the template says unless the spec says otherwise.
pub(super) fn sheet(
    name: &str,
    group: &SheetGroup,
    (template, spec, shelf): (&Template, &Spec, &Shelf),
    notes: &mut Notes,
) -> Option<Sheet> {
    let own = spec.sheet.parts.iter().find(|part| part.part.value == name);
    let material = material(own, group, (template, spec, shelf), notes)?;
    let asked = own.and_then(|own| own.thickness.as_ref()).or(spec.sheet.thickness.as_ref());
    let (thickness, gauge) = match asked {
        Some(said) => from_spec(said, &material, spec, notes)?,
        None => from_template(group, &material, template, notes)?,
    };
    let rule = shelf.shop.bend(&material, thickness, 90.0);
    let shop = Arc::new(shelf.shop.clone());
    Some(Sheet { material, thickness, gauge, rule, shop })
}

fn material(
    own: Option<&SheetOf>,
    group: &SheetGroup,
    (template, spec, shelf): (&Template, &Spec, &Shelf),
    notes: &mut Notes,
) -> Option<Arc<Material>> {
    let asked = own.and_then(|own| own.material.as_ref()).or(spec.sheet.material.as_ref());
    let (id, place) = match asked {
        Some(said) => (said.value.as_str(), spec.place(&said.span)),
        None => (group.material.get_ref().as_str(), template.place(group.material.span())),
    };
    let found = shelf.materials.iter().find(|material| material.id == id);
    if found.is_none() {
        let known: Vec<&str> = shelf.materials.iter().map(|m| m.id.as_str()).collect();
        let meant = nearest(id, known.iter().copied());
        notes.add(
            Finding::error(
                "spec.material",
                format!("there is no material `{id}` in the shop's data"),
            )
            .at(place)
            .help(match meant {
                Some(meant) => format!("did you mean `{meant}`? Known: {}", known.join(", ")),
                None => format!("known: {}", known.join(", ")),
            }),
        );
    }
    found.cloned().map(Arc::new)
}

fn from_spec(
    said: &Said<Thickness>,
    material: &Material,
    spec: &Spec,
    notes: &mut Notes,
) -> Option<(f64, String)> {
    match said.value {
        Thickness::Mm(mm) => Some((mm, String::new())),
        Thickness::Gauge(number) => {
            let found = material.gauge_mm(number);
            if found.is_none() {
                notes.add(no_gauge(number, material).at(spec.place(&said.span)));
            }
            found.map(|mm| (mm, format!("{number} ga")))
        }
    }
}

fn from_template(
    group: &SheetGroup,
    material: &Material,
    template: &Template,
    notes: &mut Notes,
) -> Option<(f64, String)> {
    let quantity = match group.thickness.get_ref() {
        Typed::Number(mm) => Ok(units::Quantity::Length(*mm)),
        Typed::Text(text) => units::read_quantity(text),
    };
    let place = template.place(group.thickness.span());
    match quantity {
        Ok(units::Quantity::Length(mm)) if 0.1 <= mm && mm <= 25.0 => Some((mm, String::new())),
        Ok(units::Quantity::Gauge(number)) => {
            let found = material.gauge_mm(number);
            if found.is_none() {
                notes.add(no_gauge(number, material).at(place));
            }
            found.map(|mm| (mm, format!("{number} ga")))
        }
        _ => {
            let message = "a sheet's thickness is 0.1 to 25 mm, or a gauge such as \"14 ga\"";
            notes.add(Finding::error("template.thickness", message).at(place));
            None
        }
    }
}

fn no_gauge(number: u32, material: &Material) -> Finding {
    let rows = &material.gauges.rows;
    let range = match (rows.first(), rows.last()) {
        (Some(first), Some(last)) => format!("{} to {} ga", first.0, last.0),
        _ => "none".to_string(),
    };
    Finding::error(
        "spec.gauge",
        format!(
            "{} has no gauge {number}; its table ({}) has {range}",
            material.title, material.gauges.title
        ),
    )
    .help("give a gauge of that table, or the thickness in mm")
}
