//! Finding cords among short rules.
//!
//! Rule after rule is judged; those that lock are compared with all that are
//! known, in the mirror, upside down and begun anywhere. Whoever asks takes one
//! after the other and may stop at any time.

use super::compare::{Comparison, Known};
use super::pattern::{Family, Pattern};
use super::round::Round;
use super::verdict::{Verdict, verdict_of_word};

/// What became of one rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tried {
    /// The rule.
    pub pattern: Pattern,
    /// What it makes, strands named by their places at the start.
    pub verdict: Verdict,
    /// If it locks: the first known cord that it is, and what it is beside it;
    /// `None` if it is like none of them.
    pub known: Option<(usize, Comparison)>,
}

impl Tried {
    /// Whether it locks and is like none that was known.
    pub fn is_new(&self) -> bool {
        self.verdict.locks() && self.known.is_none()
    }
}

/// A search through a family, one rule at each step.
#[derive(Debug)]
pub struct Search<I> {
    patterns: I,
    /// Known cords, with the number of each; some told in several ways.
    known: Vec<(usize, Known)>,
    cords: usize,
}

impl Search<()> {
    /// A search among the rules of a family, with the rounds that are known
    /// already; new cords count as known from then on, in order after those.
    pub fn new(
        family: Family,
        known: impl IntoIterator<Item = Round>,
    ) -> Search<impl Iterator<Item = Pattern>> {
        let known: Vec<(usize, Known)> = known.into_iter().map(Known::new).enumerate().collect();
        Search {
            patterns: family.patterns(),
            cords: known.len(),
            known,
        }
    }
}

impl<I: Iterator<Item = Pattern>> Iterator for Search<I> {
    type Item = Tried;

    fn next(&mut self) -> Option<Tried> {
        let pattern = self.patterns.next()?;
        let round = pattern.round();
        let verdict = verdict_of_word(&round.word(), pattern.strands);
        let known = if verdict.locks() {
            self.likeness(Known::new(round))
        } else {
            None
        };
        Some(Tried {
            pattern,
            verdict,
            known,
        })
    }
}

impl<I> Search<I> {
    /// The known cord that this is; if it is none it is known from now on.
    fn likeness(&mut self, one: Known) -> Option<(usize, Comparison)> {
        let beside = |(cord, known): &(usize, Known)| {
            let comparison = one.beside(known);
            comparison.is_alike().then_some((*cord, comparison))
        };
        let found = self.known.iter().find_map(beside);
        match &found {
            None => {
                self.known.push((self.cords, one));
                self.cords += 1;
            }
            // The next of its kind is then known again at once.
            Some((cord, comparison)) if comparison.is_told_otherwise() => {
                self.known.push((*cord, one));
            }
            Some(_) => {}
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{Braid, shelf};

    fn new_cords(strands: usize, fold: usize, carries: usize, known: Vec<Round>) -> usize {
        let family = Family {
            strands,
            fold,
            carries,
        };
        Search::new(family, known).filter(Tried::is_new).count()
    }

    #[test]
    fn two_opposite_lifts_make_as_many_cords_as_were_told_apart_elsewhere() {
        let counts = [(6, 1), (8, 2), (10, 5), (12, 6), (16, 14)];
        for (strands, expected) in counts {
            assert_eq!(new_cords(strands, 2, 1, Vec::new()), expected, "{strands}");
        }
        assert_eq!(new_cords(6, 2, 2, Vec::new()), 8);
        // Volume and growth a lift tell 22 apart; one of these is another done twice.
        assert_eq!(new_cords(8, 2, 2, Vec::new()), 21);
    }

    #[test]
    fn what_is_on_the_shelf_is_not_new() {
        let of_eight = shelf().iter().filter(|one| one.strands() == 8);
        let round = |list| Round::of(&Braid::new(list).expect("a braid"));
        let known: Vec<Round> = of_eight.map(|one| round(&one.moves)).collect();
        assert_eq!(
            new_cords(8, 2, 1, known.clone()),
            0,
            "the spiral and the star"
        );
        let mirrored = known.iter().map(Round::mirrored).collect();
        assert_eq!(new_cords(8, 2, 1, mirrored), 0);
    }

    #[test]
    fn a_search_can_be_stopped_and_says_what_each_rule_is() {
        let family = Family {
            strands: 8,
            fold: 2,
            carries: 2,
        };
        let first: Vec<Tried> = Search::new(family, []).take(100).collect();
        assert_eq!(first.len(), 100);
        let again = first.iter().filter_map(|tried| tried.known.as_ref());
        assert!(again.clone().count() > 0);
        for (index, comparison) in again {
            let new = first.iter().filter(|tried| tried.is_new()).count();
            assert!(*index < new && comparison.is_alike());
        }
    }
}
