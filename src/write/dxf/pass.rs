//! One pass over the code pairs of a DXF file as the `dxf` crate writes it: table heads and block
//! ends get handles of their own, records name their owner, the two tables that the crate leaves
//! out when empty are there, pointers to nothing are gone, and so is every header variable but the
//! few that say what the file is; among those left out are the clock and the random identifiers.

use super::frame::FIRST_FREE;
use super::pair::put;

/// The header variables that stay.
const KEPT: [&str; 11] = [
    "$ACADVER",
    "$DWGCODEPAGE",
    "$INSBASE",
    "$EXTMIN",
    "$EXTMAX",
    "$LTSCALE",
    "$CLAYER",
    "$LUNITS",
    "$HANDSEED",
    "$MEASUREMENT",
    "$INSUNITS",
];

/// The line weight of a layer that leaves it to the reader.
const DEFAULT_WEIGHT: &str = "-3";

/// The completed file.
pub(super) fn completed(text: &[u8]) -> String {
    let text = str::from_utf8(text).unwrap_or_default();
    let mut pass = Pass::new(text.len() + 4096);
    let mut lines = text.lines();
    while let (Some(code), Some(value)) = (lines.next(), lines.next()) {
        pass.take(code.trim().parse().unwrap_or(999), value);
    }
    String::from_utf8(pass.out).unwrap_or_default()
}

/// Where in the file the pass is, and what it has written.
struct Pass<'a> {
    out: Vec<u8>,
    next_handle: u64,
    section: &'a str,
    record: &'a str,
    keeps_variable: bool,
    owner: u64,
}

impl<'a> Pass<'a> {
    fn new(capacity: usize) -> Self {
        Self {
            out: Vec::with_capacity(capacity),
            next_handle: FIRST_FREE,
            section: "",
            record: "",
            keeps_variable: true,
            owner: 0,
        }
    }

    fn take(&mut self, code: u16, value: &'a str) {
        match (self.section, code) {
            (_, 0) => self.start(value),
            ("HEADER", _) => self.header(code, value),
            (_, 2) if self.record == "SECTION" => self.enter(value),
            (_, 340..=347 | 390) if matches!(value, "" | "0") => {}
            ("TABLES", _) => self.table(code, value),
            ("BLOCKS", 5) if self.record == "ENDBLK" => self.fresh_handle(5),
            ("OBJECTS", 5) if self.owner == 0 => self.root(value),
            _ => self.put(code, value),
        }
    }

    fn start(&mut self, record: &'a str) {
        self.record = record;
        self.put(0, record);
        if record == "ENDSEC" {
            self.section = "";
        }
    }

    fn enter(&mut self, section: &'a str) {
        self.section = section;
        self.owner = 0;
        self.put(2, section);
        if section == "TABLES" {
            self.empty_table("VIEW");
            self.empty_table("UCS");
        }
    }

    fn header(&mut self, code: u16, value: &'a str) {
        if code == 9 {
            self.keeps_variable = KEPT.contains(&value);
        }
        if self.keeps_variable {
            self.put(code, value);
        }
    }

    fn table(&mut self, code: u16, value: &'a str) {
        match (self.record, code) {
            ("TABLE", 2) => {
                self.put(code, value);
                self.owner = self.next_handle;
                self.fresh_handle(5);
                self.put(330, "0");
            }
            ("LAYER", 370) => self.put(code, DEFAULT_WEIGHT),
            (record, 5) => {
                self.put(if record == "DIMSTYLE" { 105 } else { 5 }, value);
                self.put(330, &format!("{:X}", self.owner));
            }
            _ => self.put(code, value),
        }
    }

    fn empty_table(&mut self, name: &'a str) {
        self.put(0, "TABLE");
        self.put(2, name);
        self.fresh_handle(5);
        self.put(330, "0");
        self.put(100, "AcDbSymbolTable");
        self.put(70, "0");
        self.put(0, "ENDTAB");
    }

    /// The first dictionary belongs to the file itself, which is 0; the others name their owner.
    fn root(&mut self, handle: &'a str) {
        self.put(5, handle);
        self.put(330, "0");
        self.owner = 1;
    }

    fn fresh_handle(&mut self, code: u16) {
        self.put(code, &format!("{:X}", self.next_handle));
        self.next_handle += 1;
    }

    fn put(&mut self, code: u16, value: &str) {
        put(&mut self.out, code, value.trim_start());
    }
}
