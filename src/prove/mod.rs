//! The proof: what was written, read back, refolded and checked again.
