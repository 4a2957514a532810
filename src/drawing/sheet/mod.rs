//! The work sheet: all that lies beside the disc, on paper, in the order of the work.
//!
//! Pages are composed once and written as PDF or SVG. Nothing of the craft is worked
//! out here: it stands in the figures and the plan. No clock: the date is handed in.

mod block;
mod braid;
mod breaking;
mod disc;
mod figures;
mod finish;
mod head;
mod lettering;
mod life_size;
mod moves;
mod notes;
mod outline;
mod paper;
mod pdf;
mod set_up;
mod strand;
mod style;
mod svg;

use std::collections::BTreeSet;

use block::{Block, Flow};
use disc::Seen;
use lettering::Lettering;
pub use lettering::SpareFont;
use paper::{Ink, MARGIN};
pub use paper::{Page, Paper};
pub use pdf::{PdfError, pages_pdf};
pub use svg::page_svg;

use crate::cord::{Figures, Form, strand_name};
use crate::document::Design;
use crate::drawing::{Filling, fillings};
use crate::plan::Plan;
use crate::quantity::UnitSystem;
use crate::structure::MoveList;

/// All that a work sheet is made of.
#[derive(Debug, Clone, Copy)]
pub struct SheetInput<'a> {
    /// The design.
    pub design: &'a Design,
    /// The figures of its cord.
    pub figures: &'a Figures,
    /// Its cord off the weight and rested.
    pub rested: &'a Form,
    /// What to cut and how to finish.
    pub plan: &'a Plan,
    /// The units of the maker.
    pub units: UnitSystem,
    /// The paper it is printed on.
    pub paper: Paper,
    /// The day, as it is to be printed; empty for none.
    pub date: &'a str,
    /// Which copy of several this is, as "copy 2, 17 cm"; empty for the only one.
    pub copy: &'a str,
    /// Fonts for letters that ours lack.
    pub spare: &'a [SpareFont],
}

/// How closely a sheet is set.
#[derive(Debug, Clone, Copy)]
struct Density {
    /// Radius of the disc, mm.
    disc: f64,
    /// Radius of the small discs, mm.
    small: f64,
    /// Of these in a row.
    per_row: usize,
    /// Longer rounds are told by their first steps and the numbers of the others.
    pictured: usize,
    /// Most boxes to tick; where there are more rounds each stands for several.
    ticks: u32,
    /// Whether the sums are told on a line.
    close: bool,
    /// Whether cautions and label are running text.
    run_in: bool,
    /// Over the head of a section, mm.
    gap: f64,
}

/// From roomy to close: the first that needs only one page is taken.
const DENSITIES: [Density; 3] = [
    Density {
        disc: 31.0,
        small: 14.5,
        per_row: 4,
        pictured: 8,
        ticks: 120,
        close: false,
        run_in: false,
        gap: 5.0,
    },
    Density {
        disc: 27.0,
        small: 12.0,
        per_row: 5,
        pictured: 8,
        ticks: 120,
        close: true,
        run_in: false,
        gap: 3.5,
    },
    Density {
        disc: 24.5,
        small: 9.6,
        per_row: 6,
        pictured: 6,
        ticks: 30,
        close: true,
        run_in: true,
        gap: 1.9,
    },
];

/// The pages of a work sheet: one if it can be, as many as it needs if not.
pub fn work_sheet(input: &SheetInput<'_>) -> Vec<Page> {
    let mut sheet = Sheet::new(input);
    for density in DENSITIES {
        sheet.density = density;
        let flow = sheet.compose();
        if flow.pages.len() == 1 {
            return sheet.finish_pages(flow.pages);
        }
    }
    // Over several pages there is room for large drawings.
    sheet.density = sheet.many();
    let flow = sheet.compose();
    sheet.finish_pages(flow.pages)
}

/// The letters on a sheet that neither our fonts nor the spare ones have.
pub fn letters_lacking(input: &SheetInput<'_>) -> BTreeSet<char> {
    let sheet = Sheet::without_cord(input);
    sheet.compose();
    sheet.lettering.lacked().concat().chars().collect()
}

/// A sheet being composed.
struct Sheet<'a> {
    input: &'a SheetInput<'a>,
    lettering: Lettering,
    moves: MoveList,
    seen: Vec<Seen>,
    /// Between the margins, mm.
    wide: f64,
    /// The cord in life size, drawn once.
    cord: Block,
    density: Density,
}

impl<'a> Sheet<'a> {
    fn new(input: &'a SheetInput<'a>) -> Self {
        let mut sheet = Self::without_cord(input);
        sheet.cord = sheet.life_size();
        sheet
    }

    fn without_cord(input: &'a SheetInput<'a>) -> Self {
        let design = input.design;
        let moves = design.sections.first().map(|s| s.moves.clone());
        let mut fillings = fillings(&design.strands);
        if fillings.windows(2).all(|pair| pair[0] == pair[1]) {
            // Nothing to tell apart: open strands leave most to be seen.
            fillings.fill(Some(Filling::Open));
        }
        let strands = design.strands.iter().zip(fillings).enumerate();
        let seen = strands.map(|(i, (strand, filling))| Seen {
            letter: strand_name(i),
            thick: strand.body(&design.fibres).map_or(2.0, |b| b.diameter),
            filling,
        });
        Self {
            input,
            lettering: Lettering::new(input.spare),
            moves: moves.unwrap_or_default(),
            seen: seen.collect(),
            wide: input.paper.size()[0] - 2.0 * MARGIN,
            cord: Block::default(),
            density: DENSITIES[0],
        }
    }

    /// The density where one page is not enough.
    fn many(&self) -> Density {
        let steps = self.moves.steps.len();
        match steps {
            0..=8 => DENSITIES[0],
            9..=20 => Density {
                small: DENSITIES[1].small,
                per_row: DENSITIES[1].per_row,
                ..DENSITIES[0]
            },
            _ => Density {
                small: DENSITIES[2].small,
                per_row: DENSITIES[2].per_row,
                ..DENSITIES[0]
            },
        }
    }

    fn compose(&self) -> Flow {
        let mut flow = Flow::new(self.input.paper, head::RUNNING, head::FOOT);
        let (plan, gap) = (self.input.plan, self.density.gap);
        flow.place(vec![
            self.head(),
            self.figures().above(0.45 * gap),
            head::rule(self.wide, 0.2, Ink::RULE).above(0.45 * gap),
            self.cord.clone().above(0.5 * gap),
        ]);
        let left = 2.0 * self.disc(self.density.disc, &[]).reach();
        let left = left.max(0.42 * self.wide);
        let right = self.wide - left - 8.0;
        let mut cut = self.cut(plan, right);
        cut.extend(spaced(self.bobbins(plan, right), gap));
        if self.density.run_in {
            cut.extend(spaced(self.label_run_in(plan, right), gap));
        }
        let set_up = spaced(self.set_up(left), 0.4 * gap);
        flow.place_beside(set_up, spaced(cut, 0.4 * gap), left + 8.0);
        self.lengths(&mut flow);
        flow.place(spaced(self.braid(), gap));
        flow.place(spaced(self.finishing(), gap));
        self.notes(&mut flow);
        flow.place(spaced(self.not_printed(), gap));
        flow
    }
}

/// The first of some blocks further down.
fn spaced(mut blocks: Vec<Block>, above: f64) -> Vec<Block> {
    if let Some(first) = blocks.first_mut() {
        first.above = above;
    }
    blocks
}
