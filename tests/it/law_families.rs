//! Law of the families that stand on no opening: whatever a spec asks for within a family's own
//! limits, there is a kit whose joints fit, or findings that say with numbers what stands in the
//! way; never a fault of the program.

use std::fmt::Write;

use blankwright::note::Severity;
use blankwright::pipeline::{FileKind, Only, Source, Want, build};
use blankwright::template::{Formula, ParameterKind};
use proptest::prelude::*;

use crate::law_joints::all_coaxial;
use crate::law_stock::{STOCK, config};

/// A spec with some parameters of a family at shares of the way between their limits.
fn spec(family: &str, container: &str, shares: &[(usize, f64)]) -> String {
    let template = STOCK.family(family).unwrap();
    let bound = |limit: &Option<Formula>| limit.as_ref()?.text().parse::<f64>().ok();
    let mut ranges = Vec::new();
    for (group, named) in &template.parameters {
        for (name, parameter) in named {
            let parameter = parameter.get_ref();
            if let (Some(low), Some(high)) = (bound(&parameter.min), bound(&parameter.max)) {
                ranges.push((group, name, parameter.kind, low, high));
            }
        }
    }
    let mut dotted = String::new();
    let mut said = Vec::new();
    for (index, share) in shares {
        let (group, name, kind, low, high) = ranges[index % ranges.len()];
        let value = low + (high - low) * share;
        let value = if kind == ParameterKind::Count { value.round() } else { value };
        if !said.contains(&(group, name)) {
            said.push((group, name));
            writeln!(dotted, "{group}.{name} = {value:?}").unwrap();
        }
    }
    format!(
        "kit = \"OTS-0850\"\ntemplate = \"{family}\"\nrevision = \"A\"\ndate = \"2026-03-02\"\n\
         title = \"Trial\"\n{dotted}\n[container]\n{container}\n"
    )
}

fn holds(spec: &str) -> Result<(), TestCaseError> {
    let source = Source { name: "trial.toml".into(), bytes: spec.as_bytes().to_vec() };
    let only = Only { kinds: vec![FileKind::Json], ..Only::default() };
    let built = build(&source, &STOCK, &Want::Files(only));
    let all = built.notes.all().iter();
    let errors: Vec<_> = all.filter(|f| f.severity == Severity::Error).collect();
    for error in &errors {
        let numbered = error.message.chars().any(|c| c.is_ascii_digit());
        prop_assert!(numbered && !error.help.is_empty(), "{spec}\n{error:#?}");
        let ours = ["internal", "flat.open", "fit.coaxial", "spec.syntax", "template.name"];
        prop_assert!(!ours.contains(&error.check), "{spec}\n{error:#?}");
    }
    match built.files {
        Some(files) => {
            let joined = all_coaxial(&serde_json::from_slice(&files[0].bytes).unwrap());
            prop_assert!(0 < joined, "{spec}\nnothing is joined");
        }
        None => prop_assert!(!errors.is_empty(), "{spec}\nneither a kit nor a reason"),
    }
    Ok(())
}

fn shares() -> impl Strategy<Value = Vec<(usize, f64)>> {
    prop::collection::vec((0..64_usize, 0.0..1.0_f64), 0..5)
}

fn container() -> impl Strategy<Value = &'static str> {
    prop_oneof![Just("20ft"), Just("40ft"), Just("40ft-high-cube")]
}

proptest! {
    #![proptest_config(config(24))]

    #[test]
    fn an_end_joint_fits_or_is_refused_with_numbers(
        shares in shares(), container in container(),
        near in any::<bool>(), far in any::<bool>(),
    ) {
        let end = |door: bool| if door { "door-end" } else { "front-end" };
        let (near, far) = (end(near), end(far));
        let text = spec("end-joint", &format!("type = \"{container}\""), &shares);
        let ends = format!("joint.near = \"{near}\"\njoint.far = \"{far}\"\n\n[container]");
        holds(&text.replacen("\n[container]", &ends, 1))?;
    }

    #[test]
    fn strut_brackets_fit_or_are_refused_with_numbers(
        shares in shares(), container in container(),
        wall in prop_oneof![Just("left"), Just("right"), Just("front-end")],
    ) {
        let ground = format!("type = \"{container}\"\nwall = \"{wall}\"");
        holds(&spec("strut-bracket", &ground, &shares))?;
    }
}
