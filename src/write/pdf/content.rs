//! One page's content stream, in paper millimetres.

use super::curve;
use super::font::Embedded;
use crate::draw::{Align, Fill, Item, Pen, Sheet, Text, Typeface, text_width};
use crate::geom::{PaperFrame, Point};
use crate::units::{cos_deg, sin_deg};
use crate::write::number::push_fixed;
use crate::write::outline::{Step, walk};
use crate::write::pen;

/// Decimals of a millimetre on paper.
const DECIMALS: usize = 3;

/// Decimals of a direction's cosine: over 1 m of text still good to 0.01 mm.
const TURN: usize = 5;

/// Points to the millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// The two weights of the typeface, regular first.
pub(super) type Fonts<'a> = [&'a Embedded; 2];

/// Writes the operators that draw a sheet into a buffer in place of what it holds.
pub(super) fn write(out: &mut Vec<u8>, sheet: &Sheet, fonts: Fonts<'_>) {
    let mut page = Page::new(out, fonts);
    let mut items = sheet.items.iter().peekable();
    while let Some(item) = items.next() {
        match item {
            Item::Text(text) => page.text(text),
            Item::Shape { shape, pen, fill } => {
                page.prepare(*pen, *fill);
                walk(shape, |step| page.step(step));
                let more = items.peek().is_some_and(|next| joins(next, *pen, *fill));
                if !more {
                    page.paint(*pen, *fill);
                }
            }
        }
    }
    page.leave_text();
}

/// Whether the next item goes on with the same pen, so that both are one path.
fn joins(next: &Item, pen: Option<Pen>, fill: Fill) -> bool {
    matches!(next, Item::Shape { pen: own, fill: Fill::Empty, .. } if *own == pen)
        && fill == Fill::Empty
}

/// The operators so far and the state that they leave the reader in.
struct Page<'a> {
    out: &'a mut Vec<u8>,
    fonts: Fonts<'a>,
    in_text: bool,
    font: Option<(bool, f64)>,
    pen: Option<Pen>,
    grey: f64,
}

impl<'a> Page<'a> {
    fn new(out: &'a mut Vec<u8>, fonts: Fonts<'a>) -> Self {
        out.clear();
        let mut page = Self { out, fonts, in_text: false, font: None, pen: None, grey: 0.0 };
        page.numbers(&[POINTS, 0.0, 0.0, POINTS, 0.0, 0.0], 9);
        page.put(b"cm\n1 j\n");
        page
    }

    fn put(&mut self, operators: &[u8]) {
        self.out.extend_from_slice(operators);
    }

    fn numbers(&mut self, numbers: &[f64], decimals: usize) {
        for &number in numbers {
            push_fixed(self.out, number, decimals);
            self.out.push(b' ');
        }
    }

    fn point(&mut self, p: Point<PaperFrame>) {
        self.numbers(&[p.x, p.y], DECIMALS);
    }

    fn leave_text(&mut self) {
        if self.in_text {
            self.put(b"ET\n");
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
            self.put(b"g\n");
            self.grey = grey;
        }
    }

    /// A dashed line's marks end square, as the standard measures them; others end round.
    fn set_pen(&mut self, line: Pen) {
        let dashed = pen::is_dashed(line);
        self.numbers(&[pen::width(line)], DECIMALS);
        self.put(if dashed { b"w 0 J [" } else { b"w 1 J [" });
        pen::push_dashes(self.out, line, DECIMALS);
        self.put(if dashed { b" ] 0 d\n" } else { b"] 0 d\n" });
        self.pen = Some(line);
    }

    fn step(&mut self, step: Step) {
        match step {
            Step::Move(to) => {
                self.point(to);
                self.put(b"m\n");
            }
            Step::Line(to) => {
                self.point(to);
                self.put(b"l\n");
            }
            Step::Arc(from, to, bulge) => curve::along(from, to, bulge, |curve| {
                curve.into_iter().for_each(|p| self.point(p));
                self.put(b"c\n");
            }),
            Step::Close => self.put(b"h\n"),
        }
    }

    fn paint(&mut self, pen: Option<Pen>, fill: Fill) {
        self.put(match (pen.is_some(), fill != Fill::Empty) {
            (true, true) => b"B*\n",
            (true, false) => b"S\n",
            (false, true) => b"f*\n",
            (false, false) => b"n\n",
        });
    }

    fn text(&mut self, text: &Text) {
        self.set_grey(0.0);
        if !self.in_text {
            self.put(b"BT\n");
            self.in_text = true;
        }
        let size = Typeface::of(text.bold).size_for(text.height);
        if self.font != Some((text.bold, size)) {
            self.put(if text.bold { b"/F1 " } else { b"/F0 " });
            self.numbers(&[size], DECIMALS);
            self.put(b"Tf\n");
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
        self.numbers(&[along.x, along.y, -along.y, along.x], TURN);
        let mut start = text.at;
        if share != 0.0 {
            start = start - along * (text_width(&text.content, text.height, text.bold) * share);
        }
        self.point(start);
        self.put(b"Tm\n");
    }

    fn show(&mut self, text: &Text) {
        const DIGITS: &[u8; 16] = b"0123456789ABCDEF";
        let font = self.fonts[usize::from(text.bold)];
        self.out.push(b'<');
        for c in text.content.chars() {
            let glyph = font.glyph(c);
            let digits = [12, 8, 4, 0].map(|shift| DIGITS[usize::from(glyph >> shift & 15)]);
            self.put(&digits);
        }
        self.put(b"> Tj\n");
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
