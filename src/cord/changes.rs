//! Figures of a cord by name, and how far each may be off.
//!
//! Changes are added as squares, upwards and downwards apart. Knows neither where
//! they come from nor how a cord is solved.

use super::measure::Sizes;
use super::model::{Miss, Shares};
use crate::quantity::Estimate;

/// A figure that a cord has one of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Named {
    OnDisc,
    PressedOnDisc,
    Rested,
    PressedRested,
    WidthRested,
    OffWeight,
    Worked,
    Lengthening,
    Bundle,
    BundleOfTails,
    Pitch,
    MovesPerCm,
    Mass,
}

use Named::{
    Bundle, BundleOfTails, Lengthening, Mass, MovesPerCm, OffWeight, OnDisc, Pitch, PressedOnDisc,
    PressedRested, Rested, WidthRested, Worked,
};

impl Named {
    /// All of them.
    const ALL: [Self; 13] = [
        OnDisc,
        PressedOnDisc,
        Rested,
        PressedRested,
        WidthRested,
        OffWeight,
        Worked,
        Lengthening,
        Bundle,
        BundleOfTails,
        Pitch,
        MovesPerCm,
        Mass,
    ];

    /// Those that grow with the width.
    const WIDTHS: [Self; 5] = [OnDisc, PressedOnDisc, Rested, PressedRested, WidthRested];

    fn of(self, sizes: &Sizes) -> f64 {
        match self {
            OnDisc => sizes.on_disc,
            PressedOnDisc => sizes.pressed_on_disc,
            Rested => sizes.rested,
            PressedRested => sizes.pressed_rested,
            WidthRested => sizes.width_rested,
            OffWeight => sizes.off_weight,
            Worked => sizes.worked,
            Lengthening => sizes.lengthening,
            Bundle => sizes.bundle,
            BundleOfTails => sizes.bundle_of_tails,
            Pitch => sizes.pitch,
            MovesPerCm => sizes.moves_per_cm,
            Mass => sizes.mass,
        }
    }
}

/// One figure with the squares of its changes downwards and upwards.
#[derive(Debug, Clone, Copy)]
struct Changing {
    middle: f64,
    down: f64,
    up: f64,
}

impl Changing {
    fn at(middle: f64) -> Self {
        Self {
            middle,
            down: 0.0,
            up: 0.0,
        }
    }

    /// From `base` to the farther of some ends, each way.
    fn add(&mut self, base: f64, ends: impl Iterator<Item = f64>) {
        let (mut down, mut up) = (0.0_f64, 0.0_f64);
        for change in ends.map(|end| end - base).filter(|c| c.is_finite()) {
            down = down.min(change);
            up = up.max(change);
        }
        self.down += down * down;
        self.up += up * up;
    }

    fn add_shares(&mut self, [down, up]: Shares) {
        if self.middle.is_finite() {
            self.down += (down * self.middle).powi(2);
            self.up += (up * self.middle).powi(2);
        }
    }

    fn estimate(&self) -> Estimate {
        if !self.middle.is_finite() {
            return Estimate::exact(self.middle);
        }
        Estimate {
            value: self.middle,
            low: self.middle - self.down.sqrt(),
            high: self.middle + self.up.sqrt(),
        }
    }
}

/// Every figure of a cord with its changes.
#[derive(Debug, Clone)]
pub(super) struct Changes {
    /// In the order of [`Named::ALL`].
    named: [Changing; Named::ALL.len()],
    /// Strand by strand.
    take_up: Vec<Changing>,
}

impl Changes {
    /// No changes yet.
    pub(super) fn of(sizes: &Sizes) -> Self {
        Self {
            named: Named::ALL.map(|name| Changing::at(name.of(sizes))),
            take_up: sizes.take_up.iter().map(|&t| Changing::at(t)).collect(),
        }
    }

    /// One input set to its ends: the outer changes from `base` either way count once.
    pub(super) fn add(&mut self, base: &Sizes, ends: &[Sizes]) {
        for (name, figure) in Named::ALL.into_iter().zip(&mut self.named) {
            figure.add(name.of(base), ends.iter().map(|end| name.of(end)));
        }
        for (strand, figure) in self.take_up.iter_mut().enumerate() {
            let ends = ends.iter().map(|end| end.take_up[strand]);
            figure.add(base.take_up[strand], ends);
        }
    }

    /// What figures are known to miss.
    pub(super) fn add_miss(&mut self, miss: Miss) {
        for name in Named::WIDTHS {
            self.of_mut(name).add_shares(miss.width);
        }
        self.of_mut(Pitch).add_shares(miss.height);
        // A shorter cord has more moves in a length.
        let [shorter, longer] = miss.height;
        self.of_mut(MovesPerCm).add_shares([longer, shorter]);
        self.of_mut(Mass).add_shares(miss.take_up);
        for figure in &mut self.take_up {
            figure.add_shares(miss.take_up);
        }
        // A bundle grows with the root of the strands' length in it.
        let half = miss.take_up.map(|share| 0.5 * share);
        self.of_mut(Bundle).add_shares(half);
    }

    /// One figure with its spread.
    pub(super) fn estimate(&self, name: Named) -> Estimate {
        self.named[name as usize].estimate()
    }

    /// Take-up of every strand with its spread.
    pub(super) fn take_ups(&self) -> Vec<Estimate> {
        self.take_up.iter().map(Changing::estimate).collect()
    }

    fn of_mut(&mut self, name: Named) -> &mut Changing {
        &mut self.named[name as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_stands_at_its_own_place() {
        for (place, name) in Named::ALL.into_iter().enumerate() {
            assert_eq!(place, name as usize, "{name:?}");
        }
    }

    #[test]
    fn changes_add_as_squares_each_way_by_itself() {
        let mut figure = Changing::at(10.0);
        figure.add(1.0, [0.7, 5.0].into_iter());
        figure.add(2.0, [5.0, f64::INFINITY].into_iter());
        figure.add_shares([0.04, 0.0]);
        let estimate = figure.estimate();
        assert!((estimate.low - 9.5).abs() < 1e-12, "{estimate:?}");
        assert!((estimate.high - 15.0).abs() < 1e-12, "{estimate:?}");
    }

    #[test]
    fn a_cord_without_lay_has_no_spread_of_its_pitch() {
        let mut figure = Changing::at(f64::INFINITY);
        figure.add_shares([0.1, 0.1]);
        assert_eq!(figure.estimate(), Estimate::exact(f64::INFINITY));
    }
}
