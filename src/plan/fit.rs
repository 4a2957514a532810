//! The bound end against the bore of an end cap, by its spread.
//!
//! A cap fits for sure only where the whole spread of the bound end leaves room for
//! the glue and no more; else there is a chance that it does, and that is told.

use crate::quantity::{Estimate, propagated};

/// How far the gap for glue may be from the one wished for, mm, either way. Common
/// practice, no source: 0.1 to 0.5 mm round 0.3.
const GAP_LEEWAY_MM: f64 = 0.2;
/// Least gap for glue that there is, mm: under it the glue is scraped off. Common
/// practice, no source.
const LEAST_GAP_MM: f64 = 0.1;
/// What the gap may grow beyond the most for glue before it shows beside the cord, mm.
/// Our guess.
const SHOWS_MM: f64 = 0.5;
/// Chance from which an end may fit. Our choice.
const MAY: f64 = 0.2;

/// How a bound end sits in a cap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CapFit {
    /// The bound end does not go in.
    TooSmall,
    /// It goes in, but the glue is scraped off.
    Tight,
    /// A part of the spread fits.
    MayFit,
    /// Room for glue and no more, by the whole spread.
    Fits,
    /// It goes in with more room than glue likes to bridge.
    Roomy,
    /// The cap would stand off the cord.
    Loose,
}

impl CapFit {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::TooSmall => "too small",
            Self::Tight => "too tight",
            Self::MayFit => "may fit",
            Self::Fits => "fits",
            Self::Roomy => "roomy",
            Self::Loose => "loose",
        }
    }
}

/// A bound end and a cap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CapVerdict {
    /// How it sits.
    pub fit: CapFit,
    /// Gap across between both, mm; below nought the end is thicker.
    pub gap: Estimate,
    /// How likely the gap is right for glue, 0 to 1.
    pub fits: f64,
    /// How likely it is too narrow, 0 to 1.
    pub too_tight: f64,
    /// How likely it is too wide, 0 to 1.
    pub too_wide: f64,
}

/// Gaps across that are right for glue, mm, least and most, where `wished` is best.
pub fn glue_gaps(wished: f64) -> [f64; 2] {
    let least = (wished - GAP_LEEWAY_MM).max(LEAST_GAP_MM.min(wished));
    [least, wished + GAP_LEEWAY_MM]
}

/// How a bound end sits in a cap of the inner diameter `cap`, mm, where a gap of
/// `glue_gap` is wished for.
pub fn cap_verdict(bound_end: Estimate, cap: f64, glue_gap: f64) -> CapVerdict {
    let gap = propagated(&[bound_end], |x| cap - x[0]);
    verdict(gap, glue_gaps(glue_gap))
}

/// What a gap means for which `least` to `most` would be right.
pub(super) fn verdict(gap: Estimate, [least, most]: [f64; 2]) -> CapVerdict {
    let too_tight = gap.below(least);
    let too_wide = 1.0 - gap.below(most);
    let fits = (1.0 - too_tight - too_wide).max(0.0);
    CapVerdict {
        fit: fit(gap, [least, most], fits),
        gap,
        fits,
        too_tight,
        too_wide,
    }
}

fn fit(gap: Estimate, [least, most]: [f64; 2], fits: f64) -> CapFit {
    let whole = least <= gap.low && gap.high <= most;
    match gap.value {
        _ if whole => CapFit::Fits,
        _ if fits >= MAY => CapFit::MayFit,
        g if g < 0.0 => CapFit::TooSmall,
        g if g < least => CapFit::Tight,
        g if g <= most => CapFit::MayFit,
        g if g <= most + SHOWS_MM => CapFit::Roomy,
        _ => CapFit::Loose,
    }
}

/// The caps of a list that may fit, mm, with how likely they do, likeliest first.
pub fn fitting_caps(bound_end: Estimate, caps: &[f64], glue_gap: f64) -> Vec<(f64, CapVerdict)> {
    let of = |&cap: &f64| (cap, cap_verdict(bound_end, cap, glue_gap));
    let mut fitting: Vec<_> = caps
        .iter()
        .map(of)
        .filter(|(_, verdict)| matches!(verdict.fit, CapFit::Fits | CapFit::MayFit))
        .collect();
    fitting.sort_by(|a, b| b.1.fits.total_cmp(&a.1.fits));
    fitting
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spread(low: f64, value: f64, high: f64) -> Estimate {
        Estimate { value, low, high }
    }

    fn fits(bound_end: Estimate, caps: &[f64]) -> Vec<CapFit> {
        let fit = |&cap: &f64| cap_verdict(bound_end, cap, 0.3).fit;
        caps.iter().map(fit).collect()
    }

    #[test]
    fn a_cap_with_room_for_glue_fits_and_its_neighbours_do_not() {
        let found = fits(Estimate::exact(5.7), &[5.0, 5.75, 6.0, 6.5, 7.0]);
        assert_eq!(
            found,
            [
                CapFit::TooSmall,
                CapFit::Tight,
                CapFit::Fits,
                CapFit::Roomy,
                CapFit::Loose
            ]
        );
    }

    #[test]
    fn only_a_whole_spread_that_fits_is_called_a_fit() {
        assert_eq!(fits(spread(5.55, 5.7, 5.85), &[6.0]), [CapFit::Fits]);
        let wide = spread(5.4, 5.7, 6.0);
        assert_eq!(fits(wide, &[6.0]), [CapFit::MayFit]);
        let verdict = cap_verdict(wide, 6.0, 0.3);
        // 0.2 either side of a spread of 0.3: 1.306 standard deviations, 0.8085 of all.
        assert!((verdict.fits - 0.8085).abs() < 1e-3, "{verdict:?}");
        assert!((verdict.too_tight - verdict.too_wide).abs() < 1e-6);
    }

    #[test]
    fn a_spread_to_the_thick_side_is_rather_too_tight_than_too_wide() {
        let verdict = cap_verdict(spread(5.6, 5.7, 6.3), 6.0, 0.3);
        assert!(
            verdict.too_tight > 0.2 && verdict.too_wide < 0.001,
            "{verdict:?}"
        );
        let sum = verdict.fits + verdict.too_tight + verdict.too_wide;
        assert!((sum - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_likeliest_cap_comes_first() {
        let caps = [5.0, 5.5, 6.0, 6.5];
        let found = fitting_caps(spread(5.3, 5.6, 6.0), &caps, 0.3);
        assert_eq!(found[0].0, 6.0);
        assert!(
            found
                .windows(2)
                .all(|pair| pair[0].1.fits >= pair[1].1.fits)
        );
    }

    #[test]
    fn a_thinner_bed_of_glue_wants_a_tighter_cap() {
        assert_eq!(
            glue_gaps(0.3).map(|gap| (gap * 1e6).round() / 1e6),
            [0.1, 0.5]
        );
        assert_eq!(glue_gaps(0.0), [0.0, 0.2]);
        assert_eq!(glue_gaps(0.05)[0], 0.05);
    }
}
