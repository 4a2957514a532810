//! Bobbins: which take the strands, how they are paid out, what hangs below.
//!
//! A bobbin takes as much of a strand as has the volume of what it takes of 2 mm:
//! `holds · (2/d)²`. Cords of a run are braided one after another, so the same bobbins
//! serve them all. Every usual figure here: common practice, no source.

use super::cut::{Cut, CutList};
use super::workshop::{Bobbin, Table};
use super::{Job, mean_diameter};
use crate::cord::Tension;
use crate::quantity::Estimate;

/// Thickness of the strand that [`Bobbin::holds`] is meant of, mm.
const HELD_STRAND_MM: f64 = 2.0;
/// What hangs from the slot down to the bobbin, mm. Our guess of a handy length.
const HANGS: f64 = 150.0;
/// Counterweight on a stand as a share of all bobbins: least, usual, most.
const ON_A_STAND: [f64; 3] = [0.45, 0.475, 0.5];
/// Strands that the usual counterweights under a disc are meant of.
const EVERYDAY_STRANDS: f64 = 8.0;
/// So little strand beyond what hangs out is left to hang with it, mm. Our guess.
const LEFT_TO_HANG: f64 = 300.0;
/// Strand thickness, mm, and the counterweight usual under a disc, g: least, usual, most.
const UNDER_A_DISC: [(f64, [f64; 3]); 3] = [
    (0.5, [20.0, 30.0, 50.0]),
    (1.5, [50.0, 70.0, 100.0]),
    (3.0, [100.0, 125.0, 150.0]),
];

/// How one cut is wound.
#[derive(Debug, Clone, PartialEq)]
pub struct Wound {
    /// The cut, counted from 0 in the list.
    pub cut: usize,
    /// Name of the bobbin that takes it; none if there is none large enough.
    pub bobbin: Option<String>,
    /// How many of them.
    pub count: u32,
    /// How many of these the maker lacks.
    pub lacking: u32,
    /// Whether the strand is so short that it hangs without a bobbin.
    pub hangs: bool,
    /// What one bobbin takes of this strand, m; the largest, if none is large enough.
    pub holds: f64,
    /// Joins a strand needs since no bobbin takes it whole.
    pub joins: u32,
    /// Cord, rested, after which the first of them comes, mm.
    pub join_after: Option<f64>,
    /// Strand let off the bobbin at a time, mm.
    pub pay_out: f64,
}

/// Bobbins and counterweight.
#[derive(Debug, Clone, PartialEq)]
pub struct Bobbins {
    /// Cut by cut, but for cores: they hang by themselves.
    pub wound: Vec<Wound>,
    /// All bobbins of the piece itself together with what is on them, full, g.
    pub grams: Estimate,
    /// The counterweight of the design, g.
    pub counterweight: f64,
    /// What is usual for these bobbins or this disc, g.
    pub usual: Estimate,
    /// One sentence on what the counterweight does against the usual.
    pub advice: String,
    /// What does not fit together, one sentence each.
    pub notes: Vec<String>,
}

/// How the lengths are wound and what hangs below.
pub(super) fn bobbins(job: &Job<'_>, list: &CutList) -> Bobbins {
    let pay_out = match job.workshop.table {
        Table::Disc { radius } => radius + HANGS,
        Table::Stand { reach } => reach,
    };
    let wound = wound(job, list, pay_out);
    let grams = all_grams(job, list, &wound);
    let strands = job.strands.len() as f64;
    let usual = match (job.tension, job.workshop.table) {
        (_, Table::Stand { .. }) => shares(ON_A_STAND, grams),
        (Tension::Bobbins(meant), Table::Disc { .. }) => {
            shares(ON_A_STAND, Estimate::exact(meant * strands))
        }
        // The slots of more strands hold more; the share of their pull stays. Our guess.
        (Tension::Slots(_), Table::Disc { .. }) => {
            under_a_disc(mean_diameter(job)).times(strands / EVERYDAY_STRANDS)
        }
    };
    Bobbins {
        notes: notes(job, &wound, grams),
        wound,
        grams,
        counterweight: job.counterweight,
        usual,
        advice: advice(job.counterweight, usual),
    }
}

fn wound(job: &Job<'_>, list: &CutList, pay_out: f64) -> Vec<Wound> {
    let mut all: Vec<Wound> = Vec::new();
    for run in 0..list.runs.len() {
        let mut left: Vec<u32> = job
            .workshop
            .bobbins
            .iter()
            .map(|b| b.there.into())
            .collect();
        for (number, cut) in list.cuts.iter().enumerate() {
            if cut.run == run && !cut.is_core(job.strands.len()) {
                all.push(one_wound(job, list, number, pay_out, &mut left));
            }
        }
    }
    all
}

/// The smallest bobbin that takes it and is there often enough, else the smallest that
/// takes it.
fn taking(
    bobbins: &[Bobbin],
    left: &[u32],
    count: u32,
    takes: impl Fn(&Bobbin) -> bool,
) -> Option<usize> {
    let mut by_size: Vec<usize> = (0..bobbins.len()).collect();
    by_size.retain(|&at| takes(&bobbins[at]));
    by_size.sort_by(|&a, &b| bobbins[a].holds.total_cmp(&bobbins[b].holds));
    let enough = by_size.iter().find(|&&at| left[at] >= count);
    enough.or(by_size.first()).copied()
}

/// How a cut is wound; the bobbins that it takes are no longer left.
fn one_wound(
    job: &Job<'_>,
    list: &CutList,
    number: usize,
    pay_out: f64,
    left: &mut [u32],
) -> Wound {
    let cut = &list.cuts[number];
    let diameter = cut
        .makes
        .body(job.fibres)
        .map_or(HELD_STRAND_MM, |b| b.diameter);
    let holds = |bobbin: &Bobbin| bobbin.holds * (HELD_STRAND_MM / diameter).powi(2);
    // What hangs out is not on the bobbin.
    let metres = ((cut.strand_length() - pay_out) / 1000.0).max(0.0);
    let count: usize = cut.strands.iter().map(Vec::len).sum();
    let count = u32::try_from(count).unwrap_or(u32::MAX);
    let on_a_disc = matches!(job.workshop.table, Table::Disc { .. });
    let hangs = on_a_disc && metres * 1000.0 <= LEFT_TO_HANG;
    let bobbins = &job.workshop.bobbins;
    let chosen = taking(bobbins, left, count, |bobbin| holds(bobbin) >= metres);
    let chosen = chosen.filter(|_| !hangs);
    let largest = bobbins.iter().map(holds).max_by(f64::total_cmp);
    let had = chosen.map_or(0, |at| {
        let had = left[at].min(count);
        left[at] -= had;
        had
    });
    let held = chosen.map(|at| holds(&bobbins[at])).or(largest);
    let joins = match (chosen, largest) {
        _ if hangs => 0,
        (None, Some(largest)) if largest > 0.0 => (metres / largest).ceil() as u32 - 1,
        _ => 0,
    };
    Wound {
        cut: number,
        bobbin: chosen.map(|at| bobbins[at].name.clone()),
        count,
        lacking: if chosen.is_some() { count - had } else { 0 },
        holds: held.unwrap_or(0.0),
        hangs,
        joins,
        join_after: held.filter(|_| joins > 0).map(|held| {
            let rested = list.runs[cut.run].rested.value;
            in_the_cord(cut, 1000.0 * held + pay_out) * rested
        }),
        pay_out,
    }
}

/// Share of the cord that so much of a strand makes, mm, its start and tail apart.
fn in_the_cord(cut: &Cut, strand: f64) -> f64 {
    let braided = cut.chain.links.first().map_or(0.0, |link| link.adds.value);
    let apart = cut.chain.total.value - braided;
    ((strand - apart) / braided).clamp(0.0, 1.0)
}

/// Bobbins of the first cord and the strands on them.
fn all_grams(job: &Job<'_>, list: &CutList, wound: &[Wound]) -> Estimate {
    let first = wound.iter().filter(|w| list.cuts[w.cut].run == 0);
    let each = first.map(|w| {
        let cut = &list.cuts[w.cut];
        let named = |bobbin: &&Bobbin| Some(&bobbin.name) == w.bobbin.as_ref();
        let empty = job
            .workshop
            .bobbins
            .iter()
            .find(named)
            .map_or(0.0, |b| b.grams);
        let tex = tex(job, cut);
        let metres = cut.strand_length() / 1000.0;
        tex.times(metres / 1000.0)
            .plus(empty)
            .times(f64::from(w.count))
    });
    each.fold(Estimate::exact(0.0), Estimate::together)
}

/// Linear density of a strand, its ends together.
fn tex(job: &Job<'_>, cut: &Cut) -> Estimate {
    let parts = cut.makes.made_of(job.fibres).unwrap_or_default();
    let each = parts
        .iter()
        .map(|(fibre, ends)| fibre.tex.estimate().times(f64::from(*ends)));
    each.fold(Estimate::exact(0.0), Estimate::together)
}

fn shares([low, value, high]: [f64; 3], of: Estimate) -> Estimate {
    Estimate {
        value: of.value * value,
        low: of.value * low,
        high: of.value * high,
    }
}

/// Between the thicknesses of the table along a straight line, beyond them as at its ends.
fn under_a_disc(diameter: f64) -> Estimate {
    let [first, .., last] = UNDER_A_DISC;
    let at = diameter.clamp(first.0, last.0);
    let pair = UNDER_A_DISC.windows(2).find(|pair| at <= pair[1].0);
    let (one, other) = pair.map_or((first, last), |pair| (pair[0], pair[1]));
    let share = (at - one.0) / (other.0 - one.0);
    let grams = |k: usize| one.1[k] + share * (other.1[k] - one.1[k]);
    Estimate {
        value: grams(1),
        low: grams(0),
        high: grams(2),
    }
}

fn advice(counterweight: f64, usual: Estimate) -> String {
    let said = if counterweight < usual.low {
        "Lighter than usual: the cord comes out firmer, shorter and thicker"
    } else if counterweight > usual.high {
        "Heavier than usual: the cord comes out looser, longer and thinner"
    } else {
        "Within the usual; lighter makes a firmer, shorter, thicker cord, heavier a looser, longer, thinner one"
    };
    format!("{said}. Common practice, no source.")
}

fn notes(job: &Job<'_>, wound: &[Wound], grams: Estimate) -> Vec<String> {
    let mut notes = Vec::new();
    let lacking: u32 = wound.iter().map(|w| w.lacking).sum();
    if lacking > 0 {
        let noun = if lacking == 1 {
            "bobbin is"
        } else {
            "bobbins are"
        };
        notes.push(format!(
            "{lacking} {noun} missing; wind what is left in a hank and tie it."
        ));
    }
    if wound.iter().any(|w| w.joins > 0) {
        notes.push("A strand is too long for the largest bobbin: wind what it takes, lay the next in where a float dives, and each strand some way before the last, never two at one place.".into());
    }
    notes.extend(held_otherwise(job, grams));
    notes
}

/// Where the design counts on another hold than the workshop gives.
fn held_otherwise(job: &Job<'_>, grams: Estimate) -> Option<String> {
    let each = grams.value / job.strands.len() as f64;
    match (job.tension, job.workshop.table) {
        // The thread on a bobbin runs down while braiding; a tenth is no reason to speak.
        (Tension::Bobbins(meant), Table::Stand { .. }) if (each - meant).abs() > 0.1 * meant => {
            Some(format!(
                "The design counts on bobbins of {meant:.0} g, and these weigh about {each:.0} g each with their thread."
            ))
        }
        (Tension::Bobbins(meant), Table::Disc { .. }) => Some(format!(
            "The design counts on bobbins of {meant:.0} g on a stand, and your table is a disc."
        )),
        (Tension::Slots(_), Table::Stand { .. }) => {
            Some("The design counts on the slots of a disc, and your table is a stand.".into())
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::plan;
    use crate::plan::trial::{Trial, satin, single};

    #[test]
    fn a_strand_half_as_thick_goes_on_a_bobbin_four_times() {
        let mut trial = Trial::of(vec![satin(); 4], 1.6);
        let thick = plan(&trial.job()).bobbins.wound[0].holds;
        trial.strands = vec![single("satin cord 1 mm, polyester"); 4];
        let thin = plan(&trial.job()).bobbins.wound[0].holds;
        assert!(
            (thick - 1.5).abs() < 1e-9 && (thin - 6.0).abs() < 1e-9,
            "{thick} {thin}"
        );
    }

    /// 45 to 50 in 100 of what 8 bobbins of 70 g weigh with 8 strands of tex 2271.
    #[test]
    fn on_a_stand_the_counterweight_follows_the_bobbins_and_their_thread() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.workshop.table = Table::Stand { reach: 250.0 };
        trial.workshop.bobbins = vec![Bobbin {
            name: "wood".into(),
            grams: 70.0,
            holds: 4.0,
            there: 8,
        }];
        trial.tension = Tension::Bobbins(60.0);
        let plan = plan(&trial.job());
        let grams = 560.0 + plan.cut.metres * 2.271;
        let bobbins = &plan.bobbins;
        assert!(
            (bobbins.grams.value - grams).abs() < 0.05,
            "{} {grams}",
            bobbins.grams.value
        );
        assert!((bobbins.usual.low / bobbins.grams.value - 0.45).abs() < 1e-9);
        assert!((bobbins.usual.high / bobbins.grams.value - 0.5).abs() < 1e-9);
        assert!(bobbins.advice.starts_with("Lighter"), "{}", bobbins.advice);
        assert!(
            bobbins.notes[0].contains("bobbins of 60 g"),
            "{:?}",
            bobbins.notes
        );
    }

    #[test]
    fn a_strand_goes_on_the_smallest_bobbin_that_takes_it_and_is_there() {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.length(450.0);
        let named = |trial: &Trial| {
            let wound = plan(&trial.job()).bobbins.wound[0].clone();
            (wound.bobbin.unwrap_or_default(), wound.lacking, wound.joins)
        };
        assert_eq!(named(&trial), ("small flat bobbin".into(), 0, 0));
        trial.workshop.bobbins[0].there = 7;
        assert_eq!(named(&trial), ("medium flat bobbin".into(), 0, 0));
        trial.workshop.bobbins.truncate(1);
        assert_eq!(named(&trial), ("small flat bobbin".into(), 1, 0));
        trial.length(3000.0);
        let wound = plan(&trial.job()).bobbins.wound[0].clone();
        let cut = &plan(&trial.job()).cut.cuts[0];
        let on_bobbin = (cut.length - wound.pay_out) / 1000.0;
        assert_eq!(wound.joins, (on_bobbin / 1.5).ceil() as u32 - 1);
        // 1500 mm wound, 225 hanging, 40 for the start and 120 that must be left to join.
        let after = (1500.0 + 225.0 - 40.0 - 120.0) / 1.6;
        assert!(
            (wound.join_after.unwrap() - after).abs() < 1e-6,
            "{wound:?}"
        );
        assert_eq!((wound.bobbin, wound.lacking), (None, 0));
    }

    #[test]
    fn a_short_strand_hangs_by_itself_on_a_disc_and_needs_a_weight_on_a_stand() {
        let mut trial = Trial::of(vec![satin(); 4], 1.6);
        trial.length(100.0);
        let wound = plan(&trial.job()).bobbins.wound[0].clone();
        assert_eq!((wound.hangs, wound.bobbin, wound.joins), (true, None, 0));
        trial.workshop.table = Table::Stand { reach: 250.0 };
        let bobbins = plan(&trial.job()).bobbins;
        assert!(!bobbins.wound[0].hangs && bobbins.wound[0].bobbin.is_some());
        assert!(
            bobbins.notes[0].contains("slots of a disc"),
            "{:?}",
            bobbins.notes
        );
    }

    #[test]
    fn twice_the_strands_carry_twice_the_weight() {
        let usual = |strands: usize| {
            let trial = Trial::of(vec![satin(); strands], 1.6);
            plan(&trial.job()).bobbins.usual.value
        };
        assert!((usual(16) - 2.0 * usual(8)).abs() < 1e-9);
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.tension = Tension::Bobbins(70.0);
        let bobbins = plan(&trial.job()).bobbins;
        assert!((bobbins.usual.value - 0.475 * 560.0).abs() < 1e-9);
        assert!(
            bobbins.notes[0].contains("on a stand"),
            "{:?}",
            bobbins.notes
        );
    }

    #[test]
    fn a_core_needs_no_bobbin() {
        let mut trial = Trial::of(vec![satin(); 4], 1.6);
        trial.cores = vec![satin()];
        let plan = plan(&trial.job());
        assert_eq!((plan.cut.cuts.len(), plan.bobbins.wound.len()), (2, 1));
    }
}
