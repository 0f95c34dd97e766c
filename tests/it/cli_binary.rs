//! The program as it is started: exit statuses, streams, and a whole kit of a small family.

#![allow(clippy::disallowed_methods, reason = "tests set files up and look at them")]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use tempfile::TempDir;

/// A mat with a hole in each corner; no wall is cut for it.
const FAMILY: &str = include_str!("../cases/families/shelf-mat.toml");

/// A folder with the family and specs for it.
struct Yard {
    folder: TempDir,
}

/// What a run came to.
struct Ended {
    code: Option<i32>,
    out: String,
    err: String,
}

impl Yard {
    fn new() -> Self {
        let yard = Self { folder: tempfile::tempdir().unwrap() };
        yard.put("families/shelf-mat.toml", FAMILY);
        yard
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn put(&self, name: &str, text: &str) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn spec(&self, kit: &str, depth: &str) {
        let text = format!(
            "kit = \"{kit}\"\ntemplate = \"shelf-mat\"\nrevision = \"A\"\ndate = \"2026-03-02\"\n\
             title = \"Mat for the sample laboratory\"\n\n[mat]\ndepth = {depth}\n"
        );
        self.put(&format!("specs/{kit}.toml"), &text);
    }

    fn run(&self, arguments: &[&str]) -> Ended {
        let mut program = Command::new(env!("CARGO_BIN_EXE_blankwright"));
        ended(program.current_dir(&self.folder).args(arguments))
    }

    fn draw(&self, more: &[&str]) -> Ended {
        self.run(&[&["draw", "specs", "--templates", "families"], more].concat())
    }
}

fn ended(command: &mut Command) -> Ended {
    let output = command.output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    Ended { code: output.status.code(), out: text(output.stdout), err: text(output.stderr) }
}

/// Every file below a folder with its bytes.
fn tree(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut files = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(tree(&path));
        } else {
            files.insert(path.clone(), fs::read(path).unwrap());
        }
    }
    files
}

/// The files of a folder with their paths from there.
fn listing(folder: &Path) -> Vec<String> {
    let paths = tree(folder).into_keys();
    paths.map(|path| path.strip_prefix(folder).unwrap().to_str().unwrap().to_owned()).collect()
}

#[test]
fn a_kit_is_drawn_to_the_usual_folder() {
    let yard = Yard::new();
    yard.spec("OTS-0101", "200");
    let ended = yard.draw(&[]);
    assert_eq!((ended.code, ended.err.as_str()), (Some(0), ""));
    assert!(ended.out.starts_with("OTS-0101: ") && ended.out.ends_with("in output/OTS-0101\n"));
    let files = listing(&yard.path("output/OTS-0101"));
    let wanted = [
        "drawings.pdf",
        "fasteners.csv",
        "kit.json",
        "parts.csv",
        "parts/OTS-0101-01.dxf",
        "parts/OTS-0101-01.pdf",
        "parts/OTS-0101-01.svg",
    ];
    for file in wanted {
        assert!(files.iter().any(|f| f == file), "{file} is not among {files:?}");
    }
    let json = fs::read_to_string(yard.path("output/OTS-0101/kit.json")).unwrap();
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["parts"][0]["blank"]["width"], 300.0);
    assert_eq!(json["parts"][0]["holes"].as_array().unwrap().len(), 4);
}

#[test]
fn a_refused_kit_ends_in_1() {
    let yard = Yard::new();
    yard.spec("OTS-0101", "400");
    let ended = yard.draw(&[]);
    assert_eq!(ended.code, Some(1), "{}", ended.err);
    assert!(ended.err.contains("error[require]: the mat is 300"), "{}", ended.err);
    assert!(ended.err.contains("found: 300 mm, limit 400 mm"), "{}", ended.err);
    assert!(!yard.path("output/OTS-0101").exists());
}

#[test]
fn what_is_wrong_in_the_file_ends_in_2_with_its_place() {
    let yard = Yard::new();
    for (depth, place) in
        [("\"9 parsecs\"", "8:9"), ("20", "8:9"), ("]", "8:9"), ("1\nx = 2", "9:1")]
    {
        yard.spec("OTS-0101", depth);
        let ended = yard.draw(&[]);
        assert_eq!(ended.code, Some(2), "{depth}: {}", ended.err);
        let place = format!("OTS-0101.toml:{place}");
        assert!(ended.err.contains(&place), "{depth}: {}", ended.err);
    }
    fs::write(yard.path("specs/OTS-0101.toml"), b"kit = \"\xff\"").unwrap();
    let ended = yard.draw(&[]);
    assert_eq!(ended.code, Some(2));
    assert!(ended.err.contains("OTS-0101.toml:1:8"), "{}", ended.err);
}

#[test]
fn what_cannot_be_read_ends_in_3() {
    let yard = Yard::new();
    assert_eq!(yard.run(&["check", "nowhere.toml"]).code, Some(3));
}

#[test]
fn the_json_form_is_alone_on_its_stream() {
    let yard = Yard::new();
    yard.spec("OTS-0101", "400");
    yard.spec("OTS-0102", "\"x\"");
    let ended = yard.draw(&["--format", "json"]);
    assert_eq!((ended.code, ended.err.as_str()), (Some(2), ""));
    let rows: serde_json::Value = serde_json::from_str(&ended.out).unwrap();
    assert_eq!(rows.as_array().unwrap().len(), 2);
    assert_eq!((&rows[1]["line"], &rows[1]["column"]), (&8.into(), &9.into()));
}

#[test]
fn the_same_specs_give_the_same_bytes() {
    let yard = Yard::new();
    for n in 1..=6 {
        yard.spec(&format!("OTS-010{n}"), &format!("{}", 100 + 10 * n));
    }
    assert_eq!(yard.draw(&["--jobs", "1"]).code, Some(0));
    let one = tree(&yard.path("output"));
    assert_eq!(yard.draw(&["--jobs", "3"]).code, Some(0));
    let three = tree(&yard.path("output"));
    assert!(one == three, "the files differ between one thread and three");
    assert_eq!(fs::read_dir(yard.path("output")).unwrap().count(), 6);
}

#[test]
fn only_the_kinds_and_parts_asked_for_are_written() {
    let yard = Yard::new();
    yard.spec("OTS-0101", "200");
    assert_eq!(yard.draw(&["--only", "dxf"]).code, Some(0));
    let folder = yard.path("output/OTS-0101");
    assert_eq!(listing(&folder), ["kit.json", "parts/OTS-0101-01.dxf", "sheets/sheet-01.dxf"]);
    assert_eq!(yard.draw(&["--only", "csv,json"]).code, Some(0));
    assert_eq!(
        listing(&folder),
        ["fasteners.csv", "kit.json", "parts.csv", "quote.csv", "sheets.csv"]
    );
    let before = tree(&yard.path("output"));
    let ran = yard.draw(&["--parts", "01,02"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("no kit has a part 02; nothing was written"), "{}", ran.err);
    assert!(ran.err.contains("there are: OTS-0101-01"), "{}", ran.err);
    assert!(before == tree(&yard.path("output")), "something was written");
}

#[cfg(unix)]
#[test]
fn a_write_that_fails_midway_leaves_nothing() {
    let yard = Yard::new();
    yard.spec("OTS-0101", "200");
    assert_eq!(yard.draw(&["--only", "csv"]).code, Some(0));
    let before = tree(&yard.path("output"));
    yard.spec("OTS-0102", "200");
    // The shell forbids files beyond 4 or 8 kB, as its blocks are; any PDF is larger.
    let script = "trap '' XFSZ; ulimit -f 8; exec \"$0\" draw specs --templates families";
    let mut shell = Command::new("sh");
    let program = env!("CARGO_BIN_EXE_blankwright");
    let ended = ended(shell.current_dir(&yard.folder).args(["-c", script, program]));
    assert_eq!(ended.code, Some(3), "{}", ended.err);
    assert_eq!(ended.err.matches("error[write.failed]").count(), 2, "{}", ended.err);
    assert!(before == tree(&yard.path("output")), "what was there before has changed");
}

#[test]
fn every_bad_case_is_told_at_its_place() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/bad");
    let names = listing(&folder);
    assert!(10 < names.len());
    for name in names.into_iter().filter(|name| name.ends_with(".toml")) {
        let mut program = Command::new(env!("CARGO_BIN_EXE_blankwright"));
        let ended = ended(program.current_dir(&folder).args(["check", &name]));
        assert_eq!(ended.code, Some(2), "{name}: {}", ended.err);
        let place = ended.err.split(&format!("--> {name}:")).nth(1);
        let place = place.unwrap_or_else(|| panic!("{name} is not named: {}", ended.err));
        assert!(place.starts_with(|c: char| c.is_ascii_digit()), "{name}: {}", ended.err);
        assert!(ended.err.contains("= help: "), "{name}: {}", ended.err);
        // Neither a fault of the program nor an echo in the family's own file.
        for other in ["error[internal]", "error[template."] {
            assert!(!ended.err.contains(other), "{name}: {}", ended.err);
        }
    }
}
