//! All that may have happened, each with how likely it is.

use super::counted::{Counted, OFF};
use super::disc::{Carry, Disc};
use super::guess;
use super::replay::{Hands, Path, Script};
use super::sight::Sight;
use super::slip::{Kind, Slip, Slipping, slips_at};

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
    pub(super) plot: Plot,
}

/// How the carries of a story are found again.
#[derive(Debug, Clone)]
pub(super) enum Plot {
    /// As counted.
    Counted,
    /// One mistake, and a rule.
    One(Slipping, Path),
    /// Two, the second at a moment.
    Two(Box<(Slipping, Path, usize, Slipping, Path)>),
}

impl Story {
    /// What was carried after [`Self::from`].
    pub(super) fn made(&self, counted: &Counted) -> Vec<Carry> {
        let mut disc = counted.discs[self.from].clone();
        match &self.plot {
            Plot::Counted => counted.moves[self.from..self.end].to_vec(),
            Plot::One(slipping, path) => Script::after(counted, slipping, self.end)
                .map(|script| script.made(&mut disc, &mut path.clone()))
                .unwrap_or_default(),
            Plot::Two(two) => {
                let (first, path, at, second, on) = &**two;
                let scripts = [
                    (Script::after(counted, first, *at), *path),
                    (Script::after(counted, second, self.end), *on),
                ];
                let made = scripts.into_iter();
                let made = made.filter_map(|(script, path)| Some((script?, path)));
                made.flat_map(|(script, mut path)| script.made(&mut disc, &mut path))
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
pub(super) struct Chance {
    pub(super) at: usize,
    pub(super) slipping: Slipping,
    pub(super) likely: f64,
}

impl Search<'_> {
    /// Nothing wrong, or the counter off.
    pub(super) fn places(&self) -> Vec<Story> {
        let counted = self.counted;
        let ends = counted.now.saturating_sub(OFF as usize)..=counted.now + OFF as usize;
        let off = |end: usize| guess::off_by(end.abs_diff(counted.now));
        let offs: f64 = ends
            .clone()
            .filter(|&end| end != counted.now)
            .map(off)
            .sum();
        let told = |end: usize| {
            let next = counted.moves.get(counted.now).copied();
            let disc = counted.discs.get(end)?;
            let (kind, likely) = match end == counted.now {
                true => (Kind::Right, guess::of_kind(Kind::Right)),
                false => (Kind::Place, guess::of_kind(Kind::Place) * off(end) / offs),
            };
            let seen = self.sight.likely(disc);
            Some(Story {
                slips: Vec::new(),
                end,
                from: end,
                disc: disc.clone(),
                weight: likely * seen * self.sight.signs(&[kind]) * self.looks_now(disc, next),
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

    pub(super) fn chances(&self, within: usize) -> Vec<Chance> {
        let counted = self.counted;
        let earliest = counted.now - within.min(counted.within);
        let moments: Vec<usize> = (earliest..=counted.now).collect();
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

    /// How much likelier than at other moments hands look at the disc when a move comes
    /// next.
    pub(super) fn looks_now(&self, disc: &Disc, next: Option<Carry>) -> f64 {
        match next {
            Some(next) if !disc.can(next) => guess::STUCK,
            _ => 1.0,
        }
    }

    fn play_one(&self, chance: &Chance, found: &mut Vec<Story>) {
        let counted = self.counted;
        let Some(script) = Script::after(counted, &chance.slipping, counted.now) else {
            return;
        };
        let signs = self.sight.signs(&[chance.slipping.slip.kind()]);
        let start = counted.discs[chance.at].clone();
        let next = counted.read(counted.now, chance.slipping.reading);
        script.play(Hands::at(start), &mut |hands| {
            let seen = self.sight.likely(&hands.disc);
            if seen > 0.0 {
                let looks_now = self.looks_now(&hands.disc, next);
                found.push(Story {
                    slips: vec![(chance.at, chance.slipping.slip)],
                    end: counted.now,
                    from: chance.at,
                    disc: hands.disc.clone(),
                    weight: chance.likely * hands.likely * seen * signs * looks_now,
                    fits: seen == 1.0,
                    plot: Plot::One(chance.slipping.clone(), hands.path),
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
}
