//! Paper and what stands on it: lines, words, pictures, each with what it means.
//!
//! Millimetres from the upper left corner. Knows no cord and no file format.

use std::sync::Arc;

use super::lettering::Line;
use super::outline::Outline;
use crate::drawing::Raster;

/// A size of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Paper {
    /// 210 by 297 mm: ISO 216.
    #[default]
    A4,
    /// 8½ by 11 inches: ANSI/ASME Y14.1, size A.
    Letter,
}

impl Paper {
    /// Both.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
        }
    }

    /// Width and height, mm.
    pub fn size(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }
}

/// Left free all round, mm: what any printer can reach, and a hand can hold.
pub(crate) const MARGIN: f64 = 15.0;

/// How dark: 0 black, 255 white.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Ink(pub(crate) u8);

impl Ink {
    pub(crate) const BLACK: Self = Self(0x00);
    /// Text of second rank; 10 to 1 on white.
    pub(crate) const SOFT: Self = Self(0x40);
    /// Thin rules.
    pub(crate) const RULE: Self = Self(0x99);
    /// Help lines of a drawing.
    pub(crate) const FAINT: Self = Self(0xbb);
    pub(crate) const WHITE: Self = Self(0xff);
}

/// What draws a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pen {
    pub(crate) width: f64,
    pub(crate) ink: Ink,
    /// On and off; none for a whole line.
    pub(crate) dash: Option<[f64; 2]>,
    /// Whether ends and corners are round.
    pub(crate) round: bool,
}

impl Pen {
    /// A whole line.
    pub(crate) fn new(width: f64, ink: Ink) -> Self {
        Self {
            width,
            ink,
            dash: None,
            round: false,
        }
    }

    pub(crate) fn round(self) -> Self {
        Self {
            round: true,
            ..self
        }
    }

    pub(crate) fn dashed(self, on: f64, off: f64) -> Self {
        Self {
            dash: Some([on, off]),
            ..self
        }
    }
}

/// Words on one line.
#[derive(Debug, Clone)]
pub(crate) struct Words {
    /// Left end of the base line.
    pub(crate) at: [f64; 2],
    pub(crate) line: Arc<Line>,
    /// Size of the type, mm.
    pub(crate) size: f64,
    pub(crate) ink: Ink,
}

/// Pixels.
#[derive(Debug, Clone)]
pub(crate) struct Picture {
    pub(crate) at: [f64; 2],
    pub(crate) size: [f64; 2],
    pub(crate) raster: Arc<Raster>,
}

/// What a part of a page is, for whoever hears it read out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Meaning {
    /// The name of the piece.
    Title,
    /// A head.
    Head,
    /// Words.
    Text,
    /// Something drawn; what it shows, in words.
    Figure(String),
    /// Repeated on every page or only there to part things.
    Furniture,
}

/// Something on paper.
#[derive(Debug, Clone)]
pub(crate) enum Item {
    Shape {
        outline: Outline,
        fill: Option<Ink>,
        pen: Option<Pen>,
    },
    Words(Words),
    Picture(Picture),
    Part(Part),
}

/// Things that belong together.
#[derive(Debug, Clone)]
pub(crate) struct Part {
    pub(crate) meaning: Meaning,
    pub(crate) items: Vec<Item>,
}

impl Item {
    pub(crate) fn filled(outline: Outline, ink: Ink) -> Self {
        Self::Shape {
            outline,
            fill: Some(ink),
            pen: None,
        }
    }

    pub(crate) fn drawn(outline: Outline, pen: Pen) -> Self {
        Self::Shape {
            outline,
            fill: None,
            pen: Some(pen),
        }
    }

    pub(crate) fn both(outline: Outline, ink: Ink, pen: Pen) -> Self {
        Self::Shape {
            outline,
            fill: Some(ink),
            pen: Some(pen),
        }
    }

    /// A straight line.
    pub(crate) fn rule(from: [f64; 2], to: [f64; 2], pen: Pen) -> Self {
        Self::drawn(Outline::line(&[from, to]), pen)
    }

    pub(crate) fn part(meaning: Meaning, items: Vec<Self>) -> Self {
        Self::Part(Part { meaning, items })
    }

    /// The same elsewhere.
    pub(crate) fn shift(&mut self, by: [f64; 2]) {
        let moved = |at: &mut [f64; 2]| {
            at[0] += by[0];
            at[1] += by[1];
        };
        match self {
            Self::Shape { outline, .. } => outline.shift(by),
            Self::Words(words) => moved(&mut words.at),
            Self::Picture(picture) => moved(&mut picture.at),
            Self::Part(part) => part.items.iter_mut().for_each(|item| item.shift(by)),
        }
    }
}

/// One page.
#[derive(Debug, Clone)]
pub struct Page {
    /// Width and height, mm.
    pub(crate) size: [f64; 2],
    pub(crate) items: Vec<Item>,
}

impl Page {
    /// Width and height, mm.
    pub fn size(&self) -> [f64; 2] {
        self.size
    }
}
