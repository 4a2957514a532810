//! How much of a list must be remembered.
//!
//! Counted is the shortest telling of a round: a step is one thing to remember
//! (several strands carried at once, and not an exchange, are as many); so is
//! "and the same again, so many places on", however often, and "and the same
//! from the other side". Places are told as a maker would: where a strand
//! started, or between two of those; so a list is as easy on a disc that its
//! strands do not divide evenly. Two free places between the same two start
//! places count as one. Where start places stand unevenly "and the same so many
//! slots on" tells as much.
//!
//! Out of proportion to how long it takes to learn, surely: our guess at what
//! makes one list harder than another, tried on no maker.

use std::collections::BTreeSet;

use super::{Braid, Lift, Place, Step};

/// Most steps for which a shorter telling is looked for; far above what anybody
/// remembers.
const MOST_STEPS: usize = 256;

impl Braid {
    /// How many things must be remembered to work the list.
    pub fn to_remember(&self) -> usize {
        let told: Vec<Told> = self
            .moves()
            .steps
            .iter()
            .map(|step| self.told(step))
            .collect();
        let plain = told.iter().map(|step| step.things).sum();
        if told.len() > MOST_STEPS {
            return plain;
        }
        let (spots, half_slots) = (2 * self.strands(), 2 * usize::from(self.slots()));
        Tellings::of(&told, spots, half_slots).shortest(0, told.len())
    }

    /// How many different kinds of move there are, by how many strands are
    /// passed clockwise or anticlockwise, the shorter way round; all slides that
    /// pass none are one kind.
    pub fn kinds_of_move(&self) -> usize {
        let mut seats = self.seats_after(0);
        let kinds: BTreeSet<i32> = self
            .lifts()
            .iter()
            .map(|lift| {
                let passed = strands_passed(&seats, lift);
                seats[lift.strand] = lift.to;
                passed
            })
            .collect();
        kinds.len()
    }

    fn told(&self, step: &Step) -> Told {
        let is_exchange = step.as_exchange(self.slots()).is_some();
        let half_slot = |place: Place| match place {
            Place::Rim(half) => Some(usize::from(half) % (2 * usize::from(self.slots()))),
            Place::Hand => None,
        };
        let ends = || step.moves.iter().flat_map(|one| [one.from, one.to]);
        Told {
            half_slots: ends().map(half_slot).collect(),
            spots: ends().map(|place| self.spot(place)).collect(),
            things: if is_exchange {
                1
            } else {
                step.moves.len().max(1)
            },
        }
    }

    /// Twice the rank of the start place, one more behind it; none for the hand.
    fn spot(&self, place: Place) -> Option<usize> {
        let Place::Rim(_) = place else { return None };
        let start = &self.moves().start;
        let before = start.iter().filter(|&&other| other < place).count();
        if start.contains(&place) {
            return Some(2 * before);
        }
        // Before the first start place is behind the last one.
        Some((2 * before + 2 * start.len() - 1) % (2 * start.len()))
    }
}

/// Strands passed the shorter way, anticlockwise negative.
fn strands_passed(seats: &[super::Seat], lift: &Lift) -> i32 {
    let far = lift.from.clockwise_to(lift.to);
    let is_passed = |(strand, seat): (usize, &super::Seat)| {
        strand != lift.strand && lift.from.clockwise_to(*seat) < far
    };
    let clockwise = seats
        .iter()
        .enumerate()
        .filter(|&one| is_passed(one))
        .count();
    let others = seats.len() - 1;
    if 2 * clockwise > others {
        clockwise as i32 - others as i32
    } else {
        clockwise as i32
    }
}

/// A step as it is told: both ends of every move, none for the hand.
struct Told {
    spots: Vec<Option<usize>>,
    half_slots: Vec<Option<usize>>,
    things: usize,
}

impl Told {
    /// How much further on another step does the same, in spots.
    fn on(&self, other: &Self, round: usize) -> Option<usize> {
        let on = further(&self.spots, &other.spots, round)?;
        (on.is_multiple_of(2) && self.things == other.things).then_some(on)
    }

    /// The same in half slots.
    fn slots_on(&self, other: &Self, round: usize) -> Option<usize> {
        let on = further(&self.half_slots, &other.half_slots, round)?;
        (self.things == other.things).then_some(on)
    }

    /// About which axis another step does the same from the other side: spots
    /// that mirror one another add up to it.
    fn axis(&self, other: &Self, round: usize) -> Option<usize> {
        let (here, there) = first_of_both(&self.spots, &other.spots)?;
        let axis = (there + here) % round;
        let mirrored = |spot: usize| (axis + round - spot) % round;
        let is_so = axis.is_multiple_of(2) && self.things == other.things;
        (is_so && is_by(&self.spots, &other.spots, mirrored)).then_some(axis)
    }
}

/// How much further on the others all are.
fn further(own: &[Option<usize>], other: &[Option<usize>], round: usize) -> Option<usize> {
    let (here, there) = first_of_both(own, other)?;
    let on = (there + round - here) % round;
    is_by(own, other, |end| (end + on) % round).then_some(on)
}

fn first_of_both(own: &[Option<usize>], other: &[Option<usize>]) -> Option<(usize, usize)> {
    let both = own.iter().zip(other);
    both.filter_map(|(a, b)| Some(((*a)?, (*b)?))).next()
}

fn is_by(own: &[Option<usize>], other: &[Option<usize>], to: impl Fn(usize) -> usize) -> bool {
    let ends = own.iter().map(|end| end.map(&to));
    ends.eq(other.iter().copied())
}

/// The shortest tellings of all runs of steps.
struct Tellings {
    /// `least[i][j - i - 1]` for the steps from `i` to before `j`.
    least: Vec<Vec<usize>>,
}

impl Tellings {
    fn of(told: &[Told], spots: usize, half_slots: usize) -> Self {
        let count = told.len();
        let on = Again::of(told, |a, b| a.on(b, spots));
        let slots_on = Again::of(told, |a, b| a.slots_on(b, half_slots));
        let mirrored = Again::of(told, |a, b| a.axis(b, spots));
        let mut tellings = Self {
            least: told.iter().map(|step| vec![step.things]).collect(),
        };
        for length in 2..=count {
            for start in 0..=count - length {
                let is_again =
                    |run: usize| on.holds(start, run, length) || slots_on.holds(start, run, length);
                let again = shorter_runs(length).filter(|&run| is_again(run));
                let from_the_other_side = (length.is_multiple_of(2)
                    && mirrored.holds(start, length / 2, length))
                .then_some(length / 2);
                let once_more = again
                    .chain(from_the_other_side)
                    .map(|run| tellings.shortest(start, start + run) + 1);
                let one_after_the_other = (1..length).map(|cut| {
                    tellings.shortest(start, start + cut)
                        + tellings.shortest(start + cut, start + length)
                });
                let least = once_more.chain(one_after_the_other).min();
                tellings.least[start].push(least.unwrap_or(length));
            }
        }
        tellings
    }

    fn shortest(&self, from: usize, to: usize) -> usize {
        self.least[from][to - from - 1]
    }
}

/// The lengths of runs that fill a length evenly, not the whole.
fn shorter_runs(length: usize) -> impl Iterator<Item = usize> {
    (1..length).filter(move |&run| length.is_multiple_of(run))
}

/// For how many steps on end what comes so many steps later is the same, done
/// in one and the same other way.
struct Again {
    /// By how much later, less one, then by step.
    steps: Vec<Vec<usize>>,
}

impl Again {
    fn of(told: &[Told], way: impl Fn(&Told, &Told) -> Option<usize>) -> Self {
        let later = |by: usize| {
            let ways: Vec<Option<usize>> = (0..told.len() - by)
                .map(|at| way(&told[at], &told[at + by]))
                .collect();
            let mut steps = vec![0; ways.len()];
            for at in (0..ways.len()).rev() {
                let goes_on = at + 1 < ways.len() && ways[at] == ways[at + 1];
                steps[at] = match ways[at] {
                    Some(_) if goes_on => steps[at + 1] + 1,
                    Some(_) => 1,
                    None => 0,
                };
            }
            steps
        };
        Self {
            steps: (1..told.len()).map(later).collect(),
        }
    }

    /// Whether `length` steps from `start` on are a run over and over.
    fn holds(&self, start: usize, run: usize, length: usize) -> bool {
        self.steps[run - 1].get(start).copied().unwrap_or(0) >= length - run
    }
}

#[cfg(test)]
mod tests {
    use crate::structure::{Braid, MoveList, shelf};

    fn on_shelf(name: &str, strands: usize) -> Braid {
        let is_it = |s: &&crate::structure::Structure| s.name == name && s.strands() == strands;
        let found = shelf().iter().find(is_it).expect(name);
        Braid::new(&found.moves).expect("a braid")
    }

    #[test]
    fn a_spiral_of_any_number_of_pairs_is_two_moves_and_the_same_again() {
        for strands in [8, 12, 16, 20] {
            let spiral = on_shelf("Round spiral", strands);
            assert_eq!(spiral.to_remember(), 3, "{strands}");
            assert_eq!(spiral.kinds_of_move(), 1, "{strands}");
        }
    }

    #[test]
    fn a_list_is_as_hard_in_the_mirror_and_turned_on_the_disc() {
        for structure in shelf() {
            let figures = |list: &MoveList| {
                let braid = Braid::new(list).expect("a braid");
                (braid.to_remember(), braid.kinds_of_move())
            };
            let plain = figures(&structure.moves);
            assert_eq!(
                figures(&structure.moves.mirrored()).0,
                plain.0,
                "{}",
                structure.name
            );
            assert_eq!(
                figures(&structure.moves.turned(14)),
                plain,
                "{}",
                structure.name
            );
        }
    }

    #[test]
    fn one_kind_of_hop_so_many_slots_on_is_two_things_to_remember() {
        for strands in [5, 7] {
            let hop = on_shelf("Round, hop over two", strands);
            assert_eq!(
                (hop.to_remember(), hop.kinds_of_move()),
                (2, 1),
                "{strands}"
            );
        }
    }

    #[test]
    fn a_list_without_order_must_be_remembered_move_by_move() {
        let list = "slots 12\nstart 1 4 7 9\n1 > 5\n9 > 3\n7 > 1\n5 > 9\n4 > 6\n6 > 7\n3 > 4";
        let list: MoveList = list.parse().expect("a list");
        let braid = Braid::new(&list).expect("a braid");
        assert_eq!(braid.to_remember(), 7);
    }

    #[test]
    fn what_is_done_from_both_sides_is_remembered_once() {
        // Four moves and "the same from the other side"; of seven strands two
        // more slide along behind the first.
        let outer = |strands| on_shelf("Flat, outer strand to the middle", strands);
        assert_eq!((outer(5).lifts().len(), outer(5).to_remember()), (8, 5));
        assert_eq!((outer(7).lifts().len(), outer(7).to_remember()), (10, 5));
    }
}
