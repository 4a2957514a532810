//! How far along the cord is: moves, rounds, length, time.

use eframe::egui::{Align2, Rect, Stroke, pos2};

use super::BraidScene;
use super::column::Column;
use crate::app::at_disc::{Doing, steps_of_way};
use crate::app::fonts::Face;
use crate::app::stage::entry::Grain;
use crate::app::stitch;
use crate::app::words;
use crate::quantity::Estimate;

/// Shortest stitch of the seam, points.
const STITCH: f32 = 3.4;

/// Moves that it takes in all, as far as can be told.
fn goal(scene: BraidScene<'_>) -> u64 {
    let goal = scene.work.progress().goal.value;
    goal.round().max(0.0) as u64
}

/// The count, the seam with a stitch a round, and what a stitch is, from the bottom up.
pub(super) fn far_ui(column: &mut Column<'_>, scene: BraidScene<'_>) {
    if matches!(scene.place.doing, Doing::Laying(_)) {
        return;
    }
    // Where room is short the strip says how long it is.
    if !column.tight {
        let stitch = stitch_words(scene, rounds_a_stitch(column, scene));
        notes_ui(column, [&stitch, &pace_words(scene)]);
        notes_ui(column, [&length_words(scene), &rested_words(scene)]);
    }
    seam_ui(column, scene);
    count_ui(column, scene);
}

/// A small line with words at either end.
fn notes_ui(column: &mut Column<'_>, [left, right]: [&str; 2]) {
    let font = column.font(Face::Regular, 14.0);
    let strip = column.bottom(1.5 * font.size);
    let ink = column.theme.ink2;
    let share = left.chars().count() as f32 / (left.chars().count() + right.chars().count()) as f32;
    let split = strip.left() + (share.clamp(0.2, 1.0)) * strip.width();
    let (first, second) = (strip.with_max_x(split - 4.0), strip.with_min_x(split + 4.0));
    column.line(first, Align2::LEFT_CENTER, left, font.clone(), ink);
    column.name(first, left);
    if !right.is_empty() {
        column.line(second, Align2::RIGHT_CENTER, right, font, ink);
        column.name(second, right);
    }
}

fn stitch_words(scene: BraidScene<'_>, rounds: u64) -> String {
    let moves = scene.work.motions().moves_a_round();
    let mm = scene.work.begun().outlook.moves_a_mm.value;
    let long = (moves * rounds) as f64 / mm.max(1e-9);
    let round = match rounds {
        1 => "a round".to_owned(),
        n => format!("{n} rounds"),
    };
    let length = words::length(long, scene.units);
    format!("one stitch is {round} of {moves} moves, {length} of cord")
}

fn pace_words(scene: BraidScene<'_>) -> String {
    if scene.work.progress().time.is_own {
        return "at your own pace".to_owned();
    }
    let pace = scene.work.begun().outlook.pace.moves_a_minute;
    format!("at {pace:.0} a minute, guessed")
}

/// "16.0 cm on the disc, 15.6 to 16.4".
fn length_words(scene: BraidScene<'_>) -> String {
    let made = scene.work.progress().on_disc;
    format!("{} on the disc", spread(made, scene))
}

fn rested_words(scene: BraidScene<'_>) -> String {
    let rested = scene.work.progress().rested;
    format!("{} rested", spread(rested, scene))
}

fn spread(length: Estimate, scene: BraidScene<'_>) -> String {
    let bare = |mm: f64| Grain::Long.bare(mm.round(), scene.units);
    let said = Grain::Long.said(length.value.round(), scene.units);
    match (bare(length.low), bare(length.high)) {
        (low, high) if low == high => said,
        (low, high) => format!("{said} ({low} to {high})"),
    }
}

/// Rounds that one stitch of the seam stands for.
fn rounds_a_stitch(column: &Column<'_>, scene: BraidScene<'_>) -> u64 {
    let rounds = goal(scene).div_ceil(scene.work.motions().moves_a_round().max(1));
    let room = (column.left.width() / STITCH).max(1.0) as u64;
    let needed = rounds.div_ceil(room.max(1)).max(1);
    [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000]
        .into_iter()
        .find(|it| *it >= needed)
        .unwrap_or(needed)
}

fn seam_ui(column: &mut Column<'_>, scene: BraidScene<'_>) {
    let strip = column.bottom(30.0 * column.scale.max(0.5));
    let all = goal(scene).max(scene.place.done).max(1) as f64;
    let share = (scene.place.done as f64 / all).clamp(0.0, 1.0) as f32;
    let a_stitch = scene.work.motions().moves_a_round() * rounds_a_stitch(column, scene);
    let wide = strip.width() * (a_stitch as f64 / all).min(1.0) as f32;
    let ring = 7.0;
    let (y, x) = (
        strip.center().y,
        (strip.left() + share * strip.width()).clamp(strip.left() + ring, strip.right() - ring),
    );
    let painter = column.ui.painter();
    let open = [pos2(x + 10.0, y), pos2(strip.right(), y)];
    if open[0].x < open[1].x {
        painter.extend(stitch::dotted(&open, 2.6, 7.0, column.theme.ink3));
    }
    let mut from = strip.left();
    while from < x - 0.5 {
        let to = (from + 0.74 * wide).min(x);
        let ends = vec![pos2(from, y), pos2(to, y)];
        painter.extend(stitch::thread(ends, 3.0, column.theme.thread));
        from += wide;
    }
    let line = Stroke::new(2.6, column.theme.thread);
    painter.circle(pos2(x, y), ring, column.theme.paper, line);
}

fn count_ui(column: &mut Column<'_>, scene: BraidScene<'_>) {
    let big = column.font(Face::Figures, if column.tight { 52.0 } else { 42.0 });
    let strip = column.bottom(1.05 * big.size);
    let (done, theme) = (scene.place.done.to_string(), column.theme);
    let painter = column.ui.painter();
    let at = strip.left_bottom();
    let drawn = painter.text(at, Align2::LEFT_BOTTOM, &done, big.clone(), theme.ink);
    let base = strip.bottom() - 0.12 * big.size;
    let rest = Rect::from_min_max(
        pos2(drawn.right() + 0.25 * big.size, strip.top()),
        pos2(strip.right(), base),
    );
    let (of, time) = (
        of_words(scene, column.tight),
        time_words(scene, column.tight),
    );
    let split = rest.left() + 0.56 * rest.width();
    let italic = column.font(Face::Italic, 20.0);
    let left = rest.with_max_x(split - 6.0);
    column.line(left, Align2::LEFT_BOTTOM, &of, italic, theme.ink2);
    let font = column.font(Face::Medium, 16.0);
    let right = rest.with_min_x(split + 6.0);
    column.line(right, Align2::RIGHT_BOTTOM, &time, font, theme.ink2);
    column.name(strip, &format!("{done} {of}, {time}"));
}

/// "of about 576 moves, round 27".
fn of_words(scene: BraidScene<'_>, short: bool) -> String {
    if short {
        return format!("of {}", goal(scene));
    }
    let round = scene.place.done / scene.work.motions().moves_a_round().max(1);
    format!("of about {} moves, round {}", goal(scene), round + 1)
}

/// "about 25 min to go, 20 to 31".
fn time_words(scene: BraidScene<'_>, short: bool) -> String {
    let progress = scene.work.progress();
    if progress.is_long_enough() {
        return "long enough".to_owned();
    }
    let time = progress.time.in_all;
    let by = |minutes: f64| match time.value < 90.0 {
        true => format!("{:.0}", minutes.max(1.0)),
        false => format!("{:.1}", minutes / 60.0),
    };
    let unit = if time.value < 90.0 { "min" } else { "h" };
    let about = format!("about {} {unit} to go", by(time.value));
    match short {
        true => about,
        false => format!("{about} ({} to {})", by(time.low), by(time.high)),
    }
}

/// What a reader hears when the place changes.
pub(super) fn spoken(scene: BraidScene<'_>) -> String {
    let spoken = &scene.prompt.spoken;
    match &scene.place.doing {
        Doing::Moving(_) => format!(
            "move {} of about {}, {spoken}",
            scene.place.done + 1,
            goal(scene)
        ),
        Doing::Returning(_) => {
            let (made, all) = steps_of_way(scene.work);
            format!("take back, step {} of {all}, {spoken}", made + 1)
        }
        Doing::Laying(_) | Doing::Off => spoken.clone(),
    }
}
