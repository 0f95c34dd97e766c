//! The key `catalogue` of a `kit.json`: which catalogue a kit belongs to, and what its parts are
//! called there and when the kit is drawn alone.

use serde::{Deserialize, Serialize};

use crate::kit::Kit;

/// A kit's place in a catalogue.
#[derive(Debug, Clone, Copy)]
pub struct Membership<'a> {
    /// The catalogue's number.
    pub catalogue: &'a str,
    /// Whether the kit's own folder holds the files of its parts, so that it can be passed on.
    pub apart: bool,
    /// The spec that the kit's variant amounts to.
    pub spec: &'a str,
    /// The number of each part when the kit is drawn alone, in the order of the kit's parts.
    pub in_kit: &'a [String],
}

impl Membership<'_> {
    /// From the kit's folder to the one in which `parts` stands, where that is another.
    pub fn parts_folder(&self) -> Option<&'static str> {
        (!self.apart).then_some(CATALOGUE_FOLDER)
    }
}

/// Where the folder `parts` with the files of shared parts stands, from the kit's own folder.
pub const CATALOGUE_FOLDER: &str = "../..";

/// The kit's own folder, from itself.
const OWN_FOLDER: &str = ".";

#[derive(Serialize)]
pub(super) struct MembershipJson<'a> {
    number: &'a str,
    folder: &'static str,
    spec: &'a str,
    parts: Vec<NumbersJson<'a>>,
}

#[derive(Serialize)]
struct NumbersJson<'a> {
    number: &'a str,
    number_in_kit: &'a str,
}

pub(super) fn membership_json<'a>(membership: &Membership<'a>, kit: &'a Kit) -> MembershipJson<'a> {
    let parts = kit.parts.iter().zip(membership.in_kit);
    let parts =
        parts.map(|(part, in_kit)| NumbersJson { number: &part.number, number_in_kit: in_kit });
    MembershipJson {
        number: membership.catalogue,
        folder: membership.parts_folder().unwrap_or(OWN_FOLDER),
        spec: membership.spec,
        parts: parts.collect(),
    }
}

/// What the `kit.json` of a catalogue's kit is asked for.
#[derive(Deserialize)]
struct Files {
    files: Vec<String>,
    catalogue: Place,
}

/// Where the files of a kit's parts stand.
#[derive(Deserialize)]
struct Place {
    folder: String,
}

/// The files that the `kit.json` of a catalogue's kit names; none of a kit whose parts have their
/// files in its own folder.
pub fn files_of_member(kit_json: &[u8]) -> Vec<String> {
    let said = serde_json::from_slice::<Files>(kit_json).ok();
    let said = said.filter(|said| said.catalogue.folder == CATALOGUE_FOLDER);
    said.map_or_else(Vec::new, |said| said.files)
}

/// What the `kit.json` of a catalogue's kit says of its parts.
#[derive(Deserialize)]
struct Parts {
    parts: Vec<Quantity>,
    catalogue: Numbers,
}

#[derive(Deserialize)]
struct Quantity {
    quantity: usize,
}

#[derive(Deserialize)]
struct Numbers {
    parts: Vec<Both>,
}

#[derive(Deserialize)]
struct Both {
    number: String,
    number_in_kit: String,
}

/// The lines about a kit that a catalogue's list of uses must have, from its `kit.json`; none of a
/// file that is no such kit's.
pub fn lines_of_uses(kit: &str, kit_json: &[u8]) -> Vec<String> {
    let Ok(said) = serde_json::from_slice::<Parts>(kit_json) else { return Vec::new() };
    let rows = said.parts.iter().zip(&said.catalogue.parts);
    let line = |(part, both): (&Quantity, &Both)| {
        format!("{kit},{},{},{}", both.number, both.number_in_kit, part.quantity)
    };
    rows.map(line).collect()
}
