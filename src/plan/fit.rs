//! The bound end against the bore of an end cap.

use crate::quantity::Estimate;

/// Gap for glue between the bound end and the cap, across, mm: least and most.
///
/// Common practice, no source: under the least the glue is scraped off, over
/// the most it holds weakly.
pub const GLUE_GAP_MM: (f64, f64) = (0.1, 0.5);

/// A gap wider than this, mm, shows beside the cord. Our guess.
const LOOSE_GAP_MM: f64 = 1.0;

/// How a bound end sits in a cap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CapFit {
    /// The bound end does not go in.
    TooSmall,
    /// It goes in, but the glue is scraped off.
    Tight,
    /// Room for glue and no more.
    Fits,
    /// It goes in with more room than glue likes to bridge.
    Roomy,
    /// The cap would stand off the cord.
    Loose,
}

/// How the bound end sits in a cap of the inner diameter `cap_mm`, by the most
/// likely thickness of the bound end.
pub fn cap_fit(bound_end: Estimate, cap_mm: f64) -> CapFit {
    let gap = cap_mm - bound_end.value;
    let (least, most) = GLUE_GAP_MM;
    match gap {
        g if g < 0.0 => CapFit::TooSmall,
        g if g < least => CapFit::Tight,
        g if g <= most => CapFit::Fits,
        g if g <= LOOSE_GAP_MM => CapFit::Roomy,
        _ => CapFit::Loose,
    }
}

/// The caps of a list that fit, mm, in the order of the list.
pub fn fitting_caps(bound_end: Estimate, caps_mm: &[f64]) -> Vec<f64> {
    caps_mm
        .iter()
        .copied()
        .filter(|&cap| cap_fit(bound_end, cap) == CapFit::Fits)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cap_with_room_for_glue_fits_and_its_neighbours_do_not() {
        let bound_end = Estimate::exact(5.7);
        let fits: Vec<_> = [5.0, 5.75, 6.0, 6.5, 7.0]
            .map(|cap| cap_fit(bound_end, cap))
            .to_vec();
        assert_eq!(
            fits,
            [
                CapFit::TooSmall,
                CapFit::Tight,
                CapFit::Fits,
                CapFit::Roomy,
                CapFit::Loose
            ]
        );
        assert_eq!(fitting_caps(bound_end, &[5.0, 6.0, 6.5]), [6.0]);
    }
}
