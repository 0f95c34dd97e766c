//! From the order found to the plan: every number the operator sets, and the pictures.

use std::f64::consts::PI;
use std::rc::Rc;

use super::cost::{Cost, handling};
use super::fit::Hit;
use super::force::{FORCE_SOURCE, air_bending_force};
use super::job::{Job, Unit};
use super::plan::{BendSide, Plan, Step, ToolRun, ToolUse};
use super::runs::{Run, Runs};
use super::search::{Beside, Made, Search, Tool, Tools};
use super::shape::Shape;
use super::swing::{Moment, SheetFrame, Swing};
use crate::geom::{BrakeFrame, Point};
use crate::shelf::ToolShape;

/// Degrees of the bend zone that one chord stands for in a picture.
const CHORD: f64 = 10.0;

/// The plan that an order comes to.
pub(super) fn plan(search: &mut Search<'_, '_>, order: &[Made], cost: Cost) -> Result<Plan, Hit> {
    let brake = search.job.bench.brake;
    let mut steps = Vec::new();
    let mut lie = None;
    for (i, (made, tools)) in order.iter().zip(set_up(order)).enumerate() {
        let mut step = step(search, (made, tools), i + 1)?;
        let here = search.job.lies[search.job.units[made.stroke.unit].lies[made.stroke.gauge]];
        step.handling = handling(lie, here);
        lie = Some(here);
        steps.push(step);
    }
    Ok(Plan {
        steps,
        flips: usize::from(cost.flips),
        turns: usize::from(cost.turns),
        tool_changes: usize::from(cost.changes),
        exact: search.exact,
        ram: points(&brake.ram),
        bed: points(&brake.bed),
    })
}

/// For each stroke, the first punch and die that serve until tools are changed.
fn set_up(order: &[Made]) -> Vec<[usize; 2]> {
    let mut tools = Vec::new();
    let mut chosen = [0, 0];
    for (i, made) in order.iter().enumerate().rev() {
        let last = order.get(i + 1).is_none_or(|next| next.changed);
        if last {
            let Tools { punches, dies } = made.tools;
            chosen = [punches, dies].map(|bits| bits.trailing_zeros() as usize);
        }
        tools.push(chosen);
    }
    tools.reverse();
    tools
}

fn step(
    search: &mut Search<'_, '_>,
    (made, [punch_at, die_at]): (&Made, [usize; 2]),
    number: usize,
) -> Result<Step, Hit> {
    let stroke = made.stroke;
    let beside: Rc<Beside> = search.beside(made.before, stroke.mask, stroke.unit);
    let punch_runs = search.fit(made.before, stroke, Tool::Punch(punch_at))?;
    let die_runs = search.fit(made.before, stroke, Tool::Die(die_at))?;
    let bends = search.bends(stroke.mask, stroke.unit);
    let job = search.job;
    let unit = &job.units[stroke.unit];
    let (brake, swing) = (job.bench.brake, unit.stroke.swing);
    let (die, punch) = (&brake.dies[die_at], &brake.punches[punch_at]);
    let [low, high] = beside.sides.span();
    let middle = (low + high) / 2.0;
    let length: f64 = beside.sides.spans.iter().map(|[a, b]| b - a).sum();
    Ok(Step {
        number,
        side_up: job.lies[unit.lies[stroke.gauge]].side,
        handling: handling(None, job.lies[unit.lies[stroke.gauge]]),
        die: tool_use(die_at, (&die.name, &die.tool), (&die_runs, middle)),
        punch: tool_use(punch_at, (&punch.name, &punch.tool), (&punch_runs, middle)),
        angle: swing.last - unit.springback,
        springback: unit.springback,
        springback_source: unit.springback_source.clone(),
        angle_set: swing.last,
        nose: [swing.at(0.0).nose, swing.at(swing.last).nose],
        gauge_side: if stroke.gauge == 0 { BendSide::Parent } else { BendSide::Child },
        stop: beside.stops[stroke.gauge].clone(),
        length,
        force: force(job, unit, length),
        force_source: FORCE_SOURCE.to_owned(),
        before: picture(&beside, &swing, stroke.gauge, 0.0),
        after: picture(&beside, &swing, stroke.gauge, swing.last),
        bends,
    })
}

/// A tool with its runs counted from the middle of the bends.
fn tool_use(
    index: usize,
    (name, shape): (&str, &ToolShape),
    (runs, middle): (&Runs, f64),
) -> ToolUse {
    let run =
        |run: &Run| ToolRun { span: run.span.map(|z| z - middle), pieces: run.pieces.clone() };
    ToolUse {
        index,
        name: name.to_owned(),
        outline: points(&shape.outline),
        runs: runs.runs.iter().map(run).collect(),
    }
}

fn force(job: &Job<'_>, unit: &Unit, length: f64) -> f64 {
    let swing = unit.stroke.swing;
    let (t, opening) = (swing.thickness, swing.half_opening * 2.0);
    air_bending_force(job.bench.brake, job.material, t, length, opening)
}

/// The part cut across in the middle of the first bend, bent by an angle.
fn picture(
    beside: &Beside,
    swing: &Swing,
    gauge: usize,
    angle: f64,
) -> Vec<Vec<Point<BrakeFrame>>> {
    let [from, to] = beside.sides.spans[0];
    let z = (from + to) / 2.0;
    let moment = swing.at(angle);
    let mut polygons = vec![zone(swing, &moment, angle)];
    for side in [0, 1] {
        let way = if side == gauge { 1.0 } else { -1.0 };
        let placed = |p: &Point<SheetFrame>| {
            let q = moment.point(*p);
            Point::new(q.x * way, q.y)
        };
        for polygon in Shape::cut(&beside.sides.pieces[side], z) {
            polygons.push(polygon.iter().map(placed).collect());
        }
    }
    polygons
}

/// The bend zone itself.
fn zone(swing: &Swing, moment: &Moment, angle: f64) -> Vec<Point<BrakeFrame>> {
    let half = swing.zone / 2.0;
    let t = swing.thickness;
    let right = |w: f64| moment.point(Point::new(half, w));
    if angle == 0.0 {
        let left = |w: f64| Point::new(-half, w);
        return vec![left(0.0), right(0.0), right(t), left(t)];
    }
    let radius = swing.zone / (angle * PI / 180.0);
    let inner = radius - (t - swing.neutral);
    let centre = Point::new(0.0, moment.nose + inner);
    let count = (angle / CHORD).ceil().max(1.0) as usize;
    let arc = |radius: f64| {
        let down = Point::new(0.0, -radius);
        let at = move |i: usize| centre + down.turned(angle * (i as f64 / count as f64 - 0.5));
        (0..=count).map(at)
    };
    arc(inner + t).chain(arc(inner).rev()).collect()
}

fn points(outline: &[[f64; 2]]) -> Vec<Point<BrakeFrame>> {
    outline.iter().map(|[x, y]| Point::new(*x, *y)).collect()
}
