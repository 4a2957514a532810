//! The arrangement that agrees best with a painting, and where it does not.
//!
//! The painting is laid on the cord as it was painted, and moved so that a stitch of
//! it comes to lie on each other one. For every such place the best arrangement is
//! exact; further answers are the exact next best ones at the best place of a cord,
//! and the best ones at all others.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use super::arrangement::{Arrangement, Contents};
use super::assign::{Worth, best, best_few};
use super::candidate::{Candidate, Painted, Shift};
use super::group::Group;
use super::painting::Painting;
use crate::cord::strand_name;

/// A stitch of the answer that was painted.
#[derive(Debug, Clone, PartialEq)]
pub struct Fate {
    /// Which float of the surface.
    pub float: usize,
    /// Its strand.
    pub strand: usize,
    /// The middle of its painted cells: share of a round and mm, as on the cord that
    /// was painted.
    pub middle: [f64; 2],
    /// The colour that most of it was painted.
    pub wanted: u8,
    /// The colour of its strand.
    pub shown: u8,
    /// How many cells were painted.
    pub cells: usize,
}

impl Fate {
    /// Whether it shows what was wanted.
    pub fn agrees(&self) -> bool {
        self.wanted == self.shown
    }
}

/// An arrangement that a cord can show, and how well it agrees with a painting.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Which of the candidates.
    pub candidate: usize,
    /// Its colours.
    pub arrangement: Arrangement,
    /// How the painting is moved onto it: share of a round, and mm of its height.
    pub shift: [f64; 2],
    /// Share of the painted area that agrees.
    pub share: f64,
    /// The painted stitches, by height and then round.
    pub stitches: Vec<Fate>,
}

/// What is asked of a painting.
#[derive(Debug)]
pub struct Asked<'a> {
    /// The picture.
    pub painting: &'a Painting,
    /// How many strands of each colour.
    pub contents: &'a Contents,
    /// The arrangement now: of equals the one that changes fewest strands is taken.
    pub now: Option<&'a Arrangement>,
    /// How many answers at most.
    pub few: usize,
}

/// Worth of a cell, more than all strands that stay as they are.
const CELL: i64 = 256;
/// Tries for another answer at the best place that only repeat a look.
const TRIES: usize = 24;

/// The answers of the candidates, each with the group of its looks, best first; no two
/// of one candidate that look the same. None if nothing is painted.
pub fn answers(asked: &Asked<'_>, candidates: &[(&Candidate, &Group)]) -> Vec<Answer> {
    let painted = Painted::of(asked.painting);
    if painted.cells.is_empty() {
        return Vec::new();
    }
    let mut found: Vec<Found> = candidates
        .par_iter()
        .enumerate()
        .flat_map_iter(|(which, &(candidate, group))| {
            of_candidate(asked, &painted, which, candidate, group)
        })
        .collect();
    found.sort_by(|a, b| {
        b.worth
            .cmp(&a.worth)
            .then_with(|| a.order().cmp(&b.order()))
    });
    found.truncate(asked.few);
    let answer = |one: Found| {
        let (candidate, _) = candidates[one.candidate];
        one.answer(asked.painting, &painted, candidate)
    };
    found.into_iter().map(answer).collect()
}

/// An answer with what it is worth.
struct Found {
    worth: i64,
    candidate: usize,
    place: usize,
    shift: Shift,
    arrangement: Arrangement,
}

fn of_candidate(
    asked: &Asked<'_>,
    painted: &Painted,
    which: usize,
    candidate: &Candidate,
    group: &Group,
) -> Vec<Found> {
    let shifts = candidate.shifts(asked.painting.anchor());
    let worths: Vec<Worth> = shifts
        .par_iter()
        .map(|&shift| asked.worth(candidate, painted, shift))
        .collect();
    let bests = worths
        .par_iter()
        .map(|worth| best(worth, asked.contents))
        .collect::<Vec<_>>();
    let sum = |place: &usize| bests[*place].as_ref().map(|one| one.0);
    // Of equals the first: the painting as it lies.
    let Some(first) = (0..shifts.len()).rev().max_by_key(sum) else {
        return Vec::new();
    };
    let mut met = BTreeSet::new();
    let at_first = best_few(&worths[first], asked.contents, asked.few, TRIES, |one| {
        met.insert(group.least(one))
    });
    let mut all: Vec<(i64, usize, Arrangement)> = Vec::new();
    for (place, one) in bests.into_iter().enumerate() {
        all.extend(one.map(|(sum, arrangement)| (sum, place, arrangement)));
    }
    all.extend(
        at_first
            .into_iter()
            .map(|(sum, arrangement)| (sum, first, arrangement)),
    );
    all.sort_by(|a, b| {
        b.0.cmp(&a.0)
            .then_with(|| (a.1 != first).cmp(&(b.1 != first)))
            .then_with(|| a.1.cmp(&b.1))
    });
    let mut met = BTreeSet::new();
    all.retain(|(_, _, arrangement)| met.insert(group.least(arrangement)));
    all.truncate(asked.few);
    let found = |(worth, place, arrangement)| Found {
        worth,
        candidate: which,
        place,
        shift: shifts[place],
        arrangement,
    };
    all.into_iter().map(found).collect()
}

impl Asked<'_> {
    /// Worth of every strand in every colour, staying as it is a little besides.
    fn worth(&self, candidate: &Candidate, painted: &Painted, shift: Shift) -> Worth {
        let mut worth = candidate.worth(painted, shift, self.contents.colours());
        for (strand, of) in worth.iter_mut().enumerate() {
            for cells in of.iter_mut() {
                *cells *= CELL;
            }
            let now = self.now.and_then(|now| now.0.get(strand));
            if let Some(cells) = now.and_then(|&colour| of.get_mut(usize::from(colour))) {
                *cells += 1;
            }
        }
        worth
    }
}

impl Found {
    fn order(&self) -> (usize, usize, &Arrangement) {
        (self.candidate, self.place, &self.arrangement)
    }

    fn answer(self, painting: &Painting, painted: &Painted, candidate: &Candidate) -> Answer {
        let agree = self.worth / CELL;
        let stitches = self.fates(painting, candidate);
        Answer {
            candidate: self.candidate,
            arrangement: self.arrangement,
            shift: self.shift,
            share: agree as f64 / painted.cells.len() as f64,
            stitches,
        }
    }

    fn fates(&self, painting: &Painting, candidate: &Candidate) -> Vec<Fate> {
        let [across, up] = painting.size();
        let mut cells: BTreeMap<(i64, usize), Vec<(usize, usize)>> = BTreeMap::new();
        for (y, x) in (0..up).flat_map(|y| (0..across).map(move |x| (y, x))) {
            if painting.cell(x, y).is_some()
                && let Some((float, level)) = candidate.copy_at(painting.place(x, y), self.shift)
            {
                cells.entry((level, float)).or_default().push((x, y));
            }
        }
        let fate = |(&(_, float), cells): (&(i64, usize), &Vec<(usize, usize)>)| {
            let strand = candidate.strand(float);
            Some(Fate {
                float,
                strand,
                middle: middle(cells, painting),
                wanted: wanted(cells, painting)?,
                shown: *self.arrangement.0.get(strand)?,
                cells: cells.len(),
            })
        };
        let mut fates: Vec<Fate> = cells.iter().filter_map(fate).collect();
        let most = fates.iter().map(|fate| fate.cells).max().unwrap_or(0);
        // Slivers at the edge of what was painted are not what was meant.
        fates.retain(|fate| SLIVER * fate.cells > most);
        fates.sort_by(|a, b| {
            a.middle[1]
                .total_cmp(&b.middle[1])
                .then(a.middle[0].total_cmp(&b.middle[0]))
        });
        fates
    }
}

/// So many times fewer cells than the most of any stitch are no stitch.
const SLIVER: usize = 8;

/// The colour of most cells, of equals the first.
fn wanted(cells: &[(usize, usize)], painting: &Painting) -> Option<u8> {
    let mut counts: BTreeMap<u8, usize> = BTreeMap::new();
    for &(x, y) in cells {
        if let Some(colour) = painting.cell(x, y) {
            *counts.entry(colour).or_default() += 1;
        }
    }
    let most = counts.iter().rev().max_by_key(|(_, count)| **count);
    most.map(|(&colour, _)| colour)
}

/// The middle of cells that may lie across the seam.
fn middle(cells: &[(usize, usize)], painting: &Painting) -> [f64; 2] {
    let count = cells.len() as f64;
    let first = painting.middle(cells[0].0, cells[0].1)[0];
    let mut sum = [0.0; 2];
    for &(x, y) in cells {
        let [share, mm] = painting.middle(x, y);
        let off = share - first;
        sum[0] += first + off - off.round();
        sum[1] += mm;
    }
    [(sum[0] / count).rem_euclid(1.0), sum[1] / count]
}

impl Answer {
    /// How many painted stitches are as they were wanted, of how many.
    pub fn stitches_that_agree(&self) -> (usize, usize) {
        let agree = self.stitches.iter().filter(|fate| fate.agrees()).count();
        (agree, self.stitches.len())
    }

    /// Why a stitch is not as it was wanted, in a sentence or two; `names` are those of
    /// the colours. None if it is, or there is no such stitch.
    pub fn why_not(
        &self,
        stitch: usize,
        candidate: &Candidate,
        names: &[String],
    ) -> Option<String> {
        let fate = self.stitches.get(stitch).filter(|fate| !fate.agrees())?;
        let strand = strand_name(fate.strand);
        let name = |colour: u8| {
            names
                .get(usize::from(colour))
                .map_or("that", String::as_str)
        };
        let shows = match candidate.shows(fate.strand) {
            1 => "once".to_owned(),
            2 => "twice".to_owned(),
            times => format!("{times} times"),
        };
        let of_strand = || {
            self.stitches
                .iter()
                .filter(|other| other.strand == fate.strand)
        };
        let loses = of_strand().filter(|other| other.agrees()).count();
        let wins = of_strand()
            .filter(|other| other.wanted == fate.wanted)
            .count();
        let wanted = name(fate.wanted);
        Some(format!(
            "Strand {strand} shows {shows} in a repeat. To turn this stitch {wanted}, {strand} must be \
             {wanted} everywhere: {} would be right that {} not, and {} wrong that {} right.",
            stitches(wins),
            is(wins),
            stitches(loses),
            is(loses),
        ))
    }

    /// The same for the whole, of the strand that most is missed of.
    pub fn why_not_all(&self, candidate: &Candidate, names: &[String]) -> Option<String> {
        let missed = |which: &usize| !self.stitches[*which].agrees();
        let all: Vec<usize> = (0..self.stitches.len()).filter(missed).collect();
        let of_strand = |which: &usize| {
            let strand = self.stitches[*which].strand;
            all.iter()
                .filter(|&&other| self.stitches[other].strand == strand)
                .count()
        };
        let worst = all.iter().rev().max_by_key(|which| of_strand(which))?;
        self.why_not(*worst, candidate, names)
    }
}

fn stitches(number: usize) -> String {
    match number {
        0 => "no stitch".to_owned(),
        1 => "one stitch".to_owned(),
        more => format!("{more} stitches"),
    }
}

fn is(number: usize) -> &'static str {
    if number == 1 { "is" } else { "are" }
}
