//! The maker's own structures, read at the start and kept on disk at once.

use std::path::PathBuf;

use crate::document::{OWN_STRUCTURES, forget_structure, keep_structure, own_structures};
use crate::structure::Structure;

use super::App;
use super::controls::Tone;
use super::view::{Message, Offers};

impl App {
    fn own_file(&self) -> PathBuf {
        self.home.join(OWN_STRUCTURES)
    }

    /// Reads the shelf; one that cannot be read is said, and left as it is.
    pub(super) fn read_own(&mut self) {
        match own_structures(&self.own_file()) {
            Ok(own) => self.own = own,
            Err(error) => self.tell_own(format!("Your own structures cannot be read: {error}.")),
        }
    }

    /// Puts a structure on the shelf.
    pub(super) fn keep_structure(&mut self, structure: &Structure) {
        match keep_structure(&self.own_file(), structure) {
            Ok(()) => self.read_own(),
            Err(error) => self.tell_own(format!("Not put on your shelf: {error}.")),
        }
    }

    /// Takes the structures of a name off the shelf.
    pub(super) fn drop_structure(&mut self, name: &str) {
        match forget_structure(&self.own_file(), name) {
            Ok(()) => self.read_own(),
            Err(error) => self.tell_own(format!("Not taken off your shelf: {error}.")),
        }
    }

    fn tell_own(&mut self, happened: String) {
        self.view.tell(Message {
            tone: Tone::Caution,
            happened,
            kept: "The shelf is as it was, and so is the design.".to_owned(),
            advice: format!("Look at {}.", self.own_file().display()),
            offers: Offers::Nothing,
        });
    }
}
