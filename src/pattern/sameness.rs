//! Which arrangements look the same, and the least of them.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use super::arrangement::{Arrangement, Choice};
use super::group::Group;

/// What makes two arrangements one look.
#[derive(Debug, Clone)]
pub(super) struct Sameness {
    group: Group,
    /// Colours that change places, as classes; none if every one is itself.
    classes: Option<Vec<usize>>,
    /// The colours of strands that stay as they are.
    kept: Vec<Option<u8>>,
}

impl Sameness {
    /// With strands that stay, every colour is itself.
    pub(super) fn new(group: Group, choice: &Choice, kept: Vec<Option<u8>>) -> Self {
        let keeps_none = kept.iter().all(Option::is_none);
        let changes = choice.colours_change_places && keeps_none;
        Self {
            group,
            classes: changes.then(|| choice.classes()),
            kept: if keeps_none { Vec::new() } else { kept },
        }
    }

    pub(super) fn group(&self) -> &Group {
        &self.group
    }

    /// Whether no other arrangement of the same look comes before it.
    pub(super) fn is_least(&self, arrangement: &Arrangement) -> bool {
        if self.classes.is_none() && self.kept.is_empty() {
            return self.is_least_moved(&arrangement.0);
        }
        self.images(arrangement).all(|image| image >= *arrangement)
    }

    /// The first arrangement of the same look, with the kept strands as they are.
    pub(super) fn least(&self, arrangement: &Arrangement) -> Arrangement {
        if self.classes.is_none() && self.kept.is_empty() {
            return self.group.least(arrangement);
        }
        let least = self.images(arrangement).min();
        least.unwrap_or_else(|| arrangement.clone())
    }

    /// The looks that one exchange of two strands leads to.
    pub(super) fn one_swap_away(&self, arrangement: &Arrangement) -> BTreeSet<Arrangement> {
        let strands = arrangement.0.len();
        let mut near = BTreeSet::new();
        for i in 0..strands {
            for j in i + 1..strands {
                if arrangement.0[i] != arrangement.0[j] {
                    let mut swapped = arrangement.clone();
                    swapped.0.swap(i, j);
                    near.insert(self.least(&swapped));
                }
            }
        }
        near
    }

    /// Compared strand by strand, without making the image: most differ early.
    fn is_least_moved(&self, colours: &[u8]) -> bool {
        self.group.members().iter().all(|member| {
            let image = member.iter().map(|&part| colours[usize::from(part)]);
            image.cmp(colours.iter().copied()) != Ordering::Less
        })
    }

    fn images(&self, arrangement: &Arrangement) -> impl Iterator<Item = Arrangement> {
        let members = self.group.members().iter();
        members
            .map(|member| self.named(arrangement.moved(member)))
            .filter(|image| self.keeps(image))
    }

    fn keeps(&self, arrangement: &Arrangement) -> bool {
        let mut pairs = self.kept.iter().zip(&arrangement.0);
        pairs.all(|(kept, colour)| kept.is_none_or(|kept| kept == *colour))
    }

    /// Colours that change places named in the order in which they come.
    fn named(&self, mut arrangement: Arrangement) -> Arrangement {
        let Some(classes) = &self.classes else {
            return arrangement;
        };
        let mut names: Vec<Option<u8>> = vec![None; classes.len()];
        let mut taken = vec![false; classes.len()];
        for colour in &mut arrangement.0 {
            let old = usize::from(*colour);
            let name = names[old].or_else(|| {
                let free = |&new: &usize| classes[new] == classes[old] && !taken[new];
                (0..classes.len()).find(free).map(|new| new as u8)
            });
            names[old] = name;
            if let Some(new) = name {
                taken[usize::from(new)] = true;
                *colour = new;
            }
        }
        arrangement
    }
}
