//! The instant first answer beside the solve, over changes drawn at random.
//!
//! `cargo test --test first_answer -- --nocapture` prints the figures;
//! `PLAIT_CHANGES=400` draws more, `PLAIT_SEED=2` others, `PLAIT_STRANDS=32` on
//! larger cords.
#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test may panic and print"
)]

use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::Duration;

use fastrand::Rng;
use plaitwright::cord::{
    Cord, Figures, Progress, Quality, Recipe, Tension, Twist, first_answer, solve,
};
use plaitwright::material::{Colour, Fibre, Part, Strand, Unsure, shelf};
use plaitwright::structure::{self, Structure};

/// Share of the first answers that keep their ends.
const KEPT: f64 = 0.95;
/// A solve that takes longer is left out, and said to be.
const LONGEST: Duration = Duration::from_secs(60);
/// Changes of one cord, each from the last.
const STEPS: usize = 5;

const FIBRES: [&str; 9] = [
    "satin cord 1 mm, polyester",
    "satin cord 1.5 mm, polyester",
    "satin cord 2 mm, polyester",
    "leather lace 1 mm, round",
    "leather lace 2 mm, round",
    "braided knotting cord 0.8 mm, nylon",
    "pearl cotton no. 5",
    "knitting yarn light (weight 3), wool",
    "rubber cord 2 mm, solid",
];

fn asked(name: &str, else_: usize) -> usize {
    let text = std::env::var(name).ok();
    text.map_or(else_, |text| text.parse().unwrap())
}

/// What a cord is made of, before it is checked.
#[derive(Clone)]
struct Make {
    strands: Vec<Strand>,
    fibres: Vec<Fibre>,
    pull: f64,
    weight: f64,
}

impl Make {
    fn drawn(strands: usize, mixed: bool, rng: &mut Rng) -> Self {
        let pull = 0.6;
        Self {
            strands: laid_on(strands, mixed, rng),
            fibres: shelf().to_vec(),
            pull,
            weight: 30.0 + 50.0 * rng.f64(),
        }
    }

    fn recipe(&self, list: &Structure) -> Option<Recipe> {
        let (pull, weight) = (Tension::Slots(self.pull), self.weight);
        Recipe::new(
            &list.moves,
            &self.strands,
            &self.fibres,
            pull,
            weight,
            Twist::Free,
        )
        .ok()
    }

    /// Something that a maker would change, and what it was.
    fn changed(&mut self, rng: &mut Rng) -> &'static str {
        let mixed = self.strands.iter().any(|s| *s != self.strands[0]);
        match rng.usize(..6) {
            0 if mixed => {
                self.strands = laid_on(self.strands.len(), true, rng);
                "other mix"
            }
            0 => {
                self.strands = laid_on(self.strands.len(), false, rng);
                "other fibre"
            }
            1 | 2 => {
                self.set(Unsure::Diameter, |f| {
                    f.diameter.value * (0.6 + 0.9 * rng.f64())
                });
                "thickness"
            }
            3 => {
                let end = |f: &Fibre| f.packing.closest.value.min(f.packing.in_braid.high);
                self.set(Unsure::PackingInBraid, |f| {
                    let free = f.packing.free.value;
                    free + rng.f64() * (end(f) - free)
                });
                "packing"
            }
            4 => {
                self.pull *= 0.5 + 1.5 * rng.f64();
                "pull"
            }
            _ => {
                self.weight *= 0.5 + rng.f64();
                "weight"
            }
        }
    }

    fn set(&mut self, which: Unsure, mut value: impl FnMut(&Fibre) -> f64) {
        for fibre in &mut self.fibres {
            *fibre = fibre.with(which, value(fibre));
        }
    }
}

/// Strands of one make, or of two by turns.
fn laid_on(strands: usize, mixed: bool, rng: &mut Rng) -> Vec<Strand> {
    let mut make = || Strand {
        parts: vec![Part {
            fibre: FIBRES[rng.usize(..FIBRES.len())].to_owned(),
            ends: rng.u16(1..3),
            colour: Colour([0; 3]),
        }],
    };
    let makes = [make(), make()];
    let of = |i: usize| makes[if mixed { i % 2 } else { 0 }].clone();
    (0..strands).map(of).collect()
}

/// The cord, unless it takes too long or there is none.
fn solved(recipe: &Recipe) -> Option<Cord> {
    let progress = Progress::new();
    let (done, watched) = channel::<()>();
    let stop = progress.clone();
    let watch = move || {
        if watched.recv_timeout(LONGEST) == Err(RecvTimeoutError::Timeout) {
            println!("left out: takes too long");
            stop.stop();
        }
    };
    let thread = std::thread::Builder::new().name("watch".to_owned());
    let watch = thread.spawn(watch).unwrap();
    let cord = solve(recipe, None, Quality::Fine, &progress).ok();
    drop(done);
    watch.join().unwrap();
    cord
}

/// Width, rise and take-up.
fn figures(figures: &Figures) -> [f64; 3] {
    let used = figures.take_up.iter().map(|t| t.value).sum::<f64>();
    let used = used / figures.take_up.len() as f64;
    [
        figures.thickness_on_disc.value,
        1.0 / figures.moves_per_cm.value,
        used,
    ]
}

/// One change with the true figures over those of the first answer.
struct Tried {
    what: &'static str,
    off: [f64; 3],
    kept: [bool; 3],
}

fn tried(what: &'static str, name: &str, recipe: &Recipe, last: &Cord) -> Option<(Tried, Cord)> {
    let truth = solved(recipe)?;
    let Some(first) = first_answer(recipe, last) else {
        // Only between round sections and flat ones, which few strands have.
        assert!(last.figures.take_up.len() <= 6, "{name}: {what}");
        return None;
    };
    let (told, solved) = (figures(&first.figures), figures(&truth.figures));
    let off = [0, 1, 2].map(|at| solved[at] / told[at] - 1.0);
    let ends = [first.miss.width, first.miss.height, first.miss.take_up];
    let kept = [0, 1, 2].map(|at| -ends[at][0] <= off[at] && off[at] <= ends[at][1]);
    let [width, rise, used] = [0, 1, 2].map(|at| {
        let [off, low, high] = [off[at], -ends[at][0], ends[at][1]].map(|share| 100.0 * share);
        format!("{off:+6.1} ({low:+5.1} to {high:+5.1})")
    });
    let missed = if kept.contains(&false) { "missed" } else { "" };
    println!("{what:11} {name:36} {width} {rise} {used} {missed}");
    Some((Tried { what, off, kept }, truth))
}

/// Changes of one cord, one after another.
fn chain(list: &Structure, rng: &mut Rng) -> Vec<Tried> {
    let mixed = rng.u8(..3) == 0 && list.strands() <= 16;
    let mut make = Make::drawn(list.strands(), mixed, rng);
    let mut all = Vec::new();
    let Some(mut last) = make.recipe(list).and_then(|recipe| solved(&recipe)) else {
        return all;
    };
    let name = format!(
        "{} {}{}",
        list.name,
        list.strands(),
        if mixed { " mixed" } else { "" }
    );
    for _ in 0..STEPS {
        let mut next = make.clone();
        let what = next.changed(rng);
        let step = next
            .recipe(list)
            .and_then(|recipe| tried(what, &name, &recipe, &last));
        if let Some((step, cord)) = step {
            all.push(step);
            (make, last) = (next, cord);
        }
    }
    all
}

/// The value below which so large a share of them lies.
fn quantile(mut values: Vec<f64>, share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    values[((values.len() - 1) as f64 * share).round() as usize]
}

fn print_summary(what: &str, tried: &[&Tried]) {
    let of =
        |at: usize, share| 100.0 * quantile(tried.iter().map(|t| t.off[at].abs()).collect(), share);
    let [width, rise, used] = [0, 1, 2].map(|at| {
        let kept = tried.iter().filter(|t| t.kept[at]).count();
        format!(
            "{:4.1} % {:5.1} % {kept:3} of {}",
            of(at, 0.5),
            of(at, 0.95),
            tried.len()
        )
    });
    println!("{what:12} width {width} | rise {rise} | take-up {used}");
}

#[test]
fn nineteen_in_twenty_first_answers_hold_the_solved_figures_within_their_ends() {
    let most = asked("PLAIT_STRANDS", 10);
    let mut rng = Rng::with_seed(asked("PLAIT_SEED", 1) as u64);
    let lists: Vec<_> = structure::shelf()
        .iter()
        .filter(|s| s.strands() <= most)
        .collect();
    let mut all = Vec::new();
    println!("solved against told, per cent (and the ends told): width, rise, take-up");
    while all.len() < asked("PLAIT_CHANGES", 60) {
        all.extend(chain(lists[rng.usize(..lists.len())], &mut rng));
    }
    println!("median and 95 % of the misses, and how many kept their ends");
    for what in [
        "other mix",
        "other fibre",
        "thickness",
        "packing",
        "pull",
        "weight",
    ] {
        let those: Vec<_> = all.iter().filter(|t| t.what == what).collect();
        if !those.is_empty() {
            print_summary(what, &those);
        }
    }
    print_summary("all", &all.iter().collect::<Vec<_>>());
    for (at, figure) in ["width", "rise", "take-up"].iter().enumerate() {
        let kept = all.iter().filter(|t| t.kept[at]).count() as f64 / all.len() as f64;
        assert!(kept >= KEPT, "{figure}: {kept} are kept");
    }
}
