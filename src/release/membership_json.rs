//! The key `catalogue` of a `kit.json`: which catalogue a kit belongs to, and what its parts are
//! called there and when the kit is drawn alone.

use serde::de::IgnoredAny;
use serde::{Deserialize, Serialize};

use crate::kit::Kit;

/// A kit's place in a catalogue.
#[derive(Debug, Clone, Copy)]
pub struct Membership<'a> {
    /// The catalogue's number.
    pub catalogue: &'a str,
    /// The spec that the kit's variant amounts to.
    pub spec: &'a str,
    /// The number of each part when the kit is drawn alone, in the order of the kit's parts.
    pub in_kit: &'a [String],
}

/// Where the folder `parts` with the files of shared parts stands, from the kit's own folder.
pub const CATALOGUE_FOLDER: &str = "../..";

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
        folder: CATALOGUE_FOLDER,
        spec: membership.spec,
        parts: parts.collect(),
    }
}

/// What the `kit.json` of a catalogue's kit is asked for.
#[derive(Deserialize)]
struct Files {
    files: Vec<String>,
    #[serde(rename = "catalogue")]
    _catalogue: IgnoredAny,
}

/// The files that the `kit.json` of a catalogue's kit names; none of a kit that was drawn alone.
pub fn files_of_member(kit_json: &[u8]) -> Vec<String> {
    serde_json::from_slice::<Files>(kit_json).map_or_else(|_| Vec::new(), |said| said.files)
}
