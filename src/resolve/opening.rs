//! The opening fitted to the corrugation.

/// Where an opening is wished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Position {
    /// In the middle between the posts.
    Middle,
    /// As near to the left post as it goes.
    Left,
    /// As near to the right post as it goes.
    Right,
    /// Centre from the left post's edge, mm.
    Centre(f64),
}

/// What is kept when not both can be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Prefer {
    /// The narrowest opening that is not narrower than wished.
    Width,
    /// The nearest centre, for an opening less than one pitch wider than wished.
    Centre,
}

/// What is wished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// Rough width, mm: not narrower.
    pub rough_width: f64,
    /// Widest rough width that will do, mm.
    pub most: Option<f64>,
    /// Width of the frame's lip on the outer flat, mm.
    pub lip: f64,
    /// Free width of the outer flat on each side of what stands on it, mm.
    pub margin: f64,
    /// Where.
    pub position: Position,
    /// What is kept when not both can be had.
    pub prefer: Prefer,
}

/// The opening as fitted, in the wall's frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// X of the two vertical cuts.
    pub cuts: [f64; 2],
    /// Middle between them.
    pub centre: f64,
    /// Distance between them.
    pub rough_width: f64,
    /// Indexes of the outer flats that carry the left and the right lip.
    pub flats: [usize; 2],
    /// What was given and why, for people.
    pub reason: String,
}

/// Why an opening cannot be fitted; the numbers are in the wall's frame.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// A wish that is not a positive finite number.
    NotANumber {
        /// Which one.
        what: &'static str,
        /// Its value.
        found: f64,
    },
    /// The lip with its margins is wider than an outer flat.
    LipTooWide {
        /// Lip and both margins.
        needed: f64,
        /// Width of the outer flat.
        flat: f64,
    },
    /// Wider than anything this wall can take.
    TooWide {
        /// Width wished.
        wanted: f64,
        /// Widest that fits.
        widest: Option<f64>,
        /// Distance between the posts.
        wall: f64,
    },
    /// Round the wished centre it would lie on a post.
    OnPost {
        /// Left or right cut as wished.
        cut: f64,
        /// Where the wall ends on that side.
        end: f64,
        /// Centre wished.
        centre: f64,
        /// Least and greatest centre that this width can have.
        centres: [f64; 2],
    },
    /// No reachable width lies between the wish and the widest that will do.
    Between {
        /// Width wished.
        wanted: f64,
        /// Widest that will do.
        most: f64,
        /// Nearest reachable widths below and above.
        nearest: [Option<f64>; 2],
    },
}
