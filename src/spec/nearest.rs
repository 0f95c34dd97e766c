//! The known word nearest to a mistyped one.

/// The candidate with the fewest slips (a letter wrong, missing, extra, or two swapped) from
/// `word`, when it is near enough to be meant: a third of the word, two at least for words of four
/// letters or more. Case and the choice of `-` or `_` do not count.
pub fn nearest<'c, I>(word: &str, candidates: I) -> Option<&'c str>
where
    I: IntoIterator<Item = &'c str>,
{
    let plain = folded(word);
    let allowed = match plain.len() {
        0..=1 => 0,
        2..=3 => 1,
        length => (length / 3).max(2),
    };
    let scored = candidates.into_iter().map(|c| (slips(&plain, &folded(c)), c));
    scored.filter(|(slips, _)| *slips <= allowed).min_by_key(|(slips, _)| *slips).map(|(_, c)| c)
}

fn folded(word: &str) -> Vec<char> {
    let lower = word.chars().take(64).flat_map(char::to_lowercase);
    lower.map(|c| if c == '-' || c == ' ' { '_' } else { c }).collect()
}

/// Optimal string alignment distance.
fn slips(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut next = vec![i; b.len() + 1];
        for j in 1..=b.len() {
            let changed = row[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            next[j] = changed.min(row[j] + 1).min(next[j - 1] + 1);
            let swapped = 1 < i && 1 < j && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if swapped {
                next[j] = next[j].min(before[j - 2] + 1);
            }
        }
        before = std::mem::replace(&mut row, next);
    }
    row[b.len()]
}
