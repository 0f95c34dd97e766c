//! The brake sheet of a part: a picture of every stroke with its stop, and the table of what the
//! operator sets.

mod stroke;
mod table;

use stroke::Strokes;

use super::Sheet;
use super::block::{Block, flow, height};
use super::canvas::{Room, room};
use super::figure::Figures;
use super::folded_view::thickness;
use super::leaf::{PAD, Place, common, leaf, place};
use super::shop_drawing::supplement;
use super::title_block::{TitleBlock, number};
use crate::brake::{Outcome, Plan, Step};
use crate::geom::Point;
use crate::kit::{Kit, Part};

/// Most strokes on one page.
const MOST: usize = 12;

/// The brake sheets of all parts that are bent, numbered as one set. `outcomes` stand in the order
/// of the kit's parts; none where no plan was looked for.
pub fn brake_sheets(kit: &Kit, outcomes: &[Option<Outcome>]) -> Vec<Sheet> {
    let parts = kit.parts.iter().zip(outcomes);
    let planned = parts.filter_map(|(part, outcome)| Some((part, outcome.as_ref()?.plan()?)));
    let mut sheets: Vec<Sheet> =
        planned.flat_map(|(part, plan)| part_sheets(kit, part, plan)).collect();
    let total = sheets.len();
    number(sheets.iter_mut(), total);
    sheets
}

/// One page, or more where there are many strokes.
fn part_sheets(kit: &Kit, part: &Part, plan: &Plan) -> Vec<Sheet> {
    plan.steps.chunks(MOST).map(|steps| page(kit, (part, plan), steps)).collect()
}

fn page(kit: &Kit, (part, plan): (&Part, &Plan), steps: &[Step]) -> Sheet {
    let figures = Figures { inches: kit.inches };
    let block = fields(kit, part, figures);
    let texts = vec![table::table(part, steps, figures), table::notes(plan)];
    let (pictures, lower) = share(&place(kit, None), &texts);
    let strokes = Strokes::new((part, steps), figures, &pictures);
    let mut page = leaf(kit, &block, None);
    strokes.draw(&mut page.canvas);
    flow(&mut page.canvas, texts, &[lower]);
    page.finish(format!("{} {}, brake sheet", part.number, part.title))
}

/// The room of the pictures, and of the texts beside the title block under it.
fn share(place: &Place, texts: &[Block]) -> (Room, Room) {
    let inner = place.inner;
    let beside = place.left(inner.high.y);
    let wanted: f64 = texts.iter().map(|text| height(text, beside.width())).sum();
    let top = place.above().low.y.max(inner.low.y + wanted + PAD);
    let pictures = Room { low: Point::new(inner.low.x, top), high: inner.high };
    (pictures, room(beside.low.x, inner.low.y, beside.width(), top - PAD - inner.low.y))
}

fn fields(kit: &Kit, part: &Part, figures: Figures) -> TitleBlock {
    TitleBlock {
        title: part.title.clone(),
        supplement: supplement(kit, part),
        number: part.number.clone(),
        kind: "Brake sheet",
        material: part.material.title.clone(),
        thickness: thickness(part, figures),
        scale: "–".to_owned(),
        ..common(kit)
    }
}
