//! A fingerprint of the cord so far: which strand went over which, told by a few numbers.
//!
//! Each strand carries a loop that goes from the mark round the outside of the rim to
//! it and back. Artin: what a braid does to these loops, as words in the loops that one
//! began with, is the braid, no more and no less. A strand carried inside the rim past
//! others leaves their loops alone; its own becomes `P⁻¹ x P`, where `P` is the product
//! of the loops that it passed. In place of the loops stand matrices of determinant one
//! modulo the prime 2⁶¹ − 1, drawn once: a carry costs a few products.
//!
//! Exact: the same braid always has the same fingerprint, for the rule keeps all
//! relations between braids. Practically certain: another braid has another one. The
//! words are different then, and two different words in matrices drawn at random agree
//! with a chance that is about one to the size of the prime; a test sets random braids
//! beside the exact comparison of `topology`.
//!
//! A strand in the hand hangs over the middle; that is the same as lying in any gap of
//! the rim on the middle's side of all that is carried meanwhile. Before a carry that
//! would part the two it is moved, inside, to such a gap. A carry straight over the
//! middle leaves it where it is.
//!
//! # Source
//!
//! E. Artin, *Theory of braids*, Annals of Mathematics 48, 1947.

use super::disc::{Carry, Rim};

const PRIME: u64 = (1 << 61) - 1;

fn product(a: u64, b: u64) -> u64 {
    let both = u128::from(a) * u128::from(b);
    let folded = (both as u64 & PRIME) + (both >> 61) as u64;
    if folded >= PRIME {
        folded - PRIME
    } else {
        folded
    }
}

fn sum(a: u64, b: u64) -> u64 {
    let both = a + b;
    if both >= PRIME { both - PRIME } else { both }
}

fn negative(a: u64) -> u64 {
    if a == 0 { 0 } else { PRIME - a }
}

/// A matrix of determinant one, row by row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Loop([u64; 4]);

impl Loop {
    const NONE: Self = Self([1, 0, 0, 1]);

    fn times(self, other: Self) -> Self {
        let ([a, b, c, d], [e, f, g, h]) = (self.0, other.0);
        let entry = |x, y, z, w| sum(product(x, y), product(z, w));
        Self([
            entry(a, e, b, g),
            entry(a, f, b, h),
            entry(c, e, d, g),
            entry(c, f, d, h),
        ])
    }

    fn back(self) -> Self {
        let [a, b, c, d] = self.0;
        Self([d, negative(b), negative(c), a])
    }

    /// `[1 + uv, u; v, 1]` times `[1, w; 0, 1]`.
    fn drawn(from: &mut u64) -> Self {
        let [u, v, w] = [(); 3].map(|()| drawn(from) % PRIME);
        let left = Self([sum(1, product(u, v)), u, v, 1]);
        left.times(Self([1, w, 0, 1]))
    }
}

/// The next of a row of numbers (`SplitMix64`, G. Steele and others, 2014).
pub(super) fn drawn(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mixed = (*state ^ (*state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^ (mixed >> 31)
}

/// The cord from a moment on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cord {
    rim: Rim,
    /// The strands clockwise from the mark.
    ring: Vec<u8>,
    /// Quarter slots of each strand; of a held one those of the gap it stands for.
    seats: Vec<u16>,
    loops: Vec<Loop>,
    held: Option<u8>,
    /// Strands passed in the order from the mark, less those passed against it.
    writhe: i32,
}

impl Cord {
    /// Nothing crossed yet; strand `i` in spot `spots[i]`.
    pub(super) fn new(rim: Rim, spots: &[u16]) -> Self {
        let mut state = 20_261_126;
        let seat = |&spot: &u16| {
            if rim.is_hand(spot) {
                1
            } else {
                seat(rim, spot)
            }
        };
        let seats: Vec<u16> = spots.iter().map(seat).collect();
        let mut ring: Vec<u8> = (0..).take(spots.len()).collect();
        ring.sort_by_key(|&strand| seats[usize::from(strand)]);
        let held = (0..).zip(spots).find(|&(_, &spot)| rim.is_hand(spot));
        Self {
            rim,
            ring,
            seats,
            loops: spots.iter().map(|_| Loop::drawn(&mut state)).collect(),
            held: held.map(|(strand, _)| strand),
            writhe: 0,
        }
    }

    /// A strand is carried over everything.
    pub(super) fn carry(&mut self, strand: u8, one: Carry) {
        let here = self.seats[usize::from(strand)];
        if self.rim.is_hand(one.to) {
            self.held = Some(strand);
            self.pass(strand, here + 1);
            return;
        }
        let goal = seat(self.rim, one.to);
        if self.held == Some(strand) {
            self.held = None;
        } else {
            self.clear_the_middle(here, goal);
        }
        self.pass(strand, goal);
    }

    /// Strands passed in the order from the mark, less those passed against it; none
    /// while a strand is held, for that depends on how it is told.
    pub(super) fn writhe(&self) -> Option<i32> {
        self.held.is_none().then_some(self.writhe)
    }

    /// Moves the held strand to the middle's side of a line across the disc.
    fn clear_the_middle(&mut self, from: u16, to: u16) {
        let Some(held) = self.held else { return };
        let all = 2 * self.rim.halves;
        let on = |seat: u16| (all + seat - from) % all;
        let inside = on(self.seats[usize::from(held)]) < on(to);
        match (2 * on(to)).cmp(&all) {
            std::cmp::Ordering::Greater if !inside => self.pass(held, (from + 1) % all),
            std::cmp::Ordering::Less if inside => self.pass(held, (from + all - 1) % all),
            _ => {}
        }
    }

    /// A strand goes inside the rim to a seat.
    fn pass(&mut self, strand: u8, goal: u16) {
        let from = self.ring.iter().position(|&other| other == strand);
        let Some(from) = from else { return };
        self.ring.remove(from);
        let before = |&other: &u8| self.seats[usize::from(other)] < goal;
        let to = self.ring.partition_point(before);
        let passed = &self.ring[from.min(to)..from.max(to)];
        let all = passed.iter().fold(Loop::NONE, |all, &other| {
            all.times(self.loops[usize::from(other)])
        });
        let own = self.loops[usize::from(strand)];
        self.loops[usize::from(strand)] = if from < to {
            all.back().times(own).times(all)
        } else {
            all.times(own).times(all.back())
        };
        self.ring.insert(to, strand);
        self.seats[usize::from(strand)] = goal;
        self.writhe += to as i32 - from as i32;
    }

    /// The fingerprint: of the crossings, and of the spots where they end.
    pub(super) fn print(&self) -> u64 {
        // A held strand is told in one and the same gap.
        if let Some(held) = self.held.filter(|&held| self.seats[usize::from(held)] != 1) {
            let mut told = self.clone();
            told.pass(held, 1);
            return told.print();
        }
        let mut print = 0;
        for &strand in &self.ring {
            let seat = u64::from(self.seats[usize::from(strand)]);
            let is_held = u64::from(self.held == Some(strand));
            let Loop(entries) = self.loops[usize::from(strand)];
            for number in entries.into_iter().chain([2 * seat + is_held]) {
                print ^= number;
                print = drawn(&mut print);
            }
        }
        print
    }
}

/// Quarter slots of a half slot: odd ones are left for the held strand.
fn seat(rim: Rim, spot: u16) -> u16 {
    (2 * spot + 2) % (2 * rim.halves)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::lost::disc::Disc;
    use crate::structure::{Braid, shelf};
    use crate::topology::same_braid;

    fn carry_all(disc: &mut Disc, cord: &mut Cord, carries: &[Carry]) {
        for &one in carries {
            let strand = disc.carry(one);
            cord.carry(strand, one);
        }
    }

    /// Random carries of `n` strands on a disc, and their braid word.
    fn random(state: &mut u64, n: usize, carries: usize) -> (Vec<i32>, u64) {
        let rim = Rim::new(16);
        let spots: Vec<u16> = (0..n as u16).map(|strand| 4 * strand).collect();
        let (mut disc, mut cord) = (Disc::new(rim, &spots), Cord::new(rim, &spots));
        let mut word = Vec::new();
        let mut carry = |disc: &mut Disc, cord: &mut Cord, one: Carry| {
            let rank = |disc: &Disc, end: u16| (0..end).filter(|&at| disc.is_full(at)).count();
            let from = rank(disc, one.from) as i32;
            let strand = disc.carry(one);
            let to = rank(disc, one.to) as i32;
            cord.carry(strand, one);
            word.extend((from..to).map(|rank| rank + 1));
            word.extend((to..from).rev().map(|rank| -(rank + 1)));
        };
        for _ in 0..carries {
            let from = disc.spots(n)[drawn(state) as usize % n];
            let to = 2 * (drawn(state) % 16) as u16;
            if disc.can(Carry { from, to }) {
                carry(&mut disc, &mut cord, Carry { from, to });
            }
        }
        // Home again by rank, so that prints of equal braids are equal.
        let ring: Vec<u16> = (0..32).filter(|&at| disc.is_full(at)).collect();
        let gap = |at: u16| 2 * at + 1;
        for (&from, rank) in ring.iter().zip(0..) {
            carry(
                &mut disc,
                &mut cord,
                Carry {
                    from,
                    to: gap(rank),
                },
            );
        }
        (word, cord.print())
    }

    #[test]
    fn prints_agree_with_the_exact_comparison() {
        let mut state = 1;
        let (mut same, mut other) = (0, 0);
        for n in [3, 4, 5, 6] {
            let all: Vec<_> = (0..150).map(|_| random(&mut state, n, 4)).collect();
            for (word, print) in &all {
                for (second, own) in &all[..60] {
                    let is_same = same_braid(word, second, n);
                    assert_eq!(is_same, print == own, "{n}: {word:?} {second:?}");
                    *if is_same { &mut same } else { &mut other } += 1;
                }
            }
        }
        assert!(same > 300 && other > 10_000, "{same} {other}");
    }

    #[test]
    fn what_is_taken_back_never_was() {
        for structure in shelf() {
            let braid = Braid::new(&structure.moves).unwrap();
            let rim = Rim::new(braid.slots());
            let spot = |place| rim.spot(place).unwrap();
            let spots: Vec<u16> = braid.moves().start.iter().map(|&at| spot(at)).collect();
            let (mut disc, mut cord) = (Disc::new(rim, &spots), Cord::new(rim, &spots));
            let before = cord.print();
            let there = braid.moves().moves().map(|(_, one)| Carry {
                from: spot(one.from),
                to: spot(one.to),
            });
            let there: Vec<Carry> = there.collect();
            carry_all(&mut disc, &mut cord, &there);
            assert_ne!(cord.print(), before);
            let turned = |&Carry { from, to }: &Carry| Carry { from: to, to: from };
            let back: Vec<Carry> = there.iter().rev().map(turned).collect();
            carry_all(&mut disc, &mut cord, &back);
            assert_eq!(cord.print(), before, "{}", structure.name);
        }
    }
}
