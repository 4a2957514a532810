//! How she works: what turns, which hand, pairs, a key of her own.

use eframe::egui::{ScrollArea, Ui};

use super::column::Column;
use super::{BraidScene, BraidState, BraidView, glance};
use crate::app::at_disc::{Habits, Heard};
use crate::app::command::Command;
use crate::app::controls::{Button, segments, switch};
use crate::app::fonts::Role;

/// Draws them into `ui`, in the place of the next move.
pub(super) fn settings_ui(
    ui: &mut Ui,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    wants: &mut Vec<Command>,
) {
    let mut column = Column::new(ui);
    glance::head_of(&mut column, "How I work", state);
    let mut habits = scene.habits.clone();
    let rest = column.rest();
    column.controls(rest, "habits", |ui| {
        ScrollArea::vertical().show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 6.0;
            rows_ui(ui, &mut habits);
            key_ui(ui, &mut habits, state);
            heard_ui(ui, &mut habits, scene.desk.heard);
            log_link_ui(ui, state);
        });
    });
    if habits != *scene.habits {
        wants.push(Command::Habits(Box::new(habits)));
    }
}

fn rows_ui(ui: &mut Ui, habits: &mut Habits) {
    choice(
        ui,
        "the disc",
        &mut habits.disc_turns,
        [
            (true, "turns as mine"),
            (false, "stays, my hand goes round"),
        ],
        "Turned, the next move always lies before you in the same way; the numbers stay upright.",
    );
    choice(
        ui,
        "moves",
        &mut habits.one_hand,
        [
            (false, "each hand on its side"),
            (true, "one hand, the other holds"),
        ],
        "",
    );
    choice(
        ui,
        "my hand",
        &mut habits.left_handed,
        [(false, "right"), (true, "left")],
        "It makes the moves over the middle, and every one where one hand works. Which way the \
         disc is numbered belongs to the design: on the Look stage.",
    );
    choice(
        ui,
        "a press is",
        &mut habits.pairs,
        [(false, "one motion"), (true, "the pair")],
        "Two motions that belong together; a half-done pair is a place all the same.",
    );
    toggle(ui, "the move after the next, faint", &mut habits.following);
    toggle(
        ui,
        "pictures change at once, without moving",
        &mut habits.still,
    );
}

/// What is heard, and what of it this machine cannot do.
fn heard_ui(ui: &mut Ui, habits: &mut Habits, heard: &Heard) {
    ui.add_space(8.0);
    Role::Label.label(ui, "Heard, and seen");
    toggle(ui, "say the next move", &mut habits.speaking);
    if let Some(lack) = heard.no_voice() {
        Role::Note.label(ui, lack);
    }
    toggle(ui, "a tick at every step", &mut habits.tick);
    if let Some(lack) = heard.no_tick() {
        Role::Note.label(ui, lack);
    }
    let awake = "The screen is kept awake until no step was made for twenty minutes.";
    Role::Note.label(ui, heard.no_waking().unwrap_or(awake));
}

fn log_link_ui(ui: &mut Ui, state: &mut BraidState) {
    ui.add_space(8.0);
    let tip = "When, how long, how fast, and what went wrong  L";
    if ui
        .add(Button::plain("The log of this cord").tip(tip))
        .clicked()
    {
        state.show(BraidView::Log);
    }
}

fn choice(ui: &mut Ui, name: &str, value: &mut bool, words: [(bool, &str); 2], note: &str) {
    ui.add_space(4.0);
    Role::Label.label(ui, name);
    segments(ui, name, value, &words);
    if !note.is_empty() {
        Role::Note.label(ui, note);
    }
}

fn toggle(ui: &mut Ui, name: &str, value: &mut bool) {
    ui.horizontal(|ui| {
        switch(ui, name, value);
        Role::Text.label(ui, name);
    });
}

/// A key of her own: pedals and presenters send many.
fn key_ui(ui: &mut Ui, habits: &mut Habits, state: &mut BraidState) {
    ui.add_space(8.0);
    Role::Label.label(ui, "Keys");
    Role::Text.label(
        ui,
        "On: Space, Enter, Page Down, a click off the controls. Back: Backspace, Page Up. \
         W: something looks wrong. U: undoing. N: notes. S: say it again. L: the log. \
         F11: the full screen.",
    );
    let words = match (state.learning, &habits.own_key) {
        (true, _) => "Press the pedal or the key now. Esc leaves it as it was.".to_owned(),
        (false, Some(key)) => format!("My own key {key} goes on as well."),
        (false, None) => "A pedal that sends another key can be taught.".to_owned(),
    };
    Role::Text.label(ui, words);
    ui.horizontal(|ui| {
        if ui.add(Button::plain("Teach a key")).clicked() {
            state.learning = true;
        }
        if habits.own_key.is_some() && ui.add(Button::bare("Forget it")).clicked() {
            habits.own_key = None;
        }
    });
}
