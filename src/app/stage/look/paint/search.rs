//! Looking for what can be braided, beside the window.
//!
//! Asked are the design's own cord, its mirror image, and every structure of the shelf
//! with as many strands whose cord is solved.

use std::sync::Arc;

use eframe::egui::{Color32, Rect, Ui};

use crate::app::desk::Desk;
use crate::app::errand::Errand;
use crate::cord::Cord;
use crate::pattern::{
    Alike, Answer, Arrangement, Asked, Candidate, Contents, Group, Hand, Painting, answers,
};
use crate::structure::{Braid, MoveList, shelf};
use crate::surface::Surface;

use super::chart::Chart;

/// How many answers are shown.
pub(super) const FEW: usize = 3;

/// A cord that may show the painting, and how it is worked.
#[derive(Debug)]
pub(super) struct Able {
    pub(super) candidate: Candidate,
    group: Group,
    surface: Arc<Surface>,
    /// The moves as they would be laid on; none for the design's own.
    pub(super) moves: Option<MoveList>,
    /// What its sample is kept under; none for the design's own cord.
    pub(super) key: Option<String>,
}

/// What is to be unrolled, if it was not before.
#[derive(Debug)]
struct Source {
    name: String,
    moves: MoveList,
    key: Option<String>,
    cord: Arc<Cord>,
    hand: Hand,
}

/// What was found for a painting.
#[derive(Debug)]
pub(super) struct Found {
    pub(super) answers: Vec<Answer>,
    /// The surface under each answer, where the painting lies on it.
    pub(super) charts: Vec<Chart>,
    able: Vec<Arc<Able>>,
}

impl Found {
    /// The cord of an answer.
    pub(super) fn able(&self, which: usize) -> Option<&Arc<Able>> {
        self.able.get(self.answers.get(which)?.candidate)
    }
}

/// The question, as far as it is not the painting.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Terms {
    /// How many strands of each colour.
    pub(super) contents: Contents,
    /// The colours now.
    pub(super) now: Arrangement,
    /// Size of the charts, pixels.
    pub(super) size: [usize; 2],
}

/// The search.
#[derive(Debug, Default)]
pub(super) struct Search {
    /// Cords that were unrolled, with the solved cord of each.
    able: Vec<(Arc<Cord>, Arc<Able>)>,
    asked: Option<(Painting, Terms, usize)>,
    errand: Option<Errand<Outcome>>,
    found: Option<Found>,
    /// Which answer is looked at.
    pub(super) pick: usize,
}

/// What the thread tells.
#[derive(Debug)]
struct Outcome {
    able: Vec<(Arc<Cord>, Arc<Able>)>,
    found: Found,
}

impl Search {
    /// What was found last.
    pub(super) fn found(&self) -> Option<&Found> {
        self.found.as_ref()
    }

    /// The same, to be drawn.
    pub(super) fn found_mut(&mut self) -> Option<&mut Found> {
        self.found.as_mut()
    }

    /// Whether something is still being looked for.
    pub(super) fn is_busy(&self) -> bool {
        self.errand.is_some()
    }

    /// A line round a float of the answer that is looked at.
    pub(super) fn outline(&self, ui: &Ui, rect: Rect, float: usize, colour: Color32) {
        let chart = self
            .found
            .as_ref()
            .and_then(|found| found.charts.get(self.pick));
        if let Some(chart) = chart {
            chart.outline(ui, rect, float, colour);
        }
    }

    /// Nothing is painted any more.
    pub(super) fn forget(&mut self) {
        self.asked = None;
        self.errand = None;
        self.found = None;
        self.pick = 0;
    }

    /// Asks again if the painting, the colours or the cords are others than before.
    pub(super) fn ask(
        &mut self,
        ui: &Ui,
        desk: &Desk<'_>,
        painting: &Painting,
        terms: &Terms,
        samples: &mut Vec<(String, MoveList)>,
    ) {
        self.listen();
        let sources = sources(desk, samples);
        let known = (painting, terms, sources.len());
        let is_asked = |(painting, terms, count): &(Painting, Terms, usize)| {
            (painting, terms, *count) == known
        };
        let own = sources.first().map(|source| &source.cord);
        let is_own =
            |(cord, _): &(Arc<Cord>, Arc<Able>)| own.is_some_and(|own| Arc::ptr_eq(own, cord));
        let is_unrolled = self.errand.is_some() || self.able.iter().any(is_own);
        if self.asked.as_ref().is_some_and(is_asked) && is_unrolled {
            return;
        }
        self.asked = Some((painting.clone(), terms.clone(), sources.len()));
        self.send(ui, sources, painting.clone(), terms.clone());
    }

    fn listen(&mut self) {
        let heard = self.errand.as_ref().map(Errand::heard);
        if let Some(outcome) = heard.and_then(|mut all| all.pop()) {
            self.errand = None;
            self.able = outcome.able;
            self.pick = self.pick.min(outcome.found.answers.len().saturating_sub(1));
            self.found = Some(outcome.found);
        }
    }

    fn send(&mut self, ui: &Ui, sources: Vec<Source>, painting: Painting, terms: Terms) {
        let before = self.able.clone();
        self.errand = Some(Errand::send("paint", ui.ctx(), move |teller| {
            let mut able = Vec::new();
            for source in &sources {
                if teller.is_stopped() {
                    return;
                }
                able.extend(
                    source
                        .able(&before)
                        .map(|able| (Arc::clone(&source.cord), able)),
                );
            }
            let found = found(
                able.iter().map(|one| Arc::clone(&one.1)).collect(),
                &painting,
                &terms,
            );
            teller.tell(Outcome { able, found });
        }));
    }
}

/// The design's own cord first, in both hands; then the shelf's.
fn sources(desk: &Desk<'_>, samples: &mut Vec<(String, MoveList)>) -> Vec<Source> {
    let (Some(cord), Some(moves)) = (desk.solver.solved().cord(), desk.moves()) else {
        return Vec::new();
    };
    let strands = desk.design.strands.len();
    let name = desk
        .section()
        .map_or_else(String::new, |it| it.structure.clone());
    let own = |hand| Source {
        name: name.clone(),
        moves: moves.clone(),
        key: None,
        cord: Arc::clone(cord),
        hand,
    };
    let mut all = vec![own(Hand::Same), own(Hand::Mirrored)];
    for structure in shelf()
        .iter()
        .filter(|it| it.strands() == strands && it.moves != *moves)
    {
        let key = format!("{} {strands}", structure.name);
        match desk.solver.sample(&key) {
            Some(Some(cord)) => all.push(Source {
                name: structure.name.clone(),
                moves: structure.moves.clone(),
                key: Some(key),
                cord: Arc::clone(cord),
                hand: Hand::Same,
            }),
            Some(None) => {}
            None => samples.push((key, structure.moves.clone())),
        }
    }
    all
}

impl Source {
    /// Unrolled, as it was before if it was.
    fn able(&self, before: &[(Arc<Cord>, Arc<Able>)]) -> Option<Arc<Able>> {
        let is_this = |(cord, able): &&(Arc<Cord>, Arc<Able>)| {
            Arc::ptr_eq(cord, &self.cord)
                && able.candidate.hand == self.hand
                && able.key == self.key
        };
        if let Some((_, able)) = before.iter().find(is_this) {
            return Some(Arc::clone(able));
        }
        let braid = Braid::new(&self.moves).ok()?;
        let surface = Arc::new(Surface::new(&self.cord.form)?);
        let is_mirrored = self.hand == Hand::Mirrored;
        let moves = if is_mirrored {
            self.moves.mirrored()
        } else {
            self.moves.clone()
        };
        Some(Arc::new(Able {
            candidate: Candidate::new(&self.name, &surface, braid.strands(), self.hand),
            group: Group::of_braid(&braid, Alike::Turned).ok()?,
            surface,
            moves: (is_mirrored || self.key.is_some()).then_some(moves),
            key: self.key.clone(),
        }))
    }
}

fn found(able: Vec<Arc<Able>>, painting: &Painting, terms: &Terms) -> Found {
    let asked = Asked {
        painting,
        contents: &terms.contents,
        now: Some(&terms.now),
        few: FEW,
    };
    let pairs: Vec<(&Candidate, &Group)> =
        able.iter().map(|it| (&it.candidate, &it.group)).collect();
    let answers = answers(&asked, &pairs);
    let chart = |answer: &Answer| {
        let able = &able[answer.candidate];
        let is_mirrored = able.candidate.hand == Hand::Mirrored;
        Chart::new(
            Arc::clone(&able.surface),
            terms.size,
            answer.shift,
            is_mirrored,
        )
    };
    let charts = answers.iter().map(chart).collect();
    Found {
        answers,
        charts,
        able,
    }
}
