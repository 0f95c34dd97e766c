//! A wall laid out from post to post, in the wall's frame.

use super::SurveyFit;
use crate::shelf::{Corrugation, Member, WallName};

/// A corrugated wall between its two posts, in the wall's frame.
#[derive(Debug, Clone, PartialEq)]
pub struct WallLayout {
    /// Which wall.
    pub name: WallName,
    /// The corrugation; its pitch is that of most panels, or the surveyed one.
    pub corrugation: Corrugation,
    /// Distance between the posts' edges, mm.
    pub length: f64,
    /// Pitch, mm.
    pub pitch: f64,
    /// X of every outer flat's centre, ascending.
    pub outer_flat_centres: Vec<f64>,
    /// X of the vertical seams between panels; they lie in inner flats.
    pub seams: Vec<f64>,
    /// Z of the wall's lower and upper edge, where it meets the rails.
    pub edges: [f64; 2],
    /// Z of the roof's underside.
    pub ceiling: f64,
    /// Y of the top rail's inside face: what a frame must clear.
    pub rail_inside: f64,
    /// Posts, rails, floor, roof and what is under the floor.
    pub members: Vec<Member>,
    /// The survey that replaced the nominal layout.
    pub survey: Option<SurveyFit>,
}
