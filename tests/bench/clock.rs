//! A stop-watch, and the table of what it showed.
//!
//! Each line is one row of a Markdown table: what, least and median of several
//! runs, the goal, and by how much it was met. Goals are set for one core of a
//! machine that does nothing else; the least time is held against them.

use std::hint::black_box;
use std::time::Instant;

/// Which groups of benchmarks were asked for, by the words of the command.
pub(super) struct Wanted(Vec<String>);

impl Wanted {
    /// From the arguments; those that the build tool adds are left out.
    pub(super) fn from_arguments() -> Self {
        let words = std::env::args().skip(1);
        Self(words.filter(|word| !word.starts_with("--")).collect())
    }

    /// Whether a group is wanted: all are if none is named.
    pub(super) fn wants(&self, group: &str) -> bool {
        self.0.is_empty() || self.0.iter().any(|word| word == group)
    }
}

/// Head of the table of times.
pub(super) fn print_head(title: &str) {
    println!("\n### {title}\n");
    println!("| what | least ms | median ms | goal ms | |");
    println!("|---|---:|---:|---:|---|");
}

/// Times of several runs, ms, from the least on.
#[derive(Debug, Clone)]
pub(super) struct Times(Vec<f64>);

impl From<Vec<f64>> for Times {
    /// Of what was measured otherwise, ms; at least one.
    fn from(mut times: Vec<f64>) -> Self {
        times.sort_by(f64::total_cmp);
        Self(times)
    }
}

impl Times {
    /// Work out `work` so many times, and once before that nobody counts.
    pub(super) fn of<T>(runs: usize, mut work: impl FnMut() -> T) -> Self {
        black_box(work());
        Self::without_a_first(runs, work)
    }

    /// The same where every run takes long: the first counts.
    pub(super) fn without_a_first<T>(runs: usize, mut work: impl FnMut() -> T) -> Self {
        let times: Vec<f64> = (0..runs).map(|_| once(&mut work).0).collect();
        Self::from(times)
    }

    /// The least.
    pub(super) fn least(&self) -> f64 {
        self.0[0]
    }

    /// The one in the middle.
    pub(super) fn median(&self) -> f64 {
        self.0[self.0.len() / 2]
    }
}

/// Milliseconds of one run, and what it gave.
pub(super) fn once<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let begun = Instant::now();
    let given = black_box(work());
    (begun.elapsed().as_secs_f64() * 1e3, given)
}

/// One row, with a goal in ms or none.
pub(super) fn print_row(what: &str, times: &Times, goal: Option<f64>) {
    let (least, median) = (times.least(), times.median());
    let (goal, verdict) = match goal {
        None => ("–".to_owned(), String::new()),
        Some(goal) => (format!("{goal}"), verdict(least, goal).to_owned()),
    };
    println!("| {what} | {least:.2} | {median:.2} | {goal} | {verdict} |");
}

/// Whether a figure is within its goal.
pub(super) fn verdict(found: f64, goal: f64) -> &'static str {
    if found <= goal { "met" } else { "missed" }
}

/// Time `work` and print its row.
pub(super) fn timed<T>(
    what: &str,
    runs: usize,
    goal: Option<f64>,
    work: impl FnMut() -> T,
) -> Times {
    let times = Times::of(runs, work);
    print_row(what, &times, goal);
    times
}
