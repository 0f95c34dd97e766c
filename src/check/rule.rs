//! What a rule is, and the list of them all.

use super::{
    accept, brake_gauge, brake_order, fab_bed, fab_force, fab_hole_bend, fab_hole_size, fab_leg,
    fab_outline, fab_radius, fab_relief, fab_sheet, fab_web, fit_clash, fit_coaxial, fit_contact,
    fit_countersink, fit_edge, fit_grip, fit_into, fit_keep_out, fit_reach, fit_spacing,
    fit_stackup, load_screen, require, site_cutout, site_gooseneck, site_pocket, site_post,
    site_removed, site_seam,
};
use crate::brake::Outcome;
use crate::flat::Blank;
use crate::fold::FoldedPart;
use crate::kit::{Kit, Part};
use crate::note::Notes;
use crate::resolve::Resolved;
use crate::section::Strength;
use crate::shelf::{BendRule, Material, Shelf};
use crate::site::{Cut, Site};
use crate::solid::Scene;
use crate::spec::Spec;
use crate::stackup;
use crate::template::Template;
use crate::units;

/// Everything a rule may look at. `folded` and `blanks` stand in the order of the kit's parts.
#[derive(Clone, Copy)]
pub struct Subject<'a> {
    /// The kit.
    pub kit: &'a Kit,
    /// Its parts folded.
    pub folded: &'a [FoldedPart],
    /// Its parts developed.
    pub blanks: &'a [Blank],
    /// The shop's data.
    pub shelf: &'a Shelf,
    /// Sections of its parts, and the screens of their loads.
    pub strength: &'a Strength,
    /// What the shop's tolerances do to the joints.
    pub stackup: &'a stackup::Report,
    /// The work on site; none where no container is cut or joined.
    pub site: Option<&'a Site>,
    /// Parts, container and keep-outs as solids in the site.
    pub scene: &'a Scene<'a>,
    /// Orders of bends, in the order of the kit's parts; empty where none were looked for.
    pub bending: &'a [Option<Outcome>],
    /// What was asked for; none when the kit was read back from its files.
    pub asked: Option<Asked<'a>>,
}

/// What a kit was worked out from.
#[derive(Clone, Copy)]
pub struct Asked<'a> {
    /// The template.
    pub template: &'a Template,
    /// Its values.
    pub resolved: &'a Resolved,
    /// The spec.
    pub spec: &'a Spec,
}

impl Subject<'_> {
    /// The opening in the wall, where the kit cuts one.
    pub(super) fn cut(&self) -> Option<&Cut> {
        self.site.and_then(|site| site.cut.as_ref())
    }

    /// A length for a message, in the units the kit's drawings read in.
    pub(super) fn length(&self, mm: f64) -> String {
        if self.kit.inches { units::in_inches(mm) } else { format!("{} mm", units::number(mm, 1)) }
    }

    /// The shop's data about a part's material.
    pub(super) fn material(&self, part: &Part) -> Option<&Material> {
        self.shelf.material(&part.material.id)
    }

    /// How the shop makes a bend of this part.
    pub(super) fn bend_rule(&self, part: &Part, angle: f64, radius: f64) -> Option<BendRule> {
        let material = self.material(part)?;
        Some(self.shelf.shop.bend_to(material, (part.thickness, angle), radius))
    }
}

/// One rule.
#[derive(Clone, Copy)]
pub struct Rule {
    /// Stable id, as findings carry it.
    pub id: &'static str,
    /// What it asks for, in one sentence.
    pub asks: &'static str,
    /// The limit, in words.
    pub limit: &'static str,
    /// Where its limit comes from.
    pub source: &'static str,
    /// What to do about it, where no finding knows better.
    pub remedy: &'static str,
    /// The check.
    pub run: fn(&Subject, &mut Notes),
}

/// All rules in the order in which they run and tell: the family's own requirements first, since a
/// broken one often is the cause of what follows.
pub const RULES: &[Rule] = &[
    require::RULE,
    fit_coaxial::RULE,
    fit_contact::RULE,
    fit_countersink::RULE,
    fit_grip::RULE,
    fit_edge::RULE,
    fit_spacing::RULE,
    fit_into::RULE,
    fit_clash::RULE,
    fit_keep_out::RULE,
    fit_reach::RULE,
    fit_stackup::RULE,
    fab_hole_bend::RULE,
    fab_hole_size::RULE,
    fab_web::RULE,
    fab_leg::RULE,
    fab_radius::RULE,
    fab_sheet::RULE,
    fab_bed::RULE,
    fab_force::RULE,
    fab_outline::RULE,
    fab_relief::RULE,
    brake_order::RULE,
    brake_gauge::RULE,
    load_screen::RULE,
    site_seam::RULE,
    site_post::RULE,
    site_gooseneck::RULE,
    site_pocket::RULE,
    site_cutout::RULE,
    site_removed::RULE,
];

/// The rules as a Markdown table for the contributor's guide: id, what is asked, limit, source,
/// what to do.
pub fn guide() -> String {
    let mut table =
        String::from("| id | asks | limit | source | what to do |\n|---|---|---|---|---|\n");
    for rule in RULES {
        let Rule { id, asks, limit, source, remedy, .. } = rule;
        table.push_str(&format!("| `{id}` | {asks} | {limit} | {source} | {remedy} |\n"));
    }
    table
}

/// Runs every rule, then enters what the spec accepts, where there is one.
pub fn run(subject: &Subject, notes: &mut Notes) {
    for rule in RULES {
        (rule.run)(subject, notes);
    }
    if let Some(asked) = subject.asked {
        accept::enter(asked.spec, notes);
    }
}
