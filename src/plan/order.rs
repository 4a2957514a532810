//! Which findings suit the ends, and which to order where none does.

use super::Job;
use super::end::{bound_end, in_cap, in_crimp, in_flat_cap};
use super::fit::{CapFit, CapVerdict};
use super::piece::End;
use super::workshop::FindingKind;

/// Inner diameters in which round caps are sold, mm. Common practice, no source.
const CAPS_MM: [f64; 19] = [
    2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 14.0, 16.0,
    18.0,
];
/// Widths in which crimps are sold, mm. Common practice, no source.
const CRIMPS_MM: [f64; 12] = [
    3.0, 5.0, 6.0, 8.0, 10.0, 13.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0,
];

/// A finding of the workshop that an end could go into.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suited {
    /// Which finding, counted from 0.
    pub finding: usize,
    /// How the end sits in it.
    pub verdict: CapVerdict,
}

/// A finding as it is sold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Order {
    /// What it is: a cap or a crimp.
    pub kind: FindingKind,
    /// Inside across, or between the jaws, mm.
    pub inner: f64,
    /// How the end sits in it.
    pub verdict: CapVerdict,
}

/// Findings that lie there and that the bound end fits or may fit, likeliest first.
pub fn suited(job: &Job<'_>) -> Vec<Suited> {
    let lies_there = |it: &Suited| job.workshop.findings[it.finding].there > 0;
    let all = holding(job).into_iter().filter(lies_there);
    let mut suited: Vec<Suited> = all.filter(|it| may(&it.verdict)).collect();
    suited.sort_by(|a, b| b.verdict.fits.total_cmp(&a.verdict.fits));
    suited
}

fn may(verdict: &CapVerdict) -> bool {
    matches!(verdict.fit, CapFit::Fits | CapFit::MayFit)
}

/// Every finding of the workshop that an end goes into, in order, with how it sits there.
fn holding(job: &Job<'_>) -> Vec<Suited> {
    let findings = job.workshop.findings.iter().enumerate();
    let one = |(finding, it): (usize, &super::Finding)| {
        let inner = it.inner?;
        let fit = match it.kind {
            FindingKind::Cap => in_cap(job, inner),
            FindingKind::FlatCap => in_flat_cap(job, inner, it.thickness?),
            FindingKind::Crimp => in_crimp(job, inner),
            // A clasp that the cord is glued into is its own cap.
            FindingKind::Clasp => in_cap(job, inner),
            FindingKind::Other => return None,
        };
        let verdict = fit.verdict;
        Some(Suited { finding, verdict })
    };
    findings.filter_map(one).collect()
}

/// What to order for an end of the piece, 0 for the one braided first: of the sizes that
/// are sold the one that likeliest fits. None for ends that need none, for flat caps, which
/// are sold in no common sizes, and where no size that is sold comes near.
pub fn to_order(job: &Job<'_>, at: usize) -> Option<Order> {
    let (kind, sold, best): (_, &[f64], _) = match job.piece.ends.get(at)? {
        End::Cap => {
            let bound = bound_end(job.figures, &job.piece.binding);
            (FindingKind::Cap, &CAPS_MM, bound.value + job.piece.glue_gap)
        }
        End::Crimp { .. } => (
            FindingKind::Crimp,
            &CRIMPS_MM,
            job.figures.width_rested.value,
        ),
        _ => return None,
    };
    let order = |&inner: &f64| Order {
        kind,
        inner,
        verdict: match kind {
            FindingKind::Crimp => in_crimp(job, inner).verdict,
            _ => in_cap(job, inner).verdict,
        },
    };
    let off = |order: &Order| (order.inner - best).abs();
    let found = sold.iter().map(order).filter(|it| may(&it.verdict));
    found.max_by(|a, b| {
        let likelier = a.verdict.fits.total_cmp(&b.verdict.fits);
        likelier.then(off(b).total_cmp(&off(a)))
    })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{Trial, satin};
    use super::super::{Finding, Workshop};
    use super::*;
    use crate::cord::Section;
    use crate::quantity::Estimate;

    fn bench() -> Trial {
        let mut bench = Trial::of(vec![satin(); 8], 1.53);
        bench.figures.bundle = Estimate {
            value: 5.3,
            low: 5.0,
            high: 5.7,
        };
        bench.piece.ends = [End::Cap; 2];
        bench
    }

    #[test]
    fn the_nearest_size_that_is_sold_is_to_be_ordered() {
        let mut bench = bench();
        // 5.3 of strands, 0.4 of thread, 0.3 of glue.
        let order = to_order(&bench.job(), 0).unwrap();
        assert_eq!((order.kind, order.inner), (FindingKind::Cap, 6.0));
        assert!(order.verdict.fits > 0.4, "{order:?}");
        bench.piece.ends[1] = End::Crimp { width: 6.0 };
        bench.figures.section = Section::Flat;
        bench.figures.width_rested = Estimate::exact(12.1);
        assert_eq!(to_order(&bench.job(), 1).unwrap().inner, 13.0);
        bench.piece.ends[1] = End::Bare;
        assert_eq!(to_order(&bench.job(), 1), None);
        bench.figures.bundle = Estimate::exact(40.0);
        assert_eq!(to_order(&bench.job(), 0), None, "no cap is so wide");
    }

    #[test]
    fn findings_that_hold_no_end_are_passed_over() {
        let cap = |name: &str, kind, inner| Finding {
            name: name.into(),
            kind,
            inner,
            thickness: None,
            depth: None,
            outer: None,
            adds: 0.0,
            metal: String::new(),
            there: 2,
            price: None,
        };
        let mut bench = bench();
        bench.workshop = Workshop {
            findings: vec![
                cap("bail", FindingKind::Other, Some(5.0)),
                cap("cap 5", FindingKind::Cap, Some(5.0)),
                cap("lobster", FindingKind::Clasp, None),
                cap("cap 6", FindingKind::Cap, Some(6.0)),
            ],
            ..Workshop::default()
        };
        let found = holding(&bench.job());
        let fits: Vec<_> = found
            .iter()
            .map(|it| (it.finding, it.verdict.fit))
            .collect();
        assert_eq!(fits, [(1, CapFit::TooSmall), (3, CapFit::MayFit)]);
        let lie_there: Vec<_> = suited(&bench.job()).iter().map(|it| it.finding).collect();
        assert_eq!(lie_there, [3]);
        bench.workshop.findings[3].there = 0;
        assert!(suited(&bench.job()).is_empty());
    }
}
