//! "How large is this screen?": the sheet on which the screen is measured.
//!
//! The outline of a bank card, to be drawn larger or smaller until a real one
//! fits; or its long edge, to be measured with a ruler. Either way only one
//! figure is sought, the screen's pixels to a millimetre.

use eframe::egui::{
    self, Align2, Area, CursorIcon, Id, Key, Order, Rect, Response, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use crate::app::command::Command;
use crate::app::controls::{Button, Entered, Field, IconButton, Sheet, head, keyboard_leads};
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::screen::{CARD, CARD_CORNER, FINENESS, Measured, Screen};
use crate::app::stitch;
use crate::app::theme::Theme;
use crate::quantity::{Length, UnitSystem};

/// The question, and the name of what opens the sheet.
pub(super) const QUESTION: &str = "How large is this screen?";

/// Lengths that a ruler may show for the outline's long edge, mm.
const RULED: (f64, f64) = (10.0, 500.0);

/// Width of the words under the outline, at most.
const WORDS: f32 = 440.0;

/// The sheet while it lies open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measuring {
    /// Pixels to a millimetre as the outline stands.
    fineness: f32,
    /// Whether it has been drawn before.
    was_shown: bool,
}

/// How the sheet fares.
#[derive(Debug, Clone, Copy, PartialEq)]
enum End {
    /// It stays open.
    Open,
    /// The outline fits.
    Fits,
    /// Another time.
    Left,
}

impl Measuring {
    /// A sheet whose outline begins at so many pixels to a millimetre.
    pub(super) fn from(fineness: f32) -> Self {
        Self {
            fineness,
            was_shown: false,
        }
    }

    /// The outline's long edge, so many pixels longer.
    fn longer(&mut self, pixels: f32) {
        self.set(self.fineness + pixels / CARD.0);
    }

    /// The outline's long edge is so long by the ruler, mm.
    fn ruled(&mut self, mm: f64) {
        self.set(self.fineness * CARD.0 / mm as f32);
    }

    fn set(&mut self, fineness: f32) {
        self.fineness = fineness.clamp(FINENESS.0, FINENESS.1);
    }
}

/// The sheet over the window while it is open.
pub(super) fn measure_ui(
    ui: &Ui,
    measuring: &mut Option<Measuring>,
    units: UnitSystem,
    wants: &mut Vec<Command>,
) {
    let Some(now) = measuring else { return };
    let end = sheet(ui, now, units);
    if end == End::Fits {
        let screen = Screen::under(ui.ctx());
        let fineness = now.fineness;
        wants.push(Command::Screen(Measured { screen, fineness }));
    }
    if end != End::Open {
        *measuring = None;
    }
}

fn sheet(ui: &Ui, now: &mut Measuring, units: UnitSystem) -> End {
    let window = ui.ctx().content_rect();
    let room = window.shrink(12.0);
    let area = Area::new(Id::unique("screen sheet"))
        .order(Order::Foreground)
        .pivot(Align2::CENTER_BOTTOM)
        .constrain_to(room)
        .fixed_pos(pos2(window.center().x, ui.max_rect().top() - 12.0));
    let shown = area.show(ui.ctx(), |ui| {
        let width = (room.width() - 44.0).min(WORDS.max(now.long_edge(ui) + 8.0));
        ui.set_max_width(width + 44.0);
        Sheet::new()
            .show(ui, |ui| {
                ui.set_width(width);
                let most = room.height() - 44.0;
                let rows = egui::ScrollArea::vertical()
                    .max_height(most)
                    .min_scrolled_height(most);
                rows.show(ui, |ui| contents(ui, now, units)).inner
            })
            .inner
    });
    let escaped = ui.input(|input| input.key_pressed(Key::Escape));
    if escaped { End::Left } else { shown.inner }
}

fn contents(ui: &mut Ui, now: &mut Measuring, units: UnitSystem) -> End {
    let mut end = End::Open;
    let shut = head(ui, QUESTION, |ui| {
        ui.add(IconButton::new(Icon::Cross, "Another time").small())
            .clicked()
    });
    said(
        ui,
        "Lay a bank card on the outline and draw the outline larger or smaller until \
         the two are the same size. Then the tape and the cord are as long as in life.",
    );
    let outline = outline_ui(ui, now);
    if !now.was_shown {
        outline.request_focus();
        now.was_shown = true;
    }
    ui.horizontal(|ui| {
        if ui.add(IconButton::new(Icon::Minus, "Smaller")).clicked() {
            now.longer(-1.0);
        }
        if ui.add(IconButton::new(Icon::Plus, "Larger")).clicked() {
            now.longer(1.0);
        }
        let enter = outline.has_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        let button = Button::main("They are the same size");
        if ui.add(button).clicked() || enter {
            end = End::Fits;
        }
    });
    ruler_ui(ui, now, units);
    let screen = Screen::under(ui.ctx()).words();
    Role::Note.label(ui, format!("Kept for this screen ({screen})."));
    if shut { End::Left } else { end }
}

fn said(ui: &mut Ui, words: &str) {
    let text = Role::Text.text(ui, words);
    ui.add(egui::Label::new(text).wrap());
}

/// For those with a ruler and no card.
fn ruler_ui(ui: &mut Ui, now: &mut Measuring, units: UnitSystem) {
    ui.horizontal_wrapped(|ui| {
        Role::Note.label(ui, "No card? By a ruler its long edge is");
        let unit = match units {
            UnitSystem::Millimetres => "mm",
            UnitSystem::Inches => "in",
        };
        let field = Field::new("long edge by the ruler")
            .unit(unit)
            .width(96.0)
            .steps();
        match field.show(ui, "", |text| read_ruled(text, units)) {
            Some(Entered::Value(mm)) => now.ruled(mm),
            Some(Entered::Step(steps)) => now.longer(steps as f32),
            None => {}
        }
    });
}

fn read_ruled(text: &str, units: UnitSystem) -> Result<f64, String> {
    let mm = Length::read(text, units).map_err(|error| error.to_string())?;
    let range = RULED.0..=RULED.1;
    if range.contains(&mm.mm()) {
        return Ok(mm.mm());
    }
    Err("no screen shows it so long".to_owned())
}

impl Measuring {
    /// Length of the outline's long edge, points.
    fn long_edge(&self, ui: &Ui) -> f32 {
        CARD.0 * self.fineness / ui.ctx().pixels_per_point()
    }
}

/// The outline, to be drawn by any of its edges and stepped by the arrow keys.
fn outline_ui(ui: &mut Ui, now: &mut Measuring) -> Response {
    let long = now.long_edge(ui);
    let size = vec2(long, long * CARD.1 / CARD.0);
    let spot = vec2(ui.available_width().max(size.x), size.y + 8.0);
    let (spot, _) = ui.allocate_exact_size(spot, Sense::hover());
    let rect = Rect::from_min_size(spot.min + vec2(0.0, 4.0), size);
    let id = ui.make_persistent_id("card outline");
    let response = ui.interact(rect.expand(10.0), id, Sense::click_and_drag());
    let words = format!(
        "outline of a bank card, {} pixels long",
        (CARD.0 * now.fineness).round()
    );
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Slider, true, &words));
    if response.dragged() {
        let way = response.drag_delta();
        let down = way.y * CARD.0 / CARD.1;
        let longer = if way.x.abs() > down.abs() {
            way.x
        } else {
            down
        };
        now.longer(longer * ui.ctx().pixels_per_point());
    }
    if response.has_focus() {
        now.longer(stepped(ui, &response));
    }
    draw_outline(ui, rect, &response);
    response.on_hover_cursor(CursorIcon::ResizeNwSe)
}

/// Pixels asked for by the arrow keys; ten with Shift.
fn stepped(ui: &Ui, response: &Response) -> f32 {
    ui.memory_mut(|memory| {
        let filter = egui::EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..Default::default()
        };
        memory.set_focus_lock_filter(response.id, filter);
    });
    ui.input(|input| {
        let pressed = |key| f32::from(u8::from(input.key_pressed(key)));
        let up = pressed(Key::ArrowRight) + pressed(Key::ArrowUp);
        let down = pressed(Key::ArrowLeft) + pressed(Key::ArrowDown);
        let by = if input.modifiers.shift { 10.0 } else { 1.0 };
        by * (up - down)
    })
}

fn draw_outline(ui: &Ui, rect: Rect, response: &Response) {
    let theme = Theme::of(ui);
    let corner = CARD_CORNER / CARD.0 * rect.width();
    let painter = ui.painter();
    let edge = Stroke::new(1.0, theme.ink);
    painter.rect(rect, corner, theme.well, edge, StrokeKind::Inside);
    let size = format!("{:.2} × {:.2} mm", CARD.0, CARD.1);
    let middle = rect.center();
    let (font, colour) = (Role::Note.font(), theme.ink2);
    painter.text(middle, Align2::CENTER_CENTER, size, font, colour);
    // The grip: two threads across the lower right corner.
    for out in [10.0, 16.0] {
        let ends = [
            pos2(rect.right() - out, rect.bottom() - 4.0),
            pos2(rect.right() - 4.0, rect.bottom() - out),
        ];
        painter.extend(stitch::thread(ends.to_vec(), 1.6, theme.ink2));
    }
    if response.has_focus() && keyboard_leads(ui.ctx()) {
        stitch::focus_ring(painter, rect, corner, &theme);
    }
}

#[cfg(test)]
mod tests {
    use std::cell::{Cell, RefCell};

    use egui_kittest::Harness;
    use egui_kittest::kittest::Queryable;

    use super::*;
    use crate::app::controls::bench::window;

    #[test]
    fn an_edge_of_83_millimetres_that_should_be_85_6_was_drawn_too_short() {
        let mut now = Measuring::from(4.0);
        now.ruled(83.0);
        assert!((now.fineness - 4.0 * 85.6 / 83.0).abs() < 1e-4, "{now:?}");
        now.ruled(85.6);
        assert!((now.fineness - 4.0 * 85.6 / 83.0).abs() < 1e-4, "{now:?}");
    }

    /// The sheet, begun at four pixels to the millimetre, and what came of it.
    fn opened<'a>(
        state: &'a Cell<Option<Measuring>>,
        asked: &'a RefCell<Vec<Command>>,
    ) -> Harness<'a> {
        state.set(Some(Measuring::from(4.0)));
        window([900.0, 700.0], |ui| {
            let mut now = state.get();
            let units = UnitSystem::Millimetres;
            measure_ui(ui, &mut now, units, &mut asked.borrow_mut());
            state.set(now);
        })
    }

    fn kept(asked: &RefCell<Vec<Command>>) -> f32 {
        match asked.borrow().as_slice() {
            [Command::Screen(measured)] => measured.fineness,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn the_outline_grows_by_arrows_and_is_kept_by_its_button() {
        let (state, asked) = Default::default();
        let mut harness = opened(&state, &asked);
        harness.run();
        for _ in 0..3 {
            harness.key_press(Key::ArrowRight);
            harness.run();
        }
        harness.key_press_modifiers(egui::Modifiers::SHIFT, Key::ArrowDown);
        harness.run();
        harness.get_by_label("They are the same size").click();
        harness.run();
        let pixels = kept(&asked) * CARD.0;
        assert!((pixels - (4.0 * CARD.0 - 7.0)).abs() < 0.01, "{pixels}");
        assert_eq!(state.get(), None, "and the sheet is put away");
    }

    #[test]
    fn the_outline_follows_the_pointer_that_draws_its_edge() {
        let (state, asked) = Default::default();
        let mut harness = opened(&state, &asked);
        harness.run();
        let outline = harness.get_by_label_contains("outline of a bank card");
        let rect = outline.rect().shrink(10.0);
        let from = rect.right_center();
        harness.drag_at(from);
        harness.run();
        let to = from + vec2(24.0, 0.0);
        harness.hover_at(to);
        harness.run();
        harness.drop_at(to);
        harness.run();
        let long = state.get().expect("open").fineness * CARD.0;
        assert!((long - (4.0 * CARD.0 + 24.0)).abs() < 1.5, "{long}");
    }

    #[test]
    fn escape_leaves_the_screen_as_it_was() {
        let (state, asked) = Default::default();
        let mut harness = opened(&state, &asked);
        harness.run();
        harness.key_press(Key::Escape);
        harness.run();
        assert_eq!(state.get(), None);
        assert!(asked.borrow().is_empty());
    }
}
