//! How many looks there are, exactly.
//!
//! A change of strands leaves an arrangement alone if every ring in which it
//! hands parts on is of one colour; if colours change places too, a ring may go
//! through colours in turn. The mean over all changes of how many arrangements
//! each leaves alone is the number of looks.
//!
//! # Source
//!
//! The lemma of Cauchy, Frobenius and Burnside, with the counts of each colour
//! kept apart as in G. Pólya, *Acta Mathematica* 68 (1937).

use std::collections::BTreeMap;

use num_bigint::BigUint;
use num_traits::{One, Zero};

use super::arrangement::{Choice, Contents};
use super::group::Group;
use super::listing::Free;

/// Number of looks: arrangements of which none becomes another by a member of
/// the group, nor by the colours' changing places if they may.
///
/// None if fixed counts do not add up to the number of strands.
pub fn count(group: &Group, choice: &Choice) -> BigUint {
    let exchanges = exchanges(choice);
    let mut sum = BigUint::zero();
    for (rings, members) in group.cycle_index() {
        for (bins, times) in &exchanges {
            let left_alone = Fillings::of(rings.clone()).count(bins);
            sum += left_alone * members.len() * times;
        }
    }
    let all: BigUint = exchanges.iter().map(|(_, times)| times).sum();
    sum / (all * group.order())
}

/// Number of looks where some strands keep a colour, as `kept` says for each, and the
/// others have the rest: exact if every member of the group leaves the kept ones as they
/// are, as when they are [labelled](Group::keeping) by what they keep; none if one does
/// not.
pub fn count_beside(group: &Group, choice: &Choice, kept: &[Option<u8>]) -> Option<BigUint> {
    let is_free = |&strand: &usize| kept.get(strand).copied().flatten().is_none();
    let strands: Vec<usize> = (0..group.strands()).filter(is_free).collect();
    if strands.len() == group.strands() {
        return Some(count(group, choice));
    }
    let beside = Choice {
        contents: Free::new(group.strands(), choice, kept).left()?,
        colours_change_places: false,
    };
    Some(count(&group.among(&strands).ok()?, &beside))
}

/// Number of arrangements, whether they look alike or not.
pub fn arrangements(strands: usize, choice: &Choice) -> BigUint {
    Fillings::of(vec![1; strands]).count(&bins(choice))
}

/// Colours that a change of colours hands on in a ring.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Bin {
    /// How many colours are in the ring.
    pub(super) colours: usize,
    /// How many strands each of them still needs; none if any number will do.
    pub(super) left: Option<usize>,
}

/// The colours as bins of their own, sorted.
pub(super) fn bins(choice: &Choice) -> Vec<Bin> {
    let mut bins: Vec<Bin> = match &choice.contents {
        Contents::Counts(counts) => counts
            .iter()
            .map(|&count| Bin::of(1, Some(count)))
            .collect(),
        Contents::UpTo(colours) => vec![Bin::of(1, None); *colours],
    };
    bins.sort();
    bins
}

impl Bin {
    fn of(colours: usize, left: Option<usize>) -> Self {
        Self { colours, left }
    }

    /// The bin after a ring of strands has gone into it; none if it cannot.
    pub(super) fn after(self, ring: usize) -> Option<Self> {
        if !ring.is_multiple_of(self.colours) {
            return None;
        }
        let Some(left) = self.left else {
            return Some(self);
        };
        let left = left.checked_sub(ring / self.colours)?;
        Some(Self::of(self.colours, Some(left)))
    }
}

/// In how many ways rings go into bins.
#[derive(Debug)]
pub(super) struct Fillings {
    /// Lengths, longest first.
    rings: Vec<usize>,
    known: BTreeMap<(usize, Vec<Bin>), BigUint>,
}

impl Fillings {
    pub(super) fn of(rings: Vec<usize>) -> Self {
        let known = BTreeMap::new();
        Self { rings, known }
    }

    /// The number of ways; `bins` sorted.
    pub(super) fn count(&mut self, bins: &[Bin]) -> BigUint {
        self.count_from(0, bins)
    }

    /// The same for the rings from `first` on.
    pub(super) fn count_from(&mut self, first: usize, bins: &[Bin]) -> BigUint {
        let Some(&ring) = self.rings.get(first) else {
            let is_full = bins.iter().all(|bin| bin.left.unwrap_or(0) == 0);
            return BigUint::from(u8::from(is_full));
        };
        let key = (first, bins.to_vec());
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        let mut sum = BigUint::zero();
        for (which, times) in different(bins) {
            if let Some(after) = bins[which].after(ring) {
                // The ring may begin with any colour of the bin.
                let ways = times * bins[which].colours;
                sum += self.count_from(first + 1, &with(bins, which, after)) * ways;
            }
        }
        self.known.insert(key, sum.clone());
        sum
    }
}

/// The first of every run of equal bins, and how many there are.
fn different(bins: &[Bin]) -> Vec<(usize, usize)> {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for (which, bin) in bins.iter().enumerate() {
        match runs.last_mut() {
            Some((first, times)) if bins[*first] == *bin => *times += 1,
            _ => runs.push((which, 1)),
        }
    }
    runs
}

/// The bins with one changed, sorted again.
pub(super) fn with(bins: &[Bin], which: usize, bin: Bin) -> Vec<Bin> {
    let mut bins = bins.to_vec();
    bins[which] = bin;
    bins.sort();
    bins
}

/// All changes of colours by the bins they make, and how often each comes.
fn exchanges(choice: &Choice) -> Vec<(Vec<Bin>, BigUint)> {
    let mut all = vec![(Vec::new(), BigUint::one())];
    for (colours, left) in classes_of_equals(choice) {
        let mut next = Vec::new();
        for parts in partitions(colours, colours) {
            let times = changes_with_rings(colours, &parts);
            for (bins, before) in &all {
                let mut bins: Vec<Bin> = bins.clone();
                bins.extend(parts.iter().map(|&part| Bin::of(part, left)));
                bins.sort();
                next.push((bins, before * &times));
            }
        }
        all = next;
    }
    all
}

/// How many colours change places with each other, and how many strands each
/// needs.
fn classes_of_equals(choice: &Choice) -> Vec<(usize, Option<usize>)> {
    let classes = choice.classes();
    let mut sizes: BTreeMap<usize, (usize, Option<usize>)> = BTreeMap::new();
    for (colour, &class) in classes.iter().enumerate() {
        let left = match &choice.contents {
            Contents::Counts(counts) => Some(counts[colour]),
            Contents::UpTo(_) => None,
        };
        sizes.entry(class).or_insert((0, left)).0 += 1;
    }
    sizes.into_values().collect()
}

/// All ways to write a number as a sum, parts falling from at most `most`.
fn partitions(number: usize, most: usize) -> Vec<Vec<usize>> {
    if number == 0 {
        return vec![Vec::new()];
    }
    let firsts = (1..=number.min(most)).rev();
    let with_first = |first: usize| {
        let rest = partitions(number - first, first).into_iter();
        rest.map(move |rest| [vec![first], rest].concat())
    };
    firsts.flat_map(with_first).collect()
}

/// How many changes of so many things hand them on in rings of these lengths.
fn changes_with_rings(things: usize, rings: &[usize]) -> BigUint {
    let factorial = |n: usize| (1..=n).map(BigUint::from).product::<BigUint>();
    let mut same: BTreeMap<usize, usize> = BTreeMap::new();
    for &ring in rings {
        *same.entry(ring).or_default() += 1;
    }
    let alike = same.iter().map(|(&ring, &times)| {
        let power = u32::try_from(times).expect("no more rings than colours");
        BigUint::from(ring).pow(power) * factorial(times)
    });
    factorial(things) / alike.product::<BigUint>()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::super::group::tests::{cyclic, dihedral};
    use super::*;
    use crate::pattern::{Alike, Arrangement};
    use crate::structure::{Braid, shelf};

    fn big(text: &str) -> BigUint {
        text.parse().unwrap()
    }

    // Necklaces and bracelets of up to two, three and four colours: OEIS A000031
    // and A000029; A001867, A027671, A001868 and A032275 (these from memory, all
    // worked anew from the formula).
    #[test]
    fn rings_of_beads_are_counted_as_in_the_tables() {
        for (n, necklaces, bracelets) in [
            (3, [4, 11, 24], [4, 10, 20]),
            (4, [6, 24, 70], [6, 21, 55]),
            (5, [8, 51, 208], [8, 39, 136]),
            (6, [14, 130, 700], [13, 92, 430]),
            (7, [20, 315, 2344], [18, 198, 1300]),
            (8, [36, 834, 8230], [30, 498, 4435]),
            (10, [108, 5934, 104_968], [78, 3210, 53_764]),
            (12, [352, 44_368, 1_398_500], [224, 22_913, 704_370]),
            (
                16,
                [4116, 2_690_844, 268_439_590],
                [2250, 1_351_983, 134_301_715],
            ),
        ] {
            for (which, colours) in [2, 3, 4].into_iter().enumerate() {
                let choice = Choice::up_to(colours);
                let turned = count(&cyclic(n), &choice);
                assert_eq!(
                    turned,
                    BigUint::from(necklaces[which] as u32),
                    "{n} {colours}"
                );
                let over = count(&dihedral(n), &choice);
                assert_eq!(
                    over,
                    BigUint::from(bracelets[which] as u32),
                    "{n} {colours}"
                );
            }
        }
    }

    // Beyond 2⁵³: no float arithmetic gets these.
    #[test]
    fn a_ring_of_thirty_two_is_counted_to_the_last_digit() {
        let of = |group: &Group, colours| count(group, &Choice::up_to(colours));
        assert_eq!(of(&cyclic(32), 4), big("576460752437645350"));
        assert_eq!(of(&dihedral(32), 4), big("288230381587531795"));
        assert_eq!(of(&dihedral(32), 2), big("67159050"));
        assert_eq!(of(&cyclic(24), 3), big("11767920118"));
    }

    // OEIS A047996 and A052307 by rows; worked anew from the formula.
    #[test]
    fn rings_with_so_many_dark_beads_are_counted_as_in_the_tables() {
        for (n, necklaces, bracelets) in [
            (
                8,
                vec![1, 1, 4, 7, 10, 7, 4, 1, 1],
                vec![1, 1, 4, 5, 8, 5, 4, 1, 1],
            ),
            (
                16,
                vec![1, 1, 8, 35, 116, 273, 504, 715, 810, 715],
                vec![1, 1, 8, 21, 72, 147, 280, 375, 440, 375],
            ),
        ] {
            for (dark, (&necklace, &bracelet)) in necklaces.iter().zip(&bracelets).enumerate() {
                let choice = Choice::counts(&[dark, n - dark]);
                assert_eq!(count(&cyclic(n), &choice), BigUint::from(necklace as u32));
                assert_eq!(count(&dihedral(n), &choice), BigUint::from(bracelet as u32));
            }
        }
    }

    // Worked from the formula and by trying all.
    #[test]
    fn necklaces_of_fixed_contents_are_counted_as_in_the_table() {
        for (counts, expected) in [
            (vec![4, 4], 10_u32),
            (vec![4, 2, 2], 54),
            (vec![2, 2, 2, 2], 318),
            (vec![4, 4, 4], 2896),
            (vec![8, 8], 810),
            (vec![8, 4, 4], 56_334),
            (vec![4, 4, 4, 4], 3_941_598),
        ] {
            let ring = cyclic(counts.iter().sum());
            assert_eq!(
                count(&ring, &Choice::counts(&counts)),
                BigUint::from(expected)
            );
        }
    }

    // OEIS A000013 and A000011.
    #[test]
    fn colours_that_change_places_leave_fewer_rings() {
        for (n, necklaces, bracelets) in [(4, 4_u32, 4_u32), (8, 20, 18), (12, 180, 122)] {
            let choice = Choice::up_to(2).changing_places();
            assert_eq!(count(&cyclic(n), &choice), BigUint::from(necklaces));
            assert_eq!(count(&dihedral(n), &choice), BigUint::from(bracelets));
        }
    }

    #[test]
    fn thirty_two_strands_all_of_their_own_colour_are_counted() {
        let factorial: BigUint = (1..=31_u32).map(BigUint::from).product();
        assert_eq!(count(&cyclic(32), &Choice::counts(&[1; 32])), factorial);
        let one = count(&cyclic(32), &Choice::counts(&[1; 32]).changing_places());
        assert_eq!(one, BigUint::one());
    }

    #[test]
    fn counts_that_do_not_fill_the_strands_make_no_look() {
        assert!(count(&cyclic(8), &Choice::counts(&[4, 3])).is_zero());
        assert!(count(&cyclic(8), &Choice::counts(&[5, 4])).is_zero());
    }

    fn arrangements_of(strands: u32, colours: u8) -> impl Iterator<Item = Arrangement> {
        let arrangement = move |mut number: usize| {
            let mut digit = |_| {
                let digit = number % usize::from(colours);
                number /= usize::from(colours);
                digit as u8
            };
            Arrangement((0..strands).map(&mut digit).collect())
        };
        (0..usize::from(colours).pow(strands)).map(arrangement)
    }

    /// Every arrangement tried.
    fn by_trying(group: &Group, colours: u8, wanted: impl Fn(&[usize]) -> bool) -> usize {
        let all = arrangements_of(group.strands() as u32, colours);
        let fits = |one: &Arrangement| {
            let mut counts = one.counts();
            counts.resize(usize::from(colours), 0);
            wanted(&counts)
        };
        let least = all.filter(fits).map(|one| group.least(&one));
        least.collect::<BTreeSet<_>>().len()
    }

    #[test]
    fn counts_on_every_structure_of_the_shelf_are_those_of_trying_all() {
        for structure in shelf().iter().filter(|one| one.strands() <= 9) {
            let braid = Braid::new(&structure.moves).unwrap();
            for alike in [Alike::Turned, Alike::UpsideDown, Alike::Mirrored] {
                let group = Group::of_braid(&braid, alike).unwrap();
                let up_to = count(&group, &Choice::up_to(2));
                let tried = by_trying(&group, 2, |_| true);
                assert_eq!(up_to, BigUint::from(tried), "{}", structure.name);
                let n = structure.strands();
                let counts = vec![n / 2, n - n / 2 - 1, 1];
                let some = count(&group, &Choice::counts(&counts));
                let tried = by_trying(&group, 3, |c| c == counts.as_slice());
                assert_eq!(some, BigUint::from(tried), "{}", structure.name);
            }
        }
    }

    #[test]
    fn looks_beside_strands_that_keep_their_colour_are_those_of_trying_all() {
        let kept = [None, Some(2), None, None, None, Some(2), None, None];
        let group = dihedral(8).keeping(&kept);
        let choice = Choice::counts(&[3, 3, 2]);
        let beside = count_beside(&group, &choice, &kept).unwrap();
        let is_kept = |one: &Arrangement| [1, 5].iter().all(|&i| one.0[i] == 2);
        let all = arrangements_of(8, 3).filter(|one| one.counts() == [3, 3, 2] && is_kept(one));
        let least: BTreeSet<Arrangement> = all.map(|one| group.least(&one)).collect();
        assert_eq!(beside, BigUint::from(least.len()));
        assert!(count_beside(&dihedral(8), &choice, &kept).is_none());
        assert_eq!(
            count_beside(&group, &choice, &[]),
            Some(count(&group, &choice))
        );
    }

    #[test]
    fn arrangements_are_counted_without_a_group() {
        assert_eq!(
            arrangements(16, &Choice::counts(&[8, 8])),
            BigUint::from(12_870_u32)
        );
        assert_eq!(arrangements(5, &Choice::up_to(3)), BigUint::from(243_u32));
    }
}
