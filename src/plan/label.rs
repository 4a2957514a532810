//! The label for the buyer: what it is made of and how to keep it.
//!
//! Shares are of the mass of the cord itself, tex × take-up, in whole per cent that add up
//! to a hundred. Care is that of the most delicate fibre. Common practice, no source.

use super::Job;
use super::caution::{in_use, metals, substances};
use crate::material::{Construction, Strand, Substance};

/// Words for a label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Fibres by share of mass, largest first, such as "62 % polyester".
    pub fibres: Vec<String>,
    /// Metals of the findings.
    pub metals: Vec<String>,
    /// Latex, dyes, beads: what a buyer may ask after.
    pub remarks: Vec<String>,
    /// How to clean and keep it, by the most delicate of its fibres.
    pub care: Vec<String>,
}

/// The label of this cord.
pub(super) fn label(job: &Job<'_>) -> Label {
    Label {
        fibres: fibres(job),
        metals: metals(job),
        remarks: remarks(job),
        care: care(job),
    }
}

/// Mass of a metre of cord by what it is made of, in the order of the strands.
fn masses(job: &Job<'_>) -> Vec<(String, f64)> {
    let mut masses: Vec<(String, f64)> = Vec::new();
    let take_up = |strand: usize| job.figures.take_up.get(strand).map_or(1.0, |t| t.value);
    // A core is as long as the cord on the disc.
    let on_disc = 1.0 / (1.0 + job.figures.off_weight.value / 100.0);
    let strands = job
        .strands
        .iter()
        .enumerate()
        .map(|(at, strand)| (strand, take_up(at)));
    let cores = job.cores.iter().map(|core| (core, on_disc));
    for (substance, tex) in strands
        .chain(cores)
        .flat_map(|(s, used)| parts(job, s, used))
    {
        match masses.iter_mut().find(|(other, _)| *other == substance) {
            Some((_, mass)) => *mass += tex,
            None => masses.push((substance, tex)),
        }
    }
    masses
}

fn parts(job: &Job<'_>, strand: &Strand, used: f64) -> Vec<(String, f64)> {
    let made_of = strand.made_of(job.fibres).unwrap_or_default();
    let part = |(fibre, ends): (&crate::material::Fibre, u16)| {
        (
            fibre.substance.clone(),
            fibre.tex.value * f64::from(ends) * used,
        )
    };
    made_of.into_iter().map(part).collect()
}

/// `62 % polyester`, largest first.
fn fibres(job: &Job<'_>) -> Vec<String> {
    let mut masses = masses(job);
    masses.sort_by(|a, b| b.1.total_cmp(&a.1));
    let shares = whole_per_cents(&masses.iter().map(|(_, mass)| *mass).collect::<Vec<_>>());
    let said = masses
        .iter()
        .zip(shares)
        .map(|((substance, _), share)| match share {
            0 => format!("under 1 % {substance}"),
            _ => format!("{share} % {substance}"),
        });
    said.collect()
}

/// Whole per cent that add up to a hundred: what is left after rounding down goes to the
/// largest remainders. None of nothing.
fn whole_per_cents(masses: &[f64]) -> Vec<u32> {
    let all: f64 = masses.iter().sum();
    if all.is_nan() || all <= 0.0 {
        return Vec::new();
    }
    let exact: Vec<f64> = masses.iter().map(|mass| 100.0 * mass / all).collect();
    let mut whole: Vec<u32> = exact.iter().map(|share| share.floor() as u32).collect();
    let left = 100_usize.saturating_sub(whole.iter().sum::<u32>() as usize);
    let mut by_rest: Vec<usize> = (0..exact.len()).collect();
    by_rest.sort_by(|&a, &b| exact[b].fract().total_cmp(&exact[a].fract()));
    for &at in by_rest.iter().take(left) {
        whole[at] += 1;
    }
    whole
}

fn remarks(job: &Job<'_>) -> Vec<String> {
    use Substance::{Elastomer, Glass, Leather, MetallisedFilm, Pvc, Rubber};
    let fibres = in_use(job);
    let has = |wanted: Substance| fibres.iter().any(|f| substances(f).contains(&wanted));
    let waxed = fibres.iter().any(|fibre| {
        use Construction::{WaxedCotton, WaxedLinen, WaxedPolyester};
        matches!(
            fibre.construction,
            WaxedCotton | WaxedLinen | WaxedPolyester
        )
    });
    let all = [
        (
            has(Rubber) || has(Elastomer),
            "may hold natural rubber latex",
        ),
        (
            has(Glass),
            "with glass beads: small parts, not for children under three",
        ),
        (has(MetallisedFilm), "with metallised thread"),
        (has(Leather), "leather is coloured: it may rub off when wet"),
        (has(Pvc), "with PVC"),
        (waxed, "waxed"),
        (
            job.piece.closure.magnetic,
            "magnetic closure: keep from children and implants",
        ),
        (true, "dyed thread: wear it apart from pale cloth at first"),
        (true, "decorative: holds no load"),
    ];
    all.into_iter()
        .filter(|(is_so, _)| *is_so)
        .map(|(_, said)| said.to_owned())
        .collect()
}

/// From the hardiest to the most delicate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Care {
    HandWash,
    CoolWash,
    WipeDamp,
    WipeDry,
}

fn care_of(substance: Substance) -> Care {
    use Substance as S;
    match substance {
        S::Polyester | S::Nylon | S::Acrylic | S::Polypropylene => Care::HandWash,
        S::Cotton | S::MercerisedCotton | S::Linen | S::Hemp => Care::HandWash,
        S::Wool | S::Alpaca | S::Silk | S::Acetate => Care::CoolWash,
        S::Pvc | S::Elastomer | S::Rubber | S::Glass => Care::WipeDamp,
        S::MetallisedFilm | S::Viscose => Care::WipeDamp,
        S::Leather | S::Paper => Care::WipeDry,
    }
}

fn care(job: &Job<'_>) -> Vec<String> {
    let fibres = in_use(job);
    // What is not known is treated gently.
    let of = |f: &&crate::material::Fibre| {
        substances(f)
            .into_iter()
            .map(care_of)
            .max()
            .unwrap_or(Care::WipeDamp)
    };
    let clean = match fibres.iter().map(of).max().unwrap_or(Care::HandWash) {
        Care::HandWash => "Wash by hand at 30 °C, rinse, press in a towel, dry flat.",
        Care::CoolWash => {
            "Wash by hand in cool water with mild soap, do not rub or wring, dry flat."
        }
        Care::WipeDamp => "Wipe with a damp cloth and dry at once; do not soak.",
        Care::WipeDry => "Wipe with a dry cloth; keep it from water.",
    };
    [
        clean,
        "No bleach, no tumble dryer, no iron.",
        "Take it off to bathe, sleep and play; keep it from perfume and sun.",
    ]
    .map(str::to_owned)
    .into()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::plan::plan;
    use crate::plan::trial::{Trial, satin, single};

    /// Tex × take-up by hand: two strands of satin at 1.6 and two of leather at 1.5.
    #[test]
    fn shares_are_of_mass_and_thick_strands_count_for_more() {
        let mut trial = Trial::of(
            vec![
                satin(),
                satin(),
                single("leather lace 1 mm, round"),
                single("leather lace 1 mm, round"),
            ],
            1.6,
        );
        for take_up in &mut trial.figures.take_up[2..] {
            take_up.value = 1.5;
        }
        let tex = |name: &str| crate::material::on_shelf(name).unwrap().tex.value;
        let satin = tex("satin cord 2 mm, polyester") * 1.6;
        let leather = tex("leather lace 1 mm, round") * 1.5;
        let share = (100.0 * satin / (satin + leather)).round();
        let label = plan(&trial.job()).label;
        assert_eq!(
            label.fibres,
            [
                format!("{share} % polyester"),
                format!("{} % leather", 100.0 - share)
            ]
        );
        assert!(label.care[0].contains("dry cloth"), "{:?}", label.care);
    }

    #[test]
    fn latex_beads_and_magnets_are_named() {
        let mut trial = Trial::of(vec![single("rubber cord 2 mm, solid"); 3], 1.6);
        trial.strands[0] = single("strung seed beads 8/0, clear glass");
        trial.piece.closure.magnetic = true;
        let remarks = plan(&trial.job()).label.remarks.join("; ");
        for word in ["latex", "glass beads", "magnetic", "holds no load"] {
            assert!(remarks.contains(word), "{word}: {remarks}");
        }
    }

    proptest! {
        #[test]
        fn whole_per_cents_add_up_and_none_is_off_by_one(masses in prop::collection::vec(0.01..1000.0, 1..12)) {
            let shares = whole_per_cents(&masses);
            prop_assert_eq!(shares.iter().sum::<u32>(), 100);
            let all: f64 = masses.iter().sum();
            for (share, mass) in shares.iter().zip(&masses) {
                prop_assert!((f64::from(*share) - 100.0 * mass / all).abs() < 1.0);
            }
        }
    }
}
