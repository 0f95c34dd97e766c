//! A lip that stiffens the compressed flange it is folded from: EN 1993-1-3 5.5.3.2, checked
//! against the worked example SX022a.

use super::plate::{Judge, Plate};

/// Poisson's ratio of steel and aluminium (EN 1993-1-3 as in SX022a).
const POISSON: f64 = 0.3;

/// A lip, its flange and the web behind it, with the flange's start at the web.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stiffened {
    /// The flange, its end at the lip.
    pub(super) flange: Plate,
    /// The lip, its start at the flange, its end free.
    pub(super) lip: Plate,
    /// Angle between lip and flange, sine.
    pub(super) sine: f64,
    /// Width of the web, mm.
    pub(super) web: f64,
    /// Share of the other flange's stiffener: 0 where it is pulled, 1 where it is compressed alike.
    pub(super) other: f64,
}

/// What bears of a stiffened flange.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Held {
    /// Widths at the web and at the lip, mm.
    pub(super) flange: [f64; 2],
    /// Width of the lip from the flange on, mm.
    pub(super) lip: f64,
    /// Reduction of the thickness of lip and flange beside it against distortional buckling.
    pub(super) chi: f64,
}

/// A lip of a smaller share of its flange's width stiffens nothing (EN 1993-1-3 5.2(2)).
pub(super) const LEAST_LIP: f64 = 0.2;

/// Whether a lip of that share of its flange's width stiffens it as EN 1993-1-3 5.2(2) has it.
pub(super) fn in_range(lip_to_flange: f64) -> bool {
    LEAST_LIP <= lip_to_flange && lip_to_flange <= 0.6
}

impl Stiffened {
    /// Works the reduction out, and refines it until it stays (EN 1993-1-3 5.5.3.2(3), (10)).
    pub(super) fn work_out(&self, judge: &Judge) -> Held {
        let lip_judge = Judge { k: Some(self.lip_factor()), ..*judge };
        let first = self.flange.bearing(judge);
        let mut held = Held { flange: first, lip: self.lip.bearing(&lip_judge)[0], chi: 1.0 };
        for _ in 0..40 {
            let chi = self.reduction(&held, judge);
            if (chi - held.chi).abs() < 1e-9 {
                break;
            }
            let relieved = |judge: &Judge| Judge { stress: judge.stress * chi, ..*judge };
            held = Held {
                flange: [first[0], self.flange.bearing(&relieved(judge))[1]],
                lip: self.lip.bearing(&relieved(&lip_judge))[0],
                chi,
            };
        }
        held
    }

    /// Buckling factor of a lip, EN 1993-1-3 5.5.3.2(5).
    fn lip_factor(&self) -> f64 {
        let beyond = (self.lip.width / self.flange.width - 0.35).clamp(0.0, 0.25);
        0.5 + 0.83 * crate::units::cbrt(beyond * beyond)
    }

    /// The reduction of the stiffener's thickness, EN 1993-1-3 5.5.3.1(7): from its elastic
    /// critical stress on the spring that flange and web are to it.
    fn reduction(&self, held: &Held, judge: &Judge) -> f64 {
        let t = self.flange.thickness;
        let (edge, lip) = (held.flange[1], held.lip);
        let area = t * (edge + lip);
        let rise = lip * self.sine / 2.0;
        let centroid = lip * rise / (edge + lip);
        let upright = lip * self.sine;
        let inertia = edge * t * t * t / 12.0
            + edge * t * centroid * centroid
            + t * lip * upright * upright / 12.0
            + lip * t * (rise - centroid) * (rise - centroid);
        let arm = self.flange.width - edge * edge / 2.0 / (edge + lip);
        let bend = judge.modulus * t * t * t / (4.0 * (1.0 - POISSON * POISSON));
        let spring = bend / (arm * arm * (self.web * (1.0 + self.other / 2.0) + arm));
        let critical = 2.0 * (spring * judge.modulus * inertia).sqrt() / area;
        let slenderness = (judge.stress / critical).sqrt();
        if slenderness <= 0.65 {
            1.0
        } else if slenderness < 1.38 {
            1.47 - 0.723 * slenderness
        } else {
            0.66 / slenderness
        }
    }
}
