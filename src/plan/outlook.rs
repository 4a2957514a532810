//! What is expected of one cord, frozen when it is begun.
//!
//! A cord under way is judged by what its maker cut and wound for it, not by what the
//! design says now. So the outlook is kept with the piece, whole, in plain figures:
//! lengths in mm, masses in g. It is of the piece's own size and of one cord.
//!
//! Knows no place: how far the work has come is asked elsewhere.

use serde::{Deserialize, Serialize};

use super::cut::{Bench, CutList, Uses, cut_list, product};
use super::workshop::{Pace, Table};
use super::{Job, bobbin, run};
use crate::quantity::{Estimate, propagated};

/// What is expected of one cord.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Outlook {
    /// Moves that it takes.
    pub goal: Estimate,
    /// Cord that is braided, as it hangs on the disc, mm.
    pub on_disc: Estimate,
    /// The same, off the weight and rested, mm.
    pub rested: Estimate,
    /// Moves for a mm of cord on the disc.
    pub moves_a_mm: Estimate,
    /// Rested length over the length on the disc.
    pub rested_share: Estimate,
    /// What each strand was cut to and uses, in the order of the set-up.
    pub strands: Vec<StrandOutlook>,
    /// Where it is braided.
    pub table: Table,
    /// Counterweight, g; 0 if none hangs there.
    pub counterweight: f64,
    /// The pace of the hands as the workshop has it.
    pub pace: Pace,
}

/// What one strand was cut to and uses.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StrandOutlook {
    /// As it was cut, mm; of a length folded in two one half.
    pub length: f64,
    /// Of it used up by the start, mm.
    pub start: Estimate,
    /// Strand that a mm of cord on the disc takes, mm.
    pub takes: Estimate,
    /// What must be left on it to be moved, mm: out to the slot or bobbin and into the
    /// hand.
    pub reach: Estimate,
    /// What must be left beyond that for a tassel, mm.
    pub tassel: Estimate,
    /// What its bobbin takes, mm; none if it hangs without one.
    pub on_bobbin: Option<f64>,
    /// What is let off the bobbin at a time, from the hole on, mm.
    pub pay_out: f64,
}

/// Why an outlook cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum OutlookError {
    /// It is of another number of strands.
    #[error("it is of {outlook} strands and the cord has {cord}")]
    Strands {
        /// Strands of the outlook.
        outlook: usize,
        /// Strands of the cord.
        cord: usize,
    },
    /// A figure that is none, lies outside its spread or outside anything braided.
    #[error("{what} cannot be {value}")]
    Figure {
        /// Which figure.
        what: String,
        /// What it is.
        value: f64,
    },
}

/// What is expected of the cord of a job, one of the piece's own size.
pub fn outlook(job: &Job<'_>) -> Outlook {
    let runs = &run::runs(job)[..1];
    let own = &runs[0];
    let list = cut_list(job, runs);
    let rested_share = propagated(&[job.figures.off_weight], |x| 1.0 + 0.01 * x[0]);
    Outlook {
        goal: own.moves,
        on_disc: own.on_disc,
        rested: own.rested,
        moves_a_mm: job.figures.moves_per_cm.times(0.1),
        rested_share,
        strands: strands(job, &list, rested_share),
        table: job.workshop.table,
        counterweight: job.counterweight,
        pace: job.workshop.pace,
    }
}

fn strands(job: &Job<'_>, list: &CutList, rested_share: Estimate) -> Vec<StrandOutlook> {
    let bobbins = bobbin::bobbins(job, list);
    let bench = Bench {
        job,
        run: &list.runs[0],
    };
    let one = |strand: usize| {
        let has = |group: &Vec<usize>| group.contains(&strand);
        let number = list.cuts.iter().position(|cut| cut.strands.iter().any(has));
        let number = number.expect("every strand is cut");
        let wound = bobbins.wound.iter().find(|wound| wound.cut == number);
        let wound = wound.expect("every strand that is no core is wound or hangs");
        let cut = &list.cuts[number];
        let Uses {
            start,
            reach,
            tassel,
        } = bench.uses(strand, cut.is_folded());
        StrandOutlook {
            length: cut.strand_length(),
            start,
            takes: product(bench.take_up(strand), rested_share),
            reach,
            tassel,
            on_bobbin: (!wound.hangs).then_some(1000.0 * wound.holds),
            pay_out: wound.pay_out,
        }
    };
    (0..job.strands.len()).map(one).collect()
}

/// Longest length that is believed, mm: a kilometre.
const LONGEST: f64 = 1e6;
/// Most moves that are believed.
const MOST_MOVES: f64 = 1e8;

impl Outlook {
    /// Whether every figure in it can be, for a cord of so many strands. The bounds are
    /// far outside anything braided; they only keep nonsense out of the sums.
    ///
    /// # Errors
    ///
    /// The first figure that cannot be.
    pub fn check(&self, strands: usize) -> Result<(), OutlookError> {
        if self.strands.len() != strands {
            return Err(OutlookError::Strands {
                outlook: self.strands.len(),
                cord: strands,
            });
        }
        check("the number of moves", self.goal, 0.0, MOST_MOVES)?;
        check("the length on the disc", self.on_disc, 0.0, LONGEST)?;
        check("the rested length", self.rested, 0.0, LONGEST)?;
        check("moves for a mm", self.moves_a_mm, 1e-6, 1e6)?;
        check("the rested share", self.rested_share, 1e-3, 1e3)?;
        for (place, strand) in self.strands.iter().enumerate() {
            strand.check(place + 1)?;
        }
        let (Table::Disc { radius: far } | Table::Stand { reach: far }) = self.table;
        number("the size of the disc or stand", far, 0.0, LONGEST)?;
        number("the counterweight", self.counterweight, 0.0, LONGEST)?;
        let pace = &self.pace;
        number("moves a minute", pace.moves_a_minute, 1e-3, 1e6)?;
        number("the share of time at work", pace.at_work, 1e-3, 1.0)
    }
}

impl StrandOutlook {
    fn check(&self, place: usize) -> Result<(), OutlookError> {
        let of = |what: &str| format!("{what} of strand {place}");
        number(of("the length"), self.length, 0.0, LONGEST)?;
        check(of("the start"), self.start, 0.0, LONGEST)?;
        check(of("what a mm takes"), self.takes, 0.0, 1e3)?;
        check(of("the reach"), self.reach, 0.0, LONGEST)?;
        check(of("the tassel"), self.tassel, 0.0, LONGEST)?;
        let holds = self.on_bobbin.unwrap_or(0.0);
        number(of("what the bobbin takes"), holds, 0.0, LONGEST)?;
        number(of("what is let off"), self.pay_out, 0.0, LONGEST)
    }
}

/// Whether a figure lies between `least` and `most` and within its own spread. The ends of
/// the spread need only be figures: a wide one may well reach below nought.
fn check(
    what: impl Into<String>,
    Estimate { value, low, high }: Estimate,
    least: f64,
    most: f64,
) -> Result<(), OutlookError> {
    let is_spread = low.is_finite() && high.is_finite() && low <= value && value <= high;
    number(what, if is_spread { value } else { f64::NAN }, least, most)
}

fn number(what: impl Into<String>, value: f64, least: f64, most: f64) -> Result<(), OutlookError> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(OutlookError::Figure {
        what: what.into(),
        value,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::trial::{Trial, satin};
    use crate::plan::{End, plan};

    /// Eight satin strands, 450 mm of cord, take-up 1.6.
    fn eight() -> Trial {
        let mut trial = Trial::of(vec![satin(); 8], 1.6);
        trial.length(450.0);
        trial
    }

    #[test]
    fn it_says_what_the_plan_says() {
        let mut trial = eight();
        trial.size("long", 100.0);
        trial.cores = vec![satin()];
        let (plan, outlook) = (plan(&trial.job()), outlook(&trial.job()));
        assert_eq!(outlook.check(8), Ok(()));
        assert_eq!(
            (outlook.goal, outlook.on_disc),
            (plan.cut.moves, plan.cut.on_disc)
        );
        assert_eq!(outlook.rested, plan.length.total);
        let cut = |strand: usize| {
            let own = |cut: &&crate::plan::Cut| cut.strands.contains(&vec![strand]);
            plan.cut.cuts.iter().filter(|cut| cut.run == 0).find(own)
        };
        for (strand, one) in outlook.strands.iter().enumerate() {
            assert_eq!(Some(one.length), cut(strand).map(|cut| cut.length));
        }
    }

    /// 450 · 1.6 lie in the cord, 40 in the start; 75 + 45 must be left.
    #[test]
    fn a_strand_is_the_cord_its_start_and_its_reach() {
        let one = outlook(&eight().job()).strands.remove(0);
        assert_eq!((one.start.value, one.reach.value), (40.0, 120.0));
        assert!((one.takes.value - 1.6 * 0.965).abs() < 1e-9, "{one:?}");
        let needed = 720.0 + 40.0 + 120.0;
        assert!(
            one.length >= needed && one.length < needed + 60.0,
            "{one:?}"
        );
        let on_bobbin = one.on_bobbin.unwrap();
        assert!((on_bobbin - 1500.0).abs() < 1e-6, "{one:?}");
        assert_eq!(one.pay_out, 225.0);
    }

    #[test]
    fn a_tassel_must_be_left_a_fold_needs_no_start_and_a_short_strand_hangs() {
        let mut trial = eight();
        trial.piece.ends[1] = End::Tassel { length: 150.0 };
        let one = outlook(&trial.job()).strands.remove(0);
        assert_eq!((one.reach.value, one.tassel.value), (120.0, 30.0));
        trial.piece.folded = true;
        assert_eq!(outlook(&trial.job()).strands[0].start.value, 0.0);
        trial.length(100.0);
        assert_eq!(outlook(&trial.job()).strands[0].on_bobbin, None);
    }

    #[test]
    fn it_reads_back_the_same_and_nonsense_is_told() {
        let outlook = outlook(&eight().job());
        let text = ron::to_string(&outlook).unwrap();
        assert_eq!(ron::from_str::<Outlook>(&text).unwrap(), outlook);
        let told = |change: fn(&mut Outlook)| {
            let mut other = outlook.clone();
            change(&mut other);
            other.check(8).map_err(|error| error.to_string())
        };
        let none = told(|o| o.strands[2].takes.high = f64::NAN);
        assert_eq!(
            none,
            Err("what a mm takes of strand 3 cannot be NaN".into())
        );
        let below = told(|o| o.counterweight = -1.0);
        assert_eq!(below, Err("the counterweight cannot be -1".into()));
        let outside = told(|o| o.goal.low = o.goal.value + 1.0);
        assert!(outside.is_err());
        let fewer = told(|o| o.strands.truncate(7));
        assert_eq!(fewer, Err("it is of 7 strands and the cord has 8".into()));
    }
}
