//! The JSON schema of a spec's header, for editors. A template's parameters are added to it by
//! whoever knows the template; until then any table is allowed.

use serde_json::{Value, json};

use super::header::WALLS;

/// The schema of the header, with `$defs` for `length`, `lengths`, `angle` and `thickness` that a
/// template's parameters can refer to.
pub fn schema() -> Value {
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Blankwright spec",
        "type": "object",
        "required": ["kit", "template", "revision", "date"],
        "properties": properties(),
        "additionalProperties": {
            "type": ["object", "array"],
            "description": "A group of the template's parameters."
        },
        "$defs": definitions(),
    })
}

/// The schema of files with one kit or with several: what a schema of one kit requires holds for a
/// file without `kits`; with them, each entry may give any key, and the top what they share.
pub fn with_several(mut one: Value) -> Value {
    let required = one.as_object_mut().and_then(|own| own.remove("required"));
    let mut strict = json!({});
    for (name, property) in one["properties"].as_object_mut().into_iter().flatten() {
        if let Some(names) = property.as_object_mut().and_then(|own| own.remove("required")) {
            strict[name] = json!({ "required": names });
        }
    }
    let mut own = one["properties"].clone();
    own.as_object_mut().map(|keys| keys.remove("kits"));
    one["properties"]["kits"] = json!({
        "type": "array",
        "minItems": 1,
        "description": "Kits for one box: what stands at the top holds for all of them.",
        "items": {
            "type": "object",
            "required": ["kit", "template"],
            "properties": own,
            "additionalProperties": one["additionalProperties"],
        },
    });
    one["if"] = json!({ "required": ["kits"] });
    one["else"] = json!({ "required": required, "properties": strict });
    one
}

fn properties() -> Value {
    json!({
        "kit": {
            "type": "string",
            "maxLength": 32,
            "pattern": "^[A-Z0-9]+(-[A-Z0-9]+)*$",
            "description": "Kit number, such as SKB-0914. It names folders and files."
        },
        "template": slug("Name of the kit family."),
        "revision": { "$ref": "#/$defs/revision" },
        "title": line("Title for people; the family's own when left out."),
        "site": line("Where the kit is built in."),
        "date": { "$ref": "#/$defs/date" },
        "drawn_by": line("Who drew it."),
        "approved_by": line("Who approved it."),
        "units": {
            "enum": ["mm", "in"],
            "default": "mm",
            "description": "Units in which drawings read. With \"in\", every length needs its unit."
        },
        "container": container(),
        "sheet": sheet(),
        "accept": list_of(json!({
            "check": { "type": "string", "description": "Name printed with the warning." },
            "subject": { "type": "string", "description": "The one part or joint it is for." },
            "reason": sentence("Why; printed on the drawing set."),
        }), &["check", "reason"], false),
        "revisions": list_of(json!({
            "index": { "$ref": "#/$defs/revision" },
            "date": { "$ref": "#/$defs/date" },
            "text": sentence("What changed."),
        }), &["index", "date", "text"], false),
        "amendments": amendments(),
        "quote": {
            "type": "object",
            "additionalProperties": false,
            "description": "For the quote.",
            "properties": {
                "customer": {
                    "type": "array",
                    "items": line("A line of the customer's address."),
                },
                "valid_days": { "type": "integer", "minimum": 1, "maximum": 730 },
                "options": {
                    "type": "array",
                    "items": sentence("What may be ordered besides."),
                },
            },
        },
        "previous": previous(),
        "overrides": { "type": "object", "description": "Derived values set by hand." },
        "variant": variant(),
        "sweep": sweep(),
        "catalogue": catalogue(),
        "kits": kits(),
    })
}

fn kits() -> Value {
    list_of(
        json!({
            "kit": { "type": "string", "description": "Number of this kit." },
            "template": slug("Name of its kit family."),
        }),
        &["kit", "template"],
        true,
    )
}

fn variant() -> Value {
    list_of(
        json!({
            "suffix": { "type": "string", "description": "Its number behind the catalogue's." },
            "kit": { "type": "string", "description": "Its whole number, in place of a suffix." },
            "title": line("Its title."),
            "sweep": sweep(),
        }),
        &[],
        true,
    )
}

fn catalogue() -> Value {
    json!({
        "type": "object",
        "additionalProperties": false,
        "properties": { "parts": {
            "type": "string",
            "description": "What numbers of shared parts begin with, such as OSK-P."
        } },
    })
}

fn sweep() -> Value {
    json!({
        "type": "object",
        "description": "Parameters with several values each: a list, { values, codes }, or \
                        { from, to, step }. All combinations become kits."
    })
}

fn container() -> Value {
    json!({
        "type": "object",
        "required": ["type"],
        "additionalProperties": false,
        "properties": {
            "type": slug("Container type, such as 40ft-high-cube."),
            "wall": {
                "enum": WALLS,
                "description": "Left and right are those of someone outside who faces the doors."
            },
            "other": slug("Second container end to end with the first, where it is of another type."),
            "survey": {
                "type": "object",
                "required": ["from", "centres"],
                "additionalProperties": false,
                "properties": {
                    "from": {
                        "enum": ["left", "right"],
                        "description": "Corner post measured from, seen from outside."
                    },
                    "length": {
                        "$ref": "#/$defs/length",
                        "description": "Between the two posts' edges at the wall."
                    },
                    "centres": {
                        "$ref": "#/$defs/lengths",
                        "description": "From the post's edge to the centres of outer flats."
                    },
                },
            },
        },
    })
}

fn sheet() -> Value {
    let own = json!({
        "material": { "type": "string", "description": "Id of a material of the shop." },
        "thickness": { "$ref": "#/$defs/thickness" },
        "gauge": { "type": "integer", "minimum": 1, "maximum": 50 },
    });
    let part = json!({ "type": "object", "additionalProperties": false, "properties": own });
    let mut all = own;
    all["parts"] = json!({
        "type": "object",
        "additionalProperties": part,
        "description": "Parts whose sheet differs, by their names in the kit family."
    });
    json!({ "type": "object", "additionalProperties": false, "properties": all })
}

/// The revision before.
fn previous() -> Value {
    json!({
        "type": "string",
        "description": "The revision before, from the spec's folder: a spec, or a kit's folder."
    })
}

/// What came back from the site.
fn amendments() -> Value {
    list_of(
        json!({
            "part": slug("Name of the part in the kit family, with its hand or for both hands."),
            "reason": sentence("Why."),
            "revision": { "$ref": "#/$defs/revision" },
            "cut": deed("A new hole.", &["face", "at", "diameter", "slot", "rectangle", "direction", "for"]),
            "notch": deed("A notch in an edge.", &["on", "from", "to", "depth"]),
            "move": deed("A hole stands elsewhere.", &["face", "hole", "near", "every", "by"]),
            "enlarge": deed("A hole is larger.", &["face", "hole", "near", "every", "diameter", "slot", "rectangle", "direction"]),
            "remove": deed("A hole is left out.", &["face", "hole", "near", "every"]),
        }),
        &["part", "reason", "revision"],
        false,
    )
}

/// What an amendment does, with the keys it may have.
fn deed(description: &str, keys: &[&str]) -> Value {
    let pair = json!({
        "type": "array", "minItems": 2, "maxItems": 2, "items": { "$ref": "#/$defs/length" }
    });
    let key = |key: &str| match key {
        "face" | "on" | "hole" | "for" => json!({ "type": "string" }),
        "every" => json!({ "type": "boolean" }),
        "direction" => json!({ "$ref": "#/$defs/angle" }),
        "at" | "near" | "by" | "slot" | "rectangle" => pair.clone(),
        _ => json!({ "$ref": "#/$defs/length" }),
    };
    let properties: serde_json::Map<String, Value> =
        keys.iter().map(|name| ((*name).to_owned(), key(name))).collect();
    json!({
        "type": "object",
        "additionalProperties": false,
        "description": description,
        "properties": properties,
    })
}

fn slug(description: &str) -> Value {
    json!({ "type": "string", "pattern": "^[a-z0-9-]{1,64}$", "description": description })
}

fn line(description: &str) -> Value {
    json!({ "type": "string", "maxLength": 100, "description": description })
}

fn sentence(description: &str) -> Value {
    json!({ "type": "string", "minLength": 1, "maxLength": 300, "description": description })
}

fn list_of(properties: Value, required: &[&str], open: bool) -> Value {
    json!({
        "type": "array",
        "items": {
            "type": "object",
            "required": required,
            "additionalProperties": open,
            "properties": properties,
        },
    })
}

fn definitions() -> Value {
    json!({
        "length": {
            "description": "Millimetres as a number, or a text with its unit: \"7 ft 6 in\".",
            "anyOf": [{ "type": "number" }, { "type": "string", "pattern": LENGTH }],
        },
        "lengths": { "type": "array", "items": { "$ref": "#/$defs/length" } },
        "angle": {
            "description": "Degrees as a number, or a text: \"5 deg\".",
            "anyOf": [{ "type": "number" }, { "type": "string", "pattern": ANGLE }],
        },
        "thickness": {
            "description": "Millimetres as a number, or a text: \"2 mm\", \"0.0785 in\", \"14 ga\".",
            "anyOf": [
                { "type": "number", "exclusiveMinimum": 0 },
                { "type": "string", "pattern": LENGTH },
                { "type": "string", "pattern": "^ *[0-9]+ *(ga|gauge) *$" },
            ],
        },
        "revision": {
            "type": "string",
            "pattern": "^[A-Z0-9]{1,3}$",
            "description": "Letter or number."
        },
        "date": {
            "type": "string",
            "format": "date",
            "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$",
            "description": "ISO 8601: year-month-day."
        },
    })
}

/// A little wider than what is read: editors show the slip, the program explains it.
const LENGTH: &str = "^ *-?[0-9./ -]+(mm|cm|m|in|inch|inches|\"|(ft|foot|feet|')( *-?[0-9./ -]+(in|inch|inches|\"))?) *$";

const ANGLE: &str = "^ *-?[0-9./ -]+(deg|°) *$";
