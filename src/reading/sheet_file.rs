//! Sheets of `kit.json` as they are read back.

use serde::Deserialize;

use crate::geom::{BlankFrame, Map2, Point};

/// A sheet.
#[derive(Debug, Deserialize)]
pub(crate) struct SheetRow {
    pub(crate) file: String,
    pub(crate) material: String,
    pub(crate) thickness: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
    pub(crate) copies: usize,
    pub(crate) parts: Vec<LyingRow>,
    #[serde(default)]
    pub(crate) blocked: Vec<[f64; 4]>,
}

/// A blank on a sheet.
#[derive(Debug, Deserialize)]
pub(crate) struct LyingRow {
    pub(crate) number: String,
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) turn: f64,
    pub(crate) mirrored: bool,
}

impl LyingRow {
    /// From the blank's frame to the sheet: reflected in y where so, turned, shifted. Both planes
    /// bear the blank's label here.
    pub(crate) fn map(&self) -> Map2<BlankFrame, BlankFrame> {
        let turn = Map2::<BlankFrame, BlankFrame>::turn(self.turn);
        let x_axis = if self.mirrored { -turn.x_axis } else { turn.x_axis };
        Map2::new(x_axis, turn.y_axis, Point::new(self.x, self.y))
    }
}
