//! The manifest of a release and what is found against it; digests are those of FIPS 180-2.

use std::fmt::Write;

use blankwright::note::{Finding, Notes};
use blankwright::release::{
    Folder, Frozen, Input, Mate, Program, Recorded, Seen, Thing, audit, manifest, next_revision,
    seal, sha256, stays_inside,
};

const KIT: &[u8] = br#"{"format": "blankwright-kit/1", "kit": "OTS-1", "title": "Mat",
    "revision": "B", "template": "shelf-mat", "values": {}}"#;
const FILES: [(&str, &[u8]); 2] = [("kit.json", KIT), ("parts/OTS-1-01.dxf", b"abc")];

/// SHA-256 of `abc`: FIPS 180-2, appendix B.1.
const ABC: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

fn input<'a>(role: &'a str, name: &'a str, path: &'a str, bytes: &'a [u8]) -> Input<'a> {
    Input { role, name, built_in: role == "shop", path, bytes }
}

fn made(spec: &[u8], version: &str, findings: &[Finding]) -> Vec<u8> {
    let inputs = [
        input("spec", "mat.toml", "inputs/spec.toml", spec),
        input("template", "shelf-mat.toml", "inputs/templates/shelf-mat.toml", b"family"),
        input("shop", "shop.toml", "inputs/templates/shop/shop.toml", b"shop"),
    ];
    let mates = [Mate {
        kit: "OTS-2".to_owned(),
        revision: "B".to_owned(),
        kit_json_sha256: ABC.to_owned(),
    }];
    let program = &program(version);
    let frozen =
        Frozen { files: &FILES, inputs: &inputs, findings, program, builds: 7, mates: &mates };
    manifest(&frozen).unwrap()
}

/// A program of some version, `0.1.0`, or of one of its builds, `0.1.0 1f`.
fn program(version: &str) -> Program {
    let (version, build) = version.split_once(' ').unwrap_or((version, ""));
    Program { version: version.to_owned(), build: build.to_owned() }
}

/// A release as it should stand: its manifest, its list, everything else.
struct Shelf {
    manifest: Option<Vec<u8>>,
    list: Option<Vec<u8>>,
    seen: Vec<Seen>,
}

impl Shelf {
    fn new() -> Self {
        let manifest = made(b"spec", "0.1.0", &[]);
        let recorded = Recorded::read(&manifest).unwrap();
        let seen = recorded.files.iter().map(|file| Seen {
            path: file.path.clone(),
            thing: Thing::File { bytes: file.bytes, sha256: file.sha256.clone() },
        });
        let seen = seen.collect();
        let list = seal(&manifest, &recorded.files);
        Self { manifest: Some(manifest), list: Some(list), seen }
    }

    /// What is told, a line each: the check and what it is about.
    fn told(&self) -> String {
        let mut notes = Notes::default();
        let (manifest, list) = (self.manifest.as_deref(), self.list.as_deref());
        audit(&Folder { manifest, seal: list, seen: &self.seen }, &mut notes);
        let mut lines = String::new();
        for finding in notes.all() {
            writeln!(lines, "{} {}", finding.check, finding.subject).unwrap();
        }
        lines
    }

    fn at(&mut self, path: &str) -> &mut Seen {
        self.seen.iter_mut().find(|seen| seen.path == path).unwrap()
    }
}

fn file(path: &str) -> Seen {
    let thing = Thing::File { bytes: 3, sha256: ABC.to_owned() };
    Seen { path: path.to_owned(), thing }
}

#[test]
fn digests_are_those_of_the_standard() {
    assert_eq!(sha256(b"abc"), ABC);
    let empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
    assert_eq!(sha256(b""), empty);
}

#[test]
fn a_manifest_reads_back() {
    let recorded = Recorded::read(&made(b"spec", "0.1.0", &[])).unwrap();
    assert_eq!((recorded.kit.as_str(), recorded.revision.as_str()), ("OTS-1", "B"));
    assert_eq!((recorded.program.version.as_str(), recorded.builds), ("0.1.0", 7));
    assert_eq!(recorded.together[0].kit, "OTS-2");
    let roles: Vec<&str> = recorded.inputs.iter().map(|input| input.role.as_str()).collect();
    assert_eq!(roles, ["spec", "template", "shop"]);
    assert_eq!(recorded.inputs[0].sha256, sha256(b"spec"));
    let paths: Vec<&str> = recorded.files.iter().map(|file| file.path.as_str()).collect();
    let inputs = ["inputs/spec.toml", "inputs/templates/shelf-mat.toml"];
    assert_eq!(paths[..2], inputs);
    assert_eq!(paths[2..], ["inputs/templates/shop/shop.toml", "kit.json", "parts/OTS-1-01.dxf"]);
    assert_eq!((recorded.files[4].bytes, recorded.files[4].sha256.as_str()), (3, ABC));
}

#[test]
fn a_manifest_tells_accepted_warnings_from_allowed_ones() {
    let mut accepted = Finding::warning("fab.web", "narrow").about("OTS-1-01");
    accepted.accepted = Some("sawn by hand".to_owned());
    let findings = [accepted, Finding::warning("fab.leg", "short"), Finding::note("site", "said")];
    let json: serde_json::Value =
        serde_json::from_slice(&made(b"spec", "0.1.0", &findings)).unwrap();
    assert_eq!(json["accepted"].as_array().unwrap().len(), 1);
    assert_eq!(json["accepted"][0]["accepted"], "sawn by hand");
    assert_eq!(json["allowed"].as_array().unwrap().len(), 1);
    assert_eq!(json["allowed"][0]["check"], "fab.leg");
    assert_eq!(json["findings"].as_array().unwrap().len(), 3);
}

#[test]
fn without_kit_json_there_is_no_manifest() {
    let files: [(&str, &[u8]); 1] = [("kit.json", b"[]")];
    for files in [&files[..], &FILES[1..]] {
        let program = &program("");
        let frozen = Frozen { files, inputs: &[], findings: &[], program, builds: 0, mates: &[] };
        assert_eq!(manifest(&frozen), None);
    }
}

#[test]
fn a_release_as_it_was_made_is_whole() {
    assert_eq!(Shelf::new().told(), "");
}

#[test]
fn every_change_of_a_file_is_told() {
    let count = Shelf::new().seen.len();
    for index in 0..count {
        let mut shelf = Shelf::new();
        let path = shelf.seen[index].path.clone();
        shelf.seen[index].thing = Thing::File { bytes: 3, sha256: sha256(b"abd") };
        assert_eq!(shelf.told(), format!("verify.changed {path}\n"));
        shelf.seen[index].thing = Thing::Other("a link");
        assert_eq!(shelf.told(), format!("verify.changed {path}\n"));
        shelf.seen.remove(index);
        assert_eq!(shelf.told(), format!("verify.missing {path}\n"));
    }
}

#[test]
fn what_is_there_besides_is_told() {
    let mut shelf = Shelf::new();
    shelf.seen.push(file("parts/OTS-1-02.dxf"));
    shelf.seen.push(Seen { path: "old".to_owned(), thing: Thing::EmptyFolder });
    assert_eq!(shelf.told(), "verify.extra old\nverify.extra parts/OTS-1-02.dxf\n");
}

#[test]
fn a_folder_whose_files_are_missing_is_told_once() {
    let mut shelf = Shelf::new();
    shelf.at("parts/OTS-1-01.dxf").thing = Thing::EmptyFolder;
    shelf.at("parts/OTS-1-01.dxf").path = "parts".to_owned();
    assert_eq!(shelf.told(), "verify.missing parts/OTS-1-01.dxf\n");
}

#[test]
fn several_faults_are_told_at_once() {
    let mut shelf = Shelf::new();
    shelf.at("kit.json").path = "kit.jsom".to_owned();
    shelf.at("inputs/spec.toml").thing = Thing::Other("a link");
    let told = "verify.changed inputs/spec.toml\nverify.missing kit.json\nverify.extra kit.jsom\n";
    assert_eq!(shelf.told(), told);
}

#[test]
fn a_changed_manifest_is_told() {
    let text = String::from_utf8(made(b"spec", "0.1.0", &[])).unwrap();
    for (from, to) in [("\"revision\": \"B\"", "\"revision\": \"C\""), ("\n}", "\n} ")] {
        assert!(text.contains(from));
        let shelf =
            Shelf { manifest: Some(text.replacen(from, to, 1).into_bytes()), ..Shelf::new() };
        assert_eq!(shelf.told(), "verify.manifest manifest.json\n", "{from}");
    }
    let mut list = Shelf::new().list.unwrap();
    list[0] ^= 1;
    assert_eq!(
        Shelf { list: Some(list), ..Shelf::new() }.told(),
        "verify.manifest manifest.json\n"
    );
    let mut list = Shelf::new().list.unwrap();
    list.pop();
    let told = "verify.manifest manifest.sha256\n";
    assert_eq!(Shelf { list: Some(list), ..Shelf::new() }.told(), told);
}

#[test]
fn without_its_manifest_a_release_is_held_against_the_list() {
    let mut shelf = Shelf { manifest: None, ..Shelf::new() };
    assert_eq!(shelf.told(), "verify.missing manifest.json\n");
    shelf.seen.pop();
    let told = "verify.missing manifest.json\nverify.missing parts/OTS-1-01.dxf\n";
    assert_eq!(shelf.told(), told);
    let shelf = Shelf { list: None, ..Shelf::new() };
    assert_eq!(shelf.told(), "verify.missing manifest.sha256\n");
    let shelf = Shelf { manifest: Some(b"{".to_vec()), ..Shelf::new() };
    assert_eq!(shelf.told().matches("verify.manifest manifest.json\n").count(), 2);
    let shelf = Shelf { manifest: None, list: None, ..Shelf::new() };
    assert_eq!(shelf.told(), "verify.missing manifest.json\nverify.missing manifest.sha256\n");
}

#[test]
fn a_manifest_of_another_format_or_with_paths_that_lead_out_is_none() {
    let text = String::from_utf8(made(b"spec", "0.1.0", &[])).unwrap();
    for (from, to, told) in [
        ("blankwright-release/1", "blankwright-release/2", "its format is `blankwright-release/2`"),
        ("\"path\": \"kit.json\"", "\"path\": \"../kit.json\"", "`../kit.json`"),
        ("\"path\": \"kit.json\"", "\"path\": \"/kit.json\"", "`/kit.json`"),
        ("\"revision\"", "\"edition\"", "missing field `revision`"),
    ] {
        let fault = Recorded::read(text.replacen(from, to, 1).as_bytes()).unwrap_err();
        assert!(fault.contains(told), "{fault}");
    }
}

#[test]
fn paths_stay_inside() {
    for path in ["kit.json", "parts/OTS-1-01.dxf", "a/..b", ".hidden"] {
        assert!(stays_inside(path), "{path}");
    }
    for path in ["", "/kit.json", "a//b", "..", "a/../b", "./a", "a/", "a\\b", "C:a", "a\nb"] {
        assert!(!stays_inside(path), "{path}");
    }
}

#[test]
fn two_makings_of_a_revision_are_compared_in_words() {
    let read = |spec: &[u8], version| Recorded::read(&made(spec, version, &[])).unwrap();
    let old = read(b"spec", "0.1.0");
    assert!(old.differences(&old).is_empty());
    assert_eq!(old.differences(&read(b"spex", "0.1.0")), ["the spec"]);
    let unknown = "version 0.1.0, build not recorded";
    let newer = format!("the program ({unknown}; now version 0.2.0, build not recorded)");
    assert_eq!(old.differences(&read(b"spex", "0.2.0")), ["the spec", &newer]);
    let same = format!("the program ({unknown}; now version 0.1.0, build 1f, which makes the same");
    assert_eq!(old.differences(&read(b"spec", "0.1.0 1f")), [format!("{same} files)")]);
    let mut other = old.clone();
    other.inputs[2].sha256 = ABC.to_owned();
    assert_eq!(old.differences(&other), ["the shop's data"]);
    let mut other = old.clone();
    other.files[3].sha256 = ABC.to_owned();
    assert_eq!(old.differences(&other), ["what the program makes of the same inputs"]);
}

/// The sources' fingerprint: 64 bits in hexadecimal digits.
#[test]
fn the_running_program_knows_its_build() {
    let program = Program::running();
    assert_eq!(program.version, "0.1.0");
    assert_eq!(program.build.len(), 16);
    assert!(program.build.bytes().all(|b| b.is_ascii_hexdigit()), "{}", program.build);
    let recorded = Recorded::read(&made(b"spec", "0.1.0 1f", &[])).unwrap();
    assert_eq!(recorded.program.build, "1f");
}

/// Letters by ASME Y14.35: without I, O, Q, S, X and Z, AA after Y (from memory).
#[test]
fn revisions_follow_one_another() {
    for (revision, next) in [
        ("A", "B"),
        ("H", "J"),
        ("N", "P"),
        ("P", "R"),
        ("R", "T"),
        ("W", "Y"),
        ("Y", "AA"),
        ("AY", "BA"),
        ("YY", "AAA"),
        ("0", "1"),
        ("9", "10"),
        ("02", "03"),
        ("09", "10"),
    ] {
        assert_eq!(next_revision(revision).as_deref(), Some(next), "{revision}");
    }
    for revision in ["I", "A1", "YYY", "999", "AO"] {
        assert_eq!(next_revision(revision), None, "{revision}");
    }
}
