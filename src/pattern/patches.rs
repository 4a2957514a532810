//! Stitches of one colour that hang together, and which way they run.
//!
//! The surface, wound up after its whole repeat, is closed both ways. A patch that comes back to itself having gone round `x`
//! rounds and up `z` millimetres is a band; one that does so in two directions is a
//! ground, one that never does an island. Patches are put together by union and
//! find, every stitch knowing how many rounds and windings it lies off its root.

use super::Arrangement;
use super::mosaic::{Mosaic, Stitch};

/// How a patch runs on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Run {
    /// Not at all.
    Island,
    /// In one direction.
    Band {
        /// How often it is met at every height: 0 for a closed ring.
        times: usize,
        /// How far round it goes on its way up, mm anticlockwise seen from above.
        round: f64,
        /// How far up it comes meanwhile, mm.
        up: f64,
        /// How far it wanders to and fro, as a share of its width.
        wander: f64,
    },
    /// In every direction.
    Ground,
}

/// Stitches of one colour that hang together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Patch {
    pub(super) colour: u8,
    pub(super) run: Run,
    /// How many stitches in the whole repeat.
    pub(super) stitches: usize,
    /// Share of the whole surface.
    pub(super) share: f64,
}

/// Least border over which stitches hang together, as a share of the side of a
/// square as large as the smaller. Tried on cords of the shelf: corners that just
/// touch have less, sides that lie along one another more.
const HOLDS: f64 = 0.35;

/// Rounds and windings.
type Way = [i64; 2];

/// The patches of an arrangement, in the order of their roots.
pub(super) fn patches(mosaic: &Mosaic, arrangement: &Arrangement) -> Vec<Patch> {
    let count = mosaic.stitches.len();
    let painted = Painted {
        mosaic,
        arrangement,
    };
    let mut forest = Forest::new(count);
    for stitch in 0..count {
        painted.join(stitch, &mut forest);
    }
    let mut members: Vec<Vec<usize>> = vec![Vec::new(); count];
    for stitch in 0..count {
        members[forest.root(stitch).0].push(stitch);
    }
    let found = members
        .iter()
        .enumerate()
        .filter(|(_, all)| !all.is_empty());
    found
        .filter_map(|(root, all)| painted.patch(root, all, &mut forest))
        .collect()
}

struct Painted<'a> {
    mosaic: &'a Mosaic,
    arrangement: &'a Arrangement,
}

impl Painted<'_> {
    fn stitch(&self, number: usize) -> &Stitch {
        &self.mosaic.stitches[number]
    }

    /// A core has none.
    fn colour(&self, number: usize) -> Option<u8> {
        self.arrangement.0.get(self.stitch(number).strand).copied()
    }

    /// Joins a stitch with its neighbours of the same colour.
    fn join(&self, number: usize, forest: &mut Forest) {
        let stitch = self.stitch(number);
        for near in &stitch.beside {
            let smaller = stitch.area.min(self.stitch(near.stitch).area);
            let holds = near.length > HOLDS * smaller.sqrt();
            let colour = self.colour(number);
            if holds && colour.is_some() && colour == self.colour(near.stitch) {
                let way = [i64::from(near.rounds), i64::from(near.repeats)];
                forest.join(number, near.stitch, way);
            }
        }
    }

    fn patch(&self, root: usize, all: &[usize], forest: &mut Forest) -> Option<Patch> {
        let colour = self.colour(root)?;
        let area: f64 = all.iter().map(|&number| self.stitch(number).area).sum();
        let run = match forest.loops[root] {
            Loops::None => Run::Island,
            Loops::All => Run::Ground,
            Loops::Along(way) => self.band(way, all, area, forest),
        };
        Some(Patch {
            colour,
            run,
            stitches: all.len(),
            share: area / self.mosaic.area(),
        })
    }

    /// Millimetres round and up of a way.
    fn millimetres(&self, [rounds, windings]: Way) -> [f64; 2] {
        let rounds = rounds as f64 + windings as f64 * self.mosaic.turn;
        [
            rounds * self.mosaic.girth,
            windings as f64 * self.mosaic.repeat,
        ]
    }

    fn band(&self, way: Way, all: &[usize], area: f64, forest: &mut Forest) -> Run {
        let [round, up] = self.millimetres(way);
        let sign = if up < 0.0 { -1.0 } else { 1.0 };
        let along = [sign * round, sign * up];
        Run::Band {
            times: way[1].unsigned_abs() as usize,
            round: along[0],
            up: along[1],
            wander: self.wander(along, all, area, forest),
        }
    }

    /// How far the middle of a band goes to and fro: the largest of its waves, trough
    /// to crest, as a share of the width.
    fn wander(&self, along: [f64; 2], all: &[usize], area: f64, forest: &mut Forest) -> f64 {
        let length = along[0].hypot(along[1]);
        let (sin, cos) = (along[0] / length, along[1] / length);
        let mut place = |&number: &usize| {
            let stitch = self.stitch(number);
            let [x, z] = self.millimetres(forest.root(number).1);
            let x = x + stitch.middle[0] * self.mosaic.girth;
            let z = z + stitch.middle[1];
            [x * sin + z * cos, x * cos - z * sin, stitch.area]
        };
        let places: Vec<[f64; 3]> = all.iter().map(&mut place).collect();
        let mean = places.iter().map(|p| p[1] * p[2]).sum::<f64>() / area;
        let wave = |number: usize| {
            let turn = std::f64::consts::TAU * number as f64 / length;
            let part = |of: fn(f64) -> f64| {
                let sum = places
                    .iter()
                    .map(|p| (p[1] - mean) * p[2] * of(turn * p[0]));
                sum.sum::<f64>() / area
            };
            4.0 * part(f64::sin).hypot(part(f64::cos))
        };
        // A wave has at least two stitches to either side: one is how it is braided.
        let waves = (1..=all.len() / 4).map(wave);
        waves.fold(0.0, f64::max) * length / area
    }
}

/// In which directions a patch comes back to itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Loops {
    None,
    Along(Way),
    All,
}

impl Loops {
    fn and(self, way: Way) -> Self {
        let along = match self {
            _ if way == [0, 0] => return self,
            Self::All => return Self::All,
            Self::None => return Self::Along(way),
            Self::Along(along) => along,
        };
        if along[0] * way[1] != along[1] * way[0] {
            return Self::All;
        }
        Self::Along(common(along, way))
    }

    fn both(self, other: Self) -> Self {
        match other {
            Self::None => self,
            Self::Along(way) => self.and(way),
            Self::All => Self::All,
        }
    }
}

/// The longest way of which two on one line are multiples.
fn common(mut a: Way, mut b: Way) -> Way {
    let which = usize::from(a[0] == 0);
    while b[which] != 0 {
        let times = a[which] / b[which];
        (a, b) = (b, [a[0] - times * b[0], a[1] - times * b[1]]);
    }
    a
}

/// Patches that grow together.
struct Forest {
    /// What a node hangs on, and how far the node lies off it.
    above: Vec<(usize, Way)>,
    /// How many hang on a root: the smaller is hung on the larger.
    size: Vec<usize>,
    /// Of roots only.
    loops: Vec<Loops>,
}

impl Forest {
    fn new(size: usize) -> Self {
        Self {
            above: (0..size).map(|node| (node, [0, 0])).collect(),
            size: vec![1; size],
            loops: vec![Loops::None; size],
        }
    }

    /// The root, and how far the node lies off it.
    fn root(&mut self, node: usize) -> (usize, Way) {
        let (above, off) = self.above[node];
        if above == node {
            return (node, off);
        }
        let (root, further) = self.root(above);
        self.above[node] = (root, [off[0] + further[0], off[1] + further[1]]);
        self.above[node]
    }

    /// Joins a node with the copy of another that lies so far off.
    fn join(&mut self, node: usize, other: usize, way: Way) {
        let (root, off) = self.root(node);
        let (other_root, other_off) = self.root(other);
        let from_root = [
            off[0] + way[0] - other_off[0],
            off[1] + way[1] - other_off[1],
        ];
        if root == other_root {
            self.loops[root] = self.loops[root].and(from_root);
            return;
        }
        let (large, small, off) = if self.size[root] < self.size[other_root] {
            (other_root, root, from_root.map(|part| -part))
        } else {
            (root, other_root, from_root)
        };
        self.above[small] = (large, off);
        self.size[large] += self.size[small];
        self.loops[large] = self.loops[large].both(self.loops[small]);
    }
}

#[cfg(test)]
mod tests {
    use super::super::mosaic::tests::brickwork;
    use super::*;

    fn runs(mosaic: &Mosaic, colours: &[u8], colour: u8) -> Vec<Run> {
        let all = patches(mosaic, &Arrangement(colours.to_vec()));
        all.iter()
            .filter(|p| p.colour == colour)
            .map(|p| p.run)
            .collect()
    }

    fn times(run: &Run) -> usize {
        match run {
            Run::Band { times, .. } => *times,
            _ => 0,
        }
    }

    #[test]
    fn columns_that_stay_make_a_line_each() {
        let wall = brickwork([6, 1], |column, _| column, 0.0);
        let lines = runs(&wall, &[0, 1, 2, 0, 1, 2], 0);
        assert_eq!(lines.len(), 2);
        let Run::Band {
            times,
            round,
            up,
            wander,
        } = lines[0]
        else {
            panic!("{lines:?}");
        };
        assert_eq!((times, round, up), (1, 0.0, 2.0));
        assert!(wander.abs() < 1e-9, "{wander}");
    }

    #[test]
    fn bands_go_round_with_the_turn_of_the_repeat() {
        let wall = brickwork([4, 1], |column, _| column, 0.25);
        let Run::Band {
            times, round, up, ..
        } = runs(&wall, &[0, 0, 1, 1], 0)[0]
        else {
            panic!("no band");
        };
        assert_eq!((times, round, up), (1, 1.0, 2.0));
    }

    #[test]
    fn a_place_further_every_row_makes_a_band_that_goes_all_round() {
        let wall = brickwork([8, 8], |column, row| (column + 8 - row) % 8, 0.0);
        let bands = runs(&wall, &[0, 0, 0, 1, 1, 1, 1, 1], 0);
        assert_eq!(bands.len(), 1);
        let Run::Band {
            times, round, up, ..
        } = bands[0]
        else {
            panic!("{bands:?}");
        };
        assert_eq!((times, round, up), (1, 8.0, 16.0));
    }

    #[test]
    fn a_band_that_steps_to_and_fro_wanders() {
        let step = |row: usize| [0, 1, 2, 1][row / 2];
        let wall = brickwork([8, 8], |column, row| (column + 8 - step(row)) % 8, 0.0);
        let bands = runs(&wall, &[0, 0, 1, 1, 1, 1, 1, 1], 0);
        let Run::Band {
            times,
            round,
            wander,
            ..
        } = bands[0]
        else {
            panic!("{bands:?}");
        };
        assert_eq!((times, round), (1, 0.0));
        assert!(wander > 0.5, "{wander}");
    }

    #[test]
    fn one_colour_is_a_ground_and_single_stitches_are_islands() {
        let wall = brickwork([8, 2], |column, row| (column + 4 * row) % 8, 0.0);
        assert_eq!(runs(&wall, &[0; 8], 0), [Run::Ground]);
        let one = runs(&wall, &[1, 0, 0, 0, 0, 0, 0, 0], 1);
        assert_eq!(one, [Run::Island; 2]);
        assert_eq!(runs(&wall, &[1, 0, 0, 0, 0, 0, 0, 0], 0), [Run::Ground]);
    }

    #[test]
    fn rows_of_one_colour_are_rings() {
        let wall = brickwork([6, 4], |_, row| row, 0.0);
        let rings = runs(&wall, &[0, 0, 1, 1], 0);
        assert_eq!(rings.iter().map(times).collect::<Vec<_>>(), [0]);
    }

    #[test]
    fn ways_on_one_line_share_their_longest_part() {
        assert_eq!(Loops::None.and([0, 0]), Loops::None);
        assert_eq!(Loops::Along([4, 6]).and([6, 9]), Loops::Along([2, 3]));
        assert_eq!(Loops::Along([0, 6]).and([0, 4]), Loops::Along([0, 2]));
        assert_eq!(Loops::Along([1, 0]).and([0, 1]), Loops::All);
    }
}
