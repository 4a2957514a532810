//! What a control shows of pointer and keyboard.

use eframe::egui::{self, Context, Event, Id, Rect, Response, Ui};

use crate::app::fonts::Role;
use crate::app::stitch;
use crate::app::theme::Theme;

/// Whether the last thing touched was the keyboard and not the pointer.
///
/// The focus ring is shown only then.
pub fn keyboard_leads(ctx: &Context) -> bool {
    let id = Id::unique("keyboard leads");
    let now = ctx.cumulative_pass_nr();
    let (pass, led) = ctx
        .data(|data| data.get_temp::<(u64, bool)>(id))
        .unwrap_or((u64::MAX, false));
    if pass == now {
        return led;
    }
    let leads = ctx.input(|input| {
        input.events.iter().fold(led, |leads, event| match event {
            Event::Key { pressed: true, .. } => true,
            Event::PointerButton { pressed: true, .. } | Event::Touch { .. } => false,
            _ => leads,
        })
    });
    ctx.data_mut(|data| data.insert_temp(id, (now, leads)));
    leads
}

/// Whether to show that the keyboard is on this control.
pub(super) fn focused(response: &Response) -> bool {
    response.has_focus() && keyboard_leads(&response.ctx)
}

/// The ring round a control, if the keyboard is on it.
pub(super) fn ring(ui: &Ui, response: &Response, rect: Rect, radius: f32) {
    if focused(response) {
        stitch::focus_ring(ui.painter(), rect, radius, &Theme::of(ui));
    }
}

/// A short explanation: under the pointer after half a second, at once when the
/// keyboard comes by.
pub fn tip(response: Response, text: &str) -> Response {
    if text.is_empty() {
        return response;
    }
    let words = egui::RichText::new(text).font(Role::Note.font());
    if focused(&response) {
        response.show_tooltip_text(words);
        return response;
    }
    response
        .on_hover_text(words.clone())
        .on_disabled_hover_text(words)
}
