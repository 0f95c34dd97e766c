//! Pitch and phase of a wall from centres measured on site.

/// One reading held against the fitted wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurveyReading {
    /// Centre from the left post's edge, mm.
    pub at: f64,
    /// Which outer flat, counted from the first of the fitted wall.
    pub flat: usize,
    /// Reading minus fitted centre, mm.
    pub residual: f64,
    /// Whether it was left out of the fit.
    pub outlier: bool,
}

/// The wall as measured.
#[derive(Debug, Clone, PartialEq)]
pub struct SurveyFit {
    /// Pitch, mm.
    pub pitch: f64,
    /// Centre of the first outer flat from the left post's edge, mm.
    pub first: f64,
    /// Root mean square of the residuals used, mm.
    pub spread: f64,
    /// The readings in the order of the file.
    pub readings: Vec<SurveyReading>,
}
