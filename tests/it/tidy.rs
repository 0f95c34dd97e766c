//! The house rules that no other tool keeps: which module may use which, how long files are, what
//! every file begins with, and words that do not belong here.

#![allow(clippy::disallowed_methods, reason = "this test reads the sources")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The modules in the order of `lib.rs`, each with those it may use. A row names rows above it
/// alone.
const ARROWS: &[(&str, &str)] = &[
    ("units", ""),
    ("geom", "units"),
    ("note", "units"),
    ("spec", "units note"),
    ("shelf", "units geom note spec"),
    ("template", "units geom note spec shelf"),
    ("resolve", "units geom note spec shelf template"),
    ("cutting", ""),
    ("kit", "units geom note spec shelf template resolve cutting"),
    ("fold", "units geom kit"),
    ("mate", "units geom note spec shelf template resolve kit fold"),
    ("flat", "units geom kit"),
    ("nest", "units geom"),
    ("cutpath", "units geom"),
    ("sheets", "units geom note shelf kit flat nest cutpath"),
    ("reading", "geom kit flat"),
    ("compare", "units geom flat reading"),
    ("solid", "units geom shelf kit fold mate"),
    ("brake", "units geom note shelf kit fold flat"),
    ("stackup", "units geom note shelf kit fold mate"),
    ("section", "units geom note shelf template resolve kit fold"),
    ("site", "units geom note shelf resolve kit fold mate"),
    ("body", "units geom kit fold"),
    ("mesh", "units geom kit fold solid body"),
    ("quote", "units geom spec shelf kit fold flat sheets"),
    (
        "check",
        "units geom note spec shelf template resolve kit fold mate flat solid brake stackup \
         section site",
    ),
    (
        "draw",
        "units geom note kit fold flat nest sheets reading compare brake stackup section site \
         quote",
    ),
    ("write", "units geom body mesh draw"),
    (
        "release",
        "units geom note shelf kit fold flat nest sheets compare brake stackup section site \
         quote",
    ),
    ("page", "units geom note template kit flat sheets release"),
    (
        "prove",
        "units geom note shelf kit fold mate flat nest sheets reading solid brake stackup section \
         site check draw write",
    ),
    (
        "pipeline",
        "units geom note spec shelf template resolve kit fold mate flat nest sheets reading \
         compare solid brake stackup section site body mesh quote check draw write release page prove",
    ),
    ("cli", "units note spec shelf template nest reading compare release prove pipeline"),
];

/// Longest file, lines.
const LONGEST_FILE: usize = 500;

/// Longest line, characters.
const LONGEST_LINE: usize = 100;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// All files under a folder with one of the endings, as paths from the crate's root, sorted.
fn files(folder: &str, endings: &[&str]) -> Vec<PathBuf> {
    let mut found = Vec::new();
    collect(&root().join(folder), endings, &mut found);
    found.sort();
    found
}

fn collect(folder: &Path, endings: &[&str], found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).into_iter().flatten() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap();
        if path.is_dir() {
            if !name.starts_with('.') && name != "__pycache__" {
                collect(&path, endings, found);
            }
        } else if endings.iter().any(|ending| name.ends_with(ending)) {
            found.push(path.strip_prefix(root()).unwrap().to_owned());
        }
    }
}

fn text(path: &Path) -> String {
    fs::read_to_string(root().join(path)).unwrap()
}

/// The source without comments and without what stands in strings on one line.
fn code(text: &str) -> String {
    text.lines().map(code_of_line).collect::<Vec<_>>().join("\n")
}

fn code_of_line(line: &str) -> String {
    let mut kept = String::new();
    let mut inside = false;
    let mut before = ' ';
    for (at, c) in line.char_indices() {
        if !inside && line[at..].starts_with("//") {
            break;
        }
        if c == '"' && before != '\\' && before != '\'' {
            inside = !inside;
        } else if !inside {
            kept.push(c);
        }
        before = c;
    }
    kept
}

/// The name behind every `crate::` of a source; `{` for a group, which hides its arrows.
fn used(code: &str) -> BTreeSet<String> {
    let after = code.split("crate::").skip(1);
    let name = |rest: &str| -> String {
        let name: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        if name.is_empty() { rest.chars().take(1).collect() } else { name }
    };
    after.map(name).collect()
}

/// The stage a file of `src` belongs to: its folder there, or its own name.
fn stage(path: &Path) -> String {
    let below = path.strip_prefix("src").unwrap();
    let first = below.components().next().unwrap().as_os_str().to_str().unwrap();
    first.trim_end_matches(".rs").to_owned()
}

/// How many `super::` in a row stay inside the stage's own folder.
fn supers_allowed(path: &Path) -> usize {
    let folders = path.components().count() - 2;
    if path.ends_with("mod.rs") { folders.saturating_sub(1) } else { folders }
}

fn longest_run_of_supers(code: &str) -> usize {
    (0..).take_while(|&n| code.contains(&"super::".repeat(n + 1))).count()
}

#[test]
fn modules_use_only_what_the_table_allows() {
    let mut faults = Vec::new();
    for path in files("src", &[".rs"]) {
        let stage = stage(&path);
        if ["lib", "main", "build"].contains(&stage.as_str()) {
            continue;
        }
        let Some((_, allowed)) = ARROWS.iter().find(|(name, _)| *name == stage) else {
            faults.push(format!("{}: the table has no row for {stage}", path.display()));
            continue;
        };
        let code = code(&text(&path));
        for name in used(&code) {
            let fine = name == stage || allowed.split(' ').any(|other| other == name);
            if !fine {
                faults.push(format!("{}: {stage} must not use crate::{name}", path.display()));
            }
        }
        if supers_allowed(&path) < longest_run_of_supers(&code) {
            faults.push(format!("{}: super:: leads out of {stage}", path.display()));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_table_follows_the_order_of_the_modules() {
    let lib = text(Path::new("src/lib.rs"));
    let declared: Vec<&str> =
        lib.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    // A stage that is not there yet may have a row already.
    let rows: Vec<&str> = ARROWS.iter().map(|(name, _)| *name).collect();
    let present: Vec<&str> = rows.iter().copied().filter(|row| declared.contains(row)).collect();
    assert_eq!(declared, present);
    for (at, (name, allowed)) in ARROWS.iter().enumerate() {
        for other in allowed.split_whitespace() {
            assert!(rows[..at].contains(&other), "{name} points at {other}, which is not above it");
        }
    }
}

#[test]
fn the_search_for_arrows_sees_through_forms() {
    assert!(used(&code("use crate::{\n    a,\n};")).contains("{"));
    assert!(used(&code("fn f() { crate::draw::g() }")).contains("draw"));
    assert!(used(&code("// crate::draw\nlet s = \"crate::draw\";")).is_empty());
    assert_eq!(longest_run_of_supers(&code("use super::super::x;")), 2);
    assert_eq!(supers_allowed(Path::new("src/kit/mod.rs")), 0);
    assert_eq!(supers_allowed(Path::new("src/kit/part.rs")), 1);
    assert_eq!(supers_allowed(Path::new("src/cli/store/mod.rs")), 1);
    assert_eq!(supers_allowed(Path::new("src/pipeline.rs")), 0);
}

#[test]
fn files_begin_with_their_purpose_and_stay_short() {
    let mut faults = Vec::new();
    for path in [files("src", &[".rs"]), files("tests", &[".rs"])].concat() {
        let text = text(&path);
        if !text.starts_with("//! ") {
            faults.push(format!("{}: does not begin with `//!`", path.display()));
        }
        if LONGEST_FILE < text.lines().count() {
            faults.push(format!("{}: {} lines", path.display(), text.lines().count()));
        }
        for (at, line) in text.lines().enumerate() {
            // A sentence in quotes is not broken for the sake of a column.
            let long = LONGEST_LINE < line.chars().count() && !line.contains('"');
            if long {
                faults.push(format!("{}:{}: a line is too long", path.display(), at + 1));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Words that tell of how the work was done, of machines it was done on, or of work left undone.
/// Each is written in two halves, so that this file does not hold it.
const STRANGE_WORDS: [[&str; 2]; 16] = [
    ["assis", "tant"],
    ["sub", "agent"],
    ["language ", "model"],
    ["cha", "tgpt"],
    ["cla", "ude"],
    ["anth", "ropic"],
    ["open", "ai"],
    ["crates", ".io"],
    ["pypi", ".org"],
    ["/wo", "rk/"],
    ["/tm", "p/"],
    ["/ro", "ot/"],
    ["to", "do!"],
    ["fix", "me"],
    ["unimpl", "emented!"],
    ["lorem ", "ipsum"],
];

#[test]
fn no_strange_word_is_in_the_tree() {
    let endings = [".rs", ".toml", ".md", ".py", ".sh", ".txt", ".snap", ".yml"];
    let folders = ["src", "tests", "templates", "sample-specs", ".ci"];
    let mut paths: Vec<PathBuf> = folders.iter().flat_map(|f| files(f, &endings)).collect();
    paths.extend(["README.md", "DEVELOPERS.md", "Cargo.toml"].map(PathBuf::from));
    let mut faults = Vec::new();
    for path in paths {
        let text = text(&path).to_lowercase();
        let words = STRANGE_WORDS.iter().map(|halves| halves.concat());
        let found = words.filter(|word| text.contains(word));
        faults.extend(found.map(|word| format!("{}: {word}", path.display())));
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// The contributor's guide holds the table that the checks make of themselves; `ACCEPT=1` enters
/// it anew.
#[test]
fn the_guide_holds_the_table_of_checks() {
    const MARKS: [&str; 2] = ["<!-- checks: made by the checks themselves -->\n", "<!-- end -->"];
    let path = root().join("DEVELOPERS.md");
    let guide = text(Path::new("DEVELOPERS.md"));
    let start = guide.find(MARKS[0]).expect("the table has a beginning") + MARKS[0].len();
    let end = start + guide[start..].find(MARKS[1]).expect("the table has an end");
    let table = blankwright::check::guide();
    if std::env::var_os("ACCEPT").is_some() {
        fs::write(path, [&guide[..start], &table, &guide[end..]].concat()).unwrap();
    } else {
        assert_eq!(&guide[start..end], table, "run with ACCEPT=1 and look at what changed");
    }
}
