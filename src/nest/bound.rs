//! How few sheets there could be: arguments that hold for every layout.

use super::core::Core;
use super::ring::{Contours, Point, contours, edges, minus, point, twice_area, union};
use super::strip::strips;
use super::{Bounds, Rect, Shape, Stock};

/// Bounds for so many of every item.
pub(crate) fn bounds(core: &Core, needed: &[u32], program: f64) -> Bounds {
    let areas = core.job.items.iter().map(|item| grown(&item.shape, core.job.gap / 2));
    let area: f64 = areas.zip(needed).map(|(area, n)| area * f64::from(*n)).sum();
    let by_area = |price: &dyn Fn(&Stock) -> f64| covered(core, area, price);
    let by_strips = |price: &dyn Fn(&Stock) -> f64| strips(core, needed, price);
    let (one, cost) = (|_: &Stock| 1.0, |stock: &Stock| stock.cost);
    let cost = by_area(&cost).max(by_strips(&cost));
    Bounds { area: by_area(&one), strips: by_strips(&one), program, cost }
}

/// The least price of sheets, in fractions, whose area covers so much: those that are cheap for
/// their area first, no more than there are.
fn covered(core: &Core, area: f64, price: &dyn Fn(&Stock) -> f64) -> f64 {
    let all = core.job.stock.iter().enumerate();
    let mut sheets: Vec<(f64, f64, Option<u32>)> =
        all.map(|(at, stock)| (price(stock), room(core, at), stock.count)).collect();
    sheets.retain(|(_, room, _)| 0.0 < *room);
    sheets.sort_by(|a, b| (a.0 / a.1).total_cmp(&(b.0 / b.1)));
    let (mut rest, mut sum) = (area, 0.0);
    for (price, room, count) in sheets {
        let sheets = (rest / room).min(count.map_or(f64::INFINITY, f64::from));
        sum += sheets * price;
        rest -= sheets * room;
    }
    sum
}

/// Area in which parts lie that are grown by half the gap: the sheet within its margins grown
/// likewise, less what is blocked. Square hundredths.
fn room(core: &Core, stock: usize) -> f64 {
    let room = core.room(stock);
    let [wide, high] = room.size().map(|side| side as f64);
    let by = core.job.gap as f64 / 2.0;
    let whole = wide * high + 2.0 * by * (wide + high) + std::f64::consts::PI * by * by;
    let clip = |rect: &Rect| Rect {
        low: [0, 1].map(|k| rect.low[k].clamp(room.low[k], room.high[k])),
        high: [0, 1].map(|k| rect.high[k].clamp(room.low[k], room.high[k])),
    };
    let blocked = core.job.stock[stock].blocked.iter().map(clip);
    let blocked = blocked.filter(|rect| rect.size().iter().all(|side| 0 < *side));
    let ring = |Rect { low, high }: Rect| {
        [low, [high[0], low[1]], high, [low[0], high[1]]].map(point).to_vec()
    };
    whole - area(&blocked.map(ring).collect())
}

/// Area of a shape grown by so much, square hundredths, never too large: corners are rounded by
/// chords, and a unit is left off for the rounding of points.
fn grown(shape: &Shape, by: i64) -> f64 {
    let mut pieces = contours(shape);
    let by = (by - 1) as f64;
    if by <= 0.0 {
        return area(&pieces);
    }
    for ring in std::iter::once(&shape.outer).chain(&shape.holes) {
        let ends = ring.iter().cycle().skip(2);
        for ((from, to), next) in edges(ring).zip(ends) {
            side([from, to, *next], by, &mut pieces);
        }
    }
    area(&pieces)
}

/// The strip along the edge between the first two corners, and the fan about the second where it
/// points outwards.
fn side([from, to, next]: [[i64; 2]; 3], by: f64, pieces: &mut Contours) {
    let (u, v) = (normal(from, to), normal(to, next));
    let out = |p: [i64; 2], n: [f64; 2]| point([0, 1].map(|k| p[k] + (n[k] * by).round() as i64));
    pieces.push(wound(vec![point(from), out(from, u), out(to, u), point(to)]));
    if 0.0 < u[0] * v[1] - u[1] * v[0] {
        let rim = std::iter::once(u).chain(between(u, v, 4)).chain([v]);
        let fan = std::iter::once(point(to)).chain(rim.map(|n| out(to, n)));
        pieces.push(wound(fan.collect()));
    }
}

/// The outward normal of an edge, of length 1.
fn normal(from: [i64; 2], to: [i64; 2]) -> [f64; 2] {
    let [x, y] = minus(to, from).map(|c| c as f64);
    let length = (x * x + y * y).sqrt().max(1.0);
    [y / length, -x / length]
}

/// Directions between two, by halving.
fn between(u: [f64; 2], v: [f64; 2], depth: u32) -> Vec<[f64; 2]> {
    let (x, y) = (u[0] + v[0], u[1] + v[1]);
    let length = (x * x + y * y).sqrt();
    if depth == 0 || length < 1e-6 {
        return Vec::new();
    }
    let middle = [x / length, y / length];
    let mut all = between(u, middle, depth - 1);
    all.push(middle);
    all.extend(between(middle, v, depth - 1));
    all
}

/// Counter-clockwise, so that pieces do not cancel each other.
fn wound(mut piece: Vec<Point>) -> Vec<Point> {
    let ring: Vec<[i64; 2]> = piece.iter().map(|p| [i64::from(p.x), i64::from(p.y)]).collect();
    if twice_area(&ring) < 0 {
        piece.reverse();
    }
    piece
}

/// What the pieces cover together, square hundredths.
fn area(pieces: &Contours) -> f64 {
    let ring = |c: &Vec<Point>| -> f64 {
        let ring: Vec<[i64; 2]> = c.iter().map(|p| [i64::from(p.x), i64::from(p.y)]).collect();
        twice_area(&ring) as f64 / 2.0
    };
    union(pieces).iter().flatten().map(ring).sum()
}
