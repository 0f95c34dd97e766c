//! The kit in three dimensions as binary glTF 2.0 (ISO/IEC 12113): metres, y up, as that format
//! asks. One mesh a part, in millimetres of the part's own frame; the root node turns and scales.

use serde_json::{Value, json};

use crate::mesh::{Assembly, Mesh};

/// "glTF", little-endian.
const MAGIC: u32 = 0x4654_6C67;
/// The chunk of text.
const JSON: u32 = 0x4E4F_534A;
/// The chunk of numbers.
const BIN: u32 = 0x004E_4942;

/// What the format calls its numbers.
const FLOAT: u32 = 5126;
const UNSIGNED_SHORT: u32 = 5123;
const UNSIGNED_INT: u32 = 5125;
const VERTICES: u32 = 34962;
const INDICES: u32 = 34963;
const LINES: u32 = 1;
const TRIANGLES: u32 = 4;

/// Site frame in mm (z up) to metres with y up: x stays, y goes to -z, z to y; by columns.
const ROOT: [f64; 16] =
    [1e-3, 0.0, 0.0, 0.0, 0.0, 0.0, -1e-3, 0.0, 0.0, 1e-3, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0];

/// The whole kit as one file; parts are nodes named by number, with number, title and step of the
/// work on site (from 1) as extras.
pub fn glb(kit: &str, assembly: &Assembly) -> Vec<u8> {
    let mut file = File::default();
    let steel = file.material("steel", [0.62, 0.66, 0.70, 1.0]);
    let line = file.material("edge", [0.10, 0.12, 0.14, 1.0]);
    let shapes: Vec<usize> = assembly
        .shapes
        .iter()
        .map(|shape| file.mesh(&shape.number, &shape.mesh, [steel, line]))
        .collect();
    let mut children: Vec<Value> = Vec::new();
    for instance in &assembly.instances {
        let shape = &assembly.shapes[instance.shape];
        let extras = json!({
            "number": shape.number, "title": shape.title, "step": instance.step
        });
        let [x, y, z] = instance.place.rows();
        let matrix: Vec<f64> =
            (0..4).flat_map(|c| [x[c], y[c], z[c], f64::from(u8::from(c == 3))]).collect();
        let node = json!({
            "name": shape.number, "mesh": shapes[instance.shape], "matrix": matrix,
            "extras": extras
        });
        children.push(file.node(node));
    }
    if !assembly.container.triangles.is_empty() {
        let ghost = file.material("container", [0.55, 0.60, 0.62, 0.25]);
        let mesh = file.mesh("container", &assembly.container, [ghost, line]);
        children.push(file.node(json!({ "name": "container", "mesh": mesh })));
    }
    let root = file.node(json!({ "name": kit, "matrix": ROOT, "children": children }));
    file.bytes(&root)
}

/// The file as it grows.
#[derive(Default)]
struct File {
    bin: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
    materials: Vec<Value>,
    meshes: Vec<Value>,
    nodes: Vec<Value>,
}

impl File {
    fn material(&mut self, name: &str, colour: [f64; 4]) -> usize {
        let surface =
            json!({ "baseColorFactor": colour, "metallicFactor": 0.0, "roughnessFactor": 0.7 });
        let mut material = json!({ "name": name, "pbrMetallicRoughness": surface });
        if colour[3] < 1.0 {
            material["alphaMode"] = json!("BLEND");
        }
        self.materials.push(material);
        self.materials.len() - 1
    }

    fn node(&mut self, node: Value) -> Value {
        self.nodes.push(node);
        json!(self.nodes.len() - 1)
    }

    /// Adds a mesh of triangles and lines; the materials are those of surface and edges.
    fn mesh(&mut self, name: &str, mesh: &Mesh, materials: [usize; 2]) -> usize {
        let corners = self.vectors(mesh.corners.iter());
        let normals = self.vectors(mesh.normals.iter());
        let triangles = self.indices(mesh.triangles.iter().flatten(), mesh.corners.len());
        let mut parts = vec![json!({
            "attributes": { "POSITION": corners, "NORMAL": normals },
            "indices": triangles, "material": materials[0], "mode": TRIANGLES
        })];
        if !mesh.edges.is_empty() {
            let ends = self.indices(mesh.edges.iter().flatten(), mesh.corners.len());
            parts.push(json!({
                "attributes": { "POSITION": corners }, "indices": ends,
                "material": materials[1], "mode": LINES
            }));
        }
        self.meshes.push(json!({ "name": name, "primitives": parts }));
        self.meshes.len() - 1
    }

    fn vectors<'a>(&mut self, vectors: impl Iterator<Item = &'a [f64; 3]>) -> usize {
        let start = self.bin.len();
        let (mut low, mut high) = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
        let mut count = 0;
        for vector in vectors {
            for (axis, value) in vector.iter().enumerate() {
                let value = *value as f32;
                low[axis] = low[axis].min(value);
                high[axis] = high[axis].max(value);
                self.bin.extend(value.to_le_bytes());
            }
            count += 1;
        }
        let view = self.view(start, VERTICES);
        self.accessors.push(json!({
            "bufferView": view, "componentType": FLOAT, "count": count, "type": "VEC3",
            "min": low, "max": high
        }));
        self.accessors.len() - 1
    }

    /// Indices into `corners` corners, each in two bytes where that is enough.
    fn indices<'a>(&mut self, indices: impl Iterator<Item = &'a u32>, corners: usize) -> usize {
        let start = self.bin.len();
        let short = corners < usize::from(u16::MAX);
        let mut count = 0;
        for index in indices {
            let bytes = index.to_le_bytes();
            self.bin.extend(if short { &bytes[..2] } else { &bytes[..] });
            count += 1;
        }
        let view = self.view(start, INDICES);
        self.bin.resize(self.bin.len().next_multiple_of(4), 0);
        let kind = if short { UNSIGNED_SHORT } else { UNSIGNED_INT };
        self.accessors.push(json!({
            "bufferView": view, "componentType": kind, "count": count, "type": "SCALAR"
        }));
        self.accessors.len() - 1
    }

    fn view(&mut self, start: usize, target: u32) -> usize {
        let length = self.bin.len() - start;
        self.views.push(json!({
            "buffer": 0, "byteOffset": start, "byteLength": length, "target": target
        }));
        self.views.len() - 1
    }

    fn bytes(&self, root: &Value) -> Vec<u8> {
        let generator = concat!("Blankwright ", env!("CARGO_PKG_VERSION"));
        let document = json!({
            "asset": { "version": "2.0", "generator": generator },
            "scene": 0,
            "scenes": [{ "nodes": [root] }],
            "nodes": self.nodes,
            "meshes": self.meshes,
            "materials": self.materials,
            "accessors": self.accessors,
            "bufferViews": self.views,
            "buffers": [{ "byteLength": self.bin.len() }]
        });
        let mut text = document.to_string().into_bytes();
        text.resize(text.len().next_multiple_of(4), b' ');
        let total = 12 + 8 + text.len() + 8 + self.bin.len();
        let mut bytes = Vec::with_capacity(total);
        let words =
            |words: &[u32]| words.iter().flat_map(|word| word.to_le_bytes()).collect::<Vec<u8>>();
        bytes.extend(words(&[MAGIC, 2, total as u32, text.len() as u32, JSON]));
        bytes.extend(&text);
        bytes.extend(words(&[self.bin.len() as u32, BIN]));
        bytes.extend(&self.bin);
        bytes
    }
}
