//! The plan of the design as it is now, made anew for every frame that shows it: it
//! takes less than a millisecond, so nothing of it is kept.

use crate::plan::{self, Chain, EndFit, Job, Order, Passage, Plan, Suited};

use super::App;
use super::stage::Stage;

/// From the wish to the cutting table, and how the ends sit.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The plan.
    pub plan: Plan,
    /// How each end sits in what holds it.
    pub ends: [Option<EndFit>; 2],
    /// What to order for each end, of the sizes that are sold.
    pub orders: [Option<Order>; 2],
    /// What lies on the shelf that the bound end may fit, likeliest first.
    pub suited: Vec<Suited>,
    /// The pendant's bail before the cord and the ends.
    pub passages: Vec<Passage>,
    /// From the rested cord to the same worked supple, mm.
    pub worked: Chain,
}

impl Planned {
    fn of(job: &Job<'_>) -> Self {
        let plan = plan::plan(job);
        Self {
            ends: [0, 1].map(|at| plan::end_fit(job, at)),
            orders: [0, 1].map(|at| plan::to_order(job, at)),
            suited: plan::suited(job),
            passages: plan::passages(job),
            worked: plan::worked(job, &plan.length),
            plan,
        }
    }
}

impl App {
    /// All of it; none on other stages or without figures.
    pub(super) fn planned(&self) -> Option<Planned> {
        match self.view.stage {
            Stage::Fit | Stage::Cut => {}
            // What would be begun; a cord at the disc has its own outlook.
            Stage::Braid if self.at_disc.work().is_none() => {}
            _ => return None,
        }
        let figures = self.solver.known().figures()?;
        let (workshop, units) = (self.workbench.now(), self.settings.units);
        let design = self.history.now();
        Some(design.on_the_table(figures, workshop, units, Planned::of))
    }
}
