//! The big button and what stands under it.

use eframe::egui::{Align, Align2, Layout, Rect, Response, Sense, Ui, WidgetInfo, vec2};

use super::column::Column;
use super::{BraidScene, BraidState, BraidView, far, keys, main_ask, main_words};
use crate::app::command::Command;
use crate::app::controls::{Button, IconButton, keyboard_leads, switch};
use crate::app::fonts::Face;
use crate::app::icons::Icon;
use crate::app::stitch;

/// Least width of the column that has room for the switch of the voice.
const SPEAKING: f32 = 520.0;

/// Draws them at the bottom of the column.
pub(super) fn foot_ui(
    column: &mut Column<'_>,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    wants: &mut Vec<Command>,
) {
    let strip = column.bottom(38.0);
    under_ui(column, strip, scene, state, wants);
    column.left.max.y -= 8.0 * column.scale;
    let tall = (72.0 * column.scale).clamp(40.0, 110.0);
    let button = column.bottom(tall);
    if big_button(column, button, main_words(scene)).clicked() {
        let now = column.ui.input(|input| input.time);
        wants.extend(main_ask(scene, state, now));
    }
    column.left.max.y -= 18.0 * column.scale;
    far::far_ui(column, scene);
    column.left.max.y -= 4.0;
}

/// The one button of the column, as wide as it.
pub(super) fn big_button(column: &mut Column<'_>, rect: Rect, words: &str) -> Response {
    let (big, small) = (
        column.font(Face::Semibold, 23.0),
        column.font(Face::Medium, 16.0),
    );
    let id = column.ui.scope_id().with("main");
    let response = column.ui.interact(rect, id, Sense::click());
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Button, true, words));
    let theme = column.theme;
    let down = response.is_pointer_button_down_on();
    let fill = match (down, response.hovered()) {
        (true, _) => theme.thread_pressed(),
        (false, true) => theme.thread_hover(),
        (false, false) => theme.thread,
    };
    let painter = column.ui.painter();
    let body = rect.translate(vec2(0.0, f32::from(down)));
    painter.rect_filled(body, 0.5 * rect.height(), fill);
    let inner = body.shrink2(vec2(0.48 * rect.height(), 0.0));
    painter.text(
        inner.left_center(),
        Align2::LEFT_CENTER,
        words,
        big,
        theme.onthread,
    );
    if inner.width() > 330.0 {
        let keys = "Space, a click, or the pedal";
        let at = inner.right_center();
        painter.text(at, Align2::RIGHT_CENTER, keys, small, theme.onthread);
    }
    if response.has_focus() && keyboard_leads(column.ui.ctx()) {
        stitch::focus_ring(painter, rect, 0.5 * rect.height(), &theme);
    }
    response
}

fn under_ui(
    column: &mut Column<'_>,
    strip: Rect,
    scene: BraidScene<'_>,
    state: &mut BraidState,
    wants: &mut Vec<Command>,
) {
    let is_narrow = strip.width() < 380.0;
    column.controls(strip, "under", |ui| {
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            back_ui(ui, scene, state, wants);
            aside_ui(ui, state);
            if strip.width() > SPEAKING {
                speaking_ui(ui, scene, wants);
            }
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                wrong_ui(ui, is_narrow, state);
            });
        });
    });
}

fn back_ui(ui: &mut Ui, scene: BraidScene<'_>, state: &mut BraidState, wants: &mut Vec<Command>) {
    let nothing = scene.work.back(scene.habits.pairs).is_none();
    let off = nothing.then_some("nothing is done yet that could be taken back");
    let back = Button::bare("Back one")
        .icon(Icon::Back)
        .tip("The last step was not made after all  Backspace, Page Up")
        .off_because(off);
    if ui.add(back).clicked() {
        let now = ui.input(|input| input.time);
        wants.extend(keys::back(scene.work, state, now));
    }
}

/// Whether every move is spoken, where this machine can.
fn speaking_ui(ui: &mut Ui, scene: BraidScene<'_>, wants: &mut Vec<Command>) {
    let mut habits = scene.habits.clone();
    if scene.desk.heard.no_voice().is_some() {
        return;
    }
    ui.add_space(4.0);
    let (spot, _) = ui.allocate_exact_size(vec2(20.0, 26.0), Sense::hover());
    let ink = crate::app::theme::Theme::of(ui).ink;
    Icon::Say.paint(ui.painter(), spot.center(), 18.0, ink);
    if switch(ui, "Speaking", &mut habits.speaking) {
        wants.push(Command::Habits(Box::new(habits)));
    }
}

/// Further back, and what is noted.
fn aside_ui(ui: &mut Ui, state: &mut BraidState) {
    let further = IconButton::new(Icon::Undo, "Undoing")
        .tip("Take many moves back: so many, to a mark, to a time, to a look  U");
    if ui.add(further).clicked() {
        state.show(BraidView::Undoing);
    }
    let notes = IconButton::new(Icon::Pin, "Notes")
        .tip("Note a mark, words, a length, a photograph, a new strand at this place  N");
    if ui.add(notes).clicked() {
        state.show(BraidView::Notes);
    }
}

fn wrong_ui(ui: &mut Ui, is_narrow: bool, state: &mut BraidState) {
    let words = "Something looks wrong";
    let tip = "Something looks wrong  W";
    let pressed = if is_narrow {
        ui.add(IconButton::new(Icon::Lens, words).tip(tip))
            .clicked()
    } else {
        ui.add(Button::plain(words).icon(Icon::Lens).tip(tip))
            .clicked()
    };
    if pressed {
        state.show(BraidView::Wrong);
    }
}
