//! Shares with their intervals, and whether stated probabilities hold.

/// How often something was so.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Share {
    pub(crate) hits: u64,
    pub(crate) of: u64,
}

impl Share {
    pub(crate) fn count(&mut self, hit: bool) {
        self.hits += u64::from(hit);
        self.of += 1;
    }

    pub(crate) fn add(&mut self, other: Self) {
        self.hits += other.hits;
        self.of += other.of;
    }

    pub(crate) fn observed(self) -> f64 {
        self.hits as f64 / self.of as f64
    }

    /// The 95 % interval of the true share.
    ///
    /// # Source
    ///
    /// E. B. Wilson, *Probable inference, the law of succession, and statistical
    /// inference*, J. Amer. Statist. Assoc. 22 (1927) 209.
    pub(crate) fn interval(self) -> (f64, f64) {
        const Z: f64 = 1.959_964;
        if self.of == 0 {
            return (0.0, 1.0);
        }
        let (n, p) = (self.of as f64, self.observed());
        let middle = p + Z * Z / (2.0 * n);
        let half = Z * (p * (1.0 - p) / n + Z * Z / (4.0 * n * n)).sqrt();
        let all = 1.0 + Z * Z / n;
        ((middle - half) / all, (middle + half) / all)
    }

    /// `97.3 (96.1–98.2)`, in %.
    pub(crate) fn words(self) -> String {
        if self.of == 0 {
            return "–".to_owned();
        }
        let (low, high) = self.interval();
        let [p, low, high] = [self.observed(), low, high].map(|share| 100.0 * share);
        format!("{p:.1} ({low:.1}–{high:.1})")
    }
}

/// Stated probabilities, and how often they held, in tenths.
#[derive(Debug, Clone, Default)]
pub(crate) struct Reliability {
    tenths: [(Share, f64); 10],
}

impl Reliability {
    pub(crate) fn count(&mut self, stated: f64, held: bool) {
        let tenth = ((stated * 10.0) as usize).min(9);
        let (share, sum) = &mut self.tenths[tenth];
        share.count(held);
        *sum += stated;
    }

    pub(crate) fn add(&mut self, other: &Self) {
        for (tenth, (share, sum)) in self.tenths.iter_mut().zip(other.tenths) {
            tenth.0.add(share);
            tenth.1 += sum;
        }
    }

    /// What was counted in each tenth that holds any: the mean of what was stated,
    /// and the share that held.
    pub(crate) fn rows(&self) -> impl Iterator<Item = (f64, Share)> + '_ {
        let filled = self.tenths.iter().filter(|(share, _)| share.of > 0);
        filled.map(|&(share, sum)| (sum / share.of as f64, share))
    }

    /// The mean distance between stated and observed, weighted by how often.
    pub(crate) fn mean_miss(&self) -> f64 {
        let all: u64 = self.rows().map(|(_, share)| share.of).sum();
        let miss =
            |(stated, share): (f64, Share)| (stated - share.observed()).abs() * share.of as f64;
        self.rows().map(miss).sum::<f64>() / all.max(1) as f64
    }
}

#[test]
fn an_interval_is_the_one_in_the_books() {
    // 81 of 263: 0.2553 to 0.3662 (R. G. Newcombe, Statistics in Medicine 17 (1998)
    // 857, table I, method 3).
    let (low, high) = Share { hits: 81, of: 263 }.interval();
    assert!(
        (low - 0.2553).abs() < 5e-5 && (high - 0.3662).abs() < 5e-5,
        "{low} {high}"
    );
    let none = Share { hits: 0, of: 20 }.interval();
    assert!(none.0.abs() < 1e-12 && (none.1 - 0.1611).abs() < 5e-5);
}

#[test]
fn stated_probabilities_that_hold_miss_nothing() {
    let mut reliability = Reliability::default();
    for trial in 0..100 {
        reliability.count(0.25, trial % 4 == 0);
    }
    assert!(reliability.mean_miss() < 1e-12);
    let mut boastful = reliability.clone();
    (0..100).for_each(|_| boastful.count(0.95, false));
    reliability.add(&boastful);
    assert!(reliability.mean_miss() > 0.3);
}
