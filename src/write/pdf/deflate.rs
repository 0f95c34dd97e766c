//! Compression. The coder is built without its code for single kinds of processor, so that the same
//! bytes come out on all of them.

use zlib_rs::{Deflate, DeflateFlush, Status};

/// The quickest level, for page contents, and the smallest, for what is made once per process.
const QUICK: i32 = 1;
const SMALLEST: i32 = 9;

/// Two to this power of bytes are searched for what repeats: the most that there is.
const WINDOW: u8 = 15;

/// Room that a stream needs at least: its head, its sum, a few codes.
const LEAST_ROOM: usize = 256;

/// A coder for many streams, since its tables are large.
pub(super) struct Coder(Deflate);

impl Coder {
    /// For page contents.
    pub(super) fn quick() -> Self {
        Self(Deflate::new(QUICK, true, WINDOW))
    }

    /// For what is compressed once per process.
    pub(super) fn smallest() -> Self {
        Self(Deflate::new(SMALLEST, true, WINDOW))
    }

    /// One stream of its own, with the zlib wrapper that PDF asks for: what came before has no say
    /// in it.
    pub(super) fn stream(&mut self, data: &[u8]) -> Vec<u8> {
        self.0.reset();
        let mut stream = vec![0; data.len() / 2 + LEAST_ROOM];
        loop {
            let (read, written) = (self.0.total_in() as usize, self.0.total_out() as usize);
            let room = &mut stream[written..];
            let status = self.0.compress(&data[read..], room, DeflateFlush::Finish);
            assert!(status.is_ok(), "memory takes every stream");
            if status == Ok(Status::StreamEnd) {
                stream.truncate(self.0.total_out() as usize);
                return stream;
            }
            stream.resize(2 * stream.len(), 0);
        }
    }
}
