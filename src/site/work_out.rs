//! From a kit and its container to what is known of the work on site.

use super::step_joints::step_joints;
use super::{
    Cut, SheetRun, Site, foam, holding, lines, near, order, panel, removed, schedule, tools,
};
use crate::fold::FoldedPart;
use crate::kit::{Kit, Wall};
use crate::resolve::{SiteContainer, WallLayout};
use crate::shelf::{Shelf, WallName};
use crate::units;

/// What the work on site follows from. `folded` stands in the order of the kit's parts.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The kit.
    pub kit: &'a Kit,
    /// Its parts folded.
    pub folded: &'a [FoldedPart],
    /// The shop's data.
    pub shelf: &'a Shelf,
    /// The container with its wall laid out.
    pub container: &'a SiteContainer,
}

/// Works the site out: cut lines, panel, tabs, distances, schedule and order of work.
pub fn work_out(subject: &Subject) -> Site {
    let Subject { kit, folded, shelf, container } = *subject;
    let inches = kit.inches;
    let length = move |mm: f64| if inches { units::in_inches(mm) } else { rounded(mm) };
    let wall = kit.container.wall.as_ref();
    let layout = container.layout.as_ref();
    let cut = wall.and_then(|wall| cut(subject, wall, &length)).filter(|cut| cut.panel.area > 0.0);
    let settings = schedule::settings(kit, folded, shelf);
    let foam = foam::foaming(kit);
    let known = (cut.as_ref(), settings.as_slice(), foam.as_ref());
    let tools = tools::tools(kit, shelf, known, &length);
    let steps = order::steps(kit, cut.as_ref(), &length);
    Site {
        step_joints: step_joints(kit, &steps),
        wall: layout.map(|layout| layout.name.word()),
        survey: layout.and_then(|layout| Some(layout.survey.as_ref()?.spread)),
        settings,
        foam,
        tools,
        steps,
        cut,
    }
}

/// Millimetres as a tape shows them.
fn rounded(mm: f64) -> String {
    format!("{} mm", units::number(mm, 1))
}

fn cut(subject: &Subject, wall: &Wall, length: &dyn Fn(f64) -> String) -> Option<Cut> {
    let container = subject.container;
    let layout = container.layout.as_ref()?;
    let lines = lines::lines(wall, wall.cuts?, wall.cut_heights?);
    let seams: Vec<f64> = layout.seams.iter().map(|x| x - container.shift).collect();
    let sheets = sheets(subject, layout, (&seams, lines.x));
    let panel = panel::panel(wall, &sheets, &lines);
    let screws = schedule::rail_points(subject.kit, subject.folded);
    Some(Cut {
        lines,
        lips: container.lips.and_then(|lips| lines::lips(wall, &lines, &lips)),
        panel,
        holding: holding::holding(wall, &sheets, &lines, &panel),
        near: near::near(container, wall, &seams, &lines),
        pockets: near::pockets(container, &lines, &screws),
        removed: removed::removed(wall, &lines, length),
        sheets,
        seams,
    })
}

/// The sheets between two X, from seam to seam.
fn sheets(
    subject: &Subject,
    layout: &WallLayout,
    (seams, [from, to]): (&[f64], [f64; 2]),
) -> Vec<SheetRun> {
    let book = subject.shelf.container(&subject.container.id);
    let plan = book.map(|book| match layout.name {
        WallName::FrontEnd | WallName::DoorEnd => &book.end,
        WallName::Left | WallName::Right => &book.side,
    });
    let panels = plan.map_or(&[][..], |plan| &plan.panels);
    let mut ends = vec![f64::NEG_INFINITY];
    ends.extend(seams);
    ends.push(f64::INFINITY);
    let run = |(i, pair): (usize, &[f64])| SheetRun {
        x: [pair[0].max(from), pair[1].min(to)],
        thickness: match panels.len() == seams.len() + 1 {
            true => panels[i].thickness,
            false => layout.corrugation.thickness,
        },
    };
    let all = ends.windows(2).enumerate().map(run);
    all.filter(|sheet| sheet.x[0] < sheet.x[1]).collect()
}
