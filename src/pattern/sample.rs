//! Looks drawn at random where there are too many to list.
//!
//! A member of the group and an arrangement that it leaves alone are drawn
//! together, every such pair as likely as any other. Each look has as many pairs
//! as the group has members, so every look is as likely as any other. If colours
//! change places, or some strands stay, arrangements are as likely as one another
//! and looks only nearly so.
//!
//! # Source
//!
//! The way of the Burnside process (M. Jerrum, *Uniform sampling modulo a group of
//! symmetries using Markov chain simulation*, DIMACS Series 10, 1993), in one step,
//! since here all pairs can be counted.

use num_bigint::BigUint;
use num_traits::Zero;

use super::arrangement::{Arrangement, Choice, Contents};
use super::count::{Bin, Fillings, bins, with};
use super::group::rings;
use super::listing::Free;
use super::sameness::Sameness;

/// Draws looks; the same seed draws the same ones.
#[derive(Debug)]
pub(super) struct Sampler {
    kinds: Vec<Kind>,
    choice: Choice,
    free: Free,
    random: fastrand::Rng,
}

/// Members whose rings are as long.
#[derive(Debug)]
struct Kind {
    members: Vec<usize>,
    fillings: Fillings,
    /// How many pairs there are of a member of this kind or one before.
    pairs: BigUint,
}

impl Sampler {
    pub(super) fn new(same: &Sameness, choice: &Choice, free: Free, seed: u64) -> Self {
        let mut kinds = Vec::new();
        let mut pairs = BigUint::zero();
        for (rings, members) in same.group().cycle_index() {
            let mut fillings = Fillings::of(rings);
            pairs += fillings.count(&bins(choice)) * members.len();
            let pairs = pairs.clone();
            kinds.push(Kind {
                members,
                fillings,
                pairs,
            });
        }
        Self {
            kinds,
            choice: choice.clone(),
            free,
            random: fastrand::Rng::with_seed(seed),
        }
    }

    /// A look; none if there is none.
    pub(super) fn draw(&mut self, same: &Sameness) -> Option<Arrangement> {
        let drawn = if self.free.strands() < same.group().strands() {
            self.with_some_kept()?
        } else {
            self.left_alone(same)?
        };
        Some(same.least(&drawn))
    }

    fn with_some_kept(&mut self) -> Option<Arrangement> {
        let mut colours = self.free.first()?;
        match self.free.left()? {
            Contents::UpTo(most) => {
                for colour in &mut colours {
                    *colour = self.random.usize(..most) as u8;
                }
            }
            Contents::Counts(_) => self.random.shuffle(&mut colours),
        }
        Some(self.free.with(&colours))
    }

    /// An arrangement of a pair.
    fn left_alone(&mut self, same: &Sameness) -> Option<Arrangement> {
        let all = self.kinds.last()?.pairs.clone();
        let drawn = below(&all, &mut self.random)?;
        let kind = self.kinds.iter_mut().find(|kind| drawn < kind.pairs)?;
        let member = kind.members[self.random.usize(..kind.members.len())];
        let rings = rings(&same.group().members()[member]);
        let mut left = lefts(&self.choice);
        let mut colours = vec![0; same.group().strands()];
        for (which, ring) in rings.iter().enumerate() {
            let colour = fitting(
                which,
                ring.len(),
                &left,
                &mut kind.fillings,
                &mut self.random,
            )?;
            left[colour] = left[colour].after(ring.len())?;
            for &strand in ring {
                colours[strand] = colour as u8;
            }
        }
        Some(Arrangement(colours))
    }
}

/// The colours as bins in their own order.
fn lefts(choice: &Choice) -> Vec<Bin> {
    let bin = |left| Bin { colours: 1, left };
    match &choice.contents {
        Contents::Counts(counts) => counts.iter().map(|&count| bin(Some(count))).collect(),
        Contents::UpTo(colours) => vec![bin(None); *colours],
    }
}

/// A colour for a ring, each as likely as there are ways to go on after it.
fn fitting(
    which: usize,
    ring: usize,
    left: &[Bin],
    fillings: &mut Fillings,
    random: &mut fastrand::Rng,
) -> Option<usize> {
    let mut ways = Vec::with_capacity(left.len());
    let mut all = BigUint::zero();
    for (colour, bin) in left.iter().enumerate() {
        if let Some(after) = bin.after(ring) {
            all += fillings.count_from(which + 1, &with(left, colour, after));
        }
        ways.push(all.clone());
    }
    let drawn = below(&all, random)?;
    ways.iter().position(|up_to| drawn < *up_to)
}

/// A number from 0 and less than `all`, each as likely; none if `all` is 0.
fn below(all: &BigUint, random: &mut fastrand::Rng) -> Option<BigUint> {
    let bits = all.bits();
    if bits == 0 {
        return None;
    }
    let words = bits.div_ceil(32);
    let spare = 32 * words - bits;
    loop {
        let mut digits: Vec<u32> = (0..words).map(|_| random.u32(..)).collect();
        if let Some(highest) = digits.last_mut() {
            *highest >>= spare;
        }
        let drawn = BigUint::from_slice(&digits);
        if drawn < *all {
            return Some(drawn);
        }
    }
}
