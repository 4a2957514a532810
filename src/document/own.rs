//! The maker's own structures, on a shelf beside the one that comes with the
//! program.
//!
//! Kept in a file of their own, handed in: a first line `// plait structures 1`
//! with the version, then a RON list. A file that cannot be read is left as it
//! is and says why; whoever keeps one more reads it again first, for another
//! window may have added to it. A design holds its moves whole, whatever is on
//! the shelf.

use std::path::Path;

use ron::ser::PrettyConfig;

use super::check::{At, DesignError, check_moves};
use super::file::{load, replace};
use super::format::{ReadError, in_our_words, not_text};
use super::{Design, Section, WriteError};
use crate::structure::{Braid, BraidError, Shape, Structure, shelf};

/// What the file is called in the folder of the settings.
pub const OWN_STRUCTURES: &str = "structures.ron";
/// The first line.
const FIRST_LINE: &str = "// plait structures 1";
/// Largest file that is read, bytes.
const LARGEST_SHELF: u64 = 16 * 1024 * 1024;
/// Most structures on the shelf.
const MOST_STRUCTURES: usize = 1000;

/// Why a structure was not put on the shelf or taken off it; the shelf is as it
/// was.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ShelfError {
    /// The shelf that is there cannot be read, so nothing is put over it.
    #[error("your own structures cannot be read: {0}")]
    Unreadable(#[from] ReadError),
    /// It could not be written.
    #[error(transparent)]
    Unwritable(#[from] WriteError),
    /// The structure has no name.
    #[error("a structure on the shelf needs a name")]
    NoName,
    /// A structure that comes with the program has that name.
    #[error("{0:?} is the name of a structure that comes with the program; choose another")]
    NameTaken(String),
    /// Too long a name, a place that no disc has, and the like.
    #[error(transparent)]
    Unsound(#[from] DesignError),
    /// The moves are no braid.
    #[error("the moves cannot be put on the shelf yet: {0}")]
    NoBraid(#[from] BraidError),
    /// There is no room left.
    #[error("the shelf holds {MOST_STRUCTURES} structures and no more")]
    Full,
    /// The shelf has none of that name.
    #[error("there is no structure {0:?} on your shelf")]
    NotThere(String),
}

/// The structures on the maker's shelf, in the order in which they came; none if
/// there is no such file yet.
///
/// # Errors
///
/// When the file cannot be read; see [`ReadError`].
pub fn own_structures(file: &Path) -> Result<Vec<Structure>, ReadError> {
    if matches!(file.try_exists(), Ok(false)) {
        return Ok(Vec::new());
    }
    let bytes = load(file, LARGEST_SHELF)?;
    let text = str::from_utf8(&bytes).map_err(|error| not_text(&bytes, error.valid_up_to()))?;
    if text.lines().next().map(str::trim_end) != Some(FIRST_LINE) {
        return Err(ReadError::NotAShelf);
    }
    ron::from_str(text).map_err(|error| in_our_words(text, &error))
}

/// Puts a structure on the shelf; one that was there under its name and for as
/// many strands makes room for it.
///
/// # Errors
///
/// When it is not fit for the shelf, or the file cannot be read or written; the
/// shelf is then as it was.
pub fn keep_structure(file: &Path, structure: &Structure) -> Result<(), ShelfError> {
    check(structure)?;
    let mut own = own_structures(file)?;
    let older = own.iter().position(|other| is_same(other, structure));
    match older {
        Some(place) => own[place].clone_from(structure),
        None if own.len() == MOST_STRUCTURES => return Err(ShelfError::Full),
        None => own.push(structure.clone()),
    }
    write(file, &own)
}

/// Takes the structures of a name off the shelf.
///
/// # Errors
///
/// When there is none, or the file cannot be read or written.
pub fn forget_structure(file: &Path, name: &str) -> Result<(), ShelfError> {
    let mut own = own_structures(file)?;
    let before = own.len();
    own.retain(|structure| structure.name != name);
    if own.len() == before {
        return Err(ShelfError::NotThere(name.to_owned()));
    }
    write(file, &own)
}

fn write(file: &Path, own: &[Structure]) -> Result<(), ShelfError> {
    let lines = PrettyConfig::new().depth_limit(2).new_line("\n");
    let body = ron::ser::to_string_pretty(&own, lines).expect("structs, lists, numbers and text");
    Ok(replace(file, format!("{FIRST_LINE}\n{body}\n").as_bytes())?)
}

fn check(structure: &Structure) -> Result<(), ShelfError> {
    let at = At::root();
    if structure.name.trim().is_empty() {
        return Err(ShelfError::NoName);
    }
    if shelf().iter().any(|ready| is_same(ready, structure)) {
        return Err(ShelfError::NameTaken(structure.name.clone()));
    }
    at.field("name").words(&structure.name)?;
    at.field("remark").words(&structure.remark)?;
    check_moves(&structure.moves, structure.strands(), &at.field("moves"))?;
    Braid::new(&structure.moves)?;
    Ok(())
}

fn is_same(one: &Structure, other: &Structure) -> bool {
    one.name == other.name && one.strands() == other.strands()
}

/// Where the moves of a section are also to be found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// On the shelf that comes with the program.
    Ready,
    /// On the maker's own shelf.
    Own,
    /// In the design alone.
    HereOnly,
}

impl Section {
    /// Where the very same moves are kept under the same name.
    pub fn origin(&self, own: &[Structure]) -> Origin {
        let is_it = |other: &Structure| other.name == self.structure && other.moves == self.moves;
        if shelf().iter().any(is_it) {
            Origin::Ready
        } else if own.iter().any(is_it) {
            Origin::Own
        } else {
            Origin::HereOnly
        }
    }
}

impl Design {
    /// The structure of its first section, to be put on a shelf: under its own
    /// name, or the design's if it has none. Of the shape the design cannot know.
    pub fn structure(&self, shape: Shape) -> Structure {
        let section = self.sections.first();
        let named = section.map(|section| section.structure.clone());
        Structure {
            name: named
                .filter(|name| !name.trim().is_empty())
                .unwrap_or_else(|| self.name.clone()),
            trade_name: String::new(),
            shape,
            remark: String::new(),
            moves: section
                .map(|section| section.moves.clone())
                .unwrap_or_default(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{Edit, sample_design};
    use crate::structure::Place;

    fn structure(name: &str) -> Structure {
        Structure {
            name: name.into(),
            remark: "found on a rainy day".into(),
            ..shelf()[3].clone()
        }
    }

    #[test]
    fn a_structure_is_kept_found_again_replaced_and_forgotten() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(OWN_STRUCTURES);
        assert_eq!(own_structures(&file), Ok(Vec::new()));
        let (one, other) = (structure("one"), structure("other"));
        keep_structure(&file, &one).unwrap();
        keep_structure(&file, &other).unwrap();
        assert_eq!(own_structures(&file), Ok(vec![one.clone(), other.clone()]));
        let changed = Structure {
            moves: one.moves.mirrored(),
            ..one
        };
        keep_structure(&file, &changed).unwrap();
        assert_eq!(own_structures(&file), Ok(vec![changed, other.clone()]));
        forget_structure(&file, "one").unwrap();
        assert_eq!(own_structures(&file), Ok(vec![other]));
        let said = forget_structure(&file, "one").unwrap_err();
        assert_eq!(said, ShelfError::NotThere("one".into()));
    }

    #[test]
    fn what_is_not_fit_for_the_shelf_leaves_it_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(OWN_STRUCTURES);
        keep_structure(&file, &structure("one")).unwrap();
        let before = load(&file, LARGEST_SHELF).unwrap();
        let mut broken = structure("two");
        broken.moves.steps[0].moves[0].from = Place::slot(32);
        let mut off = structure("two");
        off.moves.steps[0].moves[0].to = Place::slot(77);
        let ready = Structure {
            remark: String::new(),
            ..shelf()[0].clone()
        };
        for (wrong, said) in [
            (structure(" "), "needs a name"),
            (structure("two\nlines"), "one line"),
            (ready, "comes with the program"),
            (broken, "Step 1"),
            (off, "no place 77"),
        ] {
            let error = keep_structure(&file, &wrong).unwrap_err().to_string();
            assert!(error.contains(said), "{error}");
            assert_eq!(load(&file, LARGEST_SHELF).unwrap(), before);
        }
    }

    #[test]
    fn a_shelf_that_cannot_be_read_is_not_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(OWN_STRUCTURES);
        let good = format!("{FIRST_LINE}\n[]\n");
        for (text, said) in [
            ("[]", "first line"),
            ("// plait structures 1\n[(name: 3)]", "text in quotes"),
            ("// plait structures 1\n[", "cut off"),
            ("// plait structures 2\n[]", "first line"),
        ] {
            replace(&file, text.as_bytes()).unwrap();
            let error = keep_structure(&file, &structure("one")).unwrap_err();
            assert!(error.to_string().contains(said), "{error}");
            assert_eq!(load(&file, LARGEST_SHELF).unwrap(), text.as_bytes());
        }
        replace(&file, good.as_bytes()).unwrap();
        keep_structure(&file, &structure("one")).unwrap();
    }

    #[test]
    fn a_design_knows_where_its_structure_is_kept_and_travels_with_it() {
        let own = structure("mine");
        let edit = Edit::Moves {
            structure: own.name.clone(),
            moves: own.moves.clone(),
        };
        let design = edit.apply(&sample_design()).unwrap();
        let section = &design.sections[0];
        assert_eq!(section.origin(std::slice::from_ref(&own)), Origin::Own);
        assert_eq!(section.origin(&[]), Origin::HereOnly);
        let mut ready = section.clone();
        ready.structure.clone_from(&shelf()[3].name);
        assert_eq!(ready.origin(&[]), Origin::Ready);
        let named = design.structure(own.shape);
        assert_eq!((named.name, named.moves), (own.name, own.moves));
        let nameless = Edit::NameStructure(String::new()).apply(&design).unwrap();
        assert_eq!(nameless.structure(own.shape).name, nameless.name);
    }
}
