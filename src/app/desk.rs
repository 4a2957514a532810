//! What a stage may look at. It is borrowed and read-only: a stage cannot
//! save, solve or change anything by accident, it can only ask.

use std::path::PathBuf;

use crate::cord::Cord;
use crate::document::{Design, Section};
use crate::material::colour::Palette;
use crate::plan::Workshop;
use crate::quantity::UnitSystem;
use crate::structure::{MoveList, Numbering, Structure};

use super::at_disc::{AtDisc, Heard};
use super::examiner::Examiner;
use super::files::OpenFile;
use super::planned::Planned;
use super::settings::Settings;
use super::solver::{Known, Solver};

/// The desk with the design on it.
#[derive(Debug, Clone, Copy)]
pub struct Desk<'a> {
    /// What is decided.
    pub design: &'a Design,
    /// The solver with the cord that follows from it.
    pub solver: &'a Solver,
    /// The examiner with what is the matter with the moves.
    pub examiner: &'a Examiner,
    /// Files opened or saved lately, newest first.
    pub recent: &'a [PathBuf],
    /// The file it is kept in.
    pub file: &'a OpenFile,
    /// The maker's own shelf of structures.
    pub own: &'a [Structure],
    /// The palettes on the shelf, by name.
    pub palettes: &'a [Palette],
    /// What is remembered between runs.
    pub settings: &'a Settings,
    /// What belongs to the maker and not to the design.
    pub workshop: &'a Workshop,
    /// From the wish to the cutting table; on the stages that show it, once there are figures.
    pub plan: Option<&'a Planned>,
    /// The cords under way.
    pub at_disc: &'a AtDisc,
    /// What can be heard there.
    pub heard: &'a Heard,
    /// What Undo would take back, if anything.
    pub undo: Option<&'a str>,
    /// What Redo would bring again, if anything.
    pub redo: Option<&'a str>,
    /// Whether there is anything that is in no file.
    pub is_unsaved: bool,
}

impl<'a> Desk<'a> {
    /// The cord to show, new or old.
    pub fn cord(&self) -> Option<&'a Cord> {
        self.solver.solved().cord().map(AsRef::as_ref)
    }

    /// The figures of the design as it is now.
    pub fn known(&self) -> Known<'a> {
        self.solver.known()
    }

    /// The one section of this version's designs.
    pub fn section(&self) -> Option<&'a Section> {
        self.design.sections.first()
    }

    /// The moves of that section.
    pub fn moves(&self) -> Option<&'a MoveList> {
        self.section().map(|section| &section.moves)
    }

    /// How the maker numbers the disc.
    pub fn numbering(&self) -> Numbering {
        self.design.braiding.numbering
    }

    /// The unit lengths are shown in.
    pub fn units(&self) -> UnitSystem {
        self.settings.units
    }
}
