//! Two mistakes in the last moves: tried one and all, or only weighed by a sample.

use rayon::prelude::*;

use super::cord::drawn;
use super::counted::Counted;
use super::disc::Disc;
use super::guess;
use super::replay::{Hands, Path, Script};
use super::search::{Chance, Plot, Search, Story};
use super::slip::{Reading, Slipping, slips_at};

/// Of the last moves so many may hold two mistakes; our guess at what can be tried
/// while somebody waits.
const WITHIN: usize = 16;

/// Pairs of mistakes in a sample.
const SAMPLE: usize = 150;

impl Search<'_> {
    /// How likely two mistakes are seen so, by a sample of them.
    pub(super) fn two_unsearched(&self) -> f64 {
        let chances = self.chances(WITHIN);
        let all: f64 = chances.iter().map(|chance| chance.likely).sum();
        let mut state = 7;
        let mut fitting = 0.0;
        for _ in 0..SAMPLE {
            fitting += self.fits_a_drawn_pair(&chances, all, &mut state);
        }
        guess::TWO * fitting / SAMPLE as f64
    }

    fn fits_a_drawn_pair(&self, chances: &[Chance], all: f64, state: &mut u64) -> f64 {
        let counted = self.counted;
        let mut draw = |below: f64| (drawn(state) >> 11) as f64 / (1u64 << 53) as f64 * below;
        let Some(first) = picked(chances, draw(all), |one| one.likely) else {
            return 0.0;
        };
        let from = first.slipping.resume.max(first.at + 1);
        if from > counted.now {
            return 0.0;
        }
        let at = from + draw((counted.now - from + 1) as f64) as usize;
        let Some(script) = Script::after(counted, &first.slipping, at) else {
            return 0.0;
        };
        let mut disc = counted.discs[first.at].clone();
        let _ = script.made(&mut disc, &mut Path::nearest());
        let seconds = seconds(counted, &disc, at, first.slipping.reading);
        let kind = |one: &Slipping| one.share * guess::of_kind(one.slip.kind());
        let weights: f64 = seconds.iter().map(kind).sum();
        let Some(second) = picked(&seconds, draw(weights), kind) else {
            return 0.0;
        };
        let Some(script) = Script::after(counted, second, counted.now) else {
            return 0.0;
        };
        let _ = script.made(&mut disc, &mut Path::nearest());
        f64::from(u8::from(self.sight.likely(&disc) == 1.0))
    }

    /// Every two mistakes of which all that is seen fits.
    pub(super) fn two(&self) -> Vec<Story> {
        let chances = self.chances(WITHIN);
        let firsts = chances.par_iter().map(|first| {
            let mut found = Vec::new();
            self.play_two(first, &mut found);
            found
        });
        // In the order of the chances, however many threads there are.
        let found: Vec<Vec<Story>> = firsts.collect();
        found.concat()
    }

    fn play_two(&self, first: &Chance, found: &mut Vec<Story>) {
        let counted = self.counted;
        for at in first.slipping.resume.max(first.at + 1)..=counted.now {
            let Some(script) = Script::after(counted, &first.slipping, at) else {
                continue;
            };
            let start = counted.discs[first.at].clone();
            script.play(Hands::at(start), &mut |hands| {
                self.play_second(first, at, hands, found);
            });
        }
    }

    fn play_second(&self, first: &Chance, at: usize, hands: &Hands, found: &mut Vec<Story>) {
        let counted = self.counted;
        for second in seconds(counted, &hands.disc, at, first.slipping.reading) {
            let Some(script) = Script::after(counted, &second, counted.now) else {
                continue;
            };
            let kinds = [first.slipping.slip.kind(), second.slip.kind()];
            let here = guess::unseen_for(counted.now - at) / counted.within.min(16) as f64;
            let second_is = here * second.share * guess::of_kind(kinds[1]);
            let likely = guess::TWO * first.likely * second_is * hands.likely;
            script.play(Hands::at(hands.disc.clone()), &mut |end| {
                if self.sight.likely(&end.disc) < 1.0 {
                    return;
                }
                let slipping = first.slipping.clone();
                let next = counted.read(counted.now, second.reading);
                let looks_now = self.looks_now(&end.disc, next);
                let plot = (slipping, hands.path, at, second.clone(), end.path);
                found.push(Story {
                    slips: vec![(first.at, first.slipping.slip), (at, second.slip)],
                    end: counted.now,
                    from: first.at,
                    disc: end.disc.clone(),
                    weight: likely * end.likely * self.sight.signs(&kinds) * looks_now,
                    fits: true,
                    plot: Plot::Two(Box::new(plot)),
                });
            });
        }
    }
}

/// What may happen at a moment to hands that read the moves in some way already.
fn seconds(counted: &Counted, disc: &Disc, at: usize, reading: Reading) -> Vec<Slipping> {
    match reading {
        Reading::Plain => slips_at(counted, disc, at),
        _ => Vec::new(),
    }
}

/// The one of several, each as wide as it is likely, at which a number falls.
fn picked<T>(all: &[T], mut at: f64, likely: impl Fn(&T) -> f64) -> Option<&T> {
    all.iter().find(|one| {
        at -= likely(one);
        at < 0.0
    })
}
