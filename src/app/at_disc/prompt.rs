//! What a maker is told to do next, in words.

use super::AtWork;
use super::{Carried, Doing, Habits, Place, around};
use crate::app::words;
use crate::bench::Side;
use crate::document::{Design, strand_name};
use crate::structure::{self, MoveList, Numbering, Plate, Way};

/// The next thing to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prompt {
    /// Above the figures: "Next, right hand".
    pub head: String,
    /// The places, as large as can be: "1" and "15"; empty while there is no move.
    pub from: String,
    /// Where to.
    pub to: String,
    /// Whether what lies in the two places changes.
    pub both_ways: bool,
    /// What to do, a sentence for each thing carried.
    pub sentence: String,
    /// What comes after.
    pub then: String,
    /// All in one, to be read out: "right hand, from 1 to 15, strand B, ink".
    pub spoken: String,
}

/// Names of places and strands in a design.
#[derive(Debug, Clone, Copy)]
pub struct Names<'a> {
    /// The design.
    pub design: &'a Design,
    /// Its moves.
    pub list: &'a MoveList,
}

impl<'a> Names<'a> {
    /// Those of a cord at the disc.
    pub fn of(work: &'a AtWork) -> Self {
        Self {
            design: work.design(),
            list: work.list(),
        }
    }

    fn numbering(&self) -> Numbering {
        self.design.braiding.numbering
    }

    /// `15`, `N3`.
    pub fn label(&self, place: structure::Place) -> String {
        self.list.label(place, self.numbering())
    }

    /// `slot 15`, `place N3`, `the hand`.
    pub fn phrase(&self, place: structure::Place) -> String {
        let list = self.list;
        self.numbering().phrase_on(list.plate, place, list.slots)
    }

    /// Its colours: `ink`, `white and sea green`.
    pub fn colours(&self, strand: usize) -> String {
        let Some(strand) = self.design.strands.get(strand) else {
            return String::new();
        };
        let mut names: Vec<&str> = Vec::new();
        for part in &strand.parts {
            let name = part.colour.name();
            if !names.contains(&name) {
                names.push(name);
            }
        }
        words::list(&names)
    }

    /// `B, ink`.
    pub fn strand(&self, strand: usize) -> String {
        let (letter, colours) = (strand_name(strand), self.colours(strand));
        match colours.as_str() {
            "" => letter,
            colours => format!("{letter}, {colours}"),
        }
    }

    /// What comes to the top when the disc is turned clockwise by so many quarters.
    fn top(&self, quarters: u8) -> String {
        let slots = self.list.slots;
        let back = -i32::from(quarters) * i32::from(slots) / 2;
        if self.list.plate == Plate::Square {
            let sides = ["N", "W", "S", "E"];
            return format!("side {} comes", sides[usize::from(quarters) % 4]);
        }
        let [left, right] = [slots, 1].map(|slot| {
            let place = structure::Place::slot(slot).turned(back, slots);
            self.label(place)
        });
        format!("{left} and {right} come")
    }
}

impl Prompt {
    /// What is to be done at a place.
    pub fn of(work: &AtWork, place: &Place, habits: &Habits) -> Self {
        let names = Names::of(work);
        match &place.doing {
            Doing::Laying(strands) => laying(names, work, strands),
            Doing::Moving(carried) => {
                let then = then(names, place, habits);
                moving("Next", names, carried, habits, then)
            }
            Doing::Returning(carried) => {
                let (made, all) = steps_of_way(work);
                let then = match all - made {
                    1 => "Then the way back is done.".to_owned(),
                    left => format!("{} steps of the way back are left.", words::count(left)),
                };
                let then = super::super::act::sentence(&then);
                let verb = if is_made_again(work) {
                    "Make again"
                } else {
                    "Take back"
                };
                moving(verb, names, carried, habits, then)
            }
            Doing::Off => Self {
                head: "Off the disc".to_owned(),
                from: String::new(),
                to: String::new(),
                both_ways: false,
                sentence: "This cord is finished.".to_owned(),
                then: String::new(),
                spoken: "finished".to_owned(),
            },
        }
    }
}

/// Steps made of the way back, and of how many.
pub fn steps_of_way(work: &AtWork) -> (usize, usize) {
    let way = work.course().way.as_ref();
    way.map_or((0, 0), |(way, made)| (*made, way.steps.len()))
}

/// Whether the next step of the way back makes a move again rather than taking one back.
fn is_made_again(work: &AtWork) -> bool {
    let (made, all) = steps_of_way(work);
    let way = work.course().way.as_ref();
    way.is_some_and(|(way, _)| all - made.min(all) <= way.made_again(work.braid()))
}

fn laying(names: Names<'_>, work: &AtWork, strands: &[usize]) -> Prompt {
    let place = |strand: &usize| work.list().start.get(*strand).copied();
    let labels: Vec<String> = strands
        .iter()
        .filter_map(place)
        .map(|place| names.label(place))
        .collect();
    let phrases: Vec<String> = strands
        .iter()
        .filter_map(place)
        .map(|place| names.phrase(place))
        .collect();
    let letters: Vec<String> = strands.iter().map(|&strand| strand_name(strand)).collect();
    let colours = strands
        .first()
        .map_or(String::new(), |&one| names.colours(one));
    let (sentence, spoken) = match (&letters[..], &phrases[..]) {
        ([a, b], [first, second]) => (
            format!(
                "Fold one length of {colours} at its middle over the hole: one half, {a}, into \
                 {first}, the other, {b}, into {second}."
            ),
            format!("fold {colours}, {a} into {first}, {b} into {second}"),
        ),
        ([a, ..], [first, ..]) => (
            format!("Lay strand {a}, {colours}, into {first}."),
            format!("lay strand {a}, {colours}, into {first}"),
        ),
        _ => (String::new(), String::new()),
    };
    Prompt {
        head: "Dress the disc".to_owned(),
        from: letters.join(" "),
        to: labels.join(" "),
        both_ways: false,
        sentence,
        then: String::new(),
        spoken,
    }
}

fn moving(
    head: &str,
    names: Names<'_>,
    carried: &[Carried],
    habits: &Habits,
    then: String,
) -> Prompt {
    let Some(first) = carried.first() else {
        return Prompt {
            head: head.to_owned(),
            from: String::new(),
            to: String::new(),
            both_ways: false,
            sentence: String::new(),
            then,
            spoken: String::new(),
        };
    };
    let hands: Vec<String> = carried.iter().map(|it| hand(it, habits)).collect();
    let mut distinct = hands.clone();
    distinct.dedup();
    let sentences: Vec<String> = carried.iter().map(|it| names.sentence(it)).collect();
    let spoken = |(it, hand): (&Carried, &String)| {
        let Some(one) = it.moves.first() else {
            return String::new();
        };
        let (from, to) = (names.label(one.from), names.label(one.to));
        let strand = it
            .strands
            .first()
            .map_or(String::new(), |&s| names.strand(s));
        match it.exchange {
            Some(way) => format!("{hand}, {from} and {to} change places, {}", way.word()),
            None => format!("{hand}, from {from} to {to}, strand {strand}"),
        }
    };
    let spoken: Vec<String> = carried.iter().zip(&hands).map(spoken).collect();
    let places = first.moves.first().copied();
    Prompt {
        head: format!("{head}, {}", distinct.join(", then ")),
        from: places.map_or(String::new(), |it| names.label(it.from)),
        to: places.map_or(String::new(), |it| names.label(it.to)),
        both_ways: first.exchange.is_some(),
        sentence: sentences.join(" "),
        then,
        spoken: spoken.join("; "),
    }
}

/// Which hand does it.
fn hand(carried: &Carried, habits: &Habits) -> String {
    match carried.exchange {
        Some(_) => "both hands".to_owned(),
        None => format!("{} hand", habits.hand(carried.side).word()),
    }
}

impl Names<'_> {
    /// What to do with what is carried at once.
    fn sentence(&self, carried: &Carried) -> String {
        let strands: Vec<String> = carried.strands.iter().map(|&s| self.strand(s)).collect();
        let Some(one) = carried.moves.first() else {
            return String::new();
        };
        let (from, to) = (self.phrase(one.from), self.phrase(one.to));
        if let (Some(way), [a, b]) = (carried.exchange, &strands[..]) {
            return change_of_places([a, b], [&from, &to], way);
        }
        let strand = strands.first().map_or("what lies there", String::as_str);
        let is_held = |place| matches!(place, structure::Place::Hand);
        let rests = |place| matches!(place, structure::Place::Rim(half) if half % 2 == 0);
        match (one.from, one.to) {
            (_, to) if is_held(to) => {
                format!("Lift strand {strand}, out of {from} and keep it in the hand.")
            }
            (place, _) if is_held(place) => {
                format!("Lay strand {strand}, from the hand down into {to}.")
            }
            (_, place) if !rests(place) => {
                format!("Lift strand {strand}, out of {from}, over everything, into {to}.")
            }
            (place, _) if !rests(place) => {
                format!("Carry strand {strand}, from {from} down into {to}.")
            }
            _ => format!("Lift strand {strand}, out of {from}, over everything, down into {to}."),
        }
    }
}

fn change_of_places([a, b]: [&str; 2], [from, to]: [&str; 2], way: Way) -> String {
    format!(
        "Take strand {a}, out of {from} and strand {b}, out of {to}, one in each hand. Turn them \
         {} round one another, half a turn, and lay each where the other lay.",
        way.word()
    )
}

/// What comes after: the disc is turned, or the next move of the same lie.
fn then(names: Names<'_>, place: &Place, habits: &Habits) -> String {
    let turn = (place.quarters_after + 4 - place.quarters) % 4;
    let way = match turn {
        1 => "Then turn the disc a quarter clockwise",
        2 => "Then turn the disc half round",
        3 => "Then turn the disc a quarter anticlockwise",
        _ => return next_words(names, place, habits),
    };
    format!(
        "{way}, so that {} to the top.",
        names.top(place.quarters_after)
    )
}

fn next_words(names: Names<'_>, place: &Place, habits: &Habits) -> String {
    let Some(next) = &place.following else {
        return String::new();
    };
    let Some(one) = next.moves.first() else {
        return String::new();
    };
    let arrow = if next.exchange.is_some() {
        "↔"
    } else {
        "→"
    };
    let arrow = if arrow == "↔" { "and" } else { arrow };
    let (from, to) = (names.label(one.from), names.label(one.to));
    format!("Then {from} {arrow} {to}, {}.", hand(next, habits))
}

/// How a half-done pair looks, so that it can be read off the disc: "Three above, one
/// below"; nothing where the sides are alike.
pub fn lopsided(work: &AtWork, place: &Place) -> String {
    let counts = around(work.braid(), work.lying().places(), place.quarters);
    let said = |a: usize, b: usize, [first, second]: [&str; 2]| {
        format!(
            "{} {first}, {} {second}",
            super::super::act::sentence(&words::count(a)),
            words::count(b)
        )
    };
    let [far, right, near, left] = counts;
    if far != near {
        return said(far, near, ["above", "below"]);
    }
    if left != right {
        return said(left, right, ["on the left", "on the right"]);
    }
    String::new()
}

/// The hand for the picture: none where two work.
pub fn hand_shown(place: &Place, habits: &Habits) -> Option<Side> {
    let first = place.carried().first()?;
    match first.exchange {
        Some(_) => None,
        None => Some(habits.hand(first.side)),
    }
}
