//! What was asked for.

mod read;

use std::ffi::OsString;
use std::path::PathBuf;

use lexopt::prelude::*;

use read::{
    read_copies, read_count, read_length, read_paper, read_scale, read_share, read_size,
    read_sizes, read_subject, read_tolerance,
};

use super::cut::Lists;
use super::picture::{Picture, Subject, Under};
use super::sheet::Sheet;
use crate::drawing::Paper;
use crate::pattern::Alike;
use crate::quantity::UnitSystem;

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

/// A stretch of cord.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stretch {
    /// Of a length, mm.
    Mm(f64),
    /// Of so many whole repeats.
    Repeats(u32),
}

/// Largest picture side, pixels.
const MOST_PIXELS: usize = 60_000;

/// Most colours that looks are told of; a letter for each.
const MOST_COLOURS: usize = 26;

/// Where a braid is told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    /// In a design.
    Design(PathBuf),
    /// In a text of moves.
    Moves(PathBuf),
}

/// One command with all that it needs.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// Open the window, with a file if one is named.
    Window(Option<PathBuf>),
    /// Say whether the moves of a file hold.
    Check {
        /// The file.
        source: Source,
        /// As one JSON object.
        json: bool,
    },
    /// Say of every list of a JSON file whether it holds, as JSON.
    CheckAll(PathBuf),
    /// Print the shelf of structures.
    Structures {
        /// As JSON objects.
        json: bool,
    },
    /// Print the figures of a file.
    Figures {
        /// The file.
        source: Source,
        /// As one JSON object.
        json: bool,
    },
    /// Print what to cut, wind, buy and ask for the piece of a file.
    Cut {
        /// The file.
        source: Source,
        /// Which lists, and as what.
        lists: Lists,
    },
    /// Say where the work on the cords of a design stands.
    Place {
        /// The design.
        file: PathBuf,
        /// Only of the piece whose id begins so.
        piece: Option<String>,
        /// As one JSON object.
        json: bool,
    },
    /// Say what went wrong with a cord, from what is on the disc.
    Lost {
        /// The file.
        source: Source,
        /// What is on the disc.
        seen: PathBuf,
        /// As one JSON object.
        json: bool,
    },
    /// Draw the cord or the disc of a file.
    Picture {
        /// The file.
        source: Source,
        /// The file to write; the end of its name says as what.
        out: PathBuf,
        /// What to draw, and how.
        picture: Picture,
    },
    /// Write the cord of a file as a solid.
    Solid {
        /// The file.
        source: Source,
        /// The file to write; the end of its name says as what.
        out: PathBuf,
        /// How much of the cord.
        stretch: Stretch,
    },
    /// Draw the unrolled surface of the cord of a file.
    Surface {
        /// The file.
        source: Source,
        /// The SVG to write.
        out: PathBuf,
    },
    /// Write the work sheet of a file.
    Sheet {
        /// The file.
        source: Source,
        /// The file to write; the end of its name says as what.
        out: PathBuf,
        /// On what paper, for whom.
        sheet: Sheet,
    },
    /// Say which values of its fibre give a measured cord.
    Swatch {
        /// The file.
        source: Source,
        /// Rested thickness, mm.
        thickness: f64,
        /// How much shorter rested than on the disc, per cent.
        shorter: f64,
    },
    /// Tell every look that the colours of a file can give.
    Looks {
        /// The file.
        source: Source,
        /// Up to so many colours; those of the file, as many strands of each, if none.
        colours: Option<usize>,
        /// Which cords count as the same look.
        alike: Alike,
        /// As one JSON object.
        json: bool,
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
    /// More than one file to work on.
    #[error("{0} takes one file only")]
    TwoFiles(&'static str),
    /// `picture` lacks its `--out`.
    #[error("picture needs --out and a file name ending in .png or .svg")]
    NoOut,
    /// `solid` lacks its `--out`.
    #[error("solid needs --out and a file name ending in .glb, .obj or .stl")]
    NoSolid,
    /// `surface` lacks its `--out`.
    #[error("surface needs --out and a file name ending in .svg")]
    NoSurface,
    /// `sheet` lacks its `--out`.
    #[error("sheet needs --out and a file name ending in .pdf or .svg")]
    NoSheet,
    /// `swatch` lacks a measure.
    #[error("swatch needs --thickness, rested, and --shorter, per cent off the weight")]
    NoMeasure,
    /// `lost` lacks what is seen.
    #[error("lost needs --seen and a file with what is on the disc")]
    NoSeen,
    /// A size that is none.
    #[error("{0:?} is not a size like 1600x300, each side from 1 to {MOST_PIXELS}")]
    Size(String),
    /// A number of colours that is none.
    #[error("{0:?} is not a number of colours from 1 to {MOST_COLOURS}")]
    Colours(String),
    /// No way to hold a cord.
    #[error("{0:?} is not turned, upside-down or mirrored")]
    Alike(String),
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
    let mut given = Given::default();
    while let Some(argument) = parser.next()? {
        match argument {
            Short('h') | Long("help") => return Ok(Command::Help),
            Short('V') | Long("version") => return Ok(Command::Version),
            Long("json") => given.json = true,
            Long("csv") => given.csv = true,
            Long("shopping") => given.shopping = true,
            Long("inches") => given.inches = true,
            Long("paper") => given.paper = Some(read_paper(&parser.value()?)?),
            Long("sizes") => given.sheet.sizes = read_sizes(&parser.value()?)?,
            Long("copies") => given.copies = Some(read_copies(&parser.value()?)?),
            Long("date") => {
                given.sheet.date = Some(parser.value()?.to_string_lossy().into_owned());
            }
            Long("piece") => {
                given.piece = Some(parser.value()?.to_string_lossy().into_owned());
            }
            Long("seen") => given.seen = Some(PathBuf::from(parser.value()?)),
            Long("moves") => given.moves = Some(PathBuf::from(parser.value()?)),
            Long("list") => given.list = Some(PathBuf::from(parser.value()?)),
            Long("out") => given.out = Some(PathBuf::from(parser.value()?)),
            Long("size") => given.picture.size = Some(read_size(&parser.value()?)?),
            Long("per-mm") => given.picture.per_mm = Some(read_scale(&parser.value()?)?),
            Long("of") => given.picture.of = read_subject(&parser.value()?)?,
            Long("clear") => given.picture.ground = Under::Nothing,
            Long("tolerance") => {
                given.tolerance = Some(read_tolerance(&parser.value()?.to_string_lossy())?);
            }
            Long("length") => given.stretch(Stretch::Mm(read_length(&parser.value()?)?))?,
            Long("repeats") => given.stretch(Stretch::Repeats(read_count(&parser.value()?)?))?,
            Long("colours") => {
                given.colours = Some(read_colours(&parser.value()?.to_string_lossy())?);
            }
            Long("alike") => given.alike = Some(read_alike(&parser.value()?.to_string_lossy())?),
            Long("thickness") => given.thickness = Some(read_length(&parser.value()?)?),
            Long("shorter") => given.shorter = Some(read_share(&parser.value()?)?),
            Value(word) => given.words.push(word),
            other => return Err(other.unexpected().into()),
        }
    }
    given.command()
}

/// The names of the commands.
const NAMES: [&str; 13] = [
    "check",
    "cut",
    "structures",
    "figures",
    "looks",
    "lost",
    "picture",
    "place",
    "sheet",
    "solid",
    "surface",
    "swatch",
    "tighten",
];

/// Everything that was given, not yet put together.
#[derive(Default)]
struct Given {
    words: Vec<OsString>,
    json: bool,
    csv: bool,
    shopping: bool,
    inches: bool,
    piece: Option<String>,
    seen: Option<PathBuf>,
    moves: Option<PathBuf>,
    list: Option<PathBuf>,
    out: Option<PathBuf>,
    picture: Picture,
    sheet: Sheet,
    paper: Option<Paper>,
    copies: Option<usize>,
    tolerance: Option<Tolerance>,
    stretch: Option<Stretch>,
    thickness: Option<f64>,
    shorter: Option<f64>,
    colours: Option<usize>,
    alike: Option<Alike>,
}

/// Cord in a solid when nothing is said, mm. Our guess of what one looks at.
const DEFAULT_LENGTH: f64 = 50.0;

impl Given {
    fn stretch(&mut self, stretch: Stretch) -> Result<(), UsageError> {
        if self.stretch.replace(stretch).is_some() {
            let fault = "how much cord is said once, by --length or by --repeats";
            return Err(UsageError::Other(fault.to_owned()));
        }
        Ok(())
    }

    fn command(self) -> Result<Command, UsageError> {
        let (name, file) = named(&self.words)?;
        self.check_places(name)?;
        let json = self.json;
        match name {
            "check" if self.list.is_some() => match (self.list, file, self.moves) {
                (Some(file), None, None) => Ok(Command::CheckAll(file)),
                _ => Err(UsageError::TwoFiles(name)),
            },
            "check" => Ok(Command::Check {
                source: source(name, file, self.moves)?,
                json,
            }),
            "structures" if file.is_some() => Err(UsageError::Other(
                "structures takes no file, it prints the shelf".to_owned(),
            )),
            "structures" => Ok(Command::Structures { json }),
            "figures" => Ok(Command::Figures {
                source: source(name, file, self.moves)?,
                json,
            }),
            "cut" => Ok(Command::Cut {
                lists: self.lists()?,
                source: source(name, file, self.moves)?,
            }),
            "picture" | "sheet" | "solid" | "surface" => self.written(name, file),
            "swatch" => Ok(Command::Swatch {
                source: source(name, file, self.moves)?,
                thickness: self.thickness.ok_or(UsageError::NoMeasure)?,
                shorter: self.shorter.ok_or(UsageError::NoMeasure)?,
            }),
            "looks" => Ok(Command::Looks {
                source: source(name, file, self.moves)?,
                colours: self.colours,
                alike: self.alike.unwrap_or(Alike::UpsideDown),
                json,
            }),
            "place" => Ok(Command::Place {
                file: file.ok_or(UsageError::NoFile(name))?,
                piece: self.piece,
                json,
            }),
            "lost" => Ok(Command::Lost {
                source: source(name, file, self.moves)?,
                seen: self.seen.ok_or(UsageError::NoSeen)?,
                json,
            }),
            "tighten" => Ok(Command::Tighten {
                file: file.ok_or(UsageError::NoFile(name))?,
                tolerance: self.tolerance.unwrap_or(Tolerance(1e-3)),
                json,
            }),
            _ => Ok(Command::Window(file)),
        }
    }

    /// The commands that write a file.
    fn written(self, name: &'static str, file: Option<PathBuf>) -> Result<Command, UsageError> {
        match name {
            "picture" if self.picture.of == Subject::Disc && self.picture != Picture::disc() => {
                let fault = "a picture of the disc takes no --size, --per-mm or --clear";
                Err(UsageError::Other(fault.to_owned()))
            }
            "picture" => Ok(Command::Picture {
                source: source(name, file, self.moves)?,
                out: self.out.ok_or(UsageError::NoOut)?,
                picture: self.picture,
            }),
            "sheet" => Ok(Command::Sheet {
                source: source(name, file, self.moves)?,
                out: self.out.ok_or(UsageError::NoSheet)?,
                sheet: Sheet {
                    units: units(self.inches),
                    paper: self.paper.unwrap_or_default(),
                    copies: self.copies.unwrap_or(1),
                    ..self.sheet
                },
            }),
            "solid" => Ok(Command::Solid {
                source: source(name, file, self.moves)?,
                out: self.out.ok_or(UsageError::NoSolid)?,
                stretch: self.stretch.unwrap_or(Stretch::Mm(DEFAULT_LENGTH)),
            }),
            _ => Ok(Command::Surface {
                source: source(name, file, self.moves)?,
                out: self.out.ok_or(UsageError::NoSurface)?,
            }),
        }
    }

    fn lists(&self) -> Result<Lists, UsageError> {
        let refused = |fault: &str| Err(UsageError::Other(fault.to_owned()));
        match (self.json, self.csv, self.shopping, self.inches) {
            (false, false, false, false) => Ok(Lists::Text(UnitSystem::Millimetres)),
            (false, false, false, true) => Ok(Lists::Text(UnitSystem::Inches)),
            (true, false, false, false) => Ok(Lists::Json),
            (false, true, false, false) => Ok(Lists::CutCsv),
            (false, true, true, false) => Ok(Lists::ShoppingCsv),
            (_, false, true, _) => refused("--shopping goes with --csv"),
            (_, _, _, true) => refused("--inches is for reading: JSON and CSV are in mm"),
            _ => refused("cut prints --json or --csv, not both"),
        }
    }

    /// Every option only where it means something.
    fn check_places(&self, name: &str) -> Result<(), UsageError> {
        let told = "check cut figures looks lost picture sheet solid surface swatch";
        let options = [
            (
                self.json,
                "--json",
                "check cut structures figures looks lost place tighten",
            ),
            (self.csv, "--csv", "cut"),
            (self.shopping, "--shopping", "cut"),
            (self.inches, "--inches", "cut sheet"),
            (self.paper.is_some(), "--paper", "sheet"),
            (!self.sheet.sizes.is_empty(), "--sizes", "sheet"),
            (self.copies.is_some(), "--copies", "sheet"),
            (self.sheet.date.is_some(), "--date", "sheet"),
            (self.piece.is_some(), "--piece", "place"),
            (self.seen.is_some(), "--seen", "lost"),
            (self.moves.is_some(), "--moves", told),
            (self.list.is_some(), "--list", "check"),
            (self.out.is_some(), "--out", "picture sheet solid surface"),
            (self.picture.size.is_some(), "--size", "picture"),
            (self.picture.per_mm.is_some(), "--per-mm", "picture"),
            (self.picture.of != Subject::Cord, "--of", "picture"),
            (self.picture.ground != Under::Linen, "--clear", "picture"),
            (self.tolerance.is_some(), "--tolerance", "tighten"),
            (self.stretch.is_some(), "a length of cord", "solid"),
            (self.colours.is_some(), "--colours", "looks"),
            (self.alike.is_some(), "--alike", "looks"),
            (self.thickness.is_some(), "--thickness", "swatch"),
            (self.shorter.is_some(), "--shorter", "swatch"),
        ];
        for (is_given, option, names) in options {
            if is_given && !names.split(' ').any(|other| other == name) {
                let fault = format!("{option} has no place here, it goes with {names}");
                return Err(UsageError::Other(fault));
            }
        }
        Ok(())
    }
}

fn units(inches: bool) -> UnitSystem {
    match inches {
        true => UnitSystem::Inches,
        false => UnitSystem::Millimetres,
    }
}

/// The one file that tells the braid.
fn source(
    name: &'static str,
    file: Option<PathBuf>,
    moves: Option<PathBuf>,
) -> Result<Source, UsageError> {
    match (file, moves) {
        (Some(file), None) => Ok(Source::Design(file)),
        (None, Some(file)) => Ok(Source::Moves(file)),
        (Some(_), Some(_)) => Err(UsageError::TwoFiles(name)),
        (None, None) => Err(UsageError::NoFile(name)),
    }
}

/// The command's name ("window" without one) and the file behind it.
fn named(words: &[OsString]) -> Result<(&'static str, Option<PathBuf>), UsageError> {
    let name = NAMES
        .into_iter()
        .find(|name| words.first().is_some_and(|word| word == name));
    let rest = if name.is_some() { &words[1..] } else { words };
    if let Some(extra) = rest.get(1) {
        let extra = extra.to_string_lossy();
        return Err(UsageError::Other(format!("{extra:?} has no place here")));
    }
    Ok((name.unwrap_or("window"), rest.first().map(PathBuf::from)))
}

fn read_colours(text: &str) -> Result<usize, UsageError> {
    let sound = text.parse().ok().filter(|n| (1..=MOST_COLOURS).contains(n));
    sound.ok_or_else(|| UsageError::Colours(text.to_owned()))
}

fn read_alike(text: &str) -> Result<Alike, UsageError> {
    match text {
        "turned" => Ok(Alike::Turned),
        "upside-down" => Ok(Alike::UpsideDown),
        "mirrored" => Ok(Alike::Mirrored),
        _ => Err(UsageError::Alike(text.to_owned())),
    }
}

#[cfg(test)]
mod tests;
