//! The opening fitted to the corrugation, compared with a search by brute force.

use blankwright::note::Notes;
use blankwright::resolve::{Fitted, Position, Prefer, Refusal, WallLayout, Wish, fit, lay_out};
use blankwright::shelf::WallName;
use blankwright::spec::Units;
use proptest::prelude::*;

use crate::shelf::shelf;

fn wall(container: &str, name: WallName) -> WallLayout {
    let mut notes = Notes::default();
    let shelf = shelf();
    let wall = lay_out(shelf.container(container).unwrap(), name, None, &mut notes).unwrap();
    assert!(notes.is_empty());
    wall
}

fn wish(rough_width: f64) -> Wish {
    Wish {
        rough_width,
        most: None,
        lip: 40.0,
        margin: 6.0,
        position: Position::Middle,
        prefer: Prefer::Width,
        left_flat: None,
        alike: false,
    }
}

/// Whether both cuts leave lip and margins on outer flats, told from the flats' edges alone.
fn sits(wall: &WallLayout, wish: &Wish, cuts: [f64; 2]) -> bool {
    let half = wall.corrugation.outer_flat / 2.0;
    let on_flat = |low: f64, high: f64| {
        let fits = |c: &&f64| *c - half - 1e-6 <= low && high <= *c + half + 1e-6;
        wall.outer_flat_centres.iter().any(|c| fits(&c))
    };
    on_flat(cuts[0] - wish.lip - wish.margin, cuts[0] + wish.margin)
        && on_flat(cuts[1] - wish.margin, cuts[1] + wish.lip + wish.margin)
}

/// The same search on a grid: every left cut and every width in steps, the least excess first, then
/// the nearest centre.
fn brute(wall: &WallLayout, wish: &Wish, wanted: f64, step: f64) -> Option<(f64, f64)> {
    let half = wall.corrugation.outer_flat / 2.0;
    let steps = |from: f64, to: f64| {
        (0..).map(move |i| from + step * f64::from(i)).take_while(move |x| *x <= to + 1e-9)
    };
    let most = wish.rough_width + wall.pitch;
    let lefts = wall.outer_flat_centres.iter().flat_map(|c| {
        steps(c - half + wish.margin + wish.lip, c + half - wish.margin).collect::<Vec<_>>()
    });
    let first = lefts.filter_map(|left| {
        let width = steps(wish.rough_width, most).find(|w| sits(wall, wish, [left, left + w]))?;
        Some((width, (left + width / 2.0 - wanted).abs()))
    });
    first.min_by(
        |a, b| if (a.0 - b.0).abs() < 1e-9 { a.1.total_cmp(&b.1) } else { a.0.total_cmp(&b.0) },
    )
}

fn given(wall: &WallLayout, wish: &Wish) -> Fitted {
    fit(wall, wish).unwrap_or_else(|refusal| panic!("{refusal:?}"))
}

#[test]
fn a_reachable_width_is_given_as_wished_and_centred() {
    // 40 ft side wall: flats at 96 + 278 k. Window 72 - 2 * 6 - 40 = 20 wide: widths 278 n - 60 to
    // 278 n - 20. For 2750: n = 10 gives 2720 to 2760. Ten pitches are symmetric about the middle
    // flat k = 21 at 5934, which is the middle of the wall.
    let wall = wall("40ft", WallName::Left);
    let fitted = given(&wall, &wish(2750.0));
    assert_eq!(fitted.rough_width, 2750.0);
    assert_eq!(fitted.centre, 5934.0);
    assert_eq!(fitted.flats, [16, 26]);
    assert!(fitted.reason.contains("rough width 2750 mm as wished"), "{}", fitted.reason);
}

#[test]
fn an_unreachable_width_gives_the_nearest_that_is_not_narrower() {
    // 2770 lies between 2760 and 11 * 278 - 60 = 2998.
    let wall = wall("40ft", WallName::Left);
    let fitted = given(&wall, &wish(2770.0));
    assert_eq!(fitted.rough_width, 2998.0);
    assert!(fitted.reason.contains("228 mm wider than the 2770 mm wished"), "{}", fitted.reason);
    // Eleven pitches have their middle on an inner flat: 139 mm beside the wall's middle.
    assert!((fitted.centre - 5934.0).abs() == 139.0);
}

#[test]
fn between_wish_and_most_the_two_nearest_are_named() {
    let wall = wall("40ft", WallName::Left);
    let refusal = fit(&wall, &Wish { most: Some(2900.0), ..wish(2770.0) }).unwrap_err();
    let nearest = [Some(2760.0), Some(2998.0)];
    assert_eq!(refusal, Refusal::Between { wanted: 2770.0, most: 2900.0, nearest });
    let finding = refusal.finding(Units::Mm);
    assert_eq!(finding.check, "opening.width");
    assert_eq!(finding.help, "the nearest that do: 2760 mm and 2998 mm");
    let inches = refusal.finding(Units::Inch);
    assert!(inches.help.contains("108.661 in (2760 mm)"), "{}", inches.help);
}

#[test]
fn too_wide_says_how_wide_it_can_be() {
    // 42 pitches less 20: 11656.
    let wall = wall("40ft", WallName::Left);
    let refusal = fit(&wall, &wish(11700.0)).unwrap_err();
    let expected = Refusal::TooWide { wanted: 11700.0, widest: Some(11656.0), wall: 11868.0 };
    assert_eq!(refusal, expected);
    assert_eq!(given(&wall, &wish(11656.0)).rough_width, 11656.0);
}

#[test]
fn a_centre_near_a_post_is_refused_with_the_centres_that_go() {
    let wall = wall("20ft", WallName::Right);
    let near = Wish { position: Position::Centre(1000.0), ..wish(2750.0) };
    let Refusal::OnPost { cut, end, centre, centres } = fit(&wall, &near).unwrap_err() else {
        panic!("not refused for the post");
    };
    assert_eq!((cut, end, centre), (1000.0 - 1375.0, 0.0, 1000.0));
    // First flat at 87: left cut from 97 to 117, width 2750, right window of flat 10 from 2837 to
    // 2857.
    assert_eq!(centres[0], 97.0 + 1375.0);
    assert_eq!(centres[1], 5734.0 - centres[0]);
    for (at, expected) in [(Position::Left, centres[0]), (Position::Right, centres[1])] {
        let fitted = given(&wall, &Wish { position: at, ..wish(2750.0) });
        assert!((fitted.centre - expected).abs() < 1e-9);
    }
}

#[test]
fn a_lip_wider_than_the_flat_is_refused() {
    let wall = wall("20ft", WallName::Left);
    let wide = Wish { lip: 61.0, ..wish(1000.0) };
    let refusal = fit(&wall, &wide).unwrap_err();
    assert_eq!(refusal, Refusal::LipTooWide { lip: 61.0, margin: 6.0, flat: 72.0 });
    assert!(refusal.finding(Units::Mm).help.contains("60 mm or less"));
    // Just wide enough: each window is one point.
    let snug = given(&wall, &Wish { lip: 60.0, ..wish(1000.0) });
    assert_eq!(snug.rough_width, 4.0 * 278.0 - 60.0);
}

#[test]
fn wishes_that_are_no_numbers_are_refused() {
    let wall = wall("20ft", WallName::Left);
    for bad in [
        wish(f64::NAN),
        wish(f64::INFINITY),
        wish(0.0),
        wish(-5.0),
        Wish { lip: -1.0, ..wish(1000.0) },
        Wish { margin: f64::NAN, ..wish(1000.0) },
        Wish { most: Some(999.0), ..wish(1000.0) },
        Wish { position: Position::Centre(f64::NAN), ..wish(1000.0) },
    ] {
        assert!(matches!(fit(&wall, &bad), Err(Refusal::BadWish { .. })), "{bad:?}");
    }
}

#[test]
fn a_preferred_centre_costs_width_and_less_than_a_pitch_of_it() {
    let wall = wall("40ft", WallName::Left);
    let middle = Wish { position: Position::Middle, ..wish(2770.0) };
    let by_width = given(&wall, &middle);
    let by_centre = given(&wall, &Wish { prefer: Prefer::Centre, ..middle });
    assert_eq!(by_width.rough_width, 2998.0);
    // Eleven pitches can come no nearer than their windows allow; ten are too narrow.
    let off = |fitted: &Fitted| (fitted.centre - 5934.0).abs();
    assert!(off(&by_centre) <= off(&by_width));
    assert!(by_centre.rough_width < 2770.0 + 278.0);
    // Where both can be had, nothing is lost.
    let both = given(&wall, &Wish { prefer: Prefer::Centre, ..wish(2750.0) });
    assert_eq!((both.rough_width, both.centre), (2750.0, 5934.0));
}

#[test]
fn cuts_that_lie_alike_are_centred_between_flats() {
    let wall = wall("40ft", WallName::Left);
    // 6000 lies 66 beside the middle flat at 5934. 2750 is 10 under the widest that ten pitches
    // reach, so free cuts can move 5 to either side; alike ones stay in the middle of their flats.
    let at = Wish { position: Position::Centre(6000.0), ..wish(2750.0) };
    assert_eq!(given(&wall, &at).centre, 5934.0 + 5.0);
    assert_eq!(given(&wall, &Wish { alike: true, ..at }).centre, 5934.0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn fitting_agrees_with_brute_force(
        width in 300.0f64..1900.0,
        lip in 15.0f64..45.0,
        margin in 0.0f64..8.0,
        end in any::<bool>(),
    ) {
        // A step of 0.5 mm: width and centre of the two searches agree to a step.
        let step = 0.5;
        let name = if end { WallName::FrontEnd } else { WallName::Left };
        let mut wall = wall("20ft", name);
        wall.outer_flat_centres.retain(|c| *c < 2100.0);
        wall.length = 2114.0;
        let wish = Wish { lip, margin, position: Position::Middle, ..wish(width) };
        let wanted = wall.length / 2.0;
        match (fit(&wall, &wish), brute(&wall, &wish, wanted, step)) {
            (Ok(fitted), Some((width, off))) => {
                prop_assert!(sits(&wall, &wish, fitted.cuts));
                prop_assert!(wish.rough_width - 1e-9 <= fitted.rough_width);
                prop_assert!(fitted.rough_width <= width + 1e-6, "{fitted:?} {width}");
                prop_assert!(width <= fitted.rough_width + 2.0 * step);
                if (width - fitted.rough_width).abs() < 1e-6 {
                    prop_assert!((fitted.centre - wanted).abs() <= off + 1e-6, "{fitted:?} {off}");
                    prop_assert!(off <= (fitted.centre - wanted).abs() + 2.0 * step);
                }
            }
            (Err(Refusal::TooWide { widest, .. }), None) => {
                prop_assert!(widest.is_none_or(|w| w < wish.rough_width));
            }
            (ours, theirs) => prop_assert!(false, "{ours:?} {theirs:?}"),
        }
    }

    #[test]
    fn whatever_is_fitted_sits_and_keeps_the_bounds(
        width in 200.0f64..12_000.0,
        extra in proptest::option::of(0.0f64..300.0),
        lip in 0.0f64..60.0,
        margin in 0.0f64..10.0,
        place in -500.0f64..12_500.0,
        prefer_centre in any::<bool>(),
            alike in any::<bool>(),
    ) {
        let wall = wall("40ft-high-cube", WallName::Right);
        let wish = Wish {
            rough_width: width,
            most: extra.map(|extra| width + extra),
            lip,
            margin,
            position: Position::Centre(place),
            prefer: if prefer_centre { Prefer::Centre } else { Prefer::Width },
            left_flat: None,
            alike,
        };
        match fit(&wall, &wish) {
            Ok(fitted) => {
                prop_assert!(sits(&wall, &wish, fitted.cuts), "{fitted:?}");
                let centre = |i: usize| wall.outer_flat_centres[fitted.flats[i]];
                let on_flat = [0, 1].map(|i| fitted.cuts[i] - centre(i));
                prop_assert!(!alike || (on_flat[0] + on_flat[1]).abs() < 1e-6, "{on_flat:?}");
                prop_assert!(width - 1e-6 <= fitted.rough_width);
                prop_assert!(fitted.rough_width <= wish.most.unwrap_or(f64::MAX) + 1e-6);
                prop_assert!((fitted.cuts[1] - fitted.cuts[0] - fitted.rough_width).abs() < 1e-6);
                let middle = (fitted.cuts[0] + fitted.cuts[1]) / 2.0;
                prop_assert!((middle - fitted.centre).abs() < 1e-6);
            }
            Err(Refusal::Between { nearest, most, .. }) => {
                // Each width named can really be had.
                let again = |rough_width| Wish {
                    rough_width,
                    most: Some(rough_width),
                    position: Position::Middle,
                    ..wish
                };
                for near in nearest.into_iter().flatten() {
                    prop_assert!(near < width || most < near);
                    prop_assert!(fit(&wall, &again(near)).is_ok(), "{near}");
                }
            }
            Err(Refusal::OnPost { centres, .. }) => {
                for centre in centres {
                    let there = Wish { position: Position::Centre(centre), ..wish };
                    prop_assert!(fit(&wall, &there).is_ok(), "{centre}");
                }
            }
            Err(Refusal::TooWide { widest, .. }) => {
                prop_assert!(widest.is_none_or(|widest| widest < width));
            }
            Err(Refusal::LipTooWide { .. }) => prop_assert!(72.0 < lip + 2.0 * margin),
            Err(other) => prop_assert!(false, "{other:?}"),
        }
    }
}
