//! A slip that hangs under its button until somebody clicks elsewhere.

use eframe::egui::{Popup, PopupCloseBehavior, Response, ScrollArea, Ui};

/// Room for the bar beside what rolls.
const BAR: f32 = 14.0;

/// Shows the slip called `name` under a button while it is open; `wide` is its width, `tall`
/// its greatest height. The button itself toggles by its command; a click elsewhere closes.
pub(super) fn button_slip(
    button: &Response,
    name: &str,
    [wide, tall]: [f32; 2],
    is_open: bool,
    content: impl FnOnce(&mut Ui),
) -> bool {
    let mut open = is_open;
    Popup::from_response(button)
        .open_bool(&mut open)
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .accessible_name(name)
        .show(|ui| {
            ui.set_width(wide);
            let room = (0.8 * ui.ctx().content_rect().height()).min(tall);
            let area = ScrollArea::vertical()
                .max_height(room)
                .min_scrolled_height(room);
            area.show(ui, |ui| {
                ui.set_width(wide - BAR);
                content(ui);
            });
        });
    button.clicked() || open
}
