//! Blankwright: from a short spec to a whole kit of folded sheet-metal parts.
//!
//! The modules stand in the order in which the data travels. A module may use those above it; the
//! table of allowed arrows is kept, and checked, in `tests/it/tidy.rs`.

// Vocabulary: knows no stage.
pub mod units;
pub mod geom;
pub mod note;

// Stages, in the order of the data.
pub mod spec;
pub mod shelf;
pub mod template;
pub mod resolve;
pub mod cutting;
pub mod kit;
pub mod fold;
pub mod mate;
pub mod flat;
pub mod nest;
pub mod cutpath;
pub mod sheets;
pub mod reading;
pub mod compare;
pub mod solid;
pub mod brake;
pub mod stackup;
pub mod section;
pub mod site;
pub mod body;
pub mod mesh;
pub mod quote;
pub mod check;
pub mod draw;
pub mod write;

// What a kit is released as.
pub mod release;
pub mod page;

// What was written, read back and proved again.
pub mod prove;

// From one spec to one kit's files.
pub mod pipeline;

// The shell: the only code that meets the outside world.
pub mod cli;
