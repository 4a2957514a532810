//! The tables.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::measure::Worth;
use super::tally::{Reliability, Share};

/// What many answers were worth together.
#[derive(Debug, Clone, Default)]
pub(crate) struct Sum {
    pub(crate) first: Share,
    pub(crate) named_only: Share,
    pub(crate) of_three: Share,
    /// One of three is right, or a question was asked after which the first is.
    pub(crate) of_three_or_asked: Share,
    pub(crate) of_all: Share,
    pub(crate) asked: Share,
    pub(crate) after: Share,
    pub(crate) of_first: Reliability,
    pub(crate) of_each: Reliability,
    pub(crate) of_other: Reliability,
    pub(crate) led_back: Share,
    pub(crate) can_be_gone: Share,
    pub(crate) going_on: Share,
    pub(crate) adds_up: Share,
    longest_ms: f64,
    all_ms: f64,
}

impl Sum {
    pub(crate) fn count(&mut self, worth: &Worth) {
        self.first.count(worth.first);
        self.named_only.count(worth.named_only);
        self.of_three.count(worth.of_three);
        let is_asked_well = worth.asked && worth.after;
        self.of_three_or_asked
            .count(worth.of_three || is_asked_well);
        self.of_all.count(worth.of_all);
        self.asked.count(worth.asked);
        self.after.count(worth.after);
        if let Some(&(stated, held)) = worth.stated.first() {
            self.of_first.count(stated, held);
        }
        for &(stated, held) in &worth.stated {
            self.of_each.count(stated, held);
        }
        self.of_other.count(worth.other, !worth.of_all);
        for &led_back in &worth.led_back {
            self.led_back.count(led_back);
        }
        self.can_be_gone.count(worth.can_be_gone);
        for &can in &worth.going_on {
            self.going_on.count(can);
        }
        self.adds_up.count(worth.adds_up);
        let ms = 1e3 * worth.took.as_secs_f64();
        self.longest_ms = self.longest_ms.max(ms);
        self.all_ms += ms;
    }

    fn cells(&self) -> String {
        let shares = [self.first, self.of_three, self.after].map(Share::words);
        let asked = 100.0 * self.asked.observed();
        let mean = self.all_ms / self.first.of as f64;
        let [first, three, after] = shares;
        format!(
            "{} | {first} | {three} | {asked:.0} | {after} | {mean:.0} / {:.0}",
            self.first.of, self.longest_ms
        )
    }
}

/// A table of sums by name.
#[derive(Debug, Default)]
pub(crate) struct Table(BTreeMap<String, Sum>);

impl Table {
    pub(crate) fn count(&mut self, row: impl Into<String>, worth: &Worth) {
        self.0.entry(row.into()).or_default().count(worth);
    }

    pub(crate) fn words(&self, of: &str) -> String {
        let mut text = format!(
            "| {of} | cases | first right, % | one of three, % | asks, % | right after the \
             question, % | ms, mean / longest |\n|---|---|---|---|---|---|---|\n"
        );
        for (row, sum) in &self.0 {
            let _written = writeln!(text, "| {row} | {} |", sum.cells());
        }
        text
    }
}

/// Stated and observed, in rows.
pub(crate) fn reliability(of: &str, reliability: &Reliability) -> String {
    let mut text = format!("| {of}: stated, mean % | held, % | cases |\n|---|---|---|\n");
    for (stated, share) in reliability.rows() {
        let stated = 100.0 * stated;
        let _written = writeln!(text, "| {stated:.1} | {} | {} |", share.words(), share.of);
    }
    let miss = 100.0 * reliability.mean_miss();
    let _written = writeln!(text, "\nmean distance {miss:.1} points\n");
    text
}
