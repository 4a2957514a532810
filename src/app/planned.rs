//! The plan of the design as it is now, made anew for every frame that shows it: it
//! takes microseconds, so nothing of it is kept.

use crate::plan::{self, Job, Plan};

use super::App;
use super::stage::Stage;

impl App {
    /// From the wish to the cutting table; none on other stages or without figures.
    pub(super) fn planned(&self) -> Option<Plan> {
        if !matches!(self.view.stage, Stage::Fit | Stage::Cut) {
            return None;
        }
        let design = self.history.now();
        let known = self.solver.known();
        let (cores, around) = (design.cores(), design.slot_order());
        Some(plan::plan(&Job {
            figures: known.figures()?,
            strands: &design.strands,
            cores: &cores,
            fibres: &design.fibres,
            around: &around,
            tension: design.braiding.tension,
            counterweight: design.braiding.counterweight,
            piece: &design.piece,
            workshop: self.workbench.now(),
        }))
    }
}
