//! By a number of moves.

use eframe::egui::{Ui, vec2};

use super::super::work::Work;
use crate::app::controls::chip;
use crate::app::fonts::Role;
use crate::app::stage::entry::NumberEntry;
use crate::bench::Motions;

/// A field, and what is often meant; the moves that are left then.
pub(super) fn number_ui(ui: &mut Ui, work: &Work<'_>, lands: Option<u64>) -> Option<u64> {
    let done = work.course.done;
    let back = lands.map_or(0, |lands| done - lands);
    let mut chosen = None;
    ui.horizontal(|ui| {
        let entry = NumberEntry {
            name: "moves to take back",
            unit: "moves",
            value: back as f64,
            range: (0.0, done as f64),
            step: 1.0,
            width: 130.0,
        };
        if let Some(entered) = entry.show(ui) {
            chosen = Some(done - (entered.round() as u64).min(done));
        }
        Role::Note.label(ui, format!("of {done}"));
    });
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        for (words, many) in often(work) {
            if many <= done && chip(ui, &words, back == many).clicked() {
                chosen = Some(done - many);
            }
        }
    });
    chosen
}

/// The last pair, and rounds.
fn often(work: &Work<'_>) -> Vec<(String, u64)> {
    let motions = Motions::of(work.braid);
    let done = work.course.done;
    let pair = motions.before(done).map_or(1, |last| {
        let pair = motions.pair(last.begins);
        done - pair.first().map_or(last.begins, |first| first.begins)
    });
    let round = motions.moves_a_round();
    let last = match pair {
        1 => "the last move".to_owned(),
        pair => format!("the last pair, {pair}"),
    };
    let mut often = vec![(last, pair)];
    often.extend([1, 2, 5, 10].map(|many| {
        let plural = if many == 1 { "" } else { "s" };
        (
            format!("{many} round{plural}, {}", many * round),
            many * round,
        )
    }));
    often.dedup_by_key(|(_, many)| *many);
    often
}
