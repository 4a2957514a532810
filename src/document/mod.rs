//! What is kept: the design, its history and its file, and the place of every cord under
//! way.

mod apply;
mod check;
mod design;
mod disk;
mod edit;
mod examples;
mod file;
mod format;
mod history;
mod journal;
mod letters;
mod locate;
mod other_makings;
mod own;
mod piece;
mod recent;
mod recovery;
mod rework;
mod sample;
#[cfg(test)]
mod trial;
mod workshop;

pub use check::{DesignError, Key, MOST_ENDS, MOST_MOVES, MOST_SLOTS, MOST_STRANDS};
pub use design::{Bead, Braiding, Core, Design, Piece, Section, strand_name};
pub use disk::{Disk, Lock, RealDisk};
pub use edit::{Edit, EditError};
pub use examples::examples;
pub use file::{WriteError, open, replace, replace_on, save};
pub use format::{EXTENSION, Kept, LARGEST, ReadError, VERSION, read, write};
pub use history::History;
pub use journal::{Begun, Damage, Found, Journal, JournalError, PIECES, Told, put_away, under_way};
pub use letters::{FontFile, spare_fonts};
pub use locate::Spot;
pub use own::{
    OWN_STRUCTURES, Origin, ShelfError, forget_structure, keep_structure, own_structures,
};
pub use piece::PieceEdit;
pub use recent::{recent_files, remember_file};
pub use recovery::{Autosave, Lost, find_lost};
pub use rework::changed_name;
pub use sample::{Quantity, Sample, State};
pub use workshop::{KeepWorkshopError, WORKSHOP, example_workshop, keep_workshop, workshop};

#[cfg(test)]
pub(crate) use trial::{any_design, any_edit, any_kept, sample_design, sample_fibre};
