//! The table of an outline's corners, for outlines too rich to dimension.

use super::super::Align;
use super::super::block::{Block, Column, column, figures as figure_column};
use super::super::figure::Figures;
use crate::flat::Blank;
use crate::geom::{BlankFrame, Point};

/// Corners side by side in one line of the table.
const ABREAST: usize = 3;

/// The corners counter-clockwise, starting nearest the datum.
pub(super) fn table(blank: &Blank, figures: Figures) -> Block {
    let corner = Column { align: Align::Middle, ..column("Corner", 16.0) };
    let one = [corner, figure_column("X", 20.0), figure_column("Y", 20.0)];
    let columns = (0..ABREAST).flat_map(|_| one.clone()).collect();
    let cells: Vec<[String; 3]> = ordered(blank)
        .into_iter()
        .enumerate()
        .map(|(i, p)| [(i + 1).to_string(), figures.place(p.x), figures.place(p.y)])
        .collect();
    let rows = cells.chunks(ABREAST).map(|row| row.iter().flatten().cloned().collect()).collect();
    Block::Table("Corners of the outline, counter-clockwise", columns, rows)
}

fn ordered(blank: &Blank) -> Vec<Point<BlankFrame>> {
    let mut points: Vec<Point<BlankFrame>> = blank.outer.vertices.iter().map(|v| v.at).collect();
    let near = |p: &Point<BlankFrame>| p.x + p.y;
    let first = (0..points.len()).min_by(|&a, &b| near(&points[a]).total_cmp(&near(&points[b])));
    points.rotate_left(first.unwrap_or(0));
    points
}
