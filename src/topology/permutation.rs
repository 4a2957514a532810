//! Who comes to whose place.

/// The place to which the strand in each place has come when the word is done,
/// places counted from 0.
///
/// # Panics
///
/// If a letter does not lie between 1 and `strands` - 1 in size.
pub fn places(word: &[i32], strands: usize) -> Vec<usize> {
    let mut here: Vec<usize> = (0..strands).collect();
    for letter in word {
        let place = letter.unsigned_abs() as usize;
        here.swap(place - 1, place);
    }
    let mut becomes = vec![0; strands];
    for (place, &from) in here.iter().enumerate() {
        becomes[from] = place;
    }
    becomes
}

/// The rings in which parts are handed on, each begun with its smallest member.
pub fn cycles(becomes: &[usize]) -> Vec<Vec<usize>> {
    let mut met = vec![false; becomes.len()];
    let mut cycles = Vec::new();
    for first in 0..becomes.len() {
        let mut cycle = Vec::new();
        let mut member = first;
        while !std::mem::replace(&mut met[member], true) {
            cycle.push(member);
            member = becomes[member];
        }
        if !cycle.is_empty() {
            cycles.push(cycle);
        }
    }
    cycles
}

/// After how many rounds everybody plays their own part again.
pub fn repeat(becomes: &[usize]) -> usize {
    let lengths = cycles(becomes).into_iter().map(|cycle| cycle.len());
    lengths.fold(1, |all, length| all / common(all, length) * length)
}

fn common(a: usize, b: usize) -> usize {
    if b == 0 { a } else { common(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strand_carried_past_all_others_ends_last() {
        assert_eq!(places(&[1, 2, 3], 4), [3, 0, 1, 2]);
        assert_eq!(places(&[1, -2], 3), [2, 0, 1]);
    }

    #[test]
    fn rings_of_two_and_three_come_round_after_six() {
        let becomes = [1, 0, 3, 4, 2, 5];
        assert_eq!(cycles(&becomes), [vec![0, 1], vec![2, 3, 4], vec![5]]);
        assert_eq!(repeat(&becomes), 6);
    }
}
