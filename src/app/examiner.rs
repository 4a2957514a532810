//! Whether moves hold, worked out beside the window.
//!
//! One named thread. The newest list wins; when none waits, lists of the shelf
//! are looked at one by one. A list of eight strands is judged within a frame or
//! two, one of thirty-two takes as long as a few hundred.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::{Duration, Instant};

use super::post::Post;
use crate::structure::{Braid, BraidError, MoveList, Repair};
use crate::topology::{Verdict, repeat, verdict};

/// How long a list may be looked at before that is said. Tried: sooner, words
/// flicker while strands are dragged.
const PATIENCE: Duration = Duration::from_millis(180);

/// What was found of a list of moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The list.
    pub moves: MoveList,
    /// What is the matter with it, or what it makes.
    pub outcome: Outcome,
}

/// What is the matter with a list, or what it makes.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// It cannot be worked; at least one fault.
    AtFault(Vec<FoundFault>),
    /// It can be worked for ever.
    Braid(Facts),
    /// It could not be judged, by a fault of the program.
    Unknown,
}

/// A fault with the changes that would mend it.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundFault {
    /// The fault.
    pub error: BraidError,
    /// Changes after which the whole list is a braid, the likeliest first.
    pub repairs: Vec<Repair>,
}

/// What is known of a braid without any material.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Facts {
    /// Whether it holds, and why not.
    pub verdict: Verdict,
    /// Rounds until every strand is back in its place.
    pub repeat: usize,
    /// Moves in a round.
    pub moves: usize,
    /// Things to remember to work it.
    pub to_remember: usize,
}

impl Finding {
    /// Looks at a list from every side.
    pub fn of(moves: MoveList) -> Self {
        let judge = || match Braid::new(&moves) {
            Ok(braid) => Outcome::Braid(Facts::of(&braid)),
            Err(first) => Outcome::AtFault(faults(&moves, first)),
        };
        // A panic here must not leave the maker waiting for ever.
        let outcome = catch_unwind(AssertUnwindSafe(judge)).unwrap_or(Outcome::Unknown);
        Self { moves, outcome }
    }

    /// The faults; none for a braid.
    pub fn faults(&self) -> &[FoundFault] {
        match &self.outcome {
            Outcome::AtFault(faults) => faults,
            Outcome::Braid(_) | Outcome::Unknown => &[],
        }
    }

    /// What is known of it, if it is a braid.
    pub fn facts(&self) -> Option<&Facts> {
        match &self.outcome {
            Outcome::Braid(facts) => Some(facts),
            Outcome::AtFault(_) | Outcome::Unknown => None,
        }
    }
}

impl Facts {
    fn of(braid: &Braid) -> Self {
        Self {
            verdict: verdict(braid),
            repeat: repeat(braid.becomes()),
            moves: braid.lifts().len(),
            to_remember: braid.to_remember(),
        }
    }
}

/// All faults of a list of which the first is known.
fn faults(moves: &MoveList, first: BraidError) -> Vec<FoundFault> {
    let mut errors = moves.faults();
    if errors.is_empty() {
        errors.push(first);
    }
    let found = |error: BraidError| FoundFault {
        repairs: error.repairs(moves),
        error,
    };
    errors.into_iter().map(found).collect()
}

/// What both sides look at.
#[derive(Debug, Default)]
struct Board {
    list: Option<MoveList>,
    shelf: VecDeque<(String, MoveList)>,
    closed: bool,
}

#[derive(Debug)]
enum Answer {
    List(Finding),
    Shelf(String, Finding),
}

/// Judges lists on a thread of its own; dropping it stops the thread.
#[derive(Debug)]
pub struct Examiner {
    post: Arc<Post<Board>>,
    answers: Receiver<Answer>,
    asked: Option<MoveList>,
    asked_at: Instant,
    found: Option<Finding>,
    shelf: BTreeMap<String, Finding>,
    shelf_asked: BTreeSet<String>,
}

impl Examiner {
    /// An examiner that calls `wake` whenever an answer has come.
    pub fn new(wake: impl Fn() + Send + 'static) -> Self {
        let post = Arc::new(Post::default());
        let (send, answers) = channel();
        let theirs = Arc::clone(&post);
        let thread = std::thread::Builder::new().name("examiner".to_owned());
        if let Err(error) = thread.spawn(move || work(&theirs, &send, &wake)) {
            log::error!("no thread for the examiner: {error}");
        }
        Self {
            post,
            answers,
            asked: None,
            asked_at: Instant::now(),
            found: None,
            shelf: BTreeMap::new(),
            shelf_asked: BTreeSet::new(),
        }
    }

    /// Asks about a list, unless it is the one asked about already.
    pub fn ask(&mut self, moves: &MoveList) {
        if self.asked.as_ref() == Some(moves) {
            return;
        }
        self.asked = Some(moves.clone());
        self.asked_at = Instant::now();
        self.post.board().list = Some(moves.clone());
        self.post.ring();
    }

    /// Asks about a list of the shelf, to be looked at when nothing else waits.
    pub fn ask_of_shelf(&mut self, key: &str, moves: &MoveList) {
        if self.shelf_asked.insert(key.to_owned()) {
            let wish = (key.to_owned(), moves.clone());
            self.post.board().shelf.push_back(wish);
            self.post.ring();
        }
    }

    /// What was found of the list asked about; none until it is.
    pub fn found(&self) -> Option<&Finding> {
        let asked = self.asked.as_ref()?;
        self.found.as_ref().filter(|found| found.moves == *asked)
    }

    /// What was found last, perhaps of an earlier list.
    pub fn last(&self) -> Option<&Finding> {
        self.found.as_ref()
    }

    /// What was found of a list of the shelf.
    pub fn found_of_shelf(&self, key: &str) -> Option<&Finding> {
        self.shelf.get(key)
    }

    /// How long until a list being looked at is late, while it is not.
    pub fn patience_left(&self) -> Option<Duration> {
        let waits = self.asked.is_some() && self.found().is_none();
        let left = PATIENCE.checked_sub(self.asked_at.elapsed())?;
        waits.then_some(left)
    }

    /// Takes finished answers home; `true` if anything changed.
    pub fn collect(&mut self) -> bool {
        let mut changed = false;
        while let Ok(answer) = self.answers.try_recv() {
            changed = true;
            match answer {
                Answer::List(finding) => self.found = Some(finding),
                Answer::Shelf(key, finding) => {
                    self.shelf.insert(key, finding);
                }
            }
        }
        changed
    }
}

impl Drop for Examiner {
    fn drop(&mut self) {
        self.post.board().closed = true;
        self.post.ring();
    }
}

/// The thread's side: one list after the other until the window is gone.
fn work(post: &Post<Board>, send: &Sender<Answer>, wake: &dyn Fn()) {
    while let Some((key, moves)) = next(post) {
        let finding = Finding::of(moves);
        let answer = match key {
            Some(key) => Answer::Shelf(key, finding),
            None => Answer::List(finding),
        };
        if send.send(answer).is_ok() {
            wake();
        }
    }
}

/// Waits for the next list, with its key if it is one of the shelf.
fn next(post: &Post<Board>) -> Option<(Option<String>, MoveList)> {
    let mut board = post.board();
    loop {
        if board.closed {
            return None;
        }
        if let Some(moves) = board.list.take() {
            return Some((None, moves));
        }
        if let Some((key, moves)) = board.shelf.pop_front() {
            return Some((Some(key), moves));
        }
        board = post.wait(board);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::shelf;

    fn list(text: &str) -> MoveList {
        text.parse().expect("a list")
    }

    fn wait(examiner: &mut Examiner, done: impl Fn(&Examiner) -> bool) {
        let until = Instant::now() + Duration::from_secs(60);
        while !done(examiner) {
            assert!(Instant::now() < until, "no answer came");
            std::thread::sleep(Duration::from_millis(2));
            examiner.collect();
        }
    }

    #[test]
    fn the_newest_list_is_judged_whatever_was_asked_before() {
        let mut examiner = Examiner::new(|| ());
        for structure in shelf() {
            examiner.ask_of_shelf(&structure.name, &structure.moves);
        }
        let braid = &shelf()[0].moves;
        examiner.ask(&list("slots 32\nstart 1 9 17\n1 > 2"));
        examiner.ask(braid);
        wait(&mut examiner, |it| it.found().is_some());
        let found = examiner.found().expect("it was waited for");
        assert_eq!(found.moves, *braid);
        assert!(found.facts().expect("a braid").verdict.locks());
    }

    #[test]
    fn a_list_at_fault_comes_with_its_repairs_and_they_mend_it() {
        let off = "slots 32\nturn 2\nstart 32 1 8 9 16 17 24 25\n17 > 31\n1 > 15\n25 > 7\n9 > 23";
        let finding = Finding::of(list(off));
        let fault = &finding.faults()[0];
        assert_eq!(fault.error.fault.kind(), "does not return");
        let mended = Finding::of(fault.repairs[0].list.clone());
        assert!(mended.facts().is_some(), "{mended:?}");
    }

    #[test]
    fn the_last_finding_stands_until_the_next_list_is_judged() {
        let mut examiner = Examiner::new(|| ());
        examiner.ask(&shelf()[0].moves);
        wait(&mut examiner, |it| it.found().is_some());
        examiner.ask(&shelf()[1].moves);
        assert!(examiner.found().is_none(), "not of this list");
        assert!(examiner.last().is_some());
        wait(&mut examiner, |it| it.found().is_some());
        assert_eq!(
            examiner.found().map(|it| &it.moves),
            Some(&shelf()[1].moves)
        );
    }
}
