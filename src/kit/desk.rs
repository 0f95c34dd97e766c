//! The desk at which a template is worked out: formulas go in, numbers come out, and what fails is
//! reported where it stands in the template.

use std::ops::Range;
use std::sync::Arc;

use crate::geom::{FaceFrame, Point, Point3, SiteFrame};
use crate::note::{Finding, Notes, Place};
use crate::template::{Formula, Scope, Text, render};

/// Formulas of one template over one kit's values.
pub(crate) struct Desk<'a> {
    /// The template's file.
    pub(crate) file: Arc<str>,
    /// Names and values.
    pub(crate) scope: Scope,
    /// Where findings go.
    pub(crate) notes: &'a mut Notes,
}

impl Desk<'_> {
    /// The template's place behind a span.
    pub(crate) fn place(&self, span: Range<usize>) -> Option<Place> {
        Some(Place { file: Arc::clone(&self.file), span })
    }

    /// Reports a mistake of the template at a span.
    pub(crate) fn wrong(&mut self, check: &'static str, span: Range<usize>, message: String) {
        let finding = Finding::error(check, message).at(self.place(span));
        self.notes
            .add(finding.help("correct the template, or the value in the spec it follows from"));
    }

    /// A result, or none and a finding.
    fn or_report<T>(&mut self, result: Result<T, String>, span: Range<usize>) -> Option<T> {
        match result {
            Ok(value) => Some(value),
            Err(message) => {
                self.wrong("template.formula", span, message);
                None
            }
        }
    }

    /// A number.
    pub(crate) fn number(&mut self, formula: &Formula) -> Option<f64> {
        let result = formula.work_out(&self.scope);
        self.or_report(result, formula.span())
    }

    /// A number, or another where the template is silent.
    pub(crate) fn number_or(&mut self, formula: Option<&Formula>, silent: f64) -> Option<f64> {
        formula.map_or(Some(silent), |formula| self.number(formula))
    }

    /// Whether a condition holds; it does where the template is silent.
    pub(crate) fn holds(&mut self, condition: Option<&Formula>) -> bool {
        let Some(formula) = condition else { return true };
        let result = formula.holds(&self.scope);
        self.or_report(result, formula.span()).unwrap_or(false)
    }

    /// A point of a face.
    pub(crate) fn point(&mut self, pair: &[Formula; 2]) -> Option<Point<FaceFrame>> {
        Some(Point::new(self.number(&pair[0])?, self.number(&pair[1])?))
    }

    /// A point or direction in the site.
    pub(crate) fn point3(&mut self, triple: &[Formula; 3]) -> Option<Point3<SiteFrame>> {
        let [x, y, z] = triple;
        Some(Point3::new(self.number(x)?, self.number(y)?, self.number(z)?))
    }

    /// A sentence with its numbers in it.
    pub(crate) fn text(&mut self, text: &Text) -> Option<String> {
        let result = render(text.get_ref(), &self.scope);
        self.or_report(result, text.span())
    }

    /// Several sentences; one that comes to nothing is left out.
    pub(crate) fn texts(&mut self, texts: &[Text]) -> Vec<String> {
        let worked = texts.iter().filter_map(|text| self.text(text));
        worked.filter(|text| !text.trim().is_empty()).collect()
    }
}
