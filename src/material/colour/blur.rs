//! How the eye runs narrow stripes of two colours together.
//!
//! Stripes as wide as a thread, of two colours in turn, are softened as the
//! eye softens them: lightness least, red to green more, blue to yellow most.
//! What is left in the middle of a stripe is compared. On a cord a thread has
//! other colours on either side like that at worst.
//!
//! # Source
//!
//! The spatial filters of S-CIELAB: Zhang & Wandell, A spatial extension of
//! CIELAB for digital color-image reproduction, Journal of the SID 5 (1997)
//! 61–63, after Poirson & Wandell, Journal of the Optical Society of America
//! A 10 (1993) 2458–2470; widths and weights as in the authors' own program.
//! It raises the contrast of broad stripes by up to a tenth; here that is cut
//! off at what large patches have, our choice.

use super::Lab;
use super::lab::xyz;
use super::matrix::{Matrix, inverse, times};

/// Tristimulus values to lightness, red to green and blue to yellow.
const OPPONENT: Matrix = [
    [0.278_733_6, 0.721_803_1, -0.106_552_0],
    [-0.448_773_6, 0.289_805_6, 0.077_156_9],
    [0.085_951_3, -0.589_985_9, 0.501_108_9],
];
const XYZ_OF_OPPONENT: Matrix = inverse(&OPPONENT);

/// Bells that soften each: width at half height in degrees, weight.
const BELLS: [&[(f64, f64)]; 3] = [
    &[(0.05, 1.003_27), (0.225, 0.114_416), (7.0, -0.117_686)],
    &[(0.0685, 0.616_725), (0.826, 0.383_275)],
    &[(0.092, 0.567_885), (0.6451, 0.432_115)],
];

/// Stripes wider than this, arc minutes, are as good as this wide.
const WIDE: f64 = 600.0;

/// What is left of the difference between stripes of one width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Left([f64; 3]);

impl Left {
    /// For stripes of a width in arc minutes.
    pub(super) fn of(width: f64) -> Self {
        let width = width.clamp(0.0, WIDE) / 60.0;
        Self(BELLS.map(|bells| {
            let left = bells
                .iter()
                .map(|&(wide, weight)| weight * middle(width, wide));
            left.sum::<f64>().clamp(0.0, 1.0)
        }))
    }

    /// Two colours, given as light, as they look in such stripes.
    pub(super) fn seen(self, lights: [[f64; 3]; 2]) -> [Lab; 2] {
        let [one, two] = lights.map(|light| times(&OPPONENT, xyz(light)));
        let towards = |one: [f64; 3], two: [f64; 3]| {
            let mut seen = [0.0; 3];
            for k in 0..3 {
                seen[k] = 0.5 * (one[k] + two[k]) + 0.5 * self.0[k] * (one[k] - two[k]);
            }
            Lab::from_xyz(times(&XYZ_OF_OPPONENT, seen).map(|value| value.max(0.0)))
        };
        [towards(one, two), towards(two, one)]
    }
}

/// Stripes of 1 and −1, as wide as `width`, softened by a bell `wide` across at
/// half height (both degrees): what is left in the middle of a stripe.
///
/// The sum over the waves that make up the stripes; each is lowered by the
/// bell's transform.
fn middle(width: f64, wide: f64) -> f64 {
    use std::f64::consts::{LN_2, PI};
    if width <= 0.0 {
        return 0.0;
    }
    // Of the wave that is as long as two stripes.
    let lowered = (PI * wide / (4.0 * width)).powi(2) / LN_2;
    let mut left = 0.0;
    for wave in (1..4001).step_by(2) {
        let fall = lowered * f64::from(wave * wave);
        if fall > 40.0 {
            break;
        }
        let sign = if wave % 4 == 1 { 1.0 } else { -1.0 };
        left += sign * 4.0 / (PI * f64::from(wave)) * (-fall).exp();
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Colour;

    /// The same by adding up the bell over the stripes.
    fn added_up(width: f64, wide: f64) -> f64 {
        let spread = wide / (8.0 * std::f64::consts::LN_2).sqrt();
        let (mut sum, mut whole) = (0.0, 0.0);
        for i in -200_000..=200_000 {
            let x = 8.0 * spread * f64::from(i) / 200_000.0;
            let bell = (-0.5 * (x / spread).powi(2)).exp();
            let stripe = (x / width + 0.5).floor() as i64;
            sum += if stripe % 2 == 0 { bell } else { -bell };
            whole += bell;
        }
        sum / whole
    }

    #[test]
    fn the_sum_of_waves_is_the_bell_added_up_over_the_stripes() {
        for (width, wide) in [
            (0.02, 0.05),
            (0.05, 0.05),
            (0.19, 0.0685),
            (0.19, 0.6451),
            (1.0, 0.826),
        ] {
            let (waves, adding) = (middle(width, wide), added_up(width, wide));
            assert!(
                (waves - adding).abs() < 1e-4,
                "{width} {wide}: {waves}, {adding}"
            );
        }
    }

    #[test]
    fn wide_stripes_look_as_they_are_and_the_finest_all_alike() {
        let pair = [Colour([190, 40, 40]), Colour([30, 120, 90])];
        let lights = pair.map(Colour::linear);
        let seen = Left::of(WIDE).seen(lights);
        let large = pair[0].difference(pair[1]);
        assert!(
            (seen[0].difference(seen[1]) - large).abs() < 1.5,
            "{seen:?}"
        );
        let fine = Left::of(0.5).seen(lights);
        assert!(fine[0].difference(fine[1]) < 0.1, "{fine:?}");
    }

    #[test]
    fn the_finer_the_stripes_the_less_is_left() {
        let mut last = Left::of(0.25).0;
        for width in [0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0] {
            let left = Left::of(width).0;
            for k in 0..3 {
                assert!(left[k] >= last[k] - 1e-9, "{width}: {left:?}, {last:?}");
            }
            assert!(left[0] >= left[1].max(left[2]), "{width}: {left:?}");
            last = left;
        }
    }
}
