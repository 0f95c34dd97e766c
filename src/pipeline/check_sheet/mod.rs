//! The check sheet: what was found, every check with its limit and source, the joints' tolerances,
//! and the sections with the screen of their loads.

mod findings;
mod stackup;
mod strength;

use crate::draw::Block;
use crate::kit::Kit;
use crate::note::Finding;
use crate::section::Strength;
use crate::stackup::Report;

/// What the sheet is, for whoever holds it.
const ABOUT: &str = "Every check made on this kit as it was worked out, with its limit and where the limit comes from. What is not listed was not checked. Structural figures are advice: local codes rule and a licensed engineer decides.";

/// The sheet's tables and texts.
pub(super) fn check_sheet(
    kit: &Kit,
    findings: &[Finding],
    (stackup, strength): (&Report, &Strength),
) -> Vec<Block> {
    let about = Block::Prose("About this sheet", vec![ABOUT.to_string()]);
    let parts = [
        vec![about],
        findings::blocks(findings),
        stackup::blocks(stackup),
        strength::blocks(kit, strength),
    ];
    parts.into_iter().flatten().collect()
}
