//! Findings, binding thread and glue of the ends.

use std::f64::consts::PI;

use super::caution::glue;
use super::cut::CutList;
use super::end::bound_end;
use super::order::to_order;
use super::purchase::{Need, Ware};
use super::workshop::{Finding, FindingKind};
use super::{End, Job};
use crate::quantity::Money;

/// A finding's inner measure may be off by this and still be the one meant, mm.
const SAME_SIZE: f64 = 0.05;
/// Binding thread that the hands need beyond what lies round an end, mm. Our guess.
const TO_HOLD: f64 = 200.0;

/// Lines for all that goes on the ends of all pieces.
pub(super) fn found(job: &Job<'_>, list: &CutList) -> Vec<Need> {
    let pieces: u32 = list.runs.iter().map(|run| run.pieces).sum();
    let mut needs: Vec<Need> = Vec::new();
    for (name, each) in wanted(job) {
        needs.push(finding(job, name, each * pieces));
    }
    needs.extend(binding(job, pieces));
    needs.extend(glued(job, pieces));
    needs
}

/// What the maker calls them, with how many a piece has.
fn wanted(job: &Job<'_>) -> Vec<(String, u32)> {
    let mut names: Vec<(String, u32)> = Vec::new();
    let ends = job.piece.ends.into_iter();
    let ends = ends.filter_map(|end| of_end(job, end));
    for name in ends.chain(of_clasp(job)).chain(of_pendant(job)) {
        match names.iter_mut().find(|(other, _)| *other == name) {
            Some((_, count)) => *count += 1,
            None => names.push((name, 1)),
        }
    }
    names
}

/// The clasp that the piece names, if the workshop knows it.
pub(super) fn clasp<'a>(job: &Job<'a>) -> Option<&'a Finding> {
    let name = &job.piece.closure.name;
    job.workshop
        .findings
        .iter()
        .find(|finding| finding.name == *name)
}

/// The pendant, if the workshop knows it by its name.
pub(super) fn pendant<'a>(job: &Job<'a>) -> Option<&'a Finding> {
    let name = &job.piece.pendant.as_ref()?.name;
    let mut findings = job.workshop.findings.iter();
    findings.find(|finding| finding.name == *name)
}

fn of_clasp(job: &Job<'_>) -> Option<String> {
    let closure = &job.piece.closure;
    (!closure.name.trim().is_empty()).then(|| closure.name.clone())
}

fn of_pendant(job: &Job<'_>) -> Option<String> {
    let pendant = job.piece.pendant.as_ref()?;
    (!pendant.name.trim().is_empty()).then(|| pendant.name.clone())
}

/// Whether the cord is glued into the clasp itself: one of the workshop with room inside,
/// or one it does not know whose length holds both ends.
fn takes_the_ends(job: &Job<'_>) -> bool {
    let named = !job.piece.closure.name.trim().is_empty();
    clasp(job).map_or(named && job.piece.closure.with_ends, |clasp| {
        clasp.inner.is_some()
    })
}

/// What an end needs, by the name of the workshop's finding of that size. A clasp into
/// which the cord is glued is its own cap.
fn of_end(job: &Job<'_>, end: End) -> Option<String> {
    if matches!(end, End::Cap | End::FlatCap { .. }) && takes_the_ends(job) {
        return None;
    }
    let named = end_finding(job, end).map(|finding| finding.name.clone());
    let plain = match end {
        End::Cap => cap_in_words(job),
        End::FlatCap { width, thickness } => {
            format!("flat end cap, {width} × {thickness} mm inside")
        }
        End::Crimp { width } => format!("crimp end, {width} mm"),
        End::Button { across } => format!("button, {across} mm"),
        End::Knot { .. } | End::Tassel { .. } | End::Loop { .. } | End::Bare => return None,
    };
    Some(named.unwrap_or(plain))
}

/// The cap that was chosen, or that none is and which would likeliest do.
fn cap_in_words(job: &Job<'_>) -> String {
    if let Some(cap) = job.piece.cap {
        return format!("end cap, {cap} mm inside");
    }
    let at = job.piece.ends.iter().position(|end| *end == End::Cap);
    let likeliest = at.and_then(|at| to_order(job, at));
    likeliest.map_or_else(
        || "end cap, none chosen yet".to_owned(),
        |order| {
            format!(
                "end cap, none chosen yet: {} mm inside is likeliest to fit",
                order.inner
            )
        },
    )
}

/// The workshop's finding for an end; one that is there before one that is not.
pub(super) fn end_finding<'a>(job: &Job<'a>, end: End) -> Option<&'a Finding> {
    let same =
        |had: Option<f64>, wanted: f64| had.is_some_and(|had| (had - wanted).abs() <= SAME_SIZE);
    let fits = |finding: &&Finding| match (end, finding.kind) {
        (End::Cap, FindingKind::Cap) => job.piece.cap.is_some_and(|cap| same(finding.inner, cap)),
        (End::FlatCap { width, thickness }, FindingKind::FlatCap) => {
            same(finding.inner, width) && same(finding.thickness, thickness)
        }
        (End::Crimp { width }, FindingKind::Crimp) => same(finding.inner, width),
        (End::Button { across }, FindingKind::Other) => {
            finding.name.contains("button") && same(finding.outer, across)
        }
        _ => false,
    };
    let all = job.workshop.findings.iter().filter(fits);
    all.min_by_key(|finding| (finding.there == 0, finding.price.is_none()))
}

fn finding(job: &Job<'_>, name: String, needed: u32) -> Need {
    let known = job
        .workshop
        .findings
        .iter()
        .find(|finding| finding.name == name);
    let there = known.map_or(0, |finding| finding.there);
    let buy = needed.saturating_sub(there);
    let places = job.workshop.prices.places;
    let price = known.and_then(|finding| finding.price);
    let costs = |count: u32| price.map(|p| p.times(f64::from(count)).rounded(places));
    Need {
        ware: Ware::Finding(name),
        needed: f64::from(needed),
        there: f64::from(there),
        put_up: None,
        buy,
        cost: costs(buy).or((buy == 0).then(Money::default)),
        used: costs(needed),
        note: String::new(),
    }
}

/// What is bound: everything but a knot and what is crimped.
fn is_bound(end: End) -> bool {
    !matches!(end, End::Knot { .. } | End::Crimp { .. })
}

fn binding(job: &Job<'_>, pieces: u32) -> Option<Need> {
    let binding = job.piece.binding;
    let ends = job
        .piece
        .ends
        .into_iter()
        .filter(|&end| is_bound(end))
        .count() as f64;
    if ends == 0.0 || binding.layers == 0 || binding.thread <= 0.0 {
        return None;
    }
    let turns = binding.width / binding.thread * f64::from(binding.layers);
    let each = PI * bound_end(job.figures, &job.piece.binding).value * turns + TO_HOLD;
    let needed = each * ends * f64::from(pieces) / 1000.0;
    Some(small(
        Ware::Binding,
        needed,
        format!("{} mm thick", binding.thread),
    ))
}

fn glued(job: &Job<'_>, pieces: u32) -> Option<Need> {
    let is_glued = |end: &End| matches!(end, End::Cap | End::FlatCap { .. });
    let ends = job.piece.ends.iter().filter(|end| is_glued(end)).count() as u32;
    let needed = f64::from(ends * pieces);
    (ends > 0).then(|| small(Ware::Glue(glue(job)), needed, "a drop an end".into()))
}

/// Paid for with the small things of the workshop.
fn small(ware: Ware, needed: f64, note: String) -> Need {
    Need {
        ware,
        needed,
        there: 0.0,
        put_up: None,
        buy: 0,
        cost: Some(Money::default()),
        used: Some(Money::default()),
        note,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::plan;
    use crate::plan::trial::{Trial, satin};

    fn named(name: &str, kind: FindingKind, inner: Option<f64>) -> Finding {
        Finding {
            name: name.into(),
            kind,
            inner,
            thickness: None,
            depth: None,
            outer: None,
            adds: 0.0,
            metal: "brass".into(),
            there: 1,
            price: None,
        }
    }

    fn findings(trial: &Trial) -> Vec<(String, f64, u32)> {
        let needs = plan(&trial.job()).shopping.needs;
        let needs = needs
            .into_iter()
            .filter(|need| matches!(need.ware, Ware::Finding(_)));
        needs
            .map(|need| (need.ware.words(), need.needed, need.buy))
            .collect()
    }

    #[test]
    fn both_caps_of_every_piece_are_the_workshops_own_of_that_size() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.piece.cap = Some(6.0);
        assert_eq!(findings(&trial), [("end cap, 6 mm inside".into(), 2.0, 2)]);
        trial.workshop.findings = vec![
            named("cap 5", FindingKind::Cap, Some(5.0)),
            named("cap 6", FindingKind::Cap, Some(6.0)),
        ];
        trial.piece.from_one_cord = 3;
        assert_eq!(findings(&trial), [("cap 6".into(), 6.0, 5)]);
    }

    #[test]
    fn a_clasp_that_takes_the_cord_itself_needs_no_caps() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.piece.cap = Some(6.0);
        trial.piece.closure.name = "tube".into();
        assert_eq!(findings(&trial).len(), 2);
        trial.piece.closure.with_ends = true;
        assert_eq!(findings(&trial).len(), 1);
        trial.workshop.findings = vec![named("tube", FindingKind::Clasp, None)];
        assert_eq!(findings(&trial).len(), 2);
        trial.workshop.findings[0].inner = Some(6.0);
        assert_eq!(findings(&trial), [("tube".into(), 1.0, 0)]);
    }

    #[test]
    fn button_and_pendant_are_named_and_counted() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.piece.ends = [End::Loop { opening: 13.0 }, End::Button { across: 12.0 }];
        trial.piece.pendant = Some(crate::plan::Pendant {
            name: "sea glass".into(),
            bail: 9.0,
            grams: 11.0,
        });
        let mut horn = named("horn button", FindingKind::Other, None);
        horn.outer = Some(12.0);
        trial.workshop.findings = vec![horn];
        let wanted = [("horn button".into(), 1.0, 0), ("sea glass".into(), 1.0, 1)];
        assert_eq!(findings(&trial), wanted);
    }

    /// Two layers of 40 turns round a bound end, and what the hands hold, at both ends.
    #[test]
    fn the_binding_goes_round_as_often_as_it_is_wide() {
        let trial = Trial::of(vec![satin(); 8], 1.6);
        let needs = plan(&trial.job()).shopping.needs;
        let binding = needs
            .iter()
            .find(|need| need.ware == Ware::Binding)
            .unwrap();
        let across = bound_end(&trial.figures, &trial.piece.binding).value;
        let wanted = 2.0 * (PI * across * 80.0 + 200.0) / 1000.0;
        assert!(
            (binding.needed - wanted).abs() < 1e-9,
            "{} {wanted}",
            binding.needed
        );
    }
}
