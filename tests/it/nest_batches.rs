//! Whole jobs: fewest sheets, remnants, bounds, stock in short supply, and faults that are named.
//! Every layout is held to the check of layouts.

use std::sync::atomic::{AtomicUsize, Ordering};

use blankwright::nest::{
    Effort, Fault, Item, Job, Layout, Left, Nest, Placed, Rect, Shape, Stock, Turns, nest, remnant,
    verify,
};

use crate::nest_sets::kit;

/// A rectangle in whole millimetres.
fn plate(name: &str, size: [i64; 2], quantity: u32) -> Item {
    let [x, y] = size.map(|side| side * 100);
    let outer = vec![[0, 0], [x, 0], [x, y], [0, y]];
    let shape = Shape { outer, holes: Vec::new() };
    Item { name: name.to_string(), shape, quantity, turns: Turns::Quarter, mirror: false }
}

/// A sheet in whole millimetres, as many as are needed.
fn sheet(name: &str, size: [i64; 2], cost: f64) -> Stock {
    let size = size.map(|side| side * 100);
    Stock { name: name.to_string(), size, count: None, cost, remnant: false, blocked: Vec::new() }
}

/// A quick job without gap and margin; remnants count from 100 mm on.
fn job(items: Vec<Item>, stock: Vec<Stock>) -> Job {
    let (effort, least_remnant) = (Effort::Quick, 10_000);
    Job { items, stock, gap: 0, margin: 0, least_remnant, effort, seed: 1 }
}

/// The work shared out over so many threads.
fn threads(many: usize, count: usize, work: &(dyn Fn(usize) + Sync)) {
    let next = AtomicUsize::new(0);
    let mine = || {
        let taken = || Some(next.fetch_add(1, Ordering::Relaxed)).filter(|index| *index < count);
        std::iter::from_fn(taken).for_each(work);
    };
    std::thread::scope(|scope| (0..many).for_each(|_| drop(scope.spawn(mine))));
}

/// The job laid out; the check finds nothing wrong with it.
fn laid(job: &Job) -> Nest {
    let nest = nest(job, &|count, work| threads(2, count, work));
    assert_eq!(verify(job, &nest.layouts, &nest.left), []);
    nest
}

fn sheets(nest: &Nest) -> u32 {
    nest.layouts.iter().map(|layout| layout.copies).sum()
}

#[test]
fn a_hundred_squares_are_four_sheets_of_one_layout() {
    let nest =
        laid(&job(vec![plate("square", [100, 100], 100)], vec![sheet("s", [500, 500], 1.0)]));
    assert_eq!((sheets(&nest), nest.layouts.len()), (4, 1));
    assert!((nest.bounds.area - 4.0).abs() < 1e-9);
    assert_eq!(nest.bounds.sheets(), 4);
}

/// Bounds worked out by hand. Strips: five lengths above half of 2980 mm, each with one gap of 6 mm
/// across a line of 1480 + 6 mm. Area: net areas and half the gap around, by another program.
#[test]
fn one_kit_lies_on_four_sheets_and_no_fewer_could_hold_it() {
    let nest = laid(&kit(1));
    assert_eq!(sheets(&nest), 4);
    let wide = [(2, 426), (3, 306), (4, 226), (5, 186), (6, 156)];
    let strips: i32 = wide.iter().map(|(n, wide)| n * wide).sum();
    assert!((nest.bounds.strips - f64::from(strips) / 1486.0).abs() < 1e-6);
    assert!((nest.bounds.area - 3.4295).abs() < 0.002, "{}", nest.bounds.area);
    assert_eq!(nest.bounds.sheets(), 4);
}

#[test]
fn threads_do_not_matter() {
    let items = vec![
        plate("a", [310, 70], 12),
        plate("b", [120, 110], 20),
        plate("c", [45, 30], 60),
        plate("d", [520, 90], 5),
    ];
    let job = Job { gap: 500, margin: 800, ..job(items, vec![sheet("s", [600, 700], 1.0)]) };
    let of = |many: usize| nest(&job, &|count, work| threads(many, count, work));
    let one = of(1);
    assert_eq!(verify(&job, &one.layouts, &one.left), []);
    assert_eq!(of(2), one);
    assert_eq!(of(8), one);
}

#[test]
fn remnants_are_used_first_and_no_more_sheets_than_there_are() {
    let rest = Stock { count: Some(1), remnant: true, ..sheet("rest", [300, 200], 0.5) };
    let few = Stock { count: Some(2), ..sheet("few", [500, 500], 1.0) };
    let squares = |n| vec![plate("square", [100, 100], n)];
    let nest = laid(&job(squares(31), vec![few.clone(), rest.clone()]));
    let used = |nest: &Nest, stock: usize| -> u32 {
        nest.layouts.iter().filter(|l| l.stock == stock).map(|l| l.copies).sum()
    };
    assert_eq!((used(&nest, 0), used(&nest, 1)), (1, 1));
    let nest = laid(&job(squares(60), vec![few, rest]));
    assert_eq!(nest.left, [Left { item: 0, quantity: 4, too_large: false }]);
}

/// Eight plates of 400 x 300: two dear large sheets hold what four cheap small ones do.
#[test]
fn the_cheapest_sheets_are_taken() {
    let items = vec![plate("plate", [400, 300], 8)];
    let large = |cost| sheet("large", [800, 600], cost);
    let small = sheet("small", [800, 300], 1.0);
    let cost = |nest: &Nest, job: &Job| -> f64 {
        nest.layouts.iter().map(|l| job.stock[l.stock].cost * f64::from(l.copies)).sum()
    };
    for (dear, all) in [(1.9, 3.8), (2.1, 4.0)] {
        let job = job(items.clone(), vec![large(dear), small.clone()]);
        let nest = laid(&job);
        assert!((cost(&nest, &job) - all).abs() < 1e-9);
        assert!((nest.bounds.cost - all).abs() < 1e-9);
    }
}

/// On a square sheet a strip may lie along either side: 5 of 90 x 10 on 100 x 100, no gap, take up
/// 50 of the 200 mm of both middle lines. On 100 x 80 they must lie along x: 50 of 80 mm.
#[test]
fn strips_count_on_the_lines_they_must_cross() {
    let strips =
        |stock: Vec<Stock>| laid(&job(vec![plate("strip", [90, 10], 5)], stock)).bounds.strips;
    let square = sheet("square", [100, 100], 1.0);
    let oblong = sheet("oblong", [100, 80], 1.0);
    assert!((strips(vec![square.clone()]) - 0.25).abs() < 1e-9);
    assert!((strips(vec![oblong.clone()]) - 0.625).abs() < 1e-9);
    assert!((strips(vec![oblong, square]) - 0.25).abs() < 1e-9);
}

#[test]
fn a_cut_sets_the_largest_rectangle_free() {
    let items = vec![plate("a", [300, 200], 2)];
    let job = Job { gap: 1_000, ..job(items, vec![sheet("s", [1000, 600], 1.0)]) };
    let at = |x, y| Placed { item: 0, at: [x, y], turn: 0, mirrored: false };
    let layout = |placed| Layout { stock: 0, copies: 1, placed, remnant: None };
    let free = |job: &Job, placed| remnant(job, &job.stock[0], &layout(placed));
    let right = Rect { low: [31_000, 0], high: [100_000, 60_000] };
    assert_eq!(free(&job, vec![at(0, 0)]), Some(right));
    let above = Rect { low: [0, 21_000], high: [100_000, 60_000] };
    assert_eq!(free(&job, vec![at(0, 0), at(65_000, 0)]), Some(above));
    assert_eq!(free(&job, vec![at(0, 0), at(65_000, 39_000)]), None);
    // The last 50 mm of the sheet are out of the laser's reach, and a corner is damaged.
    let mut blocked = job.clone();
    blocked.stock[0].blocked = vec![
        Rect { low: [95_000, 0], high: [100_000, 60_000] },
        Rect { low: [90_000, 50_000], high: [100_000, 60_000] },
    ];
    let trimmed = Rect { low: [31_000, 0], high: [90_000, 60_000] };
    assert_eq!(free(&blocked, vec![at(0, 0)]), Some(trimmed));
    let narrow = Job { least_remnant: 70_000, ..job };
    assert_eq!(free(&narrow, vec![at(0, 0)]), None);
}

#[test]
fn what_is_wrong_is_named_and_the_rest_is_laid_out() {
    let mut flat = plate("flat", [100, 100], 1);
    flat.shape.outer.truncate(2);
    let items = vec![
        plate("good", [100, 100], 3),
        plate("none", [100, 100], 0),
        plate("giant", [900, 100], 2),
        flat,
    ];
    let bad = Stock { remnant: true, ..sheet("offcut", [-200, 300], 1.0) };
    let job = job(items, vec![bad, sheet("s", [500, 500], 1.0)]);
    let nest = laid(&job);
    assert_eq!(nest.faults, [Fault::Quantity(1), Fault::Outline(3), Fault::Size(0)]);
    let words: Vec<String> = nest.faults.iter().map(|fault| fault.words(&job)).collect();
    assert_eq!(
        words,
        [
            "`none` is asked for 0 times",
            "the outline of `flat` encloses no area",
            "`offcut`, -200 x 300 mm, leaves nothing within its margins",
        ]
    );
    assert_eq!(sheets(&nest), 1);
    let giant = nest.left.iter().find(|left| left.item == 2);
    assert_eq!(
        giant.map(|left| left.words(&job)).as_deref(),
        Some("2 of `giant` found no place: it fits no sheet in stock")
    );
}

#[test]
fn no_stock_is_told() {
    let job = job(vec![plate("a", [100, 100], 3)], Vec::new());
    let nest = laid(&job);
    assert_eq!(nest.faults, [Fault::NoStock]);
    assert_eq!(nest.left, [Left { item: 0, quantity: 3, too_large: false }]);
}
