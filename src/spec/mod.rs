//! A spec as the user typed it: every value with its place in the text, nothing resolved yet.

mod model;

pub use model::{
    Accept, Amendment, ContainerChoice, Given, Raw, RevisionLine, Said, SheetChoice, SheetOf, Spec,
    Survey, SurveyFrom, Thickness, Units,
};
