//! What the program says of how strands are knotted, judged by what braids do to
//! curves.

use std::collections::HashMap;

use plaitwright::mechanics::{Crossings, Knotting};
use plaitwright::structure::{Braid, MoveList, shelf};
use plaitwright::topology::{CellWord, WorldLines, artin, full_turns, writhe};
use proptest::prelude::*;

use super::curves::same_braid;
use super::{config, sound_list};

fn inverse(word: &[i32]) -> Vec<i32> {
    word.iter().rev().map(|letter| -letter).collect()
}

/// Who stands in each place after a word.
fn after(order: &[usize], word: &[i32]) -> Vec<usize> {
    let mut places = order.to_vec();
    for letter in word {
        let left = letter.unsigned_abs() as usize - 1;
        places.swap(left, left + 1);
    }
    places
}

/// For each strand, begun in the place of its number, the one whose place it
/// comes to.
fn continues(strands: usize, word: &[i32]) -> Vec<usize> {
    let order: Vec<usize> = (0..strands).collect();
    let ends = after(&order, word);
    let place = |strand: &usize| ends.iter().position(|other| other == strand);
    order.iter().map(|s| place(s).expect("it stays")).collect()
}

fn of_word(goes_on: &[usize], order: &[usize], word: &[i32]) -> Crossings {
    Crossings::of_word(goes_on, order, word).expect("strands stand where they go on")
}

/// Strands, a word and another that it is taken round.
fn words() -> impl Strategy<Value = (usize, Vec<i32>, Vec<i32>)> {
    (3usize..=9).prop_flat_map(|strands| {
        let letter = (1..strands as i32, any::<bool>()).prop_map(|(k, up)| if up { k } else { -k });
        let word = prop::collection::vec(letter, 1..40);
        (Just(strands), word.clone(), word)
    })
}

proptest! {
    #![proptest_config(config(200))]

    #[test]
    fn a_word_cut_elsewhere_or_seen_otherwise_is_knotted_alike((strands, word, by) in words()) {
        let goes_on = continues(strands, &word);
        let order: Vec<usize> = (0..strands).collect();
        let own = of_word(&goes_on, &order, &word);
        let round = [&inverse(&by)[..], &word, &by].concat();
        let moved = of_word(&goes_on, &after(&order, &by), &round);
        prop_assert_eq!(own.knotting(), moved.knotting());
        prop_assert_eq!(own.writhe(), moved.writhe());
    }

    #[test]
    fn a_crossing_turned_over_is_knotted_otherwise(
        (strands, word, _) in words(),
        at in any::<prop::sample::Index>(),
    ) {
        let order: Vec<usize> = (0..strands).collect();
        let of = |word: &[i32]| of_word(&continues(strands, word), &order, word);
        let mut turned = word.clone();
        turned[at.index(word.len())] *= -1;
        prop_assert_ne!(of(&word).knotting(), of(&turned).knotting());
    }

    /// The mark may be chosen elsewhere and the whole turned fully.
    #[test]
    fn cells_in_a_row_make_the_rounds_of_the_moves(list in sound_list()) {
        prop_assert!(are_rounds_of_cells(&list));
    }
}

fn are_rounds_of_cells(list: &MoveList) -> bool {
    let braid = Braid::new(list).expect("sound");
    let Ok(lines) = WorldLines::new(&braid, 1.15, 1.0) else {
        return artin(&braid).len().is_multiple_of(braid.strands() - 1);
    };
    let strands = braid.strands();
    let n = strands as i32;
    // Over two rounds, since a hop may be brought forward from the second one;
    // a braid has one root but for the choice of the cut.
    let mut cells = CellWord::new(&lines).repeated(2 * lines.cells_per_round);
    let rounds = artin(&braid).repeat(2);
    let more = writhe(&rounds) - writhe(&cells);
    cells.extend(full_turns(strands, more / (n * (n - 1))));
    (0..strands).any(|places| {
        let turn = (1..n).collect::<Vec<i32>>().repeat(places);
        let turned = [&inverse(&turn)[..], &cells, &turn].concat();
        same_braid(&turned, &rounds, strands)
    })
}

#[test]
fn cells_of_the_shelf_make_the_rounds_of_the_moves() {
    for entry in shelf() {
        for list in [entry.moves.clone(), entry.moves.mirrored()] {
            assert!(
                are_rounds_of_cells(&list),
                "{} of {}",
                entry.name,
                entry.strands()
            );
        }
    }
}

/// A number for each letter, the same for crossings of strands that follow in the
/// places of one another.
fn pairs(goes_on: &[usize], order: &[usize], letters: &[i32]) -> Vec<(usize, usize)> {
    let least = |pair: (usize, usize)| {
        let next = |&(a, b): &(usize, usize)| Some((goes_on[a], goes_on[b]));
        let later = std::iter::successors(next(&pair), next);
        let all = later.take_while(|&other| other != pair).chain([pair]);
        all.map(|(a, b)| (a.min(b), a.max(b)))
            .min()
            .expect("itself")
    };
    let mut places = order.to_vec();
    let crossed = letters.iter().map(|letter| {
        let left = letter.unsigned_abs() as usize - 1;
        places.swap(left, left + 1);
        least((places[left], places[left + 1]))
    });
    crossed.collect()
}

/// Words in which two opposite crossings of the same strands are turned over: no
/// count of linking changes.
fn turned_twice(goes_on: &[usize], cell: &CellWord) -> Vec<Vec<i32>> {
    let letters = &cell.letters;
    let pairs = pairs(goes_on, &cell.order, letters);
    let both = (0..letters.len()).flat_map(|at| (0..at).map(move |other| (at, other)));
    let opposite = |&(a, b): &(usize, usize)| pairs[a] == pairs[b] && letters[a] * letters[b] < 0;
    let turned = |(a, b): (usize, usize)| {
        let mut word = letters.clone();
        word[a] *= -1;
        word[b] *= -1;
        word
    };
    both.filter(opposite).map(turned).collect()
}

/// Letters in a row, upwards or downwards.
fn runs(strands: usize) -> Vec<Vec<i32>> {
    let mut runs = vec![Vec::new()];
    for from in 1..strands as i32 {
        for to in from..strands as i32 {
            let run: Vec<i32> = (from..=to).collect();
            let back: Vec<i32> = run.iter().rev().copied().collect();
            runs.extend([inverse(&run), inverse(&back), back, run]);
        }
    }
    runs
}

/// A large prime, and a place to look at Burau's matrices.
const PRIME: u64 = 2_147_483_647;
const PLACE: u64 = 1_234_577;

/// Burau's matrix at one place: words of one braid have the same.
fn burau(word: &[i32], strands: usize) -> Vec<Vec<u64>> {
    let mut matrix: Vec<Vec<u64>> = (0..strands)
        .map(|row| {
            (0..strands)
                .map(|column| u64::from(row == column))
                .collect()
        })
        .collect();
    let inverse = power(PLACE, PRIME - 2);
    for letter in word {
        let at = letter.unsigned_abs() as usize - 1;
        for row in &mut matrix {
            let (a, b) = (row[at], row[at + 1]);
            (row[at], row[at + 1]) = if *letter > 0 {
                ((a * (PRIME + 1 - PLACE) + b) % PRIME, a * PLACE % PRIME)
            } else {
                let first = b * inverse % PRIME;
                (first, (a + first * (PRIME - 1 + PLACE)) % PRIME)
            };
        }
    }
    matrix
}

fn power(base: u64, exponent: u64) -> u64 {
    if exponent == 0 {
        return 1;
    }
    let half = power(base, exponent / 2);
    let square = half * half % PRIME;
    if exponent % 2 == 1 {
        square * base % PRIME
    } else {
        square
    }
}

/// Whether one word is the other, cut elsewhere: both moved by two runs, met in the
/// middle.
fn proved_alike(one: &[i32], other: &[i32], strands: usize) -> bool {
    let runs = runs(strands);
    let moved = |word: &[i32]| -> Vec<Vec<i32>> {
        let both = runs
            .iter()
            .flat_map(|a| runs.iter().map(move |b| [&a[..], b].concat()));
        both.map(|by| [&inverse(&by)[..], word, &by].concat())
            .collect()
    };
    let mut known: HashMap<Vec<Vec<u64>>, Vec<i32>> = HashMap::new();
    for word in moved(one) {
        known.entry(burau(&word, strands)).or_insert(word);
    }
    moved(other).iter().any(|word| {
        let met = known.get(&burau(word, strands));
        met.is_some_and(|met| same_braid(met, word, strands))
    })
}

/// What linking cannot see is seen, or it is the same braid, read from either end: no
/// polynomial of this kind tells a braid from its reverse.
#[test]
fn what_keeps_all_linking_but_not_the_braid_is_noticed() {
    let (mut noticed, mut alike) = (0, 0);
    let small = shelf().iter().filter(|entry| entry.strands() <= 7);
    for list in small.flat_map(|entry| [entry.moves.clone(), entry.moves.mirrored()]) {
        let braid = Braid::new(&list).expect("on the shelf");
        let lines = WorldLines::new(&braid, 1.15, 1.0).expect("crosses");
        let cell = CellWord::new(&lines);
        let of =
            |word: &[i32]| -> Knotting { of_word(&lines.continues, &cell.order, word).knotting() };
        let own = of(&cell.letters);
        for word in turned_twice(&lines.continues, &cell) {
            if of(&word) != own {
                noticed += 1;
                continue;
            }
            alike += 1;
            let reversed: Vec<i32> = cell.letters.iter().rev().copied().collect();
            let is_either = [&cell.letters, &reversed]
                .iter()
                .any(|own| proved_alike(&word, own, lines.strands()));
            assert!(is_either, "{word:?}");
        }
    }
    assert!(noticed > 40, "{noticed} noticed, {alike} alike");
}
