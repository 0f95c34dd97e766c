//! Where the reliefs of two bends meet at a corner they are one, and the blank stays whole.

use blankwright::pipeline::Want;

use crate::law_stock::{build_trial, head, make};

/// A tray whose four rims are set back from their corners.
fn tray(back: f64) -> String {
    let mut text = head(2.0)
        + "[[parts]]\nname = \"tray\"\ntitle = \"Tray\"\nsheet = \"plate\"\n\
           plate = { width = 400, height = 300 }\n\
           places = [{ at = [0, 0, 0], x = [1, 0, 0], y = [0, 1, 0] }]\n";
    for edge in ["bottom", "right", "top", "left"] {
        text += &format!(
            "[[parts.flanges]]\nname = \"{edge}\"\non = \"base.{edge}\"\nsize = 40\nbend = \"up\"\n\
             left = {{ back = {back:?} }}\nright = {{ back = {back:?} }}\n"
        );
    }
    text
}

fn told(notes: &blankwright::note::Notes) -> Vec<&str> {
    let about_corners = ["fab.outline", "fab.relief", "flat.open"];
    notes.all().iter().map(|f| f.check).filter(|check| about_corners.contains(check)).collect()
}

#[test]
fn rims_set_back_from_their_corners_share_a_relief() {
    for back in [0.0, 0.5, 1.0, 2.0, 3.0, 5.0, 8.0, 12.0] {
        let built = build_trial(&tray(back), &Want::Findings);
        assert!(told(&built.notes).is_empty(), "{back}: {:#?}", built.notes);
        let made = make(&tray(back)).unwrap();
        let (part, blank) = (&made.kit.parts[0], &made.blanks[0]);
        // r = 2.5 and t = 2: the zone begins 4.5 inside the mould line, and so does the rim's end.
        let rim = part.bends[0].edge[0].distance(part.bends[0].edge[1]);
        let inset = part.bends[1].child_start.x;
        assert!((rim - (400.0 - 2.0 * (inset + back))).abs() < 1e-9, "{back}: {rim}");
        assert!((blank.width - blank.height - 100.0).abs() < 1e-9);
    }
}
