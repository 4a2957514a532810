//! The answer of `place`.

use serde::Serialize;

use crate::bench::{self, Course, Motions, Note, Why};
use crate::cord::strand_name;
use crate::document::{Begun, Found, JournalError, Kept, Told};
use crate::plan::{Progress, progress};
use crate::quantity::Estimate;
use crate::structure::{Braid, Move, MoveList, Numbering, Place};

/// The answer of `place --json`, in this order.
#[derive(Serialize)]
pub(super) struct Answer {
    /// Id of the design.
    pub(super) design: String,
    pub(super) name: String,
    /// The one that was worked last first.
    pub(super) under_way: Vec<Piece>,
    /// How a new cord is laid on, if none is under way.
    pub(super) start: Vec<Lies>,
}

/// A cord under way, or why it cannot be told.
#[derive(Serialize)]
pub(super) struct Piece {
    pub(super) piece: String,
    pub(super) file: String,
    /// Whether a window holds it.
    pub(super) is_held: bool,
    /// Why its file cannot be read; null if it can.
    pub(super) unreadable: Option<String>,
    pub(super) stands: Option<Stands>,
}

/// Where a cord stands.
#[derive(Serialize)]
pub(super) struct Stands {
    /// What it was begun as; the design's file may say otherwise by now.
    pub(super) name: String,
    /// ms since the beginning of 1970, UTC.
    pub(super) began: u64,
    /// The same.
    pub(super) worked_last: u64,
    pub(super) is_finished: bool,
    /// Strands that lie in their slots.
    pub(super) laid: usize,
    pub(super) strands: usize,
    /// Moves in the cord.
    pub(super) done: u64,
    /// Moves until it is long enough.
    pub(super) to_go: Estimate,
    /// Cord so far as it hangs on the disc, mm.
    pub(super) on_disc_mm: Estimate,
    /// Rounds begun, counted from 1.
    pub(super) round: u64,
    pub(super) moves_a_round: u64,
    /// Of that round, counted from 1.
    pub(super) motion: usize,
    pub(super) motions_a_round: usize,
    pub(super) next: Next,
    /// The way back that is being gone.
    pub(super) way_back: Option<WayBack>,
    /// By place.
    pub(super) lies: Vec<Lies>,
    pub(super) notes: Vec<Noted>,
    /// What of the file is not whole, and what is done about it.
    pub(super) not_whole: Option<String>,
}

/// What the hands do next.
#[derive(Serialize)]
pub(super) struct Next {
    /// What: `lay`, `move` or `back`.
    pub(super) does: &'static str,
    /// In order, each over everything.
    pub(super) moves: Vec<Carried>,
    /// The hand on whose side it passes, once the disc is turned; null over the middle.
    pub(super) hand: Option<&'static str>,
    /// Quarters that the disc is turned clockwise first.
    pub(super) turned: u8,
    /// Its place in its pair from 1, and the motions of the pair.
    pub(super) of_pair: (usize, usize),
}

#[derive(Serialize)]
pub(super) struct Carried {
    /// Null for a strand that is laid on.
    pub(super) from: Option<String>,
    pub(super) to: String,
    pub(super) strand: String,
}

#[derive(Serialize)]
pub(super) struct WayBack {
    pub(super) why: String,
    pub(super) made: usize,
    pub(super) steps: usize,
    /// Moves that lie in the cord when it is done.
    pub(super) lands: u64,
}

#[derive(Serialize)]
pub(super) struct Lies {
    pub(super) place: String,
    pub(super) strand: String,
}

#[derive(Serialize)]
pub(super) struct Noted {
    pub(super) at: u64,
    pub(super) done: u64,
    pub(super) note: String,
}

/// The places of a list as the design numbers them.
struct Labels<'a> {
    list: &'a MoveList,
    numbering: Numbering,
}

impl Labels<'_> {
    fn of(&self, place: Place) -> String {
        self.list.label(place, self.numbering)
    }

    /// Which strand lies where, by place.
    fn lies(&self, lying: impl Iterator<Item = (usize, Place)>) -> Vec<Lies> {
        let renumbered = |place| self.numbering.renumbered(place, self.list.slots);
        let mut lying: Vec<_> = lying.collect();
        lying.sort_by_key(|&(_, place)| renumbered(place));
        let lies = lying.into_iter().map(|(strand, place)| Lies {
            place: self.of(place),
            strand: strand_name(strand),
        });
        lies.collect()
    }
}

impl Answer {
    pub(super) fn of(kept: &Kept, found: &[Found]) -> Self {
        let list = kept.design.sections.first().map(|section| &section.moves);
        let start = list.filter(|_| found.is_empty()).map(|list| {
            let numbering = kept.design.braiding.numbering;
            let start = list.start.iter().copied().enumerate();
            Labels { list, numbering }.lies(start)
        });
        Self {
            design: kept.id.clone(),
            name: kept.design.name.clone(),
            under_way: found.iter().map(Piece::of).collect(),
            start: start.unwrap_or_default(),
        }
    }
}

impl Piece {
    fn of(found: &Found) -> Self {
        let stands = found.told.as_ref().map_err(ToString::to_string);
        let stands = stands.and_then(|told| Stands::of(told).map_err(|error| error.to_string()));
        Self {
            piece: found.piece.clone(),
            file: found.path.display().to_string(),
            is_held: found.is_held,
            unreadable: stands.as_ref().err().cloned(),
            stands: stands.ok(),
        }
    }
}

impl Stands {
    fn of(told: &Told) -> Result<Self, JournalError> {
        let Told { begun, course, .. } = told;
        let braid = begun.braid()?;
        let motions = Motions::of(&braid);
        let labels = Labels {
            list: begun.moves(),
            numbering: begun.design.braiding.numbering,
        };
        let round = motions.moves_a_round();
        let Progress { to_go, on_disc, .. } = progress(&begun.outlook, course, round, None);
        let this = course.done / round * round;
        Ok(Self {
            name: begun.design.name.clone(),
            began: begun.began,
            worked_last: told.last,
            is_finished: course.finished,
            laid: course.laid,
            strands: course.strands(),
            done: course.done,
            to_go,
            on_disc_mm: on_disc,
            round: course.done / round + 1,
            moves_a_round: round,
            motion: motions_between(&motions, this, course.done) + 1,
            motions_a_round: motions_between(&motions, 0, round),
            next: next(begun, course, &braid, &labels),
            way_back: course.way.as_ref().map(|(way, made)| WayBack {
                why: match &way.why {
                    Why::Undo => "to take moves back".to_owned(),
                    Why::Mistake(words) => words.clone(),
                },
                made: *made,
                steps: way.steps.len(),
                lands: way.lands,
            }),
            lies: labels.lies(lying(begun, course, &braid).into_iter()),
            notes: course.notes.iter().map(noted).collect(),
            not_whole: told.not_whole(),
        })
    }
}

/// Whole motions from `from` up to `to` moves.
fn motions_between(motions: &Motions, from: u64, to: u64) -> usize {
    let ends = |&done: &u64| {
        let motion = motions.at(done);
        Some(motion.begins + motion.moves()).filter(|&end| end <= to)
    };
    std::iter::successors(Some(from), ends).skip(1).count()
}

/// The strands that lie on the disc, and where.
fn lying(begun: &Begun, course: &Course, braid: &Braid) -> Vec<(usize, Place)> {
    if !course.is_dressed() {
        let laid = begun.design.set_up().concat().into_iter();
        let laid = laid.take(course.laid);
        return laid.map(|i| (i, begun.moves().start[i])).collect();
    }
    let lying = course.lying(braid);
    lying.places().iter().copied().enumerate().collect()
}

fn next(begun: &Begun, course: &Course, braid: &Braid, labels: &Labels<'_>) -> Next {
    let alone = |does, moves| Next {
        does,
        moves,
        hand: None,
        turned: 0,
        of_pair: (1, 1),
    };
    if let Some(moves) = course.next_of_way() {
        return alone("back", carried(course, braid, moves, labels));
    }
    if !course.is_dressed() {
        let order = begun.design.set_up().concat();
        let strand = order.get(course.laid).copied().unwrap_or_default();
        let laid = Carried {
            from: None,
            to: labels.of(begun.moves().start[strand]),
            strand: strand_name(strand),
        };
        return alone("lay", vec![laid]);
    }
    let motions = Motions::of(braid);
    let motion = motions.at(course.done);
    let turned = motions.facing(course.done);
    let made = (course.done - motion.begins) as usize;
    let (place, of) = motion.of_pair;
    Next {
        does: "move",
        moves: carried(course, braid, &motion.carries[made..], labels),
        hand: motion.side(braid.slots(), turned).map(|side| side.word()),
        turned,
        of_pair: (place + 1, of),
    }
}

fn carried(course: &Course, braid: &Braid, moves: &[Move], labels: &Labels<'_>) -> Vec<Carried> {
    let mut lying = course.lying(braid);
    let carried = moves.iter().map(|&one| Carried {
        from: Some(labels.of(one.from)),
        to: labels.of(one.to),
        strand: lying.carry(one).map_or_else(|_| String::new(), strand_name),
    });
    carried.collect()
}

fn noted(noted: &bench::Noted) -> Noted {
    let note = match &noted.note {
        Note::Mark(words) => format!("mark: {words}"),
        Note::Words(words) => words.clone(),
        Note::Photograph(name) => format!("photograph {name}"),
        Note::Measured(mm) => format!("measured {mm} mm on the disc"),
        Note::Joined(strand) => format!("joined strand {}", strand_name(*strand)),
    };
    Noted {
        at: noted.at,
        done: noted.done,
        note,
    }
}
