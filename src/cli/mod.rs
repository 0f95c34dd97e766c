//! The shell: the only code that meets arguments, files, threads and the terminal.

mod args;
mod ask;
mod batch;
mod catalogue;
mod clash;
mod compare;
mod console;
mod earlier;
mod exit;
mod families;
mod make;
mod parcel;
mod plain;
mod prove;
mod rebuild;
mod release;
mod remark;
mod report;
mod schema;
mod sheets;
mod store;
mod verify;
mod watch;

use std::ffi::OsString;

use clap::{CommandFactory, Parser};

pub use batch::Build;
pub use console::Console;
pub use exit::Exit;
pub use store::{Data, Origin};

use crate::note::Notes;
use args::{Arguments, Command};

/// How the data texts become a way to make kits; `None` when findings forbid to make any.
pub type Prepare<'a> = dyn Fn(&Data, &mut Notes) -> Option<Box<Build<'a>>> + 'a;

/// Does what the command line asks for. `line` begins with the program's name.
pub fn run(line: Vec<OsString>, prepare: &Prepare, console: &mut Console) -> Exit {
    let arguments = match Arguments::try_parse_from(line) {
        Ok(arguments) => arguments,
        Err(error) => return usage(&error, console),
    };
    match &arguments.command {
        Command::Draw(draw) => make::draw(&arguments, draw, prepare, console),
        Command::Compare(asked) => compare::compare(&arguments, asked, prepare, console),
        Command::Watch(draw) => watch::watch(&arguments, draw, prepare, console),
        Command::Release(asked) => make::release(&arguments, asked, prepare, console),
        Command::Verify(asked) => verify::verify(asked, prepare, console),
        Command::Sheets(asked) => sheets::sheets(&arguments, asked, console),
        Command::Catalogue(asked) => catalogue::catalogue(&arguments, asked, console),
        Command::Prove(asked) => prove::prove(&arguments, asked, console),
        Command::Check(check) => make::check(&arguments, check, prepare, console),
        Command::Describe { template } => {
            ask::describe_families(&arguments, template.as_deref(), console)
        }
        Command::Schema { template } => ask::schema_of(&arguments, template.as_deref(), console),
        Command::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(*shell, &mut Arguments::command(), "blankwright", &mut script);
            console.say(&String::from_utf8_lossy(&script));
            Exit::Done
        }
    }
}

/// Help and version are answers; anything else is a line that cannot be used.
fn usage(error: &clap::Error, console: &mut Console) -> Exit {
    let text = plain::lines(&error.render().to_string());
    if error.use_stderr() {
        console.tell(&text);
        Exit::Unusable
    } else {
        console.say(&text);
        Exit::Done
    }
}
