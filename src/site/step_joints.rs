//! Which joints are set in which step of the order of work.

use crate::kit::{Joint, JointMember, Kit, Step};

/// Ids of the joints of each step: those that the family names there, else those whose last part
/// the step brings.
pub(super) fn step_joints(kit: &Kit, steps: &[Step]) -> Vec<Vec<String>> {
    let mut all = vec![Vec::new(); steps.len()];
    for joint in &kit.joints {
        let named = steps.iter().position(|step| step.joints.iter().any(|own| is(joint, own)));
        if let Some(step) = named.or_else(|| last_part(kit, joint, steps)) {
            all[step].push(joint.id.clone());
        }
    }
    all
}

/// Whether a joint is the one of that name in the family, either hand.
fn is(joint: &Joint, name: &str) -> bool {
    let rest = joint.name.strip_prefix(name);
    rest.is_some_and(|rest| matches!(rest, "" | ", left" | ", right"))
}

/// The first step after which all parts of a joint stand.
fn last_part(kit: &Kit, joint: &Joint, steps: &[Step]) -> Option<usize> {
    let members = joint.pairs.iter().flatten();
    let parts = members.filter_map(|member| match member {
        JointMember::Hole { part, .. } => Some(&kit.parts[*part].number),
        JointMember::Into(_) => None,
    });
    let brought = parts.map(|number| steps.iter().position(|step| step.parts.contains(number)));
    brought.collect::<Option<Vec<usize>>>()?.into_iter().max()
}
