//! The data files of shop and containers as they are shipped, held against closed formulas and the
//! standards named; and what is told about faulty ones.

#![allow(clippy::disallowed_methods, reason = "check values are computed another way")]

use blankwright::note::Notes;
use blankwright::shelf::{Shelf, WallName};

/// The shipped data files.
pub(crate) const FILES: [(&str, &str); 6] = [
    ("shop/materials.toml", include_str!("../../templates/shop/materials.toml")),
    ("shop/fasteners.toml", include_str!("../../templates/shop/fasteners.toml")),
    ("shop/shop.toml", include_str!("../../templates/shop/shop.toml")),
    ("containers/20ft.toml", include_str!("../../templates/containers/20ft.toml")),
    ("containers/40ft.toml", include_str!("../../templates/containers/40ft.toml")),
    (
        "containers/40ft-high-cube.toml",
        include_str!("../../templates/containers/40ft-high-cube.toml"),
    ),
];

/// The shipped shelf.
pub(crate) fn shelf() -> Shelf {
    let mut notes = Notes::default();
    let shelf = Shelf::read(&FILES, &mut notes);
    assert!(notes.is_empty(), "{notes:#?}");
    shelf.unwrap()
}

fn inches(shelf: &Shelf, material: &str, gauge: u32) -> f64 {
    shelf.material(material).unwrap().gauge_mm(gauge).unwrap() / 25.4
}

/// Ounces per square foot of gauges 8 to 26: the US Standard Gauge's steps (act of 1893), 10 oz to
/// gauge 14, 5 to 16, 4 to 20, 2 to 26.
fn ounces(gauge: u32) -> f64 {
    let steps = (8..gauge).map(|g| match g {
        ..14 => 10,
        14..16 => 5,
        16..20 => 4,
        _ => 2,
    });
    f64::from(110 - steps.sum::<i32>())
}

#[test]
fn gauge_tables_follow_their_closed_formulas() {
    let shelf = shelf();
    assert_eq!((ounces(14), ounces(16), ounces(20), ounces(26)), (50.0, 40.0, 24.0, 12.0));
    for gauge in 8..=26 {
        let oz = ounces(gauge);
        // Manufacturers' Standard Gauge: 41.82 lb per square foot and inch.
        let steel = oz / (16.0 * 41.82);
        let galvanized = (oz + 2.5) / (16.0 * 41.82);
        // American wire gauge.
        let aluminium = 0.005 * 92f64.powf((36.0 - f64::from(gauge)) / 39.0);
        for (material, expected, off) in [
            ("mild-steel", steel, 6e-5),
            ("galvanized-dx51d", galvanized, 6e-5),
            ("galvanized-s250gd", galvanized, 6e-5),
            ("stainless-304", oz / 640.0, 1e-6),
            ("aluminium-5754", aluminium, 6e-5),
        ] {
            let found = inches(&shelf, material, gauge);
            assert!((found - expected).abs() < off, "{material} {gauge} ga: {found} {expected}");
        }
    }
    assert!(shelf.material("mild-steel").unwrap().gauge_mm(7).is_none());
    // What is printed: 14 ga galvanized is 0.0785 in, 1.9939 mm.
    assert!((inches(&shelf, "galvanized-dx51d", 14) - 0.0785).abs() < 1e-12);
}

#[test]
fn iso_668_sizes_and_what_follows_from_them() {
    let shelf = shelf();
    let sizes = |id: &str| {
        let outside = shelf.container(id).unwrap().outside;
        (outside.length, outside.width, outside.height)
    };
    // ISO 668: 1CC, 1AA, 1AAA.
    assert_eq!(sizes("20ft"), (6058.0, 2438.0, 2591.0));
    assert_eq!(sizes("40ft"), (12192.0, 2438.0, 2591.0));
    assert_eq!(sizes("40ft-high-cube"), (12192.0, 2438.0, 2896.0));
    // 19 ft 10 1/2 in, 40 ft, 8 ft, 8 ft 6 in, 9 ft 6 in, to the millimetre.
    for (mm, inch) in
        [(6058.0, 238.5), (12192.0, 480.0), (2438.0, 96.0), (2591.0, 102.0), (2896.0, 114.0)]
    {
        assert!((mm - inch * 25.4f64).abs() < 0.6);
    }
    // Two 20 ft with 76 mm between their ends are one 40 ft long.
    assert_eq!(2.0 * sizes("20ft").0 + 76.0, sizes("40ft").0);
    for container in &shelf.containers {
        // ISO 1496-1: least inside height is the outside less 241, least inside width 2330.
        assert!(container.outside.height - 241.0 <= container.inside.height);
        assert!(2330.0 <= container.inside.width);
        let least_length = if container.outside.length < 7000.0 { 5867.0 } else { 11998.0 };
        assert!(least_length <= container.inside.length);
        // ISO 668: least doorway 2286 wide, 2261 or 2566 high.
        let least_height = if container.outside.height < 2700.0 { 2261.0 } else { 2566.0 };
        assert!(2286.0 <= container.doorway[0] && least_height <= container.doorway[1]);
    }
}

#[test]
fn wall_layouts_add_up_between_the_posts() {
    let shelf = shelf();
    for (id, side, flats) in
        [("20ft", 5734.0, 21), ("40ft", 11868.0, 43), ("40ft-high-cube", 11868.0, 43)]
    {
        let container = shelf.container(id).unwrap();
        // Side 72 + 68 + 70 + 68, end 110 + 18 + 104 + 18.
        assert_eq!(container.side.corrugation.pitch(), 278.0);
        assert_eq!(container.end.corrugation.pitch(), 250.0);
        assert_eq!(container.side_length(), side);
        assert_eq!(container.end_length(), 2114.0);
        for (plan, length, count) in [(&container.side, side, flats), (&container.end, 2114.0, 9)] {
            let centres = plan.centres();
            assert_eq!(centres.len(), count);
            let (first, last) = (centres[0], centres[count - 1]);
            assert!((first - (length - last)).abs() < 1e-9, "{id}: {first} {last}");
            let pitch = plan.corrugation.pitch();
            assert!(centres.windows(2).all(|w| (w[1] - w[0] - pitch).abs() < 1e-9));
            // Seams lie in the middle of inner flats.
            for seam in plan.seams() {
                let nearest = centres.iter().map(|c| (c - seam).abs()).fold(f64::MAX, f64::min);
                assert!((nearest - pitch / 2.0).abs() < 1e-9);
            }
        }
        assert_eq!(container.side.seams().len(), 2);
        // Fittings above the roof, roof corrugation, sheet, inside height and floor fill the
        // height.
        let roof = container.roof;
        let stack = container.floor_level
            + container.inside.height
            + roof.thickness
            + roof.depth
            + container.fitting.above_roof;
        assert_eq!(stack, container.outside.height);
    }
    // A front wall on the left in the plan of a trailer's tunnel only where there is one.
    assert!(shelf.container("20ft").unwrap().gooseneck.is_none());
    assert_eq!(shelf.container("20ft").unwrap().fork_pockets.len(), 1);
    assert_eq!(WallName::from_word("front-end"), Some(WallName::FrontEnd));
    assert_eq!(WallName::from_word("front"), None);
}

#[test]
fn holes_are_those_of_the_standards() {
    let shelf = shelf();
    let holes = |id: &str| {
        let fastener = shelf.fastener(id).unwrap();
        (fastener.holes.close, fastener.holes.normal)
    };
    // ISO 273 fine and medium.
    assert_eq!(holes("bolt-m6"), (6.4, 6.6));
    assert_eq!(holes("bolt-m8"), (8.4, 9.0));
    // ISO 15979: nominal + 0.1 to + 0.2.
    assert_eq!(holes("rivet-4.8"), (4.9, 5.0));
    assert_eq!(holes("rivet-6.4"), (6.5, 6.6));
    // ASME B18.2.8: 1/4 in close 17/64, normal 9/32; 5/16 in close 21/64, normal 11/32.
    assert_eq!(holes("bolt-1-4"), (17.0 / 64.0 * 25.4, 9.0 / 32.0 * 25.4));
    assert_eq!(holes("thread-cutting-5-16"), (21.0 / 64.0 * 25.4, 11.0 / 32.0 * 25.4));
    let (close, normal) = holes("wood-screw-8");
    assert!((close - 0.180 * 25.4).abs() < 1e-9 && (normal - 0.196 * 25.4).abs() < 1e-9);
}

#[test]
fn grips_join_without_a_hole_between_them() {
    let shelf = shelf();
    for fastener in &shelf.fasteners {
        for pair in fastener.grips.windows(2) {
            assert_eq!(pair[0].most, pair[1].least, "{}", fastener.id);
        }
    }
    let rivet = shelf.fastener("rivet-4.8").unwrap();
    assert_eq!(rivet.grip(), [1.5, 12.0]);
    assert_eq!(rivet.for_grip(4.0).unwrap().length, 8.0);
    assert_eq!(rivet.for_grip(4.1).unwrap().length, 10.0);
    assert!(rivet.for_grip(1.4).is_none());
    assert!(rivet.for_grip(12.1).is_none());
}

/// What is told when a shipped file is changed.
fn told(file: usize, from: &str, to: &str) -> Vec<(String, String)> {
    let changed = FILES[file].1.replacen(from, to, 1);
    assert_ne!(changed, FILES[file].1, "`{from}` is not in {}", FILES[file].0);
    let mut files = FILES;
    files[file].1 = &changed;
    let mut notes = Notes::default();
    assert!(Shelf::read(&files, &mut notes).is_none());
    let place = |place: &Option<blankwright::note::Place>| {
        place.as_ref().map_or(String::new(), |place| {
            assert!(changed.get(place.span.clone()).is_some());
            place.file.to_string()
        })
    };
    notes.all().iter().map(|f| (format!("{} {}", f.check, f.message), place(&f.place))).collect()
}

#[test]
fn faults_in_the_data_files_are_told_at_their_place() {
    for (file, from, to, expected) in [
        (0, "density = 7850", "density = -1", "shelf.value `material.density` is -1"),
        (0, "density = 7850", "denisty = 7850", "shelf.missing-key `material.density` is missing"),
        (0, "gauge = \"steel\"", "gauge = \"tin\"", "shelf.unknown-id"),
        (0, "id = \"mild-steel\"", "id = \"stainless-304\"", "shelf.id-twice"),
        (0, "[[material]]", "[material", "shelf.syntax"),
        (1, "diameter = 4.8", "diameter = \"thick\"", "shelf.quantity"),
        (1, "kind = \"bolt\"", "kind = \"nail\"", "shelf.value `fastener.kind` is `nail`"),
        (1, "hole = 5.0", "hole = 4.0", "shelf.value `fastener.hole` must not be under"),
        (2, "owner = \"Saltmarsh Modular\"", "owner = \"\"", "shelf.value `shop.owner` is empty"),
        (2, "BEND_UP", "CUT_OUTSIDE", "shelf.value `shop.layers` and the layers of"),
        (2, "name = \"ETCH\"", "name = \"ET/CH\"", "shelf.value `shop.layers.etch.name`"),
        (2, "colour = 7", "colour = 0", "shelf.value `shop.layers.cut_outside.colour` is 0"),
        (2, "laser_class = 1 ", "laser_class = 3 ", "`shop.tolerance.laser_class` is 3"),
        (2, "bend_line = 0.2", "bend_line = -1", "shelf.value `shop.tolerance.bend_line` is -1"),
        (2, "give = \"0.5 deg\"", "give = \"20 deg\"", "`shop.tolerance.give` is 20"),
        (2, "spread = \"normal\"", "spread = \"odd\"", "`shop.tolerance.spread` is `odd`"),
        (1, "hole_head = 5.8", "hole_head = 11", "`fastener.hole_head` must not be under"),
        (2, "[shop]", "[stop]", "shelf.unknown-key"),
        (2, "size = [1000, 2000]", "size = [-1000, 2000]", "of a stock sheet is -1000; it must be"),
        (2, "size = [1000, 2000]", "size = [1000]", "of a stock sheet has 1 sides, not two"),
        (2, "size = [1000, 2000]", "size = [1000, 2000]\ncount = 0", "`shop.sheet.count` is 0"),
        (
            2,
            "[shop.nest]",
            "[[shop.remnant]]\nname = \"R-1\"\nmaterial = \"mild-steel\"\nthickness = 2\n\
             size = [1200, -500]\n[shop.nest]",
            "`shop.remnant.size` of the remnant `R-1` is -500; it must be above 0",
        ),
        (
            2,
            "[shop.nest]",
            "[[shop.remnant]]\nname = \"R-1\"\nmaterial = \"tin\"\nthickness = 2\n\
             size = [1200, 500]\n[shop.nest]",
            "names the material `tin`",
        ),
        (
            2,
            "size = [1000, 2000]",
            "size = [1000, 2000]\nblocked = [[0, 0, 2001, 10]]",
            "is not a list of rectangles [x0, y0, x1, y1] on 2000 × 1000 mm",
        ),
        (
            2,
            "thickness = 1, speed = 450",
            "thickness = 1.5, speed = 450",
            "names a thickness twice",
        ),
        (2, "rapid = 1500", "rapid = 0", "`shop.sheet_work.rapid` is 0; it must be above 0"),
        (3, "first = 87", "first = 20", "shelf.value `container.side` has outer flats on a post"),
        (3, "flats = 15", "flats = 16", "shelf.value `container.side` has outer flats on a post"),
        (3, "floor_level = 168", "floor_level = 468", "shelf.value `container.inside`"),
        (3, "outside = [6058, 2438, 2591]", "outside = [6058, 2438]", "has 2 lengths, not 3"),
    ] {
        let told = told(file, from, to);
        let hit = told.iter().find(|(text, _)| text.contains(expected));
        let (_, place) = hit.unwrap_or_else(|| panic!("{to}: {told:#?}"));
        assert!(place.is_empty() || *place == FILES[file].0, "{place}");
    }
}
