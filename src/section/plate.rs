//! Effective widths of flat plates in compression, by two published rules.
//!
//! EN 1993-1-3 with EN 1993-1-5 4.4 (tables 4.1 and 4.2 from memory; the plate formula is checked
//! against a worked value) and AISI's effective width (uniform compression checked against worked
//! values; the stress gradient from memory).

/// Whose rule is followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standard {
    /// EN 1993-1-3, EN 1993-1-5.
    En,
    /// AISI S100.
    Aisi,
}

impl Standard {
    /// The rule of that word: `en-1993` or `aisi`.
    pub fn of(word: &str) -> Option<Self> {
        match word {
            "en-1993" => Some(Standard::En),
            "aisi" => Some(Standard::Aisi),
            _ => None,
        }
    }

    /// As it is printed.
    pub fn title(self) -> &'static str {
        match self {
            Standard::En => "EN 1993-1-3 with EN 1993-1-5 4.4",
            Standard::Aisi => "AISI S100 effective width",
        }
    }
}

/// A flat plate of a section: width in mm; stresses at its two ends in N/mm2, compression
/// positive; which ends are free edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// Width.
    pub width: f64,
    /// Thickness.
    pub thickness: f64,
    /// Stress at the start and at the end.
    pub stress: [f64; 2],
    /// Whether start and end are free.
    pub free: [bool; 2],
}

/// What plates are judged by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judge {
    /// The rule.
    pub standard: Standard,
    /// Greatest compression of the section, N/mm2: what EN's slenderness is worked out with.
    pub stress: f64,
    /// Young's modulus, N/mm2.
    pub modulus: f64,
    /// A buckling factor that replaces the table's.
    pub k: Option<f64>,
}

/// Slenderness of a plate, EN 1993-1-5 4.4: `b / (28.4 t ε √kσ)`, `ε² = 235 / f · E / 210000`.
pub fn slenderness_en(width_to_thickness: f64, stress: f64, modulus: f64, k: f64) -> f64 {
    let epsilon = (235.0 / stress * modulus / 210_000.0).sqrt();
    width_to_thickness / (28.4 * epsilon * k.sqrt())
}

/// Slenderness of an element, AISI: `1.052 / √k · w / t · √(f / E)`.
pub fn slenderness_aisi(width_to_thickness: f64, stress: f64, modulus: f64, k: f64) -> f64 {
    1.052 / k.sqrt() * width_to_thickness * (stress / modulus).sqrt()
}

/// Share of an internal plate that bears; `psi` is its ratio of end stresses (EN 1993-1-5 4.2).
pub fn share_internal(slenderness: f64, psi: f64) -> f64 {
    let limit = 0.5 + (0.085 - 0.055 * psi.min(1.0)).max(0.0).sqrt();
    if slenderness <= limit {
        1.0
    } else {
        ((slenderness - 0.055 * (3.0 + psi)) / (slenderness * slenderness)).clamp(0.0, 1.0)
    }
}

/// Share of a plate with one free edge that bears (EN 1993-1-5 4.3).
pub fn share_outstand(slenderness: f64) -> f64 {
    if slenderness <= 0.748 {
        1.0
    } else {
        ((slenderness - 0.188) / (slenderness * slenderness)).min(1.0)
    }
}

/// Share of an element that bears by AISI's rule.
pub fn share_aisi(slenderness: f64) -> f64 {
    if slenderness <= 0.673 { 1.0 } else { (1.0 - 0.22 / slenderness) / slenderness }
}

/// Buckling factor of an internal plate, EN 1993-1-5 table 4.1; `psi` from 1 down to -3.
pub fn k_internal(psi: f64) -> f64 {
    if psi >= 0.0 {
        8.2 / (1.05 + psi)
    } else if psi >= -1.0 {
        7.81 - 6.29 * psi + 9.78 * psi * psi
    } else {
        let psi = psi.max(-3.0);
        5.98 * (1.0 - psi) * (1.0 - psi)
    }
}

/// Buckling factor of a plate with one free edge, EN 1993-1-5 table 4.2: greatest compression at
/// the free edge, or at the supported one.
pub fn k_outstand(psi: f64, at_free_edge: bool) -> f64 {
    if at_free_edge {
        let psi = psi.max(-3.0);
        0.57 - 0.21 * psi + 0.07 * psi * psi
    } else if psi >= 0.0 {
        0.578 / (psi + 0.34)
    } else {
        let psi = psi.max(-1.0);
        1.7 - 5.0 * psi + 17.1 * psi * psi
    }
}

impl Plate {
    /// Widths that bear from the plate's start and from its end, mm; what is pulled bears. They
    /// overlap or touch where the whole plate bears.
    pub fn bearing(&self, judge: &Judge) -> [f64; 2] {
        let [start, end] = self.stress;
        if self.width <= 0.0 || start.max(end) <= 0.0 || self.free == [true, true] {
            return [self.width, 0.0];
        }
        let turned = |[a, b]: [f64; 2]| [b, a];
        match self.free {
            [false, false] if start < end => turned(self.turned().internal(judge)),
            [false, false] => self.internal(judge),
            [true, _] => turned(self.turned().outstand(judge)),
            [false, true] => self.outstand(judge),
        }
    }

    /// The same plate seen from its other end.
    fn turned(&self) -> Self {
        let [a, b] = self.stress;
        let [c, d] = self.free;
        Self { stress: [b, a], free: [d, c], ..*self }
    }

    fn slenderness(&self, judge: &Judge, k: f64) -> f64 {
        let ratio = self.width / self.thickness;
        let k = judge.k.unwrap_or(k);
        let most = self.stress[0].max(self.stress[1]);
        match judge.standard {
            Standard::En => slenderness_en(ratio, judge.stress, judge.modulus, k),
            Standard::Aisi => slenderness_aisi(ratio, most, judge.modulus, k),
        }
    }

    /// A plate held at both ends, its start compressed most: what bears lies at its ends, and where
    /// it is pulled.
    fn internal(&self, judge: &Judge) -> [f64; 2] {
        let psi = self.stress[1] / self.stress[0];
        let compressed = if psi < 0.0 { self.width / (1.0 - psi) } else { self.width };
        let pulled = self.width - compressed;
        let (near, far) = match judge.standard {
            Standard::En => {
                let bears = share_internal(self.slenderness(judge, k_internal(psi)), psi);
                let near = if psi < 0.0 { 0.4 } else { 2.0 / (5.0 - psi) };
                (near * bears * compressed, (1.0 - near) * bears * compressed)
            }
            Standard::Aisi => {
                let bend = 1.0 - psi;
                let k = 4.0 + 2.0 * bend * bend * bend + 2.0 * bend;
                let bears = share_aisi(self.slenderness(judge, k)) * self.width;
                let near = bears / (3.0 - psi);
                (near, if psi < -0.236 { bears / 2.0 } else { bears - near })
            }
        };
        [near, far + pulled]
    }

    /// A plate held at its start and free at its end.
    fn outstand(&self, judge: &Judge) -> [f64; 2] {
        let [held, free] = self.stress;
        let at_free_edge = free > held;
        let (greatest, least) = if at_free_edge { (free, held) } else { (held, free) };
        let psi = least / greatest;
        let compressed = if psi < 0.0 { self.width / (1.0 - psi) } else { self.width };
        let pulled = self.width - compressed;
        let k = k_outstand(psi, at_free_edge);
        let share = match judge.standard {
            Standard::En => share_outstand(self.slenderness(judge, k)),
            Standard::Aisi => share_aisi(self.slenderness(judge, 0.43)),
        };
        // What bears starts at the held end, or at the line of no stress where that end is pulled.
        if at_free_edge { [pulled + share * compressed, 0.0] } else { [share * compressed, pulled] }
    }
}
