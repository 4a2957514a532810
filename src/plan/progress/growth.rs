//! How the cord grows with the moves: as expected, put right by what was measured.
//!
//! Letters: `r` mm of cord on the disc a move, `L` its length there, `d` moves done,
//! `u` a standard uncertainty.
//!
//! Measured lengths `Lᵢ` at `dᵢ` give `r` as the line through the start that fits them
//! best, each with the weight `1/uᵢ²`; if they scatter more than their `u` allows, its
//! `u` grows by the Birge ratio. That and what was expected are two findings of one `r`
//! and are joined by their weights (*Guide to the expression of uncertainty in
//! measurement*, JCGM 100:2008, 5.1; weighted mean and ratio: Birge, *Phys. Rev.* 40
//! (1932) 207), unless they contradict one
//! another: then the measure counts alone. A length is taken on from the last measure
//! before it, its own `u` taken as independent of that of `r`.

use super::super::outlook::Outlook;
use crate::bench::{Note, Noted};
use crate::quantity::{Estimate, propagated};

/// Standard uncertainty of a length taken of a cord on the disc: mm, and a share of it.
/// Our guess.
const TAPE: (f64, f64) = (1.0, 0.005);
/// How far a hand goes on otherwise than it did so far, as a standard share. Our guess.
const HAND: f64 = 0.02;
/// Measure and expectation contradict one another beyond so many standard uncertainties.
const CONTRADICT: f64 = 3.0;
/// A cord that grew by less or more than this share of what was expected was measured
/// wrong, or is another. Our guess.
const BELIEVED: [f64; 2] = [0.4, 2.5];

/// How a cord grows.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Growth {
    /// Cord on the disc for a move from here on, mm.
    pub rate: Estimate,
    /// That over what was expected; none without a measure.
    pub corrected: Option<Estimate>,
    /// Where it was measured last before a place: moves, mm; the start first.
    anchors: Vec<(u64, Estimate)>,
    /// What was not taken for a measure of this cord: moves, mm.
    pub disbelieved: Vec<(u64, f64)>,
    /// Whether the measures contradict what was expected.
    pub contradicts: bool,
}

impl Growth {
    /// As expected, put right by the notes.
    pub(super) fn of(outlook: &Outlook, notes: &[Noted]) -> Self {
        let expected = propagated(&[outlook.moves_a_mm], |x| 1.0 / x[0]);
        let is_believed = |&(done, mm): &(u64, f64)| {
            let share = mm / done as f64 / expected.value;
            (BELIEVED[0]..=BELIEVED[1]).contains(&share)
        };
        let measured = notes.iter().filter_map(|noted| match noted.note {
            Note::Measured(mm) => Some((noted.done, mm)),
            _ => None,
        });
        let (believed, disbelieved): (Vec<_>, Vec<_>) = measured.partition(is_believed);
        let (rate, contradicts) = joined(expected, &believed);
        let corrected = (!believed.is_empty()).then(|| rate.times(1.0 / expected.value));
        Self {
            rate,
            corrected,
            anchors: anchors(&believed),
            disbelieved,
            contradicts,
        }
    }

    /// Cord on the disc after so many moves, mm.
    pub(super) fn length(&self, done: u64) -> Estimate {
        let (at, there) = self.anchor(done);
        let more = (done - at) as f64;
        let length = propagated(&[there, self.rate], |x| x[0] + more * x[1]);
        Estimate {
            low: length.low.max(0.0),
            ..length
        }
    }

    /// Moves from the start until the cord on the disc is so long, as told from `done`.
    pub(super) fn moves_until(&self, length: Estimate, done: u64) -> Estimate {
        let (at, there) = self.anchor(done);
        let until = propagated(&[length, there, self.rate], |x| (x[0] - x[1]) / x[2]);
        until.plus(at as f64)
    }

    /// The measure to count on from; the start, if there is none before.
    fn anchor(&self, done: u64) -> (u64, Estimate) {
        let before = self.anchors.iter().rfind(|(at, _)| *at <= done);
        before.copied().unwrap_or((0, Estimate::exact(0.0)))
    }
}

fn tape(mm: f64) -> f64 {
    TAPE.0.hypot(TAPE.1 * mm)
}

/// One measure for each place, the later of two, in order.
fn anchors(measured: &[(u64, f64)]) -> Vec<(u64, Estimate)> {
    let mut anchors: Vec<(u64, Estimate)> = Vec::new();
    for &(done, mm) in measured {
        anchors.retain(|(at, _)| *at != done);
        anchors.push((done, Estimate::of_standard(mm, tape(mm))));
    }
    anchors.sort_by_key(|(at, _)| *at);
    anchors
}

/// What was expected and what was measured together, and whether they contradict.
fn joined(expected: Estimate, measured: &[(u64, f64)]) -> (Estimate, bool) {
    let Some((found, u)) = fitted(measured) else {
        return (expected, false);
    };
    let u = u.hypot(HAND * found);
    let [down, up] = expected.standard();
    let before = (0.5 * (down * down + up * up)).sqrt();
    if (found - expected.value).abs() > CONTRADICT * u.hypot(before) {
        return (Estimate::of_standard(found, u), true);
    }
    // An expectation without spread is no better than a hand.
    let before = before.max(HAND * expected.value);
    let (a, b) = (before.powi(-2), u.powi(-2));
    let rate = (a * expected.value + b * found) / (a + b);
    (Estimate::of_standard(rate, (a + b).sqrt().recip()), false)
}

/// The line through the start: mm a move, and its standard uncertainty.
fn fitted(measured: &[(u64, f64)]) -> Option<(f64, f64)> {
    let weighed = measured.iter().map(|&(done, mm)| {
        let (done, u) = (done as f64, tape(mm));
        (done, mm, u.powi(-2))
    });
    let squares: f64 = weighed.clone().map(|(d, _, w)| w * d * d).sum();
    let products: f64 = weighed.clone().map(|(d, mm, w)| w * d * mm).sum();
    if squares <= 0.0 {
        return None;
    }
    let rate = products / squares;
    let off: f64 = weighed.map(|(d, mm, w)| w * (mm - d * rate).powi(2)).sum();
    let spare = (measured.len() - 1).max(1) as f64;
    let birge = (off / spare).sqrt().max(1.0);
    Some((rate, birge / squares.sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn expected() -> Estimate {
        Estimate::of_standard(0.8, 0.04)
    }

    #[test]
    fn without_a_measure_it_is_as_expected() {
        assert_eq!(joined(expected(), &[]), (expected(), false));
    }

    /// 100 moves made 84 mm: 0.84 within √(1 + 0.42²)/100 and 2 in 100 of it.
    #[test]
    fn a_measure_is_weighed_against_what_was_expected() {
        let u = (1.0_f64.hypot(0.42) / 100.0).hypot(0.02 * 0.84);
        let (a, b) = (0.04_f64.powi(-2), u.powi(-2));
        let (rate, contradicts) = joined(expected(), &[(100, 84.0)]);
        assert!((rate.value - (0.8 * a + 0.84 * b) / (a + b)).abs() < 1e-12);
        assert!((rate.standard()[1] - (a + b).sqrt().recip()).abs() < 1e-12);
        assert!(rate.standard()[1] < u && !contradicts);
    }

    #[test]
    fn a_measure_far_from_what_was_expected_counts_alone() {
        let (rate, contradicts) = joined(expected(), &[(200, 220.0)]);
        assert!(contradicts && (rate.value - 1.1).abs() < 1e-12, "{rate:?}");
    }

    #[test]
    fn measures_that_scatter_are_trusted_less() {
        let even = fitted(&[(100, 82.0), (200, 164.0), (300, 246.0)]).unwrap();
        let rough = fitted(&[(100, 92.0), (200, 164.0), (300, 236.0)]).unwrap();
        assert!(rough.1 > 3.0 * even.1, "{rough:?} {even:?}");
    }
}
