//! The strands sheet: what each strand is made of, alike ones together.

use eframe::egui::{
    Align, Layout, Popup, PopupCloseBehavior, Rect, Sense, Ui, color_picker, pos2, vec2,
};

use crate::app::command::Command;
use crate::app::controls::{
    Button, IconButton, Pick, Sheet, colour_square, hairline, head, link, stepper, switch, tip,
};
use crate::app::desk::Desk;
use crate::app::disc::strand_swatch;
use crate::app::filling::fill;
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::marks::standing_ui;
use crate::app::painting::screen_colour;
use crate::app::theme::Theme;
use crate::app::words;
use crate::document::{Design, Edit, MOST_ENDS, strand_name};
use crate::drawing::{Filling, fillings};
use crate::material::{Colour, Part, Strand};

use super::LookView;
use super::colours::{self, offered};
use super::disc_column::{appearance, colours as colours_of};
use super::shelf::{self, Purpose};

/// Height of a row of alike strands.
const ROW: f32 = 60.0;

/// Strands that are made up alike.
#[derive(Debug, Clone, PartialEq)]
struct Alike {
    /// Which, ascending.
    strands: Vec<usize>,
    /// What they are made of.
    strand: Strand,
}

/// Alike strands together, in the order of their first.
fn alike(design: &Design) -> Vec<Alike> {
    let mut groups: Vec<Alike> = Vec::new();
    for (place, strand) in design.strands.iter().enumerate() {
        match groups.iter_mut().find(|group| group.strand == *strand) {
            Some(group) => group.strands.push(place),
            None => groups.push(Alike {
                strands: vec![place],
                strand: strand.clone(),
            }),
        }
    }
    groups
}

/// The sheet with the strands, or with the fibre shelf while that is open.
pub(super) fn sheet_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    let width = ui.available_width();
    Sheet::new().size([width, 0.0]).show(ui, |ui| {
        if view.shelf.is_open() {
            shelf::shelf_ui(ui, desk, view, wants);
            return;
        }
        if view.colours.is_open() {
            colours::page_ui(ui, desk, view, wants);
            return;
        }
        strands_ui(ui, desk, view, wants);
    });
}

fn strands_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    let opens = head(ui, "Strands", |ui| {
        link(ui, "from my fibre shelf").clicked()
    });
    if opens {
        view.shelf.open(Purpose::MakeUp);
    }
    for group in alike(desk.design) {
        group_ui(ui, &group, desk, view);
    }
    hairline(ui);
    chosen_ui(ui, desk, view, wants);
    hairline(ui);
    marks_ui(ui, desk, wants);
}

/// Marks besides colour, on or off.
fn marks_ui(ui: &mut Ui, desk: &Desk<'_>, wants: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        let mut marks = desk.settings.marks;
        if switch(ui, "marks besides colour", &mut marks) {
            wants.push(Command::Marks(marks));
        }
        Role::Label.label(ui, "Marks besides colour");
        let too_many = fillings(&desk.design.strands).contains(&None);
        if marks && too_many {
            Role::Note.label(ui, "more than six colours: letters tell them");
        }
    });
}

/// How the strands of a row are filled in, where marks are wanted.
fn filling(desk: &Desk<'_>, group: &Alike) -> Option<Filling> {
    let first = group.strands.first().filter(|_| desk.settings.marks)?;
    fillings(&desk.design.strands)
        .get(*first)
        .copied()
        .flatten()
}

/// One row; a click chooses its strands and nothing else, with Ctrl or Shift
/// they join the choice or leave it.
fn group_ui(ui: &mut Ui, group: &Alike, desk: &Desk<'_>, view: &mut LookView) {
    let is_chosen = group.strands.iter().all(|s| view.chosen.contains(s));
    let name = made_of(&group.strand);
    let size = size_words(group, desk);
    let mut spoken = spoken(group, &name, &size, is_chosen);
    if let Some(filling) = filling(desk, group) {
        spoken += &format!(", marked {}", filling.word());
    }
    let response = Pick::row(&spoken, is_chosen, ROW).show(ui, |ui| {
        row_ui(ui, group, &name, &size, desk, view);
    });
    let response = tip(
        response,
        &format!("{name}: {}, {size}", held(&group.strand)),
    );
    if !response.clicked() {
        return;
    }
    let adds = ui.input(|input| input.modifiers.command || input.modifiers.shift);
    if !adds {
        view.chosen.clear();
    }
    for &strand in &group.strands {
        if is_chosen {
            view.chosen.remove(&strand);
        } else {
            view.chosen.insert(strand);
        }
    }
}

fn row_ui(ui: &mut Ui, group: &Alike, name: &str, size: &str, desk: &Desk<'_>, view: &LookView) {
    let row = ui.max_rect();
    let picture = Rect::from_center_size(pos2(row.left() + 33.0, row.center().y), vec2(62.0, 22.0));
    strand_picture(ui, picture, desk.design, &group.strand);
    if let Some(filling) = filling(desk, group) {
        let path = [picture.left_center(), picture.right_center()];
        let colour = group
            .strand
            .parts
            .first()
            .map_or(Colour::BLACK, |part| part.colour);
        fill(ui.painter(), &path, picture.height(), filling, colour);
    }
    let text = row.with_min_x(row.left() + 78.0);
    let right = 104.0;
    let builder = eframe::egui::UiBuilder::new()
        .max_rect(text.with_max_x(text.right() - right))
        .layout(Layout::top_down(Align::Min));
    let mut left = ui.new_child(builder);
    left.spacing_mut().item_spacing.y = 5.0;
    let label = Role::Name.text(&left, name);
    left.add(eframe::egui::Label::new(label).truncate());
    left.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        tags(ui, group, view);
        let words = Role::Note.text(ui, held_short(&group.strand));
        ui.add(eframe::egui::Label::new(words).truncate());
    });
    let builder = eframe::egui::UiBuilder::new()
        .max_rect(text.with_min_x(text.right() - right))
        .layout(Layout::top_down(Align::Max));
    let mut end = ui.new_child(builder);
    end.spacing_mut().item_spacing.y = 3.0;
    Role::Value.label(&mut end, size);
    standing_ui(&mut end, group.strand.standing(&desk.design.fibres), "");
}

/// Letters of the strands, filled while chosen.
fn tags(ui: &mut Ui, group: &Alike, view: &LookView) {
    let theme = Theme::of(ui);
    let most = if group.strands.len() > 6 { 4 } else { 6 };
    for &strand in group.strands.iter().take(most) {
        let (rect, _) = ui.allocate_exact_size(vec2(18.0, 18.0), Sense::hover());
        let chosen = view.chosen.contains(&strand);
        let (fill, ink) = if chosen {
            (theme.thread, theme.onthread)
        } else {
            (theme.paper, theme.ink)
        };
        let painter = ui.painter();
        painter.circle_filled(rect.center(), 8.5, fill);
        if !chosen {
            let edge = eframe::egui::Stroke::new(1.0, theme.line2);
            painter.circle_stroke(rect.center(), 8.5, edge);
        }
        let name = strand_name(strand);
        let font = Face::Bold.at(if name.len() > 1 { 9.0 } else { 11.0 });
        let centre = eframe::egui::Align2::CENTER_CENTER;
        painter.text(rect.center(), centre, name, font, ink);
    }
    if group.strands.len() > most {
        let more = format!("+{}", group.strands.len() - most);
        Role::Note.label(ui, more);
    }
}

/// The strand lying there.
fn strand_picture(ui: &Ui, rect: Rect, design: &Design, strand: &Strand) {
    let ends = strand.ends().min(99) as u16;
    let look = appearance(design, strand);
    let theme = Theme::of(ui);
    strand_swatch(ui.painter(), rect, &colours_of(strand), ends, &look, &theme);
}

/// "satin cord 2 mm" or "satin cord 2 mm and pearl cotton".
fn made_of(strand: &Strand) -> String {
    let mut names: Vec<&str> = strand.parts.iter().map(|p| p.fibre.as_str()).collect();
    names.dedup();
    if names.is_empty() {
        return "nothing yet".to_owned();
    }
    words::list(&names)
}

/// Its colours in words: "teal", "white and sea green".
fn coloured(strand: &Strand) -> String {
    let mut names: Vec<&str> = strand.parts.iter().map(|p| p.colour.name()).collect();
    names.dedup();
    words::list(&names)
}

/// "teal, one end", "sand, three ends held together".
fn held(strand: &Strand) -> String {
    let colours = coloured(strand);
    match strand.ends() {
        1 => format!("{colours}, one end"),
        n => format!("{colours}, {} ends held together", words::count(n)),
    }
}

/// As [`held`], where room is short: "sand, seven ends".
fn held_short(strand: &Strand) -> String {
    let words = held(strand);
    words.trim_end_matches(" held together").to_owned()
}

fn size_words(group: &Alike, desk: &Desk<'_>) -> String {
    match group.strand.body(&desk.design.fibres) {
        Ok(body) => words::length(body.diameter, desk.units()),
        Err(_) => "no size".to_owned(),
    }
}

fn spoken(group: &Alike, name: &str, size: &str, is_chosen: bool) -> String {
    let letters: Vec<String> = group.strands.iter().map(|&s| strand_name(s)).collect();
    let letters = match letters.as_slice() {
        [one] => format!("strand {one}"),
        many => format!("strands {}", many.join(", ")),
    };
    let chosen = if is_chosen { ", chosen" } else { "" };
    let held = held(&group.strand);
    format!("strand row: {name}, {letters}, {held}, {size}{chosen}")
}

/// What can be done to the strands chosen, or to all.
fn chosen_ui(ui: &mut Ui, desk: &Desk<'_>, view: &mut LookView, wants: &mut Vec<Command>) {
    let strands = view.meant(desk.design);
    chosen_head(ui, view, &strands);
    let Some(parts) = common_parts(desk.design, &strands) else {
        mixed_ui(ui, desk, &strands, view, wants);
        return;
    };
    for (place, part) in parts.iter().enumerate() {
        part_ui(ui, place, part, parts.len(), desk, view, &strands, wants);
    }
    ui.horizontal_wrapped(|ui| {
        let add = Button::bare("Add a fibre to them").icon(Icon::Plus);
        if ui.add(add).clicked() {
            view.shelf.open(Purpose::Add);
        }
        more_colours_ui(ui, view);
    });
}

pub(super) fn chosen_head(ui: &mut Ui, view: &mut LookView, strands: &[usize]) {
    ui.horizontal(|ui| {
        let letters: Vec<String> = strands.iter().take(8).map(|&s| strand_name(s)).collect();
        let count = match (view.chosen.len(), strands.len()) {
            (0, n) => format!("All {n} strands"),
            (1, _) => "1 strand chosen".to_owned(),
            (n, _) => format!("{n} strands chosen"),
        };
        Role::Name.label(ui, count);
        if view.chosen.is_empty() {
            Role::Note.label(ui, "choose some to change them alone");
            return;
        }
        Role::Note.label(ui, letters.join(" "));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if link(ui, "let go").clicked() {
                view.chosen.clear();
            }
        });
    });
}

/// What the strands are made of, if they are all of the same fibres.
fn common_parts(design: &Design, strands: &[usize]) -> Option<Vec<Part>> {
    let first = design.strands.get(*strands.first()?)?;
    let alike = |strand: &Strand| {
        strand.parts.len() == first.parts.len()
            && strand
                .parts
                .iter()
                .zip(&first.parts)
                .all(|(a, b)| a.fibre == b.fibre)
    };
    let all = strands
        .iter()
        .all(|&s| design.strands.get(s).is_some_and(alike));
    all.then(|| first.parts.clone())
}

/// Strands of different fibres: colours, or one make-up for all.
fn mixed_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    strands: &[usize],
    view: &mut LookView,
    wants: &mut Vec<Command>,
) {
    colours_ui(ui, desk, strands, None, Colour([0; 3]), wants);
    more_colours_ui(ui, view);
    Role::Note.label(ui, "They are of different fibres.");
    if ui
        .add(Button::plain("Make them all of one fibre…"))
        .clicked()
    {
        view.shelf.open(Purpose::MakeUp);
    }
}

fn part_ui(
    ui: &mut Ui,
    place: usize,
    part: &Part,
    count: usize,
    desk: &Desk<'_>,
    view: &mut LookView,
    strands: &[usize],
    wants: &mut Vec<Command>,
) {
    ui.push_id(place, |ui| {
        ui.horizontal(|ui| {
            let words = format!("{}, another fibre", part.fibre);
            let label = Role::Text.text(ui, &part.fibre);
            // A long name leaves room for the two buttons after it.
            let room = ui.available_width() - 84.0;
            ui.scope(|ui| {
                ui.set_max_width(room);
                ui.add(eframe::egui::Label::new(label).truncate());
            });
            let swap = IconButton::new(Icon::Shelf, &words).small();
            if ui.add(swap).clicked() {
                view.shelf.open(Purpose::Swap(place));
            }
            if count > 1 {
                let words = format!("Take {} away", part.fibre);
                if ui
                    .add(IconButton::new(Icon::Cross, &words).small())
                    .clicked()
                {
                    wants.push(Command::Edit(Edit::RemovePart {
                        strands: strands.to_vec(),
                        part: place,
                    }));
                }
            }
        });
        ui.horizontal(|ui| {
            let room = ui.available_width() - 140.0;
            ui.allocate_ui(vec2(room, 34.0), |ui| {
                colours_ui(ui, desk, strands, Some(place), part.colour, wants);
            });
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ends_ui(ui, place, part, count, strands, wants);
            });
        });
    });
}

/// Opens the page of colours.
fn more_colours_ui(ui: &mut Ui, view: &mut LookView) {
    let more = Button::bare("More colours").icon(Icon::Brush);
    let tip = "By name, from a photograph, from a palette";
    if ui.add(more.tip(tip)).clicked() {
        view.colours.open();
    }
}

fn ends_ui(
    ui: &mut Ui,
    place: usize,
    part: &Part,
    count: usize,
    strands: &[usize],
    wants: &mut Vec<Command>,
) {
    let mut ends = part.ends;
    let name = if count > 1 {
        format!("ends of {}", part.fibre)
    } else {
        "ends".to_owned()
    };
    if stepper(ui, &name, &mut ends, 1..=MOST_ENDS) {
        wants.push(Command::Edit(Edit::Ends {
            strands: strands.to_vec(),
            part: place,
            ends,
        }));
    }
    Role::Label.label(ui, "ends");
}

/// Colours in use first, then dyes, then any colour.
fn colours_ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    strands: &[usize],
    part: Option<usize>,
    now: Colour,
    wants: &mut Vec<Command>,
) {
    let mut paint = |colour: Colour| {
        wants.push(Command::Edit(Edit::Paint {
            strands: strands.to_vec(),
            part,
            colour,
        }));
    };
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(2.0, 2.0);
        for (colour, name) in offered(desk) {
            let name = format!("colour {name}");
            let chosen = part.is_some() && colour == now;
            if colour_square(ui, screen_colour(colour), &name, chosen).clicked() {
                paint(colour);
            }
        }
        if let Some(colour) = any_colour(ui, now) {
            paint(colour);
        }
    });
}

/// A colour of one's own, picked in a slip.
pub(super) fn any_colour(ui: &mut Ui, now: Colour) -> Option<Colour> {
    let button = IconButton::new(Icon::Plus, "Another colour").small();
    let response = ui.add(button);
    let before = screen_colour(now);
    let mut colour = before;
    Popup::from_toggle_button_response(&response)
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .accessible_name("Another colour")
        .show(|ui| {
            let alpha = color_picker::Alpha::Opaque;
            color_picker::color_picker_color32(ui, &mut colour, alpha);
        });
    let [r, g, b, _] = colour.to_array();
    (colour != before).then_some(Colour([r, g, b]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn alike_strands_share_a_row_and_a_colour_parts_them() {
        let mut design = crate::app::fresh::plain();
        for strand in &mut design.strands {
            *strand = Strand::single("satin", Colour([1, 2, 3]));
        }
        assert_eq!(alike(&design).len(), 1, "all alike");
        design.strands[2].parts[0].colour = Colour([9, 9, 9]);
        let groups = alike(&design);
        assert_eq!(groups.len(), 2, "one has another colour");
        assert_eq!(groups[1].strands, [2], "the third strand alone");
    }
}
