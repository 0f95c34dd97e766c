//! Warnings that the spec accepts by name; the reason is printed on the drawing set.

use crate::note::{Finding, Notes, Severity};
use crate::spec::Spec;

/// Enters every acceptance; one that fits no warning is told, so that it does not outlive its
/// cause.
pub(super) fn enter(spec: &Spec, notes: &mut Notes) {
    let mut idle = Vec::new();
    for accept in &spec.accepts {
        let mut used = false;
        for finding in notes.all_mut() {
            let named = finding.check == accept.check.value;
            let meant =
                accept.subject.as_ref().is_none_or(|subject| subject.value == finding.subject);
            if named && meant && finding.severity == Severity::Warning {
                finding.accepted = Some(accept.reason.value.clone());
                used = true;
            }
        }
        if !used {
            idle.push(
                Finding::warning(
                    "spec.accept-unused",
                    format!("no warning `{}` was there to accept", accept.check.value),
                )
                .at(spec.place(&accept.check.span))
                .help("remove it; errors cannot be accepted"),
            );
        }
    }
    idle.into_iter().for_each(|finding| notes.add(finding));
}
