//! Pitch and phase of a wall from centres of outer flats measured on site.

use std::ops::Range;

use crate::note::Finding;
use crate::spec::{Survey, SurveyFrom};
use crate::units::in_mm;

/// A reading farther than this from the fitted wall is never taken for a flat's own scatter, mm.
const FAR: f64 = 6.0;

/// A reading nearer than this is never called an outlier, mm: what a tape reads on a painted wall.
const NEAR: f64 = 2.0;

/// How much a real pitch may differ from the nominal one; beyond, another wall was measured.
const PITCH_SHARE: f64 = 0.04;

/// Uncertainty of a flat carried beyond the readings that is worth a warning, mm: half the usual
/// margin beside a lip.
const REACH: f64 = 3.0;

/// Median deviation to standard deviation, for normal scatter.
const SIGMA: f64 = 1.4826;

/// One reading held against the fitted wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurveyReading {
    /// Centre from the left post's edge, mm.
    pub at: f64,
    /// Which outer flat of the laid-out wall, from 0; none where that flat reaches over a post.
    pub flat: Option<usize>,
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
    /// Centre of the first whole outer flat from the left post's edge, mm.
    pub first: f64,
    /// Root mean square of the residuals used, mm.
    pub spread: f64,
    /// The readings in the order of the file.
    pub readings: Vec<SurveyReading>,
}

/// The nominal wall a survey is held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Nominal {
    /// Pitch, mm.
    pub pitch: f64,
    /// Outer flat, mm.
    pub outer_flat: f64,
    /// Distance between the posts' edges, mm.
    pub length: f64,
}

/// A finding and the place of the reading it is about.
pub(super) type Told = (Range<usize>, Finding);

/// A reading with the flat it belongs to, counted from the leftmost reading's.
#[derive(Debug, Clone, Copy)]
struct Reading {
    at: f64,
    flat: f64,
    span_of: usize,
}

/// `at = start + pitch * flat`.
#[derive(Debug, Clone, Copy)]
struct Line {
    start: f64,
    pitch: f64,
}

impl Line {
    fn residual(&self, reading: &Reading) -> f64 {
        reading.at - self.start - self.pitch * reading.flat
    }
}

/// Fits pitch and phase by least squares to the readings that are no outliers. None, with the
/// reasons told, when the readings are not those of a wall like the nominal one.
pub(super) fn fit(survey: &Survey, nominal: Nominal, told: &mut Vec<Told>) -> Option<SurveyFit> {
    let before = told.len();
    let readings = readings(survey, nominal, told);
    if before < told.len() {
        return None;
    }
    let help = "measure the centres of five outer flats or more, spread over the wall";
    if readings.is_empty() {
        let finding = Finding::error("survey.few", "the survey has no readings");
        told.push((survey.span.clone(), finding.help(help)));
        return None;
    }
    if readings.len() == 1 {
        let message =
            "one reading sets the corrugation's phase alone; its pitch is the nominal one";
        told.push((survey.span.clone(), Finding::warning("survey.few", message).help(help)));
    }
    let robust = robust_line(&readings, nominal.pitch);
    let limit = limit(&readings, &robust);
    let (outliers, used): (Vec<Reading>, Vec<Reading>) =
        readings.iter().partition(|r| limit < robust.residual(r).abs());
    if used.len() < 2 * outliers.len() {
        told.push((survey.span.clone(), scatter(readings.len(), outliers.len())));
        return None;
    }
    let line = least_squares(&used, nominal.pitch);
    for outlier in &outliers {
        let finding = outlier_found(outlier, &line, limit);
        told.push((survey.centres[outlier.span_of].span.clone(), finding));
    }
    if PITCH_SHARE * nominal.pitch < (line.pitch - nominal.pitch).abs() {
        told.push((survey.span.clone(), pitch_found(line.pitch, nominal.pitch)));
        return None;
    }
    warn_of_reach(survey, (&used, &line), nominal, told);
    Some(fitted(&readings, (&line, limit, &robust), nominal))
}

/// The readings from left to right with their flats, by the gaps between neighbours. Faults are
/// told.
fn readings(survey: &Survey, nominal: Nominal, told: &mut Vec<Told>) -> Vec<Reading> {
    let from_left = |reading: f64| match survey.from {
        SurveyFrom::Left => reading,
        SurveyFrom::Right => nominal.length - reading,
    };
    let mut readings: Vec<Reading> = (survey.centres.iter().enumerate())
        .map(|(span_of, said)| Reading { at: from_left(said.value), flat: 0.0, span_of })
        .collect();
    readings.sort_by(|a, b| a.at.total_cmp(&b.at));
    for i in 0..readings.len() {
        let span = survey.centres[readings[i].span_of].span.clone();
        if readings[i].at < 0.0 || nominal.length < readings[i].at {
            told.push((span, off_wall(&readings[i], nominal)));
        } else if 0 < i {
            let gap = readings[i].at - readings[i - 1].at;
            let steps = (gap / nominal.pitch).round();
            if steps < 1.0 {
                told.push((span, same_flat(&readings[i], &readings[i - 1])));
            }
            readings[i].flat = readings[i - 1].flat + steps;
        }
    }
    readings
}

/// Medians of slopes and offsets: a few wild readings do not move them.
fn robust_line(readings: &[Reading], nominal: f64) -> Line {
    let mut slopes = Vec::new();
    for (i, a) in readings.iter().enumerate() {
        for b in &readings[i + 1..] {
            slopes.push((b.at - a.at) / (b.flat - a.flat));
        }
    }
    let pitch = if slopes.is_empty() { nominal } else { median(slopes) };
    let start = median(readings.iter().map(|r| r.at - pitch * r.flat).collect());
    Line { start, pitch }
}

/// Fewer readings than this do not tell how much they scatter.
const ENOUGH: usize = 5;

/// Three standard deviations, taken from the median residual, within [`NEAR`] and [`FAR`].
fn limit(readings: &[Reading], line: &Line) -> f64 {
    if readings.len() < ENOUGH {
        return FAR;
    }
    let scatter = median(readings.iter().map(|r| line.residual(r).abs()).collect());
    (3.0 * SIGMA * scatter).clamp(NEAR, FAR)
}

/// The middle value, or the mean of the two in the middle; 0 of nothing.
fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    let n = values.len();
    match n {
        0 => 0.0,
        _ if n % 2 == 1 => values[n / 2],
        _ => (values[n / 2 - 1] + values[n / 2]) / 2.0,
    }
}

fn least_squares(readings: &[Reading], nominal: f64) -> Line {
    let n = readings.len() as f64;
    let mean_flat = readings.iter().map(|r| r.flat).sum::<f64>() / n;
    let mean_at = readings.iter().map(|r| r.at).sum::<f64>() / n;
    let across: f64 = readings.iter().map(|r| (r.flat - mean_flat) * (r.at - mean_at)).sum();
    let along = squares(readings, mean_flat);
    let pitch = if along == 0.0 { nominal } else { across / along };
    Line { start: mean_at - pitch * mean_flat, pitch }
}

fn squares(readings: &[Reading], mean_flat: f64) -> f64 {
    readings.iter().map(|r| (r.flat - mean_flat) * (r.flat - mean_flat)).sum()
}

/// Warns when the wall's far end hangs on readings too few or too close together. A reading counts
/// as good to 1 mm at best.
fn warn_of_reach(
    survey: &Survey,
    (used, line): (&[Reading], &Line),
    nominal: Nominal,
    told: &mut Vec<Told>,
) {
    let n = used.len() as f64;
    let mean = used.iter().map(|r| r.flat).sum::<f64>() / n;
    let along = squares(used, mean);
    let rms = root_mean_square(used.iter().map(|r| line.residual(r)));
    let ends = [0.0, nominal.length].map(|x| (x - line.start) / line.pitch - mean);
    let far = ends[0].abs().max(ends[1].abs());
    let lever = if along == 0.0 { 0.0 } else { far * far / along };
    let uncertain = rms.max(1.0) * (1.0 / n + lever).sqrt();
    if REACH < uncertain {
        let message = format!(
            "{} readings leave the wall's far end uncertain by {}",
            used.len(),
            in_mm(uncertain)
        );
        let finding = Finding::warning("survey.reach", message).measured(uncertain, REACH, "mm");
        let help = "measure outer flats near both posts as well";
        told.push((survey.span.clone(), finding.help(help).source("one standard deviation")));
    }
}

fn root_mean_square(values: impl Iterator<Item = f64>) -> f64 {
    let (count, sum) = values.fold((0.0, 0.0), |(n, sum), v| (n + 1.0, sum + v * v));
    if count == 0.0 { 0.0 } else { (sum / count).sqrt() }
}

fn fitted(
    readings: &[Reading],
    (line, limit, robust): (&Line, f64, &Line),
    nominal: Nominal,
) -> SurveyFit {
    let half = nominal.outer_flat / 2.0;
    // The first flat that lies wholly between the posts; a rounding error does not push it out.
    let skip = ((half - line.start) / line.pitch - 1e-9).ceil();
    let first = line.start + line.pitch * skip;
    let whole = |flat: f64| {
        let centre = first + line.pitch * flat;
        (0.0 <= flat && centre + half <= nominal.length + 1e-9).then_some(flat as usize)
    };
    let outlier = |r: &Reading| limit < robust.residual(r).abs();
    let used = readings.iter().filter(|r| !outlier(r));
    let spread = root_mean_square(used.map(|r| line.residual(r)));
    let mut held: Vec<(usize, SurveyReading)> = (readings.iter())
        .map(|r| {
            let (residual, flat) = (line.residual(r), whole(r.flat - skip));
            (r.span_of, SurveyReading { at: r.at, flat, residual, outlier: outlier(r) })
        })
        .collect();
    held.sort_by_key(|(order, _)| *order);
    let readings = held.into_iter().map(|(_, reading)| reading).collect();
    SurveyFit { pitch: line.pitch, first, spread, readings }
}

fn off_wall(reading: &Reading, nominal: Nominal) -> Finding {
    let wall = in_mm(nominal.length);
    let message = format!(
        "this reading lies {} from the left post, outside the {wall} between the posts",
        in_mm(reading.at)
    );
    let finding = Finding::error("survey.off-wall", message);
    finding.measured(reading.at, nominal.length, "mm").help(
        "measure from the post's edge at the wall; give `length` where the posts stand apart \
               differently",
    )
}

fn same_flat(reading: &Reading, other: &Reading) -> Finding {
    let gap = reading.at - other.at;
    let message = format!("this reading and another are {} apart: one flat twice", in_mm(gap));
    let finding = Finding::error("survey.same-flat", message);
    finding.help("keep one reading for each outer flat")
}

fn scatter(readings: usize, outliers: usize) -> Finding {
    let message = format!("{outliers} of {readings} readings do not lie on one even corrugation");
    let finding = Finding::error("survey.scatter", message);
    finding.help("measure all centres from the same post with one tape")
}

fn outlier_found(reading: &Reading, line: &Line, limit: f64) -> Finding {
    let off = line.residual(reading);
    let message = format!(
        "this reading is {} off the fitted corrugation and was left out of the fit",
        in_mm(off)
    );
    let finding = Finding::warning("survey.outlier", message).measured(off.abs(), limit, "mm");
    finding
        .source("three standard deviations of the readings, 2 mm at least and 6 mm at most")
        .help("measure this flat again; a dent there moves the lip")
}

fn pitch_found(pitch: f64, nominal: f64) -> Finding {
    let message = format!(
        "the readings give a pitch of {}, this container's wall has {}",
        in_mm(pitch),
        in_mm(nominal)
    );
    let finding = Finding::error("survey.pitch", message).measured(pitch, nominal, "mm");
    finding.help("check the wall and the container type, or whether inner flats were measured")
}
