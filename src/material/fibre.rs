//! What is known of a fibre, each figure with its standing.

use serde::{Deserialize, Serialize};

use super::Colour;

/// How well a figure stands, weakest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Standing {
    /// Our guess.
    Guess,
    /// Common practice of the trade, no source.
    CommonPractice,
    /// A published source, or computed from such.
    Source,
    /// Measured by the maker.
    Measured,
}

/// A figure of a fibre with its range and standing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Known {
    /// Most likely figure.
    pub value: f64,
    /// Low end of the range.
    pub low: f64,
    /// High end of the range.
    pub high: f64,
    /// How well it stands.
    pub standing: Standing,
}

/// How a strand is built; decides packing, softness and look until measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[expect(missing_docs, reason = "the names are the trade's own")]
pub enum Construction {
    SatinCord,
    PearlCotton,
    CrochetCotton,
    Floss,
    KnittingWool,
    KnittingAcrylic,
    KnittingCotton,
    Ribbon,
    Leather,
    Suede,
    WaxedCotton,
    WaxedLinen,
    WaxedPolyester,
    TwistedCord,
    KnottingCord,
    KernmantleCord,
    SilkCord,
    MetallicBraid,
    Chenille,
    Twine,
    SolidCord,
    PaperYarn,
}

/// Share of the round envelope that is fibre.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Packing {
    /// Lying free.
    pub free: Known,
    /// In a firm hand braid at the reference pressure; says how soft it is.
    pub in_braid: Known,
    /// The closest it can be squeezed.
    pub closest: Known,
}

/// What the surface of a strand is, for drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Weave {
    /// Plies twisted round one another.
    Plied,
    /// A braided sheath of filaments.
    Sheath,
    /// Pile that stands off.
    Pile,
    /// A flat band.
    Flat,
    /// One solid piece with a skin.
    Solid,
    /// Braided strips of foil.
    Foil,
}

/// How a strand looks, colour apart; data of the shelf, editable.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Appearance {
    /// What the surface is.
    pub weave: Weave,
    /// Number of plies, 1 when not plied.
    pub plies: u8,
    /// Twist of the plies, degrees against the strand, Z positive.
    pub twist: f64,
    /// Depth of the grooves between plies, 0 to 1.
    pub relief: f64,
    /// Filaments against the ply, degrees.
    pub lay: f64,
    /// Strength of the highlight, 0 matt.
    pub gloss: f64,
    /// Width of the highlight.
    pub spread: f64,
    /// Hairiness, 0 to 1.
    pub fuzz: f64,
    /// Unevenness of tone and thickness, 0 to 1.
    pub mottle: f64,
}

/// A thing one can buy by the metre and what is known of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fibre {
    /// The trade's name, unique on a shelf and in a design.
    pub name: String,
    /// What it is spun or made of, in plain words.
    pub substance: String,
    /// How it is built.
    pub construction: Construction,
    /// Diameter lying free, mm; of a ribbon the round it gathers to.
    pub diameter: Known,
    /// Linear density, tex (g/km).
    pub tex: Known,
    /// Density of the solid, g/cm3.
    pub density: Known,
    /// Packing of the fibre in the strand.
    pub packing: Packing,
    /// Friction of strand on strand, dry.
    pub friction: Known,
    /// Shortening off the weight after a day's rest, per cent of the length on the disc.
    pub shortens: Known,
    /// Lengthening when worked supple and worn, per cent of the rested length.
    pub lengthens: Known,
    /// Stiffness against bending, 1 limp to 5 stiff.
    pub stiffness: u8,
    /// Width and thickness of a ribbon or flat lace, mm.
    #[serde(default)]
    pub flat: Option<(f64, f64)>,
    /// The colour proposed for it.
    pub colour: Colour,
    /// How it looks.
    pub appearance: Appearance,
    /// A remark.
    #[serde(default)]
    pub note: String,
}
