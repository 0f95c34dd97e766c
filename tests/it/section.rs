//! Sections against worked values: published effective widths, the channel of worked example
//! SX022a, a lipped channel with true corners, closed forms of thin-walled sections, beam tables.

#![allow(clippy::disallowed_methods, reason = "worked by other trigonometry than the program's")]

use std::f64::consts::PI;

use blankwright::geom::{Point, SectionFrame};
use blankwright::section::{
    Beam, Cantilever, Demand, Judge, Plate, Section, Standard, Thin, Values, closed_torsion,
    critical, effective, k_internal, k_outstand, reduction, share_aisi, share_internal,
    slenderness_aisi, slenderness_en, thin,
};

type P = Point<SectionFrame>;

fn near(found: f64, wanted: f64, share: f64) {
    let apart = (found - wanted).abs();
    assert!(apart <= share * wanted.abs(), "{found}, wanted {wanted}");
}

/// Published: width, thickness, k; slenderness and effective width for f = 250, E = 203000.
#[test]
fn aisi_effective_widths_are_those_worked_by_hand() {
    let cases = [
        (100.0, 1.5, 4.0, 1.2306, 66.734),
        (60.0, 2.0, 4.0, 0.5538, 60.0),
        (30.0, 1.5, 0.43, 1.126, 21.438),
        (140.0, 1.5, 4.0, 1.7228, 70.885),
    ];
    for (width, t, k, slender, bears) in cases {
        let found = slenderness_aisi(width / t, 250.0, 203_000.0, k);
        assert!((found - slender).abs() < 1e-3, "{found}");
        assert!((share_aisi(found) * width - bears).abs() < 1e-3);
    }
}

/// Published: bp 100, t 1.5, fy 250, k 4.
#[test]
fn the_plate_formula_of_the_eurocode_is_that_worked_by_hand() {
    let slender = slenderness_en(100.0 / 1.5, 250.0, 210_000.0, 4.0);
    assert!((slender - 1.2106).abs() < 1e-3);
    assert!((share_internal(slender, 1.0) * 100.0 - 67.593).abs() < 1e-3);
}

/// EN 1993-1-5 tables 4.1 and 4.2, from memory: the values printed for whole ratios, and no jump
/// where one formula takes over from another.
#[test]
fn buckling_factors_are_those_of_the_tables() {
    for (psi, k) in [(1.0, 4.0), (0.0, 7.81), (-1.0, 23.9)] {
        near(k_internal(psi), k, 0.002);
    }
    for (psi, k) in [(1.0, 0.43), (0.0, 0.57), (-1.0, 0.85)] {
        near(k_outstand(psi, true), k, 1e-9);
    }
    for (psi, k) in [(1.0, 0.43), (0.0, 1.70), (-1.0, 23.8)] {
        near(k_outstand(psi, false), k, 0.005);
    }
}

/// A plate gives up what lies between its effective ends, at the more compressed end the less.
#[test]
fn what_bears_of_a_plate_lies_at_its_ends() {
    let judge = Judge { standard: Standard::En, stress: 250.0, modulus: 210_000.0, k: None };
    let plate = |stress: [f64; 2], free: [bool; 2]| {
        Plate { width: 100.0, thickness: 0.5, stress, free }.bearing(&judge)
    };
    let even = plate([250.0, 250.0], [false; 2]);
    near(even[0], even[1], 1e-12);
    let uneven = plate([250.0, 125.0], [false; 2]);
    assert!(uneven[0] < uneven[1] && uneven[0] + uneven[1] < 100.0);
    let turned = plate([125.0, 250.0], [false; 2]);
    assert_eq!([turned[1], turned[0]], uneven);
    // Pulled: all bears. Half pulled: that half does, and the pressed one in part.
    assert!(plate([-250.0, -100.0], [false; 2]).iter().sum::<f64>() >= 100.0);
    let bent = plate([250.0, -250.0], [false; 2]);
    assert!(50.0 < bent[1] && bent[0] < 20.0);
    // One edge free: what bears lies at the held one.
    let [held, free] = plate([250.0, 250.0], [false, true]);
    assert!(held < 50.0 && free == 0.0);
}

/// The channel of worked example SX022a: sharp middle lines, t 1.96, lips 19.8, flanges 72 and 64,
/// web 198; the wide flange compressed.
fn channel_sx022() -> Section {
    let corners =
        [(72.0, 178.2), (72.0, 198.0), (0.0, 198.0), (0.0, 0.0), (64.0, 0.0), (64.0, 19.8)];
    Section::sharp(&corners.map(|(x, y)| P::new(x, y)), 1.96)
}

/// Published: A 732.256, I 4495836, centroid 96.88 below the top; by hand from the middle lines.
#[test]
fn the_gross_channel_of_the_worked_example() {
    let values = Values::of(&channel_sx022().moments());
    near(values.area, 732.256, 1e-6);
    near(198.0 - values.centroid.y, 96.88, 1e-3);
    near(values.ix, 4_495_836.0, 1e-3);
}

/// From memory, self-consistent, 0.2 %: effective I 4140000, moduli 40460 and 43260.
#[test]
fn the_effective_channel_of_the_worked_example() {
    let section = channel_sx022();
    let judge = Judge { standard: Standard::En, stress: 350.0, modulus: 210_000.0, k: None };
    let demand = Demand::Bending { toward: P::new(0.0, 1.0), held: true };
    let bears = effective(&section, &demand, &judge);
    let (bottom, inertia) = (bears.values.centroid.y, bears.values.ix);
    near(inertia, 4_140_000.0, 0.002);
    near(198.0 - bottom, 102.3, 0.002);
    near(inertia / (198.0 - bottom), 40_460.0, 0.002);
    near(inertia / bottom, 43_260.0, 0.002);
    assert!(bears.chi < 0.8, "the lip is reduced against distortional buckling");
}

/// Published: h 102, b 120, c 26, t 2, r 10. The example's second moments are those of the middle
/// line, which a wall a thousand times thinner shows.
#[test]
fn the_lipped_channel_with_true_corners() {
    let walked = |t: f64| {
        let radius = 11.0 - t / 2.0;
        let legs = [(14.0, 90.0), (96.0, 90.0), (78.0, 90.0), (96.0, 90.0), (14.0, 0.0)];
        Section::walked(P::new(0.0, 0.0), &legs.map(|(flat, turn)| (flat, turn, radius)), t)
    };
    let values = Values::of(&walked(2.0).moments());
    near(values.area, 734.23, 1e-5);
    near(walked(2.0).middle_line(), 367.115, 1e-5);
    // The web's outer face lies at y = 11 + 96 + 11 + 1.
    near(119.0 - values.centroid.y, 51.964, 1e-4);
    let line = Values::of(&walked(0.002).moments());
    near(line.iy * 1000.0, 1_391_470.0, 1e-5);
    near(line.ix * 1000.0, 1_405_250.0, 1e-5);
    assert!(line.iy * 1000.0 < values.iy && values.iy < line.iy * 1000.0 * 1.001);
}

/// Handbook closed forms of a ring: half of one about its own diameter and its chord.
#[test]
fn a_half_ring_has_the_values_of_the_handbook() {
    let (outer, inner) = (12.0_f64, 10.0_f64);
    let half = Section::walked(P::new(0.0, 0.0), &[(0.0, 180.0, 10.0), (0.0, 0.0, 0.0)], 2.0);
    let values = Values::of(&half.moments());
    let area = PI * (outer.powi(2) - inner.powi(2)) / 2.0;
    let reach =
        4.0 / (3.0 * PI) * (outer.powi(3) - inner.powi(3)) / (outer.powi(2) - inner.powi(2));
    near(values.area, area, 1e-12);
    near(values.centroid.x, reach, 1e-12);
    let about_diameter = PI * (outer.powi(4) - inner.powi(4)) / 8.0;
    near(values.ix, about_diameter, 1e-12);
    near(values.iy, about_diameter - area * reach * reach, 1e-10);
}

/// Handbook: a channel of flanges b and web h has its shear centre 3 b² / (6 b + h) behind the web
/// and the warping constant t h² b³ / 12 · (3 b + 2 h) / (6 b + h); a zed t h² b³ / 12 ·
/// (b + 2 h) / (2 b + h).
#[test]
fn shear_centre_and_warping_are_those_of_the_handbook() {
    let (h, b, t) = (100.0, 50.0, 0.01);
    let of = |corners: [(f64, f64); 4]| -> Thin {
        thin(&Section::sharp(&corners.map(|(x, y)| P::new(x, y)), t))
    };
    let channel = of([(b, h), (0.0, h), (0.0, 0.0), (b, 0.0)]);
    near(-channel.shear_centre.x, 3.0 * b * b / (6.0 * b + h), 1e-6);
    near(channel.shear_centre.y, h / 2.0, 1e-9);
    let warps = t * h * h * b * b * b / 12.0;
    near(channel.warping, warps * (3.0 * b + 2.0 * h) / (6.0 * b + h), 1e-6);
    near(channel.torsion, 200.0 * t * t * t / 3.0, 1e-12);
    let zed = of([(-b, h), (0.0, h), (0.0, 0.0), (b, 0.0)]);
    near(zed.warping, warps * (b + 2.0 * h) / (2.0 * b + h), 1e-6);
    assert!(zed.shear_centre.distance(P::new(0.0, h / 2.0)) < 1e-6);
    let angle = thin(&Section::sharp(&[P::new(b, 0.0), P::new(0.0, 0.0), P::new(0.0, b)], t));
    assert!(angle.shear_centre.length() < 1e-6 && angle.warping < 1e-9 * warps);
}

/// Bredt: a square tube of middle side a and thickness t has a³ t.
#[test]
fn a_closed_cell_has_bredts_constant() {
    let corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (0.0, 60.0)];
    let walls = corners.map(|(x, y)| (P::new(x, y), 3.0));
    near(closed_torsion(&walls), 60.0_f64.powi(3) * 3.0, 1e-12);
}

/// Standard beam tables, worked: w 1 N/mm, L 2000, E 210000, I 10⁶: 500000 N mm, 0.99206 mm.
#[test]
fn beams_are_those_of_the_tables() {
    let (modulus, inertia) = (210_000.0, 1e6);
    let line = Beam { span: 2000.0, line: 1.0, point: 0.0, spread: 0.0 };
    near(line.moment(), 500_000.0, 1e-12);
    near(line.deflection(modulus, inertia), 0.992_06, 1e-5);
    let point = Beam { span: 2000.0, line: 0.0, point: 300.0, spread: 0.0 };
    near(point.moment(), 150_000.0, 1e-12);
    near(point.deflection(modulus, inertia), 300.0 * 8e9 / (48.0 * modulus * inertia), 1e-12);
    near(line.reaction() + point.reaction(), 1000.0 + 300.0, 1e-12);
    // A patch of a in the middle: P (2 L - a) / 8 and P (8 L³ - 4 L a² + a³) / 384 E I.
    let patch = Beam { span: 1000.0, line: 0.0, point: 3000.0, spread: 600.0 };
    near(patch.moment(), 525_000.0, 1e-12);
    near(patch.deflection(modulus, inertia), 3000.0 * 6.776e9 / (384.0 * 2.1e11), 1e-12);
    // Spread over all of it, it is a line load; what lies beyond the supports does not count.
    for spread in [2000.0, 5000.0] {
        let all = Beam { span: 2000.0, line: 0.0, point: spread, spread };
        near(all.moment(), line.moment(), 1e-12);
        near(all.deflection(modulus, inertia), line.deflection(modulus, inertia), 1e-12);
    }
    let arm = Cantilever { length: 500.0, line: 1.0, point: 40.0 };
    near(arm.moment(), 125_000.0 + 20_000.0, 1e-12);
    let bent = 6.25e10 / 8.0 + 40.0 * 1.25e8 / 3.0;
    near(arm.deflection(modulus, inertia), bent / (modulus * inertia), 1e-12);
}

/// EN 1993-1-1 table of curve c, from memory: 0.54 at a slenderness of 1; a channel turns before it
/// bends as the closed form for one axis of symmetry says.
#[test]
fn posts_buckle_as_the_closed_forms_say() {
    near(reduction(1.0), 0.54, 0.002);
    assert_eq!(reduction(0.2), 1.0);
    let corners = [(60.0, 100.0), (0.0, 100.0), (0.0, 0.0), (60.0, 0.0)];
    let channel = Section::sharp(&corners.map(|(x, y)| P::new(x, y)), 2.0);
    let (values, thin) = (Values::of(&channel.moments()), thin(&channel));
    let (length, modulus) = (2000.0, 210_000.0);
    let found = critical(&values, &thin, length, modulus);
    let wave = PI * PI * modulus / (length * length);
    near(found.euler, wave * values.iy.min(values.ix), 1e-9);
    let way = values.centroid.x - thin.shear_centre.x;
    let polar = (values.ix + values.iy) / values.area + way * way;
    let turn = (modulus / 2.6 * thin.torsion + wave * thin.warping) / polar;
    let (bend, beta) = (wave * values.ix, 1.0 - way * way / polar);
    let root = ((bend + turn) * (bend + turn) - 4.0 * beta * bend * turn).sqrt();
    let coupled = (bend + turn - root) / (2.0 * beta);
    near(found.turning, coupled.min(wave * values.iy), 1e-9);
}
