//! Parts driven apart, strips squeezed, kits packed: sound, the same every time, and no worse than
//! a modest floor. `tests/bench/nesting.rs` measures how good they get.

use blankwright::nest::{
    Bed, Candidate, Core, Dice, Effort, Job, Layout, Nest, Placed, Rule, Share, fill, nest,
    pack_strip, squeeze, verify,
};

use crate::nest_sets::{frame, item, job, kit, strip};

/// A strip of albano's parts, and its density.
fn albano(steps: u64) -> (Vec<Placed>, f64) {
    let (job, area) = strip("albano");
    let core = Core::new(job);
    let (placed, end) = pack_strip(&core, 0, &mut Dice::new(7, 0), steps);
    let mut short = core.job.clone();
    short.stock[0].size[0] = end;
    let layout = Layout { stock: 0, copies: 1, placed: placed.clone(), remnant: None };
    assert_eq!(verify(&short, &[layout], &[]), []);
    (placed, area / (end as f64 * 200_000.0))
}

#[test]
fn a_strip_is_sound_and_gets_shorter() {
    let (_, first) = albano(0);
    let (placed, second) = albano(60_000);
    assert!(0.7 < first, "{first}");
    assert!(first + 0.01 < second, "{second} after {first}");
    assert_eq!(albano(60_000).0, placed);
}

#[test]
fn a_squeezed_sheet_ends_where_its_parts_do() {
    // Four plates in a column of their own could lie two by two.
    let items = vec![item("plate", frame([10_000, 10_000], 0), 4)];
    let core = Core::new(job(items, [50_000, 22_600], 600, 1000));
    let order = vec![Candidate { item: 0, pose: None }; 4];
    let placed = fill(&core, 0, &order, Rule::Low);
    let room = core.room(0);
    let (placed, end) = squeeze(&core, (0, room), 0, &placed, (&mut Dice::new(1, 0), 200_000));
    let layout = Layout { stock: 0, copies: 1, placed, remnant: None };
    assert_eq!(verify(&core.job, &[layout], &[]), []);
    // Two columns with a gap need 1000 + 20600; a row of four would end at 42800.
    assert!(21_600 <= end && end < 33_000, "{end}");
}

/// A quarter of the kit's small parts, on sheets of which they need two.
fn small_kit() -> Job {
    let mut job = kit(1);
    job.items.drain(..10);
    job.items.iter_mut().for_each(|item| item.quantity = item.quantity.div_ceil(4));
    job.stock[0].size = [50_000, 40_000];
    job
}

/// The small kit laid out with driving overlaps apart: sound, on two sheets.
fn packed(share: &Share<'_>) -> Nest {
    let job = Job { effort: Effort::Normal, ..small_kit() };
    let nest = nest(&job, share);
    assert_eq!(verify(&job, &nest.layouts, &nest.left), []);
    assert_eq!(nest.layouts.len(), 2);
    nest
}

fn remnant(nest: &Nest) -> f64 {
    let free = nest.layouts.iter().filter_map(|layout| layout.remnant);
    free.map(|rect| rect.area()).fold(0.0, f64::max)
}

#[test]
fn a_kit_is_packed_alike_however_the_work_is_shared() {
    let forward = packed(&|tasks, work| (0..tasks).for_each(work));
    let threads = packed(&|tasks, work| {
        std::thread::scope(|scope| {
            for task in 0..tasks {
                scope.spawn(move || work(task));
            }
        });
    });
    assert_eq!(forward, threads);
    // What more effort is for: the largest remnant grows, on as many sheets.
    let quick = nest(&small_kit(), &|tasks, work| (0..tasks).for_each(work));
    assert_eq!(quick.layouts.len(), 2);
    assert!(remnant(&quick) < remnant(&forward), "{} {}", remnant(&quick), remnant(&forward));
}

#[test]
fn what_fits_nowhere_is_on_no_sheet() {
    let items = vec![
        item("plate", frame([10_000, 10_000], 0), 3),
        item("long", frame([90_000, 500], 0), 1),
    ];
    let core = Core::new(job(items, [40_000, 30_000], 600, 1000));
    let parts = [0, 0, 1, 0].map(|item| Candidate { item, pose: None });
    let placed = fill(&core, 0, &parts, Rule::Left);
    assert_eq!(placed.len(), 3);
    assert!(placed.iter().all(|placed| placed.item == 0) && !core.fits(1, 0));
    let none = Bed::new(&core, 0).best(core.poses[1][0].form, Rule::Left);
    assert_eq!(none, None);
}
