//! Looks as they were found: in their order, under the words they share.

use std::ops::Range;

use num_bigint::BigUint;

use crate::pattern::{Arrangement, Look, Looks};

use super::search::Question;

/// The looks that answer a question, as far as they have been found.
#[derive(Debug)]
pub(super) struct Listed {
    /// What was asked.
    pub question: Question,
    /// How many looks there are with these colours.
    pub count: BigUint,
    /// How many of them are as wished, if that is known.
    pub wanted: Option<usize>,
    /// Whether there are too many to list.
    pub is_drawn: bool,
    /// Whether nothing more will come.
    pub is_done: bool,
    /// The looks, kin beside kin.
    pub looks: Vec<Look>,
    /// Words that follow one another, and whose they are.
    pub heads: Vec<Head>,
    /// To know a look again; there at the end.
    source: Option<Looks>,
}

/// Looks of the same words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Head {
    /// The words; empty before the surface is known.
    pub words: String,
    /// Which looks.
    pub looks: Range<usize>,
}

impl Listed {
    /// The looks found so far.
    pub(super) fn of(question: &Question, source: &Looks, count: BigUint) -> Self {
        let looks = source.shown();
        Self {
            question: question.clone(),
            count,
            wanted: source.count_wanted(),
            is_drawn: source.is_drawn(),
            is_done: source.is_done(),
            heads: heads(&looks),
            looks,
            source: None,
        }
    }

    /// All looks, and how to know one again.
    pub(super) fn whole(question: &Question, source: Looks, count: BigUint) -> Self {
        let listed = Self::of(question, &source, count);
        Self {
            source: Some(source),
            ..listed
        }
    }

    /// The look of an arrangement, if it is among them.
    pub(super) fn place_of(&self, arrangement: &Arrangement) -> Option<usize> {
        let least = self.source.as_ref().map(|it| it.place_of(arrangement));
        let least = least.as_ref().unwrap_or(arrangement);
        self.looks.iter().position(|it| it.arrangement == *least)
    }

    /// Some that are as unlike as can be: the first of each head, then the second, in
    /// the order of the list.
    pub(super) fn few(&self, most: usize) -> Vec<usize> {
        let longest = self.heads.iter().map(|head| head.looks.len()).max();
        let rounds = 0..longest.unwrap_or(0);
        let of_round = |round: usize| {
            let heads = self.heads.iter();
            heads.filter_map(move |head| head.looks.clone().nth(round))
        };
        let mut few: Vec<usize> = rounds.flat_map(of_round).take(most).collect();
        few.sort_unstable();
        few
    }

    /// How many there are and how many are shown, in one line.
    pub(super) fn number(&self) -> String {
        let all = grouped(&self.count);
        let shown = grouped(&self.looks.len().into());
        if self.count == BigUint::from(1_u8) && self.looks.len() == 1 {
            return "one look, however the strands lie".to_owned();
        }
        match (self.is_done, self.wanted) {
            (true, Some(wanted)) if self.count == wanted.into() => {
                format!("{all} that look different")
            }
            (true, Some(_)) => format!("{shown} as wished, of {all} that look different"),
            (true, None) if self.is_filtered() => {
                format!("{all} that look different; {shown} as wished among those drawn")
            }
            (true, None) => format!("{all} that look different; a sample of {shown}"),
            (false, _) => format!("{all} that look different; {shown} found so far"),
        }
    }

    fn is_filtered(&self) -> bool {
        !self.question.kinds.is_empty() || self.question.kept != self.question.fixed
    }
}

fn heads(looks: &[Look]) -> Vec<Head> {
    let words = |look: &Look| {
        let words = look.words.as_ref();
        words.map_or_else(String::new, |words| words.sentence.clone())
    };
    let mut heads: Vec<Head> = Vec::new();
    for (place, look) in looks.iter().enumerate() {
        let words = words(look);
        match heads.last_mut() {
            Some(head) if head.words == words => head.looks.end = place + 1,
            _ => heads.push(Head {
                words,
                looks: place..place + 1,
            }),
        }
    }
    heads
}

/// An integer to its last digit, from 10 000 on in threes parted by spaces that do not
/// break.
pub(super) fn grouped(number: &BigUint) -> String {
    let digits = number.to_string();
    if digits.len() < 5 {
        return digits;
    }
    let first = digits.len() % 3;
    let threes = digits.as_bytes()[first..].chunks(3);
    let threes = threes.map(|three| String::from_utf8_lossy(three).into_owned());
    let first = (first > 0).then(|| digits[..first].to_owned());
    first
        .into_iter()
        .chain(threes)
        .collect::<Vec<_>>()
        .join("\u{a0}")
}

#[cfg(test)]
mod tests {
    use super::super::search::tests::{asked, found};
    use super::*;
    use crate::pattern::{Choice, Kind};

    #[test]
    fn long_numbers_are_read_in_threes() {
        let words = |number: u64| grouped(&number.into());
        assert_eq!(words(810), "810");
        assert_eq!(words(9_999), "9999");
        assert_eq!(words(56_334), "56\u{a0}334");
        assert_eq!(words(123_456), "123\u{a0}456");
        assert_eq!(words(1_000_005), "1\u{a0}000\u{a0}005");
    }

    #[test]
    fn heads_part_the_list_and_a_few_are_of_all_heads() {
        let listed = found(&asked(8, Choice::counts(&[4, 4])));
        let ends: Vec<usize> = listed.heads.iter().map(|head| head.looks.end).collect();
        let begins: Vec<usize> = listed.heads.iter().map(|head| head.looks.start).collect();
        assert_eq!(begins[1..], ends[..ends.len() - 1]);
        assert_eq!(ends.last(), Some(&listed.looks.len()));
        assert!(listed.heads.len() > 1, "the surface gives words");
        let few = listed.few(listed.heads.len());
        assert!(few.is_sorted() && few.len() == listed.heads.len());
        let is_in = |head: &Head| few.iter().any(|place| head.looks.contains(place));
        assert!(listed.heads.iter().all(is_in), "one of each");
    }

    #[test]
    fn the_number_is_told_with_what_is_shown_of_it() {
        let all = found(&asked(8, Choice::counts(&[4, 4])));
        assert_eq!(
            all.number(),
            format!("{} that look different", all.looks.len())
        );
        let one = found(&asked(8, Choice::counts(&[8])));
        assert_eq!(one.number(), "one look, however the strands lie");
        let mut spirals = asked(8, Choice::counts(&[4, 4]));
        spirals.kinds = vec![Kind::Spirals];
        let spirals = found(&spirals);
        let words = format!(
            "{} as wished, of {} that look different",
            spirals.looks.len(),
            all.looks.len()
        );
        assert_eq!(spirals.number(), words);
        let many = found(&asked(16, Choice::counts(&[4, 4, 4, 4])));
        assert!(
            many.number().ends_with("; a sample of 500"),
            "{}",
            many.number()
        );
    }

    #[test]
    fn a_look_is_known_again_however_the_strands_lie() {
        let listed = found(&asked(8, Choice::counts(&[4, 4])));
        for (place, look) in listed.looks.iter().enumerate() {
            assert_eq!(listed.place_of(&look.arrangement), Some(place));
        }
        let odd = Arrangement(vec![1, 1, 1, 1, 0, 0, 0, 0]);
        assert!(listed.place_of(&odd).is_some());
        assert_eq!(listed.place_of(&Arrangement(vec![0; 8])), None);
    }
}
