//! Many cases, and the tables of what was said to them.

use fastrand::Rng;
use rayon::prelude::*;

use super::cases::{Bench, Case, Wanted};
use super::ceiling::best_guess;
use super::measure::{Worth, diagnosis, is_right, worth};
use super::oracle::answered;
use super::report::{Sum, Table, reliability};
use super::slips::Kind;
use super::tally::{Reliability, Share};
use super::telling::{Looks, Told};

/// Which case of which kind on which list.
#[derive(Debug, Clone)]
pub(crate) struct Draw {
    pub(crate) list: usize,
    pub(crate) wanted: Wanted,
    pub(crate) seed: u64,
}

impl Draw {
    /// `13/SlotByOne/TwoPairs/Everything/5`: list of the shelf, mistakes, looks, what is
    /// told, seed.
    fn key(&self) -> String {
        let Wanted { kinds, looks, told } = &self.wanted;
        let kinds: Vec<String> = kinds.iter().map(|kind| format!("{kind:?}")).collect();
        let kinds = kinds.join("+");
        format!("{}/{kinds}/{looks:?}/{told:?}/{}", self.list, self.seed)
    }

    fn of_key(key: &str) -> Option<Self> {
        let [list, kinds, looks, told, seed] = key.split('/').collect::<Vec<_>>()[..] else {
            return None;
        };
        let kind = |name: &str| {
            Kind::ALL
                .into_iter()
                .find(|kind| format!("{kind:?}") == name)
        };
        let kinds = kinds.split('+').filter(|name| !name.is_empty());
        let wanted = Wanted {
            kinds: kinds.map(kind).collect::<Option<_>>()?,
            looks: Looks::ALL.into_iter().find(|l| format!("{l:?}") == looks)?,
            told: Told::ALL.into_iter().find(|t| format!("{t:?}") == told)?,
        };
        let (list, seed) = (list.parse().ok()?, seed.parse().ok()?);
        Some(Self { list, wanted, seed })
    }
}

/// Cases by chance: any list, mistakes of the mix.
pub(crate) fn of_the_mix(
    mistakes: usize,
    looks: &[Looks],
    told: Told,
    cases: u64,
) -> impl Iterator<Item = Draw> {
    let lists = Bench::all().len();
    let of_looks = looks.len() as u64;
    (0..cases * of_looks).map(move |seed| {
        let mut rng = Rng::with_seed(seed ^ 0x5eed);
        let kinds = (0..mistakes).map(|_| Kind::any(&mut rng)).collect();
        let looks = looks[(seed % of_looks) as usize];
        let wanted = Wanted { kinds, looks, told };
        let list = rng.usize(..lists);
        Draw { list, wanted, seed }
    })
}

/// What is said to the cases that show, in the order drawn.
pub(crate) fn ask<'a>(benches: &'a [Bench], draws: Vec<Draw>) -> Vec<(Draw, Case<'a>, Worth)> {
    let one = |draw: Draw| {
        let case = Case::draw(&benches[draw.list], &draw.wanted, draw.seed)?;
        let is_to_be_asked = case.shows || draw.wanted.kinds.is_empty();
        let worth = is_to_be_asked.then(|| worth(&case))?;
        Some((draw, case, worth))
    };
    draws.into_par_iter().filter_map(one).collect()
}

fn strands(case: &Case<'_>) -> &'static str {
    match case.bench.work.strands() {
        ..=5 => " 3 to 5",
        6..=8 => " 6 to 8",
        9..=16 => "10 to 16",
        _ => "20 to 32",
    }
}

/// Every kind as often, on every list.
fn every_kind(seeds: u64, told: Told) -> Vec<Draw> {
    let mut draws = Vec::new();
    for (list, _) in Bench::all().iter().enumerate() {
        for kind in Kind::ALL {
            for looks in Looks::ALL {
                let kinds = vec![kind];
                let wanted = Wanted { kinds, looks, told };
                // No two draws share their chances.
                let first = 1_000_000 + draws.len() as u64;
                let draw = |seed| Draw {
                    list,
                    wanted: wanted.clone(),
                    seed,
                };
                draws.extend((first..first + seeds).map(draw));
            }
        }
    }
    draws
}

fn print_kinds(benches: &[Bench], seeds: u64) {
    let mut tables: Vec<(&str, Table)> = Vec::new();
    let [mut by_kind, mut by_strands] = [Table::default(), Table::default()];
    for looks in ["1", "2", "3", "all different"] {
        tables.push((looks, Table::default()));
    }
    for (_, case, worth) in &ask(benches, every_kind(seeds, Told::Everything)) {
        let looks = case.wanted.looks.words();
        let kind = case.wanted.kinds[0].words();
        by_kind.count(kind, worth);
        by_strands.count(format!("{} strands, {looks}", strands(case)), worth);
        let of_looks = tables.iter_mut().find(|(of, _)| *of == looks);
        of_looks.unwrap().1.count(kind, worth);
    }
    println!("## One mistake, every kind as often on every list, all told\n");
    println!("{}", by_kind.words("mistake, all looks together"));
    println!("{}", by_strands.words("strands, looks"));
    for (looks, table) in &tables {
        println!("{}", table.words(&format!("mistake, looks: {looks}")));
    }
}

fn print_mix(benches: &[Bench], mistakes: usize, cases: u64) {
    println!("## {mistakes} mistakes of the mix\n");
    for told in Told::ALL {
        let (mut table, mut sum) = (Table::default(), Sum::default());
        let draws = of_the_mix(mistakes, &Looks::ALL, told, cases);
        for (_, case, worth) in &ask(benches, draws.collect()) {
            table.count(format!("looks: {}", case.wanted.looks.words()), worth);
            table.count(format!("went on {:?}", case.goes), worth);
            sum.count(worth);
        }
        println!("{}", table.words(told.words()));
        println!("{}", told_of(&sum));
        if told == Told::Everything {
            println!("{}", reliability("first answer", &sum.of_first));
            println!("{}", reliability("each answer", &sum.of_each));
            println!("{}", reliability("none of these", &sum.of_other));
        }
    }
}

/// The mix alone, few cases, those past the first so many; and which were missed.
fn print_quick(benches: &[Bench], past: u64, cases: u64) {
    let (mut table, mut sum) = (Table::default(), Sum::default());
    let all = of_the_mix(1, &Looks::ALL, Told::Everything, past + cases);
    let draws = all.skip(past as usize * Looks::ALL.len()).collect();
    let asked = ask(benches, draws);
    for (_, case, worth) in &asked {
        table.count(format!("looks: {}", case.wanted.looks.words()), worth);
        table.count(case.wanted.kinds[0].words(), worth);
        sum.count(worth);
    }
    println!("{}{}", table.words("one mistake of the mix"), told_of(&sum));
    println!("{}", reliability("first answer", &sum.of_first));
    println!("{}", reliability("none of these", &sum.of_other));
    for looks in Looks::ALL {
        let mut stated = Reliability::default();
        let alike = |(_, case, _): &&(Draw, Case<'_>, Worth)| case.wanted.looks == looks;
        for (_, _, worth) in asked.iter().filter(alike) {
            if let Some(&(one, held)) = worth.stated.first() {
                stated.count(one, held);
            }
        }
        let miss = 100.0 * stated.mean_miss();
        println!("{looks:?}: first answers miss by {miss:.1} points");
    }
    asked.iter().for_each(print_if_missed);
}

fn told_of(sum: &Sum) -> String {
    let [all, asked, named, led, gone, on, up] = [
        sum.of_all,
        sum.of_three_or_asked,
        sum.named_only,
        sum.led_back,
        sum.can_be_gone,
        sum.going_on,
        sum.adds_up,
    ]
    .map(Share::words);
    format!(
        "%: right among all given {all}; among three, or right after a question {asked}; \
         names the mistake but not the cord {named}; ways back that lead back from the \
         cord of their own story {led} of {}; answers all of whose ways can be gone {gone}; \
         going on as told can be done {on}; probabilities add up {up}\n",
        sum.led_back.of
    )
}

/// Mistakes made again for each case, to see what is commonest.
const TRIALS: u32 = 300_000;

/// Beside the first answers, the best that could be guessed by whoever knows how often
/// these hands make which mistake; of two swapped strands the upper one must be right.
fn print_ceiling(benches: &[Bench], cases: u64) {
    println!("| looks | first right, % | best guess of {TRIALS} trials right, % |\n|---|---|---|");
    for looks in Looks::ALL {
        let draws = of_the_mix(1, &[looks], Told::Everything, cases).collect();
        let (mut first, mut best) = (Share::default(), Share::default());
        for (draw, case, worth) in &ask(benches, draws) {
            let mut rng = Rng::with_seed(!draw.seed);
            first.count(worth.stated.first().is_some_and(|&(_, right)| right));
            best.count(best_guess(case, TRIALS, &mut rng) == Some(true));
        }
        println!("| {looks:?} | {} | {} |", first.words(), best.words());
    }
    println!();
}

/// Nothing is wrong, but somebody thinks so.
fn print_nothing_wrong(benches: &[Bench], cases: u64) {
    let mut table = Table::default();
    for told in Told::ALL {
        let draws = of_the_mix(0, &Looks::ALL, told, cases).collect();
        for (_, _, worth) in &ask(benches, draws) {
            table.count(told.words(), worth);
        }
    }
    println!("{}", table.words("nothing is wrong"));
}

/// Mistakes that do not show on the disc within the last moves.
fn print_hidden(benches: &[Bench], seeds: u64) {
    let mut hidden = std::collections::BTreeMap::new();
    for draw in every_kind(seeds, Told::Everything) {
        let case = Case::draw(&benches[draw.list], &draw.wanted, draw.seed);
        if let Some(case) = case {
            let kind = draw.wanted.kinds[0];
            let looks = draw.wanted.looks.words();
            let share: &mut Share = hidden.entry((kind, looks)).or_default();
            share.count(!case.shows);
        }
    }
    println!("| mistakes that do not show | looks | % | cases |\n|---|---|---|---|");
    for ((kind, looks), share) in hidden.iter().filter(|(_, share)| share.hits > 0) {
        println!(
            "| {} | {looks} | {} | {} |",
            kind.words(),
            share.words(),
            share.of
        );
    }
    println!();
}

/// The key of a case whose answer was wrong, at first or after the question.
fn print_if_missed((draw, _, worth): &(Draw, Case<'_>, Worth)) {
    let Worth {
        first,
        of_three,
        of_all,
        after,
        ..
    } = *worth;
    if !first || !after || !worth.can_be_gone {
        let stated = worth.stated.first().map_or(0.0, |one| one.0);
        println!(
            "missed {} first {first} ({stated:.2}) three {of_three} all {of_all} after {after}",
            draw.key()
        );
    }
}

fn show(benches: &[Bench], key: &str) {
    let draw = Draw::of_key(key).unwrap();
    let case = Case::draw(&benches[draw.list], &draw.wanted, draw.seed).unwrap();
    let list = &case.bench.structure;
    println!(
        "{} of {}: {:?} {:?}",
        list.name,
        list.strands(),
        case.slips,
        case.goes
    );
    println!("roles {:?} looks {:?}", case.roles, case.looks);
    println!(
        "right {} counted {} shows {}",
        case.right, case.counted, case.shows
    );
    println!("carried {:?}", case.carries);
    println!("lies {:?}", case.disc.at());
    println!(
        "should {:?}",
        case.bench.work.disc(&case.roles, case.counted).at()
    );
    let told = diagnosis(&case);
    let numbering = plaitwright::structure::Numbering::default();
    for told in [&told, &answered(&case, &told)] {
        for explanation in &told.explanations {
            let right = is_right(&case, explanation);
            let sentence = explanation.sentence(&list.moves, numbering);
            let (p, steps) = (explanation.probability, explanation.way.steps.len());
            println!(
                "{right} {p:.3} {sentence} ({steps} steps) {:?}",
                explanation.mistakes
            );
        }
        println!("other {:.3}, {:?}", told.other, told.question);
    }
}

#[test]
fn tables_are_printed_where_they_are_asked_for() {
    let benches = Bench::all();
    match std::env::var("PLAIT_HANDS").as_deref() {
        Ok("all") => {
            print_kinds(&benches, 2);
            print_hidden(&benches, 6);
            print_nothing_wrong(&benches, 40);
            print_mix(&benches, 1, 250);
            print_mix(&benches, 2, 60);
        }
        Ok("quick") => print_quick(&benches, 0, 100),
        Ok("fresh") => print_quick(&benches, 1000, 400),
        Ok("freshest") => print_quick(&benches, 2000, 400),
        Ok("ceiling") => print_ceiling(&benches, 60),
        Ok("two") => print_mix(&benches, 2, 25),
        Ok(key) => show(&benches, key),
        Err(_) => {}
    }
}

#[test]
fn a_key_names_its_case() {
    let draw = of_the_mix(2, &[Looks::Three], Told::Partly, 5)
        .last()
        .unwrap();
    let again = Draw::of_key(&draw.key()).unwrap();
    assert_eq!(again.key(), draw.key());
    assert_eq!(again.wanted.kinds, draw.wanted.kinds);
}
