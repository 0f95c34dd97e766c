//! The codes of findings about reading: those of a spec, and those of the data files.

/// One code for each way in which a value can be unreadable.
#[derive(Debug)]
pub struct Codes {
    /// Not TOML.
    pub syntax: &'static str,
    /// Nothing in the file.
    pub empty: &'static str,
    /// A key with characters that no key has.
    pub bad_key: &'static str,
    /// A key nobody knows.
    pub unknown_key: &'static str,
    /// A key that must be there.
    pub missing_key: &'static str,
    /// A number where a text is meant, and the like.
    pub wrong_type: &'static str,
    /// Not finite, or out of bounds.
    pub number: &'static str,
    /// A quantity that cannot be read.
    pub quantity: &'static str,
    /// A bare number where millimetres and inches could both be meant.
    pub unit_missing: &'static str,
    /// What an empty file should begin with.
    pub start_with: &'static str,
}

/// For specs.
pub static SPEC: Codes = Codes {
    syntax: "spec.syntax",
    empty: "spec.empty",
    bad_key: "spec.bad-key",
    unknown_key: "spec.unknown-key",
    missing_key: "spec.missing-key",
    wrong_type: "spec.wrong-type",
    number: "spec.number",
    quantity: "spec.quantity",
    unit_missing: "spec.unit-missing",
    start_with: "begin with `kit`, `template`, `revision` and `date`",
};

/// For the data files of shop and containers.
pub static SHELF: Codes = Codes {
    syntax: "shelf.syntax",
    empty: "shelf.empty",
    bad_key: "shelf.bad-key",
    unknown_key: "shelf.unknown-key",
    missing_key: "shelf.missing-key",
    wrong_type: "shelf.wrong-type",
    number: "shelf.number",
    quantity: "shelf.quantity",
    unit_missing: "shelf.unit-missing",
    start_with: "begin with `[shop]`, `[[material]]`, `[[fastener]]` or `[[container]]`",
};
