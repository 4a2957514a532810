//! Every change to a design, as a value: with a label for undo, and refused
//! with a sentence when it cannot be made.
//!
//! What is said of "the section" is the first; designs have one for now.

use super::check::{DesignError, MOST_STRANDS};
use super::design::{Core, strand_name};
use super::piece::PieceEdit;
use crate::cord::{Tension, Twist};
use crate::material::{Colour, Fibre, Part};
use crate::structure::{MoveList, Numbering, Place, Rework, ReworkError, Step};

/// A change to a design. Strands, and parts of a strand, count from 0.
#[derive(Debug, Clone, PartialEq)]
pub enum Edit {
    /// Another name.
    Rename(String),
    /// Another remark.
    Note(String),
    /// Another colour for strands.
    Paint {
        /// Which strands.
        strands: Vec<usize>,
        /// Which part of each; none is all of it.
        part: Option<usize>,
        /// The colour.
        colour: Colour,
    },
    /// Other colours all over; what strands are made of stays. For each strand, in
    /// order, a colour for each of its parts.
    Look(Vec<Vec<Colour>>),
    /// One colour in place of another, wherever it is used.
    Recolour {
        /// The colour it has.
        from: Colour,
        /// The colour it gets.
        to: Colour,
    },
    /// Several changes as one, or none of them.
    Together {
        /// What is done, to stand behind "Undo".
        done: &'static str,
        /// One after the other.
        edits: Vec<Self>,
    },
    /// All that the strands are made of.
    MakeUp {
        /// Which strands.
        strands: Vec<usize>,
        /// What they are made of now.
        parts: Vec<Part>,
        /// The fibres of it, as far as the design may not have them yet.
        fibres: Vec<Fibre>,
    },
    /// One fibre more, held together with the others.
    AddPart {
        /// Which strands.
        strands: Vec<usize>,
        /// What is added.
        part: Part,
        /// Its fibre, in case the design does not have it yet.
        fibre: Box<Fibre>,
    },
    /// One fibre less.
    RemovePart {
        /// Which strands.
        strands: Vec<usize>,
        /// Which part of each.
        part: usize,
    },
    /// Another fibre for a part, in the colour it has.
    PartFibre {
        /// Which strands.
        strands: Vec<usize>,
        /// Which part of each.
        part: usize,
        /// The fibre, in case the design does not have it yet.
        fibre: Box<Fibre>,
    },
    /// Another number of ends of a part.
    Ends {
        /// Which strands.
        strands: Vec<usize>,
        /// Which part of each.
        part: usize,
        /// How many ends.
        ends: u16,
    },
    /// Another place to start at; whoever sits there changes places.
    Lay {
        /// The strand.
        strand: usize,
        /// Where it starts now.
        place: Place,
    },
    /// Other moves for the section. When their number of strands differs, the
    /// strands that are there are laid round the disc again and again.
    Moves {
        /// Name of the structure on a shelf; a remark only.
        structure: String,
        /// The moves with the start.
        moves: MoveList,
    },
    /// Another name for the structure of the section; its moves stay.
    NameStructure(String),
    /// The moves of the section changed; strands keep what they are made of.
    Rework(Rework),
    /// The steps of the section written anew; strands stay where they start.
    Steps {
        /// What is done, to stand behind "Undo".
        done: &'static str,
        /// All the steps.
        steps: Vec<Step>,
    },
    /// What the section is braided round.
    Cores {
        /// Every core, in order; none for a cord without.
        cores: Vec<Core>,
        /// The fibres of them, as far as the design may not have them yet.
        fibres: Vec<Fibre>,
    },
    /// The section seen in a mirror.
    Mirror,
    /// A disc with another number of slots, the same places on it.
    Slots(u16),
    /// Another way of numbering the disc.
    Numbering(Numbering),
    /// Another way of holding the strands.
    Tension(Tension),
    /// Another counterweight, grams.
    Counterweight(f64),
    /// Free or held twist.
    Twist(Twist),
    /// One cap more, by its inner diameter, mm.
    AddCap(f64),
    /// One cap less.
    RemoveCap(f64),
    /// Another diameter for a cap.
    ChangeCap {
        /// The diameter it has, mm.
        from: f64,
        /// The diameter it gets, mm.
        to: f64,
    },
    /// Another cap to look at.
    ChooseCap(Option<f64>),
    /// Another depth of the cap, mm.
    CapDepth(f64),
    /// A change to the finished piece.
    Piece(PieceEdit),
    /// One fibre more in the design.
    AddFibre(Box<Fibre>),
    /// Other figures, or another name, for a fibre; strands follow.
    ReplaceFibre {
        /// The name it has.
        name: String,
        /// What takes its place.
        fibre: Box<Fibre>,
    },
    /// One fibre less in the design.
    RemoveFibre(String),
}

/// Why a change cannot be made; the design stays as it was.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum EditError {
    /// There is no such strand.
    #[error("there is no strand {}", strand_name(*.0))]
    NoStrand(usize),
    /// The strand has fewer parts.
    #[error("strand {} has no part {}", strand_name(*strand), part + 1)]
    NoPart {
        /// The strand, from 0.
        strand: usize,
        /// The part, from 0.
        part: usize,
    },
    /// A strand must be made of something.
    #[error("strand {} would be made of nothing", strand_name(*.0))]
    LastPart(usize),
    /// Moves for more strands than a design can have.
    #[error("a design has 1 to {MOST_STRANDS} strands, and these moves are for {0}")]
    StrandCount(usize),
    /// The moves cannot be changed that way.
    #[error(transparent)]
    Rework(#[from] ReworkError),
    /// The design has no fibre of that name.
    #[error("there is no fibre {0:?} in the design")]
    NoFibre(String),
    /// The design has a fibre of that name.
    #[error("there is a fibre {0:?} already; give this one another name")]
    FibreTaken(String),
    /// Strands are made of the fibre.
    #[error("{name:?} cannot be removed: {used} of it", used = made_of(strands))]
    FibreUsed {
        /// The fibre.
        name: String,
        /// The strands that have an end of it.
        strands: Vec<usize>,
    },
    /// Used in the core of the section.
    #[error("{0:?} cannot be removed: a core is made of it")]
    FibreInCore(String),
    /// A place in use is not on the smaller disc.
    #[error("{slots} slots are too few: the moves use slot {used}")]
    TooFewSlots {
        /// The slots asked for.
        slots: u16,
        /// The highest slot in use, numbered clockwise.
        used: u16,
    },
    /// The list has no such cap.
    #[error("there is no cap of {0} mm in the list")]
    NoCap(f64),
    /// The list has such a cap.
    #[error("there is a cap of {0} mm in the list already")]
    CapTaken(f64),
    /// What came out would not be sound.
    #[error(transparent)]
    Unsound(#[from] DesignError),
}

/// `strand C`, `strands A and C`, `12 strands`.
fn in_words(strands: &[usize]) -> String {
    let names: Vec<_> = strands.iter().map(|&i| strand_name(i)).collect();
    match names.as_slice() {
        [one] => format!("strand {one}"),
        [first @ .., last] if names.len() <= 4 => {
            format!("strands {} and {last}", first.join(", "))
        }
        many => format!("{} strands", many.len()),
    }
}

fn made_of(strands: &[usize]) -> String {
    let verb = if strands.len() == 1 { "is" } else { "are" };
    format!("{} {verb} made", in_words(strands))
}

/// `sea green in place of teal`, `another teal`.
fn recoloured(from: Colour, to: Colour) -> String {
    if from.name() == to.name() {
        return format!("another {}", to.name());
    }
    format!("{} in place of {}", to.name(), from.name())
}

impl Edit {
    /// What is done, to stand behind "Undo".
    pub fn label(&self) -> String {
        match self {
            Self::Rename(_) => "rename".into(),
            Self::Note(_) => "remark".into(),
            Self::Paint { strands, .. } => format!("paint {}", in_words(strands)),
            Self::Look(_) => "another look".into(),
            Self::Recolour { from, to } => recoloured(*from, *to),
            Self::Together { done, .. } => (*done).into(),
            Self::MakeUp { strands, .. } => format!("make-up of {}", in_words(strands)),
            Self::AddPart { strands, part, .. } => {
                format!("add {} to {}", part.fibre, in_words(strands))
            }
            Self::RemovePart { strands, .. } => format!("take a fibre from {}", in_words(strands)),
            Self::PartFibre { strands, .. } => format!("fibre of {}", in_words(strands)),
            Self::Ends { strands, .. } => format!("ends of {}", in_words(strands)),
            Self::Lay { strand, .. } => format!("lay {}", in_words(&[*strand])),
            Self::Moves { structure, .. } if structure.is_empty() => "moves".into(),
            Self::Moves { structure, .. } => structure.clone(),
            Self::NameStructure(_) => "name of the structure".into(),
            Self::Rework(rework) => rework.label().into(),
            Self::Steps { done, .. } => (*done).into(),
            Self::Cores { cores, .. } if cores.is_empty() => "take the core out".into(),
            Self::Cores { .. } => "core".into(),
            Self::Mirror => "mirror".into(),
            Self::Slots(_) => "slots of the disc".into(),
            Self::Numbering(_) => "numbering of the disc".into(),
            Self::Tension(_) => "tension".into(),
            Self::Counterweight(_) => "counterweight".into(),
            Self::Twist(_) => "twist".into(),
            Self::AddCap(cap) => format!("add cap {cap} mm"),
            Self::RemoveCap(cap) => format!("remove cap {cap} mm"),
            Self::ChangeCap { .. } => "size of a cap".into(),
            Self::ChooseCap(_) => "choose cap".into(),
            Self::CapDepth(_) => "depth of the cap".into(),
            Self::Piece(edit) => edit.label().into(),
            Self::AddFibre(fibre) => format!("add fibre {}", fibre.name),
            Self::ReplaceFibre { name, .. } => format!("change fibre {name}"),
            Self::RemoveFibre(name) => format!("remove fibre {name}"),
        }
    }

    /// Whether it goes on with `before`, so that both are undone at once:
    /// the same thing dragged or typed further, or one colour painted across
    /// several strands.
    pub fn joins(&self, before: &Self) -> bool {
        match (self, before) {
            (Self::Rename(_), Self::Rename(_))
            | (Self::NameStructure(_), Self::NameStructure(_))
            | (Self::Note(_), Self::Note(_))
            | (Self::Slots(_), Self::Slots(_))
            | (Self::Counterweight(_), Self::Counterweight(_))
            | (Self::CapDepth(_), Self::CapDepth(_))
            | (Self::Tension(Tension::Slots(_)), Self::Tension(Tension::Slots(_)))
            | (Self::Tension(Tension::Bobbins(_)), Self::Tension(Tension::Bobbins(_))) => true,
            (Self::Piece(now), Self::Piece(before)) => now.joins(before),
            (Self::Paint { .. }, Self::Paint { .. }) => self.paints_on(before),
            (
                Self::Ends { strands, part, .. },
                Self::Ends {
                    strands: others,
                    part: other,
                    ..
                },
            ) => strands == others && part == other,
            (Self::Lay { strand, .. }, Self::Lay { strand: other, .. }) => strand == other,
            (Self::ChangeCap { from, .. }, Self::ChangeCap { to, .. }) => from == to,
            (Self::ReplaceFibre { name, .. }, Self::ReplaceFibre { fibre, .. }) => {
                *name == fibre.name
            }
            _ => false,
        }
    }

    /// Whether a stroke of paint goes on: the same strands or the same colour.
    fn paints_on(&self, before: &Self) -> bool {
        let stroke = |edit: &Self| match edit {
            Self::Paint {
                strands,
                part,
                colour,
            } => Some((strands.clone(), *part, *colour)),
            _ => None,
        };
        let (Some(now), Some(before)) = (stroke(self), stroke(before)) else {
            return false;
        };
        now.1 == before.1 && (now.0 == before.0 || now.2 == before.2)
    }
}
