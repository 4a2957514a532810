//! Blocks of a page, and how they flow over as many pages as they need.
//!
//! A block is never parted; what is too high for the rest of a page goes to the next.

use super::paper::{Item, MARGIN, Paper};

/// Something as wide as its column and so high, with its origin at its upper left.
#[derive(Debug, Clone, Default)]
pub(crate) struct Block {
    /// mm.
    pub(crate) high: f64,
    pub(crate) items: Vec<Item>,
    /// Left free above it unless it begins a page, mm.
    pub(crate) above: f64,
    /// Whether it must not be the last of a page: a head.
    pub(crate) leads: bool,
}

impl Block {
    pub(crate) fn new(high: f64, items: Vec<Item>) -> Self {
        Self {
            high,
            items,
            ..Self::default()
        }
    }

    pub(crate) fn above(self, above: f64) -> Self {
        Self { above, ..self }
    }

    pub(crate) fn leading(self) -> Self {
        Self {
            leads: true,
            ..self
        }
    }

    /// The same, further right and down.
    pub(crate) fn shifted(mut self, by: [f64; 2]) -> Self {
        self.items.iter_mut().for_each(|item| item.shift(by));
        self
    }

    /// Puts another below it.
    pub(crate) fn push(&mut self, other: Self) {
        let down = self.high + other.above;
        self.high = down + other.high;
        self.items.extend(other.shifted([0.0, down]).items);
    }

    /// Puts another over it, so far right and down.
    pub(crate) fn lay(&mut self, at: [f64; 2], other: Self) {
        self.high = self.high.max(at[1] + other.high);
        self.items.extend(other.shifted(at).items);
    }

    /// Several below one another.
    pub(crate) fn stack(blocks: impl IntoIterator<Item = Self>) -> Self {
        let mut stack = Self::default();
        blocks.into_iter().for_each(|block| stack.push(block));
        stack
    }

    /// Several side by side, each in a column so wide.
    pub(crate) fn row(columns: impl IntoIterator<Item = Self>, wide: f64) -> Self {
        let mut row = Self::default();
        for (i, column) in columns.into_iter().enumerate() {
            row.lay([i as f64 * wide, 0.0], column);
        }
        row
    }
}

/// Pages being filled.
#[derive(Debug)]
pub(crate) struct Flow {
    paper: Paper,
    /// Kept free for the running head of further pages, mm.
    head: f64,
    /// Kept free for the foot of every page, mm.
    foot: f64,
    pub(crate) pages: Vec<Vec<Item>>,
    at: Spot,
}

/// Where on which page.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
struct Spot {
    page: usize,
    y: f64,
}

impl Flow {
    pub(crate) fn new(paper: Paper, head: f64, foot: f64) -> Self {
        Self {
            paper,
            head,
            foot,
            pages: vec![Vec::new()],
            at: Spot { page: 0, y: MARGIN },
        }
    }

    fn low(&self) -> f64 {
        self.paper.size()[1] - MARGIN - self.foot
    }

    /// Places blocks below one another over the whole width.
    pub(crate) fn place(&mut self, blocks: Vec<Block>) {
        self.at = self.fill(self.at, 0.0, blocks);
    }

    /// Places two columns side by side, the right one so far right; both begin here, and
    /// what follows stands below the longer.
    pub(crate) fn place_beside(&mut self, left: Vec<Block>, right: Vec<Block>, across: f64) {
        let begin = self.at;
        let ends = [self.fill(begin, 0.0, left), self.fill(begin, across, right)];
        self.at = match ends[0] >= ends[1] {
            true => ends[0],
            false => ends[1],
        };
    }

    fn fill(&mut self, from: Spot, x: f64, blocks: Vec<Block>) -> Spot {
        let mut at = from;
        let mut blocks = blocks.into_iter().peekable();
        while let Some(first) = blocks.next() {
            let mut group = vec![first];
            while group.last().is_some_and(|block| block.leads) {
                match blocks.next() {
                    Some(block) => group.push(block),
                    None => break,
                }
            }
            at = self.set(at, x, group);
        }
        at
    }

    /// Blocks that stay together.
    fn set(&mut self, mut at: Spot, x: f64, group: Vec<Block>) -> Spot {
        let high: f64 = group.iter().map(|block| block.above + block.high).sum();
        let begins = self.begins(at);
        if at.y + high > self.low() && at.y > begins {
            at = Spot {
                page: at.page + 1,
                y: self.top(at.page + 1),
            };
        }
        let mut is_first = at.y <= self.begins(at);
        for block in group {
            let gap = if is_first { 0.0 } else { block.above };
            is_first = false;
            if self.pages.len() <= at.page {
                self.pages.resize(at.page + 1, Vec::new());
            }
            let high = block.high;
            let placed = block.shifted([MARGIN + x, at.y + gap]);
            self.pages[at.page].extend(placed.items);
            at.y += gap + high;
        }
        at
    }

    fn top(&self, page: usize) -> f64 {
        MARGIN + if page > 0 { self.head } else { 0.0 }
    }

    fn begins(&self, at: Spot) -> f64 {
        self.top(at.page) + 1e-9
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(high: f64) -> Block {
        Block::new(high, Vec::new())
    }

    /// The page and the height at which the blocks end.
    fn after(blocks: Vec<Block>) -> (usize, f64) {
        let mut flow = Flow::new(Paper::A4, 10.0, 12.0);
        flow.place(blocks);
        (flow.at.page, flow.at.y)
    }

    #[test]
    fn what_does_not_fit_goes_to_the_next_page_below_its_head() {
        // 255 mm between the upper margin and the foot.
        assert_eq!(after(vec![block(200.0), block(55.0)]), (0, 270.0));
        assert_eq!(after(vec![block(200.0), block(55.1)]), (1, 80.1));
        let gap = block(20.0).above(7.0);
        assert_eq!(
            after(vec![block(250.0), gap.clone()]),
            (1, 45.0),
            "no gap on top"
        );
        assert_eq!(after(vec![block(50.0), gap]), (0, 92.0));
    }

    #[test]
    fn a_head_is_never_the_last_of_a_page() {
        let head = block(10.0).leading();
        assert_eq!(after(vec![block(240.0), head, block(20.0)]), (1, 55.0));
    }

    #[test]
    fn what_follows_two_columns_stands_below_the_longer() {
        let mut flow = Flow::new(Paper::Letter, 10.0, 12.0);
        flow.place_beside(vec![block(100.0)], vec![block(200.0), block(60.0)], 90.0);
        assert_eq!((flow.at.page, flow.at.y), (1, 85.0));
        assert_eq!(flow.pages.len(), 2);
    }
}
