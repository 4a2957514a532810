//! One cord under way: its journal, and what follows from it.

use std::path::Path;

use crate::bench::{Course, Entry, Lying, Motions, Stamped, Stride, Why, own_pace, sittings};
use crate::document::{Begun, Design, Journal};
use crate::plan::{Progress, progress};
use crate::structure::{Braid, MoveList};

/// A cord at the disc.
///
/// What lies there is worked out anew at every entry, never by hand: it follows from the
/// journal alone.
#[derive(Debug)]
pub struct AtWork {
    journal: Journal,
    braid: Braid,
    motions: Motions,
    set_up: Vec<Vec<usize>>,
    laid_together: Vec<usize>,
    lying: Lying,
    progress: Progress,
}

impl AtWork {
    /// The cord of a journal.
    ///
    /// # Errors
    ///
    /// One sentence where its moves make no braid.
    pub(super) fn of(journal: Journal) -> Result<Self, String> {
        let braid = journal.begun().braid();
        let braid = braid.map_err(|error| error.to_string())?;
        let motions = Motions::of(&braid);
        let set_up = journal.begun().design.set_up();
        Ok(Self {
            progress: progress_of(&journal, &motions),
            motions,
            laid_together: set_up.iter().map(Vec::len).collect(),
            set_up,
            lying: journal.course().lying(&braid),
            braid,
            journal,
        })
    }

    /// Writes what happened, and only then has it happened.
    ///
    /// # Errors
    ///
    /// One sentence when it could not be written; nothing has happened then.
    pub(super) fn write(&mut self, stamped: &Stamped) -> Result<(), String> {
        let written = self.journal.write(stamped);
        written.map_err(|error| error.to_string())?;
        self.settle();
        Ok(())
    }

    /// Copies a photograph and notes it at this place; `at` in ms since 1970.
    ///
    /// # Errors
    ///
    /// One sentence when it cannot be copied; nothing is noted then.
    pub(super) fn photograph(&mut self, at: u64, file: &Path) -> Result<(), String> {
        let noted = self.journal.photograph(at, file);
        noted.map_err(|error| error.to_string())?;
        self.settle();
        Ok(())
    }

    /// What follows from the journal, anew.
    fn settle(&mut self) {
        self.lying = self.journal.course().lying(&self.braid);
        self.progress = progress_of(&self.journal, &self.motions);
    }

    /// Why nothing can be written here, one sentence; none where it can.
    pub(super) fn hindrance(&self) -> Option<String> {
        let may = self.journal.may_write();
        may.err().map(|error| error.to_string())
    }

    /// What of its file was not whole when it was opened, one or two sentences.
    pub fn damage(&self) -> Option<String> {
        self.journal.told().not_whole()
    }

    /// Takes a changed design with the same moves over.
    ///
    /// # Errors
    ///
    /// One sentence when it could not be written.
    pub(super) fn follow(&mut self, begun: Begun) -> Result<(), String> {
        let followed = self.journal.follow(begun);
        followed.map_err(|error| error.to_string())?;
        self.set_up = self.design().set_up();
        self.laid_together = self.set_up.iter().map(Vec::len).collect();
        self.settle();
        Ok(())
    }

    /// What it was begun with.
    pub fn begun(&self) -> &Begun {
        self.journal.begun()
    }

    /// The design that it keeps.
    pub fn design(&self) -> &Design {
        &self.begun().design
    }

    /// Its story.
    pub fn course(&self) -> &Course {
        self.journal.course()
    }

    /// Its braid.
    pub fn braid(&self) -> &Braid {
        &self.braid
    }

    /// Its moves as they were written down.
    pub fn list(&self) -> &MoveList {
        self.braid.moves()
    }

    /// What the hands do, through all rounds.
    pub fn motions(&self) -> &Motions {
        &self.motions
    }

    /// What lies on the disc now, once it is dressed.
    pub fn lying(&self) -> &Lying {
        &self.lying
    }

    /// The strands in the order of the set-up, those of one folded length together.
    pub fn set_up(&self) -> &[Vec<usize>] {
        &self.set_up
    }

    /// The entry of the next step on.
    pub(super) fn on(&self, pairs: bool) -> Option<Entry> {
        self.course().on(self.stride(pairs))
    }

    /// The entry of a step back.
    pub fn back(&self, pairs: bool) -> Option<Entry> {
        self.course().back(self.stride(pairs))
    }

    /// Moves that lie in the cord, also on the way back where that is plain.
    pub fn done(&self) -> u64 {
        let course = self.course();
        let Some((way, made)) = course.way.as_ref().filter(|(way, _)| way.why == Why::Undo) else {
            return course.done;
        };
        let back = |done: u64, _| self.motions.before(done).map_or(done, |it| it.begins);
        let steps = 0..(*made).min(way.steps.len());
        steps.fold(course.done, back)
    }

    /// How far along it is.
    pub fn progress(&self) -> &Progress {
        &self.progress
    }

    /// How she steps.
    pub fn stride(&self, pairs: bool) -> Stride<'_> {
        Stride {
            motions: &self.motions,
            laid_together: &self.laid_together,
            pairs,
        }
    }
}

/// How far along the cord of a journal is, at her own pace where it is known.
fn progress_of(journal: &Journal, motions: &Motions) -> Progress {
    let (begun, course) = (journal.begun(), journal.course());
    let own = own_pace(&sittings(course));
    progress(&begun.outlook, course, motions.moves_a_round(), own)
}
