//! What is told about each joint, in plain fields and as a table's rows.

use super::Tally;
use super::bound::least;
use crate::shelf::Tolerance;
use crate::units;

/// The chance that every joint should reach.
pub const TARGET: f64 = 0.995;

/// What the tolerances do to the joints of one kit.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Report {
    /// One entry for each joint of the kit, in its order.
    pub joints: Vec<JointStack>,
    /// How many kits were built in the Monte Carlo, and its seed; none where it was not asked for.
    pub builds: Option<(u64, u64)>,
    /// The limits carried, in words, for the foot of a table.
    pub basis: String,
    /// The limits themselves.
    pub limits: Option<Tolerance>,
}

/// One joint.
#[derive(Debug, Clone, PartialEq)]
pub struct JointStack {
    /// The joint's id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// How many fasteners it has.
    pub fasteners: usize,
    /// Whether only one sheet has holes and the container behind it is drilled in place: nothing
    /// has to meet.
    pub in_place: bool,
    /// Of the fastener most at risk: deviation of the two holes' offset as fitted, in the direction
    /// in which it is largest, mm.
    pub deviation: f64,
    /// Of the same fastener: how far apart the centres of round holes may lie, mm; a slot's own
    /// length not counted.
    pub clearance: f64,
    /// Greatest gap between the faces before a fastener pulls it together, three deviations, mm.
    pub gap: f64,
    /// The chance that all fasteners pass, by the linear method; never overstated.
    pub chance: f64,
    /// The same from the Monte Carlo.
    pub trial: Option<Tried>,
    /// What the offset of the fastener most at risk comes from, in its worst direction: the
    /// greatest three shares of its variance, 0 to 1.
    pub causes: Vec<(String, f64)>,
    /// What is to be done.
    pub advice: Advice,
}

/// What the Monte Carlo tells of one joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tried {
    /// In how many builds all its fasteners passed.
    pub passed: u64,
    /// How many builds there were.
    pub builds: u64,
    /// Share of the builds that passed.
    pub chance: f64,
    /// Standard error of that share.
    pub error: f64,
    /// Least chance that the count bears out at a confidence of 95 % (Clopper-Pearson, one-sided).
    pub least: f64,
}

impl Tried {
    fn of(passed: u64, builds: u64) -> Self {
        let chance = passed as f64 / builds as f64;
        let error = (chance * (1.0 - chance) / builds as f64).sqrt();
        Self { passed, builds, chance, error, least: least(passed, builds) }
    }

    /// The share with its error; where every build passed, what that bears out.
    fn words(&self) -> String {
        if self.passed == self.builds {
            return format!("at least {}", self.least_words());
        }
        format!("{} +- {}", percent(self.chance), units::number(100.0 * self.error, 2))
    }

    /// The least chance in percent, rounded down.
    pub fn least_words(&self) -> String {
        let fine = if self.least < 0.9999 { 1e4 } else { 1e6 };
        format!("{} %", units::number((self.least * fine).floor() / (fine / 100.0), 4))
    }
}

/// What would bring a joint to the chance that it should reach.
#[derive(Debug, Clone, PartialEq)]
pub enum Advice {
    /// Nothing.
    Reached,
    /// A larger hole, or a slot, in one of the parts.
    Widen {
        /// Number of the part.
        part: String,
        /// Name of the face.
        face: String,
        /// Smallest diameter in steps of 0.1 mm; none when even 5 mm more does not do.
        hole: Option<f64>,
        /// The shortest slot as wide as the hole is now, or the slot that is there, larger: width,
        /// length, direction of the length in degrees from the face's x; none when no slot does.
        slot: Option<[f64; 3]>,
    },
}

impl Advice {
    /// In words.
    pub fn words(&self) -> String {
        let Advice::Widen { part, face, hole, slot } = self else { return "reached".to_owned() };
        let mm = |value: f64| units::number(value, 2);
        let hole = hole.map(|diameter| format!("a {} mm hole", mm(diameter)));
        let slot = slot.map(|[width, length, angle]| {
            format!("a {} x {} mm slot at {} deg", mm(width), mm(length), mm(angle))
        });
        let either: Vec<String> = hole.into_iter().chain(slot).collect();
        if either.is_empty() {
            return format!("no hole in {face} of {part} does: drill the mate on assembly");
        }
        format!("{} in {face} of {part}", either.join(", or "))
    }
}

/// Heads of the table's columns.
pub const HEADS: [&str; 8] = [
    "Joint",
    "Name",
    "Fasteners",
    "Offset, sigma (mm)",
    "Clearance (mm)",
    "All pass, linear",
    "All pass, built",
    "To reach 99.5 %",
];

impl Report {
    /// Enters what the Monte Carlo counted.
    pub fn tried(&mut self, tally: &Tally, seed: u64) {
        if tally.builds == 0 {
            return;
        }
        self.builds = Some((tally.builds, seed));
        for (joint, passed) in self.joints.iter_mut().zip(&tally.joints) {
            joint.trial = Some(Tried::of(*passed, tally.builds));
        }
    }

    /// What the Monte Carlo tells of the kit as a whole, in one sentence; none where it was not
    /// asked for.
    pub fn tried_words(&self) -> Option<String> {
        let (builds, _) = self.builds?;
        let meeting = self.joints.iter().filter(|joint| !joint.in_place);
        let tried: Vec<(&JointStack, Tried)> =
            meeting.filter_map(|joint| joint.trial.map(|tried| (joint, tried))).collect();
        let Some((joint, worst)) = tried.iter().min_by_key(|(_, tried)| tried.passed) else {
            return Some(format!("built {builds} times by chance: no joint has holes that meet"));
        };
        let count = match tried.len() {
            1 => "1 joint whose holes must meet".to_owned(),
            count => format!("{count} joints whose holes must meet"),
        };
        let who = match worst.passed == builds {
            true => "every one".to_owned(),
            false => format!("the least sure, {} {},", joint.id, joint.name),
        };
        Some(format!(
            "built {builds} times by chance, {count}: {who} passed in {} of {builds}; at least {} \
             at 95 % (Clopper-Pearson, one-sided)",
            worst.passed,
            worst.least_words()
        ))
    }

    /// One row of texts for each joint, under [`HEADS`].
    pub fn rows(&self) -> Vec<[String; 8]> {
        self.joints.iter().map(JointStack::row).collect()
    }
}

impl JointStack {
    fn row(&self) -> [String; 8] {
        let [deviation, clearance, linear, built, advice] = if self.in_place {
            let dash = || "-".to_owned();
            [dash(), dash(), "drilled in place".to_owned(), dash(), dash()]
        } else {
            [
                format!("{:.3}", self.deviation),
                format!("{:.2}", self.clearance),
                percent(self.chance),
                self.trial.map_or("-".to_owned(), |tried| tried.words()),
                self.advice.words(),
            ]
        };
        let fasteners = self.fasteners.to_string();
        let (id, name) = (self.id.clone(), self.name.clone());
        [id, name, fasteners, deviation, clearance, linear, built, advice]
    }
}

/// A chance in percent, never rounded up to certainty.
pub fn percent(chance: f64) -> String {
    if chance == 1.0 {
        return "100 %".to_owned();
    }
    if 0.9999 < chance {
        return "over 99.99 %".to_owned();
    }
    format!("{} %", units::number((chance * 1e4).floor() / 100.0, 2))
}
