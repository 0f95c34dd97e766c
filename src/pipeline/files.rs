//! What a kit that is worked out is written as: all its files.

use super::build::Worked;
use super::check_sheet::check_sheet;
use super::sheets;
use super::{FileKind, Only, OutFile, Stock};
use crate::body;
use crate::draw::{self, LaserStyle, Layer, Offer, PartViews, Role, Sheet, laser_sheet};
use crate::flat::Blank;
use crate::kit::Kit;
use crate::mesh;
use crate::note::Finding;
use crate::page::{self, Shown};
use crate::release::{self, Membership, Record};
use crate::sheets::{Laid, Request, Wanted};
use crate::shelf::{BendLines, LayerStyle, Shop};
use crate::write::{self, About, DxfWriter, PdfPages};

/// The lists for stores and purchasing.
fn lists(kit: &Kit, blanks: &[Blank]) -> Vec<(&'static str, Vec<u8>)> {
    let mut lists = vec![
        ("parts.csv", release::parts_csv(kit, blanks)),
        ("fasteners.csv", release::fasteners_csv(kit)),
    ];
    if !kit.lengths.is_empty() {
        lists.push(("cutting.csv", release::cutting_csv(kit)));
    }
    lists
}

/// A kit's parts laid out on sheets.
#[derive(Clone, Copy)]
pub(super) struct Layout<'a> {
    pub(super) request: &'a Request<'a>,
    pub(super) laid: &'a Laid,
    /// The kinds of file about the sheets that are asked for.
    pub(super) only: &'a Only,
}

/// All files that are asked for, of a kit alone or of a member of a catalogue.
pub(super) fn files(
    (worked, layout): (&Worked, Option<Layout>),
    stock: &Stock,
    findings: &[Finding],
    (only, membership): (&Only, Option<&Membership>),
) -> Vec<OutFile> {
    let Worked { kit, folded, blanks, site, bending, .. } = worked;
    let mut files = Vec::new();
    let quote = worked.quote(stock, layout.map(|it| (it.request, it.laid)));
    let mut add = |path: &str, bytes| files.push(OutFile { path: path.to_string(), bytes });
    if only.kind(FileKind::Csv) {
        lists(kit, blanks).into_iter().for_each(|(path, bytes)| add(path, bytes));
        add("quote.csv", release::quote_csv(&quote));
    }
    if only.kind(FileKind::Glb) {
        add("kit.glb", write::glb(&kit.number, &mesh::assemble(kit, folded)));
    }
    if only.kind(FileKind::Step)
        && let Some(bodies) = body::assemble(kit, folded)
    {
        let about = about(kit, format!("{} {}", kit.number, kit.title));
        add("kit.step", write::step(&bodies, &about));
    }
    let views = PartViews::ordered(PartViews::of_all(&kit.parts, folded), bending);
    files.extend(part_files(worked, &views, stock, only));
    if only.kind(FileKind::Pdf) {
        files.extend(drawings(worked, &views, only));
        let papers = papers(worked, findings).into_iter();
        files.extend(papers.map(|(path, bytes)| file(path, bytes)));
        let offer = Offer { kit, folded, blanks, site: site.as_ref(), quote: &quote };
        files.push(file("quote.pdf", document(kit, "quote", &draw::quote_pages(&offer))));
    }
    if let Some(Layout { request, laid, only }) = layout {
        files.extend(sheets::files(kit, (request, laid), stock, only));
    }
    let page = only.kind(FileKind::Html).then_some("index.html");
    let paths: Vec<&str> = files.iter().map(|file| file.path.as_str()).chain(page).collect();
    let laid = layout.map(|layout| (layout.request.wanted.as_slice(), layout.laid));
    let record = Record { laid, ..worked.record(findings, &paths) };
    let bytes = release::kit_json_in(&record, membership);
    files.insert(0, file("kit.json", bytes));
    if let Some(page) = page {
        let folder = membership.and_then(Membership::parts_folder);
        files.push(file(page, index((worked, laid), findings, (&files, folder))));
    }
    files
}

fn file(path: &str, bytes: Vec<u8>) -> OutFile {
    OutFile { path: path.to_string(), bytes }
}

/// Laser files and previews of the parts that are asked for.
fn part_files(worked: &Worked, views: &[PartViews], stock: &Stock, only: &Only) -> Vec<OutFile> {
    let Worked { kit, blanks, .. } = worked;
    let mut files = Vec::new();
    let style = laser_style(&stock.shelf.shop);
    let asked = |kind| {
        let parts = kit.parts.iter().enumerate();
        parts.filter(move |(_, part)| only.kind(kind) && only.part(&kit.number, &part.number))
    };
    for (i, part) in asked(FileKind::Dxf) {
        let sheet = laser_sheet(part, &blanks[i], &style);
        let writer = stock.laser.get_or_init(|| DxfWriter::new(&style.layers));
        files.push(file(&format!("parts/{}.dxf", part.number), writer.write(&sheet)));
    }
    for (i, part) in asked(FileKind::Svg) {
        let sheet = draw::preview(kit, &views[i], &blanks[i]);
        files.push(file(&format!("parts/{}.svg", part.number), write::svg(&sheet)));
    }
    files
}

/// The set of shop drawings, and each part's own pages of it.
fn drawings(worked: &Worked, views: &[PartViews], only: &Only) -> Vec<OutFile> {
    let Worked { kit, folded, blanks, .. } = worked;
    let mut files = Vec::new();
    let set = draw::drawing_set(kit, folded, views, blanks);
    let pages = PdfPages::of(set.sheets());
    let mut end = set.cover.len();
    for (part, sheets) in kit.parts.iter().zip(&set.parts) {
        let own = end..end + sheets.len();
        end = own.end;
        if only.part(&kit.number, &part.number) {
            let about = about(kit, format!("{} {}", part.number, part.title));
            files.push(file(&format!("parts/{}.pdf", part.number), pages.document(own, &about)));
        }
    }
    let about = about(kit, format!("{} {}", kit.number, kit.title));
    files.push(file("drawings.pdf", pages.document(0..end, &about)));
    files
}

/// The page that shows the files made so far; `catalogue` leads from the kit's folder to the one
/// with its parts, where that is another.
fn index(
    (worked, laid): (&Worked, Option<(&[Wanted], &Laid)>),
    findings: &[Finding],
    (files, catalogue): (&[OutFile], Option<&str>),
) -> Vec<u8> {
    let Worked { kit, folded, blanks, .. } = worked;
    let made = files.iter().map(|file| (file.path.as_str(), file.bytes.as_slice()));
    let files: Vec<(&str, &[u8])> = made.collect();
    let own = files.iter().find(|(path, _)| *path == "kit.glb").map(|(_, bytes)| bytes.to_vec());
    let glb = own.unwrap_or_else(|| write::glb(&kit.number, &mesh::assemble(kit, folded)));
    page::page(&Shown { kit, blanks, findings, glb: &glb, laid, files: &files, catalogue })
}

/// The papers about the whole kit besides its drawings.
fn papers(worked: &Worked, findings: &[Finding]) -> Vec<(&'static str, Vec<u8>)> {
    let Worked { kit, folded, strength, stackup, site, bending, .. } = worked;
    let mut papers = Vec::new();
    let sheets = draw::brake_sheets(kit, bending);
    if !sheets.is_empty() {
        papers.push(("brake.pdf", document(kit, "brake sheets", &sheets)));
    }
    let blocks = check_sheet(kit, findings, (stackup, strength));
    let sheets = draw::report(kit, "Check sheet", blocks);
    papers.push(("checks.pdf", document(kit, "check sheet", &sheets)));
    if let Some(site) = site {
        let sheets = draw::site_papers(kit, folded, site);
        papers.push(("site.pdf", document(kit, "site", &sheets)));
    }
    papers
}

/// A document of its own about the whole kit.
pub(super) fn document(kit: &Kit, what: &str, sheets: &[Sheet]) -> Vec<u8> {
    let about = about(kit, format!("{} {what}", kit.number));
    PdfPages::of(sheets.iter()).document(0..sheets.len(), &about)
}

/// What a document says about itself.
pub(super) fn about(kit: &Kit, title: String) -> About {
    About {
        title,
        author: kit.owner.clone(),
        subject: format!("{}, revision {}", kit.template.1, kit.revision),
        date: kit.date.clone(),
    }
}

/// The layer of a role.
pub(super) fn laser_layer(role: Role, style: &LayerStyle) -> Layer {
    Layer { role, name: style.name.clone(), colour: style.colour }
}

/// The shop's wishes for its laser files.
pub(super) fn laser_style(shop: &Shop) -> LaserStyle {
    let (layers, layer) = (&shop.layers, laser_layer);
    LaserStyle {
        layers: vec![
            layer(Role::CutOutside, &layers.cut_outside),
            layer(Role::CutInside, &layers.cut_inside),
            layer(Role::BendUp, &layers.bend_up),
            layer(Role::BendDown, &layers.bend_down),
            layer(Role::Etch, &layers.etch),
            layer(Role::Sheet, &layers.sheet),
            layer(Role::Info, &layers.info),
        ],
        bend_lines: match layers.bend_lines {
            BendLines::Whole => draw::BendLines::Whole,
            BendLines::Ticks(length) => draw::BendLines::Ticks(length),
            BendLines::Off => draw::BendLines::Omitted,
        },
    }
}
