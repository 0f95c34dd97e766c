//! Several kits on common sheets.

use std::sync::OnceLock;

use super::build::{Worked, all_worked};
use super::files::document;
use super::proof::sheets_hold;
use super::sheets::{FAULTY, laser_files, lay_out, wanted};
use super::{Built, OutFile, Share, Source, Stock, Trial};
use crate::draw;
use crate::kit::Kit;
use crate::nest::Effort;
use crate::note::{Notes, Severity};
use crate::release;
use crate::sheets::{CutSheet, KitRow, Laid, LeftOut, Request};

/// What is asked for.
#[derive(Debug, Clone, Copy)]
pub struct SheetsAsked {
    /// How hard to look.
    pub effort: Effort,
    /// Seed of the search.
    pub seed: u64,
    /// How many of each kit are cut.
    pub times: u32,
    /// Whether what can be laid out is written though something cannot.
    pub partial: bool,
}

/// What became of the sheets.
#[derive(Debug, Clone, Default)]
pub struct CommonSheets {
    /// What is said about each spec's kits, in the order of the specs; without files.
    pub kits: Vec<Vec<Built>>,
    /// What is said about the sheets.
    pub notes: Notes,
    /// How many sheets are cut, and of how many layouts.
    pub count: (u32, usize),
    /// Their files; none when there are errors and a part of it was not enough.
    pub files: Option<Vec<OutFile>>,
}

/// The only check whose error a kit may have when a part of it is enough: a blank that no sheet
/// takes, which is then left out.
const LEFT_OUT: &str = "fab.sheet";

/// Lays the kits of all specs out on common sheets.
pub fn common_sheets(
    sources: &[Source],
    stock: &Stock,
    asked: &SheetsAsked,
    share: &Share,
) -> CommonSheets {
    let made = worked_out(sources, stock, share);
    let usable = |built: &Built| {
        let mut errors = built.notes.all().iter().filter(|f| f.severity == Severity::Error);
        errors.all(|finding| asked.partial && finding.check == LEFT_OUT)
    };
    let named = made
        .iter()
        .zip(sources)
        .flat_map(|(kits, source)| kits.iter().map(move |made| (made, source.name.as_str())));
    let left_out = named.filter(|((built, worked), _)| worked.is_none() || !usable(built));
    let left_out: Vec<LeftOut> = left_out.map(|((built, _), name)| left(built, name)).collect();
    let kits: Vec<&Worked> = made
        .iter()
        .flatten()
        .filter(|(built, _)| usable(built))
        .filter_map(|(_, worked)| worked.as_ref())
        .collect();
    let whole = made.iter().flatten().all(|(built, _)| !built.notes.has_errors());
    let mut common = CommonSheets::default();
    if !kits.is_empty() && (whole || asked.partial) {
        lay((&kits, left_out), stock, (asked, share), &mut common);
    }
    let told = made.into_iter().map(|kits| kits.into_iter().map(|(built, _)| built).collect());
    common.kits = told.collect();
    common
}

type Made = Vec<(Built, Option<Worked>)>;

fn worked_out(sources: &[Source], stock: &Stock, share: &Share) -> Vec<Made> {
    let made: Vec<OnceLock<Made>> = sources.iter().map(|_| OnceLock::new()).collect();
    share(sources.len(), &|index| {
        made[index].get_or_init(|| all_worked(&sources[index], stock, &Trial::none()));
    });
    made.into_iter().map(|made| made.into_inner().unwrap_or_default()).collect()
}

/// A kit that errors of its own keep out.
fn left(built: &Built, file: &str) -> LeftOut {
    let errors = built.notes.all().iter().filter(|f| f.severity == Severity::Error);
    let mut checks: Vec<&str> = errors.map(|finding| finding.check).collect();
    checks.sort_unstable();
    checks.dedup();
    let kit = built.kit.clone().unwrap_or_else(|| file.to_owned());
    LeftOut { kit, why: format!("has errors of its own: {}", checks.join(", ")) }
}

fn lay(
    (kits, left_out): (&[&Worked], Vec<LeftOut>),
    stock: &Stock,
    (asked, share): (&SheetsAsked, &Share),
    common: &mut CommonSheets,
) {
    let wanted = kits.iter().flat_map(|worked| wanted(worked, asked.times));
    let request = Request {
        wanted: wanted.collect(),
        shelf: &stock.shelf,
        effort: asked.effort,
        seed: asked.seed,
    };
    let mut laid = lay_out(&request, share, &mut common.notes);
    laid.left_out = left_out;
    laid.kits = kits.iter().map(|worked| row(&worked.kit, asked.times)).collect();
    common.count = (laid.sheets.iter().map(|s| s.copies).sum(), laid.sheets.len());
    let faulty = common.notes.all().iter().any(|finding| finding.check == FAULTY);
    if !laid.sheets.is_empty() && !faulty && (asked.partial || !common.notes.has_errors()) {
        let written = files(kits, stock, (&request, &laid));
        let proved = sheets_hold(&written, &stock.shelf, &mut common.notes);
        common.files = proved.then_some(written);
    }
}

fn row(kit: &Kit, times: u32) -> KitRow {
    KitRow {
        kit: kit.number.clone(),
        title: kit.title.clone(),
        revision: kit.revision.clone(),
        spec_sha256: kit.spec_sha256.clone(),
        times,
    }
}

/// All files, `sheets.json` first, which names the others.
fn files(kits: &[&Worked], stock: &Stock, (request, laid): (&Request, &Laid)) -> Vec<OutFile> {
    let bearer = bearer(kits, laid);
    let wanted = &request.wanted;
    let papers = draw::stock_sheets(&bearer, wanted, laid);
    let file = |path: &str, bytes| OutFile { path: path.to_owned(), bytes };
    let mut files = vec![
        file("sheets.csv", release::sheets_csv(wanted, laid)),
        file("sheets.pdf", document(&bearer, "sheets", &papers)),
    ];
    files.extend(laser_files((request, laid), stock, CutSheet::name));
    let names: Vec<&str> = files.iter().map(|file| file.path.as_str()).collect();
    let list = file("sheets.json", release::sheets_json(wanted, laid, &names));
    files.insert(0, list);
    files
}

/// The kit whose title block the papers bear: the only one, or one that stands for all.
fn bearer(kits: &[&Worked], laid: &Laid) -> Kit {
    let first = &kits[0].kit;
    let times = laid.kits[0].times;
    let shared = |field: fn(&Kit) -> &String| {
        let own = field(first);
        let same = kits.iter().all(|worked| field(&worked.kit) == own);
        if same { own.clone() } else { String::new() }
    };
    let one = kits.len() == 1;
    let number = if one { first.number.clone() } else { format!("{} kits", kits.len()) };
    let title = if one { first.title.clone() } else { "Common sheets".to_owned() };
    Kit {
        number,
        title: if times == 1 { title } else { format!("{title}, {times} times") },
        revision: if one { first.revision.clone() } else { String::new() },
        revisions: Vec::new(),
        date: kits.iter().map(|worked| worked.kit.date.clone()).max().unwrap_or_default(),
        drawn_by: shared(|kit| &kit.drawn_by),
        approved_by: shared(|kit| &kit.approved_by),
        owner: shared(|kit| &kit.owner),
        template: (first.template.0.clone(), "see the list of kits".to_owned()),
        ..first.clone()
    }
}
