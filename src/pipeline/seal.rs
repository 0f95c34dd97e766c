//! Digests of what goes into a kit.

use sha2::{Digest, Sha256};

use crate::release::hexadecimal;

/// SHA-256 of several texts, each with its length, hexadecimal.
pub(super) fn sha256_of<'a>(texts: impl Iterator<Item = &'a [u8]>) -> String {
    let mut digest = Sha256::new();
    for text in texts {
        digest.update((text.len() as u64).to_le_bytes());
        digest.update(text);
    }
    hexadecimal(&digest.finalize())
}
