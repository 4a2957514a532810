//! How a strand looks, colour apart.
//!
//! Angles in degrees, Z twist positive. The figures for satin, pearl, crochet,
//! wool, chenille, ribbon, leather and metallic braid were tried on drawn cords
//! and looked at; those of the other constructions are derived from them by
//! what is alike, our guess. Twists under 40 degrees looked like wax with
//! scratches on anything but wool and floss (tried).

use serde::{Deserialize, Serialize};

use super::Construction;

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
    /// Beads in a row on a thread.
    Beads,
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
    /// Depth of the grooves between plies, 0 to 1; of beads how clear they are.
    pub relief: f64,
    /// Filaments against the ply, degrees.
    pub lay: f64,
    /// Strength of the highlight, 0 matt.
    pub gloss: f64,
    /// Width of the highlight.
    pub spread: f64,
    /// Hairiness, 0 to 1.
    pub fuzz: f64,
    /// Unevenness of tone and thickness, 0 to 1; of beads from one to the next.
    pub mottle: f64,
}

/// Gloss, width of the highlight, fuzz, mottle.
type Finish = (f64, f64, f64, f64);

fn plied(plies: u8, twist: f64, relief: f64, lay: f64, finish: Finish) -> Appearance {
    let (gloss, spread, fuzz, mottle) = finish;
    Appearance {
        weave: Weave::Plied,
        plies,
        twist,
        relief,
        lay,
        gloss,
        spread,
        fuzz,
        mottle,
    }
}

fn unplied(weave: Weave, lay: f64, finish: Finish) -> Appearance {
    Appearance {
        weave,
        ..plied(1, 0.0, 0.0, lay, finish)
    }
}

/// Glass beads, from opaque to clear.
fn beads(clear: f64) -> Appearance {
    Appearance {
        relief: clear,
        ..unplied(Weave::Beads, 0.0, (1.0, 0.12, 0.0, 0.4))
    }
}

impl Construction {
    /// The look proposed for a strand built like this.
    pub fn appearance(self) -> Appearance {
        match self {
            Self::SatinCord => unplied(Weave::Sheath, 11.0, (1.0, 0.17, 0.0, 0.12)),
            Self::PearlCotton => plied(2, -46.0, 0.85, 34.0, (1.4, 0.17, 0.02, 0.15)),
            Self::CrochetCotton => plied(3, 44.0, 0.85, -32.0, (0.20, 0.35, 0.09, 0.35)),
            Self::Floss => plied(6, -16.0, 0.85, 26.0, (1.1, 0.20, 0.03, 0.2)),
            Self::KnittingWool => plied(3, -34.0, 0.60, 22.0, (0.06, 0.50, 0.85, 0.80)),
            Self::KnittingAcrylic => plied(3, -36.0, 0.60, 24.0, (0.16, 0.40, 0.50, 0.35)),
            Self::KnittingCotton => plied(4, -42.0, 0.75, 30.0, (0.35, 0.30, 0.10, 0.30)),
            Self::Ribbon => unplied(Weave::Flat, 0.0, (0.70, 0.18, 0.0, 0.1)),
            Self::Leather => unplied(Weave::Solid, 0.0, (0.9, 0.13, 0.0, 0.6)),
            Self::Suede => unplied(Weave::Solid, 0.0, (0.05, 0.50, 0.30, 0.5)),
            Self::WaxedCotton => plied(3, 44.0, 0.55, -32.0, (0.55, 0.28, 0.0, 0.25)),
            Self::WaxedLinen => plied(3, -44.0, 0.70, 32.0, (0.45, 0.30, 0.02, 0.45)),
            Self::WaxedPolyester => plied(3, 44.0, 0.50, -32.0, (0.80, 0.22, 0.0, 0.1)),
            Self::TwistedCord => plied(3, -45.0, 0.80, 34.0, (1.1, 0.18, 0.0, 0.1)),
            Self::KnottingCord => unplied(Weave::Sheath, 32.0, (0.60, 0.22, 0.0, 0.1)),
            Self::KernmantleCord => unplied(Weave::Sheath, 38.0, (0.45, 0.28, 0.0, 0.12)),
            Self::SilkCord => plied(3, -44.0, 0.75, 33.0, (1.3, 0.16, 0.01, 0.2)),
            Self::MetallicBraid => unplied(Weave::Foil, 32.0, (1.0, 0.16, 0.0, 0.1)),
            Self::Chenille => unplied(Weave::Pile, 0.0, (0.0, 0.50, 1.0, 0.5)),
            Self::Twine => plied(2, 44.0, 0.70, -32.0, (0.12, 0.45, 0.35, 0.7)),
            Self::SolidCord => unplied(Weave::Solid, 0.0, (1.2, 0.12, 0.0, 0.05)),
            Self::PaperYarn => plied(2, 46.0, 0.40, -38.0, (0.15, 0.40, 0.03, 0.5)),
            Self::StrungBeads => beads(0.65),
        }
    }
}
