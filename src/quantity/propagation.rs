//! How far a result may be off when what it is worked out from may be.
//!
//! Letters: `y = f(x₁ … xₙ)`, `u` a standard uncertainty, `c` the change of `f` for
//! a whole `u` of one input.
//!
//! Law of propagation with its second-order terms: *Guide to the expression of
//! uncertainty in measurement*, JCGM 100:2008, 5.1.2 with its note; changes by
//! central differences a whole `u` wide, 5.1.3 note 2. Inputs are independent: one
//! that a result takes twice must be handed in once. Half-widths upwards and
//! downwards are kept apart, so that a spread to one side stays one.

use super::Estimate;

/// Half-widths of an [`Estimate`] over standard uncertainties: 95 in 100 of a normal
/// spread lie within.
const COVERAGE: f64 = 1.959_963_984_540_054;

impl Estimate {
    /// A figure with its standard uncertainty, alike both ways.
    pub fn of_standard(value: f64, uncertainty: f64) -> Self {
        let half = COVERAGE * uncertainty;
        Self {
            value,
            low: value - half,
            high: value + half,
        }
    }

    /// Standard uncertainties downwards and upwards.
    pub fn standard(self) -> [f64; 2] {
        [self.value - self.low, self.high - self.value].map(|half| half / COVERAGE)
    }

    /// How likely the figure is to lie below `bound`, 0 to 1: a normal spread downwards
    /// and another upwards, half of it to either side.
    pub fn below(self, bound: f64) -> f64 {
        let off = bound - self.value;
        let [down, up] = self.standard();
        let u = if off < 0.0 { down } else { up };
        if u > 0.0 {
            return normal(off / u);
        }
        match off {
            off if off > 0.0 => 1.0,
            off if off < 0.0 => 0.0,
            _ => 0.5,
        }
    }
}

/// `f` of what the inputs are, with the spread that theirs give it.
///
/// Takes some four looks at `f` for each pair of inputs that have a spread. Without
/// spread where `f` is not finite.
pub fn propagated(inputs: &[Estimate], f: impl Fn(&[f64]) -> f64) -> Estimate {
    let looked = Looked::at(inputs, &f);
    if !looked.middle.is_finite() {
        return Estimate::exact(looked.middle);
    }
    let [down, up] = looked.first_order();
    let second = looked.second_order();
    Estimate {
        value: looked.middle,
        low: looked.middle - COVERAGE * (down + second).sqrt(),
        high: looked.middle + COVERAGE * (up + second).sqrt(),
    }
}

/// A function and the place at which it is looked at.
struct Looked<'a, F> {
    f: &'a F,
    at: Vec<f64>,
    /// Inputs that have a spread, with their `u` downwards and upwards.
    unsure: Vec<(usize, [f64; 2])>,
    middle: f64,
}

impl<'a, F: Fn(&[f64]) -> f64> Looked<'a, F> {
    fn at(inputs: &[Estimate], f: &'a F) -> Self {
        let at: Vec<f64> = inputs.iter().map(|input| input.value).collect();
        let unsure = inputs.iter().map(|input| input.standard()).enumerate();
        let has_spread = |(_, u): &(usize, [f64; 2])| u.iter().sum::<f64>() > 0.0;
        Self {
            middle: f(&at),
            f,
            at,
            unsure: unsure.filter(has_spread).collect(),
        }
    }

    /// `f` with some inputs moved.
    fn moved(&self, moves: &[(usize, f64)]) -> f64 {
        let mut at = self.at.clone();
        for &(input, by) in moves {
            at[input] += by;
        }
        (self.f)(&at)
    }

    /// Sums of squares downwards and upwards.
    fn first_order(&self) -> [f64; 2] {
        let mut squares = [0.0, 0.0];
        for &(input, [down, up]) in &self.unsure {
            let rise = self.moved(&[(input, up)]) - self.moved(&[(input, -down)]);
            let slope = rise / (down + up);
            let ends = if slope < 0.0 { [up, down] } else { [down, up] };
            for (square, end) in squares.iter_mut().zip(ends) {
                *square += (slope * end).powi(2);
            }
        }
        squares
    }

    /// `Σᵢ Σⱼ (½ fᵢⱼ² + fᵢ fᵢⱼⱼ) uᵢ² uⱼ²`, never below nought; an input that is off more
    /// to one side counts with its root mean square.
    fn second_order(&self) -> f64 {
        let even = |&(input, [down, up]): &(usize, [f64; 2])| {
            (input, (0.5 * (down * down + up * up)).sqrt())
        };
        let unsure: Vec<(usize, f64)> = self.unsure.iter().map(even).collect();
        let mut sum = 0.0;
        for &i in &unsure {
            for &j in &unsure {
                sum += self.pair(i, j);
            }
        }
        sum.max(0.0)
    }

    /// One term of the second order.
    fn pair(&self, (i, u): (usize, f64), (j, v): (usize, f64)) -> f64 {
        let [above, below] = [u, -u].map(|u| {
            let side = |v: f64| self.moved(&[(i, u), (j, v)]);
            [side(v), self.moved(&[(i, u)]), side(-v)]
        });
        let slope = 0.5 * (above[1] - below[1]);
        let bend = |[high, middle, low]: [f64; 3]| high - 2.0 * middle + low;
        let third = 0.5 * (bend(above) - bend(below));
        let mixed = if i == j {
            above[1] - 2.0 * self.middle + below[1]
        } else {
            0.25 * (above[0] - above[2] - below[0] + below[2])
        };
        0.5 * mixed * mixed + slope * third
    }
}

/// Share of a normal spread below so many standard deviations, within 2e-7.
///
/// # Source
///
/// Abramowitz and Stegun, *Handbook of Mathematical Functions*, 7.1.26.
fn normal(deviations: f64) -> f64 {
    const P: f64 = 0.327_591_1;
    const A: [f64; 5] = [
        0.254_829_592,
        -0.284_496_736,
        1.421_413_741,
        -1.453_152_027,
        1.061_405_429,
    ];
    let x = deviations.abs() / std::f64::consts::SQRT_2;
    let t = 1.0 / (1.0 + P * x);
    let series = A.iter().rev().fold(0.0, |sum, a| (sum + a) * t);
    let tail = 0.5 * series * (-x * x).exp();
    if deviations < 0.0 { tail } else { 1.0 - tail }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Standard uncertainty of what comes out, alike both ways.
    fn uncertainty(estimate: Estimate) -> f64 {
        let [down, up] = estimate.standard();
        assert!((down - up).abs() < 1e-9 * up, "{estimate:?}");
        up
    }

    /// JCGM 100:2008, H.1: a gauge block compared with a standard one; lengths in nm.
    ///
    /// Half-widths `a` of an even spread give `a/√3`, of one as a sine `a/√2`.
    #[test]
    fn the_end_gauge_of_the_guide_has_the_uncertainty_of_the_guide() {
        let difference = (5.8_f64.powi(2) + 3.9_f64.powi(2) + 6.7_f64.powi(2)).sqrt();
        assert!((difference - 9.68).abs() < 0.01);
        let even = |half: f64| half / 3.0_f64.sqrt();
        let off = (0.2_f64.powi(2) + (0.5 / 2.0_f64.sqrt()).powi(2)).sqrt();
        let inputs = [
            Estimate::of_standard(5.000_062_3e7, 25.0),
            Estimate::of_standard(215.0, difference),
            Estimate::of_standard(11.5e-6, even(2e-6)),
            Estimate::of_standard(0.0, even(1e-6)),
            Estimate::of_standard(-0.1, off),
            Estimate::of_standard(0.0, even(0.05)),
        ];
        let length = |x: &[f64]| x[0] + x[1] - x[0] * (x[3] * x[4] + x[2] * x[5]);
        let looked = Looked::at(&inputs, &length);
        let [down, up] = looked.first_order().map(f64::sqrt);
        assert!(
            (up - 31.67).abs() < 0.05 && (down - up).abs() < 1e-9,
            "{up}"
        );
        let all = propagated(&inputs, length);
        assert!((uncertainty(all) - 33.8).abs() < 0.05, "{all:?}");
        assert!((all.value - 5.000_083_8e7).abs() < 1.0, "{all:?}");
    }

    /// A helix 200 mm high round 5 mm with a pitch of 20 mm; the wider figure is that of
    /// two million draws.
    #[test]
    fn a_strand_round_a_cord_is_as_unsure_as_drawing_by_lot_makes_it() {
        let inputs = [
            Estimate::of_standard(5.0, 0.1),
            Estimate::of_standard(20.0, 0.5),
        ];
        let strand =
            |x: &[f64]| 200.0 * (1.0 + (std::f64::consts::PI * x[0] / x[1]).powi(2)).sqrt();
        let [_, first] = Looked::at(&inputs, &strand).first_order().map(f64::sqrt);
        assert!((first - 3.106_253).abs() < 5e-3, "{first}");
        let all = propagated(&inputs, strand);
        assert!((all.value - 254.310_855).abs() < 1e-6, "{all:?}");
        assert!((uncertainty(all) - 3.114).abs() < 5e-3, "{all:?}");
    }

    #[test]
    fn a_spread_to_one_side_stays_one_and_turns_with_the_sign() {
        let lopsided = Estimate {
            value: 10.0,
            low: 9.0,
            high: 14.0,
        };
        let twice = propagated(&[lopsided], |x| 2.0 * x[0]);
        let taken_off = propagated(&[lopsided], |x| 100.0 - x[0]);
        for (found, wanted) in [(twice, [18.0, 28.0]), (taken_off, [86.0, 91.0])] {
            let ends = [found.low, found.high];
            assert!(
                ends.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-9),
                "{found:?}"
            );
        }
    }

    #[test]
    fn what_is_taken_twice_counts_whole_and_what_cancels_not_at_all() {
        let unsure = Estimate::of_standard(5.0, 0.1);
        let both = propagated(&[unsure], |x| x[0] + x[0]);
        assert!((uncertainty(both) - 0.2).abs() < 1e-9, "{both:?}");
        let apart = propagated(&[unsure, unsure], |x| x[0] + x[1]);
        assert!(
            (uncertainty(apart) - 0.02_f64.sqrt()).abs() < 1e-9,
            "{apart:?}"
        );
        let none = propagated(&[unsure], |x| x[0] - x[0] + 3.0);
        assert_eq!(none, Estimate::exact(3.0));
    }

    /// Standard normal quantiles: 0.95, 0.975 and 0.995.
    #[test]
    fn chances_are_those_of_a_normal_spread_either_side() {
        for (deviations, share) in [(1.644_854, 0.95), (1.959_964, 0.975), (2.575_829, 0.995)] {
            assert!((normal(deviations) - share).abs() < 1e-6);
            assert!((normal(-deviations) - (1.0 - share)).abs() < 1e-6);
        }
        let lopsided = Estimate {
            value: 10.0,
            low: 9.0,
            high: 14.0,
        };
        assert!((lopsided.below(9.0) - 0.025).abs() < 1e-6);
        assert!((lopsided.below(14.0) - 0.975).abs() < 1e-6);
        assert!((lopsided.below(10.0) - 0.5).abs() < 1e-6);
        let exact = Estimate::exact(2.0);
        assert_eq!(
            [1.0, 2.0, 3.0].map(|bound| exact.below(bound)),
            [0.0, 0.5, 1.0]
        );
    }

    proptest::proptest! {
        #[test]
        fn a_figure_always_lies_within_its_spread(
            values in proptest::collection::vec((-50.0..50.0, 0.0..5.0, 0.0..5.0), 1..5),
        ) {
            let inputs: Vec<Estimate> = values
                .iter()
                .map(|&(value, down, up)| Estimate { value, low: value - down, high: value + up })
                .collect();
            let found = propagated(&inputs, |x| x.iter().map(|x| x * x.abs()).sum());
            proptest::prop_assert!(found.low <= found.value && found.value <= found.high);
        }
    }
}
