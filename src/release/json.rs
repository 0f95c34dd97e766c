//! How `kit.json` puts numbers and lines: the shortest text that reads back to the same double, and
//! one line for each thing a reviewer would compare.

use std::io::{self, Write};

use serde::{Serialize, Serializer};
use serde_json::ser::Formatter;

/// A number of `kit.json`. Zero has no sign there; what is not finite is a bug of ours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Number(pub(super) f64);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        assert!(self.0.is_finite(), "a number of kit.json is {}", self.0);
        // Adding 0 takes the sign from -0 and changes no other number.
        serializer.serialize_f64(self.0 + 0.0)
    }
}

/// Numbers as an array.
pub(super) fn numbers<const N: usize>(values: [f64; N]) -> [Number; N] {
    values.map(Number)
}

/// A number of a finding, which may be about one that is not finite.
pub(super) fn finite(value: f64) -> Option<Number> {
    value.is_finite().then_some(Number(value))
}

/// The value as JSON text with a newline at its end.
pub(super) fn to_bytes(value: &impl Serialize) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut serializer = serde_json::Serializer::with_formatter(&mut bytes, Lines::default());
    let written = value.serialize(&mut serializer);
    assert!(written.is_ok(), "writing JSON to memory cannot fail");
    bytes.push(b'\n');
    bytes
}

/// Levels that are broken into lines; deeper ones run on, so that a face, a bend, a hole or a pair
/// of a joint is one line.
const BROKEN_LEVELS: usize = 4;

/// Breaks the outer levels into lines and lets the inner ones run on.
#[derive(Debug, Default)]
struct Lines {
    level: usize,
    has_members: bool,
}

impl Lines {
    fn open<W: ?Sized + Write>(&mut self, writer: &mut W, bracket: &[u8]) -> io::Result<()> {
        self.level += 1;
        self.has_members = false;
        writer.write_all(bracket)
    }

    fn separate<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        if !first {
            writer.write_all(b",")?;
        }
        if self.level <= BROKEN_LEVELS {
            self.new_line(writer)
        } else if first {
            Ok(())
        } else {
            writer.write_all(b" ")
        }
    }

    fn close<W: ?Sized + Write>(&mut self, writer: &mut W, bracket: &[u8]) -> io::Result<()> {
        self.level -= 1;
        if self.has_members && self.level < BROKEN_LEVELS {
            self.new_line(writer)?;
        }
        self.has_members = true;
        writer.write_all(bracket)
    }

    fn new_line<W: ?Sized + Write>(&self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b"\n")?;
        (0..self.level).try_for_each(|_| writer.write_all(b"  "))
    }
}

impl Formatter for Lines {
    fn begin_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.open(writer, b"[")
    }

    fn end_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.close(writer, b"]")
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, w: &mut W, first: bool) -> io::Result<()> {
        self.separate(w, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, _writer: &mut W) -> io::Result<()> {
        self.has_members = true;
        Ok(())
    }

    fn begin_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.open(writer, b"{")
    }

    fn end_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.close(writer, b"}")
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, w: &mut W, first: bool) -> io::Result<()> {
        self.separate(w, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b": ")
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, _writer: &mut W) -> io::Result<()> {
        self.has_members = true;
        Ok(())
    }
}
