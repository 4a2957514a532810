//! What an arrangement looks like, in plain words.
//!
//! Nothing is known beforehand of any structure: the words come from how stitches of
//! one colour hang together on the surface. Round the cord and up it: S and Z are as
//! for yarn, the middle stroke of the letter.

use std::collections::BTreeMap;

use super::Arrangement;
use super::mosaic::Mosaic;
use super::patches::{Patch, Run, patches};
use crate::cord::Hand;

/// What the eye sees first, the plainest figure first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// One colour all over.
    Plain,
    /// Bands that go round the cord on their way up.
    Spirals,
    /// Straight bands along the cord.
    Lines,
    /// Bands along the cord that go to and fro.
    Zigzags,
    /// Closed rings.
    Rings,
    /// Islands of several stitches.
    Blocks,
    /// Single stitches.
    Flecks,
    /// What hangs together all over, with other colours in it.
    Ground,
    /// Not to be seen.
    Hidden,
}

impl Kind {
    /// Every kind that a look can be called by.
    pub const OF_LOOKS: [Self; 7] = [
        Self::Plain,
        Self::Spirals,
        Self::Lines,
        Self::Zigzags,
        Self::Rings,
        Self::Blocks,
        Self::Flecks,
    ];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Spirals => "spirals",
            Self::Lines => "lengthwise lines",
            Self::Zigzags => "zigzags",
            Self::Rings => "rings",
            Self::Blocks => "blocks",
            Self::Flecks => "flecks",
            Self::Ground => "ground",
            Self::Hidden => "not to be seen",
        }
    }
}

/// What one colour shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// The colour.
    pub colour: u8,
    /// Most of its area.
    pub kind: Kind,
    /// Bands met at every height, for spirals, lines and zigzags; rings, blocks and
    /// flecks until the colours come again; 1 of anything else.
    pub number: usize,
    /// Which way spirals go; none for anything else.
    pub hand: Hand,
    /// How far spirals lean from the length of the cord, degrees; 0 for anything else.
    pub lean: f64,
    /// How many strands lie side by side in each band, in the mean; 0 if that is no whole
    /// number.
    pub strands_each: usize,
    /// Share of the surface.
    pub share: f64,
    /// "two spirals, Z, three strands in each".
    pub sentence: String,
}

/// What an arrangement shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Words {
    /// What the eye sees first.
    pub kind: Kind,
    /// All of it: "two spirals, Z" or "flecks on a ground".
    pub sentence: String,
    /// Colour by colour, in the order of the list of colours.
    pub colours: Vec<Shown>,
}

/// A band that leans less is along the cord, degrees. Our guess: over the length
/// of a bracelet such a line does not come to the other side.
const UPRIGHT: f64 = 9.0;

/// A band that goes to and fro by more than this share of its width is a zigzag.
/// Tried on cords of the shelf.
const WANDERS: f64 = 0.5;

/// Describes an arrangement on a surface.
pub fn describe(mosaic: &Mosaic, arrangement: &Arrangement) -> Words {
    let patches = patches(mosaic, arrangement);
    let mut by_colour: BTreeMap<u8, Vec<&Patch>> = BTreeMap::new();
    for &colour in &arrangement.0 {
        by_colour.entry(colour).or_default();
    }
    for patch in &patches {
        by_colour.entry(patch.colour).or_default().push(patch);
    }
    let is_alone = by_colour.len() == 1;
    let colours: Vec<Shown> = by_colour
        .iter()
        .map(|(&colour, patches)| {
            let strands = arrangement.strands_of(colour).len();
            shown(colour, strands, patches, is_alone)
        })
        .collect();
    let kinds = colours.iter().map(|shown| shown.kind);
    let kind = kinds.min().unwrap_or(Kind::Plain);
    Words {
        kind,
        sentence: together(kind, &colours),
        colours,
    }
}

fn shown(colour: u8, strands: usize, patches: &[&Patch], is_alone: bool) -> Shown {
    let mut areas: BTreeMap<(Kind, i8), f64> = BTreeMap::new();
    for patch in patches {
        *areas.entry(kind_and_hand(patch)).or_default() += patch.share;
    }
    let most = areas.iter().max_by(|a, b| a.1.total_cmp(b.1));
    let (kind, hand) = most.map_or((Kind::Hidden, 0), |(&key, _)| key);
    let of_kind = || {
        let all = patches.iter().copied();
        all.filter(|patch| kind_and_hand(patch) == (kind, hand))
    };
    let number = of_kind().map(|patch| patch.number()).sum::<usize>().max(1);
    let shown = Shown {
        colour,
        kind: if is_alone { Kind::Plain } else { kind },
        number,
        hand: match hand {
            1 => Hand::Z,
            -1 => Hand::S,
            _ => Hand::None,
        },
        lean: of_kind()
            .map(|patch| patch.lean().abs())
            .fold(0.0, f64::max),
        strands_each: if strands.is_multiple_of(number) {
            strands / number
        } else {
            0
        },
        share: patches.iter().map(|patch| patch.share).sum(),
        sentence: String::new(),
    };
    let shown = if kind == Kind::Spirals {
        shown
    } else {
        Shown { lean: 0.0, ..shown }
    };
    let sentence = shown.in_words();
    Shown { sentence, ..shown }
}

fn kind_and_hand(patch: &Patch) -> (Kind, i8) {
    match patch.run {
        Run::Ground => (Kind::Ground, 0),
        Run::Island if patch.stitches == 1 => (Kind::Flecks, 0),
        Run::Island => (Kind::Blocks, 0),
        Run::Band { times: 0, .. } => (Kind::Rings, 0),
        Run::Band { .. } if patch.lean() >= UPRIGHT => (Kind::Spirals, 1),
        Run::Band { .. } if patch.lean() <= -UPRIGHT => (Kind::Spirals, -1),
        Run::Band { wander, .. } if wander > WANDERS => (Kind::Zigzags, 0),
        Run::Band { .. } => (Kind::Lines, 0),
    }
}

impl Patch {
    /// Degrees that a band leans from the length of the cord, positive for Z.
    fn lean(&self) -> f64 {
        match self.run {
            Run::Band {
                times, round, up, ..
            } if times > 0 => round.atan2(up).to_degrees(),
            _ => 0.0,
        }
    }

    fn number(&self) -> usize {
        match self.run {
            Run::Band { times, .. } => times.max(1),
            Run::Island | Run::Ground => 1,
        }
    }
}

impl Shown {
    fn in_words(&self) -> String {
        let number = in_letters(self.number);
        let each = match (self.strands_each, self.number) {
            (0, _) => String::new(),
            (1, 1) => ", of one strand".to_owned(),
            (1, _) => ", one strand in each".to_owned(),
            (some, 1) => format!(", of {} strands", in_letters(some)),
            (some, _) => format!(", {} strands in each", in_letters(some)),
        };
        let s = if self.number == 1 { "" } else { "s" };
        match self.kind {
            Kind::Spirals => format!("{number} spiral{s}, {}{each}", letter(self.hand)),
            Kind::Lines => format!("{number} lengthwise line{s}{each}"),
            Kind::Zigzags => format!("{number} zigzag{s}{each}"),
            other => other.word().to_owned(),
        }
    }
}

/// The kind of a look in words, with how many bands there are of all colours, and
/// what else there is.
fn together(kind: Kind, colours: &[Shown]) -> String {
    let first = || colours.iter().filter(|shown| shown.kind == kind);
    let number: usize = first().map(|shown| shown.number).sum();
    let mut hands: Vec<&str> = first().map(|shown| letter(shown.hand)).collect();
    hands.sort_unstable();
    hands.dedup();
    let s = if number == 1 { "" } else { "s" };
    let number = in_letters(number);
    let main = match kind {
        Kind::Spirals => format!("{number} spiral{s}, {}", hands.join(" and ")),
        Kind::Lines => format!("{number} lengthwise line{s}"),
        Kind::Zigzags => format!("{number} zigzag{s}"),
        other => other.word().to_owned(),
    };
    let mut others: Vec<Kind> = colours.iter().map(|shown| shown.kind).collect();
    others.sort();
    others.dedup();
    let said = |other: &Kind| *other != kind && *other != Kind::Hidden;
    let rest: Vec<&str> = others
        .iter()
        .filter(|other| said(other))
        .map(|other| match other {
            Kind::Ground => "on a ground",
            Kind::Spirals => "with spirals",
            Kind::Lines => "with lengthwise lines",
            Kind::Zigzags => "with zigzags",
            Kind::Rings => "with rings",
            Kind::Blocks => "with blocks",
            _ => "with flecks",
        })
        .collect();
    [vec![main.as_str()], rest].concat().join(" ")
}

fn letter(hand: Hand) -> &'static str {
    match hand {
        Hand::S => "S",
        Hand::Z => "Z",
        Hand::None => "straight",
    }
}

/// A number in letters up to twelve.
fn in_letters(number: usize) -> String {
    const LETTERS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    LETTERS
        .get(number)
        .map_or_else(|| number.to_string(), |word| (*word).to_owned())
}
