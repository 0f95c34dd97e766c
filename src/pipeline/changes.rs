//! The files of a comparison: its tables for machines, a picture of every changed part, the pages.

use super::OutFile;
use crate::compare::Comparison;
use crate::draw::{self, Sheet};
use crate::release;
use crate::write::{self, About, PdfPages};

/// `changes.json`, `changes.pdf`, and `overlays/NUMBER.svg` for every changed part.
pub fn changes_files(comparison: &Comparison) -> Vec<OutFile> {
    let json = release::change_json(comparison);
    let mut files = vec![OutFile { path: "changes.json".to_owned(), bytes: json }];
    let sheets = draw::changes(comparison);
    files.push(OutFile { path: "changes.pdf".to_owned(), bytes: document(comparison, &sheets) });
    for part in &comparison.parts {
        if let (Some(named), Some(overlay)) = (part.named(), &part.overlay) {
            let sheet = draw::overlay_picture(comparison, part, overlay);
            let path = format!("overlays/{}.svg", named.number);
            files.push(OutFile { path, bytes: write::svg(&sheet) });
        }
    }
    files
}

fn document(comparison: &Comparison, sheets: &[Sheet]) -> Vec<u8> {
    let [old, new] = &comparison.heads;
    let about = About {
        title: format!("{} changes", new.kit),
        author: new.owner.clone(),
        subject: format!("revision {} to {}", old.revision, new.revision),
        date: new.date.clone(),
    };
    PdfPages::of(sheets.iter()).document(0..sheets.len(), &about)
}
