//! From the text of a template file to what it says.

use std::sync::Arc;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer};
use toml::Spanned;

use super::{Formula, Template};
use crate::note::{Finding, Notes, Place};

/// Reads a template. Findings point into the template's own text; the first mistake of shape ends
/// the reading.
pub fn parse(file: &str, text: &str, notes: &mut Notes) -> Option<Template> {
    match toml::from_str::<Template>(text) {
        Ok(mut template) => {
            template.file = Arc::from(file);
            Some(template)
        }
        Err(error) => {
            let place = error.span().map(|span| Place { file: Arc::from(file), span });
            let message = error.message().trim_end().replace('\n', " ");
            notes.add(
                Finding::error("template.syntax", message)
                    .at(place)
                    .help("the template language is described in DEVELOPERS.md"),
            );
            None
        }
    }
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Raw {
    Flag(bool),
    Number(f64),
    Text(String),
}

impl<'de> Deserialize<'de> for Formula {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let raw = Spanned::<Raw>::deserialize(deserializer)?;
        let span = raw.span();
        match raw.into_inner() {
            Raw::Flag(flag) => Ok(Formula::flag(flag, span)),
            Raw::Number(number) if number.is_finite() => Ok(Formula::number(number, span)),
            Raw::Number(number) => Err(D::Error::custom(format!("{number} is no length"))),
            Raw::Text(text) => Formula::compile(&text, span).map_err(D::Error::custom),
        }
    }
}
