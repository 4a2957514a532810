//! The finished piece, as decided: what it is, how long, how it closes and ends.
//!
//! Lengths in mm, masses in g. A [`Kind`] is no more than a set of ordinary
//! values to start from; every one of them can be changed. Knows no cord.

use serde::{Deserialize, Serialize};

/// What the piece is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum Kind {
    /// Round the neck.
    Necklace,
    /// Round the wrist.
    Bracelet,
    /// Round the ankle.
    Anklet,
    /// Round the neck, with something hung on it.
    Lanyard,
    /// On a ring of keys.
    KeyFob,
    /// To carry a light bag.
    BagHandle,
    /// To hang spectacles on.
    SpectacleCord,
    /// Both parts of it.
    WatchStrap,
    /// A length of cord.
    #[default]
    Free,
}

/// What is measured, on the wearer or on the piece.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Measure {
    /// Length of the finished piece along its axis, closed, findings included.
    Length(f64),
    /// A ring worn close: the cord's own thickness eats into its inner length.
    Round {
        /// Round the wrist, ankle or neck.
        girth: f64,
        /// What is added for comfort.
        ease: f64,
    },
}

/// What closes the piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Closure {
    /// What the maker calls it; empty without.
    pub name: String,
    /// Length it adds, closed.
    pub adds: f64,
    /// Whether that holds the caps or crimps of both ends; else they come to it.
    #[serde(default)]
    pub with_ends: bool,
    /// Comes open by itself under a pull.
    #[serde(default)]
    pub breakaway: bool,
    /// Held by magnets.
    #[serde(default)]
    pub magnetic: bool,
}

/// How an end of the cord is finished.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum End {
    /// Glued into a round cap, the one looked at.
    Cap,
    /// Glued into a square or flat cap.
    FlatCap {
        /// Inner width.
        width: f64,
        /// Inner thickness.
        thickness: f64,
    },
    /// Held in a crimp or a fold-over end as wide as this.
    Crimp {
        /// Width of its jaws.
        width: f64,
    },
    /// Tied in a knot.
    Knot {
        /// Cord that goes into it, in thicknesses of the cord.
        thicknesses: f64,
    },
    /// The strands left loose under a binding.
    Tassel {
        /// Length of it, below what is measured.
        length: f64,
    },
    /// Laid back on itself and bound: for a button, a ring or a hook.
    Loop {
        /// Length of the opening, laid flat.
        opening: f64,
    },
    /// Through a button, laid back and bound.
    Button {
        /// Across the button.
        across: f64,
    },
    /// Bound and cut.
    Bare,
}

/// What the binding lies round.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Round {
    /// Round the braid itself, as is usual.
    #[default]
    Braid,
    /// Round the loose tails, which lie straight.
    Tails,
}

/// How an end is bound.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Binding {
    /// What it lies round.
    #[serde(default)]
    pub round: Round,
    /// Thickness of the binding thread.
    pub thread: f64,
    /// Layers of it over one another; none for an end that is only sealed.
    pub layers: u8,
    /// Width of it along the cord.
    pub width: f64,
    /// What a seal adds all round: glue, or a melted skin.
    #[serde(default)]
    pub seal: f64,
}

/// Something hung on the cord.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pendant {
    /// What the maker calls it.
    pub name: String,
    /// Opening of its bail, across.
    pub bail: f64,
    /// What it weighs.
    pub grams: f64,
}

/// Who wears it, as far as cautions ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Wearer {
    /// Grown up, or not known.
    #[default]
    Grown,
    /// A child of three to fourteen.
    Child,
    /// A child under three.
    Infant,
}

/// One size of a run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Size {
    /// What it is called.
    pub name: String,
    /// How much longer than the piece; shorter if below nought.
    pub longer: f64,
}

/// The finished piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Piece {
    /// Inner diameters of the end caps at hand, ascending.
    pub caps: Vec<f64>,
    /// The cap looked at, an inner diameter of the list.
    #[serde(default)]
    pub cap: Option<f64>,
    /// Depth of that cap, or of whatever else the ends go into.
    pub cap_depth: f64,
    /// What it is.
    #[serde(default)]
    pub kind: Kind,
    /// What is measured.
    #[serde(default)]
    pub measure: Measure,
    /// What closes it.
    #[serde(default)]
    pub closure: Closure,
    /// How the two ends are finished, the one braided first before the other.
    #[serde(default = "capped")]
    pub ends: [End; 2],
    /// How they are bound.
    #[serde(default)]
    pub binding: Binding,
    /// Gap for glue across, between a bound end and its cap.
    #[serde(default = "usual_gap")]
    pub glue_gap: f64,
    /// What hangs on it.
    #[serde(default)]
    pub pendant: Option<Pendant>,
    /// Who wears it.
    #[serde(default)]
    pub wearer: Wearer,
    /// How many pieces are cut from one cord, at least one.
    #[serde(default = "one")]
    pub from_one_cord: u16,
    /// How many such cords are made, at least one.
    #[serde(default = "one")]
    pub cords: u16,
    /// Further sizes of the same, one cord each.
    #[serde(default)]
    pub sizes: Vec<Size>,
    /// Whether each length is folded at its middle and makes two strands.
    #[serde(default)]
    pub folded: bool,
}

fn capped() -> [End; 2] {
    [End::Cap; 2]
}

fn usual_gap() -> f64 {
    0.3
}

fn one() -> u16 {
    1
}

impl Default for Measure {
    /// Twenty centimetres: enough to see and to measure.
    fn default() -> Self {
        Self::Length(200.0)
    }
}

impl Default for Closure {
    /// None.
    fn default() -> Self {
        Self {
            name: String::new(),
            adds: 0.0,
            with_ends: false,
            breakaway: false,
            magnetic: false,
        }
    }
}

impl Default for Binding {
    /// Two layers of 0.1 mm thread for 4 mm round the braid: adds 0.4 mm across.
    /// Common practice, no source.
    fn default() -> Self {
        Self {
            round: Round::Braid,
            thread: 0.1,
            layers: 2,
            width: 4.0,
            seal: 0.0,
        }
    }
}

impl Default for Piece {
    /// A free length between caps of common sizes from 3 to 10 mm, none chosen.
    /// Common practice, no source; by halves up to 7 mm, so that a bound end finds
    /// one that leaves room for glue and no more.
    fn default() -> Self {
        Self {
            caps: vec![3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0, 8.0, 10.0],
            cap: None,
            cap_depth: 8.0,
            kind: Kind::default(),
            measure: Measure::default(),
            closure: Closure::default(),
            ends: capped(),
            binding: Binding::default(),
            glue_gap: usual_gap(),
            pendant: None,
            wearer: Wearer::default(),
            from_one_cord: one(),
            cords: one(),
            sizes: Vec::new(),
            folded: false,
        }
    }
}

impl Measure {
    /// The same, so much longer.
    #[must_use]
    pub fn longer(self, by: f64) -> Self {
        match self {
            Self::Length(length) => Self::Length(length + by),
            Self::Round { girth, ease } => Self::Round {
                girth: girth + by,
                ease,
            },
        }
    }

    /// Length of the finished piece, as far as no cord is known.
    pub fn bare(self) -> f64 {
        match self {
            Self::Length(length) => length,
            Self::Round { girth, ease } => girth + ease,
        }
    }
}

impl Piece {
    /// A further size of it, one cord.
    #[must_use]
    pub fn of_size(&self, size: &Size) -> Self {
        Self {
            measure: self.measure.longer(size.longer),
            cords: one(),
            sizes: Vec::new(),
            ..self.clone()
        }
    }
}
