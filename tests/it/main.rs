//! The tests, in one binary.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a failing test is meant to stop"
)]

mod family;
mod family_curtain;
mod family_doorway;
mod family_personnel;
mod family_plug;
mod family_vent;
mod family_window;
mod geom_clearance;
mod bad_files;
mod bad_specs;
mod bracket;
mod brake;
mod brake_law;
mod catalogue;
mod catalogue_read;
mod cli_ask;
mod cli_bench;
mod cli_binary;
mod cli_files;
mod cli_prove;
mod cli_run;
mod draw_brake;
mod draw_collisions;
mod draw_dots;
mod draw_facts;
mod draw_laws;
mod draw_pages;
mod draw_parts;
mod draw_whole;
mod cutting;
mod family_end_joint;
mod family_strut_bracket;
mod family_together;
mod law_blank;
mod law_corners;
mod law_door;
mod law_families;
mod law_fold;
mod law_frames;
mod law_handbook;
mod law_hands;
mod law_joints;
mod law_parts;
mod law_prove;
mod law_stock;
mod law_teeth;
mod law_section;
mod law_turn;
mod page;
mod prove_edit;
mod prove_files;
mod prove_mutations;
mod prove_together;
mod reach;
mod release;
mod release_manifest;
mod resolve_opening;
mod resolve_wall;
mod section;
mod shelf;
mod shelf_bending;
mod solid;
mod site_cut;
mod site_papers;
mod spec_cases;
mod spec_schema;
mod spec_values;
mod stackup_hand;
mod stackup_kits;
mod stackup_laws;
mod units_length;
mod write_dxf;
mod write_lettering;
mod write_number;
mod write_pdf;
mod write_sheet;
mod write_svg;
mod tidy;
mod view_broken;
mod view_isometric;
mod view_kit;
mod view_kits;
mod view_parts;
mod view_profile;
mod view_sight;
mod view_solid;
mod write_text;
