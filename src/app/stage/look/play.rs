//! The play bar: moves forward and back, one by one or at a steady pace.

use eframe::egui::{
    Align2, Key, Pos2, Rect, Response, Sense, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2,
};

use crate::app::controls::IconButton;
use crate::app::desk::Desk;
use crate::app::flags::Flag;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::document::Design;
use crate::structure::MoveList;

use super::disc_column::paper_bar;

/// Height of the bar.
pub(super) const HEIGHT: f32 = 42.0;
/// Its width where there is room.
const WIDTH: f32 = 392.0;

/// How far the moves are played, and whether they run.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Play {
    /// Moves done since the start.
    pub done: usize,
    /// When the next one is due, seconds of the window's clock, while they run.
    due: Option<f64>,
}

impl Play {
    /// Back to the start when the moves it counted are gone.
    pub fn settle(&mut self, design: &Design) {
        let moves = design.sections.first().map_or(0, |s| count(&s.moves));
        if moves == 0 {
            *self = Self::default();
        }
    }

    /// Whether the moves run.
    pub fn is_running(&self) -> bool {
        self.due.is_some()
    }

    /// Back to the start, at rest.
    pub fn rewind(&mut self) {
        *self = Self::default();
    }

    /// To stand before the move after so many, at rest.
    pub fn go_to(&mut self, done: usize) {
        *self = Self { done, due: None };
    }

    fn forward(&mut self) {
        self.done += 1;
    }

    fn back(&mut self) {
        self.done = self.done.saturating_sub(1);
    }

    /// Runs on when a move is due; `pace` in moves a minute.
    fn run(&mut self, ui: &Ui, pace: f32) {
        let now = ui.input(|input| input.time);
        let Some(due) = self.due else { return };
        let pause = 60.0 / f64::from(pace.max(1.0));
        if now >= due {
            self.forward();
            self.due = Some(now + pause);
        }
        let wait = self.due.map_or(pause, |due| due - now);
        ui.ctx().request_repaint_after_secs(wait.max(0.01) as f32);
    }
}

/// Moves in one round of a list.
pub(super) fn count(moves: &MoveList) -> usize {
    moves.steps.iter().map(|step| step.moves.len()).sum()
}

/// The bar at the bottom middle of `rect`.
///
/// `faults` are the moves before each fault that has a step.
pub(super) fn play_ui(ui: &mut Ui, rect: Rect, desk: &Desk<'_>, faults: &[usize], play: &mut Play) {
    let Some(round) = desk.moves().map(count).filter(|&n| n > 0) else {
        return;
    };
    play.run(ui, desk.settings.pace);
    keys(ui, play);
    let width = WIDTH.min(rect.width());
    let bar = Rect::from_center_size(rect.center(), vec2(width, HEIGHT));
    paper_bar(ui, bar, HEIGHT / 2.0);
    let row = bar.shrink2(vec2(12.0, 4.0));
    let buttons = row.with_max_x(row.left() + 118.0);
    ui.scope_builder(UiBuilder::new().max_rect(buttons).id_salt("play"), |ui| {
        ui.horizontal(|ui| buttons_ui(ui, play));
    });
    // Where there is no room for them in the bar, the words stand under it.
    let is_short = width < 300.0;
    let words = if is_short { 0.0 } else { 112.0 };
    let track = Rect::from_min_max(
        pos2(buttons.right() + 10.0, row.top()),
        pos2(row.right() - words - 6.0, row.bottom()),
    );
    if track.width() > 40.0 {
        track_ui(ui, track, round, faults, play);
    }
    let (at, side) = if is_short {
        (bar.center_bottom() + vec2(0.0, 14.0), Align2::CENTER_CENTER)
    } else {
        (row.right_center() - vec2(6.0, 0.0), Align2::RIGHT_CENTER)
    };
    let words = words_of(play.done, round);
    let (font, ink) = (Role::Text.font(), Theme::of(ui).ink2);
    ui.painter().text(at, side, words, font, ink);
}

fn words_of(done: usize, round: usize) -> String {
    match (done % round, done / round) {
        (0, 0) => format!("start, {round} moves"),
        (0, _) => format!("move {round} of {round}"),
        (n, _) => format!("move {n} of {round}"),
    }
}

fn buttons_ui(ui: &mut Ui, play: &mut Play) {
    ui.spacing_mut().item_spacing.x = 6.0;
    let first = (play.done == 0).then_some("the start; nothing before it");
    let back = IconButton::new(Icon::Back, "One move back")
        .tip("One move back  ,")
        .off_because(first);
    if ui.add(back).clicked() {
        play.back();
    }
    if run_button(ui, play.is_running()).clicked() {
        toggle(ui, play);
    }
    let on = IconButton::new(Icon::Play, "One move on").tip("One move on  .");
    if ui.add(on).clicked() {
        play.forward();
    }
}

fn toggle(ui: &Ui, play: &mut Play) {
    let now = ui.input(|input| input.time);
    play.due = if play.is_running() { None } else { Some(now) };
    ui.ctx().request_repaint();
}

/// The round button on the accent.
fn run_button(ui: &mut Ui, is_running: bool) -> Response {
    let (rect, response) = ui.allocate_exact_size(vec2(34.0, 34.0), Sense::click());
    let (icon, name) = if is_running {
        (Icon::Pause, "Hold the moves")
    } else {
        (Icon::Play, "Play the moves")
    };
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Button, true, name));
    let theme = Theme::of(ui);
    let fill = match (response.is_pointer_button_down_on(), response.hovered()) {
        (true, _) => theme.thread_pressed(),
        (false, true) => theme.thread_hover(),
        (false, false) => theme.thread,
    };
    let painter = ui.painter();
    painter.circle_filled(rect.center(), 15.0, fill);
    if is_running {
        icon.paint(painter, rect.center(), 15.0, theme.onthread);
    } else {
        icon.paint_filled(
            painter,
            rect.center() + vec2(0.5, 0.0),
            13.0,
            theme.onthread,
        );
    }
    if response.has_focus() && crate::app::controls::keyboard_leads(ui.ctx()) {
        stitch::focus_ring(painter, rect.shrink(2.0), 15.0, &theme);
    }
    crate::app::controls::tip(response, name)
}

/// The round as a line with a tick a move; drag or click goes there.
fn track_ui(ui: &Ui, track: Rect, round: usize, faults: &[usize], play: &mut Play) {
    let id = ui.scope_id().with("play track");
    let response = ui.interact(track, id, Sense::click_and_drag());
    let here = play.done - play.done / round * round;
    let here = if here == 0 && play.done > 0 {
        round
    } else {
        here
    };
    response.widget_info(|| WidgetInfo::slider(true, here as f64, "Move of the round"));
    if let Some(at) = response.interact_pointer_pos() {
        let share = ((at.x - track.left()) / track.width()).clamp(0.0, 1.0);
        let rounds = (play.done.max(1) - 1) / round;
        play.done = rounds * round + (share * round as f32).round() as usize;
    }
    let theme = Theme::of(ui);
    let y = track.center().y;
    let at = |n: usize| track.left() + track.width() * n as f32 / round as f32;
    let painter = ui.painter();
    painter.hline(track.x_range(), y, Stroke::new(1.0, theme.line2));
    let every = round.div_ceil(24);
    for n in (0..=round).step_by(every) {
        painter.vline(at(n), y - 4.0..=y + 4.0, Stroke::new(1.0, theme.line2));
    }
    for before in faults {
        fault_mark(
            painter,
            pos2(at(before % round) + 0.5 * (at(1) - at(0)), y),
            &theme,
        );
    }
    painter.hline(track.left()..=at(here), y, Stroke::new(3.0, theme.thread));
    painter.circle_filled(pos2(at(here), y), 7.0, theme.paper);
    painter.circle_stroke(pos2(at(here), y), 6.0, Stroke::new(2.4, theme.thread));
    if response.has_focus() && crate::app::controls::keyboard_leads(ui.ctx()) {
        stitch::focus_ring(painter, track.shrink2(vec2(0.0, 6.0)), 6.0, &theme);
    }
}

/// A fault on the track: eight corners, as its strands are marked.
fn fault_mark(painter: &eframe::egui::Painter, at: Pos2, theme: &Theme) {
    Flag::Fault.tag(painter, at - vec2(0.0, 11.0), 5.0, "", theme);
    painter.vline(at.x, at.y - 6.0..=at.y + 5.0, Stroke::new(2.0, theme.stop));
}

/// Space plays and holds, comma and full stop go move by move, unless the
/// keyboard is in a control or a field.
fn keys(ui: &Ui, play: &mut Play) {
    if ui.memory(|memory| memory.focused().is_some()) {
        return;
    }
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    if pressed(Key::Space) {
        toggle(ui, play);
    }
    if pressed(Key::Period) {
        play.forward();
    }
    if pressed(Key::Comma) {
        play.back();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bar_counts_moves_within_the_round() {
        assert_eq!(words_of(0, 8), "start, 8 moves");
        assert_eq!(words_of(3, 8), "move 3 of 8");
        assert_eq!(words_of(8, 8), "move 8 of 8", "the round is full");
        assert_eq!(words_of(11, 8), "move 3 of 8", "the second round");
    }

    #[test]
    fn there_is_nothing_before_the_start() {
        let mut play = Play::default();
        play.back();
        assert_eq!(play.done, 0);
        play.forward();
        play.forward();
        play.back();
        assert_eq!(play.done, 1, "two on, one back");
    }
}
