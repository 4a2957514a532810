//! A disc with a mistake on it, and the truth about it.

use std::ops::Deref;

use fastrand::Rng;
use plaitwright::bench::Seen;
use plaitwright::structure::{Braid, MoveList, Structure, shelf};

use super::disc::{Carry, Disc};
use super::person::{Goes, Person};
use super::slips::{Kind, Slip};
use super::telling::{Looks, Told, tell};
use super::work::Work;

/// A mistake is looked for in so many moves.
pub(crate) const LAST: u64 = 16;

/// A list of the shelf, ready to be worked.
#[derive(Debug)]
pub(crate) struct Bench {
    pub(crate) structure: &'static Structure,
    pub(crate) braid: Braid,
    pub(crate) work: Work,
}

impl Bench {
    pub(crate) fn all() -> Vec<Self> {
        let bench = |structure: &'static Structure| Self {
            structure,
            braid: Braid::new(&structure.moves).expect("a list of the shelf"),
            work: Work::new(&structure.moves),
        };
        shelf().iter().map(bench).collect()
    }

    fn uses_half_slots(&self) -> bool {
        let list: &MoveList = &self.structure.moves;
        let mut moves = list.moves().map(|(_, one)| Carry::of(one));
        moves.any(|one| one.from % 2 == 1 || one.to % 2 == 1 || one.from == 0 || one.to == 0)
    }
}

/// What kind of case is wanted.
#[derive(Debug, Clone)]
pub(crate) struct Wanted {
    /// The mistakes, in order; none, if nothing is wrong.
    pub(crate) kinds: Vec<Kind>,
    pub(crate) looks: Looks,
    pub(crate) told: Told,
}

/// Who works on what, and how it is looked at.
#[derive(Debug, Clone)]
pub(crate) struct Scene<'a> {
    pub(crate) bench: &'a Bench,
    pub(crate) wanted: Wanted,
    pub(crate) roles: Vec<usize>,
    pub(crate) looks: Vec<usize>,
    /// Which slots are left out of what is told.
    by_chance: u64,
}

impl<'a> Scene<'a> {
    fn draw(bench: &'a Bench, wanted: &Wanted, rng: &mut Rng) -> Self {
        let n = bench.work.strands();
        let of_start = wanted.looks.of(n, rng);
        let mut roles: Vec<usize> = (0..n).collect();
        if rng.u8(..4) == 0 {
            rng.shuffle(&mut roles);
        }
        Self {
            bench,
            wanted: wanted.clone(),
            looks: roles.iter().map(|&role| of_start[role]).collect(),
            roles,
            by_chance: rng.u64(..),
        }
    }

    fn told(&self, disc: &Disc) -> Seen {
        let half_slots = self.bench.uses_half_slots();
        tell(
            disc,
            &self.looks,
            self.wanted.told,
            half_slots,
            self.by_chance,
        )
    }

    fn shows(&self, person: &Person<'_>) -> bool {
        let should = self.bench.work.disc(&self.roles, person.counted);
        self.told(&person.disc) != self.told(&should)
    }

    /// Somebody who makes mistakes after so many right moves, and goes on for a while,
    /// or until they show; with what was counted at each.
    pub(crate) fn worked(
        &self,
        kinds: &[Kind],
        right: u64,
        shows: impl Fn(&Person<'_>) -> bool,
        rng: &mut Rng,
    ) -> Option<(Person<'a>, Vec<(Slip, u64)>)> {
        let goes = if rng.bool() {
            Goes::ByNumbers
        } else {
            Goes::ByPicture
        };
        let age = rng.u64(..=LAST);
        let mut person = Person::after(&self.bench.work, &self.roles, right, goes);
        let slips = slipped(&mut person, kinds, right, rng)?;
        while person.counted < right + LAST
            && (person.counted < right + age || !shows(&person))
            && person.go_on(rng)
        {}
        (person.counted <= right + LAST).then_some((person, slips))
    }
}

/// A disc that looks wrong, and what is true of it.
#[derive(Debug, Clone)]
pub(crate) struct Case<'a> {
    scene: Scene<'a>,
    pub(crate) goes: Goes,
    /// Each mistake, and how many moves were counted when it was made.
    pub(crate) slips: Vec<(Slip, u64)>,
    pub(crate) counted: u64,
    /// What lies there.
    pub(crate) disc: Disc,
    /// Moves that were made rightly, and what was carried after them.
    pub(crate) right: u64,
    pub(crate) carries: Vec<Carry>,
    pub(crate) seen: Seen,
    /// Whether what is told differs from what should lie there.
    pub(crate) shows: bool,
}

impl<'a> Deref for Case<'a> {
    type Target = Scene<'a>;

    fn deref(&self) -> &Scene<'a> {
        &self.scene
    }
}

impl<'a> Case<'a> {
    /// A case by chance; none if such a mistake is not possible on this list.
    pub(crate) fn draw(bench: &'a Bench, wanted: &Wanted, seed: u64) -> Option<Self> {
        let mut rng = Rng::with_seed(seed);
        (0..40).find_map(|_| Self::try_once(bench, wanted, &mut rng))
    }

    fn try_once(bench: &'a Bench, wanted: &Wanted, rng: &mut Rng) -> Option<Self> {
        let scene = Scene::draw(bench, wanted, rng);
        let a_round = bench.work.a_round();
        let right = rng.u64(a_round.max(20)..a_round.max(20) + 2 * a_round);
        let shows = |person: &Person<'_>| scene.shows(person);
        let (person, slips) = scene.worked(&wanted.kinds, right, shows, rng)?;
        Some(Self {
            goes: person.goes,
            slips,
            counted: person.counted,
            right,
            seen: scene.told(&person.disc),
            shows: scene.shows(&person),
            disc: person.disc,
            carries: person.carries,
            scene,
        })
    }
}

/// Makes the mistakes, the second at most eight moves after the first.
fn slipped(
    person: &mut Person<'_>,
    kinds: &[Kind],
    right: u64,
    rng: &mut Rng,
) -> Option<Vec<(Slip, u64)>> {
    let mut slips = Vec::new();
    for &kind in kinds {
        if !slips.is_empty() {
            let later = rng.u64(..=8);
            (0..later).all(|_| person.go_on(rng)).then_some(())?;
        }
        let slip = kind.slip(rng);
        slips.push((slip, person.counted));
        person.slip(slip, rng).then_some(())?;
    }
    (person.counted <= right + LAST).then_some(slips)
}
