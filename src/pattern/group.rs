//! Changes of strands that leave the cord as it was.

use std::collections::{BTreeMap, BTreeSet};

use super::Arrangement;
use crate::structure::Braid;
use crate::topology::{Held, changes_of_parts, cycles};

/// Which cords count as the same look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Alike {
    /// Those that are the same once turned about the axis and shifted along it.
    Turned,
    /// And those that are with the other end up.
    UpsideDown,
    /// And those that are in a mirror.
    Mirrored,
}

impl Alike {
    /// The ways to hold one cord beside the other.
    pub fn held(self) -> &'static [Held] {
        use Held::{Mirrored, MirroredUpsideDown, Upright, UpsideDown};
        match self {
            Self::Turned => &[Upright],
            Self::UpsideDown => &[Upright, UpsideDown],
            Self::Mirrored => &[Upright, UpsideDown, Mirrored, MirroredUpsideDown],
        }
    }
}

/// Why a group is not to be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum GroupError {
    /// More members than are looked at.
    #[error("this structure looks the same in more than {MOST} ways, too many to look at")]
    TooLarge,
    /// A change that does not give every strand a part of its own.
    #[error("a change of parts gives two strands the same part")]
    NoChange,
}

/// Most members; far above what a braid has (tried: the shelf has at most 64).
const MOST: usize = 20_000;

/// A strand, in so little room that members lie close.
type Part = u8;

/// All changes of strands by which a cord falls onto itself, none among them.
///
/// Member `m` gives strand `i` the part of strand `m[i]`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    strands: usize,
    /// Ascending, hence none first.
    members: Vec<Vec<Part>>,
}

impl Group {
    /// Everything that can be put together of the given changes, each of which
    /// gives strand `i` the part of strand `change[i]`.
    ///
    /// # Errors
    ///
    /// [`GroupError`] when a change is none of `strands` strands (at most 256) or
    /// there are over 20 000 members.
    pub fn generated(strands: usize, changes: &[Vec<usize>]) -> Result<Self, GroupError> {
        let changes: Vec<Vec<Part>> = changes
            .iter()
            .map(|change| checked(change, strands).ok_or(GroupError::NoChange))
            .collect::<Result<_, _>>()?;
        let none: Vec<Part> = (0..strands).map(|strand| strand as Part).collect();
        let mut met = BTreeSet::from([none.clone()]);
        let mut new = vec![none];
        while let Some(member) = new.pop() {
            for change in &changes {
                let next: Vec<Part> = member.iter().map(|&p| change[usize::from(p)]).collect();
                if met.insert(next.clone()) {
                    new.push(next);
                }
            }
            if met.len() > MOST {
                return Err(GroupError::TooLarge);
            }
        }
        let members = met.into_iter().collect();
        Ok(Self { strands, members })
    }

    /// The group of a braid, from its moves alone: exact for every change it
    /// finds, there before the cord is solved, and of equal strands.
    ///
    /// # Errors
    ///
    /// As [`Self::generated`].
    pub fn of_braid(braid: &Braid, alike: Alike) -> Result<Self, GroupError> {
        let held = alike.held().iter();
        let changes: Vec<Vec<usize>> = held
            .flat_map(|&held| changes_of_parts(braid, held))
            .collect();
        Self::generated(braid.strands(), &changes)
    }

    /// The members that put every strand in the part of one labelled alike, as when
    /// strands are of several makes.
    #[must_use]
    pub fn keeping<T: PartialEq>(&self, labels: &[T]) -> Self {
        let keeps = |member: &&Vec<Part>| {
            let mut pairs = member.iter().enumerate();
            pairs.all(|(i, &part)| labels.get(i) == labels.get(usize::from(part)))
        };
        Self {
            strands: self.strands,
            members: self.members.iter().filter(keeps).cloned().collect(),
        }
    }

    /// What the group does with some of its strands, numbered anew in their order; the
    /// others have to stay among themselves.
    ///
    /// # Errors
    ///
    /// [`GroupError::NoChange`] if a strand that is not among them takes part.
    pub fn among(&self, strands: &[usize]) -> Result<Self, GroupError> {
        let place = |part: Part| {
            let found = strands
                .iter()
                .position(|&strand| strand == usize::from(part));
            found.map(|place| place as Part).ok_or(GroupError::NoChange)
        };
        let member = |member: &Vec<Part>| {
            let parts = strands.iter().map(|&strand| place(member[strand]));
            parts.collect::<Result<Vec<Part>, _>>()
        };
        let members: BTreeSet<Vec<Part>> =
            self.members.iter().map(member).collect::<Result<_, _>>()?;
        Ok(Self {
            strands: strands.len(),
            members: members.into_iter().collect(),
        })
    }

    /// Number of strands.
    pub fn strands(&self) -> usize {
        self.strands
    }

    /// Number of members, at least 1.
    pub fn order(&self) -> usize {
        self.members.len()
    }

    /// The members in ascending order, none first.
    pub(super) fn members(&self) -> &[Vec<Part>] {
        &self.members
    }

    /// All arrangements that look like this one, least first, each once.
    pub fn alike(&self, arrangement: &Arrangement) -> Vec<Arrangement> {
        let images = self.members.iter().map(|member| arrangement.moved(member));
        images.collect::<BTreeSet<_>>().into_iter().collect()
    }

    /// The least arrangement that looks like this one.
    pub fn least(&self, arrangement: &Arrangement) -> Arrangement {
        let colours = &arrangement.0;
        let image = |member: usize| {
            let parts = self.members[member].iter();
            parts.map(|&part| colours[usize::from(part)])
        };
        // Compared strand by strand, without making the images: most differ early.
        let least = (1..self.members.len()).fold(0, |least, member| {
            if image(member).lt(image(least)) {
                member
            } else {
                least
            }
        });
        Arrangement(image(least).collect())
    }

    /// How many members have rings of such lengths, longest first.
    pub(super) fn cycle_index(&self) -> BTreeMap<Vec<usize>, Vec<usize>> {
        let mut index: BTreeMap<Vec<usize>, Vec<usize>> = BTreeMap::new();
        for (which, member) in self.members.iter().enumerate() {
            index.entry(ring_lengths(member)).or_default().push(which);
        }
        index
    }
}

/// The rings in which a member hands parts on, longest first.
pub(super) fn rings(member: &[Part]) -> Vec<Vec<usize>> {
    let becomes: Vec<usize> = member.iter().map(|&part| usize::from(part)).collect();
    let mut rings = cycles(&becomes);
    rings.sort_by_key(|ring| std::cmp::Reverse(ring.len()));
    rings
}

fn ring_lengths(member: &[Part]) -> Vec<usize> {
    rings(member).iter().map(Vec::len).collect()
}

fn checked(change: &[usize], strands: usize) -> Option<Vec<Part>> {
    let all: BTreeSet<usize> = change.iter().copied().collect();
    let is_change = change.len() == strands && all.iter().copied().eq(0..strands);
    if !is_change {
        return None;
    }
    change
        .iter()
        .map(|&part| Part::try_from(part).ok())
        .collect()
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::structure::shelf;
    use crate::topology::{Round, symmetry};

    /// All turns of a ring of beads.
    pub(in crate::pattern) fn cyclic(strands: usize) -> Group {
        let on: Vec<usize> = (0..strands).map(|i| (i + 1) % strands).collect();
        Group::generated(strands, &[on]).unwrap()
    }

    /// And with the ring turned over.
    pub(in crate::pattern) fn dihedral(strands: usize) -> Group {
        let on: Vec<usize> = (0..strands).map(|i| (i + 1) % strands).collect();
        let over = (0..strands).rev().collect();
        Group::generated(strands, &[on, over]).unwrap()
    }

    #[test]
    fn turns_of_a_ring_are_as_many_as_its_beads_and_twice_with_turning_over() {
        for strands in 3..20 {
            assert_eq!(cyclic(strands).order(), strands);
            assert_eq!(dihedral(strands).order(), 2 * strands);
        }
    }

    #[test]
    fn groups_of_the_shelf_have_the_orders_counted_elsewhere() {
        for structure in shelf().iter().filter(|one| one.strands() <= 16) {
            let braid = Braid::new(&structure.moves).unwrap();
            let expected = symmetry(&Round::of(&braid));
            let turned = Group::of_braid(&braid, Alike::Turned).unwrap();
            let upside_down = Group::of_braid(&braid, Alike::UpsideDown).unwrap();
            let mirrored = Group::of_braid(&braid, Alike::Mirrored).unwrap();
            let orders = (turned.order(), upside_down.order());
            let name = &structure.name;
            assert_eq!(
                orders,
                (expected.order, expected.order_upside_down),
                "{name}"
            );
            assert!(mirrored.order() <= 2 * upside_down.order(), "{name}");
        }
    }

    #[test]
    fn a_group_keeps_strands_of_another_make_apart() {
        let ring = dihedral(6);
        assert_eq!(ring.keeping(&[1, 0, 0, 0, 0, 0]).order(), 2);
        assert_eq!(ring.keeping(&[1, 0, 1, 0, 1, 0]).order(), 6);
        assert_eq!(ring.keeping(&[0; 6]), ring);
    }

    #[test]
    fn what_a_group_does_with_some_strands_is_a_group_of_its_own() {
        let ring = dihedral(6).keeping(&[1, 0, 0, 1, 0, 0]);
        assert_eq!(ring.order(), 4);
        let others = ring.among(&[1, 2, 4, 5]).unwrap();
        assert_eq!((others.strands(), others.order()), (4, 4));
        let poles = ring.among(&[0, 3]).unwrap();
        assert_eq!(poles.order(), 2, "each change once");
        assert_eq!(ring.among(&[0, 1]), Err(GroupError::NoChange));
    }

    #[test]
    fn what_is_no_change_is_refused() {
        for wrong in [vec![0, 0], vec![0], vec![1, 2]] {
            assert_eq!(Group::generated(2, &[wrong]), Err(GroupError::NoChange));
        }
    }

    #[test]
    fn a_group_of_all_changes_of_eight_strands_is_too_large() {
        let on: Vec<usize> = (0..8).map(|i| (i + 1) % 8).collect();
        let swap = vec![1, 0, 2, 3, 4, 5, 6, 7];
        assert_eq!(Group::generated(8, &[on, swap]), Err(GroupError::TooLarge));
    }
}
