//! glTF 2.0 in one binary file.
//!
//! glTF counts in metres; points are written in millimetres, and the root node scales
//! them. Corners of the ends are written twice, once smooth and once flat.
//!
//! # Source
//!
//! ISO/IEC 12113:2022, the glTF 2.0 specification.

use serde_json::{Value, json};

use super::{Solid, Tube};

/// `glTF`, `JSON` and `BIN` with a nought as little-endian numbers.
const MAGIC: u32 = 0x4654_6C67;
const JSON: u32 = 0x4E4F_534A;
const BIN: u32 = 0x004E_4942;

/// What a buffer view holds: vertices, and the numbers of vertices.
const VERTICES: u32 = 34_962;
const INDICES: u32 = 34_963;

/// Kinds of number: single precision, unsigned of 32 bits.
const FLOAT: u32 = 5126;
const UNSIGNED: u32 = 5125;

impl Solid {
    /// The solid as the bytes of a `.glb` file; `title` names the scene.
    ///
    /// A material, a mesh and a node for each strand, all of its name.
    pub fn glb(&self, title: &str) -> Vec<u8> {
        let mut store = Store::default();
        let meshes: Vec<Value> = self
            .tubes
            .iter()
            .enumerate()
            .map(|(i, tube)| store.mesh(i, tube))
            .collect();
        let document = json!({
            "asset": {
                "version": "2.0",
                "generator": concat!("plaitwright ", env!("CARGO_PKG_VERSION")),
            },
            "scene": 0,
            "scenes": [{"name": title, "nodes": [0]}],
            "nodes": self.nodes(),
            "meshes": meshes,
            "materials": self.tubes.iter().map(material).collect::<Vec<_>>(),
            "accessors": store.accessors,
            "bufferViews": store.views,
            "buffers": [{"byteLength": store.bytes.len()}],
        });
        bound(document.to_string().into_bytes(), store.bytes)
    }

    /// The root, which turns millimetres into metres, and a node for each strand.
    fn nodes(&self) -> Vec<Value> {
        let children: Vec<usize> = (1..=self.tubes.len()).collect();
        let root = json!({
            "name": format!("cord, {:.1} mm", self.length_mm),
            "scale": [0.001, 0.001, 0.001],
            "children": children,
        });
        let strand = |(i, tube): (usize, &Tube)| json!({"name": tube.finish.name, "mesh": i});
        let strands = self.tubes.iter().enumerate().map(strand);
        std::iter::once(root).chain(strands).collect()
    }
}

fn material(tube: &Tube) -> Value {
    let finish = &tube.finish;
    let [r, g, b] = finish.light;
    json!({
        "name": finish.name,
        "pbrMetallicRoughness": {
            "baseColorFactor": [r, g, b, 1.0],
            "metallicFactor": finish.metal,
            "roughnessFactor": finish.roughness(),
        },
    })
}

/// Header and both chunks, each filled up to whole words.
fn bound(mut text: Vec<u8>, mut bytes: Vec<u8>) -> Vec<u8> {
    text.resize(text.len().next_multiple_of(4), b' ');
    bytes.resize(bytes.len().next_multiple_of(4), 0);
    let whole = 12 + 8 + text.len() + 8 + bytes.len();
    let mut file = Vec::with_capacity(whole);
    let words = [MAGIC, 2, whole as u32, text.len() as u32, JSON];
    file.extend(words.iter().flat_map(|word| word.to_le_bytes()));
    file.extend(text);
    let words = [bytes.len() as u32, BIN];
    file.extend(words.iter().flat_map(|word| word.to_le_bytes()));
    file.extend(bytes);
    file
}

/// The buffer with its views and what they mean.
#[derive(Default)]
struct Store {
    bytes: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
}

impl Store {
    fn mesh(&mut self, material: usize, tube: &Tube) -> Value {
        let flat = Shaded::new(tube);
        let (low, high) = bounds(&flat.points);
        let count = flat.points.len();
        let at = self.view(
            VERTICES,
            flat.points.iter().flatten().map(|v| v.to_le_bytes()),
        );
        let points = self.accessor(json!({
            "bufferView": at, "componentType": FLOAT, "count": count, "type": "VEC3",
            "min": low, "max": high,
        }));
        let at = self.view(
            VERTICES,
            flat.normals.iter().flatten().map(|v| v.to_le_bytes()),
        );
        let normals = self.accessor(json!({
            "bufferView": at, "componentType": FLOAT, "count": count, "type": "VEC3",
        }));
        let corners = flat.triangles.iter().flatten();
        let at = self.view(INDICES, corners.map(|v| v.to_le_bytes()));
        let indices = self.accessor(json!({
            "bufferView": at, "componentType": UNSIGNED,
            "count": 3 * flat.triangles.len(), "type": "SCALAR",
        }));
        json!({
            "name": tube.finish.name,
            "primitives": [{
                "attributes": {"POSITION": points, "NORMAL": normals},
                "indices": indices,
                "material": material,
            }],
        })
    }

    fn view(&mut self, target: u32, words: impl Iterator<Item = [u8; 4]>) -> usize {
        let begin = self.bytes.len();
        self.bytes.extend(words.flatten());
        self.views.push(json!({
            "buffer": 0, "byteOffset": begin,
            "byteLength": self.bytes.len() - begin, "target": target,
        }));
        self.views.len() - 1
    }

    fn accessor(&mut self, accessor: Value) -> usize {
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }
}

/// A tube whose ends have corners of their own, so that they are shaded flat.
struct Shaded {
    points: Vec<[f32; 3]>,
    normals: Vec<[f32; 3]>,
    triangles: Vec<[u32; 3]>,
}

impl Shaded {
    fn new(tube: &Tube) -> Self {
        let rings = tube.points.len() - 2;
        let mut shaded = Self {
            points: tube.points[..rings].to_vec(),
            normals: tube.normals[..rings].to_vec(),
            triangles: tube.mantle.clone(),
        };
        for (end, triangles) in tube.ends.iter().enumerate() {
            let normal = tube.normals[rings + end];
            let middle = shaded.points.len() as u32;
            shaded.points.push(tube.points[rings + end]);
            // The corners of an end follow one another round it.
            let sides = triangles.len() as u32;
            for triangle in triangles {
                shaded.points.push(tube.points[triangle[1] as usize]);
            }
            shaded.normals.resize(shaded.points.len(), normal);
            let next = |i: u32| middle + 1 + (i + 1) % sides;
            let way = |i: u32| follows(triangles, i as usize);
            shaded.triangles.extend((0..sides).map(|i| {
                if way(i) {
                    [middle, middle + 1 + i, next(i)]
                } else {
                    [middle, middle + 1 + i, middle + 1 + (i + sides - 1) % sides]
                }
            }));
        }
        shaded
    }
}

/// Whether a triangle of an end goes on to the first corner of the next one.
fn follows(triangles: &[[u32; 3]], i: usize) -> bool {
    triangles[i][2] == triangles[(i + 1) % triangles.len()][1]
}

/// Least and greatest place in each direction, exactly as written.
fn bounds(points: &[[f32; 3]]) -> ([f64; 3], [f64; 3]) {
    let fold = |by: fn(f32, f32) -> f32, from: f32| {
        [0, 1, 2].map(|k| f64::from(points.iter().map(|p| p[k]).fold(from, by)))
    };
    (fold(f32::min, f32::MAX), fold(f32::max, f32::MIN))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;
    use crate::drawing::solid::solid;

    fn word(bytes: &[u8], at: usize) -> u32 {
        u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap())
    }

    fn parts(file: &[u8]) -> (Value, &[u8]) {
        let text = word(file, 12) as usize;
        let document = serde_json::from_slice(&file[20..20 + text]).unwrap();
        (document, &file[28 + text..])
    }

    #[test]
    fn header_and_chunks_are_laid_out_as_the_standard_says() {
        let file = solid(&rope(3, 12, 2.0), &[], 20.0).unwrap().glb("a rope");
        assert_eq!(&file[..4], b"glTF");
        assert_eq!(word(&file, 4), 2);
        assert_eq!(word(&file, 8) as usize, file.len());
        let text = word(&file, 12) as usize;
        assert_eq!((&file[16..20], text % 4), (&b"JSON"[..], 0));
        assert_eq!(&file[24 + text..28 + text], b"BIN\0");
        assert_eq!(word(&file, 20 + text) as usize, file.len() - 28 - text);
        let (document, bytes) = parts(&file);
        assert_eq!(document["buffers"][0]["byteLength"], bytes.len());
        assert_eq!(document["scenes"][0]["name"], "a rope");
        assert_eq!(document["nodes"][0]["scale"][2], 0.001);
    }

    #[test]
    fn each_strand_has_a_mesh_and_a_material_and_reads_back_closed() {
        let made = solid(&rope(4, 12, 2.0), &[], 30.0).unwrap();
        let file = made.glb("a rope");
        let (document, bytes) = parts(&file);
        for name in ["meshes", "materials"] {
            assert_eq!(document[name].as_array().unwrap().len(), 4);
        }
        let view = |accessor: &Value| {
            let view = &document["bufferViews"][accessor["bufferView"].as_u64().unwrap() as usize];
            let at = view["byteOffset"].as_u64().unwrap() as usize;
            &bytes[at..at + view["byteLength"].as_u64().unwrap() as usize]
        };
        let part = &document["meshes"][2]["primitives"][0];
        let read = |key: &Value| view(&document["accessors"][key.as_u64().unwrap() as usize]);
        let corners = read(&part["indices"]);
        let points = read(&part["attributes"]["POSITION"]);
        assert_eq!(points.len(), read(&part["attributes"]["NORMAL"]).len());
        let point = |i: u32| &points[12 * i as usize..][..12];
        // Edges by place, since the ends have corners of their own.
        let mut edges = Vec::new();
        for triangle in corners.chunks(12) {
            let [a, b, c] = [0, 4, 8].map(|at| point(word(triangle, at)));
            edges.extend([(a, b), (b, c), (c, a)]);
        }
        edges.sort_unstable();
        assert!(edges.windows(2).all(|pair| pair[0] != pair[1]));
        assert!(
            edges
                .iter()
                .all(|(a, b)| edges.binary_search(&(b, a)).is_ok())
        );
    }
}
