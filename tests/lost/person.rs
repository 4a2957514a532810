//! Somebody at the disc, who makes mistakes and goes on.

use fastrand::Rng;

use super::disc::{Carry, Disc, HAND, Spot, turned};
use super::slips::{Slip, Turned};
use super::work::Work;

/// How somebody goes on who has not noticed a mistake.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Goes {
    /// By slot numbers, until a move cannot be made; then stops and looks.
    ByNumbers,
    /// By the picture: the nearest strand, to the next free slot.
    ByPicture,
}

/// Slots that somebody looks to either side for a strand or for room.
const NEAR: usize = 3;

/// The same where all looks turned or mirrored: what lies further off is noticed.
const NEAR_SEEN_OTHERWISE: usize = 1;

/// Slots between two strands that lie side by side, at most.
const BESIDE: usize = 3;

/// Moves of a round that somebody makes twice without noticing, at most.
const LONG: u64 = 32;

/// A mirror in which somebody works.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mirror {
    /// On the line that the round is laid out from, or square to it.
    OfTheRound,
    /// Between two neighbours, whose spots add up to this.
    Beside(i64),
}

/// Somebody at the disc.
#[derive(Debug, Clone)]
pub(crate) struct Person<'a> {
    work: &'a Work,
    pub(crate) goes: Goes,
    pub(crate) disc: Disc,
    /// What was really carried, from where the first mistake was made.
    pub(crate) carries: Vec<Carry>,
    /// Moves that were counted.
    pub(crate) counted: u64,
    /// The move of the list that comes next, as the person thinks.
    next: u64,
    /// How the person sees the list: turned by so many half slots, for so many moves.
    turned: (i64, u64),
    /// Taking moves back instead of making them.
    backwards: bool,
    /// Working in the mirror.
    mirror: Option<Mirror>,
}

impl<'a> Person<'a> {
    /// After so many right moves.
    pub(crate) fn after(work: &'a Work, roles: &[usize], moves: u64, goes: Goes) -> Self {
        Self {
            work,
            goes,
            disc: work.disc(roles, moves),
            carries: Vec::new(),
            counted: moves,
            next: moves,
            turned: (0, 0),
            backwards: false,
            mirror: None,
        }
    }

    /// The next move; false if it cannot be made.
    pub(crate) fn go_on(&mut self, rng: &mut Rng) -> bool {
        let wanted = if self.backwards {
            self.next
                .checked_sub(1)
                .map(|last| self.work.carry(last).back())
        } else {
            Some(self.work.carry(self.next))
        };
        if !wanted.is_some_and(|wanted| self.make(wanted, rng)) {
            return false;
        }
        self.next = if self.backwards {
            self.next - 1
        } else {
            self.next + 1
        };
        self.counted += 1;
        self.turned.1 = self.turned.1.saturating_sub(1);
        true
    }

    /// A move as it is seen now.
    fn make(&mut self, wanted: Carry, rng: &mut Rng) -> bool {
        let (slots, seen_otherwise) = (self.work.slots, self.turned.1 > 0);
        match self.mirror {
            Some(Mirror::OfTheRound) => return self.make_mirrored(wanted, rng),
            Some(Mirror::Beside(both)) => {
                let all = 2 * slots as i64;
                let shown = |spot: Spot| (both - spot as i64 - 2).rem_euclid(all) as Spot + 2;
                let seen = wanted.moved(|spot| if spot == HAND { HAND } else { shown(spot) });
                return self.otherwise(seen, rng);
            }
            None => {}
        }
        if seen_otherwise {
            let on = self.turned.0;
            return self.otherwise(wanted.moved(|spot| turned(spot, on, slots)), rng);
        }
        match self.goes {
            Goes::ByNumbers => self.exactly(wanted),
            Goes::ByPicture => self.nearly(wanted, rng),
        }
    }

    /// A move exactly as told.
    pub(crate) fn exactly(&mut self, one: Carry) -> bool {
        let possible = self.disc.carry(one);
        if possible {
            self.carries.push(one);
        }
        possible
    }

    /// A move as the picture looks: the nearest strand, to the next free slot.
    pub(crate) fn nearly(&mut self, wanted: Carry, rng: &mut Rng) -> bool {
        let Some(from) = self.nearest(wanted.from, |disc, spot| !disc.is_free(spot), rng) else {
            return false;
        };
        let is_room = |disc: &Disc, spot| spot != from && disc.is_free(spot);
        let to = self.nearest(wanted.to, is_room, rng);
        to.is_some_and(|to| self.exactly(Carry { from, to }))
    }

    /// The same of a move that is seen turned or mirrored.
    fn otherwise(&mut self, seen: Carry, rng: &mut Rng) -> bool {
        let strands = self.disc.rim().filter(|&spot| !self.disc.is_free(spot));
        let off = strands.map(|spot| self.disc.apart(spot, seen.from)).min();
        let looks_right =
            seen.from == HAND || off.is_some_and(|off| off <= 2 * NEAR_SEEN_OTHERWISE);
        looks_right && self.nearly(seen, rng)
    }

    fn nearest(
        &self,
        wanted: Spot,
        fits: impl Fn(&Disc, Spot) -> bool,
        rng: &mut Rng,
    ) -> Option<Spot> {
        if fits(&self.disc, wanted) {
            return Some(wanted);
        }
        if wanted == HAND {
            return None;
        }
        (1..=NEAR as i64).find_map(|slots| {
            let mut sides = [2 * slots, -2 * slots].map(|on| self.disc.turned(wanted, on));
            rng.shuffle(&mut sides);
            sides.into_iter().find(|&spot| fits(&self.disc, spot))
        })
    }

    /// A move in the other direction: as a mirror shows it that stands on the line between
    /// the hands, or square to it, whichever shows the strand nearer by.
    fn make_mirrored(&mut self, wanted: Carry, rng: &mut Rng) -> bool {
        let (work, after) = (self.work, self.next);
        let mut ways =
            [false, true].map(|square| wanted.moved(|spot| work.mirrored(spot, square, after)));
        ways.sort_by_key(|seen| self.disc.apart(seen.from, wanted.from));
        ways.into_iter().any(|seen| self.otherwise(seen, rng))
    }

    /// Makes a mistake; false if it cannot be made here.
    pub(crate) fn slip(&mut self, slip: Slip, rng: &mut Rng) -> bool {
        match slip {
            Slip::NotCounted(times) => self.forget_to_count(times),
            Slip::CountedTwice(times) => self.pass(0, times),
            Slip::SkippedMove => self.pass(1, 1),
            Slip::SkippedPair => self.work.pair(self.next) == self.next && self.pass(2, 2),
            Slip::SkippedRound => self.pass(self.work.a_round(), self.work.a_round()),
            Slip::MoveTwice => self.again(1, rng),
            Slip::PairTwice => self.is_after_a_pair() && self.again(2, rng),
            Slip::RoundTwice => self.another_round(),
            Slip::WrongHand { pair } => self.mirror_for(1 + u64::from(pair), rng),
            Slip::WrongSlot(slots) => self.lay_beside(slots),
            Slip::WrongStrand(which) => self.take_other(which),
            Slip::WrongTurn { turned, for_good } => self.turn(turned, for_good),
            Slip::Swapped { clockwise } => self.swap(clockwise, rng),
            Slip::Backwards => {
                self.backwards = true;
                true
            }
            Slip::Mirrored => {
                self.mirror = Some(Mirror::OfTheRound);
                true
            }
        }
    }

    fn forget_to_count(&mut self, times: u64) -> bool {
        let moves = self.work.carries(self.next..self.next + times);
        self.next += times;
        moves.into_iter().all(|one| self.exactly(one))
    }

    /// The last round once more: with the drift of the rounds, that is one round more.
    fn another_round(&mut self) -> bool {
        let a_round = self.work.a_round();
        a_round <= LONG && self.forget_to_count(a_round)
    }

    /// So many moves are passed over, and so many counted.
    fn pass(&mut self, moves: u64, counted: u64) -> bool {
        self.next += moves;
        self.counted += counted;
        true
    }

    fn is_after_a_pair(&self) -> bool {
        let before = self.next.checked_sub(2);
        before.is_some_and(|first| self.work.pair(first) == first)
    }

    /// The last so many moves once more, without counting.
    fn again(&mut self, moves: u64, rng: &mut Rng) -> bool {
        let Some(first) = self.next.checked_sub(moves) else {
            return false;
        };
        let moves = self.work.carries(first..self.next);
        moves.into_iter().all(|one| self.nearly(one, rng))
    }

    /// So many moves with the other hand.
    fn mirror_for(&mut self, moves: u64, rng: &mut Rng) -> bool {
        if moves == 2 && self.work.pair(self.next) != self.next {
            return false;
        }
        self.mirror = Some(self.other_hand(rng));
        let made = (0..moves).all(|_| self.go_on(rng));
        self.mirror = None;
        made
    }

    /// The mirror that shows the next move as the other hand makes it: where strands lie
    /// side by side, one for each hand, it stands between the two; of neighbours as near
    /// on both sides either may be the other one. Where they lie apart, it is that of
    /// the round.
    fn other_hand(&self, rng: &mut Rng) -> Mirror {
        let from = self.work.carry(self.next).from;
        let mut sides = [1, -1].map(|way| self.neighbour(from, way));
        rng.shuffle(&mut sides);
        let far = |&other: &Spot| self.disc.apart(from, other);
        let nearest = sides.into_iter().flatten().min_by_key(far);
        let is_beside = |other: &Spot| far(other) <= 2 * BESIDE;
        let beside = nearest.filter(is_beside);
        beside.map_or(Mirror::OfTheRound, |other| {
            Mirror::Beside((from + other) as i64)
        })
    }

    fn counted_as(&mut self, one: Carry) -> bool {
        self.next += 1;
        self.counted += 1;
        self.exactly(one)
    }

    fn lay_beside(&mut self, slots: i64) -> bool {
        let one = self.work.carry(self.next);
        let to = self.disc.turned(one.to, 2 * slots);
        one.to != HAND && self.counted_as(Carry { to, ..one })
    }

    fn take_other(&mut self, which: Other) -> bool {
        let one = self.work.carry(self.next);
        let from = match which {
            Other::Partner => {
                let first = self.work.pair(self.next);
                let partner = if first == self.next { first + 1 } else { first };
                let are_two = self.work.is_pair(first);
                are_two.then(|| self.work.carry(partner).from)
            }
            Other::Clockwise => self.neighbour(one.from, 1),
            Other::Anticlockwise => self.neighbour(one.from, -1),
        };
        let other = from.filter(|&from| from != one.from);
        other.is_some_and(|from| self.counted_as(Carry { from, ..one }))
    }

    /// The spot of the next strand on the rim.
    fn neighbour(&self, spot: Spot, way: i64) -> Option<Spot> {
        if spot == HAND {
            return None;
        }
        let mut spots = (1..2 * self.work.slots as i64).map(|on| self.disc.turned(spot, way * on));
        spots.find(|&spot| !self.disc.is_free(spot))
    }

    fn turn(&mut self, by: Turned, for_good: bool) -> bool {
        if self.work.pair(self.next) != self.next {
            return false;
        }
        let quarter = self.work.slots as i64 / 2;
        let on = match by {
            Turned::Quarter => quarter,
            Turned::Back => -quarter,
            Turned::Half => 2 * quarter,
        };
        self.turned = (on, if for_good { u64::MAX } else { 2 });
        true
    }

    /// Two neighbours change places, half a turn round one another.
    fn swap(&mut self, clockwise: bool, rng: &mut Rng) -> bool {
        let taken: Vec<Spot> = self.disc.rim().filter(|&s| !self.disc.is_free(s)).collect();
        let one = taken[rng.usize(..taken.len())];
        let Some(other) = self.neighbour(one, 1) else {
            return false;
        };
        let beside = self.disc.turned(other, if clockwise { 1 } else { -1 });
        let carries = [(one, beside), (other, one), (beside, other)];
        let mut carries = carries.into_iter().map(|(from, to)| Carry { from, to });
        carries.all(|one| self.exactly(one))
    }
}

/// Which strand is taken instead of the right one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Other {
    /// The one that the other move of the pair takes.
    Partner,
    /// The next clockwise.
    Clockwise,
    /// The next anticlockwise.
    Anticlockwise,
}
