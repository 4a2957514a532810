//! The search beside the window: asked when the question is another one, called off when
//! nobody wants it any more.

use std::collections::BTreeSet;
use std::sync::Arc;

use eframe::egui::Ui;

use super::MOST;
use crate::app::desk::Desk;
use crate::app::errand::Errand;
use crate::app::painting::threads;
use crate::app::solver::Solved;
use crate::cord::{Cord, Progress};
use crate::document::{Design, Edit};
use crate::drawing::Thread;
use crate::plan::wish::{self, Answer, Freedom, Hindrance, Makings, Outcome, Question, Wish, ask};
use crate::plan::{CapFit, For, Price, cap_verdict};
use crate::quantity::{Money, UnitSystem};

/// A question, and what is known of its answers.
#[derive(Debug)]
pub(super) struct Search {
    wish: Wish,
    free: BTreeSet<Freedom>,
    now: Makings,
    /// The design that was asked about, and its cord.
    design: Design,
    cord: Arc<Cord>,
    errand: Errand<Outcome>,
    progress: Progress,
    hindrance: Option<Hindrance>,
    /// The nearest first.
    pub(super) found: Vec<Found>,
    is_done: bool,
    is_stopped: bool,
}

/// An answer, ready to be shown.
#[derive(Debug)]
pub(super) struct Found {
    pub(super) answer: Answer,
    /// What its strands look like.
    pub(super) threads: Arc<[Thread]>,
    /// How its end sits in the cap wished for, if one is.
    pub(super) fit: Option<CapFit>,
    /// Thread it takes for each length, over what the cord takes now.
    pub(super) thread: f64,
}

impl Search {
    /// The search for this question: the one there is if it is the same, a new one once
    /// the cord of the design is solved.
    pub(super) fn follow(
        search: &mut Option<Self>,
        ui: &Ui,
        desk: &Desk<'_>,
        wish: Wish,
        free: &BTreeSet<Freedom>,
    ) {
        let now = desk.design.makings();
        let is_asked = |it: &Self| it.wish == wish && it.free == *free && it.now == now;
        if search.as_ref().is_some_and(is_asked) {
            return;
        }
        *search = match desk.solver.solved() {
            Solved::Done { cord, last: true } if !cord.is_of_mean_strands() => {
                let asked = (now, wish, free.clone());
                Some(Self::begun(ui, Arc::clone(cord), asked, desk.design))
            }
            _ => None,
        };
    }

    fn begun(
        ui: &Ui,
        cord: Arc<Cord>,
        (now, wish, free): (Makings, Wish, BTreeSet<Freedom>),
        design: &Design,
    ) -> Self {
        let progress = Progress::new();
        let (makings, left, stop) = (now.clone(), free.clone(), progress.clone());
        let asked = Arc::clone(&cord);
        let errand = Errand::send("other way round", ui.ctx(), move |teller| {
            let question = Question {
                now: &makings,
                cord: &asked,
                wish,
                free: left,
                most: MOST,
            };
            let last = ask(&question, &stop, |outcome| {
                if teller.is_stopped() {
                    stop.stop();
                }
                teller.tell(outcome);
            });
            teller.tell(last);
        });
        Self {
            wish,
            free,
            now,
            design: design.clone(),
            cord,
            errand,
            progress,
            hindrance: None,
            found: Vec::new(),
            is_done: false,
            is_stopped: false,
        }
    }

    /// Takes home what was found since the last frame.
    pub(super) fn hear(&mut self) {
        let Some(outcome) = self.errand.heard().pop() else {
            return;
        };
        let now = used(&outcome.now);
        self.is_done |= outcome.is_done;
        self.hindrance = outcome.hindrance;
        let (design, wish) = (&self.design, self.wish);
        let fit = |answer: &Answer| {
            let cap = wish.inner()?;
            Some(cap_verdict(answer.measure, cap, design.piece.glue_gap).fit)
        };
        let found = |answer: Answer| {
            let changed = Edit::makings(design, &answer.makings).apply(design);
            Found {
                threads: changed
                    .map_or_else(|_| Vec::new(), |it| threads(&it))
                    .into(),
                fit: fit(&answer),
                thread: used(&answer.threads) / now,
                answer,
            }
        };
        self.found = outcome.answers.into_iter().map(found).collect();
    }

    /// Whether better answers may come.
    pub(super) fn is_running(&self) -> bool {
        !self.is_done && !self.is_stopped
    }

    /// Whether it was called off; what was found until then stays.
    pub(super) fn is_stopped(&self) -> bool {
        self.is_stopped
    }

    /// Calls it off.
    pub(super) fn stop(&mut self) {
        self.progress.stop();
        self.is_stopped = true;
    }

    /// Why nothing answers the wish, one sentence; not before all was looked at.
    pub(super) fn hindrance(&self, units: UnitSystem) -> Option<String> {
        let hindrance = self.hindrance.as_ref().filter(|_| !self.is_running())?;
        let sentence = hindrance.sentence(units);
        let mut letters = sentence.chars();
        let first = letters.next()?.to_uppercase();
        Some(format!(
            "{}{}.",
            first.collect::<String>(),
            letters.as_str()
        ))
    }

    /// How much more a piece costs by an answer; none where a material has no price.
    pub(super) fn dearer(&self, found: &Found, desk: &Desk<'_>) -> Option<Money> {
        let (piece, workshop) = (&desk.design.piece, desk.workshop);
        let answer = &found.answer;
        let now = self.now.price(&self.cord.figures, piece, workshop);
        let then = answer.makings.price(&answer.figures, piece, workshop);
        let is_known = |price: &Price| {
            let mut materials = price.lines.iter().filter(|it| it.what_for == For::Material);
            materials.all(|line| line.cost.is_some())
        };
        let [now, then] = [&now, &then].map(|it| is_known(it).then_some(it));
        let (now, then) = now.zip(then)?;
        Some((then.costs - now.costs).shared(then.pieces))
    }

    /// The change that makes an answer of the design that was asked about.
    pub(super) fn edit(&self, found: &Found) -> Edit {
        Edit::makings(&self.design, &found.answer.makings)
    }
}

/// All thread together.
fn used(threads: &[wish::Thread]) -> f64 {
    threads.iter().map(|it| it.used.value).sum()
}

impl Drop for Search {
    fn drop(&mut self) {
        self.progress.stop();
    }
}

impl Found {
    /// Whether a design is made as it says.
    pub(super) fn is_in(&self, design: &Design) -> bool {
        let (wanted, now) = (&self.answer.makings, design.makings());
        wanted.moves == now.moves
            && wanted.strands == now.strands
            && wanted.counterweight == now.counterweight
    }

    /// Whether it changes nothing.
    pub(super) fn is_as_it_is(&self) -> bool {
        self.answer.changes.is_empty()
    }
}
