//! Dimensions of ISO 129: lines, arrow heads, figures and leaders, kept clear of one another.

mod aligned;
mod arrow;
mod edge;
mod flag;
mod leader;
mod linear;
mod running;
mod spread;

pub(super) use aligned::{Aligned, aligned};
pub(super) use arrow::arrow;
pub(super) use edge::Edge;
pub(super) use flag::{Flag, flag};
pub(super) use leader::{Callout, callout};
pub(super) use linear::{Span, linear, reach as linear_reach};
pub(super) use running::{Running, Station, capacity, depth as running_depth, running};
pub(super) use spread::spread;

/// Height of a dimension's figures, mm (ISO 3098).
pub(super) const FIGURE: f64 = 2.5;
/// Gap between the outline and the start of an extension line.
const EXTENSION_GAP: f64 = 1.0;
/// How far an extension line runs past its dimension line.
const EXTENSION_PAST: f64 = 1.5;
/// Gap between a dimension line and the figures above it.
const TEXT_GAP: f64 = 1.1;
