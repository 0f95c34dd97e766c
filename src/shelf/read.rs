//! From the texts of the data files to the [`Shelf`].

use std::collections::BTreeSet;
use std::sync::Arc;

use super::row::Row;
use super::{
    Container, Fastener, FastenerKind, GaugeTable, GripRange, Holes, Material, Shelf, ShelfFile,
    Shop, Tool, read_container, read_shop,
};
use crate::note::{Finding, Notes, Severity};
use crate::spec::{Raw, SHELF, Table, read_toml};
use crate::units::INCH;

/// What was gathered from the files so far; ids with their places for the checks across files.
#[derive(Default)]
struct Gathered {
    gauges: Vec<Arc<GaugeTable>>,
    materials: Vec<(Material, String)>,
    fasteners: Vec<Fastener>,
    shops: Vec<Shop>,
    containers: Vec<Container>,
    files: Vec<ShelfFile>,
}

impl Shelf {
    /// Reads the data files, given as names and texts. Any file may hold any kind of entry. None
    /// when something is wrong or missing; every fault is told.
    pub fn read(files: &[(&str, &str)], notes: &mut Notes) -> Option<Shelf> {
        Self::read_in(files, false, notes)
    }

    /// The same, but entries of the rack that do not read are told and left out.
    pub fn read_part(files: &[(&str, &str)], notes: &mut Notes) -> Option<Shelf> {
        Self::read_in(files, true, notes)
    }

    fn read_in(files: &[(&str, &str)], part: bool, notes: &mut Notes) -> Option<Shelf> {
        let mut found = Notes::default();
        let mut gathered = Gathered::default();
        for (name, text) in files {
            let file: Arc<str> = Arc::from(*name);
            if let Some(toml) = read_toml(&file, text, &SHELF, &mut found) {
                let top = Table::top(&file, &toml, &SHELF);
                let mut row = Row::new(top, &mut found);
                gathered.read_file(name, &mut row);
                row.end();
            }
        }
        let shelf = gathered.put_together(&mut found);
        let errors = found.all().iter().filter(|f| f.severity == Severity::Error).count();
        let passed = shelf.as_ref().filter(|_| part).map_or(0, |shelf| shelf.shop.rack_faults);
        let sound = errors <= passed;
        found.all().iter().for_each(|finding| notes.add(finding.clone()));
        shelf.filter(|_| sound)
    }
}

impl Gathered {
    fn read_file(&mut self, name: &str, row: &mut Row<'_, '_>) {
        let common = ["gauge", "material", "fastener", "shop"].iter().any(|key| row.table.has(key));
        self.gauges.extend(row.each("gauge", gauge).into_iter().map(Arc::new));
        self.materials.extend(row.each("material", material));
        self.fasteners.extend(row.each("fastener", fastener));
        let containers = row.each("container", read_container::container);
        let ids = containers.iter().map(|container| container.id.clone()).collect();
        self.files.push(ShelfFile { name: name.to_owned(), containers: ids, common });
        self.containers.extend(containers);
        if row.table.has("shop") {
            let mut shop = row.below("shop");
            self.shops.push(read_shop::shop(&mut shop));
            shop.end();
        }
    }

    fn put_together(self, notes: &mut Notes) -> Option<Shelf> {
        let Gathered { gauges, materials, fasteners, mut shops, containers, files } = self;
        let materials: Vec<Material> = materials
            .into_iter()
            .map(|(mut material, wanted)| {
                match gauges.iter().find(|g| g.id == wanted) {
                    Some(table) => material.gauges = Arc::clone(table),
                    None => notes.add(unknown("gauge table", &wanted, &material.id)),
                }
                material
            })
            .collect();
        twice("material", materials.iter().map(|m| m.id.as_str()), notes);
        twice("fastener", fasteners.iter().map(|f| f.id.as_str()), notes);
        twice("container", containers.iter().map(|c| c.id.as_str()), notes);
        if shops.len() != 1 {
            let message = format!("there are {} `[shop]` tables, not one", shops.len());
            let finding = Finding::error("shelf.shop", message);
            notes.add(finding.help("keep one shop file among the data files"));
        }
        let shop = shops.pop()?;
        for wanted in named_materials(&shop) {
            if !materials.iter().any(|m| m.id == *wanted) {
                notes.add(unknown("material", wanted, "shop"));
            }
        }
        Some(Shelf { materials, fasteners, shop, containers, files })
    }
}

fn named_materials(shop: &Shop) -> BTreeSet<&String> {
    let stocked = shop.sheets.iter().flat_map(|s| s.materials.iter());
    let remnants = shop.remnants.iter().map(|remnant| &remnant.material);
    let cut = shop.laser.speeds.iter().flat_map(|table| table.materials.iter());
    let bent = shop.bends.iter().map(|b| &b.material);
    stocked.chain(remnants).chain(cut).chain(bent).collect()
}

fn twice<'i>(what: &str, ids: impl Iterator<Item = &'i str>, notes: &mut Notes) {
    let mut seen = BTreeSet::new();
    for id in ids {
        if !seen.insert(id) {
            let finding = Finding::error("shelf.id-twice", format!("{what} `{id}` is there twice"));
            notes.add(finding.about(id).help("give each its own id"));
        }
    }
}

fn unknown(what: &str, wanted: &str, subject: &str) -> Finding {
    let message = format!("`{subject}` names the {what} `{wanted}`, which is not there");
    Finding::error("shelf.unknown-id", message).about(subject).help("add it or name another")
}

/// A gauge table: `inch = { 14 = 0.0785 }` or `mm = { .. }`.
fn gauge(row: &mut Row<'_, '_>) -> GaugeTable {
    let (id, title, source) = (row.text("id"), row.text("title"), row.text("source"));
    let mut rows = Vec::new();
    for (key, factor) in [("inch", INCH), ("mm", 1.0)] {
        let Some(said) = row.table.raw(key, row.notes) else { continue };
        let Raw::Table(given) = &said.value else {
            row.tell(key, &said.span, "is not a table of numbers and thicknesses");
            continue;
        };
        for entry in given {
            match (entry.path.parse::<u32>(), &entry.value) {
                (Ok(number), Raw::Number(size)) if 0.0 < *size => {
                    rows.push((number, size * factor))
                }
                _ => row.tell(key, &entry.span, "has a row that is not `number = thickness`"),
            }
        }
    }
    rows.sort_by_key(|(number, _)| *number);
    if rows.is_empty() {
        let span = row.table.span.clone();
        row.tell("inch", &span, "has no rows");
    }
    GaugeTable { id, title, rows, source }
}

/// A material and the id of its gauge table.
fn material(row: &mut Row<'_, '_>) -> (Material, String) {
    let wanted = row.text("gauge");
    let none = GaugeTable {
        id: String::new(),
        title: String::new(),
        rows: Vec::new(),
        source: String::new(),
    };
    let material = Material {
        id: row.text("id"),
        title: row.text("title"),
        density: row.number("density"),
        tensile: row.number("tensile"),
        tensile_max: row.number("tensile_max"),
        yield_strength: row.maybe_number("yield"),
        usual_yield: row.maybe_number("usual_yield"),
        modulus: row.number("modulus"),
        radius_per_opening: row.number("radius_per_opening"),
        least_radius: row.maybe_number("least_radius"),
        grain: row.flag("grain"),
        price_per_kg: row.maybe_number("price_per_kg"),
        gauges: Arc::new(none),
        source: row.text("source"),
    };
    (material, wanted)
}

/// Words for the kinds of fastener, in the order of [`FastenerKind`].
const KINDS: [(&str, FastenerKind); 5] = [
    ("blind-rivet", FastenerKind::BlindRivet),
    ("self-drilling-screw", FastenerKind::SelfDrilling),
    ("thread-cutting-screw", FastenerKind::ThreadCutting),
    ("wood-screw", FastenerKind::WoodScrew),
    ("bolt", FastenerKind::Bolt),
];

fn fastener(row: &mut Row<'_, '_>) -> Fastener {
    let word = row.word("kind", &KINDS.map(|(word, _)| word));
    let kind = KINDS.iter().find(|(w, _)| *w == word).map_or(FastenerKind::Bolt, |(_, k)| *k);
    let mut fastener = Fastener {
        id: row.text("id"),
        title: row.text("title"),
        kind,
        diameter: row.mm("diameter"),
        holes: Holes {
            normal: row.mm("hole"),
            close: row.mm("hole_close"),
            head: row.maybe_mm("hole_head"),
            pilot: row.maybe_mm("pilot"),
        },
        head_diameter: row.mm("head_diameter"),
        head_height: row.mm("head_height"),
        countersink: row
            .maybe_mm("countersink")
            .zip(row.maybe_number("countersink_angle"))
            .map(|(diameter, angle)| [diameter, angle]),
        grips: row.each("grip", |grip| GripRange {
            length: grip.mm("length"),
            least: grip.mm_or_zero("least"),
            most: grip.mm("most"),
        }),
        edge: row.number("edge"),
        spacing: row.number("spacing"),
        tool: Tool {
            nose: [row.mm("nose_diameter"), row.mm("nose_length")],
            body: [row.mm("tool_diameter"), row.mm("tool_length")],
            tilt: row.number_in("tool_tilt", 0.0, 90.0),
            far: [row.mm("far_diameter"), row.mm_or_zero("far_length")],
        },
        hole_source: row.text("hole_source"),
        grip_source: row.text("grip_source"),
        edge_source: row.text("edge_source"),
    };
    fastener.grips.sort_by(|a, b| a.length.total_cmp(&b.length));
    check_fastener(row, &fastener);
    fastener
}

fn check_fastener(row: &mut Row<'_, '_>, fastener: &Fastener) {
    let span = row.table.span.clone();
    if fastener.grips.is_empty() {
        row.tell("grip", &span, "is missing: name at least one length and what it clamps");
    }
    if fastener.grips.iter().any(|g| g.most <= g.least) {
        row.tell("grip", &span, "has a length whose least grip is not under its greatest");
    }
    let least = 1.5 * fastener.holes.normal;
    let head = fastener.holes.head;
    if head.is_some_and(|head| {
        head < fastener.holes.normal || least.min(fastener.head_diameter) <= head
    }) {
        row.tell("hole_head", &span, "must not be under `hole`, and must stay under the head");
    }
    if fastener.holes.normal < fastener.holes.close || fastener.holes.close < fastener.diameter {
        row.tell("hole", &span, "must not be under `hole_close`, nor that under `diameter`");
    }
}
