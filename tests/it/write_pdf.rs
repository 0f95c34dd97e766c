//! PDF files: of the paper's size, with text that reads back, the same every time.

use std::collections::BTreeMap;

use blankwright::draw::{Fill, Item, Pen, Shape, Sheet, Text};
use blankwright::write::{self, About, PdfPages};

use crate::write_sheet::{point, sheet, stroke, text};

fn about() -> About {
    About {
        title: "Side frame, pr\u{f8}ve".to_owned(),
        author: "M. Tern".to_owned(),
        subject: "Shop drawing".to_owned(),
        date: "2026-03-02".to_owned(),
    }
}

fn with(items: Vec<Item>) -> Sheet {
    Sheet { width: 420.0, height: 297.0, title: "Page".to_owned(), items }
}

/// Every compressed stream of a file, unpacked, in the file's order.
fn streams(pdf: &[u8]) -> Vec<Vec<u8>> {
    let (open, close) = (b"stream\n", b"\nendstream");
    let find = |from: usize, what: &[u8]| {
        pdf[from..].windows(what.len()).position(|w| w == what).map(|at| from + at)
    };
    let (mut streams, mut from) = (Vec::new(), 0);
    while let Some(start) = find(from, open).map(|at| at + open.len()) {
        let end = find(start, close).expect("every stream ends");
        let unpacked = miniz_oxide::inflate::decompress_to_vec_zlib(&pdf[start..end]);
        streams.push(unpacked.expect("a sound stream"));
        from = end + close.len();
    }
    streams
}

/// The operators of a file's first page.
fn content(pdf: &[u8]) -> String {
    String::from_utf8(streams(pdf).remove(0)).expect("operators are ASCII")
}

/// The texts of a page through the file's own map from glyphs to characters.
fn read_back(pdf: &[u8]) -> Vec<String> {
    let map: String = streams(pdf)
        .iter()
        .filter_map(|stream| std::str::from_utf8(stream).ok())
        .find(|text| text.contains("beginbfchar"))
        .expect("a character map")
        .to_owned();
    let hex = |text: &str| u16::from_str_radix(text.trim_matches(['<', '>']), 16).ok();
    let characters: BTreeMap<u16, char> = map
        .lines()
        .filter_map(|line| line.split_once("> <"))
        .filter_map(|(glyph, c)| Some((hex(glyph)?, char::from_u32(hex(c)?.into())?)))
        .collect();
    let shown = |line: &str| -> Option<String> {
        let digits = line.strip_prefix('<')?.strip_suffix("> Tj")?.as_bytes().to_vec();
        digits
            .chunks(4)
            .map(|glyph| characters.get(&hex(std::str::from_utf8(glyph).ok()?)?).copied())
            .collect()
    };
    content(pdf).lines().filter_map(shown).collect()
}

#[test]
fn operators_of_a_sheet_with_one_of_everything() {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("../cases/write");
    settings.set_prepend_module_to_snapshot(false);
    let pdf = write::pdf(&[sheet()], &about());
    settings.bind(|| insta::assert_snapshot!("everything-pdf", content(&pdf)));
}

/// A3 is 420 x 297 mm: 1190.551 x 841.890 points.
#[test]
fn the_page_is_exactly_the_paper() {
    let pdf = write::pdf(&[with(Vec::new())], &about());
    let text = String::from_utf8_lossy(&pdf);
    for name in ["MediaBox", "CropBox", "TrimBox"] {
        assert!(text.contains(&format!("/{name} [0 0 1190.5511 841.8898]")), "{name}");
    }
    assert!(!text.contains("FontFile2"), "no text, no font");
}

#[test]
fn text_reads_back() {
    let signs = "12 \u{d7} \u{2300}4.9 \u{b1}0.2\u{b0} \u{2013} \u{2014} \u{2026} 7\u{2032}6\u{2033} \
                 \u{bd}\u{bc}\u{be}\u{215b}\u{215c}\u{215d}\u{215e} \u{2192}\u{2191}\u{2193} \
                 \u{25b2}\u{25bc}\u{25b3} <&> \\ ( )";
    let pdf = write::pdf(&[with(vec![Item::Text(text(10.0, 10.0, signs))])], &about());
    assert_eq!(read_back(&pdf), [signs]);
}

/// Greek and Cyrillic are in the typeface but not in the common subset; Chinese is in neither.
#[test]
fn unusual_characters_are_embedded_or_visibly_replaced() {
    let items = vec![Item::Text(text(10.0, 10.0, "\u{3a8}\u{416} \u{4e2d}\u{7}"))];
    let pdf = write::pdf(&[with(items)], &about());
    assert_eq!(read_back(&pdf), ["\u{3a8}\u{416} \u{fffd}\u{fffd}"]);
}

#[test]
fn same_sheets_same_bytes_on_any_thread() {
    let make = || write::pdf(&[sheet(), with(Vec::new())], &about());
    let there = std::thread::spawn(make);
    assert!(make() == there.join().expect("no panic"));
}

/// A page made for a whole set is, in a document of its own, the page made alone.
#[test]
fn pages_made_together_are_those_made_alone() {
    let blank = || with(Vec::new());
    let texts = (0..4000).map(|i| Item::Text(text(f64::from(i), 1.5, "A long page")));
    let set = [blank(), sheet(), with(texts.collect()), blank()];
    let pages = PdfPages::of(&set);
    assert!(pages.document(0..4, &about()) == write::pdf(&set, &about()));
    for (i, alone) in set.iter().enumerate() {
        let document = pages.document(i..i + 1, &about());
        assert!(document == write::pdf(std::slice::from_ref(alone), &about()), "page {i}");
    }
}

#[test]
fn what_it_says_of_itself_is_what_it_was_told() {
    let pdf = write::pdf(&[sheet()], &About { title: "T (1)".to_owned(), ..about() });
    let pdf = String::from_utf8_lossy(&pdf).into_owned();
    assert!(pdf.contains("/Title (T \\(1\\))") || pdf.contains("/Title (T (1))"));
    assert!(pdf.contains("/CreationDate (D:20260302)"));
    let undated = write::pdf(&[sheet()], &About { date: "soon".to_owned(), ..about() });
    assert!(!String::from_utf8_lossy(&undated).contains("CreationDate"));
}

/// One coordinate of a cubic curve at a share of its way.
fn bezier([a, b, c, d]: [f64; 4], share: f64) -> f64 {
    let rest = 1.0 - share;
    a * rest.powi(3)
        + 3.0 * b * share * rest.powi(2)
        + 3.0 * c * share * share * rest
        + d * share.powi(3)
}

/// How far the ends, the middle and the quarters of a curve lie off a circle at most.
fn off_circle(curve: [[f64; 4]; 2], centre: (f64, f64), radius: f64) -> f64 {
    let shares = [0.0, 0.25, 0.5, 0.75, 1.0];
    let off = shares.map(|share| {
        let [px, py] = curve.map(|controls| bezier(controls, share));
        let (dx, dy) = (px - centre.0, py - centre.1);
        ((dx * dx + dy * dy).sqrt() - radius).abs()
    });
    off.into_iter().fold(0.0, f64::max)
}

/// The middle of each curve, and its quarters, lie on the circle to 0.03 % of its radius.
#[test]
fn arcs_follow_their_circles() {
    let (x, y, radius) = (200.0, 150.0, 100.0);
    let shapes = [
        Shape::Circle(point(x, y), radius),
        Shape::Arc(point(x, y), radius, 10.0, 75.0),
        Shape::Arc(point(x, y), radius, 170.0, 100.0),
    ];
    for shape in shapes {
        let pdf = write::pdf(&[with(vec![stroke(shape, Pen::Outline)])], &about());
        let content = content(&pdf);
        let mut here = (0.0, 0.0);
        let mut curves = 0;
        for line in content.lines() {
            let n: Vec<f64> = line.split(' ').filter_map(|word| word.parse().ok()).collect();
            if line.ends_with(" m") {
                here = (n[0], n[1]);
            }
            if line.ends_with(" c") && n.len() == 6 {
                curves += 1;
                let curve = [[here.0, n[0], n[2], n[4]], [here.1, n[1], n[3], n[5]]];
                let off = off_circle(curve, (x, y), radius);
                assert!(off < 0.03, "{off}");
                here = (n[4], n[5]);
            }
        }
        assert!(curves > 0);
    }
}

/// A pen or a grey is set again only where it changes; texts after a fill are black again.
#[test]
fn state_follows_the_items() {
    let square = crate::write_sheet::path(&[(0.0, 0.0, 0.0), (9.0, 0.0, 0.0), (9.0, 9.0, 0.0)]);
    let filled = |fill| Item::Shape {
        shape: Shape::Closed(vec![square.clone()]),
        pen: Some(Pen::Narrow),
        fill,
    };
    let label = || Item::Text(text(1.0, 1.0, "A"));
    let big = Item::Text(Text { height: 5.0, ..text(1.0, 1.0, "B") });
    let items = vec![filled(Fill::Tint(20)), label(), label(), big, filled(Fill::Paper), label()];
    let content = content(&write::pdf(&[with(items)], &about()));
    let operators: Vec<&str> =
        content.lines().filter_map(|line| line.split(' ').next_back()).collect();
    let expected =
        "cm j g d m l l h B* g BT Tf Tm Tj Tm Tj Tf Tm Tj ET g m l l h B* g BT Tf Tm Tj ET";
    assert_eq!(operators.join(" "), expected);
}
