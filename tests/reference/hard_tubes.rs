//! A second, slow way to tight tubes, for hard ones only, made to differ from
//! the engine wherever it can: what both find is not the fault of one.
//!
//! Strands are chains of straight capsules; no two may come nearer than their
//! diameter anywhere along them, where the engine looks at nodes. That is held
//! by multipliers (augmented Lagrangian: Hestenes, *J. Optim. Theory Appl.* 4
//! (1969) 303), not by ever stiffer contacts, so nothing has to be extrapolated. The
//! pull is the plain length, and nodes are kept even by weak springs. Downhill goes
//! the spectral gradient (Raydan, *SIAM J. Optim.* 7 (1997) 26).
//!
//! Letters: `X` a node in the turned frame, `u` its share of the cell plus its level, so that
//! the image stands at `Rz(turn u) X + u lift`; `g` gap of two capsules, `λ` the force
//! between them, `w` stiffness of the penalty. Diameter one, pull one.
//!
//! Only one radius, one pull and one bending stiffness for all strands; both
//! rise and turn free.

use std::collections::BTreeMap;

use plaitwright::mechanics::{Shape, Tubes};

use super::capsules::closest;

/// Penalty of overlap for each squared length of strand. Tried: 50 takes more
/// rounds, 300 more looks a round.
const STIFFNESS: f64 = 100.0;
/// Spring by which every node is held for each length of strand, for one round
/// (tried: 0.5 lets strands slide and never rests).
const TETHER: f64 = 8.0;
/// Spring that keeps nodes even, over the pull.
const EVEN: f64 = 0.5;
/// Capsules of one strand within this arc, in diameters, do not touch.
const OWN_ARC: f64 = 1.6;
/// Pairs nearer than one and this much more are watched.
const SKIN: f64 = 0.15;
/// Longest move of a node in one step: no capsule slips through another.
const LONGEST_MOVE: f64 = 0.04;
/// Steps over which the height may rise for a while.
const MEMORY: usize = 10;
/// Overlap at which the multipliers are done, diameters.
const OVERLAP: f64 = 1e-3;
/// Force of the springs of a round at which they are done. Less is not to be had:
/// strands slide on along themselves, whereby the rise wanders by 0.07 % (tried).
const DRIFT: f64 = 1e-2;
/// Rounds after which it is given up.
const MOST_ROUNDS: usize = 200;
/// Force left on a node for each length of strand.
const UNREST: f64 = 2e-3;

/// Strands as chains of capsules.
struct Chains {
    strands: usize,
    nodes: usize,
    bending: f64,
    weight: f64,
    /// Image after each node of the cell.
    next: Vec<usize>,
    /// Piece in which each piece runs on after so many levels.
    ahead: Vec<Vec<usize>>,
    levels: usize,
    /// Scale of rise and turn among the unknowns.
    scale: f64,
    pairs: Vec<Pair>,
    /// Stiffness of the penalty, for one round of settling.
    penalty: f64,
    /// Where the round began, and how much everything is held there: strands
    /// that slide along themselves would carry the forces to wrong places.
    begun: Vec<f64>,
    tether: f64,
}

/// Two capsules that may touch: first nodes, and the force between them.
struct Pair {
    own: usize,
    image: usize,
    force: f64,
}

/// What a look tells.
struct Look {
    height: f64,
    slope: Vec<f64>,
    spacing: f64,
}

/// Hard tubes pulled tight; gives the shape and the largest overlap.
///
/// # Panics
///
/// When it finds no rest.
pub(super) fn tighten(tubes: &Tubes, start: &Shape) -> (Shape, f64) {
    let mut chains = Chains::new(tubes);
    let mut at = chains.unknowns(start);
    let mut tolerance = 0.1;
    for _ in 0..MOST_ROUNDS {
        chains.settle(&mut at, tolerance);
        let overlap = chains.learn_forces(&at);
        if tolerance <= UNREST && overlap < OVERLAP && chains.drift(&at) < DRIFT {
            return (chains.shape(&at), overlap);
        }
        tolerance = (0.5 * tolerance).max(UNREST);
    }
    panic!("no rest in {MOST_ROUNDS} rounds");
}

impl Chains {
    fn new(tubes: &Tubes) -> Self {
        let (strands, nodes) = (tubes.strands, tubes.nodes);
        let count = strands * nodes;
        let next = |node: usize| match (node + 1) % nodes {
            0 => count + tubes.continues[node / nodes] * nodes,
            _ => node + 1,
        };
        let mut ahead = vec![(0..strands).collect::<Vec<usize>>()];
        for level in 0..40 {
            let further = ahead[level].iter().map(|&i| tubes.continues[i]).collect();
            ahead.push(further);
        }
        Self {
            strands,
            nodes,
            bending: tubes.bending[0],
            weight: tubes.weight,
            next: (0..count).map(next).collect(),
            ahead,
            levels: 2,
            scale: (2.0 * nodes as f64 / strands as f64).sqrt(),
            pairs: Vec::new(),
            penalty: 0.0,
            begun: Vec::new(),
            tether: 0.0,
        }
    }

    fn count(&self) -> usize {
        self.strands * self.nodes
    }

    /// Levels and share of the cell of an image.
    fn height_of(&self, image: usize) -> f64 {
        (image / self.count()) as f64 + (image % self.nodes) as f64 / self.nodes as f64
    }

    /// The image after this one on its strand.
    fn after(&self, image: usize) -> usize {
        let level = image / self.count();
        level * self.count() + self.next[image % self.count()]
    }

    fn lift(&self, at: &[f64]) -> f64 {
        at[3 * self.count()] / self.scale
    }

    fn turn(&self, at: &[f64]) -> f64 {
        at[3 * self.count() + 1] / self.scale
    }

    fn unknowns(&self, shape: &Shape) -> Vec<f64> {
        let mut at = Vec::with_capacity(3 * self.count() + 2);
        for (node, p) in shape.points.iter().enumerate() {
            let u = self.height_of(node);
            let (sin, cos) = (shape.turn * u).sin_cos();
            at.extend([
                cos * p[0] + sin * p[1],
                cos * p[1] - sin * p[0],
                p[2] - u * shape.lift,
            ]);
        }
        at.extend([shape.lift * self.scale, shape.turn * self.scale]);
        at
    }

    fn images(&self, at: &[f64]) -> Vec<[f64; 3]> {
        let (lift, turn) = (self.lift(at), self.turn(at));
        let place = |image: usize| {
            let x = &at[3 * (image % self.count())..];
            let u = self.height_of(image);
            let (sin, cos) = (turn * u).sin_cos();
            [
                cos * x[0] - sin * x[1],
                sin * x[0] + cos * x[1],
                x[2] + u * lift,
            ]
        };
        // One level more than capsules begin at, and one for where they end.
        (0..(self.levels + 2) * self.count()).map(place).collect()
    }

    fn shape(&self, at: &[f64]) -> Shape {
        let mut points = self.images(at);
        points.truncate(self.count());
        Shape {
            points,
            lift: self.lift(at),
            turn: self.turn(at),
            squeeze: vec![0.0; self.count()],
            axes: Vec::new(),
        }
    }

    /// Watch all capsules that are near one another; forces are kept.
    fn watch(&mut self, at: &[f64], spacing: f64) {
        let low = |k: f64, x: &[f64; 3]| k.min(x[2]);
        let own = &self.images(at)[..self.count()];
        let span = own.iter().fold(f64::NEG_INFINITY, |k, x| k.max(x[2]))
            - own.iter().fold(f64::INFINITY, low);
        self.levels = ((span + 1.0 + SKIN + spacing) / self.lift(at)).ceil() as usize + 1;
        let points = self.images(at);
        let known: BTreeMap<_, _> = self
            .pairs
            .iter()
            .map(|pair| ((pair.own, pair.image), pair.force))
            .collect();
        let mut pairs = Vec::new();
        let reach = 1.0 + SKIN;
        for own in 0..self.count() {
            for image in own + 1..(self.levels + 1) * self.count() {
                let far = distance(points[own], points[image]);
                if far > reach + 2.0 * spacing || self.is_own_arc(own, image, spacing) {
                    continue;
                }
                if self.gap(&points, own, image).0 < SKIN {
                    let force = known.get(&(own, image)).copied().unwrap_or(0.0);
                    pairs.push(Pair { own, image, force });
                }
            }
        }
        self.pairs = pairs;
    }

    fn is_own_arc(&self, own: usize, image: usize, spacing: f64) -> bool {
        let (level, other) = (image / self.count(), image % self.count());
        let piece = self.ahead[level.min(40)][own / self.nodes];
        let way = (level * self.nodes + other % self.nodes) as f64 - (own % self.nodes) as f64;
        piece == other / self.nodes && (way.abs() - 1.0) * spacing < OWN_ARC
    }

    /// Gap of two capsules, the direction from the first to the second, and
    /// where along each they are nearest.
    fn gap(&self, points: &[[f64; 3]], own: usize, image: usize) -> (f64, [f64; 3], [f64; 2]) {
        let [p, q] = [own, image].map(|k| [points[k], points[self.after(k)]]);
        let (way, along) = closest(p, q);
        let far = way.iter().map(|x| x * x).sum::<f64>().sqrt().max(1e-12);
        (far - 1.0, way.map(|x| x / far), along)
    }

    fn look(&self, at: &[f64]) -> Look {
        let points = self.images(at);
        let mut push = vec![[0.0; 3]; points.len()];
        let (mut height, spacing) = self.pull(&points, &mut push);
        let stiffness = self.penalty;
        for pair in &self.pairs {
            let (gap, way, along) = self.gap(&points, pair.own, pair.image);
            let force = pair.force - stiffness * gap;
            if force <= 0.0 {
                height -= 0.5 * pair.force * pair.force / stiffness;
                continue;
            }
            height += 0.5 * (force * force - pair.force * pair.force) / stiffness;
            for (k, first, sign) in [(pair.own, along[0], 1.0), (pair.image, along[1], -1.0)] {
                add(&mut push[k], sign * force * (1.0 - first), way);
                add(&mut push[self.after(k)], sign * force * first, way);
            }
        }
        height -= self.weight * self.lift(at);
        let mut slope = self.fold(at, &points, &push);
        for ((slope, x), begun) in slope.iter_mut().zip(at).zip(&self.begun) {
            *slope += self.tether * (x - begun);
            height += 0.5 * self.tether * (x - begun) * (x - begun);
        }
        Look {
            height,
            slope,
            spacing,
        }
    }

    /// Length, bending and the springs that keep nodes even.
    fn pull(&self, points: &[[f64; 3]], push: &mut [[f64; 3]]) -> (f64, f64) {
        let steps: Vec<([f64; 3], f64)> = (0..self.count())
            .map(|k| {
                let far = distance(points[k], points[self.next[k]]);
                (sub(points[self.next[k]], points[k]).map(|x| x / far), far)
            })
            .collect();
        let count = steps.len() as f64;
        let length: f64 = steps.iter().map(|step| step.1).sum();
        let squares: f64 = steps.iter().map(|step| step.1 * step.1).sum();
        let stiffness = self.bending * count / length;
        let mut bent = 0.0;
        for node in 0..self.count() {
            let (here, mid) = (steps[node], self.next[node]);
            let ahead = self.direction(points, mid);
            let cos = dot(here.0, ahead.0);
            bent += stiffness * (1.0 - cos);
            // The derivative of a direction by its end stands across it.
            let by_here = std::array::from_fn(|i| ahead.0[i] - cos * here.0[i]);
            let by_ahead = std::array::from_fn(|i| here.0[i] - cos * ahead.0[i]);
            add(&mut push[node], stiffness / here.1, by_here);
            add(&mut push[mid], -stiffness / here.1, by_here);
            add(&mut push[mid], stiffness / ahead.1, by_ahead);
            add(&mut push[self.after(mid)], -stiffness / ahead.1, by_ahead);
        }
        let even = 0.5 * EVEN * (count * squares / length - length);
        let common = 1.0 - bent / length - 0.5 * EVEN * (count * squares / (length * length) + 1.0);
        for (node, &(way, far)) in steps.iter().enumerate() {
            let along = common + EVEN * count * far / length;
            add(&mut push[node], -along, way);
            add(&mut push[self.next[node]], along, way);
        }
        (length + bent + even, length / count)
    }

    fn direction(&self, points: &[[f64; 3]], image: usize) -> ([f64; 3], f64) {
        let way = sub(points[self.after(image)], points[image]);
        let far = dot(way, way).sqrt();
        (way.map(|x| x / far), far)
    }

    fn fold(&self, at: &[f64], points: &[[f64; 3]], push: &[[f64; 3]]) -> Vec<f64> {
        let turn = self.turn(at);
        let mut slope = vec![0.0; at.len()];
        let (mut by_lift, mut by_turn) = (-self.weight, 0.0);
        for (image, (p, f)) in points.iter().zip(push).enumerate() {
            let u = self.height_of(image);
            let (sin, cos) = (turn * u).sin_cos();
            by_lift += u * f[2];
            by_turn += u * (p[0] * f[1] - p[1] * f[0]);
            let own = &mut slope[3 * (image % self.count())..];
            own[0] += cos * f[0] + sin * f[1];
            own[1] += cos * f[1] - sin * f[0];
            own[2] += f[2];
        }
        slope[3 * self.count()] = by_lift / self.scale;
        slope[3 * self.count() + 1] = by_turn / self.scale;
        slope
    }

    /// Largest force of the springs of the round, for each length of strand.
    fn drift(&self, at: &[f64]) -> f64 {
        let moves: Vec<f64> = at.iter().zip(&self.begun).map(|(x, b)| x - b).collect();
        TETHER * steepest(&moves)
    }

    /// Downhill until the worst force is below `tolerance`.
    fn settle(&mut self, at: &mut Vec<f64>, tolerance: f64) {
        let mut now = self.look(at);
        self.watch(at, now.spacing);
        self.penalty = STIFFNESS * now.spacing * now.spacing;
        self.begun = at.clone();
        self.tether = TETHER * now.spacing;
        now = self.look(at);
        let mut heights = vec![now.height];
        let (mut far, mut moved) = (0.01_f64, 0.0);
        for _ in 0..20_000 {
            let steepest = steepest(&now.slope);
            if steepest / now.spacing < tolerance {
                return;
            }
            far = far.min(LONGEST_MOVE / steepest);
            let highest = heights
                .iter()
                .rev()
                .take(MEMORY)
                .fold(f64::MIN, |a, &b| a.max(b));
            let squares: f64 = now.slope.iter().map(|x| x * x).sum();
            let next: Vec<f64> = at
                .iter()
                .zip(&now.slope)
                .map(|(x, s)| x - far * s)
                .collect();
            let then = self.look(&next);
            if then.height > highest - 1e-4 * far * squares {
                far *= 0.4;
                continue;
            }
            let curve: f64 = now
                .slope
                .iter()
                .zip(&then.slope)
                .map(|(a, b)| a * (a - b))
                .sum();
            let step = far;
            far = if curve > 0.0 {
                far * squares / curve
            } else {
                10.0 * far
            };
            moved += step * steepest;
            (*at, now) = (next, then);
            heights.push(now.height);
            if moved > 0.25 * SKIN {
                self.watch(at, now.spacing);
                (now, moved) = (self.look(at), 0.0);
                heights = vec![now.height];
            }
        }
        panic!("no rest at {tolerance}");
    }

    /// Take the forces of the penalty over into the multipliers; gives the
    /// largest overlap.
    fn learn_forces(&mut self, at: &[f64]) -> f64 {
        let points = self.images(at);
        let mut overlap = 0.0_f64;
        let gaps: Vec<f64> = self
            .pairs
            .iter()
            .map(|pair| self.gap(&points, pair.own, pair.image).0)
            .collect();
        for (pair, gap) in self.pairs.iter_mut().zip(gaps) {
            pair.force = (pair.force - self.penalty * gap).max(0.0);
            overlap = overlap.max(-gap);
        }
        overlap
    }
}

/// Longest slope of a node, or of rise and turn.
fn steepest(slope: &[f64]) -> f64 {
    slope
        .chunks(3)
        .map(|s| s.iter().map(|x| x * x).sum::<f64>().sqrt())
        .fold(0.0, f64::max)
}

fn sub(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    std::array::from_fn(|i| a[i] - b[i])
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    let way = sub(a, b);
    dot(way, way).sqrt()
}

fn add(sum: &mut [f64; 3], factor: f64, what: [f64; 3]) {
    for (sum, what) in sum.iter_mut().zip(what) {
        *sum += factor * what;
    }
}
