//! Values of options read as they are typed.

use std::ffi::OsStr;

use super::{MOST_PIXELS, Size, Tolerance, UsageError};
use crate::command_line::picture::Subject;
use crate::drawing::Paper;
use crate::quantity::{Length, UnitSystem, read_number};

/// Most copies of a sheet, and most sizes of a run.
const MOST_SHEETS: usize = 100;

pub(super) fn read_tolerance(text: &str) -> Result<Tolerance, UsageError> {
    let sound = text.parse().ok().filter(|t| (1e-6..=0.1).contains(t));
    let wrong = || UsageError::Tolerance(text.to_owned());
    sound.map(Tolerance).ok_or_else(wrong)
}

/// A count from 1.
pub(super) fn read_count(text: &OsStr) -> Result<u32, UsageError> {
    let text = text.to_string_lossy();
    let wrong = || UsageError::Other(format!("{text:?} is not a number of repeats from 1"));
    text.parse().ok().filter(|n| *n > 0).ok_or_else(wrong)
}

/// A length in mm; a plain number is in mm.
pub(super) fn read_length(text: &OsStr) -> Result<f64, UsageError> {
    let length = Length::read(&text.to_string_lossy(), UnitSystem::Millimetres);
    length
        .map(Length::mm)
        .map_err(|error| UsageError::Other(error.to_string()))
}

/// A size of paper by its word.
pub(super) fn read_paper(text: &OsStr) -> Result<Paper, UsageError> {
    let text = text.to_string_lossy();
    let named = |paper: &Paper| paper.word().eq_ignore_ascii_case(&text);
    let paper = Paper::ALL.into_iter().find(named);
    paper.ok_or_else(|| UsageError::Other(format!("paper is a4 or letter, not {text:?}")))
}

/// Lengths in mm, parted by commas.
pub(super) fn read_sizes(text: &OsStr) -> Result<Vec<f64>, UsageError> {
    let text = text.to_string_lossy();
    let sizes = text
        .split(',')
        .map(|size| read_length(size.trim().as_ref()));
    let sizes: Vec<f64> = sizes.collect::<Result<_, _>>()?;
    match sizes.iter().all(|mm| (1.0..=1e5).contains(mm)) && sizes.len() <= MOST_SHEETS {
        true => Ok(sizes),
        false => Err(UsageError::Other(format!(
            "{text:?} are not up to {MOST_SHEETS} sizes from 1 mm to 100 m, like 16cm,17cm"
        ))),
    }
}

/// How many copies, from 1.
pub(super) fn read_copies(text: &OsStr) -> Result<usize, UsageError> {
    let text = text.to_string_lossy();
    let copies = text.parse().ok().filter(|n| (1..=MOST_SHEETS).contains(n));
    let wrong = || {
        let fault = format!("{text:?} is not a number of copies from 1 to {MOST_SHEETS}");
        UsageError::Other(fault)
    };
    copies.ok_or_else(wrong)
}

/// Per cent, with or without the sign.
pub(super) fn read_share(text: &OsStr) -> Result<f64, UsageError> {
    read_number(text.to_string_lossy().trim().trim_end_matches('%'))
        .map_err(|error| UsageError::Other(error.to_string()))
}

/// Pixels for a millimetre, from a hundredth to a thousand.
pub(super) fn read_scale(text: &OsStr) -> Result<f64, UsageError> {
    let text = text.to_string_lossy();
    let scale = read_number(&text).ok();
    let wrong = || {
        UsageError::Other(format!(
            "{text:?} is not a number of pixels to a millimetre"
        ))
    };
    scale
        .filter(|n| (0.01..=1000.0).contains(n))
        .ok_or_else(wrong)
}

pub(super) fn read_subject(text: &OsStr) -> Result<Subject, UsageError> {
    match text.to_str() {
        Some("cord") => Ok(Subject::Cord),
        Some("disc") => Ok(Subject::Disc),
        _ => {
            let text = text.to_string_lossy();
            let fault = format!("a picture is --of cord or --of disc, not of {text:?}");
            Err(UsageError::Other(fault))
        }
    }
}

pub(super) fn read_size(text: &OsStr) -> Result<Size, UsageError> {
    let text = text.to_string_lossy();
    let wrong = || UsageError::Size(text.clone().into_owned());
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
