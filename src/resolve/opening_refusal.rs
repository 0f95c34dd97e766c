//! Why an opening cannot be fitted, and what to do about it.

use crate::note::Finding;
use crate::spec::{Units, show_length};
use crate::units::number;

/// Why an opening cannot be fitted; the numbers are in the wall's frame.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// A wish that is not finite, or below what it can be.
    BadWish {
        /// Which one.
        what: &'static str,
        /// Its value.
        found: f64,
    },
    /// The lip with its margins is wider than an outer flat.
    LipTooWide {
        /// Width of the lip.
        lip: f64,
        /// Margin each side of it.
        margin: f64,
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

impl Refusal {
    /// The finding to tell, with lengths as the spec's units read.
    pub fn finding(&self, units: Units) -> Finding {
        let show = |mm: f64| show_length(mm, units);
        match self {
            Refusal::BadWish { what, found } => {
                let message = format!("the opening's {what} cannot be {}", number(*found, 3));
                Finding::error("opening.number", message).help("give a finite length above 0")
            }
            Refusal::LipTooWide { lip, margin, flat } => {
                let (lip, margin_text) = (*lip, show(*margin));
                let message = format!(
                    "a lip of {} with {margin_text} each side does not lie on an outer flat of {}",
                    show(lip),
                    show(*flat)
                );
                let help =
                    format!("a lip of {} or less fits", show((flat - 2.0 * margin).max(0.0)));
                let finding = Finding::error("opening.lip", message);
                finding.measured(lip + 2.0 * margin, *flat, "mm").help(help)
            }
            Refusal::TooWide { wanted, widest, wall } => {
                let message = format!(
                    "a rough width of {} does not fit between posts {} apart",
                    show(*wanted),
                    show(*wall)
                );
                let help = match widest {
                    Some(widest) => format!("the widest this wall takes is {}", show(*widest)),
                    None => "this wall has not two outer flats to stand on".to_owned(),
                };
                let finding = Finding::error("opening.too-wide", message);
                finding.measured(*wanted, widest.unwrap_or(0.0), "mm").help(help)
            }
            Refusal::OnPost { cut, end, centre, centres } => {
                let message = format!(
                    "about the centre {} a cut would lie at {}, on the post that begins at {}",
                    show(*centre),
                    show(*cut),
                    show(*end)
                );
                let help = format!(
                    "this width can have its centre from {} to {}",
                    show(centres[0]),
                    show(centres[1])
                );
                Finding::error("opening.on-post", message).measured(*cut, *end, "mm").help(help)
            }
            Refusal::Between { wanted, most, nearest } => {
                let message = format!(
                    "no rough width from {} to {} puts both lips on outer flats",
                    show(*wanted),
                    show(*most)
                );
                let words: Vec<String> = nearest.iter().flatten().map(|w| show(*w)).collect();
                let help = format!("the nearest that do: {}", words.join(" and "));
                let finding = Finding::error("opening.width", message);
                finding.measured(*wanted, *most, "mm").help(help)
            }
        }
    }
}
