//! The data files of shop and containers, read as they are shipped.

use blankwright::note::Notes;
use blankwright::shelf::Shelf;

/// The shipped data files.
pub(crate) const FILES: [(&str, &str); 6] = [
    ("shop/materials.toml", include_str!("../../templates/shop/materials.toml")),
    ("shop/fasteners.toml", include_str!("../../templates/shop/fasteners.toml")),
    ("shop/shop.toml", include_str!("../../templates/shop/shop.toml")),
    ("containers/20ft.toml", include_str!("../../templates/containers/20ft.toml")),
    ("containers/40ft.toml", include_str!("../../templates/containers/40ft.toml")),
    (
        "containers/40ft-high-cube.toml",
        include_str!("../../templates/containers/40ft-high-cube.toml"),
    ),
];

/// The shipped shelf.
pub(crate) fn shelf() -> Shelf {
    let mut notes = Notes::default();
    let shelf = Shelf::read(&FILES, &mut notes);
    assert!(notes.is_empty(), "{notes:#?}");
    shelf.unwrap()
}

#[test]
fn the_shipped_files_are_sound() {
    let shelf = shelf();
    assert_eq!(shelf.materials.len(), 5);
    assert_eq!(shelf.containers.len(), 3);
    assert!(shelf.fasteners.len() >= 8);
}
