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

macro_rules! check {
    ($name:ident, $id:literal, $asks:literal, $remedy:expr) => {
        #[doc = $asks]
        pub(super) const $name: ProofCheck = ProofCheck { id: $id, asks: $asks, remedy: $remedy };
    };
}

check!(READ, "proof.read", "every file reads as what it is meant to be", AGAIN);
check!(FILES, "proof.files", "every file of the kit is there, and no other kit's", AGAIN);
check!(
    UNPROVED,
    "proof.unproved",
    "every part has its DXF file, without which it is not proved",
    "draw the kit without --only and --parts"
);
check!(DXF, "proof.dxf", "DXF files are in mm, flat, on the shop's layers, nothing unknown", AGAIN);
check!(CONTOUR, "proof.contour", "contours are closed, single, and those of kit.json", AGAIN);
check!(HOLE, "proof.hole", "every hole is cut once, where and as large as kit.json says", AGAIN);
check!(BEND, "proof.bend", "bend lines, directions and allowances are those of kit.json", AGAIN);
check!(ETCH, "proof.etch", "what is etched is what kit.json lists", AGAIN);
check!(
    FACE,
    "proof.face",
    "cut along its bends and folded, the blank gives kit.json's faces",
    AGAIN
);
check!(
    FIGURE,
    "proof.figure",
    "sizes, areas, lengths, masses and counts are those of the cut",
    AGAIN
);
check!(JOINT, "proof.joint", "joints name holes that are there, as many as are counted", AGAIN);
check!(LIST, "proof.list", "the lists say what kit.json says", AGAIN);
check!(
    STOCK,
    "proof.stock",
    "materials, fasteners and bends are those of the shop's data",
    "prove with the shop's data the kit was drawn with, or draw it again"
);

/// All of them, in the order of the proof.
pub const PROOF_CHECKS: [ProofCheck; 13] =
    [READ, FILES, UNPROVED, DXF, CONTOUR, HOLE, BEND, ETCH, FACE, FIGURE, JOINT, LIST, STOCK];
