//! Turns in space and the fold of one bend as `design.md` writes it down, in matrices of the tests'
//! own: nothing here is the engine's.

#![allow(clippy::disallowed_methods, reason = "an independent hand takes its own sine and cosine")]

/// A point or a vector in space.
pub(crate) type Vector = [f64; 3];

/// A 3 x 3 matrix by rows and a shift: p becomes m p + shift.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Motion {
    /// The rows.
    pub(crate) m: [Vector; 3],
    /// The image of the origin.
    pub(crate) shift: Vector,
}

pub(crate) fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn add(a: Vector, b: Vector) -> Vector {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

pub(crate) fn minus(a: Vector, b: Vector) -> Vector {
    add(a, times(b, -1.0))
}

pub(crate) fn times(a: Vector, by: f64) -> Vector {
    a.map(|x| x * by)
}

pub(crate) fn length(a: Vector) -> f64 {
    dot(a, a).sqrt()
}

pub(crate) fn cross(a: Vector, b: Vector) -> Vector {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

impl Motion {
    /// From the three rows of a 3 x 4 matrix.
    pub(crate) fn of_rows(rows: [[f64; 4]; 3]) -> Self {
        Self { m: rows.map(|[x, y, z, _]| [x, y, z]), shift: rows.map(|row| row[3]) }
    }

    pub(crate) fn vector(&self, v: Vector) -> Vector {
        self.m.map(|row| dot(row, v))
    }

    pub(crate) fn point(&self, p: Vector) -> Vector {
        add(self.vector(p), self.shift)
    }

    /// `self` first, then `next`.
    pub(crate) fn then(&self, next: &Motion) -> Motion {
        let column = |i: usize| next.vector(self.m.map(|row| row[i]));
        let [a, b, c] = [column(0), column(1), column(2)];
        Motion { m: [0, 1, 2].map(|i| [a[i], b[i], c[i]]), shift: next.point(self.shift) }
    }

    /// The way back of a motion that keeps lengths.
    pub(crate) fn back(&self) -> Motion {
        let m = [0, 1, 2].map(|i| self.m.map(|row| row[i]));
        let turn = Motion { m, shift: [0.0; 3] };
        Motion { m, shift: times(turn.vector(self.shift), -1.0) }
    }

    /// How far the matrix is from a turn: its rows from orthonormal, its determinant from 1.
    pub(crate) fn unlike_a_turn(&self) -> f64 {
        let mut worst = (dot(self.m[0], cross(self.m[1], self.m[2])) - 1.0).abs();
        for [i, j, wanted] in [[0, 0, 1], [1, 1, 1], [2, 2, 1], [0, 1, 0], [0, 2, 0], [1, 2, 0]] {
            worst = worst.max((dot(self.m[i], self.m[j]) - wanted as f64).abs());
        }
        worst
    }
}

/// One bend as it is declared.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fold {
    /// Deviation from flat, degrees.
    pub(crate) angle: f64,
    /// Towards the viewer of the blank.
    pub(crate) up: bool,
    /// Inside radius.
    pub(crate) radius: f64,
    /// Neutral factor.
    pub(crate) k: f64,
    /// Thickness of the sheet.
    pub(crate) thickness: f64,
}

impl Fold {
    /// `BA = angle_rad * (R + K t)`.
    pub(crate) fn allowance(&self) -> f64 {
        self.angle.to_radians() * (self.radius + self.k * self.thickness)
    }

    /// Where points of the flat blank beyond the bend go, in the blank's own frame with the parent
    /// flat: `start` lies on the zone's parent-side edge, `n` points from parent to child.
    pub(crate) fn motion(&self, start: Vector, n: Vector) -> Motion {
        let up: Vector = [0.0, 0.0, 1.0];
        let along = cross(up, n);
        let (sin, cos) = self.angle.to_radians().sin_cos();
        let (rise, centre) =
            if self.up { (sin, self.thickness + self.radius) } else { (-sin, -self.radius) };
        // Images of n and k under Rot(+-angle), which turns n towards +-k.
        let turned_n = add(times(n, cos), times(up, rise));
        let turned_k = add(times(n, -rise), times(up, cos));
        let image = |v: Vector| {
            let flat = add(times(turned_n, dot(v, n)), times(turned_k, dot(v, up)));
            add(flat, times(along, dot(v, along)))
        };
        let columns = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(image);
        let m = [0, 1, 2].map(|i| [columns[0][i], columns[1][i], columns[2][i]]);
        // P = C + Rot(s n + z k - centre k) with s counted from the zone's far side.
        let pivot = add(start, times(up, centre));
        let from = add(pivot, times(n, self.allowance()));
        let turn = Motion { m, shift: [0.0; 3] };
        Motion { m, shift: minus(pivot, turn.vector(from)) }
    }
}

#[test]
fn a_bend_by_hand() {
    // t = 2, R = 3, K = 0.4, 90 degrees up about the line y = 0, child to the right.
    let fold = Fold { angle: 90.0, up: true, radius: 3.0, k: 0.4, thickness: 2.0 };
    let zone = fold.allowance();
    assert!((zone - std::f64::consts::FRAC_PI_2 * 3.8).abs() < 1e-12);
    let motion = fold.motion([10.0, 7.0, 0.0], [1.0, 0.0, 0.0]);
    assert!(motion.unlike_a_turn() < 1e-12);
    // The far edge of the zone on the underside lies R + t right of the near edge and as high.
    let near = motion.point([10.0 + zone, 7.0, 0.0]);
    assert!(length(minus(near, [15.0, 7.0, 5.0])) < 1e-12, "{near:?}");
    // A point 20 further out, on the upper face: 20 higher, and one thickness nearer the parent.
    let far = motion.point([30.0 + zone, 7.0, 2.0]);
    assert!(length(minus(far, [13.0, 7.0, 25.0])) < 1e-12, "{far:?}");
    // Down: the upper face is the outer one.
    let down = Fold { up: false, ..fold }.motion([10.0, 7.0, 0.0], [1.0, 0.0, 0.0]);
    let far = down.point([30.0 + zone, 7.0, 2.0]);
    assert!(length(minus(far, [15.0, 7.0, -23.0])) < 1e-12, "{far:?}");
}
