//! What on the maker's shelf the bound end goes into.

use crate::plan::{CapFit, Suited, Workshop};

/// Most that are named.
const NAMED: usize = 3;

/// The likeliest of them in one line; nothing without any, or without findings.
pub(super) fn words(workshop: &Workshop, suited: &[Suited]) -> Option<String> {
    let named = suited.iter().take(NAMED).filter_map(|it| {
        let finding = workshop.findings.get(it.finding)?;
        let sure = match it.verdict.fit {
            CapFit::Fits => "fits".to_owned(),
            _ => format!("{:.0} in 100", 100.0 * it.verdict.fits),
        };
        Some(format!(
            "{} ({sure}, {} there)",
            finding.name, finding.there
        ))
    });
    let named: Vec<String> = named.collect();
    (!named.is_empty()).then(|| format!("From the shelf: {}", named.join("; ")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Finding, FindingKind, cap_verdict};
    use crate::quantity::Estimate;

    #[test]
    fn the_shelf_is_told_by_name_and_chance_and_without_any_nothing_is_said() {
        let mut workshop = Workshop::default();
        assert_eq!(words(&workshop, &[]), None);
        workshop.findings.push(Finding {
            name: "brass cap".into(),
            kind: FindingKind::Cap,
            inner: Some(6.0),
            thickness: None,
            depth: None,
            outer: None,
            adds: 0.0,
            metal: "brass".into(),
            there: 4,
            price: None,
        });
        let told = |half: f64| {
            let bound = Estimate {
                value: 5.7,
                low: 5.7 - half,
                high: 5.7 + half,
            };
            let verdict = cap_verdict(bound, 6.0, 0.3);
            words(
                &workshop,
                &[Suited {
                    finding: 0,
                    verdict,
                }],
            )
        };
        let sure = told(0.1).unwrap();
        assert_eq!(sure, "From the shelf: brass cap (fits, 4 there)");
        let likely = told(0.3).unwrap();
        assert_eq!(likely, "From the shelf: brass cap (81 in 100, 4 there)");
    }
}
