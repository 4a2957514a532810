//! How one structure differs from another.
//!
//! Not the lists are compared but the braids that they make: with another cut of
//! the rim, begun at another lift, written as more or fewer rounds, with the whole
//! cord twisted by full turns, in the mirror, upside down.

use super::conjugate::are_conjugate;
use super::growth::entropy;
use super::linking::linking;
use super::permutation::{places, repeat};
use super::round::{Round, Start};
use super::word::{full_turns, writhe};

/// What one structure is beside another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Comparison {
    /// The same braid, begun alike.
    Same,
    /// The same cord, begun elsewhere or written otherwise.
    Shifted(Fit),
    /// The same cord in the mirror: of the other hand.
    Mirror(Fit),
    /// The same cord upside down.
    UpsideDown(Fit),
    /// The same cord in the mirror and upside down: its moves taken back.
    MirrorUpsideDown(Fit),
    /// Another cord, or one that fits in none of these ways.
    Different,
}

/// How the first structure is brought onto the second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fit {
    /// Where the first begins as the second does; `None` if that is in the midst of
    /// a lift.
    pub begins: Option<Begins>,
    /// Rounds of the first and of the second that make the same length.
    pub rounds: (usize, usize),
    /// Full turns of the whole, clockwise seen from above, that the first has
    /// more in that length.
    pub full_turns: i32,
}

/// Where a round, in the mirror or upside down as said, begins as another does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Begins {
    /// After how many lifts.
    pub lifts: usize,
    /// Places by which the strand that plays a part stands further on clockwise.
    pub places: usize,
}

impl Comparison {
    /// Whether both are the same cord but for hand, ends and beginning.
    pub fn is_alike(&self) -> bool {
        *self != Self::Different
    }

    /// Whether both are the same cord, but no lift of one begins the other.
    pub(super) fn is_told_otherwise(&self) -> bool {
        match self {
            Self::Shifted(fit)
            | Self::Mirror(fit)
            | Self::UpsideDown(fit)
            | Self::MirrorUpsideDown(fit) => fit.begins.is_none(),
            Self::Same | Self::Different => false,
        }
    }

    /// The answer in a sentence, the structure looked at first.
    pub fn sentence(&self) -> &'static str {
        match self {
            Self::Same => "It is the same braid.",
            Self::Shifted(_) => "It is the same cord, only begun or written otherwise.",
            Self::Mirror(_) => "It is the same cord in the mirror, of the other hand.",
            Self::UpsideDown(_) => "It is the same cord upside down.",
            Self::MirrorUpsideDown(_) => "It is the same cord in the mirror and upside down.",
            Self::Different => "It is another cord.",
        }
    }
}

/// Most rounds of either that are taken to make the same length; our guess.
const MOST_ROUNDS: usize = 24;

/// Compares two rounds. What is found alike is so exactly. What is called different
/// may yet be the same, begun in the midst of a lift and much tangled there: of 243
/// random words 5 were not known again after 800 looks and 2 after 1,600; it looks
/// 1,000 times.
pub fn compare(first: &Round, second: &Round) -> Comparison {
    Known::new(first.clone()).beside(&Known::new(second.clone()))
}

/// A round whose word and growth are known, for many comparisons.
#[derive(Debug, Clone)]
pub(super) struct Known {
    round: Round,
    word: Vec<i32>,
    entropy: f64,
    /// See [`winding`].
    winding: Vec<f64>,
}

impl Known {
    pub(super) fn new(round: Round) -> Self {
        let word = round.word();
        Self {
            entropy: entropy(&word, round.strands),
            winding: winding(&word, round.strands),
            word,
            round,
        }
    }

    /// What this is beside another.
    pub(super) fn beside(&self, other: &Self) -> Comparison {
        let rounds = other.rounds(self.entropy);
        let Some(rounds) = rounds.filter(|_| self.round.strands == other.round.strands) else {
            return Comparison::Different;
        };
        let mirrored = self.round.mirrored();
        let variants: [(Variant, Round); 4] = [
            (Comparison::Shifted, self.round.clone()),
            (Comparison::Mirror, mirrored.clone()),
            (Comparison::UpsideDown, self.round.upside_down()),
            (Comparison::MirrorUpsideDown, mirrored.upside_down()),
        ];
        let lengths = variants
            .iter()
            .filter_map(|(variant, round)| Some((*variant, round, other.length(round, rounds)?)));
        let lengths: Vec<(Variant, &Round, Length)> = lengths.collect();
        let started = lengths
            .iter()
            .enumerate()
            .find_map(|(index, (variant, round, length))| {
                Some(variant(length.started(round, index > 0)?))
            });
        match started {
            Some(Comparison::Shifted(Fit::WHOLE)) => Comparison::Same,
            Some(alike) => alike,
            None => begun_in_the_midst(&lengths).unwrap_or(Comparison::Different),
        }
    }

    /// So many rounds of another and of this, or a multiple, as words of the same
    /// length of cord; nothing if they cannot be the same.
    ///
    /// Rounds that end with the whole turned by some places, and look the same
    /// turned so, agree when the turns add up to whole ones.
    fn length(&self, other: &Round, rounds: (usize, usize)) -> Option<Length> {
        let strands = self.round.strands;
        let word = other.word();
        let winds_alike =
            |(one, own): (&f64, &f64)| (one * rounds.0 as f64 - own * rounds.1 as f64).abs() < 1e-6;
        let winding = winding(&word, strands);
        if !winding.iter().zip(&self.winding).all(winds_alike) {
            return None;
        }
        let most = (MOST_ROUNDS / rounds.0.max(rounds.1)).clamp(1, strands);
        let multiple = |times: usize| (rounds.0 * times, rounds.1 * times);
        let mut multiples = (1..=most).map(multiple);
        let (rounds, turns) =
            multiples.find_map(|rounds| Some((rounds, self.full_turns(&word, rounds)?)))?;
        let turned = full_turns(strands, turns);
        Some(Length {
            strands,
            rounds,
            turns,
            one: word.repeat(rounds.0),
            other: [self.word.repeat(rounds.1), turned].concat(),
        })
    }

    /// The fewest rounds of one with that entropy, and of this, that make curves
    /// grow alike.
    fn rounds(&self, entropy: f64) -> Option<(usize, usize)> {
        if entropy == 0.0 && self.entropy == 0.0 {
            return Some((1, 1));
        }
        // The iteration is slow where two parts grow alike.
        let near = |a: f64, b: f64| (a - b).abs() < 1e-3 * (a + b);
        let pairs = (2..=2 * MOST_ROUNDS).flat_map(|sum| (1..sum).map(move |own| (own, sum - own)));
        pairs
            .filter(|&(own, other)| own.max(other) <= MOST_ROUNDS)
            .find(|&(own, other)| near(own as f64 * entropy, other as f64 * self.entropy))
    }

    /// Full turns anticlockwise that this lacks, if whole turns make up for the
    /// crossings.
    fn full_turns(&self, word: &[i32], rounds: (usize, usize)) -> Option<i32> {
        let more = writhe(word) * rounds.0 as i32 - writhe(&self.word) * rounds.1 as i32;
        let strands = self.round.strands as i32;
        let of_a_turn = strands * (strands - 1);
        (more % of_a_turn == 0).then_some(more / of_a_turn)
    }
}

/// What two rounds are if they fit.
type Variant = fn(Fit) -> Comparison;

impl Fit {
    /// Nothing needs to be done.
    const WHOLE: Self = Self {
        begins: Some(Begins {
            lifts: 0,
            places: 0,
        }),
        rounds: (1, 1),
        full_turns: 0,
    };
}

/// Two words for the same length of cord, if it is the same.
struct Length {
    strands: usize,
    rounds: (usize, usize),
    turns: i32,
    one: Vec<i32>,
    other: Vec<i32>,
}

impl Length {
    fn fit(&self, begins: Option<Begins>) -> Fit {
        Fit {
            begins,
            rounds: self.rounds,
            full_turns: -self.turns,
        }
    }

    /// The fit of the simplest start of the first round that makes the other.
    fn started(&self, round: &Round, with_half_turns: bool) -> Option<Fit> {
        let fits = |start: &Start| start.makes(&self.one, &self.other, self.strands);
        let start = if with_half_turns {
            round.starts_and_half_turns().find(fits)
        } else {
            round.starts().find(fits)
        };
        start.map(|start| {
            self.fit(Some(Begins {
                lifts: start.lifts,
                places: start.places,
            }))
        })
    }
}

/// The first that fits begun anywhere.
fn begun_in_the_midst(lengths: &[(Variant, &Round, Length)]) -> Option<Comparison> {
    let alike = lengths.iter().find(|(_, _, length)| {
        let Length { one, other, .. } = length;
        are_conjugate(one, other, length.strands)
    });
    alike.map(|(variant, _, length)| variant(length.fit(None)))
}

/// How much more than the mean the two strands of every pair go round each other
/// in a round, least first: a quick way to see that two cords are unlike, whatever
/// the whole is twisted by.
fn winding(word: &[i32], strands: usize) -> Vec<f64> {
    let rounds = repeat(&places(word, strands)) as f64;
    let linking = linking(word, strands);
    let of_pairs = |one: usize| linking[one][..one].iter().map(|&turns| f64::from(turns));
    let mut winding: Vec<f64> = (0..strands).flat_map(of_pairs).collect();
    let mean = winding.iter().sum::<f64>() / winding.len() as f64;
    winding
        .iter_mut()
        .for_each(|turns| *turns = (*turns - mean) / rounds);
    winding.sort_by(f64::total_cmp);
    winding
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::{Braid, MoveList};
    use crate::topology::listed::checked;

    fn round(list: &MoveList) -> Round {
        Round::of(&Braid::new(list).expect("a braid"))
    }

    fn named(name: &str) -> MoveList {
        let found = checked().find(|(one, _)| one.name == name);
        found.expect(name).0.moves
    }

    #[test]
    fn a_list_is_the_same_as_itself_and_shifted_when_begun_later_or_elsewhere() {
        for name in ["r8-spiral", "r8-square", "f5-plain", "p3", "r12-alt"] {
            let list = named(name);
            assert_eq!(compare(&round(&list), &round(&list)), Comparison::Same);
            let turned = round(&list.turned(18));
            let said = compare(&round(&list), &turned);
            assert!(
                matches!(said, Comparison::Same | Comparison::Shifted(_)),
                "{name}: {said:?}"
            );
            let mut later = list.clone();
            let braid = Braid::new(&list).expect("a braid");
            later.start = braid.places_after(1);
            later.steps.rotate_left(1);
            for step in later.steps.iter_mut().rev().take(1) {
                for carried in &mut step.moves {
                    carried.from = carried.from.turned(2 * braid.turn(), list.slots);
                    carried.to = carried.to.turned(2 * braid.turn(), list.slots);
                }
            }
            let said = compare(&round(&list), &round(&later));
            assert!(matches!(said, Comparison::Shifted(_)), "{name}: {said:?}");
        }
    }

    #[test]
    fn a_spiral_and_its_mirror_are_told_apart_and_a_square_is_its_own() {
        let said = compare(&round(&named("r8-spiral")), &round(&named("r8-spiral-m")));
        assert!(matches!(said, Comparison::Mirror(_)), "{said:?}");
        let square = named("r8-square");
        let said = compare(&round(&square), &round(&square.mirrored()));
        assert!(matches!(said, Comparison::Shifted(_)), "{said:?}");
    }

    #[test]
    fn rounds_taken_twice_or_twisted_by_a_full_turn_are_the_same_cord() {
        let once = round(&named("r8-spiral"));
        let mut twice = once.clone();
        twice.pieces.extend(once.pieces.clone());
        let Comparison::Shifted(fit) = compare(&once, &twice) else {
            panic!("not alike");
        };
        assert_eq!((fit.rounds, fit.full_turns), ((2, 1), 0));
        let mut twisted = once.clone();
        twisted.pieces.push(full_turns(8, 2));
        let Comparison::Shifted(fit) = compare(&once, &twisted) else {
            panic!("not alike");
        };
        assert_eq!(
            fit.full_turns, 2,
            "anticlockwise turns are right-handed crossings"
        );
    }

    #[test]
    fn the_two_tubes_of_four_are_one_cord_and_other_cords_are_different() {
        let said = compare(&round(&named("r4-alt")), &round(&named("r4-tube11")));
        assert!(said.is_alike(), "{said:?}");
        let others = [
            "r8-square",
            "r8-tube11",
            "f8-plain",
            "r8-star",
            "r8-opp-alt",
        ];
        for other in others {
            let said = compare(&round(&named("r8-spiral")), &round(&named(other)));
            assert_eq!(said, Comparison::Different, "{other}");
        }
        let said = compare(&round(&named("r16-alt")), &round(&named("r16-alt2")));
        assert_eq!(said, Comparison::Different);
        let said = compare(
            &round(&named("r12-spiral")),
            &round(&named("r12-spiral-48")),
        );
        assert!(said.is_alike(), "{said:?}");
    }

    #[test]
    fn two_strands_more_make_another_cord() {
        let said = compare(&round(&named("r6-tube11")), &round(&named("r8-tube11")));
        assert_eq!(said, Comparison::Different);
    }

    #[test]
    fn thirty_two_strands_worked_with_the_hand_are_the_spiral_on_twice_as_many_slots() {
        let mut of_thirty_two = crate::structure::shelf().iter();
        let by_hand = of_thirty_two.find(|one| one.strands() == 32);
        let by_hand = round(&by_hand.expect("on the shelf").moves);
        let said = compare(&by_hand, &round(&named("r32-spiral")));
        assert!(
            matches!(said, Comparison::Same | Comparison::Shifted(_)),
            "{said:?}"
        );
    }
}
