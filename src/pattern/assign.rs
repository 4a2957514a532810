//! Which strand takes which colour so that the most is as wanted: exactly.
//!
//! What a strand shows does not depend on the colour of any other, so the worth of
//! an arrangement is a sum over strands. With fixed counts it is an assignment of
//! strands to so many places of each colour, and solved as such; else every strand
//! takes what suits it best.
//!
//! # Source
//!
//! H. W. Kuhn, *Naval Research Logistics Quarterly* 2 (1955), as in the crate
//! `pathfinding`; next best answers by K. G. Murty, *Operations Research* 16 (1968).

use pathfinding::kuhn_munkres::kuhn_munkres;
use pathfinding::matrix::Matrix;

use super::arrangement::{Arrangement, Contents};

/// Worth of each strand in each colour.
pub(super) type Worth = Vec<Vec<i64>>;

/// Worse than anything that may be.
const NEVER: i64 = -(1 << 40);

/// The arrangement of most worth, and how much that is; none if the counts do not
/// fill the strands, or what may not be leaves nothing.
pub(super) fn best(worth: &Worth, contents: &Contents) -> Option<(i64, Arrangement)> {
    let colours = match contents {
        Contents::UpTo(colours) => free(worth, *colours)?,
        Contents::Counts(counts) => counted(worth, counts)?,
    };
    let sum = worth
        .iter()
        .zip(&colours)
        .map(|(of, &colour)| of[usize::from(colour)])
        .sum();
    (sum > NEVER / 2).then_some((sum, Arrangement(colours)))
}

fn free(worth: &Worth, colours: usize) -> Option<Vec<u8>> {
    let best = |of: &Vec<i64>| {
        // Of equals the first.
        let all = (0..colours).rev();
        all.max_by_key(|&colour| of[colour])
            .map(|colour| colour as u8)
    };
    worth.iter().map(best).collect()
}

fn counted(worth: &Worth, counts: &[usize]) -> Option<Vec<u8>> {
    let all = counts.iter().enumerate();
    let places: Vec<u8> = all.flat_map(|(colour, &n)| vec![colour as u8; n]).collect();
    if places.len() != worth.len() || places.is_empty() {
        return None;
    }
    let row = |of: &Vec<i64>| {
        places
            .iter()
            .map(|&c| of[usize::from(c)])
            .collect::<Vec<_>>()
    };
    let matrix = Matrix::from_rows(worth.iter().map(row)).ok()?;
    let (_, taken) = kuhn_munkres(&matrix);
    Some(taken.into_iter().map(|place| places[place]).collect())
}

/// The arrangements of most worth, best first: as many as asked for, if there are,
/// of which `is_new` is true. Gives up after `tries` that are not new.
pub(super) fn best_few(
    worth: &Worth,
    contents: &Contents,
    few: usize,
    mut tries: usize,
    mut is_new: impl FnMut(&Arrangement) -> bool,
) -> Vec<(i64, Arrangement)> {
    let mut open: Vec<(i64, Arrangement, Worth, usize)> = Vec::new();
    if let Some((sum, arrangement)) = best(worth, contents) {
        open.push((sum, arrangement, worth.clone(), 0));
    }
    let mut found = Vec::new();
    while let Some(which) = most(&open) {
        let (sum, arrangement, worth, settled) = open.swap_remove(which);
        open.extend(others(&arrangement, worth, settled, contents));
        if is_new(&arrangement) {
            found.push((sum, arrangement));
        } else if tries == 0 {
            break;
        } else {
            tries -= 1;
        }
        if found.len() == few {
            break;
        }
    }
    found
}

/// Of most worth, the least arrangement of equals.
fn most(open: &[(i64, Arrangement, Worth, usize)]) -> Option<usize> {
    let key = |&which: &usize| (open[which].0, std::cmp::Reverse(&open[which].1));
    (0..open.len()).max_by(|a, b| key(a).cmp(&key(b)))
}

/// The best arrangements that differ from this one, parted by the first strand that
/// does; strands before `settled` may not.
fn others(
    arrangement: &Arrangement,
    mut worth: Worth,
    settled: usize,
    contents: &Contents,
) -> Vec<(i64, Arrangement, Worth, usize)> {
    let mut all = Vec::new();
    for strand in settled..worth.len() {
        let colour = usize::from(arrangement.0[strand]);
        let kept = std::mem::replace(&mut worth[strand][colour], NEVER);
        if let Some((sum, other)) = best(&worth, contents) {
            all.push((sum, other, worth.clone(), strand));
        }
        for (other, of) in worth[strand].iter_mut().enumerate() {
            *of = if other == colour { kept } else { NEVER };
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn random_worth(strands: usize, colours: usize, random: &mut fastrand::Rng) -> Worth {
        let row = |_| (0..colours).map(|_| random.i64(0..30)).collect();
        (0..strands).map(row).collect()
    }

    /// All arrangements with their worth, best first.
    fn by_trying(worth: &Worth, contents: &Contents) -> Vec<i64> {
        let (strands, colours) = (worth.len(), contents.colours());
        let mut sums = Vec::new();
        for mut number in 0..colours.pow(strands as u32) {
            let mut sum = 0;
            let mut counts = vec![0; colours];
            for of in worth {
                sum += of[number % colours];
                counts[number % colours] += 1;
                number /= colours;
            }
            let fits = match contents {
                Contents::UpTo(_) => true,
                Contents::Counts(wanted) => *wanted == counts,
            };
            if fits {
                sums.push(sum);
            }
        }
        sums.sort_unstable_by_key(|sum| std::cmp::Reverse(*sum));
        sums
    }

    #[test]
    fn no_arrangement_is_better_than_the_best_few() {
        let mut random = fastrand::Rng::with_seed(5);
        for contents in [
            Contents::Counts(vec![3, 3, 2]),
            Contents::Counts(vec![4, 4]),
            Contents::Counts(vec![7, 0, 1]),
            Contents::UpTo(3),
        ] {
            for _ in 0..25 {
                let worth = random_worth(8, contents.colours(), &mut random);
                let tried = by_trying(&worth, &contents);
                let found = best_few(&worth, &contents, 8, 0, |_| true);
                let sums: Vec<i64> = found.iter().map(|one| one.0).collect();
                assert_eq!(sums, tried[..8]);
                let mut different: Vec<_> = found.iter().map(|one| &one.1).collect();
                different.sort();
                different.dedup();
                assert_eq!(different.len(), 8);
            }
        }
    }

    #[test]
    fn counts_that_do_not_fill_the_strands_have_no_best() {
        let worth = vec![vec![1, 2]; 3];
        assert_eq!(best(&worth, &Contents::Counts(vec![2, 2])), None);
        assert_eq!(best(&worth, &Contents::Counts(vec![1, 1])), None);
        assert_eq!(best(&worth, &Contents::UpTo(0)), None);
    }

    #[test]
    fn as_many_are_found_as_there_are() {
        let worth = vec![vec![1, 2]; 3];
        let found = best_few(&worth, &Contents::Counts(vec![1, 2]), 9, 0, |_| true);
        assert_eq!(found.len(), 3);
    }
}
