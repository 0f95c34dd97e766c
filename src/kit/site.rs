//! The container and its wall as the kit shows them, from what was resolved.

use super::{Container, Member, Wall};
use crate::resolve::{SiteContainer, WallLayout};

/// The container in the site frame.
pub(super) fn container(site: &SiteContainer) -> Container {
    let wall = site.layout.as_ref().map(|layout| wall(site, layout));
    let members = site.members.iter().map(|member| Member {
        name: member.name.clone(),
        hollow: member.hollow,
        low: member.low,
        high: member.high,
    });
    Container { id: site.id.clone(), title: site.title.clone(), wall, members: members.collect() }
}

fn wall(site: &SiteContainer, layout: &WallLayout) -> Wall {
    let corrugation = &layout.corrugation;
    Wall {
        pitch: layout.pitch,
        outer_flat: corrugation.outer_flat,
        slope: corrugation.slope,
        inner_flat: corrugation.inner_flat,
        depth: corrugation.depth,
        thickness: corrugation.thickness,
        outer_flat_centres: layout.outer_flat_centres.iter().map(|x| x - site.shift).collect(),
        ends: [-site.shift, layout.length - site.shift],
        edges: layout.edges,
        cuts: site.cuts.map(|cuts| cuts[0]),
        cut_heights: site.cuts.map(|cuts| cuts[1]),
    }
}
