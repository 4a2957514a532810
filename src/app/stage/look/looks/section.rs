//! A few looks under the strands, with the way to all of them.

use eframe::egui::{Align, Label, Layout, Ui, vec2};

use crate::app::command::Command;
use crate::app::controls::{head, link};
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::Role;

use super::super::{LookPage, LookView};
use super::card::{Wardrobe, small_card_ui, small_picture_size};
use super::grid::NO_CORD;
use super::listed::{Listed, grouped};
use super::walk::walk;
use super::wish::{Wish, worn};

/// The least a small cord is wide.
const LEAST_WIDTH: f32 = 118.0;
/// Its height, with room for stitches.
const HEIGHT: f32 = 46.0;
/// Rows of them.
const ROWS: usize = 3;

/// The section.
pub(in super::super) fn section_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let worn = worn(desk.design);
    let question = Wish::of(&worn).question(desk, &worn);
    view.looks.follow(ui, question);
    let listed = view.looks.listed.clone();
    let words = match (&listed, &view.looks.none) {
        (Some(listed), _) => number(listed, worn.sets.len()),
        (None, Some(why)) => why.clone(),
        (None, None) => "Counting\u{2026}".to_owned(),
    };
    let is_short = listed.is_some() && worn.sets.len() > 1;
    let opens = head(ui, "Looks", |ui| {
        let all = listed.as_deref().map(all_of_them);
        let opens = link(ui, all.as_deref().unwrap_or("all looks")).clicked();
        if is_short {
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let text = Role::Note.text(ui, &words);
                ui.add(Label::new(text).truncate());
            });
        }
        opens
    });
    if !is_short {
        let text = Role::Note.text(ui, words);
        ui.add(Label::new(text).wrap());
    }
    if let Some(listed) = listed.filter(|_| worn.sets.len() > 1) {
        few_ui(ui, &listed, &worn, desk, view, easel, wants);
    }
    super::tried_ui(ui, desk, view, wants);
    if opens {
        view.turn_page(LookPage::Looks);
    }
}

fn all_of_them(listed: &Listed) -> String {
    format!("all {}", grouped(&listed.count))
}

/// How many there are of so many colours.
fn number(listed: &Listed, colours: usize) -> String {
    match (colours, listed.count.to_string().as_str()) {
        (0 | 1, _) => "All strands are of one colour. Give some another, and all that the two \
                       can give stands here."
            .to_owned(),
        (_, "1") => "one look with these colours, however they lie".to_owned(),
        _ => format!(
            "{} really different ones with these colours",
            grouped(&listed.count)
        ),
    }
}

fn few_ui(
    ui: &mut Ui,
    listed: &Listed,
    worn: &crate::pattern::Worn,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let gap = 4.0;
    let columns = ((ui.available_width() + gap) / (LEAST_WIDTH + gap))
        .floor()
        .clamp(1.0, 3.0);
    let width = (ui.available_width() - gap * (columns - 1.0)) / columns;
    let few = listed.few(ROWS * columns as usize);
    let rows: Vec<Vec<usize>> = few
        .chunks(columns as usize)
        .map(<[usize]>::to_vec)
        .collect();
    walk(ui, &rows, listed, worn, desk, view, wants);
    let size = vec2(width, HEIGHT);
    let wardrobe = Wardrobe::new(listed, worn, desk);
    let Some(mut wall) = wardrobe.wall(ui, small_picture_size(size), easel) else {
        Role::Note.label(ui, NO_CORD);
        return;
    };
    let mut tried = None;
    for row in &rows {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = gap;
            for &place in row {
                if small_card_ui(ui, place, size, &wardrobe, &mut wall) {
                    tried = Some(place);
                }
            }
        });
    }
    drop(wall);
    if let Some(place) = tried {
        super::try_on(&listed.looks[place].arrangement, worn, desk, view, wants);
    }
}
