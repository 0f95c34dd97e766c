//! What a release consists of: the kit's files, copies of everything they were made from, and the
//! manifest.

use std::path::Path;

use super::exit::Trouble;
use super::store::{Data, Origin, Parcel};
use crate::pipeline::{Built, Earlier, OutFile, Source};
use crate::release::{
    Frozen, Head, Input, MANIFEST, Mate, Program, Recorded, SEAL, manifest, seal, sha256,
    stays_inside,
};

/// Folder of the copies of what a release was made from.
pub(crate) const INPUTS: &str = "inputs/";

/// What the kits of one spec were made with.
pub(crate) struct Recipe<'a> {
    /// The spec.
    pub spec: &'a Source,
    /// All data texts that were there.
    pub data: &'a Data,
    /// How many kits were built by chance to try the tolerances.
    pub builds: u32,
    /// The kits of the revision before.
    pub earlier: &'a [Earlier],
    /// The program that the manifest names.
    pub program: &'a Program,
}

/// An input with what is said of it in the manifest.
struct Taken<'a> {
    role: &'static str,
    name: String,
    path: String,
    built_in: bool,
    bytes: &'a [u8],
}

/// The releases of all kits of one spec, which must have been built without errors.
pub(crate) fn parcels(recipe: &Recipe, all: &[Built]) -> Result<Vec<Parcel>, Trouble> {
    let taken = inputs(recipe, all)?;
    let files: Vec<&[OutFile]> =
        all.iter().map(|built| built.files.as_deref().unwrap_or_default()).collect();
    let mates: Vec<Mate> = files.iter().filter_map(|files| mate(files)).collect();
    let parcel = |(built, files): (&Built, &&[OutFile])| {
        let others = mates.iter().filter(|mate| Some(&mate.kit) != built.kit.as_ref());
        let others: Vec<Mate> = others.cloned().collect();
        parcel(recipe, (built, files), &taken, &others)
    };
    let made: Option<Vec<Parcel>> = all.iter().zip(&files).map(parcel).collect();
    made.ok_or_else(|| Trouble::refused("release.no-kit", "a kit was made without its kit.json"))
}

fn mate(files: &[OutFile]) -> Option<Mate> {
    let kit_json = files.iter().find(|file| file.path == "kit.json")?;
    let Head { kit, revision, .. } = Head::read(&kit_json.bytes)?;
    Some(Mate { kit, revision, kit_json_sha256: sha256(&kit_json.bytes) })
}

fn parcel(
    recipe: &Recipe,
    (built, files): (&Built, &[OutFile]),
    taken: &[Taken],
    mates: &[Mate],
) -> Option<Parcel> {
    let named: Vec<(&str, &[u8])> =
        files.iter().map(|file| (file.path.as_str(), file.bytes.as_slice())).collect();
    let inputs: Vec<Input> = taken.iter().map(Taken::recorded).collect();
    let manifest = manifest(&Frozen {
        files: &named,
        inputs: &inputs,
        findings: built.notes.all(),
        program: recipe.program,
        builds: recipe.builds,
        mates,
    })?;
    let recorded = Recorded::read(&manifest).ok()?;
    let copies =
        taken.iter().map(|input| OutFile { path: input.path.clone(), bytes: input.bytes.to_vec() });
    let mut files: Vec<OutFile> = files.iter().cloned().chain(copies).collect();
    let list = seal(&manifest, &recorded.files);
    files.push(OutFile { path: MANIFEST.to_owned(), bytes: manifest });
    files.push(OutFile { path: SEAL.to_owned(), bytes: list });
    Some(Parcel { kit: recorded.kit, revision: recorded.revision, files })
}

impl Taken<'_> {
    fn recorded(&self) -> Input<'_> {
        let Self { role, name, path, built_in, bytes } = self;
        Input { role, name, built_in: *built_in, path, bytes }
    }
}

/// The spec and the data texts that any of the kits was made from.
fn inputs<'a>(recipe: &Recipe<'a>, all: &[Built]) -> Result<Vec<Taken<'a>>, Trouble> {
    let Recipe { spec, data, .. } = recipe;
    let spec = Taken {
        role: "spec",
        name: base_name(&spec.name),
        path: format!("{INPUTS}spec.toml"),
        built_in: false,
        bytes: &spec.bytes,
    };
    let mut taken = vec![spec];
    let sets = [
        ("template", &data.families, "templates"),
        ("container", &data.containers, "templates/containers"),
        ("shop", &data.shop, "templates/shop"),
    ];
    for ((role, sources, folder), origin) in sets.into_iter().zip(&data.origins) {
        let used = |source: &&Source| all.iter().any(|built| built.used.contains(&source.name));
        for source in sources.iter().filter(used) {
            let name = base_name(&source.name);
            let path = format!("{INPUTS}{folder}/{name}");
            let built_in = *origin == Origin::BuiltIn;
            taken.push(Taken { role, name, path, built_in, bytes: &source.bytes });
        }
    }
    let followed =
        |it: &&Earlier| all.iter().any(|built| built.kit.as_deref() == Some(it.kit.number()));
    taken.extend(recipe.earlier.iter().filter(followed).map(|it| Taken {
        role: "previous",
        name: format!("{}.json", it.kit.number()),
        path: format!("{INPUTS}previous/{}.json", it.kit.number()),
        built_in: false,
        bytes: &it.bytes,
    }));
    match taken.iter().find(|input| !stays_inside(&input.path) || input.path.contains('\u{fffd}')) {
        None => Ok(taken),
        Some(strange) => {
            let message = format!("the file name {:?} cannot be kept in a release", strange.name);
            Err(Trouble::unusable("release.file-name", message)
                .help("give the file a name of letters, digits, hyphens and points"))
        }
    }
}

/// A file's name without its folders.
fn base_name(path: &str) -> String {
    let name = Path::new(path).file_name().unwrap_or_default();
    name.to_string_lossy().into_owned()
}
