//! Tells the build that the program carries a copy of `templates`, where a file added counts, and
//! gives the program a fingerprint of its own sources: outputs of another build are then known. It
//! needs no version control, and is the same for the same sources on any machine.

#![expect(clippy::disallowed_methods, reason = "the build reads the program's own sources")]

use std::path::{Path, PathBuf};
use std::{env, fs, io};

/// What the program's behaviour follows from, beside the data it reads.
const SOURCES: [&str; 4] = ["src", "templates", "Cargo.toml", "Cargo.lock"];

fn main() -> io::Result<()> {
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let mut print = Fingerprint(0xcbf2_9ce4_8422_2325);
    for source in SOURCES {
        println!("cargo::rerun-if-changed={source}");
        take(&root.join(source), &root, &mut print)?;
    }
    println!("cargo::rustc-env=BLANKWRIGHT_SOURCES={:016x}", print.0);
    Ok(())
}

/// FNV-1a, 64 bits: tells versions apart, and is no seal against anyone.
struct Fingerprint(u64);

impl Fingerprint {
    fn take(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
}

/// Takes a file, or every file of a folder by its path; line ends count as one byte everywhere.
/// What an editor leaves under a name that begins with a point is no source.
fn take(path: &Path, root: &Path, print: &mut Fingerprint) -> io::Result<()> {
    if path.is_dir() {
        let mut entries = fs::read_dir(path)?.collect::<io::Result<Vec<_>>>()?;
        entries.sort_by_key(fs::DirEntry::file_name);
        let hidden = |entry: &&fs::DirEntry| entry.file_name().as_encoded_bytes()[0] == b'.';
        let mut sources = entries.iter().filter(|entry| !hidden(entry));
        return sources.try_for_each(|entry| take(&entry.path(), root, print));
    }
    let name = path.strip_prefix(root).unwrap_or(path).to_string_lossy().replace('\\', "/");
    print.take(name.as_bytes());
    let bytes = fs::read(path)?;
    let bytes: Vec<u8> = bytes.into_iter().filter(|byte| *byte != b'\r').collect();
    print.take(&bytes);
    Ok(())
}
