//! One change of the makings of a cord, as data and in words.

use std::collections::BTreeSet;

use super::makings::{Makings, around};
use crate::material::Strand;
use crate::quantity::{Mass, UnitSystem};
use crate::structure::{MoveList, Structure};

/// What a maker may leave free.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Freedom {
    /// How many ends a strand has of a fibre.
    Ends,
    /// Another size of the same fibre.
    Size,
    /// How many strands, of a structure of the same name.
    Strands,
    /// Another structure.
    Structure,
    /// The counterweight.
    Counterweight,
}

impl Freedom {
    /// All of them, the gentlest last.
    pub const ALL: [Self; 5] = [
        Self::Ends,
        Self::Size,
        Self::Strands,
        Self::Structure,
        Self::Counterweight,
    ];

    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Ends => "ends in a strand",
            Self::Size => "size of the fibre",
            Self::Strands => "number of strands",
            Self::Structure => "structure",
            Self::Counterweight => "counterweight",
        }
    }
}

/// A change of the makings.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Other ends of a fibre wherever a strand has so many of it.
    Ends {
        /// The fibre's name.
        fibre: String,
        /// How many there are.
        from: u16,
        /// How many there will be.
        to: u16,
    },
    /// Another size of a fibre in all strands, in the colours there are.
    Size {
        /// The fibre's name.
        from: String,
        /// Name of the fibre in its place.
        to: String,
    },
    /// Other moves, for as many strands or for others.
    Structure {
        /// Name of the structure, number of strands.
        from: (String, usize),
        /// The same of the one in its place.
        to: (String, usize),
    },
    /// Another counterweight.
    Counterweight {
        /// Grams now.
        from: f64,
        /// Grams then.
        to: f64,
    },
}

/// How unlike a cord looks after a change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Look {
    /// The same strands in the same structure.
    Kept,
    /// The same structure of thicker or thinner strands.
    OtherSize,
    /// Another structure, or another number of strands.
    OtherStructure,
}

impl Look {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Kept => "look kept",
            Self::OtherSize => "same structure, other size",
            Self::OtherStructure => "another structure",
        }
    }
}

impl Change {
    /// What it takes a liberty with.
    pub fn freedoms(&self) -> BTreeSet<Freedom> {
        match self {
            Self::Ends { .. } => [Freedom::Ends].into(),
            Self::Size { .. } => [Freedom::Size].into(),
            Self::Counterweight { .. } => [Freedom::Counterweight].into(),
            Self::Structure { from, to } => {
                let strands = (from.1 != to.1).then_some(Freedom::Strands);
                let structure = (from.0 != to.0).then_some(Freedom::Structure);
                strands.into_iter().chain(structure).collect()
            }
        }
    }

    /// How unlike the cord looks.
    pub fn look(&self) -> Look {
        match self {
            Self::Counterweight { .. } => Look::Kept,
            Self::Ends { .. } | Self::Size { .. } => Look::OtherSize,
            Self::Structure { .. } => Look::OtherStructure,
        }
    }

    /// In plain words: `pearl cotton no. 5: two ends, not three`.
    pub fn words(&self, units: UnitSystem) -> String {
        match self {
            Self::Ends { fibre, from, to } => format!("{fibre}: {}", ends(*from, *to)),
            Self::Size { from, to } => format!("{to}, not {}", unlike(from, to)),
            Self::Structure { from, to } if from.0 == to.0 => {
                format!("{}, not {}", of_so_many(to), from.1)
            }
            Self::Structure { to, .. } => of_so_many(to),
            Self::Counterweight { from, to } => {
                let written = |grams: &f64| Mass::from_grams(*grams).written(units);
                format!("counterweight {}, not {}", written(to), written(from))
            }
        }
    }

    /// The same behind the change before it, with no word twice.
    pub(super) fn words_after(&self, before: &Self, units: UnitSystem) -> String {
        match (before, self) {
            (Self::Size { to: size, .. }, Self::Ends { fibre, from, to }) if size == fibre => {
                ends(*from, *to)
            }
            _ => self.words(units),
        }
    }

    /// How much it changes, in half spreads of the figure that a maker would rather
    /// miss by. Our guess; the order matters, a structure most, a weight least.
    pub(super) fn weight(&self) -> f64 {
        let far = |from: f64, to: f64| (to / from).ln().abs();
        match self {
            Self::Counterweight { from, to } => 0.10 + 0.15 * far(*from, *to),
            Self::Ends { from, to, .. } => 0.15 + 0.1 * far(f64::from(*from), f64::from(*to)),
            Self::Size { .. } => 0.25,
            Self::Structure { from, to } => {
                let name = if from.0 == to.0 { 0.35 } else { 0.5 };
                name + 0.3 * far(from.1 as f64, to.1 as f64)
            }
        }
    }
}

/// `two ends, not three`.
fn ends(from: u16, to: u16) -> String {
    let noun = if to == 1 { "end" } else { "ends" };
    format!("{} {noun}, not {}", number(to), number(from))
}

/// `round spiral of 12`; `hollow, one over one, of 12`.
fn of_so_many((name, strands): &(String, usize)) -> String {
    let comma = if name.contains(',') { "," } else { "" };
    format!("{}{comma} of {strands}", lower(name))
}

/// The part of one name by which it differs from another of its family:
/// `2 mm` of `satin cord 2 mm, polyester` beside `satin cord 1 mm, polyester`.
fn unlike(name: &str, other: &str) -> String {
    let words = |text: &str| -> Vec<String> { text.split(' ').map(str::to_owned).collect() };
    let (own, others) = (words(name), words(other));
    let shorter = own.len().min(others.len());
    let before = (0..shorter).take_while(|&k| own[k] == others[k]).count();
    let (ends, endings) = (own.iter().rev(), others.iter().rev());
    let after = ends.zip(endings).take_while(|(a, b)| a == b).count();
    let mut last = own.len() - after.min(shorter - before);
    if own.get(last).is_some_and(|word| word.starts_with("mm")) {
        last += 1;
    }
    own[before..last].join(" ").trim_end_matches(',').to_owned()
}

fn number(count: u16) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    let word = WORDS.get(usize::from(count));
    word.map_or_else(|| count.to_string(), |&word| word.to_owned())
}

fn lower(name: &str) -> String {
    let mut letters = name.chars();
    let first = letters.next().map(|first| first.to_lowercase());
    first.into_iter().flatten().chain(letters).collect()
}

impl Makings {
    /// The same with other ends of a fibre.
    pub(super) fn with_ends(&self, fibre: &str, from: u16, to: u16) -> (Self, Change) {
        let mut other = self.clone();
        for part in other.strands.iter_mut().flat_map(|it| &mut it.parts) {
            if part.fibre == fibre && part.ends == from {
                part.ends = to;
            }
        }
        let fibre = fibre.to_owned();
        (other, Change::Ends { fibre, from, to })
    }

    /// The same with a fibre of another size; none if there is no fibre of that name.
    pub(super) fn with_size(&self, from: &str, to: &str) -> Option<(Self, Change)> {
        let fibre = self.fibre(to)?.clone();
        let mut other = self.clone();
        other.bring(&fibre);
        for part in other.strands.iter_mut().flat_map(|it| &mut it.parts) {
            if part.fibre == from {
                to.clone_into(&mut part.fibre);
            }
        }
        let (from, to) = (from.to_owned(), to.to_owned());
        Some((other, Change::Size { from, to }))
    }

    /// The same strands laid round the disc for other moves.
    pub(super) fn with_structure(&self, structure: &Structure) -> (Self, Change) {
        let (name, mirrored) = unmirrored(&self.structure);
        let mut other = self.clone();
        if mirrored {
            other.moves = structure.moves.mirrored();
            other.structure = format!("{}{MIRRORED}", structure.name);
        } else {
            other.moves.clone_from(&structure.moves);
            other.structure.clone_from(&structure.name);
        }
        other.strands = self.laid(&other.moves);
        let from = (name.to_owned(), self.strands.len());
        let to = (structure.name.clone(), structure.strands());
        (other, Change::Structure { from, to })
    }

    /// The same with another counterweight, g.
    pub(super) fn with_weight(&self, grams: f64) -> (Self, Change) {
        let mut other = self.clone();
        other.counterweight = grams;
        let (from, to) = (self.counterweight, grams);
        (other, Change::Counterweight { from, to })
    }

    /// These strands for the places of other moves, clockwise: what comes again round
    /// the disc comes as often as it goes in; what does not is drawn out or together,
    /// so that neighbours and shares stay.
    fn laid(&self, moves: &MoveList) -> Vec<Strand> {
        let before: Vec<&Strand> = self.around().iter().map(|&i| &self.strands[i]).collect();
        let (old, new) = (before.len(), moves.start.len());
        let repeat = repeat(&before);
        let place = |k: usize| {
            if new.is_multiple_of(repeat) {
                k % repeat
            } else {
                k * old / new
            }
        };
        let mut strands = vec![before[0].clone(); new];
        for (k, strand) in around(moves).into_iter().enumerate() {
            strands[strand] = before[place(k)].clone();
        }
        strands
    }
}

/// After how many places round the disc the strands come again.
fn repeat(strands: &[&Strand]) -> usize {
    let n = strands.len();
    let comes_again = |step: &usize| (0..n).all(|k| strands[k] == strands[(k + step) % n]);
    let steps = (1..=n).filter(|step| n.is_multiple_of(*step));
    steps.into_iter().find(comes_again).unwrap_or(n)
}

/// The remark after the name of a structure seen in a mirror.
const MIRRORED: &str = ", mirrored";

/// The name of a structure without that remark, and whether it had it.
pub(super) fn unmirrored(name: &str) -> (&str, bool) {
    match name.strip_suffix(MIRRORED) {
        Some(plain) => (plain, true),
        None => (name, false),
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample::{coloured, cord_of};
    use super::*;
    use crate::structure::shelf;

    #[test]
    fn a_change_is_told_in_the_words_of_the_trade() {
        let ends = Change::Ends {
            fibre: "pearl cotton no. 5".to_owned(),
            from: 3,
            to: 2,
        };
        let size = |from: &str, to: &str| Change::Size {
            from: from.to_owned(),
            to: to.to_owned(),
        };
        let satin = size("satin cord 2 mm, polyester", "satin cord 1.5 mm, polyester");
        let pearl = size("pearl cotton no. 8", "pearl cotton no. 5");
        let wool = size(
            "knitting yarn fine (weight 2), wool",
            "knitting yarn super fine (weight 1), wool",
        );
        let weight = Change::Counterweight {
            from: 70.0,
            to: 90.0,
        };
        let said = [ends, satin, pearl, wool, weight].map(|it| it.words(UnitSystem::Millimetres));
        assert_eq!(
            said,
            [
                "pearl cotton no. 5: two ends, not three",
                "satin cord 1.5 mm, polyester, not 2 mm",
                "pearl cotton no. 5, not 8",
                "knitting yarn super fine (weight 1), wool, not fine (weight 2)",
                "counterweight 90 g, not 70 g",
            ]
        );
    }

    fn spiral(strands: usize) -> &'static Structure {
        let mut lists = shelf().iter();
        let found = lists.find(|it| it.name == "Round spiral" && it.strands() == strands);
        found.expect("on the shelf")
    }

    fn colours_around(makings: &Makings) -> Vec<u8> {
        let colour = |strand: usize| makings.strands[strand].parts[0].colour.0[0];
        makings.around().into_iter().map(colour).collect()
    }

    #[test]
    fn colours_that_come_again_come_as_often_as_they_go_into_the_new_cord() {
        let makings = coloured(cord_of("Round spiral", 8), &[1, 2, 1, 2, 1, 2, 1, 2]);
        let (twelve, change) = makings.with_structure(spiral(12));
        assert_eq!(
            colours_around(&twelve),
            [1, 2, 1, 2, 1, 2, 1, 2, 1, 2, 1, 2]
        );
        assert_eq!(change.freedoms(), [Freedom::Strands].into());
        let told = change.words(UnitSystem::Millimetres);
        assert_eq!(told, "round spiral of 12, not 8");
    }

    #[test]
    fn colours_that_do_not_come_again_keep_their_shares_and_their_neighbours() {
        let makings = coloured(cord_of("Round spiral", 8), &[1, 1, 1, 1, 2, 2, 3, 3]);
        let (twelve, _) = makings.with_structure(spiral(12));
        assert_eq!(
            colours_around(&twelve),
            [1, 1, 1, 1, 1, 1, 2, 2, 2, 3, 3, 3]
        );
        let (six, _) = makings.with_structure(spiral(6));
        assert_eq!(colours_around(&six), [1, 1, 1, 2, 2, 3]);
    }

    #[test]
    fn what_was_mirrored_stays_mirrored() {
        let mut makings = cord_of("Round spiral", 8);
        makings.moves = makings.moves.mirrored();
        makings.structure = "Round spiral, mirrored".to_owned();
        let (twelve, change) = makings.with_structure(spiral(12));
        assert_eq!(twelve.structure, "Round spiral, mirrored");
        assert_eq!(twelve.moves, spiral(12).moves.mirrored());
        assert_eq!(change.freedoms(), [Freedom::Strands].into());
    }
}
