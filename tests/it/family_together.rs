//! Several kits in one spec: openings whole corrugations apart, a closed post between two of them,
//! and what stands in another kit's way.

use std::fmt::Write;

use blankwright::note::Severity;
use blankwright::pipeline::{Built, FileKind, Only, Source, Want, build};
use serde_json::Value;

use crate::law_joints::all_coaxial;
use crate::law_stock::{STOCK, texts};

const HEAD: &str = "revision = \"A\"\ndate = \"2026-11-23\"\n\n[container]\n\
                    type = \"40ft-high-cube\"\nwall = \"left\"\n\n[foam]\nthickness = 50\n";

/// A door's entry; `more` may hold its tables.
fn door(number: &str, more: &str) -> String {
    format!(
        "\n[[kits]]\nkit = \"{number}\"\ntemplate = \"overhead-door\"\ntitle = \"Door\"\n\
         [kits.opening]\nclear_width = 1500\nclear_height = 2200\n{more}\n"
    )
}

fn made(spec: &str) -> Vec<Built> {
    let source = Source { name: "box.toml".into(), bytes: spec.as_bytes().to_vec() };
    let only = Only { kinds: vec![FileKind::Json], ..Only::default() };
    let mut first = build(&source, &STOCK, &Want::Files(only));
    let others = std::mem::take(&mut first.others);
    std::iter::once(first).chain(others).collect()
}

fn kits(spec: &str) -> Vec<Value> {
    let kit = |built: Built| {
        let files = built.files.unwrap_or_else(|| panic!("{spec}\n{:#?}", built.notes));
        serde_json::from_slice(&files[0].bytes).unwrap()
    };
    made(spec).into_iter().map(kit).collect()
}

/// The checks that refuse the kits, told once each.
fn refusals(spec: &str) -> Vec<&'static str> {
    let all = made(spec).into_iter().flat_map(|built| built.notes.all().to_vec());
    let mut checks: Vec<&str> =
        all.filter(|f| f.severity == Severity::Error).map(|f| f.check).collect();
    checks.sort_unstable();
    checks.dedup();
    checks
}

fn value(kit: &Value, name: &str) -> f64 {
    kit["values"][name].as_f64().unwrap()
}

/// Doors placed 1, 2 and 5 corrugations apart stand so many flats from one another, and their cuts
/// are 278 mm a corrugation less twice the way from a flat's middle to the cut.
#[test]
fn openings_stand_whole_corrugations_apart() {
    for apart in [1, 2, 5] {
        let pair = |side: &str| {
            if apart == 1 { format!("[kits.pair]\nside = \"{side}\"") } else { String::new() }
        };
        let mut spec = HEAD.to_string();
        spec += &door("OTS-0831", &format!("centre = 3000\n{}", pair("right")));
        spec += &door("OTS-0832", &format!("apart = {apart}\n{}", pair("left")));
        let kits = kits(&spec);
        let flats = value(&kits[1], "cut.flat_left") - value(&kits[0], "cut.flat_right");
        assert_eq!(flats, f64::from(apart));
        let edge = |kit: &Value, side: f64| {
            value(kit, "cut.centre") + side * value(kit, "cut.width") / 2.0
        };
        let wall = edge(&kits[1], -1.0) - edge(&kits[0], 1.0);
        let offset = value(&kits[0], "cut.offset");
        assert!((wall - (278.0 * f64::from(apart) + 2.0 * offset)).abs() < 1e-6, "{wall}");
        assert!(kits.iter().all(|kit| 40 < all_coaxial(kit)));
    }
}

/// One corrugation apart, two half pitches meet: the returns close a post, bolted from floor to
/// rail; farther apart each frame stands alone.
#[test]
fn frames_one_corrugation_apart_are_bolted_to_a_closed_post() {
    for (apart, side) in [(1, true), (2, false)] {
        let pair = |word: &str| {
            if side { format!("[kits.pair]\nside = \"{word}\"") } else { String::new() }
        };
        let mut spec = HEAD.to_string();
        spec += &door("OTS-0833", &format!("centre = 3000\n{}", pair("right")));
        spec += &door("OTS-0834", &format!("apart = {apart}\n{}", pair("left")));
        let kits = kits(&spec);
        let bolts = kits[1]["neighbours"][0]["bolts"].as_array().unwrap();
        if !side {
            assert!(bolts.is_empty());
            continue;
        }
        assert_eq!(bolts.len(), 1);
        assert_eq!(bolts[0]["fastener"], "bolt-m8");
        // Two sheets of 2 mm and the 1 mm between the returns.
        assert!((bolts[0]["grip"].as_f64().unwrap() - 5.0).abs() < 1e-6);
        let frame = kits[1]["parts"][0]["holes"].as_array().unwrap();
        let mine = frame.iter().filter(|hole| hole["for"] == "bolt-m8").count() as u64;
        assert_eq!(bolts[0]["count"].as_u64().unwrap(), mine);
        bolts_are_ordered_once(&kits, mine);
        let posts = kits[0]["screens"].as_array().unwrap();
        assert!(posts.iter().any(|s| s["name"].as_str().unwrap().contains("second opening")));
    }
}

/// The later kit orders the bolts between the two with the shop's 8 % to spare, rounded up; the
/// first has none.
fn bolts_are_ordered_once(kits: &[Value], count: u64) {
    let row = |kit: &Value| {
        let rows = kit["fasteners"].as_array().unwrap();
        rows.iter().find(|row| row["id"] == "bolt-m8").cloned()
    };
    assert_eq!(row(&kits[0]), None);
    let row = row(&kits[1]).unwrap();
    assert_eq!(row["count"].as_u64().unwrap(), count);
    assert_eq!(row["spare"].as_u64().unwrap(), (count * 8).div_ceil(100));
    let words = format!("{count} of them join this kit to OTS-0833, which orders none");
    assert!(row["title"].as_str().unwrap().ends_with(&words), "{row}");
    let both = kits.iter().map(|kit| &kit["neighbours"][0]["bolts"][0]["ordered_by"]);
    assert!(both.into_iter().all(|by| by == "OTS-0834"));
}

/// What is forgotten is told: the side of the post, the kit before, room between two openings.
#[test]
fn what_does_not_fit_together_is_refused() {
    let two = |first: &str, second: &str| {
        format!("{HEAD}{}{}", door("OTS-0835", first), door("OTS-0836", second))
    };
    let unsaid = refusals(&two("centre = 3000", "apart = 1"));
    assert!(unsaid.contains(&"kits.clash") && unsaid.contains(&"require"), "{unsaid:?}");
    let alone = refusals(&format!("{HEAD}{}", door("OTS-0835", "apart = 3")));
    assert_eq!(alone, ["require"]);
    let over = refusals(&two("centre = 3000", "centre = 4000"));
    assert!(over.contains(&"kits.openings") && over.contains(&"kits.clash"), "{over:?}");
    let twice = format!("{HEAD}{}{}", door("OTS-0837", ""), door("OTS-0837", "apart = 2"));
    assert_eq!(refusals(&twice), ["spec.kits"]);
    let none = HEAD.replacen("revision", "kits = 3\nrevision", 1);
    assert_eq!(refusals(&none), ["spec.kits"]);
}

/// A kit on the wall opposite stands 2438 - 2 x 3 mm away, turned by half a turn; one on the front
/// end a quarter turn. Both directions undo one another.
#[test]
fn kits_on_other_walls_stand_where_those_walls_are() {
    let mut spec = HEAD.to_string();
    spec += &door("OTS-0838", "centre = 6000");
    for (number, wall) in [("OTS-0839", "right"), ("OTS-0840", "front-end")] {
        write!(
            spec,
            "\n[[kits]]\nkit = \"{number}\"\ntemplate = \"strut-bracket\"\ntitle = \"Struts\"\n\
             [kits.container]\nwall = \"{wall}\"\n[kits.bracket]\ntop = 700\n"
        )
        .unwrap();
    }
    let kits = kits(&spec);
    let pose = |kit: &Value, other: usize| -> Vec<f64> {
        let rows = kit["neighbours"][other]["to_site"].as_array().unwrap();
        rows.iter().flat_map(|row| row.as_array().unwrap()).map(|n| n.as_f64().unwrap()).collect()
    };
    let opposite = pose(&kits[0], 0);
    let centre = value(&kits[0], "cut.centre");
    let wanted = [-1.0, 0.0, 0.0, 5934.0 - centre, 0.0, -1.0, 0.0, 2432.0, 0.0, 0.0, 1.0, 0.0];
    opposite.iter().zip(wanted).for_each(|(a, w)| assert!((a - w).abs() < 1e-6, "{opposite:?}"));
    // The front end's outer flats lie 162 - 3 mm before the side wall's left end, its middle half
    // a width in.
    let front = pose(&kits[0], 1);
    let wanted = [0.0, 1.0, 0.0, -159.0 - centre, -1.0, 0.0, 0.0, 1216.0, 0.0, 0.0, 1.0, 0.0];
    front.iter().zip(wanted).for_each(|(a, w)| assert!((a - w).abs() < 1e-6, "{front:?}"));
}

/// Struts on the wall that a door is cut into stand in the way of its frame; where they begin far
/// enough from it they do not.
#[test]
fn struts_in_the_way_of_a_door_are_told() {
    let struts = |first: usize| {
        format!(
            "{HEAD}{}\n[[kits]]\nkit = \"OTS-0844\"\ntemplate = \"strut-bracket\"\n\
             title = \"Struts\"\n[kits.layout]\nfirst = {first}\n[kits.bracket]\ntop = 700\n",
            door("OTS-0843", "centre = 5934")
        )
    };
    assert_eq!(refusals(&struts(0)), ["kits.clash"]);
    assert!(refusals(&struts(7)).is_empty());
}

/// The faults told of a door and struts on the wall opposite whose top stands so far below the
/// ceiling, by the check and what it names.
fn opposite(top: u32, strut: u32) -> Vec<String> {
    let struts = "template = \"strut-bracket\"\ntitle = \"Struts\"\n\
                  [kits.container]\nwall = \"right\"\n";
    let spec = format!(
        "{HEAD}{}\n[[kits]]\nkit = \"OTS-0846\"\n{struts}\
         [kits.bracket]\ntop = {top}\n[kits.strut]\nceiling_gap = {strut}\n",
        door("OTS-0845", "centre = 5934")
    );
    let all = made(&spec).into_iter().flat_map(|built| built.notes.all().to_vec());
    let between = all.filter(|finding| finding.check.starts_with("kits."));
    between.map(|finding| format!("{} {}", finding.check, finding.message)).collect()
}

/// The open door's panels run under the ceiling to the wall opposite, 2343 mm up: brackets up
/// there stand in their way, and so does the strut channel, which is bought and no part of the kit.
#[test]
fn what_one_kit_keeps_free_is_held_against_the_other() {
    let high = opposite(355, 40);
    let way = "what must stay free: way of the door's panels";
    let crossed = |told: &[String], check: &str, what: &str| {
        told.iter().any(|one| one.starts_with(check) && one.contains(way) && one.contains(what))
    };
    assert!(crossed(&high, "kits.clash", "(bracket-stand of OTS-0846)"), "{high:?}");
    assert!(crossed(&high, "kits.room", "what must stay free: strut"), "{high:?}");
    let strut_alone = opposite(700, 40);
    assert!(crossed(&strut_alone, "kits.room", "strut"), "{strut_alone:?}");
    assert!(strut_alone.iter().all(|one| one.starts_with("kits.room")), "{strut_alone:?}");
    assert_eq!(opposite(700, 500), [""; 0]);
}

/// An end joint stands before the doors of its near box: a door kit in that box is seen from it.
#[test]
fn a_joint_and_a_door_share_their_box() {
    let spec = format!(
        "{HEAD}{}\n[[kits]]\nkit = \"OTS-0842\"\ntemplate = \"end-joint\"\ntitle = \"Joint\"\n",
        door("OTS-0841", "centre = 6000")
    );
    let kits = kits(&spec);
    let shift = &kits[1]["neighbours"][0]["to_site"][0][3];
    // Box middle to joint: half a box and half a gap; the wall's middle to the opening's.
    let wanted = value(&kits[0], "cut.centre") - 5934.0 - 6096.0 - 38.0;
    assert!((shift.as_f64().unwrap() - wanted).abs() < 1e-6, "{shift} {wanted}");
}

/// The sample with two doors and struts: three kits, each with the others beside it.
#[test]
fn the_twin_bays_are_three_kits_of_one_box() {
    let samples = texts("sample-specs");
    let twin = samples.iter().find(|source| source.name.ends_with("twin-bays.toml")).unwrap();
    let kits = kits(std::str::from_utf8(&twin.bytes).unwrap());
    let numbers: Vec<&str> = kits.iter().map(|kit| kit["kit"].as_str().unwrap()).collect();
    assert_eq!(numbers, ["OSK-0131", "OSK-0132", "OSK-0133"]);
    assert!(kits.iter().all(|kit| kit["neighbours"].as_array().unwrap().len() == 2));
    assert_eq!(value(&kits[1], "cut.flat_left"), value(&kits[0], "cut.flat_right") + 1.0);
}
