//! A small sheet with one of everything, for the tests of the page writers.

use blankwright::draw::{Align, Fill, Item, Pen, Shape, Sheet, Text};
use blankwright::geom::{PaperFrame, Path, Point, Vertex};

pub(crate) fn point(x: f64, y: f64) -> Point<PaperFrame> {
    Point::new(x, y)
}

pub(crate) fn stroke(shape: Shape, pen: Pen) -> Item {
    Item::Shape { shape, pen: Some(pen), fill: Fill::Empty }
}

pub(crate) fn line(from: (f64, f64), to: (f64, f64), pen: Pen) -> Item {
    stroke(Shape::Line(vec![point(from.0, from.1), point(to.0, to.1)]), pen)
}

pub(crate) fn text(x: f64, y: f64, content: &str) -> Text {
    Text {
        at: point(x, y),
        height: 3.5,
        align: Align::Left,
        direction: 0.0,
        bold: false,
        content: content.to_owned(),
    }
}

/// A path of corners given as (x, y, bulge).
pub(crate) fn path(corners: &[(f64, f64, f64)]) -> Path<PaperFrame> {
    let vertex = |&(x, y, bulge): &(f64, f64, f64)| Vertex { at: point(x, y), bulge };
    Path { vertices: corners.iter().map(vertex).collect() }
}

/// An obround with a square hole, every pen, an arc, a circle and four texts.
pub(crate) fn sheet() -> Sheet {
    let obround =
        path(&[(20.0, 60.0, 0.0), (60.0, 60.0, 1.0), (60.0, 80.0, 0.0), (20.0, 80.0, 1.0)]);
    let square =
        path(&[(35.0, 65.0, 0.0), (35.0, 75.0, 0.0), (45.0, 75.0, 0.0), (45.0, 65.0, 0.0)]);
    let arrow = path(&[(70.0, 70.0, 0.0), (76.0, 71.0, 0.0), (76.0, 69.0, 0.0)]);
    let filled = |paths, fill| Item::Shape { shape: Shape::Closed(paths), pen: None, fill };
    let mut items = vec![
        filled(vec![obround.clone(), square.clone()], Fill::Tint(12)),
        stroke(Shape::Closed(vec![obround]), Pen::Outline),
        stroke(Shape::Closed(vec![square]), Pen::Outline),
        filled(vec![arrow], Fill::Ink),
        stroke(Shape::Arc(point(85.0, 70.0), 8.0, 300.0, 200.0), Pen::Narrow),
        stroke(Shape::Circle(point(85.0, 70.0), 3.0), Pen::Fine),
    ];
    let pens =
        [Pen::Frame, Pen::Outline, Pen::Narrow, Pen::Hidden, Pen::Centre, Pen::Adjacent, Pen::Fine];
    for (i, pen) in pens.into_iter().enumerate() {
        let y = 50.0 - 5.0 * i as f64;
        items.push(line((10.0, y), (90.0, y), pen));
    }
    let texts = [
        text(10.0, 8.0, "12 \u{d7} \u{2300}4.9 <&> \"\u{b1}0.2\""),
        Text { align: Align::Right, bold: true, ..text(90.0, 8.0, "UP 90\u{b0} R2") },
        Text { align: Align::Middle, direction: 90.0, ..text(6.0, 50.0, "108-1/4  in") },
        Text { direction: 30.0, height: 2.5, ..text(62.0, 84.0, "turned \u{2032}\u{2033}\u{bd}") },
    ];
    items.extend(texts.into_iter().map(Item::Text));
    Sheet { width: 100.0, height: 100.0, title: "Pens & texts".to_owned(), items }
}
