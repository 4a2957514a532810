//! The four figures with their spread, and what they rest on.

use std::f64::consts::PI;

use super::Sheet;
use super::block::Block;
use super::outline::Outline;
use super::paper::{Ink, Item, Meaning, Pen};
use super::style::Style;
use crate::material::Standing;
use crate::plan::bound_end;
use crate::quantity::Shown;

/// Radius of the mark of a standing, mm.
const MARK: f64 = 1.25;

impl Sheet<'_> {
    /// Thickness on the disc and rested, the change of length, the bound end.
    pub(crate) fn figures(&self) -> Block {
        let (figures, units) = (self.input.figures, self.input.units);
        let bound = bound_end(figures, &self.input.design.piece.binding);
        let all = [
            ("On the disc", figures.thickness_on_disc.length(units)),
            ("Rested", figures.thickness_rested.length(units)),
            ("Length changes", figures.lengthening.change()),
            ("Bound end", bound.length(units)),
        ];
        let wide = self.wide / 4.0;
        let columns = all.map(|(name, shown)| self.figure(name, &shown, wide));
        Block::row(columns, wide)
    }

    fn figure(&self, name: &str, shown: &Shown, wide: f64) -> Block {
        let (value, unit) = shown.figure.split_once(' ').unwrap_or((&shown.figure, ""));
        // The minus of the figures' face is as long as a dash.
        let value = value.replace('−', "–");
        // A whole number before a fraction is parted from it by a space as well.
        let (value, unit) = match unit.rsplit_once(' ') {
            Some((more, unit)) => (format!("{value} {more}"), unit),
            None => (value, unit),
        };
        let set = &self.lettering;
        let style = Style::FIGURE.for_figure(&value);
        let mut words = vec![
            set.words(Style::NOTE, [0.0, 3.4], name),
            set.words(style, [0.0, 11.0], &value),
        ];
        let after = set.wide(style, &value) + 1.4;
        words.push(set.words(Style::UNIT, [after, 11.0], unit));
        let standing = self.input.figures.standing;
        let remark = standing_word(standing);
        let needed = set
            .wide(Style::SMALL, &shown.spread)
            .max(set.wide(Style::SMALL, remark) + 2.0 * MARK + 1.2);
        let mut left = after + set.wide(Style::UNIT, unit) + 2.5;
        let mut down = 0.0;
        if left + needed > wide - 1.0 {
            (left, down) = (0.0, 8.6);
        }
        let y = 6.8 + down;
        words.push(set.words(Style::SMALL, [left, y], &shown.spread));
        let at = [left + MARK, y + 4.2 - Style::SMALL.drop()];
        let text = [left + 2.0 * MARK + 1.2, y + 4.2];
        words.push(set.words(Style::SMALL, text, remark));
        let mut items = vec![Item::part(Meaning::Text, words)];
        items.extend(standing_mark(at, standing));
        Block::new(12.2 + down, items)
    }
}

/// The word for a standing.
fn standing_word(standing: Standing) -> &'static str {
    match standing {
        Standing::Guess => "guess",
        Standing::CommonPractice => "common practice",
        Standing::Source => "handbook",
        Standing::Measured => "measured",
    }
}

/// Its mark: a ring of dashes, a ring, a ring half full, a full one with a check.
fn standing_mark(at: [f64; 2], standing: Standing) -> Vec<Item> {
    let ring = Outline::circle(at, MARK);
    let pen = Pen::new(0.25, Ink::BLACK);
    match standing {
        Standing::Guess => {
            let dash = 2.0 * PI * MARK / 16.0;
            vec![Item::drawn(ring, pen.dashed(dash, dash))]
        }
        Standing::CommonPractice => vec![Item::drawn(ring, pen)],
        Standing::Source => {
            let mut half = Outline::default();
            half.arc(at, MARK, 0.0, PI);
            vec![Item::drawn(ring, pen), Item::filled(half, Ink::BLACK)]
        }
        Standing::Measured => {
            let [x, y] = at;
            let check = Outline::line(&[
                [x - 0.5 * MARK, y],
                [x - 0.1 * MARK, y + 0.4 * MARK],
                [x + 0.5 * MARK, y - 0.4 * MARK],
            ]);
            vec![
                Item::filled(ring, Ink::BLACK),
                Item::drawn(check, Pen::new(0.3, Ink::WHITE).round()),
            ]
        }
    }
}
