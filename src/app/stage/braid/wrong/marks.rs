//! What the maker says lies on her disc: she makes the drawn one look like it.
//!
//! The drawn disc begins as the place says hers should lie, so that only what differs
//! has to be marked. Of a place that is marked *cannot tell* nothing is said.

use std::collections::{BTreeMap, BTreeSet};

use crate::app::words;
use crate::bench::{Lying, Seen, Sign, Spot};
use crate::structure::Place;

/// A strand that is marked as lying somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Marked {
    /// Where.
    pub(super) place: Place,
    /// What it looks like, counted from 0; none where that cannot be told.
    pub(super) look: Option<usize>,
}

/// What is marked at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// Nothing lies there.
    Empty,
    /// A strand that looks so; none where that cannot be told.
    Strand(Option<usize>),
    /// It cannot be told whether anything does.
    Unsure,
}

/// What is marked on the whole disc.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Marks {
    slots: u16,
    /// What should lie there.
    shown: Vec<Marked>,
    lying: Vec<Marked>,
    unsure: BTreeSet<Place>,
    /// Whether colours are left aside.
    pub(super) only_full: bool,
}

impl Marks {
    /// As the strands should lie; strand `i` looks like `looks[i]`.
    pub(super) fn of(lying: &Lying, looks: &[usize], slots: u16) -> Self {
        let places = lying.places().iter().zip(looks);
        let shown: Vec<Marked> = places
            .map(|(&place, &look)| Marked {
                place,
                look: Some(look),
            })
            .collect();
        Self {
            slots,
            lying: shown.clone(),
            shown,
            unsure: BTreeSet::new(),
            only_full: false,
        }
    }

    /// The strands that are marked.
    pub(super) fn lying(&self) -> &[Marked] {
        &self.lying
    }

    /// Where it cannot be told whether anything lies.
    pub(super) fn unsure(&self) -> Vec<Place> {
        self.unsure.iter().copied().collect()
    }

    /// What is marked at a place.
    pub(super) fn at(&self, place: Place) -> Mark {
        if self.unsure.contains(&place) {
            return Mark::Unsure;
        }
        let strand = self.lying.iter().find(|it| it.place == place);
        strand.map_or(Mark::Empty, |it| Mark::Strand(it.look))
    }

    /// Marks a place so.
    pub(super) fn put(&mut self, place: Place, mark: Mark) {
        self.unsure.remove(&place);
        let here = self.lying.iter().position(|it| it.place == place);
        match (mark, here) {
            (Mark::Strand(look), Some(at)) => self.lying[at].look = look,
            (Mark::Strand(look), None) => self.lying.push(Marked { place, look }),
            (Mark::Empty | Mark::Unsure, Some(at)) => drop(self.lying.remove(at)),
            (Mark::Empty | Mark::Unsure, None) => {}
        }
        if mark == Mark::Unsure {
            self.unsure.insert(place);
        }
    }

    /// Full, empty, cannot tell, and full again.
    pub(super) fn next_at(&mut self, place: Place) {
        let next = match self.at(place) {
            Mark::Strand(_) => Mark::Empty,
            Mark::Empty if self.shown_at(place).is_some() => Mark::Unsure,
            // Where nothing should lie, what is pressed is first of all full.
            Mark::Empty => Mark::Strand(self.missing_look()),
            Mark::Unsure if self.shown_at(place).is_none() => Mark::Empty,
            Mark::Unsure => Mark::Strand(self.shown_at(place).and_then(|it| it.look)),
        };
        self.put(place, next);
    }

    fn shown_at(&self, place: Place) -> Option<&Marked> {
        self.shown.iter().find(|it| it.place == place)
    }

    /// The look of all strands that are not marked anywhere, if they look alike.
    fn missing_look(&self) -> Option<usize> {
        let marked = counted(&self.lying);
        let mut missing = counted(&self.shown).into_iter();
        let mut missing = missing
            .by_ref()
            .filter(|(look, many)| marked.get(look).is_none_or(|have| have < many));
        let one = missing.next();
        let only = one.filter(|_| missing.next().is_none());
        only.map(|(look, _)| look)
    }

    /// Puts a marked strand elsewhere.
    pub(super) fn carry(&mut self, strand: usize, to: Place) {
        let is_free = self.lying.iter().all(|it| it.place != to);
        if let Some(it) = self.lying.get_mut(strand).filter(|_| is_free) {
            it.place = to;
            self.unsure.remove(&to);
        }
    }

    /// Exchanges two of them.
    pub(super) fn exchange(&mut self, one: usize, other: usize) {
        if one.max(other) < self.lying.len() {
            let place = self.lying[one].place;
            self.lying[one].place = self.lying[other].place;
            self.lying[other].place = place;
        }
    }

    /// As it was before anything was marked.
    pub(super) fn begin_anew(&mut self) {
        self.lying.clone_from(&self.shown);
        self.unsure.clear();
    }

    /// Where it is marked otherwise than it should lie.
    pub(super) fn differing(&self) -> Vec<Place> {
        let all = self.lying.iter().chain(&self.shown).map(|it| it.place);
        let all: BTreeSet<Place> = all.chain(self.unsure.iter().copied()).collect();
        let should = |place: &Place| self.shown_at(*place).map(|it| it.look);
        let marked = |place: &Place| match self.at(*place) {
            Mark::Strand(look) => Some(look),
            Mark::Empty | Mark::Unsure => None,
        };
        let is_other =
            |place: &Place| self.at(*place) == Mark::Unsure || should(place) != marked(place);
        all.into_iter().filter(is_other).collect()
    }

    /// What the answers are asked from.
    pub(super) fn seen(&self, signs: &BTreeSet<Sign>) -> Seen {
        let slots = (1..=self.slots).map(Place::slot);
        let empty = slots.filter(|place| !self.unsure.contains(place));
        let mut spots: BTreeMap<Place, Spot> = empty.map(|place| (place, Spot::Empty)).collect();
        for it in &self.lying {
            let look = it.look.filter(|_| !self.only_full);
            spots.insert(it.place, look.map_or(Spot::Strand, Spot::Look));
        }
        Seen {
            spots,
            signs: signs.clone(),
        }
    }

    /// Why this cannot be the cord, one sentence; `names` are those of the looks.
    pub(super) fn objection(&self, names: &[String]) -> Option<String> {
        let (marked, all) = (self.lying.len(), self.shown.len());
        if marked > all {
            return Some(format!(
                "{} are marked and the cord has {}: take {} away.",
                strands(marked),
                words::count(all),
                words::count(marked - all),
            ));
        }
        if marked == 0 && self.unsure.is_empty() {
            return Some("Nothing is marked on the disc: mark where a strand lies.".to_owned());
        }
        if marked + self.unsure.len() < all {
            let (there, of) = (strands(marked), words::count(all));
            let (last, lies) = match all - marked {
                1 => ("last", "lies"),
                _ => ("others", "lie"),
            };
            return Some(format!(
                "{there} of {of} are marked: mark where the {last} {lies}, or where you cannot tell."
            ));
        }
        self.too_many_alike(names)
    }

    fn too_many_alike(&self, names: &[String]) -> Option<String> {
        if self.only_full {
            return None;
        }
        let there = counted(&self.shown);
        let marked = counted(&self.lying).into_iter();
        let mut over = marked.filter(|(look, many)| there.get(look).copied().unwrap_or(0) < *many);
        let (look, many) = over.next()?;
        Some(format!(
            "{} of {} are marked and the cord has {}: mark one of them as a colour you cannot tell.",
            strands(many),
            names.get(look).map_or("that look", String::as_str),
            words::count(there.get(&look).copied().unwrap_or(0)),
        ))
    }
}

fn strands(many: usize) -> String {
    let counted = words::count(many);
    let mut letters = counted.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    let counted: String = first.chain(letters).collect();
    format!("{counted} strand{}", if many == 1 { "" } else { "s" })
}

/// How many there are of each look.
fn counted(strands: &[Marked]) -> BTreeMap<usize, usize> {
    let mut counted = BTreeMap::new();
    for look in strands.iter().filter_map(|it| it.look) {
        *counted.entry(look).or_insert(0) += 1;
    }
    counted
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two dark strands at the top, two light ones at the bottom, eight slots.
    fn four() -> Marks {
        let lying = Lying::new([8, 1, 4, 5].map(Place::slot).to_vec());
        Marks::of(&lying, &[0, 0, 1, 1], 8)
    }

    fn names() -> Vec<String> {
        ["ink", "surf"].map(str::to_owned).to_vec()
    }

    #[test]
    fn unmarked_the_disc_says_what_should_lie_there() {
        let marks = four();
        assert!(marks.differing().is_empty());
        let seen = marks.seen(&BTreeSet::new());
        assert_eq!(seen.spots.len(), 8);
        assert_eq!(seen.spots[&Place::slot(8)], Spot::Look(0));
        assert_eq!(seen.spots[&Place::slot(2)], Spot::Empty);
        assert_eq!(marks.objection(&names()), None);
    }

    #[test]
    fn a_slot_is_full_empty_and_unsure_in_turn() {
        let mut marks = four();
        let slot = Place::slot(4);
        let turns = [Mark::Empty, Mark::Unsure, Mark::Strand(Some(1))];
        for mark in turns {
            marks.next_at(slot);
            assert_eq!(marks.at(slot), mark);
        }
        assert!(marks.differing().is_empty(), "back where it began");
    }

    #[test]
    fn a_free_slot_that_is_pressed_takes_what_is_missing() {
        let mut marks = four();
        marks.next_at(Place::slot(4));
        marks.next_at(Place::slot(3));
        assert_eq!(marks.at(Place::slot(3)), Mark::Strand(Some(1)));
        assert_eq!(marks.differing(), [Place::slot(3), Place::slot(4)]);
        assert_eq!(marks.objection(&names()), None);
    }

    #[test]
    fn of_unsure_places_nothing_is_said_and_colours_may_be_left_aside() {
        let mut marks = four();
        marks.put(Place::slot(2), Mark::Unsure);
        marks.only_full = true;
        let seen = marks.seen(&BTreeSet::from([Sign::Fat]));
        assert!(!seen.spots.contains_key(&Place::slot(2)));
        assert_eq!(seen.spots[&Place::slot(1)], Spot::Strand);
        assert!(seen.signs.contains(&Sign::Fat));
    }

    #[test]
    fn what_cannot_be_is_said_in_one_sentence() {
        let mut marks = four();
        marks.put(Place::slot(6), Mark::Strand(None));
        let said = marks.objection(&names()).unwrap();
        assert!(said.starts_with("Five strands are marked and the cord has four: take one away"));
        marks.put(Place::slot(1), Mark::Empty);
        assert_eq!(marks.objection(&names()), None);
        marks.put(Place::slot(6), Mark::Strand(Some(1)));
        let said = marks.objection(&names()).unwrap();
        assert!(said.starts_with("Three strands of surf are marked and the cord has two"));
        for slot in 1..=8 {
            marks.put(Place::slot(slot), Mark::Empty);
        }
        assert!(
            marks
                .objection(&names())
                .unwrap()
                .starts_with("Nothing is marked")
        );
    }

    #[test]
    fn strands_are_pulled_and_exchanged_and_all_begins_anew() {
        let mut marks = four();
        marks.carry(0, Place::slot(7));
        assert_eq!(marks.at(Place::slot(7)), Mark::Strand(Some(0)));
        marks.carry(1, Place::slot(7));
        assert_eq!(marks.at(Place::slot(1)), Mark::Strand(Some(0)), "taken");
        marks.exchange(1, 2);
        assert_eq!(marks.at(Place::slot(1)), Mark::Strand(Some(1)));
        marks.begin_anew();
        assert_eq!(marks, four());
    }
}
