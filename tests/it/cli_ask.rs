//! Listing and describing kit families.

use blankwright::cli::Exit;

use crate::cli_bench::{Bench, Ran, call};

const SHELF_MAT: &str = r#"
[template]
name = "shelf-mat"
title = "Mat for a shelf"
about = "One plate with holes."

[parameters.mat]
width = { kind = "length", default = 300, min = 50, max = "mat.depth * 4", help = "Along the shelf." }
depth = { kind = "length", help = "Across the shelf." }
edge = { kind = "choice", word = "plain", choices = ["plain", "turned"], help = "The front edge." }

[sheets.mat]
thickness = "14 ga"
material = "galvanized"
help = "The mat."

[[parts]]
name = "mat"
title = "Mat"
sheet = "mat"
plate = { width = "mat.width", height = "mat.depth" }
places = [{ at = [0, 0, 0], x = [1, 0, 0], y = [0, 1, 0] }]
"#;

fn describe(bench: &Bench, more: &[&str]) -> Ran {
    let folder = bench.path("families");
    let line = ["blankwright", "describe", "--templates", folder.to_str().unwrap()];
    call(&[&line, more].concat())
}

#[test]
fn a_family_is_described_by_its_parameters() {
    let bench = Bench::new();
    bench.put("families/shelf-mat.toml", SHELF_MAT);
    let ran = describe(&bench, &["shelf-mat"]);
    assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""));
    let wanted = "\
shelf-mat: Mat for a shelf
One plate with holes.

parameter  kind        default          allowed            help
mat.width  length, mm  300              50 to mat.depth * 4  Along the shelf.
mat.depth  length, mm  (must be given)                       Across the shelf.
mat.edge   choice      plain            plain, turned        The front edge.

sheet  thickness  material    help
mat    14 ga      galvanized  The mat.
";
    let squeezed = |text: &str| -> Vec<String> {
        text.lines().map(|l| l.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
    };
    assert_eq!(squeezed(&ran.out), squeezed(wanted));
    // The columns stand one under the other.
    let starts: Vec<usize> = ["help", "Across", "The front", "Along"]
        .iter()
        .map(|word| ran.out.lines().find_map(|line| line.find(word)).unwrap())
        .collect();
    assert!(starts.iter().all(|&start| start == starts[0]), "{}", ran.out);
}

#[test]
fn families_are_listed() {
    let bench = Bench::new();
    bench.put("families/shelf-mat.toml", SHELF_MAT);
    let ran = describe(&bench, &[]);
    assert_eq!(ran.out, "family     title\nshelf-mat  Mat for a shelf\n");
}

#[test]
fn an_unknown_family_is_answered_with_the_known_ones() {
    let bench = Bench::new();
    bench.put("families/shelf-mat.toml", SHELF_MAT);
    let ran = describe(&bench, &["shelf-map"]);
    assert_eq!((ran.exit, ran.out.as_str()), (Exit::Unusable, ""));
    assert!(ran.err.starts_with("error[args.no-family]: there is no family shelf-map\n"));
    assert!(ran.err.contains("did you mean shelf-mat? there are: shelf-mat"), "{}", ran.err);
}

#[test]
fn a_broken_family_is_told_and_the_others_are_listed() {
    let bench = Bench::new();
    bench.put("families/shelf-mat.toml", SHELF_MAT);
    bench.put("families/broken.toml", "[template]\nname = 7\n");
    bench.put("families/second.toml", SHELF_MAT);
    let ran = describe(&bench, &[]);
    assert_eq!(ran.exit, Exit::Unusable);
    assert!(ran.err.contains("broken.toml:2:8"), "{}", ran.err);
    assert!(ran.err.contains("error[template.twice]"), "{}", ran.err);
    assert!(ran.out.contains("shelf-mat  Mat for a shelf"));
}

#[test]
fn completions_are_written_for_a_shell() {
    let ran = call(&["blankwright", "completions", "bash"]);
    assert_eq!(ran.exit, Exit::Done);
    assert!(ran.out.contains("blankwright") && ran.out.contains("--templates"));
}

#[test]
fn a_line_that_cannot_be_used_ends_in_2() {
    for line in [
        &["x"] as &[&str],
        &["x", "draw"],
        &["x", "draw", "a.toml", "--only", "exe"],
        &["x", "check", "a.toml", "--jobs", "0"],
        &["x", "sing"],
    ] {
        let ran = call(line);
        assert_eq!((ran.exit, ran.out.as_str()), (Exit::Unusable, ""), "{line:?}");
        assert!(!ran.err.is_empty());
    }
    let help = call(&["x", "--help"]);
    assert_eq!((help.exit, help.err.as_str()), (Exit::Done, ""));
    assert!(help.out.contains("draw") && help.out.contains("describe"));
}

#[test]
fn a_schema_knows_the_parameters_of_its_family() {
    let bench = Bench::new();
    bench.put("families/shelf-mat.toml", SHELF_MAT);
    let folder = bench.path("families");
    let ran = call(&["x", "schema", "shelf-mat", "--templates", folder.to_str().unwrap()]);
    assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""));
    let schema: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(schema["additionalProperties"], false);
    assert_eq!(schema["properties"]["template"]["const"], "shelf-mat");
    let mat = &schema["properties"]["mat"];
    assert_eq!(mat["properties"]["width"]["$ref"], "#/$defs/length");
    assert_eq!(mat["properties"]["width"]["default"], 300);
    assert_eq!(mat["properties"]["edge"]["enum"], serde_json::json!(["plain", "turned"]));
    let alone = &schema["else"];
    assert_eq!(alone["properties"]["mat"]["required"], serde_json::json!(["depth"]));
    let required = alone["required"].as_array().unwrap();
    assert!(required.contains(&"mat".into()) && required.contains(&"kit".into()));
    assert!(schema["$defs"]["length"].is_object());
}

#[test]
fn a_schema_without_a_family_allows_any_group() {
    let ran = call(&["x", "schema"]);
    let schema: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert!(schema["additionalProperties"].is_object());
}

/// Every family that is built in has a picture, and `describe` shows it.
#[test]
fn every_family_shows_its_picture() {
    let ran = call(&["x", "describe"]);
    assert_eq!((ran.exit, ran.err.as_str()), (Exit::Done, ""));
    let table = ran.out.lines().skip(1).take_while(|line| !line.is_empty());
    let names: Vec<&str> = table.filter_map(|line| line.split_whitespace().next()).collect();
    assert!(names.contains(&"overhead-door"), "{}", ran.out);
    let is_dots = |line: &str| line.chars().any(|c| ('\u{2801}'..='\u{28ff}').contains(&c));
    for name in names {
        let after = ran.out.split(&format!("\n\n{name}\n")).nth(1).unwrap_or_default();
        let lines = after.lines().take_while(|line| !line.is_empty()).filter(|l| is_dots(l));
        assert!(lines.count() > 3, "{name} has no picture");
    }
    let one = call(&["x", "describe", "overhead-door"]);
    assert!(one.out.lines().any(is_dots) && one.out.contains("opening.clear_width"));
}
