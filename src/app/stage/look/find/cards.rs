//! What was found, as cords: solved one by one, sorted by section and thickness.

use std::cmp::Ordering;

use eframe::egui::{Align, Label, Layout, Sense, Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{Pick, tip};
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::{Face, Role};
use crate::app::theme::Theme;
use crate::cord::{Cord as SolvedCord, Firmness};
use crate::document::Edit;
use crate::structure::MoveList;

use super::super::LookView;
use super::super::structures::{dotted, ground, order, sample_picture, sample_threads, slides};
use super::Wish;
use super::search::Cord;

/// Height of a picture.
const PICTURE: f32 = 40.0;
/// Most cards that are drawn; more are counted.
const MOST_CARDS: usize = 200;
/// Most lines of a list under the pointer.
const MOST_LINES: usize = 12;

/// The cards, and how they are sorted.
pub(super) fn cards_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let wish = view.find.wish;
    let mut shown: Vec<(usize, Cord)> = view.find.found.iter().cloned().enumerate().collect();
    shown.retain(|(_, cord)| is_wished(cord, solved(desk, cord), wish));
    shown.sort_by(|(a, one), (b, other)| by_likeness(desk, one, other, wish).then(a.cmp(b)));
    if view.find.found.is_empty() {
        return;
    }
    let hidden = view.find.found.len() - shown.len();
    let by = if wish.is_springy {
        "the springiest first"
    } else {
        "by section, then thickness"
    };
    let rest = if hidden > 0 {
        format!("; {hidden} are not as wished")
    } else {
        String::new()
    };
    let text = Role::Note.text(ui, format!("{} shown, {by}{rest}", shown.len()));
    ui.add(Label::new(text).wrap());
    for (number, cord) in shown.into_iter().take(MOST_CARDS) {
        card_ui(ui, number, &cord, desk, view, easel, wants);
    }
}

/// Under which its sample is solved.
fn key(moves: &MoveList) -> String {
    format!("found {moves}")
}

fn solved<'a>(desk: &Desk<'a>, cord: &Cord) -> Option<&'a SolvedCord> {
    let key = key(&cord.moves);
    let sample = desk.solver.sample(&key)?.as_deref();
    sample.filter(|_| !desk.solver.is_rough(&key))
}

/// What is not solved yet may be as wished.
fn is_wished(cord: &Cord, solved: Option<&SolvedCord>, wish: Wish) -> bool {
    let is_new = cord.known.is_none() || !wish.is_new;
    let is_balanced = cord.writhe == 0 || !wish.is_balanced;
    let section = |solved: &SolvedCord| {
        wish.section
            .is_none_or(|section| section == solved.figures.section)
    };
    is_new
        && is_balanced
        && cord.to_remember <= usize::from(wish.to_remember)
        && solved.is_none_or(section)
}

/// Section, then thickness; the springiest first if that is wished. What is not
/// solved stands at the end.
fn by_likeness(desk: &Desk<'_>, one: &Cord, other: &Cord, wish: Wish) -> Ordering {
    let (Some(a), Some(b)) = (solved(desk, one), solved(desk, other)) else {
        let is_waiting = |cord| solved(desk, cord).is_none();
        return is_waiting(one).cmp(&is_waiting(other));
    };
    if wish.is_springy {
        let longer = |cord| firmness(desk, cord).map_or(0.0, |(_, longer)| longer);
        return longer(other).total_cmp(&longer(one));
    }
    let thickness = |cord: &SolvedCord| cord.figures.thickness_on_disc.value;
    let sections = a.figures.section.cmp(&b.figures.section);
    sections.then(thickness(a).total_cmp(&thickness(b)))
}

fn firmness(desk: &Desk<'_>, cord: &Cord) -> Option<(Firmness, f64)> {
    desk.solver.firmness(&key(&cord.moves))
}

fn card_ui(
    ui: &mut Ui,
    number: usize,
    cord: &Cord,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let is_chosen = desk.moves() == Some(&cord.moves);
    let key = key(&cord.moves);
    let sample = desk.solver.sample(&key);
    let name = name(number, cord);
    let spoken = spoken(&name, cord, desk, is_chosen);
    let width = ui.available_width();
    let mut is_seen = false;
    let response = Pick::card(&spoken, is_chosen, vec2(width, PICTURE + 62.0)).show(ui, |ui| {
        is_seen = true;
        let (spot, _) = ui.allocate_exact_size(vec2(width - 20.0, PICTURE), Sense::hover());
        let ground = ground(ui, is_chosen);
        match sample {
            Some(Some(solved)) => {
                let threads = sample_threads(desk.design, &name, &cord.moves);
                let order = order(ui, solved, threads, spot, ground);
                sample_picture(ui, &key, order, spot, easel);
            }
            Some(None) => slides(ui, spot),
            None => dotted(ui, spot),
        }
        foot_ui(ui, &name, cord, desk, is_chosen);
    });
    if is_seen && sample.is_none() {
        view.samples.push((key, cord.moves.clone()));
    }
    let response = tip(response, &first_lines(&cord.moves));
    if response.clicked() && !is_chosen {
        let edit = Edit::Moves {
            structure: name,
            moves: cord.moves.clone(),
        };
        view.find.taken = Some(edit.label());
        wants.push(Command::Edit(edit));
    }
}

/// As much of the text of a list as is read at a glance.
fn first_lines(moves: &MoveList) -> String {
    let text = moves.to_string();
    let mut lines: Vec<&str> = text.lines().take(MOST_LINES + 1).collect();
    if lines.len() > MOST_LINES {
        lines[MOST_LINES] = "…";
    }
    lines.join("\n")
}

fn name(number: usize, cord: &Cord) -> String {
    match &cord.known {
        Some(known) => known.clone(),
        None => format!("found {}", number + 1),
    }
}

fn status(cord: &Cord) -> &'static str {
    match cord.known {
        Some(_) => "known",
        None => "new",
    }
}

/// Section and firmness once solved, and what is to be remembered.
fn facts(cord: &Cord, desk: &Desk<'_>) -> String {
    let section = solved(desk, cord).map(|it| it.figures.section.word().to_owned());
    let firmness = firmness(desk, cord);
    let firmness = firmness.map(|(word, longer)| format!("{} {longer:.1} %", word.word()));
    let remember = format!("{} to remember", cord.to_remember);
    let told: Vec<String> = section
        .into_iter()
        .chain(firmness)
        .chain([remember])
        .collect();
    told.join(" · ")
}

fn spoken(name: &str, cord: &Cord, desk: &Desk<'_>, is_chosen: bool) -> String {
    let chosen = if is_chosen { ", chosen" } else { "" };
    format!("{name}, {}, {}{chosen}", status(cord), facts(cord, desk))
}

fn foot_ui(ui: &mut Ui, name: &str, cord: &Cord, desk: &Desk<'_>, is_chosen: bool) {
    ui.horizontal(|ui| {
        let face = if is_chosen { Face::Bold } else { Face::Medium };
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            Role::Note.label(ui, status(cord));
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let text = Role::Note.text(ui, name).font(face.at(13.0));
                let text = text.color(Theme::of(ui).ink);
                ui.add(Label::new(text).truncate());
            });
        });
    });
    let facts = Role::Smallest.text(ui, facts(cord, desk));
    ui.add(Label::new(facts).truncate());
}
