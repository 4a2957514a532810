//! What is needed against what is there, and what must be bought.

use eframe::egui::{
    Align2, Color32, Rect, Role as Part, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::thread_bar::{paint, swatch};
use super::{CutPage, CutState, CutView, bars, named};
use crate::app::controls::{hairline, head, link};
use crate::app::fonts::{Face, Role};
use crate::app::icons::Icon;
use crate::app::theme::Theme;
use crate::app::words;
use crate::plan::{Need, PutUp, Ware};

/// Height of a line.
const LINE: f32 = 33.0;

/// The sheet "To buy".
pub(super) fn buy_ui(ui: &mut Ui, view: CutView<'_>, state: &mut CutState) {
    ui.spacing_mut().item_spacing.y = 2.0;
    head(ui, "To buy", |ui| {
        if link(ui, "my shelf").clicked() {
            state.show(CutPage::Shelf);
        }
        Role::Note.label(ui, "against");
    });
    let shopping = &view.plan.shopping;
    for need in &shopping.needs {
        need_ui(ui, view, need);
    }
    hairline(ui);
    for (note, names) in notes(&shopping.needs) {
        Role::Note.label(ui, format!("{note}: {names}"));
    }
    let prices = &view.workshop.prices;
    let missing = shopping.needs.iter().filter(|need| need.buy > 0).count();
    let told = match (missing, shopping.unpriced) {
        (0, _) => "Nothing: all of it is there.".to_owned(),
        (_, 0) => format!(
            "At the shop: {} {}",
            shopping.to_pay.shown(prices.places),
            prices.currency
        ),
        (_, n) => format!(
            "At the shop: {} {}, and {} without a price",
            shopping.to_pay.shown(prices.places),
            prices.currency,
            if n == 1 {
                "one thing".to_owned()
            } else {
                format!("{} things", words::count(n))
            }
        ),
    };
    Role::Note.label(ui, told);
}

/// Every remark once, with what it is about.
fn notes(needs: &[Need]) -> Vec<(&str, String)> {
    let mut all: Vec<(&str, String)> = Vec::new();
    let noted = |need: &&Need| !need.note.is_empty() && !need.ware.is_small();
    for need in needs.iter().filter(noted) {
        let name = named::ware(&need.ware);
        match all.iter_mut().find(|(note, _)| *note == need.note) {
            Some((_, names)) => *names = format!("{names}; {name}"),
            None => all.push((&need.note, name)),
        }
    }
    all
}

fn colour(ware: &Ware) -> Option<Color32> {
    match ware {
        Ware::Thread { colour, .. } | Ware::Beads { colour, .. } => Some(paint(*colour)),
        _ => None,
    }
}

/// How much of it: metres of thread, pieces of anything else.
fn much(view: CutView<'_>, ware: &Ware, amount: f64) -> String {
    match ware {
        Ware::Thread { .. } | Ware::Binding => named::metres(amount, view.units),
        _ => format!("{:.0}", amount.ceil()),
    }
}

/// What to buy of it, or that it is there.
fn answer(view: CutView<'_>, need: &Need) -> String {
    let there = much(view, &need.ware, need.there);
    if need.ware.is_small() {
        return need.note.clone();
    }
    if need.buy == 0 {
        return format!("{there} there");
    }
    let buy = bought(view, need);
    if need.there > 0.0 {
        return format!("{there} there, {buy}");
    }
    buy
}

fn bought(view: CutView<'_>, need: &Need) -> String {
    let Some((put_up, amount)) = need.put_up else {
        return match need.ware {
            Ware::Thread { .. } | Ware::Binding => {
                format!("buy {}", named::metres(f64::from(need.buy), view.units))
            }
            _ => format!("buy {}", need.buy),
        };
    };
    let size = much(view, &need.ware, amount);
    match (put_up, need.buy) {
        (PutUp::Metre, n) => format!("buy {}", named::metres(f64::from(n) * amount, view.units)),
        (_, 1) => format!("a {} of {size}", put_up_word(put_up)),
        (_, n) => format!(
            "{} {}s of {size}",
            words::count(n as usize),
            put_up_word(put_up)
        ),
    }
}

/// The word for how a thing is sold.
pub(super) fn put_up_word(put_up: PutUp) -> &'static str {
    match put_up {
        PutUp::Spool => "reel",
        PutUp::Skein => "skein",
        PutUp::Ball => "ball",
        PutUp::Metre => "metre",
        PutUp::Packet => "packet",
    }
}

fn need_ui(ui: &mut Ui, view: CutView<'_>, need: &Need) {
    let size = vec2(ui.available_width(), LINE);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let (name, amount) = (named::ware(&need.ware), much(view, &need.ware, need.needed));
    let answer = answer(view, need);
    response.widget_info(|| {
        let words = format!("to buy: {name}, {amount}, {answer} {}", need.note);
        WidgetInfo::labeled(Part::ListItem, true, words.trim_end())
    });
    let theme = Theme::of(ui);
    let painter = ui.painter();
    let y = rect.top() + LINE / 2.0;
    let line = Stroke::new(1.0, theme.line);
    painter.hline(rect.x_range(), rect.top(), line);
    match colour(&need.ware) {
        Some(colour) => swatch(painter, pos2(rect.left(), y), colour, &theme),
        None => finding(painter, pos2(rect.left() + 6.0, y), &theme),
    }
    let reply = answer_room(rect.width());
    let split = rect.right() - reply;
    let room = split - 74.0 - rect.left() - 42.0;
    let words = bars::one_line(painter, name, Face::Semibold.at(13.5), theme.ink, room);
    let size = words.size();
    painter.galley(pos2(rect.left() + 42.0, y - size.y / 2.0), words, theme.ink);
    let font = Face::Figures.at(16.0);
    painter.text(
        pos2(split - 10.0, y),
        Align2::RIGHT_CENTER,
        amount,
        font,
        theme.ink,
    );
    let (icon, face) = match need.buy {
        _ if need.ware.is_small() => (None, Face::Regular),
        0 => (Some((Icon::Check, theme.ok)), Face::Regular),
        _ => (Some((Icon::Purse, theme.ink)), Face::Bold),
    };
    if let Some((icon, tint)) = icon {
        icon.paint(painter, pos2(split + 7.0, y), 16.0, tint);
    }
    let words = bars::one_line(painter, answer, face.at(13.0), theme.ink, reply - 20.0);
    let size = words.size();
    painter.galley(pos2(split + 20.0, y - size.y / 2.0), words, theme.ink);
}

/// Width of what stands at the right end of a line.
fn answer_room(width: f32) -> f32 {
    (0.36 * width).clamp(118.0, 190.0)
}

/// A small piece of brass for anything that is no thread.
fn finding(painter: &eframe::egui::Painter, at: eframe::egui::Pos2, theme: &Theme) {
    let rect = Rect::from_min_size(at - vec2(0.0, 7.0), vec2(18.0, 14.0));
    let brass = Color32::from_rgb(0xC9, 0xB2, 0x7C);
    let edge = if theme.is_night() {
        theme.line2
    } else {
        Color32::from_rgb(0x6E, 0x58, 0x2C)
    };
    painter.rect(rect, 3.0, brass, Stroke::new(1.0, edge), StrokeKind::Inside);
}
