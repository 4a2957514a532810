//! A new length joined to a strand, step by step.
//!
//! Laid along the old end and worked with it for a while, then the old end is left to
//! hang: common practice, no source. How often both are worked is our guess. How far it
//! has come follows from the note and the moves since, so that nothing of it is lost.

use eframe::egui::{Ui, vec2};

use super::super::work::Work;
use crate::app::controls::{Button, chip};
use crate::app::fonts::{Face, Role};
use crate::app::stage::entry::Grain;
use crate::bench::{Note, Noted};
use crate::document::strand_name;
use crate::structure::Braid;

/// How often the strand is lifted with both ends together. Our guess: three or four
/// crossings hold it, and a few more are safe.
const TOGETHER: usize = 6;
/// How much of the new end is left to hang below, mm: enough to hold it.
const TAIL: f64 = 50.0;

/// Which strand gets a new length.
#[derive(Debug, Default)]
pub(super) struct Joining {
    strand: Option<usize>,
}

/// The steps; the note, once the new end lies along the old one.
pub(super) fn joining_ui(ui: &mut Ui, work: &Work<'_>, joining: &mut Joining) -> Option<Note> {
    if let Some((strand, worked)) = under_way(work) {
        together_ui(ui, strand, worked);
        ui.add_space(8.0);
    }
    step(ui, 1, "Which strand is too short?");
    strands_ui(ui, work, joining);
    let strand = joining
        .strand
        .filter(|&strand| strand < work.course.strands())?;
    let letter = strand_name(strand);
    let place = work.lying().places().get(strand).map(|&at| work.phrase(at));
    let tail = Grain::Long.said(TAIL, work.units);
    ui.add_space(4.0);
    let at = place.map_or_else(String::new, |place| format!(", in {place}"));
    step(
        ui,
        2,
        &format!(
            "Lay the new length along strand {letter}{at}: let {tail} of it hang down through the hole, and lay the rest into the same slot."
        ),
    );
    let words = "It lies there";
    let laid = ui.add(Button::main(words)).clicked();
    ui.add_space(4.0);
    let again = format!(
        "Then both are worked as one, {TOGETHER} times; the old end is left to hang, and cut off when the cord is off the disc."
    );
    step(ui, 3, &again);
    laid.then(|| {
        *joining = Joining::default();
        Note::Joined(strand)
    })
}

fn step(ui: &mut Ui, number: usize, words: &str) {
    ui.horizontal_top(|ui| {
        let figure = Role::Text.text(ui, format!("{number}"));
        ui.label(figure.font(Face::Figures.at(20.0)));
        ui.vertical(|ui| Role::Text.label(ui, words));
    });
}

fn strands_ui(ui: &mut Ui, work: &Work<'_>, joining: &mut Joining) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        for strand in 0..work.course.strands() {
            let look = work.looks.of.get(strand).copied().unwrap_or(0);
            let name = work.looks.names.get(look).map_or("", String::as_str);
            let words = format!("{} {name}", strand_name(strand));
            if chip(ui, &words, joining.strand == Some(strand)).clicked() {
                joining.strand = Some(strand);
            }
        }
    });
}

/// How often both ends of it were worked since the new one was laid.
fn together_ui(ui: &mut Ui, strand: usize, worked: usize) {
    let letter = strand_name(strand);
    let words = if worked < TOGETHER {
        format!("Strand {letter}: work both ends as one; {worked} of {TOGETHER} times done.")
    } else {
        format!(
            "Strand {letter}: let the old end hang now, and go on with the new one alone. Cut the old end off when the cord is off the disc."
        )
    };
    let text = Role::Text.text(ui, words);
    ui.label(text.font(Face::Semibold.at(15.0)));
}

/// The strand that was joined last, and how often it was lifted since; none once that is
/// over.
fn under_way(work: &Work<'_>) -> Option<(usize, usize)> {
    let joined = |noted: &Noted| match noted.note {
        Note::Joined(strand) => Some((strand, noted.done)),
        _ => None,
    };
    let (strand, since) = work.course.notes.iter().rev().find_map(joined)?;
    let role = work.course.roles.get(strand).copied()?;
    let worked = lifts(work.braid, role, since, work.course.done);
    (worked <= TOGETHER).then_some((strand, worked))
}

/// How often a strand in this role is lifted between two places; counted no further than
/// is asked.
fn lifts(braid: &Braid, role: usize, since: u64, done: u64) -> usize {
    let at = |done: u64| {
        let done = usize::try_from(done).unwrap_or(usize::MAX);
        braid.places_after(done).get(role).copied()
    };
    let moves = |&done: &u64| at(done) != at(done + 1);
    (since..done).filter(moves).take(TOGETHER + 1).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::shelf;

    #[test]
    fn a_strand_is_counted_as_often_as_it_is_lifted() {
        let braid = Braid::new(&shelf()[0].moves).unwrap();
        let round = braid.lifts().len() as u64;
        let strands = 0..braid.strands();
        let all: usize = strands.map(|role| lifts(&braid, role, 0, round)).sum();
        assert!(all > 0 && all as u64 <= round, "{all} of {round}");
        let first = braid.lifts()[0].strand;
        assert_eq!(lifts(&braid, first, 0, 1), 1);
        assert_eq!(lifts(&braid, first, 5, 5), 0);
        assert_eq!(lifts(&braid, first, 0, 100 * round), TOGETHER + 1);
    }
}
