//! The opening on site: what is cut, what comes out, and what stands near. Everything here is in
//! the site frame: X to the right as seen from outside, Y into the container, Z up from the floor.

mod model;
mod basis;
mod profile;
mod lines;
mod panel;
mod holding;
mod near;
mod removed;
mod schedule;
mod order;
mod step_joints;
mod foam;
mod supplies;
mod tools;
mod work_out;

pub use basis::{
    BASES, BEAD_MORE, CARTRIDGE_ML, FOAM_MORE, PERSON_KG, POCKET_CLEAR, POST_CLEAR, SEAM_CLEAR,
    STOP_HOLE, WALL_SHARE,
};
pub use foam::PREPARE;
pub use model::{
    Amount, Carried, Cut, Edge, Foaming, From, Holding, Lines, Lip, Near, NearKind, Panel, Pocket,
    Removed, Setting, SheetRun, Site, Tab, Task, Tool,
};
pub use profile::wall_line;
pub use work_out::{Subject, work_out};
