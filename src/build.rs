//! Tells the build that the program carries a copy of `templates`: a file added there counts.

fn main() {
    println!("cargo::rerun-if-changed=templates");
}
