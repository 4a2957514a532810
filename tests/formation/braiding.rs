//! A cord braided lift by lift, as hands do it.
//!
//! One strand at a time is carried over the disc and laid into its new slot;
//! then everything comes to rest, and what lies deep enough below the disc is
//! frozen. Letters: `f` weight over the pull of all strands together.

use plaitwright::structure::{Braid, MoveList, Seat};

use super::chains::{Chains, Yarn};
use super::contact::Contacts;
use super::disc::{Disc, Freedom};
use super::vector::{Vector, length, minus, plus, times};

/// Radius of the disc, strand diameters: far enough for the spans to be
/// straight lines that pull (10 and 16 agree, tried).
const DISC: f64 = 10.0;
/// Distance from the middle at which chains end and spans begin. Tried: chains
/// of 5.6 let strands of a tube pass where their spans cross farther out.
const CHAIN: f64 = 9.3;

/// Depth below the point of braiding at which the cord is frozen. Tried: 5 and
/// 8 agree but for hollow cords, which come 0.5 thinner with 8.
const DEPTH: f64 = 5.0;

/// Steps in which a strand is carried.
const CARRIED: usize = 800;
/// Most steps until all rests, and the fewest.
const RESTED: (usize, usize) = (7000, 175);
/// Slower than this is at rest, strand diameters a step.
const STILL: f64 = 1e-3;
/// So many steps of stillness are rest.
const STILL_FOR: usize = 20;
/// Highest that the hand goes over the disc, strand diameters.
const HIGHEST: f64 = 5.0;
/// Live nodes that a strand keeps whatever its depth.
const FEWEST_LIVE: usize = 8;

/// How it is braided.
#[derive(Debug, Clone)]
pub(crate) struct Manner {
    pub(crate) yarn: Yarn,
    /// Weight over the pull of all strands.
    pub(crate) f: f64,
    pub(crate) freedom: Freedom,
}

/// A cord on the disc.
#[derive(Debug, Clone)]
pub(crate) struct Braiding {
    braid: Braid,
    pub(crate) chains: Chains,
    contacts: Contacts,
    pub(crate) disc: Disc,
    pub(crate) lifts: usize,
    /// Middle of the newest frozen cord, at its height.
    pub(crate) below: Vector,
    /// Spin and height of the disc after each whole round.
    pub(crate) rounds: Vec<(f64, f64)>,
}

impl Braiding {
    /// Strands hung on the disc, side by side in a ring, three diameters of
    /// them frozen.
    pub(crate) fn new(moves: &MoveList, manner: &Manner) -> Self {
        let braid = Braid::new(moves).expect("a list of the shelf");
        let count = braid.strands();
        let pull = count as f64;
        let seats: Vec<f64> = braid.seats_after(0).iter().map(|s| s.angle()).collect();
        let ring = 0.52 / (std::f64::consts::PI / pull).sin();
        let mut disc = Disc {
            centre: [0.0, 0.0, (DISC - ring) * manner.f.asin().tan()],
            frame: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
            seats,
            hand: None,
            pull: vec![1.0; count],
            weight: manner.f * pull,
            radius: DISC,
            freedom: manner.freedom,
            speed: [0.0; 3],
            spin: [0.0; 3],
            spun: 0.0,
        };
        let lines: Vec<Vec<Vector>> = (0..count)
            .map(|strand| hung(&disc, strand, ring, &manner.yarn))
            .collect();
        let frozen = vec![(3.0 / manner.yarn.piece) as usize; count];
        disc.speed = [0.0; 3];
        let mut braiding = Self {
            braid,
            chains: Chains::new(manner.yarn, &lines, &frozen),
            contacts: Contacts::default(),
            disc,
            lifts: 0,
            below: [0.0, 0.0, -1.0],
            rounds: Vec::new(),
        };
        braiding.rest();
        braiding.freeze();
        braiding
    }

    /// Works whole rounds of the list.
    pub(crate) fn work(&mut self, rounds: usize) {
        let round = self.braid.lifts().len();
        for _ in 0..rounds * round {
            self.lift();
            if self.lifts.is_multiple_of(round) {
                self.rounds.push((self.disc.spun, self.disc.centre[2]));
            }
        }
    }

    /// Carries the next strand over all that rests.
    fn lift(&mut self) {
        let (before, after) = (
            self.braid.seats_after(self.lifts),
            self.braid.seats_after(self.lifts + 1),
        );
        self.lifts += 1;
        let moved = |strand: &usize| self.seat_moves(&before, &after, *strand);
        let Some(strand) = (0..self.chains.strands()).find(moved) else {
            return;
        };
        self.carry(strand, after[strand].angle());
        self.disc.hand = None;
        self.disc.seats[strand] = after[strand].angle();
        self.rest();
        self.freeze();
    }

    fn seat_moves(&self, before: &[Seat], after: &[Seat], strand: usize) -> bool {
        before[strand] != after[strand]
    }

    /// Up out of the slot, straight across, down into the other.
    fn carry(&mut self, strand: usize, to: f64) {
        let from = self.disc.rim(self.disc.seats[strand]);
        let way = minus(self.disc.rim(to), from);
        let height = (1.5 + 0.5 * length(way)).min(HIGHEST);
        for step in 1..=CARRIED {
            let done = step as f64 / CARRIED as f64;
            let across = ((done - 0.2) / 0.6).clamp(0.0, 1.0);
            let smooth = across * across * (3.0 - 2.0 * across);
            let mut place = plus(from, times(way, smooth));
            place[2] = height * (done / 0.2).min(1.0).min((1.0 - done) / 0.2);
            self.disc.hand = Some((strand, place));
            self.step();
        }
    }

    fn rest(&mut self) {
        let mut still = 0;
        for step in 0..RESTED.0 {
            still = if self.step() < STILL { still + 1 } else { 0 };
            if step > RESTED.1 && still > STILL_FOR {
                return;
            }
        }
    }

    /// One step of everything; gives the greatest speed.
    fn step(&mut self) -> f64 {
        self.chains.pull();
        self.contacts.press(&mut self.chains);
        let disc = self.disc.step(&mut self.chains, self.below);
        let fastest = self.chains.step();
        self.feed();
        fastest.max(disc)
    }

    /// Lets strand off the disc, or takes it back, so that spans keep their length.
    fn feed(&mut self) {
        let piece = self.chains.yarn.piece;
        for strand in 0..self.chains.strands() {
            let held = self.disc.hand.is_some_and(|(held, _)| held == strand);
            let span = DISC - CHAIN;
            let longest = span + piece + if held { 3.0 } else { 0.0 };
            let (end, last) = (self.disc.end(strand), self.chains.last(strand));
            let way = minus(end, self.chains.at[last]);
            let long = length(way);
            if long > longest {
                let next = plus(self.chains.at[last], times(way, piece / long));
                self.chains.grow(strand, next);
                self.contacts.renew();
            } else if long < span - piece && self.chains.live(strand).len() > FEWEST_LIVE {
                self.chains.nodes[strand] -= 1;
                self.contacts.renew();
            }
        }
    }

    /// Height below which the cord is done.
    pub(crate) fn cut(&self) -> f64 {
        let strands = self.chains.strands() as f64;
        let slope = (self.disc.weight / strands).min(0.95).asin().tan();
        self.disc.centre[2] - (DISC - 0.4 * strands.sqrt()) * slope - DEPTH
    }

    fn freeze(&mut self) {
        let cut = self.cut();
        for strand in 0..self.chains.strands() {
            while self.chains.live(strand).len() > FEWEST_LIVE {
                let node = self.chains.live(strand).start;
                if self.chains.at[node][2] >= cut {
                    break;
                }
                self.chains.speed[node] = [0.0; 3];
                self.chains.frozen[strand] += 1;
                self.contacts.renew();
            }
        }
        self.below = self.middle_below(cut);
    }

    fn middle_below(&self, cut: f64) -> Vector {
        let (mut sum, mut count) = ([0.0; 3], 0.0);
        for strand in 0..self.chains.strands() {
            for node in self.chains.whole(strand) {
                let at = self.chains.at[node];
                if self.chains.is_frozen(node) && at[2] > cut - 3.0 {
                    sum = plus(sum, at);
                    count += 1.0;
                }
            }
        }
        if count == 0.0 {
            return self.below;
        }
        times(sum, 1.0 / count)
    }
}

/// A strand straight up a place of the ring and out to its slot.
fn hung(disc: &Disc, strand: usize, ring: f64, yarn: &Yarn) -> Vec<Vector> {
    let rim = disc.rim(disc.seats[strand]);
    let foot = times(rim, ring / disc.radius);
    let mut line: Vec<Vector> = (0..)
        .map(|node| [foot[0], foot[1], -4.0 + yarn.piece * f64::from(node)])
        .take_while(|p| p[2] < 0.0)
        .collect();
    let out = minus(disc.end(strand), foot);
    let long = length(out);
    let mut way = 0.0;
    while way < long - (DISC - CHAIN) {
        line.push(plus(foot, times(out, way / long)));
        way += yarn.piece;
    }
    line
}
