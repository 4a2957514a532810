//! What belongs to the maker and not to one design: the shelf with its prices,
//! findings, bobbins, the disc, the rule, the pace of the hands.
//!
//! Lengths in mm, masses in g, times in minutes, shares from 0 to 1. Money has no
//! currency of its own: the maker's word for it is a label.

use serde::{Deserialize, Serialize};

use crate::bench::OwnPace;
use crate::material::Colour;
use crate::quantity::Money;

/// How a fibre is sold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum PutUp {
    /// On a spool or reel.
    Spool,
    /// In a skein or hank.
    Skein,
    /// In a ball.
    Ball,
    /// Off the roll, by the metre.
    Metre,
    /// A packet, as of beads.
    Packet,
}

/// A fibre of one colour on the maker's shelf, and how it is bought.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// Name of the fibre.
    pub fibre: String,
    /// Its colour; any if not said.
    #[serde(default)]
    pub colour: Option<Colour>,
    /// How it is sold.
    pub put_up: PutUp,
    /// Length of one put-up, m.
    pub metres: f64,
    /// Price of one put-up, if known.
    #[serde(default)]
    pub price: Option<Money>,
    /// What lies on the shelf, m.
    pub on_shelf: f64,
    /// Its dye lot; empty if not known.
    #[serde(default)]
    pub lot: String,
}

/// What a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum FindingKind {
    /// Round end cap.
    Cap,
    /// Square or flat end cap.
    FlatCap,
    /// Crimp or fold-over end.
    Crimp,
    /// Anything that closes.
    Clasp,
    /// Ring, bail, button and the like.
    Other,
}

/// A finding that the maker has or buys.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Finding {
    /// What the maker calls it.
    pub name: String,
    /// What it is.
    pub kind: FindingKind,
    /// Inside across, mm; of a flat one its width. None where nothing goes in.
    #[serde(default)]
    pub inner: Option<f64>,
    /// Inside thickness of a flat one, mm.
    #[serde(default)]
    pub thickness: Option<f64>,
    /// Depth, mm.
    #[serde(default)]
    pub depth: Option<f64>,
    /// Outside across, mm: what a bail must pass.
    #[serde(default)]
    pub outer: Option<f64>,
    /// Length it adds to a closed piece, mm.
    #[serde(default)]
    pub adds: f64,
    /// Metal, as for the label; empty if none.
    #[serde(default)]
    pub metal: String,
    /// How many lie there.
    pub there: u32,
    /// Price of one, if known.
    #[serde(default)]
    pub price: Option<Money>,
}

/// A kind of bobbin.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bobbin {
    /// What the maker calls it.
    pub name: String,
    /// What it weighs empty, g.
    pub grams: f64,
    /// How much strand of 2 mm it takes, m; of others as much as has the same volume.
    pub holds: f64,
    /// How many the maker has.
    pub there: u16,
}

/// Where the maker braids.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Table {
    /// A disc or plate in the hand.
    Disc {
        /// From the hole's middle to the slot, mm.
        radius: f64,
    },
    /// A stand with weighted bobbins.
    Stand {
        /// From the point of braiding to a bobbin that can still be moved, mm.
        reach: f64,
    },
}

/// What is cut off and kept in hand.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cutting {
    /// Used up by the knot and the tail at the start, mm a strand.
    pub start: f64,
    /// What the hand must hold beyond the slot, mm.
    pub hand: f64,
    /// How sure a strand is to be long enough, 0.5 to 0.999.
    pub sure: f64,
    /// Cuts are rounded up to whole marks of this, mm.
    pub mark: f64,
    /// Uneven cord at each end that is cut away or hidden, mm.
    pub uneven: f64,
    /// Bought beyond what is cut, share.
    pub waste: f64,
}

/// The maker's own pace.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pace {
    /// Moves a minute while the hands move.
    pub moves_a_minute: f64,
    /// Share of a sitting in which they do.
    pub at_work: f64,
    /// To cut, tie and wind, minutes a strand.
    pub set_up: f64,
    /// To bind, glue and close one piece, minutes.
    pub finish: f64,
}

/// What the maker asks for it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Prices {
    /// The maker's word for the currency; a label only.
    pub currency: String,
    /// Decimal places of its smallest unit, 0 to 4.
    pub places: u8,
    /// An hour of work.
    #[serde(default)]
    pub hour: Option<Money>,
    /// Binding thread, glue and wear, a piece.
    #[serde(default)]
    pub small_things: Option<Money>,
    /// On top of what it costs, per cent.
    pub margin: f64,
    /// Tax on the price, per cent.
    pub tax: f64,
}

/// All that belongs to the maker and not to one design.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Workshop {
    /// Whether the figures are those of the example, invented.
    #[serde(default)]
    pub example: bool,
    /// Fibres on the shelf.
    pub stock: Vec<Stock>,
    /// Findings.
    pub findings: Vec<Finding>,
    /// Bobbins.
    pub bobbins: Vec<Bobbin>,
    /// Where braiding is done.
    pub table: Table,
    /// What is cut off and kept in hand.
    pub cutting: Cutting,
    /// The pace of the hands.
    pub pace: Pace,
    /// Prices.
    pub prices: Prices,
}

impl Default for Workshop {
    /// A hand-held disc of 150 mm, small flat bobbins, a practised hand; an empty
    /// shelf and no prices. Common practice, no source.
    fn default() -> Self {
        Self {
            example: false,
            stock: Vec::new(),
            findings: Vec::new(),
            bobbins: vec![
                flat_bobbin("small flat bobbin", 5.0, 1.5),
                flat_bobbin("medium flat bobbin", 9.0, 2.7),
                flat_bobbin("large flat bobbin", 16.0, 4.5),
            ],
            table: Table::Disc { radius: 75.0 },
            cutting: Cutting {
                start: 40.0,
                hand: 45.0,
                sure: 0.975,
                mark: 10.0,
                uneven: 10.0,
                waste: 0.08,
            },
            pace: Pace {
                moves_a_minute: 24.0,
                at_work: 0.65,
                set_up: 2.5,
                finish: 15.0,
            },
            prices: Prices {
                currency: "€".to_owned(),
                places: 2,
                hour: None,
                small_things: None,
                margin: 0.0,
                tax: 0.0,
            },
        }
    }
}

/// A pace that is off by less than this share, and time at work by less than this share of
/// a sitting, is told no differently. Our guess.
const SAME_PACE: f64 = 0.05;

impl Pace {
    /// The same with the pace that a log tells; none if that is nearly what it is.
    pub fn told_by(self, own: OwnPace) -> Option<Self> {
        let moves = (10.0 * own.moves_a_minute).round() / 10.0;
        let at_work = (100.0 * own.at_work).round() / 100.0;
        let told = Self {
            moves_a_minute: moves.clamp(0.1, 600.0),
            at_work: at_work.clamp(0.05, 1.0),
            ..self
        };
        let faster = told.moves_a_minute / self.moves_a_minute - 1.0;
        let more = told.at_work - self.at_work;
        (faster.abs() > SAME_PACE || more.abs() > SAME_PACE).then_some(told)
    }
}

fn flat_bobbin(name: &str, grams: f64, holds: f64) -> Bobbin {
    Bobbin {
        name: name.to_owned(),
        grams,
        holds,
        there: 8,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_log_that_tells_the_same_pace_changes_nothing() {
        let pace = Workshop::default().pace;
        let own = |moves_a_minute, at_work| OwnPace {
            moves_a_minute,
            uneven: 0.1,
            at_work,
            sittings: 3,
            moves: 900,
        };
        assert_eq!(pace.told_by(own(24.6, 0.67)), None);
        let told = pace.told_by(own(17.04, 0.8)).unwrap();
        assert_eq!((told.moves_a_minute, told.at_work), (17.0, 0.8));
        assert_eq!((told.set_up, told.finish), (pace.set_up, pace.finish));
        assert!(pace.told_by(own(24.0, 0.9)).is_some(), "fewer pauses");
    }
}
