//! How fast curves round the strands grow longer, round for round.
//!
//! Where strands interlace, a curve carried along grows by the same factor in
//! every round, the *stretch*; its natural logarithm is the *entropy*. Where they
//! only twist it grows by the same length.
//!
//! # Source
//!
//! J.-L. Thiffeault and M. D. Finn, *Topology, braids and mixing in fluids*, Phil.
//! Trans. R. Soc. A 364 (2006) 3251, for growth as a measure; the least growth
//! there can be, R. C. Penner, *Bounds on least dilatations*, Proc. AMS 113 (1991)
//! 443: entropy at least log 2 / (4 p - 12) on a sphere with p points.

use super::curves::{Coordinate, Curves};
use super::permutation::{places, repeat};

/// Rounds of the iteration in floating point after which it is left as it is.
const MOST_ROUNDS: usize = 4_000;

/// Growths in a row that agree before the last one is believed. Tried: with two, early
/// rounds of 3 lists in 1,000 agreed by chance (a size times six, twice); with sixteen
/// those of none of 26,000.
const STEADY: usize = 16;

/// Growths that differ by less than this share agree.
const AGREE: f64 = 2e-12;

/// Whether curves grow by a factor in every round, not only by a length.
///
/// Decided in whole numbers: from so many rounds to twice as many a curve that
/// grows by a length becomes twice as long, or a little more if it grew shorter
/// at first; one that grows by a factor, sixteen times by Penner's bound.
pub fn grows(word: &[i32], strands: usize) -> bool {
    if strands < 3 || word.is_empty() {
        return false;
    }
    let start = Curves::<i64>::filling(strands);
    decided(start.clone(), word)
        .or_else(|| decided(start.large(), word))
        .expect("large numbers have room")
}

/// Rounds in which the least growth by a factor makes sixteen.
fn rounds_until_seen(strands: usize) -> usize {
    16 * (strands - 2)
}

/// Bits of a length that is large beyond doubt.
const LARGE: u64 = 56;

/// Bits gained in the later half of all rounds that prove a factor: a length
/// gains one.
const GAIN: u64 = 12;

/// Whether the curves grow by a factor; `None` if the numbers have no room.
///
/// Most show it long before the last round.
fn decided<T: Coordinate>(mut curves: Curves<T>, word: &[i32]) -> Option<bool> {
    let rounds = rounds_until_seen(curves.0.len());
    let mut lengths = Vec::new();
    while lengths.len() < 2 * rounds {
        if !curves.carry(word) {
            return None;
        }
        lengths.push(curves.size());
        let last = lengths.len() - 1;
        let (bits, before) = (lengths[last].bits(), lengths[last / 2].bits());
        if last >= 3 && bits > LARGE && bits - before >= GAIN {
            return Some(true);
        }
    }
    let twice = lengths[rounds - 1].clone() + lengths[rounds - 1].clone();
    let six = twice.clone() + twice.clone() + twice;
    Some(lengths[2 * rounds - 1] > six)
}

/// Entropy of one run of the word: natural logarithm of the stretch. Zero where
/// nothing grows by a factor.
///
/// The last digits are those of floating point: the map of the curves is made of
/// linear pieces, and the iteration settles in one of them.
pub fn entropy(word: &[i32], strands: usize) -> f64 {
    if !grows(word, strands) {
        return 0.0;
    }
    let period = repeat(&places(word, strands));
    let mut curves = Curves::<f64>::filling(strands);
    let (mut found, mut steady) = (f64::INFINITY, 1);
    for _ in (0..MOST_ROUNDS).step_by(period) {
        let now = grown(&mut curves, word, period) / period as f64;
        let agrees = (now - found).abs() < AGREE * now.max(1.0);
        steady = if agrees { steady + 1 } else { 1 };
        found = now;
        if steady == STEADY {
            break;
        }
    }
    found
}

/// Logarithm of the growth over so many rounds; the curves are scaled down again.
fn grown(curves: &mut Curves<f64>, word: &[i32], rounds: usize) -> f64 {
    let mut sum = 0.0;
    for _ in 0..rounds {
        let before = curves.size();
        let kept = curves.carry(word);
        debug_assert!(kept, "floating point has room");
        let after = curves.size();
        sum += (after / before).ln();
        for pair in &mut curves.0 {
            pair.a /= after;
            pair.b /= after;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::full_turns;

    #[track_caller]
    fn assert_entropy(word: &[i32], strands: usize, expected: f64) {
        let found = entropy(word, strands);
        assert!((found - expected).abs() < 1e-9, "{found} for {expected}");
    }

    /// Odd letters forwards, even ones back.
    fn maypole(strands: i32) -> Vec<i32> {
        let odd = (1..strands).step_by(2);
        let even = (2..strands).step_by(2).map(|letter| -letter);
        odd.chain(even).collect()
    }

    #[test]
    fn entropies_are_those_published() {
        // Boyland, Aref and Stremler, J. Fluid Mech. 403 (2000) 277.
        assert_entropy(&[1, -2], 3, 0.962_423_650_1);
        // Song, Ko and Los, J. Knot Theory 11 (2002) 647.
        assert_entropy(&[1, 2, -3], 4, 0.831_442_946);
        // Finn and Thiffeault, SIAM Rev. 53 (2011) 723: 2 + sqrt 3.
        assert_entropy(&[1, 3, -2], 4, 1.316_957_897);
    }

    #[test]
    fn entropies_of_maypoles_are_those_of_buraus_matrix_on_the_unit_circle() {
        assert_entropy(&maypole(8), 8, 1.653_022_801);
        assert_entropy(&maypole(16), 16, 1.735_442_508_209);
    }

    #[test]
    fn growths_that_agree_early_by_chance_are_not_believed() {
        // The first two rounds of the way back make every size six times as large.
        let word = [1, -2, -1, -2, -1, 2, 3, 3];
        let back = crate::topology::curves::inverse(&word);
        let silver = 2.0 * 2.0_f64.sqrt().ln_1p();
        assert_entropy(&word, 5, silver);
        assert_entropy(&back, 5, silver);
    }

    #[test]
    fn what_only_twists_does_not_grow() {
        assert!(!grows(&[1], 2));
        assert!(!grows(&[1, 2], 3));
        assert!(!grows(&full_turns(5, 3), 5));
        // Two ropes beside each other, wound round each other.
        assert!(!grows(&[1, 1, 3, 3, 3, 2, 1, 3, 2], 4));
        // The same, told in a crooked way.
        let crooked: Vec<i32> = [1, -2, 3, -2].repeat(6);
        let back = crate::topology::curves::inverse(&crooked);
        let word = [&crooked[..], &[1, 1, 3, 3, 3, 2, 1, 3, 2], &back].concat();
        assert!(!grows(&word, 4));
    }

    #[test]
    fn the_entropy_does_not_depend_on_where_the_word_begins() {
        let word = [1, 2, -3, 1, 4, -2, 3];
        let whole = entropy(&word, 5);
        for start in 1..word.len() {
            let turned = [&word[start..], &word[..start]].concat();
            assert_entropy(&turned, 5, whole);
        }
        let back = crate::topology::curves::inverse(&word);
        assert_entropy(&back, 5, whole);
    }
}
