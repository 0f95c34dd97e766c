//! A spec as the user typed it: every value with its place in the text, nothing resolved yet.

mod catalogue;
mod amendment;
mod codes;
mod header;
mod model;
mod nearest;
mod parse;
mod quote;
mod raw;
mod schema;
mod several;
mod table;
mod text;
mod value;

pub use catalogue::{Catalogue, Locus, MOST_VARIANTS, SweepTexts, Variant, holds_variants};
pub use codes::{Codes, SHELF, SPEC};
pub use model::{
    Accept, Amendment, Amendments, Change, ContainerChoice, Given, HoleChoice, HoleSize, QuoteAsk,
    Raw, RevisionLine, Said, SheetChoice, SheetOf, Spec, Survey, SurveyFrom, Thickness, Units,
};
pub use nearest::nearest;
pub use parse::{parse, previous};
pub use schema::{schema, with_several};
pub use several::parse_all;
pub use table::Table;
pub use text::{LARGEST, read_text, read_toml};
pub use value::show_length;
