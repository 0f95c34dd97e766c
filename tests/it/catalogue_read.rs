//! Reading catalogues: which variants come of a text, and what is wrong with a text and where.

use blankwright::note::Notes;
use blankwright::spec::{self, Catalogue, SweepTexts};

const HEAD: &str = "kit = \"K-1\"\ntemplate = \"t\"\nrevision = \"A\"\ndate = \"2026-11-25\"\n";

/// The numbers of all variants.
fn numbers(text: &str) -> Vec<String> {
    let (texts, mut notes) = (SweepTexts::default(), Notes::default());
    let text = format!("{HEAD}{text}");
    let catalogue = Catalogue::read("c.toml", &text, &texts, &mut notes);
    let catalogue = catalogue.unwrap_or_else(|| panic!("{:?}", notes.all()));
    (0..catalogue.len()).map(|index| catalogue.number_of(index)).collect()
}

/// The code of the only finding, and the text it points at.
fn fault(text: &str) -> (String, String) {
    let (texts, mut notes) = (SweepTexts::default(), Notes::default());
    let text = format!("{HEAD}{text}");
    let catalogue = Catalogue::read("c.toml", &text, &texts, &mut notes);
    assert!(catalogue.is_none() && notes.len() == 1, "{:?}", notes.all());
    let finding = &notes.all()[0];
    let span = finding.place.as_ref().unwrap().span.clone();
    (finding.check.to_owned(), text[span].to_owned())
}

#[test]
fn a_sweep_makes_the_product_with_the_last_parameter_fastest() {
    let text = "[sweep]\na.x = [1, 2.5]\na.y = { from = 10, to = 31, step = 10 }\n";
    let expected = ["K-1-1-10", "K-1-1-20", "K-1-1-30", "K-1-2P5-10", "K-1-2P5-20", "K-1-2P5-30"];
    assert_eq!(numbers(text), expected);
}

#[test]
fn codes_come_from_the_values_or_are_given() {
    let text = "[sweep]\na.x = [-5, \"18 in\", \"5-1/2 in\", true, \"40ft-high-cube\"]\n";
    let expected = ["K-1-N5", "K-1-18IN", "K-1-5-1-2IN", "K-1-YES", "K-1-40FT-HIGH-CUBE"];
    assert_eq!(numbers(text), expected);
    let text = "[sweep]\na.x = { values = [\"40ft\", [1, 2]], codes = [\"L\", \"M\"] }\n";
    assert_eq!(numbers(text), ["K-1-L", "K-1-M"]);
}

#[test]
fn steps_end_where_they_should_in_spite_of_rounding() {
    let text = "[sweep]\na.x = { from = 0, to = 0.3, step = 0.1 }\n";
    assert_eq!(numbers(text), ["K-1-0", "K-1-0P1", "K-1-0P2", "K-1-0P3"]);
    let text = "[sweep]\na.x = { from = \"20 in\", to = \"16 in\", step = \"-2 in\" }\n";
    assert_eq!(numbers(text), ["K-1-20IN", "K-1-18IN", "K-1-16IN"]);
}

#[test]
fn a_variant_is_the_top_with_its_own_values_over_it() {
    let text = "[a]\nx = 1\ny = 2\n[[variant]]\nsuffix = \"S\"\na.y = 3\n[[variant]]\nkit = \"Z-9\"\n\
                title = \"Own\"\n[sweep]\na.y = [7, 8]\n";
    assert_eq!(numbers(text), ["K-1-S", "Z-9-7", "Z-9-8"]);
    let (texts, mut notes) = (SweepTexts::default(), Notes::default());
    let text = format!("{HEAD}{text}");
    let catalogue = Catalogue::read("c.toml", &text, &texts, &mut notes).unwrap();
    let said = |index: usize| catalogue.variant(index).text;
    assert_eq!(
        said(0),
        "a.x = 1\na.y = 3\ndate = \"2026-11-25\"\nkit = \"K-1-S\"\nrevision = \"A\"\n\
         template = \"t\"\n"
    );
    assert!(said(1).contains("a.y = 7\n") && said(1).contains("title = \"Own, a y 7\"\n"));
}

#[test]
fn the_text_of_a_variant_reads_back_as_the_same_spec() {
    let text = "title = \"A \\\"quoted\\\" \\\\ name\"\n[[variant]]\nsuffix = \"S\"\n\
                [container]\ntype = \"20ft\"\nsurvey = { from = \"left\", centres = [96, 374.5] }\n\
                [[accept]]\ncheck = \"fab.web\"\nreason = \"tried\"\n[g]\na = [1, \"2 in\"]\nb = true\n";
    let (texts, mut notes) = (SweepTexts::default(), Notes::default());
    let text = format!("{HEAD}{text}");
    let catalogue = Catalogue::read("c.toml", &text, &texts, &mut notes).unwrap();
    let variant = catalogue.variant(0);
    let mut one = variant.spec(&mut notes).unwrap();
    let mut other = spec::parse("c.toml", &variant.text, &mut notes).unwrap();
    assert!(notes.is_empty(), "{:?}", notes.all());
    assert_eq!(values(&mut one), values(&mut other));
    assert_eq!(one.accepts[0].reason.value, other.accepts[0].reason.value);
    assert_eq!(one.title.value, "A \"quoted\" \\ name");
}

/// The values of a spec, without their places.
fn values(spec: &mut spec::Spec) -> Vec<String> {
    let survey = spec.container.as_ref().and_then(|choice| choice.survey.clone()).unwrap();
    let centres = survey.centres.iter().map(|said| said.value.to_string());
    let mut given: Vec<String> = spec
        .given
        .iter()
        .map(|given| match &given.value {
            spec::Raw::List(items) => {
                format!("{} {:?}", given.path, items.iter().map(|i| &i.value).collect::<Vec<_>>())
            }
            value => format!("{} {value:?}", given.path),
        })
        .collect();
    given.extend(centres);
    given.sort();
    given
}

#[test]
fn faults_are_told_where_they_stand() {
    for (text, code, at) in [
        ("[sweep]\na.x = { from = 1, to = 2, step = 0 }\n", "catalogue.sweep", "0"),
        ("[sweep]\na.x = { from = 1, to = 2, step = -1 }\n", "catalogue.sweep", "-1"),
        ("[sweep]\na.x = { from = 0, to = 1, step = 1e-9 }\n", "catalogue.sweep", "1e-9"),
        ("[sweep]\na.x = []\n", "catalogue.sweep", "[]"),
        ("[sweep]\na.x = [1, 2, 1.0]\n", "catalogue.sweep", "1.0"),
        ("[sweep]\na.x = [1, [2]]\n", "catalogue.sweep", "[2]"),
        ("[sweep]\na.x = 3\n", "catalogue.sweep", "3"),
        ("[sweep]\na.x = { from = 1, step = 2 }\n", "catalogue.sweep", "{ from = 1, step = 2 }"),
        ("[sweep]\na.x = { values = [1], colour = 2 }\n", "catalogue.sweep", "colour"),
        ("[sweep]\nkit = [\"A\"]\n", "catalogue.sweep", "kit"),
        ("[[variant]]\nsuffix = \"A\"\n[[variant]]\nsuffix = \"A\"\n", "catalogue.twice", "\"A\""),
        ("[[variant]]\nsuffix = \"a b\"\n", "spec.kit-number", "\"a b\""),
        ("[[variant]]\nsuffix = \"A\"\na.x = 1\nsweep.a.x = [1, 2]\n", "catalogue.swept", "x"),
        ("variant = 3\n", "catalogue.variant", "3"),
        ("[catalogue]\nprefix = \"A\"\n", "spec.unknown-key", "prefix"),
    ] {
        let (found, place) = fault(text);
        assert_eq!((found.as_str(), place.as_str()), (code, at), "{text}");
    }
    let (code, _) = fault("[[variant]]\na.x = 1\n");
    assert_eq!(code, "catalogue.variant");
}

#[test]
fn a_product_of_a_thousand_million_is_told_and_not_tried() {
    let axis = |name: &str| format!("a.{name} = {{ from = 1, to = 1000, step = 1 }}\n");
    let text = format!("[sweep]\n{}{}{}", axis("x"), axis("y"), axis("z"));
    let (code, at) = fault(&text);
    assert_eq!(code, "catalogue.many");
    assert!(at.starts_with("[sweep]"), "{at}");
}
