//! Quantities as people type them: `2750 mm`, `9 ft`, `7 ft 6 in`, `5-1/2 in`, `3/16 in`, `14 ga`,
//! `5 deg`. Inches and feet end here: everything behind this module is millimetres and degrees.

use std::fmt;

use super::INCH;
use super::length_text::quoted;
use super::length_tokens::{Token, tokens};

/// Greatest length anyone means, mm: one kilometre. Beyond it a unit was mistaken.
pub const LONGEST: f64 = 1e6;

/// What may be typed for a length, for messages.
pub const LENGTHS: &str = "2750 mm, 2.75 m, 9 ft, 7 ft 6 in, 5-1/2 in, 3/16 in or 0.0785 in";

/// What may be typed for an angle, for messages.
pub const ANGLES: &str = "5 deg or 22.5 deg";

/// A quantity whose unit has been taken in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// Millimetres.
    Length(f64),
    /// Sheet gauge number.
    Gauge(u32),
    /// Degrees.
    Angle(f64),
}

/// Why a text could not be read, and what may be written instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Misread {
    /// What is wrong.
    pub why: String,
    /// What may be written instead.
    pub allowed: &'static str,
}

impl fmt::Display for Misread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}; allowed: {}", self.why, self.allowed)
    }
}

/// Reads a length with its unit, in millimetres; negative ones are offsets.
pub fn read_length(text: &str) -> Result<f64, Misread> {
    match read_quantity(text)? {
        Quantity::Length(mm) => Ok(mm),
        Quantity::Gauge(_) => Err(misread(text, "is a sheet's thickness, not a length")),
        Quantity::Angle(_) => Err(misread(text, "is an angle, not a length")),
    }
}

/// Reads an angle with its unit, in degrees.
pub fn read_angle(text: &str) -> Result<f64, Misread> {
    match read_quantity(text) {
        Ok(Quantity::Angle(degrees)) => Ok(degrees),
        Ok(_) => Err(Misread { allowed: ANGLES, ..misread(text, "is not an angle") }),
        Err(misread) => Err(Misread { allowed: ANGLES, ..misread }),
    }
}

/// Reads a quantity with its unit.
pub fn read_quantity(text: &str) -> Result<Quantity, Misread> {
    let tokens = tokens(text).map_err(|why| misread(text, &why))?;
    let (negative, tokens) = match tokens.as_slice() {
        [Token::Dash, rest @ ..] => (true, rest),
        all => (false, all),
    };
    let sign = if negative { -1.0 } else { 1.0 };
    let (amount, rest) = amount(tokens).map_err(|why| misread(text, &why))?;
    let Some((unit, rest)) = unit(rest) else { return Err(no_unit(text, rest)) };
    let quantity = match unit {
        Unit::Degree => Quantity::Angle(sign * amount),
        Unit::Gauge => gauge(sign * amount, text)?,
        Unit::Length(mm) => Quantity::Length(sign * amount * mm),
        Unit::Foot => {
            let inches = after_feet(rest).map_err(|why| misread(text, &why))?;
            return bounded(Quantity::Length(sign * (amount * 12.0 + inches) * INCH), text);
        }
    };
    if !rest.is_empty() {
        return Err(misread(text, "goes on behind its unit"));
    }
    bounded(quantity, text)
}

/// Refuses a bare number of millimetres that is not finite or longer than anyone means.
pub fn check_length(mm: f64) -> Result<f64, Misread> {
    bounded(Quantity::Length(mm), &format!("{mm:?}")).map(|_| mm)
}

/// Refuses a bare number of degrees that is not finite or beyond a full turn.
pub fn check_angle(degrees: f64) -> Result<f64, Misread> {
    let checked = bounded(Quantity::Angle(degrees), &format!("{degrees:?}"));
    checked.map(|_| degrees).map_err(|misread| Misread { allowed: ANGLES, ..misread })
}

#[derive(Clone, Copy)]
enum Unit {
    /// Millimetres in one.
    Length(f64),
    Foot,
    Gauge,
    Degree,
}

/// The unit that comes next, and what stands behind it.
fn unit<'a, 't>(tokens: &'a [Token<'t>]) -> Option<(Unit, &'a [Token<'t>])> {
    let [Token::Word(word), rest @ ..] = tokens else { return None };
    let unit = match *word {
        "mm" => Unit::Length(1.0),
        "cm" => Unit::Length(10.0),
        "m" => Unit::Length(1000.0),
        "in" | "inch" | "inches" | "\"" => Unit::Length(INCH),
        "ft" | "foot" | "feet" | "'" => Unit::Foot,
        "ga" | "gauge" => Unit::Gauge,
        "deg" | "°" => Unit::Degree,
        _ => return None,
    };
    Some((unit, rest))
}

/// `5`, `5.5`, `1/2`, `5-1/2` or `5 1/2`, and what stands behind it.
fn amount<'a, 't>(tokens: &'a [Token<'t>]) -> Result<(f64, &'a [Token<'t>]), String> {
    use Token::{Dash, Number, Slash};
    match tokens {
        [Number(whole), Dash, Number(top), Slash, Number(bottom), rest @ ..]
        | [Number(whole), Number(top), Slash, Number(bottom), rest @ ..] => {
            let part = fraction(*top, *bottom)?;
            if whole.fract() != 0.0 || 1.0 <= part {
                return Err("mixes a number and a fraction wrongly".to_owned());
            }
            Ok((whole + part, rest))
        }
        [Number(top), Slash, Number(bottom), rest @ ..] => Ok((fraction(*top, *bottom)?, rest)),
        [Number(amount), rest @ ..] => Ok((*amount, rest)),
        _ => Err("does not begin with a number".to_owned()),
    }
}

fn fraction(top: f64, bottom: f64) -> Result<f64, String> {
    if top.fract() != 0.0 || bottom.fract() != 0.0 || bottom == 0.0 {
        return Err("holds a fraction that is not one whole number over another".to_owned());
    }
    Ok(top / bottom)
}

/// Inches behind feet: none, or less than 12 with their unit.
fn after_feet(tokens: &[Token<'_>]) -> Result<f64, String> {
    let tokens = match tokens {
        [] => return Ok(0.0),
        [Token::Dash, rest @ ..] | rest => rest,
    };
    let (inches, rest) = amount(tokens)?;
    match unit(rest) {
        Some((Unit::Length(mm), [])) if mm == INCH && inches < 12.0 => Ok(inches),
        Some((Unit::Length(mm), [])) if mm == INCH => {
            Err("has 12 or more inches behind feet".into())
        }
        _ => Err("has something other than inches behind feet".to_owned()),
    }
}

fn gauge(number: f64, text: &str) -> Result<Quantity, Misread> {
    if number.fract() != 0.0 || !(0.0..=100.0).contains(&number) {
        return Err(Misread {
            allowed: "14 ga: a whole number of the material's gauge table",
            ..misread(text, "is not a gauge")
        });
    }
    Ok(Quantity::Gauge(number as u32))
}

fn bounded(quantity: Quantity, text: &str) -> Result<Quantity, Misread> {
    let (value, limit, words) = match quantity {
        Quantity::Length(mm) => (mm, LONGEST, "is longer than one kilometre"),
        Quantity::Angle(degrees) => (degrees, 360.0, "is more than a full turn"),
        Quantity::Gauge(_) => return Ok(quantity),
    };
    if !value.is_finite() {
        return Err(misread(text, "is not a finite number"));
    }
    if limit < value.abs() {
        return Err(misread(text, words));
    }
    Ok(quantity)
}

fn no_unit(text: &str, rest: &[Token<'_>]) -> Misread {
    match rest {
        [] => misread(text, "has no unit"),
        [Token::Word(word), ..] => misread(text, &format!("has the unknown unit {}", quoted(word))),
        _ => misread(text, "has no unit behind its number"),
    }
}

fn misread(text: &str, why: &str) -> Misread {
    Misread { why: format!("{} {why}", quoted(text)), allowed: LENGTHS }
}
