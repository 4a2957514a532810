//! The lowest point of a landscape, walked to.
//!
//! Limited-memory quasi-Newton steps (Nocedal, *Math. Comp.* 35 (1980) 773) that start
//! from an inverse stiffness handed in by the landscape, with a line search
//! that only asks for a sufficient decrease (Armijo, *Pacific J. Math.* 16 (1966) 1).
//!
//! This module does not know what is being minimised.

use std::collections::VecDeque;
use std::ops::Range;

/// Steps remembered (tried: 10 or 40 change the number of looks by a tenth).
const MEMORY: usize = 20;

/// Steps after which the inverse stiffness is asked for anew.
///
/// Tried on tubes: 30 takes a quarter more looks; 10 spares a tenth of them but costs as
/// much in inverses.
const REFRESH: usize = 15;

/// Share of the promised decrease that a step must bring.
const DECREASE: f64 = 1e-4;

/// Decreases smaller than this share of the height drown in rounding.
const ROUNDING: f64 = 1e-13;

/// Steps of which less than this may be gone lead nowhere.
const LEAST_SHARE: f64 = 1e-9;

/// Halvings, or more, of one step before it is given up.
const MOST_CUTS: usize = 25;

/// Where within a step that failed the parabola's lowest point is believed, shares of
/// the step, and the share that is tried where it is not.
const INSIDE: Range<f64> = 0.1..0.6;
/// See [`INSIDE`].
const SHORTER: f64 = 0.3;

/// Steps are remembered along which the slope grows by more than this share of what
/// it changes.
const LEAST_CURVED: f64 = 1e-12;

/// Steps that may fail before the walk is given up.
const MOST_FAILURES: usize = 3;

/// An approximate inverse of the second derivative.
pub(super) trait Downhill {
    /// Turn a slope into a step.
    fn apply(&mut self, slope: &mut [f64]);
}

/// What is minimised.
pub(super) trait Landscape {
    /// Its inverse stiffness.
    type Inverse: Downhill;

    /// Height at a place; writes the slope.
    fn height(&mut self, at: &[f64], slope: &mut [f64]) -> f64;

    /// How far from rest a place with this slope is; falls to nothing.
    fn unrest(&self, slope: &[f64]) -> f64;

    /// The largest multiple of `step` that one may go down from the place last looked at.
    fn reach(&self, step: &[f64]) -> f64;

    /// Inverse stiffness at the place last looked at, if there is one.
    fn inverse(&self) -> Option<Self::Inverse>;

    /// Whether it makes no sense to go on from the place last looked at.
    fn is_flat(&self) -> bool;

    /// What the last look cost, in whatever its own work is counted in.
    fn cost(&self) -> f64;
}

/// How a walk ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    /// Unrest below the tolerance.
    Rested,
    /// No step goes down any more, or the steps were used up.
    Stuck,
    /// The landscape called it off.
    Flat,
    /// Called off from outside.
    Stopped,
}

/// What a walk cost and where it came.
#[derive(Debug, Clone, Copy)]
pub(super) struct Walked {
    pub end: End,
    pub height: f64,
    pub unrest: f64,
    pub steps: usize,
    pub looks: usize,
    pub work: f64,
}

/// How far a walk may go.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limits {
    /// Unrest below which it has arrived.
    pub tolerance: f64,
    /// Most steps.
    pub steps: usize,
    /// Most work of all looks together, as the landscape counts it.
    pub work: f64,
}

/// Walk from `at` until unrest falls below the tolerance; `at` is moved along.
pub(super) fn minimise<L: Landscape>(
    land: &mut L,
    at: &mut Vec<f64>,
    limits: Limits,
    is_stopped: impl Fn() -> bool,
) -> Walked {
    let mut walk = Walk::begin(land, at);
    let mut end = End::Stuck;
    while walk.steps < limits.steps && walk.work < limits.work {
        walk.unrest = land.unrest(&walk.slope);
        if walk.unrest < limits.tolerance {
            end = End::Rested;
            break;
        }
        if land.is_flat() || is_stopped() {
            end = if is_stopped() {
                End::Stopped
            } else {
                End::Flat
            };
            break;
        }
        walk.refresh(land);
        walk.direct();
        if !walk.advance(land, at) && !walk.recover(land, at) {
            break;
        }
    }
    Walked {
        end,
        height: walk.height,
        unrest: walk.unrest,
        steps: walk.steps,
        looks: walk.looks,
        work: walk.work,
    }
}

/// One remembered step with the change of slope it brought.
#[derive(Debug)]
struct Lesson {
    step: Vec<f64>,
    change: Vec<f64>,
    weight: f64,
}

#[derive(Debug)]
struct Walk<D> {
    slope: Vec<f64>,
    /// Downhill direction, with its sign turned: it is subtracted.
    step: Vec<f64>,
    height: f64,
    unrest: f64,
    lessons: VecDeque<Lesson>,
    inverse: Option<D>,
    since_refresh: usize,
    steps: usize,
    looks: usize,
    work: f64,
    failures: usize,
    next: Vec<f64>,
    next_slope: Vec<f64>,
}

impl<D: Downhill> Walk<D> {
    fn begin<L: Landscape<Inverse = D>>(land: &mut L, at: &[f64]) -> Self {
        let mut slope = vec![0.0; at.len()];
        let height = land.height(at, &mut slope);
        Self {
            unrest: land.unrest(&slope),
            step: vec![0.0; at.len()],
            next: vec![0.0; at.len()],
            next_slope: vec![0.0; at.len()],
            slope,
            height,
            lessons: VecDeque::with_capacity(MEMORY),
            inverse: None,
            since_refresh: REFRESH,
            steps: 0,
            looks: 1,
            work: land.cost(),
            failures: 0,
        }
    }

    fn refresh<L: Landscape<Inverse = D>>(&mut self, land: &L) {
        if self.since_refresh >= REFRESH {
            if let Some(inverse) = land.inverse() {
                self.inverse = Some(inverse);
                self.lessons.clear();
            }
            self.since_refresh = 0;
        }
        self.since_refresh += 1;
    }

    /// The two loops of the method: slope to step.
    fn direct(&mut self) {
        self.step.copy_from_slice(&self.slope);
        let mut shares = [0.0; MEMORY];
        for (lesson, share) in self.lessons.iter().zip(&mut shares).rev() {
            *share = lesson.weight * dot(&lesson.step, &self.step);
            add(&mut self.step, -*share, &lesson.change);
        }
        if let Some(inverse) = &mut self.inverse {
            inverse.apply(&mut self.step);
        }
        for (lesson, share) in self.lessons.iter().zip(shares) {
            let undo = lesson.weight * dot(&lesson.change, &self.step);
            add(&mut self.step, share - undo, &lesson.step);
        }
    }

    /// Go along the step; false if nothing along it lies lower.
    fn advance<L: Landscape<Inverse = D>>(&mut self, land: &mut L, at: &mut Vec<f64>) -> bool {
        let promised = -dot(&self.slope, &self.step);
        if promised.is_nan() || promised >= 0.0 {
            return false;
        }
        let mut far = land.reach(&self.step).min(1.0);
        if far < LEAST_SHARE {
            return false;
        }
        for _ in 0..MOST_CUTS {
            self.next.copy_from_slice(at);
            add(&mut self.next, -far, &self.step);
            let height = land.height(&self.next, &mut self.next_slope);
            self.looks += 1;
            self.work += land.cost();
            let enough = DECREASE * far * promised + ROUNDING * self.height.abs();
            if height <= self.height + enough {
                self.learn(at);
                std::mem::swap(at, &mut self.next);
                std::mem::swap(&mut self.slope, &mut self.next_slope);
                self.height = height;
                self.steps += 1;
                return true;
            }
            far = shorter(far, promised, height - self.height);
        }
        false
    }

    fn learn(&mut self, at: &[f64]) {
        let mut lesson = if self.lessons.len() == MEMORY {
            self.lessons.pop_front()
        } else {
            None
        }
        .unwrap_or_else(|| Lesson {
            step: vec![0.0; at.len()],
            change: vec![0.0; at.len()],
            weight: 0.0,
        });
        difference(&mut lesson.step, &self.next, at);
        difference(&mut lesson.change, &self.next_slope, &self.slope);
        let curved = dot(&lesson.step, &lesson.change);
        let sizes = dot(&lesson.step, &lesson.step) * dot(&lesson.change, &lesson.change);
        if curved > LEAST_CURVED * sizes.sqrt() {
            lesson.weight = 1.0 / curved;
            self.lessons.push_back(lesson);
        }
    }

    /// Forget what was learned and look again; false when that has been tried.
    fn recover<L: Landscape<Inverse = D>>(&mut self, land: &mut L, at: &[f64]) -> bool {
        self.failures += 1;
        self.height = land.height(at, &mut self.slope);
        self.looks += 1;
        self.work += land.cost();
        let hopeless = self.lessons.is_empty() || self.failures > MOST_FAILURES;
        self.lessons.clear();
        self.since_refresh = REFRESH;
        !hopeless
    }
}

/// A shorter try: the lowest point of the parabola, if it lies well inside.
fn shorter(far: f64, promised: f64, rise: f64) -> f64 {
    let lowest = -promised * far * far / (2.0 * (rise - far * promised));
    if lowest > INSIDE.start * far && lowest < INSIDE.end * far {
        return lowest;
    }
    SHORTER * far
}

fn add(sum: &mut [f64], factor: f64, what: &[f64]) {
    for (sum, what) in sum.iter_mut().zip(what) {
        *sum += factor * what;
    }
}

fn difference(out: &mut [f64], a: &[f64], b: &[f64]) {
    for ((out, a), b) in out.iter_mut().zip(a).zip(b) {
        *out = a - b;
    }
}

/// Four sums side by side, so that the processor need not wait for each.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (a4, b4) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = a4
        .remainder()
        .iter()
        .zip(b4.remainder())
        .map(|(a, b)| a * b)
        .sum();
    for (a, b) in a4.zip(b4) {
        for lane in 0..4 {
            sums[lane] += a[lane] * b[lane];
        }
    }
    sums[0] + sums[1] + sums[2] + sums[3] + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rosenbrock's bent valley, *Comput. J.* 3 (1960) 175.
    struct Valley {
        longest: f64,
        is_flat: bool,
    }

    struct AsItIs;

    impl Downhill for AsItIs {
        fn apply(&mut self, _: &mut [f64]) {}
    }

    impl Landscape for Valley {
        type Inverse = AsItIs;

        fn height(&mut self, at: &[f64], slope: &mut [f64]) -> f64 {
            let (x, y) = (at[0], at[1]);
            slope[0] = 400.0 * x * (x * x - y) + 2.0 * (x - 1.0);
            slope[1] = 200.0 * (y - x * x);
            100.0 * (y - x * x).powi(2) + (1.0 - x).powi(2)
        }

        fn unrest(&self, slope: &[f64]) -> f64 {
            slope[0].hypot(slope[1])
        }

        fn reach(&self, step: &[f64]) -> f64 {
            self.longest / step[0].hypot(step[1])
        }

        fn inverse(&self) -> Option<AsItIs> {
            Some(AsItIs)
        }

        fn is_flat(&self) -> bool {
            self.is_flat
        }

        fn cost(&self) -> f64 {
            1.0
        }
    }

    const LIMITS: Limits = Limits {
        tolerance: 1e-8,
        steps: 500,
        work: f64::INFINITY,
    };

    fn walk(valley: &mut Valley, at: &mut Vec<f64>) -> Walked {
        minimise(valley, at, LIMITS, || false)
    }

    #[test]
    fn the_bottom_of_a_bent_valley_is_found() {
        let mut at = vec![-1.2, 1.0];
        let mut valley = Valley {
            longest: 0.5,
            is_flat: false,
        };
        let walked = walk(&mut valley, &mut at);
        assert_eq!(walked.end, End::Rested);
        assert!(
            (at[0] - 1.0).abs() < 1e-6 && (at[1] - 1.0).abs() < 1e-6,
            "{at:?}"
        );
    }

    #[test]
    fn no_step_is_longer_than_allowed() {
        let mut at = vec![-1.2, 1.0];
        let mut valley = Valley {
            longest: 1e-3,
            is_flat: false,
        };
        let few = Limits {
            steps: 10,
            ..LIMITS
        };
        let walked = minimise(&mut valley, &mut at, few, || false);
        assert_eq!((walked.end, walked.steps), (End::Stuck, 10));
        assert!((at[0] + 1.2).hypot(at[1] - 1.0) < 1.01e-2, "{at:?}");
    }

    #[test]
    fn no_more_is_worked_than_may_be() {
        let mut at = vec![-1.2, 1.0];
        let mut valley = Valley {
            longest: 0.5,
            is_flat: false,
        };
        let few = Limits {
            work: 12.0,
            ..LIMITS
        };
        let walked = minimise(&mut valley, &mut at, few, || false);
        assert_eq!(walked.end, End::Stuck);
        assert!((12.0..12.0 + MOST_CUTS as f64).contains(&walked.work));
        assert_eq!(walked.work, walked.looks as f64);
    }

    #[test]
    fn a_flat_landscape_is_left_at_once() {
        let mut at = vec![-1.2, 1.0];
        let mut valley = Valley {
            longest: 0.5,
            is_flat: true,
        };
        let walked = walk(&mut valley, &mut at);
        assert_eq!((walked.end, walked.steps), (End::Flat, 0));
    }
}
