//! What changed about the faces: outside sizes to the mould lines, and what was cut from an edge.

use super::SAME;
use super::piece::{P, Piece};
use super::words::{Words, spoken};
use crate::reading::BendRow;

/// What changed about the size of the faces that both have, and which are new or gone.
pub(super) fn sentences(old: &Piece<'_>, new: &Piece<'_>, words: Words) -> Vec<String> {
    let mut all = Vec::new();
    let mut long: Vec<(String, Vec<String>)> = Vec::new();
    for (index, face) in new.row.faces.iter().enumerate() {
        let name = spoken(&face.name);
        let (Some(a), Some(b)) = (sizes(old, &face.name), sizes(new, &face.name)) else {
            all.push(format!("face {name} added"));
            continue;
        };
        let [across, along] = [0, 1].map(|i| {
            let differs = (a[i] - b[i]).abs() > SAME;
            differs.then(|| format!("{} to {}", words.size(a[i]), words.size(b[i])))
        });
        let what = if index == 0 { "face" } else { "leg" };
        all.extend(across.map(|change| format!("{what} {name} {change}")));
        if let Some(change) = along {
            match long.iter_mut().find(|(other, _)| *other == change) {
                Some((_, names)) => names.push(name),
                None => long.push((change, vec![name])),
            }
        }
    }
    let gone = old.row.faces.iter().filter(|a| new.row.faces.iter().all(|b| a.name != b.name));
    all.extend(gone.map(|face| format!("face {} gone", spoken(&face.name))));
    all.extend(
        long.into_iter().map(|(change, names)| format!("{} {change} long", names.join(", "))),
    );
    all
}

/// Whether a face has the same sizes in both.
pub(super) fn same_size(old: &Piece<'_>, new: &Piece<'_>, name: &str) -> bool {
    let (a, b) = (sizes(old, name), sizes(new, name));
    a.zip(b).is_some_and(|(a, b)| (0..2).all(|i| (a[i] - b[i]).abs() <= SAME))
}

/// Outside sizes of a face: across the bend it hangs on (the root: its first bend), and along it.
/// Where a bend is at its border they reach to the mould line, else to the free edge.
fn sizes(piece: &Piece<'_>, name: &str) -> Option<[f64; 2]> {
    let outline = piece.face(name)?;
    let hung = piece.bends_at(name).find(|bend| bend.to == name);
    let axis = hung.or(piece.bends_at(name).next()).map_or(P::new(1.0, 0.0), direction);
    Some([axis.left(), axis].map(|way| extent(piece, name, &outline, way)))
}

fn direction(bend: &BendRow) -> P {
    let [a, b] = bend.ends();
    (b - a).unit()
}

fn extent(piece: &Piece<'_>, name: &str, outline: &[P], way: P) -> f64 {
    let at = outline.iter().map(|p| p.dot(way));
    let low = at.clone().fold(f64::INFINITY, f64::min);
    let high = at.fold(f64::NEG_INFINITY, f64::max);
    let middle = (low + high) / 2.0;
    let beside = piece.bends_at(name).filter(|bend| direction(bend).dot(way).abs() < 1e-6);
    beside
        .fold([low, high], |[low, high], bend| {
            let line = bend.ends()[0].dot(way);
            let reach = piece.setback(bend) - bend.allowance / 2.0;
            if line < middle {
                [low.min(line - reach), high]
            } else {
                [low, high.max(line + reach)]
            }
        })
        .windows(2)
        .map(|pair| pair[1] - pair[0])
        .sum()
}
