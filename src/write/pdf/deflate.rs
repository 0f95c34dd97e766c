//! Compression: the pure Rust coder, since those tuned to a machine differ in their bytes.

use miniz_oxide::deflate::compress_to_vec_zlib;

/// For page contents: quick.
pub(super) fn quick(data: &[u8]) -> Vec<u8> {
    compress_to_vec_zlib(data, 1)
}

/// For what is compressed once per process: small.
pub(super) fn smallest(data: &[u8]) -> Vec<u8> {
    compress_to_vec_zlib(data, 9)
}
