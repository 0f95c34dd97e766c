//! Pictures as text, for terminals: dots of a raster, two by four to a character.

use super::{Pen, Picture};
use crate::geom::{Point, ViewFrame};

/// Dots to a character: across, down.
const CELL: [usize; 2] = [2, 4];
/// Bits of a character's dots by row and column, as Unicode numbers the patterns of braille.
const BITS: [[u32; 2]; 4] = [[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]];
/// The first of those patterns: no dot.
const EMPTY: u32 = 0x2800;

/// The picture's wide and narrow lines in at most so many columns and rows of characters; fine
/// lines and tints are left out. Nothing for an empty picture.
pub fn dots(picture: &Picture, [columns, rows]: [usize; 2]) -> Vec<String> {
    let (width, height) = (picture.bounds.width(), picture.bounds.height());
    if picture.strokes.is_empty() || width.max(height) <= 0.0 {
        return Vec::new();
    }
    let most = [(columns * CELL[0] - 1) as f64, (rows * CELL[1] - 1) as f64];
    let across = if width > 0.0 { most[0] / width } else { f64::INFINITY };
    let up = if height > 0.0 { most[1] / height } else { f64::INFINITY };
    let factor = across.min(up);
    let mut raster = Raster::new(
        (width * factor) as usize / CELL[0] + 1,
        (height * factor) as usize / CELL[1] + 1,
    );
    let corner: Point<ViewFrame> = Point::new(picture.bounds.low.x, picture.bounds.high.y);
    let place = |p: Point<ViewFrame>| ((p.x - corner.x) * factor, (corner.y - p.y) * factor);
    for stroke in picture.strokes.iter().filter(|stroke| stroke.pen != Pen::Fine) {
        for pair in stroke.line.windows(2) {
            raster.line(place(pair[0]), place(pair[1]));
        }
    }
    raster.text()
}

/// Rows of characters in the making.
struct Raster {
    columns: usize,
    cells: Vec<u32>,
}

impl Raster {
    fn new(columns: usize, rows: usize) -> Self {
        Self { columns, cells: vec![EMPTY; columns * rows] }
    }

    /// Sets every dot that the line comes nearest to.
    fn line(&mut self, a: (f64, f64), b: (f64, f64)) {
        let steps = (b.0 - a.0).abs().max((b.1 - a.1).abs()).ceil().max(1.0);
        for step in 0..=steps as usize {
            let share = step as f64 / steps;
            self.dot(a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share);
        }
    }

    fn dot(&mut self, x: f64, y: f64) {
        let (x, y) = (x.round().max(0.0) as usize, y.round().max(0.0) as usize);
        let (column, row) = (x / CELL[0], y / CELL[1]);
        if let Some(cell) = self.cells.get_mut(row * self.columns + column) {
            *cell |= BITS[y % CELL[1]][x % CELL[0]];
        }
    }

    fn text(&self) -> Vec<String> {
        let rows = self.cells.chunks(self.columns);
        let letter =
            |cell: &u32| if *cell == EMPTY { ' ' } else { char::from_u32(*cell).unwrap_or(' ') };
        rows.map(|row| row.iter().map(letter).collect::<String>().trim_end().to_owned()).collect()
    }
}
