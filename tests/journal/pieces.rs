//! Pieces to be worked.

use plaitwright::bench::{Course, Entry, Stamped};
use plaitwright::document::{Begun, Design, Journal};
use plaitwright::plan::{Outlook, StrandOutlook, Table, Workshop};
use plaitwright::quantity::Estimate;
use plaitwright::structure::shelf;

/// The design that all pieces here are of.
pub(crate) const DESIGN: &str = "0123456789abcdef";

/// An outlook of so many moves; its other figures are of no cord.
fn outlook(strands: usize, goal: f64) -> Outlook {
    let exact = Estimate::exact;
    let strand = StrandOutlook {
        length: 900.0,
        start: exact(40.0),
        takes: exact(1.6),
        reach: exact(120.0),
        tassel: exact(0.0),
        on_bobbin: Some(1500.0),
        pay_out: 225.0,
    };
    Outlook {
        goal: exact(goal),
        on_disc: exact(466.0),
        rested: exact(450.0),
        moves_a_mm: exact(goal / 466.0),
        rested_share: exact(0.965),
        strands: vec![strand; strands],
        table: Table::Disc { radius: 75.0 },
        counterweight: 70.0,
        pace: Workshop::default().pace,
    }
}

/// A piece of the ready structure with this number on the shelf.
pub(crate) fn begun(structure: usize, seed: u64) -> Begun {
    let design = Design::fresh(&shelf()[structure]);
    let outlook = outlook(design.strands.len(), 600.0);
    Begun::new(DESIGN.into(), design, outlook, 1_764_180_000_000, seed)
}

/// An entry at a time.
pub(crate) fn at(at: u64, entry: Entry) -> Stamped {
    Stamped { at, entry }
}

/// Writes so many moves, one by one.
pub(crate) fn work(journal: &mut Journal, moves: u64) {
    let done = journal.course().done;
    for done in done + 1..=done + moves {
        let when = 1_764_180_000_000 + 1000 * done;
        journal.write(&at(when, Entry::Done(done))).unwrap();
    }
}
/// The course of these entries.
pub(crate) fn course(strands: usize, entries: &[Stamped]) -> Course {
    let mut course = Course::new(strands);
    for stamped in entries {
        course.take(stamped).unwrap();
    }
    course
}
