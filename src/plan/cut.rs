//! What to cut: kind by kind, each length with what it is made up of.
//!
//! A strand is as long as what comes to lie in the cord (rested length × take-up),
//! what the start uses up and the tail that cannot be braided: out to the slot and
//! into the hand. Off the weight the cord shortens and its strands with it, so the
//! shortening is in the take-up and is not added again. A core is not interlaced: it
//! runs as straight as the cord on the disc is long, and nothing carries it to a slot.
//!
//! Knows no prices and no shelf.

use super::chain::{Chain, Link};
use super::fold::Folding;
use super::run::Run;
use super::workshop::{Cutting, Table};
use super::{End, Job};
use crate::material::{Construction, Fibre, Strand};
use crate::quantity::{Estimate, propagated};

/// How unevenly hands cut, tie and hold, as a share of the length. Our guess.
const UNEVEN_HANDS: f64 = 0.2;
/// Strands of one make whose take-ups differ by less than this share are cut alike: the
/// figure itself is known less well. Our guess.
const NEARLY_ALIKE: f64 = 0.02;
/// The everyday rule: so many times the finished cord.
const RULE_OF_THUMB: f64 = 3.0;
/// Length of a seed bead along its hole over its diameter. Common practice, no
/// source: it gives 118, 35 and 15 beads to the gram in 11/0, 8/0 and 6/0, where 110
/// to 120, 36 to 40 and 13 to 15 are usual.
const BEAD_LENGTH: f64 = 0.75;

/// Lengths that are cut alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// The cord it is for, counted from 0 in the list.
    pub run: usize,
    /// What a strand of them is made of.
    pub makes: Strand,
    /// The strands, each a group of one, or of the two that a folded length makes. From
    /// the count of strands on they are cores.
    pub strands: Vec<Vec<usize>>,
    /// How many lengths are cut, all ends and all cords counted.
    pub count: u32,
    /// One length, mm, rounded up to the maker's mark.
    pub length: f64,
    /// What of one length comes to lie in the cord, mm.
    pub braided: f64,
    /// Beads on one length of a strand of strung beads, for the part that may come to
    /// lie in the cord; none of any other.
    pub beads: Option<u32>,
    /// How it comes about, for one strand; its total before the reserve and rounding.
    pub chain: Chain,
    /// Kept in hand so that it is long enough as surely as wished, mm a strand.
    pub reserve: f64,
    /// Left over for sure at the end of a strand, mm: what cannot be braided.
    pub left_over: f64,
    /// What the everyday rule, three times the finished length, would cut, mm.
    pub rule_of_thumb: f64,
}

/// The whole list.
#[derive(Debug, Clone, PartialEq)]
pub struct CutList {
    /// The cords, the piece itself first, then its further sizes.
    pub runs: Vec<Run>,
    /// Cord by cord, longest first.
    pub cuts: Vec<Cut>,
    /// How sure every strand is to be long enough. Strands of one cord are long enough
    /// or short together, so it is meant of all of them.
    pub sure: f64,
    /// Length of all that is cut, m.
    pub metres: f64,
    /// What the everyday rule would cut more, m; below nought it would have been short.
    pub saved: f64,
    /// Strands that the everyday rule would have left too short, with by how much, mm.
    pub rule_short_by: Option<f64>,
    /// Cord that is braided, on the disc, mm; of the piece itself.
    pub on_disc: Estimate,
    /// Moves to make; for the piece itself.
    pub moves: Estimate,
    /// What was done otherwise than wished, and why, one sentence each.
    pub notes: Vec<String>,
}

impl Cut {
    /// Whether it is a core and no strand that is moved.
    pub fn is_core(&self, strands: usize) -> bool {
        self.strands
            .iter()
            .flatten()
            .all(|&strand| strand >= strands)
    }

    /// Whether one length makes two strands.
    pub fn is_folded(&self) -> bool {
        self.strands.first().is_some_and(|group| group.len() == 2)
    }

    /// One strand of it as cut, mm.
    pub fn strand_length(&self) -> f64 {
        if self.is_folded() {
            return 0.5 * self.length;
        }
        self.length
    }

    /// How many lengths of one of the fibres held together are cut; `part` counts from 0.
    pub fn count_of(&self, part: usize) -> u32 {
        let all: usize = self.makes.ends().max(1);
        let ends = self.makes.parts.get(part).map_or(0, |part| part.ends);
        self.count / u32::try_from(all).unwrap_or(u32::MAX) * u32::from(ends)
    }
}

/// Length along the hole of a bead of a string of them, mm; none of other fibres.
pub fn bead_length(fibre: &Fibre) -> Option<f64> {
    let is_beads = fibre.construction == Construction::StrungBeads;
    is_beads.then_some(BEAD_LENGTH * fibre.diameter.value)
}

/// The list for these cords.
pub(super) fn cut_list(job: &Job<'_>, runs: &[Run]) -> CutList {
    let folding = Folding::of(job);
    let mut cuts = Vec::new();
    for (number, run) in runs.iter().enumerate() {
        let bench = Bench { job, run };
        let groups = folding.groups.iter();
        let mut lengths: Vec<Length> = groups.map(|group| bench.length(group)).collect();
        bench.even_out(&mut lengths);
        // Stable, so that what is as long stays in the order of the slots.
        lengths.sort_by(|a, b| b.needed().total_cmp(&a.needed()));
        for alike in alike(&bench, &lengths) {
            cuts.push(bench.cut(number, &alike));
        }
    }
    summed(job, runs, cuts, folding.notes)
}

fn summed(job: &Job<'_>, runs: &[Run], cuts: Vec<Cut>, notes: Vec<String>) -> CutList {
    let metres = |length: fn(&Cut) -> f64| -> f64 {
        let all = cuts.iter().map(|cut| f64::from(cut.count) * length(cut));
        all.sum::<f64>() / 1000.0
    };
    let short = |cut: &Cut| {
        let strands = if cut.is_folded() { 2.0 } else { 1.0 };
        cut.chain.total.value - cut.rule_of_thumb / strands
    };
    let shortest = cuts.iter().map(short).fold(0.0, f64::max);
    let first = runs.first();
    CutList {
        sure: job.workshop.cutting.sure,
        metres: metres(|cut| cut.length),
        saved: metres(|cut| cut.rule_of_thumb - cut.length),
        rule_short_by: (shortest > 0.0).then_some(shortest),
        on_disc: first.map_or(Estimate::exact(0.0), |run| run.on_disc),
        moves: first.map_or(Estimate::exact(0.0), |run| run.moves),
        runs: runs.to_vec(),
        cuts,
        notes,
    }
}

/// A group with what one strand of it needs.
struct Length {
    group: Vec<usize>,
    /// The larger of its take-ups.
    take_up: f64,
    chain: Chain,
    /// One strand, as surely as wished.
    strand: f64,
}

impl Length {
    fn needed(&self) -> f64 {
        self.strand * self.group.len() as f64
    }
}

/// Lengths of one make that are cut at the same mark, together; longest first.
fn alike<'a>(bench: &Bench<'_>, lengths: &'a [Length]) -> Vec<Vec<&'a Length>> {
    let mut all: Vec<Vec<&Length>> = Vec::new();
    let mark = bench.cutting().mark;
    let cut = |length: &Length| whole_marks(length.needed(), mark);
    for length in lengths {
        let fits = |others: &&mut Vec<&Length>| {
            let first = others[0];
            bench.makes(first) == bench.makes(length)
                && first.group.len() == length.group.len()
                && cut(first) == cut(length)
        };
        match all.iter_mut().find(fits) {
            Some(others) => others.push(length),
            None => all.push(vec![length]),
        }
    }
    all
}

/// One cord on the cutting table.
pub(super) struct Bench<'a> {
    pub job: &'a Job<'a>,
    pub run: &'a Run,
}

/// What a strand gives beside what lies in the cord, mm.
pub(super) struct Uses {
    /// To the start.
    pub start: Estimate,
    /// To what cannot be braided.
    pub reach: Estimate,
    /// To a tassel at the end beyond that.
    pub tassel: Estimate,
}

impl Bench<'_> {
    fn cutting(&self) -> &Cutting {
        &self.job.workshop.cutting
    }

    fn is_core(&self, strand: usize) -> bool {
        strand >= self.job.strands.len()
    }

    fn makes(&self, length: &Length) -> Option<&Strand> {
        let strand = *length.group.first()?;
        let core = strand.checked_sub(self.job.strands.len());
        core.map_or_else(|| self.job.strands.get(strand), |c| self.job.cores.get(c))
    }

    /// What of a strand comes to lie in the cord, mm.
    fn braided(&self, strand: usize) -> Estimate {
        if self.is_core(strand) {
            return self.run.on_disc;
        }
        product(self.run.rested, self.take_up(strand))
    }

    /// Of a core 1: it runs straight.
    pub(super) fn take_up(&self, strand: usize) -> Estimate {
        let take_up = self.job.figures.take_up.get(strand).copied();
        take_up.unwrap_or(Estimate::exact(1.0))
    }

    /// Strands of one make that eat nearly alike get the longest length among them. Told
    /// by take-up and not by length, so that a longer cord never cuts one of them shorter.
    fn even_out(&self, lengths: &mut [Length]) {
        let mut order: Vec<usize> = (0..lengths.len()).collect();
        order.sort_by(|&a, &b| lengths[b].take_up.total_cmp(&lengths[a].take_up));
        let mut kinds: Vec<Vec<usize>> = Vec::new();
        for at in order {
            let is_kin = |kind: &&mut Vec<usize>| {
                let (first, this) = (&lengths[kind[0]], &lengths[at]);
                self.makes(first) == self.makes(this)
                    && first.group.len() == this.group.len()
                    && this.take_up >= first.take_up * (1.0 - NEARLY_ALIKE)
            };
            match kinds.iter_mut().find(is_kin) {
                Some(kind) => kind.push(at),
                None => kinds.push(vec![at]),
            }
        }
        for kind in kinds {
            let longest = kind.iter().map(|&at| &lengths[at]);
            let longest = longest.max_by(|a, b| a.strand.total_cmp(&b.strand));
            let Some((strand, chain)) = longest.map(|l| (l.strand, l.chain.clone())) else {
                continue;
            };
            for at in kind {
                lengths[at].strand = strand;
                lengths[at].chain = chain.clone();
            }
        }
    }

    fn length(&self, group: &[usize]) -> Length {
        let chains = group.iter().map(|&s| self.chain(s, group.len() == 2));
        let sure = self.cutting().sure;
        let longest = chains.max_by(|a, b| a.total.at_most(sure).total_cmp(&b.total.at_most(sure)));
        let chain = longest.unwrap_or_else(|| chained(Vec::new()));
        Length {
            group: group.to_vec(),
            take_up: group
                .iter()
                .map(|&s| self.take_up(s).value)
                .fold(0.0, f64::max),
            strand: chain.total.at_most(sure),
            chain,
        }
    }

    /// What one strand needs, step by step.
    fn chain(&self, strand: usize, is_folded: bool) -> Chain {
        let mut links = vec![self.in_the_cord(strand)];
        links.extend(self.start(is_folded));
        links.extend(self.tail(strand));
        chained(links)
    }

    /// What a strand gives to the start and to its end.
    pub(super) fn uses(&self, strand: usize, is_folded: bool) -> Uses {
        Uses {
            start: chained(self.start(is_folded)).total,
            reach: chained(self.reach(strand)).total,
            tassel: chained(self.last_tassel(strand).into_iter().collect()).total,
        }
    }

    fn in_the_cord(&self, strand: usize) -> Link {
        let adds = self.braided(strand);
        if self.is_core(strand) {
            return Link {
                name: "up the middle".into(),
                adds,
                reason: "a core runs straight, as long as the cord on the disc".into(),
            };
        }
        let take_up = self.take_up(strand).ratio();
        Link {
            name: "in the cord".into(),
            adds,
            reason: format!("the rested cord × its take-up of {take_up}"),
        }
    }

    /// What the start uses up.
    fn start(&self, is_folded: bool) -> Vec<Link> {
        if is_folded {
            return vec![Link {
                name: "start".into(),
                adds: Estimate::exact(0.0),
                reason: "the fold is the start".into(),
            }];
        }
        let mut links = vec![Link {
            name: "start".into(),
            adds: by_hand(self.cutting().start),
            reason: "knot and tail at the start".into(),
        }];
        links.extend(tassel(self.job.piece.ends[0], self.cutting().start));
        links
    }

    /// What is left when the strand no longer reaches.
    fn tail(&self, strand: usize) -> Vec<Link> {
        let mut links = self.reach(strand);
        links.extend(self.last_tassel(strand));
        links
    }

    /// How far out it must reach, mm, and the name of that.
    fn out(&self, strand: usize) -> (f64, &'static str) {
        match self.job.workshop.table {
            _ if self.is_core(strand) => (0.0, ""),
            Table::Disc { radius } => (radius, "out to the slot"),
            Table::Stand { reach } => (reach, "out to the bobbin"),
        }
    }

    fn last_tassel(&self, strand: usize) -> Option<Link> {
        let there = self.out(strand).0 + self.cutting().hand;
        tassel(self.job.piece.ends[1], there)
    }

    fn reach(&self, strand: usize) -> Vec<Link> {
        let hand = self.cutting().hand;
        let (reach, name) = self.out(strand);
        let mut links = Vec::new();
        if reach > 0.0 {
            links.push(Link {
                name: name.into(),
                adds: Estimate::exact(reach),
                reason: "cannot be braided".into(),
            });
        }
        links.push(Link {
            name: "in the hand".into(),
            adds: by_hand(hand),
            reason: "cannot be braided".into(),
        });
        links
    }

    fn cut(&self, run: usize, alike: &[&Length]) -> Cut {
        let longest = alike[0];
        let (strands, mark) = (longest.group.len() as f64, self.cutting().mark);
        let makes = self.makes(longest).cloned();
        let makes = makes.unwrap_or(Strand { parts: Vec::new() });
        let braided = longest.chain.links.first().map_or(0.0, |l| l.adds.value);
        let reserve = longest.strand - longest.chain.total.value;
        let count = alike.len() * makes.ends() * self.run.cords as usize;
        let mut strands_of: Vec<Vec<usize>> = alike.iter().map(|l| l.group.clone()).collect();
        strands_of.sort_unstable();
        Cut {
            run,
            strands: strands_of,
            count: u32::try_from(count).unwrap_or(u32::MAX),
            length: whole_marks(longest.needed(), mark),
            braided: braided * strands,
            beads: self.beads(&makes, (braided + reserve) * strands),
            reserve,
            left_over: self.left_over(longest.group[0]),
            rule_of_thumb: RULE_OF_THUMB * self.run.rested.value * strands,
            chain: longest.chain.clone(),
            makes,
        }
    }

    /// Beads on a length of a strand, if its first fibre is a string of them.
    fn beads(&self, makes: &Strand, length: f64) -> Option<u32> {
        let name = &makes.parts.first()?.fibre;
        let fibre = self.job.fibres.iter().find(|fibre| fibre.name == *name)?;
        Some((length / bead_length(fibre)?).ceil() as u32)
    }

    fn left_over(&self, strand: usize) -> f64 {
        let tail = self.tail(strand);
        let all: f64 = tail.iter().map(|link| link.adds.value).sum();
        match self.job.piece.ends[1] {
            End::Tassel { length } => (all - length).max(0.0),
            _ => all,
        }
    }
}

/// Whole marks of a rule that hold it, mm; what lies on a mark stays there.
fn whole_marks(length: f64, mark: f64) -> f64 {
    (length / mark - 1e-9).ceil() * mark
}

/// What a tassel asks for beyond what is there anyway.
fn tassel(end: End, there: f64) -> Option<Link> {
    let End::Tassel { length } = end else {
        return None;
    };
    (length > there).then(|| Link {
        name: "tassel".into(),
        adds: by_hand(length - there),
        reason: "beyond what is left over anyway".into(),
    })
}

fn by_hand(length: f64) -> Estimate {
    Estimate {
        value: length,
        low: length * (1.0 - UNEVEN_HANDS),
        high: length * (1.0 + UNEVEN_HANDS),
    }
}

/// The product of two figures that know nothing of one another.
pub(super) fn product(one: Estimate, other: Estimate) -> Estimate {
    propagated(&[one, other], |x| x[0] * x[1])
}

/// The steps and what they come to; none knows anything of another.
pub(super) fn chained(links: Vec<Link>) -> Chain {
    let adds: Vec<Estimate> = links.iter().map(|link| link.adds).collect();
    let total = propagated(&adds, |x| x.iter().sum());
    Chain { links, total }
}

#[cfg(test)]
mod tests;
