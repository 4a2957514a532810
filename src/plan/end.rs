//! The bound end, and how each end sits in what holds it.
//!
//! There is one thickness of the bound end of a design: [`bound_end`] of its figures
//! and its binding. The cord gives the bundle of its strands, the binding what lies
//! round it.
//!
//! Letters: `D` across the bound end, `h` how thick it is pressed, `w` how wide it is
//! then. Pressed flat a bundle keeps its section and is round at both sides:
//! `π D² / 4 = π h² / 4 + h (w - h)`.

use std::f64::consts::PI;

use super::Job;
use super::fit::{CapVerdict, cap_verdict, glue_gaps, verdict};
use super::piece::{Binding, End, Round};
use crate::cord::{Figures, Section};
use crate::quantity::{Estimate, propagated};

/// What thread or seal adds against their measure, at least and at most: thread flattens
/// and crosses over itself. Our guess; of two layers of 0.1 mm it is the 0.2 to 0.6 mm of
/// common practice.
const LIES: [f64; 2] = [0.5, 1.5];
/// Room beside a cord in a crimp, mm: least and most. Common practice, no source: as wide
/// as the cord, and no more than shows.
const BESIDE_MM: [f64; 2] = [0.0, 2.0];
/// How wide a round cord lies in a crimp, over its thickness; at least as it is, at most
/// flat. Our guess.
const CRIMPED: Estimate = Estimate {
    value: 1.25,
    low: 1.0,
    high: 0.5 * PI,
};
/// Opening of a loop beyond the button, as a share of the button: least and most. Common
/// practice, no source: the loop is a tenth longer than the button is wide.
const BUTTONED: [f64; 2] = [0.05, 0.25];

/// How an end sits in what holds it.
#[derive(Debug, Clone, PartialEq)]
pub struct EndFit {
    /// How likely it fits; the gap is across the cap, or beside the cord.
    pub verdict: CapVerdict,
    /// How it comes to sit so, one sentence.
    pub how: &'static str,
}

/// Across the bound end, mm: the strands, the thread round them and the seal on it.
pub fn bound_end(figures: &Figures, binding: &Binding) -> Estimate {
    let bundle = match binding.round {
        Round::Braid => figures.bundle,
        Round::Tails => figures.bundle_of_tails,
    };
    let wound = 2.0 * f64::from(binding.layers) * binding.thread;
    let parts = [bundle, lying(wound), lying(2.0 * binding.seal)];
    propagated(&parts, |x| x.iter().sum())
}

/// A thickness that lies flatter or rougher than it measures.
fn lying(mm: f64) -> Estimate {
    let [low, high] = LIES.map(|share| share * mm);
    Estimate {
        value: mm,
        low,
        high,
    }
}

/// How an end of the piece, 0 for the one braided first, sits in what holds it; none where
/// nothing does, or no cap is chosen.
pub fn end_fit(job: &Job<'_>, at: usize) -> Option<EndFit> {
    let [end, other] = [at, 1 - at.min(1)].map(|at| job.piece.ends.get(at));
    match (*end?, *other?) {
        (End::Cap, _) => Some(in_cap(job, job.piece.cap?)),
        (End::FlatCap { width, thickness }, _) => Some(in_flat_cap(job, width, thickness)),
        (End::Crimp { width }, _) => Some(in_crimp(job, width)),
        (End::Loop { opening }, End::Button { across }) => Some(over_button(opening, across)),
        _ => None,
    }
}

/// In a round cap of this inner diameter, mm.
pub(super) fn in_cap(job: &Job<'_>, cap: f64) -> EndFit {
    let bound = bound_end(job.figures, &job.piece.binding);
    EndFit {
        verdict: cap_verdict(bound, cap, job.piece.glue_gap),
        how: "It goes in as round as it is bound.",
    }
}

/// In a square or flat cap so wide and so thick inside, mm.
pub(super) fn in_flat_cap(job: &Job<'_>, width: f64, thickness: f64) -> EndFit {
    let piece = job.piece;
    let bound = bound_end(job.figures, &piece.binding);
    let room = thickness - piece.glue_gap;
    let layer = one_layer(job);
    let gap = propagated(&[bound], |x| {
        (width - pressed(x[0], room)).min(thickness - layer)
    });
    let how = if bound.value <= room {
        "It goes in as round as it is bound."
    } else if job.figures.section == Section::Flat {
        "It is bound flat, as the cord lies."
    } else {
        "It is pressed flat before it is bound: thread laid on round keeps it round."
    };
    EndFit {
        verdict: verdict(gap, glue_gaps(piece.glue_gap)),
        how,
    }
}

/// Width of a bound end that is pressed to a thickness, if it is any thicker, mm.
fn pressed(across: f64, thickness: f64) -> f64 {
    if across <= thickness {
        return across;
    }
    let rest = 0.25 * PI * (across * across - thickness * thickness);
    thickness + rest / thickness.max(0.01)
}

/// What cannot be pressed any thinner, mm: the thickest strand as close as it packs, and
/// the thread either side of it.
fn one_layer(job: &Job<'_>) -> f64 {
    let bodies = job.strands.iter().filter_map(|s| s.body(job.fibres).ok());
    let thick = |body: crate::material::Body| {
        body.diameter * (body.packing_free / body.packing_closest).sqrt()
    };
    let binding = &job.piece.binding;
    let wound = 2.0 * f64::from(binding.layers) * binding.thread;
    bodies.map(thick).fold(0.0, f64::max) + wound
}

/// Under the jaws of a crimp so wide, mm.
pub(super) fn in_crimp(job: &Job<'_>, width: f64) -> EndFit {
    let figures = job.figures;
    let is_flat = figures.section == Section::Flat;
    let spread = if is_flat {
        Estimate::exact(1.0)
    } else {
        CRIMPED
    };
    let gap = propagated(&[figures.width_rested, spread], |x| width - x[0] * x[1]);
    EndFit {
        verdict: verdict(gap, BESIDE_MM),
        how: if is_flat {
            "The jaws close over the cord as it lies."
        } else {
            "The jaws press it flat; how wide it lies then is our guess."
        },
    }
}

/// A loop over the button at the other end.
fn over_button(opening: f64, across: f64) -> EndFit {
    let gap = Estimate::exact(opening - across);
    EndFit {
        verdict: verdict(gap, BUTTONED.map(|share| share * across)),
        how: "A loop a tenth longer than the button is wide goes over it and holds.",
    }
}

#[cfg(test)]
mod tests {
    use super::super::fit::CapFit;
    use super::super::trial::{Trial, satin};
    use super::*;

    fn bench(bundle: f64) -> Trial {
        let mut bench = Trial::of(vec![satin(); 8], 1.53);
        bench.figures.bundle = Estimate::exact(bundle);
        bench.figures.bundle_of_tails = Estimate::exact(0.8 * bundle);
        bench.piece.binding.layers = 0;
        bench
    }

    fn fit(bench: &mut Trial, end: End) -> CapVerdict {
        bench.piece.ends[1] = end;
        end_fit(&bench.job(), 1).unwrap().verdict
    }

    #[test]
    fn two_layers_of_thread_add_what_is_usual_and_tails_are_thinner() {
        let mut bench = bench(6.0);
        bench.piece.binding = Binding::default();
        let bound = bound_end(&bench.figures, &bench.piece.binding);
        for (found, wanted) in [(bound.value, 6.4), (bound.low, 6.2), (bound.high, 6.6)] {
            assert!((found - wanted).abs() < 1e-9, "{bound:?}");
        }
        bench.piece.binding.round = Round::Tails;
        let tails = bound_end(&bench.figures, &bench.piece.binding);
        assert!((tails.value - 5.2).abs() < 1e-9, "{tails:?}");
        bench.piece.binding.seal = 0.3;
        let sealed = bound_end(&bench.figures, &bench.piece.binding);
        assert!((sealed.value - 5.8).abs() < 1e-9, "{sealed:?}");
    }

    #[test]
    fn a_pressed_bundle_keeps_its_section() {
        for (across, thickness) in [(6.0_f64, 3.0_f64), (6.0, 5.9), (10.0, 2.0)] {
            let width = pressed(across, thickness);
            let area = 0.25 * PI * thickness * thickness + thickness * (width - thickness);
            assert!((area - 0.25 * PI * across * across).abs() < 1e-9);
        }
        assert_eq!(pressed(6.0, 6.0), 6.0);
        assert_eq!(pressed(6.0, 8.0), 6.0);
    }

    #[test]
    fn a_flat_cap_takes_a_round_bundle_that_is_pressed() {
        let mut bench = bench(6.0);
        let flat = |width, thickness| End::FlatCap { width, thickness };
        assert_eq!(fit(&mut bench, flat(10.4, 3.3)).fit, CapFit::Fits);
        assert_eq!(fit(&mut bench, flat(9.0, 3.3)).fit, CapFit::TooSmall);
        assert_eq!(fit(&mut bench, flat(12.0, 3.3)).fit, CapFit::Loose);
        // A square that the round just goes into, and a slit for less than one strand.
        assert_eq!(fit(&mut bench, flat(6.3, 6.3)).fit, CapFit::Fits);
        assert_eq!(fit(&mut bench, flat(60.0, 0.5)).fit, CapFit::TooSmall);
    }

    #[test]
    fn a_crimp_is_as_wide_as_a_band() {
        let mut bench = bench(6.0);
        bench.figures.section = Section::Flat;
        bench.figures.width_rested = Estimate::exact(12.0);
        let crimp = |width| End::Crimp { width };
        let found = [11.0, 12.0, 14.0, 14.3, 20.0].map(|w| fit(&mut bench, crimp(w)).fit);
        let wanted = [
            CapFit::TooSmall,
            CapFit::Fits,
            CapFit::Fits,
            CapFit::Roomy,
            CapFit::Loose,
        ];
        assert_eq!(found, wanted);
        bench.figures.section = Section::Round;
        assert_ne!(fit(&mut bench, crimp(14.0)).fit, CapFit::Fits);
    }

    #[test]
    fn a_loop_is_a_tenth_longer_than_its_button() {
        let mut bench = bench(6.0);
        bench.piece.ends[0] = End::Button { across: 20.0 };
        let mut looped = |opening| fit(&mut bench, End::Loop { opening }).fit;
        assert_eq!(looped(22.0), CapFit::Fits);
        assert_eq!(looped(20.5), CapFit::Tight);
        assert_eq!(looped(19.0), CapFit::TooSmall);
        assert_eq!(looped(40.0), CapFit::Loose);
    }

    #[test]
    fn an_end_that_nothing_holds_has_no_fit() {
        let mut bench = bench(6.0);
        bench.piece.ends = [End::Bare, End::Loop { opening: 12.0 }];
        assert_eq!(end_fit(&bench.job(), 0), None);
        assert_eq!(end_fit(&bench.job(), 1), None);
        assert_eq!(end_fit(&bench.job(), 2), None);
        bench.piece.ends[0] = End::Cap;
        assert_eq!(end_fit(&bench.job(), 0), None, "no cap is chosen");
    }
}
