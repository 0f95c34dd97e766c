//! The spine: from the text of one spec to the files of one kit.

use std::sync::OnceLock;

use super::check_sheet::check_sheet;
use super::proof;
use super::sheets;
use super::since;
use super::together::{in_box, together};
use super::{Built, FileKind, Only, OutFile, Source, Stock, Trial, Want};
use crate::brake::{self, Outcome};
use crate::check::{self, Asked, Subject};
use crate::draw::{self, LaserStyle, Layer, Offer, PartViews, Role, Sheet, laser_sheet};
use crate::flat::{self, Blank};
use crate::fold::{self, FoldedPart};
use crate::geom::{BoxFrame, Pose, SiteFrame};
use crate::kit::{self, Kit};
use crate::mate::{self, Words};
use crate::mesh;
use crate::note::{Finding, Notes};
use crate::page::{self, Shown};
use crate::quote::{self, Quote};
use crate::release::{self, Record};
use crate::resolve::{self, Resolved};
use crate::section::{self, Strength};
use crate::sheets::{Laid, Request};
use crate::shelf::{BendLines, LayerStyle, Shop};
use crate::site::{self, Site};
use crate::solid::Scene;
use crate::spec::{self, QuoteAsk, Spec, nearest};
use crate::stackup::{Report, Stack, Tally};
use crate::template::Template;
use crate::write::{self, About, DxfWriter, PdfPages};

/// A kit with all that was worked out from it.
pub(super) struct Worked {
    pub(super) kit: Kit,
    pub(super) folded: Vec<FoldedPart>,
    pub(super) blanks: Vec<Blank>,
    strength: Strength,
    stackup: Report,
    site: Option<Site>,
    pub(super) in_box: Option<Pose<SiteFrame, BoxFrame>>,
    bending: Vec<Option<Outcome>>,
    ask: QuoteAsk,
}

impl Worked {
    /// What the kit costs by the shop's rates.
    fn quote(&self, stock: &Stock) -> Quote {
        quote::work_out(&quote::Subject {
            kit: &self.kit,
            folded: &self.folded,
            blanks: &self.blanks,
            shop: &stock.shelf.shop,
            ask: &self.ask,
        })
    }
}

impl Worked {
    /// What `kit.json` is written from.
    fn record<'a>(&'a self, findings: &'a [Finding], files: &'a [&'a str]) -> Record<'a> {
        Record {
            kit: &self.kit,
            folded: &self.folded,
            blanks: &self.blanks,
            findings,
            strength: &self.strength,
            stackup: &self.stackup,
            site: self.site.as_ref(),
            bending: &self.bending,
            laid: None,
            files,
        }
    }
}

/// Seed of the Monte Carlo: the same kits are built every time.
const SEED: u64 = 9013;

/// Kits of the Monte Carlo that are built in one piece of work.
const PIECE: u32 = 500;

/// Works one spec out and makes what is asked for. Everything wrong with it is told; with an error
/// no file is made.
pub fn build(source: &Source, stock: &Stock, want: &Want) -> Built {
    build_tried(source, stock, want, &Trial::none())
}

/// The same with a Monte Carlo of the tolerances.
pub fn build_tried(source: &Source, stock: &Stock, want: &Want, trial: &Trial) -> Built {
    let made = all_worked(source, stock, trial).into_iter();
    let mut made = made.map(|(built, worked)| finished(built, worked, stock, want));
    let first = made.next().unwrap_or_default();
    Built { others: made.collect(), ..first }
}

/// Every kit of a spec worked out, with what is said about it; at least one entry.
pub(super) fn all_worked(
    source: &Source,
    stock: &Stock,
    trial: &Trial,
) -> Vec<(Built, Option<Worked>)> {
    let mut notes = Notes::default();
    let specs = read(source, &mut notes);
    if specs.len() < 2 {
        let mut built = Built { notes, ..Built::default() };
        let worked = specs.first().and_then(|spec| {
            let step = Step { source, stock, trial, before: None };
            step.work_out(spec, &mut built).map(|(worked, _)| worked)
        });
        return vec![(built, worked)];
    }
    if notes.has_errors() {
        let kit = Some(specs[0].kit.value.clone());
        return vec![(Built { notes, kit, ..Built::default() }, None)];
    }
    let mut all = several(&specs, (source, stock, trial), notes);
    together(&mut all, &stock.shelf);
    all
}

/// Every kit of a file, each beside the one before it.
fn several(
    specs: &[Spec],
    (source, stock, trial): (&Source, &Stock, &Trial),
    notes: Notes,
) -> Vec<(Built, Option<Worked>)> {
    let mut before: Option<Resolved> = None;
    let mut notes = Some(notes);
    let mut all = Vec::new();
    for spec in specs {
        let mut built = Built { notes: notes.take().unwrap_or_default(), ..Built::default() };
        let step = Step { source, stock, trial, before: before.as_ref() };
        let made = step.work_out(spec, &mut built);
        let (worked, resolved) = made.map_or((None, None), |(w, r)| (Some(w), Some(r)));
        before = resolved;
        all.push((built, worked));
    }
    all
}

/// What is asked for of a kit that is worked out.
fn finished(mut built: Built, worked: Option<Worked>, stock: &Stock, want: &Want) -> Built {
    let Some(worked) = worked else { return built };
    built.parts = worked.kit.parts.iter().map(|part| part.number.clone()).collect();
    let (only, proved) = match want {
        Want::Findings => return built,
        Want::Files(only) => (only, true),
        Want::Unproved(only) => (only, false),
    };
    if !built.notes.has_errors() {
        let mut request = sheets::request(&worked, stock);
        let alone: &super::Share = &|count, work| (0..count).for_each(work);
        let laid = sheets::lay_out(&mut request, alone, &mut built.notes);
        if built.notes.has_errors() {
            return built;
        }
        let files = files((&worked, (&request, &laid)), stock, built.notes.all(), only);
        let holds = !proved || proof::holds(&files, &stock.shelf, &mut built.notes);
        built.files = holds.then_some(files);
    }
    built
}

fn read(source: &Source, notes: &mut Notes) -> Vec<Spec> {
    let text = spec::read_text(&source.name, &source.bytes, notes);
    text.map_or_else(Vec::new, |text| spec::parse_all(&source.name, text, notes))
}

/// Works the first kit of a spec out.
pub(super) fn work_out(
    source: &Source,
    stock: &Stock,
    trial: &Trial,
    built: &mut Built,
) -> Option<Worked> {
    let specs = read(source, &mut built.notes);
    let step = Step { source, stock, trial, before: None };
    step.work_out(specs.first()?, built).map(|(worked, _)| worked)
}

/// What one kit is worked out with.
struct Step<'a> {
    source: &'a Source,
    stock: &'a Stock,
    trial: &'a Trial<'a>,
    /// The kit before it in its file.
    before: Option<&'a Resolved>,
}

impl Step<'_> {
    fn work_out(&self, spec: &Spec, built: &mut Built) -> Option<(Worked, Resolved)> {
        let (notes, shelf) = (&mut built.notes, &self.stock.shelf);
        built.kit = Some(spec.kit.value.clone());
        let template = family(spec, self.stock, notes)?;
        built.used = used(spec, template, self.stock);
        let mut resolved = resolve::bind_beside(spec, template, (shelf, self.before), notes)?;
        let earlier = since::before(self.trial.earlier, spec, notes);
        if let Some(earlier) = earlier {
            resolved.numbers = earlier.numbers();
            let known = earlier.kit.history().into_iter().map(|row| row.index);
            resolved.amendments.revisions.extend(known);
        }
        let draft = kit::expand(template, &resolved, shelf, notes);
        if notes.has_errors() {
            return None;
        }
        let folded: Vec<FoldedPart> = draft.parts.iter().map(fold::fold).collect();
        let sha256 = release::sha256(&self.source.bytes);
        let words = Words { spec, sha256: &sha256, template, resolved: &resolved, shelf };
        let kit = mate::assemble(&words, draft, &folded, notes);
        let blanks = develop(&kit, notes)?;
        let strength = section::work_out(&kit, &folded, (template, &resolved, shelf), notes);
        let stackup = stack_up(&Stack::of(&kit, &folded, shelf), self.trial);
        let site = resolved.container.as_ref().map(|container| {
            site::work_out(&site::Subject { kit: &kit, folded: &folded, shelf, container })
        });
        let in_box = in_box(&resolved, shelf);
        let bending = brake::plan_all(&kit.parts, shelf);
        let mut worked = Worked {
            kit,
            folded,
            blanks,
            strength,
            stackup,
            site,
            in_box,
            bending,
            ask: spec.quote.clone(),
        };
        let scene = Scene::of(&worked.kit, &worked.folded);
        let subject = Subject {
            kit: &worked.kit,
            folded: &worked.folded,
            blanks: &worked.blanks,
            shelf,
            strength: &worked.strength,
            stackup: &worked.stackup,
            site: worked.site.as_ref(),
            scene: &scene,
            bending: &worked.bending,
            asked: Some(Asked { template, resolved: &resolved, spec }),
        };
        check::run(&subject, notes);
        print_accepted(&mut worked.kit, notes);
        if let Some(earlier) = earlier {
            let bytes = release::kit_json(&worked.record(notes.all(), &[]));
            since::follow(&mut worked.kit, (earlier, &bytes), (spec, template), notes);
        }
        Some((worked, resolved))
    }
}

/// The linear method, and the Monte Carlo where it is asked for.
fn stack_up(stack: &Stack, trial: &Trial) -> Report {
    let mut report = stack.report();
    let pieces: Vec<OnceLock<Tally>> =
        (0..trial.builds.div_ceil(PIECE)).map(|_| OnceLock::new()).collect();
    (trial.share)(pieces.len(), &|index| {
        let first = index as u64 * u64::from(PIECE);
        let range = first..(first + u64::from(PIECE)).min(u64::from(trial.builds));
        pieces[index].get_or_init(|| stack.builds(SEED, range));
    });
    let mut tally = stack.no_builds();
    pieces.iter().filter_map(OnceLock::get).for_each(|piece| tally.merge(piece));
    report.tried(&tally, SEED);
    report
}

/// Names of the texts that a kit is made from: its family, its containers, the shop's data.
fn used(spec: &Spec, template: &Template, stock: &Stock) -> Vec<String> {
    let choice = spec.container.as_ref();
    let kinds = choice.into_iter().flat_map(|c| std::iter::once(&c.kind).chain(&c.other));
    let containers: Vec<&str> = kinds.map(|said| said.value.as_str()).collect();
    let files = stock.shelf.files_for(&containers);
    std::iter::once(&*template.file).chain(files).map(str::to_owned).collect()
}

fn family<'a>(spec: &Spec, stock: &'a Stock, notes: &mut Notes) -> Option<&'a Template> {
    let name = &spec.template.value;
    let found = stock.family(name);
    if found.is_none() {
        let known: Vec<&str> =
            stock.families.iter().map(|family| family.template.name.as_str()).collect();
        let finding = Finding::error("spec.template", format!("there is no kit family `{name}`"));
        let all = known.join(", ");
        let help = match nearest(name, known.iter().copied()) {
            Some(meant) => format!("did you mean `{meant}`? There are: {all}"),
            None if known.is_empty() => "correct the family's own file first".to_string(),
            None => format!("there are: {all}"),
        };
        notes.add(finding.about("template").at(spec.place(&spec.template.span)).help(help));
    }
    found
}

fn develop(kit: &Kit, notes: &mut Notes) -> Option<Vec<Blank>> {
    let mut blanks = Vec::new();
    for part in &kit.parts {
        match flat::unfold(part) {
            Some(blank) => blanks.push(blank),
            None => notes.add(
                Finding::error("flat.open", "a bend does not lie on the edges of its faces")
                    .about(part.number.clone())
                    .help("this is a fault of the program: please report it with the spec"),
            ),
        }
    }
    (blanks.len() == kit.parts.len()).then_some(blanks)
}

/// Accepted warnings are printed on the drawing set, with their reasons.
fn print_accepted(kit: &mut Kit, notes: &Notes) {
    for finding in notes.all() {
        if let Some(reason) = &finding.accepted {
            kit.notes.push(format!("Accepted: {}. Reason: {reason}", finding.message));
        }
    }
}

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

/// All files that are asked for.
fn files(
    (worked, (request, laid)): (&Worked, (&Request, &Laid)),
    stock: &Stock,
    findings: &[Finding],
    only: &Only,
) -> Vec<OutFile> {
    let Worked { kit, folded, blanks, site, bending, .. } = worked;
    let mut files = Vec::new();
    let quote = worked.quote(stock);
    let mut add = |path: &str, bytes| files.push(OutFile { path: path.to_string(), bytes });
    if only.kind(FileKind::Csv) {
        lists(kit, blanks).into_iter().for_each(|(path, bytes)| add(path, bytes));
        add("quote.csv", release::quote_csv(&quote));
    }
    if only.kind(FileKind::Glb) {
        add("kit.glb", write::glb(&kit.number, &mesh::assemble(kit, folded)));
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
    files.extend(sheets::files(kit, (request, laid), stock, only));
    if only.kind(FileKind::Html) {
        files.push(file("index.html", index(worked, findings, &files)));
    }
    let paths: Vec<&str> = files.iter().map(|file| file.path.as_str()).collect();
    let laid = Some((request.wanted.as_slice(), laid));
    let bytes = release::kit_json(&Record { laid, ..worked.record(findings, &paths) });
    files.insert(0, file("kit.json", bytes));
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

/// The page that shows the files made so far and `kit.json`.
fn index(worked: &Worked, findings: &[Finding], files: &[OutFile]) -> Vec<u8> {
    let Worked { kit, folded, blanks, .. } = worked;
    let made = files.iter().map(|file| (file.path.as_str(), file.bytes.as_slice()));
    let files: Vec<(&str, &[u8])> = made.collect();
    let own = files.iter().find(|(path, _)| *path == "kit.glb").map(|(_, bytes)| bytes.to_vec());
    let glb = own.unwrap_or_else(|| write::glb(&kit.number, &mesh::assemble(kit, folded)));
    page::page(&Shown { kit, blanks, findings, glb: &glb, files: &files })
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
