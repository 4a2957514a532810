//! What is listed, and in which group.
//!
//! What comes with the program stands under the section of its solved cord; the
//! maker's own, from the shelf and in the design, stand together before it.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use crate::app::desk::Desk;
use crate::cord::{Cord, Section};
use crate::document::{Design, Origin};
use crate::structure::{MoveList, Shape, Structure, shelf};

use super::super::LookView;
use super::filter::Filter;

/// Where a structure stands in the list, in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Group {
    /// The maker's own.
    Own,
    /// Its cord is solved and has this section.
    Solved(Section),
    /// Its cord is still being worked out.
    Waiting,
    /// There is no such cord.
    None,
}

impl Group {
    fn of(sample: Option<&Option<Arc<Cord>>>, is_rough: bool) -> Self {
        match sample {
            None => Self::Waiting,
            Some(None) => Self::None,
            Some(Some(_)) if is_rough => Self::Waiting,
            Some(Some(cord)) => Self::Solved(cord.figures.section),
        }
    }

    pub(super) fn words(self) -> String {
        match self {
            Self::Own => "My own".to_owned(),
            Self::Solved(section) => {
                let word = section.word();
                let (first, rest) = word.split_at(1);
                format!("{}{rest}", first.to_uppercase())
            }
            Self::Waiting => "Being solved".to_owned(),
            Self::None => "No cord".to_owned(),
        }
    }
}

/// A structure in the hand that is shown.
#[derive(Debug)]
pub(super) struct Entry<'a> {
    pub structure: Cow<'a, Structure>,
    pub name: String,
    pub moves: MoveList,
    /// What its sample and its facts are kept under.
    pub key: String,
    /// What its sample in the maker's own fibre is kept under.
    pub own_key: Option<String>,
    /// Where one of the maker's own is kept.
    pub whence: &'static str,
}

impl<'a> Entry<'a> {
    fn new(structure: Cow<'a, Structure>, filter: &Filter, make: Option<u64>) -> Self {
        let name = filter.name(&structure);
        let key = format!("{name} {}", structure.strands());
        Self {
            moves: filter.moves(&structure),
            own_key: own_key(&key, make),
            key,
            name,
            structure,
            whence: "",
        }
    }

    /// One of the maker's own: another may come under its name.
    fn own(self, whence: &'static str, make: Option<u64>) -> Self {
        let key = format!("own {}", self.moves);
        Self {
            own_key: own_key(&key, make),
            key,
            whence,
            ..self
        }
    }
}

fn own_key(key: &str, make: Option<u64>) -> Option<String> {
    make.map(|make| format!("{key} of {make:x}"))
}

/// Tells apart what the first strand is made of, what it is braided round and how.
pub fn make_of(design: &Design) -> Option<u64> {
    let body = design.strands.first()?.body(&design.fibres).ok()?;
    let mut hasher = DefaultHasher::new();
    format!("{body:?} {:?} {:?}", design.cores(), design.braiding).hash(&mut hasher);
    Some(hasher.finish())
}

/// All that is asked for, in its groups. What is not solved yet is asked for, seen
/// or not, for it has to find its place.
pub(super) fn grouped<'a>(desk: &Desk<'a>, view: &mut LookView) -> BTreeMap<Group, Vec<Entry<'a>>> {
    let mut groups: BTreeMap<Group, Vec<Entry<'a>>> = BTreeMap::new();
    let make = make_of(desk.design);
    let filter = view.structures.clone();
    let ready = shelf().iter().map(Cow::Borrowed);
    let ready = ready.map(|one| (one, ""));
    // In the order in which they stand, for so they are solved.
    let all = own(desk).chain(ready);
    for (structure, whence) in all.filter(|(one, _)| filter.asks_for(one)) {
        let entry = Entry::new(structure, &filter, make);
        let entry = match whence {
            "" => entry,
            _ => entry.own(whence, make),
        };
        let sample = desk.solver.sample(&entry.key);
        let finding = desk.examiner.found_of_shelf(&entry.key);
        if sample.is_none() || finding.is_none() {
            view.samples.push((entry.key.clone(), entry.moves.clone()));
        }
        let facts = finding.and_then(|it| it.facts());
        let is_rough = desk.solver.is_rough(&entry.key);
        let cord = sample.and_then(|it| it.as_ref()).filter(|_| !is_rough);
        let figures = cord.map(|cord| &cord.figures);
        let firmness = desk.solver.firmness(&entry.key).map(|(word, _)| word);
        if filter.keeps(facts, figures, firmness) {
            let group = match whence {
                "" => Group::of(sample, is_rough),
                _ => Group::Own,
            };
            groups.entry(group).or_default().push(entry);
        }
    }
    groups
}

/// The maker's own with where each is kept: on the shelf, or in the design alone.
fn own<'a>(desk: &Desk<'a>) -> impl Iterator<Item = (Cow<'a, Structure>, &'static str)> {
    let shelved = desk
        .own
        .iter()
        .map(|one| (Cow::Borrowed(one), "on my shelf"));
    let travelling = travelling(desk).map(|one| (Cow::Owned(one), "in this design"));
    travelling.into_iter().chain(shelved)
}

/// The structure of the design, if it is a braid that is on no shelf in either hand.
fn travelling(desk: &Desk<'_>) -> Option<Structure> {
    let section = desk.section()?;
    let moves = &section.moves;
    // While moves are recorded, the examiner looks at those.
    let finding = desk.examiner.found().filter(|it| it.moves == *moves);
    let is_sound = finding.is_some_and(|it| it.facts().is_some());
    let is_it = |one: &Structure| {
        one.strands() == moves.start.len()
            && (one.moves == *moves || one.moves.mirrored() == *moves)
    };
    let is_kept =
        section.origin(desk.own) != Origin::HereOnly || shelf().iter().chain(desk.own).any(is_it);
    (is_sound && !is_kept).then(|| desk.design.structure(Shape::Round))
}
