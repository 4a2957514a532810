//! The cord cut across: its strands as discs.

use super::cord::crossings;
use crate::cord::Form;

/// A strand met by a cut across the cord.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionDisc {
    /// Strand of the design.
    pub strand: usize,
    /// Middle, from the cord's axis, mm; y away from the eye of a side view
    /// without roll.
    pub centre_mm: [f64; 2],
    /// Radius, mm.
    pub radius_mm: f64,
}

/// The strands met at `height_mm` in the cord, in the design's order.
///
/// A strand that goes up and down there is met more than once. Strands that
/// lean are cut as ellipses; the disc is their round section. Empty when the
/// form cannot be drawn.
pub fn section(form: &Form, height_mm: f64) -> Vec<SectionDisc> {
    let mut discs: Vec<SectionDisc> = crossings(form, height_mm)
        .map(|(strand, centre_mm, radius_mm)| SectionDisc {
            strand,
            centre_mm,
            radius_mm,
        })
        .collect();
    discs.sort_by_key(|d| d.strand);
    discs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::samples::rope;

    #[test]
    fn a_cut_through_a_rope_meets_every_strand_once() {
        let form = rope(5, 16, 2.0);
        let off = form.points[0][0];
        for height in [-31.0, 0.1, 4.7, 250.0] {
            let discs = section(&form, height);
            let strands: Vec<usize> = discs.iter().map(|d| d.strand).collect();
            assert_eq!(strands, [0, 1, 2, 3, 4], "at {height}");
            for d in discs {
                let [x, y] = d.centre_mm;
                assert!((x.hypot(y) - off).abs() < 0.01 * off);
                assert!((d.radius_mm - 1.0).abs() < 1e-5);
            }
        }
    }

    #[test]
    fn a_strand_stays_beside_its_neighbours_from_repeat_to_repeat() {
        let form = rope(4, 16, 1.0);
        let angle = |h: f64| {
            let [x, y] = section(&form, h)[2].centre_mm;
            y.atan2(x)
        };
        // Just under and over the end of a repeat.
        let turn = angle(form.lift + 1e-3) - angle(form.lift - 1e-3);
        assert!(turn.abs() < 0.02, "{turn}");
    }

    #[test]
    fn a_form_that_is_no_cord_has_no_section() {
        let mut form = rope(3, 8, 1.0);
        form.radius.fill(f64::NAN);
        assert!(section(&form, 1.0).is_empty());
        assert!(section(&rope(3, 8, 1.0), f64::NAN).is_empty());
    }
}
