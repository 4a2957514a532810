//! Performing what was asked for; the only place that changes anything.

use std::path::{Path, PathBuf};
use std::time::Instant;

use eframe::egui::Context;

use crate::document::{
    self, Design, Edit, History, Kept, examples, find_lost, recent_files, remember_file,
};

use crate::material::Fibre;

use super::App;
use super::ask::{Dialog, Question, with_ending};
use super::at_disc::Hands;
use super::command::Command;
use super::controls::{Tone, UndoSlip};
use super::files::{OpenFile, copies};
use super::fresh;
use super::stage::look::LookPage;
use super::view::{Message, Offers};

impl App {
    /// Does what was asked for.
    pub(super) fn perform(&mut self, command: Command, ctx: &Context) {
        match command {
            Command::GoTo(stage) if stage.is_working() => {
                self.view.stage = stage;
                self.come_to_the_disc();
            }
            Command::GoTo(_) => {}
            Command::Edit(edit) => self.edit(edit, ctx),
            Command::Workshop(workshop, done) => self.change_workshop(*workshop, &done, ctx),
            Command::Undo => self.undo(),
            Command::Redo => self.redo(),
            Command::New => self.start_anew(fresh::plain(), "A plain cord to begin with."),
            Command::Example(place) => self.open_example(place),
            Command::Open => self.ask(Question::Open, ctx),
            Command::OpenFile(path) => self.open_any(path, ctx),
            Command::Save => self.save(ctx),
            Command::SaveAs => self.ask(Question::SaveAs, ctx),
            Command::SaveTo(path) => self.save_to(with_ending(path)),
            Command::Recover(place) => self.recover(place),
            Command::Forget(place) => self.forget_lost(place),
            Command::KeepFibre(fibre) => self.keep_fibre(*fibre),
            Command::DropFibre(name) => self.settings.own_fibres.retain(|f| f.name != name),
            Command::KeepStructure(structure) => self.keep_structure(&structure),
            Command::DropStructure(name) => self.drop_structure(&name),
            Command::AskPhotograph => self.ask(Question::Photograph, ctx),
            Command::OpenPhotograph(path) => self.open_photograph(&path, ctx),
            Command::AskPalette => self.ask(Question::Palette, ctx),
            Command::OpenPalette(path) => self.open_palette(&path),
            Command::AskWherePalette(palette) => {
                self.palette_to_save = Some(palette);
                self.ask(Question::SavePalette, ctx);
            }
            Command::SavePalette(palette, path) => self.save_palette(&palette, &path),
            Command::KeepPalette(palette) => self.keep_palette(&palette),
            Command::DropPalette(name) => self.drop_palette(&name),
            Command::Offer(name) => self.settings.offered = name,
            Command::Marks(marks) => self.settings.marks = marks,
            Command::Units(units) => self.settings.units = units,
            Command::Pace(pace) => self.settings.pace = pace,
            Command::Dress(dress) => self.settings.dress = dress,
            Command::LayOn(lying) => self.settings.lying = Some(lying),
            Command::Screen(measured) => measured.keep(&mut self.settings.screens),
            Command::Files => self.view.files.open = !self.view.files.open,
            Command::TakeAlong => self.view.take.open = !self.view.take.open,
            Command::AskTake => self.ask(Question::Take(self.view.take.what), ctx),
            Command::TakeTo(path) => self.take_to(path, ctx),
            Command::AskLeaf => self.ask(Question::Leaf(self.view.cut.on_paper.leaf), ctx),
            Command::LeafTo(path) => self.leaf_to(path, ctx),
            Command::CopyPicture => self.copy_picture(ctx),
            Command::AtDisc(hands) => self.at_hand(hands, ctx),
            Command::Habits(habits) => self.settings.at_disc = *habits,
        }
        ctx.request_repaint();
    }

    fn edit(&mut self, edit: Edit, ctx: &Context) {
        let now = ctx.input(|input| input.time);
        let before = self.history.now().clone();
        let label = edit.label();
        // On their page a look has its own way back, and the slip would cover others.
        let is_tried = matches!(edit, Edit::Look(_)) && self.view.look.page == LookPage::Looks;
        match self.history.apply(edit, now) {
            Ok(()) if *self.history.now() == before => {}
            Ok(()) => {
                self.workbench.move_on();
                self.view.messages.retain(|m| m.offers != Offers::Again);
                let slip = || UndoSlip::new(sentence(&label), Command::Undo.keys());
                self.view.slip = (!is_tried).then(slip);
            }
            Err(error) => self.view.tell(Message {
                tone: Tone::Stop,
                happened: sentence(&error.to_string()),
                kept: "The design is as it was before.".to_owned(),
                advice: "Change it another way, or leave it so and go on.".to_owned(),
                offers: Offers::Again,
            }),
        }
    }

    pub(super) fn undo(&mut self) {
        if self.workbench.undo(self.history.now()) {
            self.view.slip = None;
            return;
        }
        self.undo_design();
    }

    /// Takes the last change of the design back, whatever was done in the workshop since.
    pub(super) fn undo_design(&mut self) {
        let label = self.history.undo_label().map(str::to_owned);
        if self.history.undo() {
            self.view.slip = None;
            self.settle();
            log::debug!("took back {label:?}");
        }
    }

    fn redo(&mut self) {
        if self.workbench.redo(self.history.now()) {
            self.view.slip = None;
            return;
        }
        if self.history.redo() {
            self.view.slip = None;
            self.settle();
        }
    }

    /// Another design is on the table; what was left unsaved is offered back.
    pub(super) fn turn_to(&mut self) {
        self.view.slip = None;
        self.workbench.turn_to();
        self.leave_the_disc();
        self.lost.extend(find_lost(&copies(&self.home)));
        self.offer_lost();
        self.view.look.turn_to(self.history.now());
        for words in self.history.now().not_yet() {
            self.view.tell(Message {
                tone: Tone::Caution,
                happened: words,
                kept: "Nothing of it is lost: it stays in the design and in its file.".to_owned(),
                advice: "Go on with the rest; take the figures for the cord without it.".to_owned(),
                offers: Offers::Nothing,
            });
        }
    }

    /// After undo and redo: what was chosen may not be there any more.
    fn settle(&mut self) {
        self.view.look.settle(self.history.now());
    }

    fn start_anew(&mut self, design: Design, words: &str) {
        self.leave();
        let kept = Kept::new(design, fastrand::u64(..));
        let (file, design) = OpenFile::of(kept, None, None);
        self.file = file;
        self.history = History::of_saved(design);
        self.turn_to();
        log::debug!("{words}");
    }

    fn open_example(&mut self, place: usize) {
        if let Some(example) = examples().get(place).cloned() {
            self.start_anew(example, "A finished example, yours to change.");
        }
    }

    /// Before another design comes: unsaved work stays in the recovery folder.
    fn leave(&mut self) {
        self.view.messages.clear();
        if self.history.is_saved() {
            self.file.drop_copy();
            return;
        }
        let design = self.history.now().clone();
        if let Err(error) = self.file.copy_now(&self.home, &design) {
            log::warn!("the copy could not be written: {error}");
        }
    }

    /// A design, or by its ending a photograph or a palette.
    fn open_any(&mut self, path: PathBuf, ctx: &Context) {
        let ending = path.extension().map(|ending| ending.to_ascii_lowercase());
        match ending.as_ref().and_then(|ending| ending.to_str()) {
            Some("png" | "jpg" | "jpeg") => self.open_photograph(&path, ctx),
            Some("gpl") => self.open_palette(&path),
            _ => self.open(path),
        }
    }

    pub(super) fn open(&mut self, path: PathBuf) {
        match document::open(&path) {
            Ok(kept) => {
                self.leave();
                self.note_recent(&path);
                let (file, design) = OpenFile::of(kept, Some(path), None);
                self.file = file;
                self.history = History::of_saved(design);
                self.turn_to();
                self.view.files.open = false;
            }
            Err(error) => self.view.tell(Message {
                tone: Tone::Stop,
                happened: format!("{}: {error}.", path.display()),
                kept: "The cord on the table is unharmed.".to_owned(),
                advice: "Mend that line in a text editor, or open another file.".to_owned(),
                offers: Offers::Nothing,
            }),
        }
    }

    fn save(&mut self, ctx: &Context) {
        match self.file.path.clone() {
            Some(path) => self.save_to(path),
            None => self.ask(Question::SaveAs, ctx),
        }
    }

    fn save_to(&mut self, path: PathBuf) {
        let kept = self.file.kept(self.history.now());
        match document::save(&path, &kept) {
            Ok(()) => {
                self.note_recent(&path);
                self.history.mark_saved();
                self.file.drop_copy();
                self.file.path = Some(path);
                self.file.saved_at = Some(Instant::now());
                self.view.files.open = false;
            }
            Err(error) => self.view.tell(Message {
                tone: Tone::Stop,
                happened: format!("Not saved: {error}."),
                kept: "The design is here, and a copy of it in the program's own folder."
                    .to_owned(),
                advice: "Save it under another name or in another folder.".to_owned(),
                offers: Offers::Nothing,
            }),
        }
    }

    /// Opens the system's dialog, and the slip with its box for a path, which
    /// is the way where there is no dialog.
    pub(super) fn ask(&mut self, question: Question, ctx: &Context) {
        self.view.files.open |= matches!(question, Question::Open | Question::SaveAs);
        let folder = self.file.path.as_ref().and_then(|path| path.parent());
        let wake = ctx.clone();
        let name = match (question, &self.palette_to_save) {
            (Question::SavePalette, Some(palette)) => &palette.name,
            _ => &self.history.now().name,
        };
        self.dialog = Dialog::ask(question, folder, name, move || wake.request_repaint());
    }

    /// Takes a dialog's answer home.
    pub(super) fn answer(&mut self, ctx: &Context) {
        let Some(dialog) = &self.dialog else { return };
        let Some(answer) = dialog.answer() else {
            return;
        };
        let question = dialog.question();
        self.dialog = None;
        let Some(path) = answer else { return };
        let command = match question {
            Question::Open => Command::OpenFile(path),
            Question::SaveAs => Command::SaveTo(path),
            Question::Take(_) => Command::TakeTo(path),
            Question::Leaf(_) => Command::LeafTo(path),
            Question::Photograph => Command::OpenPhotograph(path),
            Question::Noted => Command::AtDisc(Hands::Photograph(path)),
            Question::Palette => Command::OpenPalette(path),
            Question::SavePalette => {
                let Some(palette) = self.palette_to_save.take() else {
                    return;
                };
                Command::SavePalette(palette, path)
            }
        };
        self.perform(command, ctx);
    }

    fn note_recent(&mut self, path: &Path) {
        let list = recent_list(&self.home);
        if let Err(error) = remember_file(&list, path) {
            log::warn!("the list of recent files was not written: {error}");
        }
        self.recent = recent_files(&list);
    }

    fn recover(&mut self, place: usize) {
        if place >= self.lost.len() {
            return;
        }
        let lost = self.lost.remove(place);
        let (kept, from) = (lost.kept.clone(), lost.from.clone());
        let Ok(kept) = kept else { return };
        self.leave();
        let (file, design) = OpenFile::of(kept, from, Some(lost.adopt()));
        self.file = file;
        self.history = History::of_unsaved(design);
        self.turn_to();
    }

    /// One notice for each piece of work that a crash left.
    fn offer_lost(&mut self) {
        let of_lost = |m: &Message| matches!(m.offers, Offers::Recovery(_) | Offers::Broken(_));
        self.view.messages.retain(|message| !of_lost(message));
        for (place, lost) in self.lost.iter().enumerate() {
            let message = match &lost.kept {
                Ok(kept) => lost_and_found(&kept.design.name, place),
                Err(error) => lost_and_broken(&error.to_string(), &lost.path, place),
            };
            self.view.messages.push(message);
        }
    }

    fn forget_lost(&mut self, place: usize) {
        if place < self.lost.len() {
            self.lost.remove(place).discard();
        }
        self.offer_lost();
    }

    fn keep_fibre(&mut self, fibre: Fibre) {
        let own = &mut self.settings.own_fibres;
        own.retain(|known| known.name != fibre.name);
        own.push(fibre);
    }
}

/// A label as a sentence without its full stop.
pub(super) fn sentence(label: &str) -> String {
    let mut letters = label.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// The list of recent files in the program's own folder.
pub(super) fn recent_list(home: &Path) -> PathBuf {
    home.join("recent.ron")
}

fn lost_and_found(name: &str, place: usize) -> Message {
    Message {
        tone: Tone::Caution,
        happened: format!("{name} was left without being saved."),
        kept: "A copy of it was kept, as it was when it was left.".to_owned(),
        advice: "Open it and save it, or throw it away.".to_owned(),
        offers: Offers::Recovery(place),
    }
}

fn lost_and_broken(error: &str, path: &Path, place: usize) -> Message {
    Message {
        tone: Tone::Stop,
        happened: format!("A copy of unsaved work cannot be read: {error}."),
        kept: format!("It lies untouched at {}.", path.display()),
        advice: "Mend that line in a text editor and open it by its path, or throw it away."
            .to_owned(),
        offers: Offers::Broken(place),
    }
}
