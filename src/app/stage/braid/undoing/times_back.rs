//! To an hour of the clock: before a pause, or one that is typed.

use eframe::egui::Ui;

use super::super::work::Work;
use super::so_far_back;
use crate::app::clock;
use crate::app::controls::{Entered, Field, Pick, hairline};
use crate::app::fonts::{Face, Role};
use crate::bench::{Course, Note, sittings};

/// Pauses that are listed.
const MOST: usize = 8;

/// Pauses, the last first, and a field; the moves that are left then.
pub(super) fn times_ui(ui: &mut Ui, work: &Work<'_>, now: u64, lands: Option<u64>) -> Option<u64> {
    let pauses = breaks(work.course);
    let mut chosen = None;
    let shown = pauses.iter().rev().filter(|it| it.done < work.course.done);
    for pause in shown.take(MOST) {
        let when = clock::moment(pause.at, now);
        let words = marked(work.course, pause.done);
        let title = format!("{when}, before a break of {}{words}", lasting(pause.lasts));
        let far = so_far_back(work, pause.done);
        let line = format!("after move {}; {far}", pause.done);
        let name = format!("{title}, {line}");
        let row = Pick::row(&name, lands == Some(pause.done), 58.0);
        let response = row.show(ui, |ui| {
            let text = Role::Text.text(ui, &title);
            ui.label(text.font(Face::Semibold.at(15.0)));
            Role::Note.label(ui, line.clone());
        });
        if response.clicked() {
            chosen = Some(pause.done);
        }
    }
    if pauses.is_empty() {
        Role::Text.label(ui, "There was no break yet that shows in the log.");
    }
    ui.add_space(4.0);
    hairline(ui);
    hour_ui(ui, work, now).or(chosen)
}

/// The words of a mark that was set where the break began.
fn marked(course: &Course, done: u64) -> String {
    let mark = course.notes.iter().rev().find_map(|it| match &it.note {
        Note::Mark(words) if it.done == done => Some(words),
        _ => None,
    });
    mark.map_or_else(String::new, |words| format!(": {words}"))
}

/// A field for the hour.
fn hour_ui(ui: &mut Ui, work: &Work<'_>, now: u64) -> Option<u64> {
    let entered = ui.horizontal(|ui| {
        Role::Text.label(ui, "or to how it stood at");
        let hint = clock::hour(now);
        let field = Field::new("hour of the clock").hint(&hint).width(96.0);
        field.show(ui, "", |text| read(text, work.course, now))
    });
    match entered.inner {
        Some(Entered::Value(done)) => done,
        _ => None,
    }
}

/// The moves that were done at an hour.
fn read(text: &str, course: &Course, now: u64) -> Result<Option<u64>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let at = clock::read_hour(text, now).ok_or("an hour, please: 14:20")?;
    match done_at(course, at) {
        Some(done) if done < course.done => Ok(Some(done)),
        Some(_) => Err("nothing was worked since then".to_owned()),
        None => Err("the work was not begun then".to_owned()),
    }
}

/// A time without a move, and the place at which it began.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Break {
    /// When it began, ms since the beginning of 1970.
    at: u64,
    /// How long it took, ms.
    lasts: u64,
    /// Moves that were done.
    done: u64,
}

/// All pauses and the times between sittings, the first first.
fn breaks(course: &Course) -> Vec<Break> {
    let sittings = sittings(course);
    let mut all = Vec::new();
    for (place, sitting) in sittings.iter().enumerate() {
        all.extend(sitting.pauses.iter().map(|it| (it.begins, it.lasts)));
        let next = sittings.get(place + 1).map(|next| next.begins);
        all.extend(next.map(|next| (sitting.ends, next.saturating_sub(sitting.ends))));
    }
    let at_place = |(at, lasts)| {
        let done = done_at(course, at)?;
        Some(Break { at, lasts, done })
    };
    all.into_iter().filter_map(at_place).collect()
}

/// Moves that were done at a time; none before the first.
fn done_at(course: &Course, at: u64) -> Option<u64> {
    let before = course.log.iter().rfind(|(_, then)| *then <= at);
    before.map(|(done, _)| *done)
}

/// `12 min`, `1 h 5 min`.
fn lasting(ms: u64) -> String {
    let minutes = (ms + 30_000) / 60_000;
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn worked() -> Course {
        let mut course = Course::new(4);
        let minute = 60_000;
        course.log = vec![
            (1, minute),
            (2, minute + 4_000),
            (3, 14 * minute),
            (4, 15 * minute),
            (5, 80 * minute),
        ];
        course.done = 5;
        course
    }

    #[test]
    fn breaks_are_pauses_and_the_times_between_sittings() {
        let breaks = breaks(&worked());
        let told: Vec<_> = breaks
            .iter()
            .map(|it| (it.done, lasting(it.lasts)))
            .collect();
        assert_eq!(
            told,
            [(2, "13 min".to_owned()), (4, "1 h 5 min".to_owned())]
        );
    }

    #[test]
    fn what_was_done_at_a_time_is_the_last_move_before_it() {
        let course = worked();
        assert_eq!(done_at(&course, 0), None);
        assert_eq!(done_at(&course, 10 * 60_000), Some(2));
        assert_eq!(done_at(&course, u64::MAX), Some(5));
    }
}
