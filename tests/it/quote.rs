//! Quotes: rows that add up, prices on request, dates, and pages that a customer may see.

use blankwright::draw::{Item, Offer, Sheet, quote_pages};
use blankwright::note::Notes;
use blankwright::quote::{Kind, Quote, Subject, later, work_out};
use blankwright::release::quote_csv;
use blankwright::shelf::{Shelf, Shop};
use blankwright::spec::{self, QuoteAsk};

use crate::draw_collisions::collisions;
use crate::law_stock::STOCK;
use crate::shelf::FILES;
use crate::site_cut::{Door, spec as door};

fn doors() -> [Door; 3] {
    let inches = door("20ft", "right", [2100.0, 2900.0], "[foam]\nthickness = 0");
    let inches = inches.replace("title =", "units = \"in\"\ntitle =").replace("2100.0", "\"7 ft\"");
    let inches = inches.replace("2900.0", "\"9 ft 6 in\"").replace("1950", "\"6 ft 5 in\"");
    let end = include_str!("../../sample-specs/kelp-hall-door.toml").to_owned();
    let side = door("40ft-high-cube", "left", [2440.0, 5000.0], "");
    [side, inches, end].map(|text| Door::of(&text))
}

fn ask() -> QuoteAsk {
    QuoteAsk {
        customer: vec!["Otter Sound research station".into(), "Pier 3".into()],
        valid_days: Some(45),
        options: vec!["Trims powder coated.".into()],
    }
}

fn quote(door: &Door, shop: &Shop) -> Quote {
    let made = &door.made;
    work_out(&Subject {
        kit: &made.kit,
        folded: &made.folded,
        blanks: &made.blanks,
        shop,
        laid: None,
        ask: &ask(),
    })
}

fn pages(door: &Door, quote: &Quote) -> Vec<Sheet> {
    let made = &door.made;
    let (kit, folded, blanks) = (&made.kit, made.folded.as_slice(), made.blanks.as_slice());
    quote_pages(&Offer { kit, folded, blanks, site: Some(&door.site), quote })
}

fn words(sheet: &Sheet) -> String {
    let texts = sheet.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text.content.as_str()),
        Item::Shape { .. } => None,
    });
    texts.collect::<Vec<_>>().join(" ")
}

fn csv(quote: &Quote) -> String {
    String::from_utf8(quote_csv(quote)).unwrap()
}

/// Cents of `12.34`.
fn cents(text: &str) -> i64 {
    text.replace('.', "").parse().unwrap()
}

/// Ten-thousandths of `1.25`.
fn fine(text: &str) -> i64 {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    format!("{whole}{part:0<4}").parse().unwrap()
}

#[test]
fn rows_of_the_list_add_up_to_the_price() {
    for door in doors() {
        let made = quote(&door, &STOCK.shelf.shop);
        let text = csv(&made);
        let rows: Vec<Vec<&str>> = text.lines().map(|line| line.split(',').collect()).collect();
        let (price, rows) = (rows.last().unwrap(), &rows[1..rows.len() - 1]);
        let sum: i64 = rows.iter().map(|row| cents(row[5])).sum();
        assert_eq!(price[0], "price");
        assert_eq!((cents(price[5]), Some(sum)), (sum, made.price));
        let step = STOCK.shelf.shop.rates.as_ref().unwrap().rounding as i64 * 100;
        assert_eq!(sum % step, 0);
        for row in rows.iter().filter(|row| row[0] != "rounding") {
            // Twice the amount in millionths of a cent against the exact product: half up.
            let exact = fine(row[2]) * fine(row[4]) / if row[0] == "margin" { 100 } else { 1 };
            let off = 2 * exact - 2_000_000 * cents(row[5]);
            assert!((-1_000_000..1_000_000).contains(&off), "{row:?}");
        }
    }
}

#[test]
fn without_rates_the_price_is_on_request() {
    let [door, ..] = doors();
    let mut shop = STOCK.shelf.shop.clone();
    let rates = shop.rates.as_mut().unwrap();
    let id = door.made.kit.parts[0].material.id.clone();
    rates.materials.retain(|(known, _)| *known != id);
    let partly = quote(&door, &shop);
    assert_eq!((partly.price, &partly.unpriced), (None, &vec![id.clone()]));
    assert!(csv(&partly).contains(&format!("on request: no rate for {id}")));
    shop.rates = None;
    let none = quote(&door, &shop);
    assert!(none.rows.is_empty() && none.price.is_none());
    assert_eq!(none.valid_days, 45);
    for quote in [partly, none] {
        let first = words(&pages(&door, &quote)[0]);
        assert!(first.contains("Price of one kit on request"), "{first}");
    }
}

/// 48 brackets, 160 long and 62 wide with 50 of rise, are no tower.
#[test]
fn many_small_parts_lie_in_piles_side_by_side() {
    let struts = Door::of(include_str!("../../sample-specs/lab-struts.toml"));
    let [long, wide, high] = quote(&struts, &STOCK.shelf.shop).package;
    assert!(high <= long && wide <= long && long < 1000.0, "{long} x {wide} x {high}");
    let one: f64 = 62.0 * 75.0 * 160.0;
    assert!(long * wide * high > 48.0 * one, "{long} x {wide} x {high}");
    // A door's long frames stay one pile, as long as the frame.
    let [long, wide, high] = quote(&doors()[0], &STOCK.shelf.shop).package;
    assert!(2000.0 < long && wide < 900.0 && high < 900.0, "{long} x {wide} x {high}");
}

#[test]
fn dates_are_counted_by_the_calendar() {
    let cases = [
        ("2026-11-02", 45, "2026-12-17"),
        ("2026-12-31", 1, "2027-01-01"),
        ("2028-02-28", 2, "2028-03-01"),
        ("2100-02-28", 1, "2100-03-01"),
        ("2000-02-28", 1, "2000-02-29"),
        ("2026-01-01", 730, "2028-01-01"),
    ];
    for (date, days, then) in cases {
        assert_eq!(later(date, days).as_deref(), Some(then), "{date} {days}");
    }
    assert_eq!(later("soon", 3), None);
}

#[test]
fn every_page_is_marked_and_shows_nothing_of_the_shop() {
    for door in doors() {
        let made = quote(&door, &STOCK.shelf.shop);
        let sheets = pages(&door, &made);
        assert!(sheets.len() <= 2, "{}", sheets.len());
        for sheet in &sheets {
            assert_eq!(collisions(sheet), Vec::<String>::new(), "{}", door.made.kit.inches);
            let words = words(sheet);
            assert!(words.contains("NOT FOR FABRICATION"), "{words}");
            for secret in ["margin", "laser", "rate", "per kg", "handling"] {
                let told = words.split(|c: char| !c.is_alphabetic()).any(|word| word == secret);
                assert!(!told, "{secret}: {words}");
            }
            for row in made.rows.iter().filter(|row| row.kind != Kind::Rounding) {
                let amount = format!(" {}.{:02} ", row.amount / 100, row.amount % 100);
                assert!(!words.contains(&amount), "{amount}: {words}");
            }
        }
        let all = sheets.iter().map(words).collect::<Vec<_>>().join(" ");
        let kit = &door.made.kit;
        for told in kit.parts.iter().map(|part| &part.title).chain(&ask().customer) {
            assert!(all.contains(told), "{told}");
        }
        let until = later(&kit.date, 45).unwrap();
        assert!(all.contains("Trims powder coated.") && all.contains(&until), "{all}");
    }
}

#[test]
fn faults_in_rates_and_wishes_are_told_where_they_stand() {
    let told = |from: &str, to: &str| {
        let mut files = FILES;
        let text = FILES[2].1.replacen(from, to, 1);
        assert_ne!(text, FILES[2].1);
        files[2].1 = &text;
        let mut notes = Notes::default();
        let shelf = Shelf::read(&files, &mut notes);
        (shelf, notes.all().iter().map(|f| f.message.clone()).collect::<Vec<_>>().join("\n"))
    };
    for (from, to, word) in [
        ("laser_hour = 95 ", "laser_hour = -1 ", "laser_hour"),
        ("margin_percent = 25 ", "", "margin_percent"),
        ("per_kg = 1.65", "per_kg = \"much\"", "per_kg"),
        ("currency = \"EUR\"", "currency = \"\"", "currency"),
        ("valid_days = 30 ", "valid_days = 2.5 ", "valid_days"),
        ("bend = 1.4 ", "bends = 1.4 ", "bends"),
    ] {
        let (shelf, text) = told(from, to);
        assert!(shelf.is_none() && text.contains(word), "{to}: {text}");
    }
    let mut notes = Notes::default();
    let head = "kit = \"OTS-0901\"\ntemplate = \"vent\"\nrevision = \"A\"\ndate = \"2026-03-02\"\n";
    let text = format!("{head}[quote]\nvalid_days = 0\ncustomer = [\"\"]\ncolour = 3\n");
    spec::parse("spec.toml", &text, &mut notes);
    let codes: Vec<&str> = notes.sorted().iter().map(|finding| finding.check).collect();
    assert!(codes.contains(&"spec.valid-days") && codes.len() >= 2, "{codes:?}");
}
