//! The codes of the proof's own findings.

/// Something that the proof holds against the files, with its stable code.
#[derive(Debug, Clone, Copy)]
pub struct ProofCheck {
    /// Stable id, as findings carry it.
    pub id: &'static str,
    /// What it asks for, in one sentence.
    pub asks: &'static str,
    /// What to do about it.
    pub remedy: &'static str,
}

/// What to do about a file that is not as it was written.
const AGAIN: &str = "draw the kit again; what was changed by hand belongs in its spec";

/// A check that is put right with drawing the kit again.
const fn again(id: &'static str, asks: &'static str) -> ProofCheck {
    ProofCheck { id, asks, remedy: AGAIN }
}

/// Every file reads as what it is meant to be.
pub(super) const READ: ProofCheck =
    again("proof.read", "every file reads as what it is meant to be");

/// Every file of the kit is there, and no other kit's.
pub(super) const FILES: ProofCheck =
    again("proof.files", "every file of the kit is there, and no other kit's");

/// Every part has its DXF file, without which it is not proved.
pub(super) const UNPROVED: ProofCheck = ProofCheck {
    id: "proof.unproved",
    asks: "every part has its DXF file, without which it is not proved",
    remedy: "draw the kit without --only and --parts",
};

/// DXF files are in mm, flat, on the shop's layers, nothing unknown.
pub(super) const DXF: ProofCheck =
    again("proof.dxf", "DXF files are in mm, flat, on the shop's layers, nothing unknown");

/// Contours are closed, single, and those of kit.json.
pub(super) const CONTOUR: ProofCheck =
    again("proof.contour", "contours are closed, single, and those of kit.json");

/// Every hole is cut once, where and as large as kit.json says.
pub(super) const HOLE: ProofCheck =
    again("proof.hole", "every hole is cut once, where and as large as kit.json says");

/// Bend lines, directions and allowances are those of kit.json.
pub(super) const BEND: ProofCheck =
    again("proof.bend", "bend lines, directions and allowances are those of kit.json");

/// What is etched is what kit.json lists.
pub(super) const ETCH: ProofCheck = again("proof.etch", "what is etched is what kit.json lists");

/// Cut along its bends and folded, the blank gives kit.json's faces.
pub(super) const FACE: ProofCheck =
    again("proof.face", "cut along its bends and folded, the blank gives kit.json's faces");

/// Sizes, areas, lengths, masses and counts are those of the cut.
pub(super) const FIGURE: ProofCheck =
    again("proof.figure", "sizes, areas, lengths, masses and counts are those of the cut");

/// Joints name holes that are there, as many as are counted.
pub(super) const JOINT: ProofCheck =
    again("proof.joint", "joints name holes that are there, as many as are counted");

/// The lists say what kit.json says.
pub(super) const LIST: ProofCheck = again("proof.list", "the lists say what kit.json says");

/// Every part lies on the sheets as often as needed, clear of others, and is cut in order.
pub(super) const SHEET: ProofCheck = again(
    "proof.sheet",
    "every part lies on the sheets as often as needed, clear of others, and is cut in order",
);

/// Materials, fasteners and bends are those of the shop's data.
pub(super) const STOCK: ProofCheck = ProofCheck {
    id: "proof.stock",
    asks: "materials, fasteners and bends are those of the shop's data",
    remedy: "prove with the shop's data the kit was drawn with, or draw it again",
};

/// A catalogue's folder is the work of one finished run, and its lists agree with its kits.
pub const CATALOGUE: ProofCheck = ProofCheck {
    id: "proof.catalogue",
    asks: "a catalogue's folder is the work of one finished run, and its list and parts agree with \
           its kits",
    remedy: "run `catalogue` again: it draws what is missing",
};

/// All of them, in the order of the proof.
pub const PROOF_CHECKS: [ProofCheck; 15] = [
    READ, FILES, UNPROVED, DXF, CONTOUR, HOLE, BEND, ETCH, FACE, FIGURE, JOINT, LIST, SHEET, STOCK,
    CATALOGUE,
];
