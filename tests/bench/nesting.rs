//! How densely the open strip-packing sets are packed in a minute of one core, three seeds each,
//! and on how many sheets one, ten and a hundred kits lie, and how soon.
//!
//!   cargo bench --bench nesting -- [SECONDS [SET...]]
//!
//! The engine counts steps and knows no clock. How many steps a second holds is measured here
//! first, in processor time, so that other work on the machine does not count.

#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a benchmark reads files, the clock, and prints"
)]

use std::fs;
use std::time::Instant;

use blankwright::nest::{Core, Dice, Effort, Layout, nest, pack_strip, verify};

#[path = "../it/nest_sets.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod nest_sets;

/// Sets with the median density to reach in a minute, percent.
const TARGETS: [(&str, f64); 4] =
    [("swim", 74.5), ("trousers", 90.5), ("shirts", 87.0), ("albano", 88.0)];

/// Steps that are timed first.
const SAMPLE: u64 = 2_000_000;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| word != "--bench").collect();
    let seconds: f64 = words.first().map_or(60.0, |word| word.parse().unwrap());
    for (name, target) in TARGETS {
        if words.len() < 2 || words[1..].iter().any(|word| word == name) {
            set(name, target, seconds);
        }
    }
    if words.len() < 2 {
        for effort in [Effort::Quick, Effort::Normal, Effort::Long] {
            kits(1, effort);
        }
        kits(10, Effort::Long);
        kits(100, Effort::Long);
    }
}

fn set(name: &str, target: f64, seconds: f64) {
    let (job, area) = nest_sets::strip(name);
    let height = job.stock[0].size[1] as f64;
    let run = |seed: u64, steps: u64| {
        let core = Core::new(job.clone());
        let (placed, end) = pack_strip(&core, 0, &mut Dice::new(seed, 0), steps);
        let mut short = core.job.clone();
        short.stock[0].size[0] = end;
        let layout = Layout { stock: 0, copies: 1, placed, remnant: None };
        assert_eq!(verify(&short, &[layout], &[]), []);
        100.0 * area / (end as f64 * height)
    };
    let start = processor_seconds();
    run(0, SAMPLE);
    let steps = (SAMPLE as f64 * seconds / (processor_seconds() - start)) as u64;
    let mut found = Vec::new();
    for seed in 1..=3 {
        let start = processor_seconds();
        found.push(run(seed, steps));
        println!(
            "{name:9} seed {seed} {:6.2} % {:.0} s",
            found[seed as usize - 1],
            processor_seconds() - start
        );
    }
    found.sort_by(f64::total_cmp);
    println!("{name:9} median {:5.2} %, to reach {target} %", found[1]);
}

/// So many kits with an effort: sheets, layouts, the largest remnant, processor time.
fn kits(times: u32, effort: Effort) {
    let mut job = nest_sets::kit(times);
    job.effort = effort;
    job.least_remnant = 10_000;
    let start = processor_seconds();
    let nest = nest(&job, &|tasks, work| (0..tasks).for_each(work));
    let took = processor_seconds() - start;
    assert_eq!(verify(&job, &nest.layouts, &nest.left), []);
    let free = nest.layouts.iter().filter_map(|layout| layout.remnant).map(|rect| rect.area());
    let largest = free.fold(0.0, f64::max) / 1e6;
    let sheets: u32 = nest.layouts.iter().map(|layout| layout.copies).sum();
    let layouts = nest.layouts.len();
    println!(
        "{times:3} kits, {effort:?}: {sheets} sheets, {layouts} layouts, remnant {largest:.2} m2, \
         {took:.1} s"
    );
}

/// Processor time of this thread; the wall clock where the system does not tell.
fn processor_seconds() -> f64 {
    let told = fs::read_to_string("/proc/thread-self/schedstat").ok();
    let told = told.and_then(|text| text.split(' ').next()?.parse::<f64>().ok());
    told.map_or_else(|| START.with(|start| start.elapsed().as_secs_f64()), |nanos| nanos / 1e9)
}

thread_local! {
    static START: Instant = Instant::now();
}
