//! Kit families as data: what a template file says, with every formula compiled and every place
//! kept, so that a mistake is reported where it stands.

mod formula;
mod joint;
mod keep_out;
mod lengths;
mod model;
mod parse;
mod part;
mod screen;
mod value;
mod work;

pub use formula::{Formula, Scope};
pub(crate) use formula::{IN_INCHES, render};
pub use joint::{Joint, Member, SideWord, Through};
pub use keep_out::{HollowItem, KeepOutItem};
pub use lengths::{LengthsItem, PieceItem};
pub use model::{
    EndsRule, Gravity, Head, OpeningRule, Parameter, ParameterKind, Requirement, SheetGroup,
    StepItem, Template, Text, Thickness,
};
pub use parse::parse;
pub use part::{
    Anchor, Corner, Direction, EndCut, EveryFlat, Flange, Flats, Follow, Grid, Hands, HoleItem,
    Holes, Leg, MarkItem, Notch, PartItem, PlaceItem, Plate, Pockets, Profile, Repeat, Row, Sized,
};
pub use screen::{LoadItem, ScreenItem, ScreenKind};
pub use value::Value;
pub use work::{FoamItem, KeySizeItem, MeasureItem, SupplyItem};
