//! The work on site in `kit.json`: lengths in mm, masses in kg, X and Z in the site frame.

use serde::Serialize;

use super::json::{Number, finite, numbers};
use crate::kit::{Foam, Kit, Measure, Step};
use crate::site::{
    Cut, Foaming, Holding, Lines, Lip, Near, Panel, Pocket, Removed, Setting, SheetRun, Site, Tab,
    Tool,
};

#[derive(Serialize)]
pub(super) struct SiteJson<'a> {
    wall: Option<&'static str>,
    survey_spread: Option<Number>,
    cut: Option<CutJson<'a>>,
    settings: Vec<SettingJson<'a>>,
    steps: Vec<StepJson<'a>>,
    measures: Vec<MeasureJson<'a>>,
    foam: Option<FoamJson<'a>>,
    tools: Vec<ToolJson<'a>>,
}

/// The object under `site_work`.
pub(super) fn site_json<'a>(site: &'a Site, kit: &'a Kit) -> SiteJson<'a> {
    SiteJson {
        wall: site.wall,
        survey_spread: site.survey.map(Number),
        cut: site.cut.as_ref().map(cut_json),
        settings: site.settings.iter().map(setting_json).collect(),
        steps: site.steps.iter().zip(&site.step_joints).map(step_json).collect(),
        measures: kit.on_site.measures.iter().map(measure_json).collect(),
        foam: site.foam.as_ref().map(|foam| foam_json(foam, &kit.on_site.foam)),
        tools: site.tools.iter().map(tool_json).collect(),
    }
}

#[derive(Serialize)]
struct CutJson<'a> {
    lines: LinesJson,
    lips: Option<[LipJson; 2]>,
    panel: PanelJson,
    holding: HoldingJson,
    sheets: Vec<SheetJson>,
    seams: Vec<Number>,
    near: Vec<NearJson<'a>>,
    pockets: Vec<PocketJson>,
    removed: RemovedJson<'a>,
}

fn cut_json(cut: &Cut) -> CutJson<'_> {
    CutJson {
        lines: lines_json(&cut.lines),
        lips: cut.lips.map(|lips| lips.map(lip_json)),
        panel: panel_json(&cut.panel),
        holding: holding_json(&cut.holding),
        sheets: cut.sheets.iter().map(sheet_json).collect(),
        seams: cut.seams.iter().copied().map(Number).collect(),
        near: cut.near.iter().map(near_json).collect(),
        pockets: cut.pockets.iter().map(pocket_json).collect(),
        removed: removed_json(&cut.removed),
    }
}

#[derive(Serialize)]
struct LinesJson {
    x: [Number; 2],
    z: [Number; 2],
    from_left_post: [Number; 2],
    from_right_post: [Number; 2],
    above_bottom_rail: [Number; 2],
    below_top_rail: [Number; 2],
    width: Number,
    height: Number,
    diagonal: Number,
    saw_reach: Number,
}

fn lines_json(lines: &Lines) -> LinesJson {
    LinesJson {
        x: numbers(lines.x),
        z: numbers(lines.z),
        from_left_post: numbers(lines.from_left),
        from_right_post: numbers(lines.from_right),
        above_bottom_rail: numbers(lines.above_rail),
        below_top_rail: numbers(lines.below_rail),
        width: Number(lines.width),
        height: Number(lines.height),
        diagonal: Number(lines.diagonal),
        saw_reach: Number(lines.reach),
    }
}

#[derive(Serialize)]
struct LipJson {
    flat_from_left: usize,
    flat_from_right: usize,
    flat: [Number; 2],
    cut: Number,
    reach: Number,
    beyond: Number,
    cut_away: Number,
}

fn lip_json(lip: Lip) -> LipJson {
    LipJson {
        flat_from_left: lip.flat[0],
        flat_from_right: lip.flat[1],
        flat: numbers(lip.edges),
        cut: Number(lip.cut),
        reach: Number(lip.reach),
        beyond: Number(lip.beyond),
        cut_away: Number(lip.lost),
    }
}

#[derive(Serialize)]
struct PanelJson {
    developed: Number,
    area_m2: Number,
    steel_kg: Number,
    mass_kg: Number,
    centre: [Number; 3],
    size: [Number; 3],
    carried_by: &'static str,
    strips: usize,
}

fn panel_json(panel: &Panel) -> PanelJson {
    PanelJson {
        developed: Number(panel.developed),
        area_m2: Number(panel.area),
        steel_kg: Number(panel.steel_kg),
        mass_kg: Number(panel.mass_kg),
        centre: numbers(panel.centre),
        size: numbers(panel.size),
        carried_by: panel.carried.words(),
        strips: panel.strips,
    }
}

#[derive(Serialize)]
struct SheetJson {
    x: [Number; 2],
    thickness: Number,
}

fn sheet_json(sheet: &SheetRun) -> SheetJson {
    SheetJson { x: numbers(sheet.x), thickness: Number(sheet.thickness) }
}

#[derive(Serialize)]
struct HoldingJson {
    cuts: [&'static str; 4],
    tab_width: Number,
    tabs: Vec<TabJson>,
    hanging: ScreenJson,
    standing: ScreenJson,
}

#[derive(Serialize)]
struct TabJson {
    edge: &'static str,
    x: Number,
    z: Number,
    thickness: Number,
}

/// A screening: found against the limit asked for.
#[derive(Serialize)]
struct ScreenJson {
    found: Option<Number>,
    limit: Number,
}

fn holding_json(holding: &Holding) -> HoldingJson {
    let tab = |tab: &Tab| TabJson {
        edge: tab.edge.word(),
        x: Number(tab.x),
        z: Number(tab.z),
        thickness: Number(tab.thickness),
    };
    let screen =
        |[found, limit]: [f64; 2]| ScreenJson { found: finite(found), limit: Number(limit) };
    HoldingJson {
        cuts: holding.cuts.map(|edge| edge.word()),
        tab_width: Number(holding.width),
        tabs: holding.tabs.iter().map(tab).collect(),
        hanging: screen(holding.hanging),
        standing: screen(holding.standing),
    }
}

#[derive(Serialize)]
struct NearJson<'a> {
    kind: &'static str,
    name: &'a str,
    edge: &'static str,
    clear: Number,
    inside: bool,
}

fn near_json(near: &Near) -> NearJson<'_> {
    NearJson {
        kind: near.kind.word(),
        name: &near.name,
        edge: near.edge.word(),
        clear: Number(near.clear),
        inside: near.inside,
    }
}

#[derive(Serialize)]
struct PocketJson {
    x: [Number; 2],
    z: [Number; 2],
    fastener: Option<Number>,
}

fn pocket_json(pocket: &Pocket) -> PocketJson {
    PocketJson { x: numbers(pocket.x), z: numbers(pocket.z), fastener: pocket.fastener.map(Number) }
}

#[derive(Serialize)]
struct RemovedJson<'a> {
    outer_flats: usize,
    of: usize,
    share: Number,
    above: Number,
    below: Number,
    words: &'a [String],
}

fn removed_json(removed: &Removed) -> RemovedJson<'_> {
    RemovedJson {
        outer_flats: removed.flats,
        of: removed.of,
        share: Number(removed.share),
        above: Number(removed.above),
        below: Number(removed.below),
        words: &removed.words,
    }
}

#[derive(Serialize)]
struct SettingJson<'a> {
    joint: &'a str,
    fastener: &'a str,
    count: usize,
    into: Option<&'a str>,
    drill: Option<Number>,
    drills_itself: bool,
    from: &'static str,
    through: Option<&'a str>,
    length: Option<Number>,
}

fn setting_json(setting: &Setting) -> SettingJson<'_> {
    SettingJson {
        joint: &setting.joint,
        fastener: &setting.fastener,
        count: setting.count,
        into: setting.into.as_deref(),
        drill: setting.drill.map(Number),
        drills_itself: setting.drills_itself,
        from: setting.from.word(),
        through: setting.through.as_deref(),
        length: setting.length.map(Number),
    }
}

#[derive(Serialize)]
struct StepJson<'a> {
    title: &'a str,
    text: &'a str,
    parts: &'a [String],
    cautions: &'a [String],
    joints: &'a [String],
}

fn step_json<'a>((step, joints): (&'a Step, &'a Vec<String>)) -> StepJson<'a> {
    StepJson {
        title: &step.title,
        text: &step.text,
        parts: &step.parts,
        cautions: &step.cautions,
        joints,
    }
}

/// A size set on site, in words.
#[derive(Serialize)]
struct MeasureJson<'a> {
    name: &'a str,
    at: &'a str,
    size: &'a str,
    how: &'a str,
}

fn measure_json(measure: &Measure) -> MeasureJson<'_> {
    let Measure { name, at, size, how } = measure;
    MeasureJson { name, at, size, how }
}

/// Foam: areas in mm2, depths in mm, volumes in litres.
#[derive(Serialize)]
struct FoamJson<'a> {
    places: Vec<FoamPlaceJson<'a>>,
    litres: Number,
    litres_with_waste: Number,
}

#[derive(Serialize)]
struct FoamPlaceJson<'a> {
    name: &'a str,
    area_mm2: Number,
    depth: Number,
    litres: Number,
    lifts: usize,
}

fn foam_json<'a>(foam: &Foaming, places: &'a [Foam]) -> FoamJson<'a> {
    let worked = foam.litres.iter().zip(&foam.lifts);
    let place = |(place, (litres, lifts)): (&'a Foam, (&f64, &usize))| FoamPlaceJson {
        name: &place.name,
        area_mm2: Number(place.area),
        depth: Number(place.depth),
        litres: Number(*litres),
        lifts: *lifts,
    };
    FoamJson {
        places: places.iter().zip(worked).map(place).collect(),
        litres: Number(foam.net),
        litres_with_waste: Number(foam.gross),
    }
}

#[derive(Serialize)]
struct ToolJson<'a> {
    what: &'a str,
    drill: Option<Number>,
    why: &'a str,
    amount: Option<Number>,
    unit: Option<&'static str>,
}

fn tool_json(tool: &Tool) -> ToolJson<'_> {
    ToolJson {
        what: &tool.what,
        drill: tool.drill.map(Number),
        why: &tool.why,
        amount: tool.amount.map(|amount| Number(amount.value)),
        unit: tool.amount.map(|amount| amount.unit),
    }
}
