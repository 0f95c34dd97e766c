//! Sections and screens in `kit.json`: advice with its basis. mm, N, degrees.

use serde::Serialize;

use super::json::{Number, numbers};
use crate::geom::{Point, SectionFrame};
use crate::section::{ADVICE, Figure, LoadCase, PartSection, Piece, Screen};

/// One part's section. `frame` sends the section's x, y (and z, against the sweep) to the part's
/// frame; all else stands in the section's own.
#[derive(Serialize)]
pub(super) struct SectionJson<'a> {
    part: &'a str,
    frame: [[Number; 4]; 3],
    length: Number,
    thickness: Number,
    area: Number,
    centroid: [Number; 2],
    ix: Number,
    iy: Number,
    ixy: Number,
    principal: [Number; 2],
    angle: Number,
    gyration: [Number; 2],
    moduli: ModuliJson,
    torsion: Number,
    shear_centre: [Number; 2],
    warping: Number,
    is_bar: bool,
    pieces: Vec<PieceJson<'a>>,
}

/// Elastic section moduli for the fibres towards each side.
#[derive(Serialize)]
struct ModuliJson {
    top: Number,
    bottom: Number,
    right: Number,
    left: Number,
}

#[derive(Serialize)]
#[serde(untagged)]
enum PieceJson<'a> {
    Flat { face: &'a str, from: [Number; 2], to: [Number; 2] },
    Corner { centre: [Number; 2], from: [Number; 2], sweep: Number },
}

pub(super) fn section_json(section: &PartSection) -> SectionJson<'_> {
    let (cut, values, thin) = (&section.cut, &section.values, &section.thin);
    let [top, bottom, right, left] = section.moduli().map(Number);
    let pieces = cut.section.pieces.iter().zip(&cut.section.names);
    SectionJson {
        part: &section.part,
        frame: cut.frame.rows().map(numbers),
        length: Number(cut.length),
        thickness: Number(cut.section.thickness),
        area: Number(values.area),
        centroid: pair(values.centroid),
        ix: Number(values.ix),
        iy: Number(values.iy),
        ixy: Number(values.ixy),
        principal: numbers(values.principal),
        angle: Number(values.angle),
        gyration: numbers(values.gyration()),
        moduli: ModuliJson { top, bottom, right, left },
        torsion: Number(thin.torsion),
        shear_centre: pair(thin.shear_centre),
        warping: Number(thin.warping),
        is_bar: section.is_bar(),
        pieces: pieces.map(|(piece, name)| piece_json(piece, name)).collect(),
    }
}

fn pair(p: Point<SectionFrame>) -> [Number; 2] {
    numbers([p.x, p.y])
}

fn piece_json<'a>(piece: &Piece, face: &'a str) -> PieceJson<'a> {
    match *piece {
        Piece::Flat { from, to } => PieceJson::Flat { face, from: pair(from), to: pair(to) },
        Piece::Corner { centre, from, sweep } => {
            PieceJson::Corner { centre: pair(centre), from: pair(from), sweep: Number(sweep) }
        }
    }
}

/// One screen with its loads, step by step.
#[derive(Serialize)]
pub(super) struct ScreenJson<'a> {
    name: &'a str,
    part: &'a str,
    kind: &'static str,
    rule: &'static str,
    advice: &'static str,
    length: Number,
    yield_strength: Option<Number>,
    modulus: Number,
    material: &'a str,
    figures: Vec<FigureJson>,
    loads: Vec<LoadJson<'a>>,
    outside: &'a [String],
    basis: &'a [String],
}

#[derive(Serialize)]
struct LoadJson<'a> {
    name: &'a str,
    share: Number,
    share_of: &'static str,
    deflection: Option<[Number; 2]>,
    figures: Vec<FigureJson>,
    basis: &'a str,
}

#[derive(Serialize)]
struct FigureJson {
    key: &'static str,
    label: &'static str,
    value: Number,
    unit: &'static str,
    basis: &'static str,
}

pub(super) fn screen_json(screen: &Screen) -> ScreenJson<'_> {
    ScreenJson {
        name: &screen.name,
        part: &screen.part,
        kind: screen.kind,
        rule: screen.rule,
        advice: ADVICE,
        length: Number(screen.length),
        yield_strength: screen.yield_strength.map(Number),
        modulus: Number(screen.modulus),
        material: &screen.material,
        figures: screen.figures.iter().map(figure_json).collect(),
        loads: screen.loads.iter().map(|load| load_json(screen, load)).collect(),
        outside: &screen.outside,
        basis: &screen.basis,
    }
}

fn load_json<'a>(screen: &Screen, load: &'a LoadCase) -> LoadJson<'a> {
    LoadJson {
        name: &load.name,
        share: Number(load.share),
        share_of: screen.share_of(),
        deflection: load.deflection.map(numbers),
        figures: load.figures.iter().map(figure_json).collect(),
        basis: &load.basis,
    }
}

fn figure_json(figure: &Figure) -> FigureJson {
    let Figure { key, label, value, unit, basis } = *figure;
    FigureJson { key, label, value: Number(value), unit, basis }
}
