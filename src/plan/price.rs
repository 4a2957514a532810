//! What the piece costs, and what to ask for it.
//!
//! Each line is rounded to the smallest unit once, halves away from nought; costs, margin
//! and tax are rounded once each, and every sum is that of the rounded parts.

use super::Job;
use super::cut::CutList;
use super::purchase::{Shopping, Ware};
use crate::quantity::{Estimate, Money};

/// How far the hands' pace may be off from one day to another, a share. Our guess.
const UNEVEN_PACE: f64 = 0.2;

/// What a line of the sum is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum For {
    /// Thread and beads.
    Material,
    /// Caps, clasp and the like.
    Finding,
    /// Binding thread, glue and wear.
    Small,
    /// The work.
    Work,
}

/// One line of the sum.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceLine {
    /// What it is for.
    pub what_for: For,
    /// What of the shopping list; none of small things and work.
    pub ware: Option<Ware>,
    /// What.
    pub name: String,
    /// How it comes about: an amount, an hourly rate.
    pub detail: String,
    /// What it costs; none if the price is not known.
    pub cost: Option<Money>,
}

/// Cost and price of all pieces together. Every sum is exact to the smallest unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    /// Line by line.
    pub lines: Vec<PriceLine>,
    /// What they come to; of what has a price.
    pub costs: Money,
    /// Lines that have no price.
    pub unpriced: usize,
    /// The work, hours.
    pub hours: Estimate,
    /// The margin on it.
    pub margin: Money,
    /// The tax on both.
    pub tax: Money,
    /// What to ask for.
    pub ask: Money,
    /// How many pieces that is for.
    pub pieces: u32,
    /// What to ask for one of them, rounded to the smallest unit; so many times this may
    /// differ from the whole by less than a unit a piece.
    pub ask_each: Money,
}

/// What the list and the ends come to.
pub(super) fn price(job: &Job<'_>, list: &CutList, shopping: &Shopping) -> Price {
    let prices = &job.workshop.prices;
    let pieces: u32 = list.runs.iter().map(|run| run.pieces).sum();
    let hours = hours(job, list);
    let mut lines = used(job, shopping);
    let each = prices.small_things;
    lines.push(PriceLine {
        what_for: For::Small,
        ware: None,
        name: "binding thread, glue and wear".into(),
        detail: match pieces {
            1 => "a share".into(),
            _ => format!("a share for each of {pieces} pieces"),
        },
        cost: each.map(|each| each.times(f64::from(pieces)).rounded(prices.places)),
    });
    lines.push(PriceLine {
        what_for: For::Work,
        ware: None,
        name: "work".into(),
        detail: worked(
            hours.value,
            prices.hour.map(|hour| hour.shown(prices.places)),
        ),
        cost: prices
            .hour
            .map(|hour| hour.times(hours.value).rounded(prices.places)),
    });
    let costs: Money = lines.iter().filter_map(|line| line.cost).sum();
    let margin = costs.per_cent(prices.margin).rounded(prices.places);
    let tax = (costs + margin).per_cent(prices.tax).rounded(prices.places);
    let ask = costs + margin + tax;
    Price {
        unpriced: lines.iter().filter(|line| line.cost.is_none()).count(),
        lines,
        costs,
        hours,
        margin,
        tax,
        ask,
        pieces,
        ask_each: ask.shared(pieces).rounded(prices.places),
    }
}

/// A line for all that the shopping list names, what is there counted like what is bought.
fn used(job: &Job<'_>, shopping: &Shopping) -> Vec<PriceLine> {
    let lines = shopping.needs.iter().filter(|need| !need.ware.is_small());
    let line = lines.map(|need| PriceLine {
        what_for: match need.ware {
            Ware::Thread { .. } | Ware::Beads { .. } => For::Material,
            _ => For::Finding,
        },
        ware: Some(need.ware.clone()),
        name: need.ware.words(),
        detail: match &need.ware {
            Ware::Thread { .. } => format!("{}, spare counted", job.thread(need.needed)),
            Ware::Beads { grams, .. } => format!("{:.0} beads, {grams:.0} g", need.needed),
            _ => format!("{:.0}", need.needed),
        },
        cost: need.used,
    });
    line.collect()
}

fn worked(hours: f64, rate: Option<String>) -> String {
    let minutes = (hours * 60.0).round();
    let (whole, rest) = ((minutes / 60.0).floor(), minutes % 60.0);
    let at = rate.map_or_else(
        || ", no hourly rate".to_owned(),
        |rate| format!(" at {rate}"),
    );
    format!("{whole:.0} h {rest:02.0} min{at}")
}

/// Moving, setting up and finishing, hours.
fn hours(job: &Job<'_>, list: &CutList) -> Estimate {
    let pace = &job.workshop.pace;
    let a_minute = pace.moves_a_minute * pace.at_work;
    let strands = (job.strands.len() + job.cores.len()) as f64;
    let minutes = list.runs.iter().map(|run| {
        let cords = f64::from(run.cords);
        let moving = run.moves.times(cords / a_minute);
        moving.plus(cords * strands * pace.set_up + f64::from(run.pieces) * pace.finish)
    });
    let all = minutes.fold(Estimate::exact(0.0), Estimate::together);
    let off = |end: f64, sign: f64| {
        let pace = UNEVEN_PACE * all.value;
        all.value + sign * pace.hypot(end - all.value)
    };
    Estimate {
        value: all.value,
        low: off(all.low, -1.0),
        high: off(all.high, 1.0),
    }
    .times(1.0 / 60.0)
}
