//! What is to be done at the place where a cord stands.

use super::AtWork;
use crate::bench::{Motion, Side};
use crate::structure::{self, Braid, Move, Step, Way};

/// What the hands do next.
#[derive(Debug, Clone, PartialEq)]
pub enum Doing {
    /// Lay these strands into their slots.
    Laying(Vec<usize>),
    /// Make these motions: one, or a pair.
    Moving(Vec<Carried>),
    /// Make this step of the way back.
    Returning(Vec<Carried>),
    /// Nothing: the cord is off the disc.
    Off,
}

/// What the hands carry at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Carried {
    /// From where to where; two that change places.
    pub moves: Vec<Move>,
    /// Which way round two pass that change places.
    pub exchange: Option<Way>,
    /// The strands carried.
    pub strands: Vec<usize>,
    /// The hand on whose side it passes; none over the middle, or with two hands.
    pub side: Option<Side>,
}

/// Where a cord stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// What the hands do next.
    pub doing: Doing,
    /// What comes after that, if moves do.
    pub following: Option<Carried>,
    /// What was done just before.
    pub just_done: Vec<Move>,
    /// Quarters that the disc is turned clockwise.
    pub quarters: u8,
    /// The same when what is next is done.
    pub quarters_after: u8,
    /// Motions of a pair that are done, if it is half done.
    pub half_done: bool,
    /// Moves that lie in the cord.
    pub done: u64,
}

impl Place {
    /// Where `work` stands, stepped in pairs or singly; the disc turns with the hands, or
    /// stays as it was at the start.
    pub fn of(work: &AtWork, pairs: bool, turns: bool) -> Self {
        let course = work.course();
        let done = work.done();
        let facing = |done| if turns { facing(work, done) } else { 0 };
        let quarters = facing(done);
        let at = At { work, quarters };
        let mut place = Self {
            doing: Doing::Off,
            following: None,
            just_done: Vec::new(),
            quarters,
            quarters_after: quarters,
            half_done: false,
            done,
        };
        if course.finished {
            return place;
        }
        if !course.is_dressed() {
            place.doing = Doing::Laying(laid_next(work));
            return place;
        }
        if let Some(moves) = course.next_of_way() {
            place.doing = Doing::Returning(at.carried_of_step(moves));
            return place;
        }
        let end = work.stride(pairs).after(done);
        let motion = work.motions().at(done);
        place.half_done = motion.of_pair.0 > 0;
        place.doing = Doing::Moving(at.between(done, end));
        let after = At {
            work,
            quarters: facing(end),
        };
        place.following = after.after(end);
        place.just_done = at.before(done, pairs);
        place.quarters_after = facing(end);
        place
    }

    /// What is carried next; empty while strands are laid.
    pub fn carried(&self) -> &[Carried] {
        match &self.doing {
            Doing::Moving(carried) | Doing::Returning(carried) => carried,
            Doing::Laying(_) | Doing::Off => &[],
        }
    }
}

/// Most moves for which one strand may be held; beyond that the disc is not turned.
const HELD_FOR: usize = 64;

/// Quarters that the disc is turned clockwise: while a strand is held, as it was turned
/// when that was taken up, for then no hand is free to turn it.
fn facing(work: &AtWork, done: u64) -> u8 {
    let rests =
        |place: structure::Place| matches!(place, structure::Place::Rim(half) if half % 2 == 0);
    let starts = |place: &structure::Place| rests(*place) || work.list().start.contains(place);
    let mut at = done;
    for _ in 0..HELD_FOR {
        let lying = work.braid().places_after(at as usize);
        if lying.iter().all(starts) {
            return work.motions().facing(at);
        }
        let Some(before) = work.motions().before(at) else {
            break;
        };
        at = before.begins;
    }
    0
}

/// The strands that are laid next: those of one length together.
fn laid_next(work: &AtWork) -> Vec<usize> {
    let mut laid = 0;
    for group in work.set_up() {
        laid += group.len();
        if laid > work.course().laid {
            return group.clone();
        }
    }
    Vec::new()
}

/// Motions seen from a place.
struct At<'a> {
    work: &'a AtWork,
    quarters: u8,
}

impl At<'_> {
    fn between(&self, from: u64, to: u64) -> Vec<Carried> {
        let mut carried = Vec::new();
        let mut done = from;
        while done < to {
            let motion = self.work.motions().at(done);
            done = motion.begins + motion.moves();
            carried.push(self.carried(&motion));
        }
        carried
    }

    fn after(&self, done: u64) -> Option<Carried> {
        Some(self.carried(&self.work.motions().at(done)))
    }

    fn before(&self, done: u64, pairs: bool) -> Vec<Move> {
        let from = self.work.stride(pairs).before(done).unwrap_or(done);
        let carried = self.between(from, done);
        carried.into_iter().flat_map(|it| it.moves).collect()
    }

    fn carried(&self, motion: &Motion) -> Carried {
        let (moves, exchange) = match motion.exchange {
            Some((a, b, way)) => (change_places(a, b), Some(way)),
            None => (motion.carries.clone(), None),
        };
        let side = motion.side(self.work.braid().slots(), self.quarters);
        let lying = self.lying_at(motion.begins);
        self.told(moves, exchange, side, &lying)
    }

    /// Where each strand lies after so many moves.
    fn lying_at(&self, done: u64) -> Vec<structure::Place> {
        let at = self.work.braid().places_after(done as usize);
        let roles = &self.work.course().roles;
        roles.iter().map(|&role| at[role]).collect()
    }

    /// A step of a way back: one strand carried, or two that change places.
    fn carried_of_step(&self, moves: &[Move]) -> Vec<Carried> {
        let slots = self.work.braid().slots();
        let mut lying = self.work.lying().clone();
        if let Some((a, b, way)) = exchanged(moves, slots) {
            let moves = change_places(a, b);
            return vec![self.told(moves, Some(way), None, lying.places())];
        }
        let one = |&carried: &Move| {
            let motion = Motion {
                carries: vec![carried],
                exchange: None,
                begins: 0,
                of_pair: (0, 1),
            };
            let side = motion.side(slots, self.quarters);
            let told = self.told(vec![carried], None, side, lying.places());
            // Each of several steps is told as it finds the disc.
            let carried = lying.carry(carried);
            carried.ok().map(|_| told)
        };
        moves.iter().filter_map(one).collect()
    }

    fn told(
        &self,
        moves: Vec<Move>,
        exchange: Option<Way>,
        side: Option<Side>,
        lying: &[structure::Place],
    ) -> Carried {
        let strand = |one: &Move| lying.iter().position(|at| *at == one.from);
        Carried {
            strands: moves.iter().filter_map(strand).collect(),
            side: side.filter(|_| exchange.is_none()),
            moves,
            exchange,
        }
    }
}

fn change_places(a: structure::Place, b: structure::Place) -> Vec<Move> {
    vec![Move { from: a, to: b }, Move { from: b, to: a }]
}

/// Two places that change strands, told in three moves, forwards or taken back.
fn exchanged(moves: &[Move], slots: u16) -> Option<(structure::Place, structure::Place, Way)> {
    let step = |moves: Vec<Move>| Step { moves };
    let back = moves.iter().rev().map(|one| Move {
        from: one.to,
        to: one.from,
    });
    let forwards = step(moves.to_vec()).as_exchange(slots);
    let backwards = step(back.collect()).as_exchange(slots);
    let turned = |way| match way {
        Way::Clockwise => Way::Anticlockwise,
        Way::Anticlockwise => Way::Clockwise,
    };
    forwards.or(backwards.map(|(a, b, way)| (b, a, turned(way))))
}

/// Strands at the far side, the right, the near side and the left, with the disc turned
/// clockwise by so many quarters.
pub fn around(braid: &Braid, lying: &[structure::Place], quarters: u8) -> [usize; 4] {
    let mut counts = [0; 4];
    for place in lying {
        if let Some(angle) = place.angle(braid.slots()) {
            let quarter = std::f64::consts::FRAC_PI_2;
            let side = ((angle + 0.5 * quarter) / quarter).floor() as usize;
            counts[(side + usize::from(quarters)) % 4] += 1;
        }
    }
    counts
}
