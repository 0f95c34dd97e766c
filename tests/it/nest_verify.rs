//! The check of layouts, held to flaws that are planted in sound ones.

use blankwright::nest::{Core, Flaw, Job, Layout, Left, Placed, Pose, Rect, Turns, verify};

use crate::nest_sets::{frame, item, job, kit, strip};

/// A frame with a plate in its opening and a second plate beside it: all distances just kept.
fn sound() -> (Job, Vec<Layout>) {
    let mut items = vec![
        item("frame", frame([50_000, 40_000], 5000), 1),
        item("plate", frame([9000, 6000], 0), 2),
    ];
    items[1].turns = Turns::Half;
    let mut job = job(items, [100_000, 60_000], 600, 1000);
    job.stock[0].blocked.push(Rect { low: [90_000, 0], high: [100_000, 5000] });
    let lie = |item, at| Placed { item, at, turn: 0, mirrored: false };
    let placed = vec![lie(0, [1000, 1000]), lie(1, [6600, 6600]), lie(1, [51_600, 1000])];
    (job, vec![Layout { stock: 0, copies: 1, placed, remnant: None }])
}

#[test]
fn a_sound_layout_has_no_flaw() {
    let (job, layouts) = sound();
    assert_eq!(verify(&job, &layouts, &[]), []);
}

#[test]
fn two_hundredths_are_found() {
    let (job, mut layouts) = sound();
    layouts[0].placed[2].at[0] -= 2;
    let near = Flaw::Gap { sheet: 0, parts: [0, 2], distance: 598.0 };
    assert_eq!(verify(&job, &layouts, &[]), [near]);
    let (job, mut layouts) = sound();
    layouts[0].placed[1].at[1] -= 2;
    let in_hole = Flaw::Gap { sheet: 0, parts: [0, 1], distance: 598.0 };
    assert_eq!(verify(&job, &layouts, &[]), [in_hole]);
    let (job, mut layouts) = sound();
    layouts[0].placed[0].at[0] -= 2;
    let at_edge = Flaw::Margin { sheet: 0, part: 0, distance: 998.0 };
    assert_eq!(verify(&job, &layouts, &[]), [at_edge]);
}

#[test]
fn a_blocked_rectangle_is_kept_clear() {
    let (job, mut layouts) = sound();
    layouts[0].placed[2].at = [80_402, 1000];
    let near = Flaw::Blocked { sheet: 0, part: 2, place: 0, distance: 598.0 };
    assert_eq!(verify(&job, &layouts, &[]), [near]);
}

#[test]
fn a_part_inside_the_material_of_another_is_found() {
    let (mut job, mut layouts) = sound();
    job.items[0].shape.holes.clear();
    let over = Flaw::Gap { sheet: 0, parts: [0, 1], distance: 0.0 };
    assert_eq!(verify(&job, &layouts, &[]), [over]);
    // Without a gap, touching is allowed and lying exactly over each other is not.
    job.gap = 0;
    layouts[0].placed[1].at = [51_600, 7000];
    assert_eq!(verify(&job, &layouts, &[]), []);
    layouts[0].placed[1].at = [51_600, 1000];
    let same = Flaw::Gap { sheet: 0, parts: [1, 2], distance: 0.0 };
    assert_eq!(verify(&job, &layouts, &[]), [same]);
}

#[test]
fn turns_and_faces_that_are_not_allowed_are_found() {
    let (job, mut layouts) = sound();
    layouts[0].placed[2] = Placed { item: 1, at: [70_000, 1000], turn: 90, mirrored: false };
    assert_eq!(verify(&job, &layouts, &[]), [Flaw::Pose { sheet: 0, part: 2 }]);
    layouts[0].placed[2] = Placed { item: 1, at: [70_000, 1000], turn: 0, mirrored: true };
    assert_eq!(verify(&job, &layouts, &[]), [Flaw::Pose { sheet: 0, part: 2 }]);
}

#[test]
fn one_too_many_and_one_missing_are_found() {
    let (job, mut layouts) = sound();
    layouts[0].placed.push(Placed { item: 1, at: [70_000, 1000], turn: 0, mirrored: false });
    let many = Flaw::Quantity { item: 1, found: 3, needed: 2 };
    assert_eq!(verify(&job, &layouts, &[]), [many]);
    layouts[0].placed.truncate(2);
    let few = Flaw::Quantity { item: 1, found: 1, needed: 2 };
    assert_eq!(verify(&job, &layouts, &[]), [few]);
    let left = Left { item: 1, quantity: 1, too_large: false };
    assert_eq!(verify(&job, &layouts, &[left]), []);
}

#[test]
fn a_remnant_is_cut_once() {
    let (mut job, mut layouts) = sound();
    job.stock[0].count = Some(1);
    layouts[0].copies = 2;
    job.items[0].quantity = 2;
    job.items[1].quantity = 4;
    assert_eq!(verify(&job, &layouts, &[]), [Flaw::Stock { stock: 0, used: 2 }]);
}

/// How many pairs of parts that should just touch overlap, of how many.
fn overlaps(mut job: Job) -> (usize, usize) {
    job.margin = 0;
    job.stock[0].size = [1_000_000; 2];
    let core = Core::new(job);
    let poses = |item: usize| core.poses[item].iter().map(move |pose| (item, *pose));
    let all: Vec<(usize, Pose)> = (0..core.poses.len()).flat_map(poses).collect();
    let pairs = all.iter().flat_map(|a| all.iter().map(move |b| (a, b)));
    let (mut wrong, mut of) = (0, 0);
    for ((first, a), (second, b)) in pairs {
        for [x, y] in core.touching(a.form, b.form) {
            let there = core.placed(*second, *b, [400_000 + x, 400_000 + y]);
            let placed = vec![core.placed(*first, *a, [400_000; 2]), there];
            let layout = Layout { stock: 0, copies: 1, placed, remnant: None };
            let flaws = verify(&core.job, &[layout], &[]);
            wrong += usize::from(flaws.iter().any(|flaw| matches!(flaw, Flaw::Gap { .. })));
            of += 1;
        }
    }
    (wrong, of)
}

#[test]
fn parts_that_just_touch_never_overlap() {
    for name in ["swim", "trousers", "shirts", "albano"] {
        let (wrong, of) = overlaps(strip(name).0);
        assert!(wrong == 0 && 5000 < of, "{name}: {wrong} of {of}");
    }
    let (wrong, of) = overlaps(kit(1));
    assert!(wrong == 0 && 50_000 < of, "{wrong} of {of}");
}
