//! The figure band: the four figures that matter, in every stage, and the rest
//! of them at a click.

use eframe::egui::{
    Align, Grid, Key, Layout, Popup, PopupCloseBehavior, Rect, ScrollArea, Stroke, Ui, UiBuilder,
    pos2, vec2,
};

use crate::cord::{Cord, Figures, Hand, Section};
use crate::document::strand_name;
use crate::plan::{Binding, bound_end};
use crate::quantity::{Estimate, Shown, UnitSystem};

use super::controls::{Button, IconButton, hairline, tip};
use super::desk::Desk;
use super::fonts::Role;
use super::icons::Icon;
use super::marks::{Figure, Of, Scale, short_minus, standing_ui};
use super::solver::Known;
use super::theme::Theme;
use super::window::MARGIN;
use super::words;

/// Room for the button that shows all figures.
const MORE: f32 = 44.0;

/// Over figures that were told at once.
const FIRST_ANSWER: &str = "About so: a first answer, the solved figures are on their way.";

/// One figure of the band.
struct Item {
    name: &'static str,
    shown: Shown,
    estimate: Estimate,
    scale: Scale,
    /// What stands beside the mark's word.
    remark: String,
}

/// The four figures of a cord; the thicknesses share a scale.
fn four(figures: &Figures, binding: &Binding, shapes: usize, units: UnitSystem) -> [Item; 4] {
    let (disc, rested) = (figures.thickness_on_disc, figures.thickness_rested);
    let (change, bound) = (figures.lengthening, bound_end(figures, binding));
    let shared = Scale::shared([&disc, &rested]);
    let item = |name, estimate, shown, scale| Item {
        name,
        shown,
        estimate,
        scale,
        remark: String::new(),
    };
    [
        Item {
            remark: shapes_words(shapes),
            ..item("On the disc", disc, disc.length(units), shared)
        },
        item("Rested", rested, rested.length(units), shared),
        Item {
            remark: change_words(figures),
            ..item(
                "Length changes",
                change,
                change.change(),
                Scale::round(&change),
            )
        },
        item(
            "Bound end",
            bound,
            bound.length(units),
            Scale::round(&bound),
        ),
    ]
}

/// From sixteen strands on a cord may rest in several shapes.
fn shapes_words(shapes: usize) -> String {
    match shapes {
        0 | 1 => String::new(),
        n => format!("one of {} resting shapes", words::count(n)),
    }
}

/// Both parts of the change: "−3.5 % off, +2.0 % worked".
fn change_words(figures: &Figures) -> String {
    let (off, worked) = (figures.off_weight.change(), figures.worked.change());
    format!("{} off, {} worked", off.figure, worked.figure)
}

/// Draws the band into `rect`, which is paper already.
pub(super) fn figures_ui(ui: &mut Ui, rect: Rect, desk: &Desk<'_>) {
    let theme = Theme::of(ui);
    ui.painter()
        .hline(rect.x_range(), rect.top(), Stroke::new(1.0, theme.line));
    let inner = rect
        .shrink2(vec2(MARGIN, 4.0))
        .with_max_x(rect.right() - MARGIN - MORE);
    let Some(figures) = desk.known().figures() else {
        no_figures(ui, inner, desk);
        return;
    };
    let items = four(
        figures,
        &desk.design.piece.binding,
        own_cord(desk).map_or(1, |cord| cord.report.shapes),
        desk.units(),
    );
    let compact = rect.height() < 90.0;
    let builder = UiBuilder::new().max_rect(inner).id_salt("figures");
    ui.scope_builder(builder, |ui| {
        ScrollArea::horizontal().auto_shrink(false).show(ui, |ui| {
            ui.horizontal(|ui| {
                let least = if compact { 112.0 } else { 250.0 };
                let wide = (inner.width() / 4.0).max(least);
                for item in &items {
                    cell_ui(ui, item, wide, compact, figures, desk);
                }
            });
        });
    });
    let spot = Rect::from_center_size(
        pos2(rect.right() - MARGIN - 14.0, rect.center().y),
        vec2(34.0, 34.0),
    );
    ui.scope_builder(UiBuilder::new().max_rect(spot).id_salt("more"), |ui| {
        all_figures_ui(ui, figures, desk);
    });
}

fn cell_ui(ui: &mut Ui, item: &Item, wide: f32, compact: bool, figures: &Figures, desk: &Desk<'_>) {
    let (value, unit) = item
        .shown
        .figure
        .rsplit_once(' ')
        .unwrap_or((&item.shown.figure, ""));
    let figure = Figure {
        name: item.name,
        value,
        unit,
        range: &item.shown.spread,
        estimate: item.estimate,
        scale: item.scale,
        standing: figures.standing,
        remark: if compact { "" } else { &item.remark },
        of: of_which(desk),
    };
    let left = ui.cursor().left();
    ui.allocate_ui_with_layout(
        vec2(wide - 8.0, ui.available_height()),
        Layout::top_down(Align::Min),
        |ui| {
            let response = if compact {
                figure.show_compact(ui)
            } else {
                figure.show(ui)
            };
            tip(response, &guessed(figures))
        },
    );
    ui.add_space((left + wide - ui.cursor().left()).max(0.0));
}

/// The cord of the design, once it is solved.
fn own_cord<'a>(desk: &Desk<'a>) -> Option<&'a Cord> {
    desk.cord().filter(|_| !desk.solver.solved().is_old())
}

fn of_which(desk: &Desk<'_>) -> Of {
    match desk.known() {
        Known::About(_) => Of::About,
        _ if desk.solver.solved().is_coarse() => Of::Coming,
        _ => Of::Now,
    }
}

/// What a figure's guess rests on, a line each; nothing when nothing is guessed.
fn guessed(figures: &Figures) -> String {
    if figures.guesses.is_empty() {
        return String::new();
    }
    format!("What is guessed\n{}", plainly(&figures.guesses).join("\n"))
}

/// The guesses under a head that says already what they are.
fn plainly(guesses: &[String]) -> Vec<String> {
    let plain = |words: &String| words.trim_end_matches(": our guess").to_owned();
    guesses.iter().map(plain).collect()
}

/// Out of reach, and why; never a zero.
fn no_figures(ui: &mut Ui, rect: Rect, desk: &Desk<'_>) {
    let words = match desk.solver.solved().error() {
        Some(_) => "No figures: there is no such cord",
        None => "The figures come with the cord",
    };
    let builder = UiBuilder::new()
        .max_rect(rect)
        .layout(Layout::left_to_right(Align::Center));
    ui.scope_builder(builder, |ui| Role::Lead.label(ui, words));
}

/// The button, and the slip with every figure while it is open.
fn all_figures_ui(ui: &mut Ui, figures: &Figures, desk: &Desk<'_>) {
    let remarks = own_cord(desk).map_or(&[][..], |cord| &cord.remarks);
    let icon = if remarks.is_empty() {
        Icon::Dots
    } else {
        Icon::Info
    };
    let response = ui.add(IconButton::new(icon, "All figures"));
    Popup::from_toggle_button_response(&response)
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .accessible_name("All figures")
        .show(|ui| {
            ui.set_width(420.0);
            let tall = (ui.ctx().content_rect().height() - 190.0).clamp(180.0, 720.0);
            ScrollArea::vertical().max_height(tall).show(ui, |ui| {
                turn_pages(ui);
                if desk.known().is_about() {
                    Role::Note.label(ui, FIRST_ANSWER);
                }
                list_ui(ui, figures, remarks, desk);
            });
            if ui.add(Button::plain("Close")).clicked() {
                ui.close();
            }
        });
}

/// Page up and page down move the list.
fn turn_pages(ui: &Ui) {
    let pressed = |key| ui.input(|input| f32::from(u8::from(input.key_pressed(key))));
    let pages = pressed(Key::PageUp) - pressed(Key::PageDown);
    if pages != 0.0 {
        ui.scroll_with_delta(vec2(0.0, 0.8 * pages * ui.clip_rect().height()));
    }
}

fn list_ui(ui: &mut Ui, figures: &Figures, remarks: &[String], desk: &Desk<'_>) {
    let binding = &desk.design.piece.binding;
    Role::Section.label(ui, "All figures");
    Grid::new("all figures")
        .num_columns(3)
        .spacing(vec2(14.0, 4.0))
        .show(ui, |ui| {
            for (name, shown) in rows(figures, binding, desk.units()) {
                Role::Label.label(ui, name);
                Role::Value.label(ui, short_minus(&shown.figure));
                Role::Note.label(ui, &shown.spread);
                ui.end_row();
            }
        });
    standing_ui(ui, figures.standing, "the weakest they rest on");
    lines_ui(ui, "Of this cord", remarks);
    lines_ui(ui, "What is guessed", &plainly(&figures.guesses));
    hairline(ui);
    Role::Label.label(ui, "Strand used for a length of cord, rested");
    take_up_ui(ui, figures);
}

/// Sentences under a head; neither when there are none.
fn lines_ui(ui: &mut Ui, head: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    hairline(ui);
    Role::Label.label(ui, head);
    for words in lines {
        let text = Role::Note.text(ui, words);
        ui.add(eframe::egui::Label::new(text).wrap());
    }
}

fn rows(figures: &Figures, binding: &Binding, units: UnitSystem) -> Vec<(&'static str, Shown)> {
    let length = |estimate: Estimate| estimate.length(units);
    let mut rows = vec![
        ("On the disc", length(figures.thickness_on_disc)),
        ("On the disc, pressed", length(figures.pressed_on_disc)),
        ("Rested", length(figures.thickness_rested)),
        ("Rested, pressed", length(figures.pressed_rested)),
    ];
    rows.push(("Section", section(figures, units)));
    if figures.section == Section::Flat {
        rows.push(("Width, rested", length(figures.width_rested)));
    }
    rows.extend([
        ("Off the weight", figures.off_weight.change()),
        ("Worked supple", figures.worked.change()),
        ("Both together", figures.lengthening.change()),
        ("Bound end", length(bound_end(figures, binding))),
        (pitch_name(figures.hand), pitch(figures, units)),
        ("Moves", figures.moves_per_cm.count_of_length(units)),
        ("Mass, rested", figures.mass.mass_of_length(units)),
    ]);
    rows
}

/// "round", or "hollow, 2.6 mm inside".
fn section(figures: &Figures, units: UnitSystem) -> Shown {
    let word = figures.section.word();
    let figure = if figures.section == Section::Hollow {
        let bore = Estimate::exact(figures.bore).length(units).figure;
        format!("{word}, {bore} inside")
    } else {
        word.to_owned()
    };
    Shown {
        figure,
        spread: String::new(),
    }
}

fn pitch_name(hand: Hand) -> &'static str {
    match hand {
        Hand::S => "Pitch of the S lay",
        Hand::Z => "Pitch of the Z lay",
        Hand::None => "Pitch of the lay",
    }
}

fn pitch(figures: &Figures, units: UnitSystem) -> Shown {
    if figures.hand == Hand::None || !figures.pitch.value.is_finite() {
        return Shown {
            figure: "no lay".to_owned(),
            spread: String::new(),
        };
    }
    figures.pitch.length(units)
}

/// Alike take-ups together: "1.53 (1.48 to 1.58)  A B C D".
fn take_up_ui(ui: &mut Ui, figures: &Figures) {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (strand, take_up) in figures.take_up.iter().enumerate() {
        let words = take_up.ratio().to_string();
        let name = strand_name(strand);
        match groups.iter_mut().find(|(known, _)| *known == words) {
            Some((_, strands)) => strands.push(name),
            None => groups.push((words, vec![name])),
        }
    }
    for (words, strands) in groups {
        ui.horizontal_wrapped(|ui| {
            Role::Value.label(ui, words);
            Role::Note.label(ui, strands.join(" "));
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Standing;

    fn figures() -> Figures {
        let e = Estimate::exact;
        Figures {
            thickness_on_disc: e(6.7),
            thickness_rested: e(6.4),
            pressed_on_disc: e(5.9),
            pressed_rested: e(5.7),
            width_rested: e(6.4),
            section: Section::Round,
            bore: 0.0,
            off_weight: e(-3.5),
            worked: e(2.0),
            lengthening: e(-1.6),
            bundle: e(5.3),
            bundle_of_tails: e(4.6),
            pitch: e(f64::INFINITY),
            hand: Hand::None,
            moves_per_cm: e(12.0),
            mass: e(14.0),
            take_up: vec![e(1.5), e(1.5), e(1.6)],
            standing: Standing::Guess,
            guesses: Vec::new(),
        }
    }

    #[test]
    fn the_change_of_length_is_said_in_both_its_parts_with_signs() {
        assert_eq!(change_words(&figures()), "−3.5 % off, +2.0 % worked");
    }

    #[test]
    fn a_cord_without_lay_has_no_pitch() {
        assert_eq!(pitch(&figures(), UnitSystem::Millimetres).figure, "no lay");
    }

    #[test]
    fn a_round_cord_is_given_no_width() {
        let names = |figures: &Figures| -> Vec<_> {
            rows(figures, &Binding::default(), UnitSystem::Millimetres)
                .into_iter()
                .map(|(name, _)| name)
                .collect()
        };
        let mut cord = figures();
        assert!(!names(&cord).contains(&"Width, rested"), "round");
        cord.section = Section::Flat;
        assert!(names(&cord).contains(&"Width, rested"), "flat");
    }
}
