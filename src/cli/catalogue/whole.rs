//! Single kits of a catalogue, each drawn whole into a folder of its own: what goes to the shop and
//! to the customer when a kit is sold.

use std::path::Path;

use rayon::prelude::*;

use crate::cli::batch::{Outcome, guarded, placed, pool};
use crate::cli::exit::Trouble;
use crate::cli::store::Data;
use crate::pipeline::{self, Series, Source};
use crate::spec::{Catalogue, nearest};

/// The places in a catalogue of the kits that are asked for by number, in that order.
fn find(catalogue: &Catalogue, wanted: &[String]) -> Result<Vec<usize>, Trouble> {
    let numbers: Vec<String> = (0..catalogue.len()).map(|i| catalogue.number_of(i)).collect();
    let place = |number: &String| {
        let found = numbers.iter().position(|own| own == number);
        found.ok_or_else(|| unknown(catalogue, number, &numbers))
    };
    let mut places = wanted.iter().map(place).collect::<Result<Vec<usize>, Trouble>>()?;
    places.sort_unstable();
    places.dedup();
    Ok(places)
}

fn unknown(catalogue: &Catalogue, number: &str, numbers: &[String]) -> Trouble {
    let message = format!("{} has no kit {number}; nothing was written", catalogue.number);
    let help = match nearest(number, numbers.iter().map(String::as_str)) {
        Some(meant) => format!("did you mean {meant}?"),
        None => {
            let last = numbers.last().map_or("", String::as_str);
            format!("its kits are {} to {last}: uses.csv lists them", numbers[0])
        }
    };
    Trouble::unusable("catalogue.no-kit", message).help(help)
}

/// Draws kits, each into a folder of its own in `out`.
pub(super) fn draw(
    (catalogue, series): (&Catalogue, &Series),
    (source, data): (&Source, &Data),
    (wanted, out): (&[String], &Path),
    jobs: usize,
) -> Result<Vec<Outcome>, Trouble> {
    let kits = find(catalogue, wanted)?;
    let texts: Vec<Source> = data.texts().cloned().collect();
    let one = |index: &usize| {
        guarded(&source.name, || {
            let built = pipeline::apart(&catalogue.variant(*index), series);
            placed(built, Some(out), (source, &texts))
        })
    };
    Ok(pool(jobs)?.install(|| kits.par_iter().map(one).collect()))
}
