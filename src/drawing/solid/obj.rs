//! Wavefront OBJ with its materials beside it, as text; lengths in millimetres.
//!
//! Colours are written as they are shown (sRGB), which is what most programs take them
//! for; common practice, no source.

use std::fmt::Write;

use super::Solid;

impl Solid {
    /// The solid as the text of an `.obj` file; `materials` is the file name of
    /// [`Self::mtl`] beside it.
    pub fn obj(&self, materials: &str) -> String {
        let mut text = String::from("# millimetres\n");
        let _ = writeln!(text, "mtllib {materials}");
        let mut base = 1;
        for (i, tube) in self.tubes.iter().enumerate() {
            let _ = writeln!(
                text,
                "o {}\nusemtl {}",
                one_line(&tube.finish.name),
                self.material(i)
            );
            for [x, y, z] in &tube.points {
                let _ = writeln!(text, "v {x:.4} {y:.4} {z:.4}");
            }
            for [x, y, z] in &tube.normals {
                let _ = writeln!(text, "vn {x:.4} {y:.4} {z:.4}");
            }
            let ends = tube.points.len() as u32 - 2;
            faces(&mut text, &tube.mantle, base, |corner| corner);
            for (end, triangles) in (0..).zip(&tube.ends) {
                faces(&mut text, triangles, base, |_| ends + end);
            }
            base += tube.points.len() as u32;
        }
        text
    }

    /// The text of the materials' file.
    pub fn mtl(&self) -> String {
        let mut text = String::new();
        for (i, tube) in self.tubes.iter().enumerate() {
            let [r, g, b] = tube.finish.shown();
            let rough = tube.finish.roughness();
            // A highlight of Blinn and Phong about as wide as one of that roughness.
            let shine = (2.0 / rough.powi(4) - 2.0).clamp(1.0, 1000.0);
            let light = 0.04 + 0.4 * (1.0 - rough);
            let _ = write!(
                text,
                "newmtl {}\nKd {r:.4} {g:.4} {b:.4}\nKs {light:.4} {light:.4} {light:.4}\nNs {shine:.2}\nillum 2\n\n",
                self.material(i),
            );
        }
        text
    }

    /// A name of a material, without spaces: some programs end a name at the first.
    fn material(&self, strand: usize) -> String {
        let name = &self.tubes[strand].finish.name;
        let letter = |c: char| if c.is_alphanumeric() { c } else { '_' };
        format!(
            "{}_{}",
            strand + 1,
            name.chars().map(letter).collect::<String>()
        )
    }
}

/// Triangles whose corners take the normals that `normal` says, both counted from `base`.
fn faces(text: &mut String, triangles: &[[u32; 3]], base: u32, normal: impl Fn(u32) -> u32) {
    for triangle in triangles {
        text.push('f');
        for corner in triangle {
            let _ = write!(text, " {}//{}", corner + base, normal(*corner) + base);
        }
        text.push('\n');
    }
}

fn one_line(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use crate::drawing::cord::samples::rope;
    use crate::drawing::solid::solid;

    #[test]
    fn every_corner_and_normal_that_a_face_names_is_there() {
        let made = solid(&rope(3, 12, 2.0), &[], 15.0).unwrap();
        let text = made.obj("rope.mtl");
        let lines = |head: &str| text.lines().filter(|l| l.starts_with(head)).count();
        let points: usize = made.tubes.iter().map(|tube| tube.points.len()).sum();
        let triangles: usize = made.tubes.iter().map(|tube| tube.triangles().count()).sum();
        assert_eq!((lines("v "), lines("vn ")), (points, points));
        assert_eq!((lines("f "), lines("o ")), (triangles, 3));
        let named = text
            .lines()
            .filter_map(|line| line.strip_prefix("f "))
            .flat_map(|face| face.split([' ', '/']).filter(|n| !n.is_empty()))
            .map(|number| number.parse::<usize>().unwrap());
        let (least, most) = named.fold((usize::MAX, 0), |(a, b), n| (a.min(n), b.max(n)));
        assert_eq!((least, most), (1, points));
    }

    #[test]
    fn every_material_that_is_used_stands_in_the_file_beside() {
        let made = solid(&rope(3, 12, 2.0), &[], 15.0).unwrap();
        let (text, beside) = (made.obj("rope.mtl"), made.mtl());
        assert!(text.contains("mtllib rope.mtl\n"));
        let used: Vec<&str> = text
            .lines()
            .filter_map(|line| line.strip_prefix("usemtl "))
            .collect();
        assert_eq!(used.len(), 3);
        for name in used {
            assert!(beside.contains(&format!("newmtl {name}\n")), "{name}");
        }
    }
}
