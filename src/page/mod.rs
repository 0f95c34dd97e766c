//! The page that shows a whole kit in a browser: one file, no network.
//!
//! `page.html` says what stands where, `page.css` how it looks, `viewer.js` turns the folded kit.

mod content;
mod sheets;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use minijinja::{Environment, Value, context};

use self::content::{fact_rows, fastener_rows, finding_rows, part_rows};
use self::sheets::sheet_rows;
use crate::flat::Blank;
use crate::kit::Kit;
use crate::note::Finding;
use crate::sheets::{Laid, Wanted};

const PAGE: &str = include_str!("page.html");
const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("viewer.js");

/// What the page shows.
#[derive(Debug, Clone, Copy)]
pub struct Shown<'a> {
    /// The kit.
    pub kit: &'a Kit,
    /// Its blanks in the order of its parts.
    pub blanks: &'a [Blank],
    /// What the checks had to say.
    pub findings: &'a [Finding],
    /// The kit in three dimensions as binary glTF; empty where none is made.
    pub glb: &'a [u8],
    /// Its sheets, where it was laid out.
    pub laid: Option<(&'a [Wanted<'a>], &'a Laid)>,
    /// All files of the kit's folder: paths and contents.
    pub files: &'a [(&'a str, &'a [u8])],
    /// From the page to the catalogue's folder, which holds the files of parts; none where they
    /// stand beside the page.
    pub catalogue: Option<&'a str>,
}

impl Shown<'_> {
    /// The file with this path.
    fn file(&self, path: &str) -> Option<&[u8]> {
        self.files.iter().find(|(other, _)| *other == path).map(|(_, bytes)| *bytes)
    }

    /// What leads from the page to the file with this path.
    fn link(&self, path: &str) -> String {
        match self.catalogue {
            Some(folder) if path.starts_with("parts/") => format!("{folder}/{path}"),
            _ => path.to_owned(),
        }
    }
}

/// The page's bytes; the same kit always gives the same.
pub fn page(shown: &Shown) -> Vec<u8> {
    let Shown { kit, findings, glb, .. } = *shown;
    let mut files = shown.files.to_vec();
    // What the price is made of is the shop's own; this page may go to the customer.
    files.retain(|(path, _)| *path != "quote.csv");
    files.sort_unstable();
    let row = |file: &(&str, &[u8])| {
        context! { path => file.0, link => shown.link(file.0), size => size(file.1.len()) }
    };
    let files: Vec<Value> = files.iter().map(row).collect();
    let values = context! {
        version => env!("CARGO_PKG_VERSION"),
        style => Value::from_safe_string(STYLE.to_owned()),
        script => Value::from_safe_string(SCRIPT.to_owned()),
        glb => Value::from_safe_string(STANDARD.encode(glb)),
        kit => context! {
            number => kit.number.as_str(), title => kit.title.as_str(),
            revision => kit.revision.as_str(),
            family => kit.template.1.as_str(), owner => kit.owner.as_str(),
            site => kit.site.as_str(), date => kit.date.as_str(),
            spec => kit.spec_sha256.as_str(),
        },
        facts => fact_rows(shown),
        parts => part_rows(shown),
        fasteners => fastener_rows(kit),
        sheets => sheet_rows(shown),
        steps => steps(kit),
        container => !kit.container.members.is_empty(),
        findings => finding_rows(findings),
        cautions => texts(&kit.cautions),
        files => files,
        catalogue => shown.catalogue,
    };
    let mut pages = Environment::new();
    pages.set_auto_escape_callback(|_| minijinja::AutoEscape::Html);
    let page = pages.render_str(PAGE, values);
    page.unwrap_or_else(|fault| format!("the page's own pattern is wrong: {fault:#}")).into_bytes()
}

fn steps(kit: &Kit) -> Vec<Value> {
    let steps = kit.steps.iter().map(|step| {
        context! {
            title => step.title.as_str(),
            text => step.text.as_str(),
            cautions => texts(&step.cautions),
        }
    });
    steps.collect()
}

fn texts(texts: &[String]) -> Vec<Value> {
    texts.iter().map(|text| Value::from(text.as_str())).collect()
}

/// A size for people: kilobytes of 1000 bytes, by ISO 80000-13.
fn size(bytes: usize) -> String {
    format!("{} kB", bytes.div_ceil(1000))
}
