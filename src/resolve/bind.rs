//! From a spec, a template and the shelf to values that are all known, finite and within limits.

use std::collections::BTreeMap;

use super::ends::{self, Ends};
use super::need::{missing_container, needs_container};
use super::numbers::Numbers;
use super::parameter;
use super::sheet::{Sheet, sheet};
use super::site::Ground;
use super::values::{Bench, Derived};
use crate::note::{Finding, Notes};
use crate::shelf::{Shelf, WallName};
use crate::spec::{Amendments, Spec, Units};
use crate::template::{IN_INCHES, Scope, Template, Value};

/// Everything a template is worked out from.
#[derive(Debug, Clone)]
pub struct Resolved {
    /// Kit number.
    pub kit: String,
    /// Every value by its full name.
    pub scope: Scope,
    /// The names in the order of definition.
    pub order: Vec<String>,
    /// What each group of parts is cut from.
    pub sheets: BTreeMap<String, Sheet>,
    /// The container in the site frame.
    pub container: Option<super::SiteContainer>,
    /// What the site asked to be made otherwise.
    pub amendments: Amendments,
    /// Which number each part has.
    pub numbers: Numbers,
}

/// What a kit stands on before its template says where.
enum Footing<'a> {
    /// A wall of one container.
    Wall(Box<Ground<'a>>),
    /// Two containers end to end.
    Ends(Box<Ends<'a>>),
}

/// Binds names and works every derived value out. None when a finding forbids going on.
pub fn bind(
    spec: &Spec,
    template: &Template,
    shelf: &Shelf,
    notes: &mut Notes,
) -> Option<Resolved> {
    bind_beside(spec, template, (shelf, None), notes)
}

/// The same for a kit that stands beside the one before it in its file: `beside.kit` is that kit's
/// number, `beside.flat_right` the outer flat under its right lip where it is in the same wall; 0
/// where there is none.
pub fn bind_beside(
    spec: &Spec,
    template: &Template,
    (shelf, before): (&Shelf, Option<&Resolved>),
    notes: &mut Notes,
) -> Option<Resolved> {
    let mut scope = Scope::default();
    beside(spec, before, &mut scope);
    scope.set(IN_INCHES, Value::Flag(spec.units == Units::Inch));
    let ground = match template.ends {
        Some(_) => {
            Ends::lay(spec, shelf, &mut scope, notes).map(|ends| Footing::Ends(Box::new(ends)))
        }
        None => Ground::lay((spec, template), shelf, &mut scope, notes)
            .map(|ground| Footing::Wall(Box::new(ground))),
    };
    let sheets = sheets(spec, template, shelf, &mut scope, notes);
    let mut about_parameters = Notes::default();
    parameter::bind(template, spec, &mut scope, &mut about_parameters);
    let unfounded = ground.is_none() || sheets.len() < template.sheets.len();
    let echoes = tell(about_parameters, unfounded, notes);
    if spec.container.is_none() && (echoes || needs_container(template)) {
        notes.add(missing_container(spec, template));
    }
    let mut order: Vec<String> =
        parameter::ordered(template).into_iter().map(|(name, _)| name).collect();
    for name in sheets.keys() {
        order.extend([format!("sheet.{name}.t"), format!("sheet.{name}.r")]);
    }
    if notes.has_errors() {
        return None;
    }
    let mut derived = Derived::new(template);
    derived.override_with(spec, &mut scope, notes);
    let container = match ground {
        Some(ground) => {
            let mut bench = Bench { derived: &mut derived, scope: &mut scope, notes };
            Some(match (ground, &template.ends) {
                (Footing::Ends(ends), Some(rule)) => ends.place(rule, &mut bench)?,
                (Footing::Wall(ground), _) => ground.cut(template, spec, &mut bench)?,
                (Footing::Ends(_), None) => return None,
            })
        }
        None => None,
    };
    order.extend(super::site::NAMES.iter().chain(&ends::NAMES).map(ToString::to_string));
    for name in derived.names() {
        derived.work_out(&name, &mut scope, notes);
        order.push(name);
    }
    order.retain(|name| scope.get(name).is_some());
    let kit = spec.kit.value.clone();
    (!notes.has_errors()).then_some(Resolved {
        kit,
        scope,
        order,
        sheets,
        container,
        amendments: spec.amendments(),
        numbers: Numbers::default(),
    })
}

/// The values of the kit before.
fn beside(spec: &Spec, before: Option<&Resolved>, scope: &mut Scope) {
    let wall = spec.container.as_ref().and_then(|choice| choice.wall.as_ref());
    let named = wall.and_then(|said| WallName::from_word(&said.value));
    let here = before.filter(|kit| {
        let layout = kit.container.as_ref().and_then(|own| own.layout.as_ref());
        layout.map(|layout| layout.name) == named
    });
    let flat = here.and_then(|kit| kit.scope.number("cut.flat_right"));
    let kit = before.map_or_else(String::new, |kit| kit.kit.clone());
    scope.set("beside.kit", Value::Text(kit));
    scope.set_number("beside.flat_right", flat.unwrap_or(0.0));
}

/// Passes on what was found about parameters. Where there is no wall or no sheet, a formula that
/// asks for one is no fault of the family's: whether there were such is what is given back.
fn tell(about_parameters: Notes, unfounded: bool, notes: &mut Notes) -> bool {
    let is_echo = |finding: &Finding| unfounded && finding.check == "template.formula";
    let (echoes, own): (Vec<&Finding>, Vec<&Finding>) =
        about_parameters.all().iter().partition(|finding| is_echo(finding));
    own.into_iter().for_each(|finding| notes.add(finding.clone()));
    !echoes.is_empty()
}

/// The sheets of all groups; their thickness and bend radius become values.
fn sheets(
    spec: &Spec,
    template: &Template,
    shelf: &Shelf,
    scope: &mut Scope,
    notes: &mut Notes,
) -> BTreeMap<String, Sheet> {
    for own in &spec.sheet.parts {
        if !template.sheets.contains_key(&own.part.value) {
            let known: Vec<&str> = template.sheets.keys().map(String::as_str).collect();
            let finding = Finding::error(
                "spec.unknown-key",
                format!("`sheet.{}` is no sheet group of this kit", own.part.value),
            );
            let help = format!("its groups are {}", known.join(", "));
            notes.add(finding.at(spec.place(&own.part.span)).help(help));
        }
    }
    let mut sheets = BTreeMap::new();
    for (name, group) in &template.sheets {
        if let Some(sheet) = sheet(name, group, (template, spec, shelf), notes) {
            scope.set(format!("sheet.{name}.t"), Value::Number(sheet.thickness));
            scope.set(format!("sheet.{name}.r"), Value::Number(sheet.rule.radius));
            let strength = sheet.material.yield_strength.unwrap_or(0.0);
            scope.set(format!("sheet.{name}.yield"), Value::Number(strength));
            scope.set(format!("sheet.{name}.modulus"), Value::Number(sheet.material.modulus));
            // Where nothing fits is stocked, a check tells that; the bed is the limit then.
            let room = shelf.shop.largest_blank(&sheet.material.id, sheet.thickness);
            let longest = room.map_or(shelf.shop.laser.bed[1], |[_, length]| length);
            scope.set(format!("sheet.{name}.longest"), Value::Number(longest));
            sheets.insert(name.clone(), sheet);
        }
    }
    sheets
}
