//! What may be tried: every change that is left free, and pairs of them.
//!
//! Structures are tried by themselves, since each needs a cord of its own; the rest
//! is changes of the materials alone, told from a cord that is known.

use std::collections::BTreeSet;

use super::change::{Change, Freedom};
use super::makings::Makings;
use crate::material::{Fibre, Strand, on_shelf, shelf};
use crate::structure;

/// At most so many ends more or fewer.
const ENDS_APART: u16 = 4;
/// At most so many times as many ends, or as few. Our guess of what is still a like cord.
const ENDS_TIMES: u16 = 3;

/// Makings, and the changes that lead to them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Way {
    pub makings: Makings,
    pub changes: Vec<Change>,
}

impl Way {
    /// Nothing changed.
    pub(super) fn as_it_is(now: &Makings) -> Self {
        Self {
            makings: now.clone(),
            changes: Vec::new(),
        }
    }

    /// One change further.
    pub(super) fn and(&self, (makings, change): (Makings, Change)) -> Self {
        let mut changes = self.changes.clone();
        changes.push(change);
        Self { makings, changes }
    }

    /// All liberties taken on the way.
    pub(super) fn freedoms(&self) -> BTreeSet<Freedom> {
        self.changes.iter().flat_map(Change::freedoms).collect()
    }

    /// One change of ends or of a size further, each way there is.
    pub(super) fn of_materials(&self, free: &BTreeSet<Freedom>) -> Vec<Self> {
        let mut ways = Vec::new();
        if free.contains(&Freedom::Ends) {
            ways.extend(self.of_ends());
        }
        if free.contains(&Freedom::Size) {
            ways.extend(self.of_sizes());
        }
        ways
    }

    /// Two such changes further: a size and the ends of it, or of another fibre.
    pub(super) fn of_materials_twice(&self, free: &BTreeSet<Freedom>) -> Vec<Self> {
        if !free.contains(&Freedom::Ends) {
            return Vec::new();
        }
        let first = if free.contains(&Freedom::Size) {
            self.of_sizes()
        } else {
            self.of_ends()
        };
        let mut ways: Vec<Self> = Vec::new();
        for way in first.iter().flat_map(Self::of_ends) {
            let mut known = first.iter().chain(&ways);
            let is_new = known.all(|other| other.makings != way.makings);
            if is_new && way.makings != self.makings {
                ways.push(way);
            }
        }
        ways
    }

    fn of_ends(&self) -> Vec<Self> {
        let groups: BTreeSet<(&str, u16)> = self
            .makings
            .parts()
            .map(|part| (part.fibre.as_str(), part.ends))
            .collect();
        let others = |from: u16| {
            let least = from
                .div_ceil(ENDS_TIMES)
                .max(from.saturating_sub(ENDS_APART));
            let most = (from * ENDS_TIMES).min(from + ENDS_APART);
            (least.max(1)..=most).filter(move |&to| to != from)
        };
        let changes = groups
            .into_iter()
            .flat_map(|(fibre, from)| others(from).map(move |to| (fibre, from, to)));
        changes
            .map(|(fibre, from, to)| self.and(self.makings.with_ends(fibre, from, to)))
            .collect()
    }

    fn of_sizes(&self) -> Vec<Self> {
        let names: BTreeSet<&str> = self.makings.parts().map(|it| it.fibre.as_str()).collect();
        let mut ways = Vec::new();
        for name in names {
            let sizes = self.makings.sizes(name).into_iter();
            let changed = sizes.filter_map(|to| self.makings.with_size(name, &to));
            ways.extend(changed.map(|change| self.and(change)));
        }
        ways
    }

    /// One structure further, each that is left free.
    pub(super) fn of_structures(&self, free: &BTreeSet<Freedom>) -> Vec<Self> {
        let ways = structure::shelf().iter();
        let ways = ways.map(|structure| self.and(self.makings.with_structure(structure)));
        let is_free = |way: &Self| {
            let taken = way.freedoms();
            !taken.is_empty() && taken.is_subset(free)
        };
        ways.filter(is_free).collect()
    }
}

impl Makings {
    /// Names of the other sizes of a fibre, thin before thick.
    fn sizes(&self, name: &str) -> Vec<String> {
        let Some(own) = self.fibre(name) else {
            return Vec::new();
        };
        let is_size = |other: &&Fibre| other.name != own.name && is_of_one_family(own, other);
        let mut sizes: Vec<&Fibre> = self.fibres.iter().chain(shelf()).filter(is_size).collect();
        sizes.sort_by(|a, b| a.diameter.value.total_cmp(&b.diameter.value));
        let mut names: Vec<String> = sizes.iter().map(|it| it.name.clone()).collect();
        names.dedup();
        names
    }

    /// The same one size thicker, or thinner: every fibre of the strands by the next of its
    /// family. None where no fibre has such a size.
    pub fn next_size(&self, thicker: bool) -> Option<Self> {
        let across = |name: &str| self.fibre(name).map_or(0.0, |it| it.diameter.value);
        let names: BTreeSet<&str> = self.parts().map(|it| it.fibre.as_str()).collect();
        let mut names: Vec<&str> = names.into_iter().collect();
        names.sort_by(|a, b| across(a).total_cmp(&across(b)));
        if thicker {
            // The thickest first, or one that has become as thick would grow twice.
            names.reverse();
        }
        let mut other = self.clone();
        for name in names {
            let sizes = self.sizes(name);
            let next = if thicker {
                sizes.iter().find(|it| across(it) > across(name))
            } else {
                sizes.iter().rfind(|it| across(it) < across(name))
            };
            if let Some((grown, _)) = next.and_then(|it| other.with_size(name, it)) {
                other = grown;
            }
        }
        (other != *self).then_some(other)
    }

    /// The same of one make alone, the one whose strands are most like the mean: a
    /// cord of it is quickly solved, and a mix is told from it.
    pub(super) fn of_one_make(&self) -> Self {
        let mean = self.bundle().powi(2) / self.strands.len() as f64;
        let off = |strand: &&Strand| (self.section(strand) / mean).ln().abs();
        let strands = self.strands.iter();
        let plain = strands.min_by(|a, b| off(a).total_cmp(&off(b)));
        let mut other = self.clone();
        if let Some(plain) = plain {
            other.strands = vec![plain.clone(); self.strands.len()];
        }
        other
    }

    /// Whether not all strands are made of the same, colours aside.
    pub(super) fn is_mixed(&self) -> bool {
        let made = |strand: &Strand| -> Vec<(String, u16)> {
            let parts = strand.parts.iter();
            parts.map(|part| (part.fibre.clone(), part.ends)).collect()
        };
        self.strands
            .iter()
            .any(|it| made(it) != made(&self.strands[0]))
    }

    /// Square of the round that the ends of a strand fill together, mm2.
    fn section(&self, strand: &Strand) -> f64 {
        let parts = strand.parts.iter().filter_map(|part| {
            let fibre = self.fibre(&part.fibre)?;
            Some(f64::from(part.ends) * fibre.diameter.value.powi(2))
        });
        parts.sum()
    }

    /// Across the round that all ends fill together, mm. Only an order in which to look,
    /// never shown.
    pub(super) fn bundle(&self) -> f64 {
        let sections = self.strands.iter().map(|it| self.section(it));
        sections.sum::<f64>().sqrt()
    }
}

/// Whether two fibres differ in nothing but size: of one substance, built the same way,
/// flat or round alike, and sold under one name where both are on the shelf.
fn is_of_one_family(one: &Fibre, other: &Fibre) -> bool {
    let sold_as = |fibre: &Fibre| {
        let known = on_shelf(&fibre.name)?;
        known.name.split(' ').next().map(str::to_owned)
    };
    let names = [one, other].map(sold_as);
    let is_one_name = names.iter().any(Option::is_none) || names[0] == names[1];
    is_one_name
        && other.substance == one.substance
        && other.construction == one.construction
        && other.flat.is_some() == one.flat.is_some()
}

#[cfg(test)]
mod tests {
    use super::super::sample::cord_of;
    use super::*;

    /// Eight satin strands of these sizes by turns.
    fn of(sizes: &[&str]) -> Makings {
        let mut makings = cord_of("Round spiral", 8);
        for (strand, size) in makings.strands.iter_mut().zip(sizes.iter().cycle()) {
            strand.parts[0].fibre = format!("satin cord {size} mm, polyester");
        }
        makings
    }

    fn sizes(makings: &Makings) -> Vec<String> {
        let name = |strand: &Strand| strand.parts[0].fibre.split(' ').nth(2).map(str::to_owned);
        makings.strands[..2].iter().filter_map(name).collect()
    }

    #[test]
    fn every_fibre_grows_by_one_size_and_none_by_two() {
        let mixed = of(&["1.5", "2"]);
        let [thicker, thinner] = [true, false].map(|way| mixed.next_size(way).unwrap());
        assert_eq!(sizes(&thicker), ["2", "2.5"]);
        assert_eq!(sizes(&thinner), ["1", "1.5"]);
        assert!(thicker.recipe().is_ok(), "its fibres come along");
        assert_eq!(
            sizes(&of(&["3", "2.5"]).next_size(true).unwrap()),
            ["3", "3"]
        );
        assert_eq!(of(&["3"]).next_size(true), None, "there is none thicker");
    }
}
