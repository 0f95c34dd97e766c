//! Hidden lines against sight by brute force: a point of an edge is drawn when, and only when, no
//! triangle of an independent model stands in front of it.

use blankwright::draw::view::{part_from, part_view};
use blankwright::draw::{Pen, Picture};
use blankwright::fold::fold;
use blankwright::kit::{HoleShape, Part};
use proptest::prelude::{ProptestConfig, Strategy, prop, prop_assert, proptest};

use crate::view_parts::{Fold, fold as add_leg, hole, rectangle};
use crate::view_solid::{Dot, Spot, flat, solid};

fn off([a, b]: [Dot; 2], p: Dot) -> f64 {
    let side = b - a;
    let share = (p - a).dot(side) / side.dot(side).max(1e-12);
    p.distance(a + side * share.clamp(0.0, 1.0))
}

fn pieces(picture: &Picture) -> Vec<[Dot; 2]> {
    [Pen::Outline, Pen::Narrow]
        .iter()
        .flat_map(|pen| crate::view_isometric::pieces(picture, *pen))
        .collect()
}

/// Faults of a picture: points of edges that are seen and not drawn, or drawn and not seen.
fn faults(part: &Part) -> Vec<String> {
    let folded = fold(part);
    let view = part_view(part, &folded);
    let solid = solid(part, &folded, &view);
    let drawn = pieces(&part_from(part, &folded, &view));
    let mut faults = Vec::new();
    let along = |i: usize| (i as f64 + 0.37) / 24.0;
    for edge in &solid.edges {
        for p in (0..24).map(|i| edge[0] + (edge[1] - edge[0]) * along(i)) {
            let there = drawn.iter().any(|piece| off(*piece, flat(p)) < 2e-3);
            if !there && !solid.hidden(p) && !solid.doubtful(p) {
                faults.push(format!("{p:?} of {edge:?} is seen and not drawn"));
            }
        }
    }
    for piece in &drawn {
        for p in (0..24).map(|i| piece[0].toward(piece[1], along(i))) {
            let sources = solid.edges.iter().filter_map(|edge| upon(edge, p));
            let mut seen = sources.map(|q| !solid.hidden(q) || solid.doubtful(q));
            let curved = solid.zones.iter().any(|zone| off(*zone, p) < 0.5);
            if !curved && !seen.any(|seen| seen) {
                faults.push(format!("{p:?} of {piece:?} is drawn and not seen"));
            }
        }
    }
    faults
}

/// The point of an edge that is seen at `p`.
fn upon(edge: &[Spot; 2], p: Dot) -> Option<Spot> {
    let side = flat(edge[1]) - flat(edge[0]);
    let share = ((p - flat(edge[0])).dot(side) / side.dot(side).max(1e-12)).clamp(0.0, 1.0);
    let q = edge[0] + (edge[1] - edge[0]) * share;
    (flat(q).distance(p) < 2e-3).then_some(q)
}

#[derive(Debug, Clone)]
struct Plan {
    root: (f64, f64),
    legs: Vec<(usize, f64, f64)>,
    further: f64,
    window: bool,
}

fn part(plan: &Plan) -> Part {
    let mut part = rectangle(2.0, plan.root.0, plan.root.1);
    let mut last = 0;
    for &(side, leg, angle) in &plan.legs {
        last = add_leg(&mut part, 0, side, Fold { leg, angle, radius: 1.5 });
    }
    if last > 0 {
        add_leg(&mut part, last, 1, Fold { leg: 15.0, angle: plan.further, radius: 1.5 });
    }
    if plan.window {
        let (w, h) = plan.root;
        hole(&mut part, 0, (w / 2.0, h / 2.0), HoleShape::Rectangle(h / 3.0, w / 3.0, 0.0));
    }
    part
}

fn plans() -> impl Strategy<Value = Plan> {
    let turn = prop::sample::select(vec![-90.0, 90.0, 35.0, -60.0, 110.0]);
    let leg = (20.0..70.0_f64, turn.clone());
    let sides = prop::sample::subsequence(vec![0_usize, 2], 0..=2);
    let root = (60.0..150.0_f64, 40.0..120.0_f64);
    (root, sides, prop::collection::vec(leg, 2), turn, prop::bool::ANY).prop_map(
        |(root, sides, legs, further, window)| {
            let legs = sides.into_iter().zip(legs).map(|(side, (leg, turn))| (side, leg, turn));
            Plan { root, legs: legs.collect(), further, window }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..<_>::default() })]

    #[test]
    fn what_is_drawn_is_what_is_seen(plan in plans()) {
        let faults = faults(&part(&plan));
        prop_assert!(faults.is_empty(), "{} faults, first: {}", faults.len(), faults[0]);
    }
}

#[test]
fn sight_by_brute_force_sees_a_lost_line() {
    let part = part(&Plan {
        root: (100.0, 60.0),
        legs: vec![(0, 40.0, 90.0)],
        further: 90.0,
        window: true,
    });
    let folded = fold(&part);
    let view = part_view(&part, &folded);
    let solid = solid(&part, &folded, &view);
    assert!(solid.edges.iter().any(|edge| solid.hidden((edge[0] + edge[1]) * 0.5)));
    assert!(solid.edges.iter().any(|edge| !solid.hidden((edge[0] + edge[1]) * 0.5)));
}
