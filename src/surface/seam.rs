//! Which strands lie side by side on the surface, and along what length.

use super::Surface;

/// The edges that two strands have in common, of the whole repeat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seam {
    /// The two, the smaller number first.
    pub strands: [usize; 2],
    /// Length of all of it on the girth, mm.
    pub length_mm: f64,
}

impl Surface {
    /// All seams between two strands, by the strands. What a strand has with
    /// itself is none.
    pub fn seams(&self) -> Vec<Seam> {
        let mut seams: Vec<Seam> = Vec::new();
        for float in &self.floats {
            for beside in &float.beside {
                let other = self.floats[beside.float].strand;
                // Every edge is told by both its floats.
                if float.strand >= other {
                    continue;
                }
                let strands = [float.strand, other];
                match seams.iter_mut().find(|seam| seam.strands == strands) {
                    Some(seam) => seam.length_mm += beside.length_mm,
                    None => seams.push(Seam {
                        strands,
                        length_mm: beside.length_mm,
                    }),
                }
            }
        }
        seams.sort_by_key(|seam| seam.strands);
        seams
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cord::Form;
    use std::f64::consts::TAU;

    /// A rope of `n` strands of radius 1 that touch; each comes to where the
    /// next began in a repeat of height 6.
    fn rope(n: usize) -> Form {
        let (nodes, lift) = (24, 6.0);
        let turn = TAU / n as f64;
        let off = 1.0 / (0.5 * turn).sin();
        let at = |strand: usize, node: usize| {
            let share = node as f64 / nodes as f64;
            let angle = TAU * strand as f64 / n as f64 + turn * share;
            [off * angle.cos(), off * angle.sin(), lift * share]
        };
        let strands = 0..n;
        Form {
            strands: n,
            nodes,
            continues: (0..n).collect(),
            points: strands
                .flat_map(|s| (0..nodes).map(move |k| at(s, k)))
                .collect(),
            radius: vec![1.0; n * nodes],
            wide: Vec::new(),
            lift,
            turn,
        }
    }

    #[test]
    fn each_strand_of_a_rope_has_one_seam_with_each_neighbour_as_long_as_its_helix() {
        for n in [3, 5, 8] {
            let form = rope(n);
            let surface = Surface::new(&form).expect("a surface");
            let round = surface.girth_mm * form.turn / TAU / form.lift;
            let helix = surface.repeat_mm * (1.0 + round * round).sqrt();
            let seams = surface.seams();
            assert_eq!(seams.len(), n);
            for seam in seams {
                let [one, two] = seam.strands;
                assert!(two - one == 1 || (one, two) == (0, n - 1), "{seam:?}");
                assert!(
                    (seam.length_mm / helix - 1.0).abs() < 0.01,
                    "{seam:?}, {helix}"
                );
            }
        }
    }
}
