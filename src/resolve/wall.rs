//! A wall laid out from post to post, in the wall's frame.

use super::survey::{self, Nominal, SurveyFit};
use super::wall_members::members;
use crate::note::{Finding, Notes, Place};
use crate::shelf::{Container, Corrugation, Member, WallName, WallPlan};
use crate::spec::Spec;

/// A corrugated wall between its two posts, in the wall's frame.
#[derive(Debug, Clone, PartialEq)]
pub struct WallLayout {
    /// Which wall.
    pub name: WallName,
    /// The corrugation; where a survey gave another pitch, the inner flats take the difference.
    pub corrugation: Corrugation,
    /// Distance between the posts' edges, mm.
    pub length: f64,
    /// Pitch of most of its flats, or the surveyed one, mm.
    pub pitch: f64,
    /// X of every whole outer flat's centre, ascending.
    pub outer_flat_centres: Vec<f64>,
    /// X of the vertical seams between panels; they lie in inner flats.
    pub seams: Vec<f64>,
    /// Z of the wall's lower and upper edge, where it meets the rails.
    pub edges: [f64; 2],
    /// Z of the roof's underside.
    pub ceiling: f64,
    /// Y of the top rail's inside face: what a frame must clear.
    pub rail_inside: f64,
    /// Posts, rails, floor, roof and what is under the floor.
    pub members: Vec<Member>,
    /// The survey that replaced the nominal layout.
    pub survey: Option<SurveyFit>,
}

/// Lays out a wall of a container, by the survey in `spec` where there is one. None, with the
/// reasons told, when the wall has no corrugation or the survey is not one of it.
pub fn lay_out(
    container: &Container,
    name: WallName,
    spec: Option<&Spec>,
    notes: &mut Notes,
) -> Option<WallLayout> {
    let (plan, length) = match name {
        WallName::Left | WallName::Right => (&container.side, container.side_length()),
        WallName::FrontEnd => (&container.end, container.end_length()),
        WallName::DoorEnd => {
            let message = format!("the door end of a {} has no wall to cut", container.title);
            let help = "choose \"left\", \"right\" or \"front-end\"";
            let finding = Finding::error("wall.no-wall", message).about("container.wall");
            notes.add(finding.at(spec.and_then(wall_place)).help(help));
            return None;
        }
    };
    let nominal = nominal(container, name, plan, length);
    let survey = spec.and_then(|s| Some((s, s.container.as_ref()?.survey.as_ref()?)));
    let Some((spec, survey)) = survey else { return Some(nominal) };
    let length = survey.length.as_ref().map_or(length, |said| said.value);
    let wall = Nominal { pitch: nominal.pitch, outer_flat: plan.corrugation.outer_flat, length };
    let mut told = Vec::new();
    let fit = survey::fit(survey, wall, &mut told);
    for (span, finding) in told {
        notes.add(finding.about("container.survey").at(spec.place(&span)));
    }
    Some(measured(container, nominal, length, fit?))
}

/// Where a spec names the wall, or else the container.
fn wall_place(spec: &Spec) -> Option<Place> {
    let choice = spec.container.as_ref()?;
    spec.place(&choice.wall.as_ref().unwrap_or(&choice.kind).span)
}

fn nominal(container: &Container, name: WallName, plan: &WallPlan, length: f64) -> WallLayout {
    let base = container.fitting.below_base - container.floor_level;
    let most = plan.panels.iter().max_by_key(|panel| panel.flats);
    WallLayout {
        name,
        corrugation: plan.corrugation,
        length,
        pitch: most.map_or(plan.corrugation.pitch(), |panel| panel.pitch),
        outer_flat_centres: plan.centres(),
        seams: plan.seams(),
        edges: [
            base + container.bottom_rail.height,
            container.inside.height - container.top_rail.height,
        ],
        ceiling: container.inside.height,
        rail_inside: container.top_rail.depth,
        members: members(container, name, length),
        survey: None,
    }
}

/// The layout with the surveyed pitch and phase in the place of the nominal ones. Seams move to the
/// nearest inner flat.
fn measured(container: &Container, nominal: WallLayout, length: f64, fit: SurveyFit) -> WallLayout {
    let half = nominal.corrugation.outer_flat / 2.0;
    let last = length - half + 1e-9;
    let centres: Vec<f64> = (0..)
        .map(|i| fit.first + fit.pitch * f64::from(i))
        .take_while(|centre| *centre <= last)
        .collect();
    let inner: Vec<f64> = centres.windows(2).map(|pair| (pair[0] + pair[1]) / 2.0).collect();
    let moved = |seam: &f64| {
        let far = |a: &f64| (a - seam).abs();
        inner.iter().copied().min_by(|a, b| far(a).total_cmp(&far(b)))
    };
    let mut corrugation = nominal.corrugation;
    corrugation.inner_flat += fit.pitch - corrugation.pitch();
    WallLayout {
        corrugation,
        length,
        pitch: fit.pitch,
        seams: nominal.seams.iter().filter_map(moved).collect(),
        outer_flat_centres: centres,
        members: members(container, nominal.name, length),
        survey: Some(fit),
        ..nominal
    }
}
