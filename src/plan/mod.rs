//! What must be cut, bought and fitted. Asks nobody: same input, same answer.
//!
//! [`Piece`] is what is wished for, [`Workshop`] what the maker has; the rest
//! follows from the cord's figures. Lengths in mm unless a field says otherwise.

#[cfg(test)]
mod any;
mod bobbin;
mod caution;
mod chain;
mod cut;
mod end;
mod enough;
mod findings;
mod fit;
mod fold;
mod kind;
mod label;
mod length;
mod lists;
mod order;
mod outlook;
mod passage;
mod piece;
mod price;
mod progress;
mod purchase;
mod run;
#[cfg(test)]
mod trial;
pub mod wish;
mod workshop;

pub use bobbin::{Bobbins, Wound};
pub use caution::{Caution, LOCAL_RULES_FIRST, Where};
pub use chain::{Chain, Link};
pub use cut::{Cut, CutList, bead_length};
pub use end::{EndFit, bound_end, end_fit};
pub use fit::{CapFit, CapVerdict, cap_verdict, fitting_caps, glue_gaps};
pub use fold::laid_together;
pub use kind::{EASES, Usual, closures};
pub use label::Label;
pub use length::{length, moves, on_disc, worked};
pub use order::{Order, Suited, suited, to_order};
pub use outlook::{Outlook, OutlookError, StrandOutlook, outlook};
pub use passage::{Passage, Passes, passages};
pub use piece::{Binding, Closure, End, Kind, Measure, Pendant, Piece, Round, Size, Wearer};
pub use price::{For, Price, PriceLine};
pub use progress::{FeedOut, Progress, RunsOut, TimeLeft, progress};
pub use purchase::{Need, Shopping, Ware};
pub use run::Run;
pub use workshop::{
    Bobbin, Cutting, Finding, FindingKind, Pace, Prices, PutUp, Stock, Table, Workshop,
};

#[cfg(test)]
pub(crate) use any::{any_binding, any_closure, any_end, any_measure, any_piece, any_sizes};

use crate::cord::{Figures, Tension};
use crate::material::{Fibre, Strand};
use crate::quantity::{Length, UnitSystem};

/// All that a plan depends on.
#[derive(Debug, Clone, Copy)]
pub struct Job<'a> {
    /// The cord's figures.
    pub figures: &'a Figures,
    /// The strands.
    pub strands: &'a [Strand],
    /// What they are braided round.
    pub cores: &'a [Strand],
    /// The fibres of all of them.
    pub fibres: &'a [Fibre],
    /// The strands in the order of their slots.
    pub around: &'a [usize],
    /// What holds the strands.
    pub tension: Tension,
    /// Counterweight, g.
    pub counterweight: f64,
    /// The finished piece.
    pub piece: &'a Piece,
    /// What the maker has.
    pub workshop: &'a Workshop,
    /// Units in which sentences speak of lengths; changes no figure.
    pub units: UnitSystem,
}

/// From the wish to the cutting table.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// From the measure to the rested cord that is braided, mm.
    pub length: Chain,
    /// From the rested cord to where to stop on the disc, mm.
    pub on_disc: Chain,
    /// What to cut.
    pub cut: CutList,
    /// Bobbins and counterweight.
    pub bobbins: Bobbins,
    /// What to buy.
    pub shopping: Shopping,
    /// What it costs.
    pub price: Price,
    /// What can hurt.
    pub cautions: Vec<Caution>,
    /// The label for the buyer.
    pub label: Label,
}

/// Everything from the wish to the cutting table, in one go.
///
/// Takes some tenths of a millisecond for eight strands and a few milliseconds at the
/// worst, where every thread of 32 is short: whoever shows it may ask in every frame.
pub fn plan(job: &Job<'_>) -> Plan {
    let rested = length(job);
    let runs = run::runs(job);
    let cut = cut::cut_list(job, &runs);
    let shopping = purchase::shopping(job, &cut);
    Plan {
        on_disc: on_disc(job, &rested),
        length: rested,
        bobbins: bobbin::bobbins(job, &cut),
        price: price::price(job, &cut, &shopping),
        shopping,
        cut,
        cautions: caution::cautions(job),
        label: label::label(job),
    }
}

impl Job<'_> {
    /// So much thread in words.
    fn thread(&self, metres: f64) -> String {
        Length::from_mm(1000.0 * metres).of_thread(self.units)
    }
}

/// Mean thickness of the strands lying free, mm; of 2 mm where none has a body.
fn mean_diameter(job: &Job<'_>) -> f64 {
    let bodies = job
        .strands
        .iter()
        .filter_map(|strand| strand.body(job.fibres).ok());
    let diameters: Vec<f64> = bodies.map(|body| body.diameter).collect();
    if diameters.is_empty() {
        return 2.0;
    }
    diameters.iter().sum::<f64>() / diameters.len() as f64
}
