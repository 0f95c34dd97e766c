//! What builds by chance tell for sure: the lower bound of Clopper and Pearson.
//!
//! Of `builds` independent builds `passed` passed. The bound is the chance at which as many or more
//! would pass in one of twenty such runs; a smaller one is refuted at 95 %. Where all passed it is
//! `0.05^(1 / builds)`, near to `1 - 3 / builds`, the rule of three.

use crate::units;

/// How rarely a true chance below the bound may be claimed away: one side, 95 % confidence.
const DOUBT: f64 = 0.05;

/// Halvings until two neighbouring doubles are left.
const HALVINGS: usize = 60;

/// Terms of the continued fraction; it needs about the square root of the number of builds.
const TERMS: usize = 20_000;

/// Least chance, 0 to 1, that the count bears out at a confidence of 95 %.
pub(super) fn least(passed: u64, builds: u64) -> f64 {
    if passed == 0 || builds == 0 {
        return 0.0;
    }
    let failed = builds.saturating_sub(passed);
    if failed == 0 {
        return units::exp(units::ln(DOUBT) / builds as f64);
    }
    let (a, b) = (passed as f64, failed as f64 + 1.0);
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if as_many(middle, a, b) < DOUBT { low = middle } else { high = middle }
    }
    low
}

/// The chance of `a` or more passes in `a + b - 1` builds that pass with chance `x` each: the
/// regularized incomplete beta function.
fn as_many(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 || 1.0 <= x {
        return x.clamp(0.0, 1.0);
    }
    let scale = units::ln_gamma(a + b) - units::ln_gamma(a) - units::ln_gamma(b);
    let front = units::exp(scale + a * units::ln(x) + b * units::ln(1.0 - x));
    if x < (a + 1.0) / (a + b + 2.0) {
        front * fraction(x, a, b) / a
    } else {
        1.0 - front * fraction(1.0 - x, b, a) / b
    }
}

/// The continued fraction of the incomplete beta function, by the method of Lentz.
fn fraction(x: f64, a: f64, b: f64) -> f64 {
    let whole = |value: f64| if value.abs() < 1e-300 { 1e-300 } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / whole(1.0 - (a + b) * x / (a + 1.0));
    let mut sum = d;
    for term in 1..TERMS {
        let m = term as f64;
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let before = sum;
        for part in [even, odd] {
            d = 1.0 / whole(1.0 + part * d);
            c = whole(1.0 + part / c);
            sum *= c * d;
        }
        if (sum - before).abs() <= 1e-14 * sum.abs() {
            break;
        }
    }
    sum
}
