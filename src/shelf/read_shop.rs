//! The shop's own file.

use super::rates::rates;
use super::read_stock::{remnant, sheet, speeds, work};
use super::row::Row;
use super::{
    BendEntry, BendLines, BendSource, Brake, Die, Drawing, Gaps, Laser, LayerStyle, Layers, Punch,
    Shop, Spread, Tolerance, ToolShape,
};
use crate::note::Severity;
use crate::spec::Raw;

pub(super) fn shop(row: &mut Row<'_, '_>) -> Shop {
    let (sheets, wrong) = rack(row, "sheet", sheet);
    let (remnants, wrong_too) = rack(row, "remnant", remnant);
    let shop = Shop {
        owner: row.text("owner"),
        brake: brake(row),
        bend_source: bend_source(row),
        bends: row.each("bend", bend),
        laser: Laser { speeds: row.each("cutting", speeds), ..within(row, "laser", laser) },
        tolerance: within(row, "tolerance", tolerance),
        layers: within(row, "layers", layers),
        sheets,
        remnants,
        rack_faults: wrong + wrong_too,
        gaps: within(row, "nest", |nest| Gaps { part: nest.mm("part"), edge: nest.mm("edge") }),
        sheet_work: within(row, "sheet_work", work),
        drawing: within(row, "drawing", drawing),
        rates: row.table.has("rates").then(|| within(row, "rates", rates)),
    };
    let work = &shop.sheet_work;
    let extra = [&work.lead_in, &work.tab, &work.skeleton].into_iter().flatten();
    let mut names = shop.layers.names().map(str::to_uppercase).to_vec();
    names.extend(extra.map(|extra| extra.layer.name.to_uppercase()));
    names.sort_unstable();
    if names.windows(2).any(|pair| pair[0] == pair[1]) {
        let span = row.table.span.clone();
        row.tell("layers", &span, "and the layers of `sheet_work` must have different names");
    }
    shop
}

/// Entries of the rack without those that anything is wrong with, and how many faults were told.
fn rack<T>(
    row: &mut Row<'_, '_>,
    key: &'static str,
    read: impl Fn(&mut Row) -> T,
) -> (Vec<T>, usize) {
    let faults = |row: &Row| {
        row.notes.all().iter().filter(|finding| finding.severity == Severity::Error).count()
    };
    let before = faults(row);
    let entries = row.each(key, |entry| {
        let before = faults(entry);
        let read = read(entry);
        (before == faults(entry)).then_some(read)
    });
    (entries.into_iter().flatten().collect(), faults(row) - before)
}

fn within_once<T>(
    row: &mut Row<'_, '_>,
    key: &'static str,
    read: impl FnOnce(&mut Row<'_, '_>) -> T,
) -> T {
    let mut below = row.below(key);
    let value = read(&mut below);
    below.end();
    value
}

fn within<T>(row: &mut Row<'_, '_>, key: &'static str, read: impl Fn(&mut Row) -> T) -> T {
    let mut below = row.below(key);
    let value = read(&mut below);
    below.end();
    value
}

fn brake(row: &mut Row<'_, '_>) -> Brake {
    let mut dies = row.each("die", |die| Die {
        name: die.text("name"),
        opening: die.mm("opening"),
        angle: die.number_in("angle", 1.0, 179.0),
        tool: tool(die, -1.0),
    });
    let mut punches = row.each("punch", |punch| Punch {
        name: punch.text("name"),
        radius: punch.mm("radius"),
        angle: punch.number_in("angle", 1.0, 179.0),
        tool: tool(punch, 1.0),
    });
    dies.sort_by(|a, b| a.opening.total_cmp(&b.opening));
    let span = row.table.span.clone();
    if dies.is_empty() {
        row.tell("die", &span, "is missing: name at least one die");
    }
    if punches.is_empty() {
        row.tell("punch", &span, "is missing: name at least one punch");
    }
    let mut common = Vec::new();
    let mut brake = within_once(row, "brake", |brake| {
        common = brake.mm_list("segments");
        machine(brake)
    });
    let tools = dies.iter_mut().map(|die| &mut die.tool);
    for tool in tools.chain(punches.iter_mut().map(|punch| &mut punch.tool)) {
        if tool.segments.is_empty() {
            tool.segments.clone_from(&common);
        }
    }
    brake.dies = dies;
    brake.punches = punches;
    brake
}

/// The brake without its tools.
fn machine(brake: &mut Row<'_, '_>) -> Brake {
    Brake {
        length: brake.mm("length"),
        open_height: brake.mm("open_height"),
        throat: brake.mm("throat"),
        force: brake.number("force_kn") * 1000.0,
        gauge: brake.mms("gauge"),
        angle: brake.angle("angle"),
        dies: Vec::new(),
        punches: Vec::new(),
        opening_per_thickness: brake.number("opening_per_thickness"),
        leg_per_opening: brake.number("leg_per_opening"),
        force_factor: brake.number("force_factor"),
        clearance: brake.mm("clearance"),
        uncovered: brake.mm_or_zero("uncovered"),
        stop_height: brake.mm("stop_height"),
        stop_width: brake.mm("stop_width"),
        ram: outline(brake, "ram", 1.0),
        bed: outline(brake, "bed", -1.0),
        source: brake.text("source"),
    }
}

fn tool(row: &mut Row<'_, '_>, side: f64) -> ToolShape {
    ToolShape {
        outline: outline(row, "outline", side),
        segments: row.mm_list("segments"),
        force_per_metre: row.number("force_per_m_kn") * 1000.0,
    }
}

/// A closed outline that lies above y = 0 (`side` 1) or below it (`side` -1), touches that line,
/// and does not cross itself; run counter-clockwise.
fn outline(row: &mut Row<'_, '_>, key: &'static str, side: f64) -> Vec<[f64; 2]> {
    let span = row.table.span.clone();
    let mut points = row.points(key);
    if points.len() < 3 {
        return points;
    }
    let next = |i: usize| (i + 1) % points.len();
    let cross = |a: [f64; 2], b: [f64; 2]| a[0] * b[1] - a[1] * b[0];
    let area: f64 = (0..points.len()).map(|i| cross(points[i], points[next(i)])).sum();
    if points.iter().any(|[_, y]| y * side < 0.0) || points.iter().all(|[_, y]| *y != 0.0) {
        let where_to = if side > 0.0 { "above" } else { "below" };
        row.tell(key, &span, &format!("must lie {where_to} y = 0 and touch it"));
    } else if area == 0.0 || crosses_itself(&points) {
        row.tell(key, &span, "crosses itself");
    }
    if area < 0.0 {
        points.reverse();
    }
    points
}

/// Whether two sides that are not neighbours have a point in common.
fn crosses_itself(points: &[[f64; 2]]) -> bool {
    let n = points.len();
    let side = |i: usize| (points[i], points[(i + 1) % n]);
    let turn = |[a, b]: [[f64; 2]; 2], c: [f64; 2]| {
        (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    };
    let meets = |i: usize, j: usize| {
        let ((a, b), (c, d)) = (side(i), side(j));
        let apart = |k: usize| a[k].max(b[k]) < c[k].min(d[k]) || c[k].max(d[k]) < a[k].min(b[k]);
        !apart(0)
            && !apart(1)
            && turn([a, b], c) * turn([a, b], d) <= 0.0
            && turn([c, d], a) * turn([c, d], b) <= 0.0
    };
    (0..n).any(|i| (i + 2..n).any(|j| (i, j) != (0, n - 1) && meets(i, j)))
}

/// `bend_rule = "DIN 6935"` or one factor for all bends, `bend_rule = 0.42`.
fn bend_source(row: &mut Row<'_, '_>) -> BendSource {
    let Some(said) = row.table.raw("bend_rule", row.notes) else { return BendSource::Din6935 };
    match &said.value {
        Raw::Text(text) if text == super::DIN_6935 => BendSource::Din6935,
        Raw::Number(k) if 0.0 < *k && *k <= 0.5 => BendSource::Fixed(*k),
        _ => {
            row.tell("bend_rule", &said.span, "must be \"DIN 6935\" or a factor K up to 0.5");
            BendSource::Din6935
        }
    }
}

fn bend(row: &mut Row<'_, '_>) -> BendEntry {
    BendEntry {
        material: row.text("material"),
        thickness: row.mm("thickness"),
        opening: row.mm("opening"),
        radius: row.mm("radius"),
        k: row.number_in("k", 0.0, 0.5),
        springback: row.maybe_number("springback"),
        note: row.text("note"),
    }
}

fn laser(row: &mut Row<'_, '_>) -> Laser {
    let mut bed: [f64; 2] = row.mms("bed");
    bed.sort_by(f64::total_cmp);
    Laser {
        bed,
        thickest: row.mm("thickest"),
        least_hole: row.number("least_hole"),
        least_web: row.number("least_web"),
        kerf: row.mm("kerf"),
        speed: row.mm("speed"),
        pierce: row.number("pierce"),
        speeds: Vec::new(),
    }
}

/// Limits of laser and brake; what the laser's class says may be left out.
fn tolerance(row: &mut Row<'_, '_>) -> Tolerance {
    let class = row.number_in("laser_class", 1.0, 2.0);
    if class.fract() != 0.0 {
        let span = row.table.span.clone();
        row.tell("laser_class", &span, "is not a class: 1 or 2");
    }
    let class = class as u8;
    let position = row.limit("hole_position", 5.0);
    let stretch = row.limit("stretch", 5.0);
    Tolerance {
        laser_class: class,
        hole_position: position.unwrap_or_else(|| Tolerance::class_position(class)),
        stretch: stretch.unwrap_or_else(|| Tolerance::class_stretch(class)),
        hole_size: row.limit("hole_size", 5.0),
        bend_angle: row.angle_up_to("bend_angle", 10.0),
        bend_line: row.limit("bend_line", 5.0).unwrap_or_else(|| row.stand_in("bend_line", "0.2")),
        give: row.angle_up_to("give", 10.0),
        spread: match row.word("spread", &["normal", "uniform"]).as_str() {
            "uniform" => Spread::Uniform,
            _ => Spread::Normal,
        },
        source: row.text("source"),
    }
}

fn layers(row: &mut Row<'_, '_>) -> Layers {
    Layers {
        cut_outside: within(row, "cut_outside", layer),
        cut_inside: within(row, "cut_inside", layer),
        bend_up: within(row, "bend_up", layer),
        bend_down: within(row, "bend_down", layer),
        etch: within(row, "etch", layer),
        sheet: within(row, "sheet", layer),
        info: within(row, "info", layer),
        bend_lines: bend_lines(row),
    }
}

/// Characters that a layer's name may not have.
const NOT_IN_NAMES: &str = "<>/\\\":;?*|=,`";

pub(super) fn layer(row: &mut Row<'_, '_>) -> LayerStyle {
    let name = row.text("name");
    let bad = |c: char| NOT_IN_NAMES.contains(c) || c.is_control() || !c.is_ascii();
    if 64 < name.len() || name.chars().any(bad) || name == "0" {
        let span = row.table.span.clone();
        row.tell("name", &span, "is not a name for a layer");
    }
    let colour = row.number_in("colour", 1.0, 255.0);
    LayerStyle { name, colour: colour.clamp(1.0, 255.0) as u8 }
}

fn bend_lines(row: &mut Row<'_, '_>) -> BendLines {
    let word = row.word("bend_lines", &["whole", "ticks", "none"]);
    let tick = row.mm("tick");
    match word.as_str() {
        "ticks" => BendLines::Ticks(tick),
        "none" => BendLines::Off,
        _ => BendLines::Whole,
    }
}

fn drawing(row: &mut Row<'_, '_>) -> Drawing {
    let classes = ["ISO 2768-f", "ISO 2768-m", "ISO 2768-c", "ISO 2768-v"];
    Drawing {
        tolerance: row.word("tolerance", &classes),
        first_angle: row.word("projection", &["first-angle", "third-angle"]) == "first-angle",
        spare_percent: row.number_in("spare_percent", 0.0, 100.0),
    }
}
