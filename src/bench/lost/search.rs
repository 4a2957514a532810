//! All that may have happened, each with how likely it is.

use rayon::prelude::*;

use super::cord::drawn;
use super::counted::{Counted, OFF};
use super::disc::{Carry, Disc};
use super::guess;
use super::replay::{self, Rules, Script};
use super::sight::Sight;
use super::slip::{Kind, Reading, Slip, Slipping, slips_at};

/// Of the last moves so many may hold two mistakes; our guess at what can be tried
/// while somebody waits.
const WITHIN_FOR_TWO: usize = 32;

/// Pairs of mistakes in a sample.
const SAMPLE: usize = 400;

/// What may have happened.
#[derive(Debug, Clone)]
pub(super) struct Story {
    /// The mistakes, each with its moment.
    pub(super) slips: Vec<(usize, Slip)>,
    /// The moment that lies there by the counted moves.
    pub(super) end: usize,
    /// Where the story leaves what was counted, and what was carried from there.
    pub(super) from: usize,
    pub(super) disc: Disc,
    /// How likely it is and is seen so, beside the others.
    pub(super) weight: f64,
    /// Whether all that is seen fits.
    pub(super) fits: bool,
    plot: Plot,
}

/// How the carries of a story are found again.
#[derive(Debug, Clone)]
enum Plot {
    /// As counted.
    Counted,
    /// One mistake, and a rule.
    One(Slipping, Rules),
    /// Two, the second at a moment, both by one rule.
    Two(Box<(Slipping, usize, Slipping)>, Rules),
}

impl Story {
    /// What was carried after [`Self::from`].
    pub(super) fn made(&self, counted: &Counted) -> Vec<Carry> {
        let mut disc = counted.discs[self.from].clone();
        match &self.plot {
            Plot::Counted => counted.moves[self.from..self.end].to_vec(),
            Plot::One(slipping, rules) => Script::after(counted, slipping, self.end)
                .map(|script| script.made(&mut disc, *rules))
                .unwrap_or_default(),
            Plot::Two(two, rules) => {
                let (first, at, second) = &**two;
                let scripts = [
                    Script::after(counted, first, *at),
                    Script::after(counted, second, self.end),
                ];
                let made = scripts.into_iter().flatten();
                made.flat_map(|script| script.made(&mut disc, *rules))
                    .collect()
            }
        }
    }
}

/// The ground that a search stands on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Search<'a> {
    pub(super) counted: &'a Counted,
    pub(super) sight: &'a Sight<'a>,
}

/// A mistake with its moment and how likely it is before anything is seen.
#[derive(Debug, Clone)]
struct Chance {
    at: usize,
    slipping: Slipping,
    likely: f64,
}

impl Search<'_> {
    /// Nothing wrong, or the counter off.
    pub(super) fn places(&self) -> Vec<Story> {
        let counted = self.counted;
        let ends = counted.now.saturating_sub(OFF as usize)..=counted.now + OFF as usize;
        let offs = ends.clone().count().saturating_sub(1).max(1) as f64;
        let told = |end: usize| {
            let disc = counted.discs.get(end)?;
            let (kind, likely) = match end == counted.now {
                true => (Kind::Right, guess::of_kind(Kind::Right)),
                false => (Kind::Place, guess::of_kind(Kind::Place) / offs),
            };
            let seen = self.sight.likely(disc);
            Some(Story {
                slips: Vec::new(),
                end,
                from: end,
                disc: disc.clone(),
                weight: likely * seen * self.sight.signs(&[kind]),
                fits: seen == 1.0,
                plot: Plot::Counted,
            })
        };
        ends.filter_map(told)
            .filter(|story| story.weight > 0.0)
            .collect()
    }

    /// Every single mistake that might be seen so.
    pub(super) fn one(&self) -> Vec<Story> {
        let mut found = Vec::new();
        for chance in self.chances(self.counted.within) {
            self.play_one(&chance, &mut found);
        }
        found
    }

    fn chances(&self, within: usize) -> Vec<Chance> {
        let counted = self.counted;
        let earliest = counted.now - within.min(counted.within);
        let moments: Vec<usize> = counted.moments().filter(|&at| at >= earliest).collect();
        let unseen = |at: usize| guess::unseen_for(counted.now - at);
        let all: f64 = moments.iter().map(|&at| unseen(at)).sum();
        let at_moment = |&at: &usize| {
            let here = unseen(at) / all;
            let slips = slips_at(counted, &counted.discs[at], at).into_iter();
            slips.map(move |slipping| Chance {
                at,
                likely: here * slipping.share * guess::of_kind(slipping.slip.kind()),
                slipping,
            })
        };
        moments.iter().flat_map(at_moment).collect()
    }

    fn play_one(&self, chance: &Chance, found: &mut Vec<Story>) {
        let counted = self.counted;
        let Some(script) = Script::after(counted, &chance.slipping, counted.now) else {
            return;
        };
        let signs = self.sight.signs(&[chance.slipping.slip.kind()]);
        let start = counted.discs[chance.at].clone();
        script.play(start, 0, replay::ALL, &mut |disc, rules| {
            let seen = self.sight.likely(disc);
            if seen > 0.0 {
                found.push(Story {
                    slips: vec![(chance.at, chance.slipping.slip)],
                    end: counted.now,
                    from: chance.at,
                    disc: disc.clone(),
                    weight: chance.likely * replay::likely(rules) * seen * signs,
                    fits: seen == 1.0,
                    plot: Plot::One(chance.slipping.clone(), rules),
                });
            }
        });
    }

    /// How likely something happened that is not tried: some strands lie in places of
    /// their own, more than are wrong of the counted disc that fits best.
    pub(super) fn otherwise(&self) -> f64 {
        let counted = self.counted;
        let wrong = counted
            .discs
            .iter()
            .map(|disc| self.sight.wrong(disc))
            .min();
        let strands = wrong.unwrap_or(0).div_ceil(2) as i32 + 1;
        let places = counted.strands as f64 * f64::from(counted.rim.halves) / 2.0;
        guess::OTHER * places.recip().powi(strands)
    }

    /// How likely two mistakes are seen so, by a sample of them.
    pub(super) fn two_unsearched(&self) -> f64 {
        let chances = self.chances(WITHIN_FOR_TWO);
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
        let moments: Vec<usize> = counted.moments().filter(|&at| at >= from).collect();
        if moments.is_empty() {
            return 0.0;
        }
        let at = moments[draw(moments.len() as f64) as usize];
        let Some(script) = Script::after(counted, &first.slipping, at) else {
            return 0.0;
        };
        let mut disc = counted.discs[first.at].clone();
        script.made(&mut disc, replay::FEW);
        let seconds = seconds(counted, &disc, at, first.slipping.reading);
        let kind = |one: &Slipping| one.share * guess::of_kind(one.slip.kind());
        let weights: f64 = seconds.iter().map(kind).sum();
        let Some(second) = picked(&seconds, draw(weights), kind) else {
            return 0.0;
        };
        let Some(script) = Script::after(counted, second, counted.now) else {
            return 0.0;
        };
        script.made(&mut disc, replay::FEW);
        f64::from(u8::from(self.sight.likely(&disc) == 1.0))
    }

    /// Every two mistakes of which all that is seen fits.
    pub(super) fn two(&self) -> Vec<Story> {
        let chances = self.chances(WITHIN_FOR_TWO);
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
        let moments = first.slipping.resume.max(first.at + 1)..counted.now;
        for at in moments.filter(|&at| counted.groups[at].moves.start == at) {
            let Some(script) = Script::after(counted, &first.slipping, at) else {
                continue;
            };
            let start = counted.discs[first.at].clone();
            script.play(start, 0, replay::FEW, &mut |disc, rules| {
                self.play_second(first, at, disc, rules, found);
            });
        }
    }

    fn play_second(
        &self,
        first: &Chance,
        at: usize,
        disc: &Disc,
        rules: Rules,
        found: &mut Vec<Story>,
    ) {
        let counted = self.counted;
        for second in seconds(counted, disc, at, first.slipping.reading) {
            let Some(script) = Script::after(counted, &second, counted.now) else {
                continue;
            };
            let kinds = [first.slipping.slip.kind(), second.slip.kind()];
            let here = guess::unseen_for(counted.now - at) / counted.within.min(16) as f64;
            let likely = guess::TWO * first.likely * here * second.share * guess::of_kind(kinds[1]);
            script.play(disc.clone(), 0, rules, &mut |end, rules| {
                if self.sight.likely(end) < 1.0 {
                    return;
                }
                let plot = (first.slipping.clone(), at, second.clone());
                found.push(Story {
                    slips: vec![(first.at, first.slipping.slip), (at, second.slip)],
                    end: counted.now,
                    from: first.at,
                    disc: end.clone(),
                    weight: likely * replay::likely(rules) * self.sight.signs(&kinds),
                    fits: true,
                    plot: Plot::Two(Box::new(plot), rules),
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
