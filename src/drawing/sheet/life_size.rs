//! The cord in life size with a ruler along it.

use std::sync::Arc;

use super::Sheet;
use super::block::Block;
use super::outline::Outline;
use super::paper::{Ink, Item, Meaning, Pen, Picture};
use super::style::Style;
use crate::drawing::{Bend, Ground, View, large_picture, threads};
use crate::quantity::{MM_PER_INCH, UnitSystem};

/// Pixels for a millimetre: 300 to the inch.
const PER_MM: f64 = 300.0 / 25.4;

/// Room above and below the cord, in its thicknesses.
const ROOM: f64 = 0.06;

impl Sheet<'_> {
    /// The cord from its side over a ruler that begins at its left end.
    pub(crate) fn life_size(&self) -> Block {
        let figures = self.input.figures;
        let thick = figures
            .thickness_rested
            .value
            .max(figures.width_rested.value);
        let mut block = self.cord(thick);
        let ruler = self.ruler();
        block.push(ruler.above(0.8));
        let said = "the cord in life size, rested: lay your own beside it";
        let words = self.lettering.words_to(Style::NOTE, [self.wide, 3.0], said);
        block.push(Block::new(
            3.2,
            vec![Item::part(Meaning::Text, vec![words])],
        ));
        block
    }

    fn cord(&self, thick: f64) -> Block {
        let high = (thick * (1.0 + 2.0 * ROOM)).clamp(0.5, 80.0);
        let size = [self.wide, high];
        let [width, height] = size.map(|mm| (mm * PER_MM).round().max(1.0) as usize);
        let view = View {
            width,
            height,
            pixels_per_mm: PER_MM,
            start_mm: 0.0,
            roll: 0.0,
            centre_x: width as f64 / 2.0,
            centre_y: height as f64 / 2.0,
            bend: Bend::Straight,
        };
        let design = self.input.design;
        let threads = threads(&design.drawn(), &design.fibres);
        // What is too large for a picture is left out; the words stay.
        let drawn = large_picture(self.input.rested, &threads, &view, &Ground::Clear);
        let picture = drawn.ok().map(|raster| {
            Item::Picture(Picture {
                at: [0.0; 2],
                size: [width as f64 / PER_MM, height as f64 / PER_MM],
                raster: Arc::new(raster),
            })
        });
        let shows = format!(
            "the cord in life size, {} thick",
            self.input
                .figures
                .thickness_rested
                .length(self.input.units)
                .figure
        );
        let figure = Item::part(Meaning::Figure(shows), picture.into_iter().collect());
        Block::new(high, vec![figure])
    }

    /// Millimetres with every centimetre numbered, or sixteenths with every inch.
    fn ruler(&self) -> Block {
        let (step, parts) = match self.input.units {
            UnitSystem::Millimetres => (1.0, [10, 5, 1]),
            UnitSystem::Inches => (MM_PER_INCH / 16.0, [16, 4, 1]),
        };
        let mut ticks = [Outline::default(), Outline::default(), Outline::default()];
        let mut numbers = Vec::new();
        let count = (self.wide / step).floor() as usize;
        for i in 0..=count {
            let kind = parts.iter().position(|part| i % part == 0).unwrap_or(2);
            let x = i as f64 * step;
            let long = [2.6, 1.8, 1.1][kind];
            ticks[kind].part(&[[x, 0.0], [x, long]], false);
            let number = (i / parts[0]).to_string();
            let wide = self.lettering.wide(Style::NUMBER, &number);
            if kind == 0 {
                let x = (x - wide / 2.0).clamp(0.0, self.wide - wide);
                numbers.push(self.lettering.words(Style::NUMBER, [x, 5.6], &number));
            }
        }
        let pen = Pen::new(0.18, Ink::BLACK);
        let mut items = vec![Item::rule([0.0; 2], [self.wide, 0.0], pen)];
        items.extend(ticks.map(|ticks| Item::drawn(ticks, pen)));
        items.extend(numbers);
        let unit = match self.input.units {
            UnitSystem::Millimetres => "a ruler in centimetres",
            UnitSystem::Inches => "a ruler in inches",
        };
        let figure = Item::part(Meaning::Figure(unit.to_owned()), items);
        Block::new(6.0, vec![figure])
    }
}
