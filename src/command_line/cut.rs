//! `cut`: the cut list with bobbins, shopping, price, cautions and label.

use std::path::Path;

mod answer;
mod text;

use answer::Answer;
use text::Told;

use super::{Failure, Source, as_json, opened, recipe, solved};
use crate::cord::{Quality, SolveError};
use crate::document::{self, WORKSHOP};
use crate::plan::{PriceLine, Ware, Workshop};
use crate::quantity::UnitSystem;

/// As what the lists are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lists {
    /// Text for reading, with lengths in these units.
    Text(UnitSystem),
    /// One JSON object with everything.
    Json,
    /// The cut list, comma-separated.
    CutCsv,
    /// The shopping list, comma-separated.
    ShoppingCsv,
}

/// The answer, as asked.
pub(super) fn run(source: &Source, lists: Lists, home: &Path) -> Result<String, Failure> {
    let workshop = workshop(home)?;
    let design = opened(source)?;
    let of_solve = |error: SolveError| Failure::Input(error.to_string());
    let (cord, _ms) = solved(&recipe(&design)?, Quality::Full).map_err(of_solve)?;
    let units = match lists {
        Lists::Text(units) => units,
        _ => UnitSystem::Millimetres,
    };
    let plan = design.plan(&cord.figures, &workshop, units);
    let strands = design.strands.len();
    match lists {
        Lists::Text(units) => {
            let told = Told {
                design: &design,
                plan: &plan,
                workshop: &workshop,
                units,
            };
            Ok(told.text())
        }
        Lists::Json => as_json(&Answer::of(&design, &plan, &workshop)),
        Lists::CutCsv => Ok(without_last_end(&plan.cut.csv(strands))),
        Lists::ShoppingCsv => Ok(without_last_end(&plan.shopping.csv(workshop.prices.places))),
    }
}

/// The maker's workshop, or an ordinary one as long as there is none.
pub(super) fn workshop(home: &Path) -> Result<Workshop, Failure> {
    let file = home.join(WORKSHOP);
    let read = document::workshop(&file);
    let read = read.map_err(|error| Failure::Input(format!("{}: {error}", file.display())))?;
    Ok(read.unwrap_or_default())
}

/// A ware with the number of its colour, for lists that other programs read.
fn exactly(ware: &Ware) -> String {
    match ware {
        Ware::Thread { colour, .. } | Ware::Beads { colour, .. } => {
            format!("{} {colour}", ware.words())
        }
        other => other.words(),
    }
}

/// What a line of the price is for.
fn priced(line: &PriceLine) -> String {
    line.ware
        .as_ref()
        .map_or_else(|| line.name.clone(), exactly)
}

/// The line feed behind it comes with the answer.
fn without_last_end(text: &str) -> String {
    text.strip_suffix('\n').unwrap_or(text).to_owned()
}
