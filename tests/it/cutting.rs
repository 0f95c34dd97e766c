//! Cutting plans: by hand, and against every way to cut a few pieces.

use blankwright::cutting::{Piece, Plan, plan};
use proptest::prelude::*;

use crate::law_stock::config;

fn pieces(of: &[(f64, usize)]) -> Vec<Piece> {
    of.iter().map(|&(length, count)| Piece { title: "piece".into(), length, count }).collect()
}

/// What any plan must hold: every piece cut as often as asked, no bar overfull.
fn sound(plan: &Plan) {
    for (i, piece) in plan.pieces.iter().enumerate() {
        assert_eq!(plan.bars.iter().map(|bar| bar.cuts[i]).sum::<usize>(), piece.count);
    }
    for bar in &plan.bars {
        let count: usize = bar.cuts.iter().sum();
        let made: f64 = bar.cuts.iter().zip(&plan.pieces).map(|(n, p)| *n as f64 * p.length).sum();
        let cuts = plan.kerf * count.saturating_sub(1) as f64;
        assert!(made + cuts <= bar.stock + 1e-6, "{bar:?}");
        let rest = bar.stock - made - plan.kerf * count as f64;
        assert!((bar.rest - rest.max(0.0)).abs() < 1e-9);
    }
    let total: f64 = plan.bars.iter().map(|bar| bar.stock).sum();
    assert_eq!(total, plan.total);
    assert!(plan.bound <= plan.total + 1e-6);
}

/// By hand: three pieces of 2000 fill a bar of 6000 only if the saw takes nothing, since three
/// pieces need two cuts; with a kerf of 3 two lie in a bar.
#[test]
fn the_saw_takes_its_share() {
    for (kerf, bars) in [(0.0, 2), (3.0, 3)] {
        let plan = plan(&pieces(&[(2000.0, 6)]), &[6000.0], kerf).unwrap();
        sound(&plan);
        assert_eq!((plan.bars.len(), plan.proven), (bars, true));
    }
}

/// By hand: 7, 6, 4 and 3 in bars of 10: 7 + 3 and 6 + 4 leave nothing.
#[test]
fn pieces_that_go_together_are_cut_together() {
    let plan = plan(&pieces(&[(4.0, 5), (7.0, 3), (3.0, 3), (6.0, 5)]), &[10.0], 0.0).unwrap();
    sound(&plan);
    assert_eq!((plan.total, plan.bound, plan.proven), (80.0, 80.0, true));
    assert!(plan.bars.iter().all(|bar| bar.rest == 0.0));
}

/// A greedy plan takes 9 + 3 (rest 0), 8 (rest 4), 5 + 4 + 3, ...; the last bars may be short ones.
#[test]
fn short_bars_serve_where_they_do() {
    let plan = plan(&pieces(&[(2300.0, 3)]), &[6000.0, 3000.0], 3.0).unwrap();
    sound(&plan);
    assert_eq!(plan.total, 9000.0);
    assert!(plan.proven);
}

#[test]
fn what_cannot_be_cut_has_no_plan() {
    let one = pieces(&[(2000.0, 1)]);
    assert!(plan(&one, &[1999.0], 0.0).is_none());
    assert!(plan(&one, &[], 0.0).is_none());
    assert!(plan(&one, &[f64::NAN], 0.0).is_none());
    assert!(plan(&one, &[3000.0], -1.0).is_none());
    assert!(plan(&pieces(&[(0.0, 1)]), &[3000.0], 0.0).is_none());
    assert_eq!(plan(&[], &[3000.0], 0.0).unwrap().bars.len(), 0);
}

/// Many pieces of many lengths: a plan comes, whether it can be proven or not.
#[test]
fn a_long_list_ends() {
    let many: Vec<(f64, usize)> = (0..30).map(|i| (211.0 + 97.3 * f64::from(i), 9)).collect();
    let plan = plan(&pieces(&many), &[6000.0, 3000.0, 2000.0, 12000.0], 2.5).unwrap();
    sound(&plan);
    assert!(plan.total < 1.05 * plan.bound, "{} over {}", plan.total, plan.bound);
}

/// The least length of bars for some pieces, by trying every set of them for every bar.
fn brute(lengths: &[f64], stock: &[f64], kerf: f64) -> f64 {
    let sets = 1usize << lengths.len();
    let held = |set: usize| -> f64 {
        let mine = (0..lengths.len()).filter(|i| set >> i & 1 == 1);
        let need: f64 = mine.map(|i| lengths[i] + kerf).sum();
        let holds = stock.iter().filter(|s| need <= **s + kerf + 1e-9);
        holds.copied().fold(f64::INFINITY, f64::min)
    };
    let own: Vec<f64> = (0..sets).map(held).collect();
    let mut least = vec![f64::INFINITY; sets];
    least[0] = 0.0;
    for set in 1..sets {
        let mut part = set;
        while part > 0 {
            least[set] = least[set].min(own[part] + least[set & !part]);
            part = (part - 1) & set;
        }
    }
    least[sets - 1]
}

proptest! {
    #![proptest_config(config(96))]

    #[test]
    fn no_plan_beats_the_one_that_is_proven(
        lengths in prop::collection::vec(200.0..2900.0_f64, 1..8),
        two in any::<bool>(),
        kerf in prop_oneof![Just(0.0), 0.0..8.0_f64],
    ) {
        let stock: &[f64] = if two { &[6000.0, 3000.0] } else { &[3000.0] };
        let ones: Vec<(f64, usize)> = lengths.iter().map(|l| (*l, 1)).collect();
        let plan = plan(&pieces(&ones), stock, kerf).unwrap();
        sound(&plan);
        let least = brute(&lengths, stock, kerf);
        prop_assert!(plan.bound <= least + 1e-6, "bound {} over {least}", plan.bound);
        if plan.proven {
            prop_assert!((plan.total - least).abs() < 1e-6, "{} is not {least}", plan.total);
        }
        prop_assert!(least <= plan.total + 1e-6);
    }
}
