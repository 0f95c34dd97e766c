//! The preview of a part: its blank and its folded view, quiet and captioned.

use super::Sheet;
use super::blank_view::outline;
use super::canvas::{Canvas, Room, level, room, strong};
use super::figure::Figures;
use super::folded_view::{picture, thickness};
use super::scale::Plot;
use super::setting::fitted;
use super::shop_drawing::{USES_LIST, issued};
use super::{Align, PartViews, Pen};
use crate::flat::Blank;
use crate::geom::{BlankFrame, Bounds, Point};
use crate::kit::{Kit, Part};

/// Width of a preview, mm.
const WIDTH: f64 = 240.0;
/// Free paper around and between.
const PAD: f64 = 8.0;
/// Room for the title lines.
const HEAD: f64 = 16.0;
/// Room for a caption.
const CAPTION: f64 = 7.0;
/// Height of the folded view.
const FOLDED: f64 = 90.0;

/// The preview of the part shown by `views`.
pub fn preview(kit: &Kit, views: &PartViews<'_>, blank: &Blank) -> Sheet {
    let part = views.part();
    let wide = WIDTH - 2.0 * PAD;
    let factor = (wide / blank.width).min(100.0 / blank.height).min(1.0);
    let drawn = blank.height * factor;
    let height = HEAD + drawn + FOLDED + 2.0 * CAPTION + 4.0 * PAD;
    let mut canvas = Canvas::new(WIDTH, height);
    let figures = Figures { inches: kit.inches };
    head(&mut canvas, (kit, part, blank), height, figures);
    let bounds = Bounds::<BlankFrame> {
        low: Point::new(0.0, 0.0),
        high: Point::new(blank.width, blank.height),
    };
    let top = height - PAD - HEAD - PAD;
    let plot = Plot::new(&bounds, factor, Point::new(WIDTH / 2.0, top - drawn / 2.0));
    outline(&mut canvas, blank, &plot);
    for bend in &blank.bends {
        canvas.run(bend.line.map(|p| plot.point(p)).to_vec(), Pen::Narrow);
    }
    let size = format!(
        "Blank {} × {} {}",
        figures.place(blank.width),
        figures.place(blank.height),
        figures.unit()
    );
    note(&mut canvas, top - drawn - 5.0, &size);
    let below = top - drawn - CAPTION - PAD;
    let place: Room = room(PAD, below - FOLDED, wide, FOLDED);
    picture(&mut canvas, views.isometric(), &place);
    note(&mut canvas, below - FOLDED - 5.0, "Folded");
    canvas.finish(format!("{} {}", part.number, part.title))
}

fn head(
    canvas: &mut Canvas,
    (kit, part, blank): (&Kit, &Part, &Blank),
    height: f64,
    figures: Figures,
) {
    let at = Point::new(PAD, height - PAD - 5.0);
    let name = format!("{}  {}", part.number, part.title);
    let (name, size) = fitted(&name, 5.0, true, WIDTH - 2.0 * PAD);
    canvas.text(strong(at, size, Align::Left, name));
    let pieces = match kit.shared {
        true => format!("pieces: {USES_LIST}"),
        false => format!("{} pc", part.places.len()),
    };
    let words = format!(
        "Rev. {}   {pieces}   {}   {}   {} bends   {} holes",
        issued(kit, part).revision,
        part.material.title,
        thickness(part, figures),
        part.bends.len(),
        blank.inner.len()
    );
    let (words, size) = fitted(&words, 3.5, false, WIDTH - 2.0 * PAD);
    canvas.text(level(at - Point::new(0.0, 7.0), size, Align::Left, words));
}

fn note(canvas: &mut Canvas, y: f64, words: &str) {
    canvas.text(level(Point::new(WIDTH / 2.0, y), 2.5, Align::Middle, words));
}
