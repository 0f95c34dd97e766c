//! Where a spec speaks of a part's sheet, for findings about sheets.

use std::ops::Range;

use crate::kit::Part;
use crate::note::Place;
use crate::sheets::Origin;
use crate::spec::{SheetChoice, SheetOf, Spec};
use crate::template::Template;

/// The origin of each part: its kit's number, and the words that chose its sheet, or the kit's
/// number again where the family chose it.
pub(super) fn origins(spec: &Spec, template: &Template, parts: &[Part]) -> Vec<Origin> {
    let place = |span: &Range<usize>| Place { file: spec.file.clone(), span: span.clone() };
    let origin = |part: &Part| {
        let chosen = sheet(&spec.sheet, template, part).unwrap_or(&spec.kit.span);
        Origin { kit: place(&spec.kit.span), sheet: place(chosen) }
    };
    parts.iter().map(origin).collect()
}

/// What the spec says of the sheet of a part: its group's thickness, or its material, or those of
/// all parts.
fn sheet<'a>(
    choice: &'a SheetChoice,
    template: &Template,
    part: &Part,
) -> Option<&'a Range<usize>> {
    let hand = part.hand.map(|hand| format!("-{}", hand.word()));
    let plain = hand.as_deref().and_then(|hand| part.name.strip_suffix(hand));
    let item = template.parts.iter().find(|item| {
        *item.name.get_ref() == part.name || Some(item.name.get_ref().as_str()) == plain
    });
    let group = item.map(|item| item.sheet.get_ref().as_str());
    let own = choice.parts.iter().find(|own| Some(own.part.value.as_str()) == group);
    let of_group = own.and_then(|SheetOf { material, thickness, .. }| {
        let thickness = thickness.as_ref().map(|said| &said.span);
        thickness.or(material.as_ref().map(|said| &said.span))
    });
    of_group
        .or(choice.thickness.as_ref().map(|said| &said.span))
        .or(choice.material.as_ref().map(|said| &said.span))
}
