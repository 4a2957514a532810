//! The sizes of type on paper, and blocks of words set in them.
//!
//! Nothing is smaller than 8.3 points.

use super::block::Block;
use super::lettering::{Face, Lettering};
use super::paper::{Ink, Item, Meaning, Words};

/// Millimetres in a typographic point of 1/72 inch.
const POINT: f64 = 25.4 / 72.0;

/// Face, size and tone of some words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Style {
    pub(crate) face: Face,
    /// Size of the type, mm.
    pub(crate) size: f64,
    /// From one line to the next, mm.
    pub(crate) leading: f64,
    pub(crate) ink: Ink,
}

impl Style {
    const fn new(face: Face, points: f64, leading: f64, ink: Ink) -> Self {
        Self {
            face,
            size: points * POINT,
            leading: leading * POINT,
            ink,
        }
    }

    /// The name of the piece.
    pub(crate) const TITLE: Self = Self::new(Face::Figures, 25.0, 28.0, Ink::BLACK);
    /// A name that needs more than one line.
    pub(crate) const LONG_TITLE: Self = Self::new(Face::Figures, 17.0, 20.0, Ink::BLACK);
    /// The name on further pages.
    pub(crate) const RUNNING: Self = Self::new(Face::Figures, 12.0, 14.0, Ink::BLACK);
    /// What the piece is.
    pub(crate) const LEAD: Self = Self::new(Face::Regular, 10.5, 14.0, Ink::BLACK);
    /// Head of a section.
    pub(crate) const HEAD: Self = Self::new(Face::Italic, 15.0, 18.0, Ink::BLACK);
    /// The word over the date.
    pub(crate) const UNIT_HEAD: Self = Self::new(Face::Italic, 12.5, 15.0, Ink::BLACK);
    /// Head of a section where room is short.
    pub(crate) const SMALL_HEAD: Self = Self::new(Face::Italic, 12.5, 15.0, Ink::BLACK);
    /// One of the four figures.
    pub(crate) const FIGURE: Self = Self::new(Face::Figures, 20.0, 22.0, Ink::BLACK);
    /// Its unit.
    pub(crate) const UNIT: Self = Self::new(Face::Italic, 10.5, 12.0, Ink::SOFT);
    /// A value at the end of a row.
    pub(crate) const VALUE: Self = Self::new(Face::Figures, 12.0, 14.0, Ink::BLACK);
    /// A name.
    pub(crate) const NAME: Self = Self::new(Face::Semibold, 9.5, 12.0, Ink::BLACK);
    /// Running text.
    pub(crate) const TEXT: Self = Self::new(Face::Regular, 9.5, 12.5, Ink::BLACK);
    /// A remark.
    pub(crate) const NOTE: Self = Self::new(Face::Regular, 8.5, 11.0, Ink::SOFT);
    /// What stands in the foot.
    pub(crate) const SMALL: Self = Self::new(Face::Regular, 8.3, 10.0, Ink::SOFT);
    /// A figure with a fraction: the pattern-book face makes none.
    pub(crate) const FRACTION: Self = Self::new(Face::Regular, 18.0, 22.0, Ink::BLACK);
    /// Such a value at the end of a row.
    pub(crate) const FRACTION_VALUE: Self = Self::new(Face::Regular, 11.0, 14.0, Ink::BLACK);
    /// A remark where room is short.
    pub(crate) const CLOSE: Self = Self::new(Face::Regular, 8.3, 10.0, Ink::SOFT);
    /// Numbers on a drawing.
    pub(crate) const NUMBER: Self = Self::new(Face::Regular, 8.3, 10.0, Ink::SOFT);
    /// The same where they count.
    pub(crate) const BOLD: Self = Self::new(Face::Bold, 8.3, 10.0, Ink::BLACK);
    /// Letters of strands, moves.
    pub(crate) const LETTER: Self = Self::new(Face::Bold, 9.5, 12.0, Ink::BLACK);

    /// This style for a figure: another face where it has a fraction.
    pub(crate) fn for_figure(self, figure: &str) -> Self {
        let has_fraction = figure.contains(['⁄', '½', '¼', '¾', '⅛', '⅜', '⅝', '⅞']);
        match has_fraction {
            true if self == Self::FIGURE => Self::FRACTION,
            true if self == Self::VALUE => Self::FRACTION_VALUE,
            _ => self,
        }
    }

    /// How far below a middle line the base line of its figures lies, mm.
    pub(crate) fn drop(self) -> f64 {
        let capitals = match self.face {
            Face::Figures | Face::Italic => 0.66,
            _ => 0.72,
        };
        capitals * self.size / 2.0
    }
}

impl Lettering {
    /// How wide a text is on one line, mm.
    pub(crate) fn wide(&self, style: Style, text: &str) -> f64 {
        self.width(style.face, text) * style.size
    }

    /// Words from the left end of their base line.
    pub(crate) fn words(&self, style: Style, at: [f64; 2], text: &str) -> Item {
        Item::Words(Words {
            at,
            line: self.line(style.face, text),
            size: style.size,
            ink: style.ink,
        })
    }

    /// Words up to the right end of their base line.
    pub(crate) fn words_to(&self, style: Style, [x, y]: [f64; 2], text: &str) -> Item {
        self.words(style, [x - self.wide(style, text), y], text)
    }

    /// Words round a point.
    pub(crate) fn words_round(&self, style: Style, [x, y]: [f64; 2], text: &str) -> Item {
        let at = [x - self.wide(style, text) / 2.0, y + style.drop()];
        self.words(style, at, text)
    }

    /// A text in a column, in as many lines as it takes.
    pub(crate) fn column(&self, style: Style, text: &str, wide: f64) -> Block {
        let mut items = Vec::new();
        // Half of what the lines are apart beyond the type itself stands above it.
        let first = style.leading / 2.0 + style.drop();
        let lines = self.lines(style.face, text, wide / style.size);
        for (i, line) in lines.iter().enumerate() {
            items.push(Item::Words(Words {
                at: [0.0, first + i as f64 * style.leading],
                line: line.clone(),
                size: style.size,
                ink: style.ink,
            }));
        }
        let high = lines.len() as f64 * style.leading;
        Block::new(high, vec![Item::part(Meaning::Text, items)])
    }
}
