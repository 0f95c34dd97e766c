//! From the order found to the plan: every number the operator sets, and the pictures.

use std::f64::consts::PI;
use std::rc::Rc;

use super::cost::{Cost, handling};
use super::force::{FORCE_SOURCE, air_bending_force};
use super::job::{Job, Unit};
use super::plan::{BendSide, Plan, Step, ToolRun, ToolUse};
use super::runs::Runs;
use super::search::{Beside, Made, Search};
use super::shape::Shape;
use super::swing::{Moment, SheetFrame, Swing};
use crate::geom::{BrakeFrame, Point};
use crate::shelf::ToolShape;

/// Degrees of the bend zone that one chord stands for in a picture.
const CHORD: f64 = 10.0;

/// The plan that an order comes to.
pub(super) fn plan(search: &mut Search<'_, '_>, order: &[Made], cost: Cost) -> Plan {
    let brake = search.job.bench.brake;
    let mut steps = Vec::new();
    let mut lie = None;
    for (i, made) in order.iter().enumerate() {
        let mut step = step(search, made, i + 1);
        let here = search.job.lies[search.job.units[made.choice.unit].lies[made.choice.gauge]];
        step.handling = handling(lie, here);
        lie = Some(here);
        steps.push(step);
    }
    Plan {
        steps,
        flips: usize::from(cost.flips),
        turns: usize::from(cost.turns),
        tool_changes: usize::from(cost.changes),
        exact: search.exact,
        ram: points(&brake.ram),
        bed: points(&brake.bed),
    }
}

fn step(search: &mut Search<'_, '_>, made: &Made, number: usize) -> Step {
    let choice = made.choice;
    let beside: Rc<Beside> = search.beside(made.before, choice.mask, choice.unit);
    let bends = search.bends(choice.mask, choice.unit);
    let job = search.job;
    let unit = &job.units[choice.unit];
    let (brake, swing) = (job.bench.brake, unit.stroke.swing);
    let length: f64 = beside.sides.spans.iter().map(|[a, b]| b - a).sum();
    let opening = swing.half_opening * 2.0;
    let (die, punch) = (&brake.dies[choice.die], &brake.punches[choice.punch]);
    let [low, high] = beside.sides.span();
    let middle = (low + high) / 2.0;
    let set_up = |name: &str, tool: &ToolShape, index: usize, runs: &Runs| ToolUse {
        index,
        name: name.to_owned(),
        outline: points(&tool.outline),
        runs: runs
            .runs
            .iter()
            .map(|run| ToolRun { span: run.span.map(|z| z - middle), pieces: run.pieces.clone() })
            .collect(),
    };
    Step {
        number,
        side_up: job.lies[unit.lies[choice.gauge]].side,
        handling: handling(None, job.lies[unit.lies[choice.gauge]]),
        die: set_up(&die.name, &die.tool, choice.die, &made.set_up[1]),
        punch: set_up(&punch.name, &punch.tool, choice.punch, &made.set_up[0]),
        angle: swing.last - unit.springback,
        springback: unit.springback,
        springback_source: unit.springback_source.clone(),
        angle_set: swing.last,
        nose: [swing.at(0.0).nose, swing.at(swing.last).nose],
        gauge_side: if choice.gauge == 0 { BendSide::Parent } else { BendSide::Child },
        stop: beside.stops[choice.gauge].clone(),
        length,
        force: force(job, unit, length, opening),
        force_source: FORCE_SOURCE.to_owned(),
        before: picture(&beside, &swing, choice.gauge, 0.0),
        after: picture(&beside, &swing, choice.gauge, swing.last),
        bends,
    }
}

fn force(job: &Job<'_>, unit: &Unit, length: f64, opening: f64) -> f64 {
    let t = unit.stroke.swing.thickness;
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
