//! Why a part cannot be bent, and what would help.

use super::bench::Bench;
use super::fit::{Hit, Obstacle};
use super::job::Job;
use super::plan::Refusal;
use super::search::{Found, Search};
use super::shape::{Done, What};
use crate::shelf::{Brake, Punch, ToolShape};

/// Recesses of a punch that are tried in thought, mm.
const RECESSES: [f64; 5] = [20.0, 40.0, 60.0, 90.0, 130.0];

/// Ends of the search that are told.
const TOLD: usize = 4;

/// What is told when the search has found no order: what stands in the way at the ends it came to,
/// those with the most bends made first.
pub(super) fn refusal(search: &mut Search<'_, '_>) -> Refusal {
    let job = search.job;
    let reached = search.reached();
    let most = reached.first().map_or(0, |done| done.count_ones());
    let ends = reached.into_iter().filter(|done| done.count_ones() == most);
    let mut refusal =
        Refusal { blocked: Vec::new(), why: Vec::new(), help: String::new(), exact: search.exact };
    let mut hits = Vec::new();
    for state in ends.take(TOLD) {
        for (i, unit) in job.units.iter().enumerate() {
            if state & unit.mask != 0 {
                continue;
            }
            let obstacle = search.obstacle(state, i);
            refusal.blocked.push(unit.bends[0]);
            refusal.why.push(sentence(job, state, i, obstacle));
            hits.extend(obstacle.map(|(hit, _)| hit));
        }
    }
    refusal.help = help(job, &hits);
    refusal
}

/// What is told of a part with more bends than are looked at.
pub(super) fn too_many(most: usize) -> Refusal {
    Refusal {
        blocked: Vec::new(),
        why: vec![format!("it has more than {most} bends")],
        help: "split the part".to_owned(),
        exact: false,
    }
}

fn sentence(job: &Job<'_>, done: Done, unit: usize, obstacle: Option<(Hit, [usize; 2])>) -> String {
    let part = job.shape.part;
    let brake = job.bench.brake;
    let unit = &job.units[unit];
    let bend = &part.bends[unit.bends[0]].name;
    let made: Vec<&str> = job
        .units
        .iter()
        .filter(|other| done & other.mask != 0)
        .map(|other| part.bends[other.bends[0]].name.as_str())
        .collect();
    let after =
        if made.is_empty() { "first".to_owned() } else { format!("after {}", made.join(", ")) };
    let Some((hit, [punch, die])) = obstacle else {
        return format!("bend {bend} can be made {after}, but then another cannot");
    };
    let what = match hit.what {
        Some(What::Face(face)) => format!("face {}", part.faces[face].name),
        Some(What::Bend(other)) => format!("the bend {}", part.bends[other].name),
        None => "the part".to_owned(),
    };
    let punch = brake.punches.get(punch).map_or("", |punch| punch.name.as_str());
    let die = brake.dies.get(die).map_or("", |die| die.name.as_str());
    let meets = match hit.obstacle {
        Obstacle::Punch => format!("{what} meets the punch {punch}"),
        Obstacle::Ram => format!("{what} meets the ram over the punch {punch}"),
        Obstacle::Die => format!("{what} meets the die {die}"),
        Obstacle::Bed => format!("{what} meets the bed under the die {die}"),
        Obstacle::PunchPieces => {
            format!(
                "{what} stands beside it, and no pieces of punch {punch} give the length between"
            )
        }
        Obstacle::DiePieces => {
            format!("{what} hangs beside it, and no pieces of die {die} give the length between")
        }
        Obstacle::Held => format!("{what} keeps the punch {punch} from being lifted out"),
        Obstacle::NoTool => format!(
            "no punch or die takes {:.1} degrees under load at an inside radius of {:.1} mm",
            unit.stroke.swing.last, part.bends[unit.bends[0]].radius
        ),
    };
    format!("bend {bend}, {after}: {meets}")
}

/// What would make the part possible.
fn help(job: &Job<'_>, hits: &[Hit]) -> String {
    if hits.iter().any(|hit| hit.obstacle == Obstacle::NoTool) {
        return "add a punch and a die for this angle and radius to the shop's file".to_owned();
    }
    let pieces = |hit: &Hit| matches!(hit.obstacle, Obstacle::PunchPieces | Obstacle::DiePieces);
    if !hits.is_empty() && hits.iter().all(pieces) {
        return "cut a tool into shorter pieces, or set the neighbouring flanges back".to_owned();
    }
    for recess in RECESSES {
        let mut brake = job.bench.brake.clone();
        brake.punches.retain(|punch| punch.angle < 80.0);
        brake.punches.push(gooseneck(recess));
        if possible(job, &brake) {
            return format!(
                "a gooseneck punch with a recess of {recess:.0} mm would serve; or split the part"
            );
        }
    }
    "split the part at one of these bends and join the pieces, or open a leg".to_owned()
}

fn possible(job: &Job<'_>, brake: &Brake) -> bool {
    let bench = Bench::new(brake);
    let job = Job::new(job.shape.part, &bench, job.shop, job.material);
    matches!(Search::new(&job).run(), Found::Order(..))
}

/// A punch in thought: slender nose, and a recess towards the operator.
fn gooseneck(recess: f64) -> Punch {
    let low = recess + 25.0;
    let high = low + 90.0;
    let top = high + recess + 20.0;
    let back = recess + 22.0;
    Punch {
        name: "gooseneck".to_owned(),
        radius: 0.8,
        angle: 80.0,
        tool: ToolShape {
            outline: vec![
                [0.0, 0.0],
                [0.6, 0.3],
                [back, back * 1.2],
                [back, high],
                [12.0, top],
                [12.0, top + 20.0],
                [-12.0, top + 20.0],
                [-12.0, top],
                [recess, high],
                [recess, low],
                [-5.0, 18.0],
                [-5.0, 6.3],
                [-0.6, 0.3],
            ],
            segments: (1..=60).map(|i| f64::from(i) * 5.0).collect(),
            force_per_metre: f64::INFINITY,
        },
    }
}
