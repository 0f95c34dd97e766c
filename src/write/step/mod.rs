//! Solids as a STEP file (ISO 10303-21, application protocol 214): millimetres, true planes,
//! cylinders and circles, one product a part under its number, placed in the kit.

mod record;
mod solid;
mod file;

pub use file::step;
