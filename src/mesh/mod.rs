//! The folded kit as triangles and edges, for pictures that turn and for other programs.

mod piece;
mod part;
mod assembly;

pub use assembly::{Assembly, Instance, Shape, assemble};
pub use part::part;
pub use piece::Mesh;
