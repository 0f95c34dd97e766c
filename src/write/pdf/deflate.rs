//! Compression: the pure Rust coder, since those tuned to a machine differ in their bytes.

use miniz_oxide::deflate::compress_to_vec_zlib;
use miniz_oxide::deflate::core::{
    CompressorOxide, TDEFLFlush, TDEFLStatus, compress, create_comp_flags_from_zip_params,
};

/// Room that the coder asks for before it goes on.
const LEAST_ROOM: usize = 64;

/// For page contents: quick, and one coder for many pages, since its tables are large.
pub(super) struct Quick(CompressorOxide);

impl Quick {
    /// A coder at the quickest level, with the zlib wrapper that PDF asks for.
    pub(super) fn new() -> Self {
        Self(CompressorOxide::new(create_comp_flags_from_zip_params(1, 1, 0)))
    }

    /// One stream of its own: what came before has no say in it.
    pub(super) fn stream(&mut self, data: &[u8]) -> Vec<u8> {
        self.0.reset();
        let mut stream = vec![0; data.len() / 2 + LEAST_ROOM];
        let (mut read, mut written) = (0, 0);
        loop {
            let room = &mut stream[written..];
            let (status, more, out) =
                compress(&mut self.0, &data[read..], room, TDEFLFlush::Finish);
            (read, written) = (read + more, written + out);
            match status {
                TDEFLStatus::Okay if stream.len() - written < LEAST_ROOM => {
                    stream.resize(2 * stream.len(), 0);
                }
                TDEFLStatus::Okay => {}
                status => {
                    assert!(status == TDEFLStatus::Done, "memory takes every stream");
                    stream.truncate(written);
                    return stream;
                }
            }
        }
    }
}

/// For what is compressed once per process: small.
pub(super) fn smallest(data: &[u8]) -> Vec<u8> {
    compress_to_vec_zlib(data, 9)
}
