//! `kit.json`: the whole kit as it was worked out, in the format `blankwright-kit/1`. Lengths are
//! millimetres, angles degrees, masses kilograms.

use serde::Serialize;
use serde::ser::{SerializeMap, Serializer};

use super::around_json::{self, KeepOutJson, keep_out_json, member_json};
use super::json::{self, Number, finite, numbers};
use super::lengths_json::{LengthsJson, lengths_json};
use super::membership_json::{Membership, MembershipJson, membership_json};
use super::neighbour_json::{NeighbourJson, neighbour_json};
use super::part_json::{PartJson, part_json};
use super::revision_json::{
    AmendmentJson, PreviousJson, RevisionJson, amendments_json, previous_json, revision_json,
};
use super::section_json::{ScreenJson, SectionJson, screen_json, section_json};
use super::sheets_json::{GroupJson, SheetJson, groups_json, kit_sheets};
use super::site_json::{SiteJson, site_json};
use super::stackup_json::{StackupJson, stackup_json};
use crate::brake::Outcome;
use crate::flat::Blank;
use crate::fold::FoldedPart;
use crate::kit::{Joint, JointMember, Kit, Value, Wall};
use crate::note::Finding;
use crate::section::Strength;
use crate::sheets::{Laid, Wanted};
use crate::site::Site;
use crate::stackup::Report;

/// A kit with all that was worked out from it. `folded` and `blanks` stand in the order of the
/// kit's parts.
#[derive(Debug, Clone, Copy)]
pub struct Record<'a> {
    /// The kit.
    pub kit: &'a Kit,
    /// Its parts folded.
    pub folded: &'a [FoldedPart],
    /// Its parts developed.
    pub blanks: &'a [Blank],
    /// The work on site; none where there is no container.
    pub site: Option<&'a Site>,
    /// What the checks say, acceptances entered.
    pub findings: &'a [Finding],
    /// Sections of the parts, and the screens of their loads.
    pub strength: &'a Strength,
    /// What the shop's tolerances do to the joints.
    pub stackup: &'a Report,
    /// Orders of bends, in the order of the kit's parts; empty where none were looked for.
    pub bending: &'a [Option<Outcome>],
    /// Its sheets, and the parts they name; none where nothing was laid out.
    pub laid: Option<(&'a [Wanted<'a>], &'a Laid)>,
    /// Paths of the files that are written with `kit.json`.
    pub files: &'a [&'a str],
}

/// The bytes of `kit.json`: keys in the order of the format, the same bytes for the same kit.
pub fn kit_json(record: &Record) -> Vec<u8> {
    kit_json_in(record, None)
}

/// The same for a kit that may be one of a catalogue.
pub fn kit_json_in(record: &Record, membership: Option<&Membership>) -> Vec<u8> {
    let kit = record.kit;
    let wall = kit.container.wall.as_ref();
    let parts = kit.parts.iter().zip(record.folded).zip(record.blanks).enumerate();
    json::to_bytes(&KitJson {
        format: "blankwright-kit/1",
        kit: &kit.number,
        title: &kit.title,
        revision: &kit.revision,
        template: &kit.template.0,
        spec_sha256: &kit.spec_sha256,
        values: Values(&kit.values),
        wall: wall.filter(|wall| wall.cuts.is_some()).map(wall_json),
        parts: parts
            .map(|(i, ((part, folded), blank))| {
                let plan = record.bending.get(i).and_then(|outcome| outcome.as_ref()?.plan());
                part_json(part, folded, blank, plan)
            })
            .collect(),
        joints: kit.joints.iter().map(|joint| joint_json(kit, joint)).collect(),
        fasteners: kit.fasteners.iter().map(fastener_json).collect(),
        findings: record.findings.iter().map(finding_json).collect(),
        sheets: record.laid.map_or_else(Vec::new, |(wanted, laid)| kit_sheets(wanted, laid)),
        date: &kit.date,
        drawn_by: &kit.drawn_by,
        approved_by: &kit.approved_by,
        owner: &kit.owner,
        site: &kit.site,
        units: if kit.inches { "in" } else { "mm" },
        tolerance: &kit.tolerance,
        container: ContainerJson {
            id: &kit.container.id,
            title: &kit.container.title,
            members: kit.container.members.iter().map(member_json).collect(),
            uncut_wall: wall.filter(|wall| wall.cuts.is_none()).map(wall_json),
        },
        keep_outs: kit.keep_outs.iter().map(keep_out_json).collect(),
        revisions: kit.revisions.iter().map(revision_json).collect(),
        notes: &kit.notes,
        cautions: &kit.cautions,
        section: record.strength.sections.iter().map(section_json).collect(),
        screens: record.strength.screens.iter().map(screen_json).collect(),
        stackup: stackup_json(record.stackup),
        site_work: record.site.map(|site| site_json(site, record.kit)),
        files: record.files,
        lengths: kit.lengths.iter().map(lengths_json).collect(),
        neighbours: kit.neighbours.iter().map(neighbour_json).collect(),
        sheet_groups: record.laid.map_or_else(Vec::new, |(_, laid)| groups_json(laid)),
        amendments: amendments_json(kit),
        previous: kit.previous.as_ref().map(previous_json),
        catalogue: membership.map(|membership| membership_json(membership, kit)),
    })
}

/// The keys after `sheets` are additions to the format's first list.
#[derive(Serialize)]
struct KitJson<'a> {
    format: &'static str,
    kit: &'a str,
    title: &'a str,
    revision: &'a str,
    template: &'a str,
    spec_sha256: &'a str,
    values: Values<'a>,
    wall: Option<WallJson>,
    parts: Vec<PartJson<'a>>,
    joints: Vec<JointJson<'a>>,
    fasteners: Vec<FastenerJson<'a>>,
    findings: Vec<FindingJson<'a>>,
    sheets: Vec<SheetJson<'a>>,
    date: &'a str,
    drawn_by: &'a str,
    approved_by: &'a str,
    owner: &'a str,
    site: &'a str,
    units: &'static str,
    tolerance: &'a str,
    container: ContainerJson<'a>,
    keep_outs: Vec<KeepOutJson<'a>>,
    revisions: Vec<RevisionJson<'a>>,
    notes: &'a [String],
    cautions: &'a [String],
    section: Vec<SectionJson<'a>>,
    screens: Vec<ScreenJson<'a>>,
    stackup: StackupJson<'a>,
    site_work: Option<SiteJson<'a>>,
    files: &'a [&'a str],
    lengths: Vec<LengthsJson<'a>>,
    neighbours: Vec<NeighbourJson<'a>>,
    sheet_groups: Vec<GroupJson<'a>>,
    amendments: Vec<AmendmentJson<'a>>,
    previous: Option<PreviousJson<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    catalogue: Option<MembershipJson<'a>>,
}

/// The values as one object in order of definition.
struct Values<'a>(&'a [(String, Value)]);

impl Serialize for Values<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (name, value) in self.0 {
            match value {
                Value::Number(number) => map.serialize_entry(name, &Number(*number))?,
                Value::Text(text) => map.serialize_entry(name, text)?,
                Value::Flag(flag) => map.serialize_entry(name, flag)?,
            }
        }
        map.end()
    }
}

#[derive(Serialize)]
struct WallJson {
    pitch: Number,
    outer_flat: Number,
    slope: Number,
    inner_flat: Number,
    depth: Number,
    thickness: Number,
    outer_flat_centres: Vec<Number>,
    cuts: Option<[Number; 2]>,
    cut_top: Option<Number>,
    cut_bottom: Option<Number>,
    ends: [Number; 2],
    edges: [Number; 2],
}

fn wall_json(wall: &Wall) -> WallJson {
    WallJson {
        pitch: Number(wall.pitch),
        outer_flat: Number(wall.outer_flat),
        slope: Number(wall.slope),
        inner_flat: Number(wall.inner_flat),
        depth: Number(wall.depth),
        thickness: Number(wall.thickness),
        outer_flat_centres: wall.outer_flat_centres.iter().copied().map(Number).collect(),
        cuts: wall.cuts.map(numbers),
        cut_top: wall.cut_heights.map(|[_, top]| Number(top)),
        cut_bottom: wall.cut_heights.map(|[bottom, _]| Number(bottom)),
        ends: numbers(wall.ends),
        edges: numbers(wall.edges),
    }
}

#[derive(Serialize)]
struct JointJson<'a> {
    id: &'a str,
    name: &'a str,
    fastener: &'a str,
    grip: Number,
    gap: Number,
    pairs: Vec<Vec<MemberJson<'a>>>,
    set_from: &'static str,
    before: Vec<&'a str>,
    through: Option<ThroughJson<'a>>,
}

/// The opening that the tool reaches through: a part and what its hole is for.
#[derive(Serialize)]
struct ThroughJson<'a> {
    part: &'a str,
    hole: &'a str,
}

#[derive(Serialize)]
#[serde(untagged)]
enum MemberJson<'a> {
    Hole {
        part: &'a str,
        place: usize,
        hole: &'a str,
    },
    /// The format has three words; a corner post is steel of the frame like a rail, and is marked.
    Into {
        into: &'a str,
        #[serde(skip_serializing_if = "std::ops::Not::not")]
        post: bool,
    },
}

fn joint_json<'a>(kit: &'a Kit, joint: &'a Joint) -> JointJson<'a> {
    let member = |member: &'a JointMember| match member {
        JointMember::Hole { part, place, hole } => {
            MemberJson::Hole { part: &kit.parts[*part].number, place: *place, hole }
        }
        JointMember::Into(into) if into == "post" => MemberJson::Into { into: "rail", post: true },
        JointMember::Into(into) => MemberJson::Into { into, post: false },
    };
    let number = |part: &usize| kit.parts[*part].number.as_str();
    let through = joint.setting.through.as_ref();
    JointJson {
        id: &joint.id,
        name: &joint.name,
        fastener: &joint.fastener,
        grip: Number(joint.grip),
        gap: Number(joint.gap),
        pairs: joint.pairs.iter().map(|pair| pair.iter().map(member).collect()).collect(),
        set_from: joint.setting.from.word(),
        before: joint.setting.before.iter().map(number).collect(),
        through: through.map(|(part, hole)| ThroughJson { part: number(part), hole }),
    }
}

#[derive(Serialize)]
struct FastenerJson<'a> {
    id: &'a str,
    title: &'a str,
    count: usize,
    spare: usize,
    hole: Number,
    diameter: Number,
    grip: [Number; 2],
    edge: Number,
    source: &'a str,
}

fn fastener_json(fastener: &crate::kit::Fastener) -> FastenerJson<'_> {
    FastenerJson {
        id: &fastener.id,
        title: &fastener.title,
        count: fastener.count,
        spare: fastener.spare,
        hole: Number(fastener.hole),
        diameter: Number(fastener.diameter),
        grip: numbers(fastener.grip),
        edge: Number(fastener.edge),
        source: &fastener.source,
    }
}

/// A finding as `kit.json` has it.
#[derive(Serialize)]
pub(super) struct FindingJson<'a> {
    check: &'a str,
    severity: &'static str,
    subject: &'a str,
    found: Option<Number>,
    limit: Option<Number>,
    unit: &'static str,
    source: &'a str,
    message: &'a str,
    accepted: Option<&'a str>,
    help: &'a str,
}

pub(super) fn finding_json(finding: &Finding) -> FindingJson<'_> {
    FindingJson {
        check: finding.check,
        severity: finding.severity.word(),
        subject: &finding.subject,
        found: finding.measure.and_then(|m| finite(m.found)),
        limit: finding.measure.and_then(|m| finite(m.limit)),
        unit: finding.measure.map_or("", |m| m.unit),
        source: &finding.source,
        message: &finding.message,
        accepted: finding.accepted.as_deref(),
        help: &finding.help,
    }
}

#[derive(Serialize)]
struct ContainerJson<'a> {
    id: &'a str,
    title: &'a str,
    members: Vec<around_json::MemberJson<'a>>,
    uncut_wall: Option<WallJson>,
}
