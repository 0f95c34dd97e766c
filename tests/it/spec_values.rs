//! Values for a template's parameters, read as what they are meant to be.

use blankwright::note::Notes;
use blankwright::spec::{self, Given, Spec, Thickness, Units, show_length};

fn spec(units: &str) -> Spec {
    let text = format!(
        "kit = \"SKB-0914\"\ntemplate = \"overhead-door\"\nrevision = \"A\"\ndate = \"2025-03-14\"\n\
         units = \"{units}\"\n[v]\nbare = 25.4\nnothing = 0\ntext = \"1 in\"\nword = \"left\"\n\
         yes = true\nslope = 5\nangle = \"5 deg\"\ngauge = \"14 ga\"\n\
         list = [25.4, \"1 in\"]\nmixed = [true, \"x\"]\n"
    );
    let mut notes = Notes::default();
    let spec = spec::parse("values.toml", &text, &mut notes);
    assert!(notes.is_empty(), "{notes:#?}");
    spec.unwrap()
}

/// What reading a value gives, and the codes of what is told.
fn read<T>(
    spec: &Spec,
    key: &str,
    read: impl Fn(&Spec, &Given, &mut Notes) -> Option<T>,
) -> (Option<T>, Vec<&'static str>) {
    let mut notes = Notes::default();
    let value = read(spec, spec.given(&format!("v.{key}")).unwrap(), &mut notes);
    assert_eq!(value.is_none(), notes.has_errors());
    assert!(notes.all().iter().all(|f| f.place.is_some() && !f.help.is_empty()));
    (value, notes.all().iter().map(|f| f.check).collect())
}

#[test]
fn in_millimetres_a_bare_number_is_a_length() {
    let spec = spec("mm");
    assert_eq!(read(&spec, "bare", Spec::length), (Some(25.4), vec![]));
    assert_eq!(read(&spec, "text", Spec::length), (Some(25.4), vec![]));
    assert_eq!(read(&spec, "list", Spec::lengths), (Some(vec![25.4, 25.4]), vec![]));
    assert_eq!(read(&spec, "word", Spec::length), (None, vec!["spec.quantity"]));
    assert_eq!(read(&spec, "yes", Spec::length), (None, vec!["spec.wrong-type"]));
    assert_eq!(read(&spec, "bare", Spec::lengths), (None, vec!["spec.wrong-type"]));
    let both = vec!["spec.wrong-type", "spec.quantity"];
    assert_eq!(read(&spec, "mixed", Spec::lengths), (None, both));
}

#[test]
fn in_inches_a_bare_length_is_refused_with_both_readings() {
    let spec = spec("in");
    assert_eq!(read(&spec, "bare", Spec::length), (None, vec!["spec.unit-missing"]));
    assert_eq!(read(&spec, "nothing", Spec::length), (Some(0.0), vec![]));
    assert_eq!(read(&spec, "text", Spec::length), (Some(25.4), vec![]));
    assert_eq!(read(&spec, "list", Spec::lengths), (None, vec!["spec.unit-missing"]));
    let mut notes = Notes::default();
    spec.length(spec.given("v.bare").unwrap(), &mut notes);
    assert_eq!(notes.all()[0].help, "write \"25.4 in\" or \"25.4 mm\"");
    // Angles and counts have no two readings.
    assert_eq!(read(&spec, "slope", Spec::angle), (Some(5.0), vec![]));
    assert_eq!(read(&spec, "bare", Spec::number), (Some(25.4), vec![]));
}

#[test]
fn the_other_kinds() {
    let spec = spec("mm");
    assert_eq!(read(&spec, "angle", Spec::angle), (Some(5.0), vec![]));
    assert_eq!(read(&spec, "text", Spec::angle), (None, vec!["spec.quantity"]));
    assert_eq!(read(&spec, "yes", Spec::flag), (Some(true), vec![]));
    assert_eq!(read(&spec, "word", Spec::flag), (None, vec!["spec.wrong-type"]));
    assert_eq!(read(&spec, "word", Spec::text), (Some("left".to_owned()), vec![]));
    assert_eq!(read(&spec, "bare", Spec::text), (None, vec!["spec.wrong-type"]));
    assert_eq!(read(&spec, "text", Spec::number), (None, vec!["spec.wrong-type"]));
    assert_eq!(read(&spec, "gauge", Spec::thickness), (Some(Thickness::Gauge(14)), vec![]));
    assert_eq!(read(&spec, "bare", Spec::thickness), (None, vec!["spec.quantity"]));
    assert_eq!(read(&spec, "nothing", Spec::thickness), (None, vec!["spec.quantity"]));
}

#[test]
fn lengths_are_shown_in_the_units_of_the_drawings() {
    assert_eq!(show_length(139.7, Units::Mm), "139.7 mm");
    assert_eq!(show_length(139.7, Units::Inch), "5.5 in (139.7 mm)");
}
