//! Raw values read as what they are meant to be.

use std::ops::Range;

use super::{Codes, Given, Raw, Spec, Thickness, Units, codes};
use crate::note::{Finding, Notes};
use crate::units::{
    self, INCH, Misread, Quantity, check_angle, check_length, number as number_text, quoted,
};

/// Thickest sheet anyone folds here, mm, and the thinnest; a value beyond is a mistaken unit.
const SHEET: [f64; 2] = [0.1, 25.0];

/// Why a value is not what it is meant to be.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Unfit {
    /// Another kind of value.
    Kind { found: &'static str, wanted: &'static str },
    /// A quantity that cannot be read.
    Quantity(Misread),
    /// A bare number in a spec whose drawings read in inches.
    NoUnit(f64),
}

impl Unfit {
    pub(super) fn kind(raw: &Raw, wanted: &'static str) -> Self {
        let found = match raw {
            Raw::Number(_) => "a number",
            Raw::Text(_) => "a text",
            Raw::Flag(_) => "true or false",
            Raw::List(_) => "a list",
            Raw::Table(_) => "a table",
        };
        Unfit::Kind { found, wanted }
    }

    /// The finding about the value at `path`; its place is the caller's to add.
    pub(super) fn finding(&self, path: &str, codes: &Codes) -> Finding {
        let finding = match self {
            Unfit::Kind { found, wanted } => {
                let message = format!("`{path}` is {found}; it must be {wanted}");
                Finding::error(codes.wrong_type, message).help(format!("give {wanted}"))
            }
            Unfit::Quantity(misread) => {
                let message = format!("`{path}`: {}", misread.why);
                Finding::error(codes.quantity, message).help(format!("write {}", misread.allowed))
            }
            Unfit::NoUnit(bare) => {
                let bare = number_text(*bare, 6);
                let message = format!("`{path}` is {bare} without a unit in a spec in inches");
                let help = format!("write \"{bare} in\" or \"{bare} mm\"");
                Finding::error(codes.unit_missing, message).help(help)
            }
        };
        finding.about(path)
    }
}

pub(super) fn text(raw: &Raw) -> Result<String, Unfit> {
    match raw {
        Raw::Text(text) => Ok(text.clone()),
        other => Err(Unfit::kind(other, "a text in double quotes")),
    }
}

pub(super) fn flag(raw: &Raw) -> Result<bool, Unfit> {
    match raw {
        Raw::Flag(flag) => Ok(*flag),
        other => Err(Unfit::kind(other, "true or false")),
    }
}

pub(super) fn number(raw: &Raw) -> Result<f64, Unfit> {
    match raw {
        Raw::Number(number) => Ok(*number),
        other => Err(Unfit::kind(other, "a number without a unit")),
    }
}

pub(super) fn length(raw: &Raw, units: Units) -> Result<f64, Unfit> {
    match raw {
        // Zero is the same in every unit.
        Raw::Number(bare) if units == Units::Inch && *bare != 0.0 => Err(Unfit::NoUnit(*bare)),
        Raw::Number(mm) => check_length(*mm).map_err(Unfit::Quantity),
        Raw::Text(text) => units::read_length(text).map_err(Unfit::Quantity),
        other => Err(Unfit::kind(other, "a length: a number of mm, or a text with its unit")),
    }
}

pub(super) fn angle(raw: &Raw) -> Result<f64, Unfit> {
    match raw {
        Raw::Number(degrees) => check_angle(*degrees).map_err(Unfit::Quantity),
        Raw::Text(text) => units::read_angle(text).map_err(Unfit::Quantity),
        other => Err(Unfit::kind(other, "an angle: a number of degrees, or a text with its unit")),
    }
}

pub(super) fn thickness(raw: &Raw, units: Units) -> Result<Thickness, Unfit> {
    let mm = match raw {
        Raw::Text(text) => match units::read_quantity(text).map_err(Unfit::Quantity)? {
            Quantity::Gauge(gauge) => return Ok(Thickness::Gauge(gauge)),
            Quantity::Length(mm) => mm,
            Quantity::Angle(_) => {
                let why = format!("{} is an angle, not a thickness", quoted(text));
                return Err(Unfit::Quantity(Misread { why, allowed: THICKNESSES }));
            }
        },
        other => length(other, units)?,
    };
    if SHEET[0] <= mm && mm <= SHEET[1] {
        return Ok(Thickness::Mm(mm));
    }
    let why = format!("a sheet {} mm thick is not between 0.1 and 25 mm", number_text(mm, 4));
    Err(Unfit::Quantity(Misread { why, allowed: THICKNESSES }))
}

/// What may be typed for a thickness, for messages.
const THICKNESSES: &str = "2 mm, 0.0785 in or 14 ga";

impl Spec {
    /// A value as a length in mm; a fault is told.
    pub fn length(&self, given: &Given, notes: &mut Notes) -> Option<f64> {
        self.take(given, length(&given.value, self.units), notes)
    }

    /// A value as a list of lengths in mm; every fault is told.
    pub fn lengths(&self, given: &Given, notes: &mut Notes) -> Option<Vec<f64>> {
        let Raw::List(items) = &given.value else {
            return self.take(given, Err(Unfit::kind(&given.value, "a list of lengths")), notes);
        };
        let read: Vec<Option<f64>> = items
            .iter()
            .map(|item| {
                let at = (given.path.as_str(), &item.span);
                self.take_at(at, length(&item.value, self.units), notes)
            })
            .collect();
        read.into_iter().collect()
    }

    /// A value as an angle in degrees; a fault is told.
    pub fn angle(&self, given: &Given, notes: &mut Notes) -> Option<f64> {
        self.take(given, angle(&given.value), notes)
    }

    /// A value as a finite number without a unit; a fault is told.
    pub fn number(&self, given: &Given, notes: &mut Notes) -> Option<f64> {
        self.take(given, number(&given.value), notes)
    }

    /// A value as a text; a fault is told.
    pub fn text(&self, given: &Given, notes: &mut Notes) -> Option<String> {
        self.take(given, text(&given.value), notes)
    }

    /// A value as a yes or no; a fault is told.
    pub fn flag(&self, given: &Given, notes: &mut Notes) -> Option<bool> {
        self.take(given, flag(&given.value), notes)
    }

    /// A value as a sheet's thickness; a fault is told.
    pub fn thickness(&self, given: &Given, notes: &mut Notes) -> Option<Thickness> {
        self.take(given, thickness(&given.value, self.units), notes)
    }

    fn take<T>(&self, given: &Given, read: Result<T, Unfit>, notes: &mut Notes) -> Option<T> {
        self.take_at((&given.path, &given.span), read, notes)
    }

    fn take_at<T>(
        &self,
        (path, span): (&str, &Range<usize>),
        read: Result<T, Unfit>,
        notes: &mut Notes,
    ) -> Option<T> {
        match read {
            Ok(value) => Some(value),
            Err(unfit) => {
                notes.add(unfit.finding(path, &codes::SPEC).at(self.place(span)));
                None
            }
        }
    }
}

/// A length as people read it in this spec's units.
pub fn show_length(mm: f64, units: Units) -> String {
    match units {
        Units::Mm => units::in_mm(mm),
        Units::Inch => format!("{} in ({})", number_text(mm / INCH, 3), units::in_mm(mm)),
    }
}
