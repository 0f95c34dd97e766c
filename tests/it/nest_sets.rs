//! Jobs for the tests of the nest: the kit fixture, and simple outlines.

#![allow(clippy::disallowed_methods, reason = "the tests' sets are files")]

use std::fs;
use std::path::Path;

use blankwright::nest::{Effort, Item, Job, Ring, Shape, Stock, Turns};
use serde_json::Value;

/// A set of `tests/cases/nesting` as it was read.
pub(crate) fn read(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/nesting").join(name);
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

/// Corners times a scale, to whole units, without the repeated first one.
pub(crate) fn ring(corners: &Value, scale: f64) -> Ring {
    let one = |p: &Value, k: usize| (p[k].as_f64().unwrap() * scale).round() as i64;
    let mut ring: Ring =
        corners.as_array().unwrap().iter().map(|p| [one(p, 0), one(p, 1)]).collect();
    if ring.first() == ring.last() {
        ring.pop();
    }
    ring
}

/// The invented kit of 14 shapes and 160 pieces on 3000 x 1500 mm, so many times.
pub(crate) fn kit(times: u32) -> Job {
    let set = read("kit-fixture.json");
    let item = |item: &Value| Item {
        name: item["id"].as_str().unwrap().to_owned(),
        shape: Shape { outer: ring(&item["outline"], 100.0), holes: Vec::new() },
        quantity: item["quantity"].as_u64().unwrap() as u32 * times,
        turns: Turns::Quarter,
        mirror: false,
    };
    let items = set["items"].as_array().unwrap().iter().map(item).collect();
    job(items, [300_000, 150_000], 600, 1000)
}

/// A set of strip packing, the strip along x and 200 000 units high, three times as long as all
/// parts need; and their area, square units.
pub(crate) fn strip(name: &str) -> (Job, f64) {
    let set = read(&format!("{name}.json"));
    let scale = 200_000.0 / set["strip_height"].as_f64().unwrap();
    let one = |item: &Value| {
        let mut outer = ring(&item["outline"], scale);
        let next = outer.iter().cycle().skip(1);
        let twice: i64 = outer.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum();
        if twice < 0 {
            outer.reverse();
        }
        let turns = match item["turns"].as_array().unwrap().len() {
            1 => Turns::None,
            2 => Turns::Half,
            _ => Turns::Quarter,
        };
        let quantity = item["quantity"].as_u64().unwrap() as u32;
        let shape = Shape { outer, holes: Vec::new() };
        Item { name: name.to_owned(), shape, quantity, turns, mirror: false }
    };
    let items: Vec<Item> = set["items"].as_array().unwrap().iter().map(one).collect();
    let area: f64 =
        items.iter().map(|item| item.shape.area() * 1e4 * f64::from(item.quantity)).sum();
    let length = (3.0 * area / 200_000.0) as i64;
    (job(items, [length, 200_000], 0, 0), area)
}

/// A job on as many sheets of one size as it takes.
pub(crate) fn job(items: Vec<Item>, size: [i64; 2], gap: i64, margin: i64) -> Job {
    let stock = Stock {
        name: "sheet".to_owned(),
        size,
        count: None,
        cost: 1.0,
        remnant: false,
        blocked: Vec::new(),
    };
    Job { items, stock: vec![stock], gap, margin, least_remnant: 0, effort: Effort::Quick, seed: 1 }
}

/// A rectangle with an opening that leaves a frame of this width; none for 0.
pub(crate) fn frame(size: [i64; 2], width: i64) -> Shape {
    let [w, h] = size;
    let hole = vec![[width, width], [width, h - width], [w - width, h - width], [w - width, width]];
    Shape {
        outer: vec![[0, 0], [w, 0], [w, h], [0, h]],
        holes: if width == 0 { Vec::new() } else { vec![hole] },
    }
}

/// An item that may lie in every way.
pub(crate) fn item(name: &str, shape: Shape, quantity: u32) -> Item {
    Item { name: name.to_owned(), shape, quantity, turns: Turns::Quarter, mirror: false }
}
