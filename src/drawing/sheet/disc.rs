//! The disc or plate on paper: slots, marks, strands, and a move as an arrow.
//!
//! Shares of the radius as on the screen.

use super::lettering::Lettering;
use super::outline::Outline;
use super::paper::{Ink, Item, Pen};
use super::strand::strand;
use super::style::Style;
use crate::drawing::Filling;
use crate::structure::{Move, Numbering, Place, Plate};

/// Radius of the hole.
const HOLE: f64 = 0.17;
/// Where numbers stand.
const NUMBER: f64 = 0.83;
/// How far a strand reaches over the rim.
const REACH: f64 = 1.055;
/// How far out the letters of strands stand.
const LETTER: f64 = 1.15;

/// A strand as the disc shows it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Seen {
    pub(crate) letter: String,
    /// Thickness, mm.
    pub(crate) thick: f64,
    pub(crate) filling: Option<Filling>,
}

/// A disc of a radius in mm, its middle at the origin.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Disc<'a> {
    pub(crate) lettering: &'a Lettering,
    pub(crate) plate: Plate,
    pub(crate) slots: u16,
    pub(crate) numbering: Numbering,
    pub(crate) radius: f64,
    pub(crate) strands: &'a [Seen],
    /// Where each strand is.
    pub(crate) places: &'a [Place],
}

impl Disc<'_> {
    /// How far its letters or numbers reach from the middle, mm.
    pub(crate) fn reach(&self) -> f64 {
        LETTER * self.radius + Style::LETTER.size
    }

    /// Where a place lies, a share of the way from the middle to the rim.
    pub(crate) fn at(&self, place: Place, share: f64) -> [f64; 2] {
        let [right, away] = self.plate.point(place, self.slots);
        [self.radius * share * right, -self.radius * share * away]
    }

    /// A place as the maker numbers it.
    pub(crate) fn label(&self, place: Place) -> String {
        self.numbering.label_on(self.plate, place, self.slots)
    }

    /// Rim, slots, marks, strands and hole.
    pub(crate) fn bare(&self) -> Vec<Item> {
        let line = (self.radius / 90.0).clamp(0.2, 0.4);
        let mut items = vec![
            Item::drawn(self.rim(0.66), Pen::new(0.15, Ink::FAINT)),
            Item::drawn(self.slots(), Pen::new(0.6 * line, Ink::BLACK)),
            Item::drawn(self.rim(1.0), Pen::new(line, Ink::BLACK)),
        ];
        items.extend(self.marks());
        for (seen, &place) in self.strands.iter().zip(self.places) {
            items.extend(self.strand(seen, place));
        }
        let hole = Outline::circle([0.0; 2], HOLE * self.radius);
        items.push(Item::both(hole, Ink::WHITE, Pen::new(line, Ink::BLACK)));
        items
    }

    /// The numbers of the slots and the letters of the strands.
    pub(crate) fn numbers(&self) -> Vec<Item> {
        let taken = |place: Place| self.places.contains(&place);
        let every = self.every();
        let mut items = Vec::new();
        for slot in 1..=self.slots {
            let place = Place::slot(slot);
            let at = self.at(place, NUMBER);
            let label = self.label(place);
            if taken(place) {
                let ring = Outline::circle(at, self.ring());
                items.push(Item::both(ring, Ink::WHITE, Pen::new(0.2, Ink::BLACK)));
                items.push(self.lettering.words_round(Style::BOLD, at, &label));
            } else if self.counts(place, every) {
                items.push(self.lettering.words_round(Style::NUMBER, at, &label));
            }
        }
        for (seen, &place) in self.strands.iter().zip(self.places) {
            if place != Place::Hand && place.is_on(self.slots) {
                let at = self.outside(place, LETTER);
                items.push(self.lettering.words_round(Style::LETTER, at, &seen.letter));
            }
        }
        items
    }

    /// The numbers of both ends of a move outside the rim, beside one another where they
    /// are neighbours, no further than so far to the side.
    pub(crate) fn numbers_outside(&self, one: Move, aside: f64) -> [Item; 2] {
        let labels = [one.from, one.to].map(|place| self.label(place));
        let half = |i: usize| self.lettering.wide(Style::LETTER, &labels[i]) / 2.0;
        let mut at = [one.from, one.to].map(|place| match place {
            Place::Hand => [0.0, 0.0],
            Place::Rim(_) => self.outside(place, 1.0 + 3.2 / self.radius),
        });
        let way = [at[1][0] - at[0][0], at[1][1] - at[0][1]];
        let far = way[0].hypot(way[1]);
        let least = half(0) + half(1) + 1.2;
        if far < least {
            let way = unit(way);
            let by = (least - far) / 2.0;
            at[0] = [at[0][0] - by * way[0], at[0][1] - by * way[1]];
            at[1] = [at[1][0] + by * way[0], at[1][1] + by * way[1]];
        }
        [0, 1].map(|i| {
            let most = (aside - half(i)).max(0.0);
            let at = [at[i][0].clamp(-most, most), at[i][1]];
            self.lettering.words_round(Style::LETTER, at, &labels[i])
        })
    }

    /// A point so many radii from the middle in the direction of a place; on a plate as
    /// far outside its side.
    fn outside(&self, place: Place, share: f64) -> [f64; 2] {
        let [x, y] = self.at(place, 1.0);
        let far = x.hypot(y).max(1e-9);
        let out = (share - 1.0) * self.radius;
        match self.plate {
            Plate::Disc => [x + x / far * out, y + y / far * out],
            Plate::Square if x.abs() > y.abs() => [x + out * x.signum(), y],
            Plate::Square => [x, y + out * y.signum()],
        }
    }

    /// The rim at a share of its size.
    fn rim(&self, share: f64) -> Outline {
        let reach = self.radius * share;
        match self.plate {
            Plate::Disc => Outline::circle([0.0; 2], reach),
            Plate::Square => Outline::rounded([-reach; 2], [2.0 * reach; 2], 0.06 * self.radius),
        }
    }

    fn slots(&self) -> Outline {
        let mut lines = Outline::default();
        for slot in 1..=self.slots {
            let place = Place::slot(slot);
            lines.part(&[self.at(place, 0.93), self.at(place, 1.0)], false);
        }
        lines
    }

    /// Between the last slot and slot 1, and after each quarter: how many of these.
    fn marked(&self) -> Vec<Place> {
        let quarters = match (self.plate, self.slots.is_multiple_of(4)) {
            (Plate::Square, _) => 0,
            (Plate::Disc, true) => 4,
            (Plate::Disc, false) => 1,
        };
        let quarter = i32::from(self.slots) / 2;
        let mark = |k: i32| Place::slot(1).turned(k * quarter - 1, self.slots);
        (0..quarters).map(mark).collect()
    }

    fn marks(&self) -> Vec<Item> {
        let half = (0.035 * self.radius).clamp(0.45, 1.2);
        let mark = |place: Place| {
            let at = self.at(place, 0.66);
            Item::both(diamond(at, half), Ink::WHITE, Pen::new(0.2, Ink::BLACK))
        };
        self.marked().into_iter().map(mark).collect()
    }

    fn strand(&self, seen: &Seen, place: Place) -> Vec<Item> {
        if place == Place::Hand || !place.is_on(self.slots) {
            return Vec::new();
        }
        let width = (0.031 * seen.thick).clamp(0.03, 0.075) * self.radius;
        strand(
            self.at(place, 0.6 * HOLE),
            self.at(place, REACH),
            width,
            seen.filling,
        )
    }

    /// Room from slot to slot where the numbers stand, mm.
    fn room(&self) -> f64 {
        let first = self.at(Place::slot(1), NUMBER);
        let next = self.at(Place::slot(2), NUMBER);
        (first[0] - next[0]).hypot(first[1] - next[1])
    }

    /// Radius of the ring round the number of a taken slot, mm.
    fn ring(&self) -> f64 {
        (0.48 * self.room()).clamp(1.9, 2.5)
    }

    /// Every slot has its number where there is room, else every so many.
    fn every(&self) -> u16 {
        let needed = 1.15 * self.lettering.wide(Style::NUMBER, &self.slots.to_string());
        let steps = [1, 2, 4, 8, 16];
        let fits = |step: &&u16| f64::from(**step) * self.room() >= needed;
        steps.iter().find(fits).copied().unwrap_or(32)
    }

    /// Whether a free slot shows its number: where there is room beside taken ones.
    fn counts(&self, place: Place, every: u16) -> bool {
        let Place::Rim(half) = place else {
            return false;
        };
        let near = i32::from(every) * 2 - 2;
        let beside = (-near..=near).map(|by| place.turned(by, self.slots));
        (half / 2).is_multiple_of(every) && !beside.into_iter().any(|p| self.places.contains(&p))
    }

    /// The way of a carried strand as an arrow with a gap of paper round it, bowed to a
    /// side: −1 left, 1 right of the way it goes.
    pub(crate) fn arrow(&self, from: Place, to: Place, side: f64) -> Vec<Item> {
        let (a, b) = (self.at(from, 0.70), self.at(to, 0.735));
        let way = [b[0] - a[0], b[1] - a[1]];
        let bow = 0.26 * side;
        let handle = [
            (a[0] + b[0]) / 2.0 - 2.0 * bow * way[1],
            (a[1] + b[1]) / 2.0 + 2.0 * bow * way[0],
        ];
        let toward = |end: [f64; 2]| {
            [
                end[0] + (handle[0] - end[0]) * 2.0 / 3.0,
                end[1] + (handle[1] - end[1]) * 2.0 / 3.0,
            ]
        };
        let head = (0.15 * self.radius).clamp(1.6, 3.0);
        let last = unit([b[0] - handle[0], b[1] - handle[1]]);
        let foot = [b[0] - 0.7 * head * last[0], b[1] - 0.7 * head * last[1]];
        let mut line = Outline::line(&[a]);
        line.steps
            .push(super::outline::Step::Curve([toward(a), toward(foot), foot]));
        let wide = (self.radius / 26.0).clamp(0.4, 0.8);
        let barb = barb(b, last, head);
        let ring = Outline::circle(a, 1.5 * wide);
        vec![
            Item::drawn(line.clone(), Pen::new(wide + 1.1, Ink::WHITE).round()),
            Item::both(barb.clone(), Ink::WHITE, Pen::new(1.0, Ink::WHITE).round()),
            Item::drawn(line, Pen::new(wide, Ink::BLACK)),
            Item::filled(barb, Ink::BLACK),
            Item::both(ring, Ink::WHITE, Pen::new(0.8 * wide, Ink::BLACK)),
        ]
    }
}

/// An open square on its corner, as a mark is drawn.
pub(crate) fn diamond([x, y]: [f64; 2], half: f64) -> Outline {
    Outline::ring(&[[x, y - half], [x + half, y], [x, y + half], [x - half, y]])
}

/// The head of an arrow: tip, barb, notch, barb.
pub(crate) fn barb(tip: [f64; 2], way: [f64; 2], head: f64) -> Outline {
    let at = |back: f64, aside: f64| {
        [
            tip[0] - back * head * way[0] - aside * head * way[1],
            tip[1] - back * head * way[1] + aside * head * way[0],
        ]
    };
    Outline::ring(&[tip, at(1.0, 0.45), at(0.72, 0.0), at(1.0, -0.45)])
}

fn unit([x, y]: [f64; 2]) -> [f64; 2] {
    let long = x.hypot(y).max(1e-9);
    [x / long, y / long]
}
