//! The commands that need no window.
//!
//! Thin: arguments in, text or a file out. Exit codes: 0 good, 2 the input is
//! at fault, 1 anything else. Knows nothing of the window.
#![expect(
    clippy::print_stderr,
    reason = "this is where the program speaks to a terminal"
)]

mod arguments;
mod check;
mod cut;
mod lists;
mod looks;
mod lost;
mod picture;
mod place;
mod report;
mod sheet;
mod structures;
mod surface;
mod swatch;
mod tighten;

use std::fmt;
use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;
use std::time::Instant;

use serde::Serialize;

pub use arguments::{Command, Size, Source, Stretch, Tolerance, UsageError, read_arguments};

pub use cut::Lists;
pub use picture::{Picture, Subject, Under};
pub use sheet::Sheet;

use crate::cord::{Cord, Quality, Recipe, SolveError, solve};
use crate::document::{self, Design, ReadError};
use crate::mechanics::Progress;

/// What the commands are, in a few lines.
pub const USAGE: &str = "\
plaitwright [FILE]                                  open the window
plaitwright check FILE [--json]                     say whether the moves hold
plaitwright check --list LISTS.json                 say it of many lists, as JSON
plaitwright structures [--json]                     print the shelves of structures
plaitwright figures FILE [--json]                   print the cord's figures
plaitwright looks FILE [--colours N] [--alike turned|upside-down|mirrored] [--json]
                                                    tell every look the colours can give
plaitwright cut FILE [--inches | --json | --csv [--shopping]]
                                                    print what to cut, wind, buy and ask
plaitwright place FILE [--piece ID] [--json]        say where the work on its cords stands
plaitwright lost FILE --seen SEEN [--json]          say what went wrong, from what is on the disc
plaitwright picture FILE --out X.png|.svg [--size WxH] [--per-mm N] [--clear]   draw the cord
plaitwright picture FILE --of disc --out X.svg      draw the disc as it is set up
plaitwright sheet FILE --out X.pdf|.svg [--paper a4|letter] [--inches] [--date DATE]
                 [--sizes 16cm,17cm] [--copies N]   write the work sheet
plaitwright solid FILE --out X.glb|.obj|.stl [--length L | --repeats N]   write it as a solid
plaitwright surface FILE --out X.svg                draw its surface, unrolled
plaitwright swatch FILE --thickness T --shorter P   which values give a measured cord
plaitwright tighten TUBES.json [--tolerance T] [--json]   pull any knot, link or rope tight
In place of FILE, --moves MOVES.txt takes a text of moves.";

/// Why a command did not do its work.
#[derive(Debug)]
enum Failure {
    /// The input is at fault.
    Input(String),
    /// Anything else.
    Other(String),
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input(text) | Self::Other(text) => f.write_str(text),
        }
    }
}

impl From<ReadError> for Failure {
    fn from(error: ReadError) -> Self {
        match error {
            ReadError::Unreadable(_) => Self::Other(error.to_string()),
            _ => Self::Input(error.to_string()),
        }
    }
}

/// Does a command that needs no window and says how it went; `home` is the folder of
/// settings, where the maker's own shelf is.
pub fn run(command: &Command, home: &Path) -> ExitCode {
    let done = match command {
        Command::Help => answer(USAGE),
        Command::Version => answer(concat!("plaitwright ", env!("CARGO_PKG_VERSION"))),
        Command::Check { source, json } => check::one(source, *json).and_then(|text| answer(&text)),
        Command::CheckAll(file) => check::all(file).and_then(|text| answer(&text)),
        Command::Structures { json } => structures::run(*json, home).and_then(|text| answer(&text)),
        Command::Figures { source, json } => figures(source, *json),
        Command::Looks {
            source,
            colours,
            alike,
            json,
        } => looks::run(source, *colours, *alike, *json).and_then(|text| answer(&text)),
        Command::Cut { source, lists } => {
            cut::run(source, *lists, home).and_then(|text| answer(&text))
        }
        Command::Place { file, piece, json } => {
            place::run(file, piece.as_deref(), *json, home).and_then(|text| answer(&text))
        }
        Command::Lost { source, seen, json } => {
            lost::run(source, seen, *json, home).and_then(|text| answer(&text))
        }
        Command::Picture {
            source,
            out,
            picture,
        } => picture::draw(source, out, picture),
        Command::Sheet { source, out, sheet } => {
            sheet::run(source, out, sheet, home).and_then(|text| answer(&text))
        }
        Command::Solid {
            source,
            out,
            stretch,
        } => picture::solid(source, out, *stretch).and_then(|text| answer(&text)),
        Command::Surface { source, out } => {
            surface::run(source, out).and_then(|text| answer(&text))
        }
        Command::Swatch {
            source,
            thickness,
            shorter,
        } => swatch::run(source, *thickness, *shorter).and_then(|text| answer(&text)),
        Command::Tighten {
            file,
            tolerance,
            json,
        } => tighten::run(file, *tolerance, *json).and_then(|text| answer(&text)),
        Command::Window(_) => Err(Failure::Other("the window is opened elsewhere".to_owned())),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("plaitwright: {failure}");
            match failure {
                Failure::Input(_) => ExitCode::from(2),
                Failure::Other(_) => ExitCode::from(1),
            }
        }
    }
}

/// Says on the terminal why no window can be opened.
pub fn say_no_window(reason: &str) -> ExitCode {
    eprintln!("plaitwright: {reason}");
    ExitCode::from(1)
}

/// Says what was wrong with the arguments.
pub fn say_usage(error: &UsageError) -> ExitCode {
    eprintln!("plaitwright: {error}\n{USAGE}");
    ExitCode::from(2)
}

/// Writes an answer with a line end. Whoever reads may stop reading.
fn answer(text: &str) -> Result<(), Failure> {
    match writeln!(io::stdout(), "{text}") {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(Failure::Other(format!(
            "the answer could not be written: {error}"
        ))),
        _ => Ok(()),
    }
}

fn opened(source: &Source) -> Result<Design, Failure> {
    let design = match source {
        Source::Design(file) => document::open(file)?.design,
        Source::Moves(file) => Design::fresh(&lists::structure(file)?),
    };
    for remark in design.not_yet() {
        eprintln!("plaitwright: {remark}");
    }
    Ok(design)
}

/// An answer as JSON.
fn as_json(answer: &impl Serialize) -> Result<String, Failure> {
    serde_json::to_string_pretty(answer)
        .map_err(|error| Failure::Other(format!("the answer could not be written: {error}")))
}

fn recipe(design: &Design) -> Result<Recipe, Failure> {
    design.recipe().map_err(|e| Failure::Input(e.to_string()))
}

/// A solved cord and the milliseconds it took.
fn solved(recipe: &Recipe, quality: Quality) -> Result<(Cord, f64), SolveError> {
    let begun = Instant::now();
    let cord = solve(recipe, None, quality, &Progress::new())?;
    Ok((cord, begun.elapsed().as_secs_f64() * 1e3))
}

fn figures(source: &Source, json: bool) -> Result<(), Failure> {
    let design = opened(source)?;
    let recipe = recipe(&design)?;
    let (cord, ms) = solved(&recipe, Quality::Full).map_err(|e| Failure::Input(e.to_string()))?;
    if json {
        let object = report::json(&design, &cord, ms).map_err(|error| {
            Failure::Other(format!("the figures could not be written: {error}"))
        })?;
        return answer(&object);
    }
    answer(report::text(&design, &cord, ms).trim_end())
}

/// A kind of file, by the end of its name.
type Taken = &'static str;

/// Which of the kinds a file is to be, by the end of its name.
fn taken(out: &Path, kinds: &[Taken]) -> Result<Taken, Failure> {
    let end = out.extension().unwrap_or_default().to_string_lossy();
    let kind = kinds.iter().find(|kind| end.eq_ignore_ascii_case(kind));
    kind.copied().ok_or_else(|| {
        let all = kinds.iter().map(|kind| format!(".{kind}"));
        let all = all.collect::<Vec<_>>().join(" or ");
        Failure::Input(format!("{} does not end in {all}", out.display()))
    })
}

/// Writes a file, whole or not at all.
fn write(out: &Path, bytes: &[u8]) -> Result<(), Failure> {
    document::replace(out, bytes).map_err(|error| Failure::Other(error.to_string()))
}
