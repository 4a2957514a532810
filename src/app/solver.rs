//! The cord, worked out beside the window.
//!
//! One named thread. The newest recipe wins: asking for another one stops the
//! running solve between two of its steps. A coarse cord comes first, the fine
//! one after it, then the cord off the weight, the spreads of its figures and how it
//! answers to a pull.
//! Until a cord has come its figures are told at once from the last one, roughly;
//! those of the last one are never shown for it.
//! When nothing is asked, sample cords for the shelf of structures are solved
//! one by one.
//!
//! Knows no colours: the recipe has none, so a repainted cord is the same cord.

mod rest;
mod samples;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::{Duration, Instant};

use super::post::Post;
use crate::cord::{
    Cord, Figures, FirstAnswer, Form, Progress, Pulled, Quality, Recipe, first_answer, pulled,
    rested, solve,
};
use samples::{Queue, Sample, Samples, Wanted};

pub use rest::Rested;
pub use samples::Kind;

/// How long a cord may be out of date before it is marked as old. Tried: a
/// warm solve is done sooner, and marking it for a blink only flickers.
const PATIENCE: Duration = Duration::from_millis(180);

/// Grams and points of the curve under pull.
const PULL: (f64, usize) = (200.0, 9);

/// How the cord of the design stands.
#[derive(Debug, Clone, Default)]
pub enum Solved {
    /// Nothing was asked yet.
    #[default]
    None,
    /// Being worked out.
    Working {
        /// The last good cord, of an earlier recipe.
        before: Option<Arc<Cord>>,
    },
    /// Solved; may still grow finer.
    Done {
        /// The cord.
        cord: Arc<Cord>,
        /// Whether nothing finer is on its way.
        last: bool,
    },
    /// There is no such cord.
    Failed {
        /// The last good cord, of an earlier recipe.
        before: Option<Arc<Cord>>,
        /// What is the matter, one sentence.
        error: String,
    },
}

impl Solved {
    /// The cord to show, new or old.
    pub fn cord(&self) -> Option<&Arc<Cord>> {
        match self {
            Self::None => None,
            Self::Done { cord, .. } => Some(cord),
            Self::Working { before } | Self::Failed { before, .. } => before.as_ref(),
        }
    }

    /// Whether the cord to show belongs to an earlier recipe.
    pub fn is_old(&self) -> bool {
        matches!(self, Self::Working { .. } | Self::Failed { .. })
    }

    /// Whether something is still being worked out.
    pub fn is_busy(&self) -> bool {
        matches!(self, Self::Working { .. } | Self::Done { last: false, .. })
    }

    /// Whether a finer cord than this one is on its way.
    pub fn is_coarse(&self) -> bool {
        matches!(self, Self::Done { last: false, .. })
    }

    /// Why there is no cord, when there is none.
    pub fn error(&self) -> Option<&str> {
        match self {
            Self::Failed { error, .. } => Some(error),
            _ => None,
        }
    }
}

/// Figures of the design as it is now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Known<'a> {
    /// None yet, or there is no such cord.
    Nothing,
    /// Told at once from the last cord; those of the solve are on their way.
    About(&'a Figures),
    /// Those of the solved cord.
    Solved(&'a Figures),
}

impl<'a> Known<'a> {
    /// The figures, however they came about.
    pub fn figures(self) -> Option<&'a Figures> {
        match self {
            Self::Nothing => None,
            Self::About(figures) | Self::Solved(figures) => Some(figures),
        }
    }

    /// Whether they are a first answer.
    pub fn is_about(self) -> bool {
        matches!(self, Self::About(_))
    }
}

/// What the thread is to do next.
#[derive(Debug)]
enum Wish {
    /// The cord of the design, begun from a neighbouring one if there is one.
    Design(Recipe, Option<Arc<Cord>>),
    /// A sample for the shelf.
    Sample(Wanted),
}

/// What comes home.
#[derive(Debug)]
enum Answer {
    Cord(u64, Arc<Cord>, Quality),
    Refused(u64, String),
    Rested(u64, Option<Form>),
    Pull(u64, Pulled),
    Sample(String, Sample),
}

/// What both sides look at.
#[derive(Debug, Default)]
struct Board {
    design: Option<(Recipe, Option<Arc<Cord>>)>,
    samples: Queue,
    running: Option<Progress>,
    closed: bool,
}

/// Works out cords on a thread of its own; dropping it stops the thread.
#[derive(Debug)]
pub struct Solver {
    post: Arc<Post<Board>>,
    answers: Receiver<Answer>,
    asked: Option<u64>,
    asked_at: Instant,
    solved: Solved,
    /// The question that `solved` is the answer to.
    recipe: Option<Recipe>,
    /// Its figures while there are no better ones.
    first: Option<FirstAnswer>,
    rested: Rested,
    pull: Pulled,
    samples: Samples,
}

impl Solver {
    /// A solver that calls `wake` whenever an answer has come.
    pub fn new(wake: impl Fn() + Send + 'static) -> Self {
        let post = Arc::new(Post::default());
        let (send, answers) = channel();
        let bench = Bench {
            post: Arc::clone(&post),
            send,
            wake: Box::new(wake),
        };
        let thread = std::thread::Builder::new().name("solver".to_owned());
        if let Err(error) = thread.spawn(move || bench.work()) {
            log::error!("no thread for the solver: {error}");
        }
        Self {
            post,
            answers,
            asked: None,
            asked_at: Instant::now(),
            solved: Solved::None,
            recipe: None,
            first: None,
            rested: Rested::default(),
            pull: Pulled::default(),
            samples: Samples::default(),
        }
    }

    /// How the cord of the design stands.
    pub fn solved(&self) -> &Solved {
        &self.solved
    }

    /// The figures of the design as it is now; never those of an earlier cord.
    pub fn known(&self) -> Known<'_> {
        match (&self.first, &self.solved) {
            (Some(first), _) => Known::About(&first.figures),
            (None, Solved::Done { cord, .. }) => Known::Solved(&cord.figures),
            (None, _) => Known::Nothing,
        }
    }

    /// Whether the cord shown is to be marked as an earlier one.
    pub fn shows_old(&self) -> bool {
        match &self.solved {
            Solved::Failed { before, .. } => before.is_some(),
            Solved::Working { before } => before.is_some() && self.patience_left().is_none(),
            Solved::None | Solved::Done { .. } => false,
        }
    }

    /// How long until a cord being worked out is late, while it is not.
    pub fn patience_left(&self) -> Option<Duration> {
        let waits = matches!(self.solved, Solved::Working { .. });
        let left = PATIENCE.checked_sub(self.asked_at.elapsed())?;
        waits.then_some(left)
    }

    /// The cord off the weight.
    pub fn rested(&self) -> &Rested {
        &self.rested
    }

    /// Whether the rested shape is that of an earlier cord, and its own is late.
    pub fn rested_is_late(&self) -> bool {
        let own = self.asked.is_some_and(|print| self.rested.is_of(print));
        !own && self.asked_at.elapsed() > PATIENCE
    }

    /// Thickness and length of the shown cord against pull; empty until known.
    pub fn pull(&self) -> &Pulled {
        &self.pull
    }

    /// Asks for the cord of a recipe, unless it is the one asked for already.
    pub fn ask(&mut self, recipe: Result<Recipe, String>) {
        match recipe {
            Ok(recipe) if self.asked == Some(recipe.fingerprint()) => {}
            Ok(recipe) => self.start(recipe),
            Err(error) => self.refuse(error),
        }
    }

    /// Takes finished answers home; `true` if anything changed.
    pub fn collect(&mut self) -> bool {
        let mut changed = false;
        while let Ok(answer) = self.answers.try_recv() {
            self.take(answer);
            changed = true;
        }
        changed
    }

    fn start(&mut self, recipe: Recipe) {
        self.asked = Some(recipe.fingerprint());
        self.asked_at = Instant::now();
        self.pull = Pulled::default();
        let before = self.solved.cord().cloned();
        self.solved = Solved::Working {
            before: before.clone(),
        };
        self.first = before.as_ref().and_then(|cord| first_answer(&recipe, cord));
        self.recipe = Some(recipe.clone());
        let mut board = self.post.board();
        board.design = Some((recipe, before));
        if let Some(running) = &board.running {
            running.stop();
        }
        self.post.ring();
    }

    fn refuse(&mut self, error: String) {
        self.asked = None;
        self.first = None;
        self.post.board().design = None;
        let before = self.solved.cord().cloned();
        self.solved = Solved::Failed { before, error };
    }

    /// Answers to questions nobody asks any more are dropped.
    fn take(&mut self, answer: Answer) {
        match answer {
            Answer::Cord(print, cord, quality) if self.asked == Some(print) => {
                let last = quality == Quality::Full;
                let recipe = self.recipe.as_ref().filter(|_| cord.is_of_mean_strands());
                self.first = recipe.and_then(|recipe| first_answer(recipe, &cord));
                self.solved = Solved::Done { cord, last };
            }
            Answer::Refused(print, error) if self.asked == Some(print) => {
                // A cord that was already shown is a good cord; only the
                // finer one failed.
                let before = self.solved.cord().cloned();
                self.first = None;
                self.solved = Solved::Failed { before, error };
            }
            Answer::Rested(print, form) if self.asked == Some(print) => {
                self.rested.take(print, form);
            }
            Answer::Pull(print, pull) if self.asked == Some(print) => self.pull = pull,
            Answer::Sample(key, sample) => self.samples.solved(key, sample),
            Answer::Cord(..) | Answer::Refused(..) | Answer::Rested(..) | Answer::Pull(..) => {}
        }
    }
}

impl Drop for Solver {
    fn drop(&mut self) {
        let mut board = self.post.board();
        board.closed = true;
        if let Some(running) = &board.running {
            running.stop();
        }
        self.post.ring();
    }
}

/// The thread's side.
struct Bench {
    post: Arc<Post<Board>>,
    send: Sender<Answer>,
    wake: Box<dyn Fn() + Send>,
}

impl Bench {
    fn work(&self) {
        while let Some((wish, progress)) = self.next() {
            match wish {
                Wish::Design(recipe, warm) => self.design(&recipe, warm, &progress),
                Wish::Sample(wanted) => self.sample(wanted, &progress),
            }
        }
    }

    /// Waits for the next wish; `None` when the window is gone.
    fn next(&self) -> Option<(Wish, Progress)> {
        let mut board = self.post.board();
        loop {
            if board.closed {
                return None;
            }
            if let Some(wish) = board.take() {
                let progress = Progress::default();
                board.running = Some(progress.clone());
                return Some((wish, progress));
            }
            board.running = None;
            board = self.post.wait(board);
        }
    }

    /// Coarse, then fine, then off the weight, then with spreads, then under pull.
    fn design(&self, recipe: &Recipe, mut warm: Option<Arc<Cord>>, progress: &Progress) {
        let print = recipe.fingerprint();
        for quality in [Quality::Coarse, Quality::Fine, Quality::Full] {
            let before = warm.clone();
            let solved = guarded(|| solve(recipe, before.as_deref(), quality, progress));
            if progress.is_stopped() {
                return;
            }
            match solved {
                Ok(cord) => {
                    let cord = Arc::new(cord);
                    warm = Some(Arc::clone(&cord));
                    self.say(Answer::Cord(print, Arc::clone(&cord), quality));
                    if quality == Quality::Fine {
                        self.rest(print, &cord, progress);
                    }
                }
                Err(error) => return self.say(Answer::Refused(print, error)),
            }
        }
        let Some(cord) = warm else { return };
        if let Ok(points) = pulled(recipe, &cord, PULL.0, PULL.1, progress) {
            self.say(Answer::Pull(print, points));
        }
    }

    /// The cord off the weight; a fault there must not keep its figures back.
    fn rest(&self, print: u64, cord: &Cord, progress: &Progress) {
        let resting = || rested(cord, progress);
        let form = catch_unwind(AssertUnwindSafe(resting)).unwrap_or(Ok(None));
        if let Ok(form) = form {
            self.say(Answer::Rested(print, form));
        }
    }

    fn say(&self, answer: Answer) {
        if self.send.send(answer).is_ok() {
            (self.wake)();
        }
    }
}

/// A solve whose faults, too, come home as a sentence: a panic must not leave
/// the maker waiting for ever.
fn guarded<E: ToString>(solve: impl FnOnce() -> Result<Cord, E>) -> Result<Cord, String> {
    match catch_unwind(AssertUnwindSafe(solve)) {
        Ok(solved) => solved.map_err(|error| error.to_string()),
        Err(_) => Err("the computation broke off, by a fault of the program".to_owned()),
    }
}

impl Board {
    fn take(&mut self) -> Option<Wish> {
        if let Some((recipe, warm)) = self.design.take() {
            return Some(Wish::Design(recipe, warm));
        }
        self.samples.next().map(Wish::Sample)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{fresh, recipe};
    use crate::document::Edit;
    use crate::material::{Part, on_shelf};

    /// Longest wait for a solve on a busy machine.
    const LONG: Duration = Duration::from_secs(90);

    pub(super) fn wait(solver: &mut Solver, done: impl Fn(&Solver) -> bool) {
        let until = Instant::now() + LONG;
        while !done(solver) {
            assert!(Instant::now() < until, "no answer came");
            std::thread::sleep(Duration::from_millis(5));
            solver.collect();
        }
    }

    fn is_settled(solver: &Solver) -> bool {
        !solver.solved().is_busy()
    }

    fn thickness(solver: &Solver) -> f64 {
        let cord = solver.solved().cord().expect("a cord was solved");
        cord.figures.thickness_on_disc.value
    }

    /// A plain cord of leather, half as thick.
    pub(super) fn thin() -> Result<Recipe, String> {
        let fibre = on_shelf("leather lace 1 mm, round").expect("it is on the shelf");
        let part = Part {
            fibre: fibre.name.clone(),
            ends: 1,
            colour: fibre.colour,
        };
        let edit = Edit::MakeUp {
            strands: (0..8).collect(),
            parts: vec![part],
            fibres: vec![fibre.clone()],
        };
        recipe(&edit.apply(&fresh::plain()).expect("leather can be braided"))
    }

    #[test]
    fn the_newest_recipe_wins() {
        let mut solver = Solver::new(|| ());
        solver.ask(recipe(&fresh::plain()));
        wait(&mut solver, is_settled);
        let thick = thickness(&solver);
        solver.ask(recipe(&fresh::plain()));
        assert!(is_settled(&solver), "the same question is not asked twice");
        solver.ask(thin());
        assert!(solver.solved().is_old(), "the last cord is marked");
        let about = solver.known().figures().map(|f| f.thickness_on_disc);
        assert!(solver.known().is_about(), "a first answer until then");
        wait(&mut solver, is_settled);
        assert!(
            !solver.known().is_about(),
            "the solved figures take its place"
        );
        let (now, most) = (thickness(&solver), 0.7 * thick);
        assert!(now < most, "{now} mm of leather, {thick} mm of satin");
        let about = about.expect("the moves are the same");
        assert!(
            about.low < now && now < about.high,
            "{now} mm, {about:?} at first"
        );
    }

    #[test]
    fn a_refused_recipe_keeps_the_last_cord() {
        let mut solver = Solver::new(|| ());
        solver.ask(thin());
        wait(&mut solver, is_settled);
        solver.ask(Err("slot 4 is empty".to_owned()));
        assert_eq!(solver.solved().error(), Some("slot 4 is empty"));
        assert!(solver.solved().cord().is_some(), "the last good cord");
        assert!(solver.shows_old(), "marked as such");
        assert_eq!(
            solver.known(),
            Known::Nothing,
            "it has no figures of its own"
        );
    }
}
