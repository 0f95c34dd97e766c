//! The file: its head, the products, and where each instance stands.

use super::record::{Records, Ref, Value, push_text};
use super::solid::Solids;
use crate::body::{Assembly, Shape};
use crate::geom::{PartFrame, Pose};
use crate::write::About;

/// What is nearer than this is one point, mm.
const UNCERTAINTY: &str = "1.E-6";

const SCHEMA: &str = "AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }";

/// What all products refer to.
struct Common {
    /// Units and uncertainty of all shapes.
    space: Ref,
    /// What products are.
    product: Ref,
    /// What their definitions are.
    definition: Ref,
}

/// A product with its shape.
struct Product {
    definition: Ref,
    shape: Ref,
    /// The frame of its shape.
    frame: Ref,
}

/// The kit's bodies as one file. The date comes from `about`, none from a clock.
pub fn step(assembly: &Assembly, about: &About) -> Vec<u8> {
    let mut records = Records::behind(head(about));
    let common = common(&mut records);
    let shapes = assembly.shapes.iter();
    let parts: Vec<Product> = shapes.map(|shape| part(&mut records, &common, shape)).collect();
    let kit = [assembly.number.as_str(), &assembly.title, &assembly.revision];
    let frames = places(&mut records, assembly);
    let kit = product(&mut records, &common, kit, ("SHAPE_REPRESENTATION", &frames));
    for (i, (shape, _)) in assembly.places.iter().enumerate() {
        let number = &assembly.shapes[*shape].number;
        instance(&mut records, (&kit, frames[i + 1]), (&parts[*shape], number, i + 1));
    }
    records.bytes()
}

fn head(about: &About) -> Vec<u8> {
    let program = concat!("Blankwright ", env!("CARGO_PKG_VERSION"));
    let stamp =
        if about.date.is_empty() { String::new() } else { about.date.clone() + "T00:00:00" };
    let mut head = b"ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((".to_vec();
    push_text(&mut head, &about.subject);
    head.extend(b"),'2;1');\nFILE_NAME(");
    let texts = [("", &*about.title, ","), ("", &stamp, ","), ("(", &about.author, "),")];
    let rest = [("(", &*about.author, "),"), ("", program, ","), ("", program, ",''")];
    for (before, text, after) in texts.into_iter().chain(rest) {
        head.extend(before.bytes());
        push_text(&mut head, text);
        head.extend(after.bytes());
    }
    head.extend(b");\nFILE_SCHEMA((");
    push_text(&mut head, SCHEMA);
    head.extend(b"));\nENDSEC;\nDATA;\n");
    head
}

fn common(records: &mut Records) -> Common {
    let text = Value::Text;
    let application = "core data for automotive mechanical design processes";
    let application = records.add("APPLICATION_CONTEXT", &[text(application)]);
    let of = Value::Of(application);
    let (status, year) = (text("international standard"), Value::Whole(2000));
    let protocol = [status, text("automotive_design"), year, of];
    records.add("APPLICATION_PROTOCOL_DEFINITION", &protocol);
    let of = || Value::Of(application);
    let product = records.add("PRODUCT_CONTEXT", &[text(""), of(), text("mechanical")]);
    let definition = [text("part definition"), of(), text("design")];
    let definition = records.add("PRODUCT_DEFINITION_CONTEXT", &definition);
    let length = records.add_whole("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
    let angle = records.add_whole("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
    let solid = records.add_whole("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
    let uncertainty = records.add_whole(&format!(
        "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({UNCERTAINTY}),#{length},\
         'distance_accuracy_value','nearest points')"
    ));
    let space = records.add_whole(&format!(
        "(GEOMETRIC_REPRESENTATION_CONTEXT(3)\
         GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{uncertainty}))\
         GLOBAL_UNIT_ASSIGNED_CONTEXT((#{length},#{angle},#{solid}))\
         REPRESENTATION_CONTEXT('','3D'))"
    ));
    Common { space, product, definition }
}

/// One part as a product with its solid.
fn part(records: &mut Records, common: &Common, shape: &Shape) -> Product {
    let mut solids = Solids::new(records);
    let frame = frame(&mut solids, &Pose::<PartFrame, PartFrame>::identity());
    let solid = solids.solid(&shape.number, &shape.body);
    let named = [shape.number.as_str(), &shape.title, &shape.revision];
    product(records, common, named, ("ADVANCED_BREP_SHAPE_REPRESENTATION", &[frame, solid]))
}

/// The kit's own frame, then that of each instance.
fn places(records: &mut Records, assembly: &Assembly) -> Vec<Ref> {
    let mut solids = Solids::new(records);
    let own = frame(&mut solids, &Pose::<PartFrame, PartFrame>::identity());
    let places = assembly.places.iter();
    std::iter::once(own).chain(places.map(|(_, place)| frame(&mut solids, place))).collect()
}

fn frame<A, B>(solids: &mut Solids, pose: &Pose<A, B>) -> Ref {
    solids.placement([pose.shift, pose.z_axis, pose.x_axis])
}

/// A product of a number, a title and a revision; its shape's first item is its frame.
fn product(
    records: &mut Records,
    common: &Common,
    [number, title, revision]: [&str; 3],
    (shape, items): (&str, &[Ref]),
) -> Product {
    let (text, of) = (Value::Text, Value::Of);
    let context = [common.product];
    let product = [text(number), text(number), text(title), Value::All(&context)];
    let product = [records.add("PRODUCT", &product)];
    let category = [text("part"), Value::None, Value::All(&product)];
    records.add("PRODUCT_RELATED_PRODUCT_CATEGORY", &category);
    let version = [text(revision), text(""), of(product[0])];
    let version = records.add("PRODUCT_DEFINITION_FORMATION", &version);
    let definition = [text("design"), text(""), of(version), of(common.definition)];
    let definition = records.add("PRODUCT_DEFINITION", &definition);
    let has = [text(""), text(""), of(definition)];
    let has = records.add("PRODUCT_DEFINITION_SHAPE", &has);
    let shape = records.add(shape, &[text(number), Value::All(items), of(common.space)]);
    records.add("SHAPE_DEFINITION_REPRESENTATION", &[of(has), of(shape)]);
    Product { definition, shape, frame: items[0] }
}

/// A part standing in the kit; `count` tells the instances apart.
fn instance(
    records: &mut Records,
    (kit, place): (&Product, Ref),
    (part, number, count): (&Product, &str, usize),
) {
    let (text, of) = (Value::Text, Value::Of);
    let moved = [text(""), text(""), of(part.frame), of(place)];
    let moved = records.add("ITEM_DEFINED_TRANSFORMATION", &moved);
    let (child, parent) = (part.shape, kit.shape);
    let relation = records.add_whole(&format!(
        "(REPRESENTATION_RELATIONSHIP('','',#{child},#{parent})\
         REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#{moved})\
         SHAPE_REPRESENTATION_RELATIONSHIP())"
    ));
    let count = count.to_string();
    let used = [text(&count), text(number), text(""), of(kit.definition), of(part.definition)];
    let used = used.into_iter().chain([Value::None]).collect::<Vec<_>>();
    let used = records.add("NEXT_ASSEMBLY_USAGE_OCCURRENCE", &used);
    let has = records.add("PRODUCT_DEFINITION_SHAPE", &[text(""), text(""), of(used)]);
    records.add("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION", &[of(relation), of(has)]);
}
