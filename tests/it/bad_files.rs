//! Files that are no specs at all: bytes that are no text, nothing, far too much, a folder.

#![allow(clippy::disallowed_methods, reason = "tests set files up")]

use std::fs;

use crate::bad_specs::{Told, draw};

/// What is told about a file with this content.
fn told(bytes: &[u8]) -> Told {
    let yard = tempfile::tempdir().unwrap();
    fs::write(yard.path().join("odd.toml"), bytes).unwrap();
    draw(yard.path(), "odd.toml", None)
}

fn is(told: &Told, code: i32, text: &str) {
    assert_eq!((told.code, told.text.as_str()), (Some(code), text));
}

#[test]
fn bytes_that_are_no_text() {
    let bytes = b"kit = \"OTS-0901\"\ntitle = \"Labor f\xfcr Proben\"\n";
    let text = "exit 2\n\
                error[spec.encoding] odd.toml:2:17 byte 33 is not UTF-8 text (0xfc)\n    \
                help: save the file as UTF-8\n";
    is(&told(bytes), 2, text);
}

#[test]
fn an_empty_file() {
    let text = "exit 2\n\
                error[spec.empty] odd.toml:1:1 the file holds no values\n    \
                help: begin with `kit`, `template`, `revision` and `date`\n";
    is(&told(b""), 2, text);
    is(&told(b"\n\n \n"), 2, text);
}

#[test]
fn fifty_megabytes() {
    let text = "exit 2\n\
                error[file.too-large] odd.toml odd.toml is larger than 1 MiB\n    \
                help: a spec takes a few kilobytes; is this the right file?\n";
    is(&told(&b"# a line of a drawing, again...\n".repeat(50 << 15)), 2, text);
}

#[test]
fn a_folder_with_a_specs_name() {
    let yard = tempfile::tempdir().unwrap();
    fs::create_dir(yard.path().join("odd.toml")).unwrap();
    let text = "exit 2\n\
                error[file.no-spec] odd.toml no spec is in the folder odd.toml\n    \
                help: name a folder that holds *.toml files, or a spec\n";
    is(&draw(yard.path(), "odd.toml", None), 2, text);
}

#[test]
fn a_file_that_is_not_there() {
    let yard = tempfile::tempdir().unwrap();
    let text = "exit 3\n\
                error[file.missing] nowhere.toml there is no nowhere.toml\n    \
                help: check the path\n";
    is(&draw(yard.path(), "nowhere.toml", None), 3, text);
}

#[test]
fn a_families_folder_that_is_a_file() {
    let yard = tempfile::tempdir().unwrap();
    fs::write(yard.path().join("families"), "").unwrap();
    fs::write(yard.path().join("spec.toml"), crate::law_stock::SPEC).unwrap();
    let text = "exit 2\n\
                error[file.is-file]  families is a file where a folder is meant\n    \
                help: name the folder that holds it\n";
    is(&draw(yard.path(), "spec.toml", Some("families")), 2, text);
}
