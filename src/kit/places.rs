//! Where the instances of a part stand: each place once, or repeated.

use std::ops::Range;

use super::Wall;
use super::desk::Desk;
use crate::geom::{PartFrame, Point3, Pose, SiteFrame};
use crate::template::{Anchor, EveryFlat, PlaceItem, Repeat};

/// A part that stands more often is a mistake in a count.
const MOST_PLACES: f64 = 500.0;

type Place = Pose<PartFrame, SiteFrame>;

/// All places of a part; none when a finding was made.
pub(super) fn places(
    desk: &mut Desk,
    items: &[PlaceItem],
    thickness: f64,
    wall: Option<&Wall>,
) -> Option<Vec<Place>> {
    let mut places = Vec::new();
    for item in items {
        let span = item.at[0].span();
        each(desk, (item.repeat.as_ref(), span), wall, |desk| {
            if desk.holds(item.when.as_ref()) {
                places.push(pose(desk, item, thickness)?);
            }
            Some(())
        })?;
    }
    Some(places)
}

/// Does something for every repetition, its values in the scope; once where nothing repeats.
pub(super) fn each(
    desk: &mut Desk,
    (repeat, span): (Option<&Repeat>, Range<usize>),
    wall: Option<&Wall>,
    mut work: impl FnMut(&mut Desk) -> Option<()>,
) -> Option<()> {
    let Some(repeat) = repeat else { return work(desk) };
    let flats = match &repeat.flats {
        Some(flats) => chosen(desk, flats, wall)?.into_iter().map(Some).collect(),
        None => vec![None],
    };
    for flat in flats {
        if let Some((number, x)) = flat {
            desk.scope.set_number("place.flat", number as f64);
            desk.scope.set_number("place.x", x);
        }
        let count = desk.number_or(repeat.count.as_ref(), 1.0)?.round();
        if !(0.0..=MOST_PLACES).contains(&count) {
            let message = format!("repeated {count} times; 0 to {MOST_PLACES} is allowed");
            desk.wrong("template.place", span, message);
            return None;
        }
        for i in 0..count as usize {
            desk.scope.set_number("place.i", i as f64);
            work(desk)?;
        }
    }
    Some(())
}

/// Number (from 1) and middle of the flats asked for, from left to right.
fn chosen(desk: &mut Desk, flats: &EveryFlat, wall: Option<&Wall>) -> Option<Vec<(usize, f64)>> {
    let every = desk.number(&flats.every)?.round();
    let first = desk.number_or(flats.first.as_ref(), 0.0)?.round();
    let on = flats.on.get_ref().as_str();
    let wrong = match (wall, on, every >= 1.0 && first >= 0.0) {
        (None, ..) => Some("there is no wall in this kit".to_string()),
        (_, "outer" | "inner", true) => None,
        (_, "outer" | "inner", false) => {
            Some(format!("every {every} flats from {first}; at least every 1 from 0"))
        }
        (_, other, _) => Some(format!("`on` is `{other}`; it must be `outer` or `inner`")),
    };
    if let Some(message) = wrong {
        desk.wrong("template.wall", flats.on.span(), message);
        return None;
    }
    let outer = &wall?.outer_flat_centres;
    let middles: Vec<f64> = match on {
        "inner" => outer.windows(2).map(|pair| (pair[0] + pair[1]) / 2.0).collect(),
        _ => outer.clone(),
    };
    Some(symmetric(&middles, every as usize, first as usize))
}

/// Every so many of a row from its middle outwards, the same on both sides.
fn symmetric(middles: &[f64], every: usize, first: usize) -> Vec<(usize, f64)> {
    let count = middles.len();
    let from_middle = |i: usize| (2 * i + 1).abs_diff(count) / 2;
    let all = middles.iter().enumerate();
    let taken = all.filter(|(i, _)| {
        from_middle(*i).checked_sub(first).is_some_and(|beyond| beyond.is_multiple_of(every))
    });
    taken.map(|(i, x)| (i + 1, *x)).collect()
}

/// The place of one instance; its directions must be at right angles.
fn pose(desk: &mut Desk, place: &PlaceItem, thickness: f64) -> Option<Place> {
    let at = desk.point3(&place.at)?;
    let (x, y) = (desk.point3(&place.x)?, desk.point3(&place.y)?);
    if x.length() == 0.0 || y.length() == 0.0 || x.unit().dot(y.unit()).abs() > 1e-9 {
        let angle = crate::units::acos_deg(x.unit().dot(y.unit()).clamp(-1.0, 1.0));
        let message = format!(
            "the directions of x and y have lengths {:.3} and {:.3} and stand {angle:.3}° apart; \
             they need a length above 0 and must stand 90° apart",
            x.length(),
            y.length()
        );
        desk.wrong("template.place", place.x[0].span(), message);
        return None;
    }
    let pose: Place = Pose::new(x.unit(), y.unit(), at);
    Some(match place.side {
        Anchor::Under => pose,
        Anchor::Upper => pose.shifted(pose.vector(Point3::new(0.0, 0.0, -thickness))),
    })
}
