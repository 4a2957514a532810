//! Over the looks: colours and how many of each, what counts as the same, and filters.

use eframe::egui::{Popup, PopupCloseBehavior, Response, Sense, Ui, WidgetInfo, vec2};

use crate::app::controls::{Button, chip, colour_square, stepper, switch, tip};
use crate::app::desk::Desk;
use crate::app::fonts::Role;
use crate::app::icons::Icon;
use crate::app::painting::screen_colour;
use crate::app::theme::Theme;
use crate::app::words;
use crate::document::strand_name;
use crate::material::Colour;
use crate::pattern::{Alike, Kind, Worn};

use super::super::colours::offered;
use super::wish::{MOST_COLOURS, Wish};

/// The kinds with a filter, and what it says.
const KINDS: [(Kind, &str); 6] = [
    (Kind::Spirals, "spirals"),
    (Kind::Lines, "lines"),
    (Kind::Zigzags, "zigzags"),
    (Kind::Rings, "rings"),
    (Kind::Blocks, "blocks"),
    (Kind::Flecks, "flecks"),
];

/// Letters of more strands stand in a row of their own.
const FEW_STRANDS: usize = 8;

/// All of it, in rows that wrap.
pub(super) fn toolbar_ui(ui: &mut Ui, desk: &Desk<'_>, worn: &Worn, wish: &mut Wish) {
    row(ui, |ui| {
        colours_ui(ui, desk, worn, wish);
    });
    row(ui, |ui| {
        kinds_ui(ui, wish);
        ui.add_space(12.0);
        same_ui(ui, wish);
        if worn.now.0.len() <= FEW_STRANDS {
            ui.add_space(12.0);
            stays_ui(ui, worn, wish);
        }
    });
    if worn.now.0.len() > FEW_STRANDS {
        row(ui, |ui| stays_ui(ui, worn, wish));
    }
}

/// A label as high as what it stands beside.
fn label(ui: &mut Ui, words: &str) {
    let font = Role::Label.font();
    let colour = Theme::of(ui).ink2;
    let galley = ui.painter().layout_no_wrap(words.to_owned(), font, colour);
    let size = vec2(galley.size().x, ui.spacing().interact_size.y);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let enabled = ui.is_enabled();
    response.widget_info(|| WidgetInfo::labeled(eframe::egui::Role::Label, enabled, words));
    let at = rect.left_center() - vec2(0.0, galley.size().y / 2.0);
    ui.painter().galley(at, galley, colour);
}

fn row(ui: &mut Ui, content: impl FnOnce(&mut Ui)) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 4.0);
        ui.spacing_mut().interact_size.y = 30.0;
        content(ui);
    });
}

/// Squares with how many strands of each; one strand more of one is one less of another.
fn colours_ui(ui: &mut Ui, desk: &Desk<'_>, worn: &Worn, wish: &mut Wish) {
    label(ui, "colours");
    let strands = u16::try_from(worn.now.0.len()).unwrap_or(u16::MAX);
    let first: Vec<Colour> = wish.sets.iter().map(|set| set[0]).collect();
    let is_fixed = worn.kept().iter().any(Option::is_some);
    let free = wish.free();
    for (place, name) in words::colours(&first).iter().enumerate() {
        let spoken = wish.sets[place].len();
        let spoken = if spoken > 1 {
            format!("{name} and others")
        } else {
            name.clone()
        };
        colour_square(
            ui,
            screen_colour(first[place]),
            &format!("of the looks: {spoken}"),
            false,
        );
        let Some(count) = wish.count(place) else {
            continue;
        };
        if is_fixed && !free.contains(&place) {
            label(ui, &format!("{count} stay"));
            ui.add_space(6.0);
            continue;
        }
        let others = if is_fixed {
            free.clone()
        } else {
            (0..first.len()).collect()
        };
        let before = u16::try_from(count).unwrap_or(strands);
        let mut now = before;
        stepper(ui, &format!("strands in {spoken}"), &mut now, 0..=strands);
        for _ in before..now {
            wish.choice = wish.choice.clone().with_one_more(place, &others);
        }
        for _ in now..before {
            wish.choice = wish.choice.clone().with_one_less(place, &others);
        }
        ui.add_space(6.0);
    }
    more_ui(ui, desk, worn, wish);
    if is_fixed {
        return;
    }
    ui.add_space(10.0);
    let mut is_up_to = wish.count(0).is_none();
    if switch(ui, "any number of each", &mut is_up_to) {
        wish.set_up_to(is_up_to, worn);
    }
    label(ui, "any number of each");
}

/// One colour more, or the last one less.
fn more_ui(ui: &mut Ui, desk: &Desk<'_>, worn: &Worn, wish: &mut Wish) {
    let last = wish.sets.last();
    let is_spare = last.is_some_and(|last| !worn.sets.contains(last));
    let is_unused = wish
        .count(wish.sets.len().saturating_sub(1))
        .is_none_or(|count| count == 0);
    if is_spare && is_unused && chip(ui, "without the last", false).clicked() {
        wish.drop_last();
    }
    if wish.sets.len() >= MOST_COLOURS {
        return;
    }
    let more = ui.add(Button::bare("Another colour").icon(Icon::Plus));
    Popup::menu(&more)
        .close_behavior(PopupCloseBehavior::CloseOnClick)
        .show(|ui| {
            ui.horizontal(|ui| {
                for (colour, name) in offered(desk) {
                    let is_new = !wish.sets.contains(&vec![colour]);
                    let name = format!("also {name}");
                    if is_new && colour_square(ui, screen_colour(colour), &name, false).clicked() {
                        wish.add(colour);
                    }
                }
            });
        });
}

/// Only looks of some kinds.
fn kinds_ui(ui: &mut Ui, wish: &mut Wish) {
    label(ui, "only");
    if chip(ui, "all", wish.kinds.is_empty()).clicked() {
        wish.kinds.clear();
    }
    for (kind, words) in KINDS {
        let is_on = wish.kinds.contains(&kind);
        if chip(ui, words, is_on).clicked() {
            wish.kinds.retain(|&other| other != kind);
            if !is_on {
                wish.kinds.push(kind);
            }
        }
    }
}

/// What counts as the same; what is the same in a mirror is so from either end.
fn same_ui(ui: &mut Ui, wish: &mut Wish) {
    label(ui, "counts as the same");
    let is_turned = wish.alike != Alike::Turned;
    if chip(ui, "read from the other end", is_turned).clicked() {
        wish.alike = if is_turned {
            Alike::Turned
        } else {
            Alike::UpsideDown
        };
    }
    let is_mirrored = wish.alike == Alike::Mirrored;
    if chip(ui, "the mirror image", is_mirrored).clicked() {
        wish.alike = if is_mirrored {
            Alike::UpsideDown
        } else {
            Alike::Mirrored
        };
    }
}

/// Strands that keep their colour.
fn stays_ui(ui: &mut Ui, worn: &Worn, wish: &mut Wish) {
    label(ui, "stay as they are");
    let now = worn.among(&wish.sets).now;
    let fixed = worn.kept();
    ui.spacing_mut().item_spacing.x = 3.0;
    for (strand, &set) in now.0.iter().enumerate() {
        let is_fixed = fixed[strand].is_some();
        let is_on = is_fixed || wish.stays.contains_key(&strand);
        let letter = strand_name(strand);
        let response = chip(ui, &letter, is_on);
        say(&response, is_on, &format!("strand {letter} stays"));
        if is_fixed {
            tip(
                response,
                "its ends are of several colours and fit no other strand",
            );
        } else if response.clicked() {
            match wish.stays.remove(&strand) {
                Some(_) => {}
                None => drop(wish.stays.insert(strand, set)),
            }
        }
    }
}

/// What the reader hears for a letter.
fn say(response: &Response, is_on: bool, words: &str) {
    let role = eframe::egui::Role::Button;
    response.widget_info(|| WidgetInfo::selected(role, true, is_on, words));
}
