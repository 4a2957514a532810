//! The story of one cord under way, and the place that it comes to.
//!
//! Every entry says how things stand after it, never by how much they changed: an entry
//! that is told twice changes nothing. So a story that was cut off, wherever, is a place
//! that was once true.

use serde::{Deserialize, Serialize};

use super::lying::{CannotCarry, Lying};
use super::motion::Motions;
use crate::structure::{Braid, Move, Place, Step};

/// What happened at the disc.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Entry {
    /// So many strands lie in their slots, in the order of the set-up.
    Laid(usize),
    /// So many moves lie in the cord.
    Done(u64),
    /// The hands set out on a way back.
    Out(Way),
    /// So many steps of it are made; all of them end it where it lands.
    Along(usize),
    /// Something was noted at this place.
    Noted(Note),
    /// What lies there is taken as it is: so many moves count as done, and strand `i`
    /// goes on in the role of strand `roles[i]` of the start.
    Taken {
        /// Moves that count as done.
        done: u64,
        /// Whose way each strand goes.
        roles: Vec<usize>,
    },
    /// The cord is off the disc.
    Finished,
}

/// An entry and when it was made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stamped {
    /// When, ms since the beginning of 1970.
    pub at: u64,
    /// What.
    pub entry: Entry,
}

/// What a maker notes at a place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Note {
    /// A mark to come back to.
    Mark(String),
    /// Words.
    Words(String),
    /// A photograph, by its file name.
    Photograph(String),
    /// Cord made so far as it hangs on the disc, mm.
    Measured(f64),
    /// A new length was joined to this strand.
    Joined(usize),
}

/// A note with its time and place.
#[derive(Debug, Clone, PartialEq)]
pub struct Noted {
    /// When, ms since the beginning of 1970.
    pub at: u64,
    /// Moves that were done.
    pub done: u64,
    /// What.
    pub note: Note,
}

/// Why the hands go back.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum Why {
    /// To take moves back; every step of the way is a place.
    Undo,
    /// A mistake, told in words.
    Mistake(String),
}

/// Steps that lead from what lies on the disc to a right place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Way {
    /// Why.
    pub why: Why,
    /// Where each strand lies when it begins.
    pub from: Vec<Place>,
    /// What to do, each a motion of the hands: strands carried over everything.
    pub steps: Vec<Step>,
    /// Moves that lie in the cord when it is done.
    pub lands: u64,
    /// Whose way of the start each strand goes from there.
    pub roles: Vec<usize>,
}

impl Way {
    /// The way that takes moves back until `lands` are left; `roles` as in [`Course`].
    pub fn undo(braid: &Braid, roles: &[usize], done: u64, lands: u64) -> Self {
        let motions = Motions::of(braid);
        let mut steps = Vec::new();
        let mut at = done;
        while let Some(motion) = motions.before(at).filter(|_| at > lands) {
            at = motion.begins;
            steps.push(Step {
                moves: motion.back(),
            });
        }
        Self {
            why: Why::Undo,
            from: Lying::after(braid, roles, done).places().to_vec(),
            steps,
            lands: at,
            roles: roles.to_vec(),
        }
    }

    /// What lies on the disc after so many of its steps.
    ///
    /// # Errors
    ///
    /// When a step carries what is not there, or to where something is.
    pub fn lying(&self, steps: usize) -> Result<Lying, CannotCarry> {
        let mut lying = Lying::new(self.from.clone());
        let made = self.steps.iter().take(steps);
        for &one in made.flat_map(|step| &step.moves) {
            lying.carry(one)?;
        }
        Ok(lying)
    }

    /// How many of its last steps are moves of the list made again, rather than taken back.
    pub fn made_again(&self, braid: &Braid) -> usize {
        if self.why == Why::Undo {
            return 0;
        }
        let motions = Motions::of(braid);
        let mut at = self.lands;
        let is_motion = |step: &&Step| {
            let motion = motions.before(at);
            let same = motion.filter(|motion| motion.carries == step.moves);
            same.map(|motion| at = motion.begins).is_some()
        };
        self.steps.iter().rev().take_while(is_motion).count()
    }

    /// Whether it ends where the moves say.
    pub fn is_right(&self, braid: &Braid) -> bool {
        let there = Lying::after(braid, &self.roles, self.lands);
        let lying = self.lying(self.steps.len());
        lying.is_ok_and(|lying| lying.places() == there.places())
    }
}

/// Why an entry cannot follow what went before.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CourseError {
    /// More strands than there are.
    #[error("{0} strands are said to lie on the disc, and there are {1}")]
    TooManyStrands(usize, usize),
    /// Steps of a way that nobody set out on, or more than it has.
    #[error("a way back is followed that has no such step")]
    NoSuchStep,
    /// A way for another number of strands, or that cannot be gone.
    #[error("a way back does not fit what lies on the disc")]
    WayUnfit,
    /// Roles that are not each strand's once.
    #[error("the strands cannot go on in these roles")]
    RolesUnfit,
}

/// Where the work on one cord stands, and how it came there.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// Strands that lie in their slots, in the order of the set-up.
    pub laid: usize,
    /// Moves that lie in the cord.
    pub done: u64,
    /// Whose way of the start each strand goes.
    pub roles: Vec<usize>,
    /// The way back that is being gone, and how many of its steps are made.
    pub way: Option<(Way, usize)>,
    /// What was noted, in order.
    pub notes: Vec<Noted>,
    /// When the hands did something, in order: moves done then, and ms since 1970. On a
    /// way back the moves stay what they were until it is gone.
    pub log: Vec<(u64, u64)>,
    /// Mistakes found: when (ms since 1970), after how many moves, and which.
    pub mistakes: Vec<(u64, u64, String)>,
    /// Whether the cord is off the disc.
    pub finished: bool,
}

impl Course {
    /// Nothing done yet with so many strands.
    pub fn new(strands: usize) -> Self {
        Self {
            laid: 0,
            done: 0,
            roles: (0..strands).collect(),
            way: None,
            notes: Vec::new(),
            log: Vec::new(),
            mistakes: Vec::new(),
            finished: false,
        }
    }

    /// Number of strands.
    pub fn strands(&self) -> usize {
        self.roles.len()
    }

    /// Whether all strands lie in their slots.
    pub fn is_dressed(&self) -> bool {
        self.laid == self.strands()
    }

    /// Takes an entry in.
    ///
    /// # Errors
    ///
    /// When it cannot follow; the course is as it was then.
    pub fn take(&mut self, stamped: &Stamped) -> Result<(), CourseError> {
        let at = stamped.at;
        match &stamped.entry {
            Entry::Laid(laid) if *laid > self.strands() => {
                return Err(CourseError::TooManyStrands(*laid, self.strands()));
            }
            Entry::Laid(laid) => self.laid = *laid,
            Entry::Done(done) => self.come_to(at, *done),
            Entry::Out(way) => self.set_out(at, way)?,
            Entry::Along(steps) => self.go_along(at, *steps)?,
            Entry::Noted(note) => self.notes.push(Noted {
                at,
                done: self.done,
                note: note.clone(),
            }),
            Entry::Taken { done, roles } => {
                self.check_roles(roles)?;
                self.roles.clone_from(roles);
                self.come_to(at, *done);
            }
            Entry::Finished => self.finished = true,
        }
        Ok(())
    }

    fn come_to(&mut self, at: u64, done: u64) {
        self.laid = self.strands();
        self.done = done;
        self.way = None;
        self.log.push((done, at));
    }

    fn set_out(&mut self, at: u64, way: &Way) -> Result<(), CourseError> {
        self.check_roles(&way.roles)?;
        let can_be_gone = way.lying(way.steps.len()).is_ok();
        if way.from.len() != self.strands() || !can_be_gone {
            return Err(CourseError::WayUnfit);
        }
        if let Why::Mistake(words) = &way.why {
            self.mistakes.push((at, self.done, words.clone()));
        }
        self.way = Some((way.clone(), 0));
        Ok(())
    }

    fn go_along(&mut self, at: u64, steps: usize) -> Result<(), CourseError> {
        let Some((way, made)) = &mut self.way else {
            return Err(CourseError::NoSuchStep);
        };
        if steps > way.steps.len() {
            return Err(CourseError::NoSuchStep);
        }
        *made = steps;
        if steps < way.steps.len() {
            self.log.push((self.done, at));
        } else {
            let (lands, roles) = (way.lands, way.roles.clone());
            self.roles = roles;
            self.come_to(at, lands);
        }
        Ok(())
    }

    fn check_roles(&self, roles: &[usize]) -> Result<(), CourseError> {
        let mut sorted = roles.to_vec();
        sorted.sort_unstable();
        let each_once = sorted.iter().copied().eq(0..self.strands());
        each_once.then_some(()).ok_or(CourseError::RolesUnfit)
    }

    /// What lies on the disc now.
    pub fn lying(&self, braid: &Braid) -> Lying {
        let way = self.way.as_ref();
        let on_way = way.and_then(|(way, made)| way.lying(*made).ok());
        on_way.unwrap_or_else(|| Lying::after(braid, &self.roles, self.done))
    }

    /// The moves to be made next on a way back.
    pub fn next_of_way(&self) -> Option<&[Move]> {
        let (way, made) = self.way.as_ref()?;
        way.steps.get(*made).map(|step| &step.moves[..])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::shelf;

    fn told(course: &mut Course, entries: &[Entry]) {
        for (at, entry) in (0..).zip(entries) {
            let entry = entry.clone();
            course.take(&Stamped { at, entry }).unwrap();
        }
    }

    #[test]
    fn the_way_that_takes_moves_back_is_right_from_every_place() {
        for structure in shelf() {
            let braid = Braid::new(&structure.moves).unwrap();
            let roles: Vec<usize> = (0..braid.strands()).collect();
            let round = braid.lifts().len() as u64;
            let way = Way::undo(&braid, &roles, 2 * round, 0);
            assert!(way.is_right(&braid), "{}", structure.name);
            assert_eq!(way.lands, 0);
        }
    }

    #[test]
    fn what_is_made_again_is_told_from_what_is_taken_back() {
        let braid = Braid::new(&shelf()[0].moves).unwrap();
        let motions = Motions::of(&braid);
        let roles: Vec<usize> = (0..braid.strands()).collect();
        let mut way = Way::undo(&braid, &roles, 6, 3);
        assert_eq!(way.made_again(&braid), 0);
        way.why = Why::Mistake("a slip".to_owned());
        let mut at = way.lands;
        for _ in 0..2 {
            let motion = motions.at(at);
            at += motion.moves();
            way.steps.push(Step {
                moves: motion.carries,
            });
        }
        way.lands = at;
        assert!(way.is_right(&braid));
        assert_eq!(way.made_again(&braid), 2);
    }

    #[test]
    fn a_story_told_twice_ends_where_it_ended() {
        let braid = Braid::new(&shelf()[0].moves).unwrap();
        let n = braid.strands();
        let roles: Vec<usize> = (0..n).collect();
        let way = Way::undo(&braid, &roles, 6, 3);
        let entries = [
            Entry::Laid(n),
            Entry::Done(6),
            Entry::Out(way),
            Entry::Along(1),
        ];
        let mut once = Course::new(n);
        told(&mut once, &entries);
        let mut again = once.clone();
        told(&mut again, &entries[3..]);
        assert_eq!(once.lying(&braid), again.lying(&braid));
        assert_eq!(once.way, again.way);
        told(&mut again, &[Entry::Along(3)]);
        assert_eq!((again.done, &again.way), (3, &None));
    }

    #[test]
    fn what_cannot_follow_changes_nothing() {
        let mut course = Course::new(3);
        let before = course.clone();
        let taken = Entry::Taken {
            done: 4,
            roles: vec![0, 0, 1],
        };
        for entry in [Entry::Laid(4), Entry::Along(1), taken] {
            assert!(course.take(&Stamped { at: 0, entry }).is_err());
            assert_eq!(course, before);
        }
    }
}
