//! What a shop may want on layers of its own: lead-ins, holding tabs, cuts through the skeleton.

use super::{CutSheet, Extras, Request};

/// The lines of the layers that the shop asks for.
pub(super) fn extras(_request: &Request, _sheet: &CutSheet) -> Extras {
    Extras::default()
}
