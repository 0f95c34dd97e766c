//! A kit to compare with, from a path: a spec that is worked out, a kit's own file, a drawn or
//! released kit's folder, or a folder of such folders.

use std::ffi::OsStr;
use std::path::Path;

use super::batch::Outcome;
use super::exit::{Exit, Trouble};
use super::remark::remarks;
use super::store::{self, Data};
use crate::cli::batch::Build;
use crate::pipeline::{FileKind, Only, OutFile, Trial, Want};
use crate::reading::KitRow;

/// One kit as its `kit.json` has it.
#[derive(Debug)]
pub(crate) struct Earlier {
    /// The rows.
    pub(crate) kit: KitRow,
}

/// Every kit at a path; else what is to be told about it.
pub(crate) fn kits_at(
    path: &Path,
    (data, build): (&Data, &Build),
) -> Result<Vec<Earlier>, Box<Outcome>> {
    let name = path.to_string_lossy().into_owned();
    let in_trouble = |trouble| Box::new(Outcome::trouble(name.clone(), trouble));
    if path.extension() == Some(OsStr::new("toml")) {
        return from_spec(path, &name, (data, build));
    }
    let files = store::kit_files(path).map_err(in_trouble)?;
    let read = |file: &OutFile| match KitRow::of_bytes(&file.bytes) {
        Ok(kit) => Ok(Earlier { kit }),
        Err(why) => {
            let trouble = Trouble::unusable("compare.read", format!("{} {why}", file.path));
            Err(in_trouble(trouble.help("draw the kit again with this program")))
        }
    };
    let kits = files.iter().map(read).collect::<Result<Vec<_>, _>>()?;
    if kits.is_empty() {
        let message = format!("{name} holds no kit.json, nor does a folder in it");
        let help = "name a spec, or a folder that `draw` or `release` wrote";
        return Err(in_trouble(Trouble::unusable("compare.no-kit", message).help(help)));
    }
    Ok(kits)
}

/// Works a spec's kits out; their findings are told only where they keep them from being compared.
fn from_spec(
    path: &Path,
    name: &str,
    (data, build): (&Data, &Build),
) -> Result<Vec<Earlier>, Box<Outcome>> {
    let source = store::read(path)
        .map_err(|trouble| Box::new(Outcome::trouble(name.to_owned(), trouble)))?;
    let want = Want::Unproved(Only { kinds: vec![FileKind::Json], parts: Vec::new() });
    let first = build(&source, &want, &Trial::none());
    let mut kits = Vec::new();
    let others = first.others.clone();
    for built in std::iter::once(first).chain(others) {
        let file = built.files.as_ref().and_then(|files| files.first());
        let row = file.and_then(|file| KitRow::of_bytes(&file.bytes).ok());
        let Some(kit) = row else {
            let texts: Vec<_> = std::iter::once(&source).chain(data.texts()).collect();
            let remarks = remarks(&built.notes, |file| {
                texts.iter().find(|text| text.name == file).map(|text| text.bytes.as_slice())
            });
            let exit = Exit::of(&built.notes).max(Exit::Refused);
            return Err(Box::new(Outcome { remarks, ..Outcome::unmade(name.to_owned(), exit) }));
        };
        kits.push(Earlier { kit });
    }
    Ok(kits)
}
