//! An edge that follows the wall fills its pockets: from every point of the edge to the wall's
//! outer face it is the clearance, no less and at the flats and slopes no more. The wall is worked
//! out here from its flats, slope and depth alone.

use blankwright::geom::{FaceFrame, Point, Point3};
use blankwright::kit::Wall;
use proptest::prelude::{prop_assert, proptest};

use crate::law_stock::{Made, config, head, make_in};

/// A level plate outside the wall whose far edge follows it, 1000 mm from X = -500.
fn comb(clearance: f64, step: f64) -> Made {
    let (at, x, y) = if step > 0.0 {
        ("[-500, -40, 1000]", "[1, 0, 0]", "[0, 1, 0]")
    } else {
        ("[500, -40, 1000]", "[-1, 0, 0]", "[0, 1, 0]")
    };
    let family = format!(
        "{}\n[[parts]]\nname = \"comb\"\ntitle = \"Comb\"\nsheet = \"plate\"\n\
         plate = {{ width = 1000, height = 40 }}\n\
         follow = [{{ on = \"base.top\", origin = {}, step = {step}, clearance = {clearance} }}]\n\
         places = [{{ at = {at}, x = {x}, y = {y} }}]\n",
        head(1.5),
        -500.0 * step,
    );
    make_in(&family, "[container]\ntype = \"20ft\"\nwall = \"left\"\n")
}

/// The wall's outer face as corners (X, Y).
fn face(wall: &Wall) -> Vec<Point<FaceFrame>> {
    let half = wall.outer_flat / 2.0;
    let mut corners = Vec::new();
    for centre in &wall.outer_flat_centres {
        for (offset, y) in [
            (-half - wall.slope, wall.depth),
            (-half, 0.0),
            (half, 0.0),
            (half + wall.slope, wall.depth),
        ] {
            corners.push(Point::new(centre + offset, y));
        }
    }
    corners
}

/// Distance from a point to a run of lines.
fn distance(p: Point<FaceFrame>, run: &[Point<FaceFrame>]) -> f64 {
    let to_line = |pair: &[Point<FaceFrame>]| {
        let (a, b) = (pair[0], pair[1]);
        let along = b - a;
        let share = ((p - a).dot(along) / along.dot(along)).clamp(0.0, 1.0);
        p.distance(a + along * share)
    };
    run.windows(2).map(to_line).fold(f64::INFINITY, f64::min)
}

proptest! {
    #![proptest_config(config(24))]

    #[test]
    fn teeth_keep_the_clearance_and_no_more(clearance in 0.5..8.0, right in proptest::bool::ANY) {
        let made = comb(clearance, if right { 1.0 } else { -1.0 });
        let part = &made.kit.parts[0];
        let pose = made.folded[0].faces[0].then(&part.places[0]);
        let wall = made.kit.container.wall.as_ref().unwrap();
        let run = face(wall);
        let corners = &part.faces[0].outline.vertices;
        let mut tips = 0;
        for (i, corner) in corners.iter().enumerate() {
            let next = corners[(i + 1) % corners.len()];
            for share in 0..20 {
                let at = corner.at.toward(next.at, f64::from(share) / 20.0);
                let site = pose.point(Point3::new(at.x, at.y, 0.0));
                let beside = site.x.abs() > 499.0 || site.y < -30.0;
                if beside {
                    continue;
                }
                let found = distance(Point::new(site.x, site.y), &run);
                prop_assert!(found > clearance - 1e-9, "{found} at {site:?}");
                // Mitred at the crests, it stands off a little more: by 1 / cos of half the slope.
                prop_assert!(found < clearance * 1.05, "{found} at {site:?}");
                tips += usize::from(site.y > wall.depth - clearance - 1e-6);
            }
        }
        prop_assert!(tips > 20, "no tooth reaches a pocket's ground");
    }
}
