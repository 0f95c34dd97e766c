//! The commands that answer questions about kit families.

use super::args::Arguments;
use super::batch::Outcome;
use super::exit::{Exit, Trouble};
use super::families::{describe, family, list};
use super::remark::remarks;
use super::schema::schema;
use super::store::{self, Data};
use super::{Console, plain, report};
use crate::note::Notes;
use crate::pipeline::{Source, Stock, portrait, read_families};
use crate::template::Template;

/// Lists the families, or describes the one that is named.
pub(crate) fn describe_families(
    arguments: &Arguments,
    name: Option<&str>,
    console: &mut Console,
) -> Exit {
    answer(arguments, console, |families, data| {
        // What is wrong with the shelf is told by the commands that need it.
        let shelf: Vec<Source> = data.shop.iter().chain(&data.containers).cloned().collect();
        let stock = Stock::read(&data.families, &shelf, &mut Notes::default());
        let portrait = |family: &Template| portrait(&family.template.name, stock.as_ref()?);
        match name {
            Some(name) => Ok(describe(family(families, name)?, &portrait)),
            None => Ok(list(families, &portrait)),
        }
    })
}

/// Prints the schema of all specs, or of those of the family that is named.
pub(crate) fn schema_of(arguments: &Arguments, name: Option<&str>, console: &mut Console) -> Exit {
    answer(arguments, console, |families, _| {
        let named = name.map(|name| family(families, name)).transpose()?;
        Ok(schema(named))
    })
}

/// Says what the question comes to; what is wrong with the families' files is told beside it.
fn answer(
    arguments: &Arguments,
    console: &mut Console,
    question: impl Fn(&[Template], &Data) -> Result<String, Trouble>,
) -> Exit {
    let data = match store::load(arguments.templates.as_deref(), arguments.shop.as_deref()) {
        Ok(data) => data,
        Err(trouble) => return tell(Outcome::trouble(String::new(), trouble), console),
    };
    let mut notes = Notes::default();
    let families = read_families(&data.families, &mut notes);
    let broken = about_data(&data, &notes).map_or(Exit::Done, |outcome| tell(outcome, console));
    match question(&families, &data) {
        Ok(text) => {
            console.say(&plain::lines(&text));
            broken
        }
        Err(trouble) => tell(Outcome::trouble(String::new(), trouble), console).max(broken),
    }
}

fn tell(outcome: Outcome, console: &mut Console) -> Exit {
    let findings = report::findings(&outcome, console.colour);
    console.tell(&findings);
    outcome.exit
}

/// What there is to say about the data texts themselves.
pub(crate) fn about_data(data: &Data, notes: &Notes) -> Option<Outcome> {
    let text = |file: &str| data.texts().find(|t| t.name == file).map(|t| t.bytes.as_slice());
    let exit = if notes.has_errors() { Exit::Unusable } else { Exit::Done };
    let outcome = Outcome { remarks: remarks(notes, text), ..Outcome::unmade(String::new(), exit) };
    (!notes.is_empty()).then_some(outcome)
}
