//! The picture of a whole kit in its place.

use blankwright::draw::view::isometric_kit;
use blankwright::draw::{Pen, Picture};
use blankwright::fold::fold;
use blankwright::kit::Kit;

use crate::view_isometric::{deep_inside, pieces};
use crate::view_kits::{door, kit};

fn picture(kit: &Kit) -> Picture {
    let folded: Vec<_> = kit.parts.iter().map(fold).collect();
    isometric_kit(kit, &folded)
}

#[test]
fn every_part_number_is_labelled_once_where_it_is_seen() {
    let picture = picture(&door());
    let texts: Vec<&str> = picture.labels.iter().map(|label| label.text.as_str()).collect();
    assert_eq!(texts, ["1", "2", "3"]);
    for label in &picture.labels {
        let on_an_area =
            picture.areas.iter().any(|area| deep_inside(&area.outlines, label.tip, 5.0));
        assert!(on_an_area, "{label:?}");
        let b = picture.bounds;
        let inside = b.low.x < label.at.x && label.at.x < b.high.x;
        assert!(!(inside && b.low.y < label.at.y && label.at.y < b.high.y), "{label:?}");
    }
}

#[test]
fn the_container_is_quiet_and_hides_nothing() {
    let with = door();
    let mut without = door();
    without.container.wall = None;
    without.container.members.clear();
    let (with, without) = (picture(&with), picture(&without));
    assert!(!pieces(&with, Pen::Fine).is_empty());
    assert!(pieces(&without, Pen::Fine).is_empty());
    assert_eq!(pieces(&with, Pen::Outline), pieces(&without, Pen::Outline));
    assert_eq!(with.areas, without.areas);
    for [a, b] in pieces(&with, Pen::Fine) {
        for p in (0..=10).map(|i| a.toward(b, f64::from(i) / 10.0)) {
            let across = with.areas.iter().any(|area| deep_inside(&area.outlines, p, 0.1));
            assert!(!across, "{p:?} runs across the kit");
        }
    }
}

#[test]
fn the_opening_is_seen_from_outside_right_and_above() {
    let picture = picture(&door());
    // The lip of the left jamb (item 1) stands left of the header's and of the sill's middle, and
    // the header above the sill.
    let tip = |i: usize| picture.labels[i].tip;
    assert!(tip(0).x < tip(1).x && tip(2).y < tip(1).y, "{:?}", picture.labels);
}

#[test]
fn parts_hide_one_another() {
    let mut single = Vec::new();
    let all = door();
    for part in &all.parts {
        single.push(picture(&kit(vec![part.clone()], None)));
    }
    let length = |picture: &Picture| -> f64 {
        pieces(picture, Pen::Outline).iter().map(|[a, b]| a.distance(*b)).sum()
    };
    let apart: f64 = single.iter().map(length).sum();
    let mut bare = all;
    bare.container.wall = None;
    assert!(length(&picture(&bare)) < apart - 100.0);
}

#[test]
fn a_kit_without_parts_gives_an_empty_picture() {
    let mut nothing = kit(Vec::new(), None);
    nothing.container.members.clear();
    assert_eq!(picture(&nothing), Picture::empty());
}

#[test]
fn labels_keep_apart() {
    let picture = picture(&door());
    let size = picture.bounds.width().max(picture.bounds.height());
    for (i, label) in picture.labels.iter().enumerate() {
        for other in &picture.labels[..i] {
            assert!(label.tip.distance(other.tip) > size / 4.0, "{label:?} {other:?}");
        }
    }
}
