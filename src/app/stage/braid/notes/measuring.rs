//! A length that was measured on the disc, and what the measures change.

use eframe::egui::{Align, Layout, Ui};

use super::super::work::Work;
use crate::app::controls::{Notice, Tone};
use crate::app::fonts::{Face, Role};
use crate::app::stage::entry::{Grain, LengthEntry};
use crate::app::stage::steps::long;
use crate::bench::{Course, Motions, Note, own_pace, sittings};
use crate::plan::{Progress, progress};
use crate::quantity::Estimate;

/// Shortest and longest cord that is measured, mm. Our guess, wide.
const RANGE: (f64, f64) = (1.0, 20_000.0);

/// A field for the length; under it what the last measure changed.
pub(super) fn measuring_ui(ui: &mut Ui, work: &Work<'_>) -> Option<Note> {
    let now = of(work, work.course);
    Role::Text.label(
        ui,
        "Measure the cord as it hangs on the disc, from the hole down to where it begins.",
    );
    let entered = ui.horizontal(|ui| {
        let entry = LengthEntry {
            name: "measured length",
            grain: Grain::Long,
            mm: (now.on_disc.value * 10.0).round() / 10.0,
            range: RANGE,
            units: work.units,
            width: 110.0,
        };
        let entered = entry.show_open(ui, false, "");
        let counted = long(now.on_disc, work.units);
        let spread = match counted.spread.as_str() {
            "" => String::new(),
            spread => format!(" ({spread})"),
        };
        Role::Note.label(ui, format!("by counting {}{spread}", counted.figure));
        entered
    });
    ui.add_space(6.0);
    changes_ui(ui, work, &now);
    entered.inner.flatten().map(Note::Measured)
}

fn of(work: &Work<'_>, course: &Course) -> Progress {
    let round = Motions::of(work.braid).moves_a_round();
    progress(work.outlook, course, round, own_pace(&sittings(course)))
}

/// What was expected before the last measure, and since.
fn changes_ui(ui: &mut Ui, work: &Work<'_>, now: &Progress) {
    let Some(before) = before_the_last(work.course) else {
        return;
    };
    for doubt in &now.doubts {
        Notice {
            tone: Tone::Caution,
            happened: doubt,
            kept: "",
            advice: "",
        }
        .show(ui);
    }
    let before = of(work, &before);
    let text = Role::Text.text(ui, "The last measure changes");
    ui.label(text.font(Face::Semibold.at(14.0)));
    let length = |length: Estimate| long(length, work.units).figure;
    let moves = |moves: Estimate| format!("{:.0}", moves.value);
    let minutes = |minutes: Estimate| format!("{:.0} min", minutes.value);
    let rows = [
        (
            "cord so far, on the disc",
            length(before.on_disc),
            length(now.on_disc),
        ),
        (
            "the same, rested",
            length(before.rested),
            length(now.rested),
        ),
        ("moves to go", moves(before.to_go), moves(now.to_go)),
        (
            "time to go",
            minutes(before.time.in_all),
            minutes(now.time.in_all),
        ),
    ];
    for (name, was, is) in rows {
        ui.horizontal(|ui| {
            Role::Note.label(ui, name);
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let words = if was == is {
                    format!("{is}, as before")
                } else {
                    format!("{was} → {is}")
                };
                Role::Text.label(ui, words);
            });
        });
    }
}

/// The story without the last measure; none where nothing was measured.
fn before_the_last(course: &Course) -> Option<Course> {
    let is_measure = |note: &Note| matches!(note, Note::Measured(_));
    let last = course.notes.iter().rposition(|it| is_measure(&it.note))?;
    let mut before = course.clone();
    before.notes.remove(last);
    Some(before)
}
