//! How much foam the kit takes, and what is done before it is sprayed.

use super::Foaming;
use super::basis::{FOAM_LIFT, FOAM_MORE};
use crate::kit::Kit;

/// What is done before any foam.
pub const PREPARE: [&str; 5] = [
    "Finish all drilling, riveting and sealing outside first: no hole may be drilled into fresh foam.",
    "Degrease and dry wall and frame; scuff glossy paint; prime bare steel. Wall and foam set: at the \
     temperatures that the foam's maker gives, and the wall 3 °C above the dew point (common practice).",
    "Mask the frames' room faces, threads, hinges, tracks and drains; lead cables out in conduit.",
    "Spray in lifts, thin ones first; let each cool. Never fill a closed hollow in one shot: it bulges.",
    "Leave no bridge and no gap: the foam is the vapour barrier. Cover it with a thermal barrier as the \
     code asks.",
];

/// The kit's foam; none where it has none.
pub(super) fn foaming(kit: &Kit) -> Option<Foaming> {
    if kit.on_site.foam.is_empty() {
        return None;
    }
    let litres: Vec<f64> =
        kit.on_site.foam.iter().map(|foam| foam.area * foam.depth * 1e-6).collect();
    let net: f64 = litres.iter().sum();
    let lifts =
        kit.on_site.foam.iter().map(|foam| (foam.depth / FOAM_LIFT).ceil().max(1.0) as usize);
    Some(Foaming { lifts: lifts.collect(), litres, net, gross: net * (1.0 + FOAM_MORE) })
}
