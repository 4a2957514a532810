//! Structures, picked from pictures of the cords they make.
//!
//! Every picture is a solved cord, in one and the same strand for all of them,
//! painted in the colours of the design; they stand under the kind of section
//! that was solved. Until one is solved, its cord is drawn in dots and stands
//! apart.

mod card;
mod filter;
mod sample;

use std::collections::BTreeMap;

use eframe::egui::Ui;

use crate::app::command::Command;
use crate::app::controls::link;
use crate::app::desk::Desk;
use crate::app::easel::Easel;
use crate::app::fonts::{Face, Role};
use crate::app::theme::Theme;
use crate::cord::{Cord, Section};
use crate::document::Edit;
use crate::structure::{MoveList, Structure, shelf};

use super::LookView;
use card::{PICTURE_WIDTH, card_ui};
pub(super) use filter::Filter;
pub(super) use sample::{dotted, ground, order, sample_picture, sample_threads, slides};

/// Where a structure stands in the list, in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Group {
    /// Its cord is solved and has this section.
    Solved(Section),
    /// Its cord is still being worked out.
    Waiting,
    /// There is no such cord.
    None,
}

impl Group {
    fn of(sample: Option<&Option<std::sync::Arc<Cord>>>) -> Self {
        match sample {
            None => Self::Waiting,
            Some(None) => Self::None,
            Some(Some(cord)) => Self::Solved(cord.figures.section),
        }
    }

    fn words(self) -> String {
        match self {
            Self::Solved(section) => {
                let word = section.word();
                let (first, rest) = word.split_at(1);
                format!("{}{rest}", first.to_uppercase())
            }
            Self::Waiting => "Being solved".to_owned(),
            Self::None => "No cord".to_owned(),
        }
    }
}

/// A structure of the shelf in the hand that is shown.
#[derive(Debug)]
struct Entry<'a> {
    structure: &'a Structure,
    name: String,
    moves: MoveList,
    /// What its sample and its facts are kept under.
    key: String,
}

impl<'a> Entry<'a> {
    fn of(structure: &'a Structure, filter: &Filter) -> Self {
        let name = filter.name(structure);
        Self {
            structure,
            moves: filter.moves(structure),
            key: format!("{name} {}", structure.strands()),
            name,
        }
    }
}

/// The list with its search and its filters.
pub(super) fn structures_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    filter::search_ui(ui, &mut view.structures);
    filter::chips_ui(ui, &mut view.structures);
    if filter::hands_ui(ui, &mut view.structures) {
        wants.push(Command::Edit(Edit::Mirror));
    }
    let groups = grouped(desk, view);
    if groups.is_empty() {
        empty_ui(ui, view);
    }
    for (group, entries) in groups {
        let heading = format!("{}, {}", group.words(), entries.len());
        let text = Role::Label.text(ui, heading).font(Face::Bold.at(13.5));
        ui.label(text.color(Theme::of(ui).ink));
        entries_ui(ui, &entries, desk, view, easel, wants);
        ui.add_space(6.0);
    }
}

/// What is listed, under the kind of section that was solved. What is not solved
/// yet is asked for, seen or not, for it has to find its place.
fn grouped(desk: &Desk<'_>, view: &mut LookView) -> BTreeMap<Group, Vec<Entry<'static>>> {
    let mut groups: BTreeMap<Group, Vec<Entry<'static>>> = BTreeMap::new();
    let asked = shelf().iter().filter(|it| view.structures.asks_for(it));
    for structure in asked {
        let entry = Entry::of(structure, &view.structures);
        let sample = desk.solver.sample(&entry.key);
        let facts = desk.examiner.found_of_shelf(&entry.key);
        if sample.is_none() || facts.is_none() {
            view.samples.push((entry.key.clone(), entry.moves.clone()));
        }
        let facts = facts.and_then(|it| it.facts());
        let figures = sample.and_then(|it| it.as_ref()).map(|cord| &cord.figures);
        if view.structures.keeps(facts, figures) {
            groups.entry(Group::of(sample)).or_default().push(entry);
        }
    }
    groups
}

/// Cards in as many columns as there is room for.
fn entries_ui(
    ui: &mut Ui,
    entries: &[Entry<'_>],
    desk: &Desk<'_>,
    view: &mut LookView,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let columns = (ui.available_width() / PICTURE_WIDTH).floor().max(1.0);
    let gap = ui.spacing().item_spacing.x;
    let width = (ui.available_width() - gap * (columns - 1.0)) / columns;
    for row in entries.chunks(columns as usize) {
        ui.horizontal(|ui| {
            for entry in row {
                card_ui(ui, entry, width, desk, view, easel, wants);
            }
        });
    }
}

/// Nothing is listed: why, and a way out.
fn empty_ui(ui: &mut Ui, view: &mut LookView) {
    let search = view.structures.search.trim();
    let words = if search.is_empty() {
        "None of this kind on the shelf.".to_owned()
    } else {
        format!("Nothing on the shelf is called \u{201c}{search}\u{201d}.")
    };
    let text = Role::Note.text(ui, words);
    ui.add(eframe::egui::Label::new(text).wrap());
    if link(ui, "list everything").clicked() {
        view.structures.clear();
    }
}
