//! From stories to explanations: those with the same disc and cord are one.

use std::collections::HashMap;

use super::counted::Counted;
use super::disc::{Carry, Rim};
use super::going_on::going_on;
use super::search::{Search, Story};
use super::sight::Sight;
use super::way_back::{Made, Right, way_back};
use super::{Diagnosis, Explanation, Known, Mistake, Slip};
use crate::bench::{Lying, Seen};
use crate::structure::{Move, Numbering, Place};

/// So many stories are looked at closely, the likeliest first.
const MOST_STORIES: usize = 400;
/// So many explanations are given.
const MOST_GIVEN: usize = 24;

/// What is rarer than that, beside all, is not told one by one.
const RARE: f64 = 1e-3;

/// Cuts off what is beyond so many, and the rarest that together are no more than a
/// share of all; how likely that is.
fn cut<T>(all: &mut Vec<T>, most: usize, share: f64, weight: impl Fn(&T) -> f64) -> f64 {
    let allowed = share * all.iter().map(&weight).sum::<f64>();
    let mut gone = 0.0;
    while let Some(last) = all.last() {
        let rarest = weight(last);
        let is_rare = all.len() > 1 && gone + rarest <= allowed;
        if all.len() <= most && !is_rare {
            break;
        }
        gone += rarest;
        all.pop();
    }
    gone
}

/// What may have happened, from what is seen.
pub fn explain(known: &Known<'_>, seen: &Seen) -> Diagnosis {
    let counted = Counted::new(known);
    let sight = Sight::new(counted.rim, seen, known.looks);
    let search = Search {
        counted: &counted,
        sight: &sight,
    };
    let mut stories = search.places();
    stories.extend(search.one());
    let mut other = search.otherwise();
    if stories.iter().any(|story| story.fits) {
        other += search.two_unsearched();
    } else {
        stories.extend(search.two());
    }
    stories.sort_by(|one, two| two.weight.total_cmp(&one.weight));
    other += cut(&mut stories, MOST_STORIES, 0.1 * RARE, |story| story.weight);
    let told = Telling {
        known,
        counted: &counted,
        right: Right::of(&counted),
    };
    let mut groups = told.grouped(&stories);
    other += cut(&mut groups, MOST_GIVEN, RARE, |group| group.weight);
    let mut diagnosis = Diagnosis {
        explanations: groups.iter().map(|group| told.explanation(group)).collect(),
        other,
        question: None,
        looks: known.looks.to_vec(),
        unseen: unseen(counted.rim, seen),
    };
    diagnosis.settle();
    diagnosis.sharpen();
    diagnosis
}

fn unseen(rim: Rim, seen: &Seen) -> Vec<Place> {
    let slots = (0..rim.halves).step_by(2).map(|spot| rim.place(spot));
    slots
        .filter(|place| !seen.spots.contains_key(place))
        .collect()
}

/// Stories with the same disc and the same cord.
#[derive(Debug)]
struct Group<'a> {
    best: &'a Story,
    /// The moment after which these were carried.
    from: usize,
    carries: Vec<Carry>,
    weight: f64,
    /// The moment that lies there, if it is one.
    right: Option<usize>,
}

/// What stories are told with.
struct Telling<'a> {
    known: &'a Known<'a>,
    counted: &'a Counted,
    right: Right,
}

impl Telling<'_> {
    fn grouped<'s>(&self, stories: &'s [Story]) -> Vec<Group<'s>> {
        let mut groups: Vec<Group<'s>> = Vec::new();
        let mut index: HashMap<u64, usize> = HashMap::new();
        for story in stories {
            let carries = story.made(self.counted);
            let print = self.right.print_after(self.counted, story.from, &carries);
            if let Some(&same) = index.get(&print) {
                groups[same].add(story);
                continue;
            }
            index.insert(print, groups.len());
            groups.push(Group {
                best: story,
                from: story.from,
                carries,
                weight: story.weight,
                right: self.right.moment(print, self.counted.now),
            });
        }
        groups.sort_by(|one, two| two.weight.total_cmp(&one.weight));
        groups
    }

    fn explanation(&self, group: &Group<'_>) -> Explanation {
        let counted = self.counted;
        let made = Made::after(counted, &self.right, group.from, group.carries.clone());
        let mistakes = group.best.slips.iter().filter(|_| group.right.is_none());
        let mistake = |&(at, kind): &(usize, Slip)| Mistake {
            kind,
            at: kind.begins(counted.done(at)),
        };
        let mut explanation = Explanation {
            mistakes: mistakes.map(mistake).collect(),
            done: counted.done(group.right.unwrap_or(group.best.end)),
            counted: self.known.done,
            probability: group.weight,
            lying: self.lying(group),
            way: way_back(counted, &self.right, &made, self.known.roles, ""),
            going_on: None,
        };
        let list = self.known.braid.moves();
        let why = explanation.sentence(list, Numbering::Clockwise);
        explanation.way.why = crate::bench::Why::Mistake(why);
        if !explanation.way.steps.is_empty() {
            explanation.going_on = going_on(self.known, counted, &group.best.disc);
        }
        explanation
    }

    fn lying(&self, group: &Group<'_>) -> Lying {
        let (known, rim) = (self.known, self.counted.rim);
        let from = self.counted.done(group.from);
        let mut lying = Lying::after(known.braid, known.roles, from);
        for one in &group.carries {
            let carried = Move {
                from: rim.place(one.from),
                to: rim.place(one.to),
            };
            // Each could be made when the story was told.
            if lying.carry(carried).is_err() {
                break;
            }
        }
        lying
    }
}

impl<'a> Group<'a> {
    fn add(&mut self, story: &'a Story) {
        self.weight += story.weight;
        if story.slips.len() < self.best.slips.len() {
            self.best = story;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Motions, Spot};
    use crate::structure::{Braid, shelf};

    /// All that is seen of strands as they lie.
    fn seen(lying: &Lying, slots: u16, looks: &[usize]) -> Seen {
        let spot = |slot: u16| match lying.strand_in(Place::slot(slot)) {
            Some(strand) => Spot::Look(looks[strand]),
            None => Spot::Empty,
        };
        Seen {
            spots: (1..=slots)
                .map(|slot| (Place::slot(slot), spot(slot)))
                .collect(),
            ..Seen::default()
        }
    }

    struct Work {
        braid: Braid,
        roles: Vec<usize>,
        looks: Vec<usize>,
    }

    impl Work {
        fn new(list: &crate::structure::MoveList, looks: usize) -> Self {
            let braid = Braid::new(list).unwrap();
            let roles: Vec<usize> = (0..braid.strands()).collect();
            Self {
                looks: roles.iter().map(|strand| strand % looks).collect(),
                roles,
                braid,
            }
        }

        fn known(&self, done: u64) -> Known<'_> {
            Known {
                braid: &self.braid,
                roles: &self.roles,
                done,
                looks: &self.looks,
                within: 16,
            }
        }

        fn explain(&self, done: u64, lying: &Lying) -> Diagnosis {
            let seen = seen(lying, self.braid.slots(), &self.looks);
            explain(&self.known(done), &seen)
        }
    }

    #[test]
    fn what_is_as_it_should_be_is_said_to_be() {
        for structure in shelf() {
            let work = Work::new(&structure.moves, usize::MAX);
            let done = Motions::of(&work.braid).at(37).begins;
            let diagnosis = work.explain(done, &Lying::after(&work.braid, &work.roles, done));
            let right = diagnosis.explanations.iter().find(|one| one.done == done);
            let right = right.unwrap_or_else(|| panic!("{}", structure.name));
            assert!(right.mistakes.is_empty() && right.way.steps.is_empty());
            let sentence = right.sentence(&structure.moves, Numbering::Clockwise);
            assert_eq!(sentence, "All is as it should be.");
        }
    }

    #[test]
    fn a_last_motion_left_out_is_the_place_before_it() {
        for structure in shelf() {
            let work = Work::new(&structure.moves, usize::MAX);
            let motion = Motions::of(&work.braid).at(30);
            let lying = Lying::after(&work.braid, &work.roles, motion.begins);
            let diagnosis = work.explain(motion.begins + motion.moves(), &lying);
            let found = diagnosis.explanations.iter().take(2);
            let mut found = found.filter(|one| one.mistakes.is_empty());
            let right = found.any(|one| one.done == motion.begins && one.way.steps.is_empty());
            assert!(right, "{}", structure.name);
        }
    }

    #[test]
    fn every_way_back_is_right_and_probabilities_add_up_to_one() {
        let mut state = 3;
        let mut draw = |below: usize| super::super::cord::drawn(&mut state) as usize % below;
        for structure in shelf() {
            for looks in [1, 2, usize::MAX] {
                let work = Work::new(&structure.moves, looks);
                let done = 20 + draw(30) as u64;
                let mut lying = Lying::after(&work.braid, &work.roles, done);
                // Strands anywhere.
                for _ in 0..draw(3) {
                    let strand = draw(work.roles.len());
                    let from = lying.places()[strand];
                    let to = Place::slot(1 + draw(usize::from(work.braid.slots())) as u16);
                    let _ = lying.carry(Move { from, to });
                }
                let diagnosis = work.explain(done, &lying);
                let each = diagnosis.explanations.iter();
                let all: f64 = each.map(|one| one.probability).sum::<f64>() + diagnosis.other;
                assert!((all - 1.0).abs() < 1e-9);
                for one in &diagnosis.explanations {
                    assert!(one.way.is_right(&work.braid), "{} {one:?}", structure.name);
                    assert_eq!(one.way.from, one.lying.places());
                    if let Some(on) = &one.going_on {
                        let there = Lying::after(&work.braid, &on.roles, on.done);
                        assert_eq!(there.places(), one.lying.places());
                    }
                }
            }
        }
    }

    #[test]
    fn a_move_left_out_is_named_with_its_slots() {
        let is_it = |s: &&crate::structure::Structure| s.name == "Round spiral" && s.strands() == 8;
        let structure = shelf().iter().find(is_it).unwrap();
        let work = Work::new(&structure.moves, usize::MAX);
        let mut lying = Lying::after(&work.braid, &work.roles, 27);
        for at in [28, 29] {
            for one in Motions::of(&work.braid).at(at).carries {
                lying.carry(one).unwrap();
            }
        }
        let diagnosis = work.explain(30, &lying);
        let first = &diagnosis.explanations[0];
        assert_eq!(first.mistakes.len(), 1);
        assert_eq!(first.mistakes[0].kind, Slip::Skipped(1));
        let sentence = first.sentence(&structure.moves, Numbering::Clockwise);
        assert!(sentence.starts_with("Move 28, from "), "{sentence}");
        assert!(sentence.ends_with(" was left out."), "{sentence}");
        assert!(first.probability > 0.9, "{}", first.probability);
    }
}
