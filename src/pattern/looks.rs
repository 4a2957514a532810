//! The looks that a structure can give, found piece by piece.

use std::collections::BTreeSet;
use std::sync::Arc;

use num_bigint::BigUint;

use super::arrangement::{Arrangement, Choice};
use super::count::{arrangements, count};
use super::group::Group;
use super::kin::in_kin_order;
use super::listing::{Free, Listing, Next};
use super::mosaic::Mosaic;
use super::sameness::Sameness;
use super::sample::Sampler;
use super::words::{Kind, Words, describe};

/// Most looks that are listed one by one; of more, some are drawn.
pub const LISTED_AT_MOST: usize = 5_000;
/// How many looks are drawn where there are too many to list.
pub const DRAWN: usize = 500;

/// Most arrangements gone through for a list: about a second of work.
const MOST_ARRANGEMENTS: usize = 4_000_000;
/// Draws for each look wanted, before one is content with fewer.
const DRAWS_EACH: usize = 40;
/// What a draw costs, in arrangements gone through.
const COST_OF_A_DRAW: usize = 20;
/// What a description costs, in arrangements gone through.
const COST_OF_WORDS: usize = 50;

/// One look.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// The least arrangement that shows it.
    pub arrangement: Arrangement,
    /// What it shows, if the surface is known.
    pub words: Option<Words>,
}

/// Which looks are wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanted {
    /// The colours.
    pub choice: Choice,
    /// For each strand the colour it keeps, if it is to stay as it is; may be empty.
    pub kept: Vec<Option<u8>>,
    /// Only looks of these kinds; all if empty. Needs a surface.
    pub kinds: Vec<Kind>,
}

impl Wanted {
    /// All looks of some colours.
    pub fn all(choice: Choice) -> Self {
        Self {
            choice,
            kept: Vec::new(),
            kinds: Vec::new(),
        }
    }
}

/// Where looks come from.
#[derive(Debug)]
enum Source {
    Listed(Listing),
    Drawn { sampler: Box<Sampler>, draws: usize },
}

/// The looks of a structure as far as they have been found.
///
/// Make it, then let it [`go_on`](Self::go_on) by pieces until it [`is_done`](Self::is_done);
/// at any time the looks found so far can be [`shown`](Self::shown).
#[derive(Debug)]
pub struct Looks {
    same: Sameness,
    wanted: Wanted,
    mosaic: Option<Arc<Mosaic>>,
    source: Source,
    count: BigUint,
    found: Vec<Look>,
    met: BTreeSet<Arrangement>,
    is_done: bool,
}

impl Looks {
    /// Begins to look for the looks of a structure.
    ///
    /// Without a `mosaic` looks have no words, and none is left out for its kind.
    /// `seed` makes which looks are drawn, where there are too many to list.
    pub fn new(group: Group, wanted: Wanted, mosaic: Option<Arc<Mosaic>>, seed: u64) -> Self {
        let choice = &wanted.choice;
        let count = count(&group, choice);
        let free = Free::new(group.strands(), choice, &wanted.kept);
        let left = free.left().map(|contents| Choice {
            contents,
            colours_change_places: false,
        });
        let all = left.map_or(BigUint::ZERO, |left| arrangements(free.strands(), &left));
        let keeps_some = free.strands() < group.strands();
        let is_short = keeps_some || count <= BigUint::from(LISTED_AT_MOST);
        let is_listed = is_short && all <= BigUint::from(MOST_ARRANGEMENTS);
        let same = Sameness::new(group, choice, wanted.kept.clone());
        let source = if is_listed {
            Source::Listed(Listing::new(free))
        } else {
            Source::Drawn {
                sampler: Box::new(Sampler::new(&same, choice, free, seed)),
                draws: DRAWN * DRAWS_EACH,
            }
        };
        Self {
            same,
            wanted,
            mosaic,
            source,
            count,
            found: Vec::new(),
            met: BTreeSet::new(),
            is_done: false,
        }
    }

    /// Goes on for a while: `steps` is about the number of arrangements looked at, of
    /// which a millisecond takes some thousands. Says whether all is done.
    pub fn go_on(&mut self, mut steps: usize) -> bool {
        while !self.is_done && steps > 0 {
            match self.next(&mut steps) {
                Next::Found(arrangement) => {
                    steps = steps.saturating_sub(COST_OF_WORDS);
                    self.take(arrangement);
                }
                Next::Later => {}
                Next::Ended => self.is_done = true,
            }
            let is_full = self.found.len() >= self.most();
            self.is_done |= is_full;
        }
        self.is_done
    }

    /// How many looks are shown at most.
    fn most(&self) -> usize {
        match self.source {
            Source::Listed(_) => LISTED_AT_MOST,
            Source::Drawn { .. } => DRAWN,
        }
    }

    fn next(&mut self, steps: &mut usize) -> Next {
        match &mut self.source {
            Source::Listed(listing) => listing.next_within(&self.same, steps),
            Source::Drawn { sampler, draws } => {
                *steps = steps.saturating_sub(COST_OF_A_DRAW);
                let Some(left) = draws.checked_sub(1) else {
                    return Next::Ended;
                };
                *draws = left;
                sampler.draw(&self.same).map_or(Next::Ended, Next::Found)
            }
        }
    }

    fn take(&mut self, arrangement: Arrangement) {
        if !self.met.insert(arrangement.clone()) {
            return;
        }
        let words = self
            .mosaic
            .as_ref()
            .map(|mosaic| describe(mosaic, &arrangement));
        let kinds = &self.wanted.kinds;
        let is_wanted = words
            .as_ref()
            .is_none_or(|words| kinds.is_empty() || kinds.contains(&words.kind));
        if is_wanted {
            self.found.push(Look { arrangement, words });
        }
    }

    /// Whether nothing more will be found.
    pub fn is_done(&self) -> bool {
        self.is_done
    }

    /// Whether there are too many to list, so that only some are drawn.
    pub fn is_drawn(&self) -> bool {
        matches!(self.source, Source::Drawn { .. })
    }

    /// How many looks there are with these colours, whatever is kept and of whatever
    /// kind: exact.
    pub fn count(&self) -> &BigUint {
        &self.count
    }

    /// How many of them are of the wanted kinds with the kept strands as they are: exact;
    /// none as long as it is not known.
    pub fn count_wanted(&self) -> Option<usize> {
        let is_whole = self.is_done && !self.is_drawn() && self.found.len() < LISTED_AT_MOST;
        is_whole.then_some(self.found.len())
    }

    /// How many have been found so far.
    pub fn found(&self) -> usize {
        self.found.len()
    }

    /// The looks found so far, kin beside kin. Takes some milliseconds for thousands:
    /// not for every frame.
    pub fn shown(&self) -> Vec<Look> {
        // Of looks drawn from very many hardly two are neighbours.
        let neighbours = (!self.is_drawn()).then_some(&self.same);
        in_kin_order(self.found.clone(), neighbours)
    }

    /// The look of any arrangement, as it stands among the [`shown`](Self::shown).
    pub fn place_of(&self, arrangement: &Arrangement) -> Arrangement {
        self.same.least(arrangement)
    }
}

#[cfg(test)]
mod tests {
    use super::super::group::tests::{cyclic, dihedral};
    use super::*;
    use crate::pattern::Alike;
    use crate::structure::{Braid, shelf};

    fn done(mut looks: Looks) -> Looks {
        while !looks.go_on(10_000) {}
        looks
    }

    fn all(group: Group, choice: Choice) -> Looks {
        done(Looks::new(group, Wanted::all(choice), None, 1))
    }

    fn assert_each_once(group: &Group, looks: &Looks) {
        let shown = looks.shown();
        assert_eq!(shown.len(), looks.found());
        let mut met = BTreeSet::new();
        for look in &shown {
            for alike in group.alike(&look.arrangement) {
                assert!(met.insert(alike), "{} comes twice", look.arrangement);
            }
        }
    }

    #[test]
    fn a_list_holds_every_look_of_the_shelf_once() {
        for structure in shelf().iter().filter(|one| one.strands() <= 12) {
            let braid = Braid::new(&structure.moves).unwrap();
            let n = structure.strands();
            for alike in [Alike::Turned, Alike::UpsideDown, Alike::Mirrored] {
                let group = Group::of_braid(&braid, alike).unwrap();
                for choice in [Choice::counts(&[n - n / 2, n / 2]), Choice::up_to(2)] {
                    let looks = all(group.clone(), choice);
                    assert!(!looks.is_drawn(), "{}", structure.name);
                    let count = looks.count_wanted().map(BigUint::from);
                    assert_eq!(count.as_ref(), Some(looks.count()), "{}", structure.name);
                    assert_each_once(&group, &looks);
                }
            }
        }
    }

    #[test]
    fn a_list_of_colours_that_change_places_is_as_long_as_counted() {
        for choice in [
            Choice::up_to(3),
            Choice::counts(&[3, 3, 2]),
            Choice::counts(&[4, 4]),
            Choice::counts(&[2, 2, 2, 2]),
        ] {
            let looks = all(dihedral(8), choice.changing_places());
            assert_eq!(&BigUint::from(looks.found()), looks.count());
        }
    }

    #[test]
    fn a_list_does_not_depend_on_the_pieces_in_which_it_was_made() {
        let choice = Choice::counts(&[5, 4]);
        let at_once = all(cyclic(9), choice.clone()).shown();
        let mut by_pieces = Looks::new(cyclic(9), Wanted::all(choice), None, 7);
        let mut before = 0;
        while !by_pieces.go_on(3) {
            assert!(by_pieces.found() <= before + 1);
            before = by_pieces.found();
        }
        assert_eq!(by_pieces.shown(), at_once);
    }

    #[test]
    fn neighbours_in_the_list_are_mostly_one_swap_apart() {
        let looks = all(cyclic(12), Choice::counts(&[6, 6]));
        let shown = looks.shown();
        let is_near = |pair: &&[Look]| {
            let near = looks.same.one_swap_away(&pair[0].arrangement);
            near.contains(&pair[1].arrangement)
        };
        let near = shown.windows(2).filter(is_near).count();
        assert!(10 * near > 8 * shown.len(), "{near} of {}", shown.len());
    }

    #[test]
    fn strands_that_stay_keep_their_colours_and_no_look_comes_twice() {
        let group = dihedral(8);
        let wanted = Wanted {
            kept: vec![Some(0), None, None, Some(1)],
            ..Wanted::all(Choice::counts(&[4, 4]))
        };
        let looks = done(Looks::new(group.clone(), wanted, None, 1));
        assert_each_once(&group, &looks);
        let shown = looks.shown();
        assert!(
            shown
                .iter()
                .all(|look| look.arrangement.0[0] == 0 && look.arrangement.0[3] == 1)
        );
        // Any ring of four and four has a dark bead three places from a light one.
        assert_eq!(looks.count_wanted(), Some(8));
    }

    #[test]
    fn strands_that_cannot_stay_so_leave_no_look() {
        let wanted = Wanted {
            kept: vec![Some(0), Some(0)],
            ..Wanted::all(Choice::counts(&[1, 7]))
        };
        let looks = done(Looks::new(cyclic(8), wanted, None, 1));
        assert_eq!((looks.found(), looks.count_wanted()), (0, Some(0)));
    }

    #[test]
    fn of_too_many_looks_some_are_drawn_the_same_for_the_same_seed() {
        let choice = Choice::counts(&[8, 8, 8]);
        let draw = |seed| {
            done(Looks::new(
                dihedral(24),
                Wanted::all(choice.clone()),
                None,
                seed,
            ))
        };
        let looks = draw(3);
        assert!(looks.is_drawn());
        assert_eq!(looks.found(), DRAWN);
        assert_eq!(looks.count_wanted(), None);
        assert_each_once(&dihedral(24), &looks);
        assert_eq!(looks.shown(), draw(3).shown());
        assert_ne!(looks.shown(), draw(4).shown());
        let counts = |look: &Look| look.arrangement.counts();
        assert!(looks.shown().iter().all(|look| counts(look) == [8, 8, 8]));
    }

    #[test]
    fn every_look_is_drawn_as_often_as_any_other() {
        let choice = Choice::counts(&[4, 4]);
        let group = dihedral(8);
        let same = Sameness::new(group, &choice, Vec::new());
        let mut sampler = Sampler::new(&same, &choice, Free::new(8, &choice, &[]), 11);
        let mut times = std::collections::BTreeMap::new();
        for _ in 0..8000 {
            *times.entry(sampler.draw(&same).unwrap()).or_insert(0_i32) += 1;
        }
        // Eight bracelets, among them one of 2 arrangements and some of 8 or 16.
        assert_eq!(times.len(), 8);
        for (look, &times) in &times {
            assert!((times - 1000).abs() < 150, "{look} drawn {times} times");
        }
    }
}
