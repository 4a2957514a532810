//! What it costs to squeeze a strand.
//!
//! A strand is a mass of fibre that is pressed together evenly, from its free
//! radius `r` to `r e^-u`. The pressure grows as the difference of the cubes of
//! the fibre fractions (van Wyk, *J. Text. Inst.* 37 (1946) T285), which on a
//! round section gives the work for each length of strand
//!
//! `U(u) = (π/2) κ [(e^4u - 1)/4 + (e^-2u - 1)/2]`,
//!
//! `κ = K φ0³ d² / T` with van Wyk's `K` and the free fibre fraction `φ0`. Near
//! closest packing an end stop takes over. A strand thus never swells beyond its
//! free radius, nor gives for nothing.

use super::tubes::Squeeze;

/// Stiffness of the end stop at closest packing, energy per length for a
/// squeeze of one, over the pull. Overshoots by a few thousandths (tried).
const END_STOP: f64 = 1000.0;

/// Work for each length of strand, and its first and second derivative by `u`.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Work {
    pub held: f64,
    pub slope: f64,
    pub curve: f64,
}

/// The work of a strand that is squeezed by `u`, with an end stop for this pull.
pub(super) fn work(squeeze: Squeeze, pull: f64, u: f64) -> Work {
    let (mass, stop) = (mass(squeeze, u), end_stop(squeeze, u));
    Work {
        held: mass.held + pull * stop.held,
        slope: mass.slope + pull * stop.slope,
        curve: mass.curve + pull * stop.curve,
    }
}

/// The part that the mass of fibre holds; in proportion to `κ`.
pub(super) fn mass(squeeze: Squeeze, u: f64) -> Work {
    let Squeeze::Fibre { stiffness, .. } = squeeze else {
        return Work::default();
    };
    let scale = std::f64::consts::FRAC_PI_2 * stiffness;
    let loose = (-2.0 * u).exp();
    let dense = 1.0 / (loose * loose);
    Work {
        held: scale * ((dense - 1.0) / 4.0 + (loose - 1.0) / 2.0),
        slope: scale * (dense - loose),
        curve: scale * (4.0 * dense + 2.0 * loose),
    }
}

/// The part of the end stop under a pull of one.
pub(super) fn end_stop(squeeze: Squeeze, u: f64) -> Work {
    match squeeze {
        Squeeze::Fibre { limit, .. } if u > limit => {
            let over = u - limit;
            Work {
                held: 0.5 * END_STOP * over * over,
                slope: END_STOP * over,
                curve: END_STOP,
            }
        }
        _ => Work::default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slope_and_curve_are_the_derivatives_of_the_work() {
        let squeeze = Squeeze::Fibre {
            stiffness: 0.7,
            limit: 0.2,
        };
        for u in [-0.1, 0.0, 0.15, 0.23] {
            let [less, here, more] = [-1e-5, 0.0, 1e-5].map(|by| work(squeeze, 1.3, u + by));
            assert!(
                (here.slope - (more.held - less.held) / 2e-5).abs() < 1e-6,
                "at {u}"
            );
            assert!(
                (here.curve - (more.slope - less.slope) / 2e-5).abs() < 1e-4,
                "at {u}"
            );
        }
    }

    #[test]
    fn a_free_strand_holds_no_work_and_a_hard_one_never() {
        let soft = Squeeze::Fibre {
            stiffness: 2.0,
            limit: 0.3,
        };
        let free = work(soft, 1.0, 0.0);
        assert_eq!((free.held, free.slope), (0.0, 0.0));
        assert_eq!(work(Squeeze::Hard, 1.0, 0.4).held, 0.0);
    }
}
