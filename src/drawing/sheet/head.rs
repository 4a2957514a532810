//! Head and foot of the pages.

use super::Sheet;
use super::block::Block;
use super::outline::Outline;
use super::paper::{Ink, Item, MARGIN, Meaning, Page, Pen};
use super::style::Style;
use crate::cord::Hand;
use crate::quantity::UnitSystem;

/// Kept free at the right of the name for date and page, mm.
const ASIDE: f64 = 48.0;
/// Height of the running head of further pages, mm.
pub(crate) const RUNNING: f64 = 11.0;
/// Height of the foot, mm.
pub(crate) const FOOT: f64 = 11.5;

/// Beside the bars.
const CHECK: &str = "100 mm, below it 4 in: check with a rule, print at 100 %";
const CARE: &str = "Decorative cord only; a measured swatch comes first";

impl Sheet<'_> {
    /// The head of a section with a remark at its right end, over a rule.
    pub(crate) fn section(&self, head: &str, remark: &str, wide: f64) -> Block {
        let set = &self.lettering;
        let style = if self.density.run_in {
            Style::SMALL_HEAD
        } else {
            Style::HEAD
        };
        let base = 0.95 * style.size;
        let words = vec![set.words(style, [0.0, base], head)];
        let mut block = Block::new(base, vec![Item::part(Meaning::Head, words)]);
        let left = set.wide(style, head) + 5.0;
        if set.wide(Style::NOTE, remark) <= wide - left {
            let words = set.words_to(Style::NOTE, [wide, base], remark);
            block.items.push(Item::part(Meaning::Text, vec![words]));
        } else {
            block.push(set.column(Style::NOTE, remark, wide).above(0.8));
        }
        let y = block.high + 0.38 * style.size;
        let pen = Pen::new(0.4, Ink::BLACK);
        block.items.push(Item::rule([0.0, y], [wide, y], pen));
        block.high = y + 0.32 * style.size;
        block.leading()
    }
}

impl Sheet<'_> {
    /// Name, what the piece is, date and units; the pages are numbered later.
    pub(crate) fn head(&self) -> Block {
        let room = self.wide - ASIDE;
        let name = &self.input.design.name;
        let is_short = self.lettering.wide(Style::TITLE, name) <= room;
        let style = if is_short {
            Style::TITLE
        } else {
            Style::LONG_TITLE
        };
        let mut head = self.lettering.column(style, name, room);
        as_title(&mut head);
        let what = self.lettering.column(Style::LEAD, &self.what(), room);
        head.push(what.above(0.6));
        let sheet = Item::part(
            Meaning::Text,
            vec![
                self.lettering
                    .words_to(Style::UNIT_HEAD, [self.wide, 5.0], "Work sheet"),
                self.lettering
                    .words_to(Style::NOTE, [self.wide, 9.6], &self.dated()),
            ],
        );
        head.items.push(sheet);
        head.high = head.high.max(14.0);
        head.push(rule(self.wide, 0.5, Ink::BLACK).above(1.8));
        head
    }

    /// The kind of piece, the structure, the lay.
    fn what(&self) -> String {
        let design = self.input.design;
        let strands = design.strands.len();
        let structure = design.sections.first().map_or("", |s| &s.structure);
        let lay = match self.input.figures.hand {
            Hand::S => ", S lay",
            Hand::Z => ", Z lay",
            Hand::None => "",
        };
        let core = match design.cores().len() {
            0 => String::new(),
            1 => " round a core".to_owned(),
            n => format!(" round {n} cores"),
        };
        let structure = match structure {
            "" => "Own moves",
            named => named,
        };
        format!(
            "{}. {structure}, {strands} strands{core}{lay}.",
            self.piece()
        )
    }

    fn dated(&self) -> String {
        let units = match self.input.units {
            UnitSystem::Millimetres => "millimetres",
            UnitSystem::Inches => "inches",
        };
        match self.input.date {
            "" => units.to_owned(),
            date => format!("{date}, {units}"),
        }
    }

    /// Numbers the pages, and gives each what stands on all of them.
    pub(crate) fn finish_pages(&self, pages: Vec<Vec<Item>>) -> Vec<Page> {
        let count = pages.len();
        let size = self.input.paper.size();
        let numbered = pages.into_iter().enumerate();
        let page = |(i, mut items): (usize, Vec<Item>)| {
            let mut above = match i {
                0 => self.number([self.wide, 14.0], 1, count),
                _ => self.running(i + 1, count),
            };
            above.shift([MARGIN, MARGIN]);
            items.push(above);
            let mut foot = self.foot();
            foot.shift([MARGIN, size[1] - MARGIN - FOOT]);
            items.push(foot);
            Page { size, items }
        };
        numbered.map(page).collect()
    }

    fn number(&self, at: [f64; 2], page: usize, count: usize) -> Item {
        let text = match self.input.copy {
            "" => format!("page {page} of {count}"),
            copy => format!("{copy}, page {page} of {count}"),
        };
        let words = self.lettering.words_to(Style::NOTE, at, &text);
        Item::part(Meaning::Furniture, vec![words])
    }

    /// The head of a further page: the name, shortened if it must be.
    fn running(&self, page: usize, count: usize) -> Item {
        let style = Style::RUNNING;
        let room = (self.wide - ASIDE) / style.size;
        let lines = self
            .lettering
            .lines(style.face, &self.input.design.name, room);
        let name = match lines.as_slice() {
            [first, _, ..] => format!("{} …", first.text),
            [first] => first.text.clone(),
            [] => String::new(),
        };
        let pen = Pen::new(0.4, Ink::BLACK);
        Item::part(
            Meaning::Furniture,
            vec![
                self.lettering.words(style, [0.0, 4.2], &name),
                self.number([self.wide, 4.2], page, count),
                Item::rule([0.0, 6.2], [self.wide, 6.2], pen),
            ],
        )
    }

    /// Two bars to check the printer by, and what must never be forgotten.
    fn foot(&self) -> Item {
        let mut items = vec![Item::rule(
            [0.0, 0.8],
            [self.wide, 0.8],
            Pen::new(0.2, Ink::RULE),
        )];
        items.extend(bar([0.0, 3.2], 100.0, 10.0));
        items.extend(bar([0.0, 8.2], 4.0 * 25.4, 25.4));
        let x = 105.0;
        for (y, text) in [(5.1, CHECK), (10.1, CARE)] {
            items.push(self.lettering.words(Style::SMALL, [x, y], text));
        }
        Item::part(Meaning::Furniture, items)
    }
}

/// A bar so long, black and white in turn, each part so long; mm.
fn bar([x, y]: [f64; 2], long: f64, part: f64) -> Vec<Item> {
    const HIGH: f64 = 1.8;
    let parts = (long / part).round() as usize;
    let black = (0..parts).step_by(2).map(|i| {
        let at = [x + i as f64 * part, y];
        Item::filled(Outline::rect(at, [part, HIGH]), Ink::BLACK)
    });
    let frame = Outline::rect([x, y], [long, HIGH]);
    let mut items: Vec<Item> = black.collect();
    items.push(Item::drawn(frame, Pen::new(0.15, Ink::BLACK)));
    items
}

/// A rule over the whole width.
pub(crate) fn rule(wide: f64, width: f64, ink: Ink) -> Block {
    let pen = Pen::new(width, ink);
    Block::new(width, vec![Item::rule([0.0; 2], [wide, 0.0], pen)])
}

fn as_title(block: &mut Block) {
    for item in &mut block.items {
        if let Item::Part(part) = item {
            part.meaning = Meaning::Title;
        }
    }
}
