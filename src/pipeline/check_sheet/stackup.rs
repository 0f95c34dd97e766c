//! The joints' tolerances, as they stand on the check sheet.

use crate::draw::{Block, column, figures, sentences};
use crate::stackup::{HEADS, Report};

/// One row a joint, and what the limits are; nothing where the kit has no joints.
pub(super) fn blocks(report: &Report) -> Vec<Block> {
    if report.joints.is_empty() {
        return Vec::new();
    }
    let [id, name, count, offset, clearance, linear, built, advice] = HEADS;
    let columns = vec![
        column(id, 14.0),
        sentences(name, 100.0),
        figures(count, 22.0),
        figures(offset, 30.0),
        figures(clearance, 26.0),
        column(linear, 34.0),
        column(built, 34.0),
        sentences(advice, 118.0),
    ];
    let rows = report.rows().into_iter().map(Vec::from).collect();
    let title = "Tolerances of the joints: the chance that all fasteners of a joint pass";
    vec![
        Block::Table(title, columns, rows),
        Block::Prose("Basis of the tolerances", vec![report.basis.clone()]),
    ]
}
