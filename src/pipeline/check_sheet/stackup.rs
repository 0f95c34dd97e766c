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
    vec![Block::Table(title, columns, rows), Block::Prose("Basis of the tolerances", basis(report))]
}

/// The limits, and what the column of the Monte Carlo says.
fn basis(report: &Report) -> Vec<String> {
    let built = report.builds.map(|(builds, seed)| {
        format!(
            "All pass, built: {builds} kits with errors drawn at random (seed {seed}), the share \
             that passed +- its standard error. Where every build passed: the least chance that \
             this bears out at 95 % (Clopper-Pearson, one-sided)."
        )
    });
    std::iter::once(report.basis.clone()).chain(built).collect()
}
