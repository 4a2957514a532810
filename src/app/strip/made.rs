//! How much of the cord is made: what is still to come is faint, with a thread line at
//! the point of braiding.

use eframe::egui::{Rect, Sense, Ui, WidgetInfo, pos2, vec2};

use super::marks::{cycle, label};
use super::{Layout, State, StripView};
use crate::app::fonts::Face;
use crate::app::stage::Grain;
use crate::app::theme::Theme;
use crate::cord::Cord;
use crate::quantity::UnitSystem;

/// How far across the linen the point of braiding goes before the cord is moved on.
const REACH: f64 = 0.72;

/// Where the tape begins and the point of braiding is, mm from the start of the cord.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Made {
    from: f64,
    made: f64,
}

impl Made {
    /// For so much cord, mm. The tape is moved on by whole repeats, so that the cord
    /// beside it need not move.
    pub(super) fn of(made: f64, layout: &Layout, cord: &Cord) -> Self {
        let wide = f64::from(layout.linen.width() / layout.per_mm);
        let repeat = cord.form.lift * cycle(&cord.form.continues);
        let page = ((0.5 * wide / repeat).floor() * repeat).max(repeat);
        let pages = ((made - REACH * wide) / page).ceil().max(0.0);
        Self {
            from: if page > 0.0 { pages * page } else { 0.0 },
            made,
        }
    }

    /// Where the tape's zero stands, points.
    pub(super) fn zero(&self, layout: &Layout) -> f32 {
        layout.zero() - self.from as f32 * layout.per_mm
    }

    /// Draws it over the cords and the tape.
    pub(super) fn draw(&self, ui: &Ui, layout: &Layout, view: &StripView, units: UnitSystem) {
        // It is measured where it hangs; off the weight the cord has another length.
        if view.state == State::Rested {
            return;
        }
        let theme = Theme::of(ui);
        let x = self.zero(layout) + self.made as f32 * layout.per_mm;
        let linen = match view.state {
            State::Both => layout.halves()[0],
            State::OnDisc | State::Rested => layout.linen,
        };
        let painter = ui.painter();
        let rest = linen.with_min_x(x.max(linen.left()));
        painter.rect_filled(rest, 0.0, theme.linen.gamma_multiply(0.78));
        let line = Rect::from_min_max(
            pos2(x - 1.3, linen.top()),
            pos2(x + 1.3, layout.tape.bottom() - 4.0),
        );
        painter.rect_filled(line, 1.3, theme.thread);
        let words = format!("made so far {}", Grain::Long.said(self.made.round(), units));
        let at = pos2(x + 12.0, linen.top() + 15.0);
        let font = Face::Semibold.at(13.0);
        let wide = painter
            .layout_no_wrap(words.clone(), font, theme.ink)
            .size()
            .x;
        // At the end of the linen it stands on the other side of the line.
        let at = if at.x + wide > linen.right() - 8.0 {
            at - vec2(wide + 24.0, 0.0)
        } else {
            at
        };
        let slip = label(painter, at, &words, &theme);
        let id = ui.scope_id().with("made");
        let response = ui.interact(slip, id, Sense::empty());
        let role = eframe::egui::Role::Label;
        response.widget_info(|| WidgetInfo::labeled(role, true, &words));
    }
}
