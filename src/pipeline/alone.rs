//! Drawings of a part that kits of a catalogue share: of the part alone, whichever kit it was
//! worked out for.

use super::build::Worked;
use super::catalogue::Series;
use super::files::about;
use crate::draw::{self, PartViews};
use crate::kit::{Kit, Part, Revision};
use crate::mate;
use crate::spec::{Spec, Units};
use crate::write::{self, PdfPages};

/// A part of a kit on its own, in the words of the catalogue.
pub(super) struct Alone<'a> {
    worked: &'a Worked,
    index: usize,
    kit: Kit,
}

impl<'a> Alone<'a> {
    pub(super) fn of(worked: &'a Worked, index: usize, series: &Series) -> Self {
        let part = Part {
            places: Vec::new(),
            remarks: mate::sink_remarks(&worked.kit.parts[index]),
            relations: Vec::new(),
            ..worked.kit.parts[index].clone()
        };
        let top = series.top.as_ref();
        let text = |say: fn(&Spec) -> &str| top.map_or_else(String::new, |top| say(top).to_owned());
        let revisions = top.map_or_else(Vec::new, |top| top.revisions.clone());
        let revisions = revisions.into_iter().map(|line| Revision {
            index: line.index.value,
            date: line.date.value,
            text: line.text.value,
        });
        let kit = Kit {
            number: series.catalogue.clone(),
            title: text(|top| &top.title.value),
            revision: text(|top| &top.revision.value),
            date: text(|top| &top.date.value),
            drawn_by: text(|top| &top.drawn_by.value),
            approved_by: text(|top| &top.approved_by.value),
            site: text(|top| &top.site.value),
            inches: top.is_some_and(|top| top.units == Units::Inch),
            parts: vec![part],
            notes: notes(&series.catalogue),
            cautions: vec![CAUTION.to_owned()],
            revisions: revisions.collect(),
            neighbours: Vec::new(),
            shared: true,
            ..worked.kit.clone()
        };
        Self { worked, index, kit }
    }

    fn views(&self) -> Vec<PartViews<'_>> {
        let (at, end) = (self.index, self.index + 1);
        let views = PartViews::of_all(&self.kit.parts, &self.worked.folded[at..end]);
        PartViews::ordered(views, &self.worked.bending[at..end])
    }

    pub(super) fn svg(&self) -> Vec<u8> {
        let views = self.views();
        let sheet = views
            .first()
            .map(|views| draw::preview(&self.kit, views, &self.worked.blanks[self.index]));
        sheet.map_or_else(Vec::new, |sheet| write::svg(&sheet))
    }

    pub(super) fn pdf(&self) -> Vec<u8> {
        let views = self.views();
        let Some(views) = views.first() else { return Vec::new() };
        let sheets = draw::shop_drawing(&self.kit, views, &self.worked.blanks[self.index]);
        let part = &self.kit.parts[0];
        let about = about(&self.kit, format!("{} {}", part.number, part.title));
        PdfPages::of(sheets.iter()).document(0..sheets.len(), &about)
    }
}

/// What the drawing of a shared part says in the place of its kit's notes. Which kits it serves
/// would change with every kit that is added, and the drawing with it: that stands in the tables.
fn notes(catalogue: &str) -> Vec<String> {
    vec![
        format!(
            "Shared part of catalogue {catalogue}: commonality.html shows which kits it serves, \
             uses.csv how many each has."
        ),
        "What it touches and how it is fastened stands in the drawings and kit.json of each kit."
            .to_owned(),
        "Dimensions are outside sizes to the virtual sharp corner; past 90° to the tangent. Deburr \
         all edges."
            .to_owned(),
    ]
}

const CAUTION: &str = "Cut edges are sharp: gloves.";
