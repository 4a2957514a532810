//! What can hurt, said where it arises.
//!
//! The program advises; local rules and a measured sample come first. Which fibre takes
//! flame and which glue: common practice of the trade, no source. Rules are named as
//! they stand in the text of the rule; limits are left to it, for editions change.

use super::findings::{clasp, end_finding, pendant};
use super::{Closure, End, Job, Kind, Wearer};
use crate::material::{Construction, Fibre, Substance};

/// What stands under every list of cautions.
pub const LOCAL_RULES_FIRST: &str =
    "This is advice, not a rule: local rules and a measured sample come first.";

/// Where a caution is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Where {
    /// With the ends and findings.
    Ends,
    /// With the wearer and the kind of piece.
    Wearer,
    /// With what is cut and bought.
    Material,
    /// With the work of the hands.
    Work,
}

/// One caution.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// Where it arises.
    pub place: Where,
    /// What may happen, one short sentence.
    pub what: String,
    /// What to do about it.
    pub advice: String,
    /// The standard or rule, by its name; empty for common practice.
    pub rule: &'static str,
}

fn caution(place: Where, what: impl Into<String>, advice: &str, rule: &'static str) -> Caution {
    Caution {
        place,
        what: what.into(),
        advice: advice.to_owned(),
        rule,
    }
}

/// What applies to these fibres, ends and wearers, by place.
pub(super) fn cautions(job: &Job<'_>) -> Vec<Caution> {
    let mut all = of_ends(job);
    all.extend(of_wearer(job));
    all.extend(of_material(job));
    all.extend(of_work(job));
    all
}

/// The fibres that are braided or braided round, each once.
pub(super) fn in_use<'a>(job: &Job<'a>) -> Vec<&'a Fibre> {
    let strands = job.strands.iter().chain(job.cores);
    let names: Vec<&str> = strands
        .flat_map(|s| &s.parts)
        .map(|p| p.fibre.as_str())
        .collect();
    let fibres = job.fibres.iter();
    fibres
        .filter(|fibre| names.contains(&fibre.name.as_str()))
        .collect()
}

/// What a fibre is made of, by the words of its substance; empty where none is known.
pub(super) fn substances(fibre: &Fibre) -> Vec<Substance> {
    let said = fibre.substance.to_lowercase();
    let named = |substance: &Substance| said.contains(&substance.name().to_lowercase());
    Substance::ALL.into_iter().filter(named).collect()
}

/// What heat does to the end of a strand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Flame {
    /// It melts and seals.
    Seals,
    /// It burns, scorches or gives off fumes.
    Never,
}

fn flame(fibre: &Fibre) -> Flame {
    use Substance::{Acetate, Nylon, Polyester, Polypropylene};
    let melts = |s: &Substance| matches!(s, Polyester | Nylon | Polypropylene | Acetate);
    let made_of = substances(fibre);
    if !made_of.is_empty() && made_of.iter().all(melts) {
        return Flame::Seals;
    }
    Flame::Never
}

/// Glues from the easiest to the most particular; a cord takes that of its most
/// particular fibre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Glue {
    Any,
    Textile,
    Epoxy,
    NoAcetone,
    Leather,
    Waxed,
    Rubber,
}

fn glue_of(fibre: &Fibre) -> Glue {
    use Substance as S;
    let of = |substance: &Substance| match substance {
        S::Leather => Glue::Leather,
        S::Pvc | S::Elastomer | S::Rubber => Glue::Rubber,
        S::Acetate => Glue::NoAcetone,
        S::Silk | S::Wool | S::Alpaca => Glue::Textile,
        S::Viscose | S::Acrylic | S::MetallisedFilm | S::Polypropylene | S::Glass => Glue::Epoxy,
        _ => Glue::Any,
    };
    let waxed = matches!(
        fibre.construction,
        Construction::WaxedCotton | Construction::WaxedLinen | Construction::WaxedPolyester
    );
    let own = substances(fibre)
        .iter()
        .map(of)
        .max()
        .unwrap_or(Glue::Epoxy);
    if waxed { own.max(Glue::Waxed) } else { own }
}

/// The kind of glue for the ends of this cord.
pub(super) fn glue(job: &Job<'_>) -> &'static str {
    match in_use(job).into_iter().map(glue_of).max() {
        None | Some(Glue::Any) => "gel cyanoacrylate or two-part epoxy",
        Some(Glue::Textile) => {
            "textile glue or epoxy; cyanoacrylate whitens silk and stiffens wool"
        }
        Some(Glue::Epoxy) => "two-part epoxy",
        Some(Glue::NoAcetone) => "epoxy, nothing with acetone: it dissolves acetate",
        Some(Glue::Leather) => "contact glue or epoxy; roughen and degrease 5 mm first",
        Some(Glue::Waxed) => "epoxy, after the wax is scraped off for 8 mm",
        Some(Glue::Rubber) => "rubber-grade cyanoacrylate; silicone takes none, crimp it",
    }
}

/// Names of fibres in a row: `silk, wool and paper`.
fn listed<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let names: Vec<&str> = names.into_iter().collect();
    match names.split_last() {
        None => String::new(),
        Some((last, [])) => (*last).to_owned(),
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
    }
}

fn of_ends(job: &Job<'_>) -> Vec<Caution> {
    use Where::Ends;
    let fibres = in_use(job);
    let with = |wanted: Flame| {
        let of = fibres.iter().filter(move |fibre| flame(fibre) == wanted);
        listed(of.map(|fibre| fibre.name.as_str()))
    };
    let (never, seals) = (with(Flame::Never), with(Flame::Seals));
    let mut all = Vec::new();
    if !never.is_empty() {
        let what = format!("{never}: no flame; it burns, scorches or gives off fumes");
        all.push(caution(
            Ends,
            what,
            "Bind the ends with thread and glue them.",
            "",
        ));
    }
    if !seals.is_empty() && never.is_empty() {
        let what =
            format!("{seals} melts: drops stick to skin and burn on, and the fumes are harmful");
        all.push(caution(Ends, what, "Use a hot knife or a small flame in moving air, roll the end with a tool and never with bare fingers.", ""));
    } else if !seals.is_empty() {
        let what = format!("{seals} would melt, but lies beside what burns");
        all.push(caution(
            Ends,
            what,
            "Keep flame and hot knife away from this cord.",
            "",
        ));
    }
    if job
        .piece
        .ends
        .iter()
        .any(|end| matches!(end, End::Cap | End::FlatCap { .. }))
    {
        let advice = format!(
            "Use {}. Air the room, keep it off skin and eyes, and follow the glue's label.",
            glue(job)
        );
        all.push(caution(
            Ends,
            "Glue sticks skin and gives off vapour",
            &advice,
            "",
        ));
    }
    all.extend(of_metal(job));
    all.extend(of_magnets(&job.piece.closure));
    all
}

/// Whether it lies on skin for long.
fn is_worn(kind: Kind) -> bool {
    !matches!(kind, Kind::KeyFob | Kind::BagHandle)
}

fn is_round_the_neck(kind: Kind) -> bool {
    matches!(kind, Kind::Necklace | Kind::Lanyard | Kind::SpectacleCord)
}

/// Metals of the findings it has; a finding whose metal is not known counts as metal.
pub(super) fn metals(job: &Job<'_>) -> Vec<String> {
    let of_ends = job
        .piece
        .ends
        .into_iter()
        .filter_map(|end| end_finding(job, end));
    let known = of_ends.chain(clasp(job)).chain(pendant(job));
    let mut metals: Vec<String> = known.map(|finding| finding.metal.clone()).collect();
    metals.retain(|metal| !metal.trim().is_empty());
    metals.sort();
    metals.dedup();
    metals
}

fn has_metal(job: &Job<'_>) -> bool {
    let is_metal = |end: End| {
        matches!(end, End::Cap | End::FlatCap { .. } | End::Crimp { .. })
            && end_finding(job, end).is_none_or(|finding| !finding.metal.trim().is_empty())
    };
    let clasp_is = clasp(job).map_or(!job.piece.closure.name.trim().is_empty(), |finding| {
        !finding.metal.trim().is_empty()
    });
    job.piece.ends.into_iter().any(is_metal) || clasp_is || job.piece.pendant.is_some()
}

fn of_metal(job: &Job<'_>) -> Vec<Caution> {
    if !has_metal(job) || !is_worn(job.piece.kind) {
        return Vec::new();
    }
    let nickel = caution(
        Where::Ends,
        "Metal on skin can set off a nickel allergy for life",
        "Buy findings with a maker's word on nickel release; name the metals on the label.",
        "REACH (EC 1907/2006), Annex XVII, entry 27; test EN 1811",
    );
    let lead = caution(
        Where::Ends,
        "Cheap metal may hold lead or cadmium",
        "Buy findings with a maker's word on both; never for children without it.",
        "REACH (EC 1907/2006), Annex XVII, entries 63 and 23",
    );
    vec![nickel, lead]
}

fn of_magnets(closure: &Closure) -> Option<Caution> {
    closure.magnetic.then(|| {
        caution(
            Where::Ends,
            "A swallowed magnet is an emergency, and magnets disturb implants",
            "Not for children, not for people with a pacemaker or another implant; say so on the label.",
            "",
        )
    })
}

fn of_wearer(job: &Job<'_>) -> Vec<Caution> {
    use Where::Wearer as At;
    let piece = job.piece;
    let neck = is_round_the_neck(piece.kind);
    let mut all = Vec::new();
    match piece.wearer {
        Wearer::Infant => {
            all.push(caution(At, "Beads, caps and clasps are small parts: a child under three can choke on them", "Not for a child under three; say so on the label.", "16 CFR 1501; EN 71-1"));
            all.push(caution(At, "A cord can strangle a small child", "Nothing to wear round neck, wrist or ankle, in a cot or while playing, without a grown-up's eye on it.", "EN 71-1; EN 14682"));
        }
        Wearer::Child if neck => all.push(caution(At, "A cord round a child's neck can strangle", "Use a breakaway clasp; cords at the neck of children's clothing are regulated or forbidden.", "EN 14682")),
        Wearer::Child => all.push(caution(At, "Loose ends and loops of a child's cord can catch", "Keep ends short and loops small.", "EN 14682; EN 71-1")),
        Wearer::Grown => {}
    }
    if neck && !piece.closure.breakaway {
        let what = "It does not come open by itself when it catches";
        let advice = match piece.kind {
            Kind::Lanyard => {
                "Fit a breakaway clasp; never at moving machines, asleep, or for children."
            }
            _ => {
                "Take it off at moving machines and to sleep; for children only with a breakaway clasp."
            }
        };
        all.push(caution(At, what, advice, ""));
    }
    if piece.closure.breakaway {
        all.push(caution(
            At,
            "A breakaway clasp lets go at a pull that only a test tells",
            "Hang what it has to carry on it, then pull it open by hand, before it is worn.",
            "",
        ));
    }
    all
}

fn of_material(job: &Job<'_>) -> Vec<Caution> {
    use Where::Material;
    let fibres = in_use(job);
    let has = |wanted: &[Substance]| {
        fibres
            .iter()
            .any(|f| substances(f).iter().any(|s| wanted.contains(s)))
    };
    let mut all = Vec::new();
    if has(&[Substance::Rubber, Substance::Elastomer]) {
        all.push(caution(
            Material,
            "Rubber may hold natural latex, which some people must not touch",
            "Ask the seller, and name it on the label.",
            "",
        ));
    }
    if has(&[Substance::Leather]) {
        all.push(caution(
            Material,
            "Leather can hold chromium VI and loose dye",
            "Buy it with the tanner's word; rub a damp white cloth on it first.",
            "REACH (EC 1907/2006), Annex XVII, entries 47 and 43",
        ));
    } else if is_worn(job.piece.kind) {
        all.push(caution(
            Material,
            "Dyes may bleed on skin and cloth",
            "Rub each colour with a damp white cloth before it is braided.",
            "REACH (EC 1907/2006), Annex XVII, entry 43",
        ));
    }
    if has(&[Substance::Pvc]) {
        all.push(caution(
            Material,
            "PVC may hold phthalates",
            "Not for children without the maker's word.",
            "REACH (EC 1907/2006), Annex XVII, entry 51",
        ));
    }
    if has(&[Substance::Glass]) {
        all.push(caution(
            Material,
            "Glass beads break into splinters",
            "Wear glasses when breaking one out; throw chipped ones away.",
            "",
        ));
    }
    let unknown = fibres.iter().filter(|fibre| substances(fibre).is_empty());
    let unknown = listed(unknown.map(|fibre| fibre.name.as_str()));
    if !unknown.is_empty() {
        let what = format!("What {unknown} is made of is not known here");
        all.push(caution(
            Material,
            what,
            "Try glue and heat on a scrap, in moving air.",
            "",
        ));
    }
    all
}

fn of_work(job: &Job<'_>) -> Vec<Caution> {
    use Where::Work;
    let mut all = vec![caution(
        Work,
        "A decorative cord holds no person, animal or load; its strength is not computed here",
        "Never for climbing, lifting, rescue or tethering.",
        "",
    )];
    if matches!(
        job.piece.kind,
        Kind::BagHandle | Kind::Lanyard | Kind::KeyFob
    ) || job.piece.pendant.is_some()
    {
        all.push(caution(Work, "What hangs on it may fall", "Light things only, nothing whose fall could hurt; pull-test a sample with several times the weight.", ""));
    }
    all.push(caution(
        Work,
        "The same movement for hours strains hands and shoulders",
        "Take breaks, change the hand, and see a professional when it hurts.",
        "",
    ));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::shelf;
    use crate::plan::plan;
    use crate::plan::trial::{Trial, satin, single};

    fn said(trial: &Trial) -> String {
        let cautions = plan(&trial.job()).cautions;
        let lines = cautions
            .iter()
            .map(|c| format!("{}. {} {}", c.what, c.advice, c.rule));
        lines.collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn every_fibre_of_the_shelf_is_known_by_its_substance() {
        for fibre in shelf() {
            assert!(
                !substances(fibre).is_empty(),
                "{}: {}",
                fibre.name,
                fibre.substance
            );
        }
    }

    #[test]
    fn flame_is_for_what_melts_and_lies_beside_nothing_that_burns() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        assert!(said(&trial).contains("small flame"), "{}", said(&trial));
        trial.strands[3] = single("pearl cotton no. 5");
        let told = said(&trial);
        assert!(
            told.contains("pearl cotton no. 5: no flame") && !told.contains("small flame"),
            "{told}"
        );
        let metal = Trial::of(vec![single("metallised braid 1 mm"); 4], 1.6);
        assert!(said(&metal).contains("no flame"), "{}", said(&metal));
    }

    #[test]
    fn the_glue_is_that_of_the_most_particular_fibre() {
        for (fibre, word) in [
            ("satin cord 2 mm, polyester", "cyanoacrylate"),
            ("plied silk cord 1 mm", "whitens"),
            ("leather lace 2 mm, round", "contact glue"),
            ("waxed cotton cord 1 mm", "wax"),
            ("rubber cord 2 mm, solid", "rubber-grade"),
        ] {
            let mut trial = Trial::of(vec![satin(); 4], 1.6);
            trial.strands[1] = single(fibre);
            assert!(glue(&trial.job()).contains(word), "{fibre}");
        }
    }

    #[test]
    fn a_childs_neck_cord_names_the_standard_and_asks_for_a_breakaway() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.piece.kind = Kind::Necklace;
        assert!(!said(&trial).contains("EN 14682"));
        trial.piece.wearer = Wearer::Child;
        assert!(said(&trial).contains("EN 14682") && said(&trial).contains("breakaway"));
        trial.piece.wearer = Wearer::Infant;
        assert!(said(&trial).contains("16 CFR 1501; EN 71-1"));
        trial.piece.kind = Kind::Lanyard;
        trial.piece.wearer = Wearer::Grown;
        assert!(said(&trial).contains("Fit a breakaway clasp"));
        trial.piece.closure.breakaway = true;
        assert!(!said(&trial).contains("Fit a breakaway clasp"));
    }

    #[test]
    fn metal_is_named_where_it_lies_on_skin_and_only_there() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.piece.kind = Kind::Bracelet;
        assert!(said(&trial).contains("entry 27"));
        trial.piece.kind = Kind::KeyFob;
        assert!(!said(&trial).contains("entry 27"));
        trial.piece.kind = Kind::Bracelet;
        trial.piece.ends = [End::Knot { thicknesses: 6.0 }; 2];
        assert!(!said(&trial).contains("entry 27"));
        trial.piece.closure.magnetic = true;
        assert!(said(&trial).contains("swallowed magnet"));
    }

    #[test]
    fn loads_and_hands_are_always_spoken_of() {
        let mut trial = Trial::of(vec![single("leather lace 2 mm, round"); 4], 1.6);
        let told = said(&trial);
        assert!(told.contains("no person, animal or load") && told.contains("Take breaks"));
        assert!(told.contains("chromium VI"), "{told}");
        trial.piece.kind = Kind::BagHandle;
        assert!(said(&trial).contains("Light things only"));
    }
}
