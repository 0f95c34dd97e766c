//! Whether a family stands on a container, by what its own formulas name, and what is told when
//! the spec has none.

use crate::note::Finding;
use crate::spec::Spec;
use crate::template::{Formula, Template};

/// Groups of values that only a container brings.
const GROUPS: [&str; 6] = ["container", "wall", "cut", "ends", "near", "far"];

/// Whether the family cuts a wall, joins two ends, or works a value out from the container's.
pub(super) fn needs_container(template: &Template) -> bool {
    let values = || template.values.values().flat_map(|group| group.values());
    let found = || template.requirements.iter().map(|requirement| &requirement.found);
    let own = |name: &str| {
        name.split_once('.').is_some_and(|(group, value)| {
            template.values.get(group).is_some_and(|values| values.contains_key(value))
                || template.parameters.get(group).is_some_and(|all| all.contains_key(value))
        })
    };
    let names = |formula: &Formula| {
        let mut names = formula.names().into_iter();
        names.any(|name| in_groups(&name) && !own(&name))
    };
    template.opening.is_some() || template.ends.is_some() || values().chain(found()).any(names)
}

fn in_groups(name: &str) -> bool {
    name.split_once('.').is_some_and(|(group, _)| GROUPS.contains(&group))
}

/// What is told of a spec without the container that its family stands on.
pub(super) fn missing_container(spec: &Spec, template: &Template) -> Finding {
    let finding = Finding::error("spec.missing-key", "`container` is missing");
    let help = if template.ends.is_some() {
        "write `[container]` with `type = \"40ft-high-cube\"`"
    } else {
        "write `[container]` with `type = \"40ft-high-cube\"` and `wall = \"left\"`"
    };
    finding.about("container").at(spec.place(&(0..0))).help(help)
}
