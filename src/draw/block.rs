//! Tables and paragraphs that flow through columns, from one page to the next.

use std::collections::VecDeque;

use super::canvas::{At, Canvas, Room, level, strong};
use super::setting::{fitted, fitting, wrapped};
use super::{Align, Pen};
use crate::geom::Point;

/// Height of tables' and paragraphs' capitals, mm.
pub(super) const TEXT: f64 = 2.5;
/// Height of column headings' capitals, mm.
pub(super) const LABEL: f64 = 1.8;
/// Height of a table's row.
const ROW: f64 = 4.8;
/// Distance between the base lines of a paragraph.
const LEADING: f64 = 4.4;
/// Room for a paragraph's number of one digit, and for each digit more.
const INDENT: f64 = 6.0;
const DIGIT: f64 = 2.2;
/// Room after a paragraph.
const AFTER: f64 = 0.8;
/// Room of a block's heading.
const HEADING: f64 = 5.5;
/// Paragraphs are split only in rooms at least this high.
const SPLIT: f64 = 120.0;
/// Room between two columns of a table.
const BETWEEN: f64 = 1.5;
/// Room between two blocks.
const GAP: f64 = 5.0;

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// What it holds.
    pub heading: &'static str,
    /// Its share of the width.
    pub share: f64,
    /// Where its texts stand.
    pub align: Align,
    /// Whether a long text is broken into lines before it is set smaller.
    pub wraps: bool,
}

/// A column with its texts at the left.
pub const fn column(heading: &'static str, share: f64) -> Column {
    Column { heading, share, align: Align::Left, wraps: false }
}

/// A column of sentences, broken into as many lines as they need.
pub const fn sentences(heading: &'static str, share: f64) -> Column {
    Column { heading, share, align: Align::Left, wraps: true }
}

/// A column of figures, which stand at the right.
pub const fn figures(heading: &'static str, share: f64) -> Column {
    Column { heading, share, align: Align::Right, wraps: false }
}

/// Something that flows: its heading first.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A table: heading, columns, rows.
    Table(&'static str, Vec<Column>, Vec<Vec<String>>),
    /// Paragraphs under a heading, numbered.
    Prose(&'static str, Vec<String>),
}

/// The height a block takes at a width, the gap after it included.
pub(super) fn height(block: &Block, width: f64) -> f64 {
    match block {
        Block::Table(_, columns, rows) => {
            let rows = rows.iter().map(|cells| row_height(columns, cells, width));
            HEADING + ROW + rows.sum::<f64>() + GAP
        }
        Block::Prose(_, items) => prose_height(items, width - indent(items.len())),
    }
}

/// The height of paragraphs of a width, heading and gap included.
fn prose_height(items: &[String], width: f64) -> f64 {
    let lines = |item: &String| wrapped(item, TEXT, width).len() as f64;
    let set = items.iter().map(|item| lines(item) * LEADING + AFTER);
    HEADING + set.sum::<f64>() + GAP
}

/// Where the words of numbered paragraphs begin, up to that number.
fn indent(last: usize) -> f64 {
    INDENT + DIGIT * last.max(1).ilog10() as f64
}

/// Sets the blocks into the columns in order, from the top of each; what found no room comes back.
pub(super) fn flow(canvas: &mut Canvas, blocks: Vec<Block>, columns: &[Room]) -> Vec<Block> {
    flowed(&mut Some(canvas), blocks, columns)
}

/// What would find no room in the columns; nothing is drawn.
pub(super) fn overflow(blocks: Vec<Block>, columns: &[Room]) -> Vec<Block> {
    flowed(&mut None, blocks, columns)
}

/// Where things are set; none to find out what fits.
type Target<'a> = Option<&'a mut Canvas>;

fn flowed(target: &mut Target<'_>, blocks: Vec<Block>, columns: &[Room]) -> Vec<Block> {
    let mut waiting: VecDeque<Piece> = blocks.into_iter().map(Piece::new).collect();
    for room in columns {
        let mut top = room.high.y;
        while let Some(piece) = waiting.pop_front() {
            let space = Room { low: room.low, high: Point::new(room.high.x, top) };
            let (bottom, rest) = piece.set(target, &space);
            if let Some(rest) = rest {
                waiting.push_front(rest);
                break;
            }
            top = bottom - GAP;
        }
    }
    waiting.into_iter().map(|piece| piece.block).collect()
}

/// A block, or what is left of one.
#[derive(Debug, Clone)]
struct Piece {
    block: Block,
    first: usize,
}

impl Piece {
    fn new(block: Block) -> Self {
        let first = match &block {
            Block::Prose(_, _) => 1,
            Block::Table(..) => 0,
        };
        Self { block, first }
    }

    /// Sets what fits; gives the lower end of what was set, and the rest.
    fn set(self, target: &mut Target<'_>, room: &Room) -> (f64, Option<Self>) {
        match self.block {
            Block::Table(title, columns, rows) => set_table(target, room, (title, columns), rows),
            Block::Prose(title, items) => set_prose(target, room, (title, self.first), items),
        }
    }
}

type Head = (&'static str, Vec<Column>);

fn set_table(
    target: &mut Target<'_>,
    room: &Room,
    head: Head,
    mut rows: Vec<Vec<String>>,
) -> (f64, Option<Piece>) {
    let heights: Vec<f64> =
        rows.iter().map(|cells| row_height(&head.1, cells, room.width())).collect();
    let mut left = room.height() - HEADING - ROW;
    let fitting = heights.iter().take_while(|height| {
        left -= **height;
        left > -1e-9
    });
    let mut fits = fitting.count();
    // The last row never stands alone: one more goes with it.
    if fits + 1 == rows.len() && 2 < fits {
        fits -= 1;
    }
    if fits < rows.len().min(2) || rows.is_empty() {
        let rest = Piece { block: Block::Table(head.0, head.1, rows), first: 0 };
        let nothing = matches!(&rest.block, Block::Table(_, _, rows) if rows.is_empty());
        return (room.high.y, (!nothing).then_some(rest));
    }
    let rest = rows.split_off(fits.min(rows.len()));
    if let Some(canvas) = target {
        draw_table(canvas, room, (head.0, &head.1), &rows);
    }
    let y = room.high.y - HEADING - ROW - heights[..rows.len()].iter().sum::<f64>();
    let rest =
        (!rest.is_empty()).then_some(Piece { block: Block::Table(head.0, head.1, rest), first: 0 });
    (y, rest)
}

fn draw_table(
    canvas: &mut Canvas,
    room: &Room,
    (title, columns): (&str, &[Column]),
    rows: &[Vec<String>],
) {
    let mut y = heading(canvas, room, title);
    row(canvas, room, (columns, y), Row::Labels);
    y -= ROW;
    for cells in rows {
        row(canvas, room, (columns, y), Row::Cells(cells));
        y -= row_height(columns, cells, room.width());
    }
}

/// Height of a row: one line, or as many as its longest cell needs.
fn row_height(columns: &[Column], cells: &[String], width: f64) -> f64 {
    let whole: f64 = columns.iter().map(|c| c.share).sum();
    let lines = columns
        .iter()
        .zip(cells)
        .map(|(column, cell)| set(column, cell, width * column.share / whole - BETWEEN).0.len());
    ROW + LEADING * (lines.max().unwrap_or(1).max(1) - 1) as f64
}

/// A cell in lines, and their height. Nothing is cut: what even the smallest height leaves too wide
/// for one line is broken.
fn set(column: &Column, cell: &str, width: f64) -> (Vec<String>, f64) {
    match fitting(cell, TEXT, false, width) {
        Some(height) if !column.wraps => (vec![cell.to_owned()], height),
        _ => (wrapped(cell, TEXT, width), TEXT),
    }
}

enum Row<'a> {
    Labels,
    Cells(&'a [String]),
}

/// One row below `y` with the rule under it.
fn row(canvas: &mut Canvas, room: &Room, place: (&[Column], f64), content: Row<'_>) {
    let (columns, y) = place;
    let whole: f64 = columns.iter().map(|c| c.share).sum();
    let mut x = room.low.x;
    for (i, column) in columns.iter().enumerate() {
        let width = room.width() * column.share / whole;
        let anchor = match column.align {
            Align::Left => x,
            Align::Middle => x + width / 2.0,
            Align::Right => x + width - 2.0 * BETWEEN,
        };
        let (lines, height) = match content {
            Row::Labels => one_line(column.heading, LABEL, width - BETWEEN),
            Row::Cells(cells) => {
                set(column, cells.get(i).map_or("", String::as_str), width - BETWEEN)
            }
        };
        for (line, text) in lines.into_iter().enumerate() {
            let at = Point::new(anchor, y - ROW + 1.25 - line as f64 * LEADING);
            canvas.text(level(at, height, column.align, text));
        }
        x += width;
    }
    let (pen, height) = match content {
        Row::Labels => (Pen::Narrow, ROW),
        Row::Cells(cells) => (Pen::Fine, row_height(columns, cells, room.width())),
    };
    let (left, right) = (room.low.x, room.high.x);
    canvas.line(Point::new(left, y - height), Point::new(right, y - height), pen);
}

/// A text on one line, set smaller or cut to fit.
fn one_line(text: &str, height: f64, width: f64) -> (Vec<String>, f64) {
    let (text, height) = fitted(text, height, false, width);
    (vec![text], height)
}

/// The block's heading at the top of the room; gives the height below it.
fn heading(canvas: &mut Canvas, room: &Room, title: &str) -> f64 {
    let y = room.high.y;
    canvas.text(strong(Point::new(room.low.x, y - TEXT - 0.5), TEXT, Align::Left, title));
    y - HEADING
}

fn set_prose(
    target: &mut Target<'_>,
    room: &Room,
    head: (&'static str, usize),
    items: Vec<String>,
) -> (f64, Option<Piece>) {
    // Paragraphs stay together unless the room is as high as most of a page.
    let indent = indent(head.1 + items.len() - 1);
    let whole = prose_height(&items, room.width() - indent) - GAP;
    if whole > room.height() && room.height() < SPLIT {
        return (room.high.y, Some(Piece { block: Block::Prose(head.0, items), first: head.1 }));
    }
    let mut y = room.high.y - HEADING;
    let mut set = 0;
    for item in &items {
        let lines = wrapped(item, TEXT, room.width() - indent);
        let height = lines.len() as f64 * LEADING;
        if y - height < room.low.y {
            break;
        }
        if let Some(canvas) = target {
            if set == 0 {
                heading(canvas, room, head.0);
            }
            let at = Point::new(room.low.x, y);
            draw_item(canvas, at, (head.1 + set, indent), lines);
        }
        y -= height + AFTER;
        set += 1;
    }
    let rest: Vec<String> = items.into_iter().skip(set).collect();
    let piece = Piece { block: Block::Prose(head.0, rest), first: head.1 + set };
    let empty = matches!(&piece.block, Block::Prose(_, rest) if rest.is_empty());
    (y, (!empty).then_some(piece))
}

/// A numbered paragraph with its upper left corner at a point.
fn draw_item(canvas: &mut Canvas, at: At, (number, indent): (usize, f64), lines: Vec<String>) {
    let first = at.y - TEXT - 0.6;
    canvas.text(level(Point::new(at.x, first), TEXT, Align::Left, format!("{number}.")));
    for (i, line) in lines.into_iter().enumerate() {
        let place = Point::new(at.x + indent, first - i as f64 * LEADING);
        canvas.text(level(place, TEXT, Align::Left, line));
    }
}
