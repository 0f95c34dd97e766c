//! The tests, in one binary.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a failing test is meant to stop")]

mod write_text;
