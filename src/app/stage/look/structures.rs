//! Structures, picked from pictures of the cords they make.
//!
//! Every picture is a solved cord, in one and the same strand for all of them,
//! painted in the colours of the design; they stand under the kind of section
//! that was solved, the maker's own in a group before them. Until one is solved,
//! its cord is drawn in dots and stands apart.

mod card;
mod filter;
mod listed;
mod sample;
mod walk;

use eframe::egui::{Id, Ui};

use crate::app::command::Command;
use crate::app::controls::link;
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::{Face, Role};
use crate::app::theme::Theme;
use crate::document::Edit;

use super::LookView;
use card::{PICTURE_WIDTH, card_ui};
pub(super) use filter::Filter;
pub use listed::make_of;
use listed::{Entry, grouped};
pub(in crate::app::stage) use sample::{dotted, ground, order};
pub(super) use sample::{sample_picture, sample_threads, slides};
pub(super) use walk::{keep_keys, stepped, taken};

/// The list with its search and its filters.
pub(super) fn structures_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let search = filter::search_ui(ui, &mut view.structures);
    filter::chips_ui(ui, desk.own, &mut view.structures);
    if filter::hands_ui(ui, &mut view.structures) {
        wants.push(Command::Edit(Edit::Mirror));
    }
    let groups = grouped(desk, view);
    if groups.is_empty() {
        empty_ui(ui, view);
    }
    let mut rows = Vec::new();
    for (group, entries) in groups {
        let heading = format!("{}, {}", group.words(), entries.len());
        let text = Role::Label.text(ui, heading).font(Face::Bold.at(13.5));
        ui.label(text.color(Theme::of(ui).ink));
        rows.extend(entries_ui(ui, &entries, desk, view, easel, wants));
        ui.add_space(6.0);
    }
    walk::walk(ui, &rows, search, desk, view, wants);
}

/// Cards in as many columns as there is room for; what the keyboard calls them, row
/// by row.
fn entries_ui(
    ui: &mut Ui,
    entries: &[Entry<'_>],
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) -> Vec<Vec<Id>> {
    let columns = (ui.available_width() / PICTURE_WIDTH).floor().max(1.0);
    let gap = ui.spacing().item_spacing.x;
    let width = (ui.available_width() - gap * (columns - 1.0)) / columns;
    let mut rows = Vec::new();
    for row in entries.chunks(columns as usize) {
        let ids = ui.horizontal(|ui| {
            let cards = row.iter();
            cards
                .map(|entry| card_ui(ui, entry, width, desk, view, easel, wants))
                .collect()
        });
        rows.push(ids.inner);
    }
    rows
}

/// Nothing is listed: why, and a way out.
fn empty_ui(ui: &mut Ui, view: &mut LookView) {
    let search = view.structures.search.trim();
    let words = if search.is_empty() {
        "There is none of this kind yet, on your shelf or on the program's.".to_owned()
    } else {
        format!(
            "Nothing on either shelf is called \u{201c}{search}\u{201d}. Try one word of it, a \
             shape, or a number of strands."
        )
    };
    let text = Role::Note.text(ui, words);
    ui.add(eframe::egui::Label::new(text).wrap());
    if link(ui, "list everything").clicked() {
        view.structures.clear();
    }
}
