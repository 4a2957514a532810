//! Looks are counted and listed on a thread of their own, so that the window never
//! waits; dropping the errand stops it.

use std::sync::Arc;
use std::time::{Duration, Instant};

use eframe::egui::Context;
use num_bigint::BigUint;

use crate::app::errand::{Errand, Teller};
use crate::cord::Cord;
use crate::material::Colour;
use crate::pattern::{Alike, Choice, Group, Kind, Looks, Mosaic, Wanted, count_beside};
use crate::structure::{Braid, MoveList};
use crate::surface::Surface;

use super::listed::Listed;

/// How often what was found is told while more is looked for.
const BEAT: Duration = Duration::from_millis(300);
/// What is done between two looks at whether anybody still listens: some milliseconds.
const PIECE: usize = 8_000;

/// Which looks are wanted, and of what.
#[derive(Debug, Clone)]
pub(super) struct Question {
    /// The solved cord, for its surface; none before it is solved.
    pub cord: Option<Arc<Cord>>,
    /// The moves.
    pub moves: MoveList,
    /// Strands that are made alike have the same number.
    pub makes: Vec<usize>,
    /// The colours that the choice is of.
    pub sets: Vec<Vec<Colour>>,
    /// How many of each.
    pub choice: Choice,
    /// What counts as the same.
    pub alike: Alike,
    /// Only looks of these kinds; of all if empty.
    pub kinds: Vec<Kind>,
    /// What strands keep whatever is wished, for it would fit no other.
    pub fixed: Vec<Option<u8>>,
    /// What strands keep, those too.
    pub kept: Vec<Option<u8>>,
    /// Makes which are drawn where there are too many.
    pub seed: u64,
}

impl Question {
    /// Whether the answer to the other is one to this too.
    pub(super) fn is(&self, other: &Self) -> bool {
        let is_same_cord = match (&self.cord, &other.cord) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other) || one.form == other.form,
            (None, None) => true,
            _ => false,
        };
        is_same_cord && self.is_but_for_the_cord(other) && self.moves == other.moves
    }

    /// Whether the same is asked, perhaps of another cord of as many strands.
    pub(super) fn is_but_for_the_cord(&self, other: &Self) -> bool {
        self.makes == other.makes
            && self.sets == other.sets
            && self.choice == other.choice
            && self.alike == other.alike
            && self.kinds == other.kinds
            && self.fixed == other.fixed
            && self.kept == other.kept
            && self.seed == other.seed
    }
}

/// What is told.
#[derive(Debug)]
pub(super) enum News {
    /// What was found so far.
    Listed(Box<Listed>),
    /// Why there is none.
    None(String),
}

/// Sends the search off.
pub(super) fn send(wake: &Context, question: Question) -> Errand<News> {
    Errand::send("looks", wake, move |teller| search(&teller, &question))
}

fn search(teller: &Teller<News>, question: &Question) {
    let (mut looks, count) = match begun(question) {
        Ok(begun) => begun,
        Err(why) => return teller.tell(News::None(why)),
    };
    let mut told_at = Instant::now();
    while !looks.go_on(PIECE) {
        if teller.is_stopped() {
            return;
        }
        if told_at.elapsed() >= BEAT {
            let listed = Listed::of(question, &looks, count.clone());
            teller.tell(News::Listed(Box::new(listed)));
            told_at = Instant::now();
        }
    }
    let listed = Listed::whole(question, looks, count);
    teller.tell(News::Listed(Box::new(listed)));
}

/// The search at its beginning with the number of all looks, or why there is nothing to
/// look for.
fn begun(question: &Question) -> Result<(Looks, BigUint), String> {
    let Ok(braid) = Braid::new(&question.moves) else {
        return Err("There are looks once the moves make a braid.".to_owned());
    };
    let group = Group::of_braid(&braid, question.alike).map_err(|why| format!("{why}."))?;
    let labels: Vec<_> = question.makes.iter().zip(&question.fixed).collect();
    let group = group.keeping(&labels);
    let count = count_beside(&group, &question.choice, &question.fixed);
    let cord = question.cord.as_ref();
    let surface = cord.and_then(|cord| Surface::new(&cord.form));
    let mosaic = surface.map(|surface| Arc::new(Mosaic::of(&surface)));
    let wanted = Wanted {
        choice: question.choice.clone(),
        kept: question.kept.clone(),
        kinds: question.kinds.clone(),
    };
    let looks = Looks::new(group, wanted, mosaic, question.seed);
    let count = count.unwrap_or_else(|| looks.count().clone());
    Ok((looks, count))
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::app::recipe;
    use crate::cord::{Progress, Quality, solve};
    use crate::document::Design;
    use crate::pattern::count;
    use crate::structure::shelf;

    /// The round spiral of so many strands in so many colours.
    pub(in super::super) fn asked(strands: usize, choice: Choice) -> Question {
        let is_it = |one: &&crate::structure::Structure| {
            one.name == "Round spiral" && one.strands() == strands
        };
        let spiral = shelf().iter().find(is_it).expect("on the shelf");
        let cord = (strands <= 8).then(|| {
            let recipe = recipe(&Design::fresh(spiral)).expect("a braid");
            let cord = solve(&recipe, None, Quality::Coarse, &Progress::new());
            Arc::new(cord.expect("a cord"))
        });
        let colour = |place: usize| vec![Colour([place as u8; 3])];
        Question {
            cord,
            moves: spiral.moves.clone(),
            makes: vec![0; strands],
            sets: (0..choice.contents.colours()).map(colour).collect(),
            choice,
            alike: Alike::UpsideDown,
            kinds: Vec::new(),
            fixed: vec![None; strands],
            kept: vec![None; strands],
            seed: 1,
        }
    }

    /// All that is found.
    pub(in super::super) fn found(question: &Question) -> Listed {
        let errand = send(&Context::default(), question.clone());
        loop {
            for news in errand.heard() {
                match news {
                    News::Listed(listed) if listed.is_done => return *listed,
                    News::Listed(_) => {}
                    News::None(why) => panic!("{why}"),
                }
            }
            std::thread::yield_now();
        }
    }

    #[test]
    fn as_many_are_listed_as_are_counted_and_none_twice() {
        let question = asked(8, Choice::counts(&[4, 2, 2]));
        let listed = found(&question);
        let braid = Braid::new(&question.moves).expect("a braid");
        let group = Group::of_braid(&braid, question.alike).expect("small");
        assert_eq!(listed.count, count(&group, &question.choice));
        assert_eq!(listed.count, listed.looks.len().into());
        for (place, look) in listed.looks.iter().enumerate() {
            let again = listed.looks[..place].iter();
            let alike = group.alike(&look.arrangement);
            assert!(
                again
                    .clone()
                    .all(|other| !alike.contains(&other.arrangement))
            );
        }
    }

    #[test]
    fn moves_that_make_no_braid_have_no_looks_and_say_so() {
        let mut question = asked(8, Choice::counts(&[4, 4]));
        question.moves.start.truncate(3);
        let errand = send(&Context::default(), question);
        let mut heard = Vec::new();
        while heard.is_empty() {
            heard = errand.heard();
        }
        assert!(matches!(heard[0], News::None(_)));
    }
}
