//! One page's content stream, in paper millimetres.

use super::curve;
use super::font::Embedded;
use crate::draw::{Align, Fill, Item, Pen, Sheet, Text, Typeface, text_width};
use crate::geom::{PaperFrame, Point};
use crate::units::{cos_deg, sin_deg};
use crate::write::number::push_fixed;
use crate::write::outline::{Step, steps};
use crate::write::pen;

/// Decimals of a millimetre on paper.
const DECIMALS: usize = 3;

/// Decimals of a direction's cosine: over 1 m of text still good to 0.01 mm.
const TURN: usize = 5;

/// Points to the millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// The two weights of the typeface, regular first.
pub(super) type Fonts<'a> = [&'a Embedded; 2];

/// The stream of operators that draws a sheet.
pub(super) fn content(sheet: &Sheet, fonts: Fonts<'_>) -> String {
    let mut page = Page::new(fonts);
    let mut items = sheet.items.iter().peekable();
    while let Some(item) = items.next() {
        match item {
            Item::Text(text) => page.text(text),
            Item::Shape { shape, pen, fill } => {
                page.prepare(*pen, *fill);
                page.outline(&steps(shape));
                let more = items.peek().is_some_and(|next| joins(next, *pen, *fill));
                if !more {
                    page.paint(*pen, *fill);
                }
            }
        }
    }
    page.finished()
}

/// Whether the next item goes on with the same pen, so that both are one path.
fn joins(next: &Item, pen: Option<Pen>, fill: Fill) -> bool {
    matches!(next, Item::Shape { pen: own, fill: Fill::Empty, .. } if *own == pen)
        && fill == Fill::Empty
}

/// The operators so far and the state that they leave the reader in.
struct Page<'a> {
    out: String,
    fonts: Fonts<'a>,
    in_text: bool,
    font: Option<(bool, f64)>,
    pen: Option<Pen>,
    grey: f64,
}

impl<'a> Page<'a> {
    fn new(fonts: Fonts<'a>) -> Self {
        let mut out = String::with_capacity(64 * 1024);
        push_fixed(&mut out, POINTS, 9);
        out.push_str(" 0 0 ");
        push_fixed(&mut out, POINTS, 9);
        out.push_str(" 0 0 cm\n1 j\n");
        Self { out, fonts, in_text: false, font: None, pen: None, grey: 0.0 }
    }

    fn finished(mut self) -> String {
        self.leave_text();
        self.out
    }

    fn numbers(&mut self, numbers: &[f64], decimals: usize) {
        for &number in numbers {
            push_fixed(&mut self.out, number, decimals);
            self.out.push(' ');
        }
    }

    fn point(&mut self, p: Point<PaperFrame>) {
        self.numbers(&[p.x, p.y], DECIMALS);
    }

    fn leave_text(&mut self) {
        if self.in_text {
            self.out.push_str("ET\n");
            self.in_text = false;
        }
    }

    /// Sets pen and fill where they differ from those before.
    fn prepare(&mut self, pen: Option<Pen>, fill: Fill) {
        self.leave_text();
        if let Some(grey) = grey(fill) {
            self.set_grey(grey);
        }
        if let Some(pen) = pen
            && self.pen != Some(pen)
        {
            self.set_pen(pen);
        }
    }

    fn set_grey(&mut self, grey: f64) {
        if self.grey != grey {
            self.numbers(&[grey], DECIMALS);
            self.out.push_str("g\n");
            self.grey = grey;
        }
    }

    /// A dashed line's marks end square, as the standard measures them; others end round.
    fn set_pen(&mut self, line: Pen) {
        let dashes = pen::dashes(line);
        self.numbers(&[pen::width(line)], DECIMALS);
        self.out.push_str(if dashes.is_empty() { "w 1 J [" } else { "w 0 J [" });
        self.numbers(&dashes, DECIMALS);
        self.out.push_str("] 0 d\n");
        self.pen = Some(line);
    }

    fn outline(&mut self, steps: &[Step]) {
        let mut here = Point::new(0.0, 0.0);
        for step in steps {
            match *step {
                Step::Move(to) => {
                    self.point(to);
                    self.out.push_str("m\n");
                    here = to;
                }
                Step::Line(to) => {
                    self.point(to);
                    self.out.push_str("l\n");
                    here = to;
                }
                Step::Arc(to, bulge) => {
                    self.arc(here, to, bulge);
                    here = to;
                }
                Step::Close => self.out.push_str("h\n"),
            }
        }
    }

    fn arc(&mut self, from: Point<PaperFrame>, to: Point<PaperFrame>, bulge: f64) {
        for curve in curve::curves(from, to, bulge) {
            curve.into_iter().for_each(|p| self.point(p));
            self.out.push_str("c\n");
        }
    }

    fn paint(&mut self, pen: Option<Pen>, fill: Fill) {
        self.out.push_str(match (pen.is_some(), fill != Fill::Empty) {
            (true, true) => "B*\n",
            (true, false) => "S\n",
            (false, true) => "f*\n",
            (false, false) => "n\n",
        });
    }

    fn text(&mut self, text: &Text) {
        self.set_grey(0.0);
        if !self.in_text {
            self.out.push_str("BT\n");
            self.in_text = true;
        }
        let size = Typeface::of(text.bold).size_for(text.height);
        if self.font != Some((text.bold, size)) {
            self.out.push_str(if text.bold { "/F1 " } else { "/F0 " });
            self.numbers(&[size], DECIMALS);
            self.out.push_str("Tf\n");
            self.font = Some((text.bold, size));
        }
        self.place(text);
        self.show(text);
    }

    fn place(&mut self, text: &Text) {
        let share = match text.align {
            Align::Left => 0.0,
            Align::Middle => 0.5,
            Align::Right => 1.0,
        };
        let along: Point<PaperFrame> = Point::new(cos_deg(text.direction), sin_deg(text.direction));
        let back = text_width(&text.content, text.height, text.bold) * share;
        self.numbers(&[along.x, along.y, -along.y, along.x], TURN);
        self.point(text.at - along * back);
        self.out.push_str("Tm\n");
    }

    fn show(&mut self, text: &Text) {
        const DIGITS: [char; 16] =
            ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'A', 'B', 'C', 'D', 'E', 'F'];
        let font = self.fonts[usize::from(text.bold)];
        self.out.push('<');
        for c in text.content.chars() {
            let glyph = font.glyph(c);
            let digits = [12, 8, 4, 0].map(|shift| DIGITS[usize::from(glyph >> shift & 15)]);
            self.out.extend(digits);
        }
        self.out.push_str("> Tj\n");
    }
}

/// The grey of a fill, 0 black to 1 white; none when nothing is filled.
fn grey(fill: Fill) -> Option<f64> {
    match fill {
        Fill::Empty => None,
        Fill::Paper => Some(1.0),
        Fill::Ink => Some(0.0),
        Fill::Tint(percent) => Some(pen::whiteness(percent)),
    }
}
