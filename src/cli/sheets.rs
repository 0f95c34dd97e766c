//! The command `sheets`: several kits on common sheets.

use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::thread;

use super::args::{Arguments, Format, SheetsArguments};
use super::ask::about_data;
use super::batch::{Outcome, guarded, hush_caught_panics, pool, share};
use super::exit::{Exit, Trouble};
use super::make::{as_json, lock, tasks};
use super::remark::{Remark, remarks};
use super::store::{self, Data, Written};
use super::{Console, plain, report};
use crate::note::Notes;
use crate::pipeline::{Built, CommonSheets, Source, Stock, common_sheets};

/// Lays the kits of all specs out; the worst counts.
pub(crate) fn sheets(
    arguments: &Arguments,
    asked: &SheetsArguments,
    console: &mut Console,
) -> Exit {
    let (outcomes, line) = outcomes(arguments, asked, console);
    match asked.format {
        Format::Json => console.say(&as_json(&outcomes)),
        Format::Text => {
            for outcome in &outcomes {
                console.tell(&report::findings(outcome, console.colour));
            }
            console.say(&line);
        }
    }
    outcomes.iter().map(|outcome| outcome.exit).max().unwrap_or(Exit::Done)
}

/// What became of everything, and the line that says what was written.
fn outcomes(
    arguments: &Arguments,
    asked: &SheetsArguments,
    console: &mut Console,
) -> (Vec<Outcome>, String) {
    let stop = |trouble: Trouble| (vec![Outcome::trouble(String::new(), trouble)], String::new());
    let data = match store::load(arguments.templates.as_deref(), arguments.shop.as_deref()) {
        Ok(data) => data,
        Err(trouble) => return stop(trouble),
    };
    let mut notes = Notes::default();
    let shelf: Vec<Source> = data.shop.iter().chain(&data.containers).cloned().collect();
    let read = if asked.partial { Stock::read_part } else { Stock::read };
    let stock = read(&data.families, &shelf, &mut notes);
    let mut outcomes: Vec<Outcome> = about_data(&data, &notes).into_iter().collect();
    let Some(stock) = stock else { return (outcomes, String::new()) };
    let (folder, name) = match place(&asked.out) {
        Ok(place) => place,
        Err(trouble) => return stop(trouble),
    };
    let _lock = match lock(&folder, console) {
        Ok(lock) => lock,
        Err(trouble) => return stop(trouble),
    };
    let mut sources = Vec::new();
    for task in tasks(&asked.specs) {
        match task {
            Ok(spec) if spec.clash.is_none() => sources.push(spec.source),
            Ok(spec) => outcomes.push(clashing(spec.source, spec.clash)),
            Err(outcome) => outcomes.push(*outcome),
        }
    }
    let unread = outcomes.iter().any(|outcome| Exit::Done < outcome.exit);
    if sources.is_empty() || (unread && !asked.partial) {
        return (outcomes, String::new());
    }
    let job = Job { asked, stock: &stock, data: &data, sources: &sources };
    let (made, line) = job.made((&folder, &name));
    outcomes.extend(made);
    (outcomes, line)
}

/// The folder that holds the sheets' own, and its name.
fn place(out: &Path) -> Result<(PathBuf, String), Trouble> {
    let name = out.file_name().and_then(|name| name.to_str()).filter(|n| !n.starts_with('.'));
    let Some(name) = name else {
        let message = format!("{} is no name for a folder of sheets", out.display());
        return Err(Trouble::unusable("args.out", message).help("name a folder: --out DIR"));
    };
    if out.join("kit.json").is_file() {
        let message = format!("{} is a kit's folder, and would be replaced", out.display());
        return Err(Trouble::unusable("args.out", message).help("name another folder: --out DIR"));
    }
    let parent = out.parent().filter(|parent| !parent.as_os_str().is_empty());
    Ok((parent.unwrap_or(Path::new(".")).to_owned(), name.to_owned()))
}

fn clashing(source: Source, clash: Option<crate::note::Finding>) -> Outcome {
    let finding = clash.into_iter().map(|finding| Remark { finding, spot: None });
    Outcome { remarks: finding.collect(), ..Outcome::unmade(source.name, Exit::Unusable) }
}

/// One command, as it was asked for.
struct Job<'a> {
    asked: &'a SheetsArguments,
    stock: &'a Stock,
    data: &'a Data,
    sources: &'a [Source],
}

impl Job<'_> {
    fn made(&self, (folder, name): (&Path, &str)) -> (Vec<Outcome>, String) {
        let all = || thread::available_parallelism().map_or(1, NonZero::get);
        let pool = match pool(self.asked.jobs.map_or_else(all, usize::from)) {
            Ok(pool) => pool,
            Err(trouble) => return (vec![Outcome::trouble(String::new(), trouble)], String::new()),
        };
        hush_caught_panics();
        let mut common = CommonSheets::default();
        let made = guarded("", || {
            let common_of = || common_sheets(self.sources, self.stock, &self.asked.wish(), &share);
            common = pool.install(common_of);
            Outcome::unmade(String::new(), Exit::Done)
        });
        if made.exit != Exit::Done {
            return (vec![made], String::new());
        }
        let mut outcomes: Vec<Outcome> = Vec::new();
        for (source, kits) in self.sources.iter().zip(&common.kits) {
            outcomes.extend(kits.iter().map(|built| self.told(source, built)));
        }
        let (own, line) = self.written((folder, name), &common);
        outcomes.push(own);
        (outcomes, line)
    }

    /// What is said about one kit: errors and warnings alone, since nothing of it is written.
    fn told(&self, source: &Source, built: &Built) -> Outcome {
        let remarks = remarks(&built.notes, |file| {
            let mut texts = std::iter::once(source).chain(self.data.texts());
            texts.find(|text| text.name == file).map(|text| text.bytes.as_slice())
        });
        let errors = |remark: &Remark| remark.finding.severity == crate::note::Severity::Error;
        Outcome {
            kit: built.kit.clone(),
            remarks: remarks.into_iter().filter(errors).collect(),
            ..Outcome::unmade(source.name.clone(), Exit::of(&built.notes))
        }
    }

    fn written(&self, (folder, name): (&Path, &str), common: &CommonSheets) -> (Outcome, String) {
        let mut own = Outcome::unmade(String::new(), Exit::of(&common.notes));
        own.remarks = remarks(&common.notes, |file| {
            let text = self.sources.iter().find(|text| text.name == file);
            text.map(|text| text.bytes.as_slice())
        });
        let Some(files) = &common.files else {
            return (own, "sheets: refused, nothing was written\n".to_owned());
        };
        match store::write(folder, name, files) {
            Ok(Written { folder, .. }) => {
                let (sheets, layouts) = common.count;
                let count = |n: usize, one: &str, many: &str| {
                    format!("{n} {}", if n == 1 { one } else { many })
                };
                let line = format!(
                    "{}, {}, in {}",
                    count(sheets as usize, "sheet", "sheets"),
                    count(layouts, "layout", "layouts"),
                    folder.display()
                );
                (own, plain::line(&line) + "\n")
            }
            Err(trouble) => (Outcome::trouble(String::new(), trouble), String::new()),
        }
    }
}
