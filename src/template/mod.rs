//! Kit families as data: what a template file says, with every formula compiled and every place
//! kept, so that a mistake is reported where it stands.

mod formula;
mod model;
mod parse;
mod value;

pub use formula::{Formula, Scope};
pub(crate) use formula::{IN_INCHES, render};
pub use model::{
    Anchor, Corner, Direction, EndCut, Flange, Flats, Follow, Gravity, Grid, Hands, Head, HoleItem,
    Holes, Joint, KeepOutItem, Leg, MarkItem, Member, Notch, OpeningRule, Parameter, ParameterKind,
    PartItem, PlaceItem, Plate, Pockets, Profile, Requirement, Row, SheetGroup, Sized, Template,
    Text, Thickness,
};
pub use parse::parse;
pub use value::Value;
