//! What is used up on site, with quantities worked out from the kit: sealant by its seams and
//! holes, tape by its length, primer by the cut edges. Allowances are common practice and stated.

use super::basis::{BEAD_MORE, CARTRIDGE_ML, DISC_CUT, HOLE_ML, PRIMED, TWO_COATS};
use super::{Amount, Cut, Foaming, Setting, Tool};
use crate::kit::{Kit, Lengths, Need, Supply};
use crate::units::{INCH, number};

/// What is called so takes up the sealant for the holes too.
const SEALANT: &str = "Sealant";
/// What quantities without a source of their own rest on.
const PRACTICE: &str = "common practice";
/// Litres are rounded up to this.
const STEP: f64 = 0.1;

/// All supplies: those of the family, those of every hole and cut, foam.
pub(super) fn supplies(
    kit: &Kit,
    (cut, settings, foam): (Option<&Cut>, &[Setting], Option<&Foaming>),
) -> Vec<Tool> {
    let holes = holes(settings);
    let mut all: Vec<Tool> = sealant(kit, holes).into_iter().collect();
    let own = kit.on_site.supplies.iter().filter(|supply| supply.name != SEALANT);
    all.extend(own.map(|supply| one(supply, kit.inches)));
    all.extend(kit.lengths.iter().flat_map(|lengths| bars(lengths, kit.inches)));
    if let Some(cut) = cut {
        all.extend(edges(cut, kit.inches));
    }
    if holes > 0 || cut.is_some() {
        let why = format!("{holes} fasteners through the skin, scratches; {PRACTICE}");
        all.push(tool("Touch-up paint", (1.0, "can"), why));
    }
    if let Some(foam) = foam {
        let why = "with its gun; waste included; supplied air, suit, gloves".to_owned();
        all.push(tool("Foam", (foam.gross, "l"), why));
    }
    all
}

fn tool(what: &str, (value, unit): (f64, &'static str), why: String) -> Tool {
    let amount = Some(Amount { value, unit });
    Tool { what: what.to_owned(), drill: None, amount, why }
}

/// Fasteners that go through the container's skin or frame, each of which may leak.
fn holes(settings: &[Setting]) -> usize {
    let leaks = |setting: &&Setting| {
        setting.into.as_deref().is_some_and(|into| matches!(into, "wall" | "rail" | "post"))
    };
    settings.iter().filter(leaks).map(|setting| setting.count).sum()
}

/// Beads, beds and holes together, in cartridges; none where nothing is sealed.
fn sealant(kit: &Kit, holes: usize) -> Option<Tool> {
    let own: Vec<&Supply> =
        kit.on_site.supplies.iter().filter(|supply| supply.name == SEALANT).collect();
    let volume: f64 = own.iter().map(|supply| millilitres(supply.need)).sum();
    let volume = volume + HOLE_ML * holes as f64;
    if volume <= 0.0 {
        return None;
    }
    let mut told: Vec<String> = own.iter().map(|supply| seam(supply, kit.inches)).collect();
    if holes > 0 {
        told.push(format!("{holes} holes through the skin, 1 ml each"));
    }
    let count = (volume * (1.0 + BEAD_MORE) / CARTRIDGE_ML).ceil();
    let why = format!("{}; {}", told.join("; "), allowance());
    Some(tool(SEALANT, (count, "cartridges"), why))
}

/// What stays in the seam, ml.
fn millilitres(need: Need) -> f64 {
    match need {
        Need::Bead(length, bead) => length * bead * bead * std::f64::consts::FRAC_PI_4 * 1e-3,
        Need::Bed(area, thickness) => area * thickness * 1e-3,
        Need::Count(_) | Need::Length(_) | Need::Area(_) => 0.0,
    }
}

/// A seam in words: `14.2 m of 6 mm bead: lips and trims`.
fn seam(supply: &Supply, inches: bool) -> String {
    let size = |mm: f64| match inches {
        true => format!("{} in", number(mm / INCH, 2)),
        false => format!("{} mm", number(mm, 1)),
    };
    match supply.need {
        Need::Bead(length, bead) => {
            format!("{} of {} bead: {}", run(length, inches), size(bead), supply.purpose)
        }
        Need::Bed(_, thick) => format!("a bed of {}: {}", size(thick), supply.purpose),
        Need::Count(_) | Need::Length(_) | Need::Area(_) => supply.purpose.clone(),
    }
}

/// A length of seam: `14.2 m`, or `46.6 ft (14.2 m)` for readers of inches.
fn run(mm: f64, inches: bool) -> String {
    let metric = format!("{} m", number(mm * 1e-3, 1));
    if inches { format!("{} ft ({metric})", number(mm / INCH / 12.0, 1)) } else { metric }
}

fn allowance() -> String {
    format!("{} % over, {PRACTICE}", number(BEAD_MORE * 100.0, 0))
}

/// A supply that is counted, or measured by length or area.
fn one(supply: &Supply, inches: bool) -> Tool {
    let more = 1.0 + BEAD_MORE;
    let tenth = |value: f64| (value * 10.0 - 1e-6).ceil() / 10.0;
    let (amount, basis) = match supply.need {
        Need::Count(count) => ((count.round(), "pieces"), String::new()),
        Need::Length(mm) => ((tenth(mm * more * 1e-3), "m"), allowance()),
        Need::Area(mm2) => ((tenth(mm2 * more * 1e-6), "m2"), allowance()),
        need => (((millilitres(need) * more / CARTRIDGE_ML).ceil(), "cartridges"), allowance()),
    };
    let purpose = match supply.need {
        Need::Bead(..) | Need::Bed(..) => seam(supply, inches),
        _ => supply.purpose.clone(),
    };
    let basis = match (basis.is_empty(), supply.source.is_empty()) {
        (_, false) => supply.source.clone(),
        (true, true) => PRACTICE.to_owned(),
        (false, true) => basis,
    };
    tool(&supply.name, amount, format!("{purpose}; {basis}"))
}

/// Bought profile, a row for each length in which it is bought.
fn bars(lengths: &Lengths, inches: bool) -> Vec<Tool> {
    let mut stock: Vec<(f64, usize)> = Vec::new();
    for bar in &lengths.plan.bars {
        match stock.iter_mut().find(|(length, _)| *length == bar.stock) {
            Some((_, count)) => *count += 1,
            None => stock.push((bar.stock, 1)),
        }
    }
    let row = |(length, count): (f64, usize)| {
        let why =
            format!("bars of {}, cut by the cutting list; not in the kit", run(length, inches));
        tool(&lengths.title, (count as f64, "pieces"), why)
    };
    stock.into_iter().map(row).collect()
}

/// Discs and primer by the length of the cut along the corrugation.
fn edges(cut: &Cut, inches: bool) -> [Tool; 2] {
    let length = 2.0 * (cut.lines.height + cut.panel.developed);
    let discs = (length / DISC_CUT).ceil() + 1.0;
    let area = length * 2.0 * PRIMED * 1e-6;
    let litres = (area * TWO_COATS / STEP - 1e-6).ceil() * STEP;
    let told = run(length, inches);
    let disc = format!("{told} of cut, one each 3 m and one more; from memory, {PRACTICE}");
    let primer = format!("{told} of cut edge, 50 mm wide on both faces, two coats; {PRACTICE}");
    [
        tool("Cutting discs 125 × 1 mm, for steel", (discs, "pieces"), disc),
        tool("Zinc-rich primer", (litres, "l"), primer),
    ]
}
