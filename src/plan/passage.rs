//! Whether a pendant's bail passes over the cord and over an end of it.

use super::Job;
use super::end::bound_end;
use super::findings::{clasp, end_finding};
use super::piece::End;
use crate::cord::{Figures, Section};
use crate::quantity::{Estimate, propagated};

/// A cap's wall where its outside is not known, mm. Our guess.
const WALL: Estimate = Estimate {
    value: 0.6,
    low: 0.3,
    high: 1.0,
};
/// Across a knot, in thicknesses of the cord. Our guess.
const KNOT: Estimate = Estimate {
    value: 2.8,
    low: 2.2,
    high: 3.6,
};
/// Chance from which a bail passes for sure, and under which it does not.
const SURELY: f64 = 0.975;

/// Whether something passes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Passes {
    /// By its whole spread.
    Yes,
    /// By a part of it.
    MayBe,
    /// By none of it.
    No,
}

impl Passes {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Yes => "passes",
            Self::MayBe => "may pass",
            Self::No => "does not pass",
        }
    }
}

/// A bail before what it must pass over.
#[derive(Debug, Clone, PartialEq)]
pub struct Passage {
    /// What it must pass over.
    pub over: &'static str,
    /// How wide that is, mm.
    pub across: Estimate,
    /// Whether it passes.
    pub passes: Passes,
    /// How likely it passes, 0 to 1.
    pub chance: f64,
}

/// The pendant's bail before the cord, before each end, and before the clasp if its outside
/// is known; nothing without a pendant.
///
/// It must pass over the cord, and over one of the ends unless it is put on before they
/// are finished.
pub fn passages(job: &Job<'_>) -> Vec<Passage> {
    let Some(pendant) = &job.piece.pendant else {
        return Vec::new();
    };
    let [first, last] = job.piece.ends.map(|end| end_across(job, end));
    let clasp = clasp(job).and_then(|finding| finding.outer);
    let all = [
        Some(("the cord", job.figures.width_rested)),
        Some(("the first end", first)),
        Some(("the last end", last)),
        clasp.map(|outer| ("the clasp", Estimate::exact(outer))),
    ];
    let passage = |(over, across)| passage(over, across, pendant.bail);
    all.into_iter().flatten().map(passage).collect()
}

fn passage(over: &'static str, across: Estimate, bail: f64) -> Passage {
    let chance = across.below(bail);
    let passes = match chance {
        chance if chance >= SURELY => Passes::Yes,
        chance if chance > 1.0 - SURELY => Passes::MayBe,
        _ => Passes::No,
    };
    Passage {
        over,
        across,
        passes,
        chance,
    }
}

/// How wide a finished end is.
fn end_across(job: &Job<'_>, end: End) -> Estimate {
    let bound = bound_end(job.figures, &job.piece.binding);
    if let Some(outer) = end_finding(job, end).and_then(|finding| finding.outer) {
        return Estimate::exact(outer);
    }
    let thick = job.figures.thickness_rested;
    match end {
        End::Cap => match job.piece.cap {
            Some(cap) => propagated(&[WALL], |x| cap + 2.0 * x[0]),
            None => propagated(&[bound, WALL], |x| x[0] + job.piece.glue_gap + 2.0 * x[1]),
        },
        End::FlatCap { width, .. } => propagated(&[WALL], |x| width + 2.0 * x[0]),
        End::Crimp { width } => Estimate::exact(width),
        End::Button { across } => Estimate::exact(across),
        End::Knot { .. } => propagated(&[thick, KNOT], |x| x[0] * x[1]),
        // Two cords side by side, bound.
        End::Loop { .. } => propagated(&[job.figures.width_rested], |x| 2.0 * x[0]),
        End::Tassel { .. } | End::Bare => wider(bound, job.figures),
    }
}

/// A bound end is passed after the cord: of both the wider.
fn wider(bound: Estimate, figures: &Figures) -> Estimate {
    if figures.section == Section::Flat || bound.value < figures.thickness_rested.value {
        return figures.width_rested;
    }
    bound
}

#[cfg(test)]
mod tests {
    use super::super::trial::{Trial, satin};
    use super::super::{Finding, FindingKind, Pendant};
    use super::*;

    fn found(bail: f64, end: End) -> Vec<Passes> {
        let mut bench = Trial::of(vec![satin(); 8], 1.53);
        bench.figures.width_rested = Estimate {
            value: 6.4,
            low: 6.0,
            high: 7.0,
        };
        bench.figures.thickness_rested = bench.figures.width_rested;
        bench.piece.cap = Some(6.0);
        bench.piece.ends = [End::Crimp { width: 4.0 }, end];
        bench.piece.pendant = Some(Pendant {
            name: "sea glass".into(),
            bail,
            grams: 8.0,
        });
        passages(&bench.job())
            .into_iter()
            .map(|it| it.passes)
            .collect()
    }

    #[test]
    fn a_bail_passes_where_the_whole_spread_is_narrower() {
        use Passes::{MayBe, No, Yes};
        assert_eq!(found(7.5, End::Cap), [Yes, Yes, MayBe]);
        assert_eq!(found(6.5, End::Cap), [MayBe, Yes, No]);
        assert_eq!(found(5.0, End::Bare), [No, Yes, No]);
        assert_eq!(found(30.0, End::Knot { thicknesses: 8.0 }), [Yes, Yes, Yes]);
        assert_eq!(found(12.0, End::Knot { thicknesses: 8.0 })[2], No);
    }

    #[test]
    fn a_clasp_whose_outside_is_known_is_passed_as_well() {
        let mut bench = Trial::of(vec![satin(); 8], 1.53);
        let clasp = Finding {
            name: "old hook".into(),
            kind: FindingKind::Clasp,
            inner: None,
            thickness: None,
            depth: None,
            outer: Some(9.5),
            adds: 20.0,
            metal: String::new(),
            there: 1,
            price: None,
        };
        bench.piece.closure.name.clone_from(&clasp.name);
        bench.workshop.findings.push(clasp);
        bench.piece.pendant = Some(Pendant {
            name: "bell".into(),
            bail: 9.0,
            grams: 5.0,
        });
        let found = passages(&bench.job());
        let last = found.last().unwrap();
        assert_eq!((last.over, last.passes), ("the clasp", Passes::No));
    }

    #[test]
    fn nothing_hangs_on_a_piece_without_a_pendant() {
        let bench = Trial::of(vec![satin(); 8], 1.53);
        assert!(passages(&bench.job()).is_empty());
    }
}
