//! A cord that might show a painting.

use super::assign::Worth;
use super::painting::Painting;
use crate::surface::{Map, Surface};

/// Pixels once round in the map of a candidate.
const ACROSS: usize = 256;
/// Most pixels upwards.
const MOST_UP: usize = 4096;

/// The cord as it is, or its mirror image.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Hand {
    /// As it is.
    Same,
    /// Worked with the mirrored moves.
    Mirrored,
}

/// A cord that might show a painting: which strand shows where.
#[derive(Debug, Clone)]
pub struct Candidate {
    /// What the maker calls it.
    pub name: String,
    /// As it is, or in a mirror.
    pub hand: Hand,
    /// Strands that take a colour; a core does not.
    pub strands: usize,
    map: Map,
    girth: f64,
    repeat: f64,
    turn: f64,
    /// Strand and middle of each float.
    floats: Vec<(usize, [f64; 2])>,
}

/// How far a painting is moved before it is compared: share of a round, and mm up.
pub(super) type Shift = [f64; 2];

/// A float of a painting: which of the surface, and how many repeats up.
pub(super) type Copy = (usize, i64);

impl Candidate {
    /// A cord of so many braided strands by its surface. Takes some milliseconds:
    /// worth keeping.
    pub fn new(name: &str, surface: &Surface, strands: usize, hand: Hand) -> Self {
        let up = surface.repeat_mm / surface.girth_mm * ACROSS as f64;
        let up = (up.round() as usize).clamp(1, MOST_UP);
        let floats = surface.floats.iter();
        Self {
            name: name.to_owned(),
            hand,
            strands,
            map: Map::new(surface, ACROSS, up),
            girth: surface.girth_mm,
            repeat: surface.repeat_mm,
            turn: surface.repeat_turn,
            floats: floats.map(|float| (float.strand, float.middle)).collect(),
        }
    }

    /// How often each strand shows in the whole repeat.
    pub(super) fn shows(&self, strand: usize) -> usize {
        self.floats.iter().filter(|float| float.0 == strand).count()
    }

    /// The strand of a float.
    pub(super) fn strand(&self, float: usize) -> usize {
        self.floats[float].0
    }

    /// The shifts that bring a place of the painting (share, girths) onto the middle
    /// of each float, and none first.
    pub(super) fn shifts(&self, place: [f64; 2]) -> Vec<Shift> {
        let here = [place[0] * self.side(), place[1] * self.girth];
        let onto = |&(_, middle): &(usize, [f64; 2])| [middle[0] - here[0], middle[1] - here[1]];
        let all = self.floats.iter().map(onto);
        std::iter::once([0.0, 0.0]).chain(all).collect()
    }

    /// In a mirror shares of a round are counted the other way.
    fn side(&self) -> f64 {
        match self.hand {
            Hand::Same => 1.0,
            Hand::Mirrored => -1.0,
        }
    }

    /// The float at a place of a shifted painting (share, girths).
    pub(super) fn copy_at(&self, place: [f64; 2], shift: Shift) -> Option<Copy> {
        let mm = place[1] * self.girth + shift[1];
        let level = (mm / self.repeat).floor();
        let share = place[0] * self.side() + shift[0] - level * self.turn;
        let height = mm - level * self.repeat;
        let x = (share.rem_euclid(1.0) * self.map.width as f64) as usize % self.map.width;
        let from_bottom = (height / self.repeat * self.map.height as f64) as usize;
        let y = self.map.height - 1 - from_bottom.min(self.map.height - 1);
        let float = self.map.float(x, y)?;
        // The copy whose middle is nearest.
        let off = ((height - self.floats[float].1[1]) / self.repeat).round();
        Some((float, (level + off) as i64))
    }

    /// For each strand how many painted cells it covers of each colour.
    pub(super) fn worth(&self, painting: &Painted, shift: Shift, colours: usize) -> Worth {
        let mut worth = vec![vec![0; colours]; self.strands];
        for &(place, colour) in &painting.cells {
            let copy = self.copy_at(place, shift);
            let strand = copy.map(|(float, _)| self.floats[float].0);
            let of = strand.and_then(|strand| worth.get_mut(strand));
            if let Some(cells) = of.and_then(|of| of.get_mut(usize::from(colour))) {
                *cells += 1;
            }
        }
        worth
    }
}

/// The painted cells of a painting.
#[derive(Debug)]
pub(super) struct Painted {
    /// Share of a round and girths, and the colour wanted.
    pub(super) cells: Vec<([f64; 2], u8)>,
}

impl Painted {
    pub(super) fn of(painting: &Painting) -> Self {
        let [across, up] = painting.size();
        let all = (0..up).flat_map(|y| (0..across).map(move |x| (x, y)));
        let painted = all.filter_map(|(x, y)| Some((painting.place(x, y), painting.cell(x, y)?)));
        Self {
            cells: painted.collect(),
        }
    }
}
