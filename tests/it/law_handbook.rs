//! Worked examples from outside: a bent strip of Machinery's Handbook through the shop's fixed
//! neutral factor, a hem by practice, and the bulges of common arcs.

#![allow(clippy::disallowed_methods, reason = "worked by other trigonometry than the program's")]

use std::f64::consts::PI;

use blankwright::flat::{allowance, unfold};
use blankwright::geom::{BlankFrame, Path, Point, Vertex};
use blankwright::kit::expand;
use blankwright::note::Notes;
use blankwright::resolve::bind;
use blankwright::shelf::BendSource;
use blankwright::units::INCH;
use blankwright::{spec, template};

use crate::law_stock::{SPEC, STOCK, head, make};

/// Machinery's Handbook, 31st edition, page 1421: strip 0.125 in thick, a bend of 180 degrees with
/// R 0.375 (L = 1.338) and one of 60 with R 0.625 (L = 0.707), straight parts 3.5 in all: 5.545.
/// Its formula for soft steel, L = 0.64 T + 1.57 R for 90 degrees, is K = 0.64 / (pi / 2).
#[test]
fn the_bent_strip_of_the_handbook_comes_out_through_a_fixed_factor() {
    let k = 0.64 / (PI / 2.0);
    assert!((allowance(180.0, 0.375, 0.125, k) - 1.338).abs() < 0.001);
    assert!((allowance(60.0, 0.625, 0.125, k) - 0.707).abs() < 0.001);
    let mut shelf = STOCK.shelf.clone();
    shelf.shop.bend_source = BendSource::Fixed(k);
    shelf.shop.bends.clear();
    // Outside sizes: the straight parts and the setbacks, R + T past 90 degrees, else
    // tan(angle / 2) (R + T).
    let (back, corner) = (0.5, 0.75 * (PI / 6.0).tan());
    let legs = [1.5 + back, 1.0 + back + corner, 1.0 + corner].map(|inch| inch * INCH);
    let family = format!(
        "{}[[parts]]\nname = \"strip\"\ntitle = \"Strip\"\nsheet = \"plate\"\n\
         places = [{{ at = [0, 0, 0], x = [1, 0, 0], y = [0, 1, 0] }}]\n\
         [parts.profile]\nlength = 25\nroot = \"a\"\nlegs = [\n\
         {{ name = \"a\", size = {} }},\n\
         {{ name = \"b\", size = {}, bend = \"up\", angle = 180, radius = {} }},\n\
         {{ name = \"c\", size = {}, bend = \"down\", angle = 60, radius = {} }},\n]\n",
        head(0.125 * INCH),
        legs[0],
        legs[1],
        0.375 * INCH,
        legs[2],
        0.625 * INCH,
    );
    let mut notes = Notes::default();
    let template = template::parse("trial.toml", &family, &mut notes).unwrap();
    let spec = spec::parse("spec.toml", SPEC, &mut notes).unwrap();
    let resolved = bind(&spec, &template, &shelf, &mut notes).unwrap();
    let draft = expand(&template, &resolved, &shelf, &mut notes);
    assert!(notes.is_empty(), "{notes:#?}");
    let part = &draft.parts[0];
    assert!(part.bends.iter().all(|bend| bend.k_source == "fixed"));
    let developed = unfold(part).unwrap().width / INCH;
    assert!((developed - 5.545).abs() < 0.001, "{developed}");
}

/// Common practice, no source: a closed hem takes about 0.43 thicknesses less than its two legs.
#[test]
fn a_closed_hem_takes_what_shops_reckon_with() {
    let family = format!(
        "{}[[parts]]\nname = \"strip\"\ntitle = \"Strip\"\nsheet = \"plate\"\n\
         places = [{{ at = [0, 0, 0], x = [1, 0, 0], y = [0, 1, 0] }}]\n\
         [parts.profile]\nlength = 30\nroot = \"a\"\nlegs = [\n\
         {{ name = \"a\", size = 40 }},\n\
         {{ name = \"hem\", size = 12, bend = \"up\", angle = 180, radius = 0 }},\n]\n",
        head(1.5),
    );
    let made = make(&family).unwrap();
    let developed = made.blanks[0].width;
    assert!((developed - (40.0 + 12.0 - 0.43 * 1.5)).abs() < 0.01, "{developed}");
}

/// DXF reference, LWPOLYLINE group 42: tan(angle / 4) for 45, 90, 180 and 270 degrees.
#[test]
fn bulges_are_those_of_the_format() {
    for (angle, bulge) in [(45.0, 0.198_912), (90.0, 0.414_214), (180.0, 1.0), (270.0, 2.414_214)] {
        let radius = 10.0;
        let radians = angle * PI / 180.0;
        let chord = 2.0 * radius * (radians / 2.0_f64).sin();
        let vertex = |x: f64, bulge: f64| Vertex { at: Point::new(x, 0.0), bulge };
        let path: Path<BlankFrame> =
            Path { vertices: vec![vertex(0.0, bulge), vertex(chord, 0.0)] };
        assert!((path.length() - chord - radius * radians).abs() < 1e-4, "{angle}");
        let segment = radius * radius * (radians - radians.sin()) / 2.0;
        assert!((path.area() - segment).abs() < 1e-3, "{angle}");
    }
}
