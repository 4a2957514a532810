//! The maker's workshop: read at the start, changed by the one command, kept at once.

use std::path::PathBuf;

use eframe::egui::Context;

use crate::document::{self, WORKSHOP, example_workshop};
use crate::plan::Workshop;

use super::App;
use super::command::Command;
use super::controls::{Tone, UndoSlip};
use super::view::{Message, Offers};
use super::workbench::Workbench;

impl App {
    fn workshop_file(&self) -> PathBuf {
        self.home.join(WORKSHOP)
    }

    /// Takes the workshop home; the example where there is none yet, or none to be read.
    pub(super) fn read_workshop(&mut self) {
        let workshop = match document::workshop(&self.workshop_file()) {
            Ok(Some(workshop)) => workshop,
            Ok(None) => example_workshop().clone(),
            Err(error) => {
                self.view.tell(Message {
                    tone: Tone::Stop,
                    happened: format!("Your workshop cannot be read: {error}."),
                    kept: format!(
                        "It lies untouched at {}; what is shown meanwhile is the example.",
                        self.workshop_file().display()
                    ),
                    advice: "Mend that line in a text editor and start anew.".to_owned(),
                    offers: Offers::Nothing,
                });
                example_workshop().clone()
            }
        };
        self.workbench = Workbench::of(workshop);
    }

    pub(super) fn change_workshop(&mut self, workshop: Workshop, done: &str, ctx: &Context) {
        if let Err(error) = workshop.check() {
            self.view.tell(Message {
                tone: Tone::Stop,
                happened: super::act::sentence(&error.to_string()),
                kept: "The workshop is as it was before.".to_owned(),
                advice: "Change it another way, or leave it so and go on.".to_owned(),
                offers: Offers::Again,
            });
            return;
        }
        let now = ctx.input(|input| input.time);
        let beside = self.history.now();
        if self.workbench.change(workshop, done, beside, now) {
            self.view.messages.retain(|m| m.offers != Offers::Again);
            let words = super::act::sentence(done);
            self.view.slip = Some(UndoSlip::new(words, Command::Undo.keys()));
        }
    }

    /// Writes the workshop when it is another than the one on disk.
    pub(super) fn keep_workshop(&mut self) {
        let Some(workshop) = self.workbench.unwritten() else {
            return;
        };
        if let Err(error) = document::keep_workshop(&self.workshop_file(), &workshop) {
            self.view.tell(Message {
                tone: Tone::Caution,
                happened: format!("The workshop is not kept: {error}."),
                kept: "Until the program is shut it counts as it is shown.".to_owned(),
                advice: "See that its folder can be written to.".to_owned(),
                offers: Offers::Nothing,
            });
        }
    }
}
