//! Thread on the shelf: that of the design first.

use eframe::egui::{Label, Sense, Ui, vec2};

use super::Shelf;
use super::table::{captions, cell, line, next};
use crate::app::controls::{Button, IconButton, link};
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::stage::cut::buy::put_up_word;
use crate::app::stage::cut::named;
use crate::app::stage::cut::thread_bar::{paint, swatch};
use crate::app::stage::entry::{Grain, LengthEntry, money, name};
use crate::app::theme::Theme;
use crate::material::Colour;
use crate::plan::{PutUp, Stock};

/// Every way of selling thread.
const PUT_UPS: [PutUp; 5] = [
    PutUp::Spool,
    PutUp::Skein,
    PutUp::Ball,
    PutUp::Metre,
    PutUp::Packet,
];
/// Widths of the columns after the name.
const THERE: f32 = 92.0;
const SOLD: f32 = 84.0;
const EACH: f32 = 88.0;
const PRICE: f32 = 92.0;
const LOT: f32 = 84.0;
const AWAY: f32 = 26.0;
/// Longest thread on a shelf, mm. Our guess, wide.
const MOST_MM: f64 = 1e8;

/// A thread of the design or of the shelf.
struct Thread {
    fibre: String,
    colour: Option<Colour>,
    /// Where it stands among the stock; none if it is not written down.
    at: Option<usize>,
}

/// The list of threads.
pub(super) fn thread_ui(ui: &mut Ui, shelf: &mut Shelf<'_, '_>) {
    let (here, others) = threads(shelf);
    let wide = THERE + SOLD + EACH + PRICE + LOT + AWAY + 6.0 * 8.0;
    let name = (ui.available_width() - wide).max(120.0);
    let columns = [
        ("", name),
        ("on the shelf", THERE),
        ("sold by the", SOLD),
        ("of", EACH),
        ("price of one", PRICE),
        ("dye lot", LOT),
    ];
    captions(ui, &columns);
    Role::Label.label(ui, "In this cord");
    for thread in &here {
        thread_line(ui, shelf, thread, name);
    }
    if !others.is_empty() {
        ui.add_space(4.0);
        Role::Label.label(ui, "Besides");
    }
    for thread in &others {
        thread_line(ui, shelf, thread, name);
    }
}

/// Those of the design, then the rest of the shelf.
fn threads(shelf: &Shelf<'_, '_>) -> (Vec<Thread>, Vec<Thread>) {
    let (design, stock) = (shelf.desk.design, &shelf.workshop().stock);
    let mut here: Vec<Thread> = Vec::new();
    let mut taken = vec![false; stock.len()];
    for part in design
        .strands
        .iter()
        .chain(&design.cores())
        .flat_map(|s| &s.parts)
    {
        let known = |t: &Thread| t.fibre == part.fibre && t.colour.is_none_or(|c| c == part.colour);
        if here.iter().any(known) {
            continue;
        }
        let of_colour = |s: &Stock| s.fibre == part.fibre && s.colour == Some(part.colour);
        let of_any = |s: &Stock| s.fibre == part.fibre && s.colour.is_none();
        let at = stock.iter().position(of_colour);
        let at = at.or_else(|| stock.iter().position(of_any));
        at.into_iter().for_each(|at| taken[at] = true);
        here.push(Thread {
            fibre: part.fibre.clone(),
            colour: at.map_or(Some(part.colour), |at| stock[at].colour),
            at,
        });
    }
    let rest = stock.iter().enumerate().filter(|(at, _)| !taken[*at]);
    let rest = rest.map(|(at, stock)| Thread {
        fibre: stock.fibre.clone(),
        colour: stock.colour,
        at: Some(at),
    });
    (here, rest.collect())
}

fn thread_line(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, thread: &Thread, wide: f32) {
    let called = match thread.colour {
        Some(colour) => named::thread(&thread.fibre, colour),
        None => format!("{}, any colour", thread.fibre),
    };
    ui.push_id(("thread", &called, thread.at), |ui| {
        line(ui, |ui| {
            cell(ui, wide, 34.0, |ui| {
                let (rect, _) = ui.allocate_exact_size(vec2(36.0, 34.0), Sense::hover());
                let theme = Theme::of(ui);
                let colour = thread.colour.map_or(theme.line2, paint);
                swatch(ui.painter(), rect.left_center(), colour, &theme);
                let text = Role::Text.text(ui, &called).font(Face::Semibold.at(13.5));
                ui.add(Label::new(text).truncate());
            });
            match thread.at {
                Some(at) => stock_cells(ui, shelf, at, &called),
                None => written_down(ui, shelf, thread, &called),
            }
        });
    });
}

/// Not on the shelf yet; by the metre until the maker says otherwise.
fn written_down(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, thread: &Thread, called: &str) {
    cell(ui, 260.0, 34.0, |ui| {
        let pressed = link(ui, &format!("write down {called}")).clicked();
        if pressed {
            let stock = Stock {
                fibre: thread.fibre.clone(),
                colour: thread.colour,
                put_up: PutUp::Metre,
                metres: 1.0,
                price: None,
                on_shelf: 0.0,
                lot: String::new(),
            };
            shelf.ask(&format!("{called} on the shelf"), |workshop| {
                workshop.stock.push(stock);
            });
        }
    });
}

fn stock_cells(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, at: usize, called: &str) {
    let stock = shelf.workshop().stock[at].clone();
    if let Some(mm) = metres(
        ui,
        shelf,
        &format!("{called}: on the shelf"),
        stock.on_shelf,
        THERE,
    ) {
        let done = format!("{called} on the shelf");
        shelf.ask(&done, |workshop| workshop.stock[at].on_shelf = mm / 1000.0);
    }
    sold_by(ui, shelf, at, called);
    if let Some(mm) = metres(
        ui,
        shelf,
        &format!("{called}: length of one"),
        stock.metres,
        EACH,
    ) {
        let done = format!("length of a {} of {called}", put_up_word(stock.put_up));
        shelf.ask(&done, |workshop| {
            workshop.stock[at].metres = (mm / 1000.0).max(0.01);
        });
    }
    let label = format!("{called}: price of one");
    if let Some(price) = money(ui, &label, stock.price, &shelf.desk.workshop.prices, PRICE) {
        shelf.ask(&format!("price of {called}"), |workshop| {
            workshop.stock[at].price = price;
        });
    }
    if let Some(lot) = name(ui, &format!("{called}: dye lot"), &stock.lot, "–", LOT) {
        shelf.ask(&format!("dye lot of {called}"), |workshop| {
            workshop.stock[at].lot = lot;
        });
    }
    let away = format!("take {called} off the shelf");
    let cross = cell(ui, AWAY, 34.0, |ui| {
        ui.add(IconButton::new(Icon::Cross, &away).small())
    });
    if cross.clicked() {
        shelf.ask(&away, |workshop| drop(workshop.stock.remove(at)));
    }
}

fn metres(ui: &mut Ui, shelf: &Shelf<'_, '_>, name: &str, metres: f64, width: f32) -> Option<f64> {
    let entry = LengthEntry {
        name,
        grain: Grain::Reel,
        mm: 1000.0 * metres,
        range: (0.0, MOST_MM),
        units: shelf.units(),
        width,
    };
    entry.show(ui)
}

fn sold_by(ui: &mut Ui, shelf: &mut Shelf<'_, '_>, at: usize, called: &str) {
    let put_up = shelf.workshop().stock[at].put_up;
    let word = put_up_word(put_up);
    let tip = format!("{called} is sold by the {word}; press for the next word");
    let button = cell(ui, SOLD, 34.0, |ui| {
        ui.add(Button::plain(word).tip(&tip).width(SOLD))
    });
    if button.clicked() {
        let to = next(&PUT_UPS, put_up);
        let done = format!("{called} by the {}", put_up_word(to));
        shelf.ask(&done, |workshop| workshop.stock[at].put_up = to);
    }
}
