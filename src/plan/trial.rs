//! Made-up jobs for tests: strands of one take-up, an ordinary workshop.

use super::{End, Job, Measure, Piece, Size, Workshop};
use crate::cord::{Figures, Hand, Section, Tension};
use crate::material::{Fibre, Standing, Strand, on_shelf, shelf};
use crate::quantity::{Estimate, UnitSystem};

/// Everything that a job borrows.
#[derive(Debug, Clone)]
pub(super) struct Trial {
    pub figures: Figures,
    pub strands: Vec<Strand>,
    pub cores: Vec<Strand>,
    pub fibres: Vec<Fibre>,
    pub around: Vec<usize>,
    pub tension: Tension,
    pub counterweight: f64,
    pub piece: Piece,
    pub workshop: Workshop,
}

/// One strand of polyester satin cord of 2 mm.
pub(super) fn satin() -> Strand {
    single("satin cord 2 mm, polyester")
}

/// One strand of a fibre of the shelf in its own colour.
pub(super) fn single(name: &str) -> Strand {
    Strand::single(name, on_shelf(name).unwrap().colour)
}

impl Trial {
    /// Strands that are laid in one beside the next and all eat as much.
    pub(super) fn of(strands: Vec<Strand>, take_up: f64) -> Self {
        let take_up = Estimate {
            value: take_up,
            low: take_up * 0.97,
            high: take_up * 1.03,
        };
        Self {
            figures: figures(vec![take_up; strands.len()]),
            around: (0..strands.len()).collect(),
            strands,
            cores: Vec::new(),
            fibres: shelf().to_vec(),
            tension: Tension::Slots(0.6),
            counterweight: 70.0,
            piece: Piece::default(),
            workshop: Workshop::default(),
        }
    }

    pub(super) fn job(&self) -> Job<'_> {
        Job {
            figures: &self.figures,
            strands: &self.strands,
            cores: &self.cores,
            fibres: &self.fibres,
            around: &self.around,
            tension: self.tension,
            counterweight: self.counterweight,
            piece: &self.piece,
            workshop: &self.workshop,
            units: UnitSystem::Millimetres,
        }
    }

    /// A cord of this length, rested, nothing closing or hidden.
    pub(super) fn length(&mut self, mm: f64) {
        self.piece.measure = Measure::Length(mm);
        self.piece.ends = [End::Bare; 2];
        self.workshop.cutting.uneven = 0.0;
    }

    /// The same, so much longer.
    pub(super) fn longer(&mut self, by: f64) {
        if let Measure::Length(length) = self.piece.measure {
            self.piece.measure = Measure::Length(length + by);
        }
    }

    /// Every figure without spread.
    pub(super) fn exactly(&mut self) {
        for take_up in &mut self.figures.take_up {
            *take_up = Estimate::exact(take_up.value);
        }
    }

    /// One size more.
    pub(super) fn size(&mut self, name: &str, longer: f64) {
        self.piece.sizes.push(Size {
            name: name.to_owned(),
            longer,
        });
    }
}

/// An eight-strand spiral of 2 mm satin cord, roughly.
fn figures(take_up: Vec<Estimate>) -> Figures {
    let about = |value: f64| Estimate {
        value,
        low: 0.95 * value,
        high: 1.05 * value,
    };
    Figures {
        thickness_on_disc: about(6.6),
        thickness_rested: about(6.8),
        pressed_on_disc: about(5.8),
        pressed_rested: about(6.0),
        width_rested: about(6.8),
        section: Section::Round,
        bore: 0.0,
        off_weight: Estimate::exact(-3.5),
        worked: about(2.0),
        lengthening: Estimate::exact(-1.6),
        bundle: about(5.6),
        bundle_of_tails: about(4.6),
        pitch: about(24.0),
        hand: Hand::S,
        moves_per_cm: about(12.3),
        mass: about(29.1),
        take_up,
        standing: Standing::Guess,
        guesses: Vec::new(),
    }
}
