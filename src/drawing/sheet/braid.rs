//! Braiding: the moves as small pictures, how they go on, and ticks for the rounds.

use std::f64::consts::PI;

use super::block::Block;
use super::disc::barb;
use super::moves::{Frame, Round, round};
use super::outline::Outline;
use super::paper::{Ink, Item, Meaning, Pen};
use super::style::Style;
use super::{Density, Sheet};
use crate::structure::{Braid, Move, Place, Step, Way};

/// Least width of ten boxes, mm.
const TEN: f64 = 50.0;
/// Width of the tenth, which has its number in it, mm.
const TENTH: f64 = 7.5;
/// From box to box left free, mm.
const APART: f64 = 1.2;

impl Sheet<'_> {
    /// The moves of a round, several pictures in a row, and boxes to tick.
    pub(crate) fn braid(&self) -> Vec<Block> {
        let Density { small, per_row, .. } = self.density;
        let round = round(&self.moves, self.density.pictured);
        let cell = self.wide / per_row as f64;
        let frames = round.frames.iter();
        let mut cards: Vec<Block> = frames.map(|frame| self.card(frame, small, cell)).collect();
        cards.extend(self.turn_card(&round, small, cell));
        let mut blocks = vec![self.section("Braid", &self.extent(), self.wide)];
        let beside = self.wide - cards.len() as f64 * cell;
        if self.density.run_in && round.others.is_empty() && beside >= TEN + 6.0 {
            let wide = beside - 4.0;
            let mut aside = self.again(wide);
            self.rounds(wide)
                .into_iter()
                .for_each(|block| aside.push(block));
            let mut row = Block::row(cards, cell);
            row.lay([self.wide - wide, 2.0], aside);
            blocks.push(row);
            return blocks;
        }
        for (i, row) in cards.chunks(per_row).enumerate() {
            let row = Block::row(row.to_vec(), cell);
            blocks.push(if i > 0 { row.above(1.5) } else { row });
        }
        blocks.extend(self.others(&round));
        blocks.push(self.again(self.wide).above(1.2));
        blocks.extend(self.rounds(self.wide));
        blocks
    }

    /// How much there is to braid.
    fn extent(&self) -> String {
        let moves: usize = self.moves.steps.iter().map(|step| step.moves.len()).sum();
        let a_round = match moves {
            1 => "a round is 1 move".to_owned(),
            n => format!("a round is {n} moves"),
        };
        let plan = self.input.plan;
        let long = plan.cut.on_disc.length(self.input.units);
        let all = plan.cut.moves.value;
        format!("{} on the disc, {all:.0} moves; {a_round}", long.figure)
    }

    fn card(&self, frame: &Frame, radius: f64, wide: f64) -> Block {
        let disc = self.disc(radius, &frame.places);
        let mut items = disc.bare();
        let side = self.side(&frame.step);
        for one in &frame.step.moves {
            items.extend(disc.arrow(one.from, one.to, bow(&disc, *one, side)));
        }
        for one in &frame.step.moves {
            items.extend(disc.numbers_outside(*one, wide / 2.0));
        }
        let moves = self.told(&frame.step);
        let hand = hand(side);
        let shows = match hand {
            "" => format!("step {}: {moves}", frame.number),
            hand => format!("step {}: {moves}, {hand}", frame.number),
        };
        let number = frame.number.to_string();
        if self.density.run_in {
            // On one line, to save the other.
            let moves = format!("{moves} {}", hand.trim_end_matches(" hand"));
            return self.captioned(items, shows, radius, wide, [&number, moves.trim(), ""]);
        }
        self.captioned(items, shows, radius, wide, [&number, &moves, hand])
    }

    /// A picture of a disc over its number, what to do, and a remark.
    fn captioned(
        &self,
        items: Vec<Item>,
        shows: String,
        radius: f64,
        wide: f64,
        [number, moves, remark]: [&str; 3],
    ) -> Block {
        let reach = radius + 5.4;
        let figure = Item::part(Meaning::Figure(shows), items);
        let mut block = Block::new(2.0 * reach, vec![figure]).shifted([wide / 2.0, reach]);
        let set = &self.lettering;
        let room = wide - 9.0;
        let mut words = set.column(Style::LETTER, moves, room);
        words.push(set.column(Style::NOTE, remark, room));
        let widest = [(Style::LETTER, moves), (Style::NOTE, remark)];
        let widest = widest.map(|(style, text)| set.wide(style, text).min(room));
        let left = ((wide - widest[0].max(widest[1]) - 6.5) / 2.0).max(0.5);
        let y = block.high;
        block.lay([left + 6.5, y], words);
        let at = [left + 2.3, y + Style::LETTER.leading / 2.0];
        let ring = Outline::circle(at, 2.3);
        block
            .items
            .push(Item::drawn(ring, Pen::new(0.25, Ink::BLACK)));
        block.items.push(set.words_round(Style::NUMBER, at, number));
        block
    }

    /// Moves in numbers.
    fn told(&self, step: &Step) -> String {
        let disc = self.disc(1.0, &[]);
        if let Some((a, b, way)) = step.as_exchange(self.moves.slots) {
            let [a, b] = [disc.label(a), disc.label(b)];
            return format!("{a} and {b} change places, {}", way.word());
        }
        // A line never ends within a move.
        let told = |one: &Move| {
            let [from, to] = [one.from, one.to].map(|place| disc.label(place));
            format!("{from}\u{a0}→\u{a0}{to}")
        };
        let all: Vec<String> = step.moves.iter().map(told).collect();
        all.join(", ")
    }

    /// On which side of the disc a step is: −1 left, 1 right, 0 on both.
    fn side(&self, step: &Step) -> f64 {
        let ends = step.moves.iter().flat_map(|one| [one.from, one.to]);
        let aside = ends.map(|place| self.moves.plate.point(place, self.moves.slots)[0]);
        let (sum, count) = aside.fold((0.0, 0.0), |(sum, count), x| (sum + x, count + 1.0));
        let mean: f64 = sum / f64::max(count, 1.0);
        if mean.abs() < 0.08 {
            0.0
        } else {
            mean.signum()
        }
    }

    /// The turn that brings the next group where the pictured one was, if it is a
    /// quarter or half of the disc.
    fn turn_card(&self, round: &Round, radius: f64, wide: f64) -> Option<Block> {
        let turn = round.even_turn()?;
        let slots = i32::from(self.moves.slots);
        let (word, sweep) = match turn.abs() {
            n if 4 * n == slots => ("turn a quarter", PI / 2.0),
            n if 2 * n == slots => ("turn half round", PI),
            _ => return None,
        };
        let first = round.others.first()?;
        let disc = self.disc(radius, &first.places);
        let mut items = disc.bare();
        // What lies clockwise of the top comes there when the disc is turned the other way.
        let way = f64::from(-turn.signum());
        items.extend(turn_arrow(radius + 2.6, sweep.min(1.2), way));
        let top = first.step.moves.first()?;
        let pictured = round.frames.first()?.step.moves.first()?;
        let remark = format!(
            "{} comes where {} was",
            disc.label(top.from),
            disc.label(pictured.from)
        );
        let way = match turn > 0 {
            true => Way::Anticlockwise,
            false => Way::Clockwise,
        };
        let shows = format!("{word} {}: {remark}", way.word());
        let next = (round.frames.len() + 1).to_string();
        Some(self.captioned(items, shows, radius, wide, [&next, word, &remark]))
    }

    /// The steps that are not pictured.
    fn others(&self, round: &Round) -> Vec<Block> {
        if round.others.is_empty() {
            return Vec::new();
        }
        let last = round.frames.len();
        let like = match last {
            1 => "Then as step 1, further round the disc:".to_owned(),
            n => format!("Then as steps 1 to {n}, further round the disc:"),
        };
        let mut text = vec![
            self.lettering
                .column(Style::TEXT, &like, self.wide)
                .above(1.0),
        ];
        text[0].leads = true;
        let told: Vec<(String, String)> = round
            .others
            .iter()
            .map(|frame| (frame.number.to_string(), self.told(&frame.step)))
            .collect();
        let widest = told
            .iter()
            .map(|(_, moves)| self.lettering.wide(Style::LETTER, moves))
            .fold(0.0, f64::max);
        let cell = (widest + 11.0).clamp(24.0, self.wide);
        let mut columns = (self.wide / cell).floor().max(1.0) as usize;
        if columns > last {
            columns -= columns % last;
        }
        for row in told.chunks(columns) {
            let cells = row.iter().map(|(number, moves)| {
                let mut cell_block = Block::default();
                let words = self.lettering.column(Style::LETTER, moves, cell - 9.0);
                cell_block.lay([7.0, 0.4], words);
                let at = [2.4, 0.4 + Style::LETTER.leading / 2.0];
                let ring = Outline::circle(at, 2.1);
                cell_block
                    .items
                    .push(Item::drawn(ring, Pen::new(0.2, Ink::BLACK)));
                let number = self.lettering.words_round(Style::NUMBER, at, number);
                cell_block.items.push(number);
                cell_block
            });
            let mut row = Block::row(cells, self.wide / columns as f64);
            row.high += 0.8;
            text.push(row);
        }
        text
    }

    /// How the next round begins.
    fn again(&self, wide: f64) -> Block {
        let again = match Braid::new(&self.moves).map(|braid| braid.turn()) {
            Ok(0) => "Again from 1.".to_owned(),
            Ok(turn) => {
                let count = turn.unsigned_abs();
                let slots = if count == 1 { "slot" } else { "slots" };
                let way = match turn > 0 {
                    true => Way::Clockwise,
                    false => Way::Anticlockwise,
                };
                let first = self
                    .moves
                    .steps
                    .first()
                    .map(|step| self.further(step, turn));
                format!(
                    "Again from 1; each round begins {count} {slots} further {}, so the next with {}.",
                    way.word(),
                    first.unwrap_or_default()
                )
            }
            // Moves that are no braid have no next round.
            Err(error) => error.to_string(),
        };
        self.lettering.column(Style::TEXT, &again, wide)
    }

    fn further(&self, step: &Step, turn: i32) -> String {
        let further = |place: Place| place.turned(2 * turn, self.moves.slots);
        let moves = step.moves.iter().map(|one| Move {
            from: further(one.from),
            to: further(one.to),
        });
        let step = Step {
            moves: moves.collect(),
        };
        self.told(&step)
    }

    /// A box for every round; those that may not be needed are dashed.
    fn rounds(&self, wide: f64) -> Vec<Block> {
        let plan = self.input.plan;
        let a_round: usize = self.moves.steps.iter().map(|step| step.moves.len()).sum();
        let rounds = |moves: f64| (moves / a_round.max(1) as f64).ceil().clamp(0.0, 1e6) as u32;
        let (likely, most) = (rounds(plan.cut.moves.value), rounds(plan.cut.moves.high));
        let each = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];
        let each = each
            .iter()
            .find(|each| most.div_ceil(**each) <= self.density.ticks);
        let each = each.copied().unwrap_or(10_000);
        let ten = 10.0 * f64::from(each) * a_round as f64;
        let long =
            self.length(10.0 * ten / plan.cut.moves.value.max(1.0) * plan.cut.on_disc.value / 10.0);
        let told = match each {
            1 => format!(
                "Rounds, one box each; ten are {long}. Dashed: perhaps not needed; the length decides."
            ),
            n => format!(
                "Rounds, one box for {n}; ten boxes are {long}. Dashed: perhaps not needed; the length decides."
            ),
        };
        let head = self.lettering.column(Style::NOTE, &told, wide);
        let mut blocks = vec![head.above(1.6).leading()];
        let boxes = [likely, most].map(|rounds| rounds.div_ceil(each));
        blocks.extend(self.boxes(boxes, each, wide));
        blocks
    }

    fn boxes(&self, [likely, most]: [u32; 2], each: u32, wide: f64) -> Vec<Block> {
        // Tens side by side; the box of the tenth is wide enough for its number.
        let tens = (wide / TEN).floor().max(1.0);
        let ten = (wide + APART) / tens;
        let step = (ten - TENTH - APART) / 9.0;
        let columns = 10 * tens as u32;
        let rows = most.div_ceil(columns);
        let row = |row: u32| {
            let boxes = (row * columns + 1..=most).take(columns as usize);
            let items = boxes.flat_map(|number| {
                let place = number - row * columns - 1;
                let x = f64::from(place / 10) * ten + f64::from(place % 10) * step;
                let wide = if place % 10 == 9 { TENTH } else { step - APART };
                self.tick(x, wide, number, (number * each, number > likely))
            });
            Block::new(4.7, vec![Item::part(Meaning::Furniture, items.collect())])
        };
        (0..rows).map(row).collect()
    }

    /// A box; the tenth is heavy, so wide, and says how many rounds that makes.
    fn tick(&self, x: f64, wide: f64, number: u32, (rounds, perhaps): (u32, bool)) -> Vec<Item> {
        let is_tenth = number.is_multiple_of(10);
        let pen = Pen::new(if is_tenth { 0.4 } else { 0.2 }, Ink::BLACK);
        let pen = if perhaps { pen.dashed(0.6, 0.6) } else { pen };
        let frame = Outline::rounded([x, 0.4], [wide, 3.7], 0.7);
        let mut items = vec![Item::drawn(frame, pen)];
        if is_tenth {
            let at = [x + wide / 2.0, 2.25];
            let number = self
                .lettering
                .words_round(Style::BOLD, at, &rounds.to_string());
            items.push(number);
        }
        items
    }
}

/// Which hand lies nearer.
fn hand(side: f64) -> &'static str {
    match side {
        s if s < 0.0 => "left hand",
        s if s > 0.0 => "right hand",
        _ => "",
    }
}

/// To which side of its way an arrow bows: toward the hand that does it, else clear of
/// the hole.
fn bow(disc: &super::disc::Disc<'_>, one: Move, side: f64) -> f64 {
    let [a, b] = [disc.at(one.from, 1.0), disc.at(one.to, 1.0)];
    let way = [b[0] - a[0], b[1] - a[1]];
    let middle = [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
    // Where the middle of the way goes if it bows to the right of it.
    let aside = [-way[1], way[0]];
    let toward = match side {
        s if s != 0.0 => [s, 0.0],
        _ => middle,
    };
    let dot = aside[0] * toward[0] + aside[1] * toward[1];
    if dot < 0.0 { -1.0 } else { 1.0 }
}

/// An arrow round a disc, from the upper right; 1 clockwise, −1 the other way.
fn turn_arrow(radius: f64, sweep: f64, way: f64) -> Vec<Item> {
    let middle = -PI / 2.0;
    let (from, to) = (middle - way * sweep / 2.0, middle + way * sweep / 2.0);
    let mut line = Outline::default();
    line.arc([0.0; 2], radius, from, to);
    let tip = [radius * to.cos(), radius * to.sin()];
    let tangent = [-way * to.sin(), way * to.cos()];
    let head = 2.4;
    let tip = [tip[0] + 1.4 * tangent[0], tip[1] + 1.4 * tangent[1]];
    vec![
        Item::drawn(line, Pen::new(0.55, Ink::BLACK)),
        Item::filled(barb(tip, tangent, head), Ink::BLACK),
    ]
}
