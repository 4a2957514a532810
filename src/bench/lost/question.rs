//! The look at the disc that tells most: of all that a maker can check, that whose
//! answer is expected to leave the least doubt (C. Shannon, *A mathematical theory of
//! communication*, 1948: the mean information of the answer).

use std::collections::BTreeMap;

use super::{Diagnosis, Explanation, guess};
use crate::bench::Lying;
use crate::structure::{MoveList, Numbering, Place};

/// So many strands from above can be told apart at the hole; our guess.
const VISIBLE: usize = 4;
/// Explanations after the first for which two strands are compared.
const OVER: usize = 3;
/// Bits that one more answer to choose from must be worth; our guess.
const PER_ANSWER: f64 = 0.02;
/// Bits below which no question is worth asking; our guess.
const WORTH: f64 = 0.02;

/// What can be checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Check {
    /// To which slot the strand goes that lies uppermost at the hole, or that does when
    /// so many are lifted aside.
    Slot(usize),
    /// How that strand looks.
    Look(usize),
    /// What lies in a place.
    In(Place),
    /// Which of the strands that go to two places lies over the other at the hole.
    Over(Place, Place),
}

/// What is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Said {
    /// The strand goes to this place.
    Place(Place),
    /// The strand looks like this.
    Look(usize),
    /// Nothing lies there.
    Empty,
    /// Something else.
    Else,
}

/// An answer and the explanations that it speaks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// What is found.
    pub said: Said,
    /// Which of [`Diagnosis::explanations`] say so.
    pub explanations: Vec<usize>,
}

/// A check with its answers; the last is always "something else".
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// What to check.
    pub check: Check,
    /// What may be found; each explanation speaks for one.
    pub answers: Vec<Answer>,
}

impl Check {
    fn said(self, lying: &Lying, looks: &[usize]) -> Said {
        let from_above = |rank: usize| lying.upwards().iter().rev().nth(rank).copied();
        let look = |strand: usize| {
            looks
                .get(strand)
                .map_or(Said::Else, |&look| Said::Look(look))
        };
        match self {
            Self::Slot(rank) => {
                let strand = from_above(rank);
                strand.map_or(Said::Else, |strand| Said::Place(lying.places()[strand]))
            }
            Self::Look(rank) => from_above(rank).map_or(Said::Else, look),
            Self::In(place) => lying.strand_in(place).map_or(Said::Empty, look),
            Self::Over(one, other) => over(lying, one, other).map_or(Said::Else, Said::Place),
        }
    }
}

/// Which of two places the strand goes to that lies over the other.
fn over(lying: &Lying, one: Place, other: Place) -> Option<Place> {
    let height = |place: Place| {
        let strand = lying.strand_in(place)?;
        lying.upwards().iter().position(|&at| at == strand)
    };
    let is_over = height(one)? > height(other)?;
    Some(if is_over { one } else { other })
}

impl Question {
    fn of(check: Check, explanations: &[Explanation], looks: &[usize]) -> Self {
        let mut parts: BTreeMap<Said, Vec<usize>> = BTreeMap::new();
        for (index, one) in explanations.iter().enumerate() {
            parts
                .entry(check.said(&one.lying, looks))
                .or_default()
                .push(index);
        }
        let otherwise = parts.remove(&Said::Else).unwrap_or_default();
        parts.insert(Said::Else, otherwise);
        let answer = |(said, explanations)| Answer { said, explanations };
        Self {
            check,
            answers: parts.into_iter().map(answer).collect(),
        }
    }

    /// Mean information of the answer, bits.
    fn tells(&self, explanations: &[Explanation]) -> f64 {
        let all: f64 = explanations.iter().map(|one| one.probability).sum();
        let of_answer = |answer: &Answer| {
            let likely = answer
                .explanations
                .iter()
                .map(|&one| explanations[one].probability);
            likely.sum::<f64>() / all
        };
        let bits = |likely: f64| {
            if likely > 0.0 {
                -likely * likely.log2()
            } else {
                0.0
            }
        };
        self.answers.iter().map(of_answer).map(bits).sum()
    }

    /// What to check, in words; `names` of the looks, by number.
    pub fn words(&self, list: &MoveList, numbering: Numbering) -> String {
        let aside = |rank: usize| match rank {
            0 => "which strand lies uppermost at the hole".to_owned(),
            1 => {
                "lift the uppermost strand at the hole aside: which lies uppermost then".to_owned()
            }
            more => format!(
                "lift the {more} uppermost strands at the hole aside: which lies uppermost then"
            ),
        };
        let told = match self.check {
            Check::Slot(rank) => format!("{}, and to which slot does it go?", aside(rank)),
            Check::Look(rank) => format!("{}, and how does it look?", aside(rank)),
            Check::In(place) => {
                let place = numbering.phrase_on(list.plate, place, list.slots);
                format!("what lies in {place}?")
            }
            Check::Over(one, other) => {
                let phrase = |place| numbering.phrase_on(list.plate, place, list.slots);
                let (one, other) = (phrase(one), phrase(other));
                format!(
                    "of the strands that go to {one} and to {other}, which lies over the other at the hole?"
                )
            }
        };
        let mut letters = told.chars();
        let first = letters.next().map(|one| one.to_uppercase().to_string());
        first.unwrap_or_default() + letters.as_str()
    }
}

impl Answer {
    /// The answer in words; `names` of the looks, by number.
    pub fn words(&self, list: &MoveList, numbering: Numbering, names: &[String]) -> String {
        match self.said {
            Said::Place(place) => list.label(place, numbering),
            Said::Look(look) => {
                let name = names.get(look).cloned();
                name.unwrap_or_else(|| format!("look {}", look + 1))
            }
            Said::Empty => "nothing".to_owned(),
            Said::Else => "something else".to_owned(),
        }
    }
}

impl Diagnosis {
    /// The question that tells most, if one is worth asking.
    pub(super) fn best_question(&self) -> Option<Question> {
        let visible = VISIBLE.min(self.looks.len());
        let looks = (0..visible).flat_map(|rank| [Check::Look(rank), Check::Slot(rank)]);
        let unseen = self.unseen.iter().copied().map(Check::In);
        let mut best: Option<(f64, Question)> = None;
        for check in looks.chain(unseen).chain(self.crossing()) {
            let question = Question::of(check, &self.explanations, &self.looks);
            let tells = question.tells(&self.explanations);
            let worth = tells - PER_ANSWER * question.answers.len() as f64;
            let is_better = best.as_ref().is_none_or(|(other, _)| worth > *other);
            if tells > WORTH && is_better {
                best = Some((worth, question));
            }
        }
        best.map(|(_, question)| question)
    }

    /// Two places of the likeliest explanation, the strands of which another has the
    /// other way up.
    fn crossing(&self) -> Vec<Check> {
        let Some(first) = self.explanations.first() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        let places = first.lying.places();
        for (index, &one) in places.iter().enumerate() {
            for &other in &places[..index] {
                let here = over(&first.lying, one, other);
                let differs = |there: &Explanation| {
                    over(&there.lying, one, other).is_some_and(|over| Some(over) != here)
                };
                if self.explanations[1..].iter().take(OVER).any(differs) {
                    found.push(Check::Over(one, other));
                }
            }
        }
        found
    }

    /// What is known once the question has this answer; unchanged where there is no
    /// such question or answer. Explanations keep their numbers only if none moves.
    #[must_use]
    pub fn answered(&self, answer: usize) -> Self {
        let question = self.question.as_ref();
        let Some(answer) = question.and_then(|question| question.answers.get(answer)) else {
            return self.clone();
        };
        let answers = question.map_or(1, |question| question.answers.len());
        let mut known = self.clone();
        for (index, one) in known.explanations.iter_mut().enumerate() {
            one.probability *= if answer.explanations.contains(&index) {
                1.0 - guess::ANSWER
            } else {
                guess::ANSWER / answers as f64
            };
        }
        // Of what is not listed, any answer may be true.
        known.other *= match answer.said {
            Said::Else => 1.0 - guess::ANSWER,
            _ => 1.0 / answers as f64,
        };
        if let Some(Question {
            check: Check::In(place),
            ..
        }) = question
        {
            known.unseen.retain(|other| other != place);
        }
        known.settle();
        known
    }

    /// What is likely becomes likelier: see [`guess::SHARP`].
    pub(super) fn sharpen(&mut self) {
        for one in &mut self.explanations {
            one.probability = one.probability.powf(guess::SHARP);
        }
        self.other = self.other.powf(guess::SHARP);
        self.settle();
    }

    /// Probabilities that add up to one, best first, and the next question.
    pub(super) fn settle(&mut self) {
        let all: f64 = self.explanations.iter().map(|one| one.probability).sum();
        let all = all + self.other;
        if all > 0.0 {
            for one in &mut self.explanations {
                one.probability /= all;
            }
            self.other /= all;
        }
        self.explanations
            .sort_by(|one, other| other.probability.total_cmp(&one.probability));
        self.question = self.best_question();
    }
}
