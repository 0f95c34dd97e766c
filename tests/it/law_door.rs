//! Law of the overhead door: whatever a spec asks for within its ranges, there is a kit whose
//! joints fit, or findings that say with numbers what stands in the way; never a panic.

use std::fmt::Write;

use blankwright::note::Severity;
use blankwright::pipeline::{FileKind, Only, Source, Want, build};
use proptest::option;
use proptest::prelude::*;

use crate::law_joints::all_coaxial;
use crate::law_stock::{STOCK, config};

/// Values of the family's parameters, each within its limits.
const RANGES: [(&str, &str, f64, f64); 15] = [
    ("door", "headroom", 120.0, 450.0),
    ("door", "side_room", 60.0, 130.0),
    ("door", "thickness", 20.0, 90.0),
    ("frame", "lip", 20.0, 60.0),
    ("frame", "margin", 1.0, 20.0),
    ("frame", "cut_gap", 0.0, 8.0),
    ("frame", "pitch", 50.0, 300.0),
    ("frame", "top_play", 1.0, 15.0),
    ("head", "cut_rise", 30.0, 90.0),
    ("head", "lap", 25.0, 80.0),
    ("drip", "slope", 2.0, 20.0),
    ("drip", "clearance", 0.5, 8.0),
    ("sill", "slope", 2.0, 10.0),
    ("sill", "stub", 0.0, 20.0),
    ("sill", "inside", 40.0, 150.0),
];

/// A wish for a door.
#[derive(Debug, Clone)]
struct Wish {
    container: &'static str,
    wall: &'static str,
    width: f64,
    height: f64,
    centre: Option<f64>,
    foam: f64,
    frame: Option<f64>,
    trim: Option<f64>,
    /// Which of the other parameters, and where between its limits.
    others: Vec<(usize, f64)>,
}

fn wish() -> impl Strategy<Value = Wish> {
    let container = prop_oneof![Just("20ft"), Just("40ft"), Just("40ft-high-cube")];
    let width = prop_oneof![700.0..3000.0_f64, 700.0..6000.0_f64];
    let height = prop_oneof![1700.0..2300.0_f64, 600.0..2600.0_f64];
    let foam = prop_oneof![Just(0.0), 20.0..120.0_f64, 0.0..20.0_f64];
    let sheets = [option::of(1.5..3.0_f64), option::of(1.5..3.0_f64)];
    let others = prop::collection::vec((0..RANGES.len(), 0.0..1.0_f64), 0..4);
    let site = (container, prop_oneof![Just("left"), Just("right")], option::of(0.0..12000.0_f64));
    (site, width, height, foam, sheets, others).prop_map(
        |((container, wall, centre), width, height, foam, [frame, trim], others)| Wish {
            container,
            wall,
            width,
            height,
            centre,
            foam,
            frame,
            trim,
            others,
        },
    )
}

impl Wish {
    fn spec(&self) -> String {
        let mut dotted = String::new();
        let Wish { container, wall, width, height, foam, .. } = self;
        let mut text = format!(
            "kit = \"OTS-0801\"\ntemplate = \"overhead-door\"\nrevision = \"A\"\n\
             date = \"2026-03-02\"\ntitle = \"Door\"\n\n\
             [container]\ntype = \"{container}\"\nwall = \"{wall}\"\n\n\
             [opening]\nclear_width = {width:?}\nclear_height = {height:?}\n"
        );
        if let Some(centre) = self.centre {
            writeln!(text, "centre = {centre:?}").unwrap();
        }
        writeln!(text, "\n[foam]\nthickness = {foam:?}").unwrap();
        for (group, thickness) in [("frame", self.frame), ("trim", self.trim)] {
            if let Some(thickness) = thickness {
                writeln!(text, "\n[sheet.parts.{group}]\nthickness = {thickness:?}").unwrap();
            }
        }
        let mut said: Vec<usize> = Vec::new();
        for (index, share) in &self.others {
            let (group, name, low, high) = RANGES[*index];
            if !said.contains(index) {
                said.push(*index);
                writeln!(dotted, "{group}.{name} = {:?}", low + (high - low) * share).unwrap();
            }
        }
        // Keys with dots stand before the first table.
        text.replace("\n\n[container]", &format!("\n{dotted}\n[container]"))
    }
}

proptest! {
    #![proptest_config(config(64))]

    #[test]
    fn a_door_fits_or_is_refused_with_numbers(wish in wish()) {
        let spec = wish.spec();
        let source = Source { name: "door.toml".into(), bytes: spec.clone().into_bytes() };
        let only = Only { kinds: vec![FileKind::Json], ..Only::default() };
        let built = build(&source, &STOCK, &Want::Files(only));
        let errors: Vec<_> =
            built.notes.all().iter().filter(|f| f.severity == Severity::Error).collect();
        for error in &errors {
            let numbered = error.message.chars().any(|c| c.is_ascii_digit());
            prop_assert!(numbered, "{spec}\n{error:#?}");
            prop_assert!(!error.help.is_empty(), "{spec}\n{error:#?}");
            let ours = ["internal", "flat.open", "fit.coaxial", "spec.syntax"];
            prop_assert!(!ours.contains(&error.check), "{spec}\n{error:#?}");
        }
        match built.files {
            Some(files) => {
                prop_assert!(errors.is_empty());
                all_coaxial(&serde_json::from_slice(&files[0].bytes).unwrap());
            }
            None => prop_assert!(!errors.is_empty(), "{spec}\nneither a kit nor a reason"),
        }
    }
}
