//! The kinds of mistakes, and all that may happen at one moment.

use super::counted::{Counted, Group};
use super::disc::{Carry, Disc};
use super::guess;
use crate::structure::{Place, Step, Way};

/// A mistake of the hands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Slip {
    /// So many moves were left out.
    Skipped(u64),
    /// So many moves were made twice.
    Doubled(u64),
    /// So many moves were made as in a mirror, by the other hand.
    OtherHand(u64),
    /// The strand was laid down so many slots further clockwise than it should.
    WrongSlot(i32),
    /// The strand in this place was taken up, not that of the moves.
    WrongStrand(Place),
    /// So many moves, or all that follow, were worked further round.
    Turned {
        /// Quarters clockwise.
        quarters: u8,
        /// Moves; none for all that follow.
        moves: Option<u64>,
    },
    /// Two neighbours were laid in each other's place.
    Swapped {
        /// The one that went over the other.
        over: Place,
        /// The other.
        under: Place,
    },
    /// All that follows was worked as in a mirror.
    Mirrored,
    /// From there on moves were taken back instead of made.
    Backwards,
    /// From there on the moves were made in the reverse order.
    ReverseOrder,
}

/// What a mistake is, without where.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// All is as it should be.
    Right,
    /// The place is another than counted.
    Place,
    /// Moves left out.
    Skipped,
    /// Moves made twice.
    Doubled,
    /// The motion of the other hand.
    Hand,
    /// Laid down in another slot.
    Slot,
    /// Another strand taken up.
    Strand,
    /// Worked with the disc turned.
    Turned,
    /// Two neighbours changed.
    Swapped,
    /// Worked in the other direction.
    Reversed,
}

impl Slip {
    /// Moves of the list that were done before the first that it is about, if it
    /// happened when so many were.
    pub(super) fn begins(self, at: u64) -> u64 {
        match self {
            Self::Doubled(moves) => at.saturating_sub(moves),
            _ => at,
        }
    }

    /// Its kind.
    pub fn kind(self) -> Kind {
        match self {
            Self::Skipped(_) => Kind::Skipped,
            Self::Doubled(_) => Kind::Doubled,
            Self::OtherHand(_) => Kind::Hand,
            Self::WrongSlot(_) => Kind::Slot,
            Self::WrongStrand(_) => Kind::Strand,
            Self::Turned { .. } => Kind::Turned,
            Self::Swapped { .. } => Kind::Swapped,
            Self::Mirrored | Self::Backwards | Self::ReverseOrder => Kind::Reversed,
        }
    }
}

/// How the hands read the counted moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Reading {
    /// As they are.
    Plain,
    /// With the disc turned by so many half slots.
    Turned(i32),
    /// In the mirror that carries half slot 0 onto this one.
    Mirror(i32),
    /// In the mirror on the line through the mark, which goes on with the rounds.
    Mirrored,
    /// In the mirror across that line.
    MirroredAcross,
    /// In that of these two mirrors which shows the strand nearer to where it lies.
    MirroredNear,
    /// From this moment on those before it, the last first, each taken back.
    Back(usize),
    /// From this moment on those before it, the last first, each as it is.
    Before(usize),
    /// From this moment on those of the round that follows, the last first.
    LastFirst(usize),
}

impl Counted {
    /// The move that the hands make for the counted move `at`.
    pub(super) fn read(&self, at: usize, reading: Reading) -> Option<Carry> {
        let placed = |at: usize, to: &dyn Fn(u16) -> u16| {
            let one = self.moves.get(at)?;
            Some(Carry {
                from: to(one.from),
                to: to(one.to),
            })
        };
        let mirrored = |from: usize| (2 * from).checked_sub(at + 1);
        match reading {
            Reading::Plain => self.moves.get(at).copied(),
            Reading::Turned(by) => placed(at, &|spot| self.rim.turned(spot, by)),
            Reading::Mirror(axis) => placed(at, &|spot| self.rim.mirrored(spot, axis)),
            Reading::Mirrored => self.read(at, Reading::Mirror(self.axis(at, false))),
            Reading::MirroredAcross => self.read(at, Reading::Mirror(self.axis(at, true))),
            Reading::MirroredNear => {
                let axis = self.near_axis(at, self.moves.get(at)?.from);
                self.read(at, Reading::Mirror(axis))
            }
            Reading::Back(from) => {
                let one = self.moves.get(mirrored(from)?)?;
                Some(Carry {
                    from: one.to,
                    to: one.from,
                })
            }
            Reading::Before(from) => self.moves.get(mirrored(from)?).copied(),
            Reading::LastFirst(from) => self
                .moves
                .get((2 * from + self.round).checked_sub(at + 1)?)
                .copied(),
        }
    }
}

impl Counted {
    /// The half slot onto which the mirror of a move carries half slot 0.
    fn axis(&self, at: usize, across: bool) -> i32 {
        let rounds = (self.done(at) / self.round.max(1) as u64) % u64::from(self.rim.halves);
        let on = 2 * self.turn * rounds as i32;
        let first = if across { self.rim.quarters(2) - 2 } else { -2 };
        first + 2 * on
    }

    fn near_axis(&self, at: usize, from: u16) -> i32 {
        let far = |across: &bool| {
            let there = self.rim.mirrored(from, self.axis(at, *across));
            self.rim.apart(from, there)
        };
        let nearer = [false, true].into_iter().min_by_key(far);
        self.axis(at, nearer.unwrap_or(false))
    }
}

/// One thing that may happen at a moment: other moves, and how it goes on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Slipping {
    pub(super) slip: Slip,
    /// How likely it is among those of its kind at this moment.
    pub(super) share: f64,
    /// What is made instead.
    pub(super) instead: Vec<Carry>,
    /// The counted move that comes next.
    pub(super) resume: usize,
    /// How it is read.
    pub(super) reading: Reading,
}

/// Collects what may happen at a moment.
struct Collected<'a> {
    counted: &'a Counted,
    disc: &'a Disc,
    at: usize,
    found: Vec<Slipping>,
}

/// Everything that may happen with a disc as it lies at a moment, with shares that add
/// up to one for each kind.
pub(super) fn slips_at(counted: &Counted, disc: &Disc, at: usize) -> Vec<Slipping> {
    let mut all = Collected {
        counted,
        disc,
        at,
        found: Vec::with_capacity(32),
    };
    all.swapped();
    all.doubled();
    if at < counted.now {
        let group = &counted.groups[at];
        all.skipped(group);
        all.other_hand(group);
        all.wrong_slot();
        all.wrong_strand(group);
        all.turned(group);
        all.reversed();
    }
    shared(all.found)
}

/// Alike among those of a kind; of neighbours it is told already how likely they are.
fn shared(mut found: Vec<Slipping>) -> Vec<Slipping> {
    let mut sums: [(Option<Kind>, f64); 8] = [(None, 0.0); 8];
    let is_shared = |one: &Slipping| one.slip.kind() != Kind::Swapped;
    for one in found.iter().filter(|one| is_shared(one)) {
        let kind = Some(one.slip.kind());
        let sum = sums.iter_mut().find(|(of, _)| *of == kind || of.is_none());
        if let Some(sum) = sum {
            *sum = (kind, sum.1 + one.share);
        }
    }
    for one in found.iter_mut().filter(|one| is_shared(one)) {
        let kind = Some(one.slip.kind());
        let sum = sums.iter().find(|(of, _)| *of == kind);
        one.share /= sum.map_or(1.0, |(_, sum)| *sum);
    }
    found
}

impl Collected<'_> {
    fn push(&mut self, slip: Slip, share: f64, instead: Vec<Carry>, resume: usize) {
        if resume <= self.counted.now {
            self.found.push(Slipping {
                slip,
                share,
                instead,
                resume,
                reading: Reading::Plain,
            });
        }
    }

    fn all_that_follows(&mut self, slip: Slip, share: f64, reading: Reading) {
        self.found.push(Slipping {
            slip,
            share,
            instead: Vec::new(),
            resume: self.at,
            reading,
        });
    }

    /// Ends of the move, of its motion, of its pair and of a round from here, each once
    /// and with how likely it is.
    fn ends(&self, group: &Group) -> Vec<(usize, f64)> {
        let [one, pair, round] = guess::OF_SO_MANY;
        let mut ends = vec![(self.at + 1, one)];
        if group.moves.start == self.at {
            ends.push((group.moves.end, one));
        }
        if let Some(end) = self.pair_from(group) {
            ends.push((end, pair));
        }
        ends.push((self.at + 2, guess::OF_ANY_TWO));
        ends.push((self.at + self.counted.round, round));
        each_once(ends)
    }

    /// Where the pair ends that begins here; of motions that stand alone two in a row
    /// are as good as a pair.
    fn pair_from(&self, group: &Group) -> Option<usize> {
        if group.moves.start != self.at {
            return None;
        }
        if group.pair != group.moves {
            return (group.pair.start == self.at).then_some(group.pair.end);
        }
        Some(self.counted.groups.get(group.moves.end)?.moves.end)
    }

    /// Where the pair begins that ends here, likewise.
    fn pair_to(&self, group: &Group) -> Option<usize> {
        if group.moves.end != self.at {
            return None;
        }
        if group.pair != group.moves {
            return (group.pair.end == self.at).then_some(group.pair.start);
        }
        let before = group.moves.start.checked_sub(1)?;
        Some(self.counted.groups[before].moves.start)
    }

    fn skipped(&mut self, group: &Group) {
        for (end, share) in self.ends(group) {
            let moves = (end - self.at) as u64;
            self.push(Slip::Skipped(moves), share, Vec::new(), end);
        }
    }

    /// What was made last is made once more.
    fn doubled(&mut self) {
        let Some(last) = self.at.checked_sub(1) else {
            return;
        };
        let group = &self.counted.groups[last];
        let [one, pair, round] = guess::OF_SO_MANY;
        let mut begins = vec![(last, one)];
        if group.moves.end == self.at {
            begins.push((group.moves.start, one));
        }
        if let Some(begin) = self.pair_to(group) {
            begins.push((begin, pair));
        }
        for (moves, share) in [(2, guess::OF_ANY_TWO), (self.counted.round, round)] {
            begins.extend(self.at.checked_sub(moves).map(|begin| (begin, share)));
        }
        for (begin, share) in each_once(begins) {
            let again = self.counted.moves[begin..self.at].to_vec();
            let moves = again.len() as u64;
            self.push(Slip::Doubled(moves), share, again, self.at);
        }
    }

    /// The moves up to another, read in some way.
    fn read(&self, end: usize, reading: Reading) -> Option<Vec<Carry>> {
        let moves = self.at..end;
        moves.map(|at| self.counted.read(at, reading)).collect()
    }

    fn other_hand(&mut self, group: &Group) {
        let exchange = group.exchange.filter(|_| group.moves.start == self.at);
        if let Some((a, b, way)) = exchange {
            let exchanged = self.exchange(a, b, other_way(way));
            let moves = exchanged.len() as u64;
            self.push(Slip::OtherHand(moves), 4.0, exchanged, group.moves.end);
        }
        let pair = self.pair_from(group);
        let mirrors = self.mirrors();
        for end in [Some(self.at + 1), pair].into_iter().flatten() {
            for &(axis, share) in &mirrors {
                if let Some(instead) = self.read(end, Reading::Mirror(axis)) {
                    self.push(Slip::OtherHand((end - self.at) as u64), share, instead, end);
                }
            }
        }
    }

    /// The mirrors in which the other hand may work, each with how likely it is: between
    /// the strand and a neighbour, and the two of the round.
    fn mirrors(&self) -> Vec<(i32, f64)> {
        let (rim, from) = (self.counted.rim, self.counted.moves[self.at].from);
        let neighbours = [1, -1].map(|way| self.disc.next_full(rim, from, way));
        let neighbours: Vec<u16> = neighbours.into_iter().flatten().collect();
        let far = |&to: &u16| rim.apart(from, to);
        let nearest = neighbours.iter().map(far).min();
        let [near, line] = guess::MIRRORS;
        let beside = neighbours.iter().filter(|to| Some(far(to)) == nearest);
        let mut found: Vec<(i32, f64)> = Vec::new();
        let beside = beside.map(|&to| (i32::from(from) + i32::from(to), near));
        let lines = [false, true].map(|across| (self.counted.axis(self.at, across), line));
        for (axis, share) in beside.chain(lines) {
            let axis = axis.rem_euclid(i32::from(rim.halves));
            match found.iter_mut().find(|(other, _)| *other == axis) {
                Some((_, already)) => *already += share,
                None => found.push((axis, share)),
            }
        }
        found
    }

    fn exchange(&self, a: u16, b: u16, way: Way) -> Vec<Carry> {
        let rim = self.counted.rim;
        let (one, other) = (rim.place(a), rim.place(b));
        let step = Step::exchange(one, other, way, rim.halves / 2);
        let spot = |place| rim.spot(place).unwrap_or(a);
        let carries = step.moves.iter().map(|one| Carry {
            from: spot(one.from),
            to: spot(one.to),
        });
        carries.collect()
    }

    fn wrong_slot(&mut self) {
        let rim = self.counted.rim;
        let one = self.counted.moves[self.at];
        if rim.is_hand(one.to) {
            return;
        }
        for by in [-2_i32, -1, 1, 2] {
            let to = rim.turned(one.to, 2 * by);
            let carry = Carry { from: one.from, to };
            if to != one.from && self.disc.can(carry) {
                let share = guess::BESIDE_BY[by.unsigned_abs() as usize - 1];
                self.push(Slip::WrongSlot(by), share, vec![carry], self.at + 1);
            }
        }
    }

    fn wrong_strand(&mut self, group: &Group) {
        let (rim, one) = (self.counted.rim, self.counted.moves[self.at]);
        let neighbours = [1, -1].map(|way| self.disc.next_full(rim, one.from, way));
        // The one that is to be taken next is the partner, if they are a pair.
        let partner = self.counted.moves.get(group.moves.end);
        let others = neighbours.into_iter().flatten();
        for from in others.chain(partner.map(|partner| partner.from)) {
            let slip = Slip::WrongStrand(rim.place(from));
            let carry = Carry { from, to: one.to };
            if from != one.from && self.disc.can(carry) {
                self.push(slip, 1.0, vec![carry], self.at + 1);
            }
            let exchange = group.exchange.filter(|_| group.moves.start == self.at);
            if let Some((_, b, way)) =
                exchange.filter(|&(_, b, _)| self.disc.is_full(from) && from != b)
            {
                self.push(slip, 1.0, self.exchange(from, b, way), group.moves.end);
            }
        }
    }

    /// Two neighbours lie in each other's place: one that was just laid down, or two
    /// that just became neighbours, and at the earliest moment any. Later it is the same
    /// cord, until one of them is taken up.
    fn swapped(&mut self) {
        let rim = self.counted.rim;
        let is_earliest = self.at == self.counted.now - self.counted.within;
        if is_earliest {
            for one in (0..rim.halves).filter(|&spot| self.disc.is_full(spot)) {
                self.swapped_with_next(one);
            }
        } else if let Some(last) = self.at.checked_sub(1) {
            let last = self.counted.moves[last];
            let before = |spot| self.disc.next_full(rim, spot, -1);
            let firsts = [before(last.to), Some(last.to), before(last.from)];
            for one in firsts.into_iter().flatten() {
                self.swapped_with_next(one);
            }
        }
    }

    /// The strand in a spot and the next clockwise, either over the other.
    fn swapped_with_next(&mut self, one: u16) {
        let rim = self.counted.rim;
        let next = self
            .disc
            .next_full(rim, one, 1)
            .filter(|&other| other != one);
        let Some(other) = next.filter(|_| self.disc.is_full(one)) else {
            return;
        };
        let share = self.while_they_lie(one, other);
        for (over, under, past) in [(one, other, 1), (other, one, -1)] {
            let beside = rim.turned(under, past);
            if !self.disc.is_full(beside) {
                let swap = [(over, beside), (under, over), (beside, under)];
                let swap = swap.map(|(from, to)| Carry { from, to });
                let [over, under] = [over, under].map(|spot| rim.place(spot));
                let slip = Slip::Swapped { over, under };
                self.push(slip, share, swap.to_vec(), self.at);
            }
        }
    }

    /// How likely two neighbours, the second clockwise of the first, are swapped now or
    /// later while they still lie so, beside all that may be swapped now.
    fn while_they_lie(&self, one: u16, other: u16) -> f64 {
        let (counted, rim) = (self.counted, self.counted.rim);
        let behind = |spot: u16| (rim.halves + spot - one) % rim.halves;
        let is_touched = |carry: &&Carry| {
            let between = !rim.is_hand(carry.to) && behind(carry.to) < behind(other);
            carry.from == one || carry.from == other || between
        };
        let moves = counted.moves[self.at..counted.now].iter();
        let unseen = |at: usize| guess::unseen_for(counted.now - at);
        let lie = moves.take_while(|carry| !is_touched(carry)).count();
        let moments = self.at..=self.at + lie;
        moments.map(unseen).sum::<f64>() / unseen(self.at) / (2 * counted.strands) as f64
    }

    fn turned(&mut self, group: &Group) {
        let mut ends = vec![self.at + 2, group.pair.end];
        ends.dedup();
        for quarters in 1..4 {
            let reading = Reading::Turned(self.counted.rim.quarters(quarters));
            let moves = None;
            self.all_that_follows(Slip::Turned { quarters, moves }, 1.0, reading);
            for &end in &ends {
                let moves = Some((end - self.at) as u64);
                if let Some(instead) = self.read(end, reading) {
                    let share = 1.0 / ends.len() as f64;
                    self.push(Slip::Turned { quarters, moves }, share, instead, end);
                }
            }
        }
    }

    fn reversed(&mut self) {
        let [back, mirror, order] = guess::DIRECTIONS;
        self.all_that_follows(Slip::Backwards, back, Reading::Back(self.at));
        self.all_that_follows(Slip::Mirrored, 0.5 * mirror, Reading::MirroredNear);
        self.all_that_follows(Slip::Mirrored, 0.25 * mirror, Reading::Mirrored);
        self.all_that_follows(Slip::Mirrored, 0.25 * mirror, Reading::MirroredAcross);
        for reading in [Reading::Before(self.at), Reading::LastFirst(self.at)] {
            self.all_that_follows(Slip::ReverseOrder, order, reading);
        }
    }
}

/// The first of those with the same moment.
fn each_once(all: Vec<(usize, f64)>) -> Vec<(usize, f64)> {
    let mut once: Vec<(usize, f64)> = Vec::with_capacity(all.len());
    for one in all {
        if once.iter().all(|(other, _)| *other != one.0) {
            once.push(one);
        }
    }
    once
}

fn other_way(way: Way) -> Way {
    match way {
        Way::Clockwise => Way::Anticlockwise,
        Way::Anticlockwise => Way::Clockwise,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::lost::Known;
    use crate::structure::{Braid, shelf};

    fn spiral() -> Counted {
        let is_it = |s: &&crate::structure::Structure| s.name == "Round spiral" && s.strands() == 8;
        let structure = shelf().iter().find(is_it).unwrap();
        let braid = Braid::new(&structure.moves).unwrap();
        let roles: Vec<usize> = (0..8).collect();
        Counted::new(&Known {
            braid: &braid,
            roles: &roles,
            done: 40,
            looks: &roles,
            within: 16,
        })
    }

    #[test]
    fn shares_of_a_kind_add_up_to_one() {
        let counted = spiral();
        for at in counted.now - counted.within..=counted.now {
            let all = slips_at(&counted, &counted.discs[at], at);
            for kind in [Kind::Skipped, Kind::Doubled, Kind::Slot] {
                if at == counted.now && kind != Kind::Doubled {
                    continue;
                }
                let alike = all.iter().filter(|one| one.slip.kind() == kind);
                let shares: f64 = alike.map(|one| one.share).sum();
                assert!((shares - 1.0).abs() < 1e-9, "{kind:?} {shares}");
            }
        }
    }

    #[test]
    fn moves_are_read_turned_mirrored_and_back() {
        let counted = spiral();
        let at = counted.now - 4;
        let one = counted.moves[at];
        let back = counted.read(at + 1, Reading::Back(at + 1)).unwrap();
        assert_eq!((back.from, back.to), (one.to, one.from));
        let rim = counted.rim;
        let turned = counted.read(at, Reading::Turned(rim.quarters(2))).unwrap();
        assert_eq!(turned.from, rim.turned(one.from, 32));
        let on = 2 * counted.turn * (counted.done(at) / counted.round as u64) as i32;
        let mirrored = counted.read(at, Reading::Mirrored).unwrap();
        let as_laid_out = rim.place(rim.turned(one.to, -on)).mirrored(32);
        assert_eq!(rim.place(rim.turned(mirrored.to, -on)), as_laid_out);
    }
}
