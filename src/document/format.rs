//! What a plait file says: the text of it, and reading that text.
//!
//! A file is RON. Its first line is the comment `// plait 1`, which holds the
//! version; then come the id, the design and the samples. Version 1 grows only by
//! fields with defaults. Files written before places had files of their own (see the
//! journal) have a field `work` there, which is read over: nothing ever counted in it.
//!
//! What cannot be read says why in one sentence.

use ron::error::SpannedError;
use ron::ser::PrettyConfig;
use serde::{Deserialize, Serialize};

use super::check::{At, DesignError};
use super::locate::{Spot, not_finite, open_end, spot_of};
use super::{Design, Sample};

/// The version this program writes, and the newest it reads.
pub const VERSION: u64 = 1;
/// What the names of plait files end in, without the dot.
pub const EXTENSION: &str = "plait";
/// The largest file that is read, bytes. Designs are some ten thousand.
pub const LARGEST: u64 = 4 * 1024 * 1024;

/// All that one file keeps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(from = "Written")]
pub struct Kept {
    /// Made once per design and never changed: hexadecimal digits.
    pub id: String,
    /// What was decided.
    pub design: Design,
    /// What was measured.
    pub samples: Vec<Sample>,
}

/// The fields that a file may have.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    id: String,
    design: Design,
    #[serde(default, rename = "work")]
    _work: OlderWork,
    #[serde(default)]
    samples: Vec<Sample>,
}

/// How far the hands had come, in older files.
#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct OlderWork {
    #[serde(rename = "section")]
    _section: usize,
    #[serde(rename = "steps_done")]
    _steps_done: u64,
}

impl From<Written> for Kept {
    fn from(written: Written) -> Self {
        Self {
            id: written.id,
            design: written.design,
            samples: written.samples,
        }
    }
}

impl Kept {
    /// A design that was never kept before; `seed` makes its id.
    pub fn new(design: Design, seed: u64) -> Self {
        let mut random = fastrand::Rng::with_seed(seed);
        Self {
            id: format!("{:032x}", random.u128(..)),
            design,
            samples: Vec::new(),
        }
    }

    /// Whether it may be written, and whether what was read may be used.
    ///
    /// # Errors
    ///
    /// The first fault found, with its place.
    pub fn check(&self) -> Result<(), DesignError> {
        let at = At::root();
        let hex = |c: char| matches!(c, '0'..='9' | 'a'..='f');
        if !(8..=64).contains(&self.id.len()) || !self.id.chars().all(hex) {
            let fault = "it must be 8 to 64 digits from 0 to f";
            return Err(at.field("id").fault(fault));
        }
        self.design.check_at(&at.field("design"))?;
        let samples = at.field("samples");
        for (i, sample) in self.samples.iter().enumerate() {
            sample.check_at(&samples.item(i, format!("sample {}", i + 1)))?;
        }
        Ok(())
    }
}

/// Why a file cannot be read; each is one sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ReadError {
    /// The system did not hand it over.
    #[error("the file cannot be read: {0}")]
    Unreadable(String),
    /// Larger than any design.
    #[error(
        "the file was not read: it has {0} bytes, and a plait file never has more than {LARGEST}"
    )]
    TooLarge(u64),
    /// The first line is not ours.
    #[error("line 1, column 1: this is not a plait file, its first line is not \"// plait 1\"")]
    NotOurs,
    /// The first line is not that of a shelf.
    #[error("line 1, column 1: the first line is not \"// plait structures 1\"")]
    NotAShelf,
    /// The first line is not that of a workshop.
    #[error("line 1, column 1: the first line is not \"// plait workshop 1\"")]
    NotAWorkshop,
    /// Written by a later program.
    #[error(
        "line 1, column 10: the file has version {0}, and this program reads no version later than {VERSION}"
    )]
    Newer(u64),
    /// Bytes that are no text.
    #[error("{0}: the file is not UTF-8 text from here on")]
    NotText(Spot),
    /// The text ends too early.
    #[error("{0}: the file ends too early, as if it had been cut off")]
    CutOff(Spot),
    /// A field of a later program, or a slip of the pen.
    #[error("{spot}: this version does not know the field \"{field}\"")]
    UnknownField {
        /// Where it stands.
        spot: Spot,
        /// Its name.
        field: String,
    },
    /// Not what is expected there.
    #[error("{spot}: {what}")]
    Broken {
        /// Where it stands.
        spot: Spot,
        /// What is wrong there.
        what: String,
    },
    /// NaN, or more than a number can hold.
    #[error("{spot}: \"{word}\" is not a number that can be used")]
    NotFinite {
        /// Where it stands.
        spot: Spot,
        /// What stands there.
        word: String,
    },
    /// Well written, but not sensible.
    #[error("{spot}: {fault}")]
    Unsound {
        /// Where it stands.
        spot: Spot,
        /// What is wrong there.
        fault: DesignError,
    },
}

/// Reads the bytes of a file.
///
/// # Errors
///
/// See [`ReadError`].
pub fn read(bytes: &[u8]) -> Result<Kept, ReadError> {
    let size = bytes.len() as u64;
    if size > LARGEST {
        return Err(ReadError::TooLarge(size));
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    check_version(bytes)?;
    let text = str::from_utf8(bytes).map_err(|error| not_text(bytes, error.valid_up_to()))?;
    let kept: Kept = ron::from_str(text).map_err(|error| in_our_words(text, &error))?;
    if let Some((spot, word)) = not_finite(text) {
        let word = word.to_owned();
        return Err(ReadError::NotFinite { spot, word });
    }
    kept.check().map_err(|fault| {
        let spot = spot_of(text, &fault.way);
        ReadError::Unsound { spot, fault }
    })?;
    Ok(kept)
}

/// Looks at the first line only: what follows may be in no format we know.
fn check_version(bytes: &[u8]) -> Result<(), ReadError> {
    let line = bytes.split(|&byte| byte == b'\n').next().unwrap_or(bytes);
    let line = str::from_utf8(line).map_err(|_not_ours| ReadError::NotOurs)?;
    let version = line
        .trim_end()
        .strip_prefix("// plait ")
        .and_then(|version| version.parse().ok());
    match version {
        Some(VERSION) => Ok(()),
        Some(newer) if newer > VERSION => Err(ReadError::Newer(newer)),
        _ => Err(ReadError::NotOurs),
    }
}

pub(super) fn not_text(bytes: &[u8], sound: usize) -> ReadError {
    let text = String::from_utf8_lossy(&bytes[..sound]);
    ReadError::NotText(Spot::of(&text, sound))
}

/// What the RON reader says, told apart by what the maker can do about it.
///
/// Brackets without end are no case of their own: none of the types nest, so
/// the reader stops at the first bracket too many.
pub(super) fn in_our_words(text: &str, error: &SpannedError) -> ReadError {
    use ron::Error as Ron;
    let at = |at: ron::error::Position| Spot {
        line: at.line,
        column: at.col,
    };
    let (start, end) = (at(error.span.start), at(error.span.end));
    let spot = start.on_words_of(text);
    let cut_off = open_end(text).is_some_and(|last| end >= last);
    match &error.code {
        Ron::Eof | Ron::ExpectedStringEnd | Ron::UnclosedBlockComment => ReadError::CutOff(end),
        _ if cut_off => ReadError::CutOff(end),
        Ron::NoSuchStructField { found, .. } => ReadError::UnknownField {
            spot,
            field: found.clone(),
        },
        Ron::MissingStructField { .. } => broken(end, &error.code),
        code => broken(spot, code),
    }
}

fn broken(spot: Spot, code: &ron::Error) -> ReadError {
    use ron::Error as Ron;
    let what = match code {
        Ron::MissingStructField { field, .. } => {
            format!("the field \"{field}\" is missing before this place")
        }
        Ron::DuplicateStructField { field, .. } => {
            format!("the field \"{field}\" stands here a second time")
        }
        Ron::NoSuchEnumVariant {
            expected, found, ..
        } => format!("\"{found}\" is none of {}", expected.join(", ")),
        Ron::ExpectedFloat | Ron::ExpectedInteger => "a number is expected here".into(),
        Ron::ExpectedString => "text in quotes is expected here".into(),
        other => lower_first(&other.to_string()),
    };
    ReadError::Broken { spot, what }
}

fn lower_first(sentence: &str) -> String {
    let mut rest = sentence.chars();
    let first = rest.next().map(|c| c.to_ascii_lowercase());
    first.into_iter().chain(rest).collect()
}

/// The text of a file: a strand, a fibre's figure and a list to a line, so
/// that two versions of a design can be compared line by line.
pub fn write(kept: &Kept) -> String {
    let lines = PrettyConfig::new().depth_limit(4).new_line("\n");
    let body = ron::ser::to_string_pretty(kept, lines)
        .expect("these types are structs, lists, numbers and text");
    format!("// plait {VERSION}\n{body}\n")
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::document::{any_kept, sample_design};

    fn sample_text() -> String {
        write(&Kept::new(sample_design(), 7))
    }

    /// What reading says of a text.
    fn said(text: &str) -> String {
        read(text.as_bytes()).unwrap_err().to_string()
    }

    #[test]
    fn the_first_line_holds_the_version_and_the_rest_is_ron() {
        let text = sample_text();
        assert!(text.starts_with("// plait 1\n(\n"), "{text}");
        assert!(ron::from_str::<ron::Value>(&text).is_ok());
    }

    #[test]
    fn an_id_is_made_from_its_seed() {
        let id = |seed| Kept::new(sample_design(), seed).id;
        assert_eq!(id(3), id(3));
        assert_ne!(id(3), id(4));
        assert_eq!(id(3).len(), 32);
    }

    #[test]
    fn a_byte_order_mark_and_other_line_ends_are_read_over() {
        let kept = Kept::new(sample_design(), 7);
        let text = format!("\u{feff}{}", write(&kept)).replace('\n', "\r\n");
        assert_eq!(read(text.as_bytes()), Ok(kept));
    }

    #[test]
    fn samples_may_be_missing() {
        let mut text = sample_text();
        text.truncate(text.find("    samples:").unwrap());
        text.push(')');
        assert_eq!(read(text.as_bytes()), Ok(Kept::new(sample_design(), 7)));
    }

    #[test]
    fn the_work_of_older_files_is_read_over_and_not_written() {
        let kept = Kept::new(sample_design(), 7);
        let text = sample_text();
        assert!(!text.contains("work"));
        let older =
            |work: &str| text.replace("    samples:", &format!("    work: {work},\n    samples:"));
        for work in ["()", "(section: 0, steps_done: 41)"] {
            assert_eq!(read(older(work).as_bytes()), Ok(kept.clone()));
        }
        assert!(
            said(&older("(steps: 3)")).ends_with("this version does not know the field \"steps\"")
        );
    }

    #[test]
    fn deep_nesting_is_refused_without_running_out_of_stack() {
        let deep = format!("// plait 1\n(id: {}", "[".repeat(500_000));
        assert!(read(deep.as_bytes()).is_err());
        let options = format!(
            "// plait 1\n(design: (piece: (cap: {}",
            "Some(".repeat(500_000)
        );
        assert!(read(options.as_bytes()).is_err());
        let comments = format!("// plait 1\n{}", "/*".repeat(500_000));
        assert!(read(comments.as_bytes()).is_err());
    }

    #[test]
    fn too_many_bytes_are_not_even_looked_at() {
        let bytes = vec![0; 4 * 1024 * 1024 + 1];
        assert_eq!(read(&bytes), Err(ReadError::TooLarge(4_194_305)));
    }

    #[test]
    fn every_truncation_is_called_by_its_name() {
        let text = sample_text();
        let whole = text.trim_end().len();
        for end in 11..whole {
            let error = read(&text.as_bytes()[..end]).unwrap_err();
            assert!(matches!(error, ReadError::CutOff(_)), "at {end}: {error}");
        }
        for end in 0..10 {
            assert_eq!(read(&text.as_bytes()[..end]), Err(ReadError::NotOurs));
        }
    }

    #[test]
    fn an_id_that_could_be_a_path_is_refused() {
        let id = Kept::new(sample_design(), 7).id;
        let text = sample_text().replace(&id, "../../etc");
        assert_eq!(
            said(&text),
            "line 3, column 9: id: it must be 8 to 64 digits from 0 to f"
        );
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn what_is_written_is_read_as_it_was(kept in any_kept()) {
            prop_assert_eq!(kept.check(), Ok(()));
            let text = write(&kept);
            prop_assert_eq!(read(text.as_bytes()), Ok(kept));
        }

        #[test]
        fn damaged_files_are_read_or_refused_without_panic(
            kept in any_kept(),
            hits in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
            end in any::<prop::sample::Index>(),
        ) {
            let mut bytes = write(&kept).into_bytes();
            for (place, byte) in hits {
                let place = place.index(bytes.len());
                bytes[place] = byte;
            }
            let _ = read(&bytes).map_err(|error| error.to_string());
            bytes.truncate(end.index(bytes.len()));
            let _ = read(&bytes).map_err(|error| error.to_string());
        }
    }
}
