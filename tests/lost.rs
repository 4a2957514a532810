//! Careless hands: whether what they did is told from what lies on the disc.
//!
//! The hands know discs, written moves and what people do, and nothing of how their
//! mistakes are found. Which mistakes they make, and how often, is our guess.
//!
//! `PLAIT_HANDS=all cargo test --test lost -- --nocapture` makes mistakes in great
//! number and prints the tables that DEVELOPERS.md shows; `PLAIT_HANDS=` and the key of
//! one case shows that case.
#![expect(clippy::unwrap_used, reason = "a test may panic")]
#![expect(clippy::print_stdout, reason = "the tables are to be read")]

#[path = "lost/cases.rs"]
mod cases;
#[path = "lost/ceiling.rs"]
mod ceiling;
#[path = "lost/cord.rs"]
mod cord;
#[path = "lost/disc.rs"]
mod disc;
#[path = "lost/judge.rs"]
mod judge;
#[path = "lost/limits.rs"]
mod limits;
#[path = "lost/measure.rs"]
mod measure;
#[path = "lost/oracle.rs"]
mod oracle;
#[path = "lost/person.rs"]
mod person;
#[path = "lost/report.rs"]
mod report;
#[path = "lost/slips.rs"]
mod slips;
#[path = "lost/soundness.rs"]
mod soundness;
#[path = "lost/sweep.rs"]
mod sweep;
#[path = "lost/tally.rs"]
mod tally;
#[path = "lost/telling.rs"]
mod telling;
#[path = "lost/work.rs"]
mod work;
