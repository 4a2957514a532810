//! How much of a list must be remembered.
//!
//! Counted is the shortest telling of a round: a step is one thing to remember
//! (several strands carried at once, and not an exchange, are as many); so is
//! "and the same again, so many places on", however often, and "and the same
//! from the other side". Places are told as a maker would: where a strand
//! started, or between two of those; so a list is as easy on a disc that its
//! strands do not divide evenly. Two free places between the same two start
//! places count as one.
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
        let round = 2 * self.strands();
        Tellings::of(&told, round).shortest(0, told.len())
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
        Told {
            ends: step
                .moves
                .iter()
                .flat_map(|one| [self.spot(one.from), self.spot(one.to)])
                .collect(),
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

/// A step as it is told.
struct Told {
    ends: Vec<Option<usize>>,
    things: usize,
}

impl Told {
    /// How much further on another step does the same, in spots.
    fn on(&self, other: &Self, round: usize) -> Option<usize> {
        let (here, there) = self.first_spots(other)?;
        let on = (there + round - here) % round;
        let turned = |spot: usize| (spot + on) % round;
        (on.is_multiple_of(2) && self.is_by(other, turned)).then_some(on)
    }

    /// About which axis another step does the same from the other side: spots
    /// that mirror one another add up to it.
    fn axis(&self, other: &Self, round: usize) -> Option<usize> {
        let (here, there) = self.first_spots(other)?;
        let axis = (there + here) % round;
        let mirrored = |spot: usize| (axis + round - spot) % round;
        (axis.is_multiple_of(2) && self.is_by(other, mirrored)).then_some(axis)
    }

    fn first_spots(&self, other: &Self) -> Option<(usize, usize)> {
        let both = self.ends.iter().zip(&other.ends);
        both.filter_map(|(a, b)| Some(((*a)?, (*b)?))).next()
    }

    fn is_by(&self, other: &Self, to: impl Fn(usize) -> usize) -> bool {
        let ends = self.ends.iter().map(|spot| spot.map(&to));
        self.things == other.things && ends.eq(other.ends.iter().copied())
    }
}

/// The shortest tellings of all runs of steps.
struct Tellings {
    /// `least[i][j - i - 1]` for the steps from `i` to before `j`.
    least: Vec<Vec<usize>>,
}

impl Tellings {
    fn of(told: &[Told], round: usize) -> Self {
        let count = told.len();
        let on = Again::of(told, |a, b| a.on(b, round));
        let mirrored = Again::of(told, |a, b| a.axis(b, round));
        let mut tellings = Self {
            least: told.iter().map(|step| vec![step.things]).collect(),
        };
        for length in 2..=count {
            for start in 0..=count - length {
                let again = shorter_runs(length).filter(|&run| on.holds(start, run, length));
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
