//! Which parts of a catalogue serve which kits: tables for stores, and a page to read.

use std::collections::BTreeMap;
use std::fmt::Write;

use super::lists::{table, text};
use crate::units;

/// A part of the catalogue.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartRow {
    /// Its number.
    pub number: String,
    /// As printed.
    pub title: String,
    /// Material and thickness.
    pub sheet: String,
}

/// A part in a kit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Use {
    /// Index of the part.
    pub part: usize,
    /// How many the kit has.
    pub quantity: usize,
    /// Index of what follows the kit's number in the part's number when the kit is drawn alone.
    pub ending: usize,
}

/// All kits of a catalogue with their parts.
#[derive(Debug, Clone, Default)]
pub struct Commonality {
    /// The catalogue's number.
    pub catalogue: String,
    /// Its title.
    pub title: String,
    /// Its parts.
    pub parts: Vec<PartRow>,
    /// `01L`, `02`, ...
    pub endings: Vec<String>,
    /// Every kit that was made, in the catalogue's order, with its parts in the order of the kit.
    pub kits: Vec<(String, Vec<Use>)>,
    /// How many variants were refused.
    pub refused: usize,
    /// Kinds of file that each part has, as endings.
    pub part_files: Vec<&'static str>,
    /// Whether each kit has a page of its own.
    pub kit_pages: bool,
}

/// What the kits with one part come to.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Served {
    kits: usize,
    pieces: usize,
    first: usize,
}

/// How much is common.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
struct Totals {
    /// Distinct parts.
    parts: usize,
    /// Those that serve more than one kit.
    shared: usize,
    /// Those that serve every kit.
    everywhere: usize,
    /// Pieces in all kits, one of each.
    pieces: usize,
    /// Those among them that serve more than one kit.
    shared_pieces: usize,
}

impl Commonality {
    /// The parts in the order in which the kits first need them.
    fn served(&self) -> Vec<(usize, Served)> {
        let mut served: BTreeMap<usize, (usize, Served)> = BTreeMap::new();
        for (kit, (_, uses)) in self.kits.iter().enumerate() {
            for part in uses {
                let next = served.len();
                let first = Served { first: kit, ..Served::default() };
                let (_, row) = served.entry(part.part).or_insert((next, first));
                row.kits += 1;
                row.pieces += part.quantity;
            }
        }
        let mut rows: Vec<_> = served.into_iter().collect();
        rows.sort_by_key(|(_, (order, _))| *order);
        rows.into_iter().map(|(part, (_, served))| (part, served)).collect()
    }

    fn totals(&self, served: &[(usize, Served)]) -> Totals {
        let mut totals = Totals { parts: served.len(), ..Totals::default() };
        for (_, row) in served {
            totals.pieces += row.pieces;
            if 1 < row.kits {
                totals.shared += 1;
                totals.shared_pieces += row.pieces;
            }
            totals.everywhere += usize::from(row.kits == self.kits.len());
        }
        totals
    }

    /// In a sentence: how many distinct parts, how many of them in common.
    pub fn sentence(&self) -> String {
        let totals = self.totals(&self.served());
        let kits = self.kits.len();
        format!(
            "{} {} from {} distinct parts; {} serve more than one kit, {} every kit; {} % of {} \
             pieces are common",
            kits,
            if kits == 1 { "kit" } else { "kits" },
            totals.parts,
            totals.shared,
            totals.everywhere,
            percent(totals.shared_pieces, totals.pieces),
            totals.pieces,
        )
    }

    /// Numbers that two different parts share, with the numbers of one kit for each.
    pub fn collisions(&self) -> Vec<(String, String, String)> {
        let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
        let mut collisions = Vec::new();
        for (part, served) in self.served() {
            let row = &self.parts[part];
            let kit = |index: usize| self.kits[index].0.clone();
            if let Some(other) = seen.insert(&row.number, served.first) {
                collisions.push((row.number.clone(), kit(other), kit(served.first)));
            }
        }
        collisions
    }
}

/// A share in hundredths, to a tenth; 0 of nothing.
fn percent(part: usize, whole: usize) -> String {
    let share = if whole == 0 { 0.0 } else { 100.0 * part as f64 / whole as f64 };
    units::number(share, 1)
}

/// One row for each distinct part.
pub fn commonality_csv(all: &Commonality) -> Vec<u8> {
    let head = ["number", "title", "sheet", "kits", "share_of_kits_percent", "pieces", "first_kit"];
    let rows = all.served().into_iter().map(|(part, served)| {
        let row = &all.parts[part];
        [
            text(&row.number),
            text(&row.title),
            text(&row.sheet),
            served.kits.to_string(),
            percent(served.kits, all.kits.len()),
            served.pieces.to_string(),
            text(&all.kits[served.first].0),
        ]
    });
    table(head, rows)
}

/// Name of the list with every part of every kit.
pub const USES_NAME: &str = "uses.csv";

/// One row for each part of each kit.
pub fn uses_csv(all: &Commonality) -> Vec<u8> {
    let head = ["kit", "number", "number_in_kit", "quantity"];
    let rows = all.kits.iter().flat_map(|(kit, uses)| {
        uses.iter().map(move |part| {
            let in_kit = format!("{kit}-{}", all.endings[part.ending]);
            let number = &all.parts[part.part].number;
            [text(kit), text(number), text(&in_kit), part.quantity.to_string()]
        })
    });
    table(head, rows)
}

/// Something to say about one variant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingRow {
    /// The variant's kit number.
    pub kit: String,
    /// `error` or `warning`.
    pub severity: String,
    /// The check.
    pub check: String,
    /// What it is about.
    pub subject: String,
    /// What is said.
    pub message: String,
    /// Why it is accepted.
    pub accepted: String,
}

/// Errors and warnings of all variants.
pub fn findings_csv(rows: impl Iterator<Item = FindingRow>) -> Vec<u8> {
    let head = ["kit", "severity", "check", "subject", "message", "accepted"];
    let rows = rows.map(|row| {
        [
            text(&row.kit),
            row.severity,
            text(&row.check),
            text(&row.subject),
            text(&row.message),
            text(&row.accepted),
        ]
    });
    table(head, rows)
}

/// Most parts in the page's table; the list has them all.
const MOST_PARTS: usize = 400;

/// Most kits that get a column of their own.
const MOST_COLUMNS: usize = 24;

/// The page: how much is common, and which part serves which kits.
pub fn commonality_page(all: &Commonality) -> Vec<u8> {
    let served = all.served();
    let totals = all.totals(&served);
    let mut page = String::new();
    let title = escaped(&format!("{} {}", all.catalogue, all.title));
    let mut put = |line: &str| {
        page.push_str(line);
        page.push('\n');
    };
    put("<!doctype html>");
    put("<html lang=\"en\"><head><meta charset=\"utf-8\">");
    put("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
    put(&format!("<title>{title}: common parts</title><style>{STYLE}</style></head><body>"));
    put(&format!("<h1>{title}</h1><h2>Which part serves which kits</h2><dl>"));
    for (name, value) in facts(all, &totals) {
        put(&format!("<div><dt>{name}</dt><dd>{value}</dd></div>"));
    }
    put("</dl>");
    let columns = all.kits.len() <= MOST_COLUMNS;
    put("<div class=\"wide\"><table><thead><tr><th>Number</th><th>Part</th><th>Sheet</th>");
    if !all.part_files.is_empty() {
        put("<th class=\"f\">Files</th>");
    }
    put("<th class=\"n\">Kits</th><th class=\"n\">Share</th><th class=\"n\">Pieces</th>");
    if columns {
        let heads = all.kits.iter().map(|(kit, _)| kit_head(all, kit));
        heads.for_each(|head| put(&head));
    }
    put("</tr></thead><tbody>");
    for (part, row) in served.iter().take(MOST_PARTS) {
        put(&part_line(all, *part, row, columns));
    }
    put("</tbody></table></div>");
    if MOST_PARTS < served.len() {
        put(&format!("<p>{} more parts stand in commonality.csv.</p>", served.len() - MOST_PARTS));
    }
    put("<p>commonality.csv has every part, uses.csv every part of every kit, findings.csv the");
    put("errors and warnings. A part keeps its number as long as its blank, bends, holes, marks,");
    put("material and title stay as they are.</p></body></html>");
    page.into_bytes()
}

fn facts(all: &Commonality, totals: &Totals) -> Vec<(&'static str, String)> {
    vec![
        ("Kits", all.kits.len().to_string()),
        ("Variants refused", all.refused.to_string()),
        ("Distinct parts", totals.parts.to_string()),
        ("serve more than one kit", totals.shared.to_string()),
        ("serve every kit", totals.everywhere.to_string()),
        (
            "Pieces in common, one of each kit",
            format!(
                "{} of {} ({} %)",
                totals.shared_pieces,
                totals.pieces,
                percent(totals.shared_pieces, totals.pieces)
            ),
        ),
    ]
}

/// A kit's own column, headed by what its number adds to the catalogue's.
fn kit_head(all: &Commonality, kit: &str) -> String {
    let short = kit.strip_prefix(&all.catalogue).and_then(|rest| rest.strip_prefix('-'));
    let (short, kit) = (escaped(short.unwrap_or(kit)), escaped(kit));
    let word = match all.kit_pages {
        true => format!("<a href=\"kits/{kit}/index.html\">{short}</a>"),
        false => short,
    };
    format!("<th class=\"k\" title=\"{kit}\"><span>{word}</span></th>")
}

/// Links to a part's own files; nothing where it has none.
fn part_links(all: &Commonality, number: &str) -> String {
    if all.part_files.is_empty() {
        return String::new();
    }
    let link = |ending: &&str| {
        format!("<a href=\"parts/{number}.{ending}\">{}</a>", ending.to_uppercase())
    };
    let links: Vec<String> = all.part_files.iter().map(link).collect();
    format!("<td class=\"f\">{}</td>", links.join(" "))
}

fn part_line(all: &Commonality, part: usize, served: &Served, columns: bool) -> String {
    let row = &all.parts[part];
    let share = percent(served.kits, all.kits.len());
    let number = escaped(&row.number);
    let mut line = format!(
        "<tr><td class=\"id\">{number}</td><td>{}</td><td>{}</td>{}<td class=\"n\">{}</td>\
         <td class=\"n\">{share} %</td><td class=\"n\">{}</td>",
        escaped(&row.title),
        escaped(&row.sheet),
        part_links(all, &number),
        served.kits,
        served.pieces
    );
    for (_, uses) in all.kits.iter().filter(|_| columns) {
        let own = uses.iter().find(|own| own.part == part).map_or(0, |own| own.quantity);
        let cell = if own == 0 { String::new() } else { own.to_string() };
        // Writing to a string cannot fail.
        let _ = write!(line, "<td class=\"k\">{cell}</td>");
    }
    line + "</tr>"
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

const STYLE: &str = "\
:root{color-scheme:light dark}body{font:15px/1.45 system-ui,sans-serif;margin:2rem auto;\
max-width:90rem;padding:0 1rem}h1{font-size:1.4rem;margin:0}\
h2{font-size:1rem;font-weight:400;margin:.2rem 0 1rem}\
dl{display:flex;flex-wrap:wrap;gap:1rem 2rem;margin:0 0 1.5rem}dt{font-size:.8rem}\
dd{margin:0;font-size:1.2rem}.wide{overflow-x:auto}\
table{border-collapse:collapse;font-variant-numeric:tabular-nums}\
th,td{text-align:left;padding:.25rem .6rem;border-bottom:1px solid #8886;vertical-align:bottom}\
a{color:inherit}.f{white-space:nowrap;font-size:.85rem}tr{break-inside:avoid}\
.n{text-align:right;white-space:nowrap}.id{white-space:nowrap;font-family:ui-monospace,monospace}\
.k{text-align:center;padding:.25rem .3rem}\
.k span{writing-mode:vertical-rl;transform:rotate(180deg);font-weight:400;white-space:nowrap}\
@media print{body{margin:0;font-size:10px}thead{display:table-header-group}\
.f{display:none}}";
