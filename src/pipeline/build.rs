//! The spine: from the text of one spec to the files of one kit.

use std::sync::OnceLock;

use super::catalogue;
use super::files::{Layout, files};
use super::origin::origins;
use super::proof;
use super::sheets;
use super::since;
use super::together::{in_box, together};
use super::{Built, Source, Stock, Trial, Want};
use crate::brake::{self, Outcome};
use crate::check::{self, Asked, Subject};
use crate::flat::{self, Blank};
use crate::fold::{self, FoldedPart};
use crate::geom::{BoxFrame, Pose, SiteFrame};
use crate::kit::{self, Draft, Identity, Kit};
use crate::mate::{self, Words};
use crate::note::{Finding, Notes};
use crate::quote::{self, Quote};
use crate::release::{self, Record, sha256};
use crate::resolve::{self, Resolved};
use crate::section::{self, Strength};
use crate::sheets::{Laid, Origin, Request};
use crate::shelf::Shelf;
use crate::site::{self, Site};
use crate::solid::Scene;
use crate::spec::{self, QuoteAsk, Spec, nearest};
use crate::stackup::{Report, Stack, Tally};
use crate::template::Template;

/// A kit with all that was worked out from it.
pub(super) struct Worked {
    pub(super) kit: Kit,
    pub(super) folded: Vec<FoldedPart>,
    pub(super) blanks: Vec<Blank>,
    pub(super) strength: Strength,
    pub(super) stackup: Report,
    pub(super) site: Option<Site>,
    pub(super) in_box: Option<Pose<SiteFrame, BoxFrame>>,
    pub(super) bending: Vec<Option<Outcome>>,
    /// What its parts are called when the kit is drawn alone, in their order.
    pub(super) in_kit: Vec<String>,
    /// Where the spec speaks of each part.
    pub(super) origins: Vec<Origin>,
    ask: QuoteAsk,
}

impl Worked {
    /// What the kit costs by the shop's rates, its sheets shared among its parts.
    pub(super) fn quote(&self, stock: &Stock, laid: Option<(&Request, &Laid)>) -> Quote {
        quote::work_out(&quote::Subject {
            kit: &self.kit,
            folded: &self.folded,
            blanks: &self.blanks,
            shop: &stock.shelf.shop,
            laid: laid.map(|(request, laid)| (request.wanted.as_slice(), laid)),
            ask: &self.ask,
        })
    }

    /// Tells what every check finds in it.
    fn checked(&self, shelf: &Shelf, asked: Asked, notes: &mut Notes) {
        let scene = Scene::of(&self.kit, &self.folded);
        let subject = Subject {
            kit: &self.kit,
            folded: &self.folded,
            blanks: &self.blanks,
            shelf,
            strength: &self.strength,
            stackup: &self.stackup,
            site: self.site.as_ref(),
            scene: &scene,
            bending: &self.bending,
            asked: Some(asked),
        };
        check::run(&subject, notes);
    }

    /// What `kit.json` is written from.
    pub(super) fn record<'a>(
        &'a self,
        findings: &'a [Finding],
        files: &'a [&'a str],
    ) -> Record<'a> {
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
    if let Some(all) = catalogue::each_alone(source, stock, trial) {
        return all;
    }
    let mut notes = Notes::default();
    let specs = read(source, &mut notes);
    let sha256 = sha256(&source.bytes);
    if specs.len() < 2 {
        let mut built = Built { notes, ..Built::default() };
        let worked = specs.first().and_then(|spec| {
            let step = Step { sha256: &sha256, stock, trial, before: None, shared: None };
            step.work_out(spec, &mut built).map(|(worked, _)| worked)
        });
        return vec![(built, worked)];
    }
    if notes.has_errors() {
        let kit = Some(specs[0].kit.value.clone());
        return vec![(Built { notes, kit, ..Built::default() }, None)];
    }
    let mut all = several(&specs, (&sha256, stock, trial), notes);
    together(&mut all, &stock.shelf);
    all
}

/// Every kit of a file, each beside the one before it.
fn several(
    specs: &[Spec],
    (sha256, stock, trial): (&str, &Stock, &Trial),
    notes: Notes,
) -> Vec<(Built, Option<Worked>)> {
    let mut before: Option<Resolved> = None;
    let mut notes = Some(notes);
    let mut all = Vec::new();
    for spec in specs {
        let mut built = Built { notes: notes.take().unwrap_or_default(), ..Built::default() };
        let step = Step { sha256, stock, trial, before: before.as_ref(), shared: None };
        let made = step.work_out(spec, &mut built);
        let (worked, resolved) = made.map_or((None, None), |(w, r)| (Some(w), Some(r)));
        before = resolved;
        all.push((built, worked));
    }
    all
}

/// What is asked for of a kit that is worked out.
pub(super) fn finished(
    mut built: Built,
    worked: Option<Worked>,
    stock: &Stock,
    want: &Want,
) -> Built {
    let Some(worked) = worked else { return built };
    built.parts = worked.kit.parts.iter().map(|part| part.number.clone()).collect();
    let (only, proved) = match want {
        Want::Findings => return built,
        Want::Files(only) => (only, true),
        Want::Unproved(only) => (only, false),
    };
    if !built.notes.has_errors() {
        let request = sheets::request(&worked, stock);
        let alone: &super::Share = &|count, work| (0..count).for_each(work);
        let laid = sheets::lay_out(&request, alone, &mut built.notes);
        if built.notes.has_errors() {
            return built;
        }
        let layout = Layout { request: &request, laid: &laid, only };
        let files = files((&worked, Some(layout)), stock, built.notes.all(), (only, None));
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
    let sha256 = sha256(&source.bytes);
    let step = Step { sha256: &sha256, stock, trial, before: None, shared: None };
    step.work_out(specs.first()?, built).map(|(worked, _)| worked)
}

/// What one kit is worked out with.
#[derive(Clone, Copy)]
pub(super) struct Step<'a> {
    /// SHA-256 of the spec's bytes, hexadecimal.
    pub(super) sha256: &'a str,
    pub(super) stock: &'a Stock,
    pub(super) trial: &'a Trial<'a>,
    /// The kit before it in its file.
    pub(super) before: Option<&'a Resolved>,
    /// What numbers of parts begin with that the kits of a catalogue share.
    pub(super) shared: Option<&'a str>,
}

/// Said to whoever cuts, orders or lifts the box.
const NO_FORKS: &str = "The opening stands over a fork pocket: no forks in it once the wall is cut, the rail over it has lost its wall. Close and mark the pocket.";

impl Step<'_> {
    pub(super) fn work_out(&self, spec: &Spec, built: &mut Built) -> Option<(Worked, Resolved)> {
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
        let mut draft = kit::expand(template, &resolved, shelf, notes);
        if notes.has_errors() {
            return None;
        }
        if self.shared.is_some() {
            kit::settle(&mut draft);
        }
        let folded: Vec<FoldedPart> = draft.parts.iter().map(fold::fold).collect();
        let in_kit = draft.parts.iter().map(|part| part.number.clone()).collect();
        let sha256 = self.sha256;
        let words = Words { spec, sha256, template, resolved: &resolved, shelf };
        let number = |draft: &mut Draft| self.number(draft);
        let kit = mate::assemble_numbered(&words, draft, &folded, &number, notes);
        let blanks = develop(&kit, notes)?;
        let strength = section::work_out(&kit, &folded, (template, &resolved, shelf), notes);
        let stackup = stack_up(&Stack::of(&kit, &folded, shelf), self.trial);
        let site = resolved.container.as_ref().map(|container| {
            site::work_out(&site::Subject { kit: &kit, folded: &folded, shelf, container })
        });
        let in_box = in_box(&resolved, shelf);
        let bending = brake::plan_all(&kit.parts, shelf);
        let mut worked = Worked {
            origins: origins(spec, template, &kit.parts),
            kit,
            folded,
            blanks,
            strength,
            stackup,
            site,
            in_box,
            bending,
            ask: spec.quote.clone(),
            in_kit,
        };
        let pierced = worked.site.as_ref().and_then(|site| site.cut.as_ref());
        if pierced.is_some_and(|cut| !cut.pockets.is_empty()) {
            worked.kit.cautions.push(NO_FORKS.to_owned());
        }
        worked.checked(shelf, Asked { template, resolved: &resolved, spec }, notes);
        print_accepted(&mut worked.kit, notes);
        if let Some(earlier) = earlier {
            let bytes = release::kit_json(&worked.record(notes.all(), &[]));
            let plain = since::without_amendments(self, spec);
            let both = since::Both { bytes: &bytes, plain: plain.as_ref() };
            since::follow(&mut worked.kit, (earlier, &both), (spec, template), notes);
        }
        Some((worked, resolved))
    }

    /// Gives the parts the numbers that the kits of a catalogue share.
    fn number(&self, draft: &mut Draft) {
        let Some(prefix) = self.shared else { return };
        for part in &mut draft.parts {
            kit::settle_holes(part);
            let number = kit::shared_number(part, &Identity::of(part, prefix), prefix);
            let named =
                draft.steps.iter_mut().flat_map(|step| step.parts.iter_mut().chain(&mut step.on));
            named.filter(|own| **own == part.number).for_each(|own| own.clone_from(&number));
            part.number = number;
        }
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
            None if known.iter().any(|own| share_a_word(own, name)) => {
                let near = known.iter().filter(|own| share_a_word(own, name));
                let near: Vec<String> = near.map(|own| format!("`{own}`")).collect();
                format!("did you mean {}? There are: {all}", near.join(" or "))
            }
            None => format!("there are: {all}"),
        };
        notes.add(finding.about("template").at(spec.place(&spec.template.span)).help(help));
    }
    found
}

/// Whether two names of families have a word in common: `roller-door` and `curtain-door`.
fn share_a_word(a: &str, b: &str) -> bool {
    a.split('-').any(|word| b.split('-').any(|other| word.eq_ignore_ascii_case(other)))
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
