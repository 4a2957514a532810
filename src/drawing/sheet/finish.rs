//! Finishing: rest, check, bind, end, and blanks for what was measured.

use super::Sheet;
use super::block::Block;
use super::outline::Outline;
use super::paper::{Ink, Item, Meaning, Pen};
use super::style::Style;
use crate::plan::{Binding, End, Measure, Round, bound_end, glue_gaps};
use crate::quantity::{Estimate, Length, UnitSystem};

impl Sheet<'_> {
    /// What is done when the cord is long enough, each with a box to tick.
    pub(crate) fn finishing(&self) -> Vec<Block> {
        let mut steps = vec![
            ("Rest", "draw through the hand, leave a day".to_owned()),
            ("Check", self.check()),
        ];
        let piece = &self.input.design.piece;
        steps.push(("Bind", self.bound(&piece.binding)));
        let [first, last] = piece.ends;
        match first == last {
            true => steps.push(("Both ends", self.ended(first))),
            false => {
                steps.push(("First end", self.ended(first)));
                steps.push(("Last end", self.ended(last)));
            }
        }
        if !piece.closure.name.is_empty() {
            let adds = self.length(piece.closure.adds);
            let text = format!("{}, adds {adds}", piece.closure.name);
            steps.push(("Close", text));
        }
        if let Some(pendant) = &piece.pendant {
            let bail = self.length(pendant.bail);
            let text = format!("{}, its bail is {bail} across", pendant.name);
            steps.push(("Hang on", text));
        }
        let columns = if steps.len() > 4 { 3 } else { 4 };
        let wide = self.wide / columns as f64;
        let mut blocks = vec![self.section("Finish", "", self.wide)];
        for row in steps.chunks(columns) {
            let cells = row.iter().map(|(name, text)| self.step(name, text, wide));
            blocks.push(Block::row(cells, wide).above(1.0));
        }
        blocks.push(self.measured().above(2.0));
        blocks
    }

    fn step(&self, name: &str, text: &str, wide: f64) -> Block {
        let room = wide - 8.0;
        let mut words = self.lettering.column(Style::NAME, name, room);
        words.push(self.lettering.column(Style::NOTE, text, room));
        let mut step = Block::default();
        step.lay([5.4, 0.0], words);
        let frame = Outline::rounded([0.2, 0.4], [3.4; 2], 0.6);
        step.items
            .push(Item::drawn(frame, Pen::new(0.25, Ink::BLACK)));
        step
    }

    fn check(&self) -> String {
        let units = self.input.units;
        let thick = span(self.input.figures.thickness_rested, units);
        let long = span(self.input.plan.length.total, units);
        format!("thickness {thick}, length {long}")
    }

    fn bound(&self, binding: &Binding) -> String {
        let units = self.input.units;
        let to = span(bound_end(self.input.figures, binding), units);
        let round = match binding.round {
            Round::Braid => "round the braid",
            Round::Tails => "round the straight tails",
        };
        let written = |mm: f64| Length::from_mm(mm).written(units);
        match binding.layers {
            0 => format!("only seal it, to {to}"),
            n => format!(
                "{n} × {} thread {round}, {} wide, tight, to {to}",
                written(binding.thread),
                written(binding.width)
            ),
        }
    }

    fn ended(&self, end: End) -> String {
        let piece = &self.input.design.piece;
        let written = |mm: f64| Length::from_mm(mm).written(self.input.units);
        let gap = || {
            let [low, high] = glue_gaps(piece.glue_gap);
            let gap = Estimate {
                value: piece.glue_gap,
                low,
                high,
            };
            format!("glue gap {}", span(gap, self.input.units))
        };
        match end {
            End::Cap => match piece.cap {
                Some(cap) => format!(
                    "cap {} inside, {} deep, {}",
                    written(cap),
                    written(piece.cap_depth),
                    gap()
                ),
                None => format!("a cap with a {}; none chosen yet", gap()),
            },
            End::FlatCap { width, thickness } => {
                format!(
                    "flat cap {} by {} inside, {}",
                    written(width),
                    written(thickness),
                    gap()
                )
            }
            End::Crimp { width } => format!("crimp {} wide", written(width)),
            End::Knot { .. } => "knot".to_owned(),
            End::Tassel { length } => format!("tassel of {}", written(length)),
            End::Loop { opening } => format!("loop, {} open, bound", written(opening)),
            End::Button { across } => {
                format!("through a button of {}, laid back, bound", written(across))
            }
            End::Bare => "bound and cut".to_owned(),
        }
    }

    /// Blanks to write in.
    fn measured(&self) -> Block {
        let (long, heavy) = match self.input.units {
            UnitSystem::Millimetres => ("mm", "g"),
            UnitSystem::Inches => ("in", "oz"),
        };
        let blanks = [
            ("on the disc", long),
            ("rested", long),
            ("thickness", long),
            ("bound end", long),
            ("weight", heavy),
        ];
        let set = &self.lettering;
        let y = 4.0;
        let mut words = vec![set.words(Style::NAME, [0.0, y], "Measured")];
        let mut rules = Vec::new();
        let start = set.wide(Style::NAME, "Measured") + 5.0;
        let taken = |(name, unit): &(&str, &str)| {
            set.wide(Style::NOTE, name) + set.wide(Style::NOTE, unit) + 6.5
        };
        let all: f64 = blanks.iter().map(taken).sum();
        let blank = ((self.wide - start - all) / blanks.len() as f64).max(8.0);
        let mut x = start;
        for (name, unit) in blanks {
            words.push(set.words(Style::NOTE, [x, y], name));
            x += set.wide(Style::NOTE, name) + 1.2;
            let pen = Pen::new(0.25, Ink::BLACK);
            rules.push(Item::rule([x, y + 0.6], [x + blank, y + 0.6], pen));
            x += blank + 1.0;
            words.push(set.words(Style::NOTE, [x, y], unit));
            x += set.wide(Style::NOTE, unit) + 4.3;
        }
        let mut items = vec![Item::part(Meaning::Text, words)];
        items.extend(rules);
        Block::new(5.2, items)
    }

    /// What the piece is and how long, in words.
    pub(crate) fn piece(&self) -> String {
        let piece = &self.input.design.piece;
        let kind = piece.kind.word();
        let mut letters = kind.chars();
        let first = letters.next().map(|c| c.to_uppercase().to_string());
        let kind = first.unwrap_or_default() + letters.as_str();
        let written = |mm: f64| Length::from_mm(mm).written(self.input.units);
        match piece.measure {
            Measure::Length(mm) => format!("{kind}, {} long", written(mm)),
            Measure::Round { girth, ease } => {
                format!("{kind} round {} and {} ease", written(girth), written(ease))
            }
        }
    }
}

/// From where to where, with the unit; the figure alone where both ends look alike.
fn span(estimate: Estimate, units: UnitSystem) -> String {
    let shown = estimate.length(units);
    let unit = shown.figure.rsplit(' ').next().unwrap_or_default();
    match shown.spread.is_empty() {
        true => shown.figure,
        false => format!("{} {unit}", shown.spread),
    }
}
