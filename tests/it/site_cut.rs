//! The work on site, held against sums worked by hand.

use blankwright::check::{RULES, Subject};
use blankwright::kit::Kit;
use blankwright::note::{Finding, Notes, Severity};
use blankwright::resolve::{Resolved, bind};
use blankwright::section::Strength;
use blankwright::site::{self, Carried, Cut, Edge, Near, NearKind, Site};
use blankwright::solid::Scene;
use blankwright::spec;
use blankwright::stackup::Report;

use crate::law_stock::{Made, STOCK, make_spec};

/// A door with everything that was worked out for its site.
pub(crate) struct Door {
    pub(crate) made: Made,
    pub(crate) site: Site,
}

impl Door {
    /// The door of a spec.
    pub(crate) fn of(text: &str) -> Self {
        let made = make_spec(text);
        let mut notes = Notes::default();
        let spec = spec::parse("spec.toml", text, &mut notes).unwrap();
        let template = STOCK.family(&spec.template.value).unwrap();
        let resolved: Resolved = bind(&spec, template, &STOCK.shelf, &mut notes).unwrap();
        let site = site::work_out(&site::Subject {
            kit: &made.kit,
            folded: &made.folded,
            shelf: &STOCK.shelf,
            container: resolved.container.as_ref().unwrap(),
        });
        Self { made, site }
    }

    fn cut(&self) -> &Cut {
        self.site.cut.as_ref().unwrap()
    }

    fn kit(&self) -> &Kit {
        &self.made.kit
    }

    fn near(&self, kind: NearKind) -> Vec<&Near> {
        self.cut().near.iter().filter(|near| near.kind == kind).collect()
    }

    /// What one rule says of the door, its site changed first.
    fn told(&self, id: &str, change: impl Fn(&mut Cut)) -> Vec<Finding> {
        let mut site = self.site.clone();
        change(site.cut.as_mut().unwrap());
        let rule = RULES.iter().find(|rule| rule.id == id).unwrap();
        let mut notes = Notes::default();
        let Made { kit, folded, blanks } = &self.made;
        let shelf = &STOCK.shelf;
        let subject = Subject {
            kit,
            folded,
            blanks,
            shelf,
            strength: &Strength::default(),
            stackup: &Report::default(),
            site: Some(&site),
            scene: &Scene::of(kit, folded),
            bending: &[],
            asked: None,
        };
        (rule.run)(&subject, &mut notes);
        notes.all().to_vec()
    }
}

/// A door's spec: container and wall, clear width, centre, and more lines.
pub(crate) fn spec(kind: &str, wall: &str, [width, centre]: [f64; 2], more: &str) -> String {
    format!(
        "kit = \"OTS-0801\"\ntemplate = \"overhead-door\"\nrevision = \"A\"\ndate = \"2026-03-02\"\n\
         title = \"Door\"\n[container]\ntype = \"{kind}\"\nwall = \"{wall}\"\n{more}\n\
         [opening]\nclear_width = {width:?}\nclear_height = 1950\ncentre = {centre:?}\n"
    )
}

fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-6, "{found} is not {wanted}");
}

#[test]
fn the_cut_out_is_weighed_by_hand() {
    let door = Door::of(&spec("40ft-high-cube", "left", [2440.0, 5000.0], ""));
    let (cut, lines) = (door.cut(), &door.cut().lines);
    let [left, right] = cut.lips.unwrap();
    let folds = (right.flat[0] - left.flat[0]) as f64;
    // Between two outer flats lie their halves and, for each fold, two flats of 72 and 70 and two
    // slopes of hypot(68, 36); the cuts take off or add flat sheet alone.
    let slope = (68.0_f64 * 68.0 + 36.0 * 36.0).sqrt();
    let more = lines.width - folds * 278.0;
    let developed = folds * (72.0 + 70.0 + 2.0 * slope) + more;
    near(cut.panel.developed, developed);
    near(cut.panel.area, developed * lines.height * 1e-6);
    // 1.6 mm in the middle of the wall, 7850 kg/m3; 0.3 kg/m2 of paint.
    near(cut.panel.steel_kg, developed * lines.height * 1e-6 * 1.6 * 7.85);
    near(cut.panel.mass_kg, cut.panel.steel_kg + 0.3 * cut.panel.area);
    near(lines.diagonal, (lines.width * lines.width + lines.height * lines.height).sqrt());
}

#[test]
fn the_centre_of_mass_of_an_opening_alike_on_both_sides_is_its_middle() {
    let door = Door::of(&spec("40ft-high-cube", "left", [2440.0, 5000.0], ""));
    let Cut { panel, lines, .. } = door.cut();
    near(panel.centre[0], 0.0);
    near(panel.centre[2], (lines.z[0] + lines.z[1]) / 2.0);
    // Depth 36 and sheet 1.6: the middle of the middle lines is near 18.8.
    assert!(17.0 < panel.centre[1] && panel.centre[1] < 20.0, "{:?}", panel.centre);
    assert_eq!(panel.size[1], 37.6);
}

#[test]
fn thicker_end_panels_weigh_more() {
    // The first four flats of a long wall are 2 mm: the seam stands at 96 + 3.5 x 278 = 1069.
    let door = Door::of(&spec("40ft-high-cube", "left", [1500.0, 1500.0], ""));
    let cut = door.cut();
    let seam = cut.seams[0];
    near(seam - cut.lines.x[0] + cut.lines.from_left[0], 1069.0);
    assert_eq!(cut.sheets.len(), 2);
    assert_eq!((cut.sheets[0].thickness, cut.sheets[1].thickness), (2.0, 1.6));
    near(cut.sheets[0].x[1], seam);
    assert!(cut.panel.centre[0] < -1.0, "the thick side pulls: {:?}", cut.panel.centre);
    assert!(door.near(NearKind::Seam)[0].inside, "the seam is cut out with the panel");
}

#[test]
fn lips_share_their_flats() {
    let door = Door::of(&spec("20ft", "left", [1500.0, 2500.0], ""));
    for (lip, away) in door.cut().lips.unwrap().iter().zip([0, 1]) {
        near(lip.edges[1] - lip.edges[0], 72.0);
        near(lip.reach + lip.beyond + lip.lost, 72.0);
        near((lip.cut - lip.edges[away]).abs(), lip.reach + lip.beyond);
        assert_eq!(lip.reach, 30.0);
        // The margin asked for is 4 mm.
        assert!(lip.beyond >= 4.0 - 1e-9 && lip.lost >= 4.0 - 1e-9, "{lip:?}");
        // 20 ft: 20 outer flats, counted from either post.
        assert_eq!(
            lip.flat[0] + lip.flat[1],
            door.kit().container.wall.as_ref().unwrap().outer_flat_centres.len() + 1
        );
    }
}

#[test]
fn distances_follow_the_containers_data() {
    let door = Door::of(&spec("40ft-high-cube", "left", [2440.0, 5000.0], ""));
    let lines = &door.cut().lines;
    // The tunnel ends 3353 from the front end; the post's edge stands 162 from it.
    let tunnel = door.near(NearKind::Gooseneck);
    near(tunnel[0].clear, lines.from_left[0] - (3353.0 - 162.0));
    assert_eq!(tunnel[0].edge, Edge::Left);
    let posts = door.near(NearKind::Post);
    near(posts[0].clear, lines.from_left[0]);
    near(posts[1].clear, lines.from_right[1]);
    // Fittings are 178 long, posts 162 wide.
    for fitting in door.near(NearKind::Fitting) {
        let post = if fitting.name.contains("left") { posts[0] } else { posts[1] };
        near(fitting.clear, post.clear - 16.0);
    }
    let rails = door.near(NearKind::Rail);
    near(rails[0].clear, 2638.0 - lines.z[1]);
    near(rails[1].clear, lines.z[0] - 4.5);
    near(lines.from_left[0] + lines.from_right[0], 11868.0);
}

#[test]
fn an_opening_over_the_tunnel_is_told() {
    let over = Door::of(&spec("40ft-high-cube", "left", [1500.0, 2800.0], ""));
    assert!(over.near(NearKind::Gooseneck)[0].clear < 0.0);
    assert_eq!(over.told("site.gooseneck", |_| ()).len(), 1);
    // On the right wall the tunnel lies at the other end.
    let clear = Door::of(&spec("40ft-high-cube", "right", [1500.0, 2800.0], ""));
    assert!(clear.told("site.gooseneck", |_| ()).is_empty());
}

#[test]
fn fork_pockets_under_the_opening_are_told() {
    let door = Door::of(&spec("20ft", "left", [2440.0, 2867.0], ""));
    let told = door.told("site.pocket", |_| ());
    assert_eq!(told[0].severity, Severity::Note, "{told:#?}");
    // Pockets of 355 at 2050 centres around the middle of 5734 between the posts.
    let pocket = door.cut().pockets[0];
    near(
        pocket.x[0] - door.cut().lines.x[0] + door.cut().lines.from_left[0],
        2867.0 - 1025.0 - 177.5,
    );
    let warned = door.told("site.pocket", |cut| cut.pockets[0].fastener = Some(8.0));
    assert_eq!(warned[0].severity, Severity::Warning);
    let beside = Door::of(&spec("20ft", "left", [800.0, 2867.0], ""));
    assert!(beside.told("site.pocket", |_| ()).is_empty());
}

#[test]
fn a_cut_too_near_a_seam_is_warned_of() {
    let door = Door::of(&spec("40ft-high-cube", "left", [2440.0, 5000.0], ""));
    assert!(door.told("site.seam", |_| ()).is_empty());
    let seam = |clear: f64| {
        move |cut: &mut Cut| {
            let near = cut.near.iter_mut().find(|near| near.kind == NearKind::Seam);
            near.unwrap().clear = clear;
        }
    };
    assert!(door.told("site.seam", seam(50.0)).is_empty());
    assert_eq!(door.told("site.seam", seam(49.9))[0].severity, Severity::Warning);
}

#[test]
fn a_cut_beside_the_post_is_warned_of() {
    let near_post = Door::of(&spec("20ft", "left", [1000.0, 650.0], ""));
    let told = near_post.told("site.post", |_| ());
    assert_eq!(told.len(), 1);
    assert!(told[0].message.contains("left corner post"), "{}", told[0].message);
    let away = Door::of(&spec("20ft", "left", [1000.0, 2867.0], ""));
    assert!(away.told("site.post", |_| ()).is_empty());
}

#[test]
fn the_cut_out_is_told_with_who_carries_it() {
    let heavy = Door::of(&spec("40ft-high-cube", "left", [2440.0, 5000.0], ""));
    assert_eq!(heavy.cut().panel.carried, Carried::Lift);
    // Over 50 kg and under 100: two strips.
    assert_eq!(heavy.cut().panel.strips, 2);
    let light = Door::of(&spec("20ft", "left", [700.0, 2867.0], ""));
    assert_eq!(light.cut().panel.carried, Carried::TwoEasily, "{}", light.cut().panel.mass_kg);
    let between = Door::of(&spec("20ft", "left", [1300.0, 2867.0], ""));
    assert_eq!(between.cut().panel.carried, Carried::Two, "{}", between.cut().panel.mass_kg);
    assert_eq!(heavy.told("site.cutout", |_| ()).len(), 1);
    let weak = heavy.told("site.cutout", |cut| cut.holding.hanging[0] = 3.9);
    assert_eq!(weak[1].severity, Severity::Warning);
}

#[test]
fn what_is_taken_from_the_wall_is_told() {
    let door = Door::of(&spec("40ft-high-cube", "left", [2440.0, 5000.0], ""));
    let share = door.cut().lines.width / 11868.0;
    near(door.cut().removed.share, share);
    let told = door.told("site.removed", |_| ());
    assert_eq!((told.len(), told[0].severity), (1, Severity::Note));
    let half = door.told("site.removed", |cut| cut.removed.share = 0.51);
    assert_eq!(half[0].severity, Severity::Warning);
    let rail = door.told("site.removed", |cut| cut.removed.above = -1.0);
    assert!(rail[0].message.contains("top rail is cut"));
}

#[test]
fn tabs_are_cut_from_below_up_and_the_ends_of_the_upper_cut_last() {
    let door = Door::of(&spec("40ft-high-cube", "left", [2440.0, 5000.0], ""));
    let Cut { holding, lines, .. } = door.cut();
    let rank = |edge: Edge| match edge {
        Edge::Lower => 0,
        Edge::Left | Edge::Right => 1,
        Edge::Upper => 2,
    };
    assert!(holding.tabs.windows(2).all(|pair| rank(pair[0].edge) <= rank(pair[1].edge)));
    let uppers: Vec<f64> =
        holding.tabs.iter().filter(|tab| tab.edge == Edge::Upper).map(|tab| tab.x).collect();
    let widest = uppers.iter().map(|x| x.abs()).fold(0.0, f64::max);
    let last = &holding.tabs[holding.tabs.len() - 2..];
    assert!(last.iter().all(|tab| (tab.x.abs() - widest).abs() < 1e-9));
    assert!(last[0].x * last[1].x < 0.0);
    // Two tabs of 25 x 1.6 at 235 N/mm2 against the panel's weight.
    let weight = door.cut().panel.mass_kg * 9.81;
    near(holding.hanging[0], 2.0 * 25.0 * 1.6 * 235.0 / weight);
    let wind = 0.5e-3 * lines.width * lines.height;
    let all = holding.tabs.len() as f64 * 25.0 * 1.6 * 235.0 / 3.0_f64.sqrt();
    near(holding.standing[0], all / (weight * weight + wind * wind).sqrt());
}

#[test]
fn a_survey_moves_the_lines() {
    let book = Door::of(&spec("20ft", "left", [1500.0, 2500.0], ""));
    let centres: Vec<f64> = (0..8).map(|i| 604.0 + 278.0 * f64::from(i)).collect();
    let first = book.kit().container.wall.as_ref().unwrap().outer_flat_centres[0];
    let first = first - book.cut().lines.x[0] + book.cut().lines.from_left[0];
    let survey = format!("[container.survey]\nfrom = \"left\"\ncentres = {centres:?}\n");
    let moved = Door::of(&spec("20ft", "left", [1500.0, 2500.0], &survey));
    assert!(moved.site.survey.is_some_and(|spread| spread < 1e-6));
    // Both stand alike on their flats, so the line moves as the flats do.
    let by = moved.cut().lines.from_left[0] - book.cut().lines.from_left[0];
    let shift = (604.0 - first).rem_euclid(278.0);
    near(by.rem_euclid(278.0), shift);
}

#[test]
fn the_other_wall_is_the_mirror_image() {
    let length = 5734.0;
    let left = Door::of(&spec("20ft", "left", [1500.0, 2300.0], ""));
    let right = Door::of(&spec("20ft", "right", [1500.0, length - 2300.0], ""));
    let (one, two) = (left.cut(), right.cut());
    near(one.lines.from_left[0], two.lines.from_right[1]);
    near(one.lines.from_right[0], two.lines.from_left[1]);
    near(one.panel.mass_kg, two.panel.mass_kg);
    near(one.panel.centre[0], -two.panel.centre[0]);
    for kind in [NearKind::Post, NearKind::Fitting, NearKind::Seam, NearKind::Pocket] {
        let sorted = |door: &Door| {
            let mut all: Vec<f64> = door.near(kind).iter().map(|near| near.clear).collect();
            all.sort_by(f64::total_cmp);
            all
        };
        for (a, b) in sorted(&left).into_iter().zip(sorted(&right)) {
            near(a, b);
        }
    }
    let tabs = |cut: &Cut, sign: f64| {
        let mut all: Vec<(f64, f64)> =
            cut.holding.tabs.iter().map(|tab| (tab.z, tab.x * sign)).collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        all
    };
    for ((z1, x1), (z2, x2)) in tabs(one, 1.0).into_iter().zip(tabs(two, -1.0)) {
        near(z1, z2);
        near(x1, x2);
    }
}

#[test]
fn the_schedule_counts_every_joint_and_says_what_is_drilled() {
    let door = Door::of(&spec("40ft-high-cube", "left", [2440.0, 5000.0], ""));
    let (kit, site) = (door.kit(), &door.site);
    assert_eq!(site.settings.len(), kit.joints.len());
    let setting = |name: &str| site.settings.iter().find(|s| s.name.contains(name)).unwrap();
    let trim = setting("outside trim and side frame to wall");
    assert_eq!((trim.drill, trim.from), (Some(5.0), site::From::Outside));
    let sill = setting("sill's foot to floor");
    assert_eq!(sill.from, site::From::Above);
    let apron = setting("apron to bottom rail");
    assert!(apron.drills_itself && apron.drill.is_none());
    assert_eq!(apron.from, site::From::Outside);
    assert_eq!(setting("header's tie to top rail").from, site::From::Inside);
    assert_eq!(setting("inside trim to side frame").from, site::From::Inside);
    let jamb = setting("outside trim to side frame's web");
    assert_eq!((jamb.drill, jamb.from), (None, site::From::Opening));
}
