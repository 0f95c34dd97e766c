//! Parts under loads: a beam on two supports, a post, a pair of posts bolted together.

use super::beam::Beam;
use super::column::{critical, reduction};
use super::cut::Cut;
use super::effective::{Demand, Effective, Field, effective};
use super::gross::Values;
use super::piece::P;
use super::plate::Judge;
use super::report::{Figure, LoadCase, PartSection};
use super::thin::closed_torsion;
use crate::geom::{Map2, SectionFrame};

/// One load as it was worked out; N, N/mm.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Load {
    pub(super) name: String,
    pub(super) basis: String,
    pub(super) line: f64,
    pub(super) point: f64,
    pub(super) spread: f64,
    pub(super) factor: f64,
}

impl Load {
    /// The load on a beam of a span, of which a share acts across its section.
    pub(super) fn on(&self, span: f64, share: f64) -> Beam {
        let [line, point] = [self.line, self.point].map(|load| load * share);
        Beam { span, line, point, spread: self.spread }
    }

    /// What was declared of a load across.
    pub(super) fn figures(&self) -> Vec<Figure> {
        let mut figures = vec![
            figure(("line", "line load"), self.line, "N/mm", "as declared"),
            figure(("point", "load in the middle"), self.point, "N", "as declared"),
        ];
        if 0.0 < self.spread {
            figures.push(figure(("spread", "spread over"), self.spread, "mm", "as declared"));
        }
        figures.push(figure(("factor", "load factor for stress"), self.factor, "", "as declared"));
        figures
    }
}

/// What a load's moment comes from.
pub(super) const MOMENT: &str = "w L² / 8 + P (2 L - a) / 8, times the factor";
/// What a load's deflection comes from.
pub(super) const DEFLECTION: &str =
    "5 w L⁴ / 384 E I + P (8 L³ - 4 L a² + a³) / 384 E I, without factor";

/// A beam in its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bent {
    /// Between the supports, mm.
    pub(super) span: f64,
    /// Downwards in the section's plane; shorter than 1 where the beam is not level.
    pub(super) down: P,
    /// Whether it is held sideways.
    pub(super) held: bool,
    /// Greatest deflection, mm.
    pub(super) limit: f64,
}

pub(super) fn figure(
    (key, label): (&'static str, &'static str),
    value: f64,
    unit: &'static str,
    basis: &'static str,
) -> Figure {
    Figure { key, label, value, unit, basis }
}

/// A section screened as a beam.
pub(super) struct BeamScreen<'a> {
    cut: &'a Cut,
    bent: Bent,
    judge: Judge,
    demand: Demand,
    gross: Field,
    at_yield: Effective,
}

impl<'a> BeamScreen<'a> {
    pub(super) fn new(part: &'a PartSection, bent: Bent, judge: Judge) -> Self {
        let demand = Demand::Bending { toward: -bent.down.unit(), held: bent.held };
        let gross = Field::of(&part.values, &demand);
        let at_yield = effective(&part.cut.section, &demand, &judge);
        Self { cut: &part.cut, bent, judge, demand, gross, at_yield }
    }

    /// Second moment in the direction of the load, mm4.
    fn inertia(&self, field: &Field) -> f64 {
        1.0 / field.slope.dot(-self.bent.down.unit())
    }

    /// Greatest stress for a moment of 1 at which yield is judged, compression or tension.
    fn peak(&self, field: &Field) -> f64 {
        let [pressed, pulled] = field.extremes(&self.cut.section);
        pressed.max(pulled)
    }

    /// What is so whatever the load.
    pub(super) fn figures(&self) -> Vec<Figure> {
        let bears = Field::of(&self.at_yield.values, &self.demand);
        vec![
            figure(
                ("inertia", "second moment, gross"),
                self.inertia(&self.gross),
                "mm4",
                "exact, in the plane of the load",
            ),
            figure(
                ("inertia_effective", "second moment, effective at yield"),
                self.inertia(&bears),
                "mm4",
                "effective widths",
            ),
            figure(
                ("modulus_effective", "section modulus, effective at yield"),
                1.0 / self.peak(&bears),
                "mm3",
                "effective widths, most stressed fibre",
            ),
            figure(
                ("lip_reduction", "reduction of lips"),
                self.at_yield.chi,
                "",
                "distortional buckling, EN 1993-1-3 5.5.3.1",
            ),
        ]
    }

    pub(super) fn load(&self, load: &Load) -> LoadCase {
        let beam = load.on(self.bent.span, self.bent.down.length());
        let moment = beam.moment() * load.factor;
        let bears = Field::of(&self.at_yield.values, &self.demand);
        let stress = moment * self.peak(&bears);
        let inertia = self.service_inertia(beam.moment());
        let deflection = beam.deflection(self.judge.modulus, inertia);
        let mut figures = load.figures();
        figures.extend([
            figure(("moment", "moment"), moment, "N mm", MOMENT),
            figure(("stress", "stress"), stress, "N/mm2", "moment over effective section modulus"),
            figure(
                ("inertia_service", "second moment, effective"),
                inertia,
                "mm4",
                "effective widths at the stress of the load without factor",
            ),
            figure(("deflection", "deflection"), deflection, "mm", DEFLECTION),
        ]);
        LoadCase {
            name: load.name.clone(),
            basis: load.basis.clone(),
            figures,
            share: stress / self.judge.stress,
            deflection: Some([deflection, self.bent.limit]),
        }
    }

    /// Second moment of what bears at the stress that a moment makes, mm4.
    fn service_inertia(&self, moment: f64) -> f64 {
        let mut field = self.gross;
        for _ in 0..3 {
            let stress = (moment * field.extremes(&self.cut.section)[0]).min(self.judge.stress);
            let judge = Judge { stress, ..self.judge };
            field =
                Field::of(&effective(&self.cut.section, &self.demand, &judge).values, &self.demand);
        }
        self.inertia(&field)
    }
}

/// A post with what it bears, whatever the load.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Post {
    pub(super) figures: Vec<Figure>,
    resistance: f64,
}

impl Post {
    fn of(area: f64, load: f64, judge: &Judge) -> Self {
        let squash = area * judge.stress;
        let slenderness = (squash / load).sqrt();
        let chi = reduction(slenderness);
        let figures = vec![
            figure(("area_effective", "area, effective at yield"), area, "mm2", "effective widths"),
            figure(("critical", "elastic critical load"), load, "N", "pinned ends, gross section"),
            figure(
                ("slenderness", "slenderness"),
                slenderness,
                "",
                "√(A fy / Ncr), EN 1993-1-1 6.3.1.2",
            ),
            figure(("reduction", "reduction"), chi, "", "EN 1993-1-1 6.3.1.2, curve c"),
            figure(
                ("resistance", "buckling resistance"),
                chi * squash,
                "N",
                "reduction, effective area and yield strength",
            ),
        ];
        Self { figures, resistance: chi * squash }
    }

    /// One part of a height (mm) by itself.
    pub(super) fn single(part: &PartSection, height: f64, judge: &Judge) -> Self {
        let bears = effective(&part.cut.section, &Demand::Compression, judge);
        let critical = critical(&part.values, &part.thin, height, judge.modulus);
        let mut post = Self::of(bears.values.area, critical.turning, judge);
        let euler = figure(
            ("euler", "Euler's load, weaker axis"),
            critical.euler,
            "N",
            "π² E I / L²; the critical load counts turning too",
        );
        post.figures.insert(1, euler);
        post
    }

    /// A part and its mirror image behind a line of its section's plane, bolted along their
    /// height; `closing` is the thickness of what closes the cell between their lips.
    pub(super) fn pair(
        part: &PartSection,
        height: f64,
        judge: &Judge,
        (mirror, closing): (&Map2<SectionFrame, SectionFrame>, f64),
    ) -> Self {
        let section = &part.cut.section;
        let image = section.moved(mirror);
        let values = Values::of(&section.moments().plus(image.moments()));
        let bears = effective(section, &Demand::Compression, judge);
        let wave = std::f64::consts::PI * std::f64::consts::PI * judge.modulus / (height * height);
        let mut post = Self::of(2.0 * bears.values.area, wave * values.principal[1], judge);
        let cell = figure(
            ("torsion_closed", "torsion constant of the closed cell"),
            closed_torsion(&cell(part, mirror, closing)),
            "mm4",
            "Bredt: 4 A² / sum of s / t; bolts and rivets at a distance give less",
        );
        let open = figure(
            ("torsion_open", "torsion constant of two open sections"),
            2.0 * part.thin.torsion,
            "mm4",
            "sum of b t³ / 3",
        );
        let weak = figure(("inertia", "least second moment"), values.principal[1], "mm4", "exact");
        post.figures.splice(0..0, [weak, open, cell]);
        post
    }

    pub(super) fn load(&self, load: &Load) -> LoadCase {
        let force = load.point * load.factor;
        LoadCase {
            name: load.name.clone(),
            basis: load.basis.clone(),
            figures: vec![
                figure(("point", "load along the post"), load.point, "N", "as declared"),
                figure(("factor", "load factor"), load.factor, "", "as declared"),
                figure(("force", "force"), force, "N", "load times factor"),
            ],
            share: force / self.resistance,
            deflection: None,
        }
    }
}

/// The walls of a pair's cell: one middle line to the mirror, its image back, and what closes it.
fn cell(
    part: &PartSection,
    mirror: &Map2<SectionFrame, SectionFrame>,
    closing: f64,
) -> Vec<(P, f64)> {
    let section = &part.cut.section;
    let mut line: Vec<P> = Vec::new();
    for piece in &section.pieces {
        let steps = if piece.radius().is_some() { 8 } else { 1 };
        line.extend((0..steps).map(|i| piece.at(f64::from(i) / f64::from(steps))));
    }
    line.extend(section.pieces.last().map(|piece| piece.end()));
    let apart = |p: Option<&P>| p.map_or(0.0, |p| p.distance(mirror.point(*p)));
    // The end nearer to its image is where the two are bolted.
    if apart(line.first()) < apart(line.last()) {
        line.reverse();
    }
    let image = line.iter().rev().map(|p| (mirror.point(*p), section.thickness));
    let mut walls: Vec<(P, f64)> = line.iter().map(|p| (*p, section.thickness)).collect();
    walls.extend(image);
    if let Some(last) = walls.last_mut() {
        last.1 = closing;
    }
    walls
}
