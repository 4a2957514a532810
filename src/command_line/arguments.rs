//! What was asked for.

use std::ffi::OsString;
use std::path::PathBuf;

use lexopt::prelude::*;

/// A size in pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
}

/// A relative error, from 1e-6 to 0.1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance(pub f64);

/// Largest picture side, pixels.
const MOST_PIXELS: usize = 8000;

/// One command with all that it needs.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// Open the window, with a file if one is named.
    Window(Option<PathBuf>),
    /// Say whether the moves of a file hold.
    Check(PathBuf),
    /// Print the figures of a file.
    Figures {
        /// The file.
        file: PathBuf,
        /// As one JSON object.
        json: bool,
    },
    /// Draw the cord of a file.
    Picture {
        /// The file.
        file: PathBuf,
        /// The PNG to write.
        out: PathBuf,
        /// Its size.
        size: Size,
    },
    /// Pull the tubes of a file tight.
    Tighten {
        /// The file.
        file: PathBuf,
        /// Relative error asked for.
        tolerance: Tolerance,
        /// As one JSON object.
        json: bool,
    },
    /// Say what the commands are.
    Help,
    /// Say the version.
    Version,
}

/// Why the arguments are no command.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum UsageError {
    /// A command lacks its file.
    #[error("{0} needs a file")]
    NoFile(&'static str),
    /// `picture` lacks its `--out`.
    #[error("picture needs --out and a file name ending in .png")]
    NoOut,
    /// A size that is none.
    #[error("{0:?} is not a size like 1600x300, each side from 1 to {MOST_PIXELS}")]
    Size(String),
    /// A tolerance that is none.
    #[error("{0:?} is not a tolerance from 1e-6 to 0.1")]
    Tolerance(String),
    /// Something that has no place there.
    #[error("{0}")]
    Other(String),
}

impl From<lexopt::Error> for UsageError {
    fn from(error: lexopt::Error) -> Self {
        Self::Other(error.to_string())
    }
}

/// The command that the arguments, without the program's name, ask for.
///
/// # Errors
///
/// [`UsageError`] names the argument that is wrong.
pub fn read_arguments(
    arguments: impl IntoIterator<Item = OsString>,
) -> Result<Command, UsageError> {
    let mut parser = lexopt::Parser::from_args(arguments);
    let mut words: Vec<OsString> = Vec::new();
    let (mut json, mut out, mut size, mut tolerance) = (false, None, None, None);
    while let Some(argument) = parser.next()? {
        match argument {
            Short('h') | Long("help") => return Ok(Command::Help),
            Short('V') | Long("version") => return Ok(Command::Version),
            Long("json") => json = true,
            Long("out") => out = Some(PathBuf::from(parser.value()?)),
            Long("size") => size = Some(read_size(&parser.value()?.to_string_lossy())?),
            Long("tolerance") => {
                tolerance = Some(read_tolerance(&parser.value()?.to_string_lossy())?);
            }
            Value(word) => words.push(word),
            other => return Err(other.unexpected().into()),
        }
    }
    let (name, file) = named(words)?;
    let misplaced = |option: &str| UsageError::Other(format!("{option} has no place here"));
    if json && name != "figures" && name != "tighten" {
        return Err(misplaced("--json"));
    }
    if (out.is_some() || size.is_some()) && name != "picture" {
        return Err(misplaced("--out or --size"));
    }
    if tolerance.is_some() && name != "tighten" {
        return Err(misplaced("--tolerance"));
    }
    match name {
        "tighten" => Ok(Command::Tighten {
            file: file.ok_or(UsageError::NoFile("tighten"))?,
            tolerance: tolerance.unwrap_or(Tolerance(1e-3)),
            json,
        }),
        "check" => Ok(Command::Check(file.ok_or(UsageError::NoFile("check"))?)),
        "figures" => Ok(Command::Figures {
            file: file.ok_or(UsageError::NoFile("figures"))?,
            json,
        }),
        "picture" => Ok(Command::Picture {
            file: file.ok_or(UsageError::NoFile("picture"))?,
            out: out.ok_or(UsageError::NoOut)?,
            size: size.unwrap_or(Size {
                width: 1600,
                height: 300,
            }),
        }),
        _ => Ok(Command::Window(file)),
    }
}

/// The command's name ("window" without one) and the file behind it.
fn named(words: Vec<OsString>) -> Result<(&'static str, Option<PathBuf>), UsageError> {
    let mut words = words.into_iter();
    let first = words.next();
    let name = ["check", "figures", "picture", "tighten"]
        .into_iter()
        .find(|name| first.as_deref().is_some_and(|w| w == *name));
    let file = match name {
        Some(_) => words.next(),
        None => first,
    };
    if let Some(extra) = words.next() {
        let extra = extra.to_string_lossy();
        return Err(UsageError::Other(format!("{extra:?} has no place here")));
    }
    Ok((name.unwrap_or("window"), file.map(PathBuf::from)))
}

fn read_tolerance(text: &str) -> Result<Tolerance, UsageError> {
    let sound = text.parse().ok().filter(|t| (1e-6..=0.1).contains(t));
    let wrong = || UsageError::Tolerance(text.to_owned());
    sound.map(Tolerance).ok_or_else(wrong)
}

fn read_size(text: &str) -> Result<Size, UsageError> {
    let wrong = || UsageError::Size(text.to_owned());
    let (width, height) = text.split_once(['x', 'X', '×']).ok_or_else(wrong)?;
    let side = |digits: &str| {
        digits
            .parse()
            .ok()
            .filter(|pixels| (1..=MOST_PIXELS).contains(pixels))
            .ok_or_else(wrong)
    };
    Ok(Size {
        width: side(width)?,
        height: side(height)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(line: &str) -> Result<Command, UsageError> {
        read_arguments(line.split_whitespace().map(OsString::from))
    }

    #[test]
    fn no_command_opens_the_window_with_or_without_a_file() {
        assert_eq!(read(""), Ok(Command::Window(None)));
        assert_eq!(
            read("cord.plait"),
            Ok(Command::Window(Some(PathBuf::from("cord.plait"))))
        );
    }

    #[test]
    fn a_picture_takes_its_size_and_place() {
        let expected = Command::Picture {
            file: PathBuf::from("a.plait"),
            out: PathBuf::from("b.png"),
            size: Size {
                width: 320,
                height: 100,
            },
        };
        assert_eq!(
            read("picture a.plait --out b.png --size 320x100"),
            Ok(expected)
        );
    }

    #[test]
    fn tubes_are_tightened_to_a_thousandth_unless_told_otherwise() {
        let expected = |tolerance, json| Command::Tighten {
            file: PathBuf::from("a.json"),
            tolerance: Tolerance(tolerance),
            json,
        };
        assert_eq!(read("tighten a.json"), Ok(expected(1e-3, false)));
        let told = read("tighten a.json --tolerance 1e-4 --json");
        assert_eq!(told, Ok(expected(1e-4, true)));
        for wrong in ["0", "nan", "1", "-1e-3", "tight"] {
            let error = read(&format!("tighten a --tolerance={wrong}")).unwrap_err();
            assert_eq!(error, UsageError::Tolerance(wrong.to_owned()));
        }
        let misplaced = read("check a --tolerance 0.01").unwrap_err();
        assert!(misplaced.to_string().contains("--tolerance"), "{misplaced}");
    }

    #[test]
    fn a_wrong_argument_is_named() {
        assert_eq!(read("figures"), Err(UsageError::NoFile("figures")));
        assert_eq!(read("picture a.plait"), Err(UsageError::NoOut));
        let wrong = read("picture a --out b --size 0x4").unwrap_err();
        assert!(wrong.to_string().contains("0x4"), "{wrong}");
        let misplaced = read("check a --json").unwrap_err();
        assert!(misplaced.to_string().contains("--json"), "{misplaced}");
    }
}
