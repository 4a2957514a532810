//! The rail of stages, with the thread sewn down as far as the work has come.

use eframe::egui::{
    self, Align2, CornerRadius, Rect, Response, Sense, Stroke, Ui, WidgetInfo, pos2, vec2,
};

use super::command::Command;
use super::controls::keyboard_leads;
use super::desk::Desk;
use super::fonts::Face;
use super::icons::Icon;
use super::settings::Dress;
use super::stage::Stage;
use super::stitch;
use super::theme::Theme;

/// Height of one stage on the rail, when there is room.
const TALL: f32 = 92.0;

/// The rail in `ui`, which is as wide as the rail.
pub(super) fn rail_ui(ui: &mut Ui, desk: &Desk<'_>, here: Stage, wants: &mut Vec<Command>) {
    let theme = Theme::of(ui);
    let rect = ui.max_rect();
    ui.painter().rect_filled(rect, 0.0, theme.deep);
    emblem(ui, rect, &theme);
    let room = rect.height() - 84.0 - 84.0;
    let tall = (room / Stage::ALL.len() as f32).clamp(44.0, TALL);
    let top = rect.top() + if rect.height() < 520.0 { 60.0 } else { 84.0 };
    seam(ui, rect, top, tall, here, &theme);
    for (place, stage) in Stage::ALL.into_iter().enumerate() {
        let tab = Rect::from_min_size(
            pos2(rect.left() + 22.0, top + place as f32 * tall),
            vec2(rect.width() - 22.0, tall.min(76.0)),
        );
        if stage_ui(ui, tab, stage, here, &theme).clicked() {
            wants.push(Command::GoTo(stage));
        }
    }
    dress_ui(ui, rect, desk, &theme, wants);
}

/// Two threads crossing: the mark of the program.
fn emblem(ui: &Ui, rail: Rect, theme: &Theme) {
    let centre = pos2(rail.center().x, rail.top() + 30.0);
    let curve = |side: f32| -> Vec<egui::Pos2> {
        (0..=24)
            .map(|k| {
                let t = k as f32 / 24.0 * 2.0 - 1.0;
                let x = side * 10.0 * (1.4 * t).tanh() / 0.885;
                centre + vec2(x, 11.0 * t)
            })
            .collect()
    };
    let painter = ui.painter();
    painter.extend(stitch::thread(curve(-1.0), 3.6, theme.ink));
    painter.extend(stitch::thread(curve(1.0), 6.0, theme.deep));
    painter.extend(stitch::thread(curve(1.0), 3.6, theme.thread));
}

/// The needle's way: sewn as far as this stage, holes beyond.
fn seam(ui: &Ui, rail: Rect, top: f32, tall: f32, here: Stage, theme: &Theme) {
    let x = rail.left() + 14.0;
    let place = Stage::ALL.iter().position(|&s| s == here).unwrap_or(0);
    let reached = top + place as f32 * tall + 0.5 * tall.min(76.0);
    let end = top + Stage::ALL.len() as f32 * tall - 12.0;
    let painter = ui.painter();
    let sewn = [pos2(x, top + 6.0), pos2(x, reached)];
    let open = [pos2(x, reached + 8.0), pos2(x, end)];
    painter.extend(stitch::dotted(&open, 2.0, 8.0, theme.ink3));
    painter.extend(stitch::dashed(&sewn, stitch::CHOSEN, theme.thread));
}

fn stage_ui(ui: &mut Ui, tab: Rect, stage: Stage, here: Stage, theme: &Theme) -> Response {
    let id = ui.scope_id().with(stage.name());
    let works = stage.is_working();
    let sense = if works {
        Sense::click()
    } else {
        Sense::focusable_noninteractive()
    };
    let response = ui.interact(tab, id, sense);
    let chosen = stage == here;
    response.widget_info(|| {
        let role = egui::Role::Tab;
        WidgetInfo::selected(role, works, chosen, stage.name())
    });
    paint_tab(ui, tab, chosen, response.hovered() && works, theme);
    let colour = match (chosen, works) {
        (true, _) => theme.ink,
        (false, true) => theme.ink2,
        (false, false) => theme.ink3,
    };
    face_ui(ui, tab, stage, chosen, colour);
    if response.has_focus() && keyboard_leads(ui.ctx()) {
        stitch::focus_ring(ui.painter(), tab.shrink(6.0), 8.0, theme);
    }
    if works {
        response.on_hover_text(format!("{}: {}", stage.name(), stage.purpose()))
    } else {
        response.on_hover_text(format!(
            "{}: {}. It is still to come; everything you decide here is kept for it.",
            stage.name(),
            stage.purpose()
        ))
    }
}

/// Icon and name; dots under them while the stage is to come, given the room.
fn face_ui(ui: &Ui, tab: Rect, stage: Stage, chosen: bool, colour: egui::Color32) {
    let is_tight = tab.height() < 60.0;
    let (icon, text, apart) = if is_tight {
        (18.0, 12.5, 11.0)
    } else {
        (24.0, 14.0, 14.0)
    };
    let middle = tab.center();
    let painter = ui.painter();
    stage_icon(stage).paint(painter, middle - vec2(0.0, apart - 2.0), icon, colour);
    let face = if chosen { Face::Bold } else { Face::Medium };
    let at = middle + vec2(0.0, apart);
    let centre = Align2::CENTER_CENTER;
    painter.text(at, centre, stage.name(), face.at(text), colour);
    if !stage.is_working() && !is_tight {
        not_yet(ui, at, &Theme::of(ui));
    }
}

/// Dots under a stage that is still to come.
fn not_yet(ui: &Ui, name: egui::Pos2, theme: &Theme) {
    let y = name.y + 11.0;
    let line = [pos2(name.x - 16.0, y), pos2(name.x + 16.0, y)];
    ui.painter()
        .extend(stitch::dotted(&line, 1.6, 4.0, theme.ink3));
}

/// The tab of the stage joins the table.
fn paint_tab(ui: &Ui, tab: Rect, chosen: bool, hovered: bool, theme: &Theme) {
    let left = CornerRadius {
        nw: 8,
        sw: 8,
        ne: 0,
        se: 0,
    };
    let painter = ui.painter();
    if chosen {
        painter.rect_filled(tab, left, theme.table);
        let bar = Rect::from_min_size(
            tab.left_top() + vec2(0.0, 4.0),
            vec2(3.0, tab.height() - 8.0),
        );
        painter.rect_filled(bar, 1.5, theme.thread);
    } else if hovered {
        painter.rect_filled(tab, left, theme.well.gamma_multiply(0.6));
    }
}

fn stage_icon(stage: Stage) -> Icon {
    match stage {
        Stage::Look => Icon::Look,
        Stage::Fit => Icon::Fit,
        Stage::Cut => Icon::Cut,
        Stage::Braid => Icon::Braid,
        Stage::Swatch => Icon::Swatch,
    }
}

/// Day and night, at the foot of the rail.
fn dress_ui(ui: &mut Ui, rail: Rect, desk: &Desk<'_>, theme: &Theme, wants: &mut Vec<Command>) {
    let (icon, name, other) = match desk.settings.dress {
        Dress::Light => (Icon::Moon, "Dark window", Dress::Dark),
        Dress::Dark => (Icon::Sun, "Light window", Dress::Light),
    };
    let at = pos2(rail.center().x, rail.bottom() - 40.0);
    let spot = Rect::from_center_size(at, vec2(36.0, 36.0));
    let response = ui.interact(spot, ui.scope_id().with("dress"), Sense::click());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, name));
    if response.hovered() {
        ui.painter().circle_filled(at, 18.0, theme.well);
        ui.painter()
            .circle_stroke(at, 18.0, Stroke::new(1.0, theme.line2));
    }
    icon.paint(ui.painter(), at, 20.0, theme.ink);
    if response.has_focus() && keyboard_leads(ui.ctx()) {
        stitch::focus_ring(ui.painter(), spot, 18.0, theme);
    }
    if response.on_hover_text(name).clicked() {
        wants.push(Command::Dress(other));
    }
}

/// Width of the rail in a window of this width.
pub(super) fn width(window: f32) -> f32 {
    if window < 1100.0 { 72.0 } else { 92.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rail_is_narrow_only_in_narrow_windows() {
        assert_eq!((width(1024.0), width(1440.0)), (72.0, 92.0), "two widths");
    }
}
