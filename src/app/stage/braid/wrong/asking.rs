//! The search for what happened, beside the window: asked when something else is marked,
//! one at a time, and the last answers stay until the new ones are there.

use eframe::egui::Ui;

use super::super::work::Work;
use crate::app::errand::Errand;
use crate::bench::Seen;
use crate::bench::lost::{Diagnosis, Known, explain};

/// How many moves are looked back over.
const WITHIN: u64 = 64;

/// All that an answer depends on.
#[derive(Debug, Clone, PartialEq)]
struct Asked {
    seen: Seen,
    done: u64,
    roles: Vec<usize>,
}

/// What was asked, and what is known of it.
#[derive(Debug, Default)]
pub(super) struct Asking {
    running: Option<(Asked, Errand<Diagnosis>)>,
    known: Option<(Asked, Diagnosis)>,
    /// The same after each answer to its questions.
    weighed: Vec<Diagnosis>,
    wanted: Option<Asked>,
}

impl Asking {
    /// Asks anew where something else is marked than was asked about; whether new answers
    /// came.
    pub(super) fn follow(&mut self, ui: &Ui, work: &Work<'_>, seen: Seen) -> bool {
        let asked = Asked {
            seen,
            done: work.done,
            roles: work.course.roles.clone(),
        };
        let came = self.hear();
        self.wanted = Some(asked.clone());
        // What runs is heard to its end: many changes in a row ask once more only.
        if self.running.is_none() && !self.is_known(&asked) {
            self.running = Some((asked.clone(), send(ui, work, asked)));
        }
        came
    }

    /// Nothing is asked: what is marked cannot be.
    pub(super) fn rest(&mut self) {
        self.hear();
        self.wanted = None;
    }

    fn hear(&mut self) -> bool {
        let heard = self.running.as_ref().and_then(|(_, it)| it.heard().pop());
        if let Some(diagnosis) = heard
            && let Some((asked, _)) = self.running.take()
        {
            self.known = Some((asked, diagnosis));
            self.weighed.clear();
            return true;
        }
        false
    }

    fn is_known(&self, asked: &Asked) -> bool {
        self.known.as_ref().is_some_and(|(known, _)| known == asked)
    }

    /// Whether the answers are those to what is marked now.
    pub(super) fn is_fresh(&self) -> bool {
        self.wanted.as_ref().is_some_and(|it| self.is_known(it))
    }

    /// The newest answers, those to questions taken in.
    pub(super) fn diagnosis(&self) -> Option<&Diagnosis> {
        let known = self.known.as_ref().map(|(_, diagnosis)| diagnosis);
        self.weighed.last().or(known)
    }

    /// Takes in an answer to the question.
    pub(super) fn answer(&mut self, place: usize) {
        if let Some(weighed) = self.diagnosis().map(|it| it.answered(place)) {
            self.weighed.push(weighed);
        }
    }

    /// Whether a question was answered.
    pub(super) fn was_answered(&self) -> bool {
        !self.weighed.is_empty()
    }

    /// Takes the last answer to a question back.
    pub(super) fn unanswer(&mut self) {
        self.weighed.pop();
    }
}

fn send(ui: &Ui, work: &Work<'_>, asked: Asked) -> Errand<Diagnosis> {
    let (braid, looks) = (work.braid.clone(), work.looks.of.clone());
    Errand::send("something looks wrong", ui.ctx(), move |teller| {
        let known = Known {
            braid: &braid,
            roles: &asked.roles,
            done: asked.done,
            looks: &looks,
            within: WITHIN,
        };
        teller.tell(explain(&known, &asked.seen));
    })
}
