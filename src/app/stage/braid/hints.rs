//! What is due soon: thread to be fed out, the weight, the end of a strand, the length.

use eframe::egui::{Color32, Rect, vec2};

use super::BraidScene;
use super::column::Column;
use crate::app::at_disc::{Doing, Hands};
use crate::app::clock::now;
use crate::app::command::Command;
use crate::app::controls::link;
use crate::app::fonts::Face;
use crate::app::icons::Icon;
use crate::app::stage::entry::Grain;
use crate::app::words;
use crate::bench::{Entry, should_rest, without_rest};
use crate::document::strand_name;

/// Draws those that there is room for, the most pressing first.
pub(super) fn hints_ui(column: &mut Column<'_>, scene: BraidScene<'_>, wants: &mut Vec<Command>) {
    if !matches!(scene.place.doing, Doing::Moving(_)) {
        return;
    }
    column.gap(6.0);
    enough_ui(column, scene, wants);
    for (icon, words) in hints(scene) {
        let colour = match icon {
            Icon::Warn => column.theme.caution,
            _ => column.theme.ink,
        };
        hint_ui(column, icon, &words, colour);
    }
}

fn hint_ui(column: &mut Column<'_>, icon: Icon, words: &str, colour: Color32) {
    let font = column.font(Face::Semibold, 15.0);
    let indent = 30.0;
    let painter = column.ui.painter();
    let wide = column.left.width() - indent;
    let galley = painter.layout(words.to_owned(), font, colour, wide);
    let tall = galley.size().y + 8.0;
    if tall > column.left.height() {
        return;
    }
    let strip = column.top(tall);
    let painter = column.ui.painter();
    let spot = strip.left_center() + vec2(11.0, 0.0);
    icon.paint(painter, spot, 18.0, colour);
    let at = strip.left_top() + vec2(indent, 4.0);
    painter.galley(at, galley, colour);
    column.name(strip, words);
}

/// That it is long enough, and the way off the disc.
fn enough_ui(column: &mut Column<'_>, scene: BraidScene<'_>, wants: &mut Vec<Command>) {
    if !scene.work.progress().is_long_enough() {
        return;
    }
    let wanted = scene.work.progress().wanted.value.round();
    let long = Grain::Long.said(wanted, scene.units);
    let words = format!("Long enough by the count: measure it, {long} as it hangs.");
    hint_ui(column, Icon::Check, &words, column.theme.ok);
    let strip = column.top(28.0);
    let link_at: Rect = strip.with_min_x(strip.left() + 30.0);
    if column.controls(link_at, "off", |ui| {
        link(ui, "it is off the disc").clicked()
    }) {
        wants.push(Command::AtDisc(Hands::Write(Entry::Finished)));
    }
}

/// The hints that are due within a round, and what can go wrong before the end.
fn hints(scene: BraidScene<'_>) -> Vec<(Icon, String)> {
    let (progress, round) = (scene.work.progress(), scene.work.motions().moves_a_round());
    let soon = |moves: f64| moves <= round as f64;
    let mut hints = Vec::new();
    hints.extend(runs_out(scene));
    if let Some((strands, moves)) = progress.next_feed(round).filter(|it| soon(it.1.value)) {
        let letters: Vec<String> = strands.iter().map(|&it| strand_name(it)).collect();
        let letters: Vec<&str> = letters.iter().map(String::as_str).collect();
        let which = match strands.len() {
            n if n == scene.work.course().strands() => "all strands".to_owned(),
            _ => words::list(&letters),
        };
        hints.push((
            Icon::Down,
            format!("Feed out thread {}: {which}.", due(moves.value)),
        ));
    }
    if let Some(moves) = progress.weight_up.filter(|it| soon(it.value)) {
        hints.push((
            Icon::Up,
            format!("Move the weight up {}.", due(moves.value)),
        ));
    }
    let doubts = progress.doubts.iter();
    hints.extend(doubts.map(|words| (Icon::Warn, words.clone())));
    hints.extend(rest(scene));
    hints
}

/// The first strand that will not reach, or whose length is to be joined soon.
fn runs_out(scene: BraidScene<'_>) -> Option<(Icon, String)> {
    let out = scene.work.progress().first_out()?;
    let strand = strand_name(out.strand);
    let at = out.at.value.round().max(0.0);
    let left = at - scene.place.done as f64;
    let soon = 3.0 * scene.work.motions().moves_a_round() as f64;
    if out.to_be_joined {
        let words = format!("The length of strand {strand} ends about move {at}: join the next.");
        return (left <= soon).then_some((Icon::Plus, words));
    }
    let how = match out.before_the_end {
        p if p >= 0.8 => "will not reach",
        p if p >= 0.5 => "will likely not reach",
        p if p >= 0.2 => "may not reach",
        _ => return None,
    };
    let words = format!("Strand {strand} {how} the end: it is short from about move {at}.");
    Some((Icon::Warn, words))
}

/// A quiet word after long work without a rest.
fn rest(scene: BraidScene<'_>) -> Option<(Icon, String)> {
    let (course, now) = (scene.work.course(), now());
    let long = without_rest(course, now).filter(|_| should_rest(course, now))?;
    let minutes = long / 60_000;
    let words = format!("{minutes} minutes without a rest: let the hands rest a while.");
    Some((Icon::Hand, words))
}

fn due(moves: f64) -> String {
    match moves.round().max(0.0) as u64 {
        0 => "now".to_owned(),
        1 => "after this move".to_owned(),
        n => format!("within {} moves", words::count(n as usize)),
    }
}
