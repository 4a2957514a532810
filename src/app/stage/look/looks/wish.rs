//! What the maker wants to see of the looks: colours, what counts as the same, and
//! filters.

use std::collections::BTreeMap;

use crate::app::desk::Desk;
use crate::document::Design;
use crate::material::Colour;
use crate::pattern::{Alike, Choice, Contents, Kind, Worn};

use super::search::Question;

/// Most colours to choose from.
pub(super) const MOST_COLOURS: usize = 8;

/// Which looks are wanted.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wish {
    /// The colours, or sets of them for strands with ends of several.
    pub sets: Vec<Vec<Colour>>,
    /// How many strands of each.
    pub choice: Choice,
    /// What counts as the same.
    pub alike: Alike,
    /// Only looks of these kinds; of all if empty.
    pub kinds: Vec<Kind>,
    /// Strands that stay as they are, by the place of their colour.
    pub stays: BTreeMap<usize, u8>,
    /// Makes which are drawn where there are too many to list.
    pub seed: u64,
}

impl Wish {
    /// All looks of what the strands wear.
    pub(super) fn of(worn: &Worn) -> Self {
        Self {
            sets: worn.sets.clone(),
            choice: worn.choice(),
            // A cord has no up and down once it is worn.
            alike: Alike::UpsideDown,
            kinds: Vec::new(),
            stays: BTreeMap::new(),
            seed: 1,
        }
    }

    /// Whether it can be a wish for strands that wear this.
    pub(super) fn is_for(&self, worn: &Worn) -> bool {
        let strands = worn.now.0.len();
        let fits = match &self.choice.contents {
            Contents::Counts(counts) => counts.iter().sum::<usize>() == strands,
            Contents::UpTo(_) => true,
        };
        let has_all = worn.sets.iter().all(|set| self.sets.contains(set));
        fits && has_all && self.stays.keys().all(|&strand| strand < strands)
    }

    /// How many strands of a colour, if that is wished.
    pub(super) fn count(&self, colour: usize) -> Option<usize> {
        match &self.choice.contents {
            Contents::Counts(counts) => counts.get(colour).copied(),
            Contents::UpTo(_) => None,
        }
    }

    /// Any number of each colour, or the numbers that are worn.
    pub(super) fn set_up_to(&mut self, is_up_to: bool, worn: &Worn) {
        self.choice = if is_up_to {
            Choice::up_to(self.sets.len())
        } else {
            worn.among(&self.sets).choice()
        };
        self.stays.clear();
    }

    /// One colour more to choose from, for one strand at first.
    pub(super) fn add(&mut self, colour: Colour) {
        if self.sets.contains(&vec![colour]) || self.sets.len() >= MOST_COLOURS {
            return;
        }
        self.sets.push(vec![colour]);
        match &mut self.choice.contents {
            Contents::UpTo(colours) => *colours = self.sets.len(),
            Contents::Counts(counts) => counts.push(0),
        }
        let others = self.free();
        self.choice = self
            .choice
            .clone()
            .with_one_more(self.sets.len() - 1, &others);
    }

    /// The colours that any strand may have.
    pub(super) fn free(&self) -> Vec<usize> {
        let all = 0..self.sets.len();
        all.filter(|&set| self.sets[set].len() == 1).collect()
    }

    /// The last colour is not chosen from any more.
    pub(super) fn drop_last(&mut self) {
        self.sets.pop();
        if let Contents::UpTo(colours) = &mut self.choice.contents {
            *colours = self.sets.len();
        }
        self.stays
            .retain(|_, set| usize::from(*set) < self.sets.len());
    }

    /// The question to be answered.
    pub(super) fn question(&self, desk: &Desk<'_>, worn: &Worn) -> Option<Question> {
        let fixed = worn.among(&self.sets).kept();
        let mut kept = fixed.clone();
        for (&strand, &set) in &self.stays {
            if let Some(kept) = kept.get_mut(strand) {
                *kept = Some(set);
            }
        }
        let cord = desk.solver.solved().cord();
        Some(Question {
            cord: cord.filter(|_| !desk.solver.shows_old()).cloned(),
            moves: desk.moves()?.clone(),
            makes: worn.makes.clone(),
            sets: self.sets.clone(),
            choice: self.choice.clone(),
            alike: self.alike,
            kinds: self.kinds.clone(),
            fixed,
            kept,
            seed: self.seed,
        })
    }
}

/// What the strands of a design wear.
pub(super) fn worn(design: &Design) -> Worn {
    Worn::of(&design.strands)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::fresh;

    #[test]
    fn a_wish_keeps_its_counts_and_goes_with_its_strands() {
        let design = fresh::plain();
        let worn = worn(&design);
        let mut wish = Wish::of(&worn);
        assert!(wish.is_for(&worn));
        let strands = design.strands.len();
        let before = wish.sets.len();
        wish.add(Colour([1, 2, 3]));
        assert_eq!(wish.count(before), Some(1));
        assert!(wish.is_for(&worn), "more to choose from");
        wish.add(Colour([1, 2, 3]));
        assert_eq!(wish.sets.len(), before + 1, "it is there already");
        wish.set_up_to(true, &worn);
        assert_eq!(wish.choice, Choice::up_to(before + 1));
        wish.drop_last();
        assert_eq!(wish.choice, Choice::up_to(before));
        wish.set_up_to(false, &worn);
        assert_eq!(wish.choice, worn.choice());
        wish.stays.insert(strands, 0);
        assert!(!wish.is_for(&worn), "there is no such strand");
    }
}
