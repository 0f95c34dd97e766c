//! The folded parts, the container, keep-outs and tools as convex solids in the site frame, and how
//! deep they share space.

mod convex;
mod overlap;
mod trapezoid;
mod piece;
mod hollow;
mod surround;
mod scene;
mod picture;
mod stand;
mod reach;

pub use convex::{Bounds3, Convex};
pub use overlap::{Shared, shared};
pub use picture::surroundings;
pub use piece::PieceOf;
pub use reach::{Blocked, Need, unreachable};
pub use scene::{Clash, Owner, Scene, Side};

/// Sharing space up to this depth is touching, mm: the contract's limit.
pub const TOUCH: f64 = 0.1;
