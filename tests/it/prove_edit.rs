//! Ways to change written files as a slip of a hand, a program or a disk would.

use serde_json::Value;

use crate::prove_files::Files;

/// Numbers at random, the same each time: the multiplier and increment are those of Knuth's MMIX.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// A number below `n`.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % n as u64) as usize
    }

    pub(crate) fn of<T: Clone>(&mut self, all: &[T]) -> Option<T> {
        if all.is_empty() { None } else { Some(all[self.below(all.len())].clone()) }
    }

    /// One or the other sign.
    pub(crate) fn sign(&mut self) -> f64 {
        if self.below(2) == 0 { 1.0 } else { -1.0 }
    }
}

/// A DXF file as its code pairs.
pub(crate) struct Pairs(pub(crate) Vec<(u16, String)>);

/// The pairs of one entity.
pub(crate) type Span = std::ops::Range<usize>;

impl Pairs {
    pub(crate) fn of(bytes: &[u8]) -> Self {
        let text = String::from_utf8(bytes.to_vec()).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        let pairs = lines.chunks(2).map(|two| (two[0].trim().parse().unwrap(), two[1].to_owned()));
        Self(pairs.collect())
    }

    pub(crate) fn bytes(&self) -> Vec<u8> {
        let lines = self.0.iter().map(|(code, value)| format!("{code:>3}\r\n{value}\r\n"));
        lines.collect::<String>().into_bytes()
    }

    /// The entities on layers that begin so.
    pub(crate) fn entities(&self, layer: &str) -> Vec<Span> {
        let start = self.0.iter().position(|pair| pair.1 == "ENTITIES").unwrap() + 1;
        let heads: Vec<usize> = (start..self.0.len()).filter(|at| self.0[*at].0 == 0).collect();
        let spans = heads.windows(2).map(|two| two[0]..two[1]);
        let on = |span: &Span| {
            self.0[span.clone()].iter().any(|(code, value)| *code == 8 && value.starts_with(layer))
        };
        spans.filter(on).collect()
    }

    pub(crate) fn kind(&self, span: &Span) -> &str {
        &self.0[span.start].1
    }

    /// Places of a group within an entity.
    pub(crate) fn groups(&self, span: &Span, group: u16) -> Vec<usize> {
        span.clone().filter(|at| self.0[*at].0 == group).collect()
    }

    /// Adds to a number.
    pub(crate) fn add(&mut self, at: usize, by: f64) {
        let number: f64 = self.0[at].1.trim().parse().unwrap();
        self.0[at].1 = format!("{:.8}", number + by);
    }
}

/// Changes one DXF file, chosen at random among those where the change can be made.
pub(crate) fn in_dxf(
    files: &mut Files,
    dice: &mut Dice,
    change: impl Fn(&mut Pairs, &mut Dice) -> Option<()>,
) -> Option<()> {
    for _ in 0..20 {
        let path = dice.of(&files.dxfs())?;
        let mut pairs = Pairs::of(&files.0[&path]);
        if change(&mut pairs, dice).is_some() {
            files.0.insert(path, pairs.bytes());
            return Some(());
        }
    }
    None
}

/// Changes one part of `kit.json`, chosen at random among those where the change can be made.
pub(crate) fn in_part(
    files: &mut Files,
    dice: &mut Dice,
    change: impl Fn(&mut Value, &mut Dice) -> Option<()>,
) -> Option<()> {
    let mut json = files.json();
    for _ in 0..20 {
        let parts = json["parts"].as_array_mut()?;
        let index = dice.below(parts.len());
        if change(&mut parts[index], dice).is_some() {
            files.put_json(&json);
            return Some(());
        }
    }
    None
}

/// An element of a list, at random.
pub(crate) fn one<'a>(list: &'a mut Value, dice: &mut Dice) -> Option<&'a mut Value> {
    let list = list.as_array_mut()?;
    if list.is_empty() {
        return None;
    }
    let index = dice.below(list.len());
    list.get_mut(index)
}

/// Adds to a number of a tree.
pub(crate) fn add(value: &mut Value, by: f64) -> Option<()> {
    *value = Value::from(value.as_f64()? + by);
    Some(())
}

/// Adds one to a count of a tree.
pub(crate) fn count(value: &mut Value) -> Option<()> {
    *value = Value::from(value.as_u64()? + 1);
    Some(())
}
