//! Tolerance stack-up: what laser and brake tolerances do to the joints.
//!
//! Every hole, bend and blank has its error; the parts are folded with them, the fitter lines all
//! holes of the kit up as well as he can (`fit.rs`), and each fastener passes or does not. The
//! linear method sums variances, the Monte Carlo builds kits with errors drawn at random; the two
//! share what is measured (`model.rs`) and what the fitter does, and nothing else.
//!
//! Left out: a bend line that is askew (the gauge's fingers share one bar), sheets that stretch or
//! buckle, a pin thinner than its nominal diameter. Holes into the container are drilled in place.

mod advice;
mod bend;
mod bound;
mod chance;
mod envelope;
mod fit;
mod gate;
mod linear;
mod model;
mod random;
mod report;
mod stack;
mod trial;

pub use report::{Advice, HEADS, JointStack, Report, TARGET, Tried, percent};
pub use stack::Stack;
pub use trial::Tally;
