//! What stands in the place of the next move for a while: something looks wrong, undoing,
//! notes. Once the hands set out on a way, the next move stands there again.

use std::f32::consts::FRAC_PI_2;

use eframe::egui::{ScrollArea, Ui};

use super::looks::Looks;
use super::notes::{Notes, notes_ui};
use super::undoing::{Undoing, undoing_ui};
use super::work::{Ask, Work};
use super::wrong::{Wrong, hindrance, wrong_disc, wrong_panel};
use super::{BraidScene, BraidState, BraidView};
use crate::app::at_disc::Hands;
use crate::app::clock;
use crate::app::command::Command;
use crate::app::controls::{link, segments};
use crate::app::easel::Easel;
use crate::bench::Entry;

/// What each of them remembers.
#[derive(Debug, Default)]
pub(super) struct Aside {
    wrong: Wrong,
    undoing: Undoing,
    notes: Notes,
}

impl Aside {
    /// One of them is turned to.
    pub(super) fn comes(&mut self, view: BraidView) {
        if view == BraidView::Wrong {
            self.wrong.comes();
        }
    }
}

/// Whether what lies there can be compared.
pub(super) fn can_compare(scene: BraidScene<'_>) -> bool {
    let looks = Looks::of(scene.work.design());
    hindrance(&work(scene, &looks)).is_none()
}

/// The disc to be marked.
pub(super) fn disc_ui(ui: &mut Ui, scene: BraidScene<'_>, state: &mut BraidState) {
    let looks = Looks::of(scene.work.design());
    let work = work(scene, &looks);
    wrong_disc(ui, &work, scene.desk.settings.marks, &mut state.aside.wrong);
}

/// The panel that is turned to.
pub(super) fn panel_ui(
    ui: &mut Ui,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    easel: &mut Easel,
    wants: &mut Vec<Command>,
) {
    let looks = Looks::of(scene.work.design());
    let work = work(scene, &looks);
    let mut asks = Vec::new();
    let now = clock::now();
    heads_ui(ui, state);
    let view = state.view;
    ScrollArea::vertical()
        .id_salt(("aside", view as u8))
        .auto_shrink([false, false])
        .show(ui, |ui| {
            ui.set_width(ui.available_width() - 16.0);
            let aside = &mut state.aside;
            match view {
                BraidView::Undoing => undoing_ui(ui, &work, now, &mut aside.undoing, &mut asks),
                BraidView::Notes => notes_ui(ui, &work, now, &mut aside.notes, &mut asks),
                _ => wrong_panel(ui, &work, scene.desk, &mut aside.wrong, easel, &mut asks),
            }
        });
    if asks.iter().any(sets_out) {
        state.show(BraidView::Next);
    }
    wants.extend(asks.into_iter().map(|ask| Command::AtDisc(hands(ask))));
}

/// The three of them, and the way back.
fn heads_ui(ui: &mut Ui, state: &mut BraidState) {
    ui.add_space(6.0);
    let mut view = state.view;
    ui.horizontal_wrapped(|ui| {
        let words = [
            (BraidView::Wrong, "looks wrong"),
            (BraidView::Undoing, "undoing"),
            (BraidView::Notes, "notes"),
        ];
        segments(ui, "beside the disc", &mut view, &words);
        ui.add_space(10.0);
        if link(ui, "to the next move").clicked() {
            view = BraidView::Next;
        }
    });
    ui.add_space(8.0);
    if view != state.view {
        state.show(view);
    }
}

fn work<'a>(scene: BraidScene<'a>, looks: &'a Looks) -> Work<'a> {
    let work = scene.work;
    Work {
        design: work.design(),
        braid: work.braid(),
        course: work.course(),
        done: work.done(),
        turn: f32::from(scene.place.quarters) * FRAC_PI_2,
        outlook: &work.begun().outlook,
        looks,
        numbering: work.design().braiding.numbering,
        units: scene.units,
    }
}

/// Whether the next move is another one then.
fn sets_out(ask: &Ask) -> bool {
    matches!(
        ask,
        Ask::Tell(Entry::Out(_) | Entry::Along(_) | Entry::Taken { .. })
    )
}

fn hands(ask: Ask) -> Hands {
    match ask {
        Ask::Tell(entry) => Hands::Write(entry),
        Ask::Photograph(file) => Hands::Photograph(file),
        Ask::Choose => Hands::AskPhotograph,
    }
}
