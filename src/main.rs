//! Starts the command line and hands its exit status to the system.

use std::process::ExitCode;

use blankwright::cli::{self, Build, Console, Data};
use blankwright::note::Notes;
use blankwright::pipeline::{self, Stock};

/// Kits are many small lists of points and texts: an allocator made for that takes about a third
/// off the time of a kit.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    let line = std::env::args_os().collect();
    cli::run(line, &prepare, &mut Console::of_process()).code()
}

/// Reads the data texts once for all kits.
fn prepare(data: &Data, notes: &mut Notes) -> Option<Box<Build<'static>>> {
    let shelf: Vec<_> = data.shop.iter().chain(&data.containers).cloned().collect();
    let stock = Stock::read(&data.families, &shelf, notes)?;
    Some(Box::new(move |source, want, trial| pipeline::build_tried(source, &stock, want, trial)))
}
