//! What kind of section a solved cord has.
//!
//! Read from the solved shape alone: how wide the cord is in every direction, in the
//! frame that turns with it, and how much is empty in the middle. A list on the
//! shelf says what it is meant to make; this says what it makes, of these
//! strands.

use std::f64::consts::PI;

/// Wider over thicker than this is a flat cord. Our guess: round cords of 8
/// and 16 strands come to 1.2.
pub const FLAT_FROM: f64 = 1.4;
/// Bore over the strand's thickness from which a cord is hollow. Our guess.
pub(super) const HOLLOW_FROM: f64 = 0.5;
/// Part of the mean width with four corners from which a cord is square. Our guess: a
/// third of a true square's, 2/15.
const SQUARE_FROM: f64 = 2.0 / 45.0;

/// Kind of section, as solved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Section {
    /// About as wide in every direction, and full.
    Round,
    /// Four corners.
    Square,
    /// Clearly wider than thick.
    Flat,
    /// Empty in the middle.
    Hollow,
}

impl Section {
    /// All kinds, in the order in which they are shown.
    pub const ALL: [Self; 4] = [Self::Round, Self::Square, Self::Flat, Self::Hollow];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Round => "round",
            Self::Square => "square",
            Self::Flat => "flat",
            Self::Hollow => "hollow",
        }
    }

    /// `widths` over half a turn, evenly; `bore` across the empty middle, in strand
    /// diameters.
    pub(super) fn of(widths: &[f64], bore: f64) -> Self {
        if oblong(widths) > FLAT_FROM {
            Self::Flat
        } else if bore > HOLLOW_FROM {
            Self::Hollow
        } else if cornered(widths) > SQUARE_FROM {
            Self::Square
        } else {
            Self::Round
        }
    }
}

/// Width over the width square to it, at most.
pub(super) fn oblong(widths: &[f64]) -> f64 {
    let square = widths.len() / 2;
    let across = widths.iter().cycle().skip(square);
    widths
        .iter()
        .zip(across)
        .map(|(w, a)| w / a)
        .fold(0.0, f64::max)
}

/// The least and the largest of widths over half a turn, read between the directions:
/// on parabolas through every three neighbours.
pub(super) fn extremes(widths: &[f64]) -> (f64, f64) {
    let count = widths.len();
    let top = |at: usize| {
        let [a, b, c] = [count - 1, 0, 1].map(|by| widths[(at + by) % count]);
        let (slope, bend) = (0.5 * (c - a), a - 2.0 * b + c);
        let is_between = slope.abs() < bend.abs();
        let past = if is_between {
            slope * slope / (2.0 * bend)
        } else {
            0.0
        };
        b - past
    };
    (0..count)
        .map(top)
        .fold((f64::INFINITY, 0.0), |(low, high), width| {
            (width.min(low), width.max(high))
        })
}

/// How much of the mean width comes and goes four times a turn.
fn cornered(widths: &[f64]) -> f64 {
    let count = widths.len() as f64;
    let mean = widths.iter().sum::<f64>() / count;
    let (mut along, mut across) = (0.0, 0.0);
    for (number, width) in widths.iter().enumerate() {
        let (sin, cos) = (4.0 * PI * number as f64 / count).sin_cos();
        along += width * cos;
        across += width * sin;
    }
    2.0 * along.hypot(across) / count / mean
}

#[cfg(test)]
mod tests {
    use super::*;

    fn widths(of: impl Fn(f64) -> f64) -> Vec<f64> {
        (0..36).map(|k| of(PI * f64::from(k) / 36.0)).collect()
    }

    #[test]
    fn a_box_is_square_a_ring_hollow_and_a_band_flat() {
        let rectangle = |a: f64, b: f64| widths(|t| a * t.cos().abs() + b * t.sin().abs());
        assert_eq!(Section::of(&rectangle(3.0, 3.0), 0.0), Section::Square);
        assert_eq!(Section::of(&rectangle(4.0, 1.0), 0.0), Section::Flat);
        assert_eq!(Section::of(&widths(|_| 3.0), 0.0), Section::Round);
        assert_eq!(Section::of(&widths(|_| 3.0), 1.0), Section::Hollow);
    }

    #[test]
    fn the_width_of_an_oval_does_not_depend_on_where_reading_begins() {
        for begin in [0.0, 0.01, 0.03, 0.043] {
            let oval = widths(|t| (t + begin).cos().hypot(2.5 * (t + begin).sin()));
            let (narrow, wide) = extremes(&oval);
            assert!((narrow - 1.0).abs() < 1e-3, "{begin}: {narrow}");
            assert!((wide - 2.5).abs() < 1e-3, "{begin}: {wide}");
        }
    }

    /// Width of a square of side one: |cos t| + |sin t|, whose fourth part is 2/15 of the mean.
    #[test]
    fn the_corners_of_a_true_square_are_what_the_integral_says() {
        let square = widths(|t| t.cos().abs() + t.sin().abs());
        assert!(
            (cornered(&square) - 2.0 / 15.0).abs() < 2e-3,
            "{}",
            cornered(&square)
        );
    }
}
