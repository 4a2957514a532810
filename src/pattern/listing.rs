//! Every look once.

use super::arrangement::{Arrangement, Choice, Contents};
use super::sameness::Sameness;

/// What a piece of the work brought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Next {
    /// A look, as the least arrangement that shows it.
    Found(Arrangement),
    /// None yet: ask again.
    Later,
    /// There are no more.
    Ended,
}

/// All looks in the order of their least arrangements, each exactly once.
///
/// Goes through all arrangements; each costs a comparison with some of its images.
#[derive(Debug, Clone)]
pub(super) struct Listing {
    free: Free,
    /// Colours of the free strands, none when all have been gone through.
    now: Option<Vec<u8>>,
}

/// The strands that may take a colour.
#[derive(Debug, Clone)]
pub(super) struct Free {
    kept: Vec<Option<u8>>,
    contents: Contents,
}

impl Free {
    pub(super) fn new(strands: usize, choice: &Choice, kept: &[Option<u8>]) -> Self {
        let kept = (0..strands).map(|strand| kept.get(strand).copied().flatten());
        Self {
            kept: kept.collect(),
            contents: choice.contents.clone(),
        }
    }

    /// How many strands are free.
    pub(super) fn strands(&self) -> usize {
        self.kept.iter().filter(|kept| kept.is_none()).count()
    }

    /// What is left for them; none if the kept strands leave no choice.
    pub(super) fn left(&self) -> Option<Contents> {
        let kept = || {
            self.kept
                .iter()
                .flatten()
                .map(|&colour| usize::from(colour))
        };
        match &self.contents {
            Contents::UpTo(colours) => {
                let fits = kept().all(|colour| colour < *colours);
                (fits && *colours > 0).then_some(Contents::UpTo(*colours))
            }
            Contents::Counts(counts) => {
                let mut left = counts.clone();
                for colour in kept() {
                    let count = left.get_mut(colour)?;
                    *count = count.checked_sub(1)?;
                }
                let fills = left.iter().sum::<usize>() == self.strands();
                fills.then_some(Contents::Counts(left))
            }
        }
    }

    /// The first colours of the free strands.
    pub(super) fn first(&self) -> Option<Vec<u8>> {
        match self.left()? {
            Contents::UpTo(_) => Some(vec![0; self.strands()]),
            Contents::Counts(left) => {
                let all = left.iter().enumerate();
                Some(all.flat_map(|(c, &n)| vec![c as u8; n]).collect())
            }
        }
    }

    /// The next after these; none after the last.
    fn after(&self, colours: Vec<u8>) -> Option<Vec<u8>> {
        match self.contents {
            Contents::UpTo(most) => counted_on(colours, most),
            Contents::Counts(_) => next_order(colours),
        }
    }

    /// All strands, the free ones with these colours.
    pub(super) fn with(&self, colours: &[u8]) -> Arrangement {
        let mut colours = colours.iter().copied();
        let of_all = self.kept.iter().map(|kept| {
            let free = || colours.next().unwrap_or(0);
            kept.unwrap_or_else(free)
        });
        Arrangement(of_all.collect())
    }
}

impl Listing {
    pub(super) fn new(free: Free) -> Self {
        let now = free.first();
        Self { free, now }
    }

    /// The next look, if it comes within so many arrangements; takes those off
    /// `steps`.
    pub(super) fn next_within(&mut self, same: &Sameness, steps: &mut usize) -> Next {
        while let Some(colours) = self.now.take() {
            if *steps == 0 {
                self.now = Some(colours);
                return Next::Later;
            }
            *steps -= 1;
            let arrangement = self.free.with(&colours);
            self.now = self.free.after(colours);
            if same.is_least(&arrangement) {
                return Next::Found(arrangement);
            }
        }
        Next::Ended
    }
}

/// The same colours in the next order.
fn next_order(mut colours: Vec<u8>) -> Option<Vec<u8>> {
    let pivot = (1..colours.len())
        .rev()
        .find(|&i| colours[i - 1] < colours[i])?;
    let before = colours[pivot - 1];
    let swap = (pivot..colours.len())
        .rev()
        .find(|&i| colours[i] > before)?;
    colours.swap(pivot - 1, swap);
    colours[pivot..].reverse();
    Some(colours)
}

/// The next number with the colours as digits.
fn counted_on(mut colours: Vec<u8>, most: usize) -> Option<Vec<u8>> {
    for digit in colours.iter_mut().rev() {
        if usize::from(*digit) + 1 < most {
            *digit += 1;
            return Some(colours);
        }
        *digit = 0;
    }
    None
}
