//! The cord under way, as what stands beside the disc looks at it.

use std::path::PathBuf;

use eframe::egui::Color32;

use super::looks::Looks;
use crate::app::painting::screen_colour;
use crate::bench::{Course, Entry, Lying};
use crate::document::Design;
use crate::plan::Outlook;
use crate::quantity::UnitSystem;
use crate::structure::{Braid, Numbering, Place};

/// What is asked for beside the disc.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::app) enum Ask {
    /// An entry of the story is to be kept.
    Tell(Entry),
    /// A photograph is to be copied and noted at this place.
    Photograph(PathBuf),
    /// Which photograph, is to be asked for.
    Choose,
}

/// The cord under way. It is borrowed and read-only; what is asked for are entries of
/// its story.
#[derive(Debug, Clone, Copy)]
pub(in crate::app) struct Work<'a> {
    /// The design it was begun with.
    pub design: &'a Design,
    /// Its moves.
    pub braid: &'a Braid,
    /// Its story so far.
    pub course: &'a Course,
    /// Moves that lie in the cord, also on the way back where that is plain.
    pub done: u64,
    /// How far the disc is turned clockwise as it lies before her, radians.
    pub turn: f32,
    /// What is expected of it.
    pub outlook: &'a Outlook,
    /// Which strands look alike.
    pub looks: &'a Looks,
    /// How the maker numbers the disc.
    pub numbering: Numbering,
    /// The maker's units.
    pub units: UnitSystem,
}

impl Work<'_> {
    /// What lies on the disc now.
    pub(super) fn lying(&self) -> Lying {
        self.course.lying(self.braid)
    }

    /// The first colour of each strand.
    pub(super) fn colours(&self) -> Vec<Color32> {
        let strands = self.design.strands.iter();
        let first = |colours: Option<&crate::material::Part>| {
            colours.map_or(Color32::GRAY, |part| screen_colour(part.colour))
        };
        strands.map(|strand| first(strand.parts.first())).collect()
    }

    /// What is written at a place: `17`, or `N3` on a square plate.
    pub(super) fn label(&self, place: Place) -> String {
        let list = self.braid.moves();
        self.numbering.label_on(list.plate, place, list.slots)
    }

    /// A place in words, to stand in a sentence.
    pub(super) fn phrase(&self, place: Place) -> String {
        let list = self.braid.moves();
        self.numbering.phrase_on(list.plate, place, list.slots)
    }
}
