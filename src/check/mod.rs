//! Checks: one rule a file, each with its reason, limit and source. They read everything and change
//! nothing.

mod rule;
mod edges;
mod worst;
mod wall_face;
mod fit_coaxial;
mod fit_contact;
mod fit_countersink;
mod fit_grip;
mod fit_edge;
mod fit_spacing;
mod fit_into;
mod fit_clash;
mod fit_keep_out;
mod fit_reach;
mod fit_stackup;
mod fab_hole_bend;
mod fab_hole_size;
mod fab_web;
mod fab_leg;
mod fab_radius;
mod fab_sheet;
mod fab_bed;
mod fab_force;
mod fab_outline;
mod fab_relief;
mod brake_order;
mod brake_gauge;
mod load_screen;
mod site_seam;
mod site_post;
mod site_gooseneck;
mod site_pocket;
mod site_cutout;
mod site_removed;
mod require;
mod accept;

pub use rule::{Asked, RULES, Rule, Subject, guide, run};
