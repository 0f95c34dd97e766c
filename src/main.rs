//! Starts the command line and hands its exit status to the system.

fn main() {}
