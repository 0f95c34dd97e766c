//! Places in a row moved apart as little as needed.

/// Positions in ascending order moved so that neighbours stand at least `pitch` apart, with the
/// least sum of squared shifts, and then pushed into `low..=high` as far as they fit.
pub(in crate::draw) fn spread(wanted: &[f64], pitch: f64, (low, high): (f64, f64)) -> Vec<f64> {
    let mut groups: Vec<(f64, usize)> = Vec::with_capacity(wanted.len());
    for (i, place) in wanted.iter().enumerate() {
        let mut group = (place - pitch * i as f64, 1);
        while let Some(&(mean, count)) = groups.last() {
            if mean < group.0 {
                break;
            }
            let total = count + group.1;
            let sum = mean * count as f64 + group.0 * group.1 as f64;
            group = (sum / total as f64, total);
            groups.pop();
        }
        groups.push(group);
    }
    let highest = high - pitch * wanted.len().saturating_sub(1) as f64;
    let reduced = groups.iter().flat_map(|&(mean, count)| std::iter::repeat_n(mean, count));
    reduced.enumerate().map(|(i, place)| place.min(highest).max(low) + pitch * i as f64).collect()
}
