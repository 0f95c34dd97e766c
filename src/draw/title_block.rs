//! The title block with the fields of ISO 7200, 180 mm wide, at the lower right of the frame.

use super::canvas::{Canvas, Room, level, room, strong, text_room};
use super::setting::{fitted, shortened};
use super::text::text_width;
use super::{Align, Item, Pen, Sheet, Text};
use crate::geom::Point;
use crate::kit::Revision;

/// Width of the block, mm (ISO 7200).
pub(super) const WIDTH: f64 = 180.0;
/// Height of the block, mm.
pub(super) const HEIGHT: f64 = 46.0;

/// What stands in the block; empty texts leave their field blank.
#[derive(Debug, Clone, Default)]
pub(super) struct TitleBlock {
    /// Legal owner.
    pub(super) owner: String,
    /// Title.
    pub(super) title: String,
    /// Supplementary title.
    pub(super) supplement: String,
    /// Identification number.
    pub(super) number: String,
    /// Revision index.
    pub(super) revision: String,
    /// Date of issue.
    pub(super) date: String,
    /// Creator.
    pub(super) drawn: String,
    /// Approval person.
    pub(super) approved: String,
    /// Document type.
    pub(super) kind: &'static str,
    /// Scale of the main view.
    pub(super) scale: String,
    /// Material.
    pub(super) material: String,
    /// Thickness of the sheet.
    pub(super) thickness: String,
    /// Mass of one part or of the kit.
    pub(super) mass: String,
    /// General tolerance.
    pub(super) tolerance: String,
    /// How surface and edges are to be left.
    pub(super) surface: &'static str,
    /// Third-angle projection instead of first-angle, on ANSI paper.
    pub(super) third_angle: bool,
    /// Lines of the revision table, oldest first.
    pub(super) revisions: Vec<Revision>,
}

/// A field: left, width, label, text, its height, bold.
type Field<'a> = (f64, f64, &'static str, &'a str, f64, bool);

/// Where the block stands on a frame.
pub(super) fn place(frame: &Room) -> Room {
    room(frame.high.x - WIDTH, frame.low.y, WIDTH, HEIGHT)
}

/// Draws the block; the sheet's number is added by `number` once the set is complete.
pub(super) fn title_block(canvas: &mut Canvas, frame: &Room, block: &TitleBlock) {
    let area = place(frame);
    canvas.rectangle(&area, Pen::Outline);
    let b = block;
    let lines = title_lines(&b.title);
    let rows: [(f64, f64, &[Field<'_>]); 4] = [
        (
            29.0,
            17.0,
            &[
                (0.0, 62.0, "Legal owner", &b.owner, 3.5, true),
                (62.0, 90.0, "Title", if lines.len() > 1 { "" } else { &b.title }, 5.0, true),
                (152.0, 28.0, "Document type", b.kind, 2.5, false),
            ],
        ),
        (
            20.5,
            8.5,
            &[
                (0.0, 98.0, "Material", &b.material, 2.5, false),
                (98.0, 58.0, "Thickness", &b.thickness, 2.5, false),
            ],
        ),
        (
            12.0,
            8.5,
            &[
                (0.0, 31.0, "Drawn", &b.drawn, 2.5, false),
                (31.0, 31.0, "Approved", &b.approved, 2.5, false),
                (62.0, 36.0, "Date of issue", &b.date, 2.5, false),
                (98.0, 38.0, "Mass", &b.mass, 2.5, false),
                (136.0, 20.0, "Scale", &b.scale, 2.5, false),
            ],
        ),
        (
            0.0,
            12.0,
            &[
                (0.0, 62.0, "Surface and edges", b.surface, 2.5, false),
                (62.0, 31.0, "General tolerance", &b.tolerance, 2.5, false),
                (93.0, 50.0, "Number", &b.number, 5.0, true),
                (143.0, 13.0, "Rev.", &b.revision, 5.0, true),
                (156.0, 24.0, "Sheet", "", 3.5, false),
            ],
        ),
    ];
    for (y, height, fields) in rows {
        for field in fields {
            draw_field(canvas, &area, (y, height), field);
        }
    }
    if let [upper, lower] = &lines[..] {
        for (y, text) in [(38.9, upper), (35.1, lower)] {
            canvas.text(strong(area.low + Point::new(63.8, y), 2.5, Align::Left, text.as_str()));
        }
    }
    supplement(canvas, &area, &b.supplement);
    projection(canvas, &area, b.third_angle);
}

/// The title on one line, or on two small ones when one would be smaller than 2.5 mm; what two
/// cannot hold is cut.
fn title_lines(title: &str) -> Vec<String> {
    let width = 87.0;
    if text_width(title, 2.5, true) <= width {
        return vec![title.to_owned()];
    }
    let mut words = title.split_whitespace();
    let mut upper = words.next().unwrap_or_default().to_owned();
    let mut rest = words.clone();
    while let Some(word) = words.next() {
        let longer = format!("{upper} {word}");
        if text_width(&longer, 2.5, true) > width {
            break;
        }
        (upper, rest) = (longer, words.clone());
    }
    let lower = rest.collect::<Vec<_>>().join(" ");
    [upper, lower].into_iter().map(|line| shortened(&line, 2.5, true, width)).collect()
}

/// The projection's symbol in a field of its own beside the two middle rows.
fn projection(canvas: &mut Canvas, area: &Room, third_angle: bool) {
    let field = room(area.low.x + 156.0, area.low.y + 12.0, 24.0, 17.0);
    canvas.line(field.low, Point::new(field.low.x, field.high.y), Pen::Fine);
    for y in [field.low.y, field.high.y] {
        canvas.line(Point::new(field.low.x, y), Point::new(field.high.x, y), Pen::Fine);
    }
    projection_symbol(canvas, field.centre(), third_angle);
}

fn draw_field(canvas: &mut Canvas, area: &Room, (y, height): (f64, f64), field: &Field<'_>) {
    let (x, width, label, text, wish, bold) = *field;
    let cell = room(area.low.x + x, area.low.y + y, width, height);
    if y > 0.0 {
        canvas.line(cell.low, Point::new(cell.high.x, cell.low.y), Pen::Fine);
    }
    if x > 0.0 {
        canvas.line(cell.low, Point::new(cell.low.x, cell.high.y), Pen::Fine);
    }
    let label_at = Point::new(cell.low.x + 1.8, cell.high.y - 2.6);
    canvas.text(level(label_at, 1.8, Align::Left, label));
    let (text, size) = fitted(text, wish, bold, width - 3.0);
    let base = if height > 13.0 { 7.0 } else { (height - 3.0 - size) / 2.0 + 0.5 };
    let at = Point::new(cell.low.x + 1.8, cell.low.y + base);
    canvas.text(Text { bold, ..level(at, size, Align::Left, text) });
}

fn supplement(canvas: &mut Canvas, area: &Room, text: &str) {
    let (text, size) = fitted(text, 2.5, false, 87.0);
    canvas.text(level(area.low + Point::new(63.8, 31.0), size, Align::Left, text));
}

/// A truncated cone seen from the side and from its small end (ISO 5456-2).
fn projection_symbol(canvas: &mut Canvas, middle: super::canvas::At, third_angle: bool) {
    let (small, large, half) = (1.5, 3.0, 3.0);
    let (cone, rings) = if third_angle { (4.0, -4.0) } else { (-4.0, 4.0) };
    let at = |x: f64, y: f64| middle + Point::new(x, y);
    let side = [
        at(cone - half, -small),
        at(cone + half, -large),
        at(cone + half, large),
        at(cone - half, small),
        at(cone - half, -small),
    ];
    canvas.run(side.to_vec(), Pen::Narrow);
    canvas.circle(at(rings, 0.0), small, Pen::Narrow);
    canvas.circle(at(rings, 0.0), large, Pen::Narrow);
    canvas.line(at(cone - half - 0.8, 0.0), at(cone + half + 0.8, 0.0), Pen::Centre);
    canvas.line(at(rings - large - 0.8, 0.0), at(rings + large + 0.8, 0.0), Pen::Centre);
    canvas.line(at(rings, -large - 0.8), at(rings, large + 0.8), Pen::Centre);
}

/// Writes `n / m` into the sheet field of every title block of a set.
pub(super) fn number<'a>(sheets: impl Iterator<Item = &'a mut Sheet>, total: usize) {
    for (i, sheet) in sheets.enumerate() {
        let at = Point::new(sheet.width - 10.0 - 22.2, 10.0 + 2.8);
        let (content, size) = fitted(&format!("{} / {total}", i + 1), 3.5, false, 20.8);
        let text = level(at, size, Align::Left, content);
        debug_assert!(text_room(&text).high.x < sheet.width - 10.0, "the field is wide enough");
        sheet.items.push(Item::Text(text));
    }
}
