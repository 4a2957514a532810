//! The disc: slots that pull, a weight that draws the cord through, and a hand.
//!
//! Seen from the cord that is made the disc rises: the weight pulls it up along
//! its own normal, the strands hold it down. It may move sideways, spin, and tilt
//! about the cord below, which hangs freely.

use super::chains::Chains;
use super::vector::{Vector, at_most, cross, length, minus, plus, times};

/// Speed kept from step to step.
const KEPT: f64 = 0.98;
/// Farthest that the disc moves in a step, strand diameters.
const FASTEST: f64 = 0.03;
/// Mass of the disc over that of its last nodes together. Tried.
const MASS: f64 = 1.5;
/// Pull back to above the cord, over the weight, for each diameter: a cord
/// hanging fifty diameters long. Our guess.
const HANGING: f64 = 0.02;

/// What the disc may do besides rising and moving sideways.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Freedom {
    /// Spin.
    Spins,
    /// Spin, and tilt against the cord.
    SpinsAndTilts,
}

/// The disc and what it holds.
#[derive(Debug, Clone)]
pub(crate) struct Disc {
    pub(crate) centre: Vector,
    /// Right, up (in plan) and normal of the disc, in the cord's frame.
    pub(crate) frame: [Vector; 3],
    /// The place of each strand, radians clockwise.
    pub(crate) seats: Vec<f64>,
    /// The strand in the hand and where, in the disc's frame.
    pub(crate) hand: Option<(usize, Vector)>,
    /// Pull on each strand.
    pub(crate) pull: Vec<f64>,
    /// The hanging weight.
    pub(crate) weight: f64,
    pub(crate) radius: f64,
    pub(crate) freedom: Freedom,
    pub(crate) speed: Vector,
    pub(crate) spin: Vector,
    /// How far it has spun, radians anticlockwise.
    pub(crate) spun: f64,
}

/// Share of its pull that a strand keeps in the hand. Our guess.
const IN_HAND: f64 = 0.5;

impl Disc {
    /// A place on the rim, in the disc's frame.
    pub(crate) fn rim(&self, seat: f64) -> Vector {
        [self.radius * seat.sin(), self.radius * seat.cos(), 0.0]
    }

    /// Where the span of a strand ends.
    pub(crate) fn end(&self, strand: usize) -> Vector {
        let place = match self.hand {
            Some((held, place)) if held == strand => place,
            _ => self.rim(self.seats[strand]),
        };
        (0..3).fold(self.centre, |p, axis| {
            plus(p, times(self.frame[axis], place[axis]))
        })
    }

    /// Pulls every strand, and is pulled and moved itself; `below` is the
    /// middle of the cord that is made. Gives its speed, turning included.
    pub(crate) fn step(&mut self, chains: &mut Chains, below: Vector) -> f64 {
        let normal = self.frame[2];
        let lift = times(normal, self.weight);
        let mut force = lift;
        let mut torque = cross(minus(below, self.centre), lift);
        for axis in 0..2 {
            force[axis] -= HANGING * self.weight * (self.centre[axis] - below[axis]);
        }
        for strand in 0..chains.strands() {
            let last = chains.last(strand);
            let end = self.end(strand);
            let span = minus(end, chains.at[last]);
            let held = self.hand.is_some_and(|(held, _)| held == strand);
            let pull = self.pull[strand] * if held { IN_HAND } else { 1.0 };
            let pull = times(span, pull / length(span));
            chains.push(last, pull);
            if !held {
                force = minus(force, pull);
                torque = minus(torque, cross(minus(end, self.centre), pull));
            }
        }
        self.turn(torque, chains);
        self.shift(force, chains)
    }

    fn mass(&self, chains: &Chains) -> f64 {
        MASS * chains.yarn.mass() * chains.strands() as f64
    }

    fn shift(&mut self, force: Vector, chains: &Chains) -> f64 {
        let speed = plus(self.speed, times(force, 1.0 / self.mass(chains)));
        self.speed = at_most(times(speed, KEPT), FASTEST);
        self.centre = plus(self.centre, self.speed);
        length(self.speed).max(4.0 * length(self.spin))
    }

    fn turn(&mut self, torque: Vector, chains: &Chains) {
        let arm = 0.5 * self.radius;
        let may = match self.freedom {
            Freedom::Spins => [0.0, 0.0, torque[2]],
            Freedom::SpinsAndTilts => torque,
        };
        let spin = plus(self.spin, times(may, 1.0 / (self.mass(chains) * arm * arm)));
        self.spin = at_most(times(spin, KEPT), FASTEST / arm);
        self.spun += self.spin[2];
        let [right, up, _] = self.frame.map(|axis| plus(axis, cross(self.spin, axis)));
        let right = times(right, 1.0 / length(right));
        let normal = cross(right, up);
        let normal = times(normal, 1.0 / length(normal));
        self.frame = [right, cross(normal, right), normal];
    }
}
