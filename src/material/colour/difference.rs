//! How far two colours lie apart to the eye: CIEDE2000.
//!
//! L, C and h are lightness, chroma and hue; a dash is CIEDE2000's own a and
//! what follows from it. All three weights are 1.
//!
//! # Source
//!
//! Sharma, Wu & Dalal, The CIEDE2000 color-difference formula: implementation
//! notes, supplementary test data, and mathematical observations, Color
//! Research & Application 30 (2005) 21–30, equations 2 to 22.

use super::{Colour, Lab};

impl Colour {
    /// How far two colours lie apart to the eye, [`Lab::difference`].
    pub fn difference(self, other: Self) -> f64 {
        self.lab().difference(other.lab())
    }
}

impl Lab {
    /// How far two colours lie apart to the eye (CIEDE2000), large patches side
    /// by side in good light: about 1 is just seen, 100 is black and white.
    pub fn difference(self, other: Self) -> f64 {
        let [one, two] = stretched(self, other);
        let step = Step::between(one, two);
        let mean = Mean::of(one, two);
        let l = (mean.l - 50.0).powi(2);
        let lightness = step.l / (1.0 + 0.015 * l / (20.0 + l).sqrt());
        let chroma = step.c / (1.0 + 0.045 * mean.c);
        let hue = step.h / (1.0 + 0.015 * mean.c * mean.uneven());
        let turn = mean.turn();
        let squares = lightness.powi(2) + chroma.powi(2) + hue.powi(2) + turn * chroma * hue;
        squares.max(0.0).sqrt()
    }
}

/// Lightness, chroma and hue (degrees, 0 to 360).
#[derive(Clone, Copy)]
struct Polar {
    l: f64,
    c: f64,
    h: f64,
}

/// Both colours, a stretched where they are nearly grey.
fn stretched(one: Lab, two: Lab) -> [Polar; 2] {
    let mean = 0.5 * (one.a.hypot(one.b) + two.a.hypot(two.b));
    let stretch = 1.0 + 0.5 * (1.0 - strong(mean).sqrt());
    [one, two].map(|lab| {
        let a = stretch * lab.a;
        let h = lab.b.atan2(a).to_degrees();
        Polar {
            l: lab.l,
            c: a.hypot(lab.b),
            h: if h < 0.0 { h + 360.0 } else { h },
        }
    })
}

/// 0 for grey to 1 for strong chroma.
fn strong(chroma: f64) -> f64 {
    let power = chroma.powi(7);
    power / (power + 25.0_f64.powi(7))
}

/// Differences, second less first.
struct Step {
    l: f64,
    c: f64,
    h: f64,
}

impl Step {
    fn between(one: Polar, two: Polar) -> Self {
        let turned = match two.h - one.h {
            _ if one.c * two.c == 0.0 => 0.0,
            turn if turn > 180.0 => turn - 360.0,
            turn if turn < -180.0 => turn + 360.0,
            turn => turn,
        };
        Self {
            l: two.l - one.l,
            c: two.c - one.c,
            h: 2.0 * (one.c * two.c).sqrt() * (0.5 * turned).to_radians().sin(),
        }
    }
}

/// Means of both; the hue's the short way round.
struct Mean {
    l: f64,
    c: f64,
    h: f64,
}

impl Mean {
    fn of(one: Polar, two: Polar) -> Self {
        let sum = one.h + two.h;
        let h = match (one.h - two.h).abs() {
            _ if one.c * two.c == 0.0 => sum,
            apart if apart <= 180.0 => 0.5 * sum,
            _ if sum < 360.0 => 0.5 * (sum + 360.0),
            _ => 0.5 * (sum - 360.0),
        };
        Self {
            l: 0.5 * (one.l + two.l),
            c: 0.5 * (one.c + two.c),
            h,
        }
    }

    /// How unevenly hues are told apart round the circle (T).
    fn uneven(&self) -> f64 {
        let cos = |times: f64, ahead: f64| (times * self.h + ahead).to_radians().cos();
        1.0 - 0.17 * cos(1.0, -30.0) + 0.24 * cos(2.0, 0.0) + 0.32 * cos(3.0, 6.0)
            - 0.20 * cos(4.0, -63.0)
    }

    /// Chroma and hue pull together among blues (R with index T).
    fn turn(&self) -> f64 {
        let blue = 30.0 * (-((self.h - 275.0) / 25.0).powi(2)).exp();
        -(2.0 * blue).to_radians().sin() * 2.0 * strong(self.c).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two colours and their difference.
    ///
    /// # Source
    ///
    /// Table 1 of the paper at the head. Pair 14 stands on a branch: its hues
    /// are 180 degrees apart but for the last bit, so 4.7461 is right as well.
    const PAIRS: [([f64; 3], [f64; 3], f64); 34] = [
        ([50.0, 2.6772, -79.7751], [50.0, 0.0, -82.7485], 2.0425),
        ([50.0, 3.1571, -77.2803], [50.0, 0.0, -82.7485], 2.8615),
        ([50.0, 2.8361, -74.02], [50.0, 0.0, -82.7485], 3.4412),
        ([50.0, -1.3802, -84.2814], [50.0, 0.0, -82.7485], 1.0),
        ([50.0, -1.1848, -84.8006], [50.0, 0.0, -82.7485], 1.0),
        ([50.0, -0.9009, -85.5211], [50.0, 0.0, -82.7485], 1.0),
        ([50.0, 0.0, 0.0], [50.0, -1.0, 2.0], 2.3669),
        ([50.0, -1.0, 2.0], [50.0, 0.0, 0.0], 2.3669),
        ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0009], 7.1792),
        ([50.0, 2.49, -0.001], [50.0, -2.49, 0.001], 7.1792),
        ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0011], 7.2195),
        ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0012], 7.2195),
        ([50.0, -0.001, 2.49], [50.0, 0.0009, -2.49], 4.8045),
        ([50.0, -0.001, 2.49], [50.0, 0.001, -2.49], 4.8045),
        ([50.0, -0.001, 2.49], [50.0, 0.0011, -2.49], 4.7461),
        ([50.0, 2.5, 0.0], [50.0, 0.0, -2.5], 4.3065),
        ([50.0, 2.5, 0.0], [73.0, 25.0, -18.0], 27.1492),
        ([50.0, 2.5, 0.0], [61.0, -5.0, 29.0], 22.8977),
        ([50.0, 2.5, 0.0], [56.0, -27.0, -3.0], 31.903),
        ([50.0, 2.5, 0.0], [58.0, 24.0, 15.0], 19.4535),
        ([50.0, 2.5, 0.0], [50.0, 3.1736, 0.5854], 1.0),
        ([50.0, 2.5, 0.0], [50.0, 3.2972, 0.0], 1.0),
        ([50.0, 2.5, 0.0], [50.0, 1.8634, 0.5757], 1.0),
        ([50.0, 2.5, 0.0], [50.0, 3.2592, 0.335], 1.0),
        (
            [60.2574, -34.0099, 36.2677],
            [60.4626, -34.1751, 39.4387],
            1.2644,
        ),
        (
            [63.0109, -31.0961, -5.8663],
            [62.8187, -29.7946, -4.0864],
            1.263,
        ),
        ([61.2901, 3.7196, -5.3901], [61.4292, 2.248, -4.962], 1.8731),
        (
            [35.0831, -44.1164, 3.7933],
            [35.0232, -40.0716, 1.5901],
            1.8645,
        ),
        (
            [22.7233, 20.0904, -46.694],
            [23.0331, 14.973, -42.5619],
            2.0373,
        ),
        (
            [36.4612, 47.858, 18.3852],
            [36.2715, 50.5065, 21.2231],
            1.4146,
        ),
        (
            [90.8027, -2.0831, 1.441],
            [91.1528, -1.6435, 0.0447],
            1.4441,
        ),
        (
            [90.9257, -0.5406, -0.9208],
            [88.6381, -0.8985, -0.7239],
            1.5381,
        ),
        (
            [6.7747, -0.2908, -2.4247],
            [5.8714, -0.0985, -2.2286],
            0.6377,
        ),
        ([2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514], 0.9082),
    ];

    #[test]
    fn all_34_published_pairs_come_out_to_the_fourth_decimal() {
        let lab = |[l, a, b]: [f64; 3]| Lab { l, a, b };
        for (place, (one, two, wanted)) in PAIRS.into_iter().enumerate() {
            for got in [lab(one).difference(lab(two)), lab(two).difference(lab(one))] {
                let other_branch = place == 13 && (got - 4.7461).abs() <= 5.1e-5;
                let right = (got - wanted).abs() <= 5.1e-5 || other_branch;
                assert!(right, "pair {}: {got} is not {wanted}", place + 1);
            }
        }
    }

    #[test]
    fn black_and_white_are_a_hundred_apart_and_alike_is_nothing() {
        assert!((Colour::BLACK.difference(Colour::WHITE) - 100.0).abs() < 1e-3);
        assert_eq!(Colour([12, 200, 7]).difference(Colour([12, 200, 7])), 0.0);
    }

    // Okabe & Ito, Color Universal Design, 2008: the eight colours. The least
    // and the greatest difference were worked with another implementation.
    #[test]
    fn the_eight_colours_of_okabe_and_ito_are_as_far_apart_as_worked() {
        let eight = [
            "#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7",
        ];
        let eight = eight.map(|text| Colour::parse(text).unwrap());
        let pairs = (0..8).flat_map(|i| (0..i).map(move |j| (i, j)));
        let apart: Vec<f64> = pairs.map(|(i, j)| eight[i].difference(eight[j])).collect();
        let least = apart.iter().copied().fold(f64::MAX, f64::min);
        let most = apart.iter().copied().fold(0.0, f64::max);
        assert!((least - 21.72).abs() < 0.01, "{least}");
        assert!((most - 88.42).abs() < 0.01, "{most}");
    }
}
