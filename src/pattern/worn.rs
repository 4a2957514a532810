//! The colours that strands wear, apart from what the strands are made of.
//!
//! A strand all in one colour may give it to any other such strand. One that has ends
//! of several colours wears a set, which only fits a strand made up alike. A look gives
//! strands colours; what each is made of stays where it is.

use std::collections::BTreeSet;

use super::arrangement::{Arrangement, Choice, Contents};
use crate::material::{Colour, Strand};

/// What may be worn, who wears it, and who is made alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worn {
    /// The colours, or sets of them for the parts of a strand; each once, in an order
    /// that does not depend on who wears what.
    pub sets: Vec<Vec<Colour>>,
    /// Which of them each strand wears.
    pub now: Arrangement,
    /// Strands that are made alike have the same number.
    pub makes: Vec<usize>,
}

impl Worn {
    /// What strands wear, of at most 256 sets.
    pub fn of(strands: &[Strand]) -> Self {
        let worn: Vec<Vec<Colour>> = strands.iter().map(set).collect();
        let sets: BTreeSet<&Vec<Colour>> = worn.iter().collect();
        let sets: Vec<Vec<Colour>> = sets.into_iter().cloned().collect();
        let place = |worn: &Vec<Colour>| sets.binary_search(worn).unwrap_or(0);
        let now = worn.iter().map(|worn| place(worn) as u8).collect();
        let first = |strand: &Strand| {
            let is_it = |other: &Strand| is_made_alike(strand, other);
            strands.iter().position(is_it).unwrap_or(0)
        };
        Self {
            makes: strands.iter().map(first).collect(),
            now: Arrangement(now),
            sets,
        }
    }

    /// The same strands with these sets to choose from; what is worn beside them follows
    /// after them.
    #[must_use]
    pub fn among(&self, sets: &[Vec<Colour>]) -> Self {
        let mut all = sets.to_vec();
        let missing = self.sets.iter().filter(|&set| !sets.contains(set));
        all.extend(missing.cloned());
        let place = |worn: &u8| {
            let set = &self.sets[usize::from(*worn)];
            all.iter().position(|other| other == set).unwrap_or(0) as u8
        };
        Self {
            now: Arrangement(self.now.0.iter().map(place).collect()),
            makes: self.makes.clone(),
            sets: all,
        }
    }

    /// How many strands wear each set.
    pub fn counts(&self) -> Vec<usize> {
        let mut counts = self.now.counts();
        counts.resize(self.sets.len(), 0);
        counts
    }

    /// These colours, as many of each as are worn.
    pub fn choice(&self) -> Choice {
        Choice::counts(&self.counts())
    }

    /// What each strand keeps: those of several colours their set, where strands are not
    /// all made alike, for it would fit but few others.
    pub fn kept(&self) -> Vec<Option<u8>> {
        let is_one_make = self.makes.iter().all(|&make| make == 0);
        let keeps = |&set: &u8| !is_one_make && self.sets[usize::from(set)].len() > 1;
        let strands = self.now.0.iter();
        strands.map(|set| keeps(set).then_some(*set)).collect()
    }

    /// A colour for each part of each strand, as an arrangement has it; `strands` are
    /// those that this is of.
    pub fn colours(&self, arrangement: &Arrangement, strands: &[Strand]) -> Vec<Vec<Colour>> {
        let pairs = strands.iter().zip(&arrangement.0);
        pairs
            .map(|(strand, &set)| match self.sets.get(usize::from(set)) {
                Some(set) if set.len() == 1 => vec![set[0]; strand.parts.len()],
                Some(set) => set.clone(),
                None => Vec::new(),
            })
            .collect()
    }
}

/// One colour, or one for each part.
fn set(strand: &Strand) -> Vec<Colour> {
    let mut colours: Vec<Colour> = strand.parts.iter().map(|part| part.colour).collect();
    if colours.iter().all(|&colour| colour == colours[0]) {
        colours.truncate(1);
    }
    colours
}

fn is_made_alike(one: &Strand, other: &Strand) -> bool {
    let made = |strand: &Strand| {
        let parts = strand.parts.iter();
        parts
            .map(|part| (part.fibre.clone(), part.ends))
            .collect::<Vec<_>>()
    };
    made(one) == made(other)
}

impl Choice {
    /// One more strand of a colour, taken from that of the `others` that has most;
    /// nothing changes if there is none, or any number will do.
    #[must_use]
    pub fn with_one_more(mut self, colour: usize, others: &[usize]) -> Self {
        if let Contents::Counts(counts) = &mut self.contents {
            let gives = |&other: &usize| other != colour && counts.get(other) > Some(&0);
            let others = others.iter().copied().filter(gives);
            let most = others.max_by_key(|&other| (counts[other], std::cmp::Reverse(other)));
            if let Some(most) = most.filter(|_| colour < counts.len()) {
                counts[most] -= 1;
                counts[colour] += 1;
            }
        }
        self
    }

    /// One strand less of a colour, given to that of the `others` that has fewest, but
    /// to one that has any if there is one.
    #[must_use]
    pub fn with_one_less(mut self, colour: usize, others: &[usize]) -> Self {
        if let Contents::Counts(counts) = &mut self.contents {
            let takes = |&other: &usize| other != colour && other < counts.len();
            let others = others.iter().copied().filter(takes);
            let fewest = others.min_by_key(|&other| (counts[other] == 0, counts[other], other));
            let has_any = counts.get(colour).is_some_and(|&count| count > 0);
            if let Some(fewest) = fewest.filter(|_| has_any) {
                counts[fewest] += 1;
                counts[colour] -= 1;
            }
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Part;

    const DARK: Colour = Colour([1, 1, 1]);
    const LIGHT: Colour = Colour([200, 200, 200]);

    fn strand(parts: &[(&str, Colour)]) -> Strand {
        let part = |&(fibre, colour): &(&str, Colour)| Part {
            fibre: fibre.to_owned(),
            ends: 1,
            colour,
        };
        Strand {
            parts: parts.iter().map(part).collect(),
        }
    }

    #[test]
    fn colours_are_told_apart_from_what_wears_them() {
        let strands = [
            strand(&[("silk", LIGHT)]),
            strand(&[("wool", DARK), ("wool", DARK)]),
            strand(&[("silk", DARK)]),
            strand(&[("wool", LIGHT), ("wool", DARK)]),
        ];
        let worn = Worn::of(&strands);
        assert_eq!(worn.sets, [vec![DARK], vec![LIGHT], vec![LIGHT, DARK]]);
        assert_eq!(worn.now.0, [1, 0, 0, 2]);
        assert_eq!(worn.makes, [0, 1, 0, 1]);
        assert_eq!(worn.counts(), [2, 1, 1]);
        assert_eq!(worn.kept(), [None, None, None, Some(2)]);
        let colours = worn.colours(&Arrangement(vec![0, 1, 0, 2]), &strands);
        assert_eq!(colours[1], [LIGHT, LIGHT], "both parts");
        assert_eq!(colours[3], [LIGHT, DARK], "as it was");
    }

    #[test]
    fn sets_travel_freely_among_strands_that_are_all_made_alike() {
        let strands = [
            strand(&[("silk", LIGHT), ("silk", DARK)]),
            strand(&[("silk", DARK), ("silk", DARK)]),
        ];
        let worn = Worn::of(&strands);
        assert_eq!(worn.kept(), [None, None]);
        let other = worn.among(&[vec![Colour::WHITE]]);
        assert_eq!(other.sets.len(), 3);
        assert_eq!(
            other.colours(&other.now, &strands),
            worn.colours(&worn.now, &strands)
        );
        assert_eq!(other.counts().iter().sum::<usize>(), 2);
    }

    #[test]
    fn counts_stay_as_many_as_the_strands() {
        let choice = Choice::counts(&[4, 3, 0]);
        let counts = |choice: &Choice| match &choice.contents {
            Contents::Counts(counts) => counts.clone(),
            Contents::UpTo(_) => Vec::new(),
        };
        let all = [0, 1, 2];
        assert_eq!(counts(&choice.clone().with_one_more(2, &all)), [3, 3, 1]);
        assert_eq!(counts(&choice.clone().with_one_more(2, &[1])), [4, 2, 1]);
        assert_eq!(counts(&choice.clone().with_one_less(0, &all)), [3, 4, 0]);
        assert_eq!(counts(&choice.clone().with_one_less(0, &[2])), [3, 3, 1]);
        assert_eq!(counts(&choice.clone().with_one_less(2, &all)), [4, 3, 0]);
        let alone = Choice::counts(&[7]);
        assert_eq!(counts(&alone.clone().with_one_more(0, &[0])), [7]);
        assert_eq!(counts(&alone.with_one_less(0, &[0])), [7]);
    }
}
