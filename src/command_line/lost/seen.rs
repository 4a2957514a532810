//! SEEN: a small file with what is on the disc, as RON.
//!
//! ```ron
//! (
//!     done: 213,                          // moves counted; the place of the cord if left out
//!     slots: {1: "A", 2: "#1d6f78", 31: "full", 5: "empty"},
//!     full: [8, 9], empty: [3, 4],        // the same, many at once
//!     rest: Empty,                        // of slots not named nothing is known without this
//!     signs: [Fat, Knee, Cross, LongFloat],
//! )
//! ```
//!
//! Slots are those of the maker's numbering, `17`, `16.5`, `"hand"`, or `"N3"` on a
//! square plate. A look is the letter of a strand that looks like it, or a colour that
//! only one look has.

use std::fmt;

use ron::extensions::Extensions;
use serde::de::{Deserializer, Error, MapAccess, Visitor};
use serde::{Deserialize, Serialize};

use super::looks::Looks;
use crate::bench::{Seen, Sign, Spot};
use crate::structure::{MoveList, Numbering, Place};

/// Most moves that are counted; beyond, no cord is.
const MOST_MOVES: u64 = 1_000_000_000;

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default, rename = "SEEN")]
struct Written {
    done: Option<u64>,
    slots: Slots,
    full: Vec<Label>,
    empty: Vec<Label>,
    rest: Option<Rest>,
    signs: Vec<Sign>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
enum Rest {
    Empty,
}

/// A place as it is written: a number or a text.
#[derive(Debug, Clone, PartialEq)]
struct Label(String);

impl<'de> Deserialize<'de> for Label {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(LabelVisitor)
    }
}

struct LabelVisitor;

impl Visitor<'_> for LabelVisitor {
    type Value = Label;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a slot such as 17, a place between slots such as 16.5, or \"hand\"")
    }

    fn visit_u64<E: Error>(self, slot: u64) -> Result<Label, E> {
        Ok(Label(slot.to_string()))
    }

    fn visit_i64<E: Error>(self, slot: i64) -> Result<Label, E> {
        Ok(Label(slot.to_string()))
    }

    fn visit_f64<E: Error>(self, slot: f64) -> Result<Label, E> {
        Ok(Label(slot.to_string()))
    }

    fn visit_str<E: Error>(self, slot: &str) -> Result<Label, E> {
        Ok(Label(slot.to_owned()))
    }
}

/// Places with what is seen there, each as often as it is written.
#[derive(Debug, Default)]
struct Slots(Vec<(Label, String)>);

impl<'de> Deserialize<'de> for Slots {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(SlotsVisitor)
    }
}

struct SlotsVisitor;

impl<'de> Visitor<'de> for SlotsVisitor {
    type Value = Slots;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("slots with what is seen there, such as {1: \"A\", 2: \"full\"}")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Slots, A::Error> {
        let mut slots = Vec::new();
        while let Some(one) = map.next_entry()? {
            slots.push(one);
        }
        Ok(Slots(slots))
    }
}

/// What a file says.
#[derive(Debug, PartialEq)]
pub(super) struct Told {
    pub(super) done: Option<u64>,
    pub(super) seen: Seen,
}

/// What is told of with: the list, its numbering, and the looks.
pub(super) struct Reading<'a> {
    pub(super) list: &'a MoveList,
    pub(super) numbering: Numbering,
    pub(super) looks: &'a Looks,
}

impl Reading<'_> {
    /// Reads a text; a fault is one sentence with line and column.
    pub(super) fn read(&self, text: &str) -> Result<Told, String> {
        // `done: 213`, not `done: Some(213)`.
        let plainly = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
        let written: Written = plainly.from_str(text).map_err(|error| {
            let at = error.span.start;
            format!("line {}, column {}: {}", at.line, at.col, error.code)
        })?;
        if let Some(done) = written.done.filter(|&done| done > MOST_MOVES) {
            let fault = format!("{done} moves are more than any cord has");
            return Err(faulty(text, &done.to_string(), &fault));
        }
        let mut seen = Seen::default();
        for (label, what) in &written.slots.0 {
            let spot = self.spot(what).map_err(|why| faulty(text, what, &why))?;
            self.tell(text, &mut seen, label, spot)?;
        }
        for (labels, spot) in [(&written.full, Spot::Strand), (&written.empty, Spot::Empty)] {
            for label in labels {
                self.tell(text, &mut seen, label, spot)?;
            }
        }
        if written.rest == Some(Rest::Empty) {
            for slot in 1..=self.list.slots {
                seen.spots.entry(Place::slot(slot)).or_insert(Spot::Empty);
            }
        }
        seen.signs.extend(written.signs);
        if seen == Seen::default() {
            return Err("it tells nothing: name slots, or signs of the cord".to_owned());
        }
        let done = written.done;
        Ok(Told { done, seen })
    }

    fn tell(&self, text: &str, seen: &mut Seen, label: &Label, spot: Spot) -> Result<(), String> {
        let Label(name) = label;
        let place = self
            .place(name)
            .ok_or_else(|| faulty(text, name, &format!("the disc has no slot {name}")))?;
        match seen.spots.insert(place, spot) {
            Some(_) => Err(faulty(text, name, &format!("slot {name} is told twice"))),
            None => Ok(()),
        }
    }

    fn place(&self, label: &str) -> Option<Place> {
        let halves = (2..=2 * self.list.slots + 1).map(Place::Rim);
        let mut places = halves.chain([Place::Hand]);
        places.find(|&place| self.list.label(place, self.numbering) == label)
    }

    fn spot(&self, what: &str) -> Result<Spot, String> {
        match what.to_lowercase().as_str() {
            "full" => Ok(Spot::Strand),
            "empty" => Ok(Spot::Empty),
            _ => self.looks.named(what).map(Spot::Look),
        }
    }
}

/// A fault with the line and column of the first time that a word stands by itself.
fn faulty(text: &str, word: &str, fault: &str) -> String {
    let is_edge = |c: Option<char>| !c.is_some_and(|c| c.is_alphanumeric() || c == '.');
    let mut found = text.match_indices(word).filter(|(at, _)| {
        let (before, after) = (&text[..*at], &text[at + word.len()..]);
        is_edge(before.chars().next_back()) && is_edge(after.chars().next())
    });
    let at = found.next().map_or(0, |(at, _)| at);
    let line = text[..at].matches('\n').count() + 1;
    let column = text[..at].chars().rev().take_while(|&c| c != '\n').count() + 1;
    format!("line {line}, column {column}: {fault}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::shelf;

    fn told(text: &str) -> Result<Told, String> {
        let is_it = |s: &&crate::structure::Structure| s.name == "Round spiral" && s.strands() == 8;
        let structure = shelf().iter().find(is_it).unwrap();
        let looks = Looks::all_different(8);
        let reading = Reading {
            list: &structure.moves,
            numbering: Numbering::Anticlockwise,
            looks: &looks,
        };
        reading.read(text)
    }

    #[test]
    fn slots_are_the_makers_and_what_is_not_named_is_not_known() {
        let read = told("(done: 4, slots: {1: \"C\", 2: \"full\"}, empty: [3], signs: [Fat])");
        let Told { done, seen } = read.unwrap();
        assert_eq!(done, Some(4));
        assert_eq!(seen.spots.len(), 3);
        assert_eq!(seen.spots[&Place::slot(32)], Spot::Look(2));
        assert_eq!(seen.spots[&Place::slot(31)], Spot::Strand);
        assert_eq!(seen.spots[&Place::slot(30)], Spot::Empty);
        let all = told("(slots: {1: \"A\"}, rest: Empty)").unwrap();
        assert_eq!(all.seen.spots.len(), 32);
    }

    #[test]
    fn faults_are_told_with_their_place() {
        let fault = |text: &str| told(text).unwrap_err();
        assert_eq!(
            fault("(\n  empty: [3, 40])"),
            "line 2, column 14: the disc has no slot 40"
        );
        assert!(fault("(empty: [3], full: [3])").ends_with("slot 3 is told twice"));
        assert!(fault("(slots: {3: \"Q\"})").contains("line 1, column 14"));
        assert!(fault("(done: -1)").starts_with("line 1, column "));
        assert!(fault("()").contains("nothing"));
        for absurd in [
            "",
            "(((((",
            "(slots: {NaN: \"A\"})",
            "(slots: 7)",
            "(done: 99999999999)",
        ] {
            assert!(told(absurd).is_err(), "{absurd}");
        }
    }
}
