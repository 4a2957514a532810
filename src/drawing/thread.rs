//! What a strand of the pictured cord is made of.

use crate::material::{Appearance, Colour, Fibre, Strand, Weave};

/// Ends of one fibre in a strand: how they look, how many, how thick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ends {
    /// How the fibre looks.
    pub appearance: Appearance,
    /// Its colour in this strand.
    pub colour: Colour,
    /// How many ends are held together, at least 1.
    pub count: u16,
    /// Diameter of one end, in any unit that all ends of the strand share.
    pub diameter: f64,
}

/// One strand as it is drawn: a single end, or several lying side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// The fibres held together; none counts as grey cord.
    pub ends: Vec<Ends>,
}

/// The strands of a design as they are drawn, in order; a part whose fibre is
/// not among `fibres` is left out.
pub fn threads(strands: &[Strand], fibres: &[Fibre]) -> Vec<Thread> {
    let ends = |strand: &Strand| {
        let parts = strand.parts.iter().filter_map(|part| {
            let fibre = fibres.iter().find(|f| f.name == part.fibre)?;
            Some(Ends {
                appearance: fibre.appearance,
                colour: part.colour,
                count: part.ends,
                diameter: fibre.diameter.value,
            })
        });
        Thread {
            ends: parts.collect(),
        }
    };
    strands.iter().map(ends).collect()
}

impl Thread {
    /// A strand of a single end.
    pub fn single(appearance: Appearance, colour: Colour) -> Self {
        let diameter = 1.0;
        let count = 1;
        Self {
            ends: vec![Ends {
                appearance,
                colour,
                count,
                diameter,
            }],
        }
    }

    /// What is drawn where nothing is said: smooth grey cord.
    pub(crate) fn plain() -> Self {
        let appearance = Appearance {
            weave: Weave::Solid,
            plies: 1,
            twist: 0.0,
            relief: 0.0,
            lay: 0.0,
            gloss: 0.2,
            spread: 0.4,
            fuzz: 0.0,
            mottle: 0.0,
        };
        Self::single(appearance, Colour([128, 128, 128]))
    }

    /// Whether the two have the same shape, whatever their colours.
    pub(crate) fn same_shape(&self, other: &Self) -> bool {
        let shape = |e: &Ends| (e.appearance, e.count, e.diameter);
        self.ends.len() == other.ends.len()
            && self
                .ends
                .iter()
                .zip(&other.ends)
                .all(|(a, b)| shape(a) == shape(b))
    }
}
