//! Times of the work sheet.

use plaitwright::cord::{Cord, Quality, solve};
use plaitwright::document::{Design, example_workshop, examples};
use plaitwright::drawing::{Page, Paper, SheetInput, pages_pdf, work_sheet};
use plaitwright::mechanics::Progress;
use plaitwright::quantity::UnitSystem;
use plaitwright::structure::shelf;

use super::clock::{print_head, timed};

/// Pages and PDF of an example and of the longest list of moves.
pub(super) fn composed() {
    print_head("The work sheet: composed and written as PDF");
    let longest = shelf().iter().max_by_key(|s| s.moves.steps.len());
    let designs = [Some(examples()[0].clone()), longest.map(Design::fresh)];
    for design in designs.into_iter().flatten() {
        let recipe = design.recipe().expect("a sound design");
        let cord = solve(&recipe, None, Quality::Fine, &Progress::new());
        let cord = cord.expect("a design that makes a cord");
        let what = format!("{}, {} strands", design.name, design.strands.len());
        timed(&what, 15, Some(300.0), || {
            pages_pdf(&design.name, &sheet(&design, &cord))
        });
        // Fit and Cut plan anew in every frame.
        timed(&format!("{what}: plan alone"), 50, Some(8.0), || {
            design.plan(&cord.figures, example_workshop(), UnitSystem::Millimetres)
        });
    }
}

fn sheet(design: &Design, cord: &Cord) -> Vec<Page> {
    work_sheet(&SheetInput {
        design,
        figures: &cord.figures,
        rested: &cord.form,
        plan: &design.plan(&cord.figures, example_workshop(), UnitSystem::Millimetres),
        units: UnitSystem::Millimetres,
        paper: Paper::A4,
        date: "",
        copy: "",
        spare: &[],
    })
}
