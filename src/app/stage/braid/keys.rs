//! Presses that step: which keys, and which presses count.
//!
//! Both hands are full and a foot is coarse: a key held down is one press, and so are two
//! within `BOUNCE`, for contacts of pedals bounce and nobody makes a move faster. A
//! control that has the keyboard keeps Space and Enter for itself.

use eframe::egui::{Event, Key, Modifiers, Ui, ViewportCommand};

use crate::app::at_disc::{AtWork, Habits, Hands};
use crate::app::command::Command;

use super::{BraidState, BraidView};

/// Presses of one kind within this many seconds are one. Contacts of plain switches
/// bounce for some 5 to 20 ms, worn ones for up to 50 (from memory); no hand makes a move
/// in four times this.
const BOUNCE: f64 = 0.08;

/// When was pressed last, seconds of the window's clock.
#[derive(Debug, Clone, Copy, Default)]
pub struct Presses {
    on: Option<f64>,
    back: Option<f64>,
}

impl Presses {
    /// A press that goes on; nothing if it is the last one bouncing.
    pub fn on(&mut self, now: f64) -> Option<Command> {
        counts(&mut self.on, now).then_some(Command::AtDisc(Hands::On))
    }

    /// A press that goes back.
    pub fn back(&mut self, now: f64) -> Option<Command> {
        counts(&mut self.back, now).then_some(Command::AtDisc(Hands::Back))
    }
}

fn counts(last: &mut Option<f64>, now: f64) -> bool {
    let bounces = last.is_some_and(|last| (0.0..BOUNCE).contains(&(now - last)));
    if !bounces {
        *last = Some(now);
    }
    !bounces
}

/// What a key does at the disc.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Does {
    On,
    Back,
    Aside(BraidView),
    Say,
    Full,
    Leave,
}

/// Whether a key is free to be her own.
fn is_free(key: Key) -> bool {
    !matches!(
        key,
        Key::Escape | Key::Tab | Key::F6 | Key::F10 | Key::F11 | Key::Backspace | Key::PageUp
    ) && does(key, &Habits::default()).is_none()
}

fn does(key: Key, habits: &Habits) -> Option<Does> {
    match key {
        Key::Space | Key::Enter | Key::PageDown => Some(Does::On),
        Key::Backspace | Key::PageUp => Some(Does::Back),
        Key::F11 => Some(Does::Full),
        Key::Escape => Some(Does::Leave),
        key if habits.own_key() == Some(key) => Some(Does::On),
        Key::W => Some(Does::Aside(BraidView::Wrong)),
        Key::U => Some(Does::Aside(BraidView::Undoing)),
        Key::N => Some(Does::Aside(BraidView::Notes)),
        Key::L => Some(Does::Aside(BraidView::Log)),
        Key::S => Some(Does::Say),
        _ => None,
    }
}

/// What the keys of this frame ask for; they are taken, so that nothing else hears them.
pub(in crate::app) fn pressed(
    ui: &Ui,
    work: Option<&AtWork>,
    habits: &Habits,
    state: &mut BraidState,
) -> Vec<Command> {
    let typing = ui.ctx().text_edit_focused();
    let Some(work) = work.filter(|_| !typing) else {
        return Vec::new();
    };
    if state.learning {
        return learn(ui, habits, state);
    }
    let has_control = ui.memory(|memory| memory.focused().is_some());
    let covered = eframe::egui::Popup::is_any_open(ui.ctx());
    let mut asked = Vec::new();
    ui.input_mut(|input| {
        input.events.retain(|event| {
            let Some((key, repeat)) = plain_key(event) else {
                return true;
            };
            let on_control = has_control && matches!(key, Key::Space | Key::Enter);
            match does(key, habits) {
                _ if covered || on_control => true,
                Some(Does::Leave) if !state.full && state.view == BraidView::Next => true,
                Some(does) => {
                    asked.extend((!repeat).then_some(does));
                    false
                }
                None => true,
            }
        });
    });
    let now = ui.input(|input| input.time);
    asked
        .into_iter()
        .filter_map(|does| answer(ui, does, work, state, now))
        .collect()
}

/// A key pressed without others, and whether it is held down since.
fn plain_key(event: &Event) -> Option<(Key, bool)> {
    match event {
        Event::Key {
            key,
            pressed: true,
            repeat,
            modifiers: Modifiers::NONE,
            ..
        } => Some((*key, *repeat)),
        _ => None,
    }
}

fn answer(ui: &Ui, does: Does, work: &AtWork, state: &mut BraidState, now: f64) -> Option<Command> {
    match does {
        Does::On if state.steps() => on(work, state, now),
        Does::Back if state.steps() => back(work, state, now),
        // While something else stands beside the disc, steps wait.
        Does::On | Does::Back => None,
        Does::Aside(view) => turned_to(state, view),
        Does::Say => Some(Command::AtDisc(Hands::Say)),
        Does::Full => {
            fill(ui, state, !state.full);
            None
        }
        Does::Leave if state.view != BraidView::Next => {
            state.show(BraidView::Next);
            None
        }
        Does::Leave => {
            fill(ui, state, false);
            None
        }
    }
}

/// Turns to something else beside the disc, or back from it.
fn turned_to(state: &mut BraidState, view: BraidView) -> Option<Command> {
    let is_there = state.view == view;
    state.show(if is_there { BraidView::Next } else { view });
    None
}

/// A step on; from the picture to compare with it is a step of the eyes alone.
pub(super) fn on(work: &AtWork, state: &mut BraidState, now: f64) -> Option<Command> {
    let press = state.presses.on(now)?;
    if state.is_compared(work) {
        state.compared(true);
        return None;
    }
    Some(press)
}

/// A step back; before the first move that is to the picture once more.
pub(super) fn back(work: &AtWork, state: &mut BraidState, now: f64) -> Option<Command> {
    let press = state.presses.back(now)?;
    let course = work.course();
    let is_first = course.is_dressed() && course.done == 0 && course.way.is_none();
    if is_first && !state.is_compared(work) && !course.finished {
        state.compared(false);
        return None;
    }
    Some(press)
}

/// Lets the stage fill the window and the window the screen, or no more.
pub(super) fn fill(ui: &Ui, state: &mut BraidState, full: bool) {
    state.full = full;
    ui.ctx()
        .send_viewport_cmd(ViewportCommand::Fullscreen(full));
    ui.ctx().request_repaint();
}

/// The next free key becomes her own; Esc leaves it as it was.
fn learn(ui: &Ui, habits: &Habits, state: &mut BraidState) -> Vec<Command> {
    let mut asked = Vec::new();
    ui.input_mut(|input| {
        input.events.retain(|event| {
            let Some((key, false)) = plain_key(event) else {
                return true;
            };
            if key == Key::Escape {
                state.learning = false;
            } else if is_free(key) {
                state.learning = false;
                asked.push(Command::Habits(Box::new(Habits {
                    own_key: Some(key.name().to_owned()),
                    ..habits.clone()
                })));
            }
            false
        });
    });
    asked
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bouncing_contact_is_one_press_and_two_presses_are_two() {
        let mut presses = Presses::default();
        let counted = [10.0, 10.02, 10.07, 10.3, 11.0].map(|at| presses.on(at).is_some());
        assert_eq!(counted, [true, false, false, true, true]);
        assert!(presses.back(11.05).is_some(), "back is another press");
    }

    #[test]
    fn keys_that_do_something_cannot_be_her_own() {
        for key in [Key::Space, Key::Backspace, Key::W, Key::L, Key::Escape] {
            assert!(!is_free(key), "{key:?}");
        }
        assert!(is_free(Key::B) && is_free(Key::F5));
    }
}
