//! How long one kit takes on one thread, files held in memory: from spec to files, and the writing
//! of the drawn geometry alone, which is what the yardstick does.
//!
//!   cargo bench --bench writers -- SPEC

#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a benchmark reads files, the clock, and prints"
)]

use std::fs;
use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use blankwright::draw::{self, LaserSheet, LaserStyle, PartViews, Sheet, laser_sheet};
use blankwright::flat::{Blank, unfold};
use blankwright::fold::{FoldedPart, fold};
use blankwright::kit::{Kit, expand};
use blankwright::mate::{Words, assemble};
use blankwright::note::Notes;
use blankwright::pipeline::{Only, Source, Stock, Want, build};
use blankwright::release::{Record, kit_json};
use blankwright::resolve::{SiteContainer, bind};
use blankwright::section::Strength;
use blankwright::site::{self, Site};
use blankwright::stackup::Report;
use blankwright::write::{self, About, DxfWriter, PdfPages};

#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

const ROUNDS: usize = 9;
const TIMES: usize = 20;

fn main() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let named = std::env::args().skip(1).find(|argument| argument.ends_with(".toml"));
    let spec =
        named.unwrap_or_else(|| root.join("sample-specs/kelp-hall.toml").display().to_string());
    let source = Source { bytes: fs::read(&spec).expect("a spec"), name: spec };
    let shelf = [texts(root, "templates/shop"), texts(root, "templates/containers")].concat();
    let mut notes = Notes::default();
    let stock = Stock::read(&texts(root, "templates"), &shelf, &mut notes).expect("the stock");
    let drawn = Drawn::of(&source, &stock);
    let writer = DxfWriter::new(&LaserStyle::default().layers);
    let whole =
        median(|| build(&source, &stock, &Want::Files(Only::default())).files.unwrap().len());
    println!("spec to files in memory {whole:.3} ms");
    println!("site worked out {:.3} ms", median(|| drawn.site(&stock).settings.len()));
    let site = drawn.site(&stock);
    let papers = || draw::site_papers(&drawn.kit, &drawn.folded, &site).len();
    println!("site drawn {:.3} ms", median(papers));
    println!("writing alone {:.3} ms", median(|| drawn.write(&writer)));
}

fn texts(root: &Path, folder: &str) -> Vec<Source> {
    let entries = fs::read_dir(root.join(folder)).unwrap().map(|entry| entry.unwrap().path());
    let mut paths: Vec<_> =
        entries.filter(|path| path.extension().is_some_and(|e| e == "toml")).collect();
    paths.sort();
    let read = |path: &std::path::PathBuf| Source {
        name: path.display().to_string(),
        bytes: fs::read(path).unwrap(),
    };
    paths.iter().map(read).collect()
}

/// Median over the rounds of the time of one call, ms.
fn median(mut call: impl FnMut() -> usize) -> f64 {
    let mut rounds: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let start = Instant::now();
            (0..TIMES).for_each(|_| {
                black_box(call());
            });
            start.elapsed().as_secs_f64() * 1000.0 / TIMES as f64
        })
        .collect();
    rounds.sort_by(f64::total_cmp);
    rounds[ROUNDS / 2]
}

/// A kit with everything drawn and nothing written.
struct Drawn {
    kit: Kit,
    folded: Vec<FoldedPart>,
    blanks: Vec<Blank>,
    laser: Vec<LaserSheet>,
    previews: Vec<Sheet>,
    cover: Vec<Sheet>,
    parts: Vec<Vec<Sheet>>,
    container: SiteContainer,
}

impl Drawn {
    fn of(source: &Source, stock: &Stock) -> Self {
        let mut notes = Notes::default();
        let text = std::str::from_utf8(&source.bytes).unwrap();
        let spec = blankwright::spec::parse(&source.name, text, &mut notes).expect("a spec");
        let template = stock.family(&spec.template.value).expect("a family");
        let shelf = &stock.shelf;
        let resolved = bind(&spec, template, shelf, &mut notes).expect("values");
        let draft = expand(template, &resolved, shelf, &mut notes);
        let folded: Vec<FoldedPart> = draft.parts.iter().map(fold).collect();
        let words = Words { spec: &spec, sha256: "", template, resolved: &resolved, shelf };
        let kit = assemble(&words, draft, &folded, &mut notes);
        let blanks: Vec<Blank> =
            kit.parts.iter().map(|part| unfold(part).expect("a blank")).collect();
        let views = PartViews::of_all(&kit.parts, &folded);
        let set = draw::drawing_set(&kit, &folded, &views, &blanks);
        let style = LaserStyle::default();
        let laser = kit.parts.iter().zip(&blanks).map(|(p, b)| laser_sheet(p, b, &style)).collect();
        let previews = views.iter().zip(&blanks).map(|(v, b)| draw::preview(&kit, v, b)).collect();
        drop(views);
        let container = resolved.container.expect("a container");
        let (cover, parts) = (set.cover, set.parts);
        Self { laser, previews, cover, parts, kit, folded, blanks, container }
    }

    /// The kit's work on site.
    fn site(&self, stock: &Stock) -> Site {
        let Self { kit, folded, container, .. } = self;
        site::work_out(&site::Subject { kit, folded, shelf: &stock.shelf, container })
    }

    /// Writes every file of the kit; the number of bytes.
    fn write(&self, writer: &DxfWriter) -> usize {
        let record = Record {
            kit: &self.kit,
            folded: &self.folded,
            blanks: &self.blanks,
            findings: &[],
            strength: &Strength::default(),
            stackup: &Report::default(),
            site: None,
            bending: &[],
            laid: None,
            files: &[],
        };
        let about = || About {
            title: self.kit.title.clone(),
            author: self.kit.owner.clone(),
            subject: String::new(),
            date: self.kit.date.clone(),
        };
        let mut bytes = kit_json(&record).len();
        bytes += self.laser.iter().map(|sheet| writer.write(sheet).len()).sum::<usize>();
        bytes += self.previews.iter().map(|sheet| write::svg(sheet).len()).sum::<usize>();
        let pages = PdfPages::of(self.cover.iter().chain(self.parts.iter().flatten()));
        let mut end = self.cover.len();
        for sheets in &self.parts {
            let own = end..end + sheets.len();
            end = own.end;
            bytes += pages.document(own, &about()).len();
        }
        bytes + pages.document(0..end, &about()).len()
    }
}
