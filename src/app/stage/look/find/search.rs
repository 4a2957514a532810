//! The search itself, on a thread of its own.
//!
//! Every rule of the family is judged; what locks is compared with the whole
//! shelf, the ready one and the maker's own, in the mirror, upside down and begun
//! anywhere. A cord that was not there before is told as a list on a disc.

use std::time::{Duration, Instant};

use eframe::egui::Context;

use crate::app::errand::{Errand, Teller};
use crate::document::MOST_SLOTS;
use crate::structure::{Braid, MoveList, Structure, shelf};
use crate::topology::{Comparison, Family, Pattern, Round, Search, Tried, artin, writhe};

/// How often counts are told while nothing is found.
const BEAT: Duration = Duration::from_millis(120);

/// Rules so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Counts {
    /// Looked at.
    pub tried: usize,
    /// That lock.
    pub sound: usize,
    /// Cords that are really different.
    pub different: usize,
    /// Of these, on no shelf.
    pub new: usize,
}

/// A cord that was found.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cord {
    /// As a list on a disc.
    pub moves: MoveList,
    /// The structure of the shelf that it is, and how; none if it is new.
    pub known: Option<String>,
    /// Things to remember.
    pub to_remember: usize,
    /// Crossings of one hand less those of the other in a round.
    pub writhe: i32,
}

/// What is told.
#[derive(Debug)]
pub(super) enum News {
    /// How far it is.
    Counts(Counts),
    /// One more cord.
    Cord(Box<Cord>),
    /// No rule is left.
    End,
}

/// Sends the search off; `slots` is the disc that lists are told on, or a larger
/// one where that has no room.
pub(super) fn send(wake: &Context, family: Family, slots: u16, own: &[Structure]) -> Errand<News> {
    let alike = |one: &&Structure| one.strands() == family.strands;
    let known: Vec<Structure> = shelf().iter().chain(own).filter(alike).cloned().collect();
    Errand::send("search", wake, move |teller| {
        search(&teller, family, slots, &known);
    })
}

fn search(teller: &Teller<News>, family: Family, slots: u16, known: &[Structure]) {
    let sound: Vec<(&Structure, Round)> = known
        .iter()
        .filter_map(|one| Some((one, Round::of(&Braid::new(&one.moves).ok()?))))
        .collect();
    let rounds: Vec<Round> = sound.iter().map(|(_, round)| round.clone()).collect();
    let mut met = vec![false; sound.len()];
    let mut counts = Counts::default();
    let mut told_at = Instant::now();
    for tried in Search::new(family, rounds) {
        if teller.is_stopped() {
            return;
        }
        counts.tried += 1;
        counts.sound += usize::from(tried.verdict.locks());
        if let Some(known) = first_time(&tried, &mut met) {
            counts.different += 1;
            counts.new += usize::from(known.is_none());
            let known = known.map(|(at, how)| (sound[at].0, how));
            if let Some(cord) = cord(&tried.pattern, slots, known) {
                teller.tell(News::Cord(Box::new(cord)));
            }
            told_at = Instant::now() - BEAT;
        }
        if told_at.elapsed() >= BEAT {
            teller.tell(News::Counts(counts));
            told_at = Instant::now();
        }
    }
    teller.tell(News::Counts(counts));
    teller.tell(News::End);
}

/// What a cord is that was not met before: one of the shelf, or none of them.
fn first_time<'a>(tried: &'a Tried, met: &mut [bool]) -> Option<Option<(usize, &'a Comparison)>> {
    match &tried.known {
        _ if tried.is_new() => Some(None),
        Some((at, how)) if met.get(*at) == Some(&false) => {
            met[*at] = true;
            Some(Some((*at, how)))
        }
        _ => None,
    }
}

fn named(name: &str, how: &Comparison) -> String {
    match how {
        Comparison::Mirror(_) => format!("{name}, mirrored"),
        Comparison::UpsideDown(_) => format!("{name}, upside down"),
        Comparison::MirrorUpsideDown(_) => format!("{name}, mirrored and upside down"),
        Comparison::Same | Comparison::Shifted(_) | Comparison::Different => name.to_owned(),
    }
}

/// What was found, told as the shelf tells it where it can be, or as a list on a
/// disc of so many slots or the next that has room.
fn cord(rule: &Pattern, slots: u16, known: Option<(&Structure, &Comparison)>) -> Option<Cord> {
    let discs = [slots, 32, 48, 64, 96, MOST_SLOTS];
    let mut discs = discs.into_iter().filter(|&other| other >= slots);
    let moves = known
        .and_then(|(one, how)| as_on_shelf(one, how))
        .or_else(|| discs.find_map(|slots| rule.told(slots)))?;
    let braid = Braid::new(&moves).ok()?;
    Some(Cord {
        known: known.map(|(one, how)| named(&one.name, how)),
        to_remember: braid.to_remember(),
        writhe: writhe(&artin(&braid)),
        moves,
    })
}

/// The list of the shelf that makes it, if there is one without more ado.
fn as_on_shelf(one: &Structure, how: &Comparison) -> Option<MoveList> {
    match how {
        Comparison::Same | Comparison::Shifted(_) => Some(one.moves.clone()),
        Comparison::Mirror(_) => Some(one.moves.mirrored()),
        Comparison::UpsideDown(_) | Comparison::MirrorUpsideDown(_) | Comparison::Different => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(family: Family) -> (Counts, Vec<Cord>) {
        let errand = send(&Context::default(), family, 32, &[]);
        let (mut counts, mut cords) = (Counts::default(), Vec::new());
        loop {
            for news in errand.heard() {
                match news {
                    News::Counts(now) => counts = now,
                    News::Cord(cord) => cords.push(*cord),
                    News::End => return (counts, cords),
                }
            }
            std::thread::yield_now();
        }
    }

    #[test]
    fn among_short_rules_of_eight_the_spiral_is_known_and_others_are_new() {
        let (counts, cords) = all(Family {
            strands: 8,
            fold: 2,
            carries: 1,
        });
        assert_eq!((counts.tried, counts.sound), (24, 4));
        assert_eq!((counts.different, counts.new), (2, 0), "spiral and star");
        let names: Vec<&str> = cords.iter().filter_map(|c| c.known.as_deref()).collect();
        let spiral = shelf()
            .iter()
            .find(|one| one.name == "Round spiral" && one.strands() == 8);
        let spiral = &spiral.expect("on the shelf").moves;
        let as_there = |cord: &Cord| cord.moves == *spiral || cord.moves == spiral.mirrored();
        assert!(cords.iter().any(as_there), "told as on the shelf");
        assert!(
            names.iter().any(|name| name.starts_with("Round spiral")),
            "{names:?}"
        );
        let (counts, cords) = all(Family {
            strands: 9,
            fold: 3,
            carries: 1,
        });
        assert!(counts.new > 0 && cords.iter().any(|cord| cord.known.is_none()));
        assert_eq!(counts.different, cords.len());
    }
}
