//! Kits of a family as other programs see them: worked out from a spec, read from `kit.json` alone.

use blankwright::note::{Finding, Severity};
use blankwright::pipeline::{FileKind, Only, Source, Want, build};
use serde_json::Value;

use crate::law_stock::STOCK;
use crate::law_turn::{Motion, Vector};

/// A kit read back.
pub(crate) struct Drawn(Value);

/// The text of a spec of a family, with what follows its head.
pub(crate) fn spec(family: &str, rest: &str) -> String {
    format!(
        "kit = \"OTS-0901\"\ntemplate = \"{family}\"\nrevision = \"A\"\ndate = \"2026-03-02\"\n\
         title = \"Trial\"\n\n{rest}"
    )
}

/// Errors, and warnings that the spec does not accept.
fn is_fault(finding: &Finding) -> bool {
    finding.severity != Severity::Note && finding.accepted.is_none()
}

/// What is found wrong with a spec, errors and warnings by name of the check and subject.
pub(crate) fn faults(text: &str) -> Vec<String> {
    let source = Source { name: "trial.toml".to_string(), bytes: text.as_bytes().to_vec() };
    let built = build(&source, &STOCK, &Want::Findings);
    let grave = built.notes.all().iter().filter(|finding| is_fault(finding));
    grave
        .map(|finding| format!("{} {}: {}", finding.check, finding.subject, finding.message))
        .collect()
}

/// All that is found of a spec, and its `kit.json` where nothing refuses it.
pub(crate) fn told(text: &str) -> (Vec<Finding>, Option<Value>) {
    let source = Source { name: "trial.toml".to_string(), bytes: text.as_bytes().to_vec() };
    let only = Only { kinds: vec![FileKind::Json], ..Only::default() };
    let built = build(&source, &STOCK, &Want::Files(only));
    let kit = built.files.map(|files| serde_json::from_slice(&files[0].bytes).unwrap());
    (built.notes.all().to_vec(), kit)
}

/// Draws a spec; nothing may be wrong with it.
pub(crate) fn drawn(text: &str) -> Drawn {
    let (notes, kit) = told(text);
    let wrong: Vec<_> = notes.iter().filter(|finding| is_fault(finding)).collect();
    assert!(wrong.is_empty(), "{text}\n{wrong:#?}");
    Drawn(kit.expect("a kit without errors has files"))
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn motion(rows: &Value) -> Motion {
    let number = |i: usize, j: usize| rows[i][j].as_f64().unwrap();
    Motion::of_rows([0, 1, 2].map(|i| [0, 1, 2, 3].map(|j| number(i, j))))
}

impl Drawn {
    /// A value by its full name.
    pub(crate) fn value(&self, name: &str) -> f64 {
        self.0["values"][name].as_f64().unwrap_or_else(|| panic!("no number `{name}`"))
    }

    fn part(&self, name: &str) -> &Value {
        let part = list(&self.0["parts"]).iter().find(|part| part["name"] == name);
        part.unwrap_or_else(|| panic!("no part `{name}`"))
    }

    /// What must stay free, as listed.
    pub(crate) fn keep_outs(&self) -> &[Value] {
        list(&self.0["keep_outs"])
    }

    /// How many of a part one kit holds.
    pub(crate) fn quantity(&self, name: &str) -> u64 {
        self.part(name)["quantity"].as_u64().unwrap()
    }

    /// Corners of a face of one instance in the site, both sides of its sheet.
    pub(crate) fn corners(&self, part: &str, face: &str, instance: usize) -> Vec<Vector> {
        let part = self.part(part);
        let face = list(&part["faces"]).iter().find(|f| f["name"] == face);
        let face = face.unwrap_or_else(|| panic!("no such face on {}", part["name"]));
        let seat = motion(&face["to_part"]).then(&motion(&part["places"][instance]));
        let thickness = part["thickness"].as_f64().unwrap();
        let corners = list(&face["outline"]).iter().flat_map(|corner| {
            let at = |z: f64| [corner[0].as_f64().unwrap(), corner[1].as_f64().unwrap(), z];
            [at(0.0), at(thickness)]
        });
        corners.map(|corner| seat.point(corner)).collect()
    }

    /// Least and greatest site coordinate of a face along an axis, 0 to 2 for X to Z.
    pub(crate) fn extent(&self, part: &str, face: &str, axis: usize) -> [f64; 2] {
        let along = self.corners(part, face, 0).into_iter().map(|corner| corner[axis]);
        along.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)])
    }

    /// The fall of a face towards the outside: rise in Z for each millimetre of Y.
    pub(crate) fn fall(&self, part: &str, face: &str) -> f64 {
        let part = self.part(part);
        let face = list(&part["faces"]).iter().find(|f| f["name"] == face).unwrap();
        let seat = motion(&face["to_part"]).then(&motion(&part["places"][0]));
        let normal = seat.vector([0.0, 0.0, 1.0]);
        -normal[1] / normal[2]
    }
}

/// A spec may leave its title out: the kit goes by its family's then, on every sheet.
#[test]
fn a_kit_without_a_title_has_its_familys() {
    for blank in ["", "title = \"\"\n", "title = \"  \"\n"] {
        let text = spec("sample-tray", "").replace("title = \"Trial\"\n", blank);
        assert_eq!(drawn(&text).0["title"], "Sample tray", "{blank:?}");
    }
    assert_eq!(drawn(&spec("sample-tray", "")).0["title"], "Trial");
}
