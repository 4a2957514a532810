//! What a list of moves makes: a cord that locks, or one that does not.
//!
//! Strands that interlace cannot be parted: every curve round some of them, and
//! not round all, is drawn out longer round after round. Otherwise a curve comes
//! back, and says what is wrong: two cords, a bundle that moves as one, a strand
//! that stays outside. Where no curve is drawn out the strands only twist, and
//! the cord holds only while both its ends are bound.
//!
//! # Source
//!
//! W. P. Thurston, *On the geometry and dynamics of diffeomorphisms of surfaces*,
//! Bull. AMS 19 (1988) 417: periodic, reducible or pseudo-Anosov, and nothing
//! else. What each means for a cord is ours.

use crate::structure::Braid;

use super::curves::{Places, all_places, same_braid};
use super::growth::grows;
use super::hops::hops;
use super::layers::in_front;
use super::outside::Outside;
use super::permutation::places;
use super::reduction::{Kept, comes_back, kept, kept_somehow, ways};
use super::relaxed::relaxed;
use super::word::{artin, full_turns, writhe};

/// Ways in which the curve round the rest may pass the strands of a part.
const MOST_WAYS: usize = 1024;

/// What the moves make. Strands as counted in the start, in rim order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// A cord: no strand can be parted from the others.
    Locks {
        /// Strands that are never lifted and that the others enclose.
        core: Vec<usize>,
    },
    /// No interlacing: the strands slide apart once the ends are free.
    SlidesApart(Slide),
    /// Two cords that are not joined anywhere.
    TwoCords {
        /// The strands of one.
        one: Vec<usize>,
        /// The strands of the other.
        other: Vec<usize>,
    },
    /// Some strands move as one among the others.
    Bundle {
        /// The strands of the bundle.
        strands: Vec<usize>,
    },
    /// One strand is not enclosed by the others.
    StrandOutside {
        /// The strand.
        strand: usize,
        /// How it lies.
        how: Outside,
    },
    /// Some strands lie on the others and are not joined to them.
    Layers {
        /// The strands on top, seen from some side.
        over: Vec<usize>,
        /// The others.
        under: Vec<usize>,
    },
}

/// How strands slide apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slide {
    /// No strand passes another.
    Parallel,
    /// What is crossed is uncrossed again within the round.
    ComesUndone,
    /// All are twisted together as a rope is.
    OnlyTwisted,
    /// Parts are twisted, and twisted round each other.
    TwistedInParts,
}

impl Verdict {
    /// Whether it is a cord.
    pub fn locks(&self) -> bool {
        matches!(self, Self::Locks { .. })
    }

    /// The verdict in a word or two.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Locks { .. } => "locks",
            Self::SlidesApart(_) => "slides apart",
            Self::TwoCords { .. } => "two cords",
            Self::Bundle { .. } => "bundle",
            Self::StrandOutside { .. } => "strand outside",
            Self::Layers { .. } => "layers",
        }
    }

    /// The verdict in a sentence for a maker, strands counted from 1.
    pub fn sentence(&self) -> String {
        self.sentence_naming(&|strand| (strand + 1).to_string())
    }

    /// The same with strands called as `name` says, counted from 0.
    pub fn sentence_naming(&self, name: &dyn Fn(usize) -> String) -> String {
        let listed = |strands: &[usize]| listed(strands, name);
        match self {
            Self::Locks { core } => locks(core, name),
            Self::SlidesApart(slide) => slide.sentence().to_owned(),
            Self::TwoCords { one, other } => format!(
                "Two cords lie side by side: strands {} and strands {} never mingle.",
                listed(one),
                listed(other)
            ),
            Self::Bundle { strands } => format!(
                "Strands {} move as one and lie side by side in the cord.",
                listed(strands)
            ),
            Self::StrandOutside { strand, how } => how.sentence(&name(*strand)),
            Self::Layers { over, under } => format!(
                "Strands {} lie on strands {} all along and can be taken off them.",
                listed(over),
                listed(under)
            ),
        }
    }

    /// The strands of every part that the verdict names, part by part.
    pub fn parts(&self) -> Vec<Vec<usize>> {
        match self {
            Self::Locks { core } if core.is_empty() => Vec::new(),
            Self::Locks { core: strands } | Self::Bundle { strands } => vec![strands.clone()],
            Self::SlidesApart(_) => Vec::new(),
            Self::TwoCords { one, other } => vec![one.clone(), other.clone()],
            Self::StrandOutside { strand, .. } => vec![vec![*strand]],
            Self::Layers { over, under } => vec![over.clone(), under.clone()],
        }
    }

    /// The same with strands renamed: `names[strand]` for each.
    #[must_use]
    pub(super) fn renamed(self, names: &[usize]) -> Self {
        let all = |strands: Vec<usize>| strands.into_iter().map(|one| names[one]).collect();
        match self {
            Self::Locks { core } => Self::Locks { core: all(core) },
            Self::SlidesApart(slide) => Self::SlidesApart(slide),
            Self::TwoCords { one, other } => Self::TwoCords {
                one: all(one),
                other: all(other),
            },
            Self::Bundle { strands } => Self::Bundle {
                strands: all(strands),
            },
            Self::StrandOutside { strand, how } => Self::StrandOutside {
                strand: names[strand],
                how,
            },
            Self::Layers { over, under } => Self::Layers {
                over: all(over),
                under: all(under),
            },
        }
    }
}

impl Slide {
    fn sentence(self) -> &'static str {
        match self {
            Self::Parallel => {
                "No strand passes another: the strands lie side by side and slide apart."
            }
            Self::ComesUndone => {
                "Every crossing is taken back within the round: the strands slide apart."
            }
            Self::OnlyTwisted => {
                "The strands are only twisted like a rope: the cord holds only while both ends \
                 are bound."
            }
            Self::TwistedInParts => {
                "The strands are only twisted, part round part: the cord holds only while both \
                 ends are bound."
            }
        }
    }
}

fn locks(core: &[usize], name: &dyn Fn(usize) -> String) -> String {
    match core {
        [] => "The strands lock: no strand can be parted from the others.".to_owned(),
        _ => format!(
            "The strands lock round a core: {} never lifted, and the others hold it in.",
            match core {
                [one] => format!("strand {} is", name(*one)),
                _ => format!("strands {} are", listed(core, name)),
            }
        ),
    }
}

fn listed(strands: &[usize], name: &dyn Fn(usize) -> String) -> String {
    let names: Vec<String> = strands.iter().map(|&strand| name(strand)).collect();
    match names.split_last() {
        Some((last, [_, ..])) => {
            format!("{} and {last}", names[..names.len() - 1].join(", "))
        }
        _ => names.concat(),
    }
}

/// What a checked list of moves makes.
pub fn verdict(braid: &Braid) -> Verdict {
    let word = artin(braid);
    let order = braid.order_after(0);
    match verdict_of_word(&word, braid.strands()).renamed(&order) {
        Verdict::Locks { .. } => Verdict::Locks {
            core: braid.never_lifted(),
        },
        Verdict::StrandOutside { strand, .. } if braid.never_lifted().contains(&strand) => {
            let how = Outside::NeverLifted;
            Verdict::StrandOutside { strand, how }
        }
        Verdict::SlidesApart(Slide::Parallel) if !hops(braid).0.is_empty() => {
            Verdict::SlidesApart(Slide::ComesUndone)
        }
        other => other,
    }
}

/// What a word makes when it is run again and again; strands named by the places
/// where they start, counted from 0.
///
/// # Panics
///
/// If there are more than 100 strands, or if a letter does not lie between 1 and
/// `strands` - 1 in size.
pub fn verdict_of_word(word: &[i32], strands: usize) -> Verdict {
    if !grows(word, strands) {
        return Verdict::SlidesApart(slide(word, strands));
    }
    match parted(word, strands) {
        None => Verdict::Locks { core: Vec::new() },
        Some(Verdict::StrandOutside { strand, .. }) => {
            let how = Outside::of(word, strands, strand);
            Verdict::StrandOutside { strand, how }
        }
        Some(other) => other,
    }
}

/// How the strands of a word that does not grow slide apart.
fn slide(word: &[i32], strands: usize) -> Slide {
    if word.is_empty() {
        Slide::Parallel
    } else if same_braid(word, &[], strands) {
        Slide::ComesUndone
    } else if is_a_twist(word, strands) {
        Slide::OnlyTwisted
    } else {
        Slide::TwistedInParts
    }
}

/// Whether some power of the word is a number of full turns of the whole: then
/// the power is `strands` or one less.
///
/// # Source
///
/// B. de Kerékjártó and S. Eilenberg, as told by A. Constantin and B. Kolev,
/// *L'Enseignement Math.* 40 (1994) 193 (from memory).
fn is_a_twist(word: &[i32], strands: usize) -> bool {
    let letters_of_a_turn = (strands * (strands - 1)) as i32;
    [strands - 1, strands].into_iter().any(|power| {
        let sum = writhe(word) * power as i32;
        let turns = full_turns(strands, sum / letters_of_a_turn);
        sum % letters_of_a_turn == 0 && same_braid(&word.repeat(power), &turns, strands)
    })
}

/// The parts of a word that grows, if any curve shows some: as the round begins,
/// or else where it is relaxed.
fn parted(word: &[i32], strands: usize) -> Option<Verdict> {
    let all = all_places(strands);
    let front = in_front(word, strands);
    let curves = kept(word, strands);
    if curves.is_empty() && front.is_none() {
        return parted_elsewhere(word, strands, all);
    }
    let outside = curves.iter().map(|one| all & !one.within);
    let alone = outside.chain(front).chain(front.map(|set| all & !set));
    alone
        .into_iter()
        .find_map(outside_alone)
        .or_else(|| two_cords(word, strands, &curves, 1))
        .or_else(|| layered(front, all))
        .or_else(|| two_cords(word, strands, &curves, MOST_WAYS))
        .or_else(|| bundle(&curves))
}

/// The same where the round is relaxed.
fn parted_elsewhere(word: &[i32], strands: usize, all: Places) -> Option<Verdict> {
    let relaxed = relaxed(word, strands);
    let one = kept_somehow(&relaxed.word, strands)?;
    let places = places(&relaxed.way, strands);
    let mut names = vec![0; strands];
    for (before, &there) in places.iter().enumerate() {
        names[there] = before;
    }
    let verdict = outside_alone(all & !one.within)
        .or_else(|| two_cords(&relaxed.word, strands, &[one], MOST_WAYS))
        .or_else(|| bundle(&[one]));
    verdict.map(|verdict| verdict.renamed(&names))
}

/// How it lies outside is asked later.
fn outside_alone(set: Places) -> Option<Verdict> {
    (set.count_ones() == 1).then(|| Verdict::StrandOutside {
        strand: set.trailing_zeros() as usize,
        how: Outside::NotHeld,
    })
}

/// Two parts, each in a curve of its own, that passes the other in one of so many
/// ways; the first way is in front.
fn two_cords(word: &[i32], strands: usize, curves: &[Kept], most: usize) -> Option<Verdict> {
    let all = all_places(strands);
    let both = |&&one: &&Kept| {
        let other = Kept {
            within: all & !one.within,
            ..one
        };
        let mut ways = ways(&other).take(most);
        ways.any(|other| comes_back(word, strands, other))
    };
    let one = curves.iter().find(both)?;
    Some(Verdict::TwoCords {
        one: strands_of(one.within),
        other: strands_of(all & !one.within),
    })
}

fn layered(front: Option<Places>, all: Places) -> Option<Verdict> {
    front.map(|over| Verdict::Layers {
        over: strands_of(over),
        under: strands_of(all & !over),
    })
}

/// The smallest bundle.
fn bundle(curves: &[Kept]) -> Option<Verdict> {
    let smallest = curves.iter().min_by_key(|one| one.within.count_ones())?;
    Some(Verdict::Bundle {
        strands: strands_of(smallest.within),
    })
}

fn strands_of(set: Places) -> Vec<usize> {
    (0..Places::BITS as usize)
        .filter(|place| set & 1 << place != 0)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::topology::listed::{checked, listed};
    use crate::topology::{cycles, entropy};

    /// The verdict in the words of the data, which do not say how a cord is
    /// parted.
    fn sort(verdict: &Verdict) -> &'static str {
        match verdict.name() {
            name @ ("locks" | "slides apart") => name,
            _ => "reducible",
        }
    }

    fn of(name: &str) -> Verdict {
        let braid = checked().find(|(one, _)| one.name == name).expect(name).1;
        verdict(&braid)
    }

    #[test]
    fn every_verdict_is_that_of_public_mathematics_packages() {
        for (one, braid) in checked() {
            assert_eq!(sort(&verdict(&braid)), one.sort, "{}", one.name);
            assert_eq!(braid.never_lifted(), one.never_lifted, "{}", one.name);
        }
        for one in listed().iter().filter(|one| one.sort == "fault") {
            assert!(Braid::new(&one.moves).is_err(), "{}", one.name);
        }
    }

    #[test]
    fn words_turns_rings_and_stretch_are_those_computed_elsewhere() {
        for (one, braid) in checked() {
            let word = artin(&braid);
            assert_eq!(word, one.word, "{}", one.name);
            assert_eq!(braid.turn(), one.turn, "{}", one.name);
            assert_eq!(cycles(braid.becomes()), one.cycles, "{}", one.name);
            let stretch = entropy(&word, braid.strands()).exp();
            // The data were read off a run of some tens of rounds.
            let off = (stretch / one.stretch - 1.0).abs();
            let may_be_off = if stretch > 1.0 { 4e-4 } else { 0.03 };
            assert!(off < may_be_off, "{}: {stretch}", one.name);
        }
    }

    #[test]
    fn mirrored_turned_and_reversed_lists_get_the_same_verdict() {
        for (one, braid) in checked().filter(|(one, _)| one.moves.start.len() <= 16) {
            let expected = verdict(&braid);
            let others = [
                one.moves.mirrored(),
                one.moves.turned(7),
                one.moves.turned(-24),
                braid.reversed(),
            ];
            for list in others {
                let braid = Braid::new(&list).expect(&one.name);
                assert_eq!(verdict(&braid).name(), expected.name(), "{}", one.name);
            }
        }
    }

    #[test]
    fn the_strands_concerned_are_named() {
        let two = of("x-two4");
        let Verdict::TwoCords { mut one, mut other } = two else {
            panic!("{two:?}");
        };
        one.sort_unstable();
        other.sort_unstable();
        assert!(
            [&one[..], &other[..]].contains(&&[0, 1, 2, 3][..]),
            "{one:?}"
        );
        assert!(
            [&one[..], &other[..]].contains(&&[4, 5, 6, 7][..]),
            "{other:?}"
        );
        let bundle = of("x-pairsmove");
        let Verdict::Bundle { mut strands } = bundle else {
            panic!("{bundle:?}");
        };
        strands.sort_unstable();
        assert!(
            strands[0] % 2 == 0 && strands[1] == strands[0] + 1,
            "{strands:?}"
        );
    }

    #[test]
    fn what_slides_apart_says_how() {
        assert_eq!(of("x-undo"), Verdict::SlidesApart(Slide::ComesUndone));
        assert_eq!(of("r4-spiral"), Verdict::SlidesApart(Slide::OnlyTwisted));
        assert_eq!(of("x-twist8"), Verdict::SlidesApart(Slide::OnlyTwisted));
        assert_eq!(of("r6-same"), Verdict::SlidesApart(Slide::TwistedInParts));
        assert_eq!(
            verdict_of_word(&[], 4),
            Verdict::SlidesApart(Slide::Parallel)
        );
        assert_eq!(
            verdict_of_word(&[1, 2, 1, -2, -1, -2], 4),
            Verdict::SlidesApart(Slide::ComesUndone)
        );
    }

    #[test]
    fn a_strand_that_stays_on_the_rim_is_outside_and_a_plait_on_a_plait_is_a_layer() {
        for (one, braid) in checked().filter(|(one, _)| one.name == "r8-square") {
            let mut list = one.moves;
            list.start.push(crate::structure::Place::slot(20));
            let more = Braid::new(&list).expect("slot 20 is free");
            assert!(verdict(&braid).locks());
            let (strand, how) = (8, Outside::NeverLifted);
            assert_eq!(verdict(&more), Verdict::StrandOutside { strand, how });
        }
        // Places 0, 2, 4 are plaited in front of 1, 3, 5, which are plaited too.
        let front = [1, 2, -1, -4, -3, 4];
        let behind = [-2, 3, 2, 5, 4, -5];
        let said = verdict_of_word(&[front, behind].concat(), 6);
        assert_eq!(said.name(), "layers", "{said:?}");
    }

    #[test]
    fn a_strand_outside_is_said_to_lie_over_under_or_beside_the_others() {
        // Three strands are plaited; what the fourth does meanwhile.
        let how = |word: &[i32]| match verdict_of_word(word, 4) {
            Verdict::StrandOutside { strand: 3, how } => how,
            other => panic!("{other:?}"),
        };
        assert_eq!(how(&[1, -2]), Outside::CrossesNone);
        assert_eq!(how(&[-3, -2, -1, 2, -3, 1, 2, 3]), Outside::OnlyOver);
        assert_eq!(how(&[3, 2, 1, 2, -3, -1, -2, -3]), Outside::OnlyUnder);
        assert_eq!(how(&[1, -2, -3, -2, -1, -1, -2, -3]), Outside::NotHeld);
    }

    #[test]
    fn every_verdict_has_a_sentence_that_counts_strands_from_one() {
        let said = Verdict::TwoCords {
            one: vec![0, 1, 2],
            other: vec![3],
        };
        assert!(said.sentence().contains("strands 1, 2 and 3 and strands 4"));
        let core = Verdict::Locks { core: vec![4] };
        assert!(core.sentence().contains("strand 5 is never lifted"));
        let twist = Verdict::SlidesApart(Slide::OnlyTwisted);
        assert!(twist.sentence().contains("only while both ends are bound"));
    }
}
