//! The page: what stands in it is text, never markup, and it asks no other place for anything.

use blankwright::flat::{Blank, unfold};
use blankwright::fold::{FoldedPart, fold};
use blankwright::mesh::assemble;
use blankwright::note::Finding;
use blankwright::page::{Shown, page};
use blankwright::write::glb;

use crate::bracket;

/// The bracket's page, with a title and a finding that look like markup.
fn made() -> String {
    let mut kit = bracket::kit();
    kit.title = "Shelf <script>alert(1)</script> & \"rope\"".to_owned();
    let folded: Vec<FoldedPart> = kit.parts.iter().map(fold).collect();
    let blanks: Vec<Blank> = kit.parts.iter().map(|part| unfold(part).unwrap()).collect();
    let findings = [Finding::warning("demo.mark", "1 < 2 & <b>bold</b>")];
    let glb = glb(&kit.number, &assemble(&kit, &folded));
    let drawing = format!("parts/{}.dxf", kit.parts[0].number);
    let files: [(&str, &[u8]); 2] = [("kit.json", b"{}"), (&drawing, b"0\nEOF\n")];
    let shown = Shown {
        kit: &kit,
        blanks: &blanks,
        findings: &findings,
        glb: &glb,
        laid: None,
        files: &files,
        catalogue: None,
    };
    String::from_utf8(page(&shown)).unwrap()
}

#[test]
fn texts_are_never_markup() {
    let page = made();
    assert!(page.contains("Shelf &lt;script&gt;"), "the title is there, escaped");
    assert!(!page.contains("<script>alert"), "and not as a script");
    assert!(!page.contains("<b>bold"), "nor a finding as markup");
}

#[test]
fn no_address_is_asked_for() {
    let page = made();
    for word in ["http:", "https:", "//cdn", "@import", "fetch(", "XMLHttpRequest"] {
        assert!(!page.contains(word), "the page holds {word}");
    }
}

#[test]
fn a_part_links_to_the_files_that_were_made_and_to_no_other() {
    let page = made();
    assert!(page.contains(".dxf\" download>DXF"), "the DXF file was made");
    assert!(!page.contains("download>PDF"), "no PDF was made");
}

#[test]
fn the_same_kit_gives_the_same_bytes() {
    assert_eq!(made(), made());
}
