//! Symmetric positive definite systems, kept from each row's first entry to its diagonal.

/// The lower half of a matrix, then its Cholesky factor.
#[derive(Debug)]
pub(super) struct Envelope {
    /// Column of each row's first entry.
    first: Vec<usize>,
    /// Where each row begins in `values`, less its first column.
    start: Vec<usize>,
    values: Vec<f64>,
}

impl Envelope {
    /// A matrix of zeros with room from these columns on.
    pub(super) fn new(first: Vec<usize>) -> Self {
        let mut start = Vec::with_capacity(first.len());
        let mut end = 0;
        for (row, column) in first.iter().enumerate() {
            start.push(end);
            end += row - column + 1;
        }
        Self { first, start, values: vec![0.0; end] }
    }

    /// Adds to an entry of the lower half.
    pub(super) fn add(&mut self, row: usize, column: usize, value: f64) {
        self.values[self.start[row] + column - self.first[row]] += value;
    }

    fn row(&self, row: usize) -> &[f64] {
        &self.values[self.start[row]..=self.start[row] + row - self.first[row]]
    }

    /// Puts the factor in the matrix's place.
    pub(super) fn factor(&mut self) {
        for row in 0..self.first.len() {
            for column in self.first[row]..row {
                let left = self.reduced(row, column) / self.diagonal(column);
                self.values[self.start[row] + column - self.first[row]] = left;
            }
            let left = self.reduced(row, row).sqrt();
            self.values[self.start[row] + row - self.first[row]] = left;
        }
    }

    /// An entry less what the columns before it account for.
    fn reduced(&self, row: usize, column: usize) -> f64 {
        let (first, other) = (self.first[row], self.first[column]);
        let from = first.max(other);
        let a = &self.row(row)[from - first..column - first];
        let b = &self.row(column)[from - other..column - other];
        self.row(row)[column - first] - inner(a, b)
    }

    fn diagonal(&self, row: usize) -> f64 {
        self.row(row)[row - self.first[row]]
    }

    /// Solves with the factor, in place.
    pub(super) fn solve(&self, x: &mut [f64]) {
        let count = self.first.len();
        let begin = x.iter().position(|value| *value != 0.0).unwrap_or(count);
        for i in begin..count {
            let row = self.row(i);
            let (below, diagonal) = row.split_at(row.len() - 1);
            x[i] = (x[i] - inner(below, &x[self.first[i]..i])) / diagonal[0];
        }
        for i in (0..count).rev() {
            let row = self.row(i);
            let (below, diagonal) = row.split_at(row.len() - 1);
            x[i] /= diagonal[0];
            let value = x[i];
            let above = &mut x[self.first[i]..i];
            above.iter_mut().zip(below).for_each(|(x, factor)| *x -= factor * value);
        }
    }
}

/// The inner product in four sums, so that the processor works on them side by side.
fn inner(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (fours, rest) = a.as_chunks::<4>();
    let (others, ends) = b.as_chunks::<4>();
    for (x, y) in fours.iter().zip(others) {
        for lane in 0..4 {
            sums[lane] += x[lane] * y[lane];
        }
    }
    let tail: f64 = rest.iter().zip(ends).map(|(x, y)| x * y).sum();
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + tail
}
