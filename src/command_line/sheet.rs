//! `sheet`: the work sheet, as PDF or SVG; for a class one in each size.

use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

use super::cut::workshop;
use super::{Failure, Source, opened, recipe, solved, taken, write};
use crate::cord::{self, Cord, Form, Quality, SolveError};
use crate::document::{Design, spare_fonts};
use crate::drawing::{
    Page, Paper, SheetInput, SpareFont, letters_lacking, page_svg, pages_pdf, work_sheet,
};
use crate::mechanics::Progress;
use crate::plan::{Measure, Workshop};
use crate::quantity::{Day, Length, UnitSystem};

/// How a sheet is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// On which paper.
    pub paper: Paper,
    /// In which units.
    pub units: UnitSystem,
    /// One sheet for each of these measures of the piece, mm; for its own, if none.
    pub sizes: Vec<f64>,
    /// Copies of each.
    pub copies: usize,
    /// The day as it is printed; today's if not given.
    pub date: Option<String>,
}

impl Default for Sheet {
    fn default() -> Self {
        Self {
            paper: Paper::A4,
            units: UnitSystem::Millimetres,
            sizes: Vec::new(),
            copies: 1,
            date: None,
        }
    }
}

/// Writes the sheet; the answer says how many pages it has and where they are.
pub(super) fn run(
    source: &Source,
    out: &Path,
    sheet: &Sheet,
    home: &Path,
) -> Result<String, Failure> {
    let end = taken(out, &["pdf", "svg"])?;
    let workshop = workshop(home)?;
    let design = opened(source)?;
    let of_solve = |error: SolveError| Failure::Input(error.to_string());
    let (cord, _ms) = solved(&recipe(&design)?, Quality::Full).map_err(of_solve)?;
    let rested = cord::rested(&cord, &Progress::new()).map_err(of_solve)?;
    let rested = rested.unwrap_or_else(|| cord.form.clone());
    let made = Made {
        design: &design,
        cord: &cord,
        rested: &rested,
        workshop: &workshop,
        sheet,
    };
    let pages = made.pages();
    if end == "pdf" {
        let bytes = pages_pdf(&design.name, &pages);
        let bytes = bytes.map_err(|error| Failure::Other(error.to_string()))?;
        write(out, &bytes)?;
    } else {
        for (number, page) in pages.iter().enumerate() {
            let file = numbered(out, number);
            write(&file, page_svg(&design.name, page).as_bytes())?;
        }
    }
    Ok(told(out, end, pages.len()))
}

/// All that the copies have in common.
struct Made<'a> {
    design: &'a Design,
    cord: &'a Cord,
    rested: &'a Form,
    workshop: &'a Workshop,
    sheet: &'a Sheet,
}

impl Made<'_> {
    /// The pages of every size and copy.
    fn pages(&self) -> Vec<Page> {
        let sheet = self.sheet;
        if sheet.sizes.is_empty() {
            return self.copies(self.design, "");
        }
        let sizes = sheet.sizes.iter().flat_map(|&mm| {
            let size = Length::from_mm(mm).written(sheet.units);
            self.copies(&in_size(self.design, mm), &size)
        });
        sizes.collect()
    }

    fn copies(&self, design: &Design, size: &str) -> Vec<Page> {
        let copies = self.sheet.copies;
        let date = self.sheet.date.clone().unwrap_or_else(today);
        let plan = design.plan(&self.cord.figures, self.workshop, self.sheet.units);
        let input = SheetInput {
            design,
            figures: &self.cord.figures,
            rested: self.rested,
            plan: &plan,
            units: self.sheet.units,
            paper: self.sheet.paper,
            date: &date,
            copy: size,
            spare: &[],
        };
        let spare = spare_fonts(&letters_lacking(&input));
        let spare: Vec<SpareFont> = spare
            .into_iter()
            .map(|(bytes, index)| SpareFont::new(bytes, index))
            .collect();
        let sheets = (1..=copies).flat_map(|copy| {
            let copy = match (copies, size) {
                (1, size) => size.to_owned(),
                (n, "") => format!("copy {copy} of {n}"),
                (n, size) => format!("{size}, copy {copy} of {n}"),
            };
            work_sheet(&SheetInput {
                copy: &copy,
                spare: &spare,
                ..input
            })
        });
        sheets.collect()
    }
}

/// The design with its measure, round the wearer or along the piece, of so many mm.
fn in_size(design: &Design, mm: f64) -> Design {
    let mut design = design.clone();
    design.piece.measure = match design.piece.measure {
        Measure::Length(_) => Measure::Length(mm),
        Measure::Round { ease, .. } => Measure::Round { girth: mm, ease },
    };
    design.piece.sizes.clear();
    design
}

/// The first page under the name that was given, the others numbered.
fn numbered(out: &Path, number: usize) -> PathBuf {
    if number == 0 {
        return out.to_owned();
    }
    let stem = out.file_stem().unwrap_or_default().to_string_lossy();
    out.with_file_name(format!("{stem}-{}.svg", number + 1))
}

fn told(out: &Path, end: &str, pages: usize) -> String {
    let file = out.display();
    match (end, pages) {
        (_, 1) => format!("{file}: 1 page"),
        ("svg", n) => {
            let last = numbered(out, n - 1);
            format!("{file} to {}: {n} pages", last.display())
        }
        (_, n) => format!("{file}: {n} pages"),
    }
}

/// The day now, by the clock of the world: `2026-11-26`.
fn today() -> String {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    Day::of_seconds(since.map_or(0, |since| since.as_secs())).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn further_pages_are_numbered_beside_the_first() {
        let out = Path::new("a/b.svg");
        assert_eq!(numbered(out, 0), out);
        assert_eq!(numbered(out, 2), Path::new("a/b-3.svg"));
    }
}
