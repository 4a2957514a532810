//! Which strand passes over which; follows from the moves alone.
//!
//! Looking straight down on the disc, resting strands sit on the rim and a
//! lifted strand travels through the inside, over everything that rests. The
//! inside holds no resting strand, so all ways through it are the same; "over
//! everything" and "inside" are one rule. Stacked along time these plan
//! positions are the world-lines of the strands, and the whole topology of the
//! cord.
//!
//! The [`word`](artin) says it in crossings; the [`WorldLines`] draw it, as a
//! start for the tightening.
//!
//! A braid is known by what it does to curves round its strands, in whole numbers.
//! From that come the [`Verdict`] on a list, its [`Symmetry`], how two structures
//! [`compare`](fn@compare), where one may follow another ([`joints`]), and a [`Search`] for new
//! ones among short rules.
//!
//! This room does not know any forces, and not how thick a strand is.

mod alexander;
mod band;
mod cell;
mod compare;
mod conjugate;
mod core;
mod curves;
mod growth;
mod hops;
mod joint;
mod laid;
mod layers;
mod linking;
#[cfg(test)]
mod listed;
mod outside;
mod pattern;
mod permutation;
mod reduction;
mod relaxed;
mod residue;
mod round;
mod search;
mod symmetry;
mod told;
mod verdict;
mod word;
mod world_lines;

pub use self::core::{artin_round_a_core, verdict_round_a_core};
pub use alexander::{alexander, determinant};
pub use compare::{Begins, Comparison, Fit, compare};
pub use curves::same_braid;
pub use growth::{entropy, grows};
pub use hops::Hop;
pub use joint::{Joint, joints, slides_between};
pub use linking::{Passes, crossings, linking, passes};
pub use outside::Outside;
pub use pattern::{Carry, Family, Pattern};
pub use permutation::{cycles, places, repeat};
pub use round::Round;
pub use search::{Search, Tried};
pub use symmetry::{Held, Symmetry, changes_of_parts, symmetry};
pub use verdict::{Slide, Verdict, verdict, verdict_of_word};
pub use word::{CellWord, artin, full_turns, writhe};
pub use world_lines::{WorldLines, WorldLinesError};
