//! How much is enough, as surely as one likes.

use super::Estimate;

/// Standard deviations to either end of a spread that holds 95 in 100 of a normal
/// spread.
const TO_THE_ENDS: f64 = 1.959_964;

impl Estimate {
    /// What the true figure stays under as surely as `sure`, from 0.5 to under 1.
    ///
    /// Low and high are read as holding 95 in 100, each side half of a normal
    /// spread of its own.
    pub fn at_most(self, sure: f64) -> f64 {
        self.value + normal_quantile(sure) / TO_THE_ENDS * (self.high - self.value)
    }

    /// As much more, its spread unchanged.
    pub fn plus(self, more: f64) -> Self {
        Self {
            value: self.value + more,
            low: self.low + more,
            high: self.high + more,
        }
    }

    /// The sum of figures that are off together, as the strands of one cord are.
    pub fn together(self, other: Self) -> Self {
        Self {
            value: self.value + other.value,
            low: self.low + other.low,
            high: self.high + other.high,
        }
    }
}

/// The point under which a normal figure of spread 1 stays with probability `p`, from
/// 1e-9 to 1 - 1e-9, right to 1e-6.
///
/// # Source
///
/// Wichura, Algorithm AS 241: The percentage points of the normal distribution,
/// *Applied Statistics* 37 (1988) 477, the short form.
fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180_625 - q * q;
        let above = [
            59.109_374_72,
            159.291_132_02,
            50.434_271_938,
            3.387_132_717_9,
        ];
        let below = [67.187_563_6, 78.757_757_664, 17.895_169_469, 1.0];
        return q * polynomial(&above, r) / polynomial(&below, r);
    }
    let r = (-p.min(1.0 - p).ln()).sqrt();
    let above = [
        0.170_238_211_03,
        1.306_728_481_6,
        2.756_815_39,
        1.423_437_277_7,
    ];
    let below = [0.120_211_329_75, 0.737_001_642_5, 1.0];
    let far = polynomial(&above, r - 1.6) / polynomial(&below, r - 1.6);
    far.copysign(q)
}

/// Highest power first.
fn polynomial(factors: &[f64], x: f64) -> f64 {
    factors.iter().fold(0.0, |sum, factor| sum * x + factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Tables of the normal distribution, as in the last line of any table of Student's t.
    #[test]
    fn quantiles_are_those_of_the_tables() {
        for (p, wanted) in [
            (0.5, 0.0),
            (0.6, 0.253_347),
            (0.9, 1.281_552),
            (0.95, 1.644_854),
            (0.975, 1.959_964),
            (0.99, 2.326_348),
            (0.999, 3.090_232),
            (0.025, -1.959_964),
        ] {
            let got = normal_quantile(p);
            assert!((got - wanted).abs() < 2e-6, "{p}: {got}");
        }
    }

    #[test]
    fn the_upper_end_of_a_spread_is_enough_in_39_of_40() {
        let spread = Estimate {
            value: 10.0,
            low: 9.0,
            high: 12.0,
        };
        assert!((spread.at_most(0.975) - 12.0).abs() < 1e-6);
        assert_eq!(spread.at_most(0.5), 10.0);
        assert!(spread.at_most(0.99) > 12.0);
        assert_eq!(Estimate::exact(3.0).at_most(0.999), 3.0);
    }
}
