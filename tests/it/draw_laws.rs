//! The laws of the drawings on parts of many shapes: texts stand free whatever the part.

use proptest::prelude::{ProptestConfig, Strategy, any, prop, prop_assert_eq, proptest};
use proptest::test_runner::RngSeed;

use blankwright::draw::{Item, PartViews, drawing_set, preview};
use blankwright::flat::unfold;
use blankwright::fold::fold;
use blankwright::kit::Kit;

use super::draw_collisions::collisions;
use super::draw_parts::{self, Shape};

/// Profiles from a bracket to the length of a wall, of one to seven legs, with up to four rows of
/// holes.
fn shapes() -> impl Strategy<Value = Shape> {
    let legs = prop::collection::vec((12.0..400.0, 20.0..120.0, any::<bool>()), 1..7);
    let rows = prop::collection::vec((0usize..7, 1u32..30, 0.1..0.9), 0..5);
    (30.0..3000.0, legs, rows, any::<bool>()).prop_map(|(length, legs, rows, inches)| Shape {
        length,
        legs,
        rows,
        inches,
    })
}

fn kit(shape: &Shape) -> Kit {
    let mut kit = draw_parts::kit(shape.inches);
    kit.parts = vec![draw_parts::random_profile(shape)];
    kit
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 32,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(7573),
        ..ProptestConfig::default()
    })]

    #[test]
    fn texts_stand_free_and_nothing_leaves_the_paper(shape in shapes()) {
        let kit = kit(&shape);
        let folded = vec![fold(&kit.parts[0])];
        let blanks = vec![unfold(&kit.parts[0]).unwrap()];
        let views = PartViews::of_all(&kit.parts, &folded);
        let set = drawing_set(&kit, &folded, &views, &blanks);
        let part = preview(&kit, &views[0], &blanks[0]);
        for sheet in set.sheets().chain([&part]) {
            prop_assert_eq!(collisions(sheet), Vec::<String>::new());
            let off = sheet.items.iter().filter(|item| !within(item, sheet.width, sheet.height));
            prop_assert_eq!(off.count(), 0);
        }
    }
}

/// Whether an item's points lie on the paper.
fn within(item: &Item, width: f64, height: f64) -> bool {
    use blankwright::draw::Shape::{Arc, Circle, Closed, Line};
    let on = |x: f64, y: f64| 0.0 <= x && x <= width && 0.0 <= y && y <= height;
    match item {
        Item::Text(text) => on(text.at.x, text.at.y),
        Item::Shape { shape: Line(points), .. } => points.iter().all(|p| on(p.x, p.y)),
        Item::Shape { shape: Circle(p, _) | Arc(p, ..), .. } => on(p.x, p.y),
        Item::Shape { shape: Closed(paths), .. } => {
            paths.iter().flat_map(|path| &path.vertices).all(|v| on(v.at.x, v.at.y))
        }
    }
}
