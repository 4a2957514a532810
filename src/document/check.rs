//! Whether a design is sound in itself: finite, sensible, fitting together.
//!
//! The bounds are far outside anything braided on a disc (common practice, no
//! source); they only keep nonsense out of the solver. Whether the moves make
//! a braid is not asked here: an unsound list can be opened and mended.

use std::fmt;
use std::ops::RangeInclusive;

use super::design::{Bead, Braiding, Design, Section, strand_name};
use super::piece::check_piece;
use crate::cord::Tension;
use crate::material::{Fibre, Part, Strand};
use crate::structure::{MoveList, Place};

/// Most strands in a design.
pub const MOST_STRANDS: usize = 64;
/// Most moves in the list of a section.
pub const MOST_MOVES: usize = 4096;
/// Most ends of a fibre in a strand.
pub const MOST_ENDS: u16 = 99;
/// Most slots of a disc.
pub const MOST_SLOTS: u16 = 128;
/// Most fibres in a design.
const MOST_FIBRES: usize = 256;
/// Most fibres held together in a strand.
const MOST_PARTS: usize = 16;
/// Most of everything else there are lists of.
pub(super) const MOST: usize = 64;
/// Longest name, characters.
const LONGEST_NAME: usize = 200;
/// Longest remark, characters.
const LONGEST_NOTE: usize = 10_000;

/// A step on the way to a place in a design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Key {
    /// A field, by its name in the file.
    Field(&'static str),
    /// An item of a list.
    Item {
        /// Counted from 0.
        index: usize,
        /// What a person would call it; empty when the fault says so itself.
        called: String,
    },
}

/// What is wrong with a design, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DesignError {
    /// The way to the place.
    pub way: Vec<Key>,
    /// What is wrong there.
    pub fault: String,
}

impl fmt::Display for DesignError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = place_in_words(&self.way);
        if place.is_empty() {
            return f.write_str(&self.fault);
        }
        write!(f, "{place}: {}", self.fault)
    }
}

impl std::error::Error for DesignError {}

/// `strand C, part 1`; a list is named by its item alone.
fn place_in_words(way: &[Key]) -> String {
    let mut words = Vec::new();
    for (i, key) in way.iter().enumerate() {
        match key {
            Key::Item { called, .. } if called.is_empty() => {}
            Key::Item { called, .. } => words.push(called.clone()),
            Key::Field("design") => {}
            Key::Field(_) if matches!(way.get(i + 1), Some(Key::Item { .. })) => {}
            Key::Field(name) => words.push(name.replace('_', " ")),
        }
    }
    words.join(", ")
}

/// Where the check is, linked to where it came from.
pub(super) struct At<'a> {
    from: Option<&'a Self>,
    key: Option<Key>,
}

pub(super) type Checked = Result<(), DesignError>;

impl At<'_> {
    pub(super) fn root() -> At<'static> {
        At {
            from: None,
            key: None,
        }
    }

    pub(super) fn field(&self, name: &'static str) -> At<'_> {
        At {
            from: Some(self),
            key: Some(Key::Field(name)),
        }
    }

    pub(super) fn item(&self, index: usize, called: String) -> At<'_> {
        At {
            from: Some(self),
            key: Some(Key::Item { index, called }),
        }
    }

    pub(super) fn numbered(&self, what: &str, index: usize) -> At<'_> {
        self.item(index, format!("{what} {}", index + 1))
    }

    fn way(&self) -> Vec<Key> {
        let mut way = self.from.map(At::way).unwrap_or_default();
        way.extend(self.key.clone());
        way
    }

    /// The error of a fault here.
    pub(super) fn fault(&self, fault: impl Into<String>) -> DesignError {
        DesignError {
            way: self.way(),
            fault: fault.into(),
        }
    }

    pub(super) fn ensure(&self, sound: bool, fault: impl FnOnce() -> String) -> Checked {
        if sound {
            return Ok(());
        }
        Err(self.fault(fault()))
    }

    /// A number within bounds; `unit` stands behind the figures.
    pub(super) fn number(&self, value: f64, within: RangeInclusive<f64>, unit: &str) -> Checked {
        self.ensure(value.is_finite(), || format!("{value} is not a number"))?;
        self.ensure(within.contains(&value), || {
            let (low, high) = (within.start(), within.end());
            format!("{value} is not between {low} and {high}{unit}")
        })
    }

    pub(super) fn count(&self, n: usize, within: RangeInclusive<usize>, what: &str) -> Checked {
        self.ensure(within.contains(&n), || {
            let (low, high) = (within.start(), within.end());
            format!("there must be {low} to {high} {what}, not {n}")
        })
    }

    /// One line of text, which may be empty.
    pub(super) fn words(&self, text: &str) -> Checked {
        let whole = !text.chars().any(char::is_control);
        self.ensure(whole, || "it must be one line of plain text".into())?;
        self.length(text, LONGEST_NAME)
    }

    fn length(&self, text: &str, longest: usize) -> Checked {
        self.ensure(text.chars().count() <= longest, || {
            format!("it is longer than {longest} characters")
        })
    }
}

impl Design {
    /// [`Design::check`] with the way that leads to the design.
    pub(super) fn check_at(&self, at: &At<'_>) -> Checked {
        at.field("name").words(&self.name)?;
        at.field("note").length(&self.note, LONGEST_NOTE)?;
        check_fibres(&self.fibres, &at.field("fibres"))?;
        let strands = at.field("strands");
        strands.count(self.strands.len(), 1..=MOST_STRANDS, "strands")?;
        for (i, strand) in self.strands.iter().enumerate() {
            let here = strands.item(i, format!("strand {}", strand_name(i)));
            self.check_strand(strand, &here)?;
        }
        let sections = at.field("sections");
        sections.count(self.sections.len(), 1..=MOST, "sections")?;
        for (i, section) in self.sections.iter().enumerate() {
            self.check_section(section, &sections.numbered("section", i))?;
        }
        check_braiding(&self.braiding, &at.field("braiding"))?;
        check_piece(&self.piece, &at.field("piece"))
    }

    fn check_strand(&self, strand: &Strand, at: &At<'_>) -> Checked {
        let parts = at.field("parts");
        parts.count(strand.parts.len(), 1..=MOST_PARTS, "fibres held together")?;
        for (i, part) in strand.parts.iter().enumerate() {
            self.check_part(part, &parts.numbered("part", i))?;
        }
        Ok(())
    }

    fn check_part(&self, part: &Part, at: &At<'_>) -> Checked {
        at.ensure(self.fibre(&part.fibre).is_some(), || {
            format!("the fibre {:?} is not in the design", part.fibre)
        })?;
        at.ensure((1..=MOST_ENDS).contains(&part.ends), || {
            format!("there must be 1 to {MOST_ENDS} ends, not {}", part.ends)
        })
    }

    fn check_section(&self, section: &Section, at: &At<'_>) -> Checked {
        at.field("structure").words(&section.structure)?;
        check_moves(&section.moves, self.strands.len(), &at.field("moves"))?;
        let cores = at.field("cores");
        cores.count(section.cores.len(), 0..=MOST, "cores")?;
        for (i, core) in section.cores.iter().enumerate() {
            let here = cores.numbered("core", i);
            self.check_strand(&core.strand, &here.field("strand"))?;
        }
        let beads = at.field("beads");
        beads.count(section.beads.len(), 0..=MOST * MOST, "kinds of beads")?;
        for (i, bead) in section.beads.iter().enumerate() {
            check_bead(bead, self.strands.len(), &beads.numbered("bead", i))?;
        }
        Ok(())
    }
}

fn check_bead(bead: &Bead, strands: usize, at: &At<'_>) -> Checked {
    at.ensure(bead.strand < strands, || {
        format!("there is no strand {}", strand_name(bead.strand))
    })?;
    at.field("name").words(&bead.name)?;
    at.field("outer").number(bead.outer, 0.1..=100.0, " mm")?;
    at.field("hole")
        .number(bead.hole, 0.01..=bead.outer, " mm")?;
    at.field("length").number(bead.length, 0.1..=200.0, " mm")?;
    at.ensure(bead.per_move <= MOST_ENDS, || {
        format!("there must be at most {MOST_ENDS} beads to a move")
    })
}

pub(super) fn check_moves(list: &MoveList, strands: usize, at: &At<'_>) -> Checked {
    let slots = list.slots;
    let sound = slots.is_multiple_of(2) && (4..=MOST_SLOTS).contains(&slots);
    at.field("slots").ensure(sound, || {
        format!("a disc has an even number of slots from 4 to {MOST_SLOTS}, not {slots}")
    })?;
    let even = list.plate.is_disc() || slots.is_multiple_of(4);
    at.field("slots").ensure(even, || {
        format!(
            "a square plate has as many places on each side, and {slots} cannot be divided by four"
        )
    })?;
    let turn = list.turn.unwrap_or(0);
    let within = turn.unsigned_abs() <= u32::from(slots);
    at.field("turn").ensure(within, || {
        format!("a turn of {turn} slots is more than once round the disc")
    })?;
    at.field("start").ensure(list.start.len() == strands, || {
        let starts = list.start.len();
        format!("there are {strands} strands but {starts} places to start at")
    })?;
    let moves = list.steps.iter().map(|step| step.moves.len()).sum();
    let steps = at.field("steps");
    steps.count(list.steps.len(), 0..=MOST_MOVES, "steps")?;
    steps.count(moves, 0..=MOST_MOVES, "moves")?;
    for (i, &place) in list.start.iter().enumerate() {
        let here = at.field("start");
        check_place(
            place,
            slots,
            &here.item(i, format!("start of strand {}", strand_name(i))),
        )?;
    }
    for (i, step) in list.steps.iter().enumerate() {
        for place in step.moves.iter().flat_map(|m| [m.from, m.to]) {
            check_place(place, slots, &steps.numbered("step", i))?;
        }
    }
    Ok(())
}

fn check_place(place: Place, slots: u16, at: &At<'_>) -> Checked {
    let Place::Rim(half) = place else {
        return Ok(());
    };
    at.ensure((2..=2 * slots + 1).contains(&half), || {
        format!(
            "the disc has {slots} slots and no place {}",
            f64::from(half) / 2.0
        )
    })
}

fn check_braiding(braiding: &Braiding, at: &At<'_>) -> Checked {
    let tension = at.field("tension");
    match braiding.tension {
        Tension::Slots(pull) => tension.number(pull, 0.01..=100.0, " N")?,
        Tension::Bobbins(mass) => tension.number(mass, 0.1..=10_000.0, " g")?,
    }
    at.field("counterweight")
        .number(braiding.counterweight, 0.0..=50_000.0, " g")
}

fn check_fibres(fibres: &[Fibre], at: &At<'_>) -> Checked {
    at.count(fibres.len(), 0..=MOST_FIBRES, "fibres")?;
    for (i, fibre) in fibres.iter().enumerate() {
        // The sentence of the fibre names it already.
        let here = at.item(i, String::new());
        fibre
            .check()
            .map_err(|error| here.fault(error.to_string()))?;
        let here = at.item(i, format!("fibre {:?}", fibre.name));
        here.field("name").words(&fibre.name)?;
        here.field("substance").words(&fibre.substance)?;
        here.field("note").length(&fibre.note, LONGEST_NOTE)?;
        let first = !fibres[..i].iter().any(|other| other.name == fibre.name);
        here.ensure(first, || "another fibre has the same name".into())?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::sample_design;
    use crate::structure::Plate;

    /// What the check says after a change.
    fn said(change: impl FnOnce(&mut Design)) -> String {
        let mut design = sample_design();
        change(&mut design);
        design.check().unwrap_err().to_string()
    }

    #[test]
    fn the_sample_is_sound() {
        assert_eq!(sample_design().check(), Ok(()));
    }

    #[test]
    fn a_fault_is_said_with_its_place() {
        let cases = [
            said(|d| d.strands[2].parts[0].ends = 100),
            said(|d| d.strands[1].parts[0].fibre = "gold".into()),
            said(|d| d.fibres[0].packing.free.value = f64::NAN),
            said(|d| d.sections[0].moves.steps[1].moves[0].to = Place::slot(33)),
            said(|d| d.sections[0].moves.turn = Some(33)),
            said(|d| {
                d.sections[0].moves.plate = Plate::Square;
                d.sections[0].moves.slots = 34;
            }),
            said(|d| d.piece.caps[1] = 3.0),
            said(|d| d.piece.cap = Some(3.3)),
            said(|d| d.braiding.counterweight = -1.0),
        ];
        let expected = [
            "strand C, part 1: there must be 1 to 99 ends, not 100",
            "strand B, part 1: the fibre \"gold\" is not in the design",
            "satin cord 2 mm, polyester: packing is NaN; it must lie between 0.001 and 1.5",
            "section 1, moves, step 2: the disc has 32 slots and no place 33",
            "section 1, moves, turn: a turn of 33 slots is more than once round the disc",
            "section 1, moves, slots: a square plate has as many places on each side, and 34 cannot be divided by four",
            "piece, caps: they must ascend",
            "piece, cap: 3.3 mm is not in the list of caps",
            "braiding, counterweight: -1 is not between 0 and 50000 g",
        ];
        assert_eq!(cases, expected);
    }

    #[test]
    fn lists_must_fit_together() {
        let cases = [
            said(|d| drop(d.strands.pop())),
            said(|d| d.strands.clear()),
            said(|d| d.sections.clear()),
            said(|d| d.strands[0].parts.clear()),
            said(|d| d.fibres.push(d.fibres[0].clone())),
        ];
        let expected = [
            "section 1, moves, start: there are 3 strands but 4 places to start at",
            "strands: there must be 1 to 64 strands, not 0",
            "sections: there must be 1 to 64 sections, not 0",
            "strand A, parts: there must be 1 to 16 fibres held together, not 0",
            "fibre \"satin cord 2 mm, polyester\": another fibre has the same name",
        ];
        assert_eq!(cases, expected);
    }
}
