//! The blanks of kits laid out on sheets, and the files that come of it.

use std::sync::OnceLock;

use super::build::Worked;
use super::files::{document, laser_layer, laser_style};
use super::{FileKind, Only, OutFile, Share, Stock};
use crate::draw::{self, Role, nest_laser};
use crate::kit::Kit;
use crate::nest::{Effort, Nest, nest, verify};
use crate::note::{Finding, Notes};
use crate::release;
use crate::sheets::{
    CutSheet, Laid, Missing, Request, Wanted, Why, gather, request_faults, set_down, with_extras,
};
use crate::write::DxfWriter;

/// Lays a request out, each material and thickness by itself. What cannot be laid out is told: as
/// errors, and the rest is laid out.
pub(super) fn lay_out(request: &Request, share: &Share, notes: &mut Notes) -> Laid {
    let mut missing = Vec::new();
    for (part, finding) in request_faults(request) {
        notes.add(finding);
        missing.push(part);
    }
    let groups = gather(request);
    let nests: Vec<OnceLock<Nest>> = groups.iter().map(|_| OnceLock::new()).collect();
    share(groups.len(), &|index| {
        nests[index].get_or_init(|| nest(&groups[index].job, share));
    });
    let nests = nests.into_iter().filter_map(OnceLock::into_inner);
    let mut found = Vec::new();
    for (group, nest) in groups.into_iter().zip(nests) {
        for fault in &nest.faults {
            let finding = Finding::error("sheets.job", fault.words(&group.job));
            notes.add(finding.help("correct the shop's data"));
        }
        for flaw in verify(&group.job, &nest.layouts, &nest.left) {
            notes.add(faulty(&format!("{flaw:?}")));
        }
        found.push((group, nest));
    }
    let mut laid = set_down(request, found);
    for missing in &laid.missing {
        notes.add(told(request, missing));
    }
    laid.missing.extend(missing);
    laid.missing.sort_by_key(|missing| missing.wanted);
    with_extras(request, &mut laid);
    laid
}

/// Code of a layout that its own check finds wanting.
pub(super) const FAULTY: &str = "sheets.layout";

/// A layout that its own check finds wanting: nothing of it is written.
fn faulty(flaw: &str) -> Finding {
    let message = format!("a layout of the sheets is wrong: {flaw}");
    let finding = Finding::error(FAULTY, message);
    finding.help("this is a fault of the program: please report it with the spec")
}

/// A part that found no place.
fn told(request: &Request, missing: &Missing) -> Finding {
    let wanted = &request.wanted[missing.wanted];
    let part = wanted.part;
    let size = [wanted.blank.width, wanted.blank.height].map(|side| crate::units::number(side, 1));
    let subject = part.number.clone();
    if missing.why == Why::TooLarge {
        let message = format!(
            "{} ({}): the blank of {} × {} mm is larger than any sheet of {}, {} mm, in stock",
            part.number,
            part.name,
            size[0],
            size[1],
            part.material.title,
            crate::units::number(part.thickness, 3)
        );
        let finding = Finding::error("sheets.too-large", message).about(subject);
        let finding = finding.at(Some(wanted.origin.kit.clone()));
        return finding.help("stock a larger sheet, or split the part");
    }
    let message = format!(
        "{} ({}): {} of {} find no place; the sheets of {}, {} mm, run out",
        part.number,
        part.name,
        missing.quantity,
        wanted.quantity,
        part.material.title,
        crate::units::number(part.thickness, 3)
    );
    let finding = Finding::error("sheets.run-out", message).about(subject);
    finding.help("order more sheets, or enter what came in the shop's file")
}

/// What is to be cut for one kit.
pub(super) fn request<'a>(worked: &'a Worked, stock: &'a Stock) -> Request<'a> {
    let wanted = wanted(worked, 1).collect();
    Request { wanted, shelf: &stock.shelf, effort: Effort::Quick, seed: 1 }
}

/// The parts of a kit that is cut so many times.
pub(super) fn wanted(worked: &Worked, times: u32) -> impl Iterator<Item = Wanted<'_>> {
    let parts = worked.kit.parts.iter().zip(&worked.blanks).zip(&worked.origins);
    parts.map(move |((part, blank), origin)| Wanted {
        kit: &worked.kit.number,
        part,
        blank,
        quantity: part.places.len() as u32 * times,
        etched: draw::etched_length(blank),
        origin,
    })
}

/// The files about the sheets.
pub(super) fn files(
    kit: &Kit,
    (request, laid): (&Request, &Laid),
    stock: &Stock,
    only: &Only,
) -> Vec<OutFile> {
    let mut files = Vec::new();
    if laid.sheets.is_empty() {
        return files;
    }
    let mut add =
        |path: &str, bytes: Vec<u8>| files.push(OutFile { path: path.to_string(), bytes });
    if only.kind(FileKind::Csv) {
        add("sheets.csv", release::sheets_csv(&request.wanted, laid));
    }
    if only.kind(FileKind::Pdf) {
        let papers = draw::stock_sheets(kit, &request.wanted, laid);
        add("sheets.pdf", document(kit, "sheets", &papers));
    }
    if only.kind(FileKind::Dxf) {
        files.extend(laser_files((request, laid), stock, CutSheet::file));
    }
    files
}

/// The laser files of the sheets, named by `path`.
pub(super) fn laser_files(
    (request, laid): (&Request, &Laid),
    stock: &Stock,
    path: impl Fn(&CutSheet) -> String,
) -> Vec<OutFile> {
    let mut style = laser_style(&stock.shelf.shop);
    let writer = stock.laser.get_or_init(|| DxfWriter::new(&style.layers));
    let work = &stock.shelf.shop.sheet_work;
    let wishes =
        [(Role::LeadIn, &work.lead_in), (Role::Tab, &work.tab), (Role::Skeleton, &work.skeleton)];
    for (role, wish) in wishes {
        style.layers.extend(wish.iter().map(|wish| laser_layer(role, &wish.layer)));
    }
    let written = laid.sheets.iter().map(|sheet| {
        let drawn = nest_laser(&request.wanted, sheet, &style);
        let bytes = writer.write(&drawn);
        OutFile { path: path(sheet), bytes }
    });
    written.collect()
}
