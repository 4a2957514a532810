//! The kinds of mistakes, and all that may happen at one moment.

use super::counted::{Counted, Group};
use super::disc::{Carry, Disc};
use crate::structure::{Place, Way};

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
    /// All that follows was worked with the disc turned clockwise by so many quarters.
    Turned(u8),
    /// The strand was laid down in the place of its neighbour, and the neighbour in its
    /// place; the neighbour came from here.
    Swapped {
        /// Where the neighbour lay.
        with: Place,
        /// Whether the neighbour went over the strand, not the strand over it.
        under: bool,
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
    /// Its kind.
    pub fn kind(self) -> Kind {
        match self {
            Self::Skipped(_) => Kind::Skipped,
            Self::Doubled(_) => Kind::Doubled,
            Self::OtherHand(_) => Kind::Hand,
            Self::WrongSlot(_) => Kind::Slot,
            Self::WrongStrand(_) => Kind::Strand,
            Self::Turned(_) => Kind::Turned,
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
    /// In the mirror that carries half slot 0 there.
    Mirrored(i32),
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
            Reading::Mirrored(axis) => placed(at, &|spot| self.rim.mirrored(spot, axis)),
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

/// Everything that may happen with a disc as it lies at a moment where a motion begins,
/// with shares that add up to one for each kind.
pub(super) fn slips_at(counted: &Counted, disc: &Disc, at: usize) -> Vec<Slipping> {
    let mut all = Collected {
        counted,
        disc,
        at,
        found: Vec::new(),
    };
    let group = &counted.groups[at];
    all.skipped_and_doubled(group);
    all.other_hand(group);
    all.wrong_slot(group);
    all.wrong_strand(group);
    all.swapped(group);
    all.turned();
    all.reversed();
    shared(all.found)
}

/// Alike among those of a kind.
fn shared(mut found: Vec<Slipping>) -> Vec<Slipping> {
    let kinds: Vec<Kind> = found.iter().map(|one| one.slip.kind()).collect();
    let weights: Vec<f64> = found.iter().map(|one| one.share).collect();
    for one in &mut found {
        let alike = kinds.iter().zip(&weights);
        let all = alike.filter(|(kind, _)| **kind == one.slip.kind());
        one.share /= all.map(|(_, weight)| weight).sum::<f64>();
    }
    found
}

impl Collected<'_> {
    fn push(&mut self, slip: Slip, instead: Vec<Carry>, resume: usize) {
        self.read_on(slip, instead, resume, Reading::Plain);
    }

    fn read_on(&mut self, slip: Slip, instead: Vec<Carry>, resume: usize, reading: Reading) {
        if resume <= self.counted.moves.len() {
            self.found.push(Slipping {
                slip,
                share: 1.0,
                instead,
                resume,
                reading,
            });
        }
    }

    /// Ends of the motion, of its pair and of a round from here, each once.
    fn ends(&self, group: &Group) -> Vec<usize> {
        let mut ends = vec![group.moves.end];
        if group.pair.start == self.at {
            ends.push(group.pair.end);
        }
        ends.push(self.at + self.counted.round);
        ends.sort_unstable();
        ends.dedup();
        ends.retain(|&end| end <= self.counted.now);
        ends
    }

    fn skipped_and_doubled(&mut self, group: &Group) {
        for end in self.ends(group) {
            let moves = (end - self.at) as u64;
            self.push(Slip::Skipped(moves), Vec::new(), end);
            let again = self.counted.moves[self.at..end].to_vec();
            let twice = [again.clone(), again].concat();
            self.push(Slip::Doubled(moves), twice, end);
        }
    }

    /// The axes of a mirror: through the mark, or through a quarter of the disc.
    fn axes(&self) -> [i32; 4] {
        [0, 1, 2, 3].map(|quarters| self.counted.rim.quarters(quarters) - 2)
    }

    fn other_hand(&mut self, group: &Group) {
        if let Some((a, b, way)) = group.exchange {
            let exchanged = self.exchange(a, b, other_way(way));
            let moves = exchanged.len() as u64;
            self.push(Slip::OtherHand(moves), exchanged, group.moves.end);
            return;
        }
        let mut ends = vec![group.moves.end];
        if group.pair.start == self.at && group.pair.end <= self.counted.now {
            ends.push(group.pair.end);
        }
        ends.dedup();
        for end in ends {
            for axis in self.axes() {
                let instead: Option<Vec<Carry>> = (self.at..end)
                    .map(|at| self.counted.read(at, Reading::Mirrored(axis)))
                    .collect();
                let Some(instead) = instead else { continue };
                // Hands in the mirror reach for what lies there.
                if instead != self.counted.moves[self.at..end] && self.disc.can(instead[0]) {
                    self.push(Slip::OtherHand((end - self.at) as u64), instead, end);
                }
            }
        }
    }

    fn exchange(&self, a: u16, b: u16, way: Way) -> Vec<Carry> {
        let rim = self.counted.rim;
        let step =
            crate::structure::Step::exchange(rim.place(a), rim.place(b), way, rim.halves / 2);
        let spot = |place| rim.spot(place).unwrap_or(a);
        let carries = step.moves.iter().map(|one| Carry {
            from: spot(one.from),
            to: spot(one.to),
        });
        carries.collect()
    }

    fn wrong_slot(&mut self, group: &Group) {
        let rim = self.counted.rim;
        if group.exchange.is_some() {
            return;
        }
        let one = self.counted.moves[self.at];
        if rim.is_hand(one.to) {
            return;
        }
        for by in [-2, -1, 1, 2] {
            let to = rim.turned(one.to, 2 * by);
            let carry = Carry { from: one.from, to };
            if to != one.from && self.disc.can(carry) {
                self.push(Slip::WrongSlot(by), vec![carry], self.at + 1);
            }
        }
    }

    fn wrong_strand(&mut self, group: &Group) {
        let (rim, one) = (self.counted.rim, self.counted.moves[self.at]);
        let mut others: Vec<u16> = [1, -1]
            .into_iter()
            .filter_map(|way| self.disc.next_full(rim, one.from, way))
            .collect();
        let partner = self.counted.moves.get(group.moves.end);
        if let Some(partner) = partner.filter(|_| group.pair.contains(&group.moves.end)) {
            others.push(partner.from);
        }
        others.sort_unstable();
        others.dedup();
        for from in others {
            let instead = match group.exchange {
                Some((_, b, _)) if from == b => continue,
                Some((_, b, way)) => self.exchange(from, b, way),
                None => vec![Carry { from, to: one.to }],
            };
            let can = from != one.from && self.disc.is_full(from);
            if can && (group.exchange.is_some() || self.disc.can(instead[0])) {
                let slip = Slip::WrongStrand(rim.place(from));
                let end = self.at + instead.len();
                self.push(slip, instead, end.min(group.moves.end));
            }
        }
    }

    /// The strand just laid down and a neighbour lie in each other's place.
    fn swapped(&mut self, group: &Group) {
        let rim = self.counted.rim;
        let mut laid = self.disc.clone();
        let moves = &self.counted.moves[group.moves.clone()];
        for &one in moves {
            if !laid.can(one) {
                return;
            }
            laid.carry(one);
        }
        let Some(to) = moves.last().map(|one| one.to) else {
            return;
        };
        for way in [1, -1] {
            let Some(with) = laid.next_full(rim, to, way) else {
                continue;
            };
            for (over, under) in [(to, false), (with, true)] {
                let other = if under { to } else { with };
                let past = if under { -way } else { way };
                let beside = rim.turned(other, past);
                if laid.is_full(beside) || beside == over {
                    continue;
                }
                let swap = [(over, beside), (other, over), (beside, other)];
                let swap = swap.map(|(from, to)| Carry { from, to });
                let instead = [moves, &swap].concat();
                let with = rim.place(with);
                self.push(Slip::Swapped { with, under }, instead, group.moves.end);
            }
        }
    }

    fn turned(&mut self) {
        for quarters in 1..4 {
            let by = self.counted.rim.quarters(quarters);
            let reading = Reading::Turned(by);
            self.read_on(Slip::Turned(quarters), Vec::new(), self.at, reading);
        }
    }

    fn reversed(&mut self) {
        for axis in self.axes() {
            let reading = Reading::Mirrored(axis);
            self.read_on(Slip::Mirrored, Vec::new(), self.at, reading);
        }
        let back = Reading::Back(self.at);
        self.read_on(Slip::Backwards, Vec::new(), self.at, back);
        for reading in [Reading::Before(self.at), Reading::LastFirst(self.at)] {
            self.read_on(Slip::ReverseOrder, Vec::new(), self.at, reading);
        }
    }
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
        for at in counted.moments() {
            let all = slips_at(&counted, &counted.discs[at], at);
            for kind in [Kind::Skipped, Kind::Doubled, Kind::Slot, Kind::Swapped] {
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
        let mirrored = counted.read(at, Reading::Mirrored(-2)).unwrap();
        let place = rim.place(one.to).mirrored(32);
        assert_eq!(rim.place(mirrored.to), place);
    }
}
