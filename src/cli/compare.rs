//! The command `compare`: from two paths to what changed between their kits.

use std::path::Path;

use super::args::{Arguments, CompareArguments, Format};
use super::ask::about_data;
use super::batch::{Build, Outcome, guarded, hush_caught_panics};
use super::earlier::kits_at;
use super::exit::{Exit, Trouble};
use super::make::as_json;
use super::store::{self, Data};
use super::{Console, Prepare, plain, report};
use crate::compare::{Comparison, as_text, compare as hold};
use crate::note::Notes;
use crate::pipeline::{Earlier, changes_files};
use crate::release::changes_json;

/// Compares two specs, kits' folders or released folders.
pub(crate) fn compare(
    arguments: &Arguments,
    asked: &CompareArguments,
    prepare: &Prepare,
    console: &mut Console,
) -> Exit {
    let data = match store::load(arguments.templates.as_deref(), arguments.shop.as_deref()) {
        Ok(data) => data,
        Err(trouble) => {
            return refuse(asked, vec![Outcome::trouble(String::new(), trouble)], console);
        }
    };
    let mut notes = Notes::default();
    let build = prepare(&data, &mut notes);
    let Some(build) = build else {
        return refuse(asked, about_data(&data, &notes).into_iter().collect(), console);
    };
    hush_caught_panics();
    let mut compared = Err(Vec::new());
    let name = asked.new.to_string_lossy().into_owned();
    let outcome = guarded(&name, || {
        compared = comparisons(asked, (&data, &*build)).map_err(|outcome| vec![*outcome]);
        Outcome::unmade(name.clone(), Exit::Done)
    });
    if !outcome.remarks.is_empty() {
        return refuse(asked, vec![outcome], console);
    }
    match compared {
        Ok(all) => tell(asked, &all, console),
        Err(outcomes) => refuse(asked, outcomes, console),
    }
}

fn refuse(asked: &CompareArguments, outcomes: Vec<Outcome>, console: &mut Console) -> Exit {
    match asked.format {
        Format::Json => console.say(&as_json(&outcomes)),
        Format::Text => {
            outcomes.iter().for_each(|it| console.tell(&report::findings(it, console.colour)));
        }
    }
    outcomes.iter().map(|outcome| outcome.exit).max().unwrap_or(Exit::Unusable)
}

/// Kits of the same number in both; where both hold one kit, these two whatever their numbers.
fn comparisons(
    asked: &CompareArguments,
    with: (&Data, &Build),
) -> Result<Vec<Comparison>, Box<Outcome>> {
    let old = kits_at(&asked.old, with)?;
    let new = kits_at(&asked.new, with)?;
    if let ([a], [b]) = (&old[..], &new[..]) {
        return Ok(vec![hold(&a.kit, &b.kit)]);
    }
    let other = |kit: &Earlier| old.iter().find(|it| it.kit.number() == kit.kit.number());
    let all: Vec<Comparison> =
        new.iter().filter_map(|kit| Some(hold(&other(kit)?.kit, &kit.kit))).collect();
    if all.is_empty() {
        let numbers =
            |kits: &[Earlier]| kits.iter().map(|it| it.kit.number()).collect::<Vec<_>>().join(", ");
        let message =
            format!("no kit is in both: {} in one, {} in the other", numbers(&old), numbers(&new));
        let trouble = Trouble::unusable("compare.no-pair", message);
        let name = asked.new.to_string_lossy().into_owned();
        let help = "name one kit's folder on each side to compare kits of different numbers";
        return Err(Box::new(Outcome::trouble(name, trouble.help(help))));
    }
    Ok(all)
}

fn tell(asked: &CompareArguments, all: &[Comparison], console: &mut Console) -> Exit {
    match asked.format {
        Format::Json => {
            console.say(&plain::json(&String::from_utf8_lossy(&changes_json(all))));
        }
        Format::Text => all.iter().for_each(|it| console.say(&plain::lines(&as_text(it)))),
    }
    let Some(out) = &asked.out else { return Exit::Done };
    let written = store::create(out)
        .and_then(|()| all.iter().try_for_each(|comparison| write(out, comparison, console)));
    match written {
        Ok(()) => Exit::Done,
        Err(trouble) => {
            let name = out.to_string_lossy().into_owned();
            refuse(asked, vec![Outcome::trouble(name, trouble)], console)
        }
    }
}

/// Writes pictures, pages and tables to `OUT/KIT-A-to-B`, a name that no kit's folder can have.
fn write(out: &Path, comparison: &Comparison, console: &mut Console) -> Result<(), Trouble> {
    let [old, new] = &comparison.heads;
    let name = format!("{}-{}-to-{}", new.kit, old.revision, new.revision);
    let files = changes_files(comparison);
    let written = store::write(out, &name, &files)?;
    let line = format!("{name}: {} files in {}\n", written.files, written.folder.display());
    console.tell(&plain::lines(&line));
    Ok(())
}
