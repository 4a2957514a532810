//! The shortest way from what lies on the disc to a right place.
//!
//! Short is what takes few moves until the work is where it was, moves made again
//! among them. Tried, shortest first: the last carries are taken back, so many of them, and then
//! every strand that lies elsewhere than at some counted moment is carried to where it
//! lay then, in every order if they are few. A way is right if the disc and the
//! fingerprint of the cord are those of the moment. Slides that cross nothing, a move
//! left out that can still be made, and taking all back to the mistake are such ways;
//! the last one always is.

use super::cord::Cord;
use super::counted::Counted;
use super::disc::{Carry, Disc};
use crate::bench::{Way, Why};
use crate::structure::{Move, Step};

/// So many strands are carried in every order; of more one order is tried.
const EVERY_ORDER: usize = 3;

/// The counted cord at every moment.
#[derive(Debug, Clone)]
pub(super) struct Right {
    cords: Vec<Cord>,
    prints: Vec<u64>,
    spots: Vec<Vec<u16>>,
}

impl Right {
    pub(super) fn of(counted: &Counted) -> Self {
        let spots = |disc: &Disc| disc.spots(counted.strands);
        let mut cord = Cord::new(counted.rim, &spots(&counted.discs[0]));
        let mut right = Self {
            prints: vec![cord.print()],
            cords: vec![cord.clone()],
            spots: counted.discs.iter().map(spots).collect(),
        };
        for (&one, disc) in counted.moves.iter().zip(&counted.discs) {
            cord.carry(disc.who(one.from), one);
            right.prints.push(cord.print());
            right.cords.push(cord.clone());
        }
        right
    }

    /// The fingerprint of what lies there after some carries from a moment on.
    pub(super) fn print_after(&self, counted: &Counted, from: usize, carries: &[Carry]) -> u64 {
        let (mut disc, mut cord) = (counted.discs[from].clone(), self.cords[from].clone());
        for &one in carries {
            cord.carry(disc.carry(one), one);
        }
        cord.print()
    }

    /// The moment at which disc and cord are those of a fingerprint; of several the
    /// nearest to another moment.
    pub(super) fn moment(&self, print: u64, near: usize) -> Option<usize> {
        let moments = (0..self.prints.len()).filter(|&at| self.prints[at] == print);
        moments.min_by_key(|at| at.abs_diff(near))
    }
}

/// Carries after a right moment, and the disc and the cord after each.
#[derive(Debug, Clone)]
pub(super) struct Made {
    carries: Vec<Carry>,
    discs: Vec<Disc>,
    cords: Vec<Cord>,
    from: usize,
}

impl Made {
    /// The carries made after a moment; each could be made.
    pub(super) fn after(
        counted: &Counted,
        right: &Right,
        from: usize,
        carries: Vec<Carry>,
    ) -> Self {
        let mut made = Self {
            discs: vec![counted.discs[from].clone()],
            cords: vec![right.cords[from].clone()],
            carries,
            from,
        };
        let (mut disc, mut cord) = (made.discs[0].clone(), made.cords[0].clone());
        for &one in &made.carries {
            cord.carry(disc.carry(one), one);
            made.discs.push(disc.clone());
            made.cords.push(cord.clone());
        }
        made
    }
}

/// What is to be done: so many carries taken back, then these, and the moment there.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Found {
    back: usize,
    then: Vec<Carry>,
    lands: usize,
}

/// Looks for the shortest way.
#[derive(Debug)]
struct Looking<'a> {
    counted: &'a Counted,
    right: &'a Right,
    made: &'a Made,
    best: Found,
}

impl Looking<'_> {
    /// Moves until the work is where it was counted, or farther: those of the way and
    /// those that are to be made again.
    fn cost(&self) -> usize {
        self.best.back + self.best.then.len() + self.made_again(self.best.lands)
    }

    fn made_again(&self, lands: usize) -> usize {
        self.counted.now.saturating_sub(lands)
    }

    fn look(&mut self) {
        let mut moments: Vec<usize> = (0..self.right.prints.len()).collect();
        moments.sort_by_key(|at| at.abs_diff(self.counted.now));
        for back in 0..self.made.carries.len() {
            let index = self.made.carries.len() - back;
            let spots = self.made.discs[index].spots(self.counted.strands);
            for &moment in &moments {
                if back >= self.cost() {
                    return;
                }
                let least = back + self.made_again(moment);
                let Some(most) = self.cost().checked_sub(least + 1) else {
                    continue;
                };
                let goal = &self.right.spots[moment];
                let Some(away) = elsewhere(&spots, goal, most) else {
                    continue;
                };
                if let Some(then) = self.carried(index, moment, &away) {
                    let lands = moment;
                    self.best = Found { back, then, lands };
                }
            }
        }
    }

    /// The strands carried each to its place of a moment, if that is right.
    fn carried(&self, index: usize, moment: usize, away: &[Carry]) -> Option<Vec<Carry>> {
        let mut order = away.to_vec();
        if away.len() <= EVERY_ORDER {
            return self.in_every_order(index, moment, &mut order, 0);
        }
        // Whoever was carried last by the moves is carried last.
        let moves = &self.counted.moves[..moment];
        let last = |one: &Carry| moves.iter().rposition(|other| other.to == one.to);
        order.sort_by_key(last);
        self.is_right(index, moment, &order).then_some(order)
    }

    fn in_every_order(
        &self,
        index: usize,
        moment: usize,
        order: &mut Vec<Carry>,
        fixed: usize,
    ) -> Option<Vec<Carry>> {
        if fixed >= order.len().saturating_sub(1) {
            return self.is_right(index, moment, order).then(|| order.clone());
        }
        for next in fixed..order.len() {
            order.swap(fixed, next);
            let found = self.in_every_order(index, moment, order, fixed + 1);
            if found.is_some() {
                return found;
            }
            order.swap(fixed, next);
        }
        None
    }

    fn is_right(&self, index: usize, moment: usize, order: &[Carry]) -> bool {
        let mut disc = self.made.discs[index].clone();
        let rim = self.counted.rim;
        let mut passed = 0;
        for &one in order {
            if !disc.can(one) {
                return false;
            }
            passed -= disc.below(rim, one.from);
            disc.carry(one);
            passed += disc.below(rim, one.to);
        }
        // A look at the number of crossings spares most comparisons.
        let (cord, goal) = (&self.made.cords[index], &self.right.cords[moment]);
        let may_be = match (cord.writhe(), goal.writhe()) {
            (Some(writhe), Some(goal)) => writhe + passed == goal,
            _ => true,
        };
        may_be && {
            let (mut disc, mut cord) = (self.made.discs[index].clone(), cord.clone());
            for &one in order {
                cord.carry(disc.carry(one), one);
            }
            cord.print() == self.right.prints[moment]
        }
    }
}

/// The carries that bring every strand to its goal; none if more than so many.
fn elsewhere(spots: &[u16], goal: &[u16], most: usize) -> Option<Vec<Carry>> {
    let away = spots.iter().zip(goal).filter(|(from, to)| from != to);
    if away.clone().take(most + 1).count() > most {
        return None;
    }
    let carries = away.map(|(&from, &to)| Carry { from, to });
    Some(carries.collect())
}

/// The shortest way that was found, told in motions.
pub(super) fn way_back(
    counted: &Counted,
    right: &Right,
    made: &Made,
    roles: &[usize],
    why: &str,
) -> Way {
    let mut looking = Looking {
        counted,
        right,
        made,
        best: Found {
            back: made.carries.len(),
            then: Vec::new(),
            lands: made.from,
        },
    };
    looking.look();
    let Found { back, then, lands } = looking.best;
    let rim = counted.rim;
    let kept = made.carries.len() - back;
    let moved = |one: &Carry| Move {
        from: rim.place(one.from),
        to: rim.place(one.to),
    };
    let taken: Vec<Move> = made.carries[kept..].iter().map(moved).collect();
    let mut steps = taken_back(&taken, rim.halves / 2);
    let alone = |one: &Carry| Step {
        moves: vec![moved(one)],
    };
    steps.extend(then.iter().map(alone));
    let spots = made.discs[made.carries.len()].spots(counted.strands);
    Way {
        why: Why::Mistake(why.to_owned()),
        from: spots.into_iter().map(|spot| rim.place(spot)).collect(),
        steps,
        lands: counted.done(lands),
        roles: roles.to_vec(),
    }
}

/// Moves taken back, the last first, those of an exchange at once.
fn taken_back(moves: &[Move], slots: u16) -> Vec<Step> {
    let mut steps = Vec::new();
    let mut rest = moves;
    while !rest.is_empty() {
        let last = Step {
            moves: rest[rest.len().saturating_sub(3)..].to_vec(),
        };
        let at_once = last.as_exchange(slots).map_or(1, |_| last.moves.len());
        let (before, these) = rest.split_at(rest.len() - at_once);
        let turned = |&Move { from, to }: &Move| Move { from: to, to: from };
        steps.push(Step {
            moves: these.iter().rev().map(turned).collect(),
        });
        rest = before;
    }
    steps
}
