//! The cord at the disc, and the others that are under way.
//!
//! Every step is written before anything shows it. Where it cannot be written the disc
//! stays as it was, and the stage says at once that the place is not kept.

mod habits;
mod heard;
mod place;
mod prompt;
mod work;

use std::path::{Path, PathBuf};

use eframe::egui::{Context, Ui};

use crate::bench::{Entry, Stamped};
use crate::document::{Begun, Design, Found, Journal, PIECES, put_away, under_way};
use crate::plan::outlook;

use super::App;
use super::ask::Question;
use super::clock::now;
use super::controls::Tone;
use super::stage::Stage;
use super::stage::braid::{BraidView, keys};
use super::view::{Message, Offers};

pub use habits::Habits;
pub use heard::Heard;
pub use place::{Carried, Doing, Place, around};
pub use prompt::{Names, Prompt, hand_shown, lopsided, steps_of_way};
pub use work::AtWork;

/// What is asked for at the disc.
#[derive(Debug, Clone, PartialEq)]
pub enum Hands {
    /// Begin a cord of the design on the table.
    Begin,
    /// Go on with the one whose journal lies here.
    GoOn(PathBuf),
    /// Put it down; its place is kept.
    PutDown,
    /// The next step is made.
    On,
    /// The last step is taken back.
    Back,
    /// This happened.
    Write(Entry),
    /// Copy a photograph and note it at this place.
    Photograph(PathBuf),
    /// Ask which photograph to note.
    AskPhotograph,
    /// Say once more what is next.
    Say,
    /// Take over what was changed in the design since it was begun.
    Follow,
    /// Put the cord of this journal away, finished or given up; nothing is deleted.
    PutAway(PathBuf),
}

impl Hands {
    /// Its words on buttons.
    pub fn words(&self) -> &'static str {
        match self {
            Self::Begin => "Begin this cord",
            Self::GoOn(_) => "Go on",
            Self::PutDown => "Cords under way",
            Self::On => "Done, go on",
            Self::Back => "Back one",
            Self::Write(_) => "Write it down",
            Self::Photograph(_) => "Keep it",
            Self::AskPhotograph => "Choose a photograph…",
            Self::Say => "Say it again",
            Self::Follow => "Follow the design",
            Self::PutAway(_) => "Put it away",
        }
    }
}

/// The cords under way, one of them at the disc.
#[derive(Debug, Default)]
pub struct AtDisc {
    found: Vec<Found>,
    work: Option<AtWork>,
    trouble: Option<String>,
}

impl AtDisc {
    /// The cord at the disc.
    pub fn work(&self) -> Option<&AtWork> {
        self.work.as_ref()
    }

    /// Cords under way, as they were found last; those of every design.
    pub fn found(&self) -> &[Found] {
        &self.found
    }

    /// Why the last thing asked for was not written, one sentence.
    pub fn trouble(&self) -> Option<&str> {
        self.trouble.as_deref()
    }

    /// Looks for cords under way.
    pub(super) fn look(&mut self, home: &Path) {
        match under_way(&pieces(home), None) {
            Ok(found) => self.found = found,
            Err(error) => self.trouble = Some(error.to_string()),
        }
    }

    /// Writes an entry; the cord is as it was where that fails.
    fn write(&mut self, entry: Entry) {
        let Some(work) = &mut self.work else { return };
        let stamped = Stamped { at: now(), entry };
        self.trouble = work.write(&stamped).err();
    }

    fn put_down(&mut self, home: &Path) {
        self.work = None;
        self.trouble = None;
        self.look(home);
    }

    fn take_up(&mut self, journal: Result<Journal, String>) {
        match journal.and_then(AtWork::of) {
            Ok(work) => {
                self.trouble = work.hindrance();
                self.work = Some(work);
            }
            Err(why) => self.trouble = Some(why),
        }
    }
}

/// Where journals lie in the program's own folder.
pub(super) fn pieces(home: &Path) -> PathBuf {
    home.join(PIECES)
}

impl App {
    /// Does what was asked for at the disc.
    pub(super) fn at_hand(&mut self, hands: Hands, ctx: &Context) {
        match hands {
            Hands::Begin => self.begin_cord(),
            Hands::GoOn(path) => self.go_on(&path),
            Hands::PutDown => self.at_disc.put_down(&self.home),
            Hands::On => self.step(AtWork::on),
            Hands::Back => self.step(AtWork::back),
            Hands::Write(entry) => self.at_disc.write(entry),
            Hands::Photograph(file) => self.note_photograph(&file),
            Hands::AskPhotograph => self.ask(Question::Noted, ctx),
            Hands::Say => {
                if let Some(work) = &self.at_disc.work {
                    self.heard.again(work, &self.settings.at_disc);
                }
            }
            Hands::Follow => self.follow_design(),
            Hands::PutAway(path) => {
                let put = put_away(&path);
                self.at_disc.trouble = put.err().map(|error| error.to_string());
                self.at_disc.look(&self.home);
            }
        }
        ctx.request_repaint();
    }

    /// Copies a photograph and notes it; says so where that fails.
    fn note_photograph(&mut self, file: &Path) {
        let work = self.at_disc.work.as_mut();
        let noted = work.map(|work| work.photograph(now(), file));
        if let Some(Err(why)) = noted {
            self.view.tell(Message {
                tone: Tone::Stop,
                happened: format!("{}: {why}.", file.display()),
                kept: "The place is kept; nothing was noted.".to_owned(),
                advice: "Choose another file, a photograph by its ending.".to_owned(),
                offers: Offers::Nothing,
            });
        }
    }

    /// Steps that were asked for by keys, before anything of the frame is drawn.
    pub(super) fn step_by_keys(&mut self, ui: &Ui) {
        if self.view.stage != Stage::Braid {
            return;
        }
        let (work, habits) = (self.at_disc.work.as_ref(), &self.settings.at_disc);
        for asked in keys::pressed(ui, work, habits, &mut self.view.braid) {
            self.perform(asked, ui.ctx());
        }
    }

    fn step(&mut self, entry: impl Fn(&AtWork, bool) -> Option<Entry>) {
        let pairs = self.settings.at_disc.pairs;
        let work = self.at_disc.work.as_ref();
        if let Some(entry) = work.and_then(|work| entry(work, pairs)) {
            self.at_disc.write(entry);
        }
    }

    /// What a cord of the design on the table would be begun with, once it has figures.
    fn begun(&self) -> Option<Begun> {
        let figures = self.solver.known().figures()?;
        let (design, workshop) = (self.history.now(), self.workbench.now());
        let units = self.settings.units;
        let outlook = design.on_the_table(figures, workshop, units, outlook);
        let (of, seed) = (self.file.id().to_owned(), fastrand::u64(..));
        Some(Begun::new(of, design.clone(), outlook, now(), seed))
    }

    fn begin_cord(&mut self) {
        let Some(begun) = self.begun() else {
            return;
        };
        let journal = Journal::begin(&pieces(&self.home), begun);
        self.at_disc
            .take_up(journal.map_err(|error| error.to_string()));
        self.view.braid.begin();
    }

    fn go_on(&mut self, path: &Path) {
        let journal = Journal::open(path).map_err(|error| error.to_string());
        self.at_disc.take_up(journal);
        self.view.braid.begin();
    }

    fn follow_design(&mut self) {
        let Some(work) = &self.at_disc.work else {
            return;
        };
        let (piece, began) = (work.begun().piece.clone(), work.begun().began);
        let Some(begun) = self.begun() else {
            return;
        };
        let begun = Begun {
            piece,
            began,
            ..begun
        };
        if let Some(work) = &mut self.at_disc.work {
            self.at_disc.trouble = work.follow(begun).err();
        }
    }

    /// The stage is shown: the only cord of this design that is under way is taken up
    /// again, for that is what she comes for.
    pub(super) fn come_to_the_disc(&mut self) {
        if self.view.stage != Stage::Braid || self.at_disc.work.is_some() {
            return;
        }
        self.at_disc.look(&self.home);
        let of = self.file.id();
        let design = self.history.now();
        let mut own = self.at_disc.found.iter();
        let mut own = own.by_ref().filter(|it| is_of(it, of, design));
        let only = own.next().filter(|it| !it.is_held && is_open(it));
        if let (Some(only), None) = (only, own.next()) {
            let path = only.path.clone();
            self.go_on(&path);
        }
    }

    /// Another design lies on the table: its cords are others.
    pub(super) fn leave_the_disc(&mut self) {
        self.at_disc.put_down(&self.home);
        self.view.braid.show(BraidView::Next);
        self.come_to_the_disc();
    }
}

/// Whether a cord is of this design: by its id, or as like to it as one that was never
/// saved can be.
pub fn is_of(found: &Found, id: &str, design: &Design) -> bool {
    let told = found.told.as_ref();
    found.of == id || told.is_ok_and(|told| told.begun.design == *design)
}

/// Whether a cord can be gone on with.
fn is_open(found: &Found) -> bool {
    let told = found.told.as_ref();
    told.is_ok_and(|told| !told.course.finished)
}

/// How the design on the table stands to the one a cord was begun with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beside {
    /// It is the same.
    Same,
    /// Only what leaves the moves and the strands' number as they are was changed.
    Changed,
    /// The moves are others.
    OtherMoves,
    /// It is another design.
    Other,
}

impl Beside {
    /// Of the design on the table, with its id.
    pub fn of(work: &AtWork, design: &Design, id: &str) -> Self {
        let begun = work.begun();
        let moves = |design: &Design| design.sections.first().map(|it| it.moves.clone());
        match &begun.design {
            own if own == design => Self::Same,
            _ if begun.of != id => Self::Other,
            own if moves(own) == moves(design) && own.strands.len() == design.strands.len() => {
                Self::Changed
            }
            _ => Self::OtherMoves,
        }
    }
}
