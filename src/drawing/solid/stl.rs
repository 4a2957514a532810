//! Binary STL: triangles in millimetres and nothing else, not even colours.

use super::Solid;
use super::tube::cross;

/// What stands in the head of 80 bytes; it must not begin with the word of the text form.
const HEAD: &[u8] = b"plaitwright: a cord, millimetres";

impl Solid {
    /// The solid as the bytes of an `.stl` file, strand after strand.
    pub fn stl(&self) -> Vec<u8> {
        let count: usize = self.tubes.iter().map(|tube| tube.triangles().count()).sum();
        let mut file = Vec::with_capacity(84 + 50 * count);
        file.extend(HEAD);
        file.resize(80, b' ');
        file.extend((count as u32).to_le_bytes());
        for tube in &self.tubes {
            for triangle in tube.triangles() {
                let corners = tube.corners(triangle);
                let numbers = std::iter::once(facing(corners)).chain(corners);
                file.extend(numbers.flatten().flat_map(f32::to_le_bytes));
                file.extend([0, 0]);
            }
        }
        file
    }
}

/// The direction in which a triangle faces.
fn facing(corners: [[f32; 3]; 3]) -> [f32; 3] {
    let [a, b, c] = corners.map(|p| p.map(f64::from));
    let side = |p: [f64; 3]| [p[0] - a[0], p[1] - a[1], p[2] - a[2]];
    let normal = cross(side(b), side(c));
    let length = normal.iter().map(|v| v * v).sum::<f64>().sqrt();
    normal.map(|v| (v / length.max(1e-30)) as f32)
}

#[cfg(test)]
mod tests {
    use crate::drawing::cord::samples::rope;
    use crate::drawing::solid::solid;

    #[test]
    fn a_triangle_takes_fifty_bytes_and_faces_as_its_corners_go() {
        let made = solid(&rope(3, 12, 2.0), &[], 15.0).unwrap();
        let file = made.stl();
        let count: usize = made.tubes.iter().map(|tube| tube.triangles().count()).sum();
        assert_eq!(file.len(), 84 + 50 * count);
        assert_eq!(file[80..84], (count as u32).to_le_bytes());
        assert!(!file.starts_with(b"solid"));
        let number = |at: usize| f32::from_le_bytes(file[at..at + 4].try_into().unwrap());
        for triangle in 0..count {
            let at = 84 + 50 * triangle;
            let normal = [0, 4, 8].map(|k| number(at + k));
            let length = normal.iter().map(|v| v * v).sum::<f32>().sqrt();
            assert!(
                (length - 1.0).abs() < 1e-5,
                "triangle {triangle}: {normal:?}"
            );
        }
    }
}
