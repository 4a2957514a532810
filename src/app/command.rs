//! Everything one can ask for. Menu, shortcut, button, tip and test all name
//! the same variant; `act` performs it.

use std::path::PathBuf;

use eframe::egui::{Key, KeyboardShortcut, Modifiers, Ui};

use crate::document::Edit;
use crate::material::Fibre;
use crate::material::colour::Palette;
use crate::plan::Workshop;

use super::desk::Desk;
use crate::quantity::UnitSystem;
use crate::structure::Structure;

use super::at_disc::{Habits, Hands};
use super::grounds::Lying;
use super::screen::Measured;
use super::settings::Dress;
use super::stage::Stage;

/// Something the maker asks for.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// Show a stage.
    GoTo(Stage),
    /// Change the design.
    Edit(Edit),
    /// Change the workshop: how it is now, and in a few words what that does.
    Workshop(Box<Workshop>, String),
    /// Take the last change back.
    Undo,
    /// Bring it again.
    Redo,
    /// Begin with a plain cord.
    New,
    /// Open one of the finished examples, counted from 0.
    Example(usize),
    /// Ask which file to open.
    Open,
    /// Open this file.
    OpenFile(PathBuf),
    /// Save where it was last saved, or ask where.
    Save,
    /// Ask where to save.
    SaveAs,
    /// Save here.
    SaveTo(PathBuf),
    /// Open what was found after a crash, counted from 0.
    Recover(usize),
    /// Throw away what was found after a crash, counted from 0.
    Forget(usize),
    /// Put a fibre on the maker's own shelf.
    KeepFibre(Box<Fibre>),
    /// Take a fibre off the maker's own shelf, by its name.
    DropFibre(String),
    /// Put a structure on the maker's own shelf.
    KeepStructure(Box<Structure>),
    /// Take structures off the maker's own shelf, by their name.
    DropStructure(String),
    /// Ask which photograph to take colours from.
    AskPhotograph,
    /// Take colours from this photograph.
    OpenPhotograph(PathBuf),
    /// Ask which palette to put on the shelf.
    AskPalette,
    /// Put this palette on the shelf and offer its colours.
    OpenPalette(PathBuf),
    /// Ask where to save a palette.
    AskWherePalette(Box<Palette>),
    /// Save a palette here.
    SavePalette(Box<Palette>, PathBuf),
    /// Put a palette on the shelf and offer its colours.
    KeepPalette(Box<Palette>),
    /// Take a palette off the shelf, by its name.
    DropPalette(String),
    /// Offer the colours of this palette, by its name; empty for our dyes.
    Offer(String),
    /// Mark strands by patterns besides colours, or not.
    Marks(bool),
    /// Show lengths in this unit.
    Units(UnitSystem),
    /// Play so many moves a minute.
    Pace(f32),
    /// Light or dark.
    Dress(Dress),
    /// Lay the cord of the strip on this.
    LayOn(Lying),
    /// This is how large the screen is.
    Screen(Measured),
    /// Show or hide the file slip.
    Files,
    /// Show or hide the slip with what can be taken along.
    TakeAlong,
    /// Ask where to save what is taken along.
    AskTake,
    /// Make what is taken along and save it here.
    TakeTo(PathBuf),
    /// Ask where to save the work sheet or a list.
    AskLeaf,
    /// Make the work sheet or the list that is wanted and save it here.
    LeafTo(PathBuf),
    /// Lay the picture of the cord on the clipboard.
    CopyPicture,
    /// Do this at the disc.
    AtDisc(Hands),
    /// Work at the disc in this way.
    Habits(Box<Habits>),
}

/// A command with its keys, in the order they are shown to whoever asks.
struct Keys {
    command: Command,
    keys: KeyboardShortcut,
}

/// Shortcuts; more modifiers first, or Ctrl S would take Ctrl Shift S.
fn shortcuts() -> Vec<Keys> {
    let with = |command, modifiers, key| Keys {
        command,
        keys: KeyboardShortcut::new(modifiers, key),
    };
    let ctrl = Modifiers::COMMAND;
    let both = Modifiers::COMMAND | Modifiers::SHIFT;
    let mut all = vec![
        with(Command::SaveAs, both, Key::S),
        with(Command::Redo, both, Key::Z),
        with(Command::Undo, ctrl, Key::Z),
        with(Command::Redo, ctrl, Key::Y),
        with(Command::Save, ctrl, Key::S),
        with(Command::Open, ctrl, Key::O),
        with(Command::New, ctrl, Key::N),
        with(Command::Files, Modifiers::NONE, Key::F10),
        with(Command::TakeAlong, ctrl, Key::E),
    ];
    let numbers = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5];
    let stages = Stage::ALL.into_iter().zip(numbers);
    all.extend(stages.map(|(stage, key)| with(Command::GoTo(stage), ctrl, key)));
    all
}

/// The commands whose keys were pressed in this frame.
pub fn pressed(ui: &Ui) -> Vec<Command> {
    ui.input_mut(|input| {
        shortcuts()
            .into_iter()
            .filter(|keys| input.consume_shortcut(&keys.keys))
            .map(|keys| keys.command)
            .collect()
    })
}

impl Command {
    /// Its words on buttons and in menus.
    pub fn words(&self) -> &'static str {
        match self {
            Self::GoTo(stage) => stage.name(),
            Self::Edit(_) | Self::Workshop(..) => "Change",
            Self::Undo => "Undo",
            Self::Redo => "Redo",
            Self::New => "New cord",
            Self::Example(_) => "Finished example",
            Self::Open => "Open…",
            Self::OpenFile(_) => "Open",
            Self::Save => "Save",
            Self::SaveAs => "Save as…",
            Self::SaveTo(_) => "Save here",
            Self::Recover(_) => "Open what was found",
            Self::Forget(_) => "Throw it away",
            Self::KeepFibre(_) => "Put it on my shelf",
            Self::DropFibre(_) => "Take it off my shelf",
            Self::KeepStructure(_) => "Keep on my shelf",
            Self::DropStructure(_) => "Take it off my shelf",
            Self::AskPhotograph => "Open a photograph…",
            Self::OpenPhotograph(_) => "Open the photograph",
            Self::AskPalette => "Open a palette…",
            Self::OpenPalette(_) => "Open the palette",
            Self::AskWherePalette(_) => "Save as a file…",
            Self::SavePalette(..) => "Save here",
            Self::KeepPalette(_) => "Keep as a palette",
            Self::DropPalette(_) => "Take it off the shelf",
            Self::Offer(_) => "Offer these colours",
            Self::Marks(_) => "Marks besides colour",
            Self::Units(UnitSystem::Millimetres) => "mm",
            Self::Units(UnitSystem::Inches) => "inch",
            Self::Pace(_) => "Pace",
            Self::Dress(Dress::Light) => "Light window",
            Self::Dress(Dress::Dark) => "Dark window",
            Self::LayOn(lying) => lying.words(),
            Self::Screen(_) => "They are the same size",
            Self::Files => "File",
            Self::TakeAlong => "Take it along",
            Self::AskTake => "Save…",
            Self::TakeTo(_) | Self::LeafTo(_) => "Save here",
            Self::AskLeaf => "Work sheet…",
            Self::CopyPicture => "Copy the picture",
            Self::AtDisc(hands) => hands.words(),
            Self::Habits(_) => "Change",
        }
    }

    /// Its keys in words, such as "Ctrl Shift S"; empty without.
    pub fn keys(&self) -> String {
        let found = shortcuts().into_iter().find(|keys| keys.command == *self);
        found.map_or_else(String::new, |keys| said(&keys.keys))
    }

    /// Its words with its keys, as a tip.
    pub fn tip(&self) -> String {
        let keys = self.keys();
        if keys.is_empty() {
            return self.words().to_owned();
        }
        format!("{}  {keys}", self.words())
    }

    /// Why it cannot be done now; `None` when it can.
    pub fn hindrance(&self, desk: &Desk<'_>) -> Option<&'static str> {
        match self {
            Self::Undo if desk.undo.is_none() => Some("nothing to take back"),
            Self::Redo if desk.redo.is_none() => Some("nothing to bring again"),
            Self::GoTo(stage) if !stage.is_working() => Some("still to come"),
            _ => None,
        }
    }
}

fn said(keys: &KeyboardShortcut) -> String {
    let mut words = Vec::new();
    if keys.modifiers.command {
        words.push("Ctrl");
    }
    if keys.modifiers.shift {
        words.push("Shift");
    }
    words.push(keys.logical_key.name());
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_their_keys() {
        let all = shortcuts();
        for (place, one) in all.iter().enumerate() {
            for other in &all[..place] {
                let (a, b) = (&one.command, &other.command);
                assert!(one.keys != other.keys, "{a:?} and {b:?}");
            }
        }
    }

    #[test]
    fn keys_are_said_in_the_words_on_the_keyboard() {
        assert_eq!(Command::SaveAs.keys(), "Ctrl Shift S");
        assert_eq!(Command::Undo.tip(), "Undo  Ctrl Z");
        assert_eq!(Command::Example(0).keys(), "", "not every command has keys");
    }
}
